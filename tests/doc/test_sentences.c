/* Every sentence of trouble, in every form it has: whole, of its own, and about the right parts. */
#include <string.h>

#include "doc/fill.h"
#include "doc/words.h"
#include "support.h"

static FwMechanism *
built (const FwDocument *doc)
{
  FwMechanism *m = NULL;
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &m, NULL), ==, FW_OK);
  return m;
}

static void
assert_whole (const char *text)
{
  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_assert_null (strpbrk (text, "\n%"));
  g_assert_null (strstr (text, "  "));
  g_assert_null (strstr (text, "(null)"));
  g_assert_true (g_str_has_suffix (text, "."));
}

static char *
say (const FwMechanism *m, FwTrouble t)
{
  char *text = fw_words_trouble (m, &t, FW_LENGTHS_MM);
  assert_whole (text);
  return text;
}

static void
throws_without_room_overlap_by_what_is_missing (void)
{
  FwDocument *doc = test_open_valid ("springs");
  FwMechanism *m = built (doc);
  const FwPart first = { FW_PART_CRANK, 1 }, second = { FW_PART_CRANK, 2 };
  FwTrouble t = { .kind = FW_THROWS_COLLIDE, .part = first, .severity = FW_WARNING, .value = -6, .limit = 5, .unit = FW_UNIT_MM,
                  .has_other = TRUE, .other = second };
  g_autofree char *overlap = say (m, t);
  g_assert_nonnull (strstr (overlap, "overlap by 6 mm"));
  t.value = 3;
  g_autofree char *close = say (m, t);
  g_assert_nonnull (strstr (close, "3 mm of room"));
  t.other = (FwPart){ FW_PART_BASE, 0 };
  g_autofree char *beside = say (m, t);
  g_assert_nonnull (strstr (beside, "stands 3 mm from the fittings"));
  t.value = -6;
  g_autofree char *within = say (m, t);
  g_assert_nonnull (strstr (within, "within the fittings of"));
  g_assert_nonnull (strstr (within, "by 6 mm along the axis"));
  fw_mechanism_free (m);
  fw_document_free (doc);
}

/* All that a sentence may turn on, for each kind; parts without a name of their own are called what they are. */
static void
every_kind_of_trouble_is_a_whole_sentence (void)
{
  FwDocument *doc = test_open_valid ("springs");
  FwMechanism *m = built (doc);
  const FwPart rod = { FW_PART_LINK, 0 }, wing = { FW_PART_MEMBER, 0 }, tail = { FW_PART_MEMBER, 2 }, body = { FW_PART_BODY, 0 },
               crank = { FW_PART_CRANK, 0 }, throw_in = { FW_PART_CRANK, 2 }, plate = { FW_PART_BASE, 0 }, ground = { FW_PART_FLOOR, 0 };
  const FwPart parts[] = { rod, wing, tail, body, crank, throw_in, plate };
  static const char *const names[] = { "inrod.right", "inner.right", "tail", "body", "crank", "in", "base" };
  for (int kind = 0; kind < FW_N_TROUBLE_KINDS; kind++)
    {
      g_assert_cmpint (strlen (fw_words_trouble_short ((FwTroubleKind)kind)), >, 2);
      GHashTable *forms = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
      /* A rod that pushes, holds or bends is said with its panel: by either of them, and by nothing else. */
      gboolean pair = kind != FW_HITS && kind != FW_SNAP && kind < FW_LOAD_REVERSAL;
      for (gsize p = 0; p < (pair ? 2 : G_N_ELEMENTS (parts)); p++)
        for (int form = 0; form < 96; form++)
          {
            FwTrouble t = { .kind = (FwTroubleKind)kind, .part = parts[p], .severity = form & 1 ? FW_WARNING : FW_REMARK,
                            .value = form & 2 ? -3 : 3, .limit = form & 16 ? 2 : 5, .unit = FW_UNIT_MM, .second = form & 4,
                            .has_other = form & 8, .other = form < 32 ? body : form < 64 ? plate : ground, .from = form & 8 ? -0.5 : 0.5, .to = 1, .worst = 0.7 };
            g_hash_table_add (forms, say (m, t));
          }
      g_assert_cmpuint (g_hash_table_size (forms), >, 1);
      g_hash_table_unref (forms);
      /* A rod or a panel that runs into something, snaps or slams is named. */
      if (kind == FW_HITS || kind == FW_SNAP || kind == FW_SLAMS)
        for (gsize p = 0; p < 3; p++)
          {
            char *text = say (m, (FwTrouble){ .kind = (FwTroubleKind)kind, .part = parts[p], .value = 3, .limit = 2, .unit = FW_UNIT_MM });
            g_assert_nonnull (strstr (text, names[p]));
            g_free (text);
          }
    }
  g_assert_cmpstr (fw_words_trouble_short (FW_N_TROUBLE_KINDS), ==, "");
  fw_mechanism_free (m);
  fw_document_free (doc);
}

