/* What a quantity means, where it stands: a small button that opens a popover with words and a drawing, and F1 on
 * whatever has one. No dialog, and nothing opens by itself. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"
#include "doc/explain.h"

G_BEGIN_DECLS

/* A small round button; F1 with the keyboard anywhere inside `owner` presses it. In a row (`owner` a row of
 * numbers, a line of a list) it is seen while the pointer or the keyboard is there; beside a heading always. */
GtkWidget *fw_explain_button_new (FwSession *session, GtkWidget *owner, const FwExplain *explain, gboolean in_row);

/* A label with such a button beside it, for a heading. */
GtkWidget *fw_explain_heading (FwSession *session, GtkWidget *label, const FwExplain *explain);

/* For rows that are used again for something else. */
void fw_explain_button_set (GtkWidget *button, const FwExplain *explain);

/* Opens the explanation of what has the keyboard in this window; FALSE if it has none. */
gboolean fw_explain_focus (GtkWindow *window);

/* Inside a popover, which the keys of the window do not reach: F1 there is this too. */
void fw_explain_take_key (GtkWidget *popover);

G_END_DECLS
