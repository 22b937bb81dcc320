/* SPDX-License-Identifier: MIT
 * The plan as JSON: what a program reads of it. Days are "YYYY-MM-DD". */
#include "words/words.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/season/frostwatch.h>

#include "words/json_words.h"

/* The steps behind a date, as places among the distinct ones. */
struct stage_steps {
    size_t from, count; /* in the list of places; no count where nobody asked yet */
};

/* What all parts of the JSON are written from. */
struct writing {
    struct cy_json json;
    const struct cy_plan *plan;
    struct cy_steps steps;
    size_t *places;
    size_t place_count, place_capacity;
    struct stage_steps *stages; /* of every row, cohort and stage */
    bool failed;
};

static void said(struct cy_json *json, const char *key,
                 void (*say)(struct cy_text *, const struct cy_plan_cohort *),
                 const struct cy_plan_cohort *cohort)
{
    struct cy_text words = {0};
    say(&words, cohort);
    cy_put_text(json, key, cy_text_get(&words));
    json->text->failed = json->text->failed || words.failed;
    cy_text_dispose(&words);
}

static void ask_stage(struct writing *writing, struct stage_steps *out, size_t row, size_t cohort,
                      enum cy_stage stage)
{
    struct cy_trace trace = {0};
    cy_plan_why_stage(&trace, writing->plan, row, cohort, stage);
    out->from = writing->place_count;
    for (size_t i = 0; i < trace.count; i++) {
        if (!cy_grow(&writing->places, &writing->place_capacity, writing->place_count,
                     sizeof *writing->places)) {
            writing->failed = true;
            break;
        }
        writing->places[writing->place_count++] = cy_steps_place(&writing->steps, &trace.steps[i]);
        out->count++;
    }
    writing->failed = writing->failed || trace.failed;
    cy_trace_dispose(&trace);
}

/* The places of a date's steps: a job that the date brings on has the same. */
static void refer_to_stage(struct writing *writing, size_t row, size_t cohort, enum cy_stage stage)
{
    struct stage_steps *steps =
        &writing->stages[(row * CY_PLAN_COHORTS + cohort) * CY_STAGE_COUNT + (size_t)stage];
    if (steps->count == 0)
        ask_stage(writing, steps, row, cohort, stage);
    for (size_t i = 0; i < steps->count; i++)
        cy_json_number(&writing->json, (double)writing->places[steps->from + i]);
}

/* A cohort as part of the plan, for figures that share the steps of one of its dates. */
struct cohort_place {
    size_t row, index;
};

static void why_as_stage(struct writing *writing, struct cohort_place place, enum cy_stage stage)
{
    cy_put_array(&writing->json, "why");
    refer_to_stage(writing, place.row, place.index, stage);
    cy_json_end_array(&writing->json);
}

static const struct cy_plan_cohort *cohort_at(const struct writing *writing,
                                              struct cohort_place place)
{
    return &writing->plan->rows[place.row].cohorts[place.index];
}

static void stage_json(struct writing *writing, struct cohort_place place, enum cy_stage stage)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan_cohort *cohort = cohort_at(writing, place);
    const struct cy_figure *figure = &cohort->stage[stage];
    if (cohort->never[stage] == CY_DOES_NOT_APPLY && isnan(figure->p50))
        return;
    cy_put_object(json, cy_stage_word(stage));
    cy_put_spread_of_days(json, figure);
    cy_put_number(json, "never", figure->never);
    if (figure->never > 0) {
        struct cy_text words = {0};
        cy_say_never(&words, (enum cy_never)cohort->never[stage], figure->never);
        cy_put_text(json, "why_never", cy_text_get(&words));
        cy_text_dispose(&words);
    }
    cy_put_bool(json, "seen", cohort->seen[stage]);
    cy_put_bases(json, figure->basis);
    why_as_stage(writing, place, stage);
    cy_json_end_object(json);
}

static void chill_json(struct writing *writing, struct cohort_place place)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan_cohort *cohort = cohort_at(writing, place);
    cy_put_object(json, "chill");
    cy_put_bool(json, "applies", cohort->chill_applies);
    cy_put_number(json, "need", cohort->chill_applies ? cohort->chill_need.value : NAN);
    cy_put_number(json, "share_met", cohort->chill_met);
    said(json, "verdict", cy_say_chill, cohort);
    cy_put_text(json, "source", cohort->chill_known ? cohort->chill_need.source : NULL);
    why_as_stage(writing, place, CY_STAGE_CHILL_MET);
    cy_json_end_object(json);
}

