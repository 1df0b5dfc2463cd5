/* aim: from wishes and free numbers to a design. */
#include <cjson/cJSON.h>
#include <errno.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "aim/aim.h"
#include "cli/cli.h"
#include "cli/patience.h"
#include "doc/json.h"
#include "doc/words.h"

typedef struct
{
  char **wishes, **free;
  char *output, *format, *unit;
  FwLengths lengths;
  gint64 seed, runs, answers;
  double seconds;
} Call;

/* ---- What was asked ---- */

static gboolean
is_json (const char *format, gboolean *json)
{
  *json = format != NULL && strcmp (format, "json") == 0;
  return format == NULL || *json || strcmp (format, "text") == 0;
}

static gboolean
check_call (const Call *c, gboolean *json)
{
  if (!is_json (c->format, json))
    fw_cli_refuse (_ ("aim: --format: text or json was expected, “%s” was found"), c->format);
  else if (c->seed < 0 || c->seed > G_MAXUINT32)
    fw_cli_refuse (_ ("aim: --seed: a whole number from 0 to 4294967295 was expected"));
  else if (c->runs < 0 || c->runs > 100000)
    fw_cli_refuse (_ ("aim: --runs: a whole number from 1 to 100000 was expected"));
  else if (c->answers < 0 || c->answers > 100)
    fw_cli_refuse (_ ("aim: --answers: a whole number from 1 to 100 was expected"));
  else if (!(c->seconds >= 0 && c->seconds <= 86400))
    fw_cli_refuse (_ ("aim: --time: seconds from 0 to 86400 were expected"));
  else
    return TRUE;
  return FALSE;
}

/* The wishes typed, or, where none are, those of the file. NULL: refused, with a line. */
static FwWishes *
gather (const FwJob *job, const Call *c, const char *file)
{
  const FwDesign *design = fw_document_design (job->doc);
  FwWishes *wishes = fw_document_wishes (job->doc);
  g_autoptr (GError) error = NULL;
  while (c->wishes != NULL && wishes->n_list > 0)
    fw_wishes_remove (wishes, 0);
  while (c->free != NULL && wishes->n_free > 0)
    fw_wishes_remove_free (wishes, 0);
  for (char **text = c->wishes; text != NULL && *text != NULL && error == NULL; text++)
    {
      FwWish wish;
      if (fw_wish_parse (design, *text, &wish, &error))
        fw_wishes_add (wishes, wish);
    }
  for (char **text = c->free; text != NULL && *text != NULL && error == NULL; text++)
    {
      FwFree item;
      if (fw_free_parse (design, *text, &item, &error))
        fw_wishes_add_free (wishes, item);
    }
  if (error == NULL && fw_wishes_check (wishes, design, &error))
    return wishes;
  fw_cli_refuse ("%s: %s", file, error->message);
  fw_wishes_free (wishes);
  return NULL;
}

/* ---- What was found ---- */

static cJSON *
answer_json (const FwAimed *aimed, int index, const FwWishes *wishes)
{
  const FwAnswer *a = &aimed->answers[index];
  cJSON *item = cJSON_CreateObject ();
  cJSON_AddBoolToObject (item, "all_met", a->all_met);
  cJSON_AddBoolToObject (item, "goes_round", a->goes_round);
  cJSON_AddItemToObject (item, "cost", fw_json_number (a->cost));
  cJSON_AddItemToObject (item, "change", fw_json_number (a->change));
  cJSON_AddItemToObject (item, "least_push_deg", fw_json_number (a->least_push_deg));
  cJSON_AddNumberToObject (item, "troubles", a->n_troubles);
  cJSON *numbers = cJSON_AddObjectToObject (item, "numbers");
  for (int i = 0; i < aimed->n_free; i++)
    cJSON_AddItemToObject (numbers, wishes->free[i].number, fw_json_number (a->values[i]));
  cJSON *list = cJSON_AddArrayToObject (item, "wishes");
  for (int i = 0; i < aimed->n_wishes; i++)
    {
      g_autofree char *words = fw_wish_words (&wishes->list[i], FW_LENGTHS_MM);
      cJSON *wish = cJSON_CreateObject ();
      cJSON_AddStringToObject (wish, "asked", words);
      cJSON_AddItemToObject (wish, "got", fw_json_number (a->got[i].got));
      cJSON_AddItemToObject (wish, "miss", fw_json_number (a->got[i].miss));
      cJSON_AddStringToObject (wish, "unit", fw_words_unit (fw_wish_unit (&wishes->list[i])));
      cJSON_AddBoolToObject (wish, "met", a->got[i].met);
      cJSON_AddItemToArray (list, wish);
    }
  return item;
}

