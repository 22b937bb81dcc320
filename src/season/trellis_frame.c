/* SPDX-License-Identifier: MIT
 * A row's trellis as plain numbers: from the farm's things, its plan and its weathers. */
#include "season/trellis_parts.h"

#include <math.h>

/* "May exceed 6000 lb/acre": UF/IFAS HS807, The Blackberry; for cultivars without a yield. */
#define USUAL_YIELD_KG_M2 (6000 * 0.45359237 / 4046.8564224)
#define USUAL_YIELD_SOURCE "UF/IFAS HS807: may exceed 6000 lb/acre; none is known of the cultivar"

static struct cy_trait trait_of(const struct cy_thing *thing, enum cy_field field)
{
    struct cy_given given = cy_given(thing, field);
    return (struct cy_trait){given.number, given.known ? given.basis : CY_BASIS_NONE, given.source};
}

/* IBC table 1806.2 sorts by the unified classes; which of them a texture of the farm's list falls
 * into is ours. */
static struct cy_trellis_soil soil_of(int texture, cy_basis basis)
{
    static const struct {
        int number;
        bool sand;
    } classes[] = {
        [CY_SOIL_SAND] = {4, true},       [CY_SOIL_LOAMY_SAND] = {4, true},
        [CY_SOIL_SANDY_LOAM] = {4, true}, [CY_SOIL_LOAM] = {5, false},
        [CY_SOIL_SILT_LOAM] = {5, false}, [CY_SOIL_SILT] = {5, false},
        [CY_SOIL_CLAY_LOAM] = {5, false}, [CY_SOIL_SILTY_CLAY] = {5, false},
        [CY_SOIL_CLAY] = {5, false},      [CY_SOIL_GRAVEL] = {3, true},
    };
    return (struct cy_trellis_soil){classes[texture].number, classes[texture].sand,
                                    basis | CY_BASIS_PLACEHOLDER | CY_BASIS_PUBLISHED};
}

static void take_wires(struct cy_trellis_frame *out, const struct cy_farm *farm,
                       const struct cy_thing *trellis)
{
    const struct cy_thing *wire = NULL;
    while ((wire = cy_farm_next(farm, CY_KIND_WIRE, trellis->id, wire))) {
        /* A wire without a height is nowhere. */
        if (out->wire_count == CY_TRELLIS_WIRES || !cy_given(wire, CY_WIRE_HEIGHT).known) {
            out->wires_left_out++;
            continue;
        }
        struct cy_trellis_frame_wire *one = &out->wires[out->wire_count];
        one->key = wire->key;
        one->kind = (enum cy_wire_kind)cy_choice(wire, CY_WIRE_KIND);
        one->height_m = trait_of(wire, CY_WIRE_HEIGHT);
        one->gauge = trait_of(wire, CY_WIRE_GAUGE);
        one->tension_n = trait_of(wire, CY_WIRE_TENSION);
        one->working_n = trait_of(wire, CY_WIRE_WORKING);
        one->set_at_c = trait_of(wire, CY_WIRE_SET_AT);
        one->breaks_n = trait_of(wire, CY_WIRE_BREAKS);
        one->diameter_m = trait_of(wire, CY_WIRE_DIAMETER);
        one->modulus_pa = trait_of(wire, CY_WIRE_MODULUS);
        one->expansion_ppm = trait_of(wire, CY_WIRE_EXPANSION);
        if (isnan(one->working_n.value))
            one->working_n = one->tension_n;
        out->wire_count++;
    }
}

static void take_trellis(struct cy_trellis_frame *out, const struct cy_thing *trellis)
{
    out->form = (enum cy_form)cy_choice(trellis, CY_TRELLIS_FORM);
    out->post = (enum cy_post_kind)cy_choice(trellis, CY_TRELLIS_POST);
    out->end = (enum cy_row_end)cy_choice(trellis, CY_TRELLIS_END);
    out->anchor = (enum cy_row_anchor)cy_choice(trellis, CY_TRELLIS_ANCHOR);
    out->spacing_m = trait_of(trellis, CY_TRELLIS_SPACING);
    out->post_size_m = trait_of(trellis, CY_TRELLIS_POST_SIZE);
    out->post_depth_m = trait_of(trellis, CY_TRELLIS_DEPTH);
    out->end_size_m = trait_of(trellis, CY_TRELLIS_END_SIZE);
    out->end_depth_m = trait_of(trellis, CY_TRELLIS_END_DEPTH);
    out->arm_m = trait_of(trellis, CY_TRELLIS_ARM);
    out->lean_m = trait_of(trellis, CY_TRELLIS_LEAN);
    out->brace_height_m = trait_of(trellis, CY_TRELLIS_BRACE_HEIGHT);
    out->brace_length_m = trait_of(trellis, CY_TRELLIS_BRACE_LENGTH);
    out->tie_angle_deg = trait_of(trellis, CY_TRELLIS_TIE_ANGLE);
    out->anchor_size_m = trait_of(trellis, CY_TRELLIS_ANCHOR_SIZE);
    out->anchor_length_m = trait_of(trellis, CY_TRELLIS_ANCHOR_LENGTH);
    out->anchor_depth_m = trait_of(trellis, CY_TRELLIS_ANCHOR_DEPTH);
    out->anchor_holds_n = trait_of(trellis, CY_TRELLIS_ANCHOR_HOLDS);
}

