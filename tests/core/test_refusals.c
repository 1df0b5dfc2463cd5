/* What cannot be built is refused with the part and the key at fault, and nothing is leaked. */

#include "build_design.h"
#include "near.h"

static void
refused (FwDesign *d, FwStatus status, char kind, int index, const char *what)
{
  FwMechanism *untouched = (FwMechanism *)(void *)d, *out = untouched;
  FwFault fault = { 0 };
  g_assert_cmpint (fw_mechanism_build (d, &out, &fault), ==, status);
  g_assert_true (out == untouched);
  g_assert_cmpint (fault.kind, ==, kind);
  if (index >= 0)
    g_assert_cmpint (fault.index, ==, index);
  if (what != NULL)
    g_assert_cmpstr (fault.what, ==, what);
  g_assert_cmpint (fw_mechanism_build (d, &out, NULL), ==, status);
  g_assert_nonnull (fw_status_text (status));
  fw_design_free (d);
}

/* Two panels on the body, each driven from the other. */
static void
test_ring (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_panel (d, "a", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (20, 0, 0), 100);
  build_panel (d, "b", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (20, 80, 0), 100);
  build_rod (d, "ra", FW_SIDE_RIGHT, from_panel (1, 50, 0, 0), 0, fw_vec3 (50, 0, 0), 80, 0);
  build_rod (d, "rb", FW_SIDE_RIGHT, from_panel (0, 50, 0, 0), 1, fw_vec3 (50, 0, 0), 80, 0);
  refused (d, FW_RING, 'r', -1, NULL);
}

/* A ring of three with two that only hang on it: the part named is in the ring. */
static void
test_ring_of_three (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  for (int i = 0; i < 5; i++)
    build_panel (d, (const char *[]){ "a", "b", "c", "d", "e" }[i], FW_SIDE_BOTH, FW_ON_BODY,
                 fw_vec3 (20, 40 * i, 0), 100);
  static const int from[] = { 1, 2, 0, 0, 3 };
  for (int i = 0; i < 5; i++)
    build_rod (d, (const char *[]){ "ra", "rb", "rc", "rd", "re" }[i], FW_SIDE_BOTH,
               from_panel (from[i], 50, 0, 0), i, fw_vec3 (50, 0, 0), 80, 0);
  FwMechanism *out = NULL;
  FwFault fault = { 0 };
  g_assert_cmpint (fw_mechanism_build (d, &out, &fault), ==, FW_RING);
  g_assert_cmpint (fault.kind, ==, 'r');
  g_assert_cmpint (fault.index, <, 3);
  fw_design_free (d);
}

/* A rod from a panel that hangs on the panel it drives is a ring too. */
static void
test_ring_through_hinge (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_panel (d, "a", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (20, 0, 0), 100);
  build_panel (d, "b", FW_SIDE_RIGHT, 0, fw_vec3 (100, 0, 0), 100);
  build_rod (d, "ra", FW_SIDE_RIGHT, from_panel (1, 50, 0, 0), 0, fw_vec3 (50, 0, 0), 80, 0);
  build_rod (d, "rb", FW_SIDE_RIGHT, from_base (150, 0, 0), 1, fw_vec3 (50, 0, 0), 80, 0);
  refused (d, FW_RING, 'r', 0, NULL);
}

static void
test_two_rods (void)
{
  FwDesign *d = build_example ();
  build_rod (d, "second", FW_SIDE_RIGHT, from_body (40, 0, -80), 0, fw_vec3 (60, 0, 0), 90, 0);
  refused (d, FW_TWO_RODS, 'r', 1, NULL);
}

/* One rod on each side is one a panel. */
static void
test_one_rod_a_side (void)
{
  FwDesign *d = build_example ();
  d->rods[0].side = FW_SIDE_RIGHT;
  build_rod (d, "other", FW_SIDE_LEFT, from_body (40, 0, -80), 0, fw_vec3 (60, 0, 0), 90, 0);
  Rig rig = rig_new (d);
  g_assert_cmpint (rig.mechanism->n_links, ==, 2);
  rig_free (&rig);
}

