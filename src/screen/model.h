/* SPDX-License-Identifier: MIT
 * What the screen shows: the plan, and where in it the reader stands. It knows nothing of
 * terminals, and computes nothing about canes. */
#ifndef SCREEN_MODEL_H
#define SCREEN_MODEL_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/season/load.h>
#include <caneyear/season/plan.h>

#include "store/farmfile.h"

struct cy_model {
    struct cy_file *file; /* borrowed */
    struct cy_planner *planner;
    struct cy_plan *plan; /* NULL where the farm cannot be planned: `problem` says why */
    unsigned plan_number; /* goes up with each plan: what points into one looks here */
    struct cy_text problem;
    cy_progress progress; /* or NULL: asked while a plan is made, false stops it */
    void *payload;

    cy_day today, day;       /* the day cursor */
    cy_day earliest, latest; /* where it can go: the season before today's to the one after */
    size_t row;              /* the row cursor, among the plan's rows */
    int64_t row_thing;       /* so that it stays on its row when others come and go */

    bool whole_farm; /* jobs of all rows, or of the chosen one */
    size_t *jobs;    /* indexes into the plan's jobs */
    size_t job_count, job_capacity;
    size_t job;    /* the chosen one, among `jobs` */
    char *job_key; /* of the chosen one, to find it again */

    size_t stage; /* the chosen one of the dates ahead */
};

/* A date ahead of a row's canes, or one that may never come. */
struct cy_coming {
    size_t cohort;
    enum cy_stage stage;
};
#define CY_COMING_MOST (CY_PLAN_COHORTS * CY_STAGE_COUNT)

void cy_model_init(struct cy_model *out, struct cy_file *file, cy_day today);
void cy_model_dispose(struct cy_model *model);

/* Plans the season of the day cursor from the file's farm; keeps the row and the job chosen. The
 * result is that of cy_planner_plan. */
int cy_model_plan(struct cy_model *model);
/* The request by which the plan was made, for what else a planner works out from it. */
struct cy_plan_request cy_model_request(const struct cy_model *model);

/* Moves the day cursor, and plans another season where it leaves this one. False at the ends. */
bool cy_model_go(struct cy_model *model, cy_day day);
bool cy_model_step_month(struct cy_model *model, int months);
void cy_model_choose_row(struct cy_model *model, size_t row);
void cy_model_choose_job(struct cy_model *model, size_t job); /* among `jobs` */
void cy_model_set_scope(struct cy_model *model, bool whole_farm);

/* To the day on which the next job (or the one before) opens. */
bool cy_model_step_job(struct cy_model *model, int direction);
/* To the middle of the next date of the row's canes, or the one before. */
bool cy_model_step_stage(struct cy_model *model, int direction);

const struct cy_plan_row *cy_model_row(const struct cy_model *model); /* or NULL */
const struct cy_plan_job *cy_model_job(const struct cy_model *model); /* or NULL */
/* The row's dates from the day cursor on, by day, then what may never come. */
size_t cy_model_coming(struct cy_coming out[CY_COMING_MOST], const struct cy_model *model);
/* The cohorts of the row that stand in the plan's season: last year's canes, and this year's. */
const struct cy_plan_cohort *cy_model_cohort(const struct cy_plan_row *row, enum cy_role role);

#endif
