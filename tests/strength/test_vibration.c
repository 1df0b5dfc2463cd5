/* Natural frequencies and swinging against published tables. */
#include <glib.h>
#include <math.h>

#include "near.h"
#include "strength/vibration.h"

/* Roots of 1 + cos x cosh x = 0 in every vibration text. */
static void
roots_of_a_bare_cantilever (void)
{
  const double roots[] = { 1.8751, 4.6941, 7.8548, 10.99557, 14.1372 };
  for (int n = 1; n <= 5; n++)
    assert_near (fw_cantilever_root (0, n), roots[n - 1], 6e-5);
  assert_near (pow (fw_cantilever_root (0, 1), 2), 3.51602, 6e-6);
}

/* Mathematical Problems in Engineering 2017, article 1568019, table 1: a tip mass equal to the
 * beam's. */
static void
roots_with_a_tip_mass (void)
{
  const double squares[] = { 1.557298, 16.25009, 50.89584, 105.1983, 179.2320 };
  for (int n = 1; n <= 5; n++)
    assert_near (pow (fw_cantilever_root (1, n), 2), squares[n - 1], squares[n - 1] * 1e-6);
}

/* Rayleigh's 33/140 is above the exact root by 1.47, 0.73, 0.15, 0.053 and 0.003 % for tip masses
 * of 0, 0.1, 0.5, 1 and 5 beam masses (own arithmetic on the frequency equation above). */
static void
error_of_rayleighs_quotient (void)
{
  const double ratios[] = { 0, 0.1, 0.5, 1, 5 }, percent[] = { 1.47, 0.73, 0.15, 0.053, 0.003 };
  const double within[] = { 0.006, 0.006, 0.006, 0.0006, 0.0006 };
  for (int i = 0; i < 5; i++)
    {
      double exact = pow (fw_cantilever_root (ratios[i], 1), 2);
      double quotient = fw_cantilever_rayleigh (1, 1, 1, ratios[i]);
      assert_near (100 * (quotient / exact - 1), percent[i], within[i]);
    }
}

/* The equation of texts on base excitation; numbers for a damping ratio of 0.1 are own arithmetic.
 */
static void
transmissibility (void)
{
  const double r[] = { 0.5, 1, 2, 3 }, tr[] = { 1.3282, 5.0990, 0.3559, 0.1454 };
  for (int i = 0; i < 4; i++)
    assert_near (fw_transmissibility (r[i], 0.1), tr[i], 6e-5);
  for (double damping = 0; damping < 1; damping += 0.1)
    assert_near (fw_transmissibility (sqrt (2), damping), 1, 1e-12);
}

static void
magnification (void)
{
  assert_near (fw_magnification (0, 0.05), 1, 1e-15);
  assert_near (fw_magnification (1, 0.05), 10, 1e-12);
  assert_near (fw_lag (1, 0.05), G_PI / 2, 1e-12);
}

static void
supported_beam_in_tension (void)
{
  double bare = fw_supported_frequency (4, 2, 1, 0);
  assert_near (bare, G_PI * G_PI / 4 * 2, 1e-12);
  assert_near (fw_supported_frequency (4, 2, 1, 3 * G_PI * G_PI), 2 * bare,
               1e-9); /* three times Euler's load */
  g_assert_cmpfloat (fw_supported_frequency (4, 2, 1, -2 * G_PI * G_PI), ==, 0);
}

/* A pure sine grows by the magnification, and nothing else comes in. */
static void
swing_of_one_harmonic (void)
{
  double row[72];
  for (int i = 0; i < 72; i++)
    row[i] = 3 + 2 * cos (3 * 2 * G_PI * i / 72 + 0.4);
  FwSwing s = fw_swing (row, 72, 2, 9, 0.05);
  g_assert_cmpint (s.harmonic, ==, 3);
  double gain = fw_magnification (6.0 / 9, 0.05);
  assert_near (s.amplitude, 2 * gain, 1e-9);
  assert_near (s.swing, 2 * gain, 0.02); /* the greatest of 72 samples */
  assert_near (s.still, 2, 0.02);
}

/* The answer against the equation of motion itself, stepped through many turns. */
static double
stepped_swing (double crank, double natural, double damping)
{
  const int n = 2000, turns = 60;
  double dt = 2 * G_PI / crank / n, x = 0, v = 0, most = 0;
  for (int i = 0; i < n * turns; i++)
    for (int half = 0; half < 2; half++)
      {
        double t = i * dt + half * dt / 2,
               drive = cos (crank * t) + 0.5 * sin (2 * crank * t) - 0.3 * cos (5 * crank * t);
        double a = natural * natural * (drive - x) - 2 * damping * natural * v;
        v += a * dt / 2;
        x += v * dt / 2;
        if (i > n * (turns - 1))
          most = fmax (most, fabs (x));
      }
  return most;
}

static void
swing_against_stepping (void)
{
  double row[180];
  for (int i = 0; i < 180; i++)
    {
      double a = 2 * G_PI * i / 180;
      row[i] = cos (a) + 0.5 * sin (2 * a) - 0.3 * cos (5 * a);
    }
  const double natural[] = { 3, 6.5, 10.2, 30 };
  for (int k = 0; k < 4; k++)
    {
      FwSwing s = fw_swing (row, 180, 2, natural[k], 0.05);
      double stepped = stepped_swing (2, natural[k], 0.05);
      assert_near (s.swing, stepped, 0.01 * stepped);
    }
}

static void
swing_of_a_stiff_part_is_still (void)
{
  double row[36];
  for (int i = 0; i < 36; i++)
    row[i] = i < 18 ? 1 : -1; /* all odd harmonics */
  FwSwing s = fw_swing (row, 36, 1, 1e6, 0.05);
  assert_near (s.swing, s.still, 1e-5);
  row[7] = NAN;
  g_assert_true (isnan (fw_swing (row, 36, 1, 10, 0.05).swing));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/vibration/roots of a bare cantilever", roots_of_a_bare_cantilever);
  g_test_add_func ("/vibration/roots with a tip mass", roots_with_a_tip_mass);
  g_test_add_func ("/vibration/error of Rayleigh's quotient", error_of_rayleighs_quotient);
  g_test_add_func ("/vibration/transmissibility", transmissibility);
  g_test_add_func ("/vibration/magnification", magnification);
  g_test_add_func ("/vibration/a supported beam in tension", supported_beam_in_tension);
  g_test_add_func ("/swing/one harmonic is magnified by itself", swing_of_one_harmonic);
  g_test_add_func ("/swing/agrees with stepping the equation of motion", swing_against_stepping);
  g_test_add_func ("/swing/a stiff part stays still, an open turn is not known",
                   swing_of_a_stiff_part_is_still);
  return g_test_run ();
}