static void take_site(struct cy_trellis_frame *out, const struct cy_farm *farm)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    struct cy_given exposure = cy_given(site, CY_SITE_EXPOSURE);
    struct cy_given soil = cy_given(site, CY_SITE_SOIL);
    out->gust_m_s = trait_of(site, CY_SITE_GUST);
    out->ice_m = trait_of(site, CY_SITE_ICE);
    out->exposure = exposure.known ? (int)exposure.number : CY_EXPOSURE_C;
    out->exposure_basis = exposure.known ? exposure.basis : CY_BASIS_PLACEHOLDER;
    out->soil_texture = (int)soil.number;
    out->soil_known = soil.is_set;
    out->soil = soil_of(out->soil_texture, soil.basis);
}

/* The fruit that hangs on a metre of row: the larger of the season's crops in a good year; where
 * none is planned, that of a full stand. */
static struct cy_trait crop_of(const struct cy_plan_row *row, const struct cy_row_facts *facts)
{
    struct cy_trait crop = {0, CY_BASIS_NONE, ""};
    for (int i = 0; i < row->crop_count; i++) {
        const struct cy_figure *total = &row->crops[i].total_kg;
        if (total->p90 / facts->length_m > crop.value)
            crop = (struct cy_trait){total->p90 / facts->length_m, total->basis,
                                     "the season's crop, high end of 8 years in 10"};
    }
    if (crop.value > 0)
        return crop;
    struct cy_given width = cy_given(facts->row, CY_ROW_WIDTH);
    struct cy_given full = cy_given(facts->cultivar, CY_CULTIVAR_YIELD);
    if (full.known)
        return (struct cy_trait){full.number * width.number, full.basis | width.basis,
                                 "a full stand's: no crop is planned this season"};
    return (struct cy_trait){USUAL_YIELD_KG_M2 * width.number, CY_BASIS_PUBLISHED | width.basis,
                             USUAL_YIELD_SOURCE};
}

/* How long new canes get in a season, if nobody tipped them: growth over the days from emergence
 * to rest. An upper bound, since growth slows. */
static struct cy_trait canes_of(const struct cy_plan_row *row)
{
    for (int i = row->cohort_count - 1; i >= 0; i--) {
        const struct cy_plan_cohort *canes = &row->cohorts[i];
        double days = canes->stage[CY_STAGE_DORMANT].p50 - canes->stage[CY_STAGE_EMERGENCE].p50;
        if (!isnan(days * canes->growth_m_d.value))
            return (struct cy_trait){days * canes->growth_m_d.value,
                                     canes->growth_m_d.basis | CY_BASIS_PLACEHOLDER,
                                     "growth rate times the days from emergence to rest"};
    }
    return (struct cy_trait){NAN, CY_BASIS_NONE, ""};
}

static void take_row(struct cy_trellis_frame *out, const struct cy_plan *plan, size_t index)
{
    const struct cy_plan_row *row = &plan->rows[index];
    struct cy_row_facts facts;
    cy_row_facts_of(&facts, &plan->farm, cy_farm_by_id(&plan->farm, row->thing),
                    plan->latitude_deg);
    struct cy_given habit = cy_given(facts.cultivar, CY_CULTIVAR_HABIT);
    out->length_m = trait_of(facts.row, CY_ROW_LENGTH);
    out->colder_k = trait_of(facts.row, CY_ROW_COLDER);
    /* The heaviest of the three is taken where nobody knows. */
    out->habit = habit.known ? (enum cy_habit)(int)habit.number : CY_HABIT_TRAILING;
    out->habit_known = habit.known;
    out->tip_m = facts.traits.tip_height_m;
    out->crop_kg_m = crop_of(row, &facts);
    out->cane_m = canes_of(row);
    out->crop_planned = row->crop_count > 0;
}

bool cy_trellis_frame_of(struct cy_trellis_frame *out, const struct cy_plan *plan, size_t row)
{
    const struct cy_thing *thing =
        row < plan->row_count ? cy_farm_by_id(&plan->farm, plan->rows[row].thing) : NULL;
    const struct cy_thing *trellis = thing ? cy_referred(&plan->farm, thing, CY_ROW_TRELLIS) : NULL;
    if (!trellis || !plan->trellis_climate)
        return false;
    *out = (struct cy_trellis_frame){0};
    take_trellis(out, trellis);
    take_wires(out, &plan->farm, trellis);
    take_site(out, &plan->farm);
    take_row(out, plan, row);
    const struct cy_trellis_climate *climate = plan->trellis_climate;
    double colder = out->colder_k.value; /* its nights; half of that its days' means */
    out->cold_c = climate->night_c.p10 - colder;
    out->heat_c = climate->heat_c.p90 - colder / 2;
    out->summer_c = climate->summer_c - colder / 2;
    out->winter_c = climate->winter_c - colder / 2;
    out->weather = climate->basis | out->colder_k.basis;
    return true;
}
