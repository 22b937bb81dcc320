/* SPDX-License-Identifier: MIT
 * Weather files in: columns by name, figures by the scale they must be in, gaps filled. */
#include "store/series_read.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <caneyear/base/array.h>
#include <caneyear/base/number.h>
#include <caneyear/base/stats.h>
#include <caneyear/base/text.h>

#include "store/csv.h"

enum {
    MOST_BYTES = 64 * 1024 * 1024,
    MOST_ROWS = 2000000, /* two centuries of hours */
    MOST_DAYS = 150000,
    LONG_GAP = 10 /* days; beyond it the season counts for more than the neighbours */
};

/* What a column may hold, and the names it goes by. */
#define COLUMNS(COLUMN)                                                                            \
    COLUMN(MAX, "tmax temp_max")                                                                   \
    COLUMN(MIN, "tmin temp_min")                                                                   \
    COLUMN(RAIN, "prcp precipitation")                                                             \
    COLUMN(TEMP, "temperature temp")                                                               \
    COLUMN(DATE, "date")                                                                           \
    COLUMN(STATION, "station location")                                                            \
    COLUMN(MAX_MARKS, "tmax_attributes")                                                           \
    COLUMN(MIN_MARKS, "tmin_attributes")                                                           \
    COLUMN(RAIN_MARKS, "prcp_attributes")

enum column {
#define COLUMN(name, words) name,
    COLUMNS(COLUMN)
#undef COLUMN
        COLUMN_COUNT
};
enum { FIGURES = TEMP + 1 }; /* the first columns are the figures */

static const char *const column_words[] = {
#define COLUMN(name, words) words,
    COLUMNS(COLUMN)
#undef COLUMN
};

static const char *const column_names[FIGURES] = {"TMAX", "TMIN", "PRCP", "temperature"};

struct row {
    cy_day day;
    int hour, line;
    double figure[FIGURES]; /* NAN where there is none */
    int column[FIGURES];
};

struct reading {
    struct cy_csv csv;
    const struct cy_station_options *options;
    struct cy_station_report report;
    bool has[COLUMN_COUNT], hourly, bad;
    size_t at[COLUMN_COUNT];
    struct row *rows;
    size_t count, capacity;
};

const char *cy_station_scale_word(enum cy_station_scale scale)
{
    static const char *const words[] = {
#define SCALE(name, word) word,
        CY_STATION_SCALES(SCALE)
#undef SCALE
    };
    return words[scale];
}

static void complain(struct reading *r, size_t index, enum cy_issue_code code, const char *field,
                     const char *found, const char *allowed)
{
    cy_csv_complain(&r->csv, index, code, field, found, allowed);
    r->bad = true;
}

static void complain_row(struct reading *r, const struct row *row, int figure,
                         enum cy_issue_code code, const char *found, const char *allowed)
{
    r->bad = true;
    if (!r->csv.issues)
        return;
    struct cy_issue *issue = cy_issue_add(r->csv.issues, code);
    cy_copy(issue->file, sizeof issue->file, r->csv.name);
    cy_copy(issue->field, sizeof issue->field, column_names[figure]);
    cy_copy(issue->found, sizeof issue->found, found ? found : "");
    cy_copy(issue->allowed, sizeof issue->allowed, allowed);
    issue->line = row->line;
    issue->column = row->column[figure];
    issue->field_id = -1;
}

/* ---- the header ----------------------------------------------------------------------------- */

static bool goes_by(const char *name, const char *words)
{
    while (*words) {
        char word[32];
        size_t length = strcspn(words, " ");
        cy_copy_n(word, sizeof word, words, length);
        if (cy_word_is(name, strlen(name), word))
            return true;
        words += length;
        words += strspn(words, " ");
    }
    return false;
}

