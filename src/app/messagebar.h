/* One line for the user inside the window: what was done, what failed, or an offer with a button. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_MESSAGE_BAR (fw_message_bar_get_type ())
G_DECLARE_FINAL_TYPE (FwMessageBar, fw_message_bar, FW, MESSAGE_BAR, GtkWidget)

GtkWidget *fw_message_bar_new (void);

/* Goes by itself after some seconds, but not before something is done in the window: nobody misses it. */
void fw_message_bar_note (FwMessageBar *self, const char *text);
/* Stays until it is closed or something else is said. */
void fw_message_bar_fail (FwMessageBar *self, const char *text);

/* The same with a button for what may help; answered as an offer is, by TRUE. */
typedef void (*FwOffered) (gboolean yes, gpointer data);
void fw_message_bar_fail_offer (FwMessageBar *self, const char *text, const char *yes, FwOffered answered,
                                gpointer data, GDestroyNotify release);

/* Stays until answered: TRUE for `yes`, FALSE for `no`. `answered` is called once; `data` is then freed with `release`.
 * An offer that is closed or replaced is not answered, and may be made again. */
void fw_message_bar_offer (FwMessageBar *self, const char *text, const char *yes, const char *no,
                           FwOffered answered, gpointer data, GDestroyNotify release);

void fw_message_bar_hide (FwMessageBar *self);

G_END_DECLS
