/* SPDX-License-Identifier: MIT
 * Posts as cantilevers: bending against what wood or steel allows, deflection, arms and legs. */
#include <caneyear/trellis/post.h>

#include <math.h>

#include "inside.h"

#define STEEL_FACTOR 1.67 /* on yield, compact sections, AISC 360 F1: from memory */
/* NDS table 4B notes: from memory. Wet wood counts 0.85, but not below this base value. */
#define WET_FACTOR 0.85
#define WET_FREE_PA (1150 * PSI_PA)

static double allowable(const struct cy_bending_input *in)
{
    double strength = in->strength_pa > 0 ? in->strength_pa : in->section.strength_pa;
    if (cy_section_is_steel(&in->section))
        return strength / STEEL_FACTOR;
    bool weakened = in->wet && strength > WET_FREE_PA;
    return strength * in->duration * (weakened ? WET_FACTOR : 1);
}

static bool section_is_sound(struct cy_trellis_domain *bad, const struct cy_section *section)
{
    return cy_trellis__rule(bad, "section",
                            section->modulus_m3 > 0 && section->inertia_m4 > 0 &&
                                section->strength_pa > 0 && section->stiffness_pa > 0,
                            "a section made by its own function");
}

int cy_post_bending(struct cy_bending_result *out, const struct cy_bending_input *in,
                    struct cy_trellis_domain *bad)
{
    if (!section_is_sound(bad, &in->section) ||
        !cy_trellis__within(bad, "moment", CY_Q_MOMENT, in->moment_nm, 0, 1e7) ||
        !cy_trellis__within(bad, "force", CY_Q_FORCE, in->force_n, 0, 1e6) ||
        !cy_trellis__within(bad, "arm", CY_Q_LENGTH, in->arm_m, 0, 30) ||
        !cy_trellis__within(bad, "strength", CY_Q_PRESSURE, in->strength_pa, 0, 1e10) ||
        (!cy_section_is_steel(&in->section) &&
         !cy_trellis__within(bad, "duration", CY_Q_NUMBER, in->duration, 0.5, 2)))
        return CY_INVALID;
    double moment = in->moment_nm + in->force_n * in->arm_m;
    double stress = moment / in->section.modulus_m3;
    double allowed = allowable(in);
    *out = (struct cy_bending_result){stress / allowed, moment, stress, allowed};
    return CY_OK;
}

int cy_post_deflection(double *out_m, const struct cy_section *section, double force_n,
                       double height_m, struct cy_trellis_domain *bad)
{
    if (!section_is_sound(bad, section) ||
        !cy_trellis__within(bad, "force", CY_Q_FORCE, force_n, 0, 1e6) ||
        !cy_trellis__within(bad, "height", CY_Q_LENGTH, height_m, 0, 30))
        return CY_INVALID;
    *out_m = force_n * pow(height_m, 3) / (3 * section->stiffness_pa * section->inertia_m4);
    return CY_OK;
}

int cy_post_leg(struct cy_leg_load *out, double load_n, double length_m, double lean_deg,
                struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "load", CY_Q_FORCE, load_n, 0, 1e6) ||
        !cy_trellis__within(bad, "length", CY_Q_LENGTH, length_m, 0, 30) ||
        !cy_trellis__within(bad, "lean", CY_Q_ANGLE, lean_deg, 0, 89))
        return CY_INVALID;
    double lean = lean_deg * PI / 180;
    *out = (struct cy_leg_load){load_n * sin(lean) * length_m, load_n * cos(lean)};
    return CY_OK;
}

int cy_post_arm(double *out_nm, double load_n_m, double post_spacing_m, double arm_m,
                struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "load", CY_Q_FORCE_PER_LENGTH, load_n_m, 0, 1e5) ||
        !cy_trellis__within(bad, "post_spacing", CY_Q_LENGTH, post_spacing_m, 0.1, 100) ||
        !cy_trellis__within(bad, "arm", CY_Q_LENGTH, arm_m, 0, 30))
        return CY_INVALID;
    *out_nm = load_n_m * post_spacing_m * arm_m;
    return CY_OK;
}
