#include "shop/flipbook.h"

#include <glib/gi18n.h>
#include <math.h>

#include "doc/document.h"
#include "shop/logink.h"
#include "shop/views.h"

#define MM (72 / 25.4)
#define EDGE (12 * MM)    /* kept free round the leaves: cut marks, and what a printer cannot reach */
#define FOOT (8 * MM)     /* below them, for the line that tells the sheets apart */
#define STUB (20 * MM)
#define CARD_MM 0.2       /* thickness of a leaf of 160 g/m² card, common practice, no source */
#define MARK (5 * MM)

FwFlipbook
fw_flipbook_default (void)
{
  return (FwFlipbook){ .frames = 48, .views = FW_STRIP_BOTH, .lengths = FW_LENGTHS_MM };
}

FwFlipbookLayout
fw_flipbook_layout (const FwFlipbook *book)
{
  gboolean a4 = book->paper == FW_FLIPBOOK_A4;
  FwFlipbookLayout l = { .width = a4 ? 210 * MM : 612, .height = a4 ? 297 * MM : 792, .left = EDGE,
                         .top = EDGE, .stub = STUB, .columns = 2, .rows = 5,
                         .leaves = book->frames + 1 };
  l.leaf_width = (l.width - 2 * EDGE) / l.columns;
  l.leaf_height = (l.height - 2 * EDGE - FOOT) / l.rows;
  int places = l.columns * l.rows;
  l.sheets = (l.leaves + places - 1) / places;
  return l;
}

int
fw_flipbook_leaf (const FwFlipbookLayout *l, int sheet, int place)
{
  int leaf = place * l->sheets + sheet;
  return leaf < l->leaves ? leaf : -1;
}

/* ---- One leaf ---- */

typedef struct
{
  const FwScene *scene;
  const FwFlipbook *book;
  const char *title;
  FwFlipbookLayout layout;
  FwStyle style;
  FwPose *pose;
  cairo_t *cr;
} Press;

/* Two staples and the line that the cover bends at. */
static void
draw_stub (const Press *p, double x, double y)
{
  const FwFlipbookLayout *l = &p->layout;
  double fold = x + l->stub, staple = x + 0.45 * l->stub;
  const double dashes[] = { 2.5, 2.5 };
  cairo_set_line_width (p->cr, 0.4);
  fw_set_colour (p->cr, p->style.faint_ink);
  cairo_set_dash (p->cr, dashes, 2, 0);
  cairo_move_to (p->cr, fold, y + 4);
  cairo_line_to (p->cr, fold, y + l->leaf_height - 4);
  cairo_stroke (p->cr);
  cairo_set_dash (p->cr, NULL, 0, 0);
  for (int i = 0; i < 2; i++)
    {
      double middle = y + (i == 0 ? 0.2 : 0.8) * l->leaf_height;
      cairo_move_to (p->cr, staple, middle - 4.5 * MM);
      cairo_line_to (p->cr, staple, middle + 4.5 * MM);
    }
  cairo_set_line_width (p->cr, 1);
  cairo_stroke (p->cr);
}

/* Points to the edge that the thumb runs over. */
static void
draw_arrow (const Press *p, double x, double y, double size)
{
  cairo_move_to (p->cr, x, y);
  cairo_line_to (p->cr, x - size, y - 0.6 * size);
  cairo_line_to (p->cr, x - size, y + 0.6 * size);
  cairo_close_path (p->cr);
  fw_set_colour (p->cr, p->style.motion);
  cairo_fill (p->cr);
}

