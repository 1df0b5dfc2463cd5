#include "app/application.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "app/appearance.h"
#include "app/files.h"
#include "app/focusring.h"
#include "app/look.h"
#include "app/newdesign.h"
#include "app/reopen.h"
#include "app/shortcuts.h"
#include "app/window.h"

#define FIRST_DEMO "heron.flap"

struct _FwApplication
{
  GtkApplication parent_instance;

  FwSettings *settings;
  FwAppearanceWatch *watch;
  gboolean watching; /* the desktop has been asked */
  gboolean quitting;
  gboolean told;     /* what is wrong with the settings' files */
};

G_DEFINE_FINAL_TYPE (FwApplication, fw_application, GTK_TYPE_APPLICATION)

FwSettings *
fw_application_settings (FwApplication *self)
{
  return self->settings;
}

static FwTheme
application_theme (FwApplication *self)
{
  gboolean contrast = g_settings_get_boolean (self->settings->choices, "contrast");
  return fw_appearance_theme (self->watch, fw_settings_appearance (self->settings), contrast);
}

char *
fw_application_demo_folder (void)
{
  const char *const places[] = { FW_DATADIR "/demos", FW_SOURCE_DEMOS };
  for (gsize i = 0; i < G_N_ELEMENTS (places); i++)
    if (g_file_test (places[i], G_FILE_TEST_IS_DIR))
      return g_strdup (places[i]);
  return g_strdup ("");
}

/* ---- Light and dark, contrast, size of words ---- */

static gboolean
on_appearance_changed (gpointer data)
{
  FwApplication *self = data;
  FwTheme theme = application_theme (self);

  fw_appearance_apply (self->watch, theme);
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l != NULL; l = l->next)
    if (FW_IS_WINDOW (l->data))
      fw_session_set_look (fw_window_session (l->data), theme, fw_desktop_text ());
  return G_SOURCE_REMOVE;
}

/* ---- Actions ---- */

FwWindow *
fw_application_add_window (FwApplication *self, const char *path)
{
  FwWindow *window = fw_window_new (self, path);
  fw_session_set_look (fw_window_session (window), application_theme (self), fw_desktop_text ());
  if (self->settings->problem != NULL && !self->told)
    fw_message_bar_fail (fw_window_messages (window), self->settings->problem);
  self->told = TRUE;
  return window;
}

/* Without the demo it is the page that makes a design. */
FwWindow *
fw_application_show_first (FwApplication *self)
{
  FwWindow *window = fw_application_add_window (self, NULL);
  g_autofree char *folder = fw_application_demo_folder ();
  g_autofree char *path = g_build_filename (folder, FIRST_DEMO, NULL);
  if (g_file_test (path, G_FILE_TEST_EXISTS))
    fw_files_open_demo (window, path);
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static void
on_new_window (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_application_show_first (data);
}

static void
on_new_design (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_new_design_show (fw_application_show_first (data));
}

gboolean
fw_application_quitting (FwApplication *self)
{
  return self->quitting;
}

void
fw_application_stay (FwApplication *self)
{
  self->quitting = FALSE;
}

/* Every window asks for itself whether it may close. */
static gboolean
on_quit_now (gpointer data)
{
  FwApplication *self = data;
  GList *windows = g_list_copy (gtk_application_get_windows (data));

  self->quitting = TRUE;
  g_list_foreach (windows, (GFunc) (void (*) (void)) g_object_ref, NULL); /* dialogs go with the window below them */
  for (GList *l = windows; l != NULL; l = l->next)
    if (FW_IS_WINDOW (l->data))
      gtk_window_close (l->data);
  g_list_free_full (windows, g_object_unref);
  return G_SOURCE_REMOVE;
}

/* Not inside the event of a key: the window that has it, and what holds it, may not go before it is over. */
static void
on_quit (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_idle_add_full (G_PRIORITY_DEFAULT, on_quit_now, g_object_ref (data), g_object_unref);
}

static const GActionEntry entries[] = {
  { .name = "new-window", .activate = on_new_window },
  { .name = "new-design", .activate = on_new_design },
  { .name = "quit", .activate = on_quit },
};

/* ---- Life ---- */

static void
application_load_settings (FwApplication *self)
{
  static const char *const actions[] = { "appearance", "contrast", "reopen" }; /* settings that the menu has */
  g_autoptr (GError) error = NULL;

  self->settings = fw_settings_load (&error);
  if (self->settings == NULL)
    {
      g_printerr ("flapwright: %s\n", error->message);
      exit (1);
    }
  if (self->settings->problem != NULL)
    g_printerr ("flapwright: %s\n", self->settings->problem);
  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      g_autoptr (GAction) action = g_settings_create_action (self->settings->choices, actions[i]);
      g_action_map_add_action (G_ACTION_MAP (self), action);
    }
  g_signal_connect_swapped (self->settings->choices, "changed::appearance", G_CALLBACK (on_appearance_changed), self);
  g_signal_connect_swapped (self->settings->choices, "changed::contrast", G_CALLBACK (on_appearance_changed), self);
}

