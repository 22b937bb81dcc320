/* SPDX-License-Identifier: MIT
 * Anchors for tied ends: buried deadmen and screw anchors. */
#ifndef CANEYEAR_TRELLIS_ANCHOR_H
#define CANEYEAR_TRELLIS_ANCHOR_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/trellis/domain.h>

/* GROUND(name, word, factor): TM 5-5420-278-10, table 9 and its notes. */
#define CY_GROUNDS(GROUND)                                                                         \
    GROUND(LOAM, "loam", 1.0)                                                                      \
    GROUND(SAND, "sand", 0.5) /* fine-grained or sandy */                                          \
    GROUND(ROCK, "rock", 5.0) /* rock or hardpan */

enum cy_ground {
#define GROUND(name, word, factor) CY_GROUND_##name,
    CY_GROUNDS(GROUND)
#undef GROUND
        CY_GROUND_COUNT
};

const char *cy_ground_word(enum cy_ground ground);
bool cy_ground_parse(enum cy_ground *out, const char *text, size_t length);

#define CY_DEADMAN_FACTOR 2.0     /* safety factor: placeholder */
#define CY_SCREW_FACTOR 2.0       /* with torque or pull data: anchor product notes, ICC-ES AC358 */
#define CY_SCREW_FACTOR_BLIND 3.0 /* without: placeholder */
#define CY_DEADMAN_LOG_RATIO 5.0  /* length over thickness at most: TM 5-5420-278-10 */
#define CY_DEADMAN_TIMBER_RATIO 9.0

struct cy_deadman_input {
    double tie_n;
    double slope_deg; /* of the tie, below horizontal */
    double depth_m;   /* mean, to the middle of the face */
    double face_m;    /* height of the face */
    enum cy_ground ground;
    double factor;
};

struct cy_deadman_result {
    double length_m;   /* 1 ft for the tie's trench included */
    double ratio;      /* length over face: see the two limits above */
    double holding_pa; /* of the face */
    double ultimate_n; /* what it holds at the table's figure */
};

int cy_anchor_deadman(struct cy_deadman_result *out, const struct cy_deadman_input *in,
                      struct cy_trellis_domain *bad);

/* One helix in clay, its plate at least five diameters deep. */
struct cy_screw_input {
    double diameter_m, cohesion_pa, factor;
};

struct cy_screw_result {
    double allowable_n, ultimate_n, area_m2;
};

int cy_anchor_screw(struct cy_screw_result *out, const struct cy_screw_input *in,
                    struct cy_trellis_domain *bad);

#endif
