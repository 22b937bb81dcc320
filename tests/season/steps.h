/* SPDX-License-Identifier: MIT
 * The steps of a trace and their inputs, by name. */
#ifndef TESTS_SEASON_STEPS_H
#define TESTS_SEASON_STEPS_H

#include <caneyear/base/basis.h>

#include "support/near.h"

static inline const struct cy_trace_step *step_of(const struct cy_trace *trace, const char *what)
{
    for (size_t i = 0; i < trace->count; i++)
        if (cy_streq(trace->steps[i].what, what))
            return &trace->steps[i];
    fail_msg("no step %s", what);
    return NULL;
}

/* NULL where there is none. */
static inline const struct cy_trace_input *find_input(const struct cy_trace_step *step,
                                                      const char *name)
{
    for (size_t i = 0; i < step->input_count; i++)
        if (cy_streq(step->inputs[i].name, name))
            return &step->inputs[i];
    return NULL;
}

static inline const struct cy_trace_input *input_of(const struct cy_trace_step *step,
                                                    const char *name)
{
    const struct cy_trace_input *input = find_input(step, name);
    if (!input)
        fail_msg("no input %s of %s", name, step->what);
    return input;
}

#endif
