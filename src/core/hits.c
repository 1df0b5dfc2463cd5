/* Collisions. The clearance of each pair is looked at on the kept steps of the turn (5 degrees apart
 * as a rule); where it has a low point that the parts could close within a step, the low point is
 * found exactly by solving further poses, and so are its edges. Pairs whose boxes over the whole turn
 * keep apart are not looked at. */
#include "core/hits.h"

#include "core/reach.h"
#include "core/search.h"
#include "core/solve.h"

typedef struct
{
  const FwTurn *turn;
  const FwMechanism *mech;
  FwPart a, b;
  double plate[3], top; /* of the base */
  FwNeeded needed; /* by the two; n -1: not looked up yet */
} Pair;

/* The same with the crank's cosine and sine, for what stands on it. */
typedef struct
{
  FwInstant parts;
  double cosine, sine;
} Instant;

static double
rod_radius (const Pair *p, int link)
{
  return p->mech->design->rods[p->mech->links[link].rod].diameter_mm / 2;
}

static const FwPanel *
panel_of (const Pair *p, int member)
{
  return &p->mech->design->panels[p->mech->members[member].panel];
}

/* The line from hinge to tip, for a panel whose outline is not given. */
static FwSegment
spine_at (const Pair *p, const FwFrame *f, int member)
{
  return (FwSegment) { f->origin, fw_frame_to_world (f, fw_vec3 (panel_of (p, member)->span_mm, 0, 0)) };
}

static double
rod_panel_clearance (const Pair *p, const Instant *now)
{
  const FwPanel *panel = panel_of (p, p->b.index);
  FwSegment rod = fw_instant_rod (&now->parts, p->a.index);
  FwFrame frame = fw_instant_frame (&now->parts, p->b.index);
  double distance = panel->n_outline > 2
                        ? fw_segment_plate_distance (rod, &frame, panel->outline_mm, panel->n_outline)
                        : fw_segment_distance (rod, spine_at (p, &frame, p->b.index));
  return distance - rod_radius (p, p->a.index) - panel->thickness_mm / 2;
}

/* Above the plate inside its rim, above the floor (the plate's underside) elsewhere. */
static double
panel_base_clearance (const Pair *p, const Instant *now)
{
  const FwPanel *panel = panel_of (p, p->a.index);
  FwFrame frame = fw_instant_frame (&now->parts, p->a.index);
  const FwVec2 spine[2] = { { 0, 0 }, { panel->span_mm, 0 } };
  const FwVec2 *outline = panel->n_outline > 2 ? panel->outline_mm : spine;
  int n = panel->n_outline > 2 ? panel->n_outline : 2;
  double height = INFINITY;
  if (p->b.kind == FW_PART_BASE)
    height = fw_plate_height_over (&frame, outline, n, p->plate[0] / 2, p->plate[1] / 2, p->top);
  else
    for (int i = 0; i < n; i++)
      {
        FwVec3 corner = fw_frame_to_world (&frame, fw_vec3 (outline[i].x, outline[i].y, 0));
        height = fmin (height, corner.z - (p->top - p->plate[2]));
      }
  return height - panel->thickness_mm / 2;
}

/* The crank's pins, or its handle, over plate or floor. Index: pin, or -1 for the handle, which
 * stands up at crank angle 0. */
static double
crank_clearance (const Pair *p, const Instant *now)
{
  const FwDesign *d = p->mech->design;
  double lowest = d->base.handle_mm * now->cosine, floor = p->top - p->plate[2];
  if (p->a.index >= 0)
    {
      const FwPin *pin = &p->mech->pins[p->a.index];
      lowest = pin->radius_mm * (now->cosine * pin->cos_phase - now->sine * pin->sin_phase);
      floor = p->top;
    }
  return lowest - d->crank.diameter_mm / 2 - floor;
}

static double
clearance (const Pair *p, const Instant *now)
{
  if (p->a.kind == FW_PART_CRANK)
    return crank_clearance (p, now);
  if (p->a.kind == FW_PART_MEMBER)
    return panel_base_clearance (p, now);
  if (p->b.kind == FW_PART_MEMBER)
    return rod_panel_clearance (p, now);
  double between = fw_segment_distance (fw_instant_rod (&now->parts, p->a.index), fw_instant_rod (&now->parts, p->b.index));
  return between - rod_radius (p, p->a.index) - rod_radius (p, p->b.index);
}

/* Only what is assembled can run into anything. */
static bool
stands (const Pair *p, FwPart part)
{
  const FwPose *pose = p->turn->scratch;
  if (part.kind == FW_PART_MEMBER)
    return pose->members[part.index].closure == FW_CLOSES;
  return part.kind != FW_PART_LINK || pose->members[p->mech->links[part.index].member].closure == FW_CLOSES;
}

static void
solve_needed (Pair *p, double cosine, double sine)
{
  if (p->needed.n < 0)
    p->needed = fw_needed_by (p->mech, p->a, p->b);
  fw_needed_solve (&p->needed, p->turn->scratch, p->mech, cosine, sine, false);
}

