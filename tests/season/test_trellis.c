/* SPDX-License-Identifier: MIT
 * Verdicts on trellises: published cases, what must only grow or shrink, units, what is refused,
 * what is remembered. */
#include "season/trellis_farm.h"

#include <caneyear/base/random.h>

/* ---- published cases --------------------------------------------------------------------------
 */

/* A 50 mph service gust on a 25 ft bay, canes from 2 to 5 ft: 383.2 lb and 1341.2 ft-lb; in class 4
 * soil a 4 in. post 2 ft deep is allowed 19.6 lb at 3.5 ft, 80.0 at the last (reference cases of
 * wind, IBC and Broms worked out from the published formulas). */
static void a_leafy_bay_asks_what_the_reference_says(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_practice *practice = &cy_trellis_of(plan, 0)->practice;
    near(practice->asks_n, 383.2 * LB, 2e-4);
    near(practice->at_m, 3.5 * FT, 1e-9);
    near(practice->asks_n * practice->at_m, 1341.2 * LB * FT, 2e-4);
    near(practice->customary_n, 19.6 * LB, 3e-3);
    near(practice->allows_n, practice->customary_n, 1e-9); /* it is a customary post */
    near(practice->ultimate_n, 80.0 * LB, 1e-3);
    near(practice->ratio, 383.2 / 19.6, 3e-3);
    /* At that gust the formula allows what is asked, and at that depth. */
    struct cy_trellis_frame frame = frame_of(plan);
    frame.gust_m_s.value = practice->held_gust_m_s;
    struct cy_trellis_verdict held = judged(&frame);
    near(check_of(&held, CY_CHECK_POST_GROUND, -1)->use, 1, 1e-9);
    cy_trellis_verdict_dispose(&held);
    frame = frame_of(plan);
    frame.post_depth_m.value = practice->need_depth_m;
    held = judged(&frame);
    near(check_of(&held, CY_CHECK_POST_GROUND, -1)->use, 1, 1e-6);
    cy_trellis_verdict_dispose(&held);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* 200 lb at 60 F, a bare 25 ft bay of 12.5 gauge: 258.000 lb 40 F colder, 287.010 lb 60 F colder
 * (change of state, cases of the reference). */
static void a_winter_night_tightens_as_published(void **state)
{
    (void)state;
    static const struct {
        double colder_f, lb;
    } cases[] = {{40, 258.000}, {60, 287.010}};
    struct cy_farm farm;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    for (int i = 0; i < 2; i++) {
        struct cy_trellis_frame frame = frame_of(plan);
        frame.cold_c = frame.wires[0].set_at_c.value - cases[i].colder_f * DF;
        frame.heat_c = frame.wires[0].set_at_c.value; /* set in the heat: the same */
        struct cy_trellis_verdict verdict = judged(&frame);
        const struct cy_trellis_check *cold = check_of(&verdict, CY_CHECK_WIRE_COLD, 0);
        near(cold->demand, cases[i].lb * LB, 1e-5);
        /* Half of 170 ksi (NRCS Georgia, 2006) over 0.0076977 in2: 1308.6 lb. */
        near(cold->capacity, 1308.6 / 2 * LB, 1e-4);
        /* Everyday share of the strength at 250 lb would be 19.10 %; here 200 lb over a quarter. */
        near(check_of(&verdict, CY_CHECK_WIRE_SET, 0)->use, 200 / (1308.6 / 4), 1e-4);
        cy_trellis_verdict_dispose(&verdict);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* An inch of lean over 300 ft takes 62.01 lb off 12.5 gauge. */
static void an_inch_of_lean_costs_what_is_published(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "row.a.length", "300 ft");
    put(&farm, "trellis.wires.end_lean", "1 in");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    near(cy_trellis_of(plan, 0)->wires[1].lean_n, 62.01 * LB, 2e-3); /* sag gives a little back */
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Ice 1.244 t (d + t) lb/ft (overhead-line practice, checked by a handbook's conductor table);
 * under 1 lb/ft more a 25 ft bay of 200 lb goes to 278.710 lb at the same temperature. */
static void ice_weighs_on_a_wire_as_published(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "site.ice", "0.5 in");
    put(&farm, "trellis.wires.wire.low.set_at", "32 F"); /* ice is reckoned with at 0 C */
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_trellis_frame frame = frame_of(plan);
    struct cy_trellis_load load;
    struct cy_trellis_metal metal;
    struct cy_wire_change_input input;
    assert_true(cy_trellis_load_of(&load, &frame, CY_CASE_ICE));
    assert_int_equal(cy_trellis_metal_of(&metal, &frame.wires[0]), CY_REFUSED_NOT);
    cy_trellis_wire_change(&input, &frame, 0, &metal, &load);
    near(input.new_load_n_m, 1.244 * 0.5 * (0.099 + 0.5) * LB / FT, 1e-3);
    /* As thick as weighs 1 lb/ft: 1.244 t (d + t) = 1. */
    double inches = (-0.099 + sqrt(0.099 * 0.099 + 4 / 1.244)) / 2;
    frame.ice_m.value = inches * IN;
    near(cy_trellis_tension(NULL, &frame, 0, CY_CASE_ICE), 278.710 * LB, 1e-3);
    frame.ice_m.value = NAN;
    assert_false(cy_trellis_load_of(&load, &frame, CY_CASE_ICE));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void further_wires_are_said_to_be_left_out(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    for (int i = 2; i < CY_TRELLIS_WIRES + 2; i++) {
        char key[] = "wa";
        key[1] = (char)('a' + i);
        add_wire(&farm, "wires", key, "4 ft", "200 lbf", "60 F");
    }
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(cy_trellis_of(plan, 0)->wire_count, CY_TRELLIS_WIRES);
    assert_true(cy_trellis_of(plan, 0)->notes & CY_TRELLIS_MANY_WIRES);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* Three wires of 250 lb at 3, 4 and 5 ft, rail at 4.5 ft, posts 8 ft apart: rail 666.67 lb,
 * diagonal 764.90, uplift 375.0; the rail's Euler load 16,149 lb is of E 1.2e6 psi, ours of 1.4e6.
 */
static void an_h_brace_carries_what_is_published(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_pull pulls[CY_PULLS_MAX];
    struct cy_end_input input;
    struct cy_end_result result;
    trellis_farm(&farm);
    add_wire(&farm, "wires", "middle", "4 ft", "250 lbf", "60 F");
    put(&farm, "trellis.wires.wire.low.tension", "250 lbf");
    put(&farm, "trellis.wires.wire.top.tension", "250 lbf");
    put(&farm, "trellis.wires.end", "h");
    put(&farm, "trellis.wires.brace_height", "4.5 ft");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_trellis_frame frame = frame_of(plan);
    frame.cold_c = frame.wires[0].set_at_c.value;
    assert_true(cy_trellis_end_input(&input, pulls, &frame, CY_CASE_COLD));
    assert_int_equal(cy_end_brace(&result, &input, NULL), CY_OK);
    near(result.rail_n, 666.67 * LB, 1e-5);
    near(result.diagonal_n, 764.90 * LB, 1e-5);
    near(result.uplift_n, 375.0 * LB, 1e-5);
    struct cy_trellis_verdict verdict = judged(&frame);
    near(check_of(&verdict, CY_CHECK_RAIL, -1)->capacity, 16149.0 * 1.4 / 1.2 / 3 * LB, 1e-4);
    cy_trellis_verdict_dispose(&verdict);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- what must only grow or shrink ------------------------------------------------------------
 */

static double between(struct cy_random *random, double low, double high)
{
    return low + (high - low) * cy_random_uniform(random);
}

static struct cy_trellis_frame any_frame(struct cy_random *random,
                                         const struct cy_trellis_frame *like)
{
    struct cy_trellis_frame frame = *like;
    frame.form = (enum cy_form)(int)between(random, 0, 3);
    frame.end = (enum cy_row_end)(int)between(random, 0, 4);
    frame.habit = (enum cy_habit)(int)between(random, 0, 3);
    frame.length_m.value = between(random, 16, 150);
    frame.spacing_m.value = between(random, 3, 12);
    frame.post_size_m.value = between(random, 0.07, 0.2);
    frame.post_depth_m.value = between(random, 0.4, 1.5);
    frame.end_depth_m.value = between(random, 0.5, 1.5);
    frame.gust_m_s.value = between(random, 8, 50);
    frame.crop_kg_m.value = between(random, 0, 8);
    for (int i = 0; i < frame.wire_count; i++)
        frame.wires[i].tension_n.value = between(random, 300, 1200);
    return frame;
}

static void more_is_never_less(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_random random;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    struct cy_trellis_frame like = frame_of(plan);
    cy_random_seed(&random, 7, 0);
    for (int round = 0; round < 300; round++) {
        struct cy_trellis_frame frame = any_frame(&random, &like), other = frame;
        struct cy_trellis_verdict a = judged(&frame), b;
        double near_sag, far_sag;
        /* A longer span never sags less. */
        cy_trellis_tension(&near_sag, &frame, 0, CY_CASE_FRUIT);
        other.spacing_m.value *= between(&random, 1, 3);
        cy_trellis_tension(&far_sag, &other, 0, CY_CASE_FRUIT);
        assert_true(far_sag >= near_sag * (1 - 1e-9));
        /* Deeper never holds less. */
        other = frame;
        other.post_depth_m.value += between(&random, 0, 1);
        b = judged(&other);
        assert_true(check_of(&b, CY_CHECK_POST_GROUND, -1)->use <=
                    check_of(&a, CY_CHECK_POST_GROUND, -1)->use * (1 + 1e-9));
        cy_trellis_verdict_dispose(&b);
        other = frame;
        other.end_depth_m.value += between(&random, 0, 1);
        b = judged(&other);
        assert_true(check_of(&b, CY_CHECK_ACROSS_GROUND, -1)->use <=
                    check_of(&a, CY_CHECK_ACROSS_GROUND, -1)->use * (1 + 1e-9));
        assert_true(check_of(&b, CY_CHECK_END_GROUND, -1)->use <=
                    check_of(&a, CY_CHECK_END_GROUND, -1)->use * (1 + 1e-9));
        cy_trellis_verdict_dispose(&b);
        /* More wind never lowers the use of a post, nor of a wire under load. */
        other = frame;
        other.gust_m_s.value += between(&random, 0, 20);
        b = judged(&other);
        for (int i = 0; i < a.check_count; i++)
            assert_true(b.checks[i].kind == a.checks[i].kind &&
                        !(b.checks[i].use < a.checks[i].use * (1 - 1e-9)));
        cy_trellis_verdict_dispose(&b);
        cy_trellis_verdict_dispose(&a);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- units ------------------------------------------------------------------------------------
 */

static void the_same_in_feet_and_in_metres(void **state)
{
    (void)state;
    static const char *const fields[][3] = {
        {"row.a.length", "250 ft", "76.2 m"},
        {"row.a.row_spacing", "10 ft", "3.048 m"},
        {"trellis.wires.post_spacing", "25 ft", "7.62 m"},
        {"trellis.wires.post_size", "5 in", "127 mm"},
        {"trellis.wires.post_depth", "30 in", "0.762 m"},
        {"trellis.wires.end_post_depth", "42 in", "1.0668 m"},
        {"trellis.wires.end_lean", "0.5 in", "12.7 mm"},
        {"trellis.wires.wire.low.height", "36 in", "0.9144 m"},
        {"trellis.wires.wire.low.tension", "200 lbf", "889.6443230521 N"},
        {"trellis.wires.wire.low.set_at", "50 F", "10 C"},
        {"trellis.wires.wire.top.set_at", "50 F", "10 C"},
        {"site.gust", "50 mph", "22.352 m/s"},
        {"site.ice", "0.5 in", "12.7 mm"},
    };
    struct cy_farm farms[2];
    struct cy_plan *plans[2];
    for (int i = 0; i < 2; i++) {
        trellis_farm(&farms[i]);
        put(&farms[i], "farm.units", i ? "metric" : "us");
        put(&farms[i], "trellis.wires.form", "T");
        put(&farms[i], "trellis.wires.end", "slant");
        for (size_t f = 0; f < sizeof fields / sizeof *fields; f++)
            put(&farms[i], fields[f][0], fields[f][1 + i]);
        plans[i] = fresh_plan_of(&farms[i], TODAY, 2027);
    }
    const struct cy_trellis_verdict *us = cy_trellis_of(plans[0], 0);
    const struct cy_trellis_verdict *metric = cy_trellis_of(plans[1], 0);
    assert_int_equal(us->check_count, metric->check_count);
    assert_int_equal(us->bays, 10);
    assert_int_equal(metric->bays, 10);
    assert_int_equal(us->governing, metric->governing);
    for (int i = 0; i < us->check_count; i++) {
        near(metric->checks[i].demand, us->checks[i].demand, 1e-9);
        near(metric->checks[i].capacity, us->checks[i].capacity, 1e-9);
        assert_int_equal(metric->checks[i].in, us->checks[i].in);
    }
    for (int i = 0; i < us->wire_count; i++) {
        near(metric->wires[i].cold_n, us->wires[i].cold_n, 1e-9);
        near(metric->wires[i].take_up_m, us->wires[i].take_up_m, 1e-9);
        assert_true(metric->wires[i].slack.p50 == us->wires[i].slack.p50);
        for (int month = 0; month < 12; month++)
            near(metric->wires[i].month_n[month].p50, us->wires[i].month_n[month].p50, 1e-9);
    }
    for (int i = 0; i < 2; i++) {
        cy_plan_free(plans[i]);
        cy_farm_dispose(&farms[i]);
    }
}

/* What its maker prints makes a verdict of polymer line; of steel a typed breaking load goes before
 * the least of its grade. */
static void a_maker_prints_its_own_strength(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.low.kind", "polymer");
    put(&farm, "trellis.wires.wire.low.breaks", "600 lbf");
    put(&farm, "trellis.wires.wire.low.diameter", "0.118 in");
    put(&farm, "trellis.wires.wire.low.modulus", "1000000 psi");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(check_of(cy_trellis_of(plan, 0), CY_CHECK_WIRE_COLD, 0)->refusal,
                     CY_REFUSED_STRENGTH); /* its expansion is not known */
    cy_plan_free(plan);
    put(&farm, "trellis.wires.wire.low.expansion", "117");
    put(&farm, "trellis.wires.wire.top.breaks", "1600 lbf");
    plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
    near(check_of(verdict, CY_CHECK_WIRE_COLD, 0)->capacity, 300 * LB, 1e-9);
    near(check_of(verdict, CY_CHECK_WIRE_COLD, 1)->capacity, 800 * LB, 1e-9);
    assert_false(verdict->notes & CY_TRELLIS_NO_FIGURE);
    /* EA alpha is 10 936 lb x 117e-6 /C: 1.28 lb for 1 C, the sag of a light line left out. */
    struct cy_trellis_frame frame;
    assert_true(cy_trellis_frame_of(&frame, plan, 0));
    double colder_k = frame.wires[0].set_at_c.value - frame.cold_c;
    near(verdict->wires[0].cold_n - verdict->wires[0].set_n, 1.2795 * colder_k * LB, 0.01);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- what is refused --------------------------------------------------------------------------
 */

static void what_is_not_known_has_no_verdict(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_value unset = {0};
    trellis_farm(&farm);
    put(&farm, "trellis.wires.wire.low.kind", "polymer");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
    assert_int_equal(check_of(verdict, CY_CHECK_WIRE_COLD, 0)->refusal, CY_REFUSED_STRENGTH);
    assert_int_equal(check_of(verdict, CY_CHECK_ANCHOR, -1)->refusal, CY_REFUSED_STRENGTH);
    assert_true(isnan(check_of(verdict, CY_CHECK_WIRE_COLD, 0)->use));
    assert_false(check_of(verdict, CY_CHECK_WIRE_COLD, 1)->refusal);
    assert_true(verdict->notes & CY_TRELLIS_NO_FIGURE);
    cy_plan_free(plan);
    put(&farm, "trellis.wires.wire.low.kind", "high-tensile");
    put(&farm, "trellis.wires.wire.low.gauge", "15");
    plan = plan_of(&farm, TODAY, 2027);
    assert_int_equal(check_of(cy_trellis_of(plan, 0), CY_CHECK_WIRE_SET, 0)->refusal,
                     CY_REFUSED_STRENGTH);
    cy_plan_free(plan);
    put(&farm, "trellis.wires.wire.low.gauge", "12.5");
    const struct cy_thing *trellis = cy_farm_by_key(&farm, CY_KIND_TRELLIS, 0, "wires");
    const struct cy_thing *low = cy_farm_by_key(&farm, CY_KIND_WIRE, trellis->id, "low");
    assert_int_equal(cy_farm_set(&farm, low->id, CY_WIRE_SET_AT, &unset), CY_OK);
    plan = plan_of(&farm, TODAY, 2027);
    verdict = cy_trellis_of(plan, 0);
    assert_int_equal(verdict->wires[0].refusal, CY_REFUSED_TENSION);
    assert_int_equal(check_of(verdict, CY_CHECK_END_GROUND, -1)->refusal, CY_REFUSED_TENSION);
    assert_true(verdict->notes & CY_TRELLIS_TENSION_UNKNOWN);
    cy_plan_free(plan);
    /* No wind is made up where none is typed, nor a holding power of a screw in sand. */
    put(&farm, "trellis.wires.wire.low.set_at", "60 F");
    const struct cy_thing *site = cy_farm_one(&farm, CY_KIND_SITE);
    assert_int_equal(cy_farm_set(&farm, site->id, CY_SITE_GUST, &unset), CY_OK);
    plan = plan_of(&farm, TODAY, 2027);
    verdict = cy_trellis_of(plan, 0);
    assert_int_equal(check_of(verdict, CY_CHECK_POST_GROUND, -1)->refusal, CY_REFUSED_GUST);
    assert_true(isnan(verdict->practice.ratio) && verdict->along_n == 0);
    assert_int_equal(check_of(verdict, CY_CHECK_ANCHOR, -1)->refusal, CY_REFUSED_ANCHOR);
    cy_plan_free(plan);
    put(&farm, "trellis.wires.anchor_holds", "1500 lbf");
    plan = plan_of(&farm, TODAY, 2027);
    near(check_of(cy_trellis_of(plan, 0), CY_CHECK_ANCHOR, -1)->capacity, 750 * LB, 1e-9);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* A row of one bay has no line posts: its ends take half of the wind each. */
static void one_bay_stands_on_its_ends(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "row.a.length", "25 ft");
    put(&farm, "trellis.wires.end_post_size", "4 in");
    put(&farm, "trellis.wires.end_post_depth", "2 ft");
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    const struct cy_trellis_verdict *one = cy_trellis_of(plan, 0), *many = cy_trellis_of(plan, 1);
    assert_int_equal(one->bays, 1);
    assert_int_equal(one->line_post, -1);
    for (int i = 0; i < one->check_count; i++)
        assert_true(one->checks[i].kind < CY_CHECK_POST_BENDING ||
                    one->checks[i].kind >= CY_CHECK_ACROSS_BENDING);
    near(check_of(one, CY_CHECK_ACROSS_GROUND, -1)->demand, 383.2 / 2 * LB, 2e-4);
    near(check_of(many, CY_CHECK_ACROSS_GROUND, -1)->use,
         check_of(many, CY_CHECK_POST_GROUND, -1)->use / 2, 1e-9); /* as thick, as deep */
    assert_true(isnan(one->practice.ratio));
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void rows_without_a_trellis_have_none(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_value unset = {0};
    struct cy_parts_list parts;
    struct cy_trellis_frame frame;
    struct cy_trace trace = {0};
    trellis_farm(&farm);
    assert_int_equal(
        cy_farm_set(&farm, cy_farm_by_key(&farm, CY_KIND_ROW, 0, "a")->id, CY_ROW_TRELLIS, &unset),
        CY_OK);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    assert_null(cy_trellis_of(plan, 0));
    assert_non_null(cy_trellis_of(plan, 1));
    assert_null(cy_trellis_of(plan, 2));
    assert_false(cy_trellis_frame_of(&frame, plan, 0));
    assert_false(cy_parts_of_row(&parts, plan, 0));
    assert_false(cy_plan_why_trellis(&trace, plan, 0, 0));
    assert_int_equal(jobs_of(plan, "tighten-wire", "a"), 0);
    cy_parts_of_farm(&parts, plan);
    assert_int_equal(parts.rows, 1);
    assert_int_equal(parts.left_out, 1);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- what else is said ------------------------------------------------------------------------
 */

static void notes_follow_the_place_and_the_canes(void **state)
{
    (void)state;
    struct cy_farm farm;
    trellis_farm(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
    unsigned notes = cy_trellis_of(plan, 0)->notes;
    assert_false(notes & (CY_TRELLIS_HEAVE | CY_TRELLIS_LOW_WIRE_HIGH | CY_TRELLIS_SHALLOW |
                          CY_TRELLIS_SPACED | CY_TRELLIS_ONE_WIRE | CY_TRELLIS_SOIL_TAKEN));
    cy_plan_free(plan);
    put(&farm, "trellis.wires.wire.low.height", "4 ft"); /* tipped at 42 in */
    put(&farm, "trellis.wires.post_depth", "18 in");
    put(&farm, "trellis.wires.post_spacing", "35 ft");
    put(&farm, "row.a.length", "105 ft");
    plan = plan_of(&farm, TODAY, 2027);
    notes = cy_trellis_of(plan, 0)->notes;
    assert_true(notes & CY_TRELLIS_LOW_WIRE_HIGH);
    assert_true(notes & CY_TRELLIS_SHALLOW);
    assert_true(notes & CY_TRELLIS_SPACED);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
    farm_at(&farm, "45", -6); /* January at -3.5 C */
    add_row(&farm, "a", "marion", "trail", "2020-03-20");
    add_wire(&farm, "wires", "top", "5 ft", "225 lbf", "60 F");
    plan = fresh_plan_of(&farm, TODAY, 2027);
    notes = cy_trellis_of(plan, 0)->notes;
    assert_true(notes & CY_TRELLIS_HEAVE);
    assert_true(notes & CY_TRELLIS_ONE_WIRE);
    assert_true(notes & CY_TRELLIS_SOIL_TAKEN);
    assert_true(notes & CY_TRELLIS_CROP_TAKEN); /* Marion has no yield in this farm */
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

/* ---- what is remembered -----------------------------------------------------------------------
 */

static void a_change_costs_what_it_touches(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    trellis_farm(&farm);
    ADD(&farm, TRELLIS, "other", GROWER, "form", "I");
    add_wire(&farm, "other", "top", "5 ft", "225 lbf", "60 F");
    add_row(&farm, "c", "natchez", "hedge", "2020-03-20");
    add_row(&farm, "d", "natchez", "hedge", "2020-03-20");
    put(&farm, "row.c.trellis", "other");
    struct cy_plan *first = plan_with(planner, &farm, TODAY, 2027);
    assert_int_equal(first->trellises_worked_out, 3); /* rows a and d are alike */
    assert_ptr_equal(cy_trellis_of(first, 0), cy_trellis_of(first, 3));
    put(&farm, "row.a.name", "Another name");
    put(&farm, "trellis.wires.name", "Another name");
    put(&farm, "row.b.x", "12 ft");
    struct cy_plan *same = plan_with(planner, &farm, TODAY, 2027);
    assert_int_equal(same->trellises_worked_out, 0);
    assert_ptr_equal(cy_trellis_of(first, 1), cy_trellis_of(same, 1));
    put(&farm, "trellis.other.post_depth", "30 in");
    struct cy_plan *changed = plan_with(planner, &farm, TODAY, 2027);
    assert_int_equal(changed->trellises_worked_out, 1);
    assert_ptr_equal(cy_trellis_of(first, 0), cy_trellis_of(changed, 0));
    assert_ptr_not_equal(cy_trellis_of(first, 2), cy_trellis_of(changed, 2));
    /* Set again: an edit of the wire. */
    put(&farm, "trellis.wires.wire.top.tension", "250 lbf");
    struct cy_plan *reset = plan_with(planner, &farm, TODAY, 2027);
    assert_int_equal(reset->trellises_worked_out, 2);
    /* And the same as from a planner that remembers nothing. */
    struct cy_plan *fresh = fresh_plan_of(&farm, TODAY, 2027);
    for (size_t row = 0; row < 4; row++) {
        const struct cy_trellis_verdict *a = cy_trellis_of(reset, row),
                                        *b = cy_trellis_of(fresh, row);
        assert_int_equal(a->check_count, b->check_count);
        for (int i = 0; i < a->check_count; i++)
            assert_true(a->checks[i].demand == b->checks[i].demand ||
                        (isnan(a->checks[i].demand) && isnan(b->checks[i].demand)));
    }
    /* However many edits have gone before. */
    for (int i = 0; i < 300; i++) {
        char depth[] = "700 mm";
        depth[1] = (char)('0' + i / 10 % 10);
        depth[2] = (char)('0' + i % 10);
        depth[0] = (char)('5' + i / 100);
        put(&farm, "trellis.other.post_depth", depth);
        struct cy_plan *again = plan_with(planner, &farm, TODAY, 2027);
        assert_int_equal(again->trellises_worked_out, 1);
        cy_plan_free(again);
    }
    cy_planner_free(planner); /* plans outlive it */
    assert_int_equal(cy_trellis_of(first, 0)->bays, 4);
    struct cy_plan *const plans[] = {first, same, changed, reset, fresh};
    for (size_t i = 0; i < sizeof plans / sizeof *plans; i++)
        cy_plan_free(plans[i]);
    cy_farm_dispose(&farm);
}

/* ---- why --------------------------------------------------------------------------------------
 */

static bool asked(const struct cy_plan *plan, int item)
{
    struct cy_trace trace = {0};
    bool any = cy_plan_why_trellis(&trace, plan, 0, item);
    assert_false(trace.failed);
    assert_true(!any || trace.count > 0);
    for (size_t i = 0; i < trace.count; i++) {
        const struct cy_trace_step *step = &trace.steps[i];
        assert_true(*step->what && *step->formula && step->source && *step->source);
        assert_true(step->result || !isnan(step->value));
        assert_true(step->basis != CY_BASIS_NONE);
    }
    cy_trace_dispose(&trace);
    return any;
}

static void every_figure_can_be_asked_why(void **state)
{
    (void)state;
    static const char *const ends[] = {"none", "h", "slant", "tie"};
    struct cy_farm farm;
    trellis_farm(&farm);
    put(&farm, "trellis.wires.anchor_holds", "1500 lbf");
    for (int end = 0; end < 4; end++) {
        put(&farm, "trellis.wires.end", ends[end]);
        put(&farm, "trellis.wires.form", end == 1 ? "T" : "I");
        struct cy_plan *plan = plan_of(&farm, TODAY, 2027);
        const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, 0);
        for (int i = 0; i < verdict->check_count; i++)
            assert_true(asked(plan, i));
        assert_false(asked(plan, verdict->check_count));
        for (int i = 0; i < verdict->wire_count; i++)
            assert_true(asked(plan, CY_TRELLIS_WHY_WIRE + i));
        assert_true(asked(plan, CY_TRELLIS_WHY_PRACTICE));
        assert_true(asked(plan, CY_TRELLIS_WHY_DEFLECTION));
        assert_true(asked(plan, CY_TRELLIS_WHY_HEAVE));
        assert_true(asked(plan, CY_TRELLIS_WHY_HABIT));
        assert_true(asked(plan, CY_TRELLIS_WHY_PARTS));
        assert_true(asked(plan, CY_TRELLIS_WHY_FIX + CY_FIX_CLOSER));
        assert_false(asked(plan, CY_TRELLIS_WHY_FIX + CY_FIX_COUNT));
        assert_false(asked(plan, CY_TRELLIS_WHY_WIRE + CY_TRELLIS_WIRES));
        cy_plan_free(plan);
    }
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_leafy_bay_asks_what_the_reference_says),
        cmocka_unit_test(a_winter_night_tightens_as_published),
        cmocka_unit_test(an_inch_of_lean_costs_what_is_published),
        cmocka_unit_test(an_h_brace_carries_what_is_published),
        cmocka_unit_test(ice_weighs_on_a_wire_as_published),
        cmocka_unit_test(further_wires_are_said_to_be_left_out),
        cmocka_unit_test(more_is_never_less),
        cmocka_unit_test(the_same_in_feet_and_in_metres),
        cmocka_unit_test(a_maker_prints_its_own_strength),
        cmocka_unit_test(what_is_not_known_has_no_verdict),
        cmocka_unit_test(one_bay_stands_on_its_ends),
        cmocka_unit_test(rows_without_a_trellis_have_none),
        cmocka_unit_test(notes_follow_the_place_and_the_canes),
        cmocka_unit_test(a_change_costs_what_it_touches),
        cmocka_unit_test(every_figure_can_be_asked_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
