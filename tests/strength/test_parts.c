/* Rods, posts and panels against closed forms of beam tables and against the frame in space. */
#include <glib.h>
#include <math.h>

#include "build_design.h"
#include "near.h"
#include "strength/beams.h"
#include "strength/frame.h"
#include "strength/natural.h"

#define GRAVITY 9.80665

typedef struct
{
  Rig rig;
  FwLoads *loads;
  double speed;
} Bench;

static Bench
bench_new (FwDesign *design, double crank_deg, double speed)
{
  Bench b = { .rig = rig_new (design), .speed = speed };
  b.loads = fw_loads_new (b.rig.mechanism);
  rig_solve (&b.rig, crank_deg);
  fw_loads_solve (b.loads, b.rig.mechanism, b.rig.pose, speed);
  g_assert_true (b.loads->known);
  return b;
}

static void
bench_free (Bench *b)
{
  free (b->loads);
  rig_free (&b->rig);
}

/* A level panel of 300 x 100 mm and 3 mm on a still body, carried by an upright rod from the base.
 */
static FwDesign *
shelf (double hold)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "idle", 30, 0, 0);
  build_fixed (d, 0, 0, 0, 0);
  build_panel (d, "shelf", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 300);
  build_sheet (d, 0, 50);
  d->panels[0].thickness_mm = 3;
  d->panels[0].areal_gm2 = 2000;
  d->panels[0].stuff = (FwStuff){ .young_GPa = 4, .yield_MPa = 10 };
  build_rod (d, "prop", FW_SIDE_RIGHT, from_base (hold, 0, -400), 0, fw_vec3 (hold, 0, 0), 400, 0);
  d->rods[0].stuff = (FwStuff){ .density_kgm3 = 8490, .young_GPa = 97, .yield_MPa = 124 };
  return d;
}

/* Beam over two supports with an overhang under a uniform load, beam tables (AISC Manual, from
 * memory): tip w c (4 c^2 l - l^3 + 3 c^3) / 24EI, moment over the support w c^2 / 2. */
static void
shelf_under_its_own_weight (void)
{
  Bench b = bench_new (shelf (150), 0, 0);
  FwStripFlex strip;
  fw_strip_flex (&strip, b.rig.mechanism, 0);
  g_assert_true (strip.known);
  FwStripBend bend = fw_strip_bend (&strip, b.rig.pose, b.loads, 0, 0);
  double w = 2 * 0.1 * GRAVITY, c = 0.15, l = 0.15, bending = 4e9 * 0.1 * pow (0.003, 3) / 12;
  double tip = w * c * (4 * c * c * l - l * l * l + 3 * c * c * c) / (24 * bending);
  assert_near (bend.sag, tip, 2e-3 * tip);
  assert_near (bend.stress, w * c * c / 2 / (0.1 * 9e-6 / 6), 1e-6 * bend.stress);
  bench_free (&b);
}

/* A spring from the floor to the end of the shelf, drawn out by 50 mm and standing upright, draws the
 * end down; either way round. Overhanging beam, force at its end, beam tables (AISC Manual, from
 * memory): tip F c^2 (l + c) / 3EI, moment over the support F c. */
static void
spring_draws_the_end_of_a_shelf_down (void)
{
  for (int way = 0; way < 2; way++)
    {
      FwDesign *d = shelf (150);
      FwAnchor floor = from_base (300, 0, -250), end = from_panel (0, 300, 0, 0);
      d->panels[0].areal_gm2 = 1e-9;
      build_spring (d, FW_SIDE_RIGHT, way ? floor : end, way ? end : floor, 0.05, 200, false);
      Bench b = bench_new (d, 0, 0);
      FwStripFlex strip;
      fw_strip_flex (&strip, b.rig.mechanism, 0);
      FwStripBend bend = fw_strip_bend (&strip, b.rig.pose, b.loads, 0, 0);
      double f = 0.05 * 50, c = 0.15, l = 0.15, bending = 4e9 * 0.1 * pow (0.003, 3) / 12;
      double tip = f * c * c * (l + c) / (3 * bending);
      assert_near (bend.sag, tip, 2e-3 * tip);
      assert_near (bend.stress, f * c / (0.1 * 9e-6 / 6), 1e-6 * bend.stress);
      assert_near (b.loads->tension[0], -f * 300 / 150, 1e-9); /* the prop, by the lever */
      bench_free (&b);
    }
}

