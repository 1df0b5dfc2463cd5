/* Pages to the system's print dialog, at true size. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>
#include <math.h>

typedef struct
{
  FwWorkshop *workshop; /* owned */
  FwWorkshopPrint what; /* with a reference to what is laid out */
  char *name;
} Printing;

static void
printing_free (gpointer data, GClosure *closure)
{
  Printing *self = data;
  fw_laid_unref (self->what.laid);
  g_object_unref (self->workshop);
  g_free (self->name);
  g_free (self);
}

/* The paper of the pages, without margins: they keep clear of the edge by themselves. */
static GtkPageSetup *
page_setup (double width_mm, double height_mm)
{
  GtkPageSetup *setup = gtk_page_setup_new ();
  gboolean lies = width_mm > height_mm;
  double width = fmin (width_mm, height_mm), height = fmax (width_mm, height_mm);
  const char *const known[] = { GTK_PAPER_NAME_A3, GTK_PAPER_NAME_A4, GTK_PAPER_NAME_A5, GTK_PAPER_NAME_LETTER, "na_ledger" };
  GtkPaperSize *paper = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (known) && paper == NULL; i++)
    {
      GtkPaperSize *size = gtk_paper_size_new (known[i]);
      if (fabs (gtk_paper_size_get_width (size, GTK_UNIT_MM) - width) < 0.6
          && fabs (gtk_paper_size_get_height (size, GTK_UNIT_MM) - height) < 0.6)
        paper = size;
      else
        gtk_paper_size_free (size);
    }
  if (paper == NULL)
    paper = gtk_paper_size_new_custom ("flapwright-sheet", _("One large sheet"), width, height, GTK_UNIT_MM);
  gtk_page_setup_set_paper_size (setup, paper);
  gtk_page_setup_set_orientation (setup, lies ? GTK_PAGE_ORIENTATION_LANDSCAPE : GTK_PAGE_ORIENTATION_PORTRAIT);
  gtk_page_setup_set_top_margin (setup, 0, GTK_UNIT_MM);
  gtk_page_setup_set_bottom_margin (setup, 0, GTK_UNIT_MM);
  gtk_page_setup_set_left_margin (setup, 0, GTK_UNIT_MM);
  gtk_page_setup_set_right_margin (setup, 0, GTK_UNIT_MM);
  gtk_paper_size_free (paper);
  return setup;
}

static void
on_draw (GtkPrintOperation *operation, GtkPrintContext *context, int page, Printing *self)
{
  cairo_t *cr = gtk_print_context_get_cairo_context (context);

  /* The context's unit is a mm (below), its origin the sheet's corner: nothing is scaled. */
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, self->what.width_mm, self->what.height_mm);
  cairo_clip (cr);
  self->what.draw (cr, self->what.laid, page);
  cairo_restore (cr);
}

static void
on_done (GtkPrintOperation *operation, GtkPrintOperationResult result, Printing *self)
{
  g_autoptr (GError) error = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_APPLY)
    fw_message_bar_note (fw_workshop_messages (self->workshop), _("Sent to the printer at true size"));
  if (result != GTK_PRINT_OPERATION_RESULT_ERROR)
    return;
  gtk_print_operation_get_error (operation, &error);
  /* Translators: %s is the reason */
  g_autofree char *text = g_strdup_printf (_("It could not be printed: %s"), error != NULL ? error->message : _("no reason was given"));
  fw_message_bar_fail (fw_workshop_messages (self->workshop), text);
}

void
fw_workshop_print (FwWorkshop *workshop, const FwWorkshopPrint *what)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = page_setup (what->width_mm, what->height_mm);
  g_autoptr (GError) error = NULL;
  Printing *self = g_new0 (Printing, 1);

  *self = (Printing) { g_object_ref (workshop), *what, g_strdup (what->name) };
  self->what.laid = fw_laid_ref (what->laid);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_n_pages (operation, what->n_pages);
  gtk_print_operation_set_job_name (operation, what->name);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_MM);
  gtk_print_operation_set_embed_page_setup (operation, TRUE);
  gtk_print_operation_set_allow_async (operation, TRUE);
  gtk_print_operation_set_show_progress (operation, TRUE);
  g_signal_connect_data (operation, "draw-page", G_CALLBACK (on_draw), self, printing_free, 0);
  g_signal_connect (operation, "done", G_CALLBACK (on_done), self);
  if (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (workshop), &error)
      == GTK_PRINT_OPERATION_RESULT_ERROR)
    fw_message_bar_fail (fw_workshop_messages (workshop), error->message);
}
