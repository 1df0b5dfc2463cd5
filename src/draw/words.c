/* Names, sides, scale bar and dimensions, laid out so that none covers another. */
#include <glib/gi18n.h>

#include "doc/units.h"
#include "draw/layout.h"
#include "draw/overlay.h"

char *
fw_figure (double value, FwUnit unit, FwLengths lengths)
{
  gboolean whole = fabs (value - round (value)) < 0.05;
  return fw_units_format (value, unit, lengths, whole && lengths == FW_LENGTHS_MM ? 0 : -1);
}

/* Lines that words had better not lie on. */
void
fw_words_lines (FwLabels *labels, const FwDrawing *d)
{
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      if (piece->kind == FW_PIECE_TUBE && piece->n == 2)
        {
          const FwVec2 *p = fw_drawing_points (d, piece->first);
          if (fw_vec2_distance (p[0], p[1]) > 8 * d->line)
            fw_labels_line (labels, p[0], p[1]);
        }
      else if (piece->kind == FW_PIECE_SHEET && piece->n_faces > 0)
        {
          const FwFace *face
              = &g_array_index (d->faces, FwFace, piece->first_face + piece->n_faces - 1);
          const FwVec2 *p = fw_drawing_points (d, face->first);
          for (int k = 0; k < face->n && face->n < 24; k++)
            fw_labels_line (labels, p[k], p[(k + 1) % face->n]);
        }
    }
}

static void
add_corner_title (FwLabels *labels, const char *name, const char *how)
{
  double text = labels->style->text, left = labels->page.x + 0.5 * text,
         top = labels->page.y + 0.4 * text;
  FwWording wording = { .size = 1.08, .bold = TRUE, .colour = labels->style->ink, .bare = TRUE };
  FwSpot spot = { fw_vec2 (left, top), 1, 1, 0, 0 };
  double width, height;
  fw_labels_measure (labels, name, &wording, &width, &height);
  fw_labels_add (labels, name, &wording, &spot, 1);
  FwWording quiet = { .size = 0.88, .colour = labels->style->faint_ink, .bare = TRUE };
  FwSpot beside[2] = { { fw_vec2 (left + width + 1, top + 0.09 * text), 1, 1, 0, 0 },
                       { fw_vec2 (left, top + height + 1), 1, 1, 0, 0 } };
  fw_labels_add (labels, how, &quiet, beside, 2);
}

static void
add_letter (FwLabels *labels, const char *letter, FwVec2 at, double away)
{
  FwWording wording
      = { .size = 0.9, .bold = TRUE, .colour = labels->style->faint_ink, .mark = FW_MARK_RING };
  FwSpot spots[3] = { { at, away, 0, 0.4 * labels->style->text, 0 },
                      { at, 0, -1, 0.4 * labels->style->text, 0 },
                      { at, -away, -1, 0.6 * labels->style->text, 0 } };
  fw_labels_add (labels, letter, &wording, spots, 3);
}

void
fw_words_sides (FwLabels *labels, const FwDrawing *d, gboolean title)
{
  double plate[3], top;
  fw_design_base (d->scene->mechanism->design, plate, &top);
  double z = top - plate[2] / 2;
  FwView view = d->camera.view;
  if (title)
    {
      if (view == FW_VIEW_FRONT)
        add_corner_title (labels, C_ ("view", "Front"), _ ("seen from ahead"));
      else if (view == FW_VIEW_SIDE)
        add_corner_title (labels, C_ ("view", "Side"),
                          _ ("seen from its right, ahead is to the right"));
      else
        add_corner_title (labels, C_ ("view", "Three-quarter"), _ ("from ahead, right and above"));
    }
  if (view == FW_VIEW_SIDE)
    return;
  FwVec2 right = fw_drawing_project (d, fw_vec3 (plate[0] / 2, 0, z));
  FwVec2 left = fw_drawing_project (d, fw_vec3 (-plate[0] / 2, 0, z));
  add_letter (labels, C_ ("right side", "R"), right, -1);
  add_letter (labels, C_ ("left side", "L"), left, 1);
}

/* ---- Names ---- */

/* Wings and what drives them are dimensioned from ahead, neck and tail from the side: each figure
 * stands once, where its line is long and free. */
static gboolean
belongs_here (const FwDrawing *d, int member)
{
  const FwDesign *design = d->scene->mechanism->design;
  int panel = d->scene->mechanism->members[member].panel;
  while (design->panels[panel].on != FW_ON_BODY)
    panel = design->panels[panel].on;
  return (design->panels[panel].reach == FW_REACH_SIDE) == (d->camera.view != FW_VIEW_SIDE);
}

