#include "doc/files.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <glib/gi18n.h>
#include <glib/gstdio.h>

#include "doc/document.h"

#define MOST_LINKS 40                   /* from link to link, as the kernel allows */

char *
fw_file_display_name (const char *path)
{
  char *shown = g_filename_display_name (path);

  for (char *c = shown; *c; c++)
    if ((unsigned char)*c < 0x20 || *c == 0x7F)
      *c = '?';
  return shown;
}

/* ---- Reading ---- */

static char *
fail_read (const char *path, const char *why, GError **error)
{
  char *shown = fw_file_display_name (path);
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("%s: the file cannot be read: %s"), shown,
               why);
  g_free (shown);
  return NULL;
}

char *
fw_file_read (const char *path, gsize *length, GError **error)
{
  char chunk[16384];
  ssize_t got;
  int fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  if (fd < 0)
    return fail_read (path, g_strerror (errno), error);

  GString *text = g_string_new (NULL);
  do
    {
      got = read (fd, chunk, sizeof chunk);
      if (got > 0)
        g_string_append_len (text, chunk, got);
    }
  while ((got > 0 && text->len <= FW_LARGEST_FILE) || (got < 0 && errno == EINTR));
  int problem = got < 0 ? errno : 0;
  close (fd);

  if (problem || text->len > FW_LARGEST_FILE)
    {
      g_string_free (text, TRUE);
      return fail_read (path, problem ? g_strerror (problem) : _("it is larger than 64 MB"),
                        error);
    }
  *length = text->len;
  return g_string_free (text, FALSE);
}

/* ---- Writing ---- */

static gboolean
fail_write (const char *path, const char *why, GError **error)
{
  char *shown = fw_file_display_name (path);
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _("%s: the file cannot be written: %s"),
               shown, why);
  g_free (shown);
  return FALSE;
}

char *
fw_file_follow (const char *path)
{
  char *at = g_strdup (path);

  for (int i = 0; i < MOST_LINKS; i++)
    {
      char *target = g_file_read_link (at, NULL);
      if (!target)
        return at;
      if (!g_path_is_absolute (target))
        {
          char *folder = g_path_get_dirname (at);
          char *joined = g_build_filename (folder, target, NULL);
          g_free (folder);
          g_free (target);
          target = joined;
        }
      g_free (at);
      at = target;
    }
  g_free (at);
  errno = ELOOP;
  return NULL;
}

static gboolean
write_all (int fd, const char *text, gsize length)
{
  while (length > 0)
    {
      ssize_t put = write (fd, text, length);
      if (put < 0 && errno == EINTR)
        continue;
      if (put == 0)
        errno = ENOSPC; /* no error and no progress: it would not end */
      if (put <= 0)
        return FALSE;
      text += put;
      length -= (gsize)put;
    }
  return TRUE;
}

/* Makes the rename itself last. Some file systems cannot sync a folder; that is no failure. */
static void
sync_folder (const char *folder)
{
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  if (fd < 0)
    return;
  fsync (fd);
  close (fd);
}

/* Owner, group and permissions of `old`, as far as they may be given: nobody but root can give a file
 * away. Where the group cannot be kept, another one gets no more than everybody has. */
static gboolean
keep_access (int fd, const struct stat *old)
{
  struct stat now;
  mode_t mode = old->st_mode & 07777;

  if (fstat (fd, &now) != 0)
    return FALSE;
  if (now.st_uid != old->st_uid && fchown (fd, old->st_uid, (gid_t)-1) != 0)
    mode &= ~(mode_t)S_ISUID;
  if (now.st_gid != old->st_gid && fchown (fd, (uid_t)-1, old->st_gid) != 0)
    mode = (mode & ~(mode_t)(S_ISGID | S_IRWXG)) | ((mode & S_IRWXO) << 3);
  if (fchmod (fd, mode) == 0)
    return TRUE;
  return errno == EPERM || errno == ENOTSUP || errno == ENOSYS; /* a file system without them */
}

/* Writes and syncs a new file in `folder`, with owner and permissions of `old`, or those that a new file gets here if
 * that is NULL: its name, for g_free (). NULL and errno on failure. */
static char *
write_beside (const char *folder, const struct stat *old, const char *text, gsize length)
{
  char *temporary = g_build_filename (folder, ".flapwright-XXXXXX", NULL);
  int fd = g_mkstemp_full (temporary, O_WRONLY | O_CLOEXEC, old ? 0600 : 0666);
  if (fd < 0)
    {
      g_free (temporary);
      return NULL;
    }
  gboolean good = write_all (fd, text, length) && (!old || keep_access (fd, old))
                  && fsync (fd) == 0;
  int problem = errno;
  if (close (fd) != 0 && good)
    {
      good = FALSE;
      problem = errno;
    }
  if (good)
    return temporary;
  g_unlink (temporary);
  g_free (temporary);
  errno = problem;
  return NULL;
}

/* Why what is at the end of the links cannot be replaced; NULL: it can, or nothing is there. */
static const char *
in_the_way (const char *target, struct stat *old, gboolean *exists)
{
  *exists = stat (target, old) == 0;
  if (!*exists)
    return NULL;
  if (S_ISDIR (old->st_mode))
    return g_strerror (EISDIR);
  if (!S_ISREG (old->st_mode))
    return _("it is not a regular file");
  return access (target, W_OK) == 0 ? NULL : g_strerror (errno);
}

gboolean
fw_file_may_replace (const char *path, GError **error)
{
  struct stat old;
  gboolean exists;
  char *target = fw_file_follow (path);
  const char *why = target ? in_the_way (target, &old, &exists) : g_strerror (errno);
  g_free (target);
  return why ? fail_write (path, why, error) : TRUE;
}

char *
fw_file_write_beside (const char *path, const char *text, gsize length, GError **error)
{
  struct stat old;
  gboolean exists;
  char *target = fw_file_follow (path), *temporary = NULL;
  if (!target)
    {
      fail_write (path, g_strerror (errno), error);
      return NULL;
    }
  const char *why = in_the_way (target, &old, &exists);
  char *folder = g_path_get_dirname (target);
  if (!why && !(temporary = write_beside (folder, exists ? &old : NULL, text, length)))
    why = g_strerror (errno);
  g_free (folder);
  g_free (target);
  if (why)
    fail_write (path, why, error);
  return temporary;
}

gboolean
fw_file_take_place (const char *temporary, const char *target, GError **error)
{
  if (g_rename (temporary, target) == 0)
    return TRUE;
  int problem = errno;
  g_unlink (temporary);
  return fail_write (target, g_strerror (problem), error);
}

void
fw_file_sync_folder (const char *target)
{
  char *folder = g_path_get_dirname (target);
  sync_folder (folder);
  g_free (folder);
}

gboolean
fw_file_replace (const char *path, const char *text, gsize length, GError **error)
{
  char *temporary = fw_file_write_beside (path, text, length, error);
  char *target = temporary ? fw_file_follow (path) : NULL;
  gboolean good = target && fw_file_take_place (temporary, target, error);
  if (good)
    fw_file_sync_folder (target);
  g_free (temporary);
  g_free (target);
  return good;
}
