/* SPDX-License-Identifier: MIT
 * Why a figure of the plan is what it is: inputs, formulas, sources. */
#include "season/water_parts.h"

#include <math.h>

#include <caneyear/crop/calendar.h>
#include <caneyear/crop/late.h>
#include <caneyear/season/trellis.h>

void cy_why_trait(struct cy_trace *trace, const char *name, const struct cy_trait *trait,
                  enum cy_quantity quantity)
{
    if (!isnan(trait->value))
        cy_trace_number(trace, name, trait->value, quantity, trait->basis, trait->source);
}

void cy_why_given(struct cy_trace *trace, const char *name, const struct cy_thing *thing,
                  enum cy_field field)
{
    struct cy_given given = cy_given(thing, field);
    if (given.known)
        cy_trace_number(trace, name, given.number, cy_field_info(field)->quantity, given.basis,
                        given.source);
}

void cy_why_value(struct cy_trace *trace, const char *name, const struct cy_given *value,
                  enum cy_quantity quantity)
{
    cy_trace_number(trace, name, value->number, quantity, value->basis, value->source);
}

void cy_why_constant(struct cy_trace *trace, enum cy_life_constant_id id)
{
    const struct cy_life_constant *fact = cy_life_constant(id);
    cy_trace_number(trace, fact->name, fact->value, fact->quantity, fact->basis, fact->source);
}

/* The middle of a stage's date as the result of the step begun last. */
static void figure_result(struct cy_trace *trace, const struct cy_figure *figure)
{
    char p50[CY_DAY_TEXT], p10[CY_DAY_TEXT], p90[CY_DAY_TEXT];
    struct cy_text text = {0};
    if (isnan(figure->p50)) {
        cy_trace_result_text(trace, "never", figure->basis);
        return;
    }
    cy_text_add(&text, cy_day_print(p50, (cy_day)floor(figure->p50 + 0.5)));
    cy_text_add(&text, ", between ");
    cy_text_add(&text, cy_day_print(p10, (cy_day)floor(figure->p10 + 0.5)));
    cy_text_add(&text, " and ");
    cy_text_add(&text, cy_day_print(p90, (cy_day)floor(figure->p90 + 0.5)));
    cy_text_add(&text, " in 8 years of 10");
    cy_trace_result_text(trace, cy_text_get(&text), figure->basis);
    cy_text_dispose(&text);
}

static void date_result(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                        enum cy_stage stage)
{
    figure_result(trace, &cohort->stage[stage]);
}

static void count(struct cy_text *text, int number, const char *what)
{
    cy_text_add(text, text->length ? ", " : "");
    cy_text_add_int(text, number);
    cy_text_add(text, what);
}

void cy_why_weather(struct cy_trace *trace, const struct cy_plan *plan)
{
    const struct cy_thing *place = cy_farm_place(&plan->farm);
    const struct cy_thing *month = cy_farm_next(&plan->farm, CY_KIND_MONTH, place->id, NULL);
    struct cy_given low = cy_given(month, CY_MONTH_LOW);
    struct cy_given own = cy_given(cy_farm_one(&plan->farm, CY_KIND_SITE), CY_SITE_LATITUDE);
    struct cy_text text = {0};
    cy_trace_begin(trace, "the weathers",
                   "observed days to today, then past years of the station, then years made by a "
                   "wet-and-dry-day chain with temperatures that persist; hourly temperatures "
                   "from each day's minimum and maximum, sine by day, logarithm by night",
                   "hourly rebuild: Linvill, HortScience 25(1):14-16, 1990, night joined");
    cy_trace_text(trace, "monthly normals of", cy_thing_name(place), low.basis, low.source);
    cy_trace_number(trace, "latitude", plan->latitude_deg, CY_Q_ANGLE,
                    own.known ? own.basis : cy_given(place, CY_PLACE_LATITUDE).basis, "");
    count(&text, plan->past_years, " past years");
    count(&text, plan->made_years, " made years");
    count(&text, plan->observed_days, " observed days");
    cy_trace_result_text(trace, cy_text_get(&text), cy_plan_weather_basis(plan));
    cy_text_dispose(&text);
}

