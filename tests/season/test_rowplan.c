/* SPDX-License-Identifier: MIT
 * Rows proposed for fields: rectangles against the count of rows, fields that bend, turned fields,
 * what can never be more than there is. */
#include "season/farms.h"

#include <stdlib.h>

#include <caneyear/base/random.h>
#include <caneyear/season/rowplan.h>
#include <caneyear/trellis/parts.h>

#include "support/soak.h"

#define FOOT 0.3048
#define assert_near(a, b, tolerance) assert_true(fabs((a) - (b)) <= (tolerance))

static struct cy_rowplan_ask ask_of(const struct cy_point *corners, size_t count)
{
    return (struct cy_rowplan_ask){.corners = corners,
                                   .corner_count = count,
                                   .spacing_m = 3,
                                   .headland_m = 6,
                                   .shortest_m = 5,
                                   .plant_spacing_m = 1,
                                   .post_spacing_m = 7.5,
                                   .ends = CY_END_TIE};
}

static struct cy_rowplan made(const struct cy_rowplan_ask *ask)
{
    struct cy_rowplan plan;
    assert_int_equal(cy_rowplan_make(&plan, ask), CY_OK);
    return plan;
}

/* A rectangle with its south-west corner at the origin. */
static void rectangle(struct cy_point corners[4], double east_m, double north_m)
{
    const struct cy_point all[4] = {{0, 0}, {east_m, 0}, {east_m, north_m}, {0, north_m}};
    memcpy(corners, all, sizeof all);
}

static void turned(struct cy_point *corners, size_t count, double degrees)
{
    double angle = degrees * M_PI / 180;
    for (size_t i = 0; i < count; i++) {
        struct cy_point at = corners[i];
        corners[i].x_m = at.x_m * cos(angle) + at.y_m * sin(angle);
        corners[i].y_m = at.y_m * cos(angle) - at.x_m * sin(angle);
    }
}

/* ---- rectangles ------------------------------------------------------------------------------ */

static void a_rectangle_holds_the_rows_that_the_parts_list_counts(void **state)
{
    (void)state;
    static const struct {
        double width_ft, length_ft, spacing_ft, headland_ft, plants_ft;
    } cases[] = {
        /* the case of tests/trellis/test_parts.c, then others by hand */
        {47, 220, 10, 10, 5}, {208.71, 208.71, 10, 15, 3}, {100, 300, 10, 20, 3},
        {100, 300, 12, 0, 2}, {105, 180, 10, 30, 4},       {9.9, 300, 10, 20, 3},
        {10, 300, 10, 20, 3}, {330, 660, 8, 25, 1.5},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_point corners[4];
        struct cy_rows rows;
        struct cy_rows_input in = {.width_m = cases[i].width_ft * FOOT,
                                   .length_m = cases[i].length_ft * FOOT,
                                   .row_spacing_m = cases[i].spacing_ft * FOOT,
                                   .headland_m = cases[i].headland_ft * FOOT,
                                   .plant_spacing_m = cases[i].plants_ft * FOOT};
        assert_int_equal(cy_rows_of(&rows, &in, NULL), CY_OK);
        rectangle(corners, in.width_m, in.length_m);
        struct cy_rowplan_ask ask = ask_of(corners, 4);
        ask.spacing_m = in.row_spacing_m;
        ask.headland_m = in.headland_m;
        ask.plant_spacing_m = in.plant_spacing_m;
        struct cy_rowplan plan = made(&ask);
        assert_int_equal(plan.row_count, rows.rows);
        assert_near(plan.plants, rows.plants, 1e-6 * (1 + rows.plants));
        for (size_t k = 0; k < plan.row_count; k++) {
            assert_near(plan.rows[k].length_m, rows.row_m, 1e-9 * rows.row_m);
            assert_near(plan.rows[k].from.x_m, rows.first_m + (double)k * in.row_spacing_m, 1e-5);
            assert_near(plan.rows[k].from.y_m, in.headland_m, 1e-9);
        }
        cy_rowplan_dispose(&plan);
    }
}

static void posts_are_those_of_the_parts_list(void **state)
{
    (void)state;
    struct cy_point corners[4];
    rectangle(corners, 30, 100);
    struct cy_rowplan_ask ask = ask_of(corners, 4);
    for (int ends = 0; ends < CY_END_KIND_COUNT; ends++) {
        struct cy_parts parts;
        struct cy_parts_input in = {.row_m = 88,
                                    .post_spacing_m = 7.5,
                                    .wires = 2,
                                    .gauge = 12.5,
                                    .ends = (enum cy_end_kind)ends};
        assert_int_equal(cy_parts_of(&parts, &in, NULL), CY_OK);
        ask.ends = in.ends;
        struct cy_rowplan plan = made(&ask);
        assert_int_equal(plan.row_count, 10);
        assert_int_equal(plan.line_posts, 10 * parts.line_posts);
        assert_int_equal(plan.end_posts, 10 * parts.end_posts);
        cy_rowplan_dispose(&plan);
    }
}

