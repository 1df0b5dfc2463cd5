/* Closed forms for beams, columns and shafts: small deflections, Hooke's law, no shear deflection.
 *
 * Any consistent units (N, m, Pa as used here). `bending` is E I, `torsion` is G J. All are
 * textbook results (Timoshenko, Strength of Materials; Timoshenko and Gere, Theory of Elastic
 * Stability). */
#pragma once

/* Of a beam's most moved point: sag along the load, slope in rad. */
typedef struct
{
  double sag, slope;
} FwBeamSag;

/* Held like a wall at one end, loaded at the free one: F L^3 / 3EI, F L^2 / 2EI; M L^2 / 2EI, M L /
 * EI. N or N m, m, N m^2. */
FwBeamSag fw_cantilever_force (double force, double length, double bending);
FwBeamSag fw_cantilever_moment (double moment, double length, double bending);

/* The outer `loaded` part carries a uniform load per length; at the free end. */
FwBeamSag fw_cantilever_outer_load (double per_length, double loaded, double length,
                                    double bending);

/* Resting on both ends: sag in the middle, slope at the ends. F L^3 / 48EI and F L^2 / 16EI;
 * 5 w L^4 / 384EI and w L^3 / 24EI. N or N/m, m, N m^2. */
FwBeamSag fw_supported_force (double force, double length, double bending);
FwBeamSag fw_supported_load (double per_length, double length, double bending);

/* Resting at its end and at `back` from there, and sticking out by `length`: tip under a force and
 * a moment there that both bend it the same way (N, N m, m, N m^2). With back = 0 it is the cantilever. */
FwBeamSag fw_overhang (double force, double moment, double back, double length, double bending);

/* How a column's ends are held. */
typedef enum
{
  FW_ENDS_PINNED,        /* K = 1 */
  FW_ENDS_CLAMPED,       /* 0.5 */
  FW_ENDS_CLAMP_AND_PIN, /* 0.7 (0.699) */
  FW_ENDS_FLAGPOLE,      /* clamped and free: 2 */
} FwEnds;

/* K, a ratio: the length of a pinned column that buckles under the same load, over this one's. */
double fw_ends_factor (FwEnds ends);

/* Euler's load pi^2 EI / (K L)^2. */
double fw_column_euler (double length, double bending, double factor);

/* The slenderest length at which Euler's stress is no more than `stress`: pi / K sqrt (E I / (A
 * stress)). */
double fw_column_longest (double area, double second, double young, double stress, double factor);

/* Buckling load of a post on a pin, guided at `back` from it and free beyond, with all its push put
 * in at the free tip: the least k^2 EI with k L tan kL = (L / a) (k a)^2 / (1 - k a cot ka).
 * Derived in docs/strength.md; with a = 0 it is the flagpole's. */
double fw_column_guided (double back, double length, double bending);

/* A column with an initial bow (half a sine) under a push, pin-ended: the bow grows to bow / (1 -
 * P/Pe), and shrinks under a pull (P negative). INFINITY from Euler's load on. */
double fw_column_bow (double push, double euler, double bow);

/* Greatest stress of a pin-ended column pushed off its axis (secant formula):
 * P/A (1 + e c A / I sec (L/2 sqrt (P / EI))). INFINITY from Euler's load on. */
double fw_column_secant (double push, double off_axis, double length, double area, double second,
                         double edge, double young);

/* T L / G J, rad. */
double fw_shaft_twist (double torque, double length, double torsion);

/* Stress of bending (or pull) and torsion together. */
double fw_stress_principal (double direct, double shear); /* the greater principal stress */
double fw_stress_shear (double direct, double shear);     /* greatest shear stress */
double fw_stress_mises (double direct, double shear);     /* sqrt (s^2 + 3 t^2) */
