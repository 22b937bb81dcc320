/* SPDX-License-Identifier: MIT
 * Wire mechanics: parabola, change of state of a row, a bay with a load in its middle. */
#include <caneyear/trellis/wire.h>

#include <math.h>

#include "inside.h"

/* Steel: "Appendix C - Material Properties" of a mechanics text. Weight 0.2836 lb/in3 (the same
 * table prints 0.284): from memory. */
#define STEEL_MODULUS_PA (29.0e6 * PSI_PA)
#define STEEL_EXPANSION_PER_K (6.5e-6 * 1.8)
#define STEEL_N_M3 (0.2836 * POUND_N / (INCH_M * INCH_M * INCH_M))

/* Wide enough for a power line, narrow enough that nothing overflows. */
#define SPAN_LOW_M 0.01
#define SPAN_HIGH_M 2000.0
#define TENSION_LOW_N 0.001
#define TENSION_HIGH_N 1e7
#define LOAD_HIGH_N_M 1e5

double cy_wire_area(double diameter_m)
{
    return PI / 4 * diameter_m * diameter_m;
}

int cy_wire_of_area(struct cy_wire *out, double area_m2, struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "area", CY_Q_AREA, area_m2, 1e-8, 1e-2))
        return CY_INVALID;
    *out = (struct cy_wire){.area_m2 = area_m2,
                            .modulus_pa = STEEL_MODULUS_PA,
                            .expansion_per_k = STEEL_EXPANSION_PER_K,
                            .weight_n_m = area_m2 * STEEL_N_M3};
    return CY_OK;
}

int cy_wire_of_gauge(struct cy_wire *out, double gauge, struct cy_trellis_domain *bad)
{
    const struct cy_gauge *found = cy_gauge_find(gauge);
    if (!cy_trellis__rule(bad, "gauge", found != NULL, "9, 10, 11, 12, 12.5, 13, 14"))
        return CY_INVALID;
    return cy_wire_of_area(out, cy_wire_area(found->diameter_m), bad);
}

/* Overhead-line practice: from memory; its numbers agree with the sag and tension chapter of a
 * power-engineering handbook. */
double cy_wire_ice_load(double diameter_m, double ice_m, double density_kg_m3)
{
    return PI * ice_m * (diameter_m + ice_m) * density_kg_m3 * GRAVITY_M_S2;
}

double cy_wire_wind_load(double diameter_m, double ice_m, double pressure_pa)
{
    return pressure_pa * (diameter_m + 2 * ice_m);
}

/* ---- shape ---- */

static double parabola_sag(double load_n_m, double span_m, double tension_n)
{
    return load_n_m * span_m * span_m / (8 * tension_n);
}

/* The exact arc; its series begins L (1 + 8/3 r2 - 32/5 r4), "Cable with horizontally distributed
 * load", Adaptive statics book. */
static double parabola_length(double span_m, double sag_m)
{
    double slope = 4 * sag_m / span_m; /* at the posts */
    if (slope == 0)
        return span_m;
    return span_m / 2 * (sqrt(1 + slope * slope) + asinh(slope) / slope);
}

int cy_wire_sag(struct cy_wire_sag_result *out, const struct cy_wire_sag_input *in,
                struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "span", CY_Q_LENGTH, in->span_m, SPAN_LOW_M, SPAN_HIGH_M) ||
        !cy_trellis__within(bad, "weight", CY_Q_FORCE_PER_LENGTH, in->own_n_m, 0, LOAD_HIGH_N_M) ||
        !cy_trellis__within(bad, "load", CY_Q_FORCE_PER_LENGTH, in->load_n_m, 0, LOAD_HIGH_N_M) ||
        !cy_trellis__within(bad, "tension", CY_Q_FORCE, in->tension_n, TENSION_LOW_N,
                            TENSION_HIGH_N))
        return CY_INVALID;
    double load_n_m = in->own_n_m + in->load_n_m;
    double sag_m = parabola_sag(load_n_m, in->span_m, in->tension_n);
    *out = (struct cy_wire_sag_result){
        .sag_m = sag_m,
        .sag_ratio = sag_m / in->span_m,
        .max_tension_n = hypot(in->tension_n, load_n_m * in->span_m / 2),
        .length_m = parabola_length(in->span_m, sag_m),
    };
    return CY_OK;
}

/* ---- from one state to another ---- */

static bool wire_is_sound(struct cy_trellis_domain *bad, const struct cy_wire *wire)
{
    return cy_trellis__within(bad, "area", CY_Q_AREA, wire->area_m2, 1e-8, 1e-2) &&
           cy_trellis__within(bad, "modulus", CY_Q_PRESSURE, wire->modulus_pa, 1e6, 1e13) &&
           cy_trellis__within(bad, "expansion", CY_Q_NUMBER, wire->expansion_per_k, 0, 1e-3) &&
           cy_trellis__within(bad, "weight", CY_Q_FORCE_PER_LENGTH, wire->weight_n_m, 0,
                              LOAD_HIGH_N_M);
}

