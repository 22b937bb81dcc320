/* SPDX-License-Identifier: MIT
 * Angles for the sun's geometry: strict C11 has no pi, and growers think in degrees. */
#ifndef CANEYEAR_CLIMATE_ANGLE_H
#define CANEYEAR_CLIMATE_ANGLE_H

#include <math.h>

static const double angle_pi = 3.14159265358979323846;

static inline double angle_rad(double degrees)
{
    return degrees * (angle_pi / 180);
}

static inline double angle_deg(double radians)
{
    return radians * (180 / angle_pi);
}

/* Into [0, 360). */
static inline double angle_wrap(double degrees)
{
    double wrapped = fmod(degrees, 360);
    if (wrapped < 0)
        wrapped += 360;
    return wrapped < 360 ? wrapped : 0; /* a tiny negative rounds up to 360 */
}

static inline double angle_clamp(double value, double low, double high)
{
    return fmin(fmax(value, low), high);
}

#endif
