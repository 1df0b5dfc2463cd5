/* Motion laid over the sculpture: traces, ghosts, swept field, stops, throw circles, grips. */
#include "draw/overlay.h"

#define TRACE_STEPS 72

/* ---- Outline of a member on the page: its sheet, or the profile of its solid ---- */

int
fw_member_on_page (const FwDrawing *d, const FwPose *pose, int member, FwVec2 *out)
{
  const FwMechanism *m = d->scene->mechanism;
  int n = fw_panel_on_page (d->scene, &d->camera, pose, member, out);
  const FwSolid *solid = &m->design->panels[m->members[member].panel].solid;
  if (n > 0 || solid->n_sections < 2)
    return n;
  int shown = MIN (solid->n_sections, FW_MOST_OUTLINE / 2); /* of more, as many evenly */
  const FwFrame *f = &pose->members[member].motion.at;
  for (int side = 0; side < 2; side++)
    for (int k = 0; k < shown; k++)
      {
        gint64 along = side == 0 ? k : shown - 1 - k;
        const FwSection *s = &solid->sections[along * (solid->n_sections - 1) / (shown - 1)];
        out[n++] = fw_drawing_project (
            d, fw_frame_to_world (f, fw_vec3 (s->at_mm, 0, side == 0 ? s->high_mm : s->low_mm)));
      }
  return n;
}

void
fw_overlay_swept (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  const FwMechanism *m = d->scene->mechanism;
  FwPose *pose = d->scene->scratch;
  if (pose == NULL)
    return;
  for (int step = 0; step < TRACE_STEPS / 2; step++)
    {
      fw_pose_solve (pose, m, 4 * G_PI * step / TRACE_STEPS);
      for (int i = 0; i < m->n_members; i++)
        {
          FwVec2 p[FW_MOST_OUTLINE];
          int n = pose->members[i].closure == FW_CLOSES ? fw_member_on_page (d, pose, i, p) : 0;
          /* One sense of turning, so that overlapping outlines add up and never cancel. */
          if (n > 0 && fw_polygon_area (p, n) < 0)
            for (int a = 0, b = n - 1; a < b; a++, b--)
              {
                FwVec2 swap = p[a];
                p[a] = p[b];
                p[b] = swap;
              }
          fw_path_polygon (cr, p, n);
        }
    }
  fw_set_colour (cr, fw_colour_fade (style->motion, 0.11));
  cairo_fill (cr);
}

/* Before: dashed outline in ink. After: outline and a veil in the accent. Nearer in time is
 * stronger. */
void
fw_overlay_ghosts (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  static const double offsets[6] = { -45, -30, -15, 45, 30, 15 },
                      strength[6] = { 0.3, 0.5, 0.75, 0.3, 0.55, 0.85 };
  const FwMechanism *m = d->scene->mechanism;
  FwPose *pose = d->scene->scratch;
  if (pose == NULL)
    return;
  const double dashes[2] = { 4 * style->thin, 3 * style->thin };
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, style->thin);
  for (int g = 0; g < 6; g++)
    {
      fw_pose_solve (pose, m, d->scene->pose->crank + offsets[g] * G_PI / 180);
      for (int i = 0; i < m->n_members; i++)
        {
          FwVec2 p[FW_MOST_OUTLINE];
          int n = pose->members[i].closure == FW_CLOSES ? fw_member_on_page (d, pose, i, p) : 0;
          fw_path_polygon (cr, p, n);
        }
      gboolean after = offsets[g] > 0;
      if (after)
        {
          fw_set_colour (cr, fw_colour_fade (style->motion, 0.14 * strength[g]));
          cairo_fill_preserve (cr);
        }
      cairo_set_dash (cr, dashes, after ? 0 : 2, 0);
      fw_set_colour (cr,
                     fw_colour_fade (after ? style->motion : style->faint_ink, 0.8 * strength[g]));
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

/* ---- Where hanging panels would rest ---- */

#define SEEN_PX 1.5 /* nearer than this the ghost line would only blur the edge */

static gboolean
stands_apart (const FwVec2 *a, const FwVec2 *b, int n)
{
  for (int i = 0; i < n; i++)
    if (fw_vec2_distance (a[i], b[i]) > SEEN_PX)
      return TRUE;
  return FALSE;
}

void
fw_overlay_rest (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPose *rest)
{
  const FwMechanism *m = d->scene->mechanism;
  const double dashes[2] = { 4 * style->thin, 3 * style->thin };
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, style->thin);
  cairo_set_dash (cr, dashes, 2, 0);
  fw_set_colour (cr, style->faint_ink);
  for (int i = 0; i < m->n_members; i++)
    {
      FwVec2 there[FW_MOST_OUTLINE], here[FW_MOST_OUTLINE];
      if (rest->members[i].closure != FW_CLOSES)
        continue;
      int n = fw_member_on_page (d, rest, i, there);
      if (n == 0 || fw_member_on_page (d, d->scene->pose, i, here) != n || !stands_apart (there, here, n))
        continue;
      fw_path_polygon (cr, there, n);
      cairo_stroke (cr);
    }
  cairo_restore (cr);
}

