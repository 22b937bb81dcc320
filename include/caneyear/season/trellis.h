/* SPDX-License-Identifier: MIT
 * The trellis of each row judged: wires through the year's temperatures, posts, ends, and how much
 * of each part's capacity the loads use.
 *
 * Loads are combined as allowable-stress design does, ASCE 7-16 section 2.4.1 (from memory): D, the
 * canes; L, the fruit; W, the wind. The grower's gust is one to be met in service, so W takes the
 * factor 1 and not the 0.6 of a strength-level map speed. Ice stands on the wires alone, in still
 * air. No verdict calls anything safe: it says which check was made, and by how much. */
#ifndef CANEYEAR_SEASON_TRELLIS_H
#define CANEYEAR_SEASON_TRELLIS_H

#include <caneyear/season/plan.h>
#include <caneyear/trellis/post.h>

#define CY_TRELLIS_WIRES 12 /* of a trellis at most; further ones are passed over */
#define CY_TRELLIS_SLACK_DAYS 7
#define CY_TRELLIS_HEAVE_C                                                                         \
    0.0 /* winters freeze deep where the coldest month's mean is below it:                         \
         * placeholder */

/* CASE(id, word, the combination) */
#define CY_TRELLIS_CASES(CASE)                                                                     \
    CASE(SET, "as set", "the bare wire as it was set")                                             \
    CASE(COLD, "a winter night", "the bare wire on the coldest night of one winter in ten")        \
    CASE(HEAT, "tightened in the heat, then a winter night",                                       \
         "the bare wire set on the hottest day of one year in ten, then that night")               \
    CASE(ICE, "ice", "ice on the bare wire, 0 C, still air")                                       \
    CASE(LEAF, "canes in leaf", "D, in leaf and wet")                                              \
    CASE(FRUIT, "canes in fruit", "D + L, in leaf and fruit, wet")                                 \
    CASE(BARE_WIND, "wind across bare canes", "D + W across, bare, on that night")                 \
    CASE(LEAF_WIND, "wind across canes in leaf", "D + W across, in leaf")                          \
    CASE(FRUIT_WIND, "wind across canes in fruit", "D + 0.75 L + 0.75 W across, in fruit")         \
    CASE(LIGHT_WIND, "wind across canes in dry leaf", "0.6 D + W across, in leaf")                 \
    CASE(ALONG, "wind along the row", "D + W along, in leaf")

enum cy_trellis_case {
#define CASE(id, word, combination) CY_CASE_##id,
    CY_TRELLIS_CASES(CASE)
#undef CASE
        CY_CASE_COUNT
};

/* What is checked. CHECK(id, part, what, quantity of demand and capacity) */
#define CY_TRELLIS_CHECKS(CHECK)                                                                   \
    CHECK(WIRE_SET, "wire", "tension as set", FORCE)                                               \
    CHECK(WIRE_COLD, "wire", "tension in the cold", FORCE)                                         \
    CHECK(WIRE_LOADED, "wire", "tension under load", FORCE)                                        \
    CHECK(POST_BENDING, "line post", "bending at the ground", MOMENT)                              \
    CHECK(POST_GROUND, "line post", "hold of soil sideways", FORCE)                                \
    CHECK(POST_BEARING, "line post", "weight on its foot", FORCE)                                  \
    CHECK(ARM, "arm", "bending at the post", MOMENT)                                               \
    CHECK(ACROSS_BENDING, "end post", "bending, wind across", MOMENT)                              \
    CHECK(ACROSS_GROUND, "end post", "hold of soil, across", FORCE)                                \
    CHECK(END_BENDING, "end post", "bending at the ground", MOMENT)                                \
    CHECK(END_GROUND, "end post", "hold of soil sideways", FORCE)                                  \
    CHECK(RAIL, "brace rail", "buckling", FORCE)                                                   \
    CHECK(DIAGONAL, "brace wire", "tension", FORCE)                                                \
    CHECK(STRUT, "strut", "buckling", FORCE)                                                       \
    CHECK(ANCHOR, "anchor", "pull of the tie", FORCE)                                              \
    CHECK(UPLIFT, "end post", "pulling out", FORCE)                                                \
    CHECK(OVERTURN, "end", "overturning", MOMENT)                                                  \
    CHECK(PUSH, "end post", "weight on its foot", FORCE)

