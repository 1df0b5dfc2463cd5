#include "app/messagebar.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgetstyle.h"

#define NOTE_MS 5000

struct _FwMessageBar
{
  GtkWidget parent_instance;

  GtkWidget *frame, *mark, *text, *yes, *no, *close;
  guint timer;
  GtkEventController *hands; /* of the window: what is done there */
  double x, y;               /* where the pointer was last seen */
  gboolean seen;             /* something was done since the note came */
  gboolean due;              /* its time is over */

  FwOffered answered; /* NULL: no offer */
  gpointer data;
  GDestroyNotify release;
};

G_DEFINE_FINAL_TYPE (FwMessageBar, fw_message_bar, GTK_TYPE_WIDGET)

static void
bar_drop_offer (FwMessageBar *self)
{
  if (self->release != NULL)
    self->release (self->data);
  self->answered = NULL;
  self->data = NULL;
  self->release = NULL;
}

void
fw_message_bar_hide (FwMessageBar *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  g_clear_handle_id (&self->timer, g_source_remove);
}

static void
bar_answer (FwMessageBar *self, gboolean yes)
{
  FwOffered answered = self->answered;
  gpointer data = g_steal_pointer (&self->data);
  GDestroyNotify release = self->release;

  self->answered = NULL;
  self->release = NULL;
  fw_message_bar_hide (self);
  if (answered != NULL)
    answered (yes, data);
  if (release != NULL)
    release (data);
}

static void
on_yes (FwMessageBar *self)
{
  bar_answer (self, TRUE);
}

static void
on_no (FwMessageBar *self)
{
  bar_answer (self, FALSE);
}

/* Closed without an answer: what was offered is offered again another time. */
static void
on_close (FwMessageBar *self)
{
  bar_drop_offer (self);
  fw_message_bar_hide (self);
}

static gboolean
on_timer (gpointer data)
{
  FwMessageBar *self = data;
  self->timer = 0;
  self->due = TRUE;
  if (self->seen)
    fw_message_bar_hide (self);
  return G_SOURCE_REMOVE;
}

/* Whoever looked away while a note came finds it still there, with time to read it. */
static void
bar_see_hands (FwMessageBar *self)
{
  if (self->seen)
    return;
  self->seen = TRUE;
  if (self->due && gtk_widget_get_visible (GTK_WIDGET (self)))
    self->timer = g_timeout_add (NOTE_MS, on_timer, self);
}

/* GTK tells of a pointer that stands still too, where what is below it moves. */
static gboolean
on_event (FwMessageBar *self, GdkEvent *event)
{
  GdkEventType type = gdk_event_get_event_type (event);
  double x, y;

  if (type == GDK_KEY_PRESS || type == GDK_BUTTON_PRESS || type == GDK_SCROLL || type == GDK_TOUCH_BEGIN)
    bar_see_hands (self);
  else if (type == GDK_MOTION_NOTIFY && gdk_event_get_position (event, &x, &y))
    {
      if (fabs (x - self->x) > 2 || fabs (y - self->y) > 2)
        bar_see_hands (self);
      self->x = x;
      self->y = y;
    }
  return GDK_EVENT_PROPAGATE;
}

static void
message_bar_root (GtkWidget *widget)
{
  FwMessageBar *self = FW_MESSAGE_BAR (widget);

  GTK_WIDGET_CLASS (fw_message_bar_parent_class)->root (widget);
  self->hands = gtk_event_controller_legacy_new ();
  gtk_event_controller_set_propagation_phase (self->hands, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (self->hands, "event", G_CALLBACK (on_event), self);
  gtk_widget_add_controller (GTK_WIDGET (gtk_widget_get_root (widget)), self->hands);
}

static void
message_bar_unroot (GtkWidget *widget)
{
  FwMessageBar *self = FW_MESSAGE_BAR (widget);

  gtk_widget_remove_controller (GTK_WIDGET (gtk_widget_get_root (widget)), self->hands);
  self->hands = NULL;
  GTK_WIDGET_CLASS (fw_message_bar_parent_class)->unroot (widget);
}

static void
bar_show (FwMessageBar *self, const char *text, const char *style, const char *icon)
{
  bar_drop_offer (self);
  g_clear_handle_id (&self->timer, g_source_remove);
  self->seen = TRUE; /* only a note goes by itself */
  gtk_label_set_text (GTK_LABEL (self->text), text);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->mark), icon);
  gtk_widget_set_css_classes (self->frame, (const char *[]) { "message", style, NULL });
  gtk_widget_set_visible (self->yes, FALSE);
  gtk_widget_set_visible (self->no, FALSE);
  gtk_widget_set_visible (self->close, TRUE);
  fw_widget_describe (GTK_WIDGET (self), text, NULL);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

