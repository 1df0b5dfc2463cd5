#include "app/choose.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/ask.h"

#define KEEP_S 60 /* how long a dialog is kept, out of sight: folders are read within it */

typedef struct
{
  GtkWindow *parent; /* owned */
  gboolean save;
  char *ending;
  char *path; /* chosen; NULL */
  FwChosen chosen;
  gpointer data;
} Choosing;

static Choosing *
choosing_new (GtkWindow *parent, const FwChoice *choice, FwChosen chosen, gpointer data)
{
  Choosing *self = g_new0 (Choosing, 1);
  *self = (Choosing) { .parent = g_object_ref (parent), .save = choice->save, .ending = g_strdup (choice->ending),
                       .chosen = chosen, .data = data };
  return self;
}

static GtkFileFilter *
new_filter (const char *name, const char *ending, const char *const *kinds)
{
  g_autofree char *pattern = g_strconcat ("*", ending, NULL);
  GtkFileFilter *filter = gtk_file_filter_new ();
  gtk_file_filter_set_name (filter, name);
  for (int i = 0; kinds != NULL && kinds[i] != NULL; i++)
    gtk_file_filter_add_suffix (filter, kinds[i]); /* in capitals too */
  if (kinds == NULL)
    gtk_file_filter_add_pattern (filter, pattern);
  return filter;
}

static void
choosing_finish (Choosing *self)
{
  self->chosen (self->path, self->data);
  g_object_unref (self->parent);
  g_free (self->ending);
  g_free (self->path);
  g_free (self);
}

enum { ANSWER_CANCEL, ANSWER_REPLACE };

static void
on_replace_answer (int answer, gpointer data)
{
  Choosing *self = data;
  if (answer != ANSWER_REPLACE)
    g_clear_pointer (&self->path, g_free);
  choosing_finish (self);
}

/* The desktop's window has asked about the name as it was typed, not about the one with the ending. */
static void
choosing_ask_replace (Choosing *self)
{
  const FwAnswer answers[] = {
    [ANSWER_CANCEL] = { _("_Cancel"), NULL },
    [ANSWER_REPLACE] = { _("_Replace"), "destructive-action" },
  };
  g_autofree char *name = g_filename_display_basename (self->path);
  /* Translators: %s is a file name */
  g_autofree char *heading = g_strdup_printf (_("Replace “%s”?"), name);
  fw_ask (self->parent, heading, _("A file with this name is there already. What it holds will be lost."), answers,
          G_N_ELEMENTS (answers), on_replace_answer, self, NULL);
}

static void
choosing_end (Choosing *self, GFile *file)
{
  self->path = file != NULL ? g_file_get_path (file) : NULL;
  g_autofree char *base = self->path != NULL ? g_path_get_basename (self->path) : NULL;
  if (base != NULL && self->save && strchr (base, '.') == NULL)
    {
      g_autofree char *bare = self->path;
      self->path = g_strconcat (bare, self->ending, NULL);
      if (g_file_test (self->path, G_FILE_TEST_EXISTS))
        {
          choosing_ask_replace (self);
          return;
        }
    }
  choosing_finish (self);
}

static gboolean
on_kept (gpointer dialog)
{
  return G_SOURCE_REMOVE; /* and with that it is let go of */
}

void
fw_choose_let_go (GtkNativeDialog *dialog)
{
  g_timeout_add_seconds_full (G_PRIORITY_LOW, KEEP_S, on_kept, dialog, g_object_unref);
}

#if GTK_CHECK_VERSION(4, 10, 0)

G_GNUC_BEGIN_IGNORE_DEPRECATIONS /* newer than the oldest GTK this builds with */

static void
on_save_done (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GFile) file = gtk_file_dialog_save_finish (GTK_FILE_DIALOG (source), result, NULL);
  choosing_end (data, file);
}

static void
on_open_done (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GFile) file = gtk_file_dialog_open_finish (GTK_FILE_DIALOG (source), result, NULL);
  choosing_end (data, file);
}

void
fw_choose_file (GtkWindow *parent, const FwChoice *choice, FwChosen chosen, gpointer data)
{
  Choosing *choosing = choosing_new (parent, choice, chosen, data);
  g_autoptr (GtkFileDialog) dialog = gtk_file_dialog_new ();
  g_autoptr (GListStore) filters = g_list_store_new (GTK_TYPE_FILE_FILTER);
  g_autoptr (GtkFileFilter) wanted = new_filter (choice->filter_name, choice->ending, choice->kinds);
  g_autoptr (GtkFileFilter) all = new_filter (_("All files"), "", NULL);

  g_list_store_append (filters, wanted);
  g_list_store_append (filters, all);
  gtk_file_dialog_set_title (dialog, choice->title);
  gtk_file_dialog_set_accept_label (dialog, choice->accept);
  gtk_file_dialog_set_filters (dialog, G_LIST_MODEL (filters));
  if (choice->folder != NULL)
    {
      g_autoptr (GFile) folder = g_file_new_for_path (choice->folder);
      gtk_file_dialog_set_initial_folder (dialog, folder);
    }
  if (choice->name != NULL)
    gtk_file_dialog_set_initial_name (dialog, choice->name);
  if (choice->save)
    gtk_file_dialog_save (dialog, parent, NULL, on_save_done, choosing);
  else
    gtk_file_dialog_open (dialog, parent, NULL, on_open_done, choosing);
}

G_GNUC_END_IGNORE_DEPRECATIONS

#else

static void
on_response (GtkNativeDialog *dialog, int response, gpointer data)
{
  g_autoptr (GFile) file = NULL;
  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
  fw_choose_let_go (dialog);
  choosing_end (data, file);
}

void
fw_choose_file (GtkWindow *parent, const FwChoice *choice, FwChosen chosen, gpointer data)
{
  Choosing *choosing = choosing_new (parent, choice, chosen, data);
  GtkFileChooserAction action = choice->save ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_OPEN;
  GtkFileChooserNative *dialog
      = gtk_file_chooser_native_new (choice->title, parent, action, choice->accept, _("_Cancel"));
  GtkFileChooser *chooser = GTK_FILE_CHOOSER (dialog);
  g_autoptr (GtkFileFilter) wanted = new_filter (choice->filter_name, choice->ending, choice->kinds);
  g_autoptr (GtkFileFilter) all = new_filter (_("All files"), "", NULL);

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  gtk_file_chooser_add_filter (chooser, wanted);
  gtk_file_chooser_add_filter (chooser, all);
  if (choice->folder != NULL)
    {
      g_autoptr (GFile) folder = g_file_new_for_path (choice->folder);
      gtk_file_chooser_set_current_folder (chooser, folder, NULL);
    }
  if (choice->name != NULL)
    gtk_file_chooser_set_current_name (chooser, choice->name);
  g_signal_connect (dialog, "response", G_CALLBACK (on_response), choosing);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

#endif
