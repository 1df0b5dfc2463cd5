/* A whole turn: natural frequencies from energy and give, peaks, and what is called trouble. */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "build_design.h"
#include "near.h"
#include "random_design.h"
#include "strength/beams.h"
#include "strength/stiffer.h"

#define GRAVITY 9.80665

typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwLoadTurn *turn;
  FwStrength *strength;
} Bench;

static Bench
bench_new (FwDesign *design)
{
  Bench b = { .design = design };
  g_assert_cmpint (fw_mechanism_build (design, &b.mech, NULL), ==, FW_OK);
  b.turn = fw_load_turn_new (b.mech, 360);
  b.strength = fw_strength_new (b.mech);
  fw_load_turn_solve (b.turn, b.mech, fw_crank_speed (design));
  fw_strength_solve (b.strength, b.turn);
  return b;
}

static void
bench_free (Bench *b)
{
  fw_strength_free (b->strength);
  free (b->turn);
  fw_mechanism_free (b->mech);
  fw_design_free (b->design);
}

static const FwPartStrength *
part (const Bench *b, FwPartKind kind)
{
  for (int i = 0; i < b->strength->n_parts; i++)
    if (b->strength->parts[i].part.kind == kind)
      return &b->strength->parts[i];
  g_assert_not_reached ();
}

static const FwStuff copper
    = { .density_kgm3 = 8940, .young_GPa = 117, .shear_GPa = 44, .yield_MPa = 207 };
static const FwStuff brass
    = { .density_kgm3 = 8490, .young_GPa = 97, .shear_GPa = 37, .yield_MPa = 124 };

/* The heron with masses and stuff everywhere. */
static FwDesign *
solid_heron (void)
{
  FwDesign *d = build_heron ();
  d->crank.stuff = d->body.stuff = copper;
  for (int i = 0; i < d->n_rods; i++)
    {
      d->rods[i].stuff = brass;
      d->rods[i].mass_g = 30;
    }
  for (int i = 0; i < d->n_panels; i++)
    {
      build_sheet (d, i, 60);
      d->panels[i].has_mass = false;
      d->panels[i].areal_gm2 = 500;
      d->panels[i].stuff = (FwStuff){ .density_kgm3 = 250, .young_GPa = 3, .yield_MPa = 8 };
    }
  d->body.mass_g = 900;
  return d;
}

/* What the pins' circles carry along has, at the crank's speed, just the energy that the forces
 * report. */
static void
masses_at_pins_hold_all_energy (void)
{
  GRand *rand = g_rand_new_with_seed (41);
  int looked_at = 0;
  for (int trial = 0; trial < 60; trial++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      d->body.mass_g = 500;
      d->body.gyration_mm = 80;
      for (int i = 0; i < d->n_panels; i++)
        build_mass (d, i, 100, d->panels[i].span_mm / 2, 10, 3);
      for (int i = 0; i < d->n_rods; i++)
        d->rods[i].mass_g = 20;
      Rig rig = rig_new (d);
      FwLoads *loads = fw_loads_new (rig.mechanism);
      for (double crank = 0; crank < 360; crank += 40)
        {
          rig_solve (&rig, crank);
          fw_loads_solve (loads, rig.mechanism, rig.pose, 5);
          if (!loads->known)
            continue;
          double *masses = g_new0 (double, rig.mechanism->n_pins + 1), energy = 0;
          fw_masses_at_pins (rig.mechanism, rig.pose, loads, masses);
          for (int i = 0; i < rig.mechanism->n_pins; i++)
            {
              double v = rig.mechanism->pins[i].radius_mm / 1000 * 5;
              energy += masses[i] * v * v / 2;
            }
          assert_near (energy, loads->kinetic, 1e-9 * (1 + loads->kinetic));
          looked_at++;
          g_free (masses);
        }
      free (loads);
      rig_free (&rig);
    }
  g_assert_cmpint (looked_at, >, 100);
  g_rand_free (rand);
}

/* Two masses on two pins: Dunkerley's rule is below the exact frequency of the two, and not by more
 * than the root of two. Exact: the greatest root of the quadratic of give times mass. */
