/* SPDX-License-Identifier: MIT
 * Fixed-width station files, and station files left as they were read. */
#include "store/series_read.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/base/text.h>

enum { LINE = 269, FIRST_VALUE = 21, GROUP = 8 };

/* One line: every day of the month `value`, source 6; days behind its end missing. No line end. */
static void make_line(char out[LINE + 1], int year, int month, const char *element, int value)
{
    sprintf(out, "USW00093986%04d%02d%s", year, month, element);
    for (int day = 1; day <= 31; day++)
        sprintf(out + FIRST_VALUE + GROUP * (day - 1), "%5d  %c",
                day <= cy_month_days(year, month) ? value : -9999,
                day <= cy_month_days(year, month) ? '6' : ' ');
}

static void set_day(char *line, int day, int value, const char *marks)
{
    char group[GROUP + 1];
    sprintf(group, "%5d%-3s", value, marks);
    memcpy(line + FIRST_VALUE + GROUP * (day - 1), group, GROUP);
}

struct month {
    char max[LINE + 1], min[LINE + 1], rain[LINE + 1];
};

static struct month month_of(int year, int month)
{
    struct month out;
    make_line(out.max, year, month, "TMAX", 200);
    make_line(out.min, year, month, "TMIN", 55);
    make_line(out.rain, year, month, "PRCP", 0);
    return out;
}

static int parse(struct cy_weather *out, struct cy_station_report *report, const char *text,
                 const struct cy_station_options *options, struct cy_issues *issues)
{
    *issues = (struct cy_issues){0};
    return cy_station_parse(out, report, "f.dly", text, strlen(text), options, issues);
}

static struct cy_weather good(struct cy_station_report *report, const struct month *month,
                              const char *end)
{
    char text[3 * (LINE + 8)];
    struct cy_weather weather;
    struct cy_issues issues;
    sprintf(text, "%s%s%s%s%s%s", month->max, end, month->min, end, month->rain, end);
    assert_int_equal(parse(&weather, report, text, NULL, &issues), CY_OK);
    assert_int_equal(issues.count, 0);
    return weather;
}

static struct cy_issue bad(const char *text, const struct cy_station_options *options)
{
    struct cy_weather weather;
    struct cy_issues issues;
    assert_int_equal(parse(&weather, NULL, text, options, &issues), CY_INVALID);
    assert_null(weather.tmin_c);
    assert_true(issues.count > 0);
    return issues.items[0];
}

static void assert_near(double got, double want)
{
    if (fabs(got - want) > 1e-12) {
        print_error("%.10g is not %.10g\n", got, want);
        fail();
    }
}

/* ---- the form ------------------------------------------------------------------------------- */

/* Wind and dew point in tenths, sunshine in minutes, humidity in per cent; other elements are
 * passed over. */
static void wind_humidity_and_sun(void **state)
{
    (void)state;
    struct month month = month_of(2020, 6);
    char wind[LINE + 1], dew[LINE + 1], humidity[LINE + 1], sun[LINE + 1], other[LINE + 1];
    char text[8 * (LINE + 2)];
    make_line(wind, 2020, 6, "AWND", 28);
    make_line(dew, 2020, 6, "ADPT", 101);
    make_line(humidity, 2020, 6, "RHAV", 100);
    make_line(sun, 2020, 6, "TSUN", 555);
    make_line(other, 2020, 6, "WSFG", 300);
    set_day(wind, 3, 990, " X6");
    set_day(dew, 4, -9999, "   ");
    sprintf(text, "%s\n%s\n%s\n%s\n%s\n%s\n%s\n%s\n", month.max, month.min, month.rain, wind, dew,
            humidity, sun, other);
    struct cy_weather weather;
    struct cy_station_report report;
    struct cy_issues issues;
    assert_int_equal(parse(&weather, &report, text, NULL, &issues), CY_OK);
    assert_int_equal(weather.days, 30);
    assert_near(weather.wind_m_s[0], 2.8);
    assert_near(weather.dew_c[0], 10.1); /* the dew point itself goes before the humidity */
    assert_near(weather.sun_h[29], 9.25);
    assert_true(isnan(weather.wind_m_s[2]));
    assert_int_equal(report.dropped, 1);
    /* 20 and 5.5 C, saturated: between them. */
    assert_true(weather.dew_c[3] > 12 && weather.dew_c[3] < 16);
    cy_weather_dispose(&weather);
}

