#include "swing/contact.h"

#include <stdlib.h>
#include <string.h>

#include "core/solve.h"

#define ROUNDS 60      /* friction and the force that makes it, until they agree */
#define SWEEPS 2000
#define LEAST_INERTIA 1e-6 /* g mm^2: below this nothing can be turned */

FwContact *
fw_contact_new (FwFree *f)
{
  size_t n = (size_t)f->n + 1, touch = fw_padded (n * sizeof (FwTouch));
  size_t row = fw_padded (n * sizeof (double)), head = fw_padded (sizeof (FwContact));
  char *memory = calloc (1, head + touch + 7 * row + n * (n + 4) * sizeof (double));
  if (memory == NULL)
    return NULL;
  FwContact *c = (FwContact *)memory;
  c->free = f;
  c->touch = (FwTouch *)(memory + head);
  double **rows[] = { &c->low, &c->high, &c->pace, &c->tip_mm, &c->qdd, &c->need, &c->limit, &c->room };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    *rows[i] = (void *)(memory + head + touch + i * row);
  for (int k = 0; k < f->n; k++)
    {
      const FwMember *m = &f->mech->members[f->coordinate[k]];
      c->low[k] = m->has_stops ? m->stop_min : -INFINITY;
      c->high[k] = m->has_stops ? m->stop_max : INFINITY;
      c->tip_mm[k] = fw_free_tip_mm (f->mech, f->coordinate[k]);
    }
  return c;
}

static bool
rests (FwTouch touch)
{
  return touch >= FW_STICKS;
}

static bool
on_stop (FwTouch touch)
{
  return touch == FW_ON_LOW || touch == FW_ON_HIGH;
}

static double
sense (FwTouch touch)
{
  return touch == FW_SLIDES_UP ? 1 : touch == FW_SLIDES_DOWN ? -1 : 0;
}

static FwTouch
moving (const FwContact *c, double way)
{
  return c->friction_mm == 0 ? FW_MOVES : way > 0 ? FW_SLIDES_UP : FW_SLIDES_DOWN;
}

/* ---- Linear algebra of a few rows ---- */

/* Cholesky's factor of the masses of those that `held` does not hold; held rows are those of a unit
 * matrix. A pivot lost to rounding is kept above 0. */
static void
factor (const FwContact *c, bool (*held) (FwTouch), double *l)
{
  int n = c->free->n;
  const double *mass = c->free->mass;
  for (int i = 0; i < n; i++)
    for (int j = 0; j <= i; j++)
      {
        bool apart = held (c->touch[i]) || held (c->touch[j]);
        double sum = apart ? i == j : mass[i * n + j];
        for (int k = 0; k < j; k++)
          sum -= l[i * n + k] * l[j * n + k];
        l[i * n + j] = i != j ? sum / l[j * n + j] : sqrt (fmax (sum, 1e-14 * fmax (mass[i * n + i], 1e-12)));
      }
}

static void
solve (int n, const double *l, double *x)
{
  for (int i = 0; i < n; i++)
    {
      for (int k = 0; k < i; k++)
        x[i] -= l[i * n + k] * x[k];
      x[i] /= l[i * n + i];
    }
  for (int i = n - 1; i >= 0; i--)
    {
      for (int k = i + 1; k < n; k++)
        x[i] -= l[k * n + i] * x[k];
      x[i] /= l[i * n + i];
    }
}

static bool
inert (FwTouch touch)
{
  return touch == FW_INERT;
}

/* Column k of the inverse of the masses. */
static void
inverse_column (int n, const double *l, int k, double *column)
{
  for (int i = 0; i < n; i++)
    column[i] = i == k;
  solve (n, l, column);
}

/* ---- Friction and motion ---- */

/* The limits of friction for the second rates as they stand. Returns how far they moved, as a share. */
static double
new_limits (FwContact *c, double *size)
{
  double moved = 0;
  fw_free_hinge_forces (c->free, c->qdd, size);
  for (int k = 0; k < c->free->n; k++)
    {
      double limit = c->friction_mm * size[k];
      moved = fmax (moved, fabs (limit - c->limit[k]) / (limit + 1e-300));
      c->limit[k] = limit;
    }
  return moved;
}

