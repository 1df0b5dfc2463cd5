#include "app/renderer.h"

#include <gtk/gtk.h>

/* Views, strip and plots are cairo's work in any case: OpenGL would add carrying each of them to the graphics
 * card. To open it takes as long as the rest of GTK's start, and most of the memory. GTK has no call for this. */
static const char *const wanted[][2] = {
  { "GSK_RENDERER", "cairo" },
  { "GDK_DEBUG", "gl-disable" },  /* before GTK 4.16 */
  { "GDK_DISABLE", "gl,vulkan" }, /* since then */
};

static gboolean ours[G_N_ELEMENTS (wanted)];

void
fw_renderer_choose (void)
{
  const char *named = g_getenv ("GSK_RENDERER");
  gsize other = gtk_get_minor_version () >= 16 ? 1 : 2; /* which it would not know */

  if (named != NULL && !g_str_equal (named, "cairo"))
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    if (i != other && g_getenv (wanted[i][0]) == NULL)
      ours[i] = g_setenv (wanted[i][0], wanted[i][1], FALSE);
}

void
fw_renderer_chosen (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    if (ours[i])
      g_unsetenv (wanted[i][0]);
  memset (ours, 0, sizeof ours);
}
