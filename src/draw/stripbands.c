/* Trouble on lanes: which lane each stretch takes, and where its words go, before anything is
 * painted. */
#include "draw/forcerows.h"
#include "draw/overlay.h"
#include "draw/striplayout.h"

double
fw_strip_x (const FwStyle *style, FwBox page, double crank)
{
  FwStripField f = fw_strip_field (style, page, 0);
  return f.left + (f.right - f.left) * CLAMP (crank / (2 * G_PI), 0, 1);
}

double
fw_strip_crank (const FwStyle *style, FwBox page, double x)
{
  FwStripField f = fw_strip_field (style, page, 0);
  return 2 * G_PI * CLAMP ((x - f.left) / fmax (f.right - f.left, 1e-6), 0, 1);
}

FwStripField
fw_strip_field (const FwStyle *style, FwBox page, int lanes)
{
  double text = style->text;
  /* Large words need more of the page to name the curves. */
  double share = text > 15 * style->size ? 0.32 : 0.2;
  double gutter = fmin (14.5 * text, share * page.width);
  FwStripField f = { .left = page.x + fmin (1.7 * text, 0.1 * page.width),
                     .right = page.x + page.width - gutter,
                     .top = page.y + fmin (2.1 * text, 0.2 * page.height),
                     .lane_height = 1.5 * text,
                     .lanes = lanes };
  f.ruler = page.y + page.height - fmin (1.9 * text, 0.2 * page.height);
  f.bottom = f.ruler - lanes * f.lane_height;
  f.right = fmax (f.right, f.left + 1);
  f.bottom = fmax (f.bottom, f.top + 1);
  return f;
}

static gboolean
same_words (const FwTrouble *a, const FwTrouble *b)
{
  return a->kind == b->kind && a->severity == b->severity && a->second == b->second
         && a->part.kind == b->part.kind;
}

/* The left twin's trouble at the same crank angles says nothing new. */
static gboolean
is_echo (const FwTroubleList *list, int i)
{
  const FwTrouble *t = &list->items[i];
  for (int k = 0; k < i; k++)
    if (same_words (&list->items[k], t) && fabs (list->items[k].from - t->from) < 2e-3
        && fabs (list->items[k].to - t->to) < 2e-3 && list->items[k].part.index != t->part.index
        && fabs (list->items[k].value - t->value) < 1e-3 * (1 + fabs (t->value)))
      return TRUE;
  return FALSE;
}

typedef struct
{
  double from[2], to[2];
  int n;
} Stretches;

/* An interval on a ruler that ends at 360 degrees. */
static Stretches
stretches (const FwTrouble *t)
{
  double turn = 2 * G_PI, from = fmod (t->from, turn), span = fmin (t->to - t->from, turn);
  if (from < 0)
    from += turn;
  if (from + span <= turn + 1e-9)
    return (Stretches){ { from }, { fmin (from + span, turn) }, 1 };
  return (Stretches){ { from, 0 }, { turn, from + span - turn }, 2 };
}

static gboolean
lane_free (const FwStripBand *bands, const double *taken, int n, int lane, double from, double to)
{
  for (int i = 0; i < n; i++)
    if (bands[i].lane == lane && from < taken[2 * i + 1] && to > taken[2 * i])
      return FALSE;
  return TRUE;
}

/* Where the words go: inside the longer stretch, else right of it, else left of it. */
static double
word_place (const Stretches *s, const double *from, const double *to, int longer, double width,
            FwStripField f, double pad)
{
  // cppcheck-suppress uninitvar ; the caller sets the stretches there are, one at least
  if (to[longer] - from[longer] >= width + 2 * pad)
    return from[longer] + pad;
  if (to[longer] + pad + width <= f.right)
    return to[longer] + pad;
  return from[longer] - pad - width;
}

