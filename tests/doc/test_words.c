/* Sentences and names. */
#include "support.h"

#include <math.h>
#include <string.h>

#include "doc/words.h"

#define DEG (G_PI / 180)

static FwMechanism *
build (const FwDocument *doc)
{
  FwMechanism *mechanism = NULL;
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &mechanism, NULL), ==, FW_OK);
  return mechanism;
}

static void
assert_says (const FwMechanism *m, FwTrouble trouble, FwLengths lengths, const char *expected)
{
  char *text = fw_words_trouble (m, &trouble, lengths);
  g_assert_cmpstr (text, ==, expected);
  g_free (text);
}

static void
says_trouble_in_plain_sentences (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwMechanism *m = build (doc);
  const FwPart rod = { FW_PART_LINK, 0 }, wing = { FW_PART_MEMBER, 0 },
               left = { FW_PART_MEMBER, 1 };
  const FwPart body = { FW_PART_BODY, 0 }, crank = { FW_PART_CRANK, 0 }, base = { FW_PART_BASE, 0 };

  assert_says (m,
               (FwTrouble){ .kind = FW_CANNOT_CLOSE,
                            .severity = FW_FAILURE,
                            .part = wing,
                            .from = 350 * DEG,
                            .to = 375 * DEG,
                            .worst = 2 * DEG,
                            .value = 3.24,
                            .unit = FW_UNIT_MM },
               FW_LENGTHS_MM,
               "inrod.right cannot be joined to inner.right: it is 3.2 mm too short, so the crank "
               "stops there or "
               "something breaks. This is from 350° to 15° of the crank, worst at 2°.");
  assert_says (
      m,
      (FwTrouble){ .kind = FW_CANNOT_CLOSE,
                   .severity = FW_FAILURE,
                   .part = body,
                   .from = 0,
                   .to = 2 * G_PI,
                   .worst = G_PI,
                   .value = -25.4,
                   .unit = FW_UNIT_MM },
      FW_LENGTHS_INCH,
      "The body cannot be assembled: what carries it is 1 in too long, so the crank stops there or "
      "something breaks. This is so all the turn, worst at 180° of the crank.");
  assert_says (
      m,
      (FwTrouble){ .kind = FW_PAST_STOP,
                   .severity = FW_FAILURE,
                   .part = left,
                   .from = 1 * DEG,
                   .to = 2.26 * DEG,
                   .worst = 2 * DEG,
                   .value = 64.31,
                   .limit = 60,
                   .unit = FW_UNIT_DEG },
      FW_LENGTHS_MM,
      "inner.left is driven to 64.3°, but its stop stands at 60°: it jams against the stop. "
      "This is from 1° to 2.3° of the crank, worst at 2°.");
  assert_says (
      m,
      (FwTrouble){ .kind = FW_WEAK_PUSH,
                   .severity = FW_WARNING,
                   .part = rod,
                   .from = 118.2 * DEG,
                   .to = 168 * DEG,
                   .worst = 150 * DEG,
                   .value = 27.3,
                   .limit = 30,
                   .unit = FW_UNIT_DEG },
      FW_LENGTHS_MM,
      "inrod.right pushes inner.right weakly, at 27.3°: 30° is the least that moves it surely, and "
      "below it "
      "the joint sticks or gives. This is from 118.2° to 168° of the crank, worst at 150°.");
  assert_says (m,
               (FwTrouble){ .kind = FW_HITS,
                            .severity = FW_WARNING,
                            .part = crank,
                            .has_other = true,
                            .other = base,
                            .from = 90 * DEG,
                            .to = 90 * DEG,
                            .worst = 90 * DEG,
                            .value = -0.62,
                            .unit = FW_UNIT_MM },
               FW_LENGTHS_MM,
               "The crank runs into the base plate: they overlap by 0.62 mm there, so one of "
               "them must move or be cut back. This is at 90° of the crank.");
  /* At a dead position: no number of digits that says nothing. */
  assert_says (m,
               (FwTrouble){ .kind = FW_LEAVES_GUIDE,
                            .severity = FW_WARNING,
                            .part = body,
                            .from = 359.99 * DEG,
                            .to = 359.99 * DEG,
                            .worst = 359.99 * DEG,
                            .value = 0.001,
                            .unit = FW_UNIT_MM },
               FW_LENGTHS_MM,
               "The post slips out of its guide: it is 0 mm too short to reach through. This is at "
               "0° of the crank.");
  fw_mechanism_free (m);
  fw_document_free (doc);
}

