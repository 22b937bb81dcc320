/* SPDX-License-Identifier: MIT
 * Posts and arms: cross-sections, bending, deflection. */
#ifndef CANEYEAR_TRELLIS_POST_H
#define CANEYEAR_TRELLIS_POST_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/basis.h>
#include <caneyear/trellis/domain.h>

enum cy_section_kind { CY_SECTION_ROUND, CY_SECTION_SAWN, CY_SECTION_PIPE, CY_SECTION_TEE };

struct cy_section {
    enum cy_section_kind kind;
    double bearing_m; /* width against the soil: diameter, diagonal of a sawn post, flange */
    double area_m2, modulus_m3, inertia_m4;
    double strength_pa; /* wood: base bending value; steel: yield */
    double stiffness_pa;
    cy_basis basis;
    const char *source;
};

bool cy_section_is_steel(const struct cy_section *section);

int cy_section_round(struct cy_section *out, double diameter_m, struct cy_trellis_domain *bad);
/* `deep_m` in the direction of bending. */
int cy_section_sawn(struct cy_section *out, double wide_m, double deep_m,
                    struct cy_trellis_domain *bad);
/* Schedule 40 by nominal size, 1 to 4 in. */
int cy_section_pipe(struct cy_section *out, double nominal_m, struct cy_trellis_domain *bad);
/* Studded tee by weight, 1.25 or 1.33 lb/ft; its modulus is an estimate: placeholder. */
int cy_section_tee(struct cy_section *out, double kg_m, struct cy_trellis_domain *bad);

/* "4x4", "6x6", "2x4" (dressed, the last on edge), "round:4in", "square:90mm", "pipe:2in",
 * "tee:1.25". A bare pipe size is in inches, a bare tee in lb/ft. */
int cy_section_parse(struct cy_section *out, const char *text, size_t length,
                     struct cy_trellis_domain *bad);

/* Load duration factors of the NDS, table 2.3.2: from memory. */
#define CY_DURATION_PERMANENT 0.9
#define CY_DURATION_YEARS 1.0
#define CY_DURATION_SEASON 1.15
#define CY_DURATION_WEEK 1.25
#define CY_DURATION_WIND 1.6

struct cy_bending_input {
    struct cy_section section;
    double moment_nm;      /* at grade; added to that of force and arm */
    double force_n, arm_m; /* arm to grade */
    double duration;       /* wood only */
    double strength_pa;    /* 0: the section's own; steel is taken as yield */
    bool wet;              /* wood above 19 % moisture, as at the ground line */
};

struct cy_bending_result {
    double ratio; /* demand over allowable */
    double moment_nm, stress_pa, allowable_pa;
};

int cy_post_bending(struct cy_bending_result *out, const struct cy_bending_input *in,
                    struct cy_trellis_domain *bad);

/* How far a post held at grade moves at the height of the force; the ground's give is not in it. */
int cy_post_deflection(double *out_m, const struct cy_section *section, double force_n,
                       double height_m, struct cy_trellis_domain *bad);

/* The post's leg at an angle to the vertical under a vertical load at its top. */
struct cy_leg_load {
    double moment_nm, axial_n;
};

int cy_post_leg(struct cy_leg_load *out, double load_n, double length_m, double lean_deg,
                struct cy_trellis_domain *bad);

/* Moment at the post of a cross arm whose wire, `arm_m` out, carries load over one bay. */
int cy_post_arm(double *out_nm, double load_n_m, double post_spacing_m, double arm_m,
                struct cy_trellis_domain *bad);

#endif
