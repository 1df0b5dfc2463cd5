/* The motion strip for the build log: a plate of equal frames. */
#pragma once

#include "doc/units.h"
#include "draw/view.h"

G_BEGIN_DECLS

typedef enum
{
  FW_STRIP_BOTH,
  FW_STRIP_FRONT,
  FW_STRIP_SIDE
} FwStripViews;

typedef struct
{
  int frames; /* 1..72; default 8 */
  FwStripViews views;
  int frame_width;   /* px, 80..4000; default 300 */
  gboolean captions; /* crank angle under each */
  gboolean scale_bar;
  gboolean settings; /* title and the numbers that matter */
  guint show;        /* FW_SHOW_FORCES and FW_SHOW_WEIGHTS: arrows in every frame */
  FwTheme theme;     /* PRINT as a rule */
  FwLengths lengths;
  int columns;     /* 0: as many as suit a plate */
} FwMotionStrip;

/* 8 frames of both views, 300 px wide, with captions, scale bar and settings, for print. */
FwMotionStrip fw_motion_strip_default (void);

/* Size of the whole plate in px. */
void fw_motion_strip_size (const FwScene *scene, const FwMotionStrip *strip, int *width,
                           int *height);

/* Draws it. `title` may be "". Uses scene->scratch for the poses. */
void fw_draw_motion_strip (cairo_t *cr, const FwScene *scene, const FwMotionStrip *strip,
                           const char *title);

/* Writes it as a PNG, whole or not at all (beside the target, then renamed). */
gboolean fw_motion_strip_write_png (const FwScene *scene, const FwMotionStrip *strip,
                                    const char *title, const char *path, GError **error);

G_END_DECLS
