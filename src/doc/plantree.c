/* A plan as a design file. */
#include "doc/plan.h"

#include <math.h>
#include <stdarg.h>

#include <glib/gi18n.h>

#define DEG (G_PI / 180)
#define HORN 0.1  /* of the wing: height of the horn that folds an outer panel */
#define FOLD 0.55 /* how far an outer panel turns back against the one that carries it */
#define TIE_APART 0.04 /* of the wing: ties of neighbouring panels pass this far from the middle */
#define EDGE_POINTS 5
#define SHEET_DENSITY 200 /* g/m2 for each mm: stiff board; common practice, weigh your own */

static const char *const panel_names[] = { "inner", "outer", "tip" };

/* Multiples of the step, without the dust of binary fractions. */
static double
neat (const FwPlan *plan, double value)
{
  return round (round (value / plan->step) * plan->step * 1e4) / 1e4;
}

static void
add_neat (const FwPlan *plan, cJSON *object, const char *key, double value)
{
  cJSON_AddNumberToObject (object, key, neat (plan, value));
}

/* `key` NULL: as an item of an array. */
static cJSON *
add_list (const FwPlan *plan, cJSON *parent, const char *key, int n, ...)
{
  double values[4];
  va_list args;

  va_start (args, n);
  for (int i = 0; i < n; i++)
    values[i] = neat (plan, va_arg (args, double));
  va_end (args);
  cJSON *list = cJSON_CreateDoubleArray (values, n);
  if (key)
    cJSON_AddItemToObject (parent, key, list);
  else
    cJSON_AddItemToArray (parent, list);
  return list;
}

static cJSON *
add_object_to_array (cJSON *array)
{
  cJSON *object = cJSON_CreateObject ();
  cJSON_AddItemToArray (array, object);
  return object;
}

static const char *
wing_side (const FwPlan *plan)
{
  return plan->guide.both_sides ? "both" : "right";
}

/* ---- Crank, body, base ---- */

static double
pin_width (const FwPlan *plan)
{
  return plan->guide.span_mm / 45;
}

static void
add_throw (const FwPlan *plan, cJSON *throws, const char *name, double radius, double phase,
           double station, gboolean both)
{
  cJSON *throw = add_object_to_array (throws);
  cJSON_AddStringToObject (throw, "name", name);
  add_neat (plan, throw, "radius", radius);
  cJSON_AddNumberToObject (throw, "phase", phase);
  add_neat (plan, throw, "station", station);
  if (both)
    cJSON_AddStringToObject (throw, "side", "both");
  add_neat (plan, throw, "width", pin_width (plan));
}

static void
add_crank (const FwPlan *plan, cJSON *root)
{
  const FwGuide *guide = &plan->guide;
  gboolean along = guide->runs == FW_RUNS_ALONG, fixed = guide->ride == FW_RIDE_FIXED;
  cJSON *crank = cJSON_AddObjectToObject (root, "crank");

  cJSON_AddStringToObject (crank, "runs", along ? "along" : "across");
  cJSON_AddNumberToObject (crank, "turns_per_minute",
                           round (CLAMP (900 / sqrt (guide->span_mm), 8, 60)));
  add_neat (plan, crank, "diameter", MAX (guide->span_mm / 110, 2 * plan->step));
  cJSON *throws = cJSON_AddArrayToObject (crank, "throws");
  if (!fixed)
    add_throw (plan, throws, "mid", plan->body_radius, 0, 0, FALSE);
  /* The wings' throw stands opposite the body's: as the body sinks, the wings rise. */
  add_throw (plan, throws, "wing", plan->wing_radius, fixed ? 0 : 180, plan->station,
             guide->both_sides && !along);
}

static void
add_ride (const FwPlan *plan, cJSON *body)
{
  static const char *const rides[] = { "fixed", "rail", "sleeve", "rocker" };
  FwRide ride = plan->guide.ride;

  cJSON_AddStringToObject (body, "ride", rides[ride]);
  if (ride == FW_RIDE_FIXED)
    {
      add_list (plan, body, "at", 3, 0.0, 0.0, plan->height);
      cJSON_AddNumberToObject (body, "tilt", 0);
      return;
    }
  cJSON_AddStringToObject (body, "throw", "mid");
  add_neat (plan, body, ride == FW_RIDE_RAIL ? "rod" : "post", plan->height);
  if (ride == FW_RIDE_RAIL)
    cJSON_AddNumberToObject (body, "offset", 0);
  if (ride == FW_RIDE_SLEEVE)
    add_list (plan, body, "guide", 2, 0.0, 0.45 * plan->height);
  if (ride == FW_RIDE_ROCKER)
    {
      /* The link lies level when the throw does, so that the post leans to both sides alike. */
      double on = neat (plan, 0.5 * plan->height), length = neat (plan, 0.4 * plan->height);
      cJSON *link = cJSON_AddObjectToObject (body, "link");
      add_list (plan, link, "pivot", 2, -length, on);
      add_neat (plan, link, "length", length);
      add_neat (plan, link, "on", on);
    }
}

