#include "draw/sketch.h"

#include <math.h>

#define TEXT 11.0
#define MARGIN 5.0 /* of words from the page's edge */
#define HEAD 7.0
#define GHOST 0.3

typedef enum { TUBE, SHEET, OVAL, PIN, LINE, HATCH, ARC, WEDGE, WORDS } Kind;

typedef struct
{
  Kind kind;
  FwSketchRole role;
  gboolean ghost, dash;
  int heads;            /* arrow heads: 1 at the end, 2 at both */
  int first, n;         /* points */
  FwMaterialLook look;
  double width;         /* TUBE; OVAL: half width; ARC, WEDGE: radius */
  double height, turn;  /* OVAL; ARC, WEDGE: from and to, degrees */
  char *text;
  FwBox box;            /* WORDS */
} Item;

struct FwSketch
{
  FwStyle style;
  gboolean ghost, dash;
  GArray *items;  /* Item */
  GArray *points; /* FwVec2 */
  PangoContext *context;
  PangoFontDescription *font;
};

static void
item_clear (gpointer data)
{
  g_free (((Item *)data)->text);
}

FwSketch *
fw_sketch_new (const FwStyle *style)
{
  FwSketch *s = g_new0 (FwSketch, 1);
  PangoFontMap *map = pango_cairo_font_map_get_default ();

  s->style = *style;
  s->style.thin = 0.75;
  s->style.wide = 1.5;
  s->items = g_array_new (FALSE, TRUE, sizeof (Item));
  s->points = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  g_array_set_clear_func (s->items, item_clear);
  s->context = pango_font_map_create_context (map);
  pango_cairo_context_set_resolution (s->context, 96);
  s->font = pango_font_description_from_string (s->style.family);
  pango_font_description_set_absolute_size (s->font, TEXT * PANGO_SCALE);
  return s;
}

void
fw_sketch_free (FwSketch *s)
{
  g_array_unref (s->items);
  g_array_unref (s->points);
  g_object_unref (s->context);
  pango_font_description_free (s->font);
  g_free (s);
}

void
fw_sketch_ghost (FwSketch *s, gboolean ghost)
{
  s->ghost = ghost;
}

void
fw_sketch_dash (FwSketch *s, gboolean dash)
{
  s->dash = dash;
}

/* ---- Adding ---- */

static Item *
add (FwSketch *s, Kind kind, FwSketchRole role, const FwVec2 *points, int n)
{
  Item item = { .kind = kind, .role = role, .ghost = s->ghost, .dash = s->dash, .first = (int)s->points->len, .n = n };
  g_array_append_vals (s->points, points, (guint)n);
  g_array_append_val (s->items, item);
  return &g_array_index (s->items, Item, s->items->len - 1);
}

void
fw_sketch_tube (FwSketch *s, const char *material, double width, const FwVec2 *points, int n)
{
  Item *item = add (s, TUBE, FW_SKETCH_INK, points, n);
  item->look = fw_material_look (material, s->style.theme);
  item->width = width;
}

void
fw_sketch_sheet (FwSketch *s, const char *material, const FwVec2 *points, int n)
{
  add (s, SHEET, FW_SKETCH_INK, points, n)->look = fw_material_look (material, s->style.theme);
}

void
fw_sketch_box (FwSketch *s, const char *material, double x, double y, double width, double height)
{
  const FwVec2 p[4] = { { x, y }, { x + width, y }, { x + width, y + height }, { x, y + height } };
  fw_sketch_sheet (s, material, p, 4);
}

void
fw_sketch_oval (FwSketch *s, const char *material, FwVec2 centre, double half_width, double half_height, double turn)
{
  Item *item = add (s, OVAL, FW_SKETCH_INK, &centre, 1);
  item->look = fw_material_look (material, s->style.theme);
  item->width = half_width;
  item->height = half_height;
  item->turn = turn;
}

void
fw_sketch_disc (FwSketch *s, const char *material, FwVec2 centre, double radius)
{
  fw_sketch_oval (s, material, centre, radius, radius, 0);
}

void
fw_sketch_pin (FwSketch *s, FwVec2 centre)
{
  add (s, PIN, FW_SKETCH_INK, &centre, 1);
}

void
fw_sketch_path (FwSketch *s, FwSketchRole role, const FwVec2 *points, int n)
{
  add (s, LINE, role, points, n);
}

void
fw_sketch_line (FwSketch *s, FwSketchRole role, FwVec2 a, FwVec2 b)
{
  fw_sketch_path (s, role, (const FwVec2[]){ a, b }, 2);
}

void
fw_sketch_arrow (FwSketch *s, FwSketchRole role, FwVec2 from, FwVec2 to)
{
  add (s, LINE, role, (const FwVec2[]){ from, to }, 2)->heads = 1;
}

