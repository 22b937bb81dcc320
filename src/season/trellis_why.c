/* SPDX-License-Identifier: MIT
 * Why a figure of a trellis is what it is: inputs, formulas, sources. */
#include "season/trellis_parts.h"

#include <math.h>

#define COMBINED                                                                                   \
    "ASCE 7-16 section 2.4.1, allowable stress design, from memory; a gust as typed is one to be " \
    "met in service, so it takes the factor 1 where a strength-level map speed takes 0.6"

static cy_basis result_basis(cy_basis basis)
{
    return basis ? basis : CY_BASIS_PLACEHOLDER;
}

/* ---- loads ------------------------------------------------------------------------------------
 */

static void why_weight(struct cy_trace *trace, const struct cy_trellis_frame *frame,
                       const struct cy_trellis_load *load, enum cy_trellis_case in)
{
    cy_trace_begin(
        trace, "weight of canes and fruit on the wires, per length of row",
        "wet canes and leaves, 1.5 lb/ft of erect and 3 of other canes (half of it bare) "
        "x 1.15 for rain, + half of the season's crop, which hangs at once; of that the "
        "share that leans on wires",
        "no table of canopy weights was found");
    if (in == CY_CASE_FRUIT || in == CY_CASE_FRUIT_WIND)
        cy_why_trait(trace, "crop of the season", &frame->crop_kg_m, CY_Q_MASS_PER_LENGTH);
    cy_trace_number(trace, "share that leans on wires, by habit", cy_trellis_leaning(frame),
                    CY_Q_SHARE, CY_BASIS_PLACEHOLDER, "");
    cy_trace_result(trace, load->weight_n_m, CY_Q_FORCE_PER_LENGTH, result_basis(load->basis));
}

static void why_wind(struct cy_trace *trace, const struct cy_trellis_frame *frame,
                     const struct cy_trellis_load *load)
{
    double low, high;
    cy_trellis_canopy(&low, &high, frame);
    cy_trace_begin(
        trace,
        load->along_n > 0 ? "wind along the row, on one end"
                          : "wind across the row, per length of it",
        "0.00256 Kz Kzt Kd V^2 (psf, mph) x G x Cd x area of the canes; below 15 ft Kz "
        "does not change with height; no shelter by other rows is counted; drag is held "
        "at what was measured in light wind, and leaves streamline in a storm",
        "ASCE 7, velocity pressure; drag: Gonzales and others, Trans. ASABE 61(2), 2018, "
        "of a tree hedge: no blackberry canopy has been measured");
    cy_why_trait(trace, "gust", &frame->gust_m_s, CY_Q_SPEED);
    cy_trace_text(trace, "exposure", cy_exposure_word((enum cy_exposure)frame->exposure),
                  frame->exposure_basis, "");
    cy_trace_number(trace, "Kd", CY_WIND_KD, CY_Q_NUMBER, CY_BASIS_MEMORY, "ASCE 7");
    cy_trace_number(trace, "G", CY_WIND_GUST, CY_Q_NUMBER, CY_BASIS_PUBLISHED,
                    "coursework note on ASCE 7, rigid structures");
    cy_trace_number(trace, "canes from", low, CY_Q_LENGTH, CY_BASIS_PLACEHOLDER, "");
    cy_trace_number(trace, "canes to", high, CY_Q_LENGTH, CY_BASIS_PLACEHOLDER,
                    "the higher of the top wire and the tipping height");
    if (load->along_n > 0)
        cy_trace_result(trace, load->along_n, CY_Q_FORCE, result_basis(load->basis));
    else
        cy_trace_result(trace, load->wind_n_m, CY_Q_FORCE_PER_LENGTH, result_basis(load->basis));
}

static void why_loads(struct cy_trace *trace, const struct cy_trellis_frame *frame,
                      enum cy_trellis_case in)
{
    struct cy_trellis_load load;
    if (!cy_trellis_load_of(&load, frame, in))
        return;
    if (load.weight_n_m > 0)
        why_weight(trace, frame, &load, in);
    if (load.wind_n_m > 0 || load.along_n > 0)
        why_wind(trace, frame, &load);
}

/* ---- wires ------------------------------------------------------------------------------------
 */

