/* SPDX-License-Identifier: MIT
 * Which input of a trellis calculation is out of bounds, and what it may be. */
#ifndef CANEYEAR_TRELLIS_DOMAIN_H
#define CANEYEAR_TRELLIS_DOMAIN_H

#include <caneyear/base/issue.h>
#include <caneyear/base/unit.h>

/* Filled in by a function that returns CY_INVALID; NULL may be passed instead. Inputs are named
 * as in the hand calculations: "span" for span_m. All strings are static. */
struct cy_trellis_domain {
    const char *name;
    enum cy_quantity quantity; /* of low and high, in its inside unit */
    double low, high;          /* allowed, both included */
    const char *rule;          /* what is allowed where it is no range, else NULL */
};

#endif
