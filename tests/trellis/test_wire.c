/* SPDX-License-Identifier: MIT
 * Wire: tables, shape, tension from state to state. */
#include "near.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

#include <caneyear/base/random.h>
#include <caneyear/trellis/wire.h>

/* Printed figures carry four to six digits. */
#define PRINTED 1e-4

static struct cy_wire gauge(double number)
{
    struct cy_wire wire;
    assert_int_equal(cy_wire_of_gauge(&wire, number, NULL), CY_OK);
    return wire;
}

static struct cy_wire_change_input bay(double gauge_number, double span_ft, double tension_lb)
{
    return (struct cy_wire_change_input){.wire = gauge(gauge_number),
                                         .span_m = span_ft * FT,
                                         .spans = 1,
                                         .tension_n = tension_lb * LB};
}

static struct cy_wire_change_result change(const struct cy_wire_change_input *in)
{
    struct cy_wire_change_result result;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_wire_change(&result, in, &bad), CY_OK);
    return result;
}

/* ---- tables ---- */

/* Steel wire gauge table: diameter, "wire" tables of sizes.com; area, weight, EA and breaking
 * loads worked from it with 0.2836 lb/in3 and 29e6 psi. */
static void test_gauge_table(void **state)
{
    (void)state;
    static const struct {
        double number, in, in2, lb_1000ft, ea_lb, break_170_lb, break_200_lb;
    } rows[] = {
        {9, 0.1483, 0.017273, 58.78, 500922, 2936, 3455},
        {10, 0.1350, 0.014314, 48.71, 415103, 2433, 2863},
        {11, 0.1205, 0.011404, 38.81, 330721, 1939, 2281},
        {12, 0.1055, 0.008742, 29.75, 253509, 1486, 1748},
        {12.5, 0.0990, 0.007698, 26.20, 223233, 1309, 1540},
        {13, 0.0915, 0.006576, 22.38, 190691, 1118, 1315},
        {14, 0.0800, 0.005027, 17.11, 145770, 855, 1005},
    };
    const double half = 6e-4; /* three or four printed digits */
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct cy_wire wire = gauge(rows[i].number);
        near(cy_gauge_at(i)->diameter_m, rows[i].in * IN, 1e-12);
        near(wire.area_m2, rows[i].in2 * IN * IN, half);
        near(wire.weight_n_m, rows[i].lb_1000ft / 1000 * LB_FT, half);
        near(wire.modulus_pa * wire.area_m2, rows[i].ea_lb * LB, half);
        near(wire.area_m2 * cy_grade_find("170")->strength_pa, rows[i].break_170_lb * LB, half);
        near(wire.area_m2 * cy_grade_find("200")->strength_pa, rows[i].break_200_lb * LB, half);
    }
    assert_null(cy_gauge_at(sizeof rows / sizeof *rows));
}

/* "12 gauge" steel wire is 41 % more wire than AWG 12: the same tables. */
static void test_gauge_is_not_awg(void **state)
{
    (void)state;
    const struct cy_gauge *twelve = cy_gauge_find(12);
    double more = 1 - cy_wire_area(twelve->awg_m) / cy_wire_area(twelve->diameter_m);
    near(more, 0.41, 0.02);
    assert_true(cy_gauge_find(12.5)->awg_m == 0);
}

static void test_unknown_names(void **state)
{
    (void)state;
    struct cy_trellis_domain bad;
    struct cy_wire wire;
    assert_int_equal(cy_wire_of_gauge(&wire, 15, &bad), CY_INVALID);
    assert_string_equal(bad.name, "gauge");
    assert_string_equal(bad.rule, "9, 10, 11, 12, 12.5, 13, 14");
    assert_null(cy_gauge_find(NAN));
    assert_null(cy_grade_find("190"));
    assert_null(cy_grade_at(5));
}

/* Low-carbon 12.5 gauge breaks under 550 lb and yields under 500 lb: UF/IFAS CIR851. */
static void test_low_carbon(void **state)
{
    (void)state;
    const struct cy_grade *soft = cy_grade_find("low-carbon");
    double area = gauge(12.5).area_m2;
    assert_true(soft->strength_pa * area < 550 * LB && soft->strength_pa * area > 500 * LB);
    assert_true(soft->yield_pa * area < 500 * LB);
    near(soft->yield_pa * area, 460 * LB, 0.01); /* 460 lb: "Electric Fence Wire" */
}

