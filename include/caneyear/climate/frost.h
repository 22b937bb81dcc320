/* SPDX-License-Identifier: MIT
 * The odds of frost by date: the last of each spring, the first of each autumn, and the day that
 * goes with a share of years.
 *
 * A season is named by the calendar year in which it begins: spring runs from 1 January to 31
 * July, autumn from 1 August to 31 July; in the southern hemisphere from 1 July to 31 January
 * and from 1 February to 31 January. Its days are numbered as those of a year without 29
 * February (which counts as the 28th) and go on past 365 into the next year, so that a January
 * freeze does not jump to the front of the list. */
#ifndef CANEYEAR_CLIMATE_FROST_H
#define CANEYEAR_CLIMATE_FROST_H

#include <stdbool.h>

#include <caneyear/climate/weather.h>

enum cy_frost_season { CY_FROST_SPRING, CY_FROST_AUTUMN };

struct cy_frost_record {
    int year;
    int number; /* of the last or first freeze; 0 in a season without one */
};

/* The seasons of a weather whose outcome is known. Zero-initialise or fill with cy_frost_list. */
struct cy_frost_list {
    enum cy_frost_season season;
    struct cy_frost_record *records;
    int count;
};

struct cy_frost_fit {
    enum cy_frost_season season;
    int years, frozen; /* seasons known, and those with a freeze */
    double share;      /* frozen over years; 0 without any */
    double mean, sd;   /* of the numbers where it froze, sd over n - 1; NaN where there are none */
};

/* The days of the season that begins in a year, both included; CY_DAY_NONE beyond the calendar. */
void cy_frost_window(cy_day *from, cy_day *to, int year, bool southern,
                     enum cy_frost_season season);
/* The freeze of one season that matters: its number, 0 where there was none. False where the
 * weather does not tell, since days are missing (outside it, or NaN) before that freeze is met. */
bool cy_frost_outcome(int *number, const struct cy_weather *weather, bool southern,
                      enum cy_frost_season season, int year, double threshold_c);

/* Days whose minimum is `threshold_c` or below are freezes. A season whose first days are missing
 * still counts if the freeze that matters is on record. CY_NO_MEMORY leaves *out empty; the
 * caller disposes of it. */
int cy_frost_list(struct cy_frost_list *out, const struct cy_weather *weather, bool southern,
                  enum cy_frost_season season, double threshold_c);
void cy_frost_list_dispose(struct cy_frost_list *list);

void cy_frost_fit(struct cy_frost_fit *out, const struct cy_frost_list *list);

/* Spring: the number after which a freeze still comes in `level` of years. Autumn: the number
 * before which one has come in `level` of years. The dates of years that freeze are taken as
 * normal. False where there is no such date: a level of the share of freezing years or more, or
 * of 0 or less, or fewer than two freezes. */
bool cy_frost_date(double *number, const struct cy_frost_fit *fit, double level);

/* The other way round: in what share of years a freeze still comes after a number in spring, or
 * has come by it in autumn. NaN with fewer than two freezes, unless it never froze: 0. */
double cy_frost_risk(const struct cy_frost_fit *fit, double number);

/* The dates straight from the records, at ranks i/(n + 1); false too where the level is rarer than
 * the records can tell. */
bool cy_frost_empirical(double *number, const struct cy_frost_list *list, double level);

/* A calendar day of a season as its number, and back (numbers from 1; 366 is 1 January). */
int cy_frost_number(cy_day day, int season_year);
cy_day cy_frost_day(double number, int season_year);

#endif
