/* The same motion at another size, worked out beside the main loop.
 *
 * All calls come from the main thread and return at once; the answer arrives there. */
#pragma once

#include "aim/scale.h"

G_BEGIN_DECLS

#define FW_SCALE_MOST 64
#define FW_SCALE_REMEDIES 3

/* What was asked, with names of its own. */
typedef struct
{
  double factor;
  gboolean keep_speed;
  char *material[4]; /* sheet, rods, crank, post; NULL: as it was */
  double size_mm[4], wall_mm[4];
} FwScaleQuestion;

typedef struct
{
  char *error;      /* NULL: all of the rest is known */
  FwDocument *big;
  FwMechanism *mech; /* of the big one */
  double factor;
  FwSizing before, after;
  FwScaleLimit limits[FW_SCALE_MOST];
  int n_limits;
  FwRemedy remedies[FW_SCALE_MOST][FW_SCALE_REMEDIES];
  int n_remedies[FW_SCALE_MOST];
  FwTrouble room[FW_TROUBLE_ROOM];
  FwTroubleList trouble; /* of the big one */
} FwScaleAnswer;

typedef struct FwScaleJob FwScaleJob;

FwScaleJob *fw_scale_job_new (void (*arrived) (gpointer data), gpointer data);
/* Stops what runs; no callback after this. */
void fw_scale_job_free (FwScaleJob *self);

/* The question before is out of date. `doc` is read before this returns. */
void fw_scale_job_ask (FwScaleJob *self, const FwDocument *doc, const FwScaleQuestion *question);

/* The newest that arrived, or NULL; valid until the next. */
FwScaleAnswer *fw_scale_job_answer (FwScaleJob *self);

G_END_DECLS
