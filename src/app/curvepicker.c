#include "app/curvepicker.h"

#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/explain.h"
#include "app/widgetstyle.h"
#include "doc/words.h"
#include "draw/forcerows.h"

/* A big design has thousands of curves; each group shows so many and asks to be narrowed. */
#define SHOWN_A_GROUP 40

typedef struct
{
  const char *title;
  FwQuantityKind kinds[4];
  int n_kinds;
} FwCurveGroup;

static const FwCurveGroup groups[] = {
  { NC_("group of curves", "Angles"), { FW_Q_ANGLE, FW_Q_SWING }, 2 },
  { NC_("group of curves", "Rates"), { FW_Q_RATE, FW_Q_RATE2, FW_Q_OTHER_ROOT }, 3 },
  { NC_("group of curves", "Push"), { FW_Q_PUSH }, 1 },
  { NC_("group of curves", "Lean"), { FW_Q_LEAN, FW_Q_BEND }, 2 },
  { NC_("group of curves", "Body"), { FW_Q_BODY_H, FW_Q_BODY_Z, FW_Q_BODY_TILT }, 3 },
  { NC_("group of curves", "Torque and guide"), { FW_Q_TORQUE, FW_Q_HANDLE, FW_Q_GUIDE, FW_Q_FOOT }, 4 },
  { NC_("group of curves", "Forces of rods"), { FW_Q_FORCE }, 1 },
  { NC_("group of curves", "Loads on hinges, pins and bearings"), { FW_Q_HINGE, FW_Q_PIN, FW_Q_BEARING }, 3 },
  { NC_("group of curves", "Stress and sag"), { FW_Q_STRESS, FW_Q_SAG }, 2 },
};

struct _FwCurvePicker
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *button, *popover, *search, *list, *count;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (FwCurvePicker, fw_curve_picker, GTK_TYPE_WIDGET)

static int
chosen_index (const FwStripState *strip, FwQuantity quantity)
{
  for (int i = 0; i < strip->n_curves; i++)
    if (strip->curves[i].kind == quantity.kind && strip->curves[i].index == quantity.index)
      return i;
  return -1;
}

static FwQuantity
check_quantity (GtkWidget *check)
{
  const FwQuantity *quantity = g_object_get_data (G_OBJECT (check), "fw-quantity");
  return *quantity;
}

/* With all places taken only the chosen ones can be pressed. */
static void
curve_picker_show_count (FwCurvePicker *self)
{
  const FwStripState *strip = fw_session_strip (self->session);
  gboolean full = strip->n_curves >= FW_STRIP_CURVES;
  /* Translators: how many curves are chosen, and how many can be. */
  char *words = g_strdup_printf (_("%d of %d chosen"), strip->n_curves, FW_STRIP_CURVES);

  gtk_label_set_text (GTK_LABEL (self->count), words);
  g_free (words);
  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row; row = gtk_widget_get_next_sibling (row))
    {
      GtkWidget *check = gtk_widget_get_first_child (row);
      if (check != NULL && GTK_IS_CHECK_BUTTON (check))
        gtk_widget_set_sensitive (check, !full || gtk_check_button_get_active (GTK_CHECK_BUTTON (check)));
    }
}

static void
on_toggled (GtkCheckButton *check, FwCurvePicker *self)
{
  FwStripState strip = *fw_session_strip (self->session);
  FwQuantity quantity = check_quantity (GTK_WIDGET (check));
  int at = chosen_index (&strip, quantity);

  if (self->filling || gtk_check_button_get_active (check) == (at >= 0))
    return;
  if (at < 0 && strip.n_curves < FW_STRIP_CURVES)
    strip.curves[strip.n_curves++] = quantity;
  else if (at >= 0)
    {
      strip.n_curves--;
      for (int i = at; i < strip.n_curves; i++)
        strip.curves[i] = strip.curves[i + 1];
    }
  fw_session_set_curves (self->session, strip.curves, strip.n_curves);
  curve_picker_show_count (self);
}

static gboolean
words_match (const char *words, const char *typed)
{
  char *folded = g_utf8_casefold (words, -1);
  gboolean match = strstr (folded, typed) != NULL;

  g_free (folded);
  return match;
}

static void
curve_picker_add_check (FwCurvePicker *self, FwQuantity quantity, const char *words)
{
  GtkWidget *check = gtk_check_button_new_with_label (words), *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  fw_widget_can_be_pressed (check);
  g_object_set_data_full (G_OBJECT (check), "fw-quantity", g_memdup2 (&quantity, sizeof quantity), g_free);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check),
                               chosen_index (fw_session_strip (self->session), quantity) >= 0);
  g_signal_connect (check, "toggled", G_CALLBACK (on_toggled), self);
  gtk_widget_set_hexpand (check, TRUE);
  gtk_box_append (GTK_BOX (row), check);
  gtk_box_append (GTK_BOX (row), fw_explain_button_new (self->session, row, fw_explain_quantity (quantity.kind), TRUE));
  gtk_box_append (GTK_BOX (self->list), row);
}

