/* SPDX-License-Identifier: MIT
 * Why a figure of the water is what it is: inputs, formulas, sources. */
#include "season/water_parts.h"

#include <math.h>

#include <caneyear/crop/calendar.h>

static void share_text(struct cy_text *text, const struct cy_figure *figure,
                       enum cy_quantity quantity, enum cy_system system, int decimals)
{
    cy_quantity_show(text, figure->p50, quantity, NULL, system, decimals);
    cy_text_add(text, ", ");
    cy_quantity_show(text, figure->p10, quantity, NULL, system, decimals);
    cy_text_add(text, " to ");
    cy_quantity_show(text, figure->p90, quantity, NULL, system, decimals);
    cy_text_add(text, " in 8 years of 10");
}

static void spread_result(struct cy_trace *trace, const struct cy_plan *plan,
                          const struct cy_figure *figure, double factor, enum cy_quantity quantity,
                          int decimals)
{
    struct cy_text text = {0};
    struct cy_figure scaled = {
        .p10 = figure->p10 * factor, .p50 = figure->p50 * factor, .p90 = figure->p90 * factor};
    share_text(&text, &scaled, quantity, cy_farm_system(&plan->farm), decimals);
    cy_trace_result_text(trace, cy_text_get(&text), figure->basis);
    cy_text_dispose(&text);
}

/* ---- a row's balance ------------------------------------------------------------------------ */

static void why_reference(struct cy_trace *trace, const struct cy_plan *plan,
                          const struct cy_water_row_week *week)
{
    cy_trace_begin(trace, "reference ET of the week",
                   "by day, the mean over the weathers: by the combination equation where the "
                   "station has the day's wind (at 10 m), humidity and sun; else by temperature "
                   "alone, 0.0023 (mean temperature + 17.8) sqrt(tmax - tmin) Ra",
                   "Penman and Monteith, FAO-56 equation 6; Hargreaves and Samani 1985, FAO-56 "
                   "equation 52");
    cy_trace_number(trace, "days by the combination equation, of the season",
                    plan->water->combined_share, CY_Q_SHARE, cy_plan_weather_basis(plan), "");
    cy_trace_number(trace, "latitude", plan->latitude_deg, CY_Q_ANGLE, CY_BASIS_NONE, "");
    cy_trace_day(trace, "week of", week->monday, CY_BASIS_NONE, "");
    cy_trace_result(trace, week->et_mm, CY_Q_DEPTH_OF_WATER,
                    cy_plan_weather_basis(plan) | CY_BASIS_PUBLISHED);
}

static void stage_day(struct cy_trace *trace, const char *name, double day, cy_basis basis)
{
    cy_trace_day(trace, name, (cy_day)floor(day + 0.5), basis, "");
}

static void why_coefficient(struct cy_trace *trace, const struct cy_plan *plan,
                            const struct cy_water_row *row, const struct cy_water_row_week *week)
{
    static const char table[] =
        "0.30 at rest, straight up to 1.05 from first growth to bloom (or first tip), level to "
        "the last pick or 60 days before leaf fall, straight down to 0.50 at leaf fall; the dates "
        "between are ours; 1.05 and 0.50 are moved to the site's air by (0.04 (wind - 2) - 0.004 "
        "(least humidity - 45)) (h/3)^0.3, h 1.5 m, where the weather has wind and humidity";
    static const char measured[] =
        "0.30 at rest, straight up to 0.55 in late June, to 0.88 in mid August, level to late "
        "September, straight down to 0.50 at leaf fall; before June and after September ours";
    static const char measured_source[] =
        "weighing lysimeters, trailing canes in Oregon: Acta Horticulturae 1388, article 29; "
        "ends: FAO-56 Table 12";
    static const struct {
        const char *formula, *source;
    } uses[] = {
        [CY_WATER_USE_TABLE] = {table,
                                "FAO-56 Table 12, berries; grape row's stage lengths, Table 11"},
        [CY_WATER_USE_MEASURED] = {measured, measured_source},
        [CY_WATER_USE_ESTABLISHING] =
            {"0.24 to early July, straight up to 0.81 in early October; flat beyond is ours",
             "first year, trailing canes in Oregon: Acta Horticulturae 1388, article 29"},
    };
    const struct cy_water_stages *stages = &row->stages;
    cy_trace_begin(trace, "crop coefficient, mean of the week", uses[stages->use].formula,
                   uses[stages->use].source);
    if (stages->use != CY_WATER_USE_ESTABLISHING) {
        stage_day(trace, "first growth", stages->wakes, stages->basis);
        if (stages->use == CY_WATER_USE_TABLE) {
            stage_day(trace, "bloom or first tip", stages->full, stages->basis);
            stage_day(trace, "begins to fall", stages->fades, stages->basis);
        }
        stage_day(trace, "leaf fall", stages->falls, CY_BASIS_PRACTICE);
    } else {
        cy_trace_day(trace, "from", stages->from, CY_BASIS_GROWER, "");
    }
    if (!isnan(stages->wind_m_s) && stages->use == CY_WATER_USE_TABLE) {
        cy_basis weather = cy_plan_weather_basis(plan);
        cy_trace_number(trace, "wind at 2 m, full leaf to leaf fall", stages->wind_m_s, CY_Q_SPEED,
                        weather, "");
        cy_trace_number(trace, "least humidity of the day, the same", stages->rh_min_pct / 100,
                        CY_Q_SHARE, weather, "");
        cy_trace_number(trace, "added to 1.05 and 0.50", stages->shift, CY_Q_NUMBER,
                        weather | CY_BASIS_MEMORY, "FAO-56 equation 62");
    }
    if (stages->second_year)
        cy_trace_number(trace, "second year, share of a grown one's", 0.34 / 0.71, CY_Q_NUMBER,
                        CY_BASIS_FITTED, "0.34 and 0.71 of reference ET in years 2 and 3, same");
    cy_trace_result(trace, week->kc, CY_Q_NUMBER, stages->basis);
}

