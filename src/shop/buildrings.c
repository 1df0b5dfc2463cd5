/* In which order eyes, foot and bearings go on the crank.
 *
 * Looked for by taking apart. The rules: an open ring comes off by itself. A closed ring comes off over
 * an end of the crank. A crank of pieces parts at any web, so a closed ring only has to leave its own
 * stretch. A crank bent in one must be travelled along to one of its ends: every ring in the way has
 * to be off, every bend has to pass the ring (its bore against the bend), and every straight between
 * two bends has to be as long as the ring is wide. Taking a ring off never bars the way of another, so
 * taking off what will come off until nothing more does finds all that can; the reverse puts them on. */
#include "shop/buildinner.h"

#include <math.h>

typedef struct
{
  FwBuiltRing ring;
  guint section;
  int place; /* order within its section, lowest station first */
  double width;
  gboolean off;
} Ring;

typedef struct
{
  FwBuilding *b;
  GArray *rings; /* Ring */
} Rings;

static const FwStretch *
nth (const Rings *r, guint i)
{
  return &g_array_index (r->b->sections, FwStretch, i);
}

static Ring *
ring_nth (const Rings *r, guint i)
{
  return &g_array_index (r->rings, Ring, i);
}

static void
add_ring (Rings *r, guint section, FwPart part, int bearing)
{
  const FwCrankBuild *make = &r->b->build->make;
  gboolean is_bearing = bearing >= 0;
  int place = 0;
  for (guint i = 0; i < r->rings->len; i++)
    place += ring_nth (r, i)->section == section;
  Ring ring = {
    .ring = { .part = part,
              .bearing = bearing,
              .pin = is_bearing ? -1 : nth (r, section)->pin,
              .piece = nth (r, section)->piece,
              .closed = is_bearing ? !make->open_bearings : !make->open_eyes,
              .bore_mm = is_bearing ? make->bearing_bore_mm : make->eye_bore_mm },
    .section = section,
    .place = place,
    .width = is_bearing                   ? make->bearing_mm
             : part.kind == FW_PART_LINK ? r->b->build->fittings_mm[part.index]
                                         : make->clamp_mm,
  };
  g_array_append_val (r->rings, ring);
}

/* The stretch of axis a bearing stands on, or the nearest. */
static int
section_of_bearing (const Rings *r, double at)
{
  int best = -1;
  double least = INFINITY;
  for (guint i = 0; i < r->b->sections->len; i++)
    {
      const FwStretch *s = nth (r, i);
      double away = fmax (fmax (s->clear[0] - at, at - s->clear[1]), 0);
      if (s->pin >= 0 || s->grip || away >= least)
        continue;
      least = away;
      best = (int)i;
    }
  return best;
}

static void
gather (Rings *r)
{
  const FwMechanism *mech = r->b->mech;
  double bearings[64];
  int n = MIN (fw_design_bearings (mech->design, bearings, 64), 64);
  for (guint i = 0; i < r->b->sections->len; i++)
    {
      for (int k = 0; k < n; k++)
        if (section_of_bearing (r, bearings[k]) == (int)i)
          add_ring (r, i, (FwPart) { FW_PART_BASE, 0 }, k);
      if (nth (r, i)->pin < 0)
        continue;
      if (mech->body_pin == nth (r, i)->pin)
        add_ring (r, i, (FwPart) { FW_PART_BODY, 0 }, -1);
      for (int k = 0; k < mech->n_links; k++)
        if (mech->links[k].from == FW_FROM_THROW && mech->links[k].index == nth (r, i)->pin)
          add_ring (r, i, (FwPart) { FW_PART_LINK, k }, -1);
    }
}

