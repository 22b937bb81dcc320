/* SPDX-License-Identifier: MIT
 * The grower's year: a season runs from leaf fall to leaf fall and is named by the year in which
 * it ends, in either hemisphere. */
#ifndef CANEYEAR_CROP_CALENDAR_H
#define CANEYEAR_CROP_CALENDAR_H

#include <stdbool.h>

#include <caneyear/base/day.h>

/* Leaf fall, where a season begins: 1 November north of the equator, 1 May south of it. The first
 * is where one published count of chill begins (UC Davis, Chilling Accumulation Models); the
 * second is six months on (convention). Season 2027 begins in 2026 in both. */
cy_day cy_season_start(double latitude_deg, int season);
int cy_season_of(double latitude_deg, cy_day day);

/* Where heat is summed from: 1 January, or 1 July, of the season. */
cy_day cy_season_midwinter(double latitude_deg, int season);

/* The day of month * 100 + day within a season. A northern date, as every shipped one is, moves
 * by six months in the south; a date that the farm's grower typed stays as it is. */
cy_day cy_season_day(double latitude_deg, int season, int month_day, bool northern);

#endif
