/* SPDX-License-Identifier: MIT
 * What stands between a plant and the sun: trees around the site, and the next row. */
#ifndef CANEYEAR_CLIMATE_OBSTACLE_H
#define CANEYEAR_CLIMATE_OBSTACLE_H

#include <stdbool.h>
#include <stddef.h>

enum cy_obstacle_kind {
    CY_OBSTACLE_LINE, /* a long straight tree line or wall */
    CY_OBSTACLE_BAND  /* a stretch of horizon up to an altitude: a hill, a wood, a barn */
};

struct cy_obstacle {
    enum cy_obstacle_kind kind;
    /* A line: the azimuth from the site square to it, and its height above the plant over its
     * distance. */
    double azimuth_deg, height_over_distance;
    /* A band: clockwise from one azimuth to the other, over north where need be. */
    double from_deg, to_deg, altitude_deg;
};

/* True if the obstacle hides a sun that stands there. */
bool cy_obstacle_hides(const struct cy_obstacle *obstacle, double sun_altitude_deg,
                       double sun_azimuth_deg);

/* Hours of direct sun in a day: its centre above the level horizon and behind no obstacle, the
 * declination held for the day. With no obstacles it is the open sky's. */
double cy_obstacle_sun_hours(double latitude_deg, double declination_deg,
                             const struct cy_obstacle *obstacles, size_t count);

/* How far across the alley the shadow of a long, thin, opaque row falls; infinite with the sun
 * down. Row azimuth 0 is a row that runs north and south, 90 one that runs east and west. */
double cy_obstacle_row_reach(double height_m, double row_azimuth_deg, double sun_altitude_deg,
                             double sun_azimuth_deg);

/* The share of a clear alley (row spacing less canopy width) that a reach covers. */
double cy_obstacle_alley_shade(double reach_m, double clear_alley_m);

/* That share averaged over the daylight, every hour counting alike however weak the sun. It
 * flatters rows that run east and west, whose north faces stay dark. NaN in the polar night. */
double cy_obstacle_alley_shade_mean(double latitude_deg, double declination_deg, double height_m,
                                    double row_azimuth_deg, double clear_alley_m);

#endif
