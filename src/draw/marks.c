/* Trouble marked on the part, and rods that do not reach. Always told twice: hatching or a shape
 * beside the colour. */
#include <glib/gi18n.h>

#include "doc/units.h"
#include "draw/overlay.h"

gboolean
fw_trouble_holds (const FwTrouble *t, double crank)
{
  double turn = 2 * G_PI, at = fmod (crank - t->from, turn);
  if (at < 0)
    at += turn;
  return at <= t->to - t->from + 1e-9;
}

static FwColour
trouble_colour (const FwStyle *style, FwSeverity severity)
{
  return severity == FW_REMARK ? style->remark : style->trouble;
}

/* ---- Rods that do not reach ---- */

static void
draw_gap (cairo_t *cr, const FwStyle *style, FwVec2 a, FwVec2 b)
{
  double length = fw_vec2_distance (a, b), tick = 3 * style->wide;
  if (length < 1)
    return;
  FwVec2 dir = fw_vec2 ((b.x - a.x) / length, (b.y - a.y) / length);
  int ticks = (int)CLAMP (length / (3 * style->wide), 1, 200);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  for (int i = 0; i <= ticks; i++)
    {
      FwVec2 p = fw_vec2_mix (a, b, (double)i / ticks);
      cairo_move_to (cr, p.x - tick * (dir.x + dir.y) * 0.7, p.y - tick * (dir.y - dir.x) * 0.7);
      cairo_line_to (cr, p.x + tick * (dir.x + dir.y) * 0.7, p.y + tick * (dir.y - dir.x) * 0.7);
    }
  fw_set_colour (cr, style->trouble);
  cairo_set_line_width (cr, style->thin * 1.3);
  cairo_stroke (cr);
  for (int i = 0; i < 2; i++)
    {
      FwVec2 p = i == 0 ? a : b;
      cairo_new_sub_path (cr);
      cairo_arc (cr, p.x, p.y, 2.6 * style->wide, 0, 2 * G_PI);
    }
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
}

static void
word_gap (FwLabels *labels, const FwStyle *style, FwVec2 at, double missing)
{
  char *amount = fw_units_format (fabs (missing), FW_UNIT_MM, style->lengths, -1);
  char *text = g_strdup_printf (missing > 0 ? _ ("%s too short") : _ ("%s too long"), amount);
  FwWording wording = { .bold = TRUE, .colour = style->trouble };
  FwSpot spots[8];
  fw_labels_add (labels, text, &wording, spots, fw_spots_around (at, 4 * style->wide, spots));
  g_free (text);
  g_free (amount);
}

void
fw_overlay_broken (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwLabels *labels)
{
  const FwMechanism *m = d->scene->mechanism;
  FwVec2 drawn[2] = { { NAN, NAN }, { NAN, NAN } };
  for (int i = 0; i < m->n_links; i++)
    {
      FwVec3 end;
      if (!fw_link_broken (d->scene, i, &end))
        continue;
      FwVec2 a = fw_drawing_project (d, end),
             b = fw_drawing_project (d, d->scene->pose->links[i].to.at);
      /* From the side a twin lies on its twin. */
      if (!(fw_vec2_distance (a, drawn[0]) < 0.02 && fw_vec2_distance (b, drawn[1]) < 0.02))
        draw_gap (cr, style, a, b);
      drawn[0] = a;
      drawn[1] = b;
      /* Twins lack the same, so the figure stands once; in a small picture the break alone must do.
       */
      gboolean twin = i > 0 && m->links[i - 1].rod == m->links[i].rod;
      if (twin || fmin (labels->page.width, labels->page.height) < 24 * style->text)
        continue;
      word_gap (labels, style, fw_vec2_mix (a, b, 0.5),
                d->scene->pose->members[m->links[i].member].missing_mm);
    }
  const FwBodyPose *body = &d->scene->pose->body;
  if (body->closure == FW_CLOSES)
    return;
  FwVec2 at = fw_drawing_project (d, body->motion.at.origin);
  draw_gap (cr, style, fw_vec2 (at.x - 6 * style->wide, at.y),
            fw_vec2 (at.x + 6 * style->wide, at.y));
  word_gap (labels, style, at, body->missing_mm);
}

/* ---- Marks ---- */

static gboolean
same_part (FwPart a, FwPart b)
{
  gboolean numbered = a.kind == FW_PART_MEMBER || a.kind == FW_PART_LINK;
  return a.kind == b.kind && (!numbered || a.index == b.index);
}

static gboolean
part_there (const FwMechanism *m, FwPart part)
{
  if (part.kind == FW_PART_MEMBER)
    return part.index >= 0 && part.index < m->n_members;
  return part.kind != FW_PART_LINK || (part.index >= 0 && part.index < m->n_links);
}

static FwVec2
part_anchor (const FwDrawing *d, FwPart part)
{
  const FwPose *pose = d->scene->pose;
  const FwMechanism *m = d->scene->mechanism;
  double plate[3], top;
  switch (part.kind)
    {
    case FW_PART_MEMBER:
      return fw_drawing_project (
          d, fw_frame_to_world (&pose->members[part.index].motion.at,
                                fw_vec3 (0.55 * m->members[part.index].span_mm, 0, 0)));
    case FW_PART_LINK:
      return fw_drawing_project (d,
                                 fw_vec3_add (fw_vec3_scale (pose->links[part.index].from.at, 0.45),
                                              fw_vec3_scale (pose->links[part.index].to.at, 0.55)));
    case FW_PART_BODY:
      return fw_drawing_project (d, pose->body.motion.at.origin);
    case FW_PART_CRANK:
      return fw_drawing_project (d, fw_vec3 (0, 0, 0));
    default:
      fw_design_base (m->design, plate, &top);
      return fw_drawing_project (d, fw_vec3 (0, 0, top - plate[2] / 2));
    }
}