/* ---- other outlines -------------------------------------------------------------------------- */

/* 60 m east and 90 m north, less its north-east quarter of 30 by 45. */
static const struct cy_point ell[] = {{0, 0}, {60, 0}, {60, 45}, {30, 45}, {30, 90}, {0, 90}};

static void a_field_like_an_l_has_long_rows_and_short_ones(void **state)
{
    (void)state;
    struct cy_rowplan_ask ask = ask_of(ell, 6);
    struct cy_rowplan plan = made(&ask);
    assert_near(plan.area_m2, 60 * 90 - 30 * 45, 1e-9);
    assert_int_equal(plan.row_count, 20);
    for (size_t i = 0; i < plan.row_count; i++)
        assert_near(plan.rows[i].length_m, i < 10 ? 78 : 33, 1e-9);
    assert_near(plan.length_m, 10 * 78 + 10 * 33, 1e-6);
    cy_rowplan_dispose(&plan);
    /* Across: 15 rows on the wide half, 15 on the narrow one. */
    ask.bearing_deg = 90;
    plan = made(&ask);
    assert_int_equal(plan.row_count, 30);
    assert_near(plan.length_m, 15 * 48 + 15 * 18, 1e-6);
    cy_rowplan_dispose(&plan);
}

/* A U that opens north: 60 wide, 50 high, with a bay of 20 by 30 from the top. */
static const struct cy_point bay[] = {{0, 0},   {60, 0},  {60, 50}, {40, 50},
                                      {40, 20}, {20, 20}, {20, 50}, {0, 50}};

static void lines_are_cut_in_two_by_a_bay_and_short_pieces_dropped(void **state)
{
    (void)state;
    struct cy_rowplan_ask ask = ask_of(bay, 8);
    ask.bearing_deg = 90;
    ask.spacing_m = 5;
    ask.headland_m = 2;
    struct cy_rowplan plan = made(&ask);
    /* Four lines below the bay of 56 m, six beside it in two pieces of 16 m each. */
    assert_int_equal(plan.row_count, 4 + 12);
    assert_near(plan.length_m, 4 * 56 + 12 * 16, 1e-6);
    int twice = 0;
    for (size_t i = 1; i < plan.row_count; i++)
        twice += plan.rows[i].line == plan.rows[i - 1].line;
    assert_int_equal(twice, 6);
    cy_rowplan_dispose(&plan);
    ask.shortest_m = 17;
    plan = made(&ask);
    assert_int_equal(plan.row_count, 4);
    cy_rowplan_dispose(&plan);
    ask.shortest_m = 100;
    plan = made(&ask);
    assert_int_equal(plan.state, CY_ROWPLAN_PROPOSED);
    assert_int_equal(plan.row_count, 0);
    cy_rowplan_dispose(&plan);
}

static void the_lines_stand_where_most_fits(void **state)
{
    (void)state;
    /* Two wings 3 m wide, 7 m apart from left edge to left edge: a row fits each, but no two rows
     * stand 7 m apart where the spacing is 3 m. */
    static const struct cy_point wings[] = {{0, 0}, {10, 0}, {10, 50}, {7, 50},
                                            {7, 3}, {3, 3},  {3, 50},  {0, 50}};
    struct cy_rowplan_ask ask = ask_of(wings, 8);
    ask.spacing_m = 3;
    ask.shortest_m = 20;
    ask.headland_m = 0;
    struct cy_rowplan plan = made(&ask);
    assert_int_equal(plan.row_count, 1);
    assert_near(plan.length_m, 50, 1e-6);
    cy_rowplan_dispose(&plan);
    static const struct cy_point meeting[] = {{0, 0}, {9, 0}, {9, 50}, {6, 50},
                                              {6, 3}, {3, 3}, {3, 50}, {0, 50}};
    ask.corners = meeting;
    plan = made(&ask);
    assert_int_equal(plan.row_count, 2);
    assert_near(plan.offset_m, 1.5, 1e-5);
    cy_rowplan_dispose(&plan);
}

