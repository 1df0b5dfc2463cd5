/* The camera that shows the whole turn: one scale and one floor for two views side by side. */
#include "app/canvasprivate.h"

#include <math.h>

#include "app/look.h"
#include "draw/forces.h"
#include "draw/layout.h"

#define MARGIN 24.0
#define FOOT 14.0 /* below that margin: the scale bar and its words stand clear of the floor */
#define FOOT_ROUNDS 4 /* arrows keep their length as the picture shrinks: found by iteration */

/* The view beside this one, where both follow the size of the window. */
static FwCanvas *
canvas_partner (FwCanvas *self)
{
  FwCanvas *other = self->beside;
  gboolean both = other != NULL && gtk_widget_get_visible (GTK_WIDGET (self))
                  && gtk_widget_get_visible (GTK_WIDGET (other));
  return both && !self->by_hand && !other->by_hand && fw_canvas_is_ready (other) ? other : NULL;
}

FwStyle
fw_canvas_style (FwCanvas *self)
{
  FwStyle style = fw_session_style (self->session, 1);
  FwCanvas *other = self->beside;

  if (other != NULL && other->width > 0 && gtk_widget_get_visible (GTK_WIDGET (other)))
    style.sheet = MIN (self->width + other->width, self->height);
  return style;
}

/* Px below the picture. The longest arrow may hang from the lowest pin. */
static double
canvas_foot (FwCanvas *self, const FwBox *extent, double scale)
{
  const FwScene *scene = fw_session_scene (self->session);
  const FwCrank *crank = &scene->mechanism->design->crank;
  FwStyle style = fw_canvas_style (self);
  FwBox page = { 0, 0, self->width, self->height };
  double lowest = 0;

  if (!(fw_session_show (self->session) & FW_SHOW_FORCES))
    return FOOT;
  for (int i = 0; i < crank->n_throws; i++)
    lowest = fmax (lowest, crank->throws[i].radius_mm);
  double arrow = fw_arrow_scale (scene, fw_style_sheet (&style, page)) * fw_arrow_peak (scene);
  double words = arrow > 0 ? 1.8 * style.text : 0;
  return fmax (FOOT, arrow + words - (extent->y + extent->height - lowest) * scale - MARGIN);
}

/* The largest scale that this view has room for. */
static double
canvas_scale (FwCanvas *self, const FwBox *extent)
{
  double scale = 0, foot = FOOT;

  for (int i = 0; i < FOOT_ROUNDS; i++)
    {
      FwBox page = { 0, 0, self->width, fmax (self->height - foot, 1) };
      scale = fw_camera_fit (self->view, *extent, page, MARGIN).scale;
      foot = canvas_foot (self, extent, scale);
    }
  return scale;
}

static void
canvas_place (FwCanvas *self, const FwBox *extent, double scale)
{
  double height = fmax (self->height - canvas_foot (self, extent, scale), 1);

  self->camera = (FwCamera) { .view = self->view,
                              .scale = scale,
                              .x = self->width / 2.0 - scale * (extent->x + extent->width / 2),
                              .y = height / 2 - scale * (extent->y + extent->height / 2) };
  fw_canvas_camera_moved (self);
}

void
fw_canvas_refit (FwCanvas *self)
{
  if (!fw_canvas_is_ready (self))
    return;
  FwCanvas *other = canvas_partner (self);
  FwBox extent = fw_view_extent (fw_session_scene (self->session), self->view);
  double scale = canvas_scale (self, &extent);

  if (other != NULL)
    {
      FwBox beside = fw_view_extent (fw_session_scene (other->session), other->view);
      scale = fmin (scale, canvas_scale (other, &beside));
      canvas_place (other, &beside, scale);
    }
  canvas_place (self, &extent, scale);
}

/* `fills`: it uses well the room there is. FALSE: something lies beyond the page. */
static gboolean
canvas_holds (FwCanvas *self, gboolean *fills)
{
  FwBox extent = fw_view_extent (fw_session_scene (self->session), self->view);
  double s = self->camera.scale, foot = canvas_foot (self, &extent, s);
  double left = self->camera.x + extent.x * s, top = self->camera.y + extent.y * s;
  double right = left + extent.width * s, bottom = top + extent.height * s;
  double room_x = self->width - 2 * MARGIN, room_y = self->height - foot - 2 * MARGIN;

  *fills = *fills || extent.width * s > 0.8 * room_x || extent.height * s > 0.8 * room_y;
  return left >= MARGIN / 2 && top >= MARGIN / 2 && right <= self->width - MARGIN / 2
         && bottom <= self->height - foot - MARGIN / 2;
}

gboolean
fw_canvas_stands_well (FwCanvas *self)
{
  FwCanvas *other = canvas_partner (self);
  gboolean fills = FALSE;

  if (!canvas_holds (self, &fills))
    return FALSE;
  if (other == NULL)
    return fills;
  return canvas_holds (other, &fills) && fills && other->camera.scale == self->camera.scale;
}

void
fw_canvas_set_beside (FwCanvas *self, FwCanvas *other)
{
  g_return_if_fail (FW_IS_CANVAS (self) && FW_IS_CANVAS (other));
  g_set_weak_pointer (&self->beside, other);
  g_set_weak_pointer (&other->beside, self);
}
