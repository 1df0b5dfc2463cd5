/* Where pins, webs and axis come to stand, and where there is no room for them. */
#include "shop/buildinner.h"

#include <math.h>
#include <stdlib.h>

#define BESIDE_MM 2.0 /* between a fitting and a bearing: practice */
#define END_MM 15.0   /* axis beyond its outer bearing or web: practice */
#define SAME_MM 1e-6  /* two pins in line: one bar */
#define MOST_BEARINGS 64

/* ---- Pins in order ---- */

typedef struct
{
  const FwMechanism *mech;
  FwStretch *pins;
  int n;
  double bearings[MOST_BEARINGS];
  int n_bearings;
  double half;
} Row;

static int
by_station (const void *a, const void *b)
{
  const FwStretch *x = a, *y = b;
  double sx = x->clear[0] + x->clear[1], sy = y->clear[0] + y->clear[1];
  return sx != sy ? (sx > sy) - (sx < sy) : x->pin - y->pin;
}

static void
gather (Row *row, const FwMechanism *mech)
{
  row->pins = g_new0 (FwStretch, mech->n_pins);
  for (int i = 0; i < mech->n_pins; i++)
    {
      const FwPin *pin = &mech->pins[i];
      double width = fmax (mech->design->crank.throws[pin->throw_index].width_mm, 0);
      if (pin->twin && pin->station_mm == 0) /* its twin is itself */
        continue;
      row->pins[row->n++] = (FwStretch) {
        .pin = i,
        .throw_index = pin->throw_index,
        .h = pin->radius_mm * pin->sin_phase,
        .z = pin->radius_mm * pin->cos_phase,
        .clear = { pin->station_mm - width / 2, pin->station_mm + width / 2 },
      };
    }
  qsort (row->pins, (size_t)row->n, sizeof *row->pins, by_station);
  row->n_bearings = MIN (fw_design_bearings (mech->design, row->bearings, MOST_BEARINGS), MOST_BEARINGS);
}

static double
middle (const FwStretch *s)
{
  return (s->clear[0] + s->clear[1]) / 2;
}

static gboolean
apart (const FwStretch *a, const FwStretch *b)
{
  return hypot (a->h - b->h, a->z - b->z) > SAME_MM;
}

static const FwStretch axis_section = { .pin = -1, .throw_index = -1, .piece = -1 };

/* Bearings between two pins as designed. */
static int
bearings_between (const Row *row, double low, double high)
{
  int n = 0;
  for (int i = 0; i < row->n_bearings; i++)
    n += row->bearings[i] > low && row->bearings[i] < high;
  return n;
}

/* ---- Room between neighbours ---- */

typedef struct
{
  gboolean axis; /* back to the axis between them */
  double need;   /* between their clear lengths */
} Gap;

static double
from_web (const FwStretch *nut, const FwStretch *pin)
{
  double length2 = pin->h * pin->h + pin->z * pin->z;
  double along = length2 > 0 ? (nut->h * pin->h + nut->z * pin->z) / length2 : 0;
  along = fmax (0, fmin (1, along));
  return hypot (nut->h - along * pin->h, nut->z - along * pin->z);
}

/* Bolted: the nuts of two neighbouring throws stand between their webs, and may meet the other's web
 * or nut. */
static double
room_for_nuts (const FwCrankBuild *make, const FwStretch *a, const FwStretch *b)
{
  FwThread thread = fw_thread (make->bolt_mm);
  double corners = thread.across_flats_mm * 2 / sqrt (3.0), reach = (make->web_width_mm + corners) / 2;
  double nut = fw_build_nut (make);
  if (!apart (a, &axis_section) || !apart (b, &axis_section))
    return 0;
  if (hypot (a->h - b->h, a->z - b->z) < corners)
    return 2 * nut;
  return from_web (a, b) < reach || from_web (b, a) < reach ? nut : 0;
}

static Gap
gap_between (const Row *row, const FwCrankBuild *make, int i)
{
  const FwStretch *a = &row->pins[i], *b = &row->pins[i + 1];
  int n = bearings_between (row, middle (a), middle (b));
  double half = row->half;
  if (!make->returns && n == 0)
    return (Gap) { FALSE, apart (a, b) ? 2 * half : 0 };
  double webs = 2 * half * ((apart (a, &axis_section) ? 1 : 0) + (apart (b, &axis_section) ? 1 : 0));
  double between = fmax (n * make->bearing_mm, make->make == FW_MAKE_BENT     ? make->leg_mm
                                               : make->make == FW_MAKE_BOLTED ? room_for_nuts (make, a, b)
                                                                              : 0);
  return (Gap) { TRUE, webs + between };
}

