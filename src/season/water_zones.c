/* SPDX-License-Identifier: MIT
 * The zones: how long each runs in a week, which take turns, what the season asks of their
 * source; and the drip line of a row. */
#include "season/water_parts.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

/* ---- turns ---------------------------------------------------------------------------------- */

/* A flow that meets the supply but for rounding fits. */
#define NEARLY 1.0000001

int cy_water_turns(int *turn, int *parts, const double *flow_lph, size_t count, double supply_lph)
{
    int turns = 0;
    for (size_t i = 0; i < count; i++) {
        bool fits = isnan(supply_lph) || flow_lph[i] <= supply_lph * NEARLY;
        turn[i] = 0;
        parts[i] = 1;
        if (isnan(flow_lph[i]))
            continue;
        if (!fits)
            parts[i] = (int)ceil(flow_lph[i] / (supply_lph * NEARLY));
        for (int t = 1; fits && t <= turns && turn[i] == 0; t++) {
            double sum = flow_lph[i];
            bool open = true; /* no zone in it that runs in parts */
            for (size_t other = 0; other < i; other++)
                if (turn[other] == t) {
                    sum += flow_lph[other];
                    open = open && parts[other] == 1;
                }
            if (open && (isnan(supply_lph) || sum <= supply_lph * NEARLY))
                turn[i] = t;
        }
        if (turn[i] == 0)
            turn[i] = ++turns;
    }
    return turns;
}

/* ---- zones ---------------------------------------------------------------------------------- */

static struct cy_figure times(const struct cy_figure *figure, double factor)
{
    return (struct cy_figure){.p10 = figure->p10 * factor,
                              .p50 = figure->p50 * factor,
                              .p90 = figure->p90 * factor,
                              .basis = figure->basis};
}

struct zoning {
    struct cy_plan *plan;
    const struct cy_water_course *const *courses;
    size_t members;
    double *need_mm;  /* members x weeks, of the zone at hand */
    double *season_l; /* zones x members */
    double *scratch;
};

static bool runs_by_inch(const struct cy_water_row *row)
{
    return row->first_year && row->rule == CY_WATER_RULE_INCH;
}

/* The zone is run for the thirstiest of its rows, weather by weather. */
static void add_needs(struct zoning *zoning, size_t row)
{
    const struct cy_water_course *course = zoning->courses[row];
    const struct cy_water_row *water = &zoning->plan->water->rows[row];
    if (!course)
        return;
    const double *need_mm = runs_by_inch(water) ? course->inch_mm : course->need_mm;
    for (size_t i = 0; i < zoning->members * CY_WATER_WEEKS; i++)
        zoning->need_mm[i] = fmax(zoning->need_mm[i], need_mm[i]);
}

/* Litres pumped for a depth over all strips. */
static double litres(const struct cy_water_zone *zone, double depth_mm)
{
    return depth_mm * zone->strip_m2 / zone->efficiency;
}

/* What the season asks for: what is needed in weeks whose end lies ahead, and what was written
 * down as given before. */
static void sum_season(struct cy_water_zone *zone, struct zoning *zoning, size_t number)
{
    const struct cy_water_plan *water = zoning->plan->water;
    double *season_l = zoning->season_l + number * zoning->members;
    bool ahead[CY_WATER_WEEKS] = {false};
    double given_mm[CY_WATER_WEEKS] = {0};
    for (size_t row = 0; row < water->row_count; row++) {
        const struct cy_water_course *course = zoning->courses[row];
        for (int week = 0; course && water->rows[row].zone == number && week < water->week_count;
             week++) {
            ahead[week] = ahead[week] || course->ahead[week];
            given_mm[week] = fmax(given_mm[week], course->given_mm[week]);
        }
    }
    for (size_t member = 0; member < zoning->members; member++) {
        double sum_mm = 0;
        for (int week = 0; week < water->week_count; week++)
            sum_mm += given_mm[week] +
                      (ahead[week] ? zoning->need_mm[member * CY_WATER_WEEKS + (size_t)week] : 0);
        season_l[member] = litres(zone, sum_mm);
        zoning->scratch[member] = season_l[member];
    }
    zone->season_l = cy_figure_of(zoning->scratch, zoning->members, zone->basis);
}

