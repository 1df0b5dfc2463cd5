#include "cli/swing.h"

#include <glib/gi18n.h>
#include <math.h>

#include "cli/cli.h"
#include "doc/json.h"

#define DEGREES (180 / G_PI)
#define STEPS 360
#define MOST_BLOWS 24 /* printed of one panel */

FwSwings *
fw_cli_swing_new (const FwMechanism *mech, double speed)
{
  FwSwings *swing = fw_swing_new (mech, STEPS);
  if (swing == NULL || fw_swing_solve (swing, speed, NULL, NULL) != FW_SWING_OK)
    g_error ("out of memory");
  return swing;
}

static gboolean
hangs (const FwSwings *s, int member)
{
  return s->members[member].fate != FW_FATE_DRIVEN;
}

/* ---- Text ---- */

/* How it comes back, or why it cannot be said; NULL: it is said with the angles. */
static char *
fate_sentence (const FwSwingMember *m)
{
  g_autofree char *at = fw_cli_number (m->at * DEGREES, "%.1f"), *spread = fw_cli_number (m->spread * DEGREES, "%.3g");
  switch (m->fate)
    {
    case FW_FATE_REPEATS:
      if (m->period == 1)
        return g_strdup_printf (_("It does the same every turn, from turn %d on."), m->turns);
      return g_strdup_printf (ngettext ("It does the same every %d turn, from turn %d on.",
                                        "It does the same every %d turns, from turn %d on.", (gulong)m->period),
                              m->period, m->turns);
    case FW_FATE_UNSETTLED:
      return g_strdup_printf (ngettext ("It does not settle within %d turn: its angle at 0° still spreads over %s°.",
                                        "It does not settle within %d turns: its angle at 0° still spreads over %s°.",
                                        (gulong)m->turns),
                              m->turns, spread);
    case FW_FATE_STILL:
      return g_strdup (_("The crank stands, and it rests."));
    case FW_FATE_OPEN:
      return g_strdup_printf (_("What carries it cannot be assembled at %s°, so that its motion cannot be said."), at);
    case FW_FATE_BINDS:
      return g_strdup_printf (_("It swings to where something it drives cannot be assembled, at %s° of the crank."), at);
    case FW_FATE_LOST:
    default:
      return g_strdup (_("It swings or bounces too often in a turn to be followed."));
    }
}

static void
say_range (GString *out, const FwSwings *s, int member)
{
  const FwSwingMember *m = &s->members[member];
  if (m->on_low || m->on_high)
    {
      g_string_append (out, m->on_low ? _("    It lies on its lower stop all the time.\n")
                                      : _("    It lies on its upper stop all the time.\n"));
      return;
    }
  g_autofree char *low = fw_cli_number (m->least.value * DEGREES, "%.1f"), *low_at = fw_cli_number (m->least.crank * DEGREES, "%.0f");
  g_autofree char *high = fw_cli_number (m->greatest.value * DEGREES, "%.1f"),
                  *high_at = fw_cli_number (m->greatest.crank * DEGREES, "%.0f");
  g_autofree char *astray = fw_cli_number (m->astray * DEGREES, "%.1f"), *at = fw_cli_number (m->astray_at * DEGREES, "%.0f");
  g_string_append_printf (out,
                          _("    From %s° (crank at %s°) to %s° (crank at %s°); up to %s° from where it would rest, "
                            "at %s°.\n"),
                          low, low_at, high, high_at, astray, at);
}

static void
say_blows (GString *out, const FwSwings *s, int member)
{
  int said = 0, more = 0;
  for (int i = 0; i < s->n_blows; i++)
    {
      const FwSwingBlow *b = &s->blows[i];
      if (b->member != member)
        continue;
      if (said == MOST_BLOWS)
        {
          more++;
          continue;
        }
      g_autofree char *at = fw_cli_number (b->crank * DEGREES, "%.1f"), *speed = fw_cli_number (b->speed_mps, "%.3g");
      g_autofree char *energy = fw_cli_number (b->energy_J * 1000, "%.3g"), *impulse = fw_cli_number (b->impulse_Ns, "%.3g");
      g_string_append_printf (out,
                              b->high ? _("    Meets its upper stop at %s°: %s m/s at the tip, %s mJ, %s N s.\n")
                                      : _("    Meets its lower stop at %s°: %s m/s at the tip, %s mJ, %s N s.\n"),
                              at, speed, energy, impulse);
      said++;
    }
  if (more > 0)
    g_string_append_printf (out, ngettext ("    And %d blow more.\n", "    And %d blows more.\n", (gulong)more), more);
}

