/* SPDX-License-Identifier: MIT
 * What the screen shows: the plan, and where in it the reader stands. */
#include "screen/model.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

#include "words/words.h"

void cy_model_init(struct cy_model *out, struct cy_file *file, cy_day today)
{
    *out = (struct cy_model){.file = file,
                             .planner = cy_planner_new(),
                             .today = today,
                             .day = today,
                             .earliest = today - 366,
                             .latest = today + 366};
}

void cy_model_dispose(struct cy_model *model)
{
    cy_plan_free(model->plan);
    cy_planner_free(model->planner);
    cy_text_dispose(&model->problem);
    free(model->jobs);
    free(model->job_key);
    *model = (struct cy_model){0};
}

/* ---- jobs in sight -------------------------------------------------------------------------- */

static void remember_job(struct cy_model *model)
{
    const struct cy_plan_job *job = cy_model_job(model);
    free(model->job_key);
    model->job_key = job ? cy_strdup(job->key) : NULL;
}

/* The first job that is open on the day or later, the last one where none is. */
static void anchor_job(struct cy_model *model)
{
    model->job = model->job_count ? model->job_count - 1 : 0;
    for (size_t i = 0; i < model->job_count; i++)
        if (model->plan->jobs[model->jobs[i]].to >= model->day) {
            model->job = i;
            break;
        }
    remember_job(model);
}

static void find_job_again(struct cy_model *model)
{
    for (size_t i = 0; model->job_key && i < model->job_count; i++)
        if (cy_streq(model->plan->jobs[model->jobs[i]].key, model->job_key)) {
            model->job = i;
            return;
        }
    anchor_job(model);
}

static void collect_jobs(struct cy_model *model)
{
    const struct cy_plan_row *row = cy_model_row(model);
    model->job_count = 0;
    for (size_t i = 0; model->plan && i < model->plan->job_count; i++) {
        bool mine = row && model->plan->jobs[i].row == row->thing;
        if (!model->whole_farm && !mine)
            continue;
        if (!cy_grow(&model->jobs, &model->job_capacity, model->job_count, sizeof *model->jobs))
            break;
        model->jobs[model->job_count++] = i;
    }
}

/* ---- planning ------------------------------------------------------------------------------- */

static void find_row_again(struct cy_model *model)
{
    size_t count = model->plan->row_count;
    for (size_t i = 0; i < count; i++)
        if (model->plan->rows[i].thing == model->row_thing) {
            model->row = i;
            return;
        }
    if (model->row >= count)
        model->row = count ? count - 1 : 0;
    model->row_thing = count ? model->plan->rows[model->row].thing : 0;
}

/* The season of the day cursor, counted from that of today. */
static int season_wanted(const struct cy_model *model)
{
    if (!model->plan)
        return 0;
    if (model->day > model->plan->last)
        return model->plan->season + 1;
    return model->day < model->plan->first ? model->plan->season - 1 : model->plan->season;
}

static void set_bounds(struct cy_model *model)
{
    if (model->plan->season != season_wanted(model) || model->today < model->plan->first ||
        model->today > model->plan->last)
        return;
    struct cy_date first = cy_day_date(model->plan->first);
    model->earliest = cy_day_near(first.year - 1, first.month, first.day);
    model->latest = cy_day_near(first.year + 2, first.month, first.day) - 1;
}

static struct cy_plan_request request_of(const struct cy_model *model, int season)
{
    return (struct cy_plan_request){.farm = cy_file_farm(model->file),
                                    .station = cy_file_weather(model->file),
                                    .today = model->today,
                                    .season = season,
                                    .progress = model->progress,
                                    .payload = model->payload};
}

struct cy_plan_request cy_model_request(const struct cy_model *model)
{
    return request_of(model, model->plan ? model->plan->season : season_wanted(model));
}

int cy_model_plan(struct cy_model *model)
{
    struct cy_issues issues = {0};
    struct cy_plan *plan = NULL;
    struct cy_plan_request request = request_of(model, season_wanted(model));
    if (!model->planner)
        return CY_NO_MEMORY;
    int status = cy_planner_plan(&plan, model->planner, &request, &issues);
    if (status == CY_CANCELLED)
        return status; /* the reader is leaving: what is shown may stay */
    cy_plan_free(model->plan);
    model->plan = plan;
    model->plan_number++;
    cy_text_clear(&model->problem);
    if (!plan) {
        if (issues.count)
            cy_say_issue(&model->problem, &issues.items[0], false);
        else
            cy_text_add(&model->problem, "There is not enough memory to plan this farm.");
        model->job_count = 0;
        return status;
    }
    find_row_again(model);
    set_bounds(model);
    collect_jobs(model);
    find_job_again(model);
    return CY_OK;
}

/* ---- moving --------------------------------------------------------------------------------- */

bool cy_model_go(struct cy_model *model, cy_day day)
{
    day = day < model->earliest ? model->earliest : day > model->latest ? model->latest : day;
    if (day == model->day)
        return false;
    model->day = day;
    model->stage = 0;
    while (model->plan && (day < model->plan->first || day > model->plan->last))
        if (cy_model_plan(model) != CY_OK)
            return true;
    if (model->plan)
        anchor_job(model);
    return true;
}

