/* SPDX-License-Identifier: MIT
 * Why a day and a week look as they do: what the canes of a row do, what is ripe, what the crew has
 * to do. */
#include "season/plan_parts.h"

#include <math.h>

#include <caneyear/season/load.h>

/* ---- the canes ------------------------------------------------------------------------------ */

/* The stage that came last by the day, by the middle of each date; CY_STAGE_COUNT where none has.
 * Stages that most weathers miss do not count. */
static int last_stage(const struct cy_plan_cohort *cohort, cy_day day)
{
    int last = CY_STAGE_COUNT;
    for (int i = 0; i < CY_STAGE_COUNT; i++) {
        const struct cy_figure *figure = &cohort->stage[i];
        if (isnan(figure->p50) || figure->never > 0.5 || floor(figure->p50 + 0.5) > day)
            continue;
        if (last == CY_STAGE_COUNT || figure->p50 >= cohort->stage[last].p50)
            last = i;
    }
    return last;
}

static void why_state(struct cy_trace *trace, const struct cy_plan *plan, size_t row, size_t cohort,
                      cy_day day)
{
    const struct cy_plan_cohort *canes = &plan->rows[row].cohorts[cohort];
    int last = last_stage(canes, day);
    cy_basis basis =
        last == CY_STAGE_COUNT ? canes->stage[CY_STAGE_EMERGENCE].basis : canes->stage[last].basis;
    struct cy_text what = {0};
    if (last != CY_STAGE_COUNT)
        cy_plan_why_stage(trace, plan, row, cohort, (enum cy_stage)last);
    cy_text_add(&what, "what the canes of ");
    cy_text_add_int(&what, canes->year);
    cy_text_add(&what, " do");
    cy_trace_begin(trace, cy_text_get(&what),
                   "what follows the last stage whose middle date has come; stages that most "
                   "weathers miss are left out; nothing after they are cut out",
                   "");
    cy_text_dispose(&what);
    cy_trace_day(trace, "on", day, CY_BASIS_NONE, "");
    if (last == CY_STAGE_COUNT)
        cy_trace_text(trace, "last stage", "none yet", CY_BASIS_NONE, "");
    else
        cy_trace_day(trace, cy_stage_word((enum cy_stage)last),
                     (cy_day)floor(canes->stage[last].p50 + 0.5), canes->stage[last].basis, "");
    if (canes->gone != CY_DAY_NONE && canes->gone <= day)
        cy_trace_day(trace, "cut out or mown", canes->gone, basis, "");
    cy_trace_result_text(trace, cy_state_word(cy_plan_state(canes, day)), basis);
}

/* ---- what is ripe --------------------------------------------------------------------------- */

static cy_basis crops_basis(const struct cy_plan_row *row)
{
    cy_basis basis = CY_BASIS_NONE;
    for (int i = 0; i < row->crop_count; i++)
        basis |= row->crops[i].total_kg.basis;
    return basis;
}

static void why_ripe(struct cy_trace *trace, const struct cy_plan *plan, size_t index, cy_day day)
{
    const struct cy_plan_row *row = &plan->rows[index];
    struct cy_given every =
        cy_given(cy_referred(&plan->farm, cy_farm_by_id(&plan->farm, row->thing), CY_ROW_PRACTICE),
                 CY_PRACTICE_PICK_EVERY);
    if (!row->crop_count)
        return;
    for (int i = 0; i < row->crop_count; i++)
        cy_plan_why_crop(trace, plan, index, (size_t)i, CY_WHY_ALL_WEEKS);
    cy_trace_begin(trace, "ripe in the row",
                   "what ripens on the day, the mean over the weathers, and what ripened on the "
                   "days before it since the round before: as many as lie between pickings",
                   "");
    cy_trace_day(trace, "on", day, CY_BASIS_NONE, "");
    if (every.known)
        cy_trace_number(trace, "days between pickings", every.number, CY_Q_DAYS, every.basis,
                        every.source);
    for (int i = 0; i < row->crop_count; i++)
        cy_trace_number(trace,
                        row->crops[i].autumn ? "the autumn crop in all" : "the summer crop in all",
                        row->crops[i].total_kg.p50, CY_Q_MASS, row->crops[i].total_kg.basis, "");
    cy_trace_result(trace, cy_plan_ripe_kg(row, day), CY_Q_MASS, crops_basis(row) | every.basis);
}