void
fw_cli_swing_text (GString *out, const FwSwings *s)
{
  if (!fw_mechanism_hangs (s->mechanism))
    return;
  g_string_append (out, _("\nPanels without a rod, as they really move at this speed (friction of the hinge and the stops\n"
                          "counted, the air not):\n\n"));
  for (int i = 0; i < s->mechanism->n_members; i++)
    {
      if (!hangs (s, i))
        continue;
      g_autofree char *fate = fate_sentence (&s->members[i]);
      g_string_append_printf (out, "%s: %s\n", s->mechanism->members[i].name, fate);
      if (s->members[i].period == 0)
        continue;
      say_range (out, s, i);
      say_blows (out, s, i);
    }
}

/* ---- CSV ---- */

static void
csv_row (GString *out, const char *name, const char *key, FwExtreme least, FwExtreme greatest, double factor)
{
  g_autofree char *low = fw_json_decimal (least.value * factor, "%.9g", ""), *low_at = fw_json_decimal (least.crank * DEGREES, "%.6g", "");
  g_autofree char *high = fw_json_decimal (greatest.value * factor, "%.9g", ""),
                  *high_at = fw_json_decimal (greatest.crank * DEGREES, "%.6g", "");
  g_string_append_printf (out, "%s.%s,%s,%s,%s,%s\n", name, key, low, low_at, high, high_at);
}

void
fw_cli_swing_csv (GString *out, const FwSwings *s)
{
  for (int i = 0; i < s->mechanism->n_members; i++)
    {
      const FwSwingMember *m = &s->members[i];
      const char *name = s->mechanism->members[i].name;
      FwExtreme least = { 0, INFINITY }, greatest = { 0, -INFINITY };
      if (!hangs (s, i))
        continue;
      if (m->period == 0)
        {
          g_string_append_printf (out, "%s.swing_deg,,,,\n", name);
          continue;
        }
      csv_row (out, name, "swing_deg", m->least, m->greatest, DEGREES);
      for (int k = 0; k < s->n_blows; k++)
        {
          const FwSwingBlow *b = &s->blows[k];
          if (b->member == i && b->energy_J < least.value)
            least = (FwExtreme){ b->crank, b->energy_J };
          if (b->member == i && b->energy_J > greatest.value)
            greatest = (FwExtreme){ b->crank, b->energy_J };
        }
      if (isfinite (least.value))
        csv_row (out, name, "blow_J", least, greatest, 1);
    }
}

/* ---- JSON ---- */

static void
add_number (cJSON *item, const char *key, double value)
{
  cJSON_AddItemToObject (item, key, fw_json_number (value));
}

static const char *
fate_name (FwFate fate)
{
  static const char *const names[] = { "driven", "repeats", "does-not-settle", "still", "open", "binds", "lost" };
  return names[fate];
}

static void
add_blows (cJSON *item, const FwSwings *s, int member)
{
  cJSON *array = cJSON_AddArrayToObject (item, "blows");
  for (int i = 0; i < s->n_blows; i++)
    {
      const FwSwingBlow *b = &s->blows[i];
      if (b->member != member)
        continue;
      cJSON *blow = cJSON_CreateObject ();
      cJSON_AddStringToObject (blow, "stop", b->high ? "upper" : "lower");
      add_number (blow, "turn", b->turn);
      add_number (blow, "crank_deg", b->crank * DEGREES);
      add_number (blow, "speed_mps", b->speed_mps);
      add_number (blow, "energy_J", b->energy_J);
      add_number (blow, "impulse_Ns", b->impulse_Ns);
      cJSON_AddItemToArray (array, blow);
    }
}

void
fw_cli_swing_json (cJSON *object, const FwSwings *s)
{
  cJSON *array = cJSON_AddArrayToObject (object, "swing");
  for (int i = 0; i < s->mechanism->n_members; i++)
    {
      if (!hangs (s, i))
        continue;
      const FwSwingMember *m = &s->members[i];
      gboolean known = m->period > 0;
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "part", s->mechanism->members[i].name);
      cJSON_AddStringToObject (item, "fate", fate_name (m->fate));
      add_number (item, "turns", m->turns);
      add_number (item, "period_turns", known ? m->period : NAN);
      add_number (item, "least_deg", known ? m->least.value * DEGREES : NAN);
      add_number (item, "least_at_deg", known ? m->least.crank * DEGREES : NAN);
      add_number (item, "greatest_deg", known ? m->greatest.value * DEGREES : NAN);
      add_number (item, "greatest_at_deg", known ? m->greatest.crank * DEGREES : NAN);
      add_number (item, "from_rest_deg", known ? m->astray * DEGREES : NAN);
      add_number (item, "from_rest_at_deg", known ? m->astray_at * DEGREES : NAN);
      add_number (item, "spread_deg", known ? m->spread * DEGREES : NAN);
      add_number (item, "fails_at_deg", known ? NAN : m->at * DEGREES);
      if (m->on_low || m->on_high)
        cJSON_AddStringToObject (item, "lies_on", m->on_low ? "lower" : "upper");
      else
        cJSON_AddNullToObject (item, "lies_on");
      add_blows (item, s, i);
      cJSON_AddItemToArray (array, item);
    }
}
