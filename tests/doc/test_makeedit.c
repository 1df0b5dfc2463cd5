/* The crank as made and the stock, changed by hand. Every number here is our own. */
#include <string.h>

#include "doc/json.h"
#include "doc/makeedit.h"
#include "support.h"

#define CRANK "{\"runs\":\"across\",\"throws\":[]"
#define REST "\"body\":{\"ride\":\"fixed\",\"at\":[0,0,300],\"tilt\":0},\"panels\":[],\"rods\":[]}"

static FwDocument *
open_with (const char *build, const char *stock)
{
  g_autofree char *text = g_strdup_printf ("{\"format\":\"flapwright design\",\"version\":1,\"crank\":" CRANK "%s},%s" REST,
                                           build, stock);
  return test_open (text);
}

#define STOCK                                                                                              \
  "\"stock\":{\"kerf\":2,\"ours\":7,\"bars\":[{\"name\":\"tube\",\"diameter\":12,\"wall\":1,\"length\":900,\"mark\":3}]," \
  "\"sheets\":[{\"name\":\"card\",\"thickness\":2,\"width\":700,\"height\":500}]},"

static void
a_crank_that_says_nothing_gets_a_build_and_undo_takes_it_away (void)
{
  FwDocument *doc = open_with ("", "");
  g_autoptr (GError) error = NULL;

  g_assert_false (fw_document_design (doc)->crank.build.given);
  g_assert_true (fw_document_set_build (doc, "bent", "leg", cJSON_CreateNumber (25), "Leg", NULL, &error));
  g_assert_no_error (error);
  const FwCrankBuild *build = &fw_document_design (doc)->crank.build;
  g_assert_true (build->given);
  g_assert_cmpint (build->make, ==, FW_MAKE_BENT);
  g_assert_cmpfloat (build->leg_mm, ==, 25);
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Leg");
  g_assert_true (fw_document_undo (doc));
  g_assert_false (fw_document_design (doc)->crank.build.given);
  fw_document_free (doc);
}

static void
a_key_taken_away_gives_its_default_again (void)
{
  FwDocument *doc = open_with (",\"build\":{\"make\":\"bolted\",\"web_width\":33}", "");

  g_assert_true (fw_document_set_build (doc, "bolted", "web_width", NULL, "Width", NULL, NULL));
  g_assert_cmpfloat (fw_document_design (doc)->crank.build.web_width_mm, ==, 20);
  fw_document_free (doc);
}

static void
what_is_the_same_makes_no_step (void)
{
  FwDocument *doc = open_with (",\"build\":{\"make\":\"bolted\",\"web_width\":33}", STOCK);

  g_assert_true (fw_document_set_build (doc, "bent", "web_width", cJSON_CreateNumber (33), "Width", NULL, NULL));
  g_assert_true (fw_document_set_stock (doc, "kerf", cJSON_CreateNumber (2), "Kerf", NULL, NULL));
  g_assert_true (fw_document_set_stock_entry (doc, FW_STOCK_BARS, 0, "count", NULL, "Count", NULL, NULL));
  g_assert_null (fw_document_undo_label (doc));
  fw_document_free (doc);
}

static void
the_build_can_be_taken_away (void)
{
  FwDocument *doc = open_with (",\"build\":{\"make\":\"bolted\"}", "");

  g_assert_true (fw_document_drop_build (doc, "Not said", NULL));
  g_assert_false (fw_document_design (doc)->crank.build.given);
  g_assert_true (fw_document_drop_build (doc, "Again", NULL));
  g_assert_cmpstr (fw_document_undo_label (doc), ==, "Not said");
  fw_document_free (doc);
}

static void
an_invalid_change_is_refused_in_one_line_and_changes_nothing (void)
{
  FwDocument *doc = open_with ("", STOCK);
  g_autoptr (GError) error = NULL;

  g_assert_false (fw_document_set_stock_entry (doc, FW_STOCK_BARS, 0, "length", cJSON_CreateNumber (-3), "Length", NULL, &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "stock.bars[0].length"));
  g_assert_null (strchr (error->message, '\n'));
  g_assert_null (fw_document_undo_label (doc));
  g_assert_cmpfloat (fw_document_design (doc)->stock.bars[0].length_mm, ==, 900);
  fw_document_free (doc);
}

