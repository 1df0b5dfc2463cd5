#include "aim/scale.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "aim/scalekeys.h"
#include "doc/json.h"
#include "doc/materials.h"
#include "strength/stiffer.h"

/* ---- Other stock ---- */

static cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static double
number_at (const cJSON *object, const char *key, double fallback)
{
  const cJSON *item = get (object, key);
  return cJSON_IsNumber (item) ? item->valuedouble : fallback;
}

static gboolean
put_text (cJSON *object, const char *key, const char *text)
{
  cJSON_DeleteItemFromObjectCaseSensitive (object, key);
  return cJSON_AddStringToObject (object, key, text) != NULL;
}

/* Density of what a part says it is made of, kg/m^3; 0: not known. */
static double
density (const cJSON *root, const cJSON *object)
{
  const cJSON *material = get (object, "material");
  const cJSON *own = get (get (root, "stock"), "materials");
  FwStuff stuff = { 0 };
  if (!cJSON_IsString (material) || !fw_material_find (material->valuestring, own, &stuff))
    return 0;
  return stuff.density_kgm3;
}

static gboolean
put_size (cJSON *object, const char *key, const FwScaleStock *stock)
{
  if (stock->size_mm <= 0)
    return TRUE;
  if (!fw_scale_put (object, key, stock->size_mm))
    return FALSE;
  cJSON_DeleteItemFromObjectCaseSensitive (object, "wall");
  return stock->wall_mm <= 0 || fw_scale_put (object, "wall", stock->wall_mm);
}

static void
multiply (cJSON *item, double by)
{
  if (cJSON_IsNumber (item))
    fw_json_set_number (item, item->valuedouble * by);
  for (cJSON *child = item ? item->child : NULL; child; child = child->next)
    fw_json_set_number (child, child->valuedouble * by);
}

/* Of bars: a weight that was stated goes as density times area does, since the length is the same. */
static gboolean
change_bar (cJSON *root, cJSON *bar, const FwScaleStock *stock, gboolean weighs)
{
  double before = density (root, bar), size = number_at (bar, "diameter", 0), wall = number_at (bar, "wall", 0);

  if (stock->material && !put_text (bar, "material", stock->material))
    return FALSE;
  if (!put_size (bar, "diameter", stock))
    return FALSE;
  double after = density (root, bar), size2 = number_at (bar, "diameter", size), wall2 = number_at (bar, "wall", 0);
  double area = wall > 0 ? wall * (size - wall) : size * size / 4;
  double area2 = wall2 > 0 ? wall2 * (size2 - wall2) : size2 * size2 / 4;
  cJSON *mass = get (bar, "mass");
  if (!weighs || !mass || !(area > 0))
    return TRUE;
  multiply (mass, area2 / area * (before > 0 && after > 0 ? after / before : 1));
  return TRUE;
}

/* Of a panel's sheet, g/m^2; 0: not known. */
static double
areal_of (const cJSON *root, const cJSON *panel)
{
  return number_at (panel, "areal", density (root, panel) * number_at (panel, "thickness", 0));
}

/* A panel's weight goes as its sheet's weight per area does. Sheet of a known material weighs what that
 * weighs; of an unknown one, in proportion to its thickness. */
static gboolean
change_sheet (cJSON *root, cJSON *panel, const FwScaleStock *stock)
{
  double before = areal_of (root, panel), thickness = number_at (panel, "thickness", 0);

  if (stock->material && !put_text (panel, "material", stock->material))
    return FALSE;
  if (stock->size_mm > 0 && !fw_scale_put (panel, "thickness", stock->size_mm))
    return FALSE;
  double by = number_at (panel, "thickness", thickness) / thickness;
  if (stock->material && density (root, panel) > 0)
    {
      cJSON_DeleteItemFromObjectCaseSensitive (panel, "areal");
      by = before > 0 ? areal_of (root, panel) / before : by;
    }
  multiply (get (panel, "areal"), by);
  multiply (get (panel, "mass"), by);
  multiply (get (panel, "inertia"), by);
  multiply (get (panel, "inertia_kgm2"), by);
  return TRUE;
}

static gboolean
change_all (cJSON *root, const FwScaleWish *wish)
{
  cJSON *item;

  cJSON_ArrayForEach (item, get (root, "panels"))
    if (!change_sheet (root, item, &wish->sheet))
      return FALSE;
  cJSON_ArrayForEach (item, get (root, "rods"))
    if (!change_bar (root, item, &wish->rods, TRUE))
      return FALSE;
  /* A post that follows the crank by default keeps its own when only the crank is of other stock. */
  cJSON *body = get (root, "body"), *crank = get (root, "crank");
  gboolean crank_changes = wish->crank.size_mm > 0;
  if (crank_changes && !get (body, "diameter") && !fw_scale_put (body, "diameter", number_at (crank, "diameter", 8)))
    return FALSE;
  return change_bar (root, crank, &wish->crank, FALSE) && change_bar (root, body, &wish->post, FALSE);
}

static gboolean
change_speed (cJSON *root, const FwScaleWish *wish)
{
  cJSON *crank = get (root, "crank");
  double speed = number_at (crank, "turns_per_minute", 30);
  return wish->keep_speed || fw_scale_put (crank, "turns_per_minute", speed / sqrt (wish->factor));
}

