/* flapwright-cli fit: what was really built, from what was measured on it. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "aim/fit.h"
#include "cli/cli.h"
#include "doc/json.h"
#include "doc/words.h"

static char *
key_of (const FwDesign *design, FwFitName name)
{
  return name.is_zero ? g_strdup ("crank.mark") : fw_param_path (design, name.param);
}

/* ---- Words ---- */

static void
write_number (GString *out, const FwDesign *design, const FwFitNumber *n, FwLengths lengths)
{
  FwUnit unit = fw_fit_name_unit (n->name);
  g_autofree char *name = fw_fit_name_words (design, n->name);
  g_autofree char *from = fw_units_format (n->from, unit, lengths, 1);
  g_autofree char *to = fw_units_format (n->to, unit, lengths, 1);
  g_autofree char *sure = fw_units_format (n->sure, unit, lengths, 1);
  g_autofree char *off = fw_units_format (fabs (n->to - n->from), unit, lengths, 1);

  /* Translators: a number; as drawn; as built; by how much it is sure; by how much it is off. */
  g_string_append_printf (out, n->to < n->from ? _ ("%s: drawn %s, built %s ± %s, less by %s\n")
                                               : _ ("%s: drawn %s, built %s ± %s, more by %s\n"),
                          name, from, to, sure, off);
  for (int k = 0; k < n->n_others; k++)
    {
      g_autofree char *other = fw_fit_name_words (design, n->others[k]);
      g_autofree char *value = fw_units_format (n->others_to[k], fw_fit_name_unit (n->others[k]), lengths, 1);
      /* Translators: another number that could be off, and the value it would have: "Length of inrod 412.5 mm". */
      g_string_append_printf (out, _ ("  or just as likely instead: %s %s\n"), other, value);
    }
}

static void
write_miss (GString *out, double before, double after, FwUnit unit, FwLengths lengths)
{
  if (isnan (before))
    return;
  g_autofree char *a = fw_units_format (before, unit, lengths, 2), *b = fw_units_format (after, unit, lengths, 2);
  /* Translators: root mean squares. */
  g_string_append_printf (out, unit == FW_UNIT_DEG ? _ ("Angles missed by %s as drawn, by %s as fitted.\n")
                                                   : _ ("Heights and places missed by %s as drawn, by %s as fitted.\n"), a, b);
}

static char *
as_text (const FwDesign *design, const FwFit *fit, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  g_string_append_printf (out, ngettext ("%d measurement.\n", "%d measurements.\n", (gulong)fit->n_measurements), fit->n_measurements);
  if (fit->status == FW_FIT_AS_DRAWN)
    g_string_append (out, _ ("It is built as drawn, as far as these measurements tell.\n"));
  for (int i = 0; i < fit->n; i++)
    write_number (out, design, &fit->numbers[i], lengths);
  write_miss (out, fit->angle_before_deg, fit->angle_after_deg, FW_UNIT_DEG, lengths);
  write_miss (out, fit->length_before_mm, fit->length_after_mm, FW_UNIT_MM, lengths);
  return g_string_free (out, FALSE);
}

static char *
as_json (const FwDesign *design, const FwFit *fit)
{
  cJSON *all = cJSON_CreateObject ();
  cJSON_AddNumberToObject (all, "measurements", fit->n_measurements);
  cJSON_AddBoolToObject (all, "as_drawn", fit->status == FW_FIT_AS_DRAWN);
  cJSON *list = cJSON_AddArrayToObject (all, "numbers");
  for (int i = 0; i < fit->n; i++)
    {
      const FwFitNumber *n = &fit->numbers[i];
      g_autofree char *key = key_of (design, n->name);
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "number", key);
      cJSON_AddNumberToObject (item, "drawn", n->from);
      cJSON_AddNumberToObject (item, "built", n->to);
      cJSON_AddNumberToObject (item, "sure_95", n->sure);
      cJSON *others = cJSON_AddArrayToObject (item, "or");
      for (int k = 0; k < n->n_others; k++)
        {
          g_autofree char *other = key_of (design, n->others[k]);
          cJSON *entry = cJSON_CreateObject ();
          cJSON_AddStringToObject (entry, "number", other);
          cJSON_AddNumberToObject (entry, "built", n->others_to[k]);
          cJSON_AddItemToArray (others, entry);
        }
      cJSON_AddItemToArray (list, item);
    }
  cJSON_AddItemToObject (all, "angle_miss_before_deg", fw_json_number (fit->angle_before_deg));
  cJSON_AddItemToObject (all, "angle_miss_after_deg", fw_json_number (fit->angle_after_deg));
  cJSON_AddItemToObject (all, "length_miss_before_mm", fw_json_number (fit->length_before_mm));
  cJSON_AddItemToObject (all, "length_miss_after_mm", fw_json_number (fit->length_after_mm));
  char *text = cJSON_Print (all);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (all);
  return out;
}

/* ---- The call ---- */

