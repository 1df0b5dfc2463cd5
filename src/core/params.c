#include "core/design.h"

#include <assert.h>

#define LARGEST 1e6 /* the file format's bound on every number */

/* How one kind of number behaves: the only place that knows. */
typedef struct
{
  FwParamOwner owner;
  FwUnit unit;
  bool moves;    /* shapes the motion */
  bool positive; /* must be above 0 */
  bool not_negative;
} Kind;

static const Kind kinds[FW_N_PARAM_KINDS] = {
  [FW_PARAM_SPEED] = { FW_OWNER_CRANK, FW_UNIT_TURNS_PER_MINUTE, false, false, true },
  [FW_PARAM_CRANK_DIAMETER] = { FW_OWNER_CRANK, FW_UNIT_MM, false, true, true },
  [FW_PARAM_THROW_RADIUS] = { FW_OWNER_THROW, FW_UNIT_MM, true, false, true },
  [FW_PARAM_THROW_PHASE] = { FW_OWNER_THROW, FW_UNIT_DEG, true, false, false },
  [FW_PARAM_THROW_STATION] = { FW_OWNER_THROW, FW_UNIT_MM, true, false, false },
  [FW_PARAM_THROW_WIDTH] = { FW_OWNER_THROW, FW_UNIT_MM, false, true, true },
  [FW_PARAM_BODY_AT] = { FW_OWNER_BODY, FW_UNIT_MM, true, false, false },
  [FW_PARAM_BODY_TILT] = { FW_OWNER_BODY, FW_UNIT_DEG, true, false, false },
  [FW_PARAM_BODY_ROD] = { FW_OWNER_BODY, FW_UNIT_MM, true, true, true },
  [FW_PARAM_BODY_OFFSET] = { FW_OWNER_BODY, FW_UNIT_MM, true, false, false },
  [FW_PARAM_BODY_POST] = { FW_OWNER_BODY, FW_UNIT_MM, true, true, true },
  [FW_PARAM_BODY_GUIDE] = { FW_OWNER_BODY, FW_UNIT_MM, true, false, false },
  [FW_PARAM_BODY_PIVOT] = { FW_OWNER_BODY, FW_UNIT_MM, true, false, false },
  [FW_PARAM_BODY_LINK] = { FW_OWNER_BODY, FW_UNIT_MM, true, true, true },
  [FW_PARAM_BODY_ON] = { FW_OWNER_BODY, FW_UNIT_MM, true, true, true },
  [FW_PARAM_BODY_MASS] = { FW_OWNER_BODY, FW_UNIT_G, false, false, true },
  [FW_PARAM_BODY_CENTRE] = { FW_OWNER_BODY, FW_UNIT_MM, false, false, false },
  [FW_PARAM_BODY_GYRATION] = { FW_OWNER_BODY, FW_UNIT_MM, false, false, true },
  [FW_PARAM_PANEL_HINGE] = { FW_OWNER_PANEL, FW_UNIT_MM, true, false, false },
  [FW_PARAM_PANEL_SWEEP] = { FW_OWNER_PANEL, FW_UNIT_DEG, true, false, false },
  [FW_PARAM_PANEL_CANT] = { FW_OWNER_PANEL, FW_UNIT_DEG, true, false, false },
  [FW_PARAM_PANEL_SPAN] = { FW_OWNER_PANEL, FW_UNIT_MM, false, true, true },
  [FW_PARAM_PANEL_STOP] = { FW_OWNER_PANEL, FW_UNIT_DEG, true, false, false },
  [FW_PARAM_PANEL_THICKNESS] = { FW_OWNER_PANEL, FW_UNIT_MM, false, true, true },
  [FW_PARAM_PANEL_MASS] = { FW_OWNER_PANEL, FW_UNIT_G, false, false, true },
  [FW_PARAM_PANEL_CENTRE] = { FW_OWNER_PANEL, FW_UNIT_MM, false, false, false },
  [FW_PARAM_ROD_FROM] = { FW_OWNER_ROD, FW_UNIT_MM, true, false, false },
  [FW_PARAM_ROD_AT] = { FW_OWNER_ROD, FW_UNIT_MM, true, false, false },
  [FW_PARAM_ROD_LENGTH] = { FW_OWNER_ROD, FW_UNIT_MM, true, true, true },
  [FW_PARAM_ROD_NEAR] = { FW_OWNER_ROD, FW_UNIT_DEG, true, false, false },
  [FW_PARAM_ROD_DIAMETER] = { FW_OWNER_ROD, FW_UNIT_MM, false, true, true },
  [FW_PARAM_ROD_MASS] = { FW_OWNER_ROD, FW_UNIT_G, false, false, true },
  [FW_PARAM_ROD_LEAN_LIMIT] = { FW_OWNER_ROD, FW_UNIT_DEG, false, true, true },
  [FW_PARAM_ROD_BEND_LIMIT] = { FW_OWNER_ROD, FW_UNIT_DEG, false, true, true },
  [FW_PARAM_HANDLE] = { FW_OWNER_BASE, FW_UNIT_MM, false, false, true },
  [FW_PARAM_ROD_PLAY] = { FW_OWNER_ROD, FW_UNIT_MM, false, false, true },
  [FW_PARAM_BODY_PLAY] = { FW_OWNER_BODY, FW_UNIT_MM, false, false, true },
  [FW_PARAM_PANEL_PLAY] = { FW_OWNER_PANEL, FW_UNIT_MM, false, false, true },
  [FW_PARAM_SPRING_RATE] = { FW_OWNER_SPRING, FW_UNIT_NPMM, false, true, true },
  [FW_PARAM_SPRING_FREE] = { FW_OWNER_SPRING, FW_UNIT_MM, false, false, true },
  [FW_PARAM_SPRING_FROM] = { FW_OWNER_SPRING, FW_UNIT_MM, false, false, false },
  [FW_PARAM_SPRING_TO] = { FW_OWNER_SPRING, FW_UNIT_MM, false, false, false },
  [FW_PARAM_WEIGHT_MASS] = { FW_OWNER_WEIGHT, FW_UNIT_G, false, false, true },
  [FW_PARAM_WEIGHT_RADIUS] = { FW_OWNER_WEIGHT, FW_UNIT_MM, false, false, true },
  [FW_PARAM_WEIGHT_PHASE] = { FW_OWNER_WEIGHT, FW_UNIT_DEG, false, false, false },
  [FW_PARAM_WEIGHT_STATION] = { FW_OWNER_WEIGHT, FW_UNIT_MM, false, false, false },
  [FW_PARAM_BODY_DIAMETER] = { FW_OWNER_BODY, FW_UNIT_MM, false, true, true },
  [FW_PARAM_CRANK_WALL] = { FW_OWNER_CRANK, FW_UNIT_MM, false, false, true },
  [FW_PARAM_BODY_WALL] = { FW_OWNER_BODY, FW_UNIT_MM, false, false, true },
  [FW_PARAM_ROD_WALL] = { FW_OWNER_ROD, FW_UNIT_MM, false, false, true },
  [FW_PARAM_PANEL_AREAL] = { FW_OWNER_PANEL, FW_UNIT_GPM2, false, false, true },
  [FW_PARAM_LUMP_MASS] = { FW_OWNER_LUMP, FW_UNIT_G, false, false, true },
  [FW_PARAM_LUMP_AT] = { FW_OWNER_LUMP, FW_UNIT_MM, false, false, false },
  [FW_PARAM_PLATE] = { FW_OWNER_BASE, FW_UNIT_MM, false, true, true },
  [FW_PARAM_PLATE_TOP] = { FW_OWNER_BASE, FW_UNIT_MM, false, false, false },
  [FW_PARAM_BEARING] = { FW_OWNER_BASE, FW_UNIT_MM, false, false, false },
  [FW_PARAM_BASE_MASS] = { FW_OWNER_BASE, FW_UNIT_G, false, false, true },
  [FW_PARAM_FRICTION] = { FW_OWNER_DRIVE, FW_UNIT_NONE, false, false, true },
  [FW_PARAM_PIN_RADIUS] = { FW_OWNER_DRIVE, FW_UNIT_MM, false, true, true },
  [FW_PARAM_RESTITUTION] = { FW_OWNER_DRIVE, FW_UNIT_NONE, false, false, true },
  [FW_PARAM_MARGIN] = { FW_OWNER_DRIVE, FW_UNIT_NONE, false, true, true },
};

