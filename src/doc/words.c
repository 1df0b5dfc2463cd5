/* Trouble, remedies and quantities in sentences. */
#include "doc/words.h"

#include <math.h>

#include <glib/gi18n.h>

#include "doc/document.h"
#include "doc/loadwords.h"

#define RAD_TO_DEG (180 / G_PI)

/* ---- Numbers and parts inside sentences ---- */

/* A value as a sentence shows it: 30° rather than 30.0°, and 0.04 mm rather than 0.0 mm. */
static char *
show (double value, FwUnit unit, FwLengths lengths)
{
  double tenths = round (value * 10);
  int digits = unit == FW_UNIT_MPS || unit == FW_UNIT_J ? -1 /* small by nature: the unit's own digits */
               : fabs (value) < 0.95 && fabs (value) >= 0.005 ? 2 : fmod (tenths, 10) == 0 ? 0 : 1;

  return fw_units_format (value, unit, lengths, digits);
}

/* Parts without a name of the maker's own, as the one that acts in a sentence. A name of the maker's own
 * stands without an article: "inrod pushes inner weakly". */
static const char *
subject (const FwMechanism *mechanism, FwPart part)
{
  switch (part.kind)
    {
    case FW_PART_BODY:
      return C_("subject", "The body");
    case FW_PART_CRANK:
      return C_("subject", "The crank");
    case FW_PART_BASE:
      return C_("subject", "The base plate");
    case FW_PART_FLOOR:
      return C_("subject", "The floor");
    case FW_PART_MEMBER:
    case FW_PART_LINK:
    case FW_PART_SPRING:
    case FW_PART_WEIGHT:
    default:
      return fw_part_name (mechanism, part);
    }
}

/* The same as the one that is met. */
static const char *
object (const FwMechanism *mechanism, FwPart part)
{
  switch (part.kind)
    {
    case FW_PART_BODY:
      return C_("object", "the body");
    case FW_PART_CRANK:
      return C_("object", "the crank");
    case FW_PART_BASE:
      return C_("object", "the base plate");
    case FW_PART_FLOOR:
      return C_("object", "the floor");
    case FW_PART_MEMBER:
    case FW_PART_LINK:
    case FW_PART_SPRING:
    case FW_PART_WEIGHT:
    default:
      return fw_part_name (mechanism, part);
    }
}

const char *
fw_words_part (const FwMechanism *mechanism, FwPart part)
{
  switch (part.kind)
    {
    case FW_PART_BODY:
      return C_("part", "body");
    case FW_PART_CRANK:
      return part.index > 0 ? fw_part_name (mechanism, part) : C_("part", "crank");
    case FW_PART_BASE:
      return C_("part", "base");
    case FW_PART_FLOOR:
      return C_("part", "floor");
    case FW_PART_MEMBER:
    case FW_PART_LINK:
    case FW_PART_SPRING:
    case FW_PART_WEIGHT:
    default:
      return fw_part_name (mechanism, part);
    }
}

/* The rod and the panel of a trouble that is about both; "" where a panel has no rod. */
static const char *
rod_name (const FwMechanism *mechanism, FwPart part)
{
  if (part.kind == FW_PART_LINK)
    return mechanism->links[part.index].name;
  int rod = part.kind == FW_PART_MEMBER ? mechanism->members[part.index].rod : -1;
  return rod < 0 ? "" : mechanism->links[rod].name;
}

static const char *
panel_name (const FwMechanism *mechanism, FwPart part)
{
  if (part.kind == FW_PART_LINK)
    return mechanism->members[mechanism->links[part.index].member].name;
  return part.kind == FW_PART_MEMBER ? mechanism->members[part.index].name : "";
}

/* ---- What is wrong, and what it means at the bench ---- */

static char *
say_cannot_close (const FwMechanism *mechanism, const FwTrouble *t, FwLengths lengths)
{
  char *missing = show (fabs (t->value), t->unit, lengths);
  char *text;

  if (t->part.kind == FW_PART_BODY)
    text = g_strdup_printf (
        t->value > 0 ? _("The body cannot be assembled: what carries it is %s too short, so "
                          "the crank stops there or something breaks.")
                     : _("The body cannot be assembled: what carries it is %s too long, so "
                          "the crank stops there or something breaks."),
        missing);
  else
    text = g_strdup_printf (
        t->value > 0 ? _("%s cannot be joined to %s: it is %s too short, so the crank stops "
                          "there or something breaks.")
                     : _("%s cannot be joined to %s: it is %s too long, so the crank stops "
                          "there or something breaks."),
        rod_name (mechanism, t->part), panel_name (mechanism, t->part), missing);
  g_free (missing);
  return text;
}

