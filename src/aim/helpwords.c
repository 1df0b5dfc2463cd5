/* What helps, as it is typed and told. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "aim/helps.h"
#include "doc/words.h"

#define RADIANS (G_PI / 180)

static gboolean
fail (GError **error, const char *text)
{
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID,
               _ ("“%s”: expected PANEL.top, PANEL.bottom, PANEL@CRANK, ROD.push, ROD.lean, ROD.bend, body.z.top, "
                  "body.tilt@CRANK, torque or the like"), text);
  return FALSE;
}

/* What stands before a word, if the text ends in it. */
static char *
before (const char *text, const char *word)
{
  return g_str_has_suffix (text, word) ? g_strndup (text, strlen (text) - strlen (word)) : NULL;
}

/* "body.z", "body.tilt", PANEL, PANEL.angle, ROD.push ... */
static gboolean
quantity_of (const FwMechanism *mech, const char *subject, FwQuantity *q)
{
  static const struct { const char *word; FwQuantityKind kind; } words[]
      = { { ".push", FW_Q_PUSH }, { ".lean", FW_Q_LEAN }, { ".bend", FW_Q_BEND }, { ".angle", FW_Q_ANGLE }, { ".rate", FW_Q_RATE },
          { "", FW_Q_ANGLE } };
  if (strcmp (subject, "body.h") == 0 || strcmp (subject, "body.z") == 0 || strcmp (subject, "body.tilt") == 0)
    {
      *q = (FwQuantity) { subject[5] == 'h' ? FW_Q_BODY_H : subject[5] == 'z' ? FW_Q_BODY_Z : FW_Q_BODY_TILT, 0 };
      return TRUE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autofree char *part = before (subject, words[i].word);
      gboolean of_link = words[i].kind == FW_Q_PUSH || words[i].kind == FW_Q_LEAN || words[i].kind == FW_Q_BEND;
      int index = part == NULL ? -1 : of_link ? fw_wish_link (mech, part) : fw_wish_member (mech, part);
      if (index < 0)
        continue;
      *q = (FwQuantity) { words[i].kind, index };
      return TRUE;
    }
  return FALSE;
}

static gboolean
parse (const FwMechanism *mech, const char *text, FwHelpOf *of)
{
  g_autofree char *top = before (text, ".top");
  g_autofree char *bottom = before (text, ".bottom");
  const char *at = strrchr (text, '@');
  FwQuantity *q = &of->quantity;
  if (strcmp (text, "torque") == 0)
    {
      of->kind = FW_HELP_TORQUE;
      return TRUE;
    }
  if (at != NULL)
    {
      g_autofree char *subject = g_strndup (text, (gsize)(at - text));
      char *end;
      double crank = g_ascii_strtod (at + 1, &end);
      of->kind = FW_HELP_POSE;
      of->crank = crank * RADIANS;
      return at[1] != '\0' && *end == '\0' && fabs (crank) < 1e6 && quantity_of (mech, subject, q);
    }
  of->kind = FW_HELP_GREATEST;
  if (top != NULL && quantity_of (mech, top, q))
    return TRUE;
  of->kind = bottom != NULL ? FW_HELP_LEAST : FW_HELP_GREATEST;
  if (bottom != NULL && quantity_of (mech, bottom, q))
    return TRUE;
  if (!quantity_of (mech, text, q))
    return FALSE;
  of->kind = q->kind == FW_Q_PUSH ? FW_HELP_LEAST : FW_HELP_GREATEST;
  return q->kind == FW_Q_PUSH || q->kind == FW_Q_LEAN || q->kind == FW_Q_BEND || q->kind == FW_Q_RATE;
}

gboolean
fw_help_parse (const FwDesign *design, const char *text, FwHelpOf *out, GError **error)
{
  FwMechanism *mech = NULL;
  FwHelpOf of = { 0 };
  if (fw_mechanism_build (design, &mech, NULL) != FW_OK)
    return fail (error, text);
  gboolean good = parse (mech, text, &of);
  fw_mechanism_free (mech);
  if (!good)
    return fail (error, text);
  *out = of;
  return TRUE;
}

double
fw_help_shown (const FwHelpOf *of, const FwHelp *help, FwLengths lengths)
{
  double inch = lengths == FW_LENGTHS_INCH ? 25.4 : 1;
  double of_what = fw_help_unit (of) == FW_UNIT_MM ? inch : 1;
  double per = fw_param_unit (help->param) == FW_UNIT_MM ? inch : 1;
  return help->effect / of_what * per;
}

/* "+0.41° per mm" */
static char *
effect_words (const FwHelpOf *of, const FwHelp *help, FwLengths lengths)
{
  const char *symbol = fw_units_symbol (fw_help_unit (of), lengths);
  const char *per = fw_units_symbol (fw_param_unit (help->param), lengths);
  double effect = fw_help_shown (of, help, lengths);
  /* Translators: by how much a quantity changes, and for one unit of what: "+0.41° per mm". */
  if (symbol[0] == '\0')
    return g_strdup_printf (_ ("%+.3g per %s"), effect, per);
  return fw_help_unit (of) == FW_UNIT_DEG ? g_strdup_printf (_ ("%+.3g° per %s"), effect, per)
                                          : g_strdup_printf (_ ("%+.3g %s per %s"), effect, symbol, per);
}

char *
fw_help_words (const FwDesign *design, const FwHelpOf *of, const FwHelp *help, FwLengths lengths)
{
  g_autofree char *label = fw_param_label (design, help->param);
  g_autofree char *by = effect_words (of, help, lengths);
  g_autofree char *effect = of->kind != FW_HELP_TROUBLE                              ? g_strdup (by)
                            : help->effect * fw_help_better (&of->trouble) > 0 ? g_strdup_printf (_ ("more helps, %s"), by)
                                                                                : g_strdup_printf (_ ("less helps, %s"), by);
  if (!help->has_reach)
    /* Translators: the name of a number, and what changing it does: "Length of inrod: +0.41° per mm". */
    return g_strdup_printf (C_ ("number and effect", "%s: %s"), label, effect);
  FwUnit unit = fw_param_unit (help->param);
  g_autofree char *from = fw_units_format (help->from, unit, lengths, 1);
  g_autofree char *to = fw_units_format (help->to, unit, lengths, 1);
  return g_strdup_printf (_ ("%s: %s; from %s to %s no new trouble"), label, effect, from, to);
}
