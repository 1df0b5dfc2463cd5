/* A plan as a design file. */
#include "doc/plan.h"

#include <math.h>
#include <stdarg.h>

#include <glib/gi18n.h>

#include "doc/document.h"

#define DEG (G_PI / 180)
#define HORN 0.1  /* of the wing: height of the horn that folds an outer panel */
#define FOLD 0.55 /* how far an outer panel turns back against the one that carries it */
#define TIE_APART 0.04 /* of the wing: ties of neighbouring panels pass this far from the middle */
#define EDGE_POINTS 5
#define SHEET_DENSITY 200 /* g/m2 for each mm: stiff board; common practice, weigh your own */

static const char *const panel_names[] = { "inner", "outer", "tip" };

/* A plan being written out. */
typedef struct
{
  const FwPlan *plan;
  gboolean whole; /* FALSE once memory ran out */
} Draft;

/* Multiples of the step, without the dust of binary fractions. */
static double
neat (const FwPlan *plan, double value)
{
  return round (round (value / plan->step) * plan->step * 1e4) / 1e4;
}

/* Takes the item over, and gives it back where it now stands; `key` NULL: as an item of an array. Either may be NULL
 * where memory ran out before, and then it is so here. */
static cJSON *
put (Draft *draft, cJSON *parent, const char *key, cJSON *item)
{
  if (item && (key ? cJSON_AddItemToObject (parent, key, item) : cJSON_AddItemToArray (parent, item)))
    return item;
  cJSON_Delete (item);
  draft->whole = FALSE;
  return NULL;
}

static void
add_number (Draft *draft, cJSON *object, const char *key, double value)
{
  put (draft, object, key, cJSON_CreateNumber (value));
}

static void
add_text (Draft *draft, cJSON *object, const char *key, const char *text)
{
  put (draft, object, key, cJSON_CreateString (text));
}

static cJSON *
add_object (Draft *draft, cJSON *object, const char *key)
{
  return put (draft, object, key, cJSON_CreateObject ());
}

static cJSON *
add_array (Draft *draft, cJSON *object, const char *key)
{
  return put (draft, object, key, cJSON_CreateArray ());
}

static void
add_neat (Draft *draft, cJSON *object, const char *key, double value)
{
  add_number (draft, object, key, neat (draft->plan, value));
}

