/* The tree as text that looks as if written by hand. */
#include "doc/json.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <glib/gi18n.h>

#define LINE_WIDTH 96         /* columns that a row of numbers may reach */
#define SHORT_OBJECT_WIDTH 100 /* columns within which a small object stands on one line */
#define SHORT_OBJECT_KEYS 7
#define BRIEF_CHARACTERS 40

static void print_item (GString *out, const cJSON *item, int indent);

char *
fw_json_number_text (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };

  if (value == 0)
    return g_strdup ("0"); /* also for -0: the file knows one zero */
  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_ascii_formatd (text, sizeof text, formats[i], value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  return g_strdup (text);
}

char *
fw_json_decimal (double value, const char *format, const char *if_none)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  return g_strdup (isfinite (value) ? g_ascii_formatd (text, sizeof text, format, value == 0 ? 0 : value) : if_none);
}

cJSON *
fw_json_number (double value)
{
  g_autofree char *text = fw_json_decimal (value, "%.9g", "null");
  return cJSON_CreateRaw (text);
}

void
fw_json_set_number (cJSON *item, double value)
{
  cJSON_free (item->valuestring);
  item->valuestring = NULL;
  cJSON_SetNumberHelper (item, value);
}

/* "\u0085" of a character of four hexadecimal digits at most. By hand, as all that follows: printing into a string
 * leaves out what it finds no memory for and goes on. */
static void
print_escape (GString *out, gunichar u)
{
  g_string_append (out, "\\u");
  for (int shift = 12; shift >= 0; shift -= 4)
    g_string_append_c (out, "0123456789abcdef"[u >> shift & 0xF]);
}

/* Bytes that stand as they are; in one go, for a note may be long. */
static gsize
plain_run (const char *text)
{
  gsize n = 0;
  while (text[n] >= 0x20 && text[n] < 0x7F && text[n] != '"' && text[n] != '\\')
    n++;
  return n;
}

/* Control characters are escaped beyond what RFC 8259 asks (DEL, C1, line separators), so that no
 * terminal and no editor is confused by a title. */
static void
print_string (GString *out, const char *text)
{
  static const char plain[] = "\"\\\b\f\n\r\t";
  static const char letters[] = "\"\\bfnrt";

  g_string_append_c (out, '"');
  for (const char *c = text; *c;)
    {
      gsize run = plain_run (c);
      g_string_append_len (out, c, (gssize)run);
      c += run;
      if (!*c)
        break;
      gunichar u = g_utf8_get_char (c);
      c = g_utf8_next_char (c);
      const char *escape = u < 0x80 ? strchr (plain, (int)u) : NULL;
      if (escape)
        {
          g_string_append_c (out, '\\');
          g_string_append_c (out, letters[escape - plain]);
        }
      else if (u < 0x20 || (u >= 0x7F && u < 0xA0) || u == 0x2028 || u == 0x2029)
        print_escape (out, u);
      else
        g_string_append_unichar (out, u);
    }
  g_string_append_c (out, '"');
}

char *
fw_json_quote (const char *text)
{
  GString *out = g_string_new (NULL);
  print_string (out, text);
  return g_string_free (out, FALSE);
}

static void
print_number (GString *out, const cJSON *item)
{
  if (item->valuestring)
    {
      g_string_append (out, item->valuestring);
      return;
    }
  char *text = fw_json_number_text (item->valuedouble);
  g_string_append (out, text);
  g_free (text);
}

static void
print_scalar (GString *out, const cJSON *item)
{
  if (cJSON_IsNumber (item))
    print_number (out, item);
  else if (cJSON_IsString (item))
    print_string (out, item->valuestring);
  else if (cJSON_IsNull (item))
    g_string_append (out, "null");
  else
    g_string_append (out, cJSON_IsTrue (item) ? "true" : "false");
}

/* Everything on one line. */
static void
print_inline (GString *out, const cJSON *item)
{
  gboolean is_object = cJSON_IsObject (item);
  const cJSON *child;

  if (!is_object && !cJSON_IsArray (item))
    {
      print_scalar (out, item);
      return;
    }
  if (!item->child)
    {
      g_string_append (out, is_object ? "{}" : "[]");
      return;
    }
  g_string_append (out, is_object ? "{ " : "[");
  cJSON_ArrayForEach (child, item)
  {
    if (is_object)
      {
        print_string (out, child->string);
        g_string_append (out, ": ");
      }
    print_inline (out, child);
    if (child->next)
      g_string_append (out, ", ");
  }
  g_string_append (out, is_object ? " }" : "]");
}

