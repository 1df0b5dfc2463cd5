#include "app/striparea.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/canvaswords.h"
#include "app/look.h"
#include "app/turnnote.h"
#include "app/widgetstyle.h"
#include "doc/loadwords.h"
#include "draw/forcerows.h"
#include "draw/still.h"

#define DEGREES (180 / G_PI)
#define LAST_DEG 359.9 /* the end of the ruler; 360 would be the beginning again */
#define FLAG_REACH 5.0 /* px */
#define CLICK 3.0
#define FLAGS 512
#define WORDS_MS 300

struct _FwStripArea
{
  GtkRange parent_instance;

  FwSession *session; /* owned */
  gboolean setting;   /* the value comes from the session */
  gboolean scrubbing;
  guint words;        /* timeout */
  FwStill *still;     /* owned: what need not be drawn anew */
};

G_DEFINE_FINAL_TYPE (FwStripArea, fw_strip_area, GTK_TYPE_RANGE)

static FwBox
strip_area_page (FwStripArea *self)
{
  return (FwBox) { 0, 0, gtk_widget_get_width (GTK_WIDGET (self)), gtk_widget_get_height (GTK_WIDGET (self)) };
}

static FwStyle
strip_area_style (FwStripArea *self)
{
  return fw_session_style (self->session, 1);
}

static gboolean
strip_area_is_ready (FwStripArea *self)
{
  const FwScene *scene = fw_session_scene (self->session);
  return scene != NULL && scene->mechanism != NULL;
}

/* What the session shows, at the crank angle it stands at. */
static FwStripState
strip_area_state (FwStripArea *self)
{
  FwStripState state = *fw_session_strip (self->session);

  state.crank = fw_session_crank (self->session);
  state.picked_trouble = fw_session_picked_trouble (self->session);
  state.lengths = fw_session_lengths (self->session);
  return state;
}

/* ---- Going places ---- */

void
fw_strip_area_step (FwStripArea *self, double degrees)
{
  double now = fw_session_crank (self->session) * DEGREES;
  /* A step ends on a whole number of steps, so that the figure stays short. */
  double grain = fabs (degrees) < 1 ? 0.1 : 1;

  fw_session_set_crank (self->session, round ((now + degrees) / grain) * grain / DEGREES);
}

static int
strip_area_flags (FwStripArea *self, FwFlag *flags)
{
  if (!strip_area_is_ready (self))
    return 0;
  FwStripState state = strip_area_state (self);
  return MIN (fw_strip_flags (fw_session_scene (self->session), &state, flags, FLAGS), FLAGS);
}

/* Of these flags those that mark bounce points; returns how many. */
static int
keep_bounces (FwFlag *flags, int n)
{
  int kept = 0;

  for (int i = 0; i < n; i++)
    if (flags[i].kind == FW_FLAG_BOUNCE)
      flags[kept++] = flags[i];
  return kept;
}

/* Those of joints without play are not gone to but on purpose. */
static int
drop_worn (const FwScene *scene, FwFlag *flags, int n)
{
  int kept = 0;

  for (int i = 0; i < n; i++)
    if (flags[i].kind != FW_FLAG_BOUNCE || fw_bounce_is_real (scene->mechanism, &scene->bounces[flags[i].bounce]))
      flags[kept++] = flags[i];
  return kept;
}

/* The next in the direction, on around the turn. */
static const FwFlag *
next_flag (const FwFlag *flags, int n, double crank, int direction)
{
  const double same = 1e-6;

  for (int k = 0; k < n; k++)
    {
      const FwFlag *flag = &flags[direction > 0 ? k : n - 1 - k];
      if (direction > 0 ? flag->crank > crank + same : flag->crank < crank - same)
        return flag;
    }
  return n > 0 ? &flags[direction > 0 ? 0 : n - 1] : NULL;
}