static void
draw_cover (const Press *p, double x, double y)
{
  const FwFlipbookLayout *l = &p->layout;
  double left = x + l->stub + 5 * MM, width = l->leaf_width - l->stub - 12 * MM;
  FwInk title = { .size = 15, .bold = TRUE, .width = width }, line = { .size = 8, .width = width };
  g_autofree char *what = g_strdup_printf (ngettext ("One turn of the crank in %d frame", "One turn of the crank in %d frames",
                                                     (gulong)p->book->frames),
                                           p->book->frames);
  while (title.size > 7 && fw_ink_height (p->title, &title) > 0.5 * l->leaf_height)
    title.size -= 0.5;
  double down = y + 0.24 * l->leaf_height;
  if (*p->title)
    down += fw_ink_draw (p->cr, p->title, &title, left, down, p->style.ink) + 4;
  fw_ink_draw (p->cr, what, &line, left, down, p->style.faint_ink);
  draw_arrow (p, x + l->leaf_width - 4 * MM, y + l->leaf_height - 8 * MM, 4 * MM);
}

static void
draw_frame (const Press *p, int frame, double x, double y)
{
  const FwFlipbookLayout *l = &p->layout;
  double angle = 360.0 * frame / p->book->frames;
  FwScene scene = *p->scene;
  FwBox box = { x + l->stub + 1, y + 1, l->leaf_width - l->stub - 2, l->leaf_height - 2 };
  FwPairOfViews pair = fw_views_fit (p->scene, p->book->views, box, 2.5 * MM);
  fw_pose_solve (p->pose, scene.mechanism, angle * G_PI / 180);
  scene.pose = p->pose;
  scene.scratch = NULL;
  fw_views_draw (p->cr, &scene, &pair, &p->style, 0);

  FwInk number = { .size = 11, .bold = TRUE, .align = 0 }, small = { .size = 6.5 };
  g_autofree char *page = g_strdup_printf ("%d", frame + 1);
  g_autofree char *crank = fw_units_format (angle, FW_UNIT_DEG, p->book->lengths, angle == floor (angle) ? 0 : 1);
  double at = x + 0.45 * l->stub + 6;
  fw_ink_draw (p->cr, page, &number, at, y + 0.5 * l->leaf_height - 9, p->style.ink);
  fw_ink_draw (p->cr, crank, &small, at, y + 0.5 * l->leaf_height + 5, p->style.faint_ink);
}

static void
draw_leaf (const Press *p, int leaf, double x, double y)
{
  cairo_save (p->cr);
  cairo_rectangle (p->cr, x, y, p->layout.leaf_width, p->layout.leaf_height);
  cairo_clip (p->cr);
  if (leaf == 0)
    draw_cover (p, x, y);
  else
    draw_frame (p, leaf - 1, x, y);
  draw_stub (p, x, y);
  cairo_restore (p->cr);
}

/* ---- A sheet ---- */

/* Outside the leaves, and a fine cross where four of them meet. */
static void
draw_cut_marks (const Press *p)
{
  const FwFlipbookLayout *l = &p->layout;
  double right = l->left + l->columns * l->leaf_width, bottom = l->top + l->rows * l->leaf_height;
  for (int c = 0; c <= l->columns; c++)
    {
      double x = l->left + c * l->leaf_width;
      cairo_move_to (p->cr, x, l->top - 1.5 * MM);
      cairo_rel_line_to (p->cr, 0, -MARK);
      cairo_move_to (p->cr, x, bottom + 1.5 * MM);
      cairo_rel_line_to (p->cr, 0, MARK);
      for (int r = 1; c > 0 && c < l->columns && r < l->rows; r++)
        {
          double y = l->top + r * l->leaf_height;
          cairo_move_to (p->cr, x - 3, y);
          cairo_rel_line_to (p->cr, 6, 0);
          cairo_move_to (p->cr, x, y - 3);
          cairo_rel_line_to (p->cr, 0, 6);
        }
    }
  for (int r = 0; r <= l->rows; r++)
    {
      double y = l->top + r * l->leaf_height;
      cairo_move_to (p->cr, l->left - 1.5 * MM, y);
      cairo_rel_line_to (p->cr, -MARK, 0);
      cairo_move_to (p->cr, right + 1.5 * MM, y);
      cairo_rel_line_to (p->cr, MARK, 0);
    }
  fw_set_colour (p->cr, p->style.ink);
  cairo_set_line_width (p->cr, 0.4);
  cairo_stroke (p->cr);
}

