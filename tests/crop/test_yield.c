/* SPDX-License-Identifier: MIT
 * Weights of the crop against published yields, the shape of ripening, and a harvest that neither
 * loses nor makes a berry. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/random.h>
#include <caneyear/crop/yield.h>

static const double pound_kg = 0.45359237, foot_m = 0.3048, acre_m2 = 43560 * 0.3048 * 0.3048;

static void check_near(double actual, double expected, double within, int line)
{
    if (fabs(actual - expected) <= within)
        return;
    print_error("%s:%d: %.12g is not %.12g within %g\n", __FILE__, line, actual, expected, within);
    _fail(__FILE__, line);
}
#define assert_near(actual, expected, within) check_near(actual, expected, within, __LINE__)

/* ---- what a row can bear -------------------------------------------------------------------- */

/* NC State, 1 August 2012, Von at Salisbury: 12,017 and 10,704 g a plant print as 24,063 and
 * 21,434 lb an acre. At 4 ft by 12 ft (inferred) they are 24,042 and 21,415: within 0.1 %. */
static void grams_a_plant_are_pounds_an_acre(void **state)
{
    (void)state;
    static const double cases[][3] = {{12.017, 24042, 24063}, {10.704, 21415, 21434}};
    for (int i = 0; i < 2; i++) {
        const double area = cy_yield_area_kg_m2(cases[i][0], 4 * foot_m, 12 * foot_m);
        const double pounds = area * acre_m2 / pound_kg;
        assert_near(pounds, cases[i][1], 1);
        assert_near(pounds, cases[i][2], 1e-3 * cases[i][2]);
    }
}

/* Ciencia Rural 46(10), 2016: 3.0 by 0.5 m is 6,666 plants a hectare (6,666.7). An acre has
 * 43,560 square feet: 907.5 plants at 4 by 12 ft, 1,452 at 3 by 10. */
static void plants_of_a_field(void **state)
{
    (void)state;
    assert_near(cy_yield_plants(10000 / 3.0, 0.5), 6666.7, 0.05);
    assert_near(cy_yield_plants(43560.0 / 12 * foot_m, 4 * foot_m), 907.5, 1e-9);
    assert_near(cy_yield_plants(43560.0 / 10 * foot_m, 3 * foot_m), 1452, 1e-9);
    /* a plant of 1/6,666.7 of a hectare's crop */
    assert_near(cy_yield_area_kg_m2(1.5, 0.5, 3.0), 1, 1e-12);
}

/* An acre has 4,356 ft of row 10 ft apart; 12,500 lb an acre (HortTechnology 16(1):109-117, 2006,
 * full production) are 2.870 lb a foot. By hand. */
static void pounds_an_acre_along_the_row(void **state)
{
    (void)state;
    const double kg_m = cy_yield_row_kg_m(12500 * pound_kg / acre_m2, 10 * foot_m);
    assert_near(kg_m * foot_m / pound_kg, 12500.0 / 4356, 1e-9);
    assert_near(kg_m, 4.2704, 6e-5);
}

/* General extension pattern, from memory; the decline is a placeholder. */
static void a_stand_comes_of_age(void **state)
{
    (void)state;
    static const double usual[] = {0, 0, 0.375, 0.875, 1, 1, 1, 1, 1, 1, 0.95, 0.90};
    for (int leaf = 0; leaf < 12; leaf++) {
        const struct cy_yield_age age = cy_yield_at_age(leaf);
        assert_near(age.usual, usual[leaf], 1e-12);
        assert_true(age.low <= age.usual && age.usual <= age.high);
    }
    assert_near(cy_yield_at_age(2).low, 0.25, 0);
    assert_near(cy_yield_at_age(2).high, 0.5, 0);
    assert_near(cy_yield_at_age(9).low, 0.95, 1e-12);
    assert_near(cy_yield_at_age(10).high, 1, 0);
    assert_near(cy_yield_at_age(-3).high, 0, 0);
    assert_near(cy_yield_at_age(60).high, 0, 0);
    assert_int_equal(cy_yield_at_age(4).basis, CY_BASIS_MEMORY);
    assert_int_equal(cy_yield_at_age(9).basis, CY_BASIS_MEMORY | CY_BASIS_PLACEHOLDER);
}

