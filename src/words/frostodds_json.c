/* SPDX-License-Identifier: MIT
 * As JSON: the odds of frost by date. */
#include <math.h>

#include "words/words.h"

static void number(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_number(json, value);
}

static void season_json(struct cy_json *json, struct cy_steps *steps,
                        const struct cy_frostodds *odds, int limit, enum cy_frost_season season)
{
    static const char *const levels[CY_FROSTODDS_LEVELS] = {"in_9_years_of_10", "in_5_of_10",
                                                            "in_1_of_10"};
    const struct cy_frostodds_season *one = &odds->limit[limit].season[season];
    struct cy_trace trace = {0};
    cy_json_key(json, season == CY_FROST_SPRING ? "last_of_spring" : "first_of_autumn");
    cy_json_object(json);
    number(json, "years", one->fit.years);
    number(json, "years_with_a_freeze", one->fit.frozen);
    cy_json_key(json, "by");
    cy_json_string(json, one->ranked ? "ranks" : "fit");
    for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
        cy_json_key(json, levels[level]);
        cy_json_day(json, one->day[level]);
    }
    cy_json_key(json, "basis");
    cy_json_string(json, cy_basis_word(odds->basis | odds->limit[limit].basis));
    cy_frostodds_why(&trace, odds, limit, season);
    cy_steps_why(json, steps, &trace);
    cy_trace_dispose(&trace);
    cy_json_end_object(json);
}

void cy_frostodds_json(struct cy_json *json, struct cy_steps *steps,
                       const struct cy_frostodds *odds)
{
    cy_json_object(json);
    cy_json_key(json, "from");
    cy_json_string(json, odds->made ? "weathers of the plan" : "years of the station");
    number(json, "first_year", odds->made ? NAN : odds->first_year);
    number(json, "last_year", odds->made ? NAN : odds->last_year);
    cy_json_key(json, "minima");
    cy_json_array(json);
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++) {
        cy_json_object(json);
        number(json, "minimum_c", odds->limit[limit].minimum_c);
        season_json(json, steps, odds, limit, CY_FROST_SPRING);
        season_json(json, steps, odds, limit, CY_FROST_AUTUMN);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}
