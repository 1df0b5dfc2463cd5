/* Inside the aim layer: which wishes stand in each other's way. */
#pragma once

#include "aim/aim.h"
#include "aim/runs.h"

G_BEGIN_DECLS

/* Fills `conflict`: wishes that cannot all be met, none of which can be spared from that set. Wishes are
 * left out one by one and the rest is searched for again; one whose absence changes nothing stays out
 * (deletion filter: J. W. Chinneck, Feasibility and Infeasibility in Optimization, 2008, from memory).
 * "Cannot" means that a search found none. `n_runs`: of the search, for its progress. */
void fw_find_conflict (FwAimed *aimed, const FwStartRuns *runs, int n_runs);

G_END_DECLS
