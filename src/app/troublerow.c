#include "app/troublerow.h"

#include <glib/gi18n.h>

#include "app/explain.h"
#include "app/severitymark.h"
#include "app/widgetstyle.h"
#include "doc/loadwords.h"

#define REMEDIES 6

struct _FwTroubleRow
{
  GtkListBoxRow parent_instance;

  FwSession *session; /* owned */
  FwTrouble trouble;
  int index, twin;

  GtkWidget *mark, *sentence, *note, *explain;
  GtkWidget *remedies; /* box; shown when picked */
  GtkWidget *hardware; /* box below: springs and counterweights */
  GtkWidget *waiting;  /* spinner and words, in the box */
  GtkWidget *spinner;
  GtkWidget *helps;    /* button to the picture of what helps; seen when picked */
  gboolean showing;
};

G_DEFINE_FINAL_TYPE (FwTroubleRow, fw_trouble_row, GTK_TYPE_LIST_BOX_ROW)

/* ---- Sentence ---- */

static void
row_say (FwTroubleRow *self, const char *severity, const char *sentence)
{
  /* Translators: how bad it is, and the sentence that says what is wrong. */
  char *name = g_strdup_printf (C_("trouble", "%s. %s"), severity, sentence);

  if (strcmp (sentence, gtk_label_get_text (GTK_LABEL (self->sentence))) != 0)
    fw_label_say (self->sentence, sentence);
  fw_widget_describe (GTK_WIDGET (self), name, NULL);
  g_free (name);
}

static void
row_tell_twin (FwTroubleRow *self)
{
  /* Translators: the number that the views show beside the part. */
  char *words = g_strdup_printf (_("The same on the other side (%d)."), self->twin + 1);

  gtk_label_set_text (GTK_LABEL (self->note), words);
  gtk_widget_set_visible (self->note, self->twin >= 0);
  g_free (words);
}

void
fw_trouble_row_set (FwTroubleRow *self, int index, int twin)
{
  const FwScene *scene = fw_session_scene (self->session);

  self->trouble = scene->troubles->items[index];
  self->index = index;
  self->twin = twin;
  char *sentence = fw_words_trouble (scene->mechanism, &self->trouble, fw_session_lengths (self->session));
  fw_severity_mark_set (self->mark, fw_sign_of_severity (self->trouble.severity), index + 1);
  row_say (self, fw_severity_name (self->trouble.severity), sentence);
  row_tell_twin (self);
  fw_explain_button_set (self->explain, fw_explain_trouble (self->trouble.kind));
  g_free (sentence);
}

void
fw_trouble_row_set_mended (FwTroubleRow *self)
{
  self->index = self->twin = -1;
  fw_severity_mark_set (self->mark, FW_SIGN_WELL, 0);
  row_say (self, _("Mended"), _("This trouble is gone with the number as it stands now."));
  gtk_widget_set_visible (self->note, FALSE);
  fw_trouble_row_hold_remedies (self);
}

const FwTrouble *
fw_trouble_row_trouble (FwTroubleRow *self)
{
  return &self->trouble;
}

int
fw_trouble_row_index (FwTroubleRow *self)
{
  return self->index;
}

gboolean
fw_trouble_row_has (FwTroubleRow *self, int index)
{
  return index >= 0 && (index == self->index || index == self->twin);
}

/* ---- Remedies ---- */

static void
on_remedy (GtkButton *button, FwTroubleRow *self)
{
  /* Applying it changes the list and may take this row away. */
  FwRemedy remedy = *(const FwRemedy *) g_object_get_data (G_OBJECT (button), "fw-remedy");
  FwSession *session = g_object_ref (self->session);

  fw_session_apply_remedy (session, &remedy);
  g_object_unref (session);
}

static GtkWidget *
remedy_button (FwTroubleRow *self, const FwRemedy *remedy)
{
  const FwDesign *design = fw_session_scene (self->session)->mechanism->design;
  char *words = fw_words_remedy (design, remedy, fw_session_lengths (self->session));
  GtkWidget *label = gtk_label_new (NULL);
  GtkWidget *button = gtk_button_new ();

  fw_label_say (label, words);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_button_set_child (GTK_BUTTON (button), label);
  gtk_widget_add_css_class (button, "remedy");
  gtk_widget_set_tooltip_text (button, _("Tried over the whole turn; can be undone"));
  fw_widget_describe (button, words, NULL);
  g_object_set_data_full (G_OBJECT (button), "fw-remedy", g_memdup2 (remedy, sizeof *remedy), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_remedy), self);
  g_free (words);
  return button;
}

static void
row_clear_remedies (FwTroubleRow *self)
{
  GtkWidget *child = gtk_widget_get_first_child (self->remedies);

  while (child != NULL)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (child);
      if (child != self->waiting)
        gtk_box_remove (GTK_BOX (self->remedies), child);
      child = next;
    }
}

