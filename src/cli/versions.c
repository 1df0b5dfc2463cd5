/* versions: designs kept by name in one file. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <string.h>

#include "cli/cli.h"
#include "doc/versions.h"

typedef struct
{
  char *keep, *back, *remove, *compare, *with, *output, *format, *unit;
  FwLengths lengths;
} Call;

static int
find (const FwJob *job, const char *file, const char *name, int *out)
{
  *out = fw_versions_find (job->doc, name);
  return *out >= 0 ? FW_EXIT_FINE : fw_cli_refuse (_ ("%s: versions: there is none called “%s”"), file, name);
}

static int
change (FwJob *job, const Call *c, const char *file)
{
  g_autoptr (GError) error = NULL;
  int version = 0;
  const char *name = c->back != NULL ? c->back : c->remove;
  if (c->output == NULL)
    return fw_cli_refuse (_ ("versions: -o OUT.flap was expected: where to write the design"));
  if (c->keep == NULL && find (job, file, name, &version) != FW_EXIT_FINE)
    return FW_EXIT_REFUSED;
  gboolean good = c->keep != NULL   ? fw_versions_keep (job->doc, c->keep, &error)
                  : c->back != NULL ? fw_versions_bring_back (job->doc, version, &error)
                                    : fw_versions_remove (job->doc, version, &error);
  if (!good || !fw_document_save (job->doc, c->output, &error))
    return fw_cli_refuse ("%s", error->message);
  return FW_EXIT_FINE;
}

static int
print_list (const FwJob *job, gboolean json)
{
  int n = fw_versions_count (job->doc);
  if (json)
    {
      cJSON *array = cJSON_CreateArray ();
      for (int i = 0; i < n; i++)
        cJSON_AddItemToArray (array, cJSON_CreateString (fw_versions_name (job->doc, i)));
      g_autofree char *text = cJSON_Print (array);
      g_autofree char *line = g_strconcat (text, "\n", NULL);
      cJSON_Delete (array);
      return fw_cli_print (line, FW_EXIT_FINE);
    }
  g_autoptr (GString) out = g_string_new (n == 0 ? _ ("No version is kept.\n") : NULL);
  for (int i = 0; i < n; i++)
    g_string_append_printf (out, "%s\n", fw_versions_name (job->doc, i));
  return fw_cli_print (out->str, FW_EXIT_FINE);
}

/* From --compare to --with, or to the present design. */
static int
print_changes (const FwJob *job, const Call *c, const char *file)
{
  g_autoptr (GError) error = NULL;
  int before, after = FW_VERSION_NOW;
  if (find (job, file, c->compare, &before) != FW_EXIT_FINE
      || (c->with != NULL && find (job, file, c->with, &after) != FW_EXIT_FINE))
    return FW_EXIT_REFUSED;
  g_autoptr (GPtrArray) lines = fw_versions_changes (job->doc, before, after, c->lengths, &error);
  if (lines == NULL)
    return fw_cli_refuse ("%s", error->message);
  g_autoptr (GString) out = g_string_new (NULL);
  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (out, "%s\n", ((FwLogLine *)lines->pdata[i])->text);
  return fw_cli_print (out->str, FW_EXIT_FINE);
}

static int
run (FwJob *job, const Call *c, const char *file)
{
  gboolean json = c->format != NULL && strcmp (c->format, "json") == 0;
  if (c->keep != NULL || c->back != NULL || c->remove != NULL)
    return change (job, c, file);
  return c->compare != NULL ? print_changes (job, c, file) : print_list (job, json);
}

int
fw_verb_versions (int argc, char **argv)
{
  Call c = { NULL };
  const GOptionEntry entries[] = {
    { "keep", 0, 0, G_OPTION_ARG_STRING, &c.keep, N_ ("Keep the design under a name"), N_ ("NAME") },
    { "bring-back", 0, 0, G_OPTION_ARG_STRING, &c.back, N_ ("Bring a version back"), N_ ("NAME") },
    { "remove", 0, 0, G_OPTION_ARG_STRING, &c.remove, N_ ("Take a version out"), N_ ("NAME") },
    { "compare", 0, 0, G_OPTION_ARG_STRING, &c.compare, N_ ("What has changed since a version"), N_ ("NAME") },
    { "with", 0, 0, G_OPTION_ARG_STRING, &c.with, N_ ("Compare with this version, not with the present design"), N_ ("NAME") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &c.output, N_ ("Where the changed file is written"), N_ ("OUT.flap") },
    { "format", 0, 0, G_OPTION_ARG_STRING, &c.format, N_ ("Of the list: text or json"), N_ ("FORMAT") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &c.unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { NULL },
  };
  int status;
  g_autofree char *file = fw_cli_options (argc, argv, "versions", _ ("Lists versions; keeps, compares or brings one back."),
                                          entries, &status);
  FwJob job;
  if (file != NULL)
    {
      int asked = (c.keep != NULL) + (c.back != NULL) + (c.remove != NULL) + (c.compare != NULL);
      if (!fw_cli_lengths ("versions", c.unit, &c.lengths, &status))
        ;
      else if (asked > 1)
        status = fw_cli_refuse (_ ("versions: one of --keep, --bring-back, --remove and --compare was expected"));
      else if (c.with != NULL && c.compare == NULL)
        status = fw_cli_refuse (_ ("versions: --with goes with --compare"));
      else if (c.format != NULL && strcmp (c.format, "json") != 0 && strcmp (c.format, "text") != 0)
        status = fw_cli_refuse (_ ("versions: --format: text or json was expected, “%s” was found"), c.format);
      else if (!fw_job_open (&job, file, 72))
        status = FW_EXIT_REFUSED;
      else
        {
          status = run (&job, &c, file);
          fw_job_close (&job);
        }
    }
  char *texts[] = { c.keep, c.back, c.remove, c.compare, c.with, c.output, c.format, c.unit };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);
  return status;
}