static bool change_is_sound(struct cy_trellis_domain *bad, const struct cy_wire_change_input *in)
{
    const enum cy_quantity load = CY_Q_FORCE_PER_LENGTH;
    return wire_is_sound(bad, &in->wire) &&
           cy_trellis__within(bad, "span", CY_Q_LENGTH, in->span_m, SPAN_LOW_M, SPAN_HIGH_M) &&
           cy_trellis__within(bad, "spans", CY_Q_NUMBER, in->spans, 1, 10000) &&
           cy_trellis__within(bad, "tension", CY_Q_FORCE, in->tension_n, TENSION_LOW_N,
                              TENSION_HIGH_N) &&
           cy_trellis__within(bad, "load", load, in->load_n_m, 0, LOAD_HIGH_N_M) &&
           cy_trellis__within(bad, "new_load", load, in->new_load_n_m, 0, LOAD_HIGH_N_M) &&
           cy_trellis__within(bad, "wind", load, in->wind_n_m, 0, LOAD_HIGH_N_M) &&
           cy_trellis__within(bad, "new_wind", load, in->new_wind_n_m, 0, LOAD_HIGH_N_M) &&
           cy_trellis__within(bad, "rise", CY_Q_TEMPERATURE_RISE, in->rise_k, -200, 200) &&
           cy_trellis__within(bad, "end_lean", CY_Q_LENGTH, in->end_lean_m, -10, 10) &&
           cy_trellis__within(bad, "take_up", CY_Q_LENGTH, in->take_up_m, -10, 10) &&
           cy_trellis__within(bad, "spring", load, in->spring_n_m, 0, 1e12) &&
           cy_trellis__within(bad, "strength", CY_Q_PRESSURE, in->strength_pa, 0, 1e11);
}

/* The row's compatibility: what stretch, warmth and winding do to the wire's length is what sag
 * and the ends ask of it.
 *
 *     give (T2 - T1) + Lr alpha dt - x + d = cubes/24 (w2^2/T2^2 - w1^2/T1^2)
 *
 * give = Lr/EA + 1/spring. Derived here; without d, x and spring it is the change of state of
 * overhead lines. */
struct row {
    double length_m;
    double give_m_n;
    double old_slack_m, new_curve; /* cubes/24 w1^2/T1^2; cubes/24 w2^2 */
    double load_n_m;               /* w2 */
};

static struct row row_of(const struct cy_wire_change_input *in)
{
    double length = in->span_m * in->spans;
    double give = length / (in->wire.modulus_pa * in->wire.area_m2);
    if (in->spring_n_m > 0)
        give += 1 / in->spring_n_m;
    double sum = length * in->span_m * in->span_m / 24;
    double before = hypot(in->wire.weight_n_m + in->load_n_m, in->wind_n_m) / in->tension_n;
    double after = hypot(in->wire.weight_n_m + in->new_load_n_m, in->new_wind_n_m);
    return (struct row){length, give, sum * before * before, sum * after * after, after};
}

struct state_equation {
    double give_m_n, held_m, curve;
};

static double state_value(double *slope, double tension_n, const void *payload)
{
    const struct state_equation *e = payload;
    double slack = e->curve / (tension_n * tension_n);
    *slope = e->give_m_n + 2 * slack / tension_n;
    return e->give_m_n * tension_n + e->held_m - slack;
}

/* give T + held = curve/T^2 for T: it has one positive root when the curve is not zero.
 *
 * `straight` is the root without sag, `cube` the one without `held`. For held <= 0 the root lies
 * between the larger of the two and their sum; for held > 0 below the cube, and above what the
 * cube would leave. */
static double state_root(const struct state_equation *e)
{
    double straight = -e->held_m / e->give_m_n;
    if (e->curve == 0)
        return fmax(straight, 0);
    double cube = cbrt(e->curve / e->give_m_n);
    double low =
        straight >= 0 ? fmax(straight, cube) : sqrt(e->curve / (e->give_m_n * cube + e->held_m));
    double high = straight >= 0 ? straight + cube : cube;
    return cy_trellis__root(state_value, low * (1 - 1e-9), high * (1 + 1e-9), low, e);
}

int cy_wire_change(struct cy_wire_change_result *out, const struct cy_wire_change_input *in,
                   struct cy_trellis_domain *bad)
{
    if (!change_is_sound(bad, in))
        return CY_INVALID;
    struct row row = row_of(in);
    struct state_equation equation = {
        .give_m_n = row.give_m_n,
        .held_m = row.old_slack_m - row.give_m_n * in->tension_n +
                  row.length_m * in->wire.expansion_per_k * in->rise_k - in->take_up_m +
                  in->end_lean_m,
        .curve = row.new_curve,
    };
    double tension = state_root(&equation);
    bool slack = tension == 0;
    /* A weightless slack wire has no equilibrium shape; its spare length gives the parabola's
     * sag, 8 s^2 / (3 L) in each bay. */
    double sag = slack ? sqrt(0.375 * in->span_m * fmax(equation.held_m, 0) / in->spans)
                       : parabola_sag(row.load_n_m, in->span_m, tension);
    double stress = tension / in->wire.area_m2;
    *out = (struct cy_wire_change_result){
        .tension_n = tension,
        .sag_m = sag,
        .max_tension_n = hypot(tension, row.load_n_m * in->span_m / 2),
        .stress_pa = stress,
        .share_of_strength = in->strength_pa > 0 ? stress / in->strength_pa : NAN,
        .slack = slack,
    };
    return CY_OK;
}

