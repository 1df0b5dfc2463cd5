#include "app/latepage.h"

#include "app/widgetstyle.h"

struct _FwLatePage
{
  GtkWidget parent_instance;

  FwLatePageMake make; /* NULL: it has gone */
  gpointer data;
  GtkWidget *page; /* NULL: not yet */
};

G_DEFINE_FINAL_TYPE (FwLatePage, fw_late_page, GTK_TYPE_WIDGET)

GtkWidget *
fw_late_page_inside (FwLatePage *self)
{
  if (self->page == NULL && self->make != NULL)
    {
      self->page = self->make (self->data);
      gtk_widget_set_parent (self->page, GTK_WIDGET (self));
    }
  return self->page;
}

static void
late_page_map (GtkWidget *widget)
{
  fw_late_page_inside (FW_LATE_PAGE (widget));
  GTK_WIDGET_CLASS (fw_late_page_parent_class)->map (widget);
}

static void
late_page_dispose (GObject *object)
{
  FwLatePage *self = FW_LATE_PAGE (object);

  self->make = NULL;
  self->page = NULL;
  fw_widget_drop_children (GTK_WIDGET (self));
  G_OBJECT_CLASS (fw_late_page_parent_class)->dispose (object);
}

static void
fw_late_page_class_init (FwLatePageClass *class)
{
  G_OBJECT_CLASS (class)->dispose = late_page_dispose;
  GTK_WIDGET_CLASS (class)->map = late_page_map;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (class), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (class), "late-page");
}

static void
fw_late_page_init (FwLatePage *self)
{
}

GtkWidget *
fw_late_page_new (FwLatePageMake make, gpointer data)
{
  FwLatePage *self = g_object_new (FW_TYPE_LATE_PAGE, NULL);

  self->make = make;
  self->data = data;
  return GTK_WIDGET (self);
}
