#include "app/fittable.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/controls.h"
#include "app/fitdrop.h"
#include "app/tolerancesession.h"
#include "app/widgetstyle.h"

struct _FwFitTable
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *list, *empty;
  GPtrArray *whats;   /* char*: columns in the order of the names */
  GtkStringList *names;
  gboolean filling;   /* rows are written from the document */
};

G_DEFINE_FINAL_TYPE (FwFitTable, fw_fit_table, GTK_TYPE_WIDGET)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* The widgets of one row. */
typedef struct
{
  FwFitTable *table;
  GtkWidget *row, *crank, *what, *value, *fault;
  char *strange; /* a column that this design does not have; NULL */
} Cells;

static const FwScene *
table_scene (FwFitTable *self)
{
  return fw_session_scene (self->session);
}

/* ---- What can be measured ---- */

static char *
what_words (const FwMechanism *mech, FwMeasuredKind kind, int index)
{
  const char *part = kind < FW_MEASURED_ANGLE ? NULL : mech->members[index].name;
  switch (kind)
    {
    case FW_MEASURED_H:
      return g_strdup (_ ("Body shift"));
    case FW_MEASURED_Z:
      return g_strdup (_ ("Body height"));
    case FW_MEASURED_TILT:
      return g_strdup (_ ("Body tilt"));
    case FW_MEASURED_ANGLE:
      /* Translators: a panel */
      return g_strdup_printf (_ ("%s angle"), part);
    case FW_MEASURED_TIP_Z:
      /* Translators: a panel */
      return g_strdup_printf (_ ("%s tip height"), part);
    default:
      /* Translators: a panel; how far its tip is from the middle plane */
      return g_strdup_printf (_ ("%s tip across"), part);
    }
}

static void
table_list_whats (FwFitTable *self)
{
  static const FwMeasuredKind order[] = { FW_MEASURED_ANGLE, FW_MEASURED_TIP_Z, FW_MEASURED_TIP_X, FW_MEASURED_Z,
                                          FW_MEASURED_TILT, FW_MEASURED_H };
  const FwMechanism *mech = table_scene (self)->mechanism;

  g_ptr_array_set_size (self->whats, 0);
  g_clear_object (&self->names);
  self->names = gtk_string_list_new (NULL);
  for (gsize k = 0; mech != NULL && k < G_N_ELEMENTS (order); k++)
    for (int i = 0; i < (order[k] < FW_MEASURED_ANGLE ? 1 : mech->n_members); i++)
      {
        g_autofree char *words = what_words (mech, order[k], i);
        gtk_string_list_append (self->names, words);
        g_ptr_array_add (self->whats, fw_measured_column (mech, order[k], i));
      }
}

static gboolean
find_what (const FwMechanism *mech, const char *what, FwMeasuredKind *kind, int *index)
{
  for (int k = 0; k <= FW_MEASURED_TIP_Z; k++)
    for (int i = 0; i < (k < FW_MEASURED_ANGLE ? 1 : mech->n_members); i++)
      {
        g_autofree char *column = fw_measured_column (mech, (FwMeasuredKind) k, i);
        if (strcmp (column, what) == 0)
          {
            *kind = (FwMeasuredKind) k;
            *index = i;
            return TRUE;
          }
      }
  return FALSE;
}

static const char *
cells_what (const Cells *cells)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (cells->what));
  if (chosen < cells->table->whats->len)
    return g_ptr_array_index (cells->table->whats, chosen);
  return cells->strange != NULL ? cells->strange : "";
}

/* ---- Reading a row ---- */

/* What a cell was written from: it shows fewer digits than the file may have. */
typedef struct
{
  char *text;
  double value;
} Exact;

static void
exact_free (gpointer data)
{
  g_free (((Exact *) data)->text);
  g_free (data);
}

static Cells *
table_cells (FwFitTable *self, int i)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), i);
  return row == NULL ? NULL : g_object_get_data (G_OBJECT (row), "fw-cells");
}

