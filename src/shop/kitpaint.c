/* Painting what kitlayout.c and its like have put on a page. */
#include "draw/drawing.h"
#include "draw/forms.h"
#include "draw/paint.h"
#include "shop/kit.h"
#include "shop/logink.h"
#include "shop/meshdraw.h"

/* ---- Pieces that are cut ---- */

/* A bar as it lies on the bench: as long on paper, against the longest, as the square root of its length,
 * so that the shortest can still be seen. */
static void
paint_bar (cairo_t *cr, const FwKit *kit, const FwKitItem *item, const FwStyle *style)
{
  const FwCutPiece *piece = &kit->cut->pieces[item->index];
  double longest = 1, thick = 0.13 * item->box.width;
  for (int i = 0; i < kit->cut->n_pieces; i++)
    if (kit->cut->pieces[i].shape == FW_CUT_BAR)
      longest = fmax (longest, kit->cut->pieces[i].length_mm);
  double length = fmax (item->box.width * sqrt (fmax (piece->length_mm, 0) / longest), 1.2 * thick);
  double x = item->box.x + (item->box.width - length) / 2, y = item->box.y + 0.16 * item->box.height;
  FwMaterialLook look = fw_material_look (piece->material, style->theme);
  cairo_rectangle (cr, x, y, length, thick);
  fw_set_colour (cr, look.fill);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, look.edge);
  cairo_set_line_width (cr, style->thin);
  cairo_stroke (cr);
  cairo_move_to (cr, x + 1, y + 0.3 * thick);
  cairo_line_to (cr, x + length - 1, y + 0.3 * thick);
  fw_set_colour (cr, look.light);
  cairo_set_line_width (cr, 0.16 * thick);
  cairo_stroke (cr);
}

/* The outline of a panel, else a board of its proportions. */
static int
sheet_outline (const FwKit *kit, const FwCutPiece *piece, FwVec2 *out, int room)
{
  FwVec2 buffer[FW_FORM_OUTLINE];
  int n = 0;
  const FwVec2 *given = NULL;
  if (piece->made.kind == FW_MADE_PANEL)
    given = fw_form_outline (kit->mechanism->design, piece->made.index, buffer, &n);
  if (given == NULL || n > room || n < 3)
    {
      const FwVec2 board[4] = { { 0, 0 }, { piece->length_mm, 0 }, { piece->length_mm, piece->width_mm },
                                { 0, piece->width_mm } };
      for (int i = 0; i < 4; i++)
        out[i] = board[i];
      return 4;
    }
  for (int i = 0; i < n; i++)
    out[i] = (FwVec2){ given[i].x, -given[i].y };
  return n;
}

static void
paint_sheet (cairo_t *cr, const FwKit *kit, const FwKitItem *item, const FwStyle *style)
{
  const FwCutPiece *piece = &kit->cut->pieces[item->index];
  FwVec2 p[1000], low, high;
  int n = sheet_outline (kit, piece, p, G_N_ELEMENTS (p));
  low = high = p[0];
  for (int i = 1; i < n; i++)
    {
      low = (FwVec2){ fmin (low.x, p[i].x), fmin (low.y, p[i].y) };
      high = (FwVec2){ fmax (high.x, p[i].x), fmax (high.y, p[i].y) };
    }
  double scale = fmin (item->box.width / fmax (high.x - low.x, 1e-6),
                       item->box.height / fmax (high.y - low.y, 1e-6));
  double x = item->box.x + (item->box.width - scale * (high.x - low.x)) / 2;
  double y = item->box.y + (item->box.height - scale * (high.y - low.y)) / 2;
  FwMaterialLook look = fw_material_look (piece->material, style->theme);
  for (int i = 0; i < n; i++)
    cairo_line_to (cr, x + scale * (p[i].x - low.x), y + scale * (p[i].y - low.y));
  cairo_close_path (cr);
  fw_set_colour (cr, look.fill);
  cairo_fill_preserve (cr);
  fw_set_colour (cr, look.edge);
  cairo_set_line_width (cr, style->wide);
  cairo_stroke (cr);
}

static void
paint_solid (cairo_t *cr, const FwKit *kit, const FwKitItem *item, const FwStyle *style)
{
  FwMeshView view = { .yaw_deg = 35, .pitch_deg = 28, .box = item->box };
  fw_mesh_draw (cr, kit->solids->parts[item->index].mesh, &view, style);
}

/* ---- The sculpture ---- */

/* Adds one step's parts; those of earlier steps are faint, those of later ones left out. */
static void
add_step (FwDrawing *d, FwKitStep step, FwKitStep now, void (*add) (FwDrawing *))
{
  guint from = d->pieces->len;
  if (step > now)
    return;
  add (d);
  for (guint i = from; step < now && i < d->pieces->len; i++)
    g_array_index (d->pieces, FwPiece, i).faint = TRUE;
}