/* A level spring at the datum of an upright post bends it as a force on the end of an overhanging
 * beam does (the same tables): F l^2 (a + l) / 3EI, moment at the guide F l. */
static void
spring_bends_the_post (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  build_sleeve (d, 0, 420, 0, 180);
  d->body.stuff = (FwStuff){ .young_GPa = 117, .yield_MPa = 207 };
  build_spring (d, FW_SIDE_MIDDLE, from_base (0, 300, 460), from_body (0, 0, 0), 0.1, 240, false);
  Bench b = bench_new (d, 0, 0);
  FwPostFlex post = fw_post_flex (b.rig.mechanism);
  FwPostBend bend = fw_post_bend (&post, b.rig.mechanism, b.rig.pose, b.loads);
  double f = 6, a = 0.14, l = 0.28, sag = f * l * l * (a + l) / (3 * post.bending);
  assert_near (bend.sag, sag, 1e-9 * sag);
  assert_near (bend.stress, f * l / post.modulus, 1e-9 * bend.stress);
  bench_free (&b);
}

/* The strip's cases: the moment over the rod of a load that grows along it, and of a point at the
 * tip. A panel that narrows to a point is a leaf spring: evenly stressed by a force there. */
static void
tapered_panel_is_a_leaf_spring (void)
{
  FwDesign *d = shelf (100);
  FwPanel *p = &d->panels[0];
  p->n_outline = 3;
  p->outline_mm[1] = (FwVec2){ 300, 0 };
  p->outline_mm[2] = (FwVec2){ 0, 50 };
  build_panel (d, "end", FW_SIDE_RIGHT, 0, fw_vec3 (300, 0, 0), 50);
  Bench b = bench_new (d, 0, 0);
  FwStripFlex strip;
  fw_strip_flex (&strip, b.rig.mechanism, 0);
  g_assert_cmpint (strip.n_points, ==, 1);
  double stress = strip.moment[2][FW_STRIP_SPANS] / strip.modulus[FW_STRIP_SPANS];
  assert_near (strip.moment[2][FW_STRIP_SPANS], 0.2, 1e-12);
  for (int i = FW_STRIP_SPANS; i < FW_STRIP_STATIONS - 1; i++)
    assert_near (strip.moment[2][i] / strip.modulus[i] / stress, 1, 1e-5);
  bench_free (&b);
}

static void
load_that_grows_along_the_panel (void)
{
  Bench b = bench_new (shelf (100), 0, 0);
  FwStripFlex strip;
  fw_strip_flex (&strip, b.rig.mechanism, 0);
  double k = 2 * 0.1, l = 0.1, all = 0.3;
  assert_near (strip.moment[1][FW_STRIP_SPANS],
               k * (pow (all, 3) / 3 - l * all * all / 2 + pow (l, 3) / 6), 1e-5);
  bench_free (&b);
}

/* Held at its very tip the panel is a beam on two supports: (pi / L)^2 sqrt (EI / m); with an
 * overhang the frame in space gives the frequency. */