/* Why there is no answer; FALSE where there is one. */
static gboolean
refuses (const FwDesign *design, const FwFit *fit, int n_free, int *status)
{
  if (fit->status == FW_FIT_FOUND || fit->status == FW_FIT_AS_DRAWN)
    return FALSE;
  if (fit->status == FW_FIT_TOO_FEW)
    *status = n_free > FW_FIT_MOST
                  ? fw_cli_refuse (_ ("fit: at most %d free numbers were expected, %d were found"), FW_FIT_MOST, n_free)
                  : fw_cli_refuse (_ ("fit: at least %d measurements were expected, %d were found"), MAX (n_free + 1, 3),
                                   fit->n_measurements);
  else if (fit->status == FW_FIT_CANNOT_TELL)
    {
      g_autofree char *a = fw_fit_name_words (design, fit->numbers[0].name), *b = fw_fit_name_words (design, fit->numbers[1].name);
      *status = strcmp (a, b) == 0
                    ? fw_cli_refuse (_ ("fit: these measurements say nothing about “%s”: measure elsewhere, or leave it out"), a)
                    : fw_cli_refuse (_ ("fit: these measurements cannot tell “%s” from “%s”: measure more, or leave one out"), a, b);
    }
  else
    *status = fw_cli_refuse (_ ("fit: out of memory"));
  return TRUE;
}

static gboolean
read_free (const FwDesign *design, char **given, GArray *list, int *status)
{
  for (int i = 0; given && given[i]; i++)
    {
      FwParam param;
      if (!fw_param_from_path (design, given[i], &param))
        {
          *status = fw_cli_refuse (_ ("fit: --free: the path of a number was expected, such as rods.NAME.length, “%s” was found"),
                                   given[i]);
          return FALSE;
        }
      for (guint k = 0; k < list->len; k++)
        if (fw_param_equal (g_array_index (list, FwParam, k), param))
          {
            *status = fw_cli_refuse (_ ("fit: --free: each number once was expected, “%s” was found twice"), given[i]);
            return FALSE;
          }
      g_array_append_val (list, param);
    }
  return TRUE;
}

/* Writes the design as built. */
static gboolean
write_built (const FwJob *job, const FwFit *fit, const char *output, int *status)
{
  FwChange changes[FW_FIT_MOST];
  int n = 0;
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < fit->n; i++)
    if (!fit->numbers[i].name.is_zero)
      changes[n++] = (FwChange){ fit->numbers[i].name.param, fit->numbers[i].to };
  if ((n == 0 || fw_document_change (job->doc, changes, n, "", NULL, &error)) && fw_document_save (job->doc, output, &error))
    return TRUE;
  *status = fw_cli_refuse ("%s", error->message);
  return FALSE;
}

static int
fit (const FwJob *job, const GArray *measured, const GArray *numbers, const char *output, gboolean json, FwLengths lengths)
{
  const FwDesign *design = job->mech->design;
  FwFitWish wish = { .numbers = numbers->len > 0 ? (const FwParam *)(const void *)numbers->data : NULL,
                     .n_numbers = (int)numbers->len };
  FwFit result;
  int status = FW_EXIT_FINE;

  fw_fit (design, (const FwMeasurement *)(const void *)measured->data, (int)measured->len, &wish, &result);
  if (refuses (design, &result, (int)numbers->len, &status) || (output && !write_built (job, &result, output, &status)))
    return status;
  g_autofree char *text = json ? as_json (design, &result) : as_text (design, &result, lengths);
  return fw_cli_print (text, FW_EXIT_FINE);
}

static GArray *
read_table (const char *path, const FwMechanism *mech, int *status)
{
  g_autofree char *text = NULL;
  g_autofree char *shown = g_filename_display_name (path);
  g_autoptr (GError) error = NULL;

  if (!g_file_get_contents (path, &text, NULL, &error))
    {
      *status = fw_cli_refuse (_ ("%s: the table of measurements cannot be read: %s"), shown, error->message);
      return NULL;
    }
  GArray *list = fw_measured_read (text, shown, mech, &error);
  if (!list)
    *status = fw_cli_refuse ("%s", error->message);
  return list;
}

int
fw_verb_fit (int argc, char **argv)
{
  int status;
  FwLengths lengths;
  g_autofree char *unit = NULL;
  g_autofree char *table = NULL, *output = NULL, *format = NULL;
  g_auto (GStrv) given = NULL;
  const GOptionEntry entries[] = {
    { "measured", 0, 0, G_OPTION_ARG_FILENAME, &table, N_ ("What was measured: columns as `turn` names them, empty cells allowed"), N_ ("M.csv") },
    { "free", 0, 0, G_OPTION_ARG_STRING_ARRAY, &given, N_ ("A number that may be off (those that explain it best); may be repeated"), N_ ("PATH") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_ ("Write the design as built here"), N_ ("OUT.flap") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text (the default) or json"), N_ ("FORMAT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (argc, argv, "fit", _ ("What was really built, from angles and heights measured on it."),
                                          entries, &status);
  if (file == NULL)
    return status;
  gboolean json = g_strcmp0 (format, "json") == 0;
  if (format != NULL && !json && strcmp (format, "text") != 0)
    return fw_cli_refuse (_ ("fit: --format: expected text or json, found “%s”"), format);
  if (table == NULL)
    return fw_cli_refuse (_ ("fit: --measured: a table of measurements was expected"));

  if (!fw_cli_lengths ("fit", unit, &lengths, &status))
    return status;

  FwJob job;
  if (!fw_job_open (&job, file, 72))
    return FW_EXIT_REFUSED;
  GArray *numbers = g_array_new (FALSE, FALSE, sizeof (FwParam));
  GArray *measured = read_free (job.mech->design, given, numbers, &status) ? read_table (table, job.mech, &status) : NULL;
  if (measured)
    {
      status = fit (&job, measured, numbers, output, json, lengths);
      g_array_unref (measured);
    }
  else
    status = FW_EXIT_REFUSED;
  g_array_unref (numbers);
  fw_job_close (&job);
  return status;
}
