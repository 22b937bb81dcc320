/* SPDX-License-Identifier: MIT
 * Where the sun stands, when it rises and sets, and how long the day is.
 *
 * Latitude counts north and longitude east; azimuth counts from north, clockwise. Good to about
 * 0.02 degrees and 3 seconds between 1900 and 2100 (the low-precision series of Meeus). */
#ifndef CANEYEAR_CLIMATE_SUN_H
#define CANEYEAR_CLIMATE_SUN_H

#include <caneyear/base/day.h>

/* The centre's geometric altitude when the upper rim is seen to touch the horizon: 34 minutes of
 * refraction and 16 of the sun's half width. */
#define CY_SUN_RIM_DEG (-0.833)

/* For a day's length where only the latitude is given. The sun moves on between one meridian's
 * noon and the next, but half the way round the earth is less than two minutes of day
 * at middle latitudes. */
#define CY_SUN_MERIDIAN_DEG (-90.0)

/* The air of the refraction formula where nothing better is known. */
#define CY_SUN_PRESSURE_HPA 1013.25
#define CY_SUN_AIR_C 10.0

struct cy_sun_position {
    double declination_deg;
    double equation_of_time_min;  /* sundial ahead of the clock is positive */
    double hour_angle_deg;        /* in [-180, 180), 0 at the sun's noon, afternoon positive */
    double altitude_deg;          /* geometric, of the centre */
    double zenith_deg;            /* 90 less that */
    double azimuth_deg;           /* in [0, 360) */
    double apparent_altitude_deg; /* lifted by refraction while any of the sun can be seen */
};

enum cy_sun_kind { CY_SUN_RISES_AND_SETS, CY_SUN_NEVER_SETS, CY_SUN_NEVER_RISES };

struct cy_sun_times {
    enum cy_sun_kind kind;
    double noon_h;    /* of the local day, in [0, 24) up to rounding */
    double sunrise_h; /* the one before that noon, NaN where there is none */
    double sunset_h;  /* the one after it; far north, or far from the zone, it may pass 24 */
};

/* The Julian day of an hour (universal time) of a calendar day. */
double cy_sun_julian_day(cy_day day, double hour_ut);

void cy_sun_position(struct cy_sun_position *out, double julian_day, double latitude_deg,
                     double longitude_deg, double pressure_hpa, double air_c);

/* How far refraction lifts a geometric altitude; 0 where the whole sun is below the horizon. */
double cy_sun_refraction(double altitude_deg, double pressure_hpa, double air_c);

/* Altitude and azimuth from the three angles that fix them. */
void cy_sun_horizontal(double *altitude_deg, double *azimuth_deg, double latitude_deg,
                       double declination_deg, double hour_angle_deg);

/* Sunrise, noon and sunset on a local calendar day, in hours of the clock that is `zone_h` ahead
 * of universal time; the sun counts as up while its centre is above `altitude_deg`. */
void cy_sun_times(struct cy_sun_times *out, cy_day day, double latitude_deg, double longitude_deg,
                  double zone_h, double altitude_deg);

/* At the sun's noon of that day on a meridian. */
double cy_sun_declination(cy_day day, double longitude_deg);

/* Hours from sunrise to sunset around that noon: 0 in the polar night, 24 in the polar day.
 * CY_SUN_RIM_DEG gives the day of almanacs, 0 geometry's. */
double cy_sun_day_length(cy_day day, double latitude_deg, double longitude_deg,
                         double altitude_deg);

#endif
