/* SPDX-License-Identifier: MIT
 * Daily radiation by the equations of FAO Irrigation and Drainage Paper 56, chapter 3. */
#include <caneyear/climate/radiation.h>

#include <math.h>

#include "climate/angle.h"

static const double solar_constant = 0.0820;     /* MJ a square metre and minute */
static const double stefan_boltzmann = 4.903e-9; /* MJ a square metre, day and K^4 */
static const double kelvin = 273.16;             /* the offset that the paper uses here */

void cy_radiation_day(struct cy_radiation_day *out, double latitude_deg, int day_of_year)
{
    double latitude = angle_rad(latitude_deg);
    double season = 2 * angle_pi * day_of_year / 365;
    double declination = 0.409 * sin(season - 1.39);
    double sunset = acos(angle_clamp(-tan(latitude) * tan(declination), -1, 1));

    out->inverse_distance = 1 + 0.033 * cos(season);
    out->declination_rad = declination;
    out->sunset_angle_rad = sunset;
    out->extraterrestrial = 1440 / angle_pi * solar_constant * out->inverse_distance *
                            (sunset * sin(latitude) * sin(declination) +
                             cos(latitude) * cos(declination) * sin(sunset));
    out->daylight_h = 24 / angle_pi * sunset;
}

double cy_radiation_from_sun_hours(const struct cy_radiation_day *day, double sun_hours)
{
    double share = day->daylight_h > 0 ? fmin(1, sun_hours / day->daylight_h) : 0;

    return (0.25 + 0.50 * share) * day->extraterrestrial;
}

double cy_radiation_from_range(double extraterrestrial, double tmin_c, double tmax_c, double factor)
{
    return factor * sqrt(tmax_c - tmin_c) * extraterrestrial;
}

double cy_radiation_clear_sky(double extraterrestrial, double elevation_m)
{
    return (0.75 + 2e-5 * elevation_m) * extraterrestrial;
}

double cy_radiation_net_short(double solar)
{
    return (1 - 0.23) * solar;
}

double cy_radiation_net_long(double tmin_c, double tmax_c, double ea_kpa, double solar,
                             double clear_sky)
{
    double emitted = stefan_boltzmann * (pow(tmax_c + kelvin, 4) + pow(tmin_c + kelvin, 4)) / 2;
    /* A sun that does not rise says nothing of clouds: a clear sky is taken, which loses most. */
    double clearness = clear_sky > 0 ? fmin(1, solar / clear_sky) : 1;

    return emitted * (0.34 - 0.14 * sqrt(ea_kpa)) * (1.35 * clearness - 0.35);
}
