/* SPDX-License-Identifier: MIT
 * The words of the farm model: each list is its enum, its names and its parser at once. */
#ifndef CANEYEAR_SEASON_TERMS_H
#define CANEYEAR_SEASON_TERMS_H

#include <caneyear/climate/warmth.h>
#include <caneyear/crop/terms.h>
#include <caneyear/trellis/wind.h>

#define CY_SYSTEMS(TERM) TERM(UNITS_US, "us") TERM(UNITS_METRIC, "metric")

#define CY_YES_NO(TERM) TERM(NO, "no") TERM(YES, "yes")

#define CY_SOILS(TERM)                                                                           \
    TERM(SOIL_SAND, "sand")                                                                      \
    TERM(SOIL_LOAMY_SAND, "loamy sand")                                                          \
    TERM(SOIL_SANDY_LOAM, "sandy loam")                                                          \
    TERM(SOIL_LOAM, "loam")                                                                      \
    TERM(SOIL_SILT_LOAM, "silt loam")                                                            \
    TERM(SOIL_SILT, "silt")                                                                      \
    TERM(SOIL_CLAY_LOAM, "clay loam")                                                            \
    TERM(SOIL_SILTY_CLAY, "silty clay")                                                          \
    TERM(SOIL_CLAY, "clay")                                                                      \
    TERM(SOIL_GRAVEL, "gravel")

#define CY_DRAINAGES(TERM)                                                                       \
    TERM(DRAINAGE_GOOD, "good") TERM(DRAINAGE_SLOW, "slow") TERM(DRAINAGE_POOR, "poor")

#define CY_BEFORES(TERM)                                                                         \
    TERM(BEFORE_GRASS, "grass")                                                                  \
    TERM(BEFORE_GRAIN, "grain")                                                                  \
    TERM(BEFORE_NIGHTSHADES, "potatoes, tomatoes, peppers or eggplant")                          \
    TERM(BEFORE_STRAWBERRIES, "strawberries")                                                    \
    TERM(BEFORE_BRAMBLES, "brambles")                                                            \
    TERM(BEFORE_FRUIT, "peaches, apples or grapes")                                              \
    TERM(BEFORE_OTHER, "other")

#define CY_FORMS(TERM) TERM(FORM_I, "I") TERM(FORM_T, "T") TERM(FORM_V, "V")

#define CY_POSTS(TERM)                                                                           \
    TERM(POST_ROUND, "round wood")                                                               \
    TERM(POST_SQUARE, "square wood")                                                             \
    TERM(POST_TEE, "steel tee")                                                                  \
    TERM(POST_PIPE, "steel pipe")

#define CY_ENDS(TERM)                                                                            \
    TERM(ROW_END_NONE, "none")                                                                       \
    TERM(ROW_END_H, "h")                                                                             \
    TERM(ROW_END_SLANT, "slant")                                                                     \
    TERM(ROW_END_TIE, "tie")

#define CY_WIRES(TERM)                                                                           \
    TERM(WIRE_HIGH_TENSILE, "high-tensile")                                                      \
    TERM(WIRE_LOW_CARBON, "low-carbon")                                                          \
    TERM(WIRE_POLYMER, "polymer")

/* What a tie at the row's end is fastened to. */
#define CY_ANCHORS(TERM) TERM(ANCHOR_SCREW, "screw") TERM(ANCHOR_DEADMAN, "deadman")

/* What a trellis is made of, in the order of a parts list. */
#define CY_PARTS(TERM)                                                                           \
    TERM(PART_ROUND_POST, "round post")                                                          \
    TERM(PART_SQUARE_POST, "square post")                                                        \
    TERM(PART_TEE_POST, "steel tee post")                                                        \
    TERM(PART_PIPE_POST, "steel pipe post")                                                      \
    TERM(PART_RAIL, "brace rail")                                                                \
    TERM(PART_STRUT, "strut")                                                                    \
    TERM(PART_DIAGONAL, "brace wire")                                                            \
    TERM(PART_ANCHOR, "anchor")                                                                  \
    TERM(PART_ARM, "cross arm")                                                                  \
    TERM(PART_HIGH_TENSILE, "high-tensile wire")                                                 \
    TERM(PART_LOW_CARBON, "low-carbon wire")                                                     \
    TERM(PART_POLYMER, "polymer line")                                                           \
    TERM(PART_STRAINER, "strainer")                                                              \
    TERM(PART_STAPLE, "staple")                                                                  \
    TERM(PART_CLIP, "clip")                                                                      \
    TERM(PART_CRIMP, "crimp sleeve")                                                             \
    TERM(PART_TIE, "tie material")

/* Which of the two ways of reckoning a zone's water drives its jobs. */
#define CY_WATER_RULES(TERM)                                                                     \
    TERM(WATER_RULE_INCH, "inch a week")                                                         \
    TERM(WATER_RULE_BALANCE, "balance")

/* By which published coefficients grown canes use water. */
#define CY_WATER_CURVES(TERM)                                                                    \
    TERM(WATER_CURVE_TABLE, "FAO-56 berries")                                                    \
    TERM(WATER_CURVE_MEASURED, "trailing canes in Oregon")

/* The moments that a job's window can hang on. Where the moment is a stage of the canes, a window
 * opens on its 10th percentile and closes on its 90th; rounds run from median to median. */