static void fill_weeks(struct cy_water_zone *zone, struct zoning *zoning)
{
    for (int week = 0; week < zoning->plan->water->week_count; week++) {
        struct cy_water_zone_week *out = &zone->weeks[week];
        for (size_t member = 0; member < zoning->members; member++)
            zoning->scratch[member] = zoning->need_mm[member * CY_WATER_WEEKS + (size_t)week];
        out->need_mm = cy_figure_of(zoning->scratch, zoning->members, zone->basis);
        out->litres = times(&out->need_mm, litres(zone, 1));
        out->hours = times(&out->litres, 1 / zone->flow_lph);
    }
}

static void add_row(struct cy_water_zone *zone, const struct cy_thing *thing,
                    const struct cy_plan *plan, const struct cy_water_row *row)
{
    double emitters_m = cy_number(thing, CY_ZONE_EMITTER_SPACING);
    double length_m =
        cy_number(cy_farm_by_id(&plan->farm, plan->rows[row->row].thing), CY_ROW_LENGTH);
    zone->row_count++;
    zone->length_m += length_m;
    zone->strip_m2 += row->strip_m2;
    zone->flow_lph += floor(length_m / emitters_m + 1e-9) * cy_number(thing, CY_ZONE_LINES) *
                      cy_number(thing, CY_ZONE_EMITTER);
    zone->basis |= runs_by_inch(row) ? row->inch_basis : row->basis;
}

static void fill_zone(struct cy_water_zone *zone, const struct cy_thing *thing,
                      struct zoning *zoning, size_t number)
{
    static const enum cy_field behind[] = {CY_ZONE_EMITTER, CY_ZONE_EMITTER_SPACING, CY_ZONE_LINES,
                                           CY_ZONE_WIDTH, CY_ZONE_EFFICIENCY};
    struct cy_water_plan *water = zoning->plan->water;
    *zone = (struct cy_water_zone){.thing = thing->id,
                                   .key = thing->key,
                                   .name = cy_thing_name(thing),
                                   .efficiency = cy_number(thing, CY_ZONE_EFFICIENCY)};
    for (size_t i = 0; i < sizeof behind / sizeof *behind; i++)
        zone->basis |= cy_given(thing, behind[i]).basis;
    for (size_t i = 0; i < zoning->members * CY_WATER_WEEKS; i++)
        zoning->need_mm[i] = 0;
    for (size_t row = 0; row < water->row_count; row++) {
        const struct cy_thing *of =
            cy_farm_by_id(&zoning->plan->farm, zoning->plan->rows[row].thing);
        if (!cy_streq(cy_string(of, CY_ROW_ZONE), thing->key) || !water->rows[row].waters)
            continue;
        water->rows[row].zone = number;
        add_row(zone, thing, zoning->plan, &water->rows[row]);
        add_needs(zoning, row);
    }
    fill_weeks(zone, zoning);
    sum_season(zone, zoning, number);
}

/* ---- sources -------------------------------------------------------------------------------- */

static const struct cy_thing *thing_of(const struct cy_plan *plan, const struct cy_water_zone *zone)
{
    return cy_farm_by_id(&plan->farm, zone->thing);
}

static void find_source(struct cy_plan *plan, struct cy_water_zone *zone)
{
    struct cy_water_plan *water = plan->water;
    const struct cy_thing *thing = thing_of(plan, zone);
    const char *name = cy_string(thing, CY_ZONE_SOURCE);
    size_t at = 0;
    while (at < water->source_count && !cy_streq(water->sources[at].name, name))
        at++;
    struct cy_water_source *source = &water->sources[at];
    if (at == water->source_count) {
        water->source_count++;
        *source = (struct cy_water_source){
            .name = name, .supply_lph = NAN, .season_limit_l = NAN, .short_share = NAN};
    }
    zone->source = at;
    source->supply_lph = fmin(source->supply_lph, cy_number(thing, CY_ZONE_SUPPLY));
    source->season_limit_l = fmin(source->season_limit_l, 1000 * cy_number(thing, CY_ZONE_SEASON));
    source->basis |=
        zone->basis | cy_given(thing, CY_ZONE_SUPPLY).basis | cy_given(thing, CY_ZONE_SEASON).basis;
}

