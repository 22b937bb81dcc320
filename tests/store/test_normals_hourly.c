/* SPDX-License-Identifier: MIT
 * Hours rebuilt from daily minima and maxima against true ones: the hourly normals of Seattle,
 * 1981 to 2010 (tests/data/weather). Means of 30 years, in a climate without frost: an easy case,
 * real days err more. The figures were worked out apart from this program, for sums of the winter
 * by true hours and by hours rebuilt in this form. */
#include "store/series_read.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/base/issue.h>
#include <caneyear/climate/chill.h>
#include <caneyear/climate/hourly.h>

#define LATITUDE 47.45 /* Seattle-Tacoma airport */

enum { DAYS = 365 };

static double truth[DAYS][24], rebuilt[DAYS][24];
static double lows[DAYS], highs[DAYS];

static void rebuild(int day)
{
    struct cy_hourly_input in = {.before_min = lows[day > 0 ? day - 1 : DAYS - 1],
                                 .before_max = highs[day > 0 ? day - 1 : DAYS - 1],
                                 .min = lows[day],
                                 .max = highs[day],
                                 .after_min = lows[day + 1 < DAYS ? day + 1 : 0],
                                 .latitude_deg = LATITUDE,
                                 .day_of_year = day + 1};
    cy_hourly_day(rebuilt[day], &in);
}

/* Normals are a year that repeats: December is followed by the same file's January. */
static int read_normals(void **state)
{
    (void)state;
    struct cy_series series;
    struct cy_issues issues = {0};
    const char *path = "tests/data/weather/seattle-hourly-normals.csv";
    if (cy_series_read(&series, path, NULL, &issues) != CY_OK || !series.is_hourly ||
        series.first != cy_day_of(2010, 1, 1) || series.days != DAYS)
        return -1;
    for (int day = 0; day < DAYS; day++) {
        lows[day] = INFINITY, highs[day] = -INFINITY;
        for (int hour = 0; hour < 24; hour++) {
            double temp = series.temp_c[24 * day + hour];
            if (day == 0 && hour == 0) /* the one hour that is not there */
                temp = series.temp_c[1];
            truth[day][hour] = temp;
            lows[day] = fmin(lows[day], temp);
            highs[day] = fmax(highs[day], temp);
        }
    }
    for (int day = 0; day < DAYS; day++)
        rebuild(day);
    cy_series_dispose(&series);
    return 0;
}

struct window {
    double truth[DAYS * 24], rebuilt[DAYS * 24];
    size_t count;
    double rmse, bias, worst;
};

/* From a day of autumn to one of the next spring. */
static struct window *window_of(int from_month, int to_month, int to_day)
{
    static struct window window;
    cy_day first = cy_day_of(2009, from_month, 1), last = cy_day_of(2010, to_month, to_day);
    double squares = 0, sum = 0;
    window = (struct window){0};
    for (cy_day day = first; day <= last; day++) {
        int index = cy_day_of_year(day) - 1;
        for (int hour = 0; hour < 24; hour++) {
            double true_c = truth[index][hour], rebuilt_c = rebuilt[index][hour];
            assert_false(isnan(true_c));
            window.truth[window.count] = true_c;
            window.rebuilt[window.count++] = rebuilt_c;
            sum += rebuilt_c - true_c;
            squares += (rebuilt_c - true_c) * (rebuilt_c - true_c);
            window.worst = fmax(window.worst, fabs(rebuilt_c - true_c));
        }
    }
    window.bias = sum / (double)window.count;
    window.rmse = sqrt(squares / (double)window.count);
    return &window;
}

static void near_or_fail(double got, double want, double within, const char *file, int line)
{
    if (fabs(got - want) <= within)
        return;
    print_error("%.10g is not within %g of %.10g\n", got, within, want);
    _fail(file, line);
}
#define assert_near(got, want, within) near_or_fail(got, want, within, __FILE__, __LINE__)

/* Hours from 32 F to 45 F, which is 7.2222 C. Readings in tenths cannot tell that from 7.2 C;
 * rebuilt hours can. */
