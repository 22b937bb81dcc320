/* SPDX-License-Identifier: MIT
 * A trace in words and in JSON: what a figure is, its formula, its inputs, its source. */
#include "words/words.h"

#include <math.h>

#include "words/json_words.h"

enum { DIGITS = 4 }; /* enough to follow a sum by hand */

static void say_value(struct cy_text *out, const char *text, double value,
                      enum cy_quantity quantity, enum cy_system system)
{
    if (text)
        cy_text_add(out, text);
    else if (isnan(value))
        cy_text_add(out, "not known");
    else
        cy_quantity_show_digits(out, value, quantity, system, DIGITS);
}

static void say_behind(struct cy_text *out, cy_basis basis, const char *source)
{
    if (basis) {
        cy_say_behind(out, basis);
    }
    if (source && *source) {
        cy_text_add_char(out, ' ');
        cy_text_add(out, source);
    }
}

void cy_say_trace(struct cy_text *out, const struct cy_trace *trace, enum cy_system system)
{
    for (size_t i = 0; i < trace->count; i++) {
        const struct cy_trace_step *step = &trace->steps[i];
        cy_text_add(out, step->what);
        if (step->result || !isnan(step->value)) {
            cy_text_add(out, ": ");
            say_value(out, step->result, step->value, step->quantity, system);
            say_behind(out, step->basis, NULL);
        }
        cy_text_add(out, "\n  formula: ");
        cy_text_add(out, step->formula);
        if (step->source && *step->source) {
            cy_text_add(out, "\n  source: ");
            cy_text_add(out, step->source);
        }
        for (size_t j = 0; j < step->input_count; j++) {
            const struct cy_trace_input *input = &step->inputs[j];
            cy_text_add(out, "\n  - ");
            cy_text_add(out, input->name);
            cy_text_add(out, ": ");
            say_value(out, input->text, input->value, input->quantity, system);
            say_behind(out, input->basis, input->source);
        }
        cy_text_add_char(out, '\n');
    }
}

static void json_value(struct cy_json *json, const char *key, const char *text, double value,
                       enum cy_quantity quantity)
{
    cy_json_key(json, key);
    if (text)
        cy_json_string(json, text);
    else
        cy_json_number(json, value);
    if (!text && !isnan(value))
        cy_put_text(json, "unit", cy_quantity_inside(quantity));
}

void cy_trace_json(struct cy_json *json, const struct cy_trace *trace)
{
    cy_json_array(json);
    for (size_t i = 0; i < trace->count; i++) {
        const struct cy_trace_step *step = &trace->steps[i];
        cy_json_object(json);
        cy_put_text(json, "what", step->what);
        cy_put_text(json, "formula", step->formula);
        cy_put_text(json, "source", step->source);
        cy_put_array(json, "inputs");
        for (size_t j = 0; j < step->input_count; j++) {
            const struct cy_trace_input *input = &step->inputs[j];
            cy_json_object(json);
            cy_put_text(json, "name", input->name);
            json_value(json, "value", input->text, input->value, input->quantity);
            cy_put_text(json, "basis", cy_basis_word(input->basis));
            cy_put_text(json, "source", input->source);
            cy_json_end_object(json);
        }
        cy_json_end_array(json);
        json_value(json, "result", step->result, step->value, step->quantity);
        cy_put_text(json, "basis", cy_basis_word(step->basis));
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}
