#include "app/windowprivate.h"

#include <glib/gi18n.h>

#include "app/diskoffer.h"
#include "app/files.h"
#include "app/latepage.h"
#include "app/recovery.h"
#include "app/renderer.h"
#include "app/reopen.h"
#include "app/shortcuts.h"
#include "app/tolerancewindow.h"
#include "app/viewstate.h"
#include "app/widgetstyle.h"

#define STRIP_LEAST 200

G_DEFINE_FINAL_TYPE (FwWindow, fw_window, GTK_TYPE_APPLICATION_WINDOW)

FwSession *
fw_window_session (FwWindow *self)
{
  return self->session;
}

FwKeeper *
fw_window_keeper (FwWindow *self)
{
  return self->keeper;
}

FwMessageBar *
fw_window_messages (FwWindow *self)
{
  return self->messages;
}

FwSettings *
fw_window_settings (FwWindow *self)
{
  return self->settings;
}

/* ---- Title ---- */

static char *
window_subtitle (FwWindow *self)
{
  const char *path = fw_session_path (self->session);
  gboolean unsaved = fw_keeper_unsaved (self->keeper);
  if (fw_session_document (self->session) == NULL)
    return g_strdup ("");
  if (path == NULL)
    return g_strdup (unsaved ? _("changed, never saved") : _("not saved yet"));
  g_autofree char *name = g_filename_display_basename (path);
  /* Translators: %s is a file name */
  return unsaved ? g_strdup_printf (_("%s, changed"), name) : g_steal_pointer (&name);
}

void
fw_window_update (FwWindow *self)
{
  FwDocument *doc = fw_session_document (self->session);
  gboolean titled = doc != NULL && *fw_document_title (doc) != '\0';
  g_autofree char *name = titled ? g_strdup (fw_document_title (doc)) : fw_files_name (self);
  g_autofree char *subtitle = window_subtitle (self);

  if (doc == NULL)
    {
      g_free (name);
      name = g_strdup (_("Flapwright"));
    }
  gtk_label_set_text (GTK_LABEL (self->title), name);
  gtk_label_set_text (GTK_LABEL (self->subtitle), subtitle);
  gtk_widget_set_visible (self->subtitle, *subtitle != '\0');
  gtk_window_set_title (GTK_WINDOW (self), name);
  gtk_widget_set_visible (self->empty, doc == NULL);
  gtk_widget_set_visible (self->views_split, doc != NULL);
  fw_window_actions_update (self);
}

/* ---- Views ---- */

void
fw_window_set_page (FwWindow *self, FwPage page)
{
  FwView first = page == FW_PAGE_THREE_QUARTER ? FW_VIEW_THREE_QUARTER : FW_VIEW_FRONT;

  self->page = page;
  if (fw_canvas_view (FW_CANVAS (self->canvas[0])) != first)
    fw_canvas_set_view (FW_CANVAS (self->canvas[0]), first);
  gtk_widget_set_visible (self->canvas[0], page != FW_PAGE_SIDE);
  gtk_widget_set_visible (self->canvas[1], page == FW_PAGE_SIDE || page == FW_PAGE_BOTH);
  gtk_widget_grab_focus (self->canvas[page == FW_PAGE_SIDE ? 1 : 0]);
}

void
fw_window_document_taken (FwWindow *self)
{
  fw_player_set_playing (FW_PLAYER (self->player), FALSE);
  for (int i = 0; i < 2; i++)
    fw_canvas_fit (FW_CANVAS (self->canvas[i]));
  fw_window_update (self);
  fw_window_set_page (self, self->page); /* the keyboard goes to a view, now that there is one */
  fw_view_state_take_up (self);
}

GtkWidget *
fw_window_page (FwWindow *self, const char *name)
{
  GtkWidget *page = gtk_stack_get_child_by_name (GTK_STACK (self->margin_stack), name);
  return FW_IS_LATE_PAGE (page) ? fw_late_page_inside (FW_LATE_PAGE (page)) : page;
}

/* ---- The three things to try ---- */

void
fw_window_step_done (FwWindow *self, FwStep step)
{
  if (self->steps != NULL)
    fw_first_steps_set_done (FW_FIRST_STEPS (self->steps), step);
}

