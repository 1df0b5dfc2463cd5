#include "app/aimpage.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/aimedits.h"
#include "app/aimghosts.h"
#include "app/aimjob.h"
#include "app/aimrows.h"
#include "app/widgetstyle.h"

#define LOOK_MS 80

struct _FwAimPage
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *add, *wishes, *no_wishes, *fault, *numbers, *no_numbers;
  GtkWidget *scroller, *start, *progress, *status, *answers_heading, *answers, *apply;
  const FwDocument *document; /* last seen; only compared */
  char *told;                 /* what the rows were made of */
  guint look;                 /* timeout */
  guint fill;                 /* idle: rows are not taken away while one of them is at work */
  guint scroll;               /* timeout: brings the answers into sight */

  FwAimJob *job;
  FwAimed *aimed;             /* answers shown */
  FwDesign *run_design;       /* that they were sought from */
  FwWishes *run_wishes;
};

G_DEFINE_FINAL_TYPE (FwAimPage, fw_aim_page, GTK_TYPE_WIDGET)

static const FwDesign *
page_design (FwAimPage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  return doc != NULL ? fw_document_design (doc) : NULL;
}

static void
drop_rows (GtkWidget *box)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

/* A row in which something is typed loses the keyboard as it goes. */
static void
page_let_go_numbers (FwAimPage *self)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->numbers); row != NULL; row = gtk_widget_get_next_sibling (row))
    fw_aim_free_row_let_go (row);
}

/* ---- How the design stands to the wishes ---- */

static FwAimed *
page_look (FwAimPage *self, GError **error)
{
  int n;
  const FwDesign *design = page_design (self);
  const FwParam *params = fw_session_params (self->session, &n);
  FwWishes *wishes = fw_wishes_copy (fw_session_wishes (self->session));
  if (wishes->n_free == 0 && n > 0) /* the present state can be looked at all the same */
    fw_wishes_add_free (wishes, (FwFree) { .number = fw_param_path (design, params[0]), .least = NAN, .most = NAN });
  FwAimed *now = fw_aim_look (design, wishes, error);
  fw_wishes_free (wishes);
  return now;
}

static gboolean
on_look (gpointer data)
{
  FwAimPage *self = data;
  const FwWishes *wishes = fw_session_wishes (self->session);
  g_autoptr (GError) error = NULL;

  self->look = 0;
  FwAimed *now = wishes->n_list > 0 && page_design (self) != NULL ? page_look (self, &error) : NULL;
  GtkWidget *row = gtk_widget_get_first_child (self->wishes);
  for (int i = 0; i < wishes->n_list && row != NULL; i++, row = gtk_widget_get_next_sibling (row))
    fw_aim_wish_row_set (row, &wishes->list[i], now != NULL && now->n_answers > 0 ? &now->answers[0].got[i] : NULL);
  gtk_label_set_text (GTK_LABEL (self->fault), error != NULL ? error->message : "");
  gtk_widget_set_visible (self->fault, error != NULL);
  if (now != NULL)
    fw_aimed_free (now);
  return G_SOURCE_REMOVE;
}

