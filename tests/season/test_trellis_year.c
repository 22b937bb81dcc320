/* SPDX-License-Identifier: MIT
 * Wires through the year: the threshold against a solution of every day, and the tighten job. */
#include "season/trellis_farm.h"

#include <caneyear/crop/calendar.h>

/* The planner's own ensemble for a plan. */
static struct cy_ensemble ensemble_of(const struct cy_plan *plan, int count)
{
    struct cy_ensemble ensemble;
    struct cy_ensemble_request request = {.latitude_deg = plan->latitude_deg,
                                          .today = plan->today,
                                          .first = plan->first - 30,
                                          .last = plan->last,
                                          .count = count,
                                          .kinds = 1,
                                          .seed = 1};
    cy_basis basis;
    assert_int_equal(cy_farm_normals(&request.normals, &basis, &plan->farm), CY_OK);
    assert_int_equal(cy_ensemble_make(&ensemble, &request), CY_OK);
    return ensemble;
}

static double day_mean(const struct cy_member *member, cy_day day)
{
    int at = cy_weather_index(&member->weather, day);
    return (member->weather.tmin_c[at] + member->weather.tmax_c[at]) / 2;
}

/* The first day from midwinter on whose week was under working tension, each day solved. */
static double slack_by_day(const struct cy_trellis_frame *frame, int wire,
                           const struct cy_plan *plan, const struct cy_member *member)
{
    struct cy_trellis_metal metal;
    const struct cy_trellis_load bare = {0};
    struct cy_wire_change_input input;
    struct cy_wire_change_result result;
    int under = 0;
    assert_int_equal(cy_trellis_metal_of(&metal, &frame->wires[wire]), CY_REFUSED_NOT);
    cy_trellis_wire_change(&input, frame, wire, &metal, &bare);
    for (cy_day day = cy_day_of(plan->season, 1, 1) - 6; day <= plan->last; day++) {
        input.rise_k = day_mean(member, day) - frame->wires[wire].set_at_c.value;
        assert_int_equal(cy_wire_change(&result, &input, NULL), CY_OK);
        under = result.tension_n < frame->wires[wire].working_n.value ? under + 1 : 0;
        if (under >= CY_TRELLIS_SLACK_DAYS)
            return day;
    }
    return NAN;
}

