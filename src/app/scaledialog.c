#include "app/scaledialog.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/ask.h"
#include "app/choose.h"
#include "app/controls.h"
#include "app/explain.h"
#include "app/files.h"
#include "app/look.h"
#include "app/scalejob.h"
#include "app/scaletable.h"
#include "app/widgetstyle.h"
#include "doc/materials.h"

#define TYPED_MS 250
#define MOST_FACTOR 1000.0

/* Words of the table of materials (data/materials.json), as files have them. */
static const char *const sheets[] = { "", "birch", "ply", "balsa", "card", "paper", "foamboard", "aluminium", NULL };
static const char *const bars[] = { "", "brass", "steel", "music wire", "aluminium", "copper", "birch", NULL };
static const char *const pipes[] = { "", "copper", "brass", "steel", "aluminium", NULL };
static const char *const *const stocks[4] = { sheets, bars, pipes, pipes };

typedef struct
{
  FwWindow *window;  /* owned */
  GtkWindow *dialog; /* owns this */
  FwScaleJob *job;
  GtkWidget *factor, *span, *speed, *material[4], *size[4], *wall[4], *fault, *table, *spinner, *open, *save;
  double flat;       /* span of the present one, mm; 0: no wings */
  gboolean writing;  /* one field writes the other */
  guint typed;       /* timeout */
  FwScaleQuestion question;
} Scale;

static FwSession *
scale_session (Scale *self)
{
  return fw_window_session (self->window);
}

/* ---- What is typed ---- */

static gboolean
read_length (Scale *self, GtkWidget *entry, double *mm)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));
  *mm = 0;
  gtk_widget_remove_css_class (entry, "error");
  if (*text == '\0')
    return TRUE;
  if (fw_units_parse (text, FW_UNIT_MM, fw_session_lengths (scale_session (self)), mm, NULL) && *mm > 0 && *mm < 1e6)
    return TRUE;
  gtk_widget_add_css_class (entry, "error");
  return FALSE;
}

static gboolean
read_factor (Scale *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->factor));
  gboolean good = fw_units_parse (text, FW_UNIT_NONE, FW_LENGTHS_MM, &self->question.factor, NULL)
                  && self->question.factor > 1 / MOST_FACTOR && self->question.factor < MOST_FACTOR;
  if (good)
    gtk_widget_remove_css_class (self->factor, "error");
  else
    gtk_widget_add_css_class (self->factor, "error");
  return good;
}

/* NULL: all is well; else what was expected. */
static const char *
read_question (Scale *self)
{
  const char *fault = NULL;
  if (!read_factor (self))
    fault = _ ("A factor above 0 was expected, such as 4 or 0.5.");
  for (int i = 0; i < 4; i++)
    {
      guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->material[i]));
      self->question.material[i] = chosen > 0 ? (char *) stocks[i][chosen] : NULL;
      gboolean good = read_length (self, self->size[i], &self->question.size_mm[i]);
      self->question.wall_mm[i] = 0;
      good = (self->wall[i] == NULL || read_length (self, self->wall[i], &self->question.wall_mm[i])) && good;
      if (!good)
        fault = _ ("A size above 0 was expected, such as 4 or 1/4 in, or nothing.");
    }
  self->question.keep_speed = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->speed));
  return fault;
}

static void
scale_wait (Scale *self, gboolean waiting)
{
  const FwScaleAnswer *answer = fw_scale_job_answer (self->job);
  gboolean ready = !waiting && answer != NULL && answer->error == NULL;
  fw_scale_table_set_stale (FW_SCALE_TABLE (self->table), waiting);
  gtk_widget_set_sensitive (self->open, ready);
  gtk_widget_set_sensitive (self->save, ready);
  if (waiting)
    gtk_spinner_start (GTK_SPINNER (self->spinner));
  else
    gtk_spinner_stop (GTK_SPINNER (self->spinner));
}

