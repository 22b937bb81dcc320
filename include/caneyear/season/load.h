/* SPDX-License-Identifier: MIT
 * What a week asks of the crew: the hours planned in it beside the hours that there are. */
#ifndef CANEYEAR_SEASON_LOAD_H
#define CANEYEAR_SEASON_LOAD_H

#include <caneyear/season/plan.h>

struct cy_week_load {
    cy_day monday;
    double hours;      /* that the crew has planned in the week */
    double crew_hours; /* of all hands: hours a day times working days, today's week from today */
    double share;      /* hours / crew_hours; NaN without a crew */
    double late_hours; /* of the hours planned, on work that is past its last day */
    int jobs;          /* that the crew works on in the week, and those without hours that touch it */
    int unknown;       /* of these, those whose hours nobody gave */
    cy_basis basis;
};

/* The week of `day`, Monday to Sunday. */
struct cy_week_load cy_plan_week_load(const struct cy_plan *plan, cy_day day);

/* A job whose window closed before the plan's day, and that nobody did. */
bool cy_plan_job_late(const struct cy_plan *plan, const struct cy_plan_job *job);

#endif
