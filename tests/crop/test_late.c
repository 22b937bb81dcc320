/* SPDX-License-Identifier: MIT
 * Canes that grow with the heat, and what it costs to tip them late. */
#include "crop/scene.h"

#include <caneyear/crop/late.h>

static void assert_about(double found, double wanted, double near)
{
    if (!(fabs(found - wanted) <= near))
        fail_msg("%.5f is not within %g of %.5f", found, near, wanted);
}

/* ---- growth ---------------------------------------------------------------------------------- */

static void growth_by_heat_is_slower_on_cool_days(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    scene.traits.growth_follows = CY_GROWTH_HEAT;
    run(&scene);
    /* 1 m at 2 cm on a day of 336 K.h takes 84 days of 200 from 31 March on. */
    assert_stage(&scene, CY_STAGE_EMERGENCE, 2026, 3, 30);
    assert_stage(&scene, CY_STAGE_TIP, 2026, 6, 22);
    for (cy_day day = on(2026, 3, 31); day < on(2026, 7, 1); day++)
        scene.member.warmth.heat_kh[at(&scene, day)] = CY_LIFE_GROWTH_DAY_KH;
    run(&scene);
    assert_stage(&scene, CY_STAGE_TIP, 2026, 5, 19); /* as by days */
    close_scene(&scene);
}

static void a_height_seen_grows_on_by_heat(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    scene.traits.growth_follows = CY_GROWTH_HEAT;
    scene.cohort.seen.height_day = on(2026, 5, 1);
    scene.cohort.seen.height_m = 0.8;
    run(&scene);
    assert_stage(&scene, CY_STAGE_TIP, 2026, 5, 18); /* ten days' growth in 17 */
    scene.cohort.seen.height_m = 1.2;
    run(&scene);
    assert_stage(&scene, CY_STAGE_TIP, 2026, 4, 21); /* back by days */
    close_scene(&scene);
}

static void too_little_heat_never_brings_canes_to_height(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    scene.traits.growth_follows = CY_GROWTH_HEAT;
    scene.traits.growth_m_d.value = 0.005;
    run(&scene);
    assert_never(&scene, CY_STAGE_TIP, CY_STAGE_LATERALS, CY_TOO_LITTLE_HEAT);
    close_scene(&scene);
}

/* Cane growth: faster at 20 C than at 16 than at 12 (Horticulturae 9(12):1285, 2023). */
static void warmer_days_never_delay_the_tip(void **state)
{
    (void)state;
    cy_day before = 0;
    for (int mean_c = 12; mean_c <= 20; mean_c += 4) {
        struct scene scene;
        open_scene(&scene);
        scene.traits.growth_follows = CY_GROWTH_HEAT;
        scene.cohort.seen.stage[CY_STAGE_EMERGENCE] = on(2026, 4, 10);
        for (cy_day day = on(2026, 4, 1); day < on(2026, 10, 1); day++)
            scene.member.warmth.heat_kh[at(&scene, day)] = 24 * (mean_c - 6);
        run(&scene);
        assert_true(mean_c == 12 || scene.life.day[CY_STAGE_TIP] < before);
        before = scene.life.day[CY_STAGE_TIP];
        close_scene(&scene);
    }
}

/* ---- late tips ------------------------------------------------------------------------------- */

/* Canes that emerged in April made 64 % more flower shoots than those of after May: Agronomy
 * 10(11):1737, 2020. */
static void a_tip_in_may_for_one_in_april_costs_64_in_164(void **state)
{
    (void)state;
    assert_about(cy_late_shoots(0), 1, 0);
    assert_about(cy_late_shoots(-5), 1, 0);
    assert_about(cy_late_shoots(46) * 1.64, 1, 1e-12);
    assert_about(cy_late_shoots(90) * 1.64, 1, 1e-12);
    double before = 1;
    for (int days = 1; days <= 46; days++) {
        assert_true(cy_late_shoots(days) < before);
        before = cy_late_shoots(days);
    }
}

static struct cy_life due(cy_day peak, cy_day freeze)
{
    return (struct cy_life){.autumn_due = peak, .autumn_freeze = freeze};
}

/* Hedged hard about a week late, fruiting came 10 to 14 days later (HortScience 2012):
 * two weeks late push the crop by 24 days. */
static void a_late_tip_pushes_the_crop_into_the_frost(void **state)
{
    (void)state;
    const cy_day peak = on(2027, 9, 20);
    struct cy_late_loss loss;
    struct cy_life lives[3] = {due(peak, CY_DAY_NONE), due(peak, peak + 24), due(peak, peak - 10)};
    cy_late_autumn(&loss, lives, 1, 56, 14);
    assert_true(loss.fails == 0 && loss.left == 1);
    /* A freeze on the pushed peak leaves half of what the timely crop nearly ripened. */
    cy_late_autumn(&loss, lives + 1, 1, 56, 14);
    assert_about(loss.left, 0.5 / cy_life_ripened(peak, 56, peak + 24), 1e-9);
    assert_true(loss.fails == 0);
    cy_late_autumn(&loss, lives + 2, 1, 56, 14);
    assert_true(loss.fails == 1 && loss.fails_timely == 0);
    cy_late_autumn(&loss, lives, 3, 56, 14);
    assert_about(loss.fails, 1.0 / 3, 1e-12);
    cy_late_autumn(&loss, lives, 3, 56, 0);
    assert_true(loss.fails == 0 && loss.left == 1);
}

static void a_crop_frozen_in_bloom_fails_either_way(void **state)
{
    (void)state;
    struct cy_late_loss loss;
    struct cy_life life = due(CY_DAY_NONE, CY_DAY_NONE);
    cy_late_autumn(&loss, &life, 1, 56, 14);
    assert_true(isnan(loss.fails) && isnan(loss.left));
    life.never[CY_STAGE_AUTUMN_BLOOM] = CY_FREEZE_FIRST;
    cy_late_autumn(&loss, &life, 1, 56, 14);
    assert_true(loss.fails == 1 && loss.fails_timely == 1 && isnan(loss.left));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(growth_by_heat_is_slower_on_cool_days),
        cmocka_unit_test(a_height_seen_grows_on_by_heat),
        cmocka_unit_test(too_little_heat_never_brings_canes_to_height),
        cmocka_unit_test(warmer_days_never_delay_the_tip),
        cmocka_unit_test(a_tip_in_may_for_one_in_april_costs_64_in_164),
        cmocka_unit_test(a_late_tip_pushes_the_crop_into_the_frost),
        cmocka_unit_test(a_crop_frozen_in_bloom_fails_either_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
