/* SPDX-License-Identifier: MIT
 * The whole farm's supply: sums over rows, gaps, and what is lost where picking waits. */
#include "season/farms.h"

#include <stdlib.h>

#include <caneyear/crop/yield.h>
#include <caneyear/season/supply.h>

#define MONDAY "2027-06-07"

/* ---- a plan by hand -------------------------------------------------------------------------- */

/* A row with one crop of so many kilograms a day, the range a tenth and twice that, from the
 * Monday so many weeks after the first. */
static void bear(struct cy_plan_row *row, struct cy_plan_crop *crop, const char *key, int after,
                 int weeks, double kg_a_day)
{
    *crop =
        (struct cy_plan_crop){.year = 2026, .monday = day_at(MONDAY) + 7 * after, .weeks = weeks};
    for (int week = 0; week < weeks; week++)
        crop->week_kg[week] = (struct cy_figure){.p10 = 0.7 * kg_a_day,
                                                 .p50 = 7 * kg_a_day,
                                                 .p90 = 14 * kg_a_day,
                                                 .basis = CY_BASIS_MEMORY};
    for (int day = 0; day < 7 * weeks; day++)
        crop->day_kg[day] = kg_a_day;
    crop->total_kg = (struct cy_figure){.p10 = 0.7 * kg_a_day * weeks,
                                        .p50 = 7 * kg_a_day * weeks,
                                        .p90 = 14 * kg_a_day * weeks,
                                        .basis = CY_BASIS_MEMORY};
    *row = (struct cy_plan_row){.key = key, .name = key, .crops = crop, .crop_count = 1};
    row->pick_every_d = 3;
    row->cohort_count = 1;
    row->cohorts[0] = (struct cy_plan_cohort){.year = 2026, .role = CY_ROLE_FLORICANES};
    double first = crop->monday, last = crop->monday + 7 * weeks - 1;
    row->cohorts[0].stage[CY_STAGE_FIRST_PICK] =
        (struct cy_figure){first - 2, first, first + 2, 0, 0};
    row->cohorts[0].stage[CY_STAGE_LAST_PICK] = (struct cy_figure){last - 2, last, last + 2, 0, 0};
}

static void weeks_with_little_or_nothing_to_sell_are_named(void **state)
{
    (void)state;
    struct cy_plan_row rows[3];
    struct cy_plan_crop crops[3];
    struct cy_supply supply;
    bear(&rows[0], &crops[0], "early", 0, 3, 10);
    bear(&rows[1], &crops[1], "thin", 3, 2, 1);
    bear(&rows[2], &crops[2], "late", 7, 2, 10);
    struct cy_plan plan = {.rows = rows, .row_count = 3};
    assert_int_equal(cy_supply_of(&supply, &plan), CY_OK);
    assert_int_equal(supply.monday, day_at(MONDAY));
    assert_int_equal(supply.week_count, 9);
    /* 70 kg in each of five weeks and 7 kg in each of two, over nine weeks of selling. */
    assert_true(fabs(supply.mean_week_kg - (5 * 70 + 2 * 7) / 9.0) < 1e-9);
    static const enum cy_supply_gap gaps[9] = {
        CY_SUPPLY_ENOUGH,     CY_SUPPLY_ENOUGH,  CY_SUPPLY_ENOUGH,
        CY_SUPPLY_IS_THIN,    CY_SUPPLY_IS_THIN, CY_SUPPLY_IS_NOTHING,
        CY_SUPPLY_IS_NOTHING, CY_SUPPLY_ENOUGH,  CY_SUPPLY_ENOUGH};
    for (int i = 0; i < 9; i++) {
        assert_int_equal(supply.weeks[i].monday, day_at(MONDAY) + 7 * i);
        assert_true(supply.weeks[i].selling);
        assert_int_equal(supply.weeks[i].gap, gaps[i]);
    }
    assert_int_equal(supply.thin_weeks, 2);
    assert_int_equal(supply.empty_weeks, 2);
    assert_true(supply.first.p50 == day_at(MONDAY) && supply.first.p10 == day_at(MONDAY) - 2);
    assert_true(supply.last.p50 == day_at(MONDAY) + 62);
    cy_supply_dispose(&supply);
}