static void
crank_frequency_errs_low (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "a", 30, 0, -60);
  build_throw (d, "b", 40, 90, 60);
  d->crank.stuff = copper;
  Rig rig = rig_new (d);
  FwCrankFlex *flex = fw_crank_flex_new (rig.mechanism);
  const double masses[2] = { 0.4, 0.7 };
  double give[2][2];
  for (int force = 0; force < 2; force++)
    for (int moved = 0; moved < 2; moved++)
      {
        /* the difference to the unloaded crank, for it has a weight of its own */
        FwVec3 gives[2] = { { 0, 0, 0 }, { 0, 0, 0 } };
        fw_crank_flex_load (flex, gives, 1, 0, 0);
        double bare = fw_crank_flex_lag (flex, moved);
        gives[force] = force == 0 ? fw_vec3 (0, 1, 0) : fw_vec3 (0, 0, -1);
        fw_crank_flex_load (flex, gives, 1, 0, 0);
        give[moved][force] = (fw_crank_flex_lag (flex, moved) - bare)
                             * rig.mechanism->pins[moved].radius_mm / 1000;
      }
  assert_near (give[0][1], give[1][0], 1e-12); /* Maxwell */
  double a = give[0][0] * masses[0], b = give[1][1] * masses[1],
         c = give[0][1] * give[1][0] * masses[0] * masses[1];
  double exact = 1 / sqrt ((a + b) / 2 + sqrt ((a - b) * (a - b) / 4 + c));
  double rule = fw_natural_crank (flex, masses);
  g_assert_cmpfloat (rule, <=, exact);
  g_assert_cmpfloat (rule, >, exact / sqrt (2));
  fw_crank_flex_free (flex);
  rig_free (&rig);
}

/* A point of mass M at the tip of a weightless post: sqrt (3EI / (M l^2 (l + a))). */
static void
post_frequency (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "mid", 0.001, 0, 0); /* as good as still */
  build_sleeve (d, 0, 420, 0, 180);
  d->body.mass_g = 900;
  d->body.stuff = (FwStuff){ .young_GPa = 117 };
  Bench b = bench_new (d);
  double bending = 117e9 * fw_section_stock (8, 0).second_y, out = 0.24, back = 0.18;
  double natural = sqrt (3 * bending / (0.9 * out * out * (out + back)));
  assert_near (part (&b, FW_PART_BODY)->natural / natural, 1, 1e-4);
  bench_free (&b);
}

static void
every_part_has_its_figures (void)
{
  Bench b = bench_new (solid_heron ());
  int crank = 0, body = 0, rods = 0, panels = 0;
  for (int i = 0; i < b.strength->n_parts; i++)
    {
      const FwPartStrength *p = &b.strength->parts[i];
      crank += p->part.kind == FW_PART_CRANK;
      body += p->part.kind == FW_PART_BODY;
      rods += p->part.kind == FW_PART_LINK;
      panels += p->part.kind == FW_PART_MEMBER;
      g_assert_cmpfloat (p->stress.value, >, 0);
      g_assert_cmpfloat (p->natural, >, 0);
      g_assert_true (isfinite (p->sag.value) && p->sag.value != 0);
      g_assert_cmpint (p->pushes != NULL, ==, p->bears > 0);
      for (int k = 0; k < FW_STRENGTH_STEPS; k++)
        g_assert_cmpfloat (p->stresses[k], <=, p->stress.value);
    }
  g_assert_cmpint (crank, ==, 1);
  g_assert_cmpint (body, ==, 1);
  g_assert_cmpint (rods, ==, b.mech->n_links);
  g_assert_cmpint (panels, ==, b.mech->n_members);
  bench_free (&b);
}

/* The rows of forces and the strength of the same turn speak of the same pushes. */
static void
pushes_are_those_of_the_forces (void)
{
  Bench b = bench_new (solid_heron ());
  for (int i = 0; i < b.strength->n_parts; i++)
    {
      const FwPartStrength *p = &b.strength->parts[i];
      if (p->part.kind != FW_PART_LINK)
        continue;
      const double *row
          = fw_load_turn_row (b.turn, b.mech, (FwLoad){ FW_LOAD_TENSION, p->part.index });
      double most = -INFINITY;
      for (int k = 0; k < 360; k += 5)
        most = fmax (most, -row[k]);
      assert_near (p->push.value, most, 1e-9);
    }
  bench_free (&b);
}

/* Twins alike, mirrored or not: the same to rounding. */
static void
twins_are_alike (void)
{
  Bench b = bench_new (solid_heron ());
  for (int i = 0; i < b.strength->n_parts; i++)
    for (int k = 0; k < b.strength->n_parts; k++)
      {
        const FwPartStrength *p = &b.strength->parts[i], *q = &b.strength->parts[k];
        if (p->part.kind != FW_PART_LINK || q->part.kind != FW_PART_LINK
            || b.mech->links[p->part.index].image != q->part.index)
          continue;
        assert_near (p->stress.value, q->stress.value, 1e-6 * p->stress.value);
        assert_near (p->sag.value, q->sag.value, 1e-9);
        assert_near (p->swing.still, q->swing.still, 1e-9);
      }
  bench_free (&b);
}