char *
fw_json_brief (const cJSON *item)
{
  if (!item)
    return g_strdup (_("nothing"));
  GString *out = g_string_new (NULL);
  print_inline (out, item);
  if (g_utf8_strlen (out->str, -1) > BRIEF_CHARACTERS)
    {
      const char *cut = g_utf8_offset_to_pointer (out->str, BRIEF_CHARACTERS - 1);
      g_string_truncate (out, (gsize)(cut - out->str));
      g_string_append (out, "…");
    }
  return g_string_free (out, FALSE);
}

/* ---- Layout ---- */

static gboolean
is_scalar (const cJSON *item)
{
  return !cJSON_IsObject (item) && !cJSON_IsArray (item);
}

/* Scalars, or an array of scalars: a point, a pair. */
static gboolean
is_flat (const cJSON *item)
{
  const cJSON *child;

  if (cJSON_IsObject (item))
    return item->child == NULL;
  cJSON_ArrayForEach (child, item)
  {
    if (!is_scalar (child))
      return FALSE;
  }
  return TRUE;
}

static gboolean
all_children_flat (const cJSON *item)
{
  const cJSON *child;

  cJSON_ArrayForEach (child, item)
  {
    if (!is_flat (child))
      return FALSE;
  }
  return TRUE;
}

/* Column at which the next character lands. */
static int
column_of (const GString *out)
{
  const char *line = out->str + out->len;
  while (line > out->str && line[-1] != '\n')
    line--;
  return (int)g_utf8_strlen (line, -1);
}

static void
new_line (GString *out, int indent)
{
  g_string_append_c (out, '\n');
  for (int i = 0; i < indent; i++)
    g_string_append_c (out, ' ');
}

/* True if the item was appended on the present line, within `width` columns. */
static gboolean
try_inline (GString *out, const cJSON *item, int width)
{
  gsize mark = out->len;

  print_inline (out, item);
  if (column_of (out) <= width)
    return TRUE;
  g_string_truncate (out, mark);
  return FALSE;
}

/* Rows of numbers or points, as many to a line as fit. */
static void
print_rows (GString *out, const cJSON *array, int indent)
{
  const cJSON *child;
  gboolean first = TRUE;

  g_string_append_c (out, '[');
  cJSON_ArrayForEach (child, array)
  {
    gsize mark = out->len;
    if (!first)
      g_string_append_c (out, ' ');
    print_inline (out, child);
    if (first || column_of (out) >= LINE_WIDTH)
      {
        g_string_truncate (out, mark);
        new_line (out, indent + 2);
        print_inline (out, child);
      }
    if (child->next)
      g_string_append_c (out, ',');
    first = FALSE;
  }
  new_line (out, indent);
  g_string_append_c (out, ']');
}

static void
print_block (GString *out, const cJSON *item, int indent)
{
  gboolean is_object = cJSON_IsObject (item);
  const cJSON *child;

  g_string_append_c (out, is_object ? '{' : '[');
  cJSON_ArrayForEach (child, item)
  {
    new_line (out, indent + 2);
    if (is_object)
      {
        print_string (out, child->string);
        g_string_append (out, ": ");
      }
    print_item (out, child, indent + 2);
    if (child->next)
      g_string_append_c (out, ',');
  }
  new_line (out, indent);
  g_string_append_c (out, is_object ? '}' : ']');
}

static void
print_item (GString *out, const cJSON *item, int indent)
{
  gboolean flat_children = all_children_flat (item);

  if (is_scalar (item) || !item->child)
    print_inline (out, item);
  else if (cJSON_IsArray (item) && flat_children)
    {
      if (!try_inline (out, item, LINE_WIDTH))
        print_rows (out, item, indent);
    }
  else if (!(flat_children && indent > 0 && cJSON_GetArraySize (item) <= SHORT_OBJECT_KEYS
             && try_inline (out, item, SHORT_OBJECT_WIDTH)))
    print_block (out, item, indent);
}

char *
fw_json_print (const cJSON *tree)
{
  GString *out = g_string_new (NULL);
  print_item (out, tree, 0);
  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}