static void
add_body (const FwPlan *plan, cJSON *root)
{
  cJSON *body = cJSON_AddObjectToObject (root, "body");
  double metres = plan->guide.span_mm / 1000;

  add_ride (plan, body);
  cJSON_AddNumberToObject (body, "mass", MAX (round (900 * metres * metres), 1));
  add_list (plan, body, "centre", 3, 0.0, 0.05 * plan->half, 0.03 * plan->half);
  add_neat (plan, body, "gyration", 0.25 * plan->half);
}

static void
add_base (const FwPlan *plan, cJSON *root)
{
  gboolean across = plan->guide.runs == FW_RUNS_ACROSS;
  double radius = MAX (plan->body_radius, plan->wing_radius);
  double room = MAX (0.05 * plan->half, 4 * plan->step);
  double past = plan->station + pin_width (plan) + room;
  double before = plan->guide.both_sides && across ? past : pin_width (plan) + room;
  double depth = radius + plan->guide.span_mm / 110 + room;
  double length = 2 * (MAX (past, before) + 2 * room);
  double width = MAX (2 * depth + 2 * room, 0.4 * plan->half);
  cJSON *base = cJSON_AddObjectToObject (root, "base");

  add_list (plan, base, "plate", 3, across ? length : width, across ? width : length,
            MAX (plan->guide.span_mm / 60, 2 * plan->step));
  add_neat (plan, base, "top", -depth);
  add_list (plan, base, "bearings", 2, -before, past);
  add_neat (plan, base, "handle", MIN (plan->guide.span_mm / 15, 0.9 * depth));
}

/* ---- Panels ---- */

/* Front and rear edge of the whole wing at a fraction of its length from the hinge, mm. */
static double
front_edge (const FwPlan *plan, double at)
{
  return plan->wing * 0.16 * (1 - 0.55 * at * at);
}

static double
rear_edge (const FwPlan *plan, double at)
{
  return -plan->wing * 0.27 * sqrt (MAX (1 - at * at * at, 0)) * (1 - 0.12 * sin (G_PI * at));
}

static void
add_outline (const FwPlan *plan, cJSON *panel, double start, double span)
{
  cJSON *outline = cJSON_AddArrayToObject (panel, "outline");

  for (int i = 0; i < EDGE_POINTS; i++)
    {
      double u = span * i / (EDGE_POINTS - 1);
      add_list (plan, outline, NULL, 2, u, rear_edge (plan, (start + u) / plan->wing));
    }
  for (int i = EDGE_POINTS - 1; i >= 0; i--)
    {
      double u = span * i / (EDGE_POINTS - 1);
      add_list (plan, outline, NULL, 2, u, front_edge (plan, (start + u) / plan->wing));
    }
}

static void
add_panels (const FwPlan *plan, cJSON *root)
{
  cJSON *panels = cJSON_AddArrayToObject (root, "panels");
  double start = 0, thickness = MAX (plan->guide.span_mm / 450, plan->step);

  for (int i = 0; i < plan->guide.panels_a_side; i++)
    {
      cJSON *panel = add_object_to_array (panels);
      cJSON_AddStringToObject (panel, "name", panel_names[i]);
      cJSON_AddStringToObject (panel, "side", wing_side (plan));
      cJSON_AddStringToObject (panel, "on", i == 0 ? "body" : panel_names[i - 1]);
      add_list (plan, panel, "hinge", 3, i == 0 ? plan->hinge : plan->spans[i - 1], 0.0, 0.0);
      add_neat (plan, panel, "span", plan->spans[i]);
      if (plan->has_stops)
        cJSON_AddItemToObject (panel, "stops", cJSON_CreateDoubleArray (plan->stops[i], 2));
      add_outline (plan, panel, start, plan->spans[i]);
      add_neat (plan, panel, "thickness", thickness);
      cJSON_AddNumberToObject (panel, "areal", round (SHEET_DENSITY * neat (plan, thickness)));
      cJSON_AddStringToObject (panel, "material", "card");
      start += plan->spans[i];
    }
}

/* ---- Rods ---- */

static cJSON *
add_rod (const FwPlan *plan, cJSON *rods, const char *name)
{
  cJSON *rod = add_object_to_array (rods);
  cJSON_AddStringToObject (rod, "name", name);
  cJSON_AddStringToObject (rod, "side", wing_side (plan));
  return rod;
}

static void
add_rod_end (const FwPlan *plan, cJSON *rod, const char *panel, double u, double v, double w)
{
  cJSON *to = cJSON_AddObjectToObject (rod, "to");
  cJSON_AddStringToObject (to, "panel", panel);
  add_list (plan, to, "at", 3, u, v, w);
}

