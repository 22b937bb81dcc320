/* SPDX-License-Identifier: MIT
 * What this farm's own seasons say of its cultivars and rows: values of the catalogue moved by what
 * was noted in the field, by shrinkage (base/shrink.h).
 *
 * A season's value is what would have given the day that was seen, in that season's weather: the
 * degree hours from the start of the sum to that day, the days from bloom to ripe, the height
 * gained a day. Rows of one cultivar share a season's weather, so they count as one season
 * together. Where the weather of a season is not known, the mean over the weathers of the forecast
 * stands in for it, and the season counts for less, by how much they differ. */
#ifndef CANEYEAR_SEASON_LEARN_H
#define CANEYEAR_SEASON_LEARN_H

#include <caneyear/base/shrink.h>
#include <caneyear/season/plan.h>

/* LEARN(name, word, quantity): of a cultivar, and last of a row. */
#define CY_LEARNS(LEARN)                                                                           \
    LEARN(EMERGE_HEAT, "heat to emergence", DEGREE_HOURS)                                          \
    LEARN(GROWTH, "height gained by new canes", GROWTH)                                            \
    LEARN(BLOOM_HEAT, "heat to half bloom", DEGREE_HOURS)                                          \
    LEARN(BUD_BREAK_SHARE, "share of it at bud break", SHARE)                                      \
    LEARN(BLOOM_TO_PEAK, "days from half bloom to the peak of picking", DAYS)                      \
    LEARN(AUTUMN_HEAT, "heat from emergence to autumn bloom", DEGREE_HOURS)                        \
    LEARN(AUTUMN_TO_PEAK, "days from autumn bloom to the peak of picking", DAYS)                   \
    LEARN(COLDER, "nights colder than the station's", TEMPERATURE_RISE)

enum cy_learn {
#define LEARN(name, word, quantity) CY_LEARN_##name,
    CY_LEARNS(LEARN)
#undef LEARN
        CY_LEARN_COUNT
};

const char *cy_learn_word(enum cy_learn what);
enum cy_quantity cy_learn_quantity(enum cy_learn what);

/* The catalogue counts as one season of this farm, a default with nothing behind it as a quarter of
 * one, and what is said of a row's nights as three nights. One season's date strays by 4 days, one
 * night by 1.5 K, until the farm's own scatter says otherwise: that counts as four. Placeholders. */
#define CY_LEARN_CATALOGUE 1.0
#define CY_LEARN_PLACEHOLDER 0.25
#define CY_LEARN_NIGHTS 3.0
#define CY_LEARN_NOISE_D 4.0
#define CY_LEARN_NOISE_K 1.5
#define CY_LEARN_NOISE_COUNTS 4.0
/* Fewer seasons of this farm, with their weather, do not narrow what is published of the model's
 * error. */
#define CY_LEARN_OWN_SPREAD 5

#define CY_LEARN_MOST 48

struct cy_learn_season {
    int year;
    double value, weight; /* weight: 1 with its weather known; of nights, how many were compared */
};

struct cy_learned {
    int64_t thing;              /* the cultivar, or the row */
    enum cy_learn what;
    struct cy_trait before;     /* the catalogue's, the grower's or the default */
    double before_weight;       /* as how many seasons, or nights, it counts */
    struct cy_trait value;      /* after; its basis keeps what is behind `before` for five seasons */
    struct cy_learn_season seasons[CY_LEARN_MOST]; /* the newest of them, oldest first */
    int season_count;
    int full_seasons;           /* with their weather known */
    double weight;              /* of all seasons together */
    double a_day;               /* what a day is worth, in the value's unit; NaN for growth */
    struct cy_trait error_d;    /* this farm's own error of the date; NaN below five full seasons */
};

/* The plan's own learning is in plan->learned. Why a value is what it is; false where `index` is
 * none. */
bool cy_plan_why_learned(struct cy_trace *trace, const struct cy_plan *plan, size_t index);

#endif
