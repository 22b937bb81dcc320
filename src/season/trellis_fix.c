/* SPDX-License-Identifier: MIT
 * What would put a trellis right: each change made by itself, judged anew, as small as will do. */
#include "season/trellis_parts.h"

#include <math.h>

static const char *const words[] = {
#define FIX(id, word) word,
    CY_TRELLIS_FIXES(FIX)
#undef FIX
};

const char *cy_fix_word(enum cy_fix_kind kind)
{
    return words[kind];
}

enum { HALVINGS = 40 };

/* The use of one check in a frame; NaN where it is gone. */
static double use_of(const struct cy_trellis_frame *frame, const struct cy_trellis_check *check)
{
    struct cy_trellis_checks checks;
    cy_trellis_check_all(&checks, frame);
    for (int i = 0; i < checks.count; i++)
        if (checks.items[i].kind == check->kind && checks.items[i].wire == check->wire)
            return checks.items[i].use;
    return NAN;
}

static bool is_end(enum cy_trellis_check_kind kind)
{
    return kind >= CY_CHECK_ACROSS_BENDING;
}

static bool is_wire(enum cy_trellis_check_kind kind)
{
    return kind <= CY_CHECK_WIRE_LOADED;
}

/* ---- one change -------------------------------------------------------------------------------
 */

/* A depth or a size, of the line posts or of the end posts, from what it is to the field's top. */
static double *changed(struct cy_trellis_frame *frame, const struct cy_trellis_fix *fix)
{
    if (fix->anchor)
        return fix->kind == CY_FIX_DEEPER ? &frame->anchor_depth_m.value
                                          : &frame->anchor_size_m.value;
    if (fix->kind == CY_FIX_DEEPER)
        return fix->end ? &frame->end_depth_m.value : &frame->post_depth_m.value;
    return fix->end ? &frame->end_size_m.value : &frame->post_size_m.value;
}

/* An anchor goes as far as there is a figure: a deadman's table ends at 7 ft, a screw's plate is
 * five diameters deep. */
static double highest(const struct cy_trellis_fix *fix, const struct cy_trellis_frame *frame)
{
    if (fix->anchor && fix->kind == CY_FIX_DEEPER)
        return 7 * CY_TRELLIS_FOOT_M;
    if (fix->anchor && frame->anchor == CY_ANCHOR_SCREW)
        return frame->anchor_depth_m.value / 5;
    if (fix->anchor)
        return cy_field_info(CY_TRELLIS_ANCHOR_SIZE)->high;
    if (fix->kind == CY_FIX_DEEPER)
        return cy_field_info(fix->end ? CY_TRELLIS_END_DEPTH : CY_TRELLIS_DEPTH)->high;
    return cy_field_info(fix->end ? CY_TRELLIS_END_SIZE : CY_TRELLIS_POST_SIZE)->high;
}

static void by_halving(struct cy_trellis_fix *fix, struct cy_trellis_frame *frame,
                       const struct cy_trellis_check *check)
{
    double *value = changed(frame, fix);
    double low = *value, high = highest(fix, frame);
    *value = high;
    fix->enough = use_of(frame, check) <= 1;
    for (int i = 0; fix->enough && i < HALVINGS; i++) {
        *value = (low + high) / 2;
        if (use_of(frame, check) <= 1)
            high = *value;
        else
            low = *value;
    }
    *value = high;
    fix->value = high;
}

/* Pipes come in sizes; the outer width of each is what the field holds. */
static void by_pipe(struct cy_trellis_fix *fix, struct cy_trellis_frame *frame,
                    const struct cy_trellis_check *check)
{
    static const double nominal_in[] = {1, 1.25, 1.5, 2, 2.5, 3, 3.5, 4};
    struct cy_section now, pipe;
    fix->applies = cy_trellis_section(&now, frame);
    for (size_t i = 0; fix->applies && i < sizeof nominal_in / sizeof *nominal_in; i++) {
        if (cy_section_pipe(&pipe, nominal_in[i] * CY_TRELLIS_INCH_M, NULL) != CY_OK ||
            pipe.bearing_m <= now.bearing_m + 1e-6)
            continue;
        fix->value = frame->post_size_m.value = pipe.bearing_m;
        fix->enough = use_of(frame, check) <= 1;
        if (fix->enough)
            return;
    }
}

