#include "doc/choices.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#include "core/inertia.h"
#include "core/pose.h"
#include "doc/documenttree.h"
#include "doc/fitweight.h"
#include "doc/materials.h"
#include "doc/put.h"

static cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static cJSON *
holder_in (cJSON *tree, FwHolder holder)
{
  static const char *const keys[] = { NULL, "crank", "body", "base", "drive" };
  if (holder.kind == FW_HOLDER_PART)
    return cJSON_GetArrayItem (fw_part_list (tree, holder.ref.place), holder.ref.index);
  cJSON *object = get (tree, keys[holder.kind]);
  return object ? object : cJSON_AddObjectToObject (tree, keys[holder.kind]);
}

/* ---- Listing ---- */

static void
choice_free (gpointer data)
{
  FwChoice *c = data;
  g_ptr_array_unref (c->ids);
  g_ptr_array_unref (c->words);
  g_free (c);
}

static FwChoice *
new_choice (GPtrArray *list, FwHolder holder, const char *key, const char *label)
{
  FwChoice *c = g_new0 (FwChoice, 1);
  *c = (FwChoice) { .holder = holder, .key = key, .label = label, .ids = g_ptr_array_new_with_free_func (g_free),
                    .words = g_ptr_array_new_with_free_func (g_free) };
  g_ptr_array_add (list, c);
  return c;
}

static void
option (FwChoice *c, const char *id, const char *words, gboolean now)
{
  if (now)
    c->now = (int) c->ids->len;
  g_ptr_array_add (c->ids, g_strdup (id));
  g_ptr_array_add (c->words, g_strdup (words));
}

/* The program's own, the design's, and the one it has, however that is written. */
static void
add_material (GPtrArray *list, FwHolder holder, const FwDocument *doc, const char *now)
{
  FwChoice *c = new_choice (list, holder, "material", _("Material"));
  GPtrArray *names = fw_material_names (get (get (fw_document_tree (doc), "stock"), "materials"));
  gboolean found = FALSE;
  for (guint i = 0; i < names->len; i++)
    {
      const char *name = names->pdata[i];
      found = found || strcmp (name, now) == 0;
      option (c, name, fw_material_words (name), strcmp (name, now) == 0);
    }
  if (!found)
    option (c, now, fw_material_words (now), TRUE);
  g_ptr_array_unref (names);
}

static void
add_words (GPtrArray *list, FwHolder holder, const char *key, const char *label, const char *const *ids,
           const char *const *words, int n, int now)
{
  FwChoice *c = new_choice (list, holder, key, label);
  for (int i = 0; i < n; i++)
    option (c, ids[i], g_dpgettext2 (NULL, "choice", words[i]), i == now);
}

static void
add_throws (GPtrArray *list, FwHolder holder, const char *key, const FwDesign *d, int now)
{
  FwChoice *c = new_choice (list, holder, key, _("Throw"));
  for (int i = 0; i < d->crank.n_throws; i++)
    option (c, d->crank.throws[i].name, d->crank.throws[i].name, i == now);
}

static const char *const side_words[] = { NC_("choice", "in the middle"), NC_("choice", "both sides"), NC_("choice", "right only"), NC_("choice", "left only") };

static gboolean
hangs_on (const FwDesign *d, int panel, int on)
{
  for (int i = 0; i < d->n_panels && panel != FW_ON_BODY; i++, panel = d->panels[panel].on)
    if (panel == on)
      return TRUE;
  return FALSE;
}