static void
hatch_piece (cairo_t *cr, const FwDrawing *d, const FwStyle *style, const FwPiece *piece,
             FwColour colour)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  if (piece->kind == FW_PIECE_SHEET || piece->kind == FW_PIECE_FACES)
    for (int i = 0; i < piece->n_faces; i++)
      {
        const FwFace *face = &g_array_index (d->faces, FwFace, piece->first_face + i);
        fw_polygon_hatch (fw_drawing_points (d, face->first), face->n, -G_PI / 4, 4.2 * style->wide,
                          pairs);
      }
  else
    {
      const FwVec2 *p = fw_drawing_points (d, piece->first);
      double half = piece->width / 2 + 2.2 * style->wide;
      for (int k = 0; k + 1 < piece->n; k++)
        {
          double length = fw_vec2_distance (p[k], p[k + 1]);
          int ticks = (int)CLAMP (length / (5 * style->wide), 0, 200);
          for (int i = 1; i < ticks; i++)
            {
              FwVec2 q = fw_vec2_mix (p[k], p[k + 1], (double)i / ticks);
              FwVec2 a = fw_vec2 (q.x - half, q.y + half), b = fw_vec2 (q.x + half, q.y - half);
              g_array_append_val (pairs, a);
              g_array_append_val (pairs, b);
            }
        }
    }
  fw_path_pairs (cr, (const FwVec2 *)(void *)pairs->data, (int)pairs->len / 2);
  g_array_unref (pairs);
  fw_set_colour (cr, colour);
  cairo_set_line_width (cr, 1.2 * style->thin);
  cairo_stroke (cr);
}

static void
hatch_part (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwPart part, FwColour colour)
{
  for (guint i = 0; i < d->pieces->len; i++)
    {
      const FwPiece *piece = &g_array_index (d->pieces, FwPiece, i);
      /* Sheets and bars carry the hatching; fittings are too small for it, and a rounded skin has
       * no face. */
      if (piece->kind == FW_PIECE_SOLID || !same_part (piece->part, part)
          || (piece->kind == FW_PIECE_FACES && part.kind != FW_PART_BASE))
        continue;
      hatch_piece (cr, d, style, piece, colour);
    }
}

static void
mark_part (FwLabels *labels, const FwDrawing *d, const FwStyle *style, int number,
           const FwTrouble *t, gboolean active)
{
  char text[16];
  g_snprintf (text, sizeof text, "%d", number);
  FwColour colour = trouble_colour (style, t->severity);
  if (!active)
    colour = fw_colour_mix (colour, style->ground, fw_theme_is_contrast (style->theme) ? 0.1 : 0.5);
  FwMark mark = t->severity == FW_FAILURE   ? FW_MARK_DIAMOND
                : t->severity == FW_WARNING ? FW_MARK_TRIANGLE
                                            : FW_MARK_RING;
  FwVec2 anchor = part_anchor (d, t->part);
  FwWording wording = { .size = active ? 0.85 : 0.72,
                        .bold = active,
                        .colour = colour,
                        .mark = mark,
                        .filled = active,
                        .leader = TRUE,
                        .from = anchor };
  FwSpot spots[16];
  int n = fw_spots_around (anchor, 5 * style->wide, spots);
  n += fw_spots_around (anchor, 16 * style->wide, spots + n);
  fw_labels_add (labels, text, &wording, spots, n);
}

/* The left twin at fault in the same way at the same time says nothing new where nothing is wrong
 * now. */
static gboolean
is_quiet_twin (const FwDrawing *d, const FwTrouble *t)
{
  const FwMechanism *m = d->scene->mechanism;
  if (t->part.kind == FW_PART_MEMBER)
    return m->members[t->part.index].left
           && m->design->panels[m->members[t->part.index].panel].side == FW_SIDE_BOTH;
  return t->part.kind == FW_PART_LINK && m->links[t->part.index].left
         && m->design->rods[m->links[t->part.index].rod].side == FW_SIDE_BOTH;
}

/* A worse one of the same part has the mark. */
static gboolean
is_taken (const FwTroubleList *list, int i, double crank)
{
  gboolean active = fw_trouble_holds (&list->items[i], crank), taken = FALSE;
  for (int k = 0; k < list->n && !taken; k++)
    {
      gboolean other = fw_trouble_holds (&list->items[k], crank);
      taken = same_part (list->items[k].part, list->items[i].part)
              && ((other && !active) || (other == active && k < i));
    }
  return taken;
}

gboolean
fw_trouble_is_marked (const FwTroubleList *list, int i, double crank)
{
  return fw_trouble_holds (&list->items[i], crank) && !is_taken (list, i, crank);
}

/* One mark a part: its worst trouble of those that hold at this crank angle, else its worst. */
void
fw_overlay_trouble (cairo_t *cr, const FwDrawing *d, const FwStyle *style, FwLabels *labels, gboolean elsewhere)
{
  const FwTroubleList *list = d->scene->troubles;
  double crank = d->scene->pose->crank;
  gboolean small = fmin (labels->page.width, labels->page.height) < 24 * style->text;
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < list->n; i++)
      {
        const FwTrouble *t = &list->items[i];
        gboolean active = fw_trouble_holds (t, crank);
        if ((small && t->severity == FW_REMARK) || active != (pass == 0)
            || !part_there (d->scene->mechanism, t->part))
          continue;
        if (is_taken (list, i, crank) || (!active && (small || !elsewhere || is_quiet_twin (d, t))))
          continue;
        if (active)
          hatch_part (cr, d, style, t->part, trouble_colour (style, t->severity));
        mark_part (labels, d, style, i + 1, t, active);
      }
}
