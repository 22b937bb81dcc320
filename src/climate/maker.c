/* SPDX-License-Identifier: MIT
 * The weather generator: a chain of wet and dry days, gamma amounts, temperatures with memory.
 *
 * The form is that of the usual daily generators (Richardson, Water Resources Research 17(1),
 * 1981; from memory): rain first, then the temperatures given wet or dry. The means come from
 * the normals; everything else below is a placeholder, chosen to look like the temperate places
 * where blackberries grow. Where "stations" are named, the figure was held against the days of
 * 2012 to 2015 at Seattle and New York (NOAA daily summaries, as in vega-datasets 2.11.0): two
 * places and four years, enough to catch a blunder and not enough to make it a finding. */
#include <caneyear/climate/maker.h>

#include <math.h>

/* Mean rain of a wet day in mm, from the month's total: dry months have small falls and few of
 * them. It also keeps the share of wet days under 0.67. Placeholder. */
#define WET_DAY_RAIN_MM 3.0
#define WET_DAY_RAIN_PER_MM 0.05

/* A wet day is this much likelier after a wet day than after a dry one. Geng, Penning de Vries
 * and Supit, Agric. For. Meteorol. 36, 1986, have 0.25 (from memory, unread: a placeholder).
 * Stations, all seasons in one: 0.43 and 0.16. */
#define WET_PERSISTENCE 0.25

/* Shape of the gamma amounts: below 1, most falls are small. Placeholder. */
#define RAIN_SHAPE 0.75

/* Day-to-day correlation of what the daily mean and the daily range have above or below the
 * season's own. Placeholders; stations: 0.75 and 0.66, 0.30 and 0.13. */
#define MEAN_PERSISTENCE 0.65
#define RANGE_PERSISTENCE 0.3

/* Deviation of the daily mean in C: grows with the gap between the coldest and the warmest
 * month's mean, more so in the cold season, because a winter far from its summer has air of
 * both kinds near by. Spring and autumn are nearer to summer than to winter, so the excess of
 * the cold season falls faster than the warmth rises; last frosts hang on it. A place without
 * seasons gets the constants. Placeholders; stations: 3.1 and 5.2 in January, 2.2 and 3.2 in
 * April, 2.8 and 2.4 in July, 2.2 and 3.2 in October. */
#define COLD_SPREAD_C 1.6
#define COLD_SPREAD_PER_C 0.14
#define WARM_SPREAD_C 1.8
#define WARM_SPREAD_PER_C 0.025
#define COLD_POWER 1.5

/* Under a high sun a day warmer than its season is a clear one with a wide range, so that its
 * night is hardly warmer; in winter the two have nothing to do with one another. The sun runs
 * ahead of the air by about six weeks: the correlation of mean and range follows the warmth of so
 * many days later. Placeholders; stations: 0.54 and 0.52 in April, 0.78 and 0.48 in July, 0.19
 * and 0.01 in October, -0.03 and 0.10 in January. */
#define WARM_LEAN 0.65
#define SUN_AHEAD_DAYS 45

/* Deviation of the logarithm of the daily range, given wet or dry. Placeholder; stations: 0.38
 * and 0.35. */
#define RANGE_SPREAD 0.35

/* Cloud: a wet day's range is smaller than a dry one's by this share of the season's range,
 * half of it off the maximum and half onto the minimum. Placeholder; stations: 0.34 and 0.19. */
#define WET_RANGE_CUT 0.3

#define YEAR_DAYS 365

static const int MONTH_DAYS[12] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
static const int MONTH_START[12] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334};

/* What holds for each day of a year of 365 days; 29 February is a second 28th. */
struct climate {
    double mean_c[YEAR_DAYS], range_c[YEAR_DAYS];
    double spread_c[YEAR_DAYS];
    double lean[YEAR_DAYS];      /* correlation of mean and range */
    double wet_share[YEAR_DAYS]; /* chance of a wet day when nothing is known of the day before */
    double wet_after_dry[12], wet_after_wet[12];
    double fall_mm[12]; /* mean of a wet day */
};

struct state {
    bool wet;
    double mean, range; /* standard deviations away; the range's own, without its lean */
};

/* Cubic through b and c, sloped towards their neighbours a and d (Catmull and Rom, 1974). */
static double cubic(double a, double b, double c, double d, double t)
{
    double slope_b = (c - a) / 2, slope_c = (d - b) / 2;
    double t2 = t * t, t3 = t2 * t;
    return (2 * t3 - 3 * t2 + 1) * b + (t3 - 2 * t2 + t) * slope_b + (3 * t2 - 2 * t3) * c +
           (t3 - t2) * slope_c;
}

static void draw_curve(double out[YEAR_DAYS], const double knots[12])
{
    for (int m = 0; m < 12; m++) {
        int next = (m + 1) % 12, middle = MONTH_START[m] + MONTH_DAYS[m] / 2;
        int steps = (MONTH_DAYS[m] - MONTH_DAYS[m] / 2) + MONTH_DAYS[next] / 2;
        for (int i = 0; i < steps; i++)
            out[(middle + i) % YEAR_DAYS] = cubic(knots[(m + 11) % 12], knots[m], knots[next],
                                                  knots[(m + 2) % 12], (double)i / steps);
    }
}

static double month_mean(const double curve[YEAR_DAYS], int m)
{
    double sum = 0;
    for (int i = 0; i < MONTH_DAYS[m]; i++)
        sum += curve[MONTH_START[m] + i];
    return sum / MONTH_DAYS[m];
}

/* A smooth year whose monthly means are `normals`. A curve through the normals would cut off
 * every summer and winter, so the knots are pushed out until the means come right; each pass
 * leaves about a third of the error. */