static void
panel_frequencies (void)
{
  const double holds[] = { 300, 200, 120 };
  for (int k = 0; k < 3; k++)
    {
      Bench b = bench_new (shelf (holds[k]), 0, 0);
      FwStripFlex strip;
      fw_strip_flex (&strip, b.rig.mechanism, 0);
      double masses[FW_STRIP_POINTS] = { 0 }, omega = fw_strip_frequency (&strip, masses), exact;
      FwSpaceFrame *f = fw_space_frame_new (31, 30);
      for (int i = 0; i <= 30; i++)
        {
          f->nodes[i].at = fw_vec3 (0.01 * i, 0, 0);
          f->nodes[i].held = FW_HOLD_X | FW_HOLD_Y | FW_HOLD_TURN_X | FW_HOLD_TURN_Z;
        }
      f->nodes[0].held |= FW_HOLD_Z;
      f->nodes[(int)(holds[k] / 10)].held |= FW_HOLD_Z;
      for (int i = 0; i < 30; i++)
        f->bars[i] = (FwFrameBar){ .from = i,
                                   .to = i + 1,
                                   .up = { 0, 0, 1 },
                                   .section = fw_section_rectangle (0.1, 0.003),
                                   .young = 4e9,
                                   .shear = 1e9,
                                   .density = 2 / 0.003 };
      g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
      g_assert_cmpint (fw_space_frame_frequencies (f, FW_MASS_CONSISTENT, 1, &exact, NULL), ==,
                       FW_FRAME_OK);
      assert_near (omega / exact, 1, 0.01);
      if (k == 0)
        assert_near (exact / (pow (G_PI / 0.3, 2) * sqrt (4e9 * 0.1 * pow (0.003, 3) / 12 / 0.2)),
                     1, 1e-4);
      fw_space_frame_free (f);
      bench_free (&b);
    }
}

/* An upright prop carries W (L/2) / hold and half of itself sits on the panel; nothing bends it but
 * its crooked start. */
static void
upright_rod_under_push (void)
{
  FwDesign *d = shelf (150);
  d->rods[0].diameter_mm = 2;
  Bench b = bench_new (d, 0, 0);
  FwRodFlex rod = fw_rod_flex (b.rig.mechanism, 0);
  FwRodBend bend = fw_rod_bend (&rod, b.rig.mechanism, b.rig.pose, 0, b.loads->tension[0], 0);
  double push = 2 * 0.03 * GRAVITY, euler = G_PI * G_PI * 97e9 * G_PI * 16e-12 / 64 / 0.16;
  assert_near (bend.push, push, 1e-9);
  assert_near (rod.euler, euler, 1e-9 * euler);
  assert_near (bend.bow, 0.4 / 500 / (1 - push / euler), 1e-9);
  assert_near (bend.swing, 0, 1e-12);
  double stress = push / (G_PI * 1e-6) + push * bend.bow / (G_PI * 8e-9 / 32);
  assert_near (bend.stress / stress, 1, 1e-9);
  bench_free (&b);
}

/* A level rod hangs through by 5 w L^4 / 384EI and is bent by w L^2 / 8. */
static void
level_rod_under_its_own_weight (void)
{
  FwDesign *d = build_design (FW_RUNS_ALONG);
  build_throw (d, "idle", 30, 0, 0);
  build_fixed (d, 0, 0, 0, 0);
  build_panel (d, "door", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), 300);
  build_rod (d, "stay", FW_SIDE_RIGHT, from_base (600, 0, -100), 0, fw_vec3 (100, 0, 0), 600, -90);
  d->rods[0].stuff = (FwStuff){ .density_kgm3 = 8490, .young_GPa = 97 };
  Bench b = bench_new (d, 0, 0);
  FwRodFlex rod = fw_rod_flex (b.rig.mechanism, 0);
  FwRodBend bend = fw_rod_bend (&rod, b.rig.mechanism, b.rig.pose, 0, 0, 0);
  FwBarSection s = fw_section_stock (3, 0);
  double w = 8490 * s.area * GRAVITY;
  assert_near (fabs (bend.swing), 5 * w * pow (0.6, 4) / (384 * 97e9 * s.second_y), 1e-9);
  assert_near (bend.stress, w * 0.36 / 8 / fw_section_modulus_y (&s), 1e-3 * bend.stress);
  bench_free (&b);
}

/* The post as three nodes, with what the body does to its tip; its own axes: crank axis, forward,
 * along. */
