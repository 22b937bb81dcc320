/* SPDX-License-Identifier: MIT
 * Wires of a trellis under each case of load: what hangs on them, what they are made of. */
#include "season/trellis_parts.h"

#include <math.h>

/* The canopy's foot, where bare stems are all there is: placeholder. */
#define CANOPY_FOOT_M (2 * CY_TRELLIS_FOOT_M)
/* Across the row, for the wind along it: placeholder. */
#define CANOPY_WIDE_M (3 * CY_TRELLIS_FOOT_M)
/* How much of its weight a cane of each habit leaves to the wires. Placeholders. */
static const double leaning[] = {
    [CY_HABIT_ERECT] = 0.5, [CY_HABIT_SEMI_ERECT] = 0.75, [CY_HABIT_TRAILING] = 1.0};
#define LEVEL_M 0.02 /* wires this near to one another are at one height */

/* ---- geometry ---------------------------------------------------------------------------------
 */

int cy_trellis_bays(const struct cy_trellis_frame *frame)
{
    double bays = ceil(frame->length_m.value / frame->spacing_m.value - 1e-9);
    return bays < 1 ? 1 : (int)bays;
}

double cy_trellis_bay_m(const struct cy_trellis_frame *frame)
{
    return frame->length_m.value / cy_trellis_bays(frame);
}

double cy_trellis_top_m(const struct cy_trellis_frame *frame)
{
    double top = 0;
    for (int i = 0; i < frame->wire_count; i++)
        top = fmax(top, frame->wires[i].height_m.value);
    return top;
}

void cy_trellis_canopy(double *low_m, double *high_m, const struct cy_trellis_frame *frame)
{
    *high_m = fmax(cy_trellis_top_m(frame), isnan(frame->tip_m.value) ? 0 : frame->tip_m.value);
    *low_m = fmin(CANOPY_FOOT_M, *high_m / 2);
}

/* Three quarters of the post's height: an extension text on wooden fence braces, of an H; for the
 * others ours. */
double cy_trellis_brace_m(const struct cy_trellis_frame *frame)
{
    return isnan(frame->brace_height_m.value) ? 0.75 * cy_trellis_top_m(frame)
                                              : frame->brace_height_m.value;
}

int cy_trellis_walls(const struct cy_trellis_frame *frame)
{
    return frame->form == CY_FORM_V ? 2 : 1;
}

static int wires_at(const struct cy_trellis_frame *frame, double height_m)
{
    int count = 0;
    for (int i = 0; i < frame->wire_count; i++)
        count += fabs(frame->wires[i].height_m.value - height_m) < LEVEL_M;
    return count;
}

double cy_trellis_leaning(const struct cy_trellis_frame *frame)
{
    return leaning[frame->habit];
}

/* True of the first wire at its height. */
static bool begins_level(const struct cy_trellis_frame *frame, int wire)
{
    for (int i = 0; i < wire; i++)
        if (fabs(frame->wires[i].height_m.value - frame->wires[wire].height_m.value) < LEVEL_M)
            return false;
    return true;
}

/* Of n heights the k-th from below, counted from 0, takes n + k parts: 0.4 and 0.6 of two, and
 * less each the more there are. Placeholder. */
double cy_trellis_share(const struct cy_trellis_frame *frame, int wire, bool of_wind)
{
    double height = frame->wires[wire].height_m.value;
    int levels = 0, below = 0;
    for (int i = 0; i < frame->wire_count; i++) {
        if (!begins_level(frame, i))
            continue;
        levels++;
        below += frame->wires[i].height_m.value < height - LEVEL_M;
    }
    double parts = levels * levels + levels * (levels - 1) / 2.0;
    double share = (levels + below) / parts / wires_at(frame, height);
    /* Each wall of a V has its own half of the wires, and stands in all of the wind. */
    return of_wind ? fmin(1, share * cy_trellis_walls(frame)) : share;
}

int cy_trellis_arm_levels(const struct cy_trellis_frame *frame)
{
    int levels = 0;
    for (int i = 0; frame->form == CY_FORM_T && i < frame->wire_count; i++)
        levels += begins_level(frame, i) && wires_at(frame, frame->wires[i].height_m.value) > 1;
    return levels;
}

/* ---- loads ------------------------------------------------------------------------------------
 */

static double canopy_kg_m(const struct cy_trellis_frame *frame)
{
    switch (frame->habit) {
    case CY_HABIT_ERECT:
        return CY_CANOPY_ERECT_KG_M;
    case CY_HABIT_SEMI_ERECT:
        return CY_CANOPY_SEMI_ERECT_KG_M;
    default:
        return CY_CANOPY_TRAILING_KG_M;
    }
}

