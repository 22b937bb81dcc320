/* SPDX-License-Identifier: MIT
 * The whole farm's supply through the season, in words and in JSON. */
#include "words/words.h"

#include <math.h>
#include <string.h>

static void say_kg(struct cy_text *out, double kg, enum cy_system system)
{
    cy_quantity_show(out, kg, CY_Q_MASS, NULL, system, 0);
}

static void say_range(struct cy_text *out, const struct cy_figure *kg, enum cy_system system)
{
    say_kg(out, kg->p50, system);
    cy_text_add(out, " (");
    say_kg(out, kg->p10, system);
    cy_text_add(out, " to ");
    say_kg(out, kg->p90, system);
    cy_text_add(out, ")");
}

static void say_day_range(struct cy_text *out, const struct cy_figure *day)
{
    cy_say_day(out, day->p50, false);
    cy_text_add(out, " (");
    cy_say_day(out, day->p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, day->p90, false);
    cy_text_add(out, ")");
}

static void say_week(struct cy_text *out, const struct cy_supply_week *week, enum cy_system system)
{
    size_t start = out->length;
    cy_text_add(out, "  week of ");
    cy_say_day(out, week->monday, true);
    cy_text_pad(out, start, 24);
    say_range(out, &week->kg, system);
    if (week->gap != CY_SUPPLY_ENOUGH) {
        cy_text_pad(out, start, 55);
        cy_text_add(out, week->gap == CY_SUPPLY_IS_THIN ? "THIN" : "NOTHING to sell");
    }
    cy_text_add_char(out, '\n');
}

static void say_gaps(struct cy_text *out, const struct cy_supply *supply, enum cy_system system)
{
    int gaps = supply->empty_weeks + supply->thin_weeks;
    cy_text_add_int(out, supply->empty_weeks);
    cy_text_add(out, supply->empty_weeks == 1 ? " week has" : " weeks have");
    cy_text_add(out, " nothing to sell, ");
    cy_text_add_int(out, supply->thin_weeks);
    cy_text_add(out, supply->thin_weeks == 1 ? " is thin" : " are thin");
    cy_text_add(out, gaps == 0 ? ": none has less than " : ": less than ");
    cy_text_add_fixed(out, 100 * CY_SUPPLY_THIN, 0);
    cy_text_add(out, " % of the mean\nweek, ");
    say_kg(out, supply->mean_week_kg, system);
    cy_text_add(out, " [placeholder].\n");
}

void cy_say_loss(struct cy_text *out, const struct cy_supply_row *row, const char *comma,
                 enum cy_system system, bool ascii)
{
    cy_say_clean(out, row->name, ascii);
    cy_text_add(out, row->every_d == 1 ? ", picked daily" : ", picked every ");
    if (row->every_d != 1) {
        cy_text_add_int(out, row->every_d);
        cy_text_add(out, " days");
    }
    cy_text_add(out, ", loses ");
    say_kg(out, row->picking.lost_kg, system);
    cy_text_add(out, " of ");
    say_kg(out, row->picking.ripened_kg, system);
    cy_text_add(out, comma);
    say_kg(out, row->mild_lost_kg, system);
    cy_text_add(out, " were no day hot or wet; every ");
    cy_text_add_int(out, row->longest_d);
    cy_text_add(out, row->longest_d == 1 ? " day" : " days");
    cy_text_add(out, " it would lose next to none [placeholder]");
}

/* Rows that lose something by waiting too long between pickings. */
static void say_losses(struct cy_text *out, const struct cy_supply *supply, enum cy_system system,
                       bool ascii)
{
    for (size_t i = 0; i < supply->row_count; i++) {
        const struct cy_supply_row *row = &supply->rows[i];
        if (row->picking.lost_kg < 0.01 * row->picking.ripened_kg)
            continue;
        cy_text_add(out, "  ");
        cy_say_loss(out, row, ",\n      ", system, ascii);
        cy_text_add_char(out, '\n');
    }
}

static void say_unknown(struct cy_text *out, const struct cy_supply *supply)
{
    if (supply->unknown_rows == 0)
        return;
    cy_text_add_int(out, (long long)supply->unknown_rows);
    cy_text_add(out, supply->unknown_rows == 1
                         ? " row is left out: no yield of its cultivar is known.\n"
                         : " rows are left out: no yield of their cultivars is known.\n");
}

void cy_say_supply(struct cy_text *out, const struct cy_plan *plan, bool ascii)
{
    struct cy_supply supply;
    enum cy_system system = cy_farm_system(&plan->farm);
    if (cy_supply_of(&supply, plan) != CY_OK) {
        out->failed = true;
        return;
    }
    cy_text_add(out, "\nSUPPLY");
    if (supply.week_count > 0) {
        cy_text_add(out, " [");
        cy_say_basis(out, supply.total_kg.basis);
        cy_text_add(out, "]");
    }
    cy_text_add(out, "\n\n");
    if (supply.week_count == 0) {
        cy_text_add(out, "Nothing is known to ripen this season.\n");
    } else {
        cy_text_add(out, "All rows together: ");
        say_range(out, &supply.total_kg, system);
        cy_text_add(out, ", most on ");
        cy_say_day(out, supply.peak, false);
        cy_text_add(out, " with ");
        say_kg(out, supply.days[supply.peak - supply.monday].mean_kg, system);
        cy_text_add(out, ".\nFirst pick ");
        say_day_range(out, &supply.first);
        cy_text_add(out, ", last pick ");
        say_day_range(out, &supply.last);
        cy_text_add(out, ".\n");
        say_gaps(out, &supply, system);
        for (size_t i = 0; i < supply.week_count; i++)
            if (supply.weeks[i].selling)
                say_week(out, &supply.weeks[i], system);
        say_losses(out, &supply, system, ascii);
    }
    say_unknown(out, &supply);
    cy_supply_dispose(&supply);
}