static void
page_look_soon (FwAimPage *self)
{
  if (self->look == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->look = g_timeout_add (LOOK_MS, on_look, self);
}

/* ---- Rows of wishes and numbers ---- */

static char *
page_key (FwAimPage *self, const FwWishes *wishes)
{
  GString *key = g_string_new (NULL);
  FwLengths lengths = fw_session_lengths (self->session);
  for (int i = 0; i < wishes->n_list; i++)
    {
      g_autofree char *words = fw_wish_words (&wishes->list[i], lengths);
      g_string_append_printf (key, "%s %g\n", words, wishes->list[i].weight);
    }
  for (int i = 0; i < wishes->n_free; i++)
    g_string_append_printf (key, "%s %.9g %.9g %d %d\n", wishes->free[i].number, wishes->free[i].least, wishes->free[i].most,
                            wishes->free[i].n_among, (int) lengths);
  return g_string_free (key, FALSE);
}

static void
page_update_start (FwAimPage *self)
{
  const FwWishes *wishes = fw_session_wishes (self->session);
  gboolean ready = wishes->n_list > 0 && wishes->n_free > 0, running = fw_aim_job_running (self->job);
  gtk_widget_set_sensitive (self->start, running || ready);
  gtk_button_set_label (GTK_BUTTON (self->start), running ? C_ ("end a search", "Stop") : _ ("Search"));
  fw_widget_describe (self->start, running ? _ ("Stop the search") : _ ("Search for numbers that do it"), NULL);
  gtk_widget_set_visible (self->progress, running);
}

static void
page_fill (FwAimPage *self)
{
  const FwWishes *wishes = fw_session_wishes (self->session);
  g_autofree char *key = page_key (self, wishes);
  gboolean open = page_design (self) != NULL;
  if (g_strcmp0 (key, self->told) == 0)
    return;
  g_free (self->told);
  self->told = g_steal_pointer (&key);
  page_let_go_numbers (self);
  drop_rows (self->wishes);
  drop_rows (self->numbers);
  for (int i = 0; open && i < wishes->n_list; i++)
    gtk_box_append (GTK_BOX (self->wishes), fw_aim_wish_row_new (self->session, i));
  for (int i = 0; open && i < wishes->n_free; i++)
    gtk_box_append (GTK_BOX (self->numbers), fw_aim_free_row_new (self->session, i));
  gtk_widget_set_visible (self->no_wishes, wishes->n_list == 0);
  gtk_widget_set_visible (self->no_numbers, wishes->n_free == 0);
  page_update_start (self);
}

static gboolean
on_fill (gpointer data)
{
  FwAimPage *self = data;
  self->fill = 0;
  page_fill (self);
  page_look_soon (self);
  return G_SOURCE_REMOVE;
}

static void
page_fill_soon (FwAimPage *self)
{
  if (self->fill == 0)
    self->fill = g_idle_add (on_fill, self);
}

/* A panel that was pulled is shown while it is wished for. */
static void
page_drop_pull (FwAimPage *self)
{
  const FwWishes *wishes = fw_session_wishes (self->session);
  double crank = fw_session_crank (self->session) * 180 / G_PI;
  for (int i = 0; i < wishes->n_list; i++)
    if (wishes->list[i].kind == FW_WISH_ANGLE && fabs (wishes->list[i].crank_deg - crank) < 0.06)
      return;
  fw_session_pull_ghost (self->session, -1, 0, NULL);
}

/* ---- Answers ---- */

static void
page_clear_answers (FwAimPage *self)
{
  GtkWidget *row;
  while ((row = gtk_widget_get_first_child (self->answers)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->answers), row);
  if (self->aimed != NULL)
    fw_aimed_free (self->aimed);
  self->aimed = NULL;
  gtk_widget_set_visible (self->answers_heading, FALSE);
  gtk_widget_set_visible (self->answers, FALSE);
  gtk_widget_set_visible (self->apply, FALSE);
}

static int
page_chosen (FwAimPage *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->answers));
  return row != NULL && self->aimed != NULL ? gtk_list_box_row_get_index (row) : -1;
}

/* Whether the design is still the one that answers are or were sought from, but for the numbers that were free. */
static gboolean
page_run_fits (FwAimPage *self)
{
  const FwDesign *design = page_design (self);
  int n;
  const FwParam *params = fw_session_params (self->session, &n);
  if (design == NULL || n != fw_design_params (self->run_design, NULL, 0))
    return FALSE;
  for (int i = 0; i < n; i++)
    {
      gboolean free = FALSE;
      FwParam param;
      if (fw_param_get (design, params[i]) == fw_param_get (self->run_design, params[i]))
        continue;
      for (int k = 0; k < self->run_wishes->n_free && !free; k++)
        free = fw_param_from_path (design, self->run_wishes->free[k].number, &param) && fw_param_equal (param, params[i]);
      if (!free)
        return FALSE;
    }
  return TRUE;
}

