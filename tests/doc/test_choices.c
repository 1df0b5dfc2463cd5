/* What of a part is one of a few words, taken one by one. */
#include "doc/choices.h"

#include <string.h>

#include "core/inertia.h"
#include "core/mechanism.h"
#include "support.h"

static const FwChoice *
find (GPtrArray *list, const char *key)
{
  for (guint i = 0; i < list->len; i++)
    if (strcmp (((const FwChoice *) list->pdata[i])->key, key) == 0)
      return list->pdata[i];
  g_error ("there is no choice of %s", key);
}

static void
choose (FwDocument *doc, FwHolder holder, const char *key, const char *id)
{
  GPtrArray *list = fw_choices_of (doc, holder);
  const FwChoice *c = find (list, key);
  GError *error = NULL;
  guint k = 0;
  while (k < c->ids->len && strcmp (c->ids->pdata[k], id) != 0)
    k++;
  g_assert_cmpuint (k, <, c->ids->len);
  fw_document_choose (doc, c, (int) k, &error);
  g_assert_no_error (error);
  g_ptr_array_unref (list);
}

/* Each option of each choice of each part: a valid design or a refusal, and undo brings the text back. */
static void
every_option_is_taken_or_refused_whole (void)
{
  static const char *const files[] = { "all-extras", "two-wings", "rail", "rocker", "springs", "drive-and-weights", "hanging-panel", "along",
                                       "no-throws-no-parts" };
  int taken = 0;
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      char *before = fw_document_to_text (doc);
      for (int kind = FW_HOLDER_PART; kind <= FW_HOLDER_DRIVE; kind++)
        for (FwPlace place = 0; place < (kind == FW_HOLDER_PART ? FW_N_PLACES : 1); place++)
          for (int i = 0; i < (kind == FW_HOLDER_PART ? fw_part_count (fw_document_design (doc), place) : 1); i++)
            {
              GPtrArray *list = fw_choices_of (doc, (FwHolder) { (FwHolderKind) kind, { place, i } });
              for (guint c = 0; c < list->len; c++)
                {
                  const FwChoice *choice = list->pdata[c];
                  g_assert_cmpuint (choice->ids->len, ==, choice->words->len);
                  for (int k = 0; k < (int) choice->ids->len; k++)
                    {
                      GError *error = NULL;
                      guint64 serial = fw_document_serial (doc);
                      if (!fw_document_choose (doc, choice, k, &error))
                        {
                          g_assert_nonnull (error);
                          g_clear_error (&error);
                          continue;
                        }
                      FwMechanism *m = NULL;
                      g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &m, NULL), ==, FW_OK);
                      fw_mechanism_free (m);
                      if (fw_document_serial (doc) != serial)
                        g_assert_true (fw_document_undo (doc));
                      taken++;
                    }
                }
              g_ptr_array_unref (list);
            }
      test_assert_text_is (doc, before);
      fw_document_free (doc);
    }
  g_assert_cmpint (taken, >, 200);
}

static void
a_material_of_the_table_is_what_it_is_made_of (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  choose (doc, (FwHolder) { FW_HOLDER_PART, { FW_PLACE_ROD, 0 } }, "material", "steel");
  g_assert_cmpstr (fw_document_design (doc)->rods[0].material, ==, "steel");
  /* EN 10088-1 and common tables: steel is about 7.85 g/cm3. */
  g_assert_cmpfloat_with_epsilon (fw_document_design (doc)->rods[0].stuff.density_kgm3, 7850, 100);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Material");
  fw_document_free (doc);
}

/* A sheet that is taken as weighed weighs what it did, and turns as hard. */
static void
weighing_a_sheet_changes_no_force (void)
{
  FwDocument *doc = test_open_valid ("all-extras");
  FwInertia before = fw_inertia_panel (&fw_document_design (doc)->panels[0]);
  FwHolder wing = { FW_HOLDER_PART, { FW_PLACE_PANEL, 0 } };
  choose (doc, wing, "mass", "weighed");
  g_assert_true (fw_document_design (doc)->panels[0].has_mass);
  FwInertia after = fw_inertia_panel (&fw_document_design (doc)->panels[0]);
  g_assert_cmpfloat (before.mass_g, >, 0);
  g_assert_cmpfloat_with_epsilon (after.mass_g, before.mass_g, 1e-9);
  g_assert_cmpfloat_with_epsilon (after.moment_gmm.x, before.moment_gmm.x, 1e-6);
  g_assert_cmpfloat_with_epsilon (after.vv, before.vv, 1e-6 * before.vv);
  g_assert_cmpfloat_with_epsilon (after.uv, before.uv, 1e-6 * before.vv);
  choose (doc, wing, "mass", "sheet");
  g_assert_false (fw_document_design (doc)->panels[0].has_mass);
  fw_document_free (doc);
}

