#include "app/firststeps.h"

#include <glib/gi18n.h>

#include "app/widgetstyle.h"

struct _FwFirstSteps
{
  GtkWidget parent_instance;
  GtkWidget *cards[FW_N_STEPS], *numbers[FW_N_STEPS];
};

enum { CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FwFirstSteps, fw_first_steps, GTK_TYPE_WIDGET)

static const struct
{
  const char *title, *words;
} steps[FW_N_STEPS] = {
  [FW_STEP_SLIDER] = { N_ ("Drag a slider"),
                       N_ ("On the right. The whole turn follows at once; the bar under it shows which values go round.") },
  [FW_STEP_SCRUB] = { N_ ("Scrub to the trouble"),
                      N_ ("Drag along the turn strip below, or press a line in the list of trouble.") },
  [FW_STEP_EXPORT] = { N_ ("Export the strip"),
                       N_ ("A plate of frames for the build log, seen before it is saved: Export, above.") },
};

void
fw_first_steps_set_done (FwFirstSteps *self, FwStep step)
{
  g_return_if_fail (FW_IS_FIRST_STEPS (self));
  if (gtk_widget_has_css_class (self->cards[step], "done"))
    return;
  gtk_widget_add_css_class (self->cards[step], "done");
  gtk_label_set_text (GTK_LABEL (self->numbers[step]), "✓");
  /* Translators: %s is one of the three things to try */
  g_autofree char *name = g_strdup_printf (_("%s: done"), _(steps[step].title));
  fw_widget_describe (self->cards[step], name, NULL);
}

static GtkWidget *
step_label (const char *text, const char *style, gboolean wrap)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), wrap);
  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
steps_add_card (FwFirstSteps *self, FwStep step)
{
  GtkWidget *card = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *figure = g_strdup_printf ("%d", step + 1);

  self->cards[step] = card;
  self->numbers[step] = gtk_label_new (figure);
  gtk_widget_add_css_class (self->numbers[step], "number");
  gtk_widget_set_valign (self->numbers[step], GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (card), self->numbers[step]);
  gtk_box_append (GTK_BOX (words), step_label (_(steps[step].title), "step-title", FALSE));
  gtk_box_append (GTK_BOX (words), step_label (_(steps[step].words), "step-words", TRUE));
  gtk_box_append (GTK_BOX (card), words);
  gtk_widget_add_css_class (card, "step");
  gtk_widget_set_hexpand (card, TRUE);
  return card;
}

static void
on_close (FwFirstSteps *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
first_steps_dispose (GObject *object)
{
  fw_widget_drop_children (GTK_WIDGET (object));
  G_OBJECT_CLASS (fw_first_steps_parent_class)->dispose (object);
}

static void
fw_first_steps_class_init (FwFirstStepsClass *class)
{
  G_OBJECT_CLASS (class)->dispose = first_steps_dispose;
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "firststeps");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_first_steps_init (FwFirstSteps *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *close = gtk_button_new_from_icon_name ("window-close-symbolic");

  gtk_box_set_homogeneous (GTK_BOX (row), TRUE);
  gtk_widget_set_hexpand (row, TRUE);
  for (int i = 0; i < FW_N_STEPS; i++)
    gtk_box_append (GTK_BOX (row), steps_add_card (self, (FwStep) i));
  gtk_widget_set_parent (row, GTK_WIDGET (self));
  gtk_widget_add_css_class (close, "flat");
  gtk_widget_set_valign (close, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (close, _("Close; the main menu shows it again"));
  fw_widget_describe (close, _("Close the three things to try"), NULL);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (on_close), self);
  gtk_widget_set_parent (close, GTK_WIDGET (self));
  fw_widget_describe (GTK_WIDGET (self), _("Three things to try"), NULL);
}

GtkWidget *
fw_first_steps_new (void)
{
  return g_object_new (FW_TYPE_FIRST_STEPS, NULL);
}
