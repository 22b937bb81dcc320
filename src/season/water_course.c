/* SPDX-License-Identifier: MIT
 * One distinct row's water over all weathers, worked out once and remembered. */
#include "season/water_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/random.h>
#include <caneyear/climate/evapo.h>
#include <caneyear/water/soil.h>

/* More than a farm of 200 rows has; past it all are forgotten before the next plan. */
enum { MANY_COURSES = 512 };

struct cy_water_memory {
    const struct cy_ensemble *ensemble; /* of the plan at hand */
    double *et_mm;                      /* members x days of the season */
    int days;
    uint64_t et_fingerprint; /* 0: none */
    double combined_share;
    struct cy_water_air *air; /* sums by day of the season */
    struct cy_water_course **courses;
    size_t count, capacity, worked_out;
};

struct cy_water_memory *cy_water_memory_new(void)
{
    return cy_zeroed(1, sizeof(struct cy_water_memory));
}

static void course_free(struct cy_water_course *course)
{
    if (!course)
        return;
    free(course->need_mm);
    free(course->inch_mm);
    free(course);
}

static void forget_courses(struct cy_water_memory *memory)
{
    for (size_t i = 0; i < memory->count; i++)
        course_free(memory->courses[i]);
    memory->count = 0;
}

void cy_water_memory_free(struct cy_water_memory *memory)
{
    if (!memory)
        return;
    forget_courses(memory);
    free(memory->courses);
    free(memory->et_mm);
    free(memory->air);
    free(memory);
}

size_t cy_water_memory_worked_out(const struct cy_water_memory *memory)
{
    return memory->worked_out;
}

double cy_water_memory_combined(const struct cy_water_memory *memory)
{
    return memory->combined_share;
}

/* ---- reference ET --------------------------------------------------------------------------- */

/* The archive's wind is measured at 10 m, as airports do: from memory. */
#define WIND_HEIGHT_M 10

static bool has_air(const struct cy_weather *weather, int index)
{
    return !isnan(weather->wind_m_s[index]) && !isnan(weather->dew_c[index]) &&
           !isnan(weather->sun_h[index]);
}

/* False for a day that cannot be. */
static bool reference(double *out_mm, const struct cy_weather *weather, int index,
                      double latitude_deg, double elevation_m, enum cy_evapo_method method)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;
    struct cy_evapo evapo;
    request.method = method;
    request.tmin_c = weather->tmin_c[index];
    request.tmax_c = weather->tmax_c[index];
    request.latitude_deg = latitude_deg;
    request.elevation_m = elevation_m;
    request.day_of_year = cy_day_of_year(weather->first + index);
    if (method == CY_EVAPO_COMBINATION) {
        request.wind_m_s = weather->wind_m_s[index];
        request.wind_height_m = WIND_HEIGHT_M;
        request.ea_kpa = cy_evapo_saturation(weather->dew_c[index]);
        request.sun_hours = weather->sun_h[index];
    }
    int status = cy_evapo_day(&evapo, &request, NULL);
    *out_mm = status == CY_OK ? evapo.et_mm : 0;
    return status == CY_OK;
}

static void add_air(struct cy_water_air *sum, const struct cy_weather *weather, int index)
{
    double most = cy_evapo_saturation(weather->tmax_c[index]);
    sum->wind_m_s += cy_evapo_wind_at_two(weather->wind_m_s[index], WIND_HEIGHT_M);
    sum->rh_min_pct += fmin(100, 100 * cy_evapo_saturation(weather->dew_c[index]) / most);
    sum->days++;
}

struct cy_water_air cy_water_memory_air(const struct cy_water_memory *memory, cy_day first,
                                        double from, double to)
{
    struct cy_water_air mean = {0};
    for (int day = 0; day < memory->days; day++) {
        const struct cy_water_air *one = &memory->air[day];
        if (first + day < from || first + day > to)
            continue;
        mean.wind_m_s += one->wind_m_s;
        mean.rh_min_pct += one->rh_min_pct;
        mean.days += one->days;
    }
    if (mean.days > 0) {
        mean.wind_m_s /= mean.days;
        mean.rh_min_pct /= mean.days;
    }
    return mean;
}

