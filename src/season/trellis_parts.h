/* SPDX-License-Identifier: MIT
 * What the files of the trellis's verdict share with one another and with nobody else. */
#ifndef SEASON_TRELLIS_PARTS_H
#define SEASON_TRELLIS_PARTS_H

#include <caneyear/season/trellis.h>
#include <caneyear/trellis/anchor.h>
#include <caneyear/trellis/embed.h>
#include <caneyear/trellis/end.h>
#include <caneyear/trellis/load.h>
#include <caneyear/trellis/parts.h>
#include <caneyear/trellis/wind.h>
#include <caneyear/trellis/wire.h>

#include "season/plan_parts.h"

#define CY_TRELLIS_GRAVITY 9.80665
#define CY_TRELLIS_INCH_M 0.0254
#define CY_TRELLIS_FOOT_M 0.3048
/* Undrained cohesion of clay for anchors and for what sticks to a post, 500 lb/ft2: placeholder.
 * The code table's 130 is one for sliding. */
#define CY_TRELLIS_COHESION_PA                                                                     \
    (500 * 0.45359237 * CY_TRELLIS_GRAVITY / (CY_TRELLIS_FOOT_M * CY_TRELLIS_FOOT_M))

/* ---- trellis_year.c: the year's temperatures, counted once for all rows -----------------------
 */

struct cy_trellis_climate {
    struct cy_figure night_c;     /* the season's coldest night, over the members */
    struct cy_figure heat_c;      /* its hottest day's mean */
    struct cy_figure month_c[12]; /* the daily means of January to December */
    double summer_c;              /* of the warm half of the year */
    double winter_c;              /* the coldest month's normal mean */
    cy_basis basis, normals;
    cy_day slack_from; /* midwinter: no wire is tightened into the winter */
    int slack_days;    /* from then to the season's end */
    double *floor_c; /* a member's days: the highest week so far, each by its coolest daily mean */
};

/* CY_NO_MEMORY leaves *out empty. */
int cy_trellis_climate_of(struct cy_trellis_climate *out, const struct cy_plan *plan,
                          const struct cy_ensemble *ensemble);
void cy_trellis_climate_dispose(struct cy_trellis_climate *climate);

/* The days on which a daily mean above `above_c` has held for a week, over the members, and that
 * week's mean in the middle year. `scratch` has room for one number a member. */
struct cy_figure cy_trellis_slack(double *mean_c, const struct cy_trellis_climate *climate,
                                  const struct cy_ensemble *ensemble, double above_c,
                                  double *scratch);

/* The wires' own year in a verdict that was judged. */
int cy_trellis_wires_of_year(struct cy_trellis_verdict *verdict,
                             const struct cy_trellis_frame *frame,
                             const struct cy_trellis_climate *climate,
                             const struct cy_ensemble *ensemble);

/* ---- trellis_wire.c: one wire of a frame ------------------------------------------------------
 */

/* What a case lays on the row. */
struct cy_trellis_load {
    double weight_n_m; /* on all wires together */
    double wind_n_m;   /* across, on one wall of canes, per metre */
    double wire_wind_pa, ice_m;
    double temperature_c;
    bool brief;     /* a gust, not a lasting load */
    double along_n; /* on the end */
    cy_basis basis;
};

/* False where the case is not asked for: no gust, no ice. */
bool cy_trellis_load_of(struct cy_trellis_load *out, const struct cy_trellis_frame *frame,
                        enum cy_trellis_case in);

struct cy_trellis_metal {
    struct cy_wire wire;
    double diameter_m, strength_n, limit_n; /* limit: half of breaking, 0.6 of yield */
    cy_basis basis;
    const char *source;
};

enum cy_trellis_refusal cy_trellis_metal_of(struct cy_trellis_metal *out,
                                            const struct cy_trellis_frame_wire *wire);
