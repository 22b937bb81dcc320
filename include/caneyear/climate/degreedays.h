/* SPDX-License-Identifier: MIT
 * Degree days: warmth above a base, from a day's minimum and maximum. */
#ifndef CANEYEAR_CLIMATE_DEGREEDAYS_H
#define CANEYEAR_CLIMATE_DEGREEDAYS_H

#include <caneyear/climate/weather.h>

enum cy_degree_days_method {
    CY_DEGREE_DAYS_AVERAGE, /* the day's mean against the base */
    CY_DEGREE_DAYS_LIFTED,  /* minimum and maximum lifted to the base before the mean is taken */
    CY_DEGREE_DAYS_SINE     /* a sine through minimum and maximum, the part above the base */
};

/* What warmth above the upper threshold is worth to the sine; the averages are always cut
 * horizontally, by holding each reading down to the threshold. */
enum cy_degree_days_cutoff {
    CY_DEGREE_DAYS_HORIZONTAL,   /* as much as at the threshold */
    CY_DEGREE_DAYS_INTERMEDIATE, /* that, less as much as it is above */
    CY_DEGREE_DAYS_VERTICAL      /* nothing while it is above */
};

struct cy_degree_days_rule {
    enum cy_degree_days_method method;
    enum cy_degree_days_cutoff cutoff;
    double base_c, upper_c; /* upper above base; INFINITY for none */
};

/* Degree days of one day, tmin no higher than tmax. Never below 0, except that the intermediate
 * cutoff can fall below it on a day that is far above the threshold. */
double cy_degree_days(const struct cy_degree_days_rule *rule, double tmin_c, double tmax_c);

/* The sum over days of the weather, both ends included; days outside the run count nothing. */
double cy_degree_days_sum(const struct cy_degree_days_rule *rule, const struct cy_weather *weather,
                          cy_day from, cy_day to);

#endif
