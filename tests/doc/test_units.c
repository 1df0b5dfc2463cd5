/* Numbers as people type and read them. Conversions: 1 in = 25.4 mm, 1 lb = 453.59237 g (exact, by
 * the international yard and pound agreement of 1959); inch fractions to 1/64 as rules are divided.
 */
#include "support.h"

#include <locale.h>
#include <math.h>
#include <string.h>

#include "doc/units.h"

typedef struct
{
  const char *text;
  FwUnit unit;
  double value;
} Typed;

static const Typed in_mm[] = {
  { "19", FW_UNIT_MM, 19 },
  { "19 mm", FW_UNIT_MM, 19 },
  { "19mm", FW_UNIT_MM, 19 },
  { " 19 MM ", FW_UNIT_MM, 19 },
  { "2.5cm", FW_UNIT_MM, 25 },
  { "2,5 cm", FW_UNIT_MM, 25 },
  { "0.4 m", FW_UNIT_MM, 400 },
  { ".5", FW_UNIT_MM, 0.5 },
  { ",5", FW_UNIT_MM, 0.5 },
  { "3/4", FW_UNIT_MM, 0.75 },
  { "3/4 in", FW_UNIT_MM, 19.05 },
  { "3/4\"", FW_UNIT_MM, 19.05 },
  { "3 / 4 inch", FW_UNIT_MM, 19.05 },
  { "1 1/2\"", FW_UNIT_MM, 38.1 },
  { "1-1/2\"", FW_UNIT_MM, 38.1 },
  { "1½ in", FW_UNIT_MM, 38.1 },
  { "½″", FW_UNIT_MM, 12.7 },
  { "1 7/8 inches", FW_UNIT_MM, 47.625 },
  { "60/32 in", FW_UNIT_MM, 47.625 },
  { "1.5 in", FW_UNIT_MM, 38.1 },
  { "1'", FW_UNIT_MM, 304.8 },
  { "1 ft", FW_UNIT_MM, 304.8 },
  { "1' 6\"", FW_UNIT_MM, 457.2 },
  { "1'6\"", FW_UNIT_MM, 457.2 },
  { "1' 6", FW_UNIT_MM, 457.2 },
  { "1' 6 1/2\"", FW_UNIT_MM, 469.9 },
  { "1'-6 1/2\"", FW_UNIT_MM, 469.9 },
  { "1 ft 6 1/2 in", FW_UNIT_MM, 469.9 },
  { "1′ 6½″", FW_UNIT_MM, 469.9 },
  { "1'½\"", FW_UNIT_MM, 317.5 },
  { "-19", FW_UNIT_MM, -19 },
  { "−19 mm", FW_UNIT_MM, -19 },
  { "- 1 1/2\"", FW_UNIT_MM, -38.1 },
  { "-1' 6\"", FW_UNIT_MM, -457.2 },
  { "+3", FW_UNIT_MM, 3 },
  { "007", FW_UNIT_MM, 7 },
  { "\u00a019\u00a0mm", FW_UNIT_MM, 19 },
  { "30", FW_UNIT_DEG, 30 },
  { "30 deg", FW_UNIT_DEG, 30 },
  { "30°", FW_UNIT_DEG, 30 },
  { "30,5 °", FW_UNIT_DEG, 30.5 },
  { "-12.5 degrees", FW_UNIT_DEG, -12.5 },
  { "0.5 rad", FW_UNIT_DEG, 28.64788975654116 },
  { "1/2 rad", FW_UNIT_DEG, 28.64788975654116 },
  { "120", FW_UNIT_G, 120 },
  { "120 g", FW_UNIT_G, 120 },
  { "0.2 kg", FW_UNIT_G, 200 },
  { "1 lb", FW_UNIT_G, 453.59237 },
  { "16 oz", FW_UNIT_G, 453.59237 },
  { "40", FW_UNIT_TURNS_PER_MINUTE, 40 },
  { "40 /min", FW_UNIT_TURNS_PER_MINUTE, 40 },
  { "40 1/min", FW_UNIT_TURNS_PER_MINUTE, 40 },
  { "40 turns/min", FW_UNIT_TURNS_PER_MINUTE, 40 },
  { "0.5 /s", FW_UNIT_TURNS_PER_MINUTE, 30 },
  { "1.25", FW_UNIT_NONE, 1.25 },
  { "-0,75", FW_UNIT_PER_RAD, -0.75 },
};

static const Typed in_inches[] = {
  { "1", FW_UNIT_MM, 25.4 },   { "3/4", FW_UNIT_MM, 19.05 },  { "1 1/2", FW_UNIT_MM, 38.1 },
  { "19 mm", FW_UNIT_MM, 19 }, { "1' 6", FW_UNIT_MM, 457.2 }, { "-1/64", FW_UNIT_MM, -0.396875 },
  { "30", FW_UNIT_DEG, 30 },
};

