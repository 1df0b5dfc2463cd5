/* Inside the core: what fw_mechanism_build () looks at before it builds. */
#pragma once

#include "core/mechanism.h"

/* FW_OK, FW_BAD_NUMBER or FW_BAD_REFERENCE; `fault` may be NULL. */
FwStatus fw_validate (const FwDesign *design, FwFault *fault);
