#include "app/appearance.h"

#define PORTAL "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define SPACE "org.freedesktop.appearance"
#define KEY "color-scheme"
#define PREFERS_DARK 1

struct FwAppearanceWatch
{
  GSourceFunc changed;
  gpointer data;
  gboolean gtk_dark;     /* GTK's own setting as the program found it */
  gboolean desktop_dark;
  gboolean told;         /* the desktop has answered */
  GCancellable *cancel;
  GDBusProxy *proxy;
  GtkCssProvider *colours; /* owned; NULL before the first apply */
};

FwAppearanceWatch *
fw_appearance_watch_new (GSourceFunc changed, gpointer data)
{
  FwAppearanceWatch *self = g_new0 (FwAppearanceWatch, 1);
  self->changed = changed;
  self->data = data;
  self->cancel = g_cancellable_new ();
  if (gtk_settings_get_default () != NULL)
    g_object_get (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", &self->gtk_dark, NULL);
  return self;
}

void
fw_appearance_watch_free (FwAppearanceWatch *self)
{
  if (self == NULL)
    return;
  g_cancellable_cancel (self->cancel);
  g_object_unref (self->cancel);
  if (self->proxy != NULL)
    g_signal_handlers_disconnect_by_data (self->proxy, self);
  g_clear_object (&self->proxy);
  g_clear_object (&self->colours);
  g_free (self);
}

static void
watch_tell (FwAppearanceWatch *self, GVariant *value)
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
  self->told = TRUE;
  self->desktop_dark = g_variant_get_uint32 (inner) == PREFERS_DARK;
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
  if (g_str_equal (space, SPACE) && g_str_equal (key, KEY))
    watch_tell (data, value);
}

static void
on_read (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GVariant) answer = g_dbus_proxy_call_finish (G_DBUS_PROXY (source), result, NULL);
  if (answer == NULL) /* no such desktop, or the program has ended */
    return;
  g_autoptr (GVariant) value = g_variant_get_child_value (answer, 0);
  watch_tell (data, value);
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
  if (owner != NULL)
    g_dbus_proxy_call (proxy, "Read", g_variant_new ("(ss)", SPACE, KEY), G_DBUS_CALL_FLAGS_NONE, 1000,
                       self->cancel, on_read, self);
}

void
fw_appearance_watch_start (FwAppearanceWatch *self)
{
  g_dbus_proxy_new_for_bus (G_BUS_TYPE_SESSION,
                            G_DBUS_PROXY_FLAGS_DO_NOT_LOAD_PROPERTIES | G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START, NULL,
                            PORTAL, PORTAL_PATH, PORTAL_SETTINGS, self->cancel, on_proxy, self);
}

gboolean
fw_appearance_dark (FwAppearanceWatch *self, FwAppearance chosen)
{
  if (chosen == FW_APPEARANCE_FOLLOW)
    return self->told ? self->desktop_dark : self->gtk_dark;
  return chosen == FW_APPEARANCE_DARK;
}

void
fw_appearance_apply (FwAppearanceWatch *self, gboolean dark)
{
  const char *path = dark ? "/org/flapwright/Flapwright/dark.css" : "/org/flapwright/Flapwright/light.css";

  if (self->colours == NULL)
    {
      self->colours = gtk_css_provider_new ();
      gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (self->colours),
                                                  GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
    }
  gtk_css_provider_load_from_resource (self->colours, path);
  g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme", dark, NULL);
}
