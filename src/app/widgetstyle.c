#include "app/widgetstyle.h"

#include "draw/unbroken.h"

/* The window's own style sheet gives these colours their values. */
static const char rules[] =
    "@define-color paper @theme_bg_color; @define-color sheet @theme_base_color; @define-color ink @theme_fg_color;\n"
    "@define-color motion @theme_selected_bg_color; @define-color trouble @error_color;\n"
    "player button.backwards image { -gtk-icon-transform: scaleX(-1); }\n"
    ".strip-heading { padding: 6px 12px; }\n"
    "canvas:focus-visible, strip-area:focus-visible { outline: 2px solid @motion;"
    " outline-offset: -2px; }\n"
    "label.handle-tip { padding: 3px 9px; border-radius: 6px; font-size: smaller;"
    " background-color: alpha(@ink, .9); color: @paper; }\n"
    ".note { font-size: smaller; }\n"
    ".note.error { color: @trouble; }\n"
    "param-row { padding: 2px 12px 6px 24px; }\n"
    "param-row entry { min-height: 26px; padding-left: 6px; padding-right: 6px;"
    " font-feature-settings: \"tnum\"; }\n"
    "param-row entry.error { color: @trouble; border-color: @trouble; }\n"
    "param-row scale { padding: 4px 0 2px 0; }\n"
    "expander-widget.param-group > box > title { font-weight: bold; padding: 6px; }\n"
    "expander-widget.param-group.picked > box > title { color: @motion; }\n"
    "turn-note { padding: 6px 12px; }\n"
    "list.trouble-list, list.trouble-list > row { background: none; }\n"
    "list.trouble-list > row { padding: 8px 12px; color: inherit; }\n"
    "list.trouble-list > row:selected { background-color: alpha(@motion, .12);"
    " box-shadow: inset 3px 0 @motion; }\n"
    "list.trouble-list button.remedy { font-weight: normal; padding: 3px 10px; color: @ink;"
    " background: @sheet; border: 1px solid alpha(@motion, .55); box-shadow: none; text-shadow: none; }\n"
    "list.trouble-list button.remedy:hover { background: alpha(@motion, .16); }\n"
    "list.trouble-list button.remedy:disabled { opacity: .55; }\n"
    ".loads-heading { padding: 6px 12px 0 12px; }\n"
    "list.peak-list, list.peak-list > row { background: none; }\n"
    "list.peak-list > row { padding: 3px 12px; color: inherit; }\n"
    "list.peak-list > row:hover { background-color: alpha(@motion, .07); }\n"
    "list.peak-list > row:selected { background-color: alpha(@motion, .12);"
    " box-shadow: inset 3px 0 @motion; }\n"
    "list.peak-list .numeric { font-feature-settings: \"tnum\"; }\n"
    "label.peak-heading { font-weight: bold; padding: 12px 12px 3px 12px; }\n"
    ".margin-tabs { margin: 6px 12px; }\n"
    ".margin-tabs > button.text-button { min-width: 0; padding-left: 2px; padding-right: 2px; }\n"
    ".margin-tabs > button > label { padding: 0; font-size: smaller; }\n"
    ".real-page { padding: 6px 12px 18px 12px; }\n"
    ".real-page .odds { font-size: 2.6em; font-weight: bold; font-feature-settings: \"tnum\"; }\n"
    ".real-page .numeric { font-feature-settings: \"tnum\"; }\n"
    ".real-page entry { min-height: 26px; padding-left: 6px; padding-right: 6px; font-feature-settings: \"tnum\"; }\n"
    ".real-page entry.default-value { opacity: .6; font-style: italic; }\n"
    ".real-page entry.error, window.fw-dialog entry.error { color: @trouble; border-color: @trouble; }\n"
    ".real-page progressbar trough, .real-page progressbar progress { min-height: 4px; }\n"
    ".real-page progressbar progress { background: @motion; border-color: @motion; }\n"
    ".real-page .trouble-shares { padding: 3px 0 3px 12px; border-left: 3px solid @trouble; }\n"
    ".real-page dropdown.narrow > button { padding-left: 6px; padding-right: 4px; font-size: smaller; }\n"
    ".real-page button:not(.flat):not(.suggested-action) { background: alpha(@ink, .06); color: @ink;"
    " border-color: alpha(@ink, .14); box-shadow: none; text-shadow: none; }\n"
    ".real-page button:not(.flat):not(.suggested-action):hover { border-color: alpha(@ink, .4); }\n"
    ".real-page button:checked:not(.flat) { background: alpha(@motion, .22); border-color: @motion; }\n"
    ".real-page button:disabled { opacity: .5; }\n"
    "list.cause-list, list.cause-list > row { background: none; }\n"
    "list.cause-list > row { padding: 4px 0; color: inherit; }\n"
    "list.cause-list > row:hover { background-color: alpha(@motion, .07); }\n"
    "button.explain { min-width: 16px; min-height: 16px; padding: 0; border-radius: 99px; font-size: 11px; font-weight: bold;"
    " color: @ink; background: none; border: 1px solid alpha(@ink, .5); box-shadow: none; text-shadow: none; }\n"
    "button.explain:hover { border-color: @motion; color: @motion; }\n"
    ".explained button.explain { opacity: 0; }\n"
    ".explained:hover button.explain, .explained:focus-within button.explain { opacity: 1; }\n"
    "box.explain label.explain-fact { font-size: .94em; }\n"
    "box.explain { padding: 6px; }\n"
    ".guide-sheet { background-color: @sheet; color: @ink; }\n"
    ".guide-page:focus-visible { outline: 2px solid @motion; outline-offset: -2px; }\n"
    ".guide-page { padding: 18px 24px 36px 24px; }\n"
    ".guide-page link, .guide-page link:visited { color: @motion; text-decoration: underline; }\n"
    ".guide-title { font-size: 1.6em; font-weight: bold; }\n"
    ".guide-heading { font-size: 1.3em; font-weight: bold; margin-top: 18px; }\n"
    ".guide-part { font-size: 1.1em; font-weight: bold; margin-top: 12px; }\n"
    ".guide-code { font-family: monospace; font-size: .92em; padding: 6px 12px; border-radius: 4px; background-color: alpha(@ink, .07); }\n"
    ".guide-quote { padding-left: 12px; border-left: 3px solid alpha(@ink, .3); }\n"
    ".guide-table { border: 1px solid alpha(@ink, .3); border-bottom: none; border-right: none; }\n"
    ".guide-head, .guide-cell { padding: 5px 10px; border-bottom: 1px solid alpha(@ink, .3); border-right: 1px solid alpha(@ink, .3); }\n"
    ".guide-head { font-weight: bold; background-color: alpha(@ink, .07); }\n"
    ".guide-list { background: none; padding: 6px; }\n"
    ".guide-list > row { padding: 4px 9px; border-radius: 4px; color: @ink; }\n"
    ".guide-others { padding: 15px 9px 3px 9px; font-size: .85em; opacity: .7; }\n"
    ".guide-list > row:selected { background-color: alpha(@motion, .16); box-shadow: inset 3px 0 @motion; }\n"
    ".guide-status { padding: 6px 24px; border-top: 1px solid alpha(@ink, .3); }\n"
    ".free-of-trouble { font-size: larger; }\n";