static gboolean
read_cell (FwFitTable *self, GtkWidget *entry, FwUnit unit, double *value, char **fault)
{
  g_autoptr (GError) error = NULL;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));
  const Exact *exact = g_object_get_data (G_OBJECT (entry), "fw-exact");
  if (exact != NULL && strcmp (exact->text, text) == 0)
    {
      gtk_widget_remove_css_class (entry, "error");
      *value = exact->value;
      return TRUE;
    }
  if (fw_units_parse (text, unit, fw_session_lengths (self->session), value, &error) && isfinite (*value) && fabs (*value) < 1e6)
    {
      gtk_widget_remove_css_class (entry, "error");
      return TRUE;
    }
  gtk_widget_add_css_class (entry, "error");
  if (*fault == NULL)
    *fault = g_strdup (error != NULL ? error->message : _ ("A number below 1000000 was expected."));
  return FALSE;
}

static FwUnit
unit_of (const char *what)
{
  return g_str_has_suffix (what, "_deg") ? FW_UNIT_DEG : FW_UNIT_MM;
}

typedef enum { ROW_GOOD, ROW_OPEN, ROW_BAD } RowState; /* OPEN: nothing typed as its value yet */

/* Marks the row; writes `out` (its `what` borrowed) where it is good. */
static RowState
read_row (FwFitTable *self, Cells *cells, FwMeasuredRow *out)
{
  g_autofree char *fault = NULL;
  const char *what = cells_what (cells);
  gboolean is_open = *gtk_editable_get_text (GTK_EDITABLE (cells->value)) == '\0';
  double crank = 0, value = 0;
  gboolean good = read_cell (self, cells->crank, FW_UNIT_DEG, &crank, &fault);

  gtk_widget_remove_css_class (cells->value, "error");
  if (!is_open)
    good = read_cell (self, cells->value, unit_of (what), &value, &fault) && good;
  if (cells->strange != NULL && what == cells->strange)
    {
      good = FALSE;
      if (fault == NULL)
        fault = g_strdup_printf (_ ("This design has nothing called “%s”: choose another, or remove the line."), what);
    }
  gtk_label_set_text (GTK_LABEL (cells->fault), fault != NULL ? fault : "");
  gtk_widget_set_visible (cells->fault, fault != NULL);
  if (!good)
    return ROW_BAD;
  if (is_open)
    return ROW_OPEN;
  *out = (FwMeasuredRow) { crank, (char *) what, value };
  return ROW_GOOD;
}

/* Good rows as the file has them; `what` is borrowed. */
static GArray *
table_rows (FwFitTable *self, int *bad)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (FwMeasuredRow));
  Cells *cells;
  *bad = 0;
  for (int i = 0; (cells = table_cells (self, i)) != NULL; i++)
    {
      FwMeasuredRow row;
      RowState state = read_row (self, cells, &row);
      /* A line about a part that is gone stays in the file. */
      if (state == ROW_GOOD)
        g_array_append_val (rows, row);
      *bad += state == ROW_BAD;
    }
  return rows;
}

GArray *
fw_fit_table_list (FwFitTable *self, int *bad)
{
  const FwMechanism *mech = table_scene (self)->mechanism;
  GArray *rows = table_rows (self, bad), *list = g_array_new (FALSE, FALSE, sizeof (FwMeasurement));
  for (guint i = 0; mech != NULL && i < rows->len; i++)
    {
      const FwMeasuredRow *row = &g_array_index (rows, FwMeasuredRow, i);
      FwMeasurement m = { .crank_deg = row->crank_deg, .value = row->value };
      if (find_what (mech, row->what, &m.kind, &m.index))
        g_array_append_val (list, m);
    }
  g_array_unref (rows);
  return list;
}

double
fw_fit_table_angle (FwFitTable *self, int member, double crank_deg)
{
  int bad;
  double angle = NAN;
  g_autoptr (GArray) list = fw_fit_table_list (self, &bad);
  for (guint i = 0; i < list->len; i++)
    {
      const FwMeasurement *m = &g_array_index (list, FwMeasurement, i);
      if (m->kind == FW_MEASURED_ANGLE && m->index == member && fabs (remainder (m->crank_deg - crank_deg, 360)) < 0.05)
        angle = m->value * G_PI / 180;
    }
  return angle;
}

