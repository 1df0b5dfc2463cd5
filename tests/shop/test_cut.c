/* The cut list: true lengths, masses, stock that there is and is not, and layouts that add up. */
#include <glib.h>
#include <math.h>
#include <string.h>

#include "core/making.h"
#include "doc/document.h"
#include "shop/cut.h"
#include "shop/cutdraw.h"

typedef struct
{
  FwDocument *doc;
  FwMechanism *mech;
  FwCutList *list;
} Case;

#define NEAR(found, expected, tolerance) g_assert_cmpfloat_with_epsilon (found, expected, tolerance)

/* A wing on a rod over a bolted crank; `build` and `stock` are JSON. */
static Case
given (const char *build, const char *stock)
{
  Case c = { 0 };
  GError *error = NULL;
  g_autofree char *text = g_strdup_printf (
      "{\"format\":\"flapwright design\",\"version\":1,"
      "\"crank\":{\"runs\":\"across\",\"diameter\":15.875,\"wall\":0.7112,\"material\":\"copper tube\",\"build\":%s,"
      "\"throws\":[{\"name\":\"mid\",\"radius\":60,\"width\":30}]},"
      "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,300],\"tilt\":0},"
      "\"panels\":[{\"name\":\"wing\",\"side\":\"both\",\"on\":\"body\",\"hinge\":[20,0,0],\"span\":200,\"thickness\":2,"
      "\"material\":\"card\",\"areal\":500,\"outline\":[[0,-40],[200,-40],[200,60],[0,60]]}],"
      "\"rods\":[{\"name\":\"rod\",\"side\":\"both\",\"from\":{\"throw\":\"mid\"},\"to\":{\"panel\":\"wing\",\"at\":[80,0,0]},"
      "\"length\":280,\"diameter\":3.175,\"material\":\"brass\"}],"
      "\"base\":{\"plate\":[500,300,12],\"top\":-100,\"bearings\":[-150,150],\"handle\":60}"
      "%s}",
      build, stock);
  c.doc = fw_document_new_from_text (text, -1, "test", &error);
  g_assert_no_error (error);
  g_assert_cmpint (fw_mechanism_build (fw_document_design (c.doc), &c.mech, NULL), ==, FW_OK);
  c.list = fw_cut_list_new (c.mech, FW_LENGTHS_MM);
  return c;
}

static Case
demo (const char *name)
{
  Case c = { 0 };
  GError *error = NULL;
  g_autofree char *path = g_strconcat (FW_DEMOS, "/", name, ".flap", NULL);
  c.doc = fw_document_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpint (fw_mechanism_build (fw_document_design (c.doc), &c.mech, NULL), ==, FW_OK);
  c.list = fw_cut_list_new (c.mech, FW_LENGTHS_MM);
  return c;
}

static void
done (Case *c)
{
  fw_cut_list_free (c->list);
  fw_mechanism_free (c->mech);
  fw_document_free (c->doc);
}

static const FwCutPiece *
part (const FwCutList *list, const char *name)
{
  for (int i = 0; i < list->n_pieces; i++)
    if (strcmp (list->pieces[i].part, name) == 0)
      return &list->pieces[i];
  g_error ("no part %s", name);
}

static gboolean
says (char **sentences, const char *words)
{
  for (int i = 0; sentences[i] != NULL; i++)
    if (strstr (sentences[i], words) != NULL)
      return TRUE;
  return FALSE;
}

#define ELBOWS "{\"make\":\"elbows\",\"pipe\":\"1/2 in M\"}"
#define BARS(extra) ",\"stock\":{\"kerf\":2,\"bars\":[{\"name\":\"half\",\"material\":\"copper\",\"diameter\":15.875,\"wall\":0.7112,\"length\":1000" extra "}]}"

/* ---- Lengths and masses ---- */

static void
a_web_of_elbows_is_listed_as_it_is_cut (void)
{
  Case c = given (ELBOWS, BARS (""));
  const FwCutPiece *web = part (c.list, "Web of mid");
  NEAR (web->length_mm, 60 - 19.05, 1e-9);
  NEAR (web->centres_mm, 60, 1e-9);
  g_assert_cmpint (web->count, ==, 2);
  g_assert_cmpstr (web->stock_name, ==, "half");
  g_assert_cmpint (c.list->fittings[0].count, ==, 6); /* two webs and the handle's arm */
  done (&c);
}

/* 1/2 in type M: .204 lb/ft in the copper trade's table (ASTM B88), .3035 kg/m; our 8940 kg/m3 is .323
 * lb/in3. */
static void
half_inch_tube_weighs_what_is_published (void)
{
  Case c = given (ELBOWS, BARS (""));
  const FwCutPiece *web = part (c.list, "Web of mid");
  NEAR (web->mass_g / web->length_mm, 0.204 * 0.45359237 / 0.3048, 0.0008);
  done (&c);
}

