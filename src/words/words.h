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
#include <caneyear/season/suitability.h>
#include <caneyear/season/supply.h>

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

/* A trace as indented text, and the whole plan as text and as JSON. */
void cy_say_trace(struct cy_text *out, const struct cy_trace *trace, enum cy_system system);
void cy_say_plan(struct cy_text *out, const struct cy_plan *plan, bool ascii);
/* A part of the plan's text by itself; and a name or text from outside, cleaned. */
void cy_say_jobs(struct cy_text *out, const struct cy_plan *plan, bool ascii);
void cy_say_clean(struct cy_text *out, const char *text, bool ascii);
void cy_plan_json(struct cy_text *out, const struct cy_plan *plan);
/* The steps of a trace as a JSON array. */
void cy_trace_json(struct cy_json *json, const struct cy_trace *trace);

/* The whole farm's supply as a section of the plan, and as a JSON object. */
void cy_say_supply(struct cy_text *out, const struct cy_plan *plan, bool ascii);
void cy_supply_json(struct cy_json *json, const struct cy_plan *plan);

/* The season's water: rows, zones and sources, as a JSON object. */
void cy_water_json(struct cy_json *json, const struct cy_plan *plan);

/* ---- what suits the site -------------------------------------------------------------------- */

/* Why a mark is what it is, as one sentence without its full stop: "500 hours below 45 F are met
 * in 98 % of the years". `cultivar` is NULL for a mark of the site or of a row. */
void cy_say_verdict(struct cy_text *out, const struct cy_suitability *table,
                    const struct cy_suit_cultivar *cultivar, const struct cy_verdict *verdict);
void cy_say_suitability(struct cy_text *out, const struct cy_suitability *table, bool ascii);
void cy_suitability_json(struct cy_text *out, const struct cy_suitability *table);

#endif
