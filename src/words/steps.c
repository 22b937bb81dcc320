/* SPDX-License-Identifier: MIT
 * Steps of many traces, each kept once, found again by a hash of all that they say. */
#include "words/steps.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/random.h>
#include <caneyear/base/text.h>

#define NO_PLACE SIZE_MAX

void cy_steps_dispose(struct cy_steps *steps)
{
    cy_trace_dispose(&steps->distinct);
    free(steps->hashes);
    free(steps->table);
    *steps = (struct cy_steps){0};
}

static uint64_t hash_value(uint64_t hash, const char *text, double value, enum cy_quantity quantity,
                           cy_basis basis)
{
    hash = cy_hash_string(hash, text);
    hash = isnan(value) ? hash : cy_hash_number(hash, value);
    return cy_hash_number(hash, (double)quantity * (1u << CY_BASIS_COUNT) + basis);
}

static uint64_t hash_of(const struct cy_trace_step *step)
{
    uint64_t hash = cy_hash_string(CY_HASH_START, step->what);
    hash = cy_hash_string(hash, step->formula);
    hash = cy_hash_string(hash, step->source);
    hash = hash_value(hash, step->result, step->value, step->quantity, step->basis);
    for (size_t i = 0; i < step->input_count; i++) {
        const struct cy_trace_input *input = &step->inputs[i];
        hash = cy_hash_string(cy_hash_string(hash, input->name), input->source);
        hash = hash_value(hash, input->text, input->value, input->quantity, input->basis);
    }
    return hash;
}

/* ---- the table ------------------------------------------------------------------------------ */

static void enter(struct cy_steps *steps, size_t place)
{
    size_t slot = (size_t)steps->hashes[place] & (steps->table_size - 1);
    while (steps->table[slot])
        slot = (slot + 1) & (steps->table_size - 1);
    steps->table[slot] = place + 1;
}

/* Room for one more, with at most half of the table in use. */
static bool make_room(struct cy_steps *steps)
{
    struct cy_trace *distinct = &steps->distinct;
    if (!cy_grow(&distinct->steps, &distinct->capacity, distinct->count, sizeof *distinct->steps) ||
        !cy_grow(&steps->hashes, &steps->hash_capacity, distinct->count, sizeof *steps->hashes))
        return false;
    if (2 * (distinct->count + 1) <= steps->table_size)
        return true;
    size_t size = steps->table_size ? 2 * steps->table_size : 1024;
    size_t *table = cy_zeroed(size, sizeof *table);
    if (!table)
        return false;
    free(steps->table);
    steps->table = table;
    steps->table_size = size;
    for (size_t i = 0; i < distinct->count; i++)
        enter(steps, i);
    return true;
}

static cy_basis least_trusted(cy_basis basis)
{
    int rank = CY_BASIS_COUNT - 1;
    while (rank > 0 && !(basis & 1u << rank))
        rank--;
    return basis & 1u << rank;
}

/* Of a basis only the least trusted member is written, so that steps which differ in the others
 * are the same one. */
static void simplify(struct cy_trace_step *step)
{
    step->basis = least_trusted(step->basis);
    for (size_t i = 0; i < step->input_count; i++)
        step->inputs[i].basis = least_trusted(step->inputs[i].basis);
}

size_t cy_steps_place(struct cy_steps *steps, struct cy_trace_step *step)
{
    simplify(step);
    uint64_t hash = hash_of(step);
    if (steps->failed || !make_room(steps)) {
        steps->failed = true;
        return NO_PLACE;
    }
    struct cy_trace *distinct = &steps->distinct;
    for (size_t slot = (size_t)hash & (steps->table_size - 1); steps->table[slot];
         slot = (slot + 1) & (steps->table_size - 1)) {
        size_t place = steps->table[slot] - 1;
        if (steps->hashes[place] == hash && cy_trace_same_step(&distinct->steps[place], step))
            return place;
    }
    size_t place = distinct->count++;
    distinct->steps[place] = *step;
    *step = (struct cy_trace_step){0};
    steps->hashes[place] = hash;
    enter(steps, place);
    return place;
}

void cy_steps_refer(struct cy_json *json, struct cy_steps *steps, struct cy_trace *trace)
{
    steps->failed = steps->failed || trace->failed;
    for (size_t i = 0; i < trace->count; i++) {
        size_t place = cy_steps_place(steps, &trace->steps[i]);
        if (place != NO_PLACE)
            cy_json_number(json, (double)place);
    }
}

void cy_steps_why(struct cy_json *json, struct cy_steps *steps, struct cy_trace *trace)
{
    cy_json_key(json, "why");
    cy_json_array(json);
    cy_steps_refer(json, steps, trace);
    cy_json_end_array(json);
}
