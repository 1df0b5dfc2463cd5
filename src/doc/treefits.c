#include "doc/treefits.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/document.h"
#include "doc/files.h"
#include "doc/json.h"

#define PUNCTUATION 4 /* bytes: braces and line ends by which a section differs from one printed alone, and to spare */
#define AROUND (2 * (2 * FW_JSON_DEPTH + 4)) /* brackets, comma, line end and indent before an item and behind it */
#define LONGEST_NUMBER 32
#define ESCAPED 6 /* bytes of a character: \u001f */

static int
depth_of (const cJSON *item)
{
  const cJSON *child;
  int deepest = 0;

  if (!cJSON_IsArray (item) && !cJSON_IsObject (item))
    return 0;
  cJSON_ArrayForEach (child, item)
  {
    int below = depth_of (child);
    deepest = MAX (deepest, below);
  }
  return deepest + 1;
}

/* The bytes of a section with its key, hardly more than where it stands. */
static gsize
size_of (const cJSON *section)
{
  cJSON alone = *section, object = { .type = cJSON_Object, .child = &alone };
  alone.next = alone.prev = NULL;
  char *text = fw_json_print (&object);
  gsize size = strlen (text) + PUNCTUATION;
  g_free (text);
  return size;
}

/* No item takes more, wherever it stands: a change is not to cost a printing of the design. */
static gsize
most_bytes (const cJSON *item)
{
  gsize most = AROUND + LONGEST_NUMBER;
  const cJSON *child;
  if (item->string)
    most += ESCAPED * strlen (item->string);
  if (item->valuestring)
    most += ESCAPED * strlen (item->valuestring);
  cJSON_ArrayForEach (child, item) most += most_bytes (child);
  return most;
}

static FwTreeMeasure
measure (const cJSON *section, FwTreeMeasures *measures)
{
  gboolean is_shared = (section->type & cJSON_IsReference) != 0 && section->child;
  FwTreeMeasure *kept = strcmp (section->string, "log") == 0 ? &measures->log : &measures->versions;
  if (is_shared && kept->first == section->child)
    return *kept;
  const FwTreeMeasure fresh = { section->child, is_shared ? size_of (section) : most_bytes (section), depth_of (section) };
  if (is_shared)
    *kept = fresh;
  return fresh;
}

/* What the sum of the sections, which is too much, leaves open. */
static gboolean
is_small_enough (const cJSON *tree, gsize sum)
{
  if (sum <= FW_LARGEST_FILE)
    return TRUE;
  char *text = fw_json_print (tree);
  gboolean good = strlen (text) <= FW_LARGEST_FILE;
  g_free (text);
  return good;
}

gboolean
fw_tree_fits (const cJSON *tree, FwTreeMeasures *measures, const char *name, GError **error)
{
  const cJSON *section;
  gsize sum = PUNCTUATION;
  int deepest = 0;

  cJSON_ArrayForEach (section, tree)
  {
    FwTreeMeasure one = measure (section, measures);
    sum += one.size;
    deepest = MAX (deepest, one.depth);
  }
  const char *why = deepest + 1 > FW_JSON_DEPTH
                        ? _ ("lists and objects would lie more than 64 deep within each other, and "
                             "the file could not be read again")
                    : is_small_enough (tree, sum) ? NULL
                                                  : _ ("a file of at most 64 MB was expected: take "
                                                       "out old entries of the log or versions");
  if (!why)
    return TRUE;
  g_set_error (error, FW_DOC_ERROR, FW_DOC_ERROR_INVALID, "%s: %s", name, why);
  return FALSE;
}
