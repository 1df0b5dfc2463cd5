/* What there is to cut from: bars and sheets by hand. */
#include "app/workshopmaking.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/explain.h"
#include "app/controls.h"
#include "app/widgetstyle.h"
#include "app/workshopentry.h"
#include "doc/makeedit.h"

typedef struct
{
  FwWorkshop *workshop; /* borrowed: it holds the table */
  GtkWidget *grids[2];  /* by FwStockKind */
  FwEntry *kerf;
  GPtrArray *cells; /* Cell; borrowed from their widgets */
  char *shape;      /* of what the cells were made for: "rrf/s" */
  gboolean updating;
} StockTable;

/* One field: a key of an entry. */
typedef struct
{
  StockTable *table;
  FwStockKind kind;
  int nth;
  const char *key, *label;
  FwEntry *entry; /* NULL: the grain, a choice */
  GtkWidget *grain;
} Cell;

typedef struct
{
  const char *key, *label; /* of a column */
  FwUnit unit;
  gboolean words, may_be_empty;
  int chars;
} Column;

static const Column round_bar[] = {
  { "name", NC_ ("stock", "Name"), FW_UNIT_NONE, TRUE, FALSE, 8 },
  { "material", NC_ ("stock", "Material"), FW_UNIT_NONE, TRUE, TRUE, 10 },
  { "diameter", NC_ ("stock", "Diameter"), FW_UNIT_MM, FALSE, FALSE, 6 },
  { "wall", NC_ ("stock", "Wall"), FW_UNIT_MM, FALSE, TRUE, 6 },
  { "length", NC_ ("stock", "Length"), FW_UNIT_MM, FALSE, FALSE, 8 },
  { "count", NC_ ("stock", "Number"), FW_UNIT_NONE, FALSE, TRUE, 4 },
  { "price", NC_ ("stock", "Price"), FW_UNIT_NONE, FALSE, TRUE, 6 },
};
static const Column flat_bar[] = {
  { "name", NC_ ("stock", "Name"), FW_UNIT_NONE, TRUE, FALSE, 8 },
  { "material", NC_ ("stock", "Material"), FW_UNIT_NONE, TRUE, TRUE, 10 },
  { "width", NC_ ("stock", "Width"), FW_UNIT_MM, FALSE, FALSE, 6 },
  { "thickness", NC_ ("stock", "Thickness"), FW_UNIT_MM, FALSE, FALSE, 6 },
  { "length", NC_ ("stock", "Length"), FW_UNIT_MM, FALSE, FALSE, 8 },
  { "count", NC_ ("stock", "Number"), FW_UNIT_NONE, FALSE, TRUE, 4 },
  { "price", NC_ ("stock", "Price"), FW_UNIT_NONE, FALSE, TRUE, 6 },
};
static const Column sheet[] = {
  { "name", NC_ ("stock", "Name"), FW_UNIT_NONE, TRUE, FALSE, 8 },
  { "material", NC_ ("stock", "Material"), FW_UNIT_NONE, TRUE, TRUE, 10 },
  { "thickness", NC_ ("stock", "Thickness"), FW_UNIT_MM, FALSE, FALSE, 6 },
  { "width", NC_ ("stock", "Width"), FW_UNIT_MM, FALSE, FALSE, 8 },
  { "height", NC_ ("stock", "Height"), FW_UNIT_MM, FALSE, FALSE, 8 },
  { "count", NC_ ("stock", "Number"), FW_UNIT_NONE, FALSE, TRUE, 4 },
  { "price", NC_ ("stock", "Price"), FW_UNIT_NONE, FALSE, TRUE, 6 },
};
#define N_COLUMNS ((int) G_N_ELEMENTS (sheet))
#define GRAIN_COLUMN N_COLUMNS
#define REMOVE_COLUMN (N_COLUMNS + 1)

static FwDocument *
table_document (const StockTable *self)
{
  return fw_session_document (fw_workshop_session (self->workshop));
}

