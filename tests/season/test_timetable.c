/* SPDX-License-Identifier: MIT
 * The plan's jobs against the crew's hours: planned days, what is late, weeks, the smallest crew.
 */
#include "season/farms.h"

#define TODAY "2026-11-25"

/* A farm of one grown row and no work but what a test adds; 8 hours on 5 days a week. */
static void idle_farm(struct cy_farm *farm)
{
    assert_int_equal(cy_farm_init(farm), CY_OK);
    add_place(farm, "35.43", 0);
    add_cultivars(farm);
    add_practices(farm);
    add_row(farm, "r", "natchez", "hedge", "2020-03-20");
    put(farm, "crew.hours_per_day", "8 h");
    put(farm, "crew.days_per_week", "5");
}

/* Work of so many hours between two days of the year. */
static void add_work(struct cy_farm *farm, const char *key, const char *from, const char *to,
                     const char *hours)
{
    ADD(farm, JOB, key, GROWER, "from", "date", "from_date", from, "to", "date", "to_date", to,
        hours ? "hours" : NULL, hours);
}

static const struct cy_plan_job *need(const struct cy_plan *plan, const char *key)
{
    const struct cy_plan_job *job = job_of(plan, key);
    if (!job)
        fail_msg("no job %s", key);
    return job;
}

static void assert_planned(const struct cy_plan *plan, const char *key, const char *from,
                           const char *to, int late)
{
    char found[CY_DAY_TEXT];
    const struct cy_plan_job *job = need(plan, key);
    assert_string_equal(cy_day_print(found, job->planned_from), from);
    assert_string_equal(cy_day_print(found, job->planned_to), to);
    assert_int_equal(job->late_days, late);
}

static void assert_unplanned(const struct cy_plan *plan, const char *key)
{
    assert_int_equal(need(plan, key)->planned_from, CY_DAY_NONE);
    assert_int_equal(need(plan, key)->planned_to, CY_DAY_NONE);
}

static const struct cy_schedule_week *week_of(const struct cy_plan *plan, const char *monday)
{
    for (size_t i = 0; i < plan->week_count; i++)
        if (plan->weeks[i].monday == day_at(monday))
            return &plan->weeks[i];
    fail_msg("no week of %s", monday);
    return NULL;
}

static double hours_planned(const struct cy_plan *plan)
{
    double sum = 0;
    for (size_t i = 0; i < plan->week_count; i++)
        sum += plan->weeks[i].hours;
    return sum;
}

/* ---- days ----------------------------------------------------------------------------------- */

