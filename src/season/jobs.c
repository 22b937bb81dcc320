/* SPDX-License-Identifier: MIT
 * The jobs: each kind of work is data; here it is spread over the rows of a season. */
#include "season/plan_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>

/* A stage that nearly every weather misses brings on no work. */
#define LIKELY_AT_MOST 0.9
/* Weeks that lack less than a tenth of an inch of the week's inch need no watering. */
#define DRY_WEEK_MM 2.54
/* University of Kentucky slides: an inch of water a week. */
#define WEEK_NEED_MM 25.4

struct expansion {
    struct cy_plan *plan;
    const struct cy_ensemble *ensemble;
    struct cy_plan_row *row;
    struct cy_row_facts facts;
    const struct cy_thing *kind;
    int status;
};

struct window {
    cy_day from, to;
    struct cy_reason reason;
    cy_basis basis;
};

static const struct cy_plan_cohort *new_canes(const struct expansion *x)
{
    const struct cy_plan_cohort *cohort = cy_plan_cohort_of(x->row, x->plan->season);
    return cohort && cohort->role == CY_ROLE_PRIMOCANES ? cohort : NULL;
}

static const struct cy_plan_cohort *old_canes(const struct expansion *x)
{
    const struct cy_plan_cohort *cohort = cy_plan_cohort_of(x->row, x->plan->season - 1);
    return cohort && cohort->role == CY_ROLE_FLORICANES ? cohort : NULL;
}

/* The last floricanes of a row that are spent by a day, or NULL. */
static struct cy_plan_cohort *spent_by(struct cy_plan_row *row, cy_day day)
{
    struct cy_plan_cohort *last = NULL;
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].kept && row->cohorts[i].stage[CY_STAGE_SPENT].p50 <= day)
            last = &row->cohorts[i];
    return last;
}

static bool comes_to_pass(const struct cy_plan_cohort *cohort, enum cy_stage stage)
{
    return cohort && !isnan(cohort->stage[stage].p50) &&
           cohort->stage[stage].never <= LIKELY_AT_MOST;
}

static cy_day rounded(double day)
{
    return (cy_day)floor(day + 0.5);
}

static enum cy_moment opens_with(const struct expansion *x)
{
    return (enum cy_moment)cy_choice(x->kind, CY_JOB_FROM);
}

static bool is_picking(const struct expansion *x)
{
    return opens_with(x) == CY_MOMENT_FIRST_PICK &&
           cy_choice(x->kind, CY_JOB_TO) == CY_MOMENT_LAST_PICK;
}

/* ---- which rows ----------------------------------------------------------------------------- */

static bool is_planted_here(const struct expansion *x)
{
    int planted = x->facts.planted_season;
    return planted == x->plan->season || planted == x->plan->season + 1;
}

/* Planted too late in a season to grow in it, a row is young in the next one; it is thirsty in
 * both. */
static bool is_in_first_year(const struct expansion *x)
{
    int season = x->plan->season;
    return x->facts.planted_season == season ||
           (x->facts.planted_season == season + 1 && x->facts.planted <= x->plan->last);
}

static bool row_is_meant(const struct expansion *x)
{
    switch (cy_choice(x->kind, CY_JOB_ROWS)) {
    case CY_JOB_ROWS_PLANTED:
        return is_planted_here(x);
    case CY_JOB_ROWS_FIRST_YEAR:
        return is_in_first_year(x);
    case CY_JOB_ROWS_STANDING:
        return x->facts.planted_season < x->plan->season;
    case CY_JOB_ROWS_NEW_CANES:
        return new_canes(x) != NULL;
    case CY_JOB_ROWS_OLD_CANES:
        /* Spent canes may be older: the window looks for those that are. */
        return old_canes(x) || opens_with(x) == CY_MOMENT_SPENT_FROM;
    case CY_JOB_ROWS_CROP:
        /* Picking follows whatever the row bears: each crop is looked for later. */
        return old_canes(x) || is_picking(x);
    case CY_JOB_ROWS_AUTUMN_CROP:
        return cy_takes_autumn_crop(&x->facts.traits) && new_canes(x);
    default:
        return true;
    }
}