static void
on_answer (FwAimPage *self)
{
  int at = page_chosen (self);
  gtk_widget_set_sensitive (self->apply, at >= 0);
  if (at < 0)
    return;
  g_autofree char *name = g_strdup_printf (_ ("Answer %d"), at + 1);
  fw_session_set_ghost (self->session, FW_GHOST_ANSWER, self->aimed->answers[at].design, name);
}

static void
on_apply (FwAimPage *self)
{
  int at = page_chosen (self), n = 0;
  if (at < 0)
    return;
  g_autofree FwChange *changes = fw_answer_changes (self->aimed, at, page_design (self), self->run_wishes, &n);
  fw_session_end_merge (self->session);
  if (!fw_session_change (self->session, changes, n, _ ("Aimed at wishes"), NULL))
    return;
  fw_session_set_ghost (self->session, FW_GHOST_ANSWER, NULL, NULL);
  fw_session_say (self->session, _ ("Answer %d applied; undo takes it back"), at + 1);
}

/* Away with answers and ghost. */
static void
on_clear (FwAimPage *self)
{
  page_clear_answers (self);
  gtk_label_set_text (GTK_LABEL (self->status), "");
  fw_session_set_ghost (self->session, FW_GHOST_ANSWER, NULL, NULL);
}

/* They have their size after the next layout. */
static gboolean
on_answers_laid (gpointer data)
{
  FwAimPage *self = data;
  graphene_rect_t bounds;
  GtkWidget *column = gtk_widget_get_parent (self->answers);
  self->scroll = 0;
  if (gtk_widget_compute_bounds (self->answers_heading, column, &bounds))
    gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), bounds.origin.y);
  return G_SOURCE_REMOVE;
}

static void
page_show_answers (FwAimPage *self)
{
  const FwDesign *design = self->run_design;
  for (int i = 0; i < self->aimed->n_answers; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->answers), fw_aim_answer_row_new (self->session, self->aimed, i, design, self->run_wishes));
  gboolean any = self->aimed->n_answers > 0;
  gtk_widget_set_visible (self->answers_heading, any);
  gtk_widget_set_visible (self->answers, any);
  gtk_widget_set_visible (self->apply, any);
  gtk_list_box_select_row (GTK_LIST_BOX (self->answers), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->answers), 0));
  on_answer (self);
  g_clear_handle_id (&self->scroll, g_source_remove);
  self->scroll = g_timeout_add (120, on_answers_laid, self);
}

/* ---- The search ---- */

static void
on_progress (gpointer data, double fraction, double cost, const FwDesign *best)
{
  FwAimPage *self = data;
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), CLAMP (fraction, 0, 1));
  if (best == NULL)
    return;
  g_autofree char *words = cost < 1e-6 ? g_strdup (_ ("Every wish can be met; looking for other ways…"))
                                       : g_strdup_printf (_ ("Searching; the best so far misses by %.3g"), sqrt (cost));
  gtk_label_set_text (GTK_LABEL (self->status), words);
  fw_session_set_ghost (self->session, FW_GHOST_ANSWER, best, _ ("best so far"));
}

static char *
done_words (FwAimPage *self)
{
  g_autofree char *cannot = fw_aimed_words (self->aimed, self->run_design, self->run_wishes, fw_session_lengths (self->session));
  if (self->aimed->n_answers == 0)
    return g_strdup (_ ("Stopped before anything was found."));
  if (cannot != NULL)
    return g_steal_pointer (&cannot);
  return g_strdup_printf (ngettext ("%d answer that meets every wish.", "%d unlike answers that meet every wish.", self->aimed->n_answers),
                          self->aimed->n_answers);
}

static void
on_done (gpointer data, FwAimed *aimed, const char *message)
{
  FwAimPage *self = data;
  self->aimed = aimed;
  g_autofree char *words = aimed != NULL ? done_words (self) : g_strdup (message);
  gtk_label_set_text (GTK_LABEL (self->status), words);
  if (aimed != NULL && aimed->n_answers > 0)
    page_show_answers (self);
  else
    fw_session_set_ghost (self->session, FW_GHOST_ANSWER, NULL, NULL);
  page_update_start (self);
}

