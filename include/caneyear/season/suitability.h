/* SPDX-License-Identifier: MIT
 * What suits a site: marks for the site itself and for every cultivar on it, each with its figure,
 * its reason and what stands behind it. */
#ifndef CANEYEAR_SEASON_SUITABILITY_H
#define CANEYEAR_SEASON_SUITABILITY_H

#include <caneyear/season/plan.h>
#include <caneyear/season/sunlight.h>

/* What is marked. The first ones are the site's, the same for all that is planted there; the
 * rest are each cultivar's. SUIT(name, word) */
#define CY_SUITS(SUIT)                                                                             \
    SUIT(SUN, "sun")                                                                               \
    SUIT(DRAINAGE, "drainage")                                                                     \
    SUIT(SLOPE, "slope")                                                                           \
    SUIT(FACING, "facing")                                                                         \
    SUIT(BEFORE, "grew before")                                                                    \
    SUIT(WILD, "wild brambles")                                                                    \
    SUIT(CHILL, "chill")                                                                           \
    SUIT(WINTER, "winter")                                                                         \
    SUIT(FLOWERS, "frost on the flowers")                                                          \
    SUIT(HEAT, "heat at bloom")                                                                    \
    SUIT(AUTUMN, "autumn crop before a freeze")                                                    \
    SUIT(THORNS, "thorns")                                                                         \
    SUIT(FIRMNESS, "firmness")

enum cy_suit {
#define SUIT(name, word) CY_SUIT_##name,
    CY_SUITS(SUIT)
#undef SUIT
    CY_SUIT_COUNT,
    CY_SUIT_OF_CULTIVAR = CY_SUIT_CHILL /* the first that is a cultivar's */
};

#define CY_MARKS(MARK)                                                                             \
    MARK(GOOD, "good")                                                                             \
    MARK(FAIR, "fair")                                                                             \
    MARK(POOR, "poor")                                                                             \
    MARK(NO_DATA, "no data")                                                                       \
    MARK(DOES_NOT_APPLY, "does not apply")

enum cy_mark {
#define MARK(name, word) CY_MARK_##name,
    CY_MARKS(MARK)
#undef MARK
        CY_MARK_COUNT
};

const char *cy_suit_word(enum cy_suit suit);
const char *cy_mark_word(enum cy_mark mark);

/* REASON(name): each has one sentence in src/words/suitability.c. */
#define CY_SUIT_REASONS(REASON)                                                                    \
    REASON(NOT_SAID)       /* the farm does not say */                                             \
    REASON(SUN_HOURS)      /* figure: hours of direct sun, the season's mean; limit: asked for */  \
    REASON(DRAINS_WELL)                                                                            \
    REASON(DRAINS_SLOWLY)                                                                          \
    REASON(DRAINS_POORLY)                                                                          \
    REASON(SLOPE)          /* figure: degrees; limit */                                            \
    REASON(LEVEL)          /* faces nowhere */                                                     \
    REASON(FACES_COOL)     /* east to poleward */                                                  \
    REASON(FACES_SUN)      /* towards the noon sun */                                              \
    REASON(FACES_WEST)                                                                             \
    REASON(GREW_CLEAN)                                                                             \
    REASON(GREW_HOST)      /* what shares the plants' troubles */                                  \
    REASON(GREW_OTHER)                                                                             \
    REASON(WILD_AWAY)      /* figure: metres; limit */                                             \
    REASON(CHILL_MET)      /* figure: share of years; limit: the need */                           \
    REASON(CHILL_NO_NEED)  /* none published or typed, or nothing better than a guess */           \
    REASON(CHILL_NO_RULE)  /* nobody says how the need was counted */                              \
    REASON(CHILL_NO_COUNT) /* the count begins with a freeze, and it never freezes */              \
    REASON(BUDS_KILLED)    /* figure: share of years; limit: kills half of the buds */             \
    REASON(CANES_KILLED)   /* the same by what kills its canes */                                  \
    REASON(TYPE_INJURED)   /* the same by the limit printed for its type */                        \
    REASON(NO_LIMIT)       /* of cold */                                                           \
    REASON(FLOWERS_FROZEN) /* figure: share of years */                                            \
    REASON(NO_BLOOM_HEAT)  /* nothing better than a guess says when it blooms */                   \
    REASON(NEVER_BLOOMS)   /* in no year: too little chill or heat */                              \
    REASON(HOT_BLOOM)      /* figure: share of years; limit: C */                                  \
    REASON(NO_AUTUMN_CROP) /* fruits on last year's canes only */                                  \
    REASON(FRUITING_UNKNOWN)                                                                       \
    REASON(RIPE_IN_TIME)   /* figure: share of the crop, the years' mean */                        \
    REASON(THORNLESS)                                                                              \
    REASON(THORNY_VISITORS)                                                                        \
    REASON(THORNY)                                                                                 \
    REASON(FIRM)                                                                                   \
    REASON(HOLDS_ON_SPOT)  /* medium or soft, and all of it is picked by visitors */               \
    REASON(HOLDS_SHIPPED)  /* medium or soft, and some of it is sold to be carried away */         \
    REASON(HOLDS_UNSAID)   /* medium or soft, and the farm does not say how it sells */

