/* SPDX-License-Identifier: MIT
 * The trellis of a row as a JSON object: checks, wires, practice, changes, parts, each with why. */
#include <math.h>

#include "words/trellis.h"
#include "words/words.h"

static void number(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_number(json, value);
}

static void text(struct cy_json *json, const char *key, const char *value)
{
    cy_json_key(json, key);
    cy_json_string(json, value && *value ? value : NULL);
}

static void basis(struct cy_json *json, cy_basis set)
{
    text(json, "basis", set ? cy_basis_word(set) : NULL);
}

static void why(struct cy_json *json, const struct cy_plan *plan, size_t row, int item)
{
    struct cy_trace trace = {0};
    cy_plan_why_trellis(&trace, plan, row, item);
    cy_json_key(json, "why");
    cy_trace_json(json, &trace);
    json->text->failed = json->text->failed || trace.failed;
    cy_trace_dispose(&trace);
}

static void checks_json(struct cy_json *json, const struct cy_plan *plan, size_t row,
                        const struct cy_trellis_verdict *verdict)
{
    cy_json_key(json, "checks");
    cy_json_array(json);
    for (int i = 0; i < verdict->check_count; i++) {
        const struct cy_trellis_check *check = &verdict->checks[i];
        cy_json_object(json);
        text(json, "part", cy_check_part(check->kind));
        text(json, "check", cy_check_what(check->kind));
        number(json, "wire", check->wire >= 0 ? check->wire + 1 : NAN);
        text(json, "unit", cy_quantity_inside(cy_check_quantity(check->kind)));
        number(json, "asked", check->demand);
        number(json, "allowed", check->capacity);
        number(json, "use", check->use);
        text(json, "case", check->refusal ? NULL : cy_trellis_case_word(check->in));
        text(json, "combination", check->refusal ? NULL : cy_trellis_case_combination(check->in));
        text(json, "no_figure", cy_say_refusal(check->refusal));
        cy_json_key(json, "governs");
        cy_json_bool(json, i == verdict->governing);
        basis(json, check->basis);
        why(json, plan, row, CY_TRELLIS_WHY_CHECK + i);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void day(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_day(json, isnan(value) ? CY_DAY_NONE : (cy_day)floor(value + 0.5));
}

static void months_json(struct cy_json *json, const struct cy_trellis_wire *wire)
{
    cy_json_key(json, "months");
    cy_json_array(json);
    for (int month = 0; month < 12; month++) {
        cy_json_object(json);
        number(json, "month", month + 1);
        number(json, "tension_n_p10", wire->month_n[month].p10);
        number(json, "tension_n_p50", wire->month_n[month].p50);
        number(json, "tension_n_p90", wire->month_n[month].p90);
        number(json, "sag_m", wire->month_sag_m[month]);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void wire_json(struct cy_json *json, const struct cy_plan *plan, size_t row, int index,
                      const struct cy_trellis_wire *wire)
{
    cy_json_object(json);
    number(json, "height_m", wire->height_m);
    text(json, "no_figure", cy_say_refusal(wire->refusal));
    if (!wire->refusal) {
        number(json, "set_n", wire->set_n);
        number(json, "set_at_c", wire->set_at_c);
        number(json, "working_n", wire->working_n);
        number(json, "breaks_n", wire->strength_n);
        number(json, "winter_night_n", wire->cold_n);
        number(json, "set_in_heat_winter_night_n", wire->heat_set_cold_n);
        number(json, "end_lean_takes_n", wire->lean_n);
        number(json, "fruit_n", wire->fruit_n);
        number(json, "fruit_sag_m", wire->fruit_sag_m);
        number(json, "slack_above_c", wire->slack_above_c);
        cy_json_key(json, "slack");
        cy_json_object(json);
        day(json, "p10", wire->slack.p10);
        day(json, "p50", wire->slack.p50);
        day(json, "p90", wire->slack.p90);
        number(json, "never", wire->slack.never);
        cy_json_end_object(json);
        number(json, "take_up_m", wire->take_up_m);
        months_json(json, wire);
    }
    basis(json, wire->basis);
    why(json, plan, row, CY_TRELLIS_WHY_WIRE + index);
    cy_json_end_object(json);
}

static void practice_json(struct cy_json *json, const struct cy_plan *plan, size_t row,
                          const struct cy_trellis_verdict *verdict)
{
    const struct cy_trellis_practice *practice = &verdict->practice;
    cy_json_key(json, "practice");
    cy_json_object(json);
    number(json, "asked_n", practice->asks_n);
    number(json, "at_m", practice->at_m);
    number(json, "code_allows_n", practice->allows_n);
    number(json, "code_allows_customary_n", practice->customary_n);
    number(json, "code_depth_m", practice->need_depth_m);
    number(json, "asked_over_allowed", practice->ratio);
    number(json, "allowed_at_gust_m_s", practice->held_gust_m_s);
    number(json, "deflection_m", verdict->deflection_m);
    number(json, "wind_along_n", verdict->along_n);
    basis(json, practice->basis);
    why(json, plan, row, CY_TRELLIS_WHY_PRACTICE);
    cy_json_end_object(json);
}

static void fixes_json(struct cy_json *json, const struct cy_plan *plan, size_t row)
{
    struct cy_trellis_fixes fixes;
    if (cy_trellis_fixes_of(&fixes, plan, row) != CY_OK) {
        json->text->failed = true;
        return;
    }
    cy_json_key(json, "changes");
    cy_json_array(json);
    for (int i = 0; i < CY_FIX_COUNT; i++) {
        const struct cy_trellis_fix *fix = &fixes.fixes[i];
        struct cy_text words = {0};
        if (!fixes.needed || !fix->applies)
            continue;
        cy_say_fix(&words, plan, row, fix);
        cy_json_object(json);
        text(json, "change", cy_fix_word(fix->kind));
        cy_json_key(json, "enough");
        cy_json_bool(json, fix->enough);
        number(json, "value", fix->value);
        number(json, "use", fix->use);
        number(json, "cost", fix->cost);
        cy_json_key(json, "cheapest");
        cy_json_bool(json, i == fixes.cheapest);
        text(json, "says", cy_text_get(&words));
        why(json, plan, row, CY_TRELLIS_WHY_FIX + i);
        cy_json_end_object(json);
        json->text->failed = json->text->failed || words.failed;
        cy_text_dispose(&words);
    }
    cy_json_end_array(json);
}

static void parts_json(struct cy_json *json, const struct cy_plan *plan, size_t row)
{
    struct cy_parts_list list;
    cy_json_key(json, "parts");
    if (!cy_parts_of_row(&list, plan, row)) {
        cy_json_string(json, NULL);
        return;
    }
    cy_json_object(json);
    cy_json_key(json, "lines");
    cy_json_array(json);
    for (int i = 0; i < list.count; i++) {
        const struct cy_parts_line *line = &list.lines[i];
        cy_json_object(json);
        text(json, "part", cy_field_info(CY_PART_WHAT)->choices[line->kind]);
        number(json, line->by_length ? "length_m" : "count", line->amount);
        number(json, "width_m", line->width_m);
        number(json, line->by_length ? "price_per_m" : "price", line->price);
        number(json, "cost", line->cost);
        basis(json, line->basis);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    number(json, "cost", list.cost);
    number(json, "cost_per_m", list.cost / list.row_m);
    number(json, "lines_without_price", list.unpriced);
    number(json, "wire_kg", list.wire_kg);
    basis(json, list.basis);
    why(json, plan, row, CY_TRELLIS_WHY_PARTS);
    cy_json_end_object(json);
}

void cy_trellis_json(struct cy_json *json, const struct cy_plan *plan, size_t row)
{
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, row);
    if (!verdict) {
        cy_json_string(json, NULL);
        return;
    }
    cy_json_object(json);
    number(json, "use", verdict->governing >= 0 ? verdict->checks[verdict->governing].use : NAN);
    number(json, "bays", verdict->bays);
    number(json, "bay_m", verdict->bay_m);
    basis(json, verdict->basis);
    checks_json(json, plan, row, verdict);
    cy_json_key(json, "wires");
    cy_json_array(json);
    for (int i = 0; i < verdict->wire_count; i++)
        wire_json(json, plan, row, i, &verdict->wires[i]);
    cy_json_end_array(json);
    practice_json(json, plan, row, verdict);
    fixes_json(json, plan, row);
    cy_json_key(json, "notes");
    cy_json_array(json);
    for (unsigned note = 1; note <= CY_TRELLIS_LAST_NOTE; note <<= 1) {
        struct cy_text words = {0};
        if (!(verdict->notes & note))
            continue;
        cy_say_trellis_note(&words, (enum cy_trellis_note)note);
        cy_json_string(json, cy_text_get(&words));
        cy_text_dispose(&words);
    }
    cy_json_end_array(json);
    parts_json(json, plan, row);
    cy_json_end_object(json);
}
