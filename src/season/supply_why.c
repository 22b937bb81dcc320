/* SPDX-License-Identifier: MIT
 * Why a figure of the farm's supply is what it is: the rows behind it, and how they are laid
 * together. */
#include <caneyear/season/supply.h>

#include <math.h>

#include <caneyear/crop/yield.h>

#include "season/plan_parts.h"

enum { ROWS_NAMED = 12 }; /* the rest stand together as one input */

/* What a row adds to a figure. */
typedef double (*share_of_row)(const struct cy_plan_row *row, cy_day day);

static double in_week(const struct cy_plan_row *row, cy_day monday)
{
    return cy_plan_week_kg(row, monday).p50;
}

static double in_season(const struct cy_plan_row *row, cy_day day)
{
    double kg = 0;
    (void)day;
    for (int i = 0; i < row->crop_count; i++)
        kg += row->crops[i].total_kg.p50;
    return kg;
}

static double on_day(const struct cy_plan_row *row, cy_day day)
{
    double kg = 0;
    for (int i = 0; i < row->crop_count; i++) {
        int at = day - row->crops[i].monday;
        if (at >= 0 && at < 7 * row->crops[i].weeks)
            kg += row->crops[i].day_kg[at];
    }
    return kg;
}

static cy_basis row_basis(const struct cy_plan_row *row)
{
    cy_basis basis = CY_BASIS_NONE;
    for (int i = 0; i < row->crop_count; i++)
        basis |= row->crops[i].total_kg.basis;
    return basis;
}

/* The heaviest row that weighs less than `below`, or as much and stands behind `after`; the count
 * of rows where there is none. */
static size_t next_heaviest(const struct cy_plan *plan, share_of_row share, cy_day day,
                            double below, size_t after)
{
    size_t best = plan->row_count;
    double best_kg = 0;
    for (size_t i = 0; i < plan->row_count; i++) {
        double kg = share(&plan->rows[i], day);
        bool left = kg < below || (kg == below && i > after);
        if (left && kg > best_kg) {
            best = i;
            best_kg = kg;
        }
    }
    return best;
}

/* The rows behind a sum, the heaviest by name. */
static void name_rows(struct cy_trace *trace, const struct cy_plan *plan, share_of_row share,
                      cy_day day)
{
    double below = INFINITY, rest_kg = 0;
    size_t after = 0, rest = 0;
    cy_basis basis = CY_BASIS_NONE;
    for (size_t i = 0; i < plan->row_count; i++) {
        double kg = share(&plan->rows[i], day);
        rest += kg > 0;
        rest_kg += kg;
        basis |= kg > 0 ? row_basis(&plan->rows[i]) : CY_BASIS_NONE;
    }
    for (int named = 0; named < ROWS_NAMED && rest > 0; named++, rest--) {
        size_t row = next_heaviest(plan, share, day, below, after);
        if (row == plan->row_count)
            break;
        after = row;
        below = share(&plan->rows[row], day);
        rest_kg -= below;
        cy_trace_number(trace, plan->rows[row].name, below, CY_Q_MASS, row_basis(&plan->rows[row]),
                        "");
    }
    if (rest > 0)
        cy_trace_number(trace, "all other rows", rest_kg, CY_Q_MASS, basis, "");
}

static void why_sum(struct cy_trace *trace, const struct cy_plan *plan,
                    const struct cy_figure *figure, share_of_row share, cy_day day)
{
    name_rows(trace, plan, share, day);
    cy_trace_number(trace, "in 1 year of 10, less than", figure->p10, CY_Q_MASS, figure->basis, "");
    cy_trace_number(trace, "in 1 year of 10, more than", figure->p90, CY_Q_MASS, figure->basis, "");
    cy_trace_result(trace, figure->p50, CY_Q_MASS, figure->basis);
}

