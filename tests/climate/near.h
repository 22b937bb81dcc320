/* SPDX-License-Identifier: MIT
 * cmocka and a comparison of doubles that shows both when they differ. */
#ifndef TESTS_CLIMATE_NEAR_H
#define TESTS_CLIMATE_NEAR_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define assert_near(got, want, within) near_or_fail(got, want, within, __FILE__, __LINE__)

static inline void near_or_fail(double got, double want, double within, const char *file, int line)
{
    if (fabs(got - want) <= within)
        return;
    print_error("%.10g is not within %g of %.10g\n", got, within, want);
    _fail(file, line);
}

#endif
