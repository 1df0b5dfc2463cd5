#include "aim/toleranceprivate.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { STEPS = FW_TOLERANCE_STEPS };

/* ---- What to watch and to draw ---- */

static void
take_extremes (const double *row, double *least, double *greatest)
{
  *least = INFINITY;
  *greatest = -INFINITY;
  for (int i = 0; i < STEPS; i++)
    for (int sign = -1; sign <= 1; sign += 2)
      {
        /* The top of the parabola through three steps, where they have one. */
        double before = sign * row[(i + STEPS - 1) % STEPS], here = sign * row[i],
               after = sign * row[(i + 1) % STEPS];
        if (!(here >= before && here >= after))
          continue;
        double bend = before - 2 * here + after, slope = (after - before) / 2;
        double top = bend < 0 ? here - slope * slope / (2 * bend) : here;
        if (sign > 0)
          *greatest = fmax (*greatest, top);
        else
          *least = fmin (*least, -top);
      }
}

static gboolean
watch_all (FwToleranceWork *w)
{
  FwTurn *turn = fw_turn_new (w->mech, STEPS);
  int n = fw_quantity_count (w->mech);

  w->watches = calloc ((size_t)n, sizeof *w->watches);
  if (!turn || !w->watches)
    {
      free (turn);
      return FALSE;
    }
  fw_turn_solve (turn, w->mech);
  for (int i = 0; i < n; i++)
    {
      FwQuantity q = fw_quantity_nth (w->mech, i);
      if (q.kind != FW_Q_ANGLE && q.kind != FW_Q_PUSH && q.kind != FW_Q_BODY_H && q.kind != FW_Q_BODY_Z
          && q.kind != FW_Q_BODY_TILT)
        continue;
      FwToleranceWatch *watch = &w->watches[w->n_watches++];
      *watch = (FwToleranceWatch){ .quantity = q, .counts = q.kind == FW_Q_ANGLE };
      take_extremes (fw_turn_row (turn, w->mech, q), &watch->least, &watch->greatest);
    }
  free (turn);
  return TRUE;
}

static double
spread_of (const FwToleranceWork *w, FwParam origin, const FwDesign *design)
{
  double spread = fw_spread_default (design, origin);
  for (int i = 0; i < w->wish->n_spreads; i++)
    if (fw_param_equal (w->wish->spreads[i].param, origin))
      spread = w->wish->spreads[i].spread;
  return spread;
}

static gboolean
draw_all (FwToleranceWork *w, const FwDesign *design)
{
  FwDesign *split = w->split->design;
  int n = fw_design_params (split, NULL, 0);
  FwParam *params = calloc ((size_t)n, sizeof *params);

  w->drawn = calloc ((size_t)n, sizeof *w->drawn);
  if (!params || !w->drawn)
    {
      free (params);
      return FALSE;
    }
  fw_design_params (split, params, n);
  for (int i = 0; i < n; i++)
    {
      double spread = spread_of (w, fw_split_origin (w->split, params[i], NULL), design);
      if (!(spread > 0))
        continue;
      FwToleranceDrawn *d = &w->drawn[w->n_drawn++];
      *d = (FwToleranceDrawn){ .param = params[i], .value = fw_param_get (split, params[i]), .spread = spread };
      fw_param_limits (split, params[i], &d->lower, &d->upper);
    }
  free (params);
  return TRUE;
}

/* ---- Running ---- */

/* In units of the spread: normal with standard deviation 1/2, cut at 1.5. Box and Muller, 1958. */
static double
draw_one (GRand *rand)
{
  double z;
  do
    z = sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
  while (fabs (z) > 3);
  return z / 2;
}

typedef struct
{
  FwToleranceWork *work;
  FwDesign *design;
  FwMechanism *mech;
  FwTurn *turn;
  double *x, *y; /* [drawn] in spreads; [output] */
  FwTrouble *room;
} Bench;

static gboolean
bench_open (Bench *b, FwToleranceWork *w)
{
  *b = (Bench){ .work = w,
                .design = fw_design_copy (w->split->design),
                .x = calloc ((size_t)w->n_drawn + 1, sizeof (double)),
                .y = calloc ((size_t)w->n_outputs, sizeof (double)),
                .room = calloc (FW_TROUBLE_ROOM, sizeof (FwTrouble)) };
  return b->design && b->x && b->y && b->room;
}

static void
bench_close (Bench *b)
{
  fw_design_free (b->design);
  fw_mechanism_free (b->mech);
  free (b->turn);
  free (b->x);
  free (b->y);
  free (b->room);
}