/* Outer throws give way to inner ones. */
static void
give_room (Row *row, const Gap *gaps)
{
  int first = 0; /* the first that stands at 0 or beyond */
  while (first < row->n && middle (&row->pins[first]) < 0)
    first++;
  if (first > 0 && first < row->n && middle (&row->pins[first]) > 0)
    {
      double missing = gaps[first - 1].need - (row->pins[first].clear[0] - row->pins[first - 1].clear[1]);
      for (int k = 0; k < 2 && missing > 0; k++)
        {
          row->pins[first].clear[k] += missing / 2;
          row->pins[first - 1].clear[k] -= missing / 2;
        }
    }
  for (int i = MAX (first, 1); i < row->n; i++)
    {
      double missing = gaps[i - 1].need - (row->pins[i].clear[0] - row->pins[i - 1].clear[1]);
      for (int k = 0; k < 2 && missing > 0; k++)
        row->pins[i].clear[k] += missing;
    }
  for (int i = MIN (first, row->n - 1) - 1; i >= 0; i--)
    {
      double missing = gaps[i].need - (row->pins[i + 1].clear[0] - row->pins[i].clear[1]);
      for (int k = 0; k < 2 && missing > 0; k++)
        row->pins[i].clear[k] -= missing;
    }
}

static FwPart
part_of (const FwStretch *s)
{
  return (FwPart) { FW_PART_CRANK, 1 + s->throw_index };
}

/* Bolted webs only push their neighbours along the axis; elsewhere the fittings do not go in. */
static void
judge_gaps (FwBuilding *b, const Row *row, const Gap *gaps)
{
  for (int i = 0; i + 1 < row->n; i++)
    {
      const FwStretch *low = &row->pins[i], *high = &row->pins[i + 1];
      double room = high->clear[0] - low->clear[1];
      if (room >= gaps[i].need - 1e-9)
        continue;
      gboolean bolted = b->build->make.make == FW_MAKE_BOLTED;
      FwTrouble t = { .kind = FW_THROWS_COLLIDE,
                      .severity = bolted ? FW_WARNING : FW_FAILURE,
                      .part = part_of (low),
                      .has_other = true,
                      .other = part_of (high),
                      .value = room,
                      .limit = gaps[i].need };
      gboolean said = FALSE; /* of the twins on the other side */
      for (guint k = 0; k < b->troubles->len && !said; k++)
        {
          const FwTrouble *u = &g_array_index (b->troubles, FwTrouble, k);
          said = fw_part_equal (u->part, t.other) && fw_part_equal (u->other, t.part);
        }
      if (!said)
        fw_build_add_trouble (b, t);
    }
}

/* ---- Sections ---- */

static void
append (FwBuilding *b, FwStretch section)
{
  section.piece = -1;
  g_array_append_val (b->sections, section);
}

static FwStretch *
last (FwBuilding *b)
{
  return &g_array_index (b->sections, FwStretch, b->sections->len - 1);
}

/* Joins the section that stands at the end of the row to the one that follows, with a web whose middle
 * plane is at `plane`; or, where they are in line, makes the two meet there. */
static void
join (FwBuilding *b, FwStretch *next, double plane, double half)
{
  FwStretch *before = last (b);
  gboolean web = apart (before, next);
  before->web[1] = next->web[0] = web;
  before->plane[1] = next->plane[0] = plane;
  before->clear[1] = web ? plane - half : plane;
  next->clear[0] = web ? plane + half : plane;
}

static void
join_pins (FwBuilding *b, const Row *row, const Gap *gaps)
{
  double half = row->half;
  for (int i = 0; i < row->n; i++)
    {
      FwStretch pin = row->pins[i];
      double from = pin.clear[0], to = pin.clear[1];
      pin.at = (from + to) / 2;
      if (i == 0 || gaps[i - 1].axis)
        join (b, &pin, apart (last (b), &pin) ? from - half : from, half);
      else
        join (b, &pin, (row->pins[i - 1].clear[1] + from) / 2, half);
      append (b, pin);
      if (i + 1 < row->n && !gaps[i].axis)
        continue;
      FwStretch axis = axis_section;
      join (b, &axis, apart (&pin, &axis) ? to + half : to, half);
      append (b, axis);
    }
}

