/* A question in a modal window of our own, answered by buttons. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct
{
  const char *label; /* with an underlined letter */
  const char *style; /* style class, or NULL */
} FwAnswer;

#define FW_ANSWER_NONE (-1) /* closed, or Escape */

typedef void (*FwAnswered) (int answer, gpointer data);

/* Calls `answered` once, then frees `data` with `release` (NULL: does not). The last answer has the
 * keyboard and is what Enter gives. */
void fw_ask (GtkWindow *parent, const char *heading, const char *words, const FwAnswer *answers, int n_answers,
             FwAnswered answered, gpointer data, GDestroyNotify release);

/* A modal window for a parent, closed by Escape; its content is put into a box of this spacing. */
GtkWindow *fw_dialog_new (GtkWindow *parent, const char *title);

G_END_DECLS
