/* SPDX-License-Identifier: MIT
 * One kind of work on one row of a plan: what the files that spread the jobs share. */
#ifndef SEASON_JOB_PARTS_H
#define SEASON_JOB_PARTS_H

#include "season/water_parts.h"

struct cy_expansion {
    struct cy_plan *plan;
    const struct cy_ensemble *ensemble;
    struct cy_plan_row *row;
    struct cy_row_facts facts;
    const struct cy_thing *kind;
    const struct cy_water_notes *notes; /* of water, for the inch a week */
    struct cy_frozen frozen;
    int status;
};

struct cy_window {
    cy_day from, to;
    struct cy_reason reason;
    cy_basis basis;
};

/* moments.c */
bool cy_job_row_is_meant(const struct cy_expansion *x);
bool cy_job_row_meets_needs(const struct cy_expansion *x);
enum cy_moment cy_job_opens_with(const struct cy_expansion *x);
bool cy_job_is_picking(const struct cy_expansion *x);
/* The window between two moments, with the kind's days added; a stage counts by its 10th and 90th
 * percentile, for rounds by its median. False where there is none. */
bool cy_job_window(struct cy_window *out, const struct cy_expansion *x, enum cy_moment from,
                   enum cy_moment to, bool rounds);
/* The middle day of a moment, CY_DAY_NONE where it does not come. */
cy_day cy_job_day(const struct cy_expansion *x, enum cy_moment moment);
/* This season's new canes of the row, or NULL. */
const struct cy_plan_cohort *cy_job_new_canes(const struct cy_expansion *x);
/* The last floricanes of a row that are spent by a day, or NULL. */
struct cy_plan_cohort *cy_job_spent_by(struct cy_plan_row *row, cy_day day);
cy_day cy_job_rounded(double day);

#endif
