#include "shop/kit.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>

#include "shop/kitlayout.h"
#include "shop/logink.h"

gboolean
fw_kit_paper_of (const char *name, FwKitPaper *paper)
{
  static const char *const names[] = { [FW_KIT_A5] = "a5", [FW_KIT_A4] = "a4", [FW_KIT_LETTER] = "letter" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_ascii_strcasecmp (name, names[i]) == 0)
      {
        *paper = (FwKitPaper)i;
        return TRUE;
      }
  return FALSE;
}

FwKit *
fw_kit_new (const FwMechanism *mechanism, const FwTurn *turn, const char *title, FwKitPaper paper,
            FwLengths lengths)
{
  /* A5 148 x 210 mm and A4 210 x 297 mm by ISO 216; Letter 8.5 x 11 in. */
  static const double sizes_mm[][2]
      = { [FW_KIT_A5] = { 148, 210 }, [FW_KIT_A4] = { 210, 297 }, [FW_KIT_LETTER] = { 215.9, 279.4 } };
  FwKit *kit = g_new0 (FwKit, 1);
  kit->mechanism = mechanism;
  kit->turn = turn;
  kit->title = g_strdup (title);
  kit->lengths = lengths;
  kit->width = sizes_mm[paper][0] * 72 / 25.4;
  kit->height = sizes_mm[paper][1] * 72 / 25.4;
  kit->pages = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  kit->cut = fw_cut_list_new (mechanism, lengths);
  kit->solids = fw_solid_parts_new (mechanism, kit->cut->made, lengths);
  kit->pose = fw_pose_new (mechanism);
  kit->scratch = fw_pose_new (mechanism);
  if (kit->pose == NULL || kit->scratch == NULL)
    {
      fw_kit_free (kit);
      return NULL;
    }
  fw_pose_solve (kit->pose, mechanism, 0);
  FwKitFlow flow;
  fw_kit_flow_open (&flow, kit);
  fw_kit_fill (&flow);
  return kit;
}

void
fw_kit_free (FwKit *kit)
{
  if (kit == NULL)
    return;
  g_ptr_array_unref (kit->pages);
  fw_solid_parts_free (kit->solids);
  fw_cut_list_free (kit->cut);
  free (kit->pose);
  free (kit->scratch);
  g_free (kit->title);
  g_free (kit);
}

int
fw_kit_pages (const FwKit *kit)
{
  return (int)kit->pages->len;
}

gboolean
fw_kit_write_pdf (const FwKit *kit, const char *path, const FwProgress *progress, GError **error)
{
  FwPdf pdf;
  gboolean onward = TRUE;
  fw_pdf_open (&pdf, kit->width, kit->height, kit->title);
  for (int i = 0; i < fw_kit_pages (kit) && onward; i++)
    {
      g_autofree char *what = g_strdup_printf (_ ("Page %d of %d"), i + 1, fw_kit_pages (kit));
      onward = fw_progress (progress, (double)i / fw_kit_pages (kit), what);
      cairo_save (pdf.cr);
      if (onward)
        fw_kit_page_draw (pdf.cr, kit, i);
      cairo_restore (pdf.cr);
      cairo_show_page (pdf.cr);
    }
  return fw_pdf_close (&pdf, onward, path, error);
}
