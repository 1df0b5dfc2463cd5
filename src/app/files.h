/* Designs in and out of a window: open, save, recent, the question before unsaved work is left. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Something to do once no work would be lost by it. */
typedef void (*FwThen) (FwWindow *window, gpointer data);

/* Does `then` at once if all is saved; else asks: Save (then goes on), Discard (goes on), Cancel.
 * `data` is freed with `release` (may be NULL) whatever comes of it. */
void fw_files_when_safe (FwWindow *window, FwThen then, gpointer data, GDestroyNotify release);

/* Opens without asking. FALSE with a message in the window: what was open stays. */
gboolean fw_files_load (FwWindow *window, const char *path);
/* The same for what comes from outside; says so if it is not a local file. */
gboolean fw_files_open_file (FwWindow *window, GFile *file);
/* A window that has the file open already, by whatever spelling of its path, comes to the front; FALSE:
 * none but `other_than` (NULL: none at all) has. */
gboolean fw_files_present (GtkApplication *app, const char *path, FwWindow *other_than);
/* A demo is opened as a design that was never saved. */
gboolean fw_files_open_demo (FwWindow *window, const char *path);
/* Takes a new design over; it counts as unsaved. */
gboolean fw_files_open_text (FwWindow *window, const char *text);

/* These ask first where work would be lost. */
void fw_files_ask_open (FwWindow *window);
void fw_files_ask_open_path (FwWindow *window, const char *path);
void fw_files_drop_target (FwWindow *window); /* a file dragged onto the window is opened */

/* `then` (NULL: nothing) follows only if it was saved. Without a path, or `as`, asks for one. */
void fw_files_save (FwWindow *window, gboolean as, FwThen then, gpointer data, GDestroyNotify release);

/* "heron.flap", or the design's title, or "Untitled"; free with g_free. */
char *fw_files_name (FwWindow *window);

/* A file's name for what is made of the design: "heron strip.png" of "strip" and ".png"; without what no file system
 * likes. `words` are translated. Free with g_free. */
char *fw_files_name_with (FwWindow *window, const char *words, const char *ending);

G_END_DECLS
