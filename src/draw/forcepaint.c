/* Force arrows and knocking joints put on the page, and their words. */
#include <glib/gi18n.h>

#include "doc/loadwords.h"
#include "draw/forces.h"
#include "draw/layout.h"
#include "draw/overlay.h"

/* ---- Arrows ---- */

typedef struct
{
  FwVec2 tail, tip;
  gboolean open; /* head */
} Line;

/* One arrow is one line, a bar's two. */
static int
lines_of (const FwStyle *style, const FwArrow *arrow, Line lines[2])
{
  double length = fw_vec2_distance (arrow->from, arrow->to);
  double inner = 0.5 - FW_BAR_GAP * style->wide / fmax (length, 1e-9);
  gboolean open = arrow->kind == FW_ARROW_PULL;
  if (!arrow->bar)
    {
      lines[0] = (Line){ arrow->from, arrow->to, open };
      return 1;
    }
  for (int i = 0; i < 2; i++)
    {
      FwVec2 end = i == 0 ? arrow->from : arrow->to, other = i == 0 ? arrow->to : arrow->from;
      FwVec2 near_middle = fw_vec2_mix (end, other, fmax (inner, 0));
      lines[i] = open ? (Line){ near_middle, end, TRUE } : (Line){ end, near_middle, FALSE };
    }
  return 2;
}

static double
head_length (const FwStyle *style, double length)
{
  return fmin (6.2 * style->wide, 0.85 * length);
}

static void
path_shaft (cairo_t *cr, const Line *line, double head)
{
  double length = fw_vec2_distance (line->tail, line->tip);
  double t = line->open ? 1 : (length - 0.7 * head) / fmax (length, 1e-9);
  FwVec2 end = fw_vec2_mix (line->tail, line->tip, CLAMP (t, 0, 1));
  cairo_move_to (cr, line->tail.x, line->tail.y);
  cairo_line_to (cr, end.x, end.y);
}

static void
path_head (cairo_t *cr, const Line *line, double head)
{
  double length = fw_vec2_distance (line->tail, line->tip), broad = line->open ? 0.52 : 0.4;
  if (length < 1e-6)
    return;
  FwVec2 dir = fw_vec2 ((line->tip.x - line->tail.x) / length,
                        (line->tip.y - line->tail.y) / length);
  FwVec2 back = fw_vec2 (line->tip.x - head * dir.x, line->tip.y - head * dir.y);
  cairo_move_to (cr, back.x - broad * head * dir.y, back.y + broad * head * dir.x);
  cairo_line_to (cr, line->tip.x, line->tip.y);
  cairo_line_to (cr, back.x + broad * head * dir.y, back.y - broad * head * dir.x);
  if (!line->open)
    cairo_close_path (cr);
}

static void
paint_line (cairo_t *cr, const FwStyle *style, const Line *line, double width, FwColour colour,
            double grow)
{
  double head = head_length (style, fw_vec2_distance (line->tail, line->tip));
  fw_set_colour (cr, colour);
  path_shaft (cr, line, head);
  cairo_set_line_width (cr, width + grow);
  cairo_stroke (cr);
  path_head (cr, line, head);
  cairo_set_line_width (cr, (line->open ? width : style->thin) + grow);
  if (!line->open)
    cairo_fill_preserve (cr);
  cairo_stroke (cr);
}

