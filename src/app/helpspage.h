/* What helps: the numbers that move the thing in hand, as a picture whose rows lead to the number. The thing is
 * the picked trouble, the highest or lowest point of a curve, or the picked panel as it stands.
 *
 * Signal: number (guint, index in fw_session_params): a row was pressed. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_HELPS_PAGE (fw_helps_page_get_type ())
G_DECLARE_FINAL_TYPE (FwHelpsPage, fw_helps_page, FW, HELPS_PAGE, GtkWidget)

GtkWidget *fw_helps_page_new (FwSession *session);
void fw_helps_page_focus (FwHelpsPage *self);
/* The thing in hand is the picked trouble. */
void fw_helps_page_take_trouble (FwHelpsPage *self);

G_END_DECLS
