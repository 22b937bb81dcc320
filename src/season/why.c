/* SPDX-License-Identifier: MIT
 * Why a figure of the plan is what it is: inputs, formulas, sources. */
#include "season/plan_parts.h"

#include <math.h>

#include <caneyear/crop/calendar.h>

static void trait(struct cy_trace *trace, const char *name, const struct cy_trait *trait,
                  enum cy_quantity quantity)
{
    if (!isnan(trait->value))
        cy_trace_number(trace, name, trait->value, quantity, trait->basis, trait->source);
}

static void constant(struct cy_trace *trace, enum cy_life_constant_id id)
{
    const struct cy_life_constant *fact = cy_life_constant(id);
    cy_trace_number(trace, fact->name, fact->value, fact->quantity, fact->basis, fact->source);
}

/* The middle of a stage's date as the result of the step begun last. */
static void date_result(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                        enum cy_stage stage)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    char p50[CY_DAY_TEXT], p10[CY_DAY_TEXT], p90[CY_DAY_TEXT];
    struct cy_text text = {0};
    if (isnan(figure->p50)) {
        cy_trace_result_text(trace, "never", figure->basis);
        return;
    }
    cy_text_add(&text, cy_day_print(p50, (cy_day)floor(figure->p50 + 0.5)));
    cy_text_add(&text, ", between ");
    cy_text_add(&text, cy_day_print(p10, (cy_day)floor(figure->p10 + 0.5)));
    cy_text_add(&text, " and ");
    cy_text_add(&text, cy_day_print(p90, (cy_day)floor(figure->p90 + 0.5)));
    cy_text_add(&text, " in 8 years of 10");
    cy_trace_result_text(trace, cy_text_get(&text), figure->basis);
    cy_text_dispose(&text);
}

static void count(struct cy_text *text, int number, const char *what)
{
    cy_text_add(text, text->length ? ", " : "");
    cy_text_add_int(text, number);
    cy_text_add(text, what);
}

static void why_weather(struct cy_trace *trace, const struct cy_plan *plan)
{
    const struct cy_thing *place = cy_farm_place(&plan->farm);
    const struct cy_thing *month = cy_farm_next(&plan->farm, CY_KIND_MONTH, place->id, NULL);
    struct cy_given low = cy_given(month, CY_MONTH_LOW);
    struct cy_text text = {0};
    cy_trace_begin(trace, "the weathers",
                   "observed days to today, then past years of the station, then years made by a "
                   "wet-and-dry-day chain with temperatures that persist; hourly temperatures "
                   "from each day's minimum and maximum, sine by day, logarithm by night",
                   "hourly rebuild: Linvill, HortScience 25(1):14-16, 1990, night joined");
    cy_trace_text(trace, "monthly normals of", cy_thing_name(place), low.basis, low.source);
    cy_trace_number(trace, "latitude", plan->latitude_deg, CY_Q_ANGLE,
                    cy_given(place, CY_PLACE_LATITUDE).basis, "");
    count(&text, plan->past_years, " past years");
    count(&text, plan->made_years, " made years");
    count(&text, plan->observed_days, " observed days");
    cy_trace_result_text(trace, cy_text_get(&text),
                         plan->made_years > 0 ? CY_BASIS_MADE : CY_BASIS_OBSERVED);
    cy_text_dispose(&text);
}

static void why_emergence(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                          const struct cy_row_facts *facts)
{
    cy_trace_begin(trace, "emergence",
                   "the first day on which the degree hours since midwinter, base 6 C and optimum "
                   "25 C, reach the need; not before the plants have rooted", "");
    trait(trace, "heat until half of the canes are up", &facts->traits.emerge_heat_kh,
          CY_Q_DEGREE_HOURS);
    if (cohort->year == facts->planted_season) {
        cy_trace_day(trace, "planted on", facts->planted,
                     cy_given(facts->row, CY_ROW_PLANTED).basis, "");
        constant(trace, CY_LIFE_ROOTING_DAYS);
    }
    date_result(trace, cohort, CY_STAGE_EMERGENCE);
}

