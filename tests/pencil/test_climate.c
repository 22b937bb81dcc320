/* SPDX-License-Identifier: MIT
 * The calculations of climate and sky: published values through the pencil's names and units, and
 * what is made of a file. */
#include "bench.h"

#include <stdlib.h>

/* Recomputed from Linvill (HortScience 25(1), 1990) with the consistent night: no published
 * numbers exist. */
static void hour_of_a_day(void **state)
{
    (void)state;
    struct bench six = work("hourly", "min=0 max=12 lat=40 date=2012-01-15 hour=18 before_min=2 "
                                      "before_max=10 after_min=4");
    assert_result(six, 7.969, 5e-4);
    assert_also(six, "sunrise", 7.18916, 1e-5);
    assert_also(six, "sunset", 16.81084, 1e-5);
    assert_result(work("hourly", "min=32F max=53.6F lat=40 date=2012-01-15 hour=14"), 12, 1e-9);
    assert_refused(work("hourly", "min=5 max=4 lat=40 date=2012-01-15 hour=1"), CY_ISSUE_PAIR,
                   "min");
}

/* The chill table of Warmund and Krumme (HortScience 40(5), 2005) gives 24 where Utah
 * (Richardson and others, HortScience 9(4), 1974) gives 12, for a day at 2.0 C. */
static void chill_by_its_counts(void **state)
{
    (void)state;
    struct bench hours = work("chill-hours", "temp=2.0 hours=24");
    assert_result(hours, 24, 0);
    assert_also(hours, "counted", 24, 0);
    assert_result(work("chill-units", "temp=2.0 hours=24"), 12, 0);
    struct bench at_once = work("chill-weighted", "temp=2.0 hours=24 start=at-once");
    assert_result(at_once, 24, 0);
    assert_also(at_once, "started", 1, 0);
    assert_result(work("chill-hours", "temps=-0.1,0,7.2,7.3,45F"), 2, 0);
    /* Celsius edges, by the table: 0 0 .5 .5 1 1 .5 .5 0 0 -.5 -.5 -1. */
    assert_result(work("chill-units", "temps=-5,1.4,1.41,2.4,2.41,9.1,9.11,12.4,12.41,15.9,15.91,"
                                      "18,18.01"),
                  2, 1e-12);
}

/* Warmund and Krumme: counting begins when the air first reaches -2.2 C (28 F). */
static void weighted_chill_begins_with_the_freeze(void **state)
{
    (void)state;
    struct bench frozen = work("chill-weighted", "temps=2,-2.2,1,9.1,9.2,20");
    assert_result(frozen, 1 + 1 + 0.5 - 1, 1e-12);
    assert_also(frozen, "started", 1, 0);
    struct bench never = work("chill-weighted", "temps=2,3,-2.1");
    assert_result(never, 0, 0);
    assert_also(never, "started", 0, 0);
    assert_true(never.result.note[0] != '\0');
}

/* Recomputed from the constants of Fishman and others (1987): 720 h at 4 C and at 13 C. */
static void portions_at_one_temperature(void **state)
{
    (void)state;
    assert_result(work("chill-portions", "temp=4 hours=720"), 21.245762, 1e-6);
    assert_result(work("chill-portions", "temp=13 hours=720"), 0, 0);
}

static void degree_hours_by_base_and_optimum(void **state)
{
    (void)state;
    assert_result(work("degree-hours", "temps=5,6,16,25,30"), 0 + 0 + 10 + 19 + 19, 1e-12);
    assert_result(work("degree-hours", "temps=16,30 base=10 optimum=20"), 6 + 10, 1e-12);
    assert_refused(work("degree-hours", "temps=16 base=26"), CY_ISSUE_PAIR, "base");
}

static void one_source_of_hours(void **state)
{
    (void)state;
    assert_refused(work("chill-hours", "temps=1 temp=2 hours=3"), CY_ISSUE_MISSING, "temps");
    assert_refused(work("chill-hours", "temp=2"), CY_ISSUE_MISSING, "hours");
    assert_refused(work("chill-hours", "file=gone.csv lat=40"), CY_ISSUE_MISSING, "file");
}

/* 15 and 21 C above 10 give 8: Univ. of Wisconsin SAGE atlas page on growing degree days. The
 * sine cases of 48 and 92 F, base 50, upper 88, were recomputed: 19.6651, 19.1485, 12.2558. */
