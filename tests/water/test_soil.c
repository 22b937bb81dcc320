/* SPDX-License-Identifier: MIT
 * The soil's balance: FAO-56 chapter 8 as quoted from memory, figures recomputed apart from this
 * code, and water that is neither made nor lost. */
#include "near.h"

#include <caneyear/water/soil.h>

/* TAW per metre: FAO-56 Table 19's typical pairs, from memory; recomputed. */
static void textures_hold_what_the_table_says(void **state)
{
    (void)state;
    static const struct {
        enum cy_water_texture texture;
        double mm_per_m;
    } cases[] = {{CY_WATER_SAND, 75},       {CY_WATER_LOAMY_SAND, 90}, {CY_WATER_SANDY_LOAM, 120},
                 {CY_WATER_SILT_LOAM, 140}, {CY_WATER_SILT, 170},      {CY_WATER_SILTY_CLAY, 120}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_near(cy_water_available_mm(cy_water_field_capacity(cases[i].texture),
                                          cy_water_wilting_point(cases[i].texture), 1.0),
                    cases[i].mm_per_m, 1e-9);
    assert_string_equal(cy_water_texture_word(CY_WATER_SANDY_LOAM), "sandy loam");
}

/* Root depth 0.6 m (FAO-56 Table 22, berries) of sandy loam: TAW 72, half of it 36; recomputed. */
static void sandy_loam_under_berries(void **state)
{
    (void)state;
    assert_near(cy_water_available_mm(0.23, 0.11, 0.6), 72.0, 1e-9);
}

/* Ks at TAW 72, p 0.5; recomputed from FAO-56 equation 84. */
static void stress_begins_at_the_ready_water(void **state)
{
    (void)state;
    static const double cases[][2] = {{0, 1},          {36, 1}, {45, 0.75}, {54, 0.5},
                                      {60, 1.0 / 3.0}, {72, 0}, {80, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_near(cy_water_stress(72, 0.5, cases[i][0]), cases[i][1], 1e-12);
}

/* FAO-56 note to Table 22, from memory; recomputed. */
static void thirstier_days_stress_sooner(void **state)
{
    (void)state;
    assert_near(cy_water_share_before_stress(0.5, 3.0), 0.58, 1e-12);
    assert_near(cy_water_share_before_stress(0.5, 5.0), 0.50, 1e-12);
    assert_near(cy_water_share_before_stress(0.5, 7.5), 0.40, 1e-12);
    assert_near(cy_water_share_before_stress(0.5, 20.0), 0.10, 1e-12);
    assert_near(cy_water_share_before_stress(0.7, 0.0), 0.80, 1e-12);
}

/* Ten days, TAW 72, table p 0.5, first depletion 20, Kc 1.05: recomputed apart from this code. */
static void ten_days(void **state)
{
    (void)state;
    static const double et[] = {4.5, 5, 5.5, 6, 5.2, 4.8, 5.1, 5.6, 6.2, 5.9};
    static const struct {
        int day;
        double etc, ks, eta, depletion;
    } rows[] = {{1, 4.725, 1, 4.7250, 24.7250},      {3, 5.775, 1, 5.7750, 35.7500},
                {4, 6.300, 0.9121, 5.7462, 29.4962}, {7, 5.355, 0.8644, 4.6291, 44.6253},
                {8, 5.880, 0.7104, 4.1771, 48.8024}, {9, 6.510, 0.5749, 3.7428, 12.5452},
                {10, 6.195, 1, 6.1950, 18.7402}};
    struct cy_water_weather weather[10];
    for (int i = 0; i < 10; i++)
        weather[i] = (struct cy_water_weather){.et_mm = et[i],
                                               .kc = 1.05,
                                               .rain_mm = i == 3   ? 12
                                                          : i == 8 ? 40
                                                                   : 0};
    const struct cy_water_soil soil = {.taw_mm = 72, .p = 0.5, .p_follows_use = true};
    struct cy_water_after days[10];
    const struct cy_water_sum sum = cy_water_run(days, &soil, 20, weather, 10);

    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct cy_water_after *day = &days[rows[i].day - 1];
        assert_near(day->etc_mm, rows[i].etc, 1e-9);
        assert_near(day->ks, rows[i].ks, 6e-5);
        assert_near(day->eta_mm, rows[i].eta, 6e-5);
        assert_near(day->depletion_mm, rows[i].depletion, 6e-5);
    }
    assert_near(sum.eta_mm, 50.7402, 6e-5);
    assert_near(sum.depletion_mm - 20, -1.2598, 6e-5);
    assert_near(sum.drainage_mm, 0, 0);
    assert_near(sum.rain_kept_mm, 52, 1e-12);
    assert_int_equal(sum.stress_days, 4);
}

/* By hand: 10 short, 2 used, 20 of rain and 4 of irrigation fall, 12 drain. */
static void rain_beyond_what_the_soil_holds_drains(void **state)
{
    (void)state;
    const struct cy_water_day day = {.taw_mm = 72,
                                     .p = 0.5,
                                     .depletion_mm = 10,
                                     .et_mm = 4,
                                     .kc = 0.5,
                                     .rain_mm = 20,
                                     .irrigation_mm = 4};
    const struct cy_water_after after = cy_water_balance(&day);
    assert_near(after.depletion_mm, 0, 0);
    assert_near(after.drainage_mm, 12, 1e-12);
    assert_near(after.rain_kept_mm, 8, 1e-12);
    assert_near(after.eta_mm, 2, 1e-12);
}

/* A pot of 5 mm can't give a day's 8: it gives the 5, and is empty. */
static void a_shallow_soil_gives_no_more_than_it_holds(void **state)
{
    (void)state;
    const struct cy_water_day day = {.taw_mm = 5, .p = 0.5, .et_mm = 8, .kc = 1};
    const struct cy_water_after after = cy_water_balance(&day);
    assert_near(after.eta_mm, 5, 1e-12);
    assert_near(after.depletion_mm, 5, 1e-12);
}

static void p_is_used_as_given_unless_it_follows_the_use(void **state)
{
    (void)state;
    const struct cy_water_weather weather = {.et_mm = 7.5, .kc = 1};
    struct cy_water_soil soil = {.taw_mm = 100, .p = 0.5};
    assert_near(cy_water_run(NULL, &soil, 45, &weather, 1).eta_mm, 7.5, 1e-12);
    soil.p_follows_use = true; /* p falls to 0.4 */
    assert_near(cy_water_run(NULL, &soil, 45, &weather, 1).eta_mm, 7.5 * 55 / 60, 1e-12);
}

static void rain_counts_up_to_what_is_missing(void **state)
{
    (void)state;
    assert_near(cy_water_rain_kept(30, 12), 12, 0);
    assert_near(cy_water_rain_kept(8, 12), 8, 0);
    assert_near(cy_water_rain_kept(8, 0), 0, 0);
}

static void water_is_neither_made_nor_lost(void **state)
{
    (void)state;
    uint64_t seed = 1;
    for (int run = 0; run < 500; run++) {
        const struct cy_water_soil soil = {.taw_mm = dice(&seed, 3, 200),
                                           .p = dice(&seed, 0.1, 0.8),
                                           .p_follows_use = run % 2 == 1};
        const double start = dice(&seed, 0, soil.taw_mm);
        struct cy_water_weather weather[30];
        struct cy_water_after days[30];
        for (int i = 0; i < 30; i++)
            weather[i] = (struct cy_water_weather){.et_mm = dice(&seed, 0, 12),
                                                   .kc = dice(&seed, 0, 1.3),
                                                   .rain_mm = fmax(0, dice(&seed, -80, 40)),
                                                   .irrigation_mm = fmax(0, dice(&seed, -40, 20))};
        const struct cy_water_sum sum = cy_water_run(days, &soil, start, weather, 30);
        assert_near(sum.depletion_mm - start,
                    sum.eta_mm + sum.drainage_mm - sum.rain_mm - sum.irrigation_mm, 1e-9);
        for (int i = 0; i < 30; i++) {
            assert_true(days[i].depletion_mm >= 0 && days[i].depletion_mm <= soil.taw_mm + 1e-9);
            assert_true(days[i].eta_mm >= 0 && days[i].eta_mm <= days[i].etc_mm + 1e-12);
            assert_true(days[i].ks >= 0 && days[i].ks <= 1);
            assert_true(days[i].rain_kept_mm >= 0 && days[i].rain_kept_mm <= weather[i].rain_mm);
        }
    }
}

/* More rain never leaves the soil drier. */
static void rain_never_dries_the_soil(void **state)
{
    (void)state;
    uint64_t seed = 7;
    for (int i = 0; i < 1000; i++) {
        struct cy_water_day day = {.taw_mm = dice(&seed, 20, 150),
                                   .p = dice(&seed, 0.1, 0.8),
                                   .et_mm = dice(&seed, 0, 9),
                                   .kc = dice(&seed, 0.2, 1.2),
                                   .rain_mm = dice(&seed, 0, 30)};
        day.depletion_mm = dice(&seed, 0, day.taw_mm);
        const double before = cy_water_balance(&day).depletion_mm;
        day.rain_mm += dice(&seed, 0, 30);
        assert_true(cy_water_balance(&day).depletion_mm <= before + 1e-12);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(textures_hold_what_the_table_says),
        cmocka_unit_test(sandy_loam_under_berries),
        cmocka_unit_test(stress_begins_at_the_ready_water),
        cmocka_unit_test(thirstier_days_stress_sooner),
        cmocka_unit_test(ten_days),
        cmocka_unit_test(rain_beyond_what_the_soil_holds_drains),
        cmocka_unit_test(a_shallow_soil_gives_no_more_than_it_holds),
        cmocka_unit_test(p_is_used_as_given_unless_it_follows_the_use),
        cmocka_unit_test(rain_counts_up_to_what_is_missing),
        cmocka_unit_test(water_is_neither_made_nor_lost),
        cmocka_unit_test(rain_never_dries_the_soil),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