static double
rod_diameter (const FwPlan *plan)
{
  return MAX (plan->guide.span_mm / 300, plan->step);
}

static void
add_drive_rod (const FwPlan *plan, cJSON *rods)
{
  gboolean fixed = plan->guide.ride == FW_RIDE_FIXED, along = plan->guide.runs == FW_RUNS_ALONG;
  cJSON *rod = add_rod (plan, rods, "drive");
  cJSON *from = cJSON_AddObjectToObject (rod, "from");

  cJSON_AddStringToObject (from, "throw", "wing");
  add_rod_end (plan, rod, "inner", plan->arm * cos (plan->arm_deg * DEG), along ? plan->station : 0,
               plan->arm * sin (plan->arm_deg * DEG));
  add_neat (plan, rod, "length", plan->rod);
  cJSON_AddNumberToObject (rod, "near",
                           round (fixed ? plan->guide.top_deg : plan->guide.bottom_deg));
  add_neat (plan, rod, "diameter", rod_diameter (plan));
  cJSON_AddStringToObject (rod, "material", "brass");
}

/* A tie runs over panel i - 1 from a point above that one's hinge to a horn above the hinge of
 * panel i: as panel i - 1 rises, panel i folds back by about FOLD times as much. */
static void
add_tie (const FwPlan *plan, cJSON *rods, int i)
{
  static const char *const names[] = { "", "tie", "tip-tie" };
  double horn = neat (plan, HORN * plan->wing), foot = neat (plan, FOLD * HORN * plan->wing);
  double aside = TIE_APART * plan->wing * (i == 1 ? 1 : -1);
  double span = plan->spans[i - 1], angle = i == 1 ? plan->mid_deg * DEG : 0;
  cJSON *rod = add_rod (plan, rods, names[i]);
  cJSON *from = cJSON_AddObjectToObject (rod, "from");

  if (i == 1)
    add_list (plan, from, "body", 3, plan->hinge, aside, foot);
  else
    {
      cJSON_AddStringToObject (from, "panel", panel_names[i - 2]);
      add_list (plan, from, "at", 3, plan->spans[i - 2], aside, foot);
    }
  add_rod_end (plan, rod, panel_names[i], 0, aside, horn);
  add_neat (plan, rod, "length", hypot (span - foot * sin (angle), horn - foot * cos (angle)));
  cJSON_AddNumberToObject (rod, "near", 0);
  add_neat (plan, rod, "diameter", rod_diameter (plan));
  cJSON_AddStringToObject (rod, "material", "brass");
  /* It does not stand on the crank: its foot is a pin along the hinge. */
  cJSON_AddNumberToObject (rod, "lean_limit", 90);
}

static void
add_rods (const FwPlan *plan, cJSON *root)
{
  cJSON *rods = cJSON_AddArrayToObject (root, "rods");

  add_drive_rod (plan, rods);
  for (int i = 1; i < plan->guide.panels_a_side; i++)
    add_tie (plan, rods, i);
}

/* ---- Look ---- */

static void
add_look (const FwPlan *plan, cJSON *root)
{
  /* Along, low, high, half width: tail to bill, in halves of the span. */
  static const double sections[][4] = {
    { -0.42, 0.00, 0.03, 0.015 }, { -0.24, -0.05, 0.07, 0.045 }, { 0.00, -0.09, 0.09, 0.062 },
    { 0.20, -0.07, 0.10, 0.052 }, { 0.33, -0.01, 0.12, 0.040 },  { 0.43, 0.01, 0.11, 0.030 },
    { 0.58, 0.05, 0.07, 0.006 },
  };
  cJSON *look = cJSON_AddObjectToObject (root, "look");
  cJSON *body = cJSON_AddObjectToObject (look, "body");
  cJSON *list = cJSON_AddArrayToObject (body, "sections");

  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    add_list (plan, list, NULL, 4, sections[i][0] * plan->half, sections[i][1] * plan->half,
              sections[i][2] * plan->half, sections[i][3] * plan->half);
  add_list (plan, body, "eye", 3, 0.40 * plan->half, 0.085 * plan->half,
            MAX (0.012 * plan->half, plan->step));
}

cJSON *
fw_plan_to_tree (const FwPlan *plan, const char *title)
{
  cJSON *root = cJSON_CreateObject ();

  cJSON_AddStringToObject (root, "format", "flapwright design");
  cJSON_AddNumberToObject (root, "version", 1);
  cJSON_AddStringToObject (root, "title", title);
  add_crank (plan, root);
  add_body (plan, root);
  add_panels (plan, root);
  add_rods (plan, root);
  add_base (plan, root);
  add_look (plan, root);
  return root;
}
