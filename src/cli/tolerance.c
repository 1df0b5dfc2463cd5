/* flapwright-cli tolerance: how often the design still goes round, made by hand. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "aim/tolerance.h"
#include "cli/cli.h"
#include "cli/patience.h"
#include "doc/json.h"
#include "doc/spread.h"
#include "doc/words.h"

#define DEGREES (180 / G_PI)
#define MOST_CAUSES 12 /* in the text */

#define USUAL_RUNS 10000
#define FEWEST_RUNS 100
#define UNASKED G_MININT
/* As many poses, each counted as many times as it has parts, are drawn unasked: ours, some ten seconds. */
#define MOST_WORK 25e6

typedef struct
{
  const FwJob *job;
  const FwTolerance *t;
  guint64 seed;
} Report;

/* "inrod.length (right)". */
static char *
cause_name (const Report *r, const FwToleranceCause *cause)
{
  g_autofree char *label = fw_param_label (r->job->mech->design, cause->param);
  /* Translators: a number such as "Length of inrod", of the piece on one side. */
  return cause->side > 0   ? g_strdup_printf (_ ("%s, right"), label)
         : cause->side < 0 ? g_strdup_printf (_ ("%s, left"), label)
                           : g_strdup (label);
}

static cJSON *
row_json (const double *row, double factor)
{
  cJSON *array = cJSON_CreateArray ();
  for (int i = 0; i < FW_TOLERANCE_STEPS; i++)
    cJSON_AddItemToArray (array, fw_json_number (row[i] * factor));
  return array;
}

/* As the columns of `turn`. */
static char *
column (const FwMechanism *mech, FwQuantity q)
{
  switch (q.kind)
    {
    case FW_Q_BODY_H:
      return g_strdup ("body.h_mm");
    case FW_Q_BODY_Z:
      return g_strdup ("body.z_mm");
    case FW_Q_BODY_TILT:
      return g_strdup ("body.tilt_deg");
    case FW_Q_ANGLE:
      return g_strdup_printf ("%s.angle_deg", mech->members[q.index].name);
    default:
      return g_strdup_printf ("%s.push_deg", mech->links[q.index].name);
    }
}

static void
add_quantities (const Report *r, cJSON *all)
{
  cJSON *list = cJSON_AddArrayToObject (all, "quantities");
  for (int i = 0; i < r->t->n_bands; i++)
    {
      const FwToleranceBand *band = &r->t->bands[i];
      const FwToleranceExtreme *e = &r->t->extremes[i];
      double factor;
      fw_words_quantity_unit (band->quantity, &factor);
      g_autofree char *name = column (r->job->mech, band->quantity);
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "quantity", name);
      cJSON_AddItemToObject (item, "least", fw_json_number (e->least * factor));
      cJSON_AddItemToObject (item, "least_mean", fw_json_number (e->least_mean * factor));
      cJSON_AddItemToObject (item, "least_sd", fw_json_number (e->least_sd * factor));
      cJSON_AddItemToObject (item, "greatest", fw_json_number (e->greatest * factor));
      cJSON_AddItemToObject (item, "greatest_mean", fw_json_number (e->greatest_mean * factor));
      cJSON_AddItemToObject (item, "greatest_sd", fw_json_number (e->greatest_sd * factor));
      cJSON_AddItemToObject (item, "low", row_json (band->low, factor));
      cJSON_AddItemToObject (item, "middle", row_json (band->middle, factor));
      cJSON_AddItemToObject (item, "high", row_json (band->high, factor));
      cJSON_AddItemToArray (list, item);
    }
}

static char *
as_json (const Report *r)
{
  const FwTolerance *t = r->t;
  double low, high;
  cJSON *all = cJSON_CreateObject ();

  cJSON_AddNumberToObject (all, "runs", t->runs);
  cJSON_AddNumberToObject (all, "seed", (double)r->seed);
  cJSON_AddNumberToObject (all, "goes_round", (double)t->goes_round / t->runs);
  fw_share_interval (t->goes_round, t->runs, &low, &high);
  cJSON_AddItemToObject (all, "goes_round_95", cJSON_CreateDoubleArray ((double[]){ low, high }, 2));
  cJSON_AddNumberToObject (all, "free_of_trouble", (double)t->fine / t->runs);
  cJSON *kinds = cJSON_AddObjectToObject (all, "trouble");
  for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
    if (t->kinds[k] > 0)
      cJSON_AddNumberToObject (kinds, fw_trouble_name (k), (double)t->kinds[k] / t->runs);
  cJSON *causes = cJSON_AddArrayToObject (all, "causes");
  for (int i = 0; i < t->n_causes; i++)
    {
      const FwToleranceCause *c = &t->causes[i];
      g_autofree char *path = fw_param_path (r->job->mech->design, c->param);
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "number", path);
      cJSON_AddStringToObject (item, "side", c->side > 0 ? "right" : c->side < 0 ? "left" : "middle");
      cJSON_AddNumberToObject (item, "spread", c->spread);
      cJSON_AddNumberToObject (item, "share", c->share);
      cJSON_AddNumberToObject (item, "decides_going_round", c->stops);
      cJSON_AddItemToArray (causes, item);
    }
  add_quantities (r, all);
  char *text = cJSON_Print (all);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (all);
  return out;
}

