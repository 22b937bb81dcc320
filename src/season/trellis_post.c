/* SPDX-License-Identifier: MIT
 * Line posts and arms: what the wind and the canes ask of them, what wood, steel and ground allow.
 */
#include "season/trellis_parts.h"

#include <math.h>

/* Where no width is typed: OSU EC 1303 has a 4 ft arm on its double T; the guide to the V trellis
 * of NC Cooperative Extension (2020) spreads it 27 in. */
#define T_ARM_M (4 * CY_TRELLIS_FOOT_M)
#define V_ARM_M (27 * CY_TRELLIS_INCH_M)

/* NC State Extension, Trellis Systems: line posts with a 4 in. top, 2 ft in the ground. */
#define USUAL_SIZE_M (4 * CY_TRELLIS_INCH_M)
#define USUAL_DEPTH_M (2 * CY_TRELLIS_FOOT_M)

/* NRCS Georgia, code 382 (2006): the least tee in a fence, lb/ft. */
#define TEE_KG_M (1.25 * 0.45359237 / CY_TRELLIS_FOOT_M)

/* Soil for the ultimate load of a post in sand: 110 lb/ft3 and Kp 3, placeholders. */
#define SAND_N_M3                                                                                  \
    (110 * 0.45359237 * CY_TRELLIS_GRAVITY /                                                       \
     (CY_TRELLIS_FOOT_M * CY_TRELLIS_FOOT_M * CY_TRELLIS_FOOT_M))
#define SAND_KP 3

double cy_trellis_arm_m(const struct cy_trellis_frame *frame)
{
    if (frame->form == CY_FORM_I)
        return 0;
    if (!isnan(frame->arm_m.value))
        return frame->arm_m.value;
    return frame->form == CY_FORM_T ? T_ARM_M : V_ARM_M;
}

/* A pipe by its nominal or its outer width. */
static bool pipe_of(struct cy_section *out, double width_m)
{
    static const double nominal_in[] = {1, 1.25, 1.5, 2, 2.5, 3, 3.5, 4};
    for (size_t i = 0; i < sizeof nominal_in / sizeof *nominal_in; i++) {
        double nominal = nominal_in[i] * CY_TRELLIS_INCH_M;
        if (cy_section_pipe(out, nominal, NULL) == CY_OK &&
            (fabs(nominal - width_m) < 5e-4 || fabs(out->bearing_m - width_m) < 5e-4))
            return true;
    }
    return false;
}

bool cy_trellis_section(struct cy_section *out, const struct cy_trellis_frame *frame)
{
    double width = frame->post_size_m.value;
    switch (frame->post) {
    case CY_POST_ROUND:
        return cy_section_round(out, width, NULL) == CY_OK;
    case CY_POST_SQUARE:
        return cy_section_sawn(out, width, width, NULL) == CY_OK;
    case CY_POST_TEE:
        return cy_section_tee(out, TEE_KG_M, NULL) == CY_OK;
    default:
        return pipe_of(out, width);
    }
}

double cy_trellis_hold_n(const struct cy_trellis_frame *frame, double depth_m, double width_m,
                         double height_m, bool brief)
{
    double hold;
    struct cy_hold_input in = {depth_m, height_m, width_m,
                               cy_soil_find(frame->soil.number)->lateral_pa_m, brief};
    return cy_post_hold(&hold, &in, NULL) == CY_OK ? hold : NAN;
}

/* The side of an arm that still has its fruit when the other is picked. */
static double lopsided_nm(const struct cy_trellis_frame *frame, enum cy_trellis_case in)
{
    struct cy_trellis_load fruit, leaf;
    bool bears = in == CY_CASE_FRUIT || in == CY_CASE_FRUIT_WIND;
    if (frame->form != CY_FORM_T || !bears || !cy_trellis_load_of(&fruit, frame, in) ||
        !cy_trellis_load_of(&leaf, frame, CY_CASE_LEAF))
        return 0;
    double moment;
    double crop_n_m = (fruit.weight_n_m - leaf.weight_n_m) / 2;
    return cy_post_arm(&moment, crop_n_m, cy_trellis_bay_m(frame), cy_trellis_arm_m(frame) / 2,
                       NULL) == CY_OK
               ? moment
               : NAN;
}

static double leg_nm(const struct cy_trellis_frame *frame, double load_n)
{
    struct cy_leg_load leg;
    double top = cy_trellis_top_m(frame), out = cy_trellis_arm_m(frame) / 2;
    if (frame->form != CY_FORM_V || top <= 0)
        return 0;
    double lean = atan2(out, top) * 180 / acos(-1.0);
    return cy_post_leg(&leg, load_n, hypot(top, out), lean, NULL) == CY_OK ? leg.moment_nm : NAN;
}

