/* Templates as numbers: packing, tiles, pages, and what is left when writing is stopped. */
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/mechanism.h"
#include "doc/document.h"
#include "shop/pdf.h"
#include "shop/sheetpack.h"
#include "shop/svg.h"
#include "shop/templatepaint.h"

static FwTemplate *
demo_template (const char *name, FwMechanism **mech)
{
  g_autofree char *file = g_strdup_printf ("%s/%s.flap", FW_DEMOS, name);
  FwDocument *doc = fw_document_load (file, NULL);
  g_assert_nonnull (doc);
  g_assert_cmpint (fw_mechanism_build (fw_document_design (doc), mech, NULL), ==, FW_OK);
  FwTemplate *tmpl = fw_template_new (*mech, fw_document_title (doc), FW_LENGTHS_MM);
  fw_document_free (doc);
  return tmpl;
}

static const char *const demos[] = { "dragonfly", "heron", "manta", "moth", "owl", "troubled" };

/* ---- Packing ---- */

static void
boxes_never_overlap (void)
{
  for (int round = 0; round < 60; round++)
    {
      FwPackBox boxes[80] = { 0 };
      int n = g_test_rand_int_range (1, 80);
      double w = g_test_rand_double_range (100, 700), h = g_test_rand_double_range (100, 700), gap = round % 3 * 2.5;
      for (int i = 0; i < n; i++)
        boxes[i] = (FwPackBox){ .width = g_test_rand_double_range (3, 260), .height = g_test_rand_double_range (3, 260),
                                .way = (FwPackWay)g_test_rand_int_range (0, 3) };
      int sheets = fw_pack (boxes, n, w, h, gap);
      g_assert_cmpint (sheets, <=, n);
      for (int i = 0; i < n; i++)
        {
          const FwPackBox *a = &boxes[i];
          double aw = a->turned ? a->height : a->width, ah = a->turned ? a->width : a->height;
          gboolean flat = a->width <= w && a->height <= h, stood = a->height <= w && a->width <= h;
          gboolean fits = (flat && a->way != FW_PACK_TURNED) || (stood && a->way != FW_PACK_FLAT);
          g_assert_cmpint (a->sheet >= 0, ==, fits);
          if (!fits)
            continue;
          g_assert_cmpint (a->sheet, <, sheets);
          g_assert_true (a->x >= 0 && a->y >= 0 && a->x + aw <= w + 1e-6 && a->y + ah <= h + 1e-6);
          g_assert_true ((a->way != FW_PACK_FLAT || !a->turned) && (a->way != FW_PACK_TURNED || a->turned));
          for (int k = 0; k < i; k++)
            {
              const FwPackBox *b = &boxes[k];
              double bw = b->turned ? b->height : b->width, bh = b->turned ? b->width : b->height;
              if (b->sheet == a->sheet)
                g_assert_true (a->x + aw + gap <= b->x + 1e-6 || b->x + bw + gap <= a->x + 1e-6
                               || a->y + ah + gap <= b->y + 1e-6 || b->y + bh + gap <= a->y + 1e-6);
            }
        }
    }
}

static void
boxes_that_fill_a_sheet_take_one (void)
{
  FwPackBox boxes[12];
  for (int i = 0; i < 12; i++)
    boxes[i] = (FwPackBox){ .width = 100, .height = 50 };
  g_assert_cmpint (fw_pack (boxes, 12, 300, 200, 0), ==, 1);
  for (int i = 0; i < 12; i++)
    boxes[i] = (FwPackBox){ .width = 100, .height = 50 };
  g_assert_cmpint (fw_pack (boxes, 12, 300, 199, 0), ==, 2);
}

