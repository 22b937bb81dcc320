/* SPDX-License-Identifier: MIT
 * The plan as JSON: what a program reads of it. Days are "YYYY-MM-DD". */
#include "words/words.h"

#include <math.h>

#include <caneyear/base/json.h>
#include <caneyear/season/frostwatch.h>

static void text(struct cy_json *json, const char *key, const char *value)
{
    cy_json_key(json, key);
    cy_json_string(json, value);
}

static void number(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_number(json, value);
}

static void day(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_day(json, isnan(value) ? CY_DAY_NONE : (cy_day)floor(value + 0.5));
}

static void basis_of(struct cy_json *json, cy_basis basis)
{
    text(json, "basis", cy_basis_word(basis));
    cy_json_key(json, "behind");
    cy_json_array(json);
    for (int rank = 0; rank < CY_BASIS_COUNT; rank++)
        if (basis & (1u << rank))
            cy_json_string(json, cy_basis_word(1u << rank));
    cy_json_end_array(json);
}

static void said(struct cy_json *json, const char *key,
                 void (*say)(struct cy_text *, const struct cy_plan_cohort *),
                 const struct cy_plan_cohort *cohort)
{
    struct cy_text words = {0};
    say(&words, cohort);
    text(json, key, cy_text_get(&words));
    json->text->failed = json->text->failed || words.failed;
    cy_text_dispose(&words);
}

static void stage_json(struct cy_json *json, const struct cy_plan_cohort *cohort,
                       enum cy_stage stage)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    if (cohort->never[stage] == CY_DOES_NOT_APPLY && isnan(figure->p50))
        return;
    cy_json_key(json, cy_stage_word(stage));
    cy_json_object(json);
    day(json, "p10", figure->p10);
    day(json, "p50", figure->p50);
    day(json, "p90", figure->p90);
    number(json, "never", figure->never);
    if (figure->never > 0) {
        struct cy_text words = {0};
        cy_say_never(&words, (enum cy_never)cohort->never[stage], figure->never);
        text(json, "why_never", cy_text_get(&words));
        cy_text_dispose(&words);
    }
    cy_json_key(json, "seen");
    cy_json_bool(json, cohort->seen[stage]);
    basis_of(json, figure->basis);
    cy_json_end_object(json);
}

static void chill_json(struct cy_json *json, const struct cy_plan_cohort *cohort)
{
    cy_json_key(json, "chill");
    cy_json_object(json);
    cy_json_key(json, "applies");
    cy_json_bool(json, cohort->chill_applies);
    number(json, "need", cohort->chill_applies ? cohort->chill_need.value : NAN);
    number(json, "share_met", cohort->chill_met);
    said(json, "verdict", cy_say_chill, cohort);
    text(json, "source", cohort->chill_known ? cohort->chill_need.source : NULL);
    cy_json_end_object(json);
}

/* What the cold leaves of the crop on last year's canes, in the mean of the weathers. */
static void cold_json(struct cy_json *json, const struct cy_plan_cohort *cohort)
{
    cy_json_key(json, "cold");
    cy_json_object(json);
    number(json, "buds_left", cohort->cold.buds);
    number(json, "flowers_left", cohort->cold.flowers);
    said(json, "verdict", cy_say_cold, cohort);
    cy_json_end_object(json);
}

static void late_json(struct cy_json *json, const struct cy_plan_cohort *cohort)
{
    if (isnan(cohort->late.fails))
        return;
    cy_json_key(json, "tipped_late");
    cy_json_object(json);
    number(json, "days", CY_PLAN_LATE_DAYS);
    number(json, "autumn_crop_fails", cohort->late.fails);
    number(json, "fails_in_time", cohort->late.fails_timely);
    number(json, "weight_left", cohort->late.left);
    cy_json_end_object(json);
}

static void cohort_json(struct cy_json *json, const struct cy_plan *plan,
                        const struct cy_plan_cohort *cohort)
{
    cy_json_object(json);
    number(json, "year", cohort->year);
    text(json, "canes", cohort->role == CY_ROLE_FLORICANES ? "floricane" : "primocane");
    text(json, "state", cy_state_word(cy_plan_state(cohort, plan->today)));
    cy_json_key(json, "kept_over_winter");
    cy_json_bool(json, cohort->kept);
    chill_json(json, cohort);
    cold_json(json, cohort);
    late_json(json, cohort);
    cy_json_key(json, "stages");
    cy_json_object(json);
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++)
        stage_json(json, cohort, (enum cy_stage)stage);
    cy_json_end_object(json);
    cy_json_end_object(json);
}

static void kilograms(struct cy_json *json, const struct cy_figure *figure)
{
    number(json, "p10", figure->p10);
    number(json, "p50", figure->p50);
    number(json, "p90", figure->p90);
}