static void rows_add_up_by_day_and_week(void **state)
{
    (void)state;
    struct cy_plan_row rows[2];
    struct cy_plan_crop crops[2];
    struct cy_supply supply;
    bear(&rows[0], &crops[0], "a", 0, 2, 4);
    bear(&rows[1], &crops[1], "b", 1, 3, 6);
    crops[1].day_kg[9] += 1; /* most ripens on that day */
    struct cy_plan plan = {.rows = rows, .row_count = 2};
    assert_int_equal(cy_supply_of(&supply, &plan), CY_OK);
    assert_int_equal(supply.week_count, 4);
    static const double kg[4] = {28, 70, 42, 42};
    for (int i = 0; i < 4; i++) {
        assert_true(fabs(supply.weeks[i].kg.p50 - kg[i]) < 1e-9);
        assert_true(fabs(supply.weeks[i].kg.p10 - kg[i] / 10) < 1e-9);
        assert_true(fabs(supply.weeks[i].kg.p90 - kg[i] * 2) < 1e-9);
        double low = 0, middle = 0, high = 0;
        for (int day = 7 * i; day < 7 * i + 7; day++) {
            low += supply.days[day].ripens_kg.p10;
            middle += supply.days[day].ripens_kg.p50;
            high += supply.days[day].ripens_kg.p90;
        }
        assert_true(fabs(low - kg[i] / 10) < 1e-9); /* a week's days are the week */
        assert_true(fabs(middle - kg[i]) < 1e-9 && fabs(high - 2 * kg[i]) < 1e-9);
    }
    assert_true(fabs(supply.total_kg.p50 - 182) < 1e-9);
    assert_int_equal(supply.peak, day_at(MONDAY) + 7); /* where both ripen: 4 + 6 kg */
    assert_int_equal(supply.row_count, 2);
    assert_int_equal(supply.total_kg.basis, CY_BASIS_MEMORY);
    cy_supply_dispose(&supply);
}

static void what_is_ripe_has_gathered_since_the_last_round(void **state)
{
    (void)state;
    struct cy_plan_row row;
    struct cy_plan_crop crop;
    struct cy_supply supply;
    bear(&row, &crop, "a", 0, 4, 2);
    struct cy_plan plan = {.rows = &row, .row_count = 1};
    assert_int_equal(cy_supply_of(&supply, &plan), CY_OK);
    cy_day monday = day_at(MONDAY); /* of the first round; then every third day */
    assert_true(cy_supply_ripe_on(&supply, monday) == 2);
    assert_true(cy_supply_ripe_on(&supply, monday + 1) == 2);
    assert_true(cy_supply_ripe_on(&supply, monday + 2) == 4);
    assert_true(cy_supply_ripe_on(&supply, monday + 3) == 6);
    assert_true(supply.days[3].picked_kg == 6 && supply.days[4].picked_kg == 0);
    assert_true(cy_supply_ripe_on(&supply, monday + 4) == 2);
    assert_true(cy_supply_ripe_on(&supply, monday - 1) == 0);
    assert_true(cy_supply_ripe_on(&supply, monday + 28) == 0);
    cy_supply_dispose(&supply);
}

/* ---- waiting too long ------------------------------------------------------------------------ */

