#include "doc/explain.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/explaintables.h"

#define MOST 160

static const char *const of_param[FW_N_PARAM_KINDS] = {
  [FW_PARAM_SPEED] = "crank-speed",           [FW_PARAM_CRANK_DIAMETER] = "crank-diameter",
  [FW_PARAM_THROW_RADIUS] = "throw-radius",   [FW_PARAM_THROW_PHASE] = "throw-phase",
  [FW_PARAM_THROW_STATION] = "throw-station", [FW_PARAM_THROW_WIDTH] = "throw-width",
  [FW_PARAM_BODY_AT] = "body-at",             [FW_PARAM_BODY_TILT] = "body-tilt-set",
  [FW_PARAM_BODY_ROD] = "rail-rod",           [FW_PARAM_BODY_OFFSET] = "rail-offset",
  [FW_PARAM_BODY_POST] = "post",              [FW_PARAM_BODY_GUIDE] = "guide",
  [FW_PARAM_BODY_PIVOT] = "link-pivot",       [FW_PARAM_BODY_LINK] = "link-length",
  [FW_PARAM_BODY_ON] = "link-on",             [FW_PARAM_BODY_MASS] = "body-mass",
  [FW_PARAM_BODY_CENTRE] = "body-centre",     [FW_PARAM_BODY_GYRATION] = "gyration",
  [FW_PARAM_PANEL_HINGE] = "hinge",           [FW_PARAM_PANEL_SWEEP] = "sweep",
  [FW_PARAM_PANEL_CANT] = "cant",             [FW_PARAM_PANEL_SPAN] = "span",
  [FW_PARAM_PANEL_STOP] = "stop",             [FW_PARAM_PANEL_THICKNESS] = "thickness",
  [FW_PARAM_PANEL_MASS] = "mass",             [FW_PARAM_PANEL_CENTRE] = "panel-centre",
  [FW_PARAM_ROD_FROM] = "rod-from",           [FW_PARAM_ROD_AT] = "rod-hold",
  [FW_PARAM_ROD_LENGTH] = "rod-length",       [FW_PARAM_ROD_NEAR] = "near",
  [FW_PARAM_ROD_DIAMETER] = "rod-diameter",   [FW_PARAM_ROD_MASS] = "mass",
  [FW_PARAM_ROD_LEAN_LIMIT] = "lean-allowed", [FW_PARAM_ROD_BEND_LIMIT] = "bend-allowed",
  [FW_PARAM_HANDLE] = "handle",               [FW_PARAM_ROD_PLAY] = "rod-play",
  [FW_PARAM_BODY_PLAY] = "body-play",         [FW_PARAM_PANEL_PLAY] = "hinge-play",
  [FW_PARAM_SPRING_RATE] = "spring-rate",     [FW_PARAM_SPRING_FREE] = "spring-free",
  [FW_PARAM_SPRING_FROM] = "spring-end",      [FW_PARAM_SPRING_TO] = "spring-end",
  [FW_PARAM_WEIGHT_MASS] = "counterweight-mass",   [FW_PARAM_WEIGHT_RADIUS] = "counterweight-radius",
  [FW_PARAM_WEIGHT_PHASE] = "counterweight-phase", [FW_PARAM_WEIGHT_STATION] = "counterweight-station",
  [FW_PARAM_BODY_DIAMETER] = "post-diameter", [FW_PARAM_CRANK_WALL] = "wall",
  [FW_PARAM_BODY_WALL] = "wall",              [FW_PARAM_ROD_WALL] = "wall",
  [FW_PARAM_PANEL_AREAL] = "sheet-weight",    [FW_PARAM_LUMP_MASS] = "lump-mass",
  [FW_PARAM_LUMP_AT] = "lump-at",             [FW_PARAM_PLATE] = "plate",
  [FW_PARAM_PLATE_TOP] = "plate-top",         [FW_PARAM_BEARING] = "bearing",
  [FW_PARAM_BASE_MASS] = "base-mass",         [FW_PARAM_FRICTION] = "friction",
  [FW_PARAM_PIN_RADIUS] = "pin-radius",       [FW_PARAM_RESTITUTION] = "restitution",
  [FW_PARAM_MARGIN] = "margin",
};

static const char *const of_quantity[FW_N_CURVE_KINDS] = {
  [FW_Q_BODY_H] = "body-shift",  [FW_Q_BODY_Z] = "body-height",   [FW_Q_BODY_TILT] = "body-tilt",
  [FW_Q_ANGLE] = "angle",        [FW_Q_RATE] = "rate",            [FW_Q_RATE2] = "second-rate",
  [FW_Q_OTHER_ROOT] = "other-root", [FW_Q_PUSH] = "push-angle",   [FW_Q_LEAN] = "rod-lean",
  [FW_Q_BEND] = "rod-bend",      [FW_Q_TORQUE] = "crank-torque",  [FW_Q_HANDLE] = "handle-force",
  [FW_Q_FORCE] = "rod-force",    [FW_Q_GUIDE] = "guide-force",    [FW_Q_FOOT] = "foot-load",
  [FW_Q_HINGE] = "hinge-load",   [FW_Q_PIN] = "pin-load",         [FW_Q_BEARING] = "bearing-load",
  [FW_Q_STRESS] = "stress",      [FW_Q_SAG] = "sag",              [FW_Q_SWING] = "swing",
};

