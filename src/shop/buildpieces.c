/* Pieces with true lengths, fittings, bends and the centre line. */
#include "shop/buildinner.h"

#include <math.h>
#include <stdlib.h>

#define SAME_MM 0.005 /* cut alike */

static FwStretch *
nth (FwBuilding *b, guint i)
{
  return &g_array_index (b->sections, FwStretch, i);
}

/* ---- Numbers of pieces that are cut alike ---- */

static gboolean
alike (const FwBuiltPiece *x, const FwBuiltPiece *y)
{
  gboolean between = (x->a == y->a && x->b == y->b) || (x->a == y->b && x->b == y->a);
  return x->kind == y->kind && between && fabs (x->cut_mm - y->cut_mm) < SAME_MM
         && fabs (x->centre_mm - y->centre_mm) < SAME_MM;
}

static void
add_piece (FwBuilding *b, GArray *pieces, FwBuiltPiece piece)
{
  int next = 0;
  piece.cut_mm = fmax (piece.cut_mm, 0);
  piece.design = -1;
  for (guint i = 0; i < pieces->len; i++)
    {
      const FwBuiltPiece *other = &g_array_index (pieces, FwBuiltPiece, i);
      next = MAX (next, other->design + 1);
      if (piece.design < 0 && alike (&piece, other))
        piece.design = other->design;
    }
  if (piece.design < 0)
    piece.design = next;
  g_array_append_val (pieces, piece);
}

/* ---- Bars: sections that run on without a web are one ---- */

static guint
end_of_bar (FwBuilding *b, guint i)
{
  while (i + 1 < b->sections->len && !nth (b, i)->web[1])
    i++;
  return i;
}

static int
throw_beside (FwBuilding *b, guint i, int step, int otherwise)
{
  for (int k = (int)i; k >= 0 && k < (int)b->sections->len; k += step)
    if (nth (b, (guint)k)->throw_index >= 0)
      return nth (b, (guint)k)->throw_index;
  return otherwise;
}

static void
add_bar (FwBuilding *b, GArray *pieces, guint from, guint to)
{
  const FwCrankBuild *make = &b->build->make;
  const FwStretch *first = nth (b, from), *end = nth (b, to);
  double back = make->make == FW_MAKE_ELBOWS ? make->take_off_mm : fw_build_half (make);
  double low = first->web[0] ? first->plane[0] + back : first->clear[0];
  double high = end->web[1] ? end->plane[1] - back : end->clear[1];
  gboolean pin = first->throw_index >= 0 && hypot (first->h, first->z) > 1e-6;
  FwBuiltPiece piece = {
    .kind = first->grip ? FW_BUILT_GRIP : pin ? FW_BUILT_PIN : FW_BUILT_AXIS,
    .a = pin ? first->throw_index : throw_beside (b, from, -1, FW_BUILT_HANDLE_END),
    .b = pin ? end->throw_index : throw_beside (b, to, 1, FW_BUILT_FAR_END),
    .centre_mm = end->plane[1] - first->plane[0],
    .cut_mm = high - low,
    .from_mm = low,
    .to_mm = high,
    .phase_deg = pin ? atan2 (first->h, first->z) * 180 / G_PI : 0,
    .radius_mm = hypot (first->h, first->z),
  };
  if (first->grip)
    piece.a = piece.b = FW_BUILT_HANDLE_END;
  if (make->make == FW_MAKE_BOLTED && high - low < SAME_MM) /* the webs lie flat on each other */
    return;
  for (guint i = from; i <= to; i++)
    nth (b, i)->piece = (int)pieces->len;
  add_piece (b, pieces, piece);
}

static void
add_web (FwBuilding *b, GArray *pieces, const FwStretch *s, const FwStretch *next)
{
  const FwCrankBuild *make = &b->build->make;
  double dh = next->h - s->h, dz = next->z - s->z, centre = hypot (dh, dz);
  FwBuiltPiece piece = {
    .kind = s->grip ? FW_BUILT_ARM : FW_BUILT_WEB,
    .a = s->throw_index >= 0 ? s->throw_index : FW_BUILT_ON_AXIS,
    .b = next->throw_index >= 0 ? next->throw_index : FW_BUILT_ON_AXIS,
    .centre_mm = centre,
    .cut_mm = make->make == FW_MAKE_ELBOWS ? centre - 2 * make->take_off_mm : centre + make->web_width_mm,
    .from_mm = s->plane[1],
    .to_mm = s->plane[1],
    .phase_deg = atan2 (dh, dz) * 180 / G_PI,
  };
  if (s->grip)
    piece.a = piece.b = FW_BUILT_HANDLE_END;
  add_piece (b, pieces, piece);
}

/* ---- The centre line, and bending along it ---- */

static FwVec3
place (FwBuilding *b, double station, const FwStretch *s)
{
  return b->mech->design->crank.runs == FW_RUNS_ACROSS ? fw_vec3 (station, s->h, s->z)
                                                       : fw_vec3 (s->h, station, s->z);
}

static void
draw_line (FwBuilding *b)
{
  FwBuild *build = b->build;
  build->line = g_new0 (FwVec3, 2 * b->sections->len + 2);
  build->line[build->n_line++] = place (b, nth (b, 0)->clear[0], nth (b, 0));
  for (guint i = 0; i + 1 < b->sections->len; i++)
    if (nth (b, i)->web[1])
      {
        build->line[build->n_line++] = place (b, nth (b, i)->plane[1], nth (b, i));
        build->line[build->n_line++] = place (b, nth (b, i)->plane[1], nth (b, i + 1));
      }
  guint end = b->sections->len - 1;
  build->line[build->n_line++] = place (b, nth (b, end)->clear[1], nth (b, end));
}

