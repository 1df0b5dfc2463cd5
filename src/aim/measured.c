#include "aim/measured.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/document.h"
#include "doc/fill.h"

static const char *const endings[] = {
  [FW_MEASURED_H] = "body.h_mm", [FW_MEASURED_Z] = "body.z_mm", [FW_MEASURED_TILT] = "body.tilt_deg",
  [FW_MEASURED_ANGLE] = ".angle_deg", [FW_MEASURED_TIP_X] = ".tip_x_mm", [FW_MEASURED_TIP_Z] = ".tip_z_mm",
};

/* A column of the table: what it holds, or that it is passed over. */
typedef struct
{
  enum { CRANK, MEASURED, OTHER } role;
  FwMeasuredKind kind;
  int index;
  char *name;
} Column;

gboolean
fw_measured_is_length (FwMeasuredKind kind)
{
  return kind != FW_MEASURED_TILT && kind != FW_MEASURED_ANGLE;
}

char *
fw_measured_column (const FwMechanism *mechanism, FwMeasuredKind kind, int index)
{
  return kind < FW_MEASURED_ANGLE ? g_strdup (endings[kind])
                                  : g_strconcat (mechanism->members[index].name, endings[kind], NULL);
}

/* Columns of `turn` that say nothing of places. */
static gboolean
is_passed_over (const char *name)
{
  static const char *const known[] = { ".rate", ".push_deg", ".lean_deg", ".force_N", "crank.torque_Nm" };
  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (g_str_has_suffix (name, known[i]))
      return TRUE;
  return FALSE;
}

static gboolean
find_column (const FwMechanism *mech, const char *name, Column *column)
{
  *column = (Column){ .role = OTHER, .name = g_strdup (name) };
  if (strcmp (name, "crank_deg") == 0)
    {
      column->role = CRANK;
      return TRUE;
    }
  for (int kind = 0; kind <= FW_MEASURED_TIP_Z; kind++)
    for (int i = 0; i < (kind < FW_MEASURED_ANGLE ? 1 : mech->n_members); i++)
      {
        g_autofree char *known = fw_measured_column (mech, (FwMeasuredKind)kind, i);
        if (strcmp (known, name) != 0)
          continue;
        *column = (Column){ MEASURED, (FwMeasuredKind)kind, i, column->name };
        return TRUE;
      }
  return is_passed_over (name);
}

static void
column_clear (gpointer data)
{
  g_free (((Column *)data)->name);
}

/* Cells of a line, without blanks around them and without quotes around all of it. */
static char **
cells_of (const char *line)
{
  char **cells = g_strsplit (line, ",", -1);
  for (int i = 0; cells[i]; i++)
    {
      char *cell = g_strstrip (cells[i]);
      gsize length = strlen (cell);
      if (length >= 2 && cell[0] == '"' && cell[length - 1] == '"')
        {
          cell[length - 1] = '\0';
          char *bare = g_strdup (cell + 1);
          g_free (cells[i]);
          cells[i] = bare;
        }
      else if (cell != cells[i])
        memmove (cells[i], cell, length + 1);
    }
  return cells;
}

static gboolean
fail (GError **error, const char *name, int line, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *said = g_strdup_vprintf (format, args);
  g_autofree char *what = fw_one_line (said);
  va_end (args);
  /* Translators: a file, a line in it, and what was expected there. */
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _ ("%s: line %d: %s"), name, line, what);
  return FALSE;
}

static gboolean
read_names (const char *line, int number, const char *name, const FwMechanism *mech, GArray *columns, GError **error)
{
  g_auto (GStrv) cells = cells_of (line);
  int cranks = 0;

  for (int i = 0; cells[i]; i++)
    {
      Column column;
      gboolean known = find_column (mech, cells[i], &column);
      g_array_append_val (columns, column);
      if (!known)
        return fail (error, name, number,
                     _ ("a column of this design was expected, such as crank_deg, body.z_mm or PANEL.angle_deg, "
                        "“%s” was found"), cells[i]);
      cranks += column.role == CRANK;
      for (guint k = 0; k + 1 < columns->len; k++)
        if (strcmp (g_array_index (columns, Column, k).name, cells[i]) == 0)
          return fail (error, name, number, _ ("each column once was expected, “%s” was found twice"), cells[i]);
    }
  return cranks == 1 || fail (error, name, number, _ ("a column crank_deg was expected"));
}

static gboolean
read_number (const char *cell, double *value)
{
  char *end;
  *value = g_ascii_strtod (cell, &end);
  return end != cell && *end == '\0' && isfinite (*value) && fabs (*value) < 1e6 && !strpbrk (cell, "xXpP");
}

static gboolean
read_line (const char *line, int number, const char *name, const GArray *columns, GArray *list, GError **error)
{
  g_auto (GStrv) cells = cells_of (line);
  double crank = NAN;
  guint n = g_strv_length (cells), first = list->len;

  if (n != columns->len)
    return fail (error, name, number, ngettext ("%u cell was expected, %u were found", "%u cells were expected, %u were found",
                                                columns->len), columns->len, n);
  for (guint i = 0; i < n; i++)
    {
      const Column *column = &g_array_index (columns, Column, i);
      double value;
      if (column->role == OTHER || (column->role == MEASURED && cells[i][0] == '\0'))
        continue;
      if (!read_number (cells[i], &value))
        return fail (error, name, number, _ ("%s: a number was expected, “%s” was found"), column->name, cells[i]);
      if (column->role == CRANK)
        crank = value;
      else
        g_array_append_val (list, ((FwMeasurement){ column->kind, column->index, 0, value }));
    }
  for (guint i = first; i < list->len; i++)
    g_array_index (list, FwMeasurement, i).crank_deg = crank;
  return TRUE;
}

static int
by_crank (gconstpointer a, gconstpointer b)
{
  double x = ((const FwMeasurement *)a)->crank_deg, y = ((const FwMeasurement *)b)->crank_deg;
  return (x > y) - (x < y);
}

GArray *
fw_measured_read (const char *text, const char *name, const FwMechanism *mechanism, GError **error)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (Column)), *list = g_array_new (FALSE, FALSE, sizeof (FwMeasurement));
  g_array_set_clear_func (columns, column_clear);
  gboolean good = g_utf8_validate (text, -1, NULL);

  if (!good)
    g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _ ("%s: text in UTF-8 was expected"), name);
  g_auto (GStrv) lines = good ? g_strsplit (text, "\n", -1) : NULL;
  for (int i = 0; good && lines[i]; i++)
    {
      g_strchomp (lines[i]);
      if (lines[i][0] == '\0')
        continue;
      good = columns->len == 0 ? read_names (lines[i], i + 1, name, mechanism, columns, error)
                               : read_line (lines[i], i + 1, name, columns, list, error);
    }
  g_array_unref (columns);
  if (good && list->len == 0)
    {
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _ ("%s: at least one measured angle or height was expected"),
                   name);
      good = FALSE;
    }
  if (good)
    {
      g_array_sort (list, by_crank);
      return list;
    }
  g_array_unref (list);
  return NULL;
}
