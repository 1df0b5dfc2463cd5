#include "app/tolerancerow.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/controls.h"
#include "app/explain.h"
#include "app/look.h"
#include "app/tolerancesession.h"
#include "app/widgetstyle.h"
#include "doc/words.h"
#include "draw/style.h"

#define BAR_HEIGHT 10

struct _FwToleranceRow
{
  GtkListBoxRow parent_instance;

  FwSession *session; /* owned */
  FwParam param;
  char *name;
  FwToleranceShare share;
  double spread;
  gboolean stated;
  gboolean gone; /* its number may be another's by now */
  GtkWidget *title, *figure, *bar, *entry, *back, *fault;
};

G_DEFINE_FINAL_TYPE (FwToleranceRow, fw_tolerance_row, GTK_TYPE_LIST_BOX_ROW)

FwParam
fw_tolerance_row_param (FwToleranceRow *self)
{
  return self->param;
}

double
fw_tolerance_row_share (FwToleranceRow *self)
{
  return self->share.share[0] + self->share.share[1] + self->share.share[2];
}

static gboolean
row_typing (FwToleranceRow *self)
{
  return gtk_widget_get_focus_child (self->entry) != NULL || gtk_widget_has_focus (self->entry);
}

/* ---- Bar ---- */

/* Right-hand, middle and left-hand pieces behind each other; the left-hand ones paler and hatched. */
static void
on_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwToleranceRow *self = data;
  FwStyle style = fw_session_style (self->session, 1);
  double x = 0, scale = self->share.most > 0 ? width / self->share.most : 0;

  cairo_rectangle (cr, 0, height - 1, width, 1);
  fw_set_colour (cr, style.grid);
  cairo_fill (cr);
  for (int i = 0; i < 3; i++)
    {
      double length = self->share.share[i] * scale;
      if (length < 0.5)
        continue;
      cairo_rectangle (cr, x, 0, fmax (length - 1, 0.5), height);
      fw_set_colour (cr, fw_colour_fade (style.motion, i == 2 ? 0.45 : 0.9));
      cairo_fill_preserve (cr);
      cairo_save (cr);
      cairo_clip (cr);
      for (double h = x - height; i == 2 && h < x + length; h += 5)
        {
          cairo_move_to (cr, h, height);
          cairo_line_to (cr, h + height, 0);
        }
      fw_set_colour (cr, style.ground);
      cairo_set_line_width (cr, 1);
      cairo_stroke (cr);
      cairo_restore (cr);
      x += length;
    }
}

/* ---- Words ---- */

static char *
percent (double share)
{
  /* Translators: a percentage with one digit */
  return g_strdup_printf (_ ("%.1f %%"), 100 * share);
}

static void
row_say (FwToleranceRow *self)
{
  g_autofree char *spread = fw_units_format (self->spread, fw_param_unit (self->param),
                                             fw_session_lengths (self->session), -1);
  g_autofree char *share = percent (fw_tolerance_row_share (self));
  g_autofree char *stops = percent (self->share.stops);
  g_autofree char *right = percent (self->share.share[0]);
  g_autofree char *left = percent (self->share.share[2]);
  gboolean sides = self->share.share[0] > 0 || self->share.share[2] > 0;
  /* Translators: a number, its spread, its share in the differences between pieces. */
  g_autofree char *label = self->share.known ? g_strdup_printf (_ ("%s ± %s: %s of the differences"), self->name, spread, share)
                                             : g_strdup_printf (_ ("%s ± %s"), self->name, spread);
  g_autofree char *more = !self->share.known ? g_strdup (_ ("Not known yet."))
                          : sides
                              ? g_strdup_printf (_ ("Right-hand piece %s, left-hand piece %s; %s of what decides whether it goes "
                                                    "round. Enter goes to the number."), right, left, stops)
                              : g_strdup_printf (_ ("%s of what decides whether it goes round. Enter goes to the number."), stops);

  gtk_label_set_text (GTK_LABEL (self->figure), self->share.known ? share : "");
  gtk_widget_set_tooltip_text (self->bar, more);
  fw_widget_describe (GTK_WIDGET (self), label, more);
}

void
fw_tolerance_row_set_share (FwToleranceRow *self, const FwToleranceShare *share)
{
  self->share = *share;
  row_say (self);
  gtk_widget_queue_draw (self->bar);
}

/* The part may have another name by now. */
static void
row_name (FwToleranceRow *self)
{
  g_free (self->name);
  self->name = fw_param_label (fw_document_design (fw_session_document (self->session)), self->param);
  gtk_label_set_text (GTK_LABEL (self->title), self->name);
}