static void crop_json(struct cy_json *json, const struct cy_plan_crop *crop)
{
    cy_json_object(json);
    number(json, "year", crop->year);
    text(json, "crop", crop->autumn ? "autumn" : "summer");
    cy_json_key(json, "total_kg");
    cy_json_object(json);
    kilograms(json, &crop->total_kg);
    number(json, "never", crop->total_kg.never);
    basis_of(json, crop->total_kg.basis);
    cy_json_end_object(json);
    cy_json_key(json, "weeks");
    cy_json_array(json);
    for (int week = 0; week < crop->weeks; week++) {
        cy_json_object(json);
        day(json, "monday", crop->monday + 7 * week);
        kilograms(json, &crop->week_kg[week]);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}

static void row_json(struct cy_json *json, const struct cy_plan *plan,
                     const struct cy_plan_row *row)
{
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    cy_json_object(json);
    text(json, "key", row->key);
    text(json, "name", row->name);
    text(json, "cultivar", cy_string(thing, CY_ROW_CULTIVAR));
    number(json, "season_of_life", row->leaf > 0 ? row->leaf : NAN);
    cy_json_key(json, "notes");
    cy_json_array(json);
    for (unsigned note = 1; note <= CY_NOTE_FRUIT_YEAR; note <<= 1) {
        struct cy_text words = {0};
        if (!(row->notes & note))
            continue;
        cy_say_note(&words, (enum cy_row_note)note);
        cy_json_string(json, cy_text_get(&words));
        cy_text_dispose(&words);
    }
    cy_json_end_array(json);
    cy_json_key(json, "cohorts");
    cy_json_array(json);
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].role != CY_ROLE_NONE)
            cohort_json(json, plan, &row->cohorts[i]);
    cy_json_end_array(json);
    cy_json_key(json, "crops");
    cy_json_array(json);
    for (int i = 0; i < row->crop_count; i++)
        crop_json(json, &row->crops[i]);
    cy_json_end_array(json);
    cy_json_end_object(json);
}

static void job_json(struct cy_json *json, const struct cy_plan *plan,
                     const struct cy_plan_job *job)
{
    struct cy_text reason = {0};
    cy_say_reason(&reason, plan, job);
    cy_json_object(json);
    text(json, "key", job->key);
    text(json, "kind", job->kind_key);
    text(json, "name", cy_thing_name(cy_farm_by_id(&plan->farm, job->kind)));
    cy_json_key(json, "rows");
    cy_json_array(json);
    cy_json_string(json, job->row_key);
    cy_json_end_array(json);
    day(json, "from", job->from);
    day(json, "to", job->to);
    number(json, "hours", job->hours);
    text(json, "reason", cy_text_get(&reason));
    text(json, "why", cy_string(cy_farm_by_id(&plan->farm, job->kind), CY_JOB_WHY));
    cy_json_key(json, "cannot_wait");
    cy_json_bool(json, job->urgent);
    cy_json_key(json, "planned_from");
    cy_json_day(json, job->planned_from);
    cy_json_key(json, "planned_to");
    cy_json_day(json, job->planned_to);
    number(json, "late_days", job->late_days);
    cy_json_key(json, "done");
    cy_json_day(json, job->done ? job->done_on : CY_DAY_NONE);
    cy_json_key(json, "missed");
    cy_json_bool(json, job->missed);
    cy_json_key(json, "late");
    cy_json_bool(json, !job->done && job->to < plan->today);
    basis_of(json, job->basis);
    cy_json_end_object(json);
    cy_text_dispose(&reason);
}

static void crew_json(struct cy_json *json, const struct cy_plan *plan)
{
    cy_json_key(json, "crew");
    cy_json_object(json);
    number(json, "smallest_with_nothing_late", plan->crew.scale);
    number(json, "late_whatever_the_crew", (double)plan->crew.hopeless);
    basis_of(json, plan->crew_basis);
    cy_json_key(json, "weeks");
    cy_json_array(json);
    for (size_t i = 0; i < plan->week_count; i++) {
        const struct cy_schedule_week *week = &plan->weeks[i];
        cy_json_object(json);
        day(json, "monday", week->monday);
        number(json, "crew_hours", week->capacity);
        number(json, "hours", week->hours);
        number(json, "late_hours", week->late_hours);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}

static void frost_json(struct cy_json *json, const struct cy_plan *plan)
{
    struct cy_frostwatch watch;
    if (cy_frostwatch_of(&watch, plan, plan->today) != CY_OK)
        json->text->failed = true;
    cy_json_key(json, "frost_watch");
    cy_json_object(json);
    day(json, "from", watch.from);
    day(json, "to", watch.to);
    cy_json_key(json, "rows");
    cy_json_array(json);
    for (size_t i = 0; i < watch.count; i++) {
        const struct cy_frost_risk *risk = &watch.risks[i];
        cy_json_object(json);
        text(json, "key", plan->rows[risk->row].key);
        number(json, "canes", risk->year);
        text(json, "part", cy_frost_part_word(risk->part));
        number(json, "kills_in_row_c", risk->row_c);
        number(json, "station_minimum_c", risk->station_c);
        text(json, "source", risk->source);
        basis_of(json, risk->basis);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
    cy_frostwatch_dispose(&watch);
}

void cy_plan_json(struct cy_text *out, const struct cy_plan *plan)
{
    struct cy_json json;
    cy_json_begin(&json, out);
    cy_json_object(&json);
    text(&json, "farm", cy_string(cy_farm_one(&plan->farm, CY_KIND_FARM), CY_FARM_NAME));
    number(&json, "season", plan->season);
    day(&json, "first", plan->first);
    day(&json, "last", plan->last);
    day(&json, "today", plan->today);
    cy_json_key(&json, "weathers");
    cy_json_object(&json);
    number(&json, "members", plan->members);
    number(&json, "past_years", plan->past_years);
    number(&json, "made_years", plan->made_years);
    number(&json, "observed_days", plan->observed_days);
    cy_json_end_object(&json);
    cy_json_key(&json, "rows");
    cy_json_array(&json);
    for (size_t i = 0; i < plan->row_count; i++)
        row_json(&json, plan, &plan->rows[i]);
    cy_json_end_array(&json);
    cy_json_key(&json, "jobs");
    cy_json_array(&json);
    for (size_t i = 0; i < plan->job_count; i++)
        job_json(&json, plan, &plan->jobs[i]);
    cy_json_end_array(&json);
    crew_json(&json, plan);
    cy_json_key(&json, "supply");
    cy_supply_json(&json, plan);
    frost_json(&json, plan);
    cy_json_key(&json, "water");
    cy_water_json(&json, plan);
    cy_json_end_object(&json);
    cy_text_add_char(out, '\n');
}
