/* SPDX-License-Identifier: MIT
 * Calendar days. */
#include <caneyear/base/day.h>

#include <string.h>

#include "support/near.h"

static void every_day_round_trips_and_follows_the_last(void **state)
{
    (void)state;
    cy_day expected = cy_day_of(1800, 1, 1);
    int weekday = 2; /* a Wednesday */
    for (int year = CY_YEAR_MIN; year <= CY_YEAR_MAX; year++) {
        int day_of_year = 0;
        for (int month = 1; month <= 12; month++) {
            for (int day = 1; day <= cy_month_days(year, month); day++) {
                cy_day found = cy_day_of(year, month, day);
                assert_int_equal(found, expected++);
                struct cy_date date = cy_day_date(found);
                assert_true(date.year == year && date.month == month && date.day == day);
                assert_int_equal(cy_day_year(found), year);
                assert_int_equal(cy_day_of_year(found), ++day_of_year);
                assert_int_equal(cy_day_weekday(found), weekday);
                weekday = (weekday + 1) % 7;
            }
        }
        assert_int_equal(day_of_year, cy_year_is_leap(year) ? 366 : 365);
    }
}

static void every_day_reads_what_it_prints(void **state)
{
    (void)state;
    char out[CY_DAY_TEXT];
    for (cy_day day = cy_day_of(1800, 1, 1); day <= cy_day_of(2400, 12, 31); day++) {
        cy_day found = CY_DAY_NONE;
        assert_true(cy_day_parse(&found, cy_day_print(out, day), 10));
        assert_int_equal(found, day);
    }
}

static void known_days(void **state)
{
    (void)state;
    assert_int_equal(cy_day_of(1970, 1, 1), 0);
    assert_int_equal(cy_day_of(1969, 12, 31), -1);
    assert_int_equal(cy_day_of(2000, 3, 1), 11017); /* 30 years, 7 leap days, 60 days */
    assert_int_equal(cy_day_weekday(cy_day_of(1969, 7, 20)), 6); /* the moon landing: a Sunday */
    assert_int_equal(cy_day_weekday(cy_day_of(2000, 1, 1)), 5);  /* a Saturday */
    assert_int_equal(cy_day_weekday(cy_day_of(2024, 2, 29)), 3); /* a Thursday */
    assert_int_equal(cy_day_of_year(cy_day_of(2023, 12, 31)), 365);
    assert_int_equal(cy_day_of_year(cy_day_of(2024, 12, 31)), 366);
}

static void leap_years(void **state)
{
    (void)state;
    assert_false(cy_year_is_leap(1900));
    assert_true(cy_year_is_leap(2000));
    assert_true(cy_year_is_leap(2024));
    assert_false(cy_year_is_leap(2100));
    assert_true(cy_year_is_leap(2400));
    assert_int_equal(cy_month_days(1900, 2), 28);
    assert_int_equal(cy_month_days(2000, 2), 29);
    assert_int_equal(cy_month_days(2024, 0), 0);
    assert_int_equal(cy_month_days(2024, 13), 0);
}

static void no_such_date(void **state)
{
    (void)state;
    static const struct cy_date none[] = {
        {1799, 12, 31}, {2401, 1, 1},  {2023, 2, 29}, {1900, 2, 29}, {2024, 2, 30}, {2024, 0, 1},
        {2024, 13, 1},  {2024, 4, 31}, {2024, 4, 0},  {2024, 4, -1}, {0, 0, 0}};
    for (size_t i = 0; i < sizeof none / sizeof *none; i++)
        assert_int_equal(cy_day_of(none[i].year, none[i].month, none[i].day), CY_DAY_NONE);
}

static void leap_day_falls_back(void **state)
{
    (void)state;
    assert_int_equal(cy_day_near(2023, 2, 29), cy_day_of(2023, 2, 28));
    assert_int_equal(cy_day_near(2024, 2, 29), cy_day_of(2024, 2, 29));
    assert_int_equal(cy_day_near(2023, 2, 30), CY_DAY_NONE);
}

static void malformed_dates_are_refused(void **state)
{
    (void)state;
    static const char *const bad[] = {
        "",           "2024",        "2024-1-01",   "2024-01-1",   "2024/01/01",
        "24-01-01",   "2024-02-30",  "2023-02-29",  "2024-13-01",  "2024-00-10",
        "2024-01-00", " 2024-01-01", "2024-01-01 ", "2024-01-011", "+024-01-01",
        "2024-0x-01", "1799-12-31",  "2401-01-01",  "-",           "2024-01--1"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        cy_day day = 7;
        assert_false(cy_day_parse(&day, bad[i], strlen(bad[i])));
        assert_int_equal(day, 7);
    }
}

static void days_outside_the_calendar_print(void **state)
{
    (void)state;
    char out[CY_DAY_TEXT];
    assert_string_equal(cy_day_print(out, CY_DAY_NONE), "-");
    assert_string_equal(cy_day_print(out, cy_day_of(2400, 12, 31) + 1), "2401-01-01");
    assert_string_equal(cy_day_print(out, INT32_MAX), "5881580-07-11");
    assert_string_equal(cy_day_print(out, INT32_MIN + 1), "-5877641-06-24");
    assert_int_equal(cy_day_date(CY_DAY_NONE).year, 0);
    assert_int_equal(cy_day_of_year(CY_DAY_NONE), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_day_round_trips_and_follows_the_last),
        cmocka_unit_test(every_day_reads_what_it_prints),
        cmocka_unit_test(known_days),
        cmocka_unit_test(leap_years),
        cmocka_unit_test(no_such_date),
        cmocka_unit_test(leap_day_falls_back),
        cmocka_unit_test(malformed_dates_are_refused),
        cmocka_unit_test(days_outside_the_calendar_print),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
