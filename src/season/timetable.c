/* SPDX-License-Identifier: MIT
 * The timetable: the plan's jobs laid against the crew's hours, the earliest deadline first. */
#include "season/plan_parts.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

/* Work that does not fit into the season may run on this long; what is longer is out of days. */
enum { DAYS_BEYOND = 120 };

#define NO_JOB SIZE_MAX

/* The jobs by row, kind, season and round, so that one is found without looking through all. */
struct place {
    int64_t row, kind;
    int season, round;
    size_t job;
};

struct timetable {
    struct cy_plan *plan;
    struct place *places;
    struct cy_schedule_task *tasks;
    size_t *jobs;    /* of each task, its place in the plan's jobs */
    size_t *task_of; /* of each job, its task, or CY_SCHEDULE_FREE */
    size_t count;
    double *hours; /* the crew's, of each day */
    cy_day first;
    size_t days;
};

/* ---- the crew's days ------------------------------------------------------------------------ */

struct cy_given cy_crew_hours(const struct cy_farm *farm)
{
    const struct cy_thing *crew = cy_farm_one(farm, CY_KIND_CREW);
    struct cy_given hours = cy_given(crew, CY_CREW_HOURS);
    struct cy_given people = {.known = true};
    for (const struct cy_thing *person = NULL;
         (person = cy_farm_next(farm, CY_KIND_PERSON, crew->id, person));) {
        struct cy_given each = cy_given(person, CY_PERSON_HOURS);
        people.is_set = people.is_set || each.known;
        people.number += each.known ? each.number : 0;
        people.basis |= each.basis;
    }
    return hours.is_set || !people.is_set ? hours : people;
}

/* Today, or where the season lies ahead the day on which its work can begin: planting is prepared
 * in the season before. */
static cy_day first_day(const struct cy_plan *plan)
{
    cy_day first = plan->first;
    for (size_t i = 0; i < plan->job_count; i++)
        if (!plan->jobs[i].done && plan->jobs[i].from < first)
            first = plan->jobs[i].from;
    return first > plan->today ? first : plan->today;
}

static int fill_hours(struct timetable *table)
{
    struct cy_plan *plan = table->plan;
    struct cy_given hours = cy_crew_hours(&plan->farm);
    struct cy_given days = cy_given(cy_farm_one(&plan->farm, CY_KIND_CREW), CY_CREW_DAYS);
    cy_day end = plan->last > plan->today ? plan->last : plan->today;
    plan->crew_basis = hours.basis | days.basis;
    table->first = first_day(plan);
    table->days = (size_t)(end + DAYS_BEYOND - table->first + 1);
    table->hours = cy_zeroed(table->days, sizeof *table->hours);
    if (!table->hours)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < table->days; i++)
        if (cy_day_weekday(table->first + (cy_day)i) < (int)days.number)
            table->hours[i] = hours.number;
    return CY_OK;
}

/* ---- the jobs as tasks ---------------------------------------------------------------------- */

static int by_place(const void *a, const void *b)
{
    const struct place *left = a, *right = b;
    if (left->row != right->row)
        return left->row < right->row ? -1 : 1;
    if (left->kind != right->kind)
        return left->kind < right->kind ? -1 : 1;
    if (left->season != right->season)
        return left->season < right->season ? -1 : 1;
    return (left->round > right->round) - (left->round < right->round);
}

static int fill_places(struct timetable *table)
{
    const struct cy_plan *plan = table->plan;
    table->places = cy_zeroed(plan->job_count, sizeof *table->places);
    if (!table->places)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        table->places[i] = (struct place){job->row, job->kind, job->season, job->round, i};
    }
    if (plan->job_count > 1)
        qsort(table->places, plan->job_count, sizeof *table->places, by_place);
    return CY_OK;
}

static size_t find(const struct timetable *table, const struct cy_plan_job *job, int64_t kind,
                   int season, int round)
{
    struct place wanted = {job->row, kind, season, round, 0};
    const struct place *found =
        bsearch(&wanted, table->places, table->plan->job_count, sizeof *table->places, by_place);
    return found ? found->job : NO_JOB;
}

/* What is over and cannot be made up: fruit that fell, a dry week gone by, canes that bloom by now,
 * a round whose next one has begun. */
