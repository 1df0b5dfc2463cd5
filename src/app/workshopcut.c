/* The cut list: what is cut, from what, how it is laid, what to mark and in which order it goes together. */
#include "app/workshopprivate.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/reveal.h"
#include "app/widgetstyle.h"
#include "app/widtharea.h"
#include "doc/files.h"
#include "shop/cutdraw.h"
#include "shop/cutwrite.h"

#define LAYOUTS_LEAST 330
#define LAYOUT_LEAST 200
#define FIRST 48 /* lines, more than most designs have */
#define MORE 16

typedef struct
{
  FwWorkshop *workshop; /* borrowed: it holds the page */
  GtkWidget *words, *layouts, *caution;
} CutPage;

static CutPage *
page_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), "cut-page");
}

/* ---- The table ---- */

enum { LETTER, PART, SIZE, COUNT, MASS, N_COLUMNS };

static GtkWidget *
cell (GtkGrid *grid, int column, int row, const char *text, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), column >= SIZE ? 1 : 0);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_grid_attach (grid, label, column, row, 1, 1);
  return label;
}

static char *
size_text (const FwCutPiece *piece, FwLengths lengths)
{
  g_autofree char *length = fw_units_format (piece->length_mm, FW_UNIT_MM, lengths, -1);
  if (piece->shape == FW_CUT_BAR)
    return g_steal_pointer (&length);
  g_autofree char *bare = fw_units_format_bare (piece->length_mm, FW_UNIT_MM, lengths, -1);
  g_autofree char *width = fw_units_format (piece->width_mm, FW_UNIT_MM, lengths, -1);
  return g_strdup_printf ("%s × %s", bare, width);
}

static char *
mass_text (double g)
{
  return isnan (g) ? g_strdup ("–") : fw_units_format (g, FW_UNIT_G, FW_LENGTHS_MM, g < 10 ? 1 : 0);
}

/* Its name, and what is said of it below, wrapped. */
static GtkWidget *
part_cell (const FwCutPiece *piece)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *name = gtk_label_new (piece->part);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_box_append (GTK_BOX (box), name);
  if (piece->note != NULL)
    {
      GtkWidget *note = fw_note_label (piece->note);
      gtk_widget_add_css_class (note, "fw-faint");
      gtk_box_append (GTK_BOX (box), note);
    }
  gtk_widget_set_hexpand (box, TRUE);
  return box;
}

static void
add_piece (GtkGrid *grid, int row, const FwCutPiece *piece, FwLengths lengths)
{
  g_autofree char *size = size_text (piece, lengths), *mass = mass_text (piece->mass_g * piece->count);
  /* Translators: how many of a part are made: "2 ×" */
  g_autofree char *count = g_strdup_printf (C_ ("how many are made", "%d ×"), piece->count);
  cell (grid, LETTER, row, piece->made.letter, "fw-letter");
  gtk_grid_attach (grid, part_cell (piece), PART, row, 1, 1);
  cell (grid, SIZE, row, size, "numeric");
  cell (grid, COUNT, row, count, "numeric");
  cell (grid, MASS, row, mass, "numeric");
}

/* "2 bars of tube 10, 12.80; no layout uses fewer" under the name of the stuff. */
static char *
use_text (const FwCutList *list, const FwStock *stock, const FwCutPiece *piece)
{
  for (int i = 0; i < list->n_uses; i++)
    {
      const FwCutUse *use = &list->uses[i];
      if (use->shape != piece->shape || use->stock != piece->stock)
        continue;
      const char *name = use->shape == FW_CUT_BAR ? stock->bars[use->stock].name : stock->sheets[use->stock].name;
      g_autofree char *from
          = use->shape == FW_CUT_BAR
                /* Translators: %d bars of the stock called %s */
                ? g_strdup_printf (ngettext ("%d bar of %s", "%d bars of %s", (gulong) use->used), use->used, name)
                /* Translators: %d sheets of the stock called %s */
                : g_strdup_printf (ngettext ("%d sheet of %s", "%d sheets of %s", (gulong) use->used), use->used, name);
      if (isnan (use->cost))
        return g_steal_pointer (&from);
      /* Translators: bars or sheets, and what they cost in whatever money: "2 bars of tube 10, cost 12.80" */
      return g_strdup_printf (_("%s, cost %.2f"), from, use->cost);
    }
  return piece->stock < 0 ? g_strdup (_("none in the stock")) : NULL;
}

