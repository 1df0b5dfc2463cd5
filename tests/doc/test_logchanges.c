/* What the log says of one change: a row a sentence. */
#include <string.h>

#include "doc/json.h"
#include "doc/logchanges.h"
#include "doc/read.h"
#include "support.h"

static const char base[]
    = "{\"format\":\"flapwright design\",\"version\":1,\"title\":\"Heron\","
      "\"crank\":{\"runs\":\"across\",\"throws\":["
      "{\"name\":\"mid\",\"radius\":40},{\"name\":\"in\",\"radius\":30,\"phase\":180,\"station\":150,\"side\":\"both\"}]},"
      "\"body\":{\"ride\":\"sleeve\",\"throw\":\"mid\",\"post\":420,\"guide\":[0,180]},"
      "\"panels\":[{\"name\":\"inner\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,0,0],\"span\":210,\"material\":\"card\"},"
      "{\"name\":\"outer\",\"side\":\"both\",\"on\":\"inner\",\"hinge\":[210,0,0],\"span\":150},"
      "{\"name\":\"tail\",\"side\":\"middle\",\"on\":\"body\",\"reach\":\"back\",\"hinge\":[0,-40,0],\"span\":90}],"
      "\"rods\":[{\"name\":\"inrod\",\"side\":\"both\",\"from\":{\"throw\":\"in\"},\"to\":{\"panel\":\"inner\",\"at\":[140,0,-12]},"
      "\"length\":412}],"
      "\"springs\":[{\"name\":\"lift\",\"side\":\"middle\",\"from\":{\"base\":[0,0,-60]},\"to\":{\"body\":[0,10,0]},\"rate\":0.02,\"free\":0}],"
      "\"look\":{\"body\":{\"sections\":[[0,-10,10,8],[50,-10,10,8]]},\"panels\":{\"tail\":{\"sections\":[[0,-5,5,4],[50,-2,2,2]],\"eye\":[10,0,3]}}},"
      "\"mine\":{\"list\":[{\"name\":\"a\",\"size\":1},{\"name\":\"b\",\"size\":2}],\"flag\":true,\"text\":\"old\"}}";

static char *
with (const char *from, const char *to)
{
  const char *at = strstr (base, from);
  g_assert_nonnull (at);
  return g_strdup_printf ("%.*s%s%s", (int)(at - base), base, to, at + strlen (from));
}

/* All lines of what is different in the second, one under the other. */
static char *
told (const char *before, const char *after)
{
  FwDocument *a = test_open (before), *b = test_open (after);
  cJSON *was = cJSON_Parse (before), *is = cJSON_Parse (after);
  GPtrArray *lines = fw_tree_changes (was, fw_document_design (a), is, fw_document_design (b), FW_LENGTHS_MM);
  GString *out = g_string_new (NULL);
  for (guint i = 0; i < lines->len; i++)
    g_string_append_printf (out, "%s\n", ((const FwLogLine *)g_ptr_array_index (lines, i))->text);
  g_ptr_array_unref (lines);
  cJSON_Delete (was);
  cJSON_Delete (is);
  fw_document_free (a);
  fw_document_free (b);
  return g_string_free (out, FALSE);
}

