/* SPDX-License-Identifier: MIT
 * Real stations' days through the reader and the climate room. tests/data/weather/README.md says
 * where they are from. The figures were worked out apart from this program, from the same days, by
 * the published formulas. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include <caneyear/climate/chill.h>
#include <caneyear/climate/degreedays.h>
#include <caneyear/climate/frost.h>
#include <caneyear/climate/hourly.h>
#include <caneyear/climate/maker.h>

#include "store/series_read.h"

#define DATA "tests/data/weather/"
#define SEATTLE_DEG 47.45
#define NEW_YORK_DEG 40.78

static void near_or_fail(double got, double want, double within, const char *file, int line)
{
    if (fabs(got - want) <= within)
        return;
    print_error("%.10g is not within %g of %.10g\n", got, within, want);
    _fail(file, line);
}
#define assert_near(got, want, within) near_or_fail(got, want, within, __FILE__, __LINE__)

static struct cy_weather seattle, new_york;

static struct cy_weather read_days(const char *path)
{
    struct cy_weather weather;
    struct cy_station_report report;
    struct cy_issues issues = {0};
    assert_int_equal(cy_station_read(&weather, &report, path, NULL, &issues), CY_OK);
    assert_int_equal(report.days, 1461);
    assert_int_equal(report.longest_gap, 0);
    assert_int_equal(report.filled_rain, 0);
    assert_int_equal(report.scale, CY_STATION_METRIC);
    assert_true(report.sure);
    return weather;
}

static int read_both(void **state)
{
    (void)state;
    seattle = read_days(DATA "seattle.csv");
    new_york = read_days(DATA "new-york.csv");
    return 0;
}

static int drop_both(void **state)
{
    (void)state;
    cy_weather_dispose(&seattle);
    cy_weather_dispose(&new_york);
    return 0;
}

/* ---- days ----------------------------------------------------------------------------------- */

static double rain_of(const struct cy_weather *weather, int year)
{
    double sum = 0;
    for (cy_day day = cy_day_of(year, 1, 1); day <= cy_day_of(year, 12, 31); day++)
        sum += weather->rain_mm[cy_weather_index(weather, day)];
    return sum;
}

static void rain_adds_up(void **state)
{
    (void)state;
    static const double wet[] = {1226.0, 828.0, 1232.8, 1139.2};
    static const double less_wet[] = {1012.5, 902.7, 1289.8, 973.6};
    for (int i = 0; i < 4; i++) {
        assert_near(rain_of(&seattle, 2012 + i), wet[i], 1e-9);
        assert_near(rain_of(&new_york, 2012 + i), less_wet[i], 1e-9);
    }
}

static cy_day freeze(const struct cy_weather *weather, cy_day from, cy_day to)
{
    for (cy_day day = from; day != to; day += from < to ? 1 : -1)
        if (weather->tmin_c[cy_weather_index(weather, day)] <= 0)
            return day;
    return CY_DAY_NONE;
}

static void freezes_fall_on_their_days(void **state)
{
    (void)state;
    static const struct {
        int last_month, last_day, first_day, seattle_first_day; /* the firsts are in November */
    } years[] = {{3, 27, 6, 10}, {4, 4, 12, 21}, {4, 16, 15, 12}, {3, 29, 24, 23}};
    for (int i = 0; i < 4; i++) {
        int year = 2012 + i;
        cy_day august = cy_day_of(year, 8, 1), end = cy_day_of(year, 12, 31);
        assert_int_equal(freeze(&new_york, august - 1, cy_day_of(year, 1, 1)),
                         cy_day_of(year, years[i].last_month, years[i].last_day));
        assert_int_equal(freeze(&new_york, august, end), cy_day_of(year, 11, years[i].first_day));
        assert_int_equal(freeze(&seattle, august, end),
                         cy_day_of(year, 11, years[i].seattle_first_day));
    }
}

