/* SPDX-License-Identifier: MIT
 * Degree days: printed cases, the invariants of the methods, and a numeric integral of the sine. */
#include "support/near.h"
#include "support/soak.h"

#include <gsl/gsl_integration.h>

#include <caneyear/base/random.h>
#include <caneyear/climate/degreedays.h>

static double count(enum cy_degree_days_method method, double tmin, double tmax, double base,
                    double upper)
{
    struct cy_degree_days_rule rule = {
        .method = method, .cutoff = CY_DEGREE_DAYS_HORIZONTAL, .base_c = base, .upper_c = upper};
    return cy_degree_days(&rule, tmin, tmax);
}

static double sine(enum cy_degree_days_cutoff cutoff, double tmin, double tmax, double base,
                   double upper)
{
    struct cy_degree_days_rule rule = {
        .method = CY_DEGREE_DAYS_SINE, .cutoff = cutoff, .base_c = base, .upper_c = upper};
    return cy_degree_days(&rule, tmin, tmax);
}

/* Units fall out of degree days, so the cases below are computed in the units they are printed
 * in, Fahrenheit or Celsius. */
static void averages(void **state)
{
    (void)state;
    /* University of Wisconsin, SAGE atlas, page on growing degree days: 15 to 21 C. */
    assert_near(count(CY_DEGREE_DAYS_AVERAGE, 15, 21, 10, INFINITY), 8, 1e-12);
    assert_near(count(CY_DEGREE_DAYS_AVERAGE, 15, 21, 5, INFINITY), 13, 1e-12);
    /* Midwestern Regional Climate Center, "Growing Degree Days": mean 75 F, base 65 F. */
    assert_near(count(CY_DEGREE_DAYS_AVERAGE, 65, 85, 65, INFINITY), 10, 1e-12);
    /* From memory: the two readings of one day, and a day they agree on. */
    assert_near(count(CY_DEGREE_DAYS_AVERAGE, 5, 13, 10, INFINITY), 0, 0);
    assert_near(count(CY_DEGREE_DAYS_LIFTED, 5, 13, 10, INFINITY), 1.5, 1e-12);
    assert_near(count(CY_DEGREE_DAYS_AVERAGE, 12, 23, 10, INFINITY), 7.5, 1e-12);
}

static void averages_with_a_threshold(void **state)
{
    (void)state;
    /* The corn rule 86/50 F, worked by hand. */
    assert_near(count(CY_DEGREE_DAYS_LIFTED, 60, 90, 50, 86), 23, 1e-12);
    assert_near(count(CY_DEGREE_DAYS_LIFTED, 45, 80, 50, 86), 15, 1e-12);
    assert_near(count(CY_DEGREE_DAYS_LIFTED, 68, 95, 50, 86), 27, 1e-12);
    assert_near(count(CY_DEGREE_DAYS_LIFTED, 40, 48, 50, 86), 0, 0);
    assert_near(count(CY_DEGREE_DAYS_LIFTED, 88, 95, 50, 86), 36, 1e-12);
    assert_near(count(CY_DEGREE_DAYS_AVERAGE, 60, 90, 50, 86), 23, 1e-12);
}

static void single_sine(void **state)
{
    (void)state;
    /* Mean on the base: half range over pi (analytic). */
    assert_near(sine(CY_DEGREE_DAYS_HORIZONTAL, 40, 60, 50, INFINITY), 10 / M_PI, 1e-12);
    /* Computed apart from this program. */
    assert_near(sine(CY_DEGREE_DAYS_HORIZONTAL, 45, 75, 50, INFINITY), 10.8816, 1e-4);
    assert_near(sine(CY_DEGREE_DAYS_HORIZONTAL, 30, 52, 50, INFINITY), 0.2583, 1e-4);
    assert_near(sine(CY_DEGREE_DAYS_HORIZONTAL, 55, 80, 50, INFINITY), 17.5, 1e-12);
    assert_near(sine(CY_DEGREE_DAYS_HORIZONTAL, 30, 50, 50, INFINITY), 0, 0);
}