/* ---- To the file and back ---- */

static gboolean
same_rows (const GArray *a, const GArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      const FwMeasuredRow *x = &g_array_index (a, FwMeasuredRow, i), *y = &g_array_index (b, FwMeasuredRow, i);
      if (x->crank_deg != y->crank_deg || x->value != y->value || strcmp (x->what, y->what) != 0)
        return FALSE;
    }
  return TRUE;
}

static void
table_show_empty (FwFitTable *self)
{
  gboolean any = table_cells (self, 0) != NULL;
  gtk_widget_set_visible (self->empty, !any);
  gtk_widget_set_visible (self->list, any);
}

static void
table_keep (FwFitTable *self)
{
  FwDocument *doc = fw_session_document (self->session);
  int bad;
  if (doc == NULL || self->filling)
    return;
  GArray *rows = table_rows (self, &bad), *known = fw_measurements (doc);
  if (!same_rows (rows, known))
    fw_session_set_measurements (self->session, (const FwMeasuredRow *) (const void *) rows->data, (int) rows->len);
  g_array_unref (rows);
  g_array_unref (known);
  table_show_empty (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- Rows ---- */

static void
cells_free (gpointer data)
{
  Cells *cells = data;
  g_free (cells->strange);
  g_free (cells);
}

static void
on_cell (Cells *cells)
{
  if (cells->table != NULL && cells->table->session != NULL)
    table_keep (cells->table);
}

static void
on_remove (Cells *cells)
{
  FwFitTable *self = cells->table;
  int i = gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (cells->row));
  gtk_list_box_remove (GTK_LIST_BOX (self->list), cells->row);
  Cells *next = table_cells (self, i) != NULL ? table_cells (self, i) : table_cells (self, i - 1);
  table_keep (self);
  if (next != NULL)
    gtk_widget_grab_focus (next->value);
}

static GtkWidget *
cell_entry (Cells *cells, const char *name, int chars)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkWidget *entry = fw_number_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), chars);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), chars);
  gtk_widget_set_tooltip_text (entry, name);
  fw_widget_describe (entry, name, NULL);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_cell), cells);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_cell), cells);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static void
cells_choose (Cells *cells, const char *what)
{
  FwFitTable *self = cells->table;
  for (guint i = 0; i < self->whats->len; i++)
    if (strcmp (g_ptr_array_index (self->whats, i), what) == 0)
      {
        gtk_drop_down_set_selected (GTK_DROP_DOWN (cells->what), i);
        return;
      }
  GtkStringList *more = gtk_string_list_new (NULL);
  for (guint i = 0; i < self->whats->len; i++)
    gtk_string_list_append (more, gtk_string_list_get_string (self->names, i));
  gtk_string_list_append (more, what);
  cells->strange = g_strdup (what);
  gtk_drop_down_set_model (GTK_DROP_DOWN (cells->what), G_LIST_MODEL (more));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (cells->what), self->whats->len);
  g_object_unref (more);
}

static Cells *
table_add_row (FwFitTable *self, const char *what)
{
  Cells *cells = g_new0 (Cells, 1);
  GtkWidget *grid = gtk_grid_new (), *gone = gtk_button_new_from_icon_name ("list-remove-symbolic");

  cells->table = self;
  cells->row = gtk_list_box_row_new ();
  cells->crank = cell_entry (cells, _ ("Crank angle"), 6);
  cells->what = fw_narrow_drop_down (G_LIST_MODEL (g_object_ref (self->names)));
  cells->value = cell_entry (cells, _ ("Measured"), 7);
  cells->fault = fw_note_label ("");
  fw_widget_describe (cells->what, _ ("What was measured"), NULL);
  gtk_widget_set_hexpand (cells->what, TRUE);
  gtk_widget_add_css_class (cells->what, "narrow");
  gtk_widget_add_css_class (cells->fault, "error");
  gtk_widget_set_visible (cells->fault, FALSE);
  gtk_widget_add_css_class (gone, "flat");
  gtk_widget_set_tooltip_text (gone, _ ("Remove this line"));
  fw_widget_describe (gone, _ ("Remove this line"), NULL);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 3);
  gtk_grid_attach (GTK_GRID (grid), cells->crank, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), cells->what, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), cells->value, 2, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), gone, 3, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), cells->fault, 0, 1, 4, 1);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (cells->row), grid);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (cells->row), FALSE);
  gtk_widget_set_focusable (cells->row, FALSE);
  g_object_set_data_full (G_OBJECT (cells->row), "fw-cells", cells, cells_free);
  cells_choose (cells, what);
  g_signal_connect_swapped (cells->what, "notify::selected", G_CALLBACK (on_cell), cells);
  g_signal_connect_swapped (gone, "clicked", G_CALLBACK (on_remove), cells);
  gtk_list_box_append (GTK_LIST_BOX (self->list), cells->row);
  return cells;
}

