/* SPDX-License-Identifier: MIT
 * Crop coefficients, the establishment year, run times. */
#include "near.h"

#include <caneyear/water/need.h>

static const double gallon_l = 3.785411784, foot_m = 0.3048, inch_mm = 25.4;

/* Stages 20/50/75/60 days, 0.30/1.05/0.50 (FAO-56 Table 12, berries; the lengths are the grape
 * row's): recomputed. */
static void the_curve_runs_straight_between_its_stages(void **state)
{
    (void)state;
    static const double cases[][2] = {{-5, 0.30},   {0, 0.30},   {20, 0.30},
                                      {45, 0.675},  {70, 1.05},  {145, 1.05},
                                      {175, 0.775}, {205, 0.50}, {300, 0.50}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_near(cy_water_kc_at(&cy_water_kc_berries, cases[i][0]), cases[i][1], 1e-12);
}

static void a_stage_may_have_no_length(void **state)
{
    (void)state;
    const struct cy_water_kc step = {
        .initial = 0.3, .mid = 0.9, .end = 0.4, .days = {10, 0, 20, 0}};
    assert_near(cy_water_kc_at(&step, 9.5), 0.3, 1e-12);
    assert_near(cy_water_kc_at(&step, 10), 0.9, 1e-12);
    assert_near(cy_water_kc_at(&step, 30), 0.4, 1e-12);
}

/* FAO-56 equation 62, from memory; recomputed. */
static void wind_and_dry_air_raise_the_coefficient(void **state)
{
    (void)state;
    assert_near(cy_water_kc_at_site(1.05, 1.5, 60, 1.5), 0.9850, 6e-5);
    assert_near(cy_water_kc_at_site(1.05, 3, 25, 1.5), 1.1475, 6e-5);
    assert_near(cy_water_kc_at_site(1.05, 2, 45, 1.5), 1.05, 1e-12);
}

/* Acta Horticulturae 1388, article 29 (abstract): first year 0.24 in early July to 0.81 in early
 * October; third year 0.55 in late June to 0.88 in mid August, held to late September. */
static void measured_blackberry(void **state)
{
    (void)state;
    assert_near(cy_water_kc_measured(CY_WATER_FIRST_YEAR, 186), 0.24, 1e-12);
    assert_near(cy_water_kc_measured(CY_WATER_FIRST_YEAR, 232), (0.24 + 0.81) / 2, 1e-12);
    assert_near(cy_water_kc_measured(CY_WATER_FIRST_YEAR, 278), 0.81, 1e-12);
    assert_near(cy_water_kc_measured(CY_WATER_FULL_CROP, 176), 0.55, 1e-12);
    assert_near(cy_water_kc_measured(CY_WATER_FULL_CROP, 227), 0.88, 1e-12);
    assert_near(cy_water_kc_measured(CY_WATER_FULL_CROP, 268), 0.88, 1e-12);
    /* beyond the published dates: flat, our choice */
    assert_near(cy_water_kc_measured(CY_WATER_FULL_CROP, 1), 0.55, 1e-12);
    assert_near(cy_water_kc_measured(CY_WATER_FIRST_YEAR, 366), 0.81, 1e-12);
}

/* An inch a week: University of Kentucky slides. The same slide's 9,000 gallons an acre is wrong:
 * an acre-inch is 27,154 gallons. */
static void an_inch_a_week(void **state)
{
    (void)state;
    const struct cy_water_week dry = {.need_mm = CY_WATER_WEEK_MM, .storage_mm = 30};
    const struct cy_water_week_need need = cy_water_week_need(&dry);
    assert_near(need.net_mm, 25.4, 1e-12);
    const struct cy_water_run_time acre = {.net_mm = need.net_mm,
                                           .width_m = 43560 * foot_m * foot_m / 100,
                                           .flow_lph = 1,
                                           .spacing_m = 1,
                                           .lines = 1,
                                           .efficiency = 1};
    assert_near(cy_water_run_time(&acre).litres_per_100m / gallon_l, 27154.3, 0.06);
}

/* By hand: a root zone that keeps 20 mm lets 30 of a 50 mm storm go, and the 20 serve the week. */
static void a_storm_counts_only_as_far_as_the_soil_keeps_it(void **state)
{
    (void)state;
    const struct cy_water_week storm = {.need_mm = 25.4, .rain_mm = 50, .storage_mm = 20};
    const struct cy_water_week_need need = cy_water_week_need(&storm);
    assert_near(need.credited_mm, 20, 1e-12);
    assert_near(need.lost_mm, 30, 1e-12);
    assert_near(need.net_mm, 5.4, 1e-12);
    assert_near(need.held_mm, 0, 1e-12);
}

static void what_a_week_leaves_serves_the_next(void **state)
{
    (void)state;
    struct cy_water_week week = {.need_mm = 25.4, .rain_mm = 40, .storage_mm = 36};
    struct cy_water_week_need need = cy_water_week_need(&week);
    assert_near(need.net_mm, 0, 0);
    assert_near(need.held_mm, 10.6, 1e-12);
    week.held_mm = need.held_mm;
    week.rain_mm = 0;
    need = cy_water_week_need(&week);
    assert_near(need.net_mm, 14.8, 1e-12);
}

static void weeks_keep_account_of_every_drop(void **state)
{
    (void)state;
    uint64_t seed = 3;
    struct cy_water_week week = {.storage_mm = 24};
    for (int i = 0; i < 1000; i++) {
        week.need_mm = dice(&seed, 0, 40);
        week.rain_mm = fmax(0, dice(&seed, -40, 60));
        const struct cy_water_week_need need = cy_water_week_need(&week);
        assert_near(week.held_mm + week.rain_mm, need.credited_mm + need.held_mm + need.lost_mm,
                    1e-9);
        assert_near(need.net_mm + need.credited_mm, week.need_mm, 1e-9);
        assert_true(need.net_mm >= 0 && need.lost_mm >= 0);
        assert_true(need.held_mm >= 0 && need.held_mm <= week.storage_mm);
        week.held_mm = need.held_mm;
    }
}

/* Three cases in US units, recomputed: gallons for 100 ft, gallons an hour for 100 ft, minutes. */
static void run_times(void **state)
{
    (void)state;
    static const struct {
        double net_in, width_ft, emitter_gph, spacing_in, efficiency, gallons, gph, minutes;
    } cases[] = {{0.20 * 1.05, 10, 0.5, 18, 0.9, 145.4545, 33.3333, 261.8182},
                 {0.25 * 1.05, 4, 0.42, 12, 0.9, 72.7273, 42, 103.8961},
                 {1.2 * 0.8 - 0.5, 8, 1, 24, 0.85, 269.8854, 50, 323.8625}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct cy_water_run_time run = {.net_mm = cases[i].net_in * inch_mm,
                                              .width_m = cases[i].width_ft * foot_m,
                                              .flow_lph = cases[i].emitter_gph * gallon_l,
                                              .spacing_m = cases[i].spacing_in * inch_mm / 1000,
                                              .lines = 1,
                                              .efficiency = cases[i].efficiency};
        const struct cy_water_run_result result = cy_water_run_time(&run);
        const double hundred_feet = 100 * foot_m / 100 / gallon_l;
        assert_near(result.litres_per_100m * hundred_feet, cases[i].gallons, 6e-5);
        assert_near(result.flow_lph_per_100m * hundred_feet, cases[i].gph, 6e-5);
        assert_near(result.minutes, cases[i].minutes, 6e-5);
    }
}

static void two_lines_take_half_the_time_and_the_same_water(void **state)
{
    (void)state;
    struct cy_water_run_time run = {.net_mm = 6,
                                    .width_m = 1.2,
                                    .flow_lph = 2,
                                    .spacing_m = 0.5,
                                    .lines = 1,
                                    .efficiency = 0.9};
    const struct cy_water_run_result one = cy_water_run_time(&run);
    run.lines = 2;
    const struct cy_water_run_result two = cy_water_run_time(&run);
    assert_near(two.minutes, one.minutes / 2, 1e-12);
    assert_near(two.litres_per_100m, one.litres_per_100m, 0);
    assert_near(one.litres_per_100m, 800, 1e-9);
    assert_near(one.minutes, 120, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_curve_runs_straight_between_its_stages),
        cmocka_unit_test(a_stage_may_have_no_length),
        cmocka_unit_test(wind_and_dry_air_raise_the_coefficient),
        cmocka_unit_test(measured_blackberry),
        cmocka_unit_test(an_inch_a_week),
        cmocka_unit_test(a_storm_counts_only_as_far_as_the_soil_keeps_it),
        cmocka_unit_test(what_a_week_leaves_serves_the_next),
        cmocka_unit_test(weeks_keep_account_of_every_drop),
        cmocka_unit_test(run_times),
        cmocka_unit_test(two_lines_take_half_the_time_and_the_same_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
