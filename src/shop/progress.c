#include "shop/progress.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

gboolean
fw_progress (const FwProgress *progress, double fraction, const char *what)
{
  return !progress || !progress->onward || progress->onward (fraction, what, progress->data);
}

gboolean
fw_progress_stopped (GError **error)
{
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _("Stopped; nothing was written"));
  return FALSE;
}
