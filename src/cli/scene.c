#include "cli/scene.h"

#include <glib/gi18n.h>
#include <string.h>

gboolean
fw_cli_scene_open (FwCliScene *stage, const FwJob *job)
{
  *stage = (FwCliScene) { .pose = fw_pose_new (job->mech), .scratch = fw_pose_new (job->mech) };
  if (stage->pose == NULL || stage->scratch == NULL)
    {
      fw_cli_scene_close (stage);
      fw_cli_refuse (_ ("out of memory"));
      return FALSE;
    }
  fw_pose_solve (stage->pose, job->mech, 0);
  stage->scene = (FwScene) { .mechanism = job->mech, .pose = stage->pose, .turn = job->turn, .scratch = stage->scratch };
  return TRUE;
}

void
fw_cli_scene_close (FwCliScene *stage)
{
  free (stage->pose);
  free (stage->scratch);
}

gboolean
fw_cli_parse_view (const char *text, FwStripViews *views)
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
