/* SPDX-License-Identifier: MIT
 * Posts in the ground: the code formula as a cubic, its inverse, and two cross-checks. */
#include <caneyear/trellis/embed.h>

#include <math.h>
#include <stddef.h>

#include "inside.h"

/* "d used for pressure is not taken above 12 ft": help page on nonconstrained poles quoting the
 * code. */
#define PRESSURE_DEPTH_M 3.6576
#define SHAPE 4.36 /* IBC eq. 18-1, as quoted in "Another take on the good ol' embedded posts" */
#define WIDTH 2.34 /* the same */
#define HELD 4.25  /* IBC eq. 18-2 and 18-3: IBC 2018 flagpole footing sheet */

#define PSF *PSF_PA
#define PSF_FT *(PSF_PA / FOOT_M)

/* IBC 2012 table 1806.2, reproduced as table 14.6 of a geotechnical earthquake engineering
 * handbook. */
static const struct cy_soil_class soils[] = {
    {1, "crystalline bedrock", 12000 PSF, 1200 PSF_FT, 0.70, 0},
    {2, "sedimentary or foliated rock", 4000 PSF, 400 PSF_FT, 0.35, 0},
    {3, "sandy gravel, gravel", 3000 PSF, 200 PSF_FT, 0.35, 0},
    {4, "sand, silty or clayey sand and gravel", 2000 PSF, 150 PSF_FT, 0.25, 0},
    {5, "clay, sandy or silty clay, silt", 1500 PSF, 100 PSF_FT, 0, 130 PSF},
};

const struct cy_soil_class *cy_soil_find(int number)
{
    return number >= 1 && number <= 5 ? &soils[number - 1] : NULL;
}

static bool place_is_sound(struct cy_trellis_domain *bad, double height_m, double width_m)
{
    return cy_trellis__within(bad, "height", CY_Q_LENGTH, height_m, 0, 30) &&
           cy_trellis__within(bad, "width", CY_Q_SIZE, width_m, 0.005, 10);
}

static bool ground_is_sound(struct cy_trellis_domain *bad, double height_m, double width_m,
                            double bearing_pa_m)
{
    return place_is_sound(bad, height_m, width_m) &&
           cy_trellis__within(bad, "bearing", CY_Q_PRESSURE_PER_LENGTH, bearing_pa_m, 100, 1e6);
}

static bool load_is_sound(struct cy_trellis_domain *bad, double load_n)
{
    return cy_trellis__within(bad, "load", CY_Q_FORCE, load_n, 0, 1e7);
}

static double quadratic_depth(double a_m, double height_m)
{
    return a_m / 2 + sqrt(a_m * a_m / 4 + a_m * height_m * SHAPE / 4);
}

struct depth_equation {
    double k, height_m;
};

/* d^3 - k (d + 1.09 h) */
static double depth_value(double *slope, double depth_m, const void *payload)
{
    const struct depth_equation *e = payload;
    *slope = 3 * depth_m * depth_m - e->k;
    return depth_m * depth_m * depth_m - e->k * (depth_m + SHAPE / 4 * e->height_m);
}

/* With S1 = F S d/3 the formula d = A/2 (1 + sqrt(1 + 4.36 h/A)) closes to
 * d^3 = k (d + 1.09 h), k = 7.02 P/(F S b): no iteration over S1. Where that is deeper than
 * 12 ft, S1 stands still and the formula is used as it is. */
static double free_depth(double load_n, double height_m, double width_m, double bearing_pa_m)
{
    struct depth_equation equation = {3 * WIDTH * load_n / (bearing_pa_m * width_m), height_m};
    double bare = sqrt(equation.k), leverage = cbrt(SHAPE / 4 * equation.k * height_m);
    if (leverage == 0)
        return bare <= PRESSURE_DEPTH_M ? bare : equation.k / PRESSURE_DEPTH_M;
    double low = fmax(bare, leverage), high = bare + leverage;
    double depth =
        cy_trellis__root(depth_value, low * (1 - 1e-9), high * (1 + 1e-9), high, &equation);
    if (depth <= PRESSURE_DEPTH_M)
        return depth;
    return quadratic_depth(equation.k / PRESSURE_DEPTH_M, height_m);
}

/* d = sqrt(4.25 P h/(S3 b)) with S3 = F S d. */
static double held_depth(double load_n, double height_m, double width_m, double bearing_pa_m)
{
    double cube = HELD * load_n * height_m / (bearing_pa_m * width_m);
    double depth = cbrt(cube);
    return depth <= PRESSURE_DEPTH_M ? depth : sqrt(cube / PRESSURE_DEPTH_M);
}

static double doubled(double bearing_pa_m, bool isolated)
{
    return isolated ? 2 * bearing_pa_m : bearing_pa_m;
}

