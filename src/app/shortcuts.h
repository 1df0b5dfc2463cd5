/* The keys of the program, in one table: accelerators, tooltips and the shortcuts page read it. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum { FW_KEYS_FILE, FW_KEYS_EDIT, FW_KEYS_CRANK, FW_KEYS_VIEW, FW_KEYS_SHOW, FW_KEYS_HELP, FW_N_KEY_SECTIONS } FwKeySection;

typedef struct
{
  FwKeySection section;
  const char *action;    /* detailed name; NULL: a key of one widget, told on the page only */
  const char *accels[3]; /* NULL-terminated */
  const char *label;     /* untranslated */
} FwShortcut;

const FwShortcut *fw_shortcuts (int *n);
const char *fw_key_section_label (FwKeySection section); /* translated */

/* "Save (Ctrl+S)". */
void fw_shortcut_tooltip (GtkWidget *widget, const char *text, const char *action);

/* Gives every action its keys, but for Space: a key that types or presses where the keyboard is. */
void fw_shortcuts_install (GtkApplication *app);

/* Keys that go to the widget with the keyboard first, and to the window if that has no use for them. */
GtkEventController *fw_shortcuts_late_keys (void);

G_END_DECLS
