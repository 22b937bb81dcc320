/* SPDX-License-Identifier: MIT
 * Weights, days, the crew's weeks and the frost watch can be asked why, and what their steps show
 * is what the plan has. */
#include "season/farms.h"

#include <caneyear/season/frostwatch.h>
#include <caneyear/season/load.h>
#include <caneyear/season/supply.h>

#include "season/steps.h"

#define TODAY "2027-06-14"

static const struct cy_trace_step *last_of(const struct cy_trace *trace)
{
    assert_true(trace->count > 0);
    return &trace->steps[trace->count - 1];
}

static void farm_of_rows(struct cy_farm *farm)
{
    farm_north(farm);
    put(farm, "cultivar.natchez.full_yield", "1 kg/m2");
    put(farm, "cultivar.gem.full_yield", "0.5 kg/m2");
    add_row(farm, "old", "natchez", "hedge", "2019-03-20");
    add_row(farm, "young", "natchez", "hedge", "2025-03-20");
    add_row(farm, "both", "gem", "both", "2019-03-20");
    add_row(farm, "unknown", "marion", "trail", "2019-03-20");
    put(farm, "row.old.filled", "80 %");
    put(farm, "row.young.missing", "5");
}

static size_t place_of(const struct cy_plan *plan, const char *key)
{
    return (size_t)(row_of(plan, key) - plan->rows);
}

/* ---- a row's crop --------------------------------------------------------------------------- */