static void
a_rod_is_cut_longer_by_what_its_ends_take (void)
{
  Case c = given (ELBOWS, ",\"stock\":{\"rod_ends\":{\"lower\":12.5,\"upper\":-4}}");
  const FwCutPiece *rod = part (c.list, "Rod rod");
  NEAR (rod->length_mm, 280 + 12.5 - 4, 1e-9);
  NEAR (rod->centres_mm, 280, 1e-9);
  /* Brass C36000, 8490 kg/m3 (makers' data): 1/8 in round. */
  NEAR (rod->mass_g, 8490e-6 * G_PI / 4 * 3.175 * 3.175 * 288.5, 1e-6);
  g_assert_cmpint (rod->count, ==, 2);
  done (&c);
}

static void
a_rod_shorter_than_its_ends_is_told (void)
{
  Case c = given (ELBOWS, ",\"stock\":{\"rod_ends\":{\"lower\":-200,\"upper\":-100}}");
  g_assert_true (says (c.list->problems, "nothing is left to cut"));
  done (&c);
}

static void
a_panel_weighs_its_area (void)
{
  Case c = given (ELBOWS, "");
  const FwCutPiece *wing = part (c.list, "Panel wing");
  NEAR (wing->length_mm, 200, 1e-9);
  NEAR (wing->width_mm, 100, 1e-9);
  NEAR (wing->mass_g, 0.2 * 0.1 * 500, 1e-9);
  done (&c);
}

/* ---- Stock ---- */

static void
without_stock_all_is_listed_and_nothing_is_wrong (void)
{
  Case c = given (ELBOWS, "");
  g_assert_null (c.list->problems[0]);
  g_assert_cmpint (c.list->n_layouts, ==, 0);
  g_assert_true (says (c.list->notes, "no bars in its stock"));
  g_assert_true (isnan (c.list->cost));
  done (&c);
}

static void
stock_that_is_missing_is_told_and_the_rest_laid (void)
{
  Case c = given (ELBOWS, BARS (",\"price\":9"));
  g_assert_true (says (c.list->problems, "There is no stock for Rod rod"));
  g_assert_cmpint (c.list->n_layouts, ==, 1);
  NEAR (c.list->cost, 9, 1e-9);
  g_assert_false (c.list->all_priced);
  done (&c);
}

static void
too_few_bars_are_told (void)
{
  Case c = given (ELBOWS, ",\"stock\":{\"bars\":[{\"name\":\"half\",\"material\":\"copper\",\"diameter\":15.875,\"length\":200,\"count\":1}]}");
  g_assert_true (says (c.list->problems, "There is not enough half"));
  g_assert_cmpint (c.list->n_layouts, ==, 1);
  done (&c);
}

static void
a_part_larger_than_any_sheet_is_told (void)
{
  Case c = given (ELBOWS, ",\"stock\":{\"sheets\":[{\"name\":\"small\",\"material\":\"card\",\"thickness\":2,\"width\":150,\"height\":150}]}");
  g_assert_true (says (c.list->problems, "larger than any sheet of small"));
  done (&c);
}

static void
a_rod_longer_than_any_bar_is_told (void)
{
  Case c = given (ELBOWS, ",\"stock\":{\"bars\":[{\"name\":\"bit\",\"material\":\"brass\",\"diameter\":3.175,\"length\":250}]}");
  g_assert_true (says (c.list->problems, "longer than any bar of bit"));
  done (&c);
}

static void
grain_keeps_panels_from_turning (void)
{
  static const char *const sheet = ",\"stock\":{\"kerf\":0,\"sheets\":[{\"name\":\"s\",\"material\":\"card\",\"thickness\":2,"
                                   "\"width\":200,\"height\":200,\"grain\":\"%s\"}]}";
  static const char *const grains[] = { "width", "height" };
  for (int g = 0; g < 2; g++)
    {
      g_autofree char *stock = g_strdup_printf (sheet, grains[g]);
      Case c = given (ELBOWS, stock);
      g_assert_cmpint (c.list->n_layouts, ==, 1); /* two of 200 x 100 */
      for (int i = 0; i < 2; i++)
        {
          g_assert_cmpint (c.list->layouts[0].places[i].turned, ==, g == 1);
          NEAR (c.list->layouts[0].places[i].length_mm, g == 0 ? 200 : 100, 1e-9);
        }
      NEAR (c.list->layouts[0].used, 1, 1e-9);
      done (&c);
    }
}

static void
a_throw_too_short_for_its_make_is_told (void)
{
  Case c = given ("{\"make\":\"elbows\",\"pipe\":\"1 in M\",\"take_off\":20}", "");
  g_assert_true (says (c.list->problems, "Throw mid is 60 mm"));
  g_assert_cmpint (c.list->n_pieces, >, 5);
  done (&c);
}

static void
a_bolt_that_does_not_go_through_its_pipe_is_told (void)
{
  Case c = given ("{\"make\":\"bolted\",\"pipe\":8,\"wall\":1.5}", "");
  g_assert_true (says (c.list->problems, "does not go through it"));
  done (&c);
}

/* ---- Layouts of the demos ---- */

/* Every piece lies somewhere exactly as often as it is made, bars hold what they are given, and what is
 * left and what is used make up the bar. */
