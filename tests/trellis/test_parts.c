/* SPDX-License-Identifier: MIT
 * Parts of a row, rows in a field. */
#include "near.h"

#include <caneyear/trellis/parts.h>

static struct cy_parts parts(struct cy_parts_input in)
{
    struct cy_parts result;
    struct cy_trellis_domain bad;
    assert_int_equal(cy_parts_of(&result, &in, &bad), CY_OK);
    return result;
}

static const struct cy_parts_input two_hundred_feet = {
    .row_m = 200 * FT, .post_spacing_m = 25 * FT, .wires = 3, .gauge = 12.5, .ends = CY_END_TIE};

/* 200 ft, posts 25 ft, 3 wires: 7 line posts, 2 end posts, 655.2 ft and 17.2 lb of 12.5 gauge, 39
 * staples, 3 strainers, 12 crimps. The counting rules are our own: placeholder. */
static void test_worked_row(void **state)
{
    (void)state;
    struct cy_parts p = parts(two_hundred_feet);
    assert_int_equal(p.line_posts, 7);
    assert_int_equal(p.end_posts, 2);
    assert_int_equal(p.anchors, 2);
    near(p.wire_m, 655.2 * FT, 1e-4);
    near(p.wire_kg, 17.2 * 0.45359237, 3e-3);
    assert_int_equal(p.staples, 39);
    assert_int_equal(p.clips, 0);
    assert_int_equal(p.strainers, 3);
    assert_int_equal(p.crimps, 12);
    assert_int_equal(p.rails + p.struts + p.diagonals, 0);
}

static void test_other_ends_and_posts(void **state)
{
    (void)state;
    struct cy_parts_input in = two_hundred_feet;
    in.ends = CY_END_H;
    struct cy_parts p = parts(in);
    assert_int_equal(p.end_posts, 4);
    assert_int_equal(p.rails, 2);
    assert_int_equal(p.diagonals, 2);
    in.ends = CY_END_SLANT;
    assert_int_equal(parts(in).struts, 2);
    in.steel_posts = true;
    assert_int_equal(parts(in).staples, 18);
    assert_int_equal(parts(in).clips, 21);
}

static void test_counts_of_posts(void **state)
{
    (void)state;
    /* Exact multiples stay exact in either system, however the metres were rounded. */
    for (int spacing_ft = 15; spacing_ft <= 35; spacing_ft++)
        for (int bays = 1; bays <= 60; bays++) {
            struct cy_parts_input in = two_hundred_feet;
            in.post_spacing_m = spacing_ft * FT;
            in.row_m = bays * spacing_ft * FT;
            assert_int_equal(parts(in).line_posts, bays - 1);
            in.row_m += 0.01;
            assert_int_equal(parts(in).line_posts, bays);
        }
    struct cy_parts_input in = two_hundred_feet;
    in.row_m = 3; /* one bay */
    assert_int_equal(parts(in).line_posts, 0);
    in.row_m = 1320 * FT;
    assert_int_equal(parts(in).strainers, 3); /* NRCS Maine job sheet 382A, 2008 */
    in.row_m = 1321 * FT;
    assert_int_equal(parts(in).strainers, 6);
}

static void refused(struct cy_parts_input in, const char *name)
{
    struct cy_parts result;
    struct cy_trellis_domain bad = {0};
    assert_int_equal(cy_parts_of(&result, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, name);
}

static void test_parts_bounds(void **state)
{
    (void)state;
    struct cy_parts_input in = two_hundred_feet;
    in.row_m = 0;
    refused(in, "row");
    in = two_hundred_feet, in.post_spacing_m = 0;
    refused(in, "post_spacing");
    in = two_hundred_feet, in.wires = 0;
    refused(in, "wires");
    in = two_hundred_feet, in.gauge = 7;
    refused(in, "gauge");
    in = two_hundred_feet, in.ends = (enum cy_end_kind)4;
    refused(in, "ends");
}

static struct cy_rows rows(struct cy_rows_input in)
{
    struct cy_rows result;
    assert_int_equal(cy_rows_of(&result, &in, NULL), CY_OK);
    return result;
}

static void test_rows(void **state)
{
    (void)state;
    struct cy_rows r = rows((struct cy_rows_input){47 * FT, 220 * FT, 10 * FT, 10 * FT, 5 * FT});
    assert_int_equal(r.rows, 4);
    near(r.row_m, 200 * FT, 1e-12);
    near(r.plants, 160, 1e-12);
    near(r.first_m, 8.5 * FT, 1e-12);
    near(2 * r.first_m + 3 * 10 * FT, 47 * FT, 1e-12);
    for (int n = 0; n < 100; n++) {
        assert_int_equal(rows((struct cy_rows_input){n * 3.1, 50, 3.1, 0, 0}).rows, n);
        assert_int_equal(rows((struct cy_rows_input){n * 11 * FT, 50, 11 * FT, 0, 0}).rows, n);
    }
    assert_true(rows((struct cy_rows_input){2, 50, 3, 0, 1}).plants == 0);
}

static void test_rows_bounds(void **state)
{
    (void)state;
    struct cy_rows r;
    struct cy_trellis_domain bad;
    struct cy_rows_input in = {30, 50, 3, 26, 0};
    assert_int_equal(cy_rows_of(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "headland");
    assert_true(bad.high == 25);
    in.headland_m = 5, in.row_spacing_m = 0;
    assert_int_equal(cy_rows_of(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "row_spacing");
    in.row_spacing_m = 3, in.plant_spacing_m = -1;
    assert_int_equal(cy_rows_of(&r, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "plant_spacing");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_worked_row),
        cmocka_unit_test(test_other_ends_and_posts),
        cmocka_unit_test(test_counts_of_posts),
        cmocka_unit_test(test_parts_bounds),
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_rows_bounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
