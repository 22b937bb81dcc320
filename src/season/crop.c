/* SPDX-License-Identifier: MIT
 * What each row bears, week by week, with its spread over the weathers. */
#include "season/plan_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>

/* Rows of nobody knows what age count as full-grown. */
enum { GROWN_LEAF = 5 };

static struct cy_ripening ripening_of(const struct cy_life *life, bool autumn)
{
    const cy_day *day = &life->day[autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK];
    return (struct cy_ripening){day[0], day[1], day[2]};
}

static double share_of(const struct cy_life *life, bool autumn)
{
    const cy_day *day = &life->day[autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK];
    bool ripens = day[0] != CY_DAY_NONE && day[1] != CY_DAY_NONE && day[2] != CY_DAY_NONE;
    return ripens ? (autumn ? life->autumn_share : life->summer_share) : 0;
}

static struct cy_figure figure_of(double *values, int count)
{
    struct cy_figure figure = cy_figure_of(values, (size_t)count, CY_BASIS_NONE);
    int none = 0;
    while (none < count && values[none] <= 0)
        none++;
    figure.never = (double)none / count;
    return figure;
}

/* The weeks from the earliest first pick to the latest last pick, each as much further out as lies
 * halfway to its peak: beyond that less than a hundredth of a normal crop ripens. */
static void span(struct cy_plan_crop *out, const struct cy_life *lives, int count, bool autumn)
{
    double from = INFINITY, to = -INFINITY;
    for (int i = 0; i < count; i++) {
        struct cy_ripening ripening = ripening_of(&lives[i], autumn);
        if (share_of(&lives[i], autumn) <= 0)
            continue;
        from = fmin(from, ripening.first - fmax(ripening.peak - ripening.first, 0) / 2);
        to = fmax(to, ripening.last + fmax(ripening.last - ripening.peak, 0) / 2);
    }
    out->weeks = 0;
    if (from > to)
        return;
    out->monday = (cy_day)floor(from);
    out->monday -= cy_day_weekday(out->monday);
    out->weeks = ((cy_day)ceil(to) - out->monday) / 7 + 1;
    if (out->weeks > CY_CROP_WEEKS)
        out->weeks = CY_CROP_WEEKS;
}

/* One member's week, day by day; returns what ripens in it. `ripe` is the share that is ripe before
 * its Monday, and after it that before the next. */
static double add_week(double *day_kg, double *ripe, const struct cy_ripening *ripening,
                       cy_day monday, double share)
{
    const double before = *ripe;
    for (int day = 0; day < 7; day++) {
        double by_now = cy_ripening_by(ripening, monday + day);
        day_kg[day] += share * (by_now - *ripe);
        *ripe = by_now;
    }
    return *ripe - before;
}

void cy_crop_shape(struct cy_plan_crop *out, const struct cy_life *lives, int count, bool autumn,
                   double *scratch)
{
    double *ripe = scratch + count;
    memset(out, 0, sizeof *out);
    out->autumn = autumn;
    span(out, lives, count, autumn);
    for (int i = 0; i < count; i++) {
        struct cy_ripening ripening = ripening_of(&lives[i], autumn);
        scratch[i] = share_of(&lives[i], autumn);
        ripe[i] = scratch[i] > 0 ? cy_ripening_by(&ripening, out->monday - 1) : 0;
    }
    out->total_kg = figure_of(scratch, count);
    for (int week = 0; week < out->weeks; week++) {
        for (int i = 0; i < count; i++) {
            struct cy_ripening ripening = ripening_of(&lives[i], autumn);
            double share = share_of(&lives[i], autumn);
            scratch[i] = share > 0 ? share * add_week(&out->day_kg[7 * week], &ripe[i], &ripening,
                                                      out->monday + 7 * week, share / count)
                                   : 0;
        }
        out->week_kg[week] = figure_of(scratch, count);
    }
}

/* ---- on a row ------------------------------------------------------------------------------- */

/* Which season of its life a row is in, for what it bears, and what stands behind that. */
static int leaf_of(cy_basis *basis, const struct cy_plan *plan, const struct cy_row_facts *facts,
                   bool autumn)
{
    if (facts->planted_season <= 0) {
        *basis = CY_BASIS_PLACEHOLDER;
        return GROWN_LEAF;
    }
    *basis = cy_given(facts->row, CY_ROW_PLANTED).basis;
    int leaf = plan->season - facts->planted_season + 1;
    /* Canes that came along with the plants bear a year sooner. That is ours, and so is the
     * published course of a crop on old canes for one on new ones. */
    if ((autumn || facts->stock == CY_STOCK_LONG_CANE) && leaf < GROWN_LEAF)
        *basis |= CY_BASIS_PLACEHOLDER;
    return facts->stock == CY_STOCK_LONG_CANE ? leaf + 1 : leaf;
}

