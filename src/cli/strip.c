/* strip: the motion as a plate of frames, a PNG for the build log. */
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "draw/motionstrip.h"

#define STEPS 360

static gboolean
parse_view (const char *text, FwStripViews *views)
{
  static const char *const names[] = { [FW_STRIP_BOTH] = "both", [FW_STRIP_FRONT] = "front", [FW_STRIP_SIDE] = "side" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (text == NULL || strcmp (text, names[i]) == 0)
      {
        *views = (FwStripViews)i;
        return TRUE;
      }
  return FALSE;
}

static int
write_strip (const FwJob *job, const FwMotionStrip *strip, const char *path)
{
  g_autoptr (GError) error = NULL;
  FwPose *pose = fw_pose_new (job->mech), *scratch = fw_pose_new (job->mech);
  FwTrouble *room = g_new0 (FwTrouble, FW_TROUBLE_ROOM);
  FwTroubleList troubles = { .items = room, .capacity = FW_TROUBLE_ROOM };
  fw_trouble_find (job->turn, job->mech, &troubles);
  fw_pose_solve (pose, job->mech, 0);
  const FwScene scene
      = { .mechanism = job->mech, .pose = pose, .turn = job->turn, .troubles = &troubles, .scratch = scratch };
  gboolean written = fw_motion_strip_write_png (&scene, strip, fw_document_title (job->doc), path, &error);
  g_free (room);
  free (pose);
  free (scratch);
  return written ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
}

int
fw_verb_strip (int argc, char **argv)
{
  FwMotionStrip strip = fw_motion_strip_default ();
  int status;
  g_autofree char *view = NULL, *path = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, N_ ("The PNG file to write"), "OUT.png" },
    { "frames", 0, 0, G_OPTION_ARG_INT, &strip.frames, N_ ("Frames in the turn (8)"), "N" },
    { "view", 0, 0, G_OPTION_ARG_STRING, &view, N_ ("both (the default), front or side"), "VIEW" },
    { "frame-width", 0, 0, G_OPTION_ARG_INT, &strip.frame_width, N_ ("Width of a frame in pixels (300)"), "PX" },
    { NULL },
  };
  g_autofree char *file = fw_cli_options (
      argc, argv, "strip", _ ("The motion as a plate of frames. Exit status 1: the design cannot go round."), entries,
      &status);
  if (file == NULL)
    return status;
  if (path == NULL)
    return fw_cli_refuse (_ ("strip: expected -o with the name of the PNG file to write"));
  if (strip.frames < 1 || strip.frames > 72)
    return fw_cli_refuse (_ ("strip: --frames: expected a whole number from 1 to 72, found %d"), strip.frames);
  if (strip.frame_width < 80 || strip.frame_width > 4000)
    return fw_cli_refuse (_ ("strip: --frame-width: expected 80 to 4000 pixels, found %d"), strip.frame_width);
  if (!parse_view (view, &strip.views))
    return fw_cli_refuse (_ ("strip: --view: expected both, front or side, found “%s”"), view);

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  status = write_strip (&job, &strip, path);
  if (status == FW_EXIT_FINE && fw_job_cannot_go_round (&job))
    status = FW_EXIT_TROUBLE;
  fw_job_close (&job);
  return status;
}
