/* SPDX-License-Identifier: MIT
 * The parts of a row's trellis and of the farm's, and what they cost. */
#include "season/trellis_parts.h"

#include <math.h>

/* A board of 2x4 beside each wire pair; ties: by the metre of row. */
#define BRACE_SIZE_M (4 * CY_TRELLIS_INCH_M)
#define POST_TOP_M (2 * CY_TRELLIS_INCH_M) /* of a post above its top wire: placeholder */
#define FIT_M 1e-3                         /* what a part may fall short by */

static struct cy_parts_line *line_of(struct cy_parts_list *out, enum cy_part_kind kind,
                                     double amount)
{
    struct cy_parts_line *line = &out->lines[out->count++];
    *line = (struct cy_parts_line){.kind = kind,
                                   .amount = amount,
                                   .width_m = NAN,
                                   .length_m = NAN,
                                   .gauge = NAN,
                                   .price = NAN,
                                   .cost = NAN};
    return line;
}

static void add_posts(struct cy_parts_list *out, enum cy_part_kind kind, int count, double width_m,
                      double length_m)
{
    if (count <= 0)
        return;
    struct cy_parts_line *line = line_of(out, kind, count);
    line->width_m = kind == CY_PART_TEE_POST ? NAN : width_m;
    line->length_m = length_m;
}

static void add_count(struct cy_parts_list *out, enum cy_part_kind kind, int count)
{
    if (count > 0)
        line_of(out, kind, count);
}

static enum cy_part_kind post_kind(enum cy_post_kind post)
{
    static const enum cy_part_kind kinds[] = {[CY_POST_ROUND] = CY_PART_ROUND_POST,
                                              [CY_POST_SQUARE] = CY_PART_SQUARE_POST,
                                              [CY_POST_TEE] = CY_PART_TEE_POST,
                                              [CY_POST_PIPE] = CY_PART_PIPE_POST};
    return kinds[post];
}

static enum cy_end_kind end_kind(enum cy_row_end end)
{
    return end == CY_ROW_END_H ? CY_END_H : end == CY_ROW_END_SLANT ? CY_END_SLANT : CY_END_TIE;
}

/* Posts first; those of a V stand in pairs along the row. */
static void list_posts(struct cy_parts_list *out, const struct cy_trellis_frame *frame,
                       const struct cy_parts *parts)
{
    double top = cy_trellis_top_m(frame) + POST_TOP_M;
    double leg = hypot(top, frame->form == CY_FORM_V ? cy_trellis_arm_m(frame) / 2 : 0);
    enum cy_part_kind end =
        frame->post == CY_POST_SQUARE ? CY_PART_SQUARE_POST : CY_PART_ROUND_POST;
    double brace = cy_trellis_brace_m(frame), length = frame->brace_length_m.value;
    add_posts(out, post_kind(frame->post), parts->line_posts * cy_trellis_walls(frame),
              frame->post_size_m.value, leg + frame->post_depth_m.value);
    add_posts(out, end, parts->end_posts, frame->end_size_m.value, top + frame->end_depth_m.value);
    add_posts(out, CY_PART_RAIL, parts->rails, BRACE_SIZE_M, length);
    add_posts(out, CY_PART_STRUT, parts->struts, BRACE_SIZE_M, hypot(length, brace));
    if (parts->diagonals > 0) {
        struct cy_parts_line *line =
            line_of(out, CY_PART_DIAGONAL, 2 * parts->diagonals * hypot(length, brace));
        line->by_length = true;
    }
    if (frame->end == CY_ROW_END_TIE)
        add_posts(out, CY_PART_ANCHOR, parts->anchors, frame->anchor_size_m.value, NAN);
    int levels = cy_trellis_arm_levels(frame);
    if (levels > 0)
        add_posts(out, CY_PART_ARM, levels * (parts->line_posts + 2), NAN, cy_trellis_arm_m(frame));
}

static enum cy_part_kind wire_part(enum cy_wire_kind kind)
{
    return kind == CY_WIRE_HIGH_TENSILE ? CY_PART_HIGH_TENSILE
           : kind == CY_WIRE_LOW_CARBON ? CY_PART_LOW_CARBON
                                        : CY_PART_POLYMER;
}

/* Wires of one kind and gauge share a line. */
static void list_wires(struct cy_parts_list *out, const struct cy_trellis_frame *frame,
                       double each_m)
{
    for (int i = 0; i < frame->wire_count; i++) {
        enum cy_part_kind kind = wire_part(frame->wires[i].kind);
        double gauge = kind == CY_PART_POLYMER ? NAN : frame->wires[i].gauge.value;
        struct cy_wire steel;
        struct cy_parts_line *line = NULL;
        for (int j = 0; j < out->count; j++)
            if (out->lines[j].kind == kind &&
                (out->lines[j].gauge == gauge || (isnan(gauge) && isnan(out->lines[j].gauge))))
                line = &out->lines[j];
        if (!line) {
            line = line_of(out, kind, 0);
            line->by_length = true;
            line->gauge = gauge;
        }
        line->amount += each_m;
        if (!isnan(gauge) && cy_wire_of_gauge(&steel, gauge, NULL) == CY_OK)
            out->wire_kg += each_m * steel.weight_n_m / CY_TRELLIS_GRAVITY;
    }
}

