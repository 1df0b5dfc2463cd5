/* Remedies are tried again here, each on a copy, over a finer turn; bands are sampled inside and
 * out. */

#include "build_design.h"
#include "core/trouble.h"
#include "near.h"
#include "random_design.h"

typedef struct
{
  FwMechanism *mechanism;
  FwTurn *turn;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Look;

static Look *
look_at (const FwDesign *design, int steps)
{
  Look *l = g_new0 (Look, 1);
  l->list = (FwTroubleList){ .items = l->room, .capacity = FW_TROUBLE_ROOM };
  if (fw_mechanism_build (design, &l->mechanism, NULL) != FW_OK)
    {
      g_free (l);
      return NULL;
    }
  l->turn = fw_turn_new (l->mechanism, steps);
  fw_turn_solve (l->turn, l->mechanism);
  fw_trouble_find (l->turn, l->mechanism, &l->list);
  return l;
}

static void
look_free (Look *l)
{
  free (l->turn);
  fw_mechanism_free (l->mechanism);
  g_free (l);
}

static int
in_design (const FwMechanism *m, FwPart p)
{
  return p.kind == FW_PART_MEMBER ? m->members[p.index].panel
         : p.kind == FW_PART_LINK ? m->links[p.index].rod
                                  : p.index;
}

/* Same kind on the same part or its twin. */
static bool
alike (const FwMechanism *m, const FwTrouble *a, const FwTrouble *b)
{
  if (a->kind != b->kind || a->part.kind != b->part.kind
      || in_design (m, a->part) != in_design (m, b->part))
    return false;
  return !a->has_other
         || (a->other.kind == b->other.kind && in_design (m, a->other) == in_design (m, b->other));
}

static const FwTrouble *
find_alike (const Look *l, const FwTrouble *t, FwSeverity at_least)
{
  for (int i = 0; i < l->list.n; i++)
    if (l->list.items[i].severity >= at_least && alike (l->mechanism, &l->list.items[i], t))
      return &l->list.items[i];
  return NULL;
}

/* Applies every remedy of every trouble and looks again. Returns how many it tried. */
static int
try_all (const FwDesign *design, int steps)
{
  Look *before = look_at (design, 360);
  int tried = 0;
  for (int i = 0; i < before->list.n; i++)
    {
      const FwTrouble *trouble = &before->list.items[i];
      FwRemedy list[4];
      int n = fw_remedies (design, trouble, list, 4, NULL, NULL);
      g_assert_cmpint (n, <=, 4);
      for (int k = 0; k < n; k++)
        {
          FwDesign *mended = fw_design_copy (design);
          g_assert_cmpfloat (fw_param_get (design, list[k].param), ==, list[k].from);
          g_assert_cmpfloat (list[k].from, !=, list[k].to);
          fw_param_set (mended, list[k].param, list[k].to);
          Look *after = look_at (mended, steps);
          g_assert_nonnull (after);
          g_assert_null (find_alike (after, trouble, trouble->severity));
          for (int j = 0; j < after->list.n; j++)
            {
              const FwTrouble *now = &after->list.items[j];
              if (now->severity < trouble->severity)
                continue;
              const FwTrouble *known = find_alike (before, now, now->severity);
              if (known == NULL)
                g_test_message ("%s mended by number %d/%d: %g to %g, but then %s of %s, value %g, "
                                "limit %g, %g deg wide",
                                fw_trouble_name (trouble->kind), list[k].param.kind,
                                list[k].param.index, list[k].from, list[k].to,
                                fw_trouble_name (now->kind),
                                fw_part_name (after->mechanism, now->part), now->value, now->limit,
                                (now->to - now->from) / RAD);
              g_assert_nonnull (known);
            }
          tried++;
          look_free (after);
          fw_design_free (mended);
        }
    }
  look_free (before);
  return tried;
}

static FwDesign *
four_bar (double a, double b, double c, double d, double near_deg)
{
  FwDesign *design = build_design (FW_RUNS_ALONG);
  build_throw (design, "t", a, 0, 0);
  build_fixed (design, 0, 0, d, 0);
  build_panel (design, "wing", FW_SIDE_RIGHT, FW_ON_BODY, fw_vec3 (0, 0, 0), c);
  build_rod (design, "rod", FW_SIDE_RIGHT, from_throw (0), 0, fw_vec3 (c, 0, 0), b, near_deg);
  return design;
}

static void
check_mended (FwDesign *d, FwTroubleKind kind)
{
  Look *l = look_at (d, 360);
  FwRemedy list[4];
  int n = -1;
  for (int i = 0; i < l->list.n && n < 0; i++)
    if (l->list.items[i].kind == kind)
      n = fw_remedies (d, &l->list.items[i], list, 4, NULL, NULL);
  g_assert_cmpint (n, >, 0);
  look_free (l);
  g_assert_cmpint (try_all (d, 720), >=, n);
  fw_design_free (d);
}

static void
test_open_loop (void)
{
  check_mended (four_bar (40, 60, 70, 100, 0), FW_CANNOT_CLOSE);
}

/* By hand: rod and panel must reach 140 together; the rod alone grown by 10 and a little does it.
 */
static void
test_smallest_change (void)
{
  FwDesign *d = four_bar (40, 60, 70, 100, 0);
  Look *l = look_at (d, 360);
  FwRemedy list[8];
  int n = fw_remedies (d, &l->list.items[0], list, 8, NULL, NULL);
  g_assert_cmpint (l->list.items[0].kind, ==, FW_CANNOT_CLOSE);
  bool seen = false;
  for (int i = 0; i < n; i++)
    if (list[i].param.kind == FW_PARAM_ROD_LENGTH)
      {
        seen = true;
        g_assert_cmpfloat (list[i].to, >=, 70);
        g_assert_cmpfloat (list[i].to, <=, 71.5);
        /* What can be cut: whole or half millimetres. */
        assert_near (remainder (list[i].to, 0.5), 0, 1e-9);
      }
  g_assert_true (seen);
  look_free (l);
  fw_design_free (d);
}

static void
test_past_stop (void)
{
  FwDesign *d = four_bar (15, 60, 60, 70, -27);
  build_stops (d, 0, -40, 60);
  check_mended (d, FW_PAST_STOP);
}

static void
test_weak_push (void)
{
  check_mended (four_bar (30, 110, 80, 100, -27), FW_WEAK_PUSH);
}

static void
test_lean (void)
{
  FwDesign *d = four_bar (15, 60, 60, 70, -27);
  d->panels[0].hinge_mm.y = 60 * tan (27 * RAD);
  d->rods[0].length_mm = 60 / cos (27 * RAD);
  check_mended (d, FW_LEAN_LIMIT);
}

static void
test_crank_on_base (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "t", 40, 0, 0);
  build_rail (d, 0, 200, 0);
  d->base.top_mm = -41;
  check_mended (d, FW_HITS);
}

