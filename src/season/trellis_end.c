/* SPDX-License-Identifier: MIT
 * Row ends: what the wires' pull does in their members, and what wood, wire and ground allow. */
#include "season/trellis_parts.h"

#include <math.h>

/* Rails and struts are taken as 4 in. round wood: placeholder. */
#define BRACE_SIZE_M (4 * CY_TRELLIS_INCH_M)
/* Brace wire: 9 gauge smooth, an extension text on wooden fence braces; twisted from two strands,
 * from memory. */
#define DIAGONAL_GAUGE 9
#define DIAGONAL_STRANDS 2
/* Soil for uplift: 110 lb/ft3, earth pressure 0.7, friction 20 degrees on the post; in clay half
 * of its cohesion sticks to it. Placeholders. */
#define SOIL_N_M3                                                                                  \
    (110 * 0.45359237 * CY_TRELLIS_GRAVITY /                                                       \
     (CY_TRELLIS_FOOT_M * CY_TRELLIS_FOOT_M * CY_TRELLIS_FOOT_M))
#define SOIL_K 0.7
#define SOIL_FRICTION_DEG 20
#define SOIL_STICKS 0.5

static const enum cy_trellis_case lasting[] = {CY_CASE_COLD, CY_CASE_HEAT, CY_CASE_ICE,
                                               CY_CASE_LEAF, CY_CASE_FRUIT};
static const enum cy_trellis_case gusts[] = {CY_CASE_BARE_WIND, CY_CASE_LEAF_WIND,
                                             CY_CASE_FRUIT_WIND, CY_CASE_ALONG, CY_CASE_LIGHT_WIND};
enum { LASTING = sizeof lasting / sizeof *lasting, GUSTS = sizeof gusts / sizeof *gusts };

bool cy_trellis_end_section(struct cy_section *out, const struct cy_trellis_frame *frame)
{
    double width = frame->end_size_m.value;
    if (frame->post == CY_POST_SQUARE)
        return cy_section_sawn(out, width, width, NULL) == CY_OK;
    return cy_section_round(out, width, NULL) == CY_OK;
}

bool cy_trellis_end_input(struct cy_end_input *out, struct cy_pull pulls[CY_PULLS_MAX],
                          const struct cy_trellis_frame *frame, enum cy_trellis_case in)
{
    static const enum cy_end_kind kinds[] = {[CY_ROW_END_NONE] = CY_END_TIE,
                                             [CY_ROW_END_H] = CY_END_H,
                                             [CY_ROW_END_SLANT] = CY_END_SLANT,
                                             [CY_ROW_END_TIE] = CY_END_TIE};
    struct cy_trellis_load load;
    double low, high;
    if (!cy_trellis_load_of(&load, frame, in) || frame->wire_count == 0)
        return false;
    *out = (struct cy_end_input){.kind = kinds[frame->end],
                                 .pulls = pulls,
                                 .height_m = cy_trellis_brace_m(frame),
                                 .length_m = frame->brace_length_m.value,
                                 .foot_m = frame->brace_length_m.value,
                                 .angle_deg = frame->tie_angle_deg.value};
    for (int i = 0; i < frame->wire_count; i++) {
        double tension = cy_trellis_tension(NULL, frame, i, in);
        if (isnan(tension))
            return false;
        pulls[out->count++] = (struct cy_pull){tension, frame->wires[i].height_m.value};
    }
    cy_trellis_canopy(&low, &high, frame);
    if (load.along_n > 0)
        pulls[out->count++] = (struct cy_pull){load.along_n, (low + high) / 2};
    return true;
}

/* What pulls an end post out of the ground, at the last. */
static double uplift_of_n(const struct cy_trellis_frame *frame)
{
    struct cy_uplift_input in = {
        .depth_m = frame->end_depth_m.value,
        .diameter_m = frame->end_size_m.value,
        .unit_weight_n_m3 = SOIL_N_M3,
        .k = SOIL_K,
        .friction_deg = SOIL_FRICTION_DEG,
        .adhesion_pa = SOIL_STICKS * CY_TRELLIS_COHESION_PA,
    };
    double ultimate;
    int status = frame->soil.sand ? cy_post_uplift_sand(&ultimate, &in, NULL)
                                  : cy_post_uplift_clay(&ultimate, &in, NULL);
    return status == CY_OK ? ultimate : NAN;
}

