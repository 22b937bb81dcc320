/* SPDX-License-Identifier: MIT
 * Weather files of fixed width (.dly of the Global Historical Climatology Network - Daily, its
 * readme, section III): a line is one station's month of one element, in tenths. */
#include "store/series_rows.h"

#include <math.h>
#include <string.h>

#include <caneyear/base/text.h>

/* Where things stand on a line, from 0: behind the element come 31 groups of a value and a mark
 * each of measurement, quality and source. */
enum {
    AT_YEAR = 11,
    AT_MONTH = 15,
    AT_ELEMENT = 17,
    AT_VALUES = 21,
    GROUP = 8,
    VALUE = 5,
    MEASUREMENT = 5, /* within a group */
    QUALITY = 6,
    MISSING = -9999
};

/* A line and what its head says. */
struct line {
    const char *text;
    size_t length;
    char station[AT_YEAR + 1];
    int year, month, figure; /* -1: an element that is not used */
};

static int take_digits(const char *text, int count)
{
    int number = 0;
    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        number = 10 * number + (text[i] - '0');
    }
    return number;
}

static bool is_letter_or_digit(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

static bool read_head(struct line *out)
{
    const char *text = out->text;
    if (out->length < AT_VALUES + VALUE)
        return false;
    for (int i = 0; i < AT_YEAR; i++)
        if (!is_letter_or_digit(text[i]))
            return false;
    for (int i = AT_ELEMENT; i < AT_VALUES; i++)
        if (!is_letter_or_digit(text[i]))
            return false;
    cy_copy_n(out->station, sizeof out->station, text, AT_YEAR);
    out->year = take_digits(text + AT_YEAR, 4);
    out->month = take_digits(text + AT_MONTH, 2);
    out->figure = -1;
    for (int f = 0; f <= CY_SERIES_SUN; f++)
        if (cy_word_is(text + AT_ELEMENT, AT_VALUES - AT_ELEMENT, cy_series_figure_name(f)))
            out->figure = f;
    return out->month >= 1 && out->month <= 12 &&
           cy_day_of(out->year, out->month, 1) != CY_DAY_NONE;
}

bool cy_series_is_dly(const char *bytes, size_t length)
{
    struct line line = {.text = bytes, .length = length};
    return read_head(&line);
}

/* ---- values --------------------------------------------------------------------------------- */

/* Says what is wrong at a character of the line in hand. */
static void complain_at(struct cy_series_reading *r, size_t at, enum cy_issue_code code,
                        const char *field, const char *found, const char *allowed)
{
    r->csv.count = 1;
    r->csv.fields[0] = (struct cy_csv_field){0, r->csv.line, (int)at + 1};
    cy_series_complain(r, 0, code, field, found, allowed);
}

/* Blanks, a sign, digits to the end; nothing but blanks is no value. */
static bool read_value(int *out, const char *text)
{
    int i = 0;
    while (i < VALUE && text[i] == ' ')
        i++;
    *out = MISSING;
    if (i == VALUE)
        return true;
    bool minus = text[i] == '-';
    int number = i + minus < VALUE ? take_digits(text + i + minus, VALUE - i - minus) : -1;
    *out = minus ? -number : number;
    return number >= 0;
}

static bool is_blank(const char *text, size_t length)
{
    return strspn(text, " ") >= length;
}

static void complain_value(struct cy_series_reading *r, const struct line *line, size_t at,
                           enum cy_issue_code code, const char *allowed)
{
    struct cy_text found = {0};
    size_t length = line->length - at;
    cy_text_add_n(&found, line->text + at, length < VALUE ? length : VALUE);
    complain_at(r, at, code, cy_series_figure_name(line->figure), cy_text_get(&found), allowed);
    cy_text_dispose(&found);
}

/* The mark at a place of the line; editors cut blanks off its end. */
static char mark_at(const struct line *line, size_t at)
{
    return at < line->length ? line->text[at] : ' ';
}

static void read_day(struct cy_series_reading *r, const struct line *line, int day,
                     struct cy_series_row *row)
{
    size_t at = AT_VALUES + GROUP * ((size_t)day - 1);
    int value, figure = line->figure;
    if (at >= line->length || is_blank(line->text + at, line->length - at))
        return;
    if (at + VALUE > line->length)
        complain_value(r, line, at, CY_ISSUE_SYNTAX, "the line ends within a value");
    else if (!read_value(&value, line->text + at))
        complain_value(r, line, at, CY_ISSUE_BAD_NUMBER, "a whole number of five characters");
    else if (value == MISSING)
        return;
    else if (day > cy_month_days(line->year, line->month))
        complain_value(r, line, at, CY_ISSUE_BAD_DATE, "no value behind the month's last day");
    else if (!isnan(row->figure[figure]))
        complain_value(r, line, at, CY_ISSUE_DUPLICATE_KEY, "");
    else if (mark_at(line, at + QUALITY) != ' ')
        r->report.dropped++;
    else {
        r->report.traces += figure == CY_SERIES_RAIN && mark_at(line, at + MEASUREMENT) == 'T';
        row->figure[figure] = value;
        row->column[figure] = (int)at + 1;
    }
}

/* ---- lines ---------------------------------------------------------------------------------- */

/* A row for each day of the line's month, unless the line before was of the same month. The last
 * rows are then that month's. */
static int have_month(struct cy_series_reading *r, const struct line *line)
{
    cy_day first = cy_day_of(line->year, line->month, 1);
    int days = cy_month_days(line->year, line->month), status = CY_OK;
    if (r->count > 0 && r->rows[r->count - 1].day == first + days - 1)
        return CY_OK;
    for (int i = 0; i < days && status == CY_OK; i++) {
        struct cy_series_row row = {.day = first + i, .line = r->csv.line};
        for (int f = 0; f < CY_SERIES_FIGURES; f++)
            row.figure[f] = NAN;
        status = cy_series_add_row(r, &row);
    }
    return status;
}

static int read_line(struct cy_series_reading *r, struct line *line)
{
    if (is_blank(line->text, line->length))
        return CY_OK;
    if (!read_head(line)) {
        complain_at(r, 0, CY_ISSUE_SYNTAX, NULL, "this line",
                    "station, year, month, element, then a value for each day");
        return CY_OK;
    }
    r->csv.count = 1;
    r->csv.fields[0] = (struct cy_csv_field){0, r->csv.line, 1};
    if (line->figure < 0 || !cy_series_station_fits(r, line->station, 0))
        return CY_OK;
    int status = have_month(r, line), days = cy_month_days(line->year, line->month);
    struct cy_series_row *rows = r->rows + r->count - days;
    struct cy_series_row beyond = {.line = r->csv.line};
    for (int f = 0; f < CY_SERIES_FIGURES; f++)
        beyond.figure[f] = NAN;
    for (int day = 1; day <= 31 && status == CY_OK; day++)
        read_day(r, line, day, day <= days ? &rows[day - 1] : &beyond);
    return status;
}

int cy_series_read_dly(struct cy_series_reading *r)
{
    int status = CY_OK;
    while (r->csv.at < r->csv.end && status == CY_OK) {
        size_t left = (size_t)(r->csv.end - r->csv.at), length = 0;
        while (length < left && r->csv.at[length] != '\n' && r->csv.at[length] != '\r')
            length++;
        struct line line = {.text = r->csv.at, .length = length};
        status = read_line(r, &line);
        r->csv.at += length;
        if (length < left)
            r->csv.at += left - length > 1 && memcmp(r->csv.at, "\r\n", 2) == 0 ? 2 : 1;
        r->csv.line++;
        if (status == CY_OK)
            status = cy_series_tick(r);
    }
    return status;
}
