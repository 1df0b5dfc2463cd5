/* The file of an open design, as it stands on disk: is it still what was read from it or saved to it? */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct FwDiskWatch FwDiskWatch;

typedef enum
{
  FW_DISK_SAME,    /* as it was read or saved; also: no file is watched */
  FW_DISK_CHANGED, /* other content, or nothing that can be read */
  FW_DISK_GONE,    /* nothing is at the path */
} FwDiskState;

/* `changed` is called some time after anything has happened to the file, own saving included. */
typedef void (*FwDiskChanged) (gpointer data);
FwDiskWatch *fw_disk_watch_new (FwDiskChanged changed, gpointer data);
void fw_disk_watch_free (FwDiskWatch *self);

/* From now on this file, and this content of it is known. `path` NULL: none. `text` NULL: what is there
 * is not known, so that anything there counts as changed. */
void fw_disk_watch_set (FwDiskWatch *self, const char *path, const char *text, gsize length);

/* Looks now. Content is read if size, time or the file itself is another one, or `closely`: two changes
 * within one tick of the clock look alike. */
FwDiskState fw_disk_watch_look (FwDiskWatch *self, gboolean closely);
/* TRUE once for each new state of the file that fw_disk_watch_look () found. */
gboolean fw_disk_watch_is_news (FwDiskWatch *self);
/* What was found last is known from now on. */
void fw_disk_watch_accept (FwDiskWatch *self);
/* Calls `changed` soon. */
void fw_disk_watch_soon (FwDiskWatch *self);

/* Both paths lead to one file, however they are spelled; also where nothing is there. */
gboolean fw_disk_same_file (const char *a, const char *b);

G_END_DECLS
