/* SUNDIALS' CVODE (Adams' formulas, fixed-point iteration, root finding) between events; at each event
 * the state is mended and the integration begins anew. */
#include "swing/march.h"

#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdlib.h>
#include <string.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#include "core/solve.h"

#define RELATIVE 1e-9
#define ABSOLUTE 1e-10     /* rad; rates times pace */
#define MOST_STEPS 400000  /* of the integrator, in all */
#define MOST_EVENTS 60000
#define MOST_BETWEEN 20000 /* steps from one row to the next */
#define LOOKS_PER_TURN 72  /* steps at least in a turn */
#define AT_STOP 1e-9     /* rad: so near is on it, since the rest pose's angle went through sine and cosine */
#define ASK_EVERY 256
#define PER_COORDINATE 3   /* roots: lower stop, upper stop, rate or hold */

typedef struct
{
  FwMarch *m;
  SUNContext context;
  N_Vector y, absolute, row;
  SUNNonlinearSolver solver;
  void *cvode;
  int *roots;                       /* [3 n] */
  double *before, *impulse, *felt;  /* [n] */
  double turn_s;                    /* time of a turn */
  bool open;                        /* something could not be assembled */
  long steps, events, since_row;
} Walk;

static double
crank_at (const Walk *w, double t)
{
  return fw_into_turn (t * w->m->free->speed);
}

static int
slope (double t, N_Vector y, N_Vector dy, void *data)
{
  Walk *w = data;
  int n = w->m->free->n;
  const double *q = N_VGetArrayPointer (y);
  double *out = N_VGetArrayPointer (dy);
  w->m->swing->looks++;
  if (!fw_contact_accelerate (w->m->contact, crank_at (w, t), q, q + n))
    {
      w->open = true;
      return 1; /* a shorter step may do */
    }
  memcpy (out, q + n, sizeof (double) * (size_t)n);
  memcpy (out + n, w->m->contact->qdd, sizeof (double) * (size_t)n);
  return 0;
}

/* Above 0 as long as what holds or rubs a coordinate goes on as it does. */
static double
hold_root (const FwContact *c, int k, const double *qd)
{
  switch (c->touch[k])
    {
    case FW_SLIDES_UP:
      return qd[k];
    case FW_SLIDES_DOWN:
      return -qd[k];
    case FW_STICKS:
      return c->limit[k] - fabs (c->need[k]);
    case FW_ON_LOW:
      return c->limit[k] + c->need[k];
    case FW_ON_HIGH:
      return c->limit[k] - c->need[k];
    default:
      return 1;
    }
}

static bool
is_held (FwTouch touch)
{
  return touch == FW_STICKS || touch == FW_ON_LOW || touch == FW_ON_HIGH;
}

static bool
moves (FwTouch touch)
{
  return touch <= FW_SLIDES_DOWN;
}

static bool
any_held (const FwContact *c)
{
  for (int k = 0; k < c->free->n; k++)
    if (is_held (c->touch[k]))
      return true;
  return false;
}

static int
find_roots (double t, N_Vector y, double *g, void *data)
{
  Walk *w = data;
  const FwContact *c = w->m->contact;
  int n = c->free->n;
  const double *q = N_VGetArrayPointer (y);
  bool known = true;
  if (any_held (c))
    {
      w->m->swing->looks++;
      known = fw_contact_accelerate (w->m->contact, crank_at (w, t), q, q + n);
    }
  for (int k = 0; k < n; k++)
    {
      bool free = moves (c->touch[k]);
      g[3 * k] = free && isfinite (c->low[k]) ? q[k] - c->low[k] : 1;
      g[3 * k + 1] = free && isfinite (c->high[k]) ? c->high[k] - q[k] : 1;
      g[3 * k + 2] = known ? hold_root (c, k, q + n) : 1;
    }
  return 0;
}

/* ---- Events ---- */

/* What the root finder may have missed because it began on the wrong side of nothing by rounding. */
static bool
overrun (Walk *w, double t, const double *y)
{
  const FwContact *c = w->m->contact;
  int n = c->free->n;
  bool found = false, known = true;
  if (any_held (c))
    {
      w->m->swing->looks++;
      known = fw_contact_accelerate (w->m->contact, crank_at (w, t), y, y + n);
    }
  for (int k = 0; k < n; k++)
    {
      double unit = is_held (c->touch[k]) ? c->free->mass[k * n + k] * c->pace[k] * c->pace[k] : c->pace[k];
      w->roots[3 * k] = moves (c->touch[k]) && y[k] < c->low[k] - 1e-8;
      w->roots[3 * k + 1] = moves (c->touch[k]) && y[k] > c->high[k] + 1e-8;
      w->roots[3 * k + 2] = known && hold_root (c, k, y + n) < -1e-8 * unit;
      found = found || w->roots[3 * k] || w->roots[3 * k + 1] || w->roots[3 * k + 2];
    }
  return found;
}

