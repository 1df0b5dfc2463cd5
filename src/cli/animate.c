/* animate: one turn as an animated GIF. */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/patience.h"
#include "cli/scene.h"
#include "shop/animate.h"

#define STEPS 360

/* FALSE: a line was written. */
static gboolean
can_animate (const FwAnimation *a, const FwDesign *design)
{
  int turn, frames, most;
  if (a->width < 80 || a->width > 2000)
    fw_cli_refuse (_ ("animate: --width: expected 80 to 2000 pixels, found %d"), a->width);
  else if (a->frames != 0 && (a->frames < 2 || a->frames > FW_ANIMATE_MOST_FRAMES))
    fw_cli_refuse (_ ("animate: --frames: expected a whole number from 2 to %d, found %d"), FW_ANIMATE_MOST_FRAMES,
                   a->frames);
  else if (!(a->speed >= 0.01 && a->speed <= 100))
    fw_cli_refuse (_ ("animate: --speed: expected a number from 0.01 to 100, times the design's own speed, found %g"),
                   a->speed);
  else if (design != NULL && !fw_animation_timing (a, design, &turn, &frames, &most))
    {
      if (most > 0)
        fw_cli_refuse (_ ("animate: --frames: at this speed at most %d frames can be shown in one turn, %d were asked for"),
                       most, a->frames);
      else
        fw_cli_refuse (_ ("animate: --speed: a turn that takes from 0.04 seconds to 10 minutes was expected"));
    }
  else
    return TRUE;
  return FALSE;
}

int
fw_verb_animate (int argc, char **argv)
{
  FwAnimation animation = fw_animation_default ();
  int status;
  g_autofree char *view = NULL, *path = NULL;
  gboolean has_frames;
  animation.frames = -1;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, N_ ("The GIF file to write"), N_ ("OUT.gif") },
    { "width", 0, 0, G_OPTION_ARG_INT, &animation.width, N_ ("Width of the picture in pixels (480)"), N_ ("PX") },
    { "frames", 0, 0, G_OPTION_ARG_INT, &animation.frames, N_ ("Frames in the turn (25 a second, 12 to 120)"), N_ ("N") },
    { "speed", 0, 0, G_OPTION_ARG_DOUBLE, &animation.speed, N_ ("Times the design's own speed (1)"), N_ ("X") },
    { "view", 0, 0, G_OPTION_ARG_STRING, &view, N_ ("both (the default), front or side"), N_ ("VIEW") },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "animate", _ ("One turn as a GIF that loops for ever. Exit status 1: the design cannot go round."),
      entries, &status);
  if (file == NULL)
    return status;
  if (path == NULL)
    return fw_cli_refuse (_ ("animate: expected -o with the name of the GIF file to write"));
  if (!fw_cli_parse_view (view, &animation.views))
    return fw_cli_refuse (_ ("animate: --view: expected both, front or side, found “%s”"), view);
  has_frames = animation.frames != -1;
  if (has_frames && animation.frames == 0)
    return fw_cli_refuse (_ ("animate: --frames: expected a whole number from 2 to %d, found %d"),
                          FW_ANIMATE_MOST_FRAMES, 0);
  animation.frames = has_frames ? animation.frames : 0;
  if (!can_animate (&animation, NULL))
    return FW_EXIT_REFUSED;

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  g_autoptr (GError) error = NULL;
  FwCliScene stage;
  status = FW_EXIT_REFUSED;
  if (can_animate (&animation, job.mech->design) && fw_cli_scene_open (&stage, &job))
    {
      fw_cli_begin_long ();
      gboolean written = fw_animation_write_gif (&stage.scene, &animation, path, fw_cli_progress (), &error);
      fw_cli_end_long ();
      status = written ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
      fw_cli_scene_close (&stage);
    }
  if (status == FW_EXIT_FINE && fw_job_cannot_go_round (&job))
    status = FW_EXIT_TROUBLE;
  fw_job_close (&job);
  return status;
}
