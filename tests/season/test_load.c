/* SPDX-License-Identifier: MIT
 * The hours of a week: how jobs fall into it, what is late, what nobody gave hours for. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "base/near.h"

#include <caneyear/season/load.h>

#define MONDAY cy_day_of(2027, 5, 10)

static struct cy_plan plan_of(struct cy_plan_job *jobs, size_t count)
{
    struct cy_plan plan = {.today = MONDAY + 1, .jobs = jobs, .job_count = count};
    assert_int_equal(cy_farm_init(&plan.farm), CY_OK);
    return plan;
}

static void set_crew(struct cy_plan *plan, const char *hours, const char *days)
{
    const struct cy_thing *crew = cy_farm_one(&plan->farm, CY_KIND_CREW);
    const enum cy_field fields[] = {CY_CREW_HOURS, CY_CREW_DAYS};
    const char *const texts[] = {hours, days};
    for (int i = 0; i < 2; i++) {
        struct cy_value value;
        assert_int_equal(cy_value_parse(&value, fields[i], texts[i], strlen(texts[i]), NULL),
                         CY_OK);
        assert_int_equal(cy_farm_set(&plan->farm, crew->id, fields[i], &value), CY_OK);
        cy_value_dispose(&value);
    }
}

static void a_job_spreads_evenly_over_its_window(void **state)
{
    (void)state;
    struct cy_plan_job job = {.from = MONDAY + 4, .to = MONDAY + 13, .hours = 10};
    struct cy_plan plan = plan_of(&job, 1);
    set_crew(&plan, "15 h", "6");
    struct cy_week_load first = cy_plan_week_load(&plan, MONDAY + 6);
    struct cy_week_load second = cy_plan_week_load(&plan, MONDAY + 7);
    assert_int_equal(first.monday, MONDAY);
    assert_int_equal(second.monday, MONDAY + 7);
    assert_near(first.hours, 3, 1e-12);
    assert_near(second.hours, 7, 1e-12);
    assert_near(first.crew_hours, 90, 1e-12);
    assert_near(first.share, 3.0 / 90, 1e-12);
    assert_near(cy_plan_week_load(&plan, MONDAY + 14).hours, 0, 0);
    cy_farm_dispose(&plan.farm);
}

static void what_is_late_weighs_on_todays_week(void **state)
{
    (void)state;
    struct cy_plan_job job = {.from = MONDAY - 40, .to = MONDAY - 30, .hours = 6};
    struct cy_plan plan = plan_of(&job, 1);
    assert_true(cy_plan_job_late(&plan, &job));
    assert_near(cy_plan_week_load(&plan, MONDAY - 35).hours, 0, 0);
    assert_near(cy_plan_week_load(&plan, MONDAY).hours, 6, 1e-12);
    job.done = true;
    assert_false(cy_plan_job_late(&plan, &job));
    assert_near(cy_plan_week_load(&plan, MONDAY).hours, 0, 0);
    cy_farm_dispose(&plan.farm);
}

static void a_job_whose_window_ends_today_is_not_late(void **state)
{
    (void)state;
    struct cy_plan_job job = {.from = MONDAY, .to = MONDAY + 1, .hours = 1};
    struct cy_plan plan = plan_of(&job, 1);
    assert_false(cy_plan_job_late(&plan, &job));
    job.to = MONDAY;
    assert_true(cy_plan_job_late(&plan, &job));
    cy_farm_dispose(&plan.farm);
}

static void hours_that_nobody_gave_are_counted_apart(void **state)
{
    (void)state;
    struct cy_plan_job jobs[] = {
        {.from = MONDAY, .to = MONDAY + 6, .hours = NAN, .basis = CY_BASIS_PLACEHOLDER},
        {.from = MONDAY, .to = MONDAY + 6, .hours = 2, .basis = CY_BASIS_GROWER}};
    struct cy_plan plan = plan_of(jobs, 2);
    set_crew(&plan, "8 h", "5");
    struct cy_week_load load = cy_plan_week_load(&plan, MONDAY);
    assert_int_equal(load.jobs, 2);
    assert_int_equal(load.unknown, 1);
    assert_near(load.hours, 2, 1e-12);
    assert_int_equal(load.basis, CY_BASIS_GROWER);
    cy_farm_dispose(&plan.farm);
}

static void without_a_crew_there_is_no_share(void **state)
{
    (void)state;
    struct cy_plan plan = plan_of(NULL, 0);
    assert_true(cy_plan_week_load(&plan, MONDAY).basis & CY_BASIS_PLACEHOLDER);
    set_crew(&plan, "0 h", "6");
    assert_true(isnan(cy_plan_week_load(&plan, MONDAY).share));
    cy_farm_dispose(&plan.farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_job_spreads_evenly_over_its_window),
        cmocka_unit_test(what_is_late_weighs_on_todays_week),
        cmocka_unit_test(a_job_whose_window_ends_today_is_not_late),
        cmocka_unit_test(hours_that_nobody_gave_are_counted_apart),
        cmocka_unit_test(without_a_crew_there_is_no_share),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
