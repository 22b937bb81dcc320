/* SPDX-License-Identifier: MIT
 * How many rows fit a field, and the parts list of a row. */
#ifndef CANEYEAR_TRELLIS_PARTS_H
#define CANEYEAR_TRELLIS_PARTS_H

#include <stdbool.h>

#include <caneyear/trellis/domain.h>
#include <caneyear/trellis/end.h>

struct cy_parts_input {
    double row_m; /* end post to end post */
    double post_spacing_m;
    int wires;
    double gauge;
    enum cy_end_kind ends;
    bool steel_posts; /* line posts take clips instead of staples */
};

struct cy_parts {
    int line_posts, end_posts; /* the inner posts of an H count as end posts */
    int rails, diagonals, struts, anchors;
    double wire_m, wire_kg;
    int staples, clips, strainers, crimps;
};

int cy_parts_of(struct cy_parts *out, const struct cy_parts_input *in,
                struct cy_trellis_domain *bad);

struct cy_rows_input {
    double width_m;  /* across the rows */
    double length_m; /* along them */
    double row_spacing_m;
    double headland_m;      /* at each end */
    double plant_spacing_m; /* 0 where plants are not asked for */
};

struct cy_rows {
    int rows;
    double row_m;   /* length of each */
    double first_m; /* from the edge to the first row: they stand centred */
    double plants;  /* in all, not rounded; 0 where not asked for */
};

int cy_rows_of(struct cy_rows *out, const struct cy_rows_input *in, struct cy_trellis_domain *bad);

#endif
