/* SPDX-License-Identifier: MIT
 * Anchors: the deadman table, interpolated, and one helix in clay. */
#include <caneyear/trellis/anchor.h>

#include <math.h>

#include <caneyear/base/text.h>

#include "inside.h"

#define DEPTHS 5
#define SLOPES 4

/* Holding power in loam, lb per square foot of face: TM 5-5420-278-10, table 9. */
static const double depths_ft[DEPTHS] = {3, 4, 5, 6, 7};
static const double slopes_deg[SLOPES] = {14, 18.5, 26.5, 45};
static const double holding_psf[DEPTHS][SLOPES] = {
    {1500, 1450, 1300, 950},  {2700, 2600, 2200, 1750}, {4100, 4000, 3600, 2800},
    {6000, 5800, 5100, 3800}, {8400, 8000, 7000, 5100},
};
#define TRENCH_M FOOT_M /* taken out of the face by the tie's own trench: the same table */
#define HELIX_FACTOR 9  /* N_c of a deep plate in clay: helical anchor capacity notes */

static const char *const ground_words[] = {
#define GROUND(name, word, factor) word,
    CY_GROUNDS(GROUND)
#undef GROUND
};

static const double ground_factors[] = {
#define GROUND(name, word, factor) factor,
    CY_GROUNDS(GROUND)
#undef GROUND
};

const char *cy_ground_word(enum cy_ground ground)
{
    return ground_words[ground];
}

bool cy_ground_parse(enum cy_ground *out, const char *text, size_t length)
{
    for (int i = 0; i < CY_GROUND_COUNT; i++)
        if (cy_word_is(text, length, ground_words[i])) {
            *out = (enum cy_ground)i;
            return true;
        }
    return false;
}

/* The interval of rising `nodes` that holds x, and how far into it x lies, 0 to 1. */
static int locate(double *share, const double *nodes, int count, double x)
{
    int i = 0;
    while (i < count - 2 && x > nodes[i + 1])
        i++;
    *share = fmin(1, fmax(0, (x - nodes[i]) / (nodes[i + 1] - nodes[i])));
    return i;
}

static double holding(double depth_m, double slope_deg)
{
    double down, across;
    int d = locate(&down, depths_ft, DEPTHS, depth_m / FOOT_M);
    int s = locate(&across, slopes_deg, SLOPES, slope_deg);
    double upper = holding_psf[d][s] + across * (holding_psf[d][s + 1] - holding_psf[d][s]);
    double lower =
        holding_psf[d + 1][s] + across * (holding_psf[d + 1][s + 1] - holding_psf[d + 1][s]);
    return (upper + down * (lower - upper)) * PSF_PA;
}

int cy_anchor_deadman(struct cy_deadman_result *out, const struct cy_deadman_input *in,
                      struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "tie", CY_Q_FORCE, in->tie_n, 0, 1e6) ||
        !cy_trellis__within(bad, "slope", CY_Q_ANGLE, in->slope_deg, 14, 45) ||
        !cy_trellis__within(bad, "depth", CY_Q_LENGTH, in->depth_m, 0.9144, 2.1336) ||
        !cy_trellis__within(bad, "face", CY_Q_SIZE, in->face_m, 0.01, 2) ||
        !cy_trellis__rule(bad, "ground", (unsigned)in->ground < CY_GROUND_COUNT,
                          "loam, sand, rock") ||
        !cy_trellis__within(bad, "factor", CY_Q_NUMBER, in->factor, 1, 10))
        return CY_INVALID;
    double pressure = holding(in->depth_m, in->slope_deg) * ground_factors[in->ground];
    double ultimate = in->tie_n * in->factor;
    double length = ultimate / (pressure * in->face_m) + TRENCH_M;
    *out = (struct cy_deadman_result){length, length / in->face_m, pressure, ultimate};
    return CY_OK;
}

int cy_anchor_screw(struct cy_screw_result *out, const struct cy_screw_input *in,
                    struct cy_trellis_domain *bad)
{
    if (!cy_trellis__within(bad, "diameter", CY_Q_SIZE, in->diameter_m, 0.01, 2) ||
        !cy_trellis__within(bad, "cohesion", CY_Q_PRESSURE, in->cohesion_pa, 0, 1e6) ||
        !cy_trellis__within(bad, "factor", CY_Q_NUMBER, in->factor, 1, 10))
        return CY_INVALID;
    double area = PI / 4 * in->diameter_m * in->diameter_m;
    double ultimate = HELIX_FACTOR * area * in->cohesion_pa;
    *out = (struct cy_screw_result){ultimate / in->factor, ultimate, area};
    return CY_OK;
}
