/* SPDX-License-Identifier: MIT
 * Rows of a weather file as a run of days, gaps filled or left open, or as a run of hours. */
#include "store/series_rows.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/climate/evapo.h>

/* Days; in a longer gap the season counts for more than the neighbours. */
enum { LONG_GAP = 10 };

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

static void place_rows(struct cy_weather *out, uint8_t *const read[CY_SERIES_RAIN + 1],
                       const struct cy_series_row *rows, size_t count)
{
    double *const to[] = {out->tmax_c, out->tmin_c, out->rain_mm};
    for (size_t k = 0; k < count; k++) {
        int i = rows[k].day - out->first;
        for (int f = 0; f <= CY_SERIES_RAIN; f++) {
            if (isnan(rows[k].figure[f]))
                continue;
            to[f][i] = rows[k].figure[f];
            read[f][i] = 1;
        }
    }
}

/* The mean dew point: as it is, or by the day's mean humidity (FAO-56 equations 19 and 14). */
static double dew_of(const struct cy_series_row *row)
{
    double low = row->figure[CY_SERIES_MIN], high = row->figure[CY_SERIES_MAX];
    double humidity = row->figure[CY_SERIES_HUMIDITY];
    if (!isnan(row->figure[CY_SERIES_DEW]) || !(humidity > 0))
        return row->figure[CY_SERIES_DEW];
    double ea_kpa = humidity / 100 * (cy_evapo_saturation(low) + cy_evapo_saturation(high)) / 2;
    double log_ea = log(ea_kpa / cy_evapo_saturation(0));
    return 237.3 * log_ea / (17.27 - log_ea);
}

static void place_air(struct cy_weather *out, const struct cy_series_row *rows, size_t count)
{
    for (size_t k = 0; k < count; k++) {
        int i = rows[k].day - out->first;
        out->wind_m_s[i] = rows[k].figure[CY_SERIES_WIND];
        out->dew_c[i] = dew_of(&rows[k]);
        out->sun_h[i] = rows[k].figure[CY_SERIES_SUN] / 60;
    }
}

static bool any(const uint8_t *read, int days)
{
    return memchr(read, 1, (size_t)days) != NULL;
}

static void finish_days(struct cy_weather *out, uint8_t *const read[CY_SERIES_RAIN + 1],
                        struct cy_station_report *report, bool as_read)
{
    if (!as_read) {
        fill_gaps(out, out->tmax_c, read[CY_SERIES_MAX]);
        fill_gaps(out, out->tmin_c, read[CY_SERIES_MIN]);
    }
    for (int i = 0; i < out->days; i++) {
        bool both = read[CY_SERIES_MAX][i] && read[CY_SERIES_MIN][i];
        if (!as_read && out->tmin_c[i] > out->tmax_c[i]) {
            double low = out->tmax_c[i];
            out->tmax_c[i] = out->tmin_c[i];
            out->tmin_c[i] = low;
        }
        if (!as_read && !read[CY_SERIES_RAIN][i])
            out->rain_mm[i] = 0;
        out->origin[i] = both ? CY_ORIGIN_OBSERVED : CY_ORIGIN_FILLED;
        report->filled_rain += !read[CY_SERIES_RAIN][i];
    }
    report->days = out->days;
    note_gaps(report, out);
    note_samples(report, out);
}

static bool is_whole_day(const struct cy_series_row *row)
{
    return !isnan(row->figure[CY_SERIES_MAX]) && !isnan(row->figure[CY_SERIES_MIN]);
}

/* The rows that count: as read, those from the first whole day to the last. */
static void trim_rows(struct cy_series_reading *r, size_t *begin, size_t *end)
{
    *begin = 0;
    *end = r->count;
    while (r->options->as_read && *begin < *end && !is_whole_day(&r->rows[*begin]))
        (*begin)++;
    while (r->options->as_read && *begin < *end && !is_whole_day(&r->rows[*end - 1]))
        (*end)--;
}

static int refuse_days(struct cy_series_reading *r)
{
    cy_series_complain_row(r, &r->rows[0], CY_SERIES_MAX, CY_ISSUE_MISSING, NULL,
                           "temperatures on some day");
    return CY_INVALID;
}

static int lay_days(struct cy_weather *out, struct cy_series_reading *r, size_t begin, size_t end)
{
    int days = out->days, status = CY_OK;
    uint8_t *marks = cy_zeroed((size_t)days, CY_SERIES_RAIN + 1);
    if (!marks)
        return CY_NO_MEMORY;
    uint8_t *const read[] = {marks, marks + days, marks + 2 * (size_t)days};
    for (int i = 0; i < days; i++)
        out->tmin_c[i] = out->tmax_c[i] = out->rain_mm[i] = NAN;
    place_rows(out, read, r->rows + begin, end - begin);
    place_air(out, r->rows + begin, end - begin);
    if (any(read[CY_SERIES_MAX], days) && any(read[CY_SERIES_MIN], days))
        finish_days(out, read, &r->report, r->options->as_read);
    else
        status = refuse_days(r);
    free(marks);
    return status;
}

int cy_series_make_days(struct cy_weather *out, struct cy_series_reading *r)
{
    size_t begin, end;
    trim_rows(r, &begin, &end);
    if (begin == end)
        return refuse_days(r);
    cy_day first = r->rows[begin].day, last = r->rows[end - 1].day;
    int status = cy_weather_init(out, first, last - first + 1);
    if (status == CY_OK)
        status = lay_days(out, r, begin, end);
    if (status != CY_OK)
        cy_weather_dispose(out);
    return status;
}

int cy_series_make_hours(struct cy_series *out, struct cy_series_reading *r)
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
            r->rows[k].figure[CY_SERIES_TEMP];
    out->first = first;
    out->days = last - first + 1;
    out->is_hourly = true;
    r->report.days = out->days;
    return CY_OK;
}