static void
panel_choices (GPtrArray *list, FwHolder holder, const FwDocument *doc, const FwDesign *d)
{
  static const char *const reach_ids[] = { "side", "forward", "back" };
  static const char *const reach_words[] = { NC_("choice", "to the side"), NC_("choice", "forward"), NC_("choice", "back") };
  static const char *const stop_ids[] = { "free", "stops" }, *const stop_words[] = { NC_("choice", "none"), NC_("choice", "two stops") };
  static const char *const mass_ids[] = { "sheet", "weighed" }, *const mass_words[] = { NC_("choice", "from its sheet"), NC_("choice", "as weighed") };
  int i = holder.ref.index;
  const FwPanel *p = &d->panels[i];

  add_words (list, holder, "side", C_("choice", "Side"), fw_side_words, side_words, 4, p->side);
  FwChoice *on = new_choice (list, holder, "on", C_("choice", "Hinged to"));
  option (on, "body", C_("choice", "the body"), p->on == FW_ON_BODY);
  for (int k = 0; k < d->n_panels; k++)
    if (!hangs_on (d, k, i))
      option (on, d->panels[k].name, d->panels[k].name, p->on == k);
  if (p->on == FW_ON_BODY)
    add_words (list, holder, "reach", C_("choice", "Reaches"), reach_ids, reach_words, 3, p->reach);
  add_words (list, holder, "stops", C_("choice", "Stops"), stop_ids, stop_words, 2, p->has_stops);
  add_words (list, holder, "mass", C_("choice", "Weight"), mass_ids, mass_words, 2, p->has_mass);
  add_material (list, holder, doc, p->material);
}

static void
part_choices (GPtrArray *list, FwHolder holder, const FwDocument *doc, const FwDesign *d)
{
  static const char *const spring_ids[] = { "spring", "cord" };
  static const char *const spring_words[] = { NC_("choice", "spring, pulls and pushes"), NC_("choice", "cord, pulls only") };
  int i = holder.ref.index;
  switch (holder.ref.place)
    {
    case FW_PLACE_THROW:
      add_words (list, holder, "side", C_("choice", "Side"), fw_side_words, side_words, 2, d->crank.throws[i].both);
      break;
    case FW_PLACE_PANEL:
      panel_choices (list, holder, doc, d);
      break;
    case FW_PLACE_ROD:
      if (d->rods[i].from.kind == FW_FROM_THROW)
        add_throws (list, holder, "from", d, d->rods[i].from.index);
      add_material (list, holder, doc, d->rods[i].material);
      break;
    case FW_PLACE_SPRING:
      add_words (list, holder, "cord", C_("choice", "Kind"), spring_ids, spring_words, 2, d->springs[i].cord);
      break;
    default:
      break;
    }
}

GPtrArray *
fw_choices_of (const FwDocument *doc, FwHolder holder)
{
  static const char *const run_ids[] = { "across", "along" };
  static const char *const run_words[] = { NC_("choice", "across, wing to wing"), NC_("choice", "along, nose to tail") };
  static const char *const ride_words[]
      = { NC_("choice", "stands still"), NC_("choice", "slides on a rail"), NC_("choice", "post in a guide"), NC_("choice", "post on a link") };
  static const char *const plate_ids[] = { "suit", "given" }, *const plate_words[] = { NC_("choice", "chosen to suit"), NC_("choice", "as measured") };
  static const char *const hung_ids[] = { "standing", "hung" }, *const hung_words[] = { NC_("choice", "stands"), NC_("choice", "hangs from above") };
  static const char *const by_ids[] = { "hand", "motor" }, *const by_words[] = { NC_("choice", "by hand"), NC_("choice", "by a motor") };
  const FwDesign *d = fw_document_design (doc);
  GPtrArray *list = g_ptr_array_new_with_free_func (choice_free);

  switch (holder.kind)
    {
    case FW_HOLDER_PART:
      if (holder.ref.index >= 0 && holder.ref.index < fw_part_count (d, holder.ref.place))
        part_choices (list, holder, doc, d);
      break;
    case FW_HOLDER_CRANK:
      add_words (list, holder, "runs", C_("choice", "Runs"), run_ids, run_words, 2, d->crank.runs);
      add_material (list, holder, doc, d->crank.material);
      break;
    case FW_HOLDER_BODY:
      add_words (list, holder, "ride", C_("choice", "Ride"), fw_ride_words, ride_words, 4, d->body.ride);
      if (d->body.ride != FW_RIDE_FIXED)
        {
          add_throws (list, holder, "throw", d, d->body.throw_index);
          add_material (list, holder, doc, d->body.material);
        }
      break;
    case FW_HOLDER_BASE:
      add_words (list, holder, "hung", C_("choice", "It"), hung_ids, hung_words, 2, d->base.hung);
      add_words (list, holder, "plate", C_("choice", "Plate"), plate_ids, plate_words, 2, d->base.plate_mm[0] > 0);
      add_words (list, holder, "bearings", C_("choice", "Bearings"), plate_ids, plate_words, 2, d->base.n_bearings > 0);
      break;
    case FW_HOLDER_DRIVE:
    default:
      add_words (list, holder, "by", C_("choice", "Turned"), by_ids, by_words, 2, d->drive.motor);
    }
  return list;
}

