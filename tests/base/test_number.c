/* SPDX-License-Identifier: MIT
 * Numbers to and from text, held against the C library's own reading. */
#include <caneyear/base/number.h>

#include <float.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/random.h>

#include "support/near.h"
#include "support/soak.h"

static void parses_as(const char *text, double expected)
{
    double found = -77;
    assert_true(cy_number_parse(&found, text, strlen(text)));
    if (found != expected)
        print_error("%s: %.17g is not %.17g\n", text, found, expected);
    assert_true(found == expected);
}

static void plain_numbers(void **state)
{
    (void)state;
    static const char *const texts[] = {"0",
                                        "-0",
                                        "+5",
                                        "5.",
                                        ".5",
                                        "-.5",
                                        "007",
                                        "0.1",
                                        "0.25",
                                        "1e3",
                                        "1E3",
                                        "1e+3",
                                        "2.5e-3",
                                        "0e999999999999",
                                        "0.000000000000000000000000000000000001",
                                        "123456789012345678901234567890",
                                        "1234567890123456789012345678901234567890",
                                        "0.1000000000000000055511151231257827021181583404541015625",
                                        "9007199254740993",
                                        "9007199254740992.9999999999",
                                        "1.7976931348623157e308",
                                        "179769313486231570000e288",
                                        "2.2250738585072014e-308",
                                        "2.2250738585072011e-308",
                                        "5e-324",
                                        "3e-324",
                                        "2e-324",
                                        "1e-999",
                                        "1e-99999999999",
                                        "8.5e22",
                                        "1e23",
                                        "1e-22"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        parses_as(texts[i], strtod(texts[i], NULL));
}

static void what_is_no_number_is_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {"",        ".",   "-",   "+",     "e5",    "--1",
                                      "+-1",     " 1",  "1 ",  "1e",    "1e+",   "0x10",
                                      "inf",     "nan", "1,5", "1.5.2", "1e400", "1e99999999999",
                                      "1.8e308", "-e"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        double value = 7;
        assert_false(cy_number_parse(&value, bad[i], strlen(bad[i])));
        assert_true(value == 7);
    }
}

static void scanning_stops_where_the_number_does(void **state)
{
    (void)state;
    struct cy_wide value;
    assert_int_equal(cy_number_scan(&value, "12ft", 4), 2);
    assert_int_equal(cy_number_scan(&value, "12.5.3", 6), 4);
    assert_int_equal(cy_number_scan(&value, "2each", 5), 1);
    assert_int_equal(cy_number_scan(&value, "2e3d", 4), 3);
    assert_true(cy_wide_round(value) == 2000);
    assert_int_equal(cy_number_scan(&value, "123", 2), 2); /* never beyond the length */
    assert_true(cy_wide_round(value) == 12);
}

static void random_decimals_read_as_the_c_library_reads_them(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 1, 1);
    for (int i = 0; i < 100000; i++) {
        char text[64];
        uint64_t bits = cy_random_next(&random);
        int digits = 1 + (int)(bits % 20);
        int place = (int)(bits / 32 % (unsigned)(digits + 1));
        size_t length = 0;
        for (int d = 0; d < digits; d++) {
            if (d == place)
                text[length++] = '.';
            text[length++] = (char)('0' + cy_random_next(&random) % 10);
        }
        text[length] = '\0';
        if (bits >> 63)
            snprintf(text + length, 8, "e%d", (int)(bits / 1024 % 600) - 300);
        double expected = strtod(text, NULL);
        if (isfinite(expected))
            parses_as(text, expected);
    }
}

static bool reads_back(const char *text, size_t length, void *payload)
{
    double found;
    return cy_number_parse(&found, text, length) && found == *(double *)payload;
}

static const char *print(char out[CY_NUMBER_TEXT], double value)
{
    size_t length = cy_number_print(out, cy_wide_of(value), reads_back, &value);
    assert_int_equal(length, strlen(out));
    return out;
}

