#include "app/peaktable.h"

#include <glib/gi18n.h>

#include "app/explain.h"
#include "app/look.h"
#include "app/peaks.h"
#include "app/widgetstyle.h"

#define SOON_MS 60
#define LARGE 1.4  /* words so large, and name and kind have no room beside each other */
#define ALL 120    /* so many rows are shown, */
#define A_GROUP 24 /* or so many of each group, the greatest, and the rest is told as a number */

struct _FwPeakTable
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *list, *empty, *more;
  GPtrArray *rows; /* FwPeakRow; owned */
  const FwDocument *document; /* whose peaks the rows tell; only compared */
  guint soon;      /* timeout */
};

G_DEFINE_FINAL_TYPE (FwPeakTable, fw_peak_table, GTK_TYPE_WIDGET)

/* The labels of one row. */
typedef struct
{
  GtkWidget *what; /* name and kind */
  GtkWidget *name, *kind, *value, *crank, *explain;
} Cells;

/* ---- Rows ---- */

static GtkWidget *
cell (const char *style, float align, int chars)
{
  GtkWidget *label = gtk_label_new ("");

  gtk_label_set_xalign (GTK_LABEL (label), align);
  if (chars > 0)
    gtk_label_set_width_chars (GTK_LABEL (label), chars);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
table_row_new (FwPeakTable *self)
{
  GtkWidget *row = gtk_list_box_row_new (), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  Cells *cells = g_new0 (Cells, 1);

  cells->what = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  cells->name = cell (NULL, 0, 8);
  cells->kind = cell ("dim-label", 0, 9);
  cells->value = cell ("numeric", 1, 9);
  cells->crank = cell ("numeric", 1, 4);
  /* Cut short it may be any of several parts: it has two lines. */
  g_object_set (cells->name, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "lines", 2, "ellipsize", PANGO_ELLIPSIZE_MIDDLE, NULL);
  gtk_widget_set_hexpand (cells->name, TRUE);
  gtk_widget_add_css_class (cells->crank, "dim-label");
  gtk_box_append (GTK_BOX (cells->what), cells->name);
  gtk_box_append (GTK_BOX (cells->what), cells->kind);
  gtk_box_append (GTK_BOX (line), cells->what);
  gtk_box_append (GTK_BOX (line), cells->value);
  gtk_box_append (GTK_BOX (line), cells->crank);
  cells->explain = fw_explain_button_new (self->session, row, NULL, TRUE);
  gtk_box_append (GTK_BOX (line), cells->explain);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  g_object_set_data_full (G_OBJECT (row), "fw-cells", cells, g_free);
  fw_widget_can_be_pressed (row);
  return row;
}

static void
table_row_say (FwPeakTable *self, GtkWidget *row, const FwPeakRow *peak)
{
  const Cells *cells = g_object_get_data (G_OBJECT (row), "fw-cells");
  g_autofree char *value = fw_peak_value_words (peak, fw_session_lengths (self->session));
  g_autofree char *crank = fw_peak_crank_words (peak);
  /* Translators: a row of the table of peak loads: part, kind of load, peak, crank angle. */
  g_autofree char *words = g_strdup_printf (_ ("%s, %s: %s at %s"), peak->name, peak->kind, value, crank);

  gboolean large = fw_session_text (self->session) > LARGE;
  gtk_orientable_set_orientation (GTK_ORIENTABLE (cells->what), large ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_box_set_spacing (GTK_BOX (cells->what), large ? 0 : 6);
  gtk_label_set_text (GTK_LABEL (cells->name), peak->name);
  gtk_label_set_text (GTK_LABEL (cells->kind), peak->kind);
  gtk_label_set_text (GTK_LABEL (cells->value), value);
  gtk_label_set_text (GTK_LABEL (cells->crank), crank);
  gtk_widget_set_tooltip_text (row, words);
  fw_explain_button_set (cells->explain, fw_explain_quantity (peak->quantity.kind));
  fw_widget_describe (row, words, fw_peak_group_words (peak->group)); /* a part may stand in two groups */
}

static gboolean
same_row (const FwPeakRow *a, const FwPeakRow *b)
{
  return a->quantity.kind == b->quantity.kind && a->quantity.index == b->quantity.index && a->sign == b->sign;
}

/* While a number is dragged rows keep their places. */
static void
keep_order (GPtrArray *fresh, GPtrArray *shown)
{
  guint placed = 0;
  for (guint i = 0; i < shown->len; i++)
    for (guint k = placed; k < fresh->len; k++)
      if (same_row (g_ptr_array_index (shown, i), g_ptr_array_index (fresh, k)))
        {
          gpointer swap = fresh->pdata[placed];
          fresh->pdata[placed] = fresh->pdata[k];
          fresh->pdata[k] = swap;
          placed++;
          break;
        }
}

/* Leaves out the least of each group where there are too many to be laid out at once; returns how many. */
static int
leave_out (GPtrArray *rows)
{
  guint kept = 0, all = rows->len, in_group = 0;
  g_autoptr (GPtrArray) out = g_ptr_array_new ();
  FwPeakGroup group = 0;

  for (guint i = 0; i < all; i++)
    {
      FwPeakRow *row = rows->pdata[i];
      in_group = i > 0 && row->group == group ? in_group + 1 : 0;
      group = row->group;
      if (all <= ALL || in_group < A_GROUP)
        rows->pdata[kept++] = row;
      else
        g_ptr_array_add (out, row);
    }
  for (guint i = 0; i < out->len; i++)
    rows->pdata[kept + i] = out->pdata[i];
  g_ptr_array_set_size (rows, (int) kept); /* frees the rest */
  return (int) (all - kept);
}

static void
table_tell_left (FwPeakTable *self, int left)
{
  g_autofree char *words
      = g_strdup_printf (ngettext ("And %d more, less than these.", "And %d more, less than these.", left), left);

  gtk_label_set_text (GTK_LABEL (self->more), words);
  gtk_widget_set_visible (self->more, left > 0);
}

/* Rows stand as they were until the turn of a large design is known; those of another design go. */
static gboolean
table_is_ready (FwPeakTable *self)
{
  return fw_session_document (self->session) == NULL || fw_session_turn_is_known (self->session);
}

static void
table_fill (FwPeakTable *self)
{
  const FwDocument *document = fw_session_document (self->session);
  if (!table_is_ready (self) && document == self->document)
    return;
  GPtrArray *fresh = fw_peak_rows (self->session);

  self->document = document;
  table_tell_left (self, leave_out (fresh));
  if (fw_session_dragging (self->session))
    keep_order (fresh, self->rows);
  g_ptr_array_unref (self->rows);
  self->rows = fresh;
  for (guint i = 0; i < fresh->len; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) i);
      if (row == NULL)
        {
          row = GTK_LIST_BOX_ROW (table_row_new (self));
          gtk_list_box_append (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
        }
      table_row_say (self, GTK_WIDGET (row), g_ptr_array_index (fresh, i));
    }
  GtkListBoxRow *spare;
  while ((spare = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) fresh->len)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (spare));
  gtk_list_box_invalidate_headers (GTK_LIST_BOX (self->list));
  gtk_widget_set_visible (self->empty, fresh->len == 0 && table_is_ready (self));
  gtk_widget_set_visible (self->list, fresh->len > 0);
}

