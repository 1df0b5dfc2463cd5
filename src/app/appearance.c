#include "app/appearance.h"

#define PORTAL "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define SPACE "org.freedesktop.appearance"
#define SCHEME "color-scheme"
#define CONTRAST "contrast"
#define PREFERS_DARK 1
#define PREFERS_CONTRAST 1
#define CONTRAST_THEME "HighContrast" /* within GTK; its dark variant goes by the setting for dark */

struct FwAppearanceWatch
{
  GSourceFunc changed;
  gpointer data;
  gboolean gtk_dark;     /* GTK's own setting as the program found it */
  gboolean theme_dark, theme_contrast; /* the desktop's theme, by its name */
  gboolean desktop_dark, desktop_contrast;
  gboolean told;         /* the desktop has answered about light and dark */
  gboolean applying;     /* the theme's name is being changed from here */
  gboolean overridden;   /* the theme's name comes from here */
  GCancellable *cancel;
  GDBusProxy *proxy;
  GtkCssProvider *colours; /* owned; NULL before the first apply */
};

/* ---- What GTK knows ---- */

static void
watch_read_theme (FwAppearanceWatch *self)
{
  g_autofree char *name = NULL;

  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &name, NULL);
  self->theme_contrast = name != NULL && (g_str_has_prefix (name, CONTRAST_THEME) || g_str_has_prefix (name, "Default-hc"));
  self->theme_dark = name != NULL && (g_str_has_suffix (name, "Inverse") || g_str_has_suffix (name, "-dark"));
}

static void
on_theme_name (FwAppearanceWatch *self)
{
  if (self->applying || self->overridden)
    return;
  watch_read_theme (self);
  self->changed (self->data);
}

static void
on_desktop (FwAppearanceWatch *self)
{
  self->changed (self->data);
}

/* Newer GTK tells it in a setting of its own. */
static gboolean
gtk_wants_contrast (void)
{
  GtkSettings *settings = gtk_settings_get_default ();
  GParamSpec *spec = g_object_class_find_property (G_OBJECT_GET_CLASS (settings), "gtk-interface-contrast");
  g_auto (GValue) value = G_VALUE_INIT;

  if (spec == NULL || !G_IS_PARAM_SPEC_ENUM (spec))
    return FALSE;
  g_value_init (&value, spec->value_type);
  g_object_get_property (G_OBJECT (settings), spec->name, &value);
  GEnumValue *known = g_enum_get_value (G_PARAM_SPEC_ENUM (spec)->enum_class, g_value_get_enum (&value));
  return known != NULL && g_str_equal (known->value_nick, "more");
}

static void
watch_connect (FwAppearanceWatch *self, GtkSettings *settings)
{
  g_object_get (settings, "gtk-application-prefer-dark-theme", &self->gtk_dark, NULL);
  watch_read_theme (self);
  g_signal_connect_swapped (settings, "notify::gtk-theme-name", G_CALLBACK (on_theme_name), self);
  g_signal_connect_swapped (settings, "notify::gtk-xft-dpi", G_CALLBACK (on_desktop), self);
  if (g_object_class_find_property (G_OBJECT_GET_CLASS (settings), "gtk-interface-contrast") != NULL)
    g_signal_connect_swapped (settings, "notify::gtk-interface-contrast", G_CALLBACK (on_desktop), self);
}

FwAppearanceWatch *
fw_appearance_watch_new (GSourceFunc changed, gpointer data)
{
  FwAppearanceWatch *self = g_new0 (FwAppearanceWatch, 1);
  self->changed = changed;
  self->data = data;
  self->cancel = g_cancellable_new ();
  if (gtk_settings_get_default () != NULL)
    watch_connect (self, gtk_settings_get_default ());
  return self;
}

void
fw_appearance_watch_free (FwAppearanceWatch *self)
{
  if (self == NULL)
    return;
  g_cancellable_cancel (self->cancel);
  g_object_unref (self->cancel);
  if (gtk_settings_get_default () != NULL)
    g_signal_handlers_disconnect_by_data (gtk_settings_get_default (), self);
  if (self->proxy != NULL)
    g_signal_handlers_disconnect_by_data (self->proxy, self);
  g_clear_object (&self->proxy);
  g_clear_object (&self->colours);
  g_free (self);
}

/* ---- What the desktop says ---- */

static void
watch_tell (FwAppearanceWatch *self, const char *key, GVariant *value)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);
  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *next = g_variant_get_variant (inner);
      g_variant_unref (inner);
      inner = next;
    }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return;
  guint32 said = g_variant_get_uint32 (inner);
  if (g_str_equal (key, CONTRAST))
    self->desktop_contrast = said == PREFERS_CONTRAST;
  else
    {
      self->told = TRUE;
      self->desktop_dark = said == PREFERS_DARK;
    }
  self->changed (self->data);
}