static bool row_meets_needs(const struct expansion *x)
{
    if (cy_choice(x->kind, CY_JOB_CUTS) == CY_YES && x->facts.fruiting_unknown)
        return false;
    switch (cy_choice(x->kind, CY_JOB_NEEDS)) {
    case CY_JOB_NEEDS_TIPPING:
        return !isnan(x->facts.traits.tip_height_m.value);
    case CY_JOB_NEEDS_TRELLIS:
        return cy_referred(&x->plan->farm, x->facts.row, CY_ROW_TRELLIS) != NULL;
    case CY_JOB_NEEDS_MOWING:
        return x->facts.traits.cropping == CY_CROPPING_AUTUMN;
    case CY_JOB_NEEDS_CANES_KEPT:
        /* Where nobody knows which canes have fruited, nobody knows which are spent. */
        return x->facts.traits.cropping != CY_CROPPING_AUTUMN && !x->facts.fruiting_unknown;
    default:
        return true;
    }
}

/* ---- windows -------------------------------------------------------------------------------- */

struct moment {
    cy_day day;
    bool stage; /* a stage of the canes: the figure below is its date */
    enum cy_stage which;
    struct cy_figure figure;
    cy_basis basis;
};

static bool stage_moment(struct moment *out, const struct cy_plan_cohort *cohort,
                         enum cy_stage stage, bool opening, bool rounds)
{
    if (!comes_to_pass(cohort, stage))
        return false;
    const struct cy_figure *figure = &cohort->stage[stage];
    double day = rounds ? figure->p50 : opening ? figure->p10 : figure->p90;
    *out = (struct moment){rounded(day), true, stage, *figure, figure->basis};
    return true;
}

static bool practice_moment(struct moment *out, const struct expansion *x, bool opening,
                            enum cy_field from_field, enum cy_field to_field)
{
    cy_day from, to;
    if (!cy_practice_window(&from, &to, &x->facts, x->plan->season, from_field, to_field))
        return false;
    *out = (struct moment){.day = opening ? from : to,
                           .basis = cy_given(x->facts.practice, from_field).basis |
                                    cy_given(x->facts.practice, to_field).basis};
    if (from_field == CY_PRACTICE_SPENT_FROM)
        return spent_by(x->row, to) != NULL;
    return true;
}

static bool date_moment(struct moment *out, const struct expansion *x, enum cy_field field)
{
    struct cy_given date = cy_given(x->kind, field);
    if (!date.known)
        return false;
    *out = (struct moment){.day = cy_season_day(x->plan->latitude_deg, x->plan->season,
                                                (int)date.number, date.basis != CY_BASIS_GROWER),
                           .basis = date.basis};
    return true;
}

