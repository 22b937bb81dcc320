/* SPDX-License-Identifier: MIT
 * Hours of temperature for the chill and heat counts: typed, constant, or from a file. */
#include "inside.h"

#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/text.h>
#include <caneyear/climate/hourly.h>

/* A gap that the dynamic model may be led over; longer ones would invent a winter. Chosen here. */
enum { GAP_DAYS = 3, GAP_HOURS = 24 * GAP_DAYS };

/* What is asked for: where from, which days, and whether gaps may be left out. */
struct request {
    const struct cy_pencil_inputs *in;
    const struct cy_pencil_series *series;
    bool unbroken;
    cy_day from, to;
    struct cy_issues *issues;
};

void cy_pencil__note_lacking(struct cy_pencil_result *out, size_t lacking, const char *what,
                             const char *treatment)
{
    struct cy_text text = {0};
    if (lacking == 0)
        return;
    cy_text_add_int(&text, (long long)lacking);
    cy_text_add_char(&text, ' ');
    cy_text_add(&text, what);
    cy_text_add(&text, " that the file does not have ");
    cy_text_add(&text, treatment);
    cy_pencil__note(out, cy_text_get(&text));
    cy_text_dispose(&text);
}

int cy_pencil__window(cy_day *from, cy_day *to, const struct cy_pencil_inputs *in, cy_day first,
                      cy_day last, struct cy_issues *issues)
{
    *from = cy_pencil__given(in, "from") ? cy_pencil__day(in, "from") : first;
    *to = cy_pencil__given(in, "to") ? cy_pencil__day(in, "to") : last;
    if (*from >= first && *to <= last && *from <= *to)
        return CY_OK;
    if (*from > *to)
        return cy_pencil__clash(in, issues, "from", "the first day is after the last",
                                "from no later than to");
    struct cy_text allowed = {0};
    cy_text_add_day(&allowed, first);
    cy_text_add(&allowed, " to ");
    cy_text_add_day(&allowed, last);
    cy_text_add(&allowed, ", the days of the file");
    int status = cy_pencil__wrong(in, issues, *from < first || *from > last ? "from" : "to",
                                  cy_text_get(&allowed));
    cy_text_dispose(&allowed);
    return status;
}

/* ---- a file of days ------------------------------------------------------------------------- */

static int refuse_gap(const struct request *request, cy_day day, size_t hours)
{
    struct cy_text found = {0};
    cy_text_add(&found, "a gap of ");
    cy_text_add_int(&found, (long long)hours);
    cy_text_add(&found, " hours from ");
    cy_text_add_day(&found, day);
    cy_issue_say(request->issues, CY_ISSUE_MISSING, request->in->calculation->name, "file",
                 cy_text_get(&found), "gaps of up to 72 hours");
    cy_text_dispose(&found);
    return CY_FAILED;
}

/* At the ends of the file a day stands in for its own neighbour. */
static void rebuild_day(double out[24], const struct cy_weather *weather, int i,
                        double latitude_deg)
{
    int before = i > 0 ? i - 1 : i, after = i + 1 < weather->days ? i + 1 : i;
    struct cy_hourly_input day = {
        .before_min = weather->tmin_c[before],
        .before_max = weather->tmax_c[before],
        .min = weather->tmin_c[i],
        .max = weather->tmax_c[i],
        .after_min = weather->tmin_c[after],
        .latitude_deg = latitude_deg,
        .day_of_year = cy_day_of_year(weather->first + i),
    };
    cy_hourly_day(out, &day);
}

static int add_days(struct cy_pencil__hours *out, const struct request *request)
{
    const struct cy_weather *weather = request->series->daily;
    int first = request->from - weather->first, last = request->to - weather->first, gap = 0;
    double latitude_deg = cy_pencil__number(request->in, "lat");
    out->temp_c = cy_zeroed((size_t)(last - first + 1), 24 * sizeof *out->temp_c);
    if (!out->temp_c)
        return CY_NO_MEMORY;
    for (int i = first; i <= last; i++) {
        bool read = weather->origin[i] == CY_ORIGIN_OBSERVED;
        gap = read ? 0 : gap + 1;
        if (request->unbroken && gap > GAP_DAYS)
            return refuse_gap(request, weather->first + i - GAP_DAYS, 24 * (size_t)gap);
        out->counted += read ? 24 : 0;
        out->lacking += read ? 0 : 24;
        if (!read && !request->unbroken)
            continue;
        rebuild_day(out->temp_c + out->count, weather, i, latitude_deg);
        out->count += 24;
    }
    return CY_OK;
}

/* ---- a file of hours ------------------------------------------------------------------------ */

