/* SPDX-License-Identifier: MIT
 * Forms: typing, refusing, units, drafts. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <curses.h>

#include "support/near.h"
#include "screen/entry.h"

static const struct cy_entry_about about = {
    .row = "south-1", .job = "pick", .season = 2027, .round = 2};

static struct cy_entry note(void)
{
    struct cy_entry form;
    cy_entry_begin(&form, CY_KIND_SEEN, &about, CY_US, cy_day_of(2027, 5, 11));
    cy_entry_put(&form, CY_SEEN_WHAT, "emergence");
    cy_entry_put(&form, CY_SEEN_DAY, "2027-05-11");
    return form;
}

static struct cy_entry done(void)
{
    struct cy_entry form;
    cy_entry_begin(&form, CY_KIND_DONE, &about, CY_US, cy_day_of(2027, 5, 11));
    cy_entry_put(&form, CY_DONE_DAY, "2027-05-11");
    cy_entry_put(&form, CY_DONE_HOURS, "1.9 h");
    return form;
}

static enum cy_entry_result key(struct cy_entry *form, enum cy_key_kind kind, int value)
{
    struct cy_issues issues = {0};
    struct cy_key one = {.kind = kind, .value = value};
    enum cy_entry_result result = cy_entry_key(form, &one, &issues);
    assert_int_equal(result == CY_ENTRY_REFUSED, issues.count > 0);
    return result;
}

static void type(struct cy_entry *form, const char *text)
{
    size_t length = strlen(text), used;
    for (size_t i = 0; i < length; i += used)
        key(form, CY_KEY_CHAR, (int)cy_utf8_next(text + i, length - i, &used));
}

static const char *text_of(const struct cy_entry *form)
{
    return form->fields[form->chosen].text;
}

static void letters_turn_choices(void **state)
{
    (void)state;
    struct cy_entry form = note();
    type(&form, "f");
    assert_string_equal(text_of(&form), "first bloom");
    type(&form, "f");
    assert_string_equal(text_of(&form), "full bloom");
    key(&form, CY_KEY_CODE, KEY_LEFT);
    assert_string_equal(text_of(&form), "first bloom");
    type(&form, "z"); /* none begins so */
    assert_string_equal(text_of(&form), "first bloom");
}

static void what_was_seen_decides_what_is_asked(void **state)
{
    (void)state;
    struct cy_entry form = note();
    assert_int_equal(cy_entry_lines(&form), 4); /* heading, what, day, remark */
    cy_entry_put(&form, CY_SEEN_WHAT, "cane height");
    assert_int_equal(cy_entry_lines(&form), 5);
    key(&form, CY_KEY_CHAR, '\t');
    key(&form, CY_KEY_CHAR, '\t');
    assert_int_equal(form.fields[form.chosen].field, CY_SEEN_HEIGHT);
    /* And must be given. */
    struct cy_issues issues = {0};
    assert_null(cy_entry_values(&form, &issues));
    assert_int_equal(issues.items[0].code, CY_ISSUE_MISSING);
}

static void typing_replaces_a_date_and_edits_a_remark(void **state)
{
    (void)state;
    struct cy_entry form = done();
    type(&form, "2027-05-09");
    assert_string_equal(text_of(&form), "2027-05-09");
    key(&form, CY_KEY_CODE, KEY_BACKSPACE);
    type(&form, "8");
    assert_string_equal(text_of(&form), "2027-05-08");
    key(&form, CY_KEY_CHAR, '\t');
    key(&form, CY_KEY_CHAR, '\t');
    type(&form, "tips");
    key(&form, CY_KEY_CODE, KEY_UP);
    key(&form, CY_KEY_CODE, KEY_DOWN);
    type(&form, " black");
    assert_string_equal(text_of(&form), "tips black");
}

static void the_caret_moves_by_whole_characters(void **state)
{
    (void)state;
    struct cy_entry form = done();
    form.chosen = 2;
    form.caret = 0;
    type(&form, "ae\xCC\x81黒");
    key(&form, CY_KEY_CODE, KEY_LEFT);
    assert_int_equal(form.caret, 4);
    key(&form, CY_KEY_CODE, KEY_LEFT);
    assert_int_equal(form.caret, 1); /* the accent belongs to its letter */
    key(&form, CY_KEY_CODE, KEY_DC);
    assert_string_equal(text_of(&form), "a黒");
    key(&form, CY_KEY_CODE, KEY_END);
    key(&form, CY_KEY_CODE, KEY_BACKSPACE);
    assert_string_equal(text_of(&form), "a");
    key(&form, CY_KEY_CODE, KEY_BACKSPACE);
    key(&form, CY_KEY_CODE, KEY_BACKSPACE);
    key(&form, CY_KEY_CODE, KEY_LEFT);
    key(&form, CY_KEY_CODE, KEY_DC);
    assert_string_equal(text_of(&form), "");
}

