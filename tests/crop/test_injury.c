/* SPDX-License-Identifier: MIT
 * What the cold leaves of buds, flowers and the crop, and what it moves. */
#include "crop/scene.h"

#include <caneyear/base/stats.h>
#include <caneyear/crop/injury.h>

static void assert_about(double found, double wanted, double near)
{
    if (!(fabs(found - wanted) <= near))
        fail_msg("%.5f is not within %g of %.5f", found, near, wanted);
}

static void name_buds(struct scene *scene, const char *cultivar)
{
    cy_cold_course_of(&scene->traits.buds, cultivar, NAN, CY_BASIS_NONE);
}

/* ---- buds in winter -------------------------------------------------------------------------- */

/* Ouachita's buds: half die at -21.7 C in January 2022 (Warmund, Journal of the American
 * Pomological Society, January 2024). */
static void a_night_of_the_t50_leaves_half_of_the_buds(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Ouachita");
    freeze(&scene, on(2027, 1, 15), -21.7);
    run(&scene);
    assert_about(scene.life.buds_left, 0.5, 1e-9);
    assert_true(scene.life.flowers_left == 1);
    assert_about(scene.life.summer_share, 0.5, 1e-9);
    assert_stage(&scene, CY_STAGE_BLOOM, 2027, 5, 9);
    assert_stage(&scene, CY_STAGE_PEAK_PICK, 2027, 6, 27);
    freeze(&scene, on(2027, 1, 15), -40);
    run(&scene);
    assert_never(&scene, CY_STAGE_BLOOM, CY_STAGE_LAST_PICK, CY_WINTER_KILLED);
    assert_true(scene.life.summer_share == 0);
    assert_stage(&scene, CY_STAGE_SPENT, 2027, 10, 31); /* with the season */
    close_scene(&scene);
}

static void the_coldest_night_counts_once(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Ouachita");
    freeze(&scene, on(2027, 1, 15), -21.7);
    freeze(&scene, on(2027, 1, 16), -21);
    freeze(&scene, on(2026, 12, 20), -18);
    run(&scene);
    assert_about(scene.life.buds_left, 0.5, 1e-9);
    close_scene(&scene);
}

static void a_colder_row_loses_more_buds(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Natchez");
    freeze(&scene, on(2027, 1, 15), -12.5);
    scene.traits.colder_k = 2;
    run(&scene);
    assert_about(scene.life.buds_left, 0.5, 1e-9); /* -14.5 in the row */
    close_scene(&scene);
}

static void without_a_figure_no_loss_is_assumed(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Kiowa");
    assert_int_equal(scene.traits.buds.count, 0);
    freeze(&scene, on(2027, 1, 15), -40);
    run(&scene);
    assert_true(isnan(scene.life.buds_left));
    assert_true(scene.life.summer_share == 1);
    cy_basis basis = cy_life_basis(&scene.traits, &scene.cohort.seen, 0, CY_STAGE_PEAK_PICK);
    name_buds(&scene, "Von");
    scene.traits.bloom_heat_kh.basis = CY_BASIS_PUBLISHED;
    assert_true(cy_life_basis(&scene.traits, &scene.cohort.seen, 0, CY_STAGE_PEAK_PICK) &
                CY_BASIS_FITTED);
    assert_false(basis & CY_BASIS_PLACEHOLDER);
    close_scene(&scene);
}

/* Mid-winter injury limits: 12 F (-11 C) of trailing canes: Ohio State ANR-0104, 2022. */
static void a_night_at_the_limit_kills_the_canes(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    scene.traits.winter_limit = (struct cy_trait){(12 - 32) / 1.8, CY_BASIS_PUBLISHED, "a sheet"};
    scene.traits.second_share.value = 0.7;
    freeze(&scene, on(2027, 1, 15), -11.1);
    run(&scene);
    assert_true(scene.life.buds_left == 1);
    freeze(&scene, on(2027, 1, 15), -11.2);
    run(&scene);
    assert_true(scene.life.buds_left == 0);
    assert_never(&scene, CY_STAGE_BLOOM, CY_STAGE_LAST_PICK, CY_WINTER_KILLED);
    /* The frost after bud break is another matter. */
    freeze(&scene, on(2027, 1, 15), 5);
    freeze(&scene, on(2027, 4, 1), -12);
    run(&scene);
    assert_true(scene.life.buds_left == 1);
    close_scene(&scene);
}

static void canes_that_came_with_their_plants_wintered_elsewhere(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Natchez");
    scene.traits.winter_limit.value = -11;
    scene.cohort.emerges_here = false;
    freeze(&scene, on(2027, 1, 15), -30);
    run(&scene);
    assert_true(scene.life.buds_left == 1);
    assert_true(scene.life.summer_share == 1);
    close_scene(&scene);
}

static void a_southern_winter_counts_from_july(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Ouachita");
    scene.cohort.latitude_deg = -38;
    scene.traits.chill_need.value = NAN; /* the scene's warmth is northern */
    scene.cohort.year = 2026;
    freeze(&scene, on(2026, 7, 15), -21.7); /* the middle of January, six months on */
    run(&scene);
    assert_about(scene.life.buds_left, 0.5, 1e-9);
    close_scene(&scene);
}

