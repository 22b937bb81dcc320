/* SPDX-License-Identifier: MIT
 * Rows for a field: parallel strips laid into an outline. */
#include <caneyear/season/rowplan.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/yield.h>
#include <caneyear/trellis/parts.h>

/* A strip is this much narrower than the rows' spacing, so that rows which fit exactly do so
 * however the field is turned. */
#define SLOP 1e-7
/* Places of the first line that are tried, besides those at which a strip meets a corner. */
#define TRIES 48
/* Layouts this near to the most metres count as good as it. */
#define AS_GOOD 1e-6

static double radians(double degrees)
{
    return degrees * acos(-1.0) / 180;
}

/* ---- outlines ------------------------------------------------------------------------------- */

/* Twice the area of a triangle, positive where it turns left. */
static double turn(struct cy_point a, struct cy_point b, struct cy_point c)
{
    return (b.x_m - a.x_m) * (c.y_m - a.y_m) - (b.y_m - a.y_m) * (c.x_m - a.x_m);
}

/* Whichever way round its corners go. */
static double area_m2_of(const struct cy_point *corners, size_t count)
{
    double twice = 0;
    for (size_t i = 2; i < count; i++)
        twice += turn(corners[0], corners[i - 1], corners[i]);
    return fabs(twice) / 2;
}

static bool lies_between(struct cy_point a, struct cy_point b, struct cy_point c)
{
    return fmin(a.x_m, b.x_m) <= c.x_m && c.x_m <= fmax(a.x_m, b.x_m) &&
           fmin(a.y_m, b.y_m) <= c.y_m && c.y_m <= fmax(a.y_m, b.y_m);
}

/* True if two sides cross or touch. */
static bool meet(struct cy_point a, struct cy_point b, struct cy_point c, struct cy_point d)
{
    double at_c = turn(a, b, c), at_d = turn(a, b, d), at_a = turn(c, d, a), at_b = turn(c, d, b);
    if (((at_c > 0 && at_d < 0) || (at_c < 0 && at_d > 0)) &&
        ((at_a > 0 && at_b < 0) || (at_a < 0 && at_b > 0)))
        return true;
    return (at_c == 0 && lies_between(a, b, c)) || (at_d == 0 && lies_between(a, b, d)) ||
           (at_a == 0 && lies_between(c, d, a)) || (at_b == 0 && lies_between(c, d, b));
}

static bool crosses_itself(const struct cy_rowplan_ask *ask)
{
    size_t count = ask->corner_count;
    const struct cy_point *at = ask->corners;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 2; j < count; j++)
            /* The last side meets the first at their common corner. */
            if ((j + 1) % count != i && meet(at[i], at[i + 1], at[j], at[(j + 1) % count]))
                return true;
    return false;
}

static enum cy_rowplan_state state_of(const struct cy_rowplan_ask *ask, double area_m2)
{
    if (ask->corner_count < 3)
        return CY_ROWPLAN_NO_OUTLINE;
    if (crosses_itself(ask))
        return CY_ROWPLAN_CROSSES;
    return area_m2 > 0 ? CY_ROWPLAN_PROPOSED : CY_ROWPLAN_NO_AREA;
}

/* ---- strips --------------------------------------------------------------------------------- */

struct span {
    double from, to;
};

struct spans {
    struct span *items; /* in order, apart from one another */
    size_t count, capacity;
};

/* A corner, or a place on the outline, as the rows see it: along them, and across to the right. */
struct place {
    double along, across;
};

struct frame {
    const struct cy_rowplan_ask *ask;
    struct place *corners;
    double left, right;    /* of the field, across */
    double *cuts;          /* where a strip has corners, across */
    struct place *crossed; /* scratch: the sides that cross a part of a strip, by their places */
    struct span *sides;    /* and their ends on that part's two edges */
    struct spans strip, part, both;
    bool failed;
};

static void add_span(struct frame *frame, struct spans *spans, double from, double to)
{
    if (!(from < to))
        return;
    if (!cy_grow(&spans->items, &spans->capacity, spans->count, sizeof *spans->items)) {
        frame->failed = true;
        return;
    }
    spans->items[spans->count++] = (struct span){from, to};
}

/* What lies in the strip so far and in a further part of it. */
static void keep_common(struct frame *frame)
{
    size_t i = 0, j = 0;
    frame->both.count = 0;
    while (i < frame->strip.count && j < frame->part.count) {
        struct span a = frame->strip.items[i], b = frame->part.items[j];
        add_span(frame, &frame->both, fmax(a.from, b.from), fmin(a.to, b.to));
        if (a.to < b.to)
            i++;
        else
            j++;
    }
    struct spans kept = frame->both;
    frame->both = frame->strip;
    frame->strip = kept;
}

static double along_at(struct place a, struct place b, double across)
{
    return a.along + (across - a.across) / (b.across - a.across) * (b.along - a.along);
}

