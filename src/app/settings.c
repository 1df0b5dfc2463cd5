#include "app/settings.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#define SAVE_DELAY_S 2
#define LEAST_WIDTH 640
#define LEAST_HEIGHT 400
#define MOST_SIZE 16384

const FwOverlay fw_overlays[FW_N_OVERLAYS] = {
  { FW_SHOW_TRACES, "traces", N_ ("Paths of tips and joints") },
  { FW_SHOW_GHOSTS, "ghosts", N_ ("Where it was and will be") },
  { FW_SHOW_SWEPT, "swept", N_ ("Room it sweeps") },
  { FW_SHOW_DIMENSIONS, "dimensions", N_ ("Dimensions") },
  { FW_SHOW_STOPS, "stops", N_ ("Hinge stops") },
  { FW_SHOW_TROUBLE, "trouble", N_ ("Trouble, on the part") },
  { FW_SHOW_FORCES, "forces", N_ ("Forces") },
  { FW_SHOW_WEIGHTS, "weights", N_ ("Weights") },
  { FW_SHOW_SWING, "swing", N_ ("Swing of hanging panels") },
  { FW_SHOW_SPREAD, "bands", N_ ("Bands of what is made") },
  { FW_SHOW_NAMES, "names", N_ ("Names of parts") },
  { FW_SHOW_HANDLES, "handles", N_ ("Grips to drag") },
  { FW_SHOW_SCALE_BAR, "scale-bar", N_ ("Scale bar") },
  { FW_SHOW_SIDES, "sides", N_ ("Name of the view, right and left") },
};

static const char *const appearances[FW_N_APPEARANCES] = { "follow", "light", "dark" };

const char *
fw_appearance_word (FwAppearance appearance)
{
  return appearances[appearance];
}

FwAppearance
fw_appearance_from_word (const char *word)
{
  for (int i = 0; i < FW_N_APPEARANCES; i++)
    if (g_strcmp0 (word, appearances[i]) == 0)
      return (FwAppearance) i;
  return FW_APPEARANCE_FOLLOW;
}

const char *
fw_lengths_word (FwLengths lengths)
{
  return lengths == FW_LENGTHS_INCH ? "inch" : "mm";
}

FwLengths
fw_lengths_from_word (const char *word)
{
  return g_strcmp0 (word, "inch") == 0 ? FW_LENGTHS_INCH : FW_LENGTHS_MM;
}

static char *
settings_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "flapwright", "settings.ini", NULL);
}

/* ---- Reading ---- */

static guint
read_show (GKeyFile *file, guint otherwise)
{
  g_auto (GStrv) words = g_key_file_get_string_list (file, "view", "show", NULL, NULL);
  guint show = 0;
  if (words == NULL)
    return otherwise;
  for (int i = 0; i < FW_N_OVERLAYS; i++)
    if (g_strv_contains ((const char *const *) words, fw_overlays[i].key))
      show |= fw_overlays[i].bit;
  return show;
}

static int
read_size (GKeyFile *file, const char *key, int least, int otherwise)
{
  int size = g_key_file_get_integer (file, "window", key, NULL);
  return size >= least && size <= MOST_SIZE ? size : otherwise;
}

static gboolean
read_flag (GKeyFile *file, const char *group, const char *key, gboolean otherwise)
{
  g_autoptr (GError) error = NULL;
  gboolean flag = g_key_file_get_boolean (file, group, key, &error);
  return error != NULL ? otherwise : flag;
}

static void
read_recent (GKeyFile *file, GPtrArray *recent)
{
  g_auto (GStrv) paths = g_key_file_get_string_list (file, "recent", "files", NULL, NULL);
  for (int i = 0; paths != NULL && paths[i] != NULL && recent->len < FW_MOST_RECENT; i++)
    if (g_path_is_absolute (paths[i]))
      g_ptr_array_add (recent, g_strdup (paths[i]));
}

