#include "shop/ownfiles.h"

#include <string.h>

#include "doc/files.h"

#define FOLDER_SUM "-"

GHashTable *
fw_own_files_read (const char *folder, const char *list)
{
  GHashTable *own = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autofree char *path = g_build_filename (folder, list, NULL);
  gsize length;
  g_autofree char *text
      = g_file_test (path, G_FILE_TEST_IS_REGULAR) ? fw_file_read (path, &length, NULL) : NULL;
  g_auto (GStrv) lines = g_strsplit (text == NULL ? "" : text, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    {
      char *name = strstr (*line, "  ");
      if (name == NULL)
        continue;
      g_hash_table_insert (own, g_strdup (name + 2), g_strndup (*line, (gsize)(name - *line)));
    }
  return own;
}

void
fw_own_files_add (GHashTable *own, const char *name, const char *bytes, gsize length)
{
  g_hash_table_insert (own, g_strdup (name),
                       g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *)bytes, length));
}

/* A sum for a regular file or a link to one; NULL: it cannot be read. */
static char *
sum_of (const char *path)
{
  gsize length;
  g_autofree char *bytes = g_file_test (path, G_FILE_TEST_IS_REGULAR) ? fw_file_read (path, &length, NULL) : NULL;
  return bytes == NULL ? NULL : g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *)bytes, length);
}

gboolean
fw_own_files_may_go (GHashTable *own, const char *folder, const char *name, const char *bytes, gsize length)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  if (!g_file_test (path, G_FILE_TEST_EXISTS) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
    return TRUE;
  g_autofree char *found = sum_of (path);
  if (found == NULL)
    return FALSE;
  g_autofree char *coming
      = bytes == NULL ? NULL : g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *)bytes, length);
  return g_strcmp0 (found, g_hash_table_lookup (own, name)) == 0 || g_strcmp0 (found, coming) == 0;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

/* Names in a folder, folders with / behind; links count as what they are, never as folders. */
static GPtrArray *
names_in (const char *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      gboolean is_folder
          = g_file_test (path, G_FILE_TEST_IS_DIR) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK);
      g_ptr_array_add (names, g_strconcat (name, is_folder ? "/" : "", NULL));
    }
  g_ptr_array_sort (names, by_name);
  return names;
}

static gboolean
is_own (GHashTable *own, const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  const char *sum = g_hash_table_lookup (own, name);
  if (sum == NULL || g_file_test (path, G_FILE_TEST_IS_SYMLINK))
    return FALSE;
  g_autofree char *found = g_str_has_suffix (name, "/") ? g_strdup (FOLDER_SUM) : sum_of (path);
  return g_strcmp0 (found, sum) == 0;
}

/* `below`: "" or the folder's name with / behind. */
static char *
foreign_below (GHashTable *own, const char *folder, const char *below, const char *list)
{
  g_autofree char *here = g_build_filename (folder, below, NULL);
  g_autoptr (GPtrArray) names = names_in (here);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *name = g_strconcat (below, names->pdata[i], NULL);
      if (strcmp (name, list) == 0)
        continue;
      if (!is_own (own, folder, name))
        return g_steal_pointer (&name);
      char *inside = g_str_has_suffix (name, "/") ? foreign_below (own, folder, name, list) : NULL;
      if (inside != NULL)
        return inside;
    }
  return NULL;
}

char *
fw_own_files_foreign (GHashTable *own, const char *folder, const char *list)
{
  return foreign_below (own, folder, "", list);
}

static gboolean
add_below (GHashTable *own, const char *folder, const char *below, GError **error)
{
  g_autofree char *here = g_build_filename (folder, below, NULL);
  g_autoptr (GPtrArray) names = names_in (here);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *name = g_strconcat (below, names->pdata[i], NULL);
      if (g_str_has_suffix (name, "/"))
        {
          g_hash_table_insert (own, g_strdup (name), g_strdup (FOLDER_SUM));
          if (!add_below (own, folder, name, error))
            return FALSE;
          continue;
        }
      gsize length;
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *bytes = fw_file_read (path, &length, error);
      if (bytes == NULL)
        return FALSE;
      fw_own_files_add (own, name, bytes, length);
    }
  return TRUE;
}

gboolean
fw_own_files_add_all (GHashTable *own, const char *folder, GError **error)
{
  return add_below (own, folder, "", error);
}

char *
fw_own_files_text (GHashTable *own)
{
  GString *text = g_string_new (NULL);
  GList *names = g_list_sort (g_hash_table_get_keys (own), (GCompareFunc)strcmp);
  for (const GList *at = names; at != NULL; at = at->next)
    g_string_append_printf (text, "%s  %s\n", (char *)g_hash_table_lookup (own, at->data), (char *)at->data);
  g_list_free (names);
  return g_string_free (text, FALSE);
}
