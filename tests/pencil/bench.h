/* SPDX-License-Identifier: MIT
 * Running a calculation from one line of words, as on the command line. */
#ifndef TESTS_PENCIL_BENCH_H
#define TESTS_PENCIL_BENCH_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/pencil/pencil.h>

struct bench {
    struct cy_pencil_result result;
    struct cy_issues issues;
    int status;
};

/* Words are parted by blanks. */
static inline struct bench work_with(const char *name, const char *line,
                                     const struct cy_pencil_series *series)
{
    static char copy[4096];
    const char *words[CY_PENCIL_WORDS + 2];
    size_t count = 0;
    struct cy_pencil_inputs inputs;
    struct bench bench = {0};
    const struct cy_pencil_calculation *calculation = cy_pencil_find(name);
    assert_non_null(calculation);
    assert_true(strlen(line) < sizeof copy);
    strcpy(copy, line);
    for (char *word = strtok(copy, " "); word; word = strtok(NULL, " ")) {
        assert_true(count < sizeof words / sizeof *words);
        words[count++] = word;
    }
    bench.status = cy_pencil_read(&inputs, calculation, words, count, &bench.issues);
    if (bench.status != CY_OK)
        return bench;
    bench.status = cy_pencil_run(&bench.result, &inputs, series, &bench.issues);
    cy_pencil_inputs_dispose(&inputs);
    return bench;
}

static inline struct bench work(const char *name, const char *line)
{
    return work_with(name, line, NULL);
}

static inline void near_or_fail(double got, double want, double within, const char *file, int line)
{
    if (fabs(got - want) <= within)
        return;
    print_error("%.10g is not within %g of %.10g\n", got, within, want);
    _fail(file, line);
}

#define assert_near(got, want, within) near_or_fail(got, want, within, __FILE__, __LINE__)

/* NAN where there is no such secondary result. */
static inline double also_of(const struct bench *bench, const char *name)
{
    for (size_t i = 0; i < bench->result.count; i++)
        if (strcmp(bench->result.also[i].name, name) == 0)
            return bench->result.also[i].value;
    return NAN;
}

static inline void result_or_fail(struct bench bench, double want, double within, const char *file,
                                  int line)
{
    _assert_int_equal((LargestIntegralType)bench.status, CY_OK, file, line);
    near_or_fail(bench.result.value, want, within, file, line);
}

static inline void also_or_fail(struct bench bench, const char *name, double want, double within,
                                const char *file, int line)
{
    near_or_fail(also_of(&bench, name), want, within, file, line);
}

static inline void no_also_or_fail(struct bench bench, const char *name, const char *file, int line)
{
    _assert_int_equal((LargestIntegralType)bench.status, CY_OK, file, line);
    _assert_true(isnan(also_of(&bench, name)), name, file, line);
}

/* Wrong usage: one issue of this code about this argument ("" for none) that says what is
 * allowed. */
static inline void refused_or_fail(struct bench bench, enum cy_issue_code code,
                                   const char *argument, const char *file, int line)
{
    _assert_int_equal((LargestIntegralType)bench.status, (LargestIntegralType)CY_INVALID, file,
                      line);
    _assert_int_equal(bench.issues.count, 1, file, line);
    _assert_int_equal(bench.issues.items[0].code, code, file, line);
    _assert_string_equal(bench.issues.items[0].field, argument, file, line);
    _assert_true(bench.issues.items[0].allowed[0] != '\0', "allowed", file, line);
}

#define assert_result(bench, want, within) result_or_fail(bench, want, within, __FILE__, __LINE__)
#define assert_also(bench, name, want, within)                                                     \
    also_or_fail(bench, name, want, within, __FILE__, __LINE__)
#define assert_no_also(bench, name) no_also_or_fail(bench, name, __FILE__, __LINE__)
#define assert_refused(bench, code, argument)                                                      \
    refused_or_fail(bench, code, argument, __FILE__, __LINE__)

#endif