static double *
component (FwVec3 *v, int i)
{
  return i == 0 ? &v->x : i == 1 ? &v->y : &v->z;
}

/* ---- Where each number lives: a function for each owner ---- */

static double *
crank_field (FwCrank *crank, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_SPEED:
      return &crank->turns_per_minute;
    case FW_PARAM_CRANK_DIAMETER:
      return &crank->diameter_mm;
    default:
      assert (p.kind == FW_PARAM_CRANK_WALL);
      return &crank->wall_mm;
    }
}

static double *
throw_field (FwThrow *t, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_THROW_RADIUS:
      return &t->radius_mm;
    case FW_PARAM_THROW_PHASE:
      return &t->phase_deg;
    case FW_PARAM_THROW_STATION:
      return &t->station_mm;
    default:
      assert (p.kind == FW_PARAM_THROW_WIDTH);
      return &t->width_mm;
    }
}

static double *
weight_field (FwCrankWeight *w, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_WEIGHT_MASS:
      return &w->mass_g;
    case FW_PARAM_WEIGHT_RADIUS:
      return &w->radius_mm;
    case FW_PARAM_WEIGHT_PHASE:
      return &w->phase_deg;
    default:
      assert (p.kind == FW_PARAM_WEIGHT_STATION);
      return &w->station_mm;
    }
}

