/* The rows of the page of wishes. Each edit goes through the session, as a step of undo. */
#pragma once

#include <gtk/gtk.h>

#include "aim/aim.h"
#include "app/session.h"

G_BEGIN_DECLS

/* A wish: its words, what there is now as a bar and in words, how much it matters, a button to remove it. */
GtkWidget *fw_aim_wish_row_new (FwSession *session, int wish);
/* `got`: as the design stands; NULL: not known. */
void fw_aim_wish_row_set (GtkWidget *row, const FwWish *wish, const FwGot *got);

/* A number that may change, with its limits. */
GtkWidget *fw_aim_free_row_new (FwSession *session, int item);
/* Before it goes: its limits may be another number's by now, so what was typed is not taken any more. */
void fw_aim_free_row_let_go (GtkWidget *row);

/* Buttons that open a form to add a wish and a list of numbers to choose from. */
GtkWidget *fw_aim_chooser_new (FwSession *session);
GtkWidget *fw_aim_number_chooser_new (FwSession *session);

/* An answer: what it costs wish by wish, and what it changes. `apply` gets its index. */
GtkWidget *fw_aim_answer_row_new (FwSession *session, const FwAimed *aimed, int answer, const FwDesign *design,
                                  const FwWishes *wishes);

/* Words of a wish with the names people read instead of key paths; g_free. */
char *fw_aim_wish_words (const FwDesign *design, const FwWish *wish, FwLengths lengths);

G_END_DECLS