static void what_is_no_field_is_said_to_be_none(void **state)
{
    (void)state;
    static const struct cy_point bow[] = {{0, 0}, {50, 50}, {50, 0}, {0, 50}};
    static const struct cy_point line[] = {{0, 0}, {10, 10}, {50, 50}};
    static const struct cy_point touching[] = {{0, 0}, {60, 0}, {60, 60}, {30, 0}, {0, 60}};
    const struct {
        const struct cy_point *corners;
        size_t count;
        enum cy_rowplan_state state;
    } cases[] = {{NULL, 0, CY_ROWPLAN_NO_OUTLINE},
                 {bow, 2, CY_ROWPLAN_NO_OUTLINE},
                 {bow, 4, CY_ROWPLAN_CROSSES},
                 {touching, 5, CY_ROWPLAN_CROSSES},
                 {line, 3, CY_ROWPLAN_NO_AREA}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_rowplan_ask ask = ask_of(cases[i].corners, cases[i].count);
        struct cy_rowplan plan = made(&ask);
        assert_int_equal(plan.state, cases[i].state);
        assert_int_equal(plan.row_count, 0);
        cy_rowplan_dispose(&plan);
    }
}

/* ---- what holds for every field -------------------------------------------------------------- */

/* A star around a point: sides never cross, and it bends inwards as it likes. */
static size_t random_field(struct cy_point *corners, struct cy_random *random)
{
    size_t count = 3 + (size_t)(cy_random_uniform(random) * 9);
    for (size_t i = 0; i < count; i++) {
        double angle = 2 * M_PI * ((double)i + 0.8 * cy_random_uniform(random)) / (double)count;
        double reach = 20 + 80 * cy_random_uniform(random);
        corners[i] = (struct cy_point){300 + reach * sin(angle), -50 + reach * cos(angle)};
    }
    return count;
}

static bool inside(const struct cy_rowplan_ask *ask, double x_m, double y_m)
{
    bool in = false;
    for (size_t i = 0, j = ask->corner_count - 1; i < ask->corner_count; j = i++) {
        struct cy_point a = ask->corners[i], b = ask->corners[j];
        if ((a.y_m > y_m) != (b.y_m > y_m) &&
            x_m < a.x_m + (y_m - a.y_m) / (b.y_m - a.y_m) * (b.x_m - a.x_m))
            in = !in;
    }
    return in;
}

static struct cy_rowplan_ask random_ask(struct cy_point *corners, struct cy_random *random)
{
    struct cy_rowplan_ask ask = ask_of(corners, random_field(corners, random));
    ask.bearing_deg = 360 * cy_random_uniform(random);
    ask.spacing_m = 2 + 3 * cy_random_uniform(random);
    ask.headland_m = 8 * cy_random_uniform(random);
    return ask;
}

static void rows_and_alleys_stay_within_the_field(void **state)
{
    (void)state;
    struct cy_random random;
    struct cy_point corners[16];
    cy_random_seed(&random, 7, 1);
    int rows = 0;
    for (int round = 0; round < soak(120, 50); round++) {
        struct cy_rowplan_ask ask = random_ask(corners, &random);
        double along_x = sin(ask.bearing_deg * M_PI / 180);
        double along_y = cos(ask.bearing_deg * M_PI / 180);
        struct cy_rowplan plan = made(&ask);
        if (plan.state != CY_ROWPLAN_PROPOSED)
            continue;
        rows += (int)plan.row_count;
        assert_true(plan.length_m * ask.spacing_m <= plan.area_m2 * (1 + 1e-6));
        for (size_t i = 0; i < plan.row_count; i++) {
            const struct cy_rowplan_row *row = &plan.rows[i];
            assert_true(row->length_m >= ask.shortest_m * (1 - 1e-6));
            /* With its headlands, and half an alley on either side. */
            for (double u = -ask.headland_m + 1e-3; u <= row->length_m + ask.headland_m - 1e-3;
                 u += 0.7)
                for (int side = -1; side <= 1; side++) {
                    double v = side * (ask.spacing_m / 2 - 1e-3);
                    assert_true(inside(&ask, row->from.x_m + u * along_x + v * along_y,
                                       row->from.y_m + u * along_y - v * along_x));
                }
        }
        cy_rowplan_dispose(&plan);
    }
    assert_true(rows > 500);
}

