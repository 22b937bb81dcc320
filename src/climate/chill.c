/* SPDX-License-Identifier: MIT
 * Chill counted over hourly temperatures.
 *
 * A published need was measured by one of these counts and means nothing in another. */
#include <caneyear/climate/chill.h>

#include <math.h>

/* 32 to 45 F in the usual Celsius form (Weinberger 1950; bounds read in chillR's
 * Chilling_Hours). 45 F is 7.22 C: the published Celsius bound is 7.2 and is kept. */
#define CHILL_LOW_C 0.0
#define CHILL_HIGH_C 7.2

/* The dynamic model (Fishman, Erez and Couvillon 1987; Erez et al. 1990), constants as read in
 * chillR's Dynamic_Model and three other public codes. */
#define E0 4153.5
#define E1 12888.8
#define A0 139500.0
#define A1 2.567e18
#define SLOPE 1.6
#define TF_K 277.0
/* Every published code adds 273, not 273.15, and the constants go with it. */
#define KELVIN 273.0

double cy_chill_hours(const double *temps, size_t count)
{
    double hours = 0;
    for (size_t i = 0; i < count; i++)
        hours += temps[i] >= CHILL_LOW_C && temps[i] <= CHILL_HIGH_C;
    return hours;
}

double cy_chill_hours_below(const double *temps, size_t count)
{
    double hours = 0;
    for (size_t i = 0; i < count; i++)
        hours += temps[i] <= CHILL_HIGH_C;
    return hours;
}

/* Richardson, Seeley and Walker, HortScience 9(4):331-332, 1974, in the Celsius bands of
 * chillR's Utah_Model: every band differs from its neighbour by half a unit, so passing an edge
 * is all that counts. The Fahrenheit table in circulation has slightly different edges. */
double cy_chill_utah_of(double temp_c)
{
    int rises = (temp_c > 1.4) + (temp_c > 2.4);
    int falls = (temp_c > 9.1) + (temp_c > 12.4) + (temp_c > 15.9) + (temp_c > 18.0);
    return 0.5 * (rises - falls);
}

double cy_chill_utah(const double *temps, size_t count)
{
    double units = 0;
    for (size_t i = 0; i < count; i++)
        units += cy_chill_utah_of(temps[i]);
    return units;
}

/* Warmund and Krumme, HortScience 40(5):1259-1262, 2005 (abstract). Their bands are printed to a
 * tenth (9.2 to 12.4 and so on); the hole between two bands goes to the warmer one. The abstract
 * gives no weight below 0 C: taken as 0. */
double cy_chill_weighted_of(double temp_c)
{
    int falls = (temp_c > 9.1) + (temp_c > 12.4) + (temp_c > 15.9) + (temp_c > 18.0);
    return (temp_c >= 0.0) - 0.5 * falls;
}

double cy_chill_weighted(const double *temps, size_t count, enum cy_chill_start start,
                         bool *started)
{
    size_t from = 0;
    if (start == CY_CHILL_FROM_FIRST_FREEZE)
        while (from < count && !(temps[from] <= CY_CHILL_FIRST_FREEZE_C))
            from++;
    if (started)
        *started = start == CY_CHILL_AT_ONCE || from < count;
    double units = 0;
    for (size_t i = from; i < count; i++)
        units += cy_chill_weighted_of(temps[i]);
    return units;
}

/* The share of an intermediate product past 1 that becomes a portion. */
static double fixed_share(double kelvin)
{
    double s = exp(SLOPE * TF_K * (kelvin - TF_K) / kelvin);
    return s / (1 + s);
}

double cy_portions_hour(struct cy_portions *state, double temp_c)
{
    if (!state->begun) { /* the published codes let the first hour make nothing */
        state->begun = true;
        return 0;
    }
    double kelvin = temp_c + KELVIN;
    double inverse = 1 / kelvin;
    double level = A0 / A1 * exp((E1 - E0) * inverse);
    double rate = A1 * exp(-E1 * inverse);
    double product = level - (level - state->left) * exp(-rate);
    if (product < 1) {
        state->left = product;
        return 0;
    }
    double portion = product * fixed_share(kelvin);
    state->left = product - portion;
    return portion;
}

double cy_chill_portions(const double *temps, size_t count)
{
    struct cy_portions state = {0};
    double portions = 0;
    for (size_t i = 0; i < count; i++)
        portions += cy_portions_hour(&state, temps[i]);
    return portions;
}
