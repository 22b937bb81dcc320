/* SPDX-License-Identifier: MIT
 * The jobs: each kind of work is data; here it is spread over the rows of a season. */
#include "season/job_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/crop/calendar.h>

/* ---- jobs ----------------------------------------------------------------------------------- */

static double hours_of(const struct cy_expansion *x, cy_basis *basis)
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

static char *key_of(const struct cy_expansion *x, int season, int round)
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

static void add_job(struct cy_expansion *x, const struct cy_window *window, int season, int round)
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
    int lost_at = cy_choice(x->kind, CY_JOB_LOST_AT);
    struct cy_plan_job *job = &plan->jobs[plan->job_count++];
    *job = (struct cy_plan_job){
        .key = key,
        .kind = x->kind->id,
        .row = x->facts.row->id,
        .row_place = (size_t)(x->row - x->plan->rows),
        .kind_key = x->kind->key,
        .row_key = x->facts.row->key,
        .season = season,
        .round = round,
        .from = window->from,
        .to = window->to,
        .urgent = cy_choice(x->kind, CY_JOB_URGENT) == CY_YES,
        .done_on = CY_DAY_NONE,
        .lost_on = lost_at >= 0 ? cy_job_day(x, (enum cy_moment)lost_at) : CY_DAY_NONE,
        .planned_from = CY_DAY_NONE,
        .planned_to = CY_DAY_NONE,
        .reason = window->reason,
        .basis = window->basis,
    };
    job->hours = hours_of(x, &job->basis);
}

static bool touches_season(const struct cy_expansion *x, const struct cy_window *window)
{
    return window->from <= x->plan->last && window->to >= x->plan->first;
}