static gboolean
bench_solve (Bench *b, FwTroubleList *list)
{
  fw_mechanism_free (b->mech);
  free (b->turn);
  b->mech = NULL;
  b->turn = NULL;
  *list = (FwTroubleList){ .items = b->room, .capacity = FW_TROUBLE_ROOM };
  if (fw_mechanism_build (b->design, &b->mech, NULL) != FW_OK)
    return FALSE;
  b->turn = fw_turn_new (b->mech, STEPS);
  if (!b->turn)
    return FALSE;
  b->turn->rough = true;
  fw_turn_solve (b->turn, b->mech);
  fw_trouble_find (b->turn, b->mech, list);
  return TRUE;
}

static void
keep_curves (const Bench *b, int run)
{
  const FwToleranceWork *w = b->work;

  for (int i = 0; i < w->n_watches && run < w->n_kept; i++)
    {
      const double *row = b->turn ? fw_turn_row (b->turn, b->mech, w->watches[i].quantity) : NULL;
      for (int k = 0; k < STEPS; k++)
        w->kept[((size_t)i * STEPS + (size_t)k) * (size_t)w->n_kept + (size_t)run] = row ? (float)row[k] : NAN;
    }
}

/* Adds the run to the sums. `shut`: it goes round. */
static void
add_up (Bench *b, FwToleranceSums *s, gboolean shut)
{
  const FwToleranceWork *w = b->work;
  int last = w->n_outputs - 1;

  b->y[last] = shut;
  for (int i = 0; i < w->n_watches && shut; i++)
    take_extremes (fw_turn_row (b->turn, b->mech, w->watches[i].quantity), &b->y[2 * i], &b->y[2 * i + 1]);
  for (int k = shut ? 0 : last; k < w->n_outputs; k++)
    {
      /* About what is drawn, so that squares keep their digits. */
      double from = k == last ? 0 : k % 2 ? w->watches[k / 2].greatest : w->watches[k / 2].least;
      b->y[k] -= isfinite (from) ? from : 0;
      s->sum[k] += b->y[k];
      s->square[k] += b->y[k] * b->y[k];
    }
  for (int j = 0; j < w->n_drawn; j++)
    {
      double x = b->x[j];
      s->every_x[j] += x;
      s->every_xx[j] += x * x;
      s->every_xy[j] += x * b->y[last];
      if (!shut)
        continue;
      s->x[j] += x;
      s->xx[j] += x * x;
      for (int k = 0; k < last; k++)
        s->xy[j * w->n_outputs + k] += x * b->y[k];
    }
}

static void
run_once (Bench *b, GRand *rand, FwToleranceSums *s, int run)
{
  const FwToleranceWork *w = b->work;
  FwTroubleList list;
  gboolean kinds[FW_N_TROUBLE_KINDS] = { FALSE }, fine = TRUE;

  for (int j = 0; j < w->n_drawn; j++)
    {
      const FwToleranceDrawn *d = &w->drawn[j];
      b->x[j] = draw_one (rand);
      fw_param_set (b->design, d->param, CLAMP (d->value + b->x[j] * d->spread, d->lower, d->upper));
    }
  gboolean shut = bench_solve (b, &list);
  for (int i = 0; shut && i < list.n; i++)
    if (list.items[i].severity >= FW_WARNING)
      {
        fine = FALSE;
        kinds[list.items[i].kind] = TRUE;
      }
  for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
    s->kinds[k] += kinds[k];
  shut = shut && !kinds[FW_CANNOT_CLOSE];
  s->runs++;
  s->round += shut;
  s->fine += shut && fine;
  keep_curves (b, run);
  add_up (b, s, shut);
}

gboolean
fw_tolerance_sums_open (FwToleranceSums *s, const FwToleranceWork *w)
{
  size_t n = (size_t)w->n_drawn + 1, outputs = (size_t)w->n_outputs;
  s->sum = calloc (2 * outputs + n * (5 + outputs), sizeof (double));
  if (!s->sum)
    return FALSE;
  s->square = s->sum + outputs;
  s->x = s->square + outputs;
  s->xx = s->x + n;
  s->every_x = s->xx + n;
  s->every_xx = s->every_x + n;
  s->every_xy = s->every_xx + n;
  s->xy = s->every_xy + n;
  return TRUE;
}

/* Every thread asks: any of them may be the last that still runs. */
static gboolean
told_to_stop (FwToleranceWork *w)
{
  if (w->wish->stop && w->wish->stop (w->wish->data))
    g_atomic_int_set (&w->stopped, 1);
  return g_atomic_int_get (&w->stopped) || g_atomic_int_get (&w->failed);
}