static bool moment_of(struct moment *out, const struct expansion *x, enum cy_moment moment,
                      bool opening, bool rounds)
{
    const struct cy_plan_cohort *young = new_canes(x), *old = old_canes(x);
    switch (moment) {
    case CY_MOMENT_DATE:
        return date_moment(out, x, opening ? CY_JOB_FROM_DATE : CY_JOB_TO_DATE);
    case CY_MOMENT_SEASON_START:
        *out = (struct moment){.day = x->plan->first, .basis = CY_BASIS_PRACTICE};
        return true;
    case CY_MOMENT_SEASON_END:
        *out = (struct moment){.day = x->plan->last, .basis = CY_BASIS_PRACTICE};
        return true;
    case CY_MOMENT_PLANTING:
        *out = (struct moment){.day = x->facts.planted,
                               .basis = cy_given(x->facts.row, CY_ROW_PLANTED).basis};
        return x->facts.planted != CY_DAY_NONE;
    case CY_MOMENT_EMERGENCE:
        return stage_moment(out, young, CY_STAGE_EMERGENCE, opening, rounds);
    case CY_MOMENT_TIP:
        return stage_moment(out, young, CY_STAGE_TIP, opening, rounds);
    case CY_MOMENT_LATERALS:
        return stage_moment(out, young, CY_STAGE_LATERALS, opening, rounds);
    case CY_MOMENT_DORMANT:
        return stage_moment(out, young, CY_STAGE_DORMANT, opening, rounds);
    case CY_MOMENT_BUD_BREAK:
        return stage_moment(out, old, CY_STAGE_BUD_BREAK, opening, rounds);
    case CY_MOMENT_BLOOM:
        return stage_moment(out, old, CY_STAGE_BLOOM, opening, rounds);
    case CY_MOMENT_FIRST_PICK:
        return stage_moment(out, old, CY_STAGE_FIRST_PICK, opening, rounds);
    case CY_MOMENT_LAST_PICK:
        return stage_moment(out, old, CY_STAGE_LAST_PICK, opening, rounds);
    case CY_MOMENT_AUTUMN_FIRST_PICK:
        return stage_moment(out, young, CY_STAGE_AUTUMN_FIRST_PICK, opening, rounds);
    case CY_MOMENT_AUTUMN_LAST_PICK:
        return stage_moment(out, young, CY_STAGE_AUTUMN_LAST_PICK, opening, rounds);
    case CY_MOMENT_SPENT_FROM:
    case CY_MOMENT_SPENT_TO:
        return practice_moment(out, x, moment == CY_MOMENT_SPENT_FROM, CY_PRACTICE_SPENT_FROM,
                               CY_PRACTICE_SPENT_TO);
    case CY_MOMENT_THIN_FROM:
    case CY_MOMENT_THIN_TO:
        return practice_moment(out, x, moment == CY_MOMENT_THIN_FROM, CY_PRACTICE_THIN_FROM,
                               CY_PRACTICE_THIN_TO);
    }
    return false;
}

static struct cy_reason reason_of(const struct expansion *x, enum cy_moment moment,
                                  const struct moment *opening, const struct moment *closing)
{
    struct cy_reason reason = {.stage = opening->which,
                               .figure = opening->figure,
                               .closing = closing->figure,
                               .days = cy_number(x->kind, CY_JOB_FROM_DAYS),
                               .height_m = x->facts.traits.tip_height_m.value,
                               .day = x->facts.planted};
    if (opening->stage && opening->which == CY_STAGE_TIP)
        reason.kind = CY_REASON_TIP;
    else if (opening->stage)
        reason.kind = CY_REASON_STAGE;
    else if (moment == CY_MOMENT_PLANTING)
        reason.kind = CY_REASON_PLANTING;
    else if (moment >= CY_MOMENT_SPENT_FROM)
        reason.kind = CY_REASON_PRACTICE;
    else
        reason.kind = CY_REASON_DATE;
    return reason;
}

static bool window_between(struct window *out, const struct expansion *x, enum cy_moment from,
                           enum cy_moment to, bool rounds)
{
    struct moment opening, closing;
    if (!moment_of(&opening, x, from, true, rounds) || !moment_of(&closing, x, to, false, rounds))
        return false;
    out->from = opening.day + (cy_day)cy_number(x->kind, CY_JOB_FROM_DAYS);
    out->to = closing.day + (cy_day)cy_number(x->kind, CY_JOB_TO_DAYS);
    out->reason = reason_of(x, from, &opening, &closing);
    out->basis = opening.basis | closing.basis | cy_given(x->kind, CY_JOB_FROM_DAYS).basis |
                 cy_given(x->kind, CY_JOB_TO_DAYS).basis;
    return out->to >= out->from;
}

/* ---- jobs ----------------------------------------------------------------------------------- */

static double hours_of(const struct expansion *x, cy_basis *basis)
{
    struct cy_given rate = cy_given(x->kind, CY_JOB_RATE);
    struct cy_given fixed = cy_given(x->kind, CY_JOB_FIXED);
    if (!rate.known && !fixed.known)
        return NAN;
    double hours = 0;
    if (rate.known) {
        hours += rate.number * x->facts.length_m;
        *basis |= rate.basis | cy_given(x->facts.row, CY_ROW_LENGTH).basis;
    }
    if (fixed.known) {
        hours += fixed.number;
        *basis |= fixed.basis;
    }
    return hours;
}