static char *
as_json (const FwAimed *aimed, const FwDesign *design, const FwWishes *wishes)
{
  g_autofree char *sentence = fw_aimed_words (aimed, design, wishes, FW_LENGTHS_MM);
  cJSON *root = cJSON_CreateObject ();
  cJSON_AddBoolToObject (root, "all_met", aimed->n_answers > 0 && aimed->answers[0].all_met);
  cJSON_AddBoolToObject (root, "stopped", aimed->stopped);
  cJSON_AddNumberToObject (root, "tried", (double)aimed->n_tried);
  if (sentence != NULL)
    cJSON_AddStringToObject (root, "message", sentence);
  cJSON *conflict = cJSON_AddArrayToObject (root, "conflict");
  for (int i = 0; i < aimed->n_conflict; i++)
    cJSON_AddItemToArray (conflict, cJSON_CreateNumber (aimed->conflict[i]));
  cJSON *limited = cJSON_AddArrayToObject (root, "at_limit");
  for (int i = 0; i < aimed->n_limited; i++)
    cJSON_AddItemToArray (limited, cJSON_CreateString (wishes->free[aimed->limited[i]].number));
  cJSON *answers = cJSON_AddArrayToObject (root, "answers");
  for (int i = 0; i < aimed->n_answers; i++)
    cJSON_AddItemToArray (answers, answer_json (aimed, i, wishes));
  char *text = cJSON_Print (root);
  char *line = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (root);
  return line;
}

static void
say_answer (GString *out, const FwAimed *aimed, int index, const FwDesign *design, const FwWishes *wishes,
            FwLengths lengths)
{
  const FwAnswer *a = &aimed->answers[index];
  g_string_append_printf (out, index == 0 ? _ ("Answer %d, written:\n") : _ ("Answer %d, unlike those above:\n"), index + 1);
  for (int i = 0; i < aimed->n_free; i++)
    {
      FwParam param;
      fw_param_from_path (design, wishes->free[i].number, &param);
      g_autofree char *label = fw_param_label (design, param);
      g_autofree char *from = fw_units_format (fw_param_get (design, param), fw_param_unit (param), lengths, 2);
      g_autofree char *to = fw_units_format (a->values[i], fw_param_unit (param), lengths, 2);
      g_string_append_printf (out, _ ("  %s: %s, was %s\n"), label, to, from);
    }
  for (int i = 0; i < aimed->n_wishes; i++)
    {
      g_autofree char *asked = fw_wish_words (&wishes->list[i], lengths);
      g_autofree char *got = fw_wish_value_words (&wishes->list[i], a->got[i].got, lengths);
      g_string_append_printf (out, a->got[i].met ? _ ("  met: %s (%s)\n") : _ ("  missed: %s (%s)\n"), asked, got);
    }
  g_autofree char *push = fw_units_format (a->least_push_deg, FW_UNIT_DEG, lengths, 1);
  if (!a->goes_round)
    g_string_append (out, _ ("  it does not go all the way round\n"));
  else
    g_string_append_printf (out, ngettext ("  least push angle %s, %d spot of trouble\n", "  least push angle %s, %d spots of trouble\n",
                                           (gulong)a->n_troubles),
                            push, a->n_troubles);
}

static char *
as_text (const FwAimed *aimed, const FwDesign *design, const FwWishes *wishes, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  g_autofree char *sentence = fw_aimed_words (aimed, design, wishes, lengths);
  for (int i = 0; i < aimed->n_answers; i++)
    say_answer (out, aimed, i, design, wishes, lengths);
  if (sentence != NULL)
    g_string_append_printf (out, "%s\n", sentence);
  g_autofree char *tried = g_strdup_printf ("%" G_GINT64_FORMAT, aimed->n_tried);
  /* Translators: %s is a whole number. */
  g_string_append_printf (out, ngettext ("%s design tried.\n", "%s designs tried.\n", (gulong)aimed->n_tried), tried);
  return g_string_free (out, FALSE);
}