/* ---- Finding ---- */

const FwExplain *const *
fw_explain_all (int *n)
{
  static const FwExplain *all[MOST];
  static int n_all;
  static gsize once;

  if (g_once_init_enter (&once))
    {
      const FwExplainTable tables[] = { fw_explain_table_crank (),  fw_explain_table_parts (),
                                        fw_explain_table_extras (), fw_explain_table_motion (),
                                        fw_explain_table_trouble (), fw_explain_table_making () };
      for (gsize t = 0; t < G_N_ELEMENTS (tables); t++)
        for (int i = 0; i < tables[t].n; i++)
          {
            g_assert (n_all < MOST);
            all[n_all++] = &tables[t].list[i];
          }
      g_once_init_leave (&once, 1);
    }
  *n = n_all;
  return all;
}

const FwExplain *
fw_explain_find (const char *id)
{
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  for (int i = 0; i < n && id != NULL; i++)
    if (strcmp (all[i]->id, id) == 0)
      return all[i];
  return NULL;
}

static char *
fold (const char *words)
{
  char *folded = g_utf8_casefold (words, -1);
  return g_strdelimit (folded, "- ", '-');
}

GPtrArray *
fw_explain_search (const char *word)
{
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  g_autofree char *typed = fold (word);
  GPtrArray *exact = g_ptr_array_new (), *holds = g_ptr_array_new ();

  if (fw_explain_find (word) != NULL)
    {
      g_ptr_array_add (exact, (gpointer) fw_explain_find (word));
      n = 0;
    }
  for (int i = 0; i < n; i++)
    {
      g_autofree char *english = fold (all[i]->title), *translated = fold (_ (all[i]->title));
      if (strcmp (all[i]->id, typed) == 0 || strcmp (english, typed) == 0 || strcmp (translated, typed) == 0)
        g_ptr_array_add (exact, (gpointer) all[i]);
      else if (strstr (all[i]->id, typed) || strstr (english, typed) || strstr (translated, typed))
        g_ptr_array_add (holds, (gpointer) all[i]);
    }
  gboolean is_exact = exact->len > 0;
  g_ptr_array_unref (is_exact ? holds : exact);
  return is_exact ? exact : holds;
}

const FwExplain *
fw_explain_param (FwParamKind kind)
{
  return fw_explain_find (of_param[kind]);
}

const FwExplain *
fw_explain_quantity (FwQuantityKind kind)
{
  return fw_explain_find (of_quantity[kind]);
}

const FwExplain *
fw_explain_trouble (FwTroubleKind kind)
{
  return fw_explain_find (fw_trouble_name (kind));
}

const FwExplain *
fw_explain_wish (const char *kind_name)
{
  g_autofree char *id = g_strconcat ("wish-", kind_name, NULL);
  return fw_explain_find (id);
}

/* ---- Words ---- */

const char *
fw_explain_tr (const char *words)
{
  return words != NULL ? _ (words) : NULL;
}

const char *
fw_explain_topic_words (FwTopic topic)
{
  static const char *const words[FW_N_TOPICS] = {
    [FW_TOPIC_CRANK] = N_ ("Crank"),       [FW_TOPIC_BODY] = N_ ("Body"),
    [FW_TOPIC_PANELS] = N_ ("Panels"),     [FW_TOPIC_RODS] = N_ ("Rods"),
    [FW_TOPIC_EXTRAS] = N_ ("Springs, weights, base and drive"),
    [FW_TOPIC_MOTION] = N_ ("Motion"),     [FW_TOPIC_LOADS] = N_ ("Loads"),
    [FW_TOPIC_TROUBLE] = N_ ("Trouble"),   [FW_TOPIC_WISHES] = N_ ("Wishes"),
    [FW_TOPIC_MAKING] = N_ ("Making and measuring"),
  };
  return _ (words[topic]);
}

