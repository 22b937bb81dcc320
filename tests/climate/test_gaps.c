/* SPDX-License-Identifier: MIT
 * Gaps in a station's days: what is filled, what stays open, which years are whole. */
#include <caneyear/climate/gaps.h>

#include <math.h>
#include <string.h>

#include <caneyear/base/issue.h>

#include "support/near.h"

/* Ten days from 1 June 2021, NAN where `lacks` has a letter: n minimum, x maximum, b both, r rain,
 * a all. */
static struct cy_weather days_of(const char *lacks)
{
    struct cy_weather weather;
    int days = (int)strlen(lacks);
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2021, 6, 1), days), CY_OK);
    for (int i = 0; i < days; i++) {
        bool all = lacks[i] == 'a';
        weather.tmin_c[i] = all || strchr("nb", lacks[i]) ? NAN : i;
        weather.tmax_c[i] = all || strchr("xb", lacks[i]) ? NAN : 10 + 2 * i;
        weather.rain_mm[i] = all || lacks[i] == 'r' ? NAN : 5;
    }
    return weather;
}

static void five_days_are_filled_straight(void **state)
{
    (void)state;
    struct cy_weather weather = days_of("..aaaaa...");
    struct cy_gaps gaps;
    cy_gaps_fill(&gaps, &weather, CY_GAPS_FILLED);
    for (int i = 0; i < 10; i++) {
        assert_near(weather.tmin_c[i], i, 1e-12);
        assert_near(weather.tmax_c[i], 10 + 2 * i, 1e-12);
        assert_near(weather.rain_mm[i], i >= 2 && i < 7 ? 0 : 5, 0);
        assert_int_equal(weather.origin[i],
                         i >= 2 && i < 7 ? CY_ORIGIN_FILLED : CY_ORIGIN_OBSERVED);
    }
    assert_int_equal(gaps.filled, 5);
    assert_int_equal(gaps.taken_dry, 5);
    assert_int_equal(gaps.open, 0);
    assert_int_equal(gaps.longest, 5);
    assert_int_equal(gaps.from, cy_day_of(2021, 6, 3));
    cy_weather_dispose(&weather);
}

static void six_days_stay_open(void **state)
{
    (void)state;
    struct cy_weather weather = days_of("..aaanxa..");
    struct cy_gaps gaps;
    cy_gaps_fill(&gaps, &weather, CY_GAPS_FILLED);
    for (int i = 0; i < 10; i++)
        assert_int_equal(cy_gaps_missing(&weather, i), i >= 2 && i < 8);
    assert_true(isnan(weather.tmax_c[5]) && isnan(weather.tmin_c[6])); /* no half days */
    assert_int_equal(gaps.open, 6);
    assert_int_equal(gaps.filled, 0);
    assert_int_equal(gaps.longest, 6);
    cy_weather_dispose(&weather);
}

/* A known temperature stays, and the line through its neighbours does not cross it. */
static void half_a_day_keeps_its_half(void **state)
{
    (void)state;
    struct cy_weather weather = days_of("..n.x.....");
    weather.tmax_c[2] = 0.5; /* below the straight line to the minima beside it */
    cy_gaps_fill(NULL, &weather, CY_GAPS_FILLED);
    assert_near(weather.tmax_c[2], 0.5, 0);
    assert_near(weather.tmin_c[2], 0.5, 0);
    assert_near(weather.tmin_c[4], 4, 0);
    assert_near(weather.tmax_c[4], 18, 1e-12);
    assert_int_equal(weather.origin[4], CY_ORIGIN_FILLED);
    cy_weather_dispose(&weather);
}

/* Without a day on either side there is nothing to lay a line between. */
static void ends_stay_open(void **state)
{
    (void)state;
    struct cy_weather weather = days_of("b.......bb");
    struct cy_gaps gaps;
    cy_gaps_fill(&gaps, &weather, CY_GAPS_FILLED);
    assert_true(cy_gaps_missing(&weather, 0));
    assert_true(cy_gaps_missing(&weather, 9));
    assert_int_equal(gaps.open, 3);
    cy_weather_dispose(&weather);
}

static void long_runs_without_rain_stay_open(void **state)
{
    (void)state;
    struct cy_weather weather = days_of("rrrrrr.r..");
    struct cy_gaps gaps;
    cy_gaps_fill(&gaps, &weather, CY_GAPS_FILLED);
    assert_true(isnan(weather.rain_mm[0]) && isnan(weather.rain_mm[5]));
    assert_near(weather.rain_mm[7], 0, 0);
    assert_int_equal(gaps.rain_lacks, 6);
    assert_int_equal(gaps.taken_dry, 1);
    assert_int_equal(weather.origin[0], CY_ORIGIN_FILLED);
    assert_false(cy_gaps_missing(&weather, 0));
    cy_weather_dispose(&weather);
}

static void a_year_is_whole_without_a_missing_day(void **state)
{
    (void)state;
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2019, 1, 2), 3 * 365 - 1), CY_OK);
    assert_false(cy_gaps_year_is_whole(&weather, 2019)); /* its first day lacks */
    assert_true(cy_gaps_year_is_whole(&weather, 2020));
    assert_false(cy_gaps_year_is_whole(&weather, 2021)); /* its last one */
    assert_false(cy_gaps_year_is_whole(&weather, 1950));
    weather.tmax_c[cy_weather_index(&weather, cy_day_of(2020, 2, 29))] = NAN;
    assert_false(cy_gaps_year_is_whole(&weather, 2020));
    cy_weather_dispose(&weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(five_days_are_filled_straight),
        cmocka_unit_test(six_days_stay_open),
        cmocka_unit_test(half_a_day_keeps_its_half),
        cmocka_unit_test(ends_stay_open),
        cmocka_unit_test(long_runs_without_rain_stay_open),
        cmocka_unit_test(a_year_is_whole_without_a_missing_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
