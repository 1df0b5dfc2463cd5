/* The real thing: what was measured on it, by hand or off a photograph, and what was really built. */
#pragma once

#include "app/window.h"

G_BEGIN_DECLS

#define FW_TYPE_FIT_PAGE (fw_fit_page_get_type ())
G_DECLARE_FINAL_TYPE (FwFitPage, fw_fit_page, FW, FIT_PAGE, GtkWidget)

/* Signal: "closed": the page is to go. */
GtkWidget *fw_fit_page_new (FwWindow *window);

void fw_fit_page_focus (FwFitPage *self);

/* A line at the present crank angle, ready for its value. */
void fw_fit_page_add_here (FwFitPage *self);

G_END_DECLS
