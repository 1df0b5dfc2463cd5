#include "aim/conflict.h"

#include <math.h>

#include <glib/gi18n.h>

#define RUNS_EACH 32
#define MET 2.6e-3 /* cost of one wish missed by what still counts as met, 0.05 degree */

static gboolean
on_round (const FwPoint *points, int n, gpointer data)
{
  for (int i = 0; i < n; i++)
    if (points[i].x != NULL && points[i].cost < MET)
      return TRUE;
  return FALSE;
}

/* While wishes are left out, what is told is still the best answer to all of them. */
typedef struct
{
  const FwStartRuns *runs;
  FwPoint best;
  int done; /* runs, counted on from the search */
} Relay;

static gboolean
relay (const FwPoint *best, int done, gpointer data)
{
  const Relay *r = data;
  return r->runs->watch == NULL || r->runs->watch (&r->best, r->done, r->runs->data);
}

/* True if the active wishes were met together. */
static gboolean
can_be_met (const Relay *told, FwStartRuns *spent, const gboolean *active)
{
  const FwStartRuns *main_runs = told->runs;
  FwStartRuns runs = { .problem = main_runs->problem, .active = active, .first = told->best.x, .seed = main_runs->seed + 1,
                       .threads = main_runs->threads, .deadline = main_runs->deadline, .enough = on_round,
                       .watch = relay, .data = (gpointer)told };
  FwPoint points[RUNS_EACH];
  int n = fw_runs (&runs, points, RUNS_EACH);
  gboolean met = on_round (points, n, NULL);
  for (int i = 0; i < RUNS_EACH; i++)
    g_free (points[i].x);
  g_atomic_int_add (&spent->n_tried, runs.n_tried);
  if (g_atomic_int_get (&runs.stop))
    g_atomic_int_set (&spent->stop, 1);
  return met;
}

void
fw_find_conflict (FwAimed *aimed, const FwStartRuns *runs, int n_runs)
{
  const FwProblem *p = runs->problem;
  FwStartRuns *spent = (FwStartRuns *)runs;
  Relay told = { runs, { aimed->answers[0].values, aimed->answers[0].cost }, n_runs };
  g_autofree gboolean *active = g_new (gboolean, p->n_goals);
  for (int i = 0; i < p->n_goals; i++)
    active[i] = TRUE;
  int left = p->n_goals;
  for (int pass = 0; pass < 2; pass++) /* those that are met in the best answer are spared first */
    for (int i = 0; i < p->n_goals && left > 1; i++)
      {
        if (!active[i] || aimed->answers[0].got[i].met != (pass == 0))
          continue;
        active[i] = FALSE;
        told.done += n_runs / (4 * p->n_goals); /* the last fifth of the whole */
        if (can_be_met (&told, spent, active))
          active[i] = TRUE; /* it takes part in the conflict */
        else
          left--;
        if (g_atomic_int_get (&spent->stop))
          return;
      }
  aimed->conflict = g_new0 (int, p->n_goals);
  for (int i = 0; i < p->n_goals; i++)
    if (active[i])
      aimed->conflict[aimed->n_conflict++] = i;
}

/* ---- In a sentence ---- */

static char *
list_of_wishes (const FwAimed *aimed, const FwWishes *wishes, FwLengths lengths)
{
  g_autoptr (GString) list = g_string_new (NULL);
  for (int i = 0; i < aimed->n_conflict; i++)
    {
      g_autofree char *one = fw_wish_words (&wishes->list[aimed->conflict[i]], lengths);
      g_string_append_printf (list, "%s%s", i > 0 ? "; " : "", one);
    }
  return g_string_free (g_steal_pointer (&list), FALSE);
}

static char *
limits_words (const FwAimed *aimed, const FwDesign *design, const FwWishes *wishes, FwLengths lengths)
{
  g_autoptr (GString) list = g_string_new (NULL);
  for (int i = 0; i < aimed->n_limited; i++)
    {
      int k = aimed->limited[i];
      FwParam param;
      if (!fw_param_from_path (design, wishes->free[k].number, &param))
        continue;
      g_autofree char *label = fw_param_label (design, param);
      g_autofree char *value = fw_units_format (aimed->answers[0].values[k], fw_param_unit (param), lengths, 1);
      g_string_append_printf (list, list->len > 0 ? ", %s (%s)" : "%s (%s)", label, value);
    }
  /* Translators: one number or more with its value: "Length of inrod (412 mm), Radius of in (30 mm)". */
  return list->len > 0 ? g_strdup_printf (_ ("What holds it back: %s at its limit."), list->str) : NULL;
}

char *
fw_aimed_words (const FwAimed *aimed, const FwDesign *design, const FwWishes *wishes, FwLengths lengths)
{
  if (aimed->n_answers == 0 || aimed->answers[0].all_met)
    return NULL;
  g_autofree char *held = limits_words (aimed, design, wishes, lengths);
  g_autofree char *text = NULL;
  if (aimed->n_conflict == 1)
    {
      int i = aimed->conflict[0];
      const FwWish *wish = &wishes->list[i];
      g_autofree char *asked = fw_wish_words (wish, lengths);
      g_autofree char *got = fw_wish_value_words (wish, aimed->answers[0].got[i].got, lengths);
      /* Translators: a wish ("top of inner at least 30°"), and the value that it has at best. */
      text = g_strdup_printf (_ ("With these numbers free this cannot be had: %s. The best answer has %s."), asked, got);
    }
  else if (aimed->n_conflict > 1)
    {
      g_autofree char *list = list_of_wishes (aimed, wishes, lengths);
      text = g_strdup_printf (_ ("These wishes cannot be had together with these numbers free: %s. Give up or soften any one of them "
                                 "and the others of these can be met."), list);
    }
  else
    text = g_strdup (_ ("Not every wish was met in the time given."));
  return held != NULL ? g_strdup_printf ("%s %s", text, held) : g_steal_pointer (&text);
}
