#include "app/peaks.h"

#include <glib/gi18n.h>
#include <math.h>

#include "doc/loadwords.h"
#include "draw/forcerows.h"

#define DEGREES (180 / G_PI)
#define NOTHING 1e-9

static void
row_free (gpointer data)
{
  FwPeakRow *row = data;
  g_free (row->name);
  g_free (row->kind);
  g_free (row);
}

const char *
fw_peak_group_words (FwPeakGroup group)
{
  static const char *const words[FW_N_PEAK_GROUPS] = {
    [FW_PEAKS_TORQUE] = N_ ("Crank torque and handle"), [FW_PEAKS_RODS] = N_ ("Rods"),
    [FW_PEAKS_POST] = N_ ("Post and what guides it"),   [FW_PEAKS_CRANK] = N_ ("Crank pins and bearings"),
    [FW_PEAKS_HINGES] = N_ ("Hinges"),                  [FW_PEAKS_STRESS] = N_ ("Stress"),
    [FW_PEAKS_SAG] = N_ ("Sag"),
  };
  return _(words[group]);
}

static FwPeakGroup
group_of (FwQuantityKind kind)
{
  switch (kind)
    {
    case FW_Q_TORQUE:
    case FW_Q_HANDLE:
      return FW_PEAKS_TORQUE;
    case FW_Q_FORCE:
      return FW_PEAKS_RODS;
    case FW_Q_GUIDE:
    case FW_Q_FOOT:
      return FW_PEAKS_POST;
    case FW_Q_HINGE:
      return FW_PEAKS_HINGES;
    case FW_Q_STRESS:
      return FW_PEAKS_STRESS;
    case FW_Q_SAG:
      return FW_PEAKS_SAG;
    default:
      return FW_PEAKS_CRANK;
    }
}

static const char *
kind_words (const FwMechanism *mech, FwQuantity q, int sign)
{
  gboolean link = mech->design->body.ride == FW_RIDE_ROCKER;
  switch (q.kind)
    {
    case FW_Q_TORQUE:
    case FW_Q_HANDLE:
      return sign > 0 ? C_ ("torque", "drives") : C_ ("torque", "holds back");
    case FW_Q_FORCE:
      return sign > 0 ? C_ ("load", "pull") : C_ ("load", "push");
    case FW_Q_GUIDE:
      if (link)
        return sign > 0 ? C_ ("load", "pull") : C_ ("load", "push");
      return sign > 0 ? C_ ("load", "forward") : C_ ("load", "backward");
    case FW_Q_STRESS:
      return C_ ("load", "stress");
    case FW_Q_SAG:
      return C_ ("load", "sag");
    default:
      return C_ ("load", "load");
    }
}

/* ---- Names ---- */

static char *
name_of (const FwMechanism *mech, FwQuantity q, gboolean both)
{
  FwPart part = fw_load_quantity_part (mech, q);
  if (q.kind == FW_Q_TORQUE)
    return g_strdup (_ ("Crank"));
  if (q.kind == FW_Q_HANDLE)
    return g_strdup (_ ("Handle"));
  if (q.kind == FW_Q_FOOT)
    return g_strdup (C_ ("of the post", "Foot"));
  if (q.kind == FW_Q_BEARING)
    return g_strdup_printf (_ ("Bearing %d"), q.index + 1);
  if (q.kind == FW_Q_PIN)
    return both ? g_strdup (mech->design->crank.throws[mech->pins[q.index].throw_index].name)
                : fw_words_pin (mech, q.index);
  if (q.kind == FW_Q_GUIDE)
    return g_strdup (mech->design->body.ride == FW_RIDE_SLEEVE   ? _ ("Guide")
                     : mech->design->body.ride == FW_RIDE_ROCKER ? _ ("Link")
                                                                 : _ ("Slide"));
  if (part.kind == FW_PART_LINK)
    return g_strdup (both ? mech->design->rods[mech->links[part.index].rod].name : mech->links[part.index].name);
  if (part.kind == FW_PART_MEMBER)
    return g_strdup (both ? mech->design->panels[mech->members[part.index].panel].name
                          : mech->members[part.index].name);
  return g_strdup (part.kind == FW_PART_BODY ? _ ("Post") : _ ("Crank"));
}

/* What twins share: the design's rod, panel or throw. */
static int
design_index (const FwMechanism *mech, FwQuantity q)
{
  FwPart part = fw_load_quantity_part (mech, q);
  if (q.kind == FW_Q_PIN)
    return mech->pins[q.index].throw_index;
  if (part.kind == FW_PART_LINK)
    return mech->links[part.index].rod;
  return part.kind == FW_PART_MEMBER ? mech->members[part.index].panel : -1 - q.index;
}

/* ---- Rows ---- */

typedef struct
{
  const FwScene *scene;
  GPtrArray *rows;
} Table;

/* The other side bears the same at the same angle: one row tells of both. */
static gboolean
is_twin_of (const FwMechanism *mech, const FwPeakRow *a, const FwPeakRow *b)
{
  FwPart p = fw_load_quantity_part (mech, a->quantity), q = fw_load_quantity_part (mech, b->quantity);
  return a->quantity.kind == b->quantity.kind && a->sign == b->sign && p.kind == q.kind
         && design_index (mech, a->quantity) == design_index (mech, b->quantity)
         && fabs (a->value - b->value) < 1e-6 * a->value
         && fabs (remainder (a->crank - b->crank, 2 * G_PI)) < 1e-3;
}

