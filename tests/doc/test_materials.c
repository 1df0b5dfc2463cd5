/* Materials: the table, a maker's own values, and the masses they imply. */
#include <math.h>

#include <cjson/cJSON.h>

#include "doc/materials.h"
#include "support.h"

static const char design[]
    = "{\"format\":\"flapwright design\",\"version\":1,%s"
      "\"crank\":{\"runs\":\"across\",\"throws\":[{\"name\":\"a\",\"radius\":20}],"
      "\"diameter\":15.875,\"wall\":0.7112,\"material\":\"copper tube\"},"
      "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,300],\"tilt\":0,\"lumps\":[{\"name\":\"lamp\",\"mass\":40,\"at\":[0,9,8]}]},"
      "\"panels\":[{\"name\":\"w\",\"side\":\"right\",\"on\":\"body\",\"hinge\":[20,0,0],\"span\":200,"
      "\"outline\":[[0,-50],[200,-50],[200,50],[0,50]],\"thickness\":4,\"material\":\"corrugated C board\"}],"
      "\"rods\":[{\"name\":\"r\",\"side\":\"right\",\"from\":{\"throw\":\"a\"},\"to\":{\"panel\":\"w\",\"at\":[80,0,0]},"
      "\"length\":300,\"diameter\":3.175%s}]}";

static FwDocument *
open_with (const char *top, const char *rod)
{
  g_autofree char *text = g_strdup_printf (design, top, rod);
  return test_open (text);
}

static void
test_longest_name (void)
{
  FwStuff stuff = { 0 };

  g_assert_true (fw_material_find ("Corrugated BC, two walls", NULL, &stuff));
  g_assert_cmpfloat_with_epsilon (stuff.density_kgm3, 98, 1e-9);
  g_assert_true (fw_material_find ("hard COPPER tube", NULL, &stuff));
  g_assert_cmpfloat_with_epsilon (stuff.young_GPa, 117, 1e-9);
  g_assert_false (fw_material_find ("moonbeam", NULL, &stuff));
  g_assert_cmpfloat_with_epsilon (stuff.young_GPa, 117, 1e-9);
}

static void
test_tube_mass (void)
{
  /* Copper tube 15 x 1 weighs 0.391 kg/m in an EN 1057 table (seen; it counts with 8.9). */
  FwDocument *doc = open_with ("", ",\"material\":\"copper\",\"wall\":1");
  test_change (doc, "rods.r.diameter", 15, NULL);
  g_assert_cmpfloat_with_epsilon (fw_document_design (doc)->rods[0].mass_g, 391 * 0.3 * 8.94 / 8.9, 0.2);
  fw_document_free (doc);
}

static void
test_no_material_no_mass (void)
{
  FwDocument *doc = open_with ("", "");
  const FwDesign *d = fw_document_design (doc);

  g_assert_cmpfloat (d->rods[0].mass_g, ==, 0);
  g_assert_cmpfloat (d->rods[0].stuff.young_GPa, ==, 0);
  g_assert_cmpfloat_with_epsilon (d->panels[0].areal_gm2, 460, 1e-9); /* 115 kg/m3 x 4 mm */
  g_assert_cmpfloat_with_epsilon (d->crank.wall_mm, 0.7112, 1e-12);
  g_assert_cmpint (d->body.n_lumps, ==, 1);
  g_assert_cmpfloat (d->body.lumps[0].at_mm.y, ==, 9);
  fw_document_free (doc);
}

static void
test_own_values (void)
{
  FwDocument *doc = open_with ("\"stock\":{\"materials\":{\"corrugated c\":{\"density\":130}}},", "");
  const FwPanel *p = &fw_document_design (doc)->panels[0];

  g_assert_cmpfloat_with_epsilon (p->areal_gm2, 520, 1e-9);
  g_assert_cmpfloat_with_epsilon (p->stuff.young_GPa, 0.84, 1e-9); /* the table's, where not overridden */
  fw_document_free (doc);
}

static void
refuse (const char *top, const char *rod, const char *place)
{
  g_autofree char *text = g_strdup_printf (design, top, rod);
  g_autoptr (GError) error = NULL;

  g_assert_null (fw_document_new_from_text (text, -1, "x.flap", &error));
  test_assert_one_line (error, "x.flap");
  g_assert_nonnull (strstr (error->message, place));
}

static void
test_refused (void)
{
  refuse ("\"stock\":{\"materials\":{\"oak\":{\"density\":-1}}},", "", "stock.materials");
  refuse ("\"stock\":{\"materials\":{\"oak\":3}},", "", "stock.materials");
  refuse ("\"drive\":{\"restitution\":2},", "", "drive.restitution");
  refuse ("\"drive\":{\"by\":\"wind\"},", "", "drive.by");
  refuse ("\"base\":{\"hung\":1},", "", "base.hung");
  refuse ("", ",\"wall\":2", "rods[0].wall");
  refuse ("", ",\"play\":-1", "rods[0].play");
}

/* A design's own materials come after the table's, each once; what they state takes the place of what the table has
 * for the same word, and the rest stays. The longest name in a word counts, and one of no letters never does. */
static void
own_materials_stand_beside_the_table (void)
{
  cJSON *own = cJSON_Parse ("{\"Copper\":{\"density\":1},\"copper\":{\"yield\":99},\"moon cheese\":{\"density\":3400},"
                            "\"moon\":{\"density\":5},\"\":{\"density\":7}}");
  GPtrArray *plain = fw_material_names (NULL), *names = fw_material_names (own);
  g_assert_cmpuint (plain->len, >, 5);
  g_assert_cmpuint (names->len, ==, plain->len + 4); /* copper is there already */
  for (guint i = 0; i < names->len; i++)
    for (guint k = 0; k < i; k++)
      g_assert_cmpstr (names->pdata[i], !=, names->pdata[k]);
  g_ptr_array_unref (plain);
  g_ptr_array_unref (names);

  FwStuff stuff, table;
  g_assert_true (fw_material_find ("hard copper tube", NULL, &table));
  cJSON_DeleteItemFromObjectCaseSensitive (own, "Copper");
  g_assert_true (fw_material_find ("hard COPPER tube", own, &stuff));
  g_assert_cmpfloat (stuff.yield_MPa, ==, 99);
  g_assert_cmpfloat (stuff.density_kgm3, ==, table.density_kgm3);
  g_assert_cmpfloat (stuff.young_GPa, ==, table.young_GPa);
  g_assert_true (fw_material_find ("old moon cheese", own, &stuff));
  g_assert_cmpfloat (stuff.density_kgm3, ==, 3400);
  g_assert_cmpfloat (stuff.young_GPa, ==, 0); /* not known */
  g_assert_false (fw_material_find ("unobtainable", own, &stuff));
  cJSON_Delete (own);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/materials/the longest known name in a word is meant", test_longest_name);
  g_test_add_func ("/materials/a rod that names its material weighs as a tube of it", test_tube_mass);
  g_test_add_func ("/materials/no material named, no mass implied", test_no_material_no_mass);
  g_test_add_func ("/materials/a design's own values come first", test_own_values);
  g_test_add_func ("/materials/what is wrong with stock, drive and fits is refused with its place", test_refused);
  g_test_add_func ("/doc/materials/own-materials-stand-beside-the-table", own_materials_stand_beside_the_table);
  return g_test_run ();
}
