/* SPDX-License-Identifier: MIT
 * Tipping passes: the fewest that meet the bound, against canes followed one by one. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/random.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/tipping.h>

#include "support/soak.h"

#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

static void check_near(double actual, double expected, double within, int line)
{
    if (fabs(actual - expected) <= within)
        return;
    print_error("%s:%d: %.12g is not %.12g within %g\n", __FILE__, line, actual, expected, within);
    _fail(__FILE__, line);
}
#define assert_near(actual, expected, within) check_near(actual, expected, within, __LINE__)

/* Tipped at 42 in (Texas A&M AgriLife 2014: 36 to 48 in), past tipping at 54 in; 5 in a week (from
 * memory, weak), so 16.8 days between the two; the spread is a placeholder. */
static struct cy_tipping usual(void)
{
    return (struct cy_tipping){.height_m = 42 * 0.0254,
                               .ceiling_m = 54 * 0.0254,
                               .growth_m_d = 5 * 0.0254 / 7,
                               .emerge_d = 100,
                               .emerge_sd_d = 12,
                               .bound = 0.1,
                               .cutoff_d = INFINITY};
}

static struct cy_tipping_plan planned(const struct cy_tipping *tipping)
{
    struct cy_tipping_plan plan;
    assert_int_equal(cy_tipping_passes(&plan, tipping), CY_OK);
    return plan;
}

static double window_of(const struct cy_tipping *tipping)
{
    return (tipping->ceiling_m - tipping->height_m) / tipping->growth_m_d;
}

static double uniform(struct cy_random *random, double low, double high)
{
    return low + (high - low) * cy_random_uniform(random);
}

static struct cy_tipping any(struct cy_random *random)
{
    const double height = uniform(random, 0.5, 1.5);
    return (struct cy_tipping){.height_m = height,
                               .ceiling_m = height + uniform(random, 0.1, 0.6),
                               .growth_m_d = uniform(random, 0.01, 0.04),
                               .emerge_d = uniform(random, -50, 20000),
                               .emerge_sd_d = uniform(random, 1, 25),
                               .bound = uniform(random, 0.005, 0.4),
                               .cutoff_d = INFINITY};
}

/* Canes reach 42 in 58.8 days up and 54 in after 75.6. Nine in ten emerge within 1.645 x 12 days of
 * the mean, 39.5 days in all: three windows of 16.8 days. They end 25.2 days after the mean cane is
 * at height, and each tail beyond that is 1.79 % of the canes. By hand. */
static void the_usual_cohort_takes_three_passes(void **state)
{
    (void)state;
    const struct cy_tipping tipping = usual();
    const struct cy_tipping_plan plan = planned(&tipping);
    assert_true(plan.met);
    assert_int_equal(plan.needed, 3);
    assert_int_equal(plan.count, 3);
    assert_near(plan.day[0], 100 + 58.8 - 25.2 + 16.8, 1e-9);
    assert_near(plan.day[1], 167.2, 1e-9);
    assert_near(plan.day[2], 184, 1e-9);
    assert_near(plan.missed, 2 * 0.0178644, 1e-6); /* normal tail beyond 2.1 deviations */
}

/* The same with a cut-off: the passes move together until they miss the bound and no more. */
static void a_cut_off_moves_passes_together(void **state)
{
    (void)state;
    struct cy_tipping tipping = usual();
    tipping.cutoff_d = 180;
    struct cy_tipping_plan plan = planned(&tipping);
    assert_true(plan.met);
    assert_int_equal(plan.count, 3);
    assert_near(plan.day[2], 180, 1e-9);
    assert_near(plan.day[0], 154.4, 1e-9); /* as much later as the last is earlier */
    assert_near(plan.day[1], 167.2, 1e-9);
    assert_near(plan.missed, 2 * cy_normal_cdf(-21.2 / 12), 1e-9);

    tipping.cutoff_d = 100 + 58.8 + 12 * 1.6448536269514722 + 1e-6; /* 95 % point of the normal */
    plan = planned(&tipping);
    assert_true(plan.met);
    assert_near(plan.missed, 0.1, 1e-6);
    tipping.cutoff_d -= 0.001;
    assert_false(planned(&tipping).met);
}