static void degree_days_of_a_day(void **state)
{
    (void)state;
    assert_result(work("degree-days", "min=15 max=21 base=10"), 8, 1e-12);
    assert_result(work("degree-days", "min=5 max=13 base=10 method=average-lifted"), 1.5, 1e-12);
    const char *line = "min=48F max=92F base=50F upper=88F method=sine";
    assert_result(work("degree-days", line), 19.6651 / 1.8, 5e-5);
    assert_result(
        work("degree-days", "min=48F max=92F base=50F upper=88F method=sine cutoff=intermediate"),
        19.1485 / 1.8, 5e-5);
    assert_result(
        work("degree-days", "min=48F max=92F base=50F upper=88F method=sine cutoff=vertical"),
        12.2558 / 1.8, 5e-5);
    assert_refused(work("degree-days", "min=5 base=10"), CY_ISSUE_MISSING, "max");
    assert_refused(work("degree-days", "min=5 max=13 base=10 upper=9"), CY_ISSUE_PAIR, "upper");
    /* An average has no shape to cut: it would be the horizontal one under another name. */
    assert_refused(work("degree-days", "min=5 max=13 base=10 upper=12 cutoff=vertical"),
                   CY_ISSUE_PAIR, "cutoff");
}

/* ---- files ---------------------------------------------------------------------------------- */

/* Five days of 2012 from 14 January; the middle one as in hour_of_a_day. */
static const struct {
    double min, max;
} DAYS[] = {{1, 9}, {2, 10}, {0, 12}, {4, 9}, {3, 8}};

static struct cy_weather weather_of_days(void)
{
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2012, 1, 13), 5), CY_OK);
    for (int i = 0; i < 5; i++) {
        weather.tmin_c[i] = DAYS[i].min;
        weather.tmax_c[i] = DAYS[i].max;
    }
    return weather;
}

static void hours_of_a_file_of_days(void **state)
{
    (void)state;
    struct cy_weather weather = weather_of_days();
    struct cy_pencil_series series = {.daily = &weather};
    struct bench hourly = work_with(
        "degree-hours", "file=f lat=40 from=2012-01-15 to=2012-01-15 base=-20 optimum=60", &series);
    double sum = 0;
    for (int hour = 0; hour < 24; hour++) {
        char line[160] = "min=0 max=12 lat=40 date=2012-01-15 before_min=2 before_max=10 "
                         "after_min=4 hour=";
        char figures[3] = {(char)('0' + hour / 10), (char)('0' + hour % 10), '\0'};
        strcat(line, figures);
        sum += work("hourly", line).result.value + 20;
    }
    assert_result(hourly, sum, 1e-9);
    assert_also(hourly, "counted", 24, 0);
    struct bench all = work_with("chill-hours", "file=f lat=40", &series);
    assert_also(all, "counted", 120, 0);
    assert_refused(work_with("chill-hours", "file=f", &series), CY_ISSUE_MISSING, "lat");
    assert_refused(work_with("chill-hours", "file=f lat=40 from=2012-01-12", &series),
                   CY_ISSUE_OUT_OF_RANGE, "from");
    assert_refused(work_with("chill-hours", "file=f lat=40 to=2012-01-18", &series),
                   CY_ISSUE_OUT_OF_RANGE, "to");
    assert_refused(work_with("chill-hours", "file=f lat=40 from=2012-01-16 to=2012-01-15", &series),
                   CY_ISSUE_PAIR, "from");
    cy_weather_dispose(&weather);
}

/* Counts leave a day out that was not read; the dynamic model, which cannot, is led over it. */
static void days_that_lack(void **state)
{
    (void)state;
    struct cy_weather weather = weather_of_days();
    struct cy_pencil_series series = {.daily = &weather};
    struct bench whole = work_with("chill-portions", "file=f lat=40", &series);
    weather.origin[2] = CY_ORIGIN_FILLED;
    struct bench hours = work_with("degree-hours", "file=f lat=40 base=-20 optimum=60", &series);
    assert_also(hours, "counted", 96, 0);
    assert_true(hours.result.note[0] != '\0');
    struct bench days = work_with("degree-days", "file=f base=0", &series);
    assert_result(days, 5 + 6 + 6.5 + 5.5, 1e-12);
    assert_also(days, "counted", 4, 0);
    struct bench portions = work_with("chill-portions", "file=f lat=40", &series);
    assert_result(portions, whole.result.value, 1e-12);
    assert_also(portions, "counted", 96, 0);
    memset(weather.origin, CY_ORIGIN_FILLED, 4);
    struct bench long_gap = work_with("chill-portions", "file=f lat=40", &series);
    assert_int_equal(long_gap.status, CY_FAILED);
    assert_int_equal(long_gap.issues.items[0].code, CY_ISSUE_MISSING);
    cy_weather_dispose(&weather);
}