/* D, and D + L where `fruit` is the part of L that counts. */
static double weight(const struct cy_trellis_frame *frame, enum cy_load_stage stage, double dead,
                     double fruit)
{
    struct cy_load canes, all;
    struct cy_load_input in = cy_load_usual(canopy_kg_m(frame), frame->crop_kg_m.value);
    if (cy_load_of(&canes, stage, &in, NULL) != CY_OK ||
        cy_load_of(&all, CY_LOAD_FRUIT, &in, NULL) != CY_OK)
        return NAN;
    struct cy_load leaf;
    cy_load_of(&leaf, CY_LOAD_LEAF, &in, NULL);
    double crop = all.weight_n_m - leaf.weight_n_m;
    return (dead * canes.weight_n_m + fruit * crop) * cy_trellis_leaning(frame);
}

static bool wind(struct cy_trellis_load *out, const struct cy_trellis_frame *frame, bool bare,
                 double part, bool along)
{
    struct cy_wind_result pressure;
    struct cy_canopy_result canopy;
    double low, high;
    if (isnan(frame->gust_m_s.value))
        return false;
    cy_trellis_canopy(&low, &high, frame);
    struct cy_wind_input air = {frame->gust_m_s.value, (enum cy_exposure)frame->exposure, high,
                                CY_WIND_KD, CY_WIND_KZT};
    if (cy_wind_pressure(&pressure, &air, NULL) != CY_OK)
        return false;
    struct cy_canopy_input leaves = {.pressure_pa = part * pressure.pressure_pa,
                                     .porosity = bare ? CY_POROSITY_BARE : CY_POROSITY_LEAF,
                                     .canopy_m = high - low,
                                     .middle_m = (low + high) / 2,
                                     .post_spacing_m = 1,
                                     .shelter = 1};
    if (cy_wind_canopy(&canopy, &leaves, NULL) != CY_OK)
        return false;
    if (along)
        out->along_n = canopy.force_n * CANOPY_WIDE_M * cy_trellis_walls(frame);
    else
        out->wind_n_m = canopy.force_n;
    out->wire_wind_pa = along ? 0 : part * pressure.pressure_pa;
    out->brief = true;
    out->basis |= frame->gust_m_s.basis | frame->exposure_basis | CY_BASIS_MEMORY;
    return true;
}

bool cy_trellis_load_of(struct cy_trellis_load *out, const struct cy_trellis_frame *frame,
                        enum cy_trellis_case in)
{
    *out = (struct cy_trellis_load){.temperature_c = frame->summer_c,
                                    .basis = frame->weather | CY_BASIS_PLACEHOLDER};
    switch (in) {
    case CY_CASE_ICE:
        out->temperature_c = 0;
        out->ice_m = frame->ice_m.value;
        out->basis = frame->ice_m.basis | CY_BASIS_MEMORY;
        return frame->ice_m.value > 0;
    case CY_CASE_LEAF:
        out->weight_n_m = weight(frame, CY_LOAD_LEAF, 1, 0);
        return true;
    case CY_CASE_FRUIT:
        out->weight_n_m = weight(frame, CY_LOAD_LEAF, 1, 1);
        out->basis |= frame->crop_kg_m.basis;
        return true;
    case CY_CASE_BARE_WIND:
        out->temperature_c = frame->cold_c;
        out->weight_n_m = weight(frame, CY_LOAD_BARE, 1, 0);
        return wind(out, frame, true, 1, false);
    case CY_CASE_LEAF_WIND:
        out->weight_n_m = weight(frame, CY_LOAD_LEAF, 1, 0);
        return wind(out, frame, false, 1, false);
    case CY_CASE_FRUIT_WIND:
        out->weight_n_m = weight(frame, CY_LOAD_LEAF, 1, 0.75);
        out->basis |= frame->crop_kg_m.basis;
        return wind(out, frame, false, 0.75, false);
    case CY_CASE_LIGHT_WIND:
        out->weight_n_m = weight(frame, CY_LOAD_LEAF, 0.6, 0);
        return wind(out, frame, false, 1, false);
    case CY_CASE_ALONG:
        out->weight_n_m = weight(frame, CY_LOAD_LEAF, 1, 0);
        return wind(out, frame, false, 1, true);
    default:
        out->temperature_c = frame->cold_c;
        out->basis = frame->weather;
        return true;
    }
}

/* ---- wires ------------------------------------------------------------------------------------
 */

/* Of polymer line no table of strengths was found, so all is its maker's. Its weight is taken at a
 * sixth of steel's, as a Japanese grower's note of 2014 has it. */