static const char *
entry_name (const FwStock *stock, FwStockKind kind, int nth)
{
  return kind == FW_STOCK_BARS ? stock->bars[nth].name : stock->sheets[nth].name;
}

static const cJSON *
entry_json (FwDocument *doc, FwStockKind kind, int nth)
{
  const cJSON *list = cJSON_GetObjectItemCaseSensitive (fw_document_section (doc, "stock"),
                                                        kind == FW_STOCK_BARS ? "bars" : "sheets");
  return cJSON_GetArrayItem (list, nth);
}

/* ---- Changes ---- */

/* "Length of tube 10": the step's name, and the field's. */
static char *
cell_title (const Cell *cell)
{
  const FwStock *stock = &fw_document_design (table_document (cell->table))->stock;
  /* Translators: a measure and what it is of: "Length of tube 10" */
  return g_strdup_printf (_("%s of %s"), g_dpgettext2 (NULL, "stock", cell->label), entry_name (stock, cell->kind, cell->nth));
}

static gboolean
cell_set (const Cell *cell, cJSON *value)
{
  GError *error = NULL;
  g_autofree char *label = cell_title (cell);
  FwWorkshop *workshop = cell->table->workshop; /* the cell may go */
  fw_document_set_stock_entry (table_document (cell->table), cell->kind, cell->nth, cell->key, value, label, NULL, &error);
  return fw_workshop_edited (workshop, error);
}

static gboolean
on_number (FwEntry *entry, double value, gboolean empty, gpointer data)
{
  return cell_set (data, empty ? NULL : cJSON_CreateNumber (value));
}

static gboolean
on_words (FwEntry *entry, const char *text, gpointer data)
{
  return cell_set (data, *text == '\0' ? NULL : cJSON_CreateString (text));
}

static void
on_grain (const Cell *cell)
{
  static const char *const words[] = { "none", "width", "height" };
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (cell->grain));
  if (!cell->table->updating && selected < G_N_ELEMENTS (words))
    cell_set (cell, selected == 0 ? NULL : cJSON_CreateString (words[selected]));
}

static gboolean
on_kerf (FwEntry *entry, double value, gboolean empty, gpointer data)
{
  StockTable *self = data;
  GError *error = NULL;
  fw_document_set_stock (table_document (self), "kerf", empty ? NULL : cJSON_CreateNumber (value), _("Lost at a cut"), NULL, &error);
  return fw_workshop_edited (self->workshop, error);
}

static void
on_remove (const Cell *cell)
{
  GError *error = NULL;
  StockTable *table = cell->table;
  const FwStock *stock = &fw_document_design (table_document (table))->stock;
  /* Translators: a step of undo; %s is a bar's or a sheet's name */
  g_autofree char *label = g_strdup_printf (_("Removal of %s"), entry_name (stock, cell->kind, cell->nth));
  fw_document_remove_stock (table_document (table), cell->kind, cell->nth, label, &error);
  fw_workshop_edited (table->workshop, error);
}

typedef struct
{
  FwStockKind kind;
  const char *name, *material, *label;
  struct
  {
    const char *key;
    double value;
  } numbers[3];
} NewEntry;

/* What a workshop has as a rule; every number is there to be changed. */
static const NewEntry new_entries[] = {
  { FW_STOCK_BARS, NC_ ("name of a new bar or sheet", "tube"), "copper tube", N_ ("A round bar"), { { "diameter", 10 }, { "wall", 1 }, { "length", 1000 } } },
  { FW_STOCK_BARS, NC_ ("name of a new bar or sheet", "flat"), "aluminium", N_ ("A flat bar"), { { "width", 20 }, { "thickness", 5 }, { "length", 1000 } } },
  { FW_STOCK_SHEETS, NC_ ("name of a new bar or sheet", "sheet"), "kraft card", N_ ("A sheet"), { { "thickness", 2 }, { "width", 700 }, { "height", 500 } } },
};

