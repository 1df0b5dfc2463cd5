/* Gaps that close while it turns. Pairs that keep apart all round, by their boxes, are passed over; the others are looked
 * at on all kept steps, and the least gap of those that come near is found exactly by solving further poses. */
#include "core/hits.h"
#include "core/people.h"
#include "core/reach.h"
#include "core/search.h"
#include "core/solve.h"

#define LEAST_TRAVEL_MM 3.0 /* our own mark: a gap that hardly moves does not catch anything */
#define FINGERTIP_MM                                                                               \
  7.0 /* EN furniture term: a squeeze point if the gap can lie between 7 and 18 mm */
#define NEAR_MM (FW_FINGER_GAP_MM + LEAST_TRAVEL_MM) /* at a step, that may be too near between the steps */

typedef struct
{
  const FwTurn *turn;
  const FwMechanism *mech;
  FwPart a, b;
  double plate[3], top;
  FwNeeded needed; /* by the two; all where the turn does not close all round */
  bool closes;     /* all round */
} Gap;

/* The parts at one crank angle, with its cosine and sine. */
typedef struct
{
  FwInstant parts;
  double cosine, sine;
} Instant;

static FwVec3
pin_at (const Gap *g, const Instant *now, int index)
{
  const FwPin *pin = &g->mech->pins[index];
  FwRuns runs = g->mech->design->crank.runs;
  double h = pin->radius_mm * (now->sine * pin->cos_phase + now->cosine * pin->sin_phase);
  double z = pin->radius_mm * (now->cosine * pin->cos_phase - now->sine * pin->sin_phase);
  FwVec3 along = fw_vec3_along (fw_vec3 (0, 0, z), pin->station_mm, fw_crank_axis (runs));
  return fw_vec3_along (along, h, fw_crank_h (runs));
}

/* The clear pin between its two webs. */
static FwSegment
pin_of (const Gap *g, const Instant *now, int pin)
{
  double half = g->mech->design->crank.throws[g->mech->pins[pin].throw_index].width_mm / 2;
  FwVec3 axis = fw_crank_axis (g->mech->design->crank.runs), at = pin_at (g, now, pin);
  return (FwSegment){ fw_vec3_along (at, -half, axis), fw_vec3_along (at, half, axis) };
}

static double
rod_radius (const Gap *g, int link)
{
  return g->mech->design->rods[g->mech->links[link].rod].diameter_mm / 2;
}

/* A panel's outline, or the line from hinge to tip where none is given. */
typedef struct
{
  FwFrame frame;
  const FwVec2 *outline;
  FwVec2 spine[2];
  int n;
  double half_thickness;
} Plate;

static Plate
plate_of (const Gap *g, const Instant *now, int member)
{
  const FwPanel *panel = &g->mech->design->panels[g->mech->members[member].panel];
  bool drawn = panel->n_outline > 2;
  return (Plate){ .frame = fw_instant_frame (&now->parts, member),
                  .outline = drawn ? panel->outline_mm : NULL,
                  .spine = { { 0, 0 }, { panel->span_mm, 0 } },
                  .n = drawn ? panel->n_outline : 2,
                  .half_thickness = panel->thickness_mm / 2 };
}

static FwSegment
edge_of (const Plate *p, int i)
{
  const FwVec2 *points = p->outline != NULL ? p->outline : p->spine;
  FwVec2 a = points[i], b = points[(i + 1) % p->n];
  return (FwSegment){ fw_frame_to_world (&p->frame, fw_vec3 (a.x, a.y, 0)),
                      fw_frame_to_world (&p->frame, fw_vec3 (b.x, b.y, 0)) };
}

static double
segment_to_plate (FwSegment s, const Plate *p)
{
  double distance = p->outline != NULL ? fw_segment_plate_distance (s, &p->frame, p->outline, p->n)
                                       : fw_segment_distance (s, edge_of (p, 0));
  return distance - p->half_thickness;
}

static double
plate_to_plate (const Plate *a, const Plate *b)
{
  double least = INFINITY;
  for (int i = 0; i < a->n; i++)
    least = fmin (least, segment_to_plate (edge_of (a, i), b) - a->half_thickness);
  for (int i = 0; i < b->n; i++)
    least = fmin (least, segment_to_plate (edge_of (b, i), a) - b->half_thickness);
  return least;
}

static double
over_plate (const Gap *g, const Plate *p)
{
  const FwVec2 *points = p->outline != NULL ? p->outline : p->spine;
  return fw_plate_height_over (&p->frame, points, p->n, g->plate[0] / 2, g->plate[1] / 2, g->top)
         - p->half_thickness;
}

