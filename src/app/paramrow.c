#include "app/paramrow.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/aimedits.h"
#include "app/bandscale.h"
#include "app/controls.h"
#include "app/explain.h"
#include "app/look.h"
#include "app/widgetstyle.h"

#define REST_MS 700 /* key presses closer together than this are one step of undo */

struct _FwParamRow
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  int index;
  FwParam param;
  FwUnit unit;
  char *label, *key; /* owned: of an undo step; its merge key */
  FwSavedValue saved;
  gpointer saved_data;

  GtkWidget *entry, *scale, *fault, *menu;
  GtkWidget *may_change; /* toggle, seen where the design has wishes */
  double value, lower, upper; /* as shown */
  FwLengths lengths;
  gboolean shown_once;
  gboolean freeing;    /* the toggle follows the wishes */
  gboolean writing;    /* the entry's text comes from the model */
  gboolean edited;     /* the entry holds text that was not applied */
  gboolean changing;   /* this row makes the change that is being announced */
  gboolean gone;       /* its number may be another's by now */
  guint rest;          /* timeout after a key */
};

G_DEFINE_FINAL_TYPE (FwParamRow, fw_param_row, GTK_TYPE_WIDGET)

static const FwDesign *
row_design (FwParamRow *self)
{
  return fw_document_design (fw_session_document (self->session));
}

/* ---- Steps ---- */

typedef struct
{
  double fine, step, coarse;
} FwSteps;

static FwSteps
row_steps (FwParamRow *self)
{
  if (self->unit == FW_UNIT_MM && fw_session_lengths (self->session) == FW_LENGTHS_INCH)
    return (FwSteps) { 25.4 / 64, 25.4 / 16, 25.4 / 2 };
  if (self->unit == FW_UNIT_NONE) /* shares and coefficients */
    return (FwSteps) { 0.01, 0.05, 0.5 };
  return (FwSteps) { 0.1, 1, 10 };
}

/* ---- Entry ---- */

static void
row_show_fault (FwParamRow *self, const char *message)
{
  gboolean bad = message != NULL;

  gtk_label_set_text (GTK_LABEL (self->fault), bad ? message : "");
  gtk_widget_set_visible (self->fault, bad);
  if (bad)
    gtk_widget_add_css_class (self->entry, "error");
  else
    gtk_widget_remove_css_class (self->entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               bad ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  fw_widget_describe (self->entry, NULL, bad ? message : "");
}

static void
row_write_value (FwParamRow *self)
{
  g_autofree char *text = fw_units_format (self->value, self->unit, self->lengths, -1);

  self->writing = TRUE;
  if (strcmp (text, gtk_editable_get_text (GTK_EDITABLE (self->entry))) != 0)
    gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  self->writing = FALSE;
  self->edited = FALSE;
  row_show_fault (self, NULL);
}

/* ---- Value and range ---- */

static void
row_show_value (FwParamRow *self)
{
  self->lower = MIN (self->lower, self->value);
  self->upper = MAX (self->upper, self->value);
  fw_band_scale_set (FW_BAND_SCALE (self->scale), self->lower, self->upper, self->value);
  g_autofree char *text = fw_units_format (self->value, self->unit, self->lengths, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->scale), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text, -1);
}

static void
row_recentre (FwParamRow *self)
{
  double lower = self->lower, upper = self->upper;

  fw_param_range (row_design (self), self->param, &self->lower, &self->upper);
  row_show_value (self);
  if (lower != self->lower || upper != self->upper)
    fw_band_scale_set_bands (FW_BAND_SCALE (self->scale), NULL, 0);
  fw_param_row_ask_bands (self);
}

static void
row_name_children (FwParamRow *self)
{
  const char *symbol = fw_units_symbol (self->unit, fw_session_lengths (self->session));
  /* Translators: name of a number and its unit: "Length of inrod, mm". */
  char *name = symbol != NULL && *symbol != '\0' ? g_strdup_printf (C_("number", "%s, %s"), self->label, symbol)
                                                  : g_strdup (self->label);

  fw_widget_describe (GTK_WIDGET (self), self->label, NULL);
  fw_widget_describe (self->entry, name, NULL);
  fw_widget_describe (self->scale, name, NULL);
  g_free (name);
}

/* ---- May it change for the wishes? ---- */

static void
row_show_free (FwParamRow *self)
{
  const FwWishes *wishes = fw_session_wishes (self->session);
  gboolean seen = fw_param_moves (self->param) && (wishes->n_list > 0 || wishes->n_free > 0);

  gtk_widget_set_visible (self->may_change, seen);
  if (!seen)
    return;
  self->freeing = TRUE;
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->may_change), fw_session_number_is_free (self->session, self->param));
  self->freeing = FALSE;
}