/* ---- Traces ---- */

static gboolean
is_tip (const FwMechanism *m, int member)
{
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].parent == member)
      return FALSE;
  return TRUE;
}

typedef struct
{
  int member; /* FW_ON_BODY: the datum */
  FwVec3 local;
} Traced;

static int
traced_points (const FwMechanism *m, Traced *list, int capacity)
{
  int n = 0;
  if (m->body_pin >= 0 && n < capacity)
    list[n++] = (Traced){ FW_ON_BODY, { 0, 0, 0 } };
  for (int i = 0; i < m->n_members && n < capacity; i++)
    if (is_tip (m, i))
      {
        FwVec2 tip = fw_form_tip (m->design, m->members[i].panel);
        list[n++] = (Traced){ i, { tip.x, tip.y, 0 } };
      }
  return n;
}

/* Round where one could tell, else square: squares cost a third. */
static void
path_dot (cairo_t *cr, FwVec2 p, double half)
{
  if (half < 1.6)
    cairo_rectangle (cr, p.x - 0.9 * half, p.y - 0.9 * half, 1.8 * half, 1.8 * half);
  else
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, p.x, p.y, half, 0, 2 * G_PI);
    }
}

enum
{
  MOST_TRACED = 24
};

typedef struct
{
  FwVec2 p[MOST_TRACED];
  gboolean known[MOST_TRACED];
} TraceStep;

/* Where the traced points are at a step of the turn. */
static void
trace_step (const FwDrawing *d, const Traced *list, int n, int step, TraceStep *at)
{
  FwPose *pose = d->scene->scratch;
  fw_pose_solve (pose, d->scene->mechanism, 2 * G_PI * (step % TRACE_STEPS) / TRACE_STEPS);
  for (int i = 0; i < n; i++)
    {
      gboolean body = list[i].member == FW_ON_BODY;
      const FwFrame *f = body ? &pose->body.motion.at : &pose->members[list[i].member].motion.at;
      FwClosure closure = body ? pose->body.closure : pose->members[list[i].member].closure;
      at->p[i] = fw_drawing_project (d, fw_frame_to_world (f, list[i].local));
      at->known[i] = closure == FW_CLOSES;
    }
}

void
fw_overlay_trace_dots (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  Traced list[MOST_TRACED];
  if (d->scene->scratch == NULL)
    return;
  int n = traced_points (d->scene->mechanism, list, MOST_TRACED);
  for (int k = 0; k < TRACE_STEPS; k++)
    {
      TraceStep at;
      trace_step (d, list, n, k, &at);
      /* A dot each 5 degrees of crank, a heavier one each 30: where they stand apart it goes fast. */
      for (int i = 0; i < n; i++)
        if (at.known[i])
          path_dot (cr, at.p[i], (k % 6 == 0 ? 1.75 : 1.15) * style->thin);
    }
  cairo_fill (cr);
}

/* An arrowhead a little ahead of where it is now. */
static void
path_trace_arrow (cairo_t *cr, FwVec2 a, FwVec2 b, const FwStyle *style)
{
  double length = fw_vec2_distance (a, b), s = 3.6 * style->wide;
  if (length < 0.05 * style->wide)
    return;
  FwVec2 dir = fw_vec2 ((b.x - a.x) / length, (b.y - a.y) / length);
  cairo_move_to (cr, a.x + dir.x * s, a.y + dir.y * s);
  cairo_line_to (cr, a.x - dir.x * s - dir.y * 0.6 * s, a.y - dir.y * s + dir.x * 0.6 * s);
  cairo_line_to (cr, a.x - dir.x * s + dir.y * 0.6 * s, a.y - dir.y * s - dir.x * 0.6 * s);
  cairo_close_path (cr);
}

