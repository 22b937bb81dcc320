/* SPDX-License-Identifier: MIT
 * Every date and every job of a plan can be asked why: inputs, formula, result, basis. */
#include "season/farms.h"
#include "season/steps.h"

#define TODAY "2026-11-25"

static void farm_of_rows(struct cy_farm *farm)
{
    farm_north(farm);
    add_row(farm, "old", "natchez", "hedge", "2020-03-20");
    add_row(farm, "gem", "gem", "both", "2020-03-20");
    add_row(farm, "new", "natchez", "hedge", "2027-03-20");
    add_row(farm, "trail", "marion", "trail", NULL);
}

static size_t row_index(const struct cy_plan *plan, const char *key)
{
    return (size_t)(row_of(plan, key) - plan->rows);
}

/* Cohorts stand oldest first, from the season before the last. */
static size_t cohort_index(const struct cy_plan *plan, int year)
{
    return (size_t)(year - (plan->season - 2));
}

static void every_date_of_a_plan_has_its_reasons(void **state)
{
    (void)state;
    struct cy_farm farm;
    int asked[CY_STAGE_COUNT] = {0};
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (size_t row = 0; row < plan->row_count; row++) {
        for (int c = 0; c < plan->rows[row].cohort_count; c++) {
            const struct cy_plan_cohort *cohort = &plan->rows[row].cohorts[c];
            for (int stage = 0; stage < CY_STAGE_COUNT; stage++) {
                struct cy_trace trace = {0};
                bool told = cy_plan_why_stage(&trace, plan, row, (size_t)c, stage);
                bool applies =
                    cohort->never[stage] != CY_DOES_NOT_APPLY || !isnan(cohort->stage[stage].p50);
                assert_int_equal(told, applies);
                if (told) {
                    const struct cy_trace_step *last = &trace.steps[trace.count - 1];
                    assert_whole(&trace);
                    assert_string_equal(last->what, cy_stage_word(stage));
                    assert_int_equal(last->basis, cohort->stage[stage].basis);
                    asked[stage]++;
                }
                cy_trace_dispose(&trace);
            }
        }
    }
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++)
        assert_true(asked[stage] > 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_bloom_date_names_its_needs_and_their_sources(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "old"), cohort_index(plan, 2026),
                                  CY_STAGE_PEAK_PICK));
    assert_int_equal(trace.count, 6); /* the weathers, chill, winter, bloom, spring, the peak */
    const struct cy_trace_step *chill = step_of(&trace, "chill met");
    assert_true(input_of(chill, "chill need")->value == 500);
    assert_string_equal(input_of(chill, "counted as")->text, "hours below 45 F");
    const struct cy_trace_step *bloom = step_of(&trace, "bloom");
    assert_true(input_of(bloom, "heat to half bloom")->value == 14900);
    assert_true(fabs(input_of(bloom, "error of the bloom date")->value - 10.4) < 1e-9);
    assert_non_null(strstr(bloom->source, "Black et al."));
    const struct cy_trace_step *peak = step_of(&trace, "peak pick");
    assert_true(input_of(peak, "days from half bloom to peak")->value == 49);
    assert_true(input_of(peak, "days from first to last pick")->value == 32);
    /* The result is the plan's own figure. */
    char day[CY_DAY_TEXT];
    double middle = cohort_of(plan, "old", 2026)->stage[CY_STAGE_PEAK_PICK].p50;
    assert_non_null(strstr(peak->result, cy_day_print(day, (cy_day)floor(middle + 0.5))));
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_placeholder_shows_in_every_step_made_from_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "trail"), cohort_index(plan, 2026),
                                  CY_STAGE_FIRST_PICK)); /* the table's bloom heat */
    const struct cy_trace_step *bloom = step_of(&trace, "bloom");
    assert_int_equal(input_of(bloom, "heat to half bloom")->basis, CY_BASIS_PLACEHOLDER);
    assert_true(bloom->basis & CY_BASIS_PLACEHOLDER);
    assert_true(step_of(&trace, "first pick")->basis & CY_BASIS_PLACEHOLDER);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "old"), cohort_index(plan, 2027),
                                  CY_STAGE_LATERALS));
    assert_true(step_of(&trace, "first tip")->basis & CY_BASIS_PLACEHOLDER); /* growth */
    assert_true(step_of(&trace, "laterals")->basis & CY_BASIS_PLACEHOLDER);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "old"), cohort_index(plan, 2026),
                                  CY_STAGE_FIRST_PICK));
    for (size_t i = 0; i < trace.count; i++)
        assert_false(trace.steps[i].basis & CY_BASIS_PLACEHOLDER);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_was_seen_ends_the_asking(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    ADD(&farm, SEEN, "s1", GROWER, "day", "2027-05-02", "row", "old", "what", "full bloom");
    ADD(&farm, SEEN, "s2", GROWER, "day", "2027-03-28", "row", "gem", "what", "bud break");
    ADD(&farm, SEEN, "s3", GROWER, "day", "2027-05-01", "row", "gem", "what", "cane height",
        "height", "20 in");
    ADD(&farm, SEEN, "s4", GROWER, "day", "2027-04-28", "row", "trail", "what", "first bloom");
    struct cy_plan *plan = plan_of(&farm, "2027-05-04", 0);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "old"), cohort_index(plan, 2026),
                                  CY_STAGE_PEAK_PICK));
    assert_int_equal(trace.count, 5); /* the weathers, what was seen, the cold, the peak */
    assert_string_equal(input_of(step_of(&trace, "bloom"), "noted for")->text, "2027-05-02");
    assert_whole(&trace);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "gem"), cohort_index(plan, 2026),
                                  CY_STAGE_BLOOM));
    assert_string_equal(input_of(step_of(&trace, "bloom"), "bud break seen")->text, "2027-03-28");
    assert_whole(&trace);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "gem"), cohort_index(plan, 2027),
                                  CY_STAGE_TIP));
    assert_true(fabs(input_of(step_of(&trace, "first tip"), "height seen")->value - 0.508) < 1e-9);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "trail"), cohort_index(plan, 2026),
                                  CY_STAGE_BLOOM));
    assert_true(step_of(&trace, "bloom")->basis & CY_BASIS_PLACEHOLDER); /* days to half bloom */
    assert_true(find_input(step_of(&trace, "bloom"), "days from first to half bloom"));
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_never_comes_says_never(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    put(&farm, "cultivar.natchez.chill_need", "2500 h");
    put(&farm, "cultivar.natchez.chill_rule", "Utah units");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_stage(&trace, plan, row_index(plan, "old"), cohort_index(plan, 2026),
                                  CY_STAGE_BLOOM));
    assert_string_equal(step_of(&trace, "bloom")->result, "never");
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void nothing_is_told_of_what_is_not_in_the_plan(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_trace trace = {0};
    assert_false(cy_plan_why_stage(&trace, plan, 99, 0, CY_STAGE_BLOOM));
    assert_false(cy_plan_why_stage(&trace, plan, 0, CY_PLAN_COHORTS, CY_STAGE_BLOOM));
    assert_false(cy_plan_why_stage(&trace, plan, 0, 0, CY_STAGE_COUNT));
    assert_false(cy_plan_why_job(&trace, plan, plan->job_count));
    assert_false(cy_plan_why_stage(&trace, plan, row_index(plan, "old"), cohort_index(plan, 2027),
                                   CY_STAGE_AUTUMN_BLOOM));
    assert_int_equal(trace.count, 0);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- jobs ------------------------------------------------------------------------------------ */

static void every_kind_of_work_has_its_reasons(void **state)
{
    (void)state;
    static const char *const kinds[] = {
        "soil-test", "set-posts", "string-wire", "plant", "water-first-year",
        "first-tip", "tie-canes", "thin-canes",  "pick",  "take-out-spent"};
    struct cy_farm farm;
    int asked[10] = {0};
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        struct cy_trace trace = {0};
        assert_true(cy_plan_why_job(&trace, plan, i));
        assert_whole(&trace);
        const struct cy_trace_step *window = step_of(&trace, "the job's window");
        char day[CY_DAY_TEXT];
        assert_int_equal(window->basis, job->basis);
        assert_non_null(strstr(window->result, cy_day_print(day, job->from)));
        assert_non_null(strstr(window->result, cy_day_print(day, job->to)));
        assert_true(step_of(&trace, "hours of work")->value == job->hours);
        for (int k = 0; k < 10; k++)
            asked[k] += cy_streq(kinds[k], job->kind_key);
        cy_trace_dispose(&trace);
    }
    for (int k = 0; k < 10; k++)
        assert_true(asked[k] > 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void why(struct cy_trace *trace, const struct cy_plan *plan, const char *key)
{
    *trace = (struct cy_trace){0};
    for (size_t i = 0; i < plan->job_count; i++)
        if (cy_streq(plan->jobs[i].key, key)) {
            assert_true(cy_plan_why_job(trace, plan, i));
            return;
        }
    fail_msg("no job %s", key);
}

static void a_job_names_what_opens_and_closes_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_trace trace;
    why(&trace, plan, "set-posts.new.2027");
    const struct cy_trace_step *window = step_of(&trace, "the job's window");
    assert_string_equal(input_of(window, "opens with")->text, "planting");
    assert_string_equal(input_of(window, "planting")->text, "2027-03-20");
    assert_true(input_of(window, "days added")->value == -60);
    const struct cy_trace_step *hours = step_of(&trace, "hours of work");
    assert_true(fabs(input_of(hours, "row length")->value - 30.48) < 1e-9);
    assert_true(hours->basis & CY_BASIS_GROWER); /* the length */
    cy_trace_dispose(&trace);
    why(&trace, plan, "take-out-spent.old.2027");
    window = step_of(&trace, "the job's window");
    assert_string_equal(input_of(window, "from")->text, "10-01");
    assert_non_null(strstr(input_of(window, "to")->source, "Arkansas"));
    cy_trace_dispose(&trace);
    why(&trace, plan, "pick.old.2027.2");
    window = step_of(&trace, "the job's window");
    assert_true(input_of(window, "days between rounds")->value == 3);
    assert_true(input_of(window, "round")->value == 2);
    assert_non_null(step_of(&trace, "first pick"));
    cy_trace_dispose(&trace);
    why(&trace, plan, "first-tip.old.2027");
    assert_true(find_input(step_of(&trace, "first tip"), "growth rate"));
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_dry_week_shows_the_water_missing(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    size_t i = 0;
    while (i < plan->job_count && !cy_streq(plan->jobs[i].kind_key, "water-first-year"))
        i++;
    assert_true(i < plan->job_count);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_job(&trace, plan, i));
    const struct cy_trace_step *dry = step_of(&trace, "water missing in the week");
    assert_true(dry->value == plan->jobs[i].reason.figure.p50);
    assert_non_null(strstr(dry->source, "Kentucky"));
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_date_of_a_plan_has_its_reasons),
        cmocka_unit_test(a_bloom_date_names_its_needs_and_their_sources),
        cmocka_unit_test(a_placeholder_shows_in_every_step_made_from_it),
        cmocka_unit_test(what_was_seen_ends_the_asking),
        cmocka_unit_test(what_never_comes_says_never),
        cmocka_unit_test(nothing_is_told_of_what_is_not_in_the_plan),
        cmocka_unit_test(every_kind_of_work_has_its_reasons),
        cmocka_unit_test(a_job_names_what_opens_and_closes_it),
        cmocka_unit_test(a_dry_week_shows_the_water_missing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
