/* SPDX-License-Identifier: MIT
 * Direct sun over the season as JSON: the field, its obstacles, its rows, turned and moved. */
#include <math.h>

#include "words/json_words.h"
#include "words/words.h"

#define TURN_DEG 15

/* Ends a figure's object with its basis and its trace, which is disposed of. */
static void behind(struct cy_json *json, struct cy_steps *steps, cy_basis basis,
                   struct cy_trace *trace)
{
    cy_put_basis(json, basis);
    cy_steps_why(json, steps, trace);
    cy_trace_dispose(trace);
}

static void days_json(struct cy_json *json, const struct cy_sunlight *sun,
                      const double hours[CY_SUNLIGHT_DAYS])
{
    cy_put_array(json, "days");
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        cy_json_object(json);
        cy_put_day(json, "day", sun->day[i]);
        cy_put_number(json, "hours", hours[i]);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void rule_json(struct cy_json *json, double hours)
{
    cy_put_text(json, "rule",
                hours >= CY_SUNLIGHT_FULL_H     ? "full"
                : hours >= CY_SUNLIGHT_ENOUGH_H ? "enough"
                                                : "short");
}

static void moves_json(struct cy_json *json, const struct cy_sunlight *sun, size_t obstacle)
{
    static const double times[] = {1.5, 2, 3, 4};
    cy_put_array(json, "moved");
    for (size_t i = 0; cy_sunlight_can_move(sun, obstacle) && i < 4; i++) {
        cy_json_object(json);
        cy_put_number(json, "times_as_far", times[i]);
        cy_put_number(json, "field_hours",
                      cy_sunlight_moved(sun, obstacle, times[i], CY_SUNLIGHT_FIELD));
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void obstacles_json(struct cy_json *json, struct cy_steps *steps,
                           const struct cy_sunlight *sun)
{
    cy_put_array(json, "obstacles");
    for (size_t i = 0; i < sun->obstacle_count; i++) {
        struct cy_trace trace = {0};
        cy_sunlight_why_obstacle(&trace, sun, i);
        cy_json_object(json);
        cy_put_text(json, "key", sun->obstacles[i].key);
        cy_put_number(json, "altitude_deg", sun->bands[i].altitude_deg);
        cy_put_number(json, "hides_hours", sun->obstacles[i].hides_h);
        cy_put_number(json, "hours_without_it", sun->mean_h + sun->obstacles[i].alone_h);
        moves_json(json, sun, i);
        behind(json, steps, sun->obstacles[i].basis, &trace);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void rows_json(struct cy_json *json, struct cy_steps *steps, const struct cy_sunlight *sun)
{
    cy_put_array(json, "rows");
    for (size_t i = 0; i < sun->row_count; i++) {
        const struct cy_sunlight_row *row = &sun->rows[i];
        struct cy_trace trace = {0};
        cy_sunlight_why_row(&trace, sun, i);
        cy_json_object(json);
        cy_put_text(json, "key", row->key);
        cy_put_number(json, "mean_hours", row->mean_h);
        rule_json(json, row->mean_h);
        days_json(json, sun, row->day_h);
        cy_put_number(json, "left_face_hours", row->face_h[CY_FACE_LEFT]);
        cy_put_number(json, "right_face_hours", row->face_h[CY_FACE_RIGHT]);
        behind(json, steps, row->basis, &trace);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static void turns_json(struct cy_json *json, const struct cy_sunlight *sun)
{
    cy_put_array(json, "turned");
    for (int bearing = 0; sun->row_count > 0 && bearing < 180; bearing += TURN_DEG) {
        cy_json_object(json);
        cy_put_number(json, "bearing_deg", bearing);
        cy_put_number(json, "rows_mean_hours", cy_sunlight_farm(sun, bearing));
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

void cy_sunlight_json(struct cy_json *json, struct cy_steps *steps, const struct cy_sunlight *sun)
{
    struct cy_trace trace = {0};
    cy_json_object(json);
    cy_put_number(json, "mean_hours", sun->mean_h);
    cy_put_number(json, "level_horizon_hours", sun->level_h);
    cy_put_number(json, "enough_hours", CY_SUNLIGHT_ENOUGH_H);
    cy_put_number(json, "full_hours", CY_SUNLIGHT_FULL_H);
    rule_json(json, sun->mean_h);
    days_json(json, sun, sun->day_h);
    obstacles_json(json, steps, sun);
    rows_json(json, steps, sun);
    cy_put_number(json, "rows_mean_hours", cy_sunlight_farm(sun, NAN));
    turns_json(json, sun);
    cy_sunlight_why_field(&trace, sun);
    behind(json, steps, sun->basis, &trace);
    cy_json_end_object(json);
}
