/* SPDX-License-Identifier: MIT
 * What a week asks of the crew: the hours planned in it beside the hours that there are. */
#include <caneyear/season/load.h>

#include <math.h>

#include "season/plan_parts.h"

bool cy_plan_job_late(const struct cy_plan *plan, const struct cy_plan_job *job)
{
    return !job->done && job->to < plan->today;
}

/* Whether a job weighs on the week: by the crew's days for it, and where nobody gave hours by its
 * window, once that is over by today's week. */
static bool in_week(const struct cy_plan *plan, const struct cy_plan_job *job, cy_day monday)
{
    cy_day from = job->planned_from, to = job->planned_to;
    if (job->done || job->missed)
        return false;
    if (isnan(job->hours)) {
        from = cy_plan_job_late(plan, job) ? plan->today : job->from;
        to = cy_plan_job_late(plan, job) ? plan->today : job->to;
    } else if (from == CY_DAY_NONE) {
        return false;
    }
    return from <= monday + 6 && to >= monday;
}

struct cy_week_load cy_plan_week_load(const struct cy_plan *plan, cy_day day)
{
    struct cy_given hours = cy_crew_hours(&plan->farm);
    struct cy_given days = cy_given(cy_farm_one(&plan->farm, CY_KIND_CREW), CY_CREW_DAYS);
    struct cy_week_load load = {.monday = day - cy_day_weekday(day),
                                .crew_hours = hours.number * days.number,
                                .basis = hours.basis | days.basis};
    for (size_t i = 0; i < plan->week_count; i++) {
        if (plan->weeks[i].monday != load.monday)
            continue;
        load.hours = plan->weeks[i].hours;
        load.crew_hours = plan->weeks[i].capacity;
        load.late_hours = plan->weeks[i].late_hours;
    }
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        if (!in_week(plan, job, load.monday))
            continue;
        load.jobs++;
        load.unknown += isnan(job->hours);
        load.basis |= isnan(job->hours) ? CY_BASIS_NONE : job->basis;
    }
    load.share = load.crew_hours > 0 ? load.hours / load.crew_hours : NAN;
    return load;
}
