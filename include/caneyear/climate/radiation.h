/* SPDX-License-Identifier: MIT
 * The sun's energy on a level field, day by day, after FAO Irrigation and Drainage Paper 56
 * (Allen, Pereira, Raes, Smith 1998, chapter 3). Everything is in MJ a square metre and day. */
#ifndef CANEYEAR_CLIMATE_RADIATION_H
#define CANEYEAR_CLIMATE_RADIATION_H

/* Equation 50's factor: 0.16 inland, 0.19 on a coast. */
#define CY_RADIATION_INLAND 0.16
#define CY_RADIATION_COAST 0.19

struct cy_radiation_day {
    double inverse_distance; /* of the earth from the sun, relative (equation 23) */
    double declination_rad;  /* equation 24 */
    double sunset_angle_rad; /* equation 25: 0 in the polar night, pi in the polar day */
    double extraterrestrial; /* Ra, equation 21 */
    double daylight_h;       /* N, equation 34: geometric, without refraction */
};

/* Outside the atmosphere; day_of_year from 1 to 366. */
void cy_radiation_day(struct cy_radiation_day *out, double latitude_deg, int day_of_year);

/* Rs from hours of bright sun (equation 35, coefficients 0.25 and 0.50). Hours beyond the
 * daylight count as the daylight. */
double cy_radiation_from_sun_hours(const struct cy_radiation_day *day, double sun_hours);
/* Rs from the day's range of temperature (equation 50, Hargreaves). */
double cy_radiation_from_range(double extraterrestrial, double tmin_c, double tmax_c,
                               double factor);
/* Rso, under a clear sky (equation 37). */
double cy_radiation_clear_sky(double extraterrestrial, double elevation_m);

/* Rns, kept by a crop that reflects 0.23 (equation 38). */
double cy_radiation_net_short(double solar);
/* Rnl, lost by warmth going out (equation 39); ea is the vapour pressure of the air. */
double cy_radiation_net_long(double tmin_c, double tmax_c, double ea_kpa, double solar,
                             double clear_sky);

#endif