static void
note_blows (Walk *w, double t)
{
  FwMarch *m = w->m;
  const FwContact *c = m->contact;
  for (int k = 0; k < c->free->n; k++)
    {
      if (w->before[k] == 0)
        continue;
      if (m->n_blows == FW_SWING_BLOWS)
        {
          m->blows_full = true;
          return;
        }
      double tip = c->tip_mm[k] / 1000, turning = fabs (w->impulse[k]) * FW_SWING_NM;
      m->blows[m->n_blows++] = (FwSwingBlow) { .member = c->free->coordinate[k],
                                               .high = w->before[k] > 0,
                                               .turn = (int)(t / w->turn_s),
                                               .crank = crank_at (w, t),
                                               .speed_mps = fabs (w->before[k]) * tip,
                                               .energy_J = w->felt[k] * w->before[k] * w->before[k] / 2 * FW_SWING_NM,
                                               .impulse_Ns = tip > 0 ? turning / tip : 0,
                                               .turning_Nms = turning };
    }
}

/* What held gives way: it starts the way it is drawn. */
static void
let_go (FwContact *c, int k)
{
  double way = c->touch[k] == FW_ON_LOW ? 1 : c->touch[k] == FW_ON_HIGH ? -1 : -c->need[k];
  c->touch[k] = c->friction_mm == 0 ? FW_MOVES : way > 0 ? FW_SLIDES_UP : FW_SLIDES_DOWN;
}

static bool
mend (Walk *w, double t, double *y)
{
  FwContact *c = w->m->contact;
  int n = c->free->n;
  double crank = crank_at (w, t), *qd = y + n;
  bool blow = false;
  w->events++;
  if (!fw_contact_accelerate (c, crank, y, qd))
    return false;
  for (int k = 0; k < n; k++)
    {
      if (w->roots[3 * k + 2] && is_held (c->touch[k]))
        let_go (c, k);
      else if (w->roots[3 * k + 2])
        {
          qd[k] = 0;
          c->touch[k] = FW_STICKS;
        }
      if (!w->roots[3 * k] && !w->roots[3 * k + 1])
        continue;
      y[k] = w->roots[3 * k] ? c->low[k] : c->high[k];
      blow = blow || (w->roots[3 * k] ? qd[k] < 0 : qd[k] > 0);
      if (qd[k] == 0)
        c->touch[k] = w->roots[3 * k] ? FW_ON_LOW : FW_ON_HIGH;
    }
  if (blow)
    {
      if (!fw_contact_blow (c, crank, y, qd, w->before, w->impulse, w->felt))
        return false;
      note_blows (w, t);
    }
  return fw_contact_calm (c, crank, y, qd) && fw_contact_decide (c, crank, y, qd);
}

/* ---- Rows, and whether they come back ---- */

static double *
row_at (const FwMarch *m, long step)
{
  long kept = (long)FW_SWING_KEPT * m->swing->steps + 1;
  return m->rows + (size_t)(step % kept) * (size_t)(2 * m->free->n);
}

const double *
fw_march_row (const FwMarch *m, long step)
{
  return row_at (m, step);
}

/* How far apart two rows are: angles, and rates over the pace. */
static double
apart (const FwMarch *m, long a, long b)
{
  int n = m->free->n;
  const double *p = row_at (m, a), *q = row_at (m, b);
  double most = 0;
  for (int k = 0; k < n; k++)
    most = fmax (most, fmax (fabs (p[k] - q[k]), fabs (p[n + k] - q[n + k]) / m->contact->pace[k]));
  return most;
}

/* It has come back after p turns if what is still to come, judged by how fast the changes shrink, is
 * within the tolerance: a slow decay is not taken for rest. */
