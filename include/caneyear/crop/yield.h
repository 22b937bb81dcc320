/* SPDX-License-Identifier: MIT
 * The weight of the crop: what a row can bear, when it ripens, and what is picked of it. */
#ifndef CANEYEAR_CROP_YIELD_H
#define CANEYEAR_CROP_YIELD_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/basis.h>
#include <caneyear/base/day.h>

/* ---- what a row can bear -------------------------------------------------------------------- */

/* A yield by area as weight along the row, which stands for a strip as wide as the rows' spacing.
 */
double cy_yield_row_kg_m(double area_kg_m2, double row_spacing_m);
/* A yield by plant as a yield by area, and the plants of a row: neither is rounded, and none is
 * added at the row's end. */
double cy_yield_area_kg_m2(double plant_kg, double plant_spacing_m, double row_spacing_m);
double cy_yield_plants(double row_m, double plant_spacing_m);

/* The share of a full crop at an age: in the season of planting a row is in its first leaf. For
 * floricane crops of erect and semi-erect types; general extension pattern, from memory: nothing
 * in the first leaf, 25 to 50 % in the second, 75 to 100 % in the third, then all of it until a
 * slow decline after 8 to 10. How slow is said nowhere: the rate is a placeholder. */
struct cy_yield_age {
    double low, usual, high;
    cy_basis basis;
};
struct cy_yield_age cy_yield_at_age(int leaf);
#define CY_YIELD_DECLINE 0.05 /* of a full crop, each year of the decline: placeholder */

/* The share of a row that bears. `filled`, where known (not NaN), says it of a hedgerow that
 * suckers fill; else the plants missing do. Plants above 0. */
double cy_yield_present(double filled, double missing, double plants);

/* Where canes and fruit take turns, a year with fruit bears 170 % of a year of both: Oregon
 * Agricultural Experiment Station Bulletin 620, 1975, trailing Thornless Evergreen. The year of
 * canes bears nothing. 1 where they do not take turns. */
double cy_yield_in_turn(bool alternate, bool fruits);
#define CY_YIELD_FRUIT_YEAR 1.70

struct cy_yield_stand {
    double full_kg_m2; /* marketable crop of a full stand */
    cy_basis full_basis;
    double row_m, row_spacing_m;
    int leaf;       /* 1 in the season of planting */
    double present; /* of cy_yield_present */
    bool alternate, fruits;
};

struct cy_yield {
    double low_kg, usual_kg, high_kg; /* by the range of the age's share alone */
    cy_basis basis;
};

/* The weight that a row would bear in a season without frost or winter injury. */
struct cy_yield cy_yield_of_row(const struct cy_yield_stand *stand);

/* ---- when it ripens ------------------------------------------------------------------------- */

/* The days by which 5, 50 and 95 % of the weight have ripened, in this order (those shares: NC
 * State caneberry post, 8 May 2013). Between and beyond them ripening is normal, with a deviation
 * for each side of the peak: our choice; no week-by-week table is published. */
struct cy_ripening {
    double first, peak, last;
};

/* The share ripe by the end of a day; 0 where one of the three days is NaN. */
double cy_ripening_by(const struct cy_ripening *ripening, cy_day day);
/* The weight that ripens on the days from `from` to `to`, both included: a day, a week. */
double cy_ripening_kg(const struct cy_ripening *ripening, double total_kg, cy_day from, cy_day to);
/* Adds what ripens on each of `days` days to kg[0..days), so that crops can be laid together. */
void cy_ripening_add(double *kg, cy_day first, size_t days, const struct cy_ripening *ripening,
                     double total_kg);

/* ---- what is picked of it ------------------------------------------------------------------- */

/* A berry can be picked on the day on which it ripens and as long after as it keeps: how long is not
 * published. It is dull and fully ripe 3 to 5 days after it is glossy black (Oregon, Vance and
 * others, Journal of the American Pomological Society 73(4), 2019). */
struct cy_harvest_rounds {
    cy_day from, to;   /* the first picking, and the day after which there is none */
    int every;         /* days from one to the next, 1 or more */
    double keeps;      /* ordinary days, 0 or more */
    double overlooked; /* share of the ripe fruit that a round leaves hanging, 0 to 1 */
    double most_kg;    /* that pickers and visitors can take in a round; INFINITY for no limit */
    const double *ages_d; /* by how many ordinary days each day followed ages what hangs ripe, more
                           * than 0; NULL: by one */
};

struct cy_harvest_day {
    double ripened_kg;
    double ripe_kg; /* to be had that day: what hung there still good, and what ripened */
    double picked_kg;
    double lost_kg; /* left too long */
    double left_kg; /* hanging when the day ends */
};

/* Zero-initialise, or have it filled; dispose of its insides with cy_harvest_dispose. */
struct cy_harvest {
    cy_day first;
    struct cy_harvest_day *days;
    size_t count;
    struct cy_harvest_day total; /* ripened = picked + lost + left; ripe: the most on any day */
};

/* Follows the fruit day by day; the ripest is picked first. CY_INVALID (a weight or a rule out of
 * range) and CY_NO_MEMORY leave *out empty. */
int cy_harvest_run(struct cy_harvest *out, const double *ripened_kg, cy_day first, size_t days,
                   const struct cy_harvest_rounds *rounds);
void cy_harvest_dispose(struct cy_harvest *harvest);

/* The day's weights; all 0 outside the days followed. */
struct cy_harvest_day cy_harvest_on(const struct cy_harvest *harvest, cy_day day);
/* The ripe weight of a whole farm on a day, from the harvests of its rows. */
double cy_harvest_ripe_on(const struct cy_harvest *harvests, size_t count, cy_day day);

#endif
