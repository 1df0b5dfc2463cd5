/* Pages of the margin around one session, on a display, while the main loop is in the hands of the
 * test: what is shown before the turn of a large design is known, and after the design has become
 * another. */
#include <gtk/gtk.h>
#include <math.h>

#include "app/aimpage.h"
#include "app/helpspage.h"
#include "app/inspector.h"
#include "app/peaktable.h"
#include "app/session.h"
#include "app/stripview.h"
#include "app/turnnote.h"
#include "doc/partedit.h"
#include "manypairs.h"

#define PATIENCE_S 60
#define PAIRS 40

typedef struct
{
  FwSession *session;
  GtkWidget *window, *page;
  char *message; /* the last */
} Stage;

static void
on_message (Stage *stage, const char *text)
{
  g_free (stage->message);
  stage->message = g_strdup (text);
}

/* The page is in sight before the main loop turns for the first time. */
static void
stage_open (Stage *stage, FwDocument *doc, GtkWidget *(*make) (FwSession *session))
{
  *stage = (Stage){ .session = fw_session_new (), .window = gtk_window_new () };
  g_signal_connect_swapped (stage->session, "message", G_CALLBACK (on_message), stage);
  fw_session_set_document (stage->session, doc, NULL);
  stage->page = make (stage->session);
  gtk_window_set_child (GTK_WINDOW (stage->window), stage->page);
  gtk_window_present (GTK_WINDOW (stage->window));
  g_assert_true (gtk_widget_get_mapped (stage->page));
}

static void
stage_close (Stage *stage)
{
  gtk_window_destroy (GTK_WINDOW (stage->window));
  g_signal_handlers_disconnect_by_data (stage->session, stage);
  g_object_unref (stage->session);
  g_free (stage->message);
}

static FwDocument *
demo (const char *name)
{
  g_autofree char *path = g_build_filename (FW_SOURCE_DEMOS, name, NULL);
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_document_load (path, &error);
  g_assert_no_error (error);
  return doc;
}

/* ---- Looking ---- */

typedef gboolean (*Wanted) (GtkWidget *widget, const char *words);

static GtkWidget *
seek (GtkWidget *in, Wanted wanted, const char *words)
{
  GtkWidget *found = gtk_widget_get_mapped (in) && wanted (in, words) ? in : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (in); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = seek (child, wanted, words);
  return found;
}

static gboolean
is_label (GtkWidget *widget, const char *words)
{
  return GTK_IS_LABEL (widget) && g_str_has_prefix (gtk_label_get_text (GTK_LABEL (widget)), words);
}

static gboolean
is_button (GtkWidget *widget, const char *words)
{
  return GTK_IS_BUTTON (widget)
         && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), words) == 0;
}

static gboolean
is_row (GtkWidget *widget, const char *words)
{
  return GTK_IS_LIST_BOX_ROW (widget);
}

static gboolean
is_picked_heading (GtkWidget *widget, const char *words)
{
  return GTK_IS_EXPANDER (widget) && gtk_widget_has_css_class (widget, "picked")
         && g_strcmp0 (gtk_expander_get_label (GTK_EXPANDER (widget)), words) == 0;
}

static gboolean
says (Stage *stage, const char *words)
{
  return seek (stage->page, is_label, words) != NULL;
}

static gboolean
has_rows (Stage *stage, const char *words)
{
  return seek (stage->page, is_row, NULL) != NULL;
}

/* ---- Waiting ---- */

typedef gboolean (*Holds) (Stage *stage, const char *words);

static void
wait_until (Stage *stage, Holds holds, const char *words)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_S * G_USEC_PER_SEC;
  while (!holds (stage, words) && g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
  g_assert_true (holds (stage, words));
}

static gboolean
turn_is_known (Stage *stage, const char *words)
{
  return fw_session_turn_is_known (stage->session);
}

static gboolean
has_passed (Stage *stage, const char *time)
{
  return g_get_monotonic_time () > *(const gint64 *)(const void *)time;
}

