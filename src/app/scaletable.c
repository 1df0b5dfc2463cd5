#include "app/scaletable.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/look.h"
#include "app/widgetstyle.h"
#include "doc/words.h"
#include "draw/style.h"

#define LINE 24 /* px: height of a limit in the picture */
#define AXIS 30
#define LARGE 1.4 /* words so large, and the factors have no room in a column of their own */

static const struct
{
  FwSize size;
  const char *name;
  FwUnit unit; /* NONE: a bare figure with `suffix` */
  const char *suffix;
} figures[] = {
  { FW_SIZE_SPAN, N_ ("Span, tip to tip, flat"), FW_UNIT_MM, NULL },
  { FW_SIZE_AREA, N_ ("Area of all panels"), FW_UNIT_NONE, "m²" },
  { FW_SIZE_WEIGHT, N_ ("Weight of what moves"), FW_UNIT_G, NULL },
  { FW_SIZE_SPEED, N_ ("Speed"), FW_UNIT_TURNS_PER_MINUTE, NULL },
  { FW_SIZE_TORQUE, N_ ("Greatest crank torque"), FW_UNIT_NM, NULL },
  { FW_SIZE_HANDLE, N_ ("Greatest push at the handle"), FW_UNIT_N, NULL },
  { FW_SIZE_POWER, N_ ("Greatest power"), FW_UNIT_NONE, "W" },
  { FW_SIZE_KNOCK, N_ ("Greatest load of a rod"), FW_UNIT_N, NULL },
  { FW_SIZE_SAG, N_ ("Greatest sag"), FW_UNIT_MM, NULL },
  { FW_SIZE_STRESS, N_ ("Stress over what is allowed"), FW_UNIT_NONE, "" },
  { FW_SIZE_BUCKLING, N_ ("Push over Euler's load"), FW_UNIT_NONE, "" },
  { FW_SIZE_NATURAL, N_ ("Lowest natural frequency"), FW_UNIT_HZ, NULL },
  { FW_SIZE_CALM, N_ ("Vibrations in one turn"), FW_UNIT_NONE, "" },
  { FW_SIZE_TILT, N_ ("Slope at which it tips"), FW_UNIT_DEG, NULL },
};

static const char without_limit[] = N_ ("Without limit: it gives way, because a rod is pushed past Euler's load or the crank cannot go all round.");

struct _FwScaleTable
{
  GtkWidget parent_instance;

  FwLengths lengths;
  FwTheme theme;
  const FwScaleAnswer *answer;
  GtkWidget *names[G_N_ELEMENTS (figures)], *cells[G_N_ELEMENTS (figures)][3];
  GtkWidget *heading, *untold, *picture, *words;
};

G_DEFINE_FINAL_TYPE (FwScaleTable, fw_scale_table, GTK_TYPE_WIDGET)

/* ---- Figures ---- */

static char *
figure (int i, double value, FwLengths lengths)
{
  if (isnan (value))
    return g_strdup ("–");
  if (isinf (value))
    return g_strdup (C_ ("a load", "without limit"));
  if (figures[i].unit == FW_UNIT_MM)
    return fw_units_format (value, FW_UNIT_MM, lengths, value < 10 ? 2 : 0);
  gboolean heavy = figures[i].unit == FW_UNIT_G && fabs (value) >= 1000;
  double shown = heavy ? value / 1000 : value;
  int digits = shown == 0 ? 0 : CLAMP (2 - (int) floor (log10 (fabs (shown))), 0, 4);
  const char *unit = heavy                                  ? _ ("kg")
                     : figures[i].unit == FW_UNIT_NONE ? figures[i].suffix
                                                       : fw_units_symbol (figures[i].unit, lengths);
  return g_strdup_printf ("%.*f%s%s", digits, shown, *unit && figures[i].unit != FW_UNIT_DEG ? " " : "", unit);
}

