/* The strict parser. */
#include "doc/json.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n.h>

#include "doc/document.h"
#include "doc/fill.h"

typedef struct
{
  const char *start, *at, *end;
  const char *name;
  int depth;
  GError **error;
} Parser;

static cJSON *parse_value (Parser *p);

/* ---- Errors ---- */

static void
fail_at (Parser *p, const char *where, const char *message)
{
  int line = 1, column = 1;

  for (const char *c = p->start; c < where; c++)
    {
      if (*c == '\n')
        {
          line++;
          column = 1;
        }
      else if (((unsigned char)*c & 0xC0) != 0x80)
        column++;
    }
  g_set_error (p->error, FW_DOC_ERROR, FW_DOC_ERROR_SYNTAX, _("%s: line %d, column %d: %s"),
               p->name, line, column, message);
}

/* The character at `at` as a message can show it on one line. */
static char *
show_character (const char *at)
{
  gunichar c = g_utf8_get_char (at);

  if (c < 0x20 || (c >= 0x7F && c < 0xA0) || !g_unichar_isprint (c))
    return g_strdup_printf ("U+%04X", c);
  char text[8] = { 0 };
  g_unichar_to_utf8 (c, text);
  return g_strdup_printf ("‘%s’", text);
}

/* Fails at the present place; `expected` is a sentence with one %s for the character found. */
static void
fail_expected (Parser *p, const char *expected)
{
  if (p->at >= p->end)
    {
      fail_at (p, p->end, _("more was expected, but the text ends here"));
      return;
    }
  char *found = show_character (p->at);
  char *message = fw_fill (expected, found);
  fail_at (p, p->at, message);
  g_free (message);
  g_free (found);
}

static cJSON *
no_memory (Parser *p)
{
  g_set_error (p->error, FW_DOC_ERROR, FW_DOC_ERROR_IO,
               _("%s: there is not enough memory to read it"), p->name);
  return NULL;
}

/* ---- Scalars ---- */

static void
skip_space (Parser *p)
{
  while (p->at < p->end && (*p->at == ' ' || *p->at == '\t' || *p->at == '\n' || *p->at == '\r'))
    p->at++;
}

static gboolean
skip_digits (Parser *p)
{
  if (p->at >= p->end || !g_ascii_isdigit (*p->at))
    {
      fail_expected (p, _("a digit was expected, %s was found"));
      return FALSE;
    }
  while (p->at < p->end && g_ascii_isdigit (*p->at))
    p->at++;
  return TRUE;
}

static gboolean
skip_number (Parser *p)
{
  if (*p->at == '-')
    p->at++;
  if (p->at < p->end && *p->at == '0')
    {
      p->at++;
      if (p->at < p->end && g_ascii_isdigit (*p->at))
        {
          fail_at (p, p->at - 1, _("a number without leading zeros was expected"));
          return FALSE;
        }
    }
  else if (!skip_digits (p))
    return FALSE;

  if (p->at < p->end && *p->at == '.')
    {
      p->at++;
      if (!skip_digits (p))
        return FALSE;
    }
  if (p->at < p->end && (*p->at == 'e' || *p->at == 'E'))
    {
      p->at++;
      if (p->at < p->end && (*p->at == '+' || *p->at == '-'))
        p->at++;
      if (!skip_digits (p))
        return FALSE;
    }
  return TRUE;
}

static char *
cjson_strndup (const char *text, gsize length)
{
  char *copy = cJSON_malloc (length + 1);
  if (copy)
    {
      memcpy (copy, text, length);
      copy[length] = '\0';
    }
  return copy;
}

static cJSON *
parse_number (Parser *p)
{
  const char *first = p->at;
  if (!skip_number (p))
    return NULL;

  cJSON *item = cJSON_CreateNumber (0);
  if (!item)
    return no_memory (p);
  item->valuestring = cjson_strndup (first, (gsize)(p->at - first));
  if (!item->valuestring)
    {
      cJSON_Delete (item);
      return no_memory (p);
    }
  double value = g_ascii_strtod (item->valuestring, NULL);
  if (!isfinite (value))
    {
      cJSON_Delete (item);
      fail_at (p, first, _("a number below 1.8e308 in size was expected"));
      return NULL;
    }
  cJSON_SetNumberHelper (item, value);
  return item;
}

static gboolean
parse_hex4 (Parser *p, gunichar *unit)
{
  *unit = 0;
  for (int i = 0; i < 4; i++, p->at++)
    {
      if (p->at >= p->end || !g_ascii_isxdigit (*p->at))
        {
          fail_expected (p, _("four hexadecimal digits were expected after \\u, %s was found"));
          return FALSE;
        }
      *unit = *unit * 16 + (gunichar)g_ascii_xdigit_value (*p->at);
    }
  return TRUE;
}

