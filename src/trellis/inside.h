/* SPDX-License-Identifier: MIT
 * What the files of this room share: US units in SI, bounds, one root finder. */
#ifndef TRELLIS_INSIDE_H
#define TRELLIS_INSIDE_H

#include <stdbool.h>

#include <caneyear/trellis/domain.h>

/* Exact by definition. */
#define PI 3.14159265358979323846
#define INCH_M 0.0254
#define FOOT_M 0.3048
#define POUND_KG 0.45359237
#define GRAVITY_M_S2 9.80665
#define POUND_N (POUND_KG * GRAVITY_M_S2)
#define PSI_PA (POUND_N / (INCH_M * INCH_M))
#define PSF_PA (POUND_N / (FOOT_M * FOOT_M))

/* Given in metres, 8 bays of 25 ft may come out as 8.000000000000001. */
#define COUNT_SLOP 1e-9

/* True if low <= value <= high; else (NaN too) says so in *bad, if there is one. */
bool cy_trellis__within(struct cy_trellis_domain *bad, const char *name, enum cy_quantity quantity,
                        double value, double low, double high);
/* The same for what is no range: returns `holds`. */
bool cy_trellis__rule(struct cy_trellis_domain *bad, const char *name, bool holds,
                      const char *rule);

/* The root of an increasing function in (low, high), by Newton's step where it stays inside the
 * bracket, by halving where it does not. `start` lies in the bracket. */
typedef double cy_trellis__function(double *slope, double x, const void *payload);
double cy_trellis__root(cy_trellis__function *function, double low, double high, double start,
                        const void *payload);

#endif
