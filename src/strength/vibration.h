/* Closed forms of vibration: natural frequencies of beams, and how much a driven thing swings. SI.
 */
#pragma once

/* Of hand-made things with rods, glue and paper; common practice, without source. */
#define FW_DAMPING 0.05

/* n-th root (from 1) of a cantilever of mass m with a mass M = ratio * m at its tip (no rotary
 * inertia): 1 + cos x cosh x = ratio x (sin x cosh x - cos x sinh x); omega = x^2 sqrt (EI / (m
 * L^3)). */
double fw_cantilever_root (double ratio, int n);

/* First frequency of the same, rad/s, by Rayleigh's quotient: sqrt (3EI / ((M + 33/140 m) L^3)). */
double fw_cantilever_rayleigh (double bending, double length, double own_mass, double tip_mass);

/* First frequency of a pin-ended beam, rad/s: (pi/L)^2 sqrt (EI / mass per length), times
 * sqrt (1 + pull / Euler's load) under a pull. 0 from Euler's load on. */
double fw_supported_frequency (double bending, double length, double per_length, double pull);

/* Movement of the sprung thing over that of its moving foot (the same as force passed on over
 * force), a ratio; r = driven over natural frequency, a ratio, as the damping is: sqrt (1 + (2 z r)^2) / sqrt ((1 - r^2)^2 + (2 z r)^2).
 */
double fw_transmissibility (double r, double damping);

/* Movement under a swinging force over that under the same force at rest, and how far it lags
 * (rad). */
double fw_magnification (double r, double damping);
double fw_lag (double r, double damping);

/* What natural frequency makes of a slow swing: `still` holds one turn in n equal steps of what the
 * part would do if it had no mass. Each harmonic up to FW_HARMONICS (and n/2) is magnified by
 * itself. */
#define FW_HARMONICS 24

typedef struct
{
  double still, swing;  /* greatest size of the movement about its mean, without and with mass, unit of the row */
  int harmonic;         /* that adds most, 1 = once a turn; 0: nothing moves */
  double amplitude;     /* of that harmonic, with mass, unit of the row */
  double magnification; /* of that harmonic, a ratio */
  int at;               /* step of the greatest movement */
} FwSwing;

/* crank and natural: rad/s. NaN anywhere in the row gives NaN. n up to FW_SWING_STEPS. */
#define FW_SWING_STEPS 360
FwSwing fw_swing (const double *still, int n, double crank, double natural, double damping);
