/* Few colours for a picture that has many: those of its flat fills exactly, the rest as near as may be. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define FW_PALETTE_MOST 255 /* one of a GIF's 256 stays free for what does not change */

typedef struct FwPalette FwPalette;

/* Without a colour. */
FwPalette *fw_palette_new (void);
/* NULL: nothing to do. */
void fw_palette_free (FwPalette *palette);

/* Counts the colours of a picture: `n` pixels 0xXXrrggbb. */
void fw_palette_count (FwPalette *palette, const guint32 *pixels, gsize n);

/* Chooses at most FW_PALETTE_MOST of all that were counted. Up to that many colours: all of them,
 * exactly. More: those that cover most, exactly, and for the rest the middles of boxes that are cut
 * where the counted colours lie widest. */
void fw_palette_choose (FwPalette *palette);

/* How many there are, and their bytes r, g, b one after the other. */
int fw_palette_size (const FwPalette *palette);
const guint8 *fw_palette_bytes (const FwPalette *palette);

/* The nearest colour of each pixel. No dithering: flat fills stay flat. */
void fw_palette_map (FwPalette *palette, const guint32 *pixels, gsize n, guint8 *out);

G_END_DECLS
