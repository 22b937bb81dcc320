/* SPDX-License-Identifier: MIT
 * End assemblies: what the wires' pull does in braces, struts, ties and at the foot. */
#ifndef CANEYEAR_TRELLIS_END_H
#define CANEYEAR_TRELLIS_END_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/trellis/domain.h>

/* END(name, word) */
#define CY_END_KINDS(END)                                                                          \
    END(H, "h")         /* two posts, a rail, a diagonal from inner top to outer foot */           \
    END(SLANT, "slant") /* a strut on the row's side, down to a foot block */                      \
    END(TIE, "tie")     /* a line outside the row, down to an anchor */

enum cy_end_kind {
#define END(name, word) CY_END_##name,
    CY_END_KINDS(END)
#undef END
        CY_END_KIND_COUNT
};

const char *cy_end_kind_word(enum cy_end_kind kind);
bool cy_end_kind_parse(enum cy_end_kind *out, const char *text, size_t length);

#define CY_PULLS_MAX 16

struct cy_pull {
    double force_n, height_m;
};

struct cy_end_input {
    enum cy_end_kind kind;
    const struct cy_pull *pulls;
    size_t count;     /* 1 to CY_PULLS_MAX */
    double height_m;  /* where rail, strut or tie meets the end post */
    double length_m;  /* H: between its posts */
    double foot_m;    /* slant: from the post to the foot block */
    double angle_deg; /* tie: to the ground */
};

/* Zero where a kind has no such part. */
struct cy_end_result {
    double force_n; /* the largest in rail and diagonal, or strut, or tie */
    double sum_n, moment_nm;
    double level_n; /* horizontal force at `height_m` that holds the post up */
    double rail_n, diagonal_n, strut_n, tie_n;
    double uplift_n; /* on the end post */
    double push_n;   /* down: on the inner post of an H, on a tied end post */
};

int cy_end_brace(struct cy_end_result *out, const struct cy_end_input *in,
                 struct cy_trellis_domain *bad);

/* The forces on each free body, for drawing and for checking that they balance. x runs from the
 * foot of the end post into the row, y up. */
struct cy_end_force {
    double x_m, y_m, x_n, y_n;
};

struct cy_end_body {
    const char *name;
    struct cy_end_force forces[CY_PULLS_MAX + 3];
    size_t count;
};

struct cy_end_bodies {
    struct cy_end_body post, other; /* other: inner post, foot block or anchor */
};

int cy_end_forces(struct cy_end_bodies *out, const struct cy_end_input *in,
                  struct cy_trellis_domain *bad);

#define CY_RAIL_FACTOR 3.0 /* safety factor on buckling: placeholder */

/* Euler load of a rail with pinned ends. */
int cy_rail_buckling(double *out_n, double stiffness_pa, double inertia_m4, double length_m,
                     struct cy_trellis_domain *bad);

#endif