static double
clearance_at (void *context, double crank)
{
  Pair *p = context;
  Instant now = { { p->mech, NULL, p->turn->scratch }, cos (crank), sin (crank) };
  if (p->a.kind != FW_PART_CRANK)
    solve_needed (p, now.cosine, now.sine);
  return stands (p, p->a) && stands (p, p->b) ? clearance (p, &now) : NAN;
}

static bool
meets_at (void *context, double crank)
{
  return clearance_at (context, crank) < 0;
}

/* The same at a step: frames are kept where a loop is open too, but then they are no solution. */
static bool
stood (const Pair *p, FwPart part, int step)
{
  int member = part.kind == FW_PART_MEMBER ? part.index
               : part.kind == FW_PART_LINK ? p->mech->links[part.index].member
                                           : -1;
  const FwTurn *turn = p->turn;
  return member < 0 || turn->missing[(size_t)(member + 1) * (size_t)turn->steps + (size_t)step] == 0;
}

/* NaN where one of them is not assembled. */
static double
kept_clearance (const Pair *p, int k)
{
  const FwTurn *turn = p->turn;
  int step = k * turn->stride;
  if (!stood (p, p->a, step) || !stood (p, p->b, step))
    return NAN;
  double crank = 2 * FW_PI * step / turn->steps;
  Instant now = { .parts = fw_instant_kept (turn, p->mech, k) };
  if (p->a.kind == FW_PART_CRANK)
    {
      now.cosine = cos (crank);
      now.sine = sin (crank);
    }
  return clearance (p, &now);
}

static FwPart
reported (FwPart part)
{
  return part.kind == FW_PART_CRANK ? (FwPart) { FW_PART_CRANK, 0 } : part;
}

static void
report (Pair *p, FwTroubleList *list, double from, double to, double worst, double value)
{
  double start = fw_into_turn (from);
  fw_trouble_add (list, (FwTrouble) { .kind = FW_HITS,
                                      .severity = FW_FAILURE,
                                      .part = reported (p->a),
                                      .has_other = true,
                                      .other = reported (p->b),
                                      .from = start,
                                      .to = start + (to - from),
                                      .worst = fw_into_turn (worst),
                                      .value = value,
                                      .limit = 0,
                                      .unit = FW_UNIT_MM });
}

/* From where they are clear to where they meet. Beside a gap only bisection will do. */
static double
edge (Pair *p, double clear, double meeting)
{
  bool smooth = isfinite (clearance_at (p, clear)) && isfinite (clearance_at (p, meeting));
  return smooth ? fw_root (clearance_at, p, clear, meeting) : fw_edge (meets_at, p, clear, meeting);
}

/* Around a low point below zero: out to both sides until they are clear. */
static void
report_around (Pair *p, FwTroubleList *list, double worst, double value, double width)
{
  double from = worst, to = worst;
  while (to - from < 2 * FW_PI && meets_at (p, from - width))
    from -= width;
  while (to - from < 2 * FW_PI && meets_at (p, to + width))
    to += width;
  if (to - from >= 2 * FW_PI)
    {
      report (p, list, 0, 2 * FW_PI, worst, value);
      return;
    }
  report (p, list, edge (p, from - width, from), edge (p, to + width, to), worst, value);
}

/* A stretch may hold several low points. */
static bool
reported_already (const FwTroubleList *list, int first, double crank)
{
  for (int i = first; i < list->n; i++)
    {
      const FwTrouble *t = &list->items[i];
      if ((t->from <= crank && crank <= t->to) || crank + 2 * FW_PI <= t->to)
        return true;
    }
  return false;
}

static bool
is_image (const FwMechanism *mech, FwPart part)
{
  return part.kind == FW_PART_MEMBER ? mech->members[part.index].mirror_of >= 0
         : part.kind == FW_PART_LINK ? mech->links[part.index].mirror_of >= 0
                                     : false;
}

static bool
has_image (const FwMechanism *mech, FwPart part)
{
  return part.kind == FW_PART_MEMBER ? mech->members[part.index].image >= 0
         : part.kind == FW_PART_LINK ? mech->links[part.index].image >= 0
                                     : true; /* what stands in the middle, or on both sides alike */
}

/* A pair whose mirror image is looked at instead: both on the left, or the first of two opposite
 * ones; what is found is written for the other side afterwards. */
static bool
is_other_side (const Pair *p)
{
  return is_image (p->mech, p->a) && (is_image (p->mech, p->b) || has_image (p->mech, p->b));
}

/* The low point near a kept step, if the parts meet there. */
static void
report_lowest (Pair *p, FwTroubleList *list, int first, double crank, double width)
{
  double value, worst = fw_least (clearance_at, p, crank - width, crank, crank + width, &value);
  if (value < 0 && !reported_already (list, first, fw_into_turn (worst)))
    report_around (p, list, worst, value, width);
}

