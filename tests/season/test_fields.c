/* SPDX-License-Identifier: MIT
 * The table of fields holds together: kinds, parents, ranges, defaults and their sources. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/farm.h>

static void fields_stand_with_their_kind(void **state)
{
    (void)state;
    int next = 0;
    for (int k = 0; k < CY_KIND_COUNT; k++) {
        const struct cy_kind_info *kind = cy_kind_info((enum cy_kind)k);
        assert_int_equal(kind->first_field, next);
        assert_true(kind->field_count > 0);
        for (int i = 0; i < kind->field_count; i++)
            assert_int_equal(cy_field_info((enum cy_field)(next + i))->kind, k);
        next += kind->field_count;
    }
    assert_int_equal(next, CY_FIELD_COUNT);
}

/* Copying a farm and reading a file rely on it; nothing nests deeper than one level. */
static void parents_stand_before_their_children(void **state)
{
    (void)state;
    for (int k = 0; k < CY_KIND_COUNT; k++) {
        const struct cy_kind_info *kind = cy_kind_info((enum cy_kind)k);
        if (kind->parent == CY_KIND_NONE)
            continue;
        assert_true((int)kind->parent < k);
        assert_int_equal(cy_kind_info(kind->parent)->parent, CY_KIND_NONE);
        assert_int_equal(kind->shape, CY_SHAPE_LIST);
    }
}

static void names_are_found_and_unique(void **state)
{
    (void)state;
    for (int k = 0; k < CY_KIND_COUNT; k++) {
        const struct cy_kind_info *kind = cy_kind_info((enum cy_kind)k);
        assert_int_equal(cy_kind_of_word(kind->word, strlen(kind->word)), k);
        assert_int_equal(cy_kind_of_section(kind->section, strlen(kind->section), kind->parent), k);
    }
    for (int f = 0; f < CY_FIELD_COUNT; f++) {
        const struct cy_field_info *field = cy_field_info((enum cy_field)f);
        assert_int_equal(cy_field_named(field->kind, field->name, strlen(field->name)), f);
        /* YAML has its own of these. */
        assert_string_not_equal(field->name, "key");
        assert_string_not_equal(field->name, "basis");
        assert_string_not_equal(field->name, "source");
        for (int k = 0; k < CY_KIND_COUNT; k++) /* or addresses would mean two things */
            if (cy_kind_info((enum cy_kind)k)->parent == field->kind)
                assert_string_not_equal(cy_kind_info((enum cy_kind)k)->word, field->name);
    }
}

static void what_is_unknown_is_not_found(void **state)
{
    (void)state;
    assert_int_equal(cy_kind_of_word("rows", 4), CY_KIND_NONE);
    assert_int_equal(cy_kind_of_word("row", 2), CY_KIND_NONE);
    assert_int_equal(cy_kind_of_section("wires", 5, CY_KIND_NONE), CY_KIND_NONE);
    assert_int_equal(cy_kind_of_section("wires", 5, CY_KIND_TRELLIS), CY_KIND_WIRE);
    assert_int_equal(cy_field_named(CY_KIND_ROW, "gauge", 5), CY_FIELD_NONE);
    assert_int_equal(cy_field_named(CY_KIND_NONE, "name", 4), CY_FIELD_NONE);
    assert_null(cy_kind_info(CY_KIND_NONE));
    assert_null(cy_field_info(CY_FIELD_NONE));
    assert_null(cy_field_info(CY_FIELD_COUNT));
}

static void defaults_are_inside_their_range(void **state)
{
    (void)state;
    for (int f = 0; f < CY_FIELD_COUNT; f++) {
        const struct cy_field_info *field = cy_field_info((enum cy_field)f);
        double value = field->fallback;
        if (isnan(value))
            continue;
        if (field->type == CY_TYPE_CHOICE) {
            assert_true(value >= 0 && value < field->choice_count);
        } else if (field->type == CY_TYPE_SEASON_DAY) {
            int month = (int)value / 100, day = (int)value % 100;
            assert_true(cy_day_of(2001, month, day) != CY_DAY_NONE);
        } else {
            assert_true(value >= field->low && value <= field->high);
        }
    }
}

static void published_defaults_name_their_source(void **state)
{
    (void)state;
    for (int f = 0; f < CY_FIELD_COUNT; f++) {
        const struct cy_field_info *field = cy_field_info((enum cy_field)f);
        assert_non_null(field->source);
        assert_non_null(field->help);
        if (field->basis == CY_BASIS_PUBLISHED)
            assert_true(field->source[0] != '\0' && !isnan(field->fallback));
        if (isnan(field->fallback))
            assert_int_equal(field->basis, CY_BASIS_NONE);
    }
}

static void each_type_has_what_it_needs(void **state)
{
    (void)state;
    for (int f = 0; f < CY_FIELD_COUNT; f++) {
        const struct cy_field_info *field = cy_field_info((enum cy_field)f);
        bool ranged = field->type == CY_TYPE_NUMBER || field->type == CY_TYPE_COUNT;
        assert_true(!ranged || field->low < field->high);
        assert_true(field->type != CY_TYPE_TEXT || field->high >= 1);
        assert_int_equal(field->choice_count > 1, field->type == CY_TYPE_CHOICE);
        assert_int_equal(field->target != CY_KIND_NONE, field->type == CY_TYPE_REFERENCE);
        /* A reference is a key alone, so what it names must stand at the top level. */
        if (field->type == CY_TYPE_REFERENCE)
            assert_int_equal(cy_kind_info(field->target)->parent, CY_KIND_NONE);
    }
}

static void choices_keep_the_order_of_their_terms(void **state)
{
    (void)state;
    assert_string_equal(cy_field_info(CY_SITE_SOIL)->choices[CY_SOIL_SILTY_CLAY], "silty clay");
    assert_string_equal(cy_field_info(CY_CULTIVAR_CHILL_RULE)->choices[CY_CHILL_PORTIONS],
                        "chill portions");
    assert_string_equal(cy_field_info(CY_JOB_URGENT)->choices[CY_YES], "yes");
    assert_int_equal(cy_field_info(CY_CULTIVAR_CHILL_RULE)->choice_count, CY_CHILL_KIND_COUNT);
    assert_string_equal(cy_stage_word(CY_STAGE_AUTUMN_PEAK_PICK), "autumn peak pick");
    assert_string_equal(cy_state_word(CY_STATE_GONE), "gone");
    assert_string_equal(cy_stage_word(CY_STAGE_COUNT), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fields_stand_with_their_kind),
        cmocka_unit_test(parents_stand_before_their_children),
        cmocka_unit_test(names_are_found_and_unique),
        cmocka_unit_test(what_is_unknown_is_not_found),
        cmocka_unit_test(defaults_are_inside_their_range),
        cmocka_unit_test(published_defaults_name_their_source),
        cmocka_unit_test(each_type_has_what_it_needs),
        cmocka_unit_test(choices_keep_the_order_of_their_terms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