/* Where a part of a strip with no corner in it lies wholly inside: the sides that cross it do not
 * meet within it, so that every second of them leads in and the next one out. */
static void clip_part(struct frame *frame, double low, double high)
{
    size_t count = frame->ask->corner_count, crossed = 0;
    double middle = (low + high) / 2;
    for (size_t i = 0; i < count; i++) {
        struct place a = frame->corners[i], b = frame->corners[(i + 1) % count];
        if ((a.across < middle) == (b.across < middle))
            continue;
        double at_low = along_at(a, b, low), at_high = along_at(a, b, high);
        double key = along_at(a, b, middle);
        size_t place = crossed++;
        for (; place > 0 && frame->crossed[place - 1].along > key; place--) {
            frame->crossed[place] = frame->crossed[place - 1];
            frame->sides[place] = frame->sides[place - 1];
        }
        frame->crossed[place] = (struct place){key, middle};
        frame->sides[place] = (struct span){fmin(at_low, at_high), fmax(at_low, at_high)};
    }
    frame->part.count = 0;
    for (size_t i = 0; i + 1 < crossed; i += 2)
        add_span(frame, &frame->part, frame->sides[i].to, frame->sides[i + 1].from);
}

/* Leaves in frame->strip where the strip around a line lies wholly inside the field. */
static void clip_strip(struct frame *frame, double across)
{
    double half = frame->ask->spacing_m * (0.5 - SLOP), low = across - half, high = across + half;
    size_t cuts = 0;
    frame->strip.count = 0;
    if (low < frame->left || high > frame->right)
        return;
    frame->cuts[cuts++] = low;
    for (size_t i = 0; i < frame->ask->corner_count; i++)
        if (frame->corners[i].across > low && frame->corners[i].across < high)
            frame->cuts[cuts++] = frame->corners[i].across;
    frame->cuts[cuts++] = high;
    cy_sort(frame->cuts, cuts);
    add_span(frame, &frame->strip, -INFINITY, INFINITY);
    for (size_t i = 0; i + 1 < cuts; i++)
        if (frame->cuts[i + 1] - frame->cuts[i] > SLOP * SLOP * frame->ask->spacing_m) {
            clip_part(frame, frame->cuts[i], frame->cuts[i + 1]);
            keep_common(frame);
        }
}

/* ---- rows ----------------------------------------------------------------------------------- */

static int add_row(struct cy_rowplan *out, const struct frame *frame, struct span span, int line,
                   double across)
{
    const struct cy_rowplan_ask *ask = frame->ask;
    double bearing = radians(ask->bearing_deg);
    struct cy_parts parts;
    /* Wires are not asked for here; posts do not depend on them. */
    struct cy_parts_input in = {.row_m = span.to - span.from,
                                .post_spacing_m = ask->post_spacing_m,
                                .wires = 1,
                                .gauge = 12.5,
                                .ends = ask->ends};
    if (cy_parts_of(&parts, &in, NULL) != CY_OK)
        return CY_OK; /* shorter than any row, or longer */
    if (!cy_grow(&out->rows, &out->row_capacity, out->row_count, sizeof *out->rows))
        return CY_NO_MEMORY;
    struct cy_rowplan_row row = {
        .from = {span.from * sin(bearing) + across * cos(bearing),
                 span.from * cos(bearing) - across * sin(bearing)},
        .length_m = in.row_m,
        .line = line,
        .plants = cy_yield_plants(in.row_m, ask->plant_spacing_m),
        .line_posts = parts.line_posts,
        .end_posts = parts.end_posts,
    };
    out->rows[out->row_count++] = row;
    out->length_m += row.length_m;
    out->plants += row.plants;
    out->line_posts += row.line_posts;
    out->end_posts += row.end_posts;
    return CY_OK;
}

/* The metres of row with the first line so far from the left edge; the rows themselves go to `out`
 * where it is given. */
static double lay(struct frame *frame, double offset, struct cy_rowplan *out)
{
    const struct cy_rowplan_ask *ask = frame->ask;
    double metres = 0;
    int lines = (int)((frame->right - frame->left - offset) / ask->spacing_m + SLOP) + 1;
    for (int line = 0; line < lines && !frame->failed; line++) {
        double across = frame->left + offset + line * ask->spacing_m;
        clip_strip(frame, across);
        for (size_t i = 0; i < frame->strip.count; i++) {
            struct span span = {frame->strip.items[i].from + ask->headland_m,
                                frame->strip.items[i].to - ask->headland_m};
            if (!(span.to - span.from >= ask->shortest_m * (1 - SLOP)) || !(span.from < span.to))
                continue;
            metres += span.to - span.from;
            if (out && add_row(out, frame, span, line, across) != CY_OK)
                frame->failed = true;
        }
    }
    return metres;
}

/* ---- where the first line stands ------------------------------------------------------------ */

/* Places within one spacing at which a strip begins or ends to hold a corner, those half way
 * between, and some more. Returns how many. */
