#include "draw/labels.h"

#include <string.h>

void
fw_labels_open (FwLabels *l, cairo_t *cr, const FwStyle *style, FwBox page, FwStill *still)
{
  *l = (FwLabels){ .cr = cr,
                   .style = style,
                   .page = page,
                   .still = still,
                   .context = pango_cairo_create_context (cr),
                   .font = pango_font_description_from_string (style->family),
                   .labels = g_array_new (FALSE, FALSE, sizeof (FwLabel)),
                   .keep_off = g_array_new (FALSE, FALSE, sizeof (FwTilted)),
                   .lines = g_array_new (FALSE, FALSE, sizeof (FwVec2)) };
}

void
fw_labels_close (FwLabels *l)
{
  for (guint i = 0; i < l->labels->len; i++)
    {
      FwLabel *label = &g_array_index (l->labels, FwLabel, i);
      g_free (label->text);
      g_clear_object (&label->layout);
    }
  g_array_unref (l->labels);
  g_array_unref (l->keep_off);
  g_array_unref (l->lines);
  pango_font_description_free (l->font);
  g_object_unref (l->context);
}

void
fw_labels_keep_off (FwLabels *l, FwTilted box)
{
  g_array_append_val (l->keep_off, box);
}

void
fw_labels_line (FwLabels *l, FwVec2 a, FwVec2 b)
{
  g_array_append_val (l->lines, a);
  g_array_append_val (l->lines, b);
}

static PangoLayout *
lay_out (FwLabels *l, const char *text, const FwWording *wording)
{
  double size = l->style->text * (wording->size > 0 ? wording->size : 1);
  pango_font_description_set_absolute_size (l->font, fmax (size, 1) * PANGO_SCALE);
  pango_font_description_set_weight (l->font,
                                     wording->bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  return fw_still_layout (l->still, l->context, l->font, text);
}

static void
measure (PangoLayout *layout, const FwWording *wording, double text, double *width, double *height)
{
  int w, h;
  pango_layout_get_size (layout, &w, &h);
  *width = (double)w / PANGO_SCALE;
  *height = (double)h / PANGO_SCALE;
  if (wording->mark == FW_MARK_NONE)
    {
      *width += 0.3 * text;
      return;
    }
  double room = wording->mark == FW_MARK_TRIANGLE ? 0.95 : 0.7;
  *width = *height = fmax (*width, 0.75 * *height) + room * text;
}

void
fw_labels_measure (FwLabels *l, const char *text, const FwWording *wording, double *width,
                   double *height)
{
  PangoLayout *layout = lay_out (l, text, wording);
  measure (layout, wording, l->style->text, width, height);
  g_object_unref (layout);
}

/* `keep` letters of the name, most of them of its last word. */
static char *
cut_name (const char *name, glong keep)
{
  const char *space = strrchr (name, ' ');
  glong length = g_utf8_strlen (name, -1), word = space != NULL ? g_utf8_strlen (space + 1, -1) : 0;
  glong tail = MAX ((keep + 1) / 2, MIN (word, keep - 3));
  g_autofree char *start = g_utf8_substring (name, 0, keep - tail);
  return g_strconcat (g_strchomp (start), "…", g_utf8_offset_to_pointer (name, length - tail), NULL);
}

char *
fw_labels_fit (FwLabels *l, const char *name, const FwWording *wording, double room)
{
  char *fitting = g_strdup (name);
  double width, height;
  fw_labels_measure (l, fitting, wording, &width, &height);
  for (glong keep = g_utf8_strlen (name, -1) - 2; width > room && keep > 3; keep--)
    {
      g_free (fitting);
      fitting = cut_name (name, keep);
      fw_labels_measure (l, fitting, wording, &width, &height);
    }
  return fitting;
}

static FwTilted
box_at (const FwSpot *spot, double width, double height)
{
  double c = cos (spot->angle), s = sin (spot->angle);
  double along = spot->dx * (width / 2 + spot->gap), down = spot->dy * (height / 2 + spot->gap);
  return (FwTilted){ .centre = fw_vec2 (spot->anchor.x + c * along - s * down,
                                        spot->anchor.y + s * along + c * down),
                     .half_width = width / 2,
                     .half_height = height / 2,
                     .angle = spot->angle };
}

static gboolean
free_to_use (const FwLabels *l, const FwTilted *box)
{
  double rx, ry;
  fw_tilted_reach (box, &rx, &ry);
  if (!(box->centre.x - rx >= l->page.x && box->centre.x + rx <= l->page.x + l->page.width
        && box->centre.y - ry >= l->page.y && box->centre.y + ry <= l->page.y + l->page.height))
    return FALSE;
  for (guint i = 0; i < l->keep_off->len; i++)
    if (fw_tilted_overlap (box, &g_array_index (l->keep_off, FwTilted, i)))
      return FALSE;
  for (guint i = 0; i < l->labels->len; i++)
    if (fw_tilted_overlap (box, &g_array_index (l->labels, FwLabel, i).box))
      return FALSE;
  return TRUE;
}

static int
crossings (const FwLabels *l, const FwTilted *box)
{
  int n = 0;
  for (guint i = 0; i + 1 < l->lines->len; i += 2)
    if (fw_tilted_meets_segment (box, g_array_index (l->lines, FwVec2, i),
                                 g_array_index (l->lines, FwVec2, i + 1)))
      n++;
  return n;
}

gboolean
fw_labels_add (FwLabels *l, const char *text, const FwWording *wording, const FwSpot *spots, int n)
{
  double width, height, best_cost = INFINITY;
  PangoLayout *layout = lay_out (l, text, wording);
  measure (layout, wording, l->style->text, &width, &height);
  FwTilted best = { 0 };
  for (int i = 0; i < n; i++)
    {
      FwTilted box = box_at (&spots[i], width, height);
      if (!isfinite (box.centre.x) || !isfinite (box.centre.y) || i >= best_cost
          || !free_to_use (l, &box))
        continue;
      double cost = i + 2.5 * crossings (l, &box);
      if (cost < best_cost)
        {
          best_cost = cost;
          best = box;
        }
    }
  if (!isfinite (best_cost))
    {
      g_object_unref (layout);
      return FALSE;
    }
  FwLabel label = { .text = g_strdup (text),
                    .layout = layout,
                    .box = best,
                    .colour = wording->colour,
                    .mark = wording->mark,
                    .filled = wording->filled,
                    .bare = wording->bare,
                    .leader = wording->leader,
                    .from = wording->from };
  g_array_append_val (l->labels, label);
  return TRUE;
}

int
fw_spots_around (FwVec2 anchor, double gap, FwSpot spots[8])
{
  static const double sides[8][2]
      = { { 0, -1 }, { 0, 1 }, { 1, 0 }, { -1, 0 }, { 1, -1 }, { -1, -1 }, { 1, 1 }, { -1, 1 } };
  for (int i = 0; i < 8; i++)
    spots[i] = (FwSpot){ anchor, sides[i][0], sides[i][1], gap, 0 };
  return 8;
}

void
fw_mark_path (cairo_t *cr, FwMark mark, FwVec2 c, double half)
{
  if (mark == FW_MARK_RING)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, c.x, c.y, half, 0, 2 * G_PI);
      return;
    }
  if (mark == FW_MARK_TRIANGLE)
    {
      cairo_move_to (cr, c.x, c.y - 1.2 * half);
      cairo_line_to (cr, c.x + 1.15 * half, c.y + 0.75 * half);
      cairo_line_to (cr, c.x - 1.15 * half, c.y + 0.75 * half);
    }
  else
    {
      cairo_move_to (cr, c.x, c.y - 1.2 * half);
      cairo_line_to (cr, c.x + 1.2 * half, c.y);
      cairo_line_to (cr, c.x, c.y + 1.2 * half);
      cairo_line_to (cr, c.x - 1.2 * half, c.y);
    }
  cairo_close_path (cr);
}

