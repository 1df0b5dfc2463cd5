/* What the program remembers between runs: a key file in the user's configuration folder.
 * Unknown or broken entries are passed over; writing is put off and done in one go. */
#pragma once

#include "app/session.h"

G_BEGIN_DECLS

typedef enum { FW_APPEARANCE_FOLLOW, FW_APPEARANCE_LIGHT, FW_APPEARANCE_DARK, FW_N_APPEARANCES } FwAppearance;

/* "follow", "light", "dark"; a word that is none of them means follow. */
const char *fw_appearance_word (FwAppearance appearance);
FwAppearance fw_appearance_from_word (const char *word);

/* "mm", "inch". */
const char *fw_lengths_word (FwLengths lengths);
FwLengths fw_lengths_from_word (const char *word);

/* What can be shown over the sculpture. */
typedef struct
{
  guint bit;         /* of FwShow */
  const char *key;   /* in the key file, and "show-KEY" the action */
  const char *label; /* untranslated */
} FwOverlay;
#define FW_N_OVERLAYS 14
extern const FwOverlay fw_overlays[FW_N_OVERLAYS];

#define FW_MOST_RECENT 10

typedef struct
{
  FwLengths lengths;
  FwAppearance appearance;
  guint show; /* FwShow bits */
  int width, height;
  gboolean maximized;
  gboolean margin;           /* the inspector and the trouble list are in sight */
  gboolean first_steps_done;
  GPtrArray *recent;         /* paths, newest first */

  guint save_source; /* pending */
} FwSettings;

FwSettings *fw_settings_load (void);
/* Writes what is pending. */
void fw_settings_free (FwSettings *self);
void fw_settings_save_soon (FwSettings *self);

/* Puts a path on top of the recent list, or takes it off. */
void fw_settings_add_recent (FwSettings *self, const char *path);
void fw_settings_drop_recent (FwSettings *self, const char *path);

G_END_DECLS
