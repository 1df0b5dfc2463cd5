/* The guided start: a few answers, from which a design that goes round is built.
 *
 * Signal: built (string: text of a design file) */
#pragma once

#include <gtk/gtk.h>

#include "doc/units.h"

G_BEGIN_DECLS

#define FW_TYPE_GUIDE (fw_guide_get_type ())
G_DECLARE_FINAL_TYPE (FwGuidePage, fw_guide, FW, GUIDE, GtkWidget)

GtkWidget *fw_guide_new (FwLengths lengths);

G_END_DECLS
