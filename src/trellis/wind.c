/* SPDX-License-Identifier: MIT
 * Wind pressure after ASCE 7, and drag on a row of canes. */
#include <caneyear/trellis/wind.h>

#include <math.h>

#include <caneyear/base/text.h>

#include "inside.h"

#define MPH_M_S 0.44704
/* q = 0.00256 Kz Kzt Kd V^2 psf: "ASCE 7 Wind Velocity Pressure", which prints 0.613 for SI; this
 * is the US constant converted, 0.06 % above that. */
#define PRESSURE_PA (0.00256 * PSF_PA / (MPH_M_S * MPH_M_S))

static const char *const exposure_words[] = {
#define EXPOSURE(name, word) word,
    CY_EXPOSURES(EXPOSURE)
#undef EXPOSURE
};

/* Exponent and gradient height: "Wind load calculation as per ASCE 7-05". Kz at and below 15 ft as
 * the code's table prints it. */
static const struct {
    double alpha, gradient_m, low_kz;
} exposures[CY_EXPOSURE_COUNT] = {
    [CY_EXPOSURE_B] = {7.0, 1200 * FOOT_M, 0.57},
    [CY_EXPOSURE_C] = {9.5, 900 * FOOT_M, 0.85},
    [CY_EXPOSURE_D] = {11.5, 700 * FOOT_M, 1.03},
};

const char *cy_exposure_word(enum cy_exposure exposure)
{
    return exposure_words[exposure];
}

bool cy_exposure_parse(enum cy_exposure *out, const char *text, size_t length)
{
    for (int i = 0; i < CY_EXPOSURE_COUNT; i++)
        if (cy_word_is(text, length, exposure_words[i])) {
            *out = (enum cy_exposure)i;
            return true;
        }
    return false;
}

/* The formula gives 0.849 where the table prints 0.85: never less with more height. */
static double height_factor(enum cy_exposure exposure, double height_m)
{
    double low = exposures[exposure].low_kz;
    if (height_m <= 15 * FOOT_M)
        return low;
    double ratio = height_m / exposures[exposure].gradient_m;
    return fmax(low, 2.01 * pow(ratio, 2 / exposures[exposure].alpha));
}

int cy_wind_pressure(struct cy_wind_result *out, const struct cy_wind_input *in,
                     struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "speed", CY_Q_SPEED, in->speed_m_s, 0, 150) ||
        !cy_trellis__rule(bad, "exposure", (unsigned)in->exposure < CY_EXPOSURE_COUNT, "B, C, D") ||
        !cy_trellis__within(bad, "height", CY_Q_LENGTH, in->height_m, 0, 150) ||
        !cy_trellis__within(bad, "kd", CY_Q_NUMBER, in->kd, 0.5, 1) ||
        !cy_trellis__within(bad, "kzt", CY_Q_NUMBER, in->kzt, 1, 5))
        return CY_INVALID;
    out->kz = height_factor(in->exposure, in->height_m);
    out->pressure_pa = PRESSURE_PA * out->kz * in->kzt * in->kd * in->speed_m_s * in->speed_m_s;
    return CY_OK;
}

double cy_wind_drag(double porosity)
{
    const double leaf = 1.3, bare = 0.9;
    double drag = leaf - (porosity - CY_POROSITY_LEAF) * (leaf - bare) /
                             (CY_POROSITY_BARE - CY_POROSITY_LEAF);
    return fmin(leaf, fmax(bare, drag));
}

double cy_wind_shelter(int row_from_edge)
{
    return row_from_edge <= 3 ? 1.0 : 0.7;
}

int cy_wind_canopy(struct cy_canopy_result *out, const struct cy_canopy_input *in,
                   struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "pressure", CY_Q_PRESSURE, in->pressure_pa, 0, 1e5) ||
        !cy_trellis__within(bad, "porosity", CY_Q_SHARE, in->porosity, 0, 1) ||
        !cy_trellis__within(bad, "canopy", CY_Q_LENGTH, in->canopy_m, 0, 10) ||
        !cy_trellis__within(bad, "middle", CY_Q_LENGTH, in->middle_m, 0, 10) ||
        !cy_trellis__within(bad, "post_spacing", CY_Q_LENGTH, in->post_spacing_m, 0.1, 100) ||
        !cy_trellis__within(bad, "shelter", CY_Q_SHARE, in->shelter, 0, 1))
        return CY_INVALID;
    out->drag = cy_wind_drag(in->porosity);
    out->force_n = in->pressure_pa * CY_WIND_GUST * out->drag * in->canopy_m * in->post_spacing_m *
                   in->shelter;
    out->moment_nm = out->force_n * in->middle_m;
    return CY_OK;
}