static void a_threshold_finds_the_day_that_solving_finds(void **state)
{
    (void)state;
    static const char *const working[] = {"225 lbf", "215 lbf", "205 lbf", "198 lbf", "150 lbf"};
    enum { MEMBERS = 12 };
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.end_lean", "0.2 in");
    for (size_t i = 0; i < sizeof working / sizeof *working; i++) {
        struct cy_trellis_climate climate;
        struct cy_trellis_verdict verdict;
        int reached = 0;
        put(&farm, "trellis.wires.wire.top.working", working[i]);
        struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
        struct cy_ensemble ensemble = ensemble_of(plan, MEMBERS);
        struct cy_trellis_frame frame = frame_of(plan);
        assert_int_equal(cy_trellis_climate_of(&climate, plan, &ensemble), CY_OK);
        assert_int_equal(cy_trellis_judge(&verdict, &frame), CY_OK);
        assert_int_equal(cy_trellis_wires_of_year(&verdict, &frame, &climate, &ensemble), CY_OK);
        double earliest = INFINITY, latest = -INFINITY;
        for (int member = 0; member < MEMBERS; member++) {
            struct cy_ensemble one = {.members = &ensemble.members[member], .count = 1};
            struct cy_trellis_climate alone;
            double mean, scratch, day = slack_by_day(&frame, 1, plan, &ensemble.members[member]);
            assert_int_equal(cy_trellis_climate_of(&alone, plan, &one), CY_OK);
            struct cy_figure slack =
                cy_trellis_slack(&mean, &alone, &one, verdict.wires[1].slack_above_c, &scratch);
            assert_true(isnan(day) ? slack.never == 1 : slack.p50 == day);
            cy_trellis_climate_dispose(&alone);
            if (isnan(day))
                continue;
            reached++;
            earliest = fmin(earliest, day);
            latest = fmax(latest, day);
        }
        const struct cy_figure *slack = &verdict.wires[1].slack;
        near(slack->never, 1 - (double)reached / MEMBERS, 1e-12);
        if (reached > 0)
            assert_true(earliest <= slack->p10 && slack->p10 <= slack->p50 &&
                        slack->p50 <= slack->p90 && slack->p90 <= latest);
        cy_trellis_verdict_dispose(&verdict);
        cy_trellis_climate_dispose(&climate);
        cy_ensemble_dispose(&ensemble);
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

static void the_year_has_its_order(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_wire *wire = &cy_trellis_of(plan, 0)->wires[1];
    for (int month = 0; month < 12; month++) {
        assert_true(wire->month_n[month].p10 <= wire->month_n[month].p50 &&
                    wire->month_n[month].p50 <= wire->month_n[month].p90);
        assert_true(wire->month_n[month].p50 < wire->cold_n);
        assert_true(wire->month_n[month].p50 > wire->heat_n);
    }
    assert_true(wire->month_n[0].p50 > wire->month_n[6].p50); /* January, July */
    assert_true(wire->month_sag_m[0] < wire->month_sag_m[6]);
    assert_true(wire->heat_set_cold_n > wire->cold_n);
    assert_true(wire->fruit_n > wire->set_n && wire->fruit_sag_m > wire->month_sag_m[6]);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* What is wound in at the week's mean temperature brings the wire back to what was set. */
static void the_length_to_take_up_is_enough(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.end_lean", "0.3 in");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_wire *wire = &cy_trellis_of(plan, 0)->wires[1];
    struct cy_trellis_frame frame = frame_of(plan);
    struct cy_trellis_metal metal;
    const struct cy_trellis_load bare = {.temperature_c = wire->slack_mean_c};
    struct cy_wire_change_input input;
    struct cy_wire_change_result result;
    assert_int_equal(cy_trellis_metal_of(&metal, &frame.wires[1]), CY_REFUSED_NOT);
    cy_trellis_wire_change(&input, &frame, 1, &metal, &bare);
    assert_int_equal(cy_wire_change(&result, &input, NULL), CY_OK);
    near(result.tension_n, wire->slack_n, 1e-9);
    input.take_up_m = wire->take_up_m;
    assert_int_equal(cy_wire_change(&result, &input, NULL), CY_OK);
    near(result.tension_n, wire->set_n, 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_wire_set_on_a_cold_day_is_tightened(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_trace trace = {0};
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.top.set_at", "25 F");
    put(&farm, "trellis.wires.wire.low.working", "60 lbf");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_plan_job *job = job_of(plan, "tighten-wire.a.2027");
    assert_non_null(job);
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
    assert_int_equal(job->reason.kind, CY_REASON_WIRE);
    assert_int_equal(job->reason.wires, 1); /* the low one is far above its working tension */
    near(job->reason.height_m, 5 * FT, 1e-9);
    near(job->reason.working_n, 225 * LB, 1e-9);
    assert_true(job->reason.force_n < job->reason.working_n);
    assert_true(job->reason.length_m > 0 && job->reason.length_m == verdict->wires[1].take_up_m);
    assert_true(job->reason.figure.p50 == verdict->wires[1].slack.p50);
    assert_true(job->basis & CY_BASIS_GROWER);
    size_t index = (size_t)(job - plan->jobs);
    assert_true(cy_plan_why_job(&trace, plan, index));
    assert_string_equal(trace.steps[0].what, "the wire on the hottest day of one year in ten");
    assert_string_equal(trace.steps[1].what, "slack for a week");
    assert_string_equal(trace.steps[2].what, "length to take up");
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void a_wire_far_above_its_working_tension_is_left_alone(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.low.working", "80 lbf");
    put(&farm, "trellis.wires.wire.top.working", "80 lbf");
    put(&farm, "trellis.wires.wire.top.tension", "250 lbf");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(jobs_of(plan, "tighten-wire", "a"), 0);
    assert_int_equal(cy_trellis_of(plan, 0)->slack_wire, -1);
    assert_true(cy_trellis_of(plan, 0)->wires[0].slack.never == 1);
    cy_plan_free(plan);
    /* An end that leans takes it all the same. */
    put(&farm, "trellis.wires.end_lean", "1.5 in");
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(jobs_of(plan, "tighten-wire", "a"), 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* South of the equator the count begins on 1 July. */
static void the_south_tightens_in_its_own_spring(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_at(&farm, "-38", 0);
    add_row(&farm, "a", "natchez", "hedge", "2020-09-20");
    add_wire(&farm, "wires", "top", "5 ft", "225 lbf", "60 F");
    ADD(&farm, JOB, "tighten-wire", PRACTICE, "from", "wires slack", "to", "wires slack", "rows",
        "standing rows", "needs", "a trellis");
    struct cy_plan *plan = fresh_plan_of(&farm, "2027-08-01", 0);
    const struct cy_figure *slack = &cy_trellis_of(plan, 0)->wires[0].slack;
    assert_true(slack->p10 > day_at("2027-08-01") && slack->p90 < day_at("2028-01-01"));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_threshold_finds_the_day_that_solving_finds),
        cmocka_unit_test(the_year_has_its_order),
        cmocka_unit_test(the_length_to_take_up_is_enough),
        cmocka_unit_test(a_wire_set_on_a_cold_day_is_tightened),
        cmocka_unit_test(a_wire_far_above_its_working_tension_is_left_alone),
        cmocka_unit_test(the_south_tightens_in_its_own_spring),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