static char *key_of(const struct expansion *x, int season, int round)
{
    struct cy_text key = {0};
    cy_text_add(&key, x->kind->key);
    cy_text_add_char(&key, '.');
    cy_text_add(&key, x->facts.row->key);
    cy_text_add_char(&key, '.');
    cy_text_add_int(&key, season);
    if (round > 1) {
        cy_text_add_char(&key, '.');
        cy_text_add_int(&key, round);
    }
    char *copy = key.failed ? NULL : cy_strdup(cy_text_get(&key));
    cy_text_dispose(&key);
    return copy;
}

static void add_job(struct expansion *x, const struct window *window, int season, int round)
{
    struct cy_plan *plan = x->plan;
    if (x->status != CY_OK)
        return;
    char *key = key_of(x, season, round);
    if (!key || !cy_grow(&plan->jobs, &plan->job_capacity, plan->job_count, sizeof *plan->jobs)) {
        free(key);
        x->status = CY_NO_MEMORY;
        return;
    }
    struct cy_plan_job *job = &plan->jobs[plan->job_count++];
    *job = (struct cy_plan_job){
        .key = key,
        .kind = x->kind->id,
        .row = x->facts.row->id,
        .kind_key = x->kind->key,
        .row_key = x->facts.row->key,
        .season = season,
        .round = round,
        .from = window->from,
        .to = window->to,
        .urgent = cy_choice(x->kind, CY_JOB_URGENT) == CY_YES,
        .done_on = CY_DAY_NONE,
        .reason = window->reason,
        .basis = window->basis,
    };
    job->hours = hours_of(x, &job->basis);
}

static bool touches_season(const struct expansion *x, const struct window *window)
{
    return window->from <= x->plan->last && window->to >= x->plan->first;
}

/* Rounds every few days, 0 for a single one; the last is cut off where the window closes. */
static int add_rounds(struct expansion *x, const struct window *window, double every, int round)
{
    cy_day step = every > 0 && every < 1 ? 1 : rounded(every);
    for (cy_day day = window->from; day <= window->to; day += step) {
        struct window one = *window;
        one.from = day;
        if (step > 0 && day + step - 1 < window->to)
            one.to = day + step - 1;
        add_job(x, &one, x->plan->season, round++);
        if (step <= 0)
            break;
    }
    return round;
}

/* Picking follows each crop that the row bears in the season. */
static void add_picking(struct expansion *x)
{
    static const enum cy_moment crops[][2] = {
        {CY_MOMENT_FIRST_PICK, CY_MOMENT_LAST_PICK},
        {CY_MOMENT_AUTUMN_FIRST_PICK, CY_MOMENT_AUTUMN_LAST_PICK},
    };
    struct cy_given every = cy_given(x->kind, CY_JOB_EVERY);
    if (!every.is_set)
        every = cy_given(x->facts.practice, CY_PRACTICE_PICK_EVERY);
    int round = 1;
    for (int crop = 0; crop < 2; crop++) {
        struct window window;
        if (!window_between(&window, x, crops[crop][0], crops[crop][1], true))
            continue;
        window.reason.kind = CY_REASON_PICKING;
        window.reason.days = every.number;
        window.basis |= every.basis;
        round = add_rounds(x, &window, every.number, round);
    }
}

/* How much of the week's inch of water the rain leaves missing, over the members. */
static double short_of_rain(struct cy_figure *out, const struct cy_ensemble *ensemble, cy_day from,
                            double *missing)
{
    int dry = 0;
    for (int member = 0; member < ensemble->count; member++) {
        const struct cy_weather *weather = &ensemble->members[member].weather;
        double rain = 0;
        for (cy_day day = from; day < from + 7; day++) {
            int i = cy_weather_index(weather, day);
            rain += i < 0 ? 0 : weather->rain_mm[i];
        }
        missing[member] = rain < WEEK_NEED_MM ? WEEK_NEED_MM - rain : 0;
        dry += missing[member] >= DRY_WEEK_MM;
    }
    size_t count = (size_t)ensemble->count;
    cy_sort(missing, count);
    *out = (struct cy_figure){.p10 = cy_quantile(missing, count, 0.1),
                              .p50 = cy_quantile(missing, count, 0.5),
                              .p90 = cy_quantile(missing, count, 0.9)};
    return (double)dry / ensemble->count;
}