static void
on_start (FwAimPage *self)
{
  if (fw_aim_job_running (self->job))
    {
      fw_aim_job_stop (self->job);
      gtk_label_set_text (GTK_LABEL (self->status), _ ("Stopping…"));
      return;
    }
  on_clear (self);
  fw_design_free (self->run_design);
  g_clear_pointer (&self->run_wishes, fw_wishes_free);
  self->run_design = fw_design_copy (page_design (self));
  self->run_wishes = fw_wishes_copy (fw_session_wishes (self->session));
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), 0);
  gtk_label_set_text (GTK_LABEL (self->status), _ ("Searching…"));
  fw_aim_job_start (self->job, self->run_design, self->run_wishes);
  page_update_start (self);
}

/* ---- What the session says ---- */

static void
page_take_document (FwAimPage *self, const FwDocument *doc)
{
  if (doc == self->document)
    return;
  self->document = doc;
  fw_aim_job_forget (self->job);
  page_clear_answers (self);
  gtk_label_set_text (GTK_LABEL (self->status), "");
  page_update_start (self);
}

/* Answers, there or on their way, that are of another design by now. */
static void
page_forget_run (FwAimPage *self)
{
  fw_aim_job_forget (self->job);
  page_clear_answers (self);
  gtk_label_set_text (GTK_LABEL (self->status), _ ("The design has changed since; search again."));
  fw_session_set_ghost (self->session, FW_GHOST_ANSWER, NULL, NULL);
}

static void
on_design (FwAimPage *self)
{
  page_take_document (self, fw_session_document (self->session));
  gtk_widget_set_sensitive (self->add, self->document != NULL);
  page_fill_soon (self);
  page_drop_pull (self);
  if ((self->aimed != NULL || fw_aim_job_running (self->job)) && !page_run_fits (self))
    page_forget_run (self);
  page_update_start (self);
}

static void
on_display (FwAimPage *self)
{
  page_fill_soon (self);
}

/* ---- Object ---- */

static void
aim_page_dispose (GObject *object)
{
  FwAimPage *self = FW_AIM_PAGE (object);

  g_clear_handle_id (&self->look, g_source_remove);
  g_clear_handle_id (&self->scroll, g_source_remove);
  g_clear_handle_id (&self->fill, g_source_remove);
  g_clear_pointer (&self->job, fw_aim_job_free);
  if (self->numbers != NULL)
    page_let_go_numbers (self);
  self->numbers = NULL;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_pointer (&self->aimed, fw_aimed_free);
  g_clear_pointer (&self->run_design, fw_design_free);
  g_clear_pointer (&self->run_wishes, fw_wishes_free);
  g_clear_pointer (&self->told, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_aim_page_parent_class)->dispose (object);
}

static void
fw_aim_page_class_init (FwAimPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = aim_page_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "aim-page");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_aim_page_init (FwAimPage *self)
{
  fw_widget_style_add ();
  fw_widget_describe (GTK_WIDGET (self), _ ("Wishes"), NULL);
}

static GtkWidget *
heading (const char *title, GtkWidget *control)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (title);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (row), label);
  if (control != NULL)
    gtk_box_append (GTK_BOX (row), control);
  return row;
}

static GtkWidget *
quiet_note (const char *words)
{
  GtkWidget *note = fw_note_label (words);
  gtk_widget_add_css_class (note, "dim-label");
  return note;
}

static GtkWidget *
page_search (FwAimPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->start = gtk_button_new_with_label (_ ("Search"));
  self->progress = gtk_progress_bar_new ();
  self->status = g_object_new (GTK_TYPE_LABEL, "accessible-role", GTK_ACCESSIBLE_ROLE_STATUS, NULL);
  gtk_label_set_wrap (GTK_LABEL (self->status), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->status), 0);
  gtk_widget_add_css_class (self->start, "suggested-action");
  gtk_widget_set_hexpand (self->progress, TRUE);
  gtk_widget_set_valign (self->progress, GTK_ALIGN_CENTER);
  fw_widget_describe (self->progress, _ ("How far the search is"), NULL);
  g_signal_connect_swapped (self->start, "clicked", G_CALLBACK (on_start), self);
  gtk_box_append (GTK_BOX (row), self->start);
  gtk_box_append (GTK_BOX (row), self->progress);
  gtk_box_append (GTK_BOX (box), row);
  gtk_box_append (GTK_BOX (box), self->status);
  return box;
}

