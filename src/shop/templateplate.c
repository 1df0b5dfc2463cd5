/* The base plate: where everything that stands on it is pinned with a dowel. */
#include "shop/templatebuild.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/shapes.h"
#include "draw/stand.h"

#define MOST_BEARINGS 64

typedef struct
{
  FwTemplateJob *job;
  FwCutPart *part;
  double half_x, half_y;
} Plate;

/* Sizes dowels are sold in (common practice). */
static double
dowel_for (double timber_mm)
{
  static const double sizes[] = { 2, 3, 4, 5, 6, 8, 10, 12 };
  double dowel = sizes[0];
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    if (sizes[i] <= 0.55 * timber_mm)
      dowel = sizes[i];
  return dowel;
}

/* A dowel hole in the middle of a square foot, if the plate reaches under it. World x, y. */
static gboolean
add_foot (Plate *p, double x, double y, double timber_mm)
{
  double dowel = dowel_for (timber_mm), half = timber_mm / 2;
  FwVec2 c = fw_vec2 (x, -y);
  if (fabs (x) > p->half_x - dowel || fabs (y) > p->half_y - dowel)
    return FALSE;
  double l = fmax (c.x - half, -p->half_x), r = fmin (c.x + half, p->half_x);
  double t = fmax (c.y - half, -p->half_y), b = fmin (c.y + half, p->half_y);
  const FwVec2 foot[4] = { fw_vec2 (l, t), fw_vec2 (r, t), fw_vec2 (r, b), fw_vec2 (l, b) };
  fw_cut_line (p->part, FW_LINE_MARK, TRUE, foot, 4);
  fw_cut_hole (p->part, c, dowel);
  return TRUE;
}

/* What stands at a place, and the hole to drill. */
static void
name_foot (Plate *p, const char *what, double x, double y, double timber_mm)
{
  g_autofree char *dowel = fw_cut_length (dowel_for (timber_mm), p->job->lengths);
  g_autofree char *text = g_strdup_printf (_ ("%s\ndowel %s"), what, dowel);
  fw_cut_words (p->part, text, fw_vec2 (x, -y), 3, 1.7, FALSE);
}

static void
note_off (Plate *p, const char *what)
{
  g_ptr_array_add (p->job->notes,
                   g_strdup_printf (_ ("%s stands beyond the base plate and is not drilled for."), what));
}

/* Every foot once to drill, then once to name, so that no name stands on a hole. */
static void
bearings (Plate *p, gboolean names)
{
  const FwDesign *d = p->job->mechanism->design;
  double stations[MOST_BEARINGS], timber = fw_stand_timber (d), leg = fw_stand_leg (d), plate[3], top;
  int n = MIN (fw_design_bearings (d, stations, MOST_BEARINGS), MOST_BEARINGS);
  fw_design_base (d, plate, &top);
  for (int i = 0; i < n && top < 0; i++)
    for (int side = -1; side <= 1; side += 2)
      {
        FwVec3 at = fw_stand_place (d, stations[i], side * leg, 0);
        if (names)
          name_foot (p, _ ("bearing"), at.x, at.y, timber);
        else if (!add_foot (p, at.x, at.y, timber))
          note_off (p, _ ("A leg of a bearing"));
      }
}

/* What holds the body's guide, rail or pivot, or the body itself. */
static void
columns (Plate *p, gboolean names)
{
  const FwMechanism *m = p->job->mechanism;
  const FwDesign *d = m->design;
  const FwBody *body = &d->body;
  double h = body->ride == FW_RIDE_SLEEVE   ? body->guide_mm.x
             : body->ride == FW_RIDE_RAIL   ? body->offset_mm
             : body->ride == FW_RIDE_ROCKER ? body->pivot_mm.x
             : d->crank.runs == FW_RUNS_ACROSS ? body->at_mm.y
                                               : body->at_mm.x;
  const char *what = body->ride == FW_RIDE_SLEEVE   ? _ ("guide column")
                     : body->ride == FW_RIDE_RAIL   ? _ ("rail column")
                     : body->ride == FW_RIDE_ROCKER ? _ ("pivot column")
                                                    : _ ("body column");
  FwVec2 places[2];
  double timber = 0.8 * fw_stand_timber (d);
  fw_stand_columns (d, fw_stand_body_station (m), h, fw_stand_half (d), places);
  for (int i = 0; i < 2; i++)
    {
      FwVec3 at = fw_stand_place (d, places[i].x, places[i].y, 0);
      if (names)
        name_foot (p, what, at.x, at.y, timber);
      else if (!add_foot (p, at.x, at.y, timber))
        note_off (p, _ ("A column of what guides the body"));
    }
}