static void
assert_reads (const Typed *typed, FwLengths lengths)
{
  GError *error = NULL;
  double value = -99;

  if (!fw_units_parse (typed->text, typed->unit, lengths, &value, &error))
    g_error ("%s: %s", typed->text, error->message);
  g_assert_cmpfloat_with_epsilon (value, typed->value, 1e-12 * MAX (1, fabs (typed->value)));
}

static void
reads_what_makers_type (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (in_mm); i++)
    assert_reads (&in_mm[i], FW_LENGTHS_MM);
  for (gsize i = 0; i < G_N_ELEMENTS (in_inches); i++)
    assert_reads (&in_inches[i], FW_LENGTHS_INCH);
}

static void
refuses_the_rest_with_one_line (void)
{
  static const Typed bad[] = {
    { "", FW_UNIT_MM, 0 },
    { "  ", FW_UNIT_MM, 0 },
    { "mm", FW_UNIT_MM, 0 },
    { "abc", FW_UNIT_MM, 0 },
    { "1 2", FW_UNIT_MM, 0 },
    { "1/0", FW_UNIT_MM, 0 },
    { "1//2", FW_UNIT_MM, 0 },
    { "1/2/3", FW_UNIT_MM, 0 },
    { "1 3/2 in", FW_UNIT_MM, 0 },
    { "1.5 1/2", FW_UNIT_MM, 0 },
    { "1,234.5", FW_UNIT_MM, 0 },
    { "1.2.3", FW_UNIT_MM, 0 },
    { "--1", FW_UNIT_MM, 0 },
    { "1-", FW_UNIT_MM, 0 },
    { "19 deg", FW_UNIT_MM, 0 },
    { "19 mm mm", FW_UNIT_MM, 0 },
    { "19 mmm", FW_UNIT_MM, 0 },
    { "1' 2'", FW_UNIT_MM, 0 },
    { "1\" 2'", FW_UNIT_MM, 0 },
    { "1' 2 mm", FW_UNIT_MM, 0 },
    { "30 mm", FW_UNIT_DEG, 0 },
    { "30'", FW_UNIT_DEG, 0 },
    { "1e3", FW_UNIT_MM, 0 },
    { "0x10", FW_UNIT_MM, 0 },
    { "nan", FW_UNIT_MM, 0 },
    { "inf", FW_UNIT_MM, 0 },
    { "1 mm", FW_UNIT_NONE, 0 },
    { "120 mm", FW_UNIT_G, 0 },
    { "\xff", FW_UNIT_MM, 0 },
    { "1\xc2", FW_UNIT_MM, 0 },
    { "1\n2", FW_UNIT_MM, 0 },
    { ".", FW_UNIT_MM, 0 },
    { "-", FW_UNIT_MM, 0 },
    { "½½", FW_UNIT_MM, 0 },
    { "40 rad", FW_UNIT_TURNS_PER_MINUTE, 0 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      GError *error = NULL;
      double value = -99;
      if (fw_units_parse (bad[i].text, bad[i].unit, FW_LENGTHS_MM, &value, &error))
        g_error ("'%s' was read as %g", bad[i].text, value);
      g_assert_cmpfloat (value, ==, -99);
      g_assert_nonnull (error);
      g_assert_null (strpbrk (error->message, "\n\r"));
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      g_error_free (error);
    }
  double value;
  g_assert_false (fw_units_parse (NULL, FW_UNIT_MM, FW_LENGTHS_MM, &value, NULL));
}

static void
survives_hostile_text (void)
{
  static const char alphabet[] = "0123456789.,/-+'\" mincftdegra½″°\xc2\xff\t";
  char *long_number = g_strnfill (100000, '9');
  char *almost_long = g_strnfill (119, '9');
  double value;

  g_assert_false (fw_units_parse (long_number, FW_UNIT_MM, FW_LENGTHS_MM, &value, NULL));
  g_assert_true (fw_units_parse (almost_long, FW_UNIT_MM, FW_LENGTHS_MM, &value, NULL));
  g_assert_cmpfloat_with_epsilon (value / 1e119, 1, 1e-9);
  g_free (long_number);
  g_free (almost_long);
  for (int i = 0; i < 200000; i++)
    {
      char text[16] = { 0 };
      int n = g_test_rand_int_range (0, 15);
      for (int k = 0; k < n; k++)
        text[k] = alphabet[g_test_rand_int_range (0, sizeof alphabet - 1)];
      value = 0;
      fw_units_parse (text, (FwUnit)g_test_rand_int_range (0, 7), (FwLengths)(i & 1), &value, NULL);
      g_assert_true (isfinite (value));
    }
}

static void
prints_inches_as_rules_are_divided (void)
{
  static const struct
  {
    double mm;
    const char *text;
  } table[] = {
    { 0, "0 in" },          { 25.4, "1 in" },        { 47.625, "1 7/8 in" },
    { 19.05, "3/4 in" },    { 412.75, "16 1/4 in" }, { 3.175, "1/8 in" },
    { 2.38125, "3/32 in" }, { 0.396875, "1/64 in" }, { 0.5953125, "1/32 in" }, /* half of 1/64 goes up */
    { 0.595, "1/64 in" },    { 25.2015625, "1 in" },  { 25.2015, "63/64 in" },
    { -38.1, "-1 1/2 in" }, { -0.1, "-0.004 in" },   { 609.6, "24 in" },
    { 0.15, "0.006 in" },   { 0.3965, "0.016 in" },  { 0.01, "0 in" }, /* play, sag: less than 1/64 */
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = fw_units_format (table[i].mm, FW_UNIT_MM, FW_LENGTHS_INCH, -1);
      g_assert_cmpstr (text, ==, table[i].text);
      g_free (text);
    }
}

static void
prints_as_many_digits_as_makers_cut (void)
{
  static const struct
  {
    double value;
    FwUnit unit;
    int digits;
    const char *text, *bare;
  } table[] = {
    { 412.5, FW_UNIT_MM, -1, "412.5 mm", "412.5" },
    { 412, FW_UNIT_MM, -1, "412.0 mm", "412.0" },
    { 412.04, FW_UNIT_MM, 3, "412.040 mm", "412.040" },
    { 30, FW_UNIT_DEG, -1, "30.0°", "30.0" },
    { -0.04, FW_UNIT_MM, -1, "0.0 mm", "0.0" },
    { -0.06, FW_UNIT_MM, -1, "-0.1 mm", "-0.1" },
    { 160, FW_UNIT_G, -1, "160 g", "160" },
    { 40, FW_UNIT_TURNS_PER_MINUTE, 0, "40 turns/min", "40" },
    { 1.5, FW_UNIT_NONE, -1, "1.50", "1.50" },
    { NAN, FW_UNIT_MM, -1, "—", "—" },
    { -INFINITY, FW_UNIT_DEG, -1, "—", "—" },
    { 1, FW_UNIT_MM, 99, "1.000000000000 mm", "1.000000000000" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *text = fw_units_format (table[i].value, table[i].unit, FW_LENGTHS_MM, table[i].digits);
      char *bare
          = fw_units_format_bare (table[i].value, table[i].unit, FW_LENGTHS_MM, table[i].digits);
      g_assert_cmpstr (text, ==, table[i].text);
      g_assert_cmpstr (bare, ==, table[i].bare);
      g_free (text);
      g_free (bare);
    }
  char *huge = fw_units_format (1e300, FW_UNIT_MM, FW_LENGTHS_INCH, -1);
  g_assert_cmpuint (strlen (huge), <, 30);
  g_free (huge);
}

/* Whatever is printed can be typed back. */
static void
reads_back_what_it_prints (void)
{
  for (int i = 0; i < 20000; i++)
    {
      FwUnit unit = (FwUnit)g_test_rand_int_range (0, 7);
      FwLengths lengths = i & 1 ? FW_LENGTHS_INCH : FW_LENGTHS_MM;
      double value = g_test_rand_double_range (-2000, 2000), back;
      double slack = unit == FW_UNIT_MM && lengths == FW_LENGTHS_INCH ? 25.4 / 128 : 0.0005;
      char *text = fw_units_format (value, unit, lengths, 3);
      char *bare = fw_units_format_bare (value, unit, lengths, 3);
      g_assert_true (fw_units_parse (text, unit, lengths, &back, NULL));
      g_assert_cmpfloat_with_epsilon (back, value, slack + 1e-9);
      g_assert_true (fw_units_parse (bare, unit, lengths, &back, NULL));
      g_assert_cmpfloat_with_epsilon (back, value, slack + 1e-9);
      g_free (text);
      g_free (bare);
    }
}

static void
follows_the_locale_and_understands_any (void)
{
  char *folder = test_new_folder ();
  if (test_use_german_locale (folder))
    {
      char *text = fw_units_format (412.5, FW_UNIT_MM, FW_LENGTHS_MM, -1);
      g_assert_cmpstr (text, ==, "412,5 mm");
      g_free (text);
      for (gsize i = 0; i < G_N_ELEMENTS (in_mm); i++)
        assert_reads (&in_mm[i], FW_LENGTHS_MM);
      reads_back_what_it_prints ();
      setlocale (LC_ALL, "C.UTF-8");
    }
  else
    g_test_skip ("this machine has no German number marks");
  test_remove_folder (folder);
  g_free (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/units/reads-what-makers-type", reads_what_makers_type);
  g_test_add_func ("/doc/units/refuses-the-rest-with-one-line", refuses_the_rest_with_one_line);
  g_test_add_func ("/doc/units/survives-hostile-text", survives_hostile_text);
  g_test_add_func ("/doc/units/prints-inches-as-rules-are-divided",
                   prints_inches_as_rules_are_divided);
  g_test_add_func ("/doc/units/prints-as-many-digits-as-makers-cut",
                   prints_as_many_digits_as_makers_cut);
  g_test_add_func ("/doc/units/reads-back-what-it-prints", reads_back_what_it_prints);
  g_test_add_func ("/doc/units/follows-the-locale-and-understands-any",
                   follows_the_locale_and_understands_any);
  return g_test_run ();
}
