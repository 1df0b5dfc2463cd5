/* A page of the guide: Markdown made into widgets, with tables, pictures and links. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* `folder` is where the page's pictures are looked for. A press on a link calls `follow` with what it leads to. */
typedef void (*FwGuideFollow) (const char *place, gpointer data);
GtkWidget *fw_guide_page_new (const char *text, const char *folder, FwGuideFollow follow, gpointer data);

/* The heading that a link calls `anchor`, or NULL; the heading of that number, from 0, or NULL. */
GtkWidget *fw_guide_page_heading (GtkWidget *page, const char *anchor);
GtkWidget *fw_guide_page_nth_heading (GtkWidget *page, int number);

/* Marks every place that says `words`, big letters or small. Returns the first of them behind `after` (NULL: of all), or
 * where there is none behind it the first; NULL if there is none. No words: unmarks all. */
GtkWidget *fw_guide_page_find (GtkWidget *page, const char *words, GtkWidget *after);

G_END_DECLS