static gboolean
on_ask (gpointer data)
{
  Scale *self = data;
  FwDocument *doc = fw_session_document (scale_session (self));
  const char *fault = read_question (self);

  self->typed = 0;
  gtk_label_set_text (GTK_LABEL (self->fault), fault != NULL ? fault : "");
  gtk_widget_set_visible (self->fault, fault != NULL);
  if (doc == NULL)
    return G_SOURCE_REMOVE;
  if (fault == NULL)
    fw_scale_job_ask (self->job, doc, &self->question);
  else
    gtk_spinner_stop (GTK_SPINNER (self->spinner));
  return G_SOURCE_REMOVE;
}

static void
ask_soon (Scale *self)
{
  g_clear_handle_id (&self->typed, g_source_remove);
  self->typed = g_timeout_add (TYPED_MS, on_ask, self);
  scale_wait (self, TRUE);
}

static void
on_arrived (gpointer data)
{
  Scale *self = data;
  fw_scale_table_show (FW_SCALE_TABLE (self->table), fw_scale_job_answer (self->job));
  scale_wait (self, self->typed != 0);
}

/* The span follows the factor, and the other way round. */
static void
on_factor (Scale *self)
{
  if (self->writing)
    return;
  if (read_factor (self) && self->span != NULL)
    {
      g_autofree char *text = fw_units_format (self->flat * self->question.factor, FW_UNIT_MM,
                                               fw_session_lengths (scale_session (self)), 0);
      self->writing = TRUE;
      gtk_editable_set_text (GTK_EDITABLE (self->span), text);
      gtk_widget_remove_css_class (self->span, "error");
      self->writing = FALSE;
    }
  ask_soon (self);
}

static void
on_span (Scale *self)
{
  double mm;
  if (self->writing)
    return;
  if (read_length (self, self->span, &mm) && mm > 0)
    {
      g_autofree char *text = g_strdup_printf ("%.6g", mm / self->flat);
      self->writing = TRUE;
      gtk_editable_set_text (GTK_EDITABLE (self->factor), text);
      self->writing = FALSE;
    }
  ask_soon (self);
}

/* ---- Out ---- */

static void
on_open (Scale *self)
{
  const FwScaleAnswer *answer = fw_scale_job_answer (self->job);
  GtkApplication *app = gtk_window_get_application (GTK_WINDOW (self->window));
  if (answer == NULL || answer->big == NULL || app == NULL)
    return;
  g_autofree char *text = fw_document_to_text (answer->big);
  FwWindow *other = fw_application_add_window (FW_APPLICATION (app), NULL); /* with the look of the others */
  fw_files_open_text (other, text);
  gtk_window_destroy (self->dialog);
  gtk_window_present (GTK_WINDOW (other));
}

static void
on_chosen (const char *path, gpointer data)
{
  g_autoptr (GtkWindow) dialog = data;
  g_autoptr (GError) error = NULL;
  Scale *self = g_object_get_data (G_OBJECT (dialog), "scale");
  FwScaleAnswer *answer = self != NULL ? fw_scale_job_answer (self->job) : NULL;

  if (path == NULL || answer == NULL || answer->big == NULL)
    return;
  if (!fw_document_save (answer->big, path, &error))
    {
      gtk_label_set_text (GTK_LABEL (self->fault), error->message);
      gtk_widget_set_visible (self->fault, TRUE);
      return;
    }
  g_autofree char *name = g_filename_display_name (path);
  /* Translators: %s is a file name */
  g_autofree char *text = g_strdup_printf (_ ("Saved at another size: %s"), name);
  fw_message_bar_note (fw_window_messages (self->window), text);
  gtk_window_destroy (dialog);
}

static void
on_save (Scale *self)
{
  const char *path = fw_session_path (scale_session (self));
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  g_autofree char *name = fw_files_name (self->window);

  if (g_str_has_suffix (name, ".flap"))
    name[strlen (name) - strlen (".flap")] = '\0';
  g_strdelimit (name, "/\\:*?\"<>|\n\t", '-');
  /* Translators: a file name: the design's, and how many times its size. */
  g_autofree char *suggested = g_strdup_printf (_ ("%s %.4g times.flap"), name, self->question.factor);
  const FwChoice choice = { .title = _ ("Save the design at its other size"), .accept = _ ("_Save"), .save = TRUE,
                            .name = suggested, .folder = folder, .filter_name = _ ("Flapwright designs"), .ending = ".flap" };
  fw_choose_file (self->dialog, &choice, on_chosen, g_object_ref (self->dialog));
}