/* Years of a stand that were weighed fall within the pattern. HortTechnology 16(1), 2006: 10,000
 * lb an acre the year before the full 12,500. J. Amer. Pomol. Soc. 72(3):202-209, 2018, Table 3,
 * field: 0.02, 2.41, 7.96 kg a plant of Triple Crown, 0.06, 1.59, 2.78 of Chester; the first of
 * these years is taken for the first leaf (the age is not said). */
static void weighed_years_fall_within_the_pattern(void **state)
{
    (void)state;
    static const double field[2][3] = {{0.02, 2.41, 7.96}, {0.06, 1.59, 2.78}};
    const struct cy_yield_age second = cy_yield_at_age(2), third = cy_yield_at_age(3);
    const double before_full = 10000.0 / 12500;
    assert_true(before_full >= third.low && before_full <= third.high);
    for (int i = 0; i < 2; i++) {
        const double share = field[i][1] / field[i][2];
        assert_true(share >= second.low / third.high && share <= second.high / third.low);
        assert_true(field[i][0] / field[i][2] < 0.03); /* next to nothing */
    }
}

/* The same table's rows add up: 19.96, 9.46, 10.39, 4.43 kg a plant (printed 4.42); and so they do
 * as weights of a row of 20 plants. */
static void years_of_a_row_add_up(void **state)
{
    (void)state;
    static const double plant[4][3] = {
        {0.35, 9.45, 10.16}, {0.82, 4.91, 3.73}, {0.02, 2.41, 7.96}, {0.06, 1.59, 2.78}};
    static const double sums[4] = {19.96, 9.46, 10.39, 4.42};
    for (int i = 0; i < 4; i++) {
        double row_kg = 0;
        for (int year = 0; year < 3; year++)
            row_kg +=
                cy_yield_row_kg_m(cy_yield_area_kg_m2(plant[i][year], 0.9, 3), 3) * (20 * 0.9);
        assert_near(row_kg / cy_yield_plants(20 * 0.9, 0.9), sums[i], 0.0101);
    }
}

/* Oregon Station Bulletin 620, 1975: 170 % in the year of fruit, 85 % a year over both. */
static void taking_turns(void **state)
{
    (void)state;
    assert_near(cy_yield_in_turn(true, true), 1.70, 0);
    assert_near((cy_yield_in_turn(true, true) + cy_yield_in_turn(true, false)) / 2, 0.85, 1e-12);
    assert_near(cy_yield_in_turn(false, false), 1, 0);
}

static void gaps_bear_nothing(void **state)
{
    (void)state;
    assert_near(cy_yield_present(NAN, 0, 30), 1, 0);
    assert_near(cy_yield_present(NAN, 3, 30), 0.9, 1e-12);
    assert_near(cy_yield_present(NAN, 40, 30), 0, 0);
    assert_near(cy_yield_present(0.6, 3, 30), 0.6, 0); /* suckers have closed some gaps */
}

static void a_row_by_hand(void **state)
{
    (void)state;
    struct cy_yield_stand stand = {.full_kg_m2 = 1.4,
                                   .full_basis = CY_BASIS_PUBLISHED,
                                   .row_m = 50,
                                   .row_spacing_m = 3,
                                   .leaf = 3,
                                   .present = 0.9};
    struct cy_yield yield = cy_yield_of_row(&stand);
    assert_near(yield.low_kg, 189 * 0.75, 1e-9);
    assert_near(yield.usual_kg, 189 * 0.875, 1e-9);
    assert_near(yield.high_kg, 189, 1e-9);
    assert_int_equal(yield.basis, CY_BASIS_PUBLISHED | CY_BASIS_MEMORY);
    stand.alternate = true;
    assert_near(cy_yield_of_row(&stand).high_kg, 0, 0);
    stand.fruits = true;
    assert_near(cy_yield_of_row(&stand).high_kg, 189 * 1.7, 1e-9);
    stand.full_basis = CY_BASIS_GROWER;
    assert_int_equal(cy_yield_of_row(&stand).basis,
                     CY_BASIS_GROWER | CY_BASIS_MEMORY | CY_BASIS_PUBLISHED);
}