/* What hits the plate, or the floor beside it, clears both where the plate is lower: a higher axis. */
static void
test_higher_axis (void)
{
  for (int floor = 0; floor < 2; floor++)
    {
      FwDesign *d = build_design (FW_RUNS_ACROSS);
      build_rail (d, build_throw (d, "t", floor ? 20 : 40, 0, 0), 200, 0);
      d->base = (FwBase){ .plate_mm = { 400, 200, 10 }, .top_mm = -41, .handle_mm = floor ? 50 : 0 };
      Look *l = look_at (d, 360);
      g_assert_cmpint (l->list.n, ==, 1);
      g_assert_cmpint (l->list.items[0].kind, ==, FW_HITS);
      g_assert_cmpint (l->list.items[0].other.kind, ==, floor ? FW_PART_FLOOR : FW_PART_BASE);
      FwRemedy list[8];
      int n = fw_remedies (d, &l->list.items[0], list, 8, NULL, NULL), found = -1;
      for (int i = 0; i < n; i++)
        found = list[i].param.kind == FW_PARAM_PLATE_TOP ? i : found;
      g_assert_cmpint (found, >=, 0);
      g_assert_cmpfloat (list[found].to, <, list[found].from);
      look_free (l);
      g_assert_cmpint (try_all (d, 720), >, 1);
      fw_design_free (d);
    }
}