static void
draw_sheet (const Press *p, int sheet)
{
  const FwFlipbookLayout *l = &p->layout;
  for (int place = 0; place < l->columns * l->rows; place++)
    {
      int leaf = fw_flipbook_leaf (l, sheet, place);
      if (leaf >= 0)
        draw_leaf (p, leaf, l->left + place % l->columns * l->leaf_width,
                   l->top + place / l->columns * l->leaf_height);
    }
  draw_cut_marks (p);
  FwInk foot = { .size = 7.5, .align = 0.5 };
  g_autofree char *words = g_strdup_printf (_ ("Sheet %d of %d"), sheet + 1, l->sheets);
  fw_ink_draw (p->cr, words, &foot, l->width / 2, l->height - EDGE - 2, p->style.faint_ink);
}

/* ---- How to make it ---- */

/* The places of a sheet with the number of the pile that each gives. */
static double
draw_piles (const Press *p, double x, double y)
{
  const FwFlipbookLayout *l = &p->layout;
  double w = 34 * MM, h = w * l->leaf_height / l->leaf_width;
  FwInk ink = { .size = 11, .bold = TRUE, .align = 0.5 };
  for (int i = 0; i < l->columns * l->rows; i++)
    {
      double left = x + i % l->columns * w, top = y + i / l->columns * h;
      g_autofree char *number = g_strdup_printf ("%d", i + 1);
      cairo_rectangle (p->cr, left, top, w, h);
      cairo_move_to (p->cr, left + w * l->stub / l->leaf_width, top);
      cairo_rel_line_to (p->cr, 0, h);
      cairo_set_line_width (p->cr, 0.6);
      fw_set_colour (p->cr, p->style.faint_ink);
      cairo_stroke (p->cr);
      fw_ink_draw (p->cr, number, &ink, left + 0.6 * w, top + h / 2 - 8, p->style.ink);
    }
  return l->rows * h;
}

/* To see whether the printer kept the size. */
static void
draw_ruler (const Press *p, double x, double y)
{
  gboolean inch = p->book->lengths == FW_LENGTHS_INCH;
  double unit = inch ? 72 : 10 * MM;
  int n = inch ? 4 : 10;
  for (int i = 0; i <= n; i++)
    {
      cairo_move_to (p->cr, x + i * unit, y);
      cairo_rel_line_to (p->cr, 0, i % n == 0 ? -9 : -5);
    }
  cairo_move_to (p->cr, x, y);
  cairo_rel_line_to (p->cr, n * unit, 0);
  cairo_set_line_width (p->cr, 0.7);
  fw_set_colour (p->cr, p->style.ink);
  cairo_stroke (p->cr);
  FwInk ink = { .size = 8 };
  g_autofree char *size = fw_units_format (n * unit / MM, FW_UNIT_MM, p->book->lengths, 0);
  g_autofree char *words = g_strdup_printf (_ ("This line is %s long if the printer kept the size."), size);
  fw_ink_draw (p->cr, words, &ink, x, y + 3, p->style.faint_ink);
}

static GPtrArray *
steps (const Press *p)
{
  const FwFlipbookLayout *l = &p->layout;
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *thick = fw_units_format (l->leaves * CARD_MM, FW_UNIT_MM, p->book->lengths, 0);
  g_ptr_array_add (list, g_strdup_printf (ngettext ("Print the %d sheet that follows on one side of stiff paper, at actual size. Of 160 g/m² "
                                                    "paper the book will be about %s thick.",
                                                    "Print the %d sheets that follow on one side of stiff paper, at actual size. Of 160 g/m² "
                                                    "paper the book will be about %s thick.",
                                                    (gulong)l->sheets),
                                          l->sheets, thick));
  g_ptr_array_add (list, g_strdup (_ ("Lay all sheets on each other in order, sheet 1 on top, and knock the edges even.")));
  g_ptr_array_add (list, g_strdup (_ ("Cut along the marks through all sheets, or a few at a time. Each place gives one pile; the "
                                      "picture shows their numbers.")));
  g_ptr_array_add (list, g_strdup (_ ("Lay the piles on each other: pile 1 on top with the cover, then pile 2, and so on. The numbers on "
                                      "the stubs then run from 1 to the last. Leaves without a picture at the end are left over.")));
  g_ptr_array_add (list, g_strdup (_ ("Knock the edge with the arrow even, clamp the stub, and drive two staples through it where the "
                                      "short lines are. What is thicker than the staples reach: sew it, or hold it with a fold-back clip.")));
  g_ptr_array_add (list, g_strdup (_ ("Hold the stub in the left hand and let the leaves run off the right thumb at the arrow. The last "
                                      "frame leads into the first: it goes on turning.")));
  g_ptr_array_add (list, g_strdup (_ ("A knife cuts fingers as well as paper: use a steel rule and a cutting mat, cut away from the hand "
                                      "that holds, and keep children away from knife and stapler.")));
  return list;
}