/* Bays are whole: the fewest that will do, down to the least spacing of the field. */
static void by_spacing(struct cy_trellis_fix *fix, struct cy_trellis_frame *frame,
                       const struct cy_trellis_check *check)
{
    double length = frame->length_m.value;
    int low = cy_trellis_bays(frame);
    int high = (int)floor(length / cy_field_info(CY_TRELLIS_SPACING)->low + 1e-9);
    if (high <= low) {
        fix->applies = false;
        return;
    }
    frame->spacing_m.value = length / high;
    fix->enough = use_of(frame, check) <= 1;
    while (fix->enough && high - low > 1) {
        int middle = (low + high) / 2;
        frame->spacing_m.value = length / middle;
        if (use_of(frame, check) <= 1)
            high = middle;
        else
            low = middle;
    }
    frame->spacing_m.value = fix->value = length / high;
}

/* A wire like the top one, in the middle of the widest gap between wires. */
static void by_wire(struct cy_trellis_fix *fix, struct cy_trellis_frame *frame,
                    const struct cy_trellis_check *check)
{
    int count = frame->wire_count, top = 0;
    double gap = 0;
    if (count == 0 || count == CY_TRELLIS_WIRES) {
        fix->applies = false;
        return;
    }
    for (int i = 0; i < count; i++)
        if (frame->wires[i].height_m.value > frame->wires[top].height_m.value)
            top = i;
    double height = frame->wires[top].height_m.value / 2;
    for (int i = 0; i < count; i++) {
        double below = -INFINITY, here = frame->wires[i].height_m.value;
        for (int j = 0; j < count; j++)
            if (frame->wires[j].height_m.value < here - 0.02)
                below = fmax(below, frame->wires[j].height_m.value);
        if (isfinite(below) && here - below > gap) {
            gap = here - below;
            height = (here + below) / 2;
        }
    }
    frame->wires[count] = frame->wires[top];
    frame->wires[count].height_m.value = fix->value = height;
    frame->wire_count++;
    fix->enough = use_of(frame, check) <= 1;
}

static void by_gauge(struct cy_trellis_fix *fix, struct cy_trellis_frame *frame,
                     const struct cy_trellis_check *check)
{
    const struct cy_gauge *now = cy_gauge_find(frame->wires[check->wire].gauge.value), *gauge;
    fix->applies = false;
    /* A breaking load as typed is of one wire: none is known of a thicker one. */
    if (frame->wires[check->wire].kind == CY_WIRE_POLYMER ||
        !isnan(frame->wires[check->wire].breaks_n.value))
        return;
    /* The table runs from the thickest; the nearest above comes first. */
    for (size_t i = 0; now && (gauge = cy_gauge_at(i)); i++)
        fix->applies = fix->applies || gauge->diameter_m > now->diameter_m;
    for (size_t back = 0; fix->applies; back++) {
        size_t at = 0;
        while (cy_gauge_at(at) != now)
            at++;
        if (back >= at)
            return;
        gauge = cy_gauge_at(at - 1 - back);
        for (int i = 0; i < frame->wire_count; i++)
            if (frame->wires[i].kind != CY_WIRE_POLYMER)
                frame->wires[i].gauge.value = gauge->number;
        fix->value = gauge->number;
        fix->enough = use_of(frame, check) <= 1;
        if (fix->enough)
            return;
    }
}

/* ---- cost -------------------------------------------------------------------------------------
 */

static const struct cy_parts_line *like(const struct cy_parts_list *list,
                                        const struct cy_parts_line *line)
{
    for (int i = 0; i < list->count; i++) {
        const struct cy_parts_line *one = &list->lines[i];
        if (one->kind == line->kind &&
            (one->width_m == line->width_m || (isnan(one->width_m) && isnan(line->width_m))) &&
            (one->length_m == line->length_m || (isnan(one->length_m) && isnan(line->length_m))) &&
            (one->gauge == line->gauge || (isnan(one->gauge) && isnan(line->gauge))))
            return one;
    }
    return NULL;
}

/* What must be bought for a change: parts of another size whole, more of the same by the
 * difference. NaN unless the grower has typed all of its prices. */
static double cost_of(const struct cy_plan *plan, const struct cy_trellis_frame *before,
                      const struct cy_trellis_frame *after)
{
    struct cy_parts_list old, new;
    if (!cy_parts_of_frame(&old, &plan->farm, before) ||
        !cy_parts_of_frame(&new, &plan->farm, after))
        return NAN;
    double cost = 0;
    for (int i = 0; i < new.count; i++) {
        const struct cy_parts_line *line = &new.lines[i], *had = like(&old, line);
        double more = line->amount - (had ? had->amount : 0);
        if (more <= 1e-9)
            continue;
        if (line->basis != CY_BASIS_GROWER)
            return NAN;
        cost += more * line->price;
    }
    return cost;
}

/* ---- all changes ------------------------------------------------------------------------------
 */

