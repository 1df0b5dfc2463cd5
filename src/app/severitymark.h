/* The sign of a severity, as the views mark it on the parts: a full diamond for a failure, a triangle
 * for a warning, a ring for a remark, each with the trouble's number; a tick where all is well. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

typedef enum { FW_SIGN_REMARK, FW_SIGN_WARNING, FW_SIGN_FAILURE, FW_SIGN_WELL } FwSignKind;

FwSignKind fw_sign_of_severity (FwSeverity severity);
const char *fw_severity_name (FwSeverity severity); /* "Failure" (translated, static) */

GtkWidget *fw_severity_mark_new (FwSession *session, int size);
void fw_severity_mark_set (GtkWidget *mark, FwSignKind kind, int number); /* 0: no number */

G_END_DECLS
