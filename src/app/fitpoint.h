/* Points clicked in the views: what the photograph is placed by and read off. By mouse, or by arrows and Enter. */
#pragma once

#include "app/canvas.h"
#include "draw/photo.h"

G_BEGIN_DECLS

typedef struct FwPointer FwPointer;

/* `plane`: mm in the view's plane. */
typedef void (*FwPointed) (FwVec2 plane, gpointer data);

/* `moved`: the cross of `photo` moved by key, or pointing ended by Escape (`photo` is changed). */
FwPointer *fw_pointer_new (GtkWidget *const canvas[2], FwPhoto *photo, FwPointed pointed, void (*moved) (gpointer data),
                           void (*ended) (gpointer data), gpointer data);
void fw_pointer_free (FwPointer *self);

/* While on, presses in the photograph's view are points. */
void fw_pointer_set_on (FwPointer *self, gboolean on);

G_END_DECLS
