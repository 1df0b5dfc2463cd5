#include "app/reopen.h"

#include <glib/gi18n.h>

#include "app/files.h"

void
fw_reopen_note (FwApplication *app, FwWindow *leaving)
{
  FwSettings *settings = fw_application_settings (app);
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  int others = 0;

  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (app)); l != NULL; l = l->next)
    {
      if (!FW_IS_WINDOW (l->data) || l->data == (gpointer) leaving)
        continue;
      const char *path = fw_session_path (fw_window_session (l->data));
      others++;
      if (path != NULL && !g_ptr_array_find_with_equal_func (paths, path, g_str_equal, NULL))
        g_ptr_array_add (paths, (gpointer) path);
    }
  if (leaving != NULL && (others == 0 || fw_application_quitting (app)))
    return;
  g_ptr_array_add (paths, NULL);
  fw_settings_set_paths (settings, "open", (const char *const *) paths->pdata);
}

/* "a.flap" of a path, added to a list of names. */
static void
add_name (GString *names, const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  if (names->len > 0)
    g_string_append (names, C_ ("between names", ", "));
  g_string_append (names, name);
}

gboolean
fw_reopen (FwApplication *app)
{
  static const char *const none[] = { NULL };
  FwSettings *settings = fw_application_settings (app);
  g_auto (GStrv) paths = fw_settings_paths (settings, "open");
  g_autoptr (GString) gone = g_string_new (NULL);
  FwWindow *window = NULL;
  guint n_gone = 0, n = g_strv_length (paths);

  if (n == 0 || !g_settings_get_boolean (settings->choices, "reopen"))
    return FALSE;
  fw_settings_set_paths (settings, "open", none); /* what would bring the program down is tried once only */
  fw_settings_keep_now (settings);
  for (guint i = n; i-- > 0;)
    if (g_file_test (paths[i], G_FILE_TEST_EXISTS))
      {
        window = fw_application_add_window (app, paths[i]);
        fw_files_load (window, paths[i]);
        gtk_window_present (GTK_WINDOW (window));
      }
    else
      {
        n_gone++;
        add_name (gone, paths[i]);
      }
  if (n_gone == 0)
    return TRUE;
  if (window == NULL)
    window = fw_application_show_first (app);
  /* Translators: %s are names of files */
  g_autofree char *text = g_strdup_printf (ngettext ("Not there any more, so not opened again: %s",
                                                     "Not there any more, so not opened again: %s", n_gone), gone->str);
  fw_message_bar_fail (fw_window_messages (window), text);
  return TRUE;
}
