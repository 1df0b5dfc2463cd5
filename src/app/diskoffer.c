#include "app/diskoffer.h"

#include <glib/gi18n.h>

#include "app/files.h"
#include "app/sessionprivate.h"
#include "app/windowprivate.h"
#include "doc/files.h"
#include "doc/words.h"

static void
say (FwWindow *self, const char *format, const char *words)
{
  g_autofree char *text = g_strdup_printf (format, words);
  fw_message_bar_fail (self->messages, text);
}

/* FALSE, with why, if what is on disk is no design that can be built. */
static gboolean
can_be_built (const char *text, gsize length, const char *path, GError **error)
{
  FwMechanism *mech = NULL;
  FwFault fault = { 0 };
  FwDocument *doc = fw_document_new_from_text (text, (gssize) length, path, error);
  if (doc == NULL)
    return FALSE;
  FwStatus status = fw_mechanism_build (fw_document_design (doc), &mech, &fault);
  if (status != FW_OK)
    {
      g_autofree char *words = fw_words_fault (fw_document_design (doc), status, &fault);
      g_autofree char *name = fw_file_display_name (path);
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, "%s: %s", name, words);
    }
  fw_mechanism_free (mech);
  fw_document_free (doc);
  return status == FW_OK;
}

static gboolean
window_read_again (FwWindow *self, GError **error)
{
  g_autofree char *path = g_strdup (fw_session_path (self->session));
  FwDocument *doc = fw_session_document (self->session);
  gsize length;
  g_autofree char *text = g_file_test (path, G_FILE_TEST_IS_REGULAR) ? fw_file_read (path, &length, error) : NULL;
  if (text == NULL)
    {
      if (error != NULL && *error == NULL)
        g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("%s: expected a regular file"), path);
      return FALSE;
    }
  if (!can_be_built (text, length, path, error)
      || !fw_document_reload (doc, text, length, _("Take what is on disk"), error))
    return FALSE;
  fw_disk_watch_set (self->watch, path, text, length);
  fw_keeper_forget (self->keeper, FALSE);
  fw_session_refresh (self->session, -1);
  fw_window_update (self);
  return TRUE;
}

static gboolean
window_take (FwWindow *self)
{
  g_autoptr (GError) error = NULL;
  if (window_read_again (self, &error))
    return TRUE;
  /* Translators: %s is a line that names file, place and what was expected */
  say (self, _("Changed by another program to something that cannot be opened: %s"), error->message);
  return FALSE;
}

/* The answer may come when the window has another file, or the file is again as it was. */
static void
on_answer (gboolean take, gpointer data)
{
  FwWindow *self = data;
  if (fw_disk_watch_look (self->watch, TRUE) != FW_DISK_CHANGED)
    return;
  if (take)
    window_take (self);
  else
    fw_disk_watch_accept (self->watch);
}

static void
window_changed (FwWindow *self)
{
  g_autofree char *name = fw_files_name (self);
  g_autofree char *asked = g_strdup_printf (
      /* Translators: %s is a file name */
      _("%s was changed by another program, and here too. What is here can be brought back by undo; what is on disk "
        "is lost when you save."), name);
  if (fw_keeper_unsaved (self->keeper))
    {
      fw_message_bar_offer (self->messages, asked, _("Take what is on disk"), _("Keep mine"), on_answer, self, NULL);
      return;
    }
  if (!window_take (self))
    return;
  /* Translators: %s is a file name */
  g_autofree char *told = g_strdup_printf (_("%s was changed by another program: this is its new state. Undo brings "
                                             "back the former."), name);
  fw_message_bar_note (self->messages, told);
}

/* The design is now nowhere but here: leaving it asks. */
static void
window_gone (FwWindow *self)
{
  g_autofree char *name = fw_files_name (self);

  self->gone_clean = !fw_keeper_unsaved (self->keeper);
  if (self->gone_clean)
    fw_keeper_forget (self->keeper, TRUE);
  fw_window_update (self);
  /* Translators: %s is a file name */
  say (self, _("%s was removed or moved by another program. The design is still here: save it to write it again."),
       name);
}

/* A file that went and came back leaves a design without changes as clean as it was. */
static void
window_back (FwWindow *self)
{
  if (!self->gone_clean)
    return;
  self->gone_clean = FALSE;
  if (fw_document_is_modified (fw_session_document (self->session)))
    return;
  fw_keeper_forget (self->keeper, FALSE);
  fw_message_bar_hide (self->messages);
  fw_window_update (self);
}

void
fw_disk_offer_look (FwWindow *self, gboolean closely)
{
  if (fw_session_document (self->session) == NULL || fw_session_path (self->session) == NULL)
    return;
  if (fw_session_dragging (self->session))
    {
      fw_disk_watch_soon (self->watch);
      return;
    }
  FwDiskState state = fw_disk_watch_look (self->watch, closely);
  if (state != FW_DISK_GONE)
    window_back (self);
  if (state == FW_DISK_SAME || !fw_disk_watch_is_news (self->watch))
    return;
  if (state == FW_DISK_GONE)
    window_gone (self);
  else
    window_changed (self);
}

gboolean
fw_disk_offer_must_ask (FwWindow *self)
{
  return fw_disk_watch_look (self->watch, TRUE) == FW_DISK_CHANGED;
}

void
fw_disk_offer_known (FwWindow *self, const char *path, const char *text, gsize length)
{
  self->gone_clean = FALSE;
  fw_disk_watch_set (self->watch, path, text, length);
}
