/* SPDX-License-Identifier: MIT
 * The weather generator over a thousand years: the means are the normals, the days hang
 * together, and the same seed makes the same weather. */
#include <caneyear/climate/maker.h>

#include <string.h>

#include <caneyear/base/issue.h>

#include "support/near.h"
#include "support/soak.h"

/* Years 1850 to 2349 twice, from two streams: the calendar ends in 2400. A soak takes more. */
#define RUNS soak(2, 10)
#define MOST_RUNS 20
#define RUN_YEARS 500
#define YEARS (RUNS * RUN_YEARS)
#define RUN_FIRST_YEAR 1850

static const struct place {
    const char *name;
    struct cy_normals normals;
} PLACES[] = {
    /* NOAA NCEI U.S. Climate Normals 1981-2010, station USW00013740, read. */
    {"Richmond, Virginia",
     {{-2.1, -0.8, 2.8, 7.8, 12.8, 18.1, 20.5, 19.7, 15.6, 9.1, 4.1, -0.3},
      {8.6, 10.7, 15.6, 21.3, 25.5, 30.1, 32.1, 30.9, 27.3, 21.7, 16.3, 10.4},
      {77.2, 70.1, 102.6, 83.1, 96.0, 99.8, 114.6, 118.4, 104.9, 75.7, 82.3, 82.8}}},
    /* NOAA NCEI U.S. Climate Normals 1991-2020, station USW00094765, read. */
    {"Lebanon, New Hampshire",
     {{-12.6, -11.7, -6.3, -0.1, 6.5, 11.3, 14.3, 13.4, 9.2, 3.0, -2.4, -7.7},
      {-0.9, 1.1, 6.1, 13.7, 20.9, 25.5, 28.2, 27.3, 22.7, 15.4, 8.2, 1.9},
      {58.2, 53.3, 68.6, 75.9, 84.3, 96.5, 101.3, 91.9, 87.4, 101.6, 75.7, 72.1}}},
    /* Oregon Climate Service 1961-1990, read; dry summers. */
    {"Drain, Oregon",
     {{0.9, 1.9, 2.6, 3.8, 6.0, 8.9, 9.9, 10.1, 7.8, 5.7, 3.9, 1.6},
      {8.8, 11.8, 14.2, 16.9, 20.7, 24.4, 28.3, 28.4, 25.6, 19.4, 12.2, 8.6},
      {178.8, 139.7, 133.9, 84.8, 54.4, 29.0, 11.4, 22.1, 36.1, 88.1, 194.3, 198.6}}},
    /* Servicio Meteorologico Nacional, Mexico, 1971-2000, read; hardly a winter. */
    {"Alcholoya, Hidalgo",
     {{4.8, 5.1, 7.0, 8.9, 9.8, 10.2, 9.7, 9.6, 9.4, 8.3, 6.7, 5.9},
      {21.2, 22.4, 24.8, 25.6, 25.4, 24.1, 22.7, 22.8, 22.4, 21.9, 22.4, 21.4},
      {8.5, 8.4, 13.0, 29.1, 47.7, 79.4, 67.8, 71.5, 90.1, 56.1, 14.9, 5.0}}},
};
#define PLACE_COUNT (sizeof PLACES / sizeof *PLACES)

/* What the thousand years of a place come to; months from 0. */
static struct summary {
    double tmin[12], tmax[12], rain[12]; /* means of days; mean total of a month */
    double rain_error[12];               /* standard error of that total */
    double spread[12];                   /* deviation of the daily mean from its date's */
    double lag;                          /* correlation of that deviation with the day before */
    double wet, wet_after_wet;           /* shares, all year */
    double range_wet, range_dry;         /* mean range over that of the date */
    double tmax_wet, tmin_wet;           /* mean of wet days over that of the date */
    int broken;                          /* days with a minimum above the maximum, rain below 0 */
} SUMMARIES[PLACE_COUNT];

/* The normal weather of each date, months and days from 0, as the runs themselves have it. */
struct dates {
    double count[12][31], tmin[12][31], tmax[12][31];
};

static struct cy_weather run_of(const struct cy_normals *normals, int run)
{
    struct cy_weather weather;
    cy_day first = cy_day_of(RUN_FIRST_YEAR, 1, 1);
    int days = cy_day_of(RUN_FIRST_YEAR + RUN_YEARS, 1, 1) - first;
    assert_int_equal(cy_weather_init(&weather, first, days), CY_OK);
    struct cy_random random;
    cy_random_seed(&random, 1, (uint64_t)run);
    cy_weather_make(&weather, normals, &random);
    return weather;
}