/* Larger than the sheet by less than is looked at, with sums that are rounded: it lies on a sheet or on none. */
static void
a_box_as_large_as_the_sheet_ends_the_packing (void)
{
  for (int i = 0; i < 2000; i++)
    {
      double side = 100 + 0.37 * i, gap = 0.1 + 0.013 * (i % 97);
      FwPackBox boxes[] = { { .width = side + 1e-9, .height = side }, { .width = 20, .height = side } };
      int sheets = fw_pack (boxes, 2, side, side, gap);
      g_assert_cmpint (boxes[1].sheet, >=, 0);
      g_assert_cmpint (sheets, ==, boxes[0].sheet >= 0 ? 2 : 1);
    }
}

/* ---- Tiles ---- */

/* n tiles cover n (w - o) + o; one fewer does not. Common practice of tiled printing. */
static void
tiles_cover_a_length_and_no_more (void)
{
  for (int i = 0; i < 5000; i++)
    {
      double whole = g_test_rand_double_range (1, 9000), tile = g_test_rand_double_range (60, 400), o = FW_TILE_OVERLAP;
      int n = fw_tiles_along (whole, tile);
      g_assert_cmpfloat (n * (tile - o) + o, >=, whole - 1e-6);
      if (n > 1)
        g_assert_cmpfloat ((n - 1) * (tile - o) + o, <, whole);
    }
  g_assert_cmpint (fw_tiles_along (190, 190), ==, 1);
  g_assert_cmpint (fw_tiles_along (190.1, 190), ==, 2);
  g_assert_cmpint (fw_tiles_along (2 * 190 - 12, 190), ==, 2);
}

static void
tiles_are_named_by_column_and_row (void)
{
  char name[24];
  fw_tile_name (1, 1, name);
  g_assert_cmpstr (name, ==, "B2");
  fw_tile_name (26, 0, name);
  g_assert_cmpstr (name, ==, "AA1");
}

/* ---- Pages ---- */

/* The extent on its page of everything that is cut of a part. */
static void
placed_box (const FwTemplate *tmpl, const FwPagePart *at, FwVec2 *low, FwVec2 *high)
{
  const FwCutPart *part = tmpl->parts->pdata[at->part];
  FwVec2 a = fw_page_point (at, part->low), b = fw_page_point (at, part->high);
  *low = (FwVec2){ fmin (a.x, b.x), fmin (a.y, b.y) };
  *high = (FwVec2){ fmax (a.x, b.x), fmax (a.y, b.y) };
}

static void
check_pages (const FwTemplatePages *p)
{
  double x1 = p->frame_x + p->frame_width, y1 = p->frame_y + p->frame_height, o = FW_TILE_OVERLAP;
  for (int i = 0; i < fw_template_pages_count (p); i++)
    {
      const FwTemplatePage *page = &g_array_index (p->pages, FwTemplatePage, i);
      for (int k = page->first; k < page->first + page->n; k++)
        {
          const FwPagePart *at = &g_array_index (p->placed, FwPagePart, k);
          FwVec2 low, high;
          if (at->part < 0)
            continue;
          placed_box (p->tmpl, at, &low, &high);
          double left = p->frame_x - page->column * (p->frame_width - o), top = p->frame_y - page->row * (p->frame_height - o);
          double right = page->kind == FW_PAGE_TILE ? left + page->columns * (p->frame_width - o) + o : x1;
          double bottom = page->kind == FW_PAGE_TILE ? top + page->rows * (p->frame_height - o) + o : y1;
          g_assert_true (low.x >= left - 1e-6 && low.y >= top - 1e-6 && high.x <= right + 1e-6 && high.y <= bottom + 1e-6);
          for (int j = page->first; j < k; j++)
            {
              FwVec2 l, h;
              const FwPagePart *other = &g_array_index (p->placed, FwPagePart, j);
              if (other->part < 0)
                continue;
              placed_box (p->tmpl, other, &l, &h);
              g_assert_true (high.x <= l.x || h.x <= low.x || high.y <= l.y || h.y <= low.y);
            }
        }
    }
}

