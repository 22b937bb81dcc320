/* SPDX-License-Identifier: MIT
 * Shrinkage: a mean of few observations, drawn towards what was believed before. */
#include <caneyear/base/shrink.h>

#include <math.h>

/* The scatter of what was seen around its own mean, put together with the noise believed in. */
static double noise_of(const struct cy_shrink_belief *belief, const struct cy_shrink_seen *seen,
                       size_t count, double mean)
{
    double squares = belief->noise_weight * belief->noise * belief->noise;
    double freedom = belief->noise_weight;
    for (size_t i = 0; i < count; i++)
        squares += seen[i].weight * (seen[i].value - mean) * (seen[i].value - mean);
    if (count > 1)
        freedom += (double)count - 1;
    return sqrt(squares / freedom);
}

void cy_shrink(struct cy_shrunk *out, const struct cy_shrink_belief *belief,
               const struct cy_shrink_seen *seen, size_t count)
{
    double sum = 0, weight = 0;
    for (size_t i = 0; i < count; i++) {
        sum += seen[i].weight * seen[i].value;
        weight += seen[i].weight;
    }
    double all = belief->weight + weight;
    out->value = (belief->weight * belief->value + sum) / all;
    out->weight = weight;
    out->noise = noise_of(belief, seen, count, weight > 0 ? sum / weight : 0);
    out->deviation = out->noise * sqrt(1 + 1 / all);
}

double cy_shrink_error(double weight, double bias, double noise, double n)
{
    return sqrt(weight * bias * (weight * bias) + n * noise * noise) / (weight + n);
}