bool cy_model_step_month(struct cy_model *model, int months)
{
    struct cy_date date = cy_day_date(model->day);
    int month = date.month - 1 + months, year = date.year;
    for (; month < 0; month += 12)
        year--;
    for (; month > 11; month -= 12)
        year++;
    int days = cy_month_days(year, month + 1);
    return cy_model_go(model, cy_day_of(year, month + 1, date.day < days ? date.day : days));
}

void cy_model_choose_row(struct cy_model *model, size_t row)
{
    if (!model->plan || row >= model->plan->row_count)
        return;
    model->row = row;
    model->row_thing = model->plan->rows[row].thing;
    model->stage = 0;
    collect_jobs(model);
    anchor_job(model);
    /* On the whole farm the queue stays, and the row's own next job is chosen in it. */
    for (size_t i = model->job; model->whole_farm && i < model->job_count; i++)
        if (model->plan->jobs[model->jobs[i]].row == model->row_thing &&
            !model->plan->jobs[model->jobs[i]].done) {
            cy_model_choose_job(model, i);
            break;
        }
}

void cy_model_choose_job(struct cy_model *model, size_t job)
{
    if (job >= model->job_count)
        return;
    model->job = job;
    remember_job(model);
}

void cy_model_set_scope(struct cy_model *model, bool whole_farm)
{
    model->whole_farm = whole_farm;
    if (!model->plan)
        return;
    collect_jobs(model);
    find_job_again(model);
}

bool cy_model_step_job(struct cy_model *model, int direction)
{
    if (!model->plan)
        return false;
    size_t best = model->job_count;
    for (size_t i = 0; i < model->job_count; i++) {
        cy_day from = model->plan->jobs[model->jobs[i]].from;
        bool ahead = direction > 0 ? from > model->day : from < model->day;
        if (!ahead || from < model->earliest || from > model->latest)
            continue;
        best = i;
        if (direction > 0)
            break; /* they are sorted by their first day */
    }
    if (best == model->job_count)
        return false;
    char *key = cy_strdup(model->plan->jobs[model->jobs[best]].key);
    cy_model_go(model, model->plan->jobs[model->jobs[best]].from);
    free(model->job_key);
    model->job_key = key;
    find_job_again(model);
    return true;
}

bool cy_model_step_stage(struct cy_model *model, int direction)
{
    const struct cy_plan_row *row = cy_model_row(model);
    cy_day best = CY_DAY_NONE;
    for (int c = 0; row && c < row->cohort_count; c++)
        for (int stage = 0; stage < CY_STAGE_COUNT; stage++) {
            double middle = row->cohorts[c].stage[stage].p50;
            if (isnan(middle))
                continue;
            cy_day day = (cy_day)floor(middle + 0.5);
            bool ahead = direction > 0 ? day > model->day : day < model->day;
            bool nearer = best == CY_DAY_NONE || (direction > 0 ? day < best : day > best);
            if (ahead && nearer)
                best = day;
        }
    return best != CY_DAY_NONE && cy_model_go(model, best);
}

/* ---- what is chosen ------------------------------------------------------------------------- */

const struct cy_plan_row *cy_model_row(const struct cy_model *model)
{
    return model->plan && model->row < model->plan->row_count ? &model->plan->rows[model->row]
                                                              : NULL;
}

const struct cy_plan_job *cy_model_job(const struct cy_model *model)
{
    return model->plan && model->job < model->job_count
               ? &model->plan->jobs[model->jobs[model->job]]
               : NULL;
}

const struct cy_plan_cohort *cy_model_cohort(const struct cy_plan_row *row, enum cy_role role)
{
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].role == role)
            return &row->cohorts[i];
    return NULL;
}

/* Days that are never come last. */
static double order_of(const struct cy_plan_row *row, const struct cy_coming *coming)
{
    double middle = row->cohorts[coming->cohort].stage[coming->stage].p50;
    return isnan(middle) ? INFINITY : middle;
}

static bool is_coming(const struct cy_plan_cohort *cohort, enum cy_stage stage, cy_day day)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    if (isnan(figure->p50))
        return cohort->role != CY_ROLE_NONE && cohort->never[stage] != CY_DOES_NOT_APPLY;
    bool gone = cohort->gone != CY_DAY_NONE && figure->p50 > cohort->gone;
    return !gone && floor(figure->p50 + 0.5) >= day;
}

size_t cy_model_coming(struct cy_coming out[CY_COMING_MOST], const struct cy_model *model)
{
    const struct cy_plan_row *row = cy_model_row(model);
    size_t count = 0;
    for (int c = 0; row && c < row->cohort_count; c++)
        for (int stage = 0; stage < CY_STAGE_COUNT; stage++) {
            if (!is_coming(&row->cohorts[c], (enum cy_stage)stage, model->day))
                continue;
            struct cy_coming one = {(size_t)c, (enum cy_stage)stage};
            size_t place = count++;
            for (; place > 0 && order_of(row, &out[place - 1]) > order_of(row, &one); place--)
                out[place] = out[place - 1];
            out[place] = one;
        }
    return count;
}
