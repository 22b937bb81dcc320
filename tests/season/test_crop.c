/* SPDX-License-Identifier: MIT
 * What rows bear: weights by week and day, their spread, age, turns, gaps, and what is picked. */
#include "season/farms.h"

#include <caneyear/crop/yield.h>

#include "season/plan_parts.h"

#define TODAY "2026-11-25"
#define MEMBERS 60

/* A stand of 100 ft at 10 ft between rows and 1 kg on the square metre. */
#define FULL_KG (30.48 * 3.048)

static void assert_near(double actual, double expected, double within)
{
    if (!(fabs(actual - expected) <= within))
        fail_msg("%.12g is not %.12g within %g", actual, expected, within);
}

static double ripened(const struct cy_plan_crop *crop)
{
    double sum = 0;
    for (int day = 0; day < 7 * crop->weeks; day++)
        sum += crop->day_kg[day];
    return sum;
}

static void assert_spread(const struct cy_figure *figure)
{
    assert_true(figure->p10 >= 0);
    assert_true(figure->p10 <= figure->p50);
    assert_true(figure->p50 <= figure->p90);
    assert_true(figure->never >= 0 && figure->never <= 1);
}

/* ---- one life ------------------------------------------------------------------------------- */

static struct cy_life bears(cy_day first, cy_day peak, cy_day last, double share)
{
    struct cy_life life = {.summer_share = share};
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++)
        life.day[stage] = CY_DAY_NONE;
    life.day[CY_STAGE_FIRST_PICK] = first;
    life.day[CY_STAGE_PEAK_PICK] = peak;
    life.day[CY_STAGE_LAST_PICK] = last;
    return life;
}

static struct cy_plan_crop shape_of(const struct cy_life *lives, int count)
{
    static struct cy_plan_crop shape;
    double scratch[MEMBERS];
    cy_crop_shape(&shape, lives, count, false, scratch);
    return shape;
}

static void a_crops_weeks_and_days_sum_to_it(void **state)
{
    (void)state;
    static const int lengths[] = {3, 32, 60, 150}; /* days from first to last pick */
    cy_day peak = cy_day_of(2027, 7, 8);
    for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++) {
        int half = lengths[i] / 2;
        struct cy_life life = bears(peak - half, peak, peak + half, 0.8);
        struct cy_plan_crop shape = shape_of(&life, 1);
        double weeks = 0;
        for (int week = 0; week < shape.weeks; week++)
            weeks += shape.week_kg[week].p50;
        assert_int_equal(cy_day_weekday(shape.monday), 0);
        assert_near(shape.total_kg.p50, 0.8, 1e-12);
        assert_near(weeks, 0.8, 0.8 * 0.015); /* a hundredth may lie further out */
        assert_near(ripened(&shape), weeks, 1e-9);
        /* What the crop ends with, NC State, 8 May 2013: 5 % at first pick, 95 % at last. */
        double by_last = 0;
        for (cy_day day = shape.monday; day <= life.day[CY_STAGE_LAST_PICK]; day++)
            by_last += shape.day_kg[day - shape.monday];
        assert_true(by_last >= 0.8 * 0.93 && by_last < 0.8);
    }
}

static void a_lost_crop_counts_among_the_weathers(void **state)
{
    (void)state;
    struct cy_life lives[4];
    cy_day peak = cy_day_of(2027, 7, 8);
    for (int i = 0; i < 4; i++)
        lives[i] = bears(peak - 14, peak, peak + 14, 1);
    lives[2] = bears(CY_DAY_NONE, CY_DAY_NONE, CY_DAY_NONE, 0);
    lives[3] = lives[2];
    struct cy_plan_crop shape = shape_of(lives, 4);
    assert_near(shape.total_kg.never, 0.5, 1e-12);
    assert_near(shape.total_kg.p10, 0, 1e-12);
    assert_near(shape.total_kg.p90, 1, 1e-12);
    assert_near(ripened(&shape), 0.5, 0.01); /* the mean */
    for (int i = 0; i < 4; i++)
        lives[i] = lives[2];
    shape = shape_of(lives, 4);
    assert_int_equal(shape.weeks, 0);
    assert_near(shape.total_kg.never, 1, 0);
}

/* Weathers a year apart would need more weeks than there is room for. */
static void a_crop_too_long_for_its_weeks_is_cut(void **state)
{
    (void)state;
    cy_day peak = cy_day_of(2027, 7, 8);
    struct cy_life lives[2] = {bears(peak - 14, peak, peak + 14, 1),
                               bears(peak + 386, peak + 400, peak + 414, 1)};
    struct cy_plan_crop shape = shape_of(lives, 2);
    assert_int_equal(shape.weeks, CY_CROP_WEEKS);
    assert_near(ripened(&shape), 0.5, 0.01);
}