/* Lists that are shorter than what is found hold the best of it, or nothing. */
static void
test_little_room (void)
{
  FwDesign *d = four_bar (40, 60, 70, 100, 0);
  Look *l = look_at (d, 360);
  FwRemedy all[8], one[1];
  int n = fw_remedies (d, &l->list.items[0], all, 8, NULL, NULL);
  g_assert_cmpint (n, >, 1);
  g_assert_cmpint (fw_remedies (d, &l->list.items[0], one, 1, NULL, NULL), ==, 1);
  g_assert_true (fw_param_equal (one[0].param, all[0].param));
  assert_near (one[0].to, all[0].to, 0);
  FwBand bands[8], first[1];
  FwParam rod = { FW_PARAM_ROD_LENGTH, 0, 0 };
  n = fw_bands (d, rod, 50, 150, bands, 8, NULL, NULL);
  g_assert_cmpint (n, >, 1);
  g_assert_cmpint (fw_bands (d, rod, 50, 150, first, 1, NULL, NULL), ==, 1);
  assert_near (first[0].from, bands[0].from, 0);
  FwTurn *turn = fw_turn_new (l->mechanism, 72);
  fw_turn_solve (turn, l->mechanism);
  FwInterval gaps[4];
  n = fw_turn_gaps (turn, l->mechanism, 0, gaps, 4);
  g_assert_cmpint (n, >, 0);
  g_assert_cmpint (fw_turn_gaps (turn, l->mechanism, 0, gaps, 0), ==, 0);
  free (turn);
  look_free (l);
  fw_design_free (d);
}

/* A body that cannot be assembled all the turn: its own lengths mend it. */
static void
test_body_open (void)
{
  FwDesign *d = build_design (FW_RUNS_ACROSS);
  build_throw (d, "t", 40, 0, 0);
  build_rail (d, 0, 60, 25);
  check_mended (d, FW_CANNOT_CLOSE);
  d = build_design (FW_RUNS_ALONG);
  build_throw (d, "t", 40, 0, 0);
  build_rocker (d, 0, 300, 150, 150, 95, 150);
  check_mended (d, FW_CANNOT_CLOSE);
}

static void
test_random (void)
{
  GRand *rand = g_rand_new_with_seed (91);
  int tried = 0;
  for (int n = random_rounds (1); n > 0; n--)
    {
      FwDesign *d = random_design (rand, RANDOM_ANY);
      for (int i = 1; i < d->n_panels; i++)
        if (g_rand_boolean (rand))
          build_stops (d, i, -80, 80);
      tried += try_all (d, 720);
      fw_design_free (d);
    }
  g_rand_free (rand);
  g_test_message ("%d remedies tried again", tried);
  g_assert_cmpint (tried, >, 5);
}

static bool
stop_at_once (void *data)
{
  ++*(int *)data;
  return true;
}

static void
test_stops_when_told (void)
{
  FwDesign *d = four_bar (40, 60, 70, 100, 0);
  Look *l = look_at (d, 360);
  FwRemedy list[4];
  FwBand bands[8];
  int asked = 0;
  g_assert_cmpint (fw_remedies (d, &l->list.items[0], list, 4, stop_at_once, &asked), ==, 0);
  g_assert_cmpint (asked, ==, 1);
  fw_bands (d, (FwParam){ FW_PARAM_ROD_LENGTH, 0, 0 }, 50, 100, bands, 8, stop_at_once, &asked);
  g_assert_cmpint (asked, ==, 2);
  look_free (l);
  fw_design_free (d);
}

/* Asks so many times that a search has begun to try a number, and then stops. */
static bool
stop_third (void *data)
{
  return ++*(int *)data >= 3;
}

static void
test_stops_between (void)
{
  FwDesign *d = four_bar (40, 60, 70, 100, 0);
  Look *l = look_at (d, 360);
  FwRemedy list[8];
  FwBand bands[8], all[8];
  const FwParam length = { FW_PARAM_ROD_LENGTH, 0, 0 };
  int asked = 0;
  g_assert_cmpint (fw_remedies (d, &l->list.items[0], list, 8, stop_third, &asked), ==, 0);
  g_assert_cmpint (asked, >=, 3);
  asked = 0;
  int n = fw_bands (d, length, 50, 150, bands, 8, stop_third, &asked), n_all = fw_bands (d, length, 50, 150, all, 8, NULL, NULL);
  g_assert_cmpint (asked, ==, 3);
  g_assert_cmpint (n, <, n_all);
  look_free (l);
  fw_design_free (d);
}

