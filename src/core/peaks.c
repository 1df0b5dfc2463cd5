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

static FwExtreme
refine (Seek *s, FwExtreme at, double width)
{
  double value, crank = fw_least (signed_load, s, at.crank - width, at.crank, at.crank + width, &value);
  crank -= 2 * FW_PI * floor (crank / (2 * FW_PI));
  return (FwExtreme) { crank < 2 * FW_PI ? crank : 0, s->sign * value };
}

void
fw_load_peaks (const FwMechanism *mech, FwPose *pose, FwLoads *loads, double speed, int steps, FwExtreme *least,
               FwExtreme *greatest)
{
  int n = fw_load_count (mech);
  for (int k = 0; k < n; k++)
    least[k] = greatest[k] = (FwExtreme) { 0, NAN };
  for (int i = 0; i < steps; i++)
    {
      double crank = 2 * FW_PI * i / steps;
      fw_pose_solve (pose, mech, crank);
      fw_loads_solve (loads, mech, pose, speed);
      for (int k = 0; k < n; k++)
        {
          double value = fw_load_value (loads, fw_load_nth (mech, k));
          if (!(value >= least[k].value))
            least[k] = isnan (value) ? least[k] : (FwExtreme) { crank, value };
          if (!(value <= greatest[k].value))
            greatest[k] = isnan (value) ? greatest[k] : (FwExtreme) { crank, value };
        }
    }
  for (int k = 0; k < n; k++)
    {
      Seek s = { mech, pose, loads, speed, 1, fw_load_nth (mech, k) };
      if (isnan (least[k].value))
        continue;
      least[k] = refine (&s, least[k], 2 * FW_PI / steps);
      s.sign = -1;
      greatest[k] = refine (&s, greatest[k], 2 * FW_PI / steps);
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
