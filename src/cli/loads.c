/* loads: peak forces of one turn, with the crank angles at which they stand. */
#include <cjson/cJSON.h>
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/people.h"
#include "cli/strength.h"
#include "cli/swing.h"
#include "core/peaks.h"
#include "doc/json.h"

#define STEPS 360
#define DEGREES (180 / G_PI)

typedef struct
{
  FwExtreme *least, *greatest;
  int n;
  double mean_torque;
  double turns_per_minute;
  FwLoadTurn *turn;
  FwSwings *swing; /* of the panels that hang */
} Peaks;

static gboolean
find_peaks (Peaks *p, const FwMechanism *mech, double turns_per_minute)
{
  FwPose *pose = fw_pose_new (mech);
  FwLoads *loads = fw_loads_new (mech);
  FwLoadTurn *turn = fw_load_turn_new (mech, STEPS);
  gboolean room = pose != NULL && loads != NULL && turn != NULL;
  double speed = turns_per_minute * 2 * G_PI / 60;
  *p = (Peaks) { .n = fw_load_count (mech), .turns_per_minute = turns_per_minute, .turn = turn };
  p->least = g_new (FwExtreme, p->n);
  p->greatest = g_new (FwExtreme, p->n);
  if (room)
    {
      fw_load_peaks (mech, pose, loads, speed, STEPS, p->least, p->greatest);
      p->mean_torque = fw_load_mean_size (mech, pose, loads, speed, STEPS);
      fw_load_turn_solve (turn, mech, speed);
      p->swing = fw_cli_swing_new (mech, speed);
    }
  free (pose);
  free (loads);
  return room;
}

static void
peaks_clear (Peaks *p)
{
  g_free (p->least);
  g_free (p->greatest);
  free (p->turn);
  fw_swing_free (p->swing);
}

/* "crank.torque_Nm", "inrod.right.force_N", "inner.right.hinge_N", "in.right.pin_N" */
static char *
load_key (const FwMechanism *mech, FwLoad load)
{
  switch (load.kind)
    {
    case FW_LOAD_TORQUE:
      return g_strdup ("crank.torque_Nm");
    case FW_LOAD_TENSION:
      return g_strconcat (mech->links[load.index].name, ".force_N", NULL);
    case FW_LOAD_HINGE:
      return g_strconcat (mech->members[load.index].name, ".hinge_N", NULL);
    case FW_LOAD_PIN:
      {
        const FwPin *pin = &mech->pins[load.index];
        const FwThrow *t = &mech->design->crank.throws[pin->throw_index];
        gboolean twins = t->both && mech->design->crank.runs == FW_RUNS_ACROSS;
        return g_strconcat (t->name, !twins ? "" : pin->twin ? ".left" : ".right", ".pin_N", NULL);
      }
    case FW_LOAD_POST:
      return g_strdup ("body.foot_N");
    case FW_LOAD_GUIDE:
    default:
      return g_strdup (mech->design->body.ride == FW_RIDE_SLEEVE ? "body.guide_N" : "body.link_N");
    }
}

static char *
as_csv (const FwMechanism *mech, const Peaks *p)
{
  GString *out = g_string_new ("load,least,at_deg,greatest,at_deg\n");
  for (int i = 0; i < p->n; i++)
    {
      g_autofree char *key = load_key (mech, fw_load_nth (mech, i));
      g_autofree char *low = fw_json_decimal (p->least[i].value, "%.9g", "");
      g_autofree char *low_at = fw_json_decimal (p->least[i].crank * DEGREES, "%.6g", "");
      g_autofree char *high = fw_json_decimal (p->greatest[i].value, "%.9g", "");
      g_autofree char *high_at = fw_json_decimal (p->greatest[i].crank * DEGREES, "%.6g", "");
      g_string_append_printf (out, "%s,%s,%s,%s,%s\n", key, low, low_at, high, high_at);
    }
  fw_cli_swing_csv (out, p->swing);
  return g_string_free (out, FALSE);
}

static char *
as_json (const FwMechanism *mech, const Peaks *p)
{
  cJSON *all = cJSON_CreateObject ();
  cJSON_AddItemToObject (all, "turns_per_minute", fw_json_number (p->turns_per_minute));
  cJSON_AddItemToObject (all, "mean_torque_size_Nm", fw_json_number (p->mean_torque));
  cJSON *array = cJSON_AddArrayToObject (all, "loads");
  for (int i = 0; i < p->n; i++)
    {
      g_autofree char *key = load_key (mech, fw_load_nth (mech, i));
      cJSON *item = cJSON_CreateObject ();
      cJSON_AddStringToObject (item, "load", key);
      cJSON_AddItemToObject (item, "least", fw_json_number (p->least[i].value));
      cJSON_AddItemToObject (item, "least_at_deg", fw_json_number (p->least[i].crank * DEGREES));
      cJSON_AddItemToObject (item, "greatest", fw_json_number (p->greatest[i].value));
      cJSON_AddItemToObject (item, "greatest_at_deg", fw_json_number (p->greatest[i].crank * DEGREES));
      cJSON_AddItemToArray (array, item);
    }
  fw_cli_people_json (all, p->turn, mech);
  fw_cli_strength_json (all, p->turn, mech);
  fw_cli_swing_json (all, p->swing);
  char *text = cJSON_Print (all);
  char *out = g_strconcat (text, "\n", NULL);
  cJSON_free (text);
  cJSON_Delete (all);
  return out;
}

