#include "strength/frame.h"

#include <lapacke.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LOOSE                                                                                      \
  1e-13 /* what is left of a diagonal term when the frame can move freely, as a share of it */

FwSpaceFrame *
fw_space_frame_new (int n_nodes, int n_bars)
{
  FwSpaceFrame *f = calloc (1, sizeof *f);
  if (f == NULL)
    return NULL;
  *f = (FwSpaceFrame){ .n_nodes = n_nodes, .n_bars = n_bars };
  f->nodes = calloc ((size_t)n_nodes, sizeof *f->nodes);
  f->bars = calloc ((size_t)n_bars, sizeof *f->bars);
  f->places = calloc ((size_t)n_nodes * 6, sizeof *f->places);
  f->work = calloc ((size_t)n_nodes * 6, sizeof *f->work);
  if (f->nodes != NULL && f->bars != NULL && f->places != NULL && f->work != NULL)
    return f;
  fw_space_frame_free (f);
  return NULL;
}

void
fw_space_frame_free (FwSpaceFrame *f)
{
  if (f == NULL)
    return;
  free (f->nodes);
  free (f->bars);
  free (f->places);
  free (f->factor);
  free (f->work);
  free (f);
}

static FwVec3
unit (FwVec3 v)
{
  return fw_vec3_scale (v, 1 / fw_vec3_length (v));
}

/* A direction that is far from lying along the bar. */
static FwVec3
any_up (FwVec3 x)
{
  return fabs (x.z) < 0.7 ? fw_vec3 (0, 0, 1) : fw_vec3 (1, 0, 0);
}

static bool
set_axes (const FwSpaceFrame *f, FwFrameBar *b)
{
  FwVec3 along = fw_vec3_sub (f->nodes[b->to].at, f->nodes[b->from].at);
  b->length = fw_vec3_length (along);
  double stiff = b->young * b->section.area * b->section.second_y * b->section.second_z;
  if (!(b->length > 0) || !isfinite (b->length) || !(stiff > 0)
      || !(b->shear * b->section.twist > 0))
    return false;
  b->axes[0] = fw_vec3_scale (along, 1 / b->length);
  FwVec3 y = fw_vec3_cross (b->up, b->axes[0]);
  if (fw_vec3_length (y) <= 1e-9 * fw_vec3_length (b->up))
    y = fw_vec3_cross (any_up (b->axes[0]), b->axes[0]);
  b->axes[1] = unit (y);
  b->axes[2] = fw_vec3_cross (b->axes[0], b->axes[1]);
  return true;
}

typedef double Matrix[12][12];

static void
pair (Matrix k, int i, int j, double value)
{
  k[i][j] = k[j][i] = value;
}

/* A bar's pull or torsion: movements i and i + 6 against each other. */
static void
spring (Matrix k, int i, double stiffness)
{
  k[i][i] = k[i + 6][i + 6] = stiffness;
  pair (k, i, i + 6, -stiffness);
}

/* Bending: sideways movement `s` and turn `t`; a turn about y is positive where z falls along x. */
static void
bend (Matrix k, int s, int t, double sign, double stiffness, double l)
{
  double side = 12 * stiffness / (l * l * l), mixed = sign * 6 * stiffness / (l * l);
  double near = 4 * stiffness / l, far = 2 * stiffness / l;
  k[s][s] = k[s + 6][s + 6] = side;
  k[t][t] = k[t + 6][t + 6] = near;
  pair (k, s, s + 6, -side);
  pair (k, t, t + 6, far);
  pair (k, s, t, mixed);
  pair (k, s, t + 6, mixed);
  pair (k, s + 6, t, -mixed);
  pair (k, s + 6, t + 6, -mixed);
}

static void
bar_stiffness (const FwFrameBar *b, Matrix k)
{
  memset (k, 0, sizeof (Matrix));
  spring (k, 0, b->young * b->section.area / b->length);
  spring (k, 3, b->shear * b->section.twist / b->length);
  bend (k, 1, 5, 1, b->young * b->section.second_z, b->length);
  bend (k, 2, 4, -1, b->young * b->section.second_y, b->length);
}

