/* SPDX-License-Identifier: MIT
 * The field of a farm: what its site says, bearings compared, and why. */
#include <caneyear/season/rowplan.h>

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

#include "season/plan_parts.h"

/* Ends as the parts list knows them; without any a row still has its two end posts. */
static enum cy_end_kind end_kind(int end)
{
    return end == CY_ROW_END_H ? CY_END_H : end == CY_ROW_END_SLANT ? CY_END_SLANT : CY_END_TIE;
}

static void read_site(struct cy_rowplan_site *out, const struct cy_farm *farm,
                      const struct cy_thing *site)
{
    const struct cy_thing *trellis = cy_referred(farm, site, CY_SITE_TRELLIS);
    out->bearing = cy_given(site, CY_SITE_ROW_BEARING);
    out->spacing = cy_given(site, CY_SITE_ROW_SPACING);
    out->headland = cy_given(site, CY_SITE_HEADLAND);
    out->shortest = cy_given(site, CY_SITE_SHORTEST);
    out->plant_spacing = cy_given(site, CY_SITE_PLANT_SPACING);
    out->post_spacing = cy_given(trellis, CY_TRELLIS_SPACING);
    out->end = cy_given(trellis, CY_TRELLIS_END);
    out->slope = cy_given(site, CY_SITE_SLOPE);
    out->aspect = cy_given(site, CY_SITE_ASPECT);
    out->hedge_m = cy_sunlight_hedge(&out->hedge_basis, farm, trellis, NULL);
    out->basis |=
        out->bearing.basis | out->spacing.basis | out->headland.basis | out->shortest.basis;
    out->ask = (struct cy_rowplan_ask){.corners = out->corners,
                                       .bearing_deg = out->bearing.number,
                                       .spacing_m = out->spacing.number,
                                       .headland_m = out->headland.number,
                                       .shortest_m = out->shortest.number,
                                       .plant_spacing_m = out->plant_spacing.number,
                                       .post_spacing_m = out->post_spacing.number,
                                       .ends = end_kind((int)out->end.number)};
}

int cy_rowplan_site_of(struct cy_rowplan_site *out, const struct cy_farm *farm)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    *out = (struct cy_rowplan_site){0};
    out->corners =
        cy_zeroed((size_t)cy_farm_count(farm, CY_KIND_CORNER, site->id), sizeof *out->corners);
    if (!out->corners)
        return CY_NO_MEMORY;
    read_site(out, farm, site);
    for (const struct cy_thing *corner = NULL;
         (corner = cy_farm_next(farm, CY_KIND_CORNER, site->id, corner));) {
        struct cy_given x = cy_given(corner, CY_CORNER_X), y = cy_given(corner, CY_CORNER_Y);
        out->corners[out->ask.corner_count++] = (struct cy_point){x.number, y.number};
        out->basis |= x.basis | y.basis;
    }
    return CY_OK;
}

void cy_rowplan_site_dispose(struct cy_rowplan_site *site)
{
    free(site->corners);
    *site = (struct cy_rowplan_site){0};
}

int cy_rowplan_choose(struct cy_rowplan_choice *out, const struct cy_rowplan_site *site,
                      const struct cy_sunlight *sun, double bearing_deg)
{
    struct cy_rowplan layout;
    struct cy_hedge_sun light;
    struct cy_rowplan_ask ask = site->ask;
    ask.bearing_deg = bearing_deg;
    int status = cy_rowplan_make(&layout, &ask);
    if (status != CY_OK)
        return status;
    cy_sunlight_propose(&light, sun, site->hedge_m, ask.spacing_m, bearing_deg);
    *out = (struct cy_rowplan_choice){
        .bearing_deg = bearing_deg,
        .rows = layout.row_count,
        .length_m = layout.length_m,
        .plants = layout.plants,
        .posts = layout.line_posts + layout.end_posts,
        .sun_h = light.hours,
        .fall_deg = cy_rowplan_fall_deg(site->slope.number, site->aspect.number, bearing_deg),
    };
    cy_rowplan_dispose(&layout);
    return CY_OK;
}

/* ---- why ------------------------------------------------------------------------------------ */

