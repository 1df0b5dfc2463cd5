/* Light or dark, plain or high contrast: as chosen, or as the desktop says (org.freedesktop.appearance: color-scheme,
 * contrast; or a theme of high contrast). */
#pragma once

#include <gtk/gtk.h>

#include "app/settings.h"
#include "draw/style.h"

G_BEGIN_DECLS

typedef struct FwAppearanceWatch FwAppearanceWatch;

/* `changed` is called when the answer of fw_appearance_theme (), or the size of the desktop's words, may have changed. */
FwAppearanceWatch *fw_appearance_watch_new (GSourceFunc changed, gpointer data);
void fw_appearance_watch_free (FwAppearanceWatch *self);

/* Asks the desktop, which answers later. Nothing waits for it, and a missing desktop is no fault. */
void fw_appearance_watch_start (FwAppearanceWatch *self);

/* `contrast`: high contrast was chosen; without, the desktop decides. Never FW_THEME_PRINT. */
FwTheme fw_appearance_theme (FwAppearanceWatch *self, FwAppearance chosen, gboolean contrast);

/* Gives all windows that look. */
void fw_appearance_apply (FwAppearanceWatch *self, FwTheme theme);

G_END_DECLS