static int
count (const FwTroubleList *list, FwTroubleKind kind)
{
  int n = 0;
  for (int i = 0; i < list->n; i++)
    n += list->items[i].kind == kind;
  return n;
}

static void
find (const Bench *b, FwTroubleList *list)
{
  list->n = 0;
  list->full = false;
  fw_strength_trouble_find (b->turn, b->mech, list);
}

static void
a_stout_heron_is_free_of_trouble (void)
{
  FwTrouble room[32];
  FwTroubleList list = { .items = room, .capacity = 32 };
  FwDesign *d = solid_heron ();
  Bench b = bench_new (d);
  find (&b, &list);
  g_assert_cmpint (list.n, ==, 0);
  bench_free (&b);
}

/* Wire for rods: they are pushed with more than a third of Euler's load, and only where the forces
 * say so. */
static void
thin_rods_may_buckle (void)
{
  FwTrouble room[32];
  FwTroubleList list = { .items = room, .capacity = 32 };
  FwDesign *d = solid_heron ();
  for (int i = 0; i < d->n_rods; i++)
    d->rods[i].diameter_mm = 1.2;
  Bench b = bench_new (d);
  find (&b, &list);
  g_assert_cmpint (count (&list, FW_MAY_BUCKLE), >=, 2);
  for (int i = 0; i < list.n; i++)
    {
      const FwTrouble *t = &list.items[i];
      if (t->kind != FW_MAY_BUCKLE || t->part.kind != FW_PART_LINK)
        continue;
      const double *row
          = fw_load_turn_row (b.turn, b.mech, (FwLoad){ FW_LOAD_TENSION, t->part.index });
      double length = b.mech->links[t->part.index].length_mm / 1000;
      double euler = fw_column_euler (length, 97e9 * fw_section_stock (1.2, 0).second_y, 1);
      assert_near (t->limit, euler / 3, 1e-9);
      g_assert_cmpfloat (t->value, >, t->limit);
      g_assert_cmpint (t->unit, ==, FW_UNIT_N);
      g_assert_cmpint (t->severity, ==, t->value > euler ? FW_FAILURE : FW_WARNING);
      g_assert_true (t->from <= t->worst + 1e-12 && t->worst <= t->to + 1e-12);
      if (t->to - t->from > 6.28)
        continue;
      for (int end = 0; end < 2; end++) /* at either end the push passes the limit */
        {
          double at = (end == 0 ? t->from : t->to) * 180 / G_PI;
          double in = -row[((int)round (at) + (end == 0 ? 2 : -2) + 720) % 360];
          double out = -row[((int)round (at) + (end == 0 ? -2 : 2) + 720) % 360];
          g_assert_cmpfloat (in, >, t->limit);
          g_assert_cmpfloat (out, <, t->limit);
        }
    }
  bench_free (&b);
}

static void
weak_sheets_are_over_stressed (void)
{
  FwTrouble room[32];
  FwTroubleList list = { .items = room, .capacity = 32 };
  FwDesign *d = solid_heron ();
  d->panels[0].thickness_mm = 0.3;
  Bench b = bench_new (d);
  find (&b, &list);
  g_assert_cmpint (count (&list, FW_OVER_STRESS), >=, 2); /* both sides */
  for (int i = 0; i < list.n; i++)
    if (list.items[i].kind == FW_OVER_STRESS)
      {
        g_assert_cmpint (list.items[i].part.kind, ==, FW_PART_MEMBER);
        assert_near (list.items[i].limit, 4, 1e-12);
        g_assert_cmpint (list.items[i].unit, ==, FW_UNIT_MPA);
      }
  bench_free (&b);
}

/* A whippy post, turned so that twice a turn meets its natural frequency, swings up; far from it,
 * it does not. */
