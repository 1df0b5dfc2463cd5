#include "app/settingsold.h"

#define LEAST_WIDTH 640
#define LEAST_HEIGHT 400
#define MOST_SIZE 16384

/* One of the words that the key knows, else it stays as it is. */
static void
take_word (GSettings *to, GKeyFile *file, const char *key)
{
  g_autofree char *word = g_key_file_get_string (file, "view", key, NULL);
  g_autoptr (GSettingsSchema) schema = NULL;
  g_object_get (to, "settings-schema", &schema, NULL);
  g_autoptr (GSettingsSchemaKey) known = g_settings_schema_get_key (schema, key);
  g_autoptr (GVariant) value = word != NULL ? g_variant_ref_sink (g_variant_new_string (word)) : NULL;
  if (value != NULL && g_settings_schema_key_range_check (known, value))
    g_settings_set_value (to, key, value);
}

static void
take_show (FwSettings *settings, GKeyFile *file)
{
  g_auto (GStrv) words = g_key_file_get_string_list (file, "view", "show", NULL, NULL);
  guint show = 0;
  for (int i = 0; words != NULL && i < FW_N_OVERLAYS; i++)
    if (g_strv_contains ((const char *const *) words, fw_overlays[i].key))
      show |= fw_overlays[i].bit;
  if (words != NULL)
    fw_settings_set_show (settings, show);
}

static void
take_size (GSettings *to, GKeyFile *file, const char *key, int least)
{
  int size = g_key_file_get_integer (file, "window", key, NULL);
  if (size >= least && size <= MOST_SIZE)
    g_settings_set_int (to, key, size);
}

static void
take_flag (GSettings *to, GKeyFile *file, const char *group, const char *key)
{
  g_autoptr (GError) error = NULL;
  gboolean flag = g_key_file_get_boolean (file, group, key, &error);
  if (error == NULL)
    g_settings_set_boolean (to, key, flag);
}

static void
take_recent (FwSettings *settings, GKeyFile *file)
{
  g_auto (GStrv) paths = g_key_file_get_string_list (file, "recent", "files", NULL, NULL);
  for (guint i = paths != NULL ? g_strv_length (paths) : 0; i-- > 0;) /* the newest last: it goes on top */
    if (g_path_is_absolute (paths[i]))
      fw_settings_add_recent (settings, paths[i]);
}

gboolean
fw_settings_take_old (FwSettings *settings, const char *path)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  if (!g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL))
    return FALSE;
  take_word (settings->choices, file, "lengths");
  take_word (settings->choices, file, "appearance");
  take_show (settings, file);
  take_size (settings->state, file, "width", LEAST_WIDTH);
  take_size (settings->state, file, "height", LEAST_HEIGHT);
  take_flag (settings->state, file, "window", "maximized");
  take_flag (settings->state, file, "window", "margin");
  take_flag (settings->state, file, "help", "first-steps-done");
  take_recent (settings, file);
  return TRUE;
}
