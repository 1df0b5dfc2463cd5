#include "core/peaks.h"

#include "core/search.h"
#include "core/solve.h"

static bool
rides (const FwMechanism *m)
{
  return m->design->body.ride != FW_RIDE_FIXED;
}

static bool
has_guide (const FwMechanism *m)
{
  return m->design->body.ride == FW_RIDE_SLEEVE || m->design->body.ride == FW_RIDE_ROCKER;
}

int
fw_load_count (const FwMechanism *m)
{
  return 1 + m->n_links + m->n_members + m->n_pins + (rides (m) ? 1 : 0) + (has_guide (m) ? 1 : 0);
}

FwLoad
fw_load_nth (const FwMechanism *m, int i)
{
  const int counts[] = { 1, m->n_links, m->n_members, m->n_pins, rides (m) ? 1 : 0 };
  for (int kind = 0; kind < 5; kind++)
    {
      if (i < counts[kind])
        return (FwLoad) { (FwLoadKind)kind, i };
      i -= counts[kind];
    }
  return (FwLoad) { FW_LOAD_GUIDE, 0 };
}

double
fw_load_value (const FwLoads *l, FwLoad load)
{
  switch (load.kind)
    {
    case FW_LOAD_TORQUE:
      return l->torque;
    case FW_LOAD_TENSION:
      return l->tension[load.index];
    case FW_LOAD_HINGE:
      return fw_vec3_length (l->hinges[load.index].force);
    case FW_LOAD_PIN:
      return fw_vec3_length (l->pins[load.index]);
    case FW_LOAD_POST:
      return fw_vec3_length (l->post_pin);
    default:
      return l->guide;
    }
}

typedef struct
{
  const FwMechanism *mech;
  FwPose *pose;
  FwLoads *loads;
  double speed, sign;
  FwLoad load;
} Seek;

static double
signed_load (void *context, double crank)
{
  const Seek *s = context;
  fw_pose_solve (s->pose, s->mech, crank);
  fw_loads_solve (s->loads, s->mech, s->pose, s->speed);
  return s->sign * fw_load_value (s->loads, s->load);
}

/* A step lower than its neighbours, in the sense of the sign sought. */
typedef struct
{
  double crank, value;
  double reach; /* how low it may go between the steps: by the second difference where it has a corner, else far less */
} Valley;

#define VALLEYS 4 /* of a turn that are worth a closer look */
#define BLOCK 64  /* forces looked at in one turn */

typedef struct
{
  double before, here; /* at the last two steps */
  int n[2];
  Valley valleys[2][VALLEYS]; /* of the value and of its negative, that of the lowest reach first */
} Watch;

static void
note (Watch *w, int way, double crank, double after)
{
  double sign = way == 0 ? 1 : -1, here = sign * w->here;
  /* Beside a gap the other neighbour counts for both. */
  double left = sign * (isnan (w->before) ? after : w->before), right = isnan (after) ? left : sign * after;
  if (isnan (here) || left < here || right < here)
    return;
  Valley valley = { crank, here, isnan (left) ? here : here - (left + right - 2 * here) };
  Valley *list = w->valleys[way];
  int k = w->n[way] < VALLEYS ? w->n[way]++ : VALLEYS;
  for (; k > 0 && list[k - 1].reach > valley.reach; k--)
    if (k < VALLEYS)
      list[k] = list[k - 1];
  if (k < VALLEYS)
    list[k] = valley;
}

/* One turn, and two steps more so that each has had its neighbours. */
static void
watch (Watch *watches, const Seek *s, int first, int count, int steps)
{
  for (int k = 0; k < count; k++)
    watches[k] = (Watch) { .before = NAN, .here = NAN };
  for (int i = 0; i < steps + 2; i++)
    {
      fw_pose_solve (s->pose, s->mech, 2 * FW_PI * (i % steps) / steps);
      fw_loads_solve (s->loads, s->mech, s->pose, s->speed);
      for (int k = 0; k < count; k++)
        {
          double after = fw_load_value (s->loads, fw_load_nth (s->mech, first + k));
          for (int way = 0; way < 2 && i >= 2; way++)
            note (&watches[k], way, 2 * FW_PI * (i - 1) / steps, after);
          watches[k].before = watches[k].here;
          watches[k].here = after;
        }
    }
}

/* The lowest valley. Between the steps one may pass another that is lower at them. */
static FwExtreme
lowest (Seek *s, const Valley *list, int n, double width)
{
  double best = INFINITY, crank = 0;
  for (int i = 0; i < n; i++)
    {
      double value, at = list[i].crank;
      if (list[i].reach >= best)
        break;
      at = fw_least (signed_load, s, at - width, at, at + width, &value);
      if (value < best)
        {
          best = value;
          crank = at - 2 * FW_PI * floor (at / (2 * FW_PI));
        }
    }
  return (FwExtreme) { crank < 2 * FW_PI ? crank : 0, n > 0 ? s->sign * best : NAN };
}

void
fw_load_peaks (const FwMechanism *mech, FwPose *pose, FwLoads *loads, double speed, int steps, FwExtreme *least,
               FwExtreme *greatest)
{
  fw_load_peaks_of (mech, pose, loads, speed, steps, fw_load_count (mech), least, greatest);
}

void
fw_load_peaks_of (const FwMechanism *mech, FwPose *pose, FwLoads *loads, double speed, int steps, int n, FwExtreme *least,
                  FwExtreme *greatest)
{
  Watch watches[BLOCK];
  for (int first = 0; first < n; first += BLOCK)
    {
      int count = n - first < BLOCK ? n - first : BLOCK;
      Seek s = { .mech = mech, .pose = pose, .loads = loads, .speed = speed };
      watch (watches, &s, first, count, steps);
      for (int k = 0; k < count; k++)
        for (int way = 0; way < 2; way++)
          {
            s.sign = way == 0 ? 1 : -1;
            s.load = fw_load_nth (mech, first + k);
            (way == 0 ? least : greatest)[first + k]
                = lowest (&s, watches[k].valleys[way], watches[k].n[way], 2 * FW_PI / steps);
          }
    }
}

double
fw_load_mean_size (const FwMechanism *mech, FwPose *pose, FwLoads *loads, double speed, int steps)
{
  double sum = 0;
  int n = 0;
  for (int i = 0; i < steps; i++)
    {
      fw_pose_solve (pose, mech, 2 * FW_PI * i / steps);
      fw_loads_solve (loads, mech, pose, speed);
      if (!loads->known)
        continue;
      sum += fabs (loads->torque);
      n++;
    }
  return n > 0 ? sum / n : NAN;
}
