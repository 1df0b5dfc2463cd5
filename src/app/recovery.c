#include "app/recovery.h"

#include <glib/gi18n.h>
#include <sys/stat.h>

#include "app/diskoffer.h"
#include "app/files.h"
#include "app/reopen.h"
#include "doc/autosave.h"
#include "doc/files.h"

typedef struct
{
  FwWindow *window;  /* borrowed: it owns this */
  GPtrArray *copies; /* FwAutosave, owned */
  guint next;
} Recovery;

static void recovery_offer_next (Recovery *self);

static void
recovery_free (gpointer data)
{
  Recovery *self = data;
  g_ptr_array_unref (self->copies);
  g_free (self);
}

/* What the original holds is known unless it was written after the copy was kept. */
static void
window_know_original (FwWindow *window, const FwAutosave *copy)
{
  struct stat info;
  gsize length = 0;
  gboolean older = copy->original != NULL && stat (copy->original, &info) == 0 && S_ISREG (info.st_mode)
                   && info.st_mtime <= copy->when;
  g_autofree char *text = older ? fw_file_read (copy->original, &length, NULL) : NULL;
  fw_disk_offer_known (window, copy->original, text, length);
}

/* A copy that is being opened: it outlives the window that offered it. */
typedef struct
{
  GPtrArray *copies; /* owned */
  const FwAutosave *copy;
} Chosen;

static void
chosen_free (gpointer data)
{
  Chosen *chosen = data;
  g_ptr_array_unref (chosen->copies);
  g_free (chosen);
}

/* The kept copy becomes this window's unsaved work, and is kept anew before the old one goes. */
static void
then_recover (FwWindow *window, gpointer data)
{
  const FwAutosave *copy = ((Chosen *) data)->copy;
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  if ((text = fw_file_read (copy->file, &length, &error)) == NULL)
    {
      fw_message_bar_fail (fw_window_messages (window), error->message);
      return;
    }
  if (!fw_files_open_text (window, text))
    return;
  fw_session_set_path (fw_window_session (window), copy->original);
  fw_reopen_note (FW_APPLICATION (gtk_window_get_application (GTK_WINDOW (window))), NULL);
  window_know_original (window, copy);
  if (fw_keeper_keep (fw_window_keeper (window))) /* else the old copy is the only one */
    fw_autosave_discard (copy);
  fw_window_update (window);
}

/* Where the copy belongs: the window that has its file; else the one that offers it, until that holds work of its
 * own; else a new one. */
static FwWindow *
recovery_window (Recovery *self, const FwAutosave *copy)
{
  GtkApplication *app = gtk_window_get_application (GTK_WINDOW (self->window));

  for (GList *l = gtk_application_get_windows (app); l != NULL && copy->original != NULL; l = l->next)
    if (FW_IS_WINDOW (l->data) && g_strcmp0 (fw_session_path (fw_window_session (l->data)), copy->original) == 0)
      return l->data;
  if (fw_session_path (fw_window_session (self->window)) == NULL && !fw_keeper_unsaved (fw_window_keeper (self->window)))
    return self->window;
  return fw_application_add_window (FW_APPLICATION (app), copy->original);
}

static void
on_offered (gboolean yes, gpointer data)
{
  Recovery *self = data;
  const FwAutosave *copy = g_ptr_array_index (self->copies, self->next++);
  if (yes)
    {
      FwWindow *window = recovery_window (self, copy);
      gtk_window_present (GTK_WINDOW (window));
      Chosen *chosen = g_new (Chosen, 1);
      *chosen = (Chosen) { g_ptr_array_ref (self->copies), copy };
      fw_files_when_safe (window, then_recover, chosen, chosen_free);
    }
  else
    fw_autosave_discard (copy);
  recovery_offer_next (self);
}

static char *
recovery_words (const FwAutosave *copy)
{
  g_autoptr (GDateTime) when = g_date_time_new_from_unix_local (copy->when);
  /* Translators: date and time of the kept copy */
  g_autofree char *time = g_date_time_format (when, C_ ("kept copy", "%x %H:%M"));
  if (copy->original == NULL)
    /* Translators: %s is a date and time */
    return g_strdup_printf (_("A design that was never saved was kept on %s."), time);
  g_autofree char *name = g_filename_display_basename (copy->original);
  /* Translators: file name; date and time */
  return g_strdup_printf (_("Unsaved changes to %s were kept on %s."), name, time);
}

static void
recovery_offer_next (Recovery *self)
{
  if (self->next >= self->copies->len)
    return;
  g_autofree char *words = recovery_words (g_ptr_array_index (self->copies, self->next));
  fw_message_bar_offer (fw_window_messages (self->window), words, _("Open"), _("Discard"), on_offered, self, NULL);
}

void
fw_recovery_offer (FwWindow *window)
{
  GApplication *app = G_APPLICATION (gtk_window_get_application (GTK_WINDOW (window)));
  const char *key = "fw-recovery";

  if (g_object_get_data (G_OBJECT (app), key) != NULL)
    return;
  g_object_set_data (G_OBJECT (app), key, app);
  Recovery *self = g_new0 (Recovery, 1);
  *self = (Recovery) { .window = window, .copies = fw_autosave_left_over () };
  g_object_set_data_full (G_OBJECT (window), key, self, recovery_free);
  recovery_offer_next (self);
}