static void
on_steps_closed (FwWindow *self)
{
  FwSettings *settings = fw_window_settings (self);
  gtk_box_remove (GTK_BOX (self->steps_place), self->steps);
  self->steps = NULL;
  g_settings_set_boolean (settings->state, "first-steps-done", TRUE);
  fw_settings_keep_soon (settings);
}

void
fw_window_show_steps (FwWindow *self)
{
  if (self->steps != NULL)
    return;
  self->steps = fw_first_steps_new ();
  gtk_widget_set_hexpand (self->steps, TRUE);
  g_signal_connect_swapped (self->steps, "closed", G_CALLBACK (on_steps_closed), self);
  gtk_box_append (GTK_BOX (self->steps_place), self->steps);
}

/* ---- What the session says ---- */

static void
on_design (FwWindow *self)
{
  FwDocument *doc = fw_session_document (self->session);
  if (fw_document_undo_label (doc) != NULL && fw_session_dragging (self->session))
    fw_window_step_done (self, FW_STEP_SLIDER);
  fw_window_update (self);
}

static void
on_pose (FwWindow *self)
{
  if (self->steps != NULL && !fw_player_playing (FW_PLAYER (self->player)))
    fw_window_step_done (self, FW_STEP_SCRUB);
}

static void
on_display (FwWindow *self)
{
  fw_window_actions_update (self);
}

static void
on_message (FwWindow *self, const char *text)
{
  fw_message_bar_note (self->messages, text);
}

/* ---- What is on disk ---- */

static void
on_disk (gpointer data)
{
  fw_disk_offer_look (data, TRUE);
}

/* Comes to the front: what no watch has told, on another machine's disk, is seen now. */
static void
on_active (FwWindow *self)
{
  if (gtk_window_is_active (GTK_WINDOW (self)))
    fw_disk_offer_look (self, FALSE);
}

/* ---- Closing ---- */

static void
then_close (FwWindow *self, gpointer data)
{
  self->closing = TRUE;
  gtk_window_close (GTK_WINDOW (self));
}

/* If it stays, the program does. */
static void
close_decided (gpointer data)
{
  FwWindow *self = data;
  GtkApplication *app = gtk_window_get_application (GTK_WINDOW (self));
  if (!self->closing && app != NULL)
    fw_application_stay (FW_APPLICATION (app));
}

static gboolean
fw_window_close_request (GtkWindow *window)
{
  FwWindow *self = FW_WINDOW (window);

  if (!self->closing && fw_keeper_unsaved (self->keeper))
    {
      fw_files_when_safe (self, then_close, self, close_decided);
      return GDK_EVENT_STOP;
    }
  fw_view_state_keep (self);
  fw_reopen_note (FW_APPLICATION (gtk_window_get_application (window)), self);
  fw_keeper_forget (self->keeper, FALSE);
  return GTK_WINDOW_CLASS (fw_window_parent_class)->close_request (window);
}

/* ---- After the first frame: what need not be there before ---- */

static gboolean
on_later (gpointer data)
{
  g_autoptr (FwWindow) self = data;
  GtkApplication *app = gtk_window_get_application (GTK_WINDOW (self));

  if (app == NULL) /* closed meanwhile */
    return G_SOURCE_REMOVE;
  fw_renderer_chosen ();
  fw_application_watch_desktop (FW_APPLICATION (app));
  if (gtk_window_is_maximized (GTK_WINDOW (self)))
    fw_view_state_place_dividers (self);
  fw_recovery_offer (self);
  return G_SOURCE_REMOVE;
}

static gboolean
on_first_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  FwWindow *self = FW_WINDOW (widget);
  gtk_widget_grab_focus (self->canvas[0]); /* GTK gives the keyboard to a divider */
  g_idle_add_full (G_PRIORITY_LOW, on_later, g_object_ref (widget), NULL);
  return G_SOURCE_REMOVE;
}

/* ---- Object ---- */

static GtkWidget *
make_loads (gpointer data)
{
  return fw_loads_page_new (FW_WINDOW (data)->session);
}