static void sine_cutoffs(void **state)
{
    /* Computed apart from this program, the horizontal ones also by a numeric integral; the last
     * day is above the threshold throughout, so 88 - 50, less the mean's excess of 7, and 0. */
    static const struct {
        double tmin, tmax, horizontal, intermediate, vertical;
    } cases[] = {
        {48, 92, 19.6651, 19.1485, 12.2558},
        {60, 95, 26.1429, 24.7858, 14.9266},
        {90, 100, 38, 31, 0},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double tmin = cases[i].tmin, tmax = cases[i].tmax;
        assert_near(sine(CY_DEGREE_DAYS_HORIZONTAL, tmin, tmax, 50, 88), cases[i].horizontal, 1e-4);
        assert_near(sine(CY_DEGREE_DAYS_INTERMEDIATE, tmin, tmax, 50, 88), cases[i].intermediate,
                    1e-4);
        assert_near(sine(CY_DEGREE_DAYS_VERTICAL, tmin, tmax, 50, 88), cases[i].vertical, 1e-4);
    }
}

static void flat_days(void **state)
{
    (void)state;
    for (int cutoff = CY_DEGREE_DAYS_HORIZONTAL; cutoff <= CY_DEGREE_DAYS_VERTICAL; cutoff++) {
        assert_near(sine(cutoff, 20, 20, 10, 30), 10, 0);
        assert_near(sine(cutoff, 10, 10, 10, 30), 0, 0);
        assert_near(sine(cutoff, 5, 5, 10, 30), 0, 0);
        assert_near(sine(cutoff, 30, 30, 10, 30), 20, 0);
    }
}

/* ---- invariants ---------------------------------------------------------------------------- */

struct day {
    double tmin, tmax, base, upper;
};

static struct day draw(struct cy_random *random)
{
    struct day day;

    day.tmin = cy_random_uniform(random) * 50 - 15;
    day.tmax = day.tmin + cy_random_uniform(random) * 25;
    day.base = cy_random_uniform(random) * 15;
    day.upper = day.base + 5 + cy_random_uniform(random) * 20;
    return day;
}

static void methods_stand_in_order(void **state)
{
    struct cy_random random;

    (void)state;
    cy_random_seed(&random, 3, 0);
    for (int i = 0; i < soak(2000, 100); i++) {
        struct day d = draw(&random);
        double mean = count(CY_DEGREE_DAYS_AVERAGE, d.tmin, d.tmax, d.base, INFINITY);
        double wave = count(CY_DEGREE_DAYS_SINE, d.tmin, d.tmax, d.base, INFINITY);
        double lifted = count(CY_DEGREE_DAYS_LIFTED, d.tmin, d.tmax, d.base, INFINITY);
        assert_true(mean <= wave + 1e-9 && wave <= lifted + 1e-9);
    }
}

static void cutoffs_stand_in_order(void **state)
{
    struct cy_random random;

    (void)state;
    cy_random_seed(&random, 4, 0);
    for (int i = 0; i < soak(2000, 100); i++) {
        struct day d = draw(&random);
        double open = sine(CY_DEGREE_DAYS_HORIZONTAL, d.tmin, d.tmax, d.base, INFINITY);
        double flat = sine(CY_DEGREE_DAYS_HORIZONTAL, d.tmin, d.tmax, d.base, d.upper);
        double inner = sine(CY_DEGREE_DAYS_INTERMEDIATE, d.tmin, d.tmax, d.base, d.upper);
        double sheer = sine(CY_DEGREE_DAYS_VERTICAL, d.tmin, d.tmax, d.base, d.upper);
        assert_true(flat <= open + 1e-9 && inner <= flat + 1e-9 && sheer <= flat + 1e-9);
        assert_true(sheer >= -1e-9 && flat <= d.upper - d.base + 1e-9);
        assert_near(open - flat, flat - inner, 1e-9);
    }
}

static double fahrenheit(double celsius)
{
    return celsius * 1.8 + 32;
}

static void units_do_not_matter(void **state)
{
    struct cy_random random;

    (void)state;
    cy_random_seed(&random, 5, 0);
    for (int i = 0; i < soak(500, 100); i++) {
        struct day d = draw(&random);
        for (int method = CY_DEGREE_DAYS_AVERAGE; method <= CY_DEGREE_DAYS_SINE; method++)
            assert_near(count(method, fahrenheit(d.tmin), fahrenheit(d.tmax), fahrenheit(d.base),
                              fahrenheit(d.upper)),
                        1.8 * count(method, d.tmin, d.tmax, d.base, d.upper), 1e-9);
    }
}

