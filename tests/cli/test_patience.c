/* Signals while work is long: the first is noted and ends the program when that is put away, the
 * second ends it at once. */
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "cli/patience.h"

enum
{
  DONE = 7, /* went on to the end */
  UNNOTED = 8,
  OUTLIVED = 9 /* a signal that should have ended it */
};

static const int kinds[] = { SIGINT, SIGTERM, SIGHUP };

/* How a child ends that does this: its signal, or its exit status negative. */
static int
ending (void (*child) (int, int), int first, int second)
{
  int status;
  pid_t pid = fork ();
  g_assert_cmpint (pid, >=, 0);
  if (pid == 0)
    {
      for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
        signal (kinds[i], SIG_DFL); /* whatever the tests themselves were started with: nohup ignores one */
      child (first, second);
      _exit (DONE);
    }
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  return WIFSIGNALED (status) ? WTERMSIG (status) : -WEXITSTATUS (status);
}

static void
gets_one (int first, int unused)
{
  fw_cli_begin_long ();
  if (fw_cli_stopped (NULL))
    _exit (UNNOTED);
  raise (first);
  if (!fw_cli_stopped (NULL))
    _exit (UNNOTED);
  fw_cli_end_long ();
  _exit (OUTLIVED);
}

static void
gets_two (int first, int second)
{
  fw_cli_begin_long ();
  raise (first);
  raise (second);
  _exit (OUTLIVED);
}

static void
ignores_it (int first, int unused)
{
  signal (first, SIG_IGN);
  fw_cli_begin_long ();
  raise (first);
  if (fw_cli_stopped (NULL))
    _exit (UNNOTED);
  fw_cli_end_long ();
  raise (first);
}

static void
gets_it_afterwards (int first, int unused)
{
  fw_cli_begin_long ();
  fw_cli_end_long ();
  raise (first);
  _exit (OUTLIVED);
}

static void
the_first_ends_it_when_the_work_is_put_away (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpint (ending (gets_one, kinds[i], 0), ==, kinds[i]);
}

static void
the_second_ends_it_at_once_whichever_it_is (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
      g_assert_cmpint (ending (gets_two, kinds[i], kinds[k]), ==, kinds[k]);
}

static void
what_was_ignored_stays_ignored (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpint (ending (ignores_it, kinds[i], 0), ==, -DONE);
}

static void
afterwards_signals_do_what_they_did (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpint (ending (gets_it_afterwards, kinds[i], 0), ==, kinds[i]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/patience/the first signal ends the program when the work is put away",
                   the_first_ends_it_when_the_work_is_put_away);
  g_test_add_func ("/patience/the second ends it at once, whichever it is",
                   the_second_ends_it_at_once_whichever_it_is);
  g_test_add_func ("/patience/what was ignored stays ignored", what_was_ignored_stays_ignored);
  g_test_add_func ("/patience/afterwards signals do what they did",
                   afterwards_signals_do_what_they_did);
  return g_test_run ();
}