void
fw_sketch_dim (FwSketch *s, FwSketchRole role, FwVec2 a, FwVec2 b)
{
  add (s, LINE, role, (const FwVec2[]){ a, b }, 2)->heads = 2;
}

void
fw_sketch_coil (FwSketch *s, FwSketchRole role, FwVec2 a, FwVec2 b, double half)
{
  enum { TURNS = 16 };
  FwVec2 p[TURNS + 3], along = { b.x - a.x, b.y - a.y };
  double length = hypot (along.x, along.y), x = -along.y / length * half, y = along.x / length * half;
  p[0] = a;
  for (int i = 0; i <= TURNS; i++)
    {
      FwVec2 on = fw_vec2_mix (a, b, 0.1 + 0.8 * i / TURNS);
      double side = i == 0 || i == TURNS ? 0 : i % 2 != 0 ? 1 : -1;
      p[i + 1] = fw_vec2 (on.x + side * x, on.y + side * y);
    }
  p[TURNS + 2] = b;
  fw_sketch_path (s, role, p, TURNS + 3);
}

void
fw_sketch_hatch (FwSketch *s, FwSketchRole role, const FwVec2 *points, int n)
{
  add (s, HATCH, role, points, n);
}

static void
add_round (FwSketch *s, Kind kind, FwSketchRole role, FwVec2 centre, double radius, double from, double to, int heads)
{
  g_return_if_fail (isfinite (from) && isfinite (to));
  Item *item = add (s, kind, role, &centre, 1);
  item->width = radius;
  item->height = from;
  item->turn = to;
  item->heads = heads;
}

void
fw_sketch_arc (FwSketch *s, FwSketchRole role, FwVec2 centre, double radius, double from, double to, int heads)
{
  add_round (s, ARC, role, centre, radius, from, to, heads);
}

void
fw_sketch_wedge (FwSketch *s, FwSketchRole role, FwVec2 centre, double radius, double from, double to)
{
  add_round (s, WEDGE, role, centre, radius, from, to, 0);
}

/* ---- Words ---- */

static PangoLayout *
layout_of (const FwSketch *s, const char *text)
{
  PangoLayout *layout = pango_layout_new (s->context);
  pango_layout_set_font_description (layout, s->font);
  pango_layout_set_text (layout, text, -1);
  pango_layout_set_width (layout, (int)((FW_SKETCH_WIDTH - 2 * MARGIN) * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  return layout;
}

void
fw_sketch_text (FwSketch *s, FwSketchRole role, FwVec2 at, double dx, double dy, const char *text)
{
  g_autoptr (PangoLayout) layout = layout_of (s, text);
  PangoRectangle r;
  pango_layout_get_pixel_extents (layout, NULL, &r);
  double x = at.x + (dx - 1) * r.width / 2.0 + dx * 4, y = at.y + (dy - 1) * r.height / 2.0 + dy * 3;
  x = CLAMP (x, MARGIN, FW_SKETCH_WIDTH - MARGIN - r.width);
  y = CLAMP (y, MARGIN - 2, FW_SKETCH_HEIGHT - MARGIN + 2 - r.height);
  Item *item = add (s, WORDS, role, &at, 1);
  item->text = g_strdup (text);
  item->ghost = item->dash = FALSE;
  item->box = (FwBox){ x, y, r.width, r.height };
}

int
fw_sketch_text_boxes (const FwSketch *s, FwBox *boxes, int capacity)
{
  int n = 0;
  for (guint i = 0; i < s->items->len; i++)
    {
      const Item *item = &g_array_index (s->items, Item, i);
      if (item->kind == WORDS && n++ < capacity)
        boxes[n - 1] = item->box;
    }
  return n;
}

FwBox
fw_sketch_reach (const FwSketch *s)
{
  double left = FW_SKETCH_WIDTH, top = FW_SKETCH_HEIGHT, right = 0, bottom = 0;
  for (guint i = 0; i < s->items->len; i++)
    {
      const Item *item = &g_array_index (s->items, Item, i);
      double room = item->kind == TUBE ? item->width / 2 : item->kind == OVAL ? fmax (item->width, item->height) : 0;
      for (int k = 0; k < item->n && item->kind != WORDS && item->kind != ARC && item->kind != WEDGE; k++)
        {
          FwVec2 p = g_array_index (s->points, FwVec2, item->first + k);
          left = fmin (left, p.x - room);
          right = fmax (right, p.x + room);
          top = fmin (top, p.y - room);
          bottom = fmax (bottom, p.y + room);
        }
    }
  return (FwBox){ left, top, right - left, bottom - top };
}

/* ---- Painting ---- */

static FwColour
colour_of (const FwSketch *s, const Item *item)
{
  FwColour c = item->role == FW_SKETCH_HOT     ? s->style.motion
               : item->role == FW_SKETCH_BAD   ? s->style.trouble
               : item->role == FW_SKETCH_FAINT ? s->style.faint_ink
                                               : s->style.ink;
  return item->ghost ? fw_colour_fade (c, 0.45) : c;
}

static double
line_of (const FwSketch *s, const Item *item)
{
  return item->role == FW_SKETCH_FAINT ? s->style.thin : item->role == FW_SKETCH_INK ? s->style.wide : s->style.wide * 1.2;
}

static void
path_of (const FwSketch *s, cairo_t *cr, const Item *item)
{
  for (int i = 0; i < item->n; i++)
    {
      FwVec2 p = g_array_index (s->points, FwVec2, item->first + i);
      cairo_line_to (cr, p.x, p.y);
    }
}

static void
paint_head (cairo_t *cr, FwVec2 tip, double angle)
{
  cairo_save (cr);
  cairo_translate (cr, tip.x, tip.y);
  cairo_rotate (cr, angle);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, -HEAD, HEAD * 0.36);
  cairo_line_to (cr, -HEAD, -HEAD * 0.36);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_restore (cr);
}

static void
paint_tube (const FwSketch *s, cairo_t *cr, const Item *item)
{
  const FwColour colours[3] = { item->look.edge, item->look.fill, item->look.light };
  const double widths[3] = { item->width, item->width - 2 * s->style.wide, fmax (item->width * 0.16, 0.6) };
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (int k = 0; k < 3 && widths[k] > 0; k++)
    {
      path_of (s, cr, item);
      cairo_set_line_width (cr, widths[k]);
      fw_set_colour (cr, colours[k]);
      cairo_stroke (cr);
    }
}

static void
paint_shape (const FwSketch *s, cairo_t *cr, const Item *item)
{
  FwVec2 p = g_array_index (s->points, FwVec2, item->first);
  if (item->kind == SHEET)
    path_of (s, cr, item);
  else
    {
      cairo_save (cr);
      cairo_translate (cr, p.x, p.y);
      cairo_rotate (cr, item->turn * G_PI / 180);
      cairo_scale (cr, item->width, item->height);
      cairo_new_sub_path (cr);
      cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
      cairo_restore (cr);
    }
  cairo_close_path (cr);
  fw_set_colour (cr, item->look.fill);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, item->look.edge);
  cairo_set_line_width (cr, s->style.wide);
  cairo_stroke (cr);
}

