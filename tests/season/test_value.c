/* SPDX-License-Identifier: MIT
 * Values are read as people write them, refused with a reason, and printed to read back alike. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/season/farm.h>

static double number_of(enum cy_field field, const char *text)
{
    struct cy_value value;
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    assert_true(value.set);
    assert_int_equal(value.basis, CY_BASIS_GROWER);
    assert_null(value.text);
    return value.number;
}

/* The text is refused with this code and says what is allowed. */
static void assert_refused(enum cy_field field, const char *text, enum cy_issue_code code,
                           const char *allowed)
{
    struct cy_value value;
    struct cy_issues issues = {0};
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), &issues), CY_INVALID);
    assert_false(value.set);
    assert_int_equal(issues.count, 1);
    assert_int_equal(issues.items[0].code, code);
    assert_int_equal(issues.items[0].field_id, field);
    assert_string_equal(issues.items[0].field, cy_field_info(field)->name);
    assert_string_equal(issues.items[0].allowed, allowed);
    /* And it may be refused without anyone to tell. */
    assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_INVALID);
}

static void assert_prints(enum cy_field field, struct cy_value value, enum cy_system system,
                          const char *expected)
{
    struct cy_text text = {0};
    value.set = true;
    cy_value_print(&text, field, &value, system);
    assert_string_equal(cy_text_get(&text), expected);
    cy_text_dispose(&text);
}

static void numbers_are_read_in_any_unit(void **state)
{
    (void)state;
    assert_float_equal(number_of(CY_ROW_LENGTH, "180 ft"), 54.864, 0);
    assert_float_equal(number_of(CY_ROW_LENGTH, " 54.864m "), 54.864, 0);
    assert_float_equal(number_of(CY_MONTH_LOW, "41F"), 5.0, 0);
    assert_float_equal(number_of(CY_ROW_FILLED, "80 %"), 0.8, 0);
    assert_float_equal(number_of(CY_MARKET_UPICK, "$2.00/kg"), 2.0, 0);
    assert_float_equal(number_of(CY_WIRE_GAUGE, "12.5"), 12.5, 0);
}

static void some_quantities_need_no_unit(void **state)
{
    (void)state;
    assert_float_equal(number_of(CY_SITE_LATITUDE, "35.5"), 35.5, 0);
    assert_float_equal(number_of(CY_ROW_FILLED, "0.8"), 0.8, 0);
    assert_float_equal(number_of(CY_CULTIVAR_CHILL, "800"), 800, 0);
    assert_float_equal(number_of(CY_CULTIVAR_PICK_LENGTH, "35"), 35, 0);
    assert_float_equal(number_of(CY_PRACTICE_CANES, "7"), 7, 0);
    assert_false(signbit(number_of(CY_ROW_COLDER, "-0 K")));
}

static void bad_numbers_say_why(void **state)
{
    (void)state;
    assert_refused(CY_ROW_LENGTH, "long", CY_ISSUE_BAD_NUMBER, "1.641 to 6561 ft (0.5 to 2000 m)");
    assert_refused(CY_ROW_LENGTH, "", CY_ISSUE_BAD_NUMBER, "1.641 to 6561 ft (0.5 to 2000 m)");
    assert_refused(CY_ROW_LENGTH, "180", CY_ISSUE_MISSING_UNIT, "ft or m");
    assert_refused(CY_ROW_LENGTH, "180 lb", CY_ISSUE_BAD_UNIT, "length, in ft or m");
    assert_refused(CY_ROW_LENGTH, "180 furlongz", CY_ISSUE_BAD_UNIT, "length, in ft or m");
    assert_refused(CY_ROW_LENGTH, "7000 ft", CY_ISSUE_OUT_OF_RANGE,
                   "1.641 to 6561 ft (0.5 to 2000 m)");
    assert_refused(CY_ROW_FILLED, "180 %", CY_ISSUE_OUT_OF_RANGE, "0 to 100 %");
    assert_refused(CY_SITE_PH, "2", CY_ISSUE_OUT_OF_RANGE, "3 to 10");
    assert_refused(CY_SITE_PH, "nan", CY_ISSUE_BAD_NUMBER, "3 to 10");
    assert_refused(CY_MONTH_LOW, "-80 F", CY_ISSUE_OUT_OF_RANGE, "-58 to 104 F (-50 to 40 C)");
}

static void assert_taken(enum cy_field field, const char *text)
{
    struct cy_value value;
    int status = cy_value_parse(&value, field, text, strlen(text), NULL);
    if (status != CY_OK)
        print_error("%s: \"%s\"\n", cy_field_info(field)->name, text);
    assert_int_equal(status, CY_OK);
}

