/* check: the trouble of one turn, with what mends it. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/making.h"
#include "cli/patience.h"
#include "doc/json.h"
#include "doc/loadwords.h"
#include "shop/trouble.h"
#include "strength/stiffer.h"
#include "swing/swingremedy.h"

#define STEPS 360
#define MOST_REMEDIES 4
#define DEGREES (180 / 3.14159265358979323846)

/* How much work the search for what mends may be: poses tried, each counted as many times as it has parts. Ours: some
 * seconds, and more than any sane design takes. Worst trouble comes first; none may take more than its share. */
#define MOST_WORK 20e6
#define MOST_SHARE (MOST_WORK / 4)
#define TRIAL_POSES 72
#define OPENING_TRIALS 10 /* what a trouble costs before anything is tried */

typedef struct
{
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
  FwRemedy remedies[FW_TROUBLE_ROOM][MOST_REMEDIES];
  int n_remedies[FW_TROUBLE_ROOM];
  FwLoadTurn *forces; /* at the design's own speed */
  FwCounterweight weights[FW_TROUBLE_ROOM];
  gboolean has_weight[FW_TROUBLE_ROOM];
  FwPatience patience; /* with the search for what mends it */
} Findings;

/* False: out of memory. */
static gboolean
find_trouble (const FwJob *job, Findings *f, gboolean reach)
{
  f->list = (FwTroubleList) { .items = f->room, .capacity = FW_TROUBLE_ROOM };
  f->forces = fw_load_turn_new (job->mech, STEPS);
  if (f->forces == NULL)
    return FALSE;
  fw_load_turn_solve (f->forces, job->mech, fw_crank_speed (job->mech->design));
  if (!fw_all_trouble_find (job->turn, f->forces, job->mech, &f->list, NULL, NULL))
    return FALSE;
  if (reach)
    fw_pinch_trouble_find (job->turn, job->mech, &f->list);
  return TRUE;
}

/* A handful of them at least is looked into, however large the design. */
static gboolean
begin_share (FwPatience *p)
{
  if (p->left < 0)
    {
      p->cut_short = TRUE;
      return FALSE;
    }
  p->left -= OPENING_TRIALS * p->trial;
  p->share = MOST_SHARE;
  return TRUE;
}

static void
find_remedies_of (const FwDesign *design, Findings *f, int i)
{
  FwPatience *p = &f->patience;
  const FwTrouble *t = &f->room[i];
  FwRemedy *list = f->remedies[i];
  if (!begin_share (p))
    return;
  int n = fw_remedies (design, t, list, MOST_REMEDIES, fw_cli_spent, p);
  if (n == 0)
    n = fw_strength_remedies (design, t, list, MOST_REMEDIES, fw_cli_spent, p);
  if (n == 0)
    n = fw_swing_remedies (design, t, list, MOST_REMEDIES, fw_cli_spent, p);
  if (n == 0)
    n = fw_shop_remedies (design, t, list, MOST_REMEDIES, fw_cli_spent, p);
  f->n_remedies[i] = n;
  f->has_weight[i] = fw_counterweight_for (design, t, &f->weights[i], fw_cli_spent, p);
}

/* Twins share what mends them: looked for once. */
static void
find_remedies (const FwJob *job, Findings *f)
{
  f->patience.trial = TRIAL_POSES * fw_cli_work_of_pose (job->mech);
  f->patience.left = MOST_WORK;
  for (int i = 0; i < f->list.n && !fw_cli_stopped (NULL); i++)
    {
      fw_cli_tell ((double)i / f->list.n, "check");
      int twin = 0;
      while (twin < i && !fw_trouble_twins (job->mech, &f->room[twin], &f->room[i]))
        twin++;
      if (twin == i)
        find_remedies_of (fw_document_design (job->doc), f, i);
      else
        {
          f->has_weight[i] = f->has_weight[twin];
          f->weights[i] = f->weights[twin];
          f->n_remedies[i] = f->n_remedies[twin];
          memcpy (f->remedies[i], f->remedies[twin], sizeof f->remedies[i]);
        }
    }
}

static const char *
severity_name (FwSeverity severity)
{
  return severity == FW_FAILURE ? "failure" : severity == FW_WARNING ? "warning" : "remark";
}

/* To a thousandth of the unit, so that the text is as exact as the finding. */
static cJSON *
remedy_json (const FwDesign *design, const FwRemedy *remedy)
{
  g_autofree char *key = fw_param_path (design, remedy->param);
  g_autofree char *message = fw_words_remedy (design, remedy, FW_LENGTHS_MM);
  cJSON *item = cJSON_CreateObject ();
  cJSON_AddStringToObject (item, "key", key);
  cJSON_AddItemToObject (item, "from", fw_json_number (remedy->from));
  cJSON_AddItemToObject (item, "to", fw_json_number (remedy->to));
  cJSON_AddStringToObject (item, "unit", fw_words_unit (fw_param_unit (remedy->param)));
  cJSON_AddStringToObject (item, "message", message);
  return item;
}

static gboolean
spring_for (const FwJob *job, const Findings *f, int i, FwSpring *spring)
{
  return f->room[i].kind == FW_LOAD_REVERSAL && fw_spring_for (f->forces, job->mech, f->room[i].part, spring);
}

