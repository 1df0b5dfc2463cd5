/* What a fit found, in words. */
#pragma once

#include "aim/fit.h"
#include "doc/units.h"

G_BEGIN_DECLS

/* Several lines; free with g_free. `design`: as drawn. */
char *fw_fit_words (const FwDesign *design, const FwFit *fit, FwLengths lengths);

/* The design as built; free with fw_design_free (). NULL when memory runs out. */
FwDesign *fw_fit_design (const FwDesign *design, const FwFit *fit);

G_END_DECLS
