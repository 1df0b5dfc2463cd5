/* Panels: the tree of hinged members. */
#include "doc/read.h"

#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/json.h"

#define MOST_OUTLINE_POINTS 1000 /* the check for crossings looks at every pair of edges */

static const char *const reaches[] = { "side", "forward", "back", NULL };

/* ---- One panel ---- */

static gboolean
fail_outline (FwReader *r, FwOutlineFault fault, int a, int b)
{
  switch (fault)
    {
    case FW_OUTLINE_REPEATS:
      return a == 0
                 ? fw_read_fail (r, "outline", FW_DOC_ERROR_INVALID,
                                 _("an outline that closes by itself was expected, but its last "
                                    "point repeats the first"))
                 : fw_read_fail (r, "outline", FW_DOC_ERROR_INVALID,
                                 _("points apart from each other were expected, but point %d "
                                    "repeats the one before it"),
                                 a);
    case FW_OUTLINE_CROSSES:
      return fw_read_fail (
          r, "outline", FW_DOC_ERROR_INVALID,
          _("an outline that does not meet itself was expected, but the edges from "
             "points %d and %d cross or touch"),
          a, b);
    case FW_OUTLINE_FLAT:
    default:
      return fw_read_fail (
          r, "outline", FW_DOC_ERROR_INVALID,
          _("an outline with an area was expected, but all points lie in one line"));
    }
}

/* The points [[u, v], ...] of an array whose path is entered already. */
static gboolean
read_outline_points (FwReader *r, const cJSON *array, FwPanel *panel)
{
  const cJSON *item;
  int i = 0;

  cJSON_ArrayForEach (item, array)
  {
    const cJSON *u = cJSON_IsArray (item) ? item->child : NULL;
    const cJSON *v = u ? u->next : NULL;
    if (!v || v->next || !cJSON_IsNumber (u) || !cJSON_IsNumber (v) || ABS (u->valuedouble) >= 1e6
        || ABS (v->valuedouble) >= 1e6)
      {
        char *brief = fw_json_brief (item);
        gsize mark = fw_read_enter_nth (r, "outline", i);
        fw_read_fail (
            r, NULL, FW_DOC_ERROR_INVALID,
            _("a point [u, v] of numbers below 1000000 in size was expected, %s was found"),
            brief);
        fw_read_leave (r, mark);
        g_free (brief);
        return FALSE;
      }
    panel->outline_mm[i++] = (FwVec2){ u->valuedouble, v->valuedouble };
  }
  return TRUE;
}

static gboolean
read_outline (FwReader *r, const cJSON *object, FwPanel *panel)
{
  const cJSON *array;
  int a = 0, b = 0;

  if (!fw_read_array (r, object, "outline", FW_OPTIONAL, &array))
    return FALSE;
  if (!array)
    return TRUE;
  int n = cJSON_GetArraySize (array);
  if (n < 3 || n > MOST_OUTLINE_POINTS)
    return fw_read_fail (r, "outline", FW_DOC_ERROR_INVALID,
                         _("from 3 to %d points were expected, %d were found"),
                         MOST_OUTLINE_POINTS, n);
  panel->outline_mm = calloc ((size_t)n, sizeof *panel->outline_mm);
  if (!panel->outline_mm)
    return fw_read_no_memory (r);
  panel->n_outline = n;
  if (!read_outline_points (r, array, panel))
    return FALSE;
  FwOutlineFault fault = fw_outline_check (panel->outline_mm, n, &a, &b);
  return fault == FW_OUTLINE_SIMPLE ? TRUE : fail_outline (r, fault, a, b);
}

static gboolean
read_stops (FwReader *r, const cJSON *object, FwPanel *panel)
{
  panel->has_stops = cJSON_GetObjectItemCaseSensitive (object, "stops") != NULL;
  if (!fw_read_numbers (r, object, "stops", FW_OPTIONAL, FW_RULE_ANY, 2, panel->stops_deg))
    return FALSE;
  if (panel->has_stops && !(panel->stops_deg[0] < panel->stops_deg[1]))
    return fw_read_fail (r, "stops", FW_DOC_ERROR_INVALID,
                         _("the lower stop first and the higher second was expected"));
  return TRUE;
}

