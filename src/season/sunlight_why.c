/* SPDX-License-Identifier: MIT
 * Why the sun is what it is on a field and at a row: inputs, formulas, sources. */
#include <caneyear/season/sunlight.h>

#include <math.h>

#include "season/plan_parts.h"

#define FORMULA                                                                                    \
    "hours in which the sun's centre stands above the level horizon and behind nothing, the mean " \
    "of the six days in mid-month from spring to autumn; minute by minute, clouds left out"
#define ROW_FORMULA                                                                                \
    FORMULA "; half way up the row, between thin opaque rows: a neighbour hides a sun at azimuth " \
            "az where tan(altitude) < (its height - half this row's) / distance x cos(az - "       \
            "azimuth square to it)"
#define SKY_SOURCE                                                                                 \
    "sun: low-precision series of Meeus, Astronomical Algorithms; obstacles and rows: geometry"

static void obstacle_inputs(struct cy_trace *trace, const struct cy_sunlight_obstacle *obstacle)
{
    cy_why_value(trace, "an obstacle from", &obstacle->from, CY_Q_ANGLE);
    cy_why_value(trace, "to", &obstacle->to, CY_Q_ANGLE);
    if (obstacle->altitude.known) {
        cy_why_value(trace, "up to", &obstacle->altitude, CY_Q_ANGLE);
    } else {
        cy_why_value(trace, "height", &obstacle->height, CY_Q_LENGTH);
        cy_why_value(trace, "distance", &obstacle->distance, CY_Q_LENGTH);
    }
}

static void horizon_inputs(struct cy_trace *trace, const struct cy_sunlight *sun)
{
    cy_trace_number(trace, "latitude", sun->latitude_deg, CY_Q_ANGLE, CY_BASIS_NONE, "");
    for (size_t i = 0; i < sun->obstacle_count; i++)
        obstacle_inputs(trace, &sun->obstacles[i]);
    if (sun->obstacle_count == 0)
        cy_trace_text(trace, "obstacles", "none described: an open sky is taken",
                      CY_BASIS_PLACEHOLDER, "");
}

static void day_inputs(struct cy_trace *trace, const struct cy_sunlight *sun,
                       const double hours[CY_SUNLIGHT_DAYS], cy_basis basis)
{
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++) {
        char day[CY_DAY_TEXT];
        cy_trace_number(trace, cy_day_print(day, sun->day[i]), hours[i], CY_Q_HOURS, basis, "");
    }
}

static void limits(struct cy_trace *trace)
{
    cy_trace_number(trace, "enough from", CY_SUNLIGHT_ENOUGH_H, CY_Q_HOURS, CY_BASIS_MEMORY, "");
    cy_trace_number(trace, "full from", CY_SUNLIGHT_FULL_H, CY_Q_HOURS, CY_BASIS_MEMORY, "");
}

bool cy_sunlight_why_field(struct cy_trace *trace, const struct cy_sunlight *sun)
{
    cy_trace_begin(trace, "hours of direct sun a day over the season", FORMULA,
                   CY_SUNLIGHT_SOURCE "; " SKY_SOURCE);
    horizon_inputs(trace, sun);
    day_inputs(trace, sun, sun->day_h, sun->basis);
    limits(trace);
    cy_trace_result(trace, sun->mean_h, CY_Q_HOURS, sun->basis);
    return true;
}

static void next_inputs(struct cy_trace *trace, const struct cy_sunlight_row *row)
{
    static const char *const heights[] = {"height of the row on the left",
                                          "height of the row on the right"};
    static const char *const distances[] = {"distance of the row on the left",
                                            "distance of the row on the right"};
    for (int face = 0; face < CY_FACE_COUNT; face++) {
        if (!(row->next[face].height_m > 0)) {
            cy_trace_text(trace, heights[face], "no row stands there", row->basis, "");
            continue;
        }
        cy_trace_number(trace, heights[face], row->next[face].height_m, CY_Q_LENGTH, row->basis,
                        row->placed ? row->next_name[face] : "taken to be as high as this one");
        cy_trace_number(trace, distances[face], row->next[face].distance_m, CY_Q_LENGTH, row->basis,
                        row->placed ? "x and y of the rows" : "row_spacing");
    }
}

static void row_inputs(struct cy_trace *trace, const struct cy_sunlight_row *row, bool bearing)
{
    cy_trace_number(trace, "height of the row", row->hedge_m, CY_Q_LENGTH, row->hedge_basis, "");
    if (bearing)
        cy_why_value(trace, "bearing", &row->bearing, CY_Q_ANGLE);
    next_inputs(trace, row);
}

bool cy_sunlight_why_row(struct cy_trace *trace, const struct cy_sunlight *sun, size_t index)
{
    if (index >= sun->row_count)
        return false;
    const struct cy_sunlight_row *row = &sun->rows[index];
    cy_trace_begin(trace, "hours of direct sun a day at the row", ROW_FORMULA,
                   CY_SUNLIGHT_SOURCE "; " SKY_SOURCE);
    horizon_inputs(trace, sun);
    row_inputs(trace, row, true);
    day_inputs(trace, sun, row->day_h, row->basis);
    cy_trace_number(trace, "of it on the left face", row->face_h[CY_FACE_LEFT], CY_Q_HOURS,
                    row->basis, "");
    cy_trace_number(trace, "on the right face", row->face_h[CY_FACE_RIGHT], CY_Q_HOURS, row->basis,
                    "");
    limits(trace);
    cy_trace_result(trace, row->mean_h, CY_Q_HOURS, row->basis);
    return true;
}

