/* Wishes as typed, as kept in the file, and what is refused before any search. */
#include "aim/wish.h"

#include <math.h>
#include <string.h>

#include "build_design.h"
#include "near.h"

static FwWish
parsed (const FwDesign *d, const char *text)
{
  FwWish wish = { 0 };
  GError *error = NULL;
  fw_wish_parse (d, text, &wish, &error);
  g_assert_no_error (error);
  return wish;
}

static FwWishes *
many (const FwDesign *d, const char *asked, const char *loose)
{
  FwWishes *wishes = fw_wishes_new ();
  g_auto (GStrv) list = g_strsplit (asked, " ", -1);
  g_auto (GStrv) free = g_strsplit (loose, " ", -1);
  for (char **text = list; *text != NULL && **text != '\0'; text++)
    fw_wishes_add (wishes, parsed (d, *text));
  for (char **text = free; *text != NULL && **text != '\0'; text++)
    {
      FwFree item;
      g_assert_true (fw_free_parse (d, *text, &item, NULL));
      fw_wishes_add_free (wishes, item);
    }
  return wishes;
}

static void
test_typed (void)
{
  static const struct
  {
    const char *text;
    FwWishKind kind;
    const char *part;
    double least, most, weight;
  } cases[] = {
    { "inner.top=30", FW_WISH_TOP, "inner", 30, 30, 1 },
    { "inner.left.bottom=..-20*2", FW_WISH_BOTTOM, "inner.left", -INFINITY, -20, 2 },
    { "inner.stroke=50..60", FW_WISH_STROKE, "inner", 50, 60, 1 },
    { "outer@90=12.5", FW_WISH_ANGLE, "outer", 12.5, 12.5, 1 },
    { "outer.angle@-10=12", FW_WISH_ANGLE, "outer", 12, 12, 1 },
    { "outer.after.inner=35", FW_WISH_AFTER, "outer", 35, 35, 1 },
    { "body.travel=6cm", FW_WISH_TRAVEL, NULL, 60, 60, 1 },
    { "body.tilt=..20", FW_WISH_TILT, NULL, -INFINITY, 20, 1 },
    { "push=45", FW_WISH_PUSH, NULL, 45, INFINITY, 1 },
    { "inrod.push=50", FW_WISH_PUSH, "inrod", 50, INFINITY, 1 },
    { "torque=0.6*.5", FW_WISH_TORQUE, NULL, -INFINITY, 0.6, 0.5 },
    { "in.radius=20..45", FW_WISH_NUMBER, NULL, 20, 45, 1 },
  };
  FwDesign *d = build_heron ();
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      FwWishes *room = fw_wishes_new ();
      fw_wishes_add (room, parsed (d, cases[i].text));
      const FwWish *w = &room->list[0];
      g_assert_cmpint (w->kind, ==, cases[i].kind);
      g_assert_cmpstr (w->part, ==, cases[i].part);
      g_assert_cmpfloat (w->least, ==, cases[i].least);
      g_assert_cmpfloat (w->most, ==, cases[i].most);
      g_assert_cmpfloat (w->weight, ==, cases[i].weight);
      fw_wishes_free (room);
    }
  FwWishes *room = many (d, "inrod.length=300,350.5,400 same=inrod.length,rods.outrod.length without=hits,weak-push without=any",
                         "inrod.at.0=..90 outrod.length=200,210");
  g_assert_cmpint (room->list[0].n_among, ==, 3);
  g_assert_cmpstr (room->list[1].numbers[0], ==, "rods.inrod.length");
  g_assert_cmpuint (room->list[2].kinds, ==, (1u << FW_HITS) | (1u << FW_WEAK_PUSH));
  g_assert_cmpuint (room->list[3].kinds, ==, (1u << FW_LOAD_REVERSAL) - 1);
  g_assert_cmpstr (room->free[0].number, ==, "rods.inrod.to.at.0");
  g_assert_true (isnan (room->free[0].least) && room->free[0].most == 90);
  g_assert_cmpint (room->free[1].n_among, ==, 2);
  fw_wishes_free (room);
  fw_design_free (d);
}

static void
test_typed_badly (void)
{
  const char *texts[] = { "inner.top", "inner.top=", "inner.top=x", "inner.top=nan", "inner.top=inf", "inner.top=1e9", "inner.top=3..2",
                          "inner.top=..", "nobody.top=3", "inner.after.nobody=3", "inner@x=3", "inner.top=3*0", "inner.top=3*-1",
                          "inner.top=3*nan", "without=", "without=ghosts", "same=inrod.length", "same=inrod.length,in.phase",
                          "inrod.width=3", "wing=3", "=3", "" };
  FwDesign *d = build_heron ();
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      GError *error = NULL;
      FwWish wish = { .crank_deg = 123 };
      g_assert_false (fw_wish_parse (d, texts[i], &wish, &error));
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
      g_assert_null (strchr (error->message, '\n'));
      assert_near (wish.crank_deg, 123, 0);
      g_error_free (error);
    }
  fw_design_free (d);
}