static void wire_inputs(struct cy_trace *trace, const struct cy_trellis_frame *frame, int wire)
{
    const struct cy_trellis_frame_wire *one = &frame->wires[wire];
    cy_why_trait(trace, "tension as set", &one->tension_n, CY_Q_FORCE);
    cy_why_trait(trace, "temperature when it was set", &one->set_at_c, CY_Q_TEMPERATURE);
    if (one->kind == CY_WIRE_POLYMER) {
        cy_why_trait(trace, "diameter of the line", &one->diameter_m, CY_Q_SIZE);
        cy_why_trait(trace, "its modulus", &one->modulus_pa, CY_Q_PRESSURE);
        cy_why_trait(trace, "its expansion, millionths per C", &one->expansion_ppm, CY_Q_NUMBER);
    } else {
        cy_why_trait(trace, "gauge", &one->gauge, CY_Q_NUMBER);
    }
    cy_trace_number(trace, "bay", cy_trellis_bay_m(frame), CY_Q_LENGTH, frame->spacing_m.basis,
                    frame->spacing_m.source);
    cy_why_trait(trace, "length of the row", &frame->length_m, CY_Q_LENGTH);
    cy_why_trait(trace, "end lean, both ends together", &frame->lean_m, CY_Q_SIZE);
}

static void why_change(struct cy_trace *trace, const struct cy_trellis_frame *frame, int wire,
                       enum cy_trellis_case in, double tension_n, cy_basis basis)
{
    struct cy_trellis_load load;
    cy_trace_begin(trace, "horizontal tension of the wire",
                   "Lr [(T2 - T1)/EA + alpha dt] = (w2^2/T2^2 - w1^2/T1^2) Lr L^2/24 - end lean: "
                   "stretch and warmth together, one positive root",
                   "change of state of overhead lines, from memory, with the ends' movement added "
                   "here; steel: E 29e6 psi and 6.5e-6 per F, a mechanics text's table of "
                   "materials");
    wire_inputs(trace, frame, wire);
    if (cy_trellis_load_of(&load, frame, in)) {
        bool loaded = load.weight_n_m > 0 || load.wind_n_m > 0;
        cy_trace_number(trace, "temperature", load.temperature_c, CY_Q_TEMPERATURE, frame->weather,
                        "");
        if (loaded)
            cy_trace_number(trace, "its share of the weight", cy_trellis_share(frame, wire, false),
                            CY_Q_SHARE, CY_BASIS_PLACEHOLDER, "");
        if (in == CY_CASE_HEAT)
            cy_trace_number(trace, "set on a day of", frame->heat_c, CY_Q_TEMPERATURE,
                            frame->weather, "hottest day of one year in ten");
        if (in == CY_CASE_ICE)
            cy_why_trait(trace, "ice all round", &frame->ice_m, CY_Q_SIZE);
    }
    cy_trace_result(trace, tension_n, CY_Q_FORCE, result_basis(basis));
}

static void why_strength(struct cy_trace *trace, const struct cy_trellis_frame *frame, int wire,
                         double capacity_n, bool everyday)
{
    struct cy_trellis_metal metal;
    if (cy_trellis_metal_of(&metal, &frame->wires[wire]) != CY_REFUSED_NOT)
        return;
    cy_trace_begin(trace, "what is allowed",
                   everyday ? "a quarter of the breaking load from day to day"
                            : "half of the breaking load when loaded and coldest, of low-carbon "
                              "wire at most 0.6 of yield",
                   "shares after the limits of overhead lines in a power-engineering handbook: "
                   "ours");
    cy_trace_number(trace,
                    isnan(frame->wires[wire].breaks_n.value) ? "breaking load, strength x area"
                                                             : "breaking load",
                    metal.strength_n, CY_Q_FORCE, metal.basis & ~(unsigned)CY_BASIS_PLACEHOLDER,
                    metal.source);
    cy_trace_result(trace, capacity_n, CY_Q_FORCE, metal.basis);
}

