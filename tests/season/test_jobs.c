/* SPDX-License-Identifier: MIT
 * The first ten kinds of work: on which rows they fall, when, in which rounds, how long they take,
 * and what marks them done. */
#include "season/farms.h"

#define TODAY "2026-11-25"

/* The season 2027 of a farm of one row, "r". */
static struct cy_plan *one_row(struct cy_farm *farm, const char *cultivar, const char *practice,
                               const char *planted)
{
    farm_north(farm);
    add_row(farm, "r", cultivar, practice, planted);
    return plan_of(farm, TODAY, 0);
}

static const struct cy_plan_job *need_job(const struct cy_plan *plan, const char *key)
{
    const struct cy_plan_job *job = job_of(plan, key);
    if (!job)
        fail_msg("no job %s", key);
    return job;
}

static void assert_window(const struct cy_plan *plan, const char *key, const char *from,
                          const char *to)
{
    char found[CY_DAY_TEXT];
    const struct cy_plan_job *job = need_job(plan, key);
    assert_string_equal(cy_day_print(found, job->from), from);
    assert_string_equal(cy_day_print(found, job->to), to);
}

static void assert_hours(const struct cy_plan *plan, const char *key, double hours)
{
    assert_true(fabs(need_job(plan, key)->hours - hours) < 1e-9);
}

/* ---- which rows ------------------------------------------------------------------------------ */

static void each_kind_falls_on_its_rows(void **state)
{
    (void)state;
    static const char *const kinds[] = {
        "soil-test", "set-posts", "string-wire", "plant", "water-first-year",
        "first-tip", "tie-canes", "thin-canes",  "pick",  "take-out-spent"};
    static const struct {
        const char *cultivar, *practice, *planted;
        const char *planned; /* by kind: + planned, - not */
    } cases[] = {
        {"natchez", "hedge", "2027-03-20", "++++++----"}, /* in its first season */
        {"natchez", "hedge", "2026-03-20", "-----++++-"}, /* second: nothing spent yet */
        {"natchez", "hedge", "2020-03-20", "-----+++++"},
        {"natchez", "hedge", NULL, "-----+++++"},
        {"natchez", "hedge", "2028-03-20", "+---------"}, /* the soil test comes a year ahead */
        {"natchez", "hedge", "2030-03-20", "----------"},
        {"marion", "trail", "2020-03-20", "------++++"}, /* trailing canes are not tipped */
        {"marion", "trail", "2026-03-20", "------++++"}, /* spent in August of its second */
        {"gem", "mown", "2020-03-20", "-----+--+-"},     /* no old canes, but a crop */
        {"gem", "both", "2020-03-20", "-----+++++"},
        {"fence", "unsure", "2020-03-20", "-----++-+-"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_farm farm;
        struct cy_plan *plan =
            one_row(&farm, cases[i].cultivar, cases[i].practice, cases[i].planted);
        for (int k = 0; k < 10; k++) {
            bool planned = jobs_of(plan, kinds[k], "r") > 0;
            if (planned != (cases[i].planned[k] == '+'))
                fail_msg("%s on case %d: %d", kinds[k], (int)i, planned);
        }
        cy_plan_free(plan);
        cy_farm_dispose(&farm);
    }
}

static void without_a_trellis_there_is_nothing_to_tie_to(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    ADD(&farm, ROW, "new", GROWER, "length", "100 ft", "cultivar", "natchez", "practice", "hedge",
        "planted", "2027-03-20");
    ADD(&farm, ROW, "old", GROWER, "length", "100 ft", "cultivar", "natchez", "practice", "hedge");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "set-posts", "new"), 0);
    assert_int_equal(jobs_of(plan, "string-wire", "new"), 0);
    assert_int_equal(jobs_of(plan, "plant", "new"), 1);
    assert_int_equal(jobs_of(plan, "tie-canes", "old"), 0);
    assert_int_equal(jobs_of(plan, "thin-canes", "old"), 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void the_grower_decides_on_tipping(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    put(&farm, "practice.hedge.summer_tipping", "no");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "first-tip", "r"), 0);
    cy_plan_free(plan);
    put(&farm, "practice.hedge.summer_tipping", "yes");
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "first-tip", "r"), 3);
    cy_farm_dispose(&farm);
    cy_plan_free(plan);
}