static void
write_odds (const Report *r, GString *out)
{
  const FwTolerance *t = r->t;
  double low, high;

  fw_share_interval (t->goes_round, t->runs, &low, &high);
  g_string_append_printf (out, ngettext ("%d turn of pieces made a little off.\n", "%d turns of pieces made a little off.\n",
                                         (gulong)t->runs), t->runs);
  /* Translators: percentages; the last two are an interval of certainty. */
  g_string_append_printf (out, _ ("Goes round: %.2f %% (95 %% sure: %.2f to %.2f %%)\n"),
                          100.0 * t->goes_round / t->runs, 100 * low, 100 * high);
  g_string_append_printf (out, _ ("Goes round free of trouble: %.1f %%\n"), 100.0 * t->fine / t->runs);
  for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
    if (t->kinds[k] > 0)
      {
        g_autofree char *kind = fw_cli_column (fw_words_trouble_short (k), 16);
        g_string_append_printf (out, "  %s %5.1f %%\n", kind, 100.0 * t->kinds[k] / t->runs);
      }
}

/* "-24.1°", or a dash, in a column. */
static char *
figure (double value, double factor, FwUnit unit, FwLengths lengths, int width)
{
  g_autofree char *text = isfinite (value) ? fw_units_format (value * factor, unit, lengths, -1) : g_strdup ("-");
  return fw_cli_column (text, width);
}

static void
write_extremes (const Report *r, GString *out, FwLengths lengths)
{
  g_string_append (out, _ ("\nOver the turn, as drawn and as made (of 20 pieces 19 lie within the second figure):\n"));
  for (int i = 0; i < r->t->n_extremes; i++)
    {
      const FwToleranceExtreme *e = &r->t->extremes[i];
      double factor;
      FwUnit unit = fw_words_quantity_unit (e->quantity, &factor);
      g_autofree char *quantity = fw_words_quantity (r->job->mech, e->quantity), *name = fw_cli_column (quantity, 26);
      g_autofree char *least = figure (e->least, factor, unit, lengths, -10);
      g_autofree char *least_off = figure (1.96 * e->least_sd, factor, unit, lengths, 9);
      g_autofree char *greatest = figure (e->greatest, factor, unit, lengths, -10);
      g_autofree char *greatest_off = figure (1.96 * e->greatest_sd, factor, unit, lengths, 0);
      /* Translators: a quantity; its least value and by how much pieces differ; its greatest and the same. */
      g_string_append_printf (out, _ ("  %s least %s ± %s greatest %s ± %s\n"), name, least, least_off,
                              greatest, greatest_off);
    }
}

static void
write_causes (const Report *r, GString *out, FwLengths lengths)
{
  if (r->t->n_causes > 0)
    g_string_append (out, _ ("\nWhat matters most: share of the differences between pieces in how panels swing,\n"
                             "and share in whether it goes round:\n"));
  for (int i = 0; i < MIN (r->t->n_causes, MOST_CAUSES); i++)
    {
      const FwToleranceCause *c = &r->t->causes[i];
      g_autofree char *name = cause_name (r, c);
      g_autofree char *spread = fw_units_format (c->spread, fw_param_unit (c->param), lengths, -1);
      g_string_append_printf (out, "  %5.1f %%  %5.1f %%  %s ± %s\n", 100 * c->share, 100 * c->stops, name, spread);
    }
}

static char *
as_text (const Report *r, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  write_odds (r, out);
  write_extremes (r, out, lengths);
  write_causes (r, out, lengths);
  return g_string_free (out, FALSE);
}

/* Adds "PATH=VALUE" to the list. */
static gboolean
add_spread (const FwDesign *design, const char *text, GArray *list, int *status)
{
  const char *equals = strrchr (text, '=');
  g_autofree char *path = equals ? g_strndup (text, (gsize)(equals - text)) : NULL;
  g_autoptr (GError) error = NULL;
  FwSpread spread;

  if (!path || !fw_param_from_path (design, path, &spread.param))
    {
      *status = fw_cli_refuse (_ ("tolerance: --spread: expected a number's path, = and its spread, such as "
                                  "rods.NAME.length=0.5, found “%s”"), text);
      return FALSE;
    }
  if (!fw_units_parse (equals + 1, fw_param_unit (spread.param), FW_LENGTHS_MM, &spread.spread, &error))
    {
      *status = fw_cli_refuse (_ ("tolerance: --spread %s: %s"), path, error->message);
      return FALSE;
    }
  if (!(spread.spread >= 0 && spread.spread < 1e6))
    {
      *status = fw_cli_refuse (_ ("tolerance: --spread %s: expected 0 or more, found %g"), path, spread.spread);
      return FALSE;
    }
  g_array_append_val (list, spread);
  return TRUE;
}