/* ---- Taking one ---- */

static gboolean
put_flag (cJSON *object, const char *key, gboolean on)
{
  cJSON_DeleteItemFromObjectCaseSensitive (object, key);
  return !on || cJSON_AddTrueToObject (object, key) != NULL;
}

/* What it weighs now, moments about the centre of mass. */
static gboolean
weigh (cJSON *object, const FwPanel *panel)
{
  FwInertia i = fw_inertia_panel (panel);
  double m = i.mass_g;
  FwVec3 c = m > 0 ? fw_vec3_scale (i.moment_gmm, 1 / m) : panel->centre_mm;
  const double centre[3] = { c.x, c.y, c.z };
  const double about[4] = { fmax (i.uu - m * (c.y * c.y + c.z * c.z), 0), fmax (i.vv - m * (c.x * c.x + c.z * c.z), 0),
                            fmax (i.ww - m * (c.x * c.x + c.y * c.y), 0), i.uv - m * c.x * c.y };
  return fw_put_number (object, "mass", m) && fw_put_numbers (object, "centre", centre, 3) && fw_inertia_put (object, about);
}

static gboolean
put_mass (cJSON *object, const FwPanel *panel, gboolean weighed)
{
  static const char *const keys[] = { "mass", "centre", "inertia", "inertia_kgm2" };
  if (weighed)
    return weigh (object, panel);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    cJSON_DeleteItemFromObjectCaseSensitive (object, keys[i]);
  return TRUE;
}

static gboolean
put_stops (cJSON *object, gboolean stops)
{
  const double angles[2] = { -60, 60 };
  cJSON_DeleteItemFromObjectCaseSensitive (object, "stops");
  return !stops || fw_put_numbers (object, "stops", angles, 2);
}

static gboolean
put_plate (cJSON *object, const FwDesign *d, gboolean given)
{
  double plate[3], top;
  fw_design_base (d, plate, &top);
  if (given)
    return fw_put_numbers (object, "plate", plate, 3) && fw_put_number (object, "top", top);
  cJSON_DeleteItemFromObjectCaseSensitive (object, "plate");
  cJSON_DeleteItemFromObjectCaseSensitive (object, "top");
  return TRUE;
}

static gboolean
put_bearings (cJSON *object, const FwDesign *d, gboolean given)
{
  int n = fw_design_bearings (d, NULL, 0);
  double *stations = g_new (double, (gsize) n + 1);
  fw_design_bearings (d, stations, n);
  cJSON_DeleteItemFromObjectCaseSensitive (object, "bearings");
  gboolean good = !given || n == 0 || fw_put_numbers (object, "bearings", stations, n);
  g_free (stations);
  return good;
}

static double
half (double value)
{
  return round (2 * value) / 2;
}

/* What stands there already is the maker's. */
static gboolean
put_new (cJSON *object, const char *key, const double *values, int n)
{
  if (get (object, key))
    return TRUE;
  return n > 1 ? fw_put_numbers (object, key, values, n) : fw_put_number (object, key, values[0]);
}

/* Numbers that the ride asks for and the body does not have yet, such that the datum stays about where it
 * is at crank angle 0. */