static size_t list_offsets(double *out, const struct frame *frame)
{
    double spacing = frame->ask->spacing_m;
    size_t count = 0;
    for (size_t i = 0; i < frame->ask->corner_count; i++)
        out[count++] = fmod(frame->corners[i].across - frame->left + spacing / 2, spacing);
    for (int i = 0; i < TRIES; i++)
        out[count++] = i * spacing / TRIES;
    cy_sort(out, count);
    size_t edges = count;
    for (size_t i = 0; i < edges; i++) {
        double next = i + 1 < edges ? out[i + 1] : out[0] + spacing;
        out[count++] = fmod((out[i] + next) / 2, spacing);
    }
    cy_sort(out, count);
    return count;
}

/* The middle of the longest range of places that are as good as the best; the places go round, the
 * last one joins the first. */
static double middle_of_best(const double *offsets, const double *metres, size_t count,
                             double spacing, double best, double *fallback)
{
    double longest = -1, middle = offsets[0];
    for (size_t i = 0; i < count; i++) {
        if (metres[i] < best)
            continue;
        double length = 0;
        for (size_t k = 1; k < count; k++) {
            if (metres[(i + k) % count] < best)
                break;
            length = fmod(offsets[(i + k) % count] - offsets[i] + spacing, spacing);
        }
        if (length <= longest + AS_GOOD * spacing)
            continue;
        longest = length;
        *fallback = offsets[i];
        middle = fmod(offsets[i] + length / 2, spacing);
    }
    return middle;
}

static double best_offset(struct frame *frame)
{
    size_t most = 2 * (frame->ask->corner_count + TRIES);
    double *offsets = cy_zeroed(2 * most, sizeof *offsets), best = 0, middle = 0, fallback = 0;
    if (!offsets) {
        frame->failed = true;
        return 0;
    }
    double *metres = offsets + most;
    size_t count = list_offsets(offsets, frame);
    for (size_t i = 0; i < count; i++) {
        metres[i] = lay(frame, offsets[i], NULL);
        best = fmax(best, metres[i]);
    }
    best -= AS_GOOD * best;
    middle = middle_of_best(offsets, metres, count, frame->ask->spacing_m, best, &fallback);
    if (lay(frame, middle, NULL) < best)
        middle = fallback;
    free(offsets);
    return middle;
}

/* ---- a layout ------------------------------------------------------------------------------- */

static void frame_dispose(struct frame *frame)
{
    free(frame->corners);
    free(frame->cuts);
    free(frame->crossed);
    free(frame->sides);
    free(frame->strip.items);
    free(frame->part.items);
    free(frame->both.items);
}

static bool frame_init(struct frame *out, const struct cy_rowplan_ask *ask)
{
    size_t count = ask->corner_count;
    double bearing = radians(ask->bearing_deg);
    *out = (struct frame){.ask = ask,
                          .corners = cy_zeroed(count, sizeof *out->corners),
                          .cuts = cy_zeroed(count + 2, sizeof *out->cuts),
                          .crossed = cy_zeroed(count, sizeof *out->crossed),
                          .sides = cy_zeroed(count, sizeof *out->sides),
                          .left = INFINITY,
                          .right = -INFINITY};
    if (!out->corners || !out->cuts || !out->crossed || !out->sides)
        return false;
    for (size_t i = 0; i < count; i++) {
        struct cy_point at = ask->corners[i];
        out->corners[i] = (struct place){at.x_m * sin(bearing) + at.y_m * cos(bearing),
                                         at.x_m * cos(bearing) - at.y_m * sin(bearing)};
        out->left = fmin(out->left, out->corners[i].across);
        out->right = fmax(out->right, out->corners[i].across);
    }
    return true;
}

int cy_rowplan_make(struct cy_rowplan *out, const struct cy_rowplan_ask *ask)
{
    struct frame frame;
    *out = (struct cy_rowplan){.area_m2 = area_m2_of(ask->corners, ask->corner_count)};
    out->state = state_of(ask, out->area_m2);
    if (out->state != CY_ROWPLAN_PROPOSED)
        return CY_OK;
    bool made = frame_init(&frame, ask);
    if (made) {
        out->offset_m = best_offset(&frame);
        lay(&frame, out->offset_m, out);
    }
    made = made && !frame.failed;
    frame_dispose(&frame);
    if (made)
        return CY_OK;
    cy_rowplan_dispose(out);
    return CY_NO_MEMORY;
}

void cy_rowplan_dispose(struct cy_rowplan *layout)
{
    free(layout->rows);
    *layout = (struct cy_rowplan){0};
}

double cy_rowplan_fall_deg(double slope_deg, double aspect_deg, double bearing_deg)
{
    double along = tan(radians(slope_deg)) * fabs(cos(radians(bearing_deg - aspect_deg)));
    return atan(along) * 180 / acos(-1.0);
}
