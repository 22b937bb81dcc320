/* SPDX-License-Identifier: MIT
 * Cold injury: what share of buds or flowers a temperature kills. */
#ifndef CANEYEAR_CROP_COLD_H
#define CANEYEAR_CROP_COLD_H

#include <stdbool.h>
#include <stddef.h>

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
};

const struct cy_cold_cultivar *cy_cold_find(const char *name); /* letter case aside, or NULL */
const struct cy_cold_cultivar *cy_cold_at(size_t index);       /* NULL behind the last */

/* Dormant buds: straight between published dates. False where the day is not between two of them
 * or on one. */
bool cy_cold_dormant(struct cy_cold_kill *out, const struct cy_cold_cultivar *cultivar, cy_day day,
                     double temp_c);

#endif