/* Bearings that nobody placed stand clear of what is on the axis. */
static void
place_bearings (Row *row, const FwCrankBuild *make)
{
  if (row->mech->design->base.n_bearings > 0 || row->n_bearings != 2)
    return;
  double away = 2 * row->half + make->bearing_mm / 2 + BESIDE_MM;
  row->bearings[0] = fmin (row->bearings[0], row->pins[0].clear[0] - away);
  row->bearings[1] = fmax (row->bearings[1], row->pins[row->n - 1].clear[1] + away);
}

/* Ends of the axis, from its outermost bearing and webs. */
static void
find_ends (FwBuilding *b, const Row *row)
{
  const FwCrankBuild *make = &b->build->make;
  double low = row->pins[0].clear[0] - 2 * row->half, high = row->pins[row->n - 1].clear[1] + 2 * row->half;
  for (int i = 0; i < row->n_bearings; i++)
    {
      low = fmin (low, row->bearings[i] - make->bearing_mm / 2);
      high = fmax (high, row->bearings[i] + make->bearing_mm / 2);
    }
  b->build->start_mm = low - END_MM;
  b->build->end_mm = high + END_MM;
}

static void
start_with_handle (FwBuilding *b, double half)
{
  const FwDesign *d = b->mech->design;
  double start = b->build->start_mm, handle = d->base.handle_mm;
  FwStretch axis = axis_section;
  axis.clear[0] = axis.plane[0] = start;
  if (handle > SAME_MM)
    {
      FwStretch grip = axis_section;
      double plane = start - half;
      grip.grip = TRUE;
      grip.z = handle;
      grip.clear[0] = grip.plane[0] = plane - half - b->build->make.grip_mm;
      append (b, grip);
      join (b, &axis, plane, half);
    }
  append (b, axis);
}

/* ---- What there is no room for ---- */

static void
judge_webs (FwBuilding *b)
{
  const FwCrankBuild *make = &b->build->make;
  for (guint i = 0; i + 1 < b->sections->len; i++)
    {
      const FwStretch *s = &g_array_index (b->sections, FwStretch, i), *next = s + 1;
      double centre = hypot (s->h - next->h, s->z - next->z);
      if (!s->web[1])
        continue;
      gboolean flat_below = s->pin < 0 && s->clear[1] - s->clear[0] < SAME_MM;
      gboolean flat_above = next->pin < 0 && next->clear[1] - next->clear[0] < SAME_MM;
      double least = fw_build_shortest (make, flat_below || flat_above);
      if (centre >= least - 1e-9)
        continue;
      const FwStretch *of = next->pin >= 0 ? next : s, *other = of == next ? s : next;
      FwTrouble t = { .kind = FW_THROW_TOO_SHORT, .value = centre, .limit = least };
      t.part = s->grip || next->grip ? (FwPart) { FW_PART_CRANK, 0 } : part_of (of);
      t.has_other = other->pin >= 0;
      t.other = t.has_other ? part_of (other) : (FwPart) { FW_PART_CRANK, 0 };
      gboolean said = FALSE;
      for (guint k = 0; k < b->troubles->len && !said; k++)
        {
          const FwTrouble *u = &g_array_index (b->troubles, FwTrouble, k);
          gboolean same = fw_trouble_same (u, &t)
                          || (u->kind == t.kind && t.has_other && u->has_other
                              && fw_part_equal (u->part, t.other) && fw_part_equal (u->other, t.part));
          said = same && fabs (u->limit - t.limit) < SAME_MM;
        }
      if (!said)
        fw_build_add_trouble (b, t);
    }
}

/* Length of a pin that the fittings of all that is on it take. */
static double
riders (const FwBuilding *b, int pin)
{
  const FwMechanism *mech = b->mech;
  double length = mech->body_pin == pin ? b->build->make.clamp_mm : 0;
  for (int i = 0; i < mech->n_links; i++)
    if (mech->links[i].from == FW_FROM_THROW && mech->links[i].index == pin)
      length += b->build->fittings_mm[i];
  return length;
}