static void add_dry_weeks(struct expansion *x, const struct window *window)
{
    double *missing = cy_zeroed((size_t)x->ensemble->count, sizeof *missing);
    if (!missing) {
        x->status = CY_NO_MEMORY;
        return;
    }
    cy_basis weather = cy_plan_weather_basis(x->plan);
    int round = 1;
    for (cy_day day = window->from; day <= window->to; day += 7, round++) {
        struct window week = *window;
        week.from = day;
        week.to = day + 6 < window->to ? day + 6 : window->to;
        week.reason.kind = CY_REASON_DRY_WEEK;
        week.reason.share = short_of_rain(&week.reason.figure, x->ensemble, day, missing);
        week.basis |= CY_BASIS_PUBLISHED | weather;
        if (week.reason.figure.p50 >= DRY_WEEK_MM && touches_season(x, &week))
            add_job(x, &week, x->plan->season, round);
    }
    free(missing);
}

/* Work before planting belongs to the season of planting; what should be over is shown as well,
 * because it is late as long as nobody has done it. */
static void add_planting_work(struct expansion *x, const struct window *window)
{
    bool ahead = x->facts.planted_season == x->plan->season || touches_season(x, window);
    if (ahead)
        add_job(x, window, x->facts.planted_season, 1);
}

/* Nothing is done to a row before it is planted, nor tipped after the grower's last day for it.
 * False where nothing is left of the window. */
static bool cut_window(struct window *window, const struct expansion *x)
{
    cy_day planted = x->facts.planted;
    if (opens_with(x) != CY_MOMENT_PLANTING && planted != CY_DAY_NONE && window->from < planted)
        window->from = planted;
    struct cy_given cutoff = cy_given(x->facts.practice, CY_PRACTICE_TIP_CUTOFF);
    if (cy_choice(x->kind, CY_JOB_NEEDS) == CY_JOB_NEEDS_TIPPING && cutoff.is_set) {
        cy_day last = cy_season_day(x->plan->latitude_deg, x->plan->season, (int)cutoff.number,
                                    cutoff.basis != CY_BASIS_GROWER);
        window->to = window->to < last ? window->to : last;
        window->basis |= cutoff.basis;
    }
    return window->from <= window->to;
}

static void expand(struct expansion *x)
{
    enum cy_moment to = (enum cy_moment)cy_choice(x->kind, CY_JOB_TO);
    double every = cy_number(x->kind, CY_JOB_EVERY);
    struct window window;
    if (!row_is_meant(x) || !row_meets_needs(x))
        return;
    if (is_picking(x)) {
        add_picking(x);
        return;
    }
    bool weekly = cy_choice(x->kind, CY_JOB_NEEDS) == CY_JOB_NEEDS_DRY_WEEK;
    if (!window_between(&window, x, opens_with(x), to, weekly || every > 0) ||
        !cut_window(&window, x))
        return;
    if (weekly)
        add_dry_weeks(x, &window);
    else if (cy_choice(x->kind, CY_JOB_ROWS) == CY_JOB_ROWS_PLANTED)
        add_planting_work(x, &window);
    else if (touches_season(x, &window))
        add_rounds(x, &window, every, 1);
}

/* ---- what is done --------------------------------------------------------------------------- */