/* Consistent masses of bending: m l / 420 (156, 22 l, 54, -13 l, 4 l^2, -3 l^2). */
static void
bend_mass (Matrix k, int s, int t, double sign, double mass, double l)
{
  double m = mass / 420, near = sign * 22 * l * m, far = sign * 13 * l * m;
  k[s][s] = k[s + 6][s + 6] = 156 * m;
  k[t][t] = k[t + 6][t + 6] = 4 * l * l * m;
  pair (k, s, s + 6, 54 * m);
  pair (k, t, t + 6, -3 * l * l * m);
  pair (k, s, t, near);
  pair (k, s, t + 6, -far);
  pair (k, s + 6, t, far);
  pair (k, s + 6, t + 6, -near);
}

static void
bar_mass (const FwFrameBar *b, FwFrameMass how, Matrix k)
{
  memset (k, 0, sizeof (Matrix));
  double mass = b->density * b->section.area * b->length;
  double turning = b->density * (b->section.second_y + b->section.second_z) * b->length;
  if (how == FW_MASS_LUMPED)
    {
      for (int i = 0; i < 3; i++)
        k[i][i] = k[i + 6][i + 6] = mass / 2;
      k[3][3] = k[9][9] = turning / 2;
      return;
    }
  for (int i = 0; i < 4; i += 3)
    {
      double m = i == 0 ? mass : turning;
      k[i][i] = k[i + 6][i + 6] = m / 3;
      pair (k, i, i + 6, m / 6);
    }
  bend_mass (k, 1, 5, 1, mass, b->length);
  bend_mass (k, 2, 4, -1, mass, b->length);
}

static void
get3 (const double *v, FwVec3 *to)
{
  *to = fw_vec3 (v[0], v[1], v[2]);
}

/* Twelve numbers from the frame's axes into the bar's, or back. */
static void
to_local (const FwFrameBar *b, const double global[12], double local[12])
{
  for (int group = 0; group < 4; group++)
    {
      FwVec3 v;
      get3 (global + 3 * group, &v);
      for (int i = 0; i < 3; i++)
        local[3 * group + i] = fw_vec3_dot (b->axes[i], v);
    }
}

static void
to_global (const FwFrameBar *b, const double local[12], double global[12])
{
  for (int group = 0; group < 4; group++)
    {
      const double *v = local + 3 * group;
      FwVec3 sum = fw_vec3_scale (b->axes[0], v[0]);
      sum = fw_vec3_along (fw_vec3_along (sum, v[1], b->axes[1]), v[2], b->axes[2]);
      global[3 * group] = sum.x;
      global[3 * group + 1] = sum.y;
      global[3 * group + 2] = sum.z;
    }
}

/* T' k T: columns first, then rows (the matrix is symmetric in between only as a whole). */
static void
turn_matrix (const FwFrameBar *b, Matrix k)
{
  for (int i = 0; i < 12; i++)
    {
      double row[12];
      memcpy (row, k[i], sizeof row);
      to_global (b, row, k[i]);
    }
  for (int j = 0; j < 12; j++)
    {
      double column[12], turned[12];
      for (int i = 0; i < 12; i++)
        column[i] = k[i][j];
      to_global (b, column, turned);
      for (int i = 0; i < 12; i++)
        k[i][j] = turned[i];
    }
}

static int
movement (const FwFrameBar *b, int i)
{
  return i < 6 ? 6 * b->from + i : 6 * b->to + i - 6;
}

/* Numbers what is free and measures the band. */
static void
number_movements (FwSpaceFrame *f)
{
  f->n_free = 0;
  for (int n = 0; n < f->n_nodes; n++)
    for (int i = 0; i < 6; i++)
      f->places[6 * n + i] = f->nodes[n].held >> i & 1 ? -1 : f->n_free++;
  f->band = 0;
  for (int b = 0; b < f->n_bars; b++)
    {
      int low = f->n_free, high = 0;
      for (int i = 0; i < 12; i++)
        {
          int place = f->places[movement (&f->bars[b], i)];
          low = place >= 0 && place < low ? place : low;
          high = place > high ? place : high;
        }
      f->band = high - low > f->band ? high - low : f->band;
    }
}

