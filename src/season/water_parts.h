/* SPDX-License-Identifier: MIT
 * What the files of the season's water share with one another and with nobody else. */
#ifndef SEASON_WATER_PARTS_H
#define SEASON_WATER_PARTS_H

#include <caneyear/season/water.h>

#include "season/plan_parts.h"

/* water_use.c: the stages of a row by the middle dates of its cohorts. */
void cy_water_stages_of(struct cy_water_stages *out, const struct cy_plan *plan,
                        const struct cy_plan_row *row, const struct cy_row_facts *facts);
/* The site's air from full leaf to leaf fall, over the weathers' days that have all of it. */
struct cy_water_air {
    double wind_m_s, rh_min_pct; /* at 2 m; least of the day */
    int days;
};
/* Moves the table's coefficients to that air. */
void cy_water_stages_move(struct cy_water_stages *stages, const struct cy_water_air *air);
/* Whether a row is in its first year of growth or planted late in this season. */
bool cy_water_first_year(const struct cy_plan *plan, const struct cy_row_facts *facts);
/* The rule that drives a row's jobs: the inch of standing rows brings on none. */
enum cy_water_rule cy_water_rule_of(const struct cy_plan *plan, const struct cy_thing *row);

/* water_log.c: what a row's gauge and valves say, by day from `first`. */
struct cy_water_log {
    cy_day first;
    int days;
    double *rain_mm;  /* NaN: the weather's counts */
    double *given_mm; /* that reached the roots */
    bool *watered;    /* days of a round of watering that was done, without an amount */
    int given_notes, rain_notes;
    size_t uncounted;
};

/* The notes of rain and of water given up to today that no later one corrects, and the rounds of
 * watering that were done; by row, those of the farm and of zones first. */
struct cy_water_notes {
    struct cy_records seen, done;
    double *zone_m2; /* by place in `seen`, of a note of a zone: the strips of all rows on it */
};
int cy_water_notes_gather(struct cy_water_notes *out, const struct cy_plan *plan);
void cy_water_notes_dispose(struct cy_water_notes *notes);

int cy_water_log_init(struct cy_water_log *out, cy_day first, int days);
void cy_water_log_dispose(struct cy_water_log *log);
/* Fills the log for a row anew. */
void cy_water_log_fill(struct cy_water_log *log, const struct cy_water_notes *notes,
                       const struct cy_plan *plan, const struct cy_row_facts *facts);
/* Rain on a day, by the gauge where there is one; `log` may be NULL. */
double cy_water_log_rain(const struct cy_water_log *log, const struct cy_weather *weather,
                         cy_day day);
double cy_water_log_given(const struct cy_water_log *log, cy_day day);

#define CY_WATER_DAYS 367 /* of a season, and one behind it */

/* water_course.c: one distinct row's water over all members. */
struct cy_water_inputs {
    struct cy_water_stages stages;
    double taw_mm, p;
    bool first_year;
    cy_day first, last, today, monday; /* of the season; of its first week */
    int weeks;
    const struct cy_water_log *log;
    double kc[CY_WATER_DAYS]; /* by day from `first`, by cy_water_inputs_coefficients */
};
void cy_water_inputs_coefficients(struct cy_water_inputs *inputs);

struct cy_water_course {
    uint64_t fingerprint;
    int members;
    struct cy_water_row_week weeks[CY_WATER_WEEKS];
    struct cy_figure today_mm, season_mm;
    double today_kept_mm;
    bool ahead[CY_WATER_WEEKS];      /* what it needs is still to be given */
    double given_mm[CY_WATER_WEEKS]; /* as written down */
    double *need_mm, *inch_mm;       /* members x CY_WATER_WEEKS; inch_mm NULL but when young */
};

/* The sums of one member's days. */
struct cy_water_tally {
    double start_mm, end_mm; /* depletion */
    double rain_mm, given_mm, planned_mm, use_mm, drained_mm;
};

/* Runs one member; `et_mm` is its reference ET by day from inputs->first. NULL for `weeks` (of
 * CY_WATER_WEEKS) and `today_mm` leaves them out. */
struct cy_water_member_week {
    double need_mm, depletion_mm, start_mm;
    double et_mm, use_mm, rain_mm, drained_mm, given_mm, planned_mm;
};
void cy_water_member(struct cy_water_tally *out, struct cy_water_member_week *weeks,
                     double *today_mm, const struct cy_water_inputs *inputs,
                     const struct cy_weather *weather, const double *et_mm);

/* Reference ET of a day, mm; 0 for a day without temperatures. *combined says whether it is by the
 * combination equation. */
double cy_water_reference_mm(bool *combined, const struct cy_weather *weather, int index,
                             double latitude_deg, double elevation_m);

/* The course of these inputs, remembered or worked out; NULL without memory. Borrowed: it lives
 * until the next cy_water_memory_ready. */
const struct cy_water_course *cy_water_course_of(struct cy_water_memory *memory,
                                                 const struct cy_water_inputs *inputs);
/* Makes ready for the courses of a plan: reference ET of all members over the season. */
int cy_water_memory_ready(struct cy_water_memory *memory, const struct cy_ensemble *ensemble,
                          uint64_t ensemble_fingerprint, const struct cy_water_inputs *season,
                          double elevation_m);
size_t cy_water_memory_worked_out(const struct cy_water_memory *memory);
double cy_water_memory_combined(const struct cy_water_memory *memory); /* share of the days */

/* The means from day to day; `days` 0 where there is nothing. */
struct cy_water_air cy_water_memory_air(const struct cy_water_memory *memory, cy_day first,
                                        double from, double to);

/* water_zones.c: the zones, their sources and turns, from the rows' courses. */
int cy_water_zones(struct cy_plan *plan, const struct cy_water_course *const *courses);

#endif