static void
paint_view (cairo_t *cr, const FwKit *kit, const FwKitItem *item, const FwStyle *style)
{
  const FwScene scene
      = { .mechanism = kit->mechanism, .pose = kit->pose, .turn = kit->turn, .scratch = kit->scratch };
  FwKitStep step = (FwKitStep)item->index;
  FwView view = step == FW_STEP_STOPS ? FW_VIEW_FRONT : FW_VIEW_THREE_QUARTER;
  FwCamera camera = fw_camera_fit (view, fw_view_extent (&scene, view), item->box, 4);
  if (step == FW_STEP_STOPS || step == FW_KIT_N_STEPS)
    {
      fw_draw_view (cr, &scene, &camera, style, item->box, step == FW_STEP_STOPS ? FW_SHOW_STOPS : 0, NULL);
      return;
    }
  static void (*const adders[]) (FwDrawing *)
      = { [FW_STEP_BASE] = fw_drawing_add_stand, [FW_STEP_CRANK] = fw_drawing_add_crank,
          [FW_STEP_POST] = fw_drawing_add_post,  [FW_STEP_BODY] = fw_drawing_add_solids,
          [FW_STEP_PANELS] = fw_drawing_add_panels, [FW_STEP_RODS] = fw_drawing_add_rods };
  FwDrawing drawing;
  fw_drawing_open (&drawing, &scene, &camera, style);
  for (int s = 0; s < (int)G_N_ELEMENTS (adders); s++)
    add_step (&drawing, (FwKitStep)s, step, adders[s]);
  fw_drawing_sort (&drawing);
  cairo_save (cr);
  cairo_rectangle (cr, item->box.x, item->box.y, item->box.width, item->box.height);
  cairo_clip (cr);
  fw_paint_drawing (cr, &drawing, style, NULL);
  cairo_restore (cr);
  fw_drawing_clear (&drawing);
}

static void
paint_strip (cairo_t *cr, const FwKit *kit, const FwKitItem *item)
{
  const FwScene scene
      = { .mechanism = kit->mechanism, .pose = kit->pose, .turn = kit->turn, .scratch = kit->scratch };
  FwMotionStrip strip = fw_motion_strip_default ();
  int width, height;
  strip.frames = 6;
  strip.views = (FwStripViews)item->index;
  strip.theme = FW_THEME_PRINT;
  strip.settings = FALSE;
  strip.lengths = kit->lengths;
  fw_motion_strip_size (&scene, &strip, &width, &height);
  double scale = fmin (item->box.width / width, item->box.height / height);
  cairo_save (cr);
  cairo_translate (cr, item->box.x + (item->box.width - scale * width) / 2, item->box.y);
  cairo_scale (cr, scale, scale);
  fw_draw_motion_strip (cr, &scene, &strip, "");
  cairo_restore (cr);
}

/* ---- Items ---- */

static void
paint_text (cairo_t *cr, const FwKitItem *item, const FwStyle *style)
{
  const FwInk ink = { .size = item->size, .bold = item->bold, .width = item->box.width, .align = item->align };
  fw_ink_draw (cr, item->text, &ink, item->box.x, item->box.y, item->faint ? style->faint_ink : style->ink);
}

static void
paint_badge (cairo_t *cr, const FwKitItem *item, const FwStyle *style)
{
  double r = item->box.width / 2, x = item->box.x + r, y = item->box.y + r;
  const FwInk ink = { .size = item->size, .bold = TRUE, .align = 0.5 };
  cairo_arc (cr, x, y, r, 0, 2 * G_PI);
  fw_set_colour (cr, style->motion);
  cairo_fill (cr);
  fw_ink_draw (cr, item->text, &ink, x, y - fw_ink_height (item->text, &ink) / 2, style->ground);
}

static void
paint_item (cairo_t *cr, const FwKit *kit, const FwKitItem *item, const FwStyle *style)
{
  switch (item->kind)
    {
    case FW_KIT_TEXT:
      paint_text (cr, item, style);
      break;
    case FW_KIT_RULE:
      cairo_move_to (cr, item->box.x, item->box.y);
      cairo_line_to (cr, item->box.x + item->box.width, item->box.y);
      fw_set_colour (cr, style->grid);
      cairo_set_line_width (cr, 0.6);
      cairo_stroke (cr);
      break;
    case FW_KIT_BADGE:
      paint_badge (cr, item, style);
      break;
    case FW_KIT_BAR:
      paint_bar (cr, kit, item, style);
      break;
    case FW_KIT_SHEET:
      paint_sheet (cr, kit, item, style);
      break;
    case FW_KIT_SOLID:
      paint_solid (cr, kit, item, style);
      break;
    case FW_KIT_VIEW:
      paint_view (cr, kit, item, style);
      break;
    case FW_KIT_STRIP:
      paint_strip (cr, kit, item);
      break;
    }
}

void
fw_kit_page_draw (cairo_t *cr, const FwKit *kit, int page)
{
  const GArray *items = kit->pages->pdata[page];
  FwStyle style = fw_style (FW_THEME_PRINT, 0.55);
  style.lengths = kit->lengths;
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  for (guint i = 0; i < items->len; i++)
    {
      cairo_new_path (cr);
      paint_item (cr, kit, &g_array_index (items, FwKitItem, i), &style);
    }
}
