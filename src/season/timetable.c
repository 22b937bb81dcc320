/* SPDX-License-Identifier: MIT
 * The timetable: the plan's jobs laid against the crew's hours, the earliest deadline first. */
#include "season/plan_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

/* Work that does not fit into the season may run on this long; what is longer is out of days. */
enum { DAYS_BEYOND = 120 };

struct timetable {
    struct cy_plan *plan;
    struct cy_schedule_task *tasks;
    size_t *jobs; /* of each task, its place in the plan's jobs */
    size_t count;
    double *hours; /* the crew's, of each day */
    cy_day first;
    size_t days;
};

/* The crew's hours on a working day: as typed, else those of its people, else the default. */
static struct cy_given crew_hours(const struct cy_farm *farm)
{
    const struct cy_thing *crew = cy_farm_one(farm, CY_KIND_CREW);
    struct cy_given hours = cy_given(crew, CY_CREW_HOURS);
    double people = 0;
    for (const struct cy_thing *person = NULL;
         (person = cy_farm_next(farm, CY_KIND_PERSON, crew->id, person));) {
        double each = cy_number(person, CY_PERSON_HOURS);
        people += isnan(each) ? 0 : each;
    }
    if (!hours.is_set && people > 0) {
        hours.number = people;
        hours.basis = CY_BASIS_GROWER;
    }
    return hours;
}

static int fill_hours(struct timetable *table)
{
    struct cy_plan *plan = table->plan;
    struct cy_given hours = crew_hours(&plan->farm);
    struct cy_given days = cy_given(cy_farm_one(&plan->farm, CY_KIND_CREW), CY_CREW_DAYS);
    plan->crew_basis = hours.basis | days.basis;
    table->first = plan->today > plan->first ? plan->today : plan->first;
    if (table->first > plan->last)
        table->first = plan->last + 1;
    table->days = (size_t)(plan->last + DAYS_BEYOND - table->first + 1);
    table->hours = cy_zeroed(table->days, sizeof *table->hours);
    if (!table->hours)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < table->days; i++)
        if (cy_day_weekday(table->first + (cy_day)i) < (int)days.number)
            table->hours[i] = hours.number;
    return CY_OK;
}

/* Tasks by row, kind and season, so that the one before is found without looking through all. */
struct place {
    int64_t row, kind;
    int season, round;
    size_t task;
};

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

/* Links each task to the job that must be done before it in its row, if that is still to do. */
static int link_tasks(struct timetable *table)
{
    struct cy_plan *plan = table->plan;
    struct place *places = cy_zeroed(table->count, sizeof *places);
    if (!places)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < table->count; i++) {
        const struct cy_plan_job *job = &plan->jobs[table->jobs[i]];
        places[i] = (struct place){job->row, job->kind, job->season, job->round, i};
    }
    qsort(places, table->count, sizeof *places, by_place);
    for (size_t i = 0; i < table->count; i++) {
        const struct cy_plan_job *job = &plan->jobs[table->jobs[i]];
        const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
        const struct cy_thing *before = cy_referred(&plan->farm, kind, CY_JOB_AFTER);
        struct place wanted = {job->row, before ? before->id : 0, job->season, 1, 0};
        const struct place *found =
            before ? bsearch(&wanted, places, table->count, sizeof *places, by_place) : NULL;
        if (found)
            table->tasks[i].after = found->task;
    }
    free(places);
    return CY_OK;
}

static int fill_tasks(struct timetable *table)
{
    struct cy_plan *plan = table->plan;
    table->tasks = cy_zeroed(plan->job_count, sizeof *table->tasks);
    table->jobs = cy_zeroed(plan->job_count, sizeof *table->jobs);
    if (!table->tasks || !table->jobs)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (job->done || isnan(job->hours))
            continue;
        table->tasks[table->count] = (struct cy_schedule_task){
            .release = job->from > table->first ? job->from : table->first,
            .due = job->to,
            .hours = job->hours,
            .urgent = job->urgent,
            .after = CY_SCHEDULE_FREE,
        };
        table->jobs[table->count++] = i;
    }
    return table->count > 0 ? link_tasks(table) : CY_OK;
}

static void read_back(struct timetable *table, struct cy_schedule *schedule)
{
    struct cy_plan *plan = table->plan;
    for (size_t i = 0; i < table->count; i++) {
        const struct cy_schedule_outcome *outcome = &schedule->outcomes[i];
        struct cy_plan_job *job = &plan->jobs[table->jobs[i]];
        if (outcome->finish == CY_DAY_NONE)
            continue;
        job->planned_to = outcome->finish;
        job->planned_from =
            outcome->piece_count > 0 ? schedule->pieces[outcome->first_piece].day : outcome->finish;
        job->late_days = outcome->lateness > 0 ? outcome->lateness : 0;
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
        status = fill_tasks(&table);
    struct cy_schedule_hours crew = {table.first, table.hours, table.days};
    if (status == CY_OK)
        status = cy_schedule_make(&schedule, table.tasks, table.count, &crew);
    if (status == CY_OK)
        status = cy_schedule_smallest_crew(&plan->crew, table.tasks, table.count, &crew);
    if (status == CY_OK)
        read_back(&table, &schedule);
    cy_schedule_dispose(&schedule);
    free(table.tasks);
    free(table.jobs);
    free(table.hours);
    return status;
}
