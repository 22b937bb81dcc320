/* SPDX-License-Identifier: MIT
 * Cold in a plan: the frost watch, what winters and frosts take, what somebody counted. */
#include "season/farms.h"

#include <caneyear/season/frostwatch.h>

static const struct cy_frost_risk *risk_on(const struct cy_frostwatch *watch,
                                           const struct cy_plan *plan, const char *row)
{
    const struct cy_frost_risk *found = NULL;
    for (size_t i = 0; i < watch->count; i++)
        if (cy_streq(plan->rows[watch->risks[i].row].key, row))
            found = &watch->risks[i];
    return found;
}

static const struct cy_plan_cohort *old_canes(const struct cy_plan *plan, const char *row)
{
    return cohort_of(plan, row, plan->season - 1);
}

#define TODAY "2027-02-01"

/* ---- the watch ------------------------------------------------------------------------------- */

static void assert_risk(const struct cy_plan *plan, const char *day, const char *row,
                        enum cy_frost_part part, double station_c)
{
    struct cy_frostwatch watch;
    assert_int_equal(cy_frostwatch_of(&watch, plan, day_at(day)), CY_OK);
    const struct cy_frost_risk *risk = risk_on(&watch, plan, row);
    if (!risk)
        fail_msg("%s is not watched on %s", row, day);
    assert_int_equal(risk->part, part);
    assert_true(isnan(station_c) ? isnan(risk->station_c)
                                 : fabs(risk->station_c - station_c) < 0.01);
    assert_true(risk->basis != CY_BASIS_NONE || isnan(station_c));
    cy_frostwatch_dispose(&watch);
}

/* -2.5 C for all flower stages (NC State, April 2016); trailing canes 12 F in winter (Ohio State
 * ANR-0104, 2022); Ouachita's buds -21.7 C in mid January (Warmund 2024). */