static char *
say_snap (const FwMechanism *mechanism, const FwTrouble *t)
{
  const char *part = subject (mechanism, t->part);

  return g_strdup_printf (
      t->second ? _("%s starts and stops in a jerk: its sharpest change of speed is "
                     "%.1f times the usual one, more than %.1f, which knocks and wears "
                     "the joints.")
                : _("%s moves in a snap: its greatest speed is %.1f times the usual one, "
                     "more than %.1f, which knocks and wears the joints."),
      part, t->value, t->limit);
}

static char *
say_hits (const FwMechanism *mechanism, const FwTrouble *t, FwLengths lengths)
{
  const char *part = subject (mechanism, t->part);
  char *depth = show (fabs (t->value), t->unit, lengths);
  char *text;

  if (t->has_other)
    text = g_strdup_printf (
        _("%s runs into %s: they overlap by %s there, so one of them must move or be cut back."),
        part, object (mechanism, t->other), depth);
  else
    text = g_strdup_printf (_("%s runs into something by %s and must move or be cut back."), part,
                            depth);
  g_free (depth);
  return text;
}

static char *
say_push (const FwMechanism *mechanism, const FwTrouble *t, const char *value, const char *limit)
{
  if (t->severity == FW_REMARK)
    return g_strdup_printf (
        _("%s pushes %s at %s only: it works, but below %s play and friction begin "
           "to tell."),
        rod_name (mechanism, t->part), panel_name (mechanism, t->part), value, limit);
  return g_strdup_printf (
      _("%s pushes %s weakly, at %s: %s is the least that moves it surely, and below it "
         "the joint sticks or gives."),
      rod_name (mechanism, t->part), panel_name (mechanism, t->part), value, limit);
}

/* What forces do. Where it can hurt someone, the sentence says what to heed. */
static char *
say_load (const FwMechanism *mechanism, const FwTrouble *t, const char *value, const char *limit)
{
  const char *part = subject (mechanism, t->part);

  switch (t->kind)
    {
    case FW_LOAD_REVERSAL:
      if (t->severity >= FW_WARNING)
        return g_strdup_printf (_("%s knocks across its play when the load on it changes sign, with %s a blow: "
                                  "more than %s wears the joint loose."),
                                part, value, limit);
      return g_strdup_printf (_("%s knocks across its play when the load on it changes sign, at %s: from about %s "
                                "it is heard."),
                              part, value, limit);
    case FW_OVER_RUN:
      return g_strdup_printf (_("The crank runs ahead of the hand and must be held back with %s at the handle: "
                                "beyond %s it no longer turns lightly."),
                              value, limit);
    case FW_MAY_BUCKLE:
      return g_strdup_printf (_("%s may bow out and buckle: it is pushed with %s and bears %s."), part, value,
                              limit);
    case FW_RESONANCE:
      return g_strdup_printf (_("%s may swing up by itself: it springs at %s, close to %s in the motion."), part,
                              value, limit);
    case FW_OVER_STRESS:
      return g_strdup_printf (_("%s is stressed to %s, and its material bears %s: it bends for good or breaks."),
                              part, value, limit);
    case FW_MAY_TIP:
      return g_strdup_printf (
          t->value > 0 ? _("It tips over when the floor slopes by %s; %s is the least that is held safe. Widen or "
                           "weigh down the plate, or fix it, and keep people clear: local codes come first.")
                       : _("It tips over by itself, at %s of slope; %s is the least that is held safe. Widen or "
                           "weigh down the plate, or fix it, and keep people clear: local codes come first."),
          value, limit);
    case FW_SELF_LOCKS:
      return g_strdup_printf (_("%s locks itself by friction: its joints take %s for each 1 of force in it, and below "
                                "%s it moves. A thinner pin, less friction or a steadier push frees it."),
                              part, value, limit);
    case FW_SLAMS:
      if (t->severity >= FW_WARNING)
        return g_strdup_printf (_("%s slams onto its stop, with %s a blow: more than %s breaks glue and hinges in time. "
                                  "Turn more slowly, bring the stop nearer, or pad it."),
                                part, value, limit);
      return g_strdup_printf (_("%s slaps onto its stop, its tip at %s: from about %s it claps at every turn."), part,
                              value, limit);
    case FW_PINCH:
    default:
      return g_strdup_printf (_("%s and %s close to %s while it turns: below %s a finger is caught. Guard it, or "
                                "leave more room; local codes come first."),
                              part, object (mechanism, t->other), value, limit);
    }
}