static void why_emergence(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                          const struct cy_row_facts *facts)
{
    cy_trace_begin(trace, "emergence",
                   "the first day on which the degree hours since midwinter, base 6 C and optimum "
                   "25 C, reach the need; not before the plants have rooted",
                   "");
    cy_why_trait(trace, "heat until half of the canes are up", &facts->traits.emerge_heat_kh,
                 CY_Q_DEGREE_HOURS);
    if (cohort->year == facts->planted_season) {
        cy_trace_day(trace, "planted on", facts->planted,
                     cy_given(facts->row, CY_ROW_PLANTED).basis, "");
        cy_why_constant(trace, CY_LIFE_ROOTING_DAYS);
    }
    date_result(trace, cohort, CY_STAGE_EMERGENCE);
}

/* What a tip two weeks late costs canes that fruit in their first year. */
static void why_late(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                     const struct cy_plan *plan)
{
    const struct cy_late_loss *late = &cohort->late;
    cy_basis weather = cy_plan_weather_basis(plan) | cohort->stage[CY_STAGE_TIP].basis |
                       cohort->stage[CY_STAGE_AUTUMN_PEAK_PICK].basis;
    if (isnan(late->fails))
        return;
    cy_trace_begin(trace, "what tipping two weeks late costs",
                   "flower shoots fall straight to 1 / 1.64 over 46 days, a cane tipped late being "
                   "taken for one that emerged late; cut back hard, the autumn crop ripens 12 / 7 "
                   "days later for each day late, against the same freezes",
                   "64 % more flower shoots on canes of April than of after May: Agronomy "
                   "10(11):1737, 2020; 10 to 14 days later for a week: tipping and hedging in a "
                   "tunnel, HortScience 2012");
    cy_trace_number(trace, "days late", CY_PLAN_LATE_DAYS, CY_Q_DAYS, CY_BASIS_NONE, "");
    cy_trace_number(trace, "flower shoots left", cy_late_shoots(CY_PLAN_LATE_DAYS), CY_Q_SHARE,
                    CY_BASIS_PUBLISHED | CY_BASIS_FITTED, "");
    cy_trace_number(trace, "years without an autumn crop, tipped in time", late->fails_timely,
                    CY_Q_SHARE, weather, "");
    cy_trace_number(trace, "years without one, tipped late", late->fails, CY_Q_SHARE,
                    weather | CY_BASIS_FITTED, "");
    if (!isnan(late->left))
        cy_trace_number(trace, "weight that still ripens, of that in time", late->left, CY_Q_SHARE,
                        weather | CY_BASIS_FITTED, "");
    cy_trace_result(trace, late->fails - late->fails_timely, CY_Q_SHARE, weather | CY_BASIS_FITTED);
}

static void why_tip(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                    const struct cy_row_facts *facts, const struct cy_sightings *seen)
{
    const struct cy_traits *traits = &facts->traits;
    bool heat = traits->growth_follows == CY_GROWTH_HEAT;
    cy_trace_begin(trace, "first tip",
                   heat ? "the day on which the degree hours since emergence reach tip height / "
                          "growth rate x those of a day at a steady 20 C; or, once a height is "
                          "seen, those since its day (tip height - height) / growth rate x them"
                        : "day of emergence + tip height / growth rate; or, once a height is seen, "
                          "its day + (tip height - height) / growth rate",
                   "");
    if (heat)
        cy_trace_number(trace, "degree hours of a day at 20 C", CY_LIFE_GROWTH_DAY_KH,
                        CY_Q_DEGREE_HOURS, CY_BASIS_PLACEHOLDER, "");
    cy_why_trait(trace, "tip height", &traits->tip_height_m, CY_Q_LENGTH);
    cy_why_trait(trace, "growth rate", &cohort->growth_m_d, CY_Q_GROWTH);
    if (seen->height_day != CY_DAY_NONE) {
        cy_trace_number(trace, "height seen", seen->height_m, CY_Q_LENGTH, CY_BASIS_OBSERVED, "");
        cy_trace_day(trace, "on", seen->height_day, CY_BASIS_OBSERVED, "");
    }
    date_result(trace, cohort, CY_STAGE_TIP);
}

static void why_laterals(struct cy_trace *trace, const struct cy_plan_cohort *cohort)
{
    cy_trace_begin(trace, "laterals", "day of the first tip + days until laterals grow", "");
    cy_why_constant(trace, CY_LIFE_LATERAL_DAYS);
    date_result(trace, cohort, CY_STAGE_LATERALS);
}

