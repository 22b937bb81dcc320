/* SPDX-License-Identifier: MIT
 * The verdict on a trellis: all checks of all parts, which of them governs, what else to mind. */
#include "season/trellis_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>

/* NC State Extension, Trellis Systems: line posts 25 to 30 ft apart and 2 ft deep, end posts 3 ft.
 */
#define PRACTICE_SPACING_M (30 * CY_TRELLIS_FOOT_M)
#define PRACTICE_DEPTH_M (2 * CY_TRELLIS_FOOT_M)
#define PRACTICE_END_DEPTH_M (3 * CY_TRELLIS_FOOT_M)
#define ROUNDING_M 1e-6

static const struct {
    const char *word, *combination;
} cases[] = {
#define CASE(id, word, combination) {word, combination},
    CY_TRELLIS_CASES(CASE)
#undef CASE
};

static const struct {
    const char *part, *what;
    enum cy_quantity quantity;
} kinds[] = {
#define CHECK(id, part, what, quantity) {part, what, CY_Q_##quantity},
    CY_TRELLIS_CHECKS(CHECK)
#undef CHECK
};

const char *cy_trellis_case_word(enum cy_trellis_case in)
{
    return cases[in].word;
}

const char *cy_trellis_case_combination(enum cy_trellis_case in)
{
    return cases[in].combination;
}

const char *cy_check_part(enum cy_trellis_check_kind kind)
{
    return kinds[kind].part;
}

const char *cy_check_what(enum cy_trellis_check_kind kind)
{
    return kinds[kind].what;
}

enum cy_quantity cy_check_quantity(enum cy_trellis_check_kind kind)
{
    return kinds[kind].quantity;
}

/* ---- checks -----------------------------------------------------------------------------------
 */

struct cy_trellis_check cy_trellis_check_new(enum cy_trellis_check_kind kind, int wire,
                                             enum cy_trellis_refusal refusal)
{
    return (struct cy_trellis_check){
        .kind = kind, .wire = wire, .demand = NAN, .capacity = NAN, .use = NAN, .refusal = refusal};
}

void cy_trellis_check_case(struct cy_trellis_check *check, enum cy_trellis_case in, double demand,
                           double capacity, cy_basis basis)
{
    double use = demand / capacity;
    if (isnan(use) || (!isnan(check->use) && use <= check->use))
        return;
    check->in = in;
    check->demand = demand;
    check->capacity = capacity;
    check->use = use;
    check->basis = basis;
}

void cy_trellis_check_add(struct cy_trellis_checks *out, const struct cy_trellis_check *check)
{
    if (out->count < CY_TRELLIS_CHECKS_MOST && (check->refusal || !isnan(check->use)))
        out->items[out->count++] = *check;
}

/* The check of highest use among those from one kind to another; -1. */
static int worst_of(const struct cy_trellis_check *checks, int count,
                    enum cy_trellis_check_kind from, enum cy_trellis_check_kind to)
{
    int worst = -1;
    for (int i = 0; i < count; i++)
        if (checks[i].kind >= from && checks[i].kind <= to && !isnan(checks[i].use) &&
            (worst < 0 || checks[i].use > checks[worst].use))
            worst = i;
    return worst;
}

/* ---- wires ------------------------------------------------------------------------------------
 */

static void check_wire(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame,
                       int wire)
{
    static const enum cy_trellis_case cold[] = {CY_CASE_COLD, CY_CASE_HEAT};
    static const enum cy_trellis_case loaded[] = {CY_CASE_ICE,       CY_CASE_LEAF,
                                                  CY_CASE_FRUIT,     CY_CASE_BARE_WIND,
                                                  CY_CASE_LEAF_WIND, CY_CASE_FRUIT_WIND};
    const struct cy_trellis_frame_wire *one = &frame->wires[wire];
    struct cy_trellis_metal metal;
    enum cy_trellis_refusal refusal = cy_trellis_wire_known(one);
    struct cy_trellis_check set = cy_trellis_check_new(CY_CHECK_WIRE_SET, wire, refusal);
    struct cy_trellis_check winter = cy_trellis_check_new(CY_CHECK_WIRE_COLD, wire, refusal);
    struct cy_trellis_check load = cy_trellis_check_new(CY_CHECK_WIRE_LOADED, wire, refusal);
    if (!refusal && !cy_trellis_metal_of(&metal, one)) {
        cy_basis behind = metal.basis | one->tension_n.basis | one->set_at_c.basis |
                          one->gauge.basis | frame->lean_m.basis;
        cy_trellis_check_case(&set, CY_CASE_SET, one->tension_n.value,
                              CY_WIRE_SHARE_EVERYDAY * metal.strength_n,
                              metal.basis | one->tension_n.basis | one->gauge.basis);
        for (size_t i = 0; i < sizeof cold / sizeof *cold; i++)
            cy_trellis_check_case(&winter, cold[i], cy_trellis_tension(NULL, frame, wire, cold[i]),
                                  metal.limit_n, behind | frame->weather);
        for (size_t i = 0; i < sizeof loaded / sizeof *loaded; i++) {
            struct cy_trellis_load on;
            if (cy_trellis_load_of(&on, frame, loaded[i]))
                cy_trellis_check_case(&load, loaded[i],
                                      cy_trellis_tension(NULL, frame, wire, loaded[i]),
                                      metal.limit_n, behind | on.basis | frame->spacing_m.basis);
        }
    }
    cy_trellis_check_add(out, &set);
    cy_trellis_check_add(out, &winter);
    cy_trellis_check_add(out, &load);
}

