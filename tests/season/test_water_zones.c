/* SPDX-License-Identifier: MIT
 * Zones: turns within a supply, run times, the season against the source, drip lines, and why. */
#include "season/farms.h"

#include <caneyear/base/random.h>

#include "season/water_parts.h"
#include "support/soak.h"

#define TODAY "2027-07-01"

static void assert_near(double actual, double expected, double within)
{
    if (!(fabs(actual - expected) <= within))
        fail_msg("%.12g is not %.12g within %g", actual, expected, within);
}

/* ---- turns ---------------------------------------------------------------------------------- */

static void zones_go_where_they_first_fit(void **state)
{
    (void)state;
    const double flow[] = {400, 300, 150, 250, NAN, 900};
    int turn[6], parts[6];
    assert_int_equal(cy_water_turns(turn, parts, flow, 6, 600), 3);
    static const int turns[] = {1, 2, 1, 2, 0, 3}, in_parts[] = {1, 1, 1, 1, 1, 2};
    assert_memory_equal(turn, turns, sizeof turn);
    assert_memory_equal(parts, in_parts, sizeof parts);
    /* All at once where nobody said what there is. */
    assert_int_equal(cy_water_turns(turn, parts, flow, 6, NAN), 1);
    assert_int_equal(turn[5], 1);
    assert_int_equal(turn[4], 0);
    assert_int_equal(cy_water_turns(turn, parts, flow, 0, 600), 0);
}

static void turns_never_ask_for_more_than_the_supply(void **state)
{
    (void)state;
    enum { MOST = 20 };
    struct cy_random random;
    cy_random_seed(&random, 3, 1);
    for (int i = 0; i < soak(2000, 50); i++) {
        double flow[MOST], sum[MOST + 1] = {0};
        int turn[MOST], parts[MOST], sharing[MOST + 1] = {0};
        size_t count = 1 + (size_t)(cy_random_uniform(&random) * (MOST - 1));
        double supply = 50 + 1000 * cy_random_uniform(&random);
        for (size_t k = 0; k < count; k++)
            flow[k] = 1 + 1500 * cy_random_uniform(&random) * cy_random_uniform(&random);
        int turns = cy_water_turns(turn, parts, flow, count, supply);
        for (size_t k = 0; k < count; k++) {
            assert_true(turn[k] >= 1 && turn[k] <= turns && parts[k] >= 1);
            sum[turn[k]] += flow[k] / parts[k];
            sharing[turn[k]]++;
            if (parts[k] > 1) /* no more of them than it takes */
                assert_true(flow[k] / (parts[k] - 1) > supply);
        }
        for (int t = 1; t <= turns; t++) {
            assert_true(sharing[t] > 0);
            assert_true(sum[t] <= supply * 1.000001);
        }
        for (size_t k = 0; k < count; k++)
            if (parts[k] > 1)
                assert_int_equal(sharing[turn[k]], 1);
    }
}

/* ---- zones ---------------------------------------------------------------------------------- */

static void add_zone(struct cy_farm *farm, const char *key, const char *emitter, const char *supply)
{
    ADD(farm, ZONE, key, GROWER, "emitter", emitter, "emitter_spacing", "2 ft", "pressure",
        "15 psi", "bore", "0.62 in", "supply", supply, "wetted_width", "3 ft", "rule", "balance");
}

static void add_row_on(struct cy_farm *farm, const char *key, const char *zone, const char *length)
{
    ADD(farm, ROW, key, GROWER, "length", length, "spacing", "4 ft", "cultivar", "natchez",
        "practice", "hedge", "planted", "2019-03-20", "zone", zone);
}

static void two_zones(struct cy_farm *farm)
{
    farm_north(farm);
    add_zone(farm, "east", "0.5 gal/h", "100 gal/h");
    add_zone(farm, "west", "0.5 gal/h", "120 gal/h");
    add_zone(farm, "bare", "0.5 gal/h", "1 gal/h"); /* no row: it counts for nothing */
    add_row_on(farm, "e1", "east", "200 ft");
    add_row_on(farm, "e2", "east", "100 ft");
    add_row_on(farm, "w1", "west", "200 ft");
    put(farm, "site.soil", "sandy loam");
}