#define CY_MOMENTS(TERM)                                                                         \
    TERM(MOMENT_DATE, "date")                                                                    \
    TERM(MOMENT_SEASON_START, "season start")                                                    \
    TERM(MOMENT_SEASON_END, "season end")                                                        \
    TERM(MOMENT_PLANTING, "planting")                                                            \
    TERM(MOMENT_EMERGENCE, "emergence")                                                          \
    TERM(MOMENT_TIP, "first tip")                                                                \
    TERM(MOMENT_LATERALS, "laterals")                                                            \
    TERM(MOMENT_DORMANT, "dormant")                                                              \
    TERM(MOMENT_BUD_BREAK, "bud break")                                                          \
    TERM(MOMENT_BLOOM, "bloom")                                                                  \
    TERM(MOMENT_FIRST_PICK, "first pick")                                                        \
    TERM(MOMENT_LAST_PICK, "last pick")                                                          \
    TERM(MOMENT_AUTUMN_FIRST_PICK, "autumn first pick")                                          \
    TERM(MOMENT_AUTUMN_LAST_PICK, "autumn last pick")                                            \
    TERM(MOMENT_SPENT_FROM, "practice spent_from")                                               \
    TERM(MOMENT_SPENT_TO, "practice spent_to")                                                   \
    TERM(MOMENT_THIN_FROM, "practice thin_from")                                                 \
    TERM(MOMENT_THIN_TO, "practice thin_to")                                                     \
    TERM(MOMENT_SLACK, "wires slack") /* under working tension, seven days running */

#define CY_JOB_ROWS(TERM)                                                                        \
    TERM(JOB_ROWS_EVERY, "every row")                                                            \
    TERM(JOB_ROWS_PLANTED, "rows being planted") /* before and on planting */                    \
    TERM(JOB_ROWS_FIRST_YEAR, "rows in their first year")                                        \
    TERM(JOB_ROWS_STANDING, "standing rows")     /* planted in an earlier season */              \
    TERM(JOB_ROWS_NEW_CANES, "rows with new canes")                                              \
    TERM(JOB_ROWS_OLD_CANES, "rows with last year's canes")                                      \
    TERM(JOB_ROWS_CROP, "rows with a crop on last year's canes")                                 \
    TERM(JOB_ROWS_AUTUMN_CROP, "rows with a crop on this year's canes")

#define CY_JOB_NEEDS(TERM)                                                                       \
    TERM(JOB_NEEDS_NOTHING, "nothing")                                                           \
    TERM(JOB_NEEDS_TIPPING, "summer tipping")                                                    \
    TERM(JOB_NEEDS_TRELLIS, "a trellis")                                                         \
    TERM(JOB_NEEDS_LATERAL_TIP, "laterals tipped again")                                         \
    TERM(JOB_NEEDS_SHORT_LATERALS, "laterals shortened") /* in winter; not semi-erect canes */   \
    TERM(JOB_NEEDS_MOWING, "mow-down")                                                           \
    TERM(JOB_NEEDS_CANES_KEPT, "canes kept over winter")                                         \
    TERM(JOB_NEEDS_DRY_WEEK, "less rain than the young plants need")                             \
    TERM(JOB_NEEDS_TENSION, "wires whose tension nobody knows")                              \
    TERM(JOB_NEEDS_BALANCE, "less water than the soil's balance asks for")

/* What a grower notes in the field. */
#define CY_SIGHTS(TERM)                                                                          \
    TERM(SIGHT_EMERGENCE, "emergence")                                                           \
    TERM(SIGHT_BUD_BREAK, "bud break")                                                           \
    TERM(SIGHT_FIRST_BLOOM, "first bloom")                                                       \
    TERM(SIGHT_FULL_BLOOM, "full bloom")                                                         \
    TERM(SIGHT_FIRST_RIPE, "first ripe")                                                         \
    TERM(SIGHT_LAST_RIPE, "last ripe")                                                           \
    TERM(SIGHT_AUTUMN_BLOOM, "autumn bloom")                                                     \
    TERM(SIGHT_AUTUMN_FIRST_RIPE, "autumn first ripe")                                           \
    TERM(SIGHT_HEIGHT, "cane height")                                                            \
    TERM(SIGHT_COUNT, "cane count")                                                              \
    TERM(SIGHT_FROST_KILL, "frost kill")                                                         \
    TERM(SIGHT_NIGHT_LOW, "night low")                                                           \
    TERM(SIGHT_RAIN, "rain")                                                                     \
    TERM(SIGHT_GIVEN, "water given")                                                             \
    TERM(SIGHT_OTHER, "other")

#define TERM(name, word) CY_##name,
enum cy_farm_units { CY_SYSTEMS(TERM) };
enum cy_yes_no { CY_YES_NO(TERM) };
enum cy_soil { CY_SOILS(TERM) };
enum cy_drainage { CY_DRAINAGES(TERM) };
enum cy_before { CY_BEFORES(TERM) };
enum cy_form { CY_FORMS(TERM) };
enum cy_post_kind { CY_POSTS(TERM) };
enum cy_row_end { CY_ENDS(TERM) };
enum cy_wire_kind { CY_WIRES(TERM) };
enum cy_row_anchor { CY_ANCHORS(TERM) };
enum cy_part_kind { CY_PARTS(TERM) CY_PART_KIND_COUNT };
enum cy_water_rule { CY_WATER_RULES(TERM) };
enum cy_water_curve { CY_WATER_CURVES(TERM) };
enum cy_moment { CY_MOMENTS(TERM) };
enum cy_job_rows { CY_JOB_ROWS(TERM) };
enum cy_job_needs { CY_JOB_NEEDS(TERM) };
enum cy_sight { CY_SIGHTS(TERM) };
#undef TERM

#endif
