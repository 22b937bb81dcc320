/* SPDX-License-Identifier: MIT
 * Bounds of inputs, and the root finder of this room. */
#include "inside.h"

#include <float.h>
#include <math.h>
#include <stddef.h>

bool cy_trellis__within(struct cy_trellis_domain *bad, const char *name, enum cy_quantity quantity,
                        double value, double low, double high)
{
    if (value >= low && value <= high)
        return true;
    if (bad)
        *bad = (struct cy_trellis_domain){name, quantity, low, high, NULL};
    return false;
}

bool cy_trellis__rule(struct cy_trellis_domain *bad, const char *name, bool holds, const char *rule)
{
    if (!holds && bad)
        *bad = (struct cy_trellis_domain){name, CY_Q_NUMBER, 0, 0, rule};
    return holds;
}

double cy_trellis__root(cy_trellis__function *function, double low, double high, double start,
                        const void *payload)
{
    double x = start;
    /* Halving alone would be done in about 60 turns; Newton usually needs five. */
    for (int turn = 0; turn < 200; turn++) {
        double slope;
        double value = function(&slope, x, payload);
        if (value == 0)
            return x;
        if (value < 0)
            low = x;
        else
            high = x;
        double next = x - value / slope;
        if (!(next > low && next < high))
            next = low + (high - low) / 2;
        if (fabs(next - x) <= DBL_EPSILON * fabs(next))
            return next;
        x = next;
    }
    return x;
}