static void degree_days_of_a_year(void **state)
{
    (void)state;
    const struct {
        const struct cy_weather *weather;
        int year;
        double average, lifted, sine, sine_to_30;
    } cases[] = {
        {&seattle, 2012, 1133.40, 1270.40, 1201.7022, 1198.0050},
        {&seattle, 2015, 1541.05, 1691.65, 1616.1098, 1606.9363},
        {&new_york, 2012, 2140.55, 2262.70, 2203.7309, 2183.4523},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        cy_day from = cy_day_of(cases[i].year, 1, 1), to = cy_day_of(cases[i].year, 12, 31);
        const struct {
            struct cy_degree_days_rule rule;
            double want;
        } rules[] = {
            {{CY_DEGREE_DAYS_AVERAGE, CY_DEGREE_DAYS_HORIZONTAL, 10, INFINITY}, cases[i].average},
            {{CY_DEGREE_DAYS_LIFTED, CY_DEGREE_DAYS_HORIZONTAL, 10, INFINITY}, cases[i].lifted},
            {{CY_DEGREE_DAYS_SINE, CY_DEGREE_DAYS_HORIZONTAL, 10, INFINITY}, cases[i].sine},
            {{CY_DEGREE_DAYS_SINE, CY_DEGREE_DAYS_HORIZONTAL, 10, 30}, cases[i].sine_to_30},
        };
        for (size_t k = 0; k < sizeof rules / sizeof *rules; k++)
            assert_near(cy_degree_days_sum(&rules[k].rule, cases[i].weather, from, to),
                        rules[k].want, 1e-4);
    }
}

/* ---- hours ---------------------------------------------------------------------------------- */

enum { MOST_HOURS = 24 * 300 };

struct hours {
    double temp[MOST_HOURS];
    size_t count;
};

static void add_hours(struct hours *out, const struct cy_weather *weather, cy_day from, cy_day to,
                      double latitude_deg)
{
    for (cy_day day = from; day <= to; day++) {
        int i = cy_weather_index(weather, day);
        struct cy_hourly_input in = {.before_min = weather->tmin_c[i - (i > 0)],
                                     .before_max = weather->tmax_c[i - (i > 0)],
                                     .min = weather->tmin_c[i],
                                     .max = weather->tmax_c[i],
                                     .after_min = weather->tmin_c[i + (i + 1 < weather->days)],
                                     .latitude_deg = latitude_deg,
                                     .day_of_year = cy_day_of_year(day)};
        assert_true(out->count + 24 <= MOST_HOURS);
        cy_hourly_day(out->temp + out->count, &in);
        out->count += 24;
    }
}

/* A winter's chill rebuilt from daily figures. The first night and the last have no neighbour in
 * the window for one who begins there, and hours near an edge of a table may fall on either side
 * of it: chill hours have two hard edges (2 %), Utah units six of half a unit (1 %), the dynamic
 * model none (0.5 %). */
static void a_winters_chill(void **state)
{
    (void)state;
    static const struct {
        bool is_seattle;
        struct cy_date from, to;
        double hours, below, utah, portions;
    } winters[] = {
        {true, {2012, 10, 1}, {2013, 3, 31}, 2130, 2338, 2917.0, 126.26},
        {true, {2013, 10, 1}, {2014, 3, 31}, 1820, 2039, 2934.0, 132.32},
        {false, {2012, 10, 1}, {2013, 3, 31}, 2183, 2918, 1988.5, 110.45},
        {false, {2014, 10, 1}, {2015, 3, 31}, 1666, 2971, 1440.5, 100.18},
        {false, {2012, 11, 1}, {2013, 2, 28}, 1644, 2306, 1606.5, 82.3005},
    };
    struct hours *hours = test_malloc(sizeof *hours);
    for (size_t i = 0; i < sizeof winters / sizeof *winters; i++) {
        const struct cy_date *from = &winters[i].from, *to = &winters[i].to;
        hours->count = 0;
        add_hours(hours, winters[i].is_seattle ? &seattle : &new_york,
                  cy_day_of(from->year, from->month, from->day),
                  cy_day_of(to->year, to->month, to->day),
                  winters[i].is_seattle ? SEATTLE_DEG : NEW_YORK_DEG);
        assert_near(cy_chill_hours(hours->temp, hours->count), winters[i].hours,
                    0.02 * winters[i].hours);
        assert_near(cy_chill_hours_below(hours->temp, hours->count), winters[i].below,
                    0.02 * winters[i].below);
        assert_near(cy_chill_utah(hours->temp, hours->count), winters[i].utah,
                    0.01 * winters[i].utah);
        assert_near(cy_chill_portions(hours->temp, hours->count), winters[i].portions,
                    0.005 * winters[i].portions);
    }
    test_free(hours);
}

