/* SPDX-License-Identifier: MIT
 * Weather files of comma-separated text: columns by their names, one row a line. */
#include "store/series_rows.h"

#include <math.h>
#include <string.h>

#include <caneyear/base/number.h>
#include <caneyear/base/text.h>

static const char *const column_words[] = {
#define COLUMN(name, words) words,
    CY_SERIES_COLUMNS(COLUMN)
#undef COLUMN
};

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

static int read_header(struct cy_series_reading *r)
{
    int status = cy_csv_next(&r->csv);
    if (status < 0)
        return status;
    if (status == 0) {
        cy_series_complain(r, 0, CY_ISSUE_EMPTY_FILE, NULL, NULL, "DATE,TMAX,TMIN,PRCP");
        return CY_INVALID;
    }
    for (size_t i = 0; i < r->csv.count; i++) {
        const char *name = cy_csv_field(&r->csv, i);
        for (int c = 0; c < CY_SERIES_COLUMN_COUNT; c++) {
            if (!goes_by(name, column_words[c]))
                continue;
            if (r->has[c])
                cy_series_complain(r, i, CY_ISSUE_PAIR, name, "two columns of one kind",
                                   "one of them");
            r->has[c] = true;
            r->at[c] = i;
        }
    }
    r->hourly = r->has[CY_SERIES_TEMP] && !(r->has[CY_SERIES_MAX] && r->has[CY_SERIES_MIN]);
    if (!r->has[CY_SERIES_DATE] || !(r->hourly || (r->has[CY_SERIES_MAX] && r->has[CY_SERIES_MIN])))
        cy_series_complain(r, 0, CY_ISSUE_MISSING, NULL, NULL,
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
static bool read_date(struct cy_series_row *row, const char *text, bool hourly)
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
static bool marks_allow(struct cy_series_reading *r, int figure)
{
    static const enum cy_series_column marks[] = {
        CY_SERIES_MAX_MARKS, CY_SERIES_MIN_MARKS,      CY_SERIES_RAIN_MARKS, CY_SERIES_WIND_MARKS,
        CY_SERIES_DEW_MARKS, CY_SERIES_HUMIDITY_MARKS, CY_SERIES_SUN_MARKS};
    if (figure > CY_SERIES_SUN || !r->has[marks[figure]])
        return true;
    const char *text = cy_csv_field(&r->csv, r->at[marks[figure]]);
    const char *quality = strchr(text, ',');
    text += strspn(text, " ");
    if (figure == CY_SERIES_RAIN && *text == 'T')
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

/* What such files mostly hold, "-12.3": a whole number under 2^53 over a power of ten that a double
 * holds, so that the division rounds once. */
static bool read_short(double *out, const char *text)
{
    static const double tens[] = {1, 10, 100, 1000, 10000};
    bool minus = *text == '-';
    const char *digit = text + minus, *point = NULL;
    int64_t whole = 0;
    for (; *digit && digit - text < 12; digit++) {
        if (*digit == '.' && !point && digit > text + minus)
            point = digit;
        else if (*digit >= '0' && *digit <= '9')
            whole = 10 * whole + (*digit - '0');
        else
            return false;
    }
    int64_t decimals = point ? digit - point - 1 : 0;
    if (*digit || digit == text + minus || (point && (decimals < 1 || decimals > 4)))
        return false;
    *out = (double)whole / tens[decimals];
    if (minus)
        *out = -*out;
    return true;
}

static void read_figure(struct cy_series_reading *r, struct cy_series_row *row, int figure)
{
    size_t index = r->at[figure];
    const char *text = cy_csv_field(&r->csv, index);
    text += strspn(text, " "); /* the archive's station files are padded to a width */
    row->figure[figure] = NAN;
    row->column[figure] = index < r->csv.count ? r->csv.fields[index].column : 1;
    if (is_nothing(text) || !marks_allow(r, figure))
        return;
    if (!read_short(&row->figure[figure], text) &&
        !cy_number_parse(&row->figure[figure], text, strlen(text)))
        cy_series_complain(r, index, CY_ISSUE_BAD_NUMBER, cy_series_figure_name(figure), text,
                           "a number, or nothing where there is none");
}

static int read_row(struct cy_series_reading *r, size_t columns)
{
    struct cy_series_row row = {.line = r->csv.fields[0].line};
    const char *date = cy_csv_field(&r->csv, r->at[CY_SERIES_DATE]);
    if (r->csv.count != columns) {
        cy_series_complain(r, r->csv.count, CY_ISSUE_SYNTAX, NULL,
                           "a line with more or fewer fields", "as many as the header has");
        return CY_OK;
    }
    if (r->has[CY_SERIES_STATION] &&
        !cy_series_station_fits(r, cy_csv_field(&r->csv, r->at[CY_SERIES_STATION]),
                                r->at[CY_SERIES_STATION]))
        return CY_OK;
    if (!read_date(&row, date, r->hourly))
        cy_series_complain(r, r->at[CY_SERIES_DATE], CY_ISSUE_BAD_DATE, "DATE", date,
                           r->hourly ? "YYYY-MM-DDThh:00:00" : "YYYY-MM-DD");
    for (int figure = 0; figure < CY_SERIES_FIGURES; figure++) {
        row.figure[figure] = NAN;
        if (r->has[figure] && (figure == CY_SERIES_TEMP) == r->hourly)
            read_figure(r, &row, figure);
    }
    return cy_series_add_row(r, &row);
}

int cy_series_read_csv(struct cy_series_reading *r)
{
    int status = read_header(r);
    size_t columns = r->csv.count;
    if (status != CY_OK)
        return status;
    while ((status = cy_csv_next(&r->csv)) > 0) {
        status = read_row(r, columns);
        if (status == CY_OK)
            status = cy_series_tick(r);
        if (status != CY_OK)
            return status;
    }
    return status;
}