/* Buttons that already say the same stay, so that nothing blinks and the keyboard keeps its place. */
static gboolean
row_has_remedies (FwTroubleRow *self, const FwRemedy *list, int n)
{
  int i = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (self->remedies); child; child = gtk_widget_get_next_sibling (child))
    {
      const FwRemedy *has = g_object_get_data (G_OBJECT (child), "fw-remedy");
      if (child == self->waiting)
        continue;
      if (has == NULL || i >= n || !fw_param_equal (has->param, list[i].param) || has->from != list[i].from
          || has->to != list[i].to)
        return FALSE;
      gtk_widget_set_sensitive (child, TRUE);
      i++;
    }
  return i == n && n > 0;
}

static void
row_fill_remedies (FwTroubleRow *self, const FwRemedy *list, int n)
{
  if (row_has_remedies (self, list, n))
    return;
  row_clear_remedies (self);
  for (int i = 0; i < n && i < REMEDIES; i++)
    gtk_box_append (GTK_BOX (self->remedies), remedy_button (self, &list[i]));
  if (n == 0 && fw_session_remedies_cut_short (self->session, self->index))
    gtk_box_append (GTK_BOX (self->remedies),
                    fw_note_label (_("Not every change was tried for this: the design is large. Mend what fails first.")));
  else if (n == 0)
    gtk_box_append (GTK_BOX (self->remedies),
                    fw_note_label (_("No change of a single number was found that mends this.")));
}

/* ---- Hardware: a counterweight or a spring to fit; a spring in words where none can be drawn ---- */

static void
on_fit (GtkButton *button, FwTroubleRow *self)
{
  /* Fitting it changes the list and may take this row away. */
  FwCounterweight weight = *(const FwCounterweight *) g_object_get_data (G_OBJECT (button), "fw-weight");
  FwSession *session = g_object_ref (self->session);

  fw_session_fit_weight (session, &weight);
  g_object_unref (session);
}

static GtkWidget *
weight_button (FwTroubleRow *self, const FwCounterweight *weight)
{
  const FwDesign *design = fw_session_scene (self->session)->mechanism->design;
  g_autofree char *what = fw_words_counterweight (design, weight, fw_session_lengths (self->session));
  /* Translators: %s is a counterweight, e.g. "A counterweight of 140 g on neck, 50 mm behind its hinge" */
  g_autofree char *words = g_strdup_printf (_("Fit it: %s"), what);
  GtkWidget *label = gtk_label_new (NULL), *button = gtk_button_new ();

  fw_label_say (label, words);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_button_set_child (GTK_BUTTON (button), label);
  gtk_widget_add_css_class (button, "remedy");
  gtk_widget_set_tooltip_text (button, _("Tried over the whole turn; can be undone"));
  fw_widget_describe (button, words, NULL);
  g_object_set_data_full (G_OBJECT (button), "fw-weight", g_memdup2 (weight, sizeof *weight), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_fit), self);
  return button;
}

static void
on_fit_spring (GtkButton *button, FwTroubleRow *self)
{
  FwSpringFit fit = *(const FwSpringFit *) g_object_get_data (G_OBJECT (button), "fw-spring");
  FwSession *session = g_object_ref (self->session);

  fw_session_fit_spring (session, &fit);
  g_object_unref (session);
}

static GtkWidget *
spring_button (FwTroubleRow *self, const FwSpringFit *fit)
{
  const FwDesign *design = fw_session_scene (self->session)->mechanism->design;
  FwLengths lengths = fw_session_lengths (self->session);
  g_autofree char *what = fw_words_spring_fit (design, fit, lengths);
  g_autofree char *before = fw_units_format (fit->peak_before_N, FW_UNIT_N, lengths, 1);
  g_autofree char *after = fw_units_format (fit->peak_N, FW_UNIT_N, lengths, 1);
  /* Translators: a spring, and the joint's greatest load without and with it. */
  g_autofree char *words = g_strdup_printf (_("Fit it: %s. The joint's greatest load goes from %s to %s."), what, before,
                                            after);
  GtkWidget *label = gtk_label_new (NULL), *button = gtk_button_new ();

  fw_label_say (label, words);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_button_set_child (GTK_BUTTON (button), label);
  gtk_widget_add_css_class (button, "remedy");
  gtk_widget_set_tooltip_text (button, _("Tried over the whole turn; can be undone. A stretched spring flies when it breaks"));
  fw_widget_describe (button, words, NULL);
  g_object_set_data_full (G_OBJECT (button), "fw-spring", g_memdup2 (fit, sizeof *fit), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_fit_spring), self);
  return button;
}

static GtkWidget *
spring_note (FwTroubleRow *self, const FwSpring *spring)
{
  g_autofree char *what = fw_words_spring (fw_session_scene (self->session)->mechanism, spring);
  g_autofree char *before = fw_units_format (spring->peak_before_N, FW_UNIT_N, FW_LENGTHS_MM, 1);
  g_autofree char *after = fw_units_format (spring->peak_N, FW_UNIT_N, FW_LENGTHS_MM, 1);
  /* Translators: a spring that would help, and the joint's greatest load without and with it. */
  g_autofree char *words = g_strdup_printf (_("%s. The joint's greatest load grows from %s to %s."), what, before,
                                            after);
  return fw_note_label (words);
}

