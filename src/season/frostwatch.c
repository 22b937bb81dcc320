/* SPDX-License-Identifier: MIT
 * Which rows have something that frost can kill in a week. */
#include <caneyear/season/frostwatch.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/crop/calendar.h>

#include "season/plan_parts.h"

const char *cy_frost_part_word(enum cy_frost_part part)
{
    static const char *const words[] = {
#define PART(name, word) [CY_FROST_##name] = word,
        CY_FROST_PARTS(PART)
#undef PART
    };
    return words[part];
}

/* Whether a week meets the days from `from` to `to`, NaN for days that do not come. */
static bool meets(const struct cy_frostwatch *watch, double from, double to)
{
    return from <= watch->to && to >= watch->from;
}

/* The least that the buds bear in the week. */
static double buds_bear(const struct cy_frostwatch *watch, const struct cy_cold_course *course,
                        cy_day midwinter)
{
    double highest_c = -INFINITY;
    for (cy_day day = watch->from; day <= watch->to; day++)
        highest_c = fmax(highest_c, cy_cold_course_t50(course, day - midwinter));
    return highest_c;
}

/* Of canes at rest: what a typed limit says, the buds, the limit of the kind, or that nobody
 * knows. Of a limit and buds the one that gives way first counts. */
static void dormant_risk(struct cy_frost_risk *risk, const struct cy_frostwatch *watch,
                         const struct cy_traits *traits, cy_day midwinter)
{
    risk->part = CY_FROST_UNKNOWN;
    risk->source = "";
    risk->row_c = NAN;
    if (traits->buds.count > 0) {
        risk->part = CY_FROST_BUDS;
        risk->row_c = buds_bear(watch, &traits->buds, midwinter);
        risk->basis |= traits->buds.basis;
    }
    if (!isnan(traits->winter_limit.value) &&
        (risk->part == CY_FROST_UNKNOWN || traits->winter_limit.value > risk->row_c)) {
        risk->part = CY_FROST_CANES;
        risk->row_c = traits->winter_limit.value;
        risk->basis |= traits->winter_limit.basis;
        risk->source = traits->winter_limit.source;
    }
}

static void flower_risk(struct cy_frost_risk *risk, enum cy_frost_part part)
{
    const struct cy_life_constant *kill = cy_life_constant(CY_LIFE_FLOWER_KILL);
    risk->part = part;
    risk->row_c = kill->value;
    risk->basis |= kill->basis;
    risk->source = kill->source;
}

/* Buds that break in none of the weathers are watched to the end of winter. */
static double last_dormant(const struct cy_plan_cohort *canes, double latitude_deg)
{
    enum { END_OF_WINTER = 331 };
    double broken = canes->stage[CY_STAGE_BUD_BREAK].p90;
    return isnan(broken) ? cy_season_day(latitude_deg, canes->year + 1, END_OF_WINTER, true)
                         : broken - 1;
}

/* What a cohort risks in the week; false where nothing. */
static bool risk_of(struct cy_frost_risk *risk, const struct cy_frostwatch *watch,
                    const struct cy_plan_cohort *canes, const struct cy_row_facts *facts)
{
    const struct cy_traits *traits = &facts->traits;
    const struct cy_figure *stage = canes->stage;
    const struct cy_figure *bloom = &stage[CY_STAGE_BLOOM], *rest = &stage[CY_STAGE_DORMANT];
    const struct cy_figure *autumn = &stage[CY_STAGE_AUTUMN_BLOOM];
    const double half_d = traits->pick_length_d.value / 2;
    const double autumn_half_d = traits->autumn_length_d.value / 2;
    if (canes->gone != CY_DAY_NONE && canes->gone <= watch->from)
        return false;
    if (meets(watch, bloom->p10 - half_d, bloom->p90 + half_d)) {
        risk->basis = bloom->basis;
        flower_risk(risk, watch->to < bloom->p50 - half_d ? CY_FROST_TIGHT : CY_FROST_FLOWERS);
        return true;
    }
    if (meets(watch, autumn->p10 - autumn_half_d, stage[CY_STAGE_AUTUMN_LAST_PICK].p90)) {
        risk->basis = autumn->basis;
        flower_risk(risk, CY_FROST_AUTUMN_CROP);
        return true;
    }
    if (!canes->kept || !meets(watch, rest->p10, last_dormant(canes, facts->latitude_deg)))
        return false;
    risk->basis = rest->basis;
    dormant_risk(risk, watch, traits, cy_season_midwinter(facts->latitude_deg, canes->year + 1));
    return true;
}

