/* SPDX-License-Identifier: MIT
 * The calculations of the canes. */
#include "bench.h"

#include <caneyear/base/stats.h>

/* What the contract asks of a plan: passes no further apart than a window, equal tails, no more
 * than the bound missed, and one pass fewer could not do it. */
static void passes_of_a_cohort(void **state)
{
    (void)state;
    double window = (1.3 - 1.0) / 0.03, sd = 12, mean = 111; /* 20 April 2024 */
    struct bench plan = work("tipping", "height=1 ceiling=1.3 rate=0.03 emerge_mean=2024-04-20 "
                                        "emerge_sd=12 bound=0.05");
    /* ceil(2 * 1.959964 * 12 / 10) */
    assert_result(plan, 5, 0);
    double first = also_of(&plan, "pass1"), last = also_of(&plan, "pass5");
    assert_no_also(plan, "pass6");
    for (size_t i = 0; i + 1 < 5; i++)
        assert_true(plan.result.also[i + 1].value - plan.result.also[i].value <= window + 1e-9);
    double early = cy_normal_cdf((first - 1.3 / 0.03 - mean) / sd);
    double late = 1 - cy_normal_cdf((last - 1.0 / 0.03 - mean) / sd);
    assert_near(early, late, 1e-9);
    assert_also(plan, "missed", early + late, 1e-9);
    assert_true(early + late <= 0.05);
    assert_true(cy_normal_cdf(-4 * window / 2 / sd) * 2 > 0.05);
    assert_int_equal(plan.result.also[0].day, cy_day_of(2024, 5, 8));
}

static void one_pass_is_enough_for_an_even_flush(void **state)
{
    (void)state;
    struct bench plan = work("tipping", "height=40in ceiling=52in rate=7in/week "
                                        "emerge_mean=2024-04-20 emerge_sd=0 bound=5%");
    assert_result(plan, 1, 0);
    assert_also(plan, "missed", 0, 0);
    assert_also(plan, "pass1", 111 + 46, 1e-6); /* 46 in at an inch a day */
}

static void a_cutoff_moves_or_refuses(void **state)
{
    (void)state;
    const char *cohort = "height=1 ceiling=1.3 rate=0.03 emerge_mean=2024-04-20 emerge_sd=12 "
                         "bound=0.05 ";
    char line[200];
    strcpy(line, cohort);
    strcat(line, "cutoff=2024-06-16"); /* day 168: the last pass would have been on 169.3 */
    struct bench tight = work("tipping", line);
    assert_result(tight, 5, 0);
    assert_also(tight, "pass5", 168, 1e-9);
    assert_true(also_of(&tight, "missed") <= 0.05);
    strcpy(line, cohort);
    strcat(line, "cutoff=2024-06-01");
    assert_refused(work("tipping", line), CY_ISSUE_OUT_OF_RANGE, "cutoff");
}

static void tipping_that_cannot_be(void **state)
{
    (void)state;
    assert_refused(work("tipping", "height=1.3 ceiling=1.3 rate=0.03 emerge_mean=2024-04-20 "
                                   "emerge_sd=12 bound=0.05"),
                   CY_ISSUE_PAIR, "ceiling");
    assert_refused(work("tipping", "height=1 ceiling=1.01 rate=0.1 emerge_mean=2024-04-20 "
                                   "emerge_sd=12 bound=0.01"),
                   CY_ISSUE_OUT_OF_RANGE, "bound");
}

/* 27.5 F kills half at every stage: USDA-ARS Kearneysville data shown by NC State, April 2016. All
 * flowers of a tight cluster die within 1.6 C, in bloom within 0.3 C: Warmund and others, Fruit
 * Varieties Journal 47(3), 1993. */
static void flowers_killed(void **state)
{
    (void)state;
    struct bench half = work("bud-kill", "temp=27.5F stage=bloom");
    assert_result(half, 0.5, 1e-9);
    assert_also(half, "t50", -2.5, 1e-12);
    assert_result(work("bud-kill", "temp=-2.65 stage=bloom"), 0.99, 1e-9);
    assert_result(work("bud-kill", "temp=-2.65 stage=tight"), 0.703, 1e-3);
    assert_result(work("bud-kill", "temp=-3.3 stage=tight"), 0.99, 1e-9);
}

/* T50 of 18 November: Journal of the American Pomological Society, January 2024, table 3. */
static void dormant_buds_killed(void **state)
{
    (void)state;
    struct bench navaho =
        work("bud-kill", "temp=-17.1 stage=dormant cultivar=navaho date=2026-11-18");
    assert_result(navaho, 0.5, 1e-9);
    assert_also(navaho, "t50", -17.1, 1e-12);
    struct bench between =
        work("bud-kill", "temp=-20 stage=dormant cultivar=Ouachita date=2026-12-17");
    assert_also(between, "t50", (-19.1 - 21.7) / 2, 1e-9);
    assert_refused(work("bud-kill", "temp=-20 stage=dormant cultivar=Navaho date=2026-11-19"),
                   CY_ISSUE_OUT_OF_RANGE, "date");
    assert_refused(work("bud-kill", "temp=-20 stage=dormant cultivar=Ouachita date=2026-07-01"),
                   CY_ISSUE_OUT_OF_RANGE, "date");
    assert_refused(work("bud-kill", "temp=-20 stage=dormant cultivar=Unheard date=2026-11-18"),
                   CY_ISSUE_OUT_OF_RANGE, "cultivar");
    assert_refused(work("bud-kill", "temp=-20 stage=dormant cultivar=Ouachita"), CY_ISSUE_MISSING,
                   "date");
    assert_refused(work("bud-kill", "temp=-20 stage=dormant"), CY_ISSUE_MISSING, "cultivar");
}

/* 10,000 lb an acre on rows of 10 ft: 2.2957 lb/ft, 43,560 square feet to the acre. */
static void yield_of_a_row(void **state)
{
    (void)state;
    assert_result(work("row-yield", "area_yield=10000lb/acre row_spacing=10ft"),
                  2.2957 * 0.45359237 / 0.3048, 1e-4);
    assert_result(work("row-yield", "area_yield=1.12 row_spacing=3"), 3.36, 1e-12);
}

/* 43,560/(4 x 12) = 907.5 plants an acre; 3.0 x 0.5 m, 6,666.7 a hectare (Ciencia Rural 46(10),
 * 2016). */
static void plants_of_a_field(void **state)
{
    (void)state;
    assert_result(work("plants", "area=1acre row_spacing=12ft plant_spacing=4ft"), 907.5, 1e-9);
    struct bench hectare = work("plants", "area=10000 row_spacing=3 plant_spacing=0.5");
    assert_result(hectare, 6666.7, 0.05);
    assert_also(hectare, "row_length", 10000 / 3.0, 1e-9);
    assert_result(work("plants", "length=100ft plant_spacing=3ft"), 33.333, 1e-3);
    assert_refused(work("plants", "plant_spacing=1"), CY_ISSUE_MISSING, "area");
    assert_refused(work("plants", "area=1acre plant_spacing=1"), CY_ISSUE_MISSING, "row_spacing");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(passes_of_a_cohort),
        cmocka_unit_test(one_pass_is_enough_for_an_even_flush),
        cmocka_unit_test(a_cutoff_moves_or_refuses),
        cmocka_unit_test(tipping_that_cannot_be),
        cmocka_unit_test(flowers_killed),
        cmocka_unit_test(dormant_buds_killed),
        cmocka_unit_test(yield_of_a_row),
        cmocka_unit_test(plants_of_a_field),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