/* What is named as allowed is allowed, in both systems: "0.5 to 2000 m". */
static void limits_as_named_are_taken(void **state)
{
    (void)state;
    for (int f = 0; f < CY_FIELD_COUNT; f++)
        for (int system = CY_US; system <= CY_METRIC; system++) {
            if (cy_field_info((enum cy_field)f)->type != CY_TYPE_NUMBER)
                continue;
            struct cy_text allowed = {0}, low = {0};
            cy_field_allowed(&allowed, (enum cy_field)f, (enum cy_system)system);
            const char *to = strstr(cy_text_get(&allowed), " to ");
            assert_non_null(to);
            const char *high = to + 4, *unit = strchr(high, ' ');
            cy_text_add_n(&low, allowed.data, (size_t)(to - allowed.data));
            cy_text_add(&low, unit ? unit : "");
            assert_taken((enum cy_field)f, cy_text_get(&low));
            assert_taken((enum cy_field)f, high);
            cy_text_dispose(&low);
            cy_text_dispose(&allowed);
        }
}

static void counts_are_whole(void **state)
{
    (void)state;
    assert_refused(CY_PRACTICE_CANES, "6.5", CY_ISSUE_BAD_NUMBER, "a whole number, 1 to 60");
    assert_refused(CY_PRACTICE_CANES, "six", CY_ISSUE_BAD_NUMBER, "a whole number, 1 to 60");
    assert_refused(CY_PRACTICE_CANES, "6 ft", CY_ISSUE_BAD_NUMBER, "a whole number, 1 to 60");
    assert_refused(CY_PRACTICE_CANES, "61", CY_ISSUE_OUT_OF_RANGE, "a whole number, 1 to 60");
    assert_prints(CY_FARM_SEED, (struct cy_value){.number = 1e9}, CY_US, "1000000000");
}

static void dates_and_days_of_the_season(void **state)
{
    (void)state;
    const char *day = "a month and day such as 10-01, and 02-28 for the end of February";
    assert_float_equal(number_of(CY_ROW_PLANTED, "2027-03-15"), cy_day_of(2027, 3, 15), 0);
    assert_float_equal(number_of(CY_PRACTICE_SPENT_FROM, "10-01"), 1001, 0);
    assert_float_equal(number_of(CY_PRACTICE_SPENT_TO, "02-28"), 228, 0);
    assert_refused(CY_ROW_PLANTED, "2027-02-29", CY_ISSUE_BAD_DATE, "a date such as 2027-03-15");
    assert_refused(CY_ROW_PLANTED, "3/15/2027", CY_ISSUE_BAD_DATE, "a date such as 2027-03-15");
    assert_refused(CY_PRACTICE_SPENT_TO, "02-29", CY_ISSUE_BAD_DATE, day);
    assert_refused(CY_PRACTICE_SPENT_TO, "13-01", CY_ISSUE_BAD_DATE, day);
    assert_refused(CY_PRACTICE_SPENT_TO, "2-1", CY_ISSUE_BAD_DATE, day);
    assert_prints(CY_PRACTICE_SPENT_TO, (struct cy_value){.number = 105}, CY_US, "01-05");
}

static void choices_whatever_their_case(void **state)
{
    (void)state;
    assert_float_equal(number_of(CY_CULTIVAR_HABIT, "Semi-Erect"), CY_HABIT_SEMI_ERECT, 0);
    assert_float_equal(number_of(CY_JOB_URGENT, "YES"), CY_YES, 0);
    assert_refused(CY_CULTIVAR_HABIT, "upright", CY_ISSUE_BAD_CHOICE,
                   "erect, semi-erect or trailing");
    assert_refused(CY_JOB_URGENT, "true", CY_ISSUE_BAD_CHOICE, "no or yes");
    assert_prints(CY_TRELLIS_FORM, (struct cy_value){.number = CY_FORM_T}, CY_US, "T");
}

static void texts_are_clean_and_short_enough(void **state)
{
    (void)state;
    struct cy_value value;
    assert_int_equal(cy_value_parse(&value, CY_ROW_NAME, "By the Bächli ", 15, NULL), CY_OK);
    assert_string_equal(value.text, "By the Bächli ");
    cy_value_dispose(&value);
    assert_false(value.set);
    assert_refused(CY_ROW_NAME, "two\nlines", CY_ISSUE_CONTROL_CHARACTER, "up to 60 characters");
    assert_refused(CY_ROW_NAME, "\x1b[31m", CY_ISSUE_CONTROL_CHARACTER, "up to 60 characters");
    assert_refused(CY_ROW_NAME, "\xC3(", CY_ISSUE_NOT_UTF8, "up to 60 characters");
    assert_refused(CY_PLACE_REGION, "thirteen char", CY_ISSUE_TOO_LARGE, "up to 12 characters");
    /* Characters, not bytes. */
    const char *twelve = "ääääääääääää";
    assert_int_equal(cy_value_parse(&value, CY_PLACE_REGION, twelve, strlen(twelve), NULL), CY_OK);
    cy_value_dispose(&value);
}

