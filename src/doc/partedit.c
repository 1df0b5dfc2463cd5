/* Removing and renaming: the whole file is looked through for what holds the part or speaks of it. */
#include "doc/partedit.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/documenttree.h"
#include "doc/fill.h"
#include "doc/json.h"
#include "doc/paramkeys.h"

static cJSON *
get (const cJSON *object, const char *key)
{
  return cJSON_GetObjectItemCaseSensitive (object, key);
}

static const char *
text_of (const cJSON *object, const char *key)
{
  const cJSON *item = get (object, key);
  return cJSON_IsString (item) ? item->valuestring : "";
}

/* ---- Which ---- */

int
fw_part_count (const FwDesign *d, FwPlace place)
{
  const int counts[FW_N_PLACES] = { d->crank.n_throws, d->n_panels,        d->n_rods,
                                    d->n_springs,      d->crank.n_weights, d->body.n_lumps };
  return counts[place];
}

const char *
fw_part_ref_name (const FwDesign *d, FwPartRef ref)
{
  switch (ref.place)
    {
    case FW_PLACE_THROW:
      return d->crank.throws[ref.index].name;
    case FW_PLACE_PANEL:
      return d->panels[ref.index].name;
    case FW_PLACE_ROD:
      return d->rods[ref.index].name;
    case FW_PLACE_SPRING:
      return d->springs[ref.index].name;
    case FW_PLACE_WEIGHT:
      return d->crank.weights[ref.index].name;
    case FW_PLACE_LUMP:
    default:
      return d->body.lumps[ref.index].name;
    }
}

/* How numbers of such a part begin as key paths. */
static const char *const prefixes[FW_N_PLACES]
    = { "crank.throws.", "panels.", "rods.", "springs.", "crank.counterweights.", "body.lumps." };

/* What stands in `text` behind the name of a part: a point and more, or nothing unless `more`. NULL: the text speaks of
 * no part of this name. Names may hold points: of "arm" and "arm.2" the longer that fits is meant. */
static const char *
behind_name (const FwDesign *d, FwPlace place, const char *name, const char *text, gboolean more)
{
  const char *longest = NULL;
  gsize length = 0;
  for (int i = 0; i < fw_part_count (d, place); i++)
    {
      const char *one = fw_part_ref_name (d, (FwPartRef){ place, i });
      gsize n = strlen (one);
      if (n >= length && strncmp (text, one, n) == 0 && (text[n] == '.' || (text[n] == '\0' && !more)))
        {
          longest = one;
          length = n;
        }
    }
  return longest && strcmp (longest, name) == 0 ? text + length : NULL;
}

/* The same of a key path: whose it is the design knows, but for one that leads to none of its numbers. */
static const char *
behind_path (const FwDesign *d, FwPlace place, const char *name, const char *path)
{
  FwParam param;
  if (!g_str_has_prefix (path, prefixes[place]))
    return NULL;
  const char *text = path + strlen (prefixes[place]);
  if (!fw_param_from_path (d, path, &param))
    return behind_name (d, place, name, text, FALSE);
  char *owner = fw_param_part_path (d, param);
  gboolean same = strcmp (owner + strlen (prefixes[place]), name) == 0;
  g_free (owner);
  return same ? text + strlen (name) : NULL;
}

cJSON *
fw_part_list (cJSON *tree, FwPlace place)
{
  static const char *const keys[FW_N_PLACES] = { "throws", "panels", "rods", "springs", "counterweights", "lumps" };
  cJSON *owner = place == FW_PLACE_THROW || place == FW_PLACE_WEIGHT ? get (tree, "crank")
                 : place == FW_PLACE_LUMP                            ? get (tree, "body")
                                                                     : tree;
  cJSON *list = get (owner, keys[place]);
  return list ? list : cJSON_AddArrayToObject (owner, keys[place]);
}

static gboolean
is_taken (const cJSON *list, const char *name)
{
  const cJSON *item;
  cJSON_ArrayForEach (item, list) if (strcmp (text_of (item, "name"), name) == 0) return TRUE;
  return FALSE;
}

char *
fw_part_free_name (const cJSON *list, const char *stem)
{
  char *name = g_strdup (stem);
  for (int i = 2; is_taken (list, name); i++)
    {
      g_free (name);
      name = g_strdup_printf ("%s %d", stem, i);
    }
  return name;
}

static gboolean
check_ref (const FwDocument *doc, FwPartRef ref, GError **error)
{
  if (ref.place < FW_N_PLACES && ref.index >= 0 && ref.index < fw_part_count (fw_document_design (doc), ref.place))
    return TRUE;
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("%s: the design has no such part"),
               fw_document_name (doc));
  return FALSE;
}

/* ---- Removing ---- */