/* ---- Dialog ---- */

static void
scale_free (gpointer data)
{
  Scale *self = data;
  g_clear_handle_id (&self->typed, g_source_remove);
  fw_scale_job_free (self->job);
  g_object_unref (self->window);
  g_free (self);
}

static GtkWidget *
length_entry (Scale *self, const char *name, const char *hint)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 7);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 7);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  fw_left_to_right (entry);
  gtk_widget_set_tooltip_text (entry, name);
  fw_widget_describe (entry, name, _ ("Empty: grows with all else."));
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (ask_soon), self);
  return entry;
}

static void
add_stock (Scale *self, GtkGrid *form, int row, int i)
{
  static const char *const names[4] = { N_ ("S_heet"), N_ ("_Rods"), N_ ("Crank _pipe"), N_ ("P_ost") };
  const char *const sizes[4] = { _ ("Thickness of the sheet"), _ ("Diameter of the rods"), _ ("Diameter of the pipe"),
                                 _ ("Diameter of the post") };
  const char *const walls[4] = { NULL, _ ("Wall of the rods"), _ ("Wall of the pipe"), _ ("Wall of the post") };
  GtkStringList *words = gtk_string_list_new (NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_string_list_append (words, _ ("as it was"));
  for (int k = 1; stocks[i][k] != NULL; k++)
    gtk_string_list_append (words, fw_material_words (stocks[i][k]));
  self->material[i] = fw_form_add (form, row, _ (names[i]), gtk_drop_down_new (G_LIST_MODEL (words), NULL));
  g_signal_connect_swapped (self->material[i], "notify::selected", G_CALLBACK (ask_soon), self);
  self->size[i] = length_entry (self, sizes[i], i == 0 ? C_ ("faint in an empty field", "thick") : C_ ("faint in an empty field", "across"));
  gtk_box_append (GTK_BOX (line), self->size[i]);
  if (walls[i] != NULL)
    {
      self->wall[i] = length_entry (self, walls[i], C_ ("faint in an empty field", "wall"));
      gtk_box_append (GTK_BOX (line), self->wall[i]);
    }
  gtk_grid_attach (form, line, 1, row + 1, 1, 1);
  gtk_widget_set_margin_bottom (line, 6);
}

static GtkWidget *
scale_form (Scale *self)
{
  GtkGrid *form = GTK_GRID (gtk_grid_new ());
  GtkWidget *title = gtk_label_new (_ ("Other stock, in its own sizes"));

  gtk_grid_set_row_spacing (form, 6);
  gtk_grid_set_column_spacing (form, 12);
  self->factor = fw_form_add (form, 0, _ ("_Times the size"), gtk_entry_new ());
  fw_left_to_right (self->factor);
  gtk_entry_set_activates_default (GTK_ENTRY (self->factor), TRUE);
  GtkWidget *explain = fw_explain_button_new (fw_window_session (self->window), GTK_WIDGET (form), fw_explain_find ("size"), FALSE);
  gtk_widget_set_focusable (explain, FALSE); /* F1 has it */
  gtk_grid_attach (form, explain, 2, 0, 1, 1);
  g_signal_connect_swapped (self->factor, "changed", G_CALLBACK (on_factor), self);
  if (self->flat > 0)
    {
      self->span = fw_form_add (form, 1, _ ("Sp_an, all panels flat"), gtk_entry_new ());
      fw_left_to_right (self->span);
      gtk_label_set_wrap (GTK_LABEL (gtk_grid_get_child_at (form, 0, 1)), TRUE); /* long in some languages: what is found stays in sight */
      g_signal_connect_swapped (self->span, "changed", G_CALLBACK (on_span), self);
    }
  self->speed = fw_check_new (_ ("_Keep the turns per minute"), FALSE);
  g_signal_connect_swapped (self->speed, "toggled", G_CALLBACK (ask_soon), self);
  gtk_grid_attach (form, self->speed, 0, 2, 2, 1);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "fw-section");
  gtk_widget_set_margin_top (title, 12);
  gtk_grid_attach (form, title, 0, 3, 2, 1);
  for (int i = 0; i < 4; i++)
    add_stock (self, form, 4 + 2 * i, i);
  self->fault = fw_note_label ("");
  gtk_label_set_max_width_chars (GTK_LABEL (self->fault), 30);
  gtk_widget_add_css_class (self->fault, "error");
  gtk_widget_set_visible (self->fault, FALSE);
  gtk_grid_attach (form, self->fault, 0, 12, 2, 1);
  gtk_widget_set_hexpand (GTK_WIDGET (form), FALSE); /* what is found has the room */
  return GTK_WIDGET (form);
}

