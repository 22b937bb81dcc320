/* SPDX-License-Identifier: MIT
 * Weather files in: which form it is, figures by the scale they must be in, days in order. */
#include "store/series_read.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <caneyear/base/array.h>
#include <caneyear/base/random.h>
#include <caneyear/base/stats.h>
#include <caneyear/base/text.h>

#include "store/series_rows.h"

enum { MOST_BYTES = 64 * 1024 * 1024, BYTES_A_TICK = 65536 };

const char *cy_station_scale_word(enum cy_station_scale scale)
{
    static const char *const words[] = {
#define SCALE(name, word) word,
        CY_STATION_SCALES(SCALE)
#undef SCALE
    };
    return words[scale];
}

const char *cy_series_figure_name(int figure)
{
    static const char *const names[CY_SERIES_FIGURES] = {"TMAX", "TMIN", "PRCP", "AWND",
                                                         "ADPT", "RHAV", "TSUN", "temperature"};
    return names[figure];
}

void cy_series_complain(struct cy_series_reading *r, size_t index, enum cy_issue_code code,
                        const char *field, const char *found, const char *allowed)
{
    cy_csv_complain(&r->csv, index, code, field, found, allowed);
    r->bad = true;
}

void cy_series_complain_row(struct cy_series_reading *r, const struct cy_series_row *row,
                            int figure, enum cy_issue_code code, const char *found,
                            const char *allowed)
{
    r->bad = true;
    if (!r->csv.issues)
        return;
    struct cy_issue *issue = cy_issue_add(r->csv.issues, code);
    cy_copy(issue->file, sizeof issue->file, r->csv.name);
    cy_copy(issue->field, sizeof issue->field, cy_series_figure_name(figure));
    cy_copy(issue->found, sizeof issue->found, found ? found : "");
    cy_copy(issue->allowed, sizeof issue->allowed, allowed);
    issue->line = row->line;
    issue->column = row->column[figure];
    issue->field_id = -1;
}

/* ---- rows ----------------------------------------------------------------------------------- */

bool cy_series_station_fits(struct cy_series_reading *r, const char *name, size_t index)
{
    const char *wanted = r->options->station;
    if (wanted && !cy_word_is(name, strlen(name), wanted))
        return false;
    if (r->report.station[0] == '\0')
        cy_copy(r->report.station, sizeof r->report.station, name);
    char kept[sizeof r->report.station];
    cy_copy(kept, sizeof kept, name);
    if (!wanted && !cy_streq(kept, r->report.station) && !r->bad) {
        struct cy_text found = {0};
        cy_text_add(&found, "the figures of ");
        cy_text_add(&found, r->report.station);
        cy_text_add(&found, " and ");
        cy_text_add(&found, kept);
        cy_series_complain(r, index, CY_ISSUE_PAIR, NULL, cy_text_get(&found),
                           "a file holds one station");
        cy_text_dispose(&found);
    }
    return true;
}

int cy_series_add_row(struct cy_series_reading *r, const struct cy_series_row *row)
{
    if (r->count == CY_SERIES_MOST_ROWS) {
        cy_series_complain(r, 0, CY_ISSUE_TOO_LARGE, NULL, "the file", "2000000 lines");
        return CY_INVALID;
    }
    if (!cy_grow(&r->rows, &r->capacity, r->count, sizeof *r->rows))
        return CY_NO_MEMORY;
    r->rows[r->count++] = *row;
    return CY_OK;
}

int cy_series_tick(struct cy_series_reading *r)
{
    if (!r->options->progress || r->csv.at < r->next_tick)
        return CY_OK;
    double share = (double)(r->csv.at - r->begin) / (double)(r->csv.end - r->begin);
    r->next_tick = r->csv.end - r->csv.at > BYTES_A_TICK ? r->csv.at + BYTES_A_TICK : r->csv.end;
    return r->options->progress(share, r->options->payload) ? CY_OK : CY_CANCELLED;
}