static void why_tip(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                    const struct cy_row_facts *facts, const struct cy_sightings *seen)
{
    const struct cy_traits *traits = &facts->traits;
    cy_trace_begin(trace, "first tip",
                   "day of emergence + tip height / growth rate; or, once a height is seen, its "
                   "day + (tip height - height) / growth rate", "");
    trait(trace, "tip height", &traits->tip_height_m, CY_Q_LENGTH);
    trait(trace, "growth rate", &traits->growth_m_d, CY_Q_GROWTH);
    if (seen->height_day != CY_DAY_NONE) {
        cy_trace_number(trace, "height seen", seen->height_m, CY_Q_LENGTH, CY_BASIS_OBSERVED, "");
        cy_trace_day(trace, "on", seen->height_day, CY_BASIS_OBSERVED, "");
    }
    date_result(trace, cohort, CY_STAGE_TIP);
}

static void why_laterals(struct cy_trace *trace, const struct cy_plan_cohort *cohort)
{
    cy_trace_begin(trace, "laterals", "day of the first tip + days until laterals grow", "");
    constant(trace, CY_LIFE_LATERAL_DAYS);
    date_result(trace, cohort, CY_STAGE_LATERALS);
}

static void why_autumn_bloom(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                             const struct cy_row_facts *facts)
{
    cy_trace_begin(trace, "autumn bloom",
                   "the first day on which the degree hours since emergence, base 6 C and optimum "
                   "25 C, reach the need, moved by the model's own error; never where a killing "
                   "freeze comes first",
                   "base and optimum: Black et al., HortScience 43(7):2000-2004, 2008");
    trait(trace, "heat to half bloom", &facts->traits.autumn_heat_kh, CY_Q_DEGREE_HOURS);
    constant(trace, CY_LIFE_BLOOM_ERROR);
    constant(trace, CY_LIFE_FLOWER_KILL);
    date_result(trace, cohort, CY_STAGE_AUTUMN_BLOOM);
}

static void why_chill(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                      const struct cy_row_facts *facts)
{
    cy_trace_begin(trace, "chill met",
                   "the day on which the chill counted since leaf fall, by the rule of whoever "
                   "published the need, reaches it; never where half a year does not", "");
    if (cohort->chill_known)
        trait(trace, "chill need", &facts->traits.chill_need, CY_Q_NUMBER);
    else
        cy_trace_text(trace, "chill need", "none published or typed: no verdict", CY_BASIS_NONE,
                      "");
    date_result(trace, cohort, CY_STAGE_CHILL_MET);
}

static void why_bloom(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                      const struct cy_row_facts *facts, enum cy_stage stage)
{
    bool broken = stage == CY_STAGE_BUD_BREAK;
    cy_trace_begin(trace, cy_stage_word(stage),
                   broken ? "as bloom, at the share of its heat at which buds break"
                          : "the first day on which the degree hours since midwinter, or since "
                            "chill was met where that is later, reach the need; base 6 C, optimum "
                            "25 C, straight between; moved by the model's own error",
                   "base and optimum: Black et al., HortScience 43(7):2000-2004, 2008; the start "
                   "of the sum is ours");
    trait(trace, "heat to half bloom", &facts->traits.bloom_heat_kh, CY_Q_DEGREE_HOURS);
    if (broken)
        trait(trace, "share at bud break", &facts->traits.bud_break_share, CY_Q_SHARE);
    constant(trace, CY_LIFE_BLOOM_ERROR);
    date_result(trace, cohort, stage);
}

