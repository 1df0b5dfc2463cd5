#include "draw/view.h"

#include <string.h>

#include "core/springs.h"
#include "draw/forces.h"
#include "draw/ghost.h"
#include "draw/layout.h"
#include "draw/overlay.h"
#include "draw/photo.h"
#include "draw/spreadbands.h"
#include "draw/still.h"

#define EXTENT_STEPS 48

/* ---- Extent ---- */

typedef struct
{
  FwViewAxes axes;
  double left, right, top, bottom;
} Reach;

static void
take_in (Reach *r, FwVec3 p)
{
  double x = fw_vec3_dot (r->axes.right, p), y = -fw_vec3_dot (r->axes.up, p);
  if (!isfinite (x) || !isfinite (y))
    return;
  r->left = fmin (r->left, x);
  r->right = fmax (r->right, x);
  r->top = fmin (r->top, y);
  r->bottom = fmax (r->bottom, y);
}

static void
take_in_solid (Reach *r, const FwSolid *solid, const FwFrame *frame, gboolean body)
{
  for (int i = 0; i < solid->n_sections; i++)
    {
      const FwSection *s = &solid->sections[i];
      gboolean end = i == 0 || i == solid->n_sections - 1;
      double half = (s->high_mm - s->low_mm) / 2,
             bulge = end ? 0.55 * fmin (s->half_width_mm, half) : 0;
      double at = s->at_mm + (i == 0 ? -bulge : bulge);
      for (int corner = 0; corner < 4; corner++)
        {
          double across = (corner & 1 ? 1 : -1) * s->half_width_mm;
          double up = corner & 2 ? s->high_mm : s->low_mm;
          take_in (r, fw_frame_to_world (frame, body ? fw_vec3 (across, at, up)
                                                     : fw_vec3 (at, across, up)));
        }
    }
}

static void
take_in_pose (Reach *r, const FwMechanism *m, const FwPose *pose)
{
  FwSection sections[FW_FORM_SECTIONS];
  FwSolid body = fw_form_body (m->design, sections);
  take_in_solid (r, &body, &pose->body.motion.at, TRUE);
  for (int i = 0; i < m->n_members; i++)
    {
      FwVec2 buffer[FW_FORM_OUTLINE];
      int n;
      const FwVec2 *outline = fw_form_outline (m->design, m->members[i].panel, buffer, &n);
      for (int k = 0; k < n; k++)
        take_in (r, fw_frame_to_world (&pose->members[i].motion.at,
                                       fw_vec3 (outline[k].x, outline[k].y, 0)));
      take_in_solid (r, &m->design->panels[m->members[i].panel].solid, &pose->members[i].motion.at,
                     FALSE);
    }
  for (int i = 0; i < m->n_links; i++)
    {
      take_in (r, pose->links[i].from.at);
      take_in (r, pose->links[i].to.at);
    }
  for (int i = 0; i < m->n_pins; i++)
    take_in (r, pose->pins[i].at);
  for (int i = 0; i < m->n_coils; i++)
    {
      FwCoilPose coil = fw_coil_pose (m, pose, i);
      take_in (r, coil.from);
      take_in (r, coil.to);
    }
  for (int i = 0; i < m->design->crank.n_weights; i++)
    take_in (r, fw_crank_weight_at (m->design, i, pose->crank).at);
}

static void
take_in_base (Reach *r, const FwMechanism *m)
{
  const FwDesign *d = m->design;
  double plate[3], top;
  fw_design_base (d, plate, &top);
  for (int corner = 0; corner < 8; corner++)
    take_in (r, fw_vec3 ((corner & 1 ? 0.5 : -0.5) * plate[0], (corner & 2 ? 0.5 : -0.5) * plate[1],
                         corner & 4 ? top : top - plate[2]));
  FwVec3 line[1200];
  int n = MIN (fw_crank_line (d, line, 1200), 1200);
  double knob = d->base.handle_mm > 0 ? 38 + fmax (14, 2 * d->crank.diameter_mm) : 0;
  FwVec3 axis = fw_crank_axis (d->crank.runs), across = fw_crank_h (d->crank.runs);
  if (n == 0)
    return;
  take_in (r, line[n - 1]);
  for (int i = 0; i < 4; i++)
    {
      FwVec3 end = fw_vec3_along (line[0], -knob, axis);
      double reach = d->base.handle_mm + 8;
      end = i < 2 ? fw_vec3_along (end, i == 0 ? reach : -reach, across)
                  : fw_vec3_add (end, fw_vec3 (0, 0, i == 2 ? reach : -reach));
      take_in (r, end);
    }
  if (d->body.ride == FW_RIDE_SLEEVE)
    take_in (r, fw_vec3_add (fw_vec3_scale (across, d->body.guide_mm.x),
                             fw_vec3 (0, 0, d->body.guide_mm.y)));
  if (d->body.ride == FW_RIDE_ROCKER)
    take_in (r, fw_vec3_add (fw_vec3_scale (across, d->body.pivot_mm.x),
                             fw_vec3 (0, 0, d->body.pivot_mm.y)));
}