static void
test_references (void)
{
  FwDesign *d = build_example ();
  d->rods[0].from.index = 7;
  refused (d, FW_BAD_REFERENCE, 'r', 0, "from");
  d = build_example ();
  d->rods[0].from.index = -1;
  refused (d, FW_BAD_REFERENCE, 'r', 0, "from");
  d = build_example ();
  d->rods[0].panel = 1;
  refused (d, FW_BAD_REFERENCE, 'r', 0, "to");
  d = build_example ();
  d->body.throw_index = 2;
  refused (d, FW_BAD_REFERENCE, 'b', 0, "throw");
  d = build_example ();
  d->panels[0].on = 4;
  refused (d, FW_BAD_REFERENCE, 'p', 0, "on");
  d = build_example ();
  d->panels[0].on = 0; /* on itself */
  refused (d, FW_BAD_REFERENCE, 'p', 0, "on");
}

static void
test_hangs_in_a_circle (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_panel (d, "a", FW_SIDE_RIGHT, 1, fw_vec3 (20, 0, 0), 100);
  build_panel (d, "b", FW_SIDE_RIGHT, 0, fw_vec3 (20, 0, 0), 100);
  refused (d, FW_BAD_REFERENCE, 'p', -1, "on");
}

/* A right-hand rod cannot hold a left-hand panel, nor a panel hang on the other side's. */
static void
test_sides (void)
{
  FwDesign *d = build_example ();
  d->panels[0].side = FW_SIDE_LEFT;
  refused (d, FW_BAD_REFERENCE, 'r', 0, NULL);
  d = build_example ();
  d->panels[0].side = FW_SIDE_RIGHT;
  d->rods[0].side = FW_SIDE_RIGHT;
  build_panel (d, "tip", FW_SIDE_LEFT, 0, fw_vec3 (100, 0, 0), 50);
  refused (d, FW_BAD_REFERENCE, 'p', 1, NULL);
  d = build_example ();
  build_panel (d, "head", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 60, 20), 80);
  d->panels[1].reach = FW_REACH_FORWARD;
  build_rod (d, "nod", FW_SIDE_RIGHT, from_body (0, 40, -80), 1, fw_vec3 (40, 0, 0), 90, 0);
  refused (d, FW_BAD_REFERENCE, 'r', 1, NULL);
}

static void
test_numbers (void)
{
  static const double bad[] = { NAN, INFINITY, -INFINITY };
  for (size_t i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      FwDesign *d = build_example ();
      d->crank.throws[1].radius_mm = bad[i];
      refused (d, FW_BAD_NUMBER, 't', 1, "radius");
      d = build_example ();
      d->panels[0].hinge_mm.y = bad[i];
      refused (d, FW_BAD_NUMBER, 'p', 0, "hinge");
      d = build_example ();
      d->panels[0].cant_deg = bad[i];
      refused (d, FW_BAD_NUMBER, 'p', 0, "cant");
      d = build_example ();
      d->rods[0].at_mm.z = bad[i];
      refused (d, FW_BAD_NUMBER, 'r', 0, NULL);
      d = build_example ();
      d->rods[0].near_deg = bad[i];
      refused (d, FW_BAD_NUMBER, 'r', 0, "near");
      d = build_example ();
      d->body.guide_mm.y = bad[i];
      refused (d, FW_BAD_NUMBER, 'b', 0, "guide");
    }
  FwDesign *d = build_example ();
  d->rods[0].length_mm = 0;
  refused (d, FW_BAD_NUMBER, 'r', 0, "length");
  d = build_example ();
  d->crank.throws[0].radius_mm = -1;
  refused (d, FW_BAD_NUMBER, 't', 0, "radius");
  d = build_example ();
  d->body.post_mm = -420;
  refused (d, FW_BAD_NUMBER, 'b', 0, "post");
  d = build_example ();
  build_stops (d, 0, 30, -30);
  refused (d, FW_BAD_NUMBER, 'p', 0, "stops");
  d = build_example ();
  d->panels[0].span_mm = 0;
  refused (d, FW_BAD_NUMBER, 'p', 0, "span");
}

