/* SPDX-License-Identifier: MIT
 * Chill: five published ways to count it over hourly temperatures in C. */
#ifndef CANEYEAR_CLIMATE_CHILL_H
#define CANEYEAR_CLIMATE_CHILL_H

#include <stdbool.h>
#include <stddef.h>

/* Air at or below this starts the blackberry count: 28 F (Warmund and Krumme, HortScience
 * 40(5):1259-1262, 2005, abstract). */
#define CY_CHILL_FIRST_FREEZE_C (-2.2)

/* Hours with 0.0 <= T <= 7.2. */
double cy_chill_hours(const double *temps, size_t count);
/* Hours with T <= 7.2, frost counted too. */
double cy_chill_hours_below(const double *temps, size_t count);
/* Utah units, the Celsius table; the sum may fall below 0. */
double cy_chill_utah(const double *temps, size_t count);

enum cy_chill_start { CY_CHILL_AT_ONCE, CY_CHILL_FROM_FIRST_FREEZE };

/* Blackberry units of Warmund and Krumme. From the first freeze: from the first hour at or below
 * CY_CHILL_FIRST_FREEZE_C on, that hour included. Without such an hour the result is 0 and
 * *started false: this count does not apply, which is not the same as a need unmet. `started`
 * may be NULL. */
double cy_chill_weighted(const double *temps, size_t count, enum cy_chill_start start,
                         bool *started);

/* Chill portions of the dynamic model, nothing in store before the first hour. */
double cy_chill_portions(const double *temps, size_t count);

/* One hour at a time: units of one temperature, and the dynamic model with its memory. */
double cy_chill_utah_of(double temp_c);
double cy_chill_weighted_of(double temp_c);

/* Zero-initialise it before the first hour. */
struct cy_portions {
    double left; /* of the intermediate product, after what became a portion */
    bool begun;
};

/* Takes one hour in and returns the portion finished in it, mostly 0. */
double cy_portions_hour(struct cy_portions *state, double temp_c);

#endif
