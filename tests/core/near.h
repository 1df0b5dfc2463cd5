/* Comparisons with the tolerance at the call, and what every test of the core needs. */
#pragma once

#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "core/turn.h"

#define RAD (G_PI / 180)

#define assert_near(a, b, tolerance)                                                               \
  G_STMT_START                                                                                     \
  {                                                                                                \
    double near_a = (a), near_b = (b), near_t = (tolerance);                                       \
    if (!(fabs (near_a - near_b) <= near_t))                                                       \
      {                                                                                            \
        char *near_s = g_strdup_printf ("%s = %.12g, %s = %.12g: apart by %.3g, allowed %.3g", #a, \
                                        near_a, #b, near_b, fabs (near_a - near_b), near_t);       \
        g_assertion_message (G_LOG_DOMAIN, __FILE__, __LINE__, G_STRFUNC, near_s);                 \
      }                                                                                            \
  }                                                                                                \
  G_STMT_END

/* A mechanism and one pose of it, solved. */
typedef struct
{
  FwDesign *design;
  FwMechanism *mechanism;
  FwPose *pose;
} Rig;

static inline Rig
rig_new (FwDesign *design)
{
  Rig rig = { .design = design };
  FwFault fault = { 0 };
  FwStatus status = fw_mechanism_build (design, &rig.mechanism, &fault);
  if (status != FW_OK)
    g_error ("refused: %s (%c %d %s)", fw_status_text (status), fault.kind, fault.index,
             fault.what);
  rig.pose = fw_pose_new (rig.mechanism);
  g_assert_nonnull (rig.pose);
  return rig;
}

static inline void
rig_free (Rig *rig)
{
  free (rig->pose);
  fw_mechanism_free (rig->mechanism);
  fw_design_free (rig->design);
}

static inline const FwPose *
rig_solve (Rig *rig, double crank_deg)
{
  fw_pose_solve (rig->pose, rig->mechanism, crank_deg * RAD);
  return rig->pose;
}

static inline double
rig_angle_deg (Rig *rig, int member, double crank_deg)
{
  rig_solve (rig, crank_deg);
  return fw_pose_angle (rig->pose, rig->mechanism, member) / RAD;
}
