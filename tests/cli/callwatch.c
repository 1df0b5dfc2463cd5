/* Loaded before a program (LD_PRELOAD): writes down which files, sockets and programs it asks for, and makes one call fail.
 *
 *   FW_CALLS_LOG    file that a line is added to for every call: "open r PATH", "open w PATH", "rename FROM TO" ...
 *   FW_CALLS_UNDER  only calls on files below this folder are counted, and fail
 *   FW_CALLS_FAIL   KIND:N:ERRNO: the N-th call (from 0) of the kind open, write, part, fsync, close, rename or mkdir fails;
 *                   part writes half, and every later write fails. malloc:N:0: the N-th allocation gives nothing.
 *
 * What the C library calls inside itself is not seen: the functions that a program uses are all here. */
#define _GNU_SOURCE
#undef _FILE_OFFSET_BITS /* the plain names and those for large files are told apart here */
#undef _FORTIFY_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <spawn.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#define REAL(name) ((__typeof__ (&name))dlsym (RTLD_NEXT, #name))

void *__libc_malloc (size_t size);
void *__libc_calloc (size_t n, size_t size);
void *__libc_realloc (void *old, size_t size);

static char fail_kind[16];
static long fail_at, fail_errno, seen, n_allocated;
static int fails_malloc, full;
static char under[PATH_MAX], log_path[PATH_MAX];

__attribute__ ((constructor)) static void
begin (void)
{
  const char *fail = getenv ("FW_CALLS_FAIL"), *folder = getenv ("FW_CALLS_UNDER"), *log = getenv ("FW_CALLS_LOG");

  if (folder)
    snprintf (under, sizeof under, "%s", folder);
  if (log)
    snprintf (log_path, sizeof log_path, "%s", log);
  if (fail && sscanf (fail, "%15[a-z]:%ld:%ld", fail_kind, &fail_at, &fail_errno) == 3)
    fails_malloc = strcmp (fail_kind, "malloc") == 0;
}

/* Opened for each line: who starts a program closes all files before, or takes their numbers for others. */
static void
add_line (const char *line, size_t n)
{
  long fd = *log_path ? syscall (SYS_openat, AT_FDCWD, log_path, O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600) : -1;
  if (fd < 0)
    return;
  if (syscall (SYS_write, fd, line, n) < 0)
    abort ();
  syscall (SYS_close, fd);
}

__attribute__ ((format (printf, 1, 2))) static void
note (const char *format, ...)
{
  char line[2 * PATH_MAX + 64];
  int kept = errno;
  va_list args;

  va_start (args, format);
  int n = vsnprintf (line, sizeof line - 1, format, args);
  va_end (args);
  if (n > (int)sizeof line - 2)
    n = (int)sizeof line - 2;
  for (int i = 0; i < n; i++)
    if (line[i] == '\n')
      line[i] = '?';
  line[n] = '\n';
  add_line (line, (size_t)n + 1);
  errno = kept;
}

static int
is_under (const char *path)
{
  return *under && strncmp (path, under, strlen (under)) == 0;
}

static int
fails (const char *kind, const char *path)
{
  if (!is_under (path) || strcmp (kind, fail_kind) != 0 || seen++ != fail_at)
    return 0;
  note ("failed %s %s", kind, path);
  errno = (int)fail_errno;
  return 1;
}

static const char *
path_of (int fd, char path[PATH_MAX])
{
  char link[64];
  snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t n = readlink (link, path, PATH_MAX - 1);
  path[n > 0 ? n : 0] = '\0';
  return path;
}

/* ---- Files ---- */

static int
open_at (int at, const char *path, int flags, mode_t mode)
{
  int writes = (flags & O_ACCMODE) != O_RDONLY;
  char folder[PATH_MAX] = "", whole[2 * PATH_MAX];

  if (at != AT_FDCWD && path[0] != '/')
    path_of (at, folder);
  snprintf (whole, sizeof whole, "%s%s%s", folder, *folder ? "/" : "", path);
  note ("open %s %s", writes ? "w" : "r", whole);
  if (fails ("open", whole))
    return -1;
  return (int)syscall (SYS_openat, at, path, flags, mode);
}

int
open (const char *path, int flags, ...)
{
  va_list args;
  va_start (args, flags);
  mode_t mode = flags & (O_CREAT | O_TMPFILE) ? (mode_t)va_arg (args, int) : 0;
  va_end (args);
  return open_at (AT_FDCWD, path, flags, mode);
}

int
openat (int at, const char *path, int flags, ...)
{
  va_list args;
  va_start (args, flags);
  mode_t mode = flags & (O_CREAT | O_TMPFILE) ? (mode_t)va_arg (args, int) : 0;
  va_end (args);
  return open_at (at, path, flags, mode);
}

int open64 (const char *path, int flags, ...) __attribute__ ((alias ("open")));
int openat64 (int at, const char *path, int flags, ...) __attribute__ ((alias ("openat")));

int
creat (const char *path, mode_t mode)
{
  return open_at (AT_FDCWD, path, O_CREAT | O_WRONLY | O_TRUNC, mode);
}

