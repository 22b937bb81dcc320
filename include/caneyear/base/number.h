/* SPDX-License-Identifier: MIT
 * Numbers to and from text without a locale: the point is the point everywhere, and what is
 * printed reads back to the same double. */
#ifndef CANEYEAR_BASE_NUMBER_H
#define CANEYEAR_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

/* About 106 bits, as an unevaluated sum: enough to scale a decimal by a unit and round once. */
struct cy_wide {
    double high, low;
};

struct cy_wide cy_wide_of(double value);
struct cy_wide cy_wide_times(struct cy_wide a, struct cy_wide b);
struct cy_wide cy_wide_over(struct cy_wide a, struct cy_wide b);
struct cy_wide cy_wide_plus(struct cy_wide a, struct cy_wide b);
double cy_wide_round(struct cy_wide value);

/* Reads one number at the start of text: sign, digits with at most one point, exponent. Returns
 * how many characters it took, 0 if there is no number or it overflows. No blanks, no hex, no
 * "inf" or "nan". */
size_t cy_number_scan(struct cy_wide *out, const char *text, size_t length);

/* The whole of text as one number. */
bool cy_number_parse(double *out, const char *text, size_t length);

#define CY_NUMBER_TEXT 40
/* Prints `value` with the fewest significant digits that `reads_back` accepts (it is handed each
 * candidate); returns the length. If none does, what it prints has 24 digits. Zero of either
 * sign prints "0"; `value` must be finite. */
size_t cy_number_print(char out[CY_NUMBER_TEXT], struct cy_wide value,
                       bool (*reads_back)(const char *text, size_t length, void *payload),
                       void *payload);

#endif