/* `key` NULL: as an item of an array. */
static void
add_list (Draft *draft, cJSON *parent, const char *key, int n, ...)
{
  double values[4];
  va_list args;

  va_start (args, n);
  for (int i = 0; i < n; i++)
    values[i] = neat (draft->plan, va_arg (args, double));
  va_end (args);
  put (draft, parent, key, cJSON_CreateDoubleArray (values, n));
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
add_throw (Draft *draft, cJSON *throws, const char *name, double radius, double phase,
           double station, gboolean both)
{
  const FwPlan *plan = draft->plan;
  cJSON *throw = put (draft, throws, NULL, cJSON_CreateObject ());
  add_text (draft, throw, "name", name);
  add_neat (draft, throw, "radius", radius);
  add_number (draft, throw, "phase", phase);
  add_neat (draft, throw, "station", station);
  if (both)
    add_text (draft, throw, "side", "both");
  add_neat (draft, throw, "width", pin_width (plan));
}

static void
add_crank (Draft *draft, cJSON *root)
{
  const FwPlan *plan = draft->plan;
  const FwGuide *guide = &plan->guide;
  gboolean along = guide->runs == FW_RUNS_ALONG, fixed = guide->ride == FW_RIDE_FIXED;
  cJSON *crank = add_object (draft, root, "crank");

  add_text (draft, crank, "runs", along ? "along" : "across");
  add_number (draft, crank, "turns_per_minute",
                           round (CLAMP (900 / sqrt (guide->span_mm), 8, 60)));
  add_neat (draft, crank, "diameter", MAX (guide->span_mm / 110, 2 * plan->step));
  cJSON *throws = add_array (draft, crank, "throws");
  if (!fixed)
    add_throw (draft, throws, "mid", plan->body_radius, 0, 0, FALSE);
  /* The wings' throw stands opposite the body's: as the body sinks, the wings rise. */
  add_throw (draft, throws, "wing", plan->wing_radius, fixed ? 0 : 180, plan->station,
             guide->both_sides && !along);
}

static void
add_ride (Draft *draft, cJSON *body)
{
  const FwPlan *plan = draft->plan;
  FwRide ride = plan->guide.ride;

  add_text (draft, body, "ride", fw_ride_words[ride]);
  if (ride == FW_RIDE_FIXED)
    {
      add_list (draft, body, "at", 3, 0.0, 0.0, plan->height);
      add_number (draft, body, "tilt", 0);
      return;
    }
  add_text (draft, body, "throw", "mid");
  add_neat (draft, body, ride == FW_RIDE_RAIL ? "rod" : "post", plan->height);
  if (ride == FW_RIDE_RAIL)
    add_number (draft, body, "offset", 0);
  if (ride == FW_RIDE_SLEEVE)
    add_list (draft, body, "guide", 2, 0.0, 0.45 * plan->height);
  if (ride == FW_RIDE_ROCKER)
    {
      /* The link lies level when the throw does, so that the post leans to both sides alike. */
      double on = neat (plan, 0.5 * plan->height), length = neat (plan, 0.4 * plan->height);
      cJSON *link = add_object (draft, body, "link");
      add_list (draft, link, "pivot", 2, -length, on);
      add_neat (draft, link, "length", length);
      add_neat (draft, link, "on", on);
    }
}

static void
add_body (Draft *draft, cJSON *root)
{
  const FwPlan *plan = draft->plan;
  cJSON *body = add_object (draft, root, "body");
  double metres = plan->guide.span_mm / 1000;

  add_ride (draft, body);
  add_number (draft, body, "mass", MAX (round (900 * metres * metres), 1));
  add_list (draft, body, "centre", 3, 0.0, 0.05 * plan->half, 0.03 * plan->half);
  add_neat (draft, body, "gyration", 0.25 * plan->half);
}

static void
add_base (Draft *draft, cJSON *root)
{
  const FwPlan *plan = draft->plan;
  gboolean across = plan->guide.runs == FW_RUNS_ACROSS;
  double radius = MAX (plan->body_radius, plan->wing_radius);
  double room = MAX (0.05 * plan->half, 4 * plan->step);
  double past = plan->station + pin_width (plan) + room;
  double before = plan->guide.both_sides && across ? past : pin_width (plan) + room;
  double depth = radius + plan->guide.span_mm / 110 + room;
  double length = 2 * (MAX (past, before) + 2 * room);
  double width = MAX (2 * depth + 2 * room, 0.4 * plan->half);
  cJSON *base = add_object (draft, root, "base");

  add_list (draft, base, "plate", 3, across ? length : width, across ? width : length,
            MAX (plan->guide.span_mm / 60, 2 * plan->step));
  add_neat (draft, base, "top", -depth);
  add_list (draft, base, "bearings", 2, -before, past);
  add_neat (draft, base, "handle", MIN (plan->guide.span_mm / 15, 0.9 * depth));
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
add_outline (Draft *draft, cJSON *panel, double start, double span)
{
  const FwPlan *plan = draft->plan;
  cJSON *outline = add_array (draft, panel, "outline");

  for (int i = 0; i < EDGE_POINTS; i++)
    {
      double u = span * i / (EDGE_POINTS - 1);
      add_list (draft, outline, NULL, 2, u, rear_edge (plan, (start + u) / plan->wing));
    }
  for (int i = EDGE_POINTS - 1; i >= 0; i--)
    {
      double u = span * i / (EDGE_POINTS - 1);
      add_list (draft, outline, NULL, 2, u, front_edge (plan, (start + u) / plan->wing));
    }
}

static void
add_panels (Draft *draft, cJSON *root)
{
  const FwPlan *plan = draft->plan;
  cJSON *panels = add_array (draft, root, "panels");
  double start = 0, thickness = MAX (plan->guide.span_mm / 450, plan->step);

  for (int i = 0; i < plan->guide.panels_a_side; i++)
    {
      cJSON *panel = put (draft, panels, NULL, cJSON_CreateObject ());
      add_text (draft, panel, "name", panel_names[i]);
      add_text (draft, panel, "side", wing_side (plan));
      add_text (draft, panel, "on", i == 0 ? "body" : panel_names[i - 1]);
      add_list (draft, panel, "hinge", 3, i == 0 ? plan->hinge : plan->spans[i - 1], 0.0, 0.0);
      add_neat (draft, panel, "span", plan->spans[i]);
      if (plan->has_stops)
        put (draft, panel, "stops", cJSON_CreateDoubleArray (plan->stops[i], 2));
      add_outline (draft, panel, start, plan->spans[i]);
      add_neat (draft, panel, "thickness", thickness);
      add_number (draft, panel, "areal", round (SHEET_DENSITY * neat (plan, thickness)));
      add_text (draft, panel, "material", "card");
      start += plan->spans[i];
    }
}

/* ---- Rods ---- */

static cJSON *
add_rod (Draft *draft, cJSON *rods, const char *name)
{
  cJSON *rod = put (draft, rods, NULL, cJSON_CreateObject ());
  add_text (draft, rod, "name", name);
  add_text (draft, rod, "side", wing_side (draft->plan));
  return rod;
}

static void
add_rod_end (Draft *draft, cJSON *rod, const char *panel, double u, double v, double w)
{
  cJSON *to = add_object (draft, rod, "to");
  add_text (draft, to, "panel", panel);
  add_list (draft, to, "at", 3, u, v, w);
}

static double
rod_diameter (const FwPlan *plan)
{
  return MAX (plan->guide.span_mm / 300, plan->step);
}

static void
add_drive_rod (Draft *draft, cJSON *rods)
{
  const FwPlan *plan = draft->plan;
  gboolean fixed = plan->guide.ride == FW_RIDE_FIXED, along = plan->guide.runs == FW_RUNS_ALONG;
  cJSON *rod = add_rod (draft, rods, "drive");
  cJSON *from = add_object (draft, rod, "from");

  add_text (draft, from, "throw", "wing");
  add_rod_end (draft, rod, "inner", plan->arm * cos (plan->arm_deg * DEG), along ? plan->station : 0,
               plan->arm * sin (plan->arm_deg * DEG));
  add_neat (draft, rod, "length", plan->rod);
  add_number (draft, rod, "near",
                           round (fixed ? plan->guide.top_deg : plan->guide.bottom_deg));
  add_neat (draft, rod, "diameter", rod_diameter (plan));
  add_text (draft, rod, "material", "brass");
}

/* A tie runs over panel i - 1 from a point above that one's hinge to a horn above the hinge of
 * panel i: as panel i - 1 rises, panel i folds back by about FOLD times as much. */
static void
add_tie (Draft *draft, cJSON *rods, int i)
{
  const FwPlan *plan = draft->plan;
  static const char *const names[] = { "", "tie", "tip-tie" };
  double horn = neat (plan, HORN * plan->wing), foot = neat (plan, FOLD * HORN * plan->wing);
  double aside = TIE_APART * plan->wing * (i == 1 ? 1 : -1);
  double span = plan->spans[i - 1], angle = i == 1 ? plan->mid_deg * DEG : 0;
  cJSON *rod = add_rod (draft, rods, names[i]);
  cJSON *from = add_object (draft, rod, "from");

  if (i == 1)
    add_list (draft, from, "body", 3, plan->hinge, aside, foot);
  else
    {
      add_text (draft, from, "panel", panel_names[i - 2]);
      add_list (draft, from, "at", 3, plan->spans[i - 2], aside, foot);
    }
  add_rod_end (draft, rod, panel_names[i], 0, aside, horn);
  add_neat (draft, rod, "length", hypot (span - foot * sin (angle), horn - foot * cos (angle)));
  add_number (draft, rod, "near", 0);
  add_neat (draft, rod, "diameter", rod_diameter (plan));
  add_text (draft, rod, "material", "brass");
  /* It does not stand on the crank: its foot is a pin along the hinge. */
  add_number (draft, rod, "lean_limit", 90);
}

static void
add_rods (Draft *draft, cJSON *root)
{
  const FwPlan *plan = draft->plan;
  cJSON *rods = add_array (draft, root, "rods");

  add_drive_rod (draft, rods);
  for (int i = 1; i < plan->guide.panels_a_side; i++)
    add_tie (draft, rods, i);
}

/* ---- Look ---- */

static void
add_look (Draft *draft, cJSON *root)
{
  const FwPlan *plan = draft->plan;
  /* Along, low, high, half width: tail to bill, in halves of the span. */
  static const double sections[][4] = {
    { -0.42, 0.00, 0.03, 0.015 }, { -0.24, -0.05, 0.07, 0.045 }, { 0.00, -0.09, 0.09, 0.062 },
    { 0.20, -0.07, 0.10, 0.052 }, { 0.33, -0.01, 0.12, 0.040 },  { 0.43, 0.01, 0.11, 0.030 },
    { 0.58, 0.05, 0.07, 0.006 },
  };
  cJSON *look = add_object (draft, root, "look");
  cJSON *body = add_object (draft, look, "body");
  cJSON *list = add_array (draft, body, "sections");

  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    add_list (draft, list, NULL, 4, sections[i][0] * plan->half, sections[i][1] * plan->half,
              sections[i][2] * plan->half, sections[i][3] * plan->half);
  add_list (draft, body, "eye", 3, 0.40 * plan->half, 0.085 * plan->half,
            MAX (0.012 * plan->half, plan->step));
}

cJSON *
fw_plan_to_tree (const FwPlan *plan, const char *title)
{
  Draft draft = { plan, TRUE };
  cJSON *root = cJSON_CreateObject ();

  add_text (&draft, root, "format", "flapwright design");
  add_number (&draft, root, "version", 1);
  add_text (&draft, root, "title", title);
  add_crank (&draft, root);
  add_body (&draft, root);
  add_panels (&draft, root);
  add_rods (&draft, root);
  add_base (&draft, root);
  add_look (&draft, root);
  if (draft.whole)
    return root;
  cJSON_Delete (root);
  return NULL;
}
