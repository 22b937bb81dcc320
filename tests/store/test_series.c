/* SPDX-License-Identifier: MIT
 * Weather files: the forms that are about, what is guessed of them, and all that can be wrong. */
#include "store/series_read.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static void near_or_fail(double got, double want, double within, const char *file, int line)
{
    if (fabs(got - want) <= within)
        return;
    print_error("%.10g is not within %g of %.10g\n", got, within, want);
    _fail(file, line);
}
#define assert_near(got, want, within) near_or_fail(got, want, within, __FILE__, __LINE__)

static struct cy_weather good(const char *text, struct cy_station_report *report,
                              const struct cy_station_options *options)
{
    struct cy_weather weather;
    struct cy_issues issues = {0};
    assert_int_equal(
        cy_station_parse(&weather, report, "f.csv", text, strlen(text), options, &issues), CY_OK);
    assert_int_equal(issues.count, 0);
    return weather;
}

/* The first issue of a file that is refused. */
static struct cy_issue bad(const char *text)
{
    struct cy_weather weather;
    struct cy_issues issues = {0};
    assert_int_equal(cy_station_parse(&weather, NULL, "f.csv", text, strlen(text), NULL, &issues),
                     CY_INVALID);
    assert_int_equal(weather.days, 0);
    assert_null(weather.tmin_c);
    assert_true(issues.count > 0);
    assert_string_equal(issues.items[0].file, "f.csv");
    return issues.items[0];
}

static void assert_bad(const char *text, enum cy_issue_code code, int line, int column)
{
    struct cy_issue issue = bad(text);
    assert_int_equal(issue.code, code);
    assert_int_equal(issue.line, line);
    assert_int_equal(issue.column, column);
}

/* ---- forms ---------------------------------------------------------------------------------- */

/* A daily-summaries order as it was seen: inches and whole F, a comma in the name, an empty TAVG
 * (Sitka, Alaska, 1 July 2018). */
static void an_order_in_fahrenheit_and_inches(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct cy_weather weather =
        good("\"STATION\",\"NAME\",\"DATE\",\"PRCP\",\"TAVG\",\"TMAX\",\"TMIN\"\r\n"
             "\"USW00025333\",\"SITKA AIRPORT, AK US\",\"2018-07-01\",\"0.25\",,\"62\",\"50\"\r\n",
             &report, NULL);
    assert_int_equal(weather.days, 1);
    assert_int_equal(weather.first, cy_day_of(2018, 7, 1));
    assert_near(weather.tmax_c[0], 50.0 / 3, 1e-9);
    assert_near(weather.tmin_c[0], 10, 1e-9);
    assert_near(weather.rain_mm[0], 6.35, 1e-9);
    assert_int_equal(report.scale, CY_STATION_US);
    assert_true(report.sure);
    assert_string_equal(report.station, "USW00025333");
    cy_weather_dispose(&weather);
}

/* A station file in tenths with its marks; the value with quality mark I is dropped, T is a
 * trace. */
static void a_station_file_in_tenths(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct cy_weather weather =
        good("STATION,DATE,TMIN,TMIN_ATTRIBUTES,TMAX,TMAX_ATTRIBUTES,PRCP,PRCP_ATTRIBUTES\n"
             "USW00000001,2020-06-01,150,\",,W\",267,\",,W\",12,\",,W\"\n"
             "USW00000001,2020-06-02,900,\",I,W\",280,\",,W\",0,\"T,,W\"\n"
             "USW00000001,2020-06-03,170,\",,W,2400\",300,\",,W\",-9999,\n",
             &report, NULL);
    assert_int_equal(report.scale, CY_STATION_TENTHS);
    assert_near(weather.tmax_c[0], 26.7, 1e-12);
    assert_near(weather.rain_mm[0], 1.2, 1e-12);
    assert_near(weather.tmin_c[1], 16, 1e-12);
    assert_int_equal(weather.origin[1], CY_ORIGIN_FILLED);
    assert_int_equal(weather.origin[2], CY_ORIGIN_OBSERVED);
    assert_int_equal(report.dropped, 1);
    assert_int_equal(report.traces, 1);
    assert_int_equal(report.filled_temps, 1);
    assert_int_equal(report.filled_rain, 1);
    assert_int_equal(report.longest_gap, 1);
    assert_int_equal(report.gap_from, cy_day_of(2020, 6, 2));
    cy_weather_dispose(&weather);
}

