#include "draw/motionstrip.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "draw/forces.h"
#include "draw/labels.h"
#include "draw/picturefile.h"
#include "draw/platewords.h"
#include "draw/unbroken.h"

#define MOST_COLUMNS 6

FwMotionStrip
fw_motion_strip_default (void)
{
  return (FwMotionStrip){ .frames = 8,
                          .views = FW_STRIP_BOTH,
                          .frame_width = 300,
                          .captions = TRUE,
                          .scale_bar = TRUE,
                          .settings = TRUE,
                          .theme = FW_THEME_PRINT,
                          .lengths = FW_LENGTHS_MM };
}

/* ---- Layout: plain numbers ---- */

typedef struct
{
  FwMotionStrip strip; /* clamped */
  FwStyle style;
  int columns, rows;
  double margin, pad, frame_width, frame_height, caption, header, footer;
  FwCamera front, side; /* in a frame at (0, 0) */
  double divide;        /* x in a frame between the two views */
  double settings_width, trouble_width;
  int width, height;
} Plate;

/* Columns that give the plate a shape near 5:3 and leave few places empty. */
static int
choose_columns (int frames, double w, double h, double extra)
{
  int best = 1, most = frames > 36 ? 2 * MOST_COLUMNS : MOST_COLUMNS;
  double best_cost = INFINITY;
  for (int columns = 1; columns <= MIN (frames, most); columns++)
    {
      int rows = (frames + columns - 1) / columns;
      double shape = columns * w / (rows * h + extra);
      double cost = fabs (log (shape / 1.7)) + 3.0 * (columns * rows - frames) / frames;
      if (cost < best_cost - 1e-9)
        {
          best_cost = cost;
          best = columns;
        }
    }
  return best;
}

static PangoLayout *
text_layout (const FwStyle *style, const char *text, double size, gboolean bold, double width)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_from_string (style->family);
  pango_font_description_set_absolute_size (font, fmax (size * style->text, 1) * PANGO_SCALE);
  pango_font_description_set_weight (font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text, -1);
  PangoAttrList *held = fw_unbroken_figures (text);
  pango_layout_set_attributes (layout, held);
  pango_attr_list_unref (held);
  if (width > 0)
    {
      pango_layout_set_width (layout, (int)(width * PANGO_SCALE));
      pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
    }
  pango_layout_set_line_spacing (layout, 1.15f);
  pango_font_description_free (font);
  g_object_unref (context);
  return layout;
}

static double
layout_height (PangoLayout *layout)
{
  int h;
  pango_layout_get_size (layout, NULL, &h);
  g_object_unref (layout);
  return (double)h / PANGO_SCALE;
}

static FwBox
join_levels (FwBox box, FwBox other)
{
  double bottom = fmax (box.y + box.height, other.y + other.height);
  box.y = fmin (box.y, other.y);
  box.height = bottom - box.y;
  return box;
}

/* Both views at one scale on one floor. */
static void
lay_frame (Plate *p, const FwScene *scene)
{
  FwBox front = fw_view_extent (scene, FW_VIEW_FRONT), side = fw_view_extent (scene, FW_VIEW_SIDE);
  double w = p->frame_width, pad = p->pad, floor_room = 0.9 * p->style.text;
  FwStripViews views = p->strip.views;
  FwBox tall = views == FW_STRIP_BOTH    ? join_levels (front, side)
               : views == FW_STRIP_FRONT ? front
                                         : side;
  double across = views == FW_STRIP_BOTH    ? front.width + side.width
                  : views == FW_STRIP_FRONT ? front.width
                                            : side.width;
  double gaps = views == FW_STRIP_BOTH ? 4 * pad : 2 * pad;
  double scale = fmax (w - gaps, 4) / fmax (across, 1e-6);
  p->frame_height = CLAMP (tall.height * scale + 2 * pad + floor_room, 0.28 * w, 1.7 * w);
  scale = fmin (scale, fmax (p->frame_height - 2 * pad - floor_room, 2) / fmax (tall.height, 1e-6));
  double y
      = pad + (p->frame_height - 2 * pad - floor_room - tall.height * scale) / 2 - tall.y * scale;
  double spare = (w - gaps - across * scale) / 2;
  p->divide = views == FW_STRIP_BOTH    ? spare + 2 * pad + front.width * scale
              : views == FW_STRIP_FRONT ? w
                                        : 0;
  double side_x = views == FW_STRIP_BOTH ? p->divide + pad : pad + spare;
  p->front = (FwCamera){ FW_VIEW_FRONT, scale, pad + spare - front.x * scale, y };
  p->side = (FwCamera){ FW_VIEW_SIDE, scale, side_x - side.x * scale, y };
}