/* Assistive technology offers to activate an entry, but GTK 4.8 does not say what that is: the same as Enter. */
static void
let_entries_be_activated (void)
{
  GtkWidgetClass *class = g_type_class_ref (GTK_TYPE_ENTRY);

  if (gtk_widget_class_get_activate_signal (class) == 0)
    gtk_widget_class_set_activate_signal_from_name (class, "activate");
  g_type_class_unref (class);
}

void
fw_widget_style_add (void)
{
  GdkDisplay *display = gdk_display_get_default ();
  const char *key = "fw-widget-style";

  if (display == NULL || g_object_get_data (G_OBJECT (display), key) != NULL)
    return;

  let_entries_be_activated ();
  GtkCssProvider *provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_data (provider, rules, -1);
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION - 1);
  g_object_set_data_full (G_OBJECT (display), key, provider, g_object_unref);
}

void
fw_label_say (GtkWidget *label, const char *text)
{
  PangoAttrList *held = fw_unbroken_figures (text != NULL ? text : "");

  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_label_set_attributes (GTK_LABEL (label), held);
  pango_attr_list_unref (held);
}

GtkWidget *
fw_note_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "note");
  return label;
}

void
fw_widget_drop_children (GtkWidget *widget)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (widget)) != NULL)
    gtk_widget_unparent (child);
}

