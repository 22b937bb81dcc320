/* SPDX-License-Identifier: MIT
 * What it costs to tip late: fewer flower shoots, and an autumn crop pushed towards the frost. */
#ifndef CANEYEAR_CROP_LATE_H
#define CANEYEAR_CROP_LATE_H

#include <caneyear/crop/life.h>

/* Canes of a primocane type that emerged in April made 64 % more flower shoots than those of after
 * May: Agronomy 10(11):1737, 2020. A cane tipped late is taken here for one that emerged late, the
 * middle of April against the end of May for 46 days, straight between: our reading, so the share
 * is fitted here. */
#define CY_LATE_SHOOTS 1.64
#define CY_LATE_SHOOTS_DAYS 46

/* Hedging hard about a week later than a soft tip delayed fruiting by 10 to 14 days (primocane
 * type in a tunnel, Oregon: the impact of severity and time of tipping and hedging, HortScience
 * 2012); a soft tip at its time delayed nothing. The middle, for each day late. */
#define CY_LATE_DELAY_PER_DAY (12.0 / 7)

/* Flower shoots of canes tipped so many days late, as a share of those tipped in time. */
double cy_late_shoots(double late_d);

/* The autumn crop of canes cut back hard so many days late, over lives that bear one. */
struct cy_late_loss {
    double fails;       /* share of the members in which it ripens less than 5 % of its weight */
    double fails_timely; /* the same with the tip in time */
    double left;        /* mean weight ripened before the freeze, as a share of that in time */
};

/* All NaN where no life has an autumn crop due. */
void cy_late_autumn(struct cy_late_loss *out, const struct cy_life *lives, int count,
                    double length_d, double late_d);

#endif