static void
page_add_answers (FwAimPage *self, GtkWidget *column)
{
  GtkWidget *clear = gtk_button_new_from_icon_name ("edit-clear-symbolic");
  gtk_widget_add_css_class (clear, "flat");
  gtk_widget_set_tooltip_text (clear, _ ("Clear the answers and their ghost"));
  fw_widget_describe (clear, _ ("Clear the answers and their ghost"), NULL);
  g_signal_connect_swapped (clear, "clicked", G_CALLBACK (on_clear), self);
  self->answers_heading = heading (_ ("Answers"), clear);
  self->answers = gtk_list_box_new ();
  gtk_widget_add_css_class (self->answers, "trouble-list");
  fw_widget_describe (self->answers, _ ("Answers, best first"), NULL);
  g_signal_connect_swapped (self->answers, "row-selected", G_CALLBACK (on_answer), self);
  self->apply = gtk_button_new_with_label (_ ("Apply this answer"));
  g_signal_connect_swapped (self->apply, "clicked", G_CALLBACK (on_apply), self);
  gtk_box_append (GTK_BOX (column), self->answers_heading);
  gtk_box_append (GTK_BOX (column), self->answers);
  gtk_box_append (GTK_BOX (column), self->apply);
}

static void
page_add_children (FwAimPage *self)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *search = page_search (self);

  self->scroller = gtk_scrolled_window_new ();
  gtk_widget_add_css_class (column, "aim-column");
  gtk_widget_add_css_class (search, "aim-column");
  gtk_widget_add_css_class (search, "aim-search");
  self->add = fw_aim_chooser_new (self->session);
  self->wishes = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  self->no_wishes = quiet_note (_ ("Say what the motion should be: the top of a wing, how far it travels, how firmly "
                                     "it is pushed. Or drag a panel in a view to where it should be."));
  self->fault = fw_note_label ("");
  gtk_widget_add_css_class (self->fault, "error");
  gtk_widget_set_visible (self->fault, FALSE);
  self->numbers = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  self->no_numbers = quiet_note (_ ("Choose the numbers that may change for it; all others stay."));
  gtk_box_append (GTK_BOX (column), heading (_ ("Wishes"), self->add));
  gtk_box_append (GTK_BOX (column), self->no_wishes);
  gtk_box_append (GTK_BOX (column), self->wishes);
  gtk_box_append (GTK_BOX (column), self->fault);
  gtk_box_append (GTK_BOX (column), heading (_ ("May change"), fw_aim_number_chooser_new (self->session)));
  gtk_box_append (GTK_BOX (column), self->no_numbers);
  gtk_box_append (GTK_BOX (column), self->numbers);
  page_add_answers (self, column);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (self->scroller, _ ("Wishes"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), column);
  gtk_widget_set_vexpand (self->scroller, TRUE);
  gtk_box_append (GTK_BOX (all), self->scroller);
  gtk_box_append (GTK_BOX (all), search);
  gtk_widget_set_parent (all, GTK_WIDGET (self));
}

GtkWidget *
fw_aim_page_new (FwSession *session)
{
  static const FwAimCalls calls = { on_progress, on_done };
  FwAimPage *self = g_object_new (FW_TYPE_AIM_PAGE, NULL);

  self->session = g_object_ref (session);
  self->job = fw_aim_job_new (&calls, self);
  page_add_children (self);
  page_clear_answers (self);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  g_signal_connect (self, "map", G_CALLBACK (page_look_soon), NULL);
  page_update_start (self);
  on_design (self);
  return GTK_WIDGET (self);
}

void
fw_aim_page_focus (FwAimPage *self)
{
  g_return_if_fail (FW_IS_AIM_PAGE (self));
  gtk_widget_grab_focus (self->add);
}