static void
a_whippy_post_resonates_at_its_speed_only (void)
{
  int found[3];
  double natural = 0;
  for (int k = 0; k < 3; k++)
    {
      FwDesign *d = solid_heron ();
      d->body.diameter_mm = 4;
      d->body.stuff.yield_MPa = 0;
      const double share[] = { 0.05, 0.5, 0.5 };
      if (k == 2)
        d->body.diameter_mm = 16;
      d->crank.turns_per_minute = k == 0 ? 5 : share[k] * natural * 60 / (2 * G_PI);
      Bench b = bench_new (d);
      if (k == 0)
        natural = part (&b, FW_PART_BODY)->natural;
      FwTrouble room[32];
      FwTroubleList list = { .items = room, .capacity = 32 };
      find (&b, &list);
      found[k] = 0;
      for (int i = 0; i < list.n; i++)
        if (list.items[i].kind == FW_RESONANCE && list.items[i].part.kind == FW_PART_BODY)
          {
            found[k]++;
            g_assert_cmpint (list.items[i].unit, ==, FW_UNIT_HZ);
            assert_near (list.items[i].value, natural / (2 * G_PI), 1e-6);
            assert_near (list.items[i].limit, list.items[i].value,
                         1e-6); /* the harmonic is right on it */
          }
      bench_free (&b);
    }
  g_assert_cmpint (found[0], ==, 0);
  g_assert_cmpint (found[1], ==, 1);
  g_assert_cmpint (found[2], ==, 0);
}

/* Every remedy, applied, leaves none of that trouble, and the one half a millimetre less would not
 * have done. */
static void
assert_remedies_mend (FwDesign *d, FwParamKind wanted)
{
  Bench b = bench_new (d);
  FwTrouble room[64], after[64];
  FwTroubleList list = { .items = room, .capacity = 64 }, rest = { .items = after, .capacity = 64 };
  find (&b, &list);
  int thicker = 0, seen = 0;
  for (int i = 0; i < list.n; i++)
    {
      FwRemedy remedies[4];
      int n = fw_strength_remedies (d, &room[i], remedies, 4, NULL, NULL);
      for (int k = 0; k < n; k++)
        {
          gboolean stock = remedies[k].param.kind != FW_PARAM_SPEED;
          for (int less = 0; less <= stock; less++)
            {
              FwDesign *mended = fw_design_copy (d);
              fw_param_set (mended, remedies[k].param, remedies[k].to - less * 0.5);
              Bench m = bench_new (mended);
              find (&m, &rest);
              int same = 0;
              for (int j = 0; j < rest.n; j++)
                same += fw_trouble_twins (b.mech, &room[i], &after[j]);
              if (less == 0)
                g_assert_cmpint (same, ==, 0);
              else if (remedies[k].to - 0.5 > remedies[k].from)
                g_assert_cmpint (same, >, 0);
              bench_free (&m);
            }
          thicker += stock;
          seen += remedies[k].param.kind == wanted;
          if (stock)
            assert_near (remedies[k].to * 2, round (remedies[k].to * 2), 1e-9);
        }
    }
  g_assert_cmpint (thicker, >=, 1);
  g_assert_cmpint (seen, >=, 1);
  bench_free (&b);
}

static void
remedies_mend (void)
{
  FwDesign *d = solid_heron ();
  for (int i = 0; i < d->n_rods; i++)
    d->rods[i].diameter_mm = 1.2;
  d->panels[0].thickness_mm = 0.6;
  assert_remedies_mend (d, FW_PARAM_ROD_DIAMETER);
}

static void
a_thin_post_is_made_thicker (void)
{
  FwDesign *d = solid_heron ();
  d->body.diameter_mm = 4;
  assert_remedies_mend (d, FW_PARAM_BODY_DIAMETER);
}

static void
silent_without_stuff (void)
{
  FwDesign *d = build_heron ();
  Bench b = bench_new (d);
  FwTrouble room[4];
  FwTroubleList list = { .items = room, .capacity = 4 };
  find (&b, &list);
  g_assert_cmpint (b.strength->n_parts, ==, 0);
  g_assert_cmpint (list.n, ==, 0);
  g_assert_false (list.full);
  bench_free (&b);
}

/* Where a turn has gaps the rest still has its figures, but nothing is called trouble: beside a gap
 * forces grow without bound. */
static void
an_open_turn_has_figures_but_no_trouble (void)
{
  FwDesign *d = solid_heron ();
  d->rods[0].length_mm *= 0.85;
  d->panels[0].thickness_mm = 0.3; /* over-stressed, if it went round */
  Bench b = bench_new (d);
  int open = 0, closed = 0;
  const FwPartStrength *crank = part (&b, FW_PART_CRANK);
  for (int i = 0; i < FW_STRENGTH_STEPS; i++)
    {
      open += isnan (crank->stresses[i]);
      closed += !isnan (crank->stresses[i]);
    }
  g_assert_cmpint (open, >, 0);
  g_assert_cmpint (closed, >, 0);
  g_assert_cmpfloat (crank->stress.value, >, 0);
  g_assert_true (isnan (crank->swing.swing));
  FwTrouble room[8];
  FwTroubleList list = { .items = room, .capacity = 8 };
  find (&b, &list);
  g_assert_cmpint (list.n, ==, 0);
  bench_free (&b);
}