/* In g mm2, or in kg m2 for panels whose numbers would be too large. */
static gboolean
read_inertia (FwReader *r, const cJSON *object, FwPanel *panel)
{
  double large[4] = { 0 };
  if (!fw_read_numbers (r, object, "inertia", FW_OPTIONAL, FW_RULE_ANY, 4, panel->inertia_gmm2)
      || !fw_read_numbers (r, object, "inertia_kgm2", FW_OPTIONAL, FW_RULE_ANY, 4, large))
    return FALSE;
  if (!cJSON_GetObjectItemCaseSensitive (object, "inertia_kgm2"))
    return TRUE;
  if (cJSON_GetObjectItemCaseSensitive (object, "inertia"))
    return fw_read_fail (r, "inertia_kgm2", FW_DOC_ERROR_INVALID,
                         _("either “inertia” or “inertia_kgm2” was expected, both were found"));
  for (int i = 0; i < 4; i++)
    panel->inertia_gmm2[i] = 1e9 * large[i];
  return TRUE;
}

static gboolean
read_mass (FwReader *r, const cJSON *object, FwPanel *panel)
{
  panel->has_mass = cJSON_GetObjectItemCaseSensitive (object, "mass") != NULL;
  panel->thickness_mm = 2;
  if (!fw_read_number (r, object, "mass", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &panel->mass_g)
      || !fw_read_point (r, object, "centre", FW_OPTIONAL, &panel->centre_mm)
      || !read_inertia (r, object, panel)
      || !fw_read_number (r, object, "thickness", FW_OPTIONAL, FW_RULE_ABOVE_ZERO,
                          &panel->thickness_mm)
      || !fw_read_number (r, object, "areal", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &panel->areal_gm2)
      || !fw_read_material (r, object, "card", &panel->material)
      || !fw_read_number (r, object, "play", FW_OPTIONAL, FW_RULE_NOT_NEGATIVE, &panel->play_mm))
    return FALSE;
  /* A material that the file names, and that is known, implies the sheet's mass: kg/m3 x mm = g/m2. */
  panel->stuff = fw_read_stuff (r, object);
  if (!cJSON_GetObjectItemCaseSensitive (object, "areal"))
    panel->areal_gm2 = panel->stuff.density_kgm3 * panel->thickness_mm;
  return TRUE;
}

/* All but the name, which is read before so that panels may refer to later ones. */
static gboolean
read_panel (FwReader *r, const cJSON *object, FwPanel *panel, FwNames *names)
{
  const char *on = NULL;
  int side = 0, reach = 0;

  if (!fw_read_choice (r, object, "side", FW_REQUIRED, fw_side_words, &side)
      || !fw_read_text (r, object, "on", FW_REQUIRED, &on))
    return FALSE;
  panel->side = (FwSide)side;
  if (strcmp (on, "body") == 0)
    panel->on = FW_ON_BODY;
  else if (!fw_read_reference (r, object, "on", names, FALSE, &panel->on))
    return FALSE;
  if (!fw_read_point (r, object, "hinge", FW_REQUIRED, &panel->hinge_mm)
      || !fw_read_choice (r, object, "reach", FW_OPTIONAL, reaches, &reach)
      || !fw_read_number (r, object, "sweep", FW_OPTIONAL, FW_RULE_ANY, &panel->sweep_deg)
      || !fw_read_number (r, object, "cant", FW_OPTIONAL, FW_RULE_ANY, &panel->cant_deg)
      || !fw_read_number (r, object, "span", FW_REQUIRED, FW_RULE_ABOVE_ZERO, &panel->span_mm))
    return FALSE;
  panel->reach = (FwReach)reach;
  if (panel->side == FW_SIDE_BOTH && !fw_read_twin_names (r, panel->name, names))
    return FALSE;
  return read_outline (r, object, panel) && read_stops (r, object, panel)
         && read_mass (r, object, panel);
}