/* NULL for what is said the other way round: of that it is only asked that something else is said. */
static const struct
{
  const char *from, *to;
  const char *said, *back;
} table[] = {
  { "\"runs\":\"across\"", "\"runs\":\"along\"", "The crank now runs along.", "The crank now runs across." },
  { "\"radius\":40}", "\"radius\":40,\"station\":9,\"side\":\"both\"}", "Throw mid now has a twin on the other side.",
    "Throw mid no longer has a twin." },
  { "\"throw\":\"mid\"", "\"throw\":\"in\"", "The body is now carried by throw in, before by mid.",
    "The body is now carried by throw mid, before by in." },
  { "\"ride\":\"sleeve\"", "\"ride\":\"fixed\",\"at\":[0,0,400],\"tilt\":0", "The body no longer moves: it is fixed.",
    "The body's post now slides in a swivelling guide." },
  { "\"ride\":\"sleeve\"", "\"ride\":\"rail\",\"rod\":420,\"offset\":0", "The body now slides on a rail.", NULL },
  { "\"ride\":\"sleeve\"", "\"ride\":\"rocker\",\"link\":{\"pivot\":[200,250],\"length\":200,\"on\":250}",
    "The body's post is now held by a rocking link.", NULL },
  { "\"name\":\"outer\",\"side\":\"both\"", "\"name\":\"outer\",\"side\":\"right\"", "outer is now on the right only.",
    "outer is now on both sides." },
  { "\"name\":\"outer\",\"side\":\"both\"", "\"name\":\"outer\",\"side\":\"left\"", "outer is now on the left only.", NULL },
  { "\"name\":\"outer\",\"side\":\"both\",\"on\":\"inner\"", "\"name\":\"outer\",\"side\":\"middle\",\"on\":\"tail\"",
    "outer is now in the middle.", "outer is now hinged to inner, before to tail." },
  { "\"side\":\"both\",\"on\":\"inner\"", "\"side\":\"both\",\"on\":\"body\"", "outer is now hinged to the body, before to inner.",
    "outer is now hinged to inner, before to the body." },
  { "\"reach\":\"back\"", "\"reach\":\"forward\"", "tail now reaches forward.", "tail now reaches back." },
  { "\"reach\":\"back\"", "\"reach\":\"side\"", "tail now reaches to the side.", NULL },
  { "\"span\":150", "\"span\":150,\"outline\":[[0,-30],[150,-20],[150,30]]", "The outline of outer is cut anew.",
    "outer no longer has an outline." },
  { "\"title\":\"Heron\"", "\"title\":\"\"", "There is no longer a title.", "The title is now “Heron”." },
  { "\"title\":\"Heron\",", "", "There is no longer a title.", "The title is now “Heron”." },
  { "\"name\":\"inrod\",\"side\":\"both\"", "\"name\":\"inrod\",\"side\":\"right\"", "inrod is now on the right only.", NULL },
  { "{\"throw\":\"in\"}", "{\"throw\":\"mid\"}", "inrod now starts from mid, before from in.",
    "inrod now starts from in, before from mid." },
  { "{\"throw\":\"in\"}", "{\"body\":[40,0,-80]}", "inrod now starts from the body, before from in.", NULL },
  { "{\"throw\":\"in\"}", "{\"base\":[40,0,-80]}", "inrod now starts from the base, before from in.", NULL },
  { "{\"throw\":\"in\"}", "{\"panel\":\"tail\",\"at\":[40,0,0]}", "inrod now starts from tail, before from in.", NULL },
  { "{\"panel\":\"inner\",", "{\"panel\":\"outer\",", "inrod now drives outer, before inner.", "inrod now drives inner, before outer." },
  { "[50,-10,10,8]]", "[60,-10,10,8]]", "The body is drawn in another shape.", NULL },
  { ",[50,-10,10,8]]", ",[40,-10,10,8],[60,-4,4,4]]", "The body is drawn in another shape.", "The body is drawn in another shape." },
  { "\"eye\":[10,0,3]", "\"eye\":[10,1,3]", "tail is drawn in another shape.", NULL },
  { ",\"eye\":[10,0,3]", "", "tail is drawn in another shape.", "tail is drawn in another shape." },
  { "{\"name\":\"outer\",\"side\":\"both\",\"on\":\"inner\"",
    "{\"name\":\"fin\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,90,0],\"span\":33},{\"name\":\"outer\",\"side\":\"both\",\"on\":\"fin\"",
    "outer is now hinged to fin, before to inner.", "outer is now hinged to inner, before to fin." },
  { "{\"name\":\"tail\",\"side\":\"middle\",\"on\":\"body\"",
    "{\"name\":\"neck\",\"side\":\"middle\",\"on\":\"body\",\"reach\":\"forward\",\"hinge\":[0,90,0],\"span\":33},{\"name\":\"tail\",\"side\":\"middle\",\"on\":\"neck\"",
    "tail is now hinged to neck, before to the body.", "tail is now hinged to the body, before to neck." },
  { "\"side\":\"both\"}]},", "\"side\":\"both\"},{\"name\":\"third\",\"radius\":11,\"station\":-220}]},", "Throw third is new.", "Throw third is gone." },
  { "\"length\":412}],", "\"length\":412},{\"name\":\"tailrod\",\"side\":\"middle\",\"from\":{\"body\":[0,-60,-90]},\"to\":{\"panel\":\"tail\",\"at\":[30,0,0]},\"length\":120}],",
    "Rod tailrod is new.", "Rod tailrod is gone." },
  { "\"material\":\"card\"", "\"material\":\"birch plywood\"", "Material of inner: from card to birch plywood.",
    "Material of inner: from birch plywood to card." },
  { ",\"material\":\"card\"", "", "Material of inner: no longer given, was card.", "Material of inner: now card." },
  { "\"springs\":[{\"name\":\"lift\"", "\"springs\":[{\"name\":\"pull\"", "springs.pull.name: now pull.", "springs.pull.name: no longer given, was pull." },
  { "\"name\":\"lift\",\"side\":\"middle\"", "\"name\":\"lift\",\"side\":\"right\"", "springs.lift.side: from middle to right.", NULL },
  { "\"station\":150,\"side\":\"both\"}]", "\"station\":150,\"side\":\"both\"}],\"counterweights\":[{\"name\":\"lead\",\"mass\":90,\"radius\":20}]",
    "Mass of lead: now 90 g.", "crank.counterweights: no longer given, was [" },
  { "\"free\":0}", "\"free\":0,\"cord\":true}", "springs.lift.cord: now yes.", "springs.lift.cord: no longer given, was yes." },
  { "\"size\":2}", "\"size\":3}", "mine.list.b.size: from 2 to 3.", "mine.list.b.size: from 3 to 2." },
  { ",{\"name\":\"b\",\"size\":2}", "", "mine.list.b.size: no longer given, was 2.", "mine.list.b.size: now 2." },
  { "\"flag\":true", "\"flag\":false", "mine.flag: from yes to no.", "mine.flag: from no to yes." },
  { "\"text\":\"old\"", "\"text\":\"\"", "mine.text: from old to \"\".", "mine.text: from \"\" to old." },
  { "\"text\":\"old\"", "\"text\":\"two\\nlines\"", "mine.text: from old to \"two\\nlines\".", NULL },
  { "\"text\":\"old\"", "\"text\":[1,2,3.5]", "mine.text: from old to 1, 2, 3.5.", "mine.text: from 1, 2, 3.5 to old." },
  { "\"text\":\"old\"", "\"text\":[]", "mine.text: from old to [].", NULL },
  { "\"text\":\"old\"", "\"text\":{\"deep\":1}", "mine.text: from old to {", NULL },
  { ",\"text\":\"old\"", ",\"text\":null", "mine.text: from old to null.", NULL },
};

