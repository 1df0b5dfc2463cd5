/* Wedges that stop a panel: a cheek with two straight edges that meet at the hinge, one laid on what
 * carries the panel, the other where the panel's face stands at its stop. */
#include "shop/templatebuild.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/shapes.h"

#define THICKNESS 3.0 /* mm of ply */

/* The angle of sheet-free space between the carrying face, prolonged behind the hinge, and the panel at
 * its stop: above it for the upper stop, below it for the lower. */
static double
wedge_angle (const FwPanel *panel, int upper)
{
  return 180 - (upper ? panel->stops_deg[1] : -panel->stops_deg[0]);
}

static void
add_wedge (FwTemplateJob *job, int panel_index, int upper, int count)
{
  const FwPanel *panel = &job->mechanism->design->panels[panel_index];
  double angle_deg = wedge_angle (panel, upper), angle = angle_deg * G_PI / 180;
  double side = CLAMP (0.16 * panel->span_mm, 14, 40);
  g_autofree char *stop = fw_units_format (panel->stops_deg[upper], FW_UNIT_DEG, job->lengths,
                                           panel->stops_deg[upper] == floor (panel->stops_deg[upper]) ? 0 : 1);
  if (angle_deg < 10 || angle_deg > 179.9)
    {
      g_ptr_array_add (job->notes, g_strdup_printf (_ ("No wedge can hold %s at %s: its edges would not "
                                                       "meet at the hinge."),
                                                    panel->name, stop));
      return;
    }
  g_autofree char *name = g_strdup_printf (upper ? _ ("%s, upper stop wedge") : _ ("%s, lower stop wedge"),
                                           panel->name);
  FwCutPart *part = fw_cut_part_new (FW_TEMPLATE_WEDGE,
                                     fw_made_find (job->made, FW_MADE_WEDGE, panel_index, upper), name,
                                     count, "birch ply", THICKNESS);
  /* On the page the carrying edge runs to the left of the hinge and the wedge stands above it. */
  double middle = side * (fmax (cos (angle / 2), 0) + 0.36);
  const FwVec2 kite[4] = { fw_vec2 (0, 0), fw_vec2 (-side, 0),
                           fw_vec2 (-middle * cos (angle / 2), -middle * sin (angle / 2)),
                           fw_vec2 (-side * cos (angle), -side * sin (angle)) };
  fw_cut_line (part, FW_LINE_CUT, TRUE, kite, 4);
  FwVec2 centre = fw_vec2 ((kite[1].x + kite[2].x + kite[3].x) / 3.4,
                           (kite[1].y + kite[2].y + kite[3].y) / 3.4);
  g_autofree char *face = fw_units_format (angle_deg, FW_UNIT_DEG, job->lengths,
                                           angle_deg == floor (angle_deg) ? 0 : 1);
  g_autofree char *mark = g_strstrip (g_strdup_printf ("%s %s", part->letter, face));
  if (!fw_cut_words (part, mark, centre, 3.4, 2, FALSE) && *part->letter != '\0')
    fw_cut_words (part, part->letter, centre, 3, 1.6, FALSE);
  g_autofree char *stock = fw_cut_part_stock (part, job->lengths);
  g_autofree char *text
      = g_strstrip (g_strdup_printf (_ ("%s  %s\n%s\n%s, for a stop at %s"), part->letter,
                                     name, stock, face, stop));
  fw_cut_words_below (part, text, 2.6, TRUE);
  fw_cut_part_add (job, part);
}

void
fw_template_wedges (FwTemplateJob *job)
{
  const FwDesign *design = job->mechanism->design;
  for (int i = 0; i < design->n_panels; i++)
    {
      int sides = 0;
      for (int k = 0; k < job->mechanism->n_members; k++)
        sides += job->mechanism->members[k].panel == i;
      for (int upper = 1; upper >= 0 && design->panels[i].has_stops; upper--)
        add_wedge (job, i, upper, 2 * sides);
    }
}
