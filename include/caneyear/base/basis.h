/* SPDX-License-Identifier: MIT
 * What stands behind a number, and the trace by which it can be asked why. */
#ifndef CANEYEAR_BASE_BASIS_H
#define CANEYEAR_BASE_BASIS_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/day.h>
#include <caneyear/base/unit.h>

/* A set of bits, so that a figure made from several inputs carries what is behind all of them.
 * BASIS(name, word), the most trusted first: a set is named by its least trusted member. */
#define CY_BASES(BASIS)                                                                            \
    BASIS(OBSERVED, "observed")   /* seen on this farm */                                          \
    BASIS(GROWER, "grower")       /* typed in by the grower */                                     \
    BASIS(PUBLISHED, "published") /* read in a named source */                                     \
    BASIS(LEARNED, "learned")     /* moved by this farm's own seasons */                           \
    BASIS(FITTED, "fitted here")  /* worked out by us from published dates */                      \
    BASIS(FILLED, "filled")       /* a gap in the weather, filled */                               \
    BASIS(MADE, "made")           /* a year made by the weather generator */                       \
    BASIS(PRACTICE, "common practice, no source")                                                  \
    BASIS(MEMORY, "from memory")                                                                   \
    BASIS(PLACEHOLDER, "placeholder") /* a default with nothing behind it */

enum cy_basis_rank {
#define BASIS(name, word) CY_BASIS_RANK_##name,
    CY_BASES(BASIS)
#undef BASIS
        CY_BASIS_COUNT
};

typedef unsigned cy_basis;
enum {
#define BASIS(name, word) CY_BASIS_##name = 1u << CY_BASIS_RANK_##name,
    CY_BASES(BASIS)
#undef BASIS
        CY_BASIS_NONE = 0
};

/* The word of the least trusted bit; "none" for an empty set. */
const char *cy_basis_word(cy_basis basis);
/* The bit of a word; CY_BASIS_NONE if there is no such word. */
cy_basis cy_basis_parse(const char *word, size_t length);

/* A figure with its spread over the members of the ensemble that reach it. */
struct cy_figure {
    double p10, p50, p90; /* NaN where no member reaches it */
    double never;         /* share of members in which it never happens */
    cy_basis basis;
};

/* Sorts the values of the members that reach it, and takes their percentiles. */
struct cy_figure cy_figure_of(double *values, size_t count, cy_basis basis);

/* A trace is filled only when someone asks why: pass NULL otherwise, every call takes it. All
 * strings are copied. Zero-initialise; dispose of it with cy_trace_dispose. */
struct cy_trace_input {
    char *name;
    char *text; /* the value as text where it is no number, or NULL */
    double value;
    enum cy_quantity quantity;
    cy_basis basis;
    char *source; /* or NULL */
};

struct cy_trace_step {
    char *what;    /* "first bloom" */
    char *formula; /* in words and symbols */
    char *source;
    struct cy_trace_input *inputs;
    size_t input_count, input_capacity;
    char *result; /* or NULL */
    double value;
    enum cy_quantity quantity;
    cy_basis basis;
};

struct cy_trace {
    struct cy_trace_step *steps;
    size_t count, capacity;
    bool failed; /* ran out of memory: what is there is whole, but not all */
};

void cy_trace_dispose(struct cy_trace *trace);
void cy_trace_begin(struct cy_trace *trace, const char *what, const char *formula,
                    const char *source);
/* Inputs and results belong to the step begun last. */
void cy_trace_number(struct cy_trace *trace, const char *name, double value,
                     enum cy_quantity quantity, cy_basis basis, const char *source);
void cy_trace_day(struct cy_trace *trace, const char *name, cy_day day, cy_basis basis,
                  const char *source);
void cy_trace_text(struct cy_trace *trace, const char *name, const char *value, cy_basis basis,
                   const char *source);
void cy_trace_result(struct cy_trace *trace, double value, enum cy_quantity quantity,
                     cy_basis basis);
void cy_trace_result_text(struct cy_trace *trace, const char *value, cy_basis basis);
/* Whether two steps say the same; and drops steps that an earlier one of the trace repeats. */
bool cy_trace_same_step(const struct cy_trace_step *a, const struct cy_trace_step *b);
void cy_trace_drop_repeats(struct cy_trace *trace);

#endif