static void
lay_plate (Plate *p, const FwScene *scene, const FwMotionStrip *given, const char *title)
{
  *p = (Plate){ .strip = *given };
  p->strip.frames = CLAMP (given->frames, 1, 72);
  p->strip.frame_width = CLAMP (given->frame_width, 80, 4000);
  p->frame_width = p->strip.frame_width;
  p->style = fw_style (given->theme, p->frame_width / 300);
  p->style.lengths = given->lengths;
  p->style.text *= 0.95;
  p->pad = 0.03 * p->frame_width;
  p->margin = 0.09 * p->frame_width;
  lay_frame (p, scene);
  p->caption = given->captions ? 1.9 * p->style.text : 0;
  double extra = (given->settings ? 7 : 0) * p->style.text + 2 * p->margin;
  p->columns = p->strip.columns > 0
                   ? MIN (p->strip.columns, p->strip.frames)
                   : choose_columns (p->strip.frames, p->frame_width, p->frame_height + p->caption, extra);
  p->rows = (p->strip.frames + p->columns - 1) / p->columns;
  double inner = p->columns * p->frame_width;
  p->header = given->settings
                  ? layout_height (text_layout (&p->style, "X", 1.7, TRUE, 0)) + 0.7 * p->style.text
                  : 0;
  gboolean stacked = inner < 44 * p->style.text;
  p->trouble_width = stacked ? inner : 0.36 * inner;
  p->settings_width = stacked ? inner : 0.6 * inner;
  if (given->settings)
    {
      char *settings = fw_plate_settings (scene, given->lengths),
           *trouble = fw_plate_trouble (scene, p->strip.frames);
      double a = layout_height (text_layout (&p->style, settings, 0.92, FALSE, p->settings_width));
      double b = layout_height (text_layout (&p->style, trouble, 0.92, FALSE, p->trouble_width));
      p->footer = (stacked ? a + b + 0.6 * p->style.text : fmax (a, b)) + 1.2 * p->style.text;
      g_free (settings);
      g_free (trouble);
    }
  if (given->scale_bar)
    p->footer += 2.6 * p->style.text;
  p->width = (int)ceil (inner + 2 * p->margin);
  p->height = (int)ceil (p->rows * (p->frame_height + p->caption) + p->header + p->footer
                         + 2 * p->margin);
}

void
fw_motion_strip_size (const FwScene *scene, const FwMotionStrip *strip, int *width, int *height)
{
  Plate p;
  lay_plate (&p, scene, strip, "");
  *width = p.width;
  *height = p.height;
}

/* ---- Paint ---- */

static void
show_text (cairo_t *cr, PangoLayout *layout, double x, double y, FwColour colour, double align)
{
  int w;
  pango_layout_get_size (layout, &w, NULL);
  cairo_move_to (cr, x - align * w / PANGO_SCALE, y);
  fw_set_colour (cr, colour);
  pango_cairo_update_layout (cr, layout);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
}

static gboolean
has_arrows (const Plate *p, const FwScene *scene)
{
  return scene->loads != NULL && (p->strip.show & (FW_SHOW_FORCES | FW_SHOW_WEIGHTS)) != 0;
}

/* One scale of forces for all frames and both views. */
static double
arrow_scale (const Plate *p, const FwScene *scene)
{
  FwBox frame = { 0, 0, p->frame_width, p->frame_height };
  return fw_arrow_scale (scene, frame);
}