/* ---- hourly normals ------------------------------------------------------------------------- */

static void take_hours(struct hours *out, const struct cy_series *series, struct cy_date from,
                       struct cy_date to)
{
    cy_day first = cy_day_of(from.year, from.month, from.day);
    cy_day last = cy_day_of(to.year, to.month, to.day);
    for (size_t i = 24 * (size_t)(first - series->first); first <= last; first++)
        for (int hour = 0; hour < 24; hour++)
            out->temp[out->count++] = series->temp_c[i++];
}

/* The year's hours with the one that lacks taken from the hour behind it. */
static struct cy_series read_normals(void)
{
    struct cy_series series;
    struct cy_issues issues = {0};
    assert_int_equal(cy_series_read(&series, DATA "seattle-hourly-normals.csv", NULL, &issues),
                     CY_OK);
    assert_true(series.is_hourly);
    assert_int_equal(series.report.rows, 8759);
    assert_true(isnan(series.temp_c[0]));
    series.temp_c[0] = series.temp_c[1];
    return series;
}

static struct cy_weather days_of(const struct cy_series *series)
{
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, series->first, series->days), CY_OK);
    for (int i = 0; i < weather.days; i++) {
        const double *temp = series->temp_c + 24 * (size_t)i;
        weather.tmin_c[i] = weather.tmax_c[i] = temp[0];
        for (int hour = 1; hour < 24; hour++) {
            weather.tmin_c[i] = fmin(weather.tmin_c[i], temp[hour]);
            weather.tmax_c[i] = fmax(weather.tmax_c[i], temp[hour]);
        }
    }
    return weather;
}

/* True hours, November to February, and the same rebuilt from their daily extremes. */
static void normals_true_and_rebuilt(void **state)
{
    (void)state;
    struct cy_series series = read_normals();
    struct cy_weather daily = days_of(&series);
    struct hours *truth = test_malloc(sizeof *truth), *rebuilt = test_malloc(sizeof *rebuilt);
    truth->count = rebuilt->count = 0;
    take_hours(truth, &series, (struct cy_date){2010, 11, 1}, (struct cy_date){2010, 12, 31});
    take_hours(truth, &series, (struct cy_date){2010, 1, 1}, (struct cy_date){2010, 2, 28});
    add_hours(rebuilt, &daily, cy_day_of(2010, 11, 1), cy_day_of(2010, 12, 31), SEATTLE_DEG);
    add_hours(rebuilt, &daily, cy_day_of(2010, 1, 1), cy_day_of(2010, 2, 28), SEATTLE_DEG);
    assert_int_equal(truth->count, 2880);
    assert_int_equal(rebuilt->count, 2880);
    assert_near(cy_chill_hours(truth->temp, 2880), 2285, 0);
    assert_near(cy_chill_utah(truth->temp, 2880), 2816, 0);
    assert_near(cy_chill_portions(truth->temp, 2880), 94.738, 5e-4);
    assert_near(cy_chill_hours(rebuilt->temp, 2880), 2285, 0.05 * 2285);
    assert_near(cy_chill_utah(rebuilt->temp, 2880), 2816, 0.03 * 2816);
    assert_near(cy_chill_portions(rebuilt->temp, 2880), 94.738, 0.03 * 94.738);
    double squares = 0;
    for (int i = 0; i < 2880; i++)
        squares += pow(rebuilt->temp[i] - truth->temp[i], 2);
    assert_true(sqrt(squares / 2880) < 0.7);
    test_free(truth);
    test_free(rebuilt);
    cy_weather_dispose(&daily);
    cy_series_dispose(&series);
}

