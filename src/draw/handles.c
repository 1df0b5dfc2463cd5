/* What can be taken hold of in a view, and where it is. */
#include <glib/gi18n.h>

#include "draw/overlay.h"

typedef struct
{
  FwHandle *list;
  double *depth;
  int n, capacity;
  const FwCamera *camera;
} Grips;

static void
add (Grips *g, FwHandleKind kind, int index, int component, FwVec3 world)
{
  double depth;
  FwVec2 at = fw_camera_project (g->camera, world, &depth);
  if (g->n == g->capacity || !isfinite (at.x) || !isfinite (at.y))
    return;
  int i = g->n++;
  for (; i > 0 && g->depth[i - 1] < depth; i--)
    {
      g->list[i] = g->list[i - 1];
      g->depth[i] = g->depth[i - 1];
    }
  g->list[i] = (FwHandle){ .kind = kind, .index = index, .component = component, .at = at };
  g->depth[i] = depth;
}

static void
add_body_grips (Grips *g, const FwScene *scene)
{
  const FwMechanism *m = scene->mechanism;
  const FwBody *body = &m->design->body;
  FwVec3 h = fw_crank_h (m->design->crank.runs), axis = fw_crank_axis (m->design->crank.runs);
  add (g, FW_HANDLE_POST_TOP, 0, 0, scene->pose->body.motion.at.origin);
  if (m->body_pin < 0 || body->ride == FW_RIDE_RAIL)
    return;
  FwVec2 at = body->ride == FW_RIDE_SLEEVE ? body->guide_mm : body->pivot_mm;
  FwVec3 place = fw_vec3_add (fw_vec3_scale (h, at.x), fw_vec3 (0, 0, at.y));
  add (g, FW_HANDLE_GUIDE, 0, 0, fw_vec3_along (place, m->pins[m->body_pin].station_mm, axis));
}

int
fw_view_handles (const FwScene *scene, const FwCamera *camera, FwHandle *handles, int capacity)
{
  const FwMechanism *m = scene->mechanism;
  FwVec3 toward = fw_view_axes (camera->view).toward;
  Grips g = { handles, g_new (double, MAX (capacity, 1)), 0, capacity, camera };
  for (int i = 0; i < m->n_pins; i++)
    add (&g, FW_HANDLE_PIN, m->pins[i].throw_index, m->pins[i].twin ? 1 : 0,
         scene->pose->pins[i].at);
  add_body_grips (&g, scene);
  for (int i = 0; i < m->n_members; i++)
    {
      add (&g, FW_HANDLE_HINGE, i, 0, scene->pose->members[i].motion.at.origin);
      if (!m->members[i].has_stops
          || fabs (fw_vec3_dot (scene->pose->members[i].axis, toward)) < 0.35)
        continue;
      double reach = fw_stop_reach (scene, i);
      add (&g, FW_HANDLE_STOP, i, 0, fw_stop_point (scene, i, m->members[i].stop_min, reach));
      add (&g, FW_HANDLE_STOP, i, 1, fw_stop_point (scene, i, m->members[i].stop_max, reach));
    }
  for (int i = 0; i < m->n_links; i++)
    {
      FwVec3 from = scene->pose->links[i].from.at, to = scene->pose->links[i].to.at;
      add (&g, FW_HANDLE_ROD_END, i, 0, to);
      if (m->links[i].from != FW_FROM_THROW)
        add (&g, FW_HANDLE_ROD_FOOT, i, 0, from);
      FwVec2 a = fw_camera_project (camera, from, NULL), b = fw_camera_project (camera, to, NULL);
      if (fw_vec2_distance (a, b) > 0.25 * camera->scale * m->links[i].length_mm)
        add (&g, FW_HANDLE_ROD_LENGTH, i, 0, fw_vec3_scale (fw_vec3_add (from, to), 0.5));
    }
  g_free (g.depth);
  return g.n;
}

char *
fw_handle_label (const FwMechanism *m, const FwHandle *h)
{
  const FwDesign *d = m->design;
  switch (h->kind)
    {
    case FW_HANDLE_PIN:
      return g_strdup_printf (_ ("Pin of throw %s"), d->crank.throws[h->index].name);
    case FW_HANDLE_ROD_END:
      return g_strdup_printf (_ ("Where rod %s holds its panel"), m->links[h->index].name);
    case FW_HANDLE_ROD_FOOT:
      return g_strdup_printf (_ ("Foot of rod %s"), m->links[h->index].name);
    case FW_HANDLE_ROD_LENGTH:
      return g_strdup_printf (_ ("Length of rod %s"), m->links[h->index].name);
    case FW_HANDLE_HINGE:
      return g_strdup_printf (_ ("Hinge of %s"), m->members[h->index].name);
    case FW_HANDLE_POST_TOP:
      return g_strdup (d->body.ride == FW_RIDE_FIXED  ? _ ("Place of the body")
                       : d->body.ride == FW_RIDE_RAIL ? _ ("Length of the body's rod")
                                                      : _ ("Length of the post"));
    case FW_HANDLE_GUIDE:
      return g_strdup (d->body.ride == FW_RIDE_ROCKER ? _ ("Pivot of the link")
                                                      : _ ("Guide of the post"));
    case FW_HANDLE_STOP:
      return g_strdup_printf (h->component == 0 ? _ ("Lower stop of %s") : _ ("Upper stop of %s"),
                              m->members[h->index].name);
    }
  return g_strdup ("");
}