/* The wind across on one line post in a case: force, height, moment at the ground. */
struct post_load {
    double force_n, height_m, moment_nm; /* moment: with what leans or hangs to one side */
    double weight_n;
    bool brief;
    cy_basis basis;
};

/* Of a V the post is one leg, with one wall of canes and half of the weight. */
static bool post_load_of(struct post_load *out, const struct cy_trellis_frame *frame,
                         enum cy_trellis_case in)
{
    struct cy_trellis_load load;
    double low, high, bay = cy_trellis_bay_m(frame);
    if (!cy_trellis_load_of(&load, frame, in))
        return false;
    cy_trellis_canopy(&low, &high, frame);
    *out = (struct post_load){
        .force_n = load.wind_n_m * bay,
        .height_m = (low + high) / 2,
        .weight_n = load.weight_n_m * bay / cy_trellis_walls(frame),
        .brief = load.brief,
        .basis = load.basis,
    };
    out->moment_nm =
        out->force_n * out->height_m + lopsided_nm(frame, in) + leg_nm(frame, out->weight_n);
    return true;
}

static const enum cy_trellis_case post_cases[] = {CY_CASE_LEAF, CY_CASE_FRUIT, CY_CASE_BARE_WIND,
                                                  CY_CASE_LEAF_WIND, CY_CASE_FRUIT_WIND};
enum { POST_CASES = sizeof post_cases / sizeof *post_cases };

static void bend(struct cy_trellis_check *check, const struct cy_section *section,
                 enum cy_trellis_case in, double moment_nm, bool brief, cy_basis basis)
{
    struct cy_bending_result result;
    struct cy_bending_input input = {.section = *section,
                                     .moment_nm = moment_nm,
                                     .duration = brief ? CY_DURATION_WIND : CY_DURATION_SEASON,
                                     .wet = true};
    if (moment_nm > 0 && cy_post_bending(&result, &input, NULL) == CY_OK)
        cy_trellis_check_case(check, in, moment_nm, result.allowable_pa * section->modulus_m3,
                              basis | section->basis | CY_BASIS_MEMORY);
}

/* A post that stands in the wind across the row: a line post, or an end post with its half bay. */
struct upright {
    enum cy_trellis_check_kind bending, ground, bearing; /* bearing: of line posts alone */
    bool known, end;
    struct cy_section section;
    const struct cy_trait *depth_m, *size_m;
    double bays; /* whose wind and weight it takes */
};

static void check_upright(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame,
                          const struct upright *post)
{
    enum cy_trellis_refusal refusal = post->known ? CY_REFUSED_NOT : CY_REFUSED_SECTION;
    struct cy_trellis_check bending = cy_trellis_check_new(post->bending, -1, refusal);
    struct cy_trellis_check ground = cy_trellis_check_new(post->ground, -1, refusal);
    struct cy_trellis_check bearing = cy_trellis_check_new(post->bearing, -1, refusal);
    const struct cy_section *section = &post->section;
    for (int i = 0; post->known && i < POST_CASES; i++) {
        struct post_load load;
        enum cy_trellis_case in = post_cases[i];
        if (!post_load_of(&load, frame, in))
            continue;
        double force = post->bays * load.force_n, moment = post->bays * load.moment_nm;
        cy_basis behind = load.basis | frame->spacing_m.basis | post->size_m->basis;
        bend(&bending, section, in, moment, load.brief, behind);
        behind |= frame->soil.basis;
        if (force > 0)
            cy_trellis_check_case(&ground, in, force,
                                  cy_trellis_hold_n(frame, post->depth_m->value, section->bearing_m,
                                                    moment / force, load.brief),
                                  behind | post->depth_m->basis);
        if (!post->end && !cy_section_is_steel(section))
            cy_trellis_check_case(&bearing, in, load.weight_n,
                                  cy_soil_find(frame->soil.number)->vertical_pa * section->area_m2,
                                  behind);
    }
    if (!refusal && isnan(ground.use))
        ground.refusal = CY_REFUSED_GUST;
    if (!refusal && isnan(bending.use))
        bending.refusal = CY_REFUSED_GUST;
    cy_trellis_check_add(out, &bending);
    cy_trellis_check_add(out, &ground);
    if (!post->end)
        cy_trellis_check_add(out, &bearing);
}