static void
test_ambiguous (void)
{
  FwDesign *d = build_heron ();
  free (d->rods[0].name);
  d->rods[0].name = strdup ("mid"); /* as the throw is called */
  FwParam param;
  GError *error = NULL;
  g_assert_true (fw_number_from_name (d, "mid.radius", &param, NULL));
  g_assert_true (fw_number_from_name (d, "mid.length", &param, NULL));
  free (d->panels[0].name);
  d->panels[0].name = strdup ("mid");
  g_assert_true (fw_number_from_name (d, "panels.mid.span", &param, NULL));
  /* Throws have a play of none, but panels and rods of one name share `mass`. */
  d->panels[0].has_mass = true;
  g_assert_false (fw_number_from_name (d, "mid.mass", &param, &error));
  g_assert_nonnull (strstr (error->message, "panels.mid.mass"));
  g_assert_nonnull (strstr (error->message, "rods.mid.mass"));
  g_error_free (error);
  fw_design_free (d);
}

static void
test_contradictions (void)
{
  static const struct { const char *asked, *loose; } cases[] = {
    { "", "inrod.length" },
    { "inner.top=30", "" },
    { "inner.top=30 inner.top=20", "inrod.length" },
    { "inner.top=10 inner.bottom=20", "inrod.length" },
    { "inner.top=30 inner.bottom=-20 inner.stroke=60", "inrod.length" },
    { "inner.top=30 inner@90=40", "inrod.length" },
    { "inner.bottom=-30 inner@90=-40", "inrod.length" },
    { "inner.top=200", "inrod.length" },
    { "push=95", "inrod.length" },
    { "inner.stroke=-5", "inrod.length" },
    { "torque=-1", "inrod.length" },
    { "inner.after.inner=10", "inrod.length" },
    { "in.radius=50..60", "inrod.length" },
    { "in.radius=50..60", "in.radius=20..45" },
    { "in.radius=50,60", "in.radius=20..45" },
    { "same=inrod.length,outrod.length", "in.radius" },
    { "inner.top=30", "inrod.length inrod.length" },
    { "inner.top=30", "inrod.length=-5..10" },
    { "inner.top=30", "inrod.length=20..20" },
  };
  FwDesign *d = build_heron ();
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GError *error = NULL;
      FwWishes *wishes = many (d, cases[i].asked, cases[i].loose);
      if (fw_wishes_check (wishes, d, &error))
        g_error ("was not refused: %s, %s", cases[i].asked, cases[i].loose);
      g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
      g_assert_null (strchr (error->message, '\n'));
      g_error_free (error);
      fw_wishes_free (wishes);
    }
  FwWishes *good = many (d, "inner.top=30 inner.bottom=-20 inner.stroke=50 inner@90=5 in.radius=20,25", "inrod.length in.radius=20..45");
  g_assert_true (fw_wishes_check (good, d, NULL));
  good->list[0].least = good->list[0].most = NAN;
  g_assert_false (fw_wishes_check (good, d, NULL));
  fw_wishes_free (good);
  fw_design_free (d);
}

static void
test_put (void)
{
  FwDesign *d = build_heron ();
  FwWishes *wishes = many (d, "inner@90=10 inner@100=12 inner.top=30", "");
  g_assert_cmpint (fw_wishes_put (wishes, parsed (d, "inner@90=15")), ==, 0);
  g_assert_cmpint (fw_wishes_put (wishes, parsed (d, "outer@90=15")), ==, 3);
  g_assert_cmpint (fw_wishes_put (wishes, parsed (d, "inner.top=20")), ==, 2);
  g_assert_cmpint (wishes->n_list, ==, 4);
  g_assert_cmpfloat (wishes->list[0].least, ==, 15);
  g_assert_cmpfloat (wishes->list[1].least, ==, 12);
  fw_wishes_free (wishes);
  fw_design_free (d);
}

/* ---- In the file ---- */

static FwDocument *
open_demo (void)
{
  GError *error = NULL;
  FwDocument *doc = fw_document_load (HERON, &error);
  g_assert_no_error (error);
  return doc;
}

