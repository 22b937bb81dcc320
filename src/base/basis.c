/* SPDX-License-Identifier: MIT
 * What stands behind a number, and the trace by which it can be asked why. */
#include <caneyear/base/basis.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/base/text.h>

static const char *const words[] = {
#define BASIS(name, word) [CY_BASIS_RANK_##name] = word,
    CY_BASES(BASIS)
#undef BASIS
};

const char *cy_basis_word(cy_basis basis)
{
    for (int rank = CY_BASIS_COUNT - 1; rank >= 0; rank--) {
        if (basis & 1u << rank)
            return words[rank];
    }
    return "none";
}

cy_basis cy_basis_parse(const char *word, size_t length)
{
    for (int rank = 0; rank < CY_BASIS_COUNT; rank++) {
        if (cy_word_is(word, length, words[rank]))
            return 1u << rank;
    }
    return CY_BASIS_NONE;
}

struct cy_figure cy_figure_of(double *values, size_t count, cy_basis basis)
{
    cy_sort(values, count);
    return (struct cy_figure){.p10 = cy_quantile(values, count, 0.1),
                              .p50 = cy_quantile(values, count, 0.5),
                              .p90 = cy_quantile(values, count, 0.9),
                              .basis = basis};
}

static void dispose_step(struct cy_trace_step *step)
{
    for (size_t i = 0; i < step->input_count; i++) {
        free(step->inputs[i].name);
        free(step->inputs[i].text);
        free(step->inputs[i].source);
    }
    free(step->inputs);
    free(step->what);
    free(step->formula);
    free(step->source);
    free(step->result);
}

void cy_trace_dispose(struct cy_trace *trace)
{
    for (size_t i = 0; i < trace->count; i++)
        dispose_step(&trace->steps[i]);
    free(trace->steps);
    *trace = (struct cy_trace){0};
}

static char *copy(struct cy_trace *trace, const char *string)
{
    char *made = cy_strdup(string);
    if (string && !made)
        trace->failed = true;
    return made;
}

void cy_trace_begin(struct cy_trace *trace, const char *what, const char *formula,
                    const char *source)
{
    if (!trace || trace->failed)
        return;
    if (!cy_grow(&trace->steps, &trace->capacity, trace->count, sizeof *trace->steps)) {
        trace->failed = true;
        return;
    }
    trace->steps[trace->count++] = (struct cy_trace_step){
        .what = copy(trace, what),
        .formula = copy(trace, formula),
        .source = copy(trace, source),
        .value = NAN,
    };
}

static struct cy_trace_step *last_step(struct cy_trace *trace)
{
    return trace && !trace->failed && trace->count ? &trace->steps[trace->count - 1] : NULL;
}

static void add_input(struct cy_trace *trace, const char *name, const char *text, double value,
                      enum cy_quantity quantity, cy_basis basis, const char *source)
{
    struct cy_trace_step *step = last_step(trace);
    if (!step)
        return;
    if (!cy_grow(&step->inputs, &step->input_capacity, step->input_count, sizeof *step->inputs)) {
        trace->failed = true;
        return;
    }
    step->inputs[step->input_count++] = (struct cy_trace_input){
        .name = copy(trace, name),
        .text = copy(trace, text),
        .value = value,
        .quantity = quantity,
        .basis = basis,
        .source = copy(trace, source),
    };
}

void cy_trace_number(struct cy_trace *trace, const char *name, double value,
                     enum cy_quantity quantity, cy_basis basis, const char *source)
{
    add_input(trace, name, NULL, value, quantity, basis, source);
}

void cy_trace_day(struct cy_trace *trace, const char *name, cy_day day, cy_basis basis,
                  const char *source)
{
    char out[CY_DAY_TEXT];
    add_input(trace, name, cy_day_print(out, day), NAN, CY_Q_NUMBER, basis, source);
}

void cy_trace_text(struct cy_trace *trace, const char *name, const char *value, cy_basis basis,
                   const char *source)
{
    add_input(trace, name, value ? value : "", NAN, CY_Q_NUMBER, basis, source);
}

void cy_trace_result(struct cy_trace *trace, double value, enum cy_quantity quantity,
                     cy_basis basis)
{
    struct cy_trace_step *step = last_step(trace);
    if (!step)
        return;
    step->value = value;
    step->quantity = quantity;
    step->basis = basis;
}

void cy_trace_result_text(struct cy_trace *trace, const char *value, cy_basis basis)
{
    struct cy_trace_step *step = last_step(trace);
    if (!step)
        return;
    free(step->result);
    step->result = copy(trace, value);
    step->basis = basis;
}

/* ---- sameness ------------------------------------------------------------------------------- */

static bool same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_value(double a, double b)
{
    return isnan(a) ? isnan(b) : a == b;
}

static bool same_input(const struct cy_trace_input *a, const struct cy_trace_input *b)
{
    return same_text(a->name, b->name) && same_text(a->text, b->text) &&
           same_text(a->source, b->source) && same_value(a->value, b->value) &&
           a->quantity == b->quantity && a->basis == b->basis;
}

bool cy_trace_same_step(const struct cy_trace_step *a, const struct cy_trace_step *b)
{
    bool same = same_text(a->what, b->what) && same_text(a->formula, b->formula) &&
                same_text(a->source, b->source) && same_text(a->result, b->result) &&
                same_value(a->value, b->value) && a->quantity == b->quantity &&
                a->basis == b->basis && a->input_count == b->input_count;
    for (size_t i = 0; same && i < a->input_count; i++)
        same = same_input(&a->inputs[i], &b->inputs[i]);
    return same;
}

void cy_trace_drop_repeats(struct cy_trace *trace)
{
    size_t kept = 0;
    for (size_t i = 0; i < trace->count; i++) {
        bool repeats = false;
        for (size_t k = 0; k < kept && !repeats; k++)
            repeats = cy_trace_same_step(&trace->steps[k], &trace->steps[i]);
        if (repeats)
            dispose_step(&trace->steps[i]);
        else
            trace->steps[kept++] = trace->steps[i];
    }
    trace->count = kept;
}
