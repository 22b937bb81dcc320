/* SPDX-License-Identifier: MIT
 * Growing degree hours over hourly temperatures. */
#include <caneyear/climate/heat.h>

double cy_heat_degree_hours(const double *temps, size_t count, double base, double optimum)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        double capped = temps[i] < optimum ? temps[i] : optimum;
        sum += capped > base ? capped - base : 0;
    }
    return sum;
}