enum cy_trellis_refusal cy_trellis_wire_known(const struct cy_trellis_frame_wire *wire);
/* From the wire as set to a case. */
void cy_trellis_wire_change(struct cy_wire_change_input *out, const struct cy_trellis_frame *frame,
                            int wire, const struct cy_trellis_metal *metal,
                            const struct cy_trellis_load *load);
/* A wire's tension in a case; NaN where it has none. `sag_m` may be NULL. */
double cy_trellis_tension(double *sag_m, const struct cy_trellis_frame *frame, int wire,
                          enum cy_trellis_case in);
/* The share of the canes' weight that wires carry, by habit; and of one wire in that, and in the
 * wind on its wall. Placeholders. */
double cy_trellis_leaning(const struct cy_trellis_frame *frame);
double cy_trellis_share(const struct cy_trellis_frame *frame, int wire, bool of_wind);
int cy_trellis_walls(const struct cy_trellis_frame *frame);

/* The geometry of a frame. */
int cy_trellis_bays(const struct cy_trellis_frame *frame);
double cy_trellis_bay_m(const struct cy_trellis_frame *frame);
double cy_trellis_top_m(const struct cy_trellis_frame *frame);
void cy_trellis_canopy(double *low_m, double *high_m, const struct cy_trellis_frame *frame);
double cy_trellis_brace_m(const struct cy_trellis_frame *frame);
int cy_trellis_arm_levels(const struct cy_trellis_frame *frame);

/* ---- checks -----------------------------------------------------------------------------------
 */

#define CY_TRELLIS_CHECKS_MOST (3 * CY_TRELLIS_WIRES + 16)

struct cy_trellis_checks {
    struct cy_trellis_check items[CY_TRELLIS_CHECKS_MOST];
    int count;
};

/* trellis_post.c, trellis_end.c: add their checks. */
void cy_trellis_check_posts(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame);
void cy_trellis_check_ends(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame);
/* The pulls of the wires, and of the wind along the row, on an end post in a case; false where the
 * case is not asked for or a tension is not known. */
bool cy_trellis_end_input(struct cy_end_input *out, struct cy_pull pulls[CY_PULLS_MAX],
                          const struct cy_trellis_frame *frame, enum cy_trellis_case in);

/* A check being gathered: the case that uses most stays. */
struct cy_trellis_check cy_trellis_check_new(enum cy_trellis_check_kind kind, int wire,
                                             enum cy_trellis_refusal refusal);
void cy_trellis_check_case(struct cy_trellis_check *check, enum cy_trellis_case in, double demand,
                           double capacity, cy_basis basis);
void cy_trellis_check_add(struct cy_trellis_checks *out, const struct cy_trellis_check *check);
/* All checks of a frame. */
void cy_trellis_check_all(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame);

/* trellis_post.c: what the ground lets a post bear sideways at a height. */
double cy_trellis_hold_n(const struct cy_trellis_frame *frame, double depth_m, double width_m,
                         double height_m, bool brief);
/* trellis_end.c: the cross-section of an end post. */
bool cy_trellis_end_section(struct cy_section *out, const struct cy_trellis_frame *frame);

/* trellis_post.c: what practice is, what the code allows, what the gust asks; deflection. */
void cy_trellis_practice_of(struct cy_trellis_verdict *out, const struct cy_trellis_frame *frame,
                            const struct cy_trellis_check *ground);

/* ---- trellis_plan.c: the verdicts of a plan ---------------------------------------------------
 */

struct cy_trellis_memory; /* a planner's: verdicts by the fingerprint of what they rest on */
void cy_trellis_memory_free(struct cy_trellis_memory *memory);
/* Fills plan->trellis. `*memory` is made where it is NULL. */
int cy_plan_trellises(struct cy_plan *plan, struct cy_trellis_memory **memory,
                      const struct cy_ensemble *ensemble, uint64_t ensemble_fingerprint);
void cy_plan_trellises_dispose(struct cy_plan *plan);

/* trellis_bill.c */
bool cy_parts_of_frame(struct cy_parts_list *out, const struct cy_farm *farm,
                       const struct cy_trellis_frame *frame);

#endif