bool cy_sunlight_why_obstacle(struct cy_trace *trace, const struct cy_sunlight *sun, size_t index)
{
    if (index >= sun->obstacle_count)
        return false;
    const struct cy_sunlight_obstacle *obstacle = &sun->obstacles[index];
    cy_trace_begin(trace, "hours a day that it stands before the sun",
                   "sun over a level horizon less sun behind this obstacle alone: " FORMULA,
                   SKY_SOURCE);
    cy_trace_number(trace, "latitude", sun->latitude_deg, CY_Q_ANGLE, CY_BASIS_NONE, "");
    obstacle_inputs(trace, obstacle);
    cy_trace_number(trace, "over a level horizon", sun->level_h, CY_Q_HOURS, CY_BASIS_NONE, "");
    cy_trace_number(trace, "of it behind nothing else", obstacle->alone_h, CY_Q_HOURS, sun->basis,
                    "");
    cy_trace_result(trace, obstacle->hides_h, CY_Q_HOURS, obstacle->basis);
    return true;
}

bool cy_sunlight_why_turned(struct cy_trace *trace, const struct cy_sunlight *sun, size_t index,
                            double bearing_deg)
{
    bool farm = index == CY_SUNLIGHT_FIELD;
    if ((!farm && index >= sun->row_count) || sun->row_count == 0)
        return false;
    const struct cy_sunlight_row *row = &sun->rows[farm ? 0 : index];
    struct cy_hedge_sun turned;
    cy_sunlight_turn(&turned, sun, farm ? 0 : index, bearing_deg);
    cy_trace_begin(trace,
                   farm ? "hours of direct sun a day with every row turned, by the rows' lengths"
                        : "hours of direct sun a day with the row and its neighbours turned",
                   ROW_FORMULA, SKY_SOURCE);
    horizon_inputs(trace, sun);
    cy_trace_number(trace, "turned to", bearing_deg, CY_Q_ANGLE, CY_BASIS_NONE, "");
    cy_basis basis = row->basis;
    for (size_t i = farm ? 0 : index; i < (farm ? sun->row_count : index + 1); i++) {
        if (sun->rows[i].alike == i || !farm)
            row_inputs(trace, &sun->rows[i], false);
        basis |= sun->rows[i].basis;
    }
    if (!farm) {
        cy_trace_number(trace, "of it on the left face", turned.face_h[CY_FACE_LEFT], CY_Q_HOURS,
                        basis, "");
        cy_trace_number(trace, "on the right face", turned.face_h[CY_FACE_RIGHT], CY_Q_HOURS, basis,
                        "");
    }
    cy_trace_result(trace, farm ? cy_sunlight_farm(sun, bearing_deg) : turned.hours, CY_Q_HOURS,
                    basis);
    return true;
}

void cy_sunlight_why_proposed(struct cy_trace *trace, const struct cy_sunlight *sun, double hedge_m,
                              cy_basis hedge_basis, const struct cy_given *spacing,
                              double bearing_deg)
{
    struct cy_hedge_sun light;
    cy_sunlight_propose(&light, sun, hedge_m, spacing->number, bearing_deg);
    cy_trace_begin(trace, "hours of direct sun a day at the proposed rows", ROW_FORMULA,
                   SKY_SOURCE);
    horizon_inputs(trace, sun);
    cy_trace_number(trace, "height of the rows", hedge_m, CY_Q_LENGTH, hedge_basis, "");
    cy_why_value(trace, "from row to row", spacing, CY_Q_LENGTH);
    cy_trace_number(trace, "bearing", bearing_deg, CY_Q_ANGLE, CY_BASIS_NONE, "");
    cy_trace_result(trace, light.hours, CY_Q_HOURS, sun->basis | hedge_basis | spacing->basis);
}

bool cy_sunlight_why_moved(struct cy_trace *trace, const struct cy_sunlight *sun, size_t obstacle,
                           double times, size_t row)
{
    double mean = cy_sunlight_moved(sun, obstacle, times, row);
    if (isnan(mean))
        return false;
    cy_basis basis = row == CY_SUNLIGHT_FIELD ? sun->basis : sun->rows[row].basis;
    cy_trace_begin(trace, "hours of direct sun a day further from an obstacle",
                   "the altitude becomes atan(height / (times x distance)), the half width w "
                   "atan(sin w / (cos w + times - 1)): " FORMULA,
                   SKY_SOURCE);
    cy_trace_number(trace, "times as far", times, CY_Q_NUMBER, CY_BASIS_NONE, "");
    obstacle_inputs(trace, &sun->obstacles[obstacle]);
    horizon_inputs(trace, sun);
    if (row != CY_SUNLIGHT_FIELD)
        row_inputs(trace, &sun->rows[row], true);
    cy_trace_result(trace, mean, CY_Q_HOURS, basis);
    return true;
}
