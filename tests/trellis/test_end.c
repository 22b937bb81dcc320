/* SPDX-License-Identifier: MIT
 * End assemblies and anchors: figures, and every free body in balance. */
#include "near.h"

#include <caneyear/base/random.h>
#include <caneyear/trellis/anchor.h>
#include <caneyear/trellis/end.h>

static const struct cy_pull three_wires[] = {
    {250 * LB, 3 * FT}, {250 * LB, 4 * FT}, {250 * LB, 5 * FT}};

static struct cy_end_result brace(struct cy_end_input in)
{
    struct cy_end_result result;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_end_brace(&result, &in, &bad), CY_OK);
    return result;
}

static struct cy_end_input end(enum cy_end_kind kind, double height_ft)
{
    return (struct cy_end_input){
        .kind = kind, .pulls = three_wires, .count = 3, .height_m = height_ft * FT};
}

/* Q27: rail at 4.5 ft, posts 8 ft apart (elementary statics; the diagonal's direction: "Building
 * wooden fence braces"). */
static void test_h(void **state)
{
    (void)state;
    struct cy_end_input in = end(CY_END_H, 4.5);
    in.length_m = 8 * FT;
    struct cy_end_result r = brace(in);
    near(r.sum_n, 750 * LB, 1e-12);
    near(r.moment_nm, 3000 * FT_LB, 1e-12);
    near(r.rail_n, 666.67 * LB, 1e-5);
    near(r.diagonal_n, 764.90 * LB, 1e-5);
    near(r.uplift_n, 375.0 * LB, 1e-12);
    near(r.push_n, 375.0 * LB, 1e-12);
    near(r.force_n, 764.90 * LB, 1e-5);
    assert_true(r.strut_n == 0 && r.tie_n == 0);
    in.length_m *= 2; /* twice the bay, half the uplift */
    near(brace(in).uplift_n, 187.5 * LB, 1e-12);
    assert_true(brace(in).diagonal_n < r.diagonal_n);
}

/* Q29: tied at 5 ft. */
static void test_tie(void **state)
{
    (void)state;
    static const double deg[] = {30, 45, 60};
    static const double tie_lb[] = {692.82, 848.53, 1200.00};
    static const double push_lb[] = {346.41, 600.00, 1039.23};
    for (int i = 0; i < 3; i++) {
        struct cy_end_input in = end(CY_END_TIE, 5);
        in.angle_deg = deg[i];
        near(brace(in).tie_n, tie_lb[i] * LB, 1e-5);
        near(brace(in).push_n, push_lb[i] * LB, 1e-5);
        near(brace(in).force_n, tie_lb[i] * LB, 1e-5);
    }
}

/* Elementary statics: strut at 45 degrees from 4 ft. */
static void test_slant(void **state)
{
    (void)state;
    struct cy_end_input in = end(CY_END_SLANT, 4);
    in.foot_m = 4 * FT;
    struct cy_end_result r = brace(in);
    near(r.level_n, 750 * LB, 1e-12);
    near(r.strut_n, 750 * sqrt(2) * LB, 1e-12);
    near(r.uplift_n, 750 * LB, 1e-12);
    in.height_m = 3 * FT; /* the lower the strut, the larger the force that holds the post */
    assert_true(brace(in).level_n > r.level_n);
}

/* Forces and moments of one body, against the largest force in it. */
static void balanced(const struct cy_end_body *body)
{
    double x = 0, y = 0, turn = 0, size = 0;
    for (size_t i = 0; i < body->count; i++) {
        const struct cy_end_force *f = &body->forces[i];
        x += f->x_n;
        y += f->y_n;
        turn += f->x_m * f->y_n - f->y_m * f->x_n;
        size += fabs(f->x_n) + fabs(f->y_n);
    }
    assert_true(body->count >= 2 && body->name != NULL && size > 0);
    assert_true(fabs(x) < 1e-12 * size && fabs(y) < 1e-12 * size);
    assert_true(fabs(turn) < 1e-11 * size * 30);
}

static double uniform(struct cy_random *random, double low, double high)
{
    return low + (high - low) * cy_random_uniform(random);
}

/* Whatever the geometry, the posts, the block and the anchor stand still, and the whole assembly
 * takes the wires' pull and nothing else from outside. */
static void test_bodies_balance(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 31, 0);
    for (int i = 0; i < 6000; i++) {
        struct cy_pull pulls[CY_PULLS_MAX];
        struct cy_end_input in = {.kind = (enum cy_end_kind)(i % CY_END_KIND_COUNT),
                                  .pulls = pulls,
                                  .count = 1 + cy_random_next(&random) % CY_PULLS_MAX,
                                  .height_m = uniform(&random, 0.3, 3),
                                  .length_m = uniform(&random, 0.5, 5),
                                  .foot_m = uniform(&random, 0.5, 5),
                                  .angle_deg = uniform(&random, 5, 80)};
        for (size_t p = 0; p < in.count; p++)
            pulls[p] = (struct cy_pull){uniform(&random, 0, 2000), uniform(&random, 0, 2.5)};
        struct cy_end_bodies bodies;
        assert_int_equal(cy_end_forces(&bodies, &in, NULL), CY_OK);
        balanced(&bodies.post);
        balanced(&bodies.other);
        for (size_t p = 0; p < in.count; p++)
            assert_true(bodies.post.forces[p].x_n == pulls[p].force_n);
    }
}

