/* turn: every quantity of one turn as a table. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/swing.h"
#include "core/loads.h"

#define DEGREES (180 / 3.14159265358979323846)

/* The columns, in order. */
static const struct
{
  FwQuantityKind kind;
  const char *suffix;
  double factor;
} columns[] = {
  { FW_Q_BODY_H, "body.h_mm", 1 },         { FW_Q_BODY_Z, "body.z_mm", 1 },
  { FW_Q_BODY_TILT, "body.tilt_deg", DEGREES }, { FW_Q_ANGLE, ".angle_deg", DEGREES },
  { FW_Q_RATE, ".rate", 1 },               { FW_Q_PUSH, ".push_deg", DEGREES },
  { FW_Q_LEAN, ".lean_deg", DEGREES },
};

typedef struct
{
  char *name;
  const double *row;
  double *own; /* the row, where the turn does not keep it */
  double factor;
} Column;

static void
column_clear (gpointer data)
{
  Column *column = data;
  g_free (column->name);
  g_free (column->own);
}

static char *
column_name (const FwMechanism *mech, FwQuantity q, const char *suffix)
{
  if (q.kind <= FW_Q_BODY_TILT)
    return g_strdup (suffix);
  const char *part = q.kind <= FW_Q_OTHER_ROOT ? mech->members[q.index].name : mech->links[q.index].name;
  return g_strconcat (part, suffix, NULL);
}

static GArray *
gather (const FwJob *job)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (Column));
  g_array_set_clear_func (list, column_clear);
  for (int i = 0; i < fw_quantity_count (job->mech); i++)
    {
      FwQuantity q = fw_quantity_nth (job->mech, i);
      for (gsize k = 0; k < G_N_ELEMENTS (columns); k++)
        if (columns[k].kind == q.kind)
          {
            Column c = { .name = column_name (job->mech, q, columns[k].suffix),
                         .row = fw_turn_row (job->turn, job->mech, q),
                         .factor = columns[k].factor };
            g_array_append_val (list, c);
          }
    }
  return list;
}

static double *
own_column (GArray *list, char *name, int steps)
{
  Column c = { .name = name, .own = g_new (double, steps), .factor = 1 };
  c.row = c.own;
  g_array_append_val (list, c);
  return c.own;
}

/* The same columns with hanging panels where they really are at the design's own speed, in the first turn
 * of those that repeat, and with what they drive. Where one does not come back, it stands at its rest. */
static gboolean
take_swing (GArray *list, const FwJob *job)
{
  const FwMechanism *mech = job->mech;
  int steps = job->turn->steps;
  FwSwings *swing = fw_cli_swing_new (mech, fw_crank_speed (mech->design));
  FwPose *pose = fw_pose_new (mech);
  g_autofree double *room = g_new (double, 3 * (gsize) mech->n_members + 1);
  for (guint k = 0; k < list->len && pose != NULL; k++)
    {
      Column *c = &g_array_index (list, Column, k);
      c->own = g_new (double, steps);
      c->row = c->own;
    }
  for (int i = 0; i < steps && pose != NULL; i++)
    {
      guint column = 0;
      fw_swing_pose (swing, pose, 2 * G_PI * i / steps, room);
      for (int n = 0; n < fw_quantity_count (mech); n++)
        for (gsize k = 0; k < G_N_ELEMENTS (columns); k++)
          if (columns[k].kind == fw_quantity_nth (mech, n).kind)
            g_array_index (list, Column, column++).own[i] = fw_quantity_value (pose, mech, fw_quantity_nth (mech, n));
    }
  gboolean good = pose != NULL;
  free (pose);
  fw_swing_free (swing);
  return good;
}

/* Crank torque and rod forces at the design's own speed. */
static gboolean
add_forces (GArray *list, const FwJob *job)
{
  const FwMechanism *mech = job->mech;
  int steps = job->turn->steps;
  double speed = fw_crank_speed (mech->design);
  FwPose *pose = fw_pose_new (mech);
  FwLoads *loads = fw_loads_new (mech);
  g_autofree double **force = g_new (double *, mech->n_links + 1);
  gboolean room = pose != NULL && loads != NULL;
  if (room)
    {
      double *torque = own_column (list, g_strdup ("crank.torque_Nm"), steps);
      for (int k = 0; k < mech->n_links; k++)
        force[k] = own_column (list, g_strconcat (mech->links[k].name, ".force_N", NULL), steps);
      for (int i = 0; i < steps; i++)
        {
          fw_pose_solve (pose, mech, 2 * G_PI * i / steps);
          fw_loads_solve (loads, mech, pose, speed);
          torque[i] = loads->torque;
          for (int k = 0; k < mech->n_links; k++)
            force[k][i] = loads->tension[k];
        }
    }
  free (pose);
  free (loads);
  return room;
}