/* P11: a 25 kg coil of 2.5 mm wire is 648 m, of 4.0 mm 253 m. NZ Wire Industries, The Press,
 * 18 April 1980. */
static void test_coil_length(void **state)
{
    (void)state;
    static const double mm[] = {2.5, 4.0}, metres[] = {648, 253};
    for (int i = 0; i < 2; i++) {
        struct cy_wire wire;
        assert_int_equal(cy_wire_of_area(&wire, cy_wire_area(mm[i] / 1000), NULL), CY_OK);
        near(25 * 9.80665 / wire.weight_n_m, metres[i], 0.002);
    }
}

/* ---- shape ---- */

static struct cy_wire_sag_result sag_of(double span_m, double own, double load, double tension_n)
{
    struct cy_wire_sag_input in = {span_m, own, load, tension_n};
    struct cy_wire_sag_result result;
    assert_int_equal(cy_wire_sag(&result, &in, NULL), CY_OK);
    return result;
}

/* Q1 and Q2: parabola, 12.5 gauge under its own weight (worked from the statics formula). */
static void test_own_weight_sag(void **state)
{
    (void)state;
    static const double tensions[] = {100, 150, 200, 225, 250};
    static const struct {
        double span_ft, sags_in[5];
    } rows[] = {{20, {0.1572, 0.1048, 0.0786, 0.0699, 0.0629}},
                {25, {0.2456, 0.1637, 0.1228, 0.1092, 0.0982}},
                {30, {0.3537, 0.2358, 0.1768, 0.1572, 0.1415}}};
    double own = gauge(12.5).weight_n_m;
    near(sag_of(25 * FT, own, 0, 225 * LB).sag_m, 0.10915 * IN, PRINTED);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 5; j++)
            near(sag_of(rows[i].span_ft * FT, own, 0, tensions[j] * LB).sag_m,
                 rows[i].sags_in[j] * IN, 1e-3);
}

/* Q18: span 50 ft, sag 10 ft, largest tension 10 000 lb carry 12 493.9 lb in all. Problem:
 * "Cable with horizontally distributed load", Adaptive statics book. */
static void test_load_from_max_tension(void **state)
{
    (void)state;
    double total = 12493.9 * LB, span = 50 * FT;
    double level = total * span / (8 * 10 * FT);
    struct cy_wire_sag_result r = sag_of(span, 0, total / span, level);
    near(r.sag_m, 10 * FT, 1e-9);
    near(r.max_tension_n, 10000 * LB, PRINTED);
}

/* Q19: span 25 ft, sag 0.5 ft: 25.02667 ft from the first term of the series, 25.02664 from the
 * arc itself. */
static void test_arc_length(void **state)
{
    (void)state;
    struct cy_wire_sag_result r = sag_of(25 * FT, 0, 8 * 0.5 * FT / (25 * FT * 25 * FT), 1);
    near(r.sag_m, 0.5 * FT, 1e-12);
    near(r.length_m, 25.02667 * FT, 2e-6);
    double ratio2 = 0.02 * 0.02;
    near(r.length_m, 25 * FT * (1 + 8.0 / 3 * ratio2 - 32.0 / 5 * ratio2 * ratio2), 1e-8);
}

/* The oracle: a hanging chain. c = H/w. */
static double catenary_sag(double span, double c)
{
    return c * (cosh(span / (2 * c)) - 1);
}

static double catenary_length(double span, double c)
{
    return 2 * c * sinh(span / (2 * c));
}

/* P16: a 50 m, 1.6 kg steel tape with 60 N at its ends spans 49.86 m (problem 7.130 of a statics
 * text; its answer from memory). Here it proves the oracle. */
static void test_oracle_tape(void **state)
{
    (void)state;
    double w = 1.6 * 9.81 / 50;
    double c = sqrt(60 * 60 - w * w * 25 * 25) / w; /* T = sqrt(H^2 + (w S/2)^2) */
    double span = 2 * c * asinh(25 / c);
    near(span, 49.856, 2e-5);
    near(catenary_length(span, c), 50, 1e-12);
}

/* Horizontal tension at equal sag falls short of the catenary's by these shares (worked here from
 * the two formulas). */