static void
add_name (FwLabels *labels, const char *name, FwVec2 anchor, double gap)
{
  FwSpot spots[16];
  int n = fw_spots_around (anchor, gap, spots);
  n += fw_spots_around (anchor, 3 * gap, spots + n);
  FwWording wording = { .size = 0.9, .colour = labels->style->ink, .leader = TRUE, .from = anchor };
  if (name != NULL && name[0] != '\0')
    fw_labels_add (labels, name, &wording, spots, n);
}

void
fw_words_names (FwLabels *labels, const FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwPose *pose = d->scene->pose;
  double gap = 5 * labels->style->wide;
  for (int i = 0; i < m->n_members; i++)
    {
      const FwPanel *panel = &m->design->panels[m->members[i].panel];
      if ((m->members[i].left && panel->side == FW_SIDE_BOTH) || !belongs_here (d, i))
        continue;
      FwVec3 at
          = fw_frame_to_world (&pose->members[i].motion.at, fw_vec3 (0.55 * panel->span_mm, 0, 0));
      add_name (labels, panel->name, fw_drawing_project (d, at), gap);
    }
  for (int i = 0; i < m->n_links; i++)
    {
      const FwRod *rod = &m->design->rods[m->links[i].rod];
      if ((m->links[i].left && rod->side == FW_SIDE_BOTH) || !belongs_here (d, m->links[i].member))
        continue;
      FwVec3 at = fw_vec3_scale (fw_vec3_add (pose->links[i].from.at, pose->links[i].to.at), 0.5);
      add_name (labels, rod->name, fw_drawing_project (d, at), gap);
    }
  gboolean end_on
      = fabs (fw_vec3_dot (fw_crank_axis (m->design->crank.runs), d->axes.toward)) > 0.97;
  for (int i = 0; i < m->n_pins && !end_on; i++)
    if (!m->pins[i].twin)
      add_name (labels, m->design->crank.throws[m->pins[i].throw_index].name,
                fw_drawing_project (d, pose->pins[i].at), gap);
}

/* ---- Scale bar ---- */

void
fw_scale_bar (cairo_t *cr, FwLabels *labels, double scale, FwBox page)
{
  const FwStyle *s = labels->style;
  double most = fmin (0.22 * page.width, 16 * s->text);
  double unit = s->lengths == FW_LENGTHS_INCH ? 25.4 : 1;
  double length = fw_round_length (most / (scale * unit)) * unit, seen = length * scale;
  if (!(seen > 8))
    return;
  double x = page.x + 0.8 * s->text, y = page.y + page.height - 0.8 * s->text, tick = 0.3 * s->text;
  char *text = fw_units_format (length, FW_UNIT_MM, s->lengths, length / unit < 1 ? 3 : 0);
  FwWording wording = { .size = 0.88, .colour = s->ink, .bare = TRUE };
  FwSpot spots[2] = { { fw_vec2 (x + seen / 2, y - tick), 0, -1, 0, 0 },
                      { fw_vec2 (x + seen, y), 1, 0, 0.3 * s->text, 0 } };
  fw_labels_add (labels, text, &wording, spots, 2);
  g_free (text);
  fw_labels_keep_off (labels, (FwTilted){ fw_vec2 (x + seen / 2, y), seen / 2, 1.4 * tick, 0 });
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + seen, y);
  for (int i = 0; i <= 2; i++)
    {
      double reach = i == 1 ? 0.6 * tick : tick;
      cairo_move_to (cr, x + seen * i / 2, y - reach);
      cairo_line_to (cr, x + seen * i / 2, y + reach);
    }
  fw_set_colour (cr, s->ink);
  cairo_set_line_width (cr, s->wide);
  cairo_stroke (cr);
}

/* ---- Dimensions, after ISO 129: thin lines, slim arrowheads, figures over the line ---- */

static void
path_arrow (cairo_t *cr, FwVec2 tip, FwVec2 dir, double size)
{
  cairo_move_to (cr, tip.x, tip.y);
  cairo_line_to (cr, tip.x - dir.x * size - dir.y * 0.17 * size,
                 tip.y - dir.y * size + dir.x * 0.17 * size);
  cairo_line_to (cr, tip.x - dir.x * size + dir.y * 0.17 * size,
                 tip.y - dir.y * size - dir.x * 0.17 * size);
  cairo_close_path (cr);
}

