/* How pictures in windows are drawn: light or dark, plain or with high contrast, and with words as large as
 * the desktop's. A part of FwSession, which says "display-changed" when it changes. */
#pragma once

#include "app/session.h"

G_BEGIN_DECLS

/* Never FW_THEME_PRINT. */
FwTheme fw_session_theme (FwSession *self);

/* Words as the desktop wants them: 1 as designed, 2 twice as large. */
double fw_session_text (FwSession *self);
void fw_session_set_look (FwSession *self, FwTheme theme, double text);

/* For a picture `size` times as large as on the screen: theme, size of words and unit of length. */
FwStyle fw_session_style (FwSession *self, double size);

/* What the desktop asks for, from GTK's own setting of dots an inch. Within 0.75 and 3. */
double fw_desktop_text (void);

G_END_DECLS