enum cy_trellis_check_kind {
#define CHECK(id, part, what, quantity) CY_CHECK_##id,
    CY_TRELLIS_CHECKS(CHECK)
#undef CHECK
        CY_CHECK_COUNT
};

/* Why a check has no answer. */
enum cy_trellis_refusal {
    CY_REFUSED_NOT,
    CY_REFUSED_TENSION,  /* a wire's tension or the temperature of its setting is not known */
    CY_REFUSED_STRENGTH, /* no figure: a gauge that the table lacks, or polymer line without its
                          * maker's breaking load, diameter, modulus and expansion */
    CY_REFUSED_GUST,     /* no gust is typed */
    CY_REFUSED_SECTION,  /* no figure for a post of this kind and size */
    CY_REFUSED_ANCHOR,   /* no figure for this anchor in this soil, at this angle or depth */
    CY_REFUSED_WIRES     /* the trellis has no wires */
};

/* Capacity holds the factors that the check asks for, so that 100 % is its limit. */
struct cy_trellis_check {
    enum cy_trellis_check_kind kind;
    enum cy_trellis_case in;      /* the case that asks most */
    int wire;                     /* of a wire's check; else -1 */
    double demand, capacity, use; /* use: demand over capacity; NaN where refused */
    enum cy_trellis_refusal refusal;
    cy_basis basis;
};

const char *cy_trellis_case_word(enum cy_trellis_case in);
const char *cy_trellis_case_combination(enum cy_trellis_case in);
const char *cy_check_part(enum cy_trellis_check_kind kind);
const char *cy_check_what(enum cy_trellis_check_kind kind);
enum cy_quantity cy_check_quantity(enum cy_trellis_check_kind kind);

/* ---- what is judged -------------------------------------------------------------------------- */

struct cy_trellis_frame_wire {
    const char *key; /* borrowed from the farm */
    enum cy_wire_kind kind;
    struct cy_trait height_m, gauge, tension_n, working_n, set_at_c;
    struct cy_trait breaks_n;                              /* NaN: by its kind */
    struct cy_trait diameter_m, modulus_pa, expansion_ppm; /* of polymer line; NaN */
};

/* The soil's class for the code formulas. Ours for each texture: placeholder. */
struct cy_trellis_soil {
    int number; /* of cy_soil_find */
    bool sand;  /* uplift by friction; else by adhesion */
    cy_basis basis;
};

/* A row and its trellis as plain numbers, each with what is behind it. */
struct cy_trellis_frame {
    enum cy_form form;
    enum cy_post_kind post;
    enum cy_row_end end;
    enum cy_row_anchor anchor;
    enum cy_habit habit;
    bool habit_known, soil_known, crop_planned;
    int soil_texture; /* enum cy_soil */
    struct cy_trellis_soil soil;
    struct cy_trait length_m, spacing_m, post_size_m, post_depth_m, end_size_m, end_depth_m, arm_m;
    struct cy_trait lean_m, brace_height_m, brace_length_m, tie_angle_deg;
    struct cy_trait anchor_size_m, anchor_length_m, anchor_depth_m, anchor_holds_n;
    struct cy_trait gust_m_s, ice_m;
    struct cy_trait colder_k;
    int exposure; /* enum cy_exposure */
    cy_basis exposure_basis;
    struct cy_trait crop_kg_m; /* the season's, per metre of row: the high of eight years in ten */
    struct cy_trait tip_m;     /* NaN: not tipped */
    struct cy_trait cane_m;    /* how long new canes get; NaN where not known */
    struct cy_trellis_frame_wire wires[CY_TRELLIS_WIRES];
    int wire_count, wires_left_out;
    /* From the weathers: */
    double cold_c;   /* the coldest night of one winter in ten */
    double heat_c;   /* the mean of the hottest day of one year in ten */
    double summer_c; /* the mean of the warm half of the year */
    double winter_c; /* the coldest month's normal mean */
    cy_basis weather;
};

/* ---- the verdict ------------------------------------------------------------------------------
 */

