#include "app/logwindow.h"

#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/files.h"
#include "app/flipdialog.h"
#include "app/logedits.h"
#include "app/lognote.h"
#include "app/logreader.h"
#include "app/logrow.h"
#include "app/look.h"
#include "app/shortcuts.h"
#include "app/widgetstyle.h"
#include "shop/logpicture.h"

#define SOON_MS 80 /* after an edit: a drag makes many */

typedef struct
{
  FwWindow *main;    /* it owns the log's window */
  GtkWindow *window; /* owns this */
  FwSession *session;
  FwMessageBar *messages;
  GtkWidget *stack, *list, *empty, *scroll, *undo, *redo, *title;
  GListStore *items;
  GPtrArray *rows; /* FwLogRow, borrowed: all that there are */
  FwLogReader *reader;
  GSimpleActionGroup *win_actions;
  FwDocument *doc; /* whose items these are; not looked into */
  guint64 serial;
  guint soon, look;
  guint64 looks;
  int entries; /* that were there when it was looked at last; -1 before */
  FwLengths lengths;
  FwTheme theme;
} LogWindow;

/* ---- What is in sight ---- */

static gboolean
row_in_sight (LogWindow *self, GtkWidget *row)
{
  graphene_rect_t box;
  double height = gtk_widget_get_height (self->scroll);
  if (!gtk_widget_get_mapped (row) || !gtk_widget_compute_bounds (row, self->scroll, &box))
    return FALSE;
  double top = box.origin.y, bottom = top + box.size.height;
  return bottom > -height / 2 && top < 1.5 * height;
}

static gboolean
on_look (gpointer data)
{
  LogWindow *self = data;
  self->look = 0;
  self->looks++;
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
      item->in_sight = FALSE;
    }
  for (guint i = 0; i < self->rows->len; i++)
    {
      FwLogItem *item = fw_log_row_item (g_ptr_array_index (self->rows, i));
      if (item == NULL || !row_in_sight (self, g_ptr_array_index (self->rows, i)))
        continue;
      item->in_sight = TRUE;
      item->seen = self->looks;
    }
  fw_log_reader_wake (self->reader);
  return G_SOURCE_REMOVE;
}

/* After the list has been laid out. */
static void
log_look_soon (LogWindow *self)
{
  if (self->look == 0)
    self->look = g_timeout_add (30, on_look, self);
}

/* ---- The entries ---- */

/* The item of the list before that stands for the same design; NULL. The present design has none of
 * its own: its key is NULL, as is that of the present one before. */
static FwLogItem *
find_old (GHashTable *old, const FwLogItem *item)
{
  return g_hash_table_lookup (old, item->key != NULL ? item->key : (gconstpointer) old);
}

static GHashTable *
list_old (LogWindow *self)
{
  GHashTable *old = g_hash_table_new_full (NULL, NULL, NULL, g_object_unref);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++)
    {
      FwLogItem *item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
      g_hash_table_insert (old, item->key != NULL ? (gpointer) item->key : (gpointer) old, item);
    }
  return old;
}

static gboolean
present_is_logged (LogWindow *self, int n)
{
  g_autoptr (GPtrArray) lines = fw_log_changes (self->doc, n, self->lengths);
  const FwLogLine *first = g_ptr_array_index (lines, 0);
  return first->kind == FW_LOG_SAME;
}

/* Newest first. */
static GPtrArray *
list_new (LogWindow *self, GHashTable *old)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_object_unref);
  int n = fw_log_count (self->doc);
  int first = n > 0 && !present_is_logged (self, n) ? n : n - 1;
  for (int i = first; i >= 0; i--)
    {
      FwLogItem *item = fw_log_item_new (self->doc, i), *before = find_old (old, item);
      if (before != NULL && fw_log_item_same (before, item))
        g_set_object (&item, before);
      else if (before != NULL)
        fw_log_item_take (item, before);
      g_ptr_array_add (list, item);
    }
  return list;
}