static void
judge_clamps (FwBuilding *b)
{
  for (guint i = 0; i < b->sections->len; i++)
    {
      const FwStretch *s = &g_array_index (b->sections, FwStretch, i);
      if (s->pin < 0 || b->mech->pins[s->pin].twin)
        continue;
      double need = riders (b, s->pin), room = s->clear[1] - s->clear[0];
      if (room < need - 1e-9)
        fw_build_add_trouble (b, (FwTrouble) { .kind = FW_THROWS_COLLIDE, .part = part_of (s), .value = room, .limit = need });
    }
}

/* A bearing needs its width of bare axis. */
static void
judge_bearings (FwBuilding *b, const Row *row)
{
  double half = b->build->make.bearing_mm / 2;
  for (int i = 0; i < row->n_bearings; i++)
    {
      double at = row->bearings[i], best = -INFINITY;
      const FwStretch *nearest = NULL;
      for (guint k = 0; k < b->sections->len; k++)
        {
          const FwStretch *s = &g_array_index (b->sections, FwStretch, k);
          double room = fmin (at - s->clear[0], s->clear[1] - at);
          if (s->pin >= 0 || s->grip || room <= best)
            continue;
          best = room;
          nearest = s;
        }
      if (nearest == NULL || best >= half - 1e-9)
        continue;
      gboolean below = at - nearest->clear[0] < nearest->clear[1] - at;
      const FwStretch *beside = below ? nearest - 1 : nearest + 1;
      guint n = b->sections->len, where = (guint)(nearest - &g_array_index (b->sections, FwStretch, 0));
      gboolean there = below ? where > 0 : where + 1 < n;
      FwTrouble t = { .kind = FW_THROWS_COLLIDE, .has_other = true, .other = { FW_PART_BASE, 0 }, .value = best, .limit = half };
      t.part = there && beside->pin >= 0 ? part_of (beside) : (FwPart) { FW_PART_CRANK, 0 };
      gboolean said = FALSE;
      for (guint k = 0; k < b->troubles->len && !said; k++)
        said = fw_trouble_same (&g_array_index (b->troubles, FwTrouble, k), &t);
      if (!said)
        fw_build_add_trouble (b, t);
    }
}

static void
note_throws (FwBuilding *b)
{
  FwBuild *build = b->build;
  build->throws = g_new0 (FwBuiltThrow, b->mech->n_pins);
  for (guint i = 0; i < b->sections->len; i++)
    {
      const FwStretch *s = &g_array_index (b->sections, FwStretch, i);
      if (s->pin < 0)
        continue;
      gboolean flat = FALSE;
      for (int end = 0; end < 2; end++)
        {
          const FwStretch *beside = end == 0 ? s - 1 : s + 1;
          flat = flat || (s->web[end] && beside->pin < 0 && beside->clear[1] - beside->clear[0] < SAME_MM);
        }
      build->throws[build->n_throws++] = (FwBuiltThrow) {
        .pin = s->pin,
        .throw_index = s->throw_index,
        .station_mm = b->mech->pins[s->pin].station_mm,
        .built_mm = s->at,
        .clear_mm = s->clear[1] - s->clear[0],
        .shortest_mm = fw_build_shortest (&build->make, flat),
        .from_mm = s->clear[0],
        .to_mm = s->clear[1],
      };
    }
}

void
fw_build_lay_out (FwBuilding *b)
{
  const FwCrankBuild *make = &b->build->make;
  Row row = { .mech = b->mech, .half = fw_build_half (make) };
  gather (&row, b->mech);
  Gap *gaps = g_new0 (Gap, row.n);
  for (int i = 0; i + 1 < row.n; i++)
    gaps[i] = gap_between (&row, make, i);
  judge_gaps (b, &row, gaps);
  give_room (&row, gaps);
  place_bearings (&row, make);
  find_ends (b, &row);
  start_with_handle (b, row.half);
  join_pins (b, &row, gaps);
  last (b)->clear[1] = last (b)->plane[1] = b->build->end_mm;
  judge_webs (b);
  judge_clamps (b);
  judge_bearings (b, &row);
  note_throws (b);
  g_free (gaps);
  g_free (row.pins);
}