static void
add_group (GtkGrid *grid, int row, const FwCutList *list, const FwStock *stock, const FwCutPiece *piece)
{
  GtkWidget *what = gtk_label_new (piece->what);
  g_autofree char *use = use_text (list, stock, piece);
  GtkWidget *from = gtk_label_new (use);

  gtk_label_set_xalign (GTK_LABEL (what), 0);
  gtk_label_set_wrap (GTK_LABEL (what), TRUE);
  gtk_widget_add_css_class (what, "shop-group");
  gtk_grid_attach (grid, what, LETTER, row, 2, 1);
  gtk_label_set_xalign (GTK_LABEL (from), 1);
  gtk_label_set_wrap (GTK_LABEL (from), TRUE);
  gtk_widget_set_valign (from, GTK_ALIGN_END);
  gtk_widget_add_css_class (from, "shop-group");
  gtk_widget_add_css_class (from, "fw-faint");
  gtk_grid_attach (grid, from, SIZE, row, 3, 1);
}

static GtkWidget *
table_new (const FwCutList *list, const FwStock *stock, FwLengths lengths)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  int row = 0;

  gtk_grid_set_column_spacing (grid, 12);
  gtk_grid_set_row_spacing (grid, 6);
  for (int i = 0; i < list->n_pieces; i++)
    {
      gboolean said = FALSE;
      for (int k = 0; k < i && !said; k++)
        said = g_str_equal (list->pieces[k].what, list->pieces[i].what);
      if (said)
        continue;
      add_group (grid, row++, list, stock, &list->pieces[i]);
      for (int k = i; k < list->n_pieces; k++)
        if (g_str_equal (list->pieces[k].what, list->pieces[i].what))
          add_piece (grid, row++, &list->pieces[k], lengths);
    }
  return GTK_WIDGET (grid);
}

/* ---- Sentences ---- */

static void
add_heading (GtkWidget *box, const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "fw-section");
  gtk_widget_set_margin_top (label, 12);
  gtk_box_append (GTK_BOX (box), label);
}

static void
add_sentence (GtkWidget *box, const char *text)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_box_append (GTK_BOX (box), label);
}

static void
add_sentences (GtkWidget *box, const char *heading, char **sentences, gboolean numbered)
{
  if (sentences[0] == NULL)
    return;
  add_heading (box, heading);
  for (int i = 0; sentences[i] != NULL; i++)
    {
      /* Translators: a numbered sentence */
      g_autofree char *text = numbered ? g_strdup_printf (C_ ("numbered", "%d. %s"), i + 1, sentences[i]) : NULL;
      add_sentence (box, text != NULL ? text : sentences[i]);
    }
}

static void
add_fittings (GtkWidget *box, const FwCutList *list)
{
  if (list->n_fittings == 0)
    return;
  add_heading (box, _("Fittings"));
  for (int i = 0; i < list->n_fittings; i++)
    {
      const FwCutFitting *fitting = &list->fittings[i];
      /* Translators: how many, what, its size */
      g_autofree char *text = g_strdup_printf (C_ ("a fitting", "%d × %s, %s"), fitting->count, fitting->what, fitting->size);
      add_sentence (box, text);
    }
}

static void
add_sum (GtkWidget *box, const FwCutList *list)
{
  g_autofree char *mass = mass_text (list->mass_g);
  g_autofree char *weight
      = g_strdup_printf (list->all_weighed ? _("Weight of what is cut: %s") : _("Weight of what is cut, as far as known: %s"), mass);
  add_heading (box, _("All together"));
  add_sentence (box, weight);
  if (isnan (list->cost))
    return;
  g_autofree char *cost = g_strdup_printf (list->all_priced ? _("Cost of the stock used: %.2f")
                                                            : _("Cost of the stock used, as far as priced: %.2f"),
                                           list->cost);
  add_sentence (box, cost);
}