static bool
comes_back (const FwMarch *m, int p)
{
  long steps = m->swing->steps, now = (long)m->turns * steps, back = (long)p * steps;
  if (p > m->turns)
    return false;
  double last = apart (m, now, now - back);
  if (last > m->swing->tolerance)
    return false;
  if (last < 1e-3 * m->swing->tolerance)
    return true;
  if (2 * p > m->turns || 2 * p > FW_SWING_KEPT)
    return false;
  double first = apart (m, now - back, now - 2 * back);
  return last < first && last * last <= m->swing->tolerance * (first - last);
}

/* Blows of turns that are no longer kept make room. */
static void
forget_old_blows (FwMarch *m)
{
  int n = 0;
  for (int i = 0; i < m->n_blows; i++)
    if (m->blows[i].turn >= m->turns - FW_SWING_KEPT)
      m->blows[n++] = m->blows[i];
  m->n_blows = n;
}

/* A turn is full. True: no further. */
static bool
turn_done (FwMarch *m)
{
  m->turns++;
  for (int p = 1; p <= FW_SWING_KEPT; p++)
    if (comes_back (m, p))
      {
        m->fate = FW_FATE_REPEATS;
        m->period = p;
        return true;
      }
  if (m->turns >= m->swing->most_turns)
    {
      m->fate = FW_FATE_UNSETTLED;
      m->period = m->turns < FW_SWING_KEPT ? m->turns : FW_SWING_KEPT;
      return true;
    }
  forget_old_blows (m);
  return false;
}

/* Rows up to time t, by the integrator's own interpolation. True: no further. */
static bool
keep_rows (Walk *w, double t)
{
  FwMarch *m = w->m;
  size_t bytes = sizeof (double) * (size_t)(2 * m->free->n);
  double dt = w->turn_s / m->swing->steps;
  for (; (double)m->n_rows * dt <= t; )
    {
      N_Vector from = CVodeGetDky (w->cvode, (double)m->n_rows * dt, 0, w->row) == CV_SUCCESS ? w->row : w->y;
      memcpy (row_at (m, m->n_rows), N_VGetArrayPointer (from), bytes);
      m->n_rows++;
      w->since_row = 0;
      if ((m->n_rows - 1) % m->swing->steps == 0 && turn_done (m))
        return true;
    }
  return false;
}

/* ---- The walk ---- */

static void
say_nothing (int code, const char *module, const char *function, char *message, void *data)
{
}

static bool
walk_open (Walk *w, double *state)
{
  int n = w->m->free->n;
  size_t count = (size_t)n + 1;
  w->roots = calloc (PER_COORDINATE * count, sizeof *w->roots);
  w->before = calloc (3 * count, sizeof *w->before);
  if (w->roots == NULL || w->before == NULL || SUNContext_Create (NULL, &w->context) != 0)
    return false;
  w->impulse = w->before + count;
  w->felt = w->impulse + count;
  w->y = N_VNew_Serial (2 * n, w->context);
  w->absolute = w->y == NULL ? NULL : N_VClone (w->y);
  w->row = w->y == NULL ? NULL : N_VClone (w->y);
  w->cvode = CVodeCreate (CV_ADAMS, w->context);
  if (w->absolute == NULL || w->row == NULL || w->cvode == NULL)
    return false;
  w->solver = SUNNonlinSol_FixedPoint (w->y, 0, w->context);
  if (w->solver == NULL)
    return false;
  double *y = N_VGetArrayPointer (w->y), *absolute = N_VGetArrayPointer (w->absolute);
  memcpy (y, state, sizeof (double) * 2 * (size_t)n);
  for (int k = 0; k < n; k++)
    {
      absolute[k] = ABSOLUTE;
      absolute[n + k] = ABSOLUTE * w->m->contact->pace[k];
    }
  void *cvode = w->cvode;
  for (int i = 0; i < 3 * n; i++)
    w->roots[i] = -1; /* only falling through 0 counts */
  return CVodeSetErrHandlerFn (cvode, say_nothing, NULL) == 0 && CVodeInit (cvode, slope, 0, w->y) == 0
         && CVodeSVtolerances (cvode, RELATIVE, w->absolute) == 0 && CVodeSetUserData (cvode, w) == 0
         && CVodeSetNonlinearSolver (cvode, w->solver) == 0 && CVodeRootInit (cvode, 3 * n, find_roots) == 0
         && CVodeSetRootDirection (cvode, w->roots) == 0 && CVodeSetNoInactiveRootWarn (cvode) == 0
         && CVodeSetMaxStep (cvode, w->turn_s / LOOKS_PER_TURN) == 0;
}

