/* SPDX-License-Identifier: MIT
 * Chill and heat by day: the same numbers as the counts over the hours themselves. */
#include <caneyear/climate/warmth.h>

#include <stdlib.h>

#include <caneyear/base/issue.h>
#include <caneyear/climate/chill.h>
#include <caneyear/climate/heat.h>
#include <caneyear/climate/hourly.h>

#include "support/near.h"

#define DAYS 800
#define LATITUDE 37.5

/* Two winters and a bit, from October 2023, with a wandering range. */
static struct cy_weather winters(void)
{
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2023, 10, 1), DAYS), CY_OK);
    for (int i = 0; i < DAYS; i++) {
        weather.tmin_c[i] = 8 - 11 * sin(2 * 3.14159265 * (i - 10) / 365.25) + 4 * sin(i * 0.7);
        weather.tmax_c[i] = weather.tmin_c[i] + 9 + 5 * sin(i * 1.9);
    }
    return weather;
}

/* Every hour of the weather, rebuilt day by day. */
static double *hours_of(const struct cy_weather *weather)
{
    double *temps = calloc((size_t)weather->days * 24, sizeof *temps);
    assert_non_null(temps);
    for (int i = 0; i < weather->days; i++) {
        int before = i > 0 ? i - 1 : i, after = i + 1 < weather->days ? i + 1 : i;
        struct cy_hourly_input in = {.before_min = weather->tmin_c[before],
                                     .before_max = weather->tmax_c[before],
                                     .min = weather->tmin_c[i],
                                     .max = weather->tmax_c[i],
                                     .after_min = weather->tmin_c[after],
                                     .latitude_deg = LATITUDE,
                                     .day_of_year = cy_day_of_year(weather->first + i)};
        cy_hourly_day(temps + i * 24, &in);
    }
    return temps;
}

static void each_day_counts_its_own_hours(void **state)
{
    (void)state;
    struct cy_weather weather = winters();
    struct cy_warmth warmth;
    assert_int_equal(cy_warmth_of(&warmth, &weather, LATITUDE), CY_OK);
    assert_int_equal(warmth.first, weather.first);
    assert_int_equal(warmth.days, DAYS);
    double *temps = hours_of(&weather);
    for (int i = 0; i < DAYS; i++) {
        const double *day = temps + i * 24;
        assert_near(warmth.chill[CY_CHILL_HOURS_32_45][i], cy_chill_hours(day, 24), 0);
        assert_near(warmth.chill[CY_CHILL_HOURS_BELOW_45][i], cy_chill_hours_below(day, 24), 0);
        assert_near(warmth.chill[CY_CHILL_UTAH][i], cy_chill_utah(day, 24), 0);
        assert_near(warmth.chill[CY_CHILL_WEIGHTED][i],
                    cy_chill_weighted(day, 24, CY_CHILL_AT_ONCE, NULL), 0);
        assert_near(warmth.heat_kh[i], cy_heat_degree_hours(day, 24, 6, 25), 1e-9);
    }
    free(temps);
    cy_warmth_dispose(&warmth);
    cy_weather_dispose(&weather);
}

/* The dynamic model remembers across midnight: only its whole run adds up. */
static void portions_run_through_the_days(void **state)
{
    (void)state;
    struct cy_weather weather = winters();
    struct cy_warmth warmth;
    assert_int_equal(cy_warmth_of(&warmth, &weather, LATITUDE), CY_OK);
    double *temps = hours_of(&weather);
    double sum = 0, alone = 0;
    for (int i = 0; i < DAYS; i++) {
        sum += warmth.chill[CY_CHILL_PORTIONS][i];
        alone += cy_chill_portions(temps + i * 24, 24);
    }
    assert_near(sum, cy_chill_portions(temps, DAYS * 24), 1e-9);
    assert_true(sum > 50 && alone < 1);
    free(temps);
    cy_warmth_dispose(&warmth);
    cy_weather_dispose(&weather);
}

static void shared_sun_changes_nothing(void **state)
{
    (void)state;
    struct cy_weather weather = winters();
    struct cy_warmth one, other;
    struct cy_warmth_sun *sun = cy_warmth_sun_of(LATITUDE);
    assert_non_null(sun);
    assert_int_equal(cy_warmth_of(&one, &weather, LATITUDE), CY_OK);
    assert_int_equal(cy_warmth_with(&other, &weather, sun, CY_CHILL_EVERY_KIND), CY_OK);
    for (int kind = 0; kind < CY_CHILL_KIND_COUNT; kind++)
        assert_memory_equal(one.chill[kind], other.chill[kind], DAYS * sizeof(double));
    assert_memory_equal(one.heat_kh, other.heat_kh, DAYS * sizeof(double));
    cy_warmth_sun_free(sun);
    cy_warmth_dispose(&one);
    cy_warmth_dispose(&other);
    cy_weather_dispose(&weather);
}

static void cold_and_hot_days_are_bounded(void **state)
{
    (void)state;
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2025, 7, 1), 2), CY_OK);
    weather.tmin_c[0] = weather.tmax_c[0] = weather.tmin_c[1] = weather.tmax_c[1] = 30;
    struct cy_warmth warmth;
    assert_int_equal(cy_warmth_of(&warmth, &weather, LATITUDE), CY_OK);
    assert_near(warmth.heat_kh[0], 24 * 19, 1e-9); /* (25 - 6) each hour */
    assert_near(warmth.chill[CY_CHILL_UTAH][0], -24, 0);
    cy_warmth_dispose(&warmth);
    weather.tmin_c[0] = weather.tmax_c[0] = weather.tmin_c[1] = weather.tmax_c[1] = -10;
    assert_int_equal(cy_warmth_of(&warmth, &weather, LATITUDE), CY_OK);
    assert_near(warmth.heat_kh[1], 0, 0);
    assert_near(warmth.chill[CY_CHILL_HOURS_32_45][1], 0, 0);
    assert_near(warmth.chill[CY_CHILL_HOURS_BELOW_45][1], 24, 0);
    assert_near(warmth.chill[CY_CHILL_WEIGHTED][1], 0, 0);
    cy_warmth_dispose(&warmth);
    cy_weather_dispose(&weather);
}

static void no_days_make_no_warmth(void **state)
{
    (void)state;
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, 0, 0), CY_OK);
    struct cy_warmth warmth;
    assert_int_equal(cy_warmth_of(&warmth, &weather, LATITUDE), CY_OK);
    assert_int_equal(warmth.days, 0);
    cy_warmth_dispose(&warmth);
    cy_warmth_dispose(NULL);
    cy_weather_dispose(&weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_day_counts_its_own_hours),
        cmocka_unit_test(portions_run_through_the_days),
        cmocka_unit_test(shared_sun_changes_nothing),
        cmocka_unit_test(cold_and_hot_days_are_bounded),
        cmocka_unit_test(no_days_make_no_warmth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