/* What the cold leaves of the crop on last year's canes, in the mean of the weathers. */
static void cold_json(struct writing *writing, struct cohort_place place)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan_cohort *cohort = cohort_at(writing, place);
    cy_put_object(json, "cold");
    cy_put_number(json, "buds_left", cohort->cold.buds);
    cy_put_number(json, "flowers_left", cohort->cold.flowers);
    said(json, "verdict", cy_say_cold, cohort);
    why_as_stage(writing, place, CY_STAGE_PEAK_PICK);
    cy_json_end_object(json);
}

static void late_json(struct writing *writing, struct cohort_place place)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan_cohort *cohort = cohort_at(writing, place);
    if (isnan(cohort->late.fails))
        return;
    cy_put_object(json, "tipped_late");
    cy_put_number(json, "days", CY_PLAN_LATE_DAYS);
    cy_put_number(json, "autumn_crop_fails", cohort->late.fails);
    cy_put_number(json, "fails_in_time", cohort->late.fails_timely);
    cy_put_number(json, "weight_left", cohort->late.left);
    why_as_stage(writing, place, CY_STAGE_TIP);
    cy_json_end_object(json);
}

/* When the fruit of half bloom is ripe, by its colour. */
static void black_json(struct writing *writing, struct cohort_place place, bool dull)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan_cohort *cohort = &writing->plan->rows[place.row].cohorts[place.index];
    const struct cy_figure *figure = dull ? &cohort->dull : &cohort->glossy;
    struct cy_trace trace = {0};
    if (isnan(figure->p50))
        return;
    cy_plan_why_black(&trace, writing->plan, place.row, place.index, dull);
    cy_put_object(json, dull ? "dull_black" : "glossy_black");
    cy_put_spread_of_days(json, figure);
    cy_put_bases(json, figure->basis);
    cy_steps_why(json, &writing->steps, &trace);
    cy_json_end_object(json);
    cy_trace_dispose(&trace);
}

static void cohort_json(struct writing *writing, size_t row, size_t index)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    const struct cy_plan_cohort *cohort = &plan->rows[row].cohorts[index];
    cy_json_object(json);
    cy_put_number(json, "year", cohort->year);
    cy_put_text(json, "canes", cohort->role == CY_ROLE_FLORICANES ? "floricane" : "primocane");
    cy_put_text(json, "state", cy_state_word(cy_plan_state(cohort, plan->today)));
    cy_put_bool(json, "kept_over_winter", cohort->kept);
    struct cohort_place place = {row, index};
    chill_json(writing, place);
    cold_json(writing, place);
    late_json(writing, place);
    black_json(writing, place, false);
    black_json(writing, place, true);
    cy_put_object(json, "stages");
    for (int stage = 0; stage < CY_STAGE_COUNT; stage++)
        stage_json(writing, place, (enum cy_stage)stage);
    cy_json_end_object(json);
    cy_json_end_object(json);
}

/* A week's weight rests on the same steps as the whole crop's. */
static void crop_json(struct writing *writing, size_t row, size_t index)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan_crop *crop = &writing->plan->rows[row].crops[index];
    struct cy_trace trace = {0};
    cy_json_object(json);
    cy_put_number(json, "year", crop->year);
    cy_put_text(json, "crop", crop->autumn ? "autumn" : "summer");
    cy_put_object(json, "total_kg");
    cy_put_spread(json, &crop->total_kg, 1);
    cy_put_number(json, "never", crop->total_kg.never);
    cy_put_bases(json, crop->total_kg.basis);
    cy_plan_why_crop(&trace, writing->plan, row, index, CY_WHY_ALL_WEEKS);
    cy_put_why(json, &writing->steps, &trace);
    cy_json_end_object(json);
    cy_put_array(json, "weeks");
    for (int week = 0; week < crop->weeks; week++) {
        cy_json_object(json);
        cy_put_day(json, "monday", crop->monday + 7 * week);
        cy_put_spread(json, &crop->week_kg[week], 1);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
}

