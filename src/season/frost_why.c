/* SPDX-License-Identifier: MIT
 * Why something of a row is on the frost watch, and at what minimum it is lost. */
#include <caneyear/season/frostwatch.h>

#include <math.h>

#include "season/plan_parts.h"

/* The date that puts the part at risk. */
static enum cy_stage stage_behind(enum cy_frost_part part)
{
    switch (part) {
    case CY_FROST_TIGHT:
    case CY_FROST_FLOWERS:
        return CY_STAGE_BLOOM;
    case CY_FROST_AUTUMN_CROP:
        return CY_STAGE_AUTUMN_BLOOM;
    default:
        return CY_STAGE_DORMANT;
    }
}

static const char *formula_of(enum cy_frost_part part)
{
    switch (part) {
    case CY_FROST_TIGHT:
        return "watched from bud break on where one weather in ten has flowers opening in the "
               "week; all flowers are buds still by the middle date; half of them die at the "
               "killing night in the row";
    case CY_FROST_FLOWERS:
        return "watched where one weather in ten has flowers open in the week, half the length of "
               "picking before and after half bloom; half of them die at the killing night in the "
               "row";
    case CY_FROST_AUTUMN_CROP:
        return "watched from the autumn flowers to the last pick; the killing night takes all that "
               "is not picked";
    case CY_FROST_BUDS:
        return "watched from the first freeze until buds break; half of the first buds die at what "
               "they bear least of in the week: straight between its days, level before and "
               "behind them";
    case CY_FROST_CANES:
        return "watched from the first freeze until buds break; a night at the limit of its canes "
               "kills them";
    default:
        return "watched from the first freeze until buds break; no hardiness is published or "
               "typed, so none is named";
    }
}

bool cy_frostwatch_why(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_frostwatch *watch, size_t index)
{
    if (index >= watch->count || watch->risks[index].row >= plan->row_count)
        return false;
    const struct cy_frost_risk *risk = &watch->risks[index];
    const struct cy_plan_row *row = &plan->rows[risk->row];
    const struct cy_plan_cohort *canes = cy_plan_cohort_of(row, risk->year);
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    enum cy_stage stage = stage_behind(risk->part);
    if (!canes)
        return false;
    cy_plan_why_stage(trace, plan, risk->row, (size_t)(canes - row->cohorts), stage);
    cy_trace_begin(trace, cy_frost_part_word(risk->part), formula_of(risk->part), risk->source);
    cy_trace_day(trace, "week from", watch->from, CY_BASIS_NONE, "");
    cy_trace_text(trace, "state of the canes", cy_state_word(cy_plan_state(canes, watch->from)),
                  canes->stage[stage].basis, "");
    if (!isnan(risk->row_c))
        cy_trace_number(trace, "lost in the row at", risk->row_c, CY_Q_TEMPERATURE, risk->basis,
                        risk->source);
    cy_why_given(trace, "nights colder than the station's", thing, CY_ROW_COLDER);
    if (isnan(risk->station_c))
        cy_trace_result_text(trace, "not known", risk->basis);
    else
        cy_trace_result(trace, risk->station_c, CY_Q_TEMPERATURE, risk->basis);
    return true;
}
