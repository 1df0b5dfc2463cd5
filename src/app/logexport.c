/* The build log as a PDF, or as Markdown with pictures. */
#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/flipdialog.h"
#include "app/flipdialogframe.h"
#include "app/widgetstyle.h"
#include "doc/log.h"
#include "shop/logmarkdown.h"

typedef struct
{
  FwFlipFrame *frame;
  FwSession *session; /* owned by the window, which the frame holds */
  GtkWidget *pdf, *markdown;
} Dialog;

/* What a thread works on: the document as text, since the window goes on with its own. */
typedef struct
{
  char *text, *folder;
  FwLengths lengths;
  gboolean markdown;
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;
  g_free (input->text);
  g_free (input->folder);
  g_free (input);
}

static gpointer
export_take (gpointer owner)
{
  Dialog *self = owner;
  const char *path = fw_session_path (self->session);
  Input *input = g_new0 (Input, 1);
  *input = (Input) { .text = fw_document_to_text (fw_session_document (self->session)),
                     .folder = path != NULL ? g_path_get_dirname (path) : g_get_current_dir (),
                     .lengths = fw_session_lengths (self->session),
                     .markdown = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->markdown)) };
  return input;
}

/* The first half of the way is solving. */
typedef struct
{
  const FwProgress *whole;
  double from;
} Half;

static gboolean
half_onward (double fraction, const char *what, gpointer data)
{
  const Half *half = data;
  return fw_progress (half->whole, half->from + fraction / 2, what);
}

static gboolean
export_write (gpointer data, const char *path, const FwProgress *progress, GError **error)
{
  const Input *input = data;
  Half first = { progress, 0 }, second = { progress, 0.5 };
  const FwProgress solving = { half_onward, &first }, writing = { half_onward, &second };
  FwDocument *doc = fw_document_new_from_text (input->text, -1, "", error);
  if (doc == NULL)
    return FALSE;
  g_autoptr (FwLogbook) book = fw_logbook_new (doc, input->folder, input->lengths, &solving, error);
  gboolean good = book != NULL
                  && (input->markdown ? fw_logbook_write_markdown (book, path, &writing, error)
                                      : fw_logbook_write_pdf (book, path, &writing, error));
  fw_document_free (doc);
  return good;
}

static FwFlipKind
export_kind (gboolean markdown)
{
  return (FwFlipKind) { .title = _("Export the build log"), .save = _("_Save…"), .file_title = _("Save the build log"),
                        /* Translators: "heron log.pdf" */
                        .name_end = C_("end of a file's name", "log"), .ending = markdown ? ".md" : ".pdf",
                        .filter_name = markdown ? _("Markdown files") : _("PDF files"),
                        /* Translators: %s is a file name */
                        .saved = _("Build log saved: %s"), .take = export_take, .release = input_free,
                        .write = export_write };
}

static void
on_choice (Dialog *self)
{
  gboolean markdown = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->markdown));
  const FwDocument *doc = fw_session_document (self->session);
  int n = fw_log_count (doc), pictures = 0;
  for (int i = 0; i < n; i++)
    {
      FwLogEntry entry;
      pictures += fw_log_entry (doc, i, &entry) ? entry.n_pictures : 0;
    }
  g_autofree char *entries = g_strdup_printf (ngettext ("%d entry", "%d entries", (gulong) n), n);
  g_autofree char *photos = g_strdup_printf (ngettext ("%d picture", "%d pictures", (gulong) pictures), pictures);
  gboolean inch = fw_session_lengths (self->session) == FW_LENGTHS_INCH;
  /* Translators: "3 entries with 2 pictures." */
  g_autofree char *what = g_strdup_printf (_("%s with %s."), entries, photos);
  const char *how = markdown ? _("A text file, and beside it a folder of its pictures with the same name.")
                    : inch   ? _("Pages of Letter to print, lengths in inches.")
                             : _("Pages of A4 to print, lengths in millimetres.");
  g_autofree char *words = g_strconcat (what, "\n", how, NULL);
  FwFlipKind kind = export_kind (markdown);
  fw_flip_frame_set_kind (self->frame, &kind);
  fw_flip_frame_say (self->frame, n > 0 ? words : _("The build log is empty: there is nothing to export."), n > 0);
}

void
fw_log_export_show (FwWindow *window, GtkWindow *parent)
{
  FwFlipKind kind = export_kind (FALSE);
  Dialog *self = g_new0 (Dialog, 1);
  GtkWidget *form = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->session = fw_window_session (window);
  self->frame = fw_flip_frame_new (window, parent, &kind, self, g_free);
  self->pdf = fw_check_new (_("_PDF, to print"), TRUE);
  self->markdown = fw_check_new (_("_Markdown, to read and to put elsewhere"), FALSE);
  gtk_check_button_set_group (GTK_CHECK_BUTTON (self->markdown), GTK_CHECK_BUTTON (self->pdf));
  g_signal_connect_swapped (self->markdown, "toggled", G_CALLBACK (on_choice), self);
  gtk_box_append (GTK_BOX (form), self->pdf);
  gtk_box_append (GTK_BOX (form), self->markdown);
  on_choice (self);
  fw_flip_frame_present (self->frame, NULL, form, 440, 280);
}