/* ---- when it ripens ------------------------------------------------------------------------- */

/* NC State, 1 August 2012, Von: from the third week of June by the second of July to the first of
 * August, about 3.5 weeks to either side (middles of the weeks: derived). */
static struct cy_ripening von(void)
{
    return (struct cy_ripening){cy_day_of(2012, 6, 18), cy_day_of(2012, 7, 12),
                                cy_day_of(2012, 8, 5)};
}

/* NC State caneberry post, 8 May 2013: first, peak and last are 5, 50 and 95 % of the weight.
 * A day is half over at its date. */
static void first_peak_and_last(void **state)
{
    (void)state;
    const struct cy_ripening ripening = von();
    static const double shares[3] = {0.05, 0.5, 0.95};
    const double days[3] = {ripening.first, ripening.peak, ripening.last};
    for (int i = 0; i < 3; i++) {
        const cy_day day = (cy_day)days[i];
        const double before = cy_ripening_by(&ripening, day - 1),
                     after = cy_ripening_by(&ripening, day);
        assert_true(before < shares[i] && shares[i] < after);
        assert_near((before + after) / 2, shares[i], 5e-4);
    }
    /* 3 kg of 60 before the first day and after the last */
    assert_near(cy_ripening_kg(&ripening, 60, 0, (cy_day)ripening.first - 1) +
                    cy_ripening_kg(&ripening, 60, (cy_day)ripening.first, (cy_day)ripening.first) /
                        2,
                3, 0.03);
}

static void weeks_are_their_days_and_even_about_the_peak(void **state)
{
    (void)state;
    const struct cy_ripening ripening = von();
    const cy_day peak = (cy_day)ripening.peak;
    double total = 0, best = 0;
    cy_day best_week = 0;
    for (cy_day monday = peak - 73; monday < peak + 67; monday += 7) {
        const double week = cy_ripening_kg(&ripening, 100, monday, monday + 6);
        double days = 0;
        for (cy_day day = monday; day < monday + 7; day++)
            days += cy_ripening_kg(&ripening, 100, day, day);
        assert_near(week, days, 1e-9);
        assert_near(week, cy_ripening_kg(&ripening, 100, 2 * peak - monday - 6, 2 * peak - monday),
                    1e-9);
        if (week > best) {
            best = week;
            best_week = monday;
        }
        total += week;
    }
    assert_near(total, 100, 1e-3);
    assert_int_equal(best_week, peak - 3);
}

/* An early peak leaves a long tail; a crop that is ripe on one day is ripe on that day. */
static void lopsided_and_sudden_crops(void **state)
{
    (void)state;
    const struct cy_ripening lopsided = {100, 108, 140}, sudden = {100, 100, 100},
                             never = {NAN, NAN, NAN};
    assert_near((cy_ripening_by(&lopsided, 99) + cy_ripening_by(&lopsided, 100)) / 2, 0.05, 2e-3);
    assert_near((cy_ripening_by(&lopsided, 107) + cy_ripening_by(&lopsided, 108)) / 2, 0.5, 0.02);
    assert_near((cy_ripening_by(&lopsided, 139) + cy_ripening_by(&lopsided, 140)) / 2, 0.95, 1e-3);
    assert_near(cy_ripening_kg(&sudden, 7, 100, 100), 7, 0);
    assert_near(cy_ripening_kg(&sudden, 7, 0, 99), 0, 0);
    assert_near(cy_ripening_kg(&never, 7, 0, 1000), 0, 0);
    for (cy_day day = 0; day < 300; day++)
        assert_true(cy_ripening_kg(&lopsided, 1, day, day) >= 0);
}