/* Each kind, as a member's and as a rod's, remark and warning: one line with its part, its number,
 * its place. */
static void
says_part_value_and_place_of_every_kind (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwMechanism *m = build (doc);

  for (int kind = 0; kind < FW_N_TROUBLE_KINDS; kind++)
    for (int variant = 0; variant < 4; variant++)
      {
        FwTrouble t = { .kind = (FwTroubleKind)kind,
                        .severity = variant & 1 ? FW_WARNING : FW_REMARK,
                        .part = { variant & 2 ? FW_PART_LINK : FW_PART_MEMBER, 1 },
                        .from = 10 * DEG,
                        .to = 40 * DEG,
                        .worst = 33 * DEG,
                        .value = 7.7,
                        .limit = 45.6,
                        .unit = FW_UNIT_DEG,
                        .second = variant & 1 };
        if (kind == FW_LEAVES_GUIDE)
          t.part = (FwPart){ FW_PART_BODY, 0 };
        char *text = fw_words_trouble (m, &t, FW_LENGTHS_MM);
        g_assert_nonnull (strstr (text, "7.7"));
        gboolean in_turn = kind < FW_THROW_TOO_SHORT || kind > FW_NO_WAY_IN; /* else of the making */
        g_assert_cmpint (strstr (text, "from 10° to 40° of the crank, worst at 33°.") != NULL, ==, in_turn);
        if (kind <= FW_HITS) /* later kinds may be about the whole sculpture */
          g_assert_nonnull (strstr (text, ".left"));
        g_assert_null (strchr (text, '\n'));
        g_assert_true (g_ascii_isupper (*text) || g_str_has_prefix (text, "in"));
        g_assert_cmpuint (strlen (fw_words_trouble_short ((FwTroubleKind)kind)), >, 3);
        g_free (text);
      }
  fw_mechanism_free (m);
  fw_document_free (doc);
}

static void
says_what_to_change (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  const FwDesign *design = fw_document_design (doc);
  const struct
  {
    const char *path;
    double from, to;
    FwLengths lengths;
    const char *text;
  } table[] = {
    { "rods.inrod.length", 412, 418.5, FW_LENGTHS_MM, "Lengthen inrod from 412 mm to 418.5 mm" },
    { "rods.inrod.length", 412, 406.4, FW_LENGTHS_INCH, "Shorten inrod from 16 7/32 in to 16 in" },
    { "crank.throws.mid.phase", 0, 12, FW_LENGTHS_MM, "Phase of mid: 0° to 12°" },
    { "body.guide.1", 180, 190, FW_LENGTHS_MM, "Guide height: 180 mm to 190 mm" },
    { "panels.inner.stops.1", 60, 64.5, FW_LENGTHS_MM, "Upper stop of inner: 60° to 64.5°" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      FwRemedy remedy = { test_param (doc, table[i].path), table[i].from, table[i].to };
      char *text = fw_words_remedy (design, &remedy, table[i].lengths);
      g_assert_cmpstr (text, ==, table[i].text);
      g_free (text);
    }
  fw_document_free (doc);
}

static void
calls_every_number_something_of_its_own (void)
{
  static const char *const files[]
      = { "all-extras", "two-wings", "rail", "rocker", "from-body-and-panel", "hanging-panel" };

  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      const FwDesign *design = fw_document_design (doc);
      GHashTable *full = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
      GHashTable *grouped = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
      int n = fw_design_params (design, NULL, 0);
      FwParam *params = g_new (FwParam, n);
      fw_design_params (design, params, n);
      for (int i = 0; i < n; i++)
        {
          char *label = fw_param_label (design, params[i]);
          char *group = fw_param_group (design, params[i]);
          char *brief = fw_param_short_label (design, params[i]);
          g_assert_null (strstr (label, "%s"));
          g_assert_cmpuint (strlen (label), >, 2);
          g_assert_true (g_hash_table_add (grouped, g_strdup_printf ("%s/%s", group, brief)));
          if (!g_hash_table_add (full, label))
            g_error ("%s stands twice", label);
          g_free (group);
          g_free (brief);
        }
      g_hash_table_unref (full);
      g_hash_table_unref (grouped);
      g_free (params);
      fw_document_free (doc);
    }
}

