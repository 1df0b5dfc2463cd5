/* The parser and the printer by themselves. */
#include "support.h"

#include <math.h>
#include <string.h>

#include "doc/json.h"

static gboolean
parses (const char *text)
{
  GError *error = NULL;
  cJSON *tree = fw_json_parse (text, strlen (text), "text", &error);
  if (!tree)
    {
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_SYNTAX);
      test_assert_one_line (error, "text");
    }
  else
    g_assert_no_error (error);
  g_clear_error (&error);
  cJSON_Delete (tree);
  return tree != NULL;
}

static void
accepts_what_rfc_8259_allows (void)
{
  static const char *const texts[] = {
    "0",
    "-0",
    "10",
    "-1.5",
    "0.0",
    "1e5",
    "1E+5",
    "1e-5",
    "12.34e056",
    "1e-400",
    "\"\"",
    "\"\\/\"",
    "true",
    "false",
    "null",
    "[]",
    "{}",
    " [ ] ",
    "[[],{}]",
    "{\"\":0}",
    "{\"a\":1,\"A\":2}",
    "\"\\ud834\\udd1e\"",
    "\"\\uFFFF\"",
    "\"\x7f\"",
    "\"\xc2\x80\"",
    "\"\xf4\x8f\xbf\xbf\"",
    "\"\xef\xbf\xbf\"",
    "\"\xee\x80\x80\"",
    "\"a/b\"",
    "\t\r\n 1 \t\r\n",
    "[1,2,3]",
    "{\"a\":{\"a\":{\"a\":1}}}",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    if (!parses (texts[i]))
      g_error ("refused: %s", texts[i]);
}

static void
refuses_what_rfc_8259_does_not (void)
{
  static const char *const texts[] = {
    "",
    " ",
    "00",
    "-",
    "-a",
    "01",
    "-01",
    "1.",
    ".1",
    "1.e1",
    "1e",
    "1e+",
    "+1",
    "1 2",
    "1,",
    ",1",
    "[",
    "]",
    "[1",
    "[1,",
    "[,]",
    "[1 2]",
    "[1,,2]",
    "{",
    "}",
    "{\"a\"",
    "{\"a\":",
    "{\"a\":1",
    "{\"a\":1,",
    "{\"a\":1,}",
    "{a:1}",
    "{1:1}",
    "{null:1}",
    "{\"a\" 1}",
    "{\"a\"::1}",
    "\"",
    "\"\\",
    "\"\\u",
    "\"\\u12\"",
    "\"\\x\"",
    "\"\\U0041\"",
    "'a'",
    "tru",
    "TRUE",
    "nul",
    "nan",
    "NaN",
    "inf",
    "-Infinity",
    "1e309",
    "-1e309",
    "0x10",
    "1_000",
    "//",
    "/**/1",
    "1//",
    "\"\n\"",
    "\"\x01\"",
    "\"\x1f\"",
    "\x0b"
    "1",
    "\xc2\xa0"
    "1",
    "\xef\xbb\xbf"
    "1",
    "\"\x80\"",
    "\"\xc0\x80\"",
    "\"\xe0\x80\x80\"",
    "\"\xf0\x80\x80\x80\"",
    "\"\xed\xbf\xbf\"",
    "\"\xf5\x80\x80\x80\"",
    "\"\xff\"",
    "{\"a\":1,\"a\":1}",
    "{\"a\":1,\"\\u0061\":1}",
    "\"\\ud800\"",
    "\"\\udfff\"",
    "\"\\udbff\\ue000\"",
    "\"\\u0000\"",
    "[1]]",
    "{}{}",
    "[\"\\\"]",
    "[\xc3\xa9]",
    "{\"a\":\"b\",\"c\"}",
    "[1e5e5]",
    "[1.2.3]",
    "[--1]",
    "[-+1]",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    if (parses (texts[i]))
      g_error ("accepted: %s", texts[i]);
}

static void
ends_where_the_length_says (void)
{
  cJSON *tree = fw_json_parse ("12345", 2, "text", NULL);
  g_assert_cmpfloat (tree->valuedouble, ==, 12);
  cJSON_Delete (tree);
  g_assert_null (fw_json_parse ("true", 3, "text", NULL));
  g_assert_null (fw_json_parse ("\"abc\"", 4, "text", NULL));
  g_assert_null (fw_json_parse ("\"\\ud834\\udd1e\"", 11, "text", NULL));
  g_assert_null (fw_json_parse ("\"\\u0041\"", 5, "text", NULL));
  g_assert_null (fw_json_parse ("1\0", 2, "text", NULL));
}

static char *
nested (int depth, const char *open, const char *close)
{
  GString *text = g_string_new (NULL);
  for (int i = 0; i < depth; i++)
    g_string_append (text, open);
  g_string_append (text, "0");
  for (int i = 0; i < depth; i++)
    g_string_append (text, close);
  return g_string_free (text, FALSE);
}

static void
nests_64_deep_and_no_deeper (void)
{
  static const char *const brackets[][2] = { { "[", "]" }, { "{\"a\":", "}" } };

  for (int kind = 0; kind < 2; kind++)
    for (int depth = 63; depth <= 66; depth++)
      {
        char *text = nested (depth, brackets[kind][0], brackets[kind][1]);
        g_assert_cmpint (parses (text), ==, depth <= 64);
        g_free (text);
      }
}

static void
keeps_numbers_digit_for_digit (void)
{
  static const char text[]
      = "[1.50, 1e2, 123456789012345678901234567890, -0, 0.1000000000000000055511151231257827]\n";
  cJSON *tree = fw_json_parse (text, strlen (text), "text", NULL);
  char *printed = fw_json_print (tree);
  g_assert_cmpstr (printed, ==, text);
  g_free (printed);

  fw_json_set_number (tree->child, 2.5);
  printed = fw_json_print (tree);
  g_assert_true (g_str_has_prefix (printed, "[2.5, 1e2, "));
  g_free (printed);
  cJSON_Delete (tree);
}

static void
prints_the_shortest_number_that_reads_back (void)
{
  static const struct
  {
    double value;
    const char *text;
  } table[] = { { 0, "0" },
                { -0.0, "0" },
                { 1, "1" },
                { -12.5, "-12.5" },
                { 0.1, "0.1" },
                { 0.1 + 0.2, "0.30000000000000004" },
                { 412, "412" },
                { 1e21, "1e+21" },
                { 1.0 / 3, "0.3333333333333333" },
                { 999999.999, "999999.999" },
                { 1e-7, "1e-07" },
                { 5e-324, "4.94065645841247e-324" } };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = fw_json_number_text (table[i].value);
      g_assert_cmpstr (text, ==, table[i].text);
      g_free (text);
    }
  for (int i = 0; i < 20000; i++)
    {
      double value = ldexp (g_test_rand_double_range (-1, 1), g_test_rand_int_range (-60, 60));
      char *text = fw_json_number_text (value);
      g_assert_cmpfloat (g_ascii_strtod (text, NULL), ==, value);
      g_free (text);
    }
}

static void
prints_as_if_by_hand (void)
{
  static const char text[] = "{\n"
                             "  \"title\": \"a \\\"b\\\"\\n\\u007f\",\n"
                             "  \"at\": [1, 2.5, -3],\n"
                             "  \"none\": [],\n"
                             "  \"empty\": {},\n"
                             "  \"throws\": [\n"
                             "    { \"name\": \"mid\", \"radius\": 40 },\n"
                             "    { \"name\": \"in\", \"radius\": 30, \"side\": \"both\" }\n"
                             "  ],\n"
                             "  \"outline\": [\n"
                             "    [0, -30], [100, -40], [200, -30], [300, 10], [310, 20], [300, "
                             "30], [200, 80], [100, 90],\n"
                             "    [0, 60]\n"
                             "  ],\n"
                             "  \"deep\": {\n"
                             "    \"to\": { \"panel\": \"inner\", \"at\": [140, 0, -12] }\n"
                             "  }\n"
                             "}\n";
  cJSON *tree = fw_json_parse (text, strlen (text), "text", NULL);
  char *printed = fw_json_print (tree);
  g_assert_cmpstr (printed, ==, text);
  g_free (printed);
  cJSON_Delete (tree);
}

static void
shortens_values_in_messages (void)
{
  cJSON *tree = fw_json_parse ("[\"ääääääääääääääääääääääääääääääääääääääääääääääää\", 1]", 110,
                               "text", NULL);
  g_assert_null (tree); /* the length cuts a letter or the end off: refused, not read past */
  static const char text[] = "[\"äääääääääääääääääääääääääääääääääääääääääääääääää\", 1]";
  tree = fw_json_parse (text, strlen (text), "text", NULL);
  char *brief = fw_json_brief (tree);
  g_assert_cmpint (g_utf8_strlen (brief, -1), ==, 40);
  g_assert_true (g_str_has_suffix (brief, "ä…"));
  g_free (brief);
  cJSON_Delete (tree);
}

static void
survives_any_cut_and_any_changed_byte (void)
{
  char *text = test_valid_text ("all-extras");
  gsize length = strlen (text);

  for (gsize n = 0; n < length - 2; n++)
    {
      GError *error = NULL;
      char *cut = g_memdup2 (text, n ? n : 1); /* exact size: reading past it is caught */
      g_assert_null (fw_json_parse (cut, n, "text", &error));
      test_assert_one_line (error, "text");
      g_error_free (error);
      g_free (cut);
    }
  for (int i = 0; i < 20000; i++)
    {
      char *changed = g_strdup (text);
      changed[g_test_rand_int_range (0, (gint32)length)] = (char)g_test_rand_int_range (1, 256);
      FwDocument *doc = fw_document_new_from_text (changed, -1, "text", NULL);
      fw_document_free (doc);
      g_free (changed);
    }
  g_free (text);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/json/accepts-what-rfc-8259-allows", accepts_what_rfc_8259_allows);
  g_test_add_func ("/doc/json/refuses-what-rfc-8259-does-not", refuses_what_rfc_8259_does_not);
  g_test_add_func ("/doc/json/ends-where-the-length-says", ends_where_the_length_says);
  g_test_add_func ("/doc/json/nests-64-deep-and-no-deeper", nests_64_deep_and_no_deeper);
  g_test_add_func ("/doc/json/keeps-numbers-digit-for-digit", keeps_numbers_digit_for_digit);
  g_test_add_func ("/doc/json/prints-the-shortest-number-that-reads-back",
                   prints_the_shortest_number_that_reads_back);
  g_test_add_func ("/doc/json/prints-as-if-by-hand", prints_as_if_by_hand);
  g_test_add_func ("/doc/json/shortens-values-in-messages", shortens_values_in_messages);
  g_test_add_func ("/doc/json/survives-any-cut-and-any-changed-byte",
                   survives_any_cut_and_any_changed_byte);
  return g_test_run ();
}
