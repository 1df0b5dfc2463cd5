/* The mark of a severity: an octagon with a cross for a failure, a triangle for a warning, a ring for
 * a remark, a tick where all is well. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

G_BEGIN_DECLS

typedef enum { FW_MARK_REMARK, FW_MARK_WARNING, FW_MARK_FAILURE, FW_MARK_WELL } FwMarkKind;

FwMarkKind fw_mark_of_severity (FwSeverity severity);
const char *fw_severity_name (FwSeverity severity); /* "Failure" (translated, static) */

GtkWidget *fw_severity_mark_new (FwSession *session, int size);
void fw_severity_mark_set (GtkWidget *mark, FwMarkKind kind);

G_END_DECLS
