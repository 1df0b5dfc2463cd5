#include "app/loadspage.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/choose.h"
#include "app/explain.h"
#include "app/look.h"
#include "app/peaktable.h"
#include "app/turnnote.h"
#include "app/widgetstyle.h"
#include "doc/loadwords.h"
#include "draw/torqueplot.h"

#define DEGREES (180 / G_PI)
#define WORDS_MS 300
#define PLOT_HEIGHT 268

struct _FwLoadsPage
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *plot, *save, *table;
  guint words; /* timeout */
};

G_DEFINE_FINAL_TYPE (FwLoadsPage, fw_loads_page, GTK_TYPE_WIDGET)

static gboolean
page_is_ready (FwLoadsPage *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  return scene != NULL && scene->mechanism != NULL && fw_session_turn_is_known (self->session);
}

static FwStyle
page_style (FwLoadsPage *self)
{
  FwStyle style = fw_session_style (self->session, 1);
  return style;
}

static FwBox
plot_box (FwLoadsPage *self)
{
  return (FwBox) { 0, 0, gtk_widget_get_width (self->plot), gtk_widget_get_height (self->plot) };
}

/* ---- Plot ---- */

static void
on_paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  FwLoadsPage *self = data;
  FwStyle style = page_style (self);

  fw_set_colour (cr, style.ground);
  cairo_paint (cr);
  if (page_is_ready (self))
    fw_draw_torque_plot (cr, fw_session_scene (self->session), &style, (FwBox) { 0, 0, width, height }, NULL);
}

/* A point of the plot is a crank angle. */
static void
page_turn_to (FwLoadsPage *self, double x, double y)
{
  FwTorquePlot plot;
  FwStyle style = page_style (self);

  if (!page_is_ready (self)
      || !fw_torque_plot_lay (fw_session_scene (self->session), &style, plot_box (self), &plot))
    return;
  double degrees = fw_torque_plot_crank (&plot, (FwVec2) { x, y }) * DEGREES;
  fw_session_set_crank (self->session, round (degrees * 10) / 10 / DEGREES);
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, FwLoadsPage *self)
{
  page_turn_to (self, x, y);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, FwLoadsPage *self)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  page_turn_to (self, x + dx, y + dy);
}

static char *
peak_words (const FwExtreme *peak, const char *format)
{
  g_autofree char *torque = fw_units_format (fabs (peak->value), FW_UNIT_NM, FW_LENGTHS_MM, fw_load_digits (peak->value));
  g_autofree char *crank = fw_units_format (peak->crank * DEGREES, FW_UNIT_DEG, FW_LENGTHS_MM, 0);
  return g_strdup_printf (format, torque, crank);
}

static gboolean
on_words (gpointer data)
{
  FwLoadsPage *self = data;
  FwTorquePlot plot;
  FwStyle style = page_style (self);
  GString *words = g_string_new (NULL);

  self->words = 0;
  if (page_is_ready (self) && fw_torque_plot_lay (fw_session_scene (self->session), &style, plot_box (self), &plot))
    {
      /* Translators: a torque, and the angle of the crank where it stands. */
      g_autofree char *drives = peak_words (&plot.greatest, _ ("It asks for at most %s, at %s of the crank."));
      /* Translators: a torque, and the angle of the crank where it stands. */
      g_autofree char *holds = peak_words (&plot.least, _ ("It must be held back with at most %s, at %s of the crank."));
      g_string_append (words, drives);
      g_string_append (words, plot.least.value < 0 ? " " : "");
      g_string_append (words, plot.least.value < 0 ? holds : "");
    }
  fw_widget_describe (self->plot, _ ("Crank torque around the turn"), words->str);
  g_string_free (words, TRUE);
  return G_SOURCE_REMOVE;
}

static void
page_changed (FwLoadsPage *self)
{
  gtk_widget_set_sensitive (self->save, page_is_ready (self));
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_queue_draw (self->plot);
  if (self->words == 0)
    self->words = g_timeout_add (WORDS_MS, on_words, self);
}

/* ---- Saving ---- */

