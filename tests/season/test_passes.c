/* SPDX-License-Identifier: MIT
 * The passes of tipping over a row: what ends them, what they follow, what they miss. */
#include "season/farms.h"

#include "season/plan_parts.h"

#define TODAY "2026-11-25"
#define MEMBERS 20

/* ---- weathers made by hand ------------------------------------------------------------------- */

static cy_day season_first, season_last;

/* Warm nights but one in each weather: the day of its frost, CY_DAY_NONE for none. */
static void warm_but_for(struct cy_ensemble *ensemble, struct cy_member *members,
                         const cy_day *frosts, int count)
{
    season_first = cy_day_of(2026, 11, 1);
    season_last = cy_day_of(2027, 10, 31);
    *ensemble = (struct cy_ensemble){.members = members, .count = count};
    for (int i = 0; i < count; i++) {
        struct cy_weather *weather = &members[i].weather;
        assert_int_equal(cy_weather_init(weather, season_first, 365), CY_OK);
        for (int day = 0; day < 365; day++)
            weather->tmin_c[day] = 10;
        if (frosts[i] != CY_DAY_NONE)
            weather->tmin_c[frosts[i] - season_first] = 0;
    }
}

static void dispose(struct cy_member *members, int count)
{
    for (int i = 0; i < count; i++)
        cy_weather_dispose(&members[i].weather);
}

/* Canes of 42 in by 1 September, half of them: late, so that frost has a say. */
static struct cy_passes passes_of(const struct cy_farm *farm, const struct cy_ensemble *ensemble,
                                  double colder_k)
{
    struct cy_plan plan = {
        .season = 2027, .first = season_first, .last = season_last, .latitude_deg = 35.43};
    struct cy_row_facts facts;
    struct cy_plan_cohort canes = {.year = 2027};
    struct cy_passes passes;
    cy_row_facts_of(&facts, farm, cy_farm_by_key(farm, CY_KIND_ROW, 0, "r"), plan.latitude_deg);
    facts.traits.colder_k = colder_k;
    canes.growth_m_d = facts.traits.growth_m_d;
    canes.stage[CY_STAGE_TIP].p50 = cy_day_of(2027, 9, 1);
    struct cy_frozen frozen = {0};
    assert_int_equal(cy_row_passes(&passes, &plan, ensemble, &facts, &canes, &frozen), CY_OK);
    return passes;
}

static void one_row(struct cy_farm *farm)
{
    farm_north(farm);
    add_row(farm, "r", "natchez", "hedge", "2020-03-20");
}

static void a_later_frost_never_means_fewer_passes(void **state)
{
    (void)state;
    struct cy_farm farm;
    int fewest = 0, most = 0;
    one_row(&farm);
    for (cy_day frost = cy_day_of(2027, 8, 1); frost <= cy_day_of(2027, 10, 31); frost++) {
        struct cy_member members[2] = {0};
        struct cy_ensemble ensemble;
        const cy_day frosts[2] = {frost, frost};
        warm_but_for(&ensemble, members, frosts, 2);
        struct cy_passes passes = passes_of(&farm, &ensemble, 0);
        assert_true(passes.count >= fewest);
        fewest = most = passes.count;
        for (int i = 0; i < passes.count; i++) {
            assert_true(passes.day[i] <= frost);
            assert_true(i == 0 || passes.day[i] > passes.day[i - 1]);
            assert_true(passes.day[i] == floor(passes.day[i]));
        }
        assert_int_equal(passes.last, frost);
        dispose(members, 2);
    }
    assert_true(most >= 2);
    cy_farm_dispose(&farm);
}

/* The day by which one autumn in ten has frozen: one of ten or of nineteen is enough, and of
 * twenty it takes a second. */
static void one_autumn_in_ten_ends_them(void **state)
{
    (void)state;
    struct cy_farm farm;
    one_row(&farm);
    cy_day early = cy_day_of(2027, 9, 10), later = cy_day_of(2027, 9, 25);
    cy_day frosts[MEMBERS];
    for (int i = 0; i < MEMBERS; i++)
        frosts[i] = CY_DAY_NONE;
    frosts[3] = early;
    static const int counts[] = {4, 10, 11, 20};
    for (int i = 0; i < 4; i++) {
        struct cy_member members[MEMBERS] = {0};
        struct cy_ensemble ensemble;
        warm_but_for(&ensemble, members, frosts, counts[i]);
        assert_int_equal(passes_of(&farm, &ensemble, 0).last, i < 2 ? early : CY_DAY_NONE);
        dispose(members, counts[i]);
    }
    frosts[7] = later;
    struct cy_member members[MEMBERS] = {0};
    struct cy_ensemble ensemble;
    warm_but_for(&ensemble, members, frosts, MEMBERS);
    assert_int_equal(passes_of(&farm, &ensemble, 0).last, later);
    /* Where every night is colder by as much as those are warm, it has frozen on 1 August. */
    assert_int_equal(passes_of(&farm, &ensemble, 10).last, cy_day_of(2027, 8, 1));
    dispose(members, MEMBERS);
    cy_farm_dispose(&farm);
}

static void the_growers_last_day_counts_whatever_the_frost(void **state)
{
    (void)state;
    struct cy_farm farm;
    one_row(&farm);
    put(&farm, "practice.hedge.tip_cutoff", "09-03");
    struct cy_member members[1] = {0};
    struct cy_ensemble ensemble;
    warm_but_for(&ensemble, members, (const cy_day[]){cy_day_of(2027, 8, 2)}, 1);
    struct cy_passes passes = passes_of(&farm, &ensemble, 0);
    assert_int_equal(passes.last, cy_day_of(2027, 9, 3));
    assert_true(passes.count >= 1);
    assert_true(passes.day[passes.count - 1] <= passes.last);
    assert_true(passes.basis & CY_BASIS_GROWER);
    dispose(members, 1);
    cy_farm_dispose(&farm);
}

