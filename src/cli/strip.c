/* strip: the motion as a plate of frames, a PNG for the build log. */
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"
#include "cli/scene.h"
#include "draw/motionstrip.h"
#include "strength/bearings.h"
#include "strength/strength.h"

#define STEPS 360

/* What arrows are drawn from; NULL or nothing where memory ran out or the crank's stock is not known. */
typedef struct
{
  FwLoadTurn *loads;
  FwStrength *strength;
  FwVec3 *bearings;
} Forces;

static void
forces_solve (Forces *f, const FwMechanism *mech, FwScene *scene)
{
  f->loads = fw_load_turn_new (mech, STEPS);
  f->strength = fw_strength_new (mech);
  if (f->loads == NULL)
    return;
  fw_load_turn_solve (f->loads, mech, fw_crank_speed (mech->design));
  scene->loads = f->loads;
  if (f->strength == NULL || f->strength->crank->status != FW_FRAME_OK)
    return;
  FwCrankFlex *crank = f->strength->crank;
  f->bearings = g_new (FwVec3, crank->n_bearings * FW_STRENGTH_STEPS);
  if (fw_bearing_forces (crank, mech, f->loads, FW_STRENGTH_STEPS, f->bearings))
    scene->bearings
        = (FwBearingLoads) { crank->n_bearings, FW_STRENGTH_STEPS, crank->bearings_mm, f->bearings };
}

static void
forces_clear (Forces *f)
{
  free (f->loads);
  fw_strength_free (f->strength);
  g_free (f->bearings);
}

static int
write_strip (const FwJob *job, const FwMotionStrip *strip, const char *path)
{
  g_autoptr (GError) error = NULL;
  FwCliScene stage;
  if (!fw_cli_scene_open (&stage, job))
    return FW_EXIT_REFUSED;
  FwTrouble *room = g_new0 (FwTrouble, FW_TROUBLE_ROOM);
  FwTroubleList troubles = { .items = room, .capacity = FW_TROUBLE_ROOM };
  Forces forces = { NULL, NULL, NULL };
  fw_trouble_find (job->turn, job->mech, &troubles);
  stage.scene.troubles = &troubles;
  if (strip->show != 0)
    forces_solve (&forces, job->mech, &stage.scene);
  gboolean written = fw_motion_strip_write_png (&stage.scene, strip, fw_document_title (job->doc), path, &error);
  forces_clear (&forces);
  g_free (room);
  fw_cli_scene_close (&stage);
  return written ? FW_EXIT_FINE : fw_cli_refuse ("%s", error->message);
}

int
fw_verb_strip (int argc, char **argv)
{
  FwMotionStrip strip = fw_motion_strip_default ();
  int status;
  gboolean arrows = FALSE, weights = FALSE;
  g_autofree char *view = NULL, *path = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path, N_ ("The PNG file to write"), N_ ("OUT.png") },
    { "frames", 0, 0, G_OPTION_ARG_INT, &strip.frames, N_ ("Frames in the turn (8)"), N_ ("N") },
    { "view", 0, 0, G_OPTION_ARG_STRING, &view, N_ ("both (the default), front or side"), N_ ("VIEW") },
    { "frame-width", 0, 0, G_OPTION_ARG_INT, &strip.frame_width, N_ ("Width of a frame in pixels (300)"), N_ ("PX") },
    { "forces", 0, 0, G_OPTION_ARG_NONE, &arrows, N_ ("Arrows of the forces in every frame"), NULL },
    { "weights", 0, 0, G_OPTION_ARG_NONE, &weights, N_ ("Arrows of the weights of body and panels"), NULL },
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
  if (!fw_cli_parse_view (view, &strip.views))
    return fw_cli_refuse (_ ("strip: --view: expected both, front or side, found “%s”"), view);
  strip.show = (arrows ? FW_SHOW_FORCES : 0) | (weights ? FW_SHOW_WEIGHTS : 0);

  FwJob job;
  if (!fw_job_open (&job, file, STEPS))
    return FW_EXIT_REFUSED;
  status = write_strip (&job, &strip, path);
  if (status == FW_EXIT_FINE && fw_job_cannot_go_round (&job))
    status = FW_EXIT_TROUBLE;
  fw_job_close (&job);
  return status;
}