static FwVec3
direction (const FwBuild *build, int i)
{
  FwVec3 d = fw_vec3_sub (build->line[i + 1], build->line[i]);
  double length = fw_vec3_length (d);
  return length > 0 ? fw_vec3_scale (d, 1 / length) : d;
}

/* How far the plane of bending turns about the blank from one bend to the next. */
static double
roll_between (const FwBuild *build, int bend)
{
  FwVec3 along = direction (build, bend);
  FwVec3 before = fw_vec3_cross (direction (build, bend - 1), along);
  FwVec3 after = fw_vec3_cross (along, direction (build, bend + 1));
  double roll = atan2 (fw_vec3_dot (fw_vec3_cross (before, after), along), fw_vec3_dot (before, after)) * 180 / G_PI;
  return fabs (roll) < 1e-9 ? 0 : fabs (roll + 180) < 1e-9 ? 180 : roll;
}

static void
bend_wire (FwBuilding *b, GArray *pieces)
{
  FwBuild *build = b->build;
  double at = 0, radius = build->make.bend_radius_mm;
  build->n_bends = build->n_line - 2;
  build->bends = g_new0 (FwBend, MAX (build->n_bends, 1));
  for (int i = 0; i + 1 < build->n_line; i++)
    {
      double whole = fw_vec3_length (fw_vec3_sub (build->line[i + 1], build->line[i]));
      double leg = fmax (whole - radius * ((i > 0) + (i + 2 < build->n_line)), 0);
      at += leg;
      if (i < build->n_bends)
        {
          build->bends[i] = (FwBend) { .mark_mm = at, .turn_deg = 90, .leg_mm = leg };
          build->bends[i].roll_deg = i == 0 ? 0 : roll_between (build, i);
          at += build->allowance_mm;
        }
    }
  for (guint i = 0; i < b->sections->len; i++)
    nth (b, i)->piece = 0;
  add_piece (b, pieces,
             (FwBuiltPiece) { .kind = FW_BUILT_WIRE, .a = FW_BUILT_HANDLE_END, .b = FW_BUILT_FAR_END, .cut_mm = at,
                              .centre_mm = 0, .from_mm = nth (b, 0)->clear[0], .to_mm = build->end_mm });
}

/* ---- Fittings ---- */

static void
add_fit (GArray *fits, FwFitKind kind, double size, double length, int count)
{
  for (guint i = 0; i < fits->len; i++)
    {
      FwBuiltFit *f = &g_array_index (fits, FwBuiltFit, i);
      if (f->kind == kind && f->size_mm == size && fabs (f->length_mm - length) < 0.05)
        {
          f->count += count;
          return;
        }
    }
  FwBuiltFit fit = { kind, size, length, count };
  g_array_append_val (fits, fit);
}

/* One threaded rod through each bar and the webs at its ends. */
static void
add_bolt (FwBuilding *b, GArray *fits, guint from, guint to)
{
  const FwCrankBuild *make = &b->build->make;
  const FwStretch *first = nth (b, from), *end = nth (b, to);
  int webs = (first->web[0] ? 1 : 0) + (end->web[1] ? 1 : 0);
  double length = end->clear[1] - first->clear[0] + webs * make->web_thickness_mm + 2 * fw_build_nut (make);
  add_fit (fits, FW_FIT_BOLT, make->bolt_mm, length, 1);
  add_fit (fits, FW_FIT_NUT, make->bolt_mm, 0, 2);
  add_fit (fits, FW_FIT_WASHER, make->bolt_mm, 0, 2);
}

/* Bolts longest first, then nuts, then washers. */
static int
by_kind (gconstpointer a, gconstpointer b)
{
  const FwBuiltFit *x = a, *y = b;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  return (x->length_mm < y->length_mm) - (x->length_mm > y->length_mm);
}

void
fw_build_make_pieces (FwBuilding *b)
{
  FwBuild *build = b->build;
  FwMake make = build->make.make;
  GArray *pieces = g_array_new (FALSE, TRUE, sizeof (FwBuiltPiece)), *fits = g_array_new (FALSE, TRUE, sizeof (FwBuiltFit));
  draw_line (b);
  if (make == FW_MAKE_BENT)
    bend_wire (b, pieces);
  for (guint i = 0; make != FW_MAKE_BENT && i < b->sections->len; i++)
    {
      guint end = end_of_bar (b, i);
      add_bar (b, pieces, i, end);
      if (make == FW_MAKE_BOLTED)
        add_bolt (b, fits, i, end);
      i = end;
      if (i + 1 >= b->sections->len)
        break;
      add_web (b, pieces, nth (b, i), nth (b, i + 1));
      if (make == FW_MAKE_ELBOWS)
        add_fit (fits, FW_FIT_ELBOW, build->make.pipe_mm, 0, 2);
    }
  build->n_pieces = (int)pieces->len;
  build->pieces = (FwBuiltPiece *)(gpointer)g_array_free (pieces, FALSE);
  g_array_sort (fits, by_kind);
  build->n_fits = (int)fits->len;
  build->fits = (FwBuiltFit *)(gpointer)g_array_free (fits, FALSE);
}
