/* SPDX-License-Identifier: MIT
 * Who works on what when: the earliest deadline first, day by day, against the crew's hours. */
#include <caneyear/season/schedule.h>

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>

/* Hours that rounding leaves behind are no work and no capacity. */
#define NO_HOURS 1e-9
#define FAR_DAY 500000000 /* so far no sum of days overflows */
#define CREW_DIGITS 1e-9

/* A task as the rule sees it, once what waits for it has been heard. */
struct turn {
    size_t task;
    bool urgent;
    cy_day due, release;
    size_t depth; /* how many must be finished before */
};

/* What stays the same however many the hands are. */
struct bench {
    const struct cy_schedule_task *tasks;
    size_t count;
    const struct cy_schedule_hours *crew;
    struct turn *turns; /* in the order in which they choose their hours */
    double *free;       /* hours of each day not yet given away */
    size_t *next;       /* next[i]: a day at or after i; itself where it has hours to give */
};

/* ---- the order ------------------------------------------------------------------------------ */

static bool day_is_known(cy_day day)
{
    return day > -FAR_DAY && day < FAR_DAY;
}

static bool hours_are_known(double hours)
{
    return isfinite(hours) && hours >= 0;
}

static bool input_is_whole(const struct bench *bench)
{
    for (size_t i = 0; i < bench->count; i++) {
        const struct cy_schedule_task *task = &bench->tasks[i];
        if (!day_is_known(task->release) || !day_is_known(task->due) ||
            !hours_are_known(task->hours) ||
            (task->after != CY_SCHEDULE_FREE && task->after >= bench->count))
            return false;
    }
    for (size_t i = 0; i < bench->crew->days; i++)
        if (!hours_are_known(bench->crew->hours[i]))
            return false;
    return day_is_known(bench->crew->first) && bench->crew->days < FAR_DAY;
}

/* Who holds up urgent work is urgent, by that work's due day alone; else by the earlier one. */
static void hear_waiting(struct turn *before, const struct turn *waiting)
{
    if (waiting->urgent && !before->urgent) {
        before->urgent = true;
        before->due = waiting->due;
    } else if (waiting->urgent == before->urgent && waiting->due < before->due) {
        before->due = waiting->due;
    }
}

/* Due days from the last tasks to the first, first days the other way. With both in order no task
 * can overtake the one that it waits for, and neither change makes any plan later or earlier:
 * the one before ends no later than the one behind. */
static int pass_along(const struct bench *bench)
{
    size_t *waiting = cy_zeroed(bench->count, sizeof *waiting); /* for this task, not yet heard */
    size_t *order = cy_zeroed(bench->count, sizeof *order);
    size_t heard = 0;
    int status = CY_NO_MEMORY;
    if (!waiting || !order)
        goto out;

    for (size_t i = 0; i < bench->count; i++)
        if (bench->tasks[i].after != CY_SCHEDULE_FREE)
            waiting[bench->tasks[i].after]++;
    for (size_t i = 0; i < bench->count; i++)
        if (waiting[i] == 0)
            order[heard++] = i;
    for (size_t i = 0; i < heard; i++) {
        const size_t before = bench->tasks[order[i]].after;
        if (before == CY_SCHEDULE_FREE)
            continue;
        hear_waiting(&bench->turns[before], &bench->turns[order[i]]);
        if (--waiting[before] == 0)
            order[heard++] = before;
    }
    status = heard == bench->count ? CY_OK : CY_INVALID; /* the rest wait in a ring */
    for (size_t i = heard; status == CY_OK && i-- > 0;) {
        struct turn *turn = &bench->turns[order[i]];
        if (bench->tasks[order[i]].after == CY_SCHEDULE_FREE)
            continue;
        const struct turn *before = &bench->turns[bench->tasks[order[i]].after];
        turn->depth = before->depth + 1;
        if (turn->release < before->release)
            turn->release = before->release;
    }
out:
    free(order);
    free(waiting);
    return status;
}

static int compare_turns(const void *a, const void *b)
{
    const struct turn *x = a, *y = b;
    if (x->urgent != y->urgent)
        return x->urgent ? -1 : 1;
    if (x->due != y->due)
        return x->due < y->due ? -1 : 1;
    if (x->depth != y->depth)
        return x->depth < y->depth ? -1 : 1;
    return x->task < y->task ? -1 : x->task > y->task;
}

static void bench_dispose(struct bench *bench)
{
    free(bench->turns);
    free(bench->free);
    free(bench->next);
}

static int bench_set(struct bench *bench)
{
    if (!input_is_whole(bench))
        return CY_INVALID;
    bench->turns = cy_zeroed(bench->count, sizeof *bench->turns);
    bench->free = cy_zeroed(bench->crew->days, sizeof *bench->free);
    bench->next = cy_zeroed(bench->crew->days + 1, sizeof *bench->next);
    if (!bench->turns || !bench->free || !bench->next)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < bench->count; i++)
        bench->turns[i] = (struct turn){.task = i,
                                        .urgent = bench->tasks[i].urgent,
                                        .due = bench->tasks[i].due,
                                        .release = bench->tasks[i].release};
    const int status = pass_along(bench);
    if (status == CY_OK && bench->count > 1)
        qsort(bench->turns, bench->count, sizeof *bench->turns, compare_turns);
    return status;
}