int
fw_strip_bands (const FwTroubleList *list, const FwStyle *style, FwBox page,
                const double *word_width, int most, FwStripBand *bands, int capacity, int *lanes)
{
  FwStripField f = fw_strip_field (style, page, 0);
  double scale = (f.right - f.left) / (2 * G_PI), pad = 0.4 * style->text;
  double *taken = g_new (double, 2 * MAX (capacity, 1));
  int n = 0;
  *lanes = 0;
  for (int i = 0; list != NULL && i < list->n && n + 2 <= capacity; i++)
    {
      if (is_echo (list, i))
        continue;
      Stretches s = stretches (&list->items[i]);
      double from[2], to[2];
      for (int k = 0; k < s.n; k++)
        {
          from[k] = f.left + s.from[k] * scale;
          to[k] = fmax (f.left + s.to[k] * scale, from[k] + 2 * style->wide);
        }
      int longer = s.n == 2 && to[1] - from[1] > to[0] - from[0] ? 1 : 0, lane = 0;
      double word = word_place (&s, from, to, longer, word_width[i], f, pad);
      double low[2], high[2];
      for (int k = 0; k < s.n; k++)
        {
          low[k] = k == longer ? fmin (from[k], word) - pad : from[k] - pad;
          high[k] = k == longer ? fmax (to[k], word + word_width[i]) + pad : to[k] + pad;
        }
      for (; lane < most; lane++)
        if (lane_free (bands, taken, n, lane, low[0], high[0])
            && (s.n == 1 || lane_free (bands, taken, n, lane, low[1], high[1])))
          break;
      double worst = f.left + fmod (list->items[i].worst + 2 * G_PI, 2 * G_PI) * scale;
      for (int k = 0; k < s.n; k++)
        {
          gboolean here = worst >= from[k] - 0.5 && worst <= to[k] + 0.5;
          taken[2 * n] = low[k];
          taken[2 * n + 1] = high[k];
          bands[n++]
              = (FwStripBand){ i,    from[k],           to[k], lane < most ? lane : -1, k == longer,
                               word, here ? worst : NAN };
        }
      if (lane < most)
        *lanes = MAX (*lanes, lane + 1);
    }
  g_free (taken);
  return n;
}

/* ---- Flags ---- */

static int
by_crank (const void *a, const void *b)
{
  const FwFlag *p = a, *q = b;
  return (p->crank > q->crank) - (p->crank < q->crank);
}

static double
in_turn (double crank)
{
  double at = fmod (crank, 2 * G_PI);
  return at < 0 ? at + 2 * G_PI : at;
}

int
fw_strip_flags (const FwScene *scene, const FwStripState *state, FwFlag *flags, int capacity)
{
  int n = 0;
  for (int c = 0; c < CLAMP (state->n_curves, 0, FW_STRIP_CURVES); c++)
    {
      if (!fw_quantity_known (scene->mechanism, state->curves[c]))
        continue;
      FwExtreme points[16];
      int found = MIN (fw_scene_turning_points (scene, state->curves[c], points, 16), 16);
      for (int i = 0; i < found && n < capacity; i++)
        flags[n++] = (FwFlag){ in_turn (points[i].crank), FW_FLAG_TURNING, -1, c, points[i].value, -1 };
    }
  for (int i = 0; scene->troubles != NULL && i < scene->troubles->n; i++)
    {
      const FwTrouble *t = &scene->troubles->items[i];
      if (n + 3 > capacity)
        break;
      flags[n++] = (FwFlag){ in_turn (t->worst), FW_FLAG_WORST, i, -1, t->value, -1 };
      if (t->to - t->from >= 2 * G_PI - 1e-9)
        continue;
      flags[n++] = (FwFlag){ in_turn (t->from), FW_FLAG_EDGE, i, -1, 0, -1 };
      flags[n++] = (FwFlag){ in_turn (t->to), FW_FLAG_EDGE, i, -1, 0, -1 };
    }
  for (int i = 0; i < scene->n_bounces && n < capacity; i++)
    flags[n++] = (FwFlag){ in_turn (scene->bounces[i].crank), FW_FLAG_BOUNCE, -1, -1,
                           scene->bounces[i].energy_J, i };
  qsort (flags, (size_t)n, sizeof *flags, by_crank);
  return n;
}
