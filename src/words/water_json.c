/* SPDX-License-Identifier: MIT
 * The season's water as JSON: rows with their weeks and drip line, zones with their run times,
 * sources with their turns. Depths are millimetres over the wetted strip. */
#include <math.h>

#include <caneyear/season/water.h>

#include "words/json_words.h"
#include "words/words.h"

static void why(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                enum cy_water_item item, size_t which, int week)
{
    struct cy_trace trace = {0};
    cy_plan_why_water(&trace, plan, item, which, week);
    cy_put_why(json, steps, &trace);
}

static const char *use_word(enum cy_water_use use)
{
    static const char *const words[] = {[CY_WATER_USE_TABLE] = "FAO-56 berries",
                                        [CY_WATER_USE_MEASURED] = "trailing canes in Oregon",
                                        [CY_WATER_USE_ESTABLISHING] = "first year in Oregon"};
    return words[use];
}

static void row_week_json(struct cy_json *json, const struct cy_water_row *row, int number_of_week)
{
    const struct cy_water_row_week *week = &row->weeks[number_of_week];
    cy_json_object(json);
    cy_put_day(json, "monday", week->monday);
    cy_put_figure(json, "need_mm", &week->need_mm, 1);
    cy_put_figure(json, "need_l", &week->need_mm, row->strip_m2);
    cy_put_number(json, "need_share", week->need_share);
    if (row->first_year) {
        cy_put_figure(json, "inch_mm", &week->inch_mm, 1);
        cy_put_figure(json, "inch_l", &week->inch_mm, row->strip_m2);
    }
    cy_put_figure(json, "depletion_mm", &week->depletion_mm, 1);
    cy_put_number(json, "crop_coefficient", week->kc);
    cy_put_number(json, "reference_et_mm", week->et_mm);
    cy_put_number(json, "use_mm", week->use_mm);
    cy_put_number(json, "rain_mm", week->rain_mm);
    cy_put_number(json, "effective_rain_mm", fmax(0, week->rain_mm - week->drained_mm));
    cy_put_number(json, "drained_mm", week->drained_mm);
    cy_put_number(json, "given_mm", week->given_mm);
    cy_put_number(json, "planned_mm", week->planned_mm);
    cy_json_end_object(json);
}

static void line_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                      size_t row)
{
    struct cy_water_row_line line;
    cy_json_key(json, "drip_line");
    if (cy_water_row_line(&line, plan, row) != CY_OK) {
        cy_json_string(json, NULL);
        return;
    }
    cy_json_object(json);
    cy_put_number(json, "emitters", line.line.emitters);
    cy_put_number(json, "length_m", line.length_m);
    cy_put_number(json, "flow_lph", line.result.flow_total_lph);
    cy_put_number(json, "rise", line.line.slope);
    cy_put_number(json, "friction_m", line.result.friction_m);
    cy_put_number(json, "head_end_m", line.result.head_end_m);
    cy_put_number(json, "uniformity_percent", line.result.uniformity_pct);
    cy_put_number(json, "variation", line.result.variation);
    cy_put_number(json, "variation_allowed", line.variation);
    cy_put_number(json, "longest_m", line.longest_m);
    cy_put_bool(json, "fits", line.fits);
    cy_put_bases(json, line.basis);
    why(json, steps, plan, CY_WATER_WHY_LINE, row, 0);
    cy_json_end_object(json);
}