/* What cannot be made. */
static char *
say_making (const FwMechanism *mechanism, const FwTrouble *t, const char *value, const char *limit)
{
  const char *part = fw_part_name (mechanism, t->part);
  const char *other = t->has_other ? fw_part_name (mechanism, t->other) : "";
  gboolean handle = t->part.kind == FW_PART_CRANK && t->part.index == 0;

  if (t->kind == FW_THROW_TOO_SHORT && handle)
    return g_strdup_printf (_("The handle's arm is %s from centre to centre, but the way the crank is made needs %s."),
                            value, limit);
  if (t->kind == FW_THROW_TOO_SHORT)
    return t->has_other
               ? g_strdup_printf (_("The web from throw %s to %s is %s from centre to centre, but the way the crank is "
                                    "made needs %s."),
                                  part, other, value, limit)
               : g_strdup_printf (_("Throw %s is %s, but the shortest that can be made this way is %s."), part, value,
                                  limit);
  if (t->kind == FW_THROWS_COLLIDE && t->has_other && t->other.kind == FW_PART_BASE && t->value < 0)
    return g_strdup_printf (_("A bearing stands within the fittings of %s, by %s along the axis, but needs %s to either "
                              "side."),
                            handle ? _("the crank") : part, value, limit);
  if (t->kind == FW_THROWS_COLLIDE && t->has_other && t->other.kind == FW_PART_BASE)
    return g_strdup_printf (_("A bearing stands %s from the fittings of %s along the axis and needs %s to either side."),
                            value, handle ? _("the crank") : part, limit);
  if (t->kind == FW_THROWS_COLLIDE && t->has_other && t->value < 0)
    return g_strdup_printf (_("Throws %s and %s overlap by %s along the axis, but their webs and fittings need %s of "
                              "room between them."),
                            part, other, value, limit);
  if (t->kind == FW_THROWS_COLLIDE)
    return t->has_other
               ? g_strdup_printf (_("Between throws %s and %s there are %s of room along the axis, but their webs and "
                                    "fittings need %s."),
                                  part, other, value, limit)
               : g_strdup_printf (_("The pin of throw %s has %s of clear length, but what turns on it needs %s."), part,
                                  value, limit);
  if (t->part.kind == FW_PART_BASE)
    return t->limit > t->value
               ? g_strdup_printf (_("A closed bearing cannot be put on the crank: its bore is %s, and it would have to be "
                                    "%s to pass the bends. Let it open, or make the crank of pieces."),
                                  value, limit)
               : g_strdup (_("A closed bearing cannot be put on the crank: it does not pass the bends, whatever its bore, "
                             "or another ring is in its way. Let it open, or make the crank of pieces."));
  return t->limit > t->value
             ? g_strdup_printf (_("%s cannot be put on its throw: the bore of its eye is %s, and it would have to be %s to "
                                  "pass the bends. Let it open, or make the crank of pieces."),
                                subject (mechanism, t->part), value, limit)
             : g_strdup_printf (_("%s cannot be put on its throw: a closed eye does not pass the bends, whatever its bore, "
                                  "or another ring is in its way. Let it open, or make the crank of pieces."),
                                subject (mechanism, t->part));
}