static void why_autumn_bloom(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                             const struct cy_row_facts *facts)
{
    cy_trace_begin(trace, "autumn bloom",
                   "the first day on which the degree hours since emergence, base 6 C and optimum "
                   "25 C, reach the need, moved by the model's own error; never where a killing "
                   "freeze comes first",
                   "base and optimum: Black et al., HortScience 43(7):2000-2004, 2008");
    cy_why_trait(trace, "heat to half bloom", &facts->traits.autumn_heat_kh, CY_Q_DEGREE_HOURS);
    cy_why_trait(trace, "error of the bloom date", &facts->traits.autumn_bloom_error_d, CY_Q_DAYS);
    cy_why_constant(trace, CY_LIFE_FLOWER_KILL);
    date_result(trace, cohort, CY_STAGE_AUTUMN_BLOOM);
}

static void why_chill(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                      const struct cy_row_facts *facts)
{
    cy_trace_begin(trace, "chill met",
                   "the day on which the chill counted since leaf fall, by the rule of whoever "
                   "published the need, reaches it (blackberry units from the first freeze); never "
                   "where half a year does not",
                   "");
    if (cohort->chill_known) {
        struct cy_given rule = cy_given(facts->cultivar, CY_CULTIVAR_CHILL_RULE);
        cy_why_trait(trace, "chill need", &facts->traits.chill_need, CY_Q_NUMBER);
        cy_trace_text(trace, "counted as",
                      cy_field_info(CY_CULTIVAR_CHILL_RULE)->choices[facts->traits.chill_rule],
                      rule.basis, rule.source);
        if (!isnan(cohort->chill_met))
            cy_trace_number(trace, "years in which it is met", cohort->chill_met, CY_Q_SHARE,
                            cohort->stage[CY_STAGE_CHILL_MET].basis, "");
    } else {
        cy_trace_text(trace, "chill need", "none published or typed: no verdict", CY_BASIS_NONE,
                      "");
    }
    date_result(trace, cohort, CY_STAGE_CHILL_MET);
}

static void why_bloom(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                      const struct cy_row_facts *facts, const struct cy_sightings *seen,
                      enum cy_stage stage)
{
    bool broken = stage == CY_STAGE_BUD_BREAK;
    cy_day buds = seen->stage[CY_STAGE_BUD_BREAK];
    cy_trace_begin(trace, cy_stage_word(stage),
                   broken ? "as bloom, at the share of its heat at which buds break"
                          : "the first day on which the degree hours since midwinter, or since "
                            "chill was met where that is later, reach the need; base 6 C, optimum "
                            "25 C, straight between; once bud break is seen, the rest of the need "
                            "from there; moved by the model's own error",
                   "base and optimum: Black et al., HortScience 43(7):2000-2004, 2008; the start "
                   "of the sum is ours");
    cy_why_trait(trace, "heat to half bloom", &facts->traits.bloom_heat_kh, CY_Q_DEGREE_HOURS);
    if (broken || buds != CY_DAY_NONE)
        cy_why_trait(trace, "share at bud break", &facts->traits.bud_break_share, CY_Q_SHARE);
    if (buds != CY_DAY_NONE)
        cy_trace_day(trace, "bud break seen", buds, CY_BASIS_OBSERVED, "");
    cy_why_trait(trace, "error of the bloom date", &facts->traits.bloom_error_d, CY_Q_DAYS);
    date_result(trace, cohort, stage);
}

/* What the cold leaves of the crop: its buds in winter, then their flowers. */
static void why_winter(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                       const struct cy_row_facts *facts, const struct cy_sightings *seen)
{
    const struct cy_traits *traits = &facts->traits;
    struct cy_text text = {0};
    cy_trace_begin(trace, "buds left after the winter",
                   "in each weather the night that comes nearest to what kills half of the first "
                   "buds, or goes furthest below it: 1 - 1 / (1 + exp((night - T50) / 2.18 K)); "
                   "T50 is straight between its days, level before and behind them; a night at "
                   "the limit of the canes kills them; the mean over the weathers",
                   "T50 and late winter's loss: Warmund, Journal of the American Pomological "
                   "Society, January 2024; the width and the course are fitted here");
    for (size_t i = 0; i < traits->buds.count; i++) {
        cy_text_dispose(&text);
        cy_text_add_int(&text, traits->buds.turns[i].day);
        cy_text_add(&text, " days from midwinter, half die at");
        cy_trace_number(trace, cy_text_get(&text), traits->buds.turns[i].t50_c, CY_Q_TEMPERATURE,
                        traits->buds.basis, "");
    }
    cy_text_dispose(&text);
    cy_why_trait(trace, "limit of the canes", &traits->winter_limit, CY_Q_TEMPERATURE);
    if (traits->buds.count == 0 && isnan(traits->winter_limit.value))
        cy_trace_text(trace, "hardiness", "none published or typed: no loss is assumed",
                      CY_BASIS_NONE, "");
    cy_trace_number(trace, "nights colder than the station's", traits->colder_k,
                    CY_Q_TEMPERATURE_RISE, cy_given(facts->row, CY_ROW_COLDER).basis, "");
    if (seen->killed_day != CY_DAY_NONE) {
        cy_trace_number(trace, "killed, as counted", seen->killed, CY_Q_SHARE, CY_BASIS_OBSERVED,
                        "");
        cy_trace_day(trace, "on", seen->killed_day, CY_BASIS_OBSERVED, "");
    }
    if (isnan(cohort->cold.buds))
        cy_trace_result_text(trace, "all, for want of a figure", CY_BASIS_PLACEHOLDER);
    else
        cy_trace_result(trace, cohort->cold.buds, CY_Q_SHARE, cohort->stage[CY_STAGE_BLOOM].basis);
}

