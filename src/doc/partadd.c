/* New parts of sensible size. What must close over the turn is tried before it is chosen. */
#include "doc/partedit.h"

#include <limits.h>
#include <stdlib.h>
#include <math.h>

#include <string.h>

#include <glib/gi18n.h>

#include "core/trouble.h"
#include "doc/documenttree.h"
#include "doc/put.h"
#include "doc/read.h"

#define TRY_STEPS 72
#define LENGTH_STEPS 24

/* ---- Building objects ---- */

static gboolean
put_point (cJSON *object, const char *key, FwVec3 p)
{
  const double at[3] = { p.x, p.y, p.z };
  return fw_put_numbers (object, key, at, 3);
}

/* To half a millimetre, which is what anyone measures. */
static double
half (double value)
{
  return round (2 * value) / 2;
}


static gboolean
put_anchor (cJSON *part, const char *end, const FwDesign *d, const FwAnchor *a)
{
  cJSON *object = cJSON_AddObjectToObject (part, end);
  if (a->kind == FW_FROM_THROW)
    return fw_put_text (object, "throw", d->crank.throws[a->index].name);
  if (a->kind == FW_FROM_PANEL)
    return fw_put_text (object, "panel", d->panels[a->index].name) && put_point (object, "at", a->at_mm);
  return put_point (object, a->kind == FW_FROM_BODY ? "body" : "base", a->at_mm);
}

/* An object with a free name, at the end of its list; NULL: no memory. */
static cJSON *
new_part (cJSON *tree, FwPlace place, const char *stem)
{
  cJSON *list = fw_part_list (tree, place), *object = list ? cJSON_CreateObject () : NULL;
  char *name = list ? fw_part_free_name (list, stem) : NULL;
  if (object && (!cJSON_AddStringToObject (object, "name", name) || !cJSON_AddItemToArray (list, object)))
    {
      cJSON_Delete (object);
      object = NULL;
    }
  g_free (name);
  return object;
}

/* The neighbour of a kind: the picked one, else the last; -1: there is none. */
static int
neighbour (const FwDesign *d, const FwPartRef *near, FwPlace place)
{
  if (near && near->place == place && near->index >= 0 && near->index < fw_part_count (d, place))
    return near->index;
  return fw_part_count (d, place) - 1;
}

/* ---- On the crank and the body ---- */

static gboolean
add_throw (cJSON *tree, const FwDesign *d, const FwPartRef *near)
{
  int i = neighbour (d, near, FW_PLACE_THROW);
  const FwThrow *beside = i >= 0 ? &d->crank.throws[i] : NULL;
  cJSON *part = new_part (tree, FW_PLACE_THROW, C_("name of a new part", "throw"));
  double station = 0;
  for (int k = 0; k < d->crank.n_throws; k++)
    station = fmax (station, fabs (d->crank.throws[k].station_mm) + d->crank.throws[k].width_mm + 20);
  gboolean twins = d->crank.runs == FW_RUNS_ACROSS && beside;
  return fw_put_number (part, "radius", beside ? beside->radius_mm : 25)
         && fw_put_number (part, "phase", beside ? fmod (beside->phase_deg + 90, 360) : 0)
         && fw_put_number (part, "station", half (station)) && (!twins || fw_put_text (part, "side", "both"));
}

static gboolean
add_weight (cJSON *tree, const FwDesign *d, const FwPartRef *near)
{
  int i = near && near->place == FW_PLACE_THROW ? neighbour (d, near, FW_PLACE_THROW)
          : d->body.ride != FW_RIDE_FIXED       ? d->body.throw_index
                                                : d->crank.n_throws - 1;
  const FwThrow *beside = i >= 0 ? &d->crank.throws[i] : NULL;
  cJSON *part = new_part (tree, FW_PLACE_WEIGHT, C_("name of a new part", "counterweight"));
  return fw_put_number (part, "mass", 100) && fw_put_number (part, "radius", beside ? beside->radius_mm : 30)
         && fw_put_number (part, "phase", beside ? fmod (beside->phase_deg + 180, 360) : 180)
         && fw_put_number (part, "station", beside ? half (beside->station_mm + beside->width_mm / 2 + 10) : 0);
}