static void
each_change_is_told_both_ways (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      char *other = with (table[i].from, table[i].to), *said = told (base, other), *back = told (other, base);
      if (!strstr (said, table[i].said) || (table[i].back && !strstr (back, table[i].back)) || !*back)
        g_error ("%s made %s: said\n%sand back\n%s", table[i].from, table[i].to, said, back);
      g_assert_true (g_utf8_validate (said, -1, NULL));
      g_free (other);
      g_free (said);
      g_free (back);
    }
  char *same = told (base, base);
  g_assert_cmpstr (same, ==, "The design is as it was.\n");
  g_free (same);
  char *minus = with ("[[0,-10,10,8]", "[[-0.0,-10,10,8]");
  same = told (base, minus);
  g_assert_cmpstr (same, ==, "The design is as it was.\n");
  g_free (same);
  g_free (minus);
}

/* A part with another name and the same numbers is renamed, one of another shape is new; each is told once. */
static void
parts_that_come_go_and_change_their_name (void)
{
  char *renamed = with ("{\"name\":\"tail\"", "{\"name\":\"fan\"");
  char *plain = g_strdup (renamed), *at = strstr (plain, "\"tail\":");
  memcpy (at, "\"fan\": ", 7); /* its look goes with it */
  char *said = told (base, plain);
  g_assert_cmpstr (said, ==, "Panel tail is now called fan.\n");
  g_free (said);

  char *other = with ("{\"name\":\"tail\",\"side\":\"middle\",\"on\":\"body\",\"reach\":\"back\",\"hinge\":[0,-40,0],\"span\":90}",
                      "{\"name\":\"head\",\"side\":\"middle\",\"on\":\"body\",\"reach\":\"forward\",\"hinge\":[0,70,20],\"span\":60}");
  at = strstr (other, "\"tail\":");
  memcpy (at, "\"head\":", 7);
  said = told (base, other);
  g_assert_nonnull (strstr (said, "Panel tail is gone.\n"));
  g_assert_nonnull (strstr (said, "Panel head is new.\n"));
  g_assert_null (strstr (said, "called"));
  g_free (said);
  g_free (other);
  g_free (plain);
  g_free (renamed);
}

