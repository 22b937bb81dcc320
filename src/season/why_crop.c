/* SPDX-License-Identifier: MIT
 * Why a row's crop weighs what it does: what a full stand bears, how much of one there is, what
 * frost and winter leave of it, and when that ripens. */
#include "season/plan_parts.h"

#include <math.h>

#include <caneyear/crop/yield.h>

/* What a crop's trace is made from. */
struct asked {
    const struct cy_plan *plan;
    const struct cy_plan_crop *crop;
    const struct cy_plan_cohort *cohort;
    struct cy_row_facts facts;
    struct cy_crop_stand stand;
};

static void why_age(struct cy_trace *trace, const struct asked *asked)
{
    struct cy_yield_age age = cy_yield_at_age(asked->stand.stand.leaf);
    cy_trace_begin(trace, "share of a full crop at the row's age",
                   "none in the first season, 25 to 50 % in the second, 75 to 100 % in the third, "
                   "then all; from the 9th to the 11th on, 5 % less each year; the middle of the "
                   "range; plants set with long canes bear a year sooner; rows of unknown age "
                   "count as grown",
                   "general extension pattern for canes of last year, from memory; the rate of "
                   "decline is published nowhere");
    if (asked->facts.planted != CY_DAY_NONE)
        cy_trace_day(trace, "planted on", asked->facts.planted,
                     cy_given(asked->facts.row, CY_ROW_PLANTED).basis, "");
    cy_trace_number(trace, "season of the row's bearing life", asked->stand.stand.leaf, CY_Q_NUMBER,
                    asked->stand.age, "");
    cy_trace_number(trace, "low", age.low, CY_Q_SHARE, age.basis, "");
    cy_trace_number(trace, "high", age.high, CY_Q_SHARE, age.basis, "");
    cy_trace_result(trace, age.usual, CY_Q_SHARE, age.basis | asked->stand.age);
}

static void what_stands(struct cy_trace *trace, const struct asked *asked)
{
    const struct cy_thing *row = asked->facts.row;
    if (cy_given(row, CY_ROW_FILLED).known) {
        cy_why_given(trace, "of the row, filled", row, CY_ROW_FILLED);
        return;
    }
    cy_why_given(trace, "plants missing", row, CY_ROW_MISSING);
    cy_why_given(trace, "plant spacing", row, CY_ROW_SPACING);
}

static void why_unhurt(struct cy_trace *trace, const struct asked *asked)
{
    const struct cy_yield_stand *stand = &asked->stand.stand;
    struct cy_yield yield = cy_yield_of_row(stand);
    cy_trace_begin(trace, "what the row would bear without frost or winter injury",
                   stand->alternate
                       ? "full yield by area x row spacing x row length x share of the row that "
                         "stands x share at its age x 1.70 in a year of fruit alone"
                       : "full yield by area x row spacing x row length x share of the row that "
                         "stands (what is filled, else 1 - plants missing x spacing / length) x "
                         "share at its age",
                   stand->alternate ? "170 % in a year of fruit: Oregon Agricultural Experiment "
                                      "Station Bulletin 620, 1975, Thornless Evergreen"
                                    : "");
    cy_why_given(trace, "full yield", asked->facts.cultivar, CY_CULTIVAR_YIELD);
    if (asked->stand.other_crops)
        cy_trace_text(trace, "that yield", "is said of its autumn crop, and taken for this one too",
                      CY_BASIS_PLACEHOLDER, "");
    cy_why_given(trace, "row spacing", asked->facts.row, CY_ROW_WIDTH);
    cy_why_given(trace, "row length", asked->facts.row, CY_ROW_LENGTH);
    what_stands(trace, asked);
    cy_trace_number(trace, "with the low share of its age", yield.low_kg, CY_Q_MASS, yield.basis,
                    "");
    cy_trace_number(trace, "with the high one", yield.high_kg, CY_Q_MASS, yield.basis, "");
    cy_trace_result(trace, yield.usual_kg, CY_Q_MASS, yield.basis);
}

/* Canes that somebody counted take the place of length and gaps. */
static void why_counted(struct cy_trace *trace, const struct asked *asked)
{
    const struct cy_plan *plan = asked->plan;
    cy_basis basis, share_basis;
    if (!plan->seen)
        return;
    double ratio = cy_row_stand_counted(&basis, plan, plan->seen, &asked->facts, asked->crop->year);
    if (isnan(ratio))
        return;
    double share =
        cy_row_counted(&share_basis, plan->seen, &asked->facts, asked->crop->year, plan->today);
    cy_trace_begin(trace, "canes counted, against what the row's gaps let expect",
                   "canes counted / (row length / plant spacing x canes kept a plant), at most 1, "
                   "then / share of the row that stands",
                   "");
    cy_trace_number(trace, "of a full stand of canes, counted", share, CY_Q_SHARE, share_basis, "");
    cy_why_given(trace, "canes kept a plant", asked->facts.practice, CY_PRACTICE_CANES);
    what_stands(trace, asked);
    cy_trace_result(trace, ratio, CY_Q_SHARE, basis);
}