/* What a flag marks, for the message line; free with g_free. */
static char *
flag_words (FwStripArea *self, const FwFlag *flag)
{
  const FwScene *scene = fw_session_scene (self->session);
  FwLengths lengths = fw_session_lengths (self->session);

  if (flag->kind == FW_FLAG_BOUNCE)
    {
      const FwBounce *bounce = &scene->bounces[flag->bounce];
      return fw_words_bounce (scene->mechanism, bounce, !fw_bounce_is_real (scene->mechanism, bounce), lengths);
    }
  if (flag->trouble >= 0 && scene->troubles != NULL && flag->trouble < scene->troubles->n)
    return fw_words_trouble (scene->mechanism, &scene->troubles->items[flag->trouble], lengths);
  if (flag->curve < 0)
    return NULL;
  FwQuantity quantity = fw_session_strip (self->session)->curves[flag->curve];
  double factor;
  FwUnit unit = fw_words_quantity_unit (quantity, &factor);
  char *name = fw_words_quantity (scene->mechanism, quantity);
  char *value = fw_units_format (flag->value * factor, unit, lengths, -1);
  /* Translators: a quantity, and its value where it turns round. */
  char *words = g_strdup_printf (_("%s turns at %s."), name, value);
  g_free (name);
  g_free (value);
  return words;
}

static void
strip_area_go_to_flag (FwStripArea *self, const FwFlag *flag)
{
  char *words = flag_words (self, flag);

  fw_session_set_crank (self->session, flag->crank);
  if (flag->kind == FW_FLAG_BOUNCE)
    fw_session_pick (self->session, &fw_session_scene (self->session)->bounces[flag->bounce].part);
  if (words != NULL)
    fw_session_say (self->session, "%s", words);
  g_free (words);
}

static void
strip_area_say_none (FwStripArea *self, const char *words)
{
  gboolean known = fw_session_turn_is_known (self->session);

  if (strip_area_is_ready (self))
    fw_session_say (self->session, "%s", known ? words : fw_turn_note_words ());
}

void
fw_strip_area_to_flag (FwStripArea *self, int direction)
{
  FwFlag *flags = g_new0 (FwFlag, FLAGS);
  int n = drop_worn (fw_session_scene (self->session), flags, strip_area_flags (self, flags));
  const FwFlag *flag = next_flag (flags, n, fw_session_crank (self->session), direction);

  if (flag != NULL)
    strip_area_go_to_flag (self, flag);
  else
    strip_area_say_none (self, _("There is no flag on this turn."));
  g_free (flags);
}

void
fw_strip_area_to_bounce (FwStripArea *self, int direction)
{
  FwFlag *flags = g_new0 (FwFlag, FLAGS);
  int n = keep_bounces (flags, strip_area_flags (self, flags));
  const FwFlag *flag = next_flag (flags, n, fw_session_crank (self->session), direction);

  if (flag != NULL)
    strip_area_go_to_flag (self, flag);
  else
    strip_area_say_none (self, _("No joint's load turns round on this turn: nothing bounces."));
  g_free (flags);
}

static gboolean
strip_area_flag_at (FwStripArea *self, double x, double y, FwFlag *found)
{
  FwFlag *flags = g_new0 (FwFlag, FLAGS);
  int n = strip_area_flags (self, flags);
  FwStyle style = strip_area_style (self);
  double best = FLAG_REACH;
  gboolean above = y < style.text * 2.2; /* where the pennants are */

  for (int i = 0; i < n; i++)
    {
      gboolean bounce = flags[i].kind == FW_FLAG_BOUNCE;
      double distance = fabs (fw_strip_x (&style, strip_area_page (self), flags[i].crank) - x);
      /* The pennant flies to the right of its mast. */
      if (bounce && above)
        distance = fabs (distance - FLAG_REACH / 2) / 2;
      if (bounce == above && distance < best)
        {
          best = distance;
          *found = flags[i];
        }
    }
  g_free (flags);
  return best < FLAG_REACH;
}

static void
strip_area_scrub (FwStripArea *self, double x)
{
  FwStyle style = strip_area_style (self);
  double degrees = fw_strip_crank (&style, strip_area_page (self), x) * DEGREES;

  fw_session_set_crank (self->session, CLAMP (round (degrees * 10) / 10, 0, LAST_DEG) / DEGREES);
}

/* ---- Input ---- */

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, FwStripArea *self)
{
  if (!strip_area_is_ready (self))
    return;
  gtk_widget_grab_focus (GTK_WIDGET (self));
  self->scrubbing = TRUE;
  strip_area_scrub (self, x);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, FwStripArea *self)
{
  double x, y;

  if (!self->scrubbing)
    return;
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  strip_area_scrub (self, x + dx);
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, FwStripArea *self)
{
  double x, y;
  FwFlag flag;

  if (!self->scrubbing)
    return;
  self->scrubbing = FALSE;
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (hypot (dx, dy) >= CLICK || !strip_area_flag_at (self, x, y, &flag))
    return;
  strip_area_go_to_flag (self, &flag);
  if (flag.kind == FW_FLAG_WORST)
    fw_session_pick_trouble (self->session, flag.trouble);
}

