#include "aim/fitmodel.h"

#include <math.h>
#include <stdlib.h>

#define RADIANS (G_PI / 180)
#define ZERO_UNIT 1.0 /* deg */

/* ---- What may be off ---- */

static gboolean
list_names (FwFitModel *m, const FwDesign *design, const FwFitWish *wish)
{
  int n = fw_design_params (design, NULL, 0);
  FwParam *params = calloc ((size_t)n + 1, sizeof *params);

  m->names = calloc ((size_t)(n + wish->n_numbers) + 1, sizeof *m->names);
  m->drawn = calloc ((size_t)(n + wish->n_numbers) + 1, sizeof *m->drawn);
  m->scale = calloc ((size_t)(n + wish->n_numbers) + 1, sizeof *m->scale);
  if (!params || !m->names || !m->drawn || !m->scale)
    {
      free (params);
      return FALSE;
    }
  fw_design_params (design, params, n);
  const FwParam *list = wish->numbers ? wish->numbers : params;
  for (int i = 0; i < (wish->numbers ? wish->n_numbers : n); i++)
    {
      double spread = fw_spread_default (design, list[i]);
      if (!wish->numbers && (!(spread > 0) || list[i].kind == FW_PARAM_PANEL_STOP))
        continue;
      m->names[m->n_names] = (FwFitName){ .param = list[i] };
      m->drawn[m->n_names] = fw_param_get (design, list[i]);
      m->scale[m->n_names++] = spread > 0 ? spread : 1;
    }
  free (params);
  if (!wish->numbers)
    {
      m->names[m->n_names] = (FwFitName){ .is_zero = TRUE };
      m->scale[m->n_names++] = ZERO_UNIT;
    }
  return TRUE;
}

gboolean
fw_fit_model_open (FwFitModel *m, const FwDesign *design, const FwMeasurement *list, int n, const FwFitWish *wish)
{
  *m = (FwFitModel){ .list = list, .n = n, .design = fw_design_copy (design), .weights = calloc ((size_t)n + 1, sizeof (double)) };
  if (!m->design || !m->weights || !list_names (m, design, wish))
    return FALSE;
  double angle = wish->angle_sd_deg > 0 ? wish->angle_sd_deg : 1, length = wish->length_sd_mm > 0 ? wish->length_sd_mm : 1;
  for (int i = 0; i < n; i++)
    m->weights[i] = 1 / (fw_measured_is_length (list[i].kind) ? length : angle);
  return TRUE;
}

void
fw_fit_model_close (FwFitModel *m)
{
  fw_design_free (m->design);
  free (m->weights);
  free (m->names);
  free (m->drawn);
  free (m->scale);
}

gboolean
fw_fit_model_set (FwFitModel *m, int name, double units)
{
  double lower, upper, value = m->drawn[name] + units * m->scale[name];

  if (!isfinite (value))
    return FALSE;
  if (m->names[name].is_zero)
    {
      m->zero_deg = value;
      return fabs (value) <= 180;
    }
  fw_param_limits (m->design, m->names[name].param, &lower, &upper);
  if (!(value >= lower && value <= upper))
    return FALSE;
  fw_param_set (m->design, m->names[name].param, value);
  return TRUE;
}

/* ---- What it measures ---- */

/* Tip of a member, u = span, world. */
static FwVec3
tip_of (const FwPose *pose, const FwMechanism *mech, int member)
{
  return fw_motion_point (&pose->members[member].motion, (FwVec3){ mech->members[member].span_mm, 0, 0 }).at;
}

static double
value_of (const FwPose *pose, const FwMechanism *mech, const FwMeasurement *measured)
{
  switch (measured->kind)
    {
    case FW_MEASURED_H:
      return pose->body.h_mm;
    case FW_MEASURED_Z:
      return pose->body.z_mm;
    case FW_MEASURED_TILT:
      return pose->body.tilt / RADIANS;
    case FW_MEASURED_ANGLE:
      {
        double angle = fw_pose_angle (pose, mech, measured->index) / RADIANS;
        return angle - 360 * round ((angle - measured->value) / 360);
      }
    case FW_MEASURED_TIP_X:
      return tip_of (pose, mech, measured->index).x;
    default:
      return tip_of (pose, mech, measured->index).z;
    }
}

