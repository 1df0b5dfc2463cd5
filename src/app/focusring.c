#include "app/focusring.h"

#define BY_KEYS "fw-by-keys" /* of a window: keys were its last input, not the pointer */

static gboolean
on_event (GtkWindow *window, GdkEvent *event)
{
  GdkEventType type = gdk_event_get_event_type (event);

  if (type == GDK_KEY_PRESS)
    g_object_set_data (G_OBJECT (window), BY_KEYS, GINT_TO_POINTER (TRUE));
  else if (type == GDK_BUTTON_PRESS || type == GDK_TOUCH_BEGIN)
    {
      g_object_set_data (G_OBJECT (window), BY_KEYS, NULL);
      gtk_window_set_focus_visible (window, FALSE);
    }
  return GDK_EVENT_PROPAGATE;
}

/* Put back before a frame is drawn without it. */
static void
on_focus_visible (GtkWindow *window)
{
  if (!gtk_window_get_focus_visible (window) && g_object_get_data (G_OBJECT (window), BY_KEYS) != NULL
      && !gtk_widget_in_destruction (GTK_WIDGET (window)))
    gtk_window_set_focus_visible (window, TRUE);
}

static void
on_windows (GListModel *windows, guint position, guint removed, guint added)
{
  for (guint i = position; i < position + added; i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);
      GtkEventController *hands = gtk_event_controller_legacy_new ();

      gtk_event_controller_set_propagation_phase (hands, GTK_PHASE_CAPTURE);
      g_signal_connect_swapped (hands, "event", G_CALLBACK (on_event), window);
      gtk_widget_add_controller (GTK_WIDGET (window), hands);
      g_signal_connect (window, "notify::focus-visible", G_CALLBACK (on_focus_visible), NULL);
    }
}

void
fw_focus_ring_keep (void)
{
  g_signal_connect (gtk_window_get_toplevels (), "items-changed", G_CALLBACK (on_windows), NULL);
}
