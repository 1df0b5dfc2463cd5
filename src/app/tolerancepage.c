#include "app/tolerancepage.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/explain.h"
#include "app/tolerancejob.h"
#include "app/tolerancerow.h"
#include "app/tolerancesession.h"
#include "app/widgetstyle.h"
#include "doc/spread.h"

#define REST_MS 350
#define LOOK_MS 100

static const int sets[] = { 1000, 10000, 100000, 1000000 };

struct _FwTolerancePage
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  FwToleranceJob *job;
  GtkWidget *odds, *odds_of, *sure, *fine, *progress, *stop, *state, *kinds, *list, *sets, *scroll;
  guint rest, look;       /* timeouts */
  guint64 serial;         /* of the document that was asked about; 0: none was */
  const FwDocument *doc;  /* last seen; only compared */
  gboolean asked, unsorted;
  gboolean unfilled;      /* the rows are made, or made right, when the page comes into sight */
  GArray *params;         /* FwParam: those of the rows */
  FwSpreadBand *bands;    /* of the job's result; g_free */
};

G_DEFINE_FINAL_TYPE (FwTolerancePage, fw_tolerance_page, GTK_TYPE_WIDGET)

enum { NUMBER, CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* ---- What is known ---- */

/* What is out of date stays, pale, until the new answer is there. */
static void
page_set_stale (FwTolerancePage *self, gboolean stale)
{
  GtkWidget *const widgets[] = { self->odds, self->odds_of, self->sure, self->fine, self->kinds };
  for (gsize i = 0; i < G_N_ELEMENTS (widgets); i++)
    gtk_widget_set_opacity (widgets[i], stale ? 0.45 : 1);
}

/* As the choice of sets is written: the mark between thousands stands in its translation. */
static char *
grouped (int n)
{
  const char *thousand = _ ("1,000");
  g_autofree char *mark = g_strndup (thousand + 1, MAX (strlen (thousand), 4) - 4), *head = n < 1000 ? NULL : grouped (n / 1000);
  return head == NULL ? g_strdup_printf ("%d", n) : g_strdup_printf ("%s%s%03d", head, mark, n % 1000);
}

static void
page_say_odds (FwTolerancePage *self, const FwTolerance *t)
{
  if (t == NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->odds), "–");
      /* Translators: stands under a large percentage. */
      gtk_label_set_text (GTK_LABEL (self->odds_of), _ ("of all sets of pieces go round"));
      gtk_label_set_text (GTK_LABEL (self->sure), "");
      gtk_label_set_text (GTK_LABEL (self->fine), "");
      return;
    }
  double low, high;
  fw_share_interval (t->goes_round, t->runs, &low, &high);
  g_autofree char *odds = fw_tolerance_percent ((double) t->goes_round / t->runs, 1);
  g_autofree char *fine = fw_tolerance_percent ((double) t->fine / t->runs, 1);
  g_autofree char *a = fw_tolerance_percent (low, 2), *b = fw_tolerance_percent (high, 2);
  g_autofree char *runs = grouped (t->runs);
  /* Translators: stands under a large percentage; %s is a whole number, which chooses the form. */
  g_autofree char *of = g_strdup_printf (ngettext ("of %s set of pieces goes round", "of %s sets of pieces go round", (gulong) t->runs),
                                         runs);
  g_autofree char *sure = g_strdup_printf (_ ("95 %% sure: %s to %s"), a, b);
  /* Translators: %s is a percentage. */
  g_autofree char *free_of = g_strdup_printf (_ ("%s go round free of trouble"), fine);

  gtk_label_set_text (GTK_LABEL (self->odds), odds);
  gtk_label_set_text (GTK_LABEL (self->odds_of), of);
  gtk_label_set_text (GTK_LABEL (self->sure), sure);
  gtk_label_set_text (GTK_LABEL (self->fine), free_of);
}

static FwToleranceRow *
page_row (FwTolerancePage *self, int i)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), i);
  return row == NULL ? NULL : FW_TOLERANCE_ROW (row);
}

