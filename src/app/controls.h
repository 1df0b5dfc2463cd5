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

/* An entry for a number, right-aligned, whose minus stands before it in every script. */
GtkWidget *fw_number_entry_new (void);

/* Escape in a search field clears it; in an empty one it closes the popover that holds it. */
void fw_search_may_stop (GtkWidget *search, GtkWidget *popover);

/* Closes a popover; NULL: it has closed by itself before its button was told of the press. */
void fw_popdown (GtkWidget *popover);

/* Keeps the widget and all in it from being mirrored where the script runs from right to left: what follows the
 * turn of the crank, which the strip draws from left to right, and fields of numbers, whose minus stands first. */
void fw_left_to_right (GtkWidget *widget);

G_END_DECLS