/* What follows \u; `escape` is the backslash. */
static gboolean
parse_unicode_escape (Parser *p, const char *escape, GString *out)
{
  gunichar unit, low = 0;
  if (!parse_hex4 (p, &unit))
    return FALSE;

  if (unit == 0)
    {
      fail_at (p, escape, _("text without the zero character \\u0000 was expected"));
      return FALSE;
    }
  if (unit >= 0xD800 && unit < 0xE000)
    {
      gboolean paired = unit < 0xDC00 && p->end - p->at >= 2 && p->at[0] == '\\' && p->at[1] == 'u';
      if (paired)
        {
          p->at += 2;
          if (!parse_hex4 (p, &low))
            return FALSE;
        }
      if (low < 0xDC00 || low > 0xDFFF)
        {
          fail_at (p, escape,
                   _("a surrogate \\uD800 to \\uDFFF was expected only as one of a pair"));
          return FALSE;
        }
      unit = 0x10000 + ((unit - 0xD800) << 10) + (low - 0xDC00);
    }
  g_string_append_unichar (out, unit);
  return TRUE;
}

static gboolean
parse_escape (Parser *p, GString *out)
{
  static const char letters[] = "\"\\/bfnrt";
  static const char meaning[] = "\"\\/\b\f\n\r\t";
  const char *escape = p->at++;

  if (p->at < p->end && *p->at == 'u')
    {
      p->at++;
      return parse_unicode_escape (p, escape, out);
    }
  const char *letter = p->at < p->end && *p->at ? strchr (letters, *p->at) : NULL;
  if (!letter)
    {
      fail_expected (p,
                     _("one of \" \\ / b f n r t u was expected after a backslash, %s was found"));
      return FALSE;
    }
  g_string_append_c (out, meaning[letter - letters]);
  p->at++;
  return TRUE;
}

/* The characters of a string, unescaped; NULL on error. */
static char *
parse_characters (Parser *p)
{
  GString *out = g_string_new (NULL);

  p->at++;
  while (p->at < p->end && *p->at != '"')
    {
      if (*p->at == '\\')
        {
          if (!parse_escape (p, out))
            break;
        }
      else if ((unsigned char)*p->at < 0x20)
        {
          fail_expected (p,
                         _("a string without bare control characters was expected, %s was found"));
          break;
        }
      else
        g_string_append_c (out, *p->at++);
    }

  if (p->at < p->end && *p->at == '"' && (!p->error || !*p->error))
    {
      p->at++;
      return g_string_free (out, FALSE);
    }
  if (p->at >= p->end && (!p->error || !*p->error))
    fail_at (p, p->end, _("a closing quote was expected, but the text ends here"));
  g_string_free (out, TRUE);
  return NULL;
}

static cJSON *
parse_string (Parser *p)
{
  char *text = parse_characters (p);
  if (!text)
    return NULL;
  cJSON *item = cJSON_CreateString (text);
  g_free (text);
  return item ? item : no_memory (p);
}

static cJSON *
parse_word (Parser *p)
{
  static const char *const words[] = { "true", "false", "null" };

  for (int i = 0; i < 3; i++)
    {
      gsize length = strlen (words[i]);
      if ((gsize)(p->end - p->at) < length || strncmp (p->at, words[i], length) != 0)
        continue;
      p->at += length;
      cJSON *item = i == 2 ? cJSON_CreateNull () : cJSON_CreateBool (i == 0);
      return item ? item : no_memory (p);
    }
  fail_expected (p,
                 _("a value (text in quotes, a number, {, [, true, false or null) was expected, "
                    "%s was found"));
  return NULL;
}

/* ---- Arrays and objects ---- */

/* After an item: TRUE and past the comma if another follows; else FALSE with *closed telling
 * whether the closing bracket was there. */
static gboolean
more_items (Parser *p, char closing, gboolean *closed)
{
  skip_space (p);
  *closed = FALSE;
  if (p->at < p->end && *p->at == ',')
    {
      p->at++;
      skip_space (p);
      return TRUE;
    }
  if (p->at < p->end && *p->at == closing)
    {
      p->at++;
      *closed = TRUE;
    }
  else if (closing == ']')
    fail_expected (p, _("a comma or ] was expected, %s was found"));
  else
    fail_expected (p, _("a comma or } was expected, %s was found"));
  return FALSE;
}