/* Only what differs is put into the list, so that the rest stays where it is. */
static void
log_splice (LogWindow *self, GPtrArray *list)
{
  GListModel *model = G_LIST_MODEL (self->items);
  guint n = g_list_model_get_n_items (model), head = 0, tail = 0, least = MIN (n, list->len);
  for (; head < least; head++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (model, head);
      if (item != g_ptr_array_index (list, head))
        break;
    }
  for (; tail < least - head; tail++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (model, n - 1 - tail);
      if (item != g_ptr_array_index (list, list->len - 1 - tail))
        break;
    }
  if (n - head - tail > 0 || list->len - head - tail > 0)
    g_list_store_splice (self->items, head, n - head - tail, list->pdata + head, list->len - head - tail);
}

static void
log_update_actions (LogWindow *self)
{
  const char *undo = self->doc != NULL ? fw_document_undo_label (self->doc) : NULL;
  const char *redo = self->doc != NULL ? fw_document_redo_label (self->doc) : NULL;
  GActionMap *map = G_ACTION_MAP (self->win_actions);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (map, "undo")), undo != NULL);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (map, "redo")), redo != NULL);
  fw_shortcut_tooltip (self->undo, undo != NULL ? undo : _("Undo"), "win.undo");
  fw_shortcut_tooltip (self->redo, redo != NULL ? redo : _("Redo"), "win.redo");
}

static void
log_update (LogWindow *self)
{
  FwDocument *doc = fw_session_document (self->session);
  if (doc == NULL)
    return;
  if (doc != self->doc || fw_document_serial (doc) < self->serial) /* another design was opened */
    {
      g_list_store_remove_all (self->items);
      fw_log_reader_forget (self->reader, TRUE, TRUE);
    }
  self->doc = doc;
  self->serial = fw_document_serial (doc);
  g_autoptr (GHashTable) old = list_old (self);
  g_autoptr (GPtrArray) list = list_new (self, old);
  int n = fw_log_count (doc);
  log_splice (self, list);
  if (n == 0)
    gtk_widget_set_visible (self->empty, TRUE);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), n > 0 ? "list" : "empty"); /* the keyboard goes along */
  gtk_widget_set_visible (self->empty, n == 0); /* else assistive technology finds its button */
  if (self->entries >= 0 && n > self->entries)
    gtk_widget_activate_action (self->list, "list.scroll-to-item", "u", 0);
  self->entries = n;
  /* Translators: %s is the title of the design */
  g_autofree char *title = g_strdup_printf (_("Build log: %s"), fw_document_title (doc));
  gtk_window_set_title (self->window, *fw_document_title (doc) ? title : _("Build log"));
  log_update_actions (self);
  log_look_soon (self);
}

static gboolean
on_soon (gpointer data)
{
  LogWindow *self = data;
  self->soon = 0;
  log_update (self);
  return G_SOURCE_REMOVE;
}

static void
on_design (LogWindow *self)
{
  if (self->soon == 0)
    self->soon = g_timeout_add (SOON_MS, on_soon, self);
}

static void
on_display (LogWindow *self)
{
  gboolean lines = self->lengths != fw_session_lengths (self->session);
  gboolean strips = lines || self->theme != fw_session_theme (self->session);
  self->lengths = fw_session_lengths (self->session);
  self->theme = fw_session_theme (self->session);
  if (strips)
    fw_log_reader_forget (self->reader, lines, TRUE);
}

static void
on_message (LogWindow *self, const char *text)
{
  if (gtk_widget_get_mapped (self->list) || gtk_widget_get_mapped (self->stack))
    fw_message_bar_note (self->messages, text);
}

static void
on_scale (LogWindow *self)
{
  fw_log_reader_set_scale (self->reader, gtk_widget_get_scale_factor (GTK_WIDGET (self->window)));
}

/* ---- Actions of entries ---- */

static void
on_new (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LogWindow *self = data;
  fw_log_note_new (self->main, self->window);
}

static void
on_edit (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LogWindow *self = data;
  fw_log_note_edit (self->main, self->window, g_variant_get_int32 (parameter));
}

static void
on_back (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_log_edit_bring_back (((LogWindow *) data)->session, g_variant_get_int32 (parameter));
}

static void
on_remove (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_log_edit_remove (((LogWindow *) data)->session, g_variant_get_int32 (parameter));
}