FILE *
fopen (const char *path, const char *how)
{
  note ("open %s %s", how[0] == 'r' && !strchr (how, '+') ? "r" : "w", path);
  return REAL (fopen) (path, how);
}

FILE *
fopen64 (const char *path, const char *how)
{
  note ("open %s %s", how[0] == 'r' && !strchr (how, '+') ? "r" : "w", path);
  return REAL (fopen64) (path, how);
}

ssize_t
write (int fd, const void *bytes, size_t n)
{
  char path[PATH_MAX];

  path_of (fd, path);
  if ((full && is_under (path)) || fails ("write", path))
    {
      errno = (int)fail_errno;
      return -1;
    }
  if (fails ("part", path))
    {
      full = 1;
      n = (n + 1) / 2;
    }
  return syscall (SYS_write, fd, bytes, n);
}

int
fsync (int fd)
{
  char path[PATH_MAX];
  note ("fsync %s", path_of (fd, path));
  return fails ("fsync", path) ? -1 : (int)syscall (SYS_fsync, fd);
}

int
close (int fd)
{
  char path[PATH_MAX];
  path_of (fd, path);
  int result = (int)syscall (SYS_close, fd);
  return fails ("close", path) ? -1 : result;
}

int
rename (const char *from, const char *to)
{
  note ("rename %s %s", from, to);
  return fails ("rename", to) ? -1 : renameat (AT_FDCWD, from, AT_FDCWD, to);
}

int
mkdir (const char *path, mode_t mode)
{
  note ("mkdir %s", path);
  return fails ("mkdir", path) ? -1 : (int)syscall (SYS_mkdirat, AT_FDCWD, path, mode);
}

int
unlink (const char *path)
{
  note ("unlink %s", path);
  return (int)syscall (SYS_unlinkat, AT_FDCWD, path, 0);
}

int
symlink (const char *target, const char *path)
{
  note ("open w %s", path);
  return (int)syscall (SYS_symlinkat, target, AT_FDCWD, path);
}

/* ---- Programs and networks ---- */

int
execve (const char *path, char *const argv[], char *const envp[])
{
  note ("exec %s", path);
  return REAL (execve) (path, argv, envp);
}

int
execv (const char *path, char *const argv[])
{
  note ("exec %s", path);
  return REAL (execv) (path, argv);
}

int
execvp (const char *path, char *const argv[])
{
  note ("exec %s", path);
  return REAL (execvp) (path, argv);
}

int
execvpe (const char *path, char *const argv[], char *const envp[])
{
  note ("exec %s", path);
  return REAL (execvpe) (path, argv, envp);
}

#define MOST_WORDS 256

/* The words of execl () and execlp () as a list, with its NULL. */
static void
words_of (va_list args, const char *first, char *words[MOST_WORDS])
{
  int n = 0;
  for (const char *word = first; word && n < MOST_WORDS - 1; word = va_arg (args, const char *))
    words[n++] = (char *)word;
  words[n] = NULL;
}

int
execl (const char *path, const char *first, ...)
{
  char *words[MOST_WORDS];
  va_list args;
  va_start (args, first);
  words_of (args, first, words);
  va_end (args);
  return execv (path, words);
}

int
execlp (const char *path, const char *first, ...)
{
  char *words[MOST_WORDS];
  va_list args;
  va_start (args, first);
  words_of (args, first, words);
  va_end (args);
  return execvp (path, words);
}

int
posix_spawn (pid_t *pid, const char *path, const posix_spawn_file_actions_t *actions, const posix_spawnattr_t *attributes,
             char *const argv[], char *const envp[])
{
  note ("exec %s", path);
  return REAL (posix_spawn) (pid, path, actions, attributes, argv, envp);
}

int
posix_spawnp (pid_t *pid, const char *path, const posix_spawn_file_actions_t *actions, const posix_spawnattr_t *attributes,
              char *const argv[], char *const envp[])
{
  note ("exec %s", path);
  return REAL (posix_spawnp) (pid, path, actions, attributes, argv, envp);
}

int
system (const char *line)
{
  note ("exec %s", line);
  return REAL (system) (line);
}

FILE *
popen (const char *line, const char *how)
{
  note ("exec %s", line);
  return REAL (popen) (line, how);
}

int
socket (int family, int type, int protocol)
{
  note ("socket %s", family == AF_UNIX ? "unix" : family == AF_NETLINK ? "netlink" : "network");
  return REAL (socket) (family, type, protocol);
}

/* ---- Memory ---- */

static int
no_memory (void)
{
  return fails_malloc && __atomic_fetch_add (&n_allocated, 1, __ATOMIC_RELAXED) == fail_at;
}

void *
malloc (size_t size)
{
  return no_memory () ? NULL : __libc_malloc (size);
}

void *
calloc (size_t n, size_t size)
{
  return no_memory () ? NULL : __libc_calloc (n, size);
}

void *
realloc (void *old, size_t size)
{
  return no_memory () ? NULL : __libc_realloc (old, size);
}

__attribute__ ((destructor)) static void
end (void)
{
  if (fails_malloc || *log_path)
    note ("allocated %ld", n_allocated);
}
