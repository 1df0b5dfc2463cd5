/* The build log of a design file: sharing it between states, and checking it when a file is opened. */
#include "doc/logtree.h"

#include <string.h>

#include <glib/gi18n.h>

#include "doc/fill.h"
#include "doc/json.h"
#include "doc/log.h"
#include "doc/paramkeys.h"
#include "doc/read.h"

/* ---- Sharing ---- */

/* Adds an item to an object, or deletes it. */
static gboolean
put (cJSON *object, const char *key, cJSON *item)
{
  if (item && cJSON_AddItemToObject (object, key, item))
    return TRUE;
  cJSON_Delete (item);
  return FALSE;
}

static gboolean
is_shared (const char *key)
{
  return strcmp (key, "log") == 0 || strcmp (key, "versions") == 0;
}

cJSON *
fw_log_tree_copy (const cJSON *tree)
{
  const cJSON *item;
  cJSON *copy = cJSON_CreateObject ();
  if (!copy)
    return NULL;

  cJSON_ArrayForEach (item, tree)
  {
    gboolean refers = is_shared (item->string) && cJSON_IsArray (item);
    cJSON *twin = refers ? cJSON_CreateArrayReference (item->child) : cJSON_Duplicate (item, TRUE);
    if (put (copy, item->string, twin))
      continue;
    cJSON_Delete (copy);
    return NULL;
  }
  return copy;
}

gboolean
fw_log_tree_share (cJSON *tree, GPtrArray *owners)
{
  cJSON *item;
  cJSON_ArrayForEach (item, tree)
  {
    if (!is_shared (item->string) || !cJSON_IsArray (item) || (item->type & cJSON_IsReference))
      continue;
    cJSON *owner = cJSON_CreateArray ();
    if (!owner)
      return FALSE;
    owner->child = item->child;
    item->type |= cJSON_IsReference;
    g_ptr_array_add (owners, owner);
  }
  return TRUE;
}

cJSON *
fw_log_tree_list (const cJSON *list, int skip, cJSON *instead, cJSON *added)
{
  const cJSON *entry;
  cJSON *copy = cJSON_CreateArray ();
  gboolean good = copy != NULL;
  int i = 0;

  cJSON_ArrayForEach (entry, list)
  {
    cJSON *item = i == skip ? instead : cJSON_CreateObjectReference (entry->child);
    if (i == skip)
      instead = NULL;
    if (i++ == skip && !item)
      continue;
    good = good && item && cJSON_AddItemToArray (copy, item);
    if (!good)
      cJSON_Delete (item);
  }
  if (good && added && cJSON_AddItemToArray (copy, added))
    added = NULL;
  good = good && !added;
  cJSON_Delete (instead);
  cJSON_Delete (added);
  if (good)
    return copy;
  cJSON_Delete (copy);
  return NULL;
}

cJSON *
fw_log_tree_entry (const cJSON *entry, const char *key, const char *text, const char *after)
{
  const cJSON *item;
  cJSON *copy = cJSON_CreateObject ();
  gboolean good = copy != NULL;

  for (item = entry->child; item && good; item = item->next)
    good = put (copy, item->string,
                strcmp (item->string, "design") == 0 ? cJSON_CreateObjectReference (item->child)
                                                     : cJSON_Duplicate (item, TRUE));
  if (good && fw_tree_set_text (copy, key, text, after))
    return copy;
  cJSON_Delete (copy);
  return NULL;
}

/* ---- Dates ---- */

/* `n` digits at `*at`, which moves on; -1 if they are not there. */
static int
take_digits (const char **at, int n)
{
  int value = 0;
  for (int i = 0; i < n; i++, (*at)++)
    {
      if (!g_ascii_isdigit (**at))
        return -1;
      value = 10 * value + (**at - '0');
    }
  return value;
}

static gboolean
take_char (const char **at, char c)
{
  if (**at != c)
    return FALSE;
  (*at)++;
  return TRUE;
}