static void
demos_are_laid_out_whole (void)
{
  static const char *const names[] = { "heron", "manta" };
  for (int d = 0; d < 2; d++)
    {
      Case c = demo (names[d]);
      const FwStock *stock = &c.mech->design->stock;
      g_autofree int *laid = g_new0 (int, c.list->n_pieces);
      g_assert_null (c.list->problems[0]);
      for (int i = 0; i < c.list->n_layouts; i++)
        {
          const FwCutLayout *l = &c.list->layouts[i];
          double sum = 0;
          for (int k = 0; k < l->n_places; k++)
            {
              laid[l->places[k].piece]++;
              sum += l->places[k].length_mm;
            }
          if (l->shape == FW_CUT_BAR)
            {
              double bar = stock->bars[l->stock].length_mm, cuts = stock->kerf_mm * l->n_places;
              NEAR (l->left_mm, fmax (bar - sum - cuts, 0), 1e-6);
              g_assert_cmpfloat (sum + stock->kerf_mm * (l->n_places - 1), <=, bar + 1e-6);
              NEAR (l->used, sum / bar, 1e-9);
            }
        }
      for (int i = 0; i < c.list->n_pieces; i++)
        g_assert_cmpint (laid[i], ==, c.list->pieces[i].count);
      g_assert_true (c.list->all_weighed);
      g_assert_true (c.list->all_priced);
      done (&c);
    }
}

static void
letters_are_unique_on_every_demo (void)
{
  static const char *const names[] = { "heron", "manta", "moth", "owl", "dragonfly", "troubled" };
  for (gsize d = 0; d < G_N_ELEMENTS (names); d++)
    {
      Case c = demo (names[d]);
      for (int i = 0; i < c.list->n_pieces; i++)
        for (int k = 0; k < i; k++)
          g_assert_cmpstr (c.list->pieces[i].made.letter, !=, c.list->pieces[k].made.letter);
      g_assert_null (c.list->problems[0]);
      done (&c);
    }
}

static void
the_heron_costs_the_bars_and_sheets_it_takes (void)
{
  Case c = demo ("heron");
  /* tube 10, tube 12, flat 18, two of rod 4, rod 3, two of strip 12, strip 10, card, ply */
  NEAR (c.list->cost, 6.4 + 7.8 + 5.2 + 2 * 4.6 + 2.9 + 2 * 1.8 + 1.5 + 2.1 + 14, 1e-9);
  done (&c);
}

static void
figures_under_a_bar_stand_apart_in_their_order (void)
{
  const double widths[6] = { 20, 26, 20, 20, 30, 20 };
  double places[6];
  /* Room for each below its own piece. */
  const double wide[6] = { 30, 90, 130, 170, 230, 290 };
  g_assert_true (fw_cut_figures_place (wide, widths, 6, 400, places));
  for (int i = 0; i < 6; i++)
    NEAR (places[i] + widths[i] / 2, wide[i], 1e-9);
  /* Short pieces at either end of the bar, and in its middle. */
  static const double starts[3] = { 1, 60, 148 };
  for (int k = 0; k < 3; k++)
    {
      double middles[6];
      for (int i = 0; i < 6; i++)
        middles[i] = starts[k] + 2 * i;
      g_assert_true (fw_cut_figures_place (middles, widths, 6, 160, places));
      g_assert_cmpfloat (places[0], >=, 0);
      for (int i = 1; i < 6; i++)
        g_assert_cmpfloat (places[i], >=, places[i - 1] + widths[i - 1] - 1e-9);
      g_assert_cmpfloat (places[5] + widths[5], <=, 160 + 1e-9);
    }
  g_assert_false (fw_cut_figures_place (wide, widths, 6, 135, places)); /* 136 px wide all together */
  g_assert_true (fw_cut_figures_place (wide, widths, 0, 10, places));
}

#define ADD(name) g_test_add_func ("/cut/" #name, name)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD (a_web_of_elbows_is_listed_as_it_is_cut);
  ADD (half_inch_tube_weighs_what_is_published);
  ADD (a_rod_is_cut_longer_by_what_its_ends_take);
  ADD (a_rod_shorter_than_its_ends_is_told);
  ADD (a_panel_weighs_its_area);
  ADD (without_stock_all_is_listed_and_nothing_is_wrong);
  ADD (stock_that_is_missing_is_told_and_the_rest_laid);
  ADD (too_few_bars_are_told);
  ADD (a_part_larger_than_any_sheet_is_told);
  ADD (a_rod_longer_than_any_bar_is_told);
  ADD (grain_keeps_panels_from_turning);
  ADD (a_throw_too_short_for_its_make_is_told);
  ADD (a_bolt_that_does_not_go_through_its_pipe_is_told);
  ADD (demos_are_laid_out_whole);
  ADD (letters_are_unique_on_every_demo);
  ADD (the_heron_costs_the_bars_and_sheets_it_takes);
  ADD (figures_under_a_bar_stand_apart_in_their_order);
  return g_test_run ();
}