static void hours_of_a_file_of_hours(void **state)
{
    (void)state;
    double temps[48];
    for (int i = 0; i < 48; i++)
        temps[i] = i < 24 ? 5 : 10;
    temps[0] = NAN;
    struct cy_pencil_hours hours = {cy_day_of(2010, 1, 1), 2, temps};
    struct cy_pencil_series series = {.hourly = &hours};
    struct bench chill = work_with("chill-hours", "file=f", &series);
    assert_result(chill, 23, 0);
    assert_also(chill, "counted", 47, 0);
    struct bench second = work_with("chill-hours", "file=f from=2010-01-02", &series);
    assert_result(second, 0, 0);
    assert_also(second, "counted", 24, 0);
    /* A gap inside is left out of a count and bridged by the dynamic model. */
    temps[30] = NAN;
    assert_also(work_with("chill-hours", "file=f", &series), "counted", 46, 0);
    struct bench portions = work_with("chill-portions", "file=f", &series);
    assert_int_equal(portions.status, CY_OK);
    assert_also(portions, "counted", 46, 0);
}

static void a_long_gap_in_hours_is_refused(void **state)
{
    (void)state;
    double temps[24 * 6];
    for (int i = 0; i < 24 * 6; i++)
        temps[i] = i < 24 || i >= 24 * 5 ? 5 : NAN;
    struct cy_pencil_hours hours = {cy_day_of(2010, 1, 1), 6, temps};
    struct cy_pencil_series series = {.hourly = &hours};
    assert_int_equal(work_with("chill-portions", "file=f", &series).status, CY_FAILED);
    assert_result(work_with("chill-hours", "file=f", &series), 48, 0);
}

/* Recomputed: dates 88 95 101 79 92 107 84 99 90 96 as days without a leap year; mean 93.1, s
 * 8.3060; level .1 by the normal 103.745, by ranks 106.4. */
static void odds_of_frost(void **state)
{
    (void)state;
    static const int numbers[] = {88, 95, 101, 79, 92, 107, 84, 99, 90, 96};
    struct cy_weather weather;
    cy_day first = cy_day_of(2001, 1, 1);
    assert_int_equal(cy_weather_init(&weather, first, cy_day_of(2010, 12, 31) - first + 1), CY_OK);
    for (int i = 0; i < weather.days; i++)
        weather.tmin_c[i] = weather.tmax_c[i] = 10;
    for (int year = 0; year < 10; year++) {
        bool leap = cy_year_is_leap(2001 + year);
        cy_day day = cy_day_of(2001 + year, 1, 1) + numbers[year] - 1 + (leap ? 1 : 0);
        weather.tmin_c[day - first] = 0;
    }
    struct cy_pencil_series series = {.daily = &weather};
    struct bench spring = work_with("frost-odds", "file=f", &series);
    assert_result(spring, 103.745, 5e-4);
    assert_also(spring, "share", 1, 0);
    assert_also(spring, "mean", 93.1, 1e-9);
    assert_also(spring, "sd", 8.3060, 5e-5);
    assert_also(spring, "years", 10, 0);
    assert_also(spring, "empirical", 106.4, 1e-9);
    assert_result(work_with("frost-odds", "file=f level=0.9 temp=32F", &series), 82.455, 5e-4);
    /* No year freezes harder: there is no such date. */
    assert_refused(work_with("frost-odds", "file=f temp=-5", &series), CY_ISSUE_OUT_OF_RANGE,
                   "level");
    /* The autumn season runs on to July: its first freeze is the one of next spring. */
    assert_result(work_with("frost-odds", "file=f season=autumn level=0.5", &series), 93.5 + 365,
                  5);
    cy_weather_dispose(&weather);
}

/* ---- the sun -------------------------------------------------------------------------------- */

/* Site 32 N: an independent ephemeris agrees with these recomputed values to 0.01. */
static void length_of_the_day(void **state)
{
    (void)state;
    struct bench june = work("day-length", "lat=32 date=2024-06-21");
    assert_result(june, 14.2463, 0.002);
    assert_also(june, "geometric", 14.0976, 0.002);
    assert_result(work("day-length", "lat=32 date=2024-12-21"), 10.0557, 0.002);
}

/* Reda and Andreas, Solar Energy 76, 2004: zenith 50.127954 (geometric), 50.111622 (apparent),
 * azimuth 194.340241, sunrise 06:12:43. */
