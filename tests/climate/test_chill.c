/* SPDX-License-Identifier: MIT
 * The chill counts against their published tables and recomputed sums. */
#include <caneyear/climate/chill.h>

#include "support/near.h"

#define MONTH 720 /* hours of 30 days */

static void constant(double out[MONTH], double temp_c)
{
    for (int i = 0; i < MONTH; i++)
        out[i] = temp_c;
}

/* 30 days of 16 h at 6 C and 8 h at another temperature. */
static void warm_spells(double out[MONTH], double temp_c)
{
    for (int i = 0; i < MONTH; i++)
        out[i] = i % 24 < 16 ? 6 : temp_c;
}

/* 30 days of 8 + 6 sin(2 pi (h - 9)/24). */
static void sine_days(double out[MONTH])
{
    for (int i = 0; i < MONTH; i++)
        out[i] = 8 + 6 * sin(2 * 3.14159265358979323846 * (i % 24 - 9) / 24);
}

static size_t runs(double *out, const double temps[3], const int hours[3])
{
    size_t count = 0;
    for (int i = 0; i < 3; i++)
        for (int hour = 0; hour < hours[i]; hour++)
            out[count++] = temps[i];
    return count;
}

/* Bounds 0 and 7.2 C: chillR Chilling_Hours, citing Weinberger 1950 and Bennett 1949. */
static void hours_have_both_bounds_in(void **state)
{
    (void)state;
    const double temps[] = {-0.1, 0.0, 3.5, 7.2, 7.21};
    assert_near(cy_chill_hours(temps, 5), 3, 0);
    assert_near(cy_chill_hours_below(temps, 5), 4, 0);
    assert_near(cy_chill_hours(temps, 0), 0, 0);
}

