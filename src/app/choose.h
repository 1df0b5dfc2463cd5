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

/* Takes over the reference to a dialog for files that has been answered, and lets go of it later: in GTK before 4.10 its
 * list of files, if it is still being read, speaks to a dialog that is gone. */
void fw_choose_let_go (GtkNativeDialog *dialog);

G_END_DECLS