static void why_soil(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_water_row *row)
{
    const struct cy_thing *site = cy_farm_one(&plan->farm, CY_KIND_SITE);
    struct cy_trait water = cy_soil_water(&plan->farm);
    struct cy_given texture = cy_given(site, CY_SITE_SOIL),
                    depth = cy_given(site, CY_SITE_SOIL_DEPTH);
    cy_trace_begin(trace, "what the strip's soil holds for the plant",
                   "available water by volume x depth of roots; the plant draws p + 0.04 (5 - use "
                   "of the day in mm) of it without stress, p 0.5",
                   "FAO-56 equations 82 to 84, Table 22");
    cy_trace_text(trace, "soil", cy_field_info(CY_SITE_SOIL)->choices[(int)texture.number],
                  texture.basis, texture.source);
    cy_trace_number(trace, "available water", water.value, CY_Q_SHARE, water.basis, water.source);
    cy_trace_number(trace, "depth of soil", depth.number, CY_Q_LENGTH, depth.basis, depth.source);
    cy_trace_number(trace, "depth of roots", row->roots_m, CY_Q_LENGTH,
                    depth.basis | CY_BASIS_PUBLISHED,
                    row->first_year ? "most roots in the top 12 to 18 in: NC State"
                                    : "at most 1.2 m: Acta Horticulturae 1388, article 29");
    cy_trace_number(trace, "drawn without stress at 5 mm a day", row->raw_mm, CY_Q_DEPTH_OF_WATER,
                    row->basis, "");
    cy_trace_result(trace, row->taw_mm, CY_Q_DEPTH_OF_WATER, water.basis | depth.basis);
}

static void notes(struct cy_trace *trace, const struct cy_water_row *row)
{
    if (row->rain_notes > 0)
        cy_trace_number(trace, "days with rain by the gauge", row->rain_notes, CY_Q_NUMBER,
                        CY_BASIS_OBSERVED, "");
    if (row->given_notes > 0)
        cy_trace_number(trace, "notes of water given", row->given_notes, CY_Q_NUMBER,
                        CY_BASIS_OBSERVED, "");
}

static void why_week(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_water_row *row, const struct cy_water_row_week *week)
{
    cy_trace_begin(
        trace, "water to be given in the week",
        "by day: depletion + use - rain - water given, what is too much drains away; on days "
        "ahead, and before today where no station observed, just what keeps the depletion within "
        "the readily available water; of observed days that are over, what was missing beyond it",
        "FAO-56 equations 85 and 86, without run-off and capillary rise");
    cy_trace_number(trace, "use of the week, mean", week->use_mm, CY_Q_DEPTH_OF_WATER, row->basis,
                    "");
    cy_trace_number(trace, "rain on the strip, mean", week->rain_mm, CY_Q_DEPTH_OF_WATER,
                    cy_plan_weather_basis(plan), "");
    cy_trace_number(trace, "of it and of water given, drained", week->drained_mm,
                    CY_Q_DEPTH_OF_WATER, row->basis, "");
    cy_trace_number(trace, "water given as written down", week->given_mm, CY_Q_DEPTH_OF_WATER,
                    CY_BASIS_OBSERVED, "");
    cy_trace_number(trace, "depletion on its first morning, mean", week->start_mm,
                    CY_Q_DEPTH_OF_WATER, row->basis, "");
    cy_trace_number(trace, "depletion on its last evening, mean", week->end_mm, CY_Q_DEPTH_OF_WATER,
                    row->basis, "");
    notes(trace, row);
    spread_result(trace, plan, &week->need_mm, 1, CY_Q_DEPTH_OF_WATER, 2);
}