static FwToleranceShare
share_of (const FwTolerance *t, FwParam param)
{
  FwToleranceShare share = { .known = t != NULL };
  for (int i = 0; t != NULL && i < t->n_causes; i++)
    if (fw_param_equal (t->causes[i].param, param))
      {
        share.share[t->causes[i].side > 0 ? 0 : t->causes[i].side < 0 ? 2 : 1] += t->causes[i].share;
        share.stops += t->causes[i].stops;
      }
  return share;
}

/* Rows keep their places while a hand is on them: else one would press what has just slid under it. */
static void
page_sort (FwTolerancePage *self)
{
  const GtkStateFlags hands = GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUS_WITHIN;
  if (self->unsorted && !(gtk_widget_get_state_flags (self->list) & hands))
    {
      self->unsorted = FALSE;
      gtk_list_box_invalidate_sort (GTK_LIST_BOX (self->list));
    }
}

static void
page_say_shares (FwTolerancePage *self, const FwTolerance *t)
{
  FwToleranceRow *row;
  double most = 0;
  for (int i = 0; (row = page_row (self, i)) != NULL; i++)
    {
      FwToleranceShare share = share_of (t, fw_tolerance_row_param (row));
      most = fmax (most, share.share[0] + share.share[1] + share.share[2]);
    }
  for (int i = 0; (row = page_row (self, i)) != NULL; i++)
    {
      FwToleranceShare share = share_of (t, fw_tolerance_row_param (row));
      share.most = most;
      fw_tolerance_row_set_share (row, &share);
    }
  self->unsorted = self->unsorted || t != NULL;
  page_sort (self);
}

static void
page_say_state (FwTolerancePage *self)
{
  const FwTolerance *t = fw_tolerance_job_result (self->job);
  gboolean running = fw_tolerance_job_running (self->job);

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), fw_tolerance_job_fraction (self->job));
  gtk_widget_set_opacity (self->progress, running ? 1 : 0);
  gtk_button_set_label (GTK_BUTTON (self->stop), running ? C_ ("end a search", "Stop") : _ ("Draw again"));
  gtk_label_set_text (GTK_LABEL (self->state), running                      ? _ ("Drawing sets of pieces…")
                                               : t != NULL && t->stopped    ? _ ("Stopped: this is what was drawn so far.")
                                               : t == NULL && self->asked   ? _ ("Stopped before anything was known.")
                                                                            : "");
  gtk_widget_set_visible (self->state, *gtk_label_get_text (GTK_LABEL (self->state)) != '\0');
}

static void
page_show_bands (FwTolerancePage *self, const FwTolerance *t)
{
  g_autofree FwSpreadBand *before = self->bands;
  int n = t == NULL ? 0 : t->n_bands;

  self->bands = g_new0 (FwSpreadBand, MAX (n, 1));
  for (int i = 0; i < n; i++)
    self->bands[i] = (FwSpreadBand) { t->bands[i].quantity, FW_TOLERANCE_STEPS, t->bands[i].low, t->bands[i].middle,
                                      t->bands[i].high };
  fw_session_take_spreads (self->session, self->bands, n);
}

static void
on_arrived (gpointer data)
{
  FwTolerancePage *self = data;
  const FwTolerance *t = fw_tolerance_job_result (self->job);

  page_set_stale (self, FALSE);
  page_show_bands (self, t);
  page_say_odds (self, t);
  fw_tolerance_kinds_fill (self->kinds, t);
  page_say_shares (self, t);
  page_say_state (self);
}

/* ---- Asking ---- */

static gboolean
on_look (gpointer data)
{
  FwTolerancePage *self = data;
  page_say_state (self);
  if (fw_tolerance_job_running (self->job))
    return G_SOURCE_CONTINUE;
  self->look = 0;
  return G_SOURCE_REMOVE;
}