static void why_flowers(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                        const struct cy_row_facts *facts)
{
    if (isnan(cohort->cold.flowers))
        return;
    cy_trace_begin(trace, "flowers left after spring",
                   "flowers open as a normal curve around half bloom, the first half the length of "
                   "picking before it, and all that are not open yet are tight buds from then on; "
                   "the coldest night that a flower meets kills 1 / (1 + exp((night + 2.5) / s)), "
                   "where 9.19 s is 1.6 K for tight buds and 0.3 K for open flowers; what has set "
                   "stands; second buds bear in place of the dead, later; under 5 % left counts "
                   "as no crop; the mean over the weathers",
                   "spans: Illini Hardy, Warmund and others, Fruit Varieties Journal 47(3), 1993");
    cy_why_constant(trace, CY_LIFE_FLOWER_KILL);
    cy_why_constant(trace, CY_LIFE_FLOWER_OPEN);
    cy_why_trait(trace, "what second buds bear in place of dead ones", &facts->traits.second_share,
                 CY_Q_SHARE);
    cy_why_constant(trace, CY_LIFE_SECOND_BUDS_LATE);
    cy_trace_result(trace, cohort->cold.flowers, CY_Q_SHARE,
                    cohort->stage[CY_STAGE_BLOOM].basis | CY_BASIS_MEMORY);
}

/* What was seen of a crop's picking and moves its peak. */
static void seen_picking(struct cy_trace *trace, const struct cy_sightings *seen,
                         enum cy_stage first)
{
    static const char *const names[] = {"first pick seen", "peak seen", "last pick seen"};
    for (int i = 0; i < 3; i++)
        if (seen->stage[first + i] != CY_DAY_NONE)
            cy_trace_day(trace, names[i], seen->stage[first + i], CY_BASIS_OBSERVED, "");
}

static void why_picking(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                        const struct cy_row_facts *facts, const struct cy_sightings *seen,
                        enum cy_stage stage)
{
    bool autumn = stage <= CY_STAGE_AUTUMN_LAST_PICK;
    const struct cy_traits *traits = &facts->traits;
    cy_trace_begin(trace, cy_stage_word(stage),
                   autumn
                       ? "the crop's weight ripens as a normal curve around the peak, half bloom "
                         "+ days to peak, moved by the model's own error, or by what was seen "
                         "of the picking; first, peak and last pick are its 5, 50 and 95 % "
                         "days, so the season is 3.29 deviations long; the first killing freeze "
                         "of the autumn cuts it off"
                       : "the crop's weight ripens as a normal curve around the peak, half bloom "
                         "+ days to peak, moved by the model's own error, or by what was seen "
                         "of the picking; first, peak and last pick are its 5, 50 and 95 % "
                         "days, so the season is 3.29 deviations long, or those of what the cold "
                         "left; never where less than 5 % is left of first and second buds' "
                         "crops; canes are spent the day after the last pick",
                   "5, 50 and 95 %: NC State caneberry post, 8 May 2013");
    cy_why_trait(trace, "days from half bloom to peak",
                 autumn ? &traits->autumn_bloom_to_peak_d : &traits->bloom_to_peak_d, CY_Q_DAYS);
    cy_why_trait(trace, "days from first to last pick",
                 autumn ? &traits->autumn_length_d : &traits->pick_length_d, CY_Q_DAYS);
    seen_picking(trace, seen, autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK);
    cy_why_trait(trace, "error of the days from bloom to ripe", &traits->ripen_error_d, CY_Q_DAYS);
    if (autumn)
        cy_why_constant(trace, CY_LIFE_FLOWER_KILL);
    date_result(trace, cohort, stage);
}

