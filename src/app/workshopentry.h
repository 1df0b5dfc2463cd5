/* A field of the workshop: a number with its unit, or words. Taken over on Enter and when the keyboard leaves
 * it; what cannot be understood is said in the window's message bar. */
#pragma once

#include <gtk/gtk.h>

#include "doc/units.h"

G_BEGIN_DECLS

typedef struct FwEntry FwEntry; /* lives as long as its widget */

/* FALSE: refused, and said why. `value` is in the file's unit. */
typedef gboolean (*FwEntryTaken) (FwEntry *entry, double value, gboolean empty, gpointer data);
typedef gboolean (*FwEntryTyped) (FwEntry *entry, const char *text, gpointer data);

/* `may_be_empty`: an empty field means something (a default, as many as it takes). */
FwEntry *fw_entry_new (FwUnit unit, gboolean may_be_empty, int width_chars, FwEntryTaken taken, gpointer data);
FwEntry *fw_entry_new_text (int width_chars, FwEntryTyped typed, gpointer data);

GtkWidget *fw_entry_widget (FwEntry *entry);

/* Before its widget goes because what it shows has gone: what was typed is not taken any more. GTK tells that the
 * keyboard has left it only after that, at the next layout. */
void fw_entry_let_go (FwEntry *entry);

/* What is shown from now on; never told as a change. */
void fw_entry_set (FwEntry *entry, double value, gboolean empty, FwLengths lengths);
void fw_entry_set_text (FwEntry *entry, const char *text);

G_END_DECLS