static void
table_say (FwScaleTable *self)
{
  const FwScaleAnswer *a = self->answer;
  gboolean untold = FALSE, no_loads = a->before.value[FW_SIZE_WEIGHT] == 0 && a->after.value[FW_SIZE_WEIGHT] == 0;
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      double before = a->before.value[figures[i].size], after = a->after.value[figures[i].size];
      gboolean load = figures[i].size == FW_SIZE_WEIGHT || figures[i].size == FW_SIZE_KNOCK;
      gboolean known = (!isnan (before) || !isnan (after)) && !(load && no_loads);
      g_autofree char *x = figure ((int) i, before, self->lengths), *y = figure ((int) i, after, self->lengths);
      gboolean bounded = isfinite (before) && isfinite (after);
      g_autofree char *times = before > 0 && after > 0 && bounded ? g_strdup_printf ("× %.3g", after / before) : g_strdup ("");
      const char *const texts[3] = { x, y, times };
      gtk_widget_set_visible (self->names[i], known);
      untold = untold || isinf (before) || isinf (after);
      for (int k = 0; k < 3; k++)
        {
          gtk_widget_set_visible (self->cells[i][k], known);
          gtk_label_set_text (GTK_LABEL (self->cells[i][k]), texts[k]);
        }
      /* Translators: a quantity; at the present size; at the other; how many times as much. */
      g_autofree char *line = g_strdup_printf (_ ("%s: now %s, then %s %s"), _ (figures[i].name), x, y, times);
      fw_widget_describe (self->cells[i][1], line, NULL);
    }
  gtk_widget_set_visible (self->untold, untold || no_loads);
  gtk_label_set_text (GTK_LABEL (self->untold), no_loads ? _ ("No loads: nothing in this design has a mass, or it cannot be assembled anywhere.") : _ (without_limit));
}

/* ---- What stops first ---- */

static void
limits_say (FwScaleTable *self)
{
  const FwScaleAnswer *a = self->answer;
  GString *text = g_string_new (NULL);

  for (int i = 0; i < a->n_limits; i++)
    {
      /* Translators: a factor of size, a kind of trouble such as "may buckle", a part. */
      g_string_append_printf (text, _ ("From %.2f times: %s, %s."), a->limits[i].factor,
                              fw_words_trouble_short (a->limits[i].kind), fw_words_part (a->mech, a->limits[i].part));
      for (int k = 0; k < a->n_remedies[i]; k++)
        {
          g_autofree char *remedy = fw_words_remedy (a->mech->design, &a->remedies[i][k], self->lengths);
          g_string_append_c (text, '\n');
          g_string_append_printf (text, _ ("    Mends it at full size: %s"), remedy);
        }
      g_string_append_c (text, '\n');
    }
  g_string_append (text, a->n_limits == 0
                             ? _ ("Nothing stops working up to this size that worked before.")
                             : _ ("Weigh what you can. What hangs over people, tips or is driven by a motor is a matter "
                                  "for local codes and licensed practice, and more so the bigger it gets."));
  gtk_label_set_text (GTK_LABEL (self->words), text->str);
  fw_widget_describe (self->picture, _ ("What stops working first, on a scale from 1 to the factor"), text->str);
  gtk_widget_set_visible (self->picture, a->n_limits > 0);
  gtk_widget_set_size_request (self->picture, -1, AXIS + LINE * a->n_limits);
  g_string_free (text, TRUE);
}

typedef struct
{
  double left, right, from, to; /* px; natural logarithms of the factors there */
} Scale;

static double
scale_x (const Scale *s, double factor)
{
  double t = s->to == s->from ? 0 : (log (factor) - s->from) / (s->to - s->from);
  return s->left + CLAMP (t, 0, 1) * (s->right - s->left);
}

static void
paint_words (cairo_t *cr, GtkWidget *widget, double x, double y, double align, const char *text)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);
  int width, height;
  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, x - align * width, y - height / 2.0);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
}

