/* helps: which numbers move the thing in hand, and how far they can go. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "aim/helps.h"
#include "cli/cli.h"
#include "cli/patience.h"
#include "doc/json.h"
#include "doc/words.h"
#include "shop/build.h"
#include "shop/trouble.h"

#define STEPS 360
#define MOST 400
#define MM_PER_INCH 25.4
/* How much is tried, in poses, each counted as many times as it has parts: ours, some seconds. */
#define MOST_WORK 10e6
#define TRIAL_POSES 72
#define REACH 8 /* numbers of which it is found how far they go */

/* Trouble as `check` lists it, of which the first is 1. */
static gboolean
nth_trouble (const FwJob *job, gint64 nth, FwHelpOf *of)
{
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  FwLoadTurn *forces = fw_load_turn_new (job->mech, STEPS);
  if (forces != NULL)
    fw_load_turn_solve (forces, job->mech, fw_crank_speed (job->mech->design));
  gboolean found = forces != NULL && fw_all_trouble_find (job->turn, forces, job->mech, &list, NULL, NULL);
  free (forces);
  if (!found)
    {
      fw_cli_refuse (_ ("helps: out of memory"));
      return FALSE;
    }
  if (nth < 1 || nth > list.n)
    {
      if (list.n == 0)
        fw_cli_refuse (_ ("helps: --trouble: the design has no trouble"));
      else
        fw_cli_refuse (_ ("helps: --trouble: a number from 1 to %d was expected"), list.n);
      return FALSE;
    }
  // cppcheck-suppress uninitvar ; the list writes to it
  *of = (FwHelpOf) { .kind = FW_HELP_TROUBLE, .trouble = room[nth - 1], .find_making = fw_shop_trouble_find };
  return TRUE;
}

static char *
as_json (const FwJob *job, const FwHelpOf *of, const FwHelp *list, int n)
{
  cJSON *root = cJSON_CreateObject ();
  cJSON_AddItemToObject (root, "value", fw_json_number (fw_help_value (job->mech->design, of)));
  cJSON_AddStringToObject (root, "unit", fw_words_unit (fw_help_unit (of)));
  if (of->kind == FW_HELP_TROUBLE)
    {
      g_autofree char *message = fw_words_trouble (job->mech, &of->trouble, FW_LENGTHS_MM);
      cJSON_AddStringToObject (root, "trouble", message);
      cJSON_AddNumberToObject (root, "better", fw_help_better (&of->trouble));
    }
  cJSON *helps = cJSON_AddArrayToObject (root, "helps");
  for (int i = 0; i < n; i++)
    {
      g_autofree char *key = fw_param_path (job->mech->design, list[i].param);
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "key", key);
      cJSON_AddItemToObject (item, "value", fw_json_number (list[i].value));
      cJSON_AddStringToObject (item, "unit", fw_words_unit (fw_param_unit (list[i].param)));
      cJSON_AddItemToObject (item, "effect", fw_json_number (list[i].effect));
      cJSON_AddBoolToObject (item, "exact", list[i].exact);
      if (list[i].has_reach)
        {
          cJSON_AddItemToObject (item, "from", fw_json_number (list[i].from));
          cJSON_AddItemToObject (item, "to", fw_json_number (list[i].to));
        }
      cJSON_AddItemToArray (helps, item);
    }
  char *text = cJSON_Print (root);
  char *line = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (root);
  return line;
}

static char *
as_text (const FwJob *job, const char *what, const FwHelpOf *of, const FwHelp *list, int n, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  gboolean inch = lengths == FW_LENGTHS_INCH && fw_help_unit (of) == FW_UNIT_MM;
  if (of->kind == FW_HELP_TROUBLE)
    {
      g_autofree char *message = fw_words_trouble (job->mech, &of->trouble, lengths);
      g_string_append_printf (out, "%s\n", message);
    }
  else
    /* Translators: a quantity as it was asked for ("inner.top"), its value, its unit. */
    g_string_append_printf (out, fw_help_unit (of) == FW_UNIT_DEG ? _ ("%s is %.4g%s.\n") : _ ("%s is %.4g %s.\n"), what,
                            fw_help_value (job->mech->design, of) / (inch ? MM_PER_INCH : 1), fw_units_symbol (fw_help_unit (of), lengths));
  for (int i = 0; i < MIN (n, 16); i++)
    {
      g_autofree char *line = fw_help_words (job->mech->design, of, &list[i], lengths);
      g_string_append_printf (out, "  %s\n", line);
    }
  if (n == 0)
    g_string_append (out, _ ("No number moves it by itself.\n"));
  else if (!list[0].exact)
    g_string_append (out, _ ("These effects are differences of the exact solution; those of angles, pushes and places are derivatives.\n"));
  return g_string_free (out, FALSE);
}

static int
run (const FwJob *job, const char *file, const char *what, gint64 trouble, gboolean json, FwLengths lengths)
{
  g_autoptr (GError) error = NULL;
  FwHelpOf of;
  g_autofree FwHelp *list = g_new0 (FwHelp, MOST);
  if (what == NULL ? !nth_trouble (job, trouble, &of) : !fw_help_parse (job->mech->design, what, &of, &error))
    return error != NULL ? fw_cli_refuse ("%s: --of %s", file, error->message) : FW_EXIT_REFUSED;
  FwPatience patience = { .trial = TRIAL_POSES * fw_cli_work_of_pose (job->mech), .left = MOST_WORK, .share = MOST_WORK };
  fw_cli_begin_long ();
  int n = fw_helps (job->mech->design, &of, list, MOST, REACH, fw_cli_spent, &patience);
  fw_cli_end_long ();
  if (n < 0)
    return fw_cli_refuse (_ ("%s: “%s” cannot be told: it is not assembled there"), file, what != NULL ? what : "trouble");
  if (patience.cut_short)
    g_printerr (_ ("Some numbers, or how far they can go, were not tried: the design is large.\n"));
  g_autofree char *text = json ? as_json (job, &of, list, n) : as_text (job, what, &of, list, n, lengths);
  return fw_cli_print (text, FW_EXIT_FINE);
}

int
fw_verb_helps (int argc, char **argv)
{
  FwLengths lengths;
  g_autofree char *of = NULL, *format = NULL, *unit = NULL;
  gint64 trouble = 0;
  const GOptionEntry entries[] = {
    { "of", 0, 0, G_OPTION_ARG_STRING, &of, N_ ("The thing in hand: PANEL.top, PANEL@CRANK, ROD.push, torque"), N_ ("WHAT") },
    { "trouble", 0, 0, G_OPTION_ARG_INT64, &trouble, N_ ("The trouble in hand, as check lists them, the first being 1"), N_ ("N") },
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text or json"), N_ ("FORMAT") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { NULL },
  };
  int status;
  g_autofree char *file = fw_cli_options (argc, argv, "helps", _ ("Which numbers move the thing in hand, and how far each can go."),
                                          entries, &status);
  if (file == NULL)
    return status;
  if ((of == NULL) == (trouble == 0))
    return fw_cli_refuse (_ ("helps: either --of WHAT or --trouble N was expected"));
  gboolean json = format != NULL && strcmp (format, "json") == 0;
  if (format != NULL && !json && strcmp (format, "text") != 0)
    return fw_cli_refuse (_ ("helps: --format: text or json was expected, “%s” was found"), format);
  if (!fw_cli_lengths ("helps", unit, &lengths, &status))
    return status;
  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  status = run (&job, file, of, trouble, json, lengths);
  fw_job_close (&job);
  return status;
}
