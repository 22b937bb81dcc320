/* SPDX-License-Identifier: MIT
 * The season's water: what each row's soil holds, what has to be given week by week, how long each
 * zone runs for it and which zones take turns.
 *
 * Depths are millimetres over the strip that the drip line wets. By day and in each weather: the
 * reference ET by the combination equation (Penman and Monteith, FAO-56 equation 6) where the
 * station has the day's wind, dew point and sun, else by temperature alone (Hargreaves and Samani,
 * equation 52), a crop coefficient by
 * the stage of the canes, and the FAO-56 balance of the strip's root zone (equations 82 to 86). On
 * days ahead, and on days before today that no station observed, just so much is given that the
 * readily available water is never used up; on observed days only what was written down was given.
 */
#ifndef CANEYEAR_SEASON_WATER_H
#define CANEYEAR_SEASON_WATER_H

#include <caneyear/season/plan.h>
#include <caneyear/water/drip.h>
#include <caneyear/water/need.h>

/* A season touches at most so many weeks from Monday to Sunday. */
#define CY_WATER_WEEKS 54

/* Weeks that lack less than a tenth of an inch need no watering. */
#define CY_WATER_DRY_MM 2.54

/* Roots: a young plant's in the first foot of soil (most roots are in the top 12 to 18 in: NC
 * State, Site Preparation); a grown one's to the soil's depth, at most the 1.2 m to which they drew
 * water in Oregon (Acta Horticulturae 1388, article 29). */
#define CY_WATER_YOUNG_ROOTS_M 0.3
#define CY_WATER_ROOTS_M 1.2
/* Share of the available water that berries draw without stress, at 5 mm a day: FAO-56 Table 22. */
#define CY_WATER_P 0.5

/* By which coefficients a row's use is reckoned. */
enum cy_water_use {
    CY_WATER_USE_TABLE,       /* FAO-56 Table 12, berries, laid on the canes' stages */
    CY_WATER_USE_MEASURED,    /* trailing canes in full production in Oregon */
    CY_WATER_USE_ESTABLISHING /* the first year in Oregon */
};

/* The middle dates of a row's stages, as the coefficients take them. What lies between published
 * values is ours, a placeholder: at rest the table's initial value; from the first growth to
 * bloom (on rows without old canes to the first tip) it rises; it holds to the last pick, and
 * where that is sooner to 60 days before leaf fall, since the new canes stay in full leaf; then
 * it falls. In the second year a row draws what the season's measured shares of reference ET say,
 * 34 / 71 of a grown one's. */
struct cy_water_stages {
    enum cy_water_use use;
    bool second_year;
    double latitude_deg;
    int season;
    cy_day from;                      /* the first day of the balance: the season's, or planting */
    double wakes, full, fades, falls; /* days */
    /* The table's middle and end moved to the site's air, FAO-56 equation 62: what is added to
     * them, and the means from full leaf to leaf fall that it rests on; 0 and NaN where the
     * weathers have no wind and humidity. */
    double shift, wind_m_s, rh_min_pct;
    cy_basis basis;
};

/* The crop coefficient of a day; 0 before `from`. */
double cy_water_coefficient(const struct cy_water_stages *stages, cy_day day);

struct cy_water_row_week {
    cy_day monday;
    struct cy_figure need_mm;      /* to be given by the balance; of observed weeks that are over,
                                    * what was missing at their end */
    struct cy_figure inch_mm;      /* by the inch a week; NaN but in the first year */
    struct cy_figure depletion_mm; /* missing from a full root zone at the end of Sunday */
    double need_share, inch_share; /* of the weathers that lack CY_WATER_DRY_MM or more */
    /* Means over the weathers: reference ET, use, rain on the strip and what of it drained, water
     * given as written down, and water that the plan gives. */
    double et_mm, use_mm, rain_mm, drained_mm, given_mm, planned_mm;
    double start_mm, end_mm; /* depletion on its first morning and last evening */
    double kc;               /* the mean of its days */
};

struct cy_water_row {
    size_t row;              /* of the plan */
    size_t zone;             /* of the zones below; SIZE_MAX without one */
    enum cy_water_rule rule; /* that drives its jobs; the inch only in the first year */
    bool first_year;
    bool waters; /* false: not planted in this season, so nothing below is filled */
    struct cy_water_stages stages;
    double roots_m, taw_mm, raw_mm; /* raw_mm: readily available at a use of 5 mm a day */
    double width_m, strip_m2;       /* NaN where the row has no length */
    struct cy_figure today_mm;      /* depletion on the evening of today; NaN out of season */
    double today_kept_mm;           /* readily available water on a day like today's */
    struct cy_figure season_mm;     /* given as written down and planned, in all */
    int given_notes, rain_notes;    /* that count on this row */
    cy_basis basis, inch_basis;
    const struct cy_water_row_week *weeks; /* of the plan, which shares them among like rows; NULL
                                            * where nothing is watered */
};