double cy_water_reference_mm(bool *combined, const struct cy_weather *weather, int index,
                             double latitude_deg, double elevation_m)
{
    double et_mm = 0;
    *combined = false;
    if (index < 0 || isnan(weather->tmin_c[index]) || isnan(weather->tmax_c[index]))
        return 0;
    *combined = has_air(weather, index) &&
                reference(&et_mm, weather, index, latitude_deg, elevation_m, CY_EVAPO_COMBINATION);
    if (!*combined)
        reference(&et_mm, weather, index, latitude_deg, elevation_m, CY_EVAPO_TEMPERATURE);
    return et_mm;
}

int cy_water_memory_ready(struct cy_water_memory *memory, const struct cy_ensemble *ensemble,
                          uint64_t ensemble_fingerprint, const struct cy_water_inputs *season,
                          double elevation_m)
{
    double latitude_deg = season->stages.latitude_deg;
    uint64_t hash = cy_hash(CY_HASH_START, &ensemble_fingerprint, sizeof ensemble_fingerprint);
    hash = cy_hash_number(cy_hash_number(hash, season->first), season->last);
    hash = cy_hash_number(cy_hash_number(hash, latitude_deg), elevation_m);
    memory->ensemble = ensemble;
    if (memory->count > MANY_COURSES)
        forget_courses(memory);
    if (hash == memory->et_fingerprint)
        return CY_OK;
    memory->days = season->last - season->first + 1;
    free(memory->et_mm);
    free(memory->air);
    memory->et_fingerprint = 0;
    memory->air = cy_zeroed((size_t)memory->days, sizeof *memory->air);
    memory->et_mm =
        cy_zeroed((size_t)ensemble->count * (size_t)memory->days, sizeof *memory->et_mm);
    if (!memory->et_mm || !memory->air)
        return CY_NO_MEMORY;
    double *et_mm = memory->et_mm;
    size_t combined_days = 0;
    for (int member = 0; member < ensemble->count; member++) {
        const struct cy_weather *weather = &ensemble->members[member].weather;
        for (cy_day day = season->first; day <= season->last; day++) {
            bool combined;
            int index = cy_weather_index(weather, day);
            *et_mm++ = cy_water_reference_mm(&combined, weather, index, latitude_deg, elevation_m);
            combined_days += combined;
            if (combined)
                add_air(&memory->air[day - season->first], weather, index);
        }
    }
    memory->combined_share =
        (double)combined_days / ((double)ensemble->count * (double)memory->days);
    memory->et_fingerprint = hash ? hash : 1;
    return CY_OK;
}

/* ---- one member ----------------------------------------------------------------------------- */

/* What the plant draws without stress on a day of such use. */
static double readily_mm(const struct cy_water_inputs *inputs, double etc_mm)
{
    return inputs->taw_mm * cy_water_share_before_stress(inputs->p, etc_mm);
}

/* Whether the plan gives water on a day: from today on, where no station observed the day, and in
 * a round of watering that was done without an amount. */
static bool is_planned(const struct cy_water_inputs *inputs, const struct cy_weather *weather,
                       cy_day day)
{
    int64_t i = (int64_t)day - weather->first;
    return day >= inputs->today || i < 0 || i >= weather->days ||
           weather->origin[i] == CY_ORIGIN_MADE ||
           (inputs->log && inputs->log->watered[day - inputs->log->first]);
}

void cy_water_inputs_coefficients(struct cy_water_inputs *inputs)
{
    for (cy_day day = inputs->first; day <= inputs->last; day++)
        inputs->kc[day - inputs->first] = cy_water_coefficient(&inputs->stages, day);
}

static double use_on(const struct cy_water_inputs *inputs, const double *et_mm, cy_day day)
{
    if (day > inputs->last)
        day = inputs->last;
    return et_mm[day - inputs->first] * inputs->kc[day - inputs->first];
}

/* A member on its way through the season. */
struct running {
    const struct cy_water_inputs *inputs;
    const struct cy_weather *weather;
    const double *et_mm;
    double depletion_mm;    /* on the morning of the day at hand */
    double use_mm, readily; /* of that day */
};

/* What came and went on a day. */
struct passed {
    double start_mm, rain_mm, given_mm, planned_mm, missing_mm;
    struct cy_water_after after;
};