static void
on_header (GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  FwPeakTable *self = data;
  guint i = (guint) gtk_list_box_row_get_index (row);
  const FwPeakRow *peak = i < self->rows->len ? g_ptr_array_index (self->rows, i) : NULL;
  const FwPeakRow *above = before != NULL && i > 0 ? g_ptr_array_index (self->rows, i - 1) : NULL;

  if (peak == NULL || (above != NULL && above->group == peak->group))
    {
      gtk_list_box_row_set_header (row, NULL);
      return;
    }
  GtkWidget *title = gtk_label_new (fw_peak_group_words (peak->group));
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "peak-heading");
  gtk_list_box_row_set_header (row, title);
}

/* ---- Following ---- */

static gboolean
on_soon (gpointer data)
{
  FwPeakTable *self = data;

  self->soon = 0;
  table_fill (self);
  return G_SOURCE_REMOVE;
}

static void
table_changed (FwPeakTable *self)
{
  gtk_widget_set_opacity (self->list, table_is_ready (self) ? 1 : 0.5);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_STATE_BUSY, !table_is_ready (self), -1);
  if (self->soon == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->soon = g_timeout_add (SOON_MS, on_soon, self);
}

static void
on_row (FwPeakTable *self, GtkListBoxRow *row)
{
  guint i = (guint) gtk_list_box_row_get_index (row);

  if (i >= self->rows->len || !table_is_ready (self))
    return;
  const FwPeakRow *peak = g_ptr_array_index (self->rows, i);
  fw_session_go_to (self->session, peak->crank, peak->part);
}

