/* Panels, with their hinge lines, rod holes and score lines, and the wedges that stop them. */
#include "shop/templatebuild.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/forms.h"
#include "draw/shapes.h"

#define SCORE_PITCH 22.0 /* mm between score lines, about */
#define MOST_SCORES 12
#define LEAST_SCORE 3.0  /* mm */
#define HOLE_WALL 0.5    /* mm of sheet that a hole leaves to the edge at least */
#define NEAR_HINGE 0.12  /* share of the span: what of the outline counts as its root, as the views do */

typedef struct
{
  FwTemplateJob *job;
  FwCutPart *part;
  const FwMember *member;
  int index; /* of the member */
  const FwPanel *panel;
  double side; /* +1; -1 for a left one */
  FwVec2 *outline;
  int n;
} Sheet;

/* Panel frame to page. */
static FwVec2
on_page (const Sheet *s, double u, double v)
{
  return fw_vec2 (s->side * u, -v);
}

/* ---- Hinge lines ---- */

/* The hinge line's direction in the sheet (u, v); it leans out of it by the cant. */
static FwVec2
hinge_along (const FwPanel *panel)
{
  double s = panel->sweep_deg * G_PI / 180, c = panel->cant_deg * G_PI / 180;
  FwVec2 d = fw_vec2 (sin (s) * cos (c), cos (s) * cos (c));
  double length = hypot (d.x, d.y);
  return length < 1e-9 ? fw_vec2 (0, 1) : fw_vec2 (d.x / length, d.y / length);
}

/* The chord of an outline along a line through its frame's origin, if the origin lies on it. */
static void
chord (const FwVec2 *outline, int n, FwVec2 along, double *back, double *front)
{
  FwVec2 pairs[2 * 16];
  double far = 1;
  for (int i = 0; i < n; i++)
    far = fmax (far, 2 * hypot (outline[i].x, outline[i].y));
  FwVec2 a = fw_vec2 (-far * along.x, -far * along.y), b = fw_vec2 (far * along.x, far * along.y);
  int pieces = fw_cut_clip (outline, n, a, b, pairs, 16);
  for (int i = 0; i < pieces; i++)
    {
      double from = fw_vec2_distance (a, pairs[2 * i]) - far, to = fw_vec2_distance (a, pairs[2 * i + 1]) - far;
      if (from > 1e-6 || to < -1e-6)
        continue;
      *back = fmin (*back, from);
      *front = fmax (*front, to);
    }
}

/* How far along its hinge line a panel's root reaches (u, v outline, not the page): the line's own
 * chord, and what of the outline is near it. */
static void
root_reach (const FwVec2 *outline, int n, FwVec2 along, double span, double *back, double *front)
{
  *back = INFINITY;
  *front = -INFINITY;
  chord (outline, n, along, back, front);
  for (int i = 0; i < n; i++)
    {
      double off = outline[i].x * along.y - outline[i].y * along.x;
      double at = outline[i].x * along.x + outline[i].y * along.y;
      if (fabs (off) > NEAR_HINGE * span)
        continue;
      *back = fmin (*back, at);
      *front = fmax (*front, at);
    }
  if (!(*front > *back))
    {
      *back = -0.06 * span;
      *front = 0.06 * span;
    }
}

/* A hinge line through `origin` of this sheet's frame, for the panel `of`, as far as it lies on the
 * sheet; if none of it does, all of it where `always`. */
static void
add_hinge_line (Sheet *s, FwVec2 origin, const FwPanel *of, const FwVec2 *outline, int n,
                gboolean always)
{
  FwVec2 along = hinge_along (of), pairs[8];
  double back, front;
  root_reach (outline, n, along, of->span_mm, &back, &front);
  FwVec2 a = on_page (s, origin.x + back * along.x, origin.y + back * along.y);
  FwVec2 b = on_page (s, origin.x + front * along.x, origin.y + front * along.y);
  int pieces = fw_cut_clip (s->outline, s->n, a, b, pairs, 4);
  for (int i = 0; i < pieces; i++)
    if (fw_vec2_distance (pairs[2 * i], pairs[2 * i + 1]) > 0.5)
      fw_cut_segment (s->part, FW_LINE_HINGE, pairs[2 * i], pairs[2 * i + 1]);
  if (pieces == 0 && always)
    fw_cut_segment (s->part, FW_LINE_HINGE, a, b);
}

