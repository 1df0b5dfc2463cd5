/* Colours, line widths and type of every picture. Two widths, 2:1, as ISO 128 has them. */
#pragma once

#include <cairo.h>
#include <glib.h>

#include "doc/units.h"

G_BEGIN_DECLS

typedef struct
{
  double r, g, b, a; /* 0 to 1; a: 1 covers */
} FwColour;

typedef enum
{
  FW_THEME_LIGHT,
  FW_THEME_DARK,
  FW_THEME_PRINT,
  FW_THEME_LIGHT_CONTRAST, /* for eyes that need it: all that means something at 7:1 from the ground */
  FW_THEME_DARK_CONTRAST
} FwTheme;

/* Dark ground; more contrast than the plain theme of that ground. */
gboolean fw_theme_is_dark (FwTheme theme);
gboolean fw_theme_is_contrast (FwTheme theme);

typedef struct
{
  FwColour ground, panel_ground; /* page; field of the turn strip */
  FwColour ink, faint_ink, grid;
  FwColour motion;    /* the accent of motion: traces, ghosts, scrub line */
  FwColour trouble;   /* the accent of trouble; always with hatching or a mark too */
  FwColour remark;    /* quieter */
  FwColour highlight; /* a part picked out */
  double wide, thin;  /* widths of lines, px; 2:1 */
  double text;        /* px, of labels */
  const char *family;
  FwTheme theme;
  FwLengths lengths; /* of figures in the picture; fw_style () sets mm */
  double size;       /* factor, as given to fw_style () */
  double sheet;      /* px: shorter side of the sheet of several pages that lines, type and arrows suit; 0: of the page */
} FwStyle;

/* `size` scales widths and type: 1 on a screen at 100 %, 2 on a hidpi surface drawn in device px.
 */
FwStyle fw_style (FwTheme theme, double size);

/* What a material looks like: its own colour, its edge, its light. Unknown names get plain grey
 * card. */
typedef struct
{
  FwColour fill, edge, light;
  FwColour shade; /* of faces turned from the light */
} FwMaterialLook;
FwMaterialLook fw_material_look (const char *material, FwTheme theme);

/* As cairo's source. */
void fw_set_colour (cairo_t *cr, FwColour colour);

/* a at t = 0, b at t = 1 (the share of b), component by component; a colour with its `a` times alpha, a factor. */
FwColour fw_colour_mix (FwColour a, FwColour b, double t);
FwColour fw_colour_fade (FwColour colour, double alpha);

G_END_DECLS