static void
paint_backing (const FwLabels *l, const FwLabel *label)
{
  cairo_t *cr = l->cr;
  const FwTilted *b = &label->box;
  if (label->mark == FW_MARK_NONE)
    {
      cairo_rectangle (cr, -b->half_width, -b->half_height * 0.8, 2 * b->half_width,
                       1.6 * b->half_height);
      fw_set_colour (cr, fw_colour_fade (l->style->ground, 0.78));
      cairo_fill (cr);
      return;
    }
  fw_mark_path (cr, label->mark, fw_vec2 (0, 0), 0.72 * b->half_height);
  fw_set_colour (cr, label->filled ? label->colour : l->style->ground);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, label->colour);
  cairo_set_line_width (cr, label->filled ? l->style->wide : l->style->thin);
  cairo_stroke (cr);
}

static void
paint_leader (const FwLabels *l, const FwLabel *label)
{
  const FwTilted *b = &label->box;
  double dx = label->from.x - b->centre.x, dy = label->from.y - b->centre.y;
  double t = fmax (fabs (dx) / fmax (b->half_width, 1e-6), fabs (dy) / fmax (b->half_height, 1e-6));
  if (t <= 1.3)
    return;
  cairo_move_to (l->cr, b->centre.x + dx / t, b->centre.y + dy / t);
  cairo_line_to (l->cr, label->from.x, label->from.y);
  fw_set_colour (l->cr, label->colour);
  cairo_set_line_width (l->cr, l->style->thin);
  cairo_stroke (l->cr);
}

void
fw_labels_paint (const FwLabels *l)
{
  cairo_t *cr = l->cr;
  for (guint i = 0; i < l->labels->len; i++)
    {
      const FwLabel *label = &g_array_index (l->labels, FwLabel, i);
      if (label->leader)
        paint_leader (l, label);
      cairo_save (cr);
      cairo_translate (cr, label->box.centre.x, label->box.centre.y);
      if (label->box.angle != 0)
        cairo_rotate (cr, label->box.angle);
      if (!label->bare)
        paint_backing (l, label);
      int w, h;
      pango_layout_get_size (label->layout, &w, &h);
      double drop = label->mark == FW_MARK_TRIANGLE ? 0.1 * l->style->text : 0;
      cairo_move_to (cr, -0.5 * w / PANGO_SCALE, -0.5 * h / PANGO_SCALE + drop);
      fw_set_colour (cr, label->filled ? l->style->ground : label->colour);
      pango_cairo_show_layout (cr, label->layout);
      cairo_restore (cr);
    }
}
