#include "app/workshop.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/controls.h"
#include "app/files.h"
#include "app/look.h"
#include "app/shortcuts.h"
#include "app/widgetstyle.h"
#include "app/workshopprivate.h"

#define REST_MS 180 /* a design that is being dragged is not laid out at every step */
#define WIDTH 1180
#define HEIGHT 780
#define FOOT 48 /* px, about: buttons along the foot of a page */

enum { CUT, TEMPLATES, PARTS, KIT, MAKING, N_PAGES };

struct _FwWorkshop
{
  GtkWindow parent_instance;

  FwWindow *window;   /* borrowed: takes this one along when it goes; NULL then */
  FwSession *session; /* owned */
  GSimpleActionGroup *actions; /* owned */

  GtkWidget *stack, *page[N_PAGES], *spinner, *progress, *undo, *redo;
  FwMessageBar *messages;

  FwLaidOrder order;
  FwLaid *laid; /* owned; NULL: nothing yet */
  guint rest;   /* timeout: until laying out begins */
  gboolean laying, again, closed;
  GCancellable *cancel;
};

G_DEFINE_FINAL_TYPE (FwWorkshop, fw_workshop, GTK_TYPE_WINDOW)

FwSession *
fw_workshop_session (FwWorkshop *self)
{
  return self->session;
}

FwMessageBar *
fw_workshop_messages (FwWorkshop *self)
{
  return self->messages;
}

const FwLaidOrder *
fw_workshop_order (FwWorkshop *self)
{
  return &self->order;
}

FwLaid *
fw_workshop_laid (FwWorkshop *self)
{
  return self->laid;
}

FwStyle
fw_workshop_style (FwWorkshop *self, double size)
{
  FwStyle style = fw_session_style (self->session, size);
  style.lengths = self->laid != NULL ? self->laid->order.lengths : self->order.lengths;
  return style;
}

char *
fw_workshop_stem (FwWorkshop *self)
{
  g_autofree char *name = self->window != NULL ? fw_files_name (self->window) : g_strdup (_("Untitled"));
  if (g_str_has_suffix (name, ".flap"))
    name[strlen (name) - strlen (".flap")] = '\0';
  return g_steal_pointer (&name);
}

char *
fw_workshop_folder (FwWorkshop *self)
{
  const char *path = fw_session_path (self->session);
  return path != NULL ? g_path_get_dirname (path) : NULL;
}

/* ---- Laying out beside the main loop ---- */

typedef struct
{
  FwDesign *design; /* a copy; taken by what is laid out */
  char *title;
  FwLaidOrder order;
  GCancellable *cancel;
} Laying;

static void
laying_free (gpointer data)
{
  Laying *laying = data;
  fw_design_free (laying->design);
  g_free (laying->title);
  g_object_unref (laying->cancel);
  g_free (laying);
}

static gboolean
laying_goes_on (double fraction, const char *what, gpointer data)
{
  return !g_cancellable_is_cancelled (data);
}

static void
laying_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  Laying *laying = data;
  const FwProgress progress = { laying_goes_on, laying->cancel };
  FwLaid *laid = fw_laid_new (g_steal_pointer (&laying->design), laying->title, &laying->order, &progress);
  g_task_return_pointer (task, laid, (GDestroyNotify) fw_laid_unref);
}

static void workshop_lay_out (FwWorkshop *self);

static void
workshop_set_stale (FwWorkshop *self, gboolean stale)
{
  for (int i = 0; i < MAKING; i++)
    if (stale)
      gtk_widget_add_css_class (self->page[i], "fw-stale");
    else
      gtk_widget_remove_css_class (self->page[i], "fw-stale");
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), stale);
  gtk_widget_set_opacity (self->spinner, stale ? 1 : 0);
  fw_widget_describe (self->spinner, stale ? _("Laying out anew") : _("Up to date"), NULL);
}

static const FwWorkshopPage *
page_calls (GtkWidget *page)
{
  return g_object_get_data (G_OBJECT (page), "workshop-page");
}

void
fw_workshop_page_set (GtkWidget *page, const FwWorkshopPage *calls)
{
  g_object_set_data (G_OBJECT (page), "workshop-page", (gpointer) calls);
}

static void
workshop_take (FwWorkshop *self, FwLaid *laid)
{
  FwLaid *before = self->laid;

  self->laid = laid;
  for (int i = 0; i < N_PAGES; i++)
    if (page_calls (self->page[i])->laid != NULL)
      page_calls (self->page[i])->laid (self->page[i], laid);
  fw_laid_unref (before);
}

