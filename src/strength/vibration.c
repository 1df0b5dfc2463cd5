#include "strength/vibration.h"

#include <assert.h>
#include <math.h>

#define PI 3.14159265358979323846

/* The frequency equation over cosh x, so that it stays finite. */
static double
unbalance (double x, double ratio)
{
  double th = tanh (x);
  return 1 / cosh (x) + cos (x) - ratio * x * (sin (x) - cos (x) * th);
}

/* Between (n - 1) pi and n pi the equation changes sign once. */
double
fw_cantilever_root (double ratio, int n)
{
  double low = (n - 1) * PI, high = n * PI;
  double sign = n % 2 == 1 ? 1 : -1;
  for (int i = 0; i < 80; i++)
    {
      double x = (low + high) / 2;
      if (sign * unbalance (x, ratio) > 0)
        low = x;
      else
        high = x;
    }
  return (low + high) / 2;
}

double
fw_cantilever_rayleigh (double bending, double length, double own_mass, double tip_mass)
{
  return sqrt (3 * bending / ((tip_mass + own_mass * 33 / 140) * pow (length, 3)));
}

double
fw_supported_frequency (double bending, double length, double per_length, double pull)
{
  double k = PI / length, euler = k * k * bending;
  return pull <= -euler ? 0 : k * k * sqrt (bending / per_length) * sqrt (1 + pull / euler);
}

double
fw_magnification (double r, double damping)
{
  return 1 / hypot (1 - r * r, 2 * damping * r);
}

double
fw_transmissibility (double r, double damping)
{
  return hypot (1, 2 * damping * r) * fw_magnification (r, damping);
}

double
fw_lag (double r, double damping)
{
  return atan2 (2 * damping * r, 1 - r * r);
}

typedef struct
{
  double even, odd; /* of cos and sin */
} Wave;

/* k-th harmonic of a row; cosines and sines of one turn in n steps are at hand. */
static Wave
harmonic (const double *row, int n, int k, const double *cosine, const double *sine)
{
  Wave w = { 0, 0 };
  for (int i = 0, at = 0; i < n; i++, at = at + k < n ? at + k : at + k - n)
    {
      w.even += row[i] * cosine[at];
      w.odd += row[i] * sine[at];
    }
  double share = k == 0 || 2 * k == n ? 1.0 / n : 2.0 / n;
  return (Wave){ w.even * share, w.odd * share };
}

static void
add_wave (double *row, int n, int k, Wave w, const double *cosine, const double *sine)
{
  for (int i = 0, at = 0; i < n; i++, at = at + k < n ? at + k : at + k - n)
    row[i] += w.even * cosine[at] + w.odd * sine[at];
}

FwSwing
fw_swing (const double *still, int n, double crank, double natural, double damping)
{
  FwSwing s = { 0 };
  assert (n > 0 && n <= FW_SWING_STEPS);
  double cosine[FW_SWING_STEPS], sine[FW_SWING_STEPS], moved[FW_SWING_STEPS];
  for (int i = 0; i < n; i++)
    {
      cosine[i] = cos (2 * PI * i / n);
      sine[i] = sin (2 * PI * i / n);
    }
  double mean = harmonic (still, n, 0, cosine, sine).even;
  for (int i = 0; i < n; i++)
    {
      moved[i] = still[i] - mean;
      s.still = fmax (s.still, fabs (moved[i]));
    }
  if (isnan (mean))
    return (FwSwing){ NAN, NAN, 0, NAN, NAN, 0 };
  double most = 0;
  /* Only what mass adds is added, so that harmonics beyond the last stay as they are. */
  for (int k = 1; k <= FW_HARMONICS && 2 * k <= n; k++)
    {
      Wave w = harmonic (still, n, k, cosine, sine);
      double r = k * crank / natural, gain = fw_magnification (r, damping),
             lag = fw_lag (r, damping);
      double c = gain * cos (lag) - 1, l = gain * sin (lag);
      add_wave (moved, n, k, (Wave){ w.even * c - w.odd * l, w.odd * c + w.even * l }, cosine,
                sine);
      double size = hypot (w.even, w.odd), added = size * fmax (gain - 1, 0);
      if (s.harmonic == 0 ? size > 0 : added > most)
        {
          most = added;
          s.harmonic = k;
          s.amplitude = size * gain;
          s.magnification = gain;
        }
    }
  for (int i = 0; i < n; i++)
    if (fabs (moved[i]) > s.swing)
      {
        s.swing = fabs (moved[i]);
        s.at = i;
      }
  return s;
}
