/* The parallel projection: axes of each view in the world, and page vectors back into the world. */
#pragma once

#include "draw/view.h"

G_BEGIN_DECLS

/* Unit world vectors that lie to the right, up, and towards the viewer on the page. */
typedef struct
{
  FwVec3 right, up, toward;
} FwViewAxes;

/* The same for every pose and scale. */
FwViewAxes fw_view_axes (FwView view);

/* Page vector (px) of a world vector (mm). */
FwVec2 fw_camera_project_vector (const FwCamera *camera, FwVec3 world);

/* A page vector as c1 e1 + c2 e2, two world directions. Where one of them is seen end-on (its
 * projection shorter than `least` of its length) its coefficient is 0 and the other follows the
 * page vector as near as it can. Returns bit 0 for c1, bit 1 for c2: which were determined. */
int fw_camera_resolve (const FwCamera *camera, FwVec3 e1, FwVec3 e2, double dx, double dy,
                       double least, double *c1, double *c2);

G_END_DECLS
