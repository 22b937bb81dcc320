/* SPDX-License-Identifier: MIT
 * Quantiles, means, the normal distribution. */
#include <caneyear/base/stats.h>

#include <math.h>

#include <caneyear/base/random.h>

#include "support/near.h"

static void quantiles_by_hand(void **state)
{
    (void)state;
    /* Type 7: place (n - 1) p between the sorted values. */
    static const double four[] = {1, 2, 4, 8};
    assert_near(cy_quantile(four, 4, 0), 1, 0);
    assert_near(cy_quantile(four, 4, 0.5), 3, 0);         /* place 1.5 */
    assert_near(cy_quantile(four, 4, 0.25), 1.75, 1e-15); /* place 0.75 */
    assert_near(cy_quantile(four, 4, 0.9), 6.8, 1e-14);   /* place 2.7 */
    assert_near(cy_quantile(four, 4, 1), 8, 0);
    assert_near(cy_quantile(four, 4, 1.5), 8, 0);
    assert_near(cy_quantile(four, 4, -1), 1, 0);
    assert_near(cy_quantile(four, 1, 0.3), 1, 0);
    assert_true(isnan(cy_quantile(four, 0, 0.5)));
    assert_true(isnan(cy_quantile(four, 4, NAN)));
}

static void sorting_puts_nan_last(void **state)
{
    (void)state;
    double values[] = {3, NAN, -INFINITY, 2, INFINITY, NAN, -1};
    cy_sort(values, 7);
    static const double expected[] = {-INFINITY, -1, 2, 3, INFINITY};
    for (int i = 0; i < 5; i++)
        assert_true(values[i] == expected[i]);
    assert_true(isnan(values[5]) && isnan(values[6]));
    cy_sort(NULL, 0);
}

/* Long enough for several gaps of the sort; each size drawn anew, with values that come twice. */
static void sorting_keeps_what_it_sorts(void **state)
{
    (void)state;
    static double values[3000];
    struct cy_random random;
    cy_random_seed(&random, 1, 0);
    for (size_t count = 2; count <= 3000; count = count * 3 / 2 + 1) {
        double sum = 0, after = 0;
        for (size_t i = 0; i < count; i++)
            sum += values[i] = floor(cy_random_normal(&random) * 100);
        cy_sort(values, count);
        for (size_t i = 0; i < count; i++) {
            after += values[i];
            assert_true(i == 0 || values[i - 1] <= values[i]);
        }
        assert_true(after == sum);
    }
}

static void mean_and_deviation(void **state)
{
    (void)state;
    /* The ten last-freeze dates of a worked example: mean 93.1, deviation 8.3060. */
    static const double dates[] = {88, 95, 101, 79, 92, 107, 84, 99, 90, 96};
    assert_near(cy_mean(dates, 10), 93.1, 1e-12);
    assert_near(cy_deviation(dates, 10), 8.3060, 5e-5);
    assert_true(isnan(cy_mean(dates, 0)));
    assert_true(isnan(cy_deviation(dates, 1)));
}

static void normal_against_the_table(void **state)
{
    (void)state;
    /* Freeze statistics need z(0.9) = 1.281552 and z(0.8) = 0.841621; the others from the
     * tables of Abramowitz and Stegun, 26.1 and 26.5 (from memory). */
    assert_near(cy_normal_inverse(0.9), 1.281552, 5e-7);
    assert_near(cy_normal_inverse(0.8), 0.841621, 5e-7);
    assert_near(cy_normal_inverse(0.5), 0, 1e-15);
    assert_near(cy_normal_inverse(0.975), 1.959963984540054, 1e-12);
    assert_near(cy_normal_inverse(0.99), 2.3263478740408408, 1e-12);
    assert_near(cy_normal_inverse(0.001), -3.090232306167813, 1e-12);
    assert_near(cy_normal_cdf(0), 0.5, 0);
    assert_near(cy_normal_cdf(1), 0.8413447460685429, 1e-15);
    assert_near(cy_normal_cdf(-2), 0.022750131948179212, 1e-16);
}

/* The levels of last-freeze dates with mean 100 and deviation 12. */
static void freeze_levels(void **state)
{
    (void)state;
    static const double levels[] = {0.1, 0.2, 0.5, 0.8, 0.9};
    static const double dates[] = {115.3786, 110.0995, 100, 89.9005, 84.6214};
    for (int i = 0; i < 5; i++)
        assert_near(100 + 12 * cy_normal_inverse(1 - levels[i]), dates[i], 5e-5);
}

static void inverse_undoes_the_distribution(void **state)
{
    (void)state;
    for (double z = -37; z <= 5.5; z += 0.01) /* above, 1 - share has few bits left */
        assert_near(cy_normal_inverse(cy_normal_cdf(z)), z, 1e-9);
    assert_near(cy_normal_inverse(1e-300) + cy_normal_inverse(1e-300), -2 * 37.0471, 1e-3);
    assert_true(cy_normal_inverse(0) == -INFINITY);
    assert_true(cy_normal_inverse(1) == INFINITY);
    assert_true(isnan(cy_normal_inverse(-0.1)));
    assert_true(isnan(cy_normal_inverse(1.1)));
    assert_true(isnan(cy_normal_inverse(NAN)));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantiles_by_hand),
        cmocka_unit_test(sorting_puts_nan_last),
        cmocka_unit_test(sorting_keeps_what_it_sorts),
        cmocka_unit_test(mean_and_deviation),
        cmocka_unit_test(normal_against_the_table),
        cmocka_unit_test(freeze_levels),
        cmocka_unit_test(inverse_undoes_the_distribution),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