static char *
say_what (const FwMechanism *mechanism, const FwTrouble *t, FwLengths lengths)
{
  gboolean overlap = t->kind == FW_THROWS_COLLIDE && t->has_other && t->value < 0;
  char *value = show (overlap ? -t->value : t->value, t->unit, lengths);
  char *limit = show (t->limit, t->unit, lengths);
  char *text = NULL;

  switch (t->kind)
    {
    case FW_CANNOT_CLOSE:
      text = say_cannot_close (mechanism, t, lengths);
      break;
    case FW_PAST_STOP:
      text = g_strdup_printf (
          _("%s is driven to %s, but its stop stands at %s: it jams against the stop."),
          panel_name (mechanism, t->part), value, limit);
      break;
    case FW_WEAK_PUSH:
      text = say_push (mechanism, t, value, limit);
      break;
    case FW_MAY_FLIP:
      text = g_strdup_printf (
          _("%s comes within %s of folding over to its other position (%s is safe) and no "
             "stop bars the way: a knock can flip it."),
          panel_name (mechanism, t->part), value, limit);
      break;
    case FW_SNAP:
      text = say_snap (mechanism, t);
      break;
    case FW_LEAN_LIMIT:
      text = g_strdup_printf (
          _("%s leans %s out of the crank's plane, but its lower fitting allows %s: it "
             "binds there."),
          rod_name (mechanism, t->part), value, limit);
      break;
    case FW_BEND_LIMIT:
      text
          = g_strdup_printf (_("%s bends %s at its upper joint, which allows %s: it binds there."),
                             rod_name (mechanism, t->part), value, limit);
      break;
    case FW_HITS:
      text = say_hits (mechanism, t, lengths);
      break;
    case FW_LEAVES_GUIDE:
      text = g_strdup_printf (
          _("The post slips out of its guide: it is %s too short to reach through."), value);
      break;
    case FW_LOAD_REVERSAL:
    case FW_OVER_RUN:
    case FW_MAY_BUCKLE:
    case FW_RESONANCE:
    case FW_OVER_STRESS:
    case FW_MAY_TIP:
    case FW_PINCH:
    case FW_SELF_LOCKS:
    case FW_SLAMS:
      text = say_load (mechanism, t, value, limit);
      break;
    case FW_THROW_TOO_SHORT:
    case FW_THROWS_COLLIDE:
    case FW_NO_WAY_IN:
      text = say_making (mechanism, t, value, limit);
      break;
    case FW_N_TROUBLE_KINDS:
    default:
      text = g_strdup ("");
    }
  g_free (value);
  g_free (limit);
  return text;
}

/* ---- Where in the turn ---- */

/* A crank angle, 0 to below 360 degrees. */
static char *
show_crank (double rad)
{
  double deg = fmod (rad * RAD_TO_DEG, 360);
  if (deg < 0)
    deg += 360;
  if (deg >= 359.95)
    deg = 0;
  return show (deg, FW_UNIT_DEG, FW_LENGTHS_MM);
}

static char *
say_where (const FwTrouble *t)
{
  double width = (t->to - t->from) * RAD_TO_DEG;
  char *from = show_crank (t->from), *to = show_crank (t->to), *worst = show_crank (t->worst);
  char *text;

  if (width >= 359.95)
    text = g_strdup_printf (_("This is so all the turn, worst at %s of the crank."), worst);
  else if (width < 0.05)
    text = g_strdup_printf (_("This is at %s of the crank."), worst);
  else
    text
        = g_strdup_printf (_("This is from %s to %s of the crank, worst at %s."), from, to, worst);
  g_free (from);
  g_free (to);
  g_free (worst);
  return text;
}

gboolean
fw_words_trouble_has_angle (FwTroubleKind kind)
{
  return kind < FW_THROW_TOO_SHORT || kind > FW_NO_WAY_IN;
}

char *
fw_words_trouble (const FwMechanism *mechanism, const FwTrouble *trouble, FwLengths lengths)
{
  char *what = say_what (mechanism, trouble, lengths);
  if (!fw_words_trouble_has_angle (trouble->kind))
    return what;
  char *where = say_where (trouble);
  char *text = g_strdup_printf (C_("two sentences", "%s %s"), what, where);

  g_free (what);
  g_free (where);
  return text;
}

const char *
fw_words_trouble_short (FwTroubleKind kind)
{
  switch (kind)
    {
    case FW_CANNOT_CLOSE:
      return C_("kind of trouble", "cannot close");
    case FW_PAST_STOP:
      return C_("kind of trouble", "past its stop");
    case FW_WEAK_PUSH:
      return C_("kind of trouble", "weak push");
    case FW_MAY_FLIP:
      return C_("kind of trouble", "may flip");
    case FW_SNAP:
      return C_("kind of trouble", "snap");
    case FW_LEAN_LIMIT:
      return C_("kind of trouble", "leans too far");
    case FW_BEND_LIMIT:
      return C_("kind of trouble", "bends too far");
    case FW_HITS:
      return C_("kind of trouble", "hits");
    case FW_LEAVES_GUIDE:
      return C_("kind of trouble", "leaves its guide");
    case FW_LOAD_REVERSAL:
      return C_("kind of trouble", "knocks");
    case FW_OVER_RUN:
      return C_("kind of trouble", "runs ahead");
    case FW_MAY_BUCKLE:
      return C_("kind of trouble", "may buckle");
    case FW_RESONANCE:
      return C_("kind of trouble", "resonance");
    case FW_OVER_STRESS:
      return C_("kind of trouble", "over-stressed");
    case FW_MAY_TIP:
      return C_("kind of trouble", "may tip over");
    case FW_PINCH:
      return C_("kind of trouble", "pinches");
    case FW_SELF_LOCKS:
      return C_("kind of trouble", "locks itself");
    case FW_SLAMS:
      return C_("kind of trouble", "slams");
    case FW_THROW_TOO_SHORT:
      return C_("kind of trouble", "throw too short");
    case FW_THROWS_COLLIDE:
      return C_("kind of trouble", "throws collide");
    case FW_NO_WAY_IN:
      return C_("kind of trouble", "no way in");
    case FW_N_TROUBLE_KINDS:
    default:
      return "";
    }
}

