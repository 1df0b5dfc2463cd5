/* Light or dark: as chosen, or as the desktop says (org.freedesktop.appearance, color-scheme). */
#pragma once

#include "app/settings.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct FwAppearanceWatch FwAppearanceWatch;

/* `changed` is called when the answer of fw_appearance_dark () may have changed. */
FwAppearanceWatch *fw_appearance_watch_new (GSourceFunc changed, gpointer data);
void fw_appearance_watch_free (FwAppearanceWatch *self);

/* Asks the desktop; at once it is not known yet and counts as light, unless GTK was told otherwise. */
void fw_appearance_watch_start (FwAppearanceWatch *self);

gboolean fw_appearance_dark (FwAppearanceWatch *self, FwAppearance chosen);

/* Makes all windows light or dark. */
void fw_appearance_apply (FwAppearanceWatch *self, gboolean dark);

G_END_DECLS
