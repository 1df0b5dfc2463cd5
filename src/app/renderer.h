/* What GTK draws the windows with. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Before GTK opens the display and before there is a second thread: asks it for cairo and to leave OpenGL alone,
 * unless the environment names another renderer. */
void fw_renderer_choose (void);

/* After the first frame: takes back what was set in the environment, which is not meant for programs
 * that this one starts. */
void fw_renderer_chosen (void);

G_END_DECLS
