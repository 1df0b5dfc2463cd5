/* What a design with some numbers changed would measure. Internal to this layer. */
#pragma once

#include "aim/fit.h"
#include "core/sensitivity.h"

G_BEGIN_DECLS

typedef struct
{
  const FwMeasurement *list;
  int n;
  double *weights;   /* [n]: 1 / standard deviation */
  FwDesign *design;  /* a copy that is changed */
  FwFitName *names;  /* of all numbers that may change */
  double *drawn;     /* [n_names] as drawn */
  double *scale;     /* [n_names] what one unit of search is, file unit */
  int n_names;
  double zero_deg;   /* added to the measured crank angles */
} FwFitModel;

/* All numbers that may change, none changed yet. `list` must outlive the model. FALSE: no memory; close it all the same. */
gboolean fw_fit_model_open (FwFitModel *model, const FwDesign *design, const FwMeasurement *list, int n,
                            const FwFitWish *wish);
/* Frees what it holds, not the model itself. */
void fw_fit_model_close (FwFitModel *model);

/* Sets a number, search units from as drawn. FALSE: beyond what the file allows. */
gboolean fw_fit_model_set (FwFitModel *model, int name, double units);

/* Weighted misses [n] (computed less measured), and, where `slopes` is given, their derivatives
 * [n_chosen][n] by the chosen names per search unit. FALSE: it cannot be built. */
gboolean fw_fit_model_solve (FwFitModel *model, const int *chosen, int n_chosen, double *misses, double *slopes);

G_END_DECLS
