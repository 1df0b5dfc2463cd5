/* The free room of a sheet is kept as the largest rectangles that are empty, which may overlap each
 * other; a box put down splits all that it touches. */
#include "shop/sheetpack.h"

#include <math.h>
#include <stdlib.h>

typedef struct
{
  double x, y, w, h;
} Room;

static gboolean
holds (const Room *a, const Room *b)
{
  return a->x <= b->x + 1e-9 && a->y <= b->y + 1e-9 && a->x + a->w >= b->x + b->w - 1e-9
         && a->y + a->h >= b->y + b->h - 1e-9;
}

/* Of equal rooms one stays. */
static void
drop_held (GArray *rooms)
{
  for (guint i = 0; i < rooms->len; i++)
    for (guint k = 0; k < rooms->len; k++)
      {
        if (k == i
            || !holds (&g_array_index (rooms, Room, k), &g_array_index (rooms, Room, i)))
          continue;
        g_array_remove_index (rooms, i--);
        break;
      }
}

static void
take (GArray *rooms, Room box)
{
  GArray *left = g_array_new (FALSE, FALSE, sizeof (Room));
  for (guint i = 0; i < rooms->len; i++)
    {
      Room r = g_array_index (rooms, Room, i);
      if (box.x >= r.x + r.w || box.x + box.w <= r.x || box.y >= r.y + r.h || box.y + box.h <= r.y)
        {
          g_array_append_val (left, r);
          continue;
        }
      const Room parts[4] = { { r.x, r.y, box.x - r.x, r.h },
                              { box.x + box.w, r.y, r.x + r.w - box.x - box.w, r.h },
                              { r.x, r.y, r.w, box.y - r.y },
                              { r.x, box.y + box.h, r.w, r.y + r.h - box.y - box.h } };
      for (int k = 0; k < 4; k++)
        if (parts[k].w > 1e-9 && parts[k].h > 1e-9)
          g_array_append_val (left, parts[k]);
    }
  drop_held (left);
  g_array_set_size (rooms, 0);
  g_array_append_vals (rooms, left->data, left->len);
  g_array_free (left, TRUE);
}

/* The room in which the box lies highest, unturned if that is as high. */
static gboolean
find_room (const GArray *rooms, const FwPackBox *box, double gap, Room *place, gboolean *turned)
{
  double best_y = INFINITY, best_x = INFINITY;
  for (int turn = box->way == FW_PACK_TURNED; turn < (box->way == FW_PACK_FLAT ? 1 : 2); turn++)
    for (guint i = 0; i < rooms->len; i++)
      {
        const Room *r = &g_array_index (rooms, Room, i);
        double w = (turn ? box->height : box->width) + gap;
        double h = (turn ? box->width : box->height) + gap;
        if (w > r->w + 1e-9 || h > r->h + 1e-9)
          continue;
        double low = r->y + h; /* its far edge: what the sheet is used up to */
        if (low > best_y - 1e-9 && !(low < best_y + 1e-9 && !turn && r->x < best_x))
          continue;
        best_y = low;
        best_x = r->x;
        *place = (Room){ r->x, r->y, w, h };
        *turned = turn;
      }
  return isfinite (best_y);
}

static int
larger_first (const void *a, const void *b, void *data)
{
  const FwPackBox *boxes = data, *p = &boxes[*(const int *)a], *q = &boxes[*(const int *)b];
  double x = fmax (p->width, p->height), y = fmax (q->width, q->height);
  if (x != y)
    return x < y ? 1 : -1;
  return *(const int *)a - *(const int *)b;
}

static gboolean
fits_sheet (const FwPackBox *box, double width, double height)
{
  gboolean flat = box->width <= width + 1e-9 && box->height <= height + 1e-9;
  gboolean stood = box->height <= width + 1e-9 && box->width <= height + 1e-9;
  return (flat && box->way != FW_PACK_TURNED) || (stood && box->way != FW_PACK_FLAT);
}

int
fw_pack (FwPackBox *boxes, int n, double width, double height, double gap)
{
  GPtrArray *sheets = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  int *order = g_new (int, n + 1);
  for (int i = 0; i < n; i++)
    order[i] = i;
  g_qsort_with_data (order, n, sizeof (int), larger_first, boxes);
  for (int k = 0; k < n; k++)
    {
      FwPackBox *box = &boxes[order[k]];
      Room place = { 0 };
      box->sheet = -1;
      if (!fits_sheet (box, width, height))
        continue;
      for (int s = 0; box->sheet < 0; s++)
        {
          gboolean fresh = s == (int)sheets->len;
          if (fresh)
            {
              /* A box keeps its gap on the far sides only: the sheet is that much larger. */
              const Room all = { 0, 0, width + gap, height + gap };
              GArray *rooms = g_array_new (FALSE, FALSE, sizeof (Room));
              g_array_append_val (rooms, all);
              g_ptr_array_add (sheets, rooms);
            }
          GArray *rooms = sheets->pdata[s];
          if (!find_room (rooms, box, gap, &place, &box->turned))
            {
              if (!fresh)
                continue;
              g_ptr_array_set_size (sheets, s); /* larger than the sheet by no more than the sum with the gap is rounded */
              break;
            }
          take (rooms, place);
          box->sheet = s;
          box->x = place.x;
          box->y = place.y;
        }
    }
  int used = (int)sheets->len;
  g_ptr_array_free (sheets, TRUE);
  g_free (order);
  return used;
}