static FwSpaceFrame *
post_frame (const FwPostFlex *post, const FwPostBend *bend, double diameter_mm, double young)
{
  FwSpaceFrame *f = fw_space_frame_new (3, 2);
  f->nodes[1].at = fw_vec3 (0, 0, bend->back);
  f->nodes[2].at = fw_vec3 (0, 0, post->length);
  f->nodes[0].held = FW_HOLD_Y | FW_HOLD_Z;
  f->nodes[1].held = FW_HOLD_X | FW_HOLD_Y | FW_HOLD_TURN_Y | FW_HOLD_TURN_Z;
  for (int i = 0; i < 2; i++)
    f->bars[i] = (FwFrameBar){ .from = i,
                               .to = i + 1,
                               .section = fw_section_stock (diameter_mm, 0),
                               .young = young,
                               .shear = young / 2.6 };
  return f;
}

static FwVec3
in_post (const FwPose *pose, FwVec3 v)
{
  double c = cos (pose->body.tilt), s = sin (pose->body.tilt);
  return fw_vec3 (v.x, c * v.y - s * v.z, s * v.y + c * v.z);
}

/* Sleeve and rocker, turning fast enough that inertia matters, a load aside on the body. */
static void
post_against_the_frame (void)
{
  for (int rocker = 0; rocker < 2; rocker++)
    for (double crank = 20; crank < 360; crank += 70)
      {
        FwDesign *d = build_design (FW_RUNS_ACROSS);
        build_throw (d, "mid", 40, 0, 0);
        if (rocker)
          build_rocker (d, 0, 420, 200, 180, 210, 190);
        else
          build_sleeve (d, 0, 420, 0, 180);
        d->body.mass_g = 900;
        d->body.centre_mm = fw_vec3 (20, 35, 60);
        d->body.gyration_mm = 140;
        d->body.stuff = (FwStuff){ .young_GPa = 117, .yield_MPa = 207 };
        Bench b = bench_new (d, crank, 9);
        FwPostFlex post = fw_post_flex (b.rig.mechanism);
        g_assert_true (post.known && !post.strut);
        FwPostBend bend = fw_post_bend (&post, b.rig.mechanism, b.rig.pose, b.loads);
        FwSpaceFrame *f = post_frame (&post, &bend, d->body.diameter_mm, 117e9);
        g_assert_cmpint (fw_space_frame_factorise (f), ==, FW_FRAME_OK);
        FwVec3 force
            = in_post (b.rig.pose, fw_vec3_add (b.loads->carrier.force, b.loads->post_pin));
        FwVec3 moment = in_post (b.rig.pose, b.loads->carrier.moment);
        double u[18] = { 0 };
        u[12] = -force.x, u[13] = -force.y, u[14] = 0;
        u[15] = -moment.x, u[16] = -moment.y, u[17] = -moment.z;
        fw_space_frame_solve (f, u);
        /* of a rocker the link is taken to hold the post square to it, as the pin's push along the
         * post is apart */
        assert_near (bend.sag, u[13], 1e-9);
        assert_near (bend.side_sag, u[12], 1e-9);
        double ends[12];
        fw_space_frame_ends (f, 1, u, fw_vec3 (0, 0, 0), ends);
        FwBarSection s = fw_section_stock (d->body.diameter_mm, 0);
        double worst = fmax (hypot (ends[4], ends[5]), hypot (ends[10], ends[11]))
                       / fw_section_modulus_y (&s);
        g_assert_cmpfloat (bend.stress, >=, worst * (1 - 1e-9));
        double more
            = fabs (bend.push) * (1 / s.area + 1.1 * post.length / 500 / fw_section_modulus_y (&s));
        double torsion = fabs (ends[3]) * s.edge_twist / s.twist;
        g_assert_cmpfloat (bend.stress, <=, fw_stress_mises (worst + more, torsion) * (1 + 1e-9));
        fw_space_frame_free (f);
        bench_free (&b);
      }
}