/* The sign of a centre of mass: a ring with a dot. */
static void
paint_centre (cairo_t *cr, const FwStyle *style, FwVec2 at)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, 2.6 * style->wide, 0, 2 * G_PI);
  fw_set_colour (cr, style->ground);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  cairo_arc (cr, at.x, at.y, 0.9 * style->wide, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
paint_arrow (cairo_t *cr, const FwStyle *style, const FwArrow *arrow)
{
  Line lines[2];
  int n = lines_of (style, arrow, lines);
  double width = arrow->kind == FW_ARROW_WEIGHT ? style->thin : 1.15 * style->wide;
  for (int i = 0; i < n; i++)
    paint_line (cr, style, &lines[i], width, fw_colour_fade (style->ground, 0.85),
                2.6 * style->wide);
  for (int i = 0; i < n; i++)
    paint_line (cr, style, &lines[i], width, style->ink, 0);
  if (arrow->kind == FW_ARROW_WEIGHT)
    paint_centre (cr, style, arrow->from);
}

/* ---- Scale and key ---- */

typedef struct
{
  double newton, length; /* 0: no room */
  double x, y, tick;     /* left end of the bar; keys stand above it */
} Scale;

static gboolean
is_small (const FwStyle *style, FwBox page)
{
  return fmin (page.width, page.height) < 24 * style->text;
}

static Scale
lay_scale (const FwDrawing *d, const FwStyle *style, FwBox page)
{
  double scale = fw_arrow_scale (d->scene, fw_style_sheet (style, page));
  Scale s = { .tick = 0.3 * style->text };
  if (!(scale > 0) || d->scene->arrow_px > 0)
    return (Scale){ 0 };
  s.newton = fw_round_length (fmin (0.2 * page.width, 9 * style->text) / scale);
  s.length = s.newton * scale;
  s.x = page.x + page.width - 0.8 * style->text - s.length;
  s.y = page.y + page.height - 0.8 * style->text;
  return s.length > 6 ? s : (Scale){ 0 };
}

static void
paint_scale (cairo_t *cr, const FwStyle *style, const Scale *s)
{
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_move_to (cr, s->x, s->y);
  cairo_line_to (cr, s->x + s->length, s->y);
  for (int i = 0; i <= 1; i++)
    {
      cairo_move_to (cr, s->x + i * s->length, s->y - s->tick);
      cairo_line_to (cr, s->x + i * s->length, s->y + s->tick);
    }
  fw_set_colour (cr, style->ink);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
}

/* A pair of arrows as beside a bar, or a weight: the word beside it says what the shape means. */
static FwArrow
key_arrow (const FwStyle *style, FwBox page, FwArrowKind kind)
{
  static const double lifts[3] = { [FW_ARROW_PULL] = 3.6, [FW_ARROW_PUSH] = 5, [FW_ARROW_WEIGHT] = 6.4 };
  double right = page.x + page.width - 0.8 * style->text;
  double y = page.y + page.height - lifts[kind] * style->text;
  return (FwArrow){ .kind = kind, .bar = kind != FW_ARROW_WEIGHT, .from = { right - 2.6 * style->text, y },
                    .to = { right, y } };
}

void
fw_overlay_forces (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwBox page, guint show)
{
  FwArrow arrows[FW_MOST_ARROWS];
  int n = fw_force_arrows (d, style, page, show, arrows, FW_MOST_ARROWS);
  Scale scale = lay_scale (d, style, page);
  cairo_save (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (int i = 0; i < n; i++)
    paint_arrow (cr, style, &arrows[i]);
  if (d->scene->loads != NULL && scale.length > 0)
    {
      paint_scale (cr, style, &scale);
      for (int kind = 0; kind < 3 && !is_small (style, page); kind++)
        {
          if (!(show & (kind == FW_ARROW_WEIGHT ? FW_SHOW_WEIGHTS : FW_SHOW_FORCES)))
            continue;
          FwArrow key = key_arrow (style, page, (FwArrowKind)kind);
          paint_arrow (cr, style, &key);
        }
    }
  cairo_restore (cr);
}

/* ---- Words ---- */

static void
keep_off_arrow (FwLabels *labels, const FwArrow *arrow)
{
  double length = fw_vec2_distance (arrow->from, arrow->to);
  fw_labels_keep_off (labels,
                      (FwTilted){ fw_vec2_mix (arrow->from, arrow->to, 0.5), length / 2 + 1,
                                  2.8 * labels->style->wide,
                                  atan2 (arrow->to.y - arrow->from.y, arrow->to.x - arrow->from.x) });
}

static void
word_arrow (FwLabels *labels, const FwArrow *arrow)
{
  const FwStyle *s = labels->style;
  FwVec2 middle = fw_vec2_mix (arrow->from, arrow->to, 0.5), out = arrow->off;
  double reach = fw_vec2_distance (arrow->from, arrow->to) / 2, gap = 3.2 * s->wide;
  FwVec2 end = fw_vec2 (middle.x + out.x * reach, middle.y + out.y * reach);
  double dx = fabs (out.x) > 0.4 ? copysign (1, out.x) : 0,
         dy = fabs (out.y) > 0.4 ? copysign (1, out.y) : 0;
  double side = arrow->from.x >= labels->page.x + labels->page.width / 2 ? 1 : -1;
  FwSpot spots[6] = { { end, dx, dy, gap, 0 },      { middle, side, 0, gap, 0 },
                      { middle, -side, 0, gap, 0 }, { arrow->to, side, 0, gap, 0 },
                      { arrow->from, side, 0, gap, 0 }, { end, dx, dy, 3 * gap, 0 } };
  /* Beside a bar, at its middle or nearer to an end: farther off it would seem to tell of another. */
  for (int i = 0; i < 6 && arrow->bar; i++)
    {
      FwVec2 along = fw_vec2_mix (arrow->from, arrow->to, i < 2 ? 0.5 : i < 4 ? 0.3 : 0.7);
      double away = i % 2 == 0 ? 1 : -1;
      spots[i] = (FwSpot){ along, away * dx, away * dy, gap, 0 };
    }
  char *text = fw_units_format (arrow->force_N, FW_UNIT_N, s->lengths,
                                arrow->force_N < 0.1 ? fw_load_digits (arrow->force_N)
                                : arrow->force_N < 0.95 ? 2 : 1);
  FwWording wording = { .size = 0.8, .colour = s->ink };
  fw_labels_add (labels, text, &wording, spots, 6);
  g_free (text);
}

static void
word_scale (FwLabels *labels, const FwDrawing *d, guint show)
{
  const FwStyle *style = labels->style;
  Scale s = lay_scale (d, style, labels->page);
  if (!(s.length > 0))
    return;
  int digits = s.newton >= 1 ? 0 : (int)ceil (-log10 (s.newton) - 1e-9);
  char *text = fw_units_format (s.newton, FW_UNIT_N, style->lengths, digits);
  FwWording wording = { .size = 0.88, .colour = style->ink, .bare = TRUE };
  FwSpot over = { fw_vec2 (s.x + s.length / 2, s.y - s.tick), 0, -1, 0, 0 };
  fw_labels_add (labels, text, &wording, &over, 1);
  fw_labels_keep_off (labels, (FwTilted){ fw_vec2 (s.x + s.length / 2, s.y), s.length / 2,
                                          1.4 * s.tick, 0 });
  g_free (text);
  if (is_small (style, labels->page))
    return;
  const char *const words[3] = { [FW_ARROW_PUSH] = C_ ("force arrow", "push"),
                                 [FW_ARROW_PULL] = C_ ("force arrow", "pull"),
                                 [FW_ARROW_WEIGHT] = C_ ("force arrow", "weight") };
  for (int kind = 0; kind < 3; kind++)
    {
      if (!(show & (kind == FW_ARROW_WEIGHT ? FW_SHOW_WEIGHTS : FW_SHOW_FORCES)))
        continue;
      FwArrow key = key_arrow (style, labels->page, (FwArrowKind)kind);
      FwSpot spot = { key.from, -1, 0, 0.5 * style->text, 0 };
      keep_off_arrow (labels, &key);
      fw_labels_add (labels, words[kind], &wording, &spot, 1);
    }
}

void
fw_force_words (FwLabels *labels, const FwDrawing *d, guint show)
{
  FwArrow arrows[FW_MOST_ARROWS];
  int n = fw_force_arrows (d, labels->style, labels->page, show, arrows, FW_MOST_ARROWS);
  if (d->scene->loads == NULL)
    return;
  for (int i = 0; i < n; i++)
    keep_off_arrow (labels, &arrows[i]);
  word_scale (labels, d, show);
  /* The long ones first: where words have no room, the small go without. */
  for (int pass = 0; pass < 2 && !is_small (labels->style, labels->page); pass++)
    for (int i = 0; i < n; i++)
      {
        double length = fw_vec2_distance (arrows[i].from, arrows[i].to);
        gboolean is_long = length > 2 * labels->style->text;
        if (!arrows[i].twin && is_long == (pass == 0) && length > 0.6 * labels->style->text)
          word_arrow (labels, &arrows[i]);
      }
}

/* ---- Joints that knock ---- */

static void
path_star (cairo_t *cr, FwVec2 c, double outer)
{
  for (int i = 0; i < 16; i++)
    {
      double r = i % 2 == 0 ? outer : 0.56 * outer, a = G_PI * i / 8;
      cairo_line_to (cr, c.x + r * sin (a), c.y - r * cos (a));
    }
  cairo_close_path (cr);
}

static void
paint_star (cairo_t *cr, const FwStyle *style, FwVec2 at, gboolean real)
{
  path_star (cr, at, (real ? 11 : 8) * style->wide);
  fw_set_colour (cr, real ? style->trouble : fw_colour_fade (style->ground, 0.7));
  cairo_fill_preserve (cr);
  fw_set_colour (cr, real ? style->ground : style->remark);
  cairo_set_line_width (cr, real ? style->thin : 1.3 * style->thin);
  cairo_stroke (cr);
}

static int
joint_points (const FwDrawing *d, FwPart part, FwVec3 points[2])
{
  const FwPose *pose = d->scene->pose;
  const FwMechanism *m = d->scene->mechanism;
  const FwBody *body = &m->design->body;
  if (part.kind == FW_PART_LINK)
    {
      points[0] = pose->links[part.index].from.at;
      points[1] = pose->links[part.index].to.at;
      return 2;
    }
  if (part.kind == FW_PART_MEMBER)
    points[0] = pose->members[part.index].motion.at.origin;
  else
    {
      FwVec3 pin = pose->pins[m->body_pin].at, datum = pose->body.motion.at.origin;
      double length = fmax (fw_vec3_distance (pin, datum), 1e-9);
      double held = body->ride == FW_RIDE_SLEEVE   ? pose->body.guide_mm
                    : body->ride == FW_RIDE_ROCKER ? body->on_mm
                                                   : length;
      points[0] = fw_vec3_along (pin, held / length, fw_vec3_sub (datum, pin));
    }
  return 1;
}

void
fw_overlay_bounces (cairo_t *cr, const FwDrawing *d, const FwStyle *style, guint show)
{
  for (int i = 0; i < d->scene->n_bounces; i++)
    {
      const FwBounce *b = &d->scene->bounces[i];
      gboolean real = fw_bounce_is_real (d->scene->mechanism, b);
      gboolean wanted = (show & FW_SHOW_FORCES) || (real && (show & FW_SHOW_TROUBLE));
      FwVec3 points[2];
      if (!wanted || !fw_bounce_holds (b, d->scene->pose->crank)
          || (b->part.kind == FW_PART_BODY && d->scene->mechanism->body_pin < 0))
        continue;
      int n = joint_points (d, b->part, points);
      for (int k = 0; k < n; k++)
        paint_star (cr, style, fw_drawing_project (d, points[k]), real);
    }
}