static int read_header(struct reading *r)
{
    int status = cy_csv_next(&r->csv);
    if (status < 0)
        return status;
    if (status == 0) {
        complain(r, 0, CY_ISSUE_EMPTY_FILE, NULL, NULL, "DATE,TMAX,TMIN,PRCP");
        return CY_INVALID;
    }
    for (size_t i = 0; i < r->csv.count; i++) {
        const char *name = cy_csv_field(&r->csv, i);
        for (int c = 0; c < COLUMN_COUNT; c++) {
            if (!goes_by(name, column_words[c]))
                continue;
            if (r->has[c])
                complain(r, i, CY_ISSUE_PAIR, name, "two columns of one kind", "one of them");
            r->has[c] = true;
            r->at[c] = i;
        }
    }
    r->hourly = r->has[TEMP] && !(r->has[MAX] && r->has[MIN]);
    if (!r->has[DATE] || !(r->hourly || (r->has[MAX] && r->has[MIN])))
        complain(r, 0, CY_ISSUE_MISSING, NULL, NULL,
                 "a header with DATE, TMAX and TMIN, or with date and temperature");
    return r->bad ? CY_INVALID : CY_OK;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static bool take_two(int *out, const char *text, int most)
{
    if (text[0] < '0' || text[0] > '9' || text[1] < '0' || text[1] > '9')
        return false;
    *out = 10 * (text[0] - '0') + (text[1] - '0');
    return *out <= most;
}

/* A day, for hours with "Thh:00" or " hh:00" and zero seconds behind it. */
static bool read_date(struct row *row, const char *text, bool hourly)
{
    size_t length = strlen(text);
    int minute, second;
    if (length < 10 || !cy_day_parse(&row->day, text, 10))
        return false;
    if (!hourly) /* a day may carry a midnight along */
        return length == 10 || cy_streq(text + 10, "T00:00:00") || cy_streq(text + 10, " 00:00");
    if ((length != 16 && length != 19) || !strchr("T ", text[10]) || text[13] != ':' ||
        !take_two(&row->hour, text + 11, 23) || !take_two(&minute, text + 14, 0))
        return false;
    return length == 16 || (text[16] == ':' && take_two(&second, text + 17, 0));
}

static bool is_nothing(const char *text)
{
    static const char *const words[] = {"", "-9999", "-9999.0", "NA", "NaN", "M"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (cy_streq(text, words[i]))
            return true;
    return false;
}

/* The marks of a daily summary: measurement, quality, source. Any quality mark says that the
 * value failed a check; a measurement mark T says that there was a trace. */
static bool marks_allow(struct reading *r, int figure)
{
    static const enum column marks[] = {MAX_MARKS, MIN_MARKS, RAIN_MARKS};
    if (figure > RAIN || !r->has[marks[figure]])
        return true;
    const char *text = cy_csv_field(&r->csv, r->at[marks[figure]]);
    const char *quality = strchr(text, ',');
    text += strspn(text, " ");
    if (figure == RAIN && *text == 'T')
        r->report.traces++;
    if (!quality)
        return true;
    quality++;
    quality += strspn(quality, " ");
    if (*quality == '\0' || *quality == ',')
        return true;
    r->report.dropped++;
    return false;
}

static void read_figure(struct reading *r, struct row *row, int figure)
{
    size_t index = r->at[figure];
    const char *text = cy_csv_field(&r->csv, index);
    row->figure[figure] = NAN;
    row->column[figure] = index < r->csv.count ? r->csv.fields[index].column : 1;
    if (is_nothing(text) || !marks_allow(r, figure))
        return;
    if (!cy_number_parse(&row->figure[figure], text, strlen(text)))
        complain(r, index, CY_ISSUE_BAD_NUMBER, column_names[figure], text,
                 "a number, or nothing where there is none");
}

/* False for a row of a station that is not asked for. */
static bool station_fits(struct reading *r)
{
    if (!r->has[STATION])
        return true;
    size_t index = r->at[STATION];
    const char *name = cy_csv_field(&r->csv, index);
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
        complain(r, index, CY_ISSUE_PAIR, NULL, cy_text_get(&found), "a file holds one station");
        cy_text_dispose(&found);
    }
    return true;
}

static int read_row(struct reading *r, size_t columns)
{
    struct row row = {.line = r->csv.fields[0].line};
    const char *date = cy_csv_field(&r->csv, r->at[DATE]);
    if (r->csv.count != columns) {
        complain(r, r->csv.count, CY_ISSUE_SYNTAX, NULL, "a line with more or fewer fields",
                 "as many as the header has");
        return CY_OK;
    }
    if (!station_fits(r))
        return CY_OK;
    if (!read_date(&row, date, r->hourly))
        complain(r, r->at[DATE], CY_ISSUE_BAD_DATE, "DATE", date,
                 r->hourly ? "YYYY-MM-DDThh:00:00" : "YYYY-MM-DD");
    for (int figure = 0; figure < FIGURES; figure++) {
        row.figure[figure] = NAN;
        if (r->has[figure] && (figure == TEMP) == r->hourly)
            read_figure(r, &row, figure);
    }
    if (r->count == MOST_ROWS) {
        complain(r, 0, CY_ISSUE_TOO_LARGE, NULL, "the file", "2000000 lines");
        return CY_INVALID;
    }
    if (!cy_grow(&r->rows, &r->capacity, r->count, sizeof *r->rows))
        return CY_NO_MEMORY;
    r->rows[r->count++] = row;
    return CY_OK;
}

static int read_rows(struct reading *r)
{
    size_t columns = r->csv.count;
    int status;
    while ((status = cy_csv_next(&r->csv)) > 0) {
        status = read_row(r, columns);
        if (status)
            return status;
    }
    if (status == CY_OK && r->count == 0 && !r->bad)
        complain(r, 0, CY_ISSUE_MISSING, NULL, NULL,
                 r->options->station ? "lines of the station asked for"
                                     : "lines behind the header");
    r->report.rows = (int)r->count;
    return status;
}

/* ---- order ---------------------------------------------------------------------------------- */

static int by_time(const void *a, const void *b)
{
    const struct row *x = a, *y = b;
    if (x->day != y->day)
        return x->day < y->day ? -1 : 1;
    if (x->hour != y->hour)
        return x->hour < y->hour ? -1 : 1;
    return (x->line > y->line) - (x->line < y->line);
}

static void sort_rows(struct reading *r)
{
    qsort(r->rows, r->count, sizeof *r->rows, by_time);
    for (size_t i = 1; i < r->count; i++) {
        const struct row *row = &r->rows[i], *first = row - 1;
        if (row->day != first->day || row->hour != first->hour)
            continue;
        struct cy_text found = {0}, line = {0};
        cy_text_add_day(&found, row->day);
        cy_text_add_int(&line, first->line);
        complain_row(r, row, r->hourly ? TEMP : MAX, CY_ISSUE_DUPLICATE_KEY, cy_text_get(&found),
                     cy_text_get(&line));
        cy_text_dispose(&found);
        cy_text_dispose(&line);
    }
    if (r->rows[r->count - 1].day - r->rows[0].day >= MOST_DAYS)
        complain_row(r, &r->rows[r->count - 1], r->hourly ? TEMP : MAX, CY_ISSUE_TOO_LARGE,
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

static int look_at(struct look *look, const struct reading *r)
{
    size_t count = 0;
    double *maxima = cy_zeroed(r->count, sizeof *maxima);
    if (!maxima)
        return CY_NO_MEMORY;
    *look = (struct look){.temps_whole = true};
    for (size_t i = 0; i < r->count; i++) {
        const double *figure = r->rows[i].figure;
        for (int f = 0; f < FIGURES; f++) {
            if (f == RAIN || isnan(figure[f]))
                continue;
            look->temps_whole &= is_whole(figure[f]);
            look->most = fmax(look->most, figure[f]);
        }
        if (!isnan(figure[MAX]))
            maxima[count++] = figure[MAX];
        look->rain_hundredths |= !isnan(figure[RAIN]) && !is_whole(10 * figure[RAIN]);
        look->rain_tenths |= !isnan(figure[RAIN]) && !is_whole(figure[RAIN]);
    }
    cy_sort(maxima, count);
    look->median_max = cy_quantile(maxima, count, 0.5);
    free(maxima);
    return CY_OK;
}

/* Tenths are whole and soon beyond 130; no air was ever warmer than 57 C; Fahrenheit comes in
 * whole degrees with rain in hundredths of an inch; half of all days above 40 can only be in
 * Fahrenheit. What is left is most likely metric, and unsure. */
static enum cy_station_scale guess_scale(bool *sure, const struct look *look)
{
    *sure = true;
    if (look->temps_whole && look->most > 130)
        return CY_STATION_TENTHS;
    if (look->most > 57 || look->median_max >= 40)
        return CY_STATION_US;
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

static void check_row(struct reading *r, struct row *row)
{
    for (int f = 0; f < FIGURES; f++) {
        double low = f == RAIN ? 0 : -90, high = f == RAIN ? 2000 : 60;
        double value = f == RAIN ? in_mm(row->figure[f], r->report.scale)
                                 : in_celsius(row->figure[f], r->report.scale);
        if (value < low || value > high) {
            struct cy_text found = {0};
            cy_text_add_number(&found, row->figure[f]);
            complain_row(r, row, f, CY_ISSUE_OUT_OF_RANGE, cy_text_get(&found),
                         f == RAIN ? "0 to 2000 mm" : "-90 to 60 C");
            cy_text_dispose(&found);
        }
        row->figure[f] = value;
    }
    if (row->figure[MIN] > row->figure[MAX])
        complain_row(r, row, MIN, CY_ISSUE_PAIR, "the minimum is above the maximum",
                     "TMIN no higher than TMAX");
}

static int scale_rows(struct reading *r)
{
    struct look look;
    int status = look_at(&look, r);
    if (status)
        return status;
    r->report.scale = r->options->scale;
    r->report.sure = true;
    if (r->report.scale == CY_STATION_GUESSED)
        r->report.scale = guess_scale(&r->report.sure, &look);
    /* Files with marks mostly come in tenths, and a cold season's tenths look like Fahrenheit. */
    if (r->options->scale == CY_STATION_GUESSED && r->report.scale == CY_STATION_US)
        r->report.sure &= !r->has[MAX_MARKS];
    for (size_t i = 0; i < r->count; i++)
        check_row(r, &r->rows[i]);
    return CY_OK;
}

/* ---- days without a hole -------------------------------------------------------------------- */

/* The mean of the same calendar day in the other years that were read, or NAN. */
static double mean_of_day(const struct cy_weather *weather, const double *values,
                          const uint8_t *read, int index)
{
    struct cy_date date = cy_day_date(weather->first + index);
    int last = cy_day_year(weather->first + weather->days - 1), count = 0;
    double sum = 0;
    for (int year = cy_day_year(weather->first); year <= last; year++) {
        int i = cy_weather_index(weather, cy_day_near(year, date.month, date.day));
        if (i < 0 || !read[i])
            continue;
        sum += values[i];
        count++;
    }
    return count > 0 ? sum / count : NAN;
}

/* At least one value was read. */
static void fill_gaps(const struct cy_weather *weather, double *values, const uint8_t *read)
{
    for (int i = 0; i < weather->days; i++) {
        int next = i;
        while (next < weather->days && !read[next])
            next++;
        double before = i > 0 ? values[i - 1] : values[next];
        double after = next < weather->days ? values[next] : before;
        for (int k = i; k < next; k++) {
            double usual = next - i > LONG_GAP ? mean_of_day(weather, values, read, k) : NAN;
            values[k] =
                isnan(usual) ? before + (after - before) * (k - i + 1) / (next - i + 1) : usual;
        }
        i = next;
    }
}

static void note_gaps(struct cy_station_report *report, const struct cy_weather *weather)
{
    int gap = 0;
    report->gap_from = CY_DAY_NONE;
    for (int i = 0; i < weather->days; i++) {
        gap = weather->origin[i] == CY_ORIGIN_OBSERVED ? 0 : gap + 1;
        report->filled_temps += gap > 0;
        if (gap > report->longest_gap) {
            report->longest_gap = gap;
            report->gap_from = weather->first + i - gap + 1;
        }
    }
}

static void note_samples(struct cy_station_report *report, const struct cy_weather *weather)
{
    for (int i = 0; i < weather->days && report->sample_count < 3; i++)
        report->samples[report->sample_count++] = (struct cy_station_sample){
            weather->first + i, weather->tmin_c[i], weather->tmax_c[i], weather->rain_mm[i]};
}

static void place_rows(struct cy_weather *out, uint8_t *const read[RAIN + 1], struct reading *r)
{
    double *const to[] = {out->tmax_c, out->tmin_c, out->rain_mm};
    for (size_t k = 0; k < r->count; k++) {
        int i = r->rows[k].day - out->first;
        for (int f = 0; f <= RAIN; f++) {
            if (isnan(r->rows[k].figure[f]))
                continue;
            to[f][i] = r->rows[k].figure[f];
            read[f][i] = 1;
        }
    }
}

static bool any(const uint8_t *read, int days)
{
    return memchr(read, 1, (size_t)days) != NULL;
}

static void finish_days(struct cy_weather *out, uint8_t *const read[RAIN + 1],
                        struct cy_station_report *report)
{
    fill_gaps(out, out->tmax_c, read[MAX]);
    fill_gaps(out, out->tmin_c, read[MIN]);
    for (int i = 0; i < out->days; i++) {
        bool both = read[MAX][i] && read[MIN][i];
        double low = fmin(out->tmin_c[i], out->tmax_c[i]);
        out->tmax_c[i] = fmax(out->tmin_c[i], out->tmax_c[i]);
        out->tmin_c[i] = low;
        out->origin[i] = both ? CY_ORIGIN_OBSERVED : CY_ORIGIN_FILLED;
        report->filled_rain += !read[RAIN][i];
    }
    report->days = out->days;
    note_gaps(report, out);
    note_samples(report, out);
}

static int make_days(struct cy_weather *out, struct reading *r)
{
    cy_day first = r->rows[0].day, last = r->rows[r->count - 1].day;
    int days = last - first + 1;
    uint8_t *marks = cy_zeroed((size_t)days, RAIN + 1);
    uint8_t *const read[] = {marks, marks + days, marks + 2 * (size_t)days};
    int status = marks ? cy_weather_init(out, first, days) : CY_NO_MEMORY;
    if (status == CY_OK) {
        place_rows(out, read, r);
        if (any(read[MAX], days) && any(read[MIN], days)) {
            finish_days(out, read, &r->report);
        } else {
            complain_row(r, &r->rows[0], MAX, CY_ISSUE_MISSING, NULL, "temperatures on some day");
            cy_weather_dispose(out);
            status = CY_INVALID;
        }
    }
    free(marks);
    return status;
}

static int make_hours(struct cy_series *out, struct reading *r)
{
    cy_day first = r->rows[0].day, last = r->rows[r->count - 1].day;
    size_t hours = 24 * (size_t)(last - first + 1);
    out->temp_c = cy_zeroed(hours, sizeof *out->temp_c);
    if (!out->temp_c)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < hours; i++)
        out->temp_c[i] = NAN;
    for (size_t k = 0; k < r->count; k++)
        out->temp_c[24 * (size_t)(r->rows[k].day - first) + (size_t)r->rows[k].hour] =
            r->rows[k].figure[TEMP];
    out->first = first;
    out->days = last - first + 1;
    out->is_hourly = true;
    r->report.days = out->days;
    return CY_OK;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static int read_all(struct cy_series *out, struct reading *r)
{
    int status = read_header(r);
    if (status == CY_OK)
        status = read_rows(r);
    if (status != CY_OK || r->bad)
        return status != CY_OK ? status : CY_INVALID;
    sort_rows(r);
    status = scale_rows(r);
    if (status != CY_OK || r->bad)
        return status != CY_OK ? status : CY_INVALID;
    return r->hourly ? make_hours(out, r) : make_days(&out->daily, r);
}

int cy_series_parse(struct cy_series *out, const char *name, const char *bytes, size_t length,
                    const struct cy_station_options *options, struct cy_issues *issues)
{
    static const struct cy_station_options usual = {0};
    struct reading r = {.options = options ? options : &usual};
    *out = (struct cy_series){0};
    r.report.gap_from = CY_DAY_NONE;
    cy_csv_begin(&r.csv, name, bytes, length, issues);
    int status = CY_INVALID;
    if (length > 0 && memchr(bytes, '\0', length))
        complain(&r, 0, CY_ISSUE_SYNTAX, NULL, "this is no text", "comma-separated text in UTF-8");
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
