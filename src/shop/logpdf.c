/* The build log as pages to print: date, note, photos, what changed and what it did, strip, trouble,
 * and the turn in figures. */
#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "draw/motionstrip.h"
#include "shop/logink.h"
#include "shop/logmarkdown.h"
#include "shop/logpicture.h"

#define MM (72 / 25.4)
#define MARGIN (18 * MM)
#define GUTTER (8 * MM)
#define PHOTO_MOST_PX 1400  /* some 200 dots an inch over the width of the page */
#define PHOTO_MOST_HIGH (70 * MM)
#define STRIP_FRAMES 6      /* of two rows: larger frames than the plate by itself has */
#define MOST_COLUMNS 9      /* of figures side by side */

typedef struct
{
  const FwLogbook *book;
  cairo_t *cr;
  FwStyle style;
  double width, height; /* of the paper */
  double inner;         /* width between the margins */
  double y;             /* where the next thing goes */
  int page;
} Sheet;

static const FwInk body_ink = { .size = 9.5 };

/* ---- Pages ---- */

static double
bottom (const Sheet *s)
{
  return s->height - MARGIN;
}

static void
rule (const Sheet *s, double y)
{
  cairo_move_to (s->cr, MARGIN, y);
  cairo_line_to (s->cr, MARGIN + s->inner, y);
  cairo_set_line_width (s->cr, 0.5);
  fw_set_colour (s->cr, s->style.grid);
  cairo_stroke (s->cr);
}

static void
begin_page (Sheet *s)
{
  FwInk left = { .size = 8 }, right = { .size = 8, .align = 1 };
  if (s->page > 0)
    cairo_show_page (s->cr);
  s->page++;
  g_autofree char *number = g_strdup_printf ("%d", s->page);
  g_autofree char *head = *s->book->title ? g_strdup_printf (_ ("%s: build log"), s->book->title)
                                          : g_strdup (_ ("Build log"));
  double y = MARGIN - 8 * MM;
  fw_ink_draw (s->cr, number, &right, MARGIN + s->inner, y, s->style.faint_ink);
  if (s->page > 1)
    {
      left.width = s->inner - 20 * MM;
      g_autoptr (GPtrArray) lines = fw_ink_lines (head, &left);
      left.width = 0; /* of a long title, what fits on one line */
      fw_ink_draw (s->cr, g_ptr_array_index (lines, 0), &left, MARGIN, y, s->style.faint_ink);
      rule (s, MARGIN - 2 * MM);
    }
  s->y = MARGIN + 2 * MM;
}

/* A new page unless `height` more fits on this one. */
static void
need (Sheet *s, double height)
{
  if (s->y + height > bottom (s) && s->y > MARGIN + 10 * MM)
    begin_page (s);
}

/* Words that may run over several pages, line by line. */
static void
flow (Sheet *s, const char *text, FwInk ink, double x, FwColour colour)
{
  g_autoptr (GPtrArray) lines = fw_ink_lines (text, &ink);
  FwInk line = ink;
  line.width = 0;
  for (guint i = 0; i < lines->len; i++)
    {
      need (s, 1.4 * ink.size);
      fw_ink_draw (s->cr, g_ptr_array_index (lines, i), &line, x, s->y, colour);
      s->y += 1.4 * ink.size;
    }
}

static void
heading (const Sheet *s, const char *text, double x, double y)
{
  FwInk ink = { .size = 8, .bold = TRUE };
  fw_ink_draw (s->cr, text, &ink, x, y, s->style.motion);
}

/* ---- Lines ---- */

static FwColour
line_colour (const Sheet *s, const FwLogLine *line)
{
  return line->kind == FW_LOG_NEW || line->kind == FW_LOG_TROUBLE ? s->style.trouble
         : line->kind == FW_LOG_SAME || line->kind == FW_LOG_FIRST ? s->style.faint_ink
                                                                   : s->style.ink;
}

/* A dash before what is, a cross before trouble, so that colour does not speak alone. */
static double
draw_line (const Sheet *s, const FwLogLine *line, double x, double y, double width, gboolean paint)
{
  FwInk ink = body_ink;
  gboolean trouble = line->kind == FW_LOG_NEW || line->kind == FW_LOG_TROUBLE;
  ink.width = width - 11;
  if (!paint)
    return fw_ink_height (line->text, &ink);
  double middle = y + 0.75 * ink.size;
  cairo_move_to (s->cr, x, middle + (trouble ? 2.5 : 0));
  cairo_line_to (s->cr, x + 5, middle - (trouble ? 2.5 : 0));
  if (trouble)
    {
      cairo_move_to (s->cr, x, middle - 2.5);
      cairo_line_to (s->cr, x + 5, middle + 2.5);
    }
  cairo_set_line_width (s->cr, 0.9);
  fw_set_colour (s->cr, trouble ? s->style.trouble : s->style.faint_ink);
  cairo_stroke (s->cr);
  return fw_ink_draw (s->cr, line->text, &ink, x + 11, y, line_colour (s, line));
}