static void
table_add (StockTable *self, const NewEntry *new_entry)
{
  GError *error = NULL;
  cJSON *entry = cJSON_CreateObject ();

  cJSON_AddStringToObject (entry, "name", g_dpgettext2 (NULL, "name of a new bar or sheet", new_entry->name));
  cJSON_AddStringToObject (entry, "material", new_entry->material);
  for (int i = 0; i < 3; i++)
    cJSON_AddNumberToObject (entry, new_entry->numbers[i].key, new_entry->numbers[i].value);
  fw_document_add_stock (table_document (self), new_entry->kind, entry, _(new_entry->label), &error);
  fw_workshop_edited (self->workshop, error);
}

static void
on_add (GtkButton *button, StockTable *self)
{
  table_add (self, g_object_get_data (G_OBJECT (button), "new-entry"));
}

/* ---- What is shown ---- */

static double
cell_value (const Cell *cell, const cJSON *json, gboolean *empty)
{
  const cJSON *item = cJSON_GetObjectItemCaseSensitive (json, cell->key);
  *empty = !cJSON_IsNumber (item);
  return *empty ? 0 : item->valuedouble;
}

static void
cell_update (const Cell *cell)
{
  StockTable *table = cell->table;
  FwDocument *doc = table_document (table);
  const cJSON *json = entry_json (doc, cell->kind, cell->nth);
  const FwStock *stock = &fw_document_design (doc)->stock;
  g_autofree char *title = cell_title (cell);

  fw_widget_describe (cell->entry != NULL ? fw_entry_widget (cell->entry) : cell->grain, title, NULL);
  if (cell->entry == NULL)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (cell->grain), (guint) stock->sheets[cell->nth].grain);
  else if (g_str_equal (cell->key, "name") || g_str_equal (cell->key, "material"))
    fw_entry_set_text (cell->entry, cJSON_GetStringValue (cJSON_GetObjectItemCaseSensitive (json, cell->key)));
  else
    {
      gboolean empty;
      double value = cell_value (cell, json, &empty);
      fw_entry_set (cell->entry, value, empty, fw_session_lengths (fw_workshop_session (table->workshop)));
    }
}

static Cell *
cell_new (StockTable *self, FwStockKind kind, int nth, const char *key, const char *label)
{
  Cell *cell = g_new0 (Cell, 1);
  *cell = (Cell) { .table = self, .kind = kind, .nth = nth, .key = key, .label = label };
  return cell;
}

static void
cell_place (StockTable *self, Cell *cell, GtkWidget *widget, int column, int row)
{
  g_object_set_data_full (G_OBJECT (widget), "cell", cell, g_free);
  gtk_grid_attach (GTK_GRID (self->grids[cell->kind]), widget, column, row, 1, 1);
}

static const char *
empty_word (const Column *column)
{
  return g_str_equal (column->key, "count")      ? C_ ("number of bars or sheets", "any")
         : g_str_equal (column->key, "wall")     ? _("solid")
         : g_str_equal (column->key, "price")    ? "–"
                                                 : NULL;
}

static void
add_fields (StockTable *self, FwStockKind kind, int nth, const Column *columns, int row)
{
  for (int k = 0; k < N_COLUMNS; k++)
    {
      Cell *cell = cell_new (self, kind, nth, columns[k].key, columns[k].label);
      cell->entry = columns[k].words ? fw_entry_new_text (columns[k].chars, on_words, cell)
                                     : fw_entry_new (columns[k].unit, columns[k].may_be_empty, columns[k].chars, on_number, cell);
      GtkWidget *widget = fw_entry_widget (cell->entry);
      gtk_entry_set_placeholder_text (GTK_ENTRY (widget), empty_word (&columns[k]));
      gtk_widget_set_tooltip_text (widget, g_dpgettext2 (NULL, "stock", columns[k].label));
      cell_place (self, cell, widget, k, row);
      g_ptr_array_add (self->cells, cell);
    }
}

