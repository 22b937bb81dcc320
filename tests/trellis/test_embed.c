/* SPDX-License-Identifier: MIT
 * Posts in the ground: depth, its inverse, cross-checks. */
#include "near.h"

#include <caneyear/base/random.h>
#include <caneyear/trellis/embed.h>

#define PSF_FT (PSF / FT)

/* US units in, for the published cases; bearing already counts doubling where `isolated`. */
static struct cy_depth_result depth_of(double lb, double h_ft, double b_ft, double psf_ft,
                                       bool isolated, bool constrained)
{
    struct cy_depth_input in = {lb * LB,         h_ft * FT, b_ft * FT,
                                psf_ft * PSF_FT, isolated,  constrained};
    struct cy_depth_result result;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_post_depth(&result, &in, &bad), CY_OK);
    return result;
}

static double hold(double depth_ft, double h_ft, double b_ft, double psf_ft, bool isolated)
{
    struct cy_hold_input in = {depth_ft * FT, h_ft * FT, b_ft * FT, psf_ft * PSF_FT, isolated};
    double n;
    assert_int_equal(cy_post_hold(&n, &in, NULL), CY_OK);
    return n / LB;
}

/* IBC 2012 table 1806.2, in a geotechnical earthquake engineering handbook. */
static void test_soil_classes(void **state)
{
    (void)state;
    static const double lateral[] = {1200, 400, 200, 150, 100};
    static const double vertical[] = {12000, 4000, 3000, 2000, 1500};
    for (int i = 0; i < 5; i++) {
        near(cy_soil_find(i + 1)->lateral_pa_m, lateral[i] * PSF_FT, 1e-12);
        near(cy_soil_find(i + 1)->vertical_pa, vertical[i] * PSF, 1e-12);
        assert_int_equal(cy_soil_find(i + 1)->number, i + 1);
    }
    near(cy_soil_find(5)->cohesion_pa, 130 * PSF, 1e-12);
    assert_null(cy_soil_find(0));
    assert_null(cy_soil_find(6));
}

/* P1: IBC 2018 flagpole sheet: 1.509 m, S3 1.660e5 Pa, S1 5.532e4 Pa, A 13.501 ft. */
static void test_printed_flagpole(void **state)
{
    (void)state;
    struct cy_depth_result r = depth_of(30000, 3, 4.5, 350, true, true);
    near(r.depth_m, 1.509, 1e-3);
    near(r.depth_m, 4.9519 * FT, 1e-4);
    near(r.s3_pa, 1.660e5, 1e-3);
    near(r.s1_pa, 5.532e4, 1e-3);
    near(r.a_m, 13.501 * FT, 1e-3);
}

/* P3: page 40 of a Zephyrhills (Florida) permit record: A 1.7, d 3.54 ft at S1 400 psf. */
static void test_printed_permit(void **state)
{
    (void)state;
    struct cy_depth_result r;
    assert_int_equal(cy_post_depth_at(&r, 890 * LB, 3.4 * FT, 3 * FT, 400 * PSF, NULL), CY_OK);
    near(r.a_m, 1.7355 * FT, 1e-4);
    near(r.depth_m, 3.548 * FT, 2e-4);
    /* 400 psf is 150 psf/ft, doubled, at a third of the 4 ft provided; iterated to the end: */
    near(depth_of(890, 3.4, 3, 150, true, false).depth_m, 3.722 * FT, 2e-4);
}

/* P4: engineers' forum, thread 266547: 480 lb at 5 ft, 18 in. wide, 100 psf/ft: "almost 6.5 ft". */
static void test_printed_sign_post(void **state)
{
    (void)state;
    near(depth_of(480, 5, 1.5, 100, false, false).depth_m, 6.440 * FT, 1e-4);
}

/* P5: engineers' forum, thread 276653: A = 2.34 x 3000/(150 x 6/3 x 1.33 x 1) = 17.6 ft. */
static void test_printed_a(void **state)
{
    (void)state;
    struct cy_depth_result r;
    double s1 = 150 * 6.0 / 3 * 1.33 * PSF;
    assert_int_equal(cy_post_depth_at(&r, 3000 * LB, 0, 1 * FT, s1, NULL), CY_OK);
    near(r.a_m, 17.594 * FT, 1e-4);
    near(r.depth_m, r.a_m, 1e-12); /* no lever: d = A */
}