static void test_parabola_against_catenary(void **state)
{
    (void)state;
    static const double ratios[] = {0.01, 0.02, 0.05, 0.10};
    static const double short_by[] = {0.00013, 0.0005, 0.0033, 0.013};
    for (int i = 0; i < 4; i++) {
        double low = 0.5, high = 100; /* c for span 1 */
        for (int turn = 0; turn < 100; turn++) {
            double c = (low + high) / 2;
            if (catenary_sag(1, c) > ratios[i])
                low = c;
            else
                high = c;
        }
        struct cy_wire_sag_result r = sag_of(1, 1, 0, 1 / (8 * ratios[i]));
        near(r.sag_m, ratios[i], 1e-12);
        near(1 - 1 / (8 * ratios[i]) / low, short_by[i], 0.08); /* two digits at most */
        near(r.length_m, catenary_length(1, low), 3 * pow(ratios[i], 4) + 1e-12);
    }
}

static void test_sag_of_weightless_wire(void **state)
{
    (void)state;
    struct cy_wire_sag_result r = sag_of(10, 0, 0, 500);
    assert_true(r.sag_m == 0 && r.length_m == 10 && r.max_tension_n == 500);
}

static void test_sag_rises_with_span(void **state)
{
    (void)state;
    double last = 0;
    for (double span = 0.5; span < 50; span += 0.5) {
        double sag = sag_of(span, 0.4, 30, 900).sag_m;
        assert_true(sag >= last);
        last = sag;
    }
}

static void refused_sag(struct cy_wire_sag_input in, const char *name)
{
    struct cy_wire_sag_result result;
    struct cy_trellis_domain bad = {0};
    assert_int_equal(cy_wire_sag(&result, &in, &bad), CY_INVALID);
    assert_int_equal(cy_wire_sag(&result, &in, NULL), CY_INVALID);
    assert_string_equal(bad.name, name);
    assert_true(bad.low < bad.high);
}

static void test_sag_bounds(void **state)
{
    (void)state;
    refused_sag((struct cy_wire_sag_input){0, 1, 1, 100}, "span");
    refused_sag((struct cy_wire_sag_input){NAN, 1, 1, 100}, "span");
    refused_sag((struct cy_wire_sag_input){10, -1, 1, 100}, "weight");
    refused_sag((struct cy_wire_sag_input){10, 1, -1, 100}, "load");
    refused_sag((struct cy_wire_sag_input){10, 1, 1, 0}, "tension");
    refused_sag((struct cy_wire_sag_input){10, 1, 1, INFINITY}, "tension");
}

/* ---- change of state ---- */

/* Q3 to Q6: bare 12.5 gauge, 25 ft, 200 lb; worked from the change-of-state equation. */
static void test_bare_wire_and_temperature(void **state)
{
    (void)state;
    static const double rise_f[] = {40, -40, -60, 100};
    static const double tension_lb[] = {142.057, 258.000, 287.010, 56.068};
    for (int i = 0; i < 4; i++) {
        struct cy_wire_change_input in = bay(12.5, 25, 200);
        in.rise_k = rise_f[i] * DF;
        near(change(&in).tension_n, tension_lb[i] * LB, 1e-5);
    }
}

/* Q7: the same wire, loads added. */
static void test_added_load(void **state)
{
    (void)state;
    static const double load[] = {1, 2, 3, 5};
    static const double tension_lb[] = {278.710, 372.190, 455.967, 603.341};
    static const double sag_ft[] = {0.28765, 0.42531, 0.51851, 0.65083};
    for (int i = 0; i < 4; i++) {
        struct cy_wire_change_input in = bay(12.5, 25, 200);
        in.new_load_n_m = load[i] * LB_FT;
        struct cy_wire_change_result r = change(&in);
        near(r.tension_n, tension_lb[i] * LB, 1e-5);
        near(r.sag_m, sag_ft[i] * FT, 2e-5);
    }
}

/* Q9 and Q11: a longer bay, a heavier wire. */
static void test_other_bays(void **state)
{
    (void)state;
    struct cy_wire_change_input in = bay(12.5, 30, 200);
    in.new_load_n_m = 3 * LB_FT;
    near(change(&in).tension_n, 502.937 * LB, 1e-5);
    near(change(&in).sag_m, 0.67692 * FT, 2e-5);
    in = bay(9, 20, 250);
    in.new_load_n_m = 2 * LB_FT;
    near(change(&in).tension_n, 435.833 * LB, 1e-5);
    near(change(&in).sag_m, 0.23619 * FT, 3e-5);
}