static void
paint_axis (cairo_t *cr, GtkWidget *widget, const Scale *s, const FwStyle *style, double factor, int height)
{
  static const double ticks[] = { 0.1, 0.15, 0.2, 0.3, 0.5, 0.7, 1, 1.5, 2, 3, 4, 5, 7, 10, 15, 20, 30, 50, 100 };
  double low = fmin (1, factor), high = fmax (1, factor), last = -100;
  cairo_set_line_width (cr, 1);
  for (gsize i = 0; i < G_N_ELEMENTS (ticks); i++)
    {
      double x = scale_x (s, ticks[i]);
      if (ticks[i] < low * 0.999 || ticks[i] > high * 1.001 || fabs (x - last) < 44)
        continue;
      g_autofree char *text = g_strdup_printf ("%g×", ticks[i]);
      last = x;
      cairo_move_to (cr, round (x) + 0.5, AXIS - 8);
      cairo_line_to (cr, round (x) + 0.5, height);
      fw_set_colour (cr, style->grid);
      cairo_stroke (cr);
      fw_set_colour (cr, style->faint_ink);
      paint_words (cr, widget, x, 10, ticks[i] == low ? 0 : ticks[i] == high ? 1 : 0.5, text);
    }
  cairo_move_to (cr, s->left, AXIS - 5.5);
  cairo_line_to (cr, s->right, AXIS - 5.5);
  fw_set_colour (cr, style->ink);
  cairo_stroke (cr);
}

/* Works up to its factor; from there on it does not: a hatched bar to the right end. */
static void
paint_limit (cairo_t *cr, FwScaleTable *self, const Scale *s, const FwStyle *style, int i)
{
  const FwScaleLimit *limit = &self->answer->limits[i];
  double x = scale_x (s, limit->factor), y = AXIS + LINE * i, end = scale_x (s, self->answer->factor);
  double left = fmin (x, end), right = fmax (x, end), top = y + 4, height = LINE - 8;
  cairo_save (cr);
  cairo_rectangle (cr, left, top, fmax (right - left, 2), height);
  fw_set_colour (cr, fw_colour_fade (style->trouble, 0.16));
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  for (double h = left - height; h < right; h += 6)
    {
      cairo_move_to (cr, h, top + height);
      cairo_line_to (cr, h + height, top);
    }
  fw_set_colour (cr, fw_colour_fade (style->trouble, 0.55));
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_restore (cr);
  cairo_rectangle (cr, x - 1.5, y + 2, 3, LINE - 4);
  fw_set_colour (cr, style->trouble);
  cairo_fill (cr);
  g_autofree char *text = g_strdup_printf ("%.2f×  %s, %s", limit->factor, fw_words_trouble_short (limit->kind),
                                           fw_words_part (self->answer->mech, limit->part));
  gboolean beside = x - s->left > (s->right - s->left) / 2;
  PangoLayout *layout = gtk_widget_create_pango_layout (self->picture, text);
  int width, line;
  pango_layout_get_pixel_size (layout, &width, &line);
  double at = beside ? x - 8 - width : x + 8;
  if (!beside)
    {
      cairo_rectangle (cr, at - 3, top, width + 6, height);
      fw_set_colour (cr, style->ground);
      cairo_fill (cr);
    }
  fw_set_colour (cr, style->ink);
  cairo_move_to (cr, at, y + (LINE - line) / 2.0);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
}

static void
on_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwScaleTable *self = data;
  FwStyle style = fw_style (self->theme, 1);
  if (self->answer == NULL || self->answer->error != NULL)
    return;
  double factor = self->answer->factor;
  Scale scale = { 6, width - 6, log (fmin (1, factor)), log (fmax (1, factor)) };
  paint_axis (cr, GTK_WIDGET (area), &scale, &style, factor, height);
  for (int i = 0; i < self->answer->n_limits; i++)
    paint_limit (cr, self, &scale, &style, i);
}

/* ---- Object ---- */