/* Lets the main loop turn for a while. */
static void
rest (Stage *stage, int ms)
{
  gint64 end = g_get_monotonic_time () + ms * 1000;
  wait_until (stage, has_passed, (const char *)&end);
}

static void
set_number (Stage *stage, const char *path, double value)
{
  FwChange one = { .value = value };
  g_assert_true (fw_param_from_path (fw_document_design (fw_session_document (stage->session)),
                                     path, &one.param));
  g_assert_true (fw_session_change (stage->session, &one, 1, "Change", NULL));
}

/* ---- Tests ---- */

static void
test_the_table_of_peaks_tells_no_other_loads_while_they_are_not_known (void)
{
  Stage stage;
  stage_open (&stage, many_pairs (PAIRS), fw_peak_table_new);
  g_assert_false (fw_session_turn_is_known (stage.session));
  g_assert_false (says (&stage, "No loads")); /* nobody knows that */
  wait_until (&stage, has_rows, NULL);
  g_assert_false (says (&stage, "No loads"));

  set_number (&stage, "rods.r0.length", 413);
  g_assert_false (fw_session_turn_is_known (stage.session));
  g_assert_true (has_rows (&stage, NULL)); /* they stand as they were */

  wait_until (&stage, turn_is_known, NULL);
  fw_session_set_document (stage.session, demo ("heron.flap"), NULL);
  wait_until (&stage, says, "arm");
  gint64 before = g_get_monotonic_time ();
  fw_session_set_document (stage.session, many_pairs (4 * PAIRS),
                           NULL); /* another: the heron's go before it is known */
  while (says (&stage, "arm"))
    {
      g_assert_cmpint (g_get_monotonic_time () - before, <, PATIENCE_S * G_USEC_PER_SEC);
      g_assert_false (fw_session_turn_is_known (stage.session));
      g_main_context_iteration (NULL, FALSE);
    }
  g_assert_false (says (&stage, "No loads"));
  stage_close (&stage);
}

static void
test_the_strip_does_not_deny_flags_that_are_not_known (void)
{
  Stage stage;
  stage_open (&stage, many_pairs (PAIRS), fw_strip_view_new);
  g_assert_false (fw_session_turn_is_known (stage.session));
  fw_strip_view_to_flag (FW_STRIP_VIEW (stage.page), 1);
  g_assert_cmpstr (stage.message, ==, fw_turn_note_words ());
  fw_session_say (stage.session, "-");
  fw_strip_view_to_bounce (FW_STRIP_VIEW (stage.page), 1);
  g_assert_cmpstr (stage.message, ==, fw_turn_note_words ());
  wait_until (&stage, turn_is_known, NULL);
  fw_strip_view_to_flag (FW_STRIP_VIEW (stage.page), 1);
  g_assert_cmpstr (stage.message, !=, fw_turn_note_words ());
  stage_close (&stage);
}

static void
test_the_trouble_in_hand_stays_while_the_turn_is_worked_out (void)
{
  Stage stage;
  stage_open (&stage, many_pairs (3 * PAIRS), fw_helps_page_new);
  wait_until (&stage, turn_is_known, NULL);
  fw_session_pick_trouble (stage.session, 0);
  fw_helps_page_take_trouble (FW_HELPS_PAGE (stage.page));
  wait_until (&stage, says, "Trouble: ");
  set_number (&stage, "rods.r0.length", 413);
  g_assert_false (fw_session_turn_is_known (stage.session));
  for (int i = 0; i < 3; i++) /* changes so fast that nothing is known between them */
    {
      rest (&stage, 250);
      set_number (&stage, "rods.r0.length", 414 + i);
      g_assert_true (says (&stage, "Trouble: "));
    }
  wait_until (&stage, turn_is_known, NULL);
  rest (&stage, 400);
  g_assert_true (says (&stage, "Trouble: "));
  stage_close (&stage);
}

