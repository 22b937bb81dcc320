/* SPDX-License-Identifier: MIT
 * Daily weather: one run of days without a hole, each day marked by where it came from. */
#ifndef CANEYEAR_CLIMATE_WEATHER_H
#define CANEYEAR_CLIMATE_WEATHER_H

#include <stdbool.h>
#include <stdint.h>

#include <caneyear/base/day.h>

enum cy_origin { CY_ORIGIN_OBSERVED, CY_ORIGIN_FILLED, CY_ORIGIN_MADE };

struct cy_weather {
    cy_day first;
    int days;
    double *tmin_c, *tmax_c; /* of the day, tmin_c <= tmax_c */
    double *rain_mm;         /* of the day, 0 or more */
    /* What reference ET by the full combination equation needs besides; NaN where not known. */
    double *wind_m_s; /* the day's mean, 10 m above the ground */
    double *dew_c;    /* the day's mean dew point */
    double *sun_h;    /* of bright sun */
    uint8_t *origin;         /* enum cy_origin */
};

/* Room for `days` zeroed days from `first`, wind, dew point and sun not known; CY_NO_MEMORY leaves *out empty. */
int cy_weather_init(struct cy_weather *out, cy_day first, int days);
void cy_weather_dispose(struct cy_weather *weather);

/* The index of a day, or -1 outside the run. */
int cy_weather_index(const struct cy_weather *weather, cy_day day);

/* Called with the share done, 0 to 1; answer false to cancel (the caller gets CY_CANCELLED). */
typedef bool (*cy_progress)(double share, void *payload);

#endif
