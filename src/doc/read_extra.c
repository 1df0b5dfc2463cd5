/* Base and look: what the sculpture stands on, and the solids it is drawn with. */
#include "doc/read.h"

#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/json.h"

/* ---- Base ---- */

static gboolean
read_bearings (FwReader *r, const cJSON *object, FwBase *base)
{
  const cJSON *array;

  if (!fw_read_array (r, object, "bearings", FW_OPTIONAL, &array))
    return FALSE;
  int n = array ? cJSON_GetArraySize (array) : 0;
  if (n == 0)
    return TRUE;
  base->bearings_mm = calloc ((size_t)n, sizeof *base->bearings_mm);
  if (!base->bearings_mm)
    return fw_read_no_memory (r);
  base->n_bearings = n;
  return fw_read_numbers (r, object, "bearings", FW_REQUIRED, FW_RULE_ANY, n, base->bearings_mm);
}

gboolean
fw_read_base (FwReader *r, const cJSON *root, FwDesign *design)
{
  FwBase *base = &design->base;
  const cJSON *object;

  base->handle_mm = 60;
  if (!fw_read_object (r, root, "base", FW_OPTIONAL, &object))
    return FALSE;
  if (!object)
    return TRUE;
  gsize mark = fw_read_enter (r, "base");
  FwNeed top = cJSON_GetObjectItemCaseSensitive (object, "plate") ? FW_REQUIRED : FW_OPTIONAL;
  if (!fw_read_numbers (r, object, "plate", FW_OPTIONAL, FW_RULE_ABOVE_ZERO, 3, base->plate_mm)
      || !fw_read_number (r, object, "top", top, FW_RULE_ANY, &base->top_mm)
      || !read_bearings (r, object, base)
      || !fw_read_number (r, object, "handle", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &base->handle_mm)
      || !fw_read_number (r, object, "mass", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &base->mass_g)
      || !fw_read_flag (r, object, "hung", &base->hung))
    return FALSE;
  fw_read_leave (r, mark);
  return TRUE;
}

/* ---- Look ---- */

/* One section [at, low, high, half_width], item `i` of the list. */
static gboolean
read_section (FwReader *r, const cJSON *item, int i, FwSection *section)
{
  const cJSON *number;
  double v[4];
  int n = 0;

  if (cJSON_IsArray (item) && cJSON_GetArraySize (item) == 4)
    cJSON_ArrayForEach (number, item)
    {
      if (!cJSON_IsNumber (number) || ABS (number->valuedouble) >= 1e6)
        break;
      v[n++] = number->valuedouble;
    }
  if (n == 4 && v[1] <= v[2] && v[3] >= 0)
    {
      *section
          = (FwSection){ .at_mm = v[0], .low_mm = v[1], .high_mm = v[2], .half_width_mm = v[3] };
      return TRUE;
    }
  char *brief = fw_json_brief (item);
  gsize mark = fw_read_enter_nth (r, "sections", i);
  fw_read_fail (
      r, NULL, FW_DOC_ERROR_INVALID,
      _("a section [at, low, high, half width], low not above high and no negative width, "
         "was expected, %s was found"),
      brief);
  fw_read_leave (r, mark);
  g_free (brief);
  return FALSE;
}

static gboolean
read_sections (FwReader *r, const cJSON *object, FwSolid *solid)
{
  const cJSON *array, *item;
  int i = 0;

  if (!fw_read_array (r, object, "sections", FW_OPTIONAL, &array))
    return FALSE;
  if (!array)
    return TRUE;
  int n = cJSON_GetArraySize (array);
  if (n < 2)
    return fw_read_fail (r, "sections", FW_DOC_ERROR_INVALID,
                         _("two sections or more were expected, %d were found"), n);
  solid->sections = calloc ((size_t)n, sizeof *solid->sections);
  if (!solid->sections)
    return fw_read_no_memory (r);
  solid->n_sections = n;
  cJSON_ArrayForEach (item, array)
  {
    if (!read_section (r, item, i, &solid->sections[i]))
      return FALSE;
    i++;
  }
  gboolean rises = solid->sections[1].at_mm > solid->sections[0].at_mm;
  for (i = 1; i < n; i++)
    {
      double step = solid->sections[i].at_mm - solid->sections[i - 1].at_mm;
      if (rises ? step <= 0 : step >= 0)
        return fw_read_fail (
            r, "sections", FW_DOC_ERROR_INVALID,
            _("sections in order along the reach were expected, but section %d is not"), i);
    }
  return TRUE;
}

static gboolean
read_solid (FwReader *r, const cJSON *object, FwSolid *solid)
{
  if (!read_sections (r, object, solid)
      || !fw_read_numbers (r, object, "eye", FW_OPTIONAL, FW_RULE_ANY, 3, solid->eye_mm))
    return FALSE;
  solid->has_eye = cJSON_GetObjectItemCaseSensitive (object, "eye") != NULL;
  if (solid->has_eye && solid->eye_mm[2] <= 0)
    return fw_read_fail (r, "eye", FW_DOC_ERROR_INVALID,
                         _("an eye [along, up, radius] with a radius above 0 was expected"));
  return TRUE;
}

/* look.panels: an object whose keys are names of panels. */
static gboolean
read_panel_solids (FwReader *r, const cJSON *object, FwDesign *design, FwNames *panels)
{
  const cJSON *item;

  cJSON_ArrayForEach (item, object)
  {
    char *quoted = fw_json_quote (item->string);
    gsize mark = r->path->len;
    g_string_append_printf (r->path, "[%s]", quoted);
    g_free (quoted);

    int found = GPOINTER_TO_INT (g_hash_table_lookup (panels, item->string));
    if (found == 0)
      return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                           _("the name of a panel was expected, but there is none of that name"));
    if (!cJSON_IsObject (item))
      return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                           _("an object { } was expected for the look of a panel"));
    if (!read_solid (r, item, &design->panels[found - 1].solid))
      return FALSE;
    fw_read_leave (r, mark);
  }
  return TRUE;
}

gboolean
fw_read_look (FwReader *r, const cJSON *root, FwDesign *design, FwNames *panels)
{
  const cJSON *look, *body, *list;

  if (!fw_read_object (r, root, "look", FW_OPTIONAL, &look))
    return FALSE;
  if (!look)
    return TRUE;
  gsize mark = fw_read_enter (r, "look");
  if (!fw_read_object (r, look, "body", FW_OPTIONAL, &body)
      || !fw_read_object (r, look, "panels", FW_OPTIONAL, &list))
    return FALSE;
  if (body)
    {
      gsize inner = fw_read_enter (r, "body");
      if (!read_solid (r, body, &design->body.solid))
        return FALSE;
      fw_read_leave (r, inner);
    }
  if (list)
    {
      gsize inner = fw_read_enter (r, "panels");
      if (!read_panel_solids (r, list, design, panels))
        return FALSE;
      fw_read_leave (r, inner);
    }
  fw_read_leave (r, mark);
  return TRUE;
}
