#include "cli/people.h"

#include <glib/gi18n.h>
#include <math.h>

#include "cli/cli.h"
#include "core/loadtrouble.h"
#include "doc/json.h"
#include "doc/words.h"

#define DEGREES (180 / G_PI)
#define MOST_BOUNCES 256

/* Of a hand that goes round with the handle, kg m^2. */
static double
hand_inertia (const FwMechanism *mech)
{
  double radius = mech->design->base.handle_mm / 1000;
  return FW_HAND_MASS_KG * radius * radius;
}

/* ---- Text ---- */

static void
centre_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech, FwLengths lengths)
{
  FwCentre c;
  if (!fw_centre_of_mass (turn, mech, &c))
    return;
  g_autofree char *mass = fw_cli_number (c.mass_g, "%.0f"), *low = fw_units_format (c.low_mm.z, FW_UNIT_MM, lengths, 1),
                  *high = fw_units_format (c.high_mm.z, FW_UNIT_MM, lengths, 1);
  g_autofree char *across = fw_units_format (c.high_mm.x - c.low_mm.x, FW_UNIT_MM, lengths, 1),
                  *along = fw_units_format (c.high_mm.y - c.low_mm.y, FW_UNIT_MM, lengths, 1);
  g_string_append_printf (out,
                          /* Translators: a weight, then lengths with their units. */
                          _ ("Everything but base and crank weighs %s g; its centre is %s to %s above the crank and "
                             "moves %s across and %s forward and back.\n"),
                          mass, low, high, across, along);
}

static void
hand_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwHand hand;
  if (!fw_hand (turn, mech, &hand))
    return;
  g_autofree char *peak = fw_cli_number (hand.peak_N, "%.3g"),
                  *at = fw_cli_number (hand.peak_crank * DEGREES, "%.0f");
  g_autofree char *back = fw_cli_number (hand.back_N, "%.3g"),
                  *back_at = fw_cli_number (hand.back_crank * DEGREES, "%.0f");
  g_string_append_printf (
      out,
      _ ("At the handle: pushes %s N at %s°, holds back %s N at %s° (light up to 22 N, hard from "
         "130 N).\n"),
      peak, at, back, back_at);
}

static void
motor_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwMotor motor;
  if (!fw_motor (turn, mech, &motor))
    return;
  g_autofree char *torque = fw_cli_number (motor.rated_Nm, "%.3g"),
                  *speed = fw_cli_number (motor.turns_per_minute, "%.4g");
  g_autofree char *margin = fw_cli_number (mech->design->drive.margin, "%.3g"),
                  *peak = fw_cli_number (motor.peak_W, "%.3g");
  g_autofree char *mean = fw_cli_number (motor.mean_W, "%.3g"),
                  *hold = fw_cli_number (motor.holding_Nm, "%.3g");
  g_string_append_printf (
      out,
      _ ("A motor: %s N m at %s turns/min (%s times what is needed), %s W at most and %s W in the "
         "mean, and must hold back %s N m.\n"),
      torque, speed, margin, peak, mean, hold);
}

static void
ripple_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwRipple ripple;
  if (!fw_ripple (turn, mech, hand_inertia (mech), &ripple))
    return;
  g_autofree char *low = fw_cli_number (ripple.low / turn->speed * 100, "%.0f");
  g_autofree char *high = fw_cli_number (ripple.high / turn->speed * 100, "%.0f");
  g_string_append_printf (
      out, _ ("Pushed evenly by hand, the crank runs at %s to %s percent of its mean speed.\n"),
      low, high);
}

static void
stand_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwStand stand;
  double peak, strength;
  if (fw_stand (turn, mech, &stand))
    {
      g_autofree char *tilt = fw_cli_number (stand.tilt_deg, "%.1f"),
                      *at = fw_cli_number (stand.tilt_crank * DEGREES, "%.0f");
      g_string_append_printf (out,
                              _ ("It tips on a slope of %s° (worst at %s° of the crank); 10° is "
                                 "the least held safe.\n"),
                              tilt, at);
    }
  if (fw_hanger (turn, mech, &peak, &strength))
    {
      g_autofree char *pull = fw_cli_number (peak, "%.3g"), *needed = fw_cli_number (strength, "%.3g");
      g_string_append_printf (out,
                              _ ("It pulls on what it hangs from with up to %s N; that must bear "
                                 "%s N before it breaks.\n"),
                              pull, needed);
    }
}

static void
bounce_text (GString *out, const FwBounce *b, const FwMechanism *mech, FwLengths lengths)
{
  g_autofree char *at = fw_cli_number (b->crank * DEGREES, "%.1f"),
                  *time = fw_cli_number (b->cross_s * 1000, "%.3g");
  g_autofree char *gap = fw_cli_length (b->gap_mm, "%.3g", lengths),
                  *speed = fw_cli_number (b->speed_mps, "%.3g");
  g_autofree char *energy = fw_cli_number (b->energy_J * 1000, "%.3g");
  const char *name = fw_words_part (mech, b->part);
  if (b->crosses)
    g_string_append_printf (out,
                            /* Translators: a joint, an angle, a length with its unit, a time, a speed, an energy. */
                            _ ("%s: its load changes sign at %s°, crosses %s of play in %s ms "
                               "and knocks with %s m/s, "
                               "%s mJ.\n"),
                            name, at, gap, time, speed, energy);
  else
    g_string_append_printf (
        out,
        _ ("%s: its load changes sign at %s° and back; it lands again after %s ms with %s m/s, "
           "%s mJ.\n"),
        name, at, time, speed, energy);
}

