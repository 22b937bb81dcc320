/* SPDX-License-Identifier: MIT
 * Tests of shrinkage: worked by hand, and by many drawn observations. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/base/random.h>
#include <caneyear/base/shrink.h>

#include "support/near.h"

static void a_belief_alone_stays(void **state)
{
    const struct cy_shrink_belief belief = {100, 1, 4, 4};
    struct cy_shrunk out;
    cy_shrink(&out, &belief, NULL, 0);
    assert_near(out.value, 100, 0);
    assert_near(out.noise, 4, 1e-12);
    assert_near(out.deviation, 4 * sqrt(2), 1e-12); /* the belief strays by 4 / sqrt(1) too */
    (void)state;
}

/* (2 x 100 + 1 x 112 + 0.5 x 106) / 3.5 = 365 / 3.5. */
static void weights_are_those_of_the_formula(void **state)
{
    const struct cy_shrink_belief belief = {100, 2, 4, 4};
    const struct cy_shrink_seen seen[] = {{112, 1}, {106, 0.5}};
    struct cy_shrunk out;
    cy_shrink(&out, &belief, seen, 2);
    assert_near(out.value, 365 / 3.5, 1e-12);
    assert_near(out.weight, 1.5, 0);
    /* The mean seen is 110: squares 4 + 0.5 x 16 = 12, beside 4 x 16 that are believed, over
     * 4 + 1. */
    assert_near(out.noise, sqrt((64 + 12) / 5.0), 1e-12);
    assert_near(out.deviation, out.noise * sqrt(1 + 1 / 3.5), 1e-12);
    (void)state;
}

static void much_that_was_seen_outweighs_the_belief(void **state)
{
    const struct cy_shrink_belief belief = {0, 1, 4, 4};
    struct cy_shrink_seen seen[400];
    struct cy_random random;
    struct cy_shrunk out;
    cy_random_seed(&random, 3, 0);
    for (int i = 0; i < 400; i++)
        seen[i] = (struct cy_shrink_seen){50 + 2 * cy_random_normal(&random), 1};
    cy_shrink(&out, &belief, seen, 400);
    assert_near(out.value, 50, 0.4);
    assert_near(out.noise, 2, 0.15);
    (void)state;
}

/* The root mean square error over many draws is that of the formula, whatever n. */
static void errors_fall_as_the_formula_says(void **state)
{
    enum { DRAWS = 20000 };
    const double truth = 7, noise = 4;
    struct cy_random random;
    cy_random_seed(&random, 11, 0);
    for (int n = 0; n <= 8; n++) {
        double squares = 0;
        for (int draw = 0; draw < DRAWS; draw++) {
            const struct cy_shrink_belief belief = {0, 1.5, noise, 4};
            struct cy_shrink_seen seen[8];
            struct cy_shrunk out;
            for (int i = 0; i < n; i++)
                seen[i] = (struct cy_shrink_seen){truth + noise * cy_random_normal(&random), 1};
            cy_shrink(&out, &belief, seen, (size_t)n);
            squares += (out.value - truth) * (out.value - truth);
        }
        assert_near(sqrt(squares / DRAWS), cy_shrink_error(1.5, truth, noise, n), 0.05);
    }
    (void)state;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_belief_alone_stays),
        cmocka_unit_test(weights_are_those_of_the_formula),
        cmocka_unit_test(much_that_was_seen_outweighs_the_belief),
        cmocka_unit_test(errors_fall_as_the_formula_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
