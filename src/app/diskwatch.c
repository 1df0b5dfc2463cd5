#include "app/diskwatch.h"

#include <stdlib.h>
#include <sys/stat.h>

#include "doc/files.h"

#define SOON_MS 400 /* programs that save by removing and renaming are done by then */

/* What tells one state of a file from another without reading it. */
typedef struct
{
  gboolean exists;
  dev_t device;
  ino_t inode;
  goffset size;
  struct timespec written, touched;
} Stamp;

struct FwDiskWatch
{
  FwDiskChanged changed;
  gpointer data;
  char *path;        /* NULL: none is watched */
  char *known;       /* sum of the content; NULL: not known */
  char *found, *told; /* sums found last, and told of: "" where nothing can be read, NULL where nothing is */
  gboolean told_any;
  Stamp stamp;       /* of the file when its content was the known one; else exists is FALSE */
  GFileMonitor *monitor;
  guint soon;
};

static char *
sum_of (const char *text, gsize length)
{
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) text, length);
}

static Stamp
stamp_of (const char *path, gboolean *regular)
{
  struct stat info;
  *regular = FALSE;
  if (stat (path, &info) != 0)
    return (Stamp) { 0 };
  *regular = S_ISREG (info.st_mode);
  return (Stamp) { TRUE, info.st_dev, info.st_ino, info.st_size, info.st_mtim, info.st_ctim };
}

static gboolean
time_equal (struct timespec a, struct timespec b)
{
  return a.tv_sec == b.tv_sec && a.tv_nsec == b.tv_nsec;
}

static gboolean
stamp_equal (const Stamp *a, const Stamp *b)
{
  return a->exists && b->exists && a->device == b->device && a->inode == b->inode && a->size == b->size
         && time_equal (a->written, b->written) && time_equal (a->touched, b->touched);
}

/* ---- Looking ---- */

FwDiskState
fw_disk_watch_look (FwDiskWatch *self, gboolean closely)
{
  gboolean regular;
  gsize length;

  if (self->path == NULL)
    return FW_DISK_SAME;
  const Stamp now = stamp_of (self->path, &regular);
  if (!closely && self->known != NULL && stamp_equal (&now, &self->stamp))
    return FW_DISK_SAME;
  g_clear_pointer (&self->found, g_free);
  if (!now.exists)
    return FW_DISK_GONE;
  /* A pipe would be waited for. */
  g_autofree char *text = regular ? fw_file_read (self->path, &length, NULL) : NULL;
  self->found = text != NULL ? sum_of (text, length) : g_strdup ("");
  if (g_strcmp0 (self->found, self->known) != 0)
    return FW_DISK_CHANGED;
  self->stamp = now;
  self->told_any = FALSE;
  return FW_DISK_SAME;
}

gboolean
fw_disk_watch_is_news (FwDiskWatch *self)
{
  if (self->told_any && g_strcmp0 (self->told, self->found) == 0)
    return FALSE;
  g_free (self->told);
  self->told = g_strdup (self->found);
  self->told_any = TRUE;
  return TRUE;
}

void
fw_disk_watch_accept (FwDiskWatch *self)
{
  g_free (self->known);
  self->known = g_strdup (self->found);
  self->stamp = (Stamp) { 0 };
}

/* ---- Being told ---- */

static gboolean
on_soon (gpointer data)
{
  FwDiskWatch *self = data;
  self->soon = 0;
  self->changed (self->data);
  return G_SOURCE_REMOVE;
}

void
fw_disk_watch_soon (FwDiskWatch *self)
{
  g_clear_handle_id (&self->soon, g_source_remove);
  self->soon = g_timeout_add (SOON_MS, on_soon, self);
}

static void
watch_stop (FwDiskWatch *self)
{
  g_clear_handle_id (&self->soon, g_source_remove);
  if (self->monitor != NULL)
    g_signal_handlers_disconnect_by_data (self->monitor, self);
  g_clear_object (&self->monitor);
}

/* Where no more files can be watched, the look before saving and that of a window coming to the front remain. */
static void
watch_start (FwDiskWatch *self)
{
  char *real = realpath (self->path, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (real != NULL ? real : self->path);

  free (real);
  self->monitor = g_file_monitor_file (file, G_FILE_MONITOR_NONE, NULL, NULL);
  if (self->monitor != NULL)
    g_signal_connect_swapped (self->monitor, "changed", G_CALLBACK (fw_disk_watch_soon), self);
}

void
fw_disk_watch_set (FwDiskWatch *self, const char *path, const char *text, gsize length)
{
  g_autofree char *copy = g_strdup (path);

  watch_stop (self);
  g_clear_pointer (&self->known, g_free);
  g_clear_pointer (&self->found, g_free);
  g_free (self->path);
  self->path = g_steal_pointer (&copy);
  self->told_any = FALSE;
  self->stamp = (Stamp) { 0 };
  if (self->path == NULL)
    return;
  if (text != NULL)
    self->known = sum_of (text, length);
  watch_start (self);
  if (fw_disk_watch_look (self, TRUE) != FW_DISK_SAME) /* another program may have written since it was read */
    fw_disk_watch_soon (self);
}

FwDiskWatch *
fw_disk_watch_new (FwDiskChanged changed, gpointer data)
{
  FwDiskWatch *self = g_new0 (FwDiskWatch, 1);
  self->changed = changed;
  self->data = data;
  return self;
}

void
fw_disk_watch_free (FwDiskWatch *self)
{
  if (self == NULL)
    return;
  watch_stop (self);
  g_free (self->path);
  g_free (self->known);
  g_free (self->found);
  g_free (self->told);
  g_free (self);
}

gboolean
fw_disk_same_file (const char *a, const char *b)
{
  struct stat first, second;
  if (stat (a, &first) == 0 && stat (b, &second) == 0)
    return first.st_dev == second.st_dev && first.st_ino == second.st_ino;
  g_autofree char *one = g_canonicalize_filename (a, NULL), *other = g_canonicalize_filename (b, NULL);
  return g_str_equal (one, other);
}