static int watch_row(struct cy_frostwatch *watch, const struct cy_plan *plan, size_t row)
{
    const struct cy_plan_row *planned = &plan->rows[row];
    struct cy_row_facts facts;
    cy_row_facts_of(&facts, &plan->farm, cy_farm_by_id(&plan->farm, planned->thing),
                    plan->latitude_deg);
    for (int i = 0; i < planned->cohort_count; i++) {
        struct cy_frost_risk risk = {.row = row, .year = planned->cohorts[i].year};
        if (!risk_of(&risk, watch, &planned->cohorts[i], &facts))
            continue;
        risk.station_c = risk.row_c + facts.traits.colder_k;
        risk.basis |= cy_given(facts.row, CY_ROW_COLDER).basis;
        if (!cy_grow(&watch->risks, &watch->capacity, watch->count, sizeof *watch->risks))
            return CY_NO_MEMORY;
        watch->risks[watch->count++] = risk;
    }
    return CY_OK;
}

int cy_frostwatch_of(struct cy_frostwatch *out, const struct cy_plan *plan, cy_day day)
{
    *out = (struct cy_frostwatch){.from = day - cy_day_weekday(day)};
    out->to = out->from + 6;
    int status = CY_OK;
    for (size_t row = 0; status == CY_OK && row < plan->row_count; row++)
        status = watch_row(out, plan, row);
    if (status != CY_OK)
        cy_frostwatch_dispose(out);
    return status;
}

void cy_frostwatch_dispose(struct cy_frostwatch *watch)
{
    free(watch->risks);
    *watch = (struct cy_frostwatch){0};
}

void cy_frostwatch_why(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_frost_risk *risk)
{
    const struct cy_plan_row *row = &plan->rows[risk->row];
    const struct cy_plan_cohort *canes = cy_plan_cohort_of(row, risk->year);
    struct cy_given colder = cy_given(cy_farm_by_id(&plan->farm, row->thing), CY_ROW_COLDER);
    static const enum cy_stage stages[] = {
        [CY_FROST_BUDS] = CY_STAGE_DORMANT,
        [CY_FROST_CANES] = CY_STAGE_DORMANT,
        [CY_FROST_TIGHT] = CY_STAGE_BLOOM,
        [CY_FROST_FLOWERS] = CY_STAGE_BLOOM,
        [CY_FROST_AUTUMN_CROP] = CY_STAGE_AUTUMN_BLOOM,
        [CY_FROST_UNKNOWN] = CY_STAGE_DORMANT,
    };
    const struct cy_figure *stage = &canes->stage[stages[risk->part]];
    cy_trace_begin(trace, "the station's minimum that kills in the row",
                   "what kills in the row + how much colder its nights run; watched in weeks in "
                   "which one weather of ten has it at the stage",
                   risk->source);
    cy_trace_text(trace, "what would die", cy_frost_part_word(risk->part), CY_BASIS_NONE, "");
    cy_trace_day(trace, cy_stage_word(stages[risk->part]), (cy_day)floor(stage->p50 + 0.5),
                 stage->basis, "");
    cy_trace_number(trace, "kills in the row", risk->row_c, CY_Q_TEMPERATURE, risk->basis,
                    risk->source);
    cy_trace_number(trace, "its nights are colder by", colder.number, CY_Q_TEMPERATURE_RISE,
                    colder.basis, colder.source);
    cy_trace_result(trace, risk->station_c, CY_Q_TEMPERATURE, risk->basis);
}
