/* SPDX-License-Identifier: MIT
 * The whole farm's crop through a season: ripe weight by day and week, the weeks with little or
 * nothing to sell, and what is lost where picking waits too long. */
#ifndef CANEYEAR_SEASON_SUPPLY_H
#define CANEYEAR_SEASON_SUPPLY_H

#include <caneyear/season/plan.h>

/* Below this share of the mean week a week is thin; below that one there is nothing to sell.
 * Placeholders. */
#define CY_SUPPLY_THIN 0.25
#define CY_SUPPLY_NOTHING 0.01

enum cy_supply_gap { CY_SUPPLY_ENOUGH, CY_SUPPLY_IS_THIN, CY_SUPPLY_IS_NOTHING };

/* Rows ripen in the same weather, so the ends of the ranges are summed as they are. */
struct cy_supply_week {
    cy_day monday;
    struct cy_figure kg;
    bool selling;           /* between the first pick and the last */
    enum cy_supply_gap gap; /* by the median, of a week of selling */
};

struct cy_supply_day {
    struct cy_figure ripens_kg; /* the week's spread laid on its days by their mean weights */
    double mean_kg;             /* that ripens, the mean over the weathers */
    double ripe_kg;   /* to be had: that, and what hangs there still good, picked in rounds */
    double picked_kg; /* by the rows' own rounds */
};

/* How long ripe fruit keeps on the cane, and in what weather. A day ages it by one, by more where it
 * is hot or wet: in the mean over the weathers, by their shares of such days. How much is published
 * nowhere: placeholders, which a cultivar can say otherwise. */
struct cy_supply_keeping {
    double keeps_d, hot_ages_d, wet_ages_d;
    const double *hot, *wet; /* shares of the members, by day from `first`; NULL: none */
    cy_day first;
    int days;
    cy_basis basis;
};

/* A row's mean crop under rounds of picking, from its first berry to its last. */
struct cy_supply_picking {
    double ripened_kg, picked_kg, lost_kg;
};

#define CY_SUPPLY_LONGEST 14 /* days between pickings, at most */

struct cy_supply_row {
    int64_t thing;
    const char *key, *name; /* borrowed from the plan */
    int every_d;            /* its practice's days between pickings */
    struct cy_supply_picking picking;
    /* And by other intervals: lost_kg[n] with n days from one picking to the next. */
    double lost_kg[CY_SUPPLY_LONGEST + 1];
    double mild_lost_kg;    /* at its own interval, were no day hot or wet */
    double hot, wet;        /* shares of such days, weighed by what ripens on them */
    int longest_d; /* the longest interval at which less than a hundredth is lost */
    cy_basis basis;
};

struct cy_supply {
    cy_day monday; /* of the first week; CY_DAY_NONE where no crop is known */
    struct cy_supply_week *weeks;
    size_t week_count;
    struct cy_supply_day *days; /* 7 a week, from `monday` */
    struct cy_supply_row *rows; /* those that bear, in the plan's order */
    size_t row_count;
    struct cy_figure total_kg;
    struct cy_figure first, last; /* the earliest row's first pick, the latest row's last: days */
    cy_day peak;                  /* on which most ripens */
    double mean_week_kg;          /* of the medians of the weeks of selling */
    int thin_weeks, empty_weeks;
    size_t unknown_rows; /* whose cultivar has no yield: they are left out */
};

/* The caller disposes of it. CY_NO_MEMORY leaves *out empty. */
int cy_supply_of(struct cy_supply *out, const struct cy_plan *plan);
void cy_supply_dispose(struct cy_supply *supply);

void cy_supply_keeping_of(struct cy_supply_keeping *out, const struct cy_plan *plan,
                          const struct cy_plan_row *row);

/* A row by itself; one that bears nothing ripens nothing. */
int cy_supply_row_of(struct cy_supply_row *out, const struct cy_plan *plan,
                     const struct cy_plan_row *row);

/* What becomes of a row's mean crop when it is picked every so many days, 1 or more. Fruit that
 * hangs longer than it keeps is lost; none is overlooked and no round has a limit. */
int cy_supply_picking_of(struct cy_supply_picking *out, const struct cy_plan_row *row,
                         const struct cy_supply_keeping *keeping, int every_d);

/* The whole farm's ripe weight on a day: 0 outside the season's days. */
double cy_supply_ripe_on(const struct cy_supply *supply, cy_day day);

/* ---- why ------------------------------------------------------------------------------------ */

enum cy_supply_figure {
    CY_SUPPLY_TOTAL,
    CY_SUPPLY_WEEK, /* index: of the week */
    CY_SUPPLY_DAY,  /* what is ripe to be had; index: of the day */
    CY_SUPPLY_FIRST,
    CY_SUPPLY_PEAK,
    CY_SUPPLY_LAST,
    CY_SUPPLY_GAPS, /* the mean week, and what is thin against it */
    CY_SUPPLY_LOST  /* index: among the supply's rows */
};

/* Fills a trace for a figure of the supply of a plan. False where there is none. */
bool cy_supply_why(struct cy_trace *trace, const struct cy_plan *plan,
                   const struct cy_supply *supply, enum cy_supply_figure figure, size_t index);

#endif