static void
write_cell (FwFitTable *self, GtkWidget *entry, double value, FwUnit unit)
{
  g_autofree char *text = isfinite (value) ? fw_units_format (value, unit, fw_session_lengths (self->session), 1) : g_strdup ("");
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  if (!isfinite (value))
    return;
  Exact *exact = g_new0 (Exact, 1);
  *exact = (Exact) { g_steal_pointer (&text), value };
  g_object_set_data_full (G_OBJECT (entry), "fw-exact", exact, exact_free);
}

void
fw_fit_table_add (FwFitTable *self, double crank_deg, const char *what, double value)
{
  int n = 0;
  while (table_cells (self, n) != NULL)
    n++;
  if (what == NULL)
    what = n > 0 ? cells_what (table_cells (self, n - 1)) : self->whats->len > 0 ? g_ptr_array_index (self->whats, 0) : "";
  self->filling = TRUE;
  Cells *cells = table_add_row (self, what);
  write_cell (self, cells->crank, crank_deg, FW_UNIT_DEG);
  write_cell (self, cells->value, value, unit_of (what));
  self->filling = FALSE;
  table_show_empty (self);
  if (isfinite (value))
    table_keep (self);
  else
    gtk_widget_grab_focus (cells->value);
}

static void
table_clear (FwFitTable *self)
{
  Cells *cells;
  while ((cells = table_cells (self, 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), cells->row);
}

static void
table_fill (FwFitTable *self, const GArray *rows)
{
  self->filling = TRUE;
  table_clear (self);
  for (guint i = 0; i < rows->len; i++)
    {
      const FwMeasuredRow *row = &g_array_index (rows, FwMeasuredRow, i);
      Cells *cells = table_add_row (self, row->what);
      write_cell (self, cells->crank, row->crank_deg, FW_UNIT_DEG);
      write_cell (self, cells->value, row->value, unit_of (row->what));
    }
  self->filling = FALSE;
  table_show_empty (self);
}

/* ---- Tables of text ---- */

gboolean
fw_fit_table_read (FwFitTable *self, const char *text, const char *name, gboolean replace, GError **error)
{
  const FwMechanism *mech = table_scene (self)->mechanism;
  GArray *list = fw_measured_read (text, name, mech, error);
  if (list == NULL)
    return FALSE;
  self->filling = TRUE;
  if (replace)
    table_clear (self);
  for (guint i = 0; i < list->len; i++)
    {
      const FwMeasurement *m = &g_array_index (list, FwMeasurement, i);
      g_autofree char *what = fw_measured_column (mech, m->kind, m->index);
      Cells *cells = table_add_row (self, what);
      write_cell (self, cells->crank, m->crank_deg, FW_UNIT_DEG);
      write_cell (self, cells->value, m->value, unit_of (what));
    }
  self->filling = FALSE;
  g_array_unref (list);
  table_keep (self);
  return TRUE;
}

char *
fw_fit_table_text (FwFitTable *self)
{
  int bad;
  GArray *rows = table_rows (self, &bad);
  GString *text = g_string_new ("crank_deg");
  GPtrArray *columns = g_ptr_array_new ();
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  for (guint i = 0; i < rows->len; i++)
    {
      char *what = g_array_index (rows, FwMeasuredRow, i).what;
      if (!g_ptr_array_find_with_equal_func (columns, what, g_str_equal, NULL))
        {
          g_ptr_array_add (columns, what);
          g_string_append_printf (text, ",%s", what);
        }
    }
  for (guint i = 0; i < rows->len; i++)
    {
      const FwMeasuredRow *row = &g_array_index (rows, FwMeasuredRow, i);
      g_string_append_printf (text, "\n%s", g_ascii_formatd (number, sizeof number, "%.10g", row->crank_deg));
      for (guint c = 0; c < columns->len; c++)
        {
          gboolean here = strcmp (g_ptr_array_index (columns, c), row->what) == 0;
          g_string_append_printf (text, ",%s", here ? g_ascii_formatd (number, sizeof number, "%.10g", row->value) : "");
        }
    }
  g_string_append_c (text, '\n');
  g_ptr_array_unref (columns);
  g_array_unref (rows);
  return g_string_free (text, FALSE);
}

/* ---- What the session says ---- */

static gboolean
whats_are_same (FwFitTable *self)
{
  const FwMechanism *mech = table_scene (self)->mechanism;
  if (mech == NULL || self->whats->len != (guint) (3 * mech->n_members + 3))
    return FALSE;
  for (int i = 0; i < mech->n_members; i++)
    {
      g_autofree char *column = fw_measured_column (mech, FW_MEASURED_ANGLE, i);
      if (strcmp (column, g_ptr_array_index (self->whats, i)) != 0)
        return FALSE;
    }
  return TRUE;
}

static void
on_design (FwFitTable *self)
{
  FwDocument *doc = fw_session_document (self->session);
  int bad;
  if (doc == NULL)
    return;
  gboolean same = whats_are_same (self);
  if (!same)
    table_list_whats (self);
  GArray *rows = table_rows (self, &bad), *known = fw_measurements (doc);
  if (!same || !same_rows (rows, known))
    {
      table_fill (self, known);
      g_signal_emit (self, signals[CHANGED], 0);
    }
  g_array_unref (rows);
  g_array_unref (known);
}

/* ---- Object ---- */

static void
table_dispose (GObject *object)
{
  FwFitTable *self = FW_FIT_TABLE (object);
  Cells *cells;
  if (self->list != NULL)
    for (int i = 0; (cells = table_cells (self, i)) != NULL; i++)
      cells->table = NULL;
  self->list = NULL;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  g_clear_object (&self->names);
  G_OBJECT_CLASS (fw_fit_table_parent_class)->dispose (object);
}

static void
table_finalize (GObject *object)
{
  g_ptr_array_unref (FW_FIT_TABLE (object)->whats);
  G_OBJECT_CLASS (fw_fit_table_parent_class)->finalize (object);
}

static void
fw_fit_table_class_init (FwFitTableClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  G_OBJECT_CLASS (class)->dispose = table_dispose;
  G_OBJECT_CLASS (class)->finalize = table_finalize;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
fw_fit_table_init (FwFitTable *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))), GTK_ORIENTATION_VERTICAL);
  self->whats = g_ptr_array_new_with_free_func (g_free);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->list, "cause-list");
  self->empty = fw_note_label (_ ("Nothing measured yet. Turn the real crank to a mark, set the same angle here, and add a "
                                  "line for each thing you measure; a dozen are plenty."));
  fw_widget_describe (GTK_WIDGET (self), _ ("Measurements"), NULL);
  gtk_widget_set_parent (self->empty, GTK_WIDGET (self));
  gtk_widget_set_parent (self->list, GTK_WIDGET (self));
}

GtkWidget *
fw_fit_table_new (FwSession *session)
{
  FwFitTable *self = g_object_new (FW_TYPE_FIT_TABLE, NULL);
  self->session = g_object_ref (session);
  table_list_whats (self);
  table_show_empty (self);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  on_design (self);
  return GTK_WIDGET (self);
}