static enum cy_trellis_refusal polymer_of(struct cy_trellis_metal *out,
                                          const struct cy_trellis_frame_wire *wire)
{
    double area_m2 = cy_wire_area(wire->diameter_m.value);
    if (isnan(wire->breaks_n.value + wire->modulus_pa.value + wire->expansion_ppm.value +
              area_m2) ||
        cy_wire_of_area(&out->wire, area_m2, NULL) != CY_OK)
        return CY_REFUSED_STRENGTH;
    out->wire.modulus_pa = wire->modulus_pa.value;
    out->wire.expansion_per_k = wire->expansion_ppm.value * 1e-6;
    out->wire.weight_n_m /= 6;
    out->diameter_m = wire->diameter_m.value;
    out->strength_n = wire->breaks_n.value;
    out->limit_n = CY_WIRE_SHARE_WARN * out->strength_n;
    out->basis = wire->breaks_n.basis | wire->modulus_pa.basis | wire->expansion_ppm.basis |
                 wire->diameter_m.basis | CY_BASIS_PLACEHOLDER;
    out->source = wire->breaks_n.source;
    return CY_REFUSED_NOT;
}

/* High-tensile wire is taken at the least strength that NRCS lets into a fence. */
enum cy_trellis_refusal cy_trellis_metal_of(struct cy_trellis_metal *out,
                                            const struct cy_trellis_frame_wire *wire)
{
    const struct cy_gauge *gauge = cy_gauge_find(wire->gauge.value);
    bool soft = wire->kind == CY_WIRE_LOW_CARBON;
    const struct cy_grade *grade = cy_grade_find(soft ? "low-carbon" : "170");
    if (wire->kind == CY_WIRE_POLYMER)
        return polymer_of(out, wire);
    if (!gauge || cy_wire_of_gauge(&out->wire, gauge->number, NULL) != CY_OK)
        return CY_REFUSED_STRENGTH;
    out->diameter_m = gauge->diameter_m;
    out->strength_n = grade->strength_pa * out->wire.area_m2;
    out->limit_n = CY_WIRE_SHARE_WARN * out->strength_n;
    if (grade->yield_pa > 0)
        out->limit_n =
            fmin(out->limit_n, CY_WIRE_SHARE_YIELD * grade->yield_pa * out->wire.area_m2);
    out->basis = grade->basis | CY_BASIS_PLACEHOLDER; /* the limit is ours */
    out->source = grade->source;
    if (!isnan(wire->breaks_n.value)) {
        out->limit_n *= wire->breaks_n.value / out->strength_n; /* its yield goes along */
        out->strength_n = wire->breaks_n.value;
        out->basis = wire->breaks_n.basis | CY_BASIS_PLACEHOLDER;
        out->source = wire->breaks_n.source;
    }
    return CY_REFUSED_NOT;
}

enum cy_trellis_refusal cy_trellis_wire_known(const struct cy_trellis_frame_wire *wire)
{
    struct cy_trellis_metal metal;
    enum cy_trellis_refusal refusal = cy_trellis_metal_of(&metal, wire);
    if (refusal)
        return refusal;
    return isnan(wire->tension_n.value) || isnan(wire->set_at_c.value) ? CY_REFUSED_TENSION
                                                                       : CY_REFUSED_NOT;
}

void cy_trellis_wire_change(struct cy_wire_change_input *out, const struct cy_trellis_frame *frame,
                            int wire, const struct cy_trellis_metal *metal,
                            const struct cy_trellis_load *load)
{
    const struct cy_trellis_frame_wire *one = &frame->wires[wire];
    double ice = cy_wire_ice_load(metal->diameter_m, load->ice_m, CY_ICE_DENSITY_KG_M3);
    double air = cy_wire_wind_load(metal->diameter_m, load->ice_m, load->wire_wind_pa);
    *out = (struct cy_wire_change_input){
        .wire = metal->wire,
        .span_m = cy_trellis_bay_m(frame),
        .spans = cy_trellis_bays(frame),
        .tension_n = one->tension_n.value,
        .new_load_n_m = ice + load->weight_n_m * cy_trellis_share(frame, wire, false),
        .new_wind_n_m = air + load->wind_n_m * cy_trellis_share(frame, wire, true),
        .rise_k = load->temperature_c - one->set_at_c.value,
        .end_lean_m = frame->lean_m.value,
        .strength_pa = metal->strength_n / metal->wire.area_m2,
    };
}

double cy_trellis_tension(double *sag_m, const struct cy_trellis_frame *frame, int wire,
                          enum cy_trellis_case in)
{
    struct cy_trellis_metal metal;
    struct cy_trellis_load load;
    struct cy_wire_change_input input;
    struct cy_wire_change_result result;
    if (cy_trellis_wire_known(&frame->wires[wire]) ||
        cy_trellis_metal_of(&metal, &frame->wires[wire]) || !cy_trellis_load_of(&load, frame, in))
        return NAN;
    if (in == CY_CASE_SET)
        return frame->wires[wire].tension_n.value;
    cy_trellis_wire_change(&input, frame, wire, &metal, &load);
    if (in == CY_CASE_HEAT) {
        input.rise_k = frame->cold_c - frame->heat_c;
        input.end_lean_m = 0; /* whoever tightens it takes the lean out */
    }
    if (cy_wire_change(&result, &input, NULL) != CY_OK)
        return NAN;
    if (sag_m)
        *sag_m = result.sag_m;
    return result.tension_n;
}