static void
walk_close (Walk *w)
{
  if (w->cvode != NULL)
    CVodeFree (&w->cvode);
  if (w->solver != NULL)
    SUNNonlinSolFree (w->solver);
  N_Vector vectors[] = { w->y, w->absolute, w->row };
  for (int i = 0; i < 3; i++)
    if (vectors[i] != NULL)
      N_VDestroy (vectors[i]);
  if (w->context != NULL)
    SUNContext_Free (&w->context);
  free (w->roots);
  free (w->before);
}

static bool
asked_to_stop (const Walk *w)
{
  return w->m->stop != NULL && w->steps % ASK_EVERY == 0 && w->m->stop (w->m->stop_data);
}

static void
give_up (Walk *w, FwFate fate, double t)
{
  w->m->fate = fate;
  w->m->at = crank_at (w, t);
  w->m->period = 0;
}

/* More steps than anything sane takes. Where they crowd at one place it has come to a dead position of
 * something it drives. */
static bool
too_many (Walk *w)
{
  return ++w->steps > MOST_STEPS || ++w->since_row > MOST_BETWEEN || w->events > MOST_EVENTS;
}

static FwSwingStatus
walk (Walk *w)
{
  double t = 0, *y = N_VGetArrayPointer (w->y);
  for (;;)
    {
      if (asked_to_stop (w))
        return FW_SWING_STOPPED;
      int flag = CVode (w->cvode, t + w->turn_s, w->y, &t, CV_ONE_STEP);
      if (flag < 0)
        {
          if (flag == CV_MEM_FAIL)
            return FW_SWING_NO_MEMORY;
          give_up (w, w->open ? FW_FATE_BINDS : FW_FATE_LOST, t);
          return FW_SWING_OK;
        }
      if (keep_rows (w, t))
        return FW_SWING_OK;
      if (too_many (w))
        {
          bool crowds = w->since_row > MOST_BETWEEN && w->m->free->n_moving > w->m->free->n;
          give_up (w, crowds ? FW_FATE_BINDS : FW_FATE_LOST, t);
          return FW_SWING_OK;
        }
      bool event = flag == CV_ROOT_RETURN;
      if (event)
        CVodeGetRootInfo (w->cvode, w->roots);
      else if (!overrun (w, t, y))
        continue;
      if (!mend (w, t, y))
        {
          give_up (w, FW_FATE_BINDS, t);
          return FW_SWING_OK;
        }
      CVodeReInit (w->cvode, t, w->y);
    }
}

/* Who stands on a stop rests there until it is seen whether he stays; who has no rate sticks until
 * then. False: it cannot be assembled. */
static bool
begin (FwMarch *m, double *y)
{
  FwContact *c = m->contact;
  int n = m->free->n;
  if (!fw_contact_begin (c, 0, y))
    return false;
  for (int k = 0; k < n; k++)
    {
      double *q = &y[k], *qd = &y[n + k];
      if (c->touch[k] == FW_INERT)
        *qd = 0;
      if (c->touch[k] == FW_INERT)
        continue;
      *q = *q < c->low[k] + AT_STOP ? c->low[k] : *q > c->high[k] - AT_STOP ? c->high[k] : *q;
      bool low = *q <= c->low[k] && *qd <= 0, high = *q >= c->high[k] && *qd >= 0;
      if (low || high)
        *qd = 0;
      c->touch[k] = low ? FW_ON_LOW : high ? FW_ON_HIGH : *qd == 0 ? FW_STICKS : FW_MOVES;
      if (c->touch[k] == FW_MOVES && c->friction_mm > 0)
        c->touch[k] = *qd > 0 ? FW_SLIDES_UP : FW_SLIDES_DOWN;
    }
  return fw_contact_decide (c, 0, y, y + n);
}

FwSwingStatus
fw_march (FwMarch *m, const double *q, const double *qd)
{
  int n = m->free->n;
  Walk w = { .m = m, .turn_s = 2 * FW_PI / m->free->speed };
  double *first = row_at (m, 0);
  memcpy (first, q, sizeof (double) * (size_t)n);
  memcpy (first + n, qd, sizeof (double) * (size_t)n);
  m->n_rows = 1;
  if (!begin (m, first))
    {
      give_up (&w, FW_FATE_BINDS, 0);
      return FW_SWING_OK;
    }
  FwSwingStatus status = walk_open (&w, first) ? walk (&w) : FW_SWING_NO_MEMORY;
  walk_close (&w);
  return status;
}
