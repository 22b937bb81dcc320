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

/* A row has two faces, and a neighbour at each: left and right of someone who looks along its
 * bearing. */
enum { CY_FACE_LEFT, CY_FACE_RIGHT, CY_FACE_COUNT };

/* A long, straight, thin and opaque row beside another. */
struct cy_neighbour {
    double height_m;   /* from the ground; 0 where there is no row */
    double distance_m; /* from row to row, over 0 */
};

/* A hedgerow between its neighbours. The sun is counted at one height in the middle of the row, half
 * way along it. */
struct cy_hedge {
    double bearing_deg; /* the way it runs; the opposite way is the same with the faces changed */
    double point_m;     /* where the sun is counted, from the ground */
    struct cy_neighbour next[CY_FACE_COUNT];
};

struct cy_hedge_sun {
    double hours;                 /* on one face or the other */
    double face_h[CY_FACE_COUNT]; /* on each; the row itself stands in the other's way */
};

/* The azimuth that a face looks to, in [0, 360). */
double cy_obstacle_face_azimuth(double bearing_deg, int face);
/* The two neighbours as lines, seen from the point: one spacing away square to the row on either
 * side, and as high above the point as they are taller. Seen along the sun's bearing a neighbour
 * is further off than square to it: that is what sets rows that run north and south, which lose
 * both ends of the day, apart from rows that run east and west, which lose the low sun of winter. */
void cy_obstacle_neighbours(struct cy_obstacle out[CY_FACE_COUNT], const struct cy_hedge *hedge);

#define CY_OBSTACLE_MINUTES 1440

/* A day's sun, minute by minute, and when it is behind none of the obstacles around a field: worked
 * out once for all the rows there. */
struct cy_obstacle_day {
    double latitude_deg, declination_deg;
    const struct cy_obstacle *around; /* borrowed */
    size_t count;
    double tan_altitude[CY_OBSTACLE_MINUTES + 1];
    double east[CY_OBSTACLE_MINUTES + 1], north[CY_OBSTACLE_MINUTES + 1]; /* of its azimuth */
    bool open[CY_OBSTACLE_MINUTES + 1]; /* up, and behind nothing around */
};

void cy_obstacle_day_of(struct cy_obstacle_day *out, double latitude_deg, double declination_deg,
                        const struct cy_obstacle *around, size_t count);

/* Hours of direct sun at the point on that day, behind neither neighbour either; and how they fall
 * on the two faces. */
double cy_obstacle_hedge_hours(const struct cy_obstacle_day *day, const struct cy_hedge *hedge);
void cy_obstacle_hedge_sun(struct cy_hedge_sun *out, const struct cy_obstacle_day *day,
                           const struct cy_hedge *hedge);

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