static gboolean
add_lump (cJSON *tree, const FwDesign *d)
{
  cJSON *part = new_part (tree, FW_PLACE_LUMP, C_("name of a new part", "weight"));
  return fw_put_number (part, "mass", 50) && put_point (part, "at", d->body.centre_mm);
}

/* ---- Panels ---- */

static gboolean
add_panel (cJSON *tree, const FwDesign *d, const FwPartRef *near)
{
  gboolean picked = near && near->place == FW_PLACE_PANEL && near->index >= 0 && near->index < d->n_panels;
  const FwPanel *on = picked ? &d->panels[near->index] : NULL;
  const FwPanel *like = on ? on : d->n_panels > 0 ? &d->panels[0] : NULL;
  cJSON *part = new_part (tree, FW_PLACE_PANEL, C_("name of a new part", "panel"));
  const double stops[2] = { -60, 60 };
  return fw_put_text (part, "side", on ? fw_side_words[on->side] : "both") && fw_put_text (part, "on", on ? on->name : "body")
         && put_point (part, "hinge", on ? (FwVec3) { on->span_mm, 0, 0 } : (FwVec3) { 40, 0, 0 })
         && fw_put_number (part, "span", half (like ? fmax (0.7 * like->span_mm, 0.5) : 150))
         && fw_put_numbers (part, "stops", stops, 2) && fw_put_number (part, "thickness", like ? like->thickness_mm : 2)
         && fw_put_text (part, "material", like ? like->material : "card");
}

/* ---- Trying ---- */

/* The less trouble the greater; INT_MIN: no valid design. */
static int
judge (const cJSON *tree)
{
  FwDesign *d = fw_design_read (tree, "", NULL);
  FwMechanism *m = NULL;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list = { .items = room, .capacity = FW_TROUBLE_ROOM };
  int score = INT_MIN;

  if (d && fw_mechanism_build (d, &m, NULL) == FW_OK)
    {
      FwTurn *turn = fw_turn_new (m, TRY_STEPS);
      if (turn)
        {
          fw_turn_solve (turn, m);
          fw_trouble_find (turn, m, &list);
          score = 0;
          for (int i = 0; i < list.n; i++)
            // cppcheck-suppress uninitvar ; the list writes to it
            score -= room[i].kind == FW_CANNOT_CLOSE ? 1000 : room[i].severity == FW_FAILURE ? 100 : 1 + 9 * (room[i].severity == FW_WARNING);
        }
      free (turn);
    }
  fw_mechanism_free (m);
  fw_design_free (d);
  return score;
}

typedef struct
{
  const FwDesign *design;
  FwMechanism *mech;
  FwPose *pose;
  FwFreeState free;
  double *zeros;
} Bench;

static gboolean
bench_open (Bench *b, const FwDesign *d)
{
  *b = (Bench) { .design = d };
  if (fw_mechanism_build (d, &b->mech, NULL) != FW_OK)
    return FALSE;
  b->pose = fw_pose_new (b->mech);
  b->zeros = g_new0 (double, (gsize) b->mech->n_members + 1);
  b->free = (FwFreeState) { .angle = b->zeros, .rate = b->zeros, .rate2 = b->zeros };
  return b->pose != NULL;
}

static void
bench_close (Bench *b)
{
  free (b->pose);
  g_free (b->zeros);
  fw_mechanism_free (b->mech);
}

/* With what hangs held straight. */
static void
bench_turn (Bench *b, double crank)
{
  fw_pose_solve_free (b->pose, b->mech, cos (crank), sin (crank), &b->free);
}

/* The right-hand or only member of a panel. */
static int
member_of (const FwMechanism *m, int panel)
{
  for (int i = 0; i < m->n_members; i++)
    if (m->members[i].panel == panel)
      return i;
  return -1;
}

static int
pin_of (const FwMechanism *m, int throw_index)
{
  int i = 0;
  while (m->pins[i].throw_index != throw_index) /* each throw has one; a twin follows its own */
    i++;
  return i;
}

/* ---- Rods ---- */