/* Where hanging panels swing to in the turn that their rows show. `rest`: scratch, solved at `crank`. */
static void
take_in_swing (Reach *r, const FwScene *scene, FwPose *rest, double crank)
{
  const FwMechanism *m = scene->mechanism;
  double *angle = g_new0 (double, 2 * m->n_members + 1), *still = angle + m->n_members;
  for (int i = 0; i < m->n_members; i++)
    angle[i] = fw_pose_angle (rest, m, i);
  for (int i = 0; i < scene->n_rows; i++)
    {
      const FwLoadRow *row = &scene->rows[i];
      if (row->quantity.kind == FW_Q_SWING)
        angle[row->quantity.index] = row->values[(int)(crank / (2 * G_PI) * row->steps) % row->steps];
    }
  const FwFreeState state = { .angle = angle, .rate = still, .rate2 = still };
  fw_pose_solve_free (rest, m, cos (crank), sin (crank), &state);
  take_in_pose (r, m, rest);
  g_free (angle);
}

FwBox
fw_view_extent (const FwScene *scene, FwView view)
{
  Reach r = { fw_view_axes (view), INFINITY, -INFINITY, INFINITY, -INFINITY };
  take_in_base (&r, scene->mechanism);
  take_in_pose (&r, scene->mechanism, scene->pose);
  for (int i = 0; scene->scratch != NULL && i < EXTENT_STEPS; i++)
    {
      fw_pose_solve (scene->scratch, scene->mechanism, 2 * G_PI * i / EXTENT_STEPS);
      take_in_pose (&r, scene->mechanism, scene->scratch);
      if (scene->swung != NULL)
        take_in_swing (&r, scene, scene->scratch, 2 * G_PI * i / EXTENT_STEPS);
    }
  if (!(r.right >= r.left))
    return (FwBox){ -1, -1, 2, 2 };
  return (FwBox){ r.left, r.top, fmax (r.right - r.left, 1), fmax (r.bottom - r.top, 1) };
}

/* ---- The picture ---- */

/* Lines grow with the page, by the square root so that a large sheet does not look coarse; type
 * too, but less. Both widths keep their 2:1 ratio. */
FwBox
fw_style_sheet (const FwStyle *style, FwBox page)
{
  return style->sheet > 0 ? (FwBox){ page.x, page.y, style->sheet, style->sheet } : page;
}

FwStyle
fw_style_for_page (const FwStyle *style, FwBox page)
{
  FwStyle s = *style;
  FwBox sheet = fw_style_sheet (style, page);
  double size = fmax (style->size, 1e-3);
  double share = sqrt (fmax (fmin (sheet.width, sheet.height), 1) / (620 * size));
  double lines = CLAMP (share, 0.62, 1.7), words = CLAMP (share, 0.8, 1.35);
  s.wide *= lines;
  s.thin *= lines;
  s.text *= words;
  return s;
}

static void
paint_floor (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwBox page)
{
  double plate[3], top;
  fw_design_base (d->scene->mechanism->design, plate, &top);
  double z = top - plate[2];
  if (d->camera.view == FW_VIEW_THREE_QUARTER)
    {
      FwVec2 corners[4];
      for (int i = 0; i < 4; i++)
        corners[i]
            = fw_drawing_project (d, fw_vec3 ((i == 1 || i == 2 ? 0.5 : -0.5) * plate[0] * 1.12,
                                              (i >= 2 ? 0.5 : -0.5) * plate[1] * 1.22, z));
      GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
      fw_polygon_hatch (corners, 4, -G_PI / 4, 5 * style->wide, pairs);
      fw_path_pairs (cr, (const FwVec2 *)(void *)pairs->data, (int)pairs->len / 2);
      g_array_unref (pairs);
      fw_set_colour (cr, fw_colour_fade (style->faint_ink, 0.3));
      cairo_set_line_width (cr, style->thin);
      cairo_stroke (cr);
      return;
    }
  double along = (d->camera.view == FW_VIEW_FRONT ? plate[0] : plate[1]) / 2 * d->camera.scale;
  double y = d->camera.y - z * d->camera.scale + style->wide, reach = along + 24 * style->wide;
  double left = fmax (d->camera.x - reach, page.x + 8 * style->wide);
  double right = fmin (d->camera.x + reach, page.x + page.width - 8 * style->wide);
  double tick = 6 * style->wide, pitch = 6.5 * style->wide;
  if (!(right > left) || (right - left) / pitch > 4000)
    return;
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  fw_set_colour (cr, style->faint_ink);
  cairo_set_line_width (cr, style->thin);
  for (double x = left + tick; x <= right; x += pitch)
    {
      cairo_move_to (cr, x, y);
      cairo_line_to (cr, x - tick, y + tick);
    }
  cairo_stroke (cr);
  cairo_move_to (cr, left, y);
  cairo_line_to (cr, right, y);
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
}