/* ---- JSON ----------------------------------------------------------------------------------- */

static void number(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_number(json, value);
}

static void day(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_day(json, isnan(value) ? CY_DAY_NONE : (cy_day)floor(value + 0.5));
}

static void range(struct cy_json *json, const struct cy_figure *kg)
{
    number(json, "p10", kg->p10);
    number(json, "p50", kg->p50);
    number(json, "p90", kg->p90);
}

static void kilograms(struct cy_json *json, const char *key, const struct cy_figure *figure)
{
    cy_json_key(json, key);
    cy_json_object(json);
    range(json, figure);
    cy_json_end_object(json);
}

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
    cy_steps_why(asking->json, asking->steps, &trace);
    cy_trace_dispose(&trace);
}

static void days_of(const struct asking *asking, const char *key, const struct cy_figure *figure,
                    enum cy_supply_figure which)
{
    struct cy_json *json = asking->json;
    cy_json_key(json, key);
    cy_json_object(json);
    day(json, "p10", figure->p10);
    day(json, "p50", figure->p50);
    day(json, "p90", figure->p90);
    why(asking, which, 0);
    cy_json_end_object(json);
}

static void weeks_json(const struct asking *asking)
{
    static const char *const gaps[] = {"enough", "thin", "nothing"};
    struct cy_json *json = asking->json;
    cy_json_key(json, "weeks");
    cy_json_array(json);
    for (size_t i = 0; i < asking->supply->week_count; i++) {
        const struct cy_supply_week *week = &asking->supply->weeks[i];
        cy_json_object(json);
        day(json, "monday", week->monday);
        kilograms(json, "kg", &week->kg);
        cy_json_key(json, "selling");
        cy_json_bool(json, week->selling);
        cy_json_key(json, "supply");
        cy_json_string(json, week->selling ? gaps[week->gap] : NULL);
        why(asking, CY_SUPPLY_WEEK, i);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void days_json(struct cy_json *json, const struct cy_supply *supply)
{
    cy_json_key(json, "days");
    cy_json_array(json);
    for (size_t i = 0; i < 7 * supply->week_count; i++) {
        const struct cy_supply_day *one = &supply->days[i];
        cy_json_object(json);
        day(json, "day", supply->monday + (cy_day)i);
        kilograms(json, "ripens_kg", &one->ripens_kg);
        number(json, "ripens_mean_kg", one->mean_kg);
        number(json, "ripe_kg", one->ripe_kg);
        number(json, "picked_kg", one->picked_kg);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void rows_json(const struct asking *asking)
{
    struct cy_json *json = asking->json;
    cy_json_key(json, "rows");
    cy_json_array(json);
    for (size_t i = 0; i < asking->supply->row_count; i++) {
        const struct cy_supply_row *row = &asking->supply->rows[i];
        cy_json_object(json);
        cy_json_key(json, "key");
        cy_json_string(json, row->key);
        number(json, "pick_every_days", row->every_d);
        number(json, "ripened_kg", row->picking.ripened_kg);
        number(json, "picked_kg", row->picking.picked_kg);
        number(json, "lost_kg", row->picking.lost_kg);
        number(json, "lost_in_mild_weather_kg", row->mild_lost_kg);
        number(json, "hot_days_share", row->hot);
        number(json, "wet_days_share", row->wet);
        number(json, "longest_interval_days", row->longest_d);
        cy_json_key(json, "lost_kg_by_interval");
        cy_json_array(json);
        for (int every = 1; every <= CY_SUPPLY_LONGEST; every++)
            cy_json_number(json, row->lost_kg[every]);
        cy_json_end_array(json);
        cy_json_key(json, "basis");
        cy_json_string(json, cy_basis_word(row->basis));
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
    cy_json_key(json, "total_kg");
    cy_json_object(json);
    range(json, &supply.total_kg);
    why(&asking, CY_SUPPLY_TOTAL, 0);
    cy_json_end_object(json);
    days_of(&asking, "first_pick", &supply.first, CY_SUPPLY_FIRST);
    day(json, "peak", supply.peak);
    days_of(&asking, "last_pick", &supply.last, CY_SUPPLY_LAST);
    number(json, "mean_week_kg", supply.mean_week_kg);
    number(json, "thin_below_share", CY_SUPPLY_THIN);
    number(json, "thin_weeks", supply.thin_weeks);
    number(json, "empty_weeks", supply.empty_weeks);
    number(json, "rows_without_yield", (double)supply.unknown_rows);
    cy_json_key(json, "basis");
    cy_json_string(json, cy_basis_word(supply.total_kg.basis));
    struct cy_trace trace = {0};
    cy_supply_why(&trace, plan, &supply, CY_SUPPLY_PEAK, 0);
    cy_supply_why(&trace, plan, &supply, CY_SUPPLY_GAPS, 0);
    cy_steps_why(json, steps, &trace);
    cy_trace_dispose(&trace);
    weeks_json(&asking);
    days_json(json, &supply);
    rows_json(&asking);
    cy_json_end_object(json);
    cy_supply_dispose(&supply);
}
