/* Every value of the fullest designs, one at a time, made something else: the document opens, or is refused with one
 * line whose place is that value, or the object that should have held it. */
#include "support.h"

#include <string.h>

#include "doc/json.h"

/* What stands in the place of a value; NULL: it is taken away. */
static const char *const others[] = { NULL,    "null",  "true", "7",          "-7",    "0",        "999999999",
                                      "\"\"",  "\"no such thing\"",   "[]",   "{}",   "[1]",   "[null]", "[{}]",
                                      "[1,2,3,4,5,6,7,8,9]" };

typedef struct
{
  const char *name; /* of the file */
  cJSON *tree;
  int opened, refused, elsewhere;
} Mutation;

/* The place that a message names, between the file's name and the rest. */
static char *
place_of (const GError *error)
{
  const char *start = strchr (error->message, ':') + 2, *end = strstr (start, ": ");
  g_assert_nonnull (end);
  char *place = g_strndup (start, (gsize)(end - start));
  GString *plain = g_string_new (place);
  g_string_replace (plain, "[\"", ".", 0); /* a name as a key: look.panels["wing"] */
  g_string_replace (plain, "\"]", "", 0);
  g_free (place);
  return g_string_free (plain, FALSE);
}

static void
open_changed (Mutation *m, const char *path, const char *holder, const char *other)
{
  char *text = cJSON_PrintUnformatted (m->tree);
  GError *error = NULL;
  FwDocument *doc = fw_document_new_from_text (text, -1, m->name, &error);
  if (doc)
    {
      m->opened++;
      g_assert_no_error (error);
      char *saved = fw_document_to_text (doc); /* what opens can be saved and opened */
      FwDocument *again = fw_document_new_from_text (saved, -1, m->name, &error);
      g_assert_no_error (error);
      fw_document_free (again);
      fw_document_free (doc);
      g_free (saved);
    }
  else
    {
      m->refused++;
      g_assert_true (error->domain == FW_DOC_ERROR);
      test_assert_one_line (error, m->name);
      char *place = place_of (error);
      /* A name that is not what it was is missed where it is used, and a number that two parts share is refused at
       * either: elsewhere, but seldom. */
      if (!g_str_has_prefix (place, path) && strcmp (place, holder) != 0)
        {
          m->elsewhere++;
          g_test_message ("%s made %s: %s", path, other ? other : "nothing", error->message);
        }
      g_free (place);
      g_error_free (error);
    }
  cJSON_free (text);
}

static void walk (Mutation *m, cJSON *holder, const char *path);

static void
change (Mutation *m, cJSON *holder, cJSON *item, const char *path, const char *holder_path)
{
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    {
      /* Beside the value, not in its memory: the tree is as it was afterwards. */
      cJSON *other = others[i] ? cJSON_Parse (others[i]) : NULL, *before = item->prev, *after = item->next;
      gboolean first = holder->child == item, last = after == NULL;
      cJSON *left = holder->child;
      if (other)
        {
          other->string = item->string;
          other->prev = before;
          other->next = after;
        }
      cJSON *stand_in = other ? other : after;
      if (first)
        holder->child = stand_in;
      else
        before->next = stand_in;
      if (!last)
        after->prev = other ? other : before;
      else if (!first)
        left->prev = other ? other : before;
      else if (other)
        other->prev = other;
      open_changed (m, path, holder_path, others[i]);
      holder->child = left;
      if (!first)
        before->next = item;
      if (after)
        after->prev = item;
      else
        left->prev = item;
      if (other)
        {
          other->string = NULL;
          other->next = other->prev = NULL;
          cJSON_Delete (other);
        }
    }
}

static void
walk (Mutation *m, cJSON *holder, const char *path)
{
  int k = 0;
  for (cJSON *item = holder->child; item; item = item->next, k++)
    {
      if (item->string && (strcmp (item->string, "log") == 0 || strcmp (item->string, "versions") == 0) && k > 0
          && holder == m->tree && strcmp (m->name, "log") != 0 && strcmp (m->name, "versions") != 0)
        continue; /* whole designs again: told of once */
      if (cJSON_IsArray (holder) && k > 1)
        break; /* the others are like the first two */
      char *here = cJSON_IsArray (holder) ? g_strdup_printf ("%s[%d]", path, k)
                   : *path                ? g_strdup_printf ("%s.%s", path, item->string)
                                          : g_strdup (item->string);
      change (m, holder, item, here, path);
      walk (m, item, here);
      g_free (here);
    }
}

static void
every_value (gconstpointer data)
{
  Mutation m = { .name = data };
  char *text = test_valid_text (data);
  m.tree = cJSON_Parse (text);
  char *before = cJSON_PrintUnformatted (m.tree);
  walk (&m, m.tree, "");
  char *after = cJSON_PrintUnformatted (m.tree);
  g_assert_cmpstr (before, ==, after);
  g_test_message ("%d opened, %d refused, %d of them with a place elsewhere", m.opened, m.refused, m.elsewhere);
  g_assert_cmpint (m.refused, >, 50);
  g_assert_cmpint (m.opened, >, 10);
  g_assert_cmpint (m.elsewhere, <=, m.refused / 20);
  cJSON_free (before);
  cJSON_free (after);
  cJSON_Delete (m.tree);
  g_free (text);
}

int
main (int argc, char **argv)
{
  static const char *const names[] = { "all-extras", "build-and-stock", "springs", "drive-and-weights", "print-all", "log",
                                       "measured",   "wishes",          "versions", "rocker",   "rail" };
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      char *path = g_strdup_printf ("/doc/mutations/any value of %s may be anything, and is told of in its place", names[i]);
      g_test_add_data_func (path, names[i], every_value);
      g_free (path);
    }
  return g_test_run ();
}