static void
an_added_bar_gets_a_name_of_its_own_and_unknown_keys_stay (void)
{
  FwDocument *doc = open_with ("", STOCK);
  cJSON *bar = cJSON_CreateObject ();
  cJSON_AddStringToObject (bar, "name", "card"); /* a sheet has it */
  cJSON_AddNumberToObject (bar, "diameter", 4);
  cJSON_AddNumberToObject (bar, "length", 1000);

  g_assert_true (fw_document_add_stock (doc, FW_STOCK_BARS, bar, "A bar", NULL));
  const FwStock *stock = &fw_document_design (doc)->stock;
  g_assert_cmpint (stock->n_bars, ==, 2);
  g_assert_cmpstr (stock->bars[1].name, ==, "card 2");
  g_autofree char *text = fw_document_to_text (doc);
  g_assert_nonnull (strstr (text, "\"ours\": 7"));
  g_assert_nonnull (strstr (text, "\"mark\": 3"));
  g_assert_true (fw_document_undo (doc));
  g_assert_cmpint (fw_document_design (doc)->stock.n_bars, ==, 1);
  fw_document_free (doc);
}

static void
stock_can_begin_with_nothing (void)
{
  FwDocument *doc = open_with ("", "");
  cJSON *sheet = cJSON_CreateObject ();
  cJSON_AddStringToObject (sheet, "name", "ply");
  cJSON_AddNumberToObject (sheet, "thickness", 4);
  cJSON_AddNumberToObject (sheet, "width", 600);
  cJSON_AddNumberToObject (sheet, "height", 400);

  g_assert_true (fw_document_add_stock (doc, FW_STOCK_SHEETS, sheet, "A sheet", NULL));
  g_assert_cmpint (fw_document_design (doc)->stock.n_sheets, ==, 1);
  g_assert_true (fw_document_set_stock (doc, "kerf", cJSON_CreateNumber (0.2), "Kerf", NULL, NULL));
  g_assert_cmpfloat (fw_document_design (doc)->stock.kerf_mm, ==, 0.2);
  fw_document_free (doc);
}

static void
a_crank_keeps_its_pipe_when_the_bar_is_renamed_or_removed (void)
{
  FwDocument *doc = open_with (",\"build\":{\"make\":\"bent\",\"pipe\":\"tube\"}", STOCK);

  g_assert_true (fw_document_set_stock_entry (doc, FW_STOCK_BARS, 0, "name", cJSON_CreateString ("long tube"), "Name", NULL, NULL));
  g_assert_cmpstr (fw_document_design (doc)->crank.build.pipe, ==, "long tube");
  g_assert_cmpfloat (fw_document_design (doc)->crank.build.pipe_mm, ==, 12);
  g_assert_true (fw_document_remove_stock (doc, FW_STOCK_BARS, 0, "Away", NULL));
  const FwCrankBuild *build = &fw_document_design (doc)->crank.build;
  g_assert_null (build->pipe);
  g_assert_cmpfloat (build->pipe_mm, ==, 12);
  g_assert_cmpfloat (build->wall_mm, ==, 1);
  g_assert_cmpint (fw_document_design (doc)->stock.n_bars, ==, 0);
  fw_document_free (doc);
}

static void
an_entry_that_is_not_there_is_refused (void)
{
  FwDocument *doc = open_with ("", STOCK);
  g_autoptr (GError) error = NULL;

  g_assert_false (fw_document_remove_stock (doc, FW_STOCK_SHEETS, 1, "Away", &error));
  g_assert_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID);
  g_assert_false (fw_document_set_stock_entry (doc, FW_STOCK_SHEETS, 1, "price", cJSON_CreateNumber (1), "Price", NULL, NULL));
  g_assert_null (fw_document_undo_label (doc));
  fw_document_free (doc);
}