void
fw_overlay_trace_arrows (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  Traced list[MOST_TRACED];
  TraceStep a, b;
  if (d->scene->scratch == NULL)
    return;
  int n = traced_points (d->scene->mechanism, list, MOST_TRACED);
  double turns = d->scene->pose->crank / (2 * G_PI);
  int step = (int)floor ((turns - floor (turns)) * TRACE_STEPS) + 2;
  trace_step (d, list, n, step, &a);
  trace_step (d, list, n, step + 1, &b);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (int i = 0; i < n; i++)
    if (a.known[i] && b.known[i])
      path_trace_arrow (cr, a.p[i], b.p[i], style);
  fw_set_colour (cr, style->motion);
  cairo_fill (cr);
}

/* ---- Stops ---- */

double
fw_stop_reach (const FwScene *scene, int member)
{
  return 0.34 * scene->mechanism->members[member].span_mm;
}

FwVec3
fw_stop_point (const FwScene *scene, int member, double angle, double reach)
{
  const FwMember *m = &scene->mechanism->members[member];
  const FwFrame *parent = m->parent == FW_ON_BODY ? &scene->pose->body.motion.at
                                                  : &scene->pose->members[m->parent].motion.at;
  FwVec3 u = fw_vec3_along (fw_vec3_along (m->fixed[0], cos (angle), m->even[0]), sin (angle),
                            m->odd[0]);
  return fw_vec3_along (scene->pose->members[member].motion.at.origin, reach,
                        fw_frame_turn (parent, u));
}

static void
path_wedge (cairo_t *cr, const FwDrawing *d, int member, double angle, double outward)
{
  double reach = fw_stop_reach (d->scene, member), lean = outward * 0.11;
  const FwVec3 corners[3] = { fw_stop_point (d->scene, member, angle, 0.82 * reach),
                              fw_stop_point (d->scene, member, angle, 1.06 * reach),
                              fw_stop_point (d->scene, member, angle + lean, 1.06 * reach) };
  FwVec2 p[3];
  for (int i = 0; i < 3; i++)
    p[i] = fw_drawing_project (d, corners[i]);
  fw_path_polygon (cr, p, 3);
}

void
fw_overlay_stops (cairo_t *cr, const FwDrawing *d, const FwStyle *style, gboolean wedges)
{
  const FwMechanism *m = d->scene->mechanism;
  for (int i = 0; i < m->n_members; i++)
    {
      const FwMember *member = &m->members[i];
      /* Seen along the panel an arc of stops is a mere line. */
      if (!member->has_stops
          || fabs (fw_vec3_dot (d->scene->pose->members[i].axis, d->axes.toward)) < 0.35)
        continue;
      double reach = fw_stop_reach (d->scene, i);
      FwVec2 arc[33];
      for (int k = 0; k <= 32; k++)
        arc[k] = fw_drawing_project (
            d, fw_stop_point (d->scene, i,
                              member->stop_min + (member->stop_max - member->stop_min) * k / 32,
                              0.94 * reach));
      fw_path_line (cr, arc, 33);
      fw_set_colour (cr, fw_colour_fade (style->ink, 0.7));
      cairo_set_line_width (cr, style->thin);
      cairo_stroke (cr);
      if (!wedges)
        continue;
      path_wedge (cr, d, i, member->stop_min, -1);
      path_wedge (cr, d, i, member->stop_max, 1);
      fw_set_colour (cr, fw_colour_fade (style->ink, 0.8));
      cairo_fill (cr);
    }
}

/* ---- Throw circles, in the view square to the crank ---- */