static void why_picking(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                        const struct cy_row_facts *facts, enum cy_stage stage)
{
    bool autumn = stage <= CY_STAGE_AUTUMN_LAST_PICK;
    const struct cy_traits *traits = &facts->traits;
    cy_trace_begin(trace, cy_stage_word(stage),
                   "the crop's weight ripens as a normal curve around the peak, half bloom + days "
                   "to peak, moved by the model's own error; first, peak and last pick are its "
                   "5, 50 and 95 % days, so the season is 3.29 deviations long; never where a "
                   "frost kills the flowers, and cut off by the first autumn freeze",
                   "5, 50 and 95 %: NC State caneberry post, 8 May 2013");
    trait(trace, "days from half bloom to peak",
          autumn ? &traits->autumn_bloom_to_peak_d : &traits->bloom_to_peak_d, CY_Q_DAYS);
    trait(trace, "days from first to last pick",
          autumn ? &traits->autumn_length_d : &traits->pick_length_d, CY_Q_DAYS);
    constant(trace, CY_LIFE_RIPEN_ERROR);
    constant(trace, CY_LIFE_FLOWER_KILL);
    constant(trace, CY_LIFE_FLOWER_REACH);
    date_result(trace, cohort, stage);
}

static void why_dormant(struct cy_trace *trace, const struct cy_plan_cohort *cohort)
{
    cy_trace_begin(trace, "dormant",
                   "the first freeze of the autumn, or 45 days after nominal leaf fall where none "
                   "comes", "");
    constant(trace, CY_LIFE_FIRST_FREEZE);
    date_result(trace, cohort, CY_STAGE_DORMANT);
}

static void why_seen(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                     enum cy_stage stage)
{
    cy_trace_begin(trace, cy_stage_word(stage), "as noted in the field", "");
    date_result(trace, cohort, stage);
}

/* A stage's own step, and before it those that it rests on. */
static void why(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                const struct cy_row_facts *facts, const struct cy_sightings *seen,
                enum cy_stage stage)
{
    if (cohort->seen[stage]) {
        why_seen(trace, cohort, stage);
        return;
    }
    switch (stage) {
    case CY_STAGE_EMERGENCE:
        why_emergence(trace, cohort, facts);
        break;
    case CY_STAGE_TIP:
        why(trace, cohort, facts, seen, CY_STAGE_EMERGENCE);
        why_tip(trace, cohort, facts, seen);
        break;
    case CY_STAGE_LATERALS:
        why(trace, cohort, facts, seen, CY_STAGE_TIP);
        why_laterals(trace, cohort);
        break;
    case CY_STAGE_AUTUMN_BLOOM:
        why(trace, cohort, facts, seen, CY_STAGE_EMERGENCE);
        why_autumn_bloom(trace, cohort, facts);
        break;
    case CY_STAGE_AUTUMN_FIRST_PICK:
    case CY_STAGE_AUTUMN_PEAK_PICK:
    case CY_STAGE_AUTUMN_LAST_PICK:
        why(trace, cohort, facts, seen, CY_STAGE_AUTUMN_BLOOM);
        why_picking(trace, cohort, facts, stage);
        break;
    case CY_STAGE_DORMANT:
        why_dormant(trace, cohort);
        break;
    case CY_STAGE_CHILL_MET:
        why_chill(trace, cohort, facts);
        break;
    case CY_STAGE_BUD_BREAK:
    case CY_STAGE_BLOOM:
        why_chill(trace, cohort, facts);
        why_bloom(trace, cohort, facts, stage);
        break;
    default:
        why(trace, cohort, facts, seen, CY_STAGE_BLOOM);
        why_picking(trace, cohort, facts, stage);
        break;
    }
}

bool cy_plan_why_stage(struct cy_trace *trace, const struct cy_plan *plan, size_t row,
                       size_t cohort, enum cy_stage stage)
{
    if (row >= plan->row_count || cohort >= (size_t)plan->rows[row].cohort_count)
        return false;
    const struct cy_plan_cohort *canes = &plan->rows[row].cohorts[cohort];
    if (canes->never[stage] == CY_DOES_NOT_APPLY && isnan(canes->stage[stage].p50))
        return false;
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, plan->rows[row].thing);
    struct cy_row_facts facts;
    struct cy_sightings seen;
    cy_row_facts_of(&facts, &plan->farm, thing, plan->latitude_deg);
    cy_row_sightings(&seen, &plan->farm, thing, plan->latitude_deg, canes->year, plan->today);
    why_weather(trace, plan);
    why(trace, canes, &facts, &seen, stage);
    return true;
}

