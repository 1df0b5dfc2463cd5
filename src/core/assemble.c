#include "core/trouble.h"
