/* flapwright-cli scale: the same motion at another size, and what stops working first. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "aim/scale.h"
#include "cli/cli.h"
#include "doc/words.h"

#define MOST 64
#define MOST_REMEDIES 3

static const struct
{
  FwSize size;
  const char *name, *key;
  FwUnit unit; /* NONE: a bare figure with `suffix` */
  const char *suffix;
} figures[] = {
  { FW_SIZE_SPAN, N_ ("Span, tip to tip, flat"), "span_mm", FW_UNIT_MM, NULL },
  { FW_SIZE_AREA, N_ ("Area of all panels"), "area_m2", FW_UNIT_NONE, "m²" },
  { FW_SIZE_WEIGHT, N_ ("Weight of what moves"), "weight_g", FW_UNIT_G, NULL },
  { FW_SIZE_BASE, N_ ("Weight of the stand"), "base_g", FW_UNIT_G, NULL },
  { FW_SIZE_SPEED, N_ ("Speed"), "turns_per_minute", FW_UNIT_TURNS_PER_MINUTE, NULL },
  { FW_SIZE_TORQUE, N_ ("Greatest crank torque"), "torque_Nm", FW_UNIT_NM, NULL },
  { FW_SIZE_HANDLE, N_ ("Greatest push at the handle"), "handle_N", FW_UNIT_N, NULL },
  { FW_SIZE_POWER, N_ ("Greatest power"), "power_W", FW_UNIT_NONE, "W" },
  { FW_SIZE_KNOCK, N_ ("Greatest load of a rod"), "rod_N", FW_UNIT_N, NULL },
  { FW_SIZE_SAG, N_ ("Greatest sag"), "sag_mm", FW_UNIT_MM, NULL },
  { FW_SIZE_STRESS, N_ ("Stress over what is allowed"), "stress_share", FW_UNIT_NONE, "" },
  { FW_SIZE_BUCKLING, N_ ("Push over Euler's load"), "buckling_share", FW_UNIT_NONE, "" },
  { FW_SIZE_NATURAL, N_ ("Lowest natural frequency"), "natural_Hz", FW_UNIT_HZ, NULL },
  { FW_SIZE_CALM, N_ ("Vibrations in one turn"), "natural_over_turn", FW_UNIT_NONE, "" },
  { FW_SIZE_TILT, N_ ("Slope at which it tips"), "tilt_deg", FW_UNIT_DEG, NULL },
};

typedef struct
{
  const FwDocument *small;
  FwDocument *big;
  FwScaleWish wish;
  FwSizing before, after;
  FwScaleLimit limits[MOST];
  int n_limits;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList trouble; /* of the big one */
  FwRemedy remedies[MOST][MOST_REMEDIES];
  int n_remedies[MOST];
  FwMechanism *mech; /* of the big one */
} Report;

/* ---- The call ---- */

/* "birch ply:4", "steel:12x1", "steel:1/2 in". Sizes in mm if no unit is said. */
static gboolean
read_stock (const char *option, const char *text, FwScaleStock *stock, char **material, int *status)
{
  const char *colon = text ? strrchr (text, ':') : NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) sizes = NULL;

  if (!text)
    return TRUE;
  *material = colon ? g_strndup (text, (gsize)(colon - text)) : g_strdup (text);
  g_strstrip (*material);
  if (!**material || !g_utf8_validate (*material, -1, NULL))
    {
      *status = fw_cli_refuse (_ ("scale: %s: expected a material, and its size after a colon, such as birch:4, found “%s”"),
                               option, text);
      return FALSE;
    }
  stock->material = *material;
  if (!colon)
    return TRUE;
  sizes = g_strsplit (colon + 1, "x", 2);
  double *into[] = { &stock->size_mm, &stock->wall_mm };
  for (int i = 0; i < 2 && sizes[i]; i++)
    if (!fw_units_parse (sizes[i], FW_UNIT_MM, FW_LENGTHS_MM, into[i], &error) || !(*into[i] > 0 && *into[i] < 1e6))
      {
        *status = fw_cli_refuse (_ ("scale: %s: expected a size above 0 after the colon, found “%s”"), option, colon + 1);
        return FALSE;
      }
  return TRUE;
}

static gboolean
read_factor (const FwJob *job, double by, const char *span, double *factor, int *status)
{
  g_autoptr (GError) error = NULL;
  double wanted = 0, flat = fw_flat_span (job->mech->design);

  *factor = by;
  if (!span)
    return TRUE;
  if (!fw_units_parse (span, FW_UNIT_MM, FW_LENGTHS_MM, &wanted, &error) || !(wanted > 0 && wanted < 1e6))
    {
      *status = fw_cli_refuse (_ ("scale: --to-span: expected a length above 0, found “%s”"), span);
      return FALSE;
    }
  if (!(flat > 0))
    {
      *status = fw_cli_refuse (_ ("scale: --to-span: this design has no wings to span; say --by instead"));
      return FALSE;
    }
  *factor = wanted / flat;
  return TRUE;
}

/* ---- The report ---- */