static void crops_are_laid_together(void **state)
{
    (void)state;
    const struct cy_ripening summer = {20, 30, 40}, autumn = {80, 90, 100};
    double kg[120] = {0}, sum = 0;
    cy_ripening_add(kg, 5, 120, &summer, 50);
    cy_ripening_add(kg, 5, 120, &autumn, 30);
    for (int i = 0; i < 120; i++) {
        assert_near(kg[i],
                    cy_ripening_kg(&summer, 50, 5 + i, 5 + i) +
                        cy_ripening_kg(&autumn, 30, 5 + i, 5 + i),
                    1e-12);
        sum += kg[i];
    }
    assert_near(sum, 80, 1e-2);
}

/* ---- what is picked of it ------------------------------------------------------------------- */

enum { DAYS = 90 };

static struct cy_harvest harvested(const double *kg, size_t days, cy_day first,
                                   const struct cy_harvest_rounds *rounds)
{
    struct cy_harvest harvest;
    assert_int_equal(cy_harvest_run(&harvest, kg, first, days, rounds), CY_OK);
    return harvest;
}

static void four_days_by_hand(void **state)
{
    (void)state;
    static const double kg[5] = {4, 2, 6, 0, 1};
    static const struct cy_harvest_rounds rounds = {12, 14, 2, 1, 0, INFINITY, NULL};
    struct cy_harvest harvest = harvested(kg, 5, 10, &rounds);
    /* picked on the 12th and 14th; the first day's 4 are a day too old by then */
    static const struct cy_harvest_day expected[5] = {
        {4, 4, 0, 0, 4}, {2, 6, 0, 0, 6}, {6, 8, 8, 4, 0}, {0, 0, 0, 0, 0}, {1, 1, 1, 0, 0}};
    for (int i = 0; i < 5; i++) {
        const struct cy_harvest_day day = cy_harvest_on(&harvest, 10 + i);
        assert_near(day.ripened_kg, expected[i].ripened_kg, 0);
        assert_near(day.ripe_kg, expected[i].ripe_kg, 0);
        assert_near(day.picked_kg, expected[i].picked_kg, 0);
        assert_near(day.lost_kg, expected[i].lost_kg, 0);
        assert_near(day.left_kg, expected[i].left_kg, 0);
    }
    assert_near(harvest.total.ripe_kg, 8, 0);
    assert_near(cy_harvest_on(&harvest, 9).ripe_kg, 0, 0);
    assert_near(cy_harvest_on(&harvest, 15).ripe_kg, 0, 0);
    cy_harvest_dispose(&harvest);
}

/* Ten kilograms a round: the oldest first, the rest hangs until it is too old. */
static void few_hands_take_the_ripest(void **state)
{
    (void)state;
    static const double kg[4] = {8, 8, 8, 0};
    static const struct cy_harvest_rounds rounds = {0, 9, 1, 1, 0, 5, NULL};
    struct cy_harvest harvest = harvested(kg, 4, 0, &rounds);
    assert_near(harvest.days[0].left_kg, 3, 0);
    assert_near(harvest.days[1].picked_kg, 5, 0); /* 3 of the first day, 2 of the second */
    assert_near(harvest.days[2].picked_kg, 5, 0);
    assert_near(harvest.days[2].left_kg, 9, 0); /* 1 of the second day, 8 of the third */
    assert_near(harvest.days[3].lost_kg, 1, 0);
    assert_near(harvest.days[3].left_kg, 3, 0);
    cy_harvest_dispose(&harvest);
}

/* What is overlooked may be found at the next round. */
static void overlooked_fruit(void **state)
{
    (void)state;
    static const double kg[6] = {10, 0, 0, 0, 0, 0};
    static const struct cy_harvest_rounds rounds = {0, 99, 2, 3, 0.2, INFINITY, NULL};
    struct cy_harvest harvest = harvested(kg, 6, 0, &rounds);
    assert_near(harvest.days[0].picked_kg, 8, 1e-12);
    assert_near(harvest.days[2].picked_kg, 1.6, 1e-12);
    assert_near(harvest.days[4].lost_kg, 0.4, 1e-12);
    assert_near(harvest.total.left_kg, 0, 1e-12);
    cy_harvest_dispose(&harvest);
}