bool
fw_contact_begin (FwContact *c, double crank, const double *q)
{
  FwFree *f = c->free;
  double *still = c->room;
  memset (still, 0, sizeof (double) * (size_t)f->n);
  if (!fw_free_at (f, crank, q, still))
    return false;
  double mass = 0;
  for (int p = 0; p < f->n_moving; p++)
    mass += f->inertia[p].mass_g;
  for (int k = 0; k < f->n; k++)
    {
      double inertia = f->mass[k * f->n + k];
      c->touch[k] = inertia > LEAST_INERTIA ? FW_MOVES : FW_INERT;
      /* As a pendulum as long as its radius of gyration. */
      double length = mass > 0 ? sqrt (inertia / mass) : 0;
      c->pace[k] = fmax (f->speed, length > 0 ? sqrt (1000 * FW_GRAVITY / length) : 0);
    }
  return true;
}

bool
fw_contact_accelerate (FwContact *c, double crank, const double *q, const double *qd)
{
  FwFree *f = c->free;
  int n = f->n;
  double *l = c->room, *size = l + n * n;
  if (!fw_free_at (f, crank, q, qd))
    return false;
  factor (c, rests, l);
  for (int round = 0; round < ROUNDS; round++)
    {
      for (int k = 0; k < n; k++)
        c->qdd[k] = rests (c->touch[k]) ? 0 : -f->bias[k] - sense (c->touch[k]) * c->limit[k];
      solve (n, l, c->qdd);
      if (c->friction_mm == 0 || new_limits (c, size) < 1e-13)
        break;
    }
  for (int i = 0; i < n; i++)
    {
      c->need[i] = f->bias[i];
      for (int k = 0; k < n; k++)
        c->need[i] += f->mass[i * n + k] * c->qdd[k];
    }
  return true;
}

/* The most and the least that friction and stop together give one that stands still. */
static void
reach (const FwContact *c, int k, double *least, double *most)
{
  *least = c->touch[k] == FW_ON_HIGH ? -INFINITY : -c->limit[k];
  *most = c->touch[k] == FW_ON_LOW ? INFINITY : c->limit[k];
}

/* The moments on all that stand still, each within its reach, with which each either does not move or
 * has all of its reach against it: projected Gauss-Seidel on the inverse of the masses, which is
 * positive definite, so that it converges. `given` in and out; qdd follows. */
static void
share_out (FwContact *c, const double *l, double *given, double *column)
{
  int n = c->free->n;
  for (int k = 0; k < n; k++)
    {
      double friction = -sense (c->touch[k]) * c->limit[k];
      c->qdd[k] = c->touch[k] == FW_INERT ? 0 : -c->free->bias[k] + (rests (c->touch[k]) ? given[k] : friction);
    }
  solve (n, l, c->qdd);
  for (int sweep = 0; sweep < SWEEPS; sweep++)
    {
      double moved = 0;
      for (int k = 0; k < n; k++)
        {
          if (!rests (c->touch[k]) || c->touch[k] == FW_INERT)
            continue;
          double least, most, was = given[k];
          reach (c, k, &least, &most);
          inverse_column (n, l, k, column);
          given[k] = fmin (fmax (was - c->qdd[k] / column[k], least), most);
          for (int i = 0; i < n; i++)
            c->qdd[i] += column[i] * (given[k] - was);
          moved = fmax (moved, fabs (given[k] - was) / (fabs (given[k]) + fabs (was) + 1e-300));
        }
      if (moved < 1e-14)
        return;
    }
}