enum cy_suit_reason {
#define REASON(name) CY_SUIT_SAYS_##name,
    CY_SUIT_REASONS(REASON)
#undef REASON
        CY_SUIT_REASON_COUNT
};

struct cy_verdict {
    enum cy_mark mark;
    enum cy_suit_reason reason;
    double figure;             /* NaN where the reason has none */
    enum cy_quantity quantity; /* of the figure */
    double limit;              /* what it is held against; NaN where there is nothing */
    cy_basis basis;
    const char *source; /* of the limit or of what is said; borrowed from the table, or "" */
    bool ranked; /* the cultivar's own figure, published or this farm's: it may be compared by it */
};

/* Shares of years: good from the first up, fair from the second. They are ours: placeholders. The
 * sun is good from CY_SUNLIGHT_FULL_H up, fair from CY_SUNLIGHT_ENOUGH_H. */
#define CY_SUIT_GOOD_SHARE 0.9
#define CY_SUIT_FAIR_SHARE 0.7

/* Primocane flowers abort in about a week above 85 F (Univ. of Kentucky, blackberry crop
 * profile): seven days on end, in the middle half of the bloom. */
#define CY_SUIT_HOT_C ((85 - 32) / 1.8)
#define CY_SUIT_HOT_DAYS 7

struct cy_suit_cultivar {
    int64_t thing;
    const char *key, *name; /* borrowed from the table */
    bool grown;             /* a row has it */
    struct cy_verdict verdicts[CY_SUIT_COUNT]; /* those of the site stay zeroed */
    /* Cultivars are ranked by the share of years in which their chill is met, or in which their
     * buds outlive the winter, whichever is smaller; and only where both have a figure of their
     * own. 0: not ranked. All other marks are shown, not ranked by: dates from heat sums are too
     * unsure, and thorns and firmness are a matter of what the farm sells. */
    int rank;
    double rank_share; /* NaN where not ranked */
};

struct cy_suitability {
    int season; /* the one judged: after that of today and of the request, so that all lies ahead */
    cy_day today;
    int years;  /* weathers */
    double latitude_deg;
    struct cy_verdict site[CY_SUIT_OF_CULTIVAR];
    struct cy_suit_cultivar *cultivars; /* the ranked ones first, then as the farm has them */
    size_t cultivar_count, cultivar_capacity;
    struct cy_sunlight sun;
    struct cy_verdict *rows; /* of the sun at each of its rows */
    struct cy_farm farm;   /* as judged, catalogue lent; names and sources point into it */
    cy_basis weather;      /* what stands behind the weathers */
};

/* The table of a farm's site, over the weathers that a plan of the same request has: a planner
 * that made that plan does not make them anew. The caller disposes of it. CY_INVALID where the
 * farm has no weather (see the issues); anything but CY_OK leaves *out empty. */
int cy_planner_suitability(struct cy_suitability *out, struct cy_planner *planner,
                           const struct cy_plan_request *request, struct cy_issues *issues);
void cy_suitability_dispose(struct cy_suitability *table);

/* Why a mark is what it is: of a cultivar by its place in the table, or of the site (`cultivar`
 * is not looked at). False where there is none. Of the sun at a row: cy_sunlight_why_row. */
bool cy_suitability_why(struct cy_trace *trace, const struct cy_suitability *table,
                        size_t cultivar, enum cy_suit suit);

#endif