/* A wire through the season, bare; all tensions horizontal. */
struct cy_trellis_wire {
    double height_m;
    enum cy_wire_kind kind;
    enum cy_trellis_refusal refusal;
    double strength_n; /* breaking, not a test value */
    double set_n, working_n, set_at_c;
    double cold_n, heat_n;        /* on the coldest night, on the hottest day of one year in ten */
    double heat_set_cold_n;       /* that night, where it was set on that day */
    double lean_n;                /* what the end lean takes off its tension */
    double fruit_n, fruit_sag_m;  /* with the crop on it, no wind */
    struct cy_figure month_n[12]; /* at the daily means of January to December */
    double month_sag_m[12];       /* in the middle of them */
    double slack_above_c;         /* daily means above this leave it under working tension */
    struct cy_figure slack;       /* the day on which it has been so for seven days */
    double slack_mean_c, slack_n; /* over those days, in the middle year */
    double take_up_m;             /* to bring it back to what was set */
    cy_basis basis;
};

/* What practice is, what the code formula allows, what this farm's wind asks of a line post. */
struct cy_trellis_practice {
    double asks_n, at_m; /* the wind on one line post, and its height; 0 without a gust */
    enum cy_trellis_case in;
    double allows_n;      /* the code formula at this trellis's depth and size */
    double customary_n;   /* the same for a 4 in. post 2 ft deep */
    double need_depth_m;  /* the depth at which the code formula allows what is asked */
    double ratio;         /* asked over allowed */
    double ultimate_n;    /* in sand, what such a post can take before the ground fails */
    double held_gust_m_s; /* the gust at which what is asked is what is allowed */
    cy_basis basis;
};

enum cy_trellis_note {
    CY_TRELLIS_NO_GUST = 1,
    CY_TRELLIS_EXPOSURE_TAKEN = 2,    /* none is typed: open country is taken */
    CY_TRELLIS_SOIL_TAKEN = 4,        /* none is typed */
    CY_TRELLIS_TENSION_UNKNOWN = 8,   /* of some wire */
    CY_TRELLIS_NO_FIGURE = 16,        /* polymer line, or a gauge off the table */
    CY_TRELLIS_LOW_WIRE_HIGH = 32,    /* the lowest wire is above the height of tipping */
    CY_TRELLIS_TOP_OUT_OF_REACH = 64, /* the canes do not get as long as the top wire is high */
    CY_TRELLIS_ONE_WIRE = 128,        /* for trailing canes, which are wound round two */
    CY_TRELLIS_FORM_UNUSUAL = 256,    /* semi-erect canes on another form than the double T */
    CY_TRELLIS_HEAVE = 512,           /* winters freeze deep here */
    CY_TRELLIS_SPACED = 1024,         /* line posts further apart than practice */
    CY_TRELLIS_SHALLOW = 2048,        /* line posts less deep than practice */
    CY_TRELLIS_END_SHALLOW = 4096,
    CY_TRELLIS_CROP_TAKEN = 8192,  /* no crop is planned: a full one is taken */
    CY_TRELLIS_MANY_WIRES = 16384, /* more than are judged, or without a height */
    CY_TRELLIS_LAST_NOTE = CY_TRELLIS_MANY_WIRES
};

struct cy_trellis_verdict {
    size_t holders; /* the planner's memory and the plans that show it */
    int bays;
    double bay_m, top_m;
    double canopy_low_m, canopy_high_m;
    struct cy_trellis_wire *wires;
    int wire_count;
    struct cy_trellis_check *checks;
    int check_count;
    int governing;                       /* the check with the highest use; -1 where none has any */
    int line_post, end, wire;            /* the same of the line posts, of an end, of the wires */
    double deflection_m, deflected_at_m; /* of a line post under the wind, as if set in rock */
    double along_n;                      /* wind along the row, on one end; 0 without a gust */
    struct cy_trellis_practice practice;
    unsigned notes;              /* enum cy_trellis_note */
    int slack_wire, slack_wires; /* the first to go slack, -1; how many do */
    double take_up_m;            /* the longest of theirs */
    cy_basis basis;
};

/* The verdict of a plan's row; NULL where it names no trellis. Borrowed from the plan. */
const struct cy_trellis_verdict *cy_trellis_of(const struct cy_plan *plan, size_t row);

/* The same numbers that the verdict was made from. False where the row names no trellis. */
bool cy_trellis_frame_of(struct cy_trellis_frame *out, const struct cy_plan *plan, size_t row);

/* A verdict of a frame by itself, without the season: no months, no slack. CY_NO_MEMORY leaves
 * *out empty. The caller disposes of it. */
int cy_trellis_judge(struct cy_trellis_verdict *out, const struct cy_trellis_frame *frame);
void cy_trellis_verdict_dispose(struct cy_trellis_verdict *verdict);

