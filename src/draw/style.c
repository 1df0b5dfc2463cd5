#include "draw/style.h"

#include <string.h>

/* 0xrrggbb */
static FwColour
rgb (unsigned int code)
{
  return (FwColour){ ((code >> 16) & 255) / 255.0, ((code >> 8) & 255) / 255.0,
                     (code & 255) / 255.0, 1 };
}

FwColour
fw_colour_mix (FwColour a, FwColour b, double t)
{
  return (FwColour){ a.r + (b.r - a.r) * t, a.g + (b.g - a.g) * t, a.b + (b.b - a.b) * t,
                     a.a + (b.a - a.a) * t };
}

FwColour
fw_colour_fade (FwColour colour, double alpha)
{
  colour.a *= alpha;
  return colour;
}

void
fw_set_colour (cairo_t *cr, FwColour colour)
{
  cairo_set_source_rgba (cr, colour.r, colour.g, colour.b, colour.a);
}

/* Motion is a blue-green, trouble a vermilion: the pair that stays apart for every common kind of
 * colour blindness, and differs in lightness too, so that it survives a grey print. */
static void
colour_light (FwStyle *s)
{
  s->ground = rgb (0xfaf6ee);
  s->panel_ground = rgb (0xfffdf9);
  s->ink = rgb (0x2a2723);
  s->faint_ink = rgb (0x746d64);
  s->grid = rgb (0xe4dccf);
  s->motion = rgb (0x0b6e75);
  s->trouble = rgb (0xc4421a);
  s->remark = rgb (0x8f7430);
  s->highlight = rgb (0x1f87b8);
}

static void
colour_dark (FwStyle *s)
{
  s->ground = rgb (0x1e2529);
  s->panel_ground = rgb (0x232b30);
  s->ink = rgb (0xece7dc);
  s->faint_ink = rgb (0x9aa3a3);
  s->grid = rgb (0x364147);
  s->motion = rgb (0x62cdd0);
  s->trouble = rgb (0xff8a5c);
  s->remark = rgb (0xd8bd72);
  s->highlight = rgb (0x7cc8f2);
}

static void
colour_print (FwStyle *s)
{
  s->ground = rgb (0xffffff);
  s->panel_ground = rgb (0xffffff);
  s->ink = rgb (0x141414);
  s->faint_ink = rgb (0x5c5c5c);
  s->grid = rgb (0xd8d8d8);
  s->motion = rgb (0x00565e);
  s->trouble = rgb (0xa83208);
  s->remark = rgb (0x6f5a22);
  s->highlight = rgb (0x155f86);
}

/* Words, marks and lines at least 7:1 from the ground (WCAG 2.2, 1.4.6), rims at least 3:1 (1.4.11). */
static void
colour_light_contrast (FwStyle *s)
{
  s->ground = s->panel_ground = rgb (0xffffff);
  s->ink = rgb (0x000000);
  s->faint_ink = rgb (0x303030);
  s->grid = rgb (0x858585);
  s->motion = rgb (0x004f57);
  s->trouble = rgb (0x9a2200);
  s->remark = rgb (0x5c4600);
  s->highlight = rgb (0x004c82);
}

static void
colour_dark_contrast (FwStyle *s)
{
  s->ground = s->panel_ground = rgb (0x000000);
  s->ink = rgb (0xffffff);
  s->faint_ink = rgb (0xdcdcdc);
  s->grid = rgb (0x808080);
  s->motion = rgb (0x7ff0f3);
  s->trouble = rgb (0xff9d73);
  s->remark = rgb (0xf3dc8e);
  s->highlight = rgb (0x9bdcff);
}

gboolean
fw_theme_is_dark (FwTheme theme)
{
  return theme == FW_THEME_DARK || theme == FW_THEME_DARK_CONTRAST;
}

gboolean
fw_theme_is_contrast (FwTheme theme)
{
  return theme == FW_THEME_LIGHT_CONTRAST || theme == FW_THEME_DARK_CONTRAST;
}

FwStyle
fw_style (FwTheme theme, double size)
{
  const double line = fw_theme_is_contrast (theme) ? 1.4 : 1;
  FwStyle s = { .thin = 0.75 * line * size,
                .wide = 1.5 * line * size,
                .text = 12 * size,
                .family = "Sans",
                .theme = theme,
                .lengths = FW_LENGTHS_MM,
                .size = size };
  if (theme == FW_THEME_DARK)
    colour_dark (&s);
  else if (theme == FW_THEME_PRINT)
    colour_print (&s);
  else if (theme == FW_THEME_LIGHT_CONTRAST)
    colour_light_contrast (&s);
  else if (theme == FW_THEME_DARK_CONTRAST)
    colour_dark_contrast (&s);
  else
    colour_light (&s);
  return s;
}

typedef struct
{
  const char *word; /* looked for in the material's name, so that "copper tube 8 mm" is known */
  unsigned int fill, edge, light;
} Swatch;

