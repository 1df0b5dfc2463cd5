/* Does, in one way, what no design may make the program do: start another program, or open a socket. Run with callwatch.c
 * loaded before it, it must be reported; if it is not, the silence about the program says nothing. */
#define _GNU_SOURCE
#include <gio/gio.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#define PROGRAM "/bin/true"

extern char **environ;

static char *const line[] = { (char *)PROGRAM, NULL };

/* In a child, for the call does not come back. */
static int
exec_by (const char *way)
{
  pid_t child = fork ();
  if (child == 0)
    {
      if (strcmp (way, "execve") == 0)
        execve (PROGRAM, line, environ);
      else if (strcmp (way, "execv") == 0)
        execv (PROGRAM, line);
      else if (strcmp (way, "execvp") == 0)
        execvp (PROGRAM, line);
      else if (strcmp (way, "execvpe") == 0)
        execvpe (PROGRAM, line, environ);
      else if (strcmp (way, "execl") == 0)
        execl (PROGRAM, PROGRAM, (char *)NULL);
      else if (strcmp (way, "execlp") == 0)
        execlp (PROGRAM, PROGRAM, (char *)NULL);
      _exit (3);
    }
  int status = 3;
  waitpid (child, &status, 0);
  return status;
}

static int
spawn_by (const char *way)
{
  pid_t child;
  int status = 3;
  int failed = strcmp (way, "posix_spawn") == 0 ? posix_spawn (&child, PROGRAM, NULL, NULL, line, environ)
                                                : posix_spawnp (&child, PROGRAM, NULL, NULL, line, environ);
  if (failed == 0)
    waitpid (child, &status, 0);
  return status;
}

static int
glib_socket (void)
{
  GSocket *one = g_socket_new (G_SOCKET_FAMILY_IPV4, G_SOCKET_TYPE_STREAM, G_SOCKET_PROTOCOL_TCP, NULL);
  int status = one != NULL ? 0 : 3;
  g_clear_object (&one);
  return status;
}

int
main (int argc, char **argv)
{
  const char *way = argc > 1 ? argv[1] : "nothing";

  if (strncmp (way, "exec", 4) == 0)
    return exec_by (way) != 0;
  if (strncmp (way, "posix_spawn", 11) == 0)
    return spawn_by (way) != 0;
  if (strcmp (way, "system") == 0)
    return system (PROGRAM) != 0;
  if (strcmp (way, "popen") == 0)
    return pclose (popen (PROGRAM, "r")) != 0;
  if (strcmp (way, "g_spawn") == 0)
    return !g_spawn_command_line_sync (PROGRAM, NULL, NULL, NULL, NULL);
  if (strcmp (way, "socket") == 0)
    return close (socket (AF_INET, SOCK_STREAM, 0)) != 0;
  if (strcmp (way, "g_socket") == 0)
    return glib_socket ();
  return strcmp (way, "nothing") != 0;
}