/* P8: problem 15.3 of a power-systems text. Its expansion is printed ten times too large, and its
 * answer, 541.9 kg and 20.76 m, follows from that; with 18.44e-6 the equation gives 1532.6 kg. */
static void test_printed_power_line(void **state)
{
    (void)state;
    const double g = 9.80665;
    double ice = cy_wire_ice_load(0.020, 0.010, 910);
    double wind = cy_wire_wind_load(0.020, 0.010, 40 * g);
    near(ice, 0.8577 * g, PRINTED);
    near(wind, 1.600 * g, PRINTED);
    struct cy_wire_change_input in = {
        .wire = {240e-6, 9320e6 * g, 18.44e-5, 1.0 * g},
        .span_m = 300,
        .spans = 1,
        .tension_n = 4000 * g,
        .load_n_m = ice,
        .wind_n_m = wind,
        .rise_k = 70,
    };
    near(change(&in).tension_n, 541.88 * g, PRINTED);
    near(change(&in).sag_m, 20.761, PRINTED);
    in.wire.expansion_per_k = 18.44e-6;
    near(change(&in).tension_n, 1532.6 * g, PRINTED);
    near(change(&in).sag_m, 7.340, PRINTED);
}

/* P10: half an inch of ice and 4 psf of wind on a 1.108 in. conductor, 1.094 lb/ft: a
 * power-engineering handbook prints 2.094 vertical and, with a constant of 0.30, 2.509 lb/ft. */
static void test_printed_ice_and_wind(void **state)
{
    (void)state;
    double ice = cy_wire_ice_load(1.108 * IN, 0.5 * IN, CY_ICE_DENSITY_KG_M3);
    double wind = cy_wire_wind_load(1.108 * IN, 0.5 * IN, 4 * PSF);
    double vertical = 1.094 * LB_FT + ice;
    near(vertical, 2.094 * LB_FT, 3e-4);
    near(wind, 0.7027 * LB_FT, PRINTED);
    near(hypot(vertical, wind) + 0.30 * LB_FT, 2.509 * LB_FT, 3e-4);
}

static struct cy_wire_change_input long_row(double tension_lb)
{
    struct cy_wire_change_input in = bay(12.5, 25, tension_lb);
    in.spans = 12;
    return in;
}

/* Q12 and Q13: taking up 12 bays of 25 ft; worked from the row's compatibility. */
static void test_take_up(void **state)
{
    (void)state;
    struct cy_wire_change_input in = long_row(120);
    struct cy_wire_take_up_result r;
    assert_int_equal(cy_wire_take_up(&r, &in, 225 * LB, NULL), CY_OK);
    near(r.take_up_m, 1.6965 * IN, PRINTED);
    near(r.stretch_m, 1.6933 * IN, PRINTED);
    near(r.sag_m, 0.0032 * IN, 0.02);
    in = long_row(455.967);
    in.load_n_m = in.new_load_n_m = 3 * LB_FT;
    assert_int_equal(cy_wire_take_up(&r, &in, 500 * LB, NULL), CY_OK);
    near(r.take_up_m, 1.4054 * IN, PRINTED);
    near(r.sag_m, (0.34413 - 0.28618) * FT, 3e-4);
    in.take_up_m = r.take_up_m; /* and forward again */
    near(change(&in).tension_n, 500 * LB, 1e-10);
}

/* Q14: 250 lb stretches 300 ft by 4.0317 in.; 60 F lengthen it by 1.404 in. */
static void test_stretch(void **state)
{
    (void)state;
    struct cy_wire_change_input in = long_row(250);
    struct cy_wire_take_up_result r;
    assert_int_equal(cy_wire_take_up(&r, &in, 500 * LB, NULL), CY_OK);
    near(r.stretch_m, 4.0317 * IN, PRINTED);
    double before = r.take_up_m;
    in.rise_k = 60 * DF;
    assert_int_equal(cy_wire_take_up(&r, &in, 500 * LB, NULL), CY_OK);
    near(r.take_up_m - before, 1.404 * IN, PRINTED);
}

