#include "app/bandscale.h"

#include <math.h>
#include <string.h>

#include "draw/style.h"

#define BAND_HEIGHT 6
#define BAND_GAP 13
#define HATCH 4.0

struct _FwBandScale
{
  GtkScale parent_instance;

  double fine, step, coarse;
  FwBand *bands; /* owned */
  int n_bands;
  gboolean stale, held;
  FwTheme theme;
  gboolean setting; /* the value comes from the model, not from the user */
};

enum { MOVED, GRABBED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (FwBandScale, fw_band_scale, GTK_TYPE_SCALE)

/* ---- Paint ---- */

static GtkWidget *
child_named (GtkWidget *widget, const char *css_name)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);

  while (child != NULL && strcmp (gtk_widget_get_css_name (child), css_name) != 0)
    child = gtk_widget_get_next_sibling (child);
  return child;
}

/* Where the slider's middle stands at both ends of the range, in widget coordinates. The knob sticks
 * out of its place by negative margins, and gtk_range_get_slider_range () mixes up its axes, so the
 * place is measured. */
static void
band_scale_ends (FwBandScale *self, double *left, double *right)
{
  GtkWidget *trough = child_named (GTK_WIDGET (self), "trough");
  GtkWidget *slider = trough != NULL ? child_named (trough, "slider") : NULL;
  int place = 4;
  GdkRectangle rect;

  if (slider != NULL)
    gtk_widget_measure (slider, GTK_ORIENTATION_HORIZONTAL, -1, &place, NULL, NULL, NULL);
  gtk_range_get_range_rect (GTK_RANGE (self), &rect);
  *left = rect.x + place / 2.0;
  *right = rect.x + rect.width - place / 2.0;
}

static void
band_scale_hatch (cairo_t *cr, double x, double y, double width)
{
  cairo_save (cr);
  cairo_rectangle (cr, x, y, width, BAND_HEIGHT);
  cairo_clip (cr);
  /* Lines stand at places of the page, not of the band, so that they hold still while it grows. */
  double first = floor ((x - BAND_HEIGHT) / HATCH) * HATCH;
  for (double at = first; at < x + width; at += HATCH)
    {
      cairo_move_to (cr, at, y + BAND_HEIGHT);
      cairo_line_to (cr, at + BAND_HEIGHT, y);
    }
  cairo_set_line_width (cr, 1.2);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
get_range (FwBandScale *self, double *lower, double *upper)
{
  GtkAdjustment *adjustment = gtk_range_get_adjustment (GTK_RANGE (self));

  *lower = gtk_adjustment_get_lower (adjustment);
  *upper = gtk_adjustment_get_upper (adjustment);
}

static void
band_scale_paint (FwBandScale *self, cairo_t *cr, double y)
{
  double lower, upper, left, right;
  gboolean mirrored = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  FwStyle style = fw_style (self->theme, 1);

  get_range (self, &lower, &upper);
  band_scale_ends (self, &left, &right);
  fw_set_colour (cr, style.grid);
  cairo_rectangle (cr, left, y + BAND_HEIGHT - 1, right - left, 1);
  cairo_fill (cr);
  if (upper <= lower)
    return;

  for (int i = 0; i < self->n_bands; i++)
    {
      const FwBand *band = &self->bands[i];
      double from = CLAMP ((band->from - lower) / (upper - lower), 0, 1);
      double to = CLAMP ((band->to - lower) / (upper - lower), 0, 1);
      double width = MAX ((to - from) * (right - left), to > from ? 1 : 0);
      double along = from * (right - left);
      double x = mirrored ? right - along - width : left + along; /* as the slider above, whose least is at the right then */
      FwColour colour = band->trial == FW_TRIAL_FREE ? style.motion : style.remark;

      colour.a *= self->stale ? 0.35 : 1;
      fw_set_colour (cr, colour);
      if (band->trial == FW_TRIAL_FREE)
        {
          cairo_rectangle (cr, x, y, width, BAND_HEIGHT);
          cairo_fill (cr);
        }
      else
        band_scale_hatch (cr, x, y, width);
    }
}

static void
band_scale_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  float y = (float) (height - BAND_HEIGHT);

  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, y, (float) width, BAND_HEIGHT));
  band_scale_paint (FW_BAND_SCALE (widget), cr, y);
  cairo_destroy (cr);
  GTK_WIDGET_CLASS (fw_band_scale_parent_class)->snapshot (widget, snapshot);
}