static bool why_wire(struct cy_trace *trace, const struct cy_plan *plan,
                     const struct cy_trellis_verdict *verdict, const struct cy_trellis_frame *frame,
                     int index)
{
    if (index < 0 || index >= verdict->wire_count)
        return false;
    const struct cy_trellis_wire *wire = &verdict->wires[index];
    if (wire->refusal)
        return false;
    cy_trace_begin(trace, "the wire on the hottest day of one year in ten",
                   "the bare wire's tension at each daily mean temperature of all the weathers; it "
                   "falls as they rise, so nine days in ten by temperature are nine by tension",
                   "change of state of overhead lines, from memory, with the ends' movement added "
                   "here");
    wire_inputs(trace, frame, index);
    cy_trace_number(trace, "weathers", plan->members, CY_Q_NUMBER, frame->weather, "");
    cy_trace_number(trace, "on the coldest night of one winter in ten", wire->cold_n, CY_Q_FORCE,
                    wire->basis, "");
    cy_trace_result(trace, wire->heat_n, CY_Q_FORCE, wire->basis);
    cy_trace_begin(
        trace, "slack for a week",
        "the first day from midwinter on on which the daily mean has been above the "
        "threshold for seven days; the threshold is where its tension is the working "
        "tension",
        "the rule of seven days is ours; no wire is tightened into the winter, so the count "
        "begins at midwinter");
    cy_why_trait(trace, "working tension", &frame->wires[index].working_n, CY_Q_FORCE);
    cy_trace_number(trace, "threshold of the daily mean", wire->slack_above_c, CY_Q_TEMPERATURE,
                    wire->basis, "");
    cy_trace_number(trace, "share of years in which it never is", wire->slack.never, CY_Q_SHARE,
                    wire->slack.basis, "");
    if (isnan(wire->slack.p50)) {
        cy_trace_result_text(trace, "never", wire->slack.basis);
        return true;
    }
    char day[CY_DAY_TEXT];
    cy_trace_result_text(trace, cy_day_print(day, (cy_day)floor(wire->slack.p50 + 0.5)),
                         wire->slack.basis);
    cy_trace_begin(trace, "length to take up",
                   "Lr (T - Tnow)/EA + what comes out of the sag, at that week's mean temperature, "
                   "to the tension that was set",
                   "the same equation, for the length wound in");
    cy_trace_number(trace, "tension of that week", wire->slack_n, CY_Q_FORCE, wire->basis, "");
    cy_trace_number(trace, "mean temperature of that week", wire->slack_mean_c, CY_Q_TEMPERATURE,
                    frame->weather, "");
    cy_trace_result(trace, wire->take_up_m, CY_Q_SIZE, wire->basis);
    return true;
}

/* ---- posts ------------------------------------------------------------------------------------
 */

static void post_inputs(struct cy_trace *trace, const struct cy_trellis_frame *frame)
{
    struct cy_section section;
    if (cy_trellis_section(&section, frame)) {
        cy_trace_number(trace, "width", section.bearing_m, CY_Q_SIZE, frame->post_size_m.basis,
                        frame->post_size_m.source);
        cy_trace_number(trace, "strength", section.strength_pa, CY_Q_PRESSURE, section.basis,
                        section.source);
        cy_trace_number(trace, "stiffness", section.stiffness_pa, CY_Q_PRESSURE, section.basis,
                        section.source);
    }
    cy_trace_number(trace, "bay", cy_trellis_bay_m(frame), CY_Q_LENGTH, frame->spacing_m.basis,
                    frame->spacing_m.source);
}

static void soil_inputs(struct cy_trace *trace, const struct cy_trellis_frame *frame)
{
    const struct cy_soil_class *soil = cy_soil_find(frame->soil.number);
    cy_trace_text(trace, "soil", cy_field_info(CY_SITE_SOIL)->choices[frame->soil_texture],
                  frame->soil_known ? frame->soil.basis & (CY_BASIS_GROWER | CY_BASIS_OBSERVED)
                                    : CY_BASIS_PLACEHOLDER,
                  "");
    cy_trace_text(trace, "taken as", soil->name, frame->soil.basis,
                  "IBC 2012 table 1806.2; which class a texture falls into is ours");
    cy_trace_number(trace, "lateral pressure per depth", soil->lateral_pa_m,
                    CY_Q_PRESSURE_PER_LENGTH, CY_BASIS_PUBLISHED, "IBC 2012 table 1806.2");
}

static bool is_sideways(enum cy_trellis_check_kind kind)
{
    return kind == CY_CHECK_POST_GROUND || kind == CY_CHECK_ACROSS_GROUND ||
           kind == CY_CHECK_END_GROUND;
}

