/* Made by hand: how often it still goes round, what trouble comes of it, and which number matters most. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_TOLERANCE_PAGE (fw_tolerance_page_get_type ())
G_DECLARE_FINAL_TYPE (FwTolerancePage, fw_tolerance_page, FW, TOLERANCE_PAGE, GtkWidget)

/* Signals: "number" (string): a number was pressed, by its name; "closed": the page is to go. */
GtkWidget *fw_tolerance_page_new (FwSession *session);

void fw_tolerance_page_focus (FwTolerancePage *self);

G_END_DECLS