static double *
body_field (FwBody *b, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_BODY_AT:
      return component (&b->at_mm, p.component);
    case FW_PARAM_BODY_TILT:
      return &b->tilt_deg;
    case FW_PARAM_BODY_ROD:
      return &b->rod_mm;
    case FW_PARAM_BODY_OFFSET:
      return &b->offset_mm;
    case FW_PARAM_BODY_POST:
      return &b->post_mm;
    case FW_PARAM_BODY_GUIDE:
      return p.component == 0 ? &b->guide_mm.x : &b->guide_mm.y;
    case FW_PARAM_BODY_PIVOT:
      return p.component == 0 ? &b->pivot_mm.x : &b->pivot_mm.y;
    case FW_PARAM_BODY_LINK:
      return &b->link_mm;
    case FW_PARAM_BODY_ON:
      return &b->on_mm;
    case FW_PARAM_BODY_MASS:
      return &b->mass_g;
    case FW_PARAM_BODY_CENTRE:
      return component (&b->centre_mm, p.component);
    case FW_PARAM_BODY_GYRATION:
      return &b->gyration_mm;
    case FW_PARAM_BODY_DIAMETER:
      return &b->diameter_mm;
    case FW_PARAM_BODY_WALL:
      return &b->wall_mm;
    default:
      assert (p.kind == FW_PARAM_BODY_PLAY);
      return &b->play_mm;
    }
}

static double *
panel_field (FwPanel *panel, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_PANEL_HINGE:
      return component (&panel->hinge_mm, p.component);
    case FW_PARAM_PANEL_SWEEP:
      return &panel->sweep_deg;
    case FW_PARAM_PANEL_CANT:
      return &panel->cant_deg;
    case FW_PARAM_PANEL_SPAN:
      return &panel->span_mm;
    case FW_PARAM_PANEL_STOP:
      return &panel->stops_deg[p.component];
    case FW_PARAM_PANEL_THICKNESS:
      return &panel->thickness_mm;
    case FW_PARAM_PANEL_MASS:
      return &panel->mass_g;
    case FW_PARAM_PANEL_AREAL:
      return &panel->areal_gm2;
    case FW_PARAM_PANEL_CENTRE:
      return component (&panel->centre_mm, p.component);
    default:
      assert (p.kind == FW_PARAM_PANEL_PLAY);
      return &panel->play_mm;
    }
}

static double *
rod_field (FwRod *rod, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_ROD_FROM:
      return component (&rod->from.at_mm, p.component);
    case FW_PARAM_ROD_AT:
      return component (&rod->at_mm, p.component);
    case FW_PARAM_ROD_LENGTH:
      return &rod->length_mm;
    case FW_PARAM_ROD_NEAR:
      return &rod->near_deg;
    case FW_PARAM_ROD_DIAMETER:
      return &rod->diameter_mm;
    case FW_PARAM_ROD_WALL:
      return &rod->wall_mm;
    case FW_PARAM_ROD_MASS:
      return &rod->mass_g;
    case FW_PARAM_ROD_LEAN_LIMIT:
      return &rod->lean_limit_deg;
    case FW_PARAM_ROD_BEND_LIMIT:
      return &rod->bend_limit_deg;
    default:
      assert (p.kind == FW_PARAM_ROD_PLAY);
      return &rod->play_mm;
    }
}