FwDocument *
fw_scale (const FwDocument *doc, const FwScaleWish *wish, GError **error)
{
  g_autofree char *text = fw_document_to_text (doc);
  FwDocument *scaled = NULL;

  if (!(wish->factor > 0 && isfinite (wish->factor)))
    {
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _ ("a factor above 0 was expected, %g was found"),
                   wish->factor);
      return NULL;
    }
  cJSON *root = fw_json_parse (text, strlen (text), "", error);
  if (root && fw_scale_tree (root, wish->factor) && change_all (root, wish) && fw_scale_inertias (root) && change_speed (root, wish))
    {
      g_autofree char *result = fw_json_print (root);
      /* Translators: stands in place of a file's name in an error line. */
      scaled = fw_document_new_from_text (result, -1, _ ("the scaled design"), error);
    }
  else if (root)
    g_set_error_literal (error, FW_DOC_ERROR, FW_DOC_ERROR_IO, _ ("out of memory"));
  cJSON_Delete (root);
  return scaled;
}

/* ---- What stops working first ---- */

typedef struct
{
  const FwDocument *doc;
  FwScaleWish wish;
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList list;
} Trial;

static gboolean
try_factor (Trial *t, double factor)
{
  t->wish.factor = factor;
  t->list = (FwTroubleList){ .items = t->room, .capacity = FW_TROUBLE_ROOM };
  FwDocument *doc = fw_scale (t->doc, &t->wish, NULL);
  gboolean good = doc && fw_motion_and_force_trouble (fw_document_design (doc), &t->list);
  if (doc)
    fw_document_free (doc);
  return good;
}

/* Of that kind on that part. */
static gboolean
is_in (const FwTroubleList *list, FwTroubleKind kind, FwPart part)
{
  for (int i = 0; i < list->n; i++)
    if (list->items[i].kind == kind && fw_part_equal (list->items[i].part, part))
      return TRUE;
  return FALSE;
}

/* The factor at which it begins, between one without it and one with it. */
static double
begins_at (Trial *t, FwTroubleKind kind, FwPart part, double without, double with)
{
  while (fabs (log (with / without)) > 0.01)
    {
      double middle = sqrt (with * without);
      if (!try_factor (t, middle) || is_in (&t->list, kind, part))
        with = middle;
      else
        without = middle;
    }
  return with;
}

static int
by_factor (const void *a, const void *b)
{
  double x = fabs (log (((const FwScaleLimit *)a)->factor)), y = fabs (log (((const FwScaleLimit *)b)->factor));
  return (x > y) - (x < y);
}

static gboolean
listed (const FwMechanism *mech, const FwScaleLimit *list, int n, const FwTrouble *trouble)
{
  for (int i = 0; i < n; i++)
    {
      FwTrouble other = { .kind = list[i].kind, .part = list[i].part };
      FwTrouble mine = { .kind = trouble->kind, .part = trouble->part };
      if (fw_trouble_same (&mine, &other) || fw_trouble_twins (mech, &mine, &other))
        return TRUE;
    }
  return FALSE;
}

/* All of the big one that are not in the small one's list. */
static int
collect (const FwMechanism *mech, const FwTroubleList *small, const FwTroubleList *big, FwScaleLimit *list, int capacity)
{
  int n = 0;

  for (int i = 0; i < big->n && n < capacity; i++)
    {
      const FwTrouble *t = &big->items[i];
      if (is_in (small, t->kind, t->part) || listed (mech, list, n, t))
        continue;
      list[n++] = (FwScaleLimit){ .kind = t->kind, .part = t->part };
    }
  return n;
}

int
fw_scale_limits (const FwDocument *doc, const FwScaleWish *wish, FwScaleLimit *list, int capacity, FwStop stop,
                 void *data)
{
  Trial *t = g_new0 (Trial, 2), *small = t + 1;
  FwMechanism *mech = NULL;
  int n = -1;

  *t = *small = (Trial){ .doc = doc, .wish = *wish };
  /* The small one as it is, of its own stock. */
  small->list = (FwTroubleList){ .items = small->room, .capacity = FW_TROUBLE_ROOM };
  if (fw_motion_and_force_trouble (fw_document_design (doc), &small->list) && try_factor (t, wish->factor)
      && fw_mechanism_build (fw_document_design (doc), &mech, NULL) == FW_OK)
    {
      n = collect (mech, &small->list, &t->list, list, capacity);
      for (int i = 0; i < n; i++)
        {
          if (stop && stop (data))
            {
              n = i;
              break;
            }
          /* With other stock it may be there from the start. */
          list[i].factor = try_factor (t, 1) && is_in (&t->list, list[i].kind, list[i].part)
                               ? 1
                               : begins_at (t, list[i].kind, list[i].part, 1, wish->factor);
        }
      qsort (list, (size_t)n, sizeof *list, by_factor);
    }
  fw_mechanism_free (mech);
  g_free (t);
  return n;
}

int
fw_scale_remedies (const FwDesign *design, const FwTrouble *trouble, FwRemedy *list, int capacity, FwStop stop,
                   void *data)
{
  switch (trouble->kind)
    {
    case FW_MAY_BUCKLE:
    case FW_OVER_STRESS:
    case FW_RESONANCE:
      return fw_strength_remedies (design, trouble, list, capacity, stop, data);
    default:
      return fw_remedies (design, trouble, list, capacity, stop, data);
    }
}
