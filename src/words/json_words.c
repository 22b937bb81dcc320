/* SPDX-License-Identifier: MIT
 * Members of an open JSON object, written the same way by all that the program says in JSON. */
#include "words/json_words.h"

#include <math.h>

void cy_put_text(struct cy_json *json, const char *key, const char *value)
{
    cy_json_key(json, key);
    cy_json_string(json, value && *value ? value : NULL);
}

void cy_put_number(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_number(json, value);
}

void cy_put_bool(struct cy_json *json, const char *key, bool value)
{
    cy_json_key(json, key);
    cy_json_bool(json, value);
}

void cy_put_day(struct cy_json *json, const char *key, double day)
{
    cy_json_key(json, key);
    cy_json_day(json, isnan(day) ? CY_DAY_NONE : (cy_day)floor(day + 0.5));
}

void cy_put_array(struct cy_json *json, const char *key)
{
    cy_json_key(json, key);
    cy_json_array(json);
}

void cy_put_object(struct cy_json *json, const char *key)
{
    cy_json_key(json, key);
    cy_json_object(json);
}

void cy_put_spread(struct cy_json *json, const struct cy_figure *figure, double factor)
{
    cy_put_number(json, "p10", figure->p10 * factor);
    cy_put_number(json, "p50", figure->p50 * factor);
    cy_put_number(json, "p90", figure->p90 * factor);
}

void cy_put_spread_of_days(struct cy_json *json, const struct cy_figure *day)
{
    cy_put_day(json, "p10", day->p10);
    cy_put_day(json, "p50", day->p50);
    cy_put_day(json, "p90", day->p90);
}

void cy_put_figure(struct cy_json *json, const char *key, const struct cy_figure *figure,
                   double factor)
{
    cy_put_object(json, key);
    cy_put_spread(json, figure, factor);
    cy_json_end_object(json);
}

void cy_put_basis(struct cy_json *json, cy_basis basis)
{
    cy_put_text(json, "basis", basis ? cy_basis_word(basis) : NULL);
}

void cy_put_bases(struct cy_json *json, cy_basis basis)
{
    cy_put_basis(json, basis);
    cy_put_array(json, "behind");
    for (int rank = 0; rank < CY_BASIS_COUNT; rank++)
        if (basis & (1u << rank))
            cy_json_string(json, cy_basis_word(1u << rank));
    cy_json_end_array(json);
}

void cy_put_why(struct cy_json *json, struct cy_steps *steps, struct cy_trace *trace)
{
    cy_steps_why(json, steps, trace);
    cy_trace_dispose(trace);
}
