#include "app/look.h"

#include <gtk/gtk.h>

#include "app/sessionprivate.h"

#define USUAL_DPI (96 * 1024.0) /* gtk-xft-dpi counts in 1024ths */

FwTheme
fw_session_theme (FwSession *self)
{
  return self->theme;
}

double
fw_session_text (FwSession *self)
{
  return self->text > 0 ? self->text : 1;
}

void
fw_session_set_look (FwSession *self, FwTheme theme, double text)
{
  if (self->theme == theme && fw_session_text (self) == text)
    return;
  self->theme = theme;
  self->text = text;
  fw_session_emit (self, FW_SESSION_DISPLAY);
}

FwStyle
fw_session_style (FwSession *self, double size)
{
  FwStyle style = fw_style (self->theme, size);

  style.text *= fw_session_text (self);
  style.lengths = self->lengths;
  return style;
}

double
fw_desktop_text (void)
{
  GtkSettings *settings = gtk_settings_get_default ();
  int dpi = -1;

  if (settings != NULL)
    g_object_get (settings, "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? CLAMP (dpi / USUAL_DPI, 0.75, 3) : 1;
}
