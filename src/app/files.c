#include "app/files.h"

#include <glib/gi18n.h>

#include "app/application.h"
#include "app/ask.h"
#include "app/choose.h"
#include "app/keeper.h"

#define ENDING ".flap"

/* What follows an answer or a saving. Kept until it is known whether it follows. */
typedef struct
{
  FwWindow *window; /* owned */
  FwThen then;
  gpointer data;
  GDestroyNotify release;
} Then;

static Then *
then_new (FwWindow *window, FwThen then, gpointer data, GDestroyNotify release)
{
  Then *self = g_new (Then, 1);
  *self = (Then) { g_object_ref (window), then, data, release };
  return self;
}

static void
then_end (Then *self, gboolean go_on)
{
  if (go_on && self->then != NULL)
    self->then (self->window, self->data);
  if (self->release != NULL)
    self->release (self->data);
  g_object_unref (self->window);
  g_free (self);
}

static void
say (FwWindow *window, GError *error)
{
  fw_message_bar_fail (fw_window_messages (window), error->message);
}

char *
fw_files_name (FwWindow *window)
{
  FwSession *session = fw_window_session (window);
  FwDocument *doc = fw_session_document (session);
  if (fw_session_path (session) != NULL)
    return g_filename_display_basename (fw_session_path (session));
  if (doc != NULL && *fw_document_title (doc) != '\0')
    return g_strdup (fw_document_title (doc));
  return g_strdup (_("Untitled"));
}

/* ---- Opening ---- */

/* FALSE if the session would not have it; what was open stays. */
static gboolean
window_take (FwWindow *window, FwDocument *doc, const char *path, gboolean unsaved)
{
  FwSession *session = fw_window_session (window);

  fw_session_set_document (session, doc, path);
  if (fw_session_document (session) != doc)
    return FALSE;
  fw_keeper_forget (fw_window_keeper (window), unsaved);
  fw_window_document_taken (window);
  return TRUE;
}

gboolean
fw_files_load (FwWindow *window, const char *path)
{
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_load (path, &error);
  if (doc == NULL)
    {
      say (window, error);
      fw_settings_drop_recent (fw_window_settings (window), path);
      return FALSE;
    }
  if (!window_take (window, doc, path, FALSE))
    return FALSE;
  fw_settings_add_recent (fw_window_settings (window), path);
  return TRUE;
}

gboolean
fw_files_open_file (FwWindow *window, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  if (path != NULL)
    return fw_files_load (window, path);
  g_autofree char *uri = g_file_get_uri (file);
  /* Translators: %s is an address */
  g_autofree char *text = g_strdup_printf (_("%s: expected a file on this machine"), uri);
  fw_message_bar_fail (fw_window_messages (window), text);
  return FALSE;
}

gboolean
fw_files_open_demo (FwWindow *window, const char *path)
{
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_load (path, &error);
  if (doc != NULL)
    return window_take (window, doc, NULL, FALSE);
  say (window, error);
  return FALSE;
}

gboolean
fw_files_open_text (FwWindow *window, const char *text)
{
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_new_from_text (text, -1, _("New design"), &error);
  if (doc != NULL)
    return window_take (window, doc, NULL, TRUE);
  say (window, error);
  return FALSE;
}

static void
then_load (FwWindow *window, gpointer path)
{
  fw_files_load (window, path);
}

void
fw_files_ask_open_path (FwWindow *window, const char *path)
{
  fw_files_when_safe (window, then_load, g_strdup (path), g_free);
}

static void
on_open_chosen (const char *path, gpointer data)
{
  g_autoptr (FwWindow) window = data;
  if (path != NULL)
    fw_files_ask_open_path (window, path);
}

void
fw_files_ask_open (FwWindow *window)
{
  const char *path = fw_session_path (fw_window_session (window));
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  const FwChoice choice = { .title = _("Open a design"), .accept = _("_Open"), .folder = folder,
                            .filter_name = _("Flapwright designs"), .ending = ENDING };
  fw_choose_file (GTK_WINDOW (window), &choice, on_open_chosen, g_object_ref (window));
}

static gboolean
on_drop (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  GFile *file = g_value_get_object (value);
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  if (file == NULL)
    return FALSE;
  if (path == NULL)
    return fw_files_open_file (data, file);
  fw_files_ask_open_path (data, path);
  return TRUE;
}

