/* SPDX-License-Identifier: MIT
 * What was written down of water: rain in a gauge, water given, rounds of watering done. */
#include "season/water_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>

/* ---- the notes ------------------------------------------------------------------------------ */

static bool is_watering(const struct cy_farm *farm, const struct cy_thing *done)
{
    int needs = cy_choice(cy_referred(farm, done, CY_DONE_JOB), CY_JOB_NEEDS);
    return needs == CY_JOB_NEEDS_DRY_WEEK || needs == CY_JOB_NEEDS_BALANCE;
}

static bool counts(const struct cy_plan *plan, const struct cy_thing *thing)
{
    bool seen = thing->kind == CY_KIND_SEEN;
    cy_day day = cy_date(thing, seen ? CY_SEEN_DAY : CY_DONE_DAY);
    if (day == CY_DAY_NONE || day > plan->today || day < plan->first || day > plan->last)
        return false;
    if (!seen)
        return is_watering(&plan->farm, thing);
    int what = cy_choice(thing, CY_SEEN_WHAT);
    return what == CY_SIGHT_RAIN || what == CY_SIGHT_GIVEN;
}

static int gather(struct cy_records *out, const struct cy_plan *plan, enum cy_kind kind)
{
    size_t count = 0;
    int status = cy_records_gather(out, &plan->farm, kind);
    for (size_t i = 0; i < out->count; i++)
        if (counts(plan, out->items[i].thing))
            out->items[count++] = out->items[i];
    out->count = count;
    return status;
}

static double strip_m2(const struct cy_plan *plan, const struct cy_thing *row)
{
    const struct cy_thing *zone = cy_referred(&plan->farm, row, CY_ROW_ZONE);
    return cy_number(row, CY_ROW_LENGTH) * cy_number(zone, CY_ZONE_WIDTH);
}

static double sum_of_strips_m2(const struct cy_plan *plan, const char *zone)
{
    double sum = 0;
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(&plan->farm, CY_KIND_ROW, 0, row));)
        if (cy_streq(cy_string(row, CY_ROW_ZONE), zone))
            sum += strip_m2(plan, row);
    return sum;
}

/* A zone is measured once, for the first note of it. */
static int measure_zones(struct cy_water_notes *notes, const struct cy_plan *plan)
{
    const struct cy_record *wide;
    size_t count = cy_records_of_row(&wide, &notes->seen, "");
    notes->zone_m2 = cy_zeroed(count, sizeof *notes->zone_m2);
    if (!notes->zone_m2)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < count; i++) {
        const char *zone = cy_string(wide[i].thing, CY_SEEN_ZONE);
        size_t first = 0;
        while (first < i && !cy_streq(cy_string(wide[first].thing, CY_SEEN_ZONE), zone))
            first++;
        notes->zone_m2[i] = first < i ? notes->zone_m2[first] : sum_of_strips_m2(plan, zone);
    }
    return CY_OK;
}

int cy_water_notes_gather(struct cy_water_notes *out, const struct cy_plan *plan)
{
    *out = (struct cy_water_notes){0};
    int status = gather(&out->seen, plan, CY_KIND_SEEN);
    if (status == CY_OK)
        status = gather(&out->done, plan, CY_KIND_DONE);
    if (status == CY_OK)
        status = measure_zones(out, plan);
    if (status != CY_OK)
        cy_water_notes_dispose(out);
    return status;
}

void cy_water_notes_dispose(struct cy_water_notes *notes)
{
    cy_records_dispose(&notes->seen);
    cy_records_dispose(&notes->done);
    free(notes->zone_m2);
    *notes = (struct cy_water_notes){0};
}

/* ---- the log of a row ----------------------------------------------------------------------- */

int cy_water_log_init(struct cy_water_log *out, cy_day first, int days)
{
    *out = (struct cy_water_log){.first = first, .days = days};
    out->rain_mm = cy_zeroed((size_t)days, sizeof *out->rain_mm);
    out->given_mm = cy_zeroed((size_t)days, sizeof *out->given_mm);
    out->watered = cy_zeroed((size_t)days, sizeof *out->watered);
    if (out->rain_mm && out->given_mm && out->watered)
        return CY_OK;
    cy_water_log_dispose(out);
    return CY_NO_MEMORY;
}

void cy_water_log_dispose(struct cy_water_log *log)
{
    free(log->rain_mm);
    free(log->given_mm);
    free(log->watered);
    *log = (struct cy_water_log){0};
}

/* What reached the roots, of a note of a row or of its zone; NaN where the note does not tell a
 * depth. */
static double depth_given(const struct cy_plan *plan, const struct cy_thing *note,
                          const struct cy_thing *row, double area_m2)
{
    const struct cy_thing *zone = cy_referred(&plan->farm, row, CY_ROW_ZONE);
    double efficiency = cy_number(zone, CY_ZONE_EFFICIENCY);
    double depth_mm = cy_number(note, CY_SEEN_DEPTH);
    double volume_m3 = cy_number(note, CY_SEEN_VOLUME), ran_h = cy_number(note, CY_SEEN_RAN);
    if (!isnan(depth_mm))
        return depth_mm;
    if (!isnan(volume_m3))
        return area_m2 > 0 ? 1000 * volume_m3 * efficiency / area_m2 : NAN;
    return ran_h * efficiency * cy_number(zone, CY_ZONE_EMITTER) * cy_number(zone, CY_ZONE_LINES) /
           (cy_number(zone, CY_ZONE_EMITTER_SPACING) * cy_number(zone, CY_ZONE_WIDTH));
}

