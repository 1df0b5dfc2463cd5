/* Which part lies on which page. */
#include "shop/templatepages.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "draw/shapes.h"
#include "shop/sheetpack.h"
#include "shop/templatepaint.h"

#define MARGIN 10.0    /* mm that a printer leaves white, and a little */
#define HEADER 12.0
#define FOOTER 15.0
#define GAP 7.0        /* mm between parts */
#define EDGE 0.5       /* mm around a part, for the width of its lines */
#define MOST_TILES 400 /* of one part */
#define LARGEST 5000.0 /* mm of one sheet: what a PDF page may measure */

/* ISO 216, and the inch sizes (8 1/2 x 11, 11 x 17 in). */
static const struct
{
  const char *name;
  double width, height;
} papers[FW_N_PAPERS] = {
  [FW_PAPER_A4] = { "a4", 210, 297 },
  [FW_PAPER_A3] = { "a3", 297, 420 },
  [FW_PAPER_LETTER] = { "letter", 215.9, 279.4 },
  [FW_PAPER_TABLOID] = { "tabloid", 279.4, 431.8 },
  [FW_PAPER_ONE] = { "one", 0, 0 },
};

gboolean
fw_paper_from_name (const char *name, FwPaper *paper)
{
  for (int i = 0; i < FW_N_PAPERS; i++)
    if (strcmp (papers[i].name, name) == 0)
      {
        *paper = (FwPaper)i;
        return TRUE;
      }
  return FALSE;
}

int
fw_tiles_along (double whole_mm, double tile_mm)
{
  double n = ceil ((whole_mm - FW_TILE_OVERLAP) / (tile_mm - FW_TILE_OVERLAP) - 1e-9);
  return n < 1 ? 1 : n > 1e6 ? 1000000 : (int)n;
}

void
fw_tile_name (int column, int row, char name[24])
{
  char letter[8];
  fw_made_letter (column, letter);
  g_snprintf (name, 24, "%s%d", letter, row + 1);
}

int
fw_template_pages_count (const FwTemplatePages *p)
{
  return (int)p->pages->len;
}

void
fw_template_pages_size (const FwTemplatePages *p, double *width_mm, double *height_mm)
{
  *width_mm = p->width_mm;
  *height_mm = p->height_mm;
}

/* ---- Placing ---- */

static const FwCutPart *
part_at (const FwTemplatePages *p, int i)
{
  return p->tmpl->parts->pdata[i];
}

static FwPackBox
box_of (const FwTemplatePages *p, int part)
{
  if (part < 0)
    return (FwPackBox){ .width = FW_CHECK_SQUARE, .height = FW_CHECK_SQUARE };
  const FwCutPart *c = part_at (p, part);
  FwPackBox box = { .width = c->high.x - c->low.x + 2 * EDGE, .height = c->high.y - c->low.y + 2 * EDGE };
  /* What can be read upright is. */
  if (p->paper != FW_PAPER_ONE && box.width <= p->frame_width && box.height <= p->frame_height)
    box.way = FW_PACK_FLAT;
  return box;
}

/* The placement whose box has its upper left corner at (x, y). */
static FwPagePart
placement (const FwTemplatePages *p, int part, double x, double y, gboolean turned)
{
  FwVec2 low = { 0, 0 }, high = { FW_CHECK_SQUARE, FW_CHECK_SQUARE };
  if (part >= 0)
    {
      low = fw_vec2 (part_at (p, part)->low.x - EDGE, part_at (p, part)->low.y - EDGE);
      high.y = part_at (p, part)->high.y + EDGE;
    }
  return turned ? (FwPagePart){ part, { x + high.y, y - low.x }, TRUE }
                : (FwPagePart){ part, { x - low.x, y - low.y }, FALSE };
}

static void
leave_out (FwTemplatePages *p, GPtrArray *left_out, int part, const char *why)
{
  const FwCutPart *c = part_at (p, part);
  g_autofree char *w = fw_units_format (c->cut_high.x - c->cut_low.x, FW_UNIT_MM, p->tmpl->lengths, 0);
  g_autofree char *h = fw_units_format (c->cut_high.y - c->cut_low.y, FW_UNIT_MM, p->tmpl->lengths, 0);
  /* Translators: name of a part, its width and height, why it is left out */
  g_ptr_array_add (left_out, g_strdup_printf (_ ("%s measures %s by %s, %s"), c->name, w, h, why));
}

static void
add_cell (FwTemplatePages *p, int page, int n_pages)
{
  FwMapCell cell = { page, n_pages };
  g_array_append_val (p->cells, cell);
}

