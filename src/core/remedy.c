/* Trials: a number is changed on a copy, the whole turn is solved and its trouble listed. Remedies and
 * bands are nothing but trials in a good order. */
#include <stdlib.h>
#include <string.h>

#include "core/loadremedy.h"
#include "core/solve.h"

#define QUICK_STEPS 72
#define SURE_STEPS 360

/* A design being tried. */
typedef struct
{
  FwDesign *design;
  FwMechanism *mech;
  FwTurn *turn;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Trial;

static void
trial_clear (Trial *t)
{
  fw_mechanism_free (t->mech);
  free (t->turn);
  t->mech = NULL;
  t->turn = NULL;
}

/* Solves the design as it stands. False: it cannot be built. */
static bool
trial_run (Trial *t, int steps)
{
  trial_clear (t);
  t->list = (FwTroubleList) { .items = t->room, .capacity = FW_TROUBLE_ROOM };
  if (fw_mechanism_build (t->design, &t->mech, NULL) != FW_OK)
    return false;
  t->turn = fw_turn_new (t->mech, steps);
  if (t->turn == NULL)
    return false;
  t->turn->rough = true;
  fw_turn_solve (t->turn, t->mech);
  fw_trouble_find (t->turn, t->mech, &t->list);
  return true;
}

static bool
trial_open (Trial *t, const FwDesign *design)
{
  *t = (Trial) { .design = fw_design_copy (design) };
  return t->design != NULL;
}

static void
trial_close (Trial *t)
{
  trial_clear (t);
  fw_design_free (t->design);
}

static bool
has_kind (const FwTroubleList *list, FwTroubleKind kind)
{
  for (int i = 0; i < list->n; i++)
    if (list->items[i].kind == kind)
      return true;
  return false;
}

static FwTrial
verdict (const FwTroubleList *list)
{
  if (has_kind (list, FW_CANNOT_CLOSE))
    return FW_TRIAL_OPEN;
  for (int i = 0; i < list->n; i++)
    if (list->items[i].severity >= FW_WARNING)
      return FW_TRIAL_TROUBLED;
  return FW_TRIAL_FREE;
}

static FwTrial
try_on (Trial *t, FwParam param, double value, int steps)
{
  double kept = fw_param_get (t->design, param);
  fw_param_set (t->design, param, value);
  FwTrial result = trial_run (t, steps) ? verdict (&t->list) : FW_TRIAL_REFUSED;
  fw_param_set (t->design, param, kept);
  return result;
}

FwTrial
fw_try_value (const FwDesign *design, FwParam param, double value)
{
  Trial *t = malloc (sizeof *t);
  if (t == NULL || !trial_open (t, design))
    {
      free (t);
      return FW_TRIAL_REFUSED;
    }
  FwTrial result = try_on (t, param, value, SURE_STEPS);
  trial_close (t);
  free (t);
  return result;
}

/* ---- Bands ---- */

static double
band_edge (Trial *t, FwParam param, double a, FwTrial of_a, double b, double fineness)
{
  while (fabs (b - a) > fineness)
    {
      double middle = (a + b) / 2;
      *(try_on (t, param, middle, QUICK_STEPS) == of_a ? &a : &b) = middle;
    }
  return (a + b) / 2;
}

int
fw_bands (const FwDesign *design, FwParam param, double lower, double upper, FwBand *bands, int capacity,
          FwStop stop, void *stop_data)
{
  const int samples = 48;
  Trial *t = malloc (sizeof *t);
  if (t == NULL || !trial_open (t, design))
    {
      free (t);
      return 0;
    }
  double step = (upper - lower) / samples, fineness = (upper - lower) / 2000;
  FwTrial before = try_on (t, param, lower, QUICK_STEPS);
  double from = lower;
  int n = 0;
  for (int i = 1; i <= samples && n < capacity; i++)
    {
      if (stop != NULL && stop (stop_data))
        break;
      double value = lower + i * step;
      FwTrial here = try_on (t, param, value, QUICK_STEPS);
      if (here == before && i < samples)
        continue;
      double edge = here == before ? value : band_edge (t, param, value - step, before, value, fineness);
      if (before >= FW_TRIAL_TROUBLED)
        bands[n++] = (FwBand) { from, edge, before };
      if (here != before && i == samples && here >= FW_TRIAL_TROUBLED && n < capacity)
        bands[n++] = (FwBand) { edge, value, here };
      from = edge;
      before = here;
    }
  trial_close (t);
  free (t);
  return n;
}

/* ---- Remedies ---- */

typedef struct
{
  Trial *trial;
  const FwTroubleList *known; /* of the design as it is */
  const FwMechanism *mech;
  FwTrouble trouble; /* to be mended */
  FwStop stop;
  void *stop_data;
} Mending;

/* The design's own index of the part, so that twins count as one. */
static FwPart
design_part (const FwMechanism *mech, FwPart part)
{
  if (part.kind == FW_PART_MEMBER)
    return (FwPart) { part.kind, mech->members[part.index].panel };
  if (part.kind == FW_PART_LINK)
    return (FwPart) { part.kind, mech->links[part.index].rod };
  return part;
}

/* The same kind of trouble on the same part or its twin. */
static bool
same_or_twin (const FwMechanism *mech_a, const FwTrouble *a, const FwMechanism *mech_b, const FwTrouble *b)
{
  if (a->kind != b->kind || !fw_part_equal (design_part (mech_a, a->part), design_part (mech_b, b->part)))
    return false;
  if (a->has_other && !fw_part_equal (design_part (mech_a, a->other), design_part (mech_b, b->other)))
    return false;
  return true;
}

bool
fw_trouble_twins (const FwMechanism *mech, const FwTrouble *a, const FwTrouble *b)
{
  return same_or_twin (mech, a, mech, b);
}

static bool
known_before (const Mending *m, const FwTrouble *t)
{
  for (int i = 0; i < m->known->n; i++)
    {
      const FwTrouble *k = &m->known->items[i];
      if (same_or_twin (m->trial->mech, t, m->mech, k) && k->severity >= t->severity)
        return true;
    }
  return false;
}

static bool
mended (const Mending *m)
{
  const Trial *t = m->trial;
  for (int i = 0; i < t->list.n; i++)
    {
      const FwTrouble *now = &t->list.items[i];
      if (same_or_twin (t->mech, now, m->mech, &m->trouble))
        return false;
      if (now->severity >= m->trouble.severity && !known_before (m, now))
        return false;
    }
  return true;
}

static bool
mends (Mending *m, FwParam param, double value, int steps)
{
  Trial *t = m->trial;
  double lower, upper;
  fw_param_limits (t->design, param, &lower, &upper);
  if (value < lower || value > upper || (m->stop != NULL && m->stop (m->stop_data)))
    return false;
  return try_on (t, param, value, steps) != FW_TRIAL_REFUSED && mended (m);
}

/* Smallest change in one direction, rounded to what can be cut. */
static bool
smallest_change (Mending *m, FwParam param, double direction, double most, FwRemedy *out)
{
  double value = fw_param_get (m->trial->design, param);
  double failed = 0, good = 0;
  for (double change = 0.5; failed < most; change = fmin (change * 1.35, most))
    {
      if (mends (m, param, value + direction * change, QUICK_STEPS))
        {
          good = change;
          break;
        }
      failed = change;
    }
  if (good == 0)
    return false;
  for (int i = 0; i < 8 && good - failed > 0.05; i++)
    {
      double middle = (good + failed) / 2;
      *(mends (m, param, value + direction * middle, QUICK_STEPS) ? &good : &failed) = middle;
    }
  /* Whole and half millimetres or degrees first, then tenths, away from trouble. */
  const double grid[3] = { 1, 0.5, 0.1 };
  for (int i = 0; i < 3; i++)
    for (int further = 0; further < 2; further++)
      {
        double aim = (value + direction * good) / grid[i];
        double rounded = (direction > 0 ? ceil (aim - 1e-9) : floor (aim + 1e-9)) * grid[i];
        rounded += direction * further * grid[i];
        bool near = fabs (rounded - value) <= 1.25 * good + 0.5;
        if (near && mends (m, param, rounded, SURE_STEPS))
          {
            *out = (FwRemedy) { param, value, rounded };
            return true;
          }
      }
  return false;
}

/* ---- Which numbers to try: those of the parts in the loop at fault, then of what carries them ---- */

typedef struct
{
  FwParam list[96];
  int n;
} Candidates;

static void
candidate (Candidates *c, FwParamKind kind, int index, int component)
{
  FwParam p = { kind, index, component };
  for (int i = 0; i < c->n; i++)
    if (fw_param_equal (c->list[i], p))
      return;
  if (c->n < 96)
    c->list[c->n++] = p;
}

static void
throw_candidates (Candidates *c, int index)
{
  candidate (c, FW_PARAM_THROW_RADIUS, index, 0);
  candidate (c, FW_PARAM_THROW_PHASE, index, 0);
  candidate (c, FW_PARAM_THROW_STATION, index, 0);
}

static void
body_candidates (Candidates *c, const FwDesign *d)
{
  const FwBody *b = &d->body;
  if (b->ride != FW_RIDE_FIXED)
    throw_candidates (c, b->throw_index);
  switch (b->ride)
    {
    case FW_RIDE_FIXED:
      candidate (c, FW_PARAM_BODY_AT, 0, 2);
      break;
    case FW_RIDE_RAIL:
      candidate (c, FW_PARAM_BODY_ROD, 0, 0);
      candidate (c, FW_PARAM_BODY_OFFSET, 0, 0);
      break;
    case FW_RIDE_SLEEVE:
      candidate (c, FW_PARAM_BODY_POST, 0, 0);
      candidate (c, FW_PARAM_BODY_GUIDE, 0, 0);
      candidate (c, FW_PARAM_BODY_GUIDE, 0, 1);
      break;
    case FW_RIDE_ROCKER:
      candidate (c, FW_PARAM_BODY_POST, 0, 0);
      candidate (c, FW_PARAM_BODY_LINK, 0, 0);
      candidate (c, FW_PARAM_BODY_ON, 0, 0);
      candidate (c, FW_PARAM_BODY_PIVOT, 0, 0);
      candidate (c, FW_PARAM_BODY_PIVOT, 0, 1);
      break;
    }
}

static void
rod_candidates (Candidates *c, const FwDesign *d, int index)
{
  const FwRod *rod = &d->rods[index];
  candidate (c, FW_PARAM_ROD_LENGTH, index, 0);
  candidate (c, FW_PARAM_ROD_AT, index, 0);
  candidate (c, FW_PARAM_ROD_AT, index, 1);
  candidate (c, FW_PARAM_ROD_AT, index, 2);
  if (rod->from.kind == FW_FROM_THROW)
    throw_candidates (c, rod->from.index);
  else
    for (int k = 0; k < 3; k++)
      candidate (c, FW_PARAM_ROD_FROM, index, k);
}

static int
rod_of_panel (const FwDesign *d, int panel)
{
  for (int i = 0; i < d->n_rods; i++)
    if (d->rods[i].panel == panel)
      return i;
  return -1;
}

static void
panel_candidates (Candidates *c, const FwDesign *d, int panel)
{
  if (d->panels[panel].has_stops)
    {
      candidate (c, FW_PARAM_PANEL_STOP, panel, 0);
      candidate (c, FW_PARAM_PANEL_STOP, panel, 1);
    }
  int rod = rod_of_panel (d, panel);
  if (rod >= 0)
    rod_candidates (c, d, rod);
  for (int k = 0; k < 3; k++)
    candidate (c, FW_PARAM_PANEL_HINGE, panel, k);
  int parent = d->panels[panel].on;
  int carrier = parent == FW_ON_BODY ? -1 : rod_of_panel (d, parent);
  if (carrier >= 0)
    rod_candidates (c, d, carrier);
}

static void
part_candidates (Candidates *c, const FwMechanism *mech, FwPart part)
{
  const FwDesign *d = mech->design;
  if (part.kind == FW_PART_MEMBER)
    panel_candidates (c, d, mech->members[part.index].panel);
  else if (part.kind == FW_PART_LINK)
    {
      rod_candidates (c, d, mech->links[part.index].rod);
      panel_candidates (c, d, mech->members[mech->links[part.index].member].panel);
    }
  else if (part.kind == FW_PART_BODY)
    body_candidates (c, d);
  else if (part.kind == FW_PART_CRANK)
    {
      for (int i = 0; i < d->crank.n_throws; i++)
        candidate (c, FW_PARAM_THROW_RADIUS, i, 0);
      candidate (c, FW_PARAM_HANDLE, 0, 0);
    }
  else if ((part.kind == FW_PART_BASE || part.kind == FW_PART_FLOOR) && d->base.plate_mm[0] > 0)
    {
      candidate (c, FW_PARAM_PLATE_TOP, 0, 0); /* a lower plate is a higher axis */
      for (int k = 0; k < 3; k++)
        candidate (c, FW_PARAM_PLATE, 0, k);
    }
}

/* Size of the design, for comparing millimetres with degrees. */
static double
design_size (const FwDesign *d)
{
  double size = 0;
  for (int i = 0; i < d->n_rods; i++)
    size = fmax (size, d->rods[i].length_mm);
  for (int i = 0; i < d->n_panels; i++)
    size = fmax (size, d->panels[i].span_mm);
  return size > 0 ? size : 100;
}

static double
effort (const FwRemedy *r, double size)
{
  double change = fabs (r->to - r->from);
  return fw_param_unit (r->param) == FW_UNIT_DEG ? change / 90 : change / size;
}

static int
keep_best (FwRemedy *list, int n, int capacity, FwRemedy remedy, double size)
{
  int k = n < capacity ? n : capacity;
  for (; k > 0 && effort (&list[k - 1], size) > effort (&remedy, size); k--)
    if (k < capacity)
      list[k] = list[k - 1];
  if (k < capacity)
    list[k] = remedy;
  return n < capacity ? n + 1 : n;
}

static int
search (Mending *m, FwRemedy *list, int capacity)
{
  const FwDesign *d = m->trial->design;
  double size = design_size (d);
  Candidates c = { .n = 0 };
  part_candidates (&c, m->mech, m->trouble.part);
  if (m->trouble.has_other)
    part_candidates (&c, m->mech, m->trouble.other);
  body_candidates (&c, d);
  int n = 0;
  for (int i = 0; i < c.n; i++)
    for (double direction = -1; direction <= 1; direction += 2)
      {
        if (m->stop != NULL && m->stop (m->stop_data))
          return n;
        FwRemedy remedy;
        double most = fw_param_unit (c.list[i]) == FW_UNIT_DEG ? 60 : 0.25 * size;
        if (n == capacity) /* no need to look beyond the worst that is kept */
          most = fmin (most, effort (&list[n - 1], size) * (fw_param_unit (c.list[i]) == FW_UNIT_DEG ? 90 : size));
        if (smallest_change (m, c.list[i], direction, most, &remedy))
          n = keep_best (list, n, capacity, remedy, size);
      }
  return n;
}

int
fw_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity, FwStop stop, void *stop_data)
{
  if (trouble->kind >= FW_LOAD_REVERSAL)
    return fw_load_remedies (design, trouble, list, capacity, stop, stop_data);
  Trial *now = malloc (sizeof *now), *trial = malloc (sizeof *trial);
  int n = 0;
  bool opened = now != NULL && trial != NULL;
  if (opened)
    {
      bool both = trial_open (now, design);
      both = trial_open (trial, design) && both;
      if (both && trial_run (now, SURE_STEPS))
        {
          Mending m = { .trial = trial,
                        .known = &now->list,
                        .mech = now->mech,
                        .trouble = *trouble,
                        .stop = stop,
                        .stop_data = stop_data };
          n = search (&m, list, capacity);
        }
      trial_close (now);
      trial_close (trial);
    }
  free (now);
  free (trial);
  return n;
}
