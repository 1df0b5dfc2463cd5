/* From a drag on the page to new numbers. Parts that the number hangs on stand still meanwhile, so
 * what is dragged along a frame's axes moves by just as much. */
#include "draw/overlay.h"

#define LEAST_SEEN 0.2 /* share of its length below which a direction counts as seen end-on */

typedef struct
{
  const FwScene *scene;
  const FwCamera *camera;
  double dx, dy;
  FwDragChange *changes;
  int n;
} Drag;

static void
change (Drag *g, FwParamKind kind, int index, int component, double value)
{
  FwParam param = { kind, index, component };
  double lower, upper;
  fw_param_limits (g->scene->mechanism->design, param, &lower, &upper);
  g->changes[g->n++] = (FwDragChange){ param, CLAMP (value, lower, upper) };
}

static double
present (const Drag *g, FwParamKind kind, int index, int component)
{
  return fw_param_get (g->scene->mechanism->design, (FwParam){ kind, index, component });
}

/* The two of three directions that the view shows best take up the drag. */
static void
change_point (Drag *g, FwParamKind kind, int index, const FwVec3 axes[3])
{
  int best = 0, seen = 0;
  double most = -1;
  FwVec2 p[3];
  for (int k = 0; k < 3; k++)
    p[k] = fw_camera_project_vector (g->camera, axes[k]);
  for (int k = 0; k < 3; k++)
    {
      int j = (k + 1) % 3;
      double det = fabs (p[k].x * p[j].y - p[k].y * p[j].x);
      if (det > most * (1 + 1e-9))
        {
          most = det;
          best = k;
        }
    }
  double c[2];
  int first = best, second = (best + 1) % 3;
  seen = fw_camera_resolve (g->camera, axes[first], axes[second], g->dx, g->dy, LEAST_SEEN, &c[0],
                            &c[1]);
  if (seen & 1)
    change (g, kind, index, first, present (g, kind, index, first) + c[0]);
  if (seen & 2)
    change (g, kind, index, second, present (g, kind, index, second) + c[1]);
}

/* The axes along which the file counts a point of a left-hand part run mirrored where its frame
 * does not: across the body or the world, and across a middle panel. */
static void
axes_of (const FwFrame *f, gboolean mirrored, int across, FwVec3 axes[3])
{
  axes[0] = f->u;
  axes[1] = f->v;
  axes[2] = f->w;
  if (mirrored)
    axes[across] = fw_vec3_scale (axes[across], -1);
}

static void
drag_pin (Drag *g, const FwHandle *handle)
{
  const FwDesign *d = g->scene->mechanism->design;
  int i = handle->index;
  double r = d->crank.throws[i].radius_mm,
         angle = d->crank.throws[i].phase_deg * G_PI / 180 + g->scene->pose->crank;
  FwVec3 h = fw_crank_h (d->crank.runs), z = fw_vec3 (0, 0, 1),
         axis = fw_crank_axis (d->crank.runs);
  double dh, dz, along;
  FwVec3 toward = fw_view_axes (g->camera->view).toward;
  if (fabs (fw_vec3_dot (axis, toward)) > 0.35)
    {
      if (fw_camera_resolve (g->camera, h, z, g->dx, g->dy, LEAST_SEEN, &dh, &dz) != 3)
        return;
      double new_h = r * sin (angle) + dh, new_z = r * cos (angle) + dz;
      double radius = hypot (new_h, new_z);
      change (g, FW_PARAM_THROW_RADIUS, i, 0, radius);
      if (radius < 1e-9)
        return;
      double turned = remainder (atan2 (new_h, new_z) - angle, 2 * G_PI) * 180 / G_PI;
      change (g, FW_PARAM_THROW_PHASE, i, 0, d->crank.throws[i].phase_deg + turned);
      return;
    }
  int seen = fw_camera_resolve (g->camera, axis, z, g->dx, g->dy, LEAST_SEEN, &along, &dz);
  if (seen & 1)
    change (g, FW_PARAM_THROW_STATION, i, 0,
            d->crank.throws[i].station_mm + (handle->component == 1 ? -along : along));
  /* Up and down is radius only while the pin stands well up or down: near level it would run away.
   */
  if ((seen & 2) && fabs (cos (angle)) > 0.5)
    change (g, FW_PARAM_THROW_RADIUS, i, 0, fmax (r + dz / cos (angle), 0));
}

