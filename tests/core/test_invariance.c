/* What must stay the same, or change in a known way, when the whole is moved, mirrored or scaled.
 */
#include "build_design.h"
#include "near.h"
#include "random_design.h"

static void
test_round_trip (void)
{
  GRand *rand = g_rand_new_with_seed (21);
  double worst = 0;
  int measured = 0;
  for (int n = 0; n < 1500; n++)
    {
      Rig rig = rig_new (random_design (rand, RANDOM_ANY));
      for (int deg = 0; deg < 360; deg += 30)
        {
          const FwPose *pose = rig_solve (&rig, deg);
          for (int i = 0; i < rig.mechanism->n_links; i++)
            {
              const FwLink *link = &rig.mechanism->links[i];
              if (pose->members[link->member].closure != FW_CLOSES)
                continue;
              double span = rig.mechanism->members[link->member].span_mm;
              double length = fw_vec3_distance (pose->links[i].from.at, pose->links[i].to.at);
              double off = fabs (length - rig.design->rods[link->rod].length_mm) / span;
              worst = fmax (worst, off);
              measured++;
              assert_near (off, 0, 1e-9);
            }
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_test_message ("%d rods measured; worst error %.2e of the span", measured, worst);
  g_assert_cmpint (measured, >, 20000);
}

/* Frames stay orthonormal, right-handed on the right and left-handed on the left. */
static void
test_frames_are_rigid (void)
{
  GRand *rand = g_rand_new_with_seed (22);
  for (int n = 0; n < 300; n++)
    {
      Rig rig = rig_new (random_design (rand, RANDOM_ANY));
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      for (int i = 0; i < rig.mechanism->n_members; i++)
        {
          const FwFrame *f = &pose->members[i].motion.at;
          assert_near (fw_vec3_length (f->u), 1, 1e-12);
          assert_near (fw_vec3_length (f->v), 1, 1e-12);
          assert_near (fw_vec3_length (f->w), 1, 1e-12);
          assert_near (fw_vec3_dot (f->u, f->v), 0, 1e-12);
          assert_near (fw_vec3_dot (f->v, f->w), 0, 1e-12);
          double handed = fw_vec3_dot (fw_vec3_cross (f->u, f->v), f->w);
          assert_near (handed, rig.mechanism->members[i].left ? -1 : 1, 1e-12);
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
}

static int
twin (const FwMechanism *m, int i)
{
  for (int k = 0; k < m->n_members; k++)
    if (k != i && m->members[k].panel == m->members[i].panel)
      return k;
  return i;
}

static void
assert_mirrored (FwVec3 a, FwVec3 b, double tolerance)
{
  assert_near (a.x, -b.x, tolerance);
  assert_near (a.y, b.y, tolerance);
  assert_near (a.z, b.z, tolerance);
}

/* Crank across: the left side is the mirror image of the right at every instant, with its rates. A
 * spin, an axial vector, mirrors with the opposite sign. */
static void
test_mirror_across (void)
{
  GRand *rand = g_rand_new_with_seed (23);
  RandomWish wish = { .mirrored = true, .runs = FW_RUNS_ACROSS, .ride = -1 };
  int compared = 0;
  for (int n = 0; n < 300; n++)
    {
      Rig rig = rig_new (random_design (rand, wish));
      const FwPose *pose = rig_solve (&rig, g_rand_double_range (rand, 0, 360));
      for (int i = 0; i < rig.mechanism->n_members; i++)
        {
          const FwMemberPose *a = &pose->members[i], *b = &pose->members[twin (rig.mechanism, i)];
          g_assert_cmpint (a->closure, ==, b->closure);
          if (a->closure != FW_CLOSES || a->squareness < 0.02 || a == b)
            continue;
          double slack = 1e-9 / a->squareness;
          assert_mirrored (a->motion.at.origin, b->motion.at.origin, slack);
          assert_mirrored (a->motion.at.u, b->motion.at.u, slack);
          assert_mirrored (a->motion.at.w, b->motion.at.w, slack);
          assert_mirrored (a->motion.velocity, b->motion.velocity,
                           slack * (1 + fw_vec3_length (a->motion.velocity)));
          assert_mirrored (fw_vec3_scale (a->motion.spin, -1), b->motion.spin,
                           slack * (1 + fw_vec3_length (a->motion.spin)));
          assert_near (a->rate, b->rate, slack * (1 + fabs (a->rate)));
          compared++;
        }
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (compared, >, 300);
}

/* A pair whose rods differ, or share a pin off the middle, does not mirror: each side is solved by
 * itself, and is what it is when it is alone. */
static void
test_unlike_twins (void)
{
  for (int way = 0; way < 2; way++)
    {
      FwDesign *both = build_example ();
      if (way == 0)
        {
          both->rods[0].side = FW_SIDE_RIGHT;
          build_rod (both, "other", FW_SIDE_LEFT, from_throw (1), 0, fw_vec3 (120, 5, -20), 405, 0);
        }
      else
        both->crank.throws[1].both = false;
      Rig rig = rig_new (both);
      for (int left = 0; left < 2; left++)
        {
          FwDesign *one = fw_design_copy (both);
          one->panels[0].side = left ? FW_SIDE_LEFT : FW_SIDE_RIGHT;
          if (way == 1)
            one->rods[0].side = one->panels[0].side;
          else if (left) /* the first rod becomes the left one's, the second is taken away */
            {
              one->rods[0].side = FW_SIDE_LEFT;
              one->rods[0].at_mm = both->rods[1].at_mm;
              one->rods[0].length_mm = both->rods[1].length_mm;
            }
          if (way == 0)
            {
              free (one->rods[1].name);
              free (one->rods[1].material);
              one->n_rods = 1;
            }
          Rig alone = rig_new (one);
          int closed = 0;
          for (int deg = 0; deg < 360; deg += 15)
            {
              const FwMemberPose *a = &rig_solve (&rig, deg)->members[left];
              const FwMemberPose *b = &rig_solve (&alone, deg)->members[0];
              g_assert_cmpint (a->closure, ==, b->closure);
              if (a->closure != FW_CLOSES)
                continue;
              closed++;
              assert_near (a->cosine, b->cosine, 1e-12);
              assert_near (a->sine, b->sine, 1e-12);
              assert_near (a->rate, b->rate, 1e-9);
            }
          if (way == 0)
            g_assert_cmpint (closed, >, 12);
          rig_free (&alone);
        }
      rig_free (&rig);
    }
}

/* Wings on a neck in the middle are mirror images only while the neck moves in the plane between them. Swept, canted or
 * set aside it carries them out of it, and each is then what it is alone. */
static void
test_twins_on_a_neck (void)
{
  for (int way = 0; way < 5; way++)
    {
      FwDesign *both = build_design (FW_RUNS_ACROSS);
      build_throw (both, "mid", 30, 0, 0);
      build_fixed (both, 0, 0, 300, 0);
      int neck = build_panel (both, "neck", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (way == 3 ? 5 : 0, 20, 0), 200);
      FwPanel *p = &both->panels[neck];
      p->reach = way == 4 ? FW_REACH_SIDE : FW_REACH_FORWARD;
      p->sweep_deg = way == 1 ? 20 : 0;
      p->cant_deg = way == 2 ? 20 : 0;
      build_rod (both, "lift", FW_SIDE_MIDDLE, from_throw (0), neck, fw_vec3 (90, 0, 0), 300, 0);
      int fin = build_panel (both, "fin", FW_SIDE_BOTH, neck, fw_vec3 (120, 15, 0), 100);
      build_rod (both, "tie", FW_SIDE_BOTH, from_base (70, 140, 240), fin, fw_vec3 (60, 10, 0), 110, 0);
      FwDesign *alone = fw_design_copy (both);
      alone->panels[fin].side = alone->rods[1].side = FW_SIDE_LEFT;
      Rig rig = rig_new (both), one = rig_new (alone);
      g_assert_cmpint (rig.mechanism->n_members, ==, 3);
      g_assert_cmpint (rig.mechanism->members[2].mirror_of, ==, way == 0 ? 1 : -1);
      int closed = 0;
      for (int deg = 0; deg < 360; deg += 15)
        {
          const FwMemberPose *a = &rig_solve (&rig, deg)->members[2], *b = &rig_solve (&one, deg)->members[1];
          g_assert_cmpint (a->closure, ==, b->closure);
          assert_near (a->cosine, b->cosine, 1e-12);
          assert_near (a->sine, b->sine, 1e-12);
          assert_near (fw_vec3_distance (a->motion.at.origin, b->motion.at.origin), 0, 1e-9);
          closed += a->closure == FW_CLOSES;
        }
      g_assert_cmpint (closed, >=, way == 4 ? 0 : 12); /* a neck to the side carries them elsewhere */
      rig_free (&rig);
      rig_free (&one);
    }
}

/* Crank along, all throws at phase 0 or 180: the whole at crank angle t is the mirror image of the
 * whole at -t, since the pins are. (Panels hinged square to the middle, rides with guide, rail and
 * pivot in the middle; a rocker's pivot cannot be there, so it is left out.) */
static void
test_mirror_along (void)
{
  GRand *rand = g_rand_new_with_seed (24);
  int compared = 0;
  for (int n = 0; n < 400; n++)
    {
      RandomWish wish = { .mirrored = true, .runs = FW_RUNS_ALONG, .ride = n % 3 };
      FwDesign *d = random_design (rand, wish);
      for (int i = 0; i < d->crank.n_throws; i++)
        d->crank.throws[i].phase_deg = d->crank.throws[i].phase_deg > 0 ? 180 : 0;
      d->body.tilt_deg = 0;
      d->body.offset_mm = 0;
      d->body.guide_mm.x = 0;
      Rig rig = rig_new (d);
      FwPose *back = fw_pose_new (rig.mechanism);
      double crank = g_rand_double_range (rand, 0, 2 * G_PI);
      fw_pose_solve (rig.pose, rig.mechanism, crank);
      fw_pose_solve (back, rig.mechanism, -crank);
      for (int i = 0; i < rig.mechanism->n_members; i++)
        {
          int k = twin (rig.mechanism, i);
          if (k == i)
            continue;
          const FwMemberPose *a = &rig.pose->members[i], *b = &back->members[k];
          g_assert_cmpint (a->closure, ==, b->closure);
          if (a->closure != FW_CLOSES || a->squareness < 0.02
              || rig.mechanism->members[i].root != rig.mechanism->members[k].root)
            continue;
          assert_mirrored (a->motion.at.origin, b->motion.at.origin, 1e-7);
          assert_mirrored (a->motion.at.u, b->motion.at.u, 1e-9);
          assert_near (a->rate, -b->rate, 1e-7 * (1 + fabs (a->rate)));
          assert_near (a->rate2, b->rate2, 1e-6 * (1 + fabs (a->rate2)));
          compared++;
        }
      free (back);
      rig_free (&rig);
    }
  g_rand_free (rand);
  g_assert_cmpint (compared, >, 200);
}

/* Everything moved along the crank axis by the same amount moves as a whole. (Crank along, so that
 * no twin's station changes sign.) */
static void
test_moved_along_the_axis (void)
{
  GRand *rand = g_rand_new_with_seed (25);
  const double shift = 37.5;
  for (int n = 0; n < 300; n++)
    {
      RandomWish wish = { .runs = FW_RUNS_ALONG, .ride = -1 };
      FwDesign *d = random_design (rand, wish);
      Rig rig = rig_new (d), moved = rig_new (fw_design_copy (d));
      FwDesign *m = moved.design;
      for (int i = 0; i < m->crank.n_throws; i++)
        m->crank.throws[i].station_mm += shift;
      m->body.at_mm.y += shift;
      for (int i = 0; i < m->n_rods; i++)
        if (m->rods[i].from.kind == FW_FROM_BASE)
          m->rods[i].from.at_mm.y += shift;
      fw_mechanism_free (moved.mechanism);
      g_assert_cmpint (fw_mechanism_build (m, &moved.mechanism, NULL), ==, FW_OK);
      double crank = g_rand_double_range (rand, 0, 360);
      const FwPose *a = rig_solve (&rig, crank), *b = rig_solve (&moved, crank);
      for (int i = 0; i < rig.mechanism->n_members; i++)
        {
          g_assert_cmpint (a->members[i].closure, ==, b->members[i].closure);
          if (a->members[i].closure != FW_CLOSES || a->members[i].squareness < 0.02)
            continue;
          FwVec3 o = a->members[i].motion.at.origin, p = b->members[i].motion.at.origin;
          assert_near (p.x, o.x, 1e-7);
          assert_near (p.y, o.y + shift, 1e-7);
          assert_near (p.z, o.z, 1e-7);
          assert_near (fw_pose_angle (b, moved.mechanism, i), fw_pose_angle (a, rig.mechanism, i),
                       1e-9);
          assert_near (b->members[i].rate, a->members[i].rate,
                       1e-7 * (1 + fabs (a->members[i].rate)));
        }
      rig_free (&rig);
      rig_free (&moved);
    }
  g_rand_free (rand);
}

/* A phase added to every throw is the same as turning the crank on by it. Roots are chosen at crank
 * angle 0, so `near` comes from the first design's pose there. */
static void
test_phase_is_turning (void)
{
  GRand *rand = g_rand_new_with_seed (26);
  int compared = 0;
  for (int n = 0; n < 300; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      Rig rig = rig_new (d), turned = rig_new (fw_design_copy (d));
      double by = g_rand_double_range (rand, -20, 20), crank = g_rand_double_range (rand, -20, 20);
      for (int i = 0; i < d->crank.n_throws; i++)
        turned.design->crank.throws[i].phase_deg += by;
      const FwPose *a = rig_solve (&rig, by);
      for (int i = 0; i < rig.mechanism->n_links; i++)
        if (!rig.mechanism->links[i].left
            || rig.design->rods[rig.mechanism->links[i].rod].side == FW_SIDE_LEFT)
          turned.design->rods[rig.mechanism->links[i].rod].near_deg
              = fw_pose_angle (a, rig.mechanism, rig.mechanism->links[i].member) / RAD;
      fw_mechanism_free (turned.mechanism);
      g_assert_cmpint (fw_mechanism_build (turned.design, &turned.mechanism, NULL), ==, FW_OK);
      rig_solve (&rig, crank + by);
      rig_solve (&turned, crank);
      for (int i = 0; i < rig.mechanism->n_members; i++)
        {
          const FwMemberPose *p = &rig.pose->members[i], *q = &turned.pose->members[i];
          if (p->closure != FW_CLOSES || q->closure != FW_CLOSES || p->squareness < 0.1
              || rig.mechanism->members[i].root != turned.mechanism->members[i].root
              || rig.mechanism->body_root != turned.mechanism->body_root)
            continue;
          if (rig.mechanism->members[i].left
              && rig.design->panels[rig.mechanism->members[i].panel].side == FW_SIDE_BOTH)
            continue; /* with the crank along its own pose does not set `near` */
          assert_near (fw_pose_angle (rig.pose, rig.mechanism, i),
                       fw_pose_angle (turned.pose, turned.mechanism, i), 1e-8);
          compared++;
        }
      rig_free (&rig);
      rig_free (&turned);
    }
  g_rand_free (rand);
  g_assert_cmpint (compared, >, 300);
}

static void
scale_point (FwVec3 *p, double k)
{
  *p = fw_vec3_scale (*p, k);
}

static void
scale_design (FwDesign *d, double k)
{
  for (int i = 0; i < d->crank.n_throws; i++)
    {
      d->crank.throws[i].radius_mm *= k;
      d->crank.throws[i].station_mm *= k;
    }
  FwBody *b = &d->body;
  scale_point (&b->at_mm, k);
  b->rod_mm *= k;
  b->offset_mm *= k;
  b->post_mm *= k;
  b->guide_mm = (FwVec2){ b->guide_mm.x * k, b->guide_mm.y * k };
  b->pivot_mm = (FwVec2){ b->pivot_mm.x * k, b->pivot_mm.y * k };
  b->link_mm *= k;
  b->on_mm *= k;
  for (int i = 0; i < d->n_panels; i++)
    {
      scale_point (&d->panels[i].hinge_mm, k);
      d->panels[i].span_mm *= k;
    }
  for (int i = 0; i < d->n_rods; i++)
    {
      scale_point (&d->rods[i].from.at_mm, k);
      scale_point (&d->rods[i].at_mm, k);
      d->rods[i].length_mm *= k;
    }
}

static void
test_scale (void)
{
  static const double sizes[] = { 0.01, 0.37, 12, 100 };
  GRand *rand = g_rand_new_with_seed (27);
  for (int n = 0; n < 200; n++)
    {
      double k = sizes[n % 4], crank = g_rand_double_range (rand, 0, 360);
      FwDesign *d = random_design (rand, RANDOM_ANY), *big = fw_design_copy (d);
      scale_design (big, k);
      Rig a = rig_new (d), b = rig_new (big);
      rig_solve (&a, crank);
      rig_solve (&b, crank);
      for (int i = 0; i < a.mechanism->n_members; i++)
        {
          const FwMemberPose *p = &a.pose->members[i], *q = &b.pose->members[i];
          g_assert_cmpint (p->closure, ==, q->closure);
          if (p->closure == FW_SHORT)
            assert_near (q->missing_mm, k * p->missing_mm, 1e-8 * k);
          if (p->closure != FW_CLOSES || p->squareness < 0.02)
            continue;
          assert_near (fw_pose_angle (a.pose, a.mechanism, i),
                       fw_pose_angle (b.pose, b.mechanism, i), 1e-9);
          assert_near (p->rate, q->rate, 1e-8 * (1 + fabs (p->rate)));
          assert_near (p->rate2, q->rate2, 1e-7 * (1 + fabs (p->rate2)));
          assert_near (
              fw_vec3_distance (fw_vec3_scale (p->motion.at.origin, k), q->motion.at.origin), 0,
              1e-7 * k);
        }
      for (int i = 0; i < a.mechanism->n_links; i++)
        {
          double p = fw_pose_push (a.pose, a.mechanism, i),
                 q = fw_pose_push (b.pose, b.mechanism, i);
          g_assert_cmpint (isnan (p), ==, isnan (q));
          if (!isnan (p) && p > 0.02 && p < 1.55)
            assert_near (p, q, 1e-8);
        }
      rig_free (&a);
      rig_free (&b);
    }
  g_rand_free (rand);
}

/* One turn more is the same pose; a copy of a design solves to the same bits. */
static void
test_repeats (void)
{
  GRand *rand = g_rand_new_with_seed (28);
  for (int n = 0; n < 100; n++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      Rig a = rig_new (d), b = rig_new (fw_design_copy (d));
      double crank = g_rand_double_range (rand, 0, 360);
      rig_solve (&a, crank);
      rig_solve (&b, crank);
      for (int i = 0; i < a.mechanism->n_members; i++)
        g_assert_cmpfloat (a.pose->members[i].cosine, ==, b.pose->members[i].cosine);
      rig_solve (&b, crank + 720);
      for (int i = 0; i < a.mechanism->n_members; i++)
        if (a.pose->members[i].closure == FW_CLOSES && a.pose->members[i].squareness > 0.02)
          assert_near (a.pose->members[i].cosine, b.pose->members[i].cosine, 1e-11);
      rig_free (&a);
      rig_free (&b);
    }
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/invariance/every rod measures its length in every pose", test_round_trip);
  g_test_add_func ("/invariance/frames stay square and of the right hand", test_frames_are_rigid);
  g_test_add_func ("/invariance/crank across: left is the mirror image of right",
                   test_mirror_across);
  g_test_add_func ("/invariance/a pair with unlike rods or a shared pin is solved side by side",
                   test_unlike_twins);
  g_test_add_func ("/invariance/crank along: left at t is the mirror image of right at minus t",
                   test_mirror_along);
  g_test_add_func ("/invariance/moving all along the crank axis moves all",
                   test_moved_along_the_axis);
  g_test_add_func ("/invariance/a common phase is the same as turning the crank",
                   test_phase_is_turning);
  g_test_add_func ("/invariance/scaling scales lengths and no angle", test_scale);
  g_test_add_func ("/invariance/a pose repeats after whole turns and in copies", test_repeats);
  g_test_add_func ("/invariance/wings on a neck out of the middle are no mirror images", test_twins_on_a_neck);
  return g_test_run ();
}