void cy_trellis_check_all(struct cy_trellis_checks *out, const struct cy_trellis_frame *frame)
{
    out->count = 0;
    for (int wire = 0; wire < frame->wire_count; wire++)
        check_wire(out, frame, wire);
    cy_trellis_check_posts(out, frame);
    cy_trellis_check_ends(out, frame);
}

/* ---- what else to mind ------------------------------------------------------------------------
 */

static unsigned habit_notes(const struct cy_trellis_frame *frame)
{
    unsigned notes = 0;
    double lowest = INFINITY, top = cy_trellis_top_m(frame);
    for (int i = 0; i < frame->wire_count; i++)
        lowest = fmin(lowest, frame->wires[i].height_m.value);
    if (frame->wire_count == 0 || !frame->habit_known)
        return 0;
    if (frame->tip_m.value < lowest)
        notes |= CY_TRELLIS_LOW_WIRE_HIGH;
    if (frame->cane_m.value < top)
        notes |= CY_TRELLIS_TOP_OUT_OF_REACH;
    if (frame->habit == CY_HABIT_TRAILING && frame->wire_count < 2)
        notes |= CY_TRELLIS_ONE_WIRE;
    if (frame->habit == CY_HABIT_SEMI_ERECT && frame->form != CY_FORM_T)
        notes |= CY_TRELLIS_FORM_UNUSUAL;
    return notes;
}

static unsigned notes_of(const struct cy_trellis_frame *frame)
{
    unsigned notes = habit_notes(frame);
    if (isnan(frame->gust_m_s.value))
        notes |= CY_TRELLIS_NO_GUST;
    else if (frame->exposure_basis & CY_BASIS_PLACEHOLDER)
        notes |= CY_TRELLIS_EXPOSURE_TAKEN;
    if (!frame->soil_known)
        notes |= CY_TRELLIS_SOIL_TAKEN;
    for (int i = 0; i < frame->wire_count; i++) {
        enum cy_trellis_refusal refusal = cy_trellis_wire_known(&frame->wires[i]);
        notes |= refusal == CY_REFUSED_TENSION    ? CY_TRELLIS_TENSION_UNKNOWN
                 : refusal == CY_REFUSED_STRENGTH ? CY_TRELLIS_NO_FIGURE
                                                  : 0;
    }
    if (frame->winter_c < CY_TRELLIS_HEAVE_C)
        notes |= CY_TRELLIS_HEAVE;
    if (cy_trellis_bay_m(frame) > PRACTICE_SPACING_M + ROUNDING_M)
        notes |= CY_TRELLIS_SPACED;
    if (frame->post_depth_m.value < PRACTICE_DEPTH_M - ROUNDING_M)
        notes |= CY_TRELLIS_SHALLOW;
    if (frame->end_depth_m.value < PRACTICE_END_DEPTH_M - ROUNDING_M)
        notes |= CY_TRELLIS_END_SHALLOW;
    if (!frame->crop_planned)
        notes |= CY_TRELLIS_CROP_TAKEN;
    if (frame->wires_left_out > 0)
        notes |= CY_TRELLIS_MANY_WIRES;
    return notes;
}

/* ---- the verdict ------------------------------------------------------------------------------
 */

static double along_of(const struct cy_trellis_frame *frame)
{
    struct cy_trellis_load load;
    return cy_trellis_load_of(&load, frame, CY_CASE_ALONG) ? load.along_n : 0;
}

static int place_of(const struct cy_trellis_checks *checks, enum cy_trellis_check_kind kind)
{
    for (int i = 0; i < checks->count; i++)
        if (checks->items[i].kind == kind)
            return i;
    return -1;
}

int cy_trellis_judge(struct cy_trellis_verdict *out, const struct cy_trellis_frame *frame)
{
    struct cy_trellis_checks checks;
    cy_trellis_check_all(&checks, frame);
    *out = (struct cy_trellis_verdict){.bays = cy_trellis_bays(frame),
                                       .bay_m = cy_trellis_bay_m(frame),
                                       .top_m = cy_trellis_top_m(frame),
                                       .check_count = checks.count,
                                       .slack_wire = -1,
                                       .along_n = along_of(frame)};
    cy_trellis_canopy(&out->canopy_low_m, &out->canopy_high_m, frame);
    out->checks = cy_zeroed((size_t)checks.count + 1, sizeof *out->checks);
    if (!out->checks)
        return CY_NO_MEMORY;
    memcpy(out->checks, checks.items, (size_t)checks.count * sizeof *out->checks);
    out->governing = worst_of(checks.items, checks.count, CY_CHECK_WIRE_SET, CY_CHECK_PUSH);
    out->wire = worst_of(checks.items, checks.count, CY_CHECK_WIRE_SET, CY_CHECK_WIRE_LOADED);
    out->line_post = worst_of(checks.items, checks.count, CY_CHECK_POST_BENDING, CY_CHECK_ARM);
    out->end = worst_of(checks.items, checks.count, CY_CHECK_ACROSS_BENDING, CY_CHECK_PUSH);
    int ground = place_of(&checks, CY_CHECK_POST_GROUND);
    struct cy_trellis_check none = cy_trellis_check_new(CY_CHECK_POST_GROUND, -1, CY_REFUSED_GUST);
    cy_trellis_practice_of(out, frame, ground >= 0 ? &checks.items[ground] : &none);
    out->notes = notes_of(frame);
    for (int i = 0; i < checks.count; i++)
        out->basis |= checks.items[i].basis;
    return CY_OK;
}

void cy_trellis_verdict_dispose(struct cy_trellis_verdict *verdict)
{
    free(verdict->wires);
    free(verdict->checks);
    *verdict = (struct cy_trellis_verdict){0};
}