static void bridge(double *temp_c, size_t from, size_t to)
{
    double low = temp_c[from - 1], step = (temp_c[to] - low) / (double)(to - from + 1);
    for (size_t i = from; i < to; i++)
        temp_c[i] = low + step * (double)(i - from + 1);
}

static int fill_gaps(struct cy_pencil__hours *hours, const struct request *request)
{
    for (size_t i = 0; i < hours->count; i++) {
        size_t next = i;
        while (isnan(hours->temp_c[next]))
            next++;
        if (next - i > GAP_HOURS)
            return refuse_gap(request, request->from + (cy_day)(i / 24), next - i);
        if (next > i)
            bridge(hours->temp_c, i, next);
        i = next;
    }
    return CY_OK;
}

static void leave_gaps_out(struct cy_pencil__hours *hours)
{
    size_t kept = 0;
    for (size_t i = 0; i < hours->count; i++)
        if (!isnan(hours->temp_c[i]))
            hours->temp_c[kept++] = hours->temp_c[i];
    hours->count = kept;
}

/* What lacks at either end is no gap: the run is shorter. */
static int add_hours(struct cy_pencil__hours *out, const struct request *request)
{
    const struct cy_pencil_hours *series = request->series->hourly;
    const double *from = series->temp_c + 24 * (size_t)(request->from - series->first);
    size_t asked = 24 * (size_t)(request->to - request->from + 1), end = asked;
    for (size_t i = 0; i < asked; i++)
        out->counted += !isnan(from[i]);
    out->lacking = asked - out->counted;
    while (end > 0 && isnan(from[end - 1]))
        end--;
    size_t begin = 0;
    while (begin < end && isnan(from[begin]))
        begin++;
    out->temp_c = cy_zeroed(end - begin, sizeof *out->temp_c);
    if (!out->temp_c)
        return CY_NO_MEMORY;
    out->count = end - begin;
    if (out->count > 0)
        memcpy(out->temp_c, from + begin, out->count * sizeof *out->temp_c);
    if (request->unbroken)
        return fill_gaps(out, request);
    leave_gaps_out(out);
    return CY_OK;
}

static int hours_of_file(struct cy_pencil__hours *out, struct request *request)
{
    const struct cy_weather *daily = request->series->daily;
    const struct cy_pencil_hours *hourly = request->series->hourly;
    if (!daily && !hourly)
        return cy_pencil__missing(request->in, request->issues, "file", "a file that was read");
    cy_day first = daily ? daily->first : hourly->first;
    cy_day last = first + (daily ? daily->days : hourly->days) - 1;
    int status =
        cy_pencil__window(&request->from, &request->to, request->in, first, last, request->issues);
    if (status)
        return status;
    if (daily && !cy_pencil__given(request->in, "lat"))
        return cy_pencil__missing(request->in, request->issues, "lat",
                                  "-90 to 90 deg, where the file has days and not hours");
    return daily ? add_days(out, request) : add_hours(out, request);
}

/* ---- typed ---------------------------------------------------------------------------------- */

static int hours_typed(struct cy_pencil__hours *out, const struct cy_pencil_inputs *in)
{
    const struct cy_pencil_value *list = cy_pencil__value(in, "temps");
    out->count = list->given ? list->count : (size_t)cy_pencil__number(in, "hours");
    out->counted = out->count;
    out->temp_c = cy_zeroed(out->count, sizeof *out->temp_c);
    if (!out->temp_c)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < out->count; i++)
        out->temp_c[i] = list->given ? list->list[i] : cy_pencil__number(in, "temp");
    return CY_OK;
}

int cy_pencil__hours_of(struct cy_pencil__hours *out, const struct cy_pencil_inputs *in,
                        const struct cy_pencil_series *series, bool unbroken,
                        struct cy_issues *issues)
{
    struct request request = {.in = in, .series = series, .unbroken = unbroken, .issues = issues};
    bool file = cy_pencil__given(in, "file"), list = cy_pencil__given(in, "temps"),
         constant = cy_pencil__given(in, "temp");
    *out = (struct cy_pencil__hours){0};
    if (file + list + constant != 1)
        return cy_pencil__missing(in, issues, "temps",
                                  "one of file=, temps=, and temp= with hours=");
    if (constant && !cy_pencil__given(in, "hours"))
        return cy_pencil__missing(in, issues, "hours", "a whole number, 1 to 1000000 h");
    int status = file ? hours_of_file(out, &request) : hours_typed(out, in);
    if (status) {
        free(out->temp_c);
        *out = (struct cy_pencil__hours){0};
    }
    return status;
}