static void place_of_the_sun(void **state)
{
    (void)state;
    struct bench sun = work("sun-position", "lat=39.742476 lon=-105.1786 elevation=1830.14 "
                                            "time=2003-10-17T12:30:30-07:00 pressure=820 temp=11");
    assert_result(sun, 90 - 50.127954, 0.01);
    assert_also(sun, "zenith", 50.127954, 0.01);
    assert_also(sun, "azimuth", 194.340241, 0.01);
    assert_also(sun, "apparent_altitude", 90 - 50.111622, 0.01);
    struct bench times = work("sun-times", "lat=39.742476 lon=-105.1786 date=2003-10-17 zone=-7");
    assert_result(times, 6 + 12.0 / 60 + 43.0 / 3600, 3.0 / 3600);
    assert_also(times, "sunset", 17 + 18.0 / 60 + 50.8 / 3600, 3.0 / 3600);
    assert_refused(work("sun-times", "lat=80 lon=0 date=2024-06-21 zone=0"), CY_ISSUE_OUT_OF_RANGE,
                   "date");
}

/* Recomputed by one-second steps: 11.9131 behind an east line of 0.5; 12.4008 behind a band. */
static void sun_behind_obstacles(void **state)
{
    (void)state;
    struct bench line = work("sun-hours", "lat=32 declination=23.44 line=90:30ft/60ft");
    assert_result(line, 11.9131, 0.001);
    assert_also(line, "open", 14.0961, 0.001);
    assert_result(work("sun-hours", "lat=32 declination=23.44 band=225:315:20"), 12.4008, 0.001);
    /* On both sides: what the one hides and what the other hides. */
    assert_result(work("sun-hours", "lat=32 declination=23.44 line=90:1/2 line=270:1/2"),
                  14.0959 - 2 * (14.0959 - 11.9131), 0.002);
    assert_result(work("sun-hours", "lat=32 declination=23.44 line=90:1/2 band=225:315:20"),
                  14.0959 - (14.0959 - 11.9131) - (14.0959 - 12.4008), 0.002);
    assert_refused(work("sun-hours", "lat=32 declination=23.44 line=90:30"), CY_ISSUE_BAD_ARGUMENT,
                   "line");
    assert_refused(work("sun-hours", "lat=32 declination=23.44 band=1:2"), CY_ISSUE_BAD_ARGUMENT,
                   "band");
    assert_refused(work("sun-hours", "lat=32"), CY_ISSUE_MISSING, "date");
    assert_result(work("sun-hours", "lat=32 date=2024-06-21"), 14.0961, 0.005);
}

/* Recomputed: 32 N, declination -23.44, hour angle 45, row 1.8 m. */
static void shadow_of_a_row(void **state)
{
    (void)state;
    struct bench row =
        work("row-shadow", "lat=32 declination=-23.44 hour_angle=45 height=1.8 row=0");
    assert_result(row, 3.4409, 5e-4);
    assert_also(row, "altitude", 19.8390, 5e-4);
    assert_also(row, "azimuth", 223.6054, 5e-4);
    assert_refused(work("row-shadow", "lat=32 declination=0 hour_angle=120 height=1.8 row=0"),
                   CY_ISSUE_OUT_OF_RANGE, "hour_angle");
}

/* FAO-56 examples 8 and 9: 3 September, 20 S, Ra 32.2, N 11.7. */
static void radiation_outside(void **state)
{
    (void)state;
    struct bench september = work("radiation", "lat=-20 day=246");
    assert_result(september, 32.2, 0.05);
    assert_also(september, "daylight", 11.7, 0.05);
    assert_result(work("radiation", "lat=-20 date=2023-09-03"), september.result.value, 0);
    assert_refused(work("radiation", "lat=-20 day=246 date=2023-09-03"), CY_ISSUE_MISSING, "date");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hour_of_a_day),
        cmocka_unit_test(chill_by_its_counts),
        cmocka_unit_test(weighted_chill_begins_with_the_freeze),
        cmocka_unit_test(portions_at_one_temperature),
        cmocka_unit_test(degree_hours_by_base_and_optimum),
        cmocka_unit_test(one_source_of_hours),
        cmocka_unit_test(degree_days_of_a_day),
        cmocka_unit_test(hours_of_a_file_of_days),
        cmocka_unit_test(days_that_lack),
        cmocka_unit_test(hours_of_a_file_of_hours),
        cmocka_unit_test(a_long_gap_in_hours_is_refused),
        cmocka_unit_test(odds_of_frost),
        cmocka_unit_test(length_of_the_day),
        cmocka_unit_test(place_of_the_sun),
        cmocka_unit_test(sun_behind_obstacles),
        cmocka_unit_test(shadow_of_a_row),
        cmocka_unit_test(radiation_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