static cJSON *
end_json (const FwDesign *design, const FwAnchor *end)
{
  const double at[3] = { end->at_mm.x, end->at_mm.y, end->at_mm.z };
  cJSON *item = cJSON_CreateObject (), *point = cJSON_CreateArray ();
  for (int k = 0; k < 3; k++)
    cJSON_AddItemToArray (point, fw_json_number (at[k]));
  if (end->kind == FW_FROM_PANEL)
    cJSON_AddStringToObject (item, "panel", design->panels[end->index].name);
  cJSON_AddItemToObject (item, end->kind == FW_FROM_PANEL  ? "at"
                               : end->kind == FW_FROM_BODY ? "body"
                                                           : "base", point);
  return item;
}

/* The spring as the design file has it, but for its name. */
static void
add_fit (const FwJob *job, Findings *f, const FwTrouble *trouble, cJSON *spring)
{
  FwSpringFit fit;
  if (!begin_share (&f->patience) || !fw_spring_fit_for (job->mech->design, trouble, &fit, fw_cli_spent, &f->patience))
    return;
  const FwSpringPart *s = &fit.spring;
  cJSON_AddItemToObject (spring, "pulls_least_N", fw_json_number (fit.least_N));
  cJSON_AddItemToObject (spring, "pulls_most_N", fw_json_number (fit.most_N));
  cJSON *part = cJSON_AddObjectToObject (spring, "part");
  cJSON_AddStringToObject (part, "side", fw_side_words[s->side]);
  cJSON_AddItemToObject (part, "from", end_json (job->mech->design, &s->from));
  cJSON_AddItemToObject (part, "to", end_json (job->mech->design, &s->to));
  cJSON_AddItemToObject (part, "rate", fw_json_number (s->rate_Npmm));
  cJSON_AddItemToObject (part, "free", fw_json_number (s->free_mm));
  cJSON_AddBoolToObject (part, "cord", s->cord);
}

/* What is more than a number of the design: a spring, a counterweight. */
static void
add_hardware (const FwJob *job, Findings *f, int i, cJSON *item)
{
  FwSpring s;
  if (spring_for (job, f, i, &s))
    {
      g_autofree char *message = fw_words_spring (job->mech, &s);
      cJSON *spring = cJSON_AddObjectToObject (item, "spring");
      cJSON_AddItemToObject (spring, "force_N", fw_json_number (s.force_N));
      cJSON_AddItemToObject (spring, "peak_N", fw_json_number (s.peak_N));
      cJSON_AddStringToObject (spring, "message", message);
      add_fit (job, f, &f->room[i], spring);
    }
  if (f->has_weight[i])
    {
      const FwCounterweight *w = &f->weights[i];
      const FwDesign *design = job->mech->design;
      g_autofree char *message = fw_words_counterweight (design, w, FW_LENGTHS_MM);
      cJSON *weight = cJSON_AddObjectToObject (item, "counterweight");
      cJSON_AddStringToObject (weight, "on", w->panel == FW_ON_BODY ? "body" : design->panels[w->panel].name);
      cJSON_AddItemToObject (weight, "mass_g", fw_json_number (w->mass_g));
      cJSON *at = cJSON_AddArrayToObject (weight, "at_mm");
      cJSON_AddItemToArray (at, fw_json_number (w->at_mm.x));
      cJSON_AddItemToArray (at, fw_json_number (w->at_mm.y));
      cJSON_AddItemToArray (at, fw_json_number (w->at_mm.z));
      cJSON_AddStringToObject (weight, "message", message);
    }
}

static cJSON *
trouble_json (const FwJob *job, Findings *f, int i)
{
  const FwTrouble *t = &f->room[i];
  g_autofree char *message = fw_words_trouble (job->mech, t, FW_LENGTHS_MM);
  cJSON *item = cJSON_CreateObject ();
  cJSON_AddStringToObject (item, "kind", fw_trouble_name (t->kind));
  cJSON_AddStringToObject (item, "severity", severity_name (t->severity));
  cJSON_AddStringToObject (item, "part", fw_part_name (job->mech, t->part));
  if (t->has_other)
    cJSON_AddStringToObject (item, "other", fw_part_name (job->mech, t->other));
  cJSON_AddItemToObject (item, "from_deg", fw_json_number (t->from * DEGREES));
  cJSON_AddItemToObject (item, "to_deg", fw_json_number (t->to * DEGREES));
  cJSON_AddItemToObject (item, "worst_deg", fw_json_number (t->worst * DEGREES));
  cJSON_AddItemToObject (item, "value", fw_json_number (t->value));
  cJSON_AddItemToObject (item, "limit", fw_json_number (t->limit));
  cJSON_AddStringToObject (item, "unit", fw_words_unit (t->unit));
  cJSON_AddStringToObject (item, "message", message);
  cJSON *remedies = cJSON_AddArrayToObject (item, "remedies");
  for (int k = 0; k < f->n_remedies[i]; k++)
    {
      g_autofree char *swing = fw_cli_making_swing (job->mech, t, &f->remedies[i][k]);
      cJSON *remedy = remedy_json (job->mech->design, &f->remedies[i][k]);
      if (swing != NULL)
        cJSON_AddStringToObject (remedy, "motion", swing);
      cJSON_AddItemToArray (remedies, remedy);
    }
  fw_cli_making_json (item, job->mech, t);
  add_hardware (job, f, i, item);
  return item;
}

