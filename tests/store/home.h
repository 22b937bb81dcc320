/* SPDX-License-Identifier: MIT
 * A catalogue of one place, which is all that a farm needs besides its own file. */
#ifndef TESTS_STORE_HOME_H
#define TESTS_STORE_HOME_H

#include <caneyear/season/farm.h>

static inline void home_set(struct cy_farm *farm, int64_t thing, enum cy_field field, double number)
{
    struct cy_value value = {.set = true, .number = number, .basis = CY_BASIS_MADE};
    assert_int_equal(cy_farm_set(farm, thing, field, &value), CY_OK);
}

/* Made numbers: nothing is computed from them here. */
static inline void home_init(struct cy_farm *out)
{
    assert_int_equal(cy_farm_init(out), CY_OK);
    int64_t home = cy_farm_add(out, CY_KIND_PLACE, 0, "home", NULL, 0)->id;
    home_set(out, home, CY_PLACE_LATITUDE, 36);
    home_set(out, home, CY_PLACE_LONGITUDE, -80);
    for (int month = 0; month < 12; month++) {
        int64_t id = cy_farm_add(out, CY_KIND_MONTH, home, NULL, NULL, 0)->id;
        home_set(out, id, CY_MONTH_LOW, month);
        home_set(out, id, CY_MONTH_HIGH, month + 10);
        home_set(out, id, CY_MONTH_RAIN, 80);
    }
}

#endif