static void
add (Table *t, FwQuantity q, int sign, double value, double crank, double over)
{
  const FwMechanism *mech = t->scene->mechanism;
  double factor;
  FwUnit unit = fw_words_load_quantity_unit (q, &factor);

  if (!isfinite (value) || !(fabs (value) > NOTHING))
    return;
  FwPeakRow row = { group_of (q.kind), q, sign, fw_load_quantity_part (mech, q), fabs (value) * factor, unit, crank,
                    over, NULL, NULL };
  for (guint i = 0; i < t->rows->len; i++)
    {
      FwPeakRow *other = g_ptr_array_index (t->rows, i);
      if (!is_twin_of (mech, other, &row))
        continue;
      g_free (other->name);
      other->name = name_of (mech, other->quantity, TRUE);
      return;
    }
  row.name = name_of (mech, q, FALSE);
  row.kind = g_strdup (kind_words (mech, q, sign));
  g_ptr_array_add (t->rows, g_memdup2 (&row, sizeof row));
}

/* The greatest of a row times a sign, to a parabola through three steps. */
static void
add_greatest (Table *t, FwQuantity q, const FwRow *row, int sign)
{
  int best = -1, n = row->steps, way = sign < 0 ? -1 : 1;
  for (int i = 0; i < n; i++)
    if (isfinite (row->values[i]) && (best < 0 || way * row->values[i] > way * row->values[best]))
      best = i;
  if (best < 0 || !(way * row->values[best] > 0))
    return;
  double a = row->values[(best + n - 1) % n], b = row->values[best], c = row->values[(best + 1) % n];
  double bend = a - 2 * b + c, off = isfinite (bend) && fabs (bend) > 1e-9 * fabs (b) ? 0.5 * (a - c) / bend : 0;
  double crank = 2 * G_PI * (best + off) / n;
  crank -= 2 * G_PI * floor (crank / (2 * G_PI));
  add (t, q, sign, b - (off == 0 ? 0 : 0.25 * (a - c) * off), crank, 0);
}

static gboolean
has_sign (FwQuantityKind kind)
{
  return kind == FW_Q_TORQUE || kind == FW_Q_HANDLE || kind == FW_Q_FORCE || kind == FW_Q_GUIDE;
}

static void
add_loads (Table *t)
{
  int n = fw_scene_loads (t->scene, NULL, 0);
  g_autofree FwQuantity *list = g_new (FwQuantity, MAX (n, 1));

  fw_scene_loads (t->scene, list, n);
  for (int i = 0; i < n && list[i].kind < FW_Q_BEARING; i++)
    {
      FwRow row = fw_scene_row (t->scene, list[i]);
      add_greatest (t, list[i], &row, has_sign (list[i].kind) ? 1 : 0);
      if (has_sign (list[i].kind))
        add_greatest (t, list[i], &row, -1);
      g_free (row.owned);
    }
}

static void
add_strength (Table *t, const FwStrength *s)
{
  for (int i = 0; s->crank->status == FW_FRAME_OK && i < s->crank->n_bearings; i++)
    add (t, (FwQuantity) { FW_Q_BEARING, i }, 0, s->bearings[i].value, s->bearings[i].crank, 0);
  for (int i = 0; i < s->n_parts; i++)
    {
      const FwPartStrength *p = &s->parts[i];
      int index = fw_stress_index (t->scene->mechanism, p->part);
      double over = p->allowed > 0 ? p->stress.value / p->allowed : 0;
      add (t, (FwQuantity) { FW_Q_STRESS, index }, 0, p->stress.value, p->stress.crank, over);
      add (t, (FwQuantity) { FW_Q_SAG, index }, 0, p->sag.value, p->sag.crank, 0);
    }
}

static int
by_group_and_size (gconstpointer a, gconstpointer b)
{
  const FwPeakRow *p = *(FwPeakRow *const *) a, *q = *(FwPeakRow *const *) b;
  if (p->group != q->group)
    return p->group < q->group ? -1 : 1;
  if (p->unit != q->unit)
    return p->unit > q->unit ? -1 : 1; /* torque before the handle's force */
  return (p->value < q->value) - (p->value > q->value);
}

GPtrArray *
fw_peak_rows (FwSession *session)
{
  Table t = { fw_session_scene (session), g_ptr_array_new_with_free_func (row_free) };
  const FwStrength *strength = fw_session_strength (session);

  if (t.scene == NULL || t.scene->mechanism == NULL || t.scene->loads == NULL)
    return t.rows;
  add_loads (&t);
  if (strength != NULL)
    add_strength (&t, strength);
  g_ptr_array_sort (t.rows, by_group_and_size);
  return t.rows;
}

/* ---- Words ---- */

char *
fw_peak_value_words (const FwPeakRow *row, FwLengths lengths)
{
  int digits = row->unit == FW_UNIT_MM ? (row->value >= 9.995 ? 1 : 2) : fw_load_digits (row->value);
  return fw_units_format (row->value, row->unit, lengths, digits);
}

char *
fw_peak_crank_words (const FwPeakRow *row)
{
  double degrees = fmod (round (row->crank * DEGREES), 360);
  return fw_units_format (degrees, FW_UNIT_DEG, FW_LENGTHS_MM, 0);
}