FwSettings *
fw_settings_load (void)
{
  FwSettings *self = g_new0 (FwSettings, 1);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *path = settings_path ();
  g_autoptr (FwSession) fresh = fw_session_new (); /* knows what is shown at first */

  g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL);
  g_autofree char *lengths = g_key_file_get_string (file, "view", "lengths", NULL);
  g_autofree char *appearance = g_key_file_get_string (file, "view", "appearance", NULL);
  self->lengths = fw_lengths_from_word (lengths);
  self->appearance = fw_appearance_from_word (appearance);
  self->show = read_show (file, fw_session_show (fresh));
  self->width = read_size (file, "width", LEAST_WIDTH, 1280);
  self->height = read_size (file, "height", LEAST_HEIGHT, 800);
  self->maximized = read_flag (file, "window", "maximized", FALSE);
  self->margin = read_flag (file, "window", "margin", TRUE);
  self->first_steps_done = read_flag (file, "help", "first-steps-done", FALSE);
  self->recent = g_ptr_array_new_with_free_func (g_free);
  read_recent (file, self->recent);
  return self;
}

/* ---- Writing ---- */

static void
write_show (GKeyFile *file, guint show)
{
  const char *words[FW_N_OVERLAYS];
  gsize n = 0;
  for (int i = 0; i < FW_N_OVERLAYS; i++)
    if (show & fw_overlays[i].bit)
      words[n++] = fw_overlays[i].key;
  g_key_file_set_string_list (file, "view", "show", words, n);
}

static void
settings_save (FwSettings *self)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *path = settings_path ();
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;

  g_key_file_load_from_file (file, path, G_KEY_FILE_KEEP_COMMENTS, NULL);
  g_key_file_set_string (file, "view", "lengths", fw_lengths_word (self->lengths));
  g_key_file_set_string (file, "view", "appearance", fw_appearance_word (self->appearance));
  write_show (file, self->show);
  g_key_file_set_integer (file, "window", "width", self->width);
  g_key_file_set_integer (file, "window", "height", self->height);
  g_key_file_set_boolean (file, "window", "maximized", self->maximized);
  g_key_file_set_boolean (file, "window", "margin", self->margin);
  g_key_file_set_boolean (file, "help", "first-steps-done", self->first_steps_done);
  g_key_file_set_string_list (file, "recent", "files", (const char *const *) self->recent->pdata, self->recent->len);
  g_mkdir_with_parents (folder, 0700);
  if (!g_key_file_save_to_file (file, path, &error))
    g_message ("%s", error->message); /* nothing of the user's work is lost */
}

static gboolean
on_save (gpointer data)
{
  FwSettings *self = data;
  self->save_source = 0;
  settings_save (self);
  return G_SOURCE_REMOVE;
}

void
fw_settings_save_soon (FwSettings *self)
{
  if (self->save_source == 0)
    self->save_source = g_timeout_add_seconds (SAVE_DELAY_S, on_save, self);
}

void
fw_settings_free (FwSettings *self)
{
  if (self == NULL)
    return;
  if (self->save_source != 0)
    {
      g_source_remove (self->save_source);
      settings_save (self);
    }
  g_ptr_array_unref (self->recent);
  g_free (self);
}

/* ---- Recent ---- */

void
fw_settings_drop_recent (FwSettings *self, const char *path)
{
  guint at;
  if (g_ptr_array_find_with_equal_func (self->recent, path, g_str_equal, &at))
    g_ptr_array_remove_index (self->recent, at);
  fw_settings_save_soon (self);
}

void
fw_settings_add_recent (FwSettings *self, const char *path)
{
  g_autofree char *copy = g_strdup (path);
  fw_settings_drop_recent (self, copy);
  g_ptr_array_insert (self->recent, 0, g_steal_pointer (&copy));
  if (self->recent->len > FW_MOST_RECENT)
    g_ptr_array_set_size (self->recent, FW_MOST_RECENT);
}