/* As the archive's own station files are padded, with every field quoted. */
static void a_station_file_padded_to_a_width(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct cy_weather weather =
        good("\"STATION\",\"DATE\",\"PRCP\",\"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\","
             "\"TMIN\",\"TMIN_ATTRIBUTES\"\n"
             "\"USW00000001\",\"2020-06-01\",\"    3\",\",,W,2400\",\"  267\",\",,W\","
             "\"  133\",\",,W\"\n"
             "\"USW00000001\",\"2020-06-02\",\"    0\",\"T,,W,2400\",\"  250\",\",,W\","
             "\"     \",\"\"\n"
             "\"USW00000001\",\"2020-06-03\",\"   18\",\",,W,2400\",\"  301\",\",,W\","
             "\"  -12\",\",,W\"\n",
             &report, NULL);
    assert_int_equal(report.scale, CY_STATION_TENTHS);
    assert_int_equal(report.days, 3);
    assert_near(weather.tmax_c[0], 26.7, 1e-9);
    assert_near(weather.rain_mm[0], 0.3, 1e-9);
    assert_int_equal(weather.origin[1], CY_ORIGIN_FILLED);
    assert_near(weather.tmin_c[2], -1.2, 1e-9);
    cy_weather_dispose(&weather);
}

static void a_simple_metric_file(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct cy_weather weather = good("\xEF\xBB\xBF"
                                     "date,precipitation,temp_max,temp_min,wind,weather\n"
                                     "2012-01-02,10.9,10.6,2.8,4.5,rain\n"
                                     "\n"
                                     "2012-01-01,0.0,12.8,5.0,4.7,drizzle",
                                     &report, NULL);
    assert_int_equal(report.scale, CY_STATION_METRIC);
    assert_true(report.sure);
    assert_int_equal(report.rows, 2);
    assert_int_equal(weather.first, cy_day_of(2012, 1, 1));
    assert_near(weather.tmax_c[0], 12.8, 0);
    assert_near(weather.rain_mm[1], 10.9, 0);
    assert_int_equal(report.sample_count, 2);
    assert_int_equal(report.samples[1].day, cy_day_of(2012, 1, 2));
    assert_near(report.samples[1].tmin_c, 2.8, 0);
    cy_weather_dispose(&weather);
}

/* Mean wind, mean dew point or humidity, and sunshine of the archive's elements, on each scale; a
 * value with a quality mark is dropped, what is missing stays so. */
static void wind_humidity_and_sun(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct cy_weather weather = good("STATION,DATE,TMIN,TMAX,PRCP,AWND,AWND_ATTRIBUTES,ADPT,TSUN\n"
                                     "USW00000001,2020-06-01,150,267,12,31,\",,W\",124,555\n"
                                     "USW00000001,2020-06-02,150,280,0,900,\",X,W\",,\n",
                                     &report, NULL);
    assert_int_equal(report.scale, CY_STATION_TENTHS);
    assert_near(weather.wind_m_s[0], 3.1, 1e-12);
    assert_near(weather.dew_c[0], 12.4, 1e-12);
    assert_near(weather.sun_h[0], 9.25, 1e-12);
    assert_true(isnan(weather.wind_m_s[1]) && isnan(weather.dew_c[1]) && isnan(weather.sun_h[1]));
    assert_int_equal(report.dropped, 1);
    cy_weather_dispose(&weather);
    weather = good("DATE,TMIN,TMAX,PRCP,AWND,ADPT,TSUN\n2018-07-01,50,82,0.25,10,50,600\n", &report,
                   NULL);
    assert_int_equal(report.scale, CY_STATION_US);
    assert_near(weather.wind_m_s[0], 4.4704, 1e-9);
    assert_near(weather.dew_c[0], 10, 1e-9);
    assert_near(weather.sun_h[0], 10, 1e-9);
    cy_weather_dispose(&weather);
    /* By mean humidity: FAO-56 example 5's 18 and 25 C at 68 % give a vapour pressure of 1.78 kPa,
     * whose dew point is 15.7 C. */
    weather = good("DATE,TMIN,TMAX,PRCP,RHAV\n2018-07-01,18.0,25.0,0.0,68\n2018-07-02,18.5,25,0,\n",
                   &report, NULL);
    assert_int_equal(report.scale, CY_STATION_METRIC);
    assert_near(0.6108 * exp(17.27 * weather.dew_c[0] / (weather.dew_c[0] + 237.3)), 1.7788, 5e-5);
    assert_true(isnan(weather.dew_c[1]));
    cy_weather_dispose(&weather);
    assert_bad("DATE,TMIN,TMAX,PRCP,RHAV\n2018-07-01,18.0,25.0,0.0,101\n", CY_ISSUE_OUT_OF_RANGE, 2,
               26);
    assert_bad("DATE,TMIN,TMAX,PRCP,TSUN\n2018-07-01,18.0,25.0,0.0,-5\n", CY_ISSUE_OUT_OF_RANGE, 2,
               26);
}

