/* Templates: pages at true size, on paper or as sheets for a laser. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>

#include "app/explain.h"
#include "app/workshopentry.h"
#include "app/widgetstyle.h"
#include "shop/pdf.h"
#include "shop/svg.h"

typedef struct
{
  FwWorkshop *workshop; /* borrowed: it holds the page */
  GtkWidget *caution, *view, *paper, *sheets;
  FwEntry *width, *height;
} TemplatesPage;

static TemplatesPage *
page_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "templates-page");
}

static void
draw_page (cairo_t *cr, const FwLaid *laid, int page)
{
  fw_template_page_draw (cr, laid->pages, page);
}

/* What no page and no sheet takes; a part that neither takes is told twice, once for each. */
static void
show_left_out (TemplatesPage *self, const FwLaid *laid)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  char **const lists[] = { laid->pages->left_out, laid->sheets->left_out };
  for (gsize k = 0; k < G_N_ELEMENTS (lists); k++)
    for (int i = 0; lists[k][i] != NULL; i++)
      if (!g_ptr_array_find_with_equal_func (all, lists[k][i], g_str_equal, NULL))
        g_ptr_array_add (all, lists[k][i]);
  fw_workshop_caution_set (self->caution, (char *const *) all->pdata, (int) all->len);
}

static void
on_laid (GtkWidget *page, const FwLaid *laid)
{
  TemplatesPage *self = page_of (page);
  int n = laid->pages->n_parts_placed > 0 ? fw_template_pages_count (laid->pages) : 0;
  guint sheets = laid->sheets->sheets->len;
  double width, height;

  fw_template_pages_size (laid->pages, &width, &height);
  fw_page_view_set (FW_PAGE_VIEW (self->view), (FwLaid *) laid, n, width, height);
  g_autofree char *text = g_strdup_printf (ngettext ("%u sheet", "%u sheets", sheets), sheets);
  gtk_label_set_text (GTK_LABEL (self->sheets), text);
  show_left_out (self, laid);
}

static void
on_display (GtkWidget *page, FwWorkshop *workshop)
{
  TemplatesPage *self = page_of (page);
  const FwLaidOrder *order = fw_workshop_order (workshop);
  fw_entry_set (self->width, order->sheet_width, order->sheet_width <= 0, order->lengths);
  fw_entry_set (self->height, order->sheet_height, order->sheet_height <= 0, order->lengths);
}

static void
on_paper (TemplatesPage *self)
{
  FwLaidOrder order = *fw_workshop_order (self->workshop);
  order.paper = (FwPaper) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paper));
  fw_workshop_set_order (self->workshop, &order);
}

#define LEAST_SHEET 20.0
#define MOST_SHEET 10000.0

/* Both or neither: the other side of a sheet whose first is given is taken to be the usual one. */
static gboolean
on_sheet (FwEntry *entry, double value, gboolean empty, gpointer data)
{
  TemplatesPage *self = data;
  FwLaidOrder order = *fw_workshop_order (self->workshop);
  gboolean wide = entry == self->width;

  if (!empty && (value < LEAST_SHEET || value > MOST_SHEET))
    {
      fw_message_bar_fail (fw_workshop_messages (self->workshop), _("A sheet of 20 mm to 10 m was expected"));
      return FALSE;
    }
  if (empty)
    order.sheet_width = order.sheet_height = 0;
  else if (wide)
    order.sheet_width = value, order.sheet_height = order.sheet_height > 0 ? order.sheet_height : FW_SHEET_HEIGHT;
  else
    order.sheet_height = value, order.sheet_width = order.sheet_width > 0 ? order.sheet_width : FW_SHEET_WIDTH;
  fw_workshop_set_order (self->workshop, &order);
  fw_entry_set (self->width, order.sheet_width, order.sheet_width <= 0, order.lengths);
  fw_entry_set (self->height, order.sheet_height, order.sheet_height <= 0, order.lengths);
  return TRUE;
}

/* ---- Out ---- */

static gboolean
nothing (gboolean any, GError **error)
{
  if (!any)
    g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID,
                         _("There is nothing that can be cut from sheet in this design"));
  return !any;
}

static gboolean
write_pdf (const FwLaid *laid, const char *path, const FwProgress *progress, char **done, GError **error)
{
  return !nothing (laid->pages->n_parts_placed > 0, error) && fw_template_write_pdf (laid->pages, path, progress, error);
}