static void why_black(struct cy_trace *trace, const struct cy_figure *figure,
                      const struct cy_traits *traits, bool dull)
{
    cy_trace_begin(trace, dull ? "dull black, fully ripe" : "glossy black",
                   dull ? "half bloom + days to glossy black + days to dull black; the spreads of "
                          "bloom and of ripening added as the root of their squares"
                        : "half bloom + days to glossy black; the spreads of bloom and of ripening "
                          "added as the root of their squares",
                   "days by habit: Vance et al., J. Amer. Pomol. Soc. 73(4):227-239, 2019");
    cy_why_trait(trace, "days from an open flower to glossy black", &traits->glossy_d, CY_Q_DAYS);
    if (dull)
        cy_why_trait(trace, "days from glossy to dull black", &traits->dull_d, CY_Q_DAYS);
    cy_why_trait(trace, "error of the days from bloom to ripe", &traits->ripen_error_d, CY_Q_DAYS);
    figure_result(trace, figure);
}

static void why_dormant(struct cy_trace *trace, const struct cy_plan_cohort *cohort)
{
    cy_trace_begin(trace, "dormant",
                   "the first freeze of the autumn, or 45 days after nominal leaf fall where none "
                   "comes",
                   "");
    cy_why_constant(trace, CY_LIFE_FIRST_FREEZE);
    date_result(trace, cohort, CY_STAGE_DORMANT);
}

static void why_seen(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                     const struct cy_sightings *seen, enum cy_stage stage)
{
    bool guessed = stage == CY_STAGE_BLOOM && seen->half_bloom_guessed;
    cy_trace_begin(trace, cy_stage_word(stage),
                   guessed ? "first bloom as noted in the field + days to half bloom"
                           : "as noted in the field",
                   "");
    cy_trace_day(trace, "noted for", seen->stage[stage], CY_BASIS_OBSERVED, "");
    if (guessed)
        cy_why_constant(trace, CY_LIFE_FIRST_TO_HALF_BLOOM);
    date_result(trace, cohort, stage);
}

/* A stage's own step, and before it those that it rests on. */
static void why(struct cy_trace *trace, const struct cy_plan_cohort *cohort,
                const struct cy_row_facts *facts, const struct cy_sightings *seen,
                enum cy_stage stage)
{
    if (cohort->seen[stage]) {
        why_seen(trace, cohort, seen, stage);
        return;
    }
    switch (stage) {
    case CY_STAGE_EMERGENCE:
        why_emergence(trace, cohort, facts);
        break;
    case CY_STAGE_TIP:
        why(trace, cohort, facts, seen, CY_STAGE_EMERGENCE);
        why_tip(trace, cohort, facts, seen);
        break;
    case CY_STAGE_LATERALS:
        why(trace, cohort, facts, seen, CY_STAGE_TIP);
        why_laterals(trace, cohort);
        break;
    case CY_STAGE_AUTUMN_BLOOM:
        why(trace, cohort, facts, seen, CY_STAGE_EMERGENCE);
        why_autumn_bloom(trace, cohort, facts);
        break;
    case CY_STAGE_AUTUMN_FIRST_PICK:
    case CY_STAGE_AUTUMN_PEAK_PICK:
    case CY_STAGE_AUTUMN_LAST_PICK:
        why(trace, cohort, facts, seen, CY_STAGE_AUTUMN_BLOOM);
        why_picking(trace, cohort, facts, seen, stage);
        break;
    case CY_STAGE_DORMANT:
        why_dormant(trace, cohort);
        break;
    case CY_STAGE_CHILL_MET:
        why_chill(trace, cohort, facts);
        break;
    case CY_STAGE_BUD_BREAK:
    case CY_STAGE_BLOOM:
        if (seen->stage[CY_STAGE_BUD_BREAK] == CY_DAY_NONE)
            why_chill(trace, cohort, facts);
        why_winter(trace, cohort, facts, seen);
        why_bloom(trace, cohort, facts, seen, stage);
        break;
    default:
        why(trace, cohort, facts, seen, CY_STAGE_BLOOM);
        if (cohort->seen[CY_STAGE_BLOOM])
            why_winter(trace, cohort, facts, seen);
        why_flowers(trace, cohort, facts);
        why_picking(trace, cohort, facts, seen, stage);
        break;
    }
}