static void
on_unfold (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LogWindow *self = data;
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++)
    {
      g_autoptr (FwLogItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
      if (item->index != g_variant_get_int32 (parameter))
        continue;
      item->unfolded = TRUE;
      fw_log_item_changed (item);
    }
}

/* By the program for pictures of that kind, as the content says: never by one that the file's name asks for. */
static gboolean
show_picture (const char *path, GError **error)
{
  GdkPixbufFormat *format = gdk_pixbuf_get_file_info (path, NULL, NULL);
  g_auto (GStrv) types = format != NULL ? gdk_pixbuf_format_get_mime_types (format) : NULL;
  g_autoptr (GAppInfo) app = types != NULL && types[0] != NULL ? g_app_info_get_default_for_type (types[0], FALSE) : NULL;
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GList files = { .data = file };
  if (app != NULL)
    return g_app_info_launch (app, &files, NULL, error);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, _("There is no program here that shows such pictures."));
  return FALSE;
}

static void
on_photo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LogWindow *self = data;
  const char *path = fw_session_path (self->session);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : g_get_current_dir ();
  g_autoptr (GError) error = NULL;
  FwLogPicture picture;
  int index, i;
  g_variant_get (parameter, "(ii)", &index, &i);
  if (!fw_log_picture (self->doc, index, i, &picture))
    return;
  g_autofree char *why = NULL, *file = fw_log_picture_path (folder, picture.file, &why);
  if (file == NULL)
    fw_message_bar_fail (self->messages, why);
  else if (!show_picture (file, &error))
    fw_message_bar_fail (self->messages, error->message);
}

static void
on_export (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  LogWindow *self = data;
  fw_log_export_show (self->main, self->window);
}

/* ---- Actions that have the keys of the main window ---- */

static void
on_undo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_session_undo (((LogWindow *) data)->session);
}

static void
on_redo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_session_redo (((LogWindow *) data)->session);
}

static void
on_save (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_files_save (((LogWindow *) data)->main, FALSE, NULL, NULL, NULL);
}

static void
on_close (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_window_close (((LogWindow *) data)->window);
}

/* "win." ones of its own, and those of the program. */
static gboolean
log_has_action (LogWindow *self, GActionGroup *app, const char *name)
{
  const char *bare = name + strlen ("win.");
  return g_action_group_has_action (g_str_has_prefix (name, "win.") ? G_ACTION_GROUP (self->win_actions) : app, bare);
}

static void
log_add_actions (LogWindow *self)
{
  static const GActionEntry entries[] = {
    { .name = "new", .activate = on_new },
    { .name = "edit", .activate = on_edit, .parameter_type = "i" },
    { .name = "back", .activate = on_back, .parameter_type = "i" },
    { .name = "remove", .activate = on_remove, .parameter_type = "i" },
    { .name = "unfold", .activate = on_unfold, .parameter_type = "i" },
    { .name = "photo", .activate = on_photo, .parameter_type = "(ii)" },
    { .name = "export", .activate = on_export },
  };
  static const GActionEntry shared[] = {
    { .name = "undo", .activate = on_undo },   { .name = "redo", .activate = on_redo },
    { .name = "save", .activate = on_save },   { .name = "export", .activate = on_export },
    { .name = "close", .activate = on_close }, { .name = "log-note", .activate = on_new },
  };
  GActionGroup *app = G_ACTION_GROUP (gtk_window_get_application (GTK_WINDOW (self->main)));
  GtkEventController *keys = gtk_shortcut_controller_new ();
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  int n;
  const FwShortcut *table = fw_shortcuts (&n);

  g_action_map_add_action_entries (G_ACTION_MAP (group), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self->window), "log", G_ACTION_GROUP (group));
  self->win_actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->win_actions), shared, G_N_ELEMENTS (shared), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self->window), "win", G_ACTION_GROUP (self->win_actions));
  gtk_widget_insert_action_group (GTK_WIDGET (self->window), "app", app);
  for (int i = 0; i < n; i++)
    for (int k = 0; table[i].action != NULL && k < 2 && table[i].accels[k] != NULL; k++)
      if (log_has_action (self, app, table[i].action))
        gtk_shortcut_controller_add_shortcut (
            GTK_SHORTCUT_CONTROLLER (keys),
            gtk_shortcut_new (gtk_shortcut_trigger_parse_string (table[i].accels[k]),
                              gtk_named_action_new (table[i].action)));
  gtk_widget_add_controller (GTK_WIDGET (self->window), keys);
}

