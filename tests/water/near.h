/* SPDX-License-Identifier: MIT
 * For the tests of this room: dice that fall the same way every time. */
#ifndef TESTS_WATER_NEAR_H
#define TESTS_WATER_NEAR_H

#include <stdint.h>

#include "support/near.h"

/* Evenly between low and high. */
static inline double dice(uint64_t *state, double low, double high)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return low + (high - low) * (double)(*state >> 11) * 0x1p-53;
}

#endif
