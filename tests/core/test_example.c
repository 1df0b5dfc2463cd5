/* The example of docs/model.md. Its numbers were solved by iteration on the constraint equations
 * before this program was written, not by its closed form. */
#include "build_design.h"
#include "near.h"

static const struct
{
  double crank, h, z, tilt, inner;
} rows[] = {
  { 0, 0, 460, 0, -28.9014 },
  { 30, -37.2486, 450.7211, -7.8342, -23.1034 },
  { 60, -54.2325, 430.4893, -12.2163, -9.9365 },
  { 90, -51.1108, 409.9986, -12.5288, 4.8680 },
};

static void
test_body (void)
{
  Rig rig = rig_new (build_example ());
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const FwPose *pose = rig_solve (&rig, rows[i].crank);
      assert_near (pose->body.h_mm, rows[i].h, 0.00005 + 1e-9);
      assert_near (pose->body.z_mm, rows[i].z, 0.00005 + 1e-9);
      assert_near (pose->body.tilt / RAD, rows[i].tilt, 0.00005 + 1e-9);
    }
  rig_free (&rig);
}

static void
test_inner (void)
{
  Rig rig = rig_new (build_example ());
  g_assert_cmpint (rig.mechanism->n_members, ==, 2);
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int member = 0; member < 2; member++)
      assert_near (rig_angle_deg (&rig, member, rows[i].crank), rows[i].inner, 0.00005 + 1e-9);
  rig_free (&rig);
}

static void
test_names (void)
{
  Rig rig = rig_new (build_example ());
  g_assert_cmpstr (rig.mechanism->members[0].name, ==, "inner.right");
  g_assert_cmpstr (rig.mechanism->members[1].name, ==, "inner.left");
  g_assert_cmpstr (rig.mechanism->links[0].name, ==, "inrod.right");
  g_assert_cmpstr (rig.mechanism->links[1].name, ==, "inrod.left");
  rig_free (&rig);
}

static void
test_frames (void)
{
  Rig rig = rig_new (build_example ());
  const FwPose *pose = rig_solve (&rig, 0);
  const FwFrame *right = &pose->members[0].motion.at, *left = &pose->members[1].motion.at;
  double a = -28.9014 * RAD;
  /* u starts outward and turns toward up as the angle grows; v stays forward on an unswept hinge.
   */
  assert_near (right->u.x, cos (a), 1e-6);
  assert_near (right->u.z, sin (a), 1e-6);
  assert_near (right->v.y, 1, 1e-12);
  assert_near (left->u.x, -cos (a), 1e-6);
  assert_near (left->u.z, sin (a), 1e-6);
  assert_near (left->v.y, 1, 1e-12);
  rig_free (&rig);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/example/the body stands where the printed table says", test_body);
  g_test_add_func ("/example/the inner wings stand at the printed angles on both sides",
                   test_inner);
  g_test_add_func ("/example/twins are named right and left in that order", test_names);
  g_test_add_func ("/example/panel axes point outward, forward and up and mirror on the left",
                   test_frames);
  return g_test_run ();
}