static void
names_every_quantity (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwMechanism *m = build (doc);
  GHashTable *seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  int n = fw_quantity_count (m);

  g_assert_cmpint (n, ==, 3 + 2 * 4 + 2 * 3);
  for (int i = 0; i < n; i++)
    {
      double factor;
      FwQuantity quantity = fw_quantity_nth (m, i);
      FwUnit unit = fw_words_quantity_unit (quantity, &factor);
      g_assert_true (g_hash_table_add (seen, fw_words_quantity (m, quantity)));
      g_assert_cmpfloat_with_epsilon (factor, unit == FW_UNIT_DEG ? 57.29577951308232 : 1, 1e-12);
      g_assert_cmpuint (strlen (fw_words_unit (unit)), >, 0);
    }
  g_assert_true (g_hash_table_contains (seen, "Angle of inner.right"));
  g_assert_true (g_hash_table_contains (seen, "Push of inrod.left"));
  g_assert_true (g_hash_table_contains (seen, "Body height"));
  g_assert_cmpstr (fw_words_unit (FW_UNIT_MM), ==, "mm");
  g_assert_cmpstr (fw_words_unit (FW_UNIT_DEG), ==, "deg");
  g_assert_cmpstr (fw_words_unit (FW_UNIT_NONE), ==, "ratio");
  g_hash_table_unref (seen);
  fw_mechanism_free (m);
  fw_document_free (doc);
}

static void
says_why_a_design_cannot_be_built (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  const FwDesign *design = fw_document_design (doc);
  const struct
  {
    FwStatus status;
    FwFault fault;
    const char *part;
  } table[] = {
    { FW_RING, { 'r', 0, NULL }, "inrod" },
    { FW_TWO_RODS, { 'r', 0, "to" }, "inrod" },
    { FW_BAD_NUMBER, { 'p', 0, "span" }, "inner" },
    { FW_BAD_NUMBER, { 't', 1, NULL }, "in" },
    { FW_BAD_REFERENCE, { 'b', 0, "throw" }, "body" },
    { FW_BAD_NUMBER, { 'c', 0, NULL }, "crank" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = fw_words_fault (design, table[i].status, &table[i].fault);
      g_assert_nonnull (strstr (text, table[i].part));
      g_assert_null (strchr (text, '\n'));
      g_free (text);
    }
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/words/says-trouble-in-plain-sentences", says_trouble_in_plain_sentences);
  g_test_add_func ("/doc/words/says-part-value-and-place-of-every-kind",
                   says_part_value_and_place_of_every_kind);
  g_test_add_func ("/doc/words/says-what-to-change", says_what_to_change);
  g_test_add_func ("/doc/words/calls-every-number-something-of-its-own",
                   calls_every_number_something_of_its_own);
  g_test_add_func ("/doc/words/names-every-quantity", names_every_quantity);
  g_test_add_func ("/doc/words/says-why-a-design-cannot-be-built",
                   says_why_a_design_cannot_be_built);
  return g_test_run ();
}
