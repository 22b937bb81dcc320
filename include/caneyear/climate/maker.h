/* SPDX-License-Identifier: MIT
 * The weather generator: years of days from twelve monthly normals and a seed. */
#ifndef CANEYEAR_CLIMATE_MAKER_H
#define CANEYEAR_CLIMATE_MAKER_H

#include <caneyear/base/random.h>
#include <caneyear/climate/weather.h>

struct cy_normals {
    double tmin_c[12], tmax_c[12]; /* mean daily minimum and maximum of each month */
    double rain_mm[12];            /* mean total of each month */
};

/* Fills every day of `out` (already initialised) with made weather: a chain of wet and dry days
 * whose chance follows each month's rain, gamma amounts, and temperatures that persist from day
 * to day and are cooler by day and milder by night when wet. Monthly means over many years are
 * the normals. Spread and persistence are placeholders where no source is named in maker.c. */
void cy_weather_make(struct cy_weather *out, const struct cy_normals *normals,
                     struct cy_random *random);

#endif
