/* SPDX-License-Identifier: MIT
 * Weight of canes, leaves, rain and fruit on a row. */
#include <caneyear/trellis/load.h>

#include <caneyear/trellis/wind.h>

#include "inside.h"

static const char *const stage_words[] = {
#define STAGE(name, word) word,
    CY_LOAD_STAGES(STAGE)
#undef STAGE
};

const char *cy_load_stage_word(enum cy_load_stage stage)
{
    return stage_words[stage];
}

struct cy_load_input cy_load_usual(double canopy_kg_m, double crop_kg_m)
{
    return (struct cy_load_input){
        .canopy_kg_m = canopy_kg_m,
        .bare_share = 0.5, /* placeholder */
        .crop_kg_m = crop_kg_m,
        .hanging_share = 0.5, /* placeholder */
        .wet_share = 0.15,    /* placeholder */
    };
}

int cy_load_of(struct cy_load *out, enum cy_load_stage stage, const struct cy_load_input *in,
               struct cy_trellis_domain *bad)
{
    const enum cy_quantity mass = CY_Q_MASS_PER_LENGTH;
    if (!cy_trellis__rule(bad, "stage", (unsigned)stage < CY_LOAD_STAGE_COUNT,
                          "bare, in leaf, in fruit") ||
        !cy_trellis__within(bad, "canopy", mass, in->canopy_kg_m, 0, 1000) ||
        !cy_trellis__within(bad, "bare_share", CY_Q_SHARE, in->bare_share, 0, 1) ||
        !cy_trellis__within(bad, "crop", mass, in->crop_kg_m, 0, 1000) ||
        !cy_trellis__within(bad, "hanging_share", CY_Q_SHARE, in->hanging_share, 0, 1) ||
        !cy_trellis__within(bad, "wet_share", CY_Q_SHARE, in->wet_share, 0, 1))
        return CY_INVALID;
    double kg_m = stage == CY_LOAD_BARE ? in->canopy_kg_m * in->bare_share
                                        : in->canopy_kg_m * (1 + in->wet_share);
    if (stage == CY_LOAD_FRUIT)
        kg_m += in->crop_kg_m * in->hanging_share;
    *out = (struct cy_load){
        .weight_n_m = kg_m * GRAVITY_M_S2,
        .porosity = stage == CY_LOAD_BARE ? CY_POROSITY_BARE : CY_POROSITY_LEAF,
        .basis = CY_BASIS_PLACEHOLDER,
    };
    return CY_OK;
}
