/* SPDX-License-Identifier: MIT
 * Members of an open JSON object, written the same way by all that the program says in JSON. */
#ifndef WORDS_JSON_WORDS_H
#define WORDS_JSON_WORDS_H

#include <stdbool.h>

#include <caneyear/base/basis.h>
#include <caneyear/base/json.h>

#include "words/steps.h"

void cy_put_text(struct cy_json *json, const char *key, const char *value); /* null where empty */
void cy_put_number(struct cy_json *json, const char *key, double value);
void cy_put_bool(struct cy_json *json, const char *key, bool value);
/* A day that may fall between two, to the nearer one; null for a day that never comes. */
void cy_put_day(struct cy_json *json, const char *key, double day);

/* Begins an array or an object as a member; the caller ends it. */
void cy_put_array(struct cy_json *json, const char *key);
void cy_put_object(struct cy_json *json, const char *key);

/* "p10", "p50" and "p90" as members of the open object: numbers times a factor, or days. */
void cy_put_spread(struct cy_json *json, const struct cy_figure *figure, double factor);
void cy_put_spread_of_days(struct cy_json *json, const struct cy_figure *day);
/* The numbers as an object of their own. */
void cy_put_figure(struct cy_json *json, const char *key, const struct cy_figure *figure,
                   double factor);

/* Member "basis", the word of the least trusted; null where nothing is behind. */
void cy_put_basis(struct cy_json *json, cy_basis basis);
/* That, and member "behind": the words of all of them. */
void cy_put_bases(struct cy_json *json, cy_basis basis);
/* Member "why": the places of the trace's steps; disposes of the trace. */
void cy_put_why(struct cy_json *json, struct cy_steps *steps, struct cy_trace *trace);

#endif