/* The cross-section of a line post of the frame; false: no figure. */
bool cy_trellis_section(struct cy_section *out, const struct cy_trellis_frame *frame);

/* How wide a T or V stands at its top: as typed, or the usual; 0 of an I. */
double cy_trellis_arm_m(const struct cy_trellis_frame *frame);

/* ---- what would put it right ------------------------------------------------------------------
 */

/* FIX(id, word) */
#define CY_TRELLIS_FIXES(FIX)                                                                      \
    FIX(CLOSER, "posts closer together")                                                           \
    FIX(DEEPER, "posts deeper")                                                                    \
    FIX(LARGER, "larger posts")                                                                    \
    FIX(WIRE, "one more wire")                                                                     \
    FIX(THICKER, "thicker wire")

enum cy_fix_kind {
#define FIX(id, word) CY_FIX_##id,
    CY_TRELLIS_FIXES(FIX)
#undef FIX
        CY_FIX_COUNT
};

const char *cy_fix_word(enum cy_fix_kind kind);

/* The smallest change of one kind that brings the governing check to its limit, all other things
 * equal, within what the fields allow. */
struct cy_trellis_fix {
    enum cy_fix_kind kind;
    bool applies;                 /* to the part that governs */
    bool end;                     /* of the end posts, not the line posts */
    bool anchor;                  /* of the anchor */
    bool enough;                  /* else none within the bounds is */
    double value;                 /* spacing, depth, size, height of the new wire; gauge */
    double use;                   /* of what governed, then; at the bound where none is enough */
    struct cy_trellis_check then; /* what governs then */
    double cost; /* of what must be bought; NaN unless all its prices are the grower's */
};

struct cy_trellis_fixes {
    bool needed; /* the governing use is above its limit */
    struct cy_trellis_fix fixes[CY_FIX_COUNT];
    int cheapest; /* of those that are enough, when each of them has a cost; -1 */
};

/* CY_NO_MEMORY, or CY_OK; nothing is needed where the row has no verdict. */
int cy_trellis_fixes_of(struct cy_trellis_fixes *out, const struct cy_plan *plan, size_t row);
/* One of them alone. */
int cy_trellis_fix_of(struct cy_trellis_fix *out, const struct cy_plan *plan, size_t row,
                      enum cy_fix_kind kind);

/* ---- parts ------------------------------------------------------------------------------------
 */

#define CY_PARTS_LINES 24

struct cy_parts_line {
    enum cy_part_kind kind;
    bool by_length; /* amount is in metres */
    double amount;
    double width_m, length_m, gauge; /* asked of the part; NaN where nothing is */
    const struct cy_thing *part;     /* the cheapest that serves; NULL: none has a price */
    double price, cost;              /* of one or of a metre; NaN */
    cy_basis basis;                  /* of the price */
};

struct cy_parts_list {
    struct cy_parts_line lines[CY_PARTS_LINES];
    int count;
    double row_m;       /* the length of row that it is for */
    double wire_kg;     /* of steel wire in it, zinc not counted */
    double cost;        /* of what has a price */
    int unpriced;       /* lines without one */
    int rows, left_out; /* rows counted; rows without a trellis or without wires */
    cy_basis basis;     /* of the prices */
};

/* Of a row; false where it names no trellis or the trellis has no wires. */
bool cy_parts_of_row(struct cy_parts_list *out, const struct cy_plan *plan, size_t row);
void cy_parts_of_farm(struct cy_parts_list *out, const struct cy_plan *plan);

/* ---- why --------------------------------------------------------------------------------------
 */

/* Items of cy_plan_why_trellis: a check by its place in the verdict, and these and beyond. */
enum {
    CY_TRELLIS_WHY_CHECK = 0,
    CY_TRELLIS_WHY_WIRE = 1000, /* + wire: its year, and when it is slack */
    CY_TRELLIS_WHY_PRACTICE = 2000,
    CY_TRELLIS_WHY_DEFLECTION,
    CY_TRELLIS_WHY_HEAVE,
    CY_TRELLIS_WHY_HABIT,
    CY_TRELLIS_WHY_PARTS,
    CY_TRELLIS_WHY_FIX = 3000 /* + kind */
};

bool cy_plan_why_trellis(struct cy_trace *trace, const struct cy_plan *plan, size_t row, int item);
/* Of the farm's parts list. */
bool cy_plan_why_parts(struct cy_trace *trace, const struct cy_plan *plan);

#endif
