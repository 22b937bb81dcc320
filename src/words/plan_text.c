/* SPDX-License-Identifier: MIT
 * The whole plan as text, for paper, pipes and people who like to read. */
#include "words/words.h"

#include <math.h>
#include <string.h>

static void say_clean(struct cy_text *out, const char *text, bool ascii)
{
    cy_text_add_clean(out, text, strlen(text), ascii);
}

static void say_head(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    const char *name = cy_string(cy_farm_one(&plan->farm, CY_KIND_FARM), CY_FARM_NAME);
    const struct cy_thing *place = cy_farm_place(&plan->farm);
    say_clean(out, *name ? name : "This farm", ascii);
    cy_text_add(out, ": season ");
    cy_text_add_int(out, plan->season);
    cy_text_add(out, ", ");
    cy_say_day(out, plan->first, true);
    cy_text_add(out, " to ");
    cy_say_day(out, plan->last, true);
    cy_text_add(out, ", as of ");
    cy_say_day(out, plan->today, true);
    cy_text_add(out, "\nOver ");
    cy_text_add_int(out, plan->members);
    cy_text_add(out, " weathers: ");
    cy_text_add_int(out, plan->past_years);
    cy_text_add(out, " past years of a station, ");
    cy_text_add_int(out, plan->made_years);
    cy_text_add(out, " made from the monthly normals of ");
    say_clean(out, cy_thing_name(place), ascii);
    cy_text_add(out, "\nA date reads: in the middle year (between these two in 8 years of 10). What\n"
                     "stands in brackets is the least trusted thing behind it.\n");
}

static void say_stage_line(struct cy_text *out, const struct cy_plan_cohort *cohort,
                           enum cy_stage stage)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    size_t start = out->length;
    cy_text_add(out, "    ");
    cy_text_add(out, cy_stage_word(stage));
    cy_text_pad(out, start, 24);
    if (isnan(figure->p50)) {
        cy_text_add(out, "never: ");
        cy_say_never(out, (enum cy_never)cohort->never[stage], figure->never);
        cy_text_add_char(out, '\n');
        return;
    }
    cy_say_day(out, figure->p50, true);
    cy_text_pad(out, start, 37);
    if (cohort->seen[stage]) {
        cy_text_add(out, "seen\n");
        return;
    }
    cy_text_add(out, "(");
    cy_say_day(out, figure->p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, figure->p90, false);
    cy_text_add(out, ")");
    cy_text_pad(out, start, 57);
    cy_text_add(out, "[");
    cy_say_basis(out, figure->basis);
    cy_text_add(out, "]");
    if (figure->never > 0) {
        cy_text_add(out, " but ");
        cy_say_never(out, (enum cy_never)cohort->never[stage], figure->never);
    }
    cy_text_add_char(out, '\n');
}

static void say_cohort(struct cy_text *out, const struct cy_plan *plan,
                       const struct cy_plan_cohort *cohort)
{
    bool old = cohort->role == CY_ROLE_FLORICANES;
    cy_text_add(out, "  Canes of ");
    cy_text_add_int(out, cohort->year);
    cy_text_add(out, old ? ", floricanes this season; on " : ", primocanes this season; on ");
    cy_say_day(out, plan->today, false);
    cy_text_add(out, ": ");
    cy_text_add(out, cy_state_word(cy_plan_state(cohort, plan->today)));
    cy_text_add_char(out, '\n');
    if (old || !cohort->chill_applies) {
        cy_text_add(out, "    chill               ");
        cy_say_chill(out, cohort);
        cy_text_add_char(out, '\n');
    }
    enum cy_stage first = old ? CY_STAGE_CHILL_MET : CY_STAGE_EMERGENCE;
    enum cy_stage last = old ? CY_STAGE_SPENT : CY_STAGE_DORMANT;
    for (enum cy_stage stage = first; stage <= last; stage++)
        if (cohort->never[stage] != CY_DOES_NOT_APPLY || !isnan(cohort->stage[stage].p50))
            say_stage_line(out, cohort, stage);
}

static void say_row(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_row *row,
                    bool ascii)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    const struct cy_thing *cultivar = cy_referred(&plan->farm, thing, CY_ROW_CULTIVAR);
    cy_text_add_char(out, '\n');
    say_clean(out, row->name, ascii);
    cy_text_add(out, " (");
    cy_text_add(out, row->key);
    cy_text_add(out, "): ");
    say_clean(out, cy_thing_name(cultivar), ascii);
    cy_text_add(out, ", ");
    cy_quantity_show(out, cy_number(thing, CY_ROW_LENGTH), CY_Q_LENGTH, NULL,
                     cy_farm_system(&plan->farm), 0);
    if (row->leaf > 0) {
        cy_text_add(out, ", season ");
        cy_text_add_int(out, row->leaf);
        cy_text_add(out, " of its life");
    }
    cy_text_add_char(out, '\n');
    for (unsigned note = 1; note <= CY_NOTE_FRUIT_YEAR; note <<= 1) {
        if (!(row->notes & note))
            continue;
        cy_text_add(out, "  ");
        cy_say_note(out, (enum cy_row_note)note);
        cy_text_add_char(out, '\n');
    }
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].role != CY_ROLE_NONE)
            say_cohort(out, plan, &row->cohorts[i]);
}

