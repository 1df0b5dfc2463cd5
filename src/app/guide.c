#include "app/guide.h"

#include <glib/gi18n.h>

#include "app/controls.h"
#include "app/widgetstyle.h"
#include "doc/guided.h"

#define FIRST_SPAN_MM 900
#define FIRST_TOP_DEG 32
#define FIRST_BOTTOM_DEG (-24)
#define MOST_SWING_DEG 80

struct _FwGuidePage
{
  GtkWidget parent_instance;

  FwLengths lengths;
  GtkWidget *form, *title, *span, *sides, *panels, *runs, *ride, *top, *bottom;
  GtkWidget *problem, *spinner, *cancel_button, *build_button;
  GCancellable *cancel; /* not NULL while building */
};

enum { BUILT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FwGuidePage, fw_guide, GTK_TYPE_WIDGET)

/* ---- Building ---- */

typedef struct
{
  FwGuide answers;
  char *title;
} Job;

static void
job_free (gpointer data)
{
  g_free (((Job *) data)->title);
  g_free (data);
}

static void
job_run (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  const Job *job = data;
  char *text = NULL;
  GError *error = NULL;
  if (fw_guided_design (&job->answers, job->title, &text, &error))
    g_task_return_pointer (task, text, g_free);
  else
    g_task_return_error (task, error);
}

static void
guide_set_building (FwGuidePage *self, gboolean building)
{
  gtk_widget_set_sensitive (self->form, !building);
  gtk_widget_set_sensitive (self->build_button, !building);
  gtk_widget_set_visible (self->spinner, building);
  gtk_widget_set_visible (self->cancel_button, building);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), building);
}

static void
guide_show_problem (FwGuidePage *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->problem), text != NULL ? text : "");
  gtk_widget_set_visible (self->problem, text != NULL);
}

static void
on_built (GObject *source, GAsyncResult *result, gpointer data)
{
  FwGuidePage *self = FW_GUIDE (source);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = g_task_propagate_pointer (G_TASK (result), &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* already told */
  g_clear_object (&self->cancel);
  guide_set_building (self, FALSE);
  guide_show_problem (self, error != NULL ? error->message : NULL);
  if (text != NULL)
    g_signal_emit (self, signals[BUILT], 0, text);
}

static void
guide_stop (FwGuidePage *self)
{
  if (self->cancel == NULL)
    return;
  g_cancellable_cancel (self->cancel);
  g_clear_object (&self->cancel);
}

static void
on_cancel (FwGuidePage *self)
{
  guide_stop (self);
  guide_set_building (self, FALSE);
}

/* The answers as they stand in the form; FALSE with a problem shown. */
static gboolean
guide_read (FwGuidePage *self, FwGuide *answers)
{
  g_autoptr (GError) error = NULL;
  double span;

  if (!fw_units_parse (gtk_editable_get_text (GTK_EDITABLE (self->span)), FW_UNIT_MM, self->lengths, &span, &error))
    {
      guide_show_problem (self, error->message);
      gtk_widget_grab_focus (self->span);
      return FALSE;
    }
  *answers = (FwGuide) {
    .span_mm = span,
    .both_sides = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sides)) == 0,
    .panels_a_side = gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->panels)),
    .runs = (FwRuns) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->runs)),
    .ride = (FwRide) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->ride)),
    .top_deg = gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->top)),
    .bottom_deg = gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->bottom)),
  };
  return TRUE;
}

/* Builds a design from the answers, beside the main loop. */
static void
build_design (FwGuidePage *self)
{
  FwGuide answers;
  if (self->cancel != NULL || !guide_read (self, &answers))
    return;

  Job *job = g_new (Job, 1);
  *job = (Job) { answers, g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->title))) };
  guide_show_problem (self, NULL);
  guide_set_building (self, TRUE);
  self->cancel = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (self, self->cancel, on_built, NULL);
  g_task_set_return_on_cancel (task, TRUE);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, job_run);
}

/* ---- Form ---- */

