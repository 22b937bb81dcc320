/* SPDX-License-Identifier: MIT
 * Which rows have something that frost can kill in a week, and at what minimum of the station. */
#ifndef CANEYEAR_SEASON_FROSTWATCH_H
#define CANEYEAR_SEASON_FROSTWATCH_H

#include <caneyear/season/plan.h>

/* PART(name, word): what would die of the row. */
#define CY_FROST_PARTS(PART)                                                                       \
    PART(BUDS, "dormant buds")     /* half of the first ones */                                    \
    PART(CANES, "canes in winter") /* at the limit of their kind */                                \
    PART(TIGHT, "flower buds")     /* half of them */                                              \
    PART(FLOWERS, "flowers")       /* half of those that are open and of what still is to open */  \
    PART(AUTUMN_CROP, "autumn crop") /* all that is not picked */                                  \
    PART(UNKNOWN, "dormant buds of no published hardiness")

enum cy_frost_part {
#define PART(name, word) CY_FROST_##name,
    CY_FROST_PARTS(PART)
#undef PART
};

const char *cy_frost_part_word(enum cy_frost_part part);

struct cy_frost_risk {
    size_t row; /* of the plan */
    int year;   /* of the cohort */
    enum cy_frost_part part;
    double row_c;     /* kills, in the row; NaN where nothing is published or typed */
    double station_c; /* the station's minimum that brings it there */
    cy_basis basis;
    const char *source; /* borrowed, or "" */
};

struct cy_frostwatch {
    cy_day from, to; /* Monday to Sunday */
    struct cy_frost_risk *risks;
    size_t count, capacity;
};

/* The week that holds a day, by the spread of the stages: a row is in it where one member in ten
 * has it at the stage. From bud break to the first flowers nothing is published, so nothing is
 * said. CY_NO_MEMORY leaves *out empty. Dispose of it. */
int cy_frostwatch_of(struct cy_frostwatch *out, const struct cy_plan *plan, cy_day day);
void cy_frostwatch_dispose(struct cy_frostwatch *watch);

/* Why a risk is on the watch, and what stands behind its temperature: the date, the limit, how
 * much colder the row is than the station. False where there is none. */
bool cy_frostwatch_why(struct cy_trace *trace, const struct cy_plan *plan,
                       const struct cy_frostwatch *watch, size_t index);

#endif