/* Q15: one inch of lean takes 62.01 lb from 300 ft, straight; the wire's own sag gives a little
 * of it back. */
static void test_end_lean(void **state)
{
    (void)state;
    struct cy_wire_change_input in = long_row(250);
    in.end_lean_m = 1 * IN;
    near(250 * LB - change(&in).tension_n, 62.01 * LB, 1e-3);
    in.wire.weight_n_m = 0;
    near(250 * LB - change(&in).tension_n, 62.01 * LB, PRINTED);
    in.take_up_m = in.end_lean_m; /* winding in an inch undoes an inch */
    near(change(&in).tension_n, 250 * LB, 1e-12);
}

/* Q16: a 50 lb/in spring in 300 ft leaves 0.6477 lb/F; 200 lb becomes 161.137 at +60 F. */
static void test_spring(void **state)
{
    (void)state;
    struct cy_wire_change_input in = long_row(200);
    in.wire.weight_n_m = 0; /* the straight-wire rule */
    in.spring_n_m = 50 * LB / IN;
    in.rise_k = 60 * DF;
    double tension = change(&in).tension_n;
    near(tension, 161.137 * LB, 1e-5);
    near((200 * LB - tension) / 60, 0.6477 * LB, PRINTED);
}

/* Q39: stress and shares of strength of 12.5 gauge at 250 lb. */
static void test_stress_and_share(void **state)
{
    (void)state;
    struct cy_wire_change_input in = bay(12.5, 25, 250);
    assert_true(isnan(change(&in).share_of_strength));
    in.strength_pa = cy_grade_find("170")->strength_pa;
    near(change(&in).stress_pa, 32477 * PSI, PRINTED);
    near(change(&in).share_of_strength, 0.1910, 3e-4);
    in.strength_pa = cy_grade_find("200")->strength_pa;
    near(change(&in).share_of_strength, 0.1624, 3e-4);
}

static void test_nothing_changes(void **state)
{
    (void)state;
    struct cy_wire_change_input in = bay(14, 22, 180);
    in.load_n_m = in.new_load_n_m = 12;
    in.wind_n_m = in.new_wind_n_m = 7;
    struct cy_wire_change_result r = change(&in);
    near(r.tension_n, in.tension_n, 1e-12);
    struct cy_wire_sag_result shape =
        sag_of(in.span_m, hypot(in.wire.weight_n_m + 12, 7), 0, r.tension_n);
    near(r.sag_m, shape.sag_m, 1e-12);
    near(r.max_tension_n, shape.max_tension_n, 1e-12);
}

/* So hot that a straight wire would push: the sag carries it. */
static void test_hot_wire_stays_positive(void **state)
{
    (void)state;
    for (double rise = 0; rise <= 200; rise += 5) {
        struct cy_wire_change_input in = bay(12.5, 25, 20);
        in.rise_k = rise;
        struct cy_wire_change_result r = change(&in);
        assert_true(r.tension_n > 0 && !r.slack && isfinite(r.sag_m));
    }
}

/* w1 = w2 = 0: a straight line, slack where it would go below zero. */
static void test_weightless_wire(void **state)
{
    (void)state;
    struct cy_wire_change_input in = bay(12.5, 25, 100);
    in.wire.weight_n_m = 0;
    in.rise_k = 40 * DF;
    near(change(&in).tension_n, (100 - 40 * 1.451) * LB, 1e-3);
    in.rise_k = 100 * DF;
    struct cy_wire_change_result r = change(&in);
    assert_true(r.slack && r.tension_n == 0 && r.stress_pa == 0);
    /* Spare length: 31.1 F too many over 25 ft. */
    double spare = 25 * FT * (6.5e-6 * 100 - 100 / 223233.0);
    near(r.sag_m, sqrt(3.0 / 8 * 25 * FT * spare), 1e-4);
    assert_true(r.max_tension_n == 0);
}

static void test_rise_to(void **state)
{
    (void)state;
    struct cy_wire_change_input in = long_row(225);
    in.new_load_n_m = 0.2 * LB_FT;
    in.end_lean_m = 0.01;
    in.take_up_m = 0.004;
    double rise;
    assert_int_equal(cy_wire_rise_to(&rise, &in, 150 * LB, NULL), CY_OK);
    in.rise_k = rise;
    near(change(&in).tension_n, 150 * LB, 1e-10);
    in.wire.expansion_per_k = 0;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_wire_rise_to(&rise, &in, 150 * LB, &bad), CY_INVALID);
    assert_string_equal(bad.name, "expansion");
}