/* Adds a bar's matrix to a lower band stored by columns. */
static void
add_to_band (const FwSpaceFrame *f, const FwFrameBar *b, Matrix k, double *band)
{
  for (int i = 0; i < 12; i++)
    for (int j = 0; j < 12; j++)
      {
        int row = f->places[movement (b, i)], column = f->places[movement (b, j)];
        if (row >= 0 && column >= 0 && row >= column)
          band[column * (f->band + 1) + row - column] += k[i][j];
      }
}

static double *
band_new (const FwSpaceFrame *f)
{
  return calloc ((size_t)f->n_free * ((size_t)f->band + 1), sizeof (double));
}

static void
fill_stiffness (const FwSpaceFrame *f, double *band)
{
  for (int b = 0; b < f->n_bars; b++)
    {
      Matrix k;
      bar_stiffness (&f->bars[b], k);
      turn_matrix (&f->bars[b], k);
      add_to_band (f, &f->bars[b], k, band);
    }
}

static void
fill_mass (const FwSpaceFrame *f, FwFrameMass how, double *band)
{
  for (int b = 0; b < f->n_bars; b++)
    {
      Matrix k;
      bar_mass (&f->bars[b], how, k);
      turn_matrix (&f->bars[b], k);
      add_to_band (f, &f->bars[b], k, band);
    }
  for (int n = 0; n < f->n_nodes; n++)
    for (int i = 0; i < 3; i++)
      if (f->places[6 * n + i] >= 0)
        band[f->places[6 * n + i] * (f->band + 1)] += f->nodes[n].mass;
}

FwFrameStatus
fw_space_frame_factorise (FwSpaceFrame *f)
{
  for (int b = 0; b < f->n_bars; b++)
    if (!set_axes (f, &f->bars[b]))
      return FW_FRAME_BAD;
  number_movements (f);
  if (f->n_free == 0)
    return FW_FRAME_BAD;
  free (f->factor);
  f->factor = band_new (f);
  if (f->factor == NULL)
    return FW_FRAME_NO_MEMORY;
  fill_stiffness (f, f->factor);
  int step = f->band + 1;
  for (int i = 0; i < f->n_free; i++)
    f->work[i] = f->factor[i * step];
  if (LAPACKE_dpbtrf_work (LAPACK_COL_MAJOR, 'L', f->n_free, f->band, f->factor, step) != 0)
    return FW_FRAME_LOOSE;
  for (int i = 0; i < f->n_free; i++)
    if (!(f->factor[i * step] * f->factor[i * step] > LOOSE * f->work[i]))
      return FW_FRAME_LOOSE;
  return FW_FRAME_OK;
}

void
fw_space_frame_solve (const FwSpaceFrame *f, double *loads)
{
  int n = 6 * f->n_nodes;
  for (int i = 0; i < n; i++)
    if (f->places[i] >= 0)
      f->work[f->places[i]] = loads[i];
  LAPACKE_dpbtrs_work (LAPACK_COL_MAJOR, 'L', f->n_free, f->band, 1, f->factor, f->band + 1,
                       f->work, f->n_free);
  for (int i = 0; i < n; i++)
    loads[i] = f->places[i] >= 0 ? f->work[f->places[i]] : 0;
}

/* In the bar's axes: half of the load at each end, and the moments of a clamped beam, w l^2 / 12.
 */
static void
uniform_ends (const FwFrameBar *b, FwVec3 per_length, double ends[12])
{
  double l = b->length, w[3];
  for (int i = 0; i < 3; i++)
    {
      w[i] = fw_vec3_dot (b->axes[i], per_length);
      ends[i] = ends[6 + i] = w[i] * l / 2;
    }
  ends[3] = ends[9] = 0;
  ends[4] = -w[2] * l * l / 12;
  ends[10] = -ends[4];
  ends[5] = w[1] * l * l / 12;
  ends[11] = -ends[5];
}