/* Rounds every few days, 0 for a single one; the last is cut off where the window closes. */
static int add_rounds(struct cy_expansion *x, const struct cy_window *window, double every,
                      int round)
{
    cy_day step = every > 0 && every < 1 ? 1 : cy_job_rounded(every);
    for (cy_day day = window->from; day <= window->to; day += step) {
        struct cy_window one = *window;
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
static void add_picking(struct cy_expansion *x)
{
    static const enum cy_moment crops[][2] = {
        {CY_MOMENT_FIRST_PICK, CY_MOMENT_LAST_PICK},
        {CY_MOMENT_AUTUMN_FIRST_PICK, CY_MOMENT_AUTUMN_LAST_PICK},
    };
    struct cy_given every = cy_given(x->kind, CY_JOB_EVERY);
    if (!every.is_set)
        every = cy_given(x->facts.practice, CY_PRACTICE_PICK_EVERY);
    if (every.number >= 1)
        x->row->pick_every_d = cy_job_rounded(every.number);
    int round = 1;
    for (int crop = 0; crop < 2; crop++) {
        struct cy_window window;
        if (!cy_job_window(&window, x, crops[crop][0], crops[crop][1], true))
            continue;
        window.reason.kind = CY_REASON_PICKING;
        window.reason.days = every.number;
        window.basis |= every.basis;
        round = add_rounds(x, &window, every.number, round);
    }
}

/* Gauge and valve of the row: the days of the season, as far as the inch's weeks may reach. */
static int log_of_row(struct cy_water_log *out, const struct cy_expansion *x)
{
    int status = cy_water_log_init(out, x->plan->first, x->plan->last - x->plan->first + 1);
    if (status == CY_OK)
        cy_water_log_fill(out, x->notes, x->plan, &x->facts);
    return status;
}

static void add_dry_weeks(struct cy_expansion *x, const struct cy_window *window)
{
    struct cy_thirst thirst;
    struct cy_water_log log;
    x->status = log_of_row(&log, x);
    if (x->status != CY_OK)
        return;
    x->status = cy_thirst_begin(&thirst, &x->plan->farm, x->ensemble);
    if (x->status != CY_OK) {
        cy_water_log_dispose(&log);
        return;
    }
    thirst.log = &log;
    const struct cy_thing *zone = cy_referred(&x->plan->farm, x->facts.row, CY_ROW_ZONE);
    struct cy_given width = cy_given(zone, CY_ZONE_WIDTH);
    cy_basis behind = cy_plan_weather_basis(x->plan) | thirst.basis;
    if (log.given_notes + log.rain_notes > 0)
        behind |= CY_BASIS_OBSERVED;
    int round = 1;
    for (cy_day day = window->from; day <= window->to; day += 7, round++) {
        struct cy_window week = *window;
        week.from = day;
        week.to = day + 6 < window->to ? day + 6 : window->to;
        week.reason.kind = CY_REASON_DRY_WEEK;
        week.reason.figure = cy_thirst_week(&thirst, day, CY_WATER_DRY_MM, &week.reason.share);
        week.reason.volume_m3 = week.reason.figure.p50 / 1000 * width.number * x->facts.length_m;
        week.basis |= CY_BASIS_PUBLISHED | behind | width.basis;
        if (week.reason.figure.p50 >= CY_WATER_DRY_MM && touches_season(x, &week))
            add_job(x, &week, x->plan->season, round);
    }
    cy_thirst_end(&thirst);
    cy_water_log_dispose(&log);
}

/* Weeks from Monday to Sunday in which the soil lacks water; a round's number is its week's in the
 * season, so that it stays what it is when another week falls away. */
static void add_short_weeks(struct cy_expansion *x, const struct cy_window *window)
{
    const struct cy_water_row *water = &x->plan->water->rows[x->row - x->plan->rows];
    const struct cy_thing *zone = cy_referred(&x->plan->farm, x->facts.row, CY_ROW_ZONE);
    for (int i = 0; water->waters && i < x->plan->water->week_count; i++) {
        const struct cy_water_row_week *need = &water->weeks[i];
        struct cy_window week = *window;
        if (need->need_mm.p50 < CY_WATER_DRY_MM || need->monday + 6 < window->from ||
            need->monday > window->to)
            continue;
        week.from = need->monday < window->from ? window->from : need->monday;
        week.to = need->monday + 6 < window->to ? need->monday + 6 : window->to;
        week.reason.kind = CY_REASON_BALANCE;
        week.reason.figure = need->need_mm;
        week.reason.share = need->need_share;
        week.reason.volume_m3 = need->need_mm.p50 / 1000 * water->strip_m2;
        week.basis |= water->basis | cy_given(zone, CY_ZONE_WIDTH).basis;
        add_job(x, &week, x->plan->season, i + 1);
    }
}

/* Tipping goes by passes, since canes come up over weeks: each is a window of its own, the kind's
 * days counted from the day of the pass. */
static void add_passes(struct cy_expansion *x, const struct cy_window *window)
{
    cy_day early = (cy_day)cy_number(x->kind, CY_JOB_FROM_DAYS);
    cy_day late = (cy_day)cy_number(x->kind, CY_JOB_TO_DAYS);
    struct cy_passes passes;
    x->status =
        cy_row_passes(&passes, x->plan, x->ensemble, &x->facts, cy_job_new_canes(x), &x->frozen);
    if (x->status == CY_INVALID) {
        /* No number of passes keeps to such a bound: one window, as for other work. */
        x->status = CY_OK;
        add_job(x, window, x->plan->season, 1);
        return;
    }
    for (int i = 0; x->status == CY_OK && i < passes.count; i++) {
        struct cy_window pass = *window;
        pass.from = (cy_day)passes.day[i] + early;
        pass.to = (cy_day)passes.day[i] + late;
        if (passes.last != CY_DAY_NONE && pass.to > passes.last)
            pass.to = passes.last;
        if (pass.to < pass.from)
            pass.to = pass.from;
        pass.basis |= passes.basis;
        pass.reason.rounds = passes.count;
        pass.reason.share = passes.missed;
        add_job(x, &pass, x->plan->season, i + 1);
    }
}

/* Laterals are tipped again once they are as long as the practice asks; they are taken to grow as
 * the canes do. */
static void wait_for_laterals(struct cy_window *window, const struct cy_expansion *x)
{
    struct cy_given length = cy_given(x->facts.practice, CY_PRACTICE_LATERAL_TIP);
    const struct cy_trait *growth = &x->facts.traits.growth_m_d;
    cy_day days = cy_job_rounded(length.number / growth->value);
    window->from += days;
    window->to += days;
    window->basis |= length.basis | growth->basis;
    window->reason.kind = CY_REASON_LATERALS;
    window->reason.height_m = length.number;
    window->reason.days = days;
}

/* Work before planting belongs to the season of planting; what should be over is shown as well,
 * because it is late as long as nobody has done it. */
static void add_planting_work(struct cy_expansion *x, const struct cy_window *window)
{
    bool ahead = x->facts.planted_season == x->plan->season || touches_season(x, window);
    if (ahead)
        add_job(x, window, x->facts.planted_season, 1);
}

/* Nothing is done to a row before it is planted. False where nothing is left of the window. */
static bool cut_window(struct cy_window *window, const struct cy_expansion *x)
{
    cy_day planted = x->facts.planted;
    if (cy_job_opens_with(x) != CY_MOMENT_PLANTING && planted != CY_DAY_NONE &&
        window->from < planted)
        window->from = planted;
    return window->from <= window->to;
}

static void expand(struct cy_expansion *x)
{
    enum cy_moment to = (enum cy_moment)cy_choice(x->kind, CY_JOB_TO);
    int needs = cy_choice(x->kind, CY_JOB_NEEDS);
    double every = cy_number(x->kind, CY_JOB_EVERY);
    struct cy_window window;
    if (!cy_job_row_is_meant(x) || !cy_job_row_meets_needs(x))
        return;
    if (cy_job_is_picking(x)) {
        add_picking(x);
        return;
    }
    bool weekly = needs == CY_JOB_NEEDS_DRY_WEEK || needs == CY_JOB_NEEDS_BALANCE;
    if (!cy_job_window(&window, x, cy_job_opens_with(x), to, weekly || every > 0) ||
        !cut_window(&window, x))
        return;
    if (needs == CY_JOB_NEEDS_LATERAL_TIP)
        wait_for_laterals(&window, x);
    if (needs == CY_JOB_NEEDS_DRY_WEEK)
        add_dry_weeks(x, &window);
    else if (needs == CY_JOB_NEEDS_BALANCE)
        add_short_weeks(x, &window);
    else if (needs == CY_JOB_NEEDS_TIPPING && cy_job_opens_with(x) == CY_MOMENT_TIP)
        add_passes(x, &window);
    else if (cy_choice(x->kind, CY_JOB_ROWS) == CY_JOB_ROWS_PLANTED)
        add_planting_work(x, &window);
    else if (touches_season(x, &window))
        add_rounds(x, &window, every, 1);
}

/* ---- what is done --------------------------------------------------------------------------- */

/* The jobs of each row, in their order: those of row i are at places[first[i]] to before
 * places[first[i + 1]]. */
struct jobs_by_row {
    size_t *first, *places;
};

static void jobs_by_row_dispose(struct jobs_by_row *index)
{
    free(index->first);
    free(index->places);
}

static int jobs_by_row_of(struct jobs_by_row *out, const struct cy_plan *plan)
{
    size_t *next = out->first = cy_zeroed(plan->row_count + 2, sizeof *out->first);
    out->places = cy_zeroed(plan->job_count, sizeof *out->places);
    if (!out->first || !out->places)
        return CY_NO_MEMORY;
    /* Counted one further on, so that filling moves each row's next place up to where it ends. */
    for (size_t i = 0; i < plan->job_count; i++)
        next[plan->jobs[i].row_place + 2]++;
    for (size_t row = 0; row < plan->row_count; row++)
        next[row + 2] += next[row + 1];
    for (size_t i = 0; i < plan->job_count; i++)
        out->places[next[plan->jobs[i].row_place + 1]++] = i;
    return CY_OK;
}

/* Of the jobs that a record of a row may mean, the round it names, or that nearest to its day. */
static struct cy_plan_job *job_meant(struct cy_plan *plan, const struct jobs_by_row *index,
                                     size_t row, const struct cy_thing *record)
{
    const struct cy_thing *kind = cy_referred(&plan->farm, record, CY_DONE_JOB);
    struct cy_given season = cy_given(record, CY_DONE_SEASON);
    struct cy_given round = cy_given(record, CY_DONE_ROUND);
    cy_day day = cy_date(record, CY_DONE_DAY);
    struct cy_plan_job *best = NULL;
    int best_distance = 0;
    /* A plan holds this season's jobs, and the next one's that prepare a planting. */
    if (season.is_set && season.number != plan->season && season.number != plan->season + 1)
        return NULL;
    for (size_t i = index->first[row]; kind && i < index->first[row + 1]; i++) {
        struct cy_plan_job *job = &plan->jobs[index->places[i]];
        if (job->kind != kind->id || job->done ||
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
        return cy_job_spent_by(row, job->to);
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
    struct cy_plan_cohort *canes =
        taken_away(&plan->rows[job->row_place], cy_farm_by_id(&plan->farm, job->kind), job);
    if (canes && canes->gone != CY_DAY_NONE)
        canes->gone = job->done_on;
}

static void mark_row(struct cy_plan *plan, const struct jobs_by_row *index, size_t row,
                     const struct cy_records *done)
{
    const struct cy_record *records;
    size_t count = cy_records_of_row(&records, done, plan->rows[row].key);
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *record = records[i].thing;
        struct cy_plan_job *job =
            cy_date(record, CY_DONE_DAY) > plan->today ? NULL : job_meant(plan, index, row, record);
        if (!job)
            continue;
        job->done = true;
        job->done_on = cy_date(record, CY_DONE_DAY);
        take_away(plan, job);
    }
}

static int mark_done(struct cy_plan *plan)
{
    struct cy_records done;
    struct jobs_by_row index = {0};
    int status = cy_records_gather(&done, &plan->farm, CY_KIND_DONE);
    if (status == CY_OK)
        status = jobs_by_row_of(&index, plan);
    for (size_t row = 0; status == CY_OK && row < plan->row_count; row++)
        mark_row(plan, &index, row, &done);
    jobs_by_row_dispose(&index);
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
    struct cy_water_notes notes;
    struct cy_expansion x = {.plan = plan, .ensemble = ensemble, .notes = &notes};
    x.status = cy_water_notes_gather(&notes, plan);
    for (size_t i = 0; i < plan->row_count && x.status == CY_OK; i++) {
        x.row = &plan->rows[i];
        cy_plan_facts_of(&x.facts, plan, cy_farm_by_id(&plan->farm, x.row->thing));
        x.kind = NULL;
        while ((x.kind = cy_farm_next(&plan->farm, CY_KIND_JOB, 0, x.kind)))
            expand(&x);
    }
    cy_water_notes_dispose(&notes);
    if (plan->job_count > 1)
        qsort(plan->jobs, plan->job_count, sizeof *plan->jobs, by_day);
    return x.status == CY_OK ? mark_done(plan) : x.status;
}
