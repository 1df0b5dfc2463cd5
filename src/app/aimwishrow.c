#include "app/aimrows.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/aimedits.h"
#include "app/explain.h"
#include "app/look.h"
#include "app/widgetstyle.h"
#include "draw/helpsplot.h"

#define BAR_HEIGHT 14
#define STEPS 3

static const double weights[STEPS] = { 0.25, 1, 4 };

typedef struct
{
  FwSession *session; /* owned */
  int wish;
  FwWish shown;       /* its plain numbers only: no strings are kept */
  double now;
  gboolean known, met;
  GtkWidget *words, *bar, *note, *weight;
  gboolean filling;
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;
  g_object_unref (row->session);
  g_free (row);
}

/* ---- Words ---- */

static char *
label_of (const FwDesign *design, const char *path)
{
  FwParam param;
  return fw_param_from_path (design, path, &param) ? fw_param_label (design, param) : g_strdup (path);
}

static char *
with_names (const FwDesign *design, char *words, const FwWish *wish)
{
  for (int i = 0; wish->numbers != NULL && wish->numbers[i] != NULL; i++)
    {
      g_autofree char *label = label_of (design, wish->numbers[i]);
      g_auto (GStrv) parts = g_strsplit (words, wish->numbers[i], 2);
      g_free (words);
      words = g_strjoinv (label, parts);
    }
  return words;
}

char *
fw_aim_wish_words (const FwDesign *design, const FwWish *wish, FwLengths lengths)
{
  return with_names (design, fw_wish_words (wish, lengths), wish);
}

/* ---- The bar ---- */

static void
on_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Row *row = data;
  FwStyle style = fw_session_style (row->session, 1);
  double most = row->shown.kind == FW_WISH_WITHOUT || row->shown.kind == FW_WISH_SAME ? 0 : row->shown.most;
  double least = row->shown.kind == FW_WISH_WITHOUT || row->shown.kind == FW_WISH_SAME ? 0 : row->shown.least;
  fw_draw_miss (cr, &style, (FwBox) { 0, 1, width, height - 2 }, least, most, row->known ? row->now : NAN, row->met);
}

void
fw_aim_wish_row_set (GtkWidget *widget, const FwWish *wish, const FwGot *got)
{
  Row *row = g_object_get_data (G_OBJECT (widget), "fw-row");
  FwLengths lengths = fw_session_lengths (row->session);
  const FwDesign *design = fw_document_design (fw_session_document (row->session));
  g_autofree char *words = fw_aim_wish_words (design, wish, lengths);
  g_autofree char *now = got != NULL ? fw_wish_value_words (wish, got->got, lengths) : NULL;
  g_autofree char *miss = got != NULL && !got->met ? fw_wish_value_words (wish, fabs (got->miss), lengths) : NULL;
  g_autofree char *note = got == NULL    ? g_strdup (_ ("not known"))
                          : got->met     ? g_strdup_printf (_ ("now %s: met"), now)
                          : wish->kind == FW_WISH_WITHOUT || wish->kind == FW_WISH_SAME || isnan (got->miss)
                              ? g_strdup_printf (_ ("now %s: missed"), now)
                          : got->miss < 0 ? g_strdup_printf (_ ("now %s: %s too little"), now, miss)
                                          : g_strdup_printf (_ ("now %s: %s too much"), now, miss);

  row->shown = *wish;
  row->known = got != NULL;
  row->met = got != NULL && got->met;
  row->now = got != NULL ? got->got : NAN;
  gtk_label_set_text (GTK_LABEL (row->words), words);
  gtk_label_set_text (GTK_LABEL (row->note), note);
  g_autofree char *name = g_strdup_printf (C_ ("wish", "%s; %s"), words, note);
  fw_widget_describe (widget, name, NULL);
  gtk_widget_queue_draw (row->bar);
}

/* ---- How much it matters ---- */

static guint
step_of (double weight)
{
  return weight < 0.5 ? 0 : weight < 2 ? 1 : 2;
}