/* The accessibility tree shows a widget's actions. */
static void
add_action (GSimpleActionGroup *group, const char *name, GCallback callback, gpointer data)
{
  GSimpleAction *action = g_simple_action_new (name, NULL);

  g_signal_connect_object (action, "activate", callback, data, G_CONNECT_SWAPPED);
  g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (action));
  g_object_unref (action);
}

void
fw_widget_can_be_pressed (GtkWidget *widget)
{
  GSimpleActionGroup *group = g_simple_action_group_new ();

  add_action (group, "click", G_CALLBACK (gtk_widget_activate), widget);
  gtk_widget_insert_action_group (widget, "press", G_ACTION_GROUP (group));
  g_object_unref (group);
}

static void
drop_down_step (GtkDropDown *drop_down, int step)
{
  int n = (int) g_list_model_get_n_items (gtk_drop_down_get_model (drop_down));
  int at = (int) gtk_drop_down_get_selected (drop_down) + step;

  if (at >= 0 && at < n)
    gtk_drop_down_set_selected (drop_down, (guint) at);
}

static void
on_next (GtkDropDown *drop_down)
{
  drop_down_step (drop_down, 1);
}

static void
on_previous (GtkDropDown *drop_down)
{
  drop_down_step (drop_down, -1);
}

static void
on_drop_down_chosen (GtkWidget *drop_down)
{
  gpointer item = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (drop_down));
  GtkWidget *button = gtk_widget_get_first_child (drop_down);

  if (button != NULL && GTK_IS_STRING_OBJECT (item))
    gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                    gtk_string_object_get_string (item), -1);
}

void
fw_drop_down_tell (GtkWidget *drop_down)
{
  const char *key = "fw-told";

  if (g_object_get_data (G_OBJECT (drop_down), key) == NULL)
    {
      g_signal_connect (drop_down, "notify::selected-item", G_CALLBACK (on_drop_down_chosen), NULL);
      /* Pressed through the accessibility tree it may be scrolled from sight, where a popover has no place. */
      g_signal_connect (gtk_widget_get_first_child (drop_down), "activate", G_CALLBACK (gtk_widget_grab_focus), NULL);
      GSimpleActionGroup *group = g_simple_action_group_new ();
      add_action (group, "next", G_CALLBACK (on_next), drop_down);
      add_action (group, "previous", G_CALLBACK (on_previous), drop_down);
      gtk_widget_insert_action_group (drop_down, "choice", G_ACTION_GROUP (group));
      g_object_unref (group);
    }
  g_object_set_data (G_OBJECT (drop_down), key, GINT_TO_POINTER (1));
  on_drop_down_chosen (drop_down);
}

void
fw_widget_describe (GtkWidget *widget, const char *label, const char *description)
{
  if (label != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  if (description != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
  if (!GTK_IS_DROP_DOWN (widget) || gtk_widget_get_first_child (widget) == NULL)
    return;
  fw_widget_describe (gtk_widget_get_first_child (widget), label, NULL); /* its button takes the focus */
  fw_drop_down_tell (widget);
}

void
fw_widget_keep_in_window (GtkWidget *widget, double *x, double *y)
{
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (widget));
  graphene_point_t at;

  if (window == NULL
      || !gtk_widget_compute_point (widget, window, &GRAPHENE_POINT_INIT ((float) *x, (float) *y), &at))
    return;
  *x += CLAMP (at.x, 0, (float) gtk_widget_get_width (window)) - at.x;
  *y += CLAMP (at.y, 0, (float) gtk_widget_get_height (window)) - at.y;
}
