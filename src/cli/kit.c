/* kit: a booklet to build the sculpture from, a PDF. */
#include <glib/gi18n.h>

#include "cli/cli.h"
#include "cli/patience.h"
#include "shop/kit.h"

#define STEPS 360

static int
write_kit (const FwJob *job, const char *path, FwKitPaper paper, FwLengths lengths)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (FwKit) kit = fw_kit_new (job->mech, job->turn, fw_document_title (job->doc), paper, lengths);
  if (kit == NULL)
    return fw_cli_refuse (_ ("out of memory"));
  fw_cli_begin_long ();
  gboolean written = fw_kit_write_pdf (kit, path, fw_cli_progress (), &error);
  fw_cli_end_long ();
  if (!written)
    return fw_cli_refuse ("%s", error->message);
  return fw_job_cannot_go_round (job) || kit->solids->n_problems > 0 ? FW_EXIT_TROUBLE : FW_EXIT_FINE;
}

int
fw_verb_kit (int argc, char **argv)
{
  int status;
  g_autofree char *path = NULL, *paper_name = NULL, *units = NULL;
  FwKitPaper paper = FW_KIT_A5;
  FwLengths lengths;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, N_ ("The PDF file to write"), N_ ("OUT.pdf") },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &paper_name, N_ ("a5 (the default), a4 or letter"), N_ ("PAPER") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &units, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "kit",
      _ ("A booklet with parts, steps and settings. Exit status 1: it is written, but a printed part cannot be "
         "made as the numbers stand, or the design cannot go round."),
      entries, &status);
  if (file == NULL)
    return status;
  if (path == NULL || *path == '\0')
    return fw_cli_refuse (_ ("kit: expected -o with the name of the PDF file to write"));
  if (paper_name != NULL && !fw_kit_paper_of (paper_name, &paper))
    return fw_cli_refuse (_ ("kit: --paper: expected a5, a4 or letter, found “%s”"), paper_name);
  if (!fw_cli_lengths ("kit", units, &lengths, &status))
    return status;

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  status = write_kit (&job, path, paper, lengths);
  fw_job_close (&job);
  return status;
}
