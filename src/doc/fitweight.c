#include "doc/fitweight.h"

#include <math.h>

#include <string.h>

#include "doc/documenttree.h"
#include "doc/put.h"

gboolean
fw_inertia_put (cJSON *panel, const double *inertia_gmm2)
{
  double large[4];
  gboolean fits = TRUE;

  for (int i = 0; i < 4; i++)
    {
      fits = fits && fabs (inertia_gmm2[i]) < 1e6;
      large[i] = inertia_gmm2[i] / 1e9;
    }
  cJSON_DeleteItemFromObjectCaseSensitive (panel, fits ? "inertia_kgm2" : "inertia");
  return fw_put_numbers (panel, fits ? "inertia" : "inertia_kgm2", fits ? inertia_gmm2 : large, 4);
}

static gboolean
put_on_panel (cJSON *tree, const FwDesign *with, int panel)
{
  cJSON *object = cJSON_GetArrayItem (cJSON_GetObjectItemCaseSensitive (tree, "panels"), panel);
  const FwPanel *p = &with->panels[panel];
  const double centre[3] = { p->centre_mm.x, p->centre_mm.y, p->centre_mm.z };
  return object != NULL && fw_put_number (object, "mass", p->mass_g)
         && fw_put_numbers (object, "centre", centre, 3)
         && fw_inertia_put (object, p->inertia_gmm2);
}

static gboolean
is_taken (const cJSON *lumps, const char *name)
{
  const cJSON *lump;
  cJSON_ArrayForEach (lump, lumps)
  {
    const cJSON *item = cJSON_GetObjectItemCaseSensitive (lump, "name");
    if (cJSON_IsString (item) && strcmp (item->valuestring, name) == 0)
      return TRUE;
  }
  return FALSE;
}

/* "counterweight", "counterweight 2", ...: names are unique. */
static char *
free_name (const cJSON *lumps)
{
  char *name = g_strdup ("counterweight");
  for (int i = 2; is_taken (lumps, name); i++)
    {
      g_free (name);
      name = g_strdup_printf ("counterweight %d", i);
    }
  return name;
}

static gboolean
put_on_body (cJSON *tree, const FwCounterweight *w)
{
  cJSON *body = cJSON_GetObjectItemCaseSensitive (tree, "body");
  cJSON *lumps = cJSON_GetObjectItemCaseSensitive (body, "lumps");
  const double at[3] = { w->at_mm.x, w->at_mm.y, w->at_mm.z };
  if (lumps == NULL)
    lumps = cJSON_AddArrayToObject (body, "lumps");
  cJSON *lump = lumps != NULL ? cJSON_CreateObject () : NULL;
  if (lump == NULL)
    return FALSE;
  g_autofree char *name = free_name (lumps);
  gboolean good = cJSON_AddStringToObject (lump, "name", name) != NULL
                  && fw_put_number (lump, "mass", w->mass_g) && fw_put_numbers (lump, "at", at, 3);
  if (good && cJSON_AddItemToArray (lumps, lump))
    return TRUE;
  cJSON_Delete (lump);
  return FALSE;
}

static gboolean
put (cJSON *tree, const FwDesign *design, const FwCounterweight *w)
{
  if (w->panel == FW_ON_BODY)
    return put_on_body (tree, w);
  FwDesign *with = fw_design_copy (design);
  gboolean good = with != NULL && fw_counterweight_fit (with, w) && put_on_panel (tree, with, w->panel);
  fw_design_free (with);
  return good;
}

gboolean
fw_document_fit_weight (FwDocument *doc, const FwCounterweight *w, const char *label, GError **error)
{
  cJSON *tree = fw_document_copy_tree (doc);
  if (tree == NULL || !put (tree, fw_document_design (doc), w))
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  return fw_document_take_tree (doc, tree, label, NULL, error);
}