static void add_means(struct summary *out, struct dates *dates, const struct cy_weather *weather)
{
    double month_rain = 0;
    for (int i = 0; i < weather->days; i++) {
        struct cy_date date = cy_day_date(weather->first + i);
        int m = date.month - 1;
        dates->count[m][date.day - 1] += 1;
        dates->tmin[m][date.day - 1] += weather->tmin_c[i];
        dates->tmax[m][date.day - 1] += weather->tmax_c[i];
        out->broken += weather->tmin_c[i] > weather->tmax_c[i] || weather->rain_mm[i] < 0 ||
                       weather->origin[i] != CY_ORIGIN_MADE;
        month_rain = (date.day == 1 ? 0 : month_rain) + weather->rain_mm[i];
        if (date.day == cy_month_days(date.year, date.month)) {
            out->rain[m] += month_rain;
            out->rain_error[m] += month_rain * month_rain;
        }
    }
}

static void finish_means(struct summary *out, struct dates *dates)
{
    for (int m = 0; m < 12; m++) {
        double count = 0;
        for (int d = 0; d < 31; d++) {
            count += dates->count[m][d];
            out->tmin[m] += dates->tmin[m][d];
            out->tmax[m] += dates->tmax[m][d];
            if (dates->count[m][d] > 0) {
                dates->tmin[m][d] /= dates->count[m][d];
                dates->tmax[m][d] /= dates->count[m][d];
            }
        }
        out->tmin[m] /= count;
        out->tmax[m] /= count;
        out->rain[m] /= YEARS;
        double variance = out->rain_error[m] / YEARS - out->rain[m] * out->rain[m];
        out->rain_error[m] = sqrt(variance / YEARS);
    }
}

static void add_deviations(struct summary *out, const struct dates *dates,
                           const struct cy_weather *weather)
{
    double squares = 0, products = 0, month_squares[12] = {0}, month_days[12] = {0};
    double wet = 0, pairs = 0, before = 0, range_wet = 0, range_dry = 0, tmax_wet = 0, tmin_wet = 0;
    for (int i = 0; i < weather->days; i++) {
        struct cy_date date = cy_day_date(weather->first + i);
        int m = date.month - 1;
        double low = weather->tmin_c[i] - dates->tmin[m][date.day - 1];
        double high = weather->tmax_c[i] - dates->tmax[m][date.day - 1];
        double deviation = (low + high) / 2;
        squares += deviation * deviation;
        products += deviation * before;
        month_squares[m] += deviation * deviation;
        month_days[m] += 1;
        before = deviation;
        if (weather->rain_mm[i] > 0) {
            wet += 1;
            pairs += i > 0 && weather->rain_mm[i - 1] > 0;
            range_wet += high - low;
            tmax_wet += high;
            tmin_wet += low;
        } else {
            range_dry += high - low;
        }
    }
    for (int m = 0; m < 12; m++)
        out->spread[m] += sqrt(month_squares[m] / month_days[m]) / RUNS;
    out->lag += products / squares / RUNS;
    out->wet += wet / weather->days / RUNS;
    out->wet_after_wet += pairs / wet / RUNS;
    out->range_wet += range_wet / wet / RUNS;
    out->range_dry += range_dry / (weather->days - wet) / RUNS;
    out->tmax_wet += tmax_wet / wet / RUNS;
    out->tmin_wet += tmin_wet / wet / RUNS;
}

static int summarise(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++) {
        struct cy_weather runs[MOST_RUNS];
        struct dates dates = {0};
        for (int run = 0; run < RUNS; run++) {
            runs[run] = run_of(&PLACES[p].normals, run);
            add_means(&SUMMARIES[p], &dates, &runs[run]);
        }
        finish_means(&SUMMARIES[p], &dates);
        for (int run = 0; run < RUNS; run++) {
            add_deviations(&SUMMARIES[p], &dates, &runs[run]);
            cy_weather_dispose(&runs[run]);
        }
    }
    return 0;
}

static void monthly_temperatures_are_the_normals(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++) {
        for (int m = 0; m < 12; m++) {
            assert_near(SUMMARIES[p].tmin[m], PLACES[p].normals.tmin_c[m], 0.2);
            assert_near(SUMMARIES[p].tmax[m], PLACES[p].normals.tmax_c[m], 0.2);
        }
    }
}

/* Within 5 %; in months with a few wet days each, chance alone leaves more than that in a
 * thousand years, and four standard errors are allowed. */
static void monthly_rain_is_the_normal(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++) {
        for (int m = 0; m < 12; m++) {
            double normal = PLACES[p].normals.rain_mm[m];
            bool dry = normal < 50;
            assert_near(SUMMARIES[p].rain[m], normal,
                        dry ? fmax(0.05 * normal, 4 * SUMMARIES[p].rain_error[m]) : 0.05 * normal);
        }
    }
}

static void yearly_rain_is_the_normal(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++) {
        double made = 0, normal = 0;
        for (int m = 0; m < 12; m++) {
            made += SUMMARIES[p].rain[m];
            normal += PLACES[p].normals.rain_mm[m];
        }
        assert_near(made, normal, 0.02 * normal);
    }
}

static void minimum_stays_below_maximum(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++)
        assert_int_equal(SUMMARIES[p].broken, 0);
}

