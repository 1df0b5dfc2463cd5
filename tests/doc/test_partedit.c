/* Parts added, taken away and renamed by hand. Every number here is our own. */
#include "doc/partedit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/springs.h"
#include "core/trouble.h"
#include "support.h"

static FwMechanism *
build (const FwDocument *doc)
{
  FwMechanism *m = NULL;
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), &m, NULL), ==, FW_OK);
  return m;
}

static gboolean
goes_round (const FwDocument *doc)
{
  FwMechanism *m = build (doc);
  FwTurn *turn = fw_turn_new (m, 180);
  FwTrouble room[64];
  FwTroubleList list = { .items = room, .capacity = 64 };
  gboolean round = TRUE;
  fw_turn_solve (turn, m);
  fw_trouble_find (turn, m, &list);
  for (int i = 0; i < list.n; i++)
    round = round && room[i].kind != FW_CANNOT_CLOSE;
  free (turn);
  fw_mechanism_free (m);
  return round;
}

static FwPartRef
add (FwDocument *doc, FwPlace place, const FwPartRef *near)
{
  FwPartRef added = { FW_N_PLACES, -1 };
  GError *error = NULL;
  gboolean good = fw_document_add_part (doc, place, near, &added, &error);
  g_assert_no_error (error);
  g_assert_true (good);
  g_assert_cmpint (added.place, ==, place);
  g_assert_cmpint (added.index, ==, fw_part_count (fw_document_design (doc), place) - 1);
  return added;
}

static void
adds_each_kind_to_many_designs_and_undo_takes_it_away (void)
{
  static const char *const files[] = { "all-extras", "rail", "two-wings", "rocker", "along", "hanging-panel", "springs",
                                       "no-throws-no-parts" };
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    for (FwPlace place = 0; place < FW_N_PLACES; place++)
      {
        FwDocument *doc = test_open_valid (files[f]);
        char *before = fw_document_to_text (doc);
        int n = fw_part_count (fw_document_design (doc), place);
        FwPartRef added;
        GError *error = NULL;
        if (fw_document_add_part (doc, place, NULL, &added, &error))
          {
            g_assert_cmpint (fw_part_count (fw_document_design (doc), place), ==, n + 1);
            fw_mechanism_free (build (doc));
            g_assert_true (fw_document_undo (doc));
          }
        else /* only a rod may find no panel or no throw */
          {
            g_assert_cmpint (place, ==, FW_PLACE_ROD);
            g_assert_nonnull (error);
            g_clear_error (&error);
          }
        test_assert_text_is (doc, before);
        fw_document_free (doc);
      }
}

/* From nothing to a flapping pair, by the menu alone. */
static void
a_throw_a_panel_and_a_rod_make_a_wing_that_goes_round (void)
{
  FwDocument *doc = test_open ("{\"format\":\"flapwright design\",\"version\":1,\"crank\":{\"runs\":\"across\",\"throws\":[]},"
                               "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,300],\"tilt\":0},\"panels\":[],\"rods\":[]}");
  FwPartRef throw = add (doc, FW_PLACE_THROW, NULL), panel = add (doc, FW_PLACE_PANEL, &throw);
  FwPartRef rod = add (doc, FW_PLACE_ROD, &panel);
  const FwDesign *d = fw_document_design (doc);
  g_assert_cmpint (d->rods[rod.index].panel, ==, panel.index);
  g_assert_cmpint (d->rods[rod.index].from.index, ==, throw.index);
  g_assert_true (goes_round (doc));
  /* The panel really moves: level at the middle of its stroke, or near it. */
  FwMechanism *m = build (doc);
  FwPose *pose = fw_pose_new (m);
  double least = INFINITY, most = -INFINITY;
  for (int i = 0; i < 36; i++)
    {
      fw_pose_solve (pose, m, 2 * G_PI * i / 36);
      least = fmin (least, fw_pose_angle (pose, m, 0));
      most = fmax (most, fw_pose_angle (pose, m, 0));
    }
  g_assert_cmpfloat (most - least, >, 10 * G_PI / 180);
  g_assert_cmpfloat (fabs (most + least) / 2, <, 15 * G_PI / 180);
  free (pose);
  fw_mechanism_free (m);
  fw_document_free (doc);
}