static void
paint_pin (const FwSketch *s, cairo_t *cr, const Item *item)
{
  FwVec2 p = g_array_index (s->points, FwVec2, item->first);
  cairo_new_sub_path (cr);
  cairo_arc (cr, p.x, p.y, 2.8, 0, 2 * G_PI);
  fw_set_colour (cr, s->style.panel_ground);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, s->style.ink);
  cairo_set_line_width (cr, s->style.wide * 0.8);
  cairo_stroke (cr);
}

/* Lines end inside their arrow heads. */
static FwVec2
drawn_in (FwVec2 end, FwVec2 before)
{
  double length = fw_vec2_distance (end, before);
  return length > HEAD ? fw_vec2_mix (end, before, HEAD * 0.7 / length) : end;
}

static void
paint_line (const FwSketch *s, cairo_t *cr, const Item *item)
{
  const FwVec2 *p = &g_array_index (s->points, FwVec2, item->first);
  int last = item->n - 1;
  FwVec2 start = item->heads == 2 ? drawn_in (p[0], p[1]) : p[0];
  FwVec2 end = item->heads > 0 ? drawn_in (p[last], p[last - 1]) : p[last];

  cairo_move_to (cr, start.x, start.y);
  for (int i = 1; i < last; i++)
    cairo_line_to (cr, p[i].x, p[i].y);
  cairo_line_to (cr, end.x, end.y);
  cairo_stroke (cr);
  if (item->heads > 0)
    paint_head (cr, p[last], atan2 (p[last].y - p[last - 1].y, p[last].x - p[last - 1].x));
  if (item->heads == 2)
    paint_head (cr, p[0], atan2 (p[0].y - p[1].y, p[0].x - p[1].x));
}