static double
column_height (const Sheet *s, const GPtrArray *lines, double width)
{
  double height = 14;
  for (guint i = 0; i < lines->len; i++)
    height += draw_line (s, g_ptr_array_index (lines, i), 0, 0, width, FALSE) + 3;
  return height;
}

static void
column (const Sheet *s, const char *title, const GPtrArray *lines, double x, double width)
{
  double y = s->y + 14;
  heading (s, title, x, s->y);
  for (guint i = 0; i < lines->len; i++)
    y += draw_line (s, g_ptr_array_index (lines, i), x, y, width, TRUE) + 3;
}

/* Over the whole width, line by line, from page to page. */
static void
long_list (Sheet *s, const char *title, const GPtrArray *lines)
{
  need (s, 40);
  heading (s, title, MARGIN, s->y);
  s->y += 14;
  for (guint i = 0; i < lines->len; i++)
    {
      const FwLogLine *line = g_ptr_array_index (lines, i);
      need (s, fmin (draw_line (s, line, 0, 0, s->inner, FALSE), 200));
      s->y += draw_line (s, line, MARGIN, s->y, s->inner, TRUE) + 3;
    }
  s->y += 10;
}

static void
two_columns (Sheet *s, const FwLogPage *page)
{
  /* What it did is said in longer sentences. */
  double left = 0.42 * (s->inner - GUTTER), right = 0.58 * (s->inner - GUTTER);
  if (page->effects == NULL)
    {
      long_list (s, _ ("WHAT CHANGED"), page->changes);
      return;
    }
  double height = fmax (column_height (s, page->changes, left), column_height (s, page->effects, right));
  if (height > 0.6 * (bottom (s) - MARGIN))
    {
      long_list (s, _ ("WHAT CHANGED"), page->changes);
      long_list (s, _ ("WHAT IT DID"), page->effects);
      return;
    }
  need (s, height);
  column (s, _ ("WHAT CHANGED"), page->changes, MARGIN, left);
  column (s, _ ("WHAT IT DID"), page->effects, MARGIN + left + GUTTER, right);
  s->y += height + 10;
}

/* ---- Pictures ---- */

static void
photo (Sheet *s, cairo_surface_t *surface, const char *caption)
{
  double w = cairo_image_surface_get_width (surface), h = cairo_image_surface_get_height (surface);
  double scale = fmin (s->inner / w, PHOTO_MOST_HIGH / h);
  FwInk ink = { .size = 8.5, .width = s->inner };
  double under = *caption ? fw_ink_height (caption, &ink) + 4 : 0;
  need (s, h * scale + under + 10);
  cairo_save (s->cr);
  cairo_translate (s->cr, MARGIN, s->y);
  cairo_scale (s->cr, scale, scale);
  cairo_set_source_surface (s->cr, surface, 0, 0);
  cairo_paint (s->cr);
  cairo_restore (s->cr);
  s->y += h * scale + 4;
  if (*caption)
    fw_ink_draw (s->cr, caption, &ink, MARGIN, s->y, s->style.faint_ink);
  s->y += under + 8;
}

static void
photos (Sheet *s, const FwLogPage *page)
{
  for (guint i = 0; i + 1 < page->pictures->len; i += 2)
    {
      g_autofree char *why = NULL;
      const char *caption = g_ptr_array_index (page->pictures, i + 1);
      cairo_surface_t *surface = fw_log_picture_load (s->book->folder, g_ptr_array_index (page->pictures, i),
                                                      PHOTO_MOST_PX, &why);
      if (surface != NULL)
        {
          photo (s, surface, caption);
          cairo_surface_destroy (surface);
          continue;
        }
      FwInk ink = { .size = 8.5, .width = s->inner };
      g_autofree char *words = *caption ? g_strdup_printf ("%s\n%s", why, caption) : g_strdup (why);
      flow (s, words, ink, MARGIN, s->style.faint_ink);
      s->y += 6;
    }
}

static void
strip (Sheet *s, const FwLogPage *page)
{
  FwScene scene = fw_log_state_scene (page->state);
  FwMotionStrip plate = fw_motion_strip_default ();
  int w, h;
  plate.frames = STRIP_FRAMES;
  plate.settings = FALSE;
  plate.lengths = s->book->lengths;
  fw_motion_strip_size (&scene, &plate, &w, &h);
  /* The plate's own margin is left outside: its frames begin where the words do. */
  double edge = 0.09 * plate.frame_width, scale = s->inner / (w - 2 * edge);
  double height = (h - 2 * edge) * scale, most = 0.62 * (bottom (s) - MARGIN);
  scale *= fmin (1, most / height);
  height = fmin (height, most);
  need (s, height + 8);
  cairo_save (s->cr);
  cairo_rectangle (s->cr, MARGIN - 1, s->y - 1, s->inner + 2, height + 2); /* the plate paints its ground */
  cairo_clip (s->cr);
  cairo_translate (s->cr, MARGIN - edge * scale, s->y - edge * scale);
  cairo_scale (s->cr, scale, scale);
  fw_draw_motion_strip (s->cr, &scene, &plate, "");
  cairo_restore (s->cr);
  s->y += height + 12;
}