static void control_characters_are_not_taken(void **state)
{
    (void)state;
    struct cy_entry form = done();
    form.chosen = 2;
    form.caret = 0;
    for (int c = 0; c < 32; c++)
        key(&form, CY_KEY_PASTED, c);
    key(&form, CY_KEY_PASTED, 0x9B);
    assert_string_equal(text_of(&form), "");
    for (int i = 0; i < 5000; i++)
        key(&form, CY_KEY_CHAR, 0x82FA);
    assert_true(strlen(text_of(&form)) < CY_ENTRY_TEXT);
}

static void a_bad_value_is_refused_and_escape_brings_the_old_one_back(void **state)
{
    (void)state;
    struct cy_entry form = done();
    key(&form, CY_KEY_CHAR, '\t');
    type(&form, "3 ft");
    assert_int_equal(key(&form, CY_KEY_CHAR, '\t'), CY_ENTRY_REFUSED);
    assert_int_equal(form.chosen, 1);
    assert_int_equal(key(&form, CY_KEY_CHAR, '\r'), CY_ENTRY_REFUSED);
    assert_int_equal(key(&form, CY_KEY_CHAR, 27), CY_ENTRY_GOES_ON);
    assert_string_equal(text_of(&form), "1.9 h");
    assert_int_equal(key(&form, CY_KEY_CHAR, 27), CY_ENTRY_DROP);
}

static void no_day_ahead_of_today_is_taken(void **state)
{
    (void)state;
    struct cy_entry form = note();
    struct cy_issues issues = {0};
    cy_entry_put(&form, CY_SEEN_DAY, "2027-05-12");
    assert_null(cy_entry_values(&form, &issues));
    assert_int_equal(issues.items[0].code, CY_ISSUE_OUT_OF_RANGE);
    assert_int_equal(form.fields[form.chosen].field, CY_SEEN_DAY);
}

static void values_carry_what_the_record_is_about(void **state)
{
    (void)state;
    struct cy_entry form = done();
    struct cy_issues issues = {0};
    cy_entry_put(&form, CY_DONE_HOURS, "2.5"); /* bare: hours */
    struct cy_value *values = cy_entry_values(&form, &issues);
    int first = cy_kind_info(CY_KIND_DONE)->first_field;
    assert_non_null(values);
    assert_string_equal(values[CY_DONE_ROW - first].text, "south-1");
    assert_string_equal(values[CY_DONE_JOB - first].text, "pick");
    assert_int_equal((int)values[CY_DONE_SEASON - first].number, 2027);
    assert_int_equal((int)values[CY_DONE_ROUND - first].number, 2);
    assert_near(values[CY_DONE_HOURS - first].number, 2.5, 0);
    assert_false(values[CY_DONE_TEXT - first].set);
    assert_false(values[CY_DONE_CORRECTS - first].set);
    cy_entry_free(&form, values);
}

static void a_draft_comes_back_as_it_was(void **state)
{
    (void)state;
    struct cy_entry form = done(), again;
    struct cy_text lines = {0};
    form.chosen = 2;
    form.caret = 0;
    type(&form, "low end, b\xC3\xA9"
                "b\xC3\xA9 canes");
    cy_copy(form.title, sizeof form.title, "Pick the ripe berries, South 1");
    cy_entry_save(&lines, &form);
    assert_true(cy_entry_load(&again, &lines, CY_US, cy_day_of(2027, 5, 12)));
    assert_int_equal(again.kind, CY_KIND_DONE);
    assert_string_equal(again.title, form.title);
    assert_memory_equal(&again.about, &form.about, sizeof form.about);
    assert_int_equal(again.chosen, 2);
    for (int i = 0; i < form.count; i++)
        assert_string_equal(again.fields[i].text, form.fields[i].text);
    cy_text_dispose(&lines);
}