static const char *formula_of(enum cy_trellis_check_kind kind)
{
    switch (kind) {
    case CY_CHECK_POST_BENDING:
    case CY_CHECK_ACROSS_BENDING:
    case CY_CHECK_END_BENDING:
        return "moment at the ground = force x height (+ what hangs to one side); allowed: bending "
               "value x duration factor (1.6 wind, 1.15 a season, 0.9 for years) x wet factor x S; "
               "steel yield/1.67 x S";
    case CY_CHECK_POST_GROUND:
    case CY_CHECK_ACROSS_GROUND:
    case CY_CHECK_END_GROUND:
        return "allowed P = F S b d^3/(7.02 (d + 1.09 h)), the pole formula read backwards; F 2 "
               "where half an inch of movement does no harm under a short load, else 1";
    case CY_CHECK_POST_BEARING:
    case CY_CHECK_PUSH:
        return "vertical pressure allowed x area of the foot; the soil's grip on the side is left "
               "out";
    case CY_CHECK_ARM:
        return "load of one wire over a bay x half of the arm, against a 2x4 on edge";
    case CY_CHECK_RAIL:
        return "M/H, M the pulls times their heights, H the rail's height; allowed: Euler's load "
               "pi^2 E I/L^2 of a 4 in round rail, over 3";
    case CY_CHECK_DIAGONAL:
        return "M/H x sqrt(L^2 + H^2)/L; allowed: half of what two strands of 9 gauge soft wire "
               "break at";
    case CY_CHECK_STRUT:
        return "M/H x strut/foot; allowed: Euler's load of a 4 in round strut, over 3";
    case CY_CHECK_ANCHOR:
        return "(M/H)/cos(angle); allowed: what was pulled here over 2, or 9 c A of the plate over "
               "3, or the holding power of a buried log over 2";
    case CY_CHECK_UPLIFT:
        return "M/L; allowed: friction or adhesion on the post's side over 2.5, its own weight not "
               "counted";
    case CY_CHECK_OVERTURN:
        return "M against what uplift or anchor hold times their lever, over 1.5";
    default:
        return "asked / allowed, the largest over the cases";
    }
}

static const char *source_of(enum cy_trellis_check_kind kind)
{
    switch (kind) {
    case CY_CHECK_POST_BENDING:
    case CY_CHECK_ACROSS_BENDING:
    case CY_CHECK_END_BENDING:
    case CY_CHECK_ARM:
        return "NDS (values and factors from memory); AISC 360 F1, from memory; arms of 2x4: OSU "
               "EC 1303";
    case CY_CHECK_POST_GROUND:
    case CY_CHECK_ACROSS_GROUND:
    case CY_CHECK_END_GROUND:
        return "IBC section 1807.3.2.1, eq. 18-1, quoted in published worked examples; closed form "
               "worked out here; doubling: IBC 1806.3.4";
    case CY_CHECK_POST_BEARING:
    case CY_CHECK_PUSH:
        return "IBC 2012 table 1806.2";
    case CY_CHECK_RAIL:
    case CY_CHECK_STRUT:
        return "elementary statics of a pin-jointed frame; factor 3 on buckling: ours";
    case CY_CHECK_DIAGONAL:
        return "elementary statics; 9 gauge smooth wire: an extension text on wooden fence braces";
    case CY_CHECK_ANCHOR:
        return "helical anchor capacity notes, ICC-ES AC358; deadman: TM 5-5420-278-10, table 9";
    case CY_CHECK_UPLIFT:
        return "earth friction on a pile, from memory; factor 2.5: ours";
    case CY_CHECK_OVERTURN:
        return "factor 1.5: a Florida sign permit citing the state code";
    default:
        return "worked out here";
    }
}

