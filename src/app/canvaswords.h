/* What a view shows, in words. */
#pragma once

#include "app/session.h"

G_BEGIN_DECLS

/* "Front view" (translated, static). */
const char *fw_canvas_view_name (FwView view);

/* The pose and the trouble at this crank angle, in sentences; free with g_free. */
char *fw_canvas_description (FwSession *session);

G_END_DECLS
