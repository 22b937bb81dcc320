/* SPDX-License-Identifier: MIT
 * The weight of the crop: what a row can bear, when it ripens, and what is picked of it. */
#include <caneyear/crop/yield.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/issue.h>
#include <caneyear/base/stats.h>

/* ---- what a row can bear -------------------------------------------------------------------- */

double cy_yield_row_kg_m(double area_kg_m2, double row_spacing_m)
{
    return area_kg_m2 * row_spacing_m;
}

double cy_yield_area_kg_m2(double plant_kg, double plant_spacing_m, double row_spacing_m)
{
    return plant_kg / (plant_spacing_m * row_spacing_m);
}

double cy_yield_plants(double row_m, double plant_spacing_m)
{
    return row_m / plant_spacing_m;
}

static double after_decline(int leaf, int last_full)
{
    return leaf <= last_full ? 1 : fmax(1 - CY_YIELD_DECLINE * ((double)leaf - last_full), 0);
}

struct cy_yield_age cy_yield_at_age(int leaf)
{
    static const struct cy_yield_age young[] = {
        {0, 0, 0, CY_BASIS_MEMORY},
        {0.25, 0.375, 0.5, CY_BASIS_MEMORY},
        {0.75, 0.875, 1, CY_BASIS_MEMORY},
    };
    enum { LAST_LOW = 8, LAST_USUAL = 9, LAST_HIGH = 10 }; /* leaf with a full crop */

    if (leaf < 1)
        leaf = 1;
    if (leaf <= (int)(sizeof young / sizeof *young))
        return young[leaf - 1];
    return (struct cy_yield_age){
        .low = after_decline(leaf, LAST_LOW),
        .usual = after_decline(leaf, LAST_USUAL),
        .high = after_decline(leaf, LAST_HIGH),
        .basis = CY_BASIS_MEMORY | (leaf > LAST_LOW ? CY_BASIS_PLACEHOLDER : CY_BASIS_NONE),
    };
}

double cy_yield_present(double filled, double missing, double plants)
{
    const double share = isnan(filled) ? 1 - missing / plants : filled;
    return fmin(fmax(share, 0), 1);
}

double cy_yield_in_turn(bool alternate, bool fruits)
{
    if (!alternate)
        return 1;
    return fruits ? CY_YIELD_FRUIT_YEAR : 0;
}

struct cy_yield cy_yield_of_row(const struct cy_yield_stand *stand)
{
    const struct cy_yield_age age = cy_yield_at_age(stand->leaf);
    const double full_kg = cy_yield_row_kg_m(stand->full_kg_m2, stand->row_spacing_m) *
                           stand->row_m * stand->present *
                           cy_yield_in_turn(stand->alternate, stand->fruits);
    return (struct cy_yield){
        .low_kg = full_kg * age.low,
        .usual_kg = full_kg * age.usual,
        .high_kg = full_kg * age.high,
        .basis =
            stand->full_basis | age.basis | (stand->alternate ? CY_BASIS_PUBLISHED : CY_BASIS_NONE),
    };
}

/* ---- when it ripens ------------------------------------------------------------------------- */

static const double normal_95 = 1.6448536269514722; /* deviations from the middle to 95 % */

/* Dates are rounded to the nearest day, so a day runs from half a day before its number to half a
 * day after it. */
double cy_ripening_by(const struct cy_ripening *ripening, cy_day day)
{
    const double past = day + 0.5 - ripening->peak;
    const double side =
        past < 0 ? ripening->peak - ripening->first : ripening->last - ripening->peak;
    if (isnan(ripening->first) || isnan(ripening->peak) || isnan(ripening->last))
        return 0;
    if (!(side > 0))
        return past < 0 ? 0 : 1;
    return cy_normal_cdf(past * normal_95 / side);
}

double cy_ripening_kg(const struct cy_ripening *ripening, double total_kg, cy_day from, cy_day to)
{
    return total_kg * (cy_ripening_by(ripening, to) - cy_ripening_by(ripening, from - 1));
}

void cy_ripening_add(double *kg, cy_day first, size_t days, const struct cy_ripening *ripening,
                     double total_kg)
{
    double before = cy_ripening_by(ripening, first - 1);
    for (size_t i = 0; i < days; i++) {
        const double ripe = cy_ripening_by(ripening, first + (cy_day)i);
        kg[i] += total_kg * (ripe - before);
        before = ripe;
    }
}

/* ---- what is picked of it ------------------------------------------------------------------- */

