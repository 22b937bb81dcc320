/* SPDX-License-Identifier: MIT
 * Direct sun over the growing season: on the open field behind what stands around it, and at each
 * row between its neighbours; what each obstacle takes, and what turning the rows or moving them
 * away would give. Clouds are left out, and the ground counts as level.
 *
 * What is counted, minute by minute: the sun's centre above the level horizon, behind no obstacle.
 * At a row it is counted half way up and half way along it, between the farm's rows on either side as
 * their x and y place them: long, thin, opaque, as high as their top wires
 * (include/caneyear/climate/obstacle.h has the geometry). Where a row's place is not given, one as
 * high as itself is taken on either side at its row_spacing. All rows see the obstacles from one
 * point of the field. */
#ifndef CANEYEAR_SEASON_SUNLIGHT_H
#define CANEYEAR_SEASON_SUNLIGHT_H

#include <caneyear/base/basis.h>
#include <caneyear/climate/obstacle.h>
#include <caneyear/season/farm.h>

#define CY_SUNLIGHT_DAYS 6 /* mid-month, from April to September; October to March in the south */

/* Hours a day that brambles are said to ask for: the rule is judged by the mean of those days. */
#define CY_SUNLIGHT_ENOUGH_H 6.0
#define CY_SUNLIGHT_FULL_H 8.0
#define CY_SUNLIGHT_SOURCE                                                                         \
    "full sun: NC State Southeast Regional Caneberry Production Guide, Site Selection; 6 to 8 "    \
    "hours: from memory"

struct cy_sunlight_obstacle {
    int64_t thing;
    const char *key;                    /* borrowed from the farm */
    struct cy_given from, to, altitude; /* the altitude as given, */
    struct cy_given height, distance;   /* or these two */
    cy_basis basis;
    double hides_h; /* stands before the sun, whatever else does; a day, the season's mean */
    double alone_h; /* nothing else on the horizon does: what the field would gain without it */
};

struct cy_sunlight_row {
    int64_t thing;
    const char *key, *name; /* borrowed from the farm */
    double length_m;
    double hedge_m; /* height of the rows: the top wire, else the height at tipping */
    cy_basis hedge_basis;
    struct cy_given bearing, spacing;
    bool placed;            /* its neighbours are rows of the farm; else taken to be like itself */
    struct cy_neighbour next[CY_FACE_COUNT];
    const char *next_name[CY_FACE_COUNT]; /* "" where there is none, or one was taken; borrowed */
    size_t alike; /* the first row with the same sun: itself, or an earlier one */
    double day_h[CY_SUNLIGHT_DAYS];
    double mean_h;                /* of those */
    double face_h[CY_FACE_COUNT]; /* of that mean, on the left and on the right face */
    cy_basis basis;
};

/* Zero-initialise, or fill with cy_sunlight_of. What is borrowed lives as long as the farm. */
struct cy_sunlight {
    int season;
    double latitude_deg, longitude_deg;
    cy_day day[CY_SUNLIGHT_DAYS];
    double declination_deg[CY_SUNLIGHT_DAYS];
    struct cy_obstacle_day *sky;        /* of those days, behind the obstacles */
    double level_h;                 /* behind nothing at all, the mean */
    double day_h[CY_SUNLIGHT_DAYS]; /* on the field, without rows */
    double mean_h;
    cy_basis basis; /* of the horizon; a placeholder where none is described */
    struct cy_sunlight_obstacle *obstacles;
    struct cy_obstacle *bands; /* the same as the sky's geometry has them */
    size_t obstacle_count;
    struct cy_sunlight_row *rows; /* in the farm's order */
    size_t row_count;
};

/* The season's sun of a checked farm. CY_NO_MEMORY leaves *out empty; dispose of it. */
int cy_sunlight_of(struct cy_sunlight *out, const struct cy_farm *farm, double latitude_deg,
                   int season);
void cy_sunlight_dispose(struct cy_sunlight *sun);

/* How high a row counts: the top wire of a trellis, else the height of its practice's tipping. */
double cy_sunlight_hedge(cy_basis *basis, const struct cy_farm *farm,
                         const struct cy_thing *trellis, const struct cy_thing *practice);

/* A row with its neighbours, as the sky's geometry has it. */
struct cy_hedge cy_sunlight_hedge_of(const struct cy_sunlight_row *row);
/* The season's means at a row, if it and its neighbours were turned this way as one. */
void cy_sunlight_turn(struct cy_hedge_sun *out, const struct cy_sunlight *sun, size_t row,
                      double bearing_deg);
/* And at a row that does not stand yet, with one as high on either side. */
void cy_sunlight_propose(struct cy_hedge_sun *out, const struct cy_sunlight *sun, double hedge_m,
                         double spacing_m, double bearing_deg);
/* The mean over the farm's rows, by their lengths, if all were turned this way; NaN without
 * rows. As they stand where `bearing_deg` is NaN. */
double cy_sunlight_farm(const struct cy_sunlight *sun, double bearing_deg);

/* The means with the field moved so many times as far from an obstacle of which height and
 * distance are given, square away from its middle: it stands lower, and its ends close in as on a
 * circle around the field. `row` is of the sun's rows, or CY_SUNLIGHT_FIELD. NaN where it cannot be
 * moved from (no distance, or it stands around half of the horizon or more) or without memory. */
#define CY_SUNLIGHT_FIELD SIZE_MAX
double cy_sunlight_moved(const struct cy_sunlight *sun, size_t obstacle, double times, size_t row);
bool cy_sunlight_can_move(const struct cy_sunlight *sun, size_t obstacle);

/* Why: false where there is no such row or obstacle. */
bool cy_sunlight_why_field(struct cy_trace *trace, const struct cy_sunlight *sun);
bool cy_sunlight_why_row(struct cy_trace *trace, const struct cy_sunlight *sun, size_t row);
bool cy_sunlight_why_obstacle(struct cy_trace *trace, const struct cy_sunlight *sun,
                              size_t obstacle);
/* Of a turned row, or of the farm's rows together (CY_SUNLIGHT_FIELD). */
bool cy_sunlight_why_turned(struct cy_trace *trace, const struct cy_sunlight *sun, size_t row,
                            double bearing_deg);
/* Of rows that do not stand yet. */
void cy_sunlight_why_proposed(struct cy_trace *trace, const struct cy_sunlight *sun, double hedge_m,
                              cy_basis hedge_basis, const struct cy_given *spacing,
                              double bearing_deg);
bool cy_sunlight_why_moved(struct cy_trace *trace, const struct cy_sunlight *sun, size_t obstacle,
                           double times, size_t row);

#endif
