/* SPDX-License-Identifier: MIT
 * The hours of a week, read from what the crew has planned: today's week, weeks outside the plan,
 * what is late, what nobody gave hours for. */
#include "season/farms.h"

#include <caneyear/season/load.h>

#define TODAY "2027-05-11" /* a Tuesday */

static void assert_near(double actual, double expected)
{
    if (!(fabs(actual - expected) <= 1e-9))
        fail_msg("%.12g is not %.12g", actual, expected);
}

/* One grown row and no work but what a test adds; 15 hours on 6 days a week. */
static void idle_farm(struct cy_farm *farm)
{
    assert_int_equal(cy_farm_init(farm), CY_OK);
    add_place(farm, "35.43", 0);
    add_cultivars(farm);
    add_practices(farm);
    add_row(farm, "r", "natchez", "hedge", "2020-03-20");
    put(farm, "crew.hours_per_day", "15 h");
    put(farm, "crew.days_per_week", "6");
}

static void add_work(struct cy_farm *farm, const char *key, const char *from, const char *to,
                     const char *hours)
{
    ADD(farm, JOB, key, GROWER, "from", "date", "from_date", from, "to", "date", "to_date", to,
        hours ? "hours" : NULL, hours);
}

static struct cy_week_load week(const struct cy_plan *plan, const char *day)
{
    return cy_plan_week_load(plan, day_at(day));
}

static void a_week_holds_what_is_planned_in_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-20", "06-30", "40 h"); /* from a Thursday: 3 days and no Sunday */
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_week_load first = week(plan, "2027-05-23"), second = week(plan, "2027-05-24");
    assert_int_equal(first.monday, day_at("2027-05-17"));
    assert_int_equal(second.monday, day_at("2027-05-24"));
    assert_near(first.hours, 40);
    assert_near(second.hours, 0);
    assert_near(first.crew_hours, 90);
    assert_near(first.share, 40.0 / 90);
    assert_int_equal(first.jobs, 1);
    assert_int_equal(second.jobs, 0);
    cy_plan_free(plan);
    put(&farm, "crew.hours_per_day", "10 h");
    plan = plan_of(&farm, TODAY, 0);
    assert_near(week(plan, "2027-05-20").hours, 30);
    assert_near(week(plan, "2027-05-24").hours, 10);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* The week agrees with the plan's own, which the text prints. */
static void weeks_agree_with_the_plan(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "a", "natchez", "hedge", "2020-03-20");
    add_row(&farm, "b", "gem", "both", "2020-03-20");
    put(&farm, "crew.hours_per_day", "1 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (size_t i = 0; i < plan->week_count; i++) {
        struct cy_week_load load = cy_plan_week_load(plan, plan->weeks[i].monday + 3);
        assert_near(load.hours, plan->weeks[i].hours);
        assert_near(load.crew_hours, plan->weeks[i].capacity);
        assert_near(load.late_hours, plan->weeks[i].late_hours);
        assert_true((load.jobs > 0) == (load.hours > 0));
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_is_late_weighs_on_todays_week(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "04-01", "04-10", "6 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_true(cy_plan_job_late(plan, job_of(plan, "dig.r.2027")));
    assert_near(week(plan, TODAY).hours, 6);
    assert_near(week(plan, TODAY).late_hours, 6);
    assert_near(week(plan, TODAY).crew_hours, 75); /* Tuesday to Saturday */
    /* A week that is over holds nothing, of the hours that it had. */
    assert_near(week(plan, "2027-04-06").hours, 0);
    assert_near(week(plan, "2027-04-06").crew_hours, 90);
    cy_plan_free(plan);
    ADD(&farm, DONE, "d", GROWER, "day", "2027-04-09", "row", "r", "job", "dig", "season", "2027");
    plan = plan_of(&farm, TODAY, 0);
    assert_false(cy_plan_job_late(plan, job_of(plan, "dig.r.2027")));
    assert_near(week(plan, TODAY).hours, 0);
    assert_int_equal(week(plan, TODAY).jobs, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_job_whose_window_ends_today_is_not_late(void **state)
{
    (void)state;
    struct cy_plan plan = {.today = day_at(TODAY)};
    struct cy_plan_job job = {.from = plan.today - 1, .to = plan.today, .hours = 1};
    assert_false(cy_plan_job_late(&plan, &job));
    job.to = plan.today - 1;
    assert_true(cy_plan_job_late(&plan, &job));
    job.done = true;
    assert_false(cy_plan_job_late(&plan, &job));
}

static void hours_that_nobody_gave_are_counted_apart(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-17", "05-22", "2 h");
    add_work(&farm, "talk", "05-10", "05-18", NULL);
    add_work(&farm, "ask", "03-10", "03-18", NULL); /* late: today's week */
    put_as(&farm, "job.talk.from_date", "05-10", CY_BASIS_PLACEHOLDER);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_week_load load = week(plan, "2027-05-17");
    assert_int_equal(load.jobs, 2);
    assert_int_equal(load.unknown, 1);
    assert_near(load.hours, 2);
    assert_int_equal(load.basis, CY_BASIS_GROWER);
    assert_int_equal(week(plan, TODAY).unknown, 2);
    assert_int_equal(week(plan, "2027-05-24").unknown, 0);
    assert_int_equal(week(plan, "2027-03-15").unknown, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_placeholder_marks_the_weeks_that_rest_on_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    add_work(&farm, "dig", "05-17", "05-22", "2 h");
    put_as(&farm, "job.dig.hours", "2 h", CY_BASIS_PLACEHOLDER);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_true(week(plan, "2027-05-17").basis & CY_BASIS_PLACEHOLDER);
    assert_false(week(plan, "2027-05-24").basis & CY_BASIS_PLACEHOLDER);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void without_a_crew_there_is_no_share(void **state)
{
    (void)state;
    struct cy_farm farm;
    idle_farm(&farm);
    put(&farm, "crew.hours_per_day", "0 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_true(isnan(week(plan, TODAY).share));
    assert_true(isnan(week(plan, "2020-05-11").share));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_week_holds_what_is_planned_in_it),
        cmocka_unit_test(weeks_agree_with_the_plan),
        cmocka_unit_test(what_is_late_weighs_on_todays_week),
        cmocka_unit_test(a_job_whose_window_ends_today_is_not_late),
        cmocka_unit_test(hours_that_nobody_gave_are_counted_apart),
        cmocka_unit_test(a_placeholder_marks_the_weeks_that_rest_on_it),
        cmocka_unit_test(without_a_crew_there_is_no_share),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