/* The line of rain is real: station USW00093986, March 1910, as a public reader of such files
 * quotes it; 14.0 mm in the month and two traces follow from it. The temperatures are made. */
static void the_line_that_was_seen(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct month month = month_of(1910, 3);
    set_day(month.rain, 16, 127, "  6");
    set_day(month.rain, 18, 0, "T 6");
    set_day(month.rain, 19, 13, "  6");
    set_day(month.rain, 29, 0, "T 6");
    assert_int_equal(strlen(month.rain), 269);
    struct cy_weather weather = good(&report, &month, "\n");
    double sum = 0;
    for (int i = 0; i < weather.days; i++)
        sum += weather.rain_mm[i];
    assert_int_equal(weather.first, cy_day_of(1910, 3, 1));
    assert_int_equal(weather.days, 31);
    assert_near(weather.rain_mm[15], 12.7);
    assert_near(weather.rain_mm[17], 0);
    assert_near(weather.rain_mm[18], 1.3);
    assert_near(sum, 14.0);
    assert_near(weather.tmax_c[30], 20);
    assert_near(weather.tmin_c[0], 5.5);
    assert_int_equal(report.traces, 2);
    assert_int_equal(report.dropped, 0);
    assert_true(report.is_fixed && report.sure);
    assert_int_equal(report.scale, CY_STATION_TENTHS);
    assert_string_equal(report.station, "USW00093986");
    cy_weather_dispose(&weather);
}

static void february_has_29_days_or_28(void **state)
{
    (void)state;
    struct month leap = month_of(2012, 2), common = month_of(2011, 2);
    struct cy_weather weather = good(NULL, &leap, "\n");
    assert_int_equal(weather.days, 29);
    cy_weather_dispose(&weather);
    weather = good(NULL, &common, "\n");
    assert_int_equal(weather.days, 28);
    cy_weather_dispose(&weather);
    set_day(common.max, 29, 210, "  6");
    struct cy_issue issue = bad(common.max, NULL);
    assert_int_equal(issue.code, CY_ISSUE_BAD_DATE);
    assert_int_equal(issue.line, 1);
    assert_int_equal(issue.column, 22 + 8 * 28);
}

/* An editor may cut blanks off a line's end; 250 characters end with the value of day 29. */
static void a_line_may_end_behind_a_value(void **state)
{
    (void)state;
    struct month month = month_of(2012, 3);
    month.max[250] = month.min[250] = month.rain[250] = '\0';
    struct cy_weather weather = good(NULL, &month, "\n");
    assert_int_equal(weather.days, 29);
    assert_near(weather.tmax_c[28], 20);
    cy_weather_dispose(&weather);
    month.max[249] = '\0';
    struct cy_issue issue = bad(month.max, NULL);
    assert_int_equal(issue.code, CY_ISSUE_SYNTAX);
    assert_int_equal(issue.column, 246);
}

static void failed_checks_are_dropped_and_counted(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct month month = month_of(2012, 3);
    set_day(month.min, 10, 190, " I6");
    set_day(month.rain, 11, 999, "TX6");  /* no trace either: its quality mark says so */
    set_day(month.max, 12, -9999, " G6"); /* missing is missing, whatever its marks */
    struct cy_weather weather = good(&report, &month, "\n");
    assert_int_equal(report.dropped, 2);
    assert_int_equal(report.traces, 0);
    assert_int_equal(report.filled_temps, 2);
    assert_near(weather.tmin_c[9], 5.5); /* laid between its neighbours */
    assert_int_equal(weather.origin[9], CY_ORIGIN_FILLED);
    assert_near(weather.rain_mm[10], 0);
    cy_weather_dispose(&weather);
}

