/* SPDX-License-Identifier: MIT
 * What most tests begin with: cmocka, and comparisons that say what they saw. */
#ifndef SUPPORT_NEAR_H
#define SUPPORT_NEAR_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/base/text.h>

static inline void check_near(double actual, double expected, double within, const char *file,
                              int line)
{
    if (fabs(actual - expected) <= within)
        return;
    print_error("%s:%d: %.17g is not %.17g within %g\n", file, line, actual, expected, within);
    _fail(file, line);
}
#define assert_near(actual, expected, within)                                                      \
    check_near(actual, expected, within, __FILE__, __LINE__)

/* Within a share of what is wanted. */
static inline void near_at(double got, double want, double tolerance, const char *text,
                           const char *file, int line)
{
    if (!(fabs(got - want) <= tolerance * fmax(fabs(want), 1e-300))) {
        print_error("%s: got %.12g, want %.12g within %g of it\n", text, got, want, tolerance);
        _fail(file, line);
    }
}

#define near(got, want, tolerance) near_at(got, want, tolerance, #got, __FILE__, __LINE__)

/* The text must be what is expected; it is emptied for the next check. */
static inline void check_text(struct cy_text *text, const char *expected, const char *file,
                              int line)
{
    assert_false(text->failed);
    _assert_string_equal(cy_text_get(text), expected, file, line);
    cy_text_clear(text);
}
#define assert_text(text, expected) check_text(text, expected, __FILE__, __LINE__)

#endif
