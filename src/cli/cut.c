/* cut: every part to cut, laid into the stock, with settings and the order of assembly. */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/cli.h"
#include "shop/cutwrite.h"

#define STEPS 72

static int
write_list (const FwJob *job, const char *format, FwLengths lengths)
{
  g_autoptr (FwCutList) list = fw_cut_list_new (job->mech, lengths);
  const FwStock *stock = &job->mech->design->stock;
  g_autofree char *text = g_strcmp0 (format, "json") == 0  ? fw_cut_list_json (list, stock)
                          : g_strcmp0 (format, "csv") == 0 ? fw_cut_list_csv (list)
                                                           : fw_cut_list_text (list, stock, lengths);
  for (int i = 0; list->problems[i] != NULL; i++)
    g_printerr ("flapwright-cli: %s\n", list->problems[i]);
  return fw_cli_print (text, list->problems[0] != NULL ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
}

int
fw_verb_cut (int argc, char **argv)
{
  int status;
  FwLengths lengths;
  g_autofree char *format = NULL, *units = NULL;
  const GOptionEntry entries[] = {
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text (the default), csv or json"), N_ ("FORMAT") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &units, N_ ("mm (the default) or inch, in words and text"), N_ ("UNIT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (argc, argv, "cut",
                                          _ ("Every part to cut, laid into the stock. Exit status 1: something cannot be made or does not fit."),
                                          entries, &status);
  if (file == NULL)
    return status;
  if (format != NULL && strcmp (format, "text") != 0 && strcmp (format, "csv") != 0 && strcmp (format, "json") != 0)
    return fw_cli_refuse (_ ("cut: --format: expected text, csv or json, found “%s”"), format);
  if (!fw_cli_lengths ("cut", units, &lengths, &status))
    return status;
  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  status = write_list (&job, format, lengths);
  fw_job_close (&job);
  return status;
}
