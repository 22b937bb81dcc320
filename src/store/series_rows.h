/* SPDX-License-Identifier: MIT
 * What the readers of weather files share: rows of figures as a file gives them. */
#ifndef STORE_SERIES_ROWS_H
#define STORE_SERIES_ROWS_H

#include <stdbool.h>
#include <stddef.h>

#include "store/csv.h"
#include "store/series_read.h"

enum {
    CY_SERIES_MOST_ROWS = 2000000, /* two centuries of hours */
    CY_SERIES_MOST_DAYS = 150000
};

/* What a column may hold, and the names it goes by. Of the archive's elements (its readme, section
 * III; those behind rain from memory): mean wind, mean dew point, mean relative humidity in per
 * cent, sunshine in minutes. */
#define CY_SERIES_COLUMNS(COLUMN)                                                                  \
    COLUMN(MAX, "tmax temp_max")                                                                   \
    COLUMN(MIN, "tmin temp_min")                                                                   \
    COLUMN(RAIN, "prcp precipitation")                                                             \
    COLUMN(WIND, "awnd")                                                                           \
    COLUMN(DEW, "adpt")                                                                            \
    COLUMN(HUMIDITY, "rhav")                                                                       \
    COLUMN(SUN, "tsun")                                                                            \
    COLUMN(TEMP, "temperature temp")                                                               \
    COLUMN(DATE, "date")                                                                           \
    COLUMN(STATION, "station location")                                                            \
    COLUMN(MAX_MARKS, "tmax_attributes")                                                           \
    COLUMN(MIN_MARKS, "tmin_attributes")                                                           \
    COLUMN(RAIN_MARKS, "prcp_attributes")                                                          \
    COLUMN(WIND_MARKS, "awnd_attributes")                                                          \
    COLUMN(DEW_MARKS, "adpt_attributes")                                                           \
    COLUMN(HUMIDITY_MARKS, "rhav_attributes")                                                      \
    COLUMN(SUN_MARKS, "tsun_attributes")

enum cy_series_column {
#define COLUMN(name, words) CY_SERIES_##name,
    CY_SERIES_COLUMNS(COLUMN)
#undef COLUMN
        CY_SERIES_COLUMN_COUNT
};
enum { CY_SERIES_FIGURES = CY_SERIES_TEMP + 1 }; /* the first columns are the figures */

struct cy_series_row {
    cy_day day;
    int hour, line;
    double figure[CY_SERIES_FIGURES]; /* NAN where there is none */
    int column[CY_SERIES_FIGURES];
};

struct cy_series_reading {
    struct cy_csv csv; /* of the fixed-width form only its place and name are used */
    const struct cy_station_options *options;
    struct cy_station_report report;
    bool has[CY_SERIES_COLUMN_COUNT], hourly, fixed, bad;
    size_t at[CY_SERIES_COLUMN_COUNT];
    struct cy_series_row *rows;
    size_t count, capacity;
    const char *begin, *next_tick;
};

/* ---- series_read.c ---- */
const char *cy_series_figure_name(int figure);
/* Each marks the reading as bad. The first is about a field of the record in hand. */
void cy_series_complain(struct cy_series_reading *r, size_t index, enum cy_issue_code code,
                        const char *field, const char *found, const char *allowed);
void cy_series_complain_row(struct cy_series_reading *r, const struct cy_series_row *row,
                            int figure, enum cy_issue_code code, const char *found,
                            const char *allowed);
/* False for a row of a station that is not asked for; `index` is the field that names it. */
bool cy_series_station_fits(struct cy_series_reading *r, const char *name, size_t index);
int cy_series_add_row(struct cy_series_reading *r, const struct cy_series_row *row);
/* CY_CANCELLED where the caller has had enough; asks now and then only. */
int cy_series_tick(struct cy_series_reading *r);

/* ---- series_csv.c ---- */
int cy_series_read_csv(struct cy_series_reading *r);

/* ---- series_dly.c ---- */
/* Whether the bytes begin with a line of the fixed-width form. */
bool cy_series_is_dly(const char *bytes, size_t length);
int cy_series_read_dly(struct cy_series_reading *r);

/* ---- series_days.c ---- */
/* The rows, sorted and in C and mm, as a run of days or of hours. */
int cy_series_make_days(struct cy_weather *out, struct cy_series_reading *r);
int cy_series_make_hours(struct cy_series *out, struct cy_series_reading *r);

#endif
