/* Boxes into sheets. Every free rectangle that is cut into leaves two, so that all cuts go right
 * through. Orders and rules are tried one after the other and the best is kept. */
#include "shop/nest.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HAIR 1e-6
#define MANY 300 /* boxes: beyond, fewer orders are tried */
#define N_ORDERS 4

typedef struct
{
  int sheet;
  double x, y, width, height;
} Free;

typedef struct
{
  const FwNestBox *boxes;
  int n;
  const FwNestSheet *sheets;
  int n_sheets;
  double kerf;
  GArray *free; /* Free */
  GArray *kinds; /* int: which of the sheets each opened one is */
  int *opened_of;
  int *bin_of;
  FwNestPlace *places;
  double opened;
  int left;
} Layout;

typedef struct
{
  int order;          /* by area, longer side, width, height; greatest first */
  gboolean short_cut; /* of the two ways to cut the rest apart, which */
  gboolean largest;   /* sheets are opened largest first */
} Rule;

typedef struct
{
  const FwNestBox *boxes;
  int by;
} Sorting;

static double
measure (const FwNestBox *b, int by)
{
  switch (by)
    {
    case 0:
      return b->width * b->height;
    case 1:
      return fmax (b->width, b->height);
    case 2:
      return b->width;
    default:
      return b->height;
    }
}

static int
greatest_first (const void *a, const void *b, gpointer data)
{
  const Sorting *s = data;
  int i = *(const int *)a, k = *(const int *)b;
  double x = measure (&s->boxes[i], s->by), y = measure (&s->boxes[k], s->by);
  return x != y ? (x < y) - (x > y) : i - k;
}

static gboolean
fits (double width, double height, double into_width, double into_height)
{
  return width <= into_width + HAIR && height <= into_height + HAIR;
}

/* The free rectangle that a box leaves the least of; *turned says how it lies there. */
static int
tightest (const Layout *l, const FwNestBox *box, gboolean *turned)
{
  double best = INFINITY;
  int found = -1;
  for (guint i = 0; i < l->free->len; i++)
    for (int turn = 0; turn <= (box->may_turn ? 1 : 0); turn++)
      {
        const Free *f = &g_array_index (l->free, Free, i);
        double w = turn ? box->height : box->width, h = turn ? box->width : box->height;
        double over = fmin (f->width - w, f->height - h);
        if (!fits (w, h, f->width, f->height) || over >= best)
          continue;
        best = over;
        found = (int)i;
        *turned = turn == 1;
      }
  return found;
}

static gboolean
open_sheet (Layout *l, const FwNestBox *box, gboolean largest)
{
  int best = -1;
  for (int k = 0; k < l->n_sheets; k++)
    {
      const FwNestSheet *s = &l->sheets[k];
      gboolean goes = fits (box->width, box->height, s->width, s->height)
                      || (box->may_turn && fits (box->height, box->width, s->width, s->height));
      if (!goes || (s->count >= 0 && l->opened_of[k] >= s->count))
        continue;
      double area = s->width * s->height, so_far = best < 0 ? 0 : l->sheets[best].width * l->sheets[best].height;
      if (best < 0 || (largest ? area > so_far : area < so_far))
        best = k;
    }
  if (best < 0)
    return FALSE;
  Free f = { (int)l->kinds->len, 0, 0, l->sheets[best].width, l->sheets[best].height };
  g_array_append_val (l->free, f);
  g_array_append_val (l->kinds, best);
  l->opened_of[best]++;
  l->opened += f.width * f.height;
  return TRUE;
}

static void
keep_free (Layout *l, Free f)
{
  if (f.width > HAIR && f.height > HAIR)
    g_array_append_val (l->free, f);
}

/* The box lies in the rectangle's corner; the rest is cut apart along one of its two edges. */
static void
put (Layout *l, int i, int at, gboolean turned, gboolean short_cut)
{
  Free f = g_array_index (l->free, Free, (guint)at);
  double w = turned ? l->boxes[i].height : l->boxes[i].width, h = turned ? l->boxes[i].width : l->boxes[i].height;
  double right = f.width - w - l->kerf, above = f.height - h - l->kerf;
  gboolean across = short_cut ? right <= above : right > above;
  l->bin_of[i] = f.sheet;
  l->places[i] = (FwNestPlace) { f.x, f.y, turned };
  g_array_remove_index_fast (l->free, (guint)at);
  keep_free (l, (Free) { f.sheet, f.x + w + l->kerf, f.y, right, across ? fmin (h, f.height) : f.height });
  keep_free (l, (Free) { f.sheet, f.x, f.y + h + l->kerf, across ? f.width : fmin (w, f.width), above });
}

