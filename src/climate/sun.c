/* SPDX-License-Identifier: MIT
 * The sun's place by the low-precision series of Meeus, in the form of NOAA's solar calculator. */
#include <caneyear/climate/sun.h>

#include <math.h>
#include <stdbool.h>

#include "climate/angle.h"

/* Refraction and half the sun's width, as the solar position algorithm of Reda and Andreas
 * (Solar Energy 76, 2004) takes them to decide whether any of the sun can be seen. */
static const double refraction_at_horizon_deg = 0.5667, half_width_deg = 0.26667;

struct series {
    double sine_declination, equation_of_time_min;
};

/* Meeus, Astronomical Algorithms, chapter 25 (low accuracy) and 28 (equation of time); from
 * memory, held to the published example of the solar position algorithm by the tests. */
static struct series series_at(double julian_day)
{
    double t = (julian_day - 2451545) / 36525;
    double longitude = angle_rad(angle_wrap(280.46646 + t * (36000.76983 + 0.0003032 * t)));
    double anomaly = angle_rad(angle_wrap(357.52911 + t * (35999.05029 - 0.0001537 * t)));
    double eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
    double centre = sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t)) +
                    sin(2 * anomaly) * (0.019993 - 0.000101 * t) + sin(3 * anomaly) * 0.000289;
    double node = angle_rad(125.04 - 1934.136 * t);
    double apparent = longitude + angle_rad(centre - 0.00569 - 0.00478 * sin(node));
    double seconds = 21.448 - t * (46.815 + t * (0.00059 - 0.001813 * t));
    double obliquity = angle_rad(23 + (26 + seconds / 60) / 60 + 0.00256 * cos(node));
    double y = tan(obliquity / 2) * tan(obliquity / 2);
    double equation = y * sin(2 * longitude) - 2 * eccentricity * sin(anomaly) +
                      4 * eccentricity * y * sin(anomaly) * cos(2 * longitude) -
                      0.5 * y * y * sin(4 * longitude) -
                      1.25 * eccentricity * eccentricity * sin(2 * anomaly);

    return (struct series){
        .sine_declination = sin(obliquity) * sin(apparent),
        .equation_of_time_min = 4 * angle_deg(equation),
    };
}

double cy_sun_julian_day(cy_day day, double hour_ut)
{
    return 2440587.5 + day + hour_ut / 24; /* day 0 began at 2440587.5 */
}

void cy_sun_horizontal(double *altitude_deg, double *azimuth_deg, double latitude_deg,
                       double declination_deg, double hour_angle_deg)
{
    double latitude = angle_rad(latitude_deg);
    double declination = angle_rad(declination_deg);
    double hour_angle = angle_rad(hour_angle_deg);
    double east = -cos(declination) * sin(hour_angle);
    double north =
        sin(declination) * cos(latitude) - cos(declination) * cos(hour_angle) * sin(latitude);
    double up =
        sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * cos(hour_angle);

    /* Not asin(up): it loses half the digits with the sun near the zenith. */
    *altitude_deg = angle_deg(atan2(up, hypot(east, north)));
    *azimuth_deg = angle_wrap(angle_deg(atan2(east, north)));
}

double cy_sun_refraction(double altitude_deg, double pressure_hpa, double air_c)
{
    if (altitude_deg < -(half_width_deg + refraction_at_horizon_deg))
        return 0;
    return pressure_hpa / 1010 * 283 / (273 + air_c) * 1.02 /
           (60 * tan(angle_rad(altitude_deg + 10.3 / (altitude_deg + 5.11))));
}

