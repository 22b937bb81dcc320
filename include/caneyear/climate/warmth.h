/* SPDX-License-Identifier: MIT
 * What a run of days does to buds, worked out once for each weather: chill and heat by day. */
#ifndef CANEYEAR_CLIMATE_WARMTH_H
#define CANEYEAR_CLIMATE_WARMTH_H

#include <caneyear/climate/weather.h>

/* The published ways to count chill; a need is only ever judged by its own. KIND(name, word);
 * the counts themselves are in chill.h. */
#define CY_CHILL_KINDS(KIND)                                                                       \
    KIND(HOURS_32_45, "hours 32-45 F")       /* 0.0 <= T <= 7.2 C */                               \
    KIND(HOURS_BELOW_45, "hours below 45 F") /* T <= 7.2 C, frost counted too */                   \
    KIND(UTAH, "Utah units")                                                                       \
    KIND(WEIGHTED, "blackberry units") /* at once: who uses them applies the first freeze */       \
    KIND(PORTIONS, "chill portions")   /* finished that day, the model begun on the first */

enum cy_chill_kind {
#define KIND(name, word) CY_CHILL_##name,
    CY_CHILL_KINDS(KIND)
#undef KIND
        CY_CHILL_KIND_COUNT
};

struct cy_warmth {
    cy_day first;
    int days;
    double *chill[CY_CHILL_KIND_COUNT]; /* counted on each day; NULL where not asked for */
    double *heat_kh; /* growing degree hours of each day, base 6 C, optimum 25 C */
};

/* What the sun does to the hourly rebuild at one latitude, worked out once for many weathers. */
struct cy_warmth_sun;
/* NULL without memory; the caller frees it. */
struct cy_warmth_sun *cy_warmth_sun_of(double latitude_deg);
void cy_warmth_sun_free(struct cy_warmth_sun *sun);

/* From the hourly rebuild of the weather at a latitude; the first day stands in for the day
 * before it and the last for the day after. The caller disposes of it. */
int cy_warmth_of(struct cy_warmth *out, const struct cy_weather *weather, double latitude_deg);
/* The same for many weathers, and only the kinds of chill asked for, as bits (1u << kind):
 * portions take two exponentials an hour, more than all else together. */
int cy_warmth_with(struct cy_warmth *out, const struct cy_weather *weather,
                   const struct cy_warmth_sun *sun, unsigned kinds);
#define CY_CHILL_EVERY_KIND ((1u << CY_CHILL_KIND_COUNT) - 1)
void cy_warmth_dispose(struct cy_warmth *warmth);

#endif
