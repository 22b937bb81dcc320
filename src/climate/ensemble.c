/* SPDX-License-Identifier: MIT
 * The weathers of a forecast.
 *
 * Each member is first made from end to end out of its own random stream; the station's days are
 * then laid over it. So a member depends on its number alone, and a new observed day changes no
 * made one. */
#include <caneyear/climate/ensemble.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>
#include <caneyear/climate/gaps.h>

/* The station's calendar years that are complete before today, newest first. */
struct past {
    int *years, count;
};

static cy_day earlier(cy_day a, cy_day b)
{
    return a < b ? a : b;
}

static cy_day later(cy_day a, cy_day b)
{
    return a > b ? a : b;
}

static int find_past(struct past *out, const struct cy_ensemble_request *request)
{
    const struct cy_weather *station = request->station;
    *out = (struct past){0};
    if (!station || station->days < 1)
        return CY_OK;
    cy_day end = earlier(station->first + station->days, request->today); /* the day after */
    int oldest = cy_day_year(station->first), newest = cy_day_year(end) - 1;
    if (newest < oldest)
        return CY_OK;
    out->years = cy_zeroed((size_t)(newest - oldest + 1), sizeof *out->years);
    if (!out->years)
        return CY_NO_MEMORY;
    for (int year = newest; year >= oldest; year--)
        if (cy_gaps_year_is_whole(station, year))
            out->years[out->count++] = year;
    return CY_OK;
}

/* Where the rain of a day lacks, the made one stays. */
static void copy_day(struct cy_weather *to, int i, const struct cy_weather *from, int j)
{
    to->tmin_c[i] = from->tmin_c[j];
    to->tmax_c[i] = from->tmax_c[j];
    if (!isnan(from->rain_mm[j]))
        to->rain_mm[i] = from->rain_mm[j];
    to->wind_m_s[i] = from->wind_m_s[j];
    to->dew_c[i] = from->dew_c[j];
    to->sun_h[i] = from->sun_h[j];
    to->origin[i] = from->origin[j];
}

/* The station's days before today, [*from, *to); empty where to <= from. */
static void front_of(cy_day *from, cy_day *to, const struct cy_ensemble_request *request)
{
    const struct cy_weather *station = request->station;
    *from = *to = request->first;
    if (!station)
        return;
    *from = later(request->first, station->first);
    *to = earlier(request->today, request->last + 1);
    *to = earlier(*to, station->first + station->days);
}

static void lay_front(struct cy_weather *weather, const struct cy_ensemble_request *request)
{
    cy_day from, to;
    front_of(&from, &to, request);
    for (cy_day day = from; day < to; day++) {
        int i = day - request->station->first;
        if (!cy_gaps_missing(request->station, i))
            copy_day(weather, day - request->first, request->station, i);
    }
}

static int count_front(const struct cy_ensemble_request *request)
{
    cy_day from, to;
    int days = 0;
    front_of(&from, &to, request);
    for (cy_day day = from; day < to; day++)
        days += !cy_gaps_missing(request->station, day - request->station->first);
    return days;
}

/* From today on, the same dates of the past year `number` and of the years right after it while
 * they are complete; 29 February repeats the 28th of a year without one. */
static void lay_past(struct cy_weather *weather, const struct cy_ensemble_request *request,
                     const struct past *past, int number)
{
    int back = cy_day_year(request->today) - past->years[number];
    for (cy_day day = later(request->first, request->today); day <= request->last; day++) {
        struct cy_date date = cy_day_date(day);
        while (number > 0 && past->years[number] < date.year - back)
            number--;
        if (past->years[number] != date.year - back)
            return;
        cy_day source = cy_day_near(date.year - back, date.month, date.day);
        copy_day(weather, day - request->first, request->station,
                 cy_weather_index(request->station, source));
    }
}

static int make_member(struct cy_member *out, const struct cy_ensemble_request *request,
                       const struct past *past, const struct cy_warmth_sun *sun, int number)
{
    int status = cy_weather_init(&out->weather, request->first, request->last - request->first + 1);
    if (status != CY_OK)
        return status;
    struct cy_random random;
    cy_random_seed(&random, request->seed, (uint64_t)number);
    cy_weather_make(&out->weather, &request->normals, &random);
    lay_front(&out->weather, request);
    /* Newest first, so that a member's year does not depend on how many members there are. */
    if (number < request->past_years && number < past->count) {
        out->past_year = past->years[number];
        lay_past(&out->weather, request, past, number);
    }
    return cy_warmth_with(&out->warmth, &out->weather, sun,
                          request->kinds ? request->kinds : CY_CHILL_EVERY_KIND);
}

int cy_ensemble_make(struct cy_ensemble *out, const struct cy_ensemble_request *request)
{
    *out = (struct cy_ensemble){.first = request->first, .last = request->last};
    int status = CY_OK;
    struct past past = {0};
    struct cy_warmth_sun *sun = NULL;
    if (request->count < 1 || request->last < request->first) {
        status = CY_INVALID;
        goto out;
    }
    status = find_past(&past, request);
    if (status != CY_OK)
        goto out;
    out->members = cy_zeroed((size_t)request->count, sizeof *out->members);
    sun = cy_warmth_sun_of(request->latitude_deg);
    if (!out->members || !sun) {
        status = CY_NO_MEMORY;
        goto out;
    }
    out->count = request->count;
    out->observed_days = count_front(request);
    for (int i = 0; i < request->count; i++) {
        status = make_member(&out->members[i], request, &past, sun, i);
        if (status == CY_OK && request->progress &&
            !request->progress((i + 1.0) / request->count, request->payload))
            status = CY_CANCELLED;
        if (status != CY_OK)
            goto out;
        if (out->members[i].past_year)
            out->past_years++;
        else
            out->made_years++;
    }
out:
    free(past.years);
    cy_warmth_sun_free(sun);
    if (status != CY_OK)
        cy_ensemble_dispose(out);
    return status;
}

void cy_ensemble_dispose(struct cy_ensemble *ensemble)
{
    if (!ensemble)
        return;
    for (int i = 0; i < ensemble->count; i++) {
        cy_weather_dispose(&ensemble->members[i].weather);
        cy_warmth_dispose(&ensemble->members[i].warmth);
    }
    free(ensemble->members);
    *ensemble = (struct cy_ensemble){0};
}