static void
paint_arc (const FwSketch *s, cairo_t *cr, const Item *item)
{
  FwVec2 c = g_array_index (s->points, FwVec2, item->first);
  double from = item->height, to = item->turn, sense = to > from ? 1 : -1, trim = HEAD * 0.7 / item->width * 180 / G_PI;
  int heads = fabs (to - from) > item->heads * trim * 1.1 ? item->heads : 0; /* where there is room for them */
  double a = (from + (heads == 2 ? sense * trim : 0) - 90) * G_PI / 180;
  double b = (to - (heads > 0 ? sense * trim : 0) - 90) * G_PI / 180;

  cairo_new_sub_path (cr);
  if (sense > 0)
    cairo_arc (cr, c.x, c.y, item->width, a, b);
  else
    cairo_arc_negative (cr, c.x, c.y, item->width, a, b);
  if (item->kind == WEDGE)
    {
      cairo_line_to (cr, c.x, c.y);
      cairo_close_path (cr);
      fw_set_colour (cr, fw_colour_fade (colour_of (s, item), 0.18));
      cairo_fill (cr);
      return;
    }
  cairo_stroke (cr);
  /* A head lies along the chord it covers, so that it does not stand off a small arc. */
  if (heads > 0)
    paint_head (cr, fw_sketch_at (c, item->width, to), (to + sense * (90 - trim * 0.7) - 90) * G_PI / 180);
  if (heads == 2)
    paint_head (cr, fw_sketch_at (c, item->width, from), (from - sense * (90 - trim * 0.7) - 90) * G_PI / 180);
}

static void
paint_hatch (const FwSketch *s, cairo_t *cr, const Item *item)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  if (item->role >= FW_SKETCH_HOT)
    {
      path_of (s, cr, item);
      fw_set_colour (cr, fw_colour_fade (colour_of (s, item), 0.18));
      cairo_fill (cr);
      fw_set_colour (cr, colour_of (s, item));
    }
  fw_polygon_hatch (&g_array_index (s->points, FwVec2, item->first), item->n, -G_PI / 4, 5, pairs);
  for (guint i = 0; i + 1 < pairs->len; i += 2)
    {
      FwVec2 a = g_array_index (pairs, FwVec2, i), b = g_array_index (pairs, FwVec2, i + 1);
      cairo_move_to (cr, a.x, a.y);
      cairo_line_to (cr, b.x, b.y);
    }
  cairo_set_line_width (cr, s->style.thin);
  cairo_stroke (cr);
}

/* A rim of the ground keeps words readable where a line passes behind them. */
static void
paint_words (const FwSketch *s, cairo_t *cr, const Item *item)
{
  g_autoptr (PangoLayout) layout = layout_of (s, item->text);
  cairo_move_to (cr, item->box.x, item->box.y);
  pango_cairo_layout_path (cr, layout);
  fw_set_colour (cr, s->style.panel_ground);
  cairo_set_line_width (cr, 3.5);
  cairo_stroke (cr);
  cairo_move_to (cr, item->box.x, item->box.y);
  fw_set_colour (cr, colour_of (s, item));
  pango_cairo_show_layout (cr, layout);
}

static void
paint_item (const FwSketch *s, cairo_t *cr, const Item *item)
{
  const double dashes[2] = { 4, 3 };
  gboolean pale = item->ghost && (item->kind == TUBE || item->kind == SHEET || item->kind == OVAL || item->kind == PIN);

  cairo_save (cr);
  fw_set_colour (cr, colour_of (s, item));
  cairo_set_line_width (cr, line_of (s, item));
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  if (item->dash)
    cairo_set_dash (cr, dashes, 2, 0);
  if (pale)
    cairo_push_group (cr);
  switch (item->kind)
    {
    case TUBE: paint_tube (s, cr, item); break;
    case SHEET:
    case OVAL: paint_shape (s, cr, item); break;
    case PIN: paint_pin (s, cr, item); break;
    case LINE: paint_line (s, cr, item); break;
    case HATCH: paint_hatch (s, cr, item); break;
    case ARC:
    case WEDGE: paint_arc (s, cr, item); break;
    case WORDS: break;
    }
  if (pale)
    {
      cairo_pop_group_to_source (cr);
      cairo_paint_with_alpha (cr, GHOST);
    }
  cairo_restore (cr);
}

void
fw_sketch_paint (const FwSketch *s, cairo_t *cr, FwBox box)
{
  double size = fmin (box.width / FW_SKETCH_WIDTH, box.height / FW_SKETCH_HEIGHT);

  cairo_save (cr);
  cairo_translate (cr, box.x + (box.width - size * FW_SKETCH_WIDTH) / 2, box.y + (box.height - size * FW_SKETCH_HEIGHT) / 2);
  cairo_scale (cr, size, size);
  cairo_rectangle (cr, 0, 0, FW_SKETCH_WIDTH, FW_SKETCH_HEIGHT);
  cairo_clip_preserve (cr);
  fw_set_colour (cr, s->style.panel_ground);
  cairo_fill (cr);
  for (guint i = 0; i < s->items->len; i++)
    paint_item (s, cr, &g_array_index (s->items, Item, i));
  for (guint i = 0; i < s->items->len; i++)
    if (g_array_index (s->items, Item, i).kind == WORDS)
      paint_words (s, cr, &g_array_index (s->items, Item, i));
  cairo_restore (cr);
}