/* Of two designs that both have it, only what is different is told: not the carrier that stays, nor the outline whose
 * points stand where they stood. */
static void
what_stays_is_not_told (void)
{
  static const struct
  {
    const char *from, *one, *two, *said;
  } pairs[] = {
    { "\"span\":150", "\"span\":150,\"outline\":[[0,-30],[150,-20],[150,30]]", "\"span\":150,\"outline\":[[0,-30],[150,-25],[150,30]]",
      "The outline of outer is cut anew.\n" },
    { "\"span\":150", "\"span\":150,\"outline\":[[0,-30],[150,-20],[150,30]]", "\"span\":150,\"outline\":[[0,-30],[150,-20],[150,30]]",
      "The design is as it was.\n" },
    { "{\"throw\":\"in\"}", "{\"panel\":\"tail\",\"at\":[40,0,0]}", "{\"panel\":\"tail\",\"at\":[40,0,0]}", "The design is as it was.\n" },
    { "{\"throw\":\"in\"}", "{\"base\":[40,0,-80]}", "{\"body\":[40,0,-80]}", "inrod now starts from the body, before from the base.\n" },
    { "{\"throw\":\"in\"}", "{\"base\":[40,0,-80]}", "{\"base\":[40,0,-81]}", NULL },
    { "\"ride\":\"sleeve\"", "\"ride\":\"fixed\",\"at\":[0,0,400],\"tilt\":0", "\"ride\":\"fixed\",\"at\":[0,0,400],\"tilt\":0",
      "The design is as it was.\n" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      char *one = with (pairs[i].from, pairs[i].one), *two = with (pairs[i].from, pairs[i].two), *said = told (one, two);
      if (pairs[i].said ? !g_str_has_prefix (said, pairs[i].said) : strstr (said, "starts from") != NULL || strstr (said, "as it was") != NULL)
        g_error ("%s made %s: said\n%s", pairs[i].one, pairs[i].two, said);
      g_free (one);
      g_free (two);
      g_free (said);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/logchanges/each change is told, and the way back too", each_change_is_told_both_ways);
  g_test_add_func ("/doc/logchanges/parts come, go and change their name", parts_that_come_go_and_change_their_name);
  g_test_add_func ("/doc/logchanges/what stays is not told", what_stays_is_not_told);
  return g_test_run ();
}