/* What begins or ends between the last two samples is told as sharply as what does between any, and a list that is full
 * before it holds what came first. */
static void
test_band_at_the_end (void)
{
  FwDesign *d = four_bar (40, 100, 70, 100, 0);
  const FwParam length = { FW_PARAM_ROD_LENGTH, 0, 0 };
  FwBand all[16], bands[4];
  int n_all = fw_bands (d, length, 40, 160, all, 16, NULL, NULL);
  g_assert_cmpint (n_all, >=, 2);
  g_assert_cmpint (fw_bands (d, length, 40, 70.3, bands, 4, NULL, NULL), ==, 1); /* 70: Grashof */
  assert_near (bands[0].from, 70, 0.04);
  assert_near (bands[0].to, 70.3, 0);
  g_assert_cmpint (fw_bands (d, length, 129, 130.01, bands, 4, NULL, NULL), ==, 1); /* 130: Grashof */
  assert_near (bands[0].from, 129, 0);
  assert_near (bands[0].to, 130, 0.01);
  double edge = all[0].to; /* here trouble begins or ends */
  g_assert_cmpint (fw_bands (d, length, edge - 5, edge + 0.1, bands, 4, NULL, NULL), ==, 2);
  assert_near (bands[0].to, edge, 0.1);
  g_assert_cmpint (bands[0].trial, ==, all[0].trial);
  g_assert_cmpint (bands[1].trial, ==, all[1].trial);
  assert_near (bands[1].to, edge + 0.1, 1e-9);
  g_assert_cmpint (fw_bands (d, length, edge - 5, edge + 0.1, bands, 1, NULL, NULL), ==, 1);
  g_assert_cmpint (bands[0].trial, ==, all[0].trial);
  fw_design_free (d);
}

static FwTrial
trial (const FwDesign *design, FwParam param, double value)
{
  FwDesign *d = fw_design_copy (design);
  fw_param_set (d, param, value);
  Look *l = look_at (d, 720);
  FwTrial result = FW_TRIAL_REFUSED;
  if (l != NULL)
    {
      result = FW_TRIAL_FREE;
      for (int i = 0; i < l->list.n; i++)
        {
          if (l->list.items[i].severity >= FW_WARNING && result == FW_TRIAL_FREE)
            result = FW_TRIAL_TROUBLED;
          if (l->list.items[i].kind == FW_CANNOT_CLOSE)
            result = FW_TRIAL_OPEN;
        }
      look_free (l);
    }
  fw_design_free (d);
  return result;
}

/* A four-bar's rod closes all the turn from 140 - c to 60 + c, where c = 70 (Grashof's limits). */
static void
test_band_of_rod (void)
{
  FwDesign *d = four_bar (40, 100, 70, 100, 0);
  FwParam length = { FW_PARAM_ROD_LENGTH, 0, 0 };
  FwBand bands[16];
  int n = fw_bands (d, length, 40, 160, bands, 16, NULL, NULL);
  g_assert_cmpint (n, >, 0);
  assert_near (bands[0].from, 70, 120.0 / 2000);
  assert_near (bands[n - 1].to, 130, 120.0 / 2000);
  for (int i = 0; i < n; i++)
    {
      g_assert_true (i == 0 || fabs (bands[i].from - bands[i - 1].to) < 1e-9);
      g_assert_true (bands[i].trial == FW_TRIAL_FREE || bands[i].trial == FW_TRIAL_TROUBLED);
      g_assert_true (i == 0 || bands[i].trial != bands[i - 1].trial);
    }
  fw_design_free (d);
}