/* A dimension from a to b, its line `away` px to the right of the way from a to b. Painted only if
 * its figure finds a place. */
static gboolean
add_linear (cairo_t *cr, FwLabels *labels, FwVec2 a, FwVec2 b, double away, const char *text)
{
  const FwStyle *s = labels->style;
  double length = fw_vec2_distance (a, b);
  if (length < 3 * s->text)
    return FALSE;
  FwVec2 dir = fw_vec2 ((b.x - a.x) / length, (b.y - a.y) / length), out = fw_vec2 (-dir.y, dir.x);
  FwVec2 p = fw_vec2 (a.x + out.x * away, a.y + out.y * away),
         q = fw_vec2 (b.x + out.x * away, b.y + out.y * away);
  double angle = atan2 (dir.y, dir.x);
  if (angle > G_PI_2 - 1e-6 || angle <= -G_PI_2 - 1e-6)
    angle += angle > 0 ? -G_PI : G_PI;
  const double places[3] = { 0.5, 0.32, 0.68 };
  FwSpot spots[3];
  for (int i = 0; i < 3; i++)
    spots[i] = (FwSpot){ fw_vec2_mix (p, q, places[i]), 0, -1, 0.5 * s->thin, angle };
  FwWording wording = { .size = 0.85, .colour = s->ink, .bare = TRUE };
  if (!fw_labels_add (labels, text, &wording, spots, 3))
    return FALSE;
  fw_labels_line (labels, p, q);
  double beyond = away > 0 ? 2.5 * s->wide : -2.5 * s->wide,
         gap = away > 0 ? 2 * s->wide : -2 * s->wide;
  cairo_move_to (cr, a.x + out.x * gap, a.y + out.y * gap);
  cairo_line_to (cr, p.x + out.x * beyond, p.y + out.y * beyond);
  cairo_move_to (cr, b.x + out.x * gap, b.y + out.y * gap);
  cairo_line_to (cr, q.x + out.x * beyond, q.y + out.y * beyond);
  cairo_move_to (cr, p.x, p.y);
  cairo_line_to (cr, q.x, q.y);
  fw_set_colour (cr, fw_colour_fade (s->ink, 0.8));
  cairo_set_line_width (cr, s->thin);
  cairo_stroke (cr);
  path_arrow (cr, p, fw_vec2 (-dir.x, -dir.y), 7 * s->wide);
  path_arrow (cr, q, dir, 7 * s->wide);
  cairo_fill (cr);
  return TRUE;
}

static void
add_length (cairo_t *cr, FwLabels *labels, FwVec2 a, FwVec2 b, double first_away,
            const char *format, double mm)
{
  char *amount = fw_figure (mm, FW_UNIT_MM, labels->style->lengths);
  char *text = format == NULL ? g_strdup (amount) : g_strdup_printf ("%s %s", format, amount);
  double step = labels->style->text;
  const double aways[4]
      = { first_away, -first_away, first_away + (first_away > 0 ? 1.7 : -1.7) * step,
          -first_away - (first_away > 0 ? 1.7 : -1.7) * step };
  for (int i = 0; i < 4; i++)
    if (add_linear (cr, labels, a, b, aways[i], text))
      break;
  g_free (text);
  g_free (amount);
}

static gboolean
true_length (const FwDrawing *d, FwVec3 a, FwVec3 b)
{
  double real = fw_vec3_distance (a, b) * d->camera.scale;
  return fw_vec2_distance (fw_drawing_project (d, a), fw_drawing_project (d, b)) > 0.9 * real;
}