static void
window_add_views (FwWindow *self)
{
  self->canvas[0] = fw_canvas_new (self->session, FW_VIEW_FRONT);
  self->canvas[1] = fw_canvas_new (self->session, FW_VIEW_SIDE);
  fw_canvas_set_beside (FW_CANVAS (self->canvas[0]), FW_CANVAS (self->canvas[1]));
  gtk_widget_set_size_request (self->canvas[0], 240, 180);
  gtk_widget_set_size_request (self->canvas[1], 160, 180);
  gtk_paned_set_start_child (GTK_PANED (self->views_split), self->canvas[0]);
  gtk_paned_set_end_child (GTK_PANED (self->views_split), self->canvas[1]);

  self->strip = fw_strip_view_new (self->session);
  self->player = fw_player_new (self->session);
  fw_strip_view_add_control (FW_STRIP_VIEW (self->strip), self->player);
  gtk_widget_set_size_request (self->strip, -1, STRIP_LEAST);
  gtk_paned_set_end_child (GTK_PANED (self->upright_split), self->strip);

  self->inspector = fw_inspector_new (self->session);
  self->troubles = fw_trouble_view_new (self->session);
  gtk_widget_set_size_request (self->inspector, -1, 240);
  gtk_widget_set_size_request (self->troubles, -1, 160);
  gtk_paned_set_start_child (GTK_PANED (self->margin_split), self->inspector);
  gtk_paned_set_end_child (GTK_PANED (self->margin_split), self->troubles);
  gtk_stack_add_titled (GTK_STACK (self->margin_stack), fw_late_page_new (make_loads, self), "loads",
                        C_ ("page of the margin", "Loads"));

  self->messages = g_object_ref_sink (FW_MESSAGE_BAR (fw_message_bar_new ()));
  gtk_widget_set_halign (GTK_WIDGET (self->messages), GTK_ALIGN_CENTER);
  gtk_widget_set_valign (GTK_WIDGET (self->messages), GTK_ALIGN_START);
  gtk_overlay_add_overlay (GTK_OVERLAY (self->overlay), GTK_WIDGET (self->messages));
}

static void
window_connect (FwWindow *self)
{
  g_signal_connect_object (self->session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "pose-changed", G_CALLBACK (on_pose), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "notify::is-active", G_CALLBACK (on_active), NULL);
  g_signal_connect_object (self->session, "message", G_CALLBACK (on_message), self, G_CONNECT_SWAPPED);
}

static void
window_add_show_list (FwWindow *self)
{
  for (int i = 0; i < FW_N_OVERLAYS; i++)
    {
      g_autofree char *action = g_strconcat ("win.show-", fw_overlays[i].key, NULL);
      GtkWidget *check = gtk_check_button_new_with_label (_(fw_overlays[i].label));
      gtk_actionable_set_action_name (GTK_ACTIONABLE (check), action);
      fw_shortcut_tooltip (check, _(fw_overlays[i].label), action);
      fw_widget_can_be_pressed (check);
      gtk_box_append (GTK_BOX (self->show_list), check);
    }
}

static void
name_control (GtkWidget *widget, const char *name, const char *action)
{
  fw_shortcut_tooltip (widget, name, action);
  fw_widget_describe (widget, name, NULL);
}

static void
window_name_controls (FwWindow *self)
{
  name_control (self->new_button, _("New design"), "win.new");
  name_control (self->open_button, _("Open a design"), "win.open");
  name_control (self->recent_button, _("Designs opened before"), NULL);
  name_control (self->save_button, _("Save the design"), "win.save");
  name_control (self->page_front, _("Front view alone"), "win.view::front");
  name_control (self->page_side, _("Side view alone"), "win.view::side");
  name_control (self->page_both, _("Front and side views"), "win.view::both");
  name_control (self->page_three_quarter, _("Three-quarter view"), "win.view::three-quarter");
  name_control (self->lengths_mm, _("Lengths in millimetres"), "win.lengths::mm");
  name_control (self->lengths_inch, _("Lengths in inches"), "win.lengths::inch");
  name_control (self->show_button, _("What is shown in the views"), NULL);
  name_control (self->export_button, _("Export the motion strip"), "win.export");
  name_control (self->export_more, _("Export something else"), NULL);
  name_control (self->margin_button, _("Numbers, trouble and loads in sight"), "win.margin");
  name_control (self->menu_button, _("Main menu"), "win.main-menu");
}

/* A menu is made when it is first opened: the first frame does not wait for it. */
static void
on_menu (GtkMenuButton *button, gpointer menu)
{
  if (gtk_menu_button_get_menu_model (button) == NULL)
    gtk_menu_button_set_menu_model (button, menu);
}

