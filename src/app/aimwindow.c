#include "app/aimwindow.h"

#include <glib/gi18n.h>

#include "app/aimpage.h"
#include "app/ghostdrag.h"
#include "app/helpspage.h"
#include "app/latepage.h"
#include "app/versionspage.h"
#include "app/windowprivate.h"

gboolean
fw_window_focus_aim (FwWindow *self, const char *name)
{
  GtkWidget *page = fw_window_page (self, name);
  if (FW_IS_AIM_PAGE (page))
    fw_aim_page_focus (FW_AIM_PAGE (page));
  else if (FW_IS_VERSIONS_PAGE (page))
    fw_versions_page_focus (FW_VERSIONS_PAGE (page));
  else if (FW_IS_HELPS_PAGE (page))
    fw_helps_page_focus (FW_HELPS_PAGE (page));
  else
    return FALSE;
  return TRUE;
}

/* "aim", "versions" and "helps" open the page of that name. */
static void
on_open (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_action_group_change_action_state (G_ACTION_GROUP (data), "page", g_variant_new_string (g_action_get_name (G_ACTION (action))));
}

/* What helps against the picked trouble. */
static void
on_helps_trouble (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  FwWindow *self = data;
  fw_helps_page_take_trouble (FW_HELPS_PAGE (fw_window_page (self, "helps")));
  g_action_group_change_action_state (G_ACTION_GROUP (data), "page", g_variant_new_string ("helps"));
}

/* A number was pressed in the picture. */
static void
on_number (FwHelpsPage *page, guint index, FwWindow *self)
{
  g_action_group_change_action_state (G_ACTION_GROUP (self), "page", g_variant_new_string ("numbers"));
  fw_inspector_show_number (FW_INSPECTOR (self->inspector), (int) index);
}

/* With the wishes in sight panels are pulled to where they should be. */
static void
on_mapped (GtkWidget *page, FwWindow *self)
{
  for (int i = 0; i < 2; i++)
    fw_canvas_set_pulling (FW_CANVAS (self->canvas[i]), gtk_widget_get_mapped (page));
}

static const GActionEntry entries[] = {
  { .name = "aim", .activate = on_open },
  { .name = "helps", .activate = on_open },
  { .name = "versions", .activate = on_open },
  { .name = "helps-trouble", .activate = on_helps_trouble },
};

static GtkWidget *
make_aim (gpointer data)
{
  GtkWidget *page = fw_aim_page_new (FW_WINDOW (data)->session);
  g_signal_connect_object (page, "map", G_CALLBACK (on_mapped), data, G_CONNECT_AFTER);
  g_signal_connect_object (page, "unmap", G_CALLBACK (on_mapped), data, G_CONNECT_AFTER);
  return page;
}

static GtkWidget *
make_helps (gpointer data)
{
  GtkWidget *page = fw_helps_page_new (FW_WINDOW (data)->session);
  g_signal_connect_object (page, "number", G_CALLBACK (on_number), data, 0);
  return page;
}

static GtkWidget *
make_versions (gpointer data)
{
  return fw_versions_page_new (FW_WINDOW (data)->session);
}

void
fw_window_add_aim (FwWindow *self)
{
  GtkStack *stack = GTK_STACK (self->margin_stack);

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  gtk_stack_add_titled (stack, fw_late_page_new (make_aim, self), "aim", C_ ("page of the margin", "Aim"));
  gtk_stack_add_titled (stack, fw_late_page_new (make_helps, self), "helps", C_ ("page of the margin", "Helps"));
  gtk_stack_add_titled (stack, fw_late_page_new (make_versions, self), "versions", C_ ("page of the margin", "Versions"));
}
