/* The trouble of one turn in plain sentences, worst first, each with remedies that were tried.
 * Style class "trouble-view". */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

#define FW_TYPE_TROUBLE_VIEW (fw_trouble_view_get_type ())
G_DECLARE_FINAL_TYPE (FwTroubleView, fw_trouble_view, FW, TROUBLE_VIEW, GtkWidget)

GtkWidget *fw_trouble_view_new (FwSession *session);

/* To the picked trouble, or the worst. */
void fw_trouble_view_focus (FwTroubleView *self);

G_END_DECLS
