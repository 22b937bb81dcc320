/* SPDX-License-Identifier: MIT
 * Heat: growing degree hours, linear between a base and an optimum. */
#ifndef CANEYEAR_CLIMATE_HEAT_H
#define CANEYEAR_CLIMATE_HEAT_H

#include <stddef.h>

/* Blackberry's needs to bloom are published in these bounds, linear between them (Black et al.,
 * HortScience 43(7):2000-2004, 2008). */
#define CY_HEAT_BASE_C 6.0
#define CY_HEAT_OPTIMUM_C 25.0

/* The sum over hourly temperatures in C of max(0, min(T, optimum) - base), in C h: an hour above
 * the optimum counts like one at it. */
double cy_heat_degree_hours(const double *temps, size_t count, double base, double optimum);

#endif
