/* Which files of a folder this program wrote. A hidden list there holds the name and the SHA-256 sum
 * of each, so that an export replaces its own files and nothing that somebody put there or changed. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Name below the folder -> sum; folders end in / and have none. Empty where there is no list. */
GHashTable *fw_own_files_read (const char *folder, const char *list);

/* Adds a file that is about to be written. */
void fw_own_files_add (GHashTable *own, const char *name, const char *bytes, gsize length);

/* Nothing would be lost: no file of this name is there, or it is as the list has it, or it holds these
 * bytes already (which may be NULL). */
gboolean fw_own_files_may_go (GHashTable *own, const char *folder, const char *name, const char *bytes,
                              gsize length);

/* The first file or folder below `folder`, in the order of their names, that the list does not have as it
 * is: its name below the folder, for g_free (). NULL: none. The list itself does not count. */
char *fw_own_files_foreign (GHashTable *own, const char *folder, const char *list);

/* Adds all that is below the folder now. */
gboolean fw_own_files_add_all (GHashTable *own, const char *folder, GError **error);

/* The list as it is written, sorted by name; for g_free (). */
char *fw_own_files_text (GHashTable *own);

G_END_DECLS