static void
draw_guide (const Press *p)
{
  const FwFlipbookLayout *l = &p->layout;
  double left = 22 * MM, width = l->width - 2 * left, y = 24 * MM;
  FwInk head = { .size = 20, .bold = TRUE, .width = width }, number = { .size = 10.5, .bold = TRUE },
        text = { .size = 10.5, .width = width - 18 };
  g_autofree char *title = *p->title ? g_strdup_printf (_ ("Flip-book: %s"), p->title) : g_strdup (_ ("Flip-book"));
  y += fw_ink_draw (p->cr, title, &head, left, y, p->style.ink) + 14;
  g_autoptr (GPtrArray) list = steps (p);
  for (guint i = 0; i < list->len; i++)
    {
      g_autofree char *n = i + 1 < list->len ? g_strdup_printf ("%u", i + 1) : g_strdup ("!");
      fw_ink_draw (p->cr, n, &number, left, y, i + 1 < list->len ? p->style.motion : p->style.trouble);
      y += fw_ink_draw (p->cr, g_ptr_array_index (list, i), &text, left + 18, y, p->style.ink) + 8;
    }
  y += 12;
  y += draw_piles (p, left + 18, y) + 36;
  draw_ruler (p, left + 18, y);
}

static Press
press (const FwScene *scene, const FwFlipbook *book, const char *title)
{
  return (Press){ .scene = scene, .book = book, .title = title, .layout = fw_flipbook_layout (book),
                  .style = fw_style (FW_THEME_PRINT, 0.55), .pose = fw_pose_new (scene->mechanism) };
}

void
fw_flipbook_draw_page (cairo_t *cr, const FwScene *scene, const FwFlipbook *book, const char *title, int page)
{
  Press p = press (scene, book, title);
  p.cr = cr;
  if (p.pose != NULL && page == 0)
    draw_guide (&p);
  else if (p.pose != NULL && page <= p.layout.sheets)
    draw_sheet (&p, page - 1);
  free (p.pose);
}

gboolean
fw_flipbook_write_pdf (const FwScene *scene, const FwFlipbook *book, const char *title, const char *path,
                       const FwProgress *progress, GError **error)
{
  FwPdf pdf;
  Press p = press (scene, book, title);
  gboolean onward = TRUE;
  fw_pdf_open (&pdf, p.layout.width, p.layout.height, title);
  p.cr = pdf.cr;
  if (p.pose != NULL)
    {
      draw_guide (&p);
      cairo_show_page (pdf.cr);
    }
  for (int i = 0; i < p.layout.sheets && onward && p.pose != NULL; i++)
    {
      onward = fw_progress (progress, (double)i / p.layout.sheets, _ ("Drawing leaves"));
      if (!onward)
        break;
      draw_sheet (&p, i);
      cairo_show_page (pdf.cr);
    }
  gboolean drawn = p.pose != NULL;
  free (p.pose);
  if (drawn)
    return fw_pdf_close (&pdf, onward, path, error);
  fw_pdf_close (&pdf, FALSE, path, NULL);
  g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _ ("There is not enough memory for the flip-book"));
  return FALSE;
}