/* Too soon for the bound: what can be done is, and how much is missed is said. */
static void a_cut_off_too_soon_leaves_what_can_be_done(void **state)
{
    (void)state;
    struct cy_tipping tipping = usual();
    tipping.cutoff_d = 170;
    struct cy_tipping_plan plan = planned(&tipping);
    assert_false(plan.met);
    assert_int_equal(plan.needed, 3);
    /* 155.9 and 167.2; 2.8 days more would catch less than 5 % more... */
    assert_int_equal(plan.count, 3); /* ...but it is 8 % so near the middle */
    assert_near(plan.day[2], 170, 0);
    assert_near(plan.missed, 0.05 + cy_normal_cdf(-(170 - 158.8) / 12), 1e-6);

    tipping.cutoff_d = 168;
    plan = planned(&tipping);
    assert_int_equal(plan.count, 2); /* a pass a day after the last is worth no walk */
    assert_near(plan.missed, 0.05 + cy_normal_cdf(-(167.2 - 158.8) / 12), 1e-6);

    tipping.cutoff_d = 120;
    plan = planned(&tipping);
    assert_int_equal(plan.count, 0);
    assert_near(plan.missed, 1, 0);
}

static void a_wide_window_takes_one_pass_in_its_middle(void **state)
{
    (void)state;
    struct cy_tipping tipping = usual();
    tipping.emerge_sd_d = 4;
    const struct cy_tipping_plan plan = planned(&tipping);
    assert_int_equal(plan.count, 1);
    assert_near(plan.day[0], 100 + 58.8 + 8.4, 1e-9);
    assert_near(plan.missed, 2 * cy_normal_cdf(-2.1), 1e-9);
}

/* Canes all up on one day need one pass anywhere in their window. */
static void canes_up_on_one_day(void **state)
{
    (void)state;
    struct cy_tipping tipping = usual();
    tipping.emerge_sd_d = 0;
    const struct cy_tipping_plan plan = planned(&tipping);
    assert_int_equal(plan.count, 1);
    assert_near(plan.missed, 0, 0);
    const double early = 158, late = 176, both[2] = {early, late}, within = 159;
    assert_near(cy_tipping_missed(&tipping, &early, 1), 1, 0);
    assert_near(cy_tipping_missed(&tipping, &late, 1), 1, 0);
    assert_near(cy_tipping_missed(&tipping, both, 2), 1, 0);
    assert_near(cy_tipping_missed(&tipping, &within, 1), 0, 0);
    /* at height and at the ceiling to the moment: in numbers without rounding */
    const struct cy_tipping round = {1, 2, 0.125, 100, 0, 0.1, INFINITY};
    const double at_height = 108, at_ceiling = 116;
    assert_near(cy_tipping_missed(&round, &at_height, 1), 0, 0);
    assert_near(cy_tipping_missed(&round, &at_ceiling, 1), 0, 0);
}

/* The promise, over many cohorts: the bound met, with even tails, no wider steps than a window,
 * no pass after the cut-off, and one pass fewer could not do it. */
static void passes_keep_their_promise(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 21, 0);
    int met = 0;
    for (int run = 0; run < soak(2000, 50); run++) {
        struct cy_tipping tipping = any(&random);
        const double up = tipping.height_m / tipping.growth_m_d, window = window_of(&tipping);
        const double half = -cy_normal_inverse(tipping.bound / 2) * tipping.emerge_sd_d;
        if (run % 2)
            tipping.cutoff_d = tipping.emerge_d + up + half + uniform(&random, -5, 25);
        struct cy_tipping_plan plan;
        if (cy_tipping_passes(&plan, &tipping) != CY_OK) {
            assert_true(2 * half / window > CY_TIPPING_MOST);
            continue;
        }
        assert_near(cy_tipping_missed(&tipping, plan.day, plan.count), plan.missed, 1e-9);
        for (int i = 0; i < plan.count; i++)
            assert_true(plan.day[i] <= tipping.cutoff_d + 1e-9);
        for (int i = 1; i < plan.count; i++) {
            assert_true(plan.day[i] > plan.day[i - 1]);
            assert_true(plan.day[i] - plan.day[i - 1] <= window + 1e-9);
        }
        if (!plan.met) {
            assert_true(tipping.cutoff_d < tipping.emerge_d + up + half);
            assert_true(plan.count <= plan.needed);
            continue;
        }
        met++;
        assert_int_equal(plan.count, plan.needed);
        assert_true(plan.missed <= tipping.bound);
        const double early = plan.day[0] - up - window - tipping.emerge_d,
                     late = plan.day[plan.count - 1] - up - tipping.emerge_d;
        if (plan.count > 1 || isinf(tipping.cutoff_d))
            assert_near(early, -late, 1e-8);
        /* one pass fewer, wherever it stood, catches less than the even run of as many windows */
        if (plan.count > 1)
            assert_true(2 * cy_normal_cdf(-(plan.count - 1) * window / 2 / tipping.emerge_sd_d) >
                        tipping.bound);
    }
    assert_true(met > 1000);
}

