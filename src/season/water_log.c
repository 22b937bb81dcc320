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

static int gather(const struct cy_thing ***out, size_t *count, const struct cy_plan *plan,
                  enum cy_kind kind)
{
    struct cy_records records;
    int status = cy_records_gather(&records, &plan->farm, kind);
    if (status != CY_OK)
        return status;
    *out = cy_zeroed(records.count, sizeof **out);
    for (size_t i = 0; *out && i < records.count; i++)
        if (counts(plan, records.items[i].thing))
            (*out)[(*count)++] = records.items[i].thing;
    cy_records_dispose(&records);
    return *out ? CY_OK : CY_NO_MEMORY;
}

int cy_water_notes_gather(struct cy_water_notes *out, const struct cy_plan *plan)
{
    *out = (struct cy_water_notes){0};
    int status = gather(&out->seen, &out->seen_count, plan, CY_KIND_SEEN);
    if (status == CY_OK)
        status = gather(&out->done, &out->done_count, plan, CY_KIND_DONE);
    if (status != CY_OK)
        cy_water_notes_dispose(out);
    return status;
}

void cy_water_notes_dispose(struct cy_water_notes *notes)
{
    free(notes->seen);
    free(notes->done);
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

/* How far a note reaches: the whole farm, a zone, a row. The nearer one counts of rain. */
enum reach { OTHERS, FARM, ZONE, ROW };

static enum reach reach_of(const struct cy_thing *note, const struct cy_thing *row)
{
    const char *on_row = cy_string(note, CY_SEEN_ROW), *on_zone = cy_string(note, CY_SEEN_ZONE);
    if (*on_row)
        return cy_streq(on_row, row->key) ? ROW : OTHERS;
    if (*on_zone)
        return cy_streq(on_zone, cy_string(row, CY_ROW_ZONE)) ? ZONE : OTHERS;
    return FARM;
}

static double strip_m2(const struct cy_plan *plan, const struct cy_thing *row)
{
    const struct cy_thing *zone = cy_referred(&plan->farm, row, CY_ROW_ZONE);
    return cy_number(row, CY_ROW_LENGTH) * cy_number(zone, CY_ZONE_WIDTH);
}

static double zone_strip_m2(const struct cy_plan *plan, const char *zone)
{
    double sum = 0;
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(&plan->farm, CY_KIND_ROW, 0, row));)
        if (cy_streq(cy_string(row, CY_ROW_ZONE), zone))
            sum += strip_m2(plan, row);
    return sum;
}

/* What reached the roots; NaN where the note does not tell a depth. */
static double depth_given(const struct cy_plan *plan, const struct cy_thing *note,
                          const struct cy_thing *row, enum reach reach)
{
    const struct cy_thing *zone = cy_referred(&plan->farm, row, CY_ROW_ZONE);
    double efficiency = cy_number(zone, CY_ZONE_EFFICIENCY);
    double depth_mm = cy_number(note, CY_SEEN_DEPTH);
    double volume_m3 = cy_number(note, CY_SEEN_VOLUME), ran_h = cy_number(note, CY_SEEN_RAN);
    if (!isnan(depth_mm))
        return depth_mm;
    if (!isnan(volume_m3)) {
        double area =
            reach == ROW ? strip_m2(plan, row) : zone_strip_m2(plan, cy_string(note, CY_SEEN_ZONE));
        return area > 0 ? 1000 * volume_m3 * efficiency / area : NAN;
    }
    return ran_h * efficiency * cy_number(zone, CY_ZONE_EMITTER) * cy_number(zone, CY_ZONE_LINES) /
           (cy_number(zone, CY_ZONE_EMITTER_SPACING) * cy_number(zone, CY_ZONE_WIDTH));
}

static void take_given(struct cy_water_log *log, const struct cy_plan *plan,
                       const struct cy_thing *note, const struct cy_thing *row)
{
    enum reach reach = reach_of(note, row);
    if (reach != ROW && reach != ZONE)
        return;
    double depth_mm = depth_given(plan, note, row, reach);
    if (isnan(depth_mm)) {
        log->uncounted++;
        return;
    }
    log->given_mm[cy_date(note, CY_SEEN_DAY) - log->first] += depth_mm;
    log->given_notes++;
}

/* Of two notes of one day the nearer one stands; of two as near, the later. */
static void take_rain(struct cy_water_log *log, const struct cy_water_notes *notes,
                      const struct cy_thing *row)
{
    for (int reach = FARM; reach <= ROW; reach++)
        for (size_t i = 0; i < notes->seen_count; i++) {
            const struct cy_thing *note = notes->seen[i];
            if (cy_choice(note, CY_SEEN_WHAT) != CY_SIGHT_RAIN ||
                reach_of(note, row) != (enum reach)reach)
                continue;
            double *rain = &log->rain_mm[cy_date(note, CY_SEEN_DAY) - log->first];
            log->rain_notes += isnan(*rain);
            *rain = cy_number(note, CY_SEEN_DEPTH);
        }
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
    if (!cy_streq(cy_string(done, CY_DONE_ROW), facts->row->key))
        return;
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
    take_rain(log, notes, facts->row);
    for (size_t i = 0; i < notes->seen_count; i++)
        if (cy_choice(notes->seen[i], CY_SEEN_WHAT) == CY_SIGHT_GIVEN)
            take_given(log, plan, notes->seen[i], facts->row);
    for (size_t i = 0; i < notes->done_count; i++)
        take_done(log, plan, notes->done[i], facts);
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
