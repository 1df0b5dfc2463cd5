/* Bands, remedies, and hardware that mends. */
#include "app/sessionprivate.h"

#include <glib/gi18n.h>

#include "doc/fitweight.h"
#include "doc/loadwords.h"
#include "doc/partedit.h"

const FwBand *
fw_session_bands (FwSession *self, int param_index, double lower, double upper, int *n)
{
  *n = 0;
  if (param_index < 0 || param_index >= (int) self->params->len || !self->solved.known)
    return NULL; /* asked again when the turn is known: what is in sight comes first */
  FwParam param = g_array_index (self->params, FwParam, param_index);
  return fw_worker_bands (self->worker, param_index, param, lower, upper, n);
}

/* Twins share what mends them: asked once, for the first of them. */
static int
first_twin (FwSession *self, int trouble)
{
  const FwTrouble *room = self->solved.troubles.items;
  int i = 0;
  while (i < trouble && !fw_trouble_twins (self->solved.mech, &room[i], &room[trouble]))
    i++;
  return i;
}

const FwRemedy *
fw_session_remedies (FwSession *self, int trouble, int *n, gboolean *done)
{
  *n = 0;
  *done = TRUE;
  if (trouble < 0 || trouble >= self->solved.troubles.n)
    return NULL;
  int first = first_twin (self, trouble);
  return fw_worker_remedies (self->worker, first, &self->solved.troubles.items[first], n, done);
}

gboolean
fw_session_remedies_cut_short (FwSession *self, int trouble)
{
  return trouble >= 0 && trouble < self->solved.troubles.n
         && fw_worker_remedies_cut_short (self->worker, first_twin (self, trouble));
}

void
fw_session_bands_arrived (gpointer data, int index)
{
  fw_session_emit_index (data, FW_SESSION_BANDS, index);
}

void
fw_session_remedies_arrived (gpointer data, int index)
{
  FwSession *self = data;
  for (int i = index; i < self->solved.troubles.n; i++)
    if (first_twin (self, i) == index)
      fw_session_emit_index (self, FW_SESSION_REMEDIES, i);
}

void
fw_session_apply_remedy (FwSession *self, const FwRemedy *remedy)
{
  g_return_if_fail (self->doc != NULL);
  FwChange change = { .param = remedy->param, .value = remedy->to };
  g_autofree char *words = fw_words_remedy (fw_document_design (self->doc), remedy, self->lengths);

  if (fw_session_change (self, &change, 1, words, NULL))
    /* Translators: %s is a remedy, e.g. "Lengthen inrod from 412 mm to 418.5 mm" */
    fw_session_say (self, _("Done: %s"), words);
}

/* ---- Springs and counterweights ---- */

gboolean
fw_session_spring (FwSession *self, int trouble, FwSpring *spring)
{
  if (trouble < 0 || trouble >= self->solved.troubles.n)
    return FALSE;
  const FwTrouble *t = &self->solved.troubles.items[trouble];
  return t->kind == FW_LOAD_REVERSAL && fw_spring_for (self->solved.whole->forces, self->solved.mech, t->part, spring);
}

const FwCounterweight *
fw_session_counterweight (FwSession *self, int trouble)
{
  if (trouble < 0 || trouble >= self->solved.troubles.n)
    return NULL;
  return fw_worker_weight (self->worker, first_twin (self, trouble));
}

const FwSpringFit *
fw_session_spring_fit (FwSession *self, int trouble)
{
  if (trouble < 0 || trouble >= self->solved.troubles.n)
    return NULL;
  return fw_worker_spring (self->worker, first_twin (self, trouble));
}

void
fw_session_fit_spring (FwSession *self, const FwSpringFit *fit)
{
  g_return_if_fail (self->doc != NULL);
  GError *error = NULL;
  g_autofree char *words = fw_words_spring_fit (fw_document_design (self->doc), fit, self->lengths);

  fw_document_fit_spring (self->doc, fit, words, &error);
  if (fw_session_edited (self, error))
    /* Translators: %s is what was fitted, e.g. "A cord from the base to arm, 0.012 N/mm" */
    fw_session_say (self, _("Fitted: %s"), words);
}

void
fw_session_fit_weight (FwSession *self, const FwCounterweight *weight)
{
  g_return_if_fail (self->doc != NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *words = fw_words_counterweight (fw_document_design (self->doc), weight, self->lengths);

  if (!fw_document_fit_weight (self->doc, weight, words, &error))
    {
      fw_session_say (self, "%s", error->message);
      return;
    }
  fw_session_refresh (self, -1);
  /* Translators: %s is what was fitted, e.g. "A counterweight of 140 g on neck, 50 mm outward from its hinge" */
  fw_session_say (self, _("Fitted: %s"), words);
}

/* ---- Edits that are no number of the design ---- */

gboolean
fw_session_edited (FwSession *self, GError *error)
{
  g_autoptr (GError) taken = error;
  if (taken != NULL)
    fw_session_say (self, "%s", taken->message);
  else
    fw_session_refresh (self, -1);
  return taken == NULL;
}