static void why_over_strip(struct cy_trace *trace, const struct cy_plan *plan,
                           const struct cy_water_row *row, const struct cy_figure *depth)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, plan->rows[row->row].thing);
    cy_trace_begin(trace, "over the row's strip", "depth x wetted width x length",
                   "1 mm on 1 m2 is 1 L");
    cy_why_given(trace, "wetted width", cy_referred(&plan->farm, thing, CY_ROW_ZONE),
                 CY_ZONE_WIDTH);
    cy_why_given(trace, "length", thing, CY_ROW_LENGTH);
    spread_result(trace, plan, depth, row->strip_m2 / 1000, CY_Q_VOLUME, 0);
}

static void why_need(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_water_row *row, const struct cy_water_row_week *week)
{
    cy_why_weather(trace, plan);
    why_reference(trace, plan, week);
    why_coefficient(trace, plan, row, week);
    why_soil(trace, plan, row);
    why_week(trace, plan, row, week);
    why_over_strip(trace, plan, row, &week->need_mm);
}

static void why_inch(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_water_row *row, const struct cy_water_row_week *week)
{
    cy_why_weather(trace, plan);
    why_soil(trace, plan, row);
    cy_trace_begin(trace, "missing from an inch in the week",
                   "an inch - rain and water given, and what the soil holds of earlier weeks; rain "
                   "counts up to what the soil can hold",
                   "University of Kentucky slides: an inch of water a week");
    cy_trace_number(trace, "rain on the strip, mean", week->rain_mm, CY_Q_DEPTH_OF_WATER,
                    cy_plan_weather_basis(plan), "");
    cy_trace_number(trace, "share of the weathers that are short", week->inch_share, CY_Q_SHARE,
                    row->inch_basis, "");
    notes(trace, row);
    spread_result(trace, plan, &week->inch_mm, 1, CY_Q_DEPTH_OF_WATER, 2);
    why_over_strip(trace, plan, row, &week->inch_mm);
}

static void why_today(struct cy_trace *trace, const struct cy_plan *plan,
                      const struct cy_water_row *row)
{
    int number = cy_water_week_of(plan->water, plan->today);
    cy_why_weather(trace, plan);
    why_reference(trace, plan, &row->weeks[number]);
    why_coefficient(trace, plan, row, &row->weeks[number]);
    why_soil(trace, plan, row);
    cy_trace_begin(trace, "missing from a full root zone this evening",
                   "the balance day by day from the season's start, where the strip lacks what is "
                   "readily available, or from planting, watered in: rain of the station, or of "
                   "the gauge where it was read, and water given as written down",
                   "FAO-56 equations 85 and 86");
    cy_trace_day(trace, "from", row->stages.from, CY_BASIS_NONE, "");
    notes(trace, row);
    cy_trace_number(trace, "readily available on such a day", row->today_kept_mm,
                    CY_Q_DEPTH_OF_WATER, row->basis, "");
    spread_result(trace, plan, &row->today_mm, 1, CY_Q_DEPTH_OF_WATER, 2);
}

static void why_season(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_water_row *row)
{
    cy_why_weather(trace, plan);
    why_soil(trace, plan, row);
    cy_trace_begin(trace, "water for the season",
                   "what was written down as given, and what the balance asks for on the days "
                   "ahead, weather by weather",
                   "FAO-56 equations 82 to 86");
    notes(trace, row);
    spread_result(trace, plan, &row->season_mm, 1, CY_Q_DEPTH_OF_WATER, 1);
    why_over_strip(trace, plan, row, &row->season_mm);
}

/* ---- lines ---------------------------------------------------------------------------------- */

