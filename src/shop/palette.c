#include "shop/palette.h"

#include <stdlib.h>
#include <string.h>

#define EXACT 128 /* colours that are kept as they are, where there are too many */

typedef struct
{
  guint32 rgb;
  guint64 count;
} Counted;

struct FwPalette
{
  GHashTable *counts;  /* rgb + 1 -> Counted* */
  GHashTable *nearest; /* rgb + 1 -> index + 1 */
  guint8 bytes[3 * 256];
  int n;
};

FwPalette *
fw_palette_new (void)
{
  FwPalette *p = g_new0 (FwPalette, 1);
  p->counts = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  p->nearest = g_hash_table_new (NULL, NULL);
  return p;
}

void
fw_palette_free (FwPalette *p)
{
  if (p == NULL)
    return;
  g_hash_table_unref (p->counts);
  g_hash_table_unref (p->nearest);
  g_free (p);
}

void
fw_palette_count (FwPalette *p, const guint32 *pixels, gsize n)
{
  Counted *last = NULL;
  for (gsize i = 0; i < n; i++)
    {
      guint32 rgb = pixels[i] & 0xFFFFFF;
      if (last == NULL || last->rgb != rgb)
        {
          last = g_hash_table_lookup (p->counts, GUINT_TO_POINTER (rgb + 1));
          if (last == NULL)
            {
              last = g_new0 (Counted, 1);
              last->rgb = rgb;
              g_hash_table_insert (p->counts, GUINT_TO_POINTER (rgb + 1), last);
            }
        }
      last->count++;
    }
}

/* ---- Choosing ---- */

static int
channel (guint32 rgb, int c)
{
  return (int)(rgb >> (16 - 8 * c)) & 0xFF;
}

static void
take (FwPalette *p, guint32 rgb)
{
  for (int c = 0; c < 3; c++)
    p->bytes[3 * p->n + c] = (guint8)channel (rgb, c);
  p->n++;
}

/* Most first; of equals the darker, so that the choice does not hang on the table's order. */
static int
by_count (gconstpointer a, gconstpointer b)
{
  const Counted *x = a, *y = b;
  if (x->count != y->count)
    return x->count < y->count ? 1 : -1;
  return x->rgb < y->rgb ? -1 : x->rgb > y->rgb;
}

typedef struct
{
  Counted *first;
  guint n;
  int widest, width; /* channel, and how wide it lies there */
} Box;

static void
measure (Box *box)
{
  box->width = -1;
  for (int c = 0; c < 3; c++)
    {
      int low = 255, high = 0;
      for (guint i = 0; i < box->n; i++)
        {
          int v = channel (box->first[i].rgb, c);
          low = MIN (low, v);
          high = MAX (high, v);
        }
      if (high - low > box->width)
        {
          box->width = high - low;
          box->widest = c;
        }
    }
}

static int
by_channel (gconstpointer a, gconstpointer b, gpointer c)
{
  const Counted *x = a, *y = b;
  int d = channel (x->rgb, GPOINTER_TO_INT (c)) - channel (y->rgb, GPOINTER_TO_INT (c));
  return d != 0 ? d : x->rgb < y->rgb ? -1 : x->rgb > y->rgb;
}

/* Cuts a box at the middle of its pixels, across its widest channel; the upper part is returned. */
static Box
cut (Box *box)
{
  guint64 all = 0, below = 0;
  g_qsort_with_data (box->first, (int)box->n, sizeof *box->first, by_channel,
                     GINT_TO_POINTER (box->widest));
  for (guint i = 0; i < box->n; i++)
    all += box->first[i].count;
  guint at = 0;
  while (at < box->n - 1 && (at == 0 || 2 * below < all))
    below += box->first[at++].count;
  Box upper = { .first = box->first + at, .n = box->n - at };
  box->n = at;
  measure (box);
  measure (&upper);
  return upper;
}

static guint32
middle (const Box *box)
{
  guint64 sum[3] = { 0 }, all = 0;
  for (guint i = 0; i < box->n; i++)
    {
      for (int c = 0; c < 3; c++)
        sum[c] += box->first[i].count * (guint64)channel (box->first[i].rgb, c);
      all += box->first[i].count;
    }
  guint32 rgb = 0;
  g_assert (all > 0); /* a box has a colour at least, and each was counted */
  for (int c = 0; c < 3; c++)
    rgb = rgb << 8 | (guint32)((sum[c] + all / 2) / all);
  return rgb;
}

static void
cut_boxes (FwPalette *p, Counted *colours, guint n, int most)
{
  Box boxes[FW_PALETTE_MOST] = { { .first = colours, .n = n } };
  int made = 1;
  measure (&boxes[0]);
  while (made < most)
    {
      int widest = 0;
      for (int i = 1; i < made; i++)
        if (boxes[i].width > boxes[widest].width)
          widest = i;
      if (boxes[widest].n < 2)
        break;
      boxes[made] = cut (&boxes[widest]);
      made++;
    }
  for (int i = 0; i < made; i++)
    take (p, middle (&boxes[i]));
}

void
fw_palette_choose (FwPalette *p)
{
  GHashTableIter iter;
  gpointer value;
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Counted));
  g_hash_table_iter_init (&iter, p->counts);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    g_array_append_vals (all, value, 1);
  g_array_sort (all, by_count);
  guint exact = all->len <= FW_PALETTE_MOST ? all->len : EXACT;
  p->n = 0;
  for (guint i = 0; i < exact; i++)
    take (p, g_array_index (all, Counted, i).rgb);
  if (exact < all->len)
    cut_boxes (p, &g_array_index (all, Counted, exact), all->len - exact, FW_PALETTE_MOST - (int)exact);
  g_hash_table_remove_all (p->nearest);
}

int
fw_palette_size (const FwPalette *p)
{
  return p->n;
}

const guint8 *
fw_palette_bytes (const FwPalette *p)
{
  return p->bytes;
}

/* ---- Mapping ---- */

/* Weighted as the eye sees: green most, blue least. */
static int
find_nearest (const FwPalette *p, guint32 rgb)
{
  static const int weight[3] = { 3, 6, 1 };
  int best = 0, least = G_MAXINT;
  for (int i = 0; i < p->n; i++)
    {
      int distance = 0;
      for (int c = 0; c < 3; c++)
        {
          int d = channel (rgb, c) - p->bytes[3 * i + c];
          distance += weight[c] * d * d;
        }
      if (distance >= least)
        continue;
      least = distance;
      best = i;
    }
  return best;
}

void
fw_palette_map (FwPalette *p, const guint32 *pixels, gsize n, guint8 *out)
{
  guint32 last = G_MAXUINT32;
  for (gsize i = 0; i < n; i++)
    {
      guint32 rgb = pixels[i] & 0xFFFFFF;
      if (rgb == last)
        {
          out[i] = out[i - 1];
          continue;
        }
      gpointer known = g_hash_table_lookup (p->nearest, GUINT_TO_POINTER (rgb + 1));
      if (known == NULL)
        {
          known = GINT_TO_POINTER (find_nearest (p, rgb) + 1);
          g_hash_table_insert (p->nearest, GUINT_TO_POINTER (rgb + 1), known);
        }
      out[i] = (guint8)(GPOINTER_TO_INT (known) - 1);
      last = rgb;
    }
}