/* ---- Rows ---- */

/* A place may have let go of its row before it is torn down itself, so the row says when it goes. */
static void
on_row_destroyed (GtkWidget *row, gpointer rows)
{
  g_ptr_array_remove_fast (rows, row);
}

static void
forget_rows (gpointer rows, GClosure *closure)
{
  g_ptr_array_unref (rows);
}

static void
on_setup (GtkSignalListItemFactory *factory, GtkListItem *place, gpointer data)
{
  LogWindow *self = data;
  GtkWidget *row = fw_log_row_new ();
  gtk_list_item_set_child (place, row);
  gtk_list_item_set_activatable (place, FALSE);
  g_ptr_array_add (self->rows, row);
  g_signal_connect_data (row, "destroy", G_CALLBACK (on_row_destroyed), g_ptr_array_ref (self->rows), forget_rows, 0);
}

static void
on_bind (GtkSignalListItemFactory *factory, GtkListItem *place, gpointer data)
{
  fw_log_row_set_item (FW_LOG_ROW (gtk_list_item_get_child (place)), gtk_list_item_get_item (place));
  log_look_soon (data);
}

static void
on_unbind (GtkSignalListItemFactory *factory, GtkListItem *place, gpointer data)
{
  fw_log_row_set_item (FW_LOG_ROW (gtk_list_item_get_child (place)), NULL);
}

static GtkWidget *
log_list (LogWindow *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup), self);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind), self);
  g_signal_connect (factory, "unbind", G_CALLBACK (on_unbind), self);
  GListModel *model = G_LIST_MODEL (g_object_ref (self->items));
  self->list = gtk_list_view_new (GTK_SELECTION_MODEL (gtk_no_selection_new (model)), factory);
  gtk_list_view_set_show_separators (GTK_LIST_VIEW (self->list), TRUE);
  gtk_widget_add_css_class (self->list, "fw-log");
  fw_widget_describe (self->list, _("Entries of the build log, newest first"), NULL);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (self->scroll, _("Entries of the build log"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), self->list);
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroll));
  g_signal_connect_swapped (down, "value-changed", G_CALLBACK (log_look_soon), self);
  g_signal_connect_swapped (down, "changed", G_CALLBACK (log_look_soon), self);
  return self->scroll;
}

/* ---- The window ---- */

static GtkWidget *
head_button (const char *icon, const char *name, const char *action)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  fw_shortcut_tooltip (button, name, action);
  fw_widget_describe (button, name, NULL);
  return button;
}

static GtkWidget *
log_header (LogWindow *self)
{
  GtkWidget *bar = gtk_header_bar_new (), *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *new = fw_button_new (_("_New entry…")), *export = fw_button_new (_("_Export the log…"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (new), "log.new");
  gtk_actionable_set_action_name (GTK_ACTIONABLE (export), "log.export");
  fw_shortcut_tooltip (new, _("The present design as a new entry"), "win.log-note");
  fw_shortcut_tooltip (export, _("As a PDF, or as Markdown with pictures"), "win.export");
  self->undo = head_button ("edit-undo-symbolic", _("Undo"), "win.undo");
  self->redo = head_button ("edit-redo-symbolic", _("Redo"), "win.redo");
  gtk_widget_add_css_class (pair, "linked");
  gtk_box_append (GTK_BOX (pair), self->undo);
  gtk_box_append (GTK_BOX (pair), self->redo);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (bar), new);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (bar), pair);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (bar), export);
  return bar;
}

static GtkWidget *
log_empty (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *button = fw_button_new (_("_New entry…"));
  GtkWidget *heading = gtk_label_new (_("The build log is empty"));
  GtkWidget *words = gtk_label_new (_("An entry keeps the design as it is now, with a note and pictures. The next one then tells "
                                      "by itself what has changed since, and what that did to the motion. Any entry can "
                                      "be brought back."));
  gtk_widget_add_css_class (heading, "fw-heading");
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (words), 52);
  gtk_label_set_justify (GTK_LABEL (words), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_widget_set_halign (button, GTK_ALIGN_CENTER);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "log.new");
  gtk_box_append (GTK_BOX (box), heading);
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), button);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (box, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (box, "fw-page");
  return box;
}