/* Always with a point; twelve digits are beyond any bench and inside what doubles hold. */
static void
append_number (GString *out, double value, const char *if_none)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  if (isnan (value))
    g_string_append (out, if_none);
  else
    g_string_append (out, g_ascii_formatd (text, sizeof text, "%.12g", value == 0 ? 0 : value));
}

static void
append_csv_name (GString *out, const char *name)
{
  if (strpbrk (name, ",\"") == NULL)
    {
      g_string_append (out, name);
      return;
    }
  g_string_append_c (out, '"');
  for (const char *c = name; *c != '\0'; c++)
    {
      if (*c == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *c);
    }
  g_string_append_c (out, '"');
}

static void
append_json_name (GString *out, const char *name)
{
  g_string_append_c (out, '"');
  for (const char *c = name; *c != '\0'; c++)
    {
      if (*c == '"' || *c == '\\')
        g_string_append_c (out, '\\');
      g_string_append_c (out, *c);
    }
  g_string_append_c (out, '"');
}

static void
write_csv (GString *out, const FwJob *job, const GArray *list)
{
  g_string_append (out, "crank_deg");
  for (guint k = 0; k < list->len; k++)
    {
      g_string_append_c (out, ',');
      append_csv_name (out, g_array_index (list, Column, k).name);
    }
  g_string_append_c (out, '\n');
  for (int i = 0; i < job->turn->steps; i++)
    {
      append_number (out, 360.0 * i / job->turn->steps, "");
      for (guint k = 0; k < list->len; k++)
        {
          const Column *c = &g_array_index (list, Column, k);
          g_string_append_c (out, ',');
          append_number (out, c->row[i] * c->factor, "");
        }
      g_string_append_c (out, '\n');
    }
}

static void
write_json (GString *out, const FwJob *job, const GArray *list)
{
  for (int i = 0; i < job->turn->steps; i++)
    {
      g_string_append (out, i == 0 ? "[\n  {\"crank_deg\": " : ",\n  {\"crank_deg\": ");
      append_number (out, 360.0 * i / job->turn->steps, "null");
      for (guint k = 0; k < list->len; k++)
        {
          const Column *c = &g_array_index (list, Column, k);
          g_string_append (out, ", ");
          append_json_name (out, c->name);
          g_string_append (out, ": ");
          append_number (out, c->row[i] * c->factor, "null");
        }
      g_string_append_c (out, '}');
    }
  g_string_append (out, "\n]\n");
}

int
fw_verb_turn (int argc, char **argv)
{
  int steps = 72, status;
  g_autofree char *format = NULL;
  gboolean swing = FALSE;
  const GOptionEntry entries[] = {
    { "steps", 0, 0, G_OPTION_ARG_INT, &steps, N_ ("Rows in the turn (72)"), N_ ("N") },
    { "swing", 0, 0, G_OPTION_ARG_NONE, &swing, N_ ("Hanging panels as they really swing, not at rest"), NULL },
    { "format", 0, 0, G_OPTION_ARG_STRING, &format, N_ ("csv (the default) or json"), N_ ("FORMAT") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "turn", _ ("One turn of the crank as a table. Exit status 1: the design cannot go round."),
      entries, &status);
  if (file == NULL)
    return status;
  if (steps < 1 || steps > FW_CLI_MOST_STEPS)
    return fw_cli_refuse (_ ("turn: --steps: expected a whole number from 1 to %d, found %d"), FW_CLI_MOST_STEPS, steps);
  gboolean json = g_strcmp0 (format, "json") == 0;
  if (format != NULL && !json && strcmp (format, "csv") != 0)
    return fw_cli_refuse (_ ("turn: --format: expected csv or json, found “%s”"), format);

  FwJob job;
  if (!fw_job_open (&job, file, steps))
    return FW_EXIT_REFUSED;
  GArray *list = gather (&job);
  if ((swing && fw_mechanism_hangs (job.mech) && !take_swing (list, &job)) || !add_forces (list, &job))
    {
      status = fw_cli_refuse (_ ("turn: out of memory"));
      g_array_unref (list);
      fw_job_close (&job);
      return status;
    }
  GString *out = g_string_new (NULL);
  if (json)
    write_json (out, &job, list);
  else
    write_csv (out, &job, list);
  status = fw_cli_print (out->str, fw_job_cannot_go_round (&job) ? FW_EXIT_TROUBLE : FW_EXIT_FINE);
  g_string_free (out, TRUE);
  g_array_unref (list);
  fw_job_close (&job);
  return status;
}
