/* Bands of what is made, and what was built: laid out as numbers, then painted. */
#include "draw/spreadbands.h"

#define FAN_STEPS 8

const FwSpreadBand *
fw_spread_band_of (const FwScene *scene, FwQuantity quantity)
{
  for (int i = 0; i < scene->n_spreads; i++)
    if (scene->spreads[i].quantity.kind == quantity.kind && scene->spreads[i].quantity.index == quantity.index)
      return &scene->spreads[i];
  return NULL;
}

static gboolean
is_known (const FwSpreadBand *band, int step)
{
  int i = step % band->steps;
  return isfinite (band->low[i]) && isfinite (band->middle[i]) && isfinite (band->high[i]);
}

gboolean
fw_spread_at (const FwSpreadBand *band, double crank, FwSpreadValues *values)
{
  double place = crank / (2 * G_PI) * band->steps, below = floor (place), t = place - below;
  int a = ((int)below % band->steps + band->steps) % band->steps, b = (a + 1) % band->steps;
  if (!is_known (band, a) || !is_known (band, b))
    return FALSE;
  *values = (FwSpreadValues){ band->low[a] + t * (band->low[b] - band->low[a]),
                              band->middle[a] + t * (band->middle[b] - band->middle[a]),
                              band->high[a] + t * (band->high[b] - band->high[a]) };
  return TRUE;
}

gboolean
fw_spread_reach (const FwSpreadBand *band, double *least, double *most)
{
  *least = INFINITY;
  *most = -INFINITY;
  for (int i = 0; i < band->steps; i++)
    if (is_known (band, i))
      {
        *least = fmin (*least, band->low[i]);
        *most = fmax (*most, band->high[i]);
      }
  return *most >= *least;
}

int
fw_spread_outline (const FwSpreadBand *band, int from, FwVec2 *points, int *next)
{
  int first = from, n = 0;
  while (first <= band->steps && !is_known (band, first))
    first++;
  int last = first;
  while (last + 1 <= band->steps && is_known (band, last + 1))
    last++;
  *next = last + 1;
  if (first >= last) /* a single step is no area */
    return 0;
  for (int i = first; i <= last; i++)
    points[n++] = fw_vec2 (i, band->low[i % band->steps]);
  for (int i = last; i >= first; i--)
    points[n++] = fw_vec2 (i, band->high[i % band->steps]);
  return n;
}

/* ---- Strip ---- */

static void
path_edges (cairo_t *cr, const FwVec2 *p, int n)
{
  for (int half = 0; half < 2; half++)
    for (int i = 0; i < n / 2; i++)
      {
        FwVec2 q = p[half * n / 2 + i];
        if (i == 0)
          cairo_move_to (cr, q.x, q.y);
        else
          cairo_line_to (cr, q.x, q.y);
      }
}

static void
paint_band (cairo_t *cr, const FwStrip *s, const FwCurve *k, const FwSpreadBand *band)
{
  double width = s->field.right - s->field.left;
  FwVec2 *p = g_new (FwVec2, 2 * (band->steps + 1));
  for (int from = 0, next; from <= band->steps; from = next)
    {
      int n = fw_spread_outline (band, from, p, &next);
      if (n == 0)
        continue;
      for (int i = 0; i < n; i++)
        p[i] = fw_vec2 (s->field.left + width * p[i].x / band->steps, fw_curve_y (k, p[i].y));
      fw_path_polygon (cr, p, n);
      fw_set_colour (cr, fw_colour_fade (k->colour, 0.2));
      cairo_fill (cr);
      path_edges (cr, p, n);
      fw_set_colour (cr, fw_colour_fade (k->colour, 0.45));
      cairo_set_line_width (cr, s->style->thin);
      cairo_stroke (cr);
    }
  g_free (p);
}