static void
anchors (Plate *p, gboolean names)
{
  const FwMechanism *m = p->job->mechanism;
  double plate[3], top, timber = 0.8 * fw_stand_upright (m->design);
  fw_design_base (m->design, plate, &top);
  for (int i = 0; i < m->n_links; i++)
    {
      if (m->links[i].from != FW_FROM_BASE || m->links[i].from_mm.z <= top)
        continue;
      FwVec2 at = fw_stand_anchor (m->design, m->links[i].from_mm);
      if (names)
        name_foot (p, m->links[i].name, at.x, at.y, timber);
      else
        add_foot (p, at.x, at.y, timber);
    }
}

static void
add_axes (Plate *p)
{
  const FwDesign *d = p->job->mechanism->design;
  gboolean across = d->crank.runs == FW_RUNS_ACROSS;
  double x = across ? p->half_x : p->half_y;
  FwVec2 a = across ? fw_vec2 (-x, 0) : fw_vec2 (0, -x), b = fw_vec2 (-a.x, -a.y);
  fw_cut_segment (p->part, FW_LINE_HINGE, a, b);
  double tick = fmin (6, 0.2 * fmin (p->half_x, p->half_y));
  fw_cut_segment (p->part, FW_LINE_MARK, across ? fw_vec2 (0, -tick) : fw_vec2 (-tick, 0),
                  across ? fw_vec2 (0, tick) : fw_vec2 (tick, 0));
}

void
fw_template_plate (FwTemplateJob *job)
{
  const FwMechanism *m = job->mechanism;
  double size[3], top;
  fw_design_base (m->design, size, &top);
  Plate p = { job, NULL, size[0] / 2, size[1] / 2 };
  p.part = fw_cut_part_new (FW_TEMPLATE_PLATE, fw_made_find (job->made, FW_MADE_PLATE, 0, 0),
                            _ ("Base plate"), 1, "birch ply", size[2]);
  const FwVec2 edge[4] = { fw_vec2 (-p.half_x, -p.half_y), fw_vec2 (p.half_x, -p.half_y),
                           fw_vec2 (p.half_x, p.half_y), fw_vec2 (-p.half_x, p.half_y) };
  fw_cut_line (p.part, FW_LINE_CUT, TRUE, edge, 4);
  add_axes (&p);
  bearings (&p, FALSE);
  columns (&p, FALSE);
  anchors (&p, FALSE);

  g_autofree char *stock = fw_cut_part_stock (p.part, job->lengths);
  g_autofree char *head = g_strdup_printf ("%s  %s", p.part->letter, p.part->name);
  g_autofree char *text
      = g_strdup_printf (_ ("%s\n%s\nseen from above,\nfront up the page"), g_strstrip (head), stock);
  fw_cut_words (p.part, text, fw_vec2 (0, 0.45 * p.half_y), 6, 2, TRUE);
  bearings (&p, TRUE);
  columns (&p, TRUE);
  anchors (&p, TRUE);
  fw_cut_words (p.part, C_ ("a line on the base plate", "crank axis"), fw_vec2 (-0.5 * p.half_x, 0), 3, 1.7, FALSE);
  double length = fmin (30, 0.3 * p.half_y);
  FwVec2 at;
  FwVec2 half = fw_cut_text_half (C_ ("edge of the base plate", "front"), 3, FALSE);
  at = fw_vec2 (0, -p.half_y + 4 + length + half.y);
  if (fw_cut_words_fit (p.part, at, fw_vec2 (half.x, half.y + length), 0, FALSE))
    {
      fw_cut_words_at (p.part, C_ ("edge of the base plate", "front"), at, 3, 0);
      fw_cut_arrow (p.part, fw_vec2 (0, at.y - half.y), fw_vec2 (0, at.y - half.y - length + 2));
    }
  fw_cut_part_add (job, p.part);
}
