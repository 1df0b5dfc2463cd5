/* The kit sheet: what stands where on its pages, before any paint, and that a stopped one leaves nothing. */
#include <gio/gio.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "doc/document.h"
#include "shop/kit.h"

typedef struct
{
  FwDocument *doc;
  FwMechanism *m;
  FwTurn *turn;
  FwKit *kit;
} Fixture;

static Fixture
open_kit (const char *demo, FwKitPaper paper, FwLengths lengths)
{
  g_autofree char *path = g_strdup_printf ("%s/%s.flap", FW_DEMOS, demo);
  g_autoptr (GError) error = NULL;
  Fixture f = { .doc = fw_document_load (path, &error) };
  g_assert_no_error (error);
  g_assert_cmpint (fw_mechanism_build (fw_document_design (f.doc), &f.m, NULL), ==, FW_OK);
  f.turn = fw_turn_new (f.m, 72);
  fw_turn_solve (f.turn, f.m);
  f.kit = fw_kit_new (f.m, f.turn, fw_document_title (f.doc), paper, lengths);
  return f;
}

static void
close_kit (Fixture *f)
{
  fw_kit_free (f->kit);
  free (f->turn);
  fw_mechanism_free (f->m);
  fw_document_free (f->doc);
}

/* Linked in the place of the real one (meson.build), to give no memory to the n-th pose from now. */
static int poses, refused = -1;
FwPose *__real_fw_pose_new (const FwMechanism *mechanism);
FwPose *__wrap_fw_pose_new (const FwMechanism *mechanism);

FwPose *
__wrap_fw_pose_new (const FwMechanism *mechanism)
{
  return poses++ == refused ? NULL : __real_fw_pose_new (mechanism);
}

static void
without_memory_for_a_pose_there_is_no_booklet (void)
{
  Fixture f = open_kit ("moth", FW_KIT_A5, FW_LENGTHS_MM);
  const char *title = fw_document_title (f.doc);
  int none = 0, whole = 0;
  for (refused = 0; !whole || none < 2; refused++)
    {
      poses = 0;
      FwKit *kit = fw_kit_new (f.m, f.turn, title, FW_KIT_A5, FW_LENGTHS_MM);
      none += kit == NULL;
      whole += kit != NULL && poses <= refused; /* nothing was refused any more */
      g_assert_true (!whole || none >= 2);      /* its own two */
      fw_kit_free (kit);
    }
  refused = -1;
  close_kit (&f);
}

static const char *const demos[] = { "heron", "manta", "moth", "owl", "dragonfly" };

static gboolean
apart (const FwBox *a, const FwBox *b)
{
  const double touch = 0.2;
  return a->x + a->width <= b->x + touch || b->x + b->width <= a->x + touch
         || a->y + a->height <= b->y + touch || b->y + b->height <= a->y + touch;
}

static void
everything_is_on_its_page_and_no_words_or_pictures_collide (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    for (int paper = FW_KIT_A5; paper <= FW_KIT_LETTER; paper++)
      {
        Fixture f = open_kit (demos[d], (FwKitPaper)paper, paper == FW_KIT_LETTER ? FW_LENGTHS_INCH : FW_LENGTHS_MM);
        for (int p = 0; p < fw_kit_pages (f.kit); p++)
          {
            const GArray *items = f.kit->pages->pdata[p];
            for (guint i = 0; i < items->len; i++)
              {
                const FwKitItem *a = &g_array_index (items, FwKitItem, i);
                g_assert_cmpfloat (a->box.x, >=, 30);
                g_assert_cmpfloat (a->box.y, >=, 30);
                g_assert_cmpfloat (a->box.x + a->box.width, <=, f.kit->width - 30);
                g_assert_cmpfloat (a->box.y + a->box.height, <=, f.kit->height - 14);
                for (guint k = 0; k < i; k++)
                  {
                    const FwKitItem *b = &g_array_index (items, FwKitItem, k);
                    if (a->kind == FW_KIT_RULE || b->kind == FW_KIT_RULE || apart (&a->box, &b->box))
                      continue;
                    g_test_message ("%s page %d: “%s” and “%s”", demos[d], p + 1, a->text, b->text);
                    g_assert_not_reached ();
                  }
              }
          }
        close_kit (&f);
      }
}

static const FwKitItem *
find (const FwKit *kit, FwKitKind kind, int index, const char *text, int *page)
{
  for (int p = 0; p < fw_kit_pages (kit); p++)
    {
      const GArray *items = kit->pages->pdata[p];
      for (guint i = 0; i < items->len; i++)
        {
          const FwKitItem *item = &g_array_index (items, FwKitItem, i);
          if (item->kind != kind || (text != NULL && g_strcmp0 (item->text, text) != 0)
              || (index >= 0 && item->index != index))
            continue;
          *page = p;
          return item;
        }
    }
  return NULL;
}