/* The row whose pick opens or closes the selling, and its stage. */
static bool why_end(struct cy_trace *trace, const struct cy_plan *plan,
                    const struct cy_supply *supply, bool last)
{
    const struct cy_figure *wanted = last ? &supply->last : &supply->first;
    for (size_t row = 0; row < plan->row_count; row++)
        for (int i = 0; i < plan->rows[row].crop_count; i++) {
            const struct cy_plan_row *planned = &plan->rows[row];
            const struct cy_plan_cohort *canes = cy_plan_cohort_of(planned, planned->crops[i].year);
            enum cy_stage stage =
                planned->crops[i].autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK;
            stage = last ? stage + 2 : stage;
            if (!canes || canes->stage[stage].p50 != wanted->p50)
                continue;
            cy_plan_why_stage(trace, plan, row, (size_t)(canes - planned->cohorts), stage);
            cy_trace_begin(trace, last ? "last pick of the farm" : "first pick of the farm",
                           last ? "the latest of the rows' last picks, by the middle year"
                                : "the earliest of the rows' first picks, by the middle year",
                           "");
            cy_trace_text(trace, "the row", planned->name, CY_BASIS_NONE, "");
            char day[CY_DAY_TEXT];
            cy_trace_result_text(trace, cy_day_print(day, (cy_day)floor(wanted->p50 + 0.5)),
                                 wanted->basis);
            return true;
        }
    return false;
}

static void why_peak(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_supply *supply)
{
    char day[CY_DAY_TEXT];
    cy_trace_begin(trace, "the day on which most ripens",
                   "the greatest sum over the rows of what ripens on a day, the mean over the "
                   "weathers",
                   "");
    name_rows(trace, plan, on_day, supply->peak);
    cy_trace_number(trace, "all together", supply->days[supply->peak - supply->monday].mean_kg,
                    CY_Q_MASS, supply->total_kg.basis, "");
    cy_trace_result_text(trace, cy_day_print(day, supply->peak), supply->total_kg.basis);
}

static void why_gaps(struct cy_trace *trace, const struct cy_supply *supply)
{
    int selling = 0;
    for (size_t i = 0; i < supply->week_count; i++)
        selling += supply->weeks[i].selling;
    cy_trace_begin(trace, "the mean week of selling",
                   "the sum of the weeks' middles, from the week of the first pick to that of the "
                   "last, / their number; a week below a quarter of it is thin, one below a "
                   "hundredth has nothing to sell",
                   "");
    cy_trace_number(trace, "weeks of selling", selling, CY_Q_NUMBER, supply->total_kg.basis, "");
    cy_trace_number(trace, "thin below", CY_SUPPLY_THIN, CY_Q_SHARE, CY_BASIS_PLACEHOLDER, "");
    cy_trace_number(trace, "nothing below", CY_SUPPLY_NOTHING, CY_Q_SHARE, CY_BASIS_PLACEHOLDER,
                    "");
    cy_trace_number(trace, "thin weeks", supply->thin_weeks, CY_Q_NUMBER, CY_BASIS_PLACEHOLDER, "");
    cy_trace_number(trace, "weeks with nothing", supply->empty_weeks, CY_Q_NUMBER,
                    CY_BASIS_PLACEHOLDER, "");
    cy_trace_result(trace, supply->mean_week_kg, CY_Q_MASS,
                    supply->total_kg.basis | CY_BASIS_PLACEHOLDER);
}

static bool why_day(struct cy_trace *trace, const struct cy_plan *plan,
                    const struct cy_supply *supply, size_t index)
{
    if (index >= 7 * supply->week_count)
        return false;
    const struct cy_supply_day *day = &supply->days[index];
    cy_basis basis = supply->total_kg.basis | CY_BASIS_PLACEHOLDER;
    cy_trace_begin(trace, "ripe to be had on the day",
                   "what ripens on the day, the mean over the weathers, and what hangs there still "
                   "good: each row is followed day by day, its rounds take all that hangs ripe, "
                   "and what hangs longer than it keeps is lost; the sum over the rows",
                   "");
    name_rows(trace, plan, on_day, supply->monday + (cy_day)index);
    cy_trace_number(trace, "all that ripens on the day", day->mean_kg, CY_Q_MASS,
                    supply->total_kg.basis, "");
    cy_trace_number(trace, "picked by the rows' rounds", day->picked_kg, CY_Q_MASS, basis, "");
    cy_trace_result(trace, day->ripe_kg, CY_Q_MASS, basis);
    return true;
}

