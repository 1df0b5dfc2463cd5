#include "doc/loadwords.h"

#include <math.h>

#include <glib/gi18n.h>

FwPart
fw_load_quantity_part (const FwMechanism *mech, FwQuantity q)
{
  const FwPart crank = { FW_PART_CRANK, 0 }, body = { FW_PART_BODY, 0 };
  switch (q.kind)
    {
    case FW_Q_FORCE:
      return (FwPart){ FW_PART_LINK, q.index };
    case FW_Q_HINGE:
    case FW_Q_SWING:
      return (FwPart){ FW_PART_MEMBER, q.index };
    case FW_Q_GUIDE:
    case FW_Q_FOOT:
      return body;
    case FW_Q_STRESS:
    case FW_Q_SAG:
      if (q.index < 2)
        return q.index == 0 ? crank : body;
      if (q.index < 2 + mech->n_links)
        return (FwPart){ FW_PART_LINK, q.index - 2 };
      return (FwPart){ FW_PART_MEMBER, q.index - 2 - mech->n_links };
    default:
      return crank;
    }
}

int
fw_stress_index (const FwMechanism *mech, FwPart part)
{
  switch (part.kind)
    {
    case FW_PART_BODY:
      return 1;
    case FW_PART_LINK:
      return 2 + part.index;
    case FW_PART_MEMBER:
      return 2 + mech->n_links + part.index;
    default:
      return 0;
    }
}

char *
fw_words_pin (const FwMechanism *mech, int pin)
{
  const FwThrow *t = &mech->design->crank.throws[mech->pins[pin].throw_index];
  gboolean twins = t->both && mech->design->crank.runs == FW_RUNS_ACROSS;
  return g_strconcat (t->name, !twins ? "" : mech->pins[pin].twin ? ".left" : ".right", NULL);
}

static const char *
guide_words (FwRide ride)
{
  return ride == FW_RIDE_SLEEVE   ? _ ("Force of the guide")
         : ride == FW_RIDE_ROCKER ? _ ("Force of the link")
                                  : _ ("Force of the slide");
}

static char *
bend_words (const FwMechanism *mech, FwQuantity q)
{
  FwPart part = fw_load_quantity_part (mech, q);
  gboolean stress = q.kind == FW_Q_STRESS;
  if (part.kind == FW_PART_CRANK)
    return g_strdup (stress ? _ ("Stress in the crank") : _ ("Lag of the crank pins"));
  if (part.kind == FW_PART_BODY)
    return g_strdup (stress ? _ ("Stress in the post") : _ ("Sag of the post"));
  const char *name = part.kind == FW_PART_LINK ? mech->links[part.index].name
                                               : mech->members[part.index].name;
  return g_strdup_printf (stress ? _ ("Stress in %s") : _ ("Sag of %s"), name);
}

char *
fw_words_load_quantity (const FwMechanism *mech, FwQuantity q)
{
  switch (q.kind)
    {
    case FW_Q_TORQUE:
      return g_strdup (_ ("Crank torque"));
    case FW_Q_HANDLE:
      return g_strdup (_ ("Force at the handle"));
    case FW_Q_FORCE:
      return g_strdup_printf (_ ("Force of %s"), mech->links[q.index].name);
    case FW_Q_GUIDE:
      return g_strdup (guide_words (mech->design->body.ride));
    case FW_Q_FOOT:
      return g_strdup (_ ("Load on the post's foot"));
    case FW_Q_HINGE:
      return g_strdup_printf (_ ("Load on the hinge of %s"), mech->members[q.index].name);
    case FW_Q_PIN:
      {
        g_autofree char *pin = fw_words_pin (mech, q.index);
        return g_strdup_printf (_ ("Load on pin %s"), pin);
      }
    case FW_Q_BEARING:
      return g_strdup_printf (_ ("Load on bearing %d"), q.index + 1);
    case FW_Q_STRESS:
    case FW_Q_SAG:
      return bend_words (mech, q);
    case FW_Q_SWING:
      return g_strdup_printf (_ ("Swing of %s"), mech->members[q.index].name);
    default:
      return g_strdup ("");
    }
}

FwUnit
fw_words_load_quantity_unit (FwQuantity q, double *factor)
{
  *factor = q.kind == FW_Q_STRESS ? 1e-6 : q.kind == FW_Q_SAG ? 1e3 : q.kind == FW_Q_SWING ? 180 / G_PI : 1;
  switch (q.kind)
    {
    case FW_Q_TORQUE:
      return FW_UNIT_NM;
    case FW_Q_STRESS:
      return FW_UNIT_MPA;
    case FW_Q_SAG:
      return FW_UNIT_MM;
    case FW_Q_SWING:
      return FW_UNIT_DEG;
    default:
      return FW_UNIT_N;
    }
}

int
fw_load_digits (double size)
{
  static const double marks[4] = { 99.95, 9.995, 0.9995, 0.09995 };
  size = fabs (size);
  for (int i = 0; i < 4; i++)
    if (size >= marks[i])
      return i;
  return size > 1e-7 ? (int)fmin (1 - floor (log10 (size)), 7) : 3;
}

/* ---- Bounce points ---- */

static char *
joint_words (const FwMechanism *mech, FwPart part)
{
  if (part.kind == FW_PART_LINK)
    return g_strdup_printf (_ ("The joints of %s"), mech->links[part.index].name);
  if (part.kind == FW_PART_MEMBER)
    return g_strdup_printf (_ ("The hinge of %s"), mech->members[part.index].name);
  FwRide ride = mech->design->body.ride;
  return g_strdup (ride == FW_RIDE_SLEEVE   ? _ ("The post in its guide")
                   : ride == FW_RIDE_ROCKER ? _ ("The link of the post")
                                            : _ ("The body in its slide"));
}

char *
fw_words_bounce (const FwMechanism *mech, const FwBounce *b, gboolean worn, FwLengths lengths)
{
  g_autofree char *joint = joint_words (mech, b->part);
  g_autofree char *turns = fw_units_format (b->crank * 180 / G_PI, FW_UNIT_DEG, lengths, 1);
  g_autofree char *lands = fw_units_format (b->knock * 180 / G_PI, FW_UNIT_DEG, lengths, 1);
  g_autofree char *gap = fw_units_format (b->gap_mm, FW_UNIT_MM, lengths, 2);
  g_autofree char *speed = fw_units_format (b->speed_mps, FW_UNIT_MPS, lengths, -1);
  g_autofree char *energy = fw_units_format (b->energy_J * 1000, FW_UNIT_NONE, lengths, 2);
  if (!b->crosses)
    return g_strdup_printf (_ ("%s: the load turns round at %s of the crank but turns back before "
                               "it has crossed the gap of %s."),
                            joint, turns, gap);
  if (worn)
    return g_strdup_printf (_ ("%s: no play, no knock. The load turns round at %s of the crank: "
                               "once worn by %s it would knock at %s with %s, %s mJ."),
                            joint, turns, gap, lands, speed, energy);
  return g_strdup_printf (_ ("%s: the load turns round at %s of the crank, crosses the gap of %s "
                             "and knocks at %s with %s, %s mJ."),
                          joint, turns, gap, lands, speed, energy);
}