/* Any mechanism, from wire to beam: no crash, and every trouble has numbers, a part and a place in
 * the turn. */
static void
random_designs_give_numbers (void)
{
  GRand *rand = g_rand_new_with_seed (2024);
  int known = 0;
  for (int trial = 0; trial < 80; trial++)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      d->crank.stuff = d->body.stuff = copper;
      d->crank.turns_per_minute = g_rand_double_range (rand, 0, 400);
      d->crank.diameter_mm = exp (g_rand_double_range (rand, -2, 4));
      d->crank.wall_mm = g_rand_double_range (rand, 0, 3);
      d->body.mass_g = 700;
      for (int i = 0; i < d->n_panels; i++)
        {
          build_mass (d, i, 100, d->panels[i].span_mm / 2, 10, 3);
          build_sheet (d, i, 50);
          d->panels[i].thickness_mm = exp (g_rand_double_range (rand, -2, 2));
          d->panels[i].stuff = (FwStuff){ 300, 3, 1, 8 };
        }
      for (int i = 0; i < d->n_rods; i++)
        {
          d->rods[i].stuff = brass;
          d->rods[i].diameter_mm = exp (g_rand_double_range (rand, -2, 2));
        }
      Bench b = bench_new (d);
      FwTrouble room[128];
      FwTroubleList list = { .items = room, .capacity = 128 };
      find (&b, &list);
      known += b.strength->n_parts;
      for (int i = 0; i < list.n; i++)
        {
          const FwTrouble *t = &room[i];
          g_assert_true (isfinite (t->value) && isfinite (t->limit) && t->value > 0);
          g_assert_true (t->from >= 0 && t->from < 6.2832 && t->to >= t->from
                         && t->to <= t->from + 6.2832);
          g_assert_true (t->worst >= t->from - 1e-9 || t->worst + 6.2832 >= t->from);
          g_assert_nonnull (fw_part_name (b.mech, t->part));
        }
      bench_free (&b);
    }
  g_assert_cmpint (known, >, 200);
  g_rand_free (rand);
}

static void
a_short_list_is_marked_full (void)
{
  FwDesign *d = solid_heron ();
  for (int i = 0; i < d->n_rods; i++)
    d->rods[i].diameter_mm = 0.6;
  Bench b = bench_new (d);
  FwTrouble room[1], whole[32];
  FwTroubleList list = { .items = room, .capacity = 1 };
  find (&b, &list);
  g_assert_cmpint (list.n, ==, 1);
  g_assert_true (list.full);
  g_assert_cmpint (room[0].kind, ==, FW_MAY_BUCKLE);
  g_assert_cmpint (room[0].severity, ==, FW_FAILURE);
  list = (FwTroubleList){ .items = whole, .capacity = 32 };
  find (&b, &list);
  for (int i = 0; i < list.n; i++) /* beyond Euler's load stress has no number */
    g_assert_true (isfinite (whole[i].value) && isfinite (whole[i].limit));
  bench_free (&b);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/natural/masses at the pins hold all the energy",
                   masses_at_pins_hold_all_energy);
  g_test_add_func ("/natural/the crank's errs low by less than the root of two",
                   crank_frequency_errs_low);
  g_test_add_func ("/natural/a body on its post", post_frequency);
  g_test_add_func ("/turn/every part has its figures", every_part_has_its_figures);
  g_test_add_func ("/turn/pushes are those of the forces", pushes_are_those_of_the_forces);
  g_test_add_func ("/turn/twins are alike", twins_are_alike);
  g_test_add_func ("/turn/an open one has figures but no trouble",
                   an_open_turn_has_figures_but_no_trouble);
  g_test_add_func ("/trouble/a stout heron has none", a_stout_heron_is_free_of_trouble);
  g_test_add_func ("/trouble/thin rods may buckle", thin_rods_may_buckle);
  g_test_add_func ("/trouble/weak sheets are over-stressed", weak_sheets_are_over_stressed);
  g_test_add_func ("/trouble/a whippy post resonates at its speed only",
                   a_whippy_post_resonates_at_its_speed_only);
  g_test_add_func ("/trouble/remedies mend it, and are no larger than they must be", remedies_mend);
  g_test_add_func ("/trouble/a post too thin is made thicker", a_thin_post_is_made_thicker);
  g_test_add_func ("/trouble/silent where the stuff is not known", silent_without_stuff);
  g_test_add_func ("/trouble/random designs give numbers", random_designs_give_numbers);
  g_test_add_func ("/trouble/a short list is marked full", a_short_list_is_marked_full);
  return g_test_run ();
}
