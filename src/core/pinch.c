/* Gaps that close while it turns. Every pair is looked at on all steps; its least gap is then found
 * exactly by solving further poses. */
#include "core/distance.h"
#include "core/hits.h"
#include "core/people.h"
#include "core/search.h"
#include "core/solve.h"

#define LEAST_TRAVEL_MM 3.0 /* our own mark: a gap that hardly moves does not catch anything */
#define FINGERTIP_MM                                                                               \
  7.0 /* EN furniture term: a squeeze point if the gap can lie between 7 and 18 mm */
#define SURE_STEPS 72

typedef struct
{
  const FwMechanism *mech;
  FwPose *pose;
  FwPart a, b;
  double plate[3], top;
  double crank; /* of the pose */
} Gap;

static FwSegment
rod_of (const Gap *g, int link)
{
  return (FwSegment){ g->pose->links[link].from.at, g->pose->links[link].to.at };
}

/* The clear pin between its two webs. */
static FwSegment
pin_of (const Gap *g, int pin)
{
  const FwPin *p = &g->mech->pins[pin];
  double half = g->mech->design->crank.throws[p->throw_index].width_mm / 2;
  FwVec3 axis = fw_crank_axis (g->mech->design->crank.runs), at = g->pose->pins[pin].at;
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
  const FwFrame *frame;
  const FwVec2 *outline;
  FwVec2 spine[2];
  int n;
  double half_thickness;
} Plate;

static Plate
plate_of (const Gap *g, int member)
{
  const FwPanel *panel = &g->mech->design->panels[g->mech->members[member].panel];
  bool drawn = panel->n_outline > 2;
  return (Plate){ .frame = &g->pose->members[member].motion.at,
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
  return (FwSegment){ fw_frame_to_world (p->frame, fw_vec3 (a.x, a.y, 0)),
                      fw_frame_to_world (p->frame, fw_vec3 (b.x, b.y, 0)) };
}

static double
segment_to_plate (FwSegment s, const Plate *p)
{
  double distance = p->outline != NULL ? fw_segment_plate_distance (s, p->frame, p->outline, p->n)
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
  return fw_plate_height_over (p->frame, points, p->n, g->plate[0] / 2, g->plate[1] / 2, g->top)
         - p->half_thickness;
}

/* Between the parts as the pose has them. */
static double
gap_now (const Gap *g)
{
  double crank_radius = g->mech->design->crank.diameter_mm / 2;
  if (g->b.kind == FW_PART_BASE)
    {
      if (g->a.kind == FW_PART_CRANK)
        return g->pose->pins[g->a.index].at.z - crank_radius - g->top;
      Plate p = plate_of (g, g->a.index);
      return over_plate (g, &p);
    }
  if (g->a.kind == FW_PART_MEMBER)
    {
      Plate p = plate_of (g, g->a.index), q = plate_of (g, g->b.index);
      return plate_to_plate (&p, &q);
    }
  bool pin = g->a.kind == FW_PART_CRANK;
  FwSegment s = pin ? pin_of (g, g->a.index) : rod_of (g, g->a.index);
  double radius = pin ? crank_radius : rod_radius (g, g->a.index);
  if (g->b.kind == FW_PART_LINK)
    return fw_segment_distance (s, rod_of (g, g->b.index)) - radius - rod_radius (g, g->b.index);
  Plate p = plate_of (g, g->b.index);
  return segment_to_plate (s, &p) - radius;
}

static double
gap_at (void *context, double crank)
{
  Gap *g = context;
  fw_pose_solve_at (g->pose, g->mech, cos (crank), sin (crank), false);
  return fw_pose_closes (g->pose, g->mech) ? gap_now (g) : NAN;
}

typedef struct
{
  FwPinch *list;
  int n, capacity, steps;
} Found;

static void
look (Gap *g, Found *f, FwPart a, FwPart b)
{
  g->a = a;
  g->b = b;
  double width = 2 * FW_PI / f->steps, least = INFINITY, widest = -INFINITY;
  int at = 0;
  for (int i = 0; i < f->steps; i++)
    {
      double gap = gap_at (g, i * width);
      widest = isfinite (gap) ? fmax (widest, gap) : widest;
      if (gap < least)
        {
          least = gap;
          at = i;
        }
    }
  bool catches = widest > FINGERTIP_MM && widest - least > LEAST_TRAVEL_MM;
  if (!catches
      || !(least < FW_FINGER_GAP_MM + LEAST_TRAVEL_MM)) /* the rest may lie between the steps */
    return;
  double crank = fw_least (gap_at, g, (at - 1) * width, at * width, (at + 1) * width, &least);
  if (!(least < FW_FINGER_GAP_MM))
    return;
  crank -= 2 * FW_PI * floor (crank / (2 * FW_PI));
  if (f->n < f->capacity)
    f->list[f->n] = (FwPinch){ a, b, fmax (least, 0), crank, widest };
  f->n++;
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
      look (g, f, rod, (FwPart){ FW_PART_LINK, k });
  for (int k = 0; k < mech->n_members; k++)
    if (link->member != k && !(link->from == FW_FROM_PANEL && link->index == k))
      look (g, f, rod, (FwPart){ FW_PART_MEMBER, k });
}

int
fw_pinches (const FwMechanism *mech, FwPose *pose, int steps, FwPinch *list, int capacity)
{
  Gap g = { .mech = mech, .pose = pose };
  Found f = { .list = list, .capacity = capacity, .steps = steps };
  fw_design_base (mech->design, g.plate, &g.top);
  bool plate = mech->design->base.plate_mm[0] > 0;
  for (int i = 0; i < mech->n_links; i++)
    look_at_rod (&g, &f, i);
  for (int i = 0; i < mech->n_members; i++)
    for (int k = i + 1; k < mech->n_members; k++)
      if (mech->members[k].parent != i && mech->members[i].parent != k)
        look (&g, &f, (FwPart){ FW_PART_MEMBER, i }, (FwPart){ FW_PART_MEMBER, k });
  for (int i = 0; i < mech->n_members && plate; i++)
    look (&g, &f, (FwPart){ FW_PART_MEMBER, i }, (FwPart){ FW_PART_BASE, 0 });
  for (int i = 0; i < mech->n_pins; i++)
    {
      if (plate && !mech->pins[i].twin)
        look (&g, &f, (FwPart){ FW_PART_CRANK, i }, (FwPart){ FW_PART_BASE, 0 });
      for (int k = 0; k < mech->n_members; k++)
        look (&g, &f, (FwPart){ FW_PART_CRANK, i }, (FwPart){ FW_PART_MEMBER, k });
    }
  return f.n;
}

void
fw_pinch_trouble_find (const FwMechanism *mech, FwPose *pose, FwTroubleList *list)
{
  FwPinch found[64];
  int n = fw_pinches (mech, pose, SURE_STEPS, found, 64);
  for (int i = 0; i < n && i < 64; i++)
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
  list->full = list->full || n > 64;
  fw_trouble_sort (list);
}
