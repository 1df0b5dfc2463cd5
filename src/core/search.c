#include "core/search.h"

#include <math.h>

#define GOLDEN 0.3819660112501051

static double
high_if_nan (double y)
{
  return isnan (y) ? INFINITY : y;
}

double
fw_least (FwFunction f, void *context, double a, double b, double c, double *value)
{
  double x = b, w = b, v = b, step = 0, last = 0;
  double fx = high_if_nan (f (context, x)), fw = fx, fv = fx;
  for (int i = 0; i < 60; i++)
    {
      double middle = (a + c) / 2, tolerance = 1e-9 * fabs (x) + 1e-10;
      if (fabs (x - middle) <= 2 * tolerance - (c - a) / 2)
        break;
      double p = 0, q = 0, r = 0;
      if (fabs (last) > tolerance && isfinite (fw) && isfinite (fv))
        {
          r = (x - w) * (fx - fv);
          q = (x - v) * (fx - fw);
          p = (x - v) * q - (x - w) * r;
          q = 2 * (q - r);
          p = q > 0 ? -p : p;
          q = fabs (q);
        }
      if (fabs (p) >= fabs (q * last / 2) || p <= q * (a - x) || p >= q * (c - x))
        {
          last = x < middle ? c - x : a - x;
          step = GOLDEN * last;
        }
      else
        {
          last = step;
          step = p / q;
          if (x + step - a < 2 * tolerance || c - x - step < 2 * tolerance)
            step = x < middle ? tolerance : -tolerance;
        }
      double u = x + (fabs (step) >= tolerance ? step : step > 0 ? tolerance : -tolerance);
      double fu = high_if_nan (f (context, u));
      if (fu <= fx)
        {
          *(u < x ? &c : &a) = x;
          v = w, fv = fw, w = x, fw = fx, x = u, fx = fu;
          continue;
        }
      *(u < x ? &a : &c) = u;
      if (fu <= fw || w == x)
        v = w, fv = fw, w = u, fw = fu;
      else if (fu <= fv || v == x || v == w)
        v = u, fv = fu;
    }
  *value = fx;
  return x;
}

double
fw_edge (FwPredicate f, void *context, double a, double b)
{
  for (int i = 0; i < 60 && fabs (b - a) > 1e-9; i++)
    {
      double middle = (a + b) / 2;
      *(f (context, middle) ? &b : &a) = middle;
    }
  return b;
}

double
fw_root (FwFunction f, void *context, double a, double b)
{
  double fa = f (context, a), fb = f (context, b);
  if (fa == 0)
    return a;
  for (int i = 0; i < 80 && fb != 0 && fabs (b - a) > 1e-12; i++)
    {
      double x = b - fb * (b - a) / (fb - fa);
      if (!(fmin (a, b) < x && x < fmax (a, b)))
        x = (a + b) / 2;
      double fx = f (context, x);
      if (isnan (fx))
        break;
      if ((fx > 0) != (fb > 0))
        a = b, fa = fb;
      else
        fa /= 2;
      b = x;
      fb = fx;
    }
  return b;
}
