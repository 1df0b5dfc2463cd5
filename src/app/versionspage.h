/* Versions: designs kept by name, two at a time laid over the present one, and what is different. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_VERSIONS_PAGE (fw_versions_page_get_type ())
G_DECLARE_FINAL_TYPE (FwVersionsPage, fw_versions_page, FW, VERSIONS_PAGE, GtkWidget)

GtkWidget *fw_versions_page_new (FwSession *session);
/* Puts the keyboard into the field for a name. */
void fw_versions_page_focus (FwVersionsPage *self);

G_END_DECLS