static void
every_part_is_whole_on_pages_or_tiles (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      FwMechanism *mech;
      g_autoptr (FwTemplate) tmpl = demo_template (demos[d], &mech);
      for (int paper = 0; paper < FW_N_PAPERS; paper++)
        {
          g_autoptr (FwTemplatePages) pages = fw_template_pages_new (tmpl, (FwPaper)paper);
          g_assert_cmpint (pages->n_parts_placed, ==, tmpl->parts->len);
          g_assert_null (pages->left_out[0]);
          check_pages (pages);
        }
      fw_mechanism_free (mech);
    }
}

static void
a_part_that_fits_a_page_is_not_tiled (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      FwMechanism *mech;
      g_autoptr (FwTemplate) tmpl = demo_template (demos[d], &mech);
      g_autoptr (FwTemplatePages) p = fw_template_pages_new (tmpl, FW_PAPER_A4);
      for (guint i = 0; i < tmpl->parts->len; i++)
        {
          const FwCutPart *part = tmpl->parts->pdata[i];
          double w = part->high.x - part->low.x + 1, h = part->high.y - part->low.y + 1;
          gboolean fits = fmin (w, h) <= fmin (p->frame_width, p->frame_height)
                          && fmax (w, h) <= fmax (p->frame_width, p->frame_height);
          g_assert_cmpint (p->pages_of[i] == 1, ==, fits);
        }
      fw_mechanism_free (mech);
    }
}

static void
parts_are_listed_by_their_letters (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      FwMechanism *mech;
      g_autoptr (FwTemplate) tmpl = demo_template (demos[d], &mech);
      g_autoptr (FwTemplatePages) p = fw_template_pages_new (tmpl, FW_PAPER_A4);
      g_autofree int *rows = fw_overview_rows (p);
      guint64 seen = 0;
      int last = 0;
      g_assert_cmpint (tmpl->parts->len, <, 64);
      for (guint i = 0; i < tmpl->parts->len; i++)
        {
          const FwCutPart *part = tmpl->parts->pdata[rows[i]];
          int value = 0; /* A is 1, Z 26, AA 27; what has none comes last */
          for (const char *c = part->letter; *c != '\0'; c++)
            value = 26 * value + *c - 'A' + 1;
          value = value == 0 ? G_MAXINT : value;
          g_assert_cmpint (value, >=, last);
          last = value;
          seen |= G_GUINT64_CONSTANT (1) << rows[i];
        }
      g_assert_cmpint (seen, ==, (G_GUINT64_CONSTANT (1) << tmpl->parts->len) - 1);
      fw_mechanism_free (mech);
    }
}

/* Ink of every page, of any surface: the drawing needs no PDF. */
static void
every_page_draws_on_any_surface (void)
{
  FwMechanism *mech;
  g_autoptr (FwTemplate) tmpl = demo_template ("manta", &mech);
  g_autoptr (FwTemplatePages) pages = fw_template_pages_new (tmpl, FW_PAPER_A4);
  for (int i = 0; i < fw_template_pages_count (pages); i++)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 210, 297);
      cairo_surface_t *ink = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
      cairo_t *cr = cairo_create (surface), *record = cairo_create (ink);
      double x, y, w, h;
      fw_template_page_draw (cr, pages, i);
      fw_template_page_draw (record, pages, i);
      g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
      cairo_recording_surface_ink_extents (ink, &x, &y, &w, &h);
      g_assert_true (x >= -0.5 && y >= -0.5 && x + w <= 210.5 && y + h <= 297.5);
      cairo_destroy (cr);
      cairo_destroy (record);
      cairo_surface_destroy (surface);
      cairo_surface_destroy (ink);
    }
  fw_mechanism_free (mech);
}