static void
page_start (FwTolerancePage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  int n;

  if (doc == NULL)
    return;
  g_autofree FwChange *stated = fw_spreads (doc, &n);
  g_autofree FwSpread *spreads = g_new0 (FwSpread, MAX (n, 1));
  for (int i = 0; i < n; i++)
    spreads[i] = (FwSpread) { stated[i].param, stated[i].value };
  self->asked = TRUE;
  self->serial = fw_document_serial (doc);
  fw_session_take_spreads (self->session, NULL, 0);
  fw_tolerance_job_start (self->job, fw_document_design (doc), spreads, n,
                          sets[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sets))]);
  if (self->look == 0)
    self->look = g_timeout_add (LOOK_MS, on_look, self);
  page_say_state (self);
}

static gboolean
page_is_seen (FwTolerancePage *self)
{
  return gtk_widget_get_mapped (GTK_WIDGET (self)) || (fw_session_show (self->session) & FW_SHOW_SPREAD) != 0;
}

static gboolean
on_rest (gpointer data)
{
  FwTolerancePage *self = data;
  if (fw_session_dragging (self->session))
    return G_SOURCE_CONTINUE;
  self->rest = 0;
  page_start (self);
  return G_SOURCE_REMOVE;
}

static gboolean
page_is_new (FwTolerancePage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  return doc != NULL && fw_document_serial (doc) != self->serial;
}

static void
page_ask_soon (FwTolerancePage *self)
{
  if (!page_is_new (self) || !page_is_seen (self))
    return;
  g_clear_handle_id (&self->rest, g_source_remove);
  self->rest = g_timeout_add (self->asked ? REST_MS : 1, on_rest, self);
}

/* ---- Rows ---- */

static double
spread_of (const FwDesign *design, const FwChange *stated, int n, FwParam param, gboolean *is_stated)
{
  for (int i = 0; i < n; i++)
    if (fw_param_equal (stated[i].param, param))
      {
        *is_stated = TRUE;
        return stated[i].value;
      }
  *is_stated = FALSE;
  return fw_spread_default (design, param);
}

/* Numbers that are made, and those whose spread is stated. */
static GArray *
made_numbers (FwTolerancePage *self, const FwChange *stated, int n_stated)
{
  const FwDesign *design = fw_document_design (fw_session_document (self->session));
  GArray *list = g_array_new (FALSE, FALSE, sizeof (FwParam));
  int n;
  const FwParam *params = fw_session_params (self->session, &n);
  gboolean is_stated;
  for (int i = 0; i < n; i++)
    if (spread_of (design, stated, n_stated, params[i], &is_stated) > 0 || is_stated)
      g_array_append_val (list, params[i]);
  return list;
}