static double hours_to_45_f(const double *temps, size_t count)
{
    double hours = 0;
    for (size_t i = 0; i < count; i++)
        hours += temps[i] >= 0 && temps[i] <= (45 - 32) / 1.8;
    return hours;
}

static void winter_by_true_hours(void **state)
{
    (void)state;
    const struct window *w = window_of(11, 2, 28);
    assert_int_equal(w->count, 2880);
    assert_near(cy_chill_hours(w->truth, w->count), 2285, 0);
    assert_near(cy_chill_utah(w->truth, w->count), 2816.0, 1e-9);
    assert_near(cy_chill_portions(w->truth, w->count), 94.738, 0.001);
}

static void winter_by_rebuilt_hours(void **state)
{
    (void)state;
    const struct window *w = window_of(11, 2, 28);
    assert_near(hours_to_45_f(w->rebuilt, w->count), 2214, 3);
    assert_near(cy_chill_utah(w->rebuilt, w->count), 2806.0, 1);
    assert_near(cy_chill_portions(w->rebuilt, w->count), 94.703, 0.005);
    assert_near(w->rmse, 0.318, 0.005);
    assert_near(w->bias, 0.087, 0.001);
    assert_near(w->worst, 1.27, 0.1);
}

static void october_to_march(void **state)
{
    (void)state;
    const struct window *w = window_of(10, 3, 31);
    assert_int_equal(w->count, 4368);
    assert_near(cy_chill_hours(w->truth, w->count), 2638, 0);
    assert_near(hours_to_45_f(w->rebuilt, w->count), 2566, 3);
    assert_near(cy_chill_utah(w->truth, w->count), 3779.5, 1e-9);
    assert_near(cy_chill_utah(w->rebuilt, w->count), 3724.0, 1);
    assert_near(cy_chill_portions(w->truth, w->count), 140.034, 0.001);
    assert_near(cy_chill_portions(w->rebuilt, w->count), 139.062, 0.005);
    assert_near(w->rmse, 0.411, 0.005);
}

static void september_to_may(void **state)
{
    (void)state;
    const struct window *w = window_of(9, 5, 31);
    assert_int_equal(w->count, 6552);
    assert_near(cy_chill_hours(w->truth, w->count), 2760, 0);
    assert_near(hours_to_45_f(w->rebuilt, w->count), 2674, 3);
    assert_near(cy_chill_utah(w->truth, w->count), 4185.5, 1e-9);
    assert_near(cy_chill_utah(w->rebuilt, w->count), 4014.5, 2);
    assert_near(cy_chill_portions(w->truth, w->count), 172.170, 0.001);
    assert_near(cy_chill_portions(w->rebuilt, w->count), 169.221, 0.005);
    assert_near(w->rmse, 0.606, 0.005);
    assert_near(w->worst, 2.32, 0.1);
}

/* What the rebuild may cost, whatever its form: a grower decides on these sums. */
static void rebuilt_sums_are_near_the_true_ones(void **state)
{
    (void)state;
    static const struct {
        int from, to, to_day;
        double utah;
    } windows[] = {{11, 2, 28, 0.03}, {10, 3, 31, 0.03}, {9, 5, 31, 0.05}};
    for (size_t i = 0; i < sizeof windows / sizeof *windows; i++) {
        const struct window *w = window_of(windows[i].from, windows[i].to, windows[i].to_day);
        double hours = cy_chill_hours(w->truth, w->count), utah = cy_chill_utah(w->truth, w->count);
        double portions = cy_chill_portions(w->truth, w->count);
        assert_near(cy_chill_hours(w->rebuilt, w->count), hours, 0.05 * hours);
        assert_near(cy_chill_utah(w->rebuilt, w->count), utah, windows[i].utah * utah);
        assert_near(cy_chill_portions(w->rebuilt, w->count), portions, 0.03 * portions);
        assert_true(w->rmse < 0.7);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(winter_by_true_hours),
        cmocka_unit_test(winter_by_rebuilt_hours),
        cmocka_unit_test(october_to_march),
        cmocka_unit_test(september_to_may),
        cmocka_unit_test(rebuilt_sums_are_near_the_true_ones),
    };
    return cmocka_run_group_tests(tests, read_normals, NULL);
}