static void row_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                     const struct cy_water_row *row)
{
    const struct cy_water_plan *water = plan->water;
    int week = cy_water_week_of(water, plan->today);
    cy_json_object(json);
    cy_put_text(json, "key", plan->rows[row->row].key);
    cy_put_text(json, "zone", row->zone < water->zone_count ? water->zones[row->zone].key : NULL);
    cy_put_text(json, "rule", cy_field_info(CY_ZONE_RULE)->choices[row->rule]);
    cy_put_bool(json, "first_year", row->first_year);
    cy_put_text(json, "crop_use", use_word(row->stages.use));
    cy_put_number(json, "roots_m", row->roots_m);
    cy_put_number(json, "holds_mm", row->taw_mm);
    cy_put_number(json, "readily_available_mm", row->raw_mm);
    cy_put_number(json, "strip_m2", row->strip_m2);
    cy_put_figure(json, "depletion_today_mm", &row->today_mm, 1);
    cy_put_figure(json, "season_mm", &row->season_mm, 1);
    cy_put_figure(json, "season_l", &row->season_mm, row->strip_m2);
    cy_put_number(json, "days_of_gauge", row->rain_notes);
    cy_put_number(json, "notes_of_water_given", row->given_notes);
    cy_put_bases(json, row->basis);
    if (row->first_year)
        why(json, steps, plan, CY_WATER_WHY_INCH, row->row, week < 0 ? 0 : week);
    else
        why(json, steps, plan, CY_WATER_WHY_NEED, row->row, week < 0 ? 0 : week);
    cy_put_array(json, "weeks");
    for (int i = 0; i < water->week_count; i++)
        row_week_json(json, row, i);
    cy_json_end_array(json);
    line_json(json, steps, plan, row->row);
    cy_json_end_object(json);
}

static void zone_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                      size_t at)
{
    const struct cy_water_zone *zone = &plan->water->zones[at];
    int week = cy_water_week_of(plan->water, plan->today);
    cy_json_object(json);
    cy_put_text(json, "key", zone->key);
    cy_put_text(json, "source", plan->water->sources[zone->source].name);
    cy_put_number(json, "rows", (double)zone->row_count);
    cy_put_number(json, "length_m", zone->length_m);
    cy_put_number(json, "strip_m2", zone->strip_m2);
    cy_put_number(json, "flow_lph", zone->flow_lph);
    cy_put_number(json, "efficiency", zone->efficiency);
    cy_put_number(json, "turn", zone->turn > 0 ? zone->turn : NAN);
    cy_put_number(json, "parts", zone->parts);
    cy_put_figure(json, "season_l", &zone->season_l, 1);
    cy_put_bases(json, zone->basis);
    why(json, steps, plan, CY_WATER_WHY_RUN, at, week < 0 ? 0 : week);
    cy_put_array(json, "weeks");
    for (int i = 0; i < plan->water->week_count; i++) {
        cy_json_object(json);
        cy_put_day(json, "monday", plan->water->monday + 7 * i);
        cy_put_figure(json, "need_mm", &zone->weeks[i].need_mm, 1);
        cy_put_figure(json, "litres", &zone->weeks[i].litres, 1);
        cy_put_figure(json, "hours", &zone->weeks[i].hours, 1);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}

static void source_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                        size_t at)
{
    const struct cy_water_source *source = &plan->water->sources[at];
    int week = cy_water_week_of(plan->water, plan->today);
    cy_json_object(json);
    cy_put_text(json, "name", source->name);
    cy_put_number(json, "supply_lph", source->supply_lph);
    cy_put_number(json, "turns", source->turns);
    cy_put_number(json, "season_limit_l", source->season_limit_l);
    cy_put_figure(json, "season_l", &source->season_l, 1);
    cy_put_number(json, "share_of_weathers_over_limit", source->short_share);
    cy_put_bases(json, source->basis);
    why(json, steps, plan, CY_WATER_WHY_SOURCE, at, week < 0 ? 0 : week);
    cy_put_array(json, "weeks");
    for (int i = 0; i < plan->water->week_count; i++) {
        cy_json_object(json);
        cy_put_day(json, "monday", plan->water->monday + 7 * i);
        cy_put_number(json, "hours", source->hours[i]);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}

void cy_water_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan)
{
    const struct cy_water_plan *water = plan->water;
    cy_json_object(json);
    cy_put_array(json, "rows");
    for (size_t i = 0; i < water->row_count; i++)
        if (water->rows[i].waters)
            row_json(json, steps, plan, &water->rows[i]);
    cy_json_end_array(json);
    cy_put_array(json, "zones");
    for (size_t i = 0; i < water->zone_count; i++)
        zone_json(json, steps, plan, i);
    cy_json_end_array(json);
    cy_put_array(json, "sources");
    for (size_t i = 0; i < water->source_count; i++)
        source_json(json, steps, plan, i);
    cy_json_end_array(json);
    cy_put_number(json, "days_by_combination_equation", water->combined_share);
    cy_put_number(json, "notes_not_counted", (double)water->uncounted_notes);
    cy_json_end_object(json);
}
