/* A page of the guide: Markdown made into widgets, with tables, pictures and links. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Where the guide lies: the folder of the pages, NULL if it is not installed. New string. */
char *fw_guide_folder (void);

/* The page's first heading, or its file name. New string. */
char *fw_guide_title (const char *text, const char *name);

/* `folder` is where the page's pictures are looked for. A press on a link calls `follow` with what it leads to. */
typedef void (*FwGuideFollow) (const char *place, gpointer data);
GtkWidget *fw_guide_page_new (const char *text, const char *folder, FwGuideFollow follow, gpointer data);

/* The heading that a link calls `anchor`, or NULL. */
GtkWidget *fw_guide_page_heading (GtkWidget *page, const char *anchor);

/* Marks every place that says `words`, big letters or small. Returns the first of them behind `after` (NULL: of all), or
 * where there is none behind it the first; NULL if there is none. No words: unmarks all. */
GtkWidget *fw_guide_page_find (GtkWidget *page, const char *words, GtkWidget *after);

G_END_DECLS
