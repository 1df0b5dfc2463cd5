/* One window: a session, the views of it, and the controls around them. */
#pragma once

#include <gtk/gtk.h>

#include "app/application.h"
#include "app/firststeps.h"
#include "app/keeper.h"
#include "app/messagebar.h"
#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_WINDOW (fw_window_get_type ())
G_DECLARE_FINAL_TYPE (FwWindow, fw_window, FW, WINDOW, GtkApplicationWindow)

/* `path`: the design it is about to show, as large and divided as that was left; NULL: none. */
FwWindow *fw_window_new (FwApplication *app, const char *path);

FwSession *fw_window_session (FwWindow *self);
FwKeeper *fw_window_keeper (FwWindow *self);
FwMessageBar *fw_window_messages (FwWindow *self);
FwSettings *fw_window_settings (FwWindow *self);

/* Title, and which actions can be had: after anything that bears on them. */
void fw_window_update (FwWindow *self);

/* The session has a new document: stops playing, fits the views. */
void fw_window_document_taken (FwWindow *self);

/* Above the views: three things to try. */
void fw_window_show_steps (FwWindow *self);
void fw_window_step_done (FwWindow *self, FwStep step);

G_END_DECLS
