/* What the program remembers between runs, by the schemas of data/org.flapwright.Flapwright.gschema.xml:
 *   choices  what the user chose: flapwright/settings.keyfile in the configuration folder (XDG_CONFIG_HOME)
 *   state    how things were left: flapwright/state.keyfile in the state folder (XDG_STATE_HOME)
 * Both are key files of GSettings, so that no service is needed. A value that is not what its key expects counts as
 * not set; a file that cannot be used never stops the program. */
#pragma once

#include <gio/gio.h>

#include "app/session.h"

G_BEGIN_DECLS

typedef enum { FW_APPEARANCE_FOLLOW, FW_APPEARANCE_LIGHT, FW_APPEARANCE_DARK, FW_N_APPEARANCES } FwAppearance;

/* What can be shown over the sculpture. */
typedef struct
{
  guint bit;         /* of FwShow */
  const char *key;   /* in the setting "show", and "show-KEY" the action */
  const char *label; /* untranslated */
} FwOverlay;
#define FW_N_OVERLAYS 14
extern const FwOverlay fw_overlays[FW_N_OVERLAYS];

/* "mm", "inch". */
const char *fw_lengths_word (FwLengths lengths);
FwLengths fw_lengths_from_word (const char *word);

typedef struct
{
  GSettings *choices;
  GSettings *state; /* written soon after a change, in one go: see fw_settings_keep_soon () */
  char *problem;    /* one line about what could not be read or cannot be kept; NULL: none */

  guint keep_source; /* pending */
} FwSettings;

/* NULL with an error if the schemas are not there, which is a broken installation and nothing else. */
FwSettings *fw_settings_load (GError **error);
/* Writes what is pending. */
void fw_settings_free (FwSettings *self);

/* After a change of `state`. */
void fw_settings_keep_soon (FwSettings *self);
void fw_settings_keep_now (FwSettings *self);

FwAppearance fw_settings_appearance (FwSettings *self);
FwLengths fw_settings_lengths (FwSettings *self);
guint fw_settings_show (FwSettings *self); /* FwShow bits */
void fw_settings_set_show (FwSettings *self, guint show);

/* Lists of paths in `state`: "recent" (newest first), "open". Free with g_strfreev. */
char **fw_settings_paths (FwSettings *self, const char *key);
void fw_settings_set_paths (FwSettings *self, const char *key, const char *const *paths);

/* Puts a path on top of the recent list, or takes it off. */
void fw_settings_add_recent (FwSettings *self, const char *path);
void fw_settings_drop_recent (FwSettings *self, const char *path);

G_END_DECLS