/* ---- jobs ----------------------------------------------------------------------------------- */

static void why_hours(struct cy_trace *trace, const struct cy_plan *plan,
                      const struct cy_plan_job *job)
{
    const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
    const struct cy_thing *row = cy_farm_by_id(&plan->farm, job->row);
    struct cy_given rate = cy_given(kind, CY_JOB_RATE), fixed = cy_given(kind, CY_JOB_FIXED);
    struct cy_given length = cy_given(row, CY_ROW_LENGTH);
    if (isnan(job->hours))
        return;
    cy_trace_begin(trace, "hours of work", "row length x rate + hours for the whole job", "");
    cy_trace_number(trace, "row length", length.number, CY_Q_LENGTH, length.basis, length.source);
    if (rate.known)
        cy_trace_number(trace, "rate", rate.number, CY_Q_HOURS_PER_LENGTH, rate.basis,
                        rate.source);
    if (fixed.known)
        cy_trace_number(trace, "for the whole job", fixed.number, CY_Q_HOURS, fixed.basis,
                        fixed.source);
    cy_trace_result(trace, job->hours, CY_Q_HOURS, rate.basis | fixed.basis | length.basis);
}

static void why_window(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_plan_job *job)
{
    const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
    static const enum cy_field fields[] = {CY_JOB_FROM, CY_JOB_TO};
    static const enum cy_field offsets[] = {CY_JOB_FROM_DAYS, CY_JOB_TO_DAYS};
    static const char *const names[] = {"opens with", "closes with"};
    char from[CY_DAY_TEXT], to[CY_DAY_TEXT];
    struct cy_text text = {0};
    cy_trace_begin(trace, "the job's window",
                   "the moments that the kind of work names, with its days added: where a moment "
                   "is a stage, its 10th percentile opens and its 90th closes; rounds run from "
                   "median to median", "share/jobs.yaml");
    for (int i = 0; i < 2; i++) {
        struct cy_given moment = cy_given(kind, fields[i]), days = cy_given(kind, offsets[i]);
        if (moment.known)
            cy_trace_text(trace, names[i],
                          cy_field_info(fields[i])->choices[(int)moment.number], moment.basis,
                          moment.source);
        if (days.number != 0)
            cy_trace_number(trace, "days added", days.number, CY_Q_DAYS, days.basis, days.source);
    }
    cy_text_add(&text, cy_day_print(from, job->from));
    cy_text_add(&text, " to ");
    cy_text_add(&text, cy_day_print(to, job->to));
    cy_trace_result_text(trace, cy_text_get(&text), job->basis);
    cy_text_dispose(&text);
}

/* The cohort of a row whose stage brings the job on, as an index; -1 where none does. */
static int cohort_behind(const struct cy_plan *plan, const struct cy_plan_row *row,
                         const struct cy_plan_job *job)
{
    bool staged = job->reason.kind == CY_REASON_TIP || job->reason.kind == CY_REASON_STAGE ||
                  job->reason.kind == CY_REASON_PICKING;
    int year = job->reason.stage <= CY_STAGE_DORMANT ? plan->season : plan->season - 1;
    for (int i = 0; staged && i < row->cohort_count; i++)
        if (row->cohorts[i].year == year)
            return i;
    return -1;
}

bool cy_plan_why_job(struct cy_trace *trace, const struct cy_plan *plan, size_t index)
{
    if (index >= plan->job_count)
        return false;
    const struct cy_plan_job *job = &plan->jobs[index];
    for (size_t i = 0; i < plan->row_count; i++) {
        if (plan->rows[i].thing != job->row)
            continue;
        int cohort = cohort_behind(plan, &plan->rows[i], job);
        if (cohort >= 0)
            cy_plan_why_stage(trace, plan, i, (size_t)cohort, job->reason.stage);
    }
    why_window(trace, plan, job);
    why_hours(trace, plan, job);
    return true;
}