static void turning_field_and_rows_together_changes_nothing(void **state)
{
    (void)state;
    struct cy_random random;
    struct cy_point corners[16];
    cy_random_seed(&random, 7, 2);
    for (int round = 0; round < soak(60, 50); round++) {
        struct cy_rowplan_ask ask = random_ask(corners, &random);
        struct cy_rowplan before = made(&ask);
        double degrees = 360 * cy_random_uniform(&random);
        turned(corners, ask.corner_count, degrees);
        ask.bearing_deg += degrees;
        struct cy_rowplan after = made(&ask);
        assert_int_equal(before.state, after.state);
        assert_near(before.area_m2, after.area_m2, 1e-6 * (1 + before.area_m2));
        assert_near(before.length_m, after.length_m, 1e-5 * (1 + before.length_m));
        cy_rowplan_dispose(&before);
        cy_rowplan_dispose(&after);
    }
    /* And a rectangle's rows are the same whichever way it lies. */
    for (double degrees = 0; degrees < 360; degrees += 7) {
        struct cy_point box[4];
        rectangle(box, 100, 30);
        turned(box, 4, degrees);
        struct cy_rowplan_ask ask = ask_of(box, 4);
        ask.bearing_deg = 90 + degrees;
        struct cy_rowplan plan = made(&ask);
        assert_int_equal(plan.row_count, 10);
        assert_near(plan.length_m, 880, 1e-6);
        cy_rowplan_dispose(&plan);
    }
}

static void feet_and_metres_agree(void **state)
{
    (void)state;
    struct cy_random random;
    struct cy_point corners[16];
    cy_random_seed(&random, 7, 3);
    for (int round = 0; round < soak(60, 50); round++) {
        /* The same numbers as metres, and as feet turned into metres. */
        struct cy_rowplan_ask metres = random_ask(corners, &random);
        struct cy_rowplan in_metres = made(&metres);
        for (size_t i = 0; i < metres.corner_count; i++)
            corners[i] = (struct cy_point){corners[i].x_m * FOOT, corners[i].y_m * FOOT};
        struct cy_rowplan_ask feet = metres;
        feet.spacing_m *= FOOT;
        feet.headland_m *= FOOT;
        feet.shortest_m *= FOOT;
        feet.plant_spacing_m *= FOOT;
        feet.post_spacing_m *= FOOT;
        struct cy_rowplan in_feet = made(&feet);
        assert_int_equal(in_feet.row_count, in_metres.row_count);
        assert_int_equal(in_feet.line_posts, in_metres.line_posts);
        assert_near(in_feet.length_m / FOOT, in_metres.length_m, 1e-9 * (1 + in_metres.length_m));
        assert_near(in_feet.plants, in_metres.plants, 1e-9 * (1 + in_metres.plants));
        cy_rowplan_dispose(&in_metres);
        cy_rowplan_dispose(&in_feet);
    }
}

static void either_way_round_and_either_way_along_is_the_same(void **state)
{
    (void)state;
    struct cy_point back[6];
    for (size_t i = 0; i < 6; i++)
        back[i] = ell[5 - i];
    struct cy_rowplan_ask ask = ask_of(ell, 6), reversed = ask_of(back, 6), along = ask;
    ask.bearing_deg = reversed.bearing_deg = 20;
    along.bearing_deg = 200;
    struct cy_rowplan one = made(&ask), other = made(&reversed), third = made(&along);
    assert_near(one.length_m, other.length_m, 1e-6);
    assert_near(one.area_m2, other.area_m2, 1e-9);
    assert_near(one.length_m, third.length_m, 0.01 * one.length_m);
    cy_rowplan_dispose(&one);
    cy_rowplan_dispose(&other);
    cy_rowplan_dispose(&third);
}

static void the_ground_falls_most_along_rows_that_run_down_it(void **state)
{
    (void)state;
    assert_near(cy_rowplan_fall_deg(14, 100, 100), 14, 1e-12);
    assert_near(cy_rowplan_fall_deg(14, 100, 280), 14, 1e-12);
    assert_near(cy_rowplan_fall_deg(14, 100, 10), 0, 1e-12);
    /* tan(45 deg) cos(60 deg) = 0.5 */
    assert_near(cy_rowplan_fall_deg(45, 0, 60), atan(0.5) * 180 / M_PI, 1e-12);
    assert_true(isnan(cy_rowplan_fall_deg(NAN, 0, 60)));
}

/* ---- a farm's field -------------------------------------------------------------------------- */

static void add_corner(struct cy_farm *farm, const char *key, const char *x, const char *y)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    struct cy_text address = {0};
    assert_non_null(cy_farm_add(farm, CY_KIND_CORNER, site->id, key, NULL, 0));
    for (int i = 0; i < 2; i++) {
        cy_text_clear(&address);
        cy_text_add(&address, "site.corner.");
        cy_text_add(&address, key);
        cy_text_add(&address, i ? ".y" : ".x");
        put(farm, cy_text_get(&address), i ? y : x);
    }
    cy_text_dispose(&address);
}