static void
on_laid (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (FwWorkshop) self = data;
  g_autoptr (FwLaid) laid = g_task_propagate_pointer (G_TASK (result), NULL);

  self->laying = FALSE;
  if (self->closed)
    return;
  if (laid != NULL)
    workshop_take (self, g_steal_pointer (&laid));
  if (self->again)
    workshop_lay_out (self);
  else
    workshop_set_stale (self, FALSE);
  if (laid == NULL && self->laid == NULL)
    fw_message_bar_fail (self->messages, _("The parts cannot be laid out: out of memory"));
}

static void
workshop_lay_out (FwWorkshop *self)
{
  FwDocument *doc = fw_session_document (self->session);

  self->again = self->laying;
  if (self->laying || doc == NULL)
    return;
  Laying *laying = g_new0 (Laying, 1);
  *laying = (Laying) { .design = fw_design_copy (fw_document_design (doc)), .title = g_strdup (fw_document_title (doc)),
                       .order = self->order, .cancel = g_object_ref (self->cancel) };
  g_autoptr (GTask) task = g_task_new (NULL, NULL, on_laid, g_object_ref (self));
  g_task_set_task_data (task, laying, laying_free);
  self->laying = TRUE;
  g_task_run_in_thread (task, laying_run);
}

static gboolean
on_rest (gpointer data)
{
  FwWorkshop *self = data;
  self->rest = 0;
  workshop_lay_out (self);
  return G_SOURCE_REMOVE;
}

static void
workshop_lay_out_soon (FwWorkshop *self, guint ms)
{
  workshop_set_stale (self, TRUE);
  g_clear_handle_id (&self->rest, g_source_remove);
  self->rest = g_timeout_add (ms, on_rest, self);
}

void
fw_workshop_set_order (FwWorkshop *self, const FwLaidOrder *order)
{
  self->order = *order;
  workshop_lay_out_soon (self, 10);
}

/* ---- What the session says ---- */

static void
workshop_update (FwWorkshop *self)
{
  FwDocument *doc = fw_session_document (self->session);
  const char *undo = doc != NULL ? fw_document_undo_label (doc) : NULL;
  const char *redo = doc != NULL ? fw_document_redo_label (doc) : NULL;
  const char *title = doc != NULL ? fw_document_title (doc) : "";
  /* Translators: title of a window; %s is the design's title */
  g_autofree char *name = *title != '\0' ? g_strdup_printf (_("Workshop: %s"), title) : g_strdup (_("Workshop"));

  gtk_window_set_title (GTK_WINDOW (self), name);
  GActionMap *map = G_ACTION_MAP (self->actions);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (map, "undo")), undo != NULL);
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (map, "redo")), redo != NULL);
  g_simple_action_set_state (G_SIMPLE_ACTION (g_action_map_lookup_action (map, "lengths")),
                             g_variant_new_string (fw_lengths_word (fw_session_lengths (self->session))));
}

static void
workshop_each_display (FwWorkshop *self)
{
  for (int i = 0; i < N_PAGES; i++)
    if (page_calls (self->page[i])->display != NULL)
      page_calls (self->page[i])->display (self->page[i], self);
}

static void
on_design (FwWorkshop *self)
{
  workshop_update (self);
  workshop_each_display (self);
  workshop_lay_out_soon (self, REST_MS);
}

static void
on_display (FwWorkshop *self)
{
  gboolean other = fw_session_lengths (self->session) != self->order.lengths;

  self->order.lengths = fw_session_lengths (self->session);
  workshop_update (self);
  workshop_each_display (self);
  if (other)
    workshop_lay_out_soon (self, 10);
}

static void
on_message (FwWorkshop *self, const char *text)
{
  if (gtk_window_is_active (GTK_WINDOW (self)))
    fw_message_bar_note (self->messages, text);
}

/* ---- Actions: the same names as in the design's window, for the same keys ---- */

static void
on_close (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  gtk_window_close (GTK_WINDOW (data));
}

static void
on_undo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_session_undo (FW_WORKSHOP (data)->session);
}

static void
on_redo (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_session_redo (FW_WORKSHOP (data)->session);
}

/* What the design's window does for both. */
static void
on_pass (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWorkshop *self = data;
  if (self->window != NULL)
    g_action_group_activate_action (G_ACTION_GROUP (self->window), g_action_get_name (G_ACTION (action)), parameter);
}

static void
on_lengths (GSimpleAction *action, GVariant *state, gpointer data)
{
  FwWorkshop *self = data;
  if (self->window != NULL)
    g_action_group_change_action_state (G_ACTION_GROUP (self->window), "lengths", state);
}