static void
a_panel_on_the_picked_one_stands_on_its_tip_and_a_second_rod_drives_it (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwPartRef on = { FW_PLACE_PANEL, 0 }, tip = add (doc, FW_PLACE_PANEL, &on);
  const FwDesign *d = fw_document_design (doc);
  g_assert_cmpint (d->panels[tip.index].on, ==, 0);
  g_assert_cmpfloat (d->panels[tip.index].hinge_mm.x, ==, d->panels[0].span_mm);
  FwPartRef rod = add (doc, FW_PLACE_ROD, &tip);
  g_assert_cmpint (fw_document_design (doc)->rods[rod.index].panel, ==, tip.index);
  FwPartRef none;
  GError *error = NULL;
  g_assert_false (fw_document_add_part (doc, FW_PLACE_ROD, NULL, &none, &error));
  g_assert_cmpstr (error->message, ==, "Every panel has its rod: add a panel first");
  g_error_free (error);
  fw_document_free (doc);
}

static void
a_counterweight_stands_opposite_the_picked_throw (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwPartRef throw = { FW_PLACE_THROW, 1 }, weight = add (doc, FW_PLACE_WEIGHT, &throw);
  const FwDesign *d = fw_document_design (doc);
  g_assert_cmpfloat (fmod (d->crank.weights[weight.index].phase_deg - d->crank.throws[1].phase_deg + 720, 360), ==, 180);
  g_assert_cmpfloat (d->crank.weights[weight.index].radius_mm, ==, d->crank.throws[1].radius_mm);
  fw_document_free (doc);
}

static void
names_of_new_parts_are_free (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  FwPartRef a = add (doc, FW_PLACE_LUMP, NULL), b = add (doc, FW_PLACE_LUMP, NULL);
  const FwDesign *d = fw_document_design (doc);
  g_assert_cmpstr (fw_part_ref_name (d, a), ==, "weight");
  g_assert_cmpstr (fw_part_ref_name (d, b), ==, "weight 2");
  fw_document_free (doc);
}

static void
a_panel_goes_with_what_hangs_on_it (void)
{
  FwDocument *doc = test_open_valid ("springs");
  char *before = fw_document_to_text (doc), *also = NULL;
  g_assert_true (fw_document_remove_part (doc, (FwPartRef) { FW_PLACE_PANEL, 0 }, &also, NULL));
  const FwDesign *d = fw_document_design (doc);
  g_assert_cmpint (d->n_panels, ==, 1);
  g_assert_cmpint (d->n_rods, ==, 0);
  g_assert_cmpint (d->n_springs, ==, 1); /* the cord to the body stays */
  g_assert_cmpstr (also, ==, "lift, inrod");
  g_free (also);
  g_assert_true (fw_document_undo (doc));
  test_assert_text_is (doc, before);
  fw_document_free (doc);
}

/* A spring may not hold a panel that hangs. */
static void
a_rod_goes_with_the_springs_of_its_panel (void)
{
  FwDocument *doc = test_open_valid ("springs");
  char *also = NULL;
  g_assert_true (fw_document_remove_part (doc, (FwPartRef) { FW_PLACE_ROD, 0 }, &also, NULL));
  g_assert_cmpint (fw_document_design (doc)->n_springs, ==, 1);
  g_assert_cmpint (fw_document_design (doc)->n_panels, ==, 2);
  fw_mechanism_free (build (doc));
  g_assert_cmpstr (also, ==, "lift");
  g_free (also);
  fw_document_free (doc);
}

