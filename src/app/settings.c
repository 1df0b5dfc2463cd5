#define G_SETTINGS_ENABLE_BACKEND /* a key file instead of the desktop's own store */
#include "app/settings.h"

#include <errno.h>
#include <gio/gsettingsbackend.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <unistd.h>

#include "app/settingsold.h"

#define CHOICES "org.flapwright.Flapwright"
#define STATE "org.flapwright.Flapwright.State"
#define ROOT "/org/flapwright/Flapwright/"
#define KEEP_DELAY_S 2

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

/* ---- The schemas ---- */

/* An older one, of another installation, would not do. */
static gboolean
schema_is_whole (GSettingsSchema *schema)
{
  static const char *const newest[] = { CHOICES, "contrast", STATE, "views" };
  for (gsize i = 0; i < G_N_ELEMENTS (newest); i += 2)
    if (g_str_equal (g_settings_schema_get_id (schema), newest[i]))
      return g_settings_schema_has_key (schema, newest[i + 1]);
  return FALSE;
}

/* Where the desktop looks, where this program was installed to, and, not installed, where it was built. */
static GSettingsSchema *
schema_find (const char *id, GError **error)
{
  const char *const folders[] = { NULL, FW_SCHEMADIR, FW_BUILD_SCHEMADIR };
  for (gsize i = 0; i < G_N_ELEMENTS (folders); i++)
    {
      GSettingsSchemaSource *usual = g_settings_schema_source_get_default ();
      GSettingsSchemaSource *source = usual != NULL && folders[i] == NULL ? g_settings_schema_source_ref (usual) : NULL;
      if (folders[i] != NULL)
        source = g_settings_schema_source_new_from_directory (folders[i], NULL, FALSE, NULL);
      GSettingsSchema *schema = source != NULL ? g_settings_schema_source_lookup (source, id, FALSE) : NULL;
      g_clear_pointer (&source, g_settings_schema_source_unref);
      if (schema != NULL && schema_is_whole (schema))
        return schema;
      g_clear_pointer (&schema, g_settings_schema_unref);
    }
  g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT,
               /* Translators: a folder; the name of a schema */
               _("%s: expected the schema %s there, compiled: the program is not wholly installed"), FW_SCHEMADIR, id);
  return NULL;
}

/* ---- The files ---- */

typedef struct
{
  char *path;
  gboolean fresh;  /* nothing was there */
  gboolean usable; /* may be read and written */
  char *problem;   /* one line; NULL: none */
} Store;

static void
store_clear (Store *store)
{
  g_free (store->path);
  g_free (store->problem);
}

/* What is no key file is put aside, so that nothing of it is lost, and the usual values hold. */
static void
store_set_aside (Store *store)
{
  g_autofree char *aside = g_strconcat (store->path, ".broken", NULL);
  g_autofree char *name = g_filename_display_name (store->path), *other = g_filename_display_name (aside);
  store->fresh = store->usable = g_rename (store->path, aside) == 0;
  if (store->usable)
    /* Translators: two file names */
    store->problem = g_strdup_printf (_("%s: expected a key file; set aside as %s, and the usual settings hold"), name, other);
  else
    /* Translators: a file name */
    store->problem = g_strdup_printf (_("%s: expected a key file; the usual settings hold and are not kept"), name);
}

/* Looks before GSettings does, which would only warn. */
static void
store_look (Store *store)
{
  g_autofree char *folder = g_path_get_dirname (store->path), *name = g_filename_display_name (store->path);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GError) error = NULL;

  int failed = g_mkdir_with_parents (folder, 0700) == 0 ? 0 : errno;
  gboolean there = failed == 0 && g_key_file_load_from_file (file, store->path, G_KEY_FILE_NONE, &error);
  store->fresh = failed == 0 && g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  if (failed == 0 && !there && error->domain == G_KEY_FILE_ERROR && g_file_test (store->path, G_FILE_TEST_IS_REGULAR))
    {
      store_set_aside (store);
      return;
    }
  store->usable = (there || store->fresh) && g_access (folder, W_OK) == 0 && (store->fresh || g_access (store->path, W_OK) == 0);
  if (store->usable)
    return;
  if (there || store->fresh)
    failed = errno;
  /* Translators: a file name; what the system says */
  store->problem = g_strdup_printf (_("%s: settings are not kept there: %s"), name,
                                    failed != 0 ? g_strerror (failed) : error->message);
}

/* What can be read of a file that cannot be written. */
static void
copy_values (GSettings *to, GSettings *from, GSettingsSchema *schema)
{
  g_auto (GStrv) keys = g_settings_schema_list_keys (schema);
  for (int i = 0; keys[i] != NULL; i++)
    {
      g_autoptr (GVariant) value = g_settings_get_user_value (from, keys[i]);
      if (value != NULL)
        g_settings_set_value (to, keys[i], value);
    }
}

