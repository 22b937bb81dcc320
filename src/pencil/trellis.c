/* SPDX-License-Identifier: MIT
 * Calculations of the trellis: wires, wind, posts. */
#include "inside.h"

#include <string.h>

#include <caneyear/base/text.h>
#include <caneyear/trellis/embed.h>
#include <caneyear/trellis/post.h>
#include <caneyear/trellis/wind.h>
#include <caneyear/trellis/wire.h>

#define SUBJECT "Trellis"

/* ---- wire ----------------------------------------------------------------------------------- */

#define GAUGE(otherwise, text) MAY("gauge", NUMBER, 1, 40, otherwise, text)

static const struct cy_pencil_argument sag_arguments[] = {
    NEED("span", METRE, 0.01, 2000, "from post to post"),
    NEED("load", N_M, 0, 100000, "added to the wire's own weight"),
    NEED("tension", NEWTON, 0.001, 1e7, "horizontal"),
    GAUGE(NULL, "steel wire gauge, for its weight (a wire without weight)"),
};

static int run_sag(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                   const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    struct cy_wire wire = {0};
    if (cy_pencil__given(in, "gauge") &&
        cy_wire_of_gauge(&wire, cy_pencil__number(in, "gauge"), &bad))
        return cy_pencil__refused(in, issues, &bad);
    struct cy_wire_sag_input given = {
        .span_m = cy_pencil__number(in, "span"),
        .own_n_m = wire.weight_n_m,
        .load_n_m = cy_pencil__number(in, "load"),
        .tension_n = cy_pencil__number(in, "tension"),
    };
    struct cy_wire_sag_result sag;
    if (cy_wire_sag(&sag, &given, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = sag.sag_m;
    cy_pencil__also(out, "max_tension", sag.max_tension_n, CY_PENCIL_NEWTON);
    cy_pencil__also(out, "length", sag.length_m, CY_PENCIL_METRE);
    if (sag.sag_ratio > 0.1)
        cy_pencil__note(out, "the sag is more than a tenth of the span: the parabola no longer "
                             "holds");
    return CY_OK;
}

static const struct cy_pencil_argument tension_arguments[] = {
    NEED("span", METRE, 0.01, 2000, "from post to post"),
    MAY("spans", NUMBER, 1, 10000, "1", "equal bays through which the wire slides"),
    GAUGE(NULL, "steel wire gauge, or else `area`"),
    MAY("area", SECTION, 1e-8, 1e-2, NULL, "of the wire's section"),
    MAY("modulus", STRESS, 1e6, 1e13, NULL, "of elasticity (steel, 29e6 psi)"),
    MAY("expansion", NUMBER, 0, 1e-3, NULL, "by heat, 1/K (steel, 6.5e-6 /F)"),
    MAY("weight", N_M, 0, 100000, NULL, "of the wire (the wire's own, as steel)"),
    NEED("tension", NEWTON, 0.001, 1e7, "horizontal, now"),
    MAY("load", N_M, 0, 100000, "0", "now, added to the wire's own weight"),
    MAY("new_load", N_M, 0, 100000, NULL, "then, added to the wire's own weight (as now)"),
    MAY("rise", RISE, -200, 200, "0", "of temperature, warmer positive"),
    MAY("end_lean", METRE, -10, 10, "0", "of both ends together, inward positive"),
    MAY("take_up", METRE, -10, 10, "0", "wire wound in"),
    MAY("spring", N_M, 0, 1e9, NULL, "stiffness of a spring in line (none)"),
    MAY("strength", STRESS, 1e6, 1e10, NULL, "breaking stress, or else `grade`"),
    {.name = "grade", .help = "140, 170, 180, 200 or low-carbon", .kind = CY_PENCIL_TEXT},
};

static int read_wire(struct cy_wire *wire, const struct cy_pencil_inputs *in,
                     struct cy_issues *issues)
{
    struct cy_trellis_domain bad;
    bool by_gauge = cy_pencil__given(in, "gauge");
    if (by_gauge && cy_pencil__given(in, "area"))
        return cy_pencil__clash(in, issues, "gauge", "both a gauge and an area",
                                "gauge= or area=, one of the two");
    if (!by_gauge && !cy_pencil__given(in, "area"))
        return cy_pencil__missing(in, issues, "gauge", "gauge= or area=, one of the two");
    if (by_gauge ? cy_wire_of_gauge(wire, cy_pencil__number(in, "gauge"), &bad)
                 : cy_wire_of_area(wire, cy_pencil__number(in, "area"), &bad))
        return cy_pencil__refused(in, issues, &bad);
    if (cy_pencil__given(in, "modulus"))
        wire->modulus_pa = cy_pencil__number(in, "modulus");
    if (cy_pencil__given(in, "expansion"))
        wire->expansion_per_k = cy_pencil__number(in, "expansion");
    if (cy_pencil__given(in, "weight"))
        wire->weight_n_m = cy_pencil__number(in, "weight");
    return CY_OK;
}

/* 0 where neither a strength nor a grade is given. */
static int read_strength(double *strength_pa, const struct cy_pencil_inputs *in,
                         struct cy_issues *issues)
{
    const struct cy_pencil_value *named = cy_pencil__value(in, "grade");
    *strength_pa = cy_pencil__given(in, "strength") ? cy_pencil__number(in, "strength") : 0;
    if (!named->given)
        return CY_OK;
    if (*strength_pa > 0)
        return cy_pencil__clash(in, issues, "grade", "both a strength and a grade",
                                "strength= or grade=, one of the two");
    const struct cy_grade *grade = cy_grade_find(named->text);
    if (!grade)
        return cy_pencil__wrong(in, issues, "grade", "140, 170, 180, 200, low-carbon");
    *strength_pa = grade->strength_pa;
    return CY_OK;
}

/* Ends and ratchet within a tenth of the row: the equation is that of small sag and of elastic
 * wire, which yields long before. */
static int small_movement(const struct cy_pencil_inputs *in, double row_m, struct cy_issues *issues)
{
    static const char *const names[] = {"end_lean", "take_up"};
    for (size_t i = 0; i < COUNT_OF(names); i++) {
        struct cy_text allowed = {0};
        if (fabs(cy_pencil__number(in, names[i])) <= row_m / 10)
            continue;
        cy_text_add_number(&allowed, -row_m / 10);
        cy_text_add(&allowed, " to ");
        cy_text_add_number(&allowed, row_m / 10);
        cy_text_add(&allowed, " m, a tenth of the row");
        cy_pencil__wrong(in, issues, names[i], cy_text_get(&allowed));
        cy_text_dispose(&allowed);
        return CY_INVALID;
    }
    return CY_OK;
}

static int run_tension(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                       const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    struct cy_wire_change_input change = {
        .span_m = cy_pencil__number(in, "span"),
        .spans = cy_pencil__number(in, "spans"),
        .tension_n = cy_pencil__number(in, "tension"),
        .load_n_m = cy_pencil__number(in, "load"),
        .rise_k = cy_pencil__number(in, "rise"),
        .end_lean_m = cy_pencil__number(in, "end_lean"),
        .take_up_m = cy_pencil__number(in, "take_up"),
        .spring_n_m = cy_pencil__given(in, "spring") ? cy_pencil__number(in, "spring") : 0,
    };
    struct cy_wire_change_result result;
    change.new_load_n_m =
        cy_pencil__given(in, "new_load") ? cy_pencil__number(in, "new_load") : change.load_n_m;
    int status = read_wire(&change.wire, in, issues);
    if (status == CY_OK)
        status = read_strength(&change.strength_pa, in, issues);
    if (status == CY_OK)
        status = small_movement(in, change.span_m * change.spans, issues);
    if (status)
        return status;
    if (cy_wire_change(&result, &change, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.tension_n;
    cy_pencil__also(out, "sag", result.sag_m, CY_PENCIL_METRE);
    cy_pencil__also(out, "stress", result.stress_pa, CY_PENCIL_STRESS);
    if (change.strength_pa > 0)
        cy_pencil__also(out, "share_of_strength", result.share_of_strength, CY_PENCIL_SHARE);
    if (result.slack)
        cy_pencil__note(out, "the wire hangs slack");
    else if (change.strength_pa > 0 && result.share_of_strength > 1)
        cy_pencil__note(out, "more than the wire can bear: it would break before");
    else if (result.sag_m > change.span_m / 10)
        cy_pencil__note(out, "the sag is more than a tenth of the span: the equation no longer "
                             "holds");
    return CY_OK;
}

/* ---- wind ----------------------------------------------------------------------------------- */

static const struct cy_pencil_argument wind_arguments[] = {
    NEED("speed", M_S, 0, 150, "3-second gust, service level"),
    NEED_CHOICE("exposure", "B, C, D", "houses or woods; open country; flat ground or water"),
    NEED("height", METRE, 0, 150, "above ground"),
    MAY("kd", NUMBER, 0.1, 2, "0.85", "directionality"),
    MAY("kzt", NUMBER, 0.5, 5, "1", "topography, more on ridges"),
};

static int run_wind(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    struct cy_wind_input wind = {
        .speed_m_s = cy_pencil__number(in, "speed"),
        .exposure = (enum cy_exposure)cy_pencil__choice(in, "exposure"),
        .height_m = cy_pencil__number(in, "height"),
        .kd = cy_pencil__number(in, "kd"),
        .kzt = cy_pencil__number(in, "kzt"),
    };
    struct cy_wind_result result;
    if (cy_wind_pressure(&result, &wind, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.pressure_pa;
    cy_pencil__also(out, "kz", result.kz, CY_PENCIL_NUMBER);
    return CY_OK;
}

/* ---- posts ---------------------------------------------------------------------------------- */

static const struct cy_pencil_argument bending_arguments[] = {
    MAY("moment", NEWTON_METRE, 0, 1e7, NULL, "at grade, or else `force` and `arm`"),
    MAY("force", NEWTON, 0, 1e6, NULL, "horizontal"),
    MAY("arm", METRE, 0, 30, NULL, "of the force, to grade"),
    {.name = "section",
     .help = "4x4, 6x6, 2x4, round:4in, square:90mm, pipe:2in, tee:1.25 or tee:1.33",
     .kind = CY_PENCIL_TEXT,
     .required = true},
    MAY("duration", NUMBER, 0.5, 2, "1.6", "load duration factor, wood only: 1.6 for wind"),
    MAY("strength", STRESS, 1e3, 1e10, NULL, "bending value of wood (1100 psi), yield of steel"),
};

static int run_bending(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                       const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    bool force = cy_pencil__given(in, "force");
    struct cy_bending_input bending = {
        .moment_nm = force ? 0 : cy_pencil__number(in, "moment"),
        .force_n = force ? cy_pencil__number(in, "force") : 0,
        .arm_m = force ? cy_pencil__number(in, "arm") : 0,
        .duration = cy_pencil__number(in, "duration"),
        .strength_pa = cy_pencil__given(in, "strength") ? cy_pencil__number(in, "strength") : 0,
    };
    struct cy_bending_result result;
    const char *section = cy_pencil__value(in, "section")->text;
    if (force && cy_pencil__given(in, "moment"))
        return cy_pencil__clash(in, issues, "moment", "both a moment and a force",
                                "moment=, or force= with arm=");
    if (!force && !cy_pencil__given(in, "moment"))
        return cy_pencil__missing(in, issues, "moment", "moment=, or force= with arm=");
    if (force != cy_pencil__given(in, "arm"))
        return cy_pencil__missing(in, issues, force ? "arm" : "force", "force= with arm=");
    if (cy_section_parse(&bending.section, section, strlen(section), &bad) ||
        cy_post_bending(&result, &bending, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.ratio;
    cy_pencil__also(out, "stress", result.stress_pa, CY_PENCIL_STRESS);
    cy_pencil__also(out, "allowable", result.allowable_pa, CY_PENCIL_STRESS);
    cy_pencil__note(out, bending.strength_pa > 0 ? "" : bending.section.source);
    return CY_OK;
}

#define SOIL                                                                                       \
    MAY_WHOLE("soil", 2, 5, NULL, "class of the building code, or else `bearing`"),                \
        MAY("bearing", PA_M, 100, 1e6, NULL, "allowable lateral pressure for a metre of depth"),   \
        MAY_CHOICE("isolated", "no, yes", "no", "half an inch of movement does no harm: doubles")

static const struct cy_pencil_argument depth_arguments[] = {
    NEED("load", NEWTON, 0, 1e6, "lateral"),
    NEED("height", METRE, 0, 30, "of the load above grade"),
    NEED("width", SIZE, 0.01, 3, "diameter, or the diagonal of a square post"),
    SOIL,
    MAY_CHOICE("constrained", "no, yes", "no", "by a rigid surface at grade"),
};

static const struct cy_pencil_argument hold_arguments[] = {
    NEED("depth", METRE, 0.05, 10, "in the ground"),
    NEED("height", METRE, 0, 30, "of the load above grade"),
    NEED("width", SIZE, 0.01, 3, "diameter, or the diagonal of a square post"),
    SOIL,
};

static int read_bearing(double *pa_m, const struct cy_pencil_inputs *in, struct cy_issues *issues)
{
    bool soil = cy_pencil__given(in, "soil"), bearing = cy_pencil__given(in, "bearing");
    if (soil && bearing)
        return cy_pencil__clash(in, issues, "soil", "both a soil and a bearing",
                                "soil=2 to 5 or bearing=, one of the two");
    if (!soil && !bearing)
        return cy_pencil__missing(in, issues, "soil", "soil=2 to 5 or bearing=, one of the two");
    *pa_m = cy_pencil__given(in, "soil")
                ? cy_soil_find((int)cy_pencil__number(in, "soil"))->lateral_pa_m
                : cy_pencil__number(in, "bearing");
    return CY_OK;
}

static int run_depth(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                     const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    struct cy_depth_input post = {
        .load_n = cy_pencil__number(in, "load"),
        .height_m = cy_pencil__number(in, "height"),
        .width_m = cy_pencil__number(in, "width"),
        .isolated = cy_pencil__choice(in, "isolated"),
        .constrained = cy_pencil__choice(in, "constrained"),
    };
    struct cy_depth_result result;
    int status = read_bearing(&post.bearing_pa_m, in, issues);
    if (status)
        return status;
    if (cy_post_depth(&result, &post, &bad))
        return cy_pencil__refused(in, issues, &bad);
    out->value = result.depth_m;
    cy_pencil__also(out, "a", result.a_m, CY_PENCIL_METRE);
    cy_pencil__also(out, "s1", result.s1_pa, CY_PENCIL_PASCAL);
    return CY_OK;
}

static int run_hold(struct cy_pencil_result *out, const struct cy_pencil_inputs *in,
                    const struct cy_pencil_series *series, struct cy_issues *issues)
{
    (void)series;
    struct cy_trellis_domain bad;
    struct cy_hold_input post = {
        .depth_m = cy_pencil__number(in, "depth"),
        .height_m = cy_pencil__number(in, "height"),
        .width_m = cy_pencil__number(in, "width"),
        .isolated = cy_pencil__choice(in, "isolated"),
    };
    int status = read_bearing(&post.bearing_pa_m, in, issues);
    if (status)
        return status;
    if (cy_post_hold(&out->value, &post, &bad))
        return cy_pencil__refused(in, issues, &bad);
    return CY_OK;
}

/* ---- the table ------------------------------------------------------------------------------ */

#define CHECKED                                                                                    \
    "for planning a garden-scale row: people, traffic, slopes, netting or shade cloth ask for an " \
    "engineer"

static const struct cy_pencil_calculation calculations[] = {
    {.name = "wire-sag",
     .subject = SUBJECT,
     .what = "how far a wire sags between posts",
     TAKES(sag_arguments),
     .unit = CY_PENCIL_METRE,
     .formula = "w span^2/(8 tension); max_tension = sqrt(tension^2 + (w span/2)^2), w own weight "
                "and load together; length of the parabola's arc",
     .source = "statics of the parabola; steel wire gauge (Washburn and Moen)",
     .range = "level posts, sag to a tenth of the span",
     .caution = "stand clear of the line of a tensioned wire and wear safety glasses",
     .run = run_sag},
    {.name = "wire-tension",
     .subject = SUBJECT,
     .what = "a wire's tension after a change of load, warmth or ends",
     TAKES(tension_arguments),
     .unit = CY_PENCIL_NEWTON,
     .formula = "L ((T2 - T1)/EA + alpha rise) + (T2 - T1)/spring - take_up = (w2^2/T2^2 - "
                "w1^2/T1^2) spans span^3/24 - end_lean, L = spans span",
     .source = "the overhead-line equation of state (from memory), with ends, spring and take-up "
               "added here",
     .range = "elastic wire that slides through its staples, small sag, no creep",
     .caution = "stand clear of the line of a tensioned wire; a broken one recoils with all that "
                "is stored in it",
     .run = run_tension},
    {.name = "wind-pressure",
     .subject = SUBJECT,
     .what = "velocity pressure of a gust",
     TAKES(wind_arguments),
     .unit = CY_PENCIL_PASCAL,
     .formula = "0.613 kz kzt kd speed^2; kz = 2.01 (max(height, 15 ft)/zg)^(2/a)",
     .source = "ASCE 7, section 26.10; kd 0.85 for open structures from memory",
     .range = "a gust at service level: map speeds since 2010 are at strength level",
     .caution = CHECKED,
     .run = run_wind},
    {.name = "post-bending",
     .subject = SUBJECT,
     .what = "bending of a post at grade, demand over what is allowed",
     TAKES(bending_arguments),
     .counted = "demand over allowable",
     .formula = "(moment or force arm)/section modulus, over strength duration (wood) or "
                "strength/1.67 (steel)",
     .source = "NDS: southern pine No. 2, load duration (from memory); AISC 360 F1; pipe: Mott, "
               "Machine Elements in Mechanical Design, table A16-6",
     .range = "a cantilever held at grade; no form factor for round wood",
     .caution = "ungraded posts, timbers of 5 in and the studded tee's modulus are placeholders; "
                "the greatest moment lies a little below grade",
     .run = run_bending},
    {.name = "post-depth",
     .subject = SUBJECT,
     .what = "how deep a post must stand for a lateral load",
     TAKES(depth_arguments),
     .unit = CY_PENCIL_METRE,
     .formula = "0.5 a (1 + sqrt(1 + 4.36 height/a)), a = 2.34 load/(s1 width), s1 the pressure "
                "allowed at a third of the depth; constrained: sqrt(4.25 load height/(s3 width))",
     .source = "IBC 1807.3.2, equations 18-1 to 18-3; soil: table 1806.2 of 2012",
     .range = "pressure grows no further below 12 ft; class 1 is rock, where no post is driven",
     .caution = "customary trellis posts stand shallower than this: their depth is practice, not "
                "calculation",
     .run = run_depth},
    {.name = "post-load",
     .subject = SUBJECT,
     .what = "the lateral load that a depth holds",
     TAKES(hold_arguments),
     .unit = CY_PENCIL_NEWTON,
     .formula = "post-depth read backwards: bearing width depth^3/(7.02 (depth + 1.09 height)) to "
                "12 ft",
     .source = "IBC 1807.3.2.1, equation 18-1",
     .range = "not constrained at grade",
     .caution = CHECKED,
     .run = run_hold},
};

const struct cy_pencil__subject cy_pencil__trellis = {calculations, COUNT_OF(calculations)};