/* Its turns one after another, each as long as its longest zone. */
static double hours_in(const struct cy_water_plan *water, size_t source, int week)
{
    double hours = 0;
    for (int turn = 1; turn <= water->sources[source].turns; turn++) {
        double longest = 0;
        for (size_t i = 0; i < water->zone_count; i++)
            if (water->zones[i].source == source && water->zones[i].turn == turn)
                longest =
                    fmax(longest, water->zones[i].weeks[week].hours.p50 * water->zones[i].parts);
        hours += longest;
    }
    return water->sources[source].turns > 0 ? hours : NAN;
}

static void fill_source(struct zoning *zoning, size_t number)
{
    struct cy_water_plan *water = zoning->plan->water;
    struct cy_water_source *source = &water->sources[number];
    int over = 0;
    for (int week = 0; week < water->week_count; week++)
        source->hours[week] = hours_in(water, number, week);
    for (size_t member = 0; member < zoning->members; member++) {
        zoning->scratch[member] = 0;
        for (size_t i = 0; i < water->zone_count; i++)
            if (water->zones[i].source == number)
                zoning->scratch[member] += zoning->season_l[i * zoning->members + member];
        over += zoning->scratch[member] > source->season_limit_l;
    }
    if (!isnan(source->season_limit_l))
        source->short_share = (double)over / (double)zoning->members;
    source->season_l = cy_figure_of(zoning->scratch, zoning->members, source->basis);
}

static int take_turns(struct cy_water_plan *water, size_t number)
{
    size_t count = 0;
    double *flow = cy_zeroed(water->zone_count, sizeof *flow);
    int *turn = cy_zeroed(water->zone_count, 2 * sizeof *turn);
    int *parts = turn ? turn + water->zone_count : NULL;
    if (flow && turn) {
        for (size_t i = 0; i < water->zone_count; i++)
            if (water->zones[i].source == number)
                flow[count++] = water->zones[i].flow_lph;
        water->sources[number].turns =
            cy_water_turns(turn, parts, flow, count, water->sources[number].supply_lph);
        count = 0;
        for (size_t i = 0; i < water->zone_count; i++)
            if (water->zones[i].source == number) {
                water->zones[i].turn = turn[count];
                water->zones[i].parts = parts[count++];
            }
    }
    int status = flow && turn ? CY_OK : CY_NO_MEMORY;
    free(flow);
    free(turn);
    return status;
}

static bool has_rows(const struct cy_plan *plan, const struct cy_thing *zone)
{
    for (size_t row = 0; row < plan->row_count; row++)
        if (plan->water->rows[row].waters &&
            cy_streq(cy_string(cy_farm_by_id(&plan->farm, plan->rows[row].thing), CY_ROW_ZONE),
                     zone->key))
            return true;
    return false;
}

int cy_water_zones(struct cy_plan *plan, const struct cy_water_course *const *courses)
{
    struct cy_water_plan *water = plan->water;
    size_t count = (size_t)cy_farm_count(&plan->farm, CY_KIND_ZONE, 0);
    size_t members = (size_t)plan->members;
    if (count == 0)
        return CY_OK;
    water->zones = cy_zeroed(count, sizeof *water->zones);
    water->sources = cy_zeroed(count, sizeof *water->sources);
    struct zoning zoning = {.plan = plan,
                            .courses = courses,
                            .members = members,
                            .need_mm = cy_zeroed(members, CY_WATER_WEEKS * sizeof(double)),
                            .season_l = cy_zeroed(count, members * sizeof(double)),
                            .scratch = cy_zeroed(members, sizeof(double))};
    bool fine =
        water->zones && water->sources && zoning.need_mm && zoning.season_l && zoning.scratch;
    for (const struct cy_thing *thing = NULL;
         fine && (thing = cy_farm_next(&plan->farm, CY_KIND_ZONE, 0, thing));) {
        if (!has_rows(plan, thing))
            continue;
        struct cy_water_zone *zone = &water->zones[water->zone_count];
        fill_zone(zone, thing, &zoning, water->zone_count++);
        find_source(plan, zone);
    }
    for (size_t i = 0; fine && i < water->source_count; i++) {
        fine = take_turns(water, i) == CY_OK;
        if (fine)
            fill_source(&zoning, i);
    }
    free(zoning.need_mm);
    free(zoning.season_l);
    free(zoning.scratch);
    return fine ? CY_OK : CY_NO_MEMORY;
}