static void
strip_area_page_key (FwStripArea *self, int direction, gboolean bounces)
{
  if (bounces)
    fw_strip_area_to_bounce (self, direction);
  else
    fw_strip_area_to_flag (self, direction);
}

static gboolean
on_tooltip (FwStripArea *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  FwFlag flag = { 0 };
  char *words = keyboard || !strip_area_flag_at (self, x, y, &flag) ? NULL : flag_words (self, &flag);

  gtk_tooltip_set_text (tooltip, words);
  g_free (words);
  return words != NULL;
}

static gboolean
on_key (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, FwStripArea *self)
{
  double step = state & GDK_CONTROL_MASK ? 0.1 : state & GDK_SHIFT_MASK ? 10 : 1;

  if (!strip_area_is_ready (self) || (state & GDK_ALT_MASK))
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Left: case GDK_KEY_KP_Left:
      fw_strip_area_step (self, -step);
      return GDK_EVENT_STOP;
    case GDK_KEY_Right: case GDK_KEY_KP_Right:
      fw_strip_area_step (self, step);
      return GDK_EVENT_STOP;
    case GDK_KEY_Page_Up: case GDK_KEY_KP_Page_Up:
    case GDK_KEY_Page_Down: case GDK_KEY_KP_Page_Down:
      strip_area_page_key (self, keyval == GDK_KEY_Page_Up || keyval == GDK_KEY_KP_Page_Up ? -1 : 1,
                           (state & GDK_SHIFT_MASK) != 0);
      return GDK_EVENT_STOP;
    case GDK_KEY_Home: case GDK_KEY_KP_Home:
      fw_session_set_crank (self->session, 0);
      return GDK_EVENT_STOP;
    case GDK_KEY_End: case GDK_KEY_KP_End:
      fw_session_set_crank (self->session, LAST_DEG / DEGREES);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

/* Set by assistive technology. */
static void
strip_area_value_changed (GtkRange *range)
{
  FwStripArea *self = FW_STRIP_AREA (range);

  if (!self->setting && self->session != NULL)
    fw_session_set_crank (self->session, CLAMP (gtk_range_get_value (range), 0, LAST_DEG) / DEGREES);
}

/* ---- Words ---- */

static void
add_value (GString *words, FwStripArea *self, FwQuantity quantity)
{
  const FwScene *scene = fw_session_scene (self->session);
  double factor, value = fw_scene_value (scene, quantity);
  FwUnit unit = fw_words_quantity_unit (quantity, &factor);

  if (!isfinite (value))
    return;
  char *name = fw_words_quantity (scene->mechanism, quantity);
  char *text = fw_units_format (value * factor, unit, fw_session_lengths (self->session), -1);
  g_string_append (words, "; ");
  g_string_append_printf (words, C_("number", "%s: %s"), name, text);
  g_free (name);
  g_free (text);
}

static void
add_bounces (GString *words, FwStripArea *self)
{
  const FwScene *scene = fw_session_scene (self->session);

  for (int i = 0; scene != NULL && i < scene->n_bounces; i++)
    {
      const FwBounce *bounce = &scene->bounces[i];
      if (!fw_bounce_holds (bounce, fw_session_crank (self->session)))
        continue;
      char *text = fw_words_bounce (scene->mechanism, bounce, !fw_bounce_is_real (scene->mechanism, bounce),
                                    fw_session_lengths (self->session));
      g_string_append (words, "; ");
      g_string_append (words, text);
      g_free (text);
    }
}

static gboolean
on_words (gpointer data)
{
  FwStripArea *self = data;
  FwStripState state = strip_area_state (self);
  char *angle = fw_units_format (state.crank * DEGREES, FW_UNIT_DEG, state.lengths, 1);
  GString *words = g_string_new (angle);

  self->words = 0;
  for (int i = 0; strip_area_is_ready (self) && i < state.n_curves; i++)
    add_value (words, self, state.curves[i]);
  add_bounces (words, self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words->str, -1);
  g_string_free (words, TRUE);
  g_free (angle);
  return G_SOURCE_REMOVE;
}

static void
strip_area_moved (FwStripArea *self)
{
  double degrees = fw_session_crank (self->session) * DEGREES;

  self->setting = TRUE;
  gtk_range_set_value (GTK_RANGE (self), degrees);
  self->setting = FALSE;
  g_clear_handle_id (&self->words, g_source_remove);
  self->words = g_timeout_add (WORDS_MS, on_words, self); /* once it stands still */
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* More is new than the place of the scrub line. */
static void
strip_area_changed (FwStripArea *self)
{
  fw_still_forget (self->still);
  strip_area_moved (self);
}

/* ---- Widget ---- */

static void
strip_area_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  FwStripArea *self = FW_STRIP_AREA (widget);
  FwBox page = strip_area_page (self);
  FwStyle style = strip_area_style (self);
  FwStripState state = strip_area_state (self);

  cairo_t *cr = gtk_snapshot_append_cairo (
      snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) page.width, (float) page.height));
  fw_still_set_scale (self->still, gtk_widget_get_scale_factor (widget));
  if (strip_area_is_ready (self))
    fw_draw_turn_strip_kept (cr, self->still, fw_session_scene (self->session), &state, &style, page);
  else
    {
      fw_set_colour (cr, style.ground);
      cairo_paint (cr);
    }
  cairo_destroy (cr);
}