bool cy_plan_why_stage(struct cy_trace *trace, const struct cy_plan *plan, size_t row,
                       size_t cohort, enum cy_stage stage)
{
    if (row >= plan->row_count || cohort >= (size_t)plan->rows[row].cohort_count ||
        (unsigned)stage >= CY_STAGE_COUNT)
        return false;
    const struct cy_plan_cohort *canes = &plan->rows[row].cohorts[cohort];
    if (canes->never[stage] == CY_DOES_NOT_APPLY && isnan(canes->stage[stage].p50))
        return false;
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, plan->rows[row].thing);
    static const struct cy_records none;
    struct cy_row_facts facts;
    struct cy_sightings seen;
    cy_plan_facts_of(&facts, plan, thing);
    cy_row_sightings(&seen, plan->seen ? plan->seen : &none, &facts, canes->year, plan->today);
    cy_why_weather(trace, plan);
    cy_why_learned_behind(trace, plan, &facts, canes, stage);
    if (stage == CY_STAGE_TIP)
        why_late(trace, canes, plan);
    why(trace, canes, &facts, &seen, stage);
    return true;
}

bool cy_plan_why_black(struct cy_trace *trace, const struct cy_plan *plan, size_t row,
                       size_t cohort, bool dull)
{
    struct cy_row_facts facts;
    if (!cy_plan_why_stage(trace, plan, row, cohort, CY_STAGE_BLOOM))
        return false;
    const struct cy_plan_cohort *canes = &plan->rows[row].cohorts[cohort];
    if (isnan(canes->glossy.p50))
        return false;
    cy_plan_facts_of(&facts, plan, cy_farm_by_id(&plan->farm, plan->rows[row].thing));
    why_black(trace, dull ? &canes->dull : &canes->glossy, &facts.traits, dull);
    return true;
}

/* ---- jobs ----------------------------------------------------------------------------------- */

static void why_hours(struct cy_trace *trace, const struct cy_plan *plan,
                      const struct cy_plan_job *job)
{
    const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
    const struct cy_thing *row = cy_farm_by_id(&plan->farm, job->row);
    struct cy_given rate = cy_given(kind, CY_JOB_RATE), fixed = cy_given(kind, CY_JOB_FIXED);
    struct cy_given length = cy_given(row, CY_ROW_LENGTH);
    if (isnan(job->hours))
        return;
    cy_trace_begin(trace, "hours of work", "row length x rate + hours for the whole job", "");
    cy_trace_number(trace, "row length", length.number, CY_Q_LENGTH, length.basis, length.source);
    if (rate.known)
        cy_trace_number(trace, "rate", rate.number, CY_Q_HOURS_PER_LENGTH, rate.basis, rate.source);
    if (fixed.known)
        cy_trace_number(trace, "for the whole job", fixed.number, CY_Q_HOURS, fixed.basis,
                        fixed.source);
    cy_trace_result(trace, job->hours, CY_Q_HOURS, rate.basis | fixed.basis | length.basis);
}

/* A date of the year as it is written: "10-01". */
static void year_day(struct cy_trace *trace, const char *name, const struct cy_thing *thing,
                     enum cy_field field)
{
    struct cy_given given = cy_given(thing, field);
    struct cy_text text = {0};
    struct cy_value value = {.set = given.known, .number = given.number};
    if (!given.known)
        return;
    cy_value_print(&text, field, &value, CY_US);
    cy_trace_text(trace, name, cy_text_get(&text), given.basis, given.source);
    cy_text_dispose(&text);
}

/* The day that a moment stands for, where it is none of the canes' stages. */
static void why_moment(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_thing *kind, const struct cy_thing *row,
                       enum cy_moment moment, bool opening)
{
    static const enum cy_field windows[] = {CY_PRACTICE_SPENT_FROM, CY_PRACTICE_SPENT_TO,
                                            CY_PRACTICE_THIN_FROM, CY_PRACTICE_THIN_TO};
    struct cy_given planted = cy_given(row, CY_ROW_PLANTED);
    if (moment == CY_MOMENT_PLANTING && opening)
        cy_trace_day(trace, "planting", cy_date(row, CY_ROW_PLANTED), planted.basis,
                     planted.source);
    else if (moment == CY_MOMENT_DATE)
        year_day(trace, opening ? "from" : "to", kind, opening ? CY_JOB_FROM_DATE : CY_JOB_TO_DATE);
    else if (moment >= CY_MOMENT_SPENT_FROM && moment <= CY_MOMENT_THIN_TO)
        year_day(trace, opening ? "from" : "to", cy_referred(&plan->farm, row, CY_ROW_PRACTICE),
                 windows[moment - CY_MOMENT_SPENT_FROM]);
}