/* The figures of a day that stand on several lines come together in its first row; rows without
 * any are dropped. For the fixed-width form, whose lines may come in any order. */
static void join_rows(struct cy_series_reading *r)
{
    size_t kept = 0;
    for (size_t i = 0; i < r->count; i++) {
        struct cy_series_row *row = &r->rows[i], *last = kept > 0 ? &r->rows[kept - 1] : NULL;
        bool joins = last && last->day == row->day, any = false;
        for (int f = 0; f < CY_SERIES_FIGURES; f++) {
            any |= !isnan(row->figure[f]);
            joins &= isnan(row->figure[f]) || !last || isnan(last->figure[f]);
        }
        for (int f = 0; f < CY_SERIES_FIGURES && joins; f++) {
            if (isnan(row->figure[f]))
                continue;
            last->figure[f] = row->figure[f];
            last->column[f] = row->column[f];
        }
        if (any && !joins)
            r->rows[kept++] = *row;
    }
    r->count = kept;
}

/* ---- order ---------------------------------------------------------------------------------- */

static int by_time(const void *a, const void *b)
{
    const struct cy_series_row *x = a, *y = b;
    if (x->day != y->day)
        return x->day < y->day ? -1 : 1;
    if (x->hour != y->hour)
        return x->hour < y->hour ? -1 : 1;
    return (x->line > y->line) - (x->line < y->line);
}

static bool is_sorted(const struct cy_series_reading *r)
{
    for (size_t i = 1; i < r->count; i++)
        if (by_time(&r->rows[i - 1], &r->rows[i]) > 0)
            return false;
    return true;
}

static void sort_rows(struct cy_series_reading *r)
{
    if (!is_sorted(r))
        qsort(r->rows, r->count, sizeof *r->rows, by_time);
    if (r->fixed)
        join_rows(r);
}

static void check_order(struct cy_series_reading *r)
{
    for (size_t i = 1; i < r->count; i++) {
        const struct cy_series_row *row = &r->rows[i], *first = row - 1;
        if (row->day != first->day || row->hour != first->hour)
            continue;
        struct cy_text found = {0}, line = {0};
        cy_text_add_day(&found, row->day);
        cy_text_add_int(&line, first->line);
        cy_series_complain_row(r, row, r->hourly ? CY_SERIES_TEMP : CY_SERIES_MAX,
                               CY_ISSUE_DUPLICATE_KEY, cy_text_get(&found), cy_text_get(&line));
        cy_text_dispose(&found);
        cy_text_dispose(&line);
    }
    if (r->rows[r->count - 1].day - r->rows[0].day >= CY_SERIES_MOST_DAYS)
        cy_series_complain_row(r, &r->rows[r->count - 1],
                               r->hourly ? CY_SERIES_TEMP : CY_SERIES_MAX, CY_ISSUE_TOO_LARGE,
                               "the span of the days", "150000 days");
}

/* ---- the scale ------------------------------------------------------------------------------ */

/* What the figures look like. */
struct look {
    bool temps_whole, rain_hundredths, rain_tenths;
    double most, median_max;
};

static bool is_whole(double value)
{
    return fabs(value - round(value)) < 1e-6;
}

static bool is_temperature(int figure)
{
    return figure == CY_SERIES_MAX || figure == CY_SERIES_MIN || figure == CY_SERIES_TEMP;
}