/* Jobs of one kind that share a window, or are rounds of one row, are said together. */
static bool together(const struct cy_plan_job *a, const struct cy_plan_job *b)
{
    bool rounds = a->reason.kind == CY_REASON_PICKING || a->reason.kind == CY_REASON_DRY_WEEK;
    if (a->kind != b->kind)
        return false;
    if (rounds)
        return a->row == b->row && a->reason.stage == b->reason.stage;
    return a->from == b->from && a->to == b->to;
}

static bool said_before(const struct cy_plan *plan, size_t job)
{
    for (size_t i = 0; i < job; i++)
        if (together(&plan->jobs[i], &plan->jobs[job]))
            return true;
    return false;
}

static void say_job_row(struct cy_text *out, const struct cy_plan *plan,
                        const struct cy_plan_job *job, bool ascii)
{
    say_clean(out, cy_thing_name(cy_farm_by_id(&plan->farm, job->row)), ascii);
    if (job->done) {
        cy_text_add(out, " (done ");
        cy_say_day(out, job->done_on, false);
        cy_text_add(out, ")");
    } else if (job->to < plan->today) {
        cy_text_add(out, " (LATE)");
    }
}

static void say_jobs_from(struct cy_text *out, const struct cy_plan *plan, size_t first,
                          bool ascii)
{
    const struct cy_plan_job *job = &plan->jobs[first];
    double hours = 0;
    cy_basis basis = CY_BASIS_NONE;
    int count = 0;
    int64_t row = 0;
    cy_day to = job->to;
    struct cy_text rows = {0};
    for (size_t i = first; i < plan->job_count; i++) {
        const struct cy_plan_job *other = &plan->jobs[i];
        if (!together(job, other))
            continue;
        if (other->row != row) {
            cy_text_add(&rows, count ? ", " : "");
            say_job_row(&rows, plan, other, ascii);
        }
        row = other->row;
        hours += isnan(other->hours) ? 0 : other->hours;
        basis |= other->basis;
        to = other->to > to ? other->to : to;
        count++;
    }
    size_t start = out->length;
    cy_text_add(out, "  ");
    cy_say_day(out, job->from, cy_day_year(job->from) != cy_day_year(to));
    cy_text_add(out, " to ");
    cy_say_day(out, to, true);
    cy_text_pad(out, start, 30);
    cy_text_add(out, cy_text_get(&rows));
    if (job->row == row && count > 1) {
        cy_text_add(out, ", ");
        cy_text_add_int(out, count);
        cy_text_add(out, " rounds");
    }
    cy_text_add(out, ": ");
    cy_text_add_fixed(out, hours, 1);
    cy_text_add(out, " h [");
    cy_say_basis(out, basis);
    cy_text_add(out, "]\n      ");
    cy_say_reason(out, plan, job);
    cy_text_add_char(out, '\n');
    cy_text_dispose(&rows);
}

/* The kinds of work in the order of the file, each with its reason, its care and its windows. */
static void say_jobs(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    static const enum cy_field fields[] = {CY_JOB_WHY, CY_JOB_CAUTION};
    static const char *const labels[] = {"  Why: ", "  Take care: "};
    for (const struct cy_thing *kind = NULL;
         (kind = cy_farm_next(&plan->farm, CY_KIND_JOB, 0, kind));) {
        bool named = false;
        for (size_t i = 0; i < plan->job_count; i++) {
            if (plan->jobs[i].kind != kind->id || said_before(plan, i))
                continue;
            if (!named) {
                cy_text_add_char(out, '\n');
                say_clean(out, cy_thing_name(kind), ascii);
                cy_text_add_char(out, '\n');
                for (int field = 0; field < 2; field++) {
                    const char *words = cy_string(kind, fields[field]);
                    if (!*words)
                        continue;
                    cy_text_add(out, labels[field]);
                    say_clean(out, words, ascii);
                    cy_text_add_char(out, '\n');
                }
            }
            named = true;
            say_jobs_from(out, plan, i, ascii);
        }
    }
}

void cy_say_plan(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    say_head(out, plan, ascii);
    cy_text_add(out, "\nROWS\n");
    for (size_t i = 0; i < plan->row_count; i++)
        say_row(out, plan, &plan->rows[i], ascii);
    cy_text_add(out, "\nJOBS\n");
    say_jobs(out, plan, ascii);
}
