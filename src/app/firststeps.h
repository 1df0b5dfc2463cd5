/* The first-run page: three things to try, above the views, each ticked once it was done.
 *
 * Signal: closed () */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum { FW_STEP_SLIDER, FW_STEP_SCRUB, FW_STEP_EXPORT, FW_N_STEPS } FwStep;

#define FW_TYPE_FIRST_STEPS (fw_first_steps_get_type ())
G_DECLARE_FINAL_TYPE (FwFirstSteps, fw_first_steps, FW, FIRST_STEPS, GtkWidget)

GtkWidget *fw_first_steps_new (void);
void fw_first_steps_set_done (FwFirstSteps *self, FwStep step);

G_END_DECLS
