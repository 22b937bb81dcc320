/* SPDX-License-Identifier: MIT
 * The hourly rebuild against recomputed values and against what it promises of any day. */
#include <caneyear/climate/hourly.h>

#include "support/near.h"

/* Latitude 40, 14 to 16 January 2012 with minimum/maximum 2/10, 0/12 and 4/9 C; the hours are of
 * the 15th. The expected values were recomputed in Python from the formulas of Linvill (1990) as
 * chillR has them, with the consistent night: no published numbers exist. */
static const struct cy_hourly_input JANUARY = {.before_min = 2,
                                               .before_max = 10,
                                               .min = 0,
                                               .max = 12,
                                               .after_min = 4,
                                               .latitude_deg = 40,
                                               .day_of_year = 15};

static void sunrise_and_sunset_at_40_north(void **state)
{
    (void)state;
    assert_near(cy_hourly_sunrise(40, 15), 7.18916, 1e-5);
    assert_near(cy_hourly_sunset(40, 15), 16.81084, 1e-5);
}

static void day_lengths(void **state)
{
    (void)state;
    static const struct {
        double latitude_deg;
        int day_of_year;
        double hours;
    } CASES[] = {{40, 15, 9.62167}, {35, 80, 12.12948}, {50, 40, 9.71673}, {32, 172, 14.24591}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_near(cy_hourly_sunset(CASES[i].latitude_deg, CASES[i].day_of_year) -
                        cy_hourly_sunrise(CASES[i].latitude_deg, CASES[i].day_of_year),
                    CASES[i].hours, 1e-5);
}

static void reference_hours(void **state)
{
    (void)state;
    static const struct {
        int hour;
        double temp_c;
    } CASES[] = {{14, 12.000}, {8, 2.231},  {10, 7.246}, {12, 10.746}, {16, 10.746}, {17, 9.213},
                 {18, 7.969},  {20, 6.647}, {23, 5.547}, {0, 1.931},   {3, 0.975},   {7, 0.038}};
    double temps[24];
    cy_hourly_day(temps, &JANUARY);
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        assert_near(temps[CASES[i].hour], CASES[i].temp_c, 5e-4);
        assert_near(cy_hourly_at(&JANUARY, CASES[i].hour), CASES[i].temp_c, 5e-4);
    }
}

static void minimum_is_at_sunrise(void **state)
{
    (void)state;
    assert_near(cy_hourly_at(&JANUARY, cy_hourly_sunrise(40, 15)), 0, 1e-12);
    assert_near(cy_hourly_at(&JANUARY, cy_hourly_sunrise(40, 15) + 1e-9), 0, 1e-6);
}

static void sunset_joins_day_and_night(void **state)
{
    (void)state;
    double sunset = cy_hourly_sunset(40, 15);
    assert_near(cy_hourly_at(&JANUARY, sunset), cy_hourly_at(&JANUARY, sunset + 1e-9), 1e-6);
}

/* Readings of a day, wandering but the same in every run. */
static void readings(double *min, double *max, int day)
{
    *min = 8 * sin(day * 0.9) + 3 * sin(day * 2.3);
    *max = *min + 9 + 8 * sin(day * 1.7);
}

static struct cy_hourly_input input_of(double latitude_deg, int day)
{
    struct cy_hourly_input in = {.latitude_deg = latitude_deg, .day_of_year = day};
    double unused;
    readings(&in.before_min, &in.before_max, day - 1);
    readings(&in.min, &in.max, day);
    readings(&in.after_min, &unused, day + 1);
    return in;
}

static void midnight_joins_two_days(void **state)
{
    (void)state;
    for (int day = 1; day < 365; day++) {
        struct cy_hourly_input today = input_of(40, day), tomorrow = input_of(40, day + 1);
        assert_near(cy_hourly_at(&today, 24), cy_hourly_at(&tomorrow, 0), 1e-9);
    }
}

static void new_year_joins_too(void **state)
{
    (void)state;
    struct cy_hourly_input last = input_of(40, 365), first = input_of(40, 1);
    first.before_min = last.min;
    first.before_max = last.max;
    last.after_min = first.min;
    assert_near(cy_hourly_at(&last, 24), cy_hourly_at(&first, 0), 1e-9);
}

/* Between the minima and the maximum, wherever the evening starts above the next minimum and
 * the morning above this one. */