static void
table_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (fw_peak_table_parent_class)->map (widget);
  table_changed (FW_PEAK_TABLE (widget));
  table_fill (FW_PEAK_TABLE (widget));
}

/* ---- Object ---- */

static void
peak_table_dispose (GObject *object)
{
  FwPeakTable *self = FW_PEAK_TABLE (object);

  g_clear_handle_id (&self->soon, g_source_remove);
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_peak_table_parent_class)->dispose (object);
}

static void
peak_table_finalize (GObject *object)
{
  g_ptr_array_unref (FW_PEAK_TABLE (object)->rows);
  G_OBJECT_CLASS (fw_peak_table_parent_class)->finalize (object);
}

static void
fw_peak_table_class_init (FwPeakTableClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = peak_table_dispose;
  G_OBJECT_CLASS (class)->finalize = peak_table_finalize;
  widget_class->map = table_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "peak-table");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_peak_table_init (FwPeakTable *self)
{
  self->rows = g_ptr_array_new ();
}

GtkWidget *
fw_peak_table_new (FwSession *session)
{
  FwPeakTable *self = g_object_new (FW_TYPE_PEAK_TABLE, NULL);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *scroller = gtk_scrolled_window_new ();

  self->session = g_object_ref (session);
  self->list = gtk_list_box_new ();
  gtk_widget_add_css_class (self->list, "peak-list");
  gtk_list_box_set_header_func (GTK_LIST_BOX (self->list), on_header, self, NULL);
  fw_widget_describe (self->list, _ ("Peak loads of the turn"),
                      _ ("Enter goes to the crank angle of the peak and picks the part."));
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (on_row), self);
  self->empty = fw_note_label (_ ("No loads: nothing in this design has a mass, or it cannot be assembled anywhere."));
  gtk_widget_set_margin_start (self->empty, 12);
  gtk_widget_set_margin_top (self->empty, 12);
  gtk_box_append (GTK_BOX (column), self->empty);
  self->more = fw_note_label ("");
  gtk_widget_add_css_class (self->more, "dim-label");
  gtk_widget_set_margin_start (self->more, 12);
  gtk_widget_set_visible (self->more, FALSE);
  gtk_box_append (GTK_BOX (column), self->list);
  gtk_box_append (GTK_BOX (column), self->more);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  fw_widget_describe (scroller, _ ("Loads"), NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), column);
  gtk_widget_set_parent (scroller, GTK_WIDGET (self));
  g_signal_connect_object (session, "design-changed", G_CALLBACK (table_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "display-changed", G_CALLBACK (table_changed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
fw_peak_table_focus (FwPeakTable *self)
{
  g_return_if_fail (FW_IS_PEAK_TABLE (self));
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));

  if (row == NULL)
    row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);
  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}
