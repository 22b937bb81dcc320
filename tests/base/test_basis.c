/* SPDX-License-Identifier: MIT
 * What stands behind a number: words of sets, traces. */
#include <caneyear/base/basis.h>

#include <string.h>

#include "support/near.h"

static void a_set_is_named_by_its_least_trusted(void **state)
{
    (void)state;
    assert_string_equal(cy_basis_word(CY_BASIS_NONE), "none");
    assert_string_equal(cy_basis_word(CY_BASIS_OBSERVED), "observed");
    assert_string_equal(cy_basis_word(CY_BASIS_OBSERVED | CY_BASIS_FILLED), "filled");
    assert_string_equal(cy_basis_word(CY_BASIS_PLACEHOLDER | CY_BASIS_PUBLISHED), "placeholder");
}

static void every_word_reads_back(void **state)
{
    (void)state;
    for (int rank = 0; rank < CY_BASIS_COUNT; rank++) {
        const char *word = cy_basis_word(1u << rank);
        assert_int_equal(cy_basis_parse(word, strlen(word)), 1u << rank);
    }
    assert_int_equal(cy_basis_parse("hearsay", 7), CY_BASIS_NONE);
    assert_int_equal(cy_basis_parse("", 0), CY_BASIS_NONE);
}

static void a_figure_is_three_quantiles(void **state)
{
    (void)state;
    double values[] = {3, 1, 2, 5, 4};
    struct cy_figure figure = cy_figure_of(values, 5, CY_BASIS_MADE);
    assert_true(figure.p50 == 3 && fabs(figure.p10 - 1.4) < 1e-12);
    assert_true(fabs(figure.p90 - 4.6) < 1e-12 && figure.basis == CY_BASIS_MADE);
    assert_true(isnan(cy_figure_of(NULL, 0, CY_BASIS_NONE).p50));
}

static void a_trace_copies_what_it_is_told(void **state)
{
    (void)state;
    struct cy_trace trace = {0};
    char name[] = "base temperature";
    for (int i = 0; i < 20; i++)
        cy_trace_begin(&trace, "first bloom", "sum of degree hours", "source");
    for (int i = 0; i < 20; i++)
        cy_trace_number(&trace, name, 4.5, CY_Q_TEMPERATURE, CY_BASIS_PUBLISHED, NULL);
    name[0] = 'X';
    cy_trace_day(&trace, "from", cy_day_of(2025, 2, 1), CY_BASIS_OBSERVED, NULL);
    cy_trace_text(&trace, "cultivar", "Ouachita", CY_BASIS_GROWER, "label");
    cy_trace_result(&trace, 42, CY_Q_DAYS, CY_BASIS_PUBLISHED);
    cy_trace_result_text(&trace, "not this", CY_BASIS_MADE);
    cy_trace_result_text(&trace, "2025-04-20", CY_BASIS_MADE);
    assert_false(trace.failed);
    assert_int_equal(trace.count, 20);
    assert_int_equal(trace.steps[0].input_count, 0);
    const struct cy_trace_step *step = &trace.steps[19];
    assert_int_equal(step->input_count, 22);
    assert_string_equal(step->what, "first bloom");
    assert_string_equal(step->inputs[0].name, "base temperature");
    assert_null(step->inputs[0].text);
    assert_near(step->inputs[0].value, 4.5, 0);
    assert_string_equal(step->inputs[20].text, "2025-02-01");
    assert_string_equal(step->inputs[21].source, "label");
    assert_string_equal(step->result, "2025-04-20");
    assert_near(step->value, 42, 0);
    assert_int_equal(step->basis, CY_BASIS_MADE);
    cy_trace_dispose(&trace);
    assert_int_equal(trace.count, 0);
}

static void no_trace_is_fine(void **state)
{
    (void)state;
    cy_trace_begin(NULL, "a", "b", "c");
    cy_trace_number(NULL, "a", 1, CY_Q_NUMBER, CY_BASIS_GROWER, NULL);
    cy_trace_day(NULL, "a", 1, CY_BASIS_GROWER, NULL);
    cy_trace_text(NULL, "a", NULL, CY_BASIS_GROWER, NULL);
    cy_trace_result(NULL, 1, CY_Q_NUMBER, CY_BASIS_GROWER);
    cy_trace_result_text(NULL, "a", CY_BASIS_GROWER);
    /* an input before any step has nowhere to go */
    struct cy_trace trace = {0};
    cy_trace_number(&trace, "a", 1, CY_Q_NUMBER, CY_BASIS_GROWER, NULL);
    assert_int_equal(trace.count, 0);
    cy_trace_dispose(&trace);
}

static void what_a_trace_repeats_is_dropped(void **state)
{
    (void)state;
    struct cy_trace trace = {0};
    static const char *const steps[] = {"a", "b", "a", "c", "b", "b", "a"};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        cy_trace_begin(&trace, steps[i], "f", "");
        cy_trace_number(&trace, "x", 1, CY_Q_NUMBER, CY_BASIS_GROWER, "");
    }
    cy_trace_begin(&trace, "a", "f", ""); /* as the first, but for what goes in */
    cy_trace_drop_repeats(&trace);
    assert_int_equal(trace.count, 4);
    assert_string_equal(trace.steps[0].what, "a");
    assert_string_equal(trace.steps[1].what, "b");
    assert_string_equal(trace.steps[2].what, "c");
    assert_int_equal(trace.steps[3].input_count, 0);
    cy_trace_dispose(&trace);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_set_is_named_by_its_least_trusted),
        cmocka_unit_test(every_word_reads_back),
        cmocka_unit_test(a_figure_is_three_quantiles),
        cmocka_unit_test(a_trace_copies_what_it_is_told),
        cmocka_unit_test(no_trace_is_fine),
        cmocka_unit_test(what_a_trace_repeats_is_dropped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
