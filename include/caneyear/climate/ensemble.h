/* SPDX-License-Identifier: MIT
 * The weathers a forecast runs over: observed days to today, then past years of the station,
 * topped up with made ones; chill and heat counted once for each. */
#ifndef CANEYEAR_CLIMATE_ENSEMBLE_H
#define CANEYEAR_CLIMATE_ENSEMBLE_H

#include <caneyear/base/basis.h>
#include <caneyear/climate/maker.h>
#include <caneyear/climate/warmth.h>
#include <caneyear/climate/weather.h>

struct cy_member {
    struct cy_weather weather;
    struct cy_warmth warmth;
    int past_year; /* the station year that continues behind today, or 0 where made */
};

struct cy_ensemble {
    struct cy_member *members;
    int count;
    int past_years;     /* members that continue with a complete year of the station */
    int made_years;     /* members that continue with a made year */
    int observed_days;  /* days of the station at the front of every member, none missing */
    cy_day first, last; /* every member covers these days, both included */
};

struct cy_ensemble_request {
    double latitude_deg;
    struct cy_normals normals;
    const struct cy_weather *station; /* borrowed; NULL without one; NAN where a day is missing */
    cy_day today, first, last;
    int count;      /* members, at least 1 */
    int past_years; /* how many of the station's last complete years at most */
    unsigned kinds;       /* of chill to count, as bits; 0: every kind */
    uint64_t seed;
    cy_progress progress; /* or NULL */
    void *payload;
};

/* Station days before today stand at the front of every member; from today on each member goes
 * on with a complete year of the station or with a made one, and made days fill what is left:
 * also the days that the station misses before today, and rain that it lacks. A year in which a
 * day is missing is not complete.
 * A station day keeps its own origin wherever it is laid. Member i takes the i-th newest of the
 * years that are complete before today and stream i of the seed, so it is the same in an ensemble
 * of any size. CY_CANCELLED and CY_NO_MEMORY leave *out empty. */
int cy_ensemble_make(struct cy_ensemble *out, const struct cy_ensemble_request *request);
void cy_ensemble_dispose(struct cy_ensemble *ensemble);

#endif