/* A note does not push an offer or a failure out of sight that nobody has answered. */
void
fw_message_bar_note (FwMessageBar *self, const char *text)
{
  g_return_if_fail (FW_IS_MESSAGE_BAR (self));
  if (self->answered != NULL)
    return;
  bar_show (self, text, "note", "emblem-ok-symbolic");
  self->seen = self->due = FALSE;
  self->timer = g_timeout_add (NOTE_MS, on_timer, self);
}

void
fw_message_bar_fail (FwMessageBar *self, const char *text)
{
  g_return_if_fail (FW_IS_MESSAGE_BAR (self));
  bar_show (self, text, "failure", "dialog-warning-symbolic");
}

void
fw_message_bar_fail_offer (FwMessageBar *self, const char *text, const char *yes, FwOffered answered, gpointer data,
                           GDestroyNotify release)
{
  fw_message_bar_fail (self, text);
  gtk_button_set_label (GTK_BUTTON (self->yes), yes);
  gtk_widget_set_visible (self->yes, TRUE);
  self->answered = answered;
  self->data = data;
  self->release = release;
}

void
fw_message_bar_offer (FwMessageBar *self, const char *text, const char *yes, const char *no, FwOffered answered,
                      gpointer data, GDestroyNotify release)
{
  g_return_if_fail (FW_IS_MESSAGE_BAR (self));
  bar_show (self, text, "offer", "dialog-information-symbolic");
  gtk_button_set_label (GTK_BUTTON (self->yes), yes);
  gtk_button_set_label (GTK_BUTTON (self->no), no);
  gtk_widget_set_visible (self->yes, TRUE);
  gtk_widget_set_visible (self->no, TRUE);
  self->answered = answered;
  self->data = data;
  self->release = release;
}

static GtkWidget *
bar_button (FwMessageBar *self, GCallback callback)
{
  GtkWidget *button = gtk_button_new ();
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (self->frame), button);
  return button;
}

static void
message_bar_dispose (GObject *object)
{
  FwMessageBar *self = FW_MESSAGE_BAR (object);
  bar_drop_offer (self);
  g_clear_handle_id (&self->timer, g_source_remove);
  g_clear_pointer (&self->frame, gtk_widget_unparent);
  G_OBJECT_CLASS (fw_message_bar_parent_class)->dispose (object);
}

static void
fw_message_bar_class_init (FwMessageBarClass *class)
{
  G_OBJECT_CLASS (class)->dispose = message_bar_dispose;
  GTK_WIDGET_CLASS (class)->root = message_bar_root;
  GTK_WIDGET_CLASS (class)->unroot = message_bar_unroot;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "messagebar");
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (class), GTK_ACCESSIBLE_ROLE_ALERT);
}

static void
fw_message_bar_init (FwMessageBar *self)
{
  self->frame = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_widget_set_parent (self->frame, GTK_WIDGET (self));

  self->mark = gtk_image_new ();
  gtk_box_append (GTK_BOX (self->frame), self->mark);
  self->text = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->text), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (self->text), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (self->text), TRUE);
  gtk_widget_set_can_focus (self->text, FALSE); /* not focusable is not enough: Tab would stay there */
  gtk_label_set_xalign (GTK_LABEL (self->text), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (self->text), 72);
  gtk_widget_set_hexpand (self->text, TRUE);
  gtk_box_append (GTK_BOX (self->frame), self->text);
  self->no = bar_button (self, G_CALLBACK (on_no));
  self->yes = bar_button (self, G_CALLBACK (on_yes));
  gtk_widget_add_css_class (self->yes, "suggested-action");
  self->close = bar_button (self, G_CALLBACK (on_close));
  gtk_button_set_icon_name (GTK_BUTTON (self->close), "window-close-symbolic");
  gtk_widget_add_css_class (self->close, "flat");
  gtk_widget_set_tooltip_text (self->close, _("Close the message"));
  fw_widget_describe (self->close, _("Close the message"), NULL);
  fw_message_bar_hide (self);
}

GtkWidget *
fw_message_bar_new (void)
{
  return g_object_new (FW_TYPE_MESSAGE_BAR, NULL);
}