static void
every_part_has_its_letter_and_picture (void)
{
  Fixture f = open_kit ("heron", FW_KIT_A5, FW_LENGTHS_MM);
  int page;
  g_assert_cmpint (f.kit->cut->n_pieces, >, 10);
  for (int i = 0; i < f.kit->cut->n_pieces; i++)
    {
      const FwCutPiece *piece = &f.kit->cut->pieces[i];
      FwKitKind kind = piece->shape == FW_CUT_BAR ? FW_KIT_BAR : FW_KIT_SHEET;
      g_assert_nonnull (find (f.kit, kind, i, NULL, &page));
      g_assert_nonnull (find (f.kit, FW_KIT_BADGE, -1, piece->made.letter, &page));
      g_assert_nonnull (find (f.kit, FW_KIT_TEXT, -1, piece->part, &page));
    }
  for (int i = 0; i < f.kit->solids->n_parts; i++)
    {
      g_assert_nonnull (find (f.kit, FW_KIT_SOLID, i, NULL, &page));
      g_assert_nonnull (find (f.kit, FW_KIT_BADGE, -1, f.kit->solids->parts[i].letter, &page));
    }
  close_kit (&f);
}

static void
steps_follow_the_order_of_assembly_each_with_its_view (void)
{
  Fixture f = open_kit ("heron", FW_KIT_A5, FW_LENGTHS_MM);
  int before = 0, page = 0;
  double y = 0;
  for (int step = 0; step < FW_KIT_N_STEPS; step++)
    {
      const FwKitItem *view = find (f.kit, FW_KIT_VIEW, step, NULL, &page);
      g_assert_nonnull (view);
      g_assert_true (page > before || (page == before && view->box.y > y));
      before = page;
      y = view->box.y;
    }
  close_kit (&f);
  /* A body that stands still has no post to set: one step less, and no gap in the numbers. */
  Fixture owl = open_kit ("owl", FW_KIT_A5, FW_LENGTHS_MM);
  g_assert_null (find (owl.kit, FW_KIT_VIEW, FW_STEP_POST, NULL, &page));
  g_assert_nonnull (find (owl.kit, FW_KIT_BADGE, -1, "6", &page));
  g_assert_null (find (owl.kit, FW_KIT_BADGE, -1, "7", &page));
  close_kit (&owl);
}

/* Share of the page that is not white. */
static double
inked (const FwKit *kit, int page, const FwBox *box)
{
  int width = (int)ceil (kit->width), height = (int)ceil (kit->height), dark = 0;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  fw_kit_page_draw (cr, kit, page);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  const unsigned char *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  for (int y = (int)box->y; y < (int)(box->y + box->height); y++)
    for (int x = (int)box->x; x < (int)(box->x + box->width); x++)
      dark += data[y * stride + 4 * x + 1] < 235;
  cairo_surface_destroy (surface);
  return dark / (box->width * box->height);
}

static void
each_step_shows_more_than_the_one_before (void)
{
  Fixture f = open_kit ("heron", FW_KIT_A5, FW_LENGTHS_MM);
  int page = 0;
  const FwKitItem *base = find (f.kit, FW_KIT_VIEW, FW_STEP_BASE, NULL, &page);
  double base_ink = inked (f.kit, page, &base->box);
  const FwKitItem *rods = find (f.kit, FW_KIT_VIEW, FW_STEP_RODS, NULL, &page);
  double rods_ink = inked (f.kit, page, &rods->box);
  g_assert_cmpfloat (base_ink, >, 0.02);
  g_assert_cmpfloat (rods_ink, >, 1.3 * base_ink);
  for (int p = 0; p < fw_kit_pages (f.kit); p++)
    {
      const FwBox all = { 0, 0, floor (f.kit->width), floor (f.kit->height) };
      double ink = inked (f.kit, p, &all);
      g_assert_cmpfloat (ink, >, 0.002);
      g_assert_cmpfloat (ink, <, 0.5);
    }
  close_kit (&f);
}

static gboolean
stop_at_third (double fraction, const char *what, gpointer data)
{
  return ++*(int *)data < 3;
}

static void
a_stopped_kit_leaves_the_old_file (void)
{
  Fixture f = open_kit ("owl", FW_KIT_A5, FW_LENGTHS_MM);
  g_autofree char *folder = g_dir_make_tmp ("kit-XXXXXX", NULL), *path = g_build_filename (folder, "k.pdf", NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *left = NULL;
  int calls = 0;
  const FwProgress progress = { stop_at_third, &calls };
  g_assert_true (g_file_set_contents (path, "old", -1, NULL));
  g_assert_false (fw_kit_write_pdf (f.kit, path, &progress, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpint (calls, ==, 3);
  g_assert_true (g_file_get_contents (path, &left, NULL, NULL));
  g_assert_cmpstr (left, ==, "old");
  g_unlink (path);
  g_assert_cmpint (g_rmdir (folder), ==, 0); /* and nothing beside it */
  close_kit (&f);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/kit/everything-is-on-its-page-and-no-words-or-pictures-collide",
                   everything_is_on_its_page_and_no_words_or_pictures_collide);
  g_test_add_func ("/shop/kit/every-part-has-its-letter-and-picture", every_part_has_its_letter_and_picture);
  g_test_add_func ("/shop/kit/steps-follow-the-order-of-assembly-each-with-its-view",
                   steps_follow_the_order_of_assembly_each_with_its_view);
  g_test_add_func ("/shop/kit/each-step-shows-more-than-the-one-before", each_step_shows_more_than_the_one_before);
  g_test_add_func ("/shop/kit/a-stopped-kit-leaves-the-old-file", a_stopped_kit_leaves_the_old_file);
  g_test_add_func ("/shop/kit/without-memory-for-a-pose-there-is-no-booklet", without_memory_for_a_pose_there_is_no_booklet);
  return g_test_run ();
}
