/* SPDX-License-Identifier: MIT
 * How much of the reference a row draws on a day: published coefficients laid on its stages. */
#include "season/water_parts.h"

#include <math.h>

#include <caneyear/crop/calendar.h>

/* The dates between which the coefficient of full production was measured, late June and late
 * September, and the season's shares of reference ET in the second year and the third (Acta
 * Horticulturae 1388, article 29). */
enum { LATE_JUNE = 625, LATE_SEPTEMBER = 925 };
static const double second_year_share = 0.34 / 0.71;

/* Where neither bud break nor emergence comes, growth is taken to begin on this northern day: a
 * placeholder. */
enum { SPRING = 401 };

bool cy_water_first_year(const struct cy_plan *plan, const struct cy_row_facts *facts)
{
    return facts->planted_season == plan->season ||
           (facts->planted_season == plan->season + 1 && facts->planted <= plan->last);
}

enum cy_water_rule cy_water_rule_of(const struct cy_plan *plan, const struct cy_thing *row)
{
    return (enum cy_water_rule)cy_choice(cy_referred(&plan->farm, row, CY_ROW_ZONE), CY_ZONE_RULE);
}

static enum cy_water_use use_of(cy_basis *basis, const struct cy_plan *plan,
                                const struct cy_row_facts *facts)
{
    const struct cy_thing *zone = cy_referred(&plan->farm, facts->row, CY_ROW_ZONE);
    struct cy_given curve = cy_given(zone, CY_ZONE_CURVE);
    *basis |= CY_BASIS_PUBLISHED | CY_BASIS_PLACEHOLDER;
    if (cy_water_first_year(plan, facts))
        return CY_WATER_USE_ESTABLISHING;
    *basis |= curve.basis;
    bool trailing = cy_choice(facts->cultivar, CY_CULTIVAR_HABIT) == CY_HABIT_TRAILING;
    bool measured = curve.known ? curve.number == CY_WATER_CURVE_MEASURED : trailing;
    return measured ? CY_WATER_USE_MEASURED : CY_WATER_USE_TABLE;
}

/* A stage's middle date, with what is behind it; NaN where there are no such canes. */
static double date_of(struct cy_water_stages *out, const struct cy_plan_cohort *canes,
                      enum cy_stage stage)
{
    if (!canes || isnan(canes->stage[stage].p50))
        return NAN;
    out->basis |= canes->stage[stage].basis;
    return canes->stage[stage].p50;
}

void cy_water_stages_of(struct cy_water_stages *out, const struct cy_plan *plan,
                        const struct cy_plan_row *row, const struct cy_row_facts *facts)
{
    const struct cy_plan_cohort *old = cy_plan_cohort_of(row, plan->season - 1);
    const struct cy_plan_cohort *young = cy_plan_cohort_of(row, plan->season);
    old = old && old->role == CY_ROLE_FLORICANES ? old : NULL;
    young = young && young->role == CY_ROLE_PRIMOCANES ? young : NULL;
    *out = (struct cy_water_stages){
        .latitude_deg = plan->latitude_deg, .season = plan->season, .from = plan->first};
    out->use = use_of(&out->basis, plan, facts);
    out->second_year =
        out->use != CY_WATER_USE_ESTABLISHING && facts->planted_season == plan->season - 1;
    if (facts->planted != CY_DAY_NONE && facts->planted > plan->first)
        out->from = facts->planted;
    out->falls = plan->last + 1;
    out->wakes =
        fmin(date_of(out, old, CY_STAGE_BUD_BREAK), date_of(out, young, CY_STAGE_EMERGENCE));
    if (isnan(out->wakes))
        out->wakes = cy_season_day(plan->latitude_deg, plan->season, SPRING, true);
    out->full = date_of(out, old, CY_STAGE_BLOOM);
    if (isnan(out->full))
        out->full = date_of(out, young, CY_STAGE_TIP);
    if (!(out->full > out->wakes))
        out->full = out->wakes + cy_water_kc_berries.days[1];
    double picked =
        fmax(date_of(out, old, CY_STAGE_LAST_PICK), date_of(out, young, CY_STAGE_AUTUMN_LAST_PICK));
    out->fades = fmax(out->falls - cy_water_kc_berries.days[3], picked); /* picked may be NaN */
    out->fades = fmin(fmax(out->fades, out->full), out->falls);
}