/* Q22, Q23, Q26: 100 lb at 4 ft on a 4 in. post, 150 psf/ft (worked by iteration). */
static void test_small_post(void **state)
{
    (void)state;
    struct cy_depth_result r = depth_of(100, 4, 4 / 12.0, 150, false, false);
    near(r.depth_m, 5.1026 * FT, 2e-5);
    near(r.s1_pa, 255.13 * PSF, 2e-5);
    near(r.a_m, 2.7515 * FT, 2e-5);
    r = depth_of(100, 4, 4 / 12.0, 150, true, false);
    near(r.depth_m, 3.8651 * FT, 2e-5);
    near(r.s1_pa, 386.51 * PSF, 2e-5);
    near(r.a_m, 1.81626 * FT, 2e-5);
    near(hold(r.depth_m / FT, 4, 4 / 12.0, 150, true), 100, 1e-9);
    near(depth_of(100, 4, 4 / 12.0, 150, true, true).depth_m, 2.5713 * FT, 2e-5);
}

/* Allowable loads at 3.5 ft in class 4 (worked from the same formula). */
static void test_hold_table(void **state)
{
    (void)state;
    static const struct {
        double in, ft, once, twice;
    } rows[] = {
        {4, 2.0, 9.8, 19.6}, {4, 2.5, 17.6, 35.2}, {5, 3.0, 35.3, 70.5}, {6, 3.0, 42.3, 84.7}};
    for (int i = 0; i < 4; i++) {
        near(hold(rows[i].ft, 3.5, rows[i].in / 12, 150, false), rows[i].once, 6e-3);
        near(hold(rows[i].ft, 3.5, rows[i].in / 12, 150, true), rows[i].twice, 3e-3);
    }
}

/* Below 12 ft the pressure grows no more: help page on nonconstrained poles quoting the code. */
static void test_cap(void **state)
{
    (void)state;
    struct cy_depth_result r = depth_of(8000, 10, 1, 150, false, false);
    assert_true(r.depth_m > 12 * FT);
    near(r.s1_pa, 150 * 12 / 3.0 * PSF, 1e-12);
    double a = 2.34 * 8000 / (600 * 1), d = 0.5 * a * (1 + sqrt(1 + 4.36 * 10 / a));
    near(r.depth_m, d * FT, 1e-12);
    near(hold(d, 10, 1, 150, false), 8000, 1e-12);
    r = depth_of(40000, 10, 1, 150, false, true);
    near(r.s3_pa, 150 * 12 * PSF, 1e-12);
    near(r.depth_m, sqrt(4.25 * 40000 * 10 / (1800 * 1)) * FT, 1e-12);
    r = depth_of(8000, 0, 1, 150, false, false);
    near(r.depth_m, 2.34 * 8000 / 600 * FT, 1e-12);
}

/* h = 0: the cubic is d^2 = 7.02 P/(F S b). No load: no depth. */
static void test_edges(void **state)
{
    (void)state;
    near(depth_of(100, 0, 0.5, 150, false, false).depth_m, sqrt(7.02 * 100 / 75) * FT, 1e-12);
    struct cy_depth_result r = depth_of(0, 4, 0.5, 150, false, false);
    assert_true(r.depth_m == 0 && r.a_m == 0 && r.s1_pa == 0);
    assert_true(depth_of(100, 0, 0.5, 150, false, true).depth_m == 0);
}

static double uniform(struct cy_random *random, double low, double high)
{
    return low + (high - low) * cy_random_uniform(random);
}

/* The code's formula by fixed-point iteration in lb and ft, as it is done by hand. */
static double iterated_ft(double lb, double h, double b, double s)
{
    double d = 4;
    for (int turn = 0; turn < 2000; turn++) {
        double a = 2.34 * lb / (s * fmin(d, 12) / 3 * b);
        d = (d + 0.5 * a * (1 + sqrt(1 + 4.36 * h / a))) / 2;
    }
    return d;
}

static void test_closed_form_against_iteration(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 21, 0);
    int deep = 0;
    for (int i = 0; i < 1000; i++) {
        double lb = uniform(&random, 1, 1500), h = uniform(&random, 0, 12);
        double b = uniform(&random, 0.3, 2), s = uniform(&random, 50, 400);
        double d = iterated_ft(lb, h, b, s);
        deep += d > 12;
        near(depth_of(lb, h, b, s, false, false).depth_m / FT, d, 1e-9);
        near(hold(d, h, b, s, false), lb, 1e-9);
    }
    assert_true(deep > 20 && deep < 900);
}

