/* SPDX-License-Identifier: MIT
 * Direct sun behind tree lines and hills, and the shadow of one row on the next. */
#include <caneyear/climate/obstacle.h>

#include <math.h>

#include <caneyear/climate/sun.h>

#include "climate/angle.h"

#define MINUTES_OF_DAY CY_OBSTACLE_MINUTES
/* A minute is halved this often to find when the sun comes or goes: to 0.02 s. */
#define HALVINGS 12

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

/* ---- a day ---------------------------------------------------------------------------------- */

/* What a row adds to the obstacles around: its two neighbours, and the row itself in the way of one
 * of its faces. Nothing, where `neighbours` is 0 and no face is asked for. */
struct own {
    double east[CY_FACE_COUNT], north[CY_FACE_COUNT]; /* of the way to each neighbour */
    double steep[CY_FACE_COUNT];                      /* its height over its distance */
    int neighbours;
    bool of_face;
    int face;
};

/* True where a sun of that azimuth, as its two parts, is before neither neighbour nor behind the
 * row itself. */
static bool clears(const struct own *own, double tan_altitude, double east, double north)
{
    for (int i = 0; i < own->neighbours; i++) {
        /* Seen along the sun's bearing the line is further off than square to it. */
        double towards = east * own->east[i] + north * own->north[i];
        if (tan_altitude < own->steep[i] * towards)
            return false;
        if (own->of_face && i == own->face && towards <= 0)
            return false;
    }
    return true;
}

static bool lit(const struct cy_obstacle_day *day, const struct own *own, double hour_angle_deg)
{
    double altitude, azimuth;

    cy_sun_horizontal(&altitude, &azimuth, day->latitude_deg, day->declination_deg, hour_angle_deg);
    return altitude > 0 && !behind_any(day->around, day->count, altitude, azimuth) &&
           clears(own, tan(angle_rad(altitude)), sin(angle_rad(azimuth)), cos(angle_rad(azimuth)));
}

static bool lit_at(const struct cy_obstacle_day *day, const struct own *own, int minute)
{
    return day->open[minute] &&
           clears(own, day->tan_altitude[minute], day->east[minute], day->north[minute]);
}

void cy_obstacle_day_of(struct cy_obstacle_day *out, double latitude_deg, double declination_deg,
                        const struct cy_obstacle *around, size_t count)
{
    out->latitude_deg = latitude_deg;
    out->declination_deg = declination_deg;
    out->around = around;
    out->count = count;
    for (int minute = 0; minute <= MINUTES_OF_DAY; minute++) {
        double altitude, azimuth;
        cy_sun_horizontal(&altitude, &azimuth, latitude_deg, declination_deg, minute / 4.0 - 180);
        out->tan_altitude[minute] = tan(angle_rad(altitude));
        out->east[minute] = sin(angle_rad(azimuth));
        out->north[minute] = cos(angle_rad(azimuth));
        out->open[minute] = altitude > 0 && !behind_any(around, count, altitude, azimuth);
    }
}

/* How much of the minute from a to b is lit, where just one of the two is. */
static double lit_share(const struct cy_obstacle_day *day, const struct own *own, double a_deg,
                        double b_deg, bool a_lit)
{
    double low = 0, high = 1;

    for (int halving = 0; halving < HALVINGS; halving++) {
        double middle = (low + high) / 2;
        if (lit(day, own, a_deg + middle * (b_deg - a_deg)) == a_lit)
            low = middle;
        else
            high = middle;
    }
    return a_lit ? low : 1 - low;
}

static double hours_of(const struct cy_obstacle_day *day, const struct own *own)
{
    bool before = lit_at(day, own, 0);
    double minutes = 0;

    for (int minute = 1; minute <= MINUTES_OF_DAY; minute++) {
        double hour_angle = minute / 4.0 - 180;
        bool now = lit_at(day, own, minute);
        if (now != before)
            minutes += lit_share(day, own, hour_angle - 0.25, hour_angle, before);
        else if (now)
            minutes += 1;
        before = now;
    }
    return minutes / 60;
}

double cy_obstacle_sun_hours(double latitude_deg, double declination_deg,
                             const struct cy_obstacle *obstacles, size_t count)
{
    struct cy_obstacle_day day;
    struct own nothing = {.neighbours = 0};

    cy_obstacle_day_of(&day, latitude_deg, declination_deg, obstacles, count);
    return hours_of(&day, &nothing);
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

static void own_of(struct own *out, const struct cy_hedge *hedge)
{
    struct cy_obstacle lines[CY_FACE_COUNT];
    *out = (struct own){.neighbours = CY_FACE_COUNT};
    cy_obstacle_neighbours(lines, hedge);
    for (int face = 0; face < CY_FACE_COUNT; face++) {
        out->east[face] = sin(angle_rad(lines[face].azimuth_deg));
        out->north[face] = cos(angle_rad(lines[face].azimuth_deg));
        out->steep[face] = fmax(0, lines[face].height_over_distance);
    }
}

double cy_obstacle_hedge_hours(const struct cy_obstacle_day *day, const struct cy_hedge *hedge)
{
    struct own own;
    own_of(&own, hedge);
    return hours_of(day, &own);
}

void cy_obstacle_hedge_sun(struct cy_hedge_sun *out, const struct cy_obstacle_day *day,
                           const struct cy_hedge *hedge)
{
    struct own own;
    own_of(&own, hedge);
    out->hours = hours_of(day, &own);
    own.of_face = true;
    for (own.face = 0; own.face < CY_FACE_COUNT; own.face++)
        out->face_h[own.face] = hours_of(day, &own);
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