/* ---- anchors ----------------------------------------------------------------------------------
 */

static enum cy_trellis_refusal deadman(double *allowable_n, double *ultimate_n,
                                       const struct cy_trellis_frame *frame)
{
    struct cy_deadman_result result;
    struct cy_deadman_input in = {.tie_n = 1,
                                  .slope_deg = frame->tie_angle_deg.value,
                                  .depth_m = frame->anchor_depth_m.value,
                                  .face_m = frame->anchor_size_m.value,
                                  .ground = frame->soil.sand ? CY_GROUND_SAND : CY_GROUND_LOAM,
                                  .factor = CY_DEADMAN_FACTOR};
    if (cy_anchor_deadman(&result, &in, NULL) != CY_OK)
        return CY_REFUSED_ANCHOR;
    double face = fmax(0, frame->anchor_length_m.value - CY_TRELLIS_FOOT_M); /* the tie's trench */
    *ultimate_n = result.holding_pa * in.face_m * face;
    *allowable_n = *ultimate_n / CY_DEADMAN_FACTOR;
    return face > 0 ? CY_REFUSED_NOT : CY_REFUSED_ANCHOR;
}

static enum cy_trellis_refusal anchor_of(double *allowable_n, double *ultimate_n, cy_basis *basis,
                                         const struct cy_trellis_frame *frame)
{
    *basis = frame->anchor_size_m.basis | frame->anchor_depth_m.basis | frame->soil.basis;
    if (!isnan(frame->anchor_holds_n.value)) {
        *basis = frame->anchor_holds_n.basis | CY_BASIS_PUBLISHED;
        *ultimate_n = frame->anchor_holds_n.value;
        *allowable_n = *ultimate_n / CY_SCREW_FACTOR;
        return CY_REFUSED_NOT;
    }
    if (frame->anchor == CY_ANCHOR_DEADMAN)
        return deadman(allowable_n, ultimate_n, frame);
    struct cy_screw_result screw;
    struct cy_screw_input in = {.diameter_m = frame->anchor_size_m.value,
                                .cohesion_pa = CY_TRELLIS_COHESION_PA,
                                .factor = CY_SCREW_FACTOR_BLIND};
    /* The formula is one for clay, its plate five diameters deep. */
    if (frame->soil.sand || frame->anchor_depth_m.value < 5 * in.diameter_m ||
        cy_anchor_screw(&screw, &in, NULL) != CY_OK)
        return CY_REFUSED_ANCHOR;
    *basis |= CY_BASIS_PLACEHOLDER;
    *allowable_n = screw.allowable_n;
    *ultimate_n = screw.ultimate_n;
    return CY_REFUSED_NOT;
}

/* ---- checks -----------------------------------------------------------------------------------
 */

/* An end's checks while its cases are gone through. */
struct ends {
    const struct cy_trellis_frame *frame;
    struct cy_section post;
    double uplift_n, anchor_n, anchored_n, rail_n, strut_n, diagonal_n, bearing_n;
    cy_basis anchor_basis, basis;
    struct cy_trellis_check bending, ground, rail, diagonal, strut, anchor, uplift, overturn, push;
};

static double buckling_n(double length_m)
{
    struct cy_section brace;
    double load;
    if (cy_section_round(&brace, BRACE_SIZE_M, NULL) != CY_OK ||
        cy_rail_buckling(&load, brace.stiffness_pa, brace.inertia_m4, length_m, NULL) != CY_OK)
        return NAN;
    return load / CY_RAIL_FACTOR;
}

static double diagonal_n(void)
{
    double strands = DIAGONAL_STRANDS * cy_wire_area(cy_gauge_find(DIAGONAL_GAUGE)->diameter_m);
    return CY_WIRE_SHARE_WARN * strands * cy_grade_find("low-carbon")->strength_pa;
}

