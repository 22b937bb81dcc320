/* SPDX-License-Identifier: MIT
 * Running a program to its end, and all it wrote. */
#ifndef TESTS_SUPPORT_RUN_H
#define TESTS_SUPPORT_RUN_H

#include <stddef.h>

struct run {
    const char *const *argv;        /* from the program's path, NULL at the end */
    const char *const *environment; /* "NAME=value" set on top of ours, NULL at the end; or NULL */
    const char *folder;             /* to start in, or NULL */
    const char *input;              /* for its standard input, or NULL for nothing */
};

struct ran {
    int status;      /* of its exit; 128 and the signal that ended it */
    char *out, *err; /* terminated */
    size_t out_length, err_length;
};

/* Fails the test if the program cannot be run, or has not ended after a minute. */
struct ran run_program(const struct run *run);
void ran_dispose(struct ran *ran);

/* The program built for checks: $B/check/caneyear. */
const char *run_caneyear(void);

#endif