static void a_site_says_what_is_asked_and_bearings_are_compared(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_rowplan_site site;
    struct cy_sunlight sun;
    farm_north(&farm);
    add_corner(&farm, "a", "0 ft", "0 ft");
    add_corner(&farm, "b", "100 ft", "0 ft");
    add_corner(&farm, "c", "100 ft", "300 ft");
    add_corner(&farm, "d", "0 ft", "300 ft");
    put(&farm, "site.slope", "14 deg");
    put(&farm, "site.aspect", "180 deg");
    assert_int_equal(cy_farm_check(&farm, NULL), CY_OK);
    assert_int_equal(cy_rowplan_site_of(&site, &farm), CY_OK);
    assert_int_equal(cy_sunlight_of(&sun, &farm, 35.43, 2027), CY_OK);
    assert_int_equal(site.ask.corner_count, 4);
    assert_near(site.ask.spacing_m, 3.048, 1e-12);  /* 10 ft by default */
    assert_true(site.basis & CY_BASIS_PLACEHOLDER); /* nobody said how wide the headlands are */
    struct cy_rowplan_choice along, across;
    assert_int_equal(cy_rowplan_choose(&along, &site, &sun, 0), CY_OK);
    assert_int_equal(cy_rowplan_choose(&across, &site, &sun, 90), CY_OK);
    assert_int_equal(along.rows, 10);
    assert_near(along.length_m, 10 * 260 * FOOT, 1e-6); /* less 20 ft at each end */
    assert_int_equal(across.rows, 30);
    assert_near(across.length_m, 30 * 60 * FOOT, 1e-6);
    assert_true(across.sun_h > along.sun_h); /* in summer, low rows 10 ft apart */
    assert_near(along.fall_deg, 14, 1e-9);
    assert_near(across.fall_deg, 0, 1e-9);
    struct cy_trace trace = {0};
    assert_true(cy_rowplan_why(&trace, &site, &sun, 0));
    assert_int_equal(trace.count, 4);
    assert_near(trace.steps[0].value, along.length_m, 1e-9);
    assert_near(trace.steps[1].value, along.plants, 1e-9);
    assert_near(trace.steps[2].value, along.posts, 1e-9);
    assert_near(trace.steps[3].value, along.sun_h, 1e-9);
    assert_true(cy_rowplan_why_fall(&trace, &site, 0));
    assert_false(trace.failed);
    cy_trace_dispose(&trace);
    cy_rowplan_site_dispose(&site);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

static void without_an_outline_there_is_nothing_to_ask(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_rowplan_site site;
    struct cy_sunlight sun;
    struct cy_trace trace = {0};
    farm_north(&farm);
    assert_int_equal(cy_rowplan_site_of(&site, &farm), CY_OK);
    assert_int_equal(cy_sunlight_of(&sun, &farm, 35.43, 2027), CY_OK);
    struct cy_rowplan plan = made(&site.ask);
    assert_int_equal(plan.state, CY_ROWPLAN_NO_OUTLINE);
    assert_false(cy_rowplan_why(&trace, &site, &sun, 0));
    assert_false(cy_rowplan_why_fall(&trace, &site, 0));
    assert_int_equal(trace.count, 0);
    cy_rowplan_dispose(&plan);
    /* A corner says both where it stands. */
    const struct cy_thing *corner =
        cy_farm_add(&farm, CY_KIND_CORNER, cy_farm_one(&farm, CY_KIND_SITE)->id, "a", NULL, 0);
    assert_non_null(corner);
    assert_int_equal(cy_farm_check(&farm, NULL), CY_INVALID);
    cy_rowplan_site_dispose(&site);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rectangle_holds_the_rows_that_the_parts_list_counts),
        cmocka_unit_test(posts_are_those_of_the_parts_list),
        cmocka_unit_test(a_field_like_an_l_has_long_rows_and_short_ones),
        cmocka_unit_test(lines_are_cut_in_two_by_a_bay_and_short_pieces_dropped),
        cmocka_unit_test(the_lines_stand_where_most_fits),
        cmocka_unit_test(what_is_no_field_is_said_to_be_none),
        cmocka_unit_test(rows_and_alleys_stay_within_the_field),
        cmocka_unit_test(turning_field_and_rows_together_changes_nothing),
        cmocka_unit_test(feet_and_metres_agree),
        cmocka_unit_test(either_way_round_and_either_way_along_is_the_same),
        cmocka_unit_test(the_ground_falls_most_along_rows_that_run_down_it),
        cmocka_unit_test(a_site_says_what_is_asked_and_bearings_are_compared),
        cmocka_unit_test(without_an_outline_there_is_nothing_to_ask),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
