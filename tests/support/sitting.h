/* SPDX-License-Identifier: MIT
 * The planner opened in a terminal on a farm of its own, with a home of its own. */
#ifndef SUPPORT_SITTING_H
#define SUPPORT_SITTING_H

#include "support/pty.h"

#define SITTING_TODAY "2027-05-11"
#define SITTING_MORE 4

struct sitting {
    char folder[64], farm[96]; /* removed by sitting_end */
    struct pty *pty;
};

struct sitting_start {
    int width, height;              /* 0: 80x24 */
    const char *locale;             /* NULL: C.UTF-8 */
    const char *terminal;           /* NULL: xterm-256color; "" leaves TERM unset */
    const char *more[SITTING_MORE]; /* more of the environment, "NAME=value" */
    const char *options[SITTING_MORE];
};

/* A new farm from share/demo.yaml. */
void sitting_begin(struct sitting *sitting);
/* Opens the planner on it. */
void sitting_open(struct sitting *sitting, const struct sitting_start *start);
/* Closes the terminal, so that the planner can be opened again. */
void sitting_close(struct sitting *sitting);
void sitting_end(struct sitting *sitting);

/* Runs the program as from another shell; what it says goes to `out` (of `size`, or NULL). Returns
 * the exit status. */
int sitting_run(const struct sitting *sitting, char *out, size_t size, const char *arguments);

#endif
