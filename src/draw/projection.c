#include "draw/projection.h"

/* Three-quarter: from ahead, to the sculpture's right, and a little above. Fixed numbers, so that
 * no trigonometry is needed: azimuth 36.87 deg from ahead to the right (3-4-5), elevation 16.26 deg
 * (7-24-25). */
#define AHEAD 0.8
#define RIGHT 0.6
#define LEVEL 0.96
#define ABOVE 0.28

FwViewAxes
fw_view_axes (FwView view)
{
  if (view == FW_VIEW_FRONT)
    return (FwViewAxes){ { -1, 0, 0 }, { 0, 0, 1 }, { 0, 1, 0 } };
  if (view == FW_VIEW_SIDE)
    return (FwViewAxes){ { 0, 1, 0 }, { 0, 0, 1 }, { 1, 0, 0 } };
  FwVec3 toward = fw_vec3 (RIGHT * LEVEL, AHEAD * LEVEL, ABOVE);
  FwVec3 right = fw_vec3 (-AHEAD, RIGHT, 0);
  return (FwViewAxes){ right, fw_vec3_cross (toward, right), toward };
}

FwVec2
fw_camera_project (const FwCamera *camera, FwVec3 world, double *depth)
{
  FwViewAxes axes = fw_view_axes (camera->view);
  if (depth != NULL)
    *depth = fw_vec3_dot (axes.toward, world);
  return (FwVec2){ camera->x + camera->scale * fw_vec3_dot (axes.right, world),
                   camera->y - camera->scale * fw_vec3_dot (axes.up, world) };
}

FwVec2
fw_camera_project_vector (const FwCamera *camera, FwVec3 world)
{
  FwViewAxes axes = fw_view_axes (camera->view);
  return (FwVec2){ camera->scale * fw_vec3_dot (axes.right, world),
                   -camera->scale * fw_vec3_dot (axes.up, world) };
}

FwVec3
fw_camera_unproject_vector (const FwCamera *camera, double dx, double dy)
{
  if (!(camera->scale > 0))
    return fw_vec3 (0, 0, 0);
  FwViewAxes axes = fw_view_axes (camera->view);
  return fw_vec3_along (fw_vec3_scale (axes.right, dx / camera->scale), -dy / camera->scale,
                        axes.up);
}

FwCamera
fw_camera_fit (FwView view, FwBox extent, FwBox page, double margin)
{
  double room_x = fmax (page.width - 2 * margin, 1), room_y = fmax (page.height - 2 * margin, 1);
  double width = fmax (extent.width, 1e-6), height = fmax (extent.height, 1e-6);
  double scale = fmin (room_x / width, room_y / height);
  return (FwCamera){ .view = view,
                     .scale = scale,
                     .x = page.x + page.width / 2 - scale * (extent.x + extent.width / 2),
                     .y = page.y + page.height / 2 - scale * (extent.y + extent.height / 2) };
}

int
fw_camera_resolve (const FwCamera *camera, FwVec3 e1, FwVec3 e2, double dx, double dy, double least,
                   double *c1, double *c2)
{
  FwVec2 p1 = fw_camera_project_vector (camera, e1), p2 = fw_camera_project_vector (camera, e2);
  double n1 = hypot (p1.x, p1.y), n2 = hypot (p2.x, p2.y);
  bool seen1 = n1 > least * camera->scale * fw_vec3_length (e1);
  bool seen2 = n2 > least * camera->scale * fw_vec3_length (e2);
  double det = p1.x * p2.y - p1.y * p2.x;
  *c1 = *c2 = 0;
  if (seen1 && seen2 && fabs (det) > 0.05 * n1 * n2)
    {
      *c1 = (dx * p2.y - dy * p2.x) / det;
      *c2 = (p1.x * dy - p1.y * dx) / det;
      return 3;
    }
  if (seen1 && (!seen2 || n1 >= n2))
    {
      *c1 = (dx * p1.x + dy * p1.y) / (n1 * n1);
      return 1;
    }
  if (!seen2)
    return 0;
  *c2 = (dx * p2.x + dy * p2.y) / (n2 * n2);
  return 2;
}