void cy_sun_position(struct cy_sun_position *out, double julian_day, double latitude_deg,
                     double longitude_deg, double pressure_hpa, double air_c)
{
    struct series series = series_at(julian_day);
    double midnight = floor(julian_day - 0.5) + 0.5;
    double minutes_ut = (julian_day - midnight) * 1440;
    double solar_minutes = minutes_ut + series.equation_of_time_min + 4 * longitude_deg;

    out->declination_deg = angle_deg(asin(series.sine_declination));
    out->equation_of_time_min = series.equation_of_time_min;
    out->hour_angle_deg = angle_wrap(solar_minutes / 4) - 180;
    cy_sun_horizontal(&out->altitude_deg, &out->azimuth_deg, latitude_deg, out->declination_deg,
                      out->hour_angle_deg);
    out->zenith_deg = 90 - out->altitude_deg;
    out->apparent_altitude_deg =
        out->altitude_deg + cy_sun_refraction(out->altitude_deg, pressure_hpa, air_c);
}

/* ---- sunrise, noon, sunset ---------------------------------------------------------------- */

struct local_day {
    cy_day day;
    double latitude_deg, longitude_deg, zone_h;
};

static double altitude_at(const struct local_day *local, double hour)
{
    struct cy_sun_position position;

    cy_sun_position(&position, cy_sun_julian_day(local->day, hour - local->zone_h),
                    local->latitude_deg, local->longitude_deg, CY_SUN_PRESSURE_HPA, CY_SUN_AIR_C);
    return position.altitude_deg;
}

static double noon_of(const struct local_day *local)
{
    double mean_noon = 12 + local->zone_h - local->longitude_deg / 15;
    double noon;

    mean_noon -= 24 * floor(mean_noon / 24);
    noon = mean_noon;
    /* The equation of time moves half a minute a day at most: two rounds reach a millisecond. */
    for (int round = 0; round < 2; round++)
        noon = mean_noon -
               series_at(cy_sun_julian_day(local->day, noon - local->zone_h)).equation_of_time_min /
                   60;
    return noon;
}

/* The hour between `low_h`, when the sun is not above the altitude, and `high_h`, when it is. */
static double crossing(const struct local_day *local, double low_h, double high_h,
                       double altitude_deg)
{
    for (int halving = 0; halving < 40; halving++) {
        double middle = (low_h + high_h) / 2;
        if (altitude_at(local, middle) > altitude_deg)
            high_h = middle;
        else
            low_h = middle;
    }
    return (low_h + high_h) / 2;
}

void cy_sun_times(struct cy_sun_times *out, cy_day day, double latitude_deg, double longitude_deg,
                  double zone_h, double altitude_deg)
{
    struct local_day local = {day, latitude_deg, longitude_deg, zone_h};
    double noon = noon_of(&local);
    bool rises, sets;

    *out = (struct cy_sun_times){CY_SUN_NEVER_RISES, noon, NAN, NAN};
    if (altitude_at(&local, noon) <= altitude_deg)
        return;
    /* The declination drifts, so that near the polar day one midnight can be lit and the other
     * dark: each side of noon is looked at by itself. */
    rises = altitude_at(&local, noon - 12) <= altitude_deg;
    sets = altitude_at(&local, noon + 12) <= altitude_deg;
    out->kind = rises || sets ? CY_SUN_RISES_AND_SETS : CY_SUN_NEVER_SETS;
    if (rises)
        out->sunrise_h = crossing(&local, noon - 12, noon, altitude_deg);
    if (sets)
        out->sunset_h = crossing(&local, noon + 12, noon, altitude_deg);
}

double cy_sun_declination(cy_day day, double longitude_deg)
{
    struct local_day local = {day, 0, longitude_deg, longitude_deg / 15};
    double noon_ut = noon_of(&local) - local.zone_h;

    return angle_deg(asin(series_at(cy_sun_julian_day(day, noon_ut)).sine_declination));
}

double cy_sun_day_length(cy_day day, double latitude_deg, double longitude_deg, double altitude_deg)
{
    struct cy_sun_times times;
    double before = 12, after = 12;

    cy_sun_times(&times, day, latitude_deg, longitude_deg, longitude_deg / 15, altitude_deg);
    if (times.kind == CY_SUN_NEVER_RISES)
        return 0;
    if (!isnan(times.sunrise_h))
        before = times.noon_h - times.sunrise_h;
    if (!isnan(times.sunset_h))
        after = times.sunset_h - times.noon_h;
    return before + after;
}
