/* Counterweights and springs in plain, translated sentences. */
#pragma once

#include "core/loadremedy.h"
#include "doc/words.h"

G_BEGIN_DECLS

/* "A counterweight of 140 g on neck, 50 mm outward from its hinge". Free with g_free. */
char *fw_words_counterweight (const FwDesign *design, const FwCounterweight *weight,
                              FwLengths lengths);

/* "An elastic cord beside rod that draws its ends together with 4.1 N keeps it pushed all the
 * turn". Free with g_free. */
char *fw_words_spring (const FwMechanism *mechanism, const FwSpring *spring);

G_END_DECLS