static void
on_may_change (FwParamRow *self)
{
  if (!self->freeing)
    fw_session_free_number (self->session, self->param, gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->may_change)));
}

static GtkWidget *
row_may_change (FwParamRow *self)
{
  GtkWidget *toggle = gtk_toggle_button_new ();
  /* Translators: %s is the name of a number: it may change for the wishes */
  g_autofree char *name = g_strdup_printf (_("%s may change"), self->label);

  gtk_button_set_icon_name (GTK_BUTTON (toggle), "changes-allow-symbolic");
  gtk_widget_add_css_class (toggle, "flat");
  gtk_widget_set_valign (toggle, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (toggle, _("May change for the wishes"));
  fw_widget_describe (toggle, name, NULL);
  gtk_widget_set_visible (toggle, FALSE);
  g_signal_connect_swapped (toggle, "toggled", G_CALLBACK (on_may_change), self);
  return toggle;
}

void
fw_param_row_refresh (FwParamRow *self)
{
  row_show_free (self);
  double value = fw_param_get (row_design (self), self->param);
  FwLengths lengths = fw_session_lengths (self->session);
  gboolean same_units = lengths == self->lengths;

  fw_band_scale_set_theme (FW_BAND_SCALE (self->scale), fw_session_theme (self->session));
  if (self->shown_once && same_units && value == self->value)
    return;
  self->shown_once = TRUE;
  self->value = value;
  self->lengths = lengths;
  if (!same_units)
    {
      FwSteps steps = row_steps (self);
      fw_band_scale_set_steps (FW_BAND_SCALE (self->scale), steps.fine, steps.step, steps.coarse);
      row_name_children (self);
    }
  row_write_value (self);
  if (self->changing || fw_session_dragging (self->session))
    row_show_value (self);
  else
    row_recentre (self);
}

static void
row_finish (FwParamRow *self)
{
  g_clear_handle_id (&self->rest, g_source_remove);
  fw_session_end_merge (self->session);
  row_recentre (self);
}

static gboolean
on_rest (gpointer data)
{
  FwParamRow *self = data;

  self->rest = 0;
  row_finish (self);
  return G_SOURCE_REMOVE;
}

/* TRUE if the design took the value. Without a hand on the slider the step of undo ends by itself. */
static gboolean
row_change (FwParamRow *self, double value)
{
  FwChange change = { .param = self->param, .value = value };
  double least, most;

  fw_param_limits (row_design (self), self->param, &least, &most);
  change.value = CLAMP (value, least, most);
  g_clear_handle_id (&self->rest, g_source_remove);
  self->changing = TRUE;
  gboolean taken = fw_session_change (self->session, &change, 1, self->label, self->key);
  self->shown_once = FALSE; /* the slider may stand where the design did not follow */
  fw_param_row_refresh (self);
  self->changing = FALSE;
  if (!fw_band_scale_held (FW_BAND_SCALE (self->scale)))
    self->rest = g_timeout_add (REST_MS, on_rest, self);
  return taken;
}

/* ---- Slider ---- */

static void
on_moved (FwBandScale *scale, double value, FwParamRow *self)
{
  row_change (self, value);
}

static void
on_grabbed (FwBandScale *scale, gboolean held, FwParamRow *self)
{
  if (held)
    {
      g_clear_handle_id (&self->rest, g_source_remove);
      fw_session_end_merge (self->session);
      fw_session_set_dragging (self->session, TRUE);
      return;
    }
  fw_session_set_dragging (self->session, FALSE);
  if (!self->gone)
    row_finish (self);
}

/* ---- Typing ---- */

static void
row_apply (FwParamRow *self)
{
  FwChange change = { .param = self->param };
  g_autoptr (GError) error = NULL;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));

  if (!self->edited || self->gone)
    return;
  if (!fw_units_parse (text, self->unit, self->lengths, &change.value, &error))
    {
      row_show_fault (self, error->message);
      return;
    }
  g_clear_handle_id (&self->rest, g_source_remove);
  fw_session_end_merge (self->session);
  if (!fw_session_change (self->session, &change, 1, self->label, NULL))
    {
      row_show_fault (self, _("The design cannot take this value; it stays as it was."));
      return;
    }
  self->shown_once = FALSE;
  fw_param_row_refresh (self);
}

static void
on_edited (FwParamRow *self)
{
  if (self->writing)
    return;
  self->edited = TRUE;
  row_show_fault (self, NULL);
}