static void
find_remedies (Report *r)
{
  for (int i = 0; i < r->n_limits; i++)
    for (int k = 0; k < r->trouble.n; k++)
      {
        const FwTrouble *t = &r->trouble.items[k];
        if (t->kind != r->limits[i].kind || !fw_part_equal (t->part, r->limits[i].part))
          continue;
        r->n_remedies[i] = fw_scale_remedies (r->mech->design, t, r->remedies[i], MOST_REMEDIES, NULL, NULL);
        break;
      }
}

static gboolean
work_out (Report *r)
{
  r->trouble = (FwTroubleList){ .items = r->room, .capacity = FW_TROUBLE_ROOM };
  if (!fw_sizing_of (fw_document_design (r->small), &r->before) || !fw_sizing_of (fw_document_design (r->big), &r->after)
      || !fw_motion_and_force_trouble (fw_document_design (r->big), &r->trouble)
      || fw_mechanism_build (fw_document_design (r->big), &r->mech, NULL) != FW_OK)
    return FALSE;
  r->n_limits = fw_scale_limits (r->small, &r->wish, r->limits, MOST, NULL, NULL);
  if (r->n_limits < 0)
    return FALSE;
  find_remedies (r);
  return TRUE;
}

static char *
figure (int i, double value, FwLengths lengths)
{
  if (isnan (value))
    return g_strdup ("-");
  if (isinf (value))
    return g_strdup (C_ ("a load", "without limit"));
  if (figures[i].unit == FW_UNIT_MM)
    return fw_units_format (value, FW_UNIT_MM, lengths, value < 10 ? 3 : 1);
  g_autofree char *number = fw_cli_number (value, "%.4g");
  const char *unit = figures[i].unit == FW_UNIT_NONE ? figures[i].suffix : fw_units_symbol (figures[i].unit, lengths);
  return g_strdup_printf ("%s%s%s", number, *unit && figures[i].unit != FW_UNIT_DEG ? " " : "", unit);
}

static char *
as_text (const Report *r, FwLengths lengths)
{
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _ ("At %.4g times the size:\n"), r->wish.factor);
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      double before = r->before.value[figures[i].size], after = r->after.value[figures[i].size];
      if (isnan (before) && isnan (after))
        continue;
      g_autofree char *a = figure ((int)i, before, lengths), *b = figure ((int)i, after, lengths);
      g_autofree char *name = fw_cli_column (_ (figures[i].name), 28);
      g_autofree char *now = fw_cli_column (a, -14), *then = fw_cli_column (b, -14);
      g_string_append_printf (out, "  %s %s  %s", name, now, then);
      if (before > 0 && after > 0 && isfinite (before) && isfinite (after))
        g_string_append_printf (out, "   x %.4g", after / before);
      g_string_append_c (out, '\n');
    }
  g_string_append (out, r->n_limits == 0 ? _ ("\nNothing stops working up to this size that worked before.\n")
                                         : _ ("\nWhat stops working first:\n"));
  for (int i = 0; i < r->n_limits; i++)
    {
      /* Translators: a factor of size, a kind of trouble such as "may buckle", a part. */
      g_string_append_printf (out, _ ("  from %.2f times: %s, %s\n"), r->limits[i].factor,
                              fw_words_trouble_short (r->limits[i].kind), fw_words_part (r->mech, r->limits[i].part));
      for (int k = 0; k < r->n_remedies[i]; k++)
        {
          g_autofree char *words = fw_words_remedy (r->mech->design, &r->remedies[i][k], lengths);
          g_string_append_printf (out, _ ("    mends it at full size: %s\n"), words);
        }
    }
  g_string_append (out, _ ("\nWeights are computed: weigh what you can. What hangs over people, tips or is driven by a motor is a\n"
                           "matter for local codes and licensed practice, and more so the bigger it gets.\n"));
  return g_string_free (out, FALSE);
}

static cJSON *
sizes_json (const FwSizing *s)
{
  cJSON *object = cJSON_CreateObject ();
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      double value = s->value[figures[i].size];
      cJSON_AddItemToObject (object, figures[i].key, isfinite (value) ? cJSON_CreateNumber (value) : cJSON_CreateNull ());
    }
  return object;
}

static cJSON *
limit_json (const Report *r, int i)
{
  cJSON *item = cJSON_CreateObject ();
  cJSON_AddStringToObject (item, "kind", fw_trouble_name (r->limits[i].kind));
  cJSON_AddStringToObject (item, "part", fw_part_name (r->mech, r->limits[i].part));
  cJSON_AddNumberToObject (item, "from_factor", r->limits[i].factor);
  cJSON *list = cJSON_AddArrayToObject (item, "remedies");
  for (int k = 0; k < r->n_remedies[i]; k++)
    {
      const FwRemedy *remedy = &r->remedies[i][k];
      g_autofree char *path = fw_param_path (r->mech->design, remedy->param);
      cJSON *entry = cJSON_CreateObject ();
      cJSON_AddStringToObject (entry, "key", path);
      cJSON_AddNumberToObject (entry, "from", remedy->from);
      cJSON_AddNumberToObject (entry, "to", remedy->to);
      cJSON_AddItemToArray (list, entry);
    }
  return item;
}

