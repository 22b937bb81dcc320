/* SPDX-License-Identifier: MIT
 * Direct sun behind tree lines and hills, and the shadow of one row on the next. */
#include <caneyear/climate/obstacle.h>

#include <math.h>

#include <caneyear/climate/sun.h>

#include "climate/angle.h"

#define MINUTES_OF_DAY 1440

/* What a row adds: its two neighbours, and the row itself seen from one of its faces. */
#define OWN_MOST (CY_FACE_COUNT + 1)

struct sky {
    double latitude_deg, declination_deg;
    const struct cy_obstacle *obstacles;
    size_t count;
    struct cy_obstacle own[OWN_MOST];
    size_t own_count;
};

static bool band_spans(const struct cy_obstacle *band, double azimuth_deg)
{
    double width = band->to_deg - band->from_deg;

    if (fabs(width) >= 360)
        return true;
    return angle_wrap(azimuth_deg - band->from_deg) <= angle_wrap(width);
}

bool cy_obstacle_hides(const struct cy_obstacle *obstacle, double sun_altitude_deg,
                       double sun_azimuth_deg)
{
    double towards;

    if (obstacle->kind == CY_OBSTACLE_BAND)
        return sun_altitude_deg < obstacle->altitude_deg && band_spans(obstacle, sun_azimuth_deg);
    /* Seen along the sun's bearing the line is further off than square to it. */
    towards = cos(angle_rad(sun_azimuth_deg - obstacle->azimuth_deg));
    return towards > 0 &&
           tan(angle_rad(sun_altitude_deg)) < obstacle->height_over_distance * towards;
}

static bool behind_any(const struct cy_obstacle *obstacles, size_t count, double altitude_deg,
                       double azimuth_deg)
{
    for (size_t i = 0; i < count; i++)
        if (cy_obstacle_hides(&obstacles[i], altitude_deg, azimuth_deg))
            return true;
    return false;
}

static bool lit(const struct sky *sky, double hour_angle_deg)
{
    double altitude, azimuth;

    cy_sun_horizontal(&altitude, &azimuth, sky->latitude_deg, sky->declination_deg, hour_angle_deg);
    if (altitude <= 0)
        return false;
    return !behind_any(sky->own, sky->own_count, altitude, azimuth) &&
           !behind_any(sky->obstacles, sky->count, altitude, azimuth);
}

/* How much of the way from a to b is lit, where just one of the two is. */
static double lit_share(const struct sky *sky, double a_deg, double b_deg, bool a_lit)
{
    double low = 0, high = 1;

    for (int halving = 0; halving < 20; halving++) {
        double middle = (low + high) / 2;
        if (lit(sky, a_deg + middle * (b_deg - a_deg)) == a_lit)
            low = middle;
        else
            high = middle;
    }
    return a_lit ? low : 1 - low;
}

static double hours_of(const struct sky *sky)
{
    bool before = lit(sky, -180);
    double minutes = 0;

    for (int minute = 1; minute <= MINUTES_OF_DAY; minute++) {
        double hour_angle = minute / 4.0 - 180;
        bool now = lit(sky, hour_angle);
        if (now != before)
            minutes += lit_share(sky, hour_angle - 0.25, hour_angle, before);
        else if (now)
            minutes += 1;
        before = now;
    }
    return minutes / 60;
}

double cy_obstacle_sun_hours(double latitude_deg, double declination_deg,
                             const struct cy_obstacle *obstacles, size_t count)
{
    struct sky sky = {latitude_deg, declination_deg, obstacles, count, {{0}}, 0};
    return hours_of(&sky);
}

/* ---- rows ----------------------------------------------------------------------------------- */

double cy_obstacle_face_azimuth(double bearing_deg, int face)
{
    return angle_wrap(face == CY_FACE_LEFT ? bearing_deg - 90 : bearing_deg + 90);
}

void cy_obstacle_neighbours(struct cy_obstacle out[CY_FACE_COUNT], const struct cy_hedge *hedge)
{
    for (int face = 0; face < CY_FACE_COUNT; face++)
        out[face] = (struct cy_obstacle){
            .kind = CY_OBSTACLE_LINE,
            .azimuth_deg = cy_obstacle_face_azimuth(hedge->bearing_deg, face),
            .height_over_distance =
                (hedge->next[face].height_m - hedge->point_m) / hedge->next[face].distance_m};
}

/* The half of the sky that a face does not see. */
static struct cy_obstacle own_row(double bearing_deg, int face)
{
    double away = cy_obstacle_face_azimuth(bearing_deg, face) + 180;
    return (struct cy_obstacle){
        .kind = CY_OBSTACLE_BAND, .from_deg = away - 90, .to_deg = away + 90, .altitude_deg = 90};
}

double cy_obstacle_hedge_hours(double latitude_deg, double declination_deg,
                               const struct cy_hedge *hedge, const struct cy_obstacle *around,
                               size_t count)
{
    struct sky sky = {latitude_deg, declination_deg, around, count, {{0}}, CY_FACE_COUNT};
    cy_obstacle_neighbours(sky.own, hedge);
    return hours_of(&sky);
}

void cy_obstacle_hedge_sun(struct cy_hedge_sun *out, double latitude_deg, double declination_deg,
                           const struct cy_hedge *hedge, const struct cy_obstacle *around,
                           size_t count)
{
    struct sky sky = {latitude_deg, declination_deg, around, count, {{0}}, OWN_MOST};
    cy_obstacle_neighbours(sky.own, hedge);
    for (int face = 0; face < CY_FACE_COUNT; face++) {
        sky.own[CY_FACE_COUNT] = own_row(hedge->bearing_deg, face);
        out->face_h[face] = hours_of(&sky);
    }
    out->hours = cy_obstacle_hedge_hours(latitude_deg, declination_deg, hedge, around, count);
}

double cy_obstacle_row_reach(double height_m, double row_azimuth_deg, double sun_altitude_deg,
                             double sun_azimuth_deg)
{
    if (sun_altitude_deg <= 0)
        return INFINITY;
    return height_m * fabs(sin(angle_rad(sun_azimuth_deg - row_azimuth_deg))) /
           tan(angle_rad(sun_altitude_deg));
}

double cy_obstacle_alley_shade(double reach_m, double clear_alley_m)
{
    return fmin(1, reach_m / clear_alley_m);
}

double cy_obstacle_alley_shade_mean(double latitude_deg, double declination_deg, double height_m,
                                    double row_azimuth_deg, double clear_alley_m)
{
    double half_day_deg = 7.5 * cy_obstacle_sun_hours(latitude_deg, declination_deg, NULL, 0);
    double sum = 0;

    if (half_day_deg <= 0)
        return NAN;
    /* As many equal slices of the day, each taken at its middle, as a day has minutes. */
    for (int slice = 0; slice < MINUTES_OF_DAY; slice++) {
        double share = (slice + 0.5) / MINUTES_OF_DAY;
        double altitude, azimuth, reach;
        cy_sun_horizontal(&altitude, &azimuth, latitude_deg, declination_deg,
                          half_day_deg * (2 * share - 1));
        reach = cy_obstacle_row_reach(height_m, row_azimuth_deg, altitude, azimuth);
        sum += cy_obstacle_alley_shade(reach, clear_alley_m);
    }
    return sum / MINUTES_OF_DAY;
}