static void take_given(struct cy_water_log *log, const struct cy_plan *plan,
                       const struct cy_thing *note, const struct cy_thing *row, double area_m2)
{
    double depth_mm = depth_given(plan, note, row, area_m2);
    if (isnan(depth_mm)) {
        log->uncounted++;
        return;
    }
    log->given_mm[cy_date(note, CY_SEEN_DAY) - log->first] += depth_mm;
    log->given_notes++;
}

static void take_rain(struct cy_water_log *log, const struct cy_thing *note)
{
    double *rain = &log->rain_mm[cy_date(note, CY_SEEN_DAY) - log->first];
    log->rain_notes += isnan(*rain);
    *rain = cy_number(note, CY_SEEN_DEPTH);
}

static bool is_rain(const struct cy_record *note)
{
    return cy_choice(note->thing, CY_SEEN_WHAT) == CY_SIGHT_RAIN;
}

/* Rain is the farm's, a zone's or a row's: of two notes of one day the nearer one stands; of two
 * as near, the later. Water is given to a zone or a row. */
static void take_seen(struct cy_water_log *log, const struct cy_water_notes *notes,
                      const struct cy_plan *plan, const struct cy_thing *row)
{
    const char *on_zone = cy_string(row, CY_ROW_ZONE);
    const struct cy_record *wide, *own;
    size_t wide_count = cy_records_of_row(&wide, &notes->seen, "");
    size_t own_count = cy_records_of_row(&own, &notes->seen, row->key);
    for (size_t i = 0; i < wide_count; i++)
        if (is_rain(&wide[i]) && !*cy_string(wide[i].thing, CY_SEEN_ZONE))
            take_rain(log, wide[i].thing);
    for (size_t i = 0; *on_zone && i < wide_count; i++)
        if (!cy_streq(cy_string(wide[i].thing, CY_SEEN_ZONE), on_zone))
            continue;
        else if (is_rain(&wide[i]))
            take_rain(log, wide[i].thing);
        else
            take_given(log, plan, wide[i].thing, row, notes->zone_m2[i]);
    for (size_t i = 0; i < own_count; i++)
        if (is_rain(&own[i]))
            take_rain(log, own[i].thing);
        else
            take_given(log, plan, own[i].thing, row, strip_m2(plan, row));
}

/* The first day of the round that a record of work means: its week where it names none. */
static cy_day round_from(const struct cy_plan *plan, const struct cy_thing *done,
                         const struct cy_row_facts *facts)
{
    const struct cy_thing *kind = cy_referred(&plan->farm, done, CY_DONE_JOB);
    struct cy_given round = cy_given(done, CY_DONE_ROUND);
    cy_day day = cy_date(done, CY_DONE_DAY);
    if (!round.is_set)
        return day - cy_day_weekday(day);
    if (cy_choice(kind, CY_JOB_NEEDS) == CY_JOB_NEEDS_BALANCE)
        return plan->first - cy_day_weekday(plan->first) + 7 * ((cy_day)round.number - 1);
    return facts->planted + (cy_day)cy_number(kind, CY_JOB_FROM_DAYS) +
           7 * ((cy_day)round.number - 1);
}

/* A round that was done without an amount written down in its week gave what the week needed. */
static void take_done(struct cy_water_log *log, const struct cy_plan *plan,
                      const struct cy_thing *done, const struct cy_row_facts *facts)
{
    int from = round_from(plan, done, facts) - log->first;
    for (int i = from < 0 ? 0 : from; i < from + 7 && i < log->days; i++)
        if (log->given_mm[i] > 0)
            return;
    for (int i = from < 0 ? 0 : from; i < from + 7 && i < log->days; i++)
        log->watered[i] = true;
}

void cy_water_log_fill(struct cy_water_log *log, const struct cy_water_notes *notes,
                       const struct cy_plan *plan, const struct cy_row_facts *facts)
{
    size_t days = (size_t)log->days;
    for (size_t i = 0; i < days; i++)
        log->rain_mm[i] = NAN;
    memset(log->given_mm, 0, days * sizeof *log->given_mm);
    memset(log->watered, 0, days * sizeof *log->watered);
    log->given_notes = log->rain_notes = 0;
    log->uncounted = 0;
    take_seen(log, notes, plan, facts->row);
    const struct cy_record *done;
    size_t done_count = cy_records_of_row(&done, &notes->done, facts->row->key);
    for (size_t i = 0; i < done_count; i++)
        take_done(log, plan, done[i].thing, facts);
}

double cy_water_log_rain(const struct cy_water_log *log, const struct cy_weather *weather,
                         cy_day day)
{
    int i = cy_weather_index(weather, day);
    double rain_mm = i < 0 ? 0 : weather->rain_mm[i];
    if (!log || day < log->first || day >= log->first + log->days ||
        isnan(log->rain_mm[day - log->first]))
        return rain_mm;
    return log->rain_mm[day - log->first];
}

double cy_water_log_given(const struct cy_water_log *log, cy_day day)
{
    if (!log || day < log->first || day >= log->first + log->days)
        return 0;
    return log->given_mm[day - log->first];
}