/* A range puts its trough at the top, so that more height is room below it. */
static void
band_scale_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                    int *minimum_baseline, int *natural_baseline)
{
  GTK_WIDGET_CLASS (fw_band_scale_parent_class)
      ->measure (widget, orientation, for_size, minimum, natural, minimum_baseline, natural_baseline);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    return;
  *minimum += BAND_HEIGHT + BAND_GAP;
  *natural += BAND_HEIGHT + BAND_GAP;
}

/* ---- Input ---- */

static double
band_scale_round (FwBandScale *self, double value)
{
  return self->fine > 0 ? round (value / self->fine) * self->fine : value;
}

static gboolean
band_scale_change_value (GtkRange *range, GtkScrollType scroll, double value)
{
  double rounded = band_scale_round (FW_BAND_SCALE (range), value);
  return GTK_RANGE_CLASS (fw_band_scale_parent_class)->change_value (range, scroll, rounded);
}

static void
band_scale_value_changed (GtkRange *range)
{
  FwBandScale *self = FW_BAND_SCALE (range);

  if (GTK_RANGE_CLASS (fw_band_scale_parent_class)->value_changed)
    GTK_RANGE_CLASS (fw_band_scale_parent_class)->value_changed (range);
  if (!self->setting)
    g_signal_emit (self, signals[MOVED], 0, gtk_range_get_value (range));
}

static int
key_direction (guint keyval, gboolean mirrored)
{
  switch (keyval)
    {
    case GDK_KEY_Left: case GDK_KEY_KP_Left:
      return mirrored ? 1 : -1;
    case GDK_KEY_Right: case GDK_KEY_KP_Right:
      return mirrored ? -1 : 1;
    case GDK_KEY_Down: case GDK_KEY_KP_Down:
      return -1;
    case GDK_KEY_Up: case GDK_KEY_KP_Up:
      return 1;
    case GDK_KEY_Page_Down: case GDK_KEY_KP_Page_Down:
      return -10;
    case GDK_KEY_Page_Up: case GDK_KEY_KP_Page_Up:
      return 10;
    default:
      return 0;
    }
}

static gboolean
on_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, FwBandScale *self)
{
  int direction = key_direction (keyval, gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL);
  if (direction == 0 || (state & GDK_ALT_MASK))
    return GDK_EVENT_PROPAGATE;

  double by = self->step;
  if (abs (direction) > 1 || (state & GDK_SHIFT_MASK))
    by = self->coarse;
  else if (state & GDK_CONTROL_MASK)
    by = self->fine;
  double value = gtk_range_get_value (GTK_RANGE (self)) + (direction > 0 ? by : -by);
  gtk_range_set_value (GTK_RANGE (self), band_scale_round (self, value));
  return GDK_EVENT_STOP;
}

static void
band_scale_set_held (FwBandScale *self, gboolean held)
{
  if (self->held == held)
    return;
  self->held = held;
  g_signal_emit (self, signals[GRABBED], 0, held);
}

/* The range's own gestures claim the press, so that only the plain event tells when the hand lets go. */
static gboolean
on_event (GtkEventControllerLegacy *controller, GdkEvent *event, FwBandScale *self)
{
  switch ((int) gdk_event_get_event_type (event))
    {
    case GDK_BUTTON_PRESS:
      if (gdk_button_event_get_button (event) == GDK_BUTTON_PRIMARY)
        band_scale_set_held (self, TRUE);
      break;
    case GDK_TOUCH_BEGIN:
      band_scale_set_held (self, TRUE);
      break;
    case GDK_BUTTON_RELEASE:
      if (gdk_button_event_get_button (event) == GDK_BUTTON_PRIMARY)
        band_scale_set_held (self, FALSE);
      break;
    case GDK_TOUCH_END: case GDK_TOUCH_CANCEL: case GDK_GRAB_BROKEN:
      band_scale_set_held (self, FALSE);
      break;
    default:
      break;
    }
  return GDK_EVENT_PROPAGATE;
}