/* ---- Remedies ---- */

char *
fw_words_remedy (const FwDesign *design, const FwRemedy *remedy, FwLengths lengths)
{
  FwUnit unit = fw_param_unit (remedy->param);
  char *from = show (remedy->from, unit, lengths), *to = show (remedy->to, unit, lengths);
  char *text;

  if (remedy->param.kind == FW_PARAM_ROD_LENGTH)
    text = g_strdup_printf (remedy->to > remedy->from ? _("Lengthen %s from %s to %s")
                                                      : _("Shorten %s from %s to %s"),
                            design->rods[remedy->param.index].name, from, to);
  else
    {
      char *label = fw_param_label (design, remedy->param);
      /* Translators: the name of a number, its value now and the value that mends a trouble. */
      text = g_strdup_printf (_("%s: %s to %s"), label, from, to);
      g_free (label);
    }
  g_free (from);
  g_free (to);
  return text;
}

/* ---- Units and quantities ---- */

const char *
fw_words_unit (FwUnit unit)
{
  switch (unit)
    {
    case FW_UNIT_MM:
      return "mm";
    case FW_UNIT_DEG:
      return "deg";
    case FW_UNIT_G:
      return "g";
    case FW_UNIT_TURNS_PER_MINUTE:
      return "turns/min";
    case FW_UNIT_PER_RAD:
      return "rad/rad";
    case FW_UNIT_PER_RAD2:
      return "rad/rad2";
    case FW_UNIT_N:
      return "N";
    case FW_UNIT_NM:
      return "N m";
    case FW_UNIT_MPA:
      return "MPa";
    case FW_UNIT_HZ:
      return "Hz";
    case FW_UNIT_J:
      return "J";
    case FW_UNIT_MPS:
      return "m/s";
    case FW_UNIT_NPMM:
      return "N/mm";
    case FW_UNIT_NONE:
    default:
      return "ratio";
    }
}

char *
fw_words_quantity (const FwMechanism *mechanism, FwQuantity quantity)
{
  static const char *const body[] = { N_("Body shift"), N_("Body height"), N_("Body tilt") };
  int i = quantity.index;

  switch (quantity.kind)
    {
    case FW_Q_BODY_H:
    case FW_Q_BODY_Z:
    case FW_Q_BODY_TILT:
      return g_strdup (_(body[quantity.kind - FW_Q_BODY_H]));
    case FW_Q_ANGLE:
      return g_strdup_printf (_("Angle of %s"), mechanism->members[i].name);
    case FW_Q_RATE:
      return g_strdup_printf (_("Rate of %s"), mechanism->members[i].name);
    case FW_Q_RATE2:
      return g_strdup_printf (_("Change of rate of %s"), mechanism->members[i].name);
    case FW_Q_OTHER_ROOT:
      return g_strdup_printf (_("Turn to the other position of %s"), mechanism->members[i].name);
    case FW_Q_PUSH:
      return g_strdup_printf (_("Push of %s"), mechanism->links[i].name);
    case FW_Q_LEAN:
      return g_strdup_printf (_("Lean of %s"), mechanism->links[i].name);
    case FW_Q_BEND:
      return g_strdup_printf (_("Bend of %s"), mechanism->links[i].name);
    default:
      return fw_words_load_quantity (mechanism, quantity);
    }
}

FwUnit
fw_words_quantity_unit (FwQuantity quantity, double *factor)
{
  *factor = 1;
  switch (quantity.kind)
    {
    case FW_Q_BODY_H:
    case FW_Q_BODY_Z:
      return FW_UNIT_MM;
    case FW_Q_RATE:
      return FW_UNIT_PER_RAD;
    case FW_Q_RATE2:
      return FW_UNIT_PER_RAD2;
    case FW_Q_BODY_TILT:
    case FW_Q_ANGLE:
    case FW_Q_OTHER_ROOT:
    case FW_Q_PUSH:
    case FW_Q_LEAN:
    case FW_Q_BEND:
      *factor = RAD_TO_DEG;
      return FW_UNIT_DEG;
    default:
      return fw_words_load_quantity_unit (quantity, factor);
    }
}
