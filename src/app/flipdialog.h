/* Dialogs that write one turn, or the log, to a file: flip-book, animation, build log. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

void fw_flip_dialog_show (FwWindow *window);
void fw_animation_dialog_show (FwWindow *window);
/* `parent`: the window it stands before. */
void fw_log_export_show (FwWindow *window, GtkWindow *parent);

G_END_DECLS