/* A wheel over a slider would change a number by accident while the list is scrolled. */
static void
band_scale_drop_wheel (FwBandScale *self)
{
  GListModel *controllers = gtk_widget_observe_controllers (GTK_WIDGET (self));

  for (guint i = g_list_model_get_n_items (controllers); i > 0; i--)
    {
      GtkEventController *controller = g_list_model_get_item (controllers, i - 1);
      if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller))
        gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_NONE);
      g_object_unref (controller);
    }
  g_object_unref (controllers);
}

/* ---- Object ---- */

static void
band_scale_unmap (GtkWidget *widget)
{
  band_scale_set_held (FW_BAND_SCALE (widget), FALSE);
  GTK_WIDGET_CLASS (fw_band_scale_parent_class)->unmap (widget);
}

static void
band_scale_finalize (GObject *object)
{
  g_free (FW_BAND_SCALE (object)->bands);
  G_OBJECT_CLASS (fw_band_scale_parent_class)->finalize (object);
}

static void
fw_band_scale_class_init (FwBandScaleClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  GtkRangeClass *range_class = GTK_RANGE_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = band_scale_finalize;
  widget_class->snapshot = band_scale_snapshot;
  widget_class->measure = band_scale_measure;
  widget_class->unmap = band_scale_unmap;
  range_class->change_value = band_scale_change_value;
  range_class->value_changed = band_scale_value_changed;

  signals[MOVED] = g_signal_new ("moved", FW_TYPE_BAND_SCALE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_DOUBLE);
  signals[GRABBED] = g_signal_new ("grabbed", FW_TYPE_BAND_SCALE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
}

static void
fw_band_scale_init (FwBandScale *self)
{
  self->fine = 0.1;
  self->step = 1;
  self->coarse = 10;
  gtk_scale_set_draw_value (GTK_SCALE (self), FALSE);
  gtk_scale_set_has_origin (GTK_SCALE (self), FALSE);
  band_scale_drop_wheel (self);

  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);

  GtkEventController *events = gtk_event_controller_legacy_new ();
  gtk_event_controller_set_propagation_phase (events, GTK_PHASE_CAPTURE);
  g_signal_connect (events, "event", G_CALLBACK (on_event), self);
  gtk_widget_add_controller (GTK_WIDGET (self), events);
}

GtkWidget *
fw_band_scale_new (void)
{
  GtkAdjustment *adjustment = gtk_adjustment_new (0, 0, 1, 1, 10, 0);
  return g_object_new (FW_TYPE_BAND_SCALE, "adjustment", adjustment, "hexpand", TRUE, NULL);
}

void
fw_band_scale_set_steps (FwBandScale *self, double fine, double step, double coarse)
{
  self->fine = fine;
  self->step = step;
  self->coarse = coarse;
}

void
fw_band_scale_set (FwBandScale *self, double lower, double upper, double value)
{
  GtkAdjustment *adjustment = gtk_range_get_adjustment (GTK_RANGE (self));

  self->setting = TRUE;
  gtk_adjustment_configure (adjustment, value, MIN (lower, value), MAX (upper, value), self->step,
                            self->coarse, 0);
  self->setting = FALSE;
}

gboolean
fw_band_scale_held (FwBandScale *self)
{
  return self->held;
}

void
fw_band_scale_set_bands (FwBandScale *self, const FwBand *bands, int n)
{
  g_free (self->bands);
  self->bands = n > 0 ? g_memdup2 (bands, sizeof *bands * (gsize) n) : NULL;
  self->n_bands = n;
  self->stale = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
fw_band_scale_set_stale (FwBandScale *self)
{
  if (self->stale || self->n_bands == 0)
    return;
  self->stale = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
fw_band_scale_set_theme (FwBandScale *self, FwTheme theme)
{
  if (self->theme == theme)
    return;
  self->theme = theme;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