/* Between the parts as they stand. */
static double
gap_now (const Gap *g, const Instant *now)
{
  double crank_radius = g->mech->design->crank.diameter_mm / 2;
  if (g->b.kind == FW_PART_BASE)
    {
      if (g->a.kind == FW_PART_CRANK)
        return pin_at (g, now, g->a.index).z - crank_radius - g->top;
      Plate p = plate_of (g, now, g->a.index);
      return over_plate (g, &p);
    }
  if (g->a.kind == FW_PART_MEMBER)
    {
      Plate p = plate_of (g, now, g->a.index), q = plate_of (g, now, g->b.index);
      return plate_to_plate (&p, &q);
    }
  bool pin = g->a.kind == FW_PART_CRANK;
  FwSegment s = pin ? pin_of (g, now, g->a.index) : fw_instant_rod (&now->parts, g->a.index);
  double radius = pin ? crank_radius : rod_radius (g, g->a.index);
  if (g->b.kind == FW_PART_LINK)
    return fw_segment_distance (s, fw_instant_rod (&now->parts, g->b.index)) - radius - rod_radius (g, g->b.index);
  Plate p = plate_of (g, now, g->b.index);
  return segment_to_plate (s, &p) - radius;
}

static bool
stands (const Gap *g, FwPart part)
{
  const FwPose *pose = g->turn->scratch;
  if (part.kind == FW_PART_LINK)
    part.index = g->mech->links[part.index].member;
  return (part.kind != FW_PART_LINK && part.kind != FW_PART_MEMBER) || pose->members[part.index].closure == FW_CLOSES;
}

static double
gap_at (void *context, double crank)
{
  Gap *g = context;
  FwPose *pose = g->turn->scratch;
  Instant now = { { g->mech, NULL, pose }, cos (crank), sin (crank) };
  fw_needed_solve (&g->needed, pose, g->mech, now.cosine, now.sine, false);
  bool closes = g->closes ? stands (g, g->a) && stands (g, g->b) : fw_pose_closes (pose, g->mech);
  return closes ? gap_now (g, &now) : NAN;
}

static bool
closed_at (const Gap *g, int step)
{
  const FwTurn *turn = g->turn;
  for (int i = 0; i <= g->mech->n_members; i++)
    if (turn->missing[(size_t)i * (size_t)turn->steps + (size_t)step] != 0)
      return false;
  return true;
}

/* At a kept step; NaN where not all is assembled. */
static double
kept_gap (const Gap *g, int k)
{
  int step = k * g->turn->stride;
  double crank = 2 * FW_PI * step / g->turn->steps;
  if (!g->closes && !closed_at (g, step))
    return NAN;
  Instant now = { .parts = fw_instant_kept (g->turn, g->mech, k) };
  if (g->a.kind == FW_PART_CRANK)
    {
      now.cosine = cos (crank);
      now.sine = sin (crank);
    }
  return gap_now (g, &now);
}

typedef struct
{
  FwPinch *list;
  int n, capacity;
} Found;

static void
look (Gap *g, Found *f, FwPart a, FwPart b)
{
  if (f->n > f->capacity)
    return;
  g->a = a;
  g->b = b;
  int steps = fw_turn_kept (g->turn), at = 0;
  double width = 2 * FW_PI * g->turn->stride / g->turn->steps, least = INFINITY, widest = -INFINITY;
  for (int i = 0; i < steps; i++)
    {
      double gap = kept_gap (g, i);
      widest = isfinite (gap) ? fmax (widest, gap) : widest;
      if (gap < least)
        {
          least = gap;
          at = i;
        }
    }
  bool catches = widest > FINGERTIP_MM && widest - least > LEAST_TRAVEL_MM;
  if (!catches || !(least < NEAR_MM)) /* the rest may lie between the steps */
    return;
  g->needed = g->closes ? fw_needed_by (g->mech, a, b) : (FwNeeded){ .all = true };
  double crank = fw_least (gap_at, g, (at - 1) * width, at * width, (at + 1) * width, &least);
  if (!(least < FW_FINGER_GAP_MM))
    return;
  crank -= 2 * FW_PI * floor (crank / (2 * FW_PI));
  if (f->n < f->capacity)
    f->list[f->n] = (FwPinch){ a, b, fmax (least, 0), crank, widest };
  f->n++;
}

static const FwReachBox *
box_of (const Gap *g, FwPart part)
{
  return &g->turn->boxes[part.kind == FW_PART_LINK ? part.index : g->mech->n_links + part.index];
}

/* Parts that keep apart all round are not looked at. */
static void
look_if_near (Gap *g, Found *f, FwPart a, FwPart b)
{
  if (!fw_boxes_apart (box_of (g, a), box_of (g, b), NEAR_MM))
    look (g, f, a, b);
}