/* ---- second buds ----------------------------------------------------------------------------- */

/* After the April 2007 freeze killed primary buds, secondary buds gave about 70 % of a full crop,
 * and harvest ran 2 or more weeks late: NC State post, 10 April 2012. */
static void second_buds_bear_seven_tenths_two_weeks_late(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    scene.traits.second_share.value = 0.7;
    freeze(&scene, on(2027, 4, 23), -6);
    run(&scene);
    assert_about(scene.life.flowers_left, 0, 1e-6);
    assert_about(scene.life.summer_share, 0.7, 1e-6);
    assert_stage(&scene, CY_STAGE_FIRST_PICK, 2027, 6, 25);
    assert_stage(&scene, CY_STAGE_PEAK_PICK, 2027, 7, 11);
    assert_stage(&scene, CY_STAGE_LAST_PICK, 2027, 7, 27);
    /* A frost on their own flowers, two weeks on, takes those too. */
    freeze(&scene, on(2027, 5, 7), -6);
    run(&scene);
    assert_never(&scene, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK, CY_FLOWERS_FROZEN);
    close_scene(&scene);
}

/* Natchez in January 2022: half of the primary buds die at -14.5 C, of the secondary at -21.7 C
 * (same paper). */
static void second_buds_bear_after_a_winter_that_leaves_them(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Natchez");
    scene.traits.second_share.value = 0.7;
    freeze(&scene, on(2027, 1, 15), -14.5);
    run(&scene);
    assert_about(scene.life.buds_left, 0.5, 1e-9);
    assert_about(scene.life.summer_share, 0.5 + 0.5 * 0.7, 0.03);
    freeze(&scene, on(2027, 1, 15), -14.5 - CY_COLD_SECOND_K); /* and half of the second buds */
    run(&scene);
    assert_about(scene.life.summer_share, 0.05 + 0.95 * 0.7 * 0.5, 0.03);
    assert_true(scene.life.day[CY_STAGE_PEAK_PICK] > on(2027, 7, 5));
    /* Ohio: 95 to 100 % of the crop lost in the polar winters of 2014 and 2017 (ANR-0104). */
    freeze(&scene, on(2027, 1, 15), -29);
    run(&scene);
    assert_true(scene.life.summer_share < 0.05);
    assert_never(&scene, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK, CY_WINTER_KILLED);
    close_scene(&scene);
}

/* ---- what somebody counted ------------------------------------------------------------------- */

static void a_share_seen_killed_replaces_the_nights_before(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Ouachita");
    freeze(&scene, on(2027, 1, 15), -30);
    scene.cohort.seen.killed_day = on(2027, 1, 20);
    scene.cohort.seen.killed = 0.4;
    run(&scene);
    assert_about(scene.life.buds_left, 0.6, 1e-3);
    assert_about(scene.life.summer_share, 0.6, 1e-3);
    /* Nights that follow count on top. */
    freeze(&scene, on(2027, 1, 25), cy_cold_course_t50(&scene.traits.buds, 24));
    run(&scene);
    assert_about(scene.life.buds_left, 0.3, 1e-3);
    assert_true(cy_life_basis(&scene.traits, &scene.cohort.seen, 0, CY_STAGE_PEAK_PICK) &
                CY_BASIS_OBSERVED);
    close_scene(&scene);
}

static void flowers_seen_killed_count_the_winter_in(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Ouachita");
    freeze(&scene, on(2027, 1, 15), -21.7);
    freeze(&scene, on(2027, 4, 25), -6);
    scene.cohort.seen.killed_day = on(2027, 4, 26);
    scene.cohort.seen.killed = 0.3;
    run(&scene);
    assert_about(scene.life.summer_share, 0.7, 1e-6);
    scene.cohort.seen.killed = 1;
    run(&scene);
    assert_never(&scene, CY_STAGE_FIRST_PICK, CY_STAGE_LAST_PICK, CY_FLOWERS_FROZEN);
    scene.cohort.seen.killed_day = on(2027, 2, 1); /* of the buds, then */
    freeze(&scene, on(2027, 4, 25), 5);
    run(&scene);
    assert_never(&scene, CY_STAGE_BLOOM, CY_STAGE_LAST_PICK, CY_WINTER_KILLED);
    close_scene(&scene);
}

static void what_is_seen_alive_is_not_dead(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    name_buds(&scene, "Natchez");
    freeze(&scene, on(2027, 1, 15), -35);
    scene.cohort.seen.stage[CY_STAGE_BUD_BREAK] = on(2027, 4, 4);
    run(&scene);
    assert_stage(&scene, CY_STAGE_BUD_BREAK, 2027, 4, 4);
    assert_stage(&scene, CY_STAGE_BLOOM, 2027, 5, 20);
    assert_about(scene.life.summer_share, 0.05, 1e-9); /* how much is for a count to say */
    close_scene(&scene);
}

