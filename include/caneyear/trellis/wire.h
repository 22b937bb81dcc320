/* SPDX-License-Identifier: MIT
 * Trellis wire: gauges, grades, sag, and tension as temperature, load and ends change. */
#ifndef CANEYEAR_TRELLIS_WIRE_H
#define CANEYEAR_TRELLIS_WIRE_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/basis.h>
#include <caneyear/trellis/domain.h>

/* A gauge is a label: the diameter counts. The other systems are here to warn of a mix-up; 0
 * where the table has none. */
struct cy_gauge {
    double number;
    const char *name;
    double diameter_m; /* steel wire gauge (Washburn & Moen) */
    double awg_m, birmingham_m, imperial_m;
};

const struct cy_gauge *cy_gauge_find(double number); /* NULL if there is no such gauge */
const struct cy_gauge *cy_gauge_at(size_t index);    /* NULL behind the last */

struct cy_grade {
    const char *name; /* "200" is a minimum of 200 ksi */
    double strength_pa;
    double yield_pa;                      /* 0 where no figure was found */
    double tension_low_n, tension_high_n; /* customary when set */
    cy_basis basis;
    const char *source;
};

const struct cy_grade *cy_grade_find(const char *name); /* NULL if there is no such grade */
const struct cy_grade *cy_grade_at(size_t index);       /* NULL behind the last */

/* Shares of strength at which to speak up, after the overhead-line limits of a power-engineering
 * handbook (chapter on sag and tension); chosen here: placeholder. */
#define CY_WIRE_SHARE_EVERYDAY 0.25
#define CY_WIRE_SHARE_WARN 0.50
#define CY_WIRE_SHARE_FAIL 0.60
#define CY_WIRE_SHARE_YIELD 0.60 /* of yield, low-carbon wire */

struct cy_wire {
    double area_m2, modulus_pa, expansion_per_k, weight_n_m;
};

double cy_wire_area(double diameter_m);
/* Steel wire of a gauge, or of a cross-section, with its own weight; zinc not counted. */
int cy_wire_of_gauge(struct cy_wire *out, double gauge, struct cy_trellis_domain *bad);
int cy_wire_of_area(struct cy_wire *out, double area_m2, struct cy_trellis_domain *bad);

/* Per metre of wire: radial ice, and wind on the wire with its ice (N/m). */
#define CY_ICE_DENSITY_KG_M3 913.06 /* 57 lb/ft3, overhead-line practice: from memory */
double cy_wire_ice_load(double diameter_m, double ice_m, double density_kg_m3);
double cy_wire_wind_load(double diameter_m, double ice_m, double pressure_pa);

/* ---- shape under a given tension ---- */

struct cy_wire_sag_input {
    double span_m;
    double own_n_m;   /* the wire's weight */
    double load_n_m;  /* added to it */
    double tension_n; /* horizontal */
};

struct cy_wire_sag_result {
    double sag_m, sag_ratio; /* the parabola holds to a ratio of about 0.1 */
    double max_tension_n, length_m;
};

int cy_wire_sag(struct cy_wire_sag_result *out, const struct cy_wire_sag_input *in,
                struct cy_trellis_domain *bad);

/* ---- a row from one state to another ---- */

/* Wire that slides through its staples from end to end of `spans` equal bays. Loads are added to
 * the wire's own weight; wind acts across it. */
struct cy_wire_change_input {
    struct cy_wire wire;
    double span_m, spans;
    double tension_n; /* horizontal, now */
    double load_n_m, new_load_n_m;
    double wind_n_m, new_wind_n_m;
    double rise_k;      /* warmer is positive */
    double end_lean_m;  /* both ends together, inward is positive */
    double take_up_m;   /* wound in */
    double spring_n_m;  /* in line; 0 for none */
    double strength_pa; /* 0 where it is not known */
};

struct cy_wire_change_result {
    double tension_n; /* horizontal; never negative */
    double sag_m, max_tension_n, stress_pa;
    double share_of_strength; /* NaN where strength is not known */
    bool slack;               /* a wire without weight or load can hang loose */
};

int cy_wire_change(struct cy_wire_change_result *out, const struct cy_wire_change_input *in,
                   struct cy_trellis_domain *bad);

/* What to wind in to reach `target_n` at the new load and temperature (in->take_up_m is passed
 * over), and how much of it stretches wire and spring, how much takes out sag. */
struct cy_wire_take_up_result {
    double take_up_m, stretch_m, sag_m;
};

int cy_wire_take_up(struct cy_wire_take_up_result *out, const struct cy_wire_change_input *in,
                    double target_n, struct cy_trellis_domain *bad);

/* The rise of temperature at which the tension is `target_n` (in->rise_k is passed over). */
int cy_wire_rise_to(double *out_k, const struct cy_wire_change_input *in, double target_n,
                    struct cy_trellis_domain *bad);

/* Unequal bays as equal ones: the ruling span, and how many of it make the row. */
int cy_wire_ruling_span(double *out_span_m, double *out_spans, const double *bays_m, size_t count,
                        struct cy_trellis_domain *bad);

/* ---- a bay gripped at both posts, weightless, with a load at midspan ---- */

struct cy_wire_point_input {
    struct cy_wire wire;
    double span_m, tension_n, load_n;
};

struct cy_wire_point_result {
    double sag_m, tension_n; /* along the wire */
};

int cy_wire_point(struct cy_wire_point_result *out, const struct cy_wire_point_input *in,
                  struct cy_trellis_domain *bad);

#endif
