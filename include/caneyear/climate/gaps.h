/* SPDX-License-Identifier: MIT
 * Days that a station lacks: short gaps are filled and marked, longer ones stay open.
 *
 * A figure that lacks is NAN. A day counts as missing where either temperature lacks. */
#ifndef CANEYEAR_CLIMATE_GAPS_H
#define CANEYEAR_CLIMATE_GAPS_H

#include <caneyear/climate/weather.h>

#define CY_GAPS_FILLED 5 /* days in a row */

struct cy_gaps {
    int filled;     /* days without a temperature, filled */
    int open;       /* days left missing */
    int longest;    /* the longest run of either */
    cy_day from;    /* its first day; CY_DAY_NONE without one */
    int taken_dry;  /* days whose rain lacks, in runs short enough to be taken as dry */
    int rain_lacks; /* days with temperatures whose rain stays NAN */
};

bool cy_gaps_missing(const struct cy_weather *weather, int index);

/* In runs of up to `most` missing days with a day on either side, temperatures are laid straight
 * between their neighbours, a known one kept; runs of up to `most` days without rain are dry.
 * Such days are marked filled. In longer runs a missing day loses both temperatures. `out` may be
 * NULL. */
void cy_gaps_fill(struct cy_gaps *out, struct cy_weather *weather, int most);

/* Whether a calendar year is there from end to end with no day missing. */
bool cy_gaps_year_is_whole(const struct cy_weather *weather, int year);

#endif
