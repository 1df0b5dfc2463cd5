/* A solved design as draw wants it, for the verbs that write pictures. */
#pragma once

#include "cli/cli.h"
#include "draw/motionstrip.h"

G_BEGIN_DECLS

typedef struct
{
  FwScene scene;
  FwPose *pose, *scratch;
} FwCliScene;

/* Without trouble: marks would flicker. FALSE: a line was written. */
gboolean fw_cli_scene_open (FwCliScene *stage, const FwJob *job);
void fw_cli_scene_close (FwCliScene *stage);

/* "both" (NULL too), "front", "side". */
gboolean fw_cli_parse_view (const char *text, FwStripViews *views);

G_END_DECLS
