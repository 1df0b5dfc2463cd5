/* The style rules that the widgets cannot do without; the window's own style sheet comes on top. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Adds them to the display, once. */
void fw_widget_style_add (void);

/* Text of small type, left, in any number of lines. */
GtkWidget *fw_note_label (const char *text);

/* Unparents all children. */
void fw_widget_drop_children (GtkWidget *widget);

/* Name and description for assistive technology; NULL leaves one as it is. */
void fw_widget_describe (GtkWidget *widget, const char *label, const char *description);

/* Tells what a list that drops down stands at, as the description of the button in it that takes the keyboard. */
void fw_drop_down_tell (GtkWidget *drop_down);

G_END_DECLS
