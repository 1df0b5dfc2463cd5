/* One turn as an animated GIF that loops for ever. */
#pragma once

#include "draw/motionstrip.h"
#include "shop/progress.h"

G_BEGIN_DECLS

#define FW_ANIMATE_LEAST_CS 2 /* hundredths of a second: shorter frames are shown slower by most viewers */
#define FW_ANIMATE_MOST_FRAMES 360

typedef struct
{
  int width;    /* px, 80..2000 */
  int frames;   /* of one turn; 0: as smooth as 25 a second asks for, 12 to 120 */
  double speed; /* times the design's own speed; a design that stands still turns at 30 a minute */
  FwStripViews views;
  FwTheme theme;
} FwAnimation;

FwAnimation fw_animation_default (void); /* 480 px, frames 0, speed 1, both views, light */

/* How long one turn takes, hundredths of a second, rounded; and the frames it will have. FALSE where
 * the frames cannot be shown in that time: `most` is then how many can (0: it is too fast or too
 * slow for any). */
gboolean fw_animation_timing (const FwAnimation *animation, const FwDesign *design, int *turn_cs,
                              int *frames, int *most);

/* Size of the picture in px. */
void fw_animation_size (const FwScene *scene, const FwAnimation *animation, int *width, int *height);

/* Draws the turn at a crank angle, rad, as a frame is drawn. `pose` is overwritten. */
void fw_animation_draw (cairo_t *cr, const FwScene *scene, const FwAnimation *animation, FwPose *pose,
                        double crank);

/* Whole or not at all. FALSE: error set; G_IO_ERROR_CANCELLED if it was told to stop. */
gboolean fw_animation_write_gif (const FwScene *scene, const FwAnimation *animation, const char *path,
                                 const FwProgress *progress, GError **error);

G_END_DECLS
