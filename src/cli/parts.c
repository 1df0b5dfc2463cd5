/* parts: printed parts as 3MF and STL files, with a list of what was made. */
#include <glib/gi18n.h>

#include "cli/cli.h"
#include "cli/patience.h"
#include "shop/solidwrite.h"

#define STEPS 360

static void
list_part (GString *out, const FwSolidPart *part, FwLengths lengths)
{
  g_autofree char *x = fw_units_format_bare (part->size_mm.x, FW_UNIT_MM, lengths, -1);
  g_autofree char *y = fw_units_format_bare (part->size_mm.y, FW_UNIT_MM, lengths, -1);
  g_autofree char *z = fw_units_format (part->size_mm.z, FW_UNIT_MM, lengths, -1);
  g_string_append_printf (out, "%s  %s\n", part->letter, part->name);
  /* Translators: how many of a part; its three sizes; its volume. */
  g_string_append_printf (out, _ ("    make %d; %s x %s x %s; %.2f cm³ each\n"), part->count, x, y, z,
                          part->volume_mm3 / 1000);
  /* Translators: %s is how a part lies on the printer's bed: "on one end, bore upright; no support". */
  g_string_append_printf (out, _ ("    print %s\n"), part->lie);
  g_autofree char *name = fw_solid_part_file (part);
  g_string_append_printf (out, "    %s\n    %s.3mf, %s.stl\n", part->note, name, name);
}

static void
list_all (GString *out, const FwSolidParts *parts, FwLengths lengths)
{
  double volume = 0;
  for (int i = 0; i < parts->n_parts; i++)
    if (parts->parts[i].mesh != NULL)
      {
        list_part (out, &parts->parts[i], lengths);
        volume += parts->parts[i].volume_mm3 * parts->parts[i].count;
      }
  g_string_append_printf (out, _ ("All together %.1f cm³, solid\n"), volume / 1000);
}

/* What cannot be made, a line each. */
static void
say_problems (const FwSolidParts *parts, const char *file)
{
  for (int i = 0; i < parts->n_parts; i++)
    if (parts->parts[i].problem != NULL)
      fw_cli_refuse ("%s: %s", file, parts->parts[i].problem);
}

static int
make_parts (const FwJob *job, const char *file, const char *folder, FwLengths lengths)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (FwBuild) build = fw_build_new (job->mech);
  g_autoptr (FwMadeList) letters = fw_made_list_new (job->mech, build);
  g_autoptr (FwSolidParts) parts = fw_solid_parts_new (job->mech, letters, lengths);
  say_problems (parts, file);
  if (parts->n_parts == 0)
    return fw_cli_refuse (_ ("%s: this design has no printed parts"), file);
  if (parts->n_problems == parts->n_parts)
    return FW_EXIT_TROUBLE;
  fw_cli_begin_long ();
  g_auto (GStrv) files
      = fw_solid_parts_write (parts, fw_document_title (job->doc), folder, fw_cli_progress (), &error);
  fw_cli_end_long ();
  if (files == NULL)
    return fw_cli_refuse ("%s", error->message);
  g_autoptr (GString) out = g_string_new (NULL);
  list_all (out, parts, lengths);
  guint n = g_strv_length (files);
  /* Translators: how many files, the folder, the file with all parts. */
  g_string_append_printf (out,
                          ngettext ("%u file in %s; %s holds all parts, as many of each as it takes\n",
                                    "%u files in %s; %s holds all parts, as many of each as it takes\n", n),
                          n, folder, FW_SOLID_ALL_FILE);
  return fw_cli_print (out->str, parts->n_problems > 0 ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
}

int
fw_verb_parts (int argc, char **argv)
{
  int status;
  g_autofree char *folder = NULL, *units = NULL;
  FwLengths lengths;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &folder, N_ ("The folder to write to; made if need be"), N_ ("DIR") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &units, N_ ("mm (the default) or inch, in the list"), N_ ("UNIT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "parts",
      _ ("Printed parts that fit the design, as 3MF and STL files. Exit status 1: a part cannot be made as "
         "the numbers stand; the others are written."),
      entries, &status);
  if (file == NULL)
    return status;
  if (folder == NULL || *folder == '\0')
    return fw_cli_refuse (_ ("parts: expected -o with the name of the folder to write to"));
  if (!fw_cli_lengths ("parts", units, &lengths, &status))
    return status;

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  status = make_parts (&job, file, folder, lengths);
  fw_job_close (&job);
  return status;
}