void
fw_strip_paint_spreads (cairo_t *cr, const FwStrip *s)
{
  cairo_save (cr);
  cairo_rectangle (cr, s->field.left, s->field.top, s->field.right - s->field.left, s->field.ruler - s->field.top);
  cairo_clip (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (int c = 0; c < s->n_curves; c++)
    {
      const FwSpreadBand *band = fw_spread_band_of (s->scene, s->state->curves[c]);
      if (band != NULL && s->curves[c].steps > 0)
        paint_band (cr, s, &s->curves[c], band);
    }
  cairo_restore (cr);
}

/* ---- Views ---- */

/* Rodrigues' formula. */
static FwVec3
turned (FwVec3 p, FwVec3 axis, double cosine, double sine)
{
  FwVec3 along = fw_vec3_scale (axis, fw_vec3_dot (axis, p));
  FwVec3 across = fw_vec3_sub (p, along);
  return fw_vec3_add (along, fw_vec3_add (fw_vec3_scale (across, cosine),
                                          fw_vec3_scale (fw_vec3_cross (axis, p), sine)));
}

FwFrame
fw_member_turned (const FwMemberPose *member, double angle)
{
  const FwFrame *f = &member->motion.at;
  double c = cos (angle), s = sin (angle);
  return (FwFrame){ f->origin, turned (f->u, member->axis, c, s), turned (f->v, member->axis, c, s),
                    turned (f->w, member->axis, c, s) };
}

/* One sense of turning, so that overlapping outlines add up and never cancel. */
static void
one_sense (FwVec2 *p, int n)
{
  if (n < 3 || fw_polygon_area (p, n) >= 0)
    return;
  for (int a = 0, b = n - 1; a < b; a++, b--)
    {
      FwVec2 swap = p[a];
      p[a] = p[b];
      p[b] = swap;
    }
}

static int
turned_on_page (const FwDrawing *d, FwPose *pose, int member, double angle, FwVec2 *out)
{
  FwMemberPose *m = &pose->members[member];
  FwFrame rest = m->motion.at;
  m->motion.at = fw_member_turned (m, angle);
  int n = fw_member_on_page (d, pose, member, out);
  m->motion.at = rest;
  one_sense (out, n);
  return n;
}

static void
paint_fan (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwPose *pose, int member, const FwSpreadValues *v)
{
  FwVec2 p[FW_MOST_OUTLINE];
  double now = fw_pose_angle (pose, d->scene->mechanism, member);
  for (int i = 0; i <= FAN_STEPS; i++)
    fw_path_polygon (cr, p, turned_on_page (d, pose, member, v->low + (v->high - v->low) * i / FAN_STEPS - now, p));
  fw_set_colour (cr, fw_colour_fade (style->motion, 0.16));
  cairo_fill (cr);
  const double dashes[2] = { 5 * style->thin, 3 * style->thin };
  const double edges[2] = { v->low, v->high };
  cairo_set_dash (cr, dashes, 2, 0);
  for (int i = 0; i < 2; i++)
    fw_path_polygon (cr, p, turned_on_page (d, pose, member, edges[i] - now, p));
  fw_set_colour (cr, fw_colour_fade (style->motion, 0.75));
  cairo_stroke (cr);
}

void
fw_overlay_spreads (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  const FwMechanism *m = d->scene->mechanism;
  FwPose *pose = d->scene->scratch;
  if (pose == NULL || d->scene->n_spreads == 0)
    return;
  fw_pose_solve (pose, m, d->scene->pose->crank);
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, style->thin);
  for (int i = 0; i < m->n_members; i++)
    {
      const FwSpreadBand *band = fw_spread_band_of (d->scene, (FwQuantity){ FW_Q_ANGLE, i });
      FwSpreadValues v;
      if (band != NULL && m->members[i].rod >= 0 && pose->members[i].closure == FW_CLOSES
          && fw_spread_at (band, pose->crank, &v))
        paint_fan (cr, d, style, pose, i, &v);
    }
  cairo_restore (cr);
}

void
fw_overlay_built (cairo_t *cr, const FwDrawing *d, const FwStyle *style)
{
  const FwPose *pose = d->scene->built_pose;
  if (d->scene->built == NULL || pose == NULL)
    return;
  FwScene built = *d->scene;
  FwDrawing there = *d;
  built.mechanism = d->scene->built;
  built.pose = pose;
  there.scene = &built;
  const double dashes[4] = { 9 * style->thin, 2.5 * style->thin, 2 * style->thin, 2.5 * style->thin };
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, style->wide);
  cairo_set_dash (cr, dashes, 4, 0);
  for (int i = 0; i < built.mechanism->n_members; i++)
    {
      FwVec2 p[FW_MOST_OUTLINE];
      if (pose->members[i].closure == FW_CLOSES)
        fw_path_polygon (cr, p, fw_member_on_page (&there, pose, i, p));
    }
  fw_set_colour (cr, style->remark);
  cairo_stroke (cr);
  cairo_restore (cr);
}