static void references_are_keys(void **state)
{
    (void)state;
    struct cy_value value;
    assert_int_equal(cy_value_parse(&value, CY_ROW_CULTIVAR, "navaho", 6, NULL), CY_OK);
    assert_string_equal(value.text, "navaho");
    cy_value_dispose(&value);
    assert_refused(CY_ROW_CULTIVAR, "Navaho", CY_ISSUE_BAD_KEY,
                   "1 to 40 of a-z, 0-9 and -, a letter or digit first");
    assert_refused(CY_ROW_CULTIVAR, "", CY_ISSUE_BAD_KEY,
                   "1 to 40 of a-z, 0-9 and -, a letter or digit first");
}

static void a_long_found_is_cut(void **state)
{
    (void)state;
    char text[500];
    struct cy_value value;
    struct cy_issues issues = {0};
    memset(text, 'x', sizeof text);
    assert_int_equal(cy_value_parse(&value, CY_FARM_NOTE, text, sizeof text, &issues), CY_INVALID);
    assert_int_equal(strlen(issues.items[0].found), CY_ISSUE_TEXT - 1);
    assert_int_equal(cy_value_parse(&value, CY_FIELD_NONE, "1", 1, &issues), CY_FAILED);
}

/* Whatever a field may hold reads back from what is printed, to the last bit, in both systems. */
static void assert_round_trip(enum cy_field field, double number, const char *text)
{
    struct cy_value given = {.set = true, .number = number, .basis = CY_BASIS_GROWER}, back;
    if (text)
        given = (struct cy_value){.set = true, .text = (char *)text, .basis = CY_BASIS_GROWER};
    for (int system = CY_US; system <= CY_METRIC; system++) {
        struct cy_text shown = {0};
        struct cy_issues issues = {0};
        cy_value_print(&shown, field, &given, (enum cy_system)system);
        int status = cy_value_parse(&back, field, cy_text_get(&shown), shown.length, &issues);
        if (status != CY_OK || !cy_value_equal(&given, &back))
            print_error("%s %.17g: \"%s\"\n", cy_field_info(field)->name, number,
                        cy_text_get(&shown));
        assert_int_equal(status, CY_OK);
        assert_true(cy_value_equal(&given, &back));
        cy_value_dispose(&back);
        cy_text_dispose(&shown);
    }
}

static void every_field_reads_back(void **state)
{
    (void)state;
    uint64_t dice = 7;
    for (int f = 0; f < CY_FIELD_COUNT; f++) {
        const struct cy_field_info *info = cy_field_info((enum cy_field)f);
        for (int i = 0; i <= 20; i++) {
            dice = dice * 6364136223846793005u + 1442695040888963407u;
            double share = i < 2 ? i : (double)(dice >> 11) * 0x1p-53;
            double number = info->low + share * (info->high - info->low);
            if (info->type == CY_TYPE_COUNT)
                number = floor(number);
            else if (info->type == CY_TYPE_DATE)
                number = floor(share * 40000 - 10000);
            else if (info->type == CY_TYPE_SEASON_DAY)
                number = (1 + floor(share * 11.99)) * 100 + 1 + floor(share * 27.99);
            else if (info->type == CY_TYPE_CHOICE)
                number = floor(share * (info->choice_count - 0.01));
            bool worded = info->type == CY_TYPE_TEXT || info->type == CY_TYPE_REFERENCE;
            assert_round_trip((enum cy_field)f, number, worded ? i % 2 ? "row-1" : "7" : NULL);
        }
        if (!isnan(info->fallback))
            assert_round_trip((enum cy_field)f, info->fallback, NULL);
    }
}

static void copies_are_equal_and_apart(void **state)
{
    (void)state;
    struct cy_value value, copy, unset = {0}, other_unset = {.number = 3};
    assert_int_equal(cy_value_parse(&value, CY_ROW_NAME, "North", 5, NULL), CY_OK);
    assert_true(cy_value_copy(&copy, &value));
    assert_true(copy.text != value.text);
    assert_true(cy_value_equal(&value, &copy));
    copy.basis = CY_BASIS_PLACEHOLDER;
    assert_false(cy_value_equal(&value, &copy));
    copy.basis = value.basis;
    copy.lent = true;
    assert_false(cy_value_equal(&value, &copy));
    copy.lent = false;
    copy.text[0] = 'F';
    assert_false(cy_value_equal(&value, &copy));
    assert_false(cy_value_equal(&value, &unset));
    assert_true(cy_value_equal(&unset, &other_unset));
    cy_value_dispose(&copy);
    cy_value_dispose(&value);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_are_read_in_any_unit),
        cmocka_unit_test(some_quantities_need_no_unit),
        cmocka_unit_test(bad_numbers_say_why),
        cmocka_unit_test(limits_as_named_are_taken),
        cmocka_unit_test(counts_are_whole),
        cmocka_unit_test(dates_and_days_of_the_season),
        cmocka_unit_test(choices_whatever_their_case),
        cmocka_unit_test(texts_are_clean_and_short_enough),
        cmocka_unit_test(references_are_keys),
        cmocka_unit_test(a_long_found_is_cut),
        cmocka_unit_test(every_field_reads_back),
        cmocka_unit_test(copies_are_equal_and_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