void
fw_files_drop_target (FwWindow *window)
{
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_FILE, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (on_drop), window);
  gtk_widget_add_controller (GTK_WIDGET (window), GTK_EVENT_CONTROLLER (target));
}

/* ---- Saving ---- */

static gboolean
window_save_to (FwWindow *window, const char *path)
{
  FwSession *session = fw_window_session (window);
  g_autoptr (GError) error = NULL;

  if (!fw_document_save (fw_session_document (session), path, &error))
    {
      say (window, error);
      return FALSE;
    }
  fw_session_set_path (session, path);
  fw_keeper_forget (fw_window_keeper (window), FALSE);
  fw_settings_add_recent (fw_window_settings (window), path);
  fw_window_update (window);
  g_autofree char *name = g_filename_display_name (path);
  /* Translators: %s is a file name */
  g_autofree char *text = g_strdup_printf (_("Saved: %s"), name);
  fw_message_bar_note (fw_window_messages (window), text);
  return TRUE;
}

static void
on_save_chosen (const char *path, gpointer data)
{
  Then *then = data;
  if (path == NULL)
    {
      then_end (then, FALSE);
      return;
    }
  then_end (then, window_save_to (then->window, path));
}

/* A file name made of a title: without what no file system likes. */
static char *
suggested_name (FwWindow *window)
{
  g_autofree char *name = fw_files_name (window);
  g_strdelimit (name, "/\\:*?\"<>|\n\t", '-');
  return g_str_has_suffix (name, ENDING) ? g_steal_pointer (&name) : g_strconcat (name, ENDING, NULL);
}

void
fw_files_save (FwWindow *window, gboolean as, FwThen then, gpointer data, GDestroyNotify release)
{
  FwSession *session = fw_window_session (window);
  Then *after = then_new (window, then, data, release);
  const char *path = fw_session_path (session);

  if (fw_session_document (session) == NULL)
    {
      then_end (after, FALSE);
      return;
    }
  if (path != NULL && !as)
    {
      g_autofree char *copy = g_strdup (path);
      then_end (after, window_save_to (window, copy));
      return;
    }
  g_autofree char *name = suggested_name (window);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  const FwChoice choice = { .title = _("Save the design"), .accept = _("_Save"), .save = TRUE, .name = name,
                            .folder = folder, .filter_name = _("Flapwright designs"), .ending = ENDING };
  fw_choose_file (GTK_WINDOW (window), &choice, on_save_chosen, after);
}

/* ---- Unsaved work ---- */

enum { ANSWER_CANCEL, ANSWER_DISCARD, ANSWER_SAVE };

static void
then_follow (FwWindow *window, gpointer data)
{
  then_end (data, TRUE);
}

static void
on_unsaved_answer (int answer, gpointer data)
{
  Then *then = data;
  if (answer == ANSWER_SAVE)
    fw_files_save (then->window, FALSE, then_follow, then, NULL);
  else
    then_end (then, answer == ANSWER_DISCARD);
}

void
fw_files_when_safe (FwWindow *window, FwThen then, gpointer data, GDestroyNotify release)
{
  static const FwAnswer answers[] = {
    [ANSWER_CANCEL] = { N_ ("_Cancel"), NULL },
    [ANSWER_DISCARD] = { N_ ("_Discard"), "destructive-action" },
    [ANSWER_SAVE] = { N_ ("_Save"), "suggested-action" },
  };
  FwAnswer translated[G_N_ELEMENTS (answers)];
  Then *after = then_new (window, then, data, release);

  if (!fw_keeper_unsaved (fw_window_keeper (window)))
    {
      then_end (after, TRUE);
      return;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (answers); i++)
    translated[i] = (FwAnswer) { _(answers[i].label), answers[i].style };
  g_autofree char *name = fw_files_name (window);
  /* Translators: %s is the name of a design */
  g_autofree char *heading = g_strdup_printf (_("Save the changes to “%s”?"), name);
  fw_ask (GTK_WINDOW (window), heading, _("Changes that are not saved will be lost."), translated,
          G_N_ELEMENTS (translated), on_unsaved_answer, after, NULL);
}