static bool why_line(struct cy_trace *trace, const struct cy_plan *plan, size_t row)
{
    struct cy_water_row_line line;
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, plan->rows[row].thing);
    const struct cy_thing *zone = cy_referred(&plan->farm, thing, CY_ROW_ZONE);
    const struct cy_thing *site = cy_farm_one(&plan->farm, CY_KIND_SITE);
    if (cy_water_row_line(&line, plan, row) != CY_OK)
        return false;
    cy_trace_begin(trace, "the drip line",
                   "heads solved from the line's end to its inlet, each emitter at its own head; "
                   "friction 10.67 L Q^1.852 / (C^1.852 d^4.87), C 150; for equal flows that is "
                   "the multiple-outlet factor times the friction of the whole flow; the rise "
                   "along the row is -tan(slope) cos(bearing - aspect); fed from its first post",
                   "Hazen and Williams; Christiansen, University of California Bulletin 670, 1942");
    cy_why_given(trace, "flow of an emitter", zone, CY_ZONE_EMITTER);
    cy_why_given(trace, "emitter spacing", zone, CY_ZONE_EMITTER_SPACING);
    cy_why_given(trace, "pressure at the head", zone, CY_ZONE_PRESSURE);
    cy_why_given(trace, "bore", zone, CY_ZONE_BORE);
    cy_why_given(trace, "emitter exponent", zone, CY_ZONE_EXPONENT);
    cy_why_given(trace, "slope", site, CY_SITE_SLOPE);
    cy_why_given(trace, "aspect", site, CY_SITE_ASPECT);
    cy_why_given(trace, "bearing", thing, CY_ROW_BEARING);
    cy_trace_number(trace, "emitters", line.line.emitters, CY_Q_NUMBER, line.basis, "");
    cy_trace_number(trace, "rise along the row", line.line.slope, CY_Q_SHARE, line.basis, "");
    cy_trace_number(trace, "multiple-outlet factor", line.result.factor, CY_Q_NUMBER,
                    CY_BASIS_PUBLISHED, "");
    cy_trace_result(trace, line.result.friction_m, CY_Q_LENGTH, line.basis);
    cy_trace_begin(trace, "emission uniformity, in per cent",
                   "100 (1 - 1.27 cv / sqrt(emitters to a plant)) least / mean flow",
                   "Karmeli and Keller, from memory");
    cy_why_given(trace, "how much new emitters differ", zone, CY_ZONE_CV);
    cy_trace_number(trace, "emitters to a plant", line.line.emitters_per_plant, CY_Q_NUMBER,
                    cy_given(thing, CY_ROW_SPACING).basis, "");
    cy_trace_result(trace, line.result.uniformity_pct, CY_Q_NUMBER, line.basis | CY_BASIS_MEMORY);
    cy_trace_begin(trace, "longest line",
                   "the most emitters such that on this line and every shorter one the flow varies "
                   "by no more than is allowed",
                   "the same");
    cy_why_given(trace, "variation allowed", zone, CY_ZONE_VARIATION);
    cy_trace_result(trace, line.longest_m, CY_Q_LENGTH, line.basis);
    return true;
}

/* ---- zones and sources ---------------------------------------------------------------------- */

static void why_run(struct cy_trace *trace, const struct cy_plan *plan,
                    const struct cy_water_zone *zone, int week)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, zone->thing);
    const struct cy_water_zone_week *one = &zone->weeks[week];
    cy_trace_begin(trace, "what the zone's thirstiest row needs in the week",
                   "weather by weather the most that a row of it needs: by an inch a week for rows "
                   "in their first year where that is the zone's rule, else by the balance",
                   "");
    cy_trace_text(trace, "rule",
                  cy_field_info(CY_ZONE_RULE)->choices[cy_choice(thing, CY_ZONE_RULE)],
                  cy_given(thing, CY_ZONE_RULE).basis, "");
    cy_trace_number(trace, "rows", (double)zone->row_count, CY_Q_NUMBER, CY_BASIS_GROWER, "");
    spread_result(trace, plan, &one->need_mm, 1, CY_Q_DEPTH_OF_WATER, 2);
    cy_trace_begin(trace, "litres or gallons to be pumped",
                   "depth x wetted width x length of all its rows / efficiency",
                   "1 mm on 1 m2 is 1 L");
    cy_why_given(trace, "wetted width", thing, CY_ZONE_WIDTH);
    cy_why_given(trace, "efficiency", thing, CY_ZONE_EFFICIENCY);
    cy_trace_number(trace, "length of its rows", zone->length_m, CY_Q_LENGTH, CY_BASIS_GROWER, "");
    spread_result(trace, plan, &one->litres, 0.001, CY_Q_VOLUME, 0);
    if (isnan(zone->flow_lph))
        return;
    cy_trace_begin(trace, "hours to run", "volume / flow, with every emitter at its rating", "");
    cy_why_given(trace, "flow of an emitter", thing, CY_ZONE_EMITTER);
    cy_why_given(trace, "emitter spacing", thing, CY_ZONE_EMITTER_SPACING);
    cy_why_given(trace, "lines to a row", thing, CY_ZONE_LINES);
    cy_trace_number(trace, "flow of the zone", zone->flow_lph, CY_Q_FLOW, zone->basis, "");
    spread_result(trace, plan, &one->hours, 1, CY_Q_HOURS, 1);
}