/* Parts that fit a page share pages, like with like: panels first, gauges and the plate after. */
static void
place_whole (FwTemplatePages *p, const int *parts, int n)
{
  FwPackBox *boxes = g_new0 (FwPackBox, n + 1);
  for (int i = 0; i < n; i++)
    boxes[i] = box_of (p, parts[i]);
  int sheets = fw_pack (boxes, n, p->frame_width, p->frame_height, GAP);
  for (int s = 0; s < sheets; s++)
    {
      FwTemplatePage page = { .kind = FW_PAGE_PARTS, .first = (int)p->placed->len };
      for (int i = 0; i < n; i++)
        {
          if (boxes[i].sheet != s)
            continue;
          FwPagePart at = placement (p, parts[i], p->frame_x + boxes[i].x, p->frame_y + boxes[i].y,
                                     boxes[i].turned);
          g_array_append_val (p->placed, at);
          page.n++;
          p->page_of[parts[i]] = (int)p->pages->len;
          p->pages_of[parts[i]] = 1;
          p->n_parts_placed++;
        }
      add_cell (p, (int)p->pages->len, 1);
      g_array_append_val (p->pages, page);
    }
  g_free (boxes);
}

static void
place_tiles (FwTemplatePages *p, int part, GPtrArray *left_out)
{
  FwPackBox box = box_of (p, part);
  double w = p->frame_width, h = p->frame_height, o = FW_TILE_OVERLAP;
  double flat = (double)fw_tiles_along (box.width, w) * fw_tiles_along (box.height, h);
  double stood = (double)fw_tiles_along (box.height, w) * fw_tiles_along (box.width, h);
  gboolean turned = stood < flat;
  if (fmin (flat, stood) > MOST_TILES)
    {
      leave_out (p, left_out, part, _ ("more than 400 pages of this paper, and is left out"));
      return;
    }
  double across = turned ? box.height : box.width, down = turned ? box.width : box.height;
  int columns = fw_tiles_along (across, w), rows = fw_tiles_along (down, h);
  double spare_x = columns * (w - o) + o - across, spare_y = rows * (h - o) + o - down;
  p->page_of[part] = (int)p->pages->len;
  p->pages_of[part] = columns * rows;
  p->n_parts_placed++;
  add_cell (p, (int)p->pages->len, columns * rows);
  for (int row = 0; row < rows; row++)
    for (int column = 0; column < columns; column++)
      {
        FwPagePart at = placement (p, part, p->frame_x + spare_x / 2 - column * (w - o),
                                   p->frame_y + spare_y / 2 - row * (h - o), turned);
        FwTemplatePage page = { .kind = FW_PAGE_TILE, .first = (int)p->placed->len, .n = 1,
                                .column = column, .row = row, .columns = columns, .rows = rows };
        g_array_append_val (p->placed, at);
        g_array_append_val (p->pages, page);
      }
}

static gboolean
fits_frame (const FwTemplatePages *p, int part)
{
  FwPackBox box = box_of (p, part);
  return fmin (box.width, box.height) <= fmin (p->frame_width, p->frame_height)
         && fmax (box.width, box.height) <= fmax (p->frame_width, p->frame_height);
}

static void
set_frame (FwTemplatePages *p, double width, double height)
{
  p->width_mm = width;
  p->height_mm = height;
  p->frame_x = MARGIN;
  p->frame_y = MARGIN + HEADER;
  p->frame_width = width - 2 * MARGIN;
  p->frame_height = height - 2 * MARGIN - HEADER - FOOTER;
}

/* The overview tells of all other pages, so it is planned last. */
static void
put_overview_first (FwTemplatePages *p)
{
  GArray *overview = fw_overview_plan (p);
  int more = (int)overview->len;
  g_array_prepend_vals (p->pages, overview->data, overview->len);
  for (guint i = 0; i < p->cells->len; i++)
    g_array_index (p->cells, FwMapCell, i).page += more;
  for (guint i = 0; i < p->tmpl->parts->len; i++)
    p->page_of[i] += p->page_of[i] < 0 ? 0 : more;
  g_array_free (overview, TRUE);
}

static void
lay_pages (FwTemplatePages *p, GPtrArray *left_out)
{
  int n = (int)p->tmpl->parts->len, n_whole = 0, *whole = g_new (int, n + 1);
  set_frame (p, papers[p->paper].width, papers[p->paper].height);
  for (int i = 0; i < n; i++)
    if (fits_frame (p, i))
      whole[n_whole++] = i;
  place_whole (p, whole, n_whole);
  for (int i = 0; i < n; i++)
    if (!fits_frame (p, i))
      place_tiles (p, i, left_out);
  g_free (whole);
}

/* ---- One sheet ---- */