/* Spent canes of the fruiting year come out in the winter of the rest year. */
static void a_resting_row_loses_its_spent_canes(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "marion", "alternate", "2020-04-10");
    put(&farm, "row.r.fruits_in", "even years");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_true(row_of(plan, "r")->notes & CY_NOTE_REST_YEAR);
    assert_window(plan, "take-out-spent.r.2027", "2026-10-01", "2027-02-28");
    assert_int_equal(jobs_of(plan, "pick", "r"), 0);
    cy_plan_free(plan);
    plan = plan_of(&farm, TODAY, 2028);
    assert_int_equal(jobs_of(plan, "take-out-spent", "r"), 0);
    assert_true(jobs_of(plan, "pick", "r") > 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Where spent canes come out in the summer that they bore in, the rest year has none left. */
static void spent_canes_come_out_once(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "marion", "alternate", "2020-04-10");
    put(&farm, "row.r.fruits_in", "even years");
    put(&farm, "practice.alternate.spent_from", "08-15");
    put(&farm, "practice.alternate.spent_to", "10-15");
    for (int season = 2026; season <= 2029; season++) {
        struct cy_plan *plan = plan_of(&farm, TODAY, season);
        assert_int_equal(jobs_of(plan, "take-out-spent", "r"), season % 2 == 0);
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void nothing_is_done_to_canes_before_they_are_planted(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "march", "natchez", "hedge", "2027-03-20");
    add_row(&farm, "february", "natchez", "hedge", "2027-02-20");
    put(&farm, "row.march.stock", "long cane");
    put(&farm, "row.february.stock", "long cane");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "thin-canes", "march"), 0);
    assert_window(plan, "thin-canes.february.2027", "2027-02-20", "2027-03-10");
    assert_true(jobs_of(plan, "pick", "march") > 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- windows --------------------------------------------------------------------------------- */

static void work_before_planting_counts_back_from_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = one_row(&farm, "natchez", "hedge", "2027-03-20");
    /* NC State, SE Regional Caneberry Production Guide ch. 11: 6 months to a year ahead. */
    assert_window(plan, "soil-test.r.2027", "2026-03-20", "2026-09-19");
    assert_window(plan, "set-posts.r.2027", "2027-01-19", "2027-03-06");
    assert_window(plan, "string-wire.r.2027", "2027-03-06", "2027-03-20");
    assert_window(plan, "plant.r.2027", "2027-03-20", "2027-03-27");
    assert_int_equal(need_job(plan, "plant.r.2027")->reason.kind, CY_REASON_PLANTING);
    assert_int_equal(need_job(plan, "plant.r.2027")->reason.day, day_at("2027-03-20"));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_soil_test_shows_the_season_before_planting(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2028-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_window(plan, "soil-test.r.2028", "2027-03-21", "2027-09-20");
    assert_int_equal(need_job(plan, "soil-test.r.2028")->season, 2028);
    assert_null(job_of(plan, "plant.r.2028"));
    cy_plan_free(plan);
    plan = plan_of(&farm, TODAY, 2028);
    assert_window(plan, "soil-test.r.2028", "2027-03-21", "2027-09-20"); /* the same job */
    assert_non_null(job_of(plan, "plant.r.2028"));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Univ. of Arkansas Extension, 5 March 2018: spent canes come out from October to February; NC
 * State, Caneberry Chores 2019: thin mid to late winter. */
static void the_practices_windows_may_straddle_leaf_fall(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = one_row(&farm, "natchez", "hedge", "2020-03-20");
    assert_window(plan, "take-out-spent.r.2027", "2026-10-01", "2027-02-28");
    assert_window(plan, "thin-canes.r.2027", "2027-01-15", "2027-03-10");
    assert_window(plan, "tie-canes.r.2027", "2027-01-15", "2027-03-10");
    assert_int_equal(need_job(plan, "thin-canes.r.2027")->reason.kind, CY_REASON_PRACTICE);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
    plan = one_row(&farm, "marion", "trail", "2020-03-20");
    assert_window(plan, "take-out-spent.r.2027", "2027-08-01", "2027-10-30");
    assert_int_equal(jobs_of(plan, "take-out-spent", "r"), 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_southern_practice_moves_unless_the_grower_typed_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_at(&farm, "-38", 0);
    add_row(&farm, "r", "natchez", "hedge", "2020-09-10");
    struct cy_plan *plan = plan_of(&farm, "2026-12-01", 0);
    assert_window(plan, "take-out-spent.r.2027", "2026-04-01", "2026-08-28");
    assert_window(plan, "thin-canes.r.2027", "2026-07-15", "2026-09-10");
    cy_plan_free(plan);
    put(&farm, "practice.hedge.thin_from", "06-20");
    put(&farm, "practice.hedge.thin_to", "08-05");
    plan = plan_of(&farm, "2026-12-01", 0);
    assert_window(plan, "thin-canes.r.2027", "2026-06-20", "2026-08-05");
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static cy_day middle(const struct cy_plan *plan, int year, enum cy_stage stage)
{
    return (cy_day)floor(cohort_of(plan, "r", year)->stage[stage].p50 + 0.5);
}

static void tipping_goes_in_passes_about_the_middle(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = one_row(&farm, "natchez", "hedge", "2020-03-20");
    cy_day tip = middle(plan, 2027, CY_STAGE_TIP);
    int count = jobs_of(plan, "first-tip", "r");
    assert_true(count >= 2);
    cy_day before = CY_DAY_NONE;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (!cy_streq(job->kind_key, "first-tip"))
            continue;
        assert_int_equal(job->reason.kind, CY_REASON_TIP);
        assert_int_equal(job->reason.rounds, count);
        assert_true(fabs(job->reason.height_m - 1.0668) < 1e-9); /* 42 in */
        assert_true(job->urgent);
        /* Passes no further apart than the canes take from the height to the ceiling: 12 in at
         * 5 in a week; and no more missed than the practice's tenth, days rounded. */
        assert_true(before == CY_DAY_NONE || job->from - before <= 17);
        assert_true(job->reason.share <= 0.11);
        /* No growth rate is published: dates that rest on one are placeholders. */
        assert_true(job->basis & CY_BASIS_PLACEHOLDER);
        before = job->from;
    }
    /* Half of the canes are at the height on the middle day: passes stand on both sides of the
     * middle of their windows. */
    assert_true(need_job(plan, "first-tip.r.2027")->from <= tip);
    assert_true(before >= tip);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void no_pass_after_the_last_day(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    cy_day tip = middle(plan, 2027, CY_STAGE_TIP);
    int free_passes = jobs_of(plan, "first-tip", "r"), last_count = 0;
    cy_plan_free(plan);
    static const int cutoffs[] = {-60, -10, 0, 9, 24, 90};
    for (size_t i = 0; i < sizeof cutoffs / sizeof *cutoffs; i++) {
        char day[CY_DAY_TEXT];
        cy_day_print(day, tip + cutoffs[i]);
        put(&farm, "practice.hedge.tip_cutoff", day + 5);
        plan = plan_of(&farm, TODAY, 0);
        int count = jobs_of(plan, "first-tip", "r");
        assert_true(count >= last_count); /* a later last day never allows fewer */
        last_count = count;
        for (size_t k = 0; k < plan->job_count; k++)
            if (cy_streq(plan->jobs[k].kind_key, "first-tip"))
                assert_true(plan->jobs[k].from <= tip + cutoffs[i] + 1);
        cy_plan_free(plan);
    }
    assert_int_equal(last_count, free_passes);
    cy_farm_dispose(&farm);
}

/* Where the grower names no last day, it is the one by which one autumn in ten has frozen: a
 * colder row, whose frosts come sooner, is never tipped later. */
static void frost_ends_tipping_where_nobody_says_when(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    put(&farm, "practice.hedge.tip_height", "9 ft");
    put(&farm, "practice.hedge.tip_ceiling", "9.5 ft");
    cy_day last[2];
    for (int i = 0; i < 2; i++) {
        put(&farm, "row.r.colder_nights", i ? "8 dF" : "0 dF");
        struct cy_plan *plan = plan_of(&farm, TODAY, 0);
        last[i] = plan->first;
        for (size_t k = 0; k < plan->job_count; k++)
            if (cy_streq(plan->jobs[k].kind_key, "first-tip"))
                last[i] = plan->jobs[k].from;
        cy_plan_free(plan);
    }
    assert_true(last[1] <= last[0]);
    cy_farm_dispose(&farm);
}

/* A pass is a window of its own: the kind's days count from the day of the pass. */
static void a_pass_may_slip_by_the_days_of_its_kind(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    cy_day from = need_job(plan, "first-tip.r.2027.2")->from;
    assert_int_equal(need_job(plan, "first-tip.r.2027.2")->to, from + 2);
    cy_plan_free(plan);
    put(&farm, "job.first-tip.from_days", "-1 d");
    put_as(&farm, "job.first-tip.to_days", "4 d", CY_BASIS_PLACEHOLDER);
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(need_job(plan, "first-tip.r.2027.2")->from, from - 1);
    assert_int_equal(need_job(plan, "first-tip.r.2027.2")->to, from + 4);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Spring begins with the canes that a row has. */
static void work_in_spring_needs_no_canes_that_are_not_there(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "mown", "gem", "mown", "2020-03-20");
    add_row(&farm, "fruits", "marion", "alternate", "2020-03-20");
    put(&farm, "row.fruits.fruits_in", "odd years");
    ADD(&farm, JOB, "weed", GROWER, "from", "bud break", "to", "bud break", "to_days", "30 d",
        "rows", "standing rows");
    ADD(&farm, JOB, "feed", GROWER, "from", "emergence", "to", "emergence", "to_days", "30 d",
        "rows", "standing rows");
    ADD(&farm, JOB, "prune", GROWER, "from", "bud break", "to", "bud break", "rows",
        "rows with last year's canes");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(need_job(plan, "weed.mown.2027")->reason.stage, CY_STAGE_EMERGENCE);
    assert_int_equal(need_job(plan, "feed.mown.2027")->reason.stage, CY_STAGE_EMERGENCE);
    assert_int_equal(need_job(plan, "weed.fruits.2027")->reason.stage, CY_STAGE_BUD_BREAK);
    assert_int_equal(need_job(plan, "feed.fruits.2027")->reason.stage, CY_STAGE_BUD_BREAK);
    assert_int_equal(jobs_of(plan, "prune", "mown"), 0);
    assert_int_equal(jobs_of(plan, "prune", "fruits"), 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void laterals_are_waited_for(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "gem", "both", "2020-03-20");
    ADD(&farm, JOB, "second-tip", GROWER, "from", "laterals", "to", "laterals", "to_days", "7 d",
        "rows", "rows with new canes", "needs", "laterals tipped again");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "second-tip", "r"), 0); /* nobody asks for it */
    cy_plan_free(plan);
    put(&farm, "practice.both.lateral_tip", "18 in");
    for (int i = 0; i < 2; i++) {
        put(&farm, "cultivar.gem.growth_rate", i ? "10 in/wk" : "5 in/wk");
        plan = plan_of(&farm, TODAY, 0);
        const struct cy_figure *laterals = &cohort_of(plan, "r", 2027)->stage[CY_STAGE_LATERALS];
        const struct cy_plan_job *job = need_job(plan, "second-tip.r.2027");
        int days = i ? 13 : 25; /* 18 in at 10 or 5 in a week */
        assert_int_equal(job->from, (cy_day)floor(laterals->p10 + 0.5) + days);
        assert_int_equal(job->to, (cy_day)floor(laterals->p90 + 0.5) + days + 7);
        assert_int_equal(job->reason.kind, CY_REASON_LATERALS);
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void picking_goes_from_first_to_last_pick_in_rounds(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = one_row(&farm, "natchez", "hedge", "2020-03-20");
    cy_day first = middle(plan, 2026, CY_STAGE_FIRST_PICK);
    cy_day last = middle(plan, 2026, CY_STAGE_LAST_PICK);
    int rounds = jobs_of(plan, "pick", "r");
    assert_int_equal(rounds, (last - first) / 3 + 1); /* every 3 days unless the grower says */
    assert_int_equal(need_job(plan, "pick.r.2027")->from, first);
    cy_day next = first, end = first;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (!cy_streq(job->kind_key, "pick"))
            continue;
        assert_int_equal(job->from, next); /* without a gap */
        assert_int_equal(job->reason.kind, CY_REASON_PICKING);
        assert_true(job->reason.days == 3);
        next = job->to + 1;
        end = job->to;
    }
    assert_int_equal(end, last);
    cy_plan_free(plan);
    put(&farm, "practice.hedge.pick_every", "5 d");
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "pick", "r"), (last - first) / 5 + 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void both_crops_are_picked_and_their_rounds_numbered_on(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = one_row(&farm, "gem", "both", "2020-03-20");
    int summer = 0, autumn = 0, last_round = 0;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (!cy_streq(job->kind_key, "pick"))
            continue;
        summer += job->reason.stage == CY_STAGE_FIRST_PICK;
        autumn += job->reason.stage == CY_STAGE_AUTUMN_FIRST_PICK;
        assert_int_equal(job->round, last_round + 1);
        last_round = job->round;
    }
    assert_true(summer >= 10 && autumn >= 15);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
    plan = one_row(&farm, "gem", "mown", "2020-03-20");
    assert_int_equal(need_job(plan, "pick.r.2027")->reason.stage, CY_STAGE_AUTUMN_FIRST_PICK);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Rounds of less than a day, or of none, end all the same. */
static void odd_intervals_do_not_run_for_ever(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    put(&farm, "job.pick.every", "0 d");
    put(&farm, "job.take-out-spent.every", "0.25 d");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "pick", "r"), 1);
    assert_int_equal(need_job(plan, "pick.r.2027")->to, middle(plan, 2026, CY_STAGE_LAST_PICK));
    assert_true(jobs_of(plan, "take-out-spent", "r") > 100); /* a day at the least */
    cy_plan_free(plan);
    put(&farm, "job.take-out-spent.every", "0 d");
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "take-out-spent", "r"), 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_job_hung_on_stages_opens_early_and_closes_late(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    ADD(&farm, JOB, "bees", GROWER, "from", "bloom", "from_days", "-7 d", "to", "bloom", "rows",
        "rows with last year's canes");
    ADD(&farm, JOB, "walk", GROWER, "from", "date", "to", "date", "from_date", "04-15", "to_date",
        "05-15");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_figure *bloom = &cohort_of(plan, "r", 2026)->stage[CY_STAGE_BLOOM];
    const struct cy_plan_job *bees = need_job(plan, "bees.r.2027");
    assert_int_equal(bees->from, (cy_day)floor(bloom->p10 + 0.5) - 7);
    assert_int_equal(bees->to, (cy_day)floor(bloom->p90 + 0.5));
    assert_int_equal(bees->reason.kind, CY_REASON_STAGE);
    assert_true(bees->reason.figure.p50 == bloom->p50);
    assert_true(isnan(bees->hours)); /* no rate is known */
    assert_window(plan, "walk.r.2027", "2027-04-15", "2027-05-15");
    assert_int_equal(need_job(plan, "walk.r.2027")->reason.kind, CY_REASON_DATE);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_stage_that_hardly_ever_comes_brings_no_work(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    put(&farm, "cultivar.natchez.chill_need", "2500 h");
    put(&farm, "cultivar.natchez.chill_rule", "Utah units");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_true(cohort_of(plan, "r", 2026)->stage[CY_STAGE_FIRST_PICK].never > 0.9);
    assert_int_equal(jobs_of(plan, "pick", "r"), 0);
    assert_int_equal(jobs_of(plan, "first-tip", "r"), 3);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- water ----------------------------------------------------------------------------------- */

static void young_plants_are_watered_in_dry_weeks(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2027-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    int wet_climate = jobs_of(plan, "water-first-year", "r");
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (!cy_streq(job->kind_key, "water-first-year"))
            continue;
        /* A millimetre on a square metre is a litre: over the default strip of 3 ft, a row of
         * whatever length it has. */
        double strip_m2 = 0.9144 * cy_number(cy_farm_by_id(&plan->farm, job->row), CY_ROW_LENGTH);
        assert_true(fabs(job->reason.volume_m3 - job->reason.figure.p50 / 1000 * strip_m2) < 1e-9);
        assert_int_equal((job->from - day_at("2027-03-21")) % 7, 0);
        assert_int_equal(job->round, (job->from - day_at("2027-03-21")) / 7 + 1);
        assert_true(job->to <= day_at("2027-10-01"));
        /* An inch a week: University of Kentucky slides. */
        assert_true(job->reason.figure.p50 >= 2.54 && job->reason.figure.p90 <= 25.4);
        assert_true(job->reason.share >= 0.5 && job->reason.share <= 1);
        assert_true((job->basis & CY_BASIS_MADE) && (job->basis & CY_BASIS_PUBLISHED));
    }
    cy_plan_free(plan);
    for (const struct cy_thing *month = NULL;
         (month = cy_farm_next(&farm, CY_KIND_MONTH, cy_farm_place(&farm)->id, month));) {
        struct cy_value dry = {.set = true, .number = 5, .basis = CY_BASIS_PUBLISHED};
        assert_int_equal(cy_farm_set(&farm, month->id, CY_MONTH_RAIN, &dry), CY_OK);
    }
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(jobs_of(plan, "water-first-year", "r"), 28); /* 21 March to 1 October */
    assert_true(wet_climate < 28);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void autumn_plants_are_watered_in_both_seasons(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2027-08-20");
    struct cy_plan *plan = plan_of(&farm, "2027-08-25", 2027);
    assert_true(jobs_of(plan, "water-first-year", "r") > 0);
    cy_plan_free(plan);
    plan = plan_of(&farm, "2027-08-25", 2028);
    assert_true(jobs_of(plan, "water-first-year", "r") > 0);
    assert_int_equal(row_of(plan, "r")->leaf, 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- hours and basis ------------------------------------------------------------------------- */

static void hours_are_length_times_rate(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan = one_row(&farm, "natchez", "hedge", "2027-03-20");
    assert_hours(plan, "soil-test.r.2027", 1); /* the whole job, whatever the length */
    assert_hours(plan, "set-posts.r.2027", 3); /* 3 h/100ft of 100 ft */
    cy_plan_free(plan);
    put(&farm, "row.r.length", "250 ft");
    put(&farm, "job.soil-test.rate", "2 h/100ft");
    plan = plan_of(&farm, TODAY, 0);
    assert_hours(plan, "set-posts.r.2027", 7.5);
    assert_hours(plan, "first-tip.r.2027", 2);
    assert_hours(plan, "soil-test.r.2027", 6); /* and both where both are given */
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_jobs_basis_is_its_windows_and_its_rates(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    put(&farm, "practice.hedge.thin_from", "01-10");
    put(&farm, "practice.hedge.thin_to", "03-01");
    put_as(&farm, "job.thin-canes.rate", "3 h/100ft", CY_BASIS_PLACEHOLDER);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_plan_job *job = need_job(plan, "thin-canes.r.2027");
    assert_int_equal(job->basis & (CY_BASIS_PLACEHOLDER | CY_BASIS_GROWER),
                     CY_BASIS_PLACEHOLDER | CY_BASIS_GROWER);
    cy_plan_free(plan);
    put(&farm, "job.thin-canes.rate", "2 h/100ft");
    plan = plan_of(&farm, TODAY, 0);
    assert_false(need_job(plan, "thin-canes.r.2027")->basis & CY_BASIS_PLACEHOLDER);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- keys and order -------------------------------------------------------------------------- */

static void keys_are_unique_and_stay(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "a", "natchez", "hedge", "2020-03-20");
    add_row(&farm, "b", "gem", "both", "2027-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0), *later = plan_of(&farm, "2027-06-10", 0);
    for (size_t i = 0; i < plan->job_count; i++) {
        for (size_t k = i + 1; k < plan->job_count; k++)
            assert_string_not_equal(plan->jobs[i].key, plan->jobs[k].key);
        assert_true(i == 0 || plan->jobs[i - 1].from <= plan->jobs[i].from);
        assert_true(plan->jobs[i].from <= plan->jobs[i].to);
    }
    /* As the days pass, jobs stay what they are. */
    assert_int_equal(plan->job_count, later->job_count);
    for (size_t i = 0; i < plan->job_count; i++) {
        assert_string_equal(plan->jobs[i].key, later->jobs[i].key);
        assert_int_equal(plan->jobs[i].from, later->jobs[i].from);
    }
    cy_plan_free(plan);
    cy_plan_free(later);
    cy_farm_dispose(&farm);
}

/* ---- what is done ---------------------------------------------------------------------------- */

static void work_logged_marks_its_job(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    add_row(&farm, "s", "natchez", "hedge", "2020-03-20");
    ADD(&farm, DONE, "d1", GROWER, "day", "2027-02-12", "row", "r", "job", "thin-canes", "season",
        "2027", "hours", "6 h");
    struct cy_plan *plan = plan_of(&farm, "2027-02-20", 0);
    const struct cy_plan_job *job = need_job(plan, "thin-canes.r.2027");
    assert_true(job->done);
    assert_int_equal(job->done_on, day_at("2027-02-12"));
    assert_false(need_job(plan, "thin-canes.s.2027")->done);
    assert_false(need_job(plan, "tie-canes.r.2027")->done);
    cy_plan_free(plan);
    plan = plan_of(&farm, "2027-02-11", 0); /* not before its day */
    assert_false(need_job(plan, "thin-canes.r.2027")->done);
    assert_int_equal(need_job(plan, "thin-canes.r.2027")->done_on, CY_DAY_NONE);
    cy_plan_free(plan);
    plan = plan_of(&farm, "2027-02-20", 2028); /* nor in another season */
    assert_false(need_job(plan, "thin-canes.r.2028")->done);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_corrected_record_marks_nothing(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    ADD(&farm, DONE, "d1", GROWER, "day", "2027-02-12", "row", "r", "job", "thin-canes", "season",
        "2027");
    ADD(&farm, DONE, "d2", GROWER, "day", "2027-02-12", "row", "r", "job", "tie-canes", "season",
        "2027", "corrects", "d1");
    struct cy_plan *plan = plan_of(&farm, "2027-02-20", 0);
    assert_false(need_job(plan, "thin-canes.r.2027")->done);
    assert_true(need_job(plan, "tie-canes.r.2027")->done);
    cy_plan_free(plan);
    /* And the correction can be corrected in turn. */
    ADD(&farm, DONE, "d3", GROWER, "day", "2027-02-14", "row", "r", "job", "thin-canes", "season",
        "2027", "corrects", "d2");
    plan = plan_of(&farm, "2027-02-20", 0);
    assert_true(need_job(plan, "thin-canes.r.2027")->done);
    assert_int_equal(need_job(plan, "thin-canes.r.2027")->done_on, day_at("2027-02-14"));
    assert_false(need_job(plan, "tie-canes.r.2027")->done);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_round_is_marked_by_its_number_or_its_day(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, "2027-07-30", 0);
    char day[CY_DAY_TEXT];
    cy_day_print(day, need_job(plan, "pick.r.2027.4")->from);
    cy_plan_free(plan);
    ADD(&farm, DONE, "d1", GROWER, "day", day, "row", "r", "job", "pick", "season", "2027");
    ADD(&farm, DONE, "d2", GROWER, "day", day, "row", "r", "job", "pick", "season", "2027", "round",
        "2");
    ADD(&farm, DONE, "d3", GROWER, "day", day, "row", "r", "job", "pick"); /* the nearest left */
    plan = plan_of(&farm, "2027-07-30", 0);
    assert_true(need_job(plan, "pick.r.2027.4")->done);
    assert_true(need_job(plan, "pick.r.2027.2")->done);
    assert_true(need_job(plan, "pick.r.2027.3")->done || need_job(plan, "pick.r.2027.5")->done);
    int done = 0;
    for (size_t i = 0; i < plan->job_count; i++)
        done += plan->jobs[i].done;
    assert_int_equal(done, 3);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void work_far_from_a_window_needs_its_season(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    ADD(&farm, DONE, "d1", GROWER, "day", "2026-02-12", "row", "r", "job", "thin-canes");
    struct cy_plan *plan = plan_of(&farm, "2027-02-20", 0); /* last year's work */
    assert_false(need_job(plan, "thin-canes.r.2027")->done);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void preparing_work_done_a_season_ahead_is_done(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2027-03-20");
    ADD(&farm, DONE, "d1", GROWER, "day", "2026-08-20", "row", "r", "job", "soil-test", "season",
        "2027");
    for (int season = 2026; season <= 2027; season++) {
        struct cy_plan *plan = plan_of(&farm, TODAY, season);
        assert_true(need_job(plan, "soil-test.r.2027")->done);
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

/* Late is what should be over and is not done. */
static void undone_work_stays_in_the_plan_when_it_is_late(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_plan *plan;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2027-03-20");
    plan = plan_of(&farm, "2027-05-01", 0);
    static const char *const keys[] = {"soil-test.r.2027", "set-posts.r.2027", "plant.r.2027"};
    for (int i = 0; i < 3; i++) {
        const struct cy_plan_job *job = need_job(plan, keys[i]);
        assert_true(!job->done && job->to < plan->today);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kind_falls_on_its_rows),
        cmocka_unit_test(without_a_trellis_there_is_nothing_to_tie_to),
        cmocka_unit_test(the_grower_decides_on_tipping),
        cmocka_unit_test(a_resting_row_loses_its_spent_canes),
        cmocka_unit_test(spent_canes_come_out_once),
        cmocka_unit_test(nothing_is_done_to_canes_before_they_are_planted),
        cmocka_unit_test(work_before_planting_counts_back_from_it),
        cmocka_unit_test(a_soil_test_shows_the_season_before_planting),
        cmocka_unit_test(the_practices_windows_may_straddle_leaf_fall),
        cmocka_unit_test(a_southern_practice_moves_unless_the_grower_typed_it),
        cmocka_unit_test(tipping_goes_in_passes_about_the_middle),
        cmocka_unit_test(no_pass_after_the_last_day),
        cmocka_unit_test(frost_ends_tipping_where_nobody_says_when),
        cmocka_unit_test(a_pass_may_slip_by_the_days_of_its_kind),
        cmocka_unit_test(work_in_spring_needs_no_canes_that_are_not_there),
        cmocka_unit_test(laterals_are_waited_for),
        cmocka_unit_test(picking_goes_from_first_to_last_pick_in_rounds),
        cmocka_unit_test(both_crops_are_picked_and_their_rounds_numbered_on),
        cmocka_unit_test(odd_intervals_do_not_run_for_ever),
        cmocka_unit_test(a_job_hung_on_stages_opens_early_and_closes_late),
        cmocka_unit_test(a_stage_that_hardly_ever_comes_brings_no_work),
        cmocka_unit_test(young_plants_are_watered_in_dry_weeks),
        cmocka_unit_test(autumn_plants_are_watered_in_both_seasons),
        cmocka_unit_test(hours_are_length_times_rate),
        cmocka_unit_test(a_jobs_basis_is_its_windows_and_its_rates),
        cmocka_unit_test(keys_are_unique_and_stay),
        cmocka_unit_test(work_logged_marks_its_job),
        cmocka_unit_test(a_corrected_record_marks_nothing),
        cmocka_unit_test(a_round_is_marked_by_its_number_or_its_day),
        cmocka_unit_test(work_far_from_a_window_needs_its_season),
        cmocka_unit_test(preparing_work_done_a_season_ahead_is_done),
        cmocka_unit_test(undone_work_stays_in_the_plan_when_it_is_late),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