static void row_json(struct writing *writing, size_t index)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    const struct cy_plan_row *row = &plan->rows[index];
    const struct cy_thing *thing = cy_farm_by_id(&plan->farm, row->thing);
    cy_json_object(json);
    cy_put_text(json, "key", row->key);
    cy_put_text(json, "name", row->name);
    cy_put_text(json, "cultivar", cy_string(thing, CY_ROW_CULTIVAR));
    cy_put_number(json, "season_of_life", row->leaf > 0 ? row->leaf : NAN);
    cy_put_array(json, "notes");
    for (unsigned note = 1; note <= CY_NOTE_FRUIT_YEAR; note <<= 1) {
        struct cy_text words = {0};
        if (!(row->notes & note))
            continue;
        cy_say_note(&words, (enum cy_row_note)note);
        cy_json_string(json, cy_text_get(&words));
        cy_text_dispose(&words);
    }
    cy_json_end_array(json);
    cy_put_array(json, "cohorts");
    for (int i = 0; i < row->cohort_count; i++)
        if (row->cohorts[i].role != CY_ROLE_NONE)
            cohort_json(writing, index, (size_t)i);
    cy_json_end_array(json);
    cy_put_array(json, "crops");
    for (int i = 0; i < row->crop_count; i++)
        crop_json(writing, index, (size_t)i);
    cy_json_end_array(json);
    cy_json_key(json, "trellis");
    cy_trellis_json(json, &writing->steps, plan, index);
    cy_json_end_object(json);
}

static void job_why(struct writing *writing, size_t index)
{
    struct cy_trace trace = {0};
    int cohort = -1;
    const struct cy_plan_job *job = &writing->plan->jobs[index];
    cy_plan_why_job_itself(&trace, writing->plan, index, &cohort);
    cy_put_array(&writing->json, "why");
    if (cohort >= 0)
        refer_to_stage(writing, job->row_place, (size_t)cohort, job->reason.stage);
    cy_steps_refer(&writing->json, &writing->steps, &trace);
    cy_json_end_array(&writing->json);
    cy_trace_dispose(&trace);
}

static void job_json(struct writing *writing, size_t index)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    const struct cy_plan_job *job = &plan->jobs[index];
    struct cy_text reason = {0};
    cy_say_reason(&reason, plan, job);
    cy_json_object(json);
    cy_put_text(json, "key", job->key);
    cy_put_text(json, "kind", job->kind_key);
    cy_put_text(json, "name", cy_thing_name(cy_farm_by_id(&plan->farm, job->kind)));
    cy_put_array(json, "rows");
    cy_json_string(json, job->row_key);
    cy_json_end_array(json);
    cy_put_day(json, "from", job->from);
    cy_put_day(json, "to", job->to);
    cy_put_number(json, "hours", job->hours);
    cy_put_text(json, "reason", cy_text_get(&reason));
    cy_put_text(json, "purpose", cy_string(cy_farm_by_id(&plan->farm, job->kind), CY_JOB_WHY));
    cy_put_bool(json, "cannot_wait", job->urgent);
    cy_put_day(json, "planned_from", job->planned_from);
    cy_put_day(json, "planned_to", job->planned_to);
    cy_put_number(json, "late_days", job->late_days);
    cy_put_day(json, "done", job->done ? job->done_on : CY_DAY_NONE);
    cy_put_bool(json, "missed", job->missed);
    cy_put_bool(json, "late", !job->done && job->to < plan->today);
    cy_put_bases(json, job->basis);
    job_why(writing, index);
    cy_json_end_object(json);
    cy_text_dispose(&reason);
}

static void week_json(struct writing *writing, const struct cy_schedule_week *week)
{
    struct cy_json *json = &writing->json;
    struct cy_trace trace = {0};
    cy_json_object(json);
    cy_put_day(json, "monday", week->monday);
    cy_put_number(json, "crew_hours", week->capacity);
    cy_put_number(json, "hours", week->hours);
    cy_put_number(json, "late_hours", week->late_hours);
    cy_plan_why_week(&trace, writing->plan, week->monday);
    cy_put_why(json, &writing->steps, &trace);
    cy_json_end_object(json);
}

static void crew_json(struct writing *writing)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    struct cy_trace trace = {0};
    cy_put_object(json, "crew");
    cy_put_number(json, "smallest_with_nothing_late", plan->crew.scale);
    cy_put_number(json, "late_whatever_the_crew", (double)plan->crew.hopeless);
    cy_put_bases(json, plan->crew_basis);
    cy_plan_why_crew(&trace, plan);
    cy_put_why(json, &writing->steps, &trace);
    cy_put_array(json, "weeks");
    for (size_t i = 0; i < plan->week_count; i++)
        week_json(writing, &plan->weeks[i]);
    cy_json_end_array(json);
    cy_json_end_object(json);
}

