/* A drop-down for narrow places. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Its face may be narrower than its words; takes the model, a list of strings, over. */
GtkWidget *fw_narrow_drop_down (GListModel *model);

G_END_DECLS