/* Of the jobs that a record may mean, the round it names, or the one nearest to its day. */
static struct cy_plan_job *job_meant(struct cy_plan *plan, const struct cy_thing *record)
{
    const struct cy_thing *row = cy_referred(&plan->farm, record, CY_DONE_ROW);
    const struct cy_thing *kind = cy_referred(&plan->farm, record, CY_DONE_JOB);
    struct cy_given season = cy_given(record, CY_DONE_SEASON);
    struct cy_given round = cy_given(record, CY_DONE_ROUND);
    cy_day day = cy_date(record, CY_DONE_DAY);
    struct cy_plan_job *best = NULL;
    int best_distance = 0;
    /* A plan holds this season's jobs, and the next one's that prepare a planting. */
    if (season.is_set && season.number != plan->season && season.number != plan->season + 1)
        return NULL;
    for (size_t i = 0; row && kind && i < plan->job_count; i++) {
        struct cy_plan_job *job = &plan->jobs[i];
        if (job->row != row->id || job->kind != kind->id || job->done ||
            (season.is_set && job->season != (int)season.number) ||
            (round.is_set && job->round != (int)round.number))
            continue;
        int distance = day < job->from ? job->from - day : day > job->to ? day - job->to : 0;
        if (!season.is_set && distance > 60)
            continue;
        if (!best || distance < best_distance) {
            best = job;
            best_distance = distance;
        }
    }
    return best;
}

/* The canes that a job takes away, or NULL. */
static struct cy_plan_cohort *taken_away(struct cy_plan_row *row, const struct cy_thing *kind,
                                         const struct cy_plan_job *job)
{
    if (cy_choice(kind, CY_JOB_FROM) == CY_MOMENT_SPENT_FROM)
        return spent_by(row, job->to);
    if (cy_choice(kind, CY_JOB_NEEDS) != CY_JOB_NEEDS_MOWING)
        return NULL;
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].year == job->season - 1 && !row->cohorts[i].kept)
            return &row->cohorts[i];
    return NULL;
}

/* Canes that were taken out or mown are gone that day, whenever the window would have closed. */
static void take_away(struct cy_plan *plan, const struct cy_plan_job *job)
{
    const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
    for (size_t i = 0; i < plan->row_count; i++) {
        if (plan->rows[i].thing != job->row)
            continue;
        struct cy_plan_cohort *canes = taken_away(&plan->rows[i], kind, job);
        if (canes && canes->gone != CY_DAY_NONE)
            canes->gone = job->done_on;
    }
}

static int mark_done(struct cy_plan *plan)
{
    struct cy_records done;
    int status = cy_records_gather(&done, &plan->farm, CY_KIND_DONE);
    for (size_t i = 0; i < done.count; i++) {
        const struct cy_thing *record = done.items[i].thing;
        struct cy_plan_job *job =
            cy_date(record, CY_DONE_DAY) > plan->today ? NULL : job_meant(plan, record);
        if (job) {
            job->done = true;
            job->done_on = cy_date(record, CY_DONE_DAY);
            take_away(plan, job);
        }
    }
    cy_records_dispose(&done);
    return status;
}

static int by_day(const void *a, const void *b)
{
    const struct cy_plan_job *left = a, *right = b;
    if (left->from != right->from)
        return left->from < right->from ? -1 : 1;
    if (left->to != right->to)
        return left->to < right->to ? -1 : 1;
    return strcmp(left->key, right->key);
}

int cy_plan_jobs(struct cy_plan *plan, const struct cy_ensemble *ensemble)
{
    struct expansion x = {.plan = plan, .ensemble = ensemble, .status = CY_OK};
    for (size_t i = 0; i < plan->row_count && x.status == CY_OK; i++) {
        x.row = &plan->rows[i];
        cy_row_facts_of(&x.facts, &plan->farm, cy_farm_by_id(&plan->farm, x.row->thing),
                        plan->latitude_deg);
        x.kind = NULL;
        while ((x.kind = cy_farm_next(&plan->farm, CY_KIND_JOB, 0, x.kind)))
            expand(&x);
    }
    if (plan->job_count > 1)
        qsort(plan->jobs, plan->job_count, sizeof *plan->jobs, by_day);
    return x.status == CY_OK ? mark_done(plan) : x.status;
}