/* A ceiling a hand above the height leaves canes less than a day: one pass a day at the most. */
static void passes_never_share_a_day(void **state)
{
    (void)state;
    struct cy_farm farm;
    one_row(&farm);
    put(&farm, "practice.hedge.tip_ceiling", "42.4 in");
    put(&farm, "cultivar.natchez.emerge_spread", "5 d");
    struct cy_member members[1] = {0};
    struct cy_ensemble ensemble;
    warm_but_for(&ensemble, members, (const cy_day[]){CY_DAY_NONE}, 1);
    struct cy_passes passes = passes_of(&farm, &ensemble, 0);
    assert_true(passes.count > 10);
    for (int i = 1; i < passes.count; i++)
        assert_true(passes.day[i] >= passes.day[i - 1] + 1);
    dispose(members, 1);
    cy_farm_dispose(&farm);
}

/* ---- in a plan ------------------------------------------------------------------------------- */

static cy_day first_pass(const struct cy_plan *plan)
{
    const struct cy_plan_job *job = job_of(plan, "first-tip.r.2027");
    assert_non_null(job);
    return job->from;
}

static void passes_follow_a_height_that_was_seen(void **state)
{
    (void)state;
    struct cy_farm farm;
    one_row(&farm);
    struct cy_plan *guessed = plan_of(&farm, "2027-05-20", 0);
    ADD(&farm, SEEN, "n1", GROWER, "day", "2027-05-10", "row", "r", "what", "cane height", "height",
        "30 in");
    struct cy_plan *seen = plan_of(&farm, "2027-05-20", 0);
    double moved = cohort_of(seen, "r", 2027)->stage[CY_STAGE_TIP].p50 -
                   cohort_of(guessed, "r", 2027)->stage[CY_STAGE_TIP].p50;
    assert_true(fabs(moved) > 3);
    assert_int_equal(first_pass(seen) - first_pass(guessed), (int)floor(moved + 0.5));
    /* 12 in to go at 5 in a week, from the day of the note. */
    assert_true(fabs(cohort_of(seen, "r", 2027)->stage[CY_STAGE_TIP].p50 -
                     (day_at("2027-05-10") + 17)) <= 1);
    assert_true(job_of(seen, "first-tip.r.2027")->basis & CY_BASIS_OBSERVED);
    cy_plan_free(guessed);
    cy_plan_free(seen);
    cy_farm_dispose(&farm);
}

static void what_they_miss_is_said(void **state)
{
    (void)state;
    static const char *const bounds[] = {"1 %", "5 %", "10 %", "30 %", "50 %"};
    struct cy_farm farm;
    one_row(&farm);
    int more = 100;
    for (int i = 0; i < 5; i++) {
        double days[CY_TIPPING_MOST];
        int count = 0;
        put(&farm, "practice.hedge.tip_missed", bounds[i]);
        struct cy_plan *plan = plan_of(&farm, TODAY, 0);
        const struct cy_plan_job *job = job_of(plan, "first-tip.r.2027");
        assert_non_null(job);
        for (size_t k = 0; k < plan->job_count; k++)
            if (cy_streq(plan->jobs[k].kind_key, "first-tip"))
                days[count++] = plan->jobs[k].from;
        assert_int_equal(job->reason.rounds, count);
        assert_true(count <= more); /* more may be missed: no more passes */
        more = count;
        double tip = cohort_of(plan, "r", 2027)->stage[CY_STAGE_TIP].p50;
        struct cy_tipping tipping = {.height_m = 1.0668,
                                     .ceiling_m = 1.3716,
                                     .growth_m_d = 0.0181,
                                     .emerge_d = tip - 1.0668 / 0.0181,
                                     .emerge_sd_d = 12,
                                     .bound = 0.1,
                                     .cutoff_d = INFINITY};
        double missed = cy_tipping_missed(&tipping, days, count);
        assert_true(fabs(job->reason.share - missed) < 1e-9);
        double bound = (double[]){0.01, 0.05, 0.1, 0.3, 0.5}[i];
        assert_true(missed <= bound + 0.02); /* on whole days */
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void no_pass_reaches_past_the_last_day(void **state)
{
    (void)state;
    struct cy_farm farm;
    one_row(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    cy_day tip = (cy_day)floor(cohort_of(plan, "r", 2027)->stage[CY_STAGE_TIP].p50 + 0.5);
    cy_plan_free(plan);
    for (int shift = -20; shift <= 30; shift += 5) {
        char day[CY_DAY_TEXT];
        cy_day_print(day, tip + shift);
        put(&farm, "practice.hedge.tip_cutoff", day + 5);
        plan = plan_of(&farm, TODAY, 0);
        for (size_t k = 0; k < plan->job_count; k++)
            if (cy_streq(plan->jobs[k].kind_key, "first-tip")) {
                assert_true(plan->jobs[k].from <= plan->jobs[k].to);
                assert_true(plan->jobs[k].to <= tip + shift);
            }
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_later_frost_never_means_fewer_passes),
        cmocka_unit_test(one_autumn_in_ten_ends_them),
        cmocka_unit_test(the_growers_last_day_counts_whatever_the_frost),
        cmocka_unit_test(passes_never_share_a_day),
        cmocka_unit_test(passes_follow_a_height_that_was_seen),
        cmocka_unit_test(what_they_miss_is_said),
        cmocka_unit_test(no_pass_reaches_past_the_last_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