static void
row_tell_stated (FwToleranceRow *self)
{
  const char *where = self->stated ? _ ("stated in the design; empty takes it back to the default") : _ ("the default; type another");
  /* Translators: a number. */
  g_autofree char *label = g_strdup_printf (_ ("Spread of %s"), self->name);

  gtk_widget_set_tooltip_text (self->entry, where);
  fw_widget_describe (self->entry, label, where);
  if (self->stated)
    gtk_widget_remove_css_class (self->entry, "default-value");
  else
    gtk_widget_add_css_class (self->entry, "default-value");
  gtk_widget_set_visible (self->back, self->stated);
}

static void
row_write (FwToleranceRow *self)
{
  FwUnit unit = fw_param_unit (self->param);
  g_autofree char *text = fw_units_format (self->spread, unit, fw_session_lengths (self->session), -1);

  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_widget_remove_css_class (self->entry, "error");
  gtk_widget_set_visible (self->fault, FALSE);
  row_tell_stated (self);
}

void
fw_tolerance_row_set_spread (FwToleranceRow *self, double spread, gboolean stated)
{
  self->spread = spread;
  self->stated = stated;
  row_name (self);
  if (row_typing (self))
    row_tell_stated (self);
  else
    row_write (self);
  row_say (self);
}

/* ---- Edits ---- */

static void
row_refuse (FwToleranceRow *self, const char *why)
{
  gtk_widget_add_css_class (self->entry, "error");
  gtk_label_set_text (GTK_LABEL (self->fault), why);
  gtk_widget_set_visible (self->fault, TRUE);
}

static void
row_take (FwToleranceRow *self)
{
  if (self->session == NULL || self->gone)
    return;
  g_autoptr (FwToleranceRow) kept = g_object_ref (self); /* an edit may take this row away */
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  FwUnit unit = fw_param_unit (self->param);
  g_autofree char *shown = fw_units_format (self->spread, unit, fw_session_lengths (self->session), -1);
  g_autoptr (GError) error = NULL;
  double value = 0;

  if (g_str_equal (text, shown)) /* not typed: nothing is stated by passing through */
    {
      row_write (self);
      return;
    }
  if (*text == '\0')
    {
      if (self->stated)
        fw_session_set_spread (self->session, self->param, -1);
      row_write (self);
      return;
    }
  if (!fw_units_parse (text, unit, fw_session_lengths (self->session), &value, &error))
    row_refuse (self, error->message);
  else if (!(value >= 0 && value < 1e6))
    row_refuse (self, _ ("A spread of 0 or more was expected."));
  else
    {
      self->spread = value;
      self->stated = TRUE;
      row_write (self);
      fw_session_set_spread (self->session, self->param, value);
    }
}

static void
on_back (FwToleranceRow *self)
{
  g_autoptr (FwToleranceRow) kept = g_object_ref (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  fw_session_set_spread (self->session, self->param, -1);
}

void
fw_tolerance_row_let_go (FwToleranceRow *self)
{
  self->gone = TRUE;
}

/* ---- Object ---- */

static void
row_dispose (GObject *object)
{
  FwToleranceRow *self = FW_TOLERANCE_ROW (object);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_tolerance_row_parent_class)->dispose (object);
}

static void
row_finalize (GObject *object)
{
  g_free (FW_TOLERANCE_ROW (object)->name);
  G_OBJECT_CLASS (fw_tolerance_row_parent_class)->finalize (object);
}

static void
fw_tolerance_row_class_init (FwToleranceRowClass *class)
{
  G_OBJECT_CLASS (class)->dispose = row_dispose;
  G_OBJECT_CLASS (class)->finalize = row_finalize;
}

static void
fw_tolerance_row_init (FwToleranceRow *self)
{
}

static GtkWidget *
row_entry (FwToleranceRow *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkWidget *entry = fw_number_entry_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 8);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (row_take), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (row_take), self);
  gtk_widget_add_controller (entry, focus);
  return entry;
}