static void whole_degrees_are_a_guess_that_can_be_overruled(void **state)
{
    (void)state;
    const char *text = "DATE,TMAX,TMIN\n2012-01-01,30,20\n2012-01-02,35,25\n";
    struct cy_station_report report;
    struct cy_weather weather = good(text, &report, NULL);
    assert_int_equal(report.scale, CY_STATION_METRIC);
    assert_false(report.sure);
    cy_weather_dispose(&weather);
    struct cy_station_options us = {.scale = CY_STATION_US};
    weather = good(text, &report, &us);
    assert_near(weather.tmax_c[0], -10.0 / 9, 1e-9);
    assert_true(report.sure);
    assert_int_equal(report.filled_rain, 2);
    cy_weather_dispose(&weather);
}

static void one_of_several_stations(void **state)
{
    (void)state;
    const char *text = "location,date,temp_max,temp_min\nSeattle,2012-01-01,12.8,5.0\n"
                       "New York,2012-01-01,9.5,1.5\n";
    assert_bad(text, CY_ISSUE_PAIR, 3, 1);
    struct cy_station_options options = {.station = "new york"};
    struct cy_station_report report;
    struct cy_weather weather = good(text, &report, &options);
    assert_near(weather.tmax_c[0], 9.5, 0);
    assert_string_equal(report.station, "New York");
    cy_weather_dispose(&weather);
}

static void quotes_in_quotes(void **state)
{
    (void)state;
    struct cy_weather weather = good("NAME,DATE,TMAX,TMIN\n"
                                     "\"THE \"\"OLD\"\" MILL,\nAL US\",2012-02-29, 9.5 , 1.5\n",
                                     NULL, NULL);
    assert_int_equal(weather.first, cy_day_of(2012, 2, 29));
    assert_near(weather.tmin_c[0], 1.5, 0);
    cy_weather_dispose(&weather);
}

/* ---- gaps ----------------------------------------------------------------------------------- */

static void short_gaps_are_straight(void **state)
{
    (void)state;
    struct cy_station_report report;
    struct cy_weather weather = good(
        "DATE,TMAX,TMIN\n2012-01-01,10.5,0\n2012-01-04,13.5,3\n2012-01-05,,4\n", &report, NULL);
    assert_int_equal(weather.days, 5);
    assert_near(weather.tmax_c[1], 11.5, 1e-12);
    assert_near(weather.tmin_c[2], 2, 1e-12);
    assert_near(weather.tmax_c[4], 13.5, 0); /* nothing behind it */
    assert_int_equal(weather.origin[0], CY_ORIGIN_OBSERVED);
    assert_int_equal(weather.origin[1], CY_ORIGIN_FILLED);
    assert_int_equal(weather.origin[4], CY_ORIGIN_FILLED);
    assert_int_equal(report.filled_temps, 3);
    assert_int_equal(report.longest_gap, 2);
    cy_weather_dispose(&weather);
}

