/* What the dialogs that write files have in common: preview at the left, choices at the right, and
 * below them Save, or, while a thread writes, how far it is and Stop. */
#pragma once

#include "app/window.h"
#include "shop/progress.h"

G_BEGIN_DECLS

typedef struct FwFlipFrame FwFlipFrame;

/* Called in a thread with what `take` gave. FALSE: error set, and nothing is left behind. */
typedef gboolean (*FwFlipWrite) (gpointer input, const char *path, const FwProgress *progress, GError **error);

typedef struct
{
  const char *title;       /* of the dialog */
  const char *save;        /* the button, with an underlined letter */
  const char *file_title;  /* of the desktop's window for the name */
  const char *name_end;    /* translated, behind the design's name: "flip-book" */
  const char *ending;      /* ".pdf" */
  const char *filter_name;
  const char *saved;       /* "Flip-book saved: %s" */
  gpointer (*take) (gpointer owner); /* what is to be written, now */
  GDestroyNotify release;            /* frees that */
  FwFlipWrite write;
} FwFlipKind;

/* `owner`: the dialog's own data, freed with `release_owner` when the dialog goes. `preview` may be
 * NULL. The dialog is presented by fw_flip_frame_present (). */
FwFlipFrame *fw_flip_frame_new (FwWindow *window, GtkWindow *parent, const FwFlipKind *kind, gpointer owner,
                                GDestroyNotify release_owner);
void fw_flip_frame_present (FwFlipFrame *self, GtkWidget *preview, GtkWidget *form, int width, int height);
/* What is written changes with a choice: another ending, other words. Copied; strings must stay. */
void fw_flip_frame_set_kind (FwFlipFrame *self, const FwFlipKind *kind);
/* A line below the choices: sizes. `fine` FALSE: it says what is wrong, and nothing can be saved. */
void fw_flip_frame_say (FwFlipFrame *self, const char *words, gboolean fine);

G_END_DECLS