/* ---- filling the days ----------------------------------------------------------------------- */

static void open_days(const struct bench *bench, double scale)
{
    const size_t days = bench->crew->days;
    for (size_t i = 0; i < days; i++) {
        bench->free[i] = bench->crew->hours[i] * scale;
        bench->next[i] = bench->free[i] > NO_HOURS ? i : i + 1;
    }
    bench->next[days] = days;
}

/* The first day at or after `day` with hours to give, or the number of days; halves the way for
 * the next who asks. */
static size_t open_day(const struct bench *bench, size_t day)
{
    while (bench->next[day] != day) {
        bench->next[day] = bench->next[bench->next[day]];
        day = bench->next[day];
    }
    return day;
}

static double take_hours(const struct bench *bench, size_t day, double wanted)
{
    const double taken = fmin(wanted, bench->free[day]);
    bench->free[day] -= taken;
    if (bench->free[day] <= NO_HOURS)
        bench->next[day] = day + 1;
    /* What is left of the work by rounding goes with it. */
    return wanted - taken <= NO_HOURS ? wanted : taken;
}

static size_t place_of(const struct bench *bench, cy_day day)
{
    const int64_t place = (int64_t)day - bench->crew->first;
    if (place <= 0)
        return 0;
    return (uint64_t)place < bench->crew->days ? (size_t)place : bench->crew->days;
}

static void conclude(struct cy_schedule_outcome *outcome, const struct bench *bench, size_t day,
                     cy_day due)
{
    const cy_day finish = bench->crew->first + (cy_day)day;
    const bool done = day < bench->crew->days;
    outcome->finish = done ? finish : CY_DAY_NONE;
    outcome->lateness = finish - due;
    if (!done && outcome->lateness < 1)
        outcome->lateness = 1;
}

static int place_task(struct cy_schedule *out, const struct bench *bench, const struct turn *turn)
{
    const struct cy_schedule_task *task = &bench->tasks[turn->task];
    struct cy_schedule_outcome *outcome = &out->outcomes[turn->task];
    size_t day = place_of(bench, turn->release), last = day;
    *outcome =
        (struct cy_schedule_outcome){.first_piece = out->piece_count, .left_hours = task->hours};
    /* Only a task of no hours needs to ask: any other finds no hours until then. */
    if (task->after != CY_SCHEDULE_FREE) {
        const cy_day before = out->outcomes[task->after].finish;
        const size_t after = before == CY_DAY_NONE ? bench->crew->days : place_of(bench, before);
        if (last < after)
            last = after;
    }
    while (outcome->left_hours > 0) {
        day = last = open_day(bench, day);
        if (day == bench->crew->days)
            break;
        if (!cy_grow(&out->pieces, &out->piece_capacity, out->piece_count, sizeof *out->pieces))
            return CY_NO_MEMORY;
        const double hours = take_hours(bench, day, outcome->left_hours);
        out->pieces[out->piece_count++] =
            (struct cy_schedule_piece){bench->crew->first + (cy_day)day, hours};
        outcome->left_hours -= hours;
    }
    outcome->piece_count = out->piece_count - outcome->first_piece;
    conclude(outcome, bench, last, task->due);
    return CY_OK;
}

/* Each task in turn takes the first hours that those before it left. That is the same as asking
 * every day anew who comes first, as the order never changes, and needs no asking. */
static int fill(struct cy_schedule *out, const struct bench *bench, double scale)
{
    int status = CY_OK;
    out->piece_count = 0;
    open_days(bench, scale);
    for (size_t i = 0; status == CY_OK && i < bench->count; i++)
        status = place_task(out, bench, &bench->turns[i]);
    return status;
}

/* ---- what comes of it ----------------------------------------------------------------------- */

static bool is_late(const struct cy_schedule_outcome *outcome)
{
    return outcome->lateness > 0;
}

static void add_classes(struct cy_schedule *out, const struct bench *bench)
{
    for (int c = 0; c < CY_SCHEDULE_CLASSES; c++)
        out->classes[c].max_lateness = INT_MIN;
    for (size_t i = 0; i < bench->count; i++) {
        struct cy_schedule_class *c =
            &out->classes[bench->tasks[i].urgent ? CY_SCHEDULE_CANNOT_WAIT : CY_SCHEDULE_CAN_WAIT];
        c->tasks++;
        c->late += is_late(&out->outcomes[i]);
        if (c->max_lateness < out->outcomes[i].lateness)
            c->max_lateness = out->outcomes[i].lateness;
    }
}