/* Words of a part stay clear of each other and of its holes. */
static void
words_keep_clear (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      FwMechanism *mech;
      g_autoptr (FwTemplate) tmpl = demo_template (demos[d], &mech);
      for (guint i = 0; i < tmpl->parts->len; i++)
        {
          const FwCutPart *part = tmpl->parts->pdata[i];
          g_assert_cmpint (part->texts->len, >, 0);
          for (guint k = 0; k < part->texts->len; k++)
            {
              const FwCutText *a = &g_array_index (part->texts, FwCutText, k);
              for (guint j = 0; j < k && a->turn_rad == 0; j++)
                {
                  const FwCutText *b = &g_array_index (part->texts, FwCutText, j);
                  if (b->turn_rad == 0)
                    g_assert_true (fabs (a->at_mm.x - b->at_mm.x) >= a->half_mm.x + b->half_mm.x
                                   || fabs (a->at_mm.y - b->at_mm.y) >= a->half_mm.y + b->half_mm.y);
                }
              for (guint j = 0; j < part->holes->len && a->turn_rad == 0; j++)
                {
                  const FwCutHole *hole = &g_array_index (part->holes, FwCutHole, j);
                  double x = fmax (fabs (hole->at_mm.x - a->at_mm.x) - a->half_mm.x, 0);
                  double y = fmax (fabs (hole->at_mm.y - a->at_mm.y) - a->half_mm.y, 0);
                  g_assert_cmpfloat (hypot (x, y), >=, hole->diameter_mm / 2);
                }
            }
        }
      fw_mechanism_free (mech);
    }
}

/* ---- Writing ---- */

static gboolean
stop_later (double fraction, const char *what, gpointer data)
{
  int *left = data;
  g_assert_true (fraction >= 0 && fraction <= 1 && *what != '\0');
  return (*left)-- > 0;
}

static void
a_stop_leaves_nothing (void)
{
  FwMechanism *mech;
  g_autoptr (FwTemplate) tmpl = demo_template ("heron", &mech);
  g_autoptr (FwTemplatePages) pages = fw_template_pages_new (tmpl, FW_PAPER_A4);
  g_autoptr (FwLaserSheets) sheets = fw_laser_sheets_new (tmpl, NULL, 0, 0);
  g_autofree char *folder = g_dir_make_tmp ("templates-XXXXXX", NULL);
  g_autofree char *pdf = g_build_filename (folder, "x.pdf", NULL), *svg = g_build_filename (folder, "x.svg", NULL);
  for (int after = 0; after < 3; after++)
    {
      int left = after;
      FwProgress progress = { stop_later, &left };
      g_autoptr (GError) error = NULL;
      g_assert_false (fw_template_write_pdf (pages, pdf, &progress, &error));
      g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
      g_clear_error (&error);
      left = MIN (after, (int)sheets->sheets->len - 1);
      g_assert_false (fw_laser_sheets_write_svg (sheets, svg, &progress, &error));
      g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
    }
  g_assert_cmpint (g_rmdir (folder), ==, 0); /* only an empty folder can go */
  fw_mechanism_free (mech);
}

static void
numbers_in_svg_have_points_in_every_locale (void)
{
  FwMechanism *mech;
  g_autoptr (FwTemplate) tmpl = demo_template ("moth", &mech);
  g_autoptr (FwLaserSheets) sheets = fw_laser_sheets_new (tmpl, NULL, 300.5, 200.25);
  const char *found = setlocale (LC_NUMERIC, "de_DE.UTF-8");
  g_autofree char *text = fw_laser_sheet_svg (sheets, 0);
  setlocale (LC_NUMERIC, "C");
  if (found == NULL)
    g_test_message ("no locale with a decimal comma here: the C locale was tried");
  g_assert_nonnull (strstr (text, "width=\"300.5mm\" height=\"200.25mm\" viewBox=\"0 0 300.5 200.25\""));
  g_assert_null (strstr (text, "nan"));
  fw_mechanism_free (mech);
}

/* How many of the laser's sheets are the one there is in stock. */
static int
laid_in_stock (const FwTemplate *tmpl, FwStockSheet sheet)
{
  sheet.name = sheet.material;
  sheet.width_mm = 1234;
  sheet.height_mm = 987;
  sheet.count = FW_STOCK_ENDLESS;
  const FwStock stock = { .sheets = &sheet, .n_sheets = 1 };
  g_autoptr (FwLaserSheets) sheets = fw_laser_sheets_new (tmpl, &stock, 0, 0);
  int found = 0;
  for (guint i = 0; i < sheets->sheets->len; i++)
    found += ((const FwLaserSheet *)sheets->sheets->pdata[i])->width_mm == 1234;
  return found;
}

