/* A design of any size. */
#pragma once

#include "doc/document.h"

/* Pairs of wings side by side, each on a throw of its own, as many as asked for; forty are a large
 * design. */
FwDocument *many_pairs (int n);