static gboolean
same_numbers (const GArray *a, const GArray *b)
{
  if (a == NULL || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    if (!fw_param_equal (g_array_index (a, FwParam, i), g_array_index (b, FwParam, i)))
      return FALSE;
  return TRUE;
}

/* A row in which something is typed loses the keyboard as it goes. */
static void
page_let_go_rows (FwTolerancePage *self)
{
  FwToleranceRow *row;
  for (int i = 0; (row = page_row (self, i)) != NULL; i++)
    fw_tolerance_row_let_go (row);
}

static void
page_drop_rows (FwTolerancePage *self)
{
  FwToleranceRow *row;
  page_let_go_rows (self);
  while ((row = page_row (self, 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  g_clear_pointer (&self->params, g_array_unref);
}

static void
page_fill (FwTolerancePage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  gboolean is_stated;
  int n;
  if (doc == NULL)
    return;
  g_autofree FwChange *stated = fw_spreads (doc, &n);
  GArray *numbers = made_numbers (self, stated, n);
  if (!same_numbers (self->params, numbers))
    {
      page_drop_rows (self);
      for (guint i = 0; i < numbers->len; i++)
        gtk_list_box_append (GTK_LIST_BOX (self->list),
                             fw_tolerance_row_new (self->session, g_array_index (numbers, FwParam, i)));
    }
  g_clear_pointer (&self->params, g_array_unref);
  self->params = numbers;
  self->unfilled = FALSE;
  FwToleranceRow *row;
  for (int i = 0; (row = page_row (self, i)) != NULL; i++)
    {
      double spread = spread_of (fw_document_design (doc), stated, n, fw_tolerance_row_param (row), &is_stated);
      fw_tolerance_row_set_spread (row, spread, is_stated);
    }
}

static int
by_share (GtkListBoxRow *a, GtkListBoxRow *b, gpointer data)
{
  double x = fw_tolerance_row_share (FW_TOLERANCE_ROW (a)), y = fw_tolerance_row_share (FW_TOLERANCE_ROW (b));
  return (x < y) - (x > y);
}

static void
on_row (GtkListBox *list, GtkListBoxRow *row, FwTolerancePage *self)
{
  FwDocument *doc = fw_session_document (self->session);
  if (doc == NULL)
    return;
  g_autofree char *name = fw_param_label (fw_document_design (doc), fw_tolerance_row_param (FW_TOLERANCE_ROW (row)));
  g_signal_emit (self, signals[NUMBER], 0, name);
}

/* ---- What the session says ---- */

static void
on_design (FwTolerancePage *self)
{
  gboolean another = fw_session_document (self->session) != self->doc;

  self->doc = fw_session_document (self->session);
  if (page_is_new (self))
    {
      fw_tolerance_job_forget (self->job);
      page_set_stale (self, TRUE);
      if (another)
        page_drop_rows (self);
      self->unfilled = TRUE; /* while nobody sees them rows wait */
      if (gtk_widget_get_mapped (GTK_WIDGET (self)))
        page_fill (self);
      if (another)
        on_arrived (self);
    }
  page_ask_soon (self);
}

static void
on_display (FwTolerancePage *self)
{
  gtk_widget_queue_draw (self->list);
  page_ask_soon (self);
}

static void
on_stop (FwTolerancePage *self)
{
  if (fw_tolerance_job_running (self->job))
    fw_tolerance_job_stop (self->job);
  else
    page_start (self);
}

static void
on_sets (FwTolerancePage *self)
{
  if (self->asked)
    page_start (self);
}

/* ---- Object ---- */

static void
page_map (GtkWidget *widget)
{
  FwTolerancePage *self = FW_TOLERANCE_PAGE (widget);

  GTK_WIDGET_CLASS (fw_tolerance_page_parent_class)->map (widget);
  if (self->unfilled)
    {
      page_fill (self);
      page_say_shares (self, fw_tolerance_job_result (self->job));
    }
  page_ask_soon (self);
}

static void
page_dispose (GObject *object)
{
  FwTolerancePage *self = FW_TOLERANCE_PAGE (object);

  g_clear_handle_id (&self->rest, g_source_remove);
  g_clear_handle_id (&self->look, g_source_remove);
  if (self->session != NULL)
    fw_session_take_spreads (self->session, NULL, 0);
  g_clear_pointer (&self->job, fw_tolerance_job_free);
  if (self->list != NULL)
    page_let_go_rows (self);
  self->list = NULL;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_pointer (&self->params, g_array_unref);
  g_clear_pointer (&self->bands, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_tolerance_page_parent_class)->dispose (object);
}

static void
fw_tolerance_page_class_init (FwTolerancePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = page_dispose;
  widget_class->map = page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "tolerance-page");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[NUMBER] = g_signal_new ("number", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                  G_TYPE_STRING);
  signals[CLOSED] = g_signal_new ("closed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fw_tolerance_page_init (FwTolerancePage *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  fw_widget_style_add ();
  fw_widget_describe (GTK_WIDGET (self), _ ("Made by hand"), NULL);
}

static GtkWidget *
page_label (GtkWidget *box, const char *style)
{
  GtkWidget *label = fw_note_label ("");
  gtk_widget_remove_css_class (label, "note");
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static GtkWidget *
page_controls (FwTolerancePage *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *of = gtk_label_new_with_mnemonic (_ ("S_ets"));
  /* Translators: whole numbers, with the mark between thousands that your language uses. */
  const char *words[] = { _ ("1,000"), _ ("10,000"), _ ("100,000"), _ ("1,000,000"), NULL };

  self->sets = gtk_drop_down_new_from_strings (words);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->sets), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (of), self->sets);
  fw_widget_describe (self->sets, _ ("Sets of pieces to draw"), NULL);
  g_signal_connect_swapped (self->sets, "notify::selected", G_CALLBACK (on_sets), self);
  self->stop = gtk_button_new_with_label (_ ("Draw again"));
  gtk_widget_set_hexpand (self->stop, TRUE);
  gtk_widget_set_halign (self->stop, GTK_ALIGN_END);
  g_signal_connect_swapped (self->stop, "clicked", G_CALLBACK (on_stop), self);
  gtk_box_append (GTK_BOX (row), of);
  gtk_box_append (GTK_BOX (row), self->sets);
  gtk_box_append (GTK_BOX (row), self->stop);
  return row;
}

static GtkWidget *
page_bands_check (void)
{
  const char *name = _ ("Bands of what is made, in views and strip");
  GtkWidget *check = gtk_check_button_new (), *words = gtk_label_new (name);
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), words);
  fw_widget_describe (check, name, NULL);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (check), "win.show-bands");
  fw_widget_can_be_pressed (check);
  return check;
}