static void
the_throw_that_carries_the_body_stays (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  char *also;
  GError *error = NULL;
  g_assert_false (fw_document_remove_part (doc, (FwPartRef) { FW_PLACE_THROW, 0 }, &also, &error));
  g_assert_cmpstr (error->message, ==, "mid carries the body: choose another throw for it first");
  g_assert_null (also);
  g_clear_error (&error);
  g_assert_true (fw_document_remove_part (doc, (FwPartRef) { FW_PLACE_THROW, 1 }, &also, &error));
  g_assert_cmpint (fw_document_design (doc)->n_rods, ==, 0);
  g_assert_cmpstr (also, ==, "inrod");
  g_free (also);
  g_assert_false (fw_document_remove_part (doc, (FwPartRef) { FW_PLACE_THROW, 9 }, &also, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_error_free (error);
  fw_document_free (doc);
}

/* Every part of every file: what is left is valid, and undo brings all of it back. */
static void
whatever_goes_a_valid_design_is_left (void)
{
  static const char *const files[] = { "all-extras", "from-body-and-panel", "hanging-panel", "springs", "wishes",
                                       "rods-right-and-left-on-both", "panel-before-its-parent" };
  for (gsize f = 0; f < G_N_ELEMENTS (files); f++)
    {
      FwDocument *doc = test_open_valid (files[f]);
      char *before = fw_document_to_text (doc);
      for (FwPlace place = 0; place < FW_N_PLACES; place++)
        for (int i = 0; i < fw_part_count (fw_document_design (doc), place); i++)
          {
            char *also = NULL;
            GError *error = NULL;
            if (!fw_document_remove_part (doc, (FwPartRef) { place, i }, &also, &error))
              {
                g_assert_cmpint (place, ==, FW_PLACE_THROW);
                g_assert_nonnull (strstr (error->message, "carries the body"));
                g_error_free (error);
                continue;
              }
            fw_mechanism_free (build (doc));
            g_free (also);
            g_assert_true (fw_document_undo (doc));
          }
      test_assert_text_is (doc, before);
      fw_document_free (doc);
    }
}

static void
a_new_name_is_the_name_everywhere (void)
{
  FwDocument *doc = test_open ("{\"format\":\"flapwright design\",\"version\":1,"
                               "\"crank\":{\"runs\":\"across\",\"throws\":[{\"name\":\"mid\",\"radius\":40}]},"
                               "\"body\":{\"ride\":\"sleeve\",\"throw\":\"mid\",\"post\":420,\"guide\":[0,180]},"
                               "\"panels\":[{\"name\":\"wing\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,0,0],\"span\":210},"
                               "{\"name\":\"wings\",\"side\":\"both\",\"on\":\"wing\",\"hinge\":[210,0,0],\"span\":90}],"
                               "\"rods\":[{\"name\":\"pull\",\"side\":\"both\",\"from\":{\"throw\":\"mid\"},"
                               "\"to\":{\"panel\":\"wing\",\"at\":[140,0,-12]},\"length\":470}],"
                               "\"spread\":{\"panels.wing.hinge.0\":2,\"panels.wings.hinge.0\":3,\"rods.pull.length\":1},"
                               "\"wishes\":{\"list\":[{\"wish\":\"top\",\"part\":\"wing.right\",\"value\":20},"
                               "{\"wish\":\"push\",\"part\":\"pull.left\",\"value\":50}],\"free\":[{\"number\":\"panels.wing.sweep\"}]},"
                               "\"measured\":[{\"crank\":0,\"what\":\"wing.right.angle_deg\",\"value\":3}],"
                               "\"look\":{\"panels\":{\"wing\":{\"sections\":[[0,-4,4,12],[100,-2,2,9]]}}}}");
  GError *error = NULL;
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_PANEL, 0 }, "arm", &error));
  g_assert_no_error (error);
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_ROD, 0 }, "link", &error));
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_THROW, 0 }, "middle", &error));
  char *text = fw_document_to_text (doc);
  static const char *const gone[] = { "\"wing\"", "wing.right", "panels.wing.", "pull", "\"mid\"" };
  static const char *const there[] = { "\"panels.arm.hinge.0\"", "\"panels.wings.hinge.0\"", "\"arm.right\"", "\"link.left\"",
                                       "\"panels.arm.sweep\"", "\"arm.right.angle_deg\"", "\"rods.link.length\"", "\"wings\"" };
  for (gsize i = 0; i < G_N_ELEMENTS (gone); i++)
    g_assert_null (strstr (text, gone[i]));
  for (gsize i = 0; i < G_N_ELEMENTS (there); i++)
    g_assert_nonnull (strstr (text, there[i]));
  g_free (text);
  g_assert_cmpint (fw_document_design (doc)->panels[0].solid.n_sections, ==, 2);
  g_assert_false (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_PANEL, 0 }, "wings", &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_false (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_PANEL, 0 }, "", &error));
  g_clear_error (&error);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Rename mid");
  fw_document_free (doc);
}

