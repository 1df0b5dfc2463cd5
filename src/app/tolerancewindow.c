#include "app/tolerancewindow.h"

#include <glib/gi18n.h>

#include "app/fitpage.h"
#include "app/latepage.h"
#include "app/scaledialog.h"
#include "app/tolerancepage.h"
#include "app/windowprivate.h"

static void
show_page (FwWindow *self, const char *name)
{
  g_action_group_change_action_state (G_ACTION_GROUP (self), "page", g_variant_new_string (name));
}

static void
on_tolerance (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWindow *self = data;
  show_page (self, "tolerance");
  fw_tolerance_page_focus (FW_TOLERANCE_PAGE (fw_window_page (self, "tolerance")));
}

static void
on_scale (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  fw_scale_dialog_show (data);
}

static void
on_real_thing (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWindow *self = data;
  show_page (self, "real-thing");
  fw_fit_page_focus (FW_FIT_PAGE (fw_window_page (self, "real-thing")));
}

static void
on_measure_here (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWindow *self = data;
  show_page (self, "real-thing");
  fw_fit_page_add_here (FW_FIT_PAGE (fw_window_page (self, "real-thing")));
}

static const GActionEntry entries[] = {
  { .name = "tolerance", .activate = on_tolerance },
  { .name = "scale", .activate = on_scale },
  { .name = "real-thing", .activate = on_real_thing },
  { .name = "measure-here", .activate = on_measure_here },
};

static void
on_number (FwWindow *self, const char *name)
{
  show_page (self, "numbers");
  fw_inspector_search (FW_INSPECTOR (self->inspector), name);
}

static void
on_closed (FwWindow *self)
{
  show_page (self, "numbers");
}

/* Bands are drawn from what the page made by hand works out, whether or not it has been looked at. */
static void
on_display (FwWindow *self)
{
  if ((fw_session_show (self->session) & FW_SHOW_SPREAD) != 0 && fw_session_document (self->session) != NULL)
    fw_window_page (self, "tolerance");
}

static void
on_design (FwWindow *self)
{
  for (gsize i = 0; i < G_N_ELEMENTS (entries); i++)
    g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), entries[i].name)),
                                 fw_session_document (self->session) != NULL);
  on_display (self);
}

static GtkWidget *
make_tolerance (gpointer data)
{
  GtkWidget *page = fw_tolerance_page_new (FW_WINDOW (data)->session);
  g_signal_connect_object (page, "number", G_CALLBACK (on_number), data, G_CONNECT_SWAPPED);
  g_signal_connect_object (page, "closed", G_CALLBACK (on_closed), data, G_CONNECT_SWAPPED);
  return page;
}

static GtkWidget *
make_fit (gpointer data)
{
  GtkWidget *page = fw_fit_page_new (data);
  g_signal_connect_object (page, "closed", G_CALLBACK (on_closed), data, G_CONNECT_SWAPPED);
  return page;
}

void
fw_window_add_aiming (FwWindow *self)
{
  GtkStack *stack = GTK_STACK (self->margin_stack);

  /* Without titles: they are reached by the menu and their keys, and have no tab. */
  gtk_stack_add_named (stack, fw_late_page_new (make_tolerance, self), "tolerance");
  gtk_stack_add_named (stack, fw_late_page_new (make_fit, self), "real-thing");
  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  g_signal_connect_object (self->session, "design-changed", G_CALLBACK (on_design), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->session, "display-changed", G_CALLBACK (on_display), self, G_CONNECT_SWAPPED);
  on_design (self);
}