static void test_ruling_span(void **state)
{
    (void)state;
    static const double equal[] = {7.5, 7.5, 7.5}, mixed[] = {6, 9, 7.5};
    double span, spans;
    assert_int_equal(cy_wire_ruling_span(&span, &spans, equal, 3, NULL), CY_OK);
    near(span, 7.5, 1e-14);
    near(spans, 3, 1e-14);
    assert_int_equal(cy_wire_ruling_span(&span, &spans, mixed, 3, NULL), CY_OK);
    near(span * spans, 22.5, 1e-14);
    near(span * span * 22.5, 216 + 729 + 421.875, 1e-14);
    for (double bay_m = 1; bay_m < 40; bay_m += 0.37) {
        assert_int_equal(cy_wire_ruling_span(&span, &spans, &bay_m, 1, NULL), CY_OK);
        assert_true(spans >= 1 && span <= bay_m);
    }
    assert_int_equal(cy_wire_ruling_span(&span, &spans, mixed, 0, NULL), CY_INVALID);
}

/* ---- the equation against another solver ---- */

static double uniform(struct cy_random *random, double low, double high)
{
    return low + (high - low) * cy_random_uniform(random);
}

static struct cy_wire_change_input random_state(struct cy_random *random)
{
    struct cy_wire_change_input in = bay(cy_gauge_at(cy_random_next(random) % 7)->number,
                                         uniform(random, 5, 60), uniform(random, 10, 600));
    in.spans = 1 + (double)(cy_random_next(random) % 40);
    in.load_n_m = uniform(random, 0, 40);
    in.new_load_n_m = uniform(random, 0, 120);
    in.wind_n_m = uniform(random, 0, 10);
    in.new_wind_n_m = uniform(random, 0, 30);
    in.rise_k = uniform(random, -60, 60);
    in.end_lean_m = uniform(random, -0.02, 0.2);
    in.take_up_m = uniform(random, 0, 0.05);
    if (cy_random_next(random) % 3 == 0)
        in.spring_n_m = uniform(random, 2000, 200000);
    return in;
}

/* The row's compatibility as it is stated for bays one by one, a multiple of the tension. */
static double compatibility(double tension, void *payload)
{
    const struct cy_wire_change_input *in = payload;
    double length = in->span_m * in->spans, stiffness = in->wire.modulus_pa * in->wire.area_m2;
    double before = hypot(in->wire.weight_n_m + in->load_n_m, in->wind_n_m) / in->tension_n;
    double after = hypot(in->wire.weight_n_m + in->new_load_n_m, in->new_wind_n_m) / tension;
    double stretch = (tension - in->tension_n) * length / stiffness +
                     length * in->wire.expansion_per_k * in->rise_k - in->take_up_m;
    if (in->spring_n_m > 0)
        stretch += (tension - in->tension_n) / in->spring_n_m;
    double sag = in->spans * pow(in->span_m, 3) / 24 * (after * after - before * before);
    return stretch - sag + in->end_lean_m;
}

static double gsl_tension(struct cy_wire_change_input *in)
{
    gsl_function function = {compatibility, in};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    assert_int_equal(gsl_root_fsolver_set(solver, &function, 1e-3, 1e7), GSL_SUCCESS);
    int status = GSL_CONTINUE;
    for (int turn = 0; turn < 500 && status == GSL_CONTINUE; turn++) {
        assert_int_equal(gsl_root_fsolver_iterate(solver), GSL_SUCCESS);
        status = gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                        gsl_root_fsolver_x_upper(solver), 0, 1e-13);
    }
    double root = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    return root;
}

static void test_ten_thousand_states_against_gsl(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 11, 0);
    for (int i = 0; i < 10000; i++) {
        struct cy_wire_change_input in = random_state(&random);
        struct cy_wire_change_result r = change(&in);
        assert_true(r.tension_n > 0 && isfinite(r.sag_m));
        near(r.tension_n, gsl_tension(&in), 1e-9);
    }
}