/* Packs parts and the square into a width; the height that takes. */
static double
pack_width (const FwTemplatePages *p, const int *parts, FwPackBox *boxes, int n, double width)
{
  double height = 0;
  for (int i = 0; i < n; i++)
    boxes[i] = box_of (p, parts[i]);
  fw_pack (boxes, n, width, 1e9, GAP);
  for (int i = 0; i < n; i++)
    height = fmax (height, boxes[i].y + (boxes[i].turned ? boxes[i].width : boxes[i].height));
  return height;
}

/* The width that wastes least, of those that give a sheet no longer than twice its width. */
static double
choose_width (const FwTemplatePages *p, const int *parts, FwPackBox *boxes, int n)
{
  double area = 0, least = FW_ONE_LEAST, best = 0, best_cost = INFINITY;
  for (int i = 0; i < n; i++)
    {
      FwPackBox box = box_of (p, parts[i]);
      area += (box.width + GAP) * (box.height + GAP);
      least = fmax (least, fmin (box.width, box.height));
    }
  for (int k = 0; k < 12; k++)
    {
      double width = fmin (fmax (least, sqrt (area) * (0.7 + 0.1 * k)), LARGEST - 2 * MARGIN);
      double height = pack_width (p, parts, boxes, n, width);
      double cost = width * height * (1 + 0.4 * fabs (log (width / height / 1.4)));
      if (cost < best_cost)
        {
          best_cost = cost;
          best = width;
        }
    }
  return best;
}

static void
lay_one (FwTemplatePages *p, GPtrArray *left_out)
{
  int n = 0, total = (int)p->tmpl->parts->len, *parts = g_new (int, total + 1);
  double most = LARGEST - 2 * MARGIN - HEADER - FOOTER;
  FwPackBox *boxes = g_new0 (FwPackBox, total + 1);
  parts[n++] = -1;
  for (int i = 0; i < total; i++)
    {
      FwPackBox box = box_of (p, i);
      if (fmax (box.width, box.height) > most)
        leave_out (p, left_out, i, _ ("more than one sheet can (5 m), and is left out"));
      else
        parts[n++] = i;
    }
  double width = choose_width (p, parts, boxes, n), height;
  while ((height = pack_width (p, parts, boxes, n, width)) > most)
    {
      g_assert (n > 1); /* the square alone always fits */
      leave_out (p, left_out, parts[--n], _ ("and has no room left on one sheet of 5 m: it is left out"));
    }
  set_frame (p, width + 2 * MARGIN, height + 2 * MARGIN + HEADER + FOOTER);
  FwTemplatePage page = { .kind = FW_PAGE_PARTS, .first = 0, .n = n };
  for (int i = 0; i < n; i++)
    {
      FwPagePart at
          = placement (p, parts[i], p->frame_x + boxes[i].x, p->frame_y + boxes[i].y, boxes[i].turned);
      g_array_append_val (p->placed, at);
      if (parts[i] < 0)
        continue;
      p->page_of[parts[i]] = 0;
      p->pages_of[parts[i]] = 1;
      p->n_parts_placed++;
    }
  g_array_append_val (p->pages, page);
  g_free (parts);
  g_free (boxes);
}

FwTemplatePages *
fw_template_pages_new (const FwTemplate *tmpl, FwPaper paper)
{
  FwTemplatePages *p = g_new0 (FwTemplatePages, 1);
  GPtrArray *left_out = g_ptr_array_new ();
  p->tmpl = tmpl;
  p->paper = paper;
  p->pages = g_array_new (FALSE, FALSE, sizeof (FwTemplatePage));
  p->placed = g_array_new (FALSE, FALSE, sizeof (FwPagePart));
  p->cells = g_array_new (FALSE, FALSE, sizeof (FwMapCell));
  p->page_of = g_new (int, tmpl->parts->len + 1);
  p->pages_of = g_new0 (int, tmpl->parts->len + 1);
  for (guint i = 0; i < tmpl->parts->len; i++)
    p->page_of[i] = -1;
  if (paper == FW_PAPER_ONE)
    lay_one (p, left_out);
  else
    lay_pages (p, left_out);
  g_ptr_array_add (left_out, NULL);
  p->left_out = (char **)g_ptr_array_free (left_out, FALSE);
  if (paper != FW_PAPER_ONE)
    put_overview_first (p);
  return p;
}

void
fw_template_pages_free (FwTemplatePages *p)
{
  if (p == NULL)
    return;
  g_array_free (p->pages, TRUE);
  g_array_free (p->placed, TRUE);
  g_array_free (p->cells, TRUE);
  g_free (p->page_of);
  g_free (p->pages_of);
  g_strfreev (p->left_out);
  g_free (p);
}