/* Board of 12 mm is sold as 12, and measures 12.3. */
static void
a_sheet_is_taken_where_the_cut_list_takes_it (void)
{
  FwMechanism *mech;
  g_autoptr (FwTemplate) tmpl = demo_template ("heron", &mech);
  FwStuff stuff = mech->design->panels[0].stuff, other = { .density_kgm3 = 1.5 * stuff.density_kgm3 };
  char *material = mech->design->panels[0].material;
  for (guint i = 0; i < tmpl->parts->len; i++)
    {
      FwCutPart *part = tmpl->parts->pdata[i];
      part->thickness_mm = part->kind == FW_TEMPLATE_PANEL ? 12 : 30;
    }
  g_assert_cmpfloat (stuff.density_kgm3, >, 0);
  g_assert_cmpint (laid_in_stock (tmpl, (FwStockSheet) { .material = material, .thickness_mm = 12 }), >, 0);
  g_assert_cmpint (laid_in_stock (tmpl, (FwStockSheet) { .material = material, .thickness_mm = 12.3 }), >, 0);
  g_assert_cmpint (laid_in_stock (tmpl, (FwStockSheet) { .material = material, .thickness_mm = 13 }), ==, 0);
  g_assert_cmpint (laid_in_stock (tmpl, (FwStockSheet) { .material = (char *)"a maker's word", .thickness_mm = 12, .stuff = stuff }), >, 0);
  g_assert_cmpint (laid_in_stock (tmpl, (FwStockSheet) { .material = (char *)"a maker's word", .thickness_mm = 12, .stuff = other }), ==, 0);
  fw_mechanism_free (mech);
}

static void
sheets_are_numbered_before_the_ending (void)
{
  g_autofree char *one = fw_laser_sheet_path ("a.b/out.svg", 0, 1), *two = fw_laser_sheet_path ("a.b/out.svg", 1, 3);
  g_assert_cmpstr (one, ==, "a.b/out.svg");
  g_assert_cmpstr (two, ==, "a.b/out-2.svg");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/templates/boxes never overlap, whatever their size", boxes_never_overlap);
  g_test_add_func ("/templates/boxes that fill a sheet take one", boxes_that_fill_a_sheet_take_one);
  g_test_add_func ("/templates/a box as large as the sheet ends the packing", a_box_as_large_as_the_sheet_ends_the_packing);
  g_test_add_func ("/templates/tiles cover a length, and one fewer would not", tiles_cover_a_length_and_no_more);
  g_test_add_func ("/templates/tiles are named by column and row", tiles_are_named_by_column_and_row);
  g_test_add_func ("/templates/every part is whole on a page or on its tiles", every_part_is_whole_on_pages_or_tiles);
  g_test_add_func ("/templates/a part that fits a page is not tiled", a_part_that_fits_a_page_is_not_tiled);
  g_test_add_func ("/templates/parts are listed by their letters", parts_are_listed_by_their_letters);
  g_test_add_func ("/templates/every page draws on any surface, within its paper", every_page_draws_on_any_surface);
  g_test_add_func ("/templates/words keep clear of each other and of holes", words_keep_clear);
  g_test_add_func ("/templates/a stop leaves no file behind", a_stop_leaves_nothing);
  g_test_add_func ("/templates/numbers in SVG have points in every locale", numbers_in_svg_have_points_in_every_locale);
  g_test_add_func ("/templates/a sheet is taken where the cut list takes it", a_sheet_is_taken_where_the_cut_list_takes_it);
  g_test_add_func ("/templates/sheets are numbered before the ending", sheets_are_numbered_before_the_ending);
  return g_test_run ();
}