/* Warmer, leaning or let out is never tighter; more load is never looser. */
static void test_monotone(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 12, 0);
    for (int i = 0; i < 2000; i++) {
        struct cy_wire_change_input in = random_state(&random), other = in;
        double tension = change(&in).tension_n, slop = 1 + 1e-12;
        other.rise_k += 1;
        assert_true(change(&other).tension_n <= tension * slop);
        other = in;
        other.end_lean_m += 0.003;
        assert_true(change(&other).tension_n <= tension * slop);
        other = in;
        other.take_up_m += 0.003;
        assert_true(change(&other).tension_n >= tension / slop);
        other = in;
        other.new_load_n_m += 5;
        assert_true(change(&other).tension_n >= tension / slop);
        assert_true(change(&other).sag_m >= change(&in).sag_m / slop);
    }
}

/* The cubic in lb, ft, in., psi and F, by halving. */
static double us_tension(double t1, double span, double rise_f, double load)
{
    double area = 3.14159265358979323846 / 4 * 0.099 * 0.099, w1 = area * 12 * 0.2836;
    double ea = 29e6 * area, w2 = w1 + load, low = 0, high = 1e5;
    for (int turn = 0; turn < 200; turn++) {
        double t2 = (low + high) / 2;
        double left =
            t2 * t2 *
            (t2 - t1 + 6.5e-6 * rise_f * ea + w1 * w1 * span * span * ea / (24 * t1 * t1));
        if (left < w2 * w2 * span * span * ea / 24)
            low = t2;
        else
            high = t2;
    }
    return low;
}

static void test_feet_and_metres_agree(void **state)
{
    (void)state;
    for (int i = 0; i < 200; i++) {
        double t1 = 100 + i, span = 15 + 0.1 * i, rise_f = -50 + 0.6 * i, load = 0.03 * i;
        struct cy_wire_change_input in = bay(12.5, span, t1);
        in.rise_k = rise_f * DF;
        in.new_load_n_m = load * LB_FT;
        near(change(&in).tension_n, us_tension(t1, span, rise_f, load) * LB, 1e-9);
    }
}

static void refused_change(struct cy_wire_change_input in, const char *name)
{
    struct cy_wire_change_result result;
    struct cy_wire_take_up_result take_up;
    struct cy_trellis_domain bad = {0};
    assert_int_equal(cy_wire_change(&result, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, name);
    assert_int_equal(cy_wire_take_up(&take_up, &in, 500, NULL), CY_INVALID);
}

static void test_change_bounds(void **state)
{
    (void)state;
    struct cy_wire_change_input good = bay(12.5, 25, 200), in = good;
    change(&in);
    in.spans = 0;
    refused_change(in, "spans");
    in = good, in.span_m = 0;
    refused_change(in, "span");
    in = good, in.tension_n = 0;
    refused_change(in, "tension");
    in = good, in.new_load_n_m = -1;
    refused_change(in, "new_load");
    in = good, in.rise_k = NAN;
    refused_change(in, "rise");
    in = good, in.spring_n_m = -1;
    refused_change(in, "spring");
    in = good, in.wire.area_m2 = 0;
    refused_change(in, "area");
    in = good, in.wire.modulus_pa = 0;
    refused_change(in, "modulus");
    struct cy_wire_take_up_result take_up;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_wire_take_up(&take_up, &good, 0, &bad), CY_INVALID);
    assert_string_equal(bad.name, "target");
}

/* ---- a load at midspan ---- */

/* Q17: 50 lb in the middle of a gripped 25 ft bay at 225 lb: 0.62308 ft, 502.16 lb. */
static void test_point_load(void **state)
{
    (void)state;
    struct cy_wire_point_input in = {gauge(12.5), 25 * FT, 225 * LB, 50 * LB};
    struct cy_wire_point_result r;
    assert_int_equal(cy_wire_point(&r, &in, NULL), CY_OK);
    near(r.sag_m, 0.62308 * FT, 2e-5);
    near(r.tension_n, 502.16 * LB, 2e-5);
    in.load_n = 0;
    assert_int_equal(cy_wire_point(&r, &in, NULL), CY_OK);
    assert_true(r.sag_m == 0 && r.tension_n == 225 * LB);
}