static void
add_hinges (Sheet *s)
{
  const FwMechanism *m = s->job->mechanism;
  FwVec2 buffer[FW_FORM_OUTLINE];
  int n;
  const FwVec2 *outline = fw_form_outline (m->design, s->member->panel, buffer, &n);
  add_hinge_line (s, fw_vec2 (0, 0), s->panel, outline, n, TRUE);
  for (int i = 0; i < m->n_members; i++)
    {
      const FwPanel *child = &m->design->panels[m->members[i].panel];
      outline = fw_form_outline (m->design, m->members[i].panel, buffer, &n);
      if (m->members[i].parent != s->index || outline == NULL)
        continue;
      add_hinge_line (s, fw_vec2 (child->hinge_mm.x, child->hinge_mm.y), child, outline, n, FALSE);
    }
}

/* ---- Rods ---- */

/* "B arm-rod, hole 4.3 mm, joint 10 mm below" */
static char *
rod_words (const Sheet *s, int rod, double w)
{
  const FwMade *made = fw_made_find (s->job->made, FW_MADE_ROD, rod, 0);
  const FwRod *r = &s->job->mechanism->design->rods[rod];
  g_autofree char *name
      = g_strdup_printf ("%s %s", made == NULL ? "" : made->letter, r->name);
  g_autofree char *hole
      = fw_cut_length (r->diameter_mm + FW_HOLE_CLEARANCE, s->job->lengths);
  g_autofree char *off = fw_cut_length (fabs (w), s->job->lengths);
  if (fabs (w) < 0.05)
    return g_strdup_printf (_ ("%s\nhole %s"), g_strstrip (name), hole);
  return g_strdup_printf (w < 0 ? _ ("%s\nhole %s, joint %s below") : _ ("%s\nhole %s, joint %s above"),
                          g_strstrip (name), hole, off);
}

/* A hole where there is sheet around it; else a cross, and a note: a tab has to carry the joint. */
static void
add_rod_place (Sheet *s, int rod, FwVec3 at)
{
  FwVec2 p = on_page (s, at.x, at.y);
  const FwRod *r = &s->job->mechanism->design->rods[rod];
  double diameter = r->diameter_mm + FW_HOLE_CLEARANCE;
  if (fw_cut_holds (s->outline, s->n, p)
      && fw_cut_edge_distance (s->outline, s->n, p) >= diameter / 2 + HOLE_WALL)
    {
      fw_cut_hole (s->part, p, diameter);
      return;
    }
  double arm = diameter / 2 + 1;
  fw_cut_segment (s->part, FW_LINE_MARK, fw_vec2 (p.x - arm, p.y), fw_vec2 (p.x + arm, p.y));
  fw_cut_segment (s->part, FW_LINE_MARK, fw_vec2 (p.x, p.y - arm), fw_vec2 (p.x, p.y + arm));
  g_ptr_array_add (s->job->notes,
                   g_strdup_printf (_ ("Rod %s holds panel %s at or beyond its edge: a cross marks the "
                                       "place, and a tab has to carry the joint."),
                                    r->name, s->member->name));
}

static void
each_rod (Sheet *s, void (*call) (Sheet *s, int rod, FwVec3 at))
{
  const FwMechanism *m = s->job->mechanism;
  for (int i = 0; i < m->n_links; i++)
    {
      if (m->links[i].member == s->index)
        call (s, m->links[i].rod, m->links[i].at_mm);
      if (m->links[i].from == FW_FROM_PANEL && m->links[i].index == s->index)
        call (s, m->links[i].rod, m->links[i].from_mm);
    }
}

static void
add_rod_words (Sheet *s, int rod, FwVec3 at)
{
  g_autofree char *words = rod_words (s, rod, at.z);
  g_autofree char *flat = g_strdelimit (g_strdup (words), "\n", ' ');
  FwVec2 p = on_page (s, at.x, at.y);
  if (!fw_cut_words (s->part, words, p, 2.8, 1.7, FALSE))
    fw_cut_words_below (s->part, flat, 2.4, FALSE);
}

/* ---- Score lines ---- */

static gboolean
is_creased (const char *material)
{
  static const char *const creased[] = { "card", "paper", "board" };
  g_autofree char *lower = g_utf8_strdown (material, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (creased); i++)
    if (strstr (lower, creased[i]) != NULL)
      return TRUE;
  return FALSE;
}

