/* Buttons with an underlined letter whose accessible name is the plain text. (GTK 4.8 would give the
 * underline along.) */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *fw_button_new (const char *mnemonic);
GtkWidget *fw_check_new (const char *mnemonic, gboolean active);

/* The label names the control for assistive technology. */
void fw_name_by_label (GtkWidget *control, GtkWidget *label);

/* A row of a form: name and control, tied to each other. Returns the control. */
GtkWidget *fw_form_add (GtkGrid *form, int row, const char *mnemonic, GtkWidget *control);

/* A field for a number in whole steps. */
GtkWidget *fw_spin_new (double lower, double upper, double step, double value);

G_END_DECLS
