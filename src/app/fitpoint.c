#include "app/fitpoint.h"

#include "app/canvasprivate.h"

#define FINE 0.5 /* page px */
#define STEP 4.0
#define COARSE 24.0

struct FwPointer
{
  GtkWidget *canvas[2]; /* owned */
  GtkEventController *click[2], *keys[2]; /* owned by the canvases */
  FwPhoto *photo; /* borrowed */
  FwPointed pointed;
  void (*moved) (gpointer data);
  void (*ended) (gpointer data);
  gpointer data;
  gboolean on;
};

static FwCanvas *
pointer_canvas (FwPointer *self, GtkEventController *controller)
{
  FwCanvas *canvas = FW_CANVAS (gtk_event_controller_get_widget (controller));
  return self->on && fw_canvas_view (canvas) == self->photo->view && fw_canvas_is_ready (canvas) ? canvas : NULL;
}

static void
on_pressed (GtkGestureClick *click, int n, double x, double y, FwPointer *self)
{
  FwCanvas *canvas = pointer_canvas (self, GTK_EVENT_CONTROLLER (click));
  if (canvas == NULL)
    {
      gtk_gesture_set_state (GTK_GESTURE (click), GTK_EVENT_SEQUENCE_DENIED);
      return;
    }
  gtk_gesture_set_state (GTK_GESTURE (click), GTK_EVENT_SEQUENCE_CLAIMED);
  gtk_widget_grab_focus (GTK_WIDGET (canvas));
  self->photo->has_cross = FALSE;
  self->pointed (fw_plane_of_page (&canvas->camera, (FwVec2) { x, y }), self->data);
}

/* The cross begins in the middle of the view. */
static void
pointer_move (FwPointer *self, FwCanvas *canvas, double dx, double dy)
{
  double scale = canvas->camera.scale;
  if (!self->photo->has_cross)
    self->photo->cross = fw_plane_of_page (&canvas->camera, (FwVec2) { canvas->width / 2.0, canvas->height / 2.0 });
  else
    self->photo->cross = (FwVec2) { self->photo->cross.x + dx / scale, self->photo->cross.y + dy / scale };
  self->photo->has_cross = TRUE;
  self->moved (self->data);
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, FwPointer *self)
{
  FwCanvas *canvas = pointer_canvas (self, GTK_EVENT_CONTROLLER (keys));
  double step = state & GDK_CONTROL_MASK ? FINE : state & GDK_SHIFT_MASK ? COARSE : STEP;
  if (canvas == NULL || (state & GDK_ALT_MASK))
    return GDK_EVENT_PROPAGATE;
  switch (key)
    {
    case GDK_KEY_Left:
    case GDK_KEY_Right:
      pointer_move (self, canvas, key == GDK_KEY_Left ? -step : step, 0);
      return GDK_EVENT_STOP;
    case GDK_KEY_Up:
    case GDK_KEY_Down:
      pointer_move (self, canvas, 0, key == GDK_KEY_Up ? -step : step);
      return GDK_EVENT_STOP;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (self->photo->has_cross)
        self->pointed (self->photo->cross, self->data);
      return GDK_EVENT_STOP;
    case GDK_KEY_Escape:
      self->ended (self->data);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

FwPointer *
fw_pointer_new (GtkWidget *const canvas[2], FwPhoto *photo, FwPointed pointed, void (*moved) (gpointer data),
                void (*ended) (gpointer data), gpointer data)
{
  FwPointer *self = g_new0 (FwPointer, 1);
  self->photo = photo;
  self->pointed = pointed;
  self->moved = moved;
  self->ended = ended;
  self->data = data;
  for (int i = 0; i < 2; i++)
    {
      self->canvas[i] = g_object_ref (canvas[i]);
      self->click[i] = GTK_EVENT_CONTROLLER (gtk_gesture_click_new ());
      self->keys[i] = gtk_event_controller_key_new ();
      gtk_event_controller_set_propagation_phase (self->click[i], GTK_PHASE_CAPTURE);
      gtk_event_controller_set_propagation_phase (self->keys[i], GTK_PHASE_CAPTURE);
      g_signal_connect (self->click[i], "pressed", G_CALLBACK (on_pressed), self);
      g_signal_connect (self->keys[i], "key-pressed", G_CALLBACK (on_key), self);
      gtk_widget_add_controller (canvas[i], self->click[i]);
      gtk_widget_add_controller (canvas[i], self->keys[i]);
    }
  return self;
}

void
fw_pointer_free (FwPointer *self)
{
  for (int i = 0; i < 2; i++)
    {
      gtk_widget_remove_controller (self->canvas[i], self->click[i]);
      gtk_widget_remove_controller (self->canvas[i], self->keys[i]);
      g_object_unref (self->canvas[i]);
    }
  g_free (self);
}

void
fw_pointer_set_on (FwPointer *self, gboolean on)
{
  self->on = on;
  self->photo->has_cross = FALSE;
  for (int i = 0; i < 2; i++)
    {
      gboolean here = on && fw_canvas_view (FW_CANVAS (self->canvas[i])) == self->photo->view;
      FW_CANVAS (self->canvas[i])->pointed = here;
      if (here)
        fw_canvas_mark (FW_CANVAS (self->canvas[i]), NULL);
      gtk_widget_set_cursor_from_name (self->canvas[i], here ? "crosshair" : NULL);
      if (here && gtk_widget_get_mapped (self->canvas[i]))
        gtk_widget_grab_focus (self->canvas[i]);
    }
}