/* Each further one of a name counts on; one without any is refused. */
static void
names_of_bars_count_on (void)
{
  FwDocument *doc = open_with ("", STOCK);
  g_autoptr (GError) error = NULL;
  for (int i = 0; i < 2; i++)
    g_assert_true (fw_document_add_stock (doc, FW_STOCK_BARS, cJSON_Parse ("{\"name\":\"tube\",\"diameter\":4,\"length\":900}"), "A bar", NULL));
  const FwStock *stock = &fw_document_design (doc)->stock;
  g_assert_cmpstr (stock->bars[1].name, ==, "tube 2");
  g_assert_cmpstr (stock->bars[2].name, ==, "tube 3");
  g_assert_false (fw_document_add_stock (doc, FW_STOCK_BARS, cJSON_Parse ("{\"diameter\":4,\"length\":900}"), "A bar", &error));
  g_assert_nonnull (strstr (error->message, "stock.bars[3].name"));
  g_assert_cmpint (fw_document_design (doc)->stock.n_bars, ==, 3);
  fw_document_free (doc);
}

/* A solid bar has no wall to keep, and a bar named as a common tube leaves that tube. */
static void
what_a_removed_bar_leaves (void)
{
  FwDocument *doc = open_with (",\"build\":{\"make\":\"bent\",\"pipe\":\"wire\"}",
                               "\"stock\":{\"bars\":[{\"name\":\"wire\",\"diameter\":6,\"length\":900}]},");
  g_assert_true (fw_document_remove_stock (doc, FW_STOCK_BARS, 0, "Away", NULL));
  const FwCrankBuild *build = &fw_document_design (doc)->crank.build;
  g_assert_null (build->pipe);
  g_assert_cmpfloat (build->pipe_mm, ==, 6);
  g_assert_cmpfloat (build->wall_mm, ==, 0);
  fw_document_free (doc);

  doc = open_with (",\"build\":{\"make\":\"bent\",\"pipe\":\"15 x 1\"}",
                   "\"stock\":{\"bars\":[{\"name\":\"15 x 1\",\"diameter\":15,\"wall\":1,\"length\":900}]},");
  g_assert_true (fw_document_remove_stock (doc, FW_STOCK_BARS, 0, "Away", NULL));
  build = &fw_document_design (doc)->crank.build;
  g_assert_cmpstr (build->pipe, ==, "15 x 1");
  g_assert_cmpfloat (build->wall_mm, ==, 1);
  fw_document_free (doc);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/makeedit/a crank that says nothing gets a build and undo takes it away",
                   a_crank_that_says_nothing_gets_a_build_and_undo_takes_it_away);
  g_test_add_func ("/makeedit/a key taken away gives its default again",
                   a_key_taken_away_gives_its_default_again);
  g_test_add_func ("/makeedit/what is the same makes no step",
                   what_is_the_same_makes_no_step);
  g_test_add_func ("/makeedit/the build can be taken away",
                   the_build_can_be_taken_away);
  g_test_add_func ("/makeedit/an invalid change is refused in one line and changes nothing",
                   an_invalid_change_is_refused_in_one_line_and_changes_nothing);
  g_test_add_func ("/makeedit/an added bar gets a name of its own and unknown keys stay",
                   an_added_bar_gets_a_name_of_its_own_and_unknown_keys_stay);
  g_test_add_func ("/makeedit/stock can begin with nothing",
                   stock_can_begin_with_nothing);
  g_test_add_func ("/makeedit/a crank keeps its pipe when the bar is renamed or removed",
                   a_crank_keeps_its_pipe_when_the_bar_is_renamed_or_removed);
  g_test_add_func ("/makeedit/an entry that is not there is refused",
                   an_entry_that_is_not_there_is_refused);
  g_test_add_func ("/makeedit/names of bars count on, and one without is refused", names_of_bars_count_on);
  g_test_add_func ("/makeedit/what a removed bar leaves to the crank is what it was made of", what_a_removed_bar_leaves);
  return g_test_run ();
}