static char *
as_json (const Report *r)
{
  cJSON *all = cJSON_CreateObject ();
  cJSON_AddNumberToObject (all, "factor", r->wish.factor);
  cJSON_AddItemToObject (all, "before", sizes_json (&r->before));
  cJSON_AddItemToObject (all, "after", sizes_json (&r->after));
  cJSON *list = cJSON_AddArrayToObject (all, "limits");
  for (int i = 0; i < r->n_limits; i++)
    cJSON_AddItemToArray (list, limit_json (r, i));
  char *text = cJSON_Print (all);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (all);
  return out;
}

static int
scale (const FwJob *job, const FwScaleWish *wish, const char *output, gboolean json, FwLengths lengths)
{
  g_autoptr (GError) error = NULL;
  Report *r = g_new0 (Report, 1);
  int status = FW_EXIT_FINE;

  r->small = job->doc;
  r->wish = *wish;
  r->big = fw_scale (job->doc, wish, &error);
  if (r->big && !work_out (r))
    status = fw_cli_refuse (_ ("scale: out of memory"));
  else if (!r->big || (output && !fw_document_save (r->big, output, &error)))
    status = fw_cli_refuse ("%s", error->message);
  else
    {
      g_autofree char *text = json ? as_json (r) : as_text (r, lengths);
      status = fw_cli_print (text, r->trouble.n > 0 ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
    }
  if (r->big)
    fw_document_free (r->big);
  fw_mechanism_free (r->mech);
  g_free (r);
  return status;
}

int
fw_verb_scale (int argc, char **argv)
{
  int status;
  double by = 0;
  FwLengths lengths = FW_LENGTHS_MM;
  g_autofree char *unit = NULL;
  FwScaleWish wish = { 0 };
  g_autofree char *span = NULL, *output = NULL, *format = NULL;
  char *given[4] = { NULL }, *materials[4] = { NULL };
  const GOptionEntry entries[] = {
    { "by", 0, 0, G_OPTION_ARG_DOUBLE, &by, N_ ("Times the size"), N_ ("FACTOR") },
    { "to-span", 0, 0, G_OPTION_ARG_STRING, &span, N_ ("To this span, tip to tip, all panels flat"), N_ ("LENGTH") },
    { "sheet", 0, 0, G_OPTION_ARG_STRING, &given[0], N_ ("Panels of other sheet"), N_ ("MATERIAL[:THICKNESS]") },
    { "rods", 0, 0, G_OPTION_ARG_STRING, &given[1], N_ ("Rods of other stock"), N_ ("MATERIAL[:DIAMETER[xWALL]]") },
    { "pipe", 0, 0, G_OPTION_ARG_STRING, &given[2], N_ ("Crank of other pipe"), N_ ("MATERIAL[:DIAMETER[xWALL]]") },
    { "post", 0, 0, G_OPTION_ARG_STRING, &given[3], N_ ("Post of other pipe"), N_ ("MATERIAL[:DIAMETER[xWALL]]") },
    { "keep-speed", 0, 0, G_OPTION_ARG_NONE, &wish.keep_speed, N_ ("As many turns a minute as before"), NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, N_ ("Write the scaled design here"), N_ ("OUT.flap") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text (the default) or json"), N_ ("FORMAT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "scale",
      _ ("The same motion at another size, what it then weighs and bears, and what stops working first.\n"
         "Exit status 1: the scaled design has trouble."),
      entries, &status);
  FwScaleStock *stocks[] = { &wish.sheet, &wish.rods, &wish.crank, &wish.post };
  const char *const options[] = { "--sheet", "--rods", "--pipe", "--post" };
  gboolean good = file != NULL, json = g_strcmp0 (format, "json") == 0;
  FwJob job;

  for (int i = 0; i < 4 && good; i++)
    good = read_stock (options[i], given[i], stocks[i], &materials[i], &status);
  if (good && format != NULL && !json && strcmp (format, "text") != 0)
    {
      status = fw_cli_refuse (_ ("scale: --format: expected text or json, found “%s”"), format);
      good = FALSE;
    }
  good = good && fw_cli_lengths ("scale", unit, &lengths, &status);
  if (good && (span != NULL) == (by != 0))
    {
      status = fw_cli_refuse (_ ("scale: expected either --by FACTOR or --to-span LENGTH"));
      good = FALSE;
    }
  if (good && !span && !(by > 0 && isfinite (by)))
    {
      status = fw_cli_refuse (_ ("scale: --by: expected a factor above 0, found %g"), by);
      good = FALSE;
    }
  if (good && fw_job_open (&job, file, 72))
    {
      if (read_factor (&job, by, span, &wish.factor, &status))
        status = scale (&job, &wish, output, json, lengths);
      fw_job_close (&job);
    }
  else if (good)
    status = FW_EXIT_REFUSED;
  for (int i = 0; i < 4; i++)
    {
      g_free (given[i]);
      g_free (materials[i]);
    }
  return status;
}