void
fw_overlay_throws (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  const FwCrank *crank = &d->scene->mechanism->design->crank;
  if (fabs (fw_vec3_dot (fw_crank_axis (crank->runs), d->axes.toward)) < 0.97)
    return;
  double most = 0;
  const double dashes[2] = { 4 * style->thin, 3 * style->thin };
  cairo_save (cr);
  cairo_set_dash (cr, dashes, 2, 0);
  for (int i = 0; i < crank->n_throws; i++)
    {
      double r = crank->throws[i].radius_mm * d->camera.scale;
      gboolean seen = FALSE;
      for (int k = 0; k < i; k++)
        seen = seen || crank->throws[k].radius_mm == crank->throws[i].radius_mm;
      most = fmax (most, r);
      if (seen || r < 2)
        continue;
      cairo_new_sub_path (cr);
      cairo_arc (cr, d->camera.x, d->camera.y, r, 0, 2 * G_PI);
    }
  fw_set_colour (cr, fw_colour_fade (style->ink, 0.45));
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  const double chain[4] = { 9 * style->thin, 3 * style->thin, 1.5 * style->thin, 3 * style->thin };
  cairo_set_dash (cr, chain, 4, 0);
  double arm = most + 8 * style->wide;
  cairo_move_to (cr, d->camera.x - arm, d->camera.y);
  cairo_line_to (cr, d->camera.x + arm, d->camera.y);
  cairo_move_to (cr, d->camera.x, d->camera.y - arm);
  cairo_line_to (cr, d->camera.x, d->camera.y + arm);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* ---- Grips ---- */

static void
path_bar_grip (cairo_t *cr, FwVec2 c, double s)
{
  cairo_move_to (cr, c.x, c.y - 1.5 * s);
  cairo_line_to (cr, c.x + 0.8 * s, c.y - 0.4 * s);
  cairo_line_to (cr, c.x + 0.8 * s, c.y + 0.4 * s);
  cairo_line_to (cr, c.x, c.y + 1.5 * s);
  cairo_line_to (cr, c.x - 0.8 * s, c.y + 0.4 * s);
  cairo_line_to (cr, c.x - 0.8 * s, c.y - 0.4 * s);
  cairo_close_path (cr);
}

static void
path_grip (cairo_t *cr, const FwHandle *h, double s)
{
  switch (h->kind)
    {
    case FW_HANDLE_ROD_END:
      fw_mark_path (cr, FW_MARK_DIAMOND, h->at, 0.9 * s);
      break;
    case FW_HANDLE_ROD_FOOT:
    case FW_HANDLE_GUIDE:
      cairo_rectangle (cr, h->at.x - 0.9 * s, h->at.y - 0.9 * s, 1.8 * s, 1.8 * s);
      break;
    case FW_HANDLE_ROD_LENGTH:
      path_bar_grip (cr, h->at, 0.8 * s);
      break;
    case FW_HANDLE_STOP:
      fw_mark_path (cr, FW_MARK_TRIANGLE, h->at, 0.85 * s);
      break;
    case FW_HANDLE_PIN:
    case FW_HANDLE_HINGE:
    case FW_HANDLE_POST_TOP:
      fw_mark_path (cr, FW_MARK_RING, h->at, h->kind == FW_HANDLE_HINGE ? 0.85 * s : s);
      break;
    }
}

/* A second sign inside, where two kinds share an outline. */
static void
path_grip_sign (cairo_t *cr, const FwHandle *h, double s)
{
  if (h->kind == FW_HANDLE_PIN)
    {
      cairo_move_to (cr, h->at.x, h->at.y);
      cairo_line_to (cr, h->at.x, h->at.y);
    }
  else if (h->kind == FW_HANDLE_HINGE)
    {
      cairo_move_to (cr, h->at.x - 0.45 * s, h->at.y);
      cairo_line_to (cr, h->at.x + 0.45 * s, h->at.y);
    }
  else if (h->kind == FW_HANDLE_POST_TOP)
    {
      cairo_move_to (cr, h->at.x, h->at.y - 0.55 * s);
      cairo_line_to (cr, h->at.x, h->at.y + 0.55 * s);
    }
  else if (h->kind == FW_HANDLE_GUIDE)
    {
      cairo_move_to (cr, h->at.x - 0.4 * s, h->at.y);
      cairo_line_to (cr, h->at.x + 0.4 * s, h->at.y);
      cairo_move_to (cr, h->at.x, h->at.y - 0.4 * s);
      cairo_line_to (cr, h->at.x, h->at.y + 0.4 * s);
    }
}

double
fw_handle_size (const FwStyle *style)
{
  return 5.2 * style->size * sqrt (style->wide / (1.5 * style->size));
}

void
fw_overlay_handles (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  FwHandle handles[256];
  int n = MIN (fw_view_handles (d->scene, &d->camera, handles, 256), 256);
  double s = fw_handle_size (style);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (int i = n - 1; i >= 0; i--)
    {
      path_grip (cr, &handles[i], s);
      fw_set_colour (cr, style->panel_ground);
      cairo_fill_preserve (cr);
      fw_set_colour (cr, style->ink);
      cairo_set_line_width (cr, style->wide);
      cairo_stroke (cr);
      path_grip_sign (cr, &handles[i], s);
      cairo_set_line_width (cr, handles[i].kind == FW_HANDLE_PIN ? 2.2 * style->wide : style->wide);
      cairo_stroke (cr);
    }
}