/* What a pin sweeps: its circle, as wide as the pin is. */
static FwReachBox
sweep_of (const Gap *g, int pin)
{
  double r = g->mech->pins[pin].radius_mm + g->mech->design->crank.diameter_mm / 2;
  double along = g->mech->design->crank.throws[g->mech->pins[pin].throw_index].width_mm / 2
                 + g->mech->design->crank.diameter_mm / 2;
  FwRuns runs = g->mech->design->crank.runs;
  FwVec3 axis = fw_crank_axis (runs), middle = fw_vec3_scale (axis, g->mech->pins[pin].station_mm);
  FwVec3 half = fw_vec3_along (fw_vec3_along (fw_vec3 (0, 0, r), along, axis), r, fw_crank_h (runs));
  return (FwReachBox){ fw_vec3_sub (middle, half), fw_vec3_add (middle, half) };
}

/* Joined to each other, so that a joint and not a gap is between them. */
static bool
rods_meet (const FwLink *a, const FwLink *b)
{
  bool panel = (a->from == FW_FROM_PANEL && a->index == b->member)
               || (b->from == FW_FROM_PANEL && b->index == a->member);
  return panel
         || (a->from == b->from && (a->from == FW_FROM_THROW || a->from == FW_FROM_PANEL)
             && a->index == b->index)
         || (a->from == b->from && fw_vec3_distance (a->from_mm, b->from_mm) < 1
             && a->from != FW_FROM_THROW);
}

static void
look_at_rod (Gap *g, Found *f, int i)
{
  const FwMechanism *mech = g->mech;
  const FwLink *link = &mech->links[i];
  FwPart rod = { FW_PART_LINK, i };
  for (int k = i + 1; k < mech->n_links; k++)
    if (!rods_meet (link, &mech->links[k]))
      look_if_near (g, f, rod, (FwPart){ FW_PART_LINK, k });
  for (int k = 0; k < mech->n_members; k++)
    if (link->member != k && !(link->from == FW_FROM_PANEL && link->index == k))
      look_if_near (g, f, rod, (FwPart){ FW_PART_MEMBER, k });
}

static void
look_at_pin (Gap *g, Found *f, int i)
{
  FwReachBox sweep = sweep_of (g, i);
  FwPart pin = { FW_PART_CRANK, i };
  if (g->mech->design->base.plate_mm[0] > 0 && !g->mech->pins[i].twin)
    look (g, f, pin, (FwPart){ FW_PART_BASE, 0 });
  for (int k = 0; k < g->mech->n_members; k++)
    if (!fw_boxes_apart (&sweep, box_of (g, (FwPart){ FW_PART_MEMBER, k }), NEAR_MM))
      look (g, f, pin, (FwPart){ FW_PART_MEMBER, k });
}

int
fw_pinches (const FwTurn *turn, const FwMechanism *mech, FwPinch *list, int capacity)
{
  Gap g = { .turn = turn, .mech = mech, .closes = fw_turn_closes (turn, mech) };
  Found f = { .list = list, .capacity = capacity };
  fw_design_base (mech->design, g.plate, &g.top);
  fw_reach_boxes (turn, mech);
  for (int i = 0; i < mech->n_links; i++)
    look_at_rod (&g, &f, i);
  for (int i = 0; i < mech->n_members; i++)
    for (int k = i + 1; k < mech->n_members; k++)
      if (mech->members[k].parent != i && mech->members[i].parent != k)
        look_if_near (&g, &f, (FwPart){ FW_PART_MEMBER, i }, (FwPart){ FW_PART_MEMBER, k });
  for (int i = 0; i < mech->n_members && mech->design->base.plate_mm[0] > 0; i++)
    if (box_of (&g, (FwPart){ FW_PART_MEMBER, i })->low.z < g.top + NEAR_MM)
      look (&g, &f, (FwPart){ FW_PART_MEMBER, i }, (FwPart){ FW_PART_BASE, 0 });
  for (int i = 0; i < mech->n_pins; i++)
    look_at_pin (&g, &f, i);
  return f.n;
}

#define ROOM 64

void
fw_pinch_trouble_find (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  FwPinch found[ROOM];
  int n = fw_pinches (turn, mech, found, ROOM);
  for (int i = 0; i < n && i < ROOM; i++)
    {
      FwPart a = found[i].a;
      if (a.kind == FW_PART_CRANK)
        a.index = 0; /* one crank, whichever pin */
      fw_trouble_add (list, (FwTrouble){ .kind = FW_PINCH,
                                         .severity = FW_WARNING,
                                         .part = a,
                                         .has_other = true,
                                         .other = found[i].b,
                                         .from = found[i].crank,
                                         .to = found[i].crank,
                                         .worst = found[i].crank,
                                         .value = found[i].gap_mm,
                                         .limit = FW_FINGER_GAP_MM,
                                         .unit = FW_UNIT_MM });
    }
  list->full = list->full || n > ROOM;
  fw_trouble_sort (list);
}