static void pass_day(struct passed *out, struct running *run, cy_day day)
{
    const struct cy_water_inputs *inputs = run->inputs;
    const double next_use_mm = use_on(inputs, run->et_mm, day + 1);
    const double next_readily = readily_mm(inputs, next_use_mm);
    const bool planned = is_planned(inputs, run->weather, day);
    *out = (struct passed){.start_mm = run->depletion_mm,
                           .rain_mm = cy_water_log_rain(inputs->log, run->weather, day),
                           .given_mm = cy_water_log_given(inputs->log, day)};
    /* What is given in the morning ends a stress at once, and keeps tomorrow from it. */
    double now_mm = planned ? run->depletion_mm - run->readily - out->given_mm : 0;
    now_mm = now_mm > 0 ? now_mm : 0;
    double later_mm = planned ? run->depletion_mm - now_mm + run->use_mm - out->rain_mm -
                                    out->given_mm - next_readily
                              : 0;
    later_mm = later_mm > 0 ? later_mm : 0;
    out->planned_mm = now_mm + later_mm;
    /* Stress is that of the morning, once it was watered. */
    const struct cy_water_day one = {
        .taw_mm = inputs->taw_mm,
        .p = run->readily / inputs->taw_mm,
        .depletion_mm = run->depletion_mm - now_mm,
        .et_mm = run->et_mm[day - inputs->first],
        .kc = inputs->kc[day - inputs->first],
        .rain_mm = out->rain_mm,
        .irrigation_mm = out->given_mm + later_mm,
    };
    out->after = cy_water_balance(&one);
    if (!planned && out->after.depletion_mm > next_readily)
        out->missing_mm = out->after.depletion_mm - next_readily;
    run->depletion_mm = out->after.depletion_mm;
    run->use_mm = next_use_mm;
    run->readily = next_readily;
}

/* Of observed days that are over a week needs what is missing at its end: it is nobody's to give
 * any more. */
static void add_day(struct cy_water_member_week *week, const struct passed *day, double et_mm,
                    bool begins, bool ends)
{
    if (begins)
        week->start_mm = day->start_mm;
    week->et_mm += et_mm;
    week->use_mm += day->after.eta_mm;
    week->rain_mm += day->rain_mm;
    week->drained_mm += day->after.drainage_mm;
    week->given_mm += day->given_mm;
    week->planned_mm += day->planned_mm;
    week->need_mm += day->planned_mm + (ends ? day->missing_mm : 0);
    week->depletion_mm = day->after.depletion_mm;
}

void cy_water_member(struct cy_water_tally *out, struct cy_water_member_week *weeks,
                     double *today_mm, const struct cy_water_inputs *inputs,
                     const struct cy_weather *weather, const double *et_mm)
{
    const cy_day from = inputs->stages.from;
    struct running run = {.inputs = inputs, .weather = weather, .et_mm = et_mm};
    run.use_mm = use_on(inputs, et_mm, from);
    run.readily = readily_mm(inputs, run.use_mm);
    /* Young plants are watered in; grown ones are taken to end a season at the edge of what they
     * draw without stress, and winter's rain fills the store again. */
    run.depletion_mm = from > inputs->first ? 0 : run.readily;
    *out = (struct cy_water_tally){.start_mm = run.depletion_mm};
    for (cy_day day = from; day <= inputs->last; day++) {
        struct passed passed;
        pass_day(&passed, &run, day);
        out->rain_mm += passed.rain_mm;
        out->given_mm += passed.given_mm;
        out->planned_mm += passed.planned_mm;
        out->use_mm += passed.after.eta_mm;
        out->drained_mm += passed.after.drainage_mm;
        if (today_mm && day == inputs->today)
            *today_mm = passed.after.depletion_mm;
        const int of_week = (day - inputs->monday) % 7;
        if (weeks)
            add_day(&weeks[(day - inputs->monday) / 7], &passed, et_mm[day - inputs->first],
                    of_week == 0 || day == from, of_week == 6 || day == inputs->last);
    }
    out->end_mm = run.depletion_mm;
}

/* ---- the inch a week ------------------------------------------------------------------------ */

static void inch_weeks(double *inch_mm, const struct cy_water_inputs *inputs,
                       const struct cy_weather *weather)
{
    double held_mm = 0;
    for (int week = 0; week < inputs->weeks; week++) {
        cy_day monday = inputs->monday + 7 * week;
        cy_day from = monday < inputs->stages.from ? inputs->stages.from : monday;
        cy_day to = monday + 6 < inputs->last ? monday + 6 : inputs->last;
        struct cy_water_week one = {.storage_mm = inputs->taw_mm, .held_mm = held_mm};
        if (from > to)
            continue;
        one.need_mm = CY_WATER_WEEK_MM * (to - from + 1) / 7;
        for (cy_day day = from; day <= to; day++)
            one.rain_mm +=
                cy_water_log_rain(inputs->log, weather, day) + cy_water_log_given(inputs->log, day);
        struct cy_water_week_need need = cy_water_week_need(&one);
        held_mm = need.held_mm;
        inch_mm[week] = need.net_mm;
    }
}