static void
strip_area_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                    int *minimum_baseline, int *natural_baseline)
{
  /* High enough for the ruler's words. */
  double text = FW_STRIP_AREA (widget)->session != NULL ? fw_session_text (FW_STRIP_AREA (widget)->session) : 1;
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 240 : (int) (114 * text);
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 800 : (int) (190 * text);
}

static void
strip_area_unmap (GtkWidget *widget)
{
  fw_still_forget (FW_STRIP_AREA (widget)->still);
  GTK_WIDGET_CLASS (fw_strip_area_parent_class)->unmap (widget);
}

static void
strip_area_finalize (GObject *object)
{
  fw_still_free (FW_STRIP_AREA (object)->still);
  G_OBJECT_CLASS (fw_strip_area_parent_class)->finalize (object);
}

static void
strip_area_dispose (GObject *object)
{
  FwStripArea *self = FW_STRIP_AREA (object);

  g_clear_handle_id (&self->words, g_source_remove);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_strip_area_parent_class)->dispose (object);
}

static void
fw_strip_area_class_init (FwStripAreaClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = strip_area_dispose;
  G_OBJECT_CLASS (class)->finalize = strip_area_finalize;
  widget_class->snapshot = strip_area_snapshot;
  widget_class->measure = strip_area_measure;
  widget_class->unmap = strip_area_unmap;
  GTK_RANGE_CLASS (class)->value_changed = strip_area_value_changed;
  gtk_widget_class_set_css_name (widget_class, "strip-area");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_SLIDER);
}

/* A range is here for its value in the accessibility tree alone; mouse and keys are the strip's own. */
static void
strip_area_drop_controllers (FwStripArea *self)
{
  GListModel *controllers = gtk_widget_observe_controllers (GTK_WIDGET (self));

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      GtkEventController *controller = g_list_model_get_item (controllers, i);
      gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_NONE);
      g_object_unref (controller);
    }
  g_object_unref (controllers);
}

static void
fw_strip_area_init (FwStripArea *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->still = fw_still_new ();
  strip_area_drop_controllers (self);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "col-resize");
  fw_widget_describe (GTK_WIDGET (self), _("Crank angle, degrees"),
                      _("One turn of the crank. Left and Right turn it by 1 degree, with Control by 0.1; Page "
                        "Up and Page Down go to the flag before and after, with Shift to the bounce point."));
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (on_tooltip), NULL);

  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

GtkWidget *
fw_strip_area_new (FwSession *session)
{
  GtkAdjustment *turn = gtk_adjustment_new (0, 0, 360, 1, 10, 0);
  FwStripArea *self = g_object_new (FW_TYPE_STRIP_AREA, "adjustment", turn, "hexpand", TRUE, "vexpand", TRUE, NULL);
  static const char *const names[] = { "design-changed", "picked-changed", "display-changed", "bounces-changed",
                                        "ghosts-changed" };

  self->session = g_object_ref (session);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    g_signal_connect_object (session, names[i], G_CALLBACK (strip_area_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "pose-changed", G_CALLBACK (strip_area_moved), self, G_CONNECT_SWAPPED);
  strip_area_changed (self);
  return GTK_WIDGET (self);
}
