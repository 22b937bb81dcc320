/* SPDX-License-Identifier: MIT
 * The whole farm's crop, laid together from its rows; its gaps; what waiting loses. */
#include <caneyear/season/supply.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/crop/yield.h>

/* ---- one row -------------------------------------------------------------------------------- */

/* The days that a row's crops span, all together; false where it has none. */
static bool span(cy_day *first, size_t *days, const struct cy_plan_row *row)
{
    cy_day from = CY_DAY_NONE, end = CY_DAY_NONE;
    for (int i = 0; i < row->crop_count; i++) {
        const struct cy_plan_crop *crop = &row->crops[i];
        cy_day crop_end = crop->monday + 7 * crop->weeks;
        if (crop->weeks == 0)
            continue;
        from = from == CY_DAY_NONE || crop->monday < from ? crop->monday : from;
        end = end == CY_DAY_NONE || crop_end > end ? crop_end : end;
    }
    *first = from;
    *days = from == CY_DAY_NONE ? 0 : (size_t)(end - from);
    return *days > 0;
}

/* What ripens on each day, the mean; room for `more` days behind. NULL without memory. */
static double *ripening(const struct cy_plan_row *row, cy_day first, size_t days, size_t more)
{
    double *kg = cy_zeroed(days + more, sizeof *kg);
    for (int i = 0; kg && i < row->crop_count; i++) {
        const struct cy_plan_crop *crop = &row->crops[i];
        for (int day = 0; day < 7 * crop->weeks; day++)
            kg[crop->monday - first + day] += crop->day_kg[day];
    }
    return kg;
}

void cy_supply_keeping_of(struct cy_supply_keeping *out, const struct cy_plan *plan,
                          const struct cy_plan_row *row)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    const struct cy_thing *cultivar = cy_referred(&plan->farm, thing, CY_ROW_CULTIVAR);
    struct cy_given keeps = cy_given(cultivar, CY_CULTIVAR_KEEPS);
    struct cy_given hot = cy_given(cultivar, CY_CULTIVAR_HOT_AGES);
    struct cy_given wet = cy_given(cultivar, CY_CULTIVAR_WET_AGES);
    *out = (struct cy_supply_keeping){.keeps_d = keeps.number,
                                      .hot_ages_d = hot.number,
                                      .wet_ages_d = wet.number,
                                      .hot = plan->hot,
                                      .wet = plan->wet,
                                      .first = plan->first,
                                      .days = plan->last - plan->first + 1,
                                      .basis = keeps.basis | hot.basis | wet.basis};
}

static double share_on(const double *shares, const struct cy_supply_keeping *keeping, cy_day day)
{
    cy_day at = day - keeping->first;
    return shares && at >= 0 && at < keeping->days ? shares[at] : 0;
}

static double aging_on(const struct cy_supply_keeping *keeping, cy_day day)
{
    return 1 + (keeping->hot_ages_d - 1) * share_on(keeping->hot, keeping, day) +
           (keeping->wet_ages_d - 1) * share_on(keeping->wet, keeping, day);
}

/* Rounds go on until nothing hangs. */
static int harvest(struct cy_harvest *out, const struct cy_plan_row *row,
                   const struct cy_supply_keeping *keeping, int every_d)
{
    cy_day first;
    size_t days;
    *out = (struct cy_harvest){0};
    if (every_d < 1)
        return CY_INVALID;
    if (!span(&first, &days, row))
        return CY_OK;
    size_t more = (size_t)every_d + (size_t)ceil(keeping->keeps_d) + 1;
    double *kg = ripening(row, first, days, more);
    double *ages_d = cy_zeroed(days + more, sizeof *ages_d);
    int status = kg && ages_d ? CY_OK : CY_NO_MEMORY;
    for (size_t i = 0; status == CY_OK && i < days + more; i++)
        ages_d[i] = aging_on(keeping, first + (cy_day)i);
    struct cy_harvest_rounds rounds = {.from = first,
                                       .to = first + (cy_day)(days + more),
                                       .every = every_d,
                                       .keeps = keeping->keeps_d,
                                       .ages_d = ages_d,
                                       .most_kg = INFINITY};
    if (status == CY_OK)
        status = cy_harvest_run(out, kg, first, days + more, &rounds);
    free(kg);
    free(ages_d);
    return status;
}

int cy_supply_picking_of(struct cy_supply_picking *out, const struct cy_plan_row *row,
                         const struct cy_supply_keeping *keeping, int every_d)
{
    struct cy_harvest run;
    *out = (struct cy_supply_picking){0};
    int status = harvest(&run, row, keeping, every_d);
    if (status == CY_OK)
        *out = (struct cy_supply_picking){run.total.ripened_kg, run.total.picked_kg,
                                          run.total.lost_kg};
    cy_harvest_dispose(&run);
    return status;
}