/* ---- rows ----------------------------------------------------------------------------------- */

static const struct cy_plan_crop *crop_of(const struct cy_plan *plan, const char *row, bool autumn)
{
    const struct cy_plan_row *found = row_of(plan, row);
    for (int i = 0; i < found->crop_count; i++)
        if (found->crops[i].autumn == autumn)
            return &found->crops[i];
    return NULL;
}

static double mean_kg(const struct cy_plan *plan, const char *row, bool autumn)
{
    const struct cy_plan_crop *crop = crop_of(plan, row, autumn);
    return crop ? ripened(crop) : 0;
}

static void yields_farm(struct cy_farm *farm)
{
    farm_north(farm);
    static const char *const cultivars[] = {"natchez", "marion", "gem"};
    for (int i = 0; i < 3; i++) {
        struct cy_text address = {0};
        cy_text_add(&address, "cultivar.");
        cy_text_add(&address, cultivars[i]);
        cy_text_add(&address, ".full_yield");
        put_as(farm, cy_text_get(&address), "1 kg/m2", CY_BASIS_PUBLISHED);
        cy_text_dispose(&address);
    }
}

static void without_a_yield_there_is_no_weight(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_plan_row *row = row_of(plan, "r");
    assert_int_equal(row->crop_count, 0);
    for (cy_day day = plan->first; day <= plan->last; day++)
        assert_near(cy_plan_ripe_kg(row, day), 0, 0);
    assert_near(cy_plan_week_kg(row, day_at("2027-07-05")).p90, 0, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void weights_are_ordered_and_follow_the_area(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2022-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_plan_crop *crop = crop_of(plan, "r", false);
    assert_non_null(crop);
    assert_int_equal(crop->year, 2026);
    assert_spread(&crop->total_kg);
    for (int week = 0; week < crop->weeks; week++)
        assert_spread(&crop->week_kg[week]);
    assert_near(crop->total_kg.p90, FULL_KG, 1e-6); /* in a year without frost */
    /* Frost that takes part of a crop takes it from the mean, too. */
    assert_true(ripened(crop) < FULL_KG * (1 - crop->total_kg.never) * 1.001);
    assert_true(ripened(crop) > FULL_KG * (1 - crop->total_kg.never) * 0.9);
    assert_near(crop->total_kg.never, cohort_of(plan, "r", 2026)->stage[CY_STAGE_FIRST_PICK].never,
                1e-12);
    /* The heaviest week holds the peak. */
    int best = 0;
    for (int week = 1; week < crop->weeks; week++)
        best = crop->week_kg[week].p50 > crop->week_kg[best].p50 ? week : best;
    double peak = cohort_of(plan, "r", 2026)->stage[CY_STAGE_PEAK_PICK].p50;
    assert_true(fabs(crop->monday + 7 * best + 3 - peak) <= 7);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* General extension pattern, from memory: none in the first leaf, 25 to 50 % of a full crop in the
 * second, 75 to 100 % in the third. */
static void a_stand_bears_by_its_age(void **state)
{
    (void)state;
    static const struct {
        const char *key, *planted;
        double usual, high;
    } ages[] = {{"first", "2027-03-20", 0, 0},
                {"second", "2026-03-20", 0.375, 0.5},
                {"third", "2025-03-20", 0.875, 1},
                {"sixth", "2022-03-20", 1, 1},
                {"twelfth", "2016-03-20", 0.85, 0.9}}; /* 5 % a year after 9 or 10: placeholder */
    struct cy_farm farm;
    yields_farm(&farm);
    for (size_t i = 0; i < sizeof ages / sizeof *ages; i++)
        add_row(&farm, ages[i].key, "natchez", "hedge", ages[i].planted);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    double full = mean_kg(plan, "sixth", false);
    assert_true(full > 0.5 * FULL_KG);
    for (size_t i = 0; i < sizeof ages / sizeof *ages; i++) {
        assert_near(mean_kg(plan, ages[i].key, false), full * ages[i].usual, 1e-9);
        const struct cy_plan_crop *crop = crop_of(plan, ages[i].key, false);
        assert_near(crop ? crop->total_kg.p90 : 0, FULL_KG * ages[i].high, 1e-6);
    }
    cy_plan_free(plan);
    /* Canes that come with the plants bear in the season of planting, as a second leaf does. */
    put(&farm, "row.first.stock", "long cane");
    plan = plan_of(&farm, TODAY, 0);
    assert_near(crop_of(plan, "first", false)->total_kg.p90, FULL_KG * 0.5, 1e-6);
    assert_true(crop_of(plan, "first", false)->total_kg.basis & CY_BASIS_PLACEHOLDER);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Oregon Agric. Exp. Station Bulletin 620, 1975: a fruiting year gives 170 % of a yearly crop. */
static void canes_one_year_and_fruit_the_next(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    add_row(&farm, "yearly", "marion", "trail", "2020-03-20");
    add_row(&farm, "turns", "marion", "alternate", "2020-03-20");
    put(&farm, "row.turns.fruits_in", "even years");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(row_of(plan, "turns")->crop_count, 0);
    assert_int_equal(row_of(plan, "yearly")->crop_count, 1);
    cy_plan_free(plan);
    plan = plan_of(&farm, TODAY, 2028);
    assert_near(mean_kg(plan, "turns", false), 1.70 * mean_kg(plan, "yearly", false), 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_row_may_bear_twice(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    put(&farm, "cultivar.gem.emerge_heat", "6000 K.h");
    add_row(&farm, "both", "gem", "both", "2020-03-20");
    add_row(&farm, "mown", "gem", "mown", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_plan_row *row = row_of(plan, "both");
    assert_int_equal(row->crop_count, 2);
    assert_false(row->crops[0].autumn);
    assert_true(row->crops[1].autumn);
    assert_int_equal(row->crops[0].year, 2026);
    assert_int_equal(row->crops[1].year, 2027);
    assert_int_equal(row_of(plan, "mown")->crop_count, 1);
    assert_true(row_of(plan, "mown")->crops[0].autumn);
    /* One yield is said of a cultivar, for a primocane type its autumn crop's. */
    assert_true(row->crops[0].total_kg.basis & CY_BASIS_PLACEHOLDER);
    assert_false(row->crops[1].total_kg.basis & CY_BASIS_PLACEHOLDER);
    assert_spread(&row->crops[1].total_kg);
    /* A week holds what both crops give. */
    for (cy_day monday = row->crops[0].monday - 70; monday < plan->last; monday += 7) {
        struct cy_figure sum = cy_plan_week_kg(row, monday);
        double p50 = 0;
        for (int i = 0; i < 2; i++) {
            int week = (monday - row->crops[i].monday) / 7;
            if (monday >= row->crops[i].monday && week < row->crops[i].weeks)
                p50 += row->crops[i].week_kg[week].p50;
        }
        assert_near(sum.p50, p50, 1e-12);
        assert_spread(&sum);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void gaps_bear_nothing(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    add_row(&farm, "whole", "natchez", "hedge", "2022-03-20");
    add_row(&farm, "gaps", "natchez", "hedge", "2022-03-20");
    add_row(&farm, "hedge", "natchez", "hedge", "2022-03-20");
    add_row(&farm, "bare", "natchez", "hedge", "2022-03-20");
    put(&farm, "row.gaps.spacing", "4 ft");
    put(&farm, "row.gaps.missing", "5"); /* of 25 */
    put(&farm, "row.hedge.missing", "5");
    put(&farm, "row.hedge.filled", "60 %"); /* what suckers fill counts, not the plants set */
    put(&farm, "row.bare.spacing", "4 ft");
    put(&farm, "row.bare.missing", "26"); /* a plant at each end counts among those set */
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    double whole = mean_kg(plan, "whole", false);
    assert_near(mean_kg(plan, "gaps", false), 0.8 * whole, 1e-9);
    assert_near(mean_kg(plan, "hedge", false), 0.6 * whole, 1e-9);
    assert_int_equal(row_of(plan, "bare")->crop_count, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static bool is_placeholder(const struct cy_farm *farm)
{
    struct cy_plan *plan = plan_of(farm, TODAY, 0);
    const struct cy_plan_crop *crop = crop_of(plan, "r", false);
    assert_non_null(crop);
    bool is = crop->total_kg.basis & CY_BASIS_PLACEHOLDER;
    for (int week = 0; week < crop->weeks; week++)
        assert_int_equal(crop->week_kg[week].basis, crop->total_kg.basis);
    cy_plan_free(plan);
    return is;
}

/* Each figure that is a placeholder marks the weight, and no other does. */
static void what_stands_behind_a_weight_marks_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2022-03-20");
    assert_false(is_placeholder(&farm));
    put_as(&farm, "cultivar.natchez.full_yield", "1 kg/m2", CY_BASIS_PLACEHOLDER);
    assert_true(is_placeholder(&farm));
    put(&farm, "cultivar.natchez.full_yield", "1 kg/m2");
    assert_false(is_placeholder(&farm));
    put_as(&farm, "row.r.row_spacing", "10 ft", CY_BASIS_PLACEHOLDER);
    assert_true(is_placeholder(&farm));
    put(&farm, "row.r.row_spacing", "10 ft");
    put(&farm, "row.r.missing", "3"); /* at a spacing that nobody gave */
    assert_true(is_placeholder(&farm));
    put(&farm, "row.r.spacing", "3 ft");
    assert_false(is_placeholder(&farm));
    put_as(&farm, "cultivar.natchez.bloom_to_peak", "49 d", CY_BASIS_PLACEHOLDER);
    assert_true(is_placeholder(&farm)); /* when it ripens */
    cy_farm_dispose(&farm);
    yields_farm(&farm);
    add_row(&farm, "r", "natchez", "hedge", NULL); /* of nobody knows what age */
    assert_true(is_placeholder(&farm));
    cy_farm_dispose(&farm);
}

/* ---- what is picked ---------------------------------------------------------------------------
 */

static void what_is_ripe_is_what_came_since_the_last_round(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2022-03-20");
    for (int turn = 0; turn < 3; turn++) {
        static const int days[] = {3, 5, 2};
        if (turn == 1)
            put(&farm, "practice.hedge.pick_every", "5 d");
        if (turn == 2) /* the kind of work has the last word, as for its rounds */
            put(&farm, "job.pick.every", "2 d");
        struct cy_plan *plan = plan_of(&farm, TODAY, 0);
        const struct cy_plan_row *row = row_of(plan, "r");
        const struct cy_plan_crop *crop = crop_of(plan, "r", false);
        assert_int_equal(row->pick_every_d, days[turn]);
        int middle = 7 * crop->weeks / 2;
        double sum = 0;
        for (int back = 0; back < days[turn]; back++)
            sum += crop->day_kg[middle - back];
        assert_true(sum > 0);
        assert_near(cy_plan_ripe_kg(row, crop->monday + middle), sum, 1e-12);
        assert_near(cy_plan_ripe_kg(row, crop->monday), crop->day_kg[0], 1e-12);
        assert_near(cy_plan_ripe_kg(row, crop->monday - 1), 0, 0);
        assert_near(cy_plan_ripe_kg(row, crop->monday + 7 * crop->weeks + days[turn]), 0, 0);
        /* Picked every so many days, all of the crop comes by. */
        double all = 0;
        for (cy_day day = crop->monday; day < crop->monday + 7 * crop->weeks + days[turn];
             day += days[turn])
            all += cy_plan_ripe_kg(row, day);
        assert_near(all, ripened(crop), 1e-9);
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void picked_lost_and_left_sum_to_what_ripened(void **state)
{
    (void)state;
    struct cy_farm farm;
    yields_farm(&farm);
    add_row(&farm, "r", "gem", "both", "2022-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_plan_row *row = row_of(plan, "r");
    for (int i = 0; i < row->crop_count; i++) {
        const struct cy_plan_crop *crop = &row->crops[i];
        size_t days = 7 * (size_t)crop->weeks;
        for (int every = 1; every <= 14; every += 2) {
            struct cy_harvest_rounds rounds = {.from = crop->monday + 5,
                                               .to = crop->monday + (cy_day)days - 9,
                                               .every = every,
                                               .keeps = 5,
                                               .overlooked = 0.1,
                                               .most_kg = every == 1 ? 2 : INFINITY};
            struct cy_harvest harvest;
            assert_int_equal(cy_harvest_run(&harvest, crop->day_kg, crop->monday, days, &rounds),
                             CY_OK);
            const struct cy_harvest_day *total = &harvest.total;
            assert_near(total->ripened_kg, ripened(crop), 1e-9);
            assert_near(total->picked_kg + total->lost_kg + total->left_kg, ripened(crop), 1e-9);
            assert_true(total->picked_kg > 0);
            cy_harvest_dispose(&harvest);
        }
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_crops_weeks_and_days_sum_to_it),
        cmocka_unit_test(a_lost_crop_counts_among_the_weathers),
        cmocka_unit_test(a_crop_too_long_for_its_weeks_is_cut),
        cmocka_unit_test(without_a_yield_there_is_no_weight),
        cmocka_unit_test(weights_are_ordered_and_follow_the_area),
        cmocka_unit_test(a_stand_bears_by_its_age),
        cmocka_unit_test(canes_one_year_and_fruit_the_next),
        cmocka_unit_test(a_row_may_bear_twice),
        cmocka_unit_test(gaps_bear_nothing),
        cmocka_unit_test(what_stands_behind_a_weight_marks_it),
        cmocka_unit_test(what_is_ripe_is_what_came_since_the_last_round),
        cmocka_unit_test(picked_lost_and_left_sum_to_what_ripened),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
