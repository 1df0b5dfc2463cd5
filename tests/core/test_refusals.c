/* What cannot be built is refused with the part and the key at fault, and nothing is leaked. */

#include <stddef.h>
#include <string.h>

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
  d = build_example (); /* what stands in the middle meets no wing, neither as its foot nor as what it drives */
  d->rods[0].side = FW_SIDE_MIDDLE;
  refused (d, FW_BAD_REFERENCE, 'r', 0, "side");
  d = build_example ();
  build_panel (d, "tail", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, -40, 0), 90);
  build_rod (d, "tailrod", FW_SIDE_MIDDLE, from_panel (0, 60, 0, 0), 1, fw_vec3 (40, 0, 0), 90, 0);
  refused (d, FW_BAD_REFERENCE, 'r', 1, "from");
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
  d->panels[0].on = -2;
  refused (d, FW_BAD_REFERENCE, 'p', 0, "on");
  d = build_example ();
  d->rods[0].panel = -1;
  refused (d, FW_BAD_REFERENCE, 'r', 0, "to");
  d = build_example ();
  d->body.throw_index = -1;
  refused (d, FW_BAD_REFERENCE, 'b', 0, "throw");
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

/* A design with one of each part, on the given ride. */
static FwDesign *
one_of_each (FwRide ride)
{
  FwDesign *d = build_example ();
  if (ride == FW_RIDE_FIXED)
    build_fixed (d, 0, 0, 400, 0);
  if (ride == FW_RIDE_RAIL)
    build_rail (d, 0, 420, 0);
  if (ride == FW_RIDE_ROCKER)
    build_rocker (d, 0, 420, 200, 250, 200, 250);
  build_mass (d, 0, 160, 105, 0, 0);
  d->rods[0].from = from_base (150, 0, 0);
  build_spring (d, FW_SIDE_BOTH, from_base (60, 0, 0), from_panel (0, 100, 0, 0), 0.1, 200, false);
  build_weight (d, 100, 30, 180, 20);
  return d;
}

typedef enum
{
  ANY_SIGN,
  NOT_BELOW,
  ABOVE
} Least;

/* Every number that the motion is computed from: what it may be, and how its part and key are named. */
static const struct
{
  FwRide ride;
  char kind;
  const char *key;
  size_t at; /* in the part */
  Least least;
} numbers[] = {
  { FW_RIDE_SLEEVE, 't', "radius", offsetof (FwThrow, radius_mm), NOT_BELOW },
  { FW_RIDE_SLEEVE, 't', "phase", offsetof (FwThrow, phase_deg), ANY_SIGN },
  { FW_RIDE_SLEEVE, 't', "station", offsetof (FwThrow, station_mm), ANY_SIGN },
  { FW_RIDE_FIXED, 'b', "at", offsetof (FwBody, at_mm.x), ANY_SIGN },
  { FW_RIDE_FIXED, 'b', "at", offsetof (FwBody, at_mm.y), ANY_SIGN },
  { FW_RIDE_FIXED, 'b', "tilt", offsetof (FwBody, tilt_deg), ANY_SIGN },
  { FW_RIDE_RAIL, 'b', "rod", offsetof (FwBody, rod_mm), ABOVE },
  { FW_RIDE_RAIL, 'b', "offset", offsetof (FwBody, offset_mm), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'b', "post", offsetof (FwBody, post_mm), ABOVE },
  { FW_RIDE_SLEEVE, 'b', "guide", offsetof (FwBody, guide_mm.x), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'b', "guide", offsetof (FwBody, guide_mm.y), ANY_SIGN },
  { FW_RIDE_ROCKER, 'b', "link.pivot", offsetof (FwBody, pivot_mm.x), ANY_SIGN },
  { FW_RIDE_ROCKER, 'b', "link.pivot", offsetof (FwBody, pivot_mm.y), ANY_SIGN },
  { FW_RIDE_ROCKER, 'b', "link.length", offsetof (FwBody, link_mm), ABOVE },
  { FW_RIDE_ROCKER, 'b', "link.on", offsetof (FwBody, on_mm), ABOVE },
  { FW_RIDE_SLEEVE, 'p', "hinge", offsetof (FwPanel, hinge_mm.z), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'p', "sweep", offsetof (FwPanel, sweep_deg), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'p', "cant", offsetof (FwPanel, cant_deg), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'p', "span", offsetof (FwPanel, span_mm), ABOVE },
  { FW_RIDE_SLEEVE, 'p', "mass", offsetof (FwPanel, mass_g), NOT_BELOW },
  { FW_RIDE_SLEEVE, 'p', "centre", offsetof (FwPanel, centre_mm.x), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'r', "to.at", offsetof (FwRod, at_mm.x), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'r', "from", offsetof (FwRod, from.at_mm.y), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'r', "length", offsetof (FwRod, length_mm), ABOVE },
  { FW_RIDE_SLEEVE, 'r', "near", offsetof (FwRod, near_deg), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'e', "rate", offsetof (FwSpringPart, rate_Npmm), ABOVE },
  { FW_RIDE_SLEEVE, 'e', "free", offsetof (FwSpringPart, free_mm), NOT_BELOW },
  { FW_RIDE_SLEEVE, 'w', "mass", offsetof (FwCrankWeight, mass_g), NOT_BELOW },
  { FW_RIDE_SLEEVE, 'w', "radius", offsetof (FwCrankWeight, radius_mm), NOT_BELOW },
  { FW_RIDE_SLEEVE, 'w', "phase", offsetof (FwCrankWeight, phase_deg), ANY_SIGN },
  { FW_RIDE_SLEEVE, 'w', "station", offsetof (FwCrankWeight, station_mm), ANY_SIGN },
};

