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

/* Whole: each step has a formula, something that goes in and something that comes out. */
static inline void assert_whole(const struct cy_trace *trace)
{
    assert_false(trace->failed);
    assert_true(trace->count > 0);
    for (size_t i = 0; i < trace->count; i++) {
        const struct cy_trace_step *step = &trace->steps[i];
        assert_true(*step->what && *step->formula);
        assert_true(step->result ? *step->result != '\0' : !isnan(step->value));
        assert_true(step->basis != CY_BASIS_NONE);
        assert_true(step->input_count > 0);
        for (size_t k = 0; k < step->input_count; k++) {
            assert_true(*step->inputs[k].name != '\0');
            assert_true(step->inputs[k].text || !isnan(step->inputs[k].value));
        }
    }
}

#endif