/* 0.65 is the placeholder of maker.c. */
static void warm_and_cold_persist(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++)
        assert_near(SUMMARIES[p].lag, 0.65, 0.02);
}

/* A spell's mean length is 1/(1 - chance that it goes on); the chain's persistence of 0.25 makes
 * it 1/0.75 as long as chance would, and rainy seasons add to that. */
static void wet_spells_are_longer_than_chance(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++) {
        const struct summary *made = &SUMMARIES[p];
        assert_true(made->wet > 0.1 && made->wet < 0.5);
        assert_true(1 / (1 - made->wet_after_wet) > 1.3 / (1 - made->wet));
    }
}

static void wet_days_are_cooler_and_their_nights_milder(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++) {
        assert_true(SUMMARIES[p].tmax_wet < -0.5);
        assert_true(SUMMARIES[p].tmin_wet > 0.5);
        assert_true(SUMMARIES[p].range_wet < -1);
        assert_true(SUMMARIES[p].range_dry > 0.3);
    }
}

static void winters_vary_more_than_summers(void **state)
{
    (void)state;
    for (size_t p = 0; p < PLACE_COUNT; p++)
        assert_true(SUMMARIES[p].spread[0] > SUMMARIES[p].spread[6]);
    /* and more where summer and winter lie far apart */
    assert_true(SUMMARIES[1].spread[0] > 1.3 * SUMMARIES[2].spread[0]);
    assert_true(SUMMARIES[1].spread[0] > 1.5 * SUMMARIES[1].spread[6]);
}

static struct cy_weather decade(const struct cy_normals *normals, uint64_t seed, uint64_t stream)
{
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, cy_day_of(2020, 1, 1), 3653), CY_OK);
    struct cy_random random;
    cy_random_seed(&random, seed, stream);
    cy_weather_make(&weather, normals, &random);
    return weather;
}

static bool same_weather(const struct cy_weather *a, const struct cy_weather *b)
{
    size_t size = (size_t)a->days * sizeof(double);
    return !memcmp(a->tmin_c, b->tmin_c, size) && !memcmp(a->tmax_c, b->tmax_c, size) &&
           !memcmp(a->rain_mm, b->rain_mm, size);
}

static void same_seed_same_weather(void **state)
{
    (void)state;
    const struct cy_normals *normals = &PLACES[0].normals;
    struct cy_weather one = decade(normals, 7, 3), again = decade(normals, 7, 3);
    struct cy_weather stream = decade(normals, 7, 4), seed = decade(normals, 8, 3);
    assert_true(same_weather(&one, &again));
    assert_false(same_weather(&one, &stream));
    assert_false(same_weather(&one, &seed));
    cy_weather_dispose(&one);
    cy_weather_dispose(&again);
    cy_weather_dispose(&stream);
    cy_weather_dispose(&seed);
}

static void no_rain_and_no_range_are_kept(void **state)
{
    (void)state;
    struct cy_normals flat = {{0}, {0}, {0}};
    for (int m = 0; m < 12; m++)
        flat.tmin_c[m] = flat.tmax_c[m] = 20;
    struct cy_weather weather = decade(&flat, 1, 0);
    for (int i = 0; i < weather.days; i++) {
        assert_near(weather.rain_mm[i], 0, 0);
        assert_near(weather.tmin_c[i], weather.tmax_c[i], 0);
        assert_true(isfinite(weather.tmin_c[i]));
    }
    cy_weather_dispose(&weather);
}

/* The wettest months on earth still leave dry days, and every fall a finite size. */
static void deluges_have_dry_days(void **state)
{
    (void)state;
    struct cy_normals wet = PLACES[0].normals;
    for (int m = 0; m < 12; m++)
        wet.rain_mm[m] = 2500;
    struct cy_weather weather = decade(&wet, 1, 0);
    int dry = 0;
    double rain = 0;
    for (int i = 0; i < weather.days; i++) {
        dry += weather.rain_mm[i] == 0;
        rain += weather.rain_mm[i];
    }
    assert_true(dry > weather.days / 5);
    assert_near(rain / 10, 12 * 2500, 0.05 * 12 * 2500);
    cy_weather_dispose(&weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(monthly_temperatures_are_the_normals),
        cmocka_unit_test(monthly_rain_is_the_normal),
        cmocka_unit_test(yearly_rain_is_the_normal),
        cmocka_unit_test(minimum_stays_below_maximum),
        cmocka_unit_test(warm_and_cold_persist),
        cmocka_unit_test(wet_spells_are_longer_than_chance),
        cmocka_unit_test(wet_days_are_cooler_and_their_nights_milder),
        cmocka_unit_test(winters_vary_more_than_summers),
        cmocka_unit_test(same_seed_same_weather),
        cmocka_unit_test(no_rain_and_no_range_are_kept),
        cmocka_unit_test(deluges_have_dry_days),
    };
    return cmocka_run_group_tests(tests, summarise, NULL);
}
