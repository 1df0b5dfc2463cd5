#include "draw/still.h"

#include <math.h>
#include <string.h>

#define MOST_LAYOUTS 200 /* figures that change come and go; then all are laid out anew */

typedef struct
{
  FwStillKey key;
  gboolean known;           /* the key is that of the last frame */
  cairo_surface_t *surface; /* NULL: not kept yet */
  FwBox box;                /* of the page that it covers */
} Layer;

struct FwStill
{
  double scale;
  Layer ground, mask;
  GHashTable *layouts; /* char * -> PangoLayout * */
};

FwStill *
fw_still_new (void)
{
  FwStill *still = g_new0 (FwStill, 1);
  still->scale = 1;
  still->layouts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  return still;
}

static void
layer_forget (Layer *layer)
{
  layer->known = FALSE;
  g_clear_pointer (&layer->surface, cairo_surface_destroy);
}

void
fw_still_forget (FwStill *still)
{
  layer_forget (&still->ground);
  layer_forget (&still->mask);
}

void
fw_still_free (FwStill *still)
{
  if (still == NULL)
    return;
  fw_still_forget (still);
  g_hash_table_unref (still->layouts);
  g_free (still);
}

void
fw_still_set_scale (FwStill *still, double scale)
{
  if (still->scale == scale)
    return;
  still->scale = scale;
  fw_still_forget (still);
}

int
fw_still_key_style (FwStillKey *key, int at, const FwStyle *style)
{
  const double numbers[] = { style->theme, style->lengths, style->size, style->wide, style->thin, style->text };
  memcpy (key->numbers + at, numbers, sizeof numbers);
  return at + (int)G_N_ELEMENTS (numbers);
}

double
fw_still_sum (double sum, const double *numbers, int n)
{
  guint64 bits = (guint64)sum + 0x9e3779b97f4a7c15u, one;
  for (int i = 0; i < n; i++)
    {
      memcpy (&one, &numbers[i], sizeof one);
      bits = (bits ^ one) * 0xff51afd7ed558ccdu;
      bits ^= bits >> 32;
    }
  return (double)(bits >> 13);
}

static gboolean
same_key (const FwStillKey *a, const FwStillKey *b)
{
  for (int i = 0; i < FW_STILL_NUMBERS; i++)
    if (a->numbers[i] != b->numbers[i])
      return FALSE;
  return a->address == b->address;
}

/* Where it puts ink on the page, on whole device px. Nothing: an empty box. */
static FwBox
ink_box (double scale, FwBox page, FwStillPaint paint, const void *data)
{
  cairo_surface_t *record = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (record);
  FwBox ink;
  paint (cr, data);
  cairo_destroy (cr);
  cairo_recording_surface_ink_extents (record, &ink.x, &ink.y, &ink.width, &ink.height);
  cairo_surface_destroy (record);
  double left = floor (fmax (ink.x, page.x) * scale), top = floor (fmax (ink.y, page.y) * scale);
  double right = ceil (fmin (ink.x + ink.width, page.x + page.width) * scale);
  double bottom = ceil (fmin (ink.y + ink.height, page.y + page.height) * scale);
  return (FwBox){ left / scale, top / scale, fmax (right - left, 0) / scale, fmax (bottom - top, 0) / scale };
}

/* NULL: no surface can hold it. */
static cairo_surface_t *
make_surface (double scale, FwBox box, const FwColour *ground, FwStillPaint paint, const void *data)
{
  double width = round (box.width * scale), height = round (box.height * scale);
  if (!(width < 16384 && height < 16384))
    return NULL;
  cairo_surface_t *surface = cairo_image_surface_create (ground != NULL ? CAIRO_FORMAT_RGB24 : CAIRO_FORMAT_A8,
                                                         MAX ((int)width, 1), MAX ((int)height, 1));
  cairo_surface_set_device_scale (surface, scale, scale);
  cairo_t *cr = cairo_create (surface);
  cairo_translate (cr, -box.x, -box.y);
  if (ground != NULL)
    {
      fw_set_colour (cr, *ground);
      cairo_paint (cr);
    }
  paint (cr, data);
  gboolean fine = cairo_status (cr) == CAIRO_STATUS_SUCCESS;
  cairo_destroy (cr);
  if (!fine)
    g_clear_pointer (&surface, cairo_surface_destroy);
  return surface;
}

/* True if the layer is kept, and is what would be painted now. `ground` NULL: a mask. */
static gboolean
layer_holds (Layer *layer, double scale, FwBox page, const FwColour *ground, const FwStillKey *key,
             FwStillPaint paint, const void *data)
{
  if (!layer->known || !same_key (&layer->key, key))
    {
      layer_forget (layer);
      layer->key = *key;
      layer->known = TRUE;
      return FALSE;
    }
  if (layer->surface == NULL)
    {
      layer->box = ink_box (scale, page, paint, data);
      layer->surface = make_surface (scale, layer->box, ground, paint, data);
    }
  return layer->surface != NULL;
}

/* Only where there is ink the kept pixels are copied: to read a whole page takes as long as to draw a dozen parts. */
void
fw_still_paint (FwStill *still, cairo_t *cr, FwBox page, FwColour ground, const FwStillKey *key, FwStillPaint paint,
                const void *data)
{
  cairo_save (cr);
  cairo_rectangle (cr, page.x, page.y, page.width, page.height);
  fw_set_colour (cr, ground);
  cairo_fill (cr);
  if (still != NULL && layer_holds (&still->ground, still->scale, page, &ground, key, paint, data))
    {
      const FwBox *box = &still->ground.box;
      cairo_set_source_surface (cr, still->ground.surface, box->x, box->y);
      cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_NEAREST);
      cairo_rectangle (cr, box->x, box->y, box->width, box->height);
      cairo_fill (cr);
    }
  else
    paint (cr, data);
  cairo_restore (cr);
}

void
fw_still_paint_colour (FwStill *still, cairo_t *cr, FwBox page, FwColour colour, const FwStillKey *key,
                       FwStillPaint paint, const void *data)
{
  cairo_save (cr);
  fw_set_colour (cr, colour);
  if (still != NULL && layer_holds (&still->mask, still->scale, page, NULL, key, paint, data))
    cairo_mask_surface (cr, still->mask.surface, still->mask.box.x, still->mask.box.y);
  else
    paint (cr, data);
  cairo_restore (cr);
}

PangoLayout *
fw_still_layout (FwStill *still, PangoContext *context, const PangoFontDescription *font, const char *text)
{
  g_autofree char *key = NULL;
  if (still != NULL)
    {
      key = g_strdup_printf ("%d %d %s", pango_font_description_get_size (font),
                             (int)pango_font_description_get_weight (font), text);
      PangoLayout *kept = g_hash_table_lookup (still->layouts, key);
      if (kept != NULL)
        return g_object_ref (kept);
      if (g_hash_table_size (still->layouts) >= MOST_LAYOUTS)
        g_hash_table_remove_all (still->layouts);
    }
  PangoLayout *layout = pango_layout_new (context);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text, -1);
  if (still != NULL)
    g_hash_table_insert (still->layouts, g_steal_pointer (&key), g_object_ref (layout));
  return layout;
}
