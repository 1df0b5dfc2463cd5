/* The kit sheet: a booklet to build from. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>

#define MM_PER_POINT (25.4 / 72)

typedef struct
{
  FwWorkshop *workshop; /* borrowed: it holds the page */
  GtkWidget *caution, *view, *paper;
} KitPage;

static KitPage *
page_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "kit-page");
}

/* The kit counts points. */
static void
draw_page (cairo_t *cr, const FwLaid *laid, int page)
{
  cairo_scale (cr, MM_PER_POINT, MM_PER_POINT);
  fw_kit_page_draw (cr, laid->kit, page);
}

static void
on_laid (GtkWidget *page, const FwLaid *laid)
{
  KitPage *self = page_of (page);
  const FwSolidParts *solids = fw_laid_solids (laid);
  g_autoptr (GPtrArray) problems = g_ptr_array_new ();

  fw_page_view_set (FW_PAGE_VIEW (self->view), (FwLaid *) laid, fw_kit_pages (laid->kit), laid->kit->width * MM_PER_POINT,
                    laid->kit->height * MM_PER_POINT);
  for (int i = 0; i < solids->n_parts; i++)
    if (solids->parts[i].problem != NULL)
      g_ptr_array_add (problems, solids->parts[i].problem);
  fw_workshop_caution_set (self->caution, (char *const *) problems->pdata, (int) problems->len);
}

static void
on_paper (KitPage *self)
{
  FwLaidOrder order = *fw_workshop_order (self->workshop);
  order.kit_paper = (FwKitPaper) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paper));
  fw_workshop_set_order (self->workshop, &order);
}

static gboolean
write_pdf (const FwLaid *laid, const char *path, const FwProgress *progress, char **done, GError **error)
{
  return fw_kit_write_pdf (laid->kit, path, progress, error);
}

static void
on_pdf (KitPage *self)
{
  const FwWorkshopExport what = { _("Export the kit sheet"), _("PDF files"), ".pdf", "-kit", write_pdf };
  fw_workshop_export (self->workshop, &what);
}

static void
on_print (KitPage *self)
{
  FwLaid *laid = fw_workshop_laid (self->workshop);
  if (laid == NULL)
    return;
  const FwWorkshopPrint what = { .n_pages = fw_kit_pages (laid->kit), .width_mm = laid->kit->width * MM_PER_POINT,
                                 .height_mm = laid->kit->height * MM_PER_POINT, .name = laid->title, .draw = draw_page,
                                 .laid = laid };
  fw_workshop_print (self->workshop, &what);
}

GtkWidget *
fw_workshop_kit_new (FwWorkshop *workshop)
{
  static const FwWorkshopPage calls = { on_laid, NULL };
  const char *papers[] = { [FW_KIT_A5] = "A5", [FW_KIT_A4] = "A4", [FW_KIT_LETTER] = C_ ("paper", "Letter"), NULL };
  KitPage *self = g_new0 (KitPage, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *foot = fw_workshop_foot ();

  g_object_set_data_full (G_OBJECT (page), "kit-page", self, g_free);
  fw_workshop_page_set (page, &calls);
  self->workshop = workshop;
  self->caution = fw_workshop_caution ();
  self->view = fw_page_view_new (_("Kit sheet"), draw_page);
  gtk_widget_set_vexpand (self->view, TRUE);
  g_object_set_data (G_OBJECT (page), "page-view", self->view);
  gtk_box_append (GTK_BOX (page), self->caution);
  gtk_box_append (GTK_BOX (page), self->view);
  fw_workshop_page_set_first (page, self->view);
  self->paper = fw_workshop_foot_add (foot, _("_Paper"), gtk_drop_down_new_from_strings (papers));
  g_signal_connect_swapped (self->paper, "notify::selected", G_CALLBACK (on_paper), self);
  fw_workshop_foot_gap (foot);
  fw_workshop_foot_button (foot, _("Export P_DF…"), G_CALLBACK (on_pdf), self);
  fw_workshop_foot_button (foot, _("P_rint…"), G_CALLBACK (on_print), self);
  gtk_box_append (GTK_BOX (page), foot);
  return page;
}