static void
row_fill (FwToleranceRow *self)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  GtkWidget *sign = gtk_label_new ("±");

  self->title = gtk_label_new (NULL);
  self->figure = gtk_label_new ("");
  self->bar = gtk_drawing_area_new ();
  self->entry = row_entry (self);
  self->back = gtk_button_new_from_icon_name ("edit-clear-symbolic");
  self->fault = fw_note_label ("");
  gtk_label_set_xalign (GTK_LABEL (self->title), 0);
  /* Long in some languages, and cut short it may be any of several: it has two lines. */
  g_object_set (self->title, "wrap", TRUE, "wrap-mode", PANGO_WRAP_WORD_CHAR, "lines", 2, "ellipsize", PANGO_ELLIPSIZE_MIDDLE, NULL);
  gtk_widget_set_hexpand (self->title, TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->figure), 1);
  gtk_widget_add_css_class (self->figure, "numeric");
  gtk_widget_set_size_request (self->bar, 60, BAR_HEIGHT);
  gtk_widget_set_valign (self->bar, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (self->bar, TRUE);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->bar), on_paint, self, NULL);
  gtk_widget_add_css_class (self->back, "flat");
  gtk_widget_set_tooltip_text (self->back, _ ("Back to the default spread"));
  fw_widget_describe (self->back, _ ("Back to the default spread"), NULL);
  g_signal_connect_swapped (self->back, "clicked", G_CALLBACK (on_back), self);
  gtk_widget_add_css_class (self->fault, "error");
  gtk_widget_set_visible (self->fault, FALSE);
  gtk_grid_set_column_spacing (grid, 6);
  gtk_grid_set_row_spacing (grid, 3);
  gtk_grid_attach (grid, self->title, 0, 0, 1, 1);
  gtk_grid_attach (grid, fw_explain_button_new (self->session, GTK_WIDGET (self), fw_explain_find ("spread"), TRUE), 1, 0, 1, 1);
  gtk_grid_attach (grid, self->figure, 2, 0, 2, 1);
  gtk_grid_attach (grid, self->bar, 0, 1, 1, 1);
  gtk_grid_attach (grid, sign, 1, 1, 1, 1);
  gtk_grid_attach (grid, self->entry, 2, 1, 1, 1);
  gtk_grid_attach (grid, self->back, 3, 1, 1, 1);
  gtk_grid_attach (grid, self->fault, 0, 2, 4, 1);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), GTK_WIDGET (grid));
  fw_widget_can_be_pressed (GTK_WIDGET (self));
}

GtkWidget *
fw_tolerance_row_new (FwSession *session, FwParam param)
{
  FwToleranceRow *self = g_object_new (FW_TYPE_TOLERANCE_ROW, NULL);

  self->session = g_object_ref (session);
  self->param = param;
  row_fill (self);
  row_name (self);
  row_say (self);
  return GTK_WIDGET (self);
}

/* ---- What both pages have above them ---- */

static void
on_close (GtkWidget *page)
{
  g_signal_emit_by_name (page, "closed");
}

GtkWidget *
fw_real_heading (GtkWidget *page, const char *title)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *label = gtk_label_new (title);
  GtkWidget *close = gtk_button_new_from_icon_name ("window-close-symbolic");

  gtk_widget_add_css_class (row, "loads-heading");
  gtk_widget_add_css_class (label, "heading");
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (close, "flat");
  gtk_widget_set_tooltip_text (close, _ ("Back to the numbers"));
  fw_widget_describe (close, _ ("Back to the numbers"), NULL);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (on_close), page);
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), close);
  return row;
}

/* ---- What stands above the rows ---- */

char *
fw_tolerance_percent (double share, int digits)
{
  double shown = share < 1 ? fmin (100 * share, 100 - pow (10, -digits)) : 100;
  /* Translators: digits after the point, a percentage. */
  return g_strdup_printf (_ ("%.*f %%"), share == 1 ? 0 : digits, shown);
}

void
fw_tolerance_kinds_fill (GtkWidget *grid, const FwTolerance *t)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (grid)) != NULL)
    gtk_grid_remove (GTK_GRID (grid), child);
  int row = 0;
  for (int k = 0; t != NULL && k < FW_N_TROUBLE_KINDS; k++)
    {
      if (t->kinds[k] == 0)
        continue;
      g_autofree char *share = fw_tolerance_percent ((double) t->kinds[k] / t->runs, 1);
      GtkWidget *name = gtk_label_new (fw_words_trouble_short ((FwTroubleKind) k)), *figure = gtk_label_new (share);
      gtk_label_set_xalign (GTK_LABEL (name), 0);
      gtk_widget_set_hexpand (name, TRUE);
      gtk_widget_add_css_class (figure, "numeric");
      gtk_grid_attach (GTK_GRID (grid), name, 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), figure, 1, row++, 1, 1);
    }
  gtk_widget_set_visible (grid, row > 0);
}