static gboolean
write_svg (const FwLaid *laid, const char *path, const FwProgress *progress, char **done, GError **error)
{
  guint n = laid->sheets->sheets->len;
  if (nothing (n > 0, error) || !fw_laser_sheets_write_svg (laid->sheets, path, progress, error))
    return FALSE;
  if (n > 1)
    {
      g_autofree char *last = fw_laser_sheet_path (path, (int) n - 1, (int) n);
      g_autofree char *name = g_filename_display_name (last);
      /* Translators: how many, and the name of the last */
      *done = g_strdup_printf (ngettext ("Saved: %u file, the last is %s", "Saved: %u files, the last is %s", n), n, name);
    }
  return TRUE;
}

static void
on_pdf (TemplatesPage *self)
{
  const FwWorkshopExport what = { _("Export the templates for paper"), _("PDF files"), ".pdf", "-templates", write_pdf };
  fw_workshop_export (self->workshop, &what);
}

static void
on_svg (TemplatesPage *self)
{
  const FwWorkshopExport what = { _("Export the templates for a laser"), _("SVG files"), ".svg", "-laser", write_svg };
  fw_workshop_export (self->workshop, &what);
}

static void
on_print (TemplatesPage *self)
{
  FwLaid *laid = fw_workshop_laid (self->workshop);
  if (laid == NULL || laid->pages->n_parts_placed == 0)
    return;
  FwWorkshopPrint what = { .n_pages = fw_template_pages_count (laid->pages), .name = laid->title, .draw = draw_page, .laid = laid };
  fw_template_pages_size (laid->pages, &what.width_mm, &what.height_mm);
  fw_workshop_print (self->workshop, &what);
}

static FwEntry *
sheet_entry (TemplatesPage *self, GtkWidget *foot, const char *name)
{
  FwEntry *entry = fw_entry_new (FW_UNIT_MM, TRUE, 6, on_sheet, self);
  GtkWidget *widget = fw_entry_widget (entry);
  gtk_entry_set_placeholder_text (GTK_ENTRY (widget), C_ ("size of a sheet", "stock’s"));
  fw_widget_describe (widget, name, _("Empty: the sheets of the stock, else 600 by 400 mm"));
  gtk_widget_set_tooltip_text (widget, _("Empty: the sheets of the stock, else 600 by 400 mm"));
  gtk_box_append (GTK_BOX (foot), widget);
  return entry;
}

static GtkWidget *
templates_foot (TemplatesPage *self)
{
  const char *papers[] = { [FW_PAPER_A4] = "A4",
                           [FW_PAPER_A3] = "A3",
                           [FW_PAPER_LETTER] = C_ ("paper", "Letter"),
                           [FW_PAPER_TABLOID] = C_ ("paper", "Tabloid"),
                           [FW_PAPER_ONE] = C_ ("paper", "One large sheet"),
                           NULL };
  GtkWidget *foot = fw_workshop_foot ();

  self->paper = fw_workshop_foot_add (foot, _("_Paper"), gtk_drop_down_new_from_strings (papers));
  g_signal_connect_swapped (self->paper, "notify::selected", G_CALLBACK (on_paper), self);
  fw_workshop_foot_button (foot, _("Export P_DF…"), G_CALLBACK (on_pdf), self);
  fw_workshop_foot_button (foot, _("P_rint…"), G_CALLBACK (on_print), self);
  fw_workshop_foot_gap (foot);
  GtkWidget *label = gtk_label_new (_("Laser"));
  gtk_box_append (GTK_BOX (foot), fw_explain_heading (fw_workshop_session (self->workshop), label, fw_explain_find ("template")));
  self->width = sheet_entry (self, foot, _("Width of a sheet for the laser"));
  gtk_box_append (GTK_BOX (foot), gtk_label_new ("×"));
  self->height = sheet_entry (self, foot, _("Height of a sheet for the laser"));
  self->sheets = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->sheets, "fw-faint");
  gtk_box_append (GTK_BOX (foot), self->sheets);
  fw_workshop_foot_button (foot, _("Export _SVG…"), G_CALLBACK (on_svg), self);
  return foot;
}

GtkWidget *
fw_workshop_templates_new (FwWorkshop *workshop)
{
  static const FwWorkshopPage calls = { on_laid, on_display };
  TemplatesPage *self = g_new0 (TemplatesPage, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  g_object_set_data_full (G_OBJECT (page), "templates-page", self, g_free);
  fw_workshop_page_set (page, &calls);
  self->workshop = workshop;
  self->caution = fw_workshop_caution ();
  self->view = fw_page_view_new (_("Templates"), draw_page);
  gtk_widget_set_vexpand (self->view, TRUE);
  g_object_set_data (G_OBJECT (page), "page-view", self->view);
  gtk_box_append (GTK_BOX (page), self->caution);
  gtk_box_append (GTK_BOX (page), self->view);
  fw_workshop_page_set_first (page, self->view);
  gtk_box_append (GTK_BOX (page), templates_foot (self));
  return page;
}
