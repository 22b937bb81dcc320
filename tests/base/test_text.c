/* SPDX-License-Identifier: MIT
 * Building text, padding, fitting, fixed buffers. */
#include <caneyear/base/text.h>

#include <limits.h>
#include <string.h>

#include "support/near.h"

static void grows_and_stays_terminated(void **state)
{
    (void)state;
    struct cy_text text = {0};
    assert_string_equal(cy_text_get(&text), "");
    for (int i = 0; i < 10000; i++) {
        cy_text_add_char(&text, (char)('a' + i % 26));
        assert_int_equal(text.data[text.length], 0);
    }
    assert_int_equal(text.length, 10000);
    assert_int_equal(text.data[9999], 'a' + 9999 % 26);
    cy_text_clear(&text);
    assert_text(&text, "");
    cy_text_add(&text, "again");
    assert_text(&text, "again");
    cy_text_dispose(&text);
    assert_null(text.data);
}

static void without_memory_it_says_so_and_keeps_what_was_there(void **state)
{
    (void)state;
    struct cy_text text = {0};
    cy_text_add(&text, "kept");
    cy_text_add_n(&text, "x", SIZE_MAX - 2); /* refused before anything is read */
    assert_true(text.failed);
    cy_text_add(&text, " not this");
    assert_string_equal(cy_text_get(&text), "kept");
    cy_text_dispose(&text);
    assert_false(text.failed);
}