static void hours_stay_between_the_readings(void **state)
{
    (void)state;
    int checked = 0;
    for (int day = 1; day <= 365; day++) {
        struct cy_hourly_input in = input_of(37.5, day);
        double before_sunset = cy_hourly_at(&in, 0); /* on the way down from it */
        double sunset = cy_hourly_at(&in, cy_hourly_sunset(37.5, day));
        if (sunset < in.after_min || before_sunset < in.min || before_sunset > in.max)
            continue;
        double temps[24], low = fmin(in.min, in.after_min);
        cy_hourly_day(temps, &in);
        for (int hour = 0; hour < 24; hour++)
            assert_true(temps[hour] >= low - 1e-9 && temps[hour] <= in.max + 1e-9);
        checked++;
    }
    assert_true(checked > 100);
}

static void equal_readings_make_a_flat_day(void **state)
{
    (void)state;
    struct cy_hourly_input in = {.before_min = 5,
                                 .before_max = 5,
                                 .min = 5,
                                 .max = 5,
                                 .after_min = 5,
                                 .latitude_deg = 40,
                                 .day_of_year = 100};
    double temps[24];
    cy_hourly_day(temps, &in);
    for (int hour = 0; hour < 24; hour++)
        assert_near(temps[hour], 5, 0);
}

static void south_mirrors_north(void **state)
{
    (void)state;
    /* Day 355 is a solstice: nearly the day of 172 in the other hemisphere. */
    double north = cy_hourly_sunset(35, 172) - cy_hourly_sunrise(35, 172);
    double south = cy_hourly_sunset(-35, 355) - cy_hourly_sunrise(-35, 355);
    assert_near(north, south, 0.02);
    assert_true(cy_hourly_sunset(-35, 172) < cy_hourly_sunset(35, 172));
}

static void day_and_single_hours_agree_everywhere(void **state)
{
    (void)state;
    static const double LATITUDES[] = {-90, -67, -36.6, 0, 20, 45, 65.8, 66.5, 70, 90};
    for (size_t i = 0; i < sizeof LATITUDES / sizeof *LATITUDES; i++) {
        for (int day = 1; day <= 366; day++) {
            struct cy_hourly_input in = input_of(LATITUDES[i], day);
            double temps[24];
            cy_hourly_day(temps, &in);
            for (int hour = 0; hour < 24; hour++) {
                assert_true(isfinite(temps[hour]));
                assert_near(temps[hour], cy_hourly_at(&in, hour), 1e-12);
            }
        }
    }
}

static void polar_night_stays_in_the_middle(void **state)
{
    (void)state;
    struct cy_hourly_input in = {.min = -10, .max = -4, .latitude_deg = 75, .day_of_year = 355};
    assert_near(cy_hourly_sunrise(75, 355), 12, 0);
    assert_near(cy_hourly_sunset(75, 355), 12, 0);
    assert_near(cy_hourly_at(&in, 3), -7, 1e-12);
    assert_near(cy_hourly_at(&in, 14), -7, 1e-12);
}

static void midnight_sun_reaches_both_readings(void **state)
{
    (void)state;
    struct cy_hourly_input in = {.min = 4, .max = 10, .latitude_deg = 75, .day_of_year = 172};
    assert_near(cy_hourly_sunrise(75, 172), 0, 0);
    assert_near(cy_hourly_sunset(75, 172), 24, 0);
    assert_near(cy_hourly_at(&in, 2), 4, 1e-12);
    assert_near(cy_hourly_at(&in, 14), 10, 1e-12);
    assert_near(cy_hourly_at(&in, 0), cy_hourly_at(&in, 24), 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sunrise_and_sunset_at_40_north),
        cmocka_unit_test(day_lengths),
        cmocka_unit_test(reference_hours),
        cmocka_unit_test(minimum_is_at_sunrise),
        cmocka_unit_test(sunset_joins_day_and_night),
        cmocka_unit_test(midnight_joins_two_days),
        cmocka_unit_test(new_year_joins_too),
        cmocka_unit_test(hours_stay_between_the_readings),
        cmocka_unit_test(equal_readings_make_a_flat_day),
        cmocka_unit_test(south_mirrors_north),
        cmocka_unit_test(day_and_single_hours_agree_everywhere),
        cmocka_unit_test(polar_night_stays_in_the_middle),
        cmocka_unit_test(midnight_sun_reaches_both_readings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