/* Struts and ties carry force along their own line only. */
static void test_members_pull_along_themselves(void **state)
{
    (void)state;
    struct cy_end_input in = end(CY_END_TIE, 5);
    in.angle_deg = 37, in.length_m = 2, in.foot_m = 1.3;
    struct cy_end_bodies bodies;
    assert_int_equal(cy_end_forces(&bodies, &in, NULL), CY_OK);
    const struct cy_end_force *tie = &bodies.other.forces[0];
    near(tie->y_n / tie->x_n, in.height_m / -tie->x_m, 1e-12);
    near(hypot(tie->x_n, tie->y_n), brace(in).tie_n, 1e-12);
    in.kind = CY_END_H;
    assert_int_equal(cy_end_forces(&bodies, &in, NULL), CY_OK);
    const struct cy_end_force *diagonal = &bodies.other.forces[1];
    near(diagonal->y_n / diagonal->x_n, in.height_m / in.length_m, 1e-12);
    near(hypot(diagonal->x_n, diagonal->y_n), brace(in).diagonal_n, 1e-12);
}

/* Q32: 4 in. round rail, 8 ft, 1.2e6 psi: 16 149 lb, 24 times 666.67. */
static void test_rail(void **state)
{
    (void)state;
    double n, inertia = 12.566 * pow(IN, 4);
    assert_int_equal(cy_rail_buckling(&n, 1.2e6 * PSI, inertia, 8 * FT, NULL), CY_OK);
    near(n, 16149 * LB, 1e-4);
    near(n / (666.67 * LB), 24, 0.01);
}

static void refused(struct cy_end_input in, const char *name)
{
    struct cy_end_result result;
    struct cy_end_bodies bodies;
    struct cy_trellis_domain bad = {0};
    assert_int_equal(cy_end_brace(&result, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, name);
    assert_int_equal(cy_end_forces(&bodies, &in, NULL), CY_INVALID);
}

static void test_end_bounds(void **state)
{
    (void)state;
    struct cy_end_input in = end(CY_END_H, 4);
    refused(in, "length");
    in.kind = CY_END_SLANT;
    refused(in, "foot");
    in.kind = CY_END_TIE, in.angle_deg = 90;
    refused(in, "angle");
    in.angle_deg = 45, in.height_m = 0;
    refused(in, "height");
    in.height_m = 1, in.count = 0;
    refused(in, "pulls");
    in.count = 3, in.kind = (enum cy_end_kind)9;
    refused(in, "kind");
    static const struct cy_pull backwards = {-5, 1};
    in = end(CY_END_TIE, 4), in.pulls = &backwards, in.count = 1;
    refused(in, "pulls");
}

static void test_end_words(void **state)
{
    (void)state;
    enum cy_end_kind found;
    for (int k = 0; k < CY_END_KIND_COUNT; k++) {
        const char *word = cy_end_kind_word((enum cy_end_kind)k);
        assert_true(cy_end_kind_parse(&found, word, strlen(word)) && (int)found == k);
    }
    assert_false(cy_end_kind_parse(&found, "h brace", 7));
}

/* ---- anchors ---- */

static struct cy_deadman_result deadman(struct cy_deadman_input in)
{
    struct cy_deadman_result result;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_anchor_deadman(&result, &in, &bad), CY_OK);
    return result;
}

/* Every cell of TM 5-5420-278-10, table 9. */
static void test_deadman_table(void **state)
{
    (void)state;
    static const double slopes[] = {45, 26.5, 18.5, 14};
    static const double psf[5][4] = {{950, 1300, 1450, 1500},
                                     {1750, 2200, 2600, 2700},
                                     {2800, 3600, 4000, 4100},
                                     {3800, 5100, 5800, 6000},
                                     {5100, 7000, 8000, 8400}};
    for (int d = 0; d < 5; d++)
        for (int s = 0; s < 4; s++) {
            struct cy_deadman_input in = {1000, slopes[s],      fmin((3 + d) * FT, 2.1336),
                                          0.3,  CY_GROUND_LOAM, 1};
            in.depth_m = fmax(in.depth_m, 0.9144);
            near(deadman(in).holding_pa, psf[d][s] * PSF, 1e-9);
        }
}

