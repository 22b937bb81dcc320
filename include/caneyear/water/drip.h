/* SPDX-License-Identifier: MIT
 * Pipes and drip lines: friction, the flow of every emitter along a line, uniformity. */
#ifndef CANEYEAR_WATER_DRIP_H
#define CANEYEAR_WATER_DRIP_H

#include <stddef.h>

/* Hazen-Williams, C of smooth polyethylene: 150. */
#define CY_WATER_SMOOTH 150.0
#define CY_WATER_FLOW_EXPONENT 1.852

struct cy_water_pipe {
    double flow_l_s, bore_m, length_m, c; /* flow 0 or more, the others above 0 */
};

struct cy_water_pipe_loss {
    double loss_m; /* 10.67 L Q^1.852 / (C^1.852 d^4.87), Q in m3/s */
    double velocity_m_s;
};

/* For water in full, turbulent flow; below about 0.3 m/s in small tubing the formula errs. */
struct cy_water_pipe_loss cy_water_pipe_loss(const struct cy_water_pipe *pipe);

/* How far the first outlet stands from the inlet: a whole spacing, or half of one. */
enum cy_water_first { CY_WATER_FIRST_FULL, CY_WATER_FIRST_HALF };

/* Friction of a line whose `outlets` (1 or more) all discharge the same, as a share of that with
 * the whole flow running to its end; exponent of the flow 1.852, 1.75 or 2. The exact sum, and
 * Christiansen's short formula for it (University of California Bulletin 670, 1942; half
 * spacing: Jensen and Fratini, 1957). */
double cy_water_factor(int outlets, double exponent, enum cy_water_first first);
double cy_water_factor_short(int outlets, double exponent, enum cy_water_first first);

/* 100 (1 - 1.27 cv / sqrt(per_plant)) least / mean, at least 0: design emission uniformity, %. */
double cy_water_uniformity(double cv, int per_plant, double least, double mean);

struct cy_water_line {
    int emitters;    /* 1 or more */
    double flow_lph; /* of one emitter at the inlet head */
    double spacing_m;
    double bore_m;   /* inside */
    double c;        /* Hazen-Williams, CY_WATER_SMOOTH */
    double slope;    /* rise along the line, m/m: uphill positive */
    double head_m;   /* at the inlet, above 0 */
    double exponent; /* emitter flow goes as head to this power: 0 compensating, 0.5 orifice */
    double cv;       /* of manufacture */
    int emitters_per_plant;
    enum cy_water_first first;
};

struct cy_water_line_result {
    double friction_m; /* inlet head less end head less rise */
    double flow_total_lph;
    double factor; /* the exact one for equal discharge */
    double uniformity_pct;
    double flow_least_lph, flow_most_lph;
    double variation;                             /* (most - least) / most */
    double head_least_m, head_most_m, head_end_m; /* at the emitters; negative: short by so much */
    int dry;                                      /* emitters that no water reaches */
};

/* Solves the heads along the line, from the end to the inlet, so that each emitter runs at its
 * own head. `heads_m` is NULL, or has room for one head for each emitter from the inlet.
 * *out is left alone by CY_INVALID, a value outside its range above, and by CY_FAILED, a falling
 * line so overloaded that its head comes to nothing on the way, before the fall restores it. */
int cy_water_line_solve(struct cy_water_line_result *out, double *heads_m,
                        const struct cy_water_line *line);

/* The most emitters, up to `most`, such that on this line and on every shorter one none is dry
 * and the flow varies by no more than `variation` (a share); line->emitters is not used. 0 where
 * a value is out of range. */
int cy_water_line_longest(const struct cy_water_line *line, double variation, int most);

/* What cups under emitters in the field say. */
struct cy_water_cups {
    double mean;
    double quarter_pct;      /* mean of the lowest quarter of the readings over the mean */
    double statistical_pct;  /* 100 (1 - deviation / mean) */
    double christiansen_pct; /* 100 (1 - mean absolute deviation / mean) */
};

/* Sorts `readings` in place. With fewer than four the lowest one is the quarter; the mean must be
 * above 0 and `count` at least 2. */
struct cy_water_cups cy_water_cups(double *readings, size_t count);

#endif