static double *
spring_field (FwSpringPart *spring, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_SPRING_RATE:
      return &spring->rate_Npmm;
    case FW_PARAM_SPRING_FREE:
      return &spring->free_mm;
    case FW_PARAM_SPRING_FROM:
      return component (&spring->from.at_mm, p.component);
    default:
      assert (p.kind == FW_PARAM_SPRING_TO);
      return component (&spring->to.at_mm, p.component);
    }
}

static double *
base_field (FwBase *base, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_HANDLE:
      return &base->handle_mm;
    case FW_PARAM_BASE_MASS:
      return &base->mass_g;
    case FW_PARAM_PLATE:
      return &base->plate_mm[p.component];
    case FW_PARAM_PLATE_TOP:
      return &base->top_mm;
    default:
      assert (p.kind == FW_PARAM_BEARING);
      return &base->bearings_mm[p.index];
    }
}

static double *
drive_field (FwDrive *drive, FwParam p)
{
  switch (p.kind)
    {
    case FW_PARAM_FRICTION:
      return &drive->friction;
    case FW_PARAM_PIN_RADIUS:
      return &drive->pin_radius_mm;
    case FW_PARAM_RESTITUTION:
      return &drive->restitution;
    default:
      assert (p.kind == FW_PARAM_MARGIN);
      return &drive->margin;
    }
}

static double *
field (FwDesign *d, FwParam p)
{
  switch (fw_param_owner (p))
    {
    case FW_OWNER_CRANK:
      return crank_field (&d->crank, p);
    case FW_OWNER_THROW:
      return throw_field (&d->crank.throws[p.index], p);
    case FW_OWNER_WEIGHT:
      return weight_field (&d->crank.weights[p.index], p);
    case FW_OWNER_BODY:
      return body_field (&d->body, p);
    case FW_OWNER_LUMP:
      return p.kind == FW_PARAM_LUMP_MASS ? &d->body.lumps[p.index].mass_g
                                          : component (&d->body.lumps[p.index].at_mm, p.component);
    case FW_OWNER_PANEL:
      return panel_field (&d->panels[p.index], p);
    case FW_OWNER_ROD:
      return rod_field (&d->rods[p.index], p);
    case FW_OWNER_SPRING:
      return spring_field (&d->springs[p.index], p);
    case FW_OWNER_BASE:
      return base_field (&d->base, p);
    case FW_OWNER_DRIVE:
      break;
    }
  return drive_field (&d->drive, p);
}

double
fw_param_get (const FwDesign *design, FwParam param)
{
  return *field ((FwDesign *)design, param); /* only read */
}

void
fw_param_set (FwDesign *design, FwParam param, double value)
{
  *field (design, param) = value;
}

FwParamOwner
fw_param_owner (FwParam param)
{
  return kinds[param.kind].owner;
}

FwUnit
fw_param_unit (FwParam param)
{
  return kinds[param.kind].unit;
}

bool
fw_param_moves (FwParam param)
{
  return kinds[param.kind].moves;
}

bool
fw_param_equal (FwParam a, FwParam b)
{
  return a.kind == b.kind && a.index == b.index && a.component == b.component;
}

typedef struct
{
  FwParam *list;
  int n, capacity;
} Listing;

static void
add (Listing *l, FwParamKind kind, int index, int components)
{
  for (int c = 0; c < components; c++, l->n++)
    if (l->n < l->capacity)
      l->list[l->n] = (FwParam) { kind, index, c };
}

