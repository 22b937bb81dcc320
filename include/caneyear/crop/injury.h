/* SPDX-License-Identifier: MIT
 * What the cold of one weather leaves of a crop: dormant buds in winter, flowers in spring.
 *
 * Within a stage the coldest night counts, measured against what the stage bears: what stood that
 * night stands every milder one. What is left of the stages is multiplied. */
#ifndef CANEYEAR_CROP_INJURY_H
#define CANEYEAR_CROP_INJURY_H

#include <caneyear/crop/cold.h>

/* A weather's nights as a row has them: colder than the station's by so much. */
struct cy_nights {
    const double *low_c; /* of each day from `first` on, borrowed */
    cy_day first;
    int days;
    double colder_k;
};

/* The lowest of the nights in [from, end); INFINITY where none is in sight. */
double cy_nights_lowest(const struct cy_nights *nights, cy_day from, cy_day end);

/* The shares of first and of second dormant buds that the nights in [from, end) leave; all for a
 * course that knows nothing. */
struct cy_injury_buds {
    double first, second;
};
struct cy_injury_buds cy_injury_buds(const struct cy_cold_course *course,
                                     const struct cy_nights *nights, cy_day midwinter,
                                     cy_day from, cy_day end);

/* A crop of which less than this is left counts as none. */
#define CY_INJURY_NONE_LEFT 0.05

/* Days that a flower can freeze, from the one on which it opens: its petals last about so long.
 * From memory. What has set is taken to stand any frost: nothing is published of green fruit. */
#define CY_INJURY_OPEN_DAYS 3

/* Flowers open as a normal curve around half bloom, none before `first`; from then on all that are
 * not yet open are tight buds: an inflorescence shows its buds when its first flower opens. Second buds take
 * the place of first ones that are dead, and flower later; frost finds them too. */
struct cy_injury_bloom {
    cy_day first, half;
    cy_day from;          /* nights before it do not count; `first` or later */
    double deviation_d;   /* at most 120 */
    double alive;         /* share of the first buds alive then */
    double second;        /* what second buds bear in place of dead ones, as a share of theirs */
    double second_late_d; /* 0 to 60 */
};

struct cy_injury_crop {
    double share;        /* of the whole crop */
    double flowers_left; /* of the flowers of first buds */
    double day[3]; /* when 5, 50 and 95 % of what is left is ripe, after the whole crop's peak */
};

void cy_injury_flowers(struct cy_injury_crop *out, const struct cy_injury_bloom *bloom,
                       const struct cy_nights *nights);

#endif