static void
test_file (void)
{
  FwDocument *doc = open_demo ();
  GError *error = NULL;
  FwWishes *none = fw_document_wishes (doc);
  g_assert_cmpint (none->n_list + none->n_free, ==, 0);
  FwWishes *wishes = many (fw_document_design (doc),
                           "arm.top=30*2 tip.stroke=40..60 arm@90=..5 tip.after.arm=35 body.travel=50 push=45 torque=0.5 "
                           "without=hits arm.radius=15,20,25 same=arm-rod.length,tip-rod.length",
                           "arm-rod.length=400..480 arm.radius tip-rod.length=450,460");
  g_assert_true (fw_document_set_wishes (doc, wishes, "Wishes", &error));
  char *text = fw_document_to_text (doc);
  FwDocument *again = fw_document_new_from_text (text, -1, "again", &error);
  g_assert_no_error (error);
  FwWishes *read = fw_document_wishes (again);
  g_assert_cmpint (read->n_list, ==, wishes->n_list);
  for (int i = 0; i < read->n_list; i++)
    {
      const FwWish *a = &wishes->list[i], *b = &read->list[i];
      g_autofree char *one = fw_wish_words (a, FW_LENGTHS_MM);
      g_autofree char *other = fw_wish_words (b, FW_LENGTHS_MM);
      g_assert_cmpstr (one, ==, other);
      g_assert_true (a->kind == b->kind && a->weight == b->weight && a->crank_deg == b->crank_deg && a->kinds == b->kinds
                     && a->least == b->least && a->most == b->most && a->n_among == b->n_among);
    }
  g_assert_cmpint (read->n_free, ==, 3);
  g_assert_true (read->free[0].least == 400 && read->free[0].most == 480 && isnan (read->free[1].least));
  g_assert_true (fw_document_undo (doc));
  g_assert_null (fw_document_section (doc, "wishes"));
  g_assert_true (fw_document_redo (doc));
  g_assert_true (fw_document_set_wishes (doc, none, "No wishes", &error));
  g_assert_null (fw_document_section (doc, "wishes"));
  fw_wishes_free (none);
  fw_wishes_free (wishes);
  fw_wishes_free (read);
  fw_document_free (again);
  fw_document_free (doc);
  g_free (text);
}

/* A newer program's keys in a wish stay, as long as the wish does. */
static void
test_unknown_keys_stay (void)
{
  FwDocument *doc = open_demo ();
  GError *error = NULL;
  g_autofree char *text = fw_document_to_text (doc);
  g_autofree char *end = g_strdup_printf ("%.*s, \"wishes\": {\"why\": \"x\", \"list\": [{\"wish\": \"top\", \"part\": \"arm\", "
                                          "\"value\": 30, \"colour\": 7}], \"free\": []}}",
                                          (int)(strrchr (text, '}') - text), text);
  FwDocument *with = fw_document_new_from_text (end, -1, "with", &error);
  g_assert_no_error (error);
  FwWishes *wishes = fw_document_wishes (with);
  fw_wishes_add (wishes, parsed (fw_document_design (with), "push=45"));
  g_assert_true (fw_document_set_wishes (with, wishes, "One more", NULL));
  g_autofree char *out = fw_document_to_text (with);
  g_assert_nonnull (strstr (out, "\"colour\": 7"));
  g_assert_nonnull (strstr (out, "\"why\": \"x\""));
  fw_wishes_free (wishes);
  fw_document_free (with);
  fw_document_free (doc);
}

/* No more digits than a maker can measure, but none so few that a miss is nothing. */
static void
test_shown (void)
{
  static const struct
  {
    double value;
    const char *shown;
  } cases[] = { { 24, "24.0°" }, { -20.06, "-20.1°" }, { 0, "0.0°" }, { 0.04, "0.04°" } };
  const FwWish wish = { .kind = FW_WISH_TOP };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *shown = fw_wish_value_words (&wish, cases[i].value, FW_LENGTHS_MM);
      g_assert_cmpstr (shown, ==, cases[i].shown);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/wishes/all kinds are understood as typed", test_typed);
  g_test_add_func ("/wishes/what is not understood is refused in one line", test_typed_badly);
  g_test_add_func ("/wishes/a name that may be two numbers is refused with both", test_ambiguous);
  g_test_add_func ("/wishes/impossible and contradicting wishes are refused before any search", test_contradictions);
  g_test_add_func ("/wishes/a newer wish for the same thing takes the place of the older", test_put);
  g_test_add_func ("/wishes/they come back from the file as they went in, and can be undone", test_file);
  g_test_add_func ("/wishes/keys of a newer program stay", test_unknown_keys_stay);
  g_test_add_func ("/wishes/a value has one decimal, two where one would make it nothing", test_shown);
  return g_test_run ();
}