static void
drag_rod_end (Drag *g, int link)
{
  const FwMechanism *m = g->scene->mechanism;
  FwVec3 axes[3];
  axes_of (&g->scene->pose->members[m->links[link].member].motion.at, FALSE, 0, axes);
  change_point (g, FW_PARAM_ROD_AT, m->links[link].rod, axes);
}

static void
drag_rod_foot (Drag *g, int link)
{
  static const FwFrame world = { { 0, 0, 0 }, { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
  const FwMechanism *m = g->scene->mechanism;
  const FwLink *l = &m->links[link];
  FwVec3 axes[3];
  if (l->from == FW_FROM_THROW)
    return;
  if (l->from == FW_FROM_PANEL)
    {
      gboolean begins = l->left && !m->members[l->index].left;
      axes_of (&g->scene->pose->members[l->index].motion.at, begins,
               fw_across_axis (m->design, m->members[l->index].panel), axes);
    }
  else
    axes_of (l->from == FW_FROM_BASE ? &world : &g->scene->pose->body.motion.at, l->left, 0, axes);
  change_point (g, FW_PARAM_ROD_FROM, l->rod, axes);
}

static void
drag_rod_length (Drag *g, int link)
{
  const FwMechanism *m = g->scene->mechanism;
  FwVec3 line
      = fw_vec3_sub (g->scene->pose->links[link].to.at, g->scene->pose->links[link].from.at);
  double length = fw_vec3_length (line), along, none;
  if (length <= 0)
    return;
  FwVec3 dir = fw_vec3_scale (line, 1 / length);
  if (fw_camera_resolve (g->camera, dir, fw_vec3 (0, 0, 0), g->dx, g->dy, LEAST_SEEN, &along, &none)
      == 1)
    change (g, FW_PARAM_ROD_LENGTH, m->links[link].rod, 0, m->links[link].length_mm + along);
}

static void
drag_hinge (Drag *g, int member)
{
  const FwMechanism *m = g->scene->mechanism;
  const FwMember *part = &m->members[member];
  gboolean body = part->parent == FW_ON_BODY;
  gboolean begins = part->left && (body || !m->members[part->parent].left);
  int across = body ? 0 : fw_across_axis (m->design, m->members[part->parent].panel);
  FwVec3 axes[3];
  axes_of (body ? &g->scene->pose->body.motion.at
                : &g->scene->pose->members[part->parent].motion.at,
           begins, across, axes);
  change_point (g, FW_PARAM_PANEL_HINGE, part->panel, axes);
}

static void
drag_rail (Drag *g, FwVec3 pin, FwVec3 h)
{
  const FwDesign *d = g->scene->mechanism->design;
  double dh, dz;
  int seen
      = fw_camera_resolve (g->camera, h, fw_vec3 (0, 0, 1), g->dx, g->dy, LEAST_SEEN, &dh, &dz);
  double offset = d->body.offset_mm + dh;
  double level = g->scene->pose->body.z_mm + dz;
  if (seen & 1)
    change (g, FW_PARAM_BODY_OFFSET, 0, 0, offset);
  if (seen != 0)
    change (g, FW_PARAM_BODY_ROD, 0, 0, hypot (offset - fw_vec3_dot (pin, h), level - pin.z));
}

static void
drag_post_top (Drag *g)
{
  const FwMechanism *m = g->scene->mechanism;
  const FwDesign *d = m->design;
  FwVec3 h = fw_crank_h (d->crank.runs);
  if (m->body_pin < 0)
    {
      const FwVec3 axes[3] = { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
      change_point (g, FW_PARAM_BODY_AT, 0, axes);
      return;
    }
  FwVec3 pin = g->scene->pose->pins[m->body_pin].at;
  if (d->body.ride == FW_RIDE_RAIL)
    {
      drag_rail (g, pin, h);
      return;
    }
  FwVec3 post = fw_vec3_sub (g->scene->pose->body.motion.at.origin, pin);
  double length = fw_vec3_length (post), along, none;
  if (length <= 0)
    return;
  if (fw_camera_resolve (g->camera, fw_vec3_scale (post, 1 / length), fw_vec3 (0, 0, 0), g->dx,
                         g->dy, LEAST_SEEN, &along, &none)
      == 1)
    change (g, FW_PARAM_BODY_POST, 0, 0, d->body.post_mm + along);
}

static void
drag_guide (Drag *g)
{
  const FwDesign *d = g->scene->mechanism->design;
  gboolean sleeve = d->body.ride == FW_RIDE_SLEEVE;
  if (!sleeve && d->body.ride != FW_RIDE_ROCKER)
    return;
  FwParamKind kind = sleeve ? FW_PARAM_BODY_GUIDE : FW_PARAM_BODY_PIVOT;
  double dh, dz;
  int seen = fw_camera_resolve (g->camera, fw_crank_h (d->crank.runs), fw_vec3 (0, 0, 1), g->dx,
                                g->dy, LEAST_SEEN, &dh, &dz);
  if (seen & 1)
    change (g, kind, 0, 0, present (g, kind, 0, 0) + dh);
  if (seen & 2)
    change (g, kind, 0, 1, present (g, kind, 0, 1) + dz);
}

/* The angle whose point on the arc is nearest to where the hand is, found by steps along the arc.
 */
static void
drag_stop (Drag *g, const FwHandle *handle)
{
  const FwMember *m = &g->scene->mechanism->members[handle->index];
  double reach = fw_stop_reach (g->scene, handle->index);
  double start = handle->component == 0 ? m->stop_min : m->stop_max, angle = start;
  FwVec2 at
      = fw_camera_project (g->camera, fw_stop_point (g->scene, handle->index, start, reach), NULL);
  FwVec2 aim = fw_vec2 (at.x + g->dx, at.y + g->dy);
  for (int i = 0; i < 40; i++)
    {
      const double step = 1e-4;
      FwVec2 p = fw_camera_project (g->camera,
                                    fw_stop_point (g->scene, handle->index, angle, reach), NULL);
      FwVec2 q = fw_camera_project (
          g->camera, fw_stop_point (g->scene, handle->index, angle + step, reach), NULL);
      FwVec2 slope = fw_vec2 ((q.x - p.x) / step, (q.y - p.y) / step);
      double size = slope.x * slope.x + slope.y * slope.y;
      if (size < 1e-9)
        break;
      double move = ((aim.x - p.x) * slope.x + (aim.y - p.y) * slope.y) / size;
      angle += CLAMP (move, -0.3, 0.3);
      if (fabs (move) < 1e-9)
        break;
    }
  change (g, FW_PARAM_PANEL_STOP, m->panel, handle->component, angle * 180 / G_PI);
}

int
fw_view_drag (const FwScene *scene, const FwCamera *camera, const FwHandle *handle, double dx,
              double dy, FwDragChange changes[3])
{
  Drag g = { scene, camera, dx, dy, changes, 0 };
  if (!isfinite (dx) || !isfinite (dy) || !(camera->scale > 0))
    return 0;
  switch (handle->kind)
    {
    case FW_HANDLE_PIN:
      drag_pin (&g, handle);
      break;
    case FW_HANDLE_ROD_END:
      drag_rod_end (&g, handle->index);
      break;
    case FW_HANDLE_ROD_FOOT:
      drag_rod_foot (&g, handle->index);
      break;
    case FW_HANDLE_ROD_LENGTH:
      drag_rod_length (&g, handle->index);
      break;
    case FW_HANDLE_HINGE:
      drag_hinge (&g, handle->index);
      break;
    case FW_HANDLE_POST_TOP:
      drag_post_top (&g);
      break;
    case FW_HANDLE_GUIDE:
      drag_guide (&g);
      break;
    case FW_HANDLE_STOP:
      drag_stop (&g, handle);
      break;
    }
  return g.n;
}
