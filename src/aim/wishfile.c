/* Wishes in the design file. Their form has been checked when the file was read (doc/read_wishes.c). */
#include <math.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "aim/wish.h"
#include "doc/json.h"

static const cJSON *
child (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static double
number_or (const cJSON *object, const char *key, double fallback)
{
  const cJSON *item = child (object, key);
  return cJSON_IsNumber (item) ? item->valuedouble : fallback;
}

static char *
text_of (const cJSON *object, const char *key)
{
  const cJSON *item = child (object, key);
  return cJSON_IsString (item) ? g_strdup (item->valuestring) : NULL;
}

static double *
list_of (const cJSON *object, int *n)
{
  const cJSON *array = child (object, "among"), *item;
  *n = 0;
  if (!cJSON_IsArray (array))
    return NULL;
  double *values = g_new (double, cJSON_GetArraySize (array) + 1);
  cJSON_ArrayForEach (item, array) values[(*n)++] = item->valuedouble;
  return values;
}

static guint
kinds_of (const cJSON *object)
{
  const cJSON *item;
  guint kinds = 0;
  cJSON_ArrayForEach (item, child (object, "kinds"))
    for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
      if (strcmp (item->valuestring, fw_trouble_name ((FwTroubleKind)k)) == 0)
        kinds |= 1u << k;
  return kinds;
}

static char **
numbers_of (const cJSON *object)
{
  const cJSON *item, *array = child (object, "numbers");
  GPtrArray *names = g_ptr_array_new ();
  if (cJSON_IsString (child (object, "number")))
    g_ptr_array_add (names, text_of (object, "number"));
  cJSON_ArrayForEach (item, array) g_ptr_array_add (names, g_strdup (item->valuestring));
  g_ptr_array_add (names, NULL);
  return (char **)g_ptr_array_free (names, names->len == 1);
}

static FwWish
read_wish (const cJSON *object)
{
  const char *word = child (object, "wish")->valuestring;
  FwWish w = { .part = text_of (object, "part"), .other = text_of (object, "other") };
  while (strcmp (word, fw_wish_kind_name (w.kind)) != 0)
    w.kind++;
  w.crank_deg = number_or (object, "crank", 0);
  w.kinds = kinds_of (object);
  w.numbers = numbers_of (object);
  w.among = list_of (object, &w.n_among);
  double value = number_or (object, "value", NAN);
  w.least = number_or (object, "least", isnan (value) || w.kind == FW_WISH_TORQUE ? -INFINITY : value);
  w.most = number_or (object, "most", isnan (value) || w.kind == FW_WISH_PUSH ? INFINITY : value);
  if (w.kind == FW_WISH_WITHOUT || w.kind == FW_WISH_SAME)
    w.most = 0;
  w.weight = number_or (object, "weight", 1);
  return w;
}

FwWishes *
fw_document_wishes (const FwDocument *doc)
{
  const cJSON *section = fw_document_section (doc, "wishes"), *item;
  FwWishes *wishes = fw_wishes_new ();
  cJSON_ArrayForEach (item, child (section, "list")) fw_wishes_add (wishes, read_wish (item));
  cJSON_ArrayForEach (item, child (section, "free"))
  {
    FwFree number = { .number = text_of (item, "number"),
                      .least = number_or (item, "least", NAN),
                      .most = number_or (item, "most", NAN) };
    number.among = list_of (item, &number.n_among);
    fw_wishes_add_free (wishes, number);
  }
  return wishes;
}

/* ---- Writing ---- */

static void
add_limits (cJSON *object, double least, double most, const double *among, int n_among)
{
  if (n_among > 0)
    {
      cJSON_AddItemToObject (object, "among", cJSON_CreateDoubleArray (among, n_among));
      return;
    }
  if (isfinite (least) && least == most)
    {
      cJSON_AddNumberToObject (object, "value", least);
      return;
    }
  if (isfinite (least))
    cJSON_AddNumberToObject (object, "least", least);
  if (isfinite (most))
    cJSON_AddNumberToObject (object, "most", most);
}

static void
add_names (cJSON *object, const FwWish *w)
{
  if (w->kind == FW_WISH_NUMBER)
    cJSON_AddStringToObject (object, "number", w->numbers[0]);
  if (w->kind != FW_WISH_SAME)
    return;
  cJSON *array = cJSON_AddArrayToObject (object, "numbers");
  for (char **name = w->numbers; *name != NULL; name++)
    cJSON_AddItemToArray (array, cJSON_CreateString (*name));
}

static cJSON *
write_wish (const FwWish *w)
{
  cJSON *object = cJSON_CreateObject ();
  cJSON_AddStringToObject (object, "wish", fw_wish_kind_name (w->kind));
  if (w->part != NULL)
    cJSON_AddStringToObject (object, "part", w->part);
  if (w->other != NULL)
    cJSON_AddStringToObject (object, "other", w->other);
  if (w->kind == FW_WISH_ANGLE)
    cJSON_AddNumberToObject (object, "crank", w->crank_deg);
  add_names (object, w);
  if (w->kind == FW_WISH_WITHOUT)
    {
      cJSON *kinds = cJSON_AddArrayToObject (object, "kinds");
      for (int k = 0; k < FW_N_TROUBLE_KINDS; k++)
        if (w->kinds & (1u << k))
          cJSON_AddItemToArray (kinds, cJSON_CreateString (fw_trouble_name ((FwTroubleKind)k)));
    }
  else if (w->kind != FW_WISH_SAME)
    add_limits (object, w->least, w->most, w->among, w->n_among);
  if (w->weight != 1)
    cJSON_AddNumberToObject (object, "weight", w->weight);
  return object;
}

static cJSON *
write_free (const FwFree *item)
{
  cJSON *object = cJSON_CreateObject ();
  cJSON_AddStringToObject (object, "number", item->number);
  if (item->n_among > 0)
    add_limits (object, NAN, NAN, item->among, item->n_among);
  if (item->n_among == 0 && isfinite (item->least))
    cJSON_AddNumberToObject (object, "least", item->least);
  if (item->n_among == 0 && isfinite (item->most))
    cJSON_AddNumberToObject (object, "most", item->most);
  return object;
}

/* True if the new object says nothing that the old one does not. */
static gboolean
says_the_same (const cJSON *old, const cJSON *new)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, new)
    if (!cJSON_Compare (child (old, item->string), item, TRUE))
      return FALSE;
  return TRUE;
}

