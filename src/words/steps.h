/* SPDX-License-Identifier: MIT
 * Steps of many traces, each kept once: figures of a plan share most of what stands behind them,
 * so that JSON holds a list of distinct steps, and with each figure the places in it. */
#ifndef WORDS_STEPS_H
#define WORDS_STEPS_H

#include <stddef.h>
#include <stdint.h>

#include <caneyear/base/basis.h>
#include <caneyear/base/json.h>

struct cy_steps {
    struct cy_trace distinct;
    uint64_t *hashes; /* of the distinct ones */
    size_t hash_capacity;
    size_t *table; /* by hash: place + 1, 0 where empty; a power of two */
    size_t table_size;
    bool failed; /* ran out of memory */
};

/* Zero-initialise; dispose of it. */
void cy_steps_dispose(struct cy_steps *steps);

/* The place of a step among the distinct ones; where it is new, its insides move there and the
 * step is left empty. */
size_t cy_steps_place(struct cy_steps *steps, struct cy_trace_step *step);

/* Writes the places of the trace's steps as the numbers of an open JSON array. The trace is used
 * up: dispose of it. */
void cy_steps_refer(struct cy_json *json, struct cy_steps *steps, struct cy_trace *trace);
/* Writes key "why" and such an array. */
void cy_steps_why(struct cy_json *json, struct cy_steps *steps, struct cy_trace *trace);

#endif