static void
what_is_met_is_named_as_what_it_is (void)
{
  static const struct
  {
    FwPart other;
    const char *said;
  } table[] = { { { FW_PART_BODY, 0 }, "into the body:" },       { { FW_PART_CRANK, 0 }, "into the crank:" },
                { { FW_PART_BASE, 0 }, "into the base plate:" }, { { FW_PART_FLOOR, 0 }, "into the floor:" },
                { { FW_PART_LINK, 1 }, "into inrod.left:" },     { { FW_PART_MEMBER, 2 }, "into tail:" } };
  FwDocument *doc = test_open_valid ("springs");
  FwMechanism *m = built (doc);
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = say (m, (FwTrouble){ .kind = FW_HITS, .part = { FW_PART_LINK, 0 }, .has_other = true, .other = table[i].other,
                                        .value = -2, .unit = FW_UNIT_MM });
      g_assert_nonnull (strstr (text, table[i].said));
      g_free (text);
    }
  fw_mechanism_free (m);
  fw_document_free (doc);
}

/* Units are told apart in what is written, and printed with the digits that makers use. */
static void
every_unit_has_a_sign_and_its_digits (void)
{
  static const struct
  {
    FwUnit unit;
    const char *symbol, *shown;
  } table[] = {
    { FW_UNIT_NONE, "", "2.00" },         { FW_UNIT_MM, "mm", "2.0 mm" },           { FW_UNIT_DEG, "°", "2.0°" },
    { FW_UNIT_G, "g", "2 g" },            { FW_UNIT_TURNS_PER_MINUTE, "turns/min", "2.0 turns/min" },
    { FW_UNIT_PER_RAD, "rad/rad", "2.00 rad/rad" }, { FW_UNIT_PER_RAD2, "rad/rad²", "2.00 rad/rad²" },
    { FW_UNIT_N, "N", "2.0 N" },          { FW_UNIT_NM, "N m", "2.00 N m" },        { FW_UNIT_MPA, "MPa", "2.0 MPa" },
    { FW_UNIT_HZ, "Hz", "2.0 Hz" },       { FW_UNIT_J, "J", "2.0000 J" },           { FW_UNIT_MPS, "m/s", "2.00 m/s" },
    { FW_UNIT_NPMM, "N/mm", "2.000 N/mm" }, { FW_UNIT_GPM2, "g/m²", "2 g/m²" },
  };
  g_assert_cmpint (G_N_ELEMENTS (table), ==, FW_N_UNITS);
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = fw_units_format (2, table[i].unit, FW_LENGTHS_MM, -1);
      g_assert_cmpstr (text, ==, table[i].shown);
      g_assert_cmpstr (fw_units_symbol (table[i].unit, FW_LENGTHS_MM), ==, table[i].symbol);
      g_assert_cmpint (strlen (fw_words_unit (table[i].unit)), >, 0); /* in a table's head, where ° would not do */
      if (strpbrk (table[i].symbol, "°/") == NULL && *table[i].symbol)
        g_assert_cmpstr (fw_words_unit (table[i].unit), ==, table[i].symbol);
      g_free (text);
    }
  /* Lengths only change with the choice of lengths. */
  g_assert_cmpstr (fw_units_symbol (FW_UNIT_MM, FW_LENGTHS_INCH), ==, "in");
  g_assert_cmpstr (fw_units_symbol (FW_UNIT_G, FW_LENGTHS_INCH), ==, "g");
}

static void
every_fault_names_its_part (void)
{
  static const struct
  {
    FwStatus status;
    FwFault fault;
    const char *said;
  } table[] = {
    { FW_BAD_NUMBER, { 'w', 0, "mass" }, "the mass of lead" }, { FW_BAD_NUMBER, { 'e', 0, "rate" }, "the rate of lift" },
    { FW_BAD_NUMBER, { 's', 0, NULL }, "for the base" },       { FW_ON_HANGING, { 'e', 1, "to" }, "for cord to hold" },
    { FW_NO_MEMORY, { 'b', 0, NULL }, "not enough memory" },   { FW_OK, { 'b', 0, NULL }, "can be built" },
  };
  FwDocument *doc = test_open_valid ("springs");
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = fw_words_fault (fw_document_design (doc), table[i].status, &table[i].fault);
      g_assert_nonnull (strstr (text, table[i].said));
      g_assert_null (strchr (text, '\n'));
      g_free (text);
    }
  fw_document_free (doc);
}

/* Every number of designs that have all kinds of parts: a label, a short one, a group and a path of its own, and the
 * path leads back. */
