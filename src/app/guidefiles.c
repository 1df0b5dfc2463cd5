#include "app/guidefiles.h"

#include <string.h>

char *
fw_guide_folder (void)
{
  static const char *const folders[] = { FW_DATADIR "/docs", FW_SOURCE_DEMOS "/../../docs" };
  for (gsize i = 0; i < G_N_ELEMENTS (folders); i++)
    {
      g_autofree char *first = g_build_filename (folders[i], "guide.md", NULL);
      if (g_file_test (first, G_FILE_TEST_IS_REGULAR))
        return g_strdup (folders[i]);
    }
  return NULL;
}

/* The folder with the guide in the language that is asked for first and is there; NULL: English. */
static char *
translated_folder (const char *folder)
{
  const char *const *names = g_get_language_names ();
  for (; *names != NULL && !g_str_equal (*names, "C") && !g_str_has_prefix (*names, "en"); names++)
    {
      g_autofree char *own = g_build_filename (folder, *names, NULL), *first = g_build_filename (own, "guide.md", NULL);
      if (strchr (*names, '/') == NULL && g_file_test (first, G_FILE_TEST_IS_REGULAR))
        return g_steal_pointer (&own);
    }
  return NULL;
}

static gboolean
is_page (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  return g_file_test (path, G_FILE_TEST_IS_REGULAR);
}

char *
fw_guide_file (const char *folder, const char *name)
{
  g_autofree char *own = translated_folder (folder);
  return g_build_filename (own != NULL && is_page (own, name) ? own : folder, name, NULL);
}

gboolean
fw_guide_only_in_english (const char *folder, const char *name)
{
  g_autofree char *own = translated_folder (folder);
  return own != NULL && !is_page (own, name);
}

char *
fw_guide_place (const char *folder, const char *link)
{
  const char *place = g_str_has_prefix (link, "../") ? link + 3 : link;
  g_autofree char *name = g_strndup (place, strcspn (place, "#"));
  gboolean within = strchr (name, '/') == NULL && g_str_has_suffix (name, ".md") && is_page (folder, name);
  return within ? g_strdup (place) : NULL;
}

char *
fw_guide_anchor (const char *heading)
{
  GString *out = g_string_new (NULL);
  for (const char *p = heading; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (c == ' ' || c == '-')
        g_string_append_c (out, '-');
      else if (g_unichar_isalnum (c) || c == '_')
        g_string_append_unichar (out, g_unichar_tolower (c));
    }
  return g_string_free (out, FALSE);
}

int
fw_guide_heading_number (const char *text, const char *anchor)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  gboolean code = FALSE;
  int number = 0;
  for (char **line = lines; *line != NULL; line++)
    {
      gsize marks = strspn (*line, "#");
      if (g_str_has_prefix (*line, "```"))
        code = !code;
      if (code || marks == 0 || marks > 6 || (*line)[marks] != ' ')
        continue;
      g_autofree char *own = fw_guide_anchor (g_strstrip (*line + marks));
      if (g_str_equal (own, anchor))
        return number;
      number++;
    }
  return -1;
}

char *
fw_guide_title (const char *text, const char *name)
{
  if (!g_str_has_prefix (text, "# "))
    return g_strdup (name);
  return g_strndup (text + 2, strcspn (text + 2, "\n"));
}