static void frost_json(struct writing *writing)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    struct cy_frostwatch watch;
    if (cy_frostwatch_of(&watch, plan, plan->today) != CY_OK)
        writing->failed = true;
    cy_put_object(json, "frost_watch");
    cy_put_day(json, "from", watch.from);
    cy_put_day(json, "to", watch.to);
    cy_put_array(json, "rows");
    for (size_t i = 0; i < watch.count; i++) {
        const struct cy_frost_risk *risk = &watch.risks[i];
        struct cy_trace trace = {0};
        cy_json_object(json);
        cy_put_text(json, "key", plan->rows[risk->row].key);
        cy_put_number(json, "canes", risk->year);
        cy_put_text(json, "part", cy_frost_part_word(risk->part));
        cy_put_number(json, "kills_in_row_c", risk->row_c);
        cy_put_number(json, "station_minimum_c", risk->station_c);
        cy_put_text(json, "source", risk->source);
        cy_put_bases(json, risk->basis);
        cy_frostwatch_why(&trace, plan, &watch, i);
        cy_put_why(json, &writing->steps, &trace);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    cy_json_end_object(json);
    cy_frostwatch_dispose(&watch);
    cy_json_key(json, "frost");
    cy_frostodds_json(json, &writing->steps, &plan->frost);
}

/* The sun on the field, its water, and rows proposed for it in that sun. */
static void field_json(struct writing *writing)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    struct cy_sunlight sun;
    if (cy_sunlight_of(&sun, &plan->farm, plan->latitude_deg, plan->season) != CY_OK) {
        writing->failed = true;
        return;
    }
    cy_json_key(json, "sun");
    cy_sunlight_json(json, &writing->steps, &sun);
    cy_json_key(json, "water");
    cy_water_json(json, &writing->steps, plan);
    cy_json_key(json, "layout");
    cy_rowplan_json(json, &writing->steps, plan, &sun);
    cy_sunlight_dispose(&sun);
}

static void write_all(struct writing *writing)
{
    struct cy_json *json = &writing->json;
    const struct cy_plan *plan = writing->plan;
    cy_json_object(json);
    cy_put_text(json, "farm", cy_string(cy_farm_one(&plan->farm, CY_KIND_FARM), CY_FARM_NAME));
    cy_put_number(json, "season", plan->season);
    cy_put_day(json, "first", plan->first);
    cy_put_day(json, "last", plan->last);
    cy_put_day(json, "today", plan->today);
    cy_put_object(json, "weathers");
    cy_put_number(json, "members", plan->members);
    cy_put_number(json, "past_years", plan->past_years);
    cy_put_number(json, "made_years", plan->made_years);
    cy_put_number(json, "observed_days", plan->observed_days);
    cy_json_end_object(json);
    cy_put_array(json, "rows");
    for (size_t i = 0; i < plan->row_count; i++)
        row_json(writing, i);
    cy_json_end_array(json);
    cy_put_array(json, "jobs");
    for (size_t i = 0; i < plan->job_count; i++)
        job_json(writing, i);
    cy_json_end_array(json);
    crew_json(writing);
    cy_json_key(json, "supply");
    cy_supply_json(json, &writing->steps, plan);
    frost_json(writing);
    cy_json_key(json, "learned");
    cy_learned_json(json, &writing->steps, plan);
    field_json(writing);
    cy_json_key(json, "steps");
    cy_trace_json(json, &writing->steps.distinct);
    cy_json_end_object(json);
}

void cy_plan_json(struct cy_text *out, const struct cy_plan *plan)
{
    struct writing writing = {.plan = plan};
    size_t stages = plan->row_count * CY_PLAN_COHORTS * CY_STAGE_COUNT;
    writing.stages = cy_zeroed(stages, sizeof *writing.stages);
    cy_json_begin(&writing.json, out);
    if (writing.stages)
        write_all(&writing);
    cy_text_add_char(out, '\n');
    out->failed = out->failed || writing.failed || writing.steps.failed || !writing.stages;
    free(writing.stages);
    free(writing.places);
    cy_steps_dispose(&writing.steps);
}
