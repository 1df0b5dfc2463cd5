#include "app/files.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/application.h"
#include "app/ask.h"
#include "app/choose.h"
#include "app/diskoffer.h"
#include "app/diskwatch.h"
#include "app/keeper.h"
#include "app/reopen.h"
#include "app/viewstate.h"
#include "doc/files.h"

#define ENDING ".flap"
#define NOT_IN_NAMES "/\\:*?\"<>|\n\t" /* what some file system does not take */

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
then_follow (FwWindow *window, gpointer data)
{
  then_end (data, TRUE);
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
    {
      g_autofree char *base = g_path_get_basename (fw_session_path (session));
      return fw_file_display_name (base);
    }
  if (doc != NULL && *fw_document_title (doc) != '\0')
    return g_strdup (fw_document_title (doc));
  return g_strdup (_("Untitled"));
}

char *
fw_files_name_with (FwWindow *window, const char *words, const char *ending)
{
  g_autofree char *name = fw_files_name (window);
  if (g_str_has_suffix (name, ENDING))
    name[strlen (name) - strlen (ENDING)] = '\0';
  char *whole = g_strconcat (name, " ", words, ending, NULL);
  return g_strdelimit (whole, NOT_IN_NAMES, '-');
}

/* ---- Opening ---- */

/* FALSE if the session would not have it; what was open stays. */
static gboolean
window_take (FwWindow *window, FwDocument *doc, const char *path, gboolean unsaved)
{
  FwSession *session = fw_window_session (window);

  fw_view_state_keep (window); /* of the design that goes */
  fw_session_set_document (session, doc, path);
  if (fw_session_document (session) != doc)
    return FALSE;
  fw_keeper_forget (fw_window_keeper (window), unsaved);
  fw_disk_offer_known (window, NULL, NULL, 0);
  fw_window_document_taken (window);
  fw_reopen_note (FW_APPLICATION (gtk_window_get_application (GTK_WINDOW (window))), NULL);
  return TRUE;
}

/* What is in a file; what would be waited for, a pipe, is refused. */
static char *
read_file (const char *path, gsize *length, GError **error)
{
  if (!g_file_test (path, G_FILE_TEST_EXISTS) || g_file_test (path, G_FILE_TEST_IS_REGULAR)
      || g_file_test (path, G_FILE_TEST_IS_DIR))
    return fw_file_read (path, length, error);
  g_autofree char *name = fw_file_display_name (path);
  /* Translators: %s is a file name */
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("%s: expected a regular file"), name);
  return NULL;
}

gboolean
fw_files_load (FwWindow *window, const char *path)
{
  g_autoptr (GError) error = NULL;
  gsize length = 0;
  g_autofree char *text = read_file (path, &length, &error);
  FwDocument *doc = text != NULL ? fw_document_new_from_text (text, (gssize) length, path, &error) : NULL;
  if (doc == NULL)
    {
      say (window, error);
      fw_settings_drop_recent (fw_window_settings (window), path);
      return FALSE;
    }
  if (!window_take (window, doc, path, FALSE))
    return FALSE;
  fw_disk_offer_known (window, path, text, length);
  fw_settings_add_recent (fw_window_settings (window), path);
  return TRUE;
}

gboolean
fw_files_present (GtkApplication *app, const char *path, FwWindow *other_than)
{
  for (GList *l = gtk_application_get_windows (app); l != NULL; l = l->next)
    {
      const char *open = FW_IS_WINDOW (l->data) && l->data != (gpointer) other_than
                             ? fw_session_path (fw_window_session (l->data))
                             : NULL;
      if (open == NULL || !fw_disk_same_file (open, path))
        continue;
      gtk_window_present (l->data);
      return TRUE;
    }
  return FALSE;
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
  if (fw_files_present (gtk_window_get_application (GTK_WINDOW (window)), path, window))
    return;
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

enum { OVER_CANCEL, OVER_SAVE, OVER_ELSEWHERE };

static void
on_save_elsewhere (gboolean yes, gpointer window)
{
  if (yes)
    fw_files_save (window, TRUE, NULL, NULL, NULL);
}

/* Two windows would write over each other. */
static gboolean
window_of_another (FwWindow *window, const char *path)
{
  const char *own = fw_session_path (fw_window_session (window));
  if (own != NULL && fw_disk_same_file (own, path))
    return FALSE;
  if (!fw_files_present (gtk_window_get_application (GTK_WINDOW (window)), path, window))
    return FALSE;
  g_autofree char *name = fw_file_display_name (path);
  /* Translators: %s is a file name */
  g_autofree char *text = g_strdup_printf (_("%s: it is open in another window; choose another name"), name);
  fw_message_bar_fail_offer (fw_window_messages (window), text, _("Save as…"), on_save_elsewhere, window, NULL);
  return TRUE;
}

static gboolean
window_save_to (FwWindow *window, const char *path)
{
  FwSession *session = fw_window_session (window);
  g_autoptr (GError) error = NULL;

  if (window_of_another (window, path))
    return FALSE;
  if (!fw_document_save (fw_session_document (session), path, &error))
    {
      fw_message_bar_fail_offer (fw_window_messages (window), error->message, _("Save as…"), on_save_elsewhere, window,
                                 NULL);
      return FALSE;
    }
  g_autofree char *saved = fw_document_to_text (fw_session_document (session));
  fw_session_set_path (session, path);
  fw_keeper_forget (fw_window_keeper (window), FALSE);
  fw_disk_offer_known (window, path, saved, strlen (saved));
  fw_settings_add_recent (fw_window_settings (window), path);
  fw_reopen_note (FW_APPLICATION (gtk_window_get_application (GTK_WINDOW (window))), NULL);
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
  g_strdelimit (name, NOT_IN_NAMES, '-');
  return g_str_has_suffix (name, ENDING) ? g_steal_pointer (&name) : g_strconcat (name, ENDING, NULL);
}

static void
save_here (Then *then)
{
  g_autofree char *path = g_strdup (fw_session_path (fw_window_session (then->window)));
  then_end (then, window_save_to (then->window, path));
}

static void
on_save_over_answer (int answer, gpointer data)
{
  Then *then = data;
  if (answer == OVER_SAVE)
    save_here (then);
  else if (answer == OVER_ELSEWHERE)
    fw_files_save (then->window, TRUE, then_follow, then, NULL);
  else
    then_end (then, FALSE);
}

/* Another program wrote the file since it was opened or saved here. */
static void
ask_save_over (FwWindow *window, Then *then)
{
  const FwAnswer answers[] = {
    [OVER_CANCEL] = { _("_Cancel"), NULL },
    [OVER_SAVE] = { _("Save _over it"), "destructive-action" },
    [OVER_ELSEWHERE] = { _("Save _as…"), "suggested-action" },
  };
  g_autofree char *name = fw_files_name (window);
  /* Translators: %s is a file name */
  g_autofree char *heading = g_strdup_printf (_("“%s” was changed by another program."), name);
  fw_ask (GTK_WINDOW (window), heading, _("Saving over it loses what the other program wrote."), answers,
          G_N_ELEMENTS (answers), on_save_over_answer, then, NULL);
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
  if (path != NULL && !as && fw_disk_offer_must_ask (window))
    {
      ask_save_over (window, after);
      return;
    }
  if (path != NULL && !as)
    {
      save_here (after);
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