/* ---- made years ----------------------------------------------------------------------------- */

struct month {
    double days, low, high, low_squares, rain;
};

static void add_months(struct month out[12], const struct cy_weather *weather)
{
    for (int i = 0; i < weather->days; i++) {
        struct month *month = &out[cy_day_date(weather->first + i).month - 1];
        month->days++;
        month->low += weather->tmin_c[i];
        month->high += weather->tmax_c[i];
        month->low_squares += weather->tmin_c[i] * weather->tmin_c[i];
        month->rain += weather->rain_mm[i];
    }
}

static double low_spread(const struct month *month)
{
    double mean = month->low / month->days;
    return sqrt(month->low_squares / month->days - mean * mean);
}

/* Two hundred years made from a station's own monthly means. */
static struct cy_weather made_like(const struct month months[12], double years)
{
    struct cy_normals normals;
    struct cy_weather weather;
    struct cy_random random;
    for (int m = 0; m < 12; m++) {
        normals.tmin_c[m] = months[m].low / months[m].days;
        normals.tmax_c[m] = months[m].high / months[m].days;
        normals.rain_mm[m] = months[m].rain / years;
    }
    cy_day first = cy_day_of(1900, 1, 1);
    assert_int_equal(cy_weather_init(&weather, first, cy_day_of(2100, 1, 1) - first), CY_OK);
    cy_random_seed(&random, 1, 5);
    cy_weather_make(&weather, &normals, &random);
    return weather;
}

static struct cy_frost_fit last_freezes(const struct cy_weather *weather)
{
    struct cy_frost_list list;
    struct cy_frost_fit fit;
    assert_int_equal(cy_frost_list(&list, weather, false, CY_FROST_SPRING, 0), CY_OK);
    cy_frost_fit(&fit, &list);
    cy_frost_list_dispose(&list);
    return fit;
}

/* Nights of made years stray from their month's mean as far as the station's do: over the year
 * within a fifth, and in no month by six tenths or more (four years of a month are 120 days that
 * hang together, so that their spread is known to a fifth or so). */
static void made_nights_stray_as_real_ones(void **state)
{
    (void)state;
    const struct cy_weather *stations[] = {&seattle, &new_york};
    for (size_t s = 0; s < 2; s++) {
        struct month real[12] = {{0}}, made[12] = {{0}};
        double real_sum = 0, made_sum = 0;
        add_months(real, stations[s]);
        struct cy_weather weather = made_like(real, 4);
        add_months(made, &weather);
        for (int m = 0; m < 12; m++) {
            double ratio = low_spread(&made[m]) / low_spread(&real[m]);
            assert_true(ratio > 1 / 1.6 && ratio < 1.6);
            real_sum += low_spread(&real[m]);
            made_sum += low_spread(&made[m]);
        }
        assert_near(made_sum / real_sum, 1, 0.2);
        cy_weather_dispose(&weather);
    }
}

/* New York's four last freezes: 93.5, deviation 9.0 (93.75 and 8.73 by true days). Four dates of
 * that spread give their mean to 4.5 days and their spread to a third or so. */
static void made_frosts_end_when_real_ones_do(void **state)
{
    (void)state;
    struct month real[12] = {{0}};
    add_months(real, &new_york);
    struct cy_weather weather = made_like(real, 4);
    struct cy_frost_fit station = last_freezes(&new_york), made = last_freezes(&weather);
    assert_near(station.mean, 93.5, 1e-9);
    assert_near(station.sd, 9, 1e-9);
    assert_near(made.mean, station.mean, 4.5);
    assert_near(made.sd, station.sd, 3);
    cy_weather_dispose(&weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rain_adds_up),
        cmocka_unit_test(freezes_fall_on_their_days),
        cmocka_unit_test(degree_days_of_a_year),
        cmocka_unit_test(a_winters_chill),
        cmocka_unit_test(normals_true_and_rebuilt),
        cmocka_unit_test(made_nights_stray_as_real_ones),
        cmocka_unit_test(made_frosts_end_when_real_ones_do),
    };
    return cmocka_run_group_tests(tests, read_both, drop_both);
}