/* With wishes that cannot be had together, for one number that may change. */
static FwDocument *
wishing_heron (void)
{
  FwDocument *doc = demo ("heron.flap");
  g_autofree char *plain = fw_document_to_text (doc);
  g_autofree char *text
      = g_strdup_printf ("{\"wishes\":{\"list\":[{\"wish\":\"top\",\"part\":\"arm\",\"value\":24},"
                         "{\"wish\":\"stroke\",\"part\":\"arm\",\"value\":5}],\"free\":[{"
                         "\"number\":\"rods.arm-rod.length\"}]},%s",
                         strchr (plain, '{') + 1);
  g_autoptr (GError) error = NULL;
  fw_document_free (doc);
  doc = fw_document_new_from_text (text, -1, "wishing", &error);
  g_assert_no_error (error);
  return doc;
}

static gboolean
stands_still (Stage *stage, const char *words)
{
  return seek (stage->page, is_button, "Search") != NULL;
}

static void
test_a_search_ends_with_the_design_that_it_is_for (void)
{
  Stage stage;
  stage_open (&stage, wishing_heron (), fw_aim_page_new);
  GtkWidget *search = seek (stage.page, is_button, "Search");
  g_assert_nonnull (search);
  g_assert_true (gtk_widget_get_sensitive (search));

  g_signal_emit_by_name (search, "clicked");
  g_assert_nonnull (seek (stage.page, is_button, "Stop"));
  set_number (&stage, "rods.arm-rod.length", 305); /* it may change for the wishes */
  g_assert_nonnull (seek (stage.page, is_button, "Stop"));
  set_number (&stage, "panels.arm.span", 251); /* it may not */
  wait_until (&stage, stands_still, NULL);
  g_assert_true (says (&stage, "The design has changed since"));
  rest (&stage, 300);
  g_assert_false (says (&stage, "Answers"));

  g_signal_emit_by_name (search, "clicked");
  wait_until (&stage, stands_still, NULL);
  g_assert_false (says (&stage, "The design has changed since"));
  stage_close (&stage);
}

static void
test_the_picked_part_stays_marked_when_rows_are_made_anew (void)
{
  Stage stage;
  g_autoptr (GError) error = NULL;
  stage_open (&stage, many_pairs (2), fw_inspector_new);
  const FwPart part = { FW_PART_LINK, 0 };
  const FwDesign *design = fw_document_design (fw_session_document (stage.session));
  FwParam param;
  g_assert_true (fw_param_from_path (design, "rods.r0.length", &param));
  g_autofree char *title = fw_param_group (design, param);

  fw_session_pick (stage.session, &part);
  g_assert_nonnull (seek (stage.page, is_picked_heading, title));
  const FwPartRef other = { FW_PLACE_ROD, 1 };
  g_assert_true (
      fw_document_rename_part (fw_session_document (stage.session), other, "another", &error));
  g_assert_true (fw_session_edited (stage.session, NULL));
  g_assert_nonnull (seek (stage.page, is_picked_heading, title));
  fw_session_pick (stage.session, NULL);
  g_assert_null (seek (stage.page, is_picked_heading, title));
  stage_close (&stage);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  gtk_init ();
  g_test_add_func ("/pages/the table of peaks tells no other loads while they are not known",
                   test_the_table_of_peaks_tells_no_other_loads_while_they_are_not_known);
  g_test_add_func ("/pages/the strip does not deny flags that are not known",
                   test_the_strip_does_not_deny_flags_that_are_not_known);
  g_test_add_func ("/pages/the trouble in hand stays while the turn is worked out",
                   test_the_trouble_in_hand_stays_while_the_turn_is_worked_out);
  g_test_add_func ("/pages/a search ends with the design that it is for",
                   test_a_search_ends_with_the_design_that_it_is_for);
  g_test_add_func ("/pages/the picked part stays marked when rows are made anew",
                   test_the_picked_part_stays_marked_when_rows_are_made_anew);
  return g_test_run ();
}