static void end_inputs(struct cy_trace *trace, const struct cy_trellis_frame *frame,
                       enum cy_trellis_case in)
{
    struct cy_pull pulls[CY_PULLS_MAX];
    struct cy_end_input input;
    struct cy_end_result result;
    cy_why_trait(trace, "end post, width", &frame->end_size_m, CY_Q_SIZE);
    cy_why_trait(trace, "end post, depth", &frame->end_depth_m, CY_Q_LENGTH);
    cy_trace_number(trace, "height of the brace", cy_trellis_brace_m(frame), CY_Q_LENGTH,
                    isnan(frame->brace_height_m.value) ? CY_BASIS_PLACEHOLDER
                                                       : frame->brace_height_m.basis,
                    "three quarters of the top wire unless typed");
    if (frame->end == CY_ROW_END_TIE)
        cy_why_trait(trace, "tie to the ground", &frame->tie_angle_deg, CY_Q_ANGLE);
    else if (frame->end != CY_ROW_END_NONE)
        cy_why_trait(trace, "length of the brace", &frame->brace_length_m, CY_Q_LENGTH);
    if (!cy_trellis_end_input(&input, pulls, frame, in) ||
        cy_end_brace(&result, &input, NULL) != CY_OK)
        return;
    cy_trace_number(trace, "pull of all wires together, each as in this case", result.sum_n,
                    CY_Q_FORCE, CY_BASIS_PLACEHOLDER, "");
    cy_trace_number(trace, "moment of the pulls about the ground", result.moment_nm, CY_Q_MOMENT,
                    CY_BASIS_PLACEHOLDER, "");
}

static bool rests_on_cohesion(enum cy_trellis_check_kind kind)
{
    return kind == CY_CHECK_ANCHOR || kind == CY_CHECK_UPLIFT || kind == CY_CHECK_OVERTURN;
}

static bool rests_on_soil(enum cy_trellis_check_kind kind)
{
    return kind == CY_CHECK_POST_GROUND || kind == CY_CHECK_POST_BEARING ||
           kind == CY_CHECK_ACROSS_GROUND || kind == CY_CHECK_END_GROUND || kind == CY_CHECK_PUSH ||
           rests_on_cohesion(kind);
}

static void across_inputs(struct cy_trace *trace, const struct cy_trellis_frame *frame)
{
    cy_why_trait(trace, "end post, width", &frame->end_size_m, CY_Q_SIZE);
    cy_why_trait(trace, "end post, depth", &frame->end_depth_m, CY_Q_LENGTH);
    cy_trace_number(trace, "bays whose wind it takes", 0.5 * cy_trellis_walls(frame), CY_Q_NUMBER,
                    frame->spacing_m.basis, "half a bay, of each wall of canes");
}

static bool why_check(struct cy_trace *trace, const struct cy_trellis_frame *frame,
                      const struct cy_trellis_verdict *verdict, int index)
{
    if (index < 0 || index >= verdict->check_count)
        return false;
    const struct cy_trellis_check *check = &verdict->checks[index];
    if (check->refusal)
        return false;
    bool wire = check->wire >= 0, end = check->kind >= CY_CHECK_ACROSS_BENDING;
    why_loads(trace, frame, check->in);
    if (wire) {
        if (check->kind != CY_CHECK_WIRE_SET)
            why_change(trace, frame, check->wire, check->in, check->demand, check->basis);
        why_strength(trace, frame, check->wire, check->capacity, check->kind == CY_CHECK_WIRE_SET);
    }
    cy_trace_begin(trace, cy_check_what(check->kind), formula_of(check->kind),
                   source_of(check->kind));
    if (check->kind == CY_CHECK_ACROSS_BENDING || check->kind == CY_CHECK_ACROSS_GROUND)
        across_inputs(trace, frame);
    else if (end)
        end_inputs(trace, frame, check->in);
    else if (!wire)
        post_inputs(trace, frame);
    if (check->kind == CY_CHECK_POST_GROUND)
        cy_why_trait(trace, "depth", &frame->post_depth_m, CY_Q_LENGTH);
    if (rests_on_soil(check->kind))
        soil_inputs(trace, frame);
    if (is_sideways(check->kind))
        cy_trace_number(trace, "F", check->in >= CY_CASE_BARE_WIND ? 2 : 1, CY_Q_NUMBER,
                        CY_BASIS_MEMORY, "2 for a gust, 1 for a lasting load");
    if (rests_on_cohesion(check->kind) && !frame->soil.sand)
        cy_trace_number(trace, "cohesion of clay", CY_TRELLIS_COHESION_PA, CY_Q_PRESSURE,
                        CY_BASIS_PLACEHOLDER, "");
    cy_trace_text(trace, "case", cy_trellis_case_combination(check->in), CY_BASIS_MEMORY, COMBINED);
    cy_trace_number(trace, "asked", check->demand, cy_check_quantity(check->kind),
                    result_basis(check->basis), "");
    cy_trace_number(trace, "allowed", check->capacity, cy_check_quantity(check->kind),
                    result_basis(check->basis), "");
    cy_trace_result(trace, check->use, CY_Q_SHARE, result_basis(check->basis));
    return true;
}