static void
add_body (Listing *l, const FwBody *body)
{
  switch (body->ride)
    {
    case FW_RIDE_FIXED:
      add (l, FW_PARAM_BODY_AT, 0, 3);
      add (l, FW_PARAM_BODY_TILT, 0, 1);
      break;
    case FW_RIDE_RAIL:
      add (l, FW_PARAM_BODY_ROD, 0, 1);
      add (l, FW_PARAM_BODY_OFFSET, 0, 1);
      break;
    case FW_RIDE_SLEEVE:
      add (l, FW_PARAM_BODY_POST, 0, 1);
      add (l, FW_PARAM_BODY_GUIDE, 0, 2);
      break;
    case FW_RIDE_ROCKER:
      add (l, FW_PARAM_BODY_POST, 0, 1);
      add (l, FW_PARAM_BODY_PIVOT, 0, 2);
      add (l, FW_PARAM_BODY_LINK, 0, 1);
      add (l, FW_PARAM_BODY_ON, 0, 1);
      break;
    }
  if (body->ride != FW_RIDE_FIXED)
    {
      add (l, FW_PARAM_BODY_DIAMETER, 0, 1);
      add (l, FW_PARAM_BODY_WALL, 0, 1);
    }
  add (l, FW_PARAM_BODY_MASS, 0, 1);
  add (l, FW_PARAM_BODY_CENTRE, 0, 3);
  add (l, FW_PARAM_BODY_GYRATION, 0, 1);
  if (body->ride != FW_RIDE_FIXED)
    add (l, FW_PARAM_BODY_PLAY, 0, 1);
  for (int i = 0; i < body->n_lumps; i++)
    {
      add (l, FW_PARAM_LUMP_MASS, i, 1);
      add (l, FW_PARAM_LUMP_AT, i, 3);
    }
}

static void
add_panel (Listing *l, const FwPanel *panel, int i)
{
  add (l, FW_PARAM_PANEL_HINGE, i, 3);
  add (l, FW_PARAM_PANEL_SWEEP, i, 1);
  add (l, FW_PARAM_PANEL_CANT, i, 1);
  add (l, FW_PARAM_PANEL_SPAN, i, 1);
  if (panel->has_stops)
    add (l, FW_PARAM_PANEL_STOP, i, 2);
  add (l, FW_PARAM_PANEL_THICKNESS, i, 1);
  if (panel->has_mass)
    add (l, FW_PARAM_PANEL_MASS, i, 1);
  else
    add (l, FW_PARAM_PANEL_AREAL, i, 1);
  add (l, FW_PARAM_PANEL_CENTRE, i, 3);
  add (l, FW_PARAM_PANEL_PLAY, i, 1);
}

static void
add_rod (Listing *l, const FwRod *rod, int i)
{
  add (l, FW_PARAM_ROD_LENGTH, i, 1);
  add (l, FW_PARAM_ROD_AT, i, 3);
  if (rod->from.kind != FW_FROM_THROW)
    add (l, FW_PARAM_ROD_FROM, i, 3);
  add (l, FW_PARAM_ROD_NEAR, i, 1);
  add (l, FW_PARAM_ROD_DIAMETER, i, 1);
  add (l, FW_PARAM_ROD_WALL, i, 1);
  add (l, FW_PARAM_ROD_MASS, i, 1);
  add (l, FW_PARAM_ROD_LEAN_LIMIT, i, 1);
  add (l, FW_PARAM_ROD_BEND_LIMIT, i, 1);
  add (l, FW_PARAM_ROD_PLAY, i, 1);
}

static void
add_base (Listing *l, const FwDesign *design)
{
  const FwBase *base = &design->base;
  add (l, FW_PARAM_HANDLE, 0, 1);
  add (l, FW_PARAM_BASE_MASS, 0, 1);
  if (base->plate_mm[0] > 0)
    {
      add (l, FW_PARAM_PLATE, 0, 3);
      add (l, FW_PARAM_PLATE_TOP, 0, 1);
    }
  for (int i = 0; i < base->n_bearings; i++)
    add (l, FW_PARAM_BEARING, i, 1);
  add (l, FW_PARAM_FRICTION, 0, 1);
  add (l, FW_PARAM_PIN_RADIUS, 0, 1);
  add (l, FW_PARAM_RESTITUTION, 0, 1);
  if (design->drive.motor)
    add (l, FW_PARAM_MARGIN, 0, 1);
}