/* Where it is enough to know that they meet: the steps around a low point at which they do, without another pose. */
static void
report_steps (Pair *p, FwTroubleList *list, int low, int kept, double value, double width)
{
  int from = low, to = low;
  while (to - from < kept && kept_clearance (p, (from - 1 + kept) % kept) < 0)
    from--;
  while (to - from < kept && kept_clearance (p, (to + 1) % kept) < 0)
    to++;
  if (to - from >= kept)
    report (p, list, 0, 2 * FW_PI, low * width, value);
  else
    report (p, list, (from - 1) * width, (to + 1) * width, low * width, value);
}

static void
look_at (Pair *p, FwTroubleList *list)
{
  if (is_other_side (p) || list->full) /* a full list takes no more, and the search is the dearest of all */
    return;
  const FwTurn *turn = p->turn;
  p->needed.n = -1;
  int stride = turn->stride, kept = fw_turn_kept (turn);
  double width = 2 * FW_PI * stride / turn->steps;
  double before = kept_clearance (p, kept - 1), here = kept_clearance (p, 0);
  int first = list->n;
  bool all_same = true;
  for (int k = 0; k < kept; k++)
    {
      double after = kept_clearance (p, k + 1 < kept ? k + 1 : 0);
      /* Between two steps the clearance cannot fall further than it has just been falling, by much.
       * Beside a gap it falls until the gap, so the gap counts as a rise. */
      double reach = (isnan (before) ? 0 : fabs (here - before)) + (isnan (after) ? 0 : fabs (here - after));
      double crank = 2 * FW_PI * k * stride / turn->steps;
      all_same = all_same && here == before;
      bool low = !(here > before) && !(here > after) && here - reach < 0 && !(all_same && k > 0);
      if (low && !reported_already (list, first, crank))
        {
          if (turn->rough && here < 0)
            report_steps (p, list, k, kept, here, width);
          else
            report_lowest (p, list, first, crank, width);
        }
      before = here;
      here = after;
    }
}

/* Rods on one pin stand side by side; rods at one anchor meet there by design. */
static bool
share_anchor (const FwLink *a, const FwLink *b)
{
  if (a->from != b->from)
    return false;
  if (a->from == FW_FROM_THROW || a->from == FW_FROM_PANEL)
    return a->index == b->index && (a->from == FW_FROM_THROW || fw_vec3_distance (a->from_mm, b->from_mm) < 1);
  return fw_vec3_distance (a->from_mm, b->from_mm) < 1;
}

static void
look_at_rods (Pair *p, FwTroubleList *list, const FwReachBox *links, const FwReachBox *members)
{
  const FwMechanism *mech = p->mech;
  for (int i = 0; i < mech->n_links; i++)
    {
      const FwLink *link = &mech->links[i];
      p->a = (FwPart) { FW_PART_LINK, i };
      for (int j = i + 1; j < mech->n_links; j++)
        {
          if (fw_boxes_apart (&links[i], &links[j], 0) || share_anchor (link, &mech->links[j]))
            continue;
          p->b = (FwPart) { FW_PART_LINK, j };
          look_at (p, list);
        }
      for (int j = 0; j < mech->n_members; j++)
        {
          bool holds = link->member == j || (link->from == FW_FROM_PANEL && link->index == j);
          if (holds || fw_boxes_apart (&links[i], &members[j], 0))
            continue;
          p->b = (FwPart) { FW_PART_MEMBER, j };
          look_at (p, list);
        }
    }
}

static void
look_at_base (Pair *p, FwTroubleList *list, const FwReachBox *members)
{
  const FwMechanism *mech = p->mech;
  for (int i = 0; i < mech->n_pins; i++)
    {
      p->a = (FwPart) { FW_PART_CRANK, i };
      p->b = (FwPart) { FW_PART_BASE, 0 };
      if (mech->pins[i].twin == false)
        look_at (p, list);
    }
  if (mech->design->base.handle_mm > 0 && mech->n_pins > 0)
    {
      p->a = (FwPart) { FW_PART_CRANK, -1 };
      p->b = (FwPart) { FW_PART_FLOOR, 0 };
      look_at (p, list);
    }
  for (int i = 0; i < mech->n_members; i++)
    {
      p->a = (FwPart) { FW_PART_MEMBER, i };
      p->b = (FwPart) { FW_PART_BASE, 0 };
      if (members[i].low.z < p->top)
        look_at (p, list);
      p->b = (FwPart) { FW_PART_FLOOR, 0 };
      if (members[i].low.z < p->top - p->plate[2])
        look_at (p, list);
    }
}

void
fw_find_hits (const FwTurn *turn, const FwMechanism *mech, FwTroubleList *list)
{
  Pair pair = { .turn = turn, .mech = mech };
  fw_design_base (mech->design, pair.plate, &pair.top);
  const FwReachBox *links = turn->boxes, *members = turn->boxes + mech->n_links;
  fw_reach_boxes (turn, mech);
  look_at_rods (&pair, list, links, members);
  if (mech->design->base.plate_mm[0] > 0)
    look_at_base (&pair, list, members);
}