/* What opens the window, or what closes it. */
static void why_edge(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_plan_job *job, bool opening)
{
    const struct cy_thing *kind = cy_farm_by_id(&plan->farm, job->kind);
    const struct cy_thing *row = cy_farm_by_id(&plan->farm, job->row);
    enum cy_field field = opening ? CY_JOB_FROM : CY_JOB_TO;
    struct cy_given moment = cy_given(kind, field);
    struct cy_given days = cy_given(kind, opening ? CY_JOB_FROM_DAYS : CY_JOB_TO_DAYS);
    if (!moment.known)
        return;
    cy_trace_text(trace, opening ? "opens with" : "closes with",
                  cy_field_info(field)->choices[(int)moment.number], moment.basis, moment.source);
    why_moment(trace, plan, kind, row, (enum cy_moment)moment.number, opening);
    if (days.number != 0)
        cy_trace_number(trace, "days added", days.number, CY_Q_DAYS, days.basis, days.source);
}

static void why_rounds(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_plan_job *job)
{
    const struct cy_thing *row = cy_farm_by_id(&plan->farm, job->row);
    struct cy_given every = cy_given(cy_farm_by_id(&plan->farm, job->kind), CY_JOB_EVERY);
    if (job->reason.kind == CY_REASON_PICKING && !every.is_set)
        every = cy_given(cy_referred(&plan->farm, row, CY_ROW_PRACTICE), CY_PRACTICE_PICK_EVERY);
    if (every.number > 0) {
        cy_trace_number(trace, "days between rounds", every.number, CY_Q_DAYS, every.basis,
                        every.source);
        cy_trace_number(trace, "round", job->round, CY_Q_NUMBER, CY_BASIS_NONE, "");
    }
}

static void why_window(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_plan_job *job)
{
    char day[CY_DAY_TEXT];
    struct cy_text text = {0};
    cy_trace_begin(trace, "the job's window",
                   "the moments that the kind of work names, with its days added: where a moment "
                   "is a stage, its 10th percentile opens and its 90th closes; rounds run from "
                   "median to median; nothing before planting",
                   "share/jobs.yaml");
    why_edge(trace, plan, job, true);
    why_edge(trace, plan, job, false);
    why_rounds(trace, plan, job);
    cy_text_add(&text, cy_day_print(day, job->from));
    cy_text_add(&text, " to ");
    cy_text_add(&text, cy_day_print(day, job->to));
    cy_trace_result_text(trace, cy_text_get(&text), job->basis);
    cy_text_dispose(&text);
}

static void why_passes(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_plan_job *job)
{
    const struct cy_thing *row = cy_farm_by_id(&plan->farm, job->row);
    struct cy_row_facts facts;
    cy_plan_facts_of(&facts, plan, row);
    struct cy_given ceiling = cy_given(facts.practice, CY_PRACTICE_TIP_CEILING);
    struct cy_given bound = cy_given(facts.practice, CY_PRACTICE_TIP_MISSED);
    struct cy_given cutoff = cy_given(facts.practice, CY_PRACTICE_TIP_CUTOFF);
    cy_trace_begin(trace, "passes",
                   "emergence is normal; a cane is caught by a pass between its day at the height "
                   "and its day at the ceiling; the fewest passes, no further apart than (ceiling "
                   "- height) / growth rate, that miss no more than the bound, evenly at both "
                   "ends; none after the last day: the grower's, else the day by which one autumn "
                   "in ten has frozen",
                   "geometry, ours");
    cy_why_trait(trace, "tip height", &facts.traits.tip_height_m, CY_Q_LENGTH);
    cy_trace_number(trace, "ceiling", ceiling.number, CY_Q_LENGTH, ceiling.basis, ceiling.source);
    cy_why_trait(trace, "growth rate",
                 &cy_plan_cohort_of(&plan->rows[job->row_place], plan->season)->growth_m_d,
                 CY_Q_GROWTH);
    cy_why_trait(trace, "deviation of emergence", &facts.traits.emerge_spread_d, CY_Q_DAYS);
    cy_trace_number(trace, "bound", bound.number, CY_Q_SHARE, bound.basis, bound.source);
    if (cutoff.is_set)
        cy_trace_day(trace, "last day",
                     cy_season_day(plan->latitude_deg, plan->season, (int)cutoff.number,
                                   cutoff.basis != CY_BASIS_GROWER),
                     cutoff.basis, cutoff.source);
    cy_trace_number(trace, "passes", job->reason.rounds, CY_Q_NUMBER, job->basis, "");
    cy_trace_result(trace, job->reason.share, CY_Q_SHARE, job->basis);
}

