/* SPDX-License-Identifier: MIT
 * As JSON: the odds of frost by date. */
#include <math.h>

#include "words/json_words.h"
#include "words/words.h"

static void season_json(struct cy_json *json, struct cy_steps *steps,
                        const struct cy_frostodds *odds, int limit, enum cy_frost_season season)
{
    static const char *const levels[CY_FROSTODDS_LEVELS] = {"in_9_years_of_10", "in_5_of_10",
                                                            "in_1_of_10"};
    const struct cy_frostodds_season *one = &odds->limit[limit].season[season];
    struct cy_trace trace = {0};
    cy_put_object(json, season == CY_FROST_SPRING ? "last_of_spring" : "first_of_autumn");
    cy_put_number(json, "years", one->fit.years);
    cy_put_number(json, "years_with_a_freeze", one->fit.frozen);
    cy_put_text(json, "by", one->ranked ? "ranks" : "fit");
    for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
        cy_json_key(json, levels[level]);
        cy_json_day(json, one->day[level]);
    }
    cy_put_basis(json, odds->basis | odds->limit[limit].basis);
    cy_frostodds_why(&trace, odds, limit, season);
    cy_put_why(json, steps, &trace);
    cy_json_end_object(json);
}

void cy_frostodds_json(struct cy_json *json, struct cy_steps *steps,
                       const struct cy_frostodds *odds)
{
    cy_json_object(json);
    cy_put_text(json, "from", odds->made ? "weathers of the plan" : "years of the station");
    cy_put_number(json, "first_year", odds->made ? NAN : odds->first_year);
    cy_put_number(json, "last_year", odds->made ? NAN : odds->last_year);
    cy_put_array(json, "minima");
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++) {
        cy_json_object(json);
        cy_put_number(json, "minimum_c", odds->limit[limit].minimum_c);
        season_json(json, steps, odds, limit, CY_FROST_SPRING);
        season_json(json, steps, odds, limit, CY_FROST_AUTUMN);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}