static void what_waits_longer_than_it_keeps_is_lost(void **state)
{
    (void)state;
    struct cy_plan_row row;
    struct cy_plan_crop crop;
    bear(&row, &crop, "a", 0, 10, 1); /* 70 kg on 70 days, picked from the first day on */
    /* A berry keeps for five days, so with n from round to round n - 6 days of each n are lost:
     * those that ripen right after a round. */
    const struct cy_supply_keeping keeping = {.keeps_d = 5, .hot_ages_d = 2, .wet_ages_d = 2};
    static const struct {
        int every;
        double lost;
    } cases[] = {{1, 0}, {3, 0}, {6, 0}, {7, 10}, {10, 28}, {14, 40}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_supply_picking picking;
        assert_int_equal(cy_supply_picking_of(&picking, &row, &keeping, cases[i].every), CY_OK);
        assert_true(fabs(picking.lost_kg - cases[i].lost) < 1e-9);
        assert_true(fabs(picking.ripened_kg - 70) < 1e-9);
        assert_true(fabs(picking.picked_kg + picking.lost_kg - 70) < 1e-9);
    }
    struct cy_supply_picking picking;
    assert_int_equal(cy_supply_picking_of(&picking, &row, &keeping, 0), CY_INVALID);

    struct cy_supply supply;
    row.pick_every_d = 7;
    struct cy_plan plan = {.rows = &row, .row_count = 1};
    assert_int_equal(cy_supply_of(&supply, &plan), CY_OK);
    assert_true(fabs(supply.rows[0].picking.lost_kg - 10) < 1e-9);
    assert_int_equal(supply.rows[0].longest_d, 6);
    for (int every = 2; every <= CY_SUPPLY_LONGEST; every++)
        assert_true(supply.rows[0].lost_kg[every] >= supply.rows[0].lost_kg[every - 1]);
    assert_true(supply.rows[0].basis & CY_BASIS_PLACEHOLDER); /* what fruit keeps */
    cy_supply_dispose(&supply);
}

/* On days that are hot in half of the weathers and wet in a quarter, each ages fruit by 1 + 1/2 +
 * 1/4: what keeps for five ordinary days keeps for two, so that rounds of three days lose nothing
 * and of four days a berry in four. */
static void heat_and_rain_age_what_hangs(void **state)
{
    (void)state;
    struct cy_plan_row row;
    struct cy_plan_crop crop;
    double hot[200], wet[200], none[200] = {0};
    for (int i = 0; i < 200; i++) {
        hot[i] = 0.5;
        wet[i] = 0.25;
    }
    bear(&row, &crop, "a", 0, 10, 1);
    struct cy_supply_keeping keeping = {.keeps_d = 5,
                                        .hot_ages_d = 2,
                                        .wet_ages_d = 2,
                                        .hot = hot,
                                        .wet = wet,
                                        .first = crop.monday - 50,
                                        .days = 200};
    struct cy_supply_picking picking;
    assert_int_equal(cy_supply_picking_of(&picking, &row, &keeping, 3), CY_OK);
    assert_true(fabs(picking.lost_kg) < 1e-9);
    assert_int_equal(cy_supply_picking_of(&picking, &row, &keeping, 4), CY_OK);
    assert_true(fabs(picking.lost_kg - 17) < 1.01);
    double both = picking.lost_kg;
    keeping.wet = none;
    assert_int_equal(cy_supply_picking_of(&picking, &row, &keeping, 4), CY_OK);
    assert_true(picking.lost_kg < both); /* 1.5 a day: three days still keep */
    assert_true(fabs(picking.lost_kg) < 1e-9);
}

/* ---- plans ----------------------------------------------------------------------------------- */

static void add_yields(struct cy_farm *farm)
{
    put(farm, "cultivar.natchez.full_yield", "12500 lb/acre");
    put(farm, "cultivar.gem.full_yield", "3500 kg/ha");
}