static void line_ends_of_every_kind(void **state)
{
    (void)state;
    static const char *const ends[] = {"\n", "\r\n", "\r", "\n\n", "  \r\n"};
    struct month month = month_of(2012, 3);
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        struct cy_weather weather = good(NULL, &month, ends[i]);
        assert_int_equal(weather.days, 31);
        cy_weather_dispose(&weather);
    }
    char text[2 * (LINE + 8)];
    struct cy_weather weather;
    struct cy_issues issues;
    sprintf(text, "\xEF\xBB\xBF%s\r\n%s", month.max,
            month.min); /* a byte order mark; no last end */
    assert_int_equal(parse(&weather, NULL, text, NULL, &issues), CY_OK);
    assert_int_equal(weather.days, 31);
    cy_weather_dispose(&weather);
}

static void lines_come_in_any_order(void **state)
{
    (void)state;
    struct month march = month_of(2012, 3), april = month_of(2012, 4);
    char snow[LINE + 1], text[8 * (LINE + 2)];
    struct cy_weather weather;
    struct cy_issues issues;
    make_line(snow, 2012, 3, "SNOW", 5);
    sprintf(text, "%s\n%s\n%s\n%s\n%s\n%s\n%s\n", april.min, march.max, snow, april.max, march.min,
            april.rain, march.rain);
    assert_int_equal(parse(&weather, NULL, text, NULL, &issues), CY_OK);
    assert_int_equal(weather.first, cy_day_of(2012, 3, 1));
    assert_int_equal(weather.days, 61);
    for (int i = 0; i < weather.days; i++) {
        assert_near(weather.tmax_c[i], 20);
        assert_near(weather.tmin_c[i], 5.5);
        assert_int_equal(weather.origin[i], CY_ORIGIN_OBSERVED);
    }
    cy_weather_dispose(&weather);
}

/* ---- what is wrong -------------------------------------------------------------------------- */

static void wrong_lines(void **state)
{
    (void)state;
    struct month month = month_of(2012, 3);
    char text[4 * (LINE + 2)];
    sprintf(text, "%s\n%s\n%s\n", month.max, month.min, month.max);
    struct cy_issue issue = bad(text, NULL);
    assert_int_equal(issue.code, CY_ISSUE_DUPLICATE_KEY);
    assert_int_equal(issue.line, 3);
    sprintf(text, "%s\n%s\nend of file\n", month.max, month.min);
    issue = bad(text, NULL);
    assert_int_equal(issue.code, CY_ISSUE_SYNTAX);
    assert_int_equal(issue.line, 3);
    month.min[FIRST_VALUE + 3] = '.';
    sprintf(text, "%s\n%s\n", month.max, month.min);
    issue = bad(text, NULL);
    assert_int_equal(issue.code, CY_ISSUE_BAD_NUMBER);
    assert_int_equal(issue.line, 2);
    assert_int_equal(issue.column, FIRST_VALUE + 1);
    month = month_of(2012, 3);
    set_day(month.min, 7, 201, "  6");
    sprintf(text, "%s\n%s\n", month.max, month.min);
    assert_int_equal(bad(text, NULL).code, CY_ISSUE_PAIR);
    assert_int_equal(bad(month.rain, NULL).code, CY_ISSUE_MISSING); /* no temperatures */
}

static void one_station_and_always_tenths(void **state)
{
    (void)state;
    struct month month = month_of(2012, 3);
    char text[3 * (LINE + 2)];
    struct cy_weather weather;
    struct cy_issues issues;
    sprintf(text, "%s\n%s\n%s\n", month.max, month.min, month.max);
    memcpy(text + 2 * (LINE + 1), "USW00000002", 11);
    assert_int_equal(bad(text, NULL).code, CY_ISSUE_PAIR);
    struct cy_station_options options = {.station = "usw00093986"};
    assert_int_equal(parse(&weather, NULL, text, &options, &issues), CY_OK);
    assert_int_equal(weather.days, 31);
    cy_weather_dispose(&weather);
    options = (struct cy_station_options){.scale = CY_STATION_US, .station = "usw00093986"};
    assert_int_equal(bad(text, &options).code, CY_ISSUE_PAIR);
}