/* Anchors are known before what they drive, whatever the order in the file. */
static void
test_order (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  build_panel (d, "last", FW_SIDE_BOTH, 2, fw_vec3 (100, 0, 0), 100);
  build_panel (d, "tie", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (20, 80, 0), 100);
  build_panel (d, "first", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (20, 0, 0), 100);
  build_rod (d, "a", FW_SIDE_BOTH, from_panel (1, 60, 0, 0), 0, fw_vec3 (30, 0, 0), 100, 0);
  build_rod (d, "b", FW_SIDE_BOTH, from_panel (2, 60, 0, 0), 1, fw_vec3 (60, 0, 0), 85, 0);
  build_rod (d, "c", FW_SIDE_BOTH, from_base (60, 0, 0), 2, fw_vec3 (60, 0, 0), 310, 0);
  Rig rig = rig_new (d);
  int place[6];
  g_assert_cmpint (rig.mechanism->n_members, ==, 6);
  for (int k = 0; k < 6; k++)
    place[rig.mechanism->order[k]] = k;
  for (int i = 0; i < 6; i++)
    {
      const FwMember *m = &rig.mechanism->members[i];
      const FwLink *link = &rig.mechanism->links[m->rod];
      g_assert_true (m->parent < 0 || place[m->parent] < place[i]);
      g_assert_true (link->from != FW_FROM_PANEL || place[link->index] < place[i]);
      g_assert_cmpint (link->left, ==, m->left);
      g_assert_true (link->from != FW_FROM_PANEL
                     || rig.mechanism->members[link->index].left == m->left);
    }
  const FwPose *pose = rig_solve (&rig, 0);
  for (int i = 0; i < 6; i++)
    if (pose->members[i].closure == FW_CLOSES)
      {
        const FwLinkPose *l = &pose->links[rig.mechanism->members[i].rod];
        assert_near (fw_vec3_distance (l->from.at, l->to.at),
                     rig.mechanism->links[rig.mechanism->members[i].rod].length_mm, 1e-9);
      }
  g_assert_cmpint (pose->members[4].closure, ==, FW_CLOSES);
  rig_free (&rig);
}

/* A side panel on a middle one mirrors in the middle's own plane. */
static void
test_sides_on_middle (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_fixed (d, 0, 0, 300, 0);
  build_panel (d, "neck", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 40, 0), 100);
  d->panels[0].reach = FW_REACH_FORWARD;
  build_rod (d, "neckrod", FW_SIDE_MIDDLE, from_base (0, 60, 0), 0, fw_vec3 (40, 0, 0), 320, 0);
  build_panel (d, "ear", FW_SIDE_BOTH, 0, fw_vec3 (90, 20, 10), 40);
  d->panels[1].sweep_deg = 25;
  build_rod (d, "earrod", FW_SIDE_BOTH, from_panel (0, 60, 30, 40), 1, fw_vec3 (20, 5, 0), 60, 0);
  Rig rig = rig_new (d);
  const FwPose *pose = rig_solve (&rig, 0);
  g_assert_cmpint (pose->members[1].closure, ==, FW_CLOSES);
  g_assert_cmpint (pose->members[2].closure, ==, FW_CLOSES);
  FwVec3 right = pose->members[1].motion.at.origin, left = pose->members[2].motion.at.origin;
  assert_near (right.x, -left.x, 1e-9);
  assert_near (right.y, left.y, 1e-9);
  assert_near (right.z, left.z, 1e-9);
  assert_near (fw_pose_angle (pose, rig.mechanism, 1), fw_pose_angle (pose, rig.mechanism, 2),
               1e-12);
  assert_near (fw_vec3_distance (pose->links[2].from.at, pose->links[2].to.at), 60, 1e-9);
  rig_free (&rig);
}

static void
test_free_nothing (void)
{
  fw_mechanism_free (NULL);
  fw_design_free (NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/refusals/two rods that drive each other are refused by name", test_ring);
  g_test_add_func ("/refusals/a longer ring is refused by one of its own rods", test_ring_of_three);
  g_test_add_func ("/refusals/a rod from a panel that its own panel carries is a ring",
                   test_ring_through_hinge);
  g_test_add_func ("/refusals/a second rod on a panel is refused", test_two_rods);
  g_test_add_func ("/refusals/one rod on each side is allowed", test_one_rod_a_side);
  g_test_add_func ("/refusals/references that lead nowhere are refused with their key",
                   test_references);
  g_test_add_func ("/refusals/panels that hang on each other are refused", test_hangs_in_a_circle);
  g_test_add_func ("/refusals/what is only on the other side is not there", test_sides);
  g_test_add_func (
      "/refusals/numbers that are not finite or out of range are refused with their key",
      test_numbers);
  g_test_add_func ("/refusals/anchors are solved before what they drive", test_order);
  g_test_add_func ("/refusals/a pair on a middle panel mirrors in the middle",
                   test_sides_on_middle);
  g_test_add_func ("/refusals/freeing nothing does nothing", test_free_nothing);
  return g_test_run ();
}