/* ---- prices -----------------------------------------------------------------------------------
 */

static bool serves(const struct cy_thing *part, const struct cy_parts_line *line)
{
    double width = cy_number(part, CY_PART_WIDTH), length = cy_number(part, CY_PART_LENGTH);
    double gauge = cy_number(part, CY_PART_GAUGE);
    return cy_choice(part, CY_PART_WHAT) == (int)line->kind && !(width < line->width_m - FIT_M) &&
           !(length < line->length_m - FIT_M) && !(fabs(gauge - line->gauge) > 1e-6);
}

/* The cheapest part that serves; the grower's own prices come before lent ones. */
static void price(struct cy_parts_line *line, const struct cy_farm *farm)
{
    enum cy_field field = line->by_length ? CY_PART_PRICE_LENGTH : CY_PART_PRICE;
    bool own = false;
    for (const struct cy_thing *part = NULL; (part = cy_farm_next(farm, CY_KIND_PART, 0, part));) {
        struct cy_given given = cy_given(part, field);
        if (!given.known || !serves(part, line))
            continue;
        bool is_own = given.basis == CY_BASIS_GROWER || given.basis == CY_BASIS_OBSERVED;
        if (line->part && (is_own < own || (is_own == own && given.number >= line->price)))
            continue;
        own = is_own;
        line->part = part;
        line->price = given.number;
        line->basis = given.basis;
    }
    line->cost = line->price * line->amount;
}

static void add_up(struct cy_parts_list *out)
{
    out->cost = 0;
    out->unpriced = 0;
    out->basis = CY_BASIS_NONE;
    for (int i = 0; i < out->count; i++) {
        if (isnan(out->lines[i].cost)) {
            out->unpriced++;
            continue;
        }
        out->cost += out->lines[i].cost;
        out->basis |= out->lines[i].basis;
    }
}

bool cy_parts_of_frame(struct cy_parts_list *out, const struct cy_farm *farm,
                       const struct cy_trellis_frame *frame)
{
    struct cy_parts parts;
    *out = (struct cy_parts_list){.row_m = frame->length_m.value, .rows = 1};
    struct cy_parts_input in = {.row_m = frame->length_m.value,
                                .post_spacing_m = frame->spacing_m.value,
                                .wires = frame->wire_count,
                                .gauge = 12.5, /* of the weight, which is summed here by wire */
                                .ends = end_kind(frame->end),
                                .steel_posts =
                                    frame->post == CY_POST_TEE || frame->post == CY_POST_PIPE};
    if (frame->wire_count == 0 || cy_parts_of(&parts, &in, NULL) != CY_OK)
        return false;
    list_posts(out, frame, &parts);
    list_wires(out, frame, parts.wire_m / frame->wire_count);
    add_count(out, CY_PART_STRAINER, parts.strainers);
    add_count(out, CY_PART_STAPLE, parts.staples);
    add_count(out, CY_PART_CLIP, parts.clips);
    add_count(out, CY_PART_CRIMP, parts.crimps);
    line_of(out, CY_PART_TIE, frame->length_m.value)->by_length = true;
    for (int i = 0; i < out->count; i++)
        price(&out->lines[i], farm);
    add_up(out);
    return true;
}

bool cy_parts_of_row(struct cy_parts_list *out, const struct cy_plan *plan, size_t row)
{
    struct cy_trellis_frame frame;
    *out = (struct cy_parts_list){0};
    return cy_trellis_frame_of(&frame, plan, row) && cy_parts_of_frame(out, &plan->farm, &frame);
}

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || fabs(a - b) < FIT_M;
}

/* Parts of one kind and size are one line; where a farm has more than fit, sizes are joined. */
static void join(struct cy_parts_list *out, const struct cy_parts_line *line)
{
    struct cy_parts_line *to = NULL;
    bool full = out->count == CY_PARTS_LINES;
    for (int i = 0; i < out->count && !to; i++) {
        struct cy_parts_line *one = &out->lines[i];
        bool alike = one->part == line->part && same(one->width_m, line->width_m) &&
                     same(one->length_m, line->length_m) && same(one->gauge, line->gauge);
        if (one->kind == line->kind && (alike || full))
            to = one;
    }
    if (!to && full)
        return;
    if (!to) {
        out->lines[out->count++] = *line;
        return;
    }
    to->amount += line->amount;
    to->cost += line->cost;
    to->basis |= line->basis;
}

static void sort_lines(struct cy_parts_list *out)
{
    for (int i = 1; i < out->count; i++)
        for (int j = i; j > 0 && out->lines[j - 1].kind > out->lines[j].kind; j--) {
            struct cy_parts_line held = out->lines[j];
            out->lines[j] = out->lines[j - 1];
            out->lines[j - 1] = held;
        }
}

void cy_parts_of_farm(struct cy_parts_list *out, const struct cy_plan *plan)
{
    *out = (struct cy_parts_list){0};
    for (size_t row = 0; row < plan->row_count; row++) {
        struct cy_parts_list one;
        if (!cy_parts_of_row(&one, plan, row)) {
            out->left_out++;
            continue;
        }
        for (int i = 0; i < one.count; i++)
            join(out, &one.lines[i]);
        out->row_m += one.row_m;
        out->wire_kg += one.wire_kg;
        out->rows++;
    }
    sort_lines(out);
    add_up(out);
}