typedef struct
{
  const FwDesign *design; /* as it was */
  cJSON *tree;
  GString *also; /* names of what went too */
  gboolean first; /* nothing has gone yet: the part itself is no "also" */
} Removal;

static void remove_item (Removal *r, FwPlace place, cJSON *item);

static gboolean
holds (const cJSON *item, const char *end, const char *kind, const char *name)
{
  return strcmp (text_of (get (item, end), kind), name) == 0;
}

static gboolean
depends (FwPlace place, const cJSON *item, const char *kind, const char *name)
{
  if (place == FW_PLACE_PANEL)
    return strcmp (kind, "panel") == 0 && strcmp (text_of (item, "on"), name) == 0;
  return holds (item, "from", kind, name) || holds (item, "to", kind, name);
}

static void
remove_dependents (Removal *r, const char *kind, const char *name)
{
  static const FwPlace places[] = { FW_PLACE_SPRING, FW_PLACE_ROD, FW_PLACE_PANEL };
  for (gsize p = 0; p < G_N_ELEMENTS (places); p++)
    {
      cJSON *list = get (r->tree, places[p] == FW_PLACE_SPRING ? "springs" : places[p] == FW_PLACE_ROD ? "rods" : "panels");
      for (cJSON *item = list ? list->child : NULL; item;)
        if (depends (places[p], item, kind, name))
          {
            remove_item (r, places[p], item);
            item = list->child; /* more than one may have gone */
          }
        else
          item = item->next;
    }
}

/* A spring cannot hold a panel that hangs: those of a panel whose rod goes, go with it. */
static void
remove_springs_of (Removal *r, const char *panel)
{
  cJSON *list = get (r->tree, "springs");
  for (cJSON *item = list ? list->child : NULL; item;)
    {
      cJSON *next = item->next;
      if (depends (FW_PLACE_SPRING, item, "panel", panel))
        remove_item (r, FW_PLACE_SPRING, item);
      item = next;
    }
}

static void
drop_spreads (const Removal *r, FwPlace place, const char *name)
{
  cJSON *spread = get (r->tree, "spread");
  for (cJSON *item = spread ? spread->child : NULL; item;)
    {
      cJSON *next = item->next;
      if (behind_path (r->design, place, name, item->string))
        cJSON_Delete (cJSON_DetachItemViaPointer (spread, item));
      item = next;
    }
}

static void
remove_item (Removal *r, FwPlace place, cJSON *item)
{
  char *name = g_strdup (text_of (item, "name"));
  char *panel = place == FW_PLACE_ROD ? g_strdup (text_of (get (item, "to"), "panel")) : NULL;

  if (!r->first)
    g_string_append_printf (r->also, "%s%s", r->also->len > 0 ? ", " : "", name);
  r->first = FALSE;
  cJSON_Delete (cJSON_DetachItemViaPointer (fw_part_list (r->tree, place), item));
  drop_spreads (r, place, name);
  if (place == FW_PLACE_THROW)
    remove_dependents (r, "throw", name);
  if (place == FW_PLACE_PANEL)
    {
      remove_dependents (r, "panel", name);
      cJSON_DeleteItemFromObjectCaseSensitive (get (get (r->tree, "look"), "panels"), name);
    }
  if (panel)
    remove_springs_of (r, panel);
  g_free (panel);
  g_free (name);
}

gboolean
fw_document_remove_part (FwDocument *doc, FwPartRef ref, char **also, GError **error)
{
  const FwDesign *design = fw_document_design (doc);

  *also = NULL;
  if (!check_ref (doc, ref, error))
    return FALSE;
  if (ref.place == FW_PLACE_THROW && design->body.ride != FW_RIDE_FIXED && design->body.throw_index == ref.index)
    {
      g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, _("%s carries the body: choose another throw for it first"),
                   design->crank.throws[ref.index].name);
      return FALSE;
    }
  cJSON *tree = fw_document_copy_tree (doc);
  cJSON *list = tree ? fw_part_list (tree, ref.place) : NULL;
  if (!list)
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  Removal r = { .design = design, .tree = tree, .also = g_string_new (NULL), .first = TRUE };
  /* Translators: a step of undo; %s is a part's name. */
  char *label = g_strdup_printf (_("Remove %s"), fw_part_ref_name (design, ref));
  remove_item (&r, ref.place, cJSON_GetArrayItem (list, ref.index));
  gboolean good = fw_document_take_tree (doc, tree, label, NULL, error);
  g_free (label);
  *also = g_string_free (r.also, !good || r.also->len == 0);
  return good;
}

/* ---- Renaming ---- */

typedef struct
{
  const FwDesign *design; /* as it was */
  FwPlace place;
  const char *old, *new;
} Renaming;

/* `behind`: what stands in the item's text behind the old name; NULL: it does not speak of the part. */
static void
rename_text (cJSON *item, const char *prefix, const char *behind, const Renaming *r)
{
  char *text = behind ? g_strconcat (prefix, r->new, behind, NULL) : NULL;
  if (text)
    cJSON_SetValuestring (item, text);
  g_free (text);
}

