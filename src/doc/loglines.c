/* Lines of the log. */
#include "doc/log.h"

#include <math.h>
#include <string.h>

static void
line_free (gpointer data)
{
  FwLogLine *line = data;
  g_free (line->text);
  g_free (line->key);
  g_free (line);
}

GPtrArray *
fw_log_lines_new (void)
{
  return g_ptr_array_new_with_free_func (line_free);
}

FwLogLine *
fw_log_lines_add (GPtrArray *lines, FwLogLineKind kind, char *text)
{
  FwLogLine *line = g_new (FwLogLine, 1);
  *line = (FwLogLine){ .kind = kind, .text = text };
  g_ptr_array_add (lines, line);
  return line;
}

const char *
fw_log_line_name (FwLogLineKind kind)
{
  static const char *const names[] = {
    [FW_LOG_FIRST] = "first",     [FW_LOG_SAME] = "same",         [FW_LOG_NUMBER] = "number",
    [FW_LOG_ADDED] = "added",     [FW_LOG_REMOVED] = "removed",   [FW_LOG_RENAMED] = "renamed",
    [FW_LOG_MATERIAL] = "material", [FW_LOG_BUILT] = "built",     [FW_LOG_LOOK] = "look",
    [FW_LOG_OTHER] = "other",     [FW_LOG_MOTION] = "motion",     [FW_LOG_FORCE] = "force",
    [FW_LOG_GONE] = "gone",       [FW_LOG_NEW] = "new",           [FW_LOG_TROUBLE] = "trouble",
    [FW_LOG_REMARK] = "remark",
  };
  return names[kind];
}

/* Fewest digits that show the value to a thousandth. */
static int
digits_for (double value)
{
  for (int digits = 0; digits < 3; digits++)
    {
      double scaled = value * pow (10, digits);
      if (fabs (scaled - round (scaled)) < 1e-6 * fmax (1, fabs (scaled)))
        return digits;
    }
  return 3;
}

char *
fw_log_figure (double value, double other, FwUnit unit, FwLengths lengths)
{
  int digits = MAX (digits_for (value), isfinite (other) ? digits_for (other) : 0);
  char *text = fw_units_format (value, unit, lengths, digits);

  if (unit != FW_UNIT_MM || lengths == FW_LENGTHS_MM || !isfinite (other))
    return text;
  /* Two lengths that are the same fraction of an inch: only mm tells them apart. */
  char *twin = fw_units_format (other, unit, lengths, digits);
  if (value != other && strcmp (text, twin) == 0)
    {
      g_free (text);
      text = fw_units_format (value, unit, FW_LENGTHS_MM, digits);
    }
  g_free (twin);
  return text;
}