static gboolean
parse_items (Parser *p, cJSON *array)
{
  gboolean closed;

  skip_space (p);
  if (p->at < p->end && *p->at == ']')
    {
      p->at++;
      return TRUE;
    }
  do
    {
      cJSON *item = parse_value (p);
      if (!item)
        return FALSE;
      cJSON_AddItemToArray (array, item);
    }
  while (more_items (p, ']', &closed));
  return closed;
}

/* A key and its value. `keys` holds the keys that this object had so far. */
static gboolean
parse_member (Parser *p, cJSON *object, GHashTable *keys)
{
  const char *first = p->at;
  if (p->at >= p->end || *p->at != '"')
    {
      fail_expected (p, _("a key in quotes was expected, %s was found"));
      return FALSE;
    }
  char *key = parse_characters (p);
  if (!key)
    return FALSE;
  if (!g_hash_table_add (keys, key)) /* takes `key` over in either case */
    {
      char *quoted = fw_json_quote (g_hash_table_lookup (keys, key));
      char *message = g_strdup_printf (_("each key once was expected, %s stands twice"), quoted);
      fail_at (p, first, message);
      g_free (message);
      g_free (quoted);
      return FALSE;
    }

  skip_space (p);
  if (p->at >= p->end || *p->at != ':')
    {
      fail_expected (p, _("a colon was expected after the key, %s was found"));
      return FALSE;
    }
  p->at++;
  skip_space (p);
  cJSON *item = parse_value (p);
  if (!item)
    return FALSE;
  if (!cJSON_AddItemToObject (object, key, item))
    {
      cJSON_Delete (item);
      no_memory (p);
      return FALSE;
    }
  return TRUE;
}

static gboolean
parse_members (Parser *p, cJSON *object)
{
  gboolean closed = FALSE;

  skip_space (p);
  if (p->at < p->end && *p->at == '}')
    {
      p->at++;
      return TRUE;
    }
  GHashTable *keys = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  while (parse_member (p, object, keys) && more_items (p, '}', &closed))
    ;
  g_hash_table_unref (keys);
  return closed;
}

static cJSON *
parse_nested (Parser *p)
{
  gboolean is_object = *p->at == '{';
  if (p->depth == FW_JSON_DEPTH)
    {
      char *message
          = g_strdup_printf (_("at most %d levels of brackets were expected"), FW_JSON_DEPTH);
      fail_at (p, p->at, message);
      g_free (message);
      return NULL;
    }
  cJSON *item = is_object ? cJSON_CreateObject () : cJSON_CreateArray ();
  if (!item)
    return no_memory (p);

  p->at++;
  p->depth++;
  gboolean good = is_object ? parse_members (p, item) : parse_items (p, item);
  p->depth--;
  if (good)
    return item;
  cJSON_Delete (item);
  return NULL;
}

static cJSON *
parse_value (Parser *p)
{
  if (p->at < p->end && (*p->at == '{' || *p->at == '['))
    return parse_nested (p);
  if (p->at < p->end && *p->at == '"')
    return parse_string (p);
  if (p->at < p->end && (*p->at == '-' || g_ascii_isdigit (*p->at)))
    return parse_number (p);
  return parse_word (p);
}

/* ---- The whole text ---- */

static gboolean
check_utf8 (Parser *p)
{
  const char *stop;

  if (p->end - p->start >= 3 && memcmp (p->start, "\xEF\xBB\xBF", 3) == 0)
    {
      fail_at (p, p->start, _("a text without a byte order mark was expected"));
      return FALSE;
    }
  if (g_utf8_validate_len (p->start, (gsize)(p->end - p->start), &stop))
    return TRUE;
  char *message = g_strdup_printf (_("text in UTF-8 was expected, the byte 0x%02X was found"),
                                   (unsigned char)*stop);
  fail_at (p, stop, message);
  g_free (message);
  return FALSE;
}

cJSON *
fw_json_parse (const char *text, gsize length, const char *name, GError **error)
{
  GError *fault = NULL;
  Parser p = { .start = text, .at = text, .end = text + length, .name = name, .error = &fault };
  cJSON *tree = NULL;

  if (check_utf8 (&p))
    {
      skip_space (&p);
      tree = parse_value (&p);
    }
  skip_space (&p);
  if (tree && p.at < p.end)
    {
      fail_expected (&p, _("nothing was expected after the end of the design, %s was found"));
      g_clear_pointer (&tree, cJSON_Delete);
    }
  if (fault)
    g_propagate_error (error, fault);
  return tree;
}
