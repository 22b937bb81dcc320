/* SPDX-License-Identifier: MIT
 * The odds of frost by date: the last freeze of spring and the first of autumn at 32 F, at 28 F and
 * at a chosen minimum, from the station's own years or, where it has too few, from made ones. */
#ifndef CANEYEAR_SEASON_FROSTODDS_H
#define CANEYEAR_SEASON_FROSTODDS_H

#include <caneyear/base/basis.h>
#include <caneyear/climate/ensemble.h>
#include <caneyear/climate/frost.h>
#include <caneyear/season/farm.h>

enum { CY_FROSTODDS_32, CY_FROSTODDS_28, CY_FROSTODDS_CHOSEN, CY_FROSTODDS_LIMITS };
/* Shares of years, in that order: 0.9, 0.5 and 0.1. */
enum { CY_FROSTODDS_OFTEN, CY_FROSTODDS_HALF, CY_FROSTODDS_SELDOM, CY_FROSTODDS_LEVELS };

#define CY_FROSTODDS_YEARS 60 /* that are kept at most */
/* The station's last ones are taken, as many as climate normals average. */
#define CY_FROSTODDS_STATION_YEARS 30
/* With fewer of them a date that one year in ten passes cannot be told from ranks i/(n + 1). */
#define CY_FROSTODDS_FEWEST 9
/* With fewer than about twenty years the dates are taken from ranks, and shares are counts. */
#define CY_FROSTODDS_FITTED_FROM 20

/* One season at one minimum. Numbers are those of climate/frost.h. */
struct cy_frostodds_season {
    int numbers[CY_FROSTODDS_YEARS]; /* of each year, 0 where it did not freeze */
    struct cy_frost_fit fit;
    bool ranked;                        /* by ranks, not by the fit: too few years */
    double number[CY_FROSTODDS_LEVELS]; /* NaN: no such date */
    cy_day day[CY_FROSTODDS_LEVELS];    /* in the plan's season; CY_DAY_NONE */
};

struct cy_frostodds_limit {
    double minimum_c; /* of a night there */
    cy_basis basis;
    const char *source; /* borrowed */
    struct cy_frostodds_season season[2]; /* by enum cy_frost_season */
};

struct cy_frostodds {
    bool made;                /* from the weathers of the plan: the station's years are too few */
    int first_year, last_year; /* of the station's springs; 0 where made */
    int year[2];               /* in which the plan's season has its spring and its autumn */
    double colder_k;           /* than the station's nights */
    cy_basis basis;            /* of the nights */
    struct cy_frostodds_limit limit[CY_FROSTODDS_LIMITS];
};

struct cy_frostodds_request {
    const struct cy_farm *farm;
    double latitude_deg;
    int season;
    const struct cy_weather *station;    /* or NULL; NaN where a day is missing */
    const struct cy_ensemble *ensemble;
    cy_basis weather;                    /* of the ensemble */
    double colder_k;
};

/* There is nothing to dispose of; sources are borrowed from the farm. */
void cy_frostodds_of(struct cy_frostodds *out, const struct cy_frostodds_request *request);

/* The share of years that still freeze after a day in spring, or have frozen by it in autumn: by
 * the fit, or counted where the years are few. NaN where nothing is known. */
double cy_frostodds_risk(const struct cy_frostodds *odds, int limit, enum cy_frost_season season,
                         cy_day day);

/* Why the dates of a season are what they are. */
void cy_frostodds_why(struct cy_trace *trace, const struct cy_frostodds *odds, int limit,
                      enum cy_frost_season season);

#endif