/* What was pulled stands for the anchor as it is: a larger one would have to be pulled too. */
static bool anchor_may(enum cy_fix_kind kind, const struct cy_trellis_frame *frame)
{
    bool figures = isnan(frame->anchor_holds_n.value);
    if (kind == CY_FIX_DEEPER)
        return figures && frame->anchor == CY_ANCHOR_DEADMAN;
    return figures;
}

static bool may_apply(const struct cy_trellis_fix *fix, const struct cy_trellis_frame *frame,
                      const struct cy_trellis_check *check)
{
    bool wire = is_wire(check->kind);
    switch (fix->kind) {
    case CY_FIX_DEEPER:
    case CY_FIX_LARGER:
        if (fix->anchor)
            return anchor_may(fix->kind, frame);
        if (wire || check->kind == CY_CHECK_ARM)
            return false;
        return fix->kind == CY_FIX_DEEPER || fix->end || frame->post != CY_POST_TEE;
    case CY_FIX_THICKER:
        return wire;
    default:
        return true;
    }
}

static int try_fix(struct cy_trellis_fix *fix, const struct cy_plan *plan,
                   const struct cy_trellis_frame *frame, const struct cy_trellis_check *check)
{
    struct cy_trellis_frame other = *frame;
    fix->end = is_end(check->kind);
    fix->anchor = check->kind == CY_CHECK_ANCHOR ||
                  (check->kind == CY_CHECK_OVERTURN && frame->end == CY_ROW_END_TIE);
    fix->applies = may_apply(fix, frame, check);
    fix->cost = fix->use = NAN;
    if (!fix->applies)
        return CY_OK;
    if (fix->kind == CY_FIX_CLOSER)
        by_spacing(fix, &other, check);
    else if (fix->kind == CY_FIX_WIRE)
        by_wire(fix, &other, check);
    else if (fix->kind == CY_FIX_THICKER)
        by_gauge(fix, &other, check);
    else if (fix->kind == CY_FIX_LARGER && !fix->end && frame->post == CY_POST_PIPE)
        by_pipe(fix, &other, check);
    else
        by_halving(fix, &other, check);
    if (!fix->applies)
        return CY_OK;
    fix->use = use_of(&other, check);
    struct cy_trellis_verdict verdict;
    int status = cy_trellis_judge(&verdict, &other);
    if (status == CY_OK && verdict.governing >= 0)
        fix->then = verdict.checks[verdict.governing];
    cy_trellis_verdict_dispose(&verdict);
    if (status == CY_OK && fix->enough)
        fix->cost = cost_of(plan, frame, &other);
    return status;
}

static int cheapest(const struct cy_trellis_fixes *fixes)
{
    int best = -1;
    for (int i = 0; i < CY_FIX_COUNT; i++) {
        const struct cy_trellis_fix *fix = &fixes->fixes[i];
        if (!fix->applies || !fix->enough)
            continue;
        if (isnan(fix->cost))
            return -1; /* a price is missing: it might be this one */
        if (best < 0 || fix->cost < fixes->fixes[best].cost)
            best = i;
    }
    return best;
}

/* The check that governs a row and its frame; NULL where it is within its limit or there is none.
 */
static const struct cy_trellis_check *overdone(struct cy_trellis_frame *frame,
                                               const struct cy_plan *plan, size_t row)
{
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, row);
    if (!verdict || verdict->governing < 0 || !cy_trellis_frame_of(frame, plan, row))
        return NULL;
    const struct cy_trellis_check *check = &verdict->checks[verdict->governing];
    return check->use > 1 ? check : NULL;
}

int cy_trellis_fix_of(struct cy_trellis_fix *out, const struct cy_plan *plan, size_t row,
                      enum cy_fix_kind kind)
{
    struct cy_trellis_frame frame;
    const struct cy_trellis_check *check = overdone(&frame, plan, row);
    *out = (struct cy_trellis_fix){.kind = kind};
    return check ? try_fix(out, plan, &frame, check) : CY_OK;
}

int cy_trellis_fixes_of(struct cy_trellis_fixes *out, const struct cy_plan *plan, size_t row)
{
    struct cy_trellis_frame frame;
    const struct cy_trellis_check *check = overdone(&frame, plan, row);
    int status = CY_OK;
    *out = (struct cy_trellis_fixes){.cheapest = -1, .needed = check != NULL};
    for (int i = 0; i < CY_FIX_COUNT; i++) {
        out->fixes[i] = (struct cy_trellis_fix){.kind = (enum cy_fix_kind)i};
        if (check && status == CY_OK)
            status = try_fix(&out->fixes[i], plan, &frame, check);
    }
    if (status == CY_OK && check)
        out->cheapest = cheapest(out);
    return status;
}