/* Q31: 848.53 lb, factor 2, 45 degrees, face 0.5 ft (worked from the same table). */
static void test_deadman_length(void **state)
{
    (void)state;
    struct cy_deadman_input in = {848.53 * LB, 45, 0.9144, 0.5 * FT, CY_GROUND_LOAM, 2};
    near(deadman(in).length_m, 4.573 * FT, 2e-4);
    near(deadman(in).ratio, 9.15, 1e-3);
    near(deadman(in).ultimate_n, 2 * 848.53 * LB, 1e-12);
    in.depth_m = 4 * FT;
    near(deadman(in).length_m, 2.939 * FT, 2e-4);
    near(deadman(in).ratio, 5.9, 5e-3);
    double loam = deadman(in).length_m - FT;
    in.ground = CY_GROUND_SAND;
    near(deadman(in).length_m - FT, 2 * loam, 1e-12);
    in.ground = CY_GROUND_ROCK;
    near(deadman(in).length_m - FT, loam / 5, 1e-12);
}

/* Between its cells the table is straight: half-way both ways is the mean of four. */
static void test_deadman_between(void **state)
{
    (void)state;
    struct cy_deadman_input in = {1000, (26.5 + 45) / 2, 3.5 * FT, 0.3, CY_GROUND_LOAM, 1};
    near(deadman(in).holding_pa, (950 + 1300 + 1750 + 2200) / 4.0 * PSF, 1e-12);
    double last = 1e9;
    for (double depth = 0.9144; depth <= 2.1336; depth += 0.01) {
        in.depth_m = depth;
        double length = deadman(in).length_m;
        assert_true(length <= last); /* deeper is never longer */
        last = length;
    }
}

/* P15: engineers' forum, "Torque in helical piles": 1.05 ft2 in 5000 psf holds 47 250 lb. P17:
 * helices of 4 and 6 in. have 12.6 and 28.3 in2 (Domoto, "Constructing a Vineyard Trellis"). The
 * rest is worked from 9 c A. */
static void test_screw(void **state)
{
    (void)state;
    struct cy_screw_input in = {sqrt(4 * 1.05 / 3.14159265358979) * FT, 5000 * PSF, 2};
    struct cy_screw_result r;
    assert_int_equal(cy_anchor_screw(&r, &in, NULL), CY_OK);
    near(r.ultimate_n, 47250 * LB, 1e-9);
    near(r.allowable_n, 47250 * LB / 2, 1e-9);
    static const struct {
        double in, in2, lb_at_1000;
    } rows[] = {{4, 12.57, 785}, {6, 28.27, 1767}, {8, 50.27, 3142}};
    for (int i = 0; i < 3; i++) {
        in = (struct cy_screw_input){rows[i].in * IN, 1000 * PSF, 1};
        assert_int_equal(cy_anchor_screw(&r, &in, NULL), CY_OK);
        near(r.area_m2, rows[i].in2 * IN * IN, 4e-4);
        near(r.allowable_n, rows[i].lb_at_1000 * LB, 6e-4);
    }
}

static void test_anchor_bounds(void **state)
{
    (void)state;
    struct cy_deadman_input good = {1000, 45, 1, 0.2, CY_GROUND_LOAM, 2}, in;
    struct cy_deadman_result r;
    struct cy_trellis_domain bad;
    in = good, in.slope_deg = 60;
    assert_int_equal(cy_anchor_deadman(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "slope");
    assert_true(bad.low == 14 && bad.high == 45);
    in = good, in.depth_m = 2.5;
    assert_int_equal(cy_anchor_deadman(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "depth");
    in = good, in.factor = 0;
    assert_int_equal(cy_anchor_deadman(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "factor");
    in = good, in.ground = (enum cy_ground)5;
    assert_int_equal(cy_anchor_deadman(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "ground");
    struct cy_screw_input screw = {0, 1000, 2};
    struct cy_screw_result s;
    assert_int_equal(cy_anchor_screw(&s, &screw, &bad), CY_INVALID);
    assert_string_equal(bad.name, "diameter");
}

static void test_ground_words(void **state)
{
    (void)state;
    enum cy_ground found;
    for (int g = 0; g < CY_GROUND_COUNT; g++) {
        const char *word = cy_ground_word((enum cy_ground)g);
        assert_true(cy_ground_parse(&found, word, strlen(word)) && (int)found == g);
    }
    assert_false(cy_ground_parse(&found, "mud", 3));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_h),
        cmocka_unit_test(test_tie),
        cmocka_unit_test(test_slant),
        cmocka_unit_test(test_bodies_balance),
        cmocka_unit_test(test_members_pull_along_themselves),
        cmocka_unit_test(test_rail),
        cmocka_unit_test(test_end_bounds),
        cmocka_unit_test(test_end_words),
        cmocka_unit_test(test_deadman_table),
        cmocka_unit_test(test_deadman_length),
        cmocka_unit_test(test_deadman_between),
        cmocka_unit_test(test_screw),
        cmocka_unit_test(test_anchor_bounds),
        cmocka_unit_test(test_ground_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