/* Midway between the shortest and the longest that the throw asks for with the panel level. */
static double
rod_length (Bench *b, int pin, int member, FwVec3 at)
{
  double least = INFINITY, most = 0;
  for (int i = 0; i < LENGTH_STEPS; i++)
    {
      bench_turn (b, 2 * G_PI * i / LENGTH_STEPS);
      FwVec3 to = fw_frame_to_world (&b->pose->members[member].motion.at, at);
      double far = fw_vec3_distance (to, b->pose->pins[pin].at);
      least = fmin (least, far);
      most = fmax (most, far);
    }
  return half ((least + most) / 2);
}

/* How far out along the panel it would stand straight over its throw; else a share of the span. */
static double
hold_for (Bench *b, int throw_index, int member, int candidate)
{
  static const double shares[] = { 0.6, 0.4, 0.25, 0.8 };
  double span = b->mech->members[member].span_mm;
  if (candidate > 0)
    return half (shares[candidate - 1] * span);
  bench_turn (b, 0);
  const FwFrame *f = &b->pose->members[member].motion.at;
  double u = fabs (f->u.x) > 0.3 ? (fabs (b->design->crank.throws[throw_index].station_mm) - f->origin.x) / f->u.x : 0;
  return half (u > 0.15 * span && u < 0.95 * span ? u : 0.5 * span);
}

static gboolean
put_rod (cJSON *tree, const FwDesign *d, int panel, const FwAnchor *from, FwVec3 at, double length)
{
  cJSON *part = new_part (tree, FW_PLACE_ROD, C_("name of a new part", "rod"));
  const FwAnchor to = { FW_FROM_PANEL, panel, at };
  return fw_put_text (part, "side", fw_side_words[d->panels[panel].side]) && put_anchor (part, "from", d, from)
         && put_anchor (part, "to", d, &to) && fw_put_number (part, "length", fmax (length, 1))
         && fw_put_number (part, "near", 0);
}

/* The panel to drive: the picked one if it hangs, else the first that does; -1: none. */
static int
hanging_panel (const FwMechanism *m, const FwPartRef *near)
{
  int first = -1;
  for (int i = 0; i < m->n_members; i++)
    {
      if (m->members[i].rod >= 0)
        continue;
      if (near && near->place == FW_PLACE_PANEL && near->index == m->members[i].panel)
        return i;
      first = first < 0 ? i : first;
    }
  return first;
}

/* Puts in the best of what was tried. */
static gboolean
add_rod (cJSON *tree, const FwDocument *doc, const FwPartRef *near, GError **error)
{
  const FwDesign *d = fw_document_design (doc);
  Bench b;
  int best = INT_MIN;
  cJSON *chosen = NULL;
  gboolean open = bench_open (&b, d);
  int member = open ? hanging_panel (b.mech, near) : -1;
  cJSON *plain = cJSON_Duplicate (tree, TRUE); /* what is tried needs no log */
  cJSON_DeleteItemFromObjectCaseSensitive (plain, "log");
  cJSON_DeleteItemFromObjectCaseSensitive (plain, "versions");

  for (int t = 0; member >= 0 && t < d->crank.n_throws && t < 8; t++)
    for (int candidate = 0; candidate < 5; candidate++)
      {
        const FwAnchor from = { .kind = FW_FROM_THROW, .index = t };
        const FwVec3 at = { hold_for (&b, t, member, candidate), 0, -10 };
        cJSON *copy = cJSON_Duplicate (plain, TRUE);
        int panel = b.mech->members[member].panel;
        double length = rod_length (&b, pin_of (b.mech, t), member, at);
        int score = copy && put_rod (copy, d, panel, &from, at, length) ? judge (copy) : INT_MIN;
        cJSON *worse = score > best ? chosen : copy;
        if (score > best)
          {
            best = score;
            chosen = copy;
          }
        cJSON_Delete (worse);
      }
  bench_close (&b);
  cJSON_Delete (plain);
  if (!chosen)
    {
      g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID,
                           member < 0 ? _("Every panel has its rod: add a panel first")
                                      : _("No throw can carry a rod for this panel: add a throw first"));
      return FALSE;
    }
  cJSON *rods = cJSON_DetachItemFromObjectCaseSensitive (chosen, "rods");
  gboolean good = fw_put_item (tree, "rods", rods);
  cJSON_Delete (chosen);
  return good ? TRUE : fw_document_no_memory (doc, error);
}

/* ---- Springs ---- */