static void
on_back (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWorkshop *self = data;
  if (self->window != NULL)
    gtk_window_present (GTK_WINDOW (self->window));
}

static void
on_zoom (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWorkshop *self = data;
  const char *name = g_action_get_name (G_ACTION (action));
  GtkWidget *page = gtk_stack_get_visible_child (GTK_STACK (self->stack));
  FwPageView *view = g_object_get_data (G_OBJECT (page), "page-view");

  if (view != NULL)
    fw_page_view_zoom (view, g_str_equal (name, "zoom-in") ? 1.25 : g_str_equal (name, "zoom-out") ? 0.8 : 0);
}

static const GActionEntry entries[] = {
  { .name = "close", .activate = on_close },
  { .name = "undo", .activate = on_undo },
  { .name = "redo", .activate = on_redo },
  { .name = "save", .activate = on_pass },
  { .name = "save-as", .activate = on_pass },
  { .name = "help", .activate = on_pass },
  { .name = "shortcuts", .activate = on_pass },
  { .name = "lengths", .parameter_type = "s", .state = "'mm'", .change_state = on_lengths },
  { .name = "workshop", .activate = on_back },
  { .name = "zoom-in", .activate = on_zoom },
  { .name = "zoom-out", .activate = on_zoom },
  { .name = "fit", .activate = on_zoom },
};

static gboolean
on_page_key (GtkWidget *widget, GVariant *nth, gpointer data)
{
  FwWorkshop *self = FW_WORKSHOP (widget);
  GtkWidget *page = self->page[g_variant_get_int32 (nth)];
  gtk_stack_set_visible_child (GTK_STACK (self->stack), page);
  fw_workshop_page_focus (page);
  return TRUE;
}

/* Ctrl+1 .. Ctrl+5: the pages. They come before the application's keys, which mean the views. */
static void
workshop_add_keys (FwWorkshop *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  for (int i = 0; i < N_PAGES; i++)
    {
      GtkShortcut *shortcut = gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_1 + (guint) i, GDK_CONTROL_MASK),
                                                gtk_callback_action_new (on_page_key, NULL, NULL));
      gtk_shortcut_set_arguments (shortcut, g_variant_new_int32 (i));
      gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
    }
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

/* ---- Object ---- */

static GtkWidget *
action_button (GtkWidget *box, const char *icon, const char *name, const char *action)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  fw_shortcut_tooltip (button, name, action);
  fw_widget_describe (button, name, NULL);
  gtk_box_append (GTK_BOX (box), button);
  return button;
}

static void
lengths_button (GtkWidget *box, const char *label, const char *name, const char *word)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (label);
  g_autofree char *action = g_strconcat ("win.lengths::", word, NULL);
  gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), action);
  fw_shortcut_tooltip (button, name, action);
  fw_widget_describe (button, name, NULL);
  gtk_box_append (GTK_BOX (box), button);
}

static GtkWidget *
workshop_header (FwWorkshop *self)
{
  GtkWidget *header = gtk_header_bar_new (), *switcher = gtk_stack_switcher_new ();
  GtkWidget *steps = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *lengths = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (self->stack));
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (header), switcher);
  gtk_widget_add_css_class (steps, "linked");
  self->undo = action_button (steps, "edit-undo-symbolic", _("Undo"), "win.undo");
  self->redo = action_button (steps, "edit-redo-symbolic", _("Redo"), "win.redo");
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), steps);
  self->spinner = gtk_spinner_new ();
  gtk_widget_set_margin_start (self->spinner, 6);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), self->spinner);
  gtk_widget_add_css_class (lengths, "linked");
  lengths_button (lengths, C_ ("unit", "mm"), _("Lengths in millimetres"), "mm");
  lengths_button (lengths, C_ ("unit", "in"), _("Lengths in inches"), "inch");
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), lengths);
  return header;
}

static void
workshop_add_pages (FwWorkshop *self)
{
  static const struct
  {
    GtkWidget *(*make) (FwWorkshop *self);
    const char *name, *title;
  } pages[N_PAGES] = {
    [CUT] = { fw_workshop_cut_new, "cut", N_ ("Cut list") },
    [TEMPLATES] = { fw_workshop_templates_new, "templates", N_ ("Templates") },
    [PARTS] = { fw_workshop_parts_new, "parts", N_ ("Printed parts") },
    [KIT] = { fw_workshop_kit_new, "kit", N_ ("Kit sheet") },
    [MAKING] = { fw_workshop_making_new, "making", N_ ("Crank and stock") },
  };
  for (int i = 0; i < N_PAGES; i++)
    {
      self->page[i] = pages[i].make (self);
      gtk_stack_add_titled (GTK_STACK (self->stack), self->page[i], pages[i].name, _(pages[i].title));
    }
}

