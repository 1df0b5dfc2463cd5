/* A folder of files put in its place as a whole or not at all. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  char *target; /* where it will stand */
  char *work;   /* where it is being filled, beside the target */
  char *old;    /* where the folder that it took the place of waits; NULL: there was none */
} FwLogFolder;

/* Makes an empty folder beside `target`. FALSE, and nothing made, where that cannot be, or where
 * something stands at `target` that is neither empty nor a folder which this program made, or where that
 * folder holds a file that somebody put there or changed. */
gboolean fw_log_folder_open (FwLogFolder *folder, const char *target, GError **error);

/* Makes a folder inside the one that is being filled. */
gboolean fw_log_folder_make (const FwLogFolder *folder, const char *inside, GError **error);

/* Renames it to its place; what was there waits in `old`. FALSE: all is as before. */
gboolean fw_log_folder_place (FwLogFolder *folder, GError **error);
/* Puts back what was there before fw_log_folder_place (). */
void fw_log_folder_undo (FwLogFolder *folder);

/* Removes what is left over of either, and frees. */
void fw_log_folder_close (FwLogFolder *folder);

G_END_DECLS
