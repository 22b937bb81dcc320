/* SPDX-License-Identifier: MIT
 * Degree hours: linear between base and optimum, flat above. */
#include <caneyear/climate/heat.h>

#include "support/near.h"

/* Base 6, optimum 25 C, linear, for blackberry: Black et al., HortScience 43(7):2000-2004, 2008. */
static void linear_between_base_and_optimum(void **state)
{
    (void)state;
    static const double CASES[][2] = {{-10, 0}, {6, 0}, {6.5, 0.5}, {15, 9}, {25, 19}, {40, 19}};
    for (size_t i = 0; i < sizeof CASES / sizeof *CASES; i++)
        assert_near(cy_heat_degree_hours(&CASES[i][0], 1, CY_HEAT_BASE_C, CY_HEAT_OPTIMUM_C),
                    CASES[i][1], 1e-12);
}

static void hours_add_up(void **state)
{
    (void)state;
    const double temps[] = {0, 10, 20, 30};
    assert_near(cy_heat_degree_hours(temps, 4, 6, 25), 0 + 4 + 14 + 19, 1e-12);
    assert_near(cy_heat_degree_hours(temps, 4, 10, 20), 0 + 0 + 10 + 10, 1e-12);
    assert_near(cy_heat_degree_hours(temps, 0, 6, 25), 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(linear_between_base_and_optimum),
        cmocka_unit_test(hours_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