/* ---- all members ---------------------------------------------------------------------------- */

static uint64_t hash_inputs(const struct cy_water_memory *memory,
                            const struct cy_water_inputs *inputs)
{
    const struct cy_water_stages *stages = &inputs->stages;
    const double numbers[] = {
        stages->use,        stages->second_year, stages->from,        stages->wakes,  stages->full,
        stages->fades,      stages->falls,       stages->shift,       inputs->taw_mm, inputs->p,
        inputs->first_year, inputs->today,       inputs->log ? 1 : 0,
    };
    uint64_t hash = cy_hash(CY_HASH_START, &memory->et_fingerprint, sizeof(uint64_t));
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++)
        hash = cy_hash_number(hash, numbers[i]);
    for (int i = 0; inputs->log && i < inputs->log->days; i++) {
        const struct cy_water_log *log = inputs->log;
        if (isnan(log->rain_mm[i]) && log->given_mm[i] == 0 && !log->watered[i])
            continue;
        hash = cy_hash_number(hash, i);
        hash = cy_hash_number(hash, isnan(log->rain_mm[i]) ? -1 : log->rain_mm[i]);
        hash = cy_hash_number(hash, log->given_mm[i]);
        hash = cy_hash_number(hash, log->watered[i]);
    }
    return hash ? hash : 1;
}

static void add_means(struct cy_water_row_week *week, const struct cy_water_member_week *one,
                      int count)
{
    week->et_mm += one->et_mm / count;
    week->use_mm += one->use_mm / count;
    week->rain_mm += one->rain_mm / count;
    week->drained_mm += one->drained_mm / count;
    week->given_mm += one->given_mm / count;
    week->planned_mm += one->planned_mm / count;
    week->start_mm += one->start_mm / count;
    week->end_mm += one->depletion_mm / count;
}

/* The mean coefficient of the days that the balance counts, and whether its end lies ahead. */
static void date_week(struct cy_water_course *out, int week, const struct cy_water_inputs *inputs,
                      const struct cy_weather *weather)
{
    cy_day monday = inputs->monday + 7 * week, from = monday, to = monday + 6;
    from = from < inputs->stages.from ? inputs->stages.from : from;
    to = to > inputs->last ? inputs->last : to;
    out->weeks[week].monday = monday;
    out->ahead[week] = from <= to && is_planned(inputs, weather, to);
    for (cy_day day = from; day <= to; day++) {
        out->weeks[week].kc += inputs->kc[day - inputs->first] / (to - from + 1);
        out->given_mm[week] += cy_water_log_given(inputs->log, day);
    }
}

static double share_dry(const double *sorted, int count)
{
    int dry = 0;
    for (int i = 0; i < count; i++)
        dry += sorted[i] >= CY_WATER_DRY_MM;
    return (double)dry / count;
}

/* One week's spread, from `depletion` by member. */
static void gather_week(struct cy_water_course *out, int week, double *scratch,
                        const double *depletion_mm)
{
    size_t count = (size_t)out->members;
    struct cy_water_row_week *into = &out->weeks[week];
    for (size_t i = 0; i < count; i++)
        scratch[i] = out->need_mm[i * CY_WATER_WEEKS + (size_t)week];
    into->need_mm = cy_figure_of(scratch, count, CY_BASIS_NONE);
    into->need_share = share_dry(scratch, out->members);
    into->inch_mm = (struct cy_figure){.p10 = NAN, .p50 = NAN, .p90 = NAN};
    for (size_t i = 0; out->inch_mm && i < count; i++)
        scratch[i] = out->inch_mm[i * CY_WATER_WEEKS + (size_t)week];
    if (out->inch_mm) {
        into->inch_mm = cy_figure_of(scratch, count, CY_BASIS_NONE);
        into->inch_share = share_dry(scratch, out->members);
    }
    for (size_t i = 0; i < count; i++)
        scratch[i] = depletion_mm[i * CY_WATER_WEEKS + (size_t)week];
    into->depletion_mm = cy_figure_of(scratch, count, CY_BASIS_NONE);
}

struct scratch {
    double *depletion_mm; /* members x weeks */
    double *one, *today_mm, *season_mm;
};