static void
fw_application_startup (GApplication *app)
{
  FwApplication *self = FW_APPLICATION (app);

  G_APPLICATION_CLASS (fw_application_parent_class)->startup (app);
  application_load_settings (self);
  self->watch = fw_appearance_watch_new (on_appearance_changed, self);
  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  fw_shortcuts_install (GTK_APPLICATION (self));
  gtk_window_set_default_icon_name (FW_APP_ID);
  fw_focus_ring_keep ();

  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (provider, FW_RESOURCES "/style.css");
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  fw_appearance_apply (self->watch, application_theme (self));
}

static void
fw_application_activate (GApplication *app)
{
  GtkWindow *active = gtk_application_get_active_window (GTK_APPLICATION (app));
  if (active != NULL)
    {
      gtk_window_present (active);
      return;
    }
  if (!fw_reopen (FW_APPLICATION (app)))
    fw_application_show_first (FW_APPLICATION (app));
}

/* Each file gets a window of its own, or the one that has it already; what cannot be opened says so there. */
static void
fw_application_open (GApplication *app, GFile **files, int n_files, const char *hint)
{
  for (int i = 0; i < n_files; i++)
    {
      const char *path = g_file_peek_path (files[i]);
      if (path != NULL && fw_files_present (GTK_APPLICATION (app), path, NULL))
        continue;
      FwWindow *window = fw_application_add_window (FW_APPLICATION (app), path);
      fw_files_open_file (window, files[i]);
      gtk_window_present (GTK_WINDOW (window));
    }
}

static void
fw_application_shutdown (GApplication *app)
{
  FwApplication *self = FW_APPLICATION (app);

  g_signal_handlers_disconnect_by_data (self->settings->choices, self);
  g_clear_pointer (&self->watch, fw_appearance_watch_free);
  g_clear_pointer (&self->settings, fw_settings_free);
  G_APPLICATION_CLASS (fw_application_parent_class)->shutdown (app);
}

void
fw_application_watch_desktop (FwApplication *self)
{
  if (!self->watching)
    fw_appearance_watch_start (self->watch);
  self->watching = TRUE;
}

static void
fw_application_class_init (FwApplicationClass *class)
{
  GApplicationClass *app_class = G_APPLICATION_CLASS (class);

  app_class->startup = fw_application_startup;
  app_class->activate = fw_application_activate;
  app_class->open = fw_application_open;
  app_class->shutdown = fw_application_shutdown;
}

/* Options that are actions: done here, or by the program that runs already; its newest window comes to the front. */
static int
on_local_options (GApplication *app, GVariantDict *options, gpointer data)
{
  static const char *const actions[] = { "new-design", "new-window" };
  g_autoptr (GError) error = NULL;

  if (g_variant_dict_contains (options, "version"))
    {
      g_print ("flapwright %s\n", FW_VERSION);
      return 0;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    if (g_variant_dict_contains (options, actions[i]))
      {
        if (!g_application_register (app, NULL, &error))
          {
            g_printerr ("flapwright: %s\n", error->message);
            return 1;
          }
        g_action_group_activate_action (G_ACTION_GROUP (app), actions[i], NULL);
      }
  return -1; /* go on */
}

static void
fw_application_init (FwApplication *self)
{
  static const GOptionEntry options[] = {
    { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Print the version"), NULL },
    { "new-design", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Begin a new design, in a new window"), NULL },
    { "new-window", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Open one more window"), NULL },
    { NULL },
  };
  GApplication *app = G_APPLICATION (self);

  g_application_add_main_option_entries (app, options);
  g_application_set_option_context_parameter_string (app, _("[FILE…]"));
  g_application_set_option_context_summary (
      app, _("Designs crank-driven flapping animals: see them move, tune them, find where they bind."));
  g_signal_connect (self, "handle-local-options", G_CALLBACK (on_local_options), NULL);
}

FwApplication *
fw_application_new (void)
{
  FwApplication *self = g_object_new (FW_TYPE_APPLICATION, "application-id", FW_APP_ID, "flags",
                                      G_APPLICATION_HANDLES_OPEN, NULL);

  /* No icons or menus are looked for there: with a path GTK would load its icons anew, to add ours. */
  g_application_set_resource_base_path (G_APPLICATION (self), NULL);
  return self;
}
