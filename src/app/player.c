#include "app/player.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/controls.h"
#include "app/widgetstyle.h"

#define FASTEST 600.0
#define SPEED_WITHOUT_DESIGN 30.0

struct _FwPlayer
{
  GtkWidget parent_instance;

  FwSession *session; /* owned */
  GtkWidget *back, *forth, *speed_field;

  double speed; /* turns/min, signed */
  double design_speed; /* the design's own, as last seen */
  guint tick;   /* 0: paused */
  gint64 start_time;   /* us; at which the crank stood at start_crank */
  double start_crank, shown_crank; /* rad */
};

enum { PROP_0, PROP_PLAYING, PROP_SPEED, N_PROPS };
static GParamSpec *props[N_PROPS];

G_DEFINE_FINAL_TYPE (FwPlayer, fw_player, GTK_TYPE_WIDGET)

/* ---- Clock ---- */

static void
player_start_from (FwPlayer *self, gint64 now)
{
  self->start_time = now;
  self->start_crank = self->shown_crank = fw_session_crank (self->session);
}

static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  FwPlayer *self = FW_PLAYER (widget);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  double seconds = (double) (now - self->start_time) * 1e-6;

  if (self->start_time == 0 || fw_session_crank (self->session) != self->shown_crank)
    {
      player_start_from (self, now); /* just begun, or scrubbed meanwhile */
      return G_SOURCE_CONTINUE;
    }
  fw_session_set_crank (self->session, self->start_crank + self->speed / 60 * 2 * G_PI * seconds);
  self->shown_crank = fw_session_crank (self->session);
  return G_SOURCE_CONTINUE;
}

static void
player_show_state (FwPlayer *self)
{
  gboolean playing = self->tick != 0;
  gboolean backwards = self->speed < 0;
  const char *pause = _("Pause");

  gtk_button_set_icon_name (GTK_BUTTON (self->forth), playing && !backwards ? "media-playback-pause-symbolic"
                                                                            : "media-playback-start-symbolic");
  gtk_button_set_icon_name (GTK_BUTTON (self->back), playing && backwards ? "media-playback-pause-symbolic"
                                                                          : "media-playback-start-symbolic");
  const char *forth_words = playing && !backwards ? pause : _("Turn forwards");
  const char *back_words = playing && backwards ? pause : _("Turn backwards");
  gtk_widget_set_tooltip_text (self->forth, forth_words);
  gtk_widget_set_tooltip_text (self->back, back_words);
  fw_widget_describe (self->forth, forth_words, NULL);
  fw_widget_describe (self->back, back_words, NULL);
}

void
fw_player_set_playing (FwPlayer *self, gboolean playing)
{
  g_return_if_fail (FW_IS_PLAYER (self));
  if (playing && fw_session_document (self->session) == NULL)
    return;
  if (playing == (self->tick != 0))
    return;

  if (playing)
    {
      self->start_time = 0;
      self->tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_tick, NULL, NULL);
    }
  else
    {
      gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick);
      self->tick = 0;
    }
  player_show_state (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_PLAYING]);
}

gboolean
fw_player_playing (FwPlayer *self)
{
  return self->tick != 0;
}

void
fw_player_set_speed (FwPlayer *self, double turns_per_minute)
{
  g_return_if_fail (FW_IS_PLAYER (self));
  double speed = CLAMP (turns_per_minute, -FASTEST, FASTEST);
  if (speed == self->speed)
    return;

  self->speed = speed;
  self->start_time = 0; /* go on from where it stands */
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->speed_field), fabs (speed));
  player_show_state (self);
  g_object_notify_by_pspec (G_OBJECT (self), props[PROP_SPEED]);
}

double
fw_player_speed (FwPlayer *self)
{
  return self->speed;
}

/* ---- Bar ---- */

static void
player_press (FwPlayer *self, double direction)
{
  gboolean same = copysign (1, self->speed) == direction;

  fw_player_set_speed (self, copysign (self->speed, direction));
  fw_player_set_playing (self, !(fw_player_playing (self) && same));
}

static void
on_forth (FwPlayer *self)
{
  player_press (self, 1);
}

static void
on_back (FwPlayer *self)
{
  player_press (self, -1);
}

