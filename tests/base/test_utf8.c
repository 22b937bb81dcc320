/* SPDX-License-Identifier: MIT
 * UTF-8 from outside: broken, hostile, wide. */
#include <caneyear/base/text.h>

#include <string.h>

#include "support/near.h"

/* Writes any number below 0x200000 in the UTF-8 pattern of `size` bytes, allowed or not. */
static void encode(char *out, int32_t value, int size)
{
    static const int marks[] = {0, 0, 0xC0, 0xE0, 0xF0};
    for (int i = size - 1; i > 0; i--) {
        out[i] = (char)(0x80 | (value & 0x3F));
        value >>= 6;
    }
    out[0] = (char)(marks[size] | value);
}

static int32_t read_as(int32_t value, int size, size_t *used)
{
    char bytes[4];
    encode(bytes, value, size);
    return cy_utf8_next(bytes, (size_t)size, used);
}

static void every_code_point_is_read(void **state)
{
    (void)state;
    for (int32_t c = 0; c <= 0x10FFFF; c++) {
        size_t used;
        int size = c < 0x80 ? 1 : c < 0x800 ? 2 : c < 0x10000 ? 3 : 4;
        int32_t found = read_as(c, size, &used);
        bool surrogate = c >= 0xD800 && c <= 0xDFFF;
        assert_int_equal(found, surrogate ? -1 : c);
        assert_int_equal(used, surrogate ? 1 : size);
    }
}

static void overlong_and_too_large_are_broken(void **state)
{
    (void)state;
    size_t used;
    for (int32_t c = 0; c < 0x10000; c++) {
        if (c < 0x80)
            assert_int_equal(read_as(c, 2, &used), -1);
        if (c < 0x800)
            assert_int_equal(read_as(c, 3, &used), -1);
        assert_int_equal(read_as(c, 4, &used), -1);
    }
    for (int32_t c = 0x110000; c < 0x200000; c += 0x101)
        assert_int_equal(read_as(c, 4, &used), -1);
}

static void broken_sequences_take_one_byte(void **state)
{
    (void)state;
    static const char *const broken[] = {"\x80",     "\xBF",         "\xC2",
                                         "\xE6\xBC", "\xF0\x9F\x8C", "\xE6z\x80",
                                         "\xFE",     "\xFF",         "\xF8\x88\x80\x80\x80",
                                         "\xC2\xC2"};
    for (size_t i = 0; i < sizeof broken / sizeof *broken; i++) {
        size_t used;
        assert_int_equal(cy_utf8_next(broken[i], strlen(broken[i]), &used), -1);
        assert_int_equal(used, 1);
        assert_false(cy_utf8_valid(broken[i], strlen(broken[i])));
    }
    size_t used;
    assert_int_equal(cy_utf8_next("", 0, &used), -1);
    assert_int_equal(used, 0);
    assert_true(cy_utf8_valid("", 0));
    assert_true(cy_utf8_valid("a\0b", 3));
}

/* Every pair of bytes, and every triple behind a lead byte: never a step of nothing, never one
 * beyond the end (the sanitizer watches the heap). */
static void no_bytes_lead_astray(void **state)
{
    (void)state;
    struct cy_text text = {0};
    for (int n = 0; n < 0x10000; n++) {
        const char bytes[2] = {(char)(n >> 8), (char)n};
        cy_text_clear(&text);
        cy_text_add_clean(&text, bytes, 2, false);
        assert_true(cy_utf8_valid(text.data, text.length));
        assert_false(cy_utf8_has_control(text.data, text.length));
        cy_text_clear(&text);
        cy_text_add_clean(&text, bytes, 2, true);
        for (size_t i = 0; i < text.length; i++)
            assert_true(text.data[i] >= ' ' && text.data[i] <= '~');
    }
    cy_text_dispose(&text);
}

static void unfit_characters_are_replaced(void **state)
{
    (void)state;
    static const char *const unfit[] = {"\x1B",     "\n",     "\t",     "\x7F",   "\xC2\x80",
                                        "\xC2\x9B", "\u2028", "\u2029", "\u202E", "\u2066",
                                        "\u200F",   "\u061C", "\x80"};
    struct cy_text text = {0};
    for (size_t i = 0; i < sizeof unfit / sizeof *unfit; i++) {
        assert_true(cy_utf8_has_control(unfit[i], strlen(unfit[i])));
        cy_text_add_clean(&text, unfit[i], strlen(unfit[i]), false);
        assert_text(&text, "\uFFFD");
        cy_text_add_clean(&text, unfit[i], strlen(unfit[i]), true);
        assert_text(&text, "?");
    }
    cy_text_add_clean(&text, "\0", 1, false);
    assert_text(&text, "\uFFFD");
    cy_text_add_clean(&text, "caf\u00e9 \u6f22", 9, false);
    assert_text(&text, "caf\u00e9 \u6f22");
    cy_text_add_clean(&text, "caf\u00e9 \u6f22", 9, true);
    assert_text(&text, "caf? ?");
    assert_false(cy_utf8_has_control("caf\u00e9", 5));
    cy_text_dispose(&text);
}

static void widths(void **state)
{
    (void)state;
    static const struct {
        int32_t code_point;
        int width;
    } cases[] = {
        {'a', 1},     {0xE9, 1},     {0x2500, 1},  {0x00B0, 1},  {0x301, 0},   {0x200D, 0},
        {0xFE0F, 0},  {0x200B, 0},   {0x1100, 2},  {0x3042, 2},  {0x6F22, 2},  {0xAC00, 2},
        {0xFF21, 2},  {0xFF71, 1},   {0x1F33F, 2}, {0x1F347, 2}, {0x1FAD0, 2}, {0x20000, 2},
        {0xE0100, 0}, {0x10FFFF, 1}, {0x303F, 1},  {-1, 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_int_equal(cy_utf8_width(cases[i].code_point), cases[i].width);
    assert_int_equal(cy_utf8_columns(""), 0);
    assert_int_equal(cy_utf8_columns("cane"), 4);
    assert_int_equal(cy_utf8_columns("e\u0301\u6f22\xFF"), 4);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_point_is_read),
        cmocka_unit_test(overlong_and_too_large_are_broken),
        cmocka_unit_test(broken_sequences_take_one_byte),
        cmocka_unit_test(no_bytes_lead_astray),
        cmocka_unit_test(unfit_characters_are_replaced),
        cmocka_unit_test(widths),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