static void test_point_load_balances(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 13, 0);
    for (int i = 0; i < 2000; i++) {
        struct cy_wire_point_input in = {gauge(12.5), uniform(&random, 1, 30),
                                         uniform(&random, 1, 3000), uniform(&random, 1e-6, 3000)};
        struct cy_wire_point_result r;
        assert_int_equal(cy_wire_point(&r, &in, NULL), CY_OK);
        double side = hypot(in.span_m / 2, r.sag_m);
        near(2 * r.tension_n * r.sag_m / side, in.load_n, 1e-12);
        double strain = (side - in.span_m / 2) / (in.span_m / 2);
        double stiffness = in.wire.modulus_pa * in.wire.area_m2;
        near(r.tension_n, in.tension_n + strain * stiffness, 1e-8);
    }
}

/* Anything between the bounds, each drawn over all its powers of ten: a number, never negative. */
static double power(struct cy_random *random, double low, double high)
{
    return exp(uniform(random, log(low), log(high)));
}

static void test_whole_domain(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 14, 0);
    for (int i = 0; i < 20000; i++) {
        struct cy_wire wire = {power(&random, 1e-8, 1e-2), power(&random, 1e6, 1e13),
                               uniform(&random, 0, 1e-3), power(&random, 1e-9, 1e5)};
        struct cy_wire_change_input in = {.wire = wire,
                                          .span_m = power(&random, 0.01, 2000),
                                          .spans = power(&random, 1, 10000),
                                          .tension_n = power(&random, 0.001, 1e7),
                                          .new_load_n_m = power(&random, 1e-9, 1e5),
                                          .rise_k = uniform(&random, -200, 200),
                                          .end_lean_m = uniform(&random, -10, 10),
                                          .spring_n_m = power(&random, 1e-3, 1e12)};
        struct cy_wire_change_result r = change(&in);
        assert_true(r.tension_n > 0 && isfinite(r.tension_n) && isfinite(r.sag_m));
        struct cy_wire_point_input point = {wire, in.span_m, in.tension_n,
                                            power(&random, 1e-9, 1e7)};
        struct cy_wire_point_result p;
        assert_int_equal(cy_wire_point(&p, &point, NULL), CY_OK);
        double side = hypot(in.span_m / 2, p.sag_m);
        assert_true(p.sag_m > 0 && isfinite(p.sag_m));
        near(p.tension_n,
             in.tension_n + 2 * p.sag_m * p.sag_m / (side + in.span_m / 2) / in.span_m *
                                wire.modulus_pa * wire.area_m2,
             1e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gauge_table),
        cmocka_unit_test(test_gauge_is_not_awg),
        cmocka_unit_test(test_unknown_names),
        cmocka_unit_test(test_low_carbon),
        cmocka_unit_test(test_coil_length),
        cmocka_unit_test(test_own_weight_sag),
        cmocka_unit_test(test_load_from_max_tension),
        cmocka_unit_test(test_arc_length),
        cmocka_unit_test(test_oracle_tape),
        cmocka_unit_test(test_parabola_against_catenary),
        cmocka_unit_test(test_sag_of_weightless_wire),
        cmocka_unit_test(test_sag_rises_with_span),
        cmocka_unit_test(test_sag_bounds),
        cmocka_unit_test(test_bare_wire_and_temperature),
        cmocka_unit_test(test_added_load),
        cmocka_unit_test(test_other_bays),
        cmocka_unit_test(test_printed_power_line),
        cmocka_unit_test(test_printed_ice_and_wind),
        cmocka_unit_test(test_take_up),
        cmocka_unit_test(test_stretch),
        cmocka_unit_test(test_end_lean),
        cmocka_unit_test(test_spring),
        cmocka_unit_test(test_stress_and_share),
        cmocka_unit_test(test_nothing_changes),
        cmocka_unit_test(test_hot_wire_stays_positive),
        cmocka_unit_test(test_weightless_wire),
        cmocka_unit_test(test_rise_to),
        cmocka_unit_test(test_ruling_span),
        cmocka_unit_test(test_ten_thousand_states_against_gsl),
        cmocka_unit_test(test_monotone),
        cmocka_unit_test(test_feet_and_metres_agree),
        cmocka_unit_test(test_change_bounds),
        cmocka_unit_test(test_point_load),
        cmocka_unit_test(test_point_load_balances),
        cmocka_unit_test(test_whole_domain),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