/* ---- the sine, integrated numerically by GSL ------------------------------------------------ */

struct wave {
    struct day day;
    enum cy_degree_days_cutoff cutoff;
};

static double warmth_at(double phase, void *payload)
{
    const struct wave *wave = payload;
    double mean = (wave->day.tmin + wave->day.tmax) / 2;
    double warm = mean + (wave->day.tmax - wave->day.tmin) / 2 * sin(phase) - wave->day.base;
    double over = warm - (wave->day.upper - wave->day.base);

    if (warm <= 0)
        return 0;
    if (over <= 0)
        return warm;
    if (wave->cutoff == CY_DEGREE_DAYS_VERTICAL)
        return 0;
    return wave->cutoff == CY_DEGREE_DAYS_HORIZONTAL ? warm - over : warm - 2 * over;
}

/* Where the rising sine reaches a level: it bends or jumps there, and no rule of quadrature likes
 * that inside its range. An end of the range where it does not reach it. */
static double phase_of(const struct day *day, double level)
{
    double low = -M_PI / 2, high = M_PI / 2;

    for (int halving = 0; halving < 60; halving++) {
        double middle = (low + high) / 2;
        double at = (day->tmin + day->tmax) / 2 + (day->tmax - day->tmin) / 2 * sin(middle);
        if (at < level)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double integral_over(struct wave *wave, double from, double to)
{
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(400);
    gsl_function function = {warmth_at, wave};
    double integral = NAN, error;

    gsl_integration_qag(&function, from, to, 1e-9, 1e-9, 400, GSL_INTEG_GAUSS21, space, &integral,
                        &error);
    gsl_integration_workspace_free(space);
    return integral;
}

static void sine_is_its_integral(void **state)
{
    struct cy_random random;

    (void)state;
    cy_random_seed(&random, 6, 0);
    for (int i = 0; i < soak(300, 50); i++) {
        struct day d = draw(&random);
        struct wave wave = {d, (enum cy_degree_days_cutoff)(i % 3)};
        double begins = phase_of(&d, d.base), split = phase_of(&d, d.upper);
        /* The rising half of the sine stands for the day; below the base there is nothing. */
        double integral =
            integral_over(&wave, begins, split) + integral_over(&wave, split, M_PI / 2);
        assert_near(sine(wave.cutoff, d.tmin, d.tmax, d.base, d.upper), integral / M_PI, 1e-7);
    }
}

static void sums_over_days(void **state)
{
    struct cy_weather weather;
    struct cy_degree_days_rule rule = {CY_DEGREE_DAYS_AVERAGE, CY_DEGREE_DAYS_HORIZONTAL, 10,
                                       INFINITY};
    cy_day first = cy_day_of(2023, 4, 1);

    (void)state;
    assert_int_equal(cy_weather_init(&weather, first, 10), 0);
    for (int i = 0; i < 10; i++) {
        weather.tmin_c[i] = 10;
        weather.tmax_c[i] = 10 + 2 * i; /* i degree days */
    }
    assert_near(cy_degree_days_sum(&rule, &weather, first + 2, first + 4), 9, 1e-12);
    assert_near(cy_degree_days_sum(&rule, &weather, first - 5, first + 100), 45, 1e-12);
    assert_near(cy_degree_days_sum(&rule, &weather, first + 4, first + 3), 0, 0);
    cy_weather_dispose(&weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(averages),
        cmocka_unit_test(averages_with_a_threshold),
        cmocka_unit_test(single_sine),
        cmocka_unit_test(sine_cutoffs),
        cmocka_unit_test(flat_days),
        cmocka_unit_test(methods_stand_in_order),
        cmocka_unit_test(cutoffs_stand_in_order),
        cmocka_unit_test(units_do_not_matter),
        cmocka_unit_test(sine_is_its_integral),
        cmocka_unit_test(sums_over_days),
    };
    return cmocka_run_group_tests_name("degreedays", tests, NULL, NULL);
}
