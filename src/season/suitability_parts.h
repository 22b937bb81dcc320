/* SPDX-License-Identifier: MIT
 * The figures that the table of what suits a site is judged by, each with its source. */
#ifndef SEASON_SUITABILITY_PARTS_H
#define SEASON_SUITABILITY_PARTS_H

#include "season/plan_parts.h"

#define CY_SUIT_SITE_SOURCE                                                                        \
    "NC State Southeast Regional Caneberry Production Guide, Site Selection: sandy loam or loam, " \
    "no clay with high water"
#define CY_SUIT_RAISED_SOURCE                                                                      \
    "Univ. of Kentucky, Growing Brambles in Kentucky: a raised bed of 8 in or more where "         \
    "drainage is poor"

#define CY_SUIT_GENTLE_DEG 10.0
#define CY_SUIT_STEEP_DEG 15.0
#define CY_SUIT_SLOPE_SOURCE                                                                       \
    "under 10 degrees: Univ. of Kentucky, Growing Brambles in Kentucky; over 12 to 15 a problem "  \
    "for equipment: NC State, Site Selection"

#define CY_SUIT_LEVEL_DEG 1.0 /* what is flatter faces nowhere: ours */
#define CY_SUIT_FACING_SOURCE                                                                      \
    "east to north: Univ. of Kentucky, Growing Brambles in Kentucky; on south slopes earlier "     \
    "fruit, more winter and frost injury: NC State, Site Selection"

#define CY_SUIT_BEFORE_SOURCE                                                                      \
    "not after potatoes, tomatoes, peppers, eggplant, strawberries or caneberries of the last 3 "  \
    "years: OSU EC 1303, 1989; nor after peaches, apples or grapes: NC State guide, ch. 4"

#define CY_SUIT_WILD_NEAR_M 152.4
#define CY_SUIT_WILD_FAR_M 304.8
#define CY_SUIT_WILD_SOURCE                                                                        \
    "away from wild blackberries: NC State guide, ch. 4; 500 to 1000 ft: from memory"

/* From the date of the measured hardiness to the end of what it can stand for: buds are 2 to 3 C
 * hardier in mid-winter and lose it from late February on (Warmund, J. Amer. Pomol. Soc., January
 * 2024). Northern dates. */
#define CY_SUIT_WINTER_FROM 1115
#define CY_SUIT_WINTER_TO 228

#endif