static void long_gaps_take_the_other_years(void **state)
{
    (void)state;
    /* All of January 2013 and the first of February 2014; only the ends of January 2014. */
    char text[4096] = "DATE,TMAX,TMIN\n";
    for (int day = 1; day <= 31; day++) {
        char line[64] = "2013-01-00,";
        line[8] = (char)('0' + day / 10);
        line[9] = (char)('0' + day % 10);
        strcat(line, day == 15 ? "21.5,11.5\n" : "10.5,0.5\n");
        strcat(text, line);
    }
    strcat(text, "2014-01-01,10.5,0.5\n2014-02-01,10.5,0.5\n");
    struct cy_weather weather = good(text, NULL, NULL);
    int middle = cy_weather_index(&weather, cy_day_of(2014, 1, 15));
    assert_near(weather.tmax_c[middle], 21.5, 1e-12);
    assert_near(weather.tmin_c[middle], 11.5, 1e-12);
    assert_near(weather.tmax_c[middle + 1], 10.5, 1e-12);
    assert_int_equal(weather.origin[middle], CY_ORIGIN_FILLED);
    cy_weather_dispose(&weather);
}

/* ---- hours ---------------------------------------------------------------------------------- */

static void hourly_temperatures(void **state)
{
    (void)state;
    const char *text = "date,pressure,temperature,wind\n2010-01-01T01:00:00,1016.6,4.0,3.8\n"
                       "2010-01-01T02:00:00,1016.6,,3.9\n2010-01-02 23:00,1016.7,3.8,3.8\n";
    struct cy_series series;
    struct cy_issues issues = {0};
    assert_int_equal(cy_series_parse(&series, "h.csv", text, strlen(text), NULL, &issues), CY_OK);
    assert_true(series.is_hourly);
    assert_int_equal(series.first, cy_day_of(2010, 1, 1));
    assert_int_equal(series.days, 2);
    assert_true(isnan(series.temp_c[0]) && isnan(series.temp_c[2]));
    assert_near(series.temp_c[1], 4.0, 0);
    assert_near(series.temp_c[47], 3.8, 0);
    cy_series_dispose(&series);
    /* It is no daily weather. */
    struct cy_weather weather;
    assert_int_equal(cy_station_parse(&weather, NULL, "h.csv", text, strlen(text), NULL, &issues),
                     CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_MISSING);
}

/* ---- what is wrong -------------------------------------------------------------------------- */

static void wrong_headers(void **state)
{
    (void)state;
    assert_bad("", CY_ISSUE_EMPTY_FILE, 0, 0);
    assert_bad("\n\r\n  \n", CY_ISSUE_EMPTY_FILE, 0, 0);
    assert_bad("DATE,TMAX\n2012-01-01,5\n", CY_ISSUE_MISSING, 1, 1);
    assert_bad("TMAX,TMIN\n5,1\n", CY_ISSUE_MISSING, 1, 1);
    assert_bad("DATE,TMAX,TMIN,tmax\n2012-01-01,5,1,5\n", CY_ISSUE_PAIR, 1, 16);
    assert_bad("DATE,TMAX,TMIN\n", CY_ISSUE_MISSING, 1, 1);
}

static void wrong_values_are_placed(void **state)
{
    (void)state;
    assert_bad("DATE,TMAX,TMIN\n2012-01-01,5.5,1.5\n2012-01-02,warm,1.5\n", CY_ISSUE_BAD_NUMBER, 3,
               12);
    assert_bad("DATE,TMAX,TMIN\n2012-02-30,5.5,1.5\n", CY_ISSUE_BAD_DATE, 2, 1);
    assert_bad("NAME,DATE,TMAX,TMIN\n\"A, \xC3\xA9\",01/02/2012,5.5,1.5\n", CY_ISSUE_BAD_DATE, 2,
               8);
    assert_bad("DATE,TMAX,TMIN\n2012-01-01,5.5,6.5\n", CY_ISSUE_PAIR, 2, 16);
    assert_bad("DATE,TMAX,TMIN,PRCP\n2012-01-01,5.5,1.5,-1\n", CY_ISSUE_OUT_OF_RANGE, 2, 20);
    assert_bad("DATE,TMAX,TMIN\n2012-01-01,5.5,-95.5\n", CY_ISSUE_OUT_OF_RANGE, 2, 16);
    assert_bad("DATE,TMAX,TMIN\n2012-01-01,5.5,1.5\n2012-01-02,6.5\n", CY_ISSUE_SYNTAX, 3, 12);
    assert_bad("DATE,TMAX,TMIN\n2012-01-01,,\n", CY_ISSUE_MISSING, 2, 12);
}

