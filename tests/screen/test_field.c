/* SPDX-License-Identifier: MIT
 * The field as drawn: rows at their true place whatever way they run. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <math.h>
#include <string.h>

#include <cmocka.h>

#include "support/near.h"
#include "screen/field.h"

static void set(struct cy_farm *farm, const struct cy_thing *row, enum cy_field field,
                const char *text)
{
    struct cy_value value;
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    assert_int_equal(cy_farm_set(farm, row->id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

struct plot {
    const char *x, *y, *bearing, *length;
};

static struct cy_field_map map_of(struct cy_farm *farm, const struct plot *plots, size_t count)
{
    struct cy_field_map map;
    assert_int_equal(cy_farm_init(farm), CY_OK);
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *row = cy_farm_add(farm, CY_KIND_ROW, 0, NULL, NULL, 0);
        assert_non_null(row);
        if (plots[i].x)
            set(farm, row, CY_ROW_X, plots[i].x);
        if (plots[i].y)
            set(farm, row, CY_ROW_Y, plots[i].y);
        set(farm, row, CY_ROW_BEARING, plots[i].bearing);
        set(farm, row, CY_ROW_LENGTH, plots[i].length);
        set(farm, row, CY_ROW_WIDTH, "3 m");
    }
    assert_true(cy_field_map_make(&map, farm));
    assert_int_equal(map.count, count);
    return map;
}

static void done_with(struct cy_field_map *map, struct cy_farm *farm)
{
    cy_field_map_dispose(map);
    cy_farm_dispose(farm);
}

static void a_farm_without_rows_has_an_empty_field(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, NULL, 0);
    assert_int_equal(map.lines, 0);
    done_with(&map, &farm);
}

static void rows_side_by_side_stand_on_lines_of_their_own(void **state)
{
    (void)state;
    static const struct plot plots[] = {{"0 m", "0 m", "0 deg", "50 m"},
                                        {"3 m", "10 m", "0 deg", "30 m"},
                                        {"6 m", "0 m", "0 deg", "50 m"}};
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, plots, 3);
    assert_false(map.mixed);
    assert_int_equal(map.lines, 3);
    assert_string_equal(cy_field_compass(map.bearing), "N");
    assert_near(map.length_m, 50, 1e-9);
    for (int i = 0; i < 3; i++)
        assert_int_equal(map.strips[i].line, i); /* the west above */
    assert_near(map.strips[1].from_m, 10, 1e-9);
    assert_near(map.strips[1].length_m, 30, 1e-9);
    done_with(&map, &farm);
}

static void rows_in_line_share_a_line(void **state)
{
    (void)state;
    static const struct plot plots[] = {{"0 m", "0 m", "0 deg", "50 m"},
                                        {"0 m", "60 m", "0 deg", "40 m"}};
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, plots, 2);
    assert_int_equal(map.lines, 1);
    assert_near(map.strips[1].from_m, 60, 1e-9);
    assert_near(map.length_m, 100, 1e-9);
    done_with(&map, &farm);
}

/* A row typed in from its other end is the same row. */
static void the_sense_of_a_bearing_does_not_matter(void **state)
{
    (void)state;
    static const struct plot plots[] = {{"0 m", "0 m", "20 deg", "50 m"},
                                        {"20.1 m", "45.9545 m", "200 deg", "50 m"}};
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, plots, 2);
    assert_false(map.mixed);
    assert_near(map.bearing, 20, 1e-6);
    assert_near(map.strips[0].from_m, map.strips[1].from_m, 0.1);
    done_with(&map, &farm);
}

static void a_gap_between_blocks_is_seen(void **state)
{
    (void)state;
    static const struct plot plots[] = {{"0 m", "0 m", "0 deg", "50 m"},
                                        {"3 m", "0 m", "0 deg", "50 m"},
                                        {"9 m", "0 m", "0 deg", "50 m"}};
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, plots, 3);
    assert_int_equal(map.strips[1].line, 1);
    assert_int_equal(map.strips[2].line, 3);
    done_with(&map, &farm);
}

static void rows_that_run_different_ways_each_have_a_line(void **state)
{
    (void)state;
    static const struct plot plots[] = {{"0 m", "0 m", "0 deg", "50 m"},
                                        {"0 m", "60 m", "0 deg", "50 m"},
                                        {"5 m", "55 m", "90 deg", "20 m"}};
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, plots, 3);
    assert_true(map.mixed);
    assert_int_equal(map.lines, 3);
    assert_near(map.strips[2].length_m, 20, 1e-9);
    done_with(&map, &farm);
}

static void rows_without_a_place_stand_one_beside_the_other(void **state)
{
    (void)state;
    static const struct plot plots[] = {{NULL, NULL, "30 deg", "50 m"},
                                        {NULL, NULL, "30 deg", "50 m"}};
    struct cy_farm farm;
    struct cy_field_map map = map_of(&farm, plots, 2);
    assert_int_equal(map.strips[0].line, 0);
    assert_int_equal(map.strips[1].line, 1);
    done_with(&map, &farm);
}

static void the_compass_has_eight_points(void **state)
{
    (void)state;
    assert_string_equal(cy_field_compass(0), "N");
    assert_string_equal(cy_field_compass(359), "N");
    assert_string_equal(cy_field_compass(44), "NE");
    assert_string_equal(cy_field_compass(188), "S");
    assert_string_equal(cy_field_compass(270), "W");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_farm_without_rows_has_an_empty_field),
        cmocka_unit_test(rows_side_by_side_stand_on_lines_of_their_own),
        cmocka_unit_test(rows_in_line_share_a_line),
        cmocka_unit_test(the_sense_of_a_bearing_does_not_matter),
        cmocka_unit_test(a_gap_between_blocks_is_seen),
        cmocka_unit_test(rows_that_run_different_ways_each_have_a_line),
        cmocka_unit_test(rows_without_a_place_stand_one_beside_the_other),
        cmocka_unit_test(the_compass_has_eight_points),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
