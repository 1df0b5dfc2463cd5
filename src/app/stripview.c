#include "app/stripview.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/controls.h"
#include "app/curvepicker.h"
#include "app/striparea.h"
#include "app/turnnote.h"
#include "app/widgetstyle.h"

#define DEGREES (180 / G_PI)

struct _FwStripView
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *heading, *before, *after, *angle, *area;
  gboolean setting;
};

G_DEFINE_FINAL_TYPE (FwStripView, fw_strip_view, GTK_TYPE_WIDGET)

/* ---- The field for the crank angle ---- */

static char *
angle_text (FwStripView *self, double degrees)
{
  return fw_units_format (degrees, FW_UNIT_DEG, fw_session_lengths (self->session), 1);
}

/* The text of an angle that was not edited stands for the angle itself, not for its rounded figure. */
static int
on_angle_input (GtkSpinButton *field, double *value, FwStripView *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (field));
  double now = gtk_adjustment_get_value (gtk_spin_button_get_adjustment (field));
  char *shown = angle_text (self, now);
  gboolean edited = strcmp (text, shown) != 0;

  g_free (shown);
  *value = now;
  if (!edited)
    return TRUE;
  if (!fw_units_parse (text, FW_UNIT_DEG, fw_session_lengths (self->session), value, NULL))
    return GTK_INPUT_ERROR;
  *value = fmod (*value, 360);
  if (*value < 0)
    *value += 360;
  return TRUE;
}

static gboolean
on_angle_output (GtkSpinButton *field, FwStripView *self)
{
  char *text = angle_text (self, gtk_adjustment_get_value (gtk_spin_button_get_adjustment (field)));

  if (strcmp (text, gtk_editable_get_text (GTK_EDITABLE (field))) != 0)
    gtk_editable_set_text (GTK_EDITABLE (field), text);
  g_free (text);
  return TRUE;
}

static void
on_angle_changed (FwStripView *self)
{
  if (!self->setting)
    fw_session_set_crank (self->session, gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->angle)) / DEGREES);
}

static void
on_pose (FwStripView *self)
{
  self->setting = TRUE;
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->angle), fw_session_crank (self->session) * DEGREES);
  self->setting = FALSE;
}

static void
on_design (FwStripView *self)
{
  gboolean open = fw_session_document (self->session) != NULL;

  gtk_widget_set_sensitive (self->angle, open);
  gtk_widget_set_sensitive (self->before, open);
  gtk_widget_set_sensitive (self->after, open);
  on_pose (self);
}

static void
on_before (FwStripView *self)
{
  fw_strip_view_to_flag (self, -1);
}

static void
on_after (FwStripView *self)
{
  fw_strip_view_to_flag (self, 1);
}

/* ---- Heading row ---- */

static GtkWidget *
flag_button (FwStripView *self, const char *icon, const char *words, GCallback callback)
{
  GtkWidget *button = gtk_button_new_from_icon_name (icon);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, words);
  fw_widget_describe (button, words, NULL);
  g_signal_connect_swapped (button, "clicked", callback, self);
  return button;
}

static GtkWidget *
angle_field (FwStripView *self)
{
  GtkWidget *field = gtk_spin_button_new_with_range (0, 360, 1);

  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (field), 1);
  gtk_spin_button_set_numeric (GTK_SPIN_BUTTON (field), FALSE); /* a degree sign may stand there */
  gtk_spin_button_set_wrap (GTK_SPIN_BUTTON (field), TRUE);
  gtk_editable_set_width_chars (GTK_EDITABLE (field), 6);
  gtk_widget_set_tooltip_text (field, _("Crank angle: type one and press Enter"));
  fw_widget_describe (field, _("Crank angle, degrees"), NULL);
  g_signal_connect (field, "input", G_CALLBACK (on_angle_input), self);
  g_signal_connect (field, "output", G_CALLBACK (on_angle_output), self);
  g_signal_connect_swapped (field, "value-changed", G_CALLBACK (on_angle_changed), self);
  return field;
}

