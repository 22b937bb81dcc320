/* SPDX-License-Identifier: MIT
 * As JSON: rows proposed for the field, every bearing compared. */
#include "words/json_words.h"
#include "words/words.h"

static void rows_json(struct cy_json *json, const struct cy_rowplan *layout)
{
    cy_put_array(json, "rows");
    for (size_t i = 0; i < layout->row_count; i++) {
        const struct cy_rowplan_row *row = &layout->rows[i];
        cy_json_object(json);
        cy_put_number(json, "x_m", row->from.x_m);
        cy_put_number(json, "y_m", row->from.y_m);
        cy_put_number(json, "length_m", row->length_m);
        cy_put_number(json, "plants", row->plants);
        cy_put_number(json, "line_posts", row->line_posts);
        cy_put_number(json, "end_posts", row->end_posts);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
}

static int choices_json(struct cy_json *json, const struct cy_rowplan_site *site,
                        const struct cy_sunlight *sun)
{
    int status = CY_OK;
    cy_put_array(json, "bearings");
    for (int i = 0; status == CY_OK && i < CY_ROWPLAN_BEARINGS; i++) {
        struct cy_rowplan_choice choice = {0};
        status = cy_rowplan_choose(&choice, site, sun, i * CY_ROWPLAN_TURN_DEG);
        cy_json_object(json);
        cy_put_number(json, "bearing_deg", choice.bearing_deg);
        cy_put_number(json, "rows", (double)choice.rows);
        cy_put_number(json, "length_m", choice.length_m);
        cy_put_number(json, "plants", choice.plants);
        cy_put_number(json, "posts", choice.posts);
        cy_put_number(json, "sun_hours", choice.sun_h);
        cy_put_number(json, "fall_along_deg", choice.fall_deg);
        cy_json_end_object(json);
    }
    cy_json_end_array(json);
    return status;
}

static int proposal_json(struct cy_json *json, struct cy_steps *steps,
                         const struct cy_rowplan_site *site, const struct cy_sunlight *sun,
                         const struct cy_rowplan *layout)
{
    struct cy_trace trace = {0};
    cy_put_number(json, "bearing_deg", site->bearing.number);
    cy_put_number(json, "area_m2", layout->area_m2);
    cy_put_number(json, "length_m", layout->length_m);
    cy_put_number(json, "plants", layout->plants);
    cy_put_number(json, "line_posts", layout->line_posts);
    cy_put_number(json, "end_posts", layout->end_posts);
    rows_json(json, layout);
    int status = choices_json(json, site, sun);
    cy_put_basis(json, site->basis | site->plant_spacing.basis | site->post_spacing.basis |
                           site->end.basis);
    cy_rowplan_why(&trace, site, sun, site->bearing.number);
    cy_put_why(json, steps, &trace);
    return status;
}

void cy_rowplan_json(struct cy_json *json, struct cy_steps *steps, const struct cy_plan *plan,
                     const struct cy_sunlight *sun)
{
    static const char *const states[] = {[CY_ROWPLAN_PROPOSED] = "proposed",
                                         [CY_ROWPLAN_NO_OUTLINE] = "no outline",
                                         [CY_ROWPLAN_CROSSES] = "the outline crosses itself",
                                         [CY_ROWPLAN_NO_AREA] = "the outline has no area"};
    struct cy_rowplan_site site = {0};
    struct cy_rowplan layout = {0};
    int status = cy_rowplan_site_of(&site, &plan->farm);
    if (status == CY_OK)
        status = cy_rowplan_make(&layout, &site.ask);
    cy_json_object(json);
    cy_put_text(json, "state", states[layout.state]);
    if (status == CY_OK && layout.state == CY_ROWPLAN_PROPOSED)
        status = proposal_json(json, steps, &site, sun, &layout);
    cy_json_end_object(json);
    json->text->failed = json->text->failed || status != CY_OK;
    cy_rowplan_dispose(&layout);
    cy_rowplan_site_dispose(&site);
}
