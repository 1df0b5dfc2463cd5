/* The place of a page that is made when it is first wanted, so that the window's start does not wait for it. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_LATE_PAGE (fw_late_page_get_type ())
G_DECLARE_FINAL_TYPE (FwLatePage, fw_late_page, FW, LATE_PAGE, GtkWidget)

/* Makes the page; `data` as it was given to fw_late_page_new (). */
typedef GtkWidget *(*FwLatePageMake) (gpointer data);

/* `data` is borrowed and must outlive the widget. */
GtkWidget *fw_late_page_new (FwLatePageMake make, gpointer data);

/* The page, made now if it was not yet; borrowed. Coming into sight makes it too. */
GtkWidget *fw_late_page_inside (FwLatePage *self);

G_END_DECLS