static bool why_practice(struct cy_trace *trace, const struct cy_trellis_frame *frame,
                         const struct cy_trellis_verdict *verdict, bool deflection)
{
    const struct cy_trellis_practice *practice = &verdict->practice;
    if (isnan(practice->ratio))
        return false;
    why_loads(trace, frame, practice->in);
    cy_trace_begin(trace, deflection ? "how far the post bends" : "depth that the load needs",
                   deflection ? "P h^3/(3 E I), as if held at the ground; its give is not in it"
                              : "d^3 = k (d + 1.09 h), k = 7.02 P/(F S b)",
                   deflection ? "elementary statics"
                              : "IBC section 1807.3.2.1, eq. 18-1; closed form worked out here");
    post_inputs(trace, frame);
    soil_inputs(trace, frame);
    cy_trace_number(trace, "force on the post", practice->asks_n, CY_Q_FORCE, practice->basis, "");
    cy_trace_number(trace, "at a height of", deflection ? verdict->deflected_at_m : practice->at_m,
                    CY_Q_LENGTH, practice->basis, "");
    if (deflection) {
        cy_trace_result(trace, verdict->deflection_m, CY_Q_SIZE, practice->basis);
        return true;
    }
    cy_trace_number(trace, "allowed at this depth", practice->allows_n, CY_Q_FORCE, practice->basis,
                    "");
    cy_trace_number(trace, "allowed of a 4 in post 2 ft deep", practice->customary_n, CY_Q_FORCE,
                    practice->basis, "the practice: NC State Extension, Trellis Systems");
    if (!isnan(practice->ultimate_n))
        cy_trace_number(trace, "what the ground can take at the last, in sand",
                        practice->ultimate_n, CY_Q_FORCE, CY_BASIS_MEMORY | CY_BASIS_PLACEHOLDER,
                        "Broms 1964, short pile, free head; 110 lb/ft3, Kp 3");
    cy_trace_number(trace, "gust at which what is asked is what is allowed",
                    practice->held_gust_m_s, CY_Q_SPEED, practice->basis,
                    "gust / sqrt(asked/allowed)");
    cy_trace_result(trace, practice->need_depth_m, CY_Q_LENGTH, practice->basis);
    return true;
}

/* ---- the rest ---------------------------------------------------------------------------------
 */

static bool why_fix(struct cy_trace *trace, const struct cy_plan *plan, size_t row, int kind)
{
    struct cy_trellis_fix found, *fix = &found;
    if (kind < 0 || kind >= CY_FIX_COUNT ||
        cy_trellis_fix_of(&found, plan, row, (enum cy_fix_kind)kind) != CY_OK || !fix->applies)
        return false;
    static const enum cy_quantity quantities[] = {CY_Q_LENGTH, CY_Q_LENGTH, CY_Q_SIZE, CY_Q_LENGTH,
                                                  CY_Q_NUMBER};
    cy_trace_begin(trace, cy_fix_word(fix->kind),
                   "the smallest change of this one thing at which the governing check is at its "
                   "limit, every part judged anew; as far as the field allows",
                   "searched here");
    cy_trace_number(trace, "use of what governed, then", fix->use, CY_Q_SHARE,
                    result_basis(fix->then.basis), "");
    cy_trace_number(trace, "use of what governs then", fix->then.use, CY_Q_SHARE,
                    result_basis(fix->then.basis), cy_check_what(fix->then.kind));
    cy_trace_number(trace, "cost of what must be bought", fix->cost, CY_Q_MONEY, CY_BASIS_GROWER,
                    isnan(fix->cost) ? "known only where all its prices are the grower's" : "");
    cy_trace_result(trace, fix->value, quantities[kind], result_basis(fix->then.basis));
    return true;
}