void
fw_space_frame_add_uniform (const FwSpaceFrame *f, int bar, FwVec3 per_length, double *loads)
{
  double local[12], global[12];
  uniform_ends (&f->bars[bar], per_length, local);
  to_global (&f->bars[bar], local, global);
  for (int i = 0; i < 12; i++)
    loads[movement (&f->bars[bar], i)] += global[i];
}

/* k u of one bar, in its axes. */
static void
resist (const FwSpaceFrame *f, const FwFrameBar *b, const double *moves, double ends[12])
{
  double global[12], local[12];
  for (int i = 0; i < 12; i++)
    global[i] = moves[movement (b, i)];
  to_local (b, global, local);
  Matrix k;
  bar_stiffness (b, k);
  for (int i = 0; i < 12; i++)
    {
      ends[i] = 0;
      for (int j = 0; j < 12; j++)
        ends[i] += k[i][j] * local[j];
    }
}

void
fw_space_frame_ends (const FwSpaceFrame *f, int bar, const double *moves, FwVec3 per_length,
                     double ends[12])
{
  double carried[12];
  resist (f, &f->bars[bar], moves, ends);
  uniform_ends (&f->bars[bar], per_length, carried);
  for (int i = 0; i < 12; i++)
    ends[i] -= carried[i];
}

void
fw_space_frame_reactions (const FwSpaceFrame *f, const double *moves, const double *loads,
                          double *reactions)
{
  for (int i = 0; i < 6 * f->n_nodes; i++)
    reactions[i] = -loads[i];
  for (int b = 0; b < f->n_bars; b++)
    {
      double local[12], global[12];
      resist (f, &f->bars[b], moves, local);
      to_global (&f->bars[b], local, global);
      for (int i = 0; i < 12; i++)
        reactions[movement (&f->bars[b], i)] += global[i];
    }
}

/* Spreads found shapes over all movements, highest eigenvalue (lowest frequency) first. */
static void
keep_shapes (const FwSpaceFrame *f, int n, const double *found, double *shapes)
{
  for (int k = 0; k < n; k++)
    for (int i = 0; i < 6 * f->n_nodes; i++)
      shapes[k * 6 * f->n_nodes + i]
          = f->places[i] < 0 ? 0 : found[(n - 1 - k) * f->n_free + f->places[i]];
}

/* M x = mu K x rather than K x = omega^2 M x: K is positive where M, lumped, is not, and the lowest
 * frequencies are then the largest, and so the most exact, eigenvalues. */
FwFrameStatus
fw_space_frame_frequencies (const FwSpaceFrame *f, FwFrameMass mass, int n, double *omega,
                            double *shapes)
{
  size_t free_moves = (size_t)f->n_free;
  double *m = band_new (f), *k = band_new (f);
  double *q = malloc (free_moves * free_moves * sizeof (double));
  double *z = malloc (free_moves * (size_t)n * sizeof (double)),
         *w = malloc (free_moves * sizeof (double));
  int *failed = malloc (free_moves * sizeof (int));
  FwFrameStatus status = FW_FRAME_NO_MEMORY;
  if (m != NULL && k != NULL && q != NULL && z != NULL && w != NULL && failed != NULL)
    {
      fill_mass (f, mass, m);
      fill_stiffness (f, k);
      int found = 0;
      int info = LAPACKE_dsbgvx (LAPACK_COL_MAJOR, 'V', 'I', 'L', f->n_free, f->band, f->band, m,
                                 f->band + 1, k, f->band + 1, q, f->n_free, 0, 0, f->n_free - n + 1,
                                 f->n_free, 0, &found, w, z, f->n_free, failed);
      status = info == 0 && found == n ? FW_FRAME_OK : FW_FRAME_LOOSE;
      for (int i = 0; i < n && status == FW_FRAME_OK; i++)
        omega[i] = w[n - 1 - i] > 0 ? 1 / sqrt (w[n - 1 - i]) : INFINITY;
      if (status == FW_FRAME_OK && shapes != NULL)
        keep_shapes (f, n, z, shapes);
    }
  free (m);
  free (k);
  free (q);
  free (z);
  free (w);
  free (failed);
  return status;
}