const char *
fw_explain_caution_words (FwCaution caution)
{
  static const char *const words[FW_N_CAUTIONS] = {
    [FW_CAUTION_PINCH] = N_ ("Moving parts pinch fingers, hair and sleeves. Guard what can be reached; local codes come first."),
    [FW_CAUTION_SPRING] = N_ ("A stretched spring or cord flies when it slips or breaks: wear eye protection and tie it so that it "
                              "cannot fly off."),
    [FW_CAUTION_WEIGHT] = N_ ("A weight that moves can work loose and fall: fix it twice. What hangs or moves overhead is a matter for local "
                              "codes and licensed practice."),
    [FW_CAUTION_MOTOR] = N_ ("A motor does not feel a finger. Guard it, fit a switch within reach, and leave mains wiring to licensed "
                             "people; local codes come first."),
    [FW_CAUTION_TIPPING] = N_ ("What stands free must not fall on anyone: screw it down where people pass. Local codes come first."),
    [FW_CAUTION_CUTTING] = N_ ("Blades, lasers and hot nozzles hurt: protect eyes, hands and breath, know what fumes your material gives, "
                               "and never leave a laser or printer running alone."),
    [FW_CAUTION_STRENGTH] = N_ ("A computed strength is no proof. Load the real part with more than it will bear before anyone stands near "
                                "it; local codes come first."),
  };
  return words[caution] != NULL ? _ (words[caution]) : NULL;
}

const char *
fw_explain_unit_words (const FwExplain *e, FwLengths lengths)
{
  if (e->unit == FW_UNIT_DEG)
    return _ ("degrees");
  const char *symbol = fw_units_symbol (e->unit, lengths);
  return symbol != NULL && *symbol != '\0' ? symbol : NULL;
}

/* Breaks a paragraph after at most 78 letters, with spaces before each line. */
static void
append_wrapped (GString *out, const char *text, const char *indent)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  glong column = 0;
  for (int i = 0; words[i] != NULL; i++)
    {
      glong length = g_utf8_strlen (words[i], -1);
      if (column > 0 && column + 1 + length > 78)
        column = 0;
      if (column == 0)
        {
          g_string_append_printf (out, "%s%s", i > 0 ? "\n" : "", indent);
          column = g_utf8_strlen (indent, -1);
        }
      else
        {
          g_string_append_c (out, ' ');
          column++;
        }
      g_string_append (out, words[i]);
      column += length;
    }
  g_string_append_c (out, '\n');
}

typedef struct
{
  const char *name, *words;
} Fact;

enum { N_FACTS = 5 };

static void
facts_of (const FwExplain *e, FwLengths lengths, Fact facts[N_FACTS])
{
  facts[0] = (Fact){ _ ("Unit"), fw_explain_unit_words (e, lengths) };
  facts[1] = (Fact){ _ ("Sign"), fw_explain_tr (e->positive) };
  facts[2] = (Fact){ _ ("Usually good"), fw_explain_tr (e->usual) };
  facts[3] = (Fact){ _ ("What helps"), fw_explain_tr (e->mend) };
  facts[4] = (Fact){ _ ("Caution"), fw_explain_caution_words (e->caution) };
}

char *
fw_explain_text (const FwExplain *e, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  Fact facts[N_FACTS];

  facts_of (e, lengths, facts);
  g_string_append_printf (out, "%s (%s)\n", _ (e->title), e->id);
  append_wrapped (out, _ (e->text), "  ");
  for (int i = 0; i < N_FACTS; i++)
    if (facts[i].words != NULL)
      {
        /* Translators: what is told of a quantity, and the words: "Unit: mm" */
        g_autofree char *line = g_strdup_printf (_ ("%s: %s"), facts[i].name, facts[i].words);
        append_wrapped (out, line, "  ");
      }
  g_string_append_printf (out, _ ("  More: docs/%s\n"), e->more);
  return g_string_free (out, FALSE);
}

/* ---- The page of the guide ---- */

static void
append_entry (GString *out, const FwExplain *e)
{
  Fact facts[N_FACTS];

  facts_of (e, FW_LENGTHS_MM, facts);
  g_string_append_printf (out, "\n### %s\n\n![%s](pictures/words-%s.png)\n\n%s\n\n", _ (e->title), _ (e->title), e->id, _ (e->text));
  for (int i = 0; i < N_FACTS; i++)
    if (facts[i].words != NULL)
      g_string_append_printf (out, i == N_FACTS - 1 ? "- **%s:** %s\n" : "- %s: %s\n", facts[i].name, facts[i].words);
  g_string_append_printf (out, "- %s: [%s](%s), `%s`\n", _ ("More"), e->more, e->more, e->id);
}

char *
fw_explain_page (void)
{
  int n;
  const FwExplain *const *all = fw_explain_all (&n);
  GString *out = g_string_new ("# Words\n\nEvery quantity that the window shows, in plain words. In the window: F1 on a number, a load, a "
                               "trouble or a wish, or the small button beside it. On the command line: `flapwright-cli explain WORD`; "
                               "this page is what `flapwright-cli explain --page` writes.\n");
  int topic = -1;
  for (int i = 0; i < n; i++)
    {
      if ((int) all[i]->topic != topic)
        g_string_append_printf (out, "\n## %s\n", fw_explain_topic_words (all[i]->topic));
      topic = (int) all[i]->topic;
      append_entry (out, all[i]);
    }
  return g_string_free (out, FALSE);
}