/* Derivatives by all numbers of the sensitivity, per file unit. */
static void
slopes_of (const FwSensitivity *s, const FwPose *pose, const FwMechanism *mech, const FwMeasurement *measured, double *out)
{
  int member = measured->index;

  for (int j = 0; j < s->n; j++)
    switch (measured->kind)
      {
      case FW_MEASURED_H:
        out[j] = mech->design->crank.runs == FW_RUNS_ACROSS ? s->body[j].move.y : s->body[j].move.x;
        break;
      case FW_MEASURED_Z:
        out[j] = s->body[j].move.z;
        break;
      case FW_MEASURED_TILT:
        out[j] = s->tilt[j] / RADIANS;
        break;
      case FW_MEASURED_ANGLE:
        out[j] = s->angles[member * s->n + j] / RADIANS;
        break;
      default:
        {
          const FwTwist *twist = &s->members[member * s->n + j];
          FwVec3 arm = fw_vec3_sub (tip_of (pose, mech, member), pose->members[member].motion.at.origin);
          FwVec3 move = fw_vec3_add (twist->move, fw_vec3_cross (twist->turn, arm));
          out[j] = measured->kind == FW_MEASURED_TIP_X ? move.x : move.z;
        }
      }
}

typedef struct
{
  FwFitModel *model;
  FwMechanism *mech;
  FwPose *pose;
  FwSensitivity *sensitivity;
  int *places; /* [n_chosen] place among the numbers of the sensitivity; -1: the zero mark */
  double *row;
} Solving;

static gboolean
solving_open (Solving *s, FwFitModel *model, const int *chosen, int n_chosen, gboolean slopes)
{
  FwParam *params = calloc ((size_t)n_chosen + 1, sizeof *params);
  int n = 0;

  *s = (Solving){ .model = model, .places = calloc ((size_t)n_chosen + 1, sizeof (int)),
                  .row = calloc ((size_t)n_chosen + 1, sizeof (double)) };
  gboolean good = params && s->places && s->row && fw_mechanism_build (model->design, &s->mech, NULL) == FW_OK
                  && (s->pose = fw_pose_new (s->mech)) != NULL;
  for (int k = 0; good && k < n_chosen; k++)
    {
      s->places[k] = model->names[chosen[k]].is_zero ? -1 : n;
      if (s->places[k] >= 0)
        params[n++] = model->names[chosen[k]].param;
    }
  if (good && slopes)
    good = (s->sensitivity = fw_sensitivity_new (s->mech, params, n)) != NULL;
  free (params);
  return good;
}

static void
solving_close (Solving *s)
{
  free (s->sensitivity);
  free (s->pose);
  fw_mechanism_free (s->mech);
  free (s->places);
  free (s->row);
}

/* By the crank angle itself, per degree: by differences, since only the zero mark asks for it. */
static double
slope_by_crank (Solving *s, const FwMeasurement *measured, double crank)
{
  const double h = 1e-4 * RADIANS;
  fw_pose_solve (s->pose, s->mech, crank + h);
  double after = value_of (s->pose, s->mech, measured);
  fw_pose_solve (s->pose, s->mech, crank - h);
  return (after - value_of (s->pose, s->mech, measured)) / 2e-4;
}

static void
fill_slopes (Solving *s, const int *chosen, int n_chosen, int i, double crank, double *slopes)
{
  const FwFitModel *m = s->model;

  slopes_of (s->sensitivity, s->pose, s->mech, &m->list[i], s->row);
  for (int k = 0; k < n_chosen; k++)
    if (s->places[k] >= 0)
      slopes[k * m->n + i] = s->row[s->places[k]] * m->scale[chosen[k]] * m->weights[i];
  for (int k = 0; k < n_chosen; k++)
    if (s->places[k] < 0)
      {
        slopes[k * m->n + i] = slope_by_crank (s, &m->list[i], crank) * m->scale[chosen[k]] * m->weights[i];
        fw_pose_solve (s->pose, s->mech, crank);
      }
}

gboolean
fw_fit_model_solve (FwFitModel *m, const int *chosen, int n_chosen, double *misses, double *slopes)
{
  Solving s;
  double last = NAN;
  gboolean good = solving_open (&s, m, chosen, n_chosen, slopes != NULL);

  for (int i = 0; good && i < m->n; i++)
    {
      double crank = (m->list[i].crank_deg + m->zero_deg) * RADIANS;
      if (crank != last)
        {
          fw_pose_solve (s.pose, s.mech, crank);
          if (slopes)
            good = fw_sensitivity_solve (s.sensitivity, s.mech, s.pose);
        }
      last = crank;
      misses[i] = (value_of (s.pose, s.mech, &m->list[i]) - m->list[i].value) * m->weights[i];
      if (good && slopes)
        fill_slopes (&s, chosen, n_chosen, i, crank, slopes);
    }
  solving_close (&s);
  return good;
}
