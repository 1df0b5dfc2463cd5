/* The style rules that the widgets cannot do without; the window's own style sheet comes on top. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Adds them to the display, once. */
void fw_widget_style_add (void);

/* A sentence in a label that breaks lines: never between a figure and its unit. NULL: none yet. */
void fw_label_say (GtkWidget *label, const char *text);

/* Text of small type, left, in any number of lines. */
GtkWidget *fw_note_label (const char *text);

/* Unparents all children. */
void fw_widget_drop_children (GtkWidget *widget);

/* Moves a point of the widget into its window, if it lies outside: what has the keys may have been scrolled from
 * sight, and a popover that points beyond all monitors cannot be placed. */
void fw_widget_keep_in_window (GtkWidget *widget, double *x, double *y);

/* Name and description for assistive technology; NULL leaves one as it is. */
void fw_widget_describe (GtkWidget *widget, const char *label, const char *description);

/* Tells what a list that drops down stands at, as the description of the button in it that takes the keyboard. It
 * gets the actions "choice.next" and "choice.previous" for assistive technology: GTK 4.8 has none for its rows. */
void fw_drop_down_tell (GtkWidget *drop_down);

/* An action by which assistive technology presses a check button or a row, to which GTK 4.8 gives none. */
void fw_widget_can_be_pressed (GtkWidget *widget);

G_END_DECLS