static void members(struct ends *x, enum cy_trellis_case in, const struct cy_end_result *r,
                    cy_basis basis)
{
    basis |= x->frame->brace_length_m.basis | CY_BASIS_PLACEHOLDER;
    if (x->frame->end == CY_ROW_END_H) {
        cy_trellis_check_case(&x->rail, in, r->rail_n, x->rail_n, basis);
        cy_trellis_check_case(&x->diagonal, in, r->diagonal_n, x->diagonal_n,
                              basis | CY_BASIS_MEMORY);
    } else if (x->frame->end == CY_ROW_END_SLANT) {
        cy_trellis_check_case(&x->strut, in, r->strut_n, x->strut_n, basis);
    } else if (!x->anchor.refusal) {
        cy_trellis_check_case(&x->anchor, in, r->tie_n, x->anchor_n, basis | x->anchor_basis);
    }
}

/* What resists overturning about the inner foot, or about the foot of a tied post. */
static double righting_nm(const struct ends *x, const struct cy_end_input *input)
{
    if (x->frame->end != CY_ROW_END_TIE)
        return x->uplift_n * x->frame->brace_length_m.value;
    return x->anchored_n * cos(input->angle_deg * acos(-1.0) / 180) * input->height_m;
}

static void feet(struct ends *x, enum cy_trellis_case in, const struct cy_end_input *input,
                 const struct cy_end_result *r, cy_basis basis)
{
    const struct cy_trellis_frame *frame = x->frame;
    bool brief = in >= CY_CASE_BARE_WIND;
    int posts = frame->end == CY_ROW_END_H ? 2 : 1;
    double level = frame->end == CY_ROW_END_H ? r->sum_n : fabs(r->level_n - r->sum_n);
    double hold = cy_trellis_hold_n(frame, frame->end_depth_m.value, x->post.bearing_m, 0, brief);
    cy_trellis_check_case(&x->ground, in, level, posts * hold, basis);
    if (r->push_n > 0)
        cy_trellis_check_case(&x->push, in, r->push_n, x->bearing_n, basis);
    if (r->uplift_n > 0)
        cy_trellis_check_case(&x->uplift, in, r->uplift_n, x->uplift_n / CY_POST_UPLIFT,
                              basis | CY_BASIS_PLACEHOLDER | CY_BASIS_MEMORY);
    if (!x->overturn.refusal)
        cy_trellis_check_case(&x->overturn, in, r->moment_nm,
                              righting_nm(x, input) / CY_POST_OVERTURNING,
                              basis | CY_BASIS_PLACEHOLDER);
}

/* Without a brace the post alone holds the wires, for years. */
static void unbraced(struct ends *x, enum cy_trellis_case in, const struct cy_end_result *r,
                     cy_basis basis)
{
    const struct cy_trellis_frame *frame = x->frame;
    bool brief = in >= CY_CASE_BARE_WIND;
    struct cy_bending_result bending;
    struct cy_bending_input input = {.section = x->post,
                                     .moment_nm = r->moment_nm,
                                     .duration = brief ? CY_DURATION_WIND : CY_DURATION_PERMANENT,
                                     .wet = true};
    if (!(r->sum_n > 0) || cy_post_bending(&bending, &input, NULL) != CY_OK)
        return;
    cy_trellis_check_case(&x->bending, in, r->moment_nm, bending.allowable_pa * x->post.modulus_m3,
                          basis | x->post.basis | CY_BASIS_MEMORY);
    cy_trellis_check_case(&x->ground, in, r->sum_n,
                          cy_trellis_hold_n(frame, frame->end_depth_m.value, x->post.bearing_m,
                                            r->moment_nm / r->sum_n, brief),
                          basis);
}

static void go_through(struct ends *x, enum cy_trellis_case in)
{
    struct cy_pull pulls[CY_PULLS_MAX];
    struct cy_end_input input;
    struct cy_end_result result;
    struct cy_trellis_load load;
    if (!cy_trellis_load_of(&load, x->frame, in) ||
        !cy_trellis_end_input(&input, pulls, x->frame, in) ||
        cy_end_brace(&result, &input, NULL) != CY_OK)
        return;
    cy_basis basis = x->basis | load.basis;
    if (x->frame->end == CY_ROW_END_NONE) {
        unbraced(x, in, &result, basis);
        return;
    }
    members(x, in, &result, basis);
    feet(x, in, &input, &result, basis);
}

