/* SPDX-License-Identifier: MIT
 * The season's water of a whole plan: each row's soil and need, put together from what its
 * distinct course says. */
#include "season/water_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/water/soil.h>

int cy_water_week_of(const struct cy_water_plan *water, cy_day day)
{
    int week = day < water->monday ? -1 : (day - water->monday) / 7;
    return week < water->week_count ? week : -1;
}

const struct cy_figure *cy_water_chosen(const struct cy_water_row *row, int week)
{
    bool inch = row->first_year && row->rule == CY_WATER_RULE_INCH;
    return inch ? &row->weeks[week].inch_mm : &row->weeks[week].need_mm;
}

/* The site's, else its place's; 0 where neither is known. */
static double elevation_of_m(const struct cy_farm *farm, cy_basis *basis)
{
    struct cy_given own = cy_given(cy_farm_one(farm, CY_KIND_SITE), CY_SITE_ELEVATION);
    if (!own.known)
        own = cy_given(cy_farm_place(farm), CY_PLACE_ELEVATION);
    *basis |= own.basis;
    return own.known ? own.number : 0;
}

void cy_water_plan_free(struct cy_water_plan *water)
{
    if (!water)
        return;
    for (size_t i = 0; i < water->table_count; i++)
        free(water->tables[i]);
    free(water->tables);
    free(water->rows);
    free(water->zones);
    free(water->sources);
    free(water);
}

/* ---- a row ---------------------------------------------------------------------------------- */

static void soil_of(struct cy_water_row *out, const struct cy_plan *plan)
{
    struct cy_trait water = cy_soil_water(&plan->farm);
    struct cy_given depth = cy_given(cy_farm_one(&plan->farm, CY_KIND_SITE), CY_SITE_SOIL_DEPTH);
    double most_m = out->first_year ? CY_WATER_YOUNG_ROOTS_M : CY_WATER_ROOTS_M;
    out->roots_m = fmin(depth.number, most_m);
    out->taw_mm = cy_water_available_mm(water.value, 0, out->roots_m);
    out->raw_mm = CY_WATER_P * out->taw_mm;
    out->basis |= water.basis | depth.basis;
    out->inch_basis = cy_plan_weather_basis(plan) | CY_BASIS_PUBLISHED | water.basis | depth.basis;
}

static void set_bases(struct cy_water_row *out, const struct cy_plan *plan,
                      const struct cy_water_log *log)
{
    cy_basis elevation = CY_BASIS_NONE;
    elevation_of_m(&plan->farm, &elevation);
    out->basis |= out->stages.basis | cy_plan_weather_basis(plan) | CY_BASIS_PUBLISHED | elevation;
    if (log->given_notes + log->rain_notes > 0) {
        out->basis |= CY_BASIS_OBSERVED;
        out->inch_basis |= CY_BASIS_OBSERVED;
    }
    out->today_mm.basis = out->season_mm.basis = out->basis;
}

struct filling {
    struct cy_plan *plan;
    struct cy_water_memory *memory;
    struct cy_water_notes notes;
    struct cy_water_log log;
    struct cy_water_inputs inputs;          /* what all rows share is filled in */
    const struct cy_water_course **courses; /* by row; NULL where it is not watered */
    const struct cy_water_course **shared;  /* by table of weeks */
    size_t shared_capacity;
};

/* The weeks of a course with what stands behind them: those of an earlier row that is alike. */
static int take_weeks(struct cy_water_row *out, struct filling *filling,
                      const struct cy_water_course *course)
{
    struct cy_water_plan *water = filling->plan->water;
    for (size_t i = 0; i < water->table_count; i++)
        if (filling->shared[i] == course && water->tables[i][0].need_mm.basis == out->basis &&
            water->tables[i][0].inch_mm.basis == out->inch_basis) {
            out->weeks = water->tables[i];
            return CY_OK;
        }
    struct cy_water_row_week *weeks = cy_zeroed(CY_WATER_WEEKS, sizeof *weeks);
    if (!weeks ||
        !cy_grow(&water->tables, &water->table_capacity, water->table_count,
                 sizeof *water->tables) ||
        !cy_grow(&filling->shared, &filling->shared_capacity, water->table_count,
                 sizeof *filling->shared)) {
        free(weeks);
        return CY_NO_MEMORY;
    }
    memcpy(weeks, course->weeks, sizeof course->weeks);
    for (int week = 0; week < CY_WATER_WEEKS; week++) {
        weeks[week].need_mm.basis = weeks[week].depletion_mm.basis = out->basis;
        weeks[week].inch_mm.basis = out->inch_basis;
    }
    filling->shared[water->table_count] = course;
    water->tables[water->table_count++] = weeks;
    out->weeks = weeks;
    return CY_OK;
}