static GtkWidget *
strip_view_heading (FwStripView *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *picker = fw_curve_picker_new (self->session);
  GtkWidget *gap = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *note = fw_turn_note_new (self->session);

  gtk_widget_add_css_class (row, "strip-heading");
  self->before = flag_button (self, "media-skip-backward-symbolic", _("Flag before"), G_CALLBACK (on_before));
  self->after = flag_button (self, "media-skip-forward-symbolic", _("Flag after"), G_CALLBACK (on_after));
  self->angle = angle_field (self);
  gtk_widget_set_hexpand (gap, TRUE);
  gtk_box_append (GTK_BOX (row), self->before);
  gtk_box_append (GTK_BOX (row), self->angle);
  gtk_box_append (GTK_BOX (row), self->after);
  fw_left_to_right (row);
  GtkWidget *helps = gtk_button_new ();
  GtkWidget *sign = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  /* Painted by the style sheet: to look an icon of ours up by name GTK would read all of them anew. */
  gtk_widget_add_css_class (sign, "helps-sign");
  gtk_widget_set_valign (sign, GTK_ALIGN_CENTER);
  gtk_button_set_child (GTK_BUTTON (helps), sign);
  gtk_widget_add_css_class (helps, "image-button");
  gtk_widget_add_css_class (helps, "flat");
  fw_widget_describe (helps, _("What helps"), NULL);
  gtk_widget_set_tooltip_text (helps, _("What helps: the numbers that move the highest and lowest points of these curves"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (helps), "win.helps");
  gtk_box_append (GTK_BOX (row), note);
  gtk_box_append (GTK_BOX (row), gap);
  gtk_box_append (GTK_BOX (row), helps);
  gtk_box_append (GTK_BOX (row), picker);
  return row;
}

/* ---- Object ---- */

static void
strip_view_dispose (GObject *object)
{
  FwStripView *self = FW_STRIP_VIEW (object);

  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_strip_view_parent_class)->dispose (object);
}

static void
fw_strip_view_class_init (FwStripViewClass *class)
{
  G_OBJECT_CLASS (class)->dispose = strip_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "strip-view");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_strip_view_init (FwStripView *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  fw_widget_style_add ();
  gtk_widget_add_css_class (GTK_WIDGET (self), "strip-view");
  fw_widget_describe (GTK_WIDGET (self), _("One turn"), NULL);
}

GtkWidget *
fw_strip_view_new (FwSession *session)
{
  FwStripView *self = g_object_new (FW_TYPE_STRIP_VIEW, NULL);

  self->session = g_object_ref (session);
  self->heading = strip_view_heading (self);
  self->area = fw_strip_area_new (session);
  gtk_widget_set_parent (self->heading, GTK_WIDGET (self));
  gtk_widget_set_parent (self->area, GTK_WIDGET (self));
  g_signal_connect_object (session, "pose-changed", G_CALLBACK (on_pose), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  on_design (self);
  on_angle_output (GTK_SPIN_BUTTON (self->angle), self);
  return GTK_WIDGET (self);
}

void
fw_strip_view_add_control (FwStripView *self, GtkWidget *control)
{
  g_return_if_fail (FW_IS_STRIP_VIEW (self));
  gtk_box_prepend (GTK_BOX (self->heading), control);
}

void
fw_strip_view_step (FwStripView *self, double degrees)
{
  g_return_if_fail (FW_IS_STRIP_VIEW (self));
  fw_strip_area_step (FW_STRIP_AREA (self->area), degrees);
}

void
fw_strip_view_to_flag (FwStripView *self, int direction)
{
  g_return_if_fail (FW_IS_STRIP_VIEW (self));
  fw_strip_area_to_flag (FW_STRIP_AREA (self->area), direction);
}

void
fw_strip_view_to_bounce (FwStripView *self, int direction)
{
  g_return_if_fail (FW_IS_STRIP_VIEW (self));
  fw_strip_area_to_bounce (FW_STRIP_AREA (self->area), direction);
}

void
fw_strip_view_focus_angle (FwStripView *self)
{
  g_return_if_fail (FW_IS_STRIP_VIEW (self));
  gtk_widget_grab_focus (self->angle);
}