static int look_at(struct look *look, const struct cy_series_reading *r)
{
    size_t count = 0;
    double *maxima = cy_zeroed(r->count, sizeof *maxima);
    if (!maxima)
        return CY_NO_MEMORY;
    *look = (struct look){.temps_whole = true};
    for (size_t i = 0; i < r->count; i++) {
        const double *figure = r->rows[i].figure;
        for (int f = 0; f < CY_SERIES_FIGURES; f++) {
            if (!is_temperature(f) || isnan(figure[f]))
                continue;
            look->temps_whole &= is_whole(figure[f]);
            look->most = fmax(look->most, figure[f]);
        }
        if (!isnan(figure[CY_SERIES_MAX]))
            maxima[count++] = figure[CY_SERIES_MAX];
        look->rain_hundredths |=
            !isnan(figure[CY_SERIES_RAIN]) && !is_whole(10 * figure[CY_SERIES_RAIN]);
        look->rain_tenths |= !isnan(figure[CY_SERIES_RAIN]) && !is_whole(figure[CY_SERIES_RAIN]);
    }
    cy_sort(maxima, count);
    look->median_max = cy_quantile(maxima, count, 0.5);
    free(maxima);
    return CY_OK;
}

/* Tenths are whole and soon beyond 130; no air was ever warmer than 57 C; Fahrenheit comes in
 * whole degrees with rain in hundredths of an inch; half of all days above 40 are in Fahrenheit,
 * or in tenths of a cold season. What is left is most likely metric, and unsure. */
static enum cy_station_scale guess_scale(bool *sure, const struct look *look)
{
    *sure = true;
    if (look->temps_whole && look->most > 130)
        return CY_STATION_TENTHS;
    if (look->most > 57 || look->median_max >= 40) {
        *sure = !look->temps_whole || look->rain_hundredths;
        return CY_STATION_US;
    }
    if (!look->temps_whole)
        return CY_STATION_METRIC;
    *sure = false;
    return look->rain_hundredths ? CY_STATION_US : CY_STATION_METRIC;
}

static double in_celsius(double value, enum cy_station_scale scale)
{
    switch (scale) {
    case CY_STATION_US:
        return (value - 32) / 1.8;
    case CY_STATION_TENTHS:
        return value / 10;
    default:
        return value;
    }
}

static double in_mm(double value, enum cy_station_scale scale)
{
    switch (scale) {
    case CY_STATION_US:
        return value * 25.4;
    case CY_STATION_TENTHS:
        return value / 10;
    default:
        return value;
    }
}

static double in_metres_a_second(double value, enum cy_station_scale scale)
{
    switch (scale) {
    case CY_STATION_US:
        return value * 0.44704;
    case CY_STATION_TENTHS:
        return value / 10;
    default:
        return value;
    }
}

/* What a figure may be, inside; per cent and minutes are the same on every scale. */
static const struct {
    double low, high;
    const char *allowed;
    double (*inside)(double value, enum cy_station_scale scale); /* NULL: as it is */
} bounds[CY_SERIES_FIGURES] = {
    [CY_SERIES_MAX] = {-90, 60, "-90 to 60 C", in_celsius},
    [CY_SERIES_MIN] = {-90, 60, "-90 to 60 C", in_celsius},
    [CY_SERIES_RAIN] = {0, 2000, "0 to 2000 mm", in_mm},
    [CY_SERIES_WIND] = {0, 75, "0 to 75 m/s", in_metres_a_second},
    [CY_SERIES_DEW] = {-90, 40, "-90 to 40 C", in_celsius},
    [CY_SERIES_HUMIDITY] = {0, 100, "0 to 100 %", NULL},
    [CY_SERIES_SUN] = {0, 1440, "0 to 1440 minutes", NULL},
    [CY_SERIES_TEMP] = {-90, 60, "-90 to 60 C", in_celsius},
};

static void check_row(struct cy_series_reading *r, struct cy_series_row *row)
{
    for (int f = 0; f < CY_SERIES_FIGURES; f++) {
        if (isnan(row->figure[f]))
            continue;
        double value =
            bounds[f].inside ? bounds[f].inside(row->figure[f], r->report.scale) : row->figure[f];
        if (value < bounds[f].low || value > bounds[f].high) {
            struct cy_text found = {0};
            cy_text_add_number(&found, row->figure[f]);
            cy_series_complain_row(r, row, f, CY_ISSUE_OUT_OF_RANGE, cy_text_get(&found),
                                   bounds[f].allowed);
            cy_text_dispose(&found);
        }
        row->figure[f] = value;
    }
    if (row->figure[CY_SERIES_MIN] > row->figure[CY_SERIES_MAX])
        cy_series_complain_row(r, row, CY_SERIES_MIN, CY_ISSUE_PAIR,
                               "the minimum is above the maximum", "TMIN no higher than TMAX");
}

