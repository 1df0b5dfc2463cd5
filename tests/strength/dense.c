#include "dense.h"

#include <glib.h>
#include <math.h>
#include <string.h>

/* Gauss with partial pivoting: a x = b in place, a is n by n by rows, b has m columns by rows. */
static void
eliminate (double *a, double *b, int n, int m)
{
  for (int c = 0; c < n; c++)
    {
      int best = c;
      for (int r = c + 1; r < n; r++)
        best = fabs (a[r * n + c]) > fabs (a[best * n + c]) ? r : best;
      for (int k = 0; k < n; k++)
        {
          double swap = a[c * n + k];
          a[c * n + k] = a[best * n + k];
          a[best * n + k] = swap;
        }
      for (int k = 0; k < m; k++)
        {
          double swap = b[c * m + k];
          b[c * m + k] = b[best * m + k];
          b[best * m + k] = swap;
        }
      for (int r = 0; r < n; r++)
        {
          double share = r == c ? 0 : a[r * n + c] / a[c * n + c];
          for (int k = c; k < n && share != 0; k++)
            a[r * n + k] -= share * a[c * n + k];
          for (int k = 0; k < m && share != 0; k++)
            b[r * m + k] -= share * b[c * m + k];
        }
    }
  for (int r = 0; r < n; r++)
    for (int k = 0; k < m; k++)
      b[r * m + k] /= a[r * n + r];
}

/* How the far end moves under forces and moments on it when the near one is clamped: from the beam
 * tables, in the bar's axes (x along, section z by `up`). */
static void
tip_flexibility (const FwFrameBar *b, double l, double f[36])
{
  double ez = b->young * b->section.second_z, ey = b->young * b->section.second_y;
  memset (f, 0, 36 * sizeof (double));
  f[0] = l / (b->young * b->section.area);
  f[3 * 6 + 3] = l / (b->shear * b->section.twist);
  f[1 * 6 + 1] = l * l * l / (3 * ez);
  f[1 * 6 + 5] = f[5 * 6 + 1] = l * l / (2 * ez);
  f[5 * 6 + 5] = l / ez;
  f[2 * 6 + 2] = l * l * l / (3 * ey);
  f[2 * 6 + 4] = f[4 * 6 + 2] = -l * l / (2 * ey);
  f[4 * 6 + 4] = l / ey;
}

/* Rows: the bar's axes. */
static void
axes_of (const FwSpaceFrame *frame, const FwFrameBar *b, double axes[9], double *length)
{
  FwVec3 x = fw_vec3_sub (frame->nodes[b->to].at, frame->nodes[b->from].at);
  *length = fw_vec3_length (x);
  x = fw_vec3_scale (x, 1 / *length);
  FwVec3 z = fw_vec3_along (b->up, -fw_vec3_dot (b->up, x), x);
  z = fw_vec3_scale (z, 1 / fw_vec3_length (z));
  FwVec3 y = fw_vec3_cross (z, x);
  const FwVec3 rows[3] = { x, y, z };
  for (int i = 0; i < 3; i++)
    {
      axes[3 * i] = rows[i].x;
      axes[3 * i + 1] = rows[i].y;
      axes[3 * i + 2] = rows[i].z;
    }
}

/* The far end's movement beyond the near end's rigid one, as 6 x 12 in the frame's axes: [-S, I]
 * with S carrying the near end's turn along; then K = B' F^-1 B. */
static void
bar_matrix (const FwSpaceFrame *frame, const FwFrameBar *b, double k[144])
{
  double axes[9], l, f[36], beyond[72] = { 0 }, pull[72];
  axes_of (frame, b, axes, &l);
  FwVec3 d = fw_vec3_sub (frame->nodes[b->to].at, frame->nodes[b->from].at);
  const double across[9] = { 0, d.z, -d.y, -d.z, 0, d.x, d.y, -d.x, 0 }; /* turn x d */
  double global[72] = { 0 };
  for (int i = 0; i < 6; i++)
    {
      global[i * 12 + 6 + i] = 1;
      global[i * 12 + i] = -1;
    }
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      global[i * 12 + 3 + j] = -across[3 * i + j];
  for (int half = 0; half < 2; half++)
    for (int i = 0; i < 3; i++)
      for (int j = 0; j < 12; j++)
        for (int s = 0; s < 3; s++)
          beyond[(3 * half + i) * 12 + j] += axes[3 * i + s] * global[(3 * half + s) * 12 + j];
  memcpy (pull, beyond, sizeof pull);
  tip_flexibility (b, l, f);
  eliminate (f, pull, 6, 12);
  for (int i = 0; i < 12; i++)
    for (int j = 0; j < 12; j++)
      {
        k[i * 12 + j] = 0;
        for (int s = 0; s < 6; s++)
          k[i * 12 + j] += beyond[s * 12 + i] * pull[s * 12 + j];
      }
}

void
dense_solve (const FwSpaceFrame *frame, double *loads)
{
  int n = 6 * frame->n_nodes;
  double *a = g_new0 (double, n *n);
  for (int b = 0; b < frame->n_bars; b++)
    {
      double k[144];
      bar_matrix (frame, &frame->bars[b], k);
      for (int i = 0; i < 12; i++)
        for (int j = 0; j < 12; j++)
          {
            int row = 6 * (i < 6 ? frame->bars[b].from : frame->bars[b].to) + i % 6;
            int column = 6 * (j < 6 ? frame->bars[b].from : frame->bars[b].to) + j % 6;
            a[row * n + column] += k[i * 12 + j];
          }
    }
  for (int i = 0; i < n; i++)
    if (frame->nodes[i / 6].held >> i % 6 & 1)
      {
        for (int j = 0; j < n; j++)
          a[i * n + j] = a[j * n + i] = 0;
        a[i * n + i] = 1;
        loads[i] = 0;
      }
  eliminate (a, loads, n, 1);
  g_free (a);
}