/* Z, or +01:00; nothing is good too. */
static gboolean
zone_is_valid (const char **at)
{
  if (**at == '\0' || take_char (at, 'Z'))
    return TRUE;
  if (!take_char (at, '+') && !take_char (at, '-'))
    return FALSE;
  int hours = take_digits (at, 2);
  if (hours < 0 || hours > 23 || !take_char (at, ':'))
    return FALSE;
  int minutes = take_digits (at, 2);
  return minutes >= 0 && minutes <= 59;
}

static gboolean
time_is_valid (const char **at)
{
  int hours = take_digits (at, 2);
  if (hours < 0 || hours > 23 || !take_char (at, ':'))
    return FALSE;
  int minutes = take_digits (at, 2);
  if (minutes < 0 || minutes > 59)
    return FALSE;
  if (take_char (at, ':'))
    {
      int seconds = take_digits (at, 2);
      if (seconds < 0 || seconds > 60) /* 60: a leap second */
        return FALSE;
      if (take_char (at, '.'))
        {
          const char *first = *at;
          while (g_ascii_isdigit (**at))
            (*at)++;
          if (*at == first)
            return FALSE;
        }
    }
  return zone_is_valid (at);
}

gboolean
fw_log_date_is_valid (const char *date)
{
  const char *at = date;
  int year = take_digits (&at, 4);
  if (year < 1 || !take_char (&at, '-'))
    return FALSE;
  int month = take_digits (&at, 2);
  if (month < 1 || !take_char (&at, '-'))
    return FALSE;
  int day = take_digits (&at, 2);
  if (day < 1 || !g_date_valid_dmy ((GDateDay)day, (GDateMonth)month, (GDateYear)year))
    return FALSE;
  if (*at == '\0')
    return TRUE;
  return take_char (&at, 'T') && time_is_valid (&at) && *at == '\0' && strlen (date) <= 40;
}

/* ---- Texts and paths ---- */

gboolean
fw_log_text_is_valid (const char *text, gboolean lines)
{
  if (!g_utf8_validate (text, -1, NULL) || g_utf8_strlen (text, -1) > FW_LOG_MOST_LETTERS)
    return FALSE;
  for (const char *c = text; *c; c = g_utf8_next_char (c))
    {
      gunichar u = g_utf8_get_char (c);
      if (lines && (u == '\n' || u == '\t'))
        continue;
      if (u < 0x20 || (u >= 0x7F && u < 0xA0))
        return FALSE;
    }
  return TRUE;
}

gboolean
fw_log_path_is_valid (const char *path)
{
  if (!*path || *path == '/' || strlen (path) > 1000 || !fw_log_text_is_valid (path, FALSE)
      || strchr (path, '\\') || strchr (path, ':'))
    return FALSE;
  char **steps = g_strsplit (path, "/", -1);
  gboolean good = TRUE;
  for (char **step = steps; *step && good; step++)
    good = **step && strcmp (*step, "..") != 0 && strcmp (*step, ".") != 0;
  g_strfreev (steps);
  return good;
}

/* ---- Checking ---- */

/* Fails with `expected`, a whole sentence with one %s for what was found. */
static gboolean
fail_text (FwReader *r, const cJSON *object, const char *key, const char *expected)
{
  char *brief = fw_json_brief (cJSON_GetObjectItemCaseSensitive (object, key));
  char *message = fw_fill (expected, brief);
  fw_read_fail (r, key, FW_DOC_ERROR_INVALID, "%s", message);
  g_free (message);
  g_free (brief);
  return FALSE;
}