static void
row_clear_hardware (FwTroubleRow *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->hardware)) != NULL)
    gtk_box_remove (GTK_BOX (self->hardware), child);
  gtk_widget_set_visible (self->hardware, FALSE);
}

static void
row_fill_hardware (FwTroubleRow *self)
{
  const FwCounterweight *weight = fw_session_counterweight (self->session, self->index);
  FwSpring spring;

  row_clear_hardware (self);
  if (weight != NULL)
    gtk_box_append (GTK_BOX (self->hardware), weight_button (self, weight));
  const FwSpringFit *fit = fw_session_spring_fit (self->session, self->index);
  if (fit != NULL)
    gtk_box_append (GTK_BOX (self->hardware), spring_button (self, fit));
  else if (fw_session_spring (self->session, self->index, &spring))
    gtk_box_append (GTK_BOX (self->hardware), spring_note (self, &spring));
  gtk_widget_set_sensitive (self->hardware, TRUE);
  gtk_widget_set_visible (self->hardware, gtk_widget_get_first_child (self->hardware) != NULL);
}

static void
row_set_waiting (FwTroubleRow *self, gboolean waiting)
{
  gtk_widget_set_visible (self->waiting, waiting);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), waiting);
}

void
fw_trouble_row_show_remedies (FwTroubleRow *self, gboolean show)
{
  int n = 0;
  gboolean done = FALSE;

  self->showing = show;
  gtk_widget_set_visible (self->remedies, show);
  if (!show)
    {
      row_clear_remedies (self);
      row_clear_hardware (self);
      row_set_waiting (self, FALSE);
      gtk_widget_set_visible (self->helps, FALSE);
      return;
    }
  if (self->index < 0)
    return;
  const FwRemedy *list = fw_session_remedies (self->session, self->index, &n, &done);
  if (done)
    {
      row_fill_remedies (self, list, MIN (n, REMEDIES));
      row_fill_hardware (self);
    }
  else
    fw_trouble_row_hold_remedies (self);
  row_set_waiting (self, !done);
  gtk_widget_set_visible (self->helps, TRUE);
}

void
fw_trouble_row_hold_remedies (FwTroubleRow *self)
{
  GtkWidget *child = gtk_widget_get_first_child (self->remedies);

  for (; child != NULL; child = gtk_widget_get_next_sibling (child))
    if (child != self->waiting)
      gtk_widget_set_sensitive (child, FALSE);
  gtk_widget_set_sensitive (self->hardware, FALSE);
}

/* ---- Object ---- */

static void
trouble_row_dispose (GObject *object)
{
  g_clear_object (&FW_TROUBLE_ROW (object)->session);
  G_OBJECT_CLASS (fw_trouble_row_parent_class)->dispose (object);
}

static void
fw_trouble_row_class_init (FwTroubleRowClass *class)
{
  G_OBJECT_CLASS (class)->dispose = trouble_row_dispose;
}

static GtkWidget *
row_waiting (FwTroubleRow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->spinner = gtk_spinner_new ();
  gtk_box_append (GTK_BOX (box), self->spinner);
  gtk_box_append (GTK_BOX (box), fw_note_label (_("Trying what would mend it…")));
  gtk_widget_set_visible (box, FALSE);
  return box;
}

static void
fw_trouble_row_init (FwTroubleRow *self)
{
  self->index = self->twin = -1;
}

GtkWidget *
fw_trouble_row_new (FwSession *session)
{
  FwTroubleRow *self = g_object_new (FW_TYPE_TROUBLE_ROW, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->session = g_object_ref (session);
  self->mark = fw_severity_mark_new (session, 26);
  self->sentence = gtk_label_new ("");
  gtk_label_set_wrap (GTK_LABEL (self->sentence), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (self->sentence), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (self->sentence), 0);
  self->note = fw_note_label ("");
  gtk_widget_add_css_class (self->note, "dim-label");
  self->remedies = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->hardware = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_visible (self->hardware, FALSE);
  self->waiting = row_waiting (self);
  gtk_widget_set_visible (self->remedies, FALSE);
  gtk_box_append (GTK_BOX (self->remedies), self->waiting);
  gtk_box_append (GTK_BOX (column), self->sentence);
  gtk_box_append (GTK_BOX (column), self->note);
  gtk_box_append (GTK_BOX (column), self->remedies);
  gtk_box_append (GTK_BOX (column), self->hardware);
  gtk_widget_set_hexpand (column, TRUE);
  gtk_box_append (GTK_BOX (line), self->mark);
  gtk_box_append (GTK_BOX (line), column);
  self->explain = fw_explain_button_new (session, GTK_WIDGET (self), NULL, TRUE);
  gtk_widget_set_valign (self->explain, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), self->explain);
  self->helps = gtk_button_new_with_label (_("What helps…"));
  gtk_widget_set_tooltip_text (self->helps, _("All numbers that move it, how strongly, and how far each can go"));
  gtk_widget_set_halign (self->helps, GTK_ALIGN_START);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->helps), "win.helps-trouble");
  gtk_widget_set_visible (self->helps, FALSE);
  gtk_box_append (GTK_BOX (column), self->helps);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), line);
  fw_widget_can_be_pressed (GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
