/* SPDX-License-Identifier: MIT
 * A comparison of doubles that says what it saw, and dice that fall the same way every time. */
#ifndef TESTS_WATER_NEAR_H
#define TESTS_WATER_NEAR_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static inline void check_near(double actual, double expected, double within, const char *file,
                              int line)
{
    if (fabs(actual - expected) <= within)
        return;
    print_error("%s:%d: %.12g is not %.12g within %g\n", file, line, actual, expected, within);
    _fail(file, line);
}
#define assert_near(actual, expected, within)                                                      \
    check_near(actual, expected, within, __FILE__, __LINE__)

/* Evenly between low and high. */
static inline double dice(uint64_t *state, double low, double high)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return low + (high - low) * (double)(*state >> 11) * 0x1p-53;
}

#endif
