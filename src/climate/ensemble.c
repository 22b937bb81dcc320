/* SPDX-License-Identifier: MIT
 * The weathers of a forecast.
 *
 * Each member is first made from end to end out of its own random stream; the station's days are
 * then laid over it. So a member depends on its number alone, and a new observed day changes no
 * made one. */
#include <caneyear/climate/ensemble.h>

#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>

/* The station's calendar years that are complete before today; none where newest < oldest. */
struct past {
    int oldest, newest;
};

static cy_day earlier(cy_day a, cy_day b)
{
    return a < b ? a : b;
}

static cy_day later(cy_day a, cy_day b)
{
    return a > b ? a : b;
}

static struct past past_of(const struct cy_ensemble_request *request)
{
    const struct cy_weather *station = request->station;
    if (!station || station->days < 1)
        return (struct past){.oldest = 1, .newest = 0};
    cy_day end = earlier(station->first + station->days, request->today); /* the day after */
    return (struct past){.oldest = cy_day_year(station->first - 1) + 1,
                         .newest = cy_day_year(end) - 1};
}

static void copy_day(struct cy_weather *to, int i, const struct cy_weather *from, int j)
{
    to->tmin_c[i] = from->tmin_c[j];
    to->tmax_c[i] = from->tmax_c[j];
    to->rain_mm[i] = from->rain_mm[j];
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
    for (cy_day day = from; day < to; day++)
        copy_day(weather, day - request->first, request->station, day - request->station->first);
}

/* From today on, the same dates of `past_year` and of the years after it while they are
 * complete; 29 February repeats the 28th of a year without one. */
static void lay_past(struct cy_weather *weather, const struct cy_ensemble_request *request,
                     const struct past *past, int past_year)
{
    int back = cy_day_year(request->today) - past_year;
    for (cy_day day = later(request->first, request->today); day <= request->last; day++) {
        struct cy_date date = cy_day_date(day);
        if (date.year - back > past->newest)
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
    int past_year = past->newest - number;
    if (number < request->past_years && past_year >= past->oldest) {
        out->past_year = past_year;
        lay_past(&out->weather, request, past, past_year);
    }
    return cy_warmth_with(&out->warmth, &out->weather, sun);
}

int cy_ensemble_make(struct cy_ensemble *out, const struct cy_ensemble_request *request)
{
    *out = (struct cy_ensemble){.first = request->first, .last = request->last};
    int status = CY_OK;
    struct past past = past_of(request);
    struct cy_warmth_sun *sun = NULL;
    if (request->count < 1 || request->last < request->first) {
        status = CY_INVALID;
        goto out;
    }
    out->members = cy_zeroed((size_t)request->count, sizeof *out->members);
    sun = cy_warmth_sun_of(request->latitude_deg);
    if (!out->members || !sun) {
        status = CY_NO_MEMORY;
        goto out;
    }
    out->count = request->count;
    cy_day from, to;
    front_of(&from, &to, request);
    out->observed_days = to > from ? to - from : 0;
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
