/* SPDX-License-Identifier: MIT
 * The full-screen planner: one field, one day, in a terminal. */
#ifndef SCREEN_SCREEN_H
#define SCREEN_SCREEN_H

#include <stdbool.h>

#include "store/farmfile.h"

struct cy_screen_options {
    const char *path;
    cy_day today;
    bool no_color; /* as if NO_COLOR were set */
    bool ascii;    /* plain ASCII even where the locale is UTF-8 */
    bool mouse;    /* off until asked for, so that selecting text works */
};

/* Runs the planner on an open file until the user leaves. Returns the exit status: 0, or 2 (with
 * one sentence on standard error) where there is no terminal to draw on. The file stays open. */
int cy_screen_run(struct cy_file *file, const struct cy_screen_options *options);

/* The keys as the manual lists them: one line an action, its keys, a tab, what it does. */
void cy_screen_keys(struct cy_text *out);

#endif
