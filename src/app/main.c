#include <glib/gi18n.h>
#include <locale.h>

#include "app/application.h"
#include "app/renderer.h"

int
main (int argc, char **argv)
{
  (void) setlocale (LC_ALL, ""); /* an unknown locale leaves the plain one */
  const char *elsewhere = g_getenv ("TEXTDOMAINDIR"); /* as gettext's own programs: a catalogue not yet installed */
  bindtextdomain (GETTEXT_PACKAGE, elsewhere != NULL ? elsewhere : FW_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  g_set_prgname (FW_APP_ID); /* how the desktop finds the program's icon and name */
  g_set_application_name (_("Flapwright"));
  fw_renderer_choose ();
  g_autoptr (FwApplication) app = fw_application_new ();
  return g_application_run (G_APPLICATION (app), argc, argv);
}
