/* SPDX-License-Identifier: MIT
 * Direct sun over the season as JSON: the field, its obstacles, its rows, turned and moved. */
#include <math.h>

#include "words/words.h"

#define TURN_DEG 15

static void number(struct cy_json *json, const char *key, double value)
{
    cy_json_key(json, key);
    cy_json_number(json, value);
}

static void text(struct cy_json *json, const char *key, const char *value)
{
    cy_json_key(json, key);
    cy_json_string(json, value);
}

/* Ends a figure's object with its basis and its trace, which is disposed of. */
static void behind(struct cy_json *json, struct cy_steps *steps, cy_basis basis,
                   struct cy_trace *trace)
{
    text(json, "basis", cy_basis_word(basis));
    cy_steps_why(json, steps, trace);
    cy_trace_dispose(trace);
}

static void days_json(struct cy_json *json, const struct cy_sunlight *sun,
                      const double hours[CY_SUNLIGHT_DAYS])
{
    cy_json_key(json, "days");
    cy_json_array(json);
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        cy_json_object(json);
        cy_json_key(json, "day");
        cy_json_day(json, sun->day[i]);
        number(json, "hours", hours[i]);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void rule_json(struct cy_json *json, double hours)
{
    text(json, "rule",
         hours >= CY_SUNLIGHT_FULL_H     ? "full"
         : hours >= CY_SUNLIGHT_ENOUGH_H ? "enough"
                                         : "short");
}

static void moves_json(struct cy_json *json, const struct cy_sunlight *sun, size_t obstacle)
{
    static const double times[] = {1.5, 2, 3, 4};
    cy_json_key(json, "moved");
    cy_json_array(json);
    for (size_t i = 0; cy_sunlight_can_move(sun, obstacle) && i < 4; i++) {
        cy_json_object(json);
        number(json, "times_as_far", times[i]);
        number(json, "field_hours", cy_sunlight_moved(sun, obstacle, times[i], CY_SUNLIGHT_FIELD));
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void obstacles_json(struct cy_json *json, struct cy_steps *steps,
                           const struct cy_sunlight *sun)
{
    cy_json_key(json, "obstacles");
    cy_json_array(json);
    for (size_t i = 0; i < sun->obstacle_count; i++) {
        struct cy_trace trace = {0};
        cy_sunlight_why_obstacle(&trace, sun, i);
        cy_json_object(json);
        text(json, "key", sun->obstacles[i].key);
        number(json, "altitude_deg", sun->bands[i].altitude_deg);
        number(json, "hides_hours", sun->obstacles[i].hides_h);
        number(json, "hours_without_it", sun->mean_h + sun->obstacles[i].alone_h);
        moves_json(json, sun, i);
        behind(json, steps, sun->obstacles[i].basis, &trace);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void rows_json(struct cy_json *json, struct cy_steps *steps, const struct cy_sunlight *sun)
{
    cy_json_key(json, "rows");
    cy_json_array(json);
    for (size_t i = 0; i < sun->row_count; i++) {
        const struct cy_sunlight_row *row = &sun->rows[i];
        struct cy_trace trace = {0};
        cy_sunlight_why_row(&trace, sun, i);
        cy_json_object(json);
        text(json, "key", row->key);
        number(json, "mean_hours", row->mean_h);
        rule_json(json, row->mean_h);
        days_json(json, sun, row->day_h);
        number(json, "left_face_hours", row->face_h[CY_FACE_LEFT]);
        number(json, "right_face_hours", row->face_h[CY_FACE_RIGHT]);
        behind(json, steps, row->basis, &trace);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void turns_json(struct cy_json *json, const struct cy_sunlight *sun)
{
    cy_json_key(json, "turned");
    cy_json_array(json);
    for (int bearing = 0; sun->row_count > 0 && bearing < 180; bearing += TURN_DEG) {
        cy_json_object(json);
        number(json, "bearing_deg", bearing);
        number(json, "rows_mean_hours", cy_sunlight_farm(sun, bearing));
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

void cy_sunlight_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan)
{
    struct cy_sunlight sun;
    struct cy_trace trace = {0};
    if (cy_sunlight_of(&sun, &plan->farm, plan->latitude_deg, plan->season) != CY_OK) {
        json->text->failed = true;
        cy_json_string(json, NULL);
        return;
    }
    cy_json_object(json);
    number(json, "mean_hours", sun.mean_h);
    number(json, "level_horizon_hours", sun.level_h);
    number(json, "enough_hours", CY_SUNLIGHT_ENOUGH_H);
    number(json, "full_hours", CY_SUNLIGHT_FULL_H);
    rule_json(json, sun.mean_h);
    days_json(json, &sun, sun.day_h);
    obstacles_json(json, steps, &sun);
    rows_json(json, steps, &sun);
    number(json, "rows_mean_hours", cy_sunlight_farm(&sun, NAN));
    turns_json(json, &sun);
    cy_sunlight_why_field(&trace, &sun);
    behind(json, steps, sun.basis, &trace);
    cy_json_end_object(json);
    cy_sunlight_dispose(&sun);
}
