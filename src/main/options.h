/* SPDX-License-Identifier: MIT
 * Command-line options: one table a verb, read in one place. */
#ifndef MAIN_OPTIONS_H
#define MAIN_OPTIONS_H

#include <stdbool.h>

struct cy_option {
    const char *name;   /* "--today"; NULL ends the table */
    const char *letter; /* "-o", or NULL */
    const char **value; /* where its argument goes; NULL for a switch */
    bool *given;        /* set for a switch */
};

/* Takes the options out of argv and leaves the plain arguments in front: returns how many, or -1
 * after one line on standard error. "--" ends the options. */
int cy_options_read(const char *verb, int argc, char **argv, const struct cy_option *options);

/* One line on standard error, "caneyear VERB: message", everything cleaned; returns EXIT_USAGE. */
int cy_usage(const char *verb, const char *message, const char *what);

#endif