static gboolean
on_entry_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, FwParamRow *self)
{
  FwSteps steps = row_steps (self);
  double by = state & GDK_CONTROL_MASK ? steps.fine : state & GDK_SHIFT_MASK ? steps.coarse : steps.step;

  switch (keyval)
    {
    case GDK_KEY_Up: case GDK_KEY_KP_Up:
      row_change (self, round ((self->value + by) / steps.fine) * steps.fine);
      return GDK_EVENT_STOP;
    case GDK_KEY_Down: case GDK_KEY_KP_Down:
      row_change (self, round ((self->value - by) / steps.fine) * steps.fine);
      return GDK_EVENT_STOP;
    case GDK_KEY_Escape:
      if (!self->edited)
        return GDK_EVENT_PROPAGATE;
      row_write_value (self);
      gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

/* ---- Back to the saved value ---- */

static void
on_reset (FwParamRow *self)
{
  double value;

  fw_popdown (self->menu);
  if (!self->saved (self->saved_data, self->param, &value))
    return;
  row_change (self, value);
  row_finish (self);
}

/* Away when nothing waits for it any more: a press on its button comes after it closes. */
static gboolean
on_menu_gone (gpointer data)
{
  gtk_widget_unparent (GTK_WIDGET (data));
  return G_SOURCE_REMOVE;
}

static void
on_menu_closed (FwParamRow *self)
{
  g_idle_add_full (G_PRIORITY_LOW, on_menu_gone, g_object_ref (self->menu), g_object_unref);
  self->menu = NULL;
}

static GtkWidget *
row_reset_button (FwParamRow *self)
{
  double value;
  gboolean known = self->saved (self->saved_data, self->param, &value);
  g_autofree char *text = known ? fw_units_format (value, self->unit, self->lengths, -1) : NULL;
  g_autofree char *words = known ? g_strdup_printf (_("Back to the saved %s"), text) : g_strdup (_("No saved value"));
  GtkWidget *button = gtk_button_new_with_label (words);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_sensitive (button, known && value != self->value);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_reset), self);
  return button;
}

/* Also where there are no wishes yet. */
static void
on_menu_free (FwParamRow *self)
{
  fw_popdown (self->menu);
  fw_session_free_number (self->session, self->param, !fw_session_number_is_free (self->session, self->param));
}

static GtkWidget *
row_menu (FwParamRow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (box), row_reset_button (self));
  if (fw_param_moves (self->param))
    {
      gboolean free = fw_session_number_is_free (self->session, self->param);
      GtkWidget *button = gtk_button_new_with_label (free ? _("Stays as it is") : _("May change for the wishes"));
      gtk_widget_add_css_class (button, "flat");
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_menu_free), self);
      gtk_box_append (GTK_BOX (box), button);
    }
  return box;
}

static void
row_open_menu (FwParamRow *self, double x, double y)
{
  if (self->menu != NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  fw_widget_keep_in_window (GTK_WIDGET (self), &x, &y);
  self->menu = gtk_popover_new ();
  gtk_widget_add_css_class (self->menu, "menu");
  gtk_popover_set_child (GTK_POPOVER (self->menu), row_menu (self));
  gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &(GdkRectangle) { (int) x, (int) y, 1, 1 });
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
  g_signal_connect_swapped (self->menu, "closed", G_CALLBACK (on_menu_closed), self);
  gtk_popover_popup (GTK_POPOVER (self->menu));
}

static void
on_menu_press (GtkGestureClick *gesture, int n_press, double x, double y, FwParamRow *self)
{
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  row_open_menu (self, x, y);
}

static gboolean
on_row_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, FwParamRow *self)
{
  if (keyval != GDK_KEY_Menu && !(keyval == GDK_KEY_F10 && (state & GDK_SHIFT_MASK)))
    return GDK_EVENT_PROPAGATE;
  row_open_menu (self, 80, gtk_widget_get_height (GTK_WIDGET (self)) / 2.0);
  return GDK_EVENT_STOP;
}

/* ---- Bands ---- */

void
fw_param_row_ask_bands (FwParamRow *self)
{
  int n = 0;

  if (fw_band_scale_held (FW_BAND_SCALE (self->scale)))
    return; /* its own band does not depend on its own value */
  const FwBand *bands = fw_session_bands (self->session, self->index, self->lower, self->upper, &n);
  if (bands != NULL)
    fw_band_scale_set_bands (FW_BAND_SCALE (self->scale), bands, n);
}

void
fw_param_row_stale_bands (FwParamRow *self)
{
  if (!fw_band_scale_held (FW_BAND_SCALE (self->scale)) && !self->changing)
    fw_band_scale_set_stale (FW_BAND_SCALE (self->scale));
}

/* ---- Object ---- */

void
fw_param_row_let_go (FwParamRow *self)
{
  self->gone = TRUE;
  g_clear_handle_id (&self->rest, g_source_remove);
}