struct hanging {
    double *kg;    /* of each day's ripening, what hangs there still */
    size_t oldest; /* nothing hangs there from before this day */
    double age_d;  /* how much what ripened on that day has aged since */
};

static bool rules_hold(const double *ripened_kg, size_t days,
                       const struct cy_harvest_rounds *rounds)
{
    for (size_t i = 0; i < days; i++)
        if (!isfinite(ripened_kg[i]) || ripened_kg[i] < 0 ||
            (rounds->ages_d && !(rounds->ages_d[i] > 0)))
            return false;
    return rounds->every >= 1 && rounds->keeps >= 0 && rounds->overlooked >= 0 &&
           rounds->overlooked <= 1 && rounds->most_kg >= 0;
}

static double aging(const struct cy_harvest_rounds *rounds, size_t day)
{
    return rounds->ages_d ? rounds->ages_d[day] : 1;
}

/* Ages what hangs by the day; what has grown too old is lost. */
static double lose_old(struct hanging *hanging, size_t today,
                       const struct cy_harvest_rounds *rounds)
{
    double lost = 0;
    if (today > 0)
        hanging->age_d += aging(rounds, today);
    for (; hanging->oldest < today && hanging->age_d > rounds->keeps; hanging->oldest++) {
        lost += hanging->kg[hanging->oldest];
        hanging->kg[hanging->oldest] = 0;
        hanging->age_d -= aging(rounds, hanging->oldest + 1);
    }
    return lost;
}

static bool is_round(cy_day day, const struct cy_harvest_rounds *rounds)
{
    return day >= rounds->from && day <= rounds->to && (day - rounds->from) % rounds->every == 0;
}

static double pick(struct hanging *hanging, size_t today, const struct cy_harvest_rounds *rounds)
{
    double picked = 0;
    for (size_t i = hanging->oldest; i <= today; i++) {
        const double taken =
            fmin(hanging->kg[i] * (1 - rounds->overlooked), rounds->most_kg - picked);
        hanging->kg[i] -= taken;
        picked += taken;
    }
    return picked;
}

static double weigh(const struct hanging *hanging, size_t today)
{
    double sum = 0;
    for (size_t i = hanging->oldest; i <= today; i++)
        sum += hanging->kg[i];
    return sum;
}

static void follow(struct cy_harvest *out, struct hanging *hanging, const double *ripened_kg,
                   const struct cy_harvest_rounds *rounds)
{
    struct cy_harvest_day *total = &out->total;
    for (size_t i = 0; i < out->count; i++) {
        struct cy_harvest_day *day = &out->days[i];
        day->lost_kg = lose_old(hanging, i, rounds);
        day->ripened_kg = hanging->kg[i] = ripened_kg[i];
        day->ripe_kg = weigh(hanging, i);
        if (is_round(out->first + (cy_day)i, rounds))
            day->picked_kg = pick(hanging, i, rounds);
        day->left_kg = weigh(hanging, i);
        total->ripened_kg += day->ripened_kg;
        total->picked_kg += day->picked_kg;
        total->lost_kg += day->lost_kg;
        total->left_kg = day->left_kg;
        total->ripe_kg = fmax(total->ripe_kg, day->ripe_kg);
    }
}

int cy_harvest_run(struct cy_harvest *out, const double *ripened_kg, cy_day first, size_t days,
                   const struct cy_harvest_rounds *rounds)
{
    *out = (struct cy_harvest){0};
    if (!rules_hold(ripened_kg, days, rounds))
        return CY_INVALID;
    struct hanging hanging = {.kg = cy_zeroed(days, sizeof *hanging.kg)};
    out->days = cy_zeroed(days, sizeof *out->days);
    if (!hanging.kg || !out->days) {
        free(hanging.kg);
        cy_harvest_dispose(out);
        return CY_NO_MEMORY;
    }
    out->first = first;
    out->count = days;
    follow(out, &hanging, ripened_kg, rounds);
    free(hanging.kg);
    return CY_OK;
}

void cy_harvest_dispose(struct cy_harvest *harvest)
{
    free(harvest->days);
    *harvest = (struct cy_harvest){0};
}

struct cy_harvest_day cy_harvest_on(const struct cy_harvest *harvest, cy_day day)
{
    const int64_t place = (int64_t)day - harvest->first;
    if (place < 0 || (uint64_t)place >= harvest->count)
        return (struct cy_harvest_day){0};
    return harvest->days[place];
}

double cy_harvest_ripe_on(const struct cy_harvest *harvests, size_t count, cy_day day)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += cy_harvest_on(&harvests[i], day).ripe_kg;
    return sum;
}