/* Another ring between this one and the end of the crank that way. */
static gboolean
barred (const Rings *r, const Ring *ring, int step)
{
  for (guint i = 0; i < r->rings->len; i++)
    {
      const Ring *other = ring_nth (r, i);
      if (other->off || other == ring)
        continue;
      if (other->section == ring->section ? step * (other->place - ring->place) > 0
                                          : step * ((int)other->section - (int)ring->section) > 0)
        return TRUE;
    }
  return FALSE;
}

/* Least bore with which a ring gets along a bent crank to its end; infinite: none does. */
static double
bore_that_way (const Rings *r, const Ring *ring, int step)
{
  const FwCrankBuild *make = &r->b->build->make;
  double inside = make->bend_radius_mm - make->pipe_mm / 2, half = ring->width / 2;
  double round = half < inside ? make->bend_radius_mm + make->pipe_mm / 2 - sqrt (inside * inside - half * half) : INFINITY;
  double needed = make->pipe_mm;
  for (int i = (int)ring->section; i + step >= 0 && i + step < (int)r->b->sections->len; i += step)
    {
      const FwStretch *s = nth (r, (guint)i), *next = nth (r, (guint)(i + step));
      double straight = hypot (s->h - next->h, s->z - next->z) - 2 * make->bend_radius_mm;
      if (!s->web[step > 0])
        continue;
      if (straight < ring->width || next->clear[1] - next->clear[0] < ring->width)
        return INFINITY;
      needed = fmax (needed, round);
    }
  return needed;
}

static gboolean
comes_off (const Rings *r, Ring *ring)
{
  if (!ring->ring.closed)
    return TRUE;
  gboolean bent = r->b->build->make.make == FW_MAKE_BENT, off = FALSE;
  double needed = INFINITY;
  for (int step = 1; step >= -1; step -= 2)
    {
      double bore = bent ? bore_that_way (r, ring, step) : 0;
      needed = fmin (needed, bore);
      off = off || (ring->ring.bore_mm >= bore && (!bent || !barred (r, ring, step)));
    }
  ring->ring.needed_mm = bent && isfinite (needed) ? needed : 0;
  return off;
}

/* From the far end, so that they go on from the handle on. */
static void
take_apart (Rings *r, GArray *order)
{
  gboolean more = TRUE;
  while (more)
    {
      more = FALSE;
      for (guint i = r->rings->len; i > 0; i--)
        {
          Ring *ring = ring_nth (r, i - 1);
          if (ring->off || !comes_off (r, ring))
            continue;
          ring->off = TRUE;
          ring->ring.gets_on = TRUE;
          g_array_prepend_val (order, ring->ring);
          more = TRUE;
        }
    }
}

static void
report (Rings *r, const Ring *ring)
{
  const FwStretch *s = nth (r, ring->section);
  FwTrouble t = { .kind = FW_NO_WAY_IN, .part = ring->ring.part, .value = ring->ring.bore_mm, .limit = ring->ring.needed_mm };
  t.has_other = s->throw_index >= 0;
  t.other = (FwPart) { FW_PART_CRANK, 1 + MAX (s->throw_index, -1) };
  for (guint k = 0; k < r->b->troubles->len; k++)
    if (fw_trouble_same (&g_array_index (r->b->troubles, FwTrouble, k), &t))
      return;
  fw_build_add_trouble (r->b, t);
}

void
fw_build_put_on (FwBuilding *b)
{
  Rings r = { .b = b, .rings = g_array_new (FALSE, TRUE, sizeof (Ring)) };
  GArray *order = g_array_new (FALSE, TRUE, sizeof (FwBuiltRing));
  gather (&r);
  take_apart (&r, order);
  for (guint i = 0; i < r.rings->len; i++)
    if (!ring_nth (&r, i)->off)
      {
        g_array_append_val (order, ring_nth (&r, i)->ring);
        report (&r, ring_nth (&r, i));
      }
  b->build->n_rings = (int)order->len;
  b->build->rings = (FwBuiltRing *)(gpointer)g_array_free (order, FALSE);
  g_array_free (r.rings, TRUE);
}