static void
on_chosen (const char *path, gpointer data)
{
  g_autoptr (FwSession) session = data;
  g_autoptr (GError) error = NULL;
  FwDocument *doc = fw_session_document (session);

  if (path == NULL || doc == NULL)
    return;
  if (!fw_session_turn_is_known (session)) /* changed behind the dialog */
    {
      fw_session_say (session, "%s", fw_turn_note_words ());
      return;
    }
  if (!fw_torque_plot_write (fw_session_scene (session), FW_THEME_PRINT, fw_document_title (doc), path, &error))
    {
      fw_session_say (session, "%s", error->message);
      return;
    }
  g_autofree char *name = g_filename_display_name (path);
  /* Translators: %s is a file name */
  fw_session_say (session, _ ("Torque plot saved: %s"), name);
}

static void
on_save (FwLoadsPage *self)
{
  const char *path = fw_session_path (self->session);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  const FwChoice choice = { .title = _ ("Save the torque plot: PNG, or SVG or PDF by the name's ending"),
                            .accept = _ ("_Save"), .save = TRUE, .name = _ ("torque.png"), .folder = folder,
                            .filter_name = _ ("PNG pictures"), .ending = ".png" };

  fw_choose_file (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), &choice, on_chosen,
                  g_object_ref (self->session));
}

/* ---- Object ---- */

static void
loads_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (fw_loads_page_parent_class)->map (widget);
  page_changed (FW_LOADS_PAGE (widget));
}

static void
loads_page_dispose (GObject *object)
{
  FwLoadsPage *self = FW_LOADS_PAGE (object);

  g_clear_handle_id (&self->words, g_source_remove);
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_loads_page_parent_class)->dispose (object);
}

static void
fw_loads_page_class_init (FwLoadsPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = loads_page_dispose;
  widget_class->map = loads_page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "loads-page");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_loads_page_init (FwLoadsPage *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  fw_widget_style_add ();
  fw_widget_describe (GTK_WIDGET (self), _ ("Loads"), NULL);
}

static GtkWidget *
page_plot (FwLoadsPage *self)
{
  GtkWidget *plot = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_widget_set_size_request (plot, -1, PLOT_HEIGHT);
  gtk_widget_set_cursor_from_name (plot, "crosshair");
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (plot), on_paint, self, NULL);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  gtk_widget_add_controller (plot, GTK_EVENT_CONTROLLER (drag));
  fw_widget_describe (plot, _ ("Crank torque around the turn"), NULL);
  return plot;
}

static GtkWidget *
page_heading (FwLoadsPage *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *title = gtk_label_new (_ ("Crank torque"));

  gtk_widget_add_css_class (row, "loads-heading");
  gtk_widget_add_css_class (title, "heading");
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  self->save = gtk_button_new_from_icon_name ("document-save-as-symbolic");
  gtk_widget_add_css_class (self->save, "flat");
  gtk_widget_set_tooltip_text (self->save, _ ("Save the torque plot"));
  fw_widget_describe (self->save, _ ("Save the torque plot"), NULL);
  g_signal_connect_swapped (self->save, "clicked", G_CALLBACK (on_save), self);
  title = fw_explain_heading (self->session, title, fw_explain_quantity (FW_Q_TORQUE));
  gtk_widget_set_hexpand (title, TRUE);
  gtk_box_append (GTK_BOX (row), title);
  gtk_box_append (GTK_BOX (row), self->save);
  return row;
}

GtkWidget *
fw_loads_page_new (FwSession *session)
{
  FwLoadsPage *self = g_object_new (FW_TYPE_LOADS_PAGE, NULL);
  static const char *const names[] = { "design-changed", "pose-changed", "display-changed" };

  self->session = g_object_ref (session);
  self->plot = page_plot (self);
  self->table = fw_peak_table_new (session);
  GtkWidget *note = fw_turn_note_new (session);
  gtk_widget_set_vexpand (self->table, TRUE);
  gtk_widget_set_parent (page_heading (self), GTK_WIDGET (self));
  gtk_widget_set_parent (self->plot, GTK_WIDGET (self));
  gtk_widget_set_parent (self->table, GTK_WIDGET (self));
  gtk_widget_set_parent (note, GTK_WIDGET (self));
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    g_signal_connect_object (session, names[i], G_CALLBACK (page_changed), self, G_CONNECT_SWAPPED);
  page_changed (self);
  return GTK_WIDGET (self);
}

void
fw_loads_page_focus (FwLoadsPage *self)
{
  g_return_if_fail (FW_IS_LOADS_PAGE (self));
  fw_peak_table_focus (FW_PEAK_TABLE (self->table));
}