static void run_members(struct cy_water_course *out, const struct cy_water_memory *memory,
                        const struct cy_water_inputs *inputs, struct scratch *scratch)
{
    for (int member = 0; member < out->members; member++) {
        struct cy_water_member_week weeks[CY_WATER_WEEKS] = {0};
        struct cy_water_tally tally;
        const struct cy_weather *weather = &memory->ensemble->members[member].weather;
        size_t at = (size_t)member * CY_WATER_WEEKS;
        scratch->today_mm[member] = NAN;
        cy_water_member(&tally, weeks, &scratch->today_mm[member], inputs, weather,
                        memory->et_mm + (size_t)member * (size_t)memory->days);
        scratch->season_mm[member] = tally.given_mm + tally.planned_mm;
        for (int week = 0; week < inputs->weeks; week++) {
            add_means(&out->weeks[week], &weeks[week], out->members);
            out->need_mm[at + (size_t)week] = weeks[week].need_mm;
            scratch->depletion_mm[at + (size_t)week] = weeks[week].depletion_mm;
        }
        if (out->inch_mm)
            inch_weeks(out->inch_mm + at, inputs, weather);
    }
}

static void gather(struct cy_water_course *out, const struct cy_water_memory *memory,
                   const struct cy_water_inputs *inputs, struct scratch *scratch)
{
    size_t count = (size_t)out->members;
    bool has_today = inputs->today >= inputs->stages.from && inputs->today <= inputs->last;
    const struct cy_figure none = {.p10 = NAN, .p50 = NAN, .p90 = NAN};
    for (int week = 0; week < inputs->weeks; week++) {
        date_week(out, week, inputs, &memory->ensemble->members[0].weather);
        gather_week(out, week, scratch->one, scratch->depletion_mm);
    }
    out->today_mm = has_today ? cy_figure_of(scratch->today_mm, count, CY_BASIS_NONE) : none;
    out->season_mm = cy_figure_of(scratch->season_mm, count, CY_BASIS_NONE);
    out->today_kept_mm = NAN;
    if (!has_today)
        return;
    double use_mm = 0;
    for (size_t i = 0; i < count; i++)
        use_mm +=
            use_on(inputs, memory->et_mm + i * (size_t)memory->days, inputs->today) / (double)count;
    out->today_kept_mm = readily_mm(inputs, use_mm);
}

static struct cy_water_course *work_out(const struct cy_water_memory *memory,
                                        const struct cy_water_inputs *inputs)
{
    size_t count = (size_t)memory->ensemble->count;
    struct cy_water_course *out = cy_zeroed(1, sizeof *out);
    struct scratch scratch = {cy_zeroed(count, CY_WATER_WEEKS * sizeof(double)),
                              cy_zeroed(count, sizeof(double)), cy_zeroed(count, sizeof(double)),
                              cy_zeroed(count, sizeof(double))};
    bool fine = out && scratch.depletion_mm && scratch.one && scratch.today_mm && scratch.season_mm;
    if (out) {
        out->members = (int)count;
        out->need_mm = cy_zeroed(count, CY_WATER_WEEKS * sizeof *out->need_mm);
        if (inputs->first_year)
            out->inch_mm = cy_zeroed(count, CY_WATER_WEEKS * sizeof *out->inch_mm);
        fine = fine && out->need_mm && (out->inch_mm || !inputs->first_year);
    }
    if (fine) {
        run_members(out, memory, inputs, &scratch);
        gather(out, memory, inputs, &scratch);
    }
    free(scratch.depletion_mm);
    free(scratch.one);
    free(scratch.today_mm);
    free(scratch.season_mm);
    if (fine)
        return out;
    course_free(out);
    return NULL;
}

const struct cy_water_course *cy_water_course_of(struct cy_water_memory *memory,
                                                 const struct cy_water_inputs *inputs)
{
    uint64_t fingerprint = hash_inputs(memory, inputs);
    for (size_t i = 0; i < memory->count; i++)
        if (memory->courses[i]->fingerprint == fingerprint)
            return memory->courses[i];
    struct cy_water_course *course = work_out(memory, inputs);
    if (!course ||
        !cy_grow(&memory->courses, &memory->capacity, memory->count, sizeof *memory->courses)) {
        course_free(course);
        return NULL;
    }
    course->fingerprint = fingerprint;
    memory->courses[memory->count++] = course;
    memory->worked_out++;
    return course;
}