/* More telling words first: "birch ply" is ply, "brass rod" is brass. */
static const Swatch swatches[] = {
  { "copper", 0xbf6b43, 0x6b3018, 0xecb394 },    { "brass", 0xcda945, 0x725a12, 0xf4e2a0 },
  { "bronze", 0xa97f42, 0x5a3f16, 0xe0c08a },    { "alum", 0xc3c9cc, 0x5f686d, 0xf4f7f8 },
  { "stainless", 0xa9b1b6, 0x4b555b, 0xeaf0f2 }, { "steel", 0x8f999f, 0x3d464c, 0xd6dee2 },
  { "wire", 0x8f999f, 0x3d464c, 0xd6dee2 },      { "iron", 0x73777a, 0x303436, 0xb4babd },
  { "ply", 0xe3cc9f, 0x86683a, 0xf7e9c9 },       { "birch", 0xe6d1a6, 0x86683a, 0xf9edd0 },
  { "bamboo", 0xd9c27e, 0x7c6526, 0xf3e4b4 },    { "balsa", 0xeadbbd, 0x917a50, 0xfaf2df },
  { "oak", 0xc29a63, 0x6a4a22, 0xe6c998 },       { "wood", 0xd6b784, 0x775730, 0xf0dbb4 },
  { "kraft", 0xc39c6a, 0x76552c, 0xe2c49a },     { "board", 0xe9e4d8, 0x7b7466, 0xfbf9f3 },
  { "foam", 0xf0ede4, 0x7d7a70, 0xffffff },      { "tissue", 0xf4efe6, 0x8c8271, 0xfffdf8 },
  { "paper", 0xf1e8d6, 0x857353, 0xfffaf0 },     { "felt", 0x8e9a7c, 0x4b5640, 0xb6c1a4 },
  { "cloth", 0xb9aa9a, 0x665848, 0xd8cdc0 },     { "silk", 0xe3d3d0, 0x86706c, 0xf8eeec },
  { "film", 0xdfe7e6, 0x71807f, 0xf7fbfb },      { "plastic", 0xd7dbd6, 0x686f69, 0xf3f6f2 },
  { "jet", 0x2b2722, 0x0e0c0a, 0x6a635a },       { "card", 0xd2b88f, 0x7a6038, 0xecd9b8 },
};

static const Swatch grey_card = { "", 0xc9c6bf, 0x66635c, 0xe6e4df };

static const Swatch *
find_swatch (const char *material)
{
  if (material == NULL)
    return &grey_card;
  char *folded = g_utf8_casefold (material, -1);
  const Swatch *found = &grey_card;
  for (size_t i = 0; i < G_N_ELEMENTS (swatches) && found == &grey_card; i++)
    if (strstr (folded, swatches[i].word) != NULL)
      found = &swatches[i];
  g_free (folded);
  return found;
}

static double
luma (FwColour c)
{
  return 0.3 * c.r + 0.59 * c.g + 0.11 * c.b;
}

/* On slate the same bench is seen at dusk: fills sink, and edges become the lighter line, like
 * chalk. */
static FwMaterialLook
at_dusk (FwMaterialLook look)
{
  FwColour slate = rgb (0x1e2529), chalk = rgb (0xfff6e6);
  FwColour fill = look.fill;
  look.fill = fw_colour_mix (fill, slate, luma (fill) > 0.7 ? 0.46 : 0.34);
  look.light = fw_colour_mix (fill, slate, 0.1);
  look.shade = fw_colour_mix (fill, slate, 0.8);
  look.edge = fw_colour_mix (fill, chalk, luma (fill) > 0.3 ? 0.42 : 0.6);
  return look;
}

/* On white paper and in a grey print, what matters is that tones stay apart and edges are dark. */
static FwMaterialLook
on_print (FwMaterialLook look)
{
  FwColour white = rgb (0xffffff), black = rgb (0x141414);
  look.fill = fw_colour_mix (look.fill, white, 0.12);
  look.edge = fw_colour_mix (look.edge, black, 0.55);
  return look;
}

/* Materials step back towards the ground, and every edge stands out from it. */
static FwMaterialLook
in_contrast (FwMaterialLook look, FwColour ground, FwColour ink)
{
  look.fill = fw_colour_mix (look.fill, ground, 0.5);
  look.light = fw_colour_mix (look.light, ground, 0.5);
  look.shade = fw_colour_mix (look.shade, ground, 0.5);
  look.edge = fw_colour_mix (look.edge, ink, 0.8);
  return look;
}

FwMaterialLook
fw_material_look (const char *material, FwTheme theme)
{
  const Swatch *s = find_swatch (material);
  FwMaterialLook look = { rgb (s->fill), rgb (s->edge), rgb (s->light), rgb (s->edge) };
  if (theme == FW_THEME_LIGHT_CONTRAST)
    return in_contrast (look, rgb (0xffffff), rgb (0x000000));
  if (theme == FW_THEME_DARK_CONTRAST)
    return in_contrast (at_dusk (look), rgb (0x000000), rgb (0xffffff));
  if (theme == FW_THEME_DARK)
    return at_dusk (look);
  if (theme == FW_THEME_PRINT)
    return on_print (look);
  return look;
}