/* A row of one bay has no line posts. */
static void check_line_posts(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame)
{
    struct upright post = {.bending = CY_CHECK_POST_BENDING,
                           .ground = CY_CHECK_POST_GROUND,
                           .bearing = CY_CHECK_POST_BEARING,
                           .depth_m = &frame->post_depth_m,
                           .size_m = &frame->post_size_m,
                           .bays = 1};
    post.known = cy_trellis_section(&post.section, frame);
    if (cy_trellis_bays(frame) > 1)
        check_upright(out, frame, &post);
}

/* Of a V, which ends in one post, it takes both walls. */
static void check_end_posts(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame)
{
    struct upright post = {.bending = CY_CHECK_ACROSS_BENDING,
                           .ground = CY_CHECK_ACROSS_GROUND,
                           .bearing = CY_CHECK_ACROSS_GROUND,
                           .end = true,
                           .depth_m = &frame->end_depth_m,
                           .size_m = &frame->end_size_m,
                           .bays = 0.5 * cy_trellis_walls(frame)};
    post.known = cy_trellis_end_section(&post.section, frame);
    check_upright(out, frame, &post);
}

/* OSU EC 1303: arms are 2x4s; here on edge, one at each height, with half its length to a side. */
static void check_arm(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame)
{
    struct cy_section board;
    struct cy_trellis_load load;
    double moment;
    struct cy_trellis_check check = cy_trellis_check_new(CY_CHECK_ARM, -1, CY_REFUSED_NOT);
    if (cy_trellis_arm_levels(frame) == 0 || cy_section_parse(&board, "2x4", 3, NULL) != CY_OK)
        return;
    for (int i = 0; i < 2; i++) {
        enum cy_trellis_case in = i ? CY_CASE_FRUIT : CY_CASE_LEAF;
        double share = 0;
        for (int wire = 0; wire < frame->wire_count; wire++)
            share = fmax(share, cy_trellis_share(frame, wire, false));
        if (cy_trellis_load_of(&load, frame, in) &&
            cy_post_arm(&moment, load.weight_n_m * share, cy_trellis_bay_m(frame),
                        cy_trellis_arm_m(frame) / 2, NULL) == CY_OK)
            bend(&check, &board, in, moment, false, load.basis | frame->arm_m.basis);
    }
    cy_trellis_check_add(out, &check);
}

void cy_trellis_check_posts(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame)
{
    check_line_posts(out, frame);
    check_arm(out, frame);
    check_end_posts(out, frame);
}

/* ---- practice and code ------------------------------------------------------------------------
 */

static double ultimate_in_sand(const struct cy_trellis_frame *frame, double width_m,
                               double height_m)
{
    double ultimate;
    struct cy_broms_input in = {frame->post_depth_m.value, height_m, width_m, SAND_N_M3, SAND_KP};
    return frame->soil.sand && cy_post_broms(&ultimate, &in, NULL) == CY_OK ? ultimate : NAN;
}

void cy_trellis_practice_of(struct cy_trellis_verdict *out, const struct cy_trellis_frame *frame,
                            const struct cy_trellis_check *ground)
{
    struct cy_section section;
    struct post_load load;
    struct cy_depth_result need;
    struct cy_trellis_practice *practice = &out->practice;
    *practice = (struct cy_trellis_practice){.allows_n = NAN,
                                             .customary_n = NAN,
                                             .need_depth_m = NAN,
                                             .ratio = NAN,
                                             .ultimate_n = NAN,
                                             .held_gust_m_s = NAN};
    out->deflection_m = NAN;
    if (isnan(ground->use) || !cy_trellis_section(&section, frame) ||
        !post_load_of(&load, frame, ground->in))
        return;
    double height = load.moment_nm / load.force_n;
    struct cy_depth_input depth = {.load_n = load.force_n,
                                   .height_m = height,
                                   .width_m = section.bearing_m,
                                   .bearing_pa_m = cy_soil_find(frame->soil.number)->lateral_pa_m,
                                   .isolated = load.brief};
    practice->asks_n = load.force_n;
    practice->at_m = height;
    practice->in = ground->in;
    practice->allows_n = ground->capacity;
    practice->customary_n =
        cy_trellis_hold_n(frame, USUAL_DEPTH_M, USUAL_SIZE_M, height, load.brief);
    if (cy_post_depth(&need, &depth, NULL) == CY_OK)
        practice->need_depth_m = need.depth_m;
    practice->ratio = load.force_n / ground->capacity;
    practice->ultimate_n = ultimate_in_sand(frame, section.bearing_m, height);
    practice->held_gust_m_s = frame->gust_m_s.value / sqrt(practice->ratio);
    practice->basis = ground->basis;
    out->deflected_at_m = load.height_m;
    if (cy_post_deflection(&out->deflection_m, &section, load.force_n, load.height_m, NULL) !=
        CY_OK)
        out->deflection_m = NAN;
}