/* Each chunk has a stream of its own, so that it does not matter who runs it. One that is stopped amid its runs counts
 * as not run. */
static void
run_chunk (Bench *b, int chunk)
{
  FwToleranceWork *w = b->work;
  FwToleranceSums *s = &w->chunks[chunk];
  guint32 seed[] = { (guint32)w->wish->seed, (guint32)(w->wish->seed >> 32), (guint32)chunk };
  GRand *rand = g_rand_new_with_seed_array (seed, G_N_ELEMENTS (seed));
  int first = chunk * FW_TOLERANCE_CHUNK, past = MIN (first + FW_TOLERANCE_CHUNK, w->wish->runs);

  for (int run = first; run < past && !told_to_stop (w); run++)
    run_once (b, rand, s, run);
  g_rand_free (rand);
  if (s->runs == past - first)
    return;
  free (s->sum);
  *s = (FwToleranceSums){ 0 };
}

static void
run_chunks (FwToleranceWork *w, gboolean tells)
{
  Bench bench;
  gboolean good = bench_open (&bench, w);

  while (good && !told_to_stop (w))
    {
      int chunk = g_atomic_int_add (&w->next, 1);
      if (chunk >= w->n_chunks)
        break;
      if (!fw_tolerance_sums_open (&w->chunks[chunk], w))
        {
          good = FALSE;
          break;
        }
      run_chunk (&bench, chunk);
      int done = g_atomic_int_add (&w->done, 1) + 1;
      if (tells && w->wish->progress)
        w->wish->progress ((double)done / w->n_chunks, w->wish->data);
    }
  if (!good)
    g_atomic_int_set (&w->failed, 1);
  bench_close (&bench);
}

static gpointer
run_thread (gpointer data)
{
  run_chunks (data, FALSE);
  return NULL;
}

static void
run_all (FwToleranceWork *w)
{
  int n = w->wish->threads > 0 ? w->wish->threads : (int)g_get_num_processors ();
  n = CLAMP (n, 1, MIN (w->n_chunks, 256));
  GThread **threads = g_new0 (GThread *, n);

  for (int i = 1; i < n; i++)
    threads[i] = g_thread_try_new ("tolerance", run_thread, w, NULL);
  run_chunks (w, TRUE);
  for (int i = 1; i < n; i++)
    if (threads[i])
      g_thread_join (threads[i]);
  g_free (threads);
}

static gboolean
work_open (FwToleranceWork *w, const FwDesign *design, const FwToleranceWish *wish)
{
  w->wish = wish;
  w->split = fw_split_new (design);
  if (!w->split || fw_mechanism_build (w->split->design, &w->mech, NULL) != FW_OK || !watch_all (w)
      || !draw_all (w, design))
    return FALSE;
  w->n_outputs = 2 * w->n_watches + 1;
  w->n_chunks = (wish->runs + FW_TOLERANCE_CHUNK - 1) / FW_TOLERANCE_CHUNK;
  w->chunks = calloc ((size_t)w->n_chunks, sizeof *w->chunks);
  w->n_kept = MIN (wish->runs, FW_TOLERANCE_KEPT);
  w->kept = malloc ((size_t)w->n_watches * STEPS * (size_t)w->n_kept * sizeof *w->kept);
  return w->chunks && w->kept;
}

static void
work_close (FwToleranceWork *w)
{
  for (int c = 0; c < w->n_chunks && w->chunks; c++)
    free (w->chunks[c].sum);
  free (w->chunks);
  free (w->kept);
  free (w->watches);
  free (w->drawn);
  fw_mechanism_free (w->mech);
  fw_split_free (w->split);
}

FwTolerance *
fw_tolerance_run (const FwDesign *design, const FwToleranceWish *wish)
{
  FwToleranceWork w = { 0 };
  FwTolerance *t = calloc (1, sizeof *t);
  gboolean good = t && wish->runs >= 1 && wish->runs <= FW_TOLERANCE_MOST && work_open (&w, design, wish);

  if (good)
    {
      run_all (&w);
      good = !w.failed && fw_tolerance_sum_up (&w, t);
    }
  work_close (&w);
  if (good)
    return t;
  fw_tolerance_free (t);
  return NULL;
}

void
fw_tolerance_free (FwTolerance *t)
{
  if (!t)
    return;
  free (t->bands);
  free (t->extremes);
  free (t->causes);
  free (t);
}