/* The share of the row that bears; a plant's spacing counts only where plants are missing. */
static double present_of(cy_basis *basis, const struct cy_row_facts *facts)
{
    struct cy_given filled = cy_given(facts->row, CY_ROW_FILLED);
    struct cy_given missing = cy_given(facts->row, CY_ROW_MISSING);
    struct cy_given spacing = cy_given(facts->row, CY_ROW_SPACING);
    *basis = filled.known ? filled.basis : missing.basis;
    if (!filled.known && missing.number > 0)
        *basis |= spacing.basis;
    return cy_yield_present(filled.number, missing.number,
                            cy_yield_plants(facts->length_m, spacing.number));
}

void cy_row_stand(struct cy_crop_stand *out, const struct cy_plan *plan,
                  const struct cy_row_facts *facts, const struct cy_plan_cohort *cohort,
                  bool autumn)
{
    struct cy_given full = cy_given(facts->cultivar, CY_CULTIVAR_YIELD);
    struct cy_given width = cy_given(facts->row, CY_ROW_WIDTH);
    *out = (struct cy_crop_stand){
        /* One yield is said of a cultivar: for a primocane type that of its autumn crop. */
        .other_crops = !autumn && facts->traits.fruiting == CY_FRUITING_PRIMOCANE,
    };
    out->stand = (struct cy_yield_stand){
        .full_kg_m2 = full.number,
        .row_m = facts->length_m,
        .row_spacing_m = width.number,
        .leaf = leaf_of(&out->age, plan, facts, autumn),
        .present = present_of(&out->present, facts),
        .alternate = facts->traits.cropping == CY_CROPPING_ALTERNATE,
        .fruits = cohort->kept,
    };
    out->stand.full_basis = full.basis | width.basis | out->age | out->present |
                            cy_given(facts->row, CY_ROW_LENGTH).basis;
    if (out->other_crops)
        out->stand.full_basis |= CY_BASIS_PLACEHOLDER;
}

static struct cy_figure scaled(const struct cy_figure *share, const struct cy_yield *yield,
                               cy_basis basis)
{
    return (struct cy_figure){.p10 = share->p10 * yield->low_kg,
                              .p50 = share->p50 * yield->usual_kg,
                              .p90 = share->p90 * yield->high_kg,
                              .never = share->never,
                              .basis = basis};
}

int cy_row_crop(struct cy_plan_row *row, const struct cy_plan *plan,
                const struct cy_row_facts *facts, const struct cy_plan_cohort *cohort,
                const struct cy_plan_crop *shape)
{
    struct cy_crop_stand stand;
    cy_row_stand(&stand, plan, facts, cohort, shape->autumn);
    struct cy_yield yield = cy_yield_of_row(&stand.stand);
    if (shape->weeks == 0 || isnan(yield.usual_kg) || yield.high_kg <= 0)
        return CY_OK;
    struct cy_plan_crop *crops = realloc(row->crops, (size_t)(row->crop_count + 1) * sizeof *crops);
    if (!crops)
        return CY_NO_MEMORY;
    row->crops = crops;
    struct cy_plan_crop *crop = &crops[row->crop_count++];
    cy_basis basis =
        yield.basis |
        cohort->stage[shape->autumn ? CY_STAGE_AUTUMN_PEAK_PICK : CY_STAGE_PEAK_PICK].basis;
    *crop = *shape;
    crop->year = cohort->year;
    crop->total_kg = scaled(&shape->total_kg, &yield, basis);
    for (int week = 0; week < crop->weeks; week++)
        crop->week_kg[week] = scaled(&shape->week_kg[week], &yield, basis);
    for (int day = 0; day < 7 * crop->weeks; day++)
        crop->day_kg[day] = shape->day_kg[day] * yield.usual_kg;
    return CY_OK;
}

double cy_plan_ripe_kg(const struct cy_plan_row *row, cy_day day)
{
    double kg = 0;
    for (int i = 0; i < row->crop_count; i++)
        for (int back = 0; back < row->pick_every_d; back++) {
            int at = day - back - row->crops[i].monday;
            if (at >= 0 && at < 7 * row->crops[i].weeks)
                kg += row->crops[i].day_kg[at];
        }
    return kg;
}

struct cy_figure cy_plan_week_kg(const struct cy_plan_row *row, cy_day monday)
{
    struct cy_figure sum = {0};
    for (int i = 0; i < row->crop_count; i++) {
        int week = (monday - row->crops[i].monday) / 7;
        if (monday < row->crops[i].monday || week >= row->crops[i].weeks)
            continue;
        const struct cy_figure *figure = &row->crops[i].week_kg[week];
        sum.p10 += figure->p10;
        sum.p50 += figure->p50;
        sum.p90 += figure->p90;
        sum.basis |= figure->basis;
    }
    return sum;
}