static void
motor_base_and_cord_are_as_chosen (void)
{
  FwDocument *doc = test_open_valid ("springs");
  choose (doc, (FwHolder) { FW_HOLDER_DRIVE, { 0, 0 } }, "by", "motor");
  choose (doc, (FwHolder) { FW_HOLDER_BASE, { 0, 0 } }, "hung", "hung");
  choose (doc, (FwHolder) { FW_HOLDER_BASE, { 0, 0 } }, "plate", "given");
  choose (doc, (FwHolder) { FW_HOLDER_BASE, { 0, 0 } }, "bearings", "given");
  choose (doc, (FwHolder) { FW_HOLDER_PART, { FW_PLACE_SPRING, 0 } }, "cord", "cord");
  const FwDesign *d = fw_document_design (doc);
  g_assert_true (d->drive.motor);
  g_assert_true (d->base.hung);
  g_assert_cmpfloat (d->base.plate_mm[0], >, 0);
  g_assert_cmpint (d->base.n_bearings, >=, 2);
  g_assert_true (d->springs[0].cord);
  /* Now they are numbers too. */
  FwParam param;
  g_assert_true (fw_param_from_path (d, "drive.margin", &param));
  g_assert_true (fw_param_from_path (d, "base.plate.2", &param));
  g_assert_true (fw_param_from_path (d, "base.bearings.1", &param));
  fw_document_free (doc);
}

/* A ride that is chosen again stands as it was left, whatever was chosen between; the body stays about where it is. */
static void
a_ride_comes_back_as_it_was (void)
{
  static const char *const rides[] = { "fixed", "rail", "sleeve", "rocker" };
  FwHolder body = { FW_HOLDER_BODY, { 0, 0 } };
  FwDocument *doc = test_open ("{\"format\":\"flapwright design\",\"version\":1,"
                               "\"crank\":{\"runs\":\"across\",\"throws\":[{\"name\":\"mid\",\"radius\":40}]},"
                               "\"body\":{\"ride\":\"fixed\",\"at\":[0,12,5],\"tilt\":3},\"panels\":[],\"rods\":[]}");
  double was[3];
  for (int round = 0; round < 2; round++)
    {
      for (int i = 1; i < 4; i++)
        choose (doc, body, "ride", rides[i]);
      const FwBody *b = &fw_document_design (doc)->body;
      if (round == 0) /* so low there is no room for a post: it is made for a body 300 mm up */
        {
          g_assert_cmpfloat (test_number (doc, "body.post"), ==, 260);
          g_assert_true (test_change (doc, "body.link.length", 123, NULL));
          b = &fw_document_design (doc)->body;
          was[0] = b->post_mm, was[1] = b->link_mm, was[2] = b->pivot_mm.x;
        }
      g_assert_cmpfloat (b->post_mm, ==, was[0]);
      g_assert_cmpfloat (b->link_mm, ==, was[1]);
      g_assert_cmpfloat (b->pivot_mm.x, ==, was[2]);
      choose (doc, body, "ride", "fixed");
      b = &fw_document_design (doc)->body;
      g_assert_cmpfloat (b->at_mm.z, ==, 5);
      g_assert_cmpfloat (b->at_mm.y, ==, 12);
      g_assert_cmpfloat (b->tilt_deg, ==, 3);
    }
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/choices/every option is taken or refused whole", every_option_is_taken_or_refused_whole);
  g_test_add_func ("/doc/choices/a material of the table is what it is made of", a_material_of_the_table_is_what_it_is_made_of);
  g_test_add_func ("/doc/choices/weighing a sheet changes no force", weighing_a_sheet_changes_no_force);
  g_test_add_func ("/doc/choices/motor, base and cord are as chosen", motor_base_and_cord_are_as_chosen);
  g_test_add_func ("/doc/choices/a ride comes back as it was left", a_ride_comes_back_as_it_was);
  return g_test_run ();
}