void
fw_cli_people_text (GString *out, const FwLoadTurn *turn, const FwMechanism *mech, FwLengths lengths)
{
  g_string_append (out, "\n");
  centre_text (out, turn, mech, lengths);
  hand_text (out, turn, mech);
  motor_text (out, turn, mech);
  ripple_text (out, turn, mech);
  stand_text (out, turn, mech);
  FwBounce *bounces = g_new (FwBounce, MOST_BOUNCES);
  int n = fw_bounces (turn, mech, bounces, MOST_BOUNCES);
  for (int i = 0; i < MIN (n, MOST_BOUNCES); i++)
    bounce_text (out, &bounces[i], mech, lengths);
  g_free (bounces);
}

/* ---- JSON ---- */

typedef struct
{
  const char *key;
  double value;
} Field;

/* Numbers that are not known are null. */
static cJSON *
fields (const Field *list, int n)
{
  cJSON *item = cJSON_CreateObject ();
  for (int i = 0; i < n; i++)
    {
      cJSON_AddItemToObject (item, list[i].key, fw_json_number (list[i].value));
    }
  return item;
}

static cJSON *
bounce_json (const FwBounce *b, const FwMechanism *mech)
{
  const Field list[] = { { "sign_deg", b->crank * DEGREES },
                         { "knock_deg", b->knock * DEGREES },
                         { "gap_mm", b->gap_mm },
                         { "cross_s", b->cross_s },
                         { "speed_mps", b->speed_mps },
                         { "energy_J", b->energy_J },
                         { "mass_kg", b->mass_kg },
                         { "before", b->before },
                         { "after", b->after } };
  cJSON *item = fields (list, G_N_ELEMENTS (list));
  cJSON_AddStringToObject (item, "part", fw_part_name (mech, b->part));
  cJSON_AddBoolToObject (item, "crosses", b->crosses);
  return item;
}

static cJSON *
centre_json (const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwCentre c;
  if (!fw_centre_of_mass (turn, mech, &c))
    return cJSON_CreateNull ();
  const Field list[] = { { "mass_g", c.mass_g },       { "x_from_mm", c.low_mm.x }, { "x_to_mm", c.high_mm.x },
                         { "y_from_mm", c.low_mm.y },  { "y_to_mm", c.high_mm.y },  { "z_from_mm", c.low_mm.z },
                         { "z_to_mm", c.high_mm.z } };
  return fields (list, G_N_ELEMENTS (list));
}

static cJSON *
hand_json (const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwHand h;
  if (!fw_hand (turn, mech, &h))
    return cJSON_CreateNull ();
  const Field list[] = { { "peak_N", h.peak_N },
                         { "peak_deg", h.peak_crank * DEGREES },
                         { "back_N", h.back_N },
                         { "back_deg", h.back_crank * DEGREES },
                         { "mean_N", h.mean_N } };
  return fields (list, G_N_ELEMENTS (list));
}

static cJSON *
motor_json (const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwMotor m;
  if (!fw_motor (turn, mech, &m))
    return cJSON_CreateNull ();
  const Field list[] = { { "torque_Nm", m.torque_Nm },   { "rated_Nm", m.rated_Nm },
                         { "holding_Nm", m.holding_Nm }, { "turns_per_minute", m.turns_per_minute },
                         { "mean_W", m.mean_W },         { "peak_W", m.peak_W } };
  return fields (list, G_N_ELEMENTS (list));
}

static cJSON *
ripple_json (const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwRipple r;
  double hand = hand_inertia (mech);
  if (!fw_ripple (turn, mech, hand, &r))
    return cJSON_CreateNull ();
  const Field list[] = { { "hand_kgm2", hand },
                         { "energy_J", r.energy_J },
                         { "coefficient", r.coefficient },
                         { "flywheel_coefficient", r.flywheel },
                         { "low_radps", r.low },
                         { "high_radps", r.high } };
  return fields (list, G_N_ELEMENTS (list));
}

static cJSON *
stand_json (const FwLoadTurn *turn, const FwMechanism *mech)
{
  FwStand s;
  if (!fw_stand (turn, mech, &s))
    return cJSON_CreateNull ();
  const Field list[] = { { "tilt_deg", s.tilt_deg },
                         { "tilt_at_deg", s.tilt_crank * DEGREES },
                         { "margin_mm", s.margin_mm },
                         { "margin_at_deg", s.margin_crank * DEGREES } };
  return fields (list, G_N_ELEMENTS (list));
}

static cJSON *
hanger_json (const FwLoadTurn *turn, const FwMechanism *mech)
{
  double peak, strength;
  if (!fw_hanger (turn, mech, &peak, &strength))
    return cJSON_CreateNull ();
  const Field list[] = { { "peak_N", peak }, { "strength_N", strength } };
  return fields (list, G_N_ELEMENTS (list));
}

void
fw_cli_people_json (cJSON *object, const FwLoadTurn *turn, const FwMechanism *mech)
{
  cJSON_AddItemToObject (object, "centre_of_mass", centre_json (turn, mech));
  cJSON_AddItemToObject (object, "hand", hand_json (turn, mech));
  cJSON_AddItemToObject (object, "motor", motor_json (turn, mech));
  cJSON_AddItemToObject (object, "ripple", ripple_json (turn, mech));
  cJSON_AddItemToObject (object, "stand", stand_json (turn, mech));
  cJSON_AddItemToObject (object, "hanger", hanger_json (turn, mech));
  cJSON *array = cJSON_AddArrayToObject (object, "bounces");
  FwBounce *bounces = g_new (FwBounce, MOST_BOUNCES);
  int n = fw_bounces (turn, mech, bounces, MOST_BOUNCES);
  for (int i = 0; i < MIN (n, MOST_BOUNCES); i++)
    cJSON_AddItemToArray (array, bounce_json (&bounces[i], mech));
  g_free (bounces);
}