/* Deeper never holds less; more load, a longer lever, a thinner post never need less depth. */
static void test_monotone(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 22, 0);
    for (int i = 0; i < 2000; i++) {
        double lb = uniform(&random, 1, 3000), h = uniform(&random, 0, 12);
        double b = uniform(&random, 0.1, 2), s = uniform(&random, 50, 400);
        double d = uniform(&random, 0.5, 16);
        assert_true(hold(d * 1.01, h, b, s, false) >= hold(d, h, b, s, false));
        assert_true(hold(d, h * 1.01, b, s, false) <= hold(d, h, b, s, false));
        double need = depth_of(lb, h, b, s, false, false).depth_m;
        assert_true(depth_of(lb * 1.01, h, b, s, false, false).depth_m >= need);
        assert_true(depth_of(lb, h * 1.01, b, s, false, false).depth_m >= need * (1 - 1e-12));
        assert_true(depth_of(lb, h, b * 1.01, s, false, false).depth_m <= need);
        assert_true(depth_of(lb, h, b, s, true, false).depth_m <= need);
    }
}

/* Q38: Broms, 110 pcf, Kp 3, at 3.5 ft: 80.0 and 285.6 lb. */
static void test_broms(void **state)
{
    (void)state;
    struct cy_broms_input in = {2 * FT, 3.5 * FT, 4 * IN, 110 * PCF, 3};
    double n;
    assert_int_equal(cy_post_broms(&n, &in, NULL), CY_OK);
    near(n, 80.0 * LB, 1e-9);
    in.depth_m = 3 * FT, in.width_m = 5 * IN;
    assert_int_equal(cy_post_broms(&n, &in, NULL), CY_OK);
    near(n, 285.6 * LB, 2e-4);
    in.kp = 0;
    assert_int_equal(cy_post_broms(&n, &in, NULL), CY_INVALID);
}

/* Q37: 5 in. by 3 ft: 165.1 lb in sand, 981.7 lb in clay. */
static void test_uplift(void **state)
{
    (void)state;
    struct cy_uplift_input in = {3 * FT, 5 * IN, 110 * PCF, 0.7, 20, 250 * PSF};
    double n;
    assert_int_equal(cy_post_uplift_sand(&n, &in, NULL), CY_OK);
    near(n, 165.1 * LB, 3e-4);
    assert_int_equal(cy_post_uplift_clay(&n, &in, NULL), CY_OK);
    near(n, 981.7 * LB, 1e-4);
    in.adhesion_pa = -1;
    assert_int_equal(cy_post_uplift_clay(&n, &in, NULL), CY_INVALID);
    in.friction_deg = 90;
    assert_int_equal(cy_post_uplift_sand(&n, &in, NULL), CY_INVALID);
}

static void refused(struct cy_depth_input in, const char *name)
{
    struct cy_depth_result result;
    struct cy_trellis_domain bad = {0};
    assert_int_equal(cy_post_depth(&result, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, name);
    assert_true(bad.high > bad.low);
}

static void test_bounds(void **state)
{
    (void)state;
    refused((struct cy_depth_input){-1, 1, 0.1, 20000, false, false}, "load");
    refused((struct cy_depth_input){100, -1, 0.1, 20000, false, false}, "height");
    refused((struct cy_depth_input){100, 1, 0, 20000, false, false}, "width");
    refused((struct cy_depth_input){100, 1, 0.1, 0, false, false}, "bearing");
    struct cy_hold_input in = {0, 1, 0.1, 20000, false};
    struct cy_trellis_domain bad;
    double n;
    assert_int_equal(cy_post_hold(&n, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "depth");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_soil_classes),   cmocka_unit_test(test_printed_flagpole),
        cmocka_unit_test(test_printed_permit), cmocka_unit_test(test_printed_sign_post),
        cmocka_unit_test(test_printed_a),      cmocka_unit_test(test_small_post),
        cmocka_unit_test(test_hold_table),     cmocka_unit_test(test_cap),
        cmocka_unit_test(test_edges),          cmocka_unit_test(test_closed_form_against_iteration),
        cmocka_unit_test(test_monotone),       cmocka_unit_test(test_broms),
        cmocka_unit_test(test_uplift),         cmocka_unit_test(test_bounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
