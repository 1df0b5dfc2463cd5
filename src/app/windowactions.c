#include "app/windowprivate.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/aimwindow.h"
#include "app/explain.h"
#include "app/export.h"
#include "app/files.h"
#include "app/flipdialog.h"
#include "app/guidereader.h"
#include "app/help.h"
#include "app/lognote.h"
#include "app/logwindow.h"
#include "app/newdesign.h"
#include "app/shortcuts.h"
#include "app/titledialog.h"
#include "app/widgetstyle.h"
#include "app/workshop.h"

static const char *const pages[FW_N_PAGES] = {
  [FW_PAGE_FRONT] = "front",
  [FW_PAGE_SIDE] = "side",
  [FW_PAGE_BOTH] = "both",
  [FW_PAGE_THREE_QUARTER] = "three-quarter",
};

/* ---- Design ---- */

static void
on_new (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_new_design_show (data);
}

static void
on_open (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_files_ask_open (data);
}

static void
on_open_path (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_files_ask_open_path (data, g_variant_get_bytestring (parameter));
}

static void
on_save (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_files_save (data, FALSE, NULL, NULL, NULL);
}

static void
on_save_as (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_files_save (data, TRUE, NULL, NULL, NULL);
}

static void
on_title (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_title_dialog_show (data);
}

static void
on_export (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_export_show (data);
}

static void
on_export_flip_book (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_flip_dialog_show (data);
}

static void
on_export_animation (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_animation_dialog_show (data);
}

static void
on_export_log (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_log_export_show (data, data);
}

static void
on_build_log (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_log_window_show (data);
}

static void
on_log_note (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_log_note_quick (data, FW_WINDOW (data)->menu_button);
}

static void
on_workshop (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_workshop_show (data);
}

static void
on_close (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_window_close (GTK_WINDOW (data));
}

/* ---- Numbers ---- */

static void
on_undo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_session_undo (FW_WINDOW (data)->session);
}

static void
on_redo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_session_redo (FW_WINDOW (data)->session);
}

static void
window_show_margin (FwWindow *self, gboolean show)
{
  FwSettings *settings = fw_window_settings (self);
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), "margin");

  gtk_widget_set_visible (self->margin, show);
  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_boolean (show));
  g_settings_set_boolean (settings->state, "margin", show);
  fw_settings_keep_soon (settings);
}

static void
on_margin (GSimpleAction *action, GVariant *state, gpointer data)
{
  window_show_margin (data, g_variant_get_boolean (state));
}

/* The page of the margin, which comes in sight. */
static void
window_show_page (FwWindow *self, const char *name)
{
  window_show_margin (self, TRUE);
  gtk_stack_set_visible_child_name (GTK_STACK (self->margin_stack), name);
}

static void
on_page (GSimpleAction *action, GVariant *state, gpointer data)
{
  FwWindow *self = data;
  const char *name = g_variant_get_string (state, NULL);

  if (gtk_stack_get_child_by_name (GTK_STACK (self->margin_stack), name) == NULL)
    return;
  window_show_page (self, name);
  if (fw_window_focus_aim (self, name))
    return;
  if (g_str_equal (name, "loads"))
    fw_loads_page_focus (FW_LOADS_PAGE (fw_window_page (self, name)));
  else
    gtk_widget_child_focus (self->margin_split, GTK_DIR_TAB_FORWARD);
}

/* The tabs were pressed. */
static void
on_page_shown (FwWindow *self)
{
  const char *name = gtk_stack_get_visible_child_name (GTK_STACK (self->margin_stack));
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), "page");

  if (name == NULL || gtk_widget_in_destruction (GTK_WIDGET (self)))
    return;
  fw_window_page (self, name); /* before it is measured */
  g_simple_action_set_state (G_SIMPLE_ACTION (action), g_variant_new_string (name));
}

static void
on_find (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  window_show_page (data, "numbers");
  fw_inspector_focus_search (FW_INSPECTOR (FW_WINDOW (data)->inspector));
}

static void
on_trouble (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  window_show_page (data, "numbers");
  fw_trouble_view_focus (FW_TROUBLE_VIEW (FW_WINDOW (data)->troubles));
}

static void
on_lengths (GSimpleAction *action, GVariant *state, gpointer data)
{
  FwWindow *self = data;
  FwLengths lengths = fw_lengths_from_word (g_variant_get_string (state, NULL));
  g_settings_set_enum (fw_window_settings (self)->choices, "lengths", (int) lengths);
  fw_session_set_lengths (self->session, lengths);
}

/* ---- Crank ---- */

