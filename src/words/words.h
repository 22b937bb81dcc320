/* SPDX-License-Identifier: MIT
 * The sentences: the engine names a problem or a reason by a code and arguments, and here it
 * becomes words, once for the YAML reader, the forms, the command line and the screen. */
#ifndef WORDS_WORDS_H
#define WORDS_WORDS_H

#include <stdbool.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/json.h>
#include <caneyear/base/text.h>
#include <caneyear/season/plan.h>
#include <caneyear/season/rowplan.h>
#include <caneyear/season/suitability.h>
#include <caneyear/season/sunlight.h>
#include <caneyear/season/supply.h>

#include "words/steps.h"

/* One line without a newline: "FILE:LINE:COLUMN: what was found, what is allowed". Everything
 * that came from outside is cleaned. */
void cy_say_issue(struct cy_text *out, const struct cy_issue *issue, bool ascii);

/* ---- the plan ------------------------------------------------------------------------------- */

/* "13 May" or, with the year, "13 May 2027"; "never" for a day that does not come. */
void cy_say_day(struct cy_text *out, double day, bool year);

/* Why a job is planned, as one sentence without its full stop: "half of the canes pass 42 in by
 * 18 May; between 9 May and 29 May in 8 years of 10". */
void cy_say_reason(struct cy_text *out, const struct cy_plan *plan, const struct cy_plan_job *job);

/* Why a stage never comes, for some or all of the years: "too little chill in 1 year of 10". */
void cy_say_never(struct cy_text *out, enum cy_never never, double share);

/* What a note of a row means, a sentence or two; one call a bit. */
void cy_say_note(struct cy_text *out, enum cy_row_note note);

/* "400 hours 32-45 F: met in 9 years of 10", "does not apply", "no need published: no verdict". */
void cy_say_chill(struct cy_text *out, const struct cy_plan_cohort *cohort);

/* "62 % of the buds through winter, 97 % of their flowers through spring", or that no hardiness is
 * known; shares are means over the weathers. */
void cy_say_cold(struct cy_text *out, const struct cy_plan_cohort *cohort);

/* The words of a basis set: its least trusted member, "made" and "fitted here" spelled out. */
void cy_say_basis(struct cy_text *out, cy_basis basis);
/* The same behind a figure: " [made]". */
void cy_say_behind(struct cy_text *out, cy_basis basis);
/* "409 lb (24 lb to 1336 lb)" */
void cy_say_kg_range(struct cy_text *out, const struct cy_figure *kg, enum cy_system system);

/* A trace as indented text, and the whole plan as text and as JSON. */
void cy_say_trace(struct cy_text *out, const struct cy_trace *trace, enum cy_system system);
void cy_say_plan(struct cy_text *out, const struct cy_plan *plan, bool ascii);
/* A part of the plan's text by itself; and a name or text from outside, cleaned. */
void cy_say_jobs(struct cy_text *out, const struct cy_plan *plan, bool ascii);
void cy_say_clean(struct cy_text *out, const char *text, bool ascii);
/* Figures carry a "why", places in "steps": the distinct steps of all traces. */
void cy_plan_json(struct cy_text *out, const struct cy_plan *plan);
/* The steps of a trace as a JSON array. */
void cy_trace_json(struct cy_json *json, const struct cy_trace *trace);

/* What a row loses by the interval between its pickings, by heat and by rain; `comma` parts the two
 * halves. */
void cy_say_loss(struct cy_text *out, const struct cy_supply_row *row, const char *comma,
                 enum cy_system system, bool ascii);
/* The whole farm's supply as a section of the plan, and as a JSON object. */
void cy_say_supply(struct cy_text *out, const struct cy_plan *plan, bool ascii);
void cy_supply_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan);

/* What was learned, as a JSON array. */
void cy_learned_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan);

void cy_frostodds_json(struct cy_json *json, struct cy_steps *steps,
                       const struct cy_frostodds *odds);

/* ---- the sun -------------------------------------------------------------------------------- */

/* The horizon as lines of a picture, azimuth along the width and altitude upwards, with the sun's
 * paths; from the middle of a row with its neighbours, or from the field where there is no such
 * row. North of the equator it runs from north by east to north; south of it from south by west to
 * south, so that the noon sun stands in the middle. */
void cy_say_horizon(struct cy_text *out, const struct cy_sunlight *sun, size_t row, int width,
                    bool ascii);
/* The season's sun, of the plan's farm. */
void cy_sunlight_json(struct cy_json *json, struct cy_steps *steps, const struct cy_sunlight *sun);

/* A field's outline with its rows as lines of a picture, north up, in one scale both ways. */
void cy_say_field(struct cy_text *out, const struct cy_rowplan_ask *ask,
                  const struct cy_rowplan *layout, enum cy_system system, int width, bool ascii);
/* Rows proposed for the field, in that sun. */
void cy_rowplan_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                     const struct cy_sunlight *sun);

/* The trellis of a row, its checks, changes and parts, as a JSON object; null without one. */
void cy_trellis_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                     size_t row);

/* The season's water: rows, zones and sources, as a JSON object. */
void cy_water_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan);

/* ---- what suits the site -------------------------------------------------------------------- */

/* Why a mark is what it is, as one sentence without its full stop: "500 hours below 45 F are met
 * in 98 % of the years". `cultivar` is NULL for a mark of the site or of a row. */
void cy_say_verdict(struct cy_text *out, const struct cy_suitability *table,
                    const struct cy_suit_cultivar *cultivar, const struct cy_verdict *verdict);
void cy_say_suitability(struct cy_text *out, const struct cy_suitability *table, bool ascii);
/* Its parts, each laid out in lines of at most so many columns: what it rests on; the cultivars
 * side by side; one mark with its reason, of the site where `cultivar` is NULL; and the sun at a
 * row and at all that have the same, nothing where an earlier one has it. */
void cy_say_suit_head(struct cy_text *out, const struct cy_suitability *table, int columns,
                      bool ascii);
void cy_say_suit_table(struct cy_text *out, const struct cy_suitability *table, int columns,
                       bool ascii);
void cy_say_suit_mark(struct cy_text *out, const struct cy_suitability *table,
                      const struct cy_suit_cultivar *cultivar, enum cy_suit suit, int columns);
void cy_say_suit_row_sun(struct cy_text *out, const struct cy_suitability *table, size_t index,
                         int columns, bool ascii);
void cy_suitability_json(struct cy_text *out, const struct cy_suitability *table);

#endif