static void
on_speed_field (FwPlayer *self)
{
  double value = gtk_spin_button_get_value (GTK_SPIN_BUTTON (self->speed_field));
  fw_player_set_speed (self, copysign (value, self->speed));
}

/* The design's own speed is the play speed until the user chooses another. */
static void
on_design (FwPlayer *self)
{
  FwDocument *doc = fw_session_document (self->session);
  double speed = doc != NULL ? fw_document_design (doc)->crank.turns_per_minute : 0;

  gtk_widget_set_sensitive (GTK_WIDGET (self), doc != NULL);
  if (doc == NULL)
    fw_player_set_playing (self, FALSE);
  if (speed == self->design_speed)
    return;
  self->design_speed = speed;
  fw_player_set_speed (self, copysign (speed > 0 ? speed : SPEED_WITHOUT_DESIGN, self->speed));
}

static GtkWidget *
player_button (FwPlayer *self, GCallback callback)
{
  GtkWidget *button = gtk_button_new ();

  gtk_widget_add_css_class (button, "flat");
  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  return button;
}

static void
player_add_speed_field (FwPlayer *self)
{
  GtkWidget *unit = gtk_label_new (_("turns/min"));

  self->speed_field = gtk_spin_button_new_with_range (0, FASTEST, 1);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->speed_field), 3);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->speed_field), self->speed);
  gtk_widget_set_tooltip_text (self->speed_field, _("How fast the crank is played"));
  fw_widget_describe (self->speed_field, _("Play speed, turns per minute"), NULL);
  g_signal_connect_swapped (self->speed_field, "value-changed", G_CALLBACK (on_speed_field), self);
  gtk_widget_set_parent (self->speed_field, GTK_WIDGET (self));
  gtk_widget_add_css_class (unit, "dim-label");
  gtk_widget_set_parent (unit, GTK_WIDGET (self));
}

/* ---- Object ---- */

static void
player_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  if (id == PROP_PLAYING)
    g_value_set_boolean (value, fw_player_playing (FW_PLAYER (object)));
  else if (id == PROP_SPEED)
    g_value_set_double (value, fw_player_speed (FW_PLAYER (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
player_set_property (GObject *object, guint id, const GValue *value, GParamSpec *spec)
{
  if (id == PROP_PLAYING)
    fw_player_set_playing (FW_PLAYER (object), g_value_get_boolean (value));
  else if (id == PROP_SPEED)
    fw_player_set_speed (FW_PLAYER (object), g_value_get_double (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
}

static void
player_dispose (GObject *object)
{
  FwPlayer *self = FW_PLAYER (object);

  if (self->tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick);
  self->tick = 0;
  fw_widget_drop_children (GTK_WIDGET (self));
  g_clear_object (&self->session);
  G_OBJECT_CLASS (fw_player_parent_class)->dispose (object);
}

static void
fw_player_class_init (FwPlayerClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->dispose = player_dispose;
  object_class->get_property = player_get_property;
  object_class->set_property = player_set_property;
  props[PROP_PLAYING] = g_param_spec_boolean ("playing", NULL, NULL, FALSE,
                                              G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  props[PROP_SPEED] = g_param_spec_double ("speed", NULL, NULL, -FASTEST, FASTEST, SPEED_WITHOUT_DESIGN,
                                           G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, props);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "player");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
fw_player_init (FwPlayer *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  self->speed = SPEED_WITHOUT_DESIGN;
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  gtk_widget_add_css_class (GTK_WIDGET (self), "player");
  fw_widget_describe (GTK_WIDGET (self), C_("the motion", "Play"), NULL);
  fw_widget_style_add ();
  self->back = player_button (self, G_CALLBACK (on_back));
  gtk_widget_add_css_class (self->back, "backwards");
  self->forth = player_button (self, G_CALLBACK (on_forth));
  player_add_speed_field (self);
  fw_left_to_right (GTK_WIDGET (self));
  player_show_state (self);
}

GtkWidget *
fw_player_new (FwSession *session)
{
  FwPlayer *self = g_object_new (FW_TYPE_PLAYER, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  on_design (self);
  return GTK_WIDGET (self);
}