void
fw_scale_table_show (FwScaleTable *self, const FwScaleAnswer *answer)
{
  self->answer = answer;
  gboolean known = answer != NULL && answer->error == NULL;
  gtk_widget_set_visible (self->heading, known);
  gtk_widget_set_visible (self->picture, known);
  if (known)
    {
      table_say (self);
      limits_say (self);
    }
  else
    gtk_label_set_text (GTK_LABEL (self->words), answer != NULL ? answer->error : "");
  gtk_widget_queue_draw (self->picture);
}

void
fw_scale_table_set_stale (FwScaleTable *self, gboolean stale)
{
  gtk_widget_set_opacity (GTK_WIDGET (self), stale ? 0.45 : 1);
}

static void
table_dispose (GObject *object)
{
  fw_widget_drop_children (GTK_WIDGET (object));
  G_OBJECT_CLASS (fw_scale_table_parent_class)->dispose (object);
}

static void
fw_scale_table_class_init (FwScaleTableClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  G_OBJECT_CLASS (class)->dispose = table_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
label_at (GtkGrid *grid, int column, int row, int rows, const char *text, float align, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), align);
  if (style != NULL)
    gtk_widget_add_css_class (label, style);
  gtk_grid_attach (grid, label, column, row, 1, rows);
  return label;
}

static GtkWidget *
figures_grid (FwScaleTable *self)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  const int rows = fw_desktop_text () > LARGE ? 2 : 1; /* of one figure: the factor stands below it, or beside it */
  gtk_grid_set_column_spacing (grid, 18);
  gtk_grid_set_row_spacing (grid, rows == 2 ? 0 : 3);
  label_at (grid, 1, 0, 1, C_ ("heading of a column", "Now"), 1, "fw-section");
  label_at (grid, 2, 0, 1, C_ ("heading of a column", "Then"), 1, "fw-section");
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      int row = (int) i * rows + 1;
      self->names[i] = label_at (grid, 0, row, rows, _ (figures[i].name), 0, NULL);
      gtk_widget_set_hexpand (self->names[i], TRUE);
      gtk_label_set_wrap (GTK_LABEL (self->names[i]), TRUE); /* long in some languages: the figures stay in sight */
      for (int k = 0; k < 2; k++)
        self->cells[i][k] = label_at (grid, k + 1, row, k == 0 ? rows : 1, "", 1, "numeric");
      self->cells[i][2] = label_at (grid, rows == 2 ? 2 : 3, row + rows - 1, 1, "", 1, "fw-faint");
      if (rows == 2) /* together, however many lines the name has */
        {
          gtk_widget_set_valign (self->cells[i][1], GTK_ALIGN_END);
          gtk_widget_set_valign (self->cells[i][2], GTK_ALIGN_START);
        }
      if (figures[i].size == FW_SIZE_POWER)
        for (int k = 0; k < 2; k++)
          gtk_widget_add_css_class (self->cells[i][k], "heading");
    }
  return GTK_WIDGET (grid);
}

static void
fw_scale_table_init (FwScaleTable *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkWidget *title = gtk_label_new (_ ("What stops working first")), *grid;

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 12);
  fw_widget_style_add ();
  self->heading = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  grid = figures_grid (self);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "fw-section");
  self->untold = fw_note_label ("");
  gtk_box_append (GTK_BOX (self->heading), grid);
  gtk_box_append (GTK_BOX (self->heading), self->untold);
  gtk_box_append (GTK_BOX (self->heading), title);
  self->picture = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->picture), on_paint, self, NULL);
  self->words = fw_note_label ("");
  gtk_widget_remove_css_class (self->words, "note");
  gtk_widget_set_parent (self->heading, GTK_WIDGET (self));
  gtk_widget_set_parent (self->picture, GTK_WIDGET (self));
  gtk_widget_set_parent (self->words, GTK_WIDGET (self));
  fw_scale_table_show (self, NULL);
}

GtkWidget *
fw_scale_table_new (FwLengths lengths, FwTheme theme)
{
  FwScaleTable *self = g_object_new (FW_TYPE_SCALE_TABLE, NULL);
  self->lengths = lengths;
  self->theme = theme;
  return GTK_WIDGET (self);
}