bool
fw_contact_decide (FwContact *c, double crank, const double *q, const double *qd)
{
  FwFree *f = c->free;
  int n = f->n;
  double *l = c->room, *given = l + n * n, *column = given + n, *size = column + n;
  for (int k = 0; k < n; k++)
    if (c->touch[k] == FW_STICKS && c->friction_mm == 0)
      c->touch[k] = FW_MOVES; /* nothing to stick with */
  /* Limits as they are while all hold: what can hold, holds. (In free fall a hinge bears nothing and
   * rubs nothing, which would be an answer too.) */
  if (!fw_contact_accelerate (c, crank, q, qd))
    return false;
  factor (c, inert, l);
  memset (given, 0, sizeof (double) * (size_t)n);
  for (int round = 0; round < ROUNDS; round++)
    {
      share_out (c, l, given, column);
      if (c->friction_mm == 0 || new_limits (c, size) < 1e-13)
        break;
    }
  for (int k = 0; k < n; k++)
    {
      if (!rests (c->touch[k]) || c->touch[k] == FW_INERT)
        continue;
      inverse_column (n, l, k, column);
      double noise = 1e-9 * column[k] * (fabs (f->bias[k]) + fabs (given[k]) + c->limit[k]);
      if (fabs (c->qdd[k]) > noise)
        c->touch[k] = moving (c, c->qdd[k]);
    }
  return true;
}

/* ---- Blows ---- */

/* +1 where a stop pushes upward, -1 downward, 0 where there is none in touch. */
static double
stop_way (const FwContact *c, int k, const double *q)
{
  if (c->touch[k] == FW_INERT)
    return 0;
  return q[k] <= c->low[k] ? 1 : q[k] >= c->high[k] ? -1 : 0;
}

/* Moment impulses so that no panel at a stop runs on into it: the same sweep as share_out. `wanted`:
 * the outward rate that each must at least have. */
static void
share_impulses (FwContact *c, const double *l, const double *q, double *qd, const double *wanted, double *impulse,
                double *column)
{
  int n = c->free->n;
  for (int sweep = 0; sweep < SWEEPS; sweep++)
    {
      double moved = 0;
      for (int k = 0; k < n; k++)
        {
          double way = stop_way (c, k, q), was = impulse[k];
          if (way == 0)
            continue;
          inverse_column (n, l, k, column);
          double lacking = way * (wanted[k] - qd[k]) / column[k];
          impulse[k] = way * fmax (way * was + lacking, 0);
          for (int i = 0; i < n; i++)
            qd[i] += column[i] * (impulse[k] - was);
          moved = fmax (moved, fabs (impulse[k] - was) / (fabs (impulse[k]) + fabs (was) + 1e-300));
        }
      if (moved < 1e-14)
        return;
    }
}

bool
fw_contact_blow (FwContact *c, double crank, const double *q, double *qd, double *before, double *impulse,
                 double *felt)
{
  FwFree *f = c->free;
  int n = f->n;
  double *l = c->room, *wanted = l + n * n, *column = wanted + n;
  if (!fw_free_at (f, crank, q, qd))
    return false;
  factor (c, inert, l);
  for (int k = 0; k < n; k++)
    {
      bool hits = stop_way (c, k, q) * qd[k] < 0;
      before[k] = hits ? qd[k] : 0;
      wanted[k] = hits ? -c->restitution * qd[k] : 0;
      impulse[k] = 0;
      inverse_column (n, l, k, column);
      felt[k] = 1 / column[k];
    }
  share_impulses (c, l, q, qd, wanted, impulse, column);
  for (int k = 0; k < n; k++)
    {
      if (c->touch[k] == FW_INERT)
        continue;
      if (on_stop (c->touch[k]) && fabs (qd[k]) < 1e-12 * c->pace[k])
        qd[k] = 0; /* stayed where it rests */
      if (qd[k] != 0)
        c->touch[k] = moving (c, qd[k]);
      else if (stop_way (c, k, q) != 0)
        c->touch[k] = stop_way (c, k, q) > 0 ? FW_ON_LOW : FW_ON_HIGH;
      else
        c->touch[k] = FW_STICKS;
    }
  return true;
}

bool
fw_contact_calm (FwContact *c, double crank, const double *q, double *qd)
{
  if (!fw_contact_accelerate (c, crank, q, qd))
    return false;
  for (int k = 0; k < c->free->n; k++)
    {
      double way = stop_way (c, k, q), back = -way * c->qdd[k];
      if (way == 0 || rests (c->touch[k]) || way * qd[k] < 0)
        continue;
      if (back > 0 && qd[k] * qd[k] < 2 * back * FW_SWING_CALM)
        {
          qd[k] = 0;
          c->touch[k] = way > 0 ? FW_ON_LOW : FW_ON_HIGH;
        }
    }
  return true;
}