static void
keep_off_handles (FwLabels *labels, const FwDrawing *d)
{
  FwHandle handles[256];
  int n = MIN (fw_view_handles (d->scene, &d->camera, handles, 256), 256);
  double half = 0.9 * fw_handle_size (labels->style);
  for (int i = 0; i < n; i++)
    fw_labels_keep_off (labels, (FwTilted){ handles[i].at, half, half, 0 });
}

static void
lay_words (cairo_t *cr, FwLabels *labels, const FwDrawing *d, guint show, FwBox page)
{
  fw_words_lines (labels, d);
  if (show & FW_SHOW_HANDLES)
    keep_off_handles (labels, d);
  if (show & FW_SHOW_SIDES)
    fw_words_sides (labels, d, TRUE);
  if (show & FW_SHOW_SCALE_BAR)
    fw_scale_bar (cr, labels, d->camera.scale, page);
  fw_words_designs (labels, d);
  fw_overlay_broken (cr, d, labels->style, labels);
  if (show & (FW_SHOW_FORCES | FW_SHOW_WEIGHTS))
    fw_force_words (labels, d, show);
  if ((show & FW_SHOW_TROUBLE) && d->scene->troubles != NULL)
    fw_overlay_trouble (cr, d, labels->style, labels, !(show & FW_SHOW_TROUBLE_HERE));
  if (show & FW_SHOW_DIMENSIONS)
    fw_words_dimensions (cr, labels, d);
  if (show & FW_SHOW_NAMES)
    fw_words_names (labels, d);
}

static gboolean
can_draw (const FwScene *scene, const FwCamera *camera, FwBox page)
{
  return scene->mechanism != NULL && scene->pose != NULL && isfinite (camera->scale)
         && camera->scale > 0 && camera->scale < 1e5 && isfinite (camera->x) && isfinite (camera->y)
         && fabs (camera->x) < 1e7 && fabs (camera->y) < 1e7 && page.width >= 1 && page.height >= 1;
}

/* What is drawn: hanging panels where they really are. Forces and grips go by the scene's own pose. */
static FwScene
as_seen (const FwScene *scene)
{
  FwScene seen = *scene;
  if (scene->swung != NULL)
    seen.pose = scene->swung;
  return seen;
}

/* ---- What stands still: ground, photograph, floor, base ---- */

typedef struct
{
  const FwDrawing *d;
  const FwStyle *style;
  FwBox page;
  guint show;
  gboolean under; /* what moves is laid under throws and base */
} StillPart;

static void
paint_base (cairo_t *cr, const StillPart *p)
{
  fw_overlay_throws (cr, p->d, p->style);
  fw_paint_pieces (cr, p->d, p->style, FW_LAYER_GROUND, FW_LAYER_BASE);
}

static void
paint_still (cairo_t *cr, const void *data)
{
  const StillPart *p = data;
  fw_photo_paint (cr, p->d->scene->photo, &p->d->camera);
  paint_floor (cr, p->d, p->style, p->page);
  if (p->show & FW_SHOW_SWEPT)
    fw_overlay_swept (cr, p->d, p->style);
  if (!p->under)
    paint_base (cr, p);
}

static FwStillKey
still_key (const StillPart *p)
{
  FwStillKey key = { 0 };
  const FwCamera *c = &p->d->camera;
  const FwPhoto *photo = p->d->scene->photo;
  const double place[] = { c->view, c->scale, c->x, c->y, p->page.x, p->page.y, p->page.width, p->page.height,
                           p->under, p->show & FW_SHOW_SWEPT ? 1 : 0 };
  memcpy (key.numbers, place, sizeof place);
  int at = fw_still_key_style (&key, G_N_ELEMENTS (place), p->style);
  if (photo != NULL)
    {
      const double seen[] = { photo->view, photo->place.c, photo->place.s, photo->place.x0, photo->place.y0,
                              photo->opacity };
      G_STATIC_ASSERT (G_N_ELEMENTS (place) + 6 + G_N_ELEMENTS (seen) <= FW_STILL_NUMBERS);
      memcpy (key.numbers + at, seen, sizeof seen);
      key.address = photo->picture;
    }
  return key;
}

static void
paint_trace_dots (cairo_t *cr, const void *data)
{
  const StillPart *p = data;
  fw_overlay_trace_dots (cr, p->d, p->style);
}