/* ---- a row's line --------------------------------------------------------------------------- */

/* As far as the longest line is looked for. */
enum { MOST_EMITTERS = 1500 };
static const double pascal_per_m = 9806.65;

/* The rise along a row: its bearing against the way that the slope faces. */
static double rise_along(const struct cy_thing *site, const struct cy_thing *row, cy_basis *basis)
{
    const double degree = acos(-1.0) / 180;
    struct cy_given slope = cy_given(site, CY_SITE_SLOPE), aspect = cy_given(site, CY_SITE_ASPECT);
    struct cy_given bearing = cy_given(row, CY_ROW_BEARING);
    if (!slope.known || slope.number == 0) {
        *basis |= slope.known ? slope.basis : CY_BASIS_PLACEHOLDER; /* taken as level */
        return 0;
    }
    if (!aspect.known) {
        *basis |= CY_BASIS_PLACEHOLDER;
        return 0;
    }
    *basis |= slope.basis | aspect.basis | bearing.basis;
    return -tan(slope.number * degree) * cos((bearing.number - aspect.number) * degree);
}

int cy_water_row_line(struct cy_water_row_line *out, const struct cy_plan *plan, size_t row)
{
    static const enum cy_field behind[] = {
        CY_ZONE_EMITTER, CY_ZONE_EMITTER_SPACING, CY_ZONE_BORE, CY_ZONE_PRESSURE, CY_ZONE_EXPONENT,
        CY_ZONE_CV,      CY_ZONE_VARIATION,       CY_ZONE_LINES};
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, plan->rows[row].thing);
    const struct cy_thing *zone = cy_referred(&plan->farm, thing, CY_ROW_ZONE);
    double length_m = cy_number(thing, CY_ROW_LENGTH);
    double spacing_m = cy_number(zone, CY_ZONE_EMITTER_SPACING);
    *out = (struct cy_water_row_line){.variation = cy_number(zone, CY_ZONE_VARIATION)};
    for (size_t i = 0; i < sizeof behind / sizeof *behind; i++)
        out->basis |= cy_given(zone, behind[i]).basis;
    out->basis |= CY_BASIS_PUBLISHED;
    double per_plant =
        cy_number(thing, CY_ROW_SPACING) / spacing_m * cy_number(zone, CY_ZONE_LINES);
    out->line = (struct cy_water_line){
        .emitters = isnan(length_m / spacing_m) ? 0 : (int)floor(length_m / spacing_m + 1e-9),
        .flow_lph = cy_number(zone, CY_ZONE_EMITTER),
        .spacing_m = spacing_m,
        .bore_m = cy_number(zone, CY_ZONE_BORE),
        .c = CY_WATER_SMOOTH,
        .slope = rise_along(cy_farm_one(&plan->farm, CY_KIND_SITE), thing, &out->basis),
        .head_m = cy_number(zone, CY_ZONE_PRESSURE) / pascal_per_m,
        .exponent = cy_number(zone, CY_ZONE_EXPONENT),
        .cv = cy_number(zone, CY_ZONE_CV),
        .emitters_per_plant = per_plant >= 1.5 ? (int)floor(per_plant + 0.5) : 1,
        .first = CY_WATER_FIRST_FULL};
    int status = cy_water_line_solve(&out->result, NULL, &out->line);
    if (status != CY_OK)
        return status;
    int longest = cy_water_line_longest(&out->line, out->variation, MOST_EMITTERS);
    out->length_m = out->line.emitters * spacing_m;
    out->longest_m = longest * spacing_m;
    out->longest_is_more = longest == MOST_EMITTERS;
    out->fits = out->line.emitters <= longest;
    return CY_OK;
}
