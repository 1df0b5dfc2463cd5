/* The desktop's own window for choosing a file, whichever GTK has. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct
{
  const char *title;
  const char *accept;      /* label of the button */
  gboolean save;
  const char *name;        /* save: suggested name; NULL */
  const char *folder;      /* to start in; NULL */
  const char *filter_name; /* "Flapwright designs" */
  const char *const *kinds; /* to open: endings without their dot, NULL-terminated; NULL: `ending` alone */
  const char *ending;      /* ".flap"; put behind a name to save that has none */
} FwChoice;

/* `path` is NULL if nothing was chosen. Called once. */
typedef void (*FwChosen) (const char *path, gpointer data);

void fw_choose_file (GtkWindow *parent, const FwChoice *choice, FwChosen chosen, gpointer data);

G_END_DECLS