/* Where ab, of a length, is kept free: shares of it, by a hole or by words. FALSE: nowhere. */
static gboolean
kept_free (const FwCutPart *part, guint index, FwVec2 a, FwVec2 b, double *from, double *to)
{
  FwVec2 d = fw_vec2 (b.x - a.x, b.y - a.y);
  double length = hypot (d.x, d.y);
  if (index < part->holes->len)
    {
      const FwCutHole *h = &g_array_index (part->holes, FwCutHole, index);
      double x = h->at_mm.x - a.x, y = h->at_mm.y - a.y, clear = h->diameter_mm / 2 + 2;
      double at = (x * d.x + y * d.y) / length, off = (x * d.y - y * d.x) / length;
      if (fabs (off) >= clear)
        return FALSE;
      double half = sqrt (clear * clear - off * off);
      *from = (at - half) / length;
      *to = (at + half) / length;
      return TRUE;
    }
  const FwCutText *t = &g_array_index (part->texts, FwCutText, index - part->holes->len);
  double rx = t->half_mm.x + 0.8, ry = t->half_mm.y + 0.4;
  const FwVec2 box[4] = { fw_vec2 (t->at_mm.x - rx, t->at_mm.y - ry), fw_vec2 (t->at_mm.x + rx, t->at_mm.y - ry),
                          fw_vec2 (t->at_mm.x + rx, t->at_mm.y + ry), fw_vec2 (t->at_mm.x - rx, t->at_mm.y + ry) };
  FwVec2 pair[2];
  if (!t->inside || fw_cut_clip (box, 4, a, b, pair, 1) == 0)
    return FALSE;
  *from = fw_vec2_distance (a, pair[0]) / length;
  *to = fw_vec2_distance (a, pair[1]) / length;
  return TRUE;
}

/* A score from a to b that stops short of holes and words, from the `index`th on. */
static void
score_between (Sheet *s, FwVec2 a, FwVec2 b, guint index)
{
  double from, to;
  if (fw_vec2_distance (a, b) < LEAST_SCORE)
    return;
  for (; index < s->part->holes->len + s->part->texts->len; index++)
    {
      if (!kept_free (s->part, index, a, b, &from, &to) || to <= 0 || from >= 1)
        continue;
      if (from > 0)
        score_between (s, a, fw_vec2_mix (a, b, from), index + 1);
      if (to < 1)
        score_between (s, fw_vec2_mix (a, b, to), b, index + 1);
      return;
    }
  fw_cut_segment (s->part, FW_LINE_SCORE, a, b);
}

/* Small panels have words where the scores run: these are cut back to make room. */
static void
part_scores (Sheet *s)
{
  GArray *ends = g_array_new (FALSE, FALSE, sizeof (FwVec2));
  for (guint i = 0; i < s->part->lines->len; i++)
    {
      FwCutLine line = g_array_index (s->part->lines, FwCutLine, i);
      if (line.kind != FW_LINE_SCORE)
        continue;
      g_array_append_vals (ends, fw_cut_line_points (s->part, &line), 2);
      g_array_remove_index (s->part->lines, i--);
    }
  for (guint i = 0; i + 1 < ends->len; i += 2)
    score_between (s, g_array_index (ends, FwVec2, i), g_array_index (ends, FwVec2, i + 1),
                   s->part->holes->len);
  g_array_free (ends, TRUE);
}

/* A score from behind the leading edge to the trailing edge, as the views draw it, at x on the page. */
static void
add_score (Sheet *s, double x, double lean)
{
  double top = INFINITY, bottom = -INFINITY;
  FwVec2 pairs[16];
  for (int i = 0; i < s->n; i++)
    {
      FwVec2 a = s->outline[i], b = s->outline[(i + 1) % s->n];
      if ((a.x > x) == (b.x > x))
        continue;
      double y = a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x);
      top = fmin (top, y);
      bottom = fmax (bottom, y);
    }
  if (!(bottom > top))
    return;
  FwVec2 a = fw_vec2 (x - s->side * lean, top + 0.34 * (bottom - top));
  FwVec2 b = fw_vec2 (x, bottom - 0.05 * (bottom - top));
  int pieces = fw_cut_clip (s->outline, s->n, a, b, pairs, 8);
  for (int i = 0; i < pieces; i++)
    score_between (s, pairs[2 * i], pairs[2 * i + 1], 0);
}

static void
add_scores (Sheet *s)
{
  if (!is_creased (s->panel->material))
    return;
  double least = INFINITY, most = -INFINITY;
  for (int i = 0; i < s->n; i++)
    {
      least = fmin (least, s->outline[i].x);
      most = fmax (most, s->outline[i].x);
    }
  int lines = (int)CLAMP (round ((most - least) / SCORE_PITCH), 2, MOST_SCORES);
  for (int k = 1; k <= lines; k++)
    add_score (s, least + (most - least) * k / (lines + 1), 0.03 * s->panel->span_mm);
}

/* ---- Words ---- */