static GtkWidget *
page_content (FwTolerancePage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *title;

  gtk_widget_add_css_class (box, "real-page");
  title = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->odds = page_label (title, "odds");
  gtk_box_append (GTK_BOX (title), fw_explain_button_new (self->session, box, fw_explain_find ("odds"), FALSE));
  gtk_box_append (GTK_BOX (box), title);
  self->odds_of = page_label (box, NULL);
  self->sure = page_label (box, "fw-faint");
  self->fine = page_label (box, NULL);
  self->kinds = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->kinds), 12);
  gtk_widget_add_css_class (self->kinds, "trouble-shares");
  gtk_box_append (GTK_BOX (box), self->kinds);
  self->progress = gtk_progress_bar_new ();
  fw_widget_describe (self->progress, _ ("Sets drawn so far"), NULL);
  gtk_box_append (GTK_BOX (box), self->progress);
  gtk_box_append (GTK_BOX (box), page_controls (self));
  self->state = page_label (box, "fw-faint");
  gtk_box_append (GTK_BOX (box), fw_explain_heading (self->session, page_bands_check (), fw_explain_find ("band")));
  title = gtk_label_new (_ ("What matters most"));
  gtk_widget_add_css_class (title, "fw-section");
  gtk_box_append (GTK_BOX (box), fw_explain_heading (self->session, title, fw_explain_find ("share")));
  gtk_box_append (GTK_BOX (box), fw_note_label (_ ("Share of the differences in how panels swing, full bars for right-hand pieces, hatched for "
                                                   "left-hand ones. Of 20 pieces 19 lie within ±. Press one to go to the number.")));
  return box;
}

GtkWidget *
fw_tolerance_page_new (FwSession *session)
{
  FwTolerancePage *self = g_object_new (FW_TYPE_TOLERANCE_PAGE, NULL);

  self->session = g_object_ref (session);
  GtkWidget *content = page_content (self);
  self->job = fw_tolerance_job_new (on_arrived, self);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_list_box_set_sort_func (GTK_LIST_BOX (self->list), by_share, NULL, NULL);
  g_signal_connect_swapped (self->list, "state-flags-changed", G_CALLBACK (page_sort), self);
  gtk_widget_add_css_class (self->list, "cause-list");
  fw_widget_describe (self->list, _ ("What matters most"), NULL);
  g_signal_connect (self->list, "row-activated", G_CALLBACK (on_row), self);
  gtk_box_append (GTK_BOX (content), self->list);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (self->scroll, _ ("Made by hand"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), content);
  gtk_widget_set_vexpand (self->scroll, TRUE);
  gtk_widget_set_parent (fw_real_heading (GTK_WIDGET (self), _ ("Made by hand")), GTK_WIDGET (self));
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  on_design (self);
  on_arrived (self);
  return GTK_WIDGET (self);
}

void
fw_tolerance_page_focus (FwTolerancePage *self)
{
  g_return_if_fail (FW_IS_TOLERANCE_PAGE (self));
  gtk_widget_grab_focus (self->sets);
}