static void every_weight_of_a_crop_has_its_reasons(void **state)
{
    (void)state;
    struct cy_farm farm;
    int asked = 0;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (size_t row = 0; row < plan->row_count; row++)
        for (int i = 0; i < plan->rows[row].crop_count; i++) {
            const struct cy_plan_crop *crop = &plan->rows[row].crops[i];
            for (int week = CY_WHY_ALL_WEEKS; week < crop->weeks; week++) {
                struct cy_trace trace = {0};
                assert_true(cy_plan_why_crop(&trace, plan, row, (size_t)i, week));
                assert_whole(&trace);
                const struct cy_figure *figure =
                    week == CY_WHY_ALL_WEEKS ? &crop->total_kg : &crop->week_kg[week];
                assert_true(last_of(&trace)->value == figure->p50);
                assert_int_equal(last_of(&trace)->basis, figure->basis);
                assert_true(input_of(last_of(&trace), "in 1 year of 10, less than")->value ==
                            figure->p10);
                cy_trace_dispose(&trace);
                asked++;
            }
        }
    assert_true(asked > 20);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* 1 kg/m2 at 10 ft between rows on 100 ft, 80 % of it filled, full-grown. */
static void the_inputs_of_a_weight_multiply_to_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trace trace = {0};
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_true(cy_plan_why_crop(&trace, plan, place_of(plan, "old"), 0, CY_WHY_ALL_WEEKS));
    const struct cy_trace_step *age = step_of(&trace, "share of a full crop at the row's age");
    const struct cy_trace_step *unhurt =
        step_of(&trace, "what the row would bear without frost or winter injury");
    assert_true(input_of(age, "season of the row's bearing life")->value == 9);
    double product = input_of(unhurt, "full yield")->value *
                     input_of(unhurt, "row spacing")->value *
                     input_of(unhurt, "row length")->value *
                     input_of(unhurt, "of the row, filled")->value * age->value;
    assert_true(input_of(unhurt, "of the row, filled")->value == 0.8);
    assert_true(fabs(unhurt->value - product) < 1e-9 * product);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_crop(&trace, plan, place_of(plan, "young"), 0, CY_WHY_ALL_WEEKS));
    assert_true(step_of(&trace, "share of a full crop at the row's age")->value == 0.875);
    unhurt = step_of(&trace, "what the row would bear without frost or winter injury");
    assert_true(input_of(unhurt, "plants missing")->value == 5);
    cy_trace_dispose(&trace);
    /* One yield is said of a primocane type, that of its autumn crop. */
    assert_true(cy_plan_why_crop(&trace, plan, place_of(plan, "both"), 0, CY_WHY_ALL_WEEKS));
    unhurt = step_of(&trace, "what the row would bear without frost or winter injury");
    assert_non_null(find_input(unhurt, "that yield"));
    assert_true(unhurt->basis & CY_BASIS_PLACEHOLDER);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_crop(&trace, plan, place_of(plan, "both"), 1, CY_WHY_ALL_WEEKS));
    assert_string_equal(last_of(&trace)->what, "the autumn crop");
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void counted_canes_show_in_the_weight(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trace trace = {0};
    farm_of_rows(&farm);
    struct cy_plan *before = plan_of(&farm, TODAY, 0);
    ADD(&farm, SEEN, "s1", GROWER, "day", "2027-02-20", "row", "old", "what", "cane count", "count",
        "20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    size_t row = place_of(plan, "old");
    assert_true(cy_plan_why_crop(&trace, plan, row, 0, CY_WHY_ALL_WEEKS));
    assert_whole(&trace);
    const struct cy_trace_step *counted =
        step_of(&trace, "canes counted, against what the row's gaps let expect");
    assert_true(counted->basis & CY_BASIS_OBSERVED);
    assert_true(fabs(counted->value * before->rows[row].crops[0].total_kg.p50 -
                     plan->rows[row].crops[0].total_kg.p50) < 1e-9);
    cy_trace_dispose(&trace);
    cy_plan_free(before);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void nothing_is_told_of_weights_that_are_not_there(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trace trace = {0};
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_false(cy_plan_why_crop(&trace, plan, plan->row_count, 0, CY_WHY_ALL_WEEKS));
    assert_false(cy_plan_why_crop(&trace, plan, place_of(plan, "unknown"), 0, CY_WHY_ALL_WEEKS));
    assert_false(cy_plan_why_crop(&trace, plan, 0, 0, plan->rows[0].crops[0].weeks));
    assert_false(cy_plan_why_crop(&trace, plan, 0, 0, -2));
    assert_false(cy_plan_why_day(&trace, plan, plan->row_count, plan->today));
    assert_int_equal(trace.count, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- the farm's supply ---------------------------------------------------------------------- */

static double sum_of_rows(const struct cy_trace_step *step, size_t *named)
{
    double sum = 0;
    *named = 0;
    for (size_t i = 0; i < step->input_count; i++) {
        if (strncmp(step->inputs[i].name, "in 1 year", 9) == 0)
            continue;
        sum += step->inputs[i].value;
        ++*named;
    }
    return sum;
}

static void every_figure_of_the_supply_names_its_rows(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_supply supply;
    char key[] = "row-a";
    size_t named;
    farm_of_rows(&farm);
    for (; key[4] <= 'p'; key[4]++)
        add_row(&farm, key, "natchez", "hedge", "2019-03-20");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(cy_supply_of(&supply, plan), CY_OK);
    for (size_t week = 0; week < supply.week_count; week++) {
        struct cy_trace trace = {0};
        assert_true(cy_supply_why(&trace, plan, &supply, CY_SUPPLY_WEEK, week));
        assert_whole(&trace);
        assert_true(last_of(&trace)->value == supply.weeks[week].kg.p50);
        assert_true(fabs(sum_of_rows(last_of(&trace), &named) - supply.weeks[week].kg.p50) < 1e-6);
        cy_trace_dispose(&trace);
    }
    struct cy_trace trace = {0};
    assert_true(cy_supply_why(&trace, plan, &supply, CY_SUPPLY_TOTAL, 0));
    assert_true(fabs(sum_of_rows(last_of(&trace), &named) - supply.total_kg.p50) < 1e-6);
    /* Twelve rows by name, the heaviest first, and the rest together. */
    assert_int_equal(named, 13);
    assert_true(last_of(&trace)->inputs[0].value >= last_of(&trace)->inputs[1].value);
    assert_string_equal(last_of(&trace)->inputs[12].name, "all other rows");
    cy_trace_dispose(&trace);
    static const enum cy_supply_figure others[] = {CY_SUPPLY_FIRST, CY_SUPPLY_PEAK, CY_SUPPLY_LAST,
                                                   CY_SUPPLY_GAPS,  CY_SUPPLY_LOST, CY_SUPPLY_DAY};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        assert_true(cy_supply_why(&trace, plan, &supply, others[i], 0));
        assert_whole(&trace);
        cy_trace_dispose(&trace);
    }
    assert_true(cy_supply_why(&trace, plan, &supply, CY_SUPPLY_LOST, 0));
    assert_true(last_of(&trace)->value == supply.rows[0].picking.lost_kg);
    cy_trace_dispose(&trace);
    assert_false(cy_supply_why(&trace, plan, &supply, CY_SUPPLY_WEEK, supply.week_count));
    assert_false(cy_supply_why(&trace, plan, &supply, CY_SUPPLY_LOST, supply.row_count));
    assert_false(cy_supply_why(&trace, plan, &supply, CY_SUPPLY_DAY, 7 * supply.week_count));
    cy_supply_dispose(&supply);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- a day, a week, a cold night ------------------------------------------------------------ */

static void a_day_says_what_the_canes_do_and_what_is_ripe(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    size_t row = place_of(plan, "old");
    for (cy_day day = plan->first; day <= plan->last; day += 13) {
        struct cy_trace trace = {0};
        assert_true(cy_plan_why_day(&trace, plan, row, day));
        assert_whole(&trace);
        assert_string_equal(step_of(&trace, "what the canes of 2026 do")->result,
                            cy_state_word(cy_plan_state(cohort_of(plan, "old", 2026), day)));
        assert_string_equal(step_of(&trace, "what the canes of 2027 do")->result,
                            cy_state_word(cy_plan_state(cohort_of(plan, "old", 2027), day)));
        assert_true(step_of(&trace, "ripe in the row")->value ==
                    cy_plan_ripe_kg(&plan->rows[row], day));
        for (size_t i = 0; i < trace.count; i++)
            for (size_t k = 0; k < i; k++)
                assert_false(cy_trace_same_step(&trace.steps[i], &trace.steps[k]));
        cy_trace_dispose(&trace);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_week_of_the_crew_says_what_there_is_and_what_is_planned(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trace trace = {0};
    farm_of_rows(&farm);
    put(&farm, "crew.hours_per_day", "3 h");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_week_load load = cy_plan_week_load(plan, day_at("2027-07-08"));
    int late = 0;
    for (size_t i = 0; i < plan->job_count; i++)
        late += cy_plan_job_late(plan, &plan->jobs[i]);
    assert_true(cy_plan_why_week(&trace, plan, day_at("2027-07-08")));
    assert_whole(&trace);
    const struct cy_trace_step *there = step_of(&trace, "hours that the crew has in the week");
    assert_true(there->value == load.crew_hours);
    assert_true(there->value == input_of(there, "hours a day of all hands")->value *
                                    input_of(there, "working days a week")->value);
    assert_true(step_of(&trace, "hours planned in the week")->value == load.hours);
    assert_true(step_of(&trace, "jobs late in all")->value == late);
    cy_trace_dispose(&trace);
    assert_true(cy_plan_why_crew(&trace, plan));
    assert_whole(&trace);
    assert_true(last_of(&trace)->value == plan->crew.scale);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void what_frost_would_kill_says_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    size_t asked = 0;
    farm_of_rows(&farm);
    put(&farm, "row.old.colder_nights", "2 dC");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (cy_day day = plan->first; day <= plan->last; day += 9) {
        struct cy_frostwatch watch;
        assert_int_equal(cy_frostwatch_of(&watch, plan, day), CY_OK);
        for (size_t i = 0; i < watch.count; i++, asked++) {
            struct cy_trace trace = {0};
            assert_true(cy_frostwatch_why(&trace, plan, &watch, i));
            assert_whole(&trace);
            const struct cy_trace_step *last = last_of(&trace);
            assert_string_equal(last->what, cy_frost_part_word(watch.risks[i].part));
            if (isnan(watch.risks[i].station_c)) {
                assert_non_null(last->result);
            } else {
                double colder = input_of(last, "nights colder than the station's")->value;
                assert_true(fabs(last->value - watch.risks[i].station_c) < 1e-9);
                assert_true(fabs(input_of(last, "lost in the row at")->value + colder -
                                 last->value) < 1e-9);
            }
            cy_trace_dispose(&trace);
        }
        struct cy_trace none = {0};
        assert_false(cy_frostwatch_why(&none, plan, &watch, watch.count));
        cy_frostwatch_dispose(&watch);
    }
    assert_true(asked > 20);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A job's own steps, and the date that brings it on. */
static void a_jobs_own_steps_leave_out_its_stage(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_rows(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (size_t i = 0; i < plan->job_count; i++) {
        struct cy_trace whole = {0}, own = {0}, stage = {0};
        int cohort;
        assert_string_equal(plan->rows[plan->jobs[i].row_place].key, plan->jobs[i].row_key);
        assert_true(cy_plan_why_job(&whole, plan, i));
        assert_true(cy_plan_why_job_itself(&own, plan, i, &cohort));
        if (cohort >= 0)
            cy_plan_why_stage(&stage, plan, plan->jobs[i].row_place, (size_t)cohort,
                              plan->jobs[i].reason.stage);
        assert_int_equal(whole.count, own.count + stage.count);
        for (size_t k = 0; k < own.count; k++)
            assert_true(cy_trace_same_step(&own.steps[k], &whole.steps[stage.count + k]));
        cy_trace_dispose(&whole);
        cy_trace_dispose(&own);
        cy_trace_dispose(&stage);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_weight_of_a_crop_has_its_reasons),
        cmocka_unit_test(the_inputs_of_a_weight_multiply_to_it),
        cmocka_unit_test(counted_canes_show_in_the_weight),
        cmocka_unit_test(nothing_is_told_of_weights_that_are_not_there),
        cmocka_unit_test(every_figure_of_the_supply_names_its_rows),
        cmocka_unit_test(a_day_says_what_the_canes_do_and_what_is_ripe),
        cmocka_unit_test(a_week_of_the_crew_says_what_there_is_and_what_is_planned),
        cmocka_unit_test(what_frost_would_kill_says_why),
        cmocka_unit_test(a_jobs_own_steps_leave_out_its_stage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