static double between(double day, double from, double to, double at_from, double at_to)
{
    return to > from ? at_from + (at_to - at_from) * (day - from) / (to - from) : at_to;
}

/* The equation's bounds for wind and humidity, and the height of berries in Table 12: FAO-56, from
 * memory. Fewer days than a month's say nothing of a site. */
#define CROP_HEIGHT_M 1.5
enum { LEAST_DAYS = 30, LEAST_WIND = 1, MOST_WIND = 6, LEAST_RH = 20, MOST_RH = 80 };

void cy_water_stages_move(struct cy_water_stages *stages, const struct cy_water_air *air)
{
    stages->shift = 0;
    stages->wind_m_s = stages->rh_min_pct = NAN;
    if (stages->use != CY_WATER_USE_TABLE || air->days < LEAST_DAYS)
        return;
    stages->wind_m_s = fmin(fmax(air->wind_m_s, LEAST_WIND), MOST_WIND);
    stages->rh_min_pct = fmin(fmax(air->rh_min_pct, LEAST_RH), MOST_RH);
    stages->shift = cy_water_kc_at_site(0, stages->wind_m_s, stages->rh_min_pct, CROP_HEIGHT_M);
}

static double by_table(const struct cy_water_stages *stages, cy_day day)
{
    struct cy_water_kc moved = cy_water_kc_berries;
    const struct cy_water_kc *table = &moved;
    moved.mid += stages->shift;
    moved.end += stages->shift;
    if (day < stages->wakes)
        return table->initial;
    if (day < stages->full)
        return between(day, stages->wakes, stages->full, table->initial, table->mid);
    if (day < stages->fades)
        return table->mid;
    return between(fmin(day, stages->falls), stages->fades, stages->falls, table->mid, table->end);
}

/* The day of the year on which a northern farm is as far into its season. */
static int northern_day(double latitude_deg, cy_day day)
{
    enum { HALF_YEAR = 182, YEAR = 365 };
    int number = day - cy_day_of(cy_day_year(day), 1, 1) + 1;
    if (latitude_deg >= 0)
        return number;
    return number > HALF_YEAR ? number - HALF_YEAR : number + YEAR - HALF_YEAR;
}

static double by_measurement(const struct cy_water_stages *stages, cy_day day)
{
    const double initial = cy_water_kc_berries.initial, end = cy_water_kc_berries.end;
    double from = cy_season_day(stages->latitude_deg, stages->season, LATE_JUNE, true);
    double to = cy_season_day(stages->latitude_deg, stages->season, LATE_SEPTEMBER, true);
    double first = cy_water_kc_measured(CY_WATER_FULL_CROP, 0);
    double last = cy_water_kc_measured(CY_WATER_FULL_CROP, 366);
    if (day < stages->wakes)
        return initial;
    if (day < from)
        return between(day, stages->wakes, from, initial, first);
    if (day < to)
        return cy_water_kc_measured(CY_WATER_FULL_CROP, northern_day(stages->latitude_deg, day));
    return between(fmin(day, stages->falls), to, stages->falls, last, end);
}

double cy_water_coefficient(const struct cy_water_stages *stages, cy_day day)
{
    const double initial = cy_water_kc_berries.initial;
    double kc;
    if (day < stages->from)
        return 0;
    if (stages->use == CY_WATER_USE_ESTABLISHING)
        return cy_water_kc_measured(CY_WATER_FIRST_YEAR, northern_day(stages->latitude_deg, day));
    kc = stages->use == CY_WATER_USE_TABLE ? by_table(stages, day) : by_measurement(stages, day);
    return stages->second_year && kc > initial ? fmax(initial, kc * second_year_share) : kc;
}
