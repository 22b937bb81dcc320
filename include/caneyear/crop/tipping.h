/* SPDX-License-Identifier: MIT
 * On which days to tip: canes of a cohort do not reach height on one day, so they are tipped in
 * passes, as few as keep the share that outgrows them under a bound.
 *
 * Emergence is normal, growth even. A cane is caught when a pass falls from its day at the height
 * to its day at the ceiling: a window of (ceiling - height) / growth days. Passes a window apart
 * or less catch a run of emergence without a hole, which is laid evenly about the mean, so that
 * the early and the late tail that escape are alike. Geometry, ours; no growth rate of primocanes
 * is published, so dates that rest on a default one are placeholders. */
#ifndef CANEYEAR_CROP_TIPPING_H
#define CANEYEAR_CROP_TIPPING_H

#include <stdbool.h>

#define CY_TIPPING_MOST 60 /* more passes would be no plan */

/* Days are on any count: days from a date as well as cy_day. */
struct cy_tipping {
    double height_m;  /* of a cane when it is tipped, not what is left of it */
    double ceiling_m; /* past which it is hard to tip; above height_m */
    double growth_m_d;
    double emerge_d, emerge_sd_d; /* mean and deviation */
    double bound;                 /* share of the cohort that may be missed, between 0 and 1 */
    double cutoff_d;              /* no pass after this day; INFINITY for none */
};

struct cy_tipping_plan {
    int needed; /* fewest passes that would meet the bound if there were no cut-off */
    int count;  /* passes planned: as many, or fewer where the cut-off comes too soon */
    double day[CY_TIPPING_MOST];
    double missed; /* share of the cohort that the planned passes never catch */
    bool met;      /* the bound is met, without a pass after the cut-off */
};

/* Passes stand a window apart, about the mean; where the cut-off asks for it they move together,
 * as long as the bound is met. Where it cannot be, the closest passes that would have met it go
 * as far as the cut-off, and one on the cut-off day itself stands in for the rest if it still
 * catches more canes than one tail may hold; a later cut-off never gives fewer. CY_INVALID, with
 * *out left alone, for a value out of range or a bound that takes more than CY_TIPPING_MOST. */
int cy_tipping_passes(struct cy_tipping_plan *out, const struct cy_tipping *tipping);

/* The share of the cohort that passes on these days, in order, never catch: for passes made, or
 * moved to whole days. */
double cy_tipping_missed(const struct cy_tipping *tipping, const double *days, int count);

#endif