static GtkWidget *
scale_buttons (Scale *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *close = fw_button_new (_ ("_Close"));

  self->spinner = gtk_spinner_new ();
  self->save = fw_button_new (_ ("_Save as…"));
  self->open = fw_button_new (_ ("Open as _new design"));
  gtk_widget_add_css_class (self->open, "suggested-action");
  gtk_widget_set_hexpand (self->spinner, TRUE);
  gtk_widget_set_halign (self->spinner, GTK_ALIGN_START);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (gtk_window_close), self->dialog);
  g_signal_connect_swapped (self->save, "clicked", G_CALLBACK (on_save), self);
  g_signal_connect_swapped (self->open, "clicked", G_CALLBACK (on_open), self);
  gtk_box_append (GTK_BOX (row), self->spinner);
  gtk_box_append (GTK_BOX (row), close);
  gtk_box_append (GTK_BOX (row), self->save);
  gtk_box_append (GTK_BOX (row), self->open);
  return row;
}

static GtkWidget *
scale_page (Scale *self)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18), *halves = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);
  GtkWidget *scroll = gtk_scrolled_window_new ();

  self->table = fw_scale_table_new (fw_session_lengths (scale_session (self)), fw_session_theme (scale_session (self)));
  gtk_widget_set_hexpand (self->table, TRUE);
  gtk_widget_set_margin_end (self->table, 12);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroll, _ ("Now and then"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), self->table);
  gtk_widget_set_hexpand (scroll, TRUE);
  gtk_widget_set_vexpand (scroll, TRUE);
  gtk_box_append (GTK_BOX (halves), scale_form (self));
  gtk_box_append (GTK_BOX (halves), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (halves), scroll);
  gtk_box_append (GTK_BOX (page), halves);
  gtk_box_append (GTK_BOX (page), scale_buttons (self));
  gtk_widget_add_css_class (page, "fw-page");
  return page;
}

void
fw_scale_dialog_show (FwWindow *window)
{
  Scale *self = g_new0 (Scale, 1);
  int height = gtk_widget_get_height (GTK_WIDGET (window));
  /* Large words want more, as far as the window goes. */
  double width = fmin (940 * fmax (fw_desktop_text (), 1), fmax (940, 0.96 * gtk_widget_get_width (GTK_WIDGET (window))));

  self->window = g_object_ref (window);
  self->dialog = fw_dialog_new (GTK_WINDOW (window), _ ("Another size"));
  fw_explain_take_key (GTK_WIDGET (self->dialog));
  self->job = fw_scale_job_new (on_arrived, self);
  self->flat = fw_flat_span (fw_document_design (fw_session_document (scale_session (self))));
  g_object_set_data_full (G_OBJECT (self->dialog), "scale", self, scale_free);
  gtk_window_set_child (self->dialog, scale_page (self));
  gtk_editable_set_text (GTK_EDITABLE (self->factor), "2");
  gtk_window_set_default_size (self->dialog, (int) width, CLAMP (height * 9 / 10, 520, 760));
  gtk_window_set_default_widget (self->dialog, self->open);
  gtk_widget_grab_focus (self->factor);
  gtk_window_present (self->dialog);
}