static void
add_row (StockTable *self, const FwStock *stock, FwStockKind kind, int nth)
{
  const Column *columns = kind == FW_STOCK_SHEETS ? sheet : stock->bars[nth].diameter_mm > 0 ? round_bar : flat_bar;
  int row = nth + 1;

  add_fields (self, kind, nth, columns, row);
  if (kind == FW_STOCK_SHEETS)
    {
      const char *grains[] = { C_ ("grain of a sheet", "none"), C_ ("grain of a sheet", "width"), C_ ("grain of a sheet", "height"), NULL };
      Cell *cell = cell_new (self, kind, nth, "grain", NC_ ("stock", "Grain"));
      cell->grain = gtk_drop_down_new_from_strings (grains);
      cell_place (self, cell, cell->grain, GRAIN_COLUMN, row);
      g_signal_connect_swapped (cell->grain, "notify::selected", G_CALLBACK (on_grain), cell);
      g_ptr_array_add (self->cells, cell);
    }
  Cell *cell = cell_new (self, kind, nth, "", "");
  GtkWidget *remove = gtk_button_new_from_icon_name ("list-remove-symbolic");
  gtk_widget_add_css_class (remove, "flat");
  /* Translators: %s is a bar's or a sheet's name */
  g_autofree char *name = g_strdup_printf (_("Remove %s"), entry_name (stock, kind, nth));
  fw_widget_describe (remove, name, NULL);
  gtk_widget_set_tooltip_text (remove, name);
  cell_place (self, cell, remove, REMOVE_COLUMN, row);
  g_signal_connect_swapped (remove, "clicked", G_CALLBACK (on_remove), cell);
}

static void
add_head (GtkWidget *grid, const char *const *labels)
{
  for (int k = 0; labels[k] != NULL; k++)
    {
      GtkWidget *label = gtk_label_new (labels[k]);
      gtk_label_set_xalign (GTK_LABEL (label), k < 2 || k == GRAIN_COLUMN ? 0 : 1);
      gtk_widget_add_css_class (label, "fw-faint");
      gtk_widget_add_css_class (label, "note");
      gtk_grid_attach (GTK_GRID (grid), label, k, 0, 1, 1);
    }
}

/* Everything new: an entry came or went, or became another kind of bar. */
static void
table_rebuild (StockTable *self, const FwStock *stock)
{
  const char *bars[] = { C_ ("stock", "Name"), C_ ("stock", "Material"), C_ ("heading of a column", "⌀, width"), C_ ("heading of a column", "Wall, thick"),
                         C_ ("stock", "Length"), C_ ("stock", "Number"), C_ ("stock", "Price"), NULL };
  const char *sheets[] = { C_ ("stock", "Name"), C_ ("stock", "Material"), C_ ("stock", "Thickness"), C_ ("stock", "Width"),
                           C_ ("stock", "Height"), C_ ("stock", "Number"), C_ ("stock", "Price"), C_ ("stock", "Grain"), NULL };
  int n[2] = { stock->n_bars, stock->n_sheets };

  for (guint i = 0; i < self->cells->len; i++)
    if (((const Cell *) self->cells->pdata[i])->entry != NULL)
      fw_entry_let_go (((const Cell *) self->cells->pdata[i])->entry);
  g_ptr_array_set_size (self->cells, 0);
  for (int kind = FW_STOCK_BARS; kind <= FW_STOCK_SHEETS; kind++)
    {
      fw_widget_drop_children (self->grids[kind]);
      gtk_widget_set_visible (self->grids[kind], n[kind] > 0);
      add_head (self->grids[kind], kind == FW_STOCK_BARS ? bars : sheets);
      for (int i = 0; i < n[kind]; i++)
        add_row (self, stock, (FwStockKind) kind, i);
    }
}

static char *
stock_shape (const FwStock *stock)
{
  GString *shape = g_string_new (NULL);
  for (int i = 0; i < stock->n_bars; i++)
    g_string_append_c (shape, stock->bars[i].diameter_mm > 0 ? 'r' : 'f');
  g_string_append_printf (shape, "/%d", stock->n_sheets);
  return g_string_free (shape, FALSE);
}

