#include "shop/nest.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HAIR 1e-6 /* mm: rounding, not room */

typedef struct
{
  int n, n_bars;
  const FwNestBar *bars;
  double kerf;
  int *order;      /* pieces, longest first */
  double *size;    /* length and kerf, in that order */
  double *rest;    /* of all from there on */
  /* The present layout: */
  double *room;    /* of each opened bar */
  int *kind;
  int n_bins;
  int *bin_of;     /* of the ordered piece */
  int *opened_of;  /* of each kind */
  double opened;
  double spare;    /* sum of room */
  /* The best so far: */
  int *best_bin, *best_kind;
  int best_bins;
  double best;
  guint64 steps;
  gboolean spent;
} Search;

void
fw_nest_free (FwNest *nest)
{
  if (nest == NULL)
    return;
  g_free (nest->bin_kind);
  g_free (nest->bin_of);
  g_free (nest);
}

static double
room_of (const Search *s, int kind)
{
  return s->bars[kind].length + s->kerf; /* the last piece needs no cut where it ends with the bar */
}

static gboolean
can_open (const Search *s, int kind, double size)
{
  int count = s->bars[kind].count;
  return room_of (s, kind) >= size - HAIR && (count < 0 || s->opened_of[kind] < count);
}

static void
put (Search *s, int piece, int bin)
{
  s->room[bin] -= s->size[piece];
  s->spare -= s->size[piece];
  s->bin_of[piece] = bin;
}

static void
take (Search *s, int piece, int bin)
{
  s->room[bin] += s->size[piece];
  s->spare += s->size[piece];
}

static int
open_bin (Search *s, int kind)
{
  s->room[s->n_bins] = room_of (s, kind);
  s->kind[s->n_bins] = kind;
  s->opened_of[kind]++;
  s->opened += s->bars[kind].length;
  s->spare += room_of (s, kind);
  return s->n_bins++;
}

static void
close_bin (Search *s)
{
  int kind = s->kind[--s->n_bins];
  s->opened_of[kind]--;
  s->opened -= s->bars[kind].length;
  s->spare -= room_of (s, kind);
}

static void
remember (Search *s)
{
  s->best = s->opened;
  s->best_bins = s->n_bins;
  memcpy (s->best_bin, s->bin_of, sizeof (int) * (size_t)s->n);
  memcpy (s->best_kind, s->kind, sizeof (int) * (size_t)s->n_bins);
}

/* ---- The least that must be opened ---- */

/* What does not fit the room of opened bars needs new ones, each giving at most its length and a kerf;
 * with one kind of bar, whole ones. */
static double
still_needed (const Search *s, double rest, double spare)
{
  double missing = rest - spare, best_share = INFINITY;
  if (missing <= HAIR)
    return 0;
  for (int k = 0; k < s->n_bars; k++)
    best_share = fmin (best_share, s->bars[k].length / room_of (s, k));
  if (s->n_bars == 1)
    return ceil (missing / room_of (s, 0) - 1e-9) * s->bars[0].length;
  return missing * best_share;
}

/* ---- Rules of best fit ---- */

static int
tightest (const Search *s, double size)
{
  int best = -1;
  for (int i = 0; i < s->n_bins; i++)
    if (s->room[i] >= size - HAIR && (best < 0 || s->room[i] < s->room[best]))
      best = i;
  return best;
}

static int
kind_to_open (const Search *s, double size, gboolean longest)
{
  int best = -1;
  for (int k = 0; k < s->n_bars; k++)
    {
      if (!can_open (s, k, size))
        continue;
      double l = s->bars[k].length, b = best < 0 ? 0 : s->bars[best].length;
      if (best < 0 || (longest ? l > b : l < b))
        best = k;
    }
  return best;
}

/* Returns how many lie nowhere. */
static int
best_fit (Search *s, gboolean longest)
{
  int left = 0;
  s->n_bins = 0;
  s->opened = s->spare = 0;
  memset (s->opened_of, 0, sizeof (int) * (size_t)s->n_bars);
  for (int i = 0; i < s->n; i++)
    {
      int bin = tightest (s, s->size[i]);
      if (bin < 0)
        {
          int kind = kind_to_open (s, s->size[i], longest);
          bin = kind < 0 ? -1 : open_bin (s, kind);
        }
      s->bin_of[i] = -1;
      if (bin < 0)
        left++;
      else
        put (s, i, bin);
    }
  return left;
}

/* ---- Every way that matters ---- */