/* A rail's rod carries body and nothing else: m (g + a) along itself; Euler's load pin-ended. */
static void
rail_rod_is_a_strut (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 40, 0, 0);
  build_rail (d, 0, 300, 0);
  d->body.mass_g = 800;
  d->body.stuff = (FwStuff){ .young_GPa = 97 };
  Bench b = bench_new (d, 0, 0);
  FwPostFlex post = fw_post_flex (b.rig.mechanism);
  g_assert_true (post.strut);
  FwPostBend bend = fw_post_bend (&post, b.rig.mechanism, b.rig.pose, b.loads);
  assert_near (bend.push, 0.8 * GRAVITY, 1e-9);
  assert_near (bend.bears, fw_column_euler (0.3, 97e9 * fw_section_stock (8, 0).second_y, 1), 1e-6);
  bench_free (&b);
}

/* Both spans of the post stepped through as y'' EI = V x + G (x - a) - P y with V + G = 0; what is
 * left of the two conditions (no movement at the guide, no moment at the tip) is a determinant that
 * changes sign at the load. */
static double
leftover (double load, double back, double out, double bending)
{
  double rest[2][2];
  for (int way = 0; way < 2; way++)
    {
      const int n = 20000;
      double y = 0, slope = way == 0 ? 1 : 0, v = way == 0 ? 0 : 1, h = (back + out) / n,
             at_guide = 0;
      for (int i = 0; i < n; i++)
        {
          double x = (i + 0.5) * h, half = y + slope * h / 2;
          double guide = x > back ? -v * (x - back) : 0;
          slope += h * (v * x + guide - load * half) / bending;
          y = half + slope * h / 2;
          if (fabs (x + h / 2 - back) < h / 2)
            at_guide = y;
        }
      rest[0][way] = at_guide;
      rest[1][way] = v * back - load * y;
    }
  return rest[0][0] * rest[1][1] - rest[0][1] * rest[1][0];
}

static void
guided_post_buckles_where_stepping_says (void)
{
  const double spans[][2] = { { 0.2, 0.24 }, { 0.1, 0.5 }, { 0.4, 0.1 } };
  for (int i = 0; i < 3; i++)
    {
      double load = fw_column_guided (spans[i][0], spans[i][1], 30);
      double below = leftover (0.99 * load, spans[i][0], spans[i][1], 30);
      double above = leftover (1.01 * load, spans[i][0], spans[i][1], 30);
      g_assert_cmpfloat (below * above, <, 0);
      double start = leftover (0.01 * load, spans[i][0], spans[i][1], 30);
      for (double part = 0.1; part < 0.99; part += 0.1) /* and it is the first one */
        g_assert_cmpfloat (start * leftover (part * load, spans[i][0], spans[i][1], 30), >, 0);
    }
}

static void
nothing_known_is_nothing_judged (void)
{
  FwDesign *d = shelf (150);
  d->panels[0].stuff = d->rods[0].stuff = (FwStuff){ 0 };
  Bench b = bench_new (d, 0, 0);
  FwStripFlex strip;
  fw_strip_flex (&strip, b.rig.mechanism, 0);
  g_assert_false (strip.known);
  g_assert_false (fw_rod_flex (b.rig.mechanism, 0).known);
  g_assert_false (fw_post_flex (b.rig.mechanism).known);
  bench_free (&b);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/panel/a shelf under its own weight", shelf_under_its_own_weight);
  g_test_add_func ("/panel/a tapered one is a leaf spring", tapered_panel_is_a_leaf_spring);
  g_test_add_func ("/panel/a load that grows along it", load_that_grows_along_the_panel);
  g_test_add_func ("/panel/natural frequencies", panel_frequencies);
  g_test_add_func ("/panel/a spring draws the end of a shelf down", spring_draws_the_end_of_a_shelf_down);
  g_test_add_func ("/post/a spring bends it", spring_bends_the_post);
  g_test_add_func ("/rod/upright under a push", upright_rod_under_push);
  g_test_add_func ("/rod/level under its own weight", level_rod_under_its_own_weight);
  g_test_add_func ("/post/bends as the frame says", post_against_the_frame);
  g_test_add_func ("/post/a rail's rod is a strut", rail_rod_is_a_strut);
  g_test_add_func ("/post/buckles where stepping says", guided_post_buckles_where_stepping_says);
  g_test_add_func ("/parts/nothing known is nothing judged", nothing_known_is_nothing_judged);
  return g_test_run ();
}
