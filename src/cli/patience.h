/* Work that may be long: how far it is, Ctrl-C, and how much of it one call takes on. */
#pragma once

#include "core/mechanism.h"
#include "shop/progress.h"

G_BEGIN_DECLS

/* Between the two, an interrupt, a hangup or a request to end is noted, and the work is told to stop; a second one ends
 * the program at once. `fw_cli_end_long ()` takes the line about progress away, and ends the program as the signal would
 * have: call it when everything half-written is gone, and before anything is said. */
void fw_cli_begin_long (void);
void fw_cli_end_long (void);

/* True after such a signal. `data` is not used: an FwStop. */
bool fw_cli_stopped (void *data);

/* Shows "WHAT 42 %" on standard error, if that is a terminal. */
void fw_cli_tell (double fraction, const char *what);

/* Both as one, for what writes files. */
const FwProgress *fw_cli_progress (void);

/* How many parts one pose solves, the body included. Panels that hang on each other find their rest round by round and
 * count for each. Work is poses times this: the same on every machine, unlike time. */
double fw_cli_work_of_pose (const FwMechanism *mechanism);

/* How much of it a search may do. */
typedef struct
{
  double trial; /* work of one */
  double left, share; /* of all; of what is searched for now */
  gboolean cut_short; /* something was left out */
} FwPatience;

/* An FwStop on an FwPatience: takes one trial off. */
bool fw_cli_spent (void *patience);

G_END_DECLS