static void
on_setting (GDBusProxy *proxy, const char *sender, const char *signal, GVariant *parameters, gpointer data)
{
  const char *space, *key;
  g_autoptr (GVariant) value = NULL;
  if (g_strcmp0 (signal, "SettingChanged") != 0
      || !g_variant_is_of_type (parameters, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (parameters, "(&s&sv)", &space, &key, &value);
  if (g_str_equal (space, SPACE) && (g_str_equal (key, SCHEME) || g_str_equal (key, CONTRAST)))
    watch_tell (data, key, value);
}

static void
watch_read (GObject *source, GAsyncResult *result, FwAppearanceWatch *self, const char *key)
{
  g_autoptr (GVariant) answer = g_dbus_proxy_call_finish (G_DBUS_PROXY (source), result, NULL);
  if (answer == NULL) /* no such desktop, or the program has ended */
    return;
  g_autoptr (GVariant) value = g_variant_get_child_value (answer, 0);
  watch_tell (self, key, value);
}

static void
on_scheme_read (GObject *source, GAsyncResult *result, gpointer data)
{
  watch_read (source, result, data, SCHEME);
}

static void
on_contrast_read (GObject *source, GAsyncResult *result, gpointer data)
{
  watch_read (source, result, data, CONTRAST);
}

static void
on_proxy (GObject *source, GAsyncResult *result, gpointer data)
{
  GDBusProxy *proxy = g_dbus_proxy_new_for_bus_finish (result, NULL);
  if (proxy == NULL)
    return;
  FwAppearanceWatch *self = data;
  self->proxy = proxy;
  g_signal_connect (proxy, "g-signal", G_CALLBACK (on_setting), self);
  g_autofree char *owner = g_dbus_proxy_get_name_owner (proxy);
  if (owner == NULL)
    return;
  g_dbus_proxy_call (proxy, "Read", g_variant_new ("(ss)", SPACE, SCHEME), G_DBUS_CALL_FLAGS_NONE, 1000, self->cancel,
                     on_scheme_read, self);
  g_dbus_proxy_call (proxy, "Read", g_variant_new ("(ss)", SPACE, CONTRAST), G_DBUS_CALL_FLAGS_NONE, 1000, self->cancel,
                     on_contrast_read, self);
}

void
fw_appearance_watch_start (FwAppearanceWatch *self)
{
  g_dbus_proxy_new_for_bus (G_BUS_TYPE_SESSION,
                            G_DBUS_PROXY_FLAGS_DO_NOT_LOAD_PROPERTIES | G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START, NULL,
                            PORTAL, PORTAL_PATH, PORTAL_SETTINGS, self->cancel, on_proxy, self);
}

/* ---- The look of it ---- */

FwTheme
fw_appearance_theme (FwAppearanceWatch *self, FwAppearance chosen, gboolean contrast)
{
  gboolean dark = chosen == FW_APPEARANCE_DARK;

  if (chosen == FW_APPEARANCE_FOLLOW)
    dark = self->theme_dark || (self->told ? self->desktop_dark : self->gtk_dark);
  if (contrast || self->theme_contrast || self->desktop_contrast || gtk_wants_contrast ())
    return dark ? FW_THEME_DARK_CONTRAST : FW_THEME_LIGHT_CONTRAST;
  return dark ? FW_THEME_DARK : FW_THEME_LIGHT;
}

/* The toolkit's own widgets follow: edges of fields, of buttons, of sliders. */
static void
apply_toolkit_theme (FwAppearanceWatch *self, FwTheme theme)
{
  GtkSettings *settings = gtk_settings_get_default ();
  /* A desktop that has a theme of high contrast keeps it, but for one that is always dark. */
  gboolean wanted = fw_theme_is_contrast (theme) && (!self->theme_contrast || self->theme_dark != fw_theme_is_dark (theme));

  gboolean dark;
  g_object_get (settings, "gtk-application-prefer-dark-theme", &dark, NULL);

  self->applying = TRUE;
  if (dark != fw_theme_is_dark (theme)) /* GTK reads its theme anew even where nothing changes */
    g_object_set (settings, "gtk-application-prefer-dark-theme", !dark, NULL);
  if (wanted)
    g_object_set (settings, "gtk-theme-name", CONTRAST_THEME, NULL);
  else if (self->overridden)
    gtk_settings_reset_property (settings, "gtk-theme-name");
  self->overridden = wanted;
  self->applying = FALSE;
}

void
fw_appearance_apply (FwAppearanceWatch *self, FwTheme theme)
{
  static const char *const sheets[] = {
    [FW_THEME_LIGHT] = "light.css",
    [FW_THEME_DARK] = "dark.css",
    [FW_THEME_LIGHT_CONTRAST] = "light-contrast.css",
    [FW_THEME_DARK_CONTRAST] = "dark-contrast.css",
  };
  g_autofree char *path = g_strconcat ("/org/flapwright/Flapwright/", sheets[theme], NULL);

  if (self->colours == NULL)
    {
      self->colours = gtk_css_provider_new ();
      gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (self->colours),
                                                  GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
    }
  gtk_css_provider_load_from_resource (self->colours, path);
  apply_toolkit_theme (self, theme);
}
