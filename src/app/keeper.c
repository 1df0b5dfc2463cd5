#include "app/keeper.h"

#include <unistd.h>

#include "doc/autosave.h"

#define AFTER_LAST_EDIT_S 3
#define AT_MOST_S 20 /* also during a long row of edits */

struct FwKeeper
{
  FwSession *session; /* borrowed */
  gulong handler;
  char *name;         /* of the kept copy */
  gboolean unsaved;   /* without an edit: new, or recovered */
  gboolean kept;      /* a copy exists */
  guint64 kept_serial;
  guint soon, late;   /* timers */
};

static void
keeper_stop_timers (FwKeeper *self)
{
  g_clear_handle_id (&self->soon, g_source_remove);
  g_clear_handle_id (&self->late, g_source_remove);
}

gboolean
fw_keeper_unsaved (FwKeeper *self)
{
  FwDocument *doc = fw_session_document (self->session);
  return doc != NULL && (self->unsaved || fw_document_is_modified (doc));
}

gboolean
fw_keeper_keep (FwKeeper *self)
{
  FwDocument *doc = fw_session_document (self->session);
  g_autoptr (GError) error = NULL;

  keeper_stop_timers (self);
  if (self->kept && !fw_keeper_unsaved (self)) /* undone to what was saved */
    {
      fw_autosave_drop (self->name);
      self->kept = FALSE;
    }
  if (!fw_keeper_unsaved (self) || (self->kept && self->kept_serial == fw_document_serial (doc)))
    return TRUE;
  if (!fw_autosave_keep (doc, self->name, fw_session_path (self->session), &error))
    {
      fw_session_say (self->session, "%s", error->message);
      return FALSE;
    }
  self->kept = TRUE;
  self->kept_serial = fw_document_serial (doc);
  return TRUE;
}

static gboolean
on_soon (gpointer data)
{
  ((FwKeeper *) data)->soon = 0;
  fw_keeper_keep (data);
  return G_SOURCE_REMOVE;
}

static gboolean
on_late (gpointer data)
{
  ((FwKeeper *) data)->late = 0;
  fw_keeper_keep (data);
  return G_SOURCE_REMOVE;
}

static void
on_design (FwKeeper *self)
{
  g_clear_handle_id (&self->soon, g_source_remove);
  self->soon = g_timeout_add_seconds (AFTER_LAST_EDIT_S, on_soon, self);
  if (self->late == 0)
    self->late = g_timeout_add_seconds (AT_MOST_S, on_late, self);
}

void
fw_keeper_forget (FwKeeper *self, gboolean unsaved)
{
  keeper_stop_timers (self);
  if (self->kept)
    fw_autosave_drop (self->name);
  self->kept = FALSE;
  self->unsaved = unsaved;
  if (unsaved)
    on_design (self);
}

FwKeeper *
fw_keeper_new (FwSession *session)
{
  FwKeeper *self = g_new0 (FwKeeper, 1);
  self->session = session;
  self->name = g_strdup_printf ("%d-%08x%08x", (int) getpid (), g_random_int (), g_random_int ());
  self->handler = g_signal_connect_swapped (session, "design-changed", G_CALLBACK (on_design), self);
  return self;
}

void
fw_keeper_free (FwKeeper *self)
{
  if (self == NULL)
    return;
  fw_keeper_forget (self, FALSE);
  g_signal_handler_disconnect (self->session, self->handler);
  g_free (self->name);
  g_free (self);
}