static void
paint_moving (cairo_t *cr, FwStill *still, FwDrawing *d, const StillPart *p, const FwScene *scene,
              const FwPart *picked)
{
  const FwStyle *style = p->style;
  const FwStillKey key = still_key (p);
  if (p->under)
    {
      if (p->show & FW_SHOW_GHOSTS)
        fw_overlay_ghosts (cr, d, style);
      if (scene->swung != NULL)
        fw_overlay_rest (cr, d, style, scene->pose);
      fw_overlay_spreads (cr, d, style);
      paint_base (cr, p);
    }
  fw_paint_work (cr, d, style, picked);
  if (p->show & FW_SHOW_TRACES)
    {
      fw_still_paint_colour (still, cr, p->page, style->motion, &key, paint_trace_dots, p);
      fw_overlay_trace_arrows (cr, d, style);
    }
  if (p->show & FW_SHOW_STOPS)
    fw_overlay_stops (cr, d, style, !(p->show & FW_SHOW_HANDLES));
  fw_overlay_built (cr, d, style);
  fw_overlay_designs (cr, d, style);
  d->scene = scene;
  if (p->show & (FW_SHOW_FORCES | FW_SHOW_WEIGHTS))
    fw_overlay_forces (cr, d, style, p->page, p->show);
  fw_overlay_bounces (cr, d, style, p->show);
}

void
fw_draw_view_kept (cairo_t *cr, FwStill *still, const FwScene *scene, const FwCamera *camera, const FwStyle *given,
                   FwBox page, guint show, const FwPart *picked)
{
  FwStyle style = fw_style_for_page (given, page);
  cairo_save (cr);
  cairo_rectangle (cr, page.x, page.y, page.width, page.height);
  cairo_clip (cr);
  if (!can_draw (scene, camera, page))
    {
      fw_set_colour (cr, style.ground);
      cairo_paint (cr);
      cairo_restore (cr);
      return;
    }
  FwDrawing d;
  FwLabels labels;
  FwScene seen = as_seen (scene);
  fw_drawing_build (&d, &seen, camera, &style);
  fw_labels_open (&labels, cr, &style, page, still);
  const StillPart part
      = { .d = &d, .style = &style, .page = page, .show = show,
          .under = (show & FW_SHOW_GHOSTS) || scene->swung != NULL || scene->n_spreads > 0 };
  const FwStillKey key = still_key (&part);
  fw_still_paint (still, cr, page, style.ground, &key, paint_still, &part);
  paint_moving (cr, still, &d, &part, scene, picked);
  lay_words (cr, &labels, &d, show, page);
  fw_labels_paint (&labels);
  if (show & FW_SHOW_HANDLES)
    fw_overlay_handles (cr, &d, &style);
  fw_photo_paint_marks (cr, scene->photo, camera, &style);
  fw_labels_close (&labels);
  fw_drawing_clear (&d);
  cairo_restore (cr);
}

void
fw_draw_view (cairo_t *cr, const FwScene *scene, const FwCamera *camera, const FwStyle *style, FwBox page,
              guint show, const FwPart *picked)
{
  fw_draw_view_kept (cr, NULL, scene, camera, style, page, show, picked);
}

int
fw_view_label_boxes (const FwScene *scene, const FwCamera *camera, const FwStyle *given, FwBox page,
                     guint show, FwTilted *boxes, int capacity)
{
  if (!can_draw (scene, camera, page))
    return 0;
  FwStyle style = fw_style_for_page (given, page);
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  FwDrawing d;
  FwLabels labels;
  fw_drawing_build (&d, scene, camera, &style);
  fw_labels_open (&labels, cr, &style, page, NULL);
  lay_words (cr, &labels, &d, show, page);
  int n = (int)labels.labels->len;
  for (int i = 0; i < n && i < capacity; i++)
    boxes[i] = g_array_index (labels.labels, FwLabel, (guint)i).box;
  fw_labels_close (&labels);
  fw_drawing_clear (&d);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return n;
}

gboolean
fw_view_pick (const FwScene *scene, const FwCamera *camera, double x, double y, double reach,
              FwPart *part)
{
  if (!can_draw (scene, camera, (FwBox){ 0, 0, 1, 1 }))
    return FALSE;
  FwStyle style = fw_style (FW_THEME_LIGHT, 1);
  FwScene seen = as_seen (scene);
  FwDrawing d;
  fw_drawing_build (&d, &seen, camera, &style);
  double nearest = reach;
  gboolean found = FALSE;
  for (guint i = d.pieces->len; i-- > 0;)
    {
      const FwPiece *piece = &g_array_index (d.pieces, FwPiece, i);
      double away = fw_piece_distance (&d, piece, fw_vec2 (x, y));
      if (away > reach || (found && away >= nearest))
        continue;
      *part = piece->part;
      nearest = away;
      found = TRUE;
      if (away == 0)
        break;
    }
  fw_drawing_clear (&d);
  return found;
}
