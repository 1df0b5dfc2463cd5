#include "app/ask.h"

#include "app/controls.h"

typedef struct
{
  GtkWindow *window;
  FwAnswered answered;
  gpointer data;
  GDestroyNotify release;
  int answer;
} Question;

static gboolean
on_escape (GtkWidget *window, GVariant *args, gpointer data)
{
  gtk_window_close (GTK_WINDOW (window));
  return TRUE;
}

GtkWindow *
fw_dialog_new (GtkWindow *parent, const char *title)
{
  GtkWindow *window = GTK_WINDOW (gtk_window_new ());
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_window_set_title (window, title);
  gtk_window_set_titlebar (window, gtk_header_bar_new ());
  gtk_window_set_transient_for (window, parent);
  gtk_window_set_modal (window, TRUE);
  gtk_window_set_destroy_with_parent (window, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (window), "fw-dialog");
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_BUBBLE);
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0), gtk_callback_action_new (on_escape, NULL, NULL)));
  gtk_widget_add_controller (GTK_WIDGET (window), keys);
  return window;
}

/* The answer comes once the window is gone, so that what follows may open the next one. */
static void
on_question_gone (gpointer data, GObject *window)
{
  Question *question = data;
  question->answered (question->answer, question->data);
  if (question->release != NULL)
    question->release (question->data);
  g_free (question);
}

static void
on_answer (GtkButton *button, gpointer data)
{
  Question *question = data;
  question->answer = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "answer"));
  gtk_window_destroy (question->window);
}

static GtkWidget *
question_words (const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 46);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, style);
  return label;
}

void
fw_ask (GtkWindow *parent, const char *heading, const char *words, const FwAnswer *answers, int n_answers,
        FwAnswered answered, gpointer data, GDestroyNotify release)
{
  Question *question = g_new0 (Question, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *last = NULL;

  *question = (Question) { .window = fw_dialog_new (parent, heading), .answered = answered, .data = data,
                           .release = release, .answer = FW_ANSWER_NONE };
  gtk_window_set_resizable (question->window, FALSE);
  /* The page says it; the name of the window is for assistive technology and the desktop. */
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (gtk_window_get_titlebar (question->window)),
                                   gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0));
  gtk_widget_add_css_class (page, "fw-page");
  gtk_box_append (GTK_BOX (page), question_words (heading, "fw-heading"));
  gtk_box_append (GTK_BOX (page), question_words (words, "fw-words"));
  gtk_widget_set_halign (row, GTK_ALIGN_END);
  gtk_widget_set_margin_top (row, 12);
  for (int i = 0; i < n_answers; i++)
    {
      GtkWidget *button = last = fw_button_new (answers[i].label);
      g_object_set_data (G_OBJECT (button), "answer", GINT_TO_POINTER (i));
      if (answers[i].style != NULL)
        gtk_widget_add_css_class (button, answers[i].style);
      g_signal_connect (button, "clicked", G_CALLBACK (on_answer), question);
      gtk_box_append (GTK_BOX (row), button);
    }
  gtk_box_append (GTK_BOX (page), row);
  gtk_window_set_child (question->window, page);
  gtk_window_set_default_widget (question->window, last);
  gtk_window_set_focus (question->window, last);
  g_object_weak_ref (G_OBJECT (question->window), on_question_gone, question);
  gtk_window_present (question->window);
}