/* How hot and wet the days are on which the row's fruit ripens. */
static void set_weather(struct cy_supply_row *out, const struct cy_plan_row *row,
                        const struct cy_supply_keeping *keeping)
{
    double sum = 0;
    for (int i = 0; i < row->crop_count; i++) {
        const struct cy_plan_crop *crop = &row->crops[i];
        for (int day = 0; day < 7 * crop->weeks; day++) {
            out->hot += crop->day_kg[day] * share_on(keeping->hot, keeping, crop->monday + day);
            out->wet += crop->day_kg[day] * share_on(keeping->wet, keeping, crop->monday + day);
            sum += crop->day_kg[day];
        }
    }
    out->hot = sum > 0 ? out->hot / sum : 0;
    out->wet = sum > 0 ? out->wet / sum : 0;
}

int cy_supply_row_of(struct cy_supply_row *out, const struct cy_plan *plan,
                     const struct cy_plan_row *row)
{
    struct cy_supply_keeping keeping, mild;
    cy_supply_keeping_of(&keeping, plan, row);
    mild = keeping;
    struct cy_supply_picking other;
    mild.hot = mild.wet = NULL;
    *out = (struct cy_supply_row){.thing = row->thing,
                                  .key = row->key,
                                  .name = row->name,
                                  .every_d = row->pick_every_d,
                                  .longest_d = 1,
                                  .basis = keeping.basis};
    for (int i = 0; i < row->crop_count; i++)
        out->basis |= row->crops[i].total_kg.basis;
    set_weather(out, row, &keeping);
    int status = cy_supply_picking_of(&out->picking, row, &keeping, out->every_d);
    if (status == CY_OK)
        status = cy_supply_picking_of(&other, row, &mild, out->every_d);
    if (status == CY_OK)
        out->mild_lost_kg = other.lost_kg;
    for (int every = 1; status == CY_OK && every <= CY_SUPPLY_LONGEST; every++) {
        status = cy_supply_picking_of(&other, row, &keeping, every);
        out->lost_kg[every] = other.lost_kg;
        if (other.lost_kg < 0.01 * other.ripened_kg)
            out->longest_d = every;
    }
    return status;
}

/* ---- all rows ------------------------------------------------------------------------------- */

static void add(struct cy_figure *sum, const struct cy_figure *figure)
{
    sum->p10 += figure->p10;
    sum->p50 += figure->p50;
    sum->p90 += figure->p90;
    sum->basis |= figure->basis;
}

static int make_room(struct cy_supply *out, const struct cy_plan *plan)
{
    cy_day from = CY_DAY_NONE, end = CY_DAY_NONE;
    size_t bearing = 0;
    for (size_t i = 0; i < plan->row_count; i++) {
        cy_day first;
        size_t days;
        if (!span(&first, &days, &plan->rows[i]))
            continue;
        bearing++;
        from = from == CY_DAY_NONE || first < from ? first : from;
        end = end == CY_DAY_NONE || first + (cy_day)days > end ? first + (cy_day)days : end;
    }
    out->monday = from;
    out->week_count = bearing > 0 ? (size_t)(end - from) / 7 : 0;
    out->weeks = cy_zeroed(out->week_count, sizeof *out->weeks);
    out->days = cy_zeroed(out->week_count * 7, sizeof *out->days);
    out->rows = cy_zeroed(bearing, sizeof *out->rows);
    return out->weeks && out->days && out->rows ? CY_OK : CY_NO_MEMORY;
}

/* A week's median shared out as its days' means are, and so its ends. */
static void add_days(struct cy_supply_day *days, const struct cy_plan_crop *crop, int week)
{
    const struct cy_figure *whole = &crop->week_kg[week];
    double mean = 0;
    for (int i = 0; i < 7; i++)
        mean += crop->day_kg[7 * week + i];
    for (int i = 0; i < 7; i++) {
        double part = mean > 0 ? crop->day_kg[7 * week + i] / mean : 0;
        struct cy_figure figure = {.p10 = whole->p10 * part,
                                   .p50 = whole->p50 * part,
                                   .p90 = whole->p90 * part,
                                   .basis = whole->basis};
        add(&days[i].ripens_kg, &figure);
        days[i].mean_kg += crop->day_kg[7 * week + i];
    }
}

/* The earliest first pick and the latest last one, by their medians. */
static void set_ends(struct cy_supply *out, const struct cy_plan_row *row,
                     const struct cy_plan_crop *crop)
{
    enum cy_stage stage = crop->autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK;
    for (int i = 0; i < row->cohort_count; i++) {
        if (row->cohorts[i].year != crop->year)
            continue;
        const struct cy_figure *first = &row->cohorts[i].stage[stage], *last = first + 2;
        if (first->p50 < out->first.p50 || isnan(out->first.p50))
            out->first = *first;
        if (last->p50 > out->last.p50 || isnan(out->last.p50))
            out->last = *last;
    }
}