static void a_day_given_twice(void **state)
{
    (void)state;
    struct cy_issue issue = bad("DATE,TMAX,TMIN\n2012-01-02,5.5,1.5\n2012-01-01,5.5,1.5\n"
                                "2012-01-02,5.5,1.5\n");
    assert_int_equal(issue.code, CY_ISSUE_DUPLICATE_KEY);
    assert_int_equal(issue.line, 4);
    assert_string_equal(issue.found, "2012-01-02");
    assert_string_equal(issue.allowed, "2");
}

static void broken_text(void **state)
{
    (void)state;
    assert_bad("DATE,TMAX,TMIN\n\"2012-01-01,5.5,1.5\n", CY_ISSUE_SYNTAX, 2, 1);
    assert_bad("DATE,TMAX,TMIN\n\"2012-01-01\"x,5.5,1.5\n", CY_ISSUE_SYNTAX, 2, 13);
    struct cy_weather weather;
    struct cy_issues issues = {0};
    assert_int_equal(cy_station_parse(&weather, NULL, "f.csv",
                                      "\xFF\xFE"
                                      "D\0A\0",
                                      6, NULL, &issues),
                     CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_SYNTAX);
}

static void lone_carriage_returns_end_lines(void **state)
{
    (void)state;
    struct cy_weather weather = good("DATE,TMAX,TMIN\r2012-01-01,5.5,1.5\r", NULL, NULL);
    assert_int_equal(weather.days, 1);
    cy_weather_dispose(&weather);
    assert_bad("DATE,TMAX,TMIN\r\n2012-01-01,5.5,1.5\r\nx,5.5,1.5\r\n", CY_ISSUE_BAD_DATE, 3, 1);
}

/* Cut anywhere, a file is read or refused, and nothing is read beyond its end. */
static void cut_at_every_byte(void **state)
{
    (void)state;
    const char *text = "\xEF\xBB\xBF\"STATION\",DATE,TMAX,TMIN,PRCP\r\n"
                       "\"A \"\"B\"\", C\",2012-01-01,5.5,1.5,0.1\r\n"
                       "\"A \"\"B\"\", C\",2012-01-03,6.5,2.5,\r\n";
    for (size_t length = 0; length <= strlen(text); length++) {
        char *cut = test_malloc(length + 1);
        memcpy(cut, text, length);
        struct cy_weather weather;
        struct cy_issues issues = {0};
        int status = cy_station_parse(&weather, NULL, "f.csv", cut, length, NULL, &issues);
        assert_true(status == CY_OK || (status == CY_INVALID && issues.count > 0));
        cy_weather_dispose(&weather);
        test_free(cut);
    }
}

static void files_that_cannot_be_read(void **state)
{
    (void)state;
    struct cy_weather weather;
    struct cy_issues issues = {0};
    assert_int_equal(cy_station_read(&weather, NULL, "/nonexistent/x.csv", NULL, &issues),
                     CY_FAILED);
    assert_int_equal(cy_station_read(&weather, NULL, "/tmp", NULL, &issues), CY_FAILED);
    assert_int_equal(issues.count, 2);
    assert_int_equal(issues.items[0].code, CY_ISSUE_NOT_READABLE);
    assert_string_equal(issues.items[1].found, "it is a folder");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_order_in_fahrenheit_and_inches),
        cmocka_unit_test(a_station_file_in_tenths),
        cmocka_unit_test(a_station_file_padded_to_a_width),
        cmocka_unit_test(a_simple_metric_file),
        cmocka_unit_test(wind_humidity_and_sun),
        cmocka_unit_test(whole_degrees_are_a_guess_that_can_be_overruled),
        cmocka_unit_test(one_of_several_stations),
        cmocka_unit_test(quotes_in_quotes),
        cmocka_unit_test(short_gaps_are_straight),
        cmocka_unit_test(long_gaps_take_the_other_years),
        cmocka_unit_test(hourly_temperatures),
        cmocka_unit_test(wrong_headers),
        cmocka_unit_test(wrong_values_are_placed),
        cmocka_unit_test(a_day_given_twice),
        cmocka_unit_test(broken_text),
        cmocka_unit_test(lone_carriage_returns_end_lines),
        cmocka_unit_test(cut_at_every_byte),
        cmocka_unit_test(files_that_cannot_be_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