static void
lay (Layout *l, const int *order, Rule rule)
{
  for (int k = 0; k < l->n; k++)
    {
      int i = order[k];
      gboolean turned = FALSE;
      int at = tightest (l, &l->boxes[i], &turned);
      l->bin_of[i] = -1;
      if (at < 0 && open_sheet (l, &l->boxes[i], rule.largest))
        at = tightest (l, &l->boxes[i], &turned);
      if (at < 0)
        l->left++;
      else
        put (l, i, at, turned, rule.short_cut);
    }
}

static Layout
layout_new (const Layout *model)
{
  Layout l = *model;
  l.free = g_array_new (FALSE, FALSE, sizeof (Free));
  l.kinds = g_array_new (FALSE, FALSE, sizeof (int));
  l.opened_of = g_new0 (int, l.n_sheets + 1);
  l.bin_of = g_new0 (int, l.n + 1);
  l.places = g_new0 (FwNestPlace, l.n + 1);
  return l;
}

static void
layout_clear (Layout *l)
{
  if (l->free == NULL)
    return;
  g_array_free (l->free, TRUE);
  g_array_free (l->kinds, TRUE);
  g_free (l->opened_of);
  g_free (l->bin_of);
  g_free (l->places);
}

static gboolean
better (const Layout *a, const Layout *b)
{
  return b->free == NULL || (a->left != b->left ? a->left < b->left : a->opened < b->opened - HAIR);
}

/* By area alone; with one kind of sheet, whole ones. */
static double
least_area (const Layout *l)
{
  double area = 0;
  for (int i = 0; i < l->n; i++)
    area += l->bin_of[i] < 0 ? 0 : l->boxes[i].width * l->boxes[i].height;
  double sheet = l->n_sheets == 1 ? l->sheets[0].width * l->sheets[0].height : 0;
  return sheet > 0 ? ceil (area / sheet - 1e-9) * sheet : area;
}

static FwNest *
answer (const Layout *l, FwNestPlace *places)
{
  FwNest *nest = g_new0 (FwNest, 1);
  nest->n_bins = (int)l->kinds->len;
  nest->bin_kind = g_new0 (int, nest->n_bins + 1);
  if (nest->n_bins > 0)
    memcpy (nest->bin_kind, l->kinds->data, sizeof (int) * (gsize)nest->n_bins);
  nest->bin_of = g_memdup2 (l->bin_of, sizeof (int) * (gsize)(l->n + 1));
  nest->n_left = l->left;
  nest->opened = l->opened;
  nest->least = least_area (l);
  nest->proven = nest->opened <= nest->least + HAIR;
  if (l->n > 0)
    memcpy (places, l->places, sizeof *places * (gsize)l->n);
  return nest;
}

FwNest *
fw_nest_sheets (const FwNestBox *boxes, int n, const FwNestSheet *sheets, int n_sheets, double kerf, FwNestPlace *places)
{
  const Layout model = { .boxes = boxes, .n = n, .sheets = sheets, .n_sheets = n_sheets, .kerf = fmax (kerf, 0) };
  Layout best = { .free = NULL };
  int *order = g_new (int, n + 1);
  for (int by = 0; by < (n > MANY ? 1 : N_ORDERS); by++)
    for (int rule = 0; rule < 4; rule++)
      {
        Sorting sorting = { boxes, by };
        for (int i = 0; i < n; i++)
          order[i] = i;
        g_qsort_with_data (order, n, sizeof (int), greatest_first, &sorting);
        Layout l = layout_new (&model);
        lay (&l, order, (Rule) { by, (rule & 1) != 0, (rule & 2) != 0 });
        if (better (&l, &best))
          {
            layout_clear (&best);
            best = l;
          }
        else
          layout_clear (&l);
      }
  FwNest *nest = answer (&best, places);
  layout_clear (&best);
  g_free (order);
  return nest;
}