static void nonsense_is_no_draft(void **state)
{
    (void)state;
    static const char *const nonsense[] = {
        "",          "form\n",     "form row\n",
        "form \n\n", "chosen 9\n", "form work\nchosen 77\nabout.season x\n\xFF\xFE"};
    for (size_t i = 0; i < sizeof nonsense / sizeof *nonsense; i++) {
        struct cy_entry form = {0};
        struct cy_text lines = {0};
        cy_text_add(&lines, nonsense[i]);
        bool loaded = cy_entry_load(&form, &lines, CY_US, cy_day_of(2027, 5, 12));
        assert_int_equal(loaded, strncmp(nonsense[i], "form work", 9) == 0);
        if (loaded)
            assert_in_range(form.chosen, 0, form.count - 1);
        cy_text_dispose(&lines);
    }
}

static const struct cy_value *value_of(const struct cy_value *values, enum cy_field field)
{
    return &values[(int)field - cy_kind_info(CY_KIND_SEEN)->first_field];
}

/* Rain is the whole farm's; water given is the row's, or that of all of a zone. */
static void water_is_typed_by_one_amount(void **state)
{
    (void)state;
    struct cy_issues issues = {0};
    struct cy_entry form = note();
    cy_entry_put(&form, CY_SEEN_WHAT, "rain");
    assert_int_equal(cy_entry_lines(&form), 5); /* heading, what, day, depth, remark */
    struct cy_text of = {0};
    cy_entry_say_of(&of, &form);
    assert_string_equal(cy_text_get(&of), "the whole farm");
    cy_text_dispose(&of);
    assert_null(cy_entry_values(&form, &issues));
    assert_int_equal(issues.items[0].code, CY_ISSUE_MISSING);
    cy_entry_put(&form, CY_SEEN_DEPTH, "0.6");
    struct cy_value *values = cy_entry_values(&form, &issues);
    assert_non_null(values);
    assert_near(value_of(values, CY_SEEN_DEPTH)->number, 0.6 * 25.4, 1e-9);
    assert_false(value_of(values, CY_SEEN_ROW)->set);
    cy_entry_free(&form, values);

    form = note();
    cy_entry_put(&form, CY_SEEN_WHAT, "water given");
    assert_int_equal(cy_entry_lines(&form), 8);
    assert_null(cy_entry_values(&form, &issues));
    cy_entry_put(&form, CY_SEEN_RAN, "90 min");
    values = cy_entry_values(&form, &issues);
    assert_non_null(values);
    assert_near(value_of(values, CY_SEEN_RAN)->number, 1.5, 1e-12);
    assert_string_equal(value_of(values, CY_SEEN_ROW)->text, "south-1");
    cy_entry_free(&form, values);
    cy_entry_put(&form, CY_SEEN_ZONE, "south");
    cy_entry_say_of(&of, &form);
    assert_string_equal(cy_text_get(&of), "zone south");
    cy_text_dispose(&of);
    values = cy_entry_values(&form, &issues);
    assert_non_null(values);
    assert_string_equal(value_of(values, CY_SEEN_ZONE)->text, "south");
    assert_false(value_of(values, CY_SEEN_ROW)->set);
    cy_entry_free(&form, values);
}

static void it_draws_in_any_pane(void **state)
{
    (void)state;
    struct cy_entry form = note();
    struct cy_canvas canvas = {0};
    struct cy_farm farm = {0};
    cy_entry_put(&form, CY_SEEN_WHAT, "water given");
    for (int width = 1; width < 90; width++)
        for (int height = 1; height < 8; height++)
            for (form.chosen = 0; form.chosen < form.count; form.chosen++) {
                form.caret = strlen(text_of(&form));
                assert_true(cy_canvas_begin(&canvas, width, height));
                cy_entry_draw(&form, &farm, (struct cy_pane){&canvas, {0, 0, width, height}});
            }
    cy_canvas_dispose(&canvas);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_turn_choices),
        cmocka_unit_test(what_was_seen_decides_what_is_asked),
        cmocka_unit_test(typing_replaces_a_date_and_edits_a_remark),
        cmocka_unit_test(the_caret_moves_by_whole_characters),
        cmocka_unit_test(control_characters_are_not_taken),
        cmocka_unit_test(a_bad_value_is_refused_and_escape_brings_the_old_one_back),
        cmocka_unit_test(no_day_ahead_of_today_is_taken),
        cmocka_unit_test(values_carry_what_the_record_is_about),
        cmocka_unit_test(a_draft_comes_back_as_it_was),
        cmocka_unit_test(nonsense_is_no_draft),
        cmocka_unit_test(water_is_typed_by_one_amount),
        cmocka_unit_test(it_draws_in_any_pane),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