static void why_dry(struct cy_trace *trace, const struct cy_plan *plan,
                    const struct cy_plan_job *job)
{
    cy_trace_begin(trace, "water missing in the week",
                   "an inch - rain of the week and what the soil still holds of earlier rain, not "
                   "below 0; the median over the weathers; planned where it is a tenth of an inch "
                   "or more; a storm counts only as far as the soil holds it",
                   "University of Kentucky slides: an inch of water a week");
    cy_trace_number(trace, "rain that leaves the week short, share of the weathers",
                    job->reason.share, CY_Q_SHARE, cy_plan_weather_basis(plan), "");
    cy_basis soil;
    double storage_mm = cy_thirst_storage_mm(&soil, &plan->farm);
    cy_trace_number(trace, "water that the soil holds for young roots", storage_mm,
                    CY_Q_DEPTH_OF_WATER, soil, "");
    cy_trace_result(trace, job->reason.figure.p50, CY_Q_DEPTH_OF_WATER,
                    CY_BASIS_PUBLISHED | soil | cy_plan_weather_basis(plan));
}

/* The cohort of a row whose stage brings the job on, as an index; -1 where none does. */
static int cohort_behind(const struct cy_plan *plan, const struct cy_plan_row *row,
                         const struct cy_plan_job *job)
{
    bool staged = job->reason.kind == CY_REASON_TIP || job->reason.kind == CY_REASON_STAGE ||
                  job->reason.kind == CY_REASON_PICKING || job->reason.kind == CY_REASON_LATERALS;
    int year = job->reason.stage <= CY_STAGE_DORMANT ? plan->season : plan->season - 1;
    for (int i = 0; staged && i < row->cohort_count; i++)
        if (row->cohorts[i].year == year)
            return i;
    return -1;
}

static void why_days(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_plan_job *job)
{
    char day[CY_DAY_TEXT];
    struct cy_text text = {0};
    if (job->planned_to == CY_DAY_NONE)
        return;
    cy_trace_begin(trace, "the crew's days for it",
                   "day by day, what cannot wait before what can, the earliest last day first, "
                   "against the crew's hours",
                   "the rule is the best for the greatest lateness: W. A. Horn, Naval Research "
                   "Logistics Quarterly 21, 1974, from memory");
    cy_trace_day(trace, "last day of its window", job->to, job->basis, "");
    cy_text_add(&text, cy_day_print(day, job->planned_from));
    cy_text_add(&text, " to ");
    cy_text_add(&text, cy_day_print(day, job->planned_to));
    cy_trace_result_text(trace, cy_text_get(&text), job->basis | plan->crew_basis);
    cy_text_dispose(&text);
}

bool cy_plan_why_job_itself(struct cy_trace *trace, const struct cy_plan *plan, size_t index,
                            int *cohort)
{
    if (index >= plan->job_count)
        return false;
    const struct cy_plan_job *job = &plan->jobs[index];
    *cohort = cohort_behind(plan, &plan->rows[job->row_place], job);
    if (job->reason.kind == CY_REASON_WIRE)
        cy_plan_why_trellis(trace, plan, job->row_place,
                            CY_TRELLIS_WHY_WIRE + cy_trellis_of(plan, job->row_place)->slack_wire);
    if (job->reason.kind == CY_REASON_DRY_WEEK) {
        cy_why_weather(trace, plan);
        why_dry(trace, plan, job);
    }
    for (size_t i = 0; job->reason.kind == CY_REASON_BALANCE && i < plan->row_count; i++)
        if (plan->rows[i].thing == job->row)
            cy_plan_why_water(trace, plan, CY_WATER_WHY_NEED, i, job->round - 1);
    why_window(trace, plan, job);
    if (job->reason.rounds > 0)
        why_passes(trace, plan, job);
    why_hours(trace, plan, job);
    why_days(trace, plan, job);
    return true;
}

bool cy_plan_why_job(struct cy_trace *trace, const struct cy_plan *plan, size_t index)
{
    if (index >= plan->job_count)
        return false;
    const struct cy_plan_job *job = &plan->jobs[index];
    int cohort = cohort_behind(plan, &plan->rows[job->row_place], job);
    if (cohort >= 0)
        cy_plan_why_stage(trace, plan, job->row_place, (size_t)cohort, job->reason.stage);
    return cy_plan_why_job_itself(trace, plan, index, &cohort);
}