static void
row_dispose (GObject *object)
{
  FwParamRow *self = FW_PARAM_ROW (object);

  fw_param_row_let_go (self);
  fw_widget_drop_children (GTK_WIDGET (self));
  self->menu = NULL;
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_param_row_parent_class)->dispose (object);
}

static void
row_finalize (GObject *object)
{
  g_free (FW_PARAM_ROW (object)->label);
  g_free (FW_PARAM_ROW (object)->key);
  G_OBJECT_CLASS (fw_param_row_parent_class)->finalize (object);
}

static void
row_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  FwParamRow *self = FW_PARAM_ROW (widget);

  GTK_WIDGET_CLASS (fw_param_row_parent_class)->size_allocate (widget, width, height, baseline);
  if (self->menu != NULL)
    gtk_popover_present (GTK_POPOVER (self->menu));
}

static void
fw_param_row_class_init (FwParamRowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = row_dispose;
  G_OBJECT_CLASS (class)->finalize = row_finalize;
  widget_class->size_allocate = row_size_allocate;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "param-row");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_param_row_init (FwParamRow *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkGesture *press = gtk_gesture_click_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (self), "param-row");
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (press), GDK_BUTTON_SECONDARY);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (press), GTK_PHASE_CAPTURE);
  g_signal_connect (press, "pressed", G_CALLBACK (on_menu_press), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (press));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_row_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

static GtkWidget *
row_entry (FwParamRow *self)
{
  GtkWidget *entry = fw_number_entry_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), self->unit == FW_UNIT_TURNS_PER_MINUTE ? 14 : 10);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (row_apply), self);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_edited), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_entry_key), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (row_apply), self);
  gtk_widget_add_controller (entry, keys);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static void
row_add_children (FwParamRow *self)
{
  char *short_label = fw_param_short_label (row_design (self), self->param);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  /* Long in some languages, and cut short it may be any of several: it has two lines. */
  GtkWidget *name = g_object_new (GTK_TYPE_LABEL, "label", short_label, "tooltip-text", self->label, "wrap", TRUE,
                                  "wrap-mode", PANGO_WRAP_WORD_CHAR, "lines", 2, "ellipsize", PANGO_ELLIPSIZE_MIDDLE,
                                  "xalign", 0.0f, "hexpand", TRUE, NULL);

  self->entry = row_entry (self);
  gtk_box_append (GTK_BOX (line), name);
  gtk_box_append (GTK_BOX (line), fw_explain_button_new (self->session, GTK_WIDGET (self), fw_explain_param (self->param.kind), TRUE));
  gtk_box_append (GTK_BOX (line), self->entry);
  self->may_change = row_may_change (self);
  gtk_box_append (GTK_BOX (line), self->may_change);
  self->scale = fw_band_scale_new ();
  g_signal_connect (self->scale, "moved", G_CALLBACK (on_moved), self);
  g_signal_connect (self->scale, "grabbed", G_CALLBACK (on_grabbed), self);
  self->fault = fw_note_label ("");
  gtk_widget_add_css_class (self->fault, "error");
  gtk_widget_set_visible (self->fault, FALSE);
  gtk_widget_set_parent (line, GTK_WIDGET (self));
  gtk_widget_set_parent (self->fault, GTK_WIDGET (self));
  gtk_widget_set_parent (self->scale, GTK_WIDGET (self));
  g_free (short_label);
}

GtkWidget *
fw_param_row_new (FwSession *session, int index, FwSavedValue saved, gpointer saved_data)
{
  FwParamRow *self = g_object_new (FW_TYPE_PARAM_ROW, NULL);
  int n;

  self->session = g_object_ref (session);
  self->index = index;
  self->param = fw_session_params (session, &n)[index];
  self->unit = fw_param_unit (self->param);
  self->label = fw_param_label (row_design (self), self->param);
  self->key = g_strdup_printf ("number %d %d %d", self->param.kind, self->param.index, self->param.component);
  self->saved = saved;
  self->saved_data = saved_data;
  self->lengths = fw_session_lengths (session);
  row_add_children (self);
  row_name_children (self);
  FwSteps steps = row_steps (self);
  fw_band_scale_set_steps (FW_BAND_SCALE (self->scale), steps.fine, steps.step, steps.coarse);
  self->value = fw_param_get (row_design (self), self->param);
  fw_param_range (row_design (self), self->param, &self->lower, &self->upper);
  row_write_value (self);
  row_show_value (self);
  fw_band_scale_set_theme (FW_BAND_SCALE (self->scale), fw_session_theme (session));
  row_show_free (self);
  self->shown_once = TRUE;
  return GTK_WIDGET (self);
}

void
fw_param_row_focus (FwParamRow *self)
{
  gtk_widget_grab_focus (self->entry);
}
