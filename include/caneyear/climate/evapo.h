/* SPDX-License-Identifier: MIT
 * What a short, well watered grass would transpire in a day: the reference that crop
 * coefficients multiply (FAO Irrigation and Drainage Paper 56). */
#ifndef CANEYEAR_CLIMATE_EVAPO_H
#define CANEYEAR_CLIMATE_EVAPO_H

#include <math.h>

#include <caneyear/base/issue.h>

enum cy_evapo_method {
    CY_EVAPO_COMBINATION, /* Penman-Monteith, equation 6 */
    CY_EVAPO_TEMPERATURE  /* Hargreaves and Samani, equation 52: temperatures alone */
};

/* What stood in for an input that was not given: each is the paper's own advice (chapter 3; the
 * wind from memory). */
enum {
    CY_EVAPO_ASSUMED_WIND = 1,     /* 2 m/s */
    CY_EVAPO_ASSUMED_HUMIDITY = 2, /* dew point at the minimum temperature */
    CY_EVAPO_ASSUMED_RADIATION = 4 /* from the day's temperature range, inland */
};

/* NaN stands for "not known"; begin with CY_EVAPO_UNKNOWN and fill in what is. */
struct cy_evapo_request {
    enum cy_evapo_method method;
    double tmin_c, tmax_c, latitude_deg, elevation_m;
    int day_of_year;                /* 1 to 366 */
    double wind_m_s, wind_height_m; /* measured so high above the ground */
    double ea_kpa;                  /* vapour pressure; it goes before the humidities */
    double rh_min_pct, rh_max_pct;  /* rh_max_pct alone will do */
    double radiation_mj;            /* Rs, a square metre and day; it goes before sun_hours */
    double sun_hours;
    double ground_heat_mj; /* G, into the soil */
};

#define CY_EVAPO_UNKNOWN                                                                           \
    ((struct cy_evapo_request){.wind_m_s = NAN,                                                    \
                               .wind_height_m = 2,                                                 \
                               .ea_kpa = NAN,                                                      \
                               .rh_min_pct = NAN,                                                  \
                               .rh_max_pct = NAN,                                                  \
                               .radiation_mj = NAN,                                                \
                               .sun_hours = NAN})

struct cy_evapo {
    double et_mm;             /* never below 0 */
    double ra_mj, daylight_h; /* outside the atmosphere */
    double rs_mj, rso_mj, rns_mj, rnl_mj, rn_mj;
    double es_kpa, ea_kpa, slope_kpa_k, pressure_kpa, gamma_kpa_k;
    double u2_m_s;    /* wind at two metres */
    unsigned assumed; /* CY_EVAPO_ASSUMED_ bits */
};

/* CY_INVALID for an impossible day, said in `issues` (or NULL) under the names of the request's
 * fields. Every member of *out is filled by either method. */
int cy_evapo_day(struct cy_evapo *out, const struct cy_evapo_request *request,
                 struct cy_issues *issues);

/* The pieces, for whoever wants one alone. */
double cy_evapo_saturation(double temperature_c);       /* kPa, equation 11 */
double cy_evapo_saturation_slope(double temperature_c); /* kPa/K, equation 13 */
double cy_evapo_pressure(double elevation_m);           /* kPa, equation 7 */
double cy_evapo_psychrometric(double pressure_kpa);     /* kPa/K, equation 8 */
/* Vapour pressure by wet and dry bulb of an aspirated psychrometer (equations 15 and 16). */
double cy_evapo_vapour_by_bulbs(double dry_c, double wet_c, double pressure_kpa);
double cy_evapo_wind_at_two(double wind_m_s, double height_m); /* equation 47 */

#endif