static void an_autumn_crop_seen_killed_is_that_much_less(void **state)
{
    (void)state;
    struct scene scene;
    open_scene(&scene);
    scene.traits.fruiting = CY_FRUITING_PRIMOCANE;
    scene.traits.cropping = CY_CROPPING_AUTUMN;
    scene.cohort.seen.autumn_killed_day = on(2026, 9, 10);
    scene.cohort.seen.autumn_killed = 0.25;
    freeze(&scene, on(2026, 9, 8), -4); /* what it did was counted */
    run(&scene);
    assert_true(scene.life.autumn_share == 0.75);
    scene.cohort.seen.autumn_killed = 1;
    run(&scene);
    assert_never(&scene, CY_STAGE_AUTUMN_FIRST_PICK, CY_STAGE_AUTUMN_LAST_PICK, CY_FREEZE_FIRST);
    close_scene(&scene);
}

/* ---- properties ------------------------------------------------------------------------------ */

static void random_cold(struct scene *scene, struct cy_random *random)
{
    open_scene(scene);
    for (cy_day day = on(2026, 11, 1); day < on(2027, 6, 15); day++) {
        bool winter = day < on(2027, 3, 15);
        freeze(scene, day, (winter ? -6 : 4) + (winter ? 7 : 3.5) * cy_random_normal(random));
    }
    cy_cold_course_of(&scene->traits.buds, "mine", -10 - 10 * cy_random_uniform(random),
                      CY_BASIS_GROWER);
    scene->traits.second_share.value = cy_random_uniform(random);
    scene->traits.pick_length_d.value = 5 + 60 * cy_random_uniform(random);
    scene->luck.bloom = cy_random_normal(random);
}

static void more_frost_never_makes_more_crop(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 21, 0);
    int less = 0;
    for (int i = 0; i < 100; i++) {
        struct scene scene;
        random_cold(&scene, &random);
        double before = INFINITY;
        for (int step = 0; step < 12; step++) {
            run(&scene);
            assert_true(scene.life.summer_share <= before + 1e-12);
            less += scene.life.summer_share < before;
            before = scene.life.summer_share;
            cy_day day = on(2026, 12, 1) + (cy_day)(cy_random_next(&random) % 180);
            scene.member.weather.tmin_c[at(&scene, day)] -= 8 * cy_random_uniform(&random);
        }
        close_scene(&scene);
    }
    assert_true(less > 100);
}

static void hardier_buds_never_bear_less(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 22, 0);
    int more = 0;
    for (int i = 0; i < 100; i++) {
        struct scene scene;
        random_cold(&scene, &random);
        double before = -1;
        for (double t50_c = -8; t50_c > -26; t50_c -= 2) {
            cy_cold_course_of(&scene.traits.buds, "mine", t50_c, CY_BASIS_GROWER);
            run(&scene);
            assert_true(scene.life.summer_share >= before - 1e-12);
            more += scene.life.summer_share > before + 1e-6;
            before = scene.life.summer_share;
        }
        close_scene(&scene);
    }
    assert_true(more > 200);
}

/* With nothing lost the crop ripens as it did before frost was weighed by the night. */
static void picking_stays_in_order_under_any_frost(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 23, 0);
    for (int i = 0; i < 200; i++) {
        struct scene scene;
        random_cold(&scene, &random);
        run(&scene);
        const struct cy_life *life = &scene.life;
        assert_true(life->summer_share >= 0 && life->summer_share <= 1);
        if (life->never[CY_STAGE_FIRST_PICK] == CY_COMES) {
            assert_true(life->day[CY_STAGE_FIRST_PICK] <= life->day[CY_STAGE_PEAK_PICK]);
            assert_true(life->day[CY_STAGE_PEAK_PICK] <= life->day[CY_STAGE_LAST_PICK]);
            assert_true(life->day[CY_STAGE_BLOOM] <= life->day[CY_STAGE_FIRST_PICK]);
            assert_true(life->summer_share >= CY_INJURY_NONE_LEFT - 1e-9);
        }
        close_scene(&scene);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_night_of_the_t50_leaves_half_of_the_buds),
        cmocka_unit_test(the_coldest_night_counts_once),
        cmocka_unit_test(a_colder_row_loses_more_buds),
        cmocka_unit_test(without_a_figure_no_loss_is_assumed),
        cmocka_unit_test(a_night_at_the_limit_kills_the_canes),
        cmocka_unit_test(canes_that_came_with_their_plants_wintered_elsewhere),
        cmocka_unit_test(a_southern_winter_counts_from_july),
        cmocka_unit_test(second_buds_bear_seven_tenths_two_weeks_late),
        cmocka_unit_test(second_buds_bear_after_a_winter_that_leaves_them),
        cmocka_unit_test(a_share_seen_killed_replaces_the_nights_before),
        cmocka_unit_test(flowers_seen_killed_count_the_winter_in),
        cmocka_unit_test(what_is_seen_alive_is_not_dead),
        cmocka_unit_test(an_autumn_crop_seen_killed_is_that_much_less),
        cmocka_unit_test(more_frost_never_makes_more_crop),
        cmocka_unit_test(hardier_buds_never_bear_less),
        cmocka_unit_test(picking_stays_in_order_under_any_frost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