static char *
as_text (const FwMechanism *mech, const Peaks *p, FwLengths lengths)
{
  GString *out = g_string_new (NULL);
  g_autofree char *speed = fw_cli_number (p->turns_per_minute, "%.4g");
  g_string_append_printf (out,
                          mech->design->drive.friction > 0
                              ? _ ("Peak loads at %s turns/min, with friction. A rod pulls where its force is above\n"
                                   "zero and pushes where it is below; the hand pushes forward where the torque is above.\n\n")
                              : _ ("Peak loads at %s turns/min, without friction. A rod pulls where its force is above\n"
                                   "zero and pushes where it is below; the hand pushes forward where the torque is above.\n\n"),
                          speed);
  for (int i = 0; i < p->n; i++)
    {
      g_autofree char *name = load_key (mech, fw_load_nth (mech, i)), *key = fw_cli_column (name, 28);
      if (isnan (p->least[i].value))
        {
          /* Translators: %s is the name of a load such as inrod.right.force_N. */
          g_string_append_printf (out, _ ("%s cannot be assembled anywhere\n"), key);
          continue;
        }
      g_autofree char *low = fw_cli_number (p->least[i].value, "%10.4g");
      g_autofree char *low_at = fw_cli_number (p->least[i].crank * DEGREES, "%5.1f");
      g_autofree char *high = fw_cli_number (p->greatest[i].value, "%10.4g");
      g_autofree char *high_at = fw_cli_number (p->greatest[i].crank * DEGREES, "%5.1f");
      /* Translators: a load, its least value and the crank angle of that, its greatest value and the crank angle of that. */
      g_string_append_printf (out, _ ("%s %s at %s°  to %s at %s°\n"), key, low, low_at, high, high_at);
    }
  fw_cli_people_text (out, p->turn, mech, lengths);
  fw_cli_strength_text (out, p->turn, mech, lengths);
  fw_cli_swing_text (out, p->swing);
  g_string_append (out, _ ("\nThe loads are computed from the masses in the design: weigh what you can. Keep clear of pinch points\n"
                           "while it turns; what hangs over people, or is driven by a motor, is a matter for local codes and\n"
                           "licensed practice.\n"));
  return g_string_free (out, FALSE);
}

int
fw_verb_loads (int argc, char **argv)
{
  int status;
  double speed = -1;
  FwLengths lengths;
  g_autofree char *format = NULL, *unit = NULL;
  const GOptionEntry entries[] = {
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("text (the default), csv or json"), N_ ("FORMAT") },
    { "speed", 0, 0, G_OPTION_ARG_DOUBLE, &speed, N_ ("Turns per minute (the design's own)"), N_ ("N") },
    { "lengths", 0, 0, G_OPTION_ARG_STRING, &unit, N_ ("mm (the default) or inch"), N_ ("UNIT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "loads", _ ("Peak forces of one turn. Exit status 1: the design cannot go round."), entries, &status);
  if (file == NULL)
    return status;
  gboolean json = g_strcmp0 (format, "json") == 0, csv = g_strcmp0 (format, "csv") == 0;
  if (format != NULL && !json && !csv && strcmp (format, "text") != 0)
    return fw_cli_refuse (_ ("loads: --format: expected text, csv or json, found “%s”"), format);
  if (speed != -1 && !(speed >= 0 && speed < 1e6))
    return fw_cli_refuse (_ ("loads: --speed: expected 0 or more turns per minute, found %g"), speed);
  if (!fw_cli_lengths ("loads", unit, &lengths, &status))
    return status;

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  Peaks peaks;
  if (find_peaks (&peaks, job.mech, speed < 0 ? job.mech->design->crank.turns_per_minute : speed))
    {
      g_autofree char *text
          = json ? as_json (job.mech, &peaks) : csv ? as_csv (job.mech, &peaks) : as_text (job.mech, &peaks, lengths);
      status = fw_cli_print (text, fw_job_cannot_go_round (&job) ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
    }
  else
    status = fw_cli_refuse (_ ("loads: out of memory"));
  peaks_clear (&peaks);
  fw_job_close (&job);
  return status;
}