static void work_begins_with_its_window(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-03", "05-14", "20 h"); /* a Monday to the Friday after next */
    add_work(&farm, "talk", "05-03", "05-14", NULL);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "dig.r.2027", "2027-05-03", "2027-05-05", 0);
    assert_unplanned(plan, "talk.r.2027"); /* nobody gave hours */
    assert_true(fabs(week_of(plan, "2027-05-03")->hours - 20) < 1e-9);
    assert_true(fabs(week_of(plan, "2027-05-03")->capacity - 40) < 1e-9);
    assert_true(week_of(plan, "2027-05-10")->hours == 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_does_not_fit_is_late(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-03", "05-07", "100 h"); /* 5 days of 8 hours in the window */
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "dig.r.2027", "2027-05-03", "2027-05-19", 12);
    assert_true(week_of(plan, "2027-05-03")->late_hours == 0);
    assert_true(fabs(week_of(plan, "2027-05-10")->late_hours - 40) < 1e-9);
    assert_true(fabs(week_of(plan, "2027-05-17")->late_hours - 20) < 1e-9);
    /* In time with 100 hours in 5 days: 20 hours a day, and not a hair less. */
    assert_true(plan->crew.scale >= 2.5 && plan->crew.scale < 2.5 + 1e-6);
    assert_int_equal(plan->crew.hopeless, 0);
    cy_plan_free(plan);
    put(&farm, "crew.hours_per_day", "20 h");
    plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "dig.r.2027", "2027-05-03", "2027-05-07", 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Work on last year's canes, left undone in winter, is late until they bloom and then past it. */
static void what_a_moment_ends_is_not_made_up(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    put(&farm, "job.thin-canes.lost_at", "bloom");
    add_row(&farm, "r", "natchez", "hedge", "2020-04-10");
    struct cy_plan *plan = plan_of(&farm, "2027-04-01", 0);
    const struct cy_plan_job *job = need(plan, "thin-canes.r.2027");
    assert_false(job->missed);
    assert_true(job->planned_to != CY_DAY_NONE);
    cy_day bloom = (cy_day)floor(cohort_of(plan, "r", 2026)->stage[CY_STAGE_BLOOM].p50 + 0.5);
    assert_int_equal(job->lost_on, bloom);
    cy_plan_free(plan);
    plan = plan_of(&farm, "2027-06-20", 0);
    assert_true(need(plan, "thin-canes.r.2027")->missed);
    assert_unplanned(plan, "thin-canes.r.2027");
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_cannot_wait_goes_first(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "weed", "05-03", "05-04", "16 h");
    add_work(&farm, "tip", "05-03", "05-14", "16 h");
    add_work(&farm, "walk", "05-03", "05-05", "4 h");
    put(&farm, "job.tip.cannot_wait", "yes");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "tip.r.2027", "2027-05-03", "2027-05-04", 0);
    assert_planned(plan, "weed.r.2027", "2027-05-05", "2027-05-06", 2);
    assert_planned(plan, "walk.r.2027", "2027-05-07", "2027-05-07", 2);
    assert_true(fabs(week_of(plan, "2027-05-03")->urgent_hours - 16) < 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* The sooner last day first, whatever opened first; what was begun is laid aside for it. */
static void the_earliest_last_day_goes_first(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "long", "05-03", "05-28", "40 h");
    add_work(&farm, "short", "05-05", "05-06", "16 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "short.r.2027", "2027-05-05", "2027-05-06", 0);
    assert_planned(plan, "long.r.2027", "2027-05-03", "2027-05-11", 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- the crew ------------------------------------------------------------------------------- */

static int64_t add_person(struct cy_farm *farm, const char *key, const char *hours)
{
    const struct cy_thing *crew = cy_farm_one(farm, CY_KIND_CREW);
    struct cy_thing *person = cy_farm_add(farm, CY_KIND_PERSON, crew->id, key, NULL, 0);
    struct cy_value value;
    assert_non_null(person);
    if (!hours)
        return person->id;
    assert_int_equal(cy_value_parse(&value, CY_PERSON_HOURS, hours, strlen(hours), NULL), CY_OK);
    assert_int_equal(cy_farm_set(farm, person->id, CY_PERSON_HOURS, &value), CY_OK);
    cy_value_dispose(&value);
    return person->id;
}

static double full_week(const struct cy_farm *farm, cy_basis *basis)
{
    struct cy_plan *plan = plan_of(farm, TODAY, 0);
    double capacity = week_of(plan, "2027-05-03")->capacity;
    *basis = plan->crew_basis;
    cy_plan_free(plan);
    return capacity;
}

static void the_crews_hours_are_typed_or_its_peoples(void **state)
{
    (void)state;
    struct cy_farm farm;
    cy_basis basis;
    assert_int_equal(cy_farm_init(&farm), CY_OK);
    add_place(&farm, "35.43", 0);
    assert_true(fabs(full_week(&farm, &basis) - 6 * 8) < 1e-9); /* the table's defaults */
    assert_true(basis & CY_BASIS_PLACEHOLDER);
    put(&farm, "crew.days_per_week", "5");
    add_person(&farm, "june", "4 h");
    add_person(&farm, "dell", "3.5 h");
    add_person(&farm, "guest", NULL);
    assert_true(fabs(full_week(&farm, &basis) - 5 * 7.5) < 1e-9);
    assert_false(basis & CY_BASIS_PLACEHOLDER);
    put(&farm, "crew.hours_per_day", "6 h");
    assert_true(fabs(full_week(&farm, &basis) - 5 * 6) < 1e-9);
    cy_farm_dispose(&farm);
}

static void nobody_works_on_other_days(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-01", "05-31", "32 h"); /* from a Saturday */
    put(&farm, "crew.days_per_week", "3");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "dig.r.2027", "2027-05-03", "2027-05-10", 0); /* 3 days, then Monday */
    cy_plan_free(plan);
    put(&farm, "crew.days_per_week", "7");
    plan = plan_of(&farm, TODAY, 0);
    assert_planned(plan, "dig.r.2027", "2027-05-01", "2027-05-04", 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void without_hours_nothing_is_planned(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-03", "05-14", "20 h");
    put(&farm, "crew.hours_per_day", "0 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_unplanned(plan, "dig.r.2027");
    assert_true(need(plan, "dig.r.2027")->late_days >= 1);
    assert_int_equal(plan->crew.hopeless, 1);
    cy_plan_free(plan);
    put(&farm, "crew.hours_per_day", "0.01 h"); /* out of days before it is done */
    plan = plan_of(&farm, TODAY, 0);
    assert_unplanned(plan, "dig.r.2027");
    assert_true(need(plan, "dig.r.2027")->late_days >= 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void more_crew_is_never_later(void **state)
{
    (void)state;
    static const char *const hours[] = {"0.5 h", "1 h", "2 h", "3 h", "5 h", "8 h", "40 h"};
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "a", "natchez", "hedge", "2020-03-20");
    add_row(&farm, "b", "gem", "both", "2020-03-20");
    add_row(&farm, "c", "marion", "trail", "2027-03-20");
    put(&farm, "job.tie-canes.after", "thin-canes");
    struct cy_plan *last = NULL;
    for (size_t i = 0; i < sizeof hours / sizeof *hours; i++) {
        put(&farm, "crew.hours_per_day", hours[i]);
        struct cy_plan *plan = plan_of(&farm, TODAY, 0);
        for (size_t k = 0; last && k < plan->job_count; k++) {
            const struct cy_plan_job *more = &plan->jobs[k], *less = &last->jobs[k];
            assert_string_equal(more->key, less->key);
            if (less->planned_to == CY_DAY_NONE)
                continue;
            assert_true(more->planned_to != CY_DAY_NONE);
            assert_true(more->planned_to <= less->planned_to);
            assert_true(more->late_days <= less->late_days);
        }
        cy_plan_free(last);
        last = plan;
    }
    cy_plan_free(last);
    cy_farm_dispose(&farm);
}

/* ---- what must come before ------------------------------------------------------------------ */

static void a_job_waits_for_the_one_before(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_row(&farm, "s", "natchez", "hedge", "2020-03-20");
    add_work(&farm, "thin", "05-03", "05-28", "16 h");
    add_work(&farm, "tie", "05-03", "05-21", "8 h");
    put(&farm, "job.tie.after", "thin");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const char *const rows[] = {"r", "s"};
    for (int i = 0; i < 2; i++) {
        char thin[32] = "thin._.2027", tie[32] = "tie._.2027";
        thin[5] = tie[4] = rows[i][0];
        assert_true(need(plan, tie)->planned_from >= need(plan, thin)->planned_to);
        assert_int_equal(need(plan, tie)->late_days, 0);
    }
    cy_plan_free(plan);
    ADD(&farm, DONE, "d", GROWER, "day", "2026-11-20", "row", "r", "job", "thin", "season", "2027");
    plan = plan_of(&farm, TODAY, 0);
    assert_true(need(plan, "thin.r.2027")->done);
    assert_planned(plan, "tie.r.2027", "2027-05-03", "2027-05-03", 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A row set in late summer belongs to the next season, and so does the planting itself. */
static void watering_waits_for_a_late_planting(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2027-08-20");
    put(&farm, "job.water-first-year.after", "plant");
    put(&farm, "site.soil", "sand");
    for (const struct cy_thing *month = NULL;
         (month = cy_farm_next(&farm, CY_KIND_MONTH, cy_farm_place(&farm)->id, month));) {
        struct cy_value dry = {.set = true, .number = 5, .basis = CY_BASIS_PUBLISHED};
        assert_int_equal(cy_farm_set(&farm, month->id, CY_MONTH_RAIN, &dry), CY_OK);
    }
    struct cy_plan *plan = plan_of(&farm, "2027-08-25", 2027);
    const struct cy_plan_job *plant = need(plan, "plant.r.2028");
    const struct cy_plan_job *water = need(plan, "water-first-year.r.2027");
    assert_true(plant->planned_to != CY_DAY_NONE);
    assert_true(water->planned_from >= plant->planned_to);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- today ---------------------------------------------------------------------------------- */

static void late_work_starts_today(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-03", "05-14", "20 h");
    struct cy_plan *plan = plan_of(&farm, "2027-06-02", 0); /* a Wednesday */
    assert_planned(plan, "dig.r.2027", "2027-06-02", "2027-06-04", 21);
    assert_int_equal(plan->weeks[0].monday, day_at("2027-05-31"));
    assert_true(fabs(plan->weeks[0].capacity - 24) < 1e-9); /* what is left of the week */
    assert_true(fabs(plan->weeks[0].late_hours - 20) < 1e-9);
    assert_int_equal(plan->crew.hopeless, 1);
    assert_true(plan->crew.scale == 0); /* nothing else asks for anybody */
    cy_plan_free(plan);
    plan = plan_of(&farm, "2027-05-12", 0); /* within its window: what is left of it */
    assert_planned(plan, "dig.r.2027", "2027-05-12", "2027-05-14", 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_is_done_takes_no_hours(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-03", "05-14", "20 h");
    add_work(&farm, "rake", "05-03", "05-14", "5 h");
    ADD(&farm, DONE, "d", GROWER, "day", "2026-11-20", "row", "r", "job", "dig", "season", "2027",
        "hours", "31 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_unplanned(plan, "dig.r.2027");
    assert_planned(plan, "rake.r.2027", "2027-05-03", "2027-05-03", 0);
    assert_true(fabs(hours_planned(plan) - 5) < 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A round that was left out is not made up once the next one has begun; the last is late. */
static void a_round_gives_way_to_the_next(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "weed", "05-03", "06-01", "4 h");
    put(&farm, "job.weed.every", "10 d");
    struct cy_plan *plan = plan_of(&farm, "2027-05-14", 0);
    assert_true(need(plan, "weed.r.2027")->missed);
    assert_unplanned(plan, "weed.r.2027");
    assert_false(need(plan, "weed.r.2027.2")->missed);
    assert_planned(plan, "weed.r.2027.2", "2027-05-14", "2027-05-14", 0);
    cy_plan_free(plan);
    plan = plan_of(&farm, "2027-06-07", 0);
    assert_true(need(plan, "weed.r.2027.2")->missed);
    assert_false(need(plan, "weed.r.2027.3")->missed);
    assert_planned(plan, "weed.r.2027.3", "2027-06-07", "2027-06-07", 6);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void fruit_that_fell_is_not_picked(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-03-20");
    struct cy_plan *plan = plan_of(&farm, "2027-10-01", 0);
    int rounds = 0;
    for (size_t i = 0; i < plan->job_count; i++) {
        if (!cy_streq(plan->jobs[i].kind_key, "pick"))
            continue;
        assert_true(plan->jobs[i].missed);
        assert_int_equal(plan->jobs[i].planned_to, CY_DAY_NONE);
        rounds++;
    }
    assert_true(rounds > 5);
    assert_false(need(plan, "thin-canes.r.2027")->missed);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- other seasons -------------------------------------------------------------------------- */

/* Planting is prepared in the season before: that work is not late in the plan of the next one. */
static void a_season_ahead_begins_with_its_first_work(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2029-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2029);
    const struct cy_plan_job *test = need(plan, "soil-test.r.2029");
    assert_true(test->to < plan->first);
    assert_int_equal(test->late_days, 0);
    assert_true(test->planned_from >= test->from && test->planned_to <= test->to);
    assert_true(plan->weeks[0].monday <= test->from && plan->weeks[0].monday > test->from - 7);
    assert_int_equal(plan->crew.hopeless, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_season_that_is_over_leaves_its_work_to_today(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-03", "05-14", "20 h");
    struct cy_plan *plan = plan_of(&farm, "2026-11-25", 2026);
    assert_planned(plan, "dig.r.2026", "2026-11-25", "2026-11-27", 197);
    assert_int_equal(plan->weeks[0].monday, day_at("2026-11-23"));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_farm_without_rows_has_weeks_all_the_same(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(plan->job_count, 0);
    assert_true(plan->week_count > 40);
    assert_true(plan->crew.scale == 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Whatever the day: no job before its window or before today, every hour in some week. */
static void all_hours_are_planned_once(void **state)
{
    (void)state;
    static const char *const todays[] = {"2026-11-01", "2027-02-20", "2027-06-10", "2027-10-31"};
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "a", "natchez", "hedge", "2020-03-20");
    add_row(&farm, "b", "gem", "both", "2027-03-20");
    for (size_t d = 0; d < sizeof todays / sizeof *todays; d++) {
        struct cy_plan *plan = plan_of(&farm, todays[d], 2027);
        double hours = 0;
        for (size_t i = 0; i < plan->job_count; i++) {
            const struct cy_plan_job *job = &plan->jobs[i];
            if (job->planned_to == CY_DAY_NONE) {
                assert_true(job->missed && job->to < plan->today);
                continue;
            }
            hours += job->hours;
            assert_true(job->planned_from >= job->from && job->planned_from >= plan->today);
            assert_true(job->planned_from <= job->planned_to);
            int late = job->planned_to - job->to;
            assert_int_equal(job->late_days, late > 0 ? late : 0);
        }
        assert_true(fabs(hours - hours_planned(plan)) < 1e-6);
        for (size_t i = 0; i < plan->week_count; i++) {
            const struct cy_schedule_week *week = &plan->weeks[i];
            assert_true(week->hours <= week->capacity + 1e-9);
            assert_true(week->late_hours <= week->hours + 1e-9);
        }
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(work_begins_with_its_window),
        cmocka_unit_test(what_does_not_fit_is_late),
        cmocka_unit_test(what_a_moment_ends_is_not_made_up),
        cmocka_unit_test(what_cannot_wait_goes_first),
        cmocka_unit_test(the_earliest_last_day_goes_first),
        cmocka_unit_test(the_crews_hours_are_typed_or_its_peoples),
        cmocka_unit_test(nobody_works_on_other_days),
        cmocka_unit_test(without_hours_nothing_is_planned),
        cmocka_unit_test(more_crew_is_never_later),
        cmocka_unit_test(a_job_waits_for_the_one_before),
        cmocka_unit_test(watering_waits_for_a_late_planting),
        cmocka_unit_test(late_work_starts_today),
        cmocka_unit_test(what_is_done_takes_no_hours),
        cmocka_unit_test(a_round_gives_way_to_the_next),
        cmocka_unit_test(fruit_that_fell_is_not_picked),
        cmocka_unit_test(a_season_ahead_begins_with_its_first_work),
        cmocka_unit_test(a_season_that_is_over_leaves_its_work_to_today),
        cmocka_unit_test(a_farm_without_rows_has_weeks_all_the_same),
        cmocka_unit_test(all_hours_are_planned_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