static void why_farm_ripe(struct cy_trace *trace, const struct cy_plan *plan, cy_day day)
{
    double all_kg = 0;
    int ripe = 0;
    cy_basis basis = CY_BASIS_NONE;
    for (size_t i = 0; i < plan->row_count; i++) {
        double kg = cy_plan_ripe_kg(&plan->rows[i], day);
        all_kg += kg;
        ripe += kg > 0;
        basis |= kg > 0 ? crops_basis(&plan->rows[i]) : CY_BASIS_NONE;
    }
    if (ripe == 0)
        return;
    cy_trace_begin(trace, "ripe on the whole farm", "the sum over the rows, each by its own rounds",
                   "");
    cy_trace_number(trace, "rows with ripe fruit", ripe, CY_Q_NUMBER, CY_BASIS_NONE, "");
    cy_trace_result(trace, all_kg, CY_Q_MASS, basis);
}

bool cy_plan_why_day(struct cy_trace *trace, const struct cy_plan *plan, size_t row, cy_day day)
{
    if (row >= plan->row_count)
        return false;
    for (int i = 0; i < plan->rows[row].cohort_count; i++)
        if (plan->rows[row].cohorts[i].role != CY_ROLE_NONE)
            why_state(trace, plan, row, (size_t)i, day);
    why_ripe(trace, plan, row, day);
    why_farm_ripe(trace, plan, day);
    cy_trace_drop_repeats(trace);
    return true;
}

/* ---- the crew ------------------------------------------------------------------------------- */

static void why_capacity(struct cy_trace *trace, const struct cy_plan *plan,
                         const struct cy_week_load *load)
{
    const struct cy_thing *crew = cy_farm_one(&plan->farm, CY_KIND_CREW);
    struct cy_given hours = cy_crew_hours(&plan->farm), days = cy_given(crew, CY_CREW_DAYS);
    cy_trace_begin(trace, "hours that the crew has in the week",
                   "hours a day of all hands, as typed, else the sum of its people's, x working "
                   "days a week; in today's week those from today on",
                   "");
    cy_trace_number(trace, "hours a day of all hands", hours.number, CY_Q_HOURS, hours.basis,
                    hours.source);
    cy_trace_number(trace, "working days a week", days.number, CY_Q_DAYS, days.basis, days.source);
    cy_trace_day(trace, "Monday", load->monday, CY_BASIS_NONE, "");
    cy_trace_result(trace, load->crew_hours, CY_Q_HOURS, hours.basis | days.basis);
}

bool cy_plan_why_week(struct cy_trace *trace, const struct cy_plan *plan, cy_day day)
{
    struct cy_week_load load = cy_plan_week_load(plan, day);
    int late = 0;
    why_capacity(trace, plan, &load);
    cy_trace_begin(trace, "hours planned in the week",
                   "each job's hours laid on the days on which the crew gets to it: what cannot "
                   "wait before what can, the earliest last day first; no day holds more than the "
                   "crew has, so what a week asks beyond that comes later",
                   "the rule is the best for the greatest lateness: W. A. Horn, Naval Research "
                   "Logistics Quarterly 21, 1974, from memory");
    cy_trace_number(trace, "jobs worked on", load.jobs - load.unknown, CY_Q_NUMBER, load.basis, "");
    cy_trace_number(trace, "jobs of unknown hours, not counted", load.unknown, CY_Q_NUMBER,
                    CY_BASIS_NONE, "");
    cy_trace_number(trace, "of the hours, on work past its last day", load.late_hours, CY_Q_HOURS,
                    load.basis, "");
    cy_trace_result(trace, load.hours, CY_Q_HOURS, load.basis);
    for (size_t i = 0; i < plan->job_count; i++)
        late += cy_plan_job_late(plan, &plan->jobs[i]);
    cy_trace_begin(trace, "jobs late in all",
                   "those whose last day lies before today and that nobody marked as done", "");
    cy_trace_day(trace, "today", plan->today, CY_BASIS_NONE, "");
    cy_trace_number(trace, "jobs of the season", (double)plan->job_count, CY_Q_NUMBER,
                    CY_BASIS_NONE, "");
    cy_trace_result(trace, late, CY_Q_NUMBER, load.basis);
    return true;
}

bool cy_plan_why_crew(struct cy_trace *trace, const struct cy_plan *plan)
{
    struct cy_given hours = cy_crew_hours(&plan->farm);
    cy_trace_begin(trace, "the smallest crew with nothing late",
                   "the least share of the crew's hours on every day with which the same rule "
                   "leaves nothing late but what would be whatever the crew, found by halving",
                   "");
    cy_trace_number(trace, "hours a day of all hands", hours.number, CY_Q_HOURS, hours.basis,
                    hours.source);
    cy_trace_number(trace, "jobs late whatever the crew", (double)plan->crew.hopeless, CY_Q_NUMBER,
                    plan->crew_basis, "");
    cy_trace_result(trace, plan->crew.scale, CY_Q_SHARE, plan->crew_basis);
    return true;
}