static void why_list(struct cy_trace *trace, const struct cy_parts_list *list)
{
    cy_trace_begin(trace, "parts and their cost",
                   "line posts ceil(row/spacing) - 1; wire n (row + 2 x 4 ft) x 1.05; a staple or "
                   "clip a wire and post and 3 a wire end; a strainer a wire to 1320 ft; 2 crimps "
                   "a wire end; each at the cheapest part that is long and wide enough, the "
                   "grower's prices before shipped ones",
                   "counts: ours, but for the strainers (NRCS Maine job sheet 382A, 2008); shipped "
                   "prices are placeholders");
    for (int i = 0; i < list->count; i++)
        if (list->lines[i].part)
            cy_trace_number(
                trace, cy_thing_name(list->lines[i].part), list->lines[i].price,
                list->lines[i].by_length ? CY_Q_MONEY_PER_LENGTH : CY_Q_MONEY, list->lines[i].basis,
                cy_given(list->lines[i].part,
                         list->lines[i].by_length ? CY_PART_PRICE_LENGTH : CY_PART_PRICE)
                    .source);
    cy_trace_result(trace, list->cost, CY_Q_MONEY, result_basis(list->basis));
}

static bool why_heave(struct cy_trace *trace, const struct cy_plan *plan,
                      const struct cy_trellis_frame *frame)
{
    cy_trace_begin(trace, "frost heave",
                   "said where the coldest month's mean, of the place's normals, is below freezing",
                   "the rule is ours");
    cy_trace_number(trace, "coldest month's mean", frame->winter_c, CY_Q_TEMPERATURE,
                    plan->trellis_climate->normals, cy_thing_name(cy_farm_place(&plan->farm)));
    cy_trace_result_text(trace, frame->winter_c < CY_TRELLIS_HEAVE_C ? "to be reckoned with" : "no",
                         CY_BASIS_PLACEHOLDER);
    return true;
}

static bool why_habit(struct cy_trace *trace, const struct cy_trellis_frame *frame)
{
    cy_trace_begin(
        trace, "wires against the canes",
        "the lowest wire no higher than canes are tipped, so that they can be tied; the "
        "top wire no higher than canes grow",
        "erect: one wire at 4 to 5 ft, or 2 and 4 ft (general pages); semi-erect: double "
        "T of 4 and 6 ft, OSU EC 1303; trailing: about 3 and 5 ft (general garden page)");
    cy_why_trait(trace, "tipping height", &frame->tip_m, CY_Q_LENGTH);
    cy_why_trait(trace, "length of canes by the end of their season", &frame->cane_m, CY_Q_LENGTH);
    for (int i = 0; i < frame->wire_count; i++)
        cy_why_trait(trace, frame->wires[i].key, &frame->wires[i].height_m, CY_Q_LENGTH);
    cy_trace_result(trace, cy_trellis_top_m(frame), CY_Q_LENGTH, CY_BASIS_PLACEHOLDER);
    return true;
}

bool cy_plan_why_trellis(struct cy_trace *trace, const struct cy_plan *plan, size_t row, int item)
{
    const struct cy_trellis_verdict *verdict = cy_trellis_of(plan, row);
    struct cy_trellis_frame frame;
    if (!verdict || !cy_trellis_frame_of(&frame, plan, row))
        return false;
    if (item >= CY_TRELLIS_WHY_FIX)
        return why_fix(trace, plan, row, item - CY_TRELLIS_WHY_FIX);
    if (item < CY_TRELLIS_WHY_WIRE)
        return why_check(trace, &frame, verdict, item);
    if (item < CY_TRELLIS_WHY_PRACTICE)
        return why_wire(trace, plan, verdict, &frame, item - CY_TRELLIS_WHY_WIRE);
    struct cy_parts_list list;
    switch (item) {
    case CY_TRELLIS_WHY_PRACTICE:
    case CY_TRELLIS_WHY_DEFLECTION:
        return why_practice(trace, &frame, verdict, item == CY_TRELLIS_WHY_DEFLECTION);
    case CY_TRELLIS_WHY_HEAVE:
        return why_heave(trace, plan, &frame);
    case CY_TRELLIS_WHY_HABIT:
        return why_habit(trace, &frame);
    default:
        if (!cy_parts_of_row(&list, plan, row))
            return false;
        why_list(trace, &list);
        return true;
    }
}

bool cy_plan_why_parts(struct cy_trace *trace, const struct cy_plan *plan)
{
    struct cy_parts_list list;
    cy_parts_of_farm(&list, plan);
    why_list(trace, &list);
    return list.count > 0;
}