static void range(struct cy_trace *trace, const struct cy_figure *kg)
{
    cy_trace_number(trace, "in 1 year of 10, less than", kg->p10, CY_Q_MASS, kg->basis, "");
    cy_trace_number(trace, "in 1 year of 10, more than", kg->p90, CY_Q_MASS, kg->basis, "");
    if (kg->never > 0)
        cy_trace_number(trace, "years without any", kg->never, CY_Q_SHARE, kg->basis, "");
}

static void why_all(struct cy_trace *trace, const struct asked *asked)
{
    const struct cy_plan_cohort *cohort = asked->cohort;
    const struct cy_figure *total = &asked->crop->total_kg;
    cy_trace_begin(
        trace, asked->crop->autumn ? "the autumn crop" : "the crop",
        asked->crop->autumn
            ? "what the row would bear, corrected by canes counted, x the share that ripens before "
              "the killing freeze, in each weather; the middle over the weathers; the low end "
              "takes the low share of its age along with the 10th percentile, the high end the "
              "high one with the 90th"
            : "what the row would bear, corrected by canes counted, x the share that winter leaves "
              "of the buds and spring frost of the flowers, second buds included, in each "
              "weather; the middle over the weathers; the low end takes the low share of its age "
              "along with the 10th percentile, the high end the high one with the 90th",
        "");
    if (!asked->crop->autumn && !isnan(cohort->cold.buds))
        cy_trace_number(trace, "buds left after the winter, the mean", cohort->cold.buds,
                        CY_Q_SHARE, total->basis, "");
    if (!asked->crop->autumn && !isnan(cohort->cold.flowers))
        cy_trace_number(trace, "flowers left after spring, the mean", cohort->cold.flowers,
                        CY_Q_SHARE, total->basis, "");
    if (!asked->crop->autumn && isnan(cohort->cold.buds))
        cy_trace_text(trace, "buds left after the winter", "all, for want of a figure",
                      CY_BASIS_PLACEHOLDER, "");
    range(trace, total);
    cy_trace_result(trace, total->p50, CY_Q_MASS, total->basis);
}

static void pick_day(struct cy_trace *trace, const char *name, const struct cy_figure *day)
{
    if (!isnan(day->p50))
        cy_trace_day(trace, name, (cy_day)floor(day->p50 + 0.5), day->basis, "");
}

static void why_of_week(struct cy_trace *trace, const struct asked *asked, int week)
{
    const struct cy_plan_crop *crop = asked->crop;
    const struct cy_figure *pick =
        &asked->cohort->stage[crop->autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK];
    cy_trace_begin(trace, "what ripens in the week",
                   "in each weather the crop x the share that ripens from Monday to Sunday, a "
                   "normal curve on each side of the peak whose 5, 50 and 95 % days are that "
                   "weather's first, peak and last pick; the middle over the weathers, so that "
                   "the weeks' middles do not add up to the crop's",
                   "5, 50 and 95 %: NC State caneberry post, 8 May 2013; the normal curve is "
                   "ours, no table by week is published");
    cy_trace_day(trace, "Monday", crop->monday + 7 * week, CY_BASIS_NONE, "");
    pick_day(trace, "first pick, in the middle year", &pick[0]);
    pick_day(trace, "peak", &pick[1]);
    pick_day(trace, "last pick", &pick[2]);
    range(trace, &crop->week_kg[week]);
    cy_trace_result(trace, crop->week_kg[week].p50, CY_Q_MASS, crop->week_kg[week].basis);
}

bool cy_plan_why_crop(struct cy_trace *trace, const struct cy_plan *plan, size_t row, size_t crop,
                      int week)
{
    if (row >= plan->row_count || crop >= (size_t)plan->rows[row].crop_count)
        return false;
    const struct cy_plan_row *planned = &plan->rows[row];
    struct asked asked = {.plan = plan, .crop = &planned->crops[crop]};
    asked.cohort = cy_plan_cohort_of(planned, asked.crop->year);
    if (!asked.cohort || week < CY_WHY_ALL_WEEKS || week >= asked.crop->weeks)
        return false;
    cy_plan_facts_of(&asked.facts, plan, cy_farm_by_id(&plan->farm, planned->thing));
    cy_row_stand(&asked.stand, plan, &asked.facts, asked.cohort, asked.crop->autumn);
    cy_plan_why_stage(trace, plan, row, (size_t)(asked.cohort - planned->cohorts),
                      asked.crop->autumn ? CY_STAGE_AUTUMN_PEAK_PICK : CY_STAGE_PEAK_PICK);
    why_age(trace, &asked);
    why_unhurt(trace, &asked);
    why_counted(trace, &asked);
    why_all(trace, &asked);
    if (week != CY_WHY_ALL_WEEKS)
        why_of_week(trace, &asked, week);
    return true;
}