/* Names may hold points, so "arm" stands at the front of "arm.2" and of its paths. */
static FwDocument *
named_with_points (void)
{
  return test_open ("{\"format\":\"flapwright design\",\"version\":1,"
                    "\"crank\":{\"runs\":\"across\",\"throws\":[{\"name\":\"arm\",\"radius\":40},{\"name\":\"arm.2\",\"radius\":30,\"station\":40}]},"
                    "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,420],\"tilt\":0},"
                    "\"panels\":[{\"name\":\"wing\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,0,0],\"span\":210},"
                    "{\"name\":\"wing.2\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,60,0],\"span\":210},"
                    "{\"name\":\"wing.angle_deg\",\"side\":\"right\",\"on\":\"body\",\"hinge\":[45,-60,0],\"span\":90}],"
                    "\"rods\":[{\"name\":\"tip\",\"side\":\"both\",\"from\":{\"throw\":\"arm\"},\"to\":{\"panel\":\"wing\",\"at\":[140,0,-12]},\"length\":470},"
                    "{\"name\":\"tip.2\",\"side\":\"both\",\"from\":{\"throw\":\"arm.2\"},\"to\":{\"panel\":\"wing.2\",\"at\":[140,0,-12]},\"length\":470},"
                    "{\"name\":\"tip.to\",\"side\":\"right\",\"from\":{\"base\":[0,0,0]},\"to\":{\"panel\":\"wing.angle_deg\",\"at\":[40,0,-12]},\"length\":470}],"
                    "\"spread\":{\"rods.tip.length\":1,\"rods.tip.2.length\":2,\"rods.tip.to.length\":3,\"rods.tip.to.at.0\":4},"
                    "\"wishes\":{\"list\":[{\"wish\":\"top\",\"part\":\"wing.2.right\",\"value\":20},"
                    "{\"wish\":\"number\",\"number\":\"crank.throws.arm.2.radius\",\"value\":30},"
                    "{\"wish\":\"number\",\"number\":\"crank.throws.arm.2.gone\",\"value\":30}],"
                    "\"free\":[{\"number\":\"crank.throws.arm.radius\"}]},"
                    "\"measured\":[{\"crank\":0,\"what\":\"wing.angle_deg\",\"value\":3},"
                    "{\"crank\":0,\"what\":\"wing.2.left.angle_deg\",\"value\":3},"
                    "{\"crank\":0,\"what\":\"wing.angle_deg.angle_deg\",\"value\":3}]}");
}

static void
assert_speaks (const FwDocument *doc, const char *const *there, int n)
{
  char *text = fw_document_to_text (doc);
  for (int i = 0; i < n; i++)
    if (!strstr (text, there[i]))
      g_error ("%s is not in %s", there[i], text);
  g_free (text);
}

