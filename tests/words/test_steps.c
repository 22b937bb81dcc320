/* SPDX-License-Identifier: MIT
 * Steps of many traces, each kept once. */
#include "words/steps.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void fill(struct cy_trace *trace, int number)
{
    cy_trace_begin(trace, "a weight", "length x yield", "a book");
    cy_trace_number(trace, "length", number, CY_Q_LENGTH, CY_BASIS_GROWER, "");
    cy_trace_result(trace, 2.0 * number, CY_Q_MASS, CY_BASIS_GROWER | CY_BASIS_PUBLISHED);
}

static void a_step_has_one_place(void **state)
{
    (void)state;
    enum { DIFFERENT = 3000 };
    struct cy_steps steps = {0};
    for (int round = 0; round < 3; round++)
        for (int i = 0; i < DIFFERENT; i++) {
            struct cy_trace trace = {0};
            fill(&trace, i);
            assert_int_equal(cy_steps_place(&steps, &trace.steps[0]), i);
            cy_trace_dispose(&trace);
        }
    assert_int_equal(steps.distinct.count, DIFFERENT);
    assert_false(steps.failed);
    assert_true(steps.distinct.steps[7].inputs[0].value == 7);
    cy_steps_dispose(&steps);
}

/* Any part of a step tells it from another; but of a basis only what is written. */
static void steps_differ_in_any_part(void **state)
{
    (void)state;
    struct cy_steps steps = {0};
    static const struct {
        const char *what, *formula, *source, *name, *text, *result;
        cy_basis basis;
        size_t place;
    } cases[] = {
        {"a", "f", "s", "n", "t", "r", CY_BASIS_MEMORY, 0},
        {"b", "f", "s", "n", "t", "r", CY_BASIS_MEMORY, 1},
        {"a", "g", "s", "n", "t", "r", CY_BASIS_MEMORY, 2},
        {"a", "f", "", "n", "t", "r", CY_BASIS_MEMORY, 3},
        {"a", "f", "s", "m", "t", "r", CY_BASIS_MEMORY, 4},
        {"a", "f", "s", "n", "u", "r", CY_BASIS_MEMORY, 5},
        {"a", "f", "s", "n", "t", "q", CY_BASIS_MEMORY, 6},
        {"a", "f", "s", "n", "t", "r", CY_BASIS_MADE, 7},
        {"a", "f", "s", "n", "t", "r", CY_BASIS_MEMORY | CY_BASIS_PUBLISHED, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct cy_trace trace = {0};
        cy_trace_begin(&trace, cases[i].what, cases[i].formula, cases[i].source);
        cy_trace_text(&trace, cases[i].name, cases[i].text, CY_BASIS_GROWER, "");
        cy_trace_result_text(&trace, cases[i].result, cases[i].basis);
        assert_int_equal(cy_steps_place(&steps, &trace.steps[0]), cases[i].place);
        cy_trace_dispose(&trace);
    }
    cy_steps_dispose(&steps);
}

static void a_why_is_an_array_of_places(void **state)
{
    (void)state;
    struct cy_steps steps = {0};
    struct cy_text out = {0};
    struct cy_json json;
    cy_json_begin(&json, &out);
    cy_json_object(&json);
    for (int i = 0; i < 2; i++) {
        struct cy_trace trace = {0};
        fill(&trace, 5);
        fill(&trace, 6 + i);
        cy_steps_why(&json, &steps, &trace);
        cy_trace_dispose(&trace);
    }
    cy_json_end_object(&json);
    assert_string_equal(cy_text_get(&out), "{\"why\":[0,1],\"why\":[0,2]}");
    cy_text_dispose(&out);
    cy_steps_dispose(&steps);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_step_has_one_place),
        cmocka_unit_test(steps_differ_in_any_part),
        cmocka_unit_test(a_why_is_an_array_of_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
