#include "cli/cli.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include "doc/fill.h"
#include "doc/words.h"

#define MOST_INPUT (64u << 20) /* bytes of standard input: far beyond any design */
#define SURE_STEPS 360

int
fw_cli_refuse (const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *said = g_strdup_vprintf (format, args);
  g_autofree char *line = fw_one_line (said);
  va_end (args);
  g_printerr ("flapwright-cli: %s\n", line);
  return FW_EXIT_REFUSED;
}

int
fw_cli_print (const char *text, int status)
{
  gsize length = strlen (text);
  if (fwrite (text, 1, length, stdout) != length || fflush (stdout) != 0)
    return fw_cli_refuse (_ ("standard output: cannot be written: %s"), g_strerror (errno));
  return status;
}

char *
fw_cli_number (double value, const char *format)
{
  return g_strdup_printf (format, value == 0 ? 0 : value);
}

char *
fw_cli_column (const char *text, int width)
{
  int blanks = MAX (0, ABS (width) - (int)g_utf8_strlen (text, -1));
  return g_strdup_printf ("%*s%s%*s", width < 0 ? blanks : 0, "", text, width < 0 ? 0 : blanks, "");
}

char *
fw_cli_options (int argc, char **argv, const char *verb, const char *summary, const GOptionEntry *entries, int *status)
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autofree char *usage = g_strdup_printf ("%s %s", verb, C_ ("what a verb is given", "FILE"));
  g_autoptr (GError) error = NULL;
  gboolean help = FALSE;
  const GOptionEntry help_entry[] = {
    { "help", 'h', 0, G_OPTION_ARG_NONE, &help, N_ ("Show this help"), NULL },
    { NULL },
  };
  g_option_context_set_help_enabled (context, FALSE); /* GLib's own would exit by itself */
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_set_summary (context, summary);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, help_entry, GETTEXT_PACKAGE);
  *status = FW_EXIT_REFUSED;
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      fw_cli_refuse ("%s: %s", verb, error->message);
      return NULL;
    }
  if (help)
    {
      g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);
      g_autoptr (GString) out = g_string_new (text);
      g_autofree char *with_verb = g_strdup_printf ("%s %s", g_get_prgname (), usage);
      g_string_replace (out, g_get_prgname (), with_verb, 1);
      *status = fw_cli_print (out->str, FW_EXIT_FINE);
      return NULL;
    }
  if (argc != 2)
    {
      if (argc < 2)
        fw_cli_refuse (_ ("%s: expected the name of a design file, or - for standard input"), verb);
      else
        fw_cli_refuse (_ ("%s: expected one design file, found also “%s”"), verb, argv[2]);
      return NULL;
    }
  return g_strdup (argv[1]);
}

/* All of standard input, or NULL with a line. */
static char *
read_input (gsize *length)
{
  GString *text = g_string_new (NULL);
  char buffer[65536];
  size_t n;
  while ((n = fread (buffer, 1, sizeof buffer, stdin)) > 0)
    {
      g_string_append_len (text, buffer, (gssize)n);
      if (text->len > MOST_INPUT)
        break;
    }
  if (ferror (stdin) || text->len > MOST_INPUT)
    {
      fw_cli_refuse (text->len > MOST_INPUT ? _ ("standard input: line 1: expected a design of less than 64 MiB")
                                            : _ ("standard input: cannot be read"));
      g_string_free (text, TRUE);
      return NULL;
    }
  *length = text->len;
  return g_string_free (text, FALSE);
}

static FwDocument *
open_document (const char *file, GError **error)
{
  if (strcmp (file, "-") != 0)
    return fw_document_load (file, error);
  gsize length = 0;
  g_autofree char *text = read_input (&length);
  return text == NULL ? NULL : fw_document_new_from_text (text, (gssize)length, _ ("standard input"), error);
}

gboolean
fw_job_open (FwJob *job, const char *file, int steps)
{
  g_autoptr (GError) error = NULL;
  *job = (FwJob) { .doc = open_document (file, &error) };
  if (job->doc == NULL)
    {
      if (error != NULL)
        fw_cli_refuse ("%s", error->message);
      return FALSE;
    }
  const FwDesign *design = fw_document_design (job->doc);
  FwFault fault = { 0 };
  FwStatus status = fw_mechanism_build (design, &job->mech, &fault);
  if (status != FW_OK)
    {
      g_autofree char *what = fw_words_fault (design, status, &fault);
      fw_cli_refuse ("%s: %s", file, what);
      fw_job_close (job);
      return FALSE;
    }
  job->turn = fw_turn_new (job->mech, steps);
  if (job->turn == NULL)
    {
      fw_cli_refuse (_ ("%s: out of memory for %d steps"), file, steps);
      fw_job_close (job);
      return FALSE;
    }
  fw_turn_solve (job->turn, job->mech);
  return TRUE;
}

void
fw_job_close (FwJob *job)
{
  free (job->turn);
  fw_mechanism_free (job->mech);
  fw_document_free (job->doc);
  *job = (FwJob) { NULL };
}

gboolean
fw_job_cannot_go_round (const FwJob *job)
{
  FwTurn *turn = fw_turn_new (job->mech, SURE_STEPS);
  if (turn == NULL)
    return TRUE;
  fw_turn_solve (turn, job->mech);
  gboolean open = !fw_turn_closes (turn, job->mech);
  FwInterval gap;
  for (int member = -1; member < job->mech->n_members && !open; member++)
    open = fw_turn_gaps (turn, job->mech, member, &gap, 1) > 0;
  free (turn);
  return open;
}

char *
fw_cli_length (double mm, const char *format, FwLengths lengths)
{
  g_autofree char *number = fw_cli_number (lengths == FW_LENGTHS_INCH ? mm / 25.4 : mm, format);
  return g_strdup_printf (C_("number, unit", "%s %s"), number, fw_units_symbol (FW_UNIT_MM, lengths));
}

gboolean
fw_cli_lengths (const char *verb, const char *text, FwLengths *lengths, int *status)
{
  *lengths = g_strcmp0 (text, "inch") == 0 ? FW_LENGTHS_INCH : FW_LENGTHS_MM;
  if (!text || strcmp (text, "mm") == 0 || strcmp (text, "inch") == 0)
    return TRUE;
  *status = fw_cli_refuse (_ ("%s: --lengths: expected mm or inch, found “%s”"), verb, text);
  return FALSE;
}