/* Pauses; or plays in one direction at the speed there is. */
static void
window_play (FwWindow *self, double direction)
{
  FwPlayer *player = FW_PLAYER (self->player);
  gboolean play = !fw_player_playing (player);
  if (play)
    fw_player_set_speed (player, copysign (fw_player_speed (player), direction));
  fw_player_set_playing (player, play);
}

static void
on_play (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  window_play (data, 1);
}

static void
on_play_back (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  window_play (data, -1);
}

static void
on_crank (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const char *name = g_action_get_name (G_ACTION (action));
  double degrees = g_str_has_suffix (name, "fine") ? 0.1 : 1;
  fw_strip_view_step (FW_STRIP_VIEW (FW_WINDOW (data)->strip),
                      g_str_has_prefix (name, "crank-back") ? -degrees : degrees);
}

static void
on_flag (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gboolean next = g_str_equal (g_action_get_name (G_ACTION (action)), "flag-next");
  fw_strip_view_to_flag (FW_STRIP_VIEW (FW_WINDOW (data)->strip), next ? 1 : -1);
}

static void
on_bounce (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gboolean next = g_str_equal (g_action_get_name (G_ACTION (action)), "bounce-next");
  fw_strip_view_to_bounce (FW_STRIP_VIEW (FW_WINDOW (data)->strip), next ? 1 : -1);
}

static void
on_crank_angle (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_strip_view_focus_angle (FW_STRIP_VIEW (FW_WINDOW (data)->strip));
}

/* ---- Views ---- */

static void
on_view (GSimpleAction *action, GVariant *state, gpointer data)
{
  for (int i = 0; i < FW_N_PAGES; i++)
    if (g_str_equal (g_variant_get_string (state, NULL), pages[i]))
      {
        g_simple_action_set_state (action, state);
        fw_window_set_page (data, (FwPage) i);
      }
}

/* The view with the keyboard, or all that are in sight. */
static void
window_each_canvas (FwWindow *self, void (*change) (FwCanvas *canvas))
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  for (int i = 0; i < 2; i++)
    {
      gboolean other = focus == self->canvas[1 - i] && gtk_widget_get_mapped (focus);
      if (!other && gtk_widget_get_visible (self->canvas[i]))
        change (FW_CANVAS (self->canvas[i]));
    }
}

static void
on_fit (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWindow *self = data;
  for (int i = 0; i < 2; i++)
    fw_canvas_fit (FW_CANVAS (self->canvas[i]));
}

static void
on_zoom_in (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  window_each_canvas (data, fw_canvas_zoom_in);
}

static void
on_zoom_out (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  window_each_canvas (data, fw_canvas_zoom_out);
}

static void
on_show (GSimpleAction *action, GVariant *state, gpointer data)
{
  FwWindow *self = data;
  guint show = fw_session_show (self->session);

  for (int i = 0; i < FW_N_OVERLAYS; i++)
    if (g_str_equal (g_action_get_name (G_ACTION (action)) + strlen ("show-"), fw_overlays[i].key))
      show = g_variant_get_boolean (state) ? show | fw_overlays[i].bit : show & ~fw_overlays[i].bit;
  fw_settings_set_show (fw_window_settings (self), show);
  fw_session_set_show (self->session, show);
}

/* ---- Help ---- */

static void
on_help (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  if (!fw_explain_focus (data)) /* of what has the keyboard; else of the whole program */
    fw_help_show (data);
}

static void
on_guide (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_guide_reader_show (data, "guide.md");
}

static void
on_shortcuts (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_help_show_keys (data);
}

static void
on_about (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_help_show_about (data);
}

static void
on_first_steps (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_window_show_steps (data);
}

static void
on_main_menu (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (FW_WINDOW (data)->menu_button));
}

/* ---- All of them ---- */