static bool is_missed(const struct timetable *table, const struct cy_plan_job *job)
{
    const struct cy_plan *plan = table->plan;
    if (job->done || job->to >= plan->today)
        return false;
    if (job->reason.kind == CY_REASON_PICKING || job->reason.kind == CY_REASON_DRY_WEEK ||
        job->reason.kind == CY_REASON_BALANCE)
        return true;
    if (job->lost_on != CY_DAY_NONE && job->lost_on <= plan->today)
        return true;
    size_t next = find(table, job, job->kind, job->season, job->round + 1);
    return next != NO_JOB && plan->jobs[next].from <= plan->today;
}

/* Links each task to the job that must be done before it in its row, if that is still to do. A row
 * set late in a season belongs to the next one, with all that prepares it. */
static void link_tasks(struct timetable *table)
{
    const struct cy_plan *plan = table->plan;
    for (size_t i = 0; i < table->count; i++) {
        const struct cy_plan_job *job = &plan->jobs[table->jobs[i]];
        const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
        const struct cy_thing *before = cy_referred(&plan->farm, kind, CY_JOB_AFTER);
        if (!before)
            continue;
        size_t found = find(table, job, before->id, job->season, 1);
        if (found == NO_JOB)
            found = find(table, job, before->id, job->season + 1, 1);
        if (found != NO_JOB)
            table->tasks[i].after = table->task_of[found];
    }
}

static int fill_tasks(struct timetable *table)
{
    struct cy_plan *plan = table->plan;
    table->tasks = cy_zeroed(plan->job_count, sizeof *table->tasks);
    table->jobs = cy_zeroed(plan->job_count, sizeof *table->jobs);
    table->task_of = cy_zeroed(plan->job_count, sizeof *table->task_of);
    if (!table->tasks || !table->jobs || !table->task_of)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < plan->job_count; i++) {
        struct cy_plan_job *job = &plan->jobs[i];
        job->missed = is_missed(table, job);
        table->task_of[i] = CY_SCHEDULE_FREE;
        if (job->done || job->missed || isnan(job->hours))
            continue;
        table->tasks[table->count] = (struct cy_schedule_task){
            .release = job->from > table->first ? job->from : table->first,
            .due = job->to,
            .hours = job->hours,
            .urgent = job->urgent,
            .after = CY_SCHEDULE_FREE,
        };
        table->task_of[i] = table->count;
        table->jobs[table->count++] = i;
    }
    link_tasks(table);
    return CY_OK;
}

/* ---- what comes of it ----------------------------------------------------------------------- */

static void read_back(struct timetable *table, struct cy_schedule *schedule)
{
    struct cy_plan *plan = table->plan;
    for (size_t i = 0; i < table->count; i++) {
        const struct cy_schedule_outcome *outcome = &schedule->outcomes[i];
        struct cy_plan_job *job = &plan->jobs[table->jobs[i]];
        job->late_days = outcome->lateness > 0 ? outcome->lateness : 0;
        if (outcome->finish == CY_DAY_NONE)
            continue;
        job->planned_to = outcome->finish;
        job->planned_from =
            outcome->piece_count > 0 ? schedule->pieces[outcome->first_piece].day : outcome->finish;
    }
    /* The weeks go over to the plan. */
    plan->weeks = schedule->weeks;
    plan->week_count = schedule->week_count;
    schedule->weeks = NULL;
    schedule->week_count = 0;
}

int cy_plan_timetable(struct cy_plan *plan)
{
    struct timetable table = {.plan = plan};
    struct cy_schedule schedule = {0};
    int status = fill_hours(&table);
    if (status == CY_OK)
        status = fill_places(&table);
    if (status == CY_OK)
        status = fill_tasks(&table);
    struct cy_schedule_hours crew = {table.first, table.hours, table.days};
    if (status == CY_OK)
        status = cy_schedule_make(&schedule, table.tasks, table.count, &crew);
    if (status == CY_OK)
        status = cy_schedule_smallest_crew(&plan->crew, table.tasks, table.count, &crew);
    if (status == CY_OK)
        read_back(&table, &schedule);
    cy_schedule_dispose(&schedule);
    free(table.places);
    free(table.tasks);
    free(table.jobs);
    free(table.task_of);
    free(table.hours);
    return status;
}