static GSettings *
store_open (const Store *store, GSettingsSchema *schema, GSettingsBackend **backend)
{
  *backend = store->usable ? g_keyfile_settings_backend_new (store->path, ROOT, "flapwright")
                           : g_memory_settings_backend_new ();
  GSettings *settings = g_settings_new_full (schema, *backend, NULL);
  if (store->usable || !g_file_test (store->path, G_FILE_TEST_IS_REGULAR))
    return settings;
  g_autoptr (GSettingsBackend) there = g_keyfile_settings_backend_new (store->path, ROOT, "flapwright");
  g_autoptr (GSettings) readable = g_settings_new_full (schema, there, NULL);
  copy_values (settings, readable, schema);
  return settings;
}

/* ---- Life ---- */

FwSettings *
fw_settings_load (GError **error)
{
  g_autoptr (GSettingsSchema) choices = schema_find (CHOICES, error);
  g_autoptr (GSettingsSchema) state = choices != NULL ? schema_find (STATE, error) : NULL;
  g_autoptr (GSettingsBackend) kept = NULL, left = NULL;
  if (state == NULL)
    return NULL;

  g_autofree char *old = g_build_filename (g_get_user_config_dir (), "flapwright", "settings.ini", NULL);
  Store first = { .path = g_build_filename (g_get_user_config_dir (), "flapwright", "settings.keyfile", NULL) };
  Store second = { .path = g_build_filename (g_get_user_state_dir (), "flapwright", "state.keyfile", NULL) };
  FwSettings *self = g_new0 (FwSettings, 1);
  store_look (&first);
  store_look (&second);
  self->choices = store_open (&first, choices, &kept);
  self->state = store_open (&second, state, &left);
  g_settings_delay (self->state);
  if (first.fresh && second.fresh && fw_settings_take_old (self, old))
    {
      fw_settings_keep_now (self);
      g_unlink (old);
    }
  self->problem = g_strdup (first.problem != NULL ? first.problem : second.problem);
  store_clear (&first);
  store_clear (&second);
  return self;
}

void
fw_settings_keep_now (FwSettings *self)
{
  g_clear_handle_id (&self->keep_source, g_source_remove);
  g_settings_apply (self->state);
}

static gboolean
on_keep (gpointer data)
{
  FwSettings *self = data;
  self->keep_source = 0;
  g_settings_apply (self->state);
  return G_SOURCE_REMOVE;
}

void
fw_settings_keep_soon (FwSettings *self)
{
  if (self->keep_source == 0)
    self->keep_source = g_timeout_add_seconds (KEEP_DELAY_S, on_keep, self);
}

void
fw_settings_free (FwSettings *self)
{
  if (self == NULL)
    return;
  fw_settings_keep_now (self);
  g_object_unref (self->choices);
  g_object_unref (self->state);
  g_free (self->problem);
  g_free (self);
}

/* ---- Choices ---- */

FwAppearance
fw_settings_appearance (FwSettings *self)
{
  return (FwAppearance) g_settings_get_enum (self->choices, "appearance");
}

FwLengths
fw_settings_lengths (FwSettings *self)
{
  return (FwLengths) g_settings_get_enum (self->choices, "lengths");
}

guint
fw_settings_show (FwSettings *self)
{
  return g_settings_get_flags (self->choices, "show");
}

void
fw_settings_set_show (FwSettings *self, guint show)
{
  guint known = 0;
  for (int i = 0; i < FW_N_OVERLAYS; i++)
    known |= fw_overlays[i].bit;
  g_settings_set_flags (self->choices, "show", show & known);
}

/* ---- Lists of paths ---- */

char **
fw_settings_paths (FwSettings *self, const char *key)
{
  g_autoptr (GVariant) value = g_settings_get_value (self->state, key);
  return g_variant_dup_bytestring_array (value, NULL);
}

void
fw_settings_set_paths (FwSettings *self, const char *key, const char *const *paths)
{
  g_settings_set_value (self->state, key, g_variant_new_bytestring_array (paths, -1));
  fw_settings_keep_soon (self);
}

static void
recent_put (FwSettings *self, const char *path, gboolean on_top)
{
  g_auto (GStrv) old = fw_settings_paths (self, "recent");
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  guint most = (guint) g_settings_get_int (self->choices, "recent-most");

  if (on_top)
    g_ptr_array_add (paths, (gpointer) path);
  for (int i = 0; old[i] != NULL; i++)
    if (!g_str_equal (old[i], path))
      g_ptr_array_add (paths, old[i]);
  g_ptr_array_set_size (paths, (int) MIN (paths->len, most));
  g_ptr_array_add (paths, NULL);
  fw_settings_set_paths (self, "recent", (const char *const *) paths->pdata);
}

void
fw_settings_add_recent (FwSettings *self, const char *path)
{
  recent_put (self, path, TRUE);
}

void
fw_settings_drop_recent (FwSettings *self, const char *path)
{
  recent_put (self, path, FALSE);
}