static void draw_crop(double kg[DAYS], struct cy_random *random)
{
    const double peak = 20 + 50 * cy_random_uniform(random);
    const struct cy_ripening ripening = {peak - 5 - 15 * cy_random_uniform(random), peak,
                                         peak + 5 + 15 * cy_random_uniform(random)};
    for (int i = 0; i < DAYS; i++)
        kg[i] = 0;
    cy_ripening_add(kg, 0, DAYS, &ripening, 500 * cy_random_uniform(random));
}

/* Picked, lost and left are what ripened, at the end and on every day before it. */
static void no_berry_is_lost_or_made(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 31, 0);
    for (int run = 0; run < 300; run++) {
        double kg[DAYS], ripened = 0, gone = 0;
        draw_crop(kg, &random);
        const cy_day from = (cy_day)(40 * cy_random_uniform(&random));
        const struct cy_harvest_rounds rounds = {from,
                                                 from + (cy_day)(50 * cy_random_uniform(&random)),
                                                 1 + (int)(8 * cy_random_uniform(&random)),
                                                 (int)(8 * cy_random_uniform(&random)),
                                                 run % 3 ? 0.3 * cy_random_uniform(&random) : 0,
                                                 run % 2 ? INFINITY
                                                         : 60 * cy_random_uniform(&random),
                                                 NULL};
        struct cy_harvest harvest = harvested(kg, DAYS, 0, &rounds);
        for (int i = 0; i < DAYS; i++) {
            const struct cy_harvest_day *day = &harvest.days[i];
            ripened += kg[i];
            gone += day->picked_kg + day->lost_kg;
            assert_near(gone + day->left_kg, ripened, 1e-9);
            assert_near(day->ripe_kg - day->picked_kg, day->left_kg, 1e-9);
            assert_true(day->picked_kg <= rounds.most_kg + 1e-9);
            assert_true(day->picked_kg >= 0 && day->lost_kg >= 0 && day->left_kg >= -1e-12);
        }
        assert_near(harvest.total.ripened_kg, ripened, 1e-9);
        assert_near(harvest.total.picked_kg + harvest.total.lost_kg + harvest.total.left_kg,
                    ripened, 1e-9);
        cy_harvest_dispose(&harvest);
    }
}

/* With hands enough and sharp eyes a berry is picked if a round falls on a day on which it can be:
 * asked of each day's berries on their own. */
static void berries_followed_one_day_at_a_time(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 32, 0);
    for (int run = 0; run < 100; run++) {
        double kg[DAYS], expected = 0;
        draw_crop(kg, &random);
        const struct cy_harvest_rounds rounds = {(cy_day)(30 * cy_random_uniform(&random)),
                                                 40 + (cy_day)(60 * cy_random_uniform(&random)),
                                                 1 + run % 9,
                                                 run / 9 % 7,
                                                 0,
                                                 INFINITY,
                                                 NULL};
        for (cy_day ripe = 0; ripe < DAYS; ripe++) {
            bool met = false;
            for (cy_day round = rounds.from; round <= rounds.to && round < DAYS;
                 round += rounds.every)
                met |= round >= ripe && round <= ripe + rounds.keeps;
            expected += met ? kg[ripe] : 0;
        }
        struct cy_harvest harvest = harvested(kg, DAYS, 0, &rounds);
        assert_near(harvest.total.picked_kg, expected, 1e-9);
        cy_harvest_dispose(&harvest);
    }
}

/* Rounds no further apart than fruit keeps lose nothing; wider ones do. Every 4 to 7 days in home
 * gardens (OSU EC 1303). */