static GtkWidget *
log_content (LogWindow *self)
{
  GtkWidget *overlay = gtk_overlay_new ();
  self->stack = gtk_stack_new ();
  gtk_stack_add_named (GTK_STACK (self->stack), log_list (self), "list");
  self->empty = log_empty ();
  gtk_stack_add_named (GTK_STACK (self->stack), self->empty, "empty");
  gtk_overlay_set_child (GTK_OVERLAY (overlay), self->stack);
  self->messages = FW_MESSAGE_BAR (fw_message_bar_new ());
  gtk_widget_set_halign (GTK_WIDGET (self->messages), GTK_ALIGN_CENTER);
  gtk_widget_set_valign (GTK_WIDGET (self->messages), GTK_ALIGN_START);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), GTK_WIDGET (self->messages));
  return overlay;
}

static void
log_free (gpointer data)
{
  LogWindow *self = data;
  g_clear_handle_id (&self->soon, g_source_remove);
  g_clear_handle_id (&self->look, g_source_remove);
  fw_log_reader_free (self->reader);
  g_object_unref (self->items);
  g_ptr_array_unref (self->rows);
  g_object_unref (self->win_actions);
  g_object_unref (self->session);
  g_free (self);
}

/* While the widgets are still there: afterwards no signal may find them gone. */
static void
on_destroy (LogWindow *self)
{
  g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_handle_id (&self->soon, g_source_remove);
  g_clear_handle_id (&self->look, g_source_remove);
  g_object_set_data (G_OBJECT (self->main), "log-window", NULL);
}

static void
log_window_new (FwWindow *window)
{
  LogWindow *self = g_new0 (LogWindow, 1);
  int height = gtk_widget_get_height (GTK_WIDGET (window));

  *self = (LogWindow) { .main = window, .window = GTK_WINDOW (gtk_window_new ()), .entries = -1,
                        .session = g_object_ref (fw_window_session (window)),
                        .items = g_list_store_new (FW_TYPE_LOG_ITEM), .rows = g_ptr_array_new () };
  self->lengths = fw_session_lengths (self->session);
  self->theme = fw_session_theme (self->session);
  self->reader = fw_log_reader_new (self->session, G_LIST_MODEL (self->items));
  g_object_set_data (G_OBJECT (window), "log-window", self->window);
  gtk_window_set_transient_for (self->window, GTK_WINDOW (window));
  gtk_window_set_destroy_with_parent (self->window, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->window), "fw-dialog");
  gtk_window_set_child (self->window, log_content (self));
  gtk_window_set_titlebar (self->window, log_header (self));
  log_add_actions (self);
  gtk_window_set_default_size (self->window, 900, CLAMP (height - 24, 480, 980));
  g_signal_connect_swapped (self->session, "design-changed", G_CALLBACK (on_design), self);
  g_signal_connect_swapped (self->session, "display-changed", G_CALLBACK (on_display), self);
  g_signal_connect_swapped (self->session, "message", G_CALLBACK (on_message), self);
  g_signal_connect_swapped (self->window, "notify::scale-factor", G_CALLBACK (on_scale), self);
  g_signal_connect_swapped (self->window, "destroy", G_CALLBACK (on_destroy), self);
  g_object_set_data_full (G_OBJECT (self->window), "log", self, log_free);
  on_scale (self);
  log_update (self);
  gtk_window_present (self->window);
  if (!gtk_widget_get_visible (self->empty))
    gtk_widget_grab_focus (self->list);
  else /* a list without entries would keep the keyboard for good */
    gtk_widget_child_focus (self->empty, GTK_DIR_TAB_FORWARD);
}

void
fw_log_window_show (FwWindow *window)
{
  GtkWindow *open = g_object_get_data (G_OBJECT (window), "log-window");
  if (open != NULL)
    gtk_window_present (open);
  else if (fw_session_document (fw_window_session (window)) != NULL)
    log_window_new (window);
}