static void a_summer_and_an_autumn_crop_leave_a_gap_between(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_supply supply;
    farm_north(&farm);
    add_yields(&farm);
    put(&farm, "cultivar.gem.autumn_bloom_heat", "40000 K.h");
    put(&farm, "cultivar.gem.autumn_pick_length", "20 d");
    put(&farm, "cultivar.natchez.pick_length", "14 d");
    add_row(&farm, "summer", "natchez", "hedge", "2019-03-20");
    add_row(&farm, "autumn", "gem", "mown", "2019-03-20");
    add_row(&farm, "nobody", "marion", "trail", "2019-03-20");
    struct cy_plan *plan = plan_of(&farm, "2026-11-25", 0);
    assert_int_equal(cy_supply_of(&supply, plan), CY_OK);
    assert_int_equal(supply.row_count, 2);
    assert_int_equal(supply.unknown_rows, 1); /* no yield of Marion's is known here */
    assert_true(supply.empty_weeks >= 2);
    double first = cohort_of(plan, "summer", 2026)->stage[CY_STAGE_FIRST_PICK].p50;
    double last = cohort_of(plan, "autumn", 2027)->stage[CY_STAGE_AUTUMN_LAST_PICK].p50;
    assert_true(supply.first.p50 == first && supply.last.p50 == last);
    double mean = 0, rows = 0;
    for (size_t i = 0; i < supply.week_count; i++) {
        struct cy_figure sum = {0};
        for (size_t k = 0; k < plan->row_count; k++) {
            struct cy_figure kg = cy_plan_week_kg(&plan->rows[k], supply.weeks[i].monday);
            sum.p10 += kg.p10;
            sum.p50 += kg.p50;
            sum.p90 += kg.p90;
        }
        assert_true(fabs(supply.weeks[i].kg.p50 - sum.p50) < 1e-9);
        assert_true(sum.p10 <= sum.p50 && sum.p50 <= sum.p90);
        assert_true(supply.weeks[i].gap == CY_SUPPLY_ENOUGH || supply.weeks[i].selling);
    }
    for (size_t i = 0; i < 7 * supply.week_count; i++)
        mean += supply.days[i].mean_kg;
    for (size_t i = 0; i < supply.row_count; i++)
        rows += supply.rows[i].picking.ripened_kg;
    assert_true(fabs(mean - rows) < 1e-6 * mean);
    cy_supply_dispose(&supply);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_farm_that_bears_nothing_has_an_empty_supply(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_supply supply;
    farm_north(&farm);
    add_yields(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2028-03-20"); /* not planted yet */
    struct cy_plan *plan = plan_of(&farm, "2026-11-25", 0);
    assert_int_equal(cy_supply_of(&supply, plan), CY_OK);
    assert_int_equal(supply.week_count, 0);
    assert_int_equal(supply.row_count, 0);
    assert_int_equal(supply.unknown_rows, 0);
    assert_int_equal(supply.peak, CY_DAY_NONE);
    assert_true(isnan(supply.first.p50) && supply.mean_week_kg == 0);
    assert_true(cy_supply_ripe_on(&supply, day_at("2027-06-20")) == 0);
    cy_supply_dispose(&supply);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void the_south_sells_from_december_on(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_supply supply;
    farm_at(&farm, "-35.43", 0);
    add_yields(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2019-09-20");
    struct cy_plan *plan = plan_of(&farm, "2026-05-25", 0);
    assert_int_equal(cy_supply_of(&supply, plan), CY_OK);
    int month = cy_day_date(supply.peak).month;
    assert_true(month == 12 || month == 1);
    assert_true(supply.total_kg.p50 > 0);
    cy_supply_dispose(&supply);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(weeks_with_little_or_nothing_to_sell_are_named),
        cmocka_unit_test(rows_add_up_by_day_and_week),
        cmocka_unit_test(what_is_ripe_has_gathered_since_the_last_round),
        cmocka_unit_test(what_waits_longer_than_it_keeps_is_lost),
        cmocka_unit_test(heat_and_rain_age_what_hangs),
        cmocka_unit_test(a_summer_and_an_autumn_crop_leave_a_gap_between),
        cmocka_unit_test(a_farm_that_bears_nothing_has_an_empty_supply),
        cmocka_unit_test(the_south_sells_from_december_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