/* A name, with more behind it: a side, or what was measured (then something must be there). */
static void
rename_name (cJSON *item, gboolean more, const Renaming *r)
{
  if (cJSON_IsString (item))
    rename_text (item, "", behind_name (r->design, r->place, r->old, item->valuestring, more), r);
}

/* Key paths of numbers, as values anywhere below. */
static void
rename_paths (cJSON *item, const Renaming *r)
{
  if (cJSON_IsString (item))
    rename_text (item, prefixes[r->place], behind_path (r->design, r->place, r->old, item->valuestring), r);
  if (cJSON_IsArray (item) || cJSON_IsObject (item))
    for (cJSON *child = item->child; child; child = child->next)
      rename_paths (child, r);
}

/* A key of an object, where it stands. */
static void
rename_key (cJSON *item, const char *prefix, const char *behind, const Renaming *r)
{
  char *key = behind ? g_strconcat (prefix, r->new, behind, NULL) : NULL;
  char *own = key ? cJSON_malloc (strlen (key) + 1) : NULL;
  if (own)
    {
      memcpy (own, key, strlen (key) + 1);
      cJSON_free (item->string);
      item->string = own;
    }
  g_free (key);
}

static void
rename_exact (cJSON *item, const Renaming *r)
{
  if (cJSON_IsString (item) && strcmp (item->valuestring, r->old) == 0)
    cJSON_SetValuestring (item, r->new);
}

/* A wish speaks of a panel, that for push of a rod; with its side behind the name where it has twins. */
static void
rename_in_wish (cJSON *wish, const Renaming *r)
{
  gboolean push = strcmp (text_of (wish, "wish"), "push") == 0;
  if (r->place == (push ? FW_PLACE_ROD : FW_PLACE_PANEL))
    {
      rename_name (get (wish, "part"), FALSE, r);
      rename_name (get (wish, "other"), FALSE, r);
    }
}

static void
rename_references (cJSON *tree, const Renaming *r)
{
  const char *kind = r->place == FW_PLACE_THROW ? "throw" : "panel";
  cJSON *item, *wishes = get (tree, "wishes");

  cJSON_ArrayForEach (item, get (wishes, "list")) rename_in_wish (item, r);
  if (wishes)
    rename_paths (wishes, r);
  cJSON_ArrayForEach (item, get (tree, "spread"))
    rename_key (item, prefixes[r->place], behind_path (r->design, r->place, r->old, item->string), r);
  if (r->place != FW_PLACE_THROW && r->place != FW_PLACE_PANEL)
    return;
  if (r->place == FW_PLACE_THROW)
    rename_exact (get (get (tree, "body"), "throw"), r);
  cJSON_ArrayForEach (item, get (tree, "rods"))
  {
    rename_exact (get (get (item, "from"), kind), r);
    rename_exact (get (get (item, "to"), kind), r);
  }
  if (r->place == FW_PLACE_THROW)
    return;
  cJSON_ArrayForEach (item, get (tree, "panels")) rename_exact (get (item, "on"), r);
  cJSON_ArrayForEach (item, get (tree, "springs"))
  {
    rename_exact (get (get (item, "from"), kind), r);
    rename_exact (get (get (item, "to"), kind), r);
  }
  cJSON_ArrayForEach (item, get (tree, "measured")) rename_name (get (item, "what"), TRUE, r);
  cJSON_ArrayForEach (item, get (get (tree, "look"), "panels"))
    rename_key (item, "", strcmp (item->string, r->old) == 0 ? "" : NULL, r);
}

gboolean
fw_document_rename_part (FwDocument *doc, FwPartRef ref, const char *name, GError **error)
{
  if (!check_ref (doc, ref, error))
    return FALSE;
  const char *old = fw_part_ref_name (fw_document_design (doc), ref);
  if (!g_utf8_validate (name, -1, NULL))
    name = "";
  if (strcmp (old, name) == 0)
    return TRUE;
  cJSON *tree = fw_document_copy_tree (doc), *list = tree ? fw_part_list (tree, ref.place) : NULL;
  cJSON *item = list ? cJSON_GetArrayItem (list, ref.index) : NULL;
  if (!item || !cJSON_SetValuestring (get (item, "name"), name))
    {
      cJSON_Delete (tree);
      return fw_document_no_memory (doc, error);
    }
  const Renaming r = { fw_document_design (doc), ref.place, old, name };
  rename_references (tree, &r);
  /* Translators: a step of undo; %s is a part's name. */
  char *label = g_strdup_printf (_("Rename %s"), old);
  gboolean good = fw_document_take_tree (doc, tree, label, NULL, error);
  g_free (label);
  return good;
}
