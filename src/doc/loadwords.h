/* Loads, counterweights and springs in plain, translated words. */
#pragma once

#include "core/bounce.h"
#include "core/loadremedy.h"
#include "doc/words.h"

G_BEGIN_DECLS

/* "A counterweight of 140 g on neck, 50 mm outward from its hinge". Free with g_free. */
char *fw_words_counterweight (const FwDesign *design, const FwCounterweight *weight,
                              FwLengths lengths);

/* "A cord from the base to arm, 0.012 N/mm, slack below 85 mm: it pulls with 1.34 N at most". Free with
 * g_free. */
char *fw_words_spring_fit (const FwDesign *design, const FwSpringFit *fit, FwLengths lengths);

/* "An elastic cord beside rod that draws its ends together with 4.1 N keeps it pushed all the
 * turn". Free with g_free. */
char *fw_words_spring (const FwMechanism *mechanism, const FwSpring *spring);

/* The part that a load, stress or sag (FW_Q_TORQUE and above) belongs to; pins and bearings: crank. */
FwPart fw_load_quantity_part (const FwMechanism *mechanism, FwQuantity quantity);

/* The index of a stress or sag of a part, as FW_Q_STRESS. */
int fw_stress_index (const FwMechanism *mechanism, FwPart part);

/* "Force of inrod.right", "Crank torque", "Stress in post"; free with g_free. */
char *fw_words_load_quantity (const FwMechanism *mechanism, FwQuantity quantity);

/* The unit it is shown in, and the factor to it from the quantity's own. */
FwUnit fw_words_load_quantity_unit (FwQuantity quantity, double *factor);

/* Digits after the point that tell a load of this size, in the unit it is shown in: three figures, of small ones two. */
int fw_load_digits (double size);

/* "mid", "in.right": a pin by its throw and side; free with g_free. */
char *fw_words_pin (const FwMechanism *mechanism, int pin);

/* "The post in its guide: the load turns round at 110.4° of the crank, crosses the gap of 0.20 mm and
 * knocks at 118.2° with 0.080 m/s, 3.20 mJ." `worn`: it has no play, but would if it had the gap. Free
 * with g_free. */
char *fw_words_bounce (const FwMechanism *mechanism, const FwBounce *bounce, gboolean worn,
                       FwLengths lengths);

G_END_DECLS
