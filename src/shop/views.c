#include "shop/views.h"

#include <math.h>

typedef struct
{
  FwBox front, side; /* extents, mm */
  double top, bottom, width; /* of what is shown; both side by side */
  int n;
} Extent;

static Extent
extent (const FwScene *scene, FwStripViews views)
{
  Extent e = { .front = fw_view_extent (scene, FW_VIEW_FRONT), .side = fw_view_extent (scene, FW_VIEW_SIDE) };
  e.top = INFINITY;
  e.bottom = -INFINITY;
  for (int side = 0; side < 2; side++)
    {
      FwBox box = side ? e.side : e.front;
      if (views == (side ? FW_STRIP_FRONT : FW_STRIP_SIDE))
        continue;
      e.top = fmin (e.top, box.y);
      e.bottom = fmax (e.bottom, box.y + box.height);
      e.width += box.width;
      e.n++;
    }
  return e;
}

double
fw_views_shape (const FwScene *scene, FwStripViews views)
{
  Extent e = extent (scene, views);
  double gap = e.n > 1 ? 0.06 * e.width : 0;
  return CLAMP ((e.bottom - e.top) / (e.width + gap), 0.25, 2.0);
}

FwPairOfViews
fw_views_fit (const FwScene *scene, FwStripViews views, FwBox box, double margin)
{
  Extent e = extent (scene, views);
  double gap = (e.n - 1) * 2 * margin, floor = margin; /* the floor's hatching lies below all */
  double width = fmax (box.width - 2 * margin - gap, 1), height = fmax (box.height - 2 * margin - floor, 1);
  double scale = fmin (width / e.width, height / (e.bottom - e.top));
  double left = box.x + (box.width - gap - e.width * scale) / 2;
  double y = box.y + (box.height - floor - (e.bottom - e.top) * scale) / 2 - e.top * scale;
  double divide = left + e.front.width * scale + gap / 2;
  FwPairOfViews pair = { .views = views, .front_box = box, .side_box = box };
  double side_left = views == FW_STRIP_BOTH ? divide + gap / 2 : left;
  pair.front = (FwCamera){ FW_VIEW_FRONT, scale, left - e.front.x * scale, y };
  pair.side = (FwCamera){ FW_VIEW_SIDE, scale, side_left - e.side.x * scale, y };
  if (views == FW_STRIP_BOTH)
    {
      pair.front_box.width = divide - box.x;
      pair.side_box.x = divide;
      pair.side_box.width = box.x + box.width - divide;
    }
  return pair;
}

void
fw_views_draw (cairo_t *cr, const FwScene *scene, const FwPairOfViews *pair, const FwStyle *style,
               guint show)
{
  if (pair->views != FW_STRIP_SIDE)
    fw_draw_view (cr, scene, &pair->front, style, pair->front_box, show, NULL);
  if (pair->views != FW_STRIP_FRONT)
    fw_draw_view (cr, scene, &pair->side, style, pair->side_box, show, NULL);
}
