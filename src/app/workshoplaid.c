#include "app/workshoplaid.h"

#include <glib/gi18n.h>

#define STEPS 360

static void
laid_clear (gpointer data)
{
  FwLaid *laid = data;

  g_clear_pointer (&laid->kit, fw_kit_free);
  g_clear_pointer (&laid->sheets, fw_laser_sheets_free);
  g_clear_pointer (&laid->pages, fw_template_pages_free);
  g_clear_pointer (&laid->tmpl, fw_template_free);
  g_clear_pointer (&laid->mechanism, fw_mechanism_free);
  fw_design_free (laid->design);
  g_free (laid->turn_room);
  g_free (laid->title);
}

FwLaid *
fw_laid_ref (FwLaid *laid)
{
  return g_atomic_rc_box_acquire (laid);
}

void
fw_laid_unref (FwLaid *laid)
{
  if (laid != NULL)
    g_atomic_rc_box_release_full (laid, laid_clear);
}

/* FALSE: stopped, or no memory. */
static gboolean
lay_out (FwLaid *laid, const FwProgress *progress)
{
  const FwLaidOrder *order = &laid->order;

  if (!fw_progress (progress, 0, _("Laying out the templates")))
    return FALSE;
  laid->tmpl = fw_template_new (laid->mechanism, laid->title, order->lengths);
  laid->pages = fw_template_pages_new (laid->tmpl, order->paper);
  laid->sheets = fw_laser_sheets_new (laid->tmpl, &laid->design->stock, order->sheet_width, order->sheet_height);
  if (!fw_progress (progress, 0.3, _("Laying out the cut list, the printed parts and the kit sheet")))
    return FALSE;
  laid->turn_room = g_malloc (fw_turn_size (laid->mechanism, STEPS));
  laid->turn = fw_turn_place (laid->turn_room, laid->mechanism, STEPS);
  fw_turn_solve (laid->turn, laid->mechanism);
  laid->kit = fw_kit_new (laid->mechanism, laid->turn, laid->title, order->kit_paper, order->lengths);
  return laid->kit != NULL && fw_progress (progress, 1, NULL);
}

FwLaid *
fw_laid_new (FwDesign *design, const char *title, const FwLaidOrder *order, const FwProgress *progress)
{
  g_autoptr (FwLaid) laid = g_atomic_rc_box_new0 (FwLaid);

  laid->order = *order;
  laid->design = design;
  laid->title = g_strdup (title);
  if (design == NULL || fw_mechanism_build (design, &laid->mechanism, NULL) != FW_OK || !lay_out (laid, progress))
    return NULL;
  return g_steal_pointer (&laid);
}