static void
a_name_with_a_point_is_another_name (void)
{
  FwDocument *doc = named_with_points ();
  GError *error = NULL;
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_THROW, 0 }, "first", &error));
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_PANEL, 0 }, "fan", &error));
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_ROD, 0 }, "link", &error));
  g_assert_no_error (error);
  static const char *const there[]
      = { "\"crank.throws.arm.2.radius\"", "\"crank.throws.arm.2.gone\"", "\"crank.throws.first.radius\"", "\"wing.2.right\"",
          "\"fan.angle_deg\"", "\"wing.2.left.angle_deg\"", "\"wing.angle_deg.angle_deg\"", "\"rods.link.length\": 1",
          "\"rods.tip.2.length\": 2", "\"rods.tip.to.length\": 3", "\"rods.link.to.at.0\": 4" };
  assert_speaks (doc, there, (int)G_N_ELEMENTS (there));
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_PANEL, 2 }, "tail", &error));
  g_assert_true (fw_document_rename_part (doc, (FwPartRef) { FW_PLACE_THROW, 1 }, "second", &error));
  static const char *const then[] = { "\"fan.angle_deg\"", "\"tail.angle_deg\"", "\"crank.throws.second.radius\"" };
  assert_speaks (doc, then, (int)G_N_ELEMENTS (then));
  fw_document_free (doc);
}

static void
what_goes_leaves_the_spread_of_a_name_with_a_point (void)
{
  FwDocument *doc = named_with_points ();
  char *also = NULL;
  GError *error = NULL;
  g_assert_true (fw_document_remove_part (doc, (FwPartRef) { FW_PLACE_ROD, 0 }, &also, &error));
  g_assert_no_error (error);
  static const char *const there[] = { "\"spread\": { \"rods.tip.2.length\": 2, \"rods.tip.to.length\": 3 }" };
  assert_speaks (doc, there, 1);
  g_free (also);
  fw_document_free (doc);
}

static void
a_spring_found_is_fitted_as_it_was_found (void)
{
  FwDocument *doc = test_open_valid ("two-wings");
  const FwSpringFit fit = { .spring = { .side = FW_SIDE_BOTH,
                                        .from = { FW_FROM_BASE, 0, { 150, 0, 0 } },
                                        .to = { FW_FROM_PANEL, 0, { 120, 0, 0 } },
                                        .rate_Npmm = 0.0123,
                                        .free_mm = 85,
                                        .cord = true } };
  GError *error = NULL;
  for (int i = 0; i < 2; i++)
    g_assert_true (fw_document_fit_spring (doc, &fit, "Cord", &error));
  const FwDesign *d = fw_document_design (doc);
  g_assert_cmpint (d->n_springs, ==, 2);
  g_assert_cmpstr (d->springs[1].name, ==, "cord 2");
  g_assert_cmpfloat (d->springs[0].rate_Npmm, ==, 0.0123);
  g_assert_cmpfloat (d->springs[0].free_mm, ==, 85);
  g_assert_true (d->springs[0].cord);
  g_assert_cmpint (d->springs[0].to.index, ==, 0);
  g_assert_cmpfloat (d->springs[0].to.at_mm.x, ==, 120);
  g_assert_cmpfloat (d->springs[0].from.at_mm.x, ==, 150);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Cord");
  fw_document_free (doc);
}

/* A wing on one side only gets a spring that stands straight below it, on its own side. */
static void
a_spring_stands_below_its_wing (void)
{
  for (int left = 0; left < 2; left++)
    {
      FwDocument *both = test_open_valid ("two-wings");
      char *text = fw_document_to_text (both);
      for (char *at = strstr (text, "\"panels\""); (at = strstr (at, "\"side\": \"both\"")) != NULL; at++)
        memcpy (at, left ? "\"side\": \"left\"" : "\"side\":\"right\"", 14);
      fw_document_free (both);
      FwDocument *doc = test_open (text);
      const FwPartRef wing = { FW_PLACE_PANEL, 0 };
      add (doc, FW_PLACE_SPRING, &wing);
      FwMechanism *m = build (doc);
      FwPose *pose = fw_pose_new (m);
      fw_pose_solve (pose, m, 0);
      g_assert_cmpint (m->n_coils, ==, 1);
      FwCoilPose coil = fw_coil_pose (m, pose, 0);
      g_assert_cmpfloat_with_epsilon (coil.from.x, coil.to.x, 0.3); /* it is set to half a millimetre */
      g_assert_cmpfloat_with_epsilon (coil.from.y, coil.to.y, 0.3);
      g_assert_cmpfloat (left ? -coil.to.x : coil.to.x, >, 50);
      g_assert_cmpfloat (coil.from.z, <, coil.to.z);
      free (pose);
      fw_mechanism_free (m);
      fw_document_free (doc);
      g_free (text);
    }
}