static void
on_window_gone (FwWorkshop *self)
{
  self->window = NULL;
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
fw_workshop_dispose (GObject *object)
{
  FwWorkshop *self = FW_WORKSHOP (object);

  if (!self->closed && self->progress != NULL)
    fw_workshop_progress_stop (self->progress);
  self->closed = TRUE;
  g_cancellable_cancel (self->cancel);
  g_clear_handle_id (&self->rest, g_source_remove);
  g_clear_pointer (&self->laid, fw_laid_unref);
  G_OBJECT_CLASS (fw_workshop_parent_class)->dispose (object);
}

static void
fw_workshop_finalize (GObject *object)
{
  FwWorkshop *self = FW_WORKSHOP (object);

  g_object_unref (self->cancel);
  g_clear_object (&self->messages);
  g_clear_object (&self->actions);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_workshop_parent_class)->finalize (object);
}

static void
fw_workshop_class_init (FwWorkshopClass *class)
{
  G_OBJECT_CLASS (class)->dispose = fw_workshop_dispose;
  G_OBJECT_CLASS (class)->finalize = fw_workshop_finalize;
}

static void
fw_workshop_init (FwWorkshop *self)
{
  self->cancel = g_cancellable_new ();
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "win", G_ACTION_GROUP (self->actions));
  workshop_add_keys (self);
}

static void
workshop_build (FwWorkshop *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *overlay = gtk_overlay_new ();

  self->messages = g_object_ref_sink (FW_MESSAGE_BAR (fw_message_bar_new ()));
  gtk_widget_set_halign (GTK_WIDGET (self->messages), GTK_ALIGN_CENTER);
  gtk_widget_set_valign (GTK_WIDGET (self->messages), GTK_ALIGN_END);
  gtk_widget_set_margin_bottom (GTK_WIDGET (self->messages), FOOT); /* nothing to press lies under it */
  self->stack = gtk_stack_new ();
  gtk_widget_set_vexpand (self->stack, TRUE);
  workshop_add_pages (self);
  gtk_overlay_set_child (GTK_OVERLAY (overlay), self->stack);
  gtk_overlay_add_overlay (GTK_OVERLAY (overlay), GTK_WIDGET (self->messages));
  gtk_box_append (GTK_BOX (column), overlay);
  self->progress = fw_workshop_progress_new (self);
  gtk_box_append (GTK_BOX (column), self->progress);
  gtk_window_set_child (GTK_WINDOW (self), column);
  gtk_window_set_titlebar (GTK_WINDOW (self), workshop_header (self));
  gtk_widget_add_css_class (GTK_WIDGET (self), "fw-dialog");
  gtk_widget_add_css_class (GTK_WIDGET (self), "workshop");
  gtk_window_set_default_size (GTK_WINDOW (self), WIDTH, HEIGHT);
}

static FwWorkshop *
workshop_new (FwWindow *window)
{
  FwWorkshop *self = g_object_new (FW_TYPE_WORKSHOP, "application", gtk_window_get_application (GTK_WINDOW (window)), NULL);

  self->window = window;
  self->session = g_object_ref (fw_window_session (window));
  self->order = (FwLaidOrder) { .lengths = fw_session_lengths (self->session), .paper = FW_PAPER_A4, .kit_paper = FW_KIT_A5 };
  workshop_build (self);
  g_signal_connect_object (window, "destroy", G_CALLBACK (on_window_gone), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "message", G_CALLBACK (on_message), self, G_CONNECT_SWAPPED);
  workshop_update (self);
  workshop_each_display (self);
  workshop_lay_out_soon (self, 0);
  return self;
}

static void
on_workshop_gone (FwWindow *window)
{
  g_object_set_data (G_OBJECT (window), "workshop", NULL);
}

void
fw_workshop_show (FwWindow *window)
{
  GtkWindow *there = g_object_get_data (G_OBJECT (window), "workshop");

  if (there == NULL)
    {
      there = GTK_WINDOW (workshop_new (window));
      g_object_set_data (G_OBJECT (window), "workshop", there);
      g_signal_connect_object (there, "destroy", G_CALLBACK (on_workshop_gone), window, G_CONNECT_SWAPPED);
    }
  gtk_window_present (there);
}