static void season_curve(double out[YEAR_DAYS], const double normals[12])
{
    double knots[12];
    for (int m = 0; m < 12; m++)
        knots[m] = normals[m];
    draw_curve(out, knots);
    for (int pass = 0; pass < 16; pass++) {
        for (int m = 0; m < 12; m++)
            knots[m] += normals[m] - month_mean(out, m);
        draw_curve(out, knots);
    }
}

/* Where a day's mean stands between the coldest month's, 0, and the warmest's, 1. */
static double warmth_of(const struct climate *climate, int day, double coldest, double annual)
{
    double warmth = annual > 0 ? (climate->mean_c[day] - coldest) / annual : 0.5;
    return fmin(fmax(warmth, 0), 1);
}

static void set_temperatures(struct climate *climate, const struct cy_normals *normals)
{
    double mean[12], range[12], coldest = INFINITY, warmest = -INFINITY;
    for (int m = 0; m < 12; m++) {
        mean[m] = (normals->tmin_c[m] + normals->tmax_c[m]) / 2;
        range[m] = normals->tmax_c[m] - normals->tmin_c[m];
        coldest = fmin(coldest, mean[m]);
        warmest = fmax(warmest, mean[m]);
    }
    season_curve(climate->mean_c, mean);
    season_curve(climate->range_c, range);
    double annual = warmest - coldest;
    double cold_spread = COLD_SPREAD_C + COLD_SPREAD_PER_C * annual;
    double warm_spread = WARM_SPREAD_C + WARM_SPREAD_PER_C * annual;
    for (int i = 0; i < YEAR_DAYS; i++) {
        double warmth = warmth_of(climate, i, coldest, annual);
        double later = warmth_of(climate, (i + SUN_AHEAD_DAYS) % YEAR_DAYS, coldest, annual);
        climate->spread_c[i] =
            warm_spread + pow(1 - warmth, COLD_POWER) * (cold_spread - warm_spread);
        climate->lean[i] = WARM_LEAN * later;
        climate->range_c[i] = fmax(climate->range_c[i], 0);
    }
}

/* The chance of each day follows from the chain itself, the year run round twice, so that
 * amounts and ranges can be set against it and the monthly means stay the normals. */
static void set_rain(struct climate *climate, const struct cy_normals *normals)
{
    for (int m = 0; m < 12; m++) {
        double per_wet_day = WET_DAY_RAIN_MM + WET_DAY_RAIN_PER_MM * normals->rain_mm[m];
        double share = normals->rain_mm[m] / MONTH_DAYS[m] / per_wet_day;
        climate->wet_after_dry[m] = (1 - WET_PERSISTENCE) * share;
        climate->wet_after_wet[m] = climate->wet_after_dry[m] + WET_PERSISTENCE;
    }
    double share = 0;
    for (int year = 0; year < 2; year++) {
        for (int m = 0; m < 12; m++) {
            double wet_days = 0;
            for (int i = 0; i < MONTH_DAYS[m]; i++) {
                share = climate->wet_after_dry[m] + WET_PERSISTENCE * share;
                climate->wet_share[MONTH_START[m] + i] = share;
                wet_days += share;
            }
            climate->fall_mm[m] = wet_days > 0 ? normals->rain_mm[m] / wet_days : 0;
        }
    }
}

static double step(struct cy_random *random, double value, double persistence)
{
    return persistence * value + sqrt(1 - persistence * persistence) * cy_random_normal(random);
}

static void make_day(struct cy_weather *out, int index, const struct climate *climate, int month,
                     int year_day, const struct state *state, struct cy_random *random)
{
    double share = climate->wet_share[year_day];
    double cloud = 1 - WET_RANGE_CUT * ((state->wet ? 1 : 0) - share);
    double lean = climate->lean[year_day];
    double wider = lean * state->mean + sqrt(1 - lean * lean) * state->range;
    /* Less half its variance, so that the mean of the exponential is 1. */
    double swing = exp(RANGE_SPREAD * wider - RANGE_SPREAD * RANGE_SPREAD / 2);
    double range = climate->range_c[year_day] * cloud * swing;
    double mean = climate->mean_c[year_day] + climate->spread_c[year_day] * state->mean;
    out->tmin_c[index] = mean - range / 2;
    out->tmax_c[index] = mean + range / 2;
    out->rain_mm[index] =
        state->wet ? climate->fall_mm[month] / RAIN_SHAPE * cy_random_gamma(random, RAIN_SHAPE) : 0;
    out->origin[index] = CY_ORIGIN_MADE;
}

void cy_weather_make(struct cy_weather *out, const struct cy_normals *normals,
                     struct cy_random *random)
{
    struct climate climate;
    set_temperatures(&climate, normals);
    set_rain(&climate, normals);
    struct state state = {0};
    for (int i = 0; i < out->days; i++) {
        struct cy_date date = cy_day_date(out->first + i);
        int month = date.month - 1;
        int year_day =
            MONTH_START[month] + (date.day <= MONTH_DAYS[month] ? date.day : MONTH_DAYS[month]) - 1;
        if (i == 0) {
            state.wet = cy_random_uniform(random) < climate.wet_share[year_day];
            state.mean = cy_random_normal(random);
            state.range = cy_random_normal(random);
        } else {
            state.wet = cy_random_uniform(random) <
                        (state.wet ? climate.wet_after_wet[month] : climate.wet_after_dry[month]);
            state.mean = step(random, state.mean, MEAN_PERSISTENCE);
            state.range = step(random, state.range, RANGE_PERSISTENCE);
        }
        make_day(out, i, &climate, month, year_day, &state, random);
    }
}