/* ---- The tree ---- */

static gboolean
read_names (FwReader *r, const cJSON *array, FwDesign *design, FwNames *names)
{
  const cJSON *item;
  int i = 0;

  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "panels", i);
    if (!cJSON_IsObject (item))
      return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                           _("an object { } was expected for a panel"));
    if (!fw_read_name (r, item, names, i, &design->panels[i].name))
      return FALSE;
    if (strcmp (design->panels[i].name, "body") == 0)
      return fw_read_fail (
          r, "name", FW_DOC_ERROR_INVALID,
          _("another name than \"body\" was expected: that one means the body itself"));
    fw_read_leave (r, mark);
    i++;
  }
  return TRUE;
}

/* A middle panel sits on the middle, a one-sided one on something that has that side. */
static gboolean
check_parent_side (FwReader *r, const FwDesign *design, int i)
{
  const FwPanel *panel = &design->panels[i];
  if (panel->on == FW_ON_BODY)
    return TRUE;

  const FwPanel *parent = &design->panels[panel->on];
  gboolean fits = parent->side == FW_SIDE_MIDDLE || panel->side == parent->side
                  || (parent->side == FW_SIDE_BOTH && panel->side != FW_SIDE_MIDDLE);
  if (fits)
    return TRUE;
  gsize mark = fw_read_enter_nth (r, "panels", i);
  fw_read_fail (r, "side", FW_DOC_ERROR_INVALID,
                _("a side that \"%s\" has was expected: that panel is \"%s\", this one \"%s\""),
                parent->name, fw_side_words[parent->side], fw_side_words[panel->side]);
  fw_read_leave (r, mark);
  return FALSE;
}

/* Follows each panel down to the body; one that comes back to itself is refused. */
static gboolean
check_hanging (FwReader *r, const FwDesign *design)
{
  int n = design->n_panels;
  int *reached
      = g_new0 (int, n + 1); /* 0: not yet; i + 1: on the walk from panel i; -1: ends at the body */
  gboolean good = TRUE;

  for (int i = 0; i < n && good; i++)
    {
      int at = i;
      while (at != FW_ON_BODY && reached[at] == 0)
        {
          reached[at] = i + 1;
          at = design->panels[at].on;
        }
      if (at != FW_ON_BODY && reached[at] == i + 1)
        {
          gsize mark = fw_read_enter_nth (r, "panels", at);
          good = fw_read_fail (
              r, "on", FW_DOC_ERROR_INVALID,
              _("a panel that hangs on the body in the end was expected, but \"%s\" "
                 "hangs on itself"),
              design->panels[at].name);
          fw_read_leave (r, mark);
        }
      for (at = i; at != FW_ON_BODY && reached[at] == i + 1; at = design->panels[at].on)
        reached[at] = -1;
    }
  g_free (reached);
  return good;
}

gboolean
fw_read_panels (FwReader *r, const cJSON *root, FwDesign *design, FwNames *names)
{
  const cJSON *array, *item;
  int i = 0;

  if (!fw_read_array (r, root, "panels", FW_REQUIRED, &array))
    return FALSE;
  int n = cJSON_GetArraySize (array);
  design->panels = calloc ((size_t)n + 1, sizeof *design->panels);
  if (!design->panels)
    return fw_read_no_memory (r);
  design->n_panels = n;
  if (!read_names (r, array, design, names))
    return FALSE;
  cJSON_ArrayForEach (item, array)
  {
    gsize mark = fw_read_enter_nth (r, "panels", i);
    if (!read_panel (r, item, &design->panels[i], names))
      return FALSE;
    fw_read_leave (r, mark);
    i++;
  }
  for (i = 0; i < n; i++)
    if (!check_parent_side (r, design, i))
      return FALSE;
  return check_hanging (r, design);
}