static void
add_throws (cairo_t *cr, FwLabels *labels, const FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwStyle *s = labels->style;
  FwVec2 centre = fw_vec2 (d->camera.x, d->camera.y);
  for (int i = 0; i < m->n_pins; i++)
    {
      if (m->pins[i].twin)
        continue;
      /* Translators: a throw's name and radius. */
      char *amount = fw_figure (m->pins[i].radius_mm, FW_UNIT_MM, s->lengths);
      char *text = g_strdup_printf (_ ("%s R %s"),
                                    m->design->crank.throws[m->pins[i].throw_index].name, amount);
      FwVec2 at = fw_drawing_project (d, d->scene->pose->pins[i].at);
      double length = fw_vec2_distance (centre, at);
      FwVec2 dir = length > 1 ? fw_vec2 ((at.x - centre.x) / length, (at.y - centre.y) / length)
                              : fw_vec2 (0, -1);
      FwSpot spots[12];
      int n = 0;
      for (double out = 1.4; out < 6; out += 1.5)
        for (int k = 0; k < 3; k++)
          {
            double sign = dir.x >= 0 ? 1 : -1, lift = k == 0 ? 0 : k == 1 ? -1.1 : 1.1;
            spots[n++] = (FwSpot){ fw_vec2 (at.x + dir.x * out * s->text,
                                            at.y + (dir.y * out + lift) * s->text),
                                   sign, 0, 0.5 * s->text, 0 };
          }
      FwWording wording = { .size = 0.85, .colour = s->ink, .leader = TRUE, .from = at };
      if (fw_labels_add (labels, text, &wording, spots, n))
        {
          cairo_move_to (cr, centre.x, centre.y);
          cairo_line_to (cr, at.x, at.y);
          fw_set_colour (cr, s->ink);
          cairo_set_line_width (cr, s->thin);
          cairo_stroke (cr);
          path_arrow (cr, at, dir, 6 * s->wide);
          cairo_fill (cr);
        }
      g_free (text);
      g_free (amount);
    }
}

static void
add_members (cairo_t *cr, FwLabels *labels, const FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  double away = 2.2 * labels->style->text;
  for (int i = 0; i < m->n_members; i++)
    {
      const FwPanel *panel = &m->design->panels[m->members[i].panel];
      if ((m->members[i].left && panel->side == FW_SIDE_BOTH) || !belongs_here (d, i))
        continue;
      const FwFrame *f = &d->scene->pose->members[i].motion.at;
      FwVec3 tip = fw_frame_to_world (f, fw_vec3 (panel->span_mm, 0, 0));
      if (!true_length (d, f->origin, tip))
        continue;
      FwVec2 a = fw_drawing_project (d, f->origin), b = fw_drawing_project (d, tip);
      add_length (cr, labels, a, b, a.x > b.x ? away : -away, NULL, panel->span_mm);
    }
}

static void
add_rods (cairo_t *cr, FwLabels *labels, const FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  double away = 1.5 * labels->style->text;
  for (int i = 0; i < m->n_links; i++)
    {
      const FwRod *rod = &m->design->rods[m->links[i].rod];
      FwVec3 from = d->scene->pose->links[i].from.at, to = d->scene->pose->links[i].to.at;
      if ((m->links[i].left && rod->side == FW_SIDE_BOTH) || !true_length (d, from, to)
          || !belongs_here (d, m->links[i].member))
        continue;
      add_length (cr, labels, fw_drawing_project (d, from), fw_drawing_project (d, to), -away, NULL,
                  rod->length_mm);
    }
}

static void
add_body (cairo_t *cr, FwLabels *labels, const FwDrawing *d)
{
  const FwMechanism *m = d->scene->mechanism;
  const FwBody *body = &m->design->body;
  double away = 1.8 * labels->style->text;
  if (m->body_pin < 0)
    return;
  FwVec3 pin = d->scene->pose->pins[m->body_pin].at, datum = d->scene->pose->body.motion.at.origin;
  double length = body->ride == FW_RIDE_RAIL ? body->rod_mm : body->post_mm;
  gboolean end_on
      = fabs (fw_vec3_dot (fw_crank_axis (m->design->crank.runs), d->axes.toward)) > 0.97;
  if (true_length (d, pin, datum) && end_on)
    add_length (cr, labels, fw_drawing_project (d, pin), fw_drawing_project (d, datum), away, NULL,
                length);
  if (body->ride == FW_RIDE_SLEEVE && end_on)
    {
      FwVec3 h = fw_crank_h (m->design->crank.runs);
      FwVec3 guide
          = fw_vec3_add (fw_vec3_scale (h, body->guide_mm.x), fw_vec3 (0, 0, body->guide_mm.y));
      FwVec3 foot = fw_vec3_scale (h, body->guide_mm.x);
      add_length (cr, labels, fw_drawing_project (d, foot), fw_drawing_project (d, guide),
                  -4.5 * away, NULL, body->guide_mm.y);
    }
}

void
fw_words_dimensions (cairo_t *cr, FwLabels *labels, const FwDrawing *d)
{
  if (d->camera.view == FW_VIEW_THREE_QUARTER)
    return;
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  if (fabs (fw_vec3_dot (fw_crank_axis (d->scene->mechanism->design->crank.runs), d->axes.toward))
      > 0.97)
    add_throws (cr, labels, d);
  add_body (cr, labels, d);
  add_rods (cr, labels, d);
  add_members (cr, labels, d);
}