static void
check_bands (const FwDesign *d, FwParam param, int *inside, int *wrong)
{
  double lower, upper;
  FwBand bands[32];
  fw_param_range (d, param, &lower, &upper);
  int n = fw_bands (d, param, lower, upper, bands, 32, NULL, NULL);
  double fine = (upper - lower) / 500;
  for (int i = 0; i < n; i++)
    {
      g_assert_true (bands[i].from >= lower - 1e-9 && bands[i].to <= upper + 1e-9
                     && bands[i].from <= bands[i].to);
      g_assert_true (i == 0 || bands[i].from >= bands[i - 1].to - 1e-9);
    }
  for (int k = 0; k < 24; k++)
    {
      double value = lower + (upper - lower) * (k + 0.5) / 24;
      FwTrial expect = FW_TRIAL_OPEN;
      bool near_edge = false;
      for (int i = 0; i < n; i++)
        {
          near_edge |= fabs (value - bands[i].from) < fine || fabs (value - bands[i].to) < fine;
          if (value > bands[i].from && value < bands[i].to)
            expect = bands[i].trial;
        }
      FwTrial real = trial (d, param, value);
      g_assert_cmpint (fw_try_value (d, param, value), ==, real);
      if (near_edge)
        continue;
      bool same = expect == real || (expect == FW_TRIAL_OPEN && real == FW_TRIAL_REFUSED);
      if (!same)
        g_test_message ("number %d/%d at %g: band says %d, a turn says %d", param.kind, param.index,
                        value, expect, real);
      (*inside)++;
      *wrong += !same;
    }
}

/* Bands may pass over a stretch narrower than their samples: few values may differ. */
static void
test_bands (void)
{
  GRand *rand = g_rand_new_with_seed (92);
  int inside = 0, wrong = 0;
  FwDesign *d = build_heron ();
  check_bands (d, (FwParam){ FW_PARAM_ROD_LENGTH, 0, 0 }, &inside, &wrong);
  check_bands (d, (FwParam){ FW_PARAM_THROW_RADIUS, 1, 0 }, &inside, &wrong);
  check_bands (d, (FwParam){ FW_PARAM_THROW_PHASE, 1, 0 }, &inside, &wrong);
  check_bands (d, (FwParam){ FW_PARAM_BODY_GUIDE, 0, 1 }, &inside, &wrong);
  fw_design_free (d);
  for (int n = random_rounds (2); n > 0; n--)
    {
      d = random_design (rand, RANDOM_ANY);
      check_bands (d, (FwParam){ FW_PARAM_ROD_LENGTH, 0, 0 }, &inside, &wrong);
      check_bands (d, (FwParam){ FW_PARAM_PANEL_SWEEP, 0, 0 }, &inside, &wrong);
      fw_design_free (d);
    }
  g_rand_free (rand);
  g_test_message ("%d values, %d differ", inside, wrong);
  g_assert_cmpint (wrong, <=, inside / 50);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/remedies/an open loop is mended and nothing worse comes", test_open_loop);
  g_test_add_func ("/remedies/the smallest cut that mends is offered", test_smallest_change);
  g_test_add_func ("/remedies/a panel past its stop is mended", test_past_stop);
  g_test_add_func ("/remedies/a weak push is mended", test_weak_push);
  g_test_add_func ("/remedies/a rod that leans too far is mended", test_lean);
  g_test_add_func ("/remedies/a crank that hits its base is mended", test_crank_on_base);
  g_test_add_func ("/remedies/what hits plate or floor is mended by a higher axis", test_higher_axis);
  g_test_add_func ("/remedies/short lists hold the best", test_little_room);
  g_test_add_func ("/remedies/a body that cannot be assembled is mended by its own lengths", test_body_open);
  g_test_add_func ("/remedies/every remedy of random designs holds over a finer turn", test_random);
  g_test_add_func ("/remedies/searches stop when told", test_stops_when_told);
  g_test_add_func ("/remedies/a rod's band runs between Grashof's limits", test_band_of_rod);
  g_test_add_func ("/remedies/bands say what whole turns say", test_bands);
  g_test_add_func ("/remedies/a search stops between its trials too", test_stops_between);
  g_test_add_func ("/remedies/a band that begins or ends at the last sample is told", test_band_at_the_end);
  return g_test_run ();
}