static int scale_rows(struct cy_series_reading *r)
{
    struct look look;
    int status = look_at(&look, r);
    if (status)
        return status;
    r->report.scale = r->fixed ? CY_STATION_TENTHS : r->options->scale;
    r->report.sure = true;
    if (r->report.scale == CY_STATION_GUESSED)
        r->report.scale = guess_scale(&r->report.sure, &look);
    /* Files with marks mostly come in tenths, and a cold season's tenths look like Fahrenheit. */
    if (!r->fixed && r->options->scale == CY_STATION_GUESSED && r->report.scale == CY_STATION_US)
        r->report.sure &= !r->has[CY_SERIES_MAX_MARKS];
    for (size_t i = 0; i < r->count; i++)
        check_row(r, &r->rows[i]);
    return CY_OK;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static int read_form(struct cy_series_reading *r)
{
    enum cy_station_scale scale = r->options->scale;
    r->fixed = cy_series_is_dly(r->csv.at, (size_t)(r->csv.end - r->csv.at));
    r->report.is_fixed = r->fixed;
    if (!r->fixed)
        return cy_series_read_csv(r);
    if (scale == CY_STATION_GUESSED || scale == CY_STATION_TENTHS)
        return cy_series_read_dly(r);
    cy_series_complain(r, 0, CY_ISSUE_PAIR, NULL, cy_station_scale_word(scale),
                       "the fixed-width form is in tenths");
    return CY_INVALID;
}

static int read_all(struct cy_series *out, struct cy_series_reading *r)
{
    int status = read_form(r);
    if (status == CY_OK && r->count == 0 && !r->bad)
        cy_series_complain(r, 0, CY_ISSUE_MISSING, NULL, NULL,
                           r->options->station ? "lines of the station asked for"
                           : r->fixed          ? "lines of TMAX and TMIN"
                                               : "lines behind the header");
    if (status != CY_OK || r->bad)
        return status != CY_OK ? status : CY_INVALID;
    sort_rows(r);
    if (r->count == 0)
        cy_series_complain(r, 0, CY_ISSUE_MISSING, NULL, NULL, "temperatures on some day");
    else
        check_order(r);
    r->report.rows = (int)r->count;
    status = r->bad ? CY_INVALID : scale_rows(r);
    if (status != CY_OK || r->bad)
        return status != CY_OK ? status : CY_INVALID;
    return r->hourly ? cy_series_make_hours(out, r) : cy_series_make_days(&out->daily, r);
}

int cy_series_parse(struct cy_series *out, const char *name, const char *bytes, size_t length,
                    const struct cy_station_options *options, struct cy_issues *issues)
{
    static const struct cy_station_options usual = {0};
    struct cy_series_reading r = {.options = options ? options : &usual};
    *out = (struct cy_series){0};
    r.report.gap_from = CY_DAY_NONE;
    r.report.hash = cy_hash(CY_HASH_START, bytes, length);
    cy_csv_begin(&r.csv, name, bytes, length, issues);
    r.begin = r.next_tick = r.csv.at;
    int status = CY_INVALID;
    if (length > 0 && memchr(bytes, '\0', length))
        cy_series_complain(&r, 0, CY_ISSUE_SYNTAX, NULL, "this is no text",
                           "a station's days as text");
    else
        status = read_all(out, &r);
    out->report = r.report;
    free(r.rows);
    cy_csv_dispose(&r.csv);
    if (status != CY_OK)
        cy_series_dispose(out);
    return status;
}

void cy_series_dispose(struct cy_series *series)
{
    cy_weather_dispose(&series->daily);
    free(series->temp_c);
    *series = (struct cy_series){0};
}

static int daily_only(struct cy_weather *out, struct cy_station_report *report, int status,
                      struct cy_series *series, const char *name, struct cy_issues *issues)
{
    *out = (struct cy_weather){0};
    if (status == CY_OK && series->is_hourly) {
        if (issues) {
            struct cy_issue *issue = cy_issue_add(issues, CY_ISSUE_MISSING);
            cy_copy(issue->file, sizeof issue->file, name);
            cy_copy(issue->found, sizeof issue->found, "hourly temperatures");
            cy_copy(issue->allowed, sizeof issue->allowed, "a header with DATE, TMAX and TMIN");
        }
        status = CY_INVALID;
    }
    if (report)
        *report = series->report;
    if (status == CY_OK) {
        *out = series->daily;
        series->daily = (struct cy_weather){0};
    }
    cy_series_dispose(series);
    return status;
}

int cy_station_parse(struct cy_weather *out, struct cy_station_report *report, const char *name,
                     const char *bytes, size_t length, const struct cy_station_options *options,
                     struct cy_issues *issues)
{
    struct cy_series series;
    int status = cy_series_parse(&series, name, bytes, length, options, issues);
    return daily_only(out, report, status, &series, name, issues);
}

/* ---- from a file ---------------------------------------------------------------------------- */

static const char *fill_bytes(char *bytes, size_t size, size_t *length, int file)
{
    while (*length < size) {
        ssize_t got = read(file, bytes + *length, size - *length);
        if (got == 0)
            return NULL;
        if (got > 0)
            *length += (size_t)got;
        else if (errno != EINTR)
            return strerror(errno);
    }
    return "it is larger than 64 MB";
}

/* The bytes of a regular file (a pipe would make us wait); NULL with a reason. */
static char *read_bytes(const char *path, size_t *length, const char **reason)
{
    struct stat about;
    char *bytes = NULL;
    *length = 0;
    *reason = NULL;
    int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (file < 0 || fstat(file, &about) != 0) {
        *reason = strerror(errno);
    } else if (!S_ISREG(about.st_mode)) {
        *reason = S_ISDIR(about.st_mode) ? "it is a folder" : "it is not a regular file";
    } else if (about.st_size > MOST_BYTES) {
        *reason = "it is larger than 64 MB";
    } else {
        size_t size = (size_t)about.st_size + 1; /* one more tells a file that is still growing */
        bytes = malloc(size);
        *reason = bytes ? fill_bytes(bytes, size, length, file) : "out of memory";
    }
    if (file >= 0)
        close(file);
    if (*reason) {
        free(bytes);
        bytes = NULL;
    }
    return bytes;
}

int cy_series_read(struct cy_series *out, const char *path,
                   const struct cy_station_options *options, struct cy_issues *issues)
{
    size_t length;
    const char *reason;
    char *bytes = read_bytes(path, &length, &reason);
    *out = (struct cy_series){0};
    if (!bytes) {
        if (issues) {
            struct cy_issue *issue = cy_issue_add(issues, CY_ISSUE_NOT_READABLE);
            cy_copy(issue->file, sizeof issue->file, path);
            cy_copy(issue->found, sizeof issue->found, reason);
        }
        return CY_FAILED;
    }
    int status = cy_series_parse(out, path, bytes, length, options, issues);
    free(bytes);
    return status;
}

int cy_station_read(struct cy_weather *out, struct cy_station_report *report, const char *path,
                    const struct cy_station_options *options, struct cy_issues *issues)
{
    struct cy_series series;
    int status = cy_series_read(&series, path, options, issues);
    return daily_only(out, report, status, &series, path, issues);
}
