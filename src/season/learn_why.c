/* SPDX-License-Identifier: MIT
 * Why a value is what this farm's seasons made of it. */
#include <math.h>

#include <caneyear/season/learn.h>

#include "season/plan_parts.h"

static void add_season(struct cy_trace *trace, const struct cy_learned *learned,
                       const struct cy_learn_season *season)
{
    bool nights = learned->what == CY_LEARN_COLDER;
    struct cy_text name = {0};
    cy_text_add(&name, "season ");
    cy_text_add_int(&name, season->year);
    cy_text_add(&name, nights ? ", nights compared " : ", counts as ");
    cy_text_add_fixed(&name, season->weight, nights ? 0 : 2);
    cy_trace_number(trace, cy_text_get(&name), season->value, cy_learn_quantity(learned->what),
                    CY_BASIS_OBSERVED, "");
    cy_text_dispose(&name);
}

bool cy_plan_why_learned(struct cy_trace *trace, const struct cy_plan *plan, size_t index)
{
    if (index >= plan->learned_count)
        return false;
    const struct cy_learned *learned = &plan->learned[index];
    enum cy_quantity quantity = cy_learn_quantity(learned->what);
    bool nights = learned->what == CY_LEARN_COLDER;
    struct cy_text what = {0};
    cy_text_add(&what, cy_thing_name(cy_farm_by_id(&plan->farm, learned->thing)));
    cy_text_add(&what, ": ");
    cy_text_add(&what, cy_learn_word(learned->what));
    cy_trace_begin(trace, cy_text_get(&what),
                   nights ? "(nights that the value before counts as x value before + sum of "
                            "station's minimum - row's) / (those nights + nights compared)"
                          : "(seasons that the value before counts as x value before + sum of each "
                            "season's value x what it counts) / (sum of what they count); a "
                            "season's value is what would have given the day that was seen, in "
                            "that season's weather, or in the usual one where it is not known",
                   "shrinkage of a normal mean, any textbook of Bayesian statistics; what a "
                   "season counts is ours");
    cy_trace_number(trace, "value before", learned->before.value, quantity, learned->before.basis,
                    learned->before.source);
    cy_trace_number(trace, nights ? "it counts as nights" : "it counts as seasons",
                    learned->before_weight, CY_Q_NUMBER, CY_BASIS_PLACEHOLDER, "");
    for (int i = 0; i < learned->season_count; i++)
        add_season(trace, learned, &learned->seasons[i]);
    if (!isnan(learned->error_d.value))
        cy_trace_number(trace, "error of the next date, five seasons or more behind it",
                        learned->error_d.value, CY_Q_DAYS, learned->error_d.basis,
                        learned->error_d.source);
    cy_trace_result(trace, learned->value.value, quantity, learned->value.basis);
    cy_text_dispose(&what);
    return true;
}

/* What was seen of these canes stands in for what other seasons taught. */
static unsigned seen_instead(const struct cy_plan_cohort *canes)
{
    unsigned bits = 0;
    if (canes->seen[CY_STAGE_EMERGENCE])
        bits |= 1u << CY_LEARN_EMERGE_HEAT;
    if (canes->seen[CY_STAGE_AUTUMN_BLOOM])
        bits |= 1u << CY_LEARN_EMERGE_HEAT | 1u << CY_LEARN_AUTUMN_HEAT;
    if (canes->seen[CY_STAGE_BLOOM])
        bits |= 1u << CY_LEARN_BLOOM_HEAT;
    return bits;
}

/* What a stage's date rests on, as bits of enum cy_learn. */
static unsigned behind(enum cy_stage stage)
{
    const unsigned emergence = 1u << CY_LEARN_EMERGE_HEAT;
    const unsigned autumn = emergence | 1u << CY_LEARN_AUTUMN_HEAT;
    const unsigned bloom = 1u << CY_LEARN_BLOOM_HEAT | 1u << CY_LEARN_COLDER;
    switch (stage) {
    case CY_STAGE_EMERGENCE:
        return emergence;
    case CY_STAGE_TIP:
    case CY_STAGE_LATERALS:
        return emergence | 1u << CY_LEARN_GROWTH;
    case CY_STAGE_AUTUMN_BLOOM:
        return autumn | 1u << CY_LEARN_COLDER;
    case CY_STAGE_AUTUMN_FIRST_PICK:
    case CY_STAGE_AUTUMN_PEAK_PICK:
    case CY_STAGE_AUTUMN_LAST_PICK:
        return autumn | 1u << CY_LEARN_AUTUMN_TO_PEAK | 1u << CY_LEARN_COLDER;
    case CY_STAGE_DORMANT:
        return 1u << CY_LEARN_COLDER;
    case CY_STAGE_CHILL_MET:
        return 0;
    case CY_STAGE_BUD_BREAK:
        return bloom | 1u << CY_LEARN_BUD_BREAK_SHARE;
    case CY_STAGE_BLOOM:
        return bloom;
    default:
        return bloom | 1u << CY_LEARN_BLOOM_TO_PEAK;
    }
}

void cy_why_learned_behind(struct cy_trace *trace, const struct cy_plan *plan,
                           const struct cy_row_facts *facts, const struct cy_plan_cohort *canes,
                           enum cy_stage stage)
{
    unsigned wanted = canes->seen[stage] ? 0 : behind(stage) & ~seen_instead(canes);
    for (size_t i = 0; i < plan->learned_count; i++) {
        const struct cy_learned *learned = &plan->learned[i];
        bool here = learned->thing == facts->row->id ||
                    (facts->cultivar && learned->thing == facts->cultivar->id);
        if (here && wanted & 1u << learned->what)
            cy_plan_why_learned(trace, plan, i);
    }
}