/* ---- Figures ---- */

/* Columns `first` to before `end`, with the crank angle before them. */
static void
table_block (Sheet *s, const GPtrArray *rows, guint first, guint end)
{
  FwInk head = { .size = 7, .align = 1 }, cell = { .size = 8, .align = 1 };
  double column = s->inner / (MOST_COLUMNS + 1), line = 12.5, head_height = 0;
  const GPtrArray *names = g_ptr_array_index (rows, 0);
  head.width = column - 6;
  for (guint c = first; c < end; c++)
    head_height = fmax (head_height, fw_ink_height (g_ptr_array_index (names, c), &head));
  need (s, head_height + 10 + line * rows->len);
  for (guint c = first - 1; c < end; c++)
    {
      guint which = c < first ? 0 : c;
      double x = MARGIN + (c + 1 - first) * column;
      double height = fw_ink_height (g_ptr_array_index (names, which), &head);
      fw_ink_draw (s->cr, g_ptr_array_index (names, which), &head, x, s->y + head_height - height, s->style.faint_ink);
      for (guint r = 1; r < rows->len; r++)
        fw_ink_draw (s->cr, g_ptr_array_index ((GPtrArray *)g_ptr_array_index (rows, r), which), &cell, x + head.width,
                     s->y + head_height + 6 + (r - 1) * line, s->style.ink);
    }
  rule (s, s->y + head_height + 3);
  s->y += head_height + 16 + line * (rows->len - 1);
}

static void
table (Sheet *s, const FwLogPage *page)
{
  g_autoptr (GPtrArray) rows = fw_log_page_table (page, s->book->lengths);
  guint n = ((GPtrArray *)g_ptr_array_index (rows, 0))->len;
  need (s, 14 + 190);
  heading (s, _ ("ONE TURN"), MARGIN, s->y);
  s->y += 14;
  for (guint first = 1; first < n; first += MOST_COLUMNS)
    table_block (s, rows, first, MIN (first + MOST_COLUMNS, n));
}

/* ---- Entries ---- */

static void
entry (Sheet *s, const FwLogPage *page)
{
  FwInk date = { .size = 16, .bold = TRUE, .width = s->inner }, note = { .size = 11, .width = s->inner };
  g_autofree char *words = fw_log_page_heading (page);
  flow (s, words, date, MARGIN, s->style.ink);
  s->y += 4;
  if (*page->note)
    flow (s, page->note, note, MARGIN, s->style.ink);
  s->y += 10;
  photos (s, page);
  two_columns (s, page);
  strip (s, page);
  long_list (s, _ ("TROUBLE"), page->troubles);
  table (s, page);
}

static void
title (Sheet *s)
{
  FwInk large = { .size = 26, .bold = TRUE, .width = s->inner }, small = { .size = 12, .width = s->inner };
  const char *name = *s->book->title ? s->book->title : _ ("Build log");
  flow (s, name, large, MARGIN, s->style.ink);
  if (*s->book->title)
    s->y += fw_ink_draw (s->cr, _ ("Build log"), &small, MARGIN, s->y, s->style.faint_ink);
  s->y += 12;
  rule (s, s->y);
  s->y += 14;
  for (guint i = 0; i < s->book->remarks->len; i++)
    flow (s, ((FwLogLine *)g_ptr_array_index (s->book->remarks, i))->text, small, MARGIN, s->style.faint_ink);
  if (s->book->pages->len == 0)
    flow (s, _ ("The log is empty."), small, MARGIN, s->style.ink);
}

gboolean
fw_logbook_write_pdf (const FwLogbook *book, const char *path, const FwProgress *progress, GError **error)
{
  gboolean letter = book->lengths == FW_LENGTHS_INCH, onward = TRUE;
  Sheet s = { .book = book, .style = fw_style (FW_THEME_PRINT, 1), .width = letter ? 612 : 210 * MM,
              .height = letter ? 792 : 297 * MM };
  FwPdf pdf;
  s.inner = s.width - 2 * MARGIN;
  fw_pdf_open (&pdf, s.width, s.height, *book->title ? book->title : _ ("Build log"));
  s.cr = pdf.cr;
  begin_page (&s);
  title (&s);
  for (guint i = 0; i < book->pages->len && onward; i++)
    {
      onward = fw_progress (progress, (double)i / book->pages->len, _ ("Drawing pages"));
      if (!onward)
        break;
      if (i > 0)
        begin_page (&s);
      entry (&s, g_ptr_array_index (book->pages, i));
    }
  cairo_show_page (s.cr);
  return fw_pdf_close (&pdf, onward, path, error);
}