static gboolean
check_picture (FwReader *r, const cJSON *picture)
{
  const char *file = "", *caption = "";

  if (!cJSON_IsObject (picture))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                         _("an object { } was expected for a picture"));
  if (!fw_read_text (r, picture, "file", FW_REQUIRED, &file)
      || !fw_read_text (r, picture, "caption", FW_OPTIONAL, &caption))
    return FALSE;
  if (!fw_log_path_is_valid (file))
    return fail_text (r, picture, "file",
                      _("a path from the design's folder downwards, such as "
                        "\"pictures/first.jpg\", was expected, %s was found"));
  if (!fw_log_text_is_valid (caption, FALSE))
    return fail_text (r, picture, "caption", _("one line of text was expected, %s was found"));
  return TRUE;
}

static gboolean
check_pictures (FwReader *r, const cJSON *entry)
{
  const cJSON *list, *picture;
  int i = 0;

  if (!fw_read_array (r, entry, "pictures", FW_OPTIONAL, &list))
    return FALSE;
  if (cJSON_GetArraySize (list) > FW_LOG_MOST_PICTURES)
    return fw_read_fail (r, "pictures", FW_DOC_ERROR_INVALID,
                         _("at most %d pictures were expected, %d were found"),
                         FW_LOG_MOST_PICTURES, cJSON_GetArraySize (list));
  cJSON_ArrayForEach (picture, list)
  {
    gsize mark = fw_read_enter_nth (r, "pictures", i++);
    if (!check_picture (r, picture))
      return FALSE;
    fw_read_leave (r, mark);
  }
  return TRUE;
}

static gboolean
check_design (FwReader *r, const cJSON *entry)
{
  const cJSON *design;

  if (!fw_read_object (r, entry, "design", FW_REQUIRED, &design))
    return FALSE;
  gsize mark = fw_read_enter (r, "design");
  if (cJSON_GetObjectItemCaseSensitive (design, "log"))
    return fw_read_fail (r, "log", FW_DOC_ERROR_INVALID,
                         _("a design without a log of its own was expected"));
  const cJSON *materials = r->materials;
  FwDesign *read = fw_design_read_within (r, design);
  r->materials = materials;
  fw_design_free (read);
  fw_read_leave (r, read ? mark : r->path->len);
  return read != NULL;
}

static gboolean
check_entry (FwReader *r, const cJSON *entry)
{
  const char *date = "", *note = "";

  if (!cJSON_IsObject (entry))
    return fw_read_fail (r, NULL, FW_DOC_ERROR_INVALID,
                         _("an object { } was expected for an entry of the log"));
  if (!fw_read_text (r, entry, "date", FW_REQUIRED, &date)
      || !fw_read_text (r, entry, "note", FW_OPTIONAL, &note))
    return FALSE;
  if (!fw_log_date_is_valid (date))
    return fail_text (r, entry, "date",
                      _("a date such as \"2026-03-14\" or \"2026-03-14T18:30\" was expected, %s was found"));
  if (!fw_log_text_is_valid (note, TRUE))
    return fail_text (r, entry, "note",
                      _("text without control characters and of at most 20000 letters was expected, %s was "
                        "found"));
  return check_pictures (r, entry) && check_design (r, entry);
}

static gboolean
check_log (FwReader *r, const cJSON *tree)
{
  const cJSON *log, *entry;
  int i = 0;

  if (!fw_read_array (r, tree, "log", FW_OPTIONAL, &log))
    return FALSE;
  if (cJSON_GetArraySize (log) > FW_LOG_MOST_ENTRIES)
    return fw_read_fail (r, "log", FW_DOC_ERROR_INVALID,
                         _("at most %d entries were expected, %d were found"), FW_LOG_MOST_ENTRIES,
                         cJSON_GetArraySize (log));
  cJSON_ArrayForEach (entry, log)
  {
    gsize mark = fw_read_enter_nth (r, "log", i++);
    if (!check_entry (r, entry))
      return FALSE;
    fw_read_leave (r, mark);
  }
  return TRUE;
}

gboolean
fw_log_tree_check (const cJSON *tree, const char *name, GError **error)
{
  FwReader r = { .name = name, .path = g_string_new (NULL), .error = error };
  gboolean good = check_log (&r, tree);

  g_string_free (r.path, TRUE);
  return good;
}