int
fw_design_params (const FwDesign *design, FwParam *list, int capacity)
{
  Listing l = { .list = list, .capacity = capacity };
  add (&l, FW_PARAM_SPEED, 0, 1);
  add (&l, FW_PARAM_CRANK_DIAMETER, 0, 1);
  add (&l, FW_PARAM_CRANK_WALL, 0, 1);
  for (int i = 0; i < design->crank.n_throws; i++)
    {
      add (&l, FW_PARAM_THROW_RADIUS, i, 1);
      add (&l, FW_PARAM_THROW_PHASE, i, 1);
      add (&l, FW_PARAM_THROW_STATION, i, 1);
      add (&l, FW_PARAM_THROW_WIDTH, i, 1);
    }
  for (int i = 0; i < design->crank.n_weights; i++)
    {
      add (&l, FW_PARAM_WEIGHT_MASS, i, 1);
      add (&l, FW_PARAM_WEIGHT_RADIUS, i, 1);
      add (&l, FW_PARAM_WEIGHT_PHASE, i, 1);
      add (&l, FW_PARAM_WEIGHT_STATION, i, 1);
    }
  add_body (&l, &design->body);
  for (int i = 0; i < design->n_panels; i++)
    add_panel (&l, &design->panels[i], i);
  for (int i = 0; i < design->n_rods; i++)
    add_rod (&l, &design->rods[i], i);
  for (int i = 0; i < design->n_springs; i++)
    {
      add (&l, FW_PARAM_SPRING_RATE, i, 1);
      add (&l, FW_PARAM_SPRING_FREE, i, 1);
      add (&l, FW_PARAM_SPRING_FROM, i, 3);
      add (&l, FW_PARAM_SPRING_TO, i, 3);
    }
  add_base (&l, design);
  return l.n;
}

void
fw_param_limits (const FwDesign *design, FwParam param, double *lower, double *upper)
{
  const double most = nextafter (LARGEST, 0); /* "below" excludes the bound itself */
  const double least = 1e-3;                  /* "above 0", as small as anyone makes a part */
  *lower = kinds[param.kind].positive ? least : kinds[param.kind].not_negative ? 0 : -most;
  *upper = most;
  if (param.kind == FW_PARAM_ROD_LEAN_LIMIT || param.kind == FW_PARAM_ROD_BEND_LIMIT)
    *upper = 90;
  if (param.kind == FW_PARAM_RESTITUTION)
    *upper = 1;
  if (param.kind == FW_PARAM_CRANK_WALL)
    *upper = design->crank.diameter_mm / 2;
  if (param.kind == FW_PARAM_BODY_WALL)
    *upper = design->body.diameter_mm / 2;
  if (param.kind == FW_PARAM_ROD_WALL)
    *upper = design->rods[param.index].diameter_mm / 2;
  if (param.kind == FW_PARAM_PANEL_STOP)
    {
      const double *stops = design->panels[param.index].stops_deg;
      if (param.component == 0)
        *upper = stops[1] - 0.01;
      else
        *lower = stops[0] + 0.01;
    }
}

/* How far a slider goes from a value that is small where it matters, or may be 0; negative: as far as its
 * unit says. */
static double
half_range (FwParam param, double value)
{
  switch (param.kind)
    {
    case FW_PARAM_ROD_PLAY:
    case FW_PARAM_BODY_PLAY:
    case FW_PARAM_PANEL_PLAY:
      return fmax (2, value);
    case FW_PARAM_CRANK_WALL:
    case FW_PARAM_BODY_WALL:
    case FW_PARAM_ROD_WALL:
    case FW_PARAM_PIN_RADIUS:
      return fmax (5, value);
    case FW_PARAM_FRICTION:
      return fmax (0.5, value);
    case FW_PARAM_RESTITUTION:
      return 1;
    case FW_PARAM_MARGIN:
      return fmax (2, value);
    case FW_PARAM_BASE_MASS:
      return fmax (2000, value);
    case FW_PARAM_PANEL_AREAL:
      return fmax (1000, value);
    default:
      return -1;
    }
}

void
fw_param_range (const FwDesign *design, FwParam param, double *lower, double *upper)
{
  double value = fw_param_get (design, param);
  double half = half_range (param, value);
  switch (half >= 0 ? FW_N_UNITS : fw_param_unit (param))
    {
    case FW_N_UNITS:
      break;
    case FW_UNIT_DEG:
      half = param.kind == FW_PARAM_THROW_PHASE || param.kind == FW_PARAM_WEIGHT_PHASE ? 180 : 45;
      break;
    case FW_UNIT_TURNS_PER_MINUTE:
      half = fmax (60, value);
      break;
    case FW_UNIT_NPMM:
      half = value;
      break;
    default:
      half = fmax (20, 0.4 * fabs (value));
    }
  double least, most;
  fw_param_limits (design, param, &least, &most);
  *lower = fmin (fmax (value - half, least), most);
  *upper = fmax (fmin (value + half, most), least);
}