/* Of what can drive a wing the rod that stands straight over its throw is the first that is tried; where the throw is
 * not below the wing there is none such, and a share of the span is taken. */
static void
a_rod_stands_over_its_throw (void)
{
  static const double stations[] = { 112, 300, 20 };
  for (gsize i = 0; i < G_N_ELEMENTS (stations); i++)
    {
      char *text = g_strdup_printf ("{\"format\":\"flapwright design\",\"version\":1,\"crank\":{\"runs\":\"across\","
                                    "\"throws\":[{\"name\":\"in\",\"radius\":20,\"station\":%g,\"side\":\"both\"}]},"
                                    "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,400],\"tilt\":0},"
                                    "\"panels\":[{\"name\":\"wing\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[45,0,0],\"span\":210}],\"rods\":[]}",
                                    stations[i]);
      FwDocument *doc = test_open (text);
      FwPartRef rod = add (doc, FW_PLACE_ROD, NULL);
      double held = fw_document_design (doc)->rods[rod.index].at_mm.x;
      g_assert_true (goes_round (doc));
      if (i == 0)
        g_assert_cmpfloat (held, ==, 112 - 45);
      else
        g_assert_true (held > 0.2 * 210 && held < 0.9 * 210);
      fw_document_free (doc);
      g_free (text);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/doc/parts/adds each kind to many designs and undo takes it away", adds_each_kind_to_many_designs_and_undo_takes_it_away);
  g_test_add_func ("/doc/parts/a throw, a panel and a rod make a wing that goes round", a_throw_a_panel_and_a_rod_make_a_wing_that_goes_round);
  g_test_add_func ("/doc/parts/a panel on the picked one stands on its tip and a second rod drives it",
                   a_panel_on_the_picked_one_stands_on_its_tip_and_a_second_rod_drives_it);
  g_test_add_func ("/doc/parts/a counterweight stands opposite the picked throw", a_counterweight_stands_opposite_the_picked_throw);
  g_test_add_func ("/doc/parts/names of new parts are free", names_of_new_parts_are_free);
  g_test_add_func ("/doc/parts/a panel goes with what hangs on it", a_panel_goes_with_what_hangs_on_it);
  g_test_add_func ("/doc/parts/a rod goes with the springs of its panel", a_rod_goes_with_the_springs_of_its_panel);
  g_test_add_func ("/doc/parts/the throw that carries the body stays", the_throw_that_carries_the_body_stays);
  g_test_add_func ("/doc/parts/whatever goes, a valid design is left", whatever_goes_a_valid_design_is_left);
  g_test_add_func ("/doc/parts/a new name is the name everywhere", a_new_name_is_the_name_everywhere);
  g_test_add_func ("/doc/partedit/a-name-with-a-point-is-another-name", a_name_with_a_point_is_another_name);
  g_test_add_func ("/doc/partedit/what-goes-leaves-the-spread-of-a-name-with-a-point", what_goes_leaves_the_spread_of_a_name_with_a_point);
  g_test_add_func ("/doc/parts/a spring found is fitted as it was found", a_spring_found_is_fitted_as_it_was_found);
  g_test_add_func ("/doc/parts/a spring stands below its wing", a_spring_stands_below_its_wing);
  g_test_add_func ("/doc/parts/a rod stands over its throw", a_rod_stands_over_its_throw);
  return g_test_run ();
}