static void add_crop(struct cy_supply *out, const struct cy_plan_row *row,
                     const struct cy_plan_crop *crop)
{
    size_t before = (size_t)(crop->monday - out->monday) / 7;
    for (int week = 0; week < crop->weeks; week++) {
        add(&out->weeks[before + (size_t)week].kg, &crop->week_kg[week]);
        add_days(&out->days[7 * (before + (size_t)week)], crop, week);
    }
    add(&out->total_kg, &crop->total_kg);
    if (crop->weeks > 0)
        set_ends(out, row, crop);
}

static int add_row(struct cy_supply *out, const struct cy_plan *plan, const struct cy_plan_row *row)
{
    struct cy_supply_keeping keeping;
    struct cy_harvest run;
    cy_supply_keeping_of(&keeping, plan, row);
    for (int i = 0; i < row->crop_count; i++)
        add_crop(out, row, &row->crops[i]);
    int status = harvest(&run, row, &keeping, row->pick_every_d);
    for (size_t i = 0; status == CY_OK && i < run.count; i++) {
        size_t place = i + (size_t)(run.first - out->monday);
        if (place >= 7 * out->week_count)
            break;
        out->days[place].ripe_kg += run.days[i].ripe_kg;
        out->days[place].picked_kg += run.days[i].picked_kg;
    }
    cy_harvest_dispose(&run);
    return status == CY_OK ? cy_supply_row_of(&out->rows[out->row_count++], plan, row) : status;
}

/* Weeks of selling are those from the first pick's to the last pick's. */
static void find_gaps(struct cy_supply *out)
{
    int selling = 0;
    for (size_t i = 0; i < out->week_count; i++) {
        struct cy_supply_week *week = &out->weeks[i];
        week->monday = out->monday + 7 * (cy_day)i;
        week->selling = week->monday + 6 >= out->first.p50 && week->monday <= out->last.p50;
        if (!week->selling)
            continue;
        out->mean_week_kg += week->kg.p50;
        selling++;
    }
    out->mean_week_kg /= selling > 0 ? selling : 1;
    for (size_t i = 0; i < out->week_count; i++) {
        struct cy_supply_week *week = &out->weeks[i];
        if (!week->selling)
            continue;
        if (week->kg.p50 <= CY_SUPPLY_NOTHING * out->mean_week_kg)
            week->gap = CY_SUPPLY_IS_NOTHING;
        else if (week->kg.p50 < CY_SUPPLY_THIN * out->mean_week_kg)
            week->gap = CY_SUPPLY_IS_THIN;
        out->thin_weeks += week->gap == CY_SUPPLY_IS_THIN;
        out->empty_weeks += week->gap == CY_SUPPLY_IS_NOTHING;
    }
}

static void find_peak(struct cy_supply *out)
{
    size_t best = 0;
    for (size_t i = 1; i < 7 * out->week_count; i++)
        if (out->days[i].mean_kg > out->days[best].mean_kg)
            best = i;
    out->peak = out->week_count > 0 ? out->monday + (cy_day)best : CY_DAY_NONE;
}

/* Rows that have canes to bear on but no yield to weigh them by. */
static bool is_unknown(const struct cy_plan *plan, const struct cy_plan_row *row)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    const struct cy_thing *cultivar = cy_referred(&plan->farm, thing, CY_ROW_CULTIVAR);
    return row->crop_count == 0 && !(row->notes & CY_NOTE_NOT_PLANTED) &&
           !cy_given(cultivar, CY_CULTIVAR_YIELD).known;
}

int cy_supply_of(struct cy_supply *out, const struct cy_plan *plan)
{
    *out = (struct cy_supply){.first = {.p10 = NAN, .p50 = NAN, .p90 = NAN},
                              .last = {.p10 = NAN, .p50 = NAN, .p90 = NAN}};
    int status = make_room(out, plan);
    for (size_t i = 0; status == CY_OK && i < plan->row_count; i++) {
        cy_day first;
        size_t days;
        if (span(&first, &days, &plan->rows[i]))
            status = add_row(out, plan, &plan->rows[i]);
        else
            out->unknown_rows += is_unknown(plan, &plan->rows[i]);
    }
    if (status != CY_OK) {
        cy_supply_dispose(out);
        return status;
    }
    find_gaps(out);
    find_peak(out);
    return CY_OK;
}

void cy_supply_dispose(struct cy_supply *supply)
{
    free(supply->weeks);
    free(supply->days);
    free(supply->rows);
    *supply = (struct cy_supply){0};
}

double cy_supply_ripe_on(const struct cy_supply *supply, cy_day day)
{
    if (supply->week_count == 0 || day < supply->monday ||
        day >= supply->monday + 7 * (cy_day)supply->week_count)
        return 0;
    return supply->days[day - supply->monday].ripe_kg;
}