static int fill_row(struct filling *filling, size_t row)
{
    const struct cy_plan *plan = filling->plan;
    struct cy_water_row *out = &plan->water->rows[row];
    struct cy_water_inputs *inputs = &filling->inputs;
    struct cy_row_facts facts;
    cy_row_facts_of(&facts, &plan->farm, cy_farm_by_id(&plan->farm, plan->rows[row].thing),
                    plan->latitude_deg);
    const struct cy_thing *zone = cy_referred(&plan->farm, facts.row, CY_ROW_ZONE);
    struct cy_given width = cy_given(zone, CY_ZONE_WIDTH);
    *out = (struct cy_water_row){.row = row, .zone = SIZE_MAX};
    out->rule = cy_water_rule_of(plan, facts.row);
    out->first_year = cy_water_first_year(plan, &facts);
    out->width_m = width.number;
    out->strip_m2 = width.number * facts.length_m;
    cy_water_stages_of(&out->stages, plan, &plan->rows[row], &facts);
    soil_of(out, plan);
    out->waters = out->stages.from <= plan->last;
    if (!out->waters)
        return CY_OK;
    cy_water_log_fill(&filling->log, &filling->notes, plan, &facts);
    plan->water->uncounted_notes += filling->log.uncounted;
    struct cy_water_air air =
        cy_water_memory_air(filling->memory, plan->first, out->stages.full, out->stages.falls);
    cy_water_stages_move(&out->stages, &air);
    inputs->stages = out->stages;
    inputs->taw_mm = out->taw_mm;
    inputs->first_year = out->first_year;
    cy_water_inputs_coefficients(inputs);
    const struct cy_water_course *course = cy_water_course_of(filling->memory, inputs);
    if (!course)
        return CY_NO_MEMORY;
    filling->courses[row] = course;
    out->today_mm = course->today_mm;
    out->today_kept_mm = course->today_kept_mm;
    out->season_mm = course->season_mm;
    out->given_notes = filling->log.given_notes;
    out->rain_notes = filling->log.rain_notes;
    set_bases(out, plan, &filling->log);
    return take_weeks(out, filling, course);
}

/* ---- all rows ------------------------------------------------------------------------------- */

static int begin(struct filling *filling, const struct cy_ensemble *ensemble,
                 uint64_t ensemble_fingerprint)
{
    struct cy_plan *plan = filling->plan;
    struct cy_water_inputs *inputs = &filling->inputs;
    struct cy_water_plan *water = cy_zeroed(1, sizeof *water);
    cy_basis basis = CY_BASIS_NONE;
    plan->water = water;
    if (!water)
        return CY_NO_MEMORY;
    water->monday = plan->first - cy_day_weekday(plan->first);
    water->week_count = (plan->last - water->monday) / 7 + 1;
    water->rows = cy_zeroed(plan->row_count, sizeof *water->rows);
    water->row_count = plan->row_count;
    filling->courses = cy_zeroed(plan->row_count, sizeof *filling->courses);
    if (!water->rows || !filling->courses)
        return CY_NO_MEMORY;
    *inputs = (struct cy_water_inputs){.stages = {.latitude_deg = plan->latitude_deg},
                                       .p = CY_WATER_P,
                                       .first = plan->first,
                                       .last = plan->last,
                                       .today = plan->today,
                                       .monday = water->monday,
                                       .weeks = water->week_count,
                                       .log = &filling->log};
    int status = cy_water_log_init(&filling->log, plan->first, plan->last - plan->first + 1);
    if (status == CY_OK)
        status = cy_water_notes_gather(&filling->notes, plan);
    if (status == CY_OK)
        status = cy_water_memory_ready(filling->memory, ensemble, ensemble_fingerprint, inputs,
                                       elevation_of_m(&plan->farm, &basis));
    return status;
}

int cy_plan_fill_water(struct cy_plan *plan, struct cy_water_memory *memory,
                       const struct cy_ensemble *ensemble, uint64_t ensemble_fingerprint)
{
    struct filling filling = {.plan = plan, .memory = memory};
    size_t before = cy_water_memory_worked_out(memory);
    int status = begin(&filling, ensemble, ensemble_fingerprint);
    for (size_t row = 0; status == CY_OK && row < plan->row_count; row++)
        status = fill_row(&filling, row);
    if (status == CY_OK)
        status = cy_water_zones(plan, filling.courses);
    if (plan->water)
        plan->water->worked_out = cy_water_memory_worked_out(memory) - before;
    if (plan->water)
        plan->water->combined_share = cy_water_memory_combined(memory);
    free(filling.courses);
    free(filling.shared);
    cy_water_notes_dispose(&filling.notes);
    cy_water_log_dispose(&filling.log);
    return status;
}