static void prints_the_fewest_digits(void **state)
{
    (void)state;
    static const struct {
        double value;
        const char *expected;
    } cases[] = {{0, "0"},
                 {-0.0, "0"},
                 {1, "1"},
                 {-2.5, "-2.5"},
                 {0.1, "0.1"},
                 {1.0 / 3.0, "0.3333333333333333"},
                 {0.1 + 0.2, "0.30000000000000004"},
                 {100, "100"},
                 {1e20, "100000000000000000000"},
                 {1e22, "1e22"},
                 {1e23, "1e23"},
                 {0.00001, "0.00001"},
                 {0.000001, "1e-6"},
                 {1.25e-7, "1.25e-7"},
                 {999999.999999, "999999.999999"},
                 {5e-324, "5e-324"},
                 {DBL_MAX, "1.7976931348623157e308"},
                 {DBL_MIN, "2.2250738585072014e-308"},
                 {9007199254740993.0, "9007199254740992"}};
    char out[CY_NUMBER_TEXT];
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(print(out, cases[i].value), cases[i].expected);
}

/* Any 64 bits that are a number: from the smallest to the largest. */
static void what_is_printed_reads_back_to_the_same_double(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 2, 1);
    char out[CY_NUMBER_TEXT];
    for (int i = 0; i < soak(200000, 50); i++) {
        uint64_t bits = cy_random_next(&random);
        double value, found;
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value))
            continue;
        print(out, value);
        assert_true(cy_number_parse(&found, out, strlen(out)));
        assert_memory_equal(&found, &value, sizeof value);
        assert_true(strtod(out, NULL) == value);
    }
}

static void no_shorter_text_would_do(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 3, 1);
    for (int i = 0; i < soak(20000, 20); i++) {
        char ours[CY_NUMBER_TEXT], theirs[400];
        double value = cy_random_normal(&random);
        int digits = 17;
        while (digits > 1) {
            snprintf(theirs, sizeof theirs, "%.*g", digits - 1, value);
            if (strtod(theirs, NULL) != value)
                break;
            digits--;
        }
        print(ours, value);
        int counted = 0;
        for (const char *c = ours; *c && *c != 'e'; c++)
            counted += *c >= '0' && *c <= '9' && (counted || *c != '0');
        assert_int_equal(counted, digits);
    }
}

static void wide_arithmetic_rounds_once(void **state)
{
    (void)state;
    struct cy_wide tenth = cy_wide_over(cy_wide_of(1), cy_wide_of(10));
    assert_true(cy_wide_round(tenth) == 0.1);
    assert_true(tenth.low != 0);
    assert_true(cy_wide_round(cy_wide_times(tenth, cy_wide_of(10))) == 1);
    struct cy_wide sum = cy_wide_plus(cy_wide_of(1), cy_wide_of(0x1p-80));
    assert_true(sum.high == 1 && sum.low == 0x1p-80);
    sum = cy_wide_plus(sum, cy_wide_of(-1));
    assert_true(cy_wide_round(sum) == 0x1p-80);
    /* 1.1 + 2.2 in doubles is 3.3000000000000003; from the decimals it is 3.3. */
    struct cy_wide a, b;
    cy_number_scan(&a, "1.1", 3);
    cy_number_scan(&b, "2.2", 3);
    assert_true(cy_wide_round(cy_wide_plus(a, b)) == 3.3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_numbers),
        cmocka_unit_test(what_is_no_number_is_refused),
        cmocka_unit_test(scanning_stops_where_the_number_does),
        cmocka_unit_test(random_decimals_read_as_the_c_library_reads_them),
        cmocka_unit_test(prints_the_fewest_digits),
        cmocka_unit_test(what_is_printed_reads_back_to_the_same_double),
        cmocka_unit_test(no_shorter_text_would_do),
        cmocka_unit_test(wide_arithmetic_rounds_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