static void
search (Search *s, int piece)
{
  if (++s->steps > FW_NEST_STEPS)
    {
      s->spent = TRUE;
      return;
    }
  if (s->opened + still_needed (s, s->rest[piece], s->spare) >= s->best - HAIR)
    return;
  if (piece == s->n)
    {
      remember (s);
      return;
    }
  double size = s->size[piece];
  /* Of two pieces alike the later one lies no further left. */
  int first = piece > 0 && s->size[piece - 1] == size ? s->bin_of[piece - 1] : 0;
  for (int bin = first; bin < s->n_bins && !s->spent; bin++)
    {
      gboolean seen = s->room[bin] < size - HAIR;
      for (int other = first; other < bin && !seen; other++)
        seen = s->room[other] == s->room[bin]; /* the same again */
      if (seen)
        continue;
      put (s, piece, bin);
      search (s, piece + 1);
      take (s, piece, bin);
    }
  for (int kind = 0; kind < s->n_bars && !s->spent; kind++)
    {
      if (!can_open (s, kind, size))
        continue;
      int bin = open_bin (s, kind);
      put (s, piece, bin);
      search (s, piece + 1);
      take (s, piece, bin);
      close_bin (s);
    }
}

/* ---- In and out ---- */

static int
longest_first (const void *a, const void *b, gpointer data)
{
  const double *lengths = data;
  int i = *(const int *)a, k = *(const int *)b;
  return lengths[i] != lengths[k] ? (lengths[i] < lengths[k]) - (lengths[i] > lengths[k]) : i - k;
}

static void
search_open (Search *s, const double *lengths, int n)
{
  double longest = 0;
  for (int k = 0; k < s->n_bars; k++)
    longest = s->bars[k].count == 0 ? longest : fmax (longest, s->bars[k].length);
  s->order = g_new (int, n + 1);
  for (int i = 0; i < n; i++)
    if (lengths[i] <= longest + HAIR) /* longer ones lie nowhere */
      s->order[s->n++] = i;
  g_qsort_with_data (s->order, s->n, sizeof (int), longest_first, (gpointer)lengths);
  s->size = g_new0 (double, s->n + 1);
  s->rest = g_new0 (double, s->n + 1);
  for (int i = s->n - 1; i >= 0; i--)
    {
      s->size[i] = lengths[s->order[i]] + s->kerf;
      s->rest[i] = s->rest[i + 1] + s->size[i];
    }
  s->room = g_new0 (double, s->n + 1);
  s->kind = g_new0 (int, s->n + 1);
  s->best_kind = g_new0 (int, s->n + 1);
  s->bin_of = g_new0 (int, s->n + 1);
  s->best_bin = g_new0 (int, s->n + 1);
  s->opened_of = g_new0 (int, s->n_bars + 1);
  s->best = INFINITY;
}

static void
search_close (Search *s)
{
  g_free (s->order);
  g_free (s->size);
  g_free (s->rest);
  g_free (s->room);
  g_free (s->kind);
  g_free (s->best_kind);
  g_free (s->bin_of);
  g_free (s->best_bin);
  g_free (s->opened_of);
}

static FwNest *
answer (Search *s, int n, gboolean searched)
{
  FwNest *nest = g_new0 (FwNest, 1);
  double laid = 0;
  nest->bin_of = g_new (int, n + 1);
  for (int i = 0; i < n; i++)
    nest->bin_of[i] = -1;
  nest->n_left = n;
  for (int i = 0; i < s->n; i++)
    {
      nest->bin_of[s->order[i]] = s->best_bin[i];
      nest->n_left -= s->best_bin[i] >= 0;
      laid += s->best_bin[i] >= 0 ? s->size[i] : 0;
    }
  nest->n_bins = s->best_bins;
  nest->bin_kind = g_memdup2 (s->best_kind, sizeof (int) * (gsize)(s->best_bins + 1));
  nest->opened = s->n == 0 ? 0 : s->best;
  nest->least = still_needed (s, laid, 0);
  nest->proven = searched || nest->opened <= nest->least + HAIR;
  if (searched)
    nest->least = nest->opened;
  return nest;
}

FwNest *
fw_nest_bars (const double *lengths, int n, const FwNestBar *bars, int n_bars, double kerf)
{
  Search s = { .n_bars = n_bars, .bars = bars, .kerf = fmax (kerf, 0) };
  int fewest_left = G_MAXINT;
  search_open (&s, lengths, n);
  for (int longest = 0; longest < 2; longest++)
    {
      int left = best_fit (&s, longest == 1);
      if (left < fewest_left || (left == fewest_left && s.opened < s.best))
        {
          fewest_left = left;
          remember (&s);
        }
    }
  gboolean searched = s.n > 0 && s.n <= FW_NEST_EXACT;
  if (searched)
    {
      double known = s.best;
      s.best = fewest_left > 0 ? INFINITY : known; /* a layout of all of them is looked for first */
      s.n_bins = 0;
      s.opened = s.spare = 0;
      memset (s.opened_of, 0, sizeof (int) * (size_t)n_bars);
      search (&s, 0);
      if (isinf (s.best))
        {
          s.best = known;
          searched = FALSE;
        }
      searched = searched && !s.spent;
    }
  FwNest *nest = answer (&s, n, searched);
  search_close (&s);
  return nest;
}