int cy_post_depth(struct cy_depth_result *out, const struct cy_depth_input *in,
                  struct cy_trellis_domain *bad)
{
    if (!load_is_sound(bad, in->load_n) ||
        !ground_is_sound(bad, in->height_m, in->width_m, in->bearing_pa_m))
        return CY_INVALID;
    double bearing = doubled(in->bearing_pa_m, in->isolated);
    double depth = in->constrained ? held_depth(in->load_n, in->height_m, in->width_m, bearing)
                                   : free_depth(in->load_n, in->height_m, in->width_m, bearing);
    double s3 = bearing * fmin(depth, PRESSURE_DEPTH_M);
    double a = depth > 0 ? WIDTH * in->load_n / (s3 / 3 * in->width_m) : 0;
    *out = (struct cy_depth_result){depth, a, s3 / 3, s3};
    return CY_OK;
}

int cy_post_depth_at(struct cy_depth_result *out, double load_n, double height_m, double width_m,
                     double s1_pa, struct cy_trellis_domain *bad)
{
    if (!load_is_sound(bad, load_n) || !place_is_sound(bad, height_m, width_m) ||
        !cy_trellis__within(bad, "s1", CY_Q_PRESSURE, s1_pa, 10, 1e7))
        return CY_INVALID;
    double a = WIDTH * load_n / (s1_pa * width_m);
    *out = (struct cy_depth_result){quadratic_depth(a, height_m), a, s1_pa, 3 * s1_pa};
    return CY_OK;
}

static bool depth_is_sound(struct cy_trellis_domain *bad, double depth_m)
{
    return cy_trellis__within(bad, "depth", CY_Q_LENGTH, depth_m, 0.01, 30);
}

int cy_post_hold(double *out_n, const struct cy_hold_input *in, struct cy_trellis_domain *bad)
{
    if (!depth_is_sound(bad, in->depth_m) ||
        !ground_is_sound(bad, in->height_m, in->width_m, in->bearing_pa_m))
        return CY_INVALID;
    double s1 = doubled(in->bearing_pa_m, in->isolated) * fmin(in->depth_m, PRESSURE_DEPTH_M) / 3;
    double a = in->depth_m * in->depth_m / (in->depth_m + SHAPE / 4 * in->height_m);
    *out_n = a * s1 * in->width_m / WIDTH;
    return CY_OK;
}

int cy_post_broms(double *out_n, const struct cy_broms_input *in, struct cy_trellis_domain *bad)
{
    if (!depth_is_sound(bad, in->depth_m) || !place_is_sound(bad, in->height_m, in->width_m) ||
        !cy_trellis__within(bad, "unit_weight", CY_Q_PRESSURE_PER_LENGTH, in->unit_weight_n_m3,
                            1000, 30000) ||
        !cy_trellis__within(bad, "kp", CY_Q_NUMBER, in->kp, 1, 20))
        return CY_INVALID;
    *out_n = 0.5 * in->unit_weight_n_m3 * in->width_m * pow(in->depth_m, 3) * in->kp /
             (in->height_m + in->depth_m);
    return CY_OK;
}

static bool uplift_is_sound(struct cy_trellis_domain *bad, const struct cy_uplift_input *in)
{
    return depth_is_sound(bad, in->depth_m) &&
           cy_trellis__within(bad, "width", CY_Q_SIZE, in->diameter_m, 0.005, 10);
}

int cy_post_uplift_sand(double *out_n, const struct cy_uplift_input *in,
                        struct cy_trellis_domain *bad)
{
    if (!uplift_is_sound(bad, in) ||
        !cy_trellis__within(bad, "unit_weight", CY_Q_PRESSURE_PER_LENGTH, in->unit_weight_n_m3,
                            1000, 30000) ||
        !cy_trellis__within(bad, "k", CY_Q_NUMBER, in->k, 0, 5) ||
        !cy_trellis__within(bad, "friction", CY_Q_ANGLE, in->friction_deg, 0, 50))
        return CY_INVALID;
    *out_n = 0.5 * PI * in->diameter_m * in->k * in->unit_weight_n_m3 * in->depth_m * in->depth_m *
             tan(in->friction_deg * PI / 180);
    return CY_OK;
}

int cy_post_uplift_clay(double *out_n, const struct cy_uplift_input *in,
                        struct cy_trellis_domain *bad)
{
    if (!uplift_is_sound(bad, in) ||
        !cy_trellis__within(bad, "adhesion", CY_Q_PRESSURE, in->adhesion_pa, 0, 1e6))
        return CY_INVALID;
    *out_n = PI * in->diameter_m * in->depth_m * in->adhesion_pa;
    return CY_OK;
}