static const GActionEntry entries[] = {
  { .name = "new", .activate = on_new },
  { .name = "open", .activate = on_open },
  { .name = "open-path", .activate = on_open_path, .parameter_type = "ay" },
  { .name = "save", .activate = on_save },
  { .name = "save-as", .activate = on_save_as },
  { .name = "title", .activate = on_title },
  { .name = "export", .activate = on_export },
  { .name = "export-flip-book", .activate = on_export_flip_book },
  { .name = "export-animation", .activate = on_export_animation },
  { .name = "export-log", .activate = on_export_log },
  { .name = "build-log", .activate = on_build_log },
  { .name = "log-note", .activate = on_log_note },
  { .name = "workshop", .activate = on_workshop },
  { .name = "close", .activate = on_close },
  { .name = "undo", .activate = on_undo },
  { .name = "redo", .activate = on_redo },
  { .name = "find", .activate = on_find },
  { .name = "trouble", .activate = on_trouble },
  { .name = "lengths", .parameter_type = "s", .state = "'mm'", .change_state = on_lengths },
  { .name = "play", .activate = on_play },
  { .name = "play-back", .activate = on_play_back },
  { .name = "crank-forth", .activate = on_crank },
  { .name = "crank-back", .activate = on_crank },
  { .name = "crank-forth-fine", .activate = on_crank },
  { .name = "crank-back-fine", .activate = on_crank },
  { .name = "flag-next", .activate = on_flag },
  { .name = "flag-previous", .activate = on_flag },
  { .name = "bounce-next", .activate = on_bounce },
  { .name = "bounce-previous", .activate = on_bounce },
  { .name = "crank-angle", .activate = on_crank_angle },
  { .name = "view", .parameter_type = "s", .state = "'both'", .change_state = on_view },
  { .name = "fit", .activate = on_fit },
  { .name = "zoom-in", .activate = on_zoom_in },
  { .name = "zoom-out", .activate = on_zoom_out },
  { .name = "page", .parameter_type = "s", .state = "'numbers'", .change_state = on_page },
  { .name = "margin", .state = "true", .change_state = on_margin },
  { .name = "help", .activate = on_help },
  { .name = "guide", .activate = on_guide },
  { .name = "shortcuts", .activate = on_shortcuts },
  { .name = "about", .activate = on_about },
  { .name = "first-steps", .activate = on_first_steps },
  { .name = "main-menu", .activate = on_main_menu },
};

/* Actions that need a design. */
static const char *const needing[] = {
  "save-as", "export", "export-flip-book", "export-animation", "export-log", "build-log", "log-note", "find", "trouble", "play", "play-back", "crank-forth", "crank-back", "crank-forth-fine",
  "crank-back-fine", "flag-next", "flag-previous", "bounce-next", "bounce-previous", "crank-angle", "workshop", "view", "fit", "zoom-in", "zoom-out",
};

void
fw_window_add_actions (FwWindow *self)
{
  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  fw_window_add_aim (self);
  for (int i = 0; i < FW_N_OVERLAYS; i++)
    {
      g_autofree char *name = g_strconcat ("show-", fw_overlays[i].key, NULL);
      g_autoptr (GSimpleAction) action = g_simple_action_new_stateful (name, NULL, g_variant_new_boolean (FALSE));
      g_signal_connect (action, "change-state", G_CALLBACK (on_show), self);
      g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
    }
  window_show_margin (self, g_settings_get_boolean (fw_window_settings (self)->state, "margin"));
  g_signal_connect_object (self->margin_stack, "notify::visible-child-name", G_CALLBACK (on_page_shown), self,
                           G_CONNECT_SWAPPED);
}

static void
set_enabled (FwWindow *self, const char *name, gboolean enabled)
{
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), name)), enabled);
}

static void
set_state (FwWindow *self, const char *name, GVariant *state)
{
  g_simple_action_set_state (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), name)), state);
}

/* "Undo: Length of inrod (Ctrl+Z)" */
static void
name_step (GtkWidget *button, const char *verb, const char *label, const char *action)
{
  /* Translators: "Undo" or "Redo", and what: "Undo: Length of inrod" */
  g_autofree char *text = label != NULL ? g_strdup_printf (_("%s: %s"), verb, label) : g_strdup (verb);
  fw_shortcut_tooltip (button, text, action);
  fw_widget_describe (button, text, NULL);
}

void
fw_window_actions_update (FwWindow *self)
{
  FwDocument *doc = fw_session_document (self->session);
  const char *undo = doc != NULL ? fw_document_undo_label (doc) : NULL;
  const char *redo = doc != NULL ? fw_document_redo_label (doc) : NULL;
  guint show = fw_session_show (self->session);

  for (gsize i = 0; i < G_N_ELEMENTS (needing); i++)
    set_enabled (self, needing[i], doc != NULL);
  set_enabled (self, "save", doc != NULL && (fw_keeper_unsaved (self->keeper) || fw_session_path (self->session) == NULL));
  set_enabled (self, "undo", undo != NULL);
  set_enabled (self, "redo", redo != NULL);
  name_step (self->undo_button, _("Undo"), undo, "win.undo");
  name_step (self->redo_button, _("Redo"), redo, "win.redo");
  set_state (self, "lengths", g_variant_new_string (fw_lengths_word (fw_session_lengths (self->session))));
  for (int i = 0; i < FW_N_OVERLAYS; i++)
    {
      g_autofree char *name = g_strconcat ("show-", fw_overlays[i].key, NULL);
      set_state (self, name, g_variant_new_boolean ((show & fw_overlays[i].bit) != 0));
    }
}