static void
on_weight (Row *row)
{
  guint step = gtk_drop_down_get_selected (GTK_DROP_DOWN (row->weight));
  const FwWishes *now = fw_session_wishes (row->session);
  if (row->filling || row->wish >= now->n_list || step >= STEPS || step_of (now->list[row->wish].weight) == step)
    return;
  FwWishes *wishes = fw_wishes_copy (now);
  wishes->list[row->wish].weight = weights[step];
  fw_session_set_wishes (row->session, wishes, _ ("How much a wish matters"));
}

static void
on_remove (Row *row)
{
  g_autoptr (FwSession) session = g_object_ref (row->session);
  if (row->wish >= fw_session_wishes (session)->n_list)
    return;
  FwWishes *wishes = fw_wishes_copy (fw_session_wishes (session));
  fw_wishes_remove (wishes, row->wish);
  fw_session_set_wishes (session, wishes, _ ("Remove a wish"));
}

/* ---- The row ---- */

GtkWidget *
fw_aim_wish_row_new (FwSession *session, int wish)
{
  const char *const steps[] = { C_ ("a wish matters", "little"), C_ ("a wish matters", "as others"), C_ ("a wish matters", "much"), NULL };
  Row *row = g_new0 (Row, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *below = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  const FwWish *it = &fw_session_wishes (session)->list[wish];

  row->session = g_object_ref (session);
  row->wish = wish;
  row->words = gtk_label_new ("");
  row->bar = gtk_drawing_area_new ();
  row->note = fw_note_label ("");
  row->weight = gtk_drop_down_new_from_strings (steps);
  g_autofree char *words = fw_aim_wish_words (fw_document_design (fw_session_document (session)), it, fw_session_lengths (session));
  g_autofree char *matters = g_strdup_printf (_ ("How much it matters: %s"), words);
  g_autofree char *gone = g_strdup_printf (_ ("Remove the wish: %s"), words);

  gtk_label_set_wrap (GTK_LABEL (row->words), TRUE);
  gtk_label_set_xalign (GTK_LABEL (row->words), 0);
  gtk_widget_set_hexpand (row->words, TRUE);
  gtk_widget_add_css_class (row->note, "dim-label");
  gtk_widget_set_hexpand (row->note, TRUE);
  gtk_widget_set_size_request (row->bar, -1, BAR_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (row->bar), on_paint, row, NULL);
  gtk_accessible_update_state (GTK_ACCESSIBLE (row->bar), GTK_ACCESSIBLE_STATE_HIDDEN, TRUE, -1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (row->weight), step_of (it->weight));
  gtk_widget_add_css_class (row->weight, "flat");
  gtk_widget_set_valign (row->weight, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (row->weight, _ ("How much this wish matters beside the others"));
  fw_widget_describe (row->weight, matters, NULL);
  g_signal_connect_swapped (row->weight, "notify::selected", G_CALLBACK (on_weight), row);
  gtk_widget_add_css_class (remove, "flat");
  gtk_widget_set_valign (remove, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (remove, _ ("Remove this wish"));
  fw_widget_describe (remove, gone, NULL);
  g_signal_connect_swapped (remove, "clicked", G_CALLBACK (on_remove), row);
  gtk_box_append (GTK_BOX (line), row->words);
  gtk_box_append (GTK_BOX (line), fw_explain_button_new (session, box, fw_explain_wish (fw_wish_kind_name (it->kind)), TRUE));
  gtk_box_append (GTK_BOX (line), remove);
  gtk_box_append (GTK_BOX (below), row->note);
  gtk_box_append (GTK_BOX (below), row->weight);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), row->bar);
  gtk_box_append (GTK_BOX (box), below);
  gtk_widget_add_css_class (box, "aim-row");
  g_object_set_data_full (G_OBJECT (box), "fw-row", row, row_free);
  fw_aim_wish_row_set (box, it, NULL);
  return box;
}