static void each_row_has_what_frost_kills_this_week(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    ADD(&farm, CULTIVAR, "ouachita", PUBLISHED, "name", "Ouachita", "habit", "erect", "fruiting",
        "floricane", "bud_t50", "-19.1 C");
    ADD(&farm, CULTIVAR, "briar", PUBLISHED, "habit", "erect", "thorns", "thorny", "fruiting",
        "floricane");
    ADD(&farm, CULTIVAR, "creeper", PUBLISHED, "habit", "trailing", "fruiting", "floricane");
    add_row(&farm, "hardy", "ouachita", "hedge", "2020-04-10");
    add_row(&farm, "low", "ouachita", "hedge", "2020-04-10");
    put(&farm, "row.low.colder_nights", "2 dC");
    add_row(&farm, "thorny", "briar", "hedge", "2020-04-10");
    add_row(&farm, "trail", "creeper", "trail", "2020-04-10");
    add_row(&farm, "gem", "gem", "mown", "2020-04-10");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    /* The week of 11 January: its last day is the 17th, and buds are hardest on the 15th. */
    assert_risk(plan, "2027-01-13", "hardy", CY_FROST_BUDS, -21.6 - 0.1 + 4 * 2.6 / 58);
    assert_risk(plan, "2027-01-13", "thorny", CY_FROST_UNKNOWN, NAN);
    assert_risk(plan, "2027-01-13", "trail", CY_FROST_CANES, (12 - 32) / 1.8);
    /* In bloom, and two degrees sooner where nights are two degrees colder. */
    const struct cy_figure *bloom = &old_canes(plan, "hardy")->stage[CY_STAGE_BLOOM];
    char day[CY_DAY_TEXT];
    assert_risk(plan, cy_day_print(day, (cy_day)bloom->p50), "hardy", CY_FROST_FLOWERS, -2.5);
    assert_risk(plan, day, "low", CY_FROST_FLOWERS, -0.5);
    assert_risk(plan, cy_day_print(day, (cy_day)bloom->p10 - 15), "hardy", CY_FROST_TIGHT, -2.5);
    assert_risk(plan, "2027-09-22", "gem", CY_FROST_AUTUMN_CROP, -2.5);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void nothing_is_watched_where_nothing_is_at_stake(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-04-10");
    add_row(&farm, "mown", "gem", "mown", "2020-04-10");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_frostwatch watch;
    assert_int_equal(cy_frostwatch_of(&watch, plan, day_at("2027-08-01")), CY_OK);
    assert_int_equal(watch.from, day_at("2027-07-26")); /* the Monday before that Sunday */
    assert_int_equal(watch.to, day_at("2027-08-01"));
    assert_null(risk_on(&watch, plan, "r"));
    cy_frostwatch_dispose(&watch);
    /* Mown canes bear nothing that a winter could kill. */
    assert_int_equal(cy_frostwatch_of(&watch, plan, day_at("2027-02-01")), CY_OK);
    assert_null(risk_on(&watch, plan, "mown"));
    assert_non_null(risk_on(&watch, plan, "r"));
    cy_frostwatch_dispose(&watch);
    assert_int_equal(cy_frostwatch_of(&watch, plan, day_at("2040-01-01")), CY_OK);
    assert_int_equal(watch.count, 0);
    cy_frostwatch_dispose(&watch);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- what cold takes ------------------------------------------------------------------------- */

static void hardier_cultivars_lose_less_in_the_same_winters(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    put(&farm, "cultivar.natchez.bud_t50", "-12.7 C");
    ADD(&farm, CULTIVAR, "tough", PUBLISHED, "habit", "erect", "fruiting", "floricane", "bud_t50",
        "-19.1 C");
    ADD(&farm, CULTIVAR, "creeper", PUBLISHED, "habit", "trailing", "fruiting", "floricane");
    add_row(&farm, "tender", "natchez", "hedge", "2020-04-10");
    add_row(&farm, "tough", "tough", "hedge", "2020-04-10");
    add_row(&farm, "trail", "creeper", "trail", "2020-04-10");
    struct cy_plan *plan = plan_of(&farm, "2026-11-05", 0);
    double tender = old_canes(plan, "tender")->cold.buds;
    double tough = old_canes(plan, "tough")->cold.buds;
    assert_true(tender > 0.02 && tender < tough && tough < 1);
    const struct cy_plan_cohort *trail = old_canes(plan, "trail");
    assert_true(trail->stage[CY_STAGE_BLOOM].never > 0.5);
    assert_int_equal(trail->never[CY_STAGE_PEAK_PICK], CY_WINTER_KILLED);
    cy_plan_free(plan);
    /* What second buds bear is the grower's to say. */
    double before = 1;
    for (int step = 0; step < 2; step++) {
        put(&farm, "cultivar.natchez.secondary_share", step ? "0" : "70 %");
        plan = plan_of(&farm, "2026-11-05", 0);
        double never = old_canes(plan, "tender")->stage[CY_STAGE_PEAK_PICK].never;
        assert_true(step == 0 || never > before);
        before = never;
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void a_late_tip_never_helps_the_autumn_crop(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "gem", "gem", "mown", "2020-04-10");
    add_row(&farm, "old", "natchez", "hedge", "2020-04-10");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_late_loss *late = &cohort_of(plan, "gem", 2027)->late;
    assert_true(late->fails >= late->fails_timely && late->left < 1 && late->left > 0);
    assert_true(isnan(cohort_of(plan, "old", 2027)->late.fails));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- what somebody counted ------------------------------------------------------------------- */

static double middle_kg(const struct cy_farm *farm, const char *today, const char *row)
{
    struct cy_plan *plan = plan_of(farm, today, 0);
    const struct cy_plan_row *planned = row_of(plan, row);
    double kg = planned->crop_count > 0 ? planned->crops[0].total_kg.p50 : 0;
    double weeks = 0;
    for (int i = 0; planned->crop_count > 0 && i < 7 * planned->crops[0].weeks; i++)
        weeks += planned->crops[0].day_kg[i];
    assert_true(kg == 0 || weeks > 0);
    cy_plan_free(plan);
    return kg;
}

static void yielding_farm(struct cy_farm *farm)
{
    farm_north(farm);
    put(farm, "cultivar.natchez.full_yield", "10000 lb/acre");
    put(farm, "cultivar.natchez.secondary_share", "0");
    add_row(farm, "r", "natchez", "hedge", "2020-04-10");
}

static void a_frost_kill_note_multiplies_the_crop(void **state)
{
    (void)state;
    struct cy_farm farm;
    yielding_farm(&farm);
    double whole = middle_kg(&farm, "2027-06-10", "r");
    ADD(&farm, SEEN, "s1", GROWER, "day", "2027-02-20", "row", "r", "what", "frost kill", "killed",
        "40 %");
    double left = middle_kg(&farm, "2027-06-10", "r");
    assert_true(fabs(left - 0.6 * whole) < 0.02 * whole);
    assert_true(middle_kg(&farm, "2027-02-10", "r") > left); /* not seen yet */
    /* The later note counts. */
    ADD(&farm, SEEN, "s2", GROWER, "day", "2027-06-05", "row", "r", "what", "frost kill", "killed",
        "90 %");
    assert_true(fabs(middle_kg(&farm, "2027-06-10", "r") - 0.1 * whole) < 0.02 * whole);
    cy_farm_dispose(&farm);
}

/* 6 to 8 canes a hill (NC State, Caneberry Winter Pruning): 7 to a plant, 33.3 plants on 100 ft. */
static void a_count_of_canes_stands_in_for_the_rows_length(void **state)
{
    (void)state;
    struct cy_farm farm;
    yielding_farm(&farm);
    double whole = middle_kg(&farm, TODAY, "r");
    ADD(&farm, SEEN, "s1", GROWER, "day", "2026-10-01", "row", "r", "what", "cane count", "count",
        "140");
    double plants = 100 * 0.3048 / 0.9144;
    assert_true(fabs(middle_kg(&farm, TODAY, "r") / whole - 140 / (7 * plants)) < 1e-6);
    /* More than a full stand bears no more; a count in winter is of the same canes. */
    ADD(&farm, SEEN, "s2", GROWER, "day", "2027-01-20", "row", "r", "what", "cane count", "count",
        "900");
    assert_true(fabs(middle_kg(&farm, TODAY, "r") / whole - 1) < 1e-9);
    /* Plants said to be missing are not counted twice. */
    put(&farm, "row.r.missing", "10");
    assert_true(fabs(middle_kg(&farm, TODAY, "r") / whole - 1) < 1e-9);
    /* New canes bear next year. */
    ADD(&farm, SEEN, "s3", GROWER, "day", "2027-07-20", "row", "r", "what", "cane count", "count",
        "10");
    assert_true(middle_kg(&farm, "2027-08-01", "r") > 0.9 * whole);
    assert_true(middle_kg(&farm, "2027-11-20", "r") < 0.1 * whole);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_row_has_what_frost_kills_this_week),
        cmocka_unit_test(nothing_is_watched_where_nothing_is_at_stake),
        cmocka_unit_test(hardier_cultivars_lose_less_in_the_same_winters),
        cmocka_unit_test(a_late_tip_never_helps_the_autumn_crop),
        cmocka_unit_test(a_frost_kill_note_multiplies_the_crop),
        cmocka_unit_test(a_count_of_canes_stands_in_for_the_rows_length),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
