/* SPDX-License-Identifier: MIT
 * What hangs on a row, stage by stage. */
#ifndef CANEYEAR_TRELLIS_LOAD_H
#define CANEYEAR_TRELLIS_LOAD_H

#include <caneyear/base/basis.h>
#include <caneyear/trellis/domain.h>

/* STAGE(name, word). Ice is a case of its own: see cy_wire_ice_load. */
#define CY_LOAD_STAGES(STAGE)                                                                      \
    STAGE(BARE, "bare")                                                                            \
    STAGE(LEAF, "in leaf")                                                                         \
    STAGE(FRUIT, "in fruit")

enum cy_load_stage {
#define STAGE(name, word) CY_LOAD_##name,
    CY_LOAD_STAGES(STAGE)
#undef STAGE
        CY_LOAD_STAGE_COUNT
};

const char *cy_load_stage_word(enum cy_load_stage stage);

/* Wet canes and leaves, 1.5 and 3 lb per foot of row: placeholder, no table was found. */
#define CY_CANOPY_ERECT_KG_M (1.5 * 0.45359237 / 0.3048)
#define CY_CANOPY_SEMI_ERECT_KG_M (3.0 * 0.45359237 / 0.3048)
#define CY_CANOPY_TRAILING_KG_M (3.0 * 0.45359237 / 0.3048)

struct cy_load_input {
    double canopy_kg_m;   /* canes and leaves, per metre of row */
    double bare_share;    /* of it that is left without leaves */
    double crop_kg_m;     /* the season's yield, per metre of row */
    double hanging_share; /* of it that hangs at once; 1 is the cautious choice */
    double wet_share;     /* rain on the leaves, as a share of the canopy */
};

/* Placeholders for everything but the canopy and the crop. */
struct cy_load_input cy_load_usual(double canopy_kg_m, double crop_kg_m);

struct cy_load {
    double weight_n_m; /* of all wires together, per metre of row */
    double porosity;   /* for the wind */
    cy_basis basis;
};

int cy_load_of(struct cy_load *out, enum cy_load_stage stage, const struct cy_load_input *in,
               struct cy_trellis_domain *bad);

#endif
