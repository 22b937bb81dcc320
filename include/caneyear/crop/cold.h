/* SPDX-License-Identifier: MIT
 * Cold injury: what share of buds or flowers a temperature kills. */
#ifndef CANEYEAR_CROP_COLD_H
#define CANEYEAR_CROP_COLD_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/basis.h>
#include <caneyear/base/day.h>

/* Kills half of the flowers at every stage, open or closed: USDA-ARS Kearneysville data shown by
 * NC State, April 2016 (27.5 F). */
#define CY_COLD_FLOWER_C (-2.5)

/* The span of temperature within which all flowers of a cluster die: Illini Hardy, Warmund and
 * others, Fruit Varieties Journal 47(3):146-152, 1993. */
#define CY_COLD_TIGHT_SPAN_K 1.6
#define CY_COLD_BLOOM_SPAN_K 0.3 /* "0.3 C or less", from full bloom of the terminal flower on */

/* STAGE(name, word) */
#define CY_COLD_STAGES(STAGE)                                                                      \
    STAGE(DORMANT, "dormant")                                                                      \
    STAGE(TIGHT, "tight")                                                                          \
    STAGE(BLOOM, "bloom")

enum cy_cold_stage {
#define STAGE(name, word) CY_COLD_##name,
    CY_COLD_STAGES(STAGE)
#undef STAGE
        CY_COLD_STAGE_COUNT
};

const char *cy_cold_stage_word(enum cy_cold_stage stage);

struct cy_cold_kill {
    double share; /* killed, 0 to 1 */
    double t50_c; /* kills half */
};

/* Flowers in bloom or in tight bud: a logistic whose middle 98 % is the published span. */
struct cy_cold_kill cy_cold_flowers(enum cy_cold_stage stage, double temp_c);

/* The temperature that killed half of a cultivar's dormant primary buds on a day of a northern
 * winter. "Jan" in a source is taken as its 15th. */
struct cy_cold_point {
    int month, day;
    double t50_c;
    const char *source;
};

#define CY_COLD_POINTS 3

struct cy_cold_cultivar {
    const char *name;
    struct cy_cold_point points[CY_COLD_POINTS]; /* by time through the winter */
    size_t count;
    double lost_k; /* hardiness lost from January to late February; 0 where a later point says it */
};

const struct cy_cold_cultivar *cy_cold_find(const char *name); /* letter case aside, or NULL */
const struct cy_cold_cultivar *cy_cold_at(size_t index);       /* NULL behind the last */

/* Dormant buds: straight between published dates. False where the day is not between two of them
 * or on one. */
bool cy_cold_dormant(struct cy_cold_kill *out, const struct cy_cold_cultivar *cultivar, cy_day day,
                     double temp_c);

/* ---- a whole winter ------------------------------------------------------------------------- */

/* Of most cultivars one November is published. From there on a course is fitted here: by mid
 * January buds are CY_COLD_GAIN_K hardier, the mean of Ouachita's 2.6 and Natchez's 1.8 (November
 * 2023 to January 2022: two winters, so no cultivar's own); by late February they have lost what
 * the same paper prints, up to 2.2 K in most cultivars, taken whole, and 2.8 to 6.8 K in Osage,
 * Ponca and Natchez, whose middle is taken. The course is straight between its turns and level
 * before the first and behind the last: what buds still lose from late February to bud break is
 * not published, so losses in March are understated. */
#define CY_COLD_GAIN_K 2.2
#define CY_COLD_LOSS_K 2.2
#define CY_COLD_TURNS (CY_COLD_POINTS + 1)

struct cy_cold_course {
    struct cy_cold_turn {
        int day; /* after midwinter, in either hemisphere */
        double t50_c;
    } turns[CY_COLD_TURNS];
    size_t count; /* 0: nothing is published or typed, so no verdict */
    cy_basis basis;
};

/* The winter of a cultivar by its name and by the T50 of its buds in mid November, NaN where
 * nobody says; one that differs from the published moves all of the published course. */
void cy_cold_course_of(struct cy_cold_course *out, const char *name, double november_c,
                       cy_basis november_basis);
double cy_cold_course_t50(const struct cy_cold_course *course, int days_after_midwinter);
/* Second buds are hardier than the first by so much: Natchez by 7.2 in January 2022, Illini Hardy by
 * 6.4 in January and 5.1 in March (the same two papers); the mean, fitted here. */
#define CY_COLD_SECOND_K 6.2

/* The share of dormant buds killed at a temperature where half of them die at another. */
double cy_cold_buds_killed(double temp_c, double t50_c);

#endif