static gboolean
group_has (const FwCurveGroup *group, FwQuantityKind kind)
{
  for (int i = 0; i < group->n_kinds; i++)
    if (group->kinds[i] == kind)
      return TRUE;
  return FALSE;
}

static void
curve_picker_add_more (FwCurvePicker *self, int left)
{
  char *words = g_strdup_printf (ngettext ("and %d more: type part of its name", "and %d more: type part of a name",
                                           left), left);
  GtkWidget *note = fw_note_label (words);

  gtk_widget_add_css_class (note, "dim-label");
  gtk_box_append (GTK_BOX (self->list), note);
  g_free (words);
}

static void
curve_picker_add_group (FwCurvePicker *self, const FwCurveGroup *group, const char *typed)
{
  const FwScene *scene = fw_session_scene (self->session);
  const FwMechanism *mechanism = scene->mechanism;
  int motion = fw_quantity_count (mechanism), shown = 0, left = 0;
  int loads = fw_scene_loads (scene, NULL, 0);
  g_autofree FwQuantity *load = g_new (FwQuantity, MAX (loads, 1));

  fw_scene_loads (scene, load, loads);
  for (int i = 0; i < motion + loads; i++)
    {
      FwQuantity quantity = i < motion ? fw_quantity_nth (mechanism, i) : load[i - motion];
      if (!group_has (group, quantity.kind))
        continue;
      char *words = fw_words_quantity (mechanism, quantity);
      if (!words_match (words, typed))
        ;
      else if (shown >= SHOWN_A_GROUP)
        left++;
      else
        {
          if (shown++ == 0)
            {
              GtkWidget *title = gtk_label_new (g_dpgettext2 (NULL, "group of curves", group->title));
              gtk_label_set_xalign (GTK_LABEL (title), 0);
              gtk_widget_add_css_class (title, "heading");
              gtk_widget_set_margin_top (title, 6);
              gtk_box_append (GTK_BOX (self->list), title);
            }
          curve_picker_add_check (self, quantity, words);
        }
      g_free (words);
    }
  if (left > 0)
    curve_picker_add_more (self, left);
}

static void
curve_picker_fill (FwCurvePicker *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  char *typed = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);
  GtkWidget *child;

  self->filling = TRUE;
  while ((child = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_box_remove (GTK_BOX (self->list), child);
  for (gsize i = 0; scene != NULL && scene->mechanism != NULL && i < G_N_ELEMENTS (groups); i++)
    curve_picker_add_group (self, &groups[i], typed);
  self->filling = FALSE;
  curve_picker_show_count (self);
  g_free (typed);
}

static void
on_shown (FwCurvePicker *self)
{
  fw_session_find_bearings (self->session);
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  curve_picker_fill (self);
}

static void
on_search (FwCurvePicker *self)
{
  if (gtk_widget_get_mapped (self->popover))
    curve_picker_fill (self);
}

static void
on_design (FwCurvePicker *self)
{
  gtk_widget_set_sensitive (self->button, fw_session_document (self->session) != NULL);
}

/* ---- Object ---- */

static void
curve_picker_dispose (GObject *object)
{
  FwCurvePicker *self = FW_CURVE_PICKER (object);

  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_curve_picker_parent_class)->dispose (object);
}

static void
fw_curve_picker_class_init (FwCurvePickerClass *class)
{
  G_OBJECT_CLASS (class)->dispose = curve_picker_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "curve-picker");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
curve_picker_content (FwCurvePicker *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->search = gtk_search_entry_new ();
  g_object_set (self->search, "placeholder-text", _("Find a curve"), NULL);
  fw_widget_describe (self->search, _("Find a curve"), NULL);
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (on_search), self);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->count = fw_note_label ("");
  gtk_widget_add_css_class (self->count, "dim-label");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->list);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroller, _("Curves"), NULL);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroller), 420);
  gtk_box_append (GTK_BOX (box), self->search);
  gtk_box_append (GTK_BOX (box), scroller);
  gtk_box_append (GTK_BOX (box), self->count);
  return box;
}

static void
fw_curve_picker_init (FwCurvePicker *self)
{
  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), curve_picker_content (self));
  fw_search_may_stop (self->search, self->popover);
  g_signal_connect_swapped (self->popover, "map", G_CALLBACK (on_shown), self);
  fw_explain_take_key (self->popover);

  self->button = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->button), _("Curves"));
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (self->button), FALSE);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), self->popover);
  gtk_menu_button_set_direction (GTK_MENU_BUTTON (self->button), GTK_ARROW_UP);
  gtk_widget_set_tooltip_text (self->button, _("Choose the curves of the turn strip"));
  fw_widget_describe (self->button, _("Curves"), NULL);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
}

GtkWidget *
fw_curve_picker_new (FwSession *session)
{
  FwCurvePicker *self = g_object_new (FW_TYPE_CURVE_PICKER, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  on_design (self);
  return GTK_WIDGET (self);
}
