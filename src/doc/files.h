/* Whole files in and out, with one line of error. All that this program writes goes this way. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define FW_LARGEST_FILE (64u * 1024 * 1024) /* bytes: a thousand times any design; more is not read */

/* A file name as a message can show it: UTF-8, on one line. */
char *fw_file_display_name (const char *path);

/* The bytes of a file, with a 0 behind; also of a pipe. NULL and FW_DOC_ERROR_IO. */
char *fw_file_read (const char *path, gsize *length, GError **error);

/* Where a path leads when links are followed, also when nothing is there yet; g_free. NULL, and errno: in a circle. */
char *fw_file_follow (const char *path);

/* What stands at the path may be replaced so, or nothing does: no folder, pipe or device, no link
 * that leads to one, no file that is locked against writing. The same line of error. */
gboolean fw_file_may_replace (const char *path, GError **error);

/* Puts new content in the place of a file: written beside it, synced, renamed, the folder synced. A
 * link is followed and stays a link; the file's permissions stay, and its owner where that may be
 * given; another name of the same file (a hard link) keeps the old content. Whatever fails, the old
 * file is whole and nothing is left beside it. Only regular files are replaced. */
gboolean fw_file_replace (const char *path, const char *text, gsize length, GError **error);

/* The first half of that: written beside what the path leads to and synced. Its name, for g_free (). NULL: the same
 * line of error, and nothing is left. */
char *fw_file_write_beside (const char *path, const char *text, gsize length, GError **error);

/* The second: takes the place of the target, where links end. FALSE: the line of error, and the new file is gone. */
gboolean fw_file_take_place (const char *temporary, const char *target, GError **error);

/* Makes what was renamed in the target's folder last. */
void fw_file_sync_folder (const char *target);

G_END_DECLS