static void integers(void **state)
{
    (void)state;
    struct cy_text text = {0};
    static const struct {
        long long value;
        const char *expected;
    } cases[] = {{0, "0"},
                 {-1, "-1"},
                 {1234567890, "1234567890"},
                 {LLONG_MAX, "9223372036854775807"},
                 {LLONG_MIN, "-9223372036854775808"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        cy_text_add_int(&text, cases[i].value);
        assert_text(&text, cases[i].expected);
    }
    cy_text_dispose(&text);
}

static void fixed_decimals(void **state)
{
    (void)state;
    struct cy_text text = {0};
    static const struct {
        double value;
        int decimals;
        const char *expected;
    } cases[] = {
        {0, 0, "0"},
        {0, 2, "0.00"},
        {1.005, 2, "1.01"},
        {0.5, 0, "1"},
        {-0.5, 0, "-1"},
        {2.5, 0, "3"},
        {-0.004, 2, "0.00"},
        {-0.0, 1, "0.0"},
        {0.006, 2, "0.01"},
        {99.995, 2, "100.00"},
        {9.5, 0, "10"},
        {0.05, 1, "0.1"},
        {0.04, 1, "0.0"},
        {12345.678, 1, "12345.7"},
        {12345.678, 0, "12346"},
        {0.000001, 3, "0.000"},
        {1e-7, 7, "0.0000001"},
        {1e-300, 9, "0.000000000"},
        {1e21, 1, "1000000000000000000000.0"},
        {-7.25, 1, "-7.3"},
        {1.5e-5, 5, "0.00002"},
        {3, 9, "3.000000000"},
        {NAN, 2, "nan"},
        {INFINITY, 2, "inf"},
        {-INFINITY, 0, "-inf"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        cy_text_add_fixed(&text, cases[i].value, cases[i].decimals);
        assert_text(&text, cases[i].expected);
    }
    cy_text_dispose(&text);
}

static void numbers_and_days(void **state)
{
    (void)state;
    struct cy_text text = {0};
    cy_text_add_number(&text, 0.1);
    cy_text_add_char(&text, ' ');
    cy_text_add_number(&text, -1e100);
    cy_text_add_char(&text, ' ');
    cy_text_add_number(&text, NAN);
    cy_text_add_char(&text, ' ');
    cy_text_add_day(&text, cy_day_of(2025, 4, 1));
    assert_text(&text, "0.1 -1e100 nan 2025-04-01");
    cy_text_dispose(&text);
}

static void pads_by_columns_not_bytes(void **state)
{
    (void)state;
    struct cy_text text = {0};
    cy_text_add(&text, "|");
    size_t start = text.length;
    cy_text_add(&text, "\u00e9\u6f22"); /* e with acute, a Chinese character: 3 columns */
    cy_text_pad(&text, start, 5);
    cy_text_add(&text, "|");
    assert_text(&text, "|\u00e9\u6f22  |");
    cy_text_add(&text, "too long");
    cy_text_pad(&text, 0, 3);
    assert_text(&text, "too long");
    cy_text_dispose(&text);
}

static void fits_text_to_columns(void **state)
{
    (void)state;
    struct cy_text text = {0};
    static const struct {
        const char *string;
        int columns;
        const char *expected;
        int used;
    } cases[] = {
        {"row", 5, "row", 3},
        {"row", 3, "row", 3},
        {"north", 3, "no~", 3},
        {"north", 1, "~", 1},
        {"north", 0, "", 0},
        {"north", -4, "", 0},
        {"", 4, "", 0},
        /* a wide character is never halved: one column less is used */
        {"\u6f22\u6f22\u6f22", 4, "\u6f22~", 3},
        {"a\u6f22\u6f22", 4, "a\u6f22~", 4},
        {"\u6f22\u6f22", 4, "\u6f22\u6f22", 4},
        /* a combining accent stays with its letter and takes no room */
        {"e\u0301e\u0301e\u0301", 3, "e\u0301e\u0301e\u0301", 3},
        {"e\u0301e\u0301e\u0301", 2, "e\u0301~", 2},
        {"a\xFFz", 3, "a\uFFFDz", 3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        int used = cy_text_add_fit(&text, cases[i].string, cases[i].columns, "~");
        assert_int_equal(used, cases[i].used);
        assert_text(&text, cases[i].expected);
    }
    cy_text_dispose(&text);
}

static void copies_are_cut_at_whole_characters(void **state)
{
    (void)state;
    char out[6];
    assert_true(cy_copy(out, sizeof out, "north"));
    assert_string_equal(out, "north");
    assert_false(cy_copy(out, sizeof out, "northern"));
    assert_string_equal(out, "north");
    assert_false(cy_copy(out, sizeof out, "nor\u6f22")); /* 3 + 3 bytes in room for 5 */
    assert_string_equal(out, "nor");
    assert_true(cy_copy(out, sizeof out, "no\u6f22"));
    assert_string_equal(out, "no\u6f22");
    assert_false(cy_copy(out, sizeof out, "no\u6f22x"));
    assert_string_equal(out, "no\u6f22");
    assert_false(cy_copy(out, 5, "a\U0001F33F"));
    assert_string_equal(out, "a");
    assert_false(cy_copy(out, 3, "\x80\x80\x80\x80")); /* no character to keep whole */
    assert_string_equal(out, "\x80\x80");
    assert_false(cy_copy(out, 1, "x"));
    assert_string_equal(out, "");
    assert_false(cy_copy(out, 0, "x"));
    assert_true(cy_copy_n(out, sizeof out, "northern", 4));
    assert_string_equal(out, "nort");
}

static void words_compare_without_case(void **state)
{
    (void)state;
    assert_true(cy_word_is("YES no", 3, "yes"));
    assert_false(cy_word_is("ye", 2, "yes"));
    assert_false(cy_word_is("yesterday", 9, "yes"));
    assert_true(cy_word_is("", 0, ""));
    assert_true(cy_streq("a", "a"));
    assert_false(cy_streq("a", "A"));
}

static void edit_distance(void **state)
{
    (void)state;
    assert_int_equal(cy_edit_distance("spacing", "spacing", 9), 0);
    assert_int_equal(cy_edit_distance("spaceing", "spacing", 9), 1);
    assert_int_equal(cy_edit_distance("kitten", "sitting", 9), 3); /* the schoolbook example */
    assert_int_equal(cy_edit_distance("", "abc", 9), 3);
    assert_int_equal(cy_edit_distance("abc", "", 9), 3);
    assert_int_equal(cy_edit_distance("row", "wire", 2), 2);
    char longest[200];
    memset(longest, 'a', sizeof longest);
    longest[199] = '\0';
    assert_int_equal(cy_edit_distance(longest, "a", 3), 3);
    assert_int_equal(cy_edit_distance(longest, longest, 3), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grows_and_stays_terminated),
        cmocka_unit_test(without_memory_it_says_so_and_keeps_what_was_there),
        cmocka_unit_test(integers),
        cmocka_unit_test(fixed_decimals),
        cmocka_unit_test(numbers_and_days),
        cmocka_unit_test(pads_by_columns_not_bytes),
        cmocka_unit_test(fits_text_to_columns),
        cmocka_unit_test(copies_are_cut_at_whole_characters),
        cmocka_unit_test(words_compare_without_case),
        cmocka_unit_test(edit_distance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
