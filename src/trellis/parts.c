/* SPDX-License-Identifier: MIT
 * Counting: rows in a field, posts, wire and fittings in a row. */
#include <caneyear/trellis/parts.h>

#include <math.h>

#include <caneyear/trellis/wire.h>

#include "inside.h"

/* Chosen here, no source: placeholder. */
#define WRAP_M 1.22   /* of each wire around each end, about 4 ft */
#define WASTE 0.05    /* of the wire */
#define END_STAPLES 3 /* per wire end */
#define END_CRIMPS 2  /* per wire end */
/* One strainer for a run to 1320 ft: NRCS Maine job sheet 382A, 2008. */
#define STRAINER_RUN_M (1320 * FOOT_M)

static int count_up(double value)
{
    return (int)ceil(value - COUNT_SLOP);
}

int cy_parts_of(struct cy_parts *out, const struct cy_parts_input *in,
                struct cy_trellis_domain *bad)
{
    struct cy_wire wire;
    if (!cy_trellis__within(bad, "row", CY_Q_LENGTH, in->row_m, 0.1, 10000) ||
        !cy_trellis__within(bad, "post_spacing", CY_Q_LENGTH, in->post_spacing_m, 0.1, 100) ||
        !cy_trellis__within(bad, "wires", CY_Q_NUMBER, in->wires, 1, 20) ||
        !cy_trellis__rule(bad, "ends", (unsigned)in->ends < CY_END_KIND_COUNT, "h, slant, tie") ||
        cy_wire_of_gauge(&wire, in->gauge, bad))
        return CY_INVALID;
    bool h = in->ends == CY_END_H;
    int posts = count_up(in->row_m / in->post_spacing_m) - 1;
    int on_line = in->wires * posts;
    double wire_m = in->wires * (in->row_m + 2 * WRAP_M) * (1 + WASTE);
    *out = (struct cy_parts){
        .line_posts = posts,
        .end_posts = h ? 4 : 2,
        .rails = h ? 2 : 0,
        .diagonals = h ? 2 : 0,
        .struts = in->ends == CY_END_SLANT ? 2 : 0,
        .anchors = in->ends == CY_END_TIE ? 2 : 0,
        .wire_m = wire_m,
        .wire_kg = wire_m * wire.weight_n_m / GRAVITY_M_S2,
        .staples = 2 * END_STAPLES * in->wires + (in->steel_posts ? 0 : on_line),
        .clips = in->steel_posts ? on_line : 0,
        .strainers = in->wires * count_up(in->row_m / STRAINER_RUN_M),
        .crimps = 2 * END_CRIMPS * in->wires,
    };
    return CY_OK;
}

int cy_rows_of(struct cy_rows *out, const struct cy_rows_input *in, struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "width", CY_Q_LENGTH, in->width_m, 0, 10000) ||
        !cy_trellis__within(bad, "length", CY_Q_LENGTH, in->length_m, 0, 10000) ||
        !cy_trellis__within(bad, "row_spacing", CY_Q_LENGTH, in->row_spacing_m, 0.1, 100) ||
        !cy_trellis__within(bad, "headland", CY_Q_LENGTH, in->headland_m, 0, in->length_m / 2) ||
        (in->plant_spacing_m != 0 &&
         !cy_trellis__within(bad, "plant_spacing", CY_Q_LENGTH, in->plant_spacing_m, 0.05, 100)))
        return CY_INVALID;
    int rows = (int)floor(in->width_m / in->row_spacing_m + COUNT_SLOP);
    double row_m = in->length_m - 2 * in->headland_m;
    double across = rows > 0 ? (rows - 1) * in->row_spacing_m : 0;
    *out = (struct cy_rows){
        .rows = rows,
        .row_m = row_m,
        .first_m = (in->width_m - across) / 2,
        .plants = in->plant_spacing_m > 0 ? rows * row_m / in->plant_spacing_m : 0,
    };
    return CY_OK;
}