static void
guide_add_form (FwGuidePage *self)
{
  const char *sides[] = { _("Both wings"), _("Right wing only"), NULL };
  const char *runs[] = { _("Across, from wing to wing"), _("Along, from tail to head"), NULL };
  const char *rides[] = { _("Stands still"), _("Rises straight on a rail"), _("Nods through a swivelling guide"),
                          _("Nods on a link"), NULL };

  GtkGrid *form = GTK_GRID (gtk_grid_new ());

  self->form = GTK_WIDGET (form);
  gtk_grid_set_row_spacing (form, 6);
  gtk_grid_set_column_spacing (form, 12);
  self->title = fw_form_add (form, 0, _("_Name"), gtk_entry_new ());
  gtk_editable_set_text (GTK_EDITABLE (self->title), _("New wings"));
  self->span = fw_form_add (form, 1, _("_Span, tip to tip"), gtk_entry_new ());
  fw_left_to_right (self->span);
  self->sides = fw_form_add (form, 2, _("S_ides"), gtk_drop_down_new_from_strings (sides));
  self->panels = fw_form_add (form, 3, _("_Panels a side"), fw_spin_new (1, 3, 1, 2));
  self->runs = fw_form_add (form, 4, _("_Crank runs"), gtk_drop_down_new_from_strings (runs));
  self->ride = fw_form_add (form, 5, _("_Body"), gtk_drop_down_new_from_strings (rides));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->ride), FW_RIDE_SLEEVE);
  self->top = fw_form_add (form, 6, _("Swing _up to, degrees"), fw_spin_new (-MOST_SWING_DEG, MOST_SWING_DEG, 1, FIRST_TOP_DEG));
  self->bottom = fw_form_add (form, 7, _("Swing _down to, degrees"),
                           fw_spin_new (-MOST_SWING_DEG, MOST_SWING_DEG, 1, FIRST_BOTTOM_DEG));
  gtk_widget_set_parent (self->form, GTK_WIDGET (self));
}

static void
guide_add_buttons (FwGuidePage *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->problem = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->problem), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->problem), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 50);
  gtk_widget_add_css_class (self->problem, "fw-caution");
  gtk_widget_set_parent (self->problem, GTK_WIDGET (self));

  self->spinner = gtk_spinner_new ();
  self->cancel_button = fw_button_new (_("S_top"));
  self->build_button = fw_button_new (_("Build the _design"));
  gtk_widget_add_css_class (self->build_button, "suggested-action");
  fw_widget_describe (self->spinner, _("Looking for proportions that go round"), NULL);
  g_signal_connect_swapped (self->cancel_button, "clicked", G_CALLBACK (on_cancel), self);
  g_signal_connect_swapped (self->build_button, "clicked", G_CALLBACK (build_design), self);
  g_signal_connect_swapped (self->span, "activate", G_CALLBACK (build_design), self);
  gtk_box_append (GTK_BOX (row), self->spinner);
  gtk_box_append (GTK_BOX (row), self->cancel_button);
  gtk_box_append (GTK_BOX (row), self->build_button);
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_widget_set_parent (row, GTK_WIDGET (self));
}

/* ---- Object ---- */

static void
guide_dispose (GObject *object)
{
  guide_stop (FW_GUIDE (object));
  fw_widget_drop_children (GTK_WIDGET (object));
  G_OBJECT_CLASS (fw_guide_parent_class)->dispose (object);
}

static void
fw_guide_class_init (FwGuidePageClass *class)
{
  G_OBJECT_CLASS (class)->dispose = guide_dispose;
  signals[BUILT] = g_signal_new ("built", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
}

static void
fw_guide_init (FwGuidePage *self)
{
  GtkBoxLayout *layout = GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self)));
  GtkWidget *words = fw_note_label (_("The proportions are searched until the whole turn goes round free of trouble. "
                                      "All of it can be changed afterwards."));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (layout, 18);
  gtk_widget_add_css_class (words, "fw-faint");
  gtk_widget_set_parent (words, GTK_WIDGET (self));
  guide_add_form (self);
  guide_add_buttons (self);
  guide_set_building (self, FALSE);
  guide_show_problem (self, NULL);
}

GtkWidget *
fw_guide_new (FwLengths lengths)
{
  FwGuidePage *self = g_object_new (FW_TYPE_GUIDE, NULL);
  g_autofree char *span = fw_units_format (FIRST_SPAN_MM, FW_UNIT_MM, lengths, 0);

  self->lengths = lengths;
  gtk_editable_set_text (GTK_EDITABLE (self->span), span);
  return GTK_WIDGET (self);
}