/* 20,000 canes, each grown and met by the passes on its own: the share that no pass caught. */
static void canes_followed_one_by_one(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 22, 0);
    for (int run = 0; run < 12; run++) {
        struct cy_tipping tipping = any(&random);
        if (run % 3 == 0)
            tipping.cutoff_d = tipping.emerge_d + tipping.height_m / tipping.growth_m_d +
                               uniform(&random, -1, 1) * tipping.emerge_sd_d;
        struct cy_tipping_plan plan = planned(&tipping);
        if (run % 3 == 1)
            for (int i = 0; i < plan.count; i++) /* as walked: on whole days, some late */
                plan.day[i] = floor(plan.day[i]) + i % 3;
        const int canes = 20000;
        int missed = 0;
        for (int cane = 0; cane < canes; cane++) {
            const double up = tipping.emerge_d + tipping.emerge_sd_d * cy_random_normal(&random);
            const double at_height = up + tipping.height_m / tipping.growth_m_d,
                         at_ceiling = up + tipping.ceiling_m / tipping.growth_m_d;
            int caught = 0;
            for (int i = 0; i < plan.count; i++)
                caught |= plan.day[i] >= at_height && plan.day[i] <= at_ceiling;
            missed += !caught;
        }
        const double share = cy_tipping_missed(&tipping, plan.day, plan.count);
        const double error = sqrt(share * (1 - share) / canes);
        assert_near((double)missed / canes, share, 4.5 * error + 1e-4);
    }
}

/* A later frost, and with it a later cut-off, never leaves fewer passes, nor more canes missed. */
static void a_later_cut_off_never_fewer_passes(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 23, 0);
    for (int run = 0; run < 200; run++) {
        struct cy_tipping tipping = any(&random);
        const double up = tipping.height_m / tipping.growth_m_d;
        int before = 0;
        double missed = 1;
        for (double late = -5; late <= 5; late += 0.02) {
            tipping.cutoff_d = tipping.emerge_d + up + late * tipping.emerge_sd_d;
            struct cy_tipping_plan plan;
            if (cy_tipping_passes(&plan, &tipping) != CY_OK)
                break;
            assert_true(plan.count >= before);
            assert_true(plan.missed <= missed + 1e-9);
            before = plan.count;
            missed = plan.missed;
        }
    }
}

static void what_cannot_be_is_refused(void **state)
{
    (void)state;
    struct cy_tipping_plan plan = {.count = 7};
    struct cy_tipping wrong[9];
    for (size_t i = 0; i < COUNT_OF(wrong); i++)
        wrong[i] = usual();
    wrong[0].ceiling_m = wrong[0].height_m;
    wrong[1].height_m = 0;
    wrong[2].growth_m_d = 0;
    wrong[3].growth_m_d = NAN;
    wrong[4].emerge_sd_d = -1;
    wrong[5].bound = 0;
    wrong[6].bound = 1;
    wrong[7].cutoff_d = NAN;
    wrong[8].emerge_sd_d = 365; /* more passes than a plan */
    for (size_t i = 0; i < COUNT_OF(wrong); i++)
        assert_int_equal(cy_tipping_passes(&plan, &wrong[i]), CY_INVALID);
    assert_int_equal(plan.count, 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_usual_cohort_takes_three_passes),
        cmocka_unit_test(a_cut_off_moves_passes_together),
        cmocka_unit_test(a_cut_off_too_soon_leaves_what_can_be_done),
        cmocka_unit_test(a_wide_window_takes_one_pass_in_its_middle),
        cmocka_unit_test(canes_up_on_one_day),
        cmocka_unit_test(passes_keep_their_promise),
        cmocka_unit_test(canes_followed_one_by_one),
        cmocka_unit_test(a_later_cut_off_never_fewer_passes),
        cmocka_unit_test(what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
