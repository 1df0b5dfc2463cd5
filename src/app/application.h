/* The program: its windows, its settings, what the command line asks for. */
#pragma once

#include <gtk/gtk.h>

#include "app/settings.h"

G_BEGIN_DECLS

#define FW_APP_ID "org.flapwright.Flapwright"
#define FW_RESOURCES "/org/flapwright/Flapwright"

#define FW_TYPE_APPLICATION (fw_application_get_type ())
G_DECLARE_FINAL_TYPE (FwApplication, fw_application, FW, APPLICATION, GtkApplication)

FwApplication *fw_application_new (void);

FwSettings *fw_application_settings (FwApplication *self);

/* A new window, not shown yet, laid out for the design at `path` (NULL: none). */
struct _FwWindow *fw_application_add_window (FwApplication *self, const char *path);
/* A new window with the demo that everyone sees first, shown. */
struct _FwWindow *fw_application_show_first (FwApplication *self);

/* TRUE from the moment the program was asked to quit, unless a window stays (fw_application_stay ()). */
gboolean fw_application_quitting (FwApplication *self);
void fw_application_stay (FwApplication *self);

/* Asks the desktop whether it is light or dark; after the first frame is early enough. */
void fw_application_watch_desktop (FwApplication *self);

/* The folder of the demos: where the program is installed, or in its source tree; "" if there is none. */
char *fw_application_demo_folder (void);

G_END_DECLS
