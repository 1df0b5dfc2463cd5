/* The log worked out: stopping leaves nothing, and the flip-book's leaves come to lie in order. */
#include <math.h>

#include <gio/gio.h>
#include <glib/gstdio.h>

#include "doc/log.h"
#include "shop/flipbook.h"
#include "shop/logbook.h"
#include "shop/logmarkdown.h"

static FwDocument *
heron (void)
{
  FwDocument *doc = fw_document_load (FW_DEMOS "/heron.flap", NULL);
  g_assert_nonnull (doc);
  return doc;
}

static FwLogbook *
book_of (const FwDocument *doc, FwLengths lengths)
{
  GError *error = NULL;
  FwLogbook *book = fw_logbook_new (doc, FW_DEMOS, lengths, NULL, &error);
  g_assert_no_error (error);
  return book;
}

static void
the_present_design_has_a_page_when_it_is_another (void)
{
  FwDocument *doc = heron ();
  g_autoptr (FwLogbook) logged = book_of (doc, FW_LENGTHS_MM);
  g_assert_cmpuint (logged->pages->len, ==, 3);
  FwParam param;
  g_assert_true (fw_param_from_path (fw_document_design (doc), "rods.arm-rod.length", &param));
  const FwChange change = { param, 446 };
  g_assert_true (fw_document_change (doc, &change, 1, "Length", NULL, NULL));
  g_autoptr (FwLogbook) now = book_of (doc, FW_LENGTHS_MM);
  g_assert_cmpuint (now->pages->len, ==, 4);
  const FwLogPage *page = g_ptr_array_index (now->pages, 3);
  g_assert_true (page->present);
  const FwLogLine *line = g_ptr_array_index (page->changes, 0);
  g_assert_cmpstr (line->text, ==, "arm-rod shortened from 448 mm to 446 mm.");
  fw_document_free (doc);
}

/* Half the speed: other forces, the same motion. */
static void
speed_changes_no_motion (void)
{
  FwDocument *doc = heron ();
  FwParam param;
  g_assert_true (fw_param_from_path (fw_document_design (doc), "crank.turns_per_minute", &param));
  FwLogState *before = fw_log_state_new (fw_document_design (doc));
  const FwChange change = { param, 18 };
  g_assert_true (fw_document_change (doc, &change, 1, "Speed", NULL, NULL));
  FwLogState *after = fw_log_state_new (fw_document_design (doc));
  g_autoptr (GPtrArray) lines = fw_log_effects (before, after, FW_LENGTHS_MM);
  for (guint i = 0; i < lines->len; i++)
    g_assert_cmpint (((FwLogLine *)g_ptr_array_index (lines, i))->kind, !=, FW_LOG_MOTION);
  g_autoptr (GPtrArray) same = fw_log_effects (after, after, FW_LENGTHS_MM);
  g_assert_cmpuint (same->len, ==, 1);
  g_assert_cmpint (((FwLogLine *)g_ptr_array_index (same, 0))->kind, ==, FW_LOG_SAME);
  fw_log_state_free (before);
  fw_log_state_free (after);
  fw_document_free (doc);
}

static gboolean
stop_at_second (double fraction, const char *what, gpointer data)
{
  return fraction < 0.2;
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;
  while (g_dir_read_name (dir))
    n++;
  return n;
}

static void
stopped_midway_nothing_is_left (void)
{
  static const char *const names[] = { "log.pdf", "log.md", "folder" };
  const FwProgress progress = { stop_at_second, NULL };
  FwDocument *doc = heron ();
  g_autoptr (FwLogbook) book = book_of (doc, FW_LENGTHS_MM);
  g_autofree char *folder = g_dir_make_tmp ("logbook-XXXXXX", NULL);

  for (int i = 0; i < 3; i++)
    {
      GError *error = NULL;
      g_autofree char *path = g_build_filename (folder, names[i], NULL);
      gboolean done = i == 0 ? fw_logbook_write_pdf (book, path, &progress, &error)
                             : fw_logbook_write_markdown (book, path, &progress, &error);
      g_assert_false (done);
      g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
      g_error_free (error);
      g_assert_cmpuint (count_files (folder), ==, 0);
    }
  GError *error = NULL;
  g_assert_null (fw_logbook_new (doc, FW_DEMOS, FW_LENGTHS_MM, &progress, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_error_free (error);
  const FwLogPage *page = g_ptr_array_index (book->pages, 0);
  FwScene scene = fw_log_state_scene (page->state);
  FwFlipbook flip = fw_flipbook_default ();
  g_autofree char *path = g_build_filename (folder, "flip.pdf", NULL);
  g_assert_false (fw_flipbook_write_pdf (&scene, &flip, "Heron", path, &progress, NULL));
  g_assert_cmpuint (count_files (folder), ==, 0);
  g_rmdir (folder);
  fw_document_free (doc);
}

/* Sheets on each other, cut, piles on each other: 0, 1, 2, ... for any number of frames. */
static void
leaves_lie_in_order_once_cut (void)
{
  for (int frames = FW_FLIPBOOK_LEAST_FRAMES; frames <= FW_FLIPBOOK_MOST_FRAMES; frames++)
    {
      FwFlipbook book = fw_flipbook_default ();
      book.frames = frames;
      FwFlipbookLayout l = fw_flipbook_layout (&book);
      int next = 0;
      for (int place = 0; place < l.columns * l.rows; place++)
        for (int sheet = 0; sheet < l.sheets; sheet++)
          {
            int leaf = fw_flipbook_leaf (&l, sheet, place);
            g_assert_cmpint (leaf, ==, next <= frames ? next : -1);
            next++;
          }
      g_assert_cmpint (next, >, frames);
      g_assert_cmpint (next - (frames + 1), <, l.columns * l.rows);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/log/the-present-design-has-a-page-when-it-is-another", the_present_design_has_a_page_when_it_is_another);
  g_test_add_func ("/shop/log/speed-changes-no-motion", speed_changes_no_motion);
  g_test_add_func ("/shop/log/stopped-midway-nothing-is-left", stopped_midway_nothing_is_left);
  g_test_add_func ("/shop/flipbook/leaves-lie-in-order-once-cut", leaves_lie_in_order_once_cut);
  return g_test_run ();
}