static void
add_title (Sheet *s)
{
  g_autofree char *stock = fw_cut_part_stock (s->part, s->job->lengths);
  g_autofree char *head = g_strdup_printf ("%s  %s", s->part->letter, s->part->name);
  g_autofree char *cant = s->panel->cant_deg == 0
                              ? NULL
                              : fw_units_format (s->panel->cant_deg, FW_UNIT_DEG, s->job->lengths, 1);
  g_autofree char *text
      = cant == NULL
            ? g_strdup_printf (_ ("%s\n%s\nseen from above"), g_strstrip (head), stock)
            : g_strdup_printf (_ ("%s\n%s\nseen from above\nhinge canted %s out of the sheet"),
                               g_strstrip (head), stock, cant);
  FwVec2 middle = fw_vec2 (0, 0);
  for (int i = 0; i < s->n; i++)
    middle = fw_vec2 (middle.x + s->outline[i].x / s->n, middle.y + s->outline[i].y / s->n);
  if (fw_cut_words (s->part, text, middle, 4.2, 1.9, TRUE))
    return;
  /* Too small for all of it: the letter on the part, the rest beside it. */
  if (*s->part->letter != '\0')
    fw_cut_words (s->part, s->part->letter, middle, 4.2, 1.9, TRUE);
  fw_cut_words_below (s->part, text, 3, TRUE);
}

/* Along the span: card, board and wood are stiffest along it. */
static void
add_grain (Sheet *s)
{
  double length = CLAMP (0.22 * s->panel->span_mm, 9, 50);
  for (; length > 6; length *= 0.8)
    {
      const char *word = C_ ("direction in a sheet", "grain");
      FwVec2 half = fw_cut_text_half (word, 2.4, FALSE), at = { 0, 0 };
      FwVec2 low = s->outline[0], high = low;
      double best = INFINITY;
      for (int i = 1; i < s->n; i++)
        {
          low = fw_vec2 (fmin (low.x, s->outline[i].x), fmin (low.y, s->outline[i].y));
          high = fw_vec2 (fmax (high.x, s->outline[i].x), fmax (high.y, s->outline[i].y));
        }
      FwVec2 box = fw_vec2 (fmax (half.x, length / 2), half.y + 1.4);
      for (int i = 1; i < 24; i++)
        for (int k = 1; k < 24; k++)
          {
            FwVec2 p = fw_vec2 (low.x + (high.x - low.x) * i / 24, low.y + (high.y - low.y) * k / 24);
            double cost = hypot (p.x - (low.x + high.x) / 2, p.y - low.y);
            if (cost >= best || !fw_cut_words_fit (s->part, p, box, 0, TRUE))
              continue;
            best = cost;
            at = p;
          }
      if (!isfinite (best))
        continue;
      double y = at.y + half.y + 0.2;
      fw_cut_arrow (s->part, fw_vec2 (at.x - s->side * length / 2, y),
                    fw_vec2 (at.x + s->side * length / 2, y));
      fw_cut_words_at (s->part, word, fw_vec2 (at.x, at.y - 0.6), 2.4, 0);
      return;
    }
}

/* ---- Panels ---- */

static void
add_panel (FwTemplateJob *job, int index)
{
  const FwMechanism *m = job->mechanism;
  const FwMember *member = &m->members[index];
  const FwPanel *panel = &m->design->panels[member->panel];
  FwVec2 buffer[FW_FORM_OUTLINE];
  int n;
  const FwVec2 *outline = fw_form_outline (m->design, member->panel, buffer, &n);
  if (outline == NULL)
    {
      g_ptr_array_add (job->notes, g_strdup_printf (_ ("%s is a rounded part and is not cut from sheet: "
                                                       "it has no template."),
                                                    member->name));
      return;
    }
  g_assert (n >= 3); /* as the reader and the plain outline have it */
  if (outline == buffer)
    g_ptr_array_add (job->notes, g_strdup_printf (_ ("%s has no outline in the design: a plain tapered one "
                                                     "stands in, as in the views."),
                                                  member->name));
  Sheet s = { .job = job, .member = member, .index = index, .panel = panel,
              .side = member->left ? -1 : 1, .outline = g_new (FwVec2, n), .n = n };
  s.part = fw_cut_part_new (FW_TEMPLATE_PANEL, fw_made_find (job->made, FW_MADE_PANEL, member->panel, 0),
                            member->name, 1, panel->material, panel->thickness_mm);
  s.part->stuff = panel->stuff;
  for (int i = 0; i < n; i++)
    s.outline[i] = on_page (&s, outline[i].x, outline[i].y);
  fw_cut_line (s.part, FW_LINE_CUT, TRUE, s.outline, n);
  each_rod (&s, add_rod_place);
  add_hinges (&s);
  add_scores (&s);
  add_title (&s);
  each_rod (&s, add_rod_words);
  add_grain (&s);
  part_scores (&s);
  fw_cut_part_add (job, s.part);
  g_free (s.outline);
}

void
fw_template_panels (FwTemplateJob *job)
{
  for (int i = 0; i < job->mechanism->n_members; i++)
    add_panel (job, i);
}