static void
set_number (FwDesign *d, int i, double value)
{
  void *part = numbers[i].kind == 't'   ? (void *)d->crank.throws
               : numbers[i].kind == 'b' ? (void *)&d->body
               : numbers[i].kind == 'p' ? (void *)d->panels
               : numbers[i].kind == 'r' ? (void *)d->rods
               : numbers[i].kind == 'e' ? (void *)d->springs
                                        : (void *)d->crank.weights;
  *(double *)(void *)((char *)part + numbers[i].at) = value;
}

static void
test_every_number (void)
{
  static const double no_number[] = { NAN, INFINITY, -INFINITY };
  for (int i = 0; i < (int)G_N_ELEMENTS (numbers); i++)
    {
      FwDesign *d;
      for (int k = 0; k < 3; k++)
        {
          d = one_of_each (numbers[i].ride);
          set_number (d, i, no_number[k]);
          refused (d, FW_BAD_NUMBER, numbers[i].kind, 0, numbers[i].key);
        }
      static const double edges[] = { -1, 0 };
      for (int k = 0; k < 2; k++)
        {
          d = one_of_each (numbers[i].ride);
          set_number (d, i, edges[k]);
          if (numbers[i].least == ABOVE || (numbers[i].least == NOT_BELOW && edges[k] < 0))
            refused (d, FW_BAD_NUMBER, numbers[i].kind, 0, numbers[i].key);
          else
            {
              Rig rig = rig_new (d); /* takes it */
              rig_free (&rig);
            }
        }
    }
}

/* Springs end on the base, the body or a panel that is there on their side. */
static void
test_spring_ends (void)
{
  FwDesign *d = one_of_each (FW_RIDE_FIXED);
  d->springs[0].from = from_throw (0);
  refused (d, FW_BAD_REFERENCE, 'e', 0, "from");
  d = one_of_each (FW_RIDE_FIXED);
  d->springs[0].from.at_mm.x = NAN;
  refused (d, FW_BAD_REFERENCE, 'e', 0, "from");
  static const int nowhere[] = { -1, 1 };
  for (int i = 0; i < 2; i++)
    {
      d = one_of_each (FW_RIDE_FIXED);
      d->springs[0].to.index = nowhere[i];
      refused (d, FW_BAD_REFERENCE, 'e', 0, "to");
    }
  d = one_of_each (FW_RIDE_FIXED);
  d->panels[0].side = d->rods[0].side = FW_SIDE_LEFT;
  d->springs[0].side = FW_SIDE_RIGHT;
  refused (d, FW_BAD_REFERENCE, 'e', 0, NULL);
  /* From the base to the base moves nothing, but may be drawn. */
  d = one_of_each (FW_RIDE_FIXED);
  d->springs[0].to = from_body (40, 0, 0);
  Rig rig = rig_new (d);
  g_assert_cmpint (rig.mechanism->n_coils, ==, 2);
  rig_free (&rig);
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

/* Each refusal says something else, and a spring that a hanging panel holds is one. */
static void
test_status_words (void)
{
  static const FwStatus all[] = { FW_OK, FW_NO_MEMORY, FW_BAD_REFERENCE, FW_BAD_NUMBER, FW_RING, FW_TWO_RODS, FW_ON_HANGING };
  for (size_t i = 0; i < G_N_ELEMENTS (all); i++)
    {
      g_assert_cmpint (strlen (fw_status_text (all[i])), >, 5);
      for (size_t k = 0; k < i; k++)
        g_assert_cmpstr (fw_status_text (all[i]), !=, fw_status_text (all[k]));
    }
  FwDesign *d = one_of_each (FW_RIDE_SLEEVE);
  build_panel (d, "tag", FW_SIDE_BOTH, 0, fw_vec3 (200, 0, 0), 50);
  d->springs[0].to.index = 1;
  refused (d, FW_ON_HANGING, 'e', 0, "to");
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
  g_test_add_func ("/refusals/every number that cannot be is refused with its part and key, and no other",
                   test_every_number);
  g_test_add_func ("/refusals/springs end on what is there", test_spring_ends);
  g_test_add_func ("/refusals/anchors are solved before what they drive", test_order);
  g_test_add_func ("/refusals/a pair on a middle panel mirrors in the middle",
                   test_sides_on_middle);
  g_test_add_func ("/refusals/each refusal has words of its own", test_status_words);
  g_test_add_func ("/refusals/freeing nothing does nothing", test_free_nothing);
  return g_test_run ();
}