/* Table A of the Utah model: chillR Utah_Model. */
static void utah_single_hours(void **state)
{
    (void)state;
    static const double CASES[][2] = {
        {-5, 0},     {1.4, 0},   {1.41, 0.5}, {2.4, 0.5},    {2.41, 1},  {9.1, 1},   {9.11, 0.5},
        {12.4, 0.5}, {12.41, 0}, {15.9, 0},   {15.91, -0.5}, {18, -0.5}, {18.01, -1}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_near(cy_chill_utah(&CASES[i][0], 1), CASES[i][1], 0);
}

/* Recomputed in Python from table A. */
static void utah_from_minus_2_to_21(void **state)
{
    (void)state;
    double temps[24];
    for (int i = 0; i < 24; i++)
        temps[i] = i - 2;
    assert_near(cy_chill_utah(temps, 24), 4.5, 0);
    assert_near(cy_chill_hours(temps, 24), 8, 0);
}

/* Recomputed in Python from table A. */
static void utah_with_warm_spells(void **state)
{
    (void)state;
    static const double CASES[][2] = {{14, 480}, {18, 360}, {20, 240}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        double temps[MONTH];
        warm_spells(temps, CASES[i][0]);
        assert_near(cy_chill_utah(temps, MONTH), CASES[i][1], 0);
    }
}

/* Weights of Warmund and Krumme, HortScience 40(5):1259-1262, 2005 (abstract); none is printed
 * below 0 C, where 0 is taken. */
static void weighted_single_hours(void **state)
{
    (void)state;
    static const double CASES[][2] = {{-0.1, 0}, {0, 1},    {9.1, 1},   {9.2, 0.5}, {12.4, 0.5},
                                      {12.5, 0}, {15.9, 0}, {16, -0.5}, {18, -0.5}, {18.1, -1}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_near(cy_chill_weighted(&CASES[i][0], 1, CY_CHILL_AT_ONCE, NULL), CASES[i][1], 0);
}

/* Derived from the published weights: a day at 2 C counts half as much in the Utah table. */
static void a_day_at_2(void **state)
{
    (void)state;
    double temps[MONTH];
    constant(temps, 2);
    assert_near(cy_chill_weighted(temps, 24, CY_CHILL_AT_ONCE, NULL), 24, 0);
    assert_near(cy_chill_hours(temps, 24), 24, 0);
    assert_near(cy_chill_utah(temps, 24), 12, 0);
}

/* Derived from the published weights. */
static void half_a_day_at_1_and_half_at_8(void **state)
{
    (void)state;
    double temps[24];
    for (int i = 0; i < 24; i++)
        temps[i] = i < 12 ? 1 : 8;
    assert_near(cy_chill_weighted(temps, 24, CY_CHILL_AT_ONCE, NULL), 24, 0);
    assert_near(cy_chill_hours(temps, 24), 12, 0);
    assert_near(cy_chill_utah(temps, 24), 12, 0);
}

/* Counting begins after the air first reaches -2.2 C (Warmund and Krumme 2005). */
static void weighted_starts_with_the_first_freeze(void **state)
{
    (void)state;
    const double temps[] = {5, 5, -2.1, -2.2, 5, 10};
    bool started = false;
    assert_near(cy_chill_weighted(temps, 6, CY_CHILL_FROM_FIRST_FREEZE, &started), 1.5, 0);
    assert_true(started);
    assert_near(cy_chill_weighted(temps, 6, CY_CHILL_AT_ONCE, &started), 3.5, 0);
    assert_true(started);
}

static void weighted_never_starts_without_a_freeze(void **state)
{
    (void)state;
    const double temps[] = {5, 5, -2.1};
    bool started = true;
    assert_near(cy_chill_weighted(temps, 3, CY_CHILL_FROM_FIRST_FREEZE, &started), 0, 0);
    assert_false(started);
}

/* The index of the first hour that finishes a portion, or -1. */
static int first_event(const double *temps, int count)
{
    struct cy_portions model = {0};
    for (int i = 0; i < count; i++)
        if (cy_portions_hour(&model, temps[i]) > 0)
            return i;
    return -1;
}

/* 720 hours at one temperature, recomputed in Python from chillR's Dynamic_Model. At 4 C half of
 * each product is kept; at 13 C the product never reaches 1. */
static void portions_at_constant_temperatures(void **state)
{
    (void)state;
    static const struct {
        double temp_c, portions;
        int event;
    } CASES[] = {{0, 3.327314, 34},  {2, 18.719693, 31},  {4, 21.245762, 30},
                 {8, 24.401032, 29}, {12, 18.001112, 39}, {13, 0, -1}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        double temps[MONTH];
        constant(temps, CASES[i].temp_c);
        assert_near(cy_chill_portions(temps, MONTH), CASES[i].portions, 1e-6);
        assert_int_equal(first_event(temps, MONTH), CASES[i].event);
    }
}

/* At a constant temperature the product is xs (1 - exp(-n k1)) after n hours, so the first event
 * is the first n at or above ln(xs/(xs - 1))/k1 (derived). */
static void first_event_is_where_algebra_puts_it(void **state)
{
    (void)state;
    for (double temp_c = 0; temp_c <= 12; temp_c += 0.5) {
        double kelvin = temp_c + 273;
        double level = 139500 / 2.567e18 * exp((12888.8 - 4153.5) / kelvin);
        double rate = 2.567e18 * exp(-12888.8 / kelvin);
        double temps[MONTH];
        constant(temps, temp_c);
        assert_int_equal(first_event(temps, MONTH), ceil(log(level / (level - 1)) / rate));
    }
    double temps[MONTH];
    constant(temps, 6);
    assert_int_equal(first_event(temps, MONTH), 29); /* 28.155 */
    constant(temps, 10);
    assert_int_equal(first_event(temps, MONTH), 31); /* 30.145 */
}

/* Recomputed in Python from chillR's Dynamic_Model. */
static void portions_with_warm_spells(void **state)
{
    (void)state;
    static const double CASES[][2] = {
        {10, 24.538592}, {14, 21.397502}, {18, 14.721748}, {20, 13.668619}, {24, 0}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++) {
        double temps[MONTH];
        warm_spells(temps, CASES[i][0]);
        assert_near(cy_chill_portions(temps, MONTH), CASES[i][1], 1e-6);
    }
}

/* Recomputed in Python from chillR's Dynamic_Model, Utah_Model and Chilling_Hours. */
static void counts_over_sine_days(void **state)
{
    (void)state;
    double temps[MONTH];
    sine_days(temps);
    assert_near(cy_chill_portions(temps, MONTH), 20.645302, 1e-6);
    assert_near(cy_chill_utah(temps, MONTH), 435, 0);
    assert_near(cy_chill_hours(temps, MONTH), 330, 0);
}

/* Recomputed: heat undoes an unfinished portion and leaves a finished one alone. */
static void heat_cancels_only_the_unfinished(void **state)
{
    (void)state;
    const double temps[3] = {6, 20, 6};
    double hours[100];
    size_t count = runs(hours, temps, (const int[3]){20, 10, 30});
    assert_near(cy_chill_portions(hours, count), 0.964861, 1e-6);
    assert_int_equal(first_event(hours, (int)count), 45);
    count = runs(hours, temps, (const int[3]){30, 10, 30});
    assert_near(cy_chill_portions(hours, count), 1.957818, 1e-6);
}

static void portions_stay_finite_at_the_extremes(void **state)
{
    (void)state;
    double hours[300];
    size_t count = runs(hours, (const double[3]){-60, 60, -60}, (const int[3]){100, 100, 100});
    assert_true(isfinite(cy_chill_portions(hours, count)));
    assert_near(cy_chill_portions(hours, 0), 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_have_both_bounds_in),
        cmocka_unit_test(utah_single_hours),
        cmocka_unit_test(utah_from_minus_2_to_21),
        cmocka_unit_test(utah_with_warm_spells),
        cmocka_unit_test(weighted_single_hours),
        cmocka_unit_test(a_day_at_2),
        cmocka_unit_test(half_a_day_at_1_and_half_at_8),
        cmocka_unit_test(weighted_starts_with_the_first_freeze),
        cmocka_unit_test(weighted_never_starts_without_a_freeze),
        cmocka_unit_test(portions_at_constant_temperatures),
        cmocka_unit_test(first_event_is_where_algebra_puts_it),
        cmocka_unit_test(portions_with_warm_spells),
        cmocka_unit_test(counts_over_sine_days),
        cmocka_unit_test(heat_cancels_only_the_unfinished),
        cmocka_unit_test(portions_stay_finite_at_the_extremes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
