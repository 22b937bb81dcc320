/* SPDX-License-Identifier: MIT
 * What this farm's own seasons say, as JSON: the value before and after, and the seasons behind
 * it. */
#include <caneyear/season/learn.h>

#include "words/json_words.h"
#include "words/words.h"

static void learned_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                         size_t index)
{
    const struct cy_learned *learned = &plan->learned[index];
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, learned->thing);
    struct cy_trace trace = {0};
    cy_json_object(json);
    cy_put_text(json, cy_kind_info(thing->kind)->word, thing->key);
    cy_put_text(json, "what", cy_learn_word(learned->what));
    cy_put_text(json, "unit", cy_quantity_inside(cy_learn_quantity(learned->what)));
    cy_put_number(json, "catalogue", learned->before.value);
    cy_put_text(json, "catalogue_basis", cy_basis_word(learned->before.basis));
    cy_put_number(json, "learned", learned->value.value);
    cy_put_basis(json, learned->value.basis);
    cy_put_number(json, "catalogue_counts", learned->before_weight);
    cy_put_number(json, "seasons_count", learned->weight);
    cy_put_number(json, "full_seasons", learned->full_seasons);
    cy_put_number(json, "own_spread_days", learned->error_d.value);
    cy_put_array(json, "seasons");
    for (int i = 0; i < learned->season_count; i++) {
        cy_json_object(json);
        cy_put_number(json, "year", learned->seasons[i].year);
        cy_put_number(json, "value", learned->seasons[i].value);
        cy_put_number(json, "counts", learned->seasons[i].weight);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_plan_why_learned(&trace, plan, index);
    cy_put_why(json, steps, &trace);
    cy_json_end_object(json);
}

void cy_learned_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan)
{
    cy_json_array(json);
    for (size_t i = 0; i < plan->learned_count; i++)
        learned_json(json, steps, plan, i);
    cy_json_end_array(json);
}