/* ---- Bars and sheets as laid ---- */

static void
layout_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const CutPage *self = data;
  const FwLaid *laid = fw_workshop_laid (self->workshop);
  int nth = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), "nth"));
  if (laid == NULL || nth >= fw_laid_cut (laid)->n_layouts)
    return;
  const FwCutList *list = fw_laid_cut (laid);
  const FwCutLayout *layout = &list->layouts[nth];
  FwStyle style = fw_workshop_style (self->workshop, 1);
  double scale = fw_cut_layout_scale (list, &laid->design->stock, layout->shape, width, &style);
  fw_cut_layout_draw (cr, list, laid->design, layout, width, scale, &style);
}

static int
layout_height (FwWidthArea *area, int width, gpointer data)
{
  const CutPage *self = data;
  const FwLaid *laid = fw_workshop_laid (self->workshop);
  int nth = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), "nth"));
  if (laid == NULL || nth >= fw_laid_cut (laid)->n_layouts)
    return 0;
  const FwCutList *list = fw_laid_cut (laid);
  const FwCutLayout *layout = &list->layouts[nth];
  FwStyle style = fw_workshop_style (self->workshop, 1);
  double scale = fw_cut_layout_scale (list, &laid->design->stock, layout->shape, width, &style);
  return (int) ceil (fw_cut_layout_height (list, &laid->design->stock, layout, scale, &style));
}

static GtkWidget *
layout_new (CutPage *self, const FwLaid *laid, int nth)
{
  const FwCutList *list = fw_laid_cut (laid);
  GtkWidget *area = fw_width_area_new (LAYOUT_LEAST, layout_height, layout_paint, self);
  g_autofree char *words
      = fw_cut_layout_words (list, &laid->design->stock, &list->layouts[nth], laid->order.lengths);

  g_object_set_data (G_OBJECT (area), "nth", GINT_TO_POINTER (nth));
  fw_widget_describe (area, words, NULL);
  gtk_widget_set_tooltip_text (area, words);
  return area;
}

static void
add_layouts (CutPage *self, const FwLaid *laid)
{
  const FwCutList *list = fw_laid_cut (laid);

  fw_widget_drop_children (self->layouts);
  for (int shape = FW_CUT_BAR; shape <= FW_CUT_SHEET; shape++)
    {
      gboolean headed = FALSE;
      for (int i = 0; i < list->n_layouts; i++)
        {
          if (list->layouts[i].shape != (FwCutShape) shape)
            continue;
          if (!headed)
            add_heading (self->layouts, shape == FW_CUT_BAR ? _("Bars, as they are cut") : _("Sheets, as they are cut"));
          headed = TRUE;
          gtk_box_append (GTK_BOX (self->layouts), layout_new (self, laid, i));
        }
    }
  if (list->n_layouts > 0)
    return;
  add_sentence (self->layouts, _("Nothing is laid out: the stock has no bars or sheets for these parts. Crank and stock, the last page, is where they go."));
  gtk_widget_set_margin_top (gtk_widget_get_last_child (self->layouts), 12); /* as the headings beside it */
}

/* ---- The page ---- */

static void
on_laid (GtkWidget *page, const FwLaid *laid)
{
  CutPage *self = page_of (page);
  const FwCutList *list = fw_laid_cut (laid);

  fw_workshop_caution_set (self->caution, list->problems, (int) g_strv_length (list->problems));
  fw_widget_drop_children (self->words);
  GtkWidget *table = table_new (list, &laid->design->stock, laid->order.lengths);
  gtk_box_append (GTK_BOX (self->words), table);
  add_fittings (self->words, list);
  add_sum (self->words, list);
  add_sentences (self->words, _("Settings to mark"), list->settings, FALSE);
  add_sentences (self->words, _("Order of assembly"), list->assembly, TRUE);
  add_sentences (self->words, _("Notes"), list->notes, FALSE);
  add_layouts (self, laid);
  fw_reveal_slowly (table, FIRST * N_COLUMNS, MORE * N_COLUMNS);
  fw_reveal_slowly (self->words, FIRST, MORE);
}

