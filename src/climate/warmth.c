/* SPDX-License-Identifier: MIT
 * Chill and heat by day over a whole weather.
 *
 * A forecast counts some two million hours, so the sun's part of the rebuild is worked out once
 * for each day of the year and an hour costs one multiplication before it is counted. */
#include <caneyear/climate/warmth.h>

#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>
#include <caneyear/climate/chill.h>
#include <caneyear/climate/heat.h>
#include <caneyear/climate/hourly.h>

struct cy_warmth_sun {
    struct cy_hourly_sun day[366];
};

struct cy_warmth_sun *cy_warmth_sun_of(double latitude_deg)
{
    struct cy_warmth_sun *sun = cy_zeroed(1, sizeof *sun);
    for (int i = 0; sun && i < 366; i++)
        cy_hourly_sun_of(&sun->day[i], latitude_deg, i + 1);
    return sun;
}

void cy_warmth_sun_free(struct cy_warmth_sun *sun)
{
    free(sun);
}

static int warmth_init(struct cy_warmth *out, const struct cy_weather *weather, unsigned kinds)
{
    struct cy_warmth warmth = {.first = weather->first, .days = weather->days};
    size_t days = (size_t)weather->days;
    bool complete = (warmth.heat_kh = cy_zeroed(days, sizeof *warmth.heat_kh)) != NULL;
    for (int kind = 0; kind < CY_CHILL_KIND_COUNT; kind++) {
        if (!(kinds & (1u << kind)))
            continue;
        warmth.chill[kind] = cy_zeroed(days, sizeof *warmth.chill[kind]);
        complete = complete && warmth.chill[kind];
    }
    if (!complete) {
        cy_warmth_dispose(&warmth);
        return CY_NO_MEMORY;
    }
    *out = warmth;
    return CY_OK;
}

static void count_day(struct cy_warmth *out, int day, const double temps[24],
                      struct cy_portions *portions)
{
    double *const *chill = out->chill;
    if (chill[CY_CHILL_HOURS_32_45])
        chill[CY_CHILL_HOURS_32_45][day] = cy_chill_hours(temps, 24);
    if (chill[CY_CHILL_HOURS_BELOW_45])
        chill[CY_CHILL_HOURS_BELOW_45][day] = cy_chill_hours_below(temps, 24);
    if (chill[CY_CHILL_UTAH])
        chill[CY_CHILL_UTAH][day] = cy_chill_utah(temps, 24);
    if (chill[CY_CHILL_WEIGHTED])
        chill[CY_CHILL_WEIGHTED][day] = cy_chill_weighted(temps, 24, CY_CHILL_AT_ONCE, NULL);
    for (int hour = 0; chill[CY_CHILL_PORTIONS] && hour < 24; hour++)
        chill[CY_CHILL_PORTIONS][day] += cy_portions_hour(portions, temps[hour]);
    out->heat_kh[day] = cy_heat_degree_hours(temps, 24, CY_HEAT_BASE_C, CY_HEAT_OPTIMUM_C);
}

int cy_warmth_with(struct cy_warmth *out, const struct cy_weather *weather,
                   const struct cy_warmth_sun *sun, unsigned kinds)
{
    *out = (struct cy_warmth){0};
    int status = warmth_init(out, weather, kinds);
    if (status != CY_OK)
        return status;
    const double *tmin = weather->tmin_c, *tmax = weather->tmax_c;
    struct cy_portions portions = {0};
    for (int day = 0; day < weather->days; day++) {
        int before = day > 0 ? day - 1 : day;
        int after = day + 1 < weather->days ? day + 1 : day;
        struct cy_hourly_input in = {.before_min = tmin[before],
                                     .before_max = tmax[before],
                                     .min = tmin[day],
                                     .max = tmax[day],
                                     .after_min = tmin[after]};
        double temps[24];
        cy_hourly_with(temps, &sun->day[cy_day_of_year(weather->first + day) - 1], &in);
        count_day(out, day, temps, &portions);
    }
    return CY_OK;
}

int cy_warmth_of(struct cy_warmth *out, const struct cy_weather *weather, double latitude_deg)
{
    *out = (struct cy_warmth){0};
    struct cy_warmth_sun *sun = cy_warmth_sun_of(latitude_deg);
    int status = sun ? cy_warmth_with(out, weather, sun, CY_CHILL_EVERY_KIND) : CY_NO_MEMORY;
    cy_warmth_sun_free(sun);
    return status;
}

void cy_warmth_dispose(struct cy_warmth *warmth)
{
    if (!warmth)
        return;
    for (int kind = 0; kind < CY_CHILL_KIND_COUNT; kind++)
        free(warmth->chill[kind]);
    free(warmth->heat_kh);
    *warmth = (struct cy_warmth){0};
}