/* The document with the best answer's numbers, to OUT; "-": none, the table takes standard output. */
static int
write_design (const FwJob *job, const FwAimed *aimed, const FwWishes *wishes, const char *output)
{
  const FwDesign *design = fw_document_design (job->doc);
  g_autoptr (GError) error = NULL;
  int n;
  g_autofree FwChange *changes = fw_answer_changes (aimed, 0, design, wishes, &n);
  FwDesign *before = fw_design_copy (design); /* the words of the answer are said against it */
  gboolean good = before != NULL && fw_document_change (job->doc, changes, n, _ ("Aimed at wishes"), NULL, &error)
                  && fw_document_save (job->doc, output, &error);
  fw_design_free (before);
  return good ? FW_EXIT_FINE : fw_cli_refuse ("%s", error != NULL ? error->message : _ ("out of memory"));
}

static gboolean
watch (double fraction, double cost, const FwDesign *best, gpointer data)
{
  fw_cli_tell (fraction, "aim");
  return !fw_cli_stopped (NULL);
}

static int
run (FwJob *job, const Call *c, const char *file, gboolean json)
{
  FwWishes *wishes = gather (job, c, file);
  if (wishes == NULL)
    return FW_EXIT_REFUSED;
  g_autoptr (GError) error = NULL;
  FwAimOptions options = { .seed = (guint32)c->seed, .runs = (int)c->runs, .seconds = c->seconds, .answers = (int)c->answers };
  fw_cli_begin_long ();
  FwAimed *aimed = fw_aim (fw_document_design (job->doc), wishes, &options, watch, NULL, &error);
  fw_cli_end_long ();
  int status = FW_EXIT_REFUSED;
  if (aimed == NULL)
    fw_cli_refuse ("%s: %s", file, error->message);
  else if (aimed->n_answers == 0)
    fw_cli_refuse (_ ("%s: no design was tried in the time given"), file);
  else
    {
      const FwDesign *design = fw_document_design (job->doc);
      g_autofree char *text = json ? as_json (aimed, design, wishes) : as_text (aimed, design, wishes, c->lengths);
      status = write_design (job, aimed, wishes, c->output);
      if (status == FW_EXIT_FINE)
        status = fw_cli_print (text, aimed->answers[0].all_met ? FW_EXIT_FINE : FW_EXIT_TROUBLE);
    }
  fw_aimed_free (aimed);
  fw_wishes_free (wishes);
  return status;
}

int
fw_verb_aim (int argc, char **argv)
{
  Call c = { .seed = 1 };
  const GOptionEntry entries[] = {
    { "wish", 'w', 0, G_OPTION_ARG_STRING_ARRAY, &c.wishes, N_ ("What it should do, such as inner.top=30; may be given many times"), N_ ("WHAT=VALUE") },
    { "free", 'f', 0, G_OPTION_ARG_STRING_ARRAY, &c.free, N_ ("A number that may change, such as in.radius=20..45; may be given many times"), N_ ("NUMBER[=LIMITS]") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &c.output, N_ ("Where the best answer is written"), N_ ("OUT.flap") },
    { "seed", 0, 0, G_OPTION_ARG_INT64, &c.seed, N_ ("Seed of what is drawn at random (1)"), N_ ("S") },
    { "runs", 0, 0, G_OPTION_ARG_INT64, &c.runs, N_ ("Starts to search from (128)"), N_ ("N") },
    { "time", 0, 0, G_OPTION_ARG_DOUBLE, &c.seconds, N_ ("Stop after so many seconds"), N_ ("SECONDS") },
    { "answers", 0, 0, G_OPTION_ARG_INT64, &c.answers, N_ ("How many unlike answers are wanted (3)"), N_ ("N") },
    { "format", 0, 0, G_OPTION_ARG_STRING, &c.format, N_ ("text or json"), N_ ("FORMAT") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &c.unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { NULL },
  };
  int status;
  gboolean json;
  g_autofree char *file = fw_cli_options (argc, argv, "aim", _ ("Finds numbers with which the design does what is wished for."),
                                          entries, &status);
  if (file != NULL)
    {
      FwJob job;
      status = FW_EXIT_REFUSED;
      if (c.output == NULL)
        fw_cli_refuse (_ ("aim: -o OUT.flap was expected: where to write the design"));
      else if (fw_cli_lengths ("aim", c.unit, &c.lengths, &status) && check_call (&c, &json) && fw_job_open (&job, file, 72))
        {
          status = run (&job, &c, file, json);
          fw_job_close (&job);
        }
    }
  g_strfreev (c.wishes);
  g_strfreev (c.free);
  g_free (c.output);
  g_free (c.format);
  g_free (c.unit);
  return status;
}