struct cy_water_zone_week {
    struct cy_figure need_mm; /* of its thirstiest row, weather by weather */
    struct cy_figure hours;   /* to run; NaN where its emitters are not known */
    struct cy_figure litres;  /* to be pumped over all its strips */
};

struct cy_water_zone {
    int64_t thing;
    const char *key, *name; /* borrowed from the plan */
    size_t row_count;
    double length_m, strip_m2;
    double flow_lph; /* with every emitter at its rating; NaN where they are not known */
    double efficiency;
    size_t source; /* of the sources below */
    int turn;      /* 1 is the first; 0 where the flow is not known */
    int parts;     /* that it must be split into, each within the supply */
    struct cy_water_zone_week weeks[CY_WATER_WEEKS];
    struct cy_figure season_l;
    cy_basis basis;
};

/* Zones that name the same source, or none, draw on one. It gives the least that any of them
 * says. */
struct cy_water_source {
    const char *name;                  /* "" where its zones name none; borrowed from the plan */
    double supply_lph, season_limit_l; /* NaN where nobody said */
    int turns;
    double hours[CY_WATER_WEEKS]; /* of its turns one after another, the middle need; NaN */
    struct cy_figure season_l;    /* of its zones together */
    double short_share; /* of the weathers in which the season asks for more than it may give */
    cy_basis basis;
};

struct cy_water_plan {
    int week_count;
    cy_day monday;             /* of the first week */
    struct cy_water_row *rows; /* one for each of the plan's, in its order */
    size_t row_count;
    struct cy_water_zone *zones; /* that have rows, in the farm's order */
    size_t zone_count;
    struct cy_water_source *sources;
    size_t source_count;
    struct cy_water_row_week **tables; /* the rows' weeks */
    size_t table_count, table_capacity;
    size_t uncounted_notes; /* of water given whose depth nothing tells */
    double combined_share;  /* of the days, whose reference ET is by the combination equation */
    size_t worked_out;      /* courses worked out anew for this plan */
};

/* The week of plan->water that a day falls in; -1 out of the season. */
int cy_water_week_of(const struct cy_water_plan *water, cy_day day);

/* What a row that waters is to be given in a week by the rule that drives it. */
const struct cy_figure *cy_water_chosen(const struct cy_water_row *row, int week);

/* ---- turns ---------------------------------------------------------------------------------- */

/* First fit in order: each zone goes into the first turn that has room for its flow. A zone that
 * asks for more than the supply alone is split into equal parts that run by themselves. Fills
 * turn[] (from 1) and parts[]; answers the number of turns. A flow of NaN takes no turn (0). A
 * supply of NaN has room for all. */
int cy_water_turns(int *turn, int *parts, const double *flow_lph, size_t count, double supply_lph);

/* ---- lines ---------------------------------------------------------------------------------- */

/* A row's drip line, fed from its first post. */
struct cy_water_row_line {
    struct cy_water_line line;
    struct cy_water_line_result result;
    double length_m, longest_m; /* longest_m: within `variation` of flow from emitter to emitter */
    bool longest_is_more;       /* longest_m is as far as was looked */
    double variation;           /* that is allowed */
    bool fits;                  /* as long as it is, it stays within */
    cy_basis basis;
};

/* CY_INVALID where the row has no zone whose emitters, bore and pressure are known; CY_FAILED
 * where no flow settles. Works it out anew: some milliseconds. */
int cy_water_row_line(struct cy_water_row_line *out, const struct cy_plan *plan, size_t row);

/* ---- why ------------------------------------------------------------------------------------ */

enum cy_water_item {
    CY_WATER_WHY_TODAY,  /* of a row: today's depletion */
    CY_WATER_WHY_NEED,   /* of a row and week: by the balance */
    CY_WATER_WHY_INCH,   /* of a row and week */
    CY_WATER_WHY_SEASON, /* of a row */
    CY_WATER_WHY_LINE,   /* of a row */
    CY_WATER_WHY_RUN,    /* of a zone and week: hours and litres */
    CY_WATER_WHY_TURNS,  /* of a source and week */
    CY_WATER_WHY_SOURCE  /* of a source: the season against what it may give */
};

/* `which` is a row of the plan, a zone or a source, by the item. False where there is no such
 * figure. */
bool cy_plan_why_water(struct cy_trace *trace, const struct cy_plan *plan, enum cy_water_item item,
                       size_t which, int week);

#endif