static gboolean
put_ride (cJSON *body, const FwDesign *d, const char *ride)
{
  FwMechanism *m = NULL;
  FwPose *pose = fw_mechanism_build (d, &m, NULL) == FW_OK ? fw_pose_new (m) : NULL;
  if (!pose)
    {
      fw_mechanism_free (m);
      return FALSE;
    }
  fw_pose_solve (pose, m, 0);
  FwVec3 at = pose->body.motion.at.origin;
  double height = isfinite (at.z) && at.z > 20 ? at.z : 300, pin = 0;
  const double place[3] = { 0, isfinite (at.y) ? half (at.y) : 0, half (height) };
  const double none = 0;
  gboolean throws = d->crank.n_throws > 0, good = fw_put_text (body, "ride", ride);
  if (throws)
    pin = d->crank.throws[d->body.throw_index].radius_mm; /* a fixed body's is the first */
  const double post = half (fmax (height - pin, 1));
  const double guide[2] = { 0, half (0.4 * height) }, pivot[2] = { half (0.5 * post), half (0.5 * height) };
  gboolean fixed = strcmp (ride, "fixed") == 0, rail = strcmp (ride, "rail") == 0, rocker = strcmp (ride, "rocker") == 0;
  if (fixed)
    {
      good &= put_new (body, "at", place, 3);
      good &= put_new (body, "tilt", &none, 1);
    }
  else if (throws && !get (body, "throw"))
    good &= fw_put_text (body, "throw", d->crank.throws[0].name);
  if (rail)
    {
      good &= put_new (body, "rod", &post, 1);
      good &= put_new (body, "offset", &none, 1);
    }
  else if (!fixed)
    good &= put_new (body, "post", &post, 1);
  if (rocker && !get (body, "link"))
    {
      cJSON *link = cJSON_AddObjectToObject (body, "link");
      good &= fw_put_numbers (link, "pivot", pivot, 2);
      good &= fw_put_number (link, "length", pivot[0]);
      good &= fw_put_number (link, "on", pivot[0]);
    }
  else if (!fixed && !rail && !rocker)
    good &= put_new (body, "guide", guide, 2);
  free (pose);
  fw_mechanism_free (m);
  return good;
}

static gboolean
take (cJSON *object, const FwDesign *d, const FwChoice *c, int k)
{
  const char *id = c->ids->pdata[k];
  if (strcmp (c->key, "stops") == 0)
    return put_stops (object, k == 1);
  if (strcmp (c->key, "mass") == 0)
    return put_mass (object, &d->panels[c->holder.ref.index], k == 1);
  if (strcmp (c->key, "plate") == 0)
    return put_plate (object, d, k == 1);
  if (strcmp (c->key, "bearings") == 0)
    return put_bearings (object, d, k == 1);
  if (strcmp (c->key, "hung") == 0 || strcmp (c->key, "cord") == 0)
    return put_flag (object, c->key, k == 1);
  if (strcmp (c->key, "ride") == 0)
    return put_ride (object, d, id);
  if (strcmp (c->key, "from") == 0)
    return fw_put_text (get (object, "from"), "throw", id);
  if (strcmp (c->key, "on") == 0 && strcmp (id, "body") != 0)
    cJSON_DeleteItemFromObjectCaseSensitive (object, "reach"); /* only for a panel on the body */
  return fw_put_text (object, c->key, id);
}

gboolean
fw_document_choose (FwDocument *doc, const FwChoice *c, int k, GError **error)
{
  if (k < 0 || k >= (int) c->ids->len)
    {
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("%s: there is no such choice"), fw_document_name (doc));
      return FALSE;
    }
  if (k == c->now)
    return TRUE;
  cJSON *tree = fw_document_copy_tree (doc), *object = tree ? holder_in (tree, c->holder) : NULL;
  if (!object || !take (object, fw_document_design (doc), c, k))
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  return fw_document_take_tree (doc, tree, c->label, NULL, error);
}