static char *
as_json (const FwJob *job, Findings *f)
{
  cJSON *array = cJSON_CreateArray ();
  for (int i = 0; i < f->list.n; i++)
    cJSON_AddItemToArray (array, trouble_json (job, f, i));
  char *text = cJSON_Print (array);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (array);
  return out;
}

/* An earlier line says the same of the other side. */
static gboolean
said_of_twin (const FwJob *job, const Findings *f, int i)
{
  const FwTrouble *t = &f->room[i];
  for (int k = 0; k < i; k++)
    {
      const FwTrouble *other = &f->room[k];
      if (fw_trouble_twins (job->mech, other, t) && fabs (other->from - t->from) < 1e-4
          && fabs (other->to - t->to) < 1e-4 && fabs (other->value - t->value) < 1e-3)
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_twin_line (const FwJob *job, const Findings *f, int i)
{
  for (int k = i + 1; k < f->list.n; k++)
    if (fw_trouble_twins (job->mech, &f->room[i], &f->room[k]) && said_of_twin (job, f, k)
        && fabs (f->room[i].from - f->room[k].from) < 1e-4)
      return TRUE;
  return FALSE;
}

static void
say_mends (GString *out, const char *remedy)
{
  /* Translators: a line of the list of what would mend a trouble. */
  g_string_append_printf (out, _ ("    mends it: %s\n"), remedy);
}

static const char *
not_all_tried (void)
{
  return _ ("Not every change was tried for all of it. Mend what fails first, then check again.\n");
}

static char *
as_text (const FwJob *job, const Findings *f, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  if (f->list.n == 0)
    g_string_append (out, _ ("Goes round free of trouble.\n"));
  for (int i = 0; i < f->list.n; i++)
    {
      if (said_of_twin (job, f, i))
        continue;
      g_autofree char *message = fw_words_trouble (job->mech, &f->room[i], lengths);
      g_string_append_printf (out, "%s: %s%s\n", fw_trouble_name (f->room[i].kind), message,
                              has_twin_line (job, f, i) ? _ (" The other side does the same.") : "");
      for (int k = 0; k < f->n_remedies[i]; k++)
        {
          g_autofree char *remedy = fw_words_remedy (job->mech->design, &f->remedies[i][k], lengths);
          g_autofree char *swing = fw_cli_making_swing (job->mech, &f->room[i], &f->remedies[i][k]);
          say_mends (out, remedy);
          if (swing != NULL)
            g_string_append_printf (out, "      %s\n", swing);
        }
      fw_cli_making_text (out, job->mech, &f->room[i], lengths);
      FwSpring spring;
      g_autofree char *weight = f->has_weight[i] ? fw_words_counterweight (job->mech->design, &f->weights[i], lengths) : NULL;
      g_autofree char *cord = spring_for (job, f, i, &spring) ? fw_words_spring (job->mech, &spring) : NULL;
      if (weight != NULL)
        say_mends (out, weight);
      if (cord != NULL)
        say_mends (out, cord);
    }
  if (f->list.full)
    g_string_append (out, _ ("There is more trouble than this list holds.\n"));
  if (f->patience.cut_short)
    g_string_append (out, not_all_tried ());
  return g_string_free (out, FALSE);
}

int
fw_verb_check (int argc, char **argv)
{
  int status;
  gboolean reach = FALSE;
  FwLengths lengths;
  g_autofree char *format = NULL, *unit = NULL;
  const GOptionEntry entries[] = {
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text (the default) or json"), N_ ("FORMAT") },
    { "reach", 0, 0, G_OPTION_ARG_NONE, &reach, N_ ("People can reach in: list the gaps that pinch too"), NULL },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "check", _ ("What goes wrong over one turn, and what mends it. Exit status 1: trouble was found."),
      entries, &status);
  if (file == NULL)
    return status;
  gboolean json = g_strcmp0 (format, "json") == 0;
  if (format != NULL && !json && strcmp (format, "text") != 0)
    return fw_cli_refuse (_ ("check: --format: expected text or json, found “%s”"), format);
  if (!fw_cli_lengths ("check", unit, &lengths, &status))
    return status;

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  Findings *f = g_new0 (Findings, 1);
  if (find_trouble (&job, f, reach))
    {
      fw_cli_begin_long ();
      find_remedies (&job, f);
      fw_cli_end_long ();
      g_autofree char *text = json ? as_json (&job, f) : as_text (&job, f, lengths);
      if (json && f->patience.cut_short) /* the table has no place for it */
        g_printerr ("%s", not_all_tried ());
      status = fw_cli_print (text, f->list.n > 0 ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
    }
  else
    status = fw_cli_refuse (_ ("check: out of memory"));
  free (f->forces);
  g_free (f);
  fw_job_close (&job);
  return status;
}
