/* SPDX-License-Identifier: MIT
 * The whole farm's supply through the season as JSON: weeks, days, and what each row loses. */
#include "words/json_words.h"
#include "words/words.h"

/* What the figures of a supply are asked by. */
struct asking {
    struct cy_json *json;
    struct cy_steps *steps;
    const struct cy_plan *plan;
    const struct cy_supply *supply;
};

static void why(const struct asking *asking, enum cy_supply_figure figure, size_t index)
{
    struct cy_trace trace = {0};
    cy_supply_why(&trace, asking->plan, asking->supply, figure, index);
    cy_put_why(asking->json, asking->steps, &trace);
}

static void days_of(const struct asking *asking, const char *key, const struct cy_figure *figure,
                    enum cy_supply_figure which)
{
    struct cy_json *json = asking->json;
    cy_put_object(json, key);
    cy_put_spread_of_days(json, figure);
    why(asking, which, 0);
    cy_json_end_object(json);
}

static void weeks_json(const struct asking *asking)
{
    static const char *const gaps[] = {"enough", "thin", "nothing"};
    struct cy_json *json = asking->json;
    cy_put_array(json, "weeks");
    for (size_t i = 0; i < asking->supply->week_count; i++) {
        const struct cy_supply_week *week = &asking->supply->weeks[i];
        cy_json_object(json);
        cy_put_day(json, "monday", week->monday);
        cy_put_figure(json, "kg", &week->kg, 1);
        cy_put_bool(json, "selling", week->selling);
        cy_put_text(json, "supply", week->selling ? gaps[week->gap] : NULL);
        why(asking, CY_SUPPLY_WEEK, i);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void days_json(struct cy_json *json, const struct cy_supply *supply)
{
    cy_put_array(json, "days");
    for (size_t i = 0; i < 7 * supply->week_count; i++) {
        const struct cy_supply_day *one = &supply->days[i];
        cy_json_object(json);
        cy_put_day(json, "day", supply->monday + (cy_day)i);
        cy_put_figure(json, "ripens_kg", &one->ripens_kg, 1);
        cy_put_number(json, "ripens_mean_kg", one->mean_kg);
        cy_put_number(json, "ripe_kg", one->ripe_kg);
        cy_put_number(json, "picked_kg", one->picked_kg);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void rows_json(const struct asking *asking)
{
    struct cy_json *json = asking->json;
    cy_put_array(json, "rows");
    for (size_t i = 0; i < asking->supply->row_count; i++) {
        const struct cy_supply_row *row = &asking->supply->rows[i];
        cy_json_object(json);
        cy_put_text(json, "key", row->key);
        cy_put_number(json, "pick_every_days", row->every_d);
        cy_put_number(json, "ripened_kg", row->picking.ripened_kg);
        cy_put_number(json, "picked_kg", row->picking.picked_kg);
        cy_put_number(json, "lost_kg", row->picking.lost_kg);
        cy_put_number(json, "lost_in_mild_weather_kg", row->mild_lost_kg);
        cy_put_number(json, "hot_days_share", row->hot);
        cy_put_number(json, "wet_days_share", row->wet);
        cy_put_number(json, "longest_interval_days", row->longest_d);
        cy_put_array(json, "lost_kg_by_interval");
        for (int every = 1; every <= CY_SUPPLY_LONGEST; every++)
            cy_json_number(json, row->lost_kg[every]);
        cy_json_end_array(json);
        cy_put_basis(json, row->basis);
        why(asking, CY_SUPPLY_LOST, i);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

void cy_supply_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan)
{
    struct cy_supply supply;
    if (cy_supply_of(&supply, plan) != CY_OK) {
        json->text->failed = true;
        cy_json_string(json, NULL);
        return;
    }
    struct asking asking = {json, steps, plan, &supply};
    cy_json_object(json);
    cy_put_object(json, "total_kg");
    cy_put_spread(json, &supply.total_kg, 1);
    why(&asking, CY_SUPPLY_TOTAL, 0);
    cy_json_end_object(json);
    days_of(&asking, "first_pick", &supply.first, CY_SUPPLY_FIRST);
    cy_put_day(json, "peak", supply.peak);
    days_of(&asking, "last_pick", &supply.last, CY_SUPPLY_LAST);
    cy_put_number(json, "mean_week_kg", supply.mean_week_kg);
    cy_put_number(json, "thin_below_share", CY_SUPPLY_THIN);
    cy_put_number(json, "thin_weeks", supply.thin_weeks);
    cy_put_number(json, "empty_weeks", supply.empty_weeks);
    cy_put_number(json, "rows_without_yield", (double)supply.unknown_rows);
    cy_put_basis(json, supply.total_kg.basis);
    struct cy_trace trace = {0};
    cy_supply_why(&trace, plan, &supply, CY_SUPPLY_PEAK, 0);
    cy_supply_why(&trace, plan, &supply, CY_SUPPLY_GAPS, 0);
    cy_put_why(json, steps, &trace);
    weeks_json(&asking);
    days_json(json, &supply);
    rows_json(&asking);
    cy_json_end_object(json);
    cy_supply_dispose(&supply);
}
