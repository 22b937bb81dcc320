/* SPDX-License-Identifier: MIT
 * The trellis of a row as a JSON object: checks, wires, practice, changes, parts, each with why. */
#include <math.h>

#include "words/trellis.h"
#include "words/json_words.h"
#include "words/words.h"

static void why(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                size_t row, int item)
{
    struct cy_trace trace = {0};
    cy_plan_why_trellis(&trace, plan, row, item);
    cy_put_why(json, steps, &trace);
}

static void checks_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                        size_t row, const struct cy_trellis_verdict *verdict)
{
    cy_put_array(json, "checks");
    for (int i = 0; i < verdict->check_count; i++) {
        const struct cy_trellis_check *check = &verdict->checks[i];
        cy_json_object(json);
        cy_put_text(json, "part", cy_check_part(check->kind));
        cy_put_text(json, "check", cy_check_what(check->kind));
        cy_put_number(json, "wire", check->wire >= 0 ? check->wire + 1 : NAN);
        cy_put_text(json, "unit", cy_quantity_inside(cy_check_quantity(check->kind)));
        cy_put_number(json, "asked", check->demand);
        cy_put_number(json, "allowed", check->capacity);
        cy_put_number(json, "use", check->use);
        cy_put_text(json, "case", check->refusal ? NULL : cy_trellis_case_word(check->in));
        cy_put_text(json, "combination",
                    check->refusal ? NULL : cy_trellis_case_combination(check->in));
        cy_put_text(json, "no_figure", cy_say_refusal(check->refusal));
        cy_put_bool(json, "governs", i == verdict->governing);
        cy_put_basis(json, check->basis);
        why(json, steps, plan, row, CY_TRELLIS_WHY_CHECK + i);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void months_json(struct cy_json *json, const struct cy_trellis_wire *wire)
{
    cy_put_array(json, "months");
    for (int month = 0; month < 12; month++) {
        cy_json_object(json);
        cy_put_number(json, "month", month + 1);
        cy_put_number(json, "tension_n_p10", wire->month_n[month].p10);
        cy_put_number(json, "tension_n_p50", wire->month_n[month].p50);
        cy_put_number(json, "tension_n_p90", wire->month_n[month].p90);
        cy_put_number(json, "sag_m", wire->month_sag_m[month]);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void wire_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                      size_t row, int index, const struct cy_trellis_wire *wire)
{
    cy_json_object(json);
    cy_put_number(json, "height_m", wire->height_m);
    cy_put_text(json, "no_figure", cy_say_refusal(wire->refusal));
    if (!wire->refusal) {
        cy_put_number(json, "set_n", wire->set_n);
        cy_put_number(json, "set_at_c", wire->set_at_c);
        cy_put_number(json, "working_n", wire->working_n);
        cy_put_number(json, "breaks_n", wire->strength_n);
        cy_put_number(json, "winter_night_n", wire->cold_n);
        cy_put_number(json, "set_in_heat_winter_night_n", wire->heat_set_cold_n);
        cy_put_number(json, "end_lean_takes_n", wire->lean_n);
        cy_put_number(json, "fruit_n", wire->fruit_n);
        cy_put_number(json, "fruit_sag_m", wire->fruit_sag_m);
        cy_put_number(json, "slack_above_c", wire->slack_above_c);
        cy_put_object(json, "slack");
        cy_put_spread_of_days(json, &wire->slack);
        cy_put_number(json, "never", wire->slack.never);
        cy_json_end_object(json);
        cy_put_number(json, "take_up_m", wire->take_up_m);
        months_json(json, wire);
    }
    cy_put_basis(json, wire->basis);
    why(json, steps, plan, row, CY_TRELLIS_WHY_WIRE + index);
    cy_json_end_object(json);
}

static void practice_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                          size_t row, const struct cy_trellis_verdict *verdict)
{
    const struct cy_trellis_practice *practice = &verdict->practice;
    cy_put_object(json, "practice");
    cy_put_number(json, "asked_n", practice->asks_n);
    cy_put_number(json, "at_m", practice->at_m);
    cy_put_number(json, "code_allows_n", practice->allows_n);
    cy_put_number(json, "code_allows_customary_n", practice->customary_n);
    cy_put_number(json, "code_depth_m", practice->need_depth_m);
    cy_put_number(json, "asked_over_allowed", practice->ratio);
    cy_put_number(json, "allowed_at_gust_m_s", practice->held_gust_m_s);
    cy_put_number(json, "deflection_m", verdict->deflection_m);
    cy_put_number(json, "wind_along_n", verdict->along_n);
    cy_put_basis(json, practice->basis);
    why(json, steps, plan, row, CY_TRELLIS_WHY_PRACTICE);
    cy_json_end_object(json);
}

static void fixes_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                       size_t row)
{
    struct cy_trellis_fixes fixes;
    if (cy_trellis_fixes_of(&fixes, plan, row) != CY_OK) {
        json->text->failed = true;
        return;
    }
    cy_put_array(json, "changes");
    for (int i = 0; i < CY_FIX_COUNT; i++) {
        const struct cy_trellis_fix *fix = &fixes.fixes[i];
        struct cy_text words = {0};
        if (!fixes.needed || !fix->applies)
            continue;
        cy_say_fix(&words, plan, row, fix);
        cy_json_object(json);
        cy_put_text(json, "change", cy_fix_word(fix->kind));
        cy_put_bool(json, "enough", fix->enough);
        cy_put_number(json, "value", fix->value);
        cy_put_number(json, "use", fix->use);
        cy_put_number(json, "cost", fix->cost);
        cy_put_bool(json, "cheapest", i == fixes.cheapest);
        cy_put_text(json, "says", cy_text_get(&words));
        why(json, steps, plan, row, CY_TRELLIS_WHY_FIX + i);
        cy_json_end_object(json);
        json->text->failed = json->text->failed || words.failed;
        cy_text_dispose(&words);
    }
    cy_json_end_array(json);
}

static void parts_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                       size_t row)
{
    struct cy_parts_list list;
    cy_json_key(json, "parts");
    if (!cy_parts_of_row(&list, plan, row)) {
        cy_json_string(json, NULL);
        return;
    }
    cy_json_object(json);
    cy_put_array(json, "lines");
    for (int i = 0; i < list.count; i++) {
        const struct cy_parts_line *line = &list.lines[i];
        cy_json_object(json);
        cy_put_text(json, "part", cy_field_info(CY_PART_WHAT)->choices[line->kind]);
        cy_put_number(json, line->by_length ? "length_m" : "count", line->amount);
        cy_put_number(json, "width_m", line->width_m);
        cy_put_number(json, line->by_length ? "price_per_m" : "price", line->price);
        cy_put_number(json, "cost", line->cost);
        cy_put_basis(json, line->basis);
        why(json, steps, plan, row, CY_TRELLIS_WHY_PARTS);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_put_number(json, "cost", list.cost);
    cy_put_number(json, "cost_per_m", list.cost / list.row_m);
    cy_put_number(json, "lines_without_price", list.unpriced);
    cy_put_number(json, "wire_kg", list.wire_kg);
    cy_put_basis(json, list.basis);
    why(json, steps, plan, row, CY_TRELLIS_WHY_PARTS);
    cy_json_end_object(json);
}

void cy_trellis_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                     size_t row)
{
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, row);
    if (!verdict) {
        cy_json_string(json, NULL);
        return;
    }
    cy_json_object(json);
    cy_put_number(json, "use",
                  verdict->governing >= 0 ? verdict->checks[verdict->governing].use : NAN);
    cy_put_number(json, "bays", verdict->bays);
    cy_put_number(json, "bay_m", verdict->bay_m);
    cy_put_basis(json, verdict->basis);
    if (verdict->governing >= 0)
        why(json, steps, plan, row, CY_TRELLIS_WHY_CHECK + verdict->governing);
    checks_json(json, steps, plan, row, verdict);
    cy_put_array(json, "wires");
    for (int i = 0; i < verdict->wire_count; i++)
        wire_json(json, steps, plan, row, i, &verdict->wires[i]);
    cy_json_end_array(json);
    practice_json(json, steps, plan, row, verdict);
    fixes_json(json, steps, plan, row);
    cy_put_array(json, "notes");
    for (unsigned note = 1; note <= CY_TRELLIS_LAST_NOTE; note <<= 1) {
        struct cy_text words = {0};
        if (!(verdict->notes & note))
            continue;
        cy_say_trellis_note(&words, (enum cy_trellis_note)note);
        cy_json_string(json, cy_text_get(&words));
        cy_text_dispose(&words);
    }
    cy_json_end_array(json);
    parts_json(json, steps, plan, row);
    cy_json_end_object(json);
}