static void
on_recent (GtkMenuButton *button, gpointer data)
{
  FwWindow *self = data;
  g_auto (GStrv) recent = fw_settings_paths (fw_window_settings (self), "recent");

  g_menu_remove_all (self->recent_menu);
  for (int i = 0; recent[i] != NULL; i++)
    {
      g_autofree char *name = g_filename_display_name (recent[i]);
      g_auto (GStrv) parts = g_strsplit (name, "_", -1); /* an underscore would mark a letter */
      g_autofree char *label = g_strjoinv ("__", parts);
      g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);
      g_menu_item_set_action_and_target (item, "win.open-path", "^ay", recent[i]);
      g_menu_append_item (self->recent_menu, item);
    }
  if (recent[0] == NULL)
    g_menu_append (self->recent_menu, _("Nothing opened yet"), "win.nothing");
  on_menu (button, self->recent_menu);
}

static void
fw_window_dispose (GObject *object)
{
  FwWindow *self = FW_WINDOW (object);

  self->steps = NULL;
  g_signal_handlers_disconnect_by_data (self->session, self); /* pages that go may still change what is shown */
  G_OBJECT_CLASS (fw_window_parent_class)->dispose (object);
}

/* What an answer that comes late, from a thread or a dialog, may still ask for. */
static void
fw_window_finalize (GObject *object)
{
  FwWindow *self = FW_WINDOW (object);

  g_object_unref (self->messages);
  fw_disk_watch_free (self->watch);
  fw_keeper_free (self->keeper);
  g_object_unref (self->session);
  G_OBJECT_CLASS (fw_window_parent_class)->finalize (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (GTK_WIDGET_CLASS (class), FwWindow, name)

static void
window_bind_template (FwWindowClass *class)
{
  gtk_widget_class_set_template_from_resource (GTK_WIDGET_CLASS (class), FW_RESOURCES "/window.ui");
  BIND (title);
  BIND (subtitle);
  BIND (new_button);
  BIND (open_button);
  BIND (recent_button);
  BIND (save_button);
  BIND (undo_button);
  BIND (redo_button);
  BIND (page_front);
  BIND (page_side);
  BIND (page_both);
  BIND (page_three_quarter);
  BIND (lengths_mm);
  BIND (lengths_inch);
  BIND (show_button);
  BIND (show_list);
  BIND (export_button);
  BIND (export_more);
  BIND (margin_button);
  BIND (menu_button);
  BIND (steps_place);
  BIND (overlay);
  BIND (outer_split);
  BIND (upright_split);
  BIND (views_split);
  BIND (margin);
  BIND (margin_stack);
  BIND (margin_split);
  BIND (empty);
  BIND (main_menu);
  BIND (recent_menu);
  BIND (export_menu);
}

static void
fw_window_class_init (FwWindowClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fw_window_dispose;
  G_OBJECT_CLASS (class)->finalize = fw_window_finalize;
  GTK_WINDOW_CLASS (class)->close_request = fw_window_close_request;
  window_bind_template (class);
}

static void
fw_window_init (FwWindow *self)
{
  self->session = fw_session_new ();
  self->keeper = fw_keeper_new (self->session);
  self->watch = fw_disk_watch_new (on_disk, self);
  gtk_widget_init_template (GTK_WIDGET (self));
  fw_widget_style_add ();
  window_add_views (self);
  window_add_show_list (self);
  window_name_controls (self);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->recent_button), on_recent, self, NULL);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->menu_button), on_menu, self->main_menu, NULL);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (self->export_more), on_menu, self->export_menu, NULL);
  gtk_widget_add_controller (GTK_WIDGET (self), fw_shortcuts_late_keys ());
  fw_files_drop_target (self);
}

FwWindow *
fw_window_new (FwApplication *app, const char *path)
{
  FwWindow *self = g_object_new (FW_TYPE_WINDOW, "application", app, NULL);
  FwSettings *settings = self->settings = fw_application_settings (app);

  fw_view_state_lay_out (self, path);
  fw_session_set_lengths (self->session, fw_settings_lengths (settings));
  fw_session_set_show (self->session, fw_settings_show (settings));
  fw_window_add_actions (self);
  fw_window_add_aiming (self);
  window_connect (self);
  fw_window_set_page (self, FW_PAGE_BOTH);
  if (!g_settings_get_boolean (settings->state, "first-steps-done"))
    fw_window_show_steps (self);
  fw_window_update (self);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), on_first_tick, NULL, NULL);
  return self;
}