static void
draw_frame (cairo_t *cr, const Plate *p, const FwScene *scene, double x, double y)
{
  for (int side = 0; side < 2; side++)
    {
      if (p->strip.views == (side ? FW_STRIP_FRONT : FW_STRIP_SIDE))
        continue;
      FwCamera camera = side ? p->side : p->front;
      camera.x += x;
      camera.y += y;
      double from = side && p->strip.views == FW_STRIP_BOTH ? p->divide : 0;
      double to = !side && p->strip.views == FW_STRIP_BOTH ? p->divide : p->frame_width;
      FwBox page = { x + from, y, to - from, p->frame_height };
      guint show = FW_SHOW_TROUBLE | FW_SHOW_TROUBLE_HERE | (p->strip.show & (FW_SHOW_FORCES | FW_SHOW_WEIGHTS));
      fw_draw_view (cr, scene, &camera, &p->style, page, show, NULL);
    }
}

static void
draw_rules (cairo_t *cr, const Plate *p, double top)
{
  double row = p->frame_height + p->caption;
  cairo_set_line_width (cr, p->style.thin);
  fw_set_colour (cr, p->style.grid);
  for (int r = 0; r <= p->rows; r++)
    {
      int in_row = r == 0 ? MIN (p->columns, p->strip.frames)
                          : MIN (p->columns, p->strip.frames - (r - 1) * p->columns);
      cairo_move_to (cr, p->margin, top + r * row);
      cairo_line_to (cr, p->margin + in_row * p->frame_width, top + r * row);
    }
  for (int r = 0; r < p->rows; r++)
    for (int c = 0; c <= MIN (p->columns, p->strip.frames - r * p->columns); c++)
      {
        cairo_move_to (cr, p->margin + c * p->frame_width, top + r * row);
        cairo_line_to (cr, p->margin + c * p->frame_width, top + (r + 1) * row);
      }
  cairo_stroke (cr);
}

static void
draw_frames (cairo_t *cr, const Plate *p, const FwScene *scene, FwPose *pose, double top)
{
  FwScene frame = *scene;
  frame.pose = pose;
  frame.scratch = NULL;
  frame.arrow_px = has_arrows (p, scene) ? arrow_scale (p, scene) : 0;
  for (int i = 0; i < p->strip.frames; i++)
    {
      double x = p->margin + i % p->columns * p->frame_width;
      double y = top + i / p->columns * (p->frame_height + p->caption),
             angle = 360.0 * i / p->strip.frames;
      fw_pose_solve (pose, scene->mechanism, angle * G_PI / 180);
      draw_frame (cr, p, &frame, x, y);
      if (!p->strip.captions)
        continue;
      char *text
          = fw_units_format (angle, FW_UNIT_DEG, p->strip.lengths, angle == floor (angle) ? 0 : 1);
      show_text (cr, text_layout (&p->style, text, 1, TRUE, 0), x + p->frame_width / 2,
                 y + p->frame_height + 0.2 * p->style.text, p->style.ink, 0.5);
      g_free (text);
    }
  draw_rules (cr, p, top);
}

/* A bar of a round size, its figure behind it; returns where it ends. */
static double
draw_bar (cairo_t *cr, const Plate *p, double x, double y, double seen, gboolean halved,
          const char *text)
{
  double tick = 0.3 * p->style.text;
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + seen, y);
  for (int i = 0; i <= 2; i++)
    {
      double reach = i == 1 ? (halved ? 0.6 * tick : 0) : tick;
      cairo_move_to (cr, x + seen * i / 2, y - reach);
      cairo_line_to (cr, x + seen * i / 2, y + reach);
    }
  fw_set_colour (cr, p->style.ink);
  cairo_set_line_width (cr, p->style.wide * 0.8);
  cairo_stroke (cr);
  PangoLayout *layout = text_layout (&p->style, text, 0.92, FALSE, 0);
  int width;
  pango_layout_get_size (layout, &width, NULL);
  show_text (cr, layout, x + seen + 0.6 * p->style.text, y - 0.75 * p->style.text, p->style.ink, 0);
  return x + seen + 0.6 * p->style.text + (double)width / PANGO_SCALE;
}