static void why_turns(struct cy_trace *trace, const struct cy_plan *plan, size_t number, int week)
{
    const struct cy_water_source *source = &plan->water->sources[number];
    cy_trace_begin(trace, "turns of the zones",
                   "first fit in the farm's order: a zone joins the first turn whose flow it keeps "
                   "within the supply; one that alone asks for more runs in parts; turns follow "
                   "one another, each as long as its longest zone",
                   "ours");
    cy_trace_number(trace, "supply", source->supply_lph, CY_Q_FLOW, source->basis, "");
    for (size_t i = 0; i < plan->water->zone_count; i++)
        if (plan->water->zones[i].source == number)
            cy_trace_number(trace, plan->water->zones[i].key, plan->water->zones[i].flow_lph,
                            CY_Q_FLOW, plan->water->zones[i].basis, "");
    cy_trace_number(trace, "turns", source->turns, CY_Q_NUMBER, source->basis, "");
    cy_trace_result(trace, source->hours[week], CY_Q_HOURS, source->basis);
}

static void why_source(struct cy_trace *trace, const struct cy_plan *plan, size_t number)
{
    const struct cy_water_source *source = &plan->water->sources[number];
    cy_trace_begin(
        trace, "water of the season from the source",
        "of each zone: water given as written down / efficiency, and on weeks ahead what "
        "is to be pumped, weather by weather; added up over its zones",
        "");
    for (size_t i = 0; i < plan->water->zone_count; i++)
        if (plan->water->zones[i].source == number)
            cy_trace_number(trace, plan->water->zones[i].key,
                            plan->water->zones[i].season_l.p50 / 1000, CY_Q_VOLUME,
                            plan->water->zones[i].basis, "");
    if (!isnan(source->season_limit_l))
        cy_trace_number(trace, "the source may give", source->season_limit_l / 1000, CY_Q_VOLUME,
                        CY_BASIS_GROWER, "");
    spread_result(trace, plan, &source->season_l, 0.001, CY_Q_VOLUME, 0);
}

/* ---- the whole ------------------------------------------------------------------------------ */

static bool why_row(struct cy_trace *trace, const struct cy_plan *plan, enum cy_water_item item,
                    size_t which, int week)
{
    const struct cy_water_row *row =
        which < plan->water->row_count ? &plan->water->rows[which] : NULL;
    if (!row)
        return false;
    if (item == CY_WATER_WHY_LINE)
        return why_line(trace, plan, which);
    if (!row->waters || (item == CY_WATER_WHY_INCH && !row->first_year) ||
        (item == CY_WATER_WHY_TODAY && isnan(row->today_mm.p50)))
        return false;
    if (item == CY_WATER_WHY_TODAY)
        why_today(trace, plan, row);
    else if (item == CY_WATER_WHY_INCH)
        why_inch(trace, plan, row, &row->weeks[week]);
    else if (item == CY_WATER_WHY_NEED)
        why_need(trace, plan, row, &row->weeks[week]);
    else
        why_season(trace, plan, row);
    return true;
}

bool cy_plan_why_water(struct cy_trace *trace, const struct cy_plan *plan, enum cy_water_item item,
                       size_t which, int week)
{
    const struct cy_water_plan *water = plan->water;
    if (week < 0 || week >= water->week_count)
        return false;
    if (item < CY_WATER_WHY_RUN)
        return why_row(trace, plan, item, which, week);
    if (which >= (item == CY_WATER_WHY_RUN ? water->zone_count : water->source_count))
        return false;
    if (item == CY_WATER_WHY_RUN)
        why_run(trace, plan, &water->zones[which], week);
    else if (item == CY_WATER_WHY_TURNS)
        why_turns(trace, plan, which, week);
    else
        why_source(trace, plan, which);
    return true;
}
