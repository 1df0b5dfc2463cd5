/* Wishes, the numbers that may change for them, the search and its answers. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_AIM_PAGE (fw_aim_page_get_type ())
G_DECLARE_FINAL_TYPE (FwAimPage, fw_aim_page, FW, AIM_PAGE, GtkWidget)

GtkWidget *fw_aim_page_new (FwSession *session);
void fw_aim_page_focus (FwAimPage *self);

G_END_DECLS