static void rounds_as_often_as_fruit_keeps_lose_nothing(void **state)
{
    (void)state;
    const struct cy_ripening ripening = von();
    double kg[DAYS] = {0};
    const cy_day first = (cy_day)ripening.first - 21;
    cy_ripening_add(kg, first, DAYS, &ripening, 100);
    double lost_before = 0;
    for (int every = 1; every <= 12; every++) {
        const struct cy_harvest_rounds rounds = {first, first + DAYS, every, 5,
                                                 0,     INFINITY,     NULL};
        struct cy_harvest harvest = harvested(kg, DAYS, first, &rounds);
        if (every <= 5 + 1)
            assert_near(harvest.total.lost_kg, 0, 0);
        else
            assert_true(harvest.total.lost_kg > lost_before);
        lost_before = harvest.total.lost_kg;
        cy_harvest_dispose(&harvest);
    }
}

static void a_farm_is_its_rows(void **state)
{
    (void)state;
    static const double kg[2][3] = {{1, 2, 3}, {10, 20, 30}};
    static const struct cy_harvest_rounds never = {0, -1, 1, 9, 0, INFINITY, NULL};
    struct cy_harvest rows[2] = {harvested(kg[0], 3, 100, &never),
                                 harvested(kg[1], 3, 101, &never)};
    assert_near(cy_harvest_ripe_on(rows, 2, 100), 1, 0);
    assert_near(cy_harvest_ripe_on(rows, 2, 102), 6 + 30, 0);
    assert_near(cy_harvest_ripe_on(rows, 2, 103), 60, 0);
    assert_near(cy_harvest_ripe_on(rows, 0, 102), 0, 0);
    cy_harvest_dispose(&rows[0]);
    cy_harvest_dispose(&rows[1]);
}

static void wrong_rules_are_refused(void **state)
{
    (void)state;
    static const double good[2] = {1, 1}, negative[2] = {1, -1}, unknown[2] = {NAN, 1};
    const struct cy_harvest_rounds rounds = {0, 9, 2, 3, 0.1, INFINITY, NULL};
    struct cy_harvest_rounds wrong[6] = {rounds, rounds, rounds, rounds, rounds, rounds};
    struct cy_harvest harvest;
    wrong[0].every = 0;
    wrong[1].keeps = -1;
    wrong[2].overlooked = 1.1;
    wrong[3].overlooked = NAN;
    wrong[4].most_kg = -1;
    wrong[5].most_kg = NAN;
    for (int i = 0; i < 6; i++) {
        assert_int_equal(cy_harvest_run(&harvest, good, 0, 2, &wrong[i]), CY_INVALID);
        assert_null(harvest.days);
    }
    assert_int_equal(cy_harvest_run(&harvest, negative, 0, 2, &rounds), CY_INVALID);
    assert_int_equal(cy_harvest_run(&harvest, unknown, 0, 2, &rounds), CY_INVALID);
    assert_int_equal(cy_harvest_run(&harvest, NULL, 0, 0, &rounds), CY_OK);
    assert_near(harvest.total.ripened_kg, 0, 0);
    cy_harvest_dispose(&harvest);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grams_a_plant_are_pounds_an_acre),
        cmocka_unit_test(plants_of_a_field),
        cmocka_unit_test(pounds_an_acre_along_the_row),
        cmocka_unit_test(a_stand_comes_of_age),
        cmocka_unit_test(weighed_years_fall_within_the_pattern),
        cmocka_unit_test(years_of_a_row_add_up),
        cmocka_unit_test(taking_turns),
        cmocka_unit_test(gaps_bear_nothing),
        cmocka_unit_test(a_row_by_hand),
        cmocka_unit_test(first_peak_and_last),
        cmocka_unit_test(weeks_are_their_days_and_even_about_the_peak),
        cmocka_unit_test(lopsided_and_sudden_crops),
        cmocka_unit_test(crops_are_laid_together),
        cmocka_unit_test(four_days_by_hand),
        cmocka_unit_test(few_hands_take_the_ripest),
        cmocka_unit_test(overlooked_fruit),
        cmocka_unit_test(no_berry_is_lost_or_made),
        cmocka_unit_test(berries_followed_one_day_at_a_time),
        cmocka_unit_test(rounds_as_often_as_fruit_keeps_lose_nothing),
        cmocka_unit_test(a_farm_is_its_rows),
        cmocka_unit_test(wrong_rules_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