/* What a path begins with says whose number it is: the file's own word for it. */
static char *
owner_in_file (const FwDesign *d, FwParam param)
{
  int i = param.index;
  switch (fw_param_owner (param))
    {
    case FW_OWNER_CRANK:
      return g_strdup ("crank.");
    case FW_OWNER_THROW:
      return g_strdup_printf ("crank.throws.%s.", d->crank.throws[i].name);
    case FW_OWNER_WEIGHT:
      return g_strdup_printf ("crank.counterweights.%s.", d->crank.weights[i].name);
    case FW_OWNER_BODY:
      return g_strdup ("body.");
    case FW_OWNER_LUMP:
      return g_strdup_printf ("body.lumps.%s.", d->body.lumps[i].name);
    case FW_OWNER_PANEL:
      return g_strdup_printf ("panels.%s.", d->panels[i].name);
    case FW_OWNER_ROD:
      return g_strdup_printf ("rods.%s.", d->rods[i].name);
    case FW_OWNER_SPRING:
      return g_strdup_printf ("springs.%s.", d->springs[i].name);
    case FW_OWNER_BASE:
      return g_strdup ("base.");
    case FW_OWNER_DRIVE:
      return g_strdup ("drive.");
    }
  g_assert_not_reached ();
}

static void
every_number_has_a_label_a_path_and_an_owner_of_its_own (void)
{
  gboolean seen[FW_N_PARAM_KINDS] = { FALSE };
  static const char *const files[] = { "springs", "all-extras", "drive-and-weights", "build-and-stock", "rocker", "rail", "print-all", "from-body-and-panel" };
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      const FwDesign *d = fw_document_design (doc);
      GHashTable *labels = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
      int n = fw_design_params (d, NULL, 0);
      FwParam *list = g_new (FwParam, n);
      fw_design_params (d, list, n);
      for (int i = 0; i < n; i++)
        {
          g_autofree char *label = fw_param_label (d, list[i]), *brief = fw_param_short_label (d, list[i]),
                          *group = fw_param_group (d, list[i]), *path = fw_param_path (d, list[i]);
          g_autofree char *owner = owner_in_file (d, list[i]);
          FwParam back;
          seen[list[i].kind] = TRUE;
          g_assert_true (g_str_has_prefix (path, owner));
          g_assert_false (g_str_has_prefix (path + strlen (owner), "throws.")
                          || g_str_has_prefix (path + strlen (owner), "counterweights.")
                          || g_str_has_prefix (path + strlen (owner), "lumps."));
          g_assert_true (*label && *brief && *group);
          g_assert_true (fw_param_from_path (d, path, &back) && fw_param_equal (back, list[i]));
          if (!g_hash_table_add (labels, g_steal_pointer (&label)))
            g_error ("%s: %s has a label that another number has", files[f], path);
        }
      g_free (list);
      g_hash_table_unref (labels);
      fw_document_free (doc);
    }
  for (int k = 0; k < FW_N_PARAM_KINDS; k++)
    g_assert_true (seen[k]); /* or the list of files lacks it */
}

/* A file name or a message of another library may hold anything; an error stays on its line. */
static void
whatever_is_quoted_stays_on_its_line (void)
{
  static const char *const table[][2] = {
    { "plain words", "plain words" },
    { "two\nlines\tand\x7f", "two lines and " },
    { "a\342\200\250b\342\200\251c", "a b c" }, /* line and paragraph separator, U+2028 and U+2029 */
    { "na\303\257ve \302\205", "na\303\257ve  " }, /* U+0085 is a control character */
    { "bad \377", "bad \357\277\275" },
    { "", "" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autofree char *line = fw_one_line (table[i][0]);
      g_assert_cmpstr (line, ==, table[i][1]);
    }
  g_autofree char *filled = fw_fill ("The %s stops.", "100 %d"), *without = fw_fill ("It stops.", "rod");
  g_assert_cmpstr (filled, ==, "The 100 %d stops.");
  g_assert_cmpstr (without, ==, "It stops.");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/sentences/every kind of trouble is a whole sentence", every_kind_of_trouble_is_a_whole_sentence);
  g_test_add_func ("/doc/sentences/throws without room overlap by what is missing",
                   throws_without_room_overlap_by_what_is_missing);
  g_test_add_func ("/doc/sentences/what is met is named as what it is", what_is_met_is_named_as_what_it_is);
  g_test_add_func ("/doc/sentences/every unit has a sign and its digits", every_unit_has_a_sign_and_its_digits);
  g_test_add_func ("/doc/sentences/every fault names its part", every_fault_names_its_part);
  g_test_add_func ("/doc/sentences/every number has a label, a path and an owner of its own",
                   every_number_has_a_label_a_path_and_an_owner_of_its_own);
  g_test_add_func ("/doc/sentences/whatever is quoted stays on its line", whatever_is_quoted_stays_on_its_line);
  return g_test_run ();
}