static bool why_lost(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_supply *supply, size_t index)
{
    if (index >= supply->row_count)
        return false;
    const struct cy_supply_row *row = &supply->rows[index];
    struct cy_given every =
        cy_given(cy_referred(&plan->farm, cy_farm_by_id(&plan->farm, row->thing), CY_ROW_PRACTICE),
                 CY_PRACTICE_PICK_EVERY);
    cy_trace_begin(trace, "what is lost between pickings",
                   "the mean crop followed day by day: rounds from the first berry on, each takes "
                   "all that hangs ripe; a day ages what hangs by 1 + (hot day's - 1) x share of "
                   "hot days + (wet day's - 1) x share of wet days over the weathers; what has "
                   "aged by more than it keeps is lost",
                   "dull and fully ripe 3 to 5 days after glossy black: Vance and others, Journal "
                   "of the American Pomological Society 73(4), 2019; when it is lost is ours");
    cy_trace_number(trace, "ripens", row->picking.ripened_kg, CY_Q_MASS, row->basis, "");
    cy_trace_number(trace, "days between pickings", row->every_d, CY_Q_DAYS, every.basis,
                    every.source);
    const struct cy_thing *cultivar =
        cy_referred(&plan->farm, cy_farm_by_id(&plan->farm, row->thing), CY_ROW_CULTIVAR);
    cy_why_given(trace, "ordinary days that ripe fruit keeps on the cane", cultivar,
                 CY_CULTIVAR_KEEPS);
    cy_why_given(trace, "a hot day, 85 F, ages it by", cultivar, CY_CULTIVAR_HOT_AGES);
    cy_why_given(trace, "a wet day, 0.1 in, ages it by", cultivar, CY_CULTIVAR_WET_AGES);
    cy_trace_number(trace, "share of hot days while it ripens", row->hot, CY_Q_SHARE,
                    cy_plan_weather_basis(plan), "");
    cy_trace_number(trace, "share of wet days while it ripens", row->wet, CY_Q_SHARE,
                    cy_plan_weather_basis(plan), "");
    cy_trace_number(trace, "lost were no day hot or wet", row->mild_lost_kg, CY_Q_MASS, row->basis,
                    "");
    cy_trace_number(trace, "picked", row->picking.picked_kg, CY_Q_MASS, row->basis, "");
    cy_trace_number(trace, "longest interval that loses less than 1 %", row->longest_d, CY_Q_DAYS,
                    row->basis, "");
    cy_trace_result(trace, row->picking.lost_kg, CY_Q_MASS, row->basis | every.basis);
    return true;
}

bool cy_supply_why(struct cy_trace *trace, const struct cy_plan *plan,
                   const struct cy_supply *supply, enum cy_supply_figure figure, size_t index)
{
    if (supply->week_count == 0)
        return false;
    switch (figure) {
    case CY_SUPPLY_TOTAL:
        cy_trace_begin(trace, "all rows together",
                       "the sum over the rows' crops; they ripen in the same weather, so the ends "
                       "of their ranges are summed as they are",
                       "");
        why_sum(trace, plan, &supply->total_kg, in_season, CY_DAY_NONE);
        return true;
    case CY_SUPPLY_WEEK:
        if (index >= supply->week_count)
            return false;
        cy_trace_begin(trace, "all rows together in the week",
                       "the sum of what each row's crops bear in the week; they ripen in the same "
                       "weather, so the ends of their ranges are summed as they are",
                       "");
        why_sum(trace, plan, &supply->weeks[index].kg, in_week, supply->weeks[index].monday);
        return true;
    case CY_SUPPLY_DAY:
        return why_day(trace, plan, supply, index);
    case CY_SUPPLY_FIRST:
    case CY_SUPPLY_LAST:
        return why_end(trace, plan, supply, figure == CY_SUPPLY_LAST);
    case CY_SUPPLY_PEAK:
        why_peak(trace, plan, supply);
        return true;
    case CY_SUPPLY_GAPS:
        why_gaps(trace, supply);
        return true;
    case CY_SUPPLY_LOST:
        return why_lost(trace, plan, supply, index);
    default:
        return false;
    }
}
