/* SPDX-License-Identifier: MIT
 * Weather files in: daily minima and maxima with rain, or hourly temperatures. The form of a file
 * is told by its content.
 *
 * Comma-separated, columns found by their names. Daily: DATE with TMAX and TMIN, PRCP where there
 * is any (the daily summaries of NOAA's National Centers for Environmental Information), or date,
 * temp_max, temp_min, precipitation. Hourly: date with temperature. Other columns are passed over.
 *
 * Fixed-width (.dly of the same centres): a line for each station, month and element, in tenths;
 * TMAX, TMIN and PRCP are read, other elements passed over. */
#ifndef STORE_SERIES_READ_H
#define STORE_SERIES_READ_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <caneyear/base/issue.h>
#include <caneyear/climate/weather.h>

/* SCALE(name, word): what the figures of a file are in. Such files do not say. */
#define CY_STATION_SCALES(SCALE)                                                                   \
    SCALE(GUESSED, "guessed")                                                                      \
    SCALE(METRIC, "C and mm")                                                                      \
    SCALE(US, "F and inches")                                                                      \
    SCALE(TENTHS, "tenths of C and of mm")

enum cy_station_scale {
#define SCALE(name, word) CY_STATION_##name,
    CY_STATION_SCALES(SCALE)
#undef SCALE
        CY_STATION_SCALE_COUNT
};

const char *cy_station_scale_word(enum cy_station_scale scale);

/* Zero-initialise for the usual. */
struct cy_station_options {
    enum cy_station_scale scale;
    const char *station; /* only this station or location of several; NULL where there is one */
    bool as_read;        /* fill nothing: what lacks is NAN, from the first whole day to the last */
    cy_progress progress; /* or NULL */
    void *payload;
};

struct cy_station_sample {
    cy_day day;
    double tmin_c, tmax_c, rain_mm;
};

/* What was read and what was not, to be shown before it is believed. */
struct cy_station_report {
    char station[64];
    bool is_fixed;               /* the fixed-width form */
    uint64_t hash;               /* FNV-1a of the file's bytes */
    enum cy_station_scale scale; /* in force */
    bool sure;                   /* it was given, or the figures leave no doubt */
    int rows, days;              /* days: from the first to the last, gaps included */
    int filled_temps;            /* days without one or both temperatures (as_read: not filled) */
    int filled_rain;             /* days without rain, taken as dry (as_read: NAN) */
    int longest_gap;             /* days in a row without temperatures */
    cy_day gap_from;             /* where it begins; CY_DAY_NONE without one */
    int dropped;                 /* values that the service marked as bad */
    int traces;                  /* rain too little to measure */
    struct cy_station_sample samples[3];
    int sample_count;
};

/* Either `daily` or, with is_hourly, `temp_c`: 24 for each day, NAN where there is none. */
struct cy_series {
    bool is_hourly;
    struct cy_weather daily;
    cy_day first;
    int days;
    double *temp_c;
    struct cy_station_report report; /* of an hourly file: station, scale, sure, rows, days */
};

/* Daily weather without a hole: days in which a temperature lacks are marked filled. They lie
 * straight between their neighbours, in gaps of more than ten days on the mean of the same
 * calendar day in other years where there are any. Anything but CY_OK leaves *out empty, with
 * issues that name line and column, or with none where the callback said stop (CY_CANCELLED).
 * `options` and `report` may be NULL. */
int cy_station_read(struct cy_weather *out, struct cy_station_report *report, const char *path,
                    const struct cy_station_options *options, struct cy_issues *issues);
/* The same from bytes in memory; `name` stands for the file in issues. */
int cy_station_parse(struct cy_weather *out, struct cy_station_report *report, const char *name,
                     const char *bytes, size_t length, const struct cy_station_options *options,
                     struct cy_issues *issues);

/* Either kind of file. */
int cy_series_read(struct cy_series *out, const char *path,
                   const struct cy_station_options *options, struct cy_issues *issues);
int cy_series_parse(struct cy_series *out, const char *name, const char *bytes, size_t length,
                    const struct cy_station_options *options, struct cy_issues *issues);
void cy_series_dispose(struct cy_series *series);

#endif