static struct ends begin(const struct cy_trellis_frame *frame, enum cy_trellis_refusal refusal)
{
    struct ends x = {.frame = frame};
    double length = frame->brace_length_m.value;
    if (!refusal && !cy_trellis_end_section(&x.post, frame))
        refusal = CY_REFUSED_SECTION;
    enum cy_trellis_refusal anchor = anchor_of(&x.anchor_n, &x.anchored_n, &x.anchor_basis, frame);
    x.uplift_n = uplift_of_n(frame);
    x.rail_n = buckling_n(length);
    x.strut_n = buckling_n(hypot(length, cy_trellis_brace_m(frame)));
    x.diagonal_n = diagonal_n();
    x.bearing_n = cy_soil_find(frame->soil.number)->vertical_pa * x.post.area_m2;
    x.basis = frame->end_size_m.basis | frame->end_depth_m.basis | frame->soil.basis |
              frame->brace_height_m.basis | frame->lean_m.basis;
    for (int i = 0; i < frame->wire_count; i++)
        x.basis |= frame->wires[i].tension_n.basis | frame->wires[i].set_at_c.basis;
    enum cy_trellis_refusal tied = refusal || frame->end != CY_ROW_END_TIE ? refusal : anchor;
    x.bending = cy_trellis_check_new(CY_CHECK_END_BENDING, -1, refusal);
    x.ground = cy_trellis_check_new(CY_CHECK_END_GROUND, -1, refusal);
    x.rail = cy_trellis_check_new(CY_CHECK_RAIL, -1, refusal);
    x.diagonal = cy_trellis_check_new(CY_CHECK_DIAGONAL, -1, refusal);
    x.strut = cy_trellis_check_new(CY_CHECK_STRUT, -1, refusal);
    x.anchor = cy_trellis_check_new(CY_CHECK_ANCHOR, -1, tied);
    x.uplift = cy_trellis_check_new(CY_CHECK_UPLIFT, -1, refusal);
    x.overturn = cy_trellis_check_new(CY_CHECK_OVERTURN, -1, tied);
    x.push = cy_trellis_check_new(CY_CHECK_PUSH, -1, refusal);
    return x;
}

static enum cy_trellis_refusal wires_refuse(const struct cy_trellis_frame *frame)
{
    if (frame->wire_count == 0)
        return CY_REFUSED_WIRES;
    for (int i = 0; i < frame->wire_count; i++) {
        enum cy_trellis_refusal refusal = cy_trellis_wire_known(&frame->wires[i]);
        if (refusal)
            return refusal;
    }
    return CY_REFUSED_NOT;
}

static void add_those_of(struct cy_trellis_checks *out, const struct ends *x)
{
    switch (x->frame->end) {
    case CY_ROW_END_H:
        cy_trellis_check_add(out, &x->rail);
        cy_trellis_check_add(out, &x->diagonal);
        cy_trellis_check_add(out, &x->uplift);
        break;
    case CY_ROW_END_SLANT:
        cy_trellis_check_add(out, &x->strut);
        cy_trellis_check_add(out, &x->uplift);
        break;
    case CY_ROW_END_TIE:
        cy_trellis_check_add(out, &x->anchor);
        break;
    default:
        cy_trellis_check_add(out, &x->bending);
        cy_trellis_check_add(out, &x->ground);
        return;
    }
    cy_trellis_check_add(out, &x->overturn);
    cy_trellis_check_add(out, &x->ground);
    if (x->frame->end != CY_ROW_END_SLANT)
        cy_trellis_check_add(out, &x->push);
}

void cy_trellis_check_ends(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame)
{
    enum cy_trellis_refusal refusal = wires_refuse(frame);
    struct ends x = begin(frame, refusal);
    for (int i = 0; !refusal && i < LASTING; i++)
        go_through(&x, lasting[i]);
    for (int i = 0; !refusal && i < GUSTS; i++)
        go_through(&x, gusts[i]);
    add_those_of(out, &x);
}
