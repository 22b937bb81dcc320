/* SPDX-License-Identifier: MIT
 * The run of days. */
#include <caneyear/climate/weather.h>

#include <caneyear/base/issue.h>

#include "support/near.h"

static void days_start_zeroed(void **state)
{
    (void)state;
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2024, 2, 28), 3), CY_OK);
    assert_int_equal(weather.days, 3);
    for (int i = 0; i < 3; i++) {
        assert_near(weather.tmin_c[i] + weather.tmax_c[i] + weather.rain_mm[i], 0, 0);
        assert_int_equal(weather.origin[i], CY_ORIGIN_OBSERVED);
    }
    cy_weather_dispose(&weather);
    assert_null(weather.tmin_c);
    assert_int_equal(weather.days, 0);
}

static void index_finds_days_inside_only(void **state)
{
    (void)state;
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2024, 2, 28), 3), CY_OK);
    assert_int_equal(cy_weather_index(&weather, cy_day_of(2024, 2, 27)), -1);
    assert_int_equal(cy_weather_index(&weather, cy_day_of(2024, 2, 28)), 0);
    assert_int_equal(cy_weather_index(&weather, cy_day_of(2024, 2, 29)), 1);
    assert_int_equal(cy_weather_index(&weather, cy_day_of(2024, 3, 1)), 2);
    assert_int_equal(cy_weather_index(&weather, cy_day_of(2024, 3, 2)), -1);
    assert_int_equal(cy_weather_index(&weather, CY_DAY_NONE), -1);
    cy_weather_dispose(&weather);
}

static void no_days_and_fewer(void **state)
{
    (void)state;
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, 0, 0), CY_OK);
    assert_int_equal(cy_weather_index(&weather, 0), -1);
    cy_weather_dispose(&weather);
    assert_int_equal(cy_weather_init(&weather, 0, -1), CY_INVALID);
    assert_null(weather.tmin_c);
    cy_weather_dispose(&weather);
    cy_weather_dispose(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_start_zeroed),
        cmocka_unit_test(index_finds_days_inside_only),
        cmocka_unit_test(no_days_and_fewer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