static bool target_is_sound(struct cy_trellis_domain *bad, double target_n)
{
    return cy_trellis__within(bad, "target", CY_Q_FORCE, target_n, TENSION_LOW_N, TENSION_HIGH_N);
}

int cy_wire_take_up(struct cy_wire_take_up_result *out, const struct cy_wire_change_input *in,
                    double target_n, struct cy_trellis_domain *bad)
{
    if (!change_is_sound(bad, in) || !target_is_sound(bad, target_n))
        return CY_INVALID;
    struct row row = row_of(in);
    double stretch = row.give_m_n * (target_n - in->tension_n);
    double sag = row.old_slack_m - row.new_curve / (target_n * target_n);
    double warmth = row.length_m * in->wire.expansion_per_k * in->rise_k;
    *out = (struct cy_wire_take_up_result){stretch + sag + warmth + in->end_lean_m, stretch, sag};
    return CY_OK;
}

int cy_wire_rise_to(double *out_k, const struct cy_wire_change_input *in, double target_n,
                    struct cy_trellis_domain *bad)
{
    if (!change_is_sound(bad, in) || !target_is_sound(bad, target_n) ||
        !cy_trellis__within(bad, "expansion", CY_Q_NUMBER, in->wire.expansion_per_k, 1e-9, 1e-3))
        return CY_INVALID;
    struct row row = row_of(in);
    double spare = row.give_m_n * (target_n - in->tension_n) + row.old_slack_m -
                   row.new_curve / (target_n * target_n) - in->take_up_m + in->end_lean_m;
    *out_k = -spare / (row.length_m * in->wire.expansion_per_k);
    return CY_OK;
}

/* Overhead-line practice: Keshavarzian and Priebe, IEEE Trans. Power Delivery 15(2), 2000, for
 * the idea; the formula from memory. */
int cy_wire_ruling_span(double *out_span_m, double *out_spans, const double *bays_m, size_t count,
                        struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "spans", CY_Q_NUMBER, (double)count, 1, 10000))
        return CY_INVALID;
    double length = 0, cubes = 0;
    for (size_t i = 0; i < count; i++) {
        if (!cy_trellis__within(bad, "span", CY_Q_LENGTH, bays_m[i], SPAN_LOW_M, SPAN_HIGH_M))
            return CY_INVALID;
        length += bays_m[i];
        cubes += bays_m[i] * bays_m[i] * bays_m[i];
    }
    *out_span_m = fmin(sqrt(cubes / length), length); /* one bay: rounding must not exceed it */
    *out_spans = fmax(length / *out_span_m, 1);
    return CY_OK;
}

/* ---- a load in the middle of a gripped bay ---- */

struct point_equation {
    double half_m, tension_n, stiffness_n, load_n; /* stiffness EA */
};

/* Tension by stretch less tension by statics: rises with the sag. */
static double point_value(double *slope, double sag_m, const void *payload)
{
    const struct point_equation *e = payload;
    double side = hypot(e->half_m, sag_m);
    double strain = sag_m * sag_m / ((side + e->half_m) * e->half_m); /* side/half - 1 */
    *slope = e->stiffness_n * sag_m / (side * e->half_m) +
             e->load_n * e->half_m * e->half_m / (2 * sag_m * sag_m * side);
    return e->tension_n + e->stiffness_n * strain - e->load_n * side / (2 * sag_m);
}

int cy_wire_point(struct cy_wire_point_result *out, const struct cy_wire_point_input *in,
                  struct cy_trellis_domain *bad)
{
    if (!wire_is_sound(bad, &in->wire) ||
        !cy_trellis__within(bad, "span", CY_Q_LENGTH, in->span_m, SPAN_LOW_M, SPAN_HIGH_M) ||
        !cy_trellis__within(bad, "tension", CY_Q_FORCE, in->tension_n, TENSION_LOW_N,
                            TENSION_HIGH_N) ||
        !cy_trellis__within(bad, "load", CY_Q_FORCE, in->load_n, 0, TENSION_HIGH_N))
        return CY_INVALID;
    if (in->load_n == 0) {
        *out = (struct cy_wire_point_result){0, in->tension_n};
        return CY_OK;
    }
    struct point_equation equation = {in->span_m / 2, in->tension_n,
                                      in->wire.modulus_pa * in->wire.area_m2, in->load_n};
    double slope, high = in->span_m;
    while (point_value(&slope, high, &equation) < 0)
        high *= 2;
    double sag = cy_trellis__root(point_value, 0, high, high / 2, &equation);
    *out = (struct cy_wire_point_result){sag, in->load_n * hypot(equation.half_m, sag) / (2 * sag)};
    return CY_OK;
}