static void why_length(struct cy_trace *trace, const struct cy_rowplan_site *site,
                       const struct cy_rowplan *layout, double bearing_deg)
{
    cy_trace_begin(trace, "metres of row that fit the field",
                   "parallel lines at the spacing; each as far as its strip of one spacing lies "
                   "inside the outline, less a headland at both ends; pieces too short left out; "
                   "the lines stand where most metres fit",
                   "geometry");
    cy_trace_number(trace, "corners of the outline", (double)site->ask.corner_count, CY_Q_NUMBER,
                    site->basis, "");
    cy_trace_number(trace, "area inside it", layout->area_m2, CY_Q_AREA, site->basis, "");
    cy_trace_number(trace, "bearing", bearing_deg, CY_Q_ANGLE,
                    bearing_deg == site->bearing.number ? site->bearing.basis : CY_BASIS_NONE, "");
    cy_why_value(trace, "from row to row", &site->spacing, CY_Q_LENGTH);
    cy_why_value(trace, "headland", &site->headland, CY_Q_LENGTH);
    cy_why_value(trace, "shortest row", &site->shortest, CY_Q_LENGTH);
    cy_trace_number(trace, "from the left edge to the first line", layout->offset_m, CY_Q_LENGTH,
                    site->basis, "");
    cy_trace_number(trace, "rows", (double)layout->row_count, CY_Q_NUMBER, site->basis, "");
    cy_trace_result(trace, layout->length_m, CY_Q_LENGTH, site->basis);
}

static void why_counts(struct cy_trace *trace, const struct cy_rowplan_site *site,
                       const struct cy_rowplan *layout)
{
    cy_trace_begin(trace, "plants", "metres of row / spacing of the plants", "arithmetic");
    cy_why_value(trace, "from plant to plant", &site->plant_spacing, CY_Q_LENGTH);
    cy_trace_result(trace, layout->plants, CY_Q_NUMBER, site->basis | site->plant_spacing.basis);
    cy_trace_begin(trace, "posts",
                   "for each row: its length / spacing of the posts, rounded up, less 1; and its "
                   "end posts, four with H ends, else two",
                   "arithmetic");
    cy_why_value(trace, "between line posts", &site->post_spacing, CY_Q_LENGTH);
    cy_trace_number(trace, "line posts", layout->line_posts, CY_Q_NUMBER,
                    site->basis | site->post_spacing.basis, "");
    cy_trace_number(trace, "end posts", layout->end_posts, CY_Q_NUMBER,
                    site->basis | site->end.basis, "");
    cy_trace_result(trace, layout->line_posts + layout->end_posts, CY_Q_NUMBER,
                    site->basis | site->post_spacing.basis | site->end.basis);
}

bool cy_rowplan_why(struct cy_trace *trace, const struct cy_rowplan_site *site,
                    const struct cy_sunlight *sun, double bearing_deg)
{
    struct cy_rowplan layout;
    struct cy_rowplan_ask ask = site->ask;
    ask.bearing_deg = bearing_deg;
    if (cy_rowplan_make(&layout, &ask) != CY_OK)
        return false;
    bool proposed = layout.state == CY_ROWPLAN_PROPOSED;
    if (proposed) {
        why_length(trace, site, &layout, bearing_deg);
        why_counts(trace, site, &layout);
        cy_sunlight_why_proposed(trace, sun, site->hedge_m, site->hedge_basis, &site->spacing,
                                 bearing_deg);
    }
    cy_rowplan_dispose(&layout);
    return proposed;
}

bool cy_rowplan_why_fall(struct cy_trace *trace, const struct cy_rowplan_site *site,
                         double bearing_deg)
{
    double fall = cy_rowplan_fall_deg(site->slope.number, site->aspect.number, bearing_deg);
    if (isnan(fall))
        return false;
    cy_trace_begin(
        trace, "fall of the ground along the rows",
        "atan(tan(slope) x |cos(bearing - aspect)|); under 10 degrees is asked for, over "
        "12 to 15 it is a problem for equipment",
        "geometry; Univ. of Kentucky, Growing Brambles in Kentucky; NC State, Site "
        "Selection");
    cy_why_value(trace, "slope", &site->slope, CY_Q_ANGLE);
    cy_why_value(trace, "the way it faces", &site->aspect, CY_Q_ANGLE);
    cy_trace_number(trace, "bearing", bearing_deg, CY_Q_ANGLE, site->bearing.basis, "");
    cy_trace_result(trace, fall, CY_Q_ANGLE, site->slope.basis | site->aspect.basis);
    return true;
}
