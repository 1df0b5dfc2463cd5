#include "cli/patience.h"

#include <signal.h>
#include <stdio.h>
#include <unistd.h>

/* Ours: rounds after which panels that hang on each other have found their rest, more or less. */
#define HANGING_ROUNDS 100

static const int watched[] = { SIGINT, SIGTERM, SIGHUP };
static struct sigaction before[G_N_ELEMENTS (watched)];
static volatile sig_atomic_t got; /* signals are the whole program's */
static int told = -1;             /* percent on the line, as the terminal is */

/* The second ends the program, as soon as this returns, whichever the first was. */
static void
note (int number)
{
  if (got != 0)
    {
      (void) signal (number, SIG_DFL);
      (void) raise (number);
    }
  got = number;
}

void
fw_cli_begin_long (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (watched); i++)
    {
      struct sigaction noting = { .sa_handler = note, .sa_flags = SA_RESTART };
      sigemptyset (&noting.sa_mask);
      sigaction (watched[i], NULL, &before[i]);
      if (before[i].sa_handler != SIG_IGN) /* what nohup has set stays */
        sigaction (watched[i], &noting, NULL);
    }
}

void
fw_cli_end_long (void)
{
  if (told >= 0)
    g_printerr ("\r\033[K");
  told = -1;
  for (gsize i = 0; i < G_N_ELEMENTS (watched); i++)
    sigaction (watched[i], &before[i], NULL);
  if (got != 0)
    (void) raise (got);
}

bool
fw_cli_stopped (void *data)
{
  return got != 0;
}

void
fw_cli_tell (double fraction, const char *what)
{
  int percent = (int)(100 * CLAMP (fraction, 0, 1));
  if (percent == told || !isatty (STDERR_FILENO))
    return;
  told = percent;
  g_printerr ("\r%s %d %%\033[K", what, percent);
}

static gboolean
onward (double fraction, const char *what, gpointer data)
{
  fw_cli_tell (fraction, what);
  return !fw_cli_stopped (NULL);
}

const FwProgress *
fw_cli_progress (void)
{
  static const FwProgress progress = { onward, NULL };
  return &progress;
}

double
fw_cli_work_of_pose (const FwMechanism *mech)
{
  double parts = 1 + mech->n_members + mech->n_links;
  for (int i = 0; i < mech->n_members; i++)
    if (mech->members[i].hanging_group > 1)
      parts += HANGING_ROUNDS * mech->members[i].hanging_group;
  return parts;
}

bool
fw_cli_spent (void *data)
{
  FwPatience *p = data;
  p->left -= p->trial;
  p->share -= p->trial;
  if (p->left >= 0 && p->share >= 0)
    return fw_cli_stopped (NULL);
  p->cut_short = TRUE;
  return true;
}