/* Keys of the old list's items, where an item is still there as it was, go on. */
static cJSON *
with_old_keys (const cJSON *old_list, cJSON *object)
{
  const cJSON *old;
  cJSON_ArrayForEach (old, old_list)
  {
    if (!says_the_same (old, object))
      continue;
    cJSON *kept = cJSON_Duplicate (old, TRUE);
    cJSON_Delete (object);
    return kept;
  }
  return object;
}

gboolean
fw_document_set_wishes (FwDocument *doc, const FwWishes *wishes, const char *label, GError **error)
{
  if (wishes->n_list == 0 && wishes->n_free == 0)
    return fw_document_set_section (doc, "wishes", NULL, label, NULL, error);
  const cJSON *old = fw_document_section (doc, "wishes");
  cJSON *section = old != NULL ? cJSON_Duplicate (old, TRUE) : cJSON_CreateObject ();
  cJSON_DeleteItemFromObjectCaseSensitive (section, "list");
  cJSON_DeleteItemFromObjectCaseSensitive (section, "free");
  cJSON *list = cJSON_AddArrayToObject (section, "list");
  for (int i = 0; i < wishes->n_list; i++)
    cJSON_AddItemToArray (list, with_old_keys (child (old, "list"), write_wish (&wishes->list[i])));
  cJSON *numbers = cJSON_AddArrayToObject (section, "free");
  for (int i = 0; i < wishes->n_free; i++)
    cJSON_AddItemToArray (numbers, with_old_keys (child (old, "free"), write_free (&wishes->free[i])));
  return fw_document_set_section (doc, "wishes", section, label, NULL, error);
}