static void
on_display (GtkWidget *page, FwWorkshop *workshop)
{
  GtkWidget *child = gtk_widget_get_first_child (page_of (page)->layouts);
  for (; child != NULL; child = gtk_widget_get_next_sibling (child))
    gtk_widget_queue_resize (child); /* words may be larger now */
}

static void
on_copy (CutPage *self)
{
  const FwLaid *laid = fw_workshop_laid (self->workshop);
  if (laid == NULL)
    return;
  g_autofree char *text = fw_cut_list_text (fw_laid_cut (laid), &laid->design->stock, laid->order.lengths);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self->workshop)), text);
  fw_message_bar_note (fw_workshop_messages (self->workshop), _("The cut list is copied as text"));
}

static gboolean
write_csv (const FwLaid *laid, const char *path, const FwProgress *progress, char **done, GError **error)
{
  g_autofree char *text = fw_cut_list_csv (fw_laid_cut (laid));
  return fw_file_replace (path, text, strlen (text), error);
}

static gboolean
write_json (const FwLaid *laid, const char *path, const FwProgress *progress, char **done, GError **error)
{
  g_autofree char *text = fw_cut_list_json (fw_laid_cut (laid), &laid->design->stock);
  return fw_file_replace (path, text, strlen (text), error);
}

static void
on_csv (CutPage *self)
{
  const FwWorkshopExport what = { _("Export the cut list as a table"), _("Tables (CSV)"), ".csv", "-cut", write_csv };
  fw_workshop_export (self->workshop, &what);
}

static void
on_json (CutPage *self)
{
  const FwWorkshopExport what = { _("Export the cut list as JSON"), _("JSON files"), ".json", "-cut", write_json };
  fw_workshop_export (self->workshop, &what);
}

static GtkWidget *
scrolled (GtkWidget *child, const char *name)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), child);
  gtk_widget_set_focusable (scroller, TRUE);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_widget_add_css_class (child, "shop-column");
  fw_widget_describe (scroller, name, NULL);
  return scroller;
}

GtkWidget *
fw_workshop_cut_new (FwWorkshop *workshop)
{
  static const FwWorkshopPage calls = { on_laid, on_display };
  CutPage *self = g_new0 (CutPage, 1);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *foot = fw_workshop_foot ();
  GtkWidget *split = g_object_new (GTK_TYPE_PANED, "accessible-role", GTK_ACCESSIBLE_ROLE_GROUP, NULL);
  GtkWidget *left, *right;

  g_object_set_data_full (G_OBJECT (page), "cut-page", self, g_free);
  fw_workshop_page_set (page, &calls);
  self->workshop = workshop;
  self->caution = fw_workshop_caution ();
  self->words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->layouts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  left = scrolled (self->words, _("Parts, settings and order of assembly"));
  right = scrolled (self->layouts, _("Bars and sheets as they are cut"));
  gtk_widget_set_size_request (left, 420, -1);
  gtk_widget_set_size_request (right, LAYOUTS_LEAST, -1);
  gtk_paned_set_start_child (GTK_PANED (split), left);
  gtk_paned_set_end_child (GTK_PANED (split), right);
  gtk_paned_set_shrink_start_child (GTK_PANED (split), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (split), FALSE);
  gtk_paned_set_position (GTK_PANED (split), 600);
  fw_widget_describe (split, _("Parts and cuts"), NULL);
  gtk_box_append (GTK_BOX (page), self->caution);
  gtk_box_append (GTK_BOX (page), split);
  fw_workshop_page_set_first (page, left);
  fw_workshop_foot_gap (foot);
  fw_workshop_foot_button (foot, _("_Copy as text"), G_CALLBACK (on_copy), self);
  fw_workshop_foot_button (foot, _("Export _table…"), G_CALLBACK (on_csv), self);
  fw_workshop_foot_button (foot, _("Export _JSON…"), G_CALLBACK (on_json), self);
  gtk_box_append (GTK_BOX (page), foot);
  return page;
}