static void a_zone_runs_for_its_thirstiest_row(void **state)
{
    (void)state;
    struct cy_farm farm;
    two_zones(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    const struct cy_water_plan *water = plan->water;
    int week = cy_water_week_of(water, day_at(TODAY));
    assert_int_equal(water->zone_count, 2);
    assert_int_equal(water->source_count, 1);
    const struct cy_water_zone *east = &water->zones[0];
    const struct cy_water_zone_week *one = &east->weeks[week];
    assert_near(east->flow_lph, 150 * 0.5 * 3.785411784, 1e-9);
    assert_near(east->strip_m2, 300 * 0.3048 * 0.9144, 1e-9);
    /* Its rows are of one kind and need the same. */
    assert_near(one->need_mm.p50, water->rows[0].weeks[week].need_mm.p50, 1e-12);
    assert_near(one->need_mm.p90, water->rows[1].weeks[week].need_mm.p90, 1e-12);
    /* Nine tenths of what is pumped reach the roots. */
    assert_near(one->litres.p50, one->need_mm.p50 * east->strip_m2 / 0.9, 1e-9);
    assert_near(one->hours.p50, one->litres.p50 / east->flow_lph, 1e-9);
    /* And by the run time of the reference: an inch over 3 ft at 0.5 gal/h every 2 ft. */
    struct cy_water_run_time run = {.net_mm = one->need_mm.p50,
                                    .width_m = 0.9144,
                                    .flow_lph = 0.5 * 3.785411784,
                                    .spacing_m = 0.6096,
                                    .lines = 1,
                                    .efficiency = 0.9};
    assert_near(one->hours.p50, cy_water_run_time(&run).minutes / 60, 1e-9);
    /* 75 and 50 gal/h on a source of 100: one after the other. */
    assert_near(water->sources[0].supply_lph, 100 * 3.785411784, 1e-9);
    assert_int_equal(water->sources[0].turns, 2);
    assert_near(water->sources[0].hours[week],
                one->hours.p50 + water->zones[1].weeks[week].hours.p50, 1e-9);
    cy_plan_free(plan);

    put(&farm, "zone.east.supply", "125 gal/h");
    put(&farm, "zone.west.supply", "125 gal/h");
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(plan->water->sources[0].turns, 1);
    assert_near(plan->water->sources[0].hours[week], plan->water->zones[0].weeks[week].hours.p50,
                1e-9);
    cy_plan_free(plan);

    put(&farm, "zone.west.draws_on", "the pond");
    put(&farm, "zone.west.supply", "30 gal/h");
    plan = plan_of(&farm, TODAY, 0);
    assert_int_equal(plan->water->source_count, 2);
    assert_int_equal(plan->water->zones[1].source, 1);
    assert_int_equal(plan->water->zones[1].parts, 2);
    assert_near(plan->water->sources[1].hours[week],
                2 * plan->water->zones[1].weeks[week].hours.p50, 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void the_season_is_held_against_the_source(void **state)
{
    (void)state;
    struct cy_farm farm;
    two_zones(&farm);
    struct cy_plan *plan = plan_of(&farm, "2026-12-01", 0);
    const struct cy_water_source *source = &plan->water->sources[0];
    double least = source->season_l.p10, most = source->season_l.p90;
    assert_true(isnan(source->short_share) && isnan(source->season_limit_l));
    assert_true(least > 0 && least < source->season_l.p50 && source->season_l.p50 < most);
    /* From a season's start on the zones' needs are all ahead: what the rows need, pumped. */
    double rows_l = plan->water->rows[0].season_mm.p50 * plan->water->zones[0].strip_m2 / 0.9;
    assert_near(plan->water->zones[0].season_l.p50, rows_l, 1e-6 * rows_l);
    assert_near(source->season_l.p50, rows_l * 5 / 3, 1e-6 * rows_l);
    cy_plan_free(plan);
    put(&farm, "zone.east.season_limit", "0.1 gal");
    plan = plan_of(&farm, "2026-12-01", 0);
    assert_near(plan->water->sources[0].short_share, 1, 0);
    cy_plan_free(plan);
    put(&farm, "zone.east.season_limit", "10000000 gal");
    plan = plan_of(&farm, "2026-12-01", 0);
    assert_near(plan->water->sources[0].short_share, 0, 0);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- lines ---------------------------------------------------------------------------------- */

/* The reference's lateral (climate-water.md 6, an independent script): 150 emitters 2 ft apart in
 * 0.62 in, q = k sqrt(h) with k = 0.5 / sqrt(23.08) gal/h, 21.4267 ft at the inlet: 70.4482 gal/h,
 * flows from 0.46544 to 0.48145, 1.4267 ft of friction, uniformity 92.8103 with cv 0.05; the
 * friction of the metric form is 0.8 % less here. */
static void a_published_lateral(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_text pressure = {0}, flow = {0};
    farm_north(&farm);
    add_zone(&farm, "east", "0.5 gal/h", "100 gal/h");
    add_row_on(&farm, "e1", "east", "300 ft");
    cy_text_add_number(&pressure, 21.4267 * 0.3048 * 9806.65);
    cy_text_add(&pressure, " Pa");
    cy_text_add_number(&flow, 0.5 * sqrt(21.4267 / 23.08));
    cy_text_add(&flow, " gal/h");
    put(&farm, "zone.east.pressure", cy_text_get(&pressure));
    put(&farm, "zone.east.emitter", cy_text_get(&flow));
    put(&farm, "row.e1.spacing", "2 ft");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_water_row_line line;
    assert_int_equal(cy_water_row_line(&line, plan, 0), CY_OK);
    assert_int_equal(line.line.emitters, 150);
    assert_int_equal(line.line.emitters_per_plant, 1);
    assert_near(line.result.flow_total_lph / 3.785411784, 70.4482, 0.02);
    assert_near(line.result.flow_least_lph / 3.785411784, 0.46544, 2e-4);
    assert_near(line.result.flow_most_lph / 3.785411784, 0.48145, 2e-4);
    assert_near(line.result.variation, 0.0333, 4e-4);
    assert_near(line.result.friction_m / 0.3048, 1.4267, 0.015);
    assert_near(line.result.uniformity_pct, 92.8103, 0.01);
    assert_near(line.line.slope, 0, 0);
    assert_true(line.fits && line.longest_m > 300 * 0.3048);
    assert_true(line.basis & CY_BASIS_PLACEHOLDER); /* nobody gave the slope */
    /* One emitter more than the longest is too long, one fewer is not. */
    struct cy_water_line_result result;
    struct cy_water_line longer = line.line;
    longer.emitters = (int)floor(line.longest_m / line.line.spacing_m + 0.5);
    assert_int_equal(cy_water_line_solve(&result, NULL, &longer), CY_OK);
    assert_true(result.variation <= line.variation);
    longer.emitters++;
    assert_int_equal(cy_water_line_solve(&result, NULL, &longer), CY_OK);
    assert_true(result.variation > line.variation);
    cy_text_dispose(&pressure);
    cy_text_dispose(&flow);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A slope that faces south falls along a row that runs south and rises along one that runs
 * north. */
static void the_slope_goes_along_the_row(void **state)
{
    (void)state;
    static const struct {
        const char *bearing;
        double along;
    } rows[] = {{"180 deg", -1}, {"0 deg", 1}, {"90 deg", 0}, {"240 deg", -0.5}};
    struct cy_farm farm;
    struct cy_water_row_line line;
    two_zones(&farm);
    put(&farm, "site.slope", "5 deg");
    put(&farm, "site.aspect", "180 deg");
    double end_m[4];
    for (int i = 0; i < 4; i++) {
        put(&farm, "row.e1.bearing", rows[i].bearing);
        struct cy_plan *plan = plan_of(&farm, TODAY, 0);
        assert_int_equal(cy_water_row_line(&line, plan, 0), CY_OK);
        assert_near(line.line.slope, rows[i].along * tan(5 * acos(-1.0) / 180), 1e-12);
        end_m[i] = line.result.head_end_m;
        cy_plan_free(plan);
    }
    assert_true(end_m[0] > end_m[3] && end_m[3] > end_m[2] && end_m[2] > end_m[1]);
    cy_farm_dispose(&farm);
}

/* ---- why ------------------------------------------------------------------------------------ */

static void every_figure_can_be_asked_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    two_zones(&farm);
    ADD(&farm, ROW, "young", GROWER, "length", "100 ft", "cultivar", "natchez", "planted",
        "2027-03-20", "zone", "west");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    int week = cy_water_week_of(plan->water, plan->today);
    for (int item = CY_WATER_WHY_TODAY; item <= CY_WATER_WHY_SOURCE; item++) {
        struct cy_trace trace = {0};
        size_t which = item == CY_WATER_WHY_INCH ? 3 : 0;
        assert_true(cy_plan_why_water(&trace, plan, (enum cy_water_item)item, which, week));
        assert_false(trace.failed);
        assert_true(trace.count >= 1);
        for (size_t i = 0; i < trace.count; i++) {
            assert_true(*trace.steps[i].what && *trace.steps[i].formula);
            assert_true(trace.steps[i].result || !isnan(trace.steps[i].value));
        }
        cy_trace_dispose(&trace);
    }
    /* An inch is for rows in their first year. */
    struct cy_trace trace = {0};
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_INCH, 0, week));
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_RUN, 2, week));
    assert_false(cy_plan_why_water(&trace, plan, CY_WATER_WHY_SOURCE, 1, week));
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zones_go_where_they_first_fit),
        cmocka_unit_test(turns_never_ask_for_more_than_the_supply),
        cmocka_unit_test(a_zone_runs_for_its_thirstiest_row),
        cmocka_unit_test(the_season_is_held_against_the_source),
        cmocka_unit_test(a_published_lateral),
        cmocka_unit_test(the_slope_goes_along_the_row),
        cmocka_unit_test(every_figure_can_be_asked_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