static gboolean
put_spring (cJSON *tree, const FwDesign *d, const FwSpringPart *s)
{
  cJSON *part = new_part (tree, FW_PLACE_SPRING, s->cord ? C_("name of a new part", "cord") : C_("name of a new part", "spring"));
  return fw_put_text (part, "side", fw_side_words[s->side]) && put_anchor (part, "from", d, &s->from)
         && put_anchor (part, "to", d, &s->to) && fw_put_number (part, "rate", s->rate_Npmm)
         && fw_put_number (part, "free", s->free_mm)
         && (!s->cord || cJSON_AddTrueToObject (part, "cord") != NULL);
}

/* From the base straight below to the middle of a driven panel, else to the body. */
static gboolean
add_spring (cJSON *tree, const FwDesign *d, const FwPartRef *near)
{
  Bench b;
  FwSpringPart s = { .side = FW_SIDE_MIDDLE, .rate_Npmm = 0.02, .to = { .kind = FW_FROM_BODY } };
  FwVec3 end = { 0, 0, 0 };
  gboolean open = bench_open (&b, d);
  if (open)
    {
      fw_pose_solve (b.pose, b.mech, 0);
      int wanted = near && near->place == FW_PLACE_PANEL ? near->index : -1, member = wanted >= 0 ? member_of (b.mech, wanted) : -1;
      if (member >= 0 && b.mech->members[member].rod >= 0)
        {
          s.side = d->panels[wanted].side;
          s.to = (FwAnchor) { FW_FROM_PANEL, wanted, { half (0.5 * d->panels[wanted].span_mm), 0, 0 } };
          end = fw_frame_to_world (&b.pose->members[member].motion.at, s.to.at_mm);
          if (b.mech->members[member].left)
            end.x = -end.x;
        }
      else
        end = b.pose->body.motion.at.origin;
    }
  bench_close (&b);
  double plate[3], top;
  fw_design_base (d, plate, &top);
  if (!open || !isfinite (end.x) || !isfinite (end.y) || !isfinite (end.z))
    return FALSE;
  s.from = (FwAnchor) { FW_FROM_BASE, 0, { half (end.x), half (end.y), fmin (half (top), half (end.z) - 20) } };
  if (s.side == FW_SIDE_MIDDLE)
    s.from.at_mm.x = 0;
  s.free_mm = half (0.8 * (end.z - s.from.at_mm.z));
  return put_spring (tree, d, &s);
}

gboolean
fw_document_fit_spring (FwDocument *doc, const FwSpringFit *fit, const char *label, GError **error)
{
  cJSON *tree = fw_document_copy_tree (doc);
  if (!tree || !put_spring (tree, fw_document_design (doc), &fit->spring))
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  return fw_document_take_tree (doc, tree, label, NULL, error);
}

/* ---- All kinds ---- */

static const char *
label_of (FwPlace place)
{
  static const char *const labels[FW_N_PLACES]
      = { N_("Add a throw"),  N_("Add a panel"),         N_("Add a rod"),
          N_("Add a spring"), N_("Add a counterweight"), N_("Add a weight on the body") };
  return _(labels[place]);
}

gboolean
fw_document_add_part (FwDocument *doc, FwPlace place, const FwPartRef *near, FwPartRef *added, GError **error)
{
  const FwDesign *d = fw_document_design (doc);
  cJSON *tree = fw_document_copy_tree (doc);
  gboolean good = tree != NULL;

  if (good && place == FW_PLACE_ROD && !add_rod (tree, doc, near, error))
    {
      cJSON_Delete (tree);
      return FALSE;
    }
  if (good && place != FW_PLACE_ROD)
    good = place == FW_PLACE_THROW    ? add_throw (tree, d, near)
           : place == FW_PLACE_PANEL  ? add_panel (tree, d, near)
           : place == FW_PLACE_SPRING ? add_spring (tree, d, near)
           : place == FW_PLACE_WEIGHT ? add_weight (tree, d, near)
                                      : add_lump (tree, d);
  if (!good)
    {
      cJSON_Delete (tree);
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("%s: no such part can be added to this design"),
                   fw_document_name (doc));
      return FALSE;
    }
  int index = fw_part_count (d, place);
  if (!fw_document_take_tree (doc, tree, label_of (place), NULL, error))
    return FALSE;
  *added = (FwPartRef) { place, index };
  return TRUE;
}