static void
draw_scale (cairo_t *cr, const Plate *p, const FwScene *scene, double x, double y)
{
  double unit = p->strip.lengths == FW_LENGTHS_INCH ? 25.4 : 1;
  double length = fw_round_length (0.34 * p->frame_width / (p->front.scale * unit)) * unit;
  char *text = fw_units_format (length, FW_UNIT_MM, p->strip.lengths, length / unit < 1 ? 3 : 0);
  double end = draw_bar (cr, p, x, y, length * p->front.scale, TRUE, text);
  double scale = has_arrows (p, scene) ? arrow_scale (p, scene) : 0;
  g_free (text);
  if (!(scale > 0))
    return;
  double newton = fw_round_length (0.2 * p->frame_width / scale);
  int digits = newton >= 1 ? 0 : (int)ceil (-log10 (newton) - 1e-9);
  text = fw_units_format (newton, FW_UNIT_N, p->strip.lengths, digits);
  draw_bar (cr, p, end + 2.5 * p->style.text, y, newton * scale, FALSE, text);
  g_free (text);
}

static void
draw_words (cairo_t *cr, const Plate *p, const FwScene *scene, const char *title)
{
  double right = p->width - p->margin, y = p->height - p->margin - p->footer + 0.9 * p->style.text;
  if (p->strip.scale_bar)
    {
      draw_scale (cr, p, scene, p->margin, y + 0.8 * p->style.text);
      y += 2.6 * p->style.text;
    }
  if (!p->strip.settings)
    return;
  show_text (cr, text_layout (&p->style, title, 1.7, TRUE, right - p->margin), p->margin,
             p->margin * 0.8, p->style.ink, 0);
  char *settings = fw_plate_settings (scene, p->strip.lengths), *trouble = fw_plate_trouble (scene, p->strip.frames);
  PangoLayout *first = text_layout (&p->style, settings, 0.92, FALSE, p->settings_width);
  int settings_height;
  pango_layout_get_size (first, NULL, &settings_height);
  show_text (cr, first, p->margin, y, p->style.ink, 0);
  gboolean stacked = p->settings_width == p->trouble_width;
  double below = stacked ? (double)settings_height / PANGO_SCALE + 0.6 * p->style.text : 0;
  show_text (cr, text_layout (&p->style, trouble, 0.92, FALSE, p->trouble_width),
             stacked ? p->margin : right - p->trouble_width, y + below, p->style.ink, 0);
  g_free (settings);
  g_free (trouble);
}

void
fw_draw_motion_strip (cairo_t *cr, const FwScene *scene, const FwMotionStrip *strip,
                      const char *title)
{
  Plate p;
  FwPose *own = scene->scratch == NULL ? fw_pose_new (scene->mechanism) : NULL;
  FwPose *pose = scene->scratch == NULL ? own : scene->scratch;
  if (pose == NULL)
    return;
  lay_plate (&p, scene, strip, title);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, p.width, p.height);
  fw_set_colour (cr, p.style.ground);
  cairo_fill (cr);
  draw_frames (cr, &p, scene, pose, p.margin + p.header);
  draw_words (cr, &p, scene, title == NULL ? "" : title);
  cairo_restore (cr);
  free (own);
}

/* ---- PNG ---- */

gboolean
fw_motion_strip_write_png (const FwScene *scene, const FwMotionStrip *strip, const char *title,
                           const char *path, GError **error)
{
  int width, height;
  fw_motion_strip_size (scene, strip, &width, &height);
  if (width > 32767 || height > 32767)
    return fw_picture_refuse (
        path, _ ("more than 32767 px on a side; choose fewer or smaller frames"), error);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  fw_draw_motion_strip (cr, scene, strip, title);
  cairo_status_t status = cairo_status (cr);
  cairo_destroy (cr);
  gboolean fine = status == CAIRO_STATUS_SUCCESS
                      ? fw_picture_write_png (surface, path, error)
                      : fw_picture_refuse (path, cairo_status_to_string (status), error);
  cairo_surface_destroy (surface);
  return fine;
}
