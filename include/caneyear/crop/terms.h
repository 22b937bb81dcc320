/* SPDX-License-Identifier: MIT
 * The words of the crop: each list is its enum, its names and its parser at once. */
#ifndef CANEYEAR_CROP_TERMS_H
#define CANEYEAR_CROP_TERMS_H

#define CY_HABITS(TERM)                                                                          \
    TERM(HABIT_ERECT, "erect")                                                                   \
    TERM(HABIT_SEMI_ERECT, "semi-erect")                                                         \
    TERM(HABIT_TRAILING, "trailing")

/* Where fruit is borne: on last year's canes only, or on this year's as well. */
#define CY_FRUITINGS(TERM)                                                                       \
    TERM(FRUITING_FLORICANE, "floricane")                                                        \
    TERM(FRUITING_PRIMOCANE, "primocane")                                                        \
    TERM(FRUITING_UNKNOWN, "unknown")

#define CY_THORNS(TERM)                                                                          \
    TERM(THORNS_THORNY, "thorny")                                                                \
    TERM(THORNS_THORNLESS, "thornless")

#define CY_STOCKS(TERM)                                                                          \
    TERM(STOCK_BARE_ROOT, "bare root")                                                           \
    TERM(STOCK_PLUG, "plug")                                                                     \
    TERM(STOCK_CONTAINER, "container")                                                           \
    TERM(STOCK_LONG_CANE, "long cane")

/* What is taken from a row. Unknown: nothing alive is ever cut down by the plan. */
#define CY_CROPPINGS(TERM)                                                                       \
    TERM(CROPPING_FLORICANE, "floricane crop")                                                   \
    TERM(CROPPING_BOTH, "both crops")                                                            \
    TERM(CROPPING_AUTUMN, "autumn crop only")                                                    \
    TERM(CROPPING_ALTERNATE, "alternate years")                                                  \
    TERM(CROPPING_UNKNOWN, "unknown")

#define CY_PHASES(TERM)                                                                          \
    TERM(PHASE_ODD, "odd years")                                                                 \
    TERM(PHASE_EVEN, "even years")

/* What new canes grow by. */
#define CY_GROWTHS(TERM)                                                                         \
    TERM(GROWTH_DAYS, "days")                                                                    \
    TERM(GROWTH_HEAT, "heat")

#define CY_FIRMNESSES(TERM)                                                                      \
    TERM(FIRMNESS_SOFT, "soft")                                                                  \
    TERM(FIRMNESS_MEDIUM, "medium")                                                              \
    TERM(FIRMNESS_FIRM, "firm")

#define TERM(name, word) CY_##name,
enum cy_habit { CY_HABITS(TERM) };
enum cy_fruiting { CY_FRUITINGS(TERM) };
enum cy_thorns { CY_THORNS(TERM) };
enum cy_stock { CY_STOCKS(TERM) };
enum cy_cropping { CY_CROPPINGS(TERM) };
enum cy_phase { CY_PHASES(TERM) };
enum cy_growth { CY_GROWTHS(TERM) };
enum cy_firmness { CY_FIRMNESSES(TERM) };
#undef TERM

/* The stages of one cohort, in the order of its two-year life. The first seven fall in the
 * season in which the canes emerge, the rest in the season after. A crop's first, peak and last
 * pick are the days of 5, 50 and 95 % of its weight (NC State caneberry post, 8 May 2013). */
#define CY_STAGES(STAGE)                                                                         \
    STAGE(EMERGENCE, "emergence")                                                                \
    STAGE(TIP, "first tip")                                                                      \
    STAGE(LATERALS, "laterals")                                                                  \
    STAGE(AUTUMN_BLOOM, "autumn bloom")                                                          \
    STAGE(AUTUMN_FIRST_PICK, "autumn first pick")                                                \
    STAGE(AUTUMN_PEAK_PICK, "autumn peak pick")                                                  \
    STAGE(AUTUMN_LAST_PICK, "autumn last pick")                                                  \
    STAGE(DORMANT, "dormant")                                                                    \
    STAGE(CHILL_MET, "chill met")                                                                \
    STAGE(BUD_BREAK, "bud break")                                                                \
    STAGE(BLOOM, "bloom")                                                                        \
    STAGE(FIRST_PICK, "first pick")                                                              \
    STAGE(PEAK_PICK, "peak pick")                                                                \
    STAGE(LAST_PICK, "last pick")                                                                \
    STAGE(SPENT, "spent")

enum cy_stage {
#define STAGE(name, word) CY_STAGE_##name,
    CY_STAGES(STAGE)
#undef STAGE
    CY_STAGE_COUNT
};

/* What a cohort is doing on a day. */
#define CY_STATES(STATE)                                                                         \
    STATE(ABSENT, "not up")       /* not yet emerged, or never there */                          \
    STATE(EMERGING, "emerging")                                                                  \
    STATE(ELONGATING, "elongating")                                                              \
    STATE(TIPPED, "tipped")                                                                      \
    STATE(LATERALS, "laterals")                                                                  \
    STATE(AUTUMN_BLOOM, "autumn bloom")                                                          \
    STATE(AUTUMN_RIPE, "autumn ripe")                                                            \
    STATE(DORMANT, "dormant")                                                                    \
    STATE(CHILLED, "chill met")                                                                  \
    STATE(BUD_BREAK, "bud break")                                                                \
    STATE(BLOOM, "bloom")                                                                        \
    STATE(GREEN_FRUIT, "green fruit")                                                            \
    STATE(RIPE, "ripe")                                                                          \
    STATE(SPENT, "spent")                                                                        \
    STATE(GONE, "gone")           /* taken out, or mown down */

enum cy_state {
#define STATE(name, word) CY_STATE_##name,
    CY_STATES(STATE)
#undef STATE
    CY_STATE_COUNT
};

const char *cy_stage_word(enum cy_stage stage);
const char *cy_state_word(enum cy_state state);

#endif
