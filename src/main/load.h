/* SPDX-License-Identifier: MIT
 * What most verbs begin with: the catalogue, a farm from a file of either form, the day. */
#ifndef MAIN_LOAD_H
#define MAIN_LOAD_H

#include <stdbool.h>

#include <caneyear/season/plan.h>

#include "store/farmfile.h"

struct cy_loaded {
    struct cy_farm catalogue;
    struct cy_farm yaml;        /* where the farm came from YAML */
    struct cy_file *file;       /* where it came from a farm file */
    const struct cy_farm *farm; /* the one or the other, with the catalogue lent */
};

/* Reads the catalogue alone. Prints what is wrong. */
bool cy_load_catalogue(struct cy_loaded *out);
/* The catalogue and a farm: YAML if the name ends in .yaml or .yml, else a farm file. */
bool cy_load_farm(struct cy_loaded *out, const char *path);
/* The catalogue and a farm file that can be written. */
bool cy_load_file(struct cy_loaded *out, const char *path);
void cy_loaded_dispose(struct cy_loaded *loaded);

/* What a plan of it is asked by; season 0 is that of the day. Borrows from *loaded. */
struct cy_plan_request cy_plan_asked(const struct cy_loaded *loaded, cy_day today, int season);

bool cy_is_yaml(const char *path);

/* Each issue on a line of standard error. */
void cy_print_issues(const struct cy_issues *issues);

/* The local day, or that of --today; false after a line on standard error. */
bool cy_day_wanted(cy_day *out, const char *verb, const char *text);

/* The year of --season, 0 without it; false after a line on standard error. */
bool cy_season_wanted(int *out, const char *verb, const char *text);

/* A line on standard error where a record's day lies after today: it is kept, and never erased. */
void cy_warn_ahead(const char *verb, cy_day day);

/* Whether this locale's characters are UTF-8 (after setlocale). */
bool cy_locale_is_ascii(void);

#endif
