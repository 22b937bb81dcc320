/* SPDX-License-Identifier: MIT
 * What a week asks of the crew: the hours of its jobs beside the hours that there are. */
#include <caneyear/season/load.h>

#include <math.h>

bool cy_plan_job_late(const struct cy_plan *plan, const struct cy_plan_job *job)
{
    return !job->done && job->to < plan->today;
}

/* The share of a job's hours that falls into the seven days from monday on. */
static double share_in_week(const struct cy_plan *plan, const struct cy_plan_job *job,
                            cy_day monday)
{
    cy_day sunday = monday + 6;
    if (cy_plan_job_late(plan, job))
        return plan->today >= monday && plan->today <= sunday ? 1 : 0;
    cy_day from = job->from > monday ? job->from : monday;
    cy_day to = job->to < sunday ? job->to : sunday;
    if (to < from)
        return 0;
    return (double)(to - from + 1) / (job->to - job->from + 1);
}

struct cy_week_load cy_plan_week_load(const struct cy_plan *plan, cy_day day)
{
    const struct cy_thing *crew = cy_farm_one(&plan->farm, CY_KIND_CREW);
    struct cy_given hours = cy_given(crew, CY_CREW_HOURS), days = cy_given(crew, CY_CREW_DAYS);
    struct cy_week_load load = {.monday = day - cy_day_weekday(day),
                                .crew_hours = hours.number * days.number,
                                .basis = hours.basis | days.basis};
    for (size_t i = 0; i < plan->job_count; i++) {
        const struct cy_plan_job *job = &plan->jobs[i];
        double share = job->done ? 0 : share_in_week(plan, job, load.monday);
        if (share <= 0)
            continue;
        load.jobs++;
        if (isnan(job->hours)) {
            load.unknown++;
            continue;
        }
        load.hours += share * job->hours;
        load.basis |= job->basis;
    }
    load.share = load.crew_hours > 0 ? load.hours / load.crew_hours : NAN;
    return load;
}