/* Cut anywhere, a file is read or refused, and nothing is read beyond its end. */
static void cut_at_every_byte(void **state)
{
    (void)state;
    struct month month = month_of(2012, 2);
    char text[2 * (LINE + 2)];
    size_t whole = (size_t)sprintf(text, "%s\n%s\r\n", month.max, month.min);
    for (size_t length = 0; length <= whole; length++) {
        char *cut = test_malloc(length + 1);
        memcpy(cut, text, length);
        struct cy_weather weather;
        struct cy_issues issues = {0};
        int status = cy_station_parse(&weather, NULL, "f", cut, length, NULL, &issues);
        assert_true(status == CY_OK || (status == CY_INVALID && issues.count > 0));
        cy_weather_dispose(&weather);
        test_free(cut);
    }
}

/* ---- left as read --------------------------------------------------------------------------- */

static void nothing_is_filled_when_left_as_read(void **state)
{
    (void)state;
    const char *text = "DATE,TMAX,TMIN,PRCP\n2012-01-01,,1.5,0\n2012-01-02,10.5,2.5,\n"
                       "2012-01-04,11.5,,3.5\n2012-01-05,12.5,4.5,1\n2012-01-06,,,9.5\n";
    struct cy_station_options options = {.as_read = true};
    struct cy_weather weather;
    struct cy_issues issues;
    assert_int_equal(parse(&weather, NULL, text, &options, &issues), CY_OK);
    assert_int_equal(weather.first, cy_day_of(2012, 1, 2)); /* the first whole day */
    assert_int_equal(weather.days, 4);
    assert_true(isnan(weather.rain_mm[0]));
    assert_true(isnan(weather.tmax_c[1]) && isnan(weather.tmin_c[1]) && isnan(weather.rain_mm[1]));
    assert_near(weather.tmax_c[2], 11.5);
    assert_true(isnan(weather.tmin_c[2]));
    assert_near(weather.rain_mm[3], 1);
    cy_weather_dispose(&weather);
    assert_int_equal(bad("DATE,TMAX,TMIN\n2012-01-01,5.5,\n2012-01-02,,1.5\n", &options).code,
                     CY_ISSUE_MISSING);
}

/* Whole figures from 40 to 130 may be F, or tenths of a cold season. */
static void a_cold_seasons_tenths_are_not_taken_for_sure(void **state)
{
    (void)state;
    const char *text = "DATE,TMAX,TMIN,PRCP\n2012-01-01,61,11,0\n2012-01-02,85,35,12\n";
    struct cy_station_report report;
    struct cy_weather weather;
    struct cy_issues issues;
    assert_int_equal(parse(&weather, &report, text, NULL, &issues), CY_OK);
    assert_false(report.sure);
    cy_weather_dispose(&weather);
}

static bool stop_at_once(double share, void *payload)
{
    (void)share;
    ++*(int *)payload;
    return false;
}

static void reading_can_be_stopped(void **state)
{
    (void)state;
    struct month month = month_of(2012, 3);
    char text[2 * (LINE + 2)];
    int calls = 0;
    struct cy_station_options options = {.progress = stop_at_once, .payload = &calls};
    struct cy_weather weather;
    struct cy_issues issues;
    sprintf(text, "%s\n%s\n", month.max, month.min);
    assert_int_equal(parse(&weather, NULL, text, &options, &issues), CY_CANCELLED);
    assert_int_equal(
        parse(&weather, NULL, "DATE,TMAX,TMIN\n2012-01-01,5.5,1.5\n", &options, &issues),
        CY_CANCELLED);
    assert_int_equal(calls, 2);
    assert_int_equal(issues.count, 0);
    assert_null(weather.tmin_c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_line_that_was_seen),
        cmocka_unit_test(wind_humidity_and_sun),
        cmocka_unit_test(february_has_29_days_or_28),
        cmocka_unit_test(a_line_may_end_behind_a_value),
        cmocka_unit_test(failed_checks_are_dropped_and_counted),
        cmocka_unit_test(line_ends_of_every_kind),
        cmocka_unit_test(lines_come_in_any_order),
        cmocka_unit_test(wrong_lines),
        cmocka_unit_test(one_station_and_always_tenths),
        cmocka_unit_test(cut_at_every_byte),
        cmocka_unit_test(nothing_is_filled_when_left_as_read),
        cmocka_unit_test(a_cold_seasons_tenths_are_not_taken_for_sure),
        cmocka_unit_test(reading_can_be_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
