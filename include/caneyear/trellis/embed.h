/* SPDX-License-Identifier: MIT
 * Posts in the ground: soil classes, depth, the load a depth holds, uplift. */
#ifndef CANEYEAR_TRELLIS_EMBED_H
#define CANEYEAR_TRELLIS_EMBED_H

#include <stdbool.h>

#include <caneyear/trellis/domain.h>

/* Presumptive values of the IBC (2012), table 1806.2. Mud, peat, organic silt and unprepared fill
 * have none. */
struct cy_soil_class {
    int number;
    const char *name;
    double vertical_pa;
    double lateral_pa_m; /* allowable pressure per metre of depth */
    double friction;     /* 0 where cohesion is used */
    double cohesion_pa;  /* 0 where friction is used */
};

/* 1 to 5; NULL for others. Class 1 is bedrock: no post is driven there. */
const struct cy_soil_class *cy_soil_find(int number);

#define CY_POST_OVERTURNING 1.5 /* safety factor: a Florida sign permit citing the state code */
#define CY_POST_UPLIFT 2.5      /* safety factor: placeholder */

struct cy_depth_input {
    double load_n, height_m; /* height above grade */
    double width_m;          /* diameter, or the diagonal of a square post */
    double bearing_pa_m;     /* lateral, per metre of depth */
    bool isolated;           /* half an inch of movement does no harm: the bearing counts double */
    bool constrained;        /* by a rigid surface at grade */
};

struct cy_depth_result {
    double depth_m;
    double a_m;   /* 2.34 P / (S1 b) */
    double s1_pa; /* allowed at a third of the depth; pressure grows no further below 12 ft */
    double s3_pa; /* allowed at the full depth */
};

int cy_post_depth(struct cy_depth_result *out, const struct cy_depth_input *in,
                  struct cy_trellis_domain *bad);

/* The same, not constrained, for a pressure S1 that is given: one step of the usual iteration. */
int cy_post_depth_at(struct cy_depth_result *out, double load_n, double height_m, double width_m,
                     double s1_pa, struct cy_trellis_domain *bad);

struct cy_hold_input {
    double depth_m, height_m, width_m, bearing_pa_m;
    bool isolated;
};

/* The allowable lateral load at `height_m`: cy_post_depth, not constrained, read backwards. */
int cy_post_hold(double *out_n, const struct cy_hold_input *in, struct cy_trellis_domain *bad);

/* Ultimate lateral load of a short free-headed post in sand (Broms 1964: from memory). */
struct cy_broms_input {
    double depth_m, height_m, width_m;
    double unit_weight_n_m3, kp; /* of the soil */
};

int cy_post_broms(double *out_n, const struct cy_broms_input *in, struct cy_trellis_domain *bad);

/* Ultimate grip against pulling out, the post's own weight not counted: from memory. */
struct cy_uplift_input {
    double depth_m, diameter_m;
    double unit_weight_n_m3, k, friction_deg; /* sand */
    double adhesion_pa;                       /* clay: about half its cohesion */
};

int cy_post_uplift_sand(double *out_n, const struct cy_uplift_input *in,
                        struct cy_trellis_domain *bad);
int cy_post_uplift_clay(double *out_n, const struct cy_uplift_input *in,
                        struct cy_trellis_domain *bad);

#endif