/* The file's own, then the call's: the later wins. */
static GArray *
all_spreads (const FwJob *job, char **given, int *status)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (FwSpread));
  int n;
  FwChange *stated = fw_spreads (job->doc, &n);

  for (int i = 0; i < n; i++)
    g_array_append_val (list, ((FwSpread){ stated[i].param, stated[i].value }));
  g_free (stated);
  for (int i = 0; given && given[i]; i++)
    if (!add_spread (job->mech->design, given[i], list, status))
      {
        g_array_unref (list);
        return NULL;
      }
  return list;
}

static void
tell (double fraction, void *data)
{
  fw_cli_tell (fraction, "tolerance");
}

/* As many as of any design, but for one so large that it would take minutes. */
static int
usual_runs (const FwMechanism *mech)
{
  double runs = MOST_WORK / (FW_TOLERANCE_STEPS * fw_cli_work_of_pose (mech));
  return (int)CLAMP (runs, FEWEST_RUNS, USUAL_RUNS);
}

static int
run (const FwJob *job, const FwToleranceWish *wish, gboolean json, FwLengths lengths)
{
  fw_cli_begin_long ();
  FwTolerance *t = fw_tolerance_run (job->mech->design, wish);
  fw_cli_end_long ();
  if (!t)
    return fw_cli_refuse (_ ("tolerance: out of memory"));
  Report report = { job, t, wish->seed };
  g_autofree char *text = json ? as_json (&report) : as_text (&report, lengths);
  int status = fw_cli_print (text, t->goes_round < t->runs ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
  fw_tolerance_free (t);
  return status;
}

int
fw_verb_tolerance (int argc, char **argv)
{
  int status, runs = UNASKED, threads = 0;
  gint64 seed = 1;
  FwLengths lengths;
  g_autofree char *unit = NULL;
  g_autofree char *format = NULL;
  g_auto (GStrv) given = NULL;
  const GOptionEntry entries[] = {
    { "runs", 0, 0, G_OPTION_ARG_INT, &runs, N_ ("Turns to draw, 1 to 1000000 (10000)"), N_ ("N") },
    { "seed", 0, 0, G_OPTION_ARG_INT64, &seed, N_ ("Start of the random numbers (1): the same gives the same"), N_ ("S") },
    { "threads", 0, 0, G_OPTION_ARG_INT, &threads, N_ ("Threads (one for each processor)"), N_ ("N") },
    { "spread", 0, 0, G_OPTION_ARG_STRING_ARRAY, &given, N_ ("How far off a number comes out; may be repeated"), N_ ("PATH=VALUE") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text (the default) or json"), N_ ("FORMAT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "tolerance",
      _ ("How often the design goes round when its pieces are made by hand, and which piece matters most.\n"
         "Exit status 1: not all pieces go round."),
      entries, &status);
  if (file == NULL)
    return status;
  gboolean json = g_strcmp0 (format, "json") == 0;
  if (format != NULL && !json && strcmp (format, "text") != 0)
    return fw_cli_refuse (_ ("tolerance: --format: expected text or json, found “%s”"), format);
  if (runs != UNASKED && (runs < 1 || runs > FW_TOLERANCE_MOST))
    return fw_cli_refuse (_ ("tolerance: --runs: expected a whole number from 1 to %d, found %d"), FW_TOLERANCE_MOST, runs);
  if (threads < 0 || threads > 256)
    return fw_cli_refuse (_ ("tolerance: --threads: expected a whole number from 0 to 256, found %d"), threads);
  if (seed < 0)
    {
      g_autofree char *found = g_strdup_printf ("%" G_GINT64_FORMAT, seed);
      return fw_cli_refuse (_ ("tolerance: --seed: expected a whole number, 0 or more, found %s"), found);
    }

  if (!fw_cli_lengths ("tolerance", unit, &lengths, &status))
    return status;

  FwJob job;
  if (!fw_job_open (&job, file, FW_TOLERANCE_STEPS))
    return FW_EXIT_REFUSED;
  GArray *spreads = all_spreads (&job, given, &status);
  if (spreads)
    {
      int usual = usual_runs (job.mech);
      if (runs == UNASKED && usual < USUAL_RUNS)
        g_printerr (_ ("The design is large: %d turns are drawn instead of %d; --runs draws as many as you wish.\n"), usual,
                    USUAL_RUNS);
      FwToleranceWish wish = { .runs = runs == UNASKED ? usual : runs, .seed = (guint64)seed, .threads = threads,
                               .stop = fw_cli_stopped, .progress = tell,
                               .spreads = (const FwSpread *)(void *)spreads->data, .n_spreads = (int)spreads->len };
      status = run (&job, &wish, json, lengths);
      g_array_unref (spreads);
    }
  fw_job_close (&job);
  return status;
}