static int add_weeks(struct cy_schedule *out, const struct bench *bench)
{
    const struct cy_schedule_hours *crew = bench->crew;
    if (crew->days == 0)
        return CY_OK;
    const cy_day monday = crew->first - cy_day_weekday(crew->first);
    const size_t skipped = (size_t)(crew->first - monday);
    out->week_count = (skipped + crew->days + 6) / 7;
    out->weeks = cy_zeroed(out->week_count, sizeof *out->weeks);
    if (!out->weeks)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < out->week_count; i++)
        out->weeks[i].monday = monday + (cy_day)i * 7;
    for (size_t i = 0; i < crew->days; i++)
        out->weeks[(skipped + i) / 7].capacity += crew->hours[i];
    for (size_t i = 0; i < bench->count; i++) {
        const struct cy_schedule_outcome *outcome = &out->outcomes[i];
        for (size_t p = 0; p < outcome->piece_count; p++) {
            const struct cy_schedule_piece *piece = &out->pieces[outcome->first_piece + p];
            struct cy_schedule_week *week = &out->weeks[(piece->day - monday) / 7];
            week->hours += piece->hours;
            if (bench->tasks[i].urgent)
                week->urgent_hours += piece->hours;
            if (piece->day > bench->tasks[i].due)
                week->late_hours += piece->hours;
        }
    }
    return CY_OK;
}

int cy_schedule_make(struct cy_schedule *out, const struct cy_schedule_task *tasks, size_t count,
                     const struct cy_schedule_hours *crew)
{
    struct bench bench = {.tasks = tasks, .count = count, .crew = crew};
    *out = (struct cy_schedule){.count = count};
    int status = bench_set(&bench);
    if (status == CY_OK) {
        out->outcomes = cy_zeroed(count, sizeof *out->outcomes);
        status = out->outcomes ? fill(out, &bench, 1) : CY_NO_MEMORY;
    }
    if (status == CY_OK) {
        add_classes(out, &bench);
        status = add_weeks(out, &bench);
    }
    if (status != CY_OK)
        cy_schedule_dispose(out);
    bench_dispose(&bench);
    return status;
}

void cy_schedule_dispose(struct cy_schedule *schedule)
{
    free(schedule->outcomes);
    free(schedule->pieces);
    free(schedule->weeks);
    *schedule = (struct cy_schedule){0};
}

/* ---- the smallest crew ---------------------------------------------------------------------- */

/* With this many times the hours, every working day could take all the work there is. */
static double scale_without_limit(const struct bench *bench)
{
    double total = 0, least = INFINITY;
    for (size_t i = 0; i < bench->count; i++)
        total += bench->tasks[i].hours;
    for (size_t i = 0; i < bench->crew->days; i++)
        if (bench->crew->hours[i] > 0)
            least = fmin(least, bench->crew->hours[i]);
    return fmin(2 * (total + 1) / least, DBL_MAX);
}

static int late_but_for(size_t *late, struct cy_schedule *work, const struct bench *bench,
                        double scale, const bool *hopeless)
{
    const int status = fill(work, bench, scale);
    *late = 0;
    for (size_t i = 0; status == CY_OK && i < bench->count; i++)
        *late += is_late(&work->outcomes[i]) && !hopeless[i];
    return status;
}

/* More hours never make any task later (each finds as much left by those before it, or more), so
 * halving finds the edge. */
static int halve(double *scale, struct cy_schedule *work, const struct bench *bench, double high,
                 const bool *hopeless)
{
    double low = 0;
    size_t late;
    int status = late_but_for(&late, work, bench, 0, hopeless);
    if (status == CY_OK && late == 0)
        high = 0;
    while (status == CY_OK && high - low > CREW_DIGITS * high) {
        const double middle = low + (high - low) / 2;
        status = late_but_for(&late, work, bench, middle, hopeless);
        if (late == 0)
            high = middle;
        else
            low = middle;
    }
    *scale = high;
    return status;
}

int cy_schedule_smallest_crew(struct cy_schedule_crew *out, const struct cy_schedule_task *tasks,
                              size_t count, const struct cy_schedule_hours *crew)
{
    struct bench bench = {.tasks = tasks, .count = count, .crew = crew};
    struct cy_schedule work = {.count = count};
    bool *hopeless = NULL;
    double most = 0;
    *out = (struct cy_schedule_crew){0};
    int status = bench_set(&bench);
    if (status != CY_OK)
        goto out;

    status = CY_NO_MEMORY;
    work.outcomes = cy_zeroed(count, sizeof *work.outcomes);
    hopeless = cy_zeroed(count, sizeof *hopeless);
    if (!work.outcomes || !hopeless)
        goto out;
    most = scale_without_limit(&bench);
    status = fill(&work, &bench, most);
    for (size_t i = 0; status == CY_OK && i < count; i++) {
        hopeless[i] = is_late(&work.outcomes[i]);
        out->hopeless += hopeless[i];
    }
    if (status == CY_OK)
        status = halve(&out->scale, &work, &bench, most, hopeless);
out:
    if (status != CY_OK)
        *out = (struct cy_schedule_crew){0};
    free(hopeless);
    cy_schedule_dispose(&work);
    bench_dispose(&bench);
    return status;
}
