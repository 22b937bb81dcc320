/* SPDX-License-Identifier: MIT
 * Radiation against the worked examples of FAO Irrigation and Drainage Paper 56 (Allen, Pereira,
 * Raes and Smith 1998), named here by example and page. */
#include "support/near.h"

#include <caneyear/climate/radiation.h>

static void example_8_outside_the_atmosphere(void **state)
{
    struct cy_radiation_day day;

    (void)state;
    cy_radiation_day(&day, -20, 246); /* page 80: 3 September at 20 S */
    assert_near(day.declination_rad, 0.120, 0.0005);
    assert_near(day.inverse_distance, 0.985, 0.0005);
    assert_near(day.sunset_angle_rad, 1.527, 0.0005);
    assert_near(day.extraterrestrial, 32.2, 0.05);
    assert_near(0.408 * day.extraterrestrial, 13.1, 0.05); /* as evaporation, mm */
}

static void example_9_daylight(void **state)
{
    struct cy_radiation_day day;

    (void)state;
    cy_radiation_day(&day, -20, 246); /* page 83: 11.7; the NCL manual prints 11.66559 */
    assert_near(day.daylight_h, 11.66559, 0.0005);
}

static void example_10_sun_hours(void **state)
{
    struct cy_radiation_day day;

    (void)state;
    cy_radiation_day(&day, -22.9, 135); /* page 84: Rio de Janeiro, 220 h of sun in May */
    assert_near(day.daylight_h, 10.9, 0.05);
    assert_near(cy_radiation_from_sun_hours(&day, 220 / 31.0), 14.45, 0.01);
    /* The NCL manual's pages on the same example: Ra 25.111, Rso 18.833. */
    assert_near(day.extraterrestrial, 25.111, 0.0005);
    assert_near(cy_radiation_clear_sky(day.extraterrestrial, 0), 18.833, 0.0005);
}

static void example_11_net_long_wave(void **state)
{
    (void)state;
    assert_near(cy_radiation_net_long(19.1, 25.1, 2.1, 14.5, 18.8), 3.5, 0.05); /* page 87 */
}

static void example_12_net_short_wave(void **state)
{
    (void)state;
    /* page 87 prints 11.1, rounding down */
    assert_near(cy_radiation_net_short(14.5), 11.165, 1e-9);
}

static void example_15_from_temperatures(void **state)
{
    (void)state;
    assert_near(cy_radiation_from_range(40.6, 14.8, 26.6, CY_RADIATION_INLAND), 22.3, 0.05);
    assert_true(cy_radiation_from_range(40.6, 14.8, 26.6, CY_RADIATION_COAST) > 26);
}

static void other_days(void **state)
{
    struct cy_radiation_day day;

    (void)state;
    /* Computed apart from this program. */
    cy_radiation_day(&day, 30, 15);
    assert_near(day.extraterrestrial, 21.0812, 1e-4);
    cy_radiation_day(&day, 35, 196);
    assert_near(day.extraterrestrial, 40.7836, 1e-4);
    /* Example 18, page 113: Uccle, 6 July. */
    cy_radiation_day(&day, 50.8, 187);
    assert_near(day.extraterrestrial, 41.09, 0.005);
    assert_near(cy_radiation_clear_sky(day.extraterrestrial, 100), 30.90, 0.005);
}

static void polar_seasons(void **state)
{
    struct cy_radiation_day day;

    (void)state;
    cy_radiation_day(&day, 80, 355);
    assert_near(day.extraterrestrial, 0, 1e-12);
    assert_near(day.daylight_h, 0, 0);
    assert_near(cy_radiation_from_sun_hours(&day, 0), 0, 1e-12);
    assert_true(isfinite(cy_radiation_net_long(-20, -10, 0.1, 0, 0)));
    cy_radiation_day(&day, 80, 172);
    assert_near(day.daylight_h, 24, 1e-12);
    assert_true(day.extraterrestrial > 40);
}

static void bounds(void **state)
{
    struct cy_radiation_day day;

    (void)state;
    cy_radiation_day(&day, 40, 180);
    /* Overcast lets a quarter through, a full day of sun three quarters; no more than that. */
    assert_near(cy_radiation_from_sun_hours(&day, 0), 0.25 * day.extraterrestrial, 1e-12);
    assert_near(cy_radiation_from_sun_hours(&day, day.daylight_h), 0.75 * day.extraterrestrial,
                1e-9);
    assert_near(cy_radiation_from_sun_hours(&day, 24), 0.75 * day.extraterrestrial, 1e-9);
    /* More sun than a clear sky lets through counts as a clear sky. */
    assert_near(cy_radiation_net_long(10, 20, 1, 40, 30), cy_radiation_net_long(10, 20, 1, 30, 30),
                0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(example_8_outside_the_atmosphere),
        cmocka_unit_test(example_9_daylight),
        cmocka_unit_test(example_10_sun_hours),
        cmocka_unit_test(example_11_net_long_wave),
        cmocka_unit_test(example_12_net_short_wave),
        cmocka_unit_test(example_15_from_temperatures),
        cmocka_unit_test(other_days),
        cmocka_unit_test(polar_seasons),
        cmocka_unit_test(bounds),
    };
    return cmocka_run_group_tests_name("radiation", tests, NULL, NULL);
}
