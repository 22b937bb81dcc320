/* SPDX-License-Identifier: MIT
 * Rows proposed for a field: parallel lines at a spacing, cut to the field's outline with headlands
 * at both ends; how many, how long, with how many plants and posts, for one bearing and for all.
 *
 * A row takes a strip half a spacing wide on either side of it, and only where the whole strip lies
 * inside the field: rows and alleys together are then never more than the field, and a rectangle
 * holds as many rows as cy_rows_of says (include/caneyear/trellis/parts.h). The headland is taken
 * along the row from where its strip leaves the field. Plain geometry. */
#ifndef CANEYEAR_SEASON_ROWPLAN_H
#define CANEYEAR_SEASON_ROWPLAN_H

#include <caneyear/season/sunlight.h>
#include <caneyear/trellis/end.h>

/* ---- a field -------------------------------------------------------------------------------- */

struct cy_point {
    double x_m, y_m; /* east and north */
};

struct cy_rowplan_ask {
    const struct cy_point *corners; /* borrowed: round the field, either way; the last joins the
                                     * first */
    size_t corner_count;
    double bearing_deg;     /* of the rows, from north by east */
    double spacing_m;       /* from row to row, over 0 */
    double headland_m;      /* at each end, 0 or more */
    double shortest_m;      /* pieces below this are left out */
    double plant_spacing_m; /* over 0 */
    double post_spacing_m;  /* 0.1 to 100 */
    enum cy_end_kind ends;
};

/* Why there is no proposal. */
enum cy_rowplan_state {
    CY_ROWPLAN_PROPOSED,    /* there is one; it may be empty */
    CY_ROWPLAN_NO_OUTLINE,  /* fewer than three corners */
    CY_ROWPLAN_CROSSES,     /* two sides of the outline cross or touch */
    CY_ROWPLAN_NO_AREA      /* all corners stand in a line */
};

struct cy_rowplan_row {
    struct cy_point from;   /* its first post; it runs from there along the bearing */
    double length_m;        /* end post to end post */
    int line;               /* which line, from 0 at the left of someone who looks along them */
    double plants;          /* length over spacing, not rounded */
    int line_posts, end_posts;
};

/* Zero-initialise, or fill with cy_rowplan_make. */
struct cy_rowplan {
    enum cy_rowplan_state state;
    struct cy_rowplan_row *rows; /* by line, then along it; an outline that bends inwards may cut a
                                 * line into several */
    size_t row_count, row_capacity;
    double area_m2;
    double offset_m;            /* from the field's left edge to the first line */
    double length_m, plants;    /* of all rows */
    int line_posts, end_posts;
};

/* The rows whose lines stand where most metres of row fit; where a range of places is as good, in
 * its middle. CY_NO_MEMORY leaves *out empty; dispose of it. */
int cy_rowplan_make(struct cy_rowplan *out, const struct cy_rowplan_ask *ask);
void cy_rowplan_dispose(struct cy_rowplan *layout);


/* How steeply the ground falls along rows of a bearing, on a slope that faces an aspect. */
double cy_rowplan_fall_deg(double slope_deg, double aspect_deg, double bearing_deg);

/* ---- a farm's field ------------------------------------------------------------------------- */

/* What a farm's site says of its field: what is borrowed lives as long as the farm. */
struct cy_rowplan_site {
    struct cy_rowplan_ask ask; /* at the site's bearing; its corners are owned here */
    struct cy_point *corners;
    struct cy_given bearing, spacing, headland, shortest, plant_spacing, post_spacing, end;
    double hedge_m;           /* how high a proposed row counts for the sun */
    cy_basis hedge_basis;
    struct cy_given slope, aspect;
    cy_basis basis;           /* of rows and metres */
};

#define CY_ROWPLAN_BEARINGS 12 /* every 15 degrees, from 0 */
#define CY_ROWPLAN_TURN_DEG 15

struct cy_rowplan_choice {
    double bearing_deg;
    size_t rows;
    double length_m, plants;
    int posts;             /* line and end posts */
    double sun_h;          /* the season's mean at the rows, between two neighbours */
    double fall_deg;       /* along them; NaN where the slope is not known */
};

/* CY_NO_MEMORY leaves *out empty; dispose of it. */
int cy_rowplan_site_of(struct cy_rowplan_site *out, const struct cy_farm *farm);
void cy_rowplan_site_dispose(struct cy_rowplan_site *site);

/* What one bearing would give. */
int cy_rowplan_choose(struct cy_rowplan_choice *out, const struct cy_rowplan_site *site,
                     const struct cy_sunlight *sun, double bearing_deg);

/* Gentler ground than this is asked for (Univ. of Kentucky, Growing Brambles in Kentucky); over 12 to
 * 15 degrees it is a problem for equipment (NC State, Site Selection). */
#define CY_ROWPLAN_GENTLE_DEG 10.0

/* Why the rows of a bearing are as many and as long, and have that sun: one step each. False
 * without an outline, or without memory. */
bool cy_rowplan_why(struct cy_trace *trace, const struct cy_rowplan_site *site,
                   const struct cy_sunlight *sun, double bearing_deg);
/* Why the ground falls so along the rows; false where the slope or its aspect is not known. */
bool cy_rowplan_why_fall(struct cy_trace *trace, const struct cy_rowplan_site *site,
                         double bearing_deg);

#endif
