/* SPDX-License-Identifier: MIT
 * Degree days by two readings of the average and by the single sine (Baskerville and Emin,
 * Ecology 50, 1969; volume from memory). */
#include <caneyear/climate/degreedays.h>

#include <math.h>

#include "climate/angle.h"

static double average(double tmin_c, double tmax_c, double base_c, double upper_c)
{
    return fmax(0, (fmin(tmin_c, upper_c) + fmin(tmax_c, upper_c)) / 2 - base_c);
}

static double lifted(double tmin_c, double tmax_c, double base_c, double upper_c)
{
    return average(fmax(tmin_c, base_c), fmax(tmax_c, base_c), base_c, upper_c);
}

struct sine {
    double mean, half_range;
};

/* The angle from which the sine is above `level`, within a quarter turn of the mean; the whole
 * day at -90 degrees, none of it at 90. */
static double rising_through(const struct sine *sine, double level)
{
    if (level <= sine->mean - sine->half_range)
        return -angle_pi / 2;
    if (level >= sine->mean + sine->half_range)
        return angle_pi / 2;
    return asin((level - sine->mean) / sine->half_range);
}

static double above(const struct sine *sine, double level)
{
    double theta = rising_through(sine, level);

    /* Written out where it is exact, so that a day all on one side carries no rounding. */
    if (theta >= angle_pi / 2)
        return 0;
    if (theta <= -angle_pi / 2)
        return sine->mean - level;
    return ((sine->mean - level) * (angle_pi / 2 - theta) + sine->half_range * cos(theta)) /
           angle_pi;
}

static double single_sine(const struct cy_degree_days_rule *rule, double tmin_c, double tmax_c)
{
    struct sine sine = {(tmin_c + tmax_c) / 2, (tmax_c - tmin_c) / 2};
    double warm = above(&sine, rule->base_c);
    double over, share_over;

    if (rule->upper_c >= tmax_c)
        return warm;
    over = above(&sine, rule->upper_c);
    if (rule->cutoff == CY_DEGREE_DAYS_INTERMEDIATE)
        return warm - 2 * over;
    if (rule->cutoff == CY_DEGREE_DAYS_HORIZONTAL)
        return warm - over;
    share_over = 0.5 - rising_through(&sine, rule->upper_c) / angle_pi;
    return warm - over - (rule->upper_c - rule->base_c) * share_over;
}

double cy_degree_days(const struct cy_degree_days_rule *rule, double tmin_c, double tmax_c)
{
    switch (rule->method) {
    case CY_DEGREE_DAYS_AVERAGE:
        return average(tmin_c, tmax_c, rule->base_c, rule->upper_c);
    case CY_DEGREE_DAYS_LIFTED:
        return lifted(tmin_c, tmax_c, rule->base_c, rule->upper_c);
    case CY_DEGREE_DAYS_SINE:
        break;
    }
    return single_sine(rule, tmin_c, tmax_c);
}

double cy_degree_days_sum(const struct cy_degree_days_rule *rule, const struct cy_weather *weather,
                          cy_day from, cy_day to)
{
    double sum = 0;

    for (int i = 0; i < weather->days; i++) {
        cy_day day = weather->first + i;
        if (day >= from && day <= to)
            sum += cy_degree_days(rule, weather->tmin_c[i], weather->tmax_c[i]);
    }
    return sum;
}