void
fw_stock_table_update (GtkWidget *table)
{
  StockTable *self = g_object_get_data (G_OBJECT (table), "stock-table");
  FwDocument *doc = table_document (self);
  const FwStock *stock = &fw_document_design (doc)->stock;
  g_autofree char *shape = stock_shape (stock);

  self->updating = TRUE;
  if (g_strcmp0 (shape, self->shape) != 0)
    {
      g_free (self->shape);
      self->shape = g_steal_pointer (&shape);
      table_rebuild (self, stock);
    }
  for (guint i = 0; i < self->cells->len; i++)
    cell_update (self->cells->pdata[i]);
  fw_entry_set (self->kerf, stock->kerf_mm, FALSE, fw_session_lengths (fw_workshop_session (self->workshop)));
  self->updating = FALSE;
}

/* ---- The table ---- */

static void
table_free (gpointer data)
{
  StockTable *self = data;
  g_ptr_array_unref (self->cells);
  g_free (self->shape);
  g_free (self);
}

static GtkWidget *
add_button (StockTable *self, const char *mnemonic, const NewEntry *new_entry)
{
  GtkWidget *button = fw_button_new (mnemonic);
  g_object_set_data (G_OBJECT (button), "new-entry", (gpointer) new_entry);
  g_signal_connect (button, "clicked", G_CALLBACK (on_add), self);
  return button;
}

static void
add_heading (GtkWidget *table, const char *text, GtkWidget *first, GtkWidget *second)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_margin_end (label, 12);
  gtk_widget_add_css_class (label, "fw-section");
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), first);
  if (second != NULL)
    gtk_box_append (GTK_BOX (row), second);
  gtk_box_append (GTK_BOX (table), row);
}

static GtkWidget *
kerf_row (StockTable *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *label = gtk_label_new (_("Lost at a cut"));
  self->kerf = fw_entry_new (FW_UNIT_MM, TRUE, 7, on_kerf, self);
  fw_widget_describe (fw_entry_widget (self->kerf), _("Lost at a cut"), _("The width of the saw’s cut, between pieces of a bar and of a sheet"));
  gtk_widget_set_tooltip_text (fw_entry_widget (self->kerf), _("The width of the saw’s cut, between pieces of a bar and of a sheet"));
  gtk_box_append (GTK_BOX (row), fw_explain_heading (fw_workshop_session (self->workshop), label, fw_explain_find ("kerf")));
  gtk_box_append (GTK_BOX (row), fw_entry_widget (self->kerf));
  return row;
}

GtkWidget *
fw_stock_table_new (FwWorkshop *workshop)
{
  StockTable *self = g_new0 (StockTable, 1);
  GtkWidget *table = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  g_object_set_data_full (G_OBJECT (table), "stock-table", self, table_free);
  self->workshop = workshop;
  self->cells = g_ptr_array_new ();
  for (int kind = 0; kind < 2; kind++)
    {
      self->grids[kind] = gtk_grid_new ();
      gtk_grid_set_row_spacing (GTK_GRID (self->grids[kind]), 6);
      gtk_grid_set_column_spacing (GTK_GRID (self->grids[kind]), 6);
    }
  add_heading (table, _("Bars to cut from"), add_button (self, _("Add a rou_nd bar"), &new_entries[0]),
               add_button (self, _("Add a _flat bar"), &new_entries[1]));
  gtk_box_append (GTK_BOX (table), self->grids[FW_STOCK_BARS]);
  add_heading (table, _("Sheets to cut from"), add_button (self, _("Add a shee_t"), &new_entries[2]), NULL);
  gtk_box_append (GTK_BOX (table), self->grids[FW_STOCK_SHEETS]);
  gtk_box_append (GTK_BOX (table), kerf_row (self));
  return table;
}
