/* SPDX-License-Identifier: MIT
 * Shrinkage: a mean of few observations, drawn towards what was believed before.
 *
 * The belief counts as so many observations. With a belief of weight k and n observations y, all
 * of weight 1, the mean is (k belief + sum y) / (k + n): the posterior mean of a normal with a
 * normal prior, whose deviation is that of one observation over sqrt(k) (any textbook of Bayesian
 * statistics; D. V. Lindley and A. F. M. Smith, Journal of the Royal Statistical Society B 34,
 * 1972, from memory). */
#ifndef CANEYEAR_BASE_SHRINK_H
#define CANEYEAR_BASE_SHRINK_H

#include <stddef.h>

struct cy_shrink_belief {
    double value, weight;       /* weight above 0 */
    double noise, noise_weight; /* deviation of one observation around the truth, and as how many
                                 * observations that counts, above 0 */
};

struct cy_shrink_seen {
    double value, weight; /* weight above 0 to 1: less where it is less sure than the others */
};

struct cy_shrunk {
    double value;
    double weight;    /* of all that was seen */
    double noise;     /* the belief's, drawn towards the scatter of what was seen */
    double deviation; /* of the next observation around `value` */
};

void cy_shrink(struct cy_shrunk *out, const struct cy_shrink_belief *belief,
               const struct cy_shrink_seen *seen, size_t count);

/* The root mean square error of the mean after n observations of weight 1, where the belief is
 * off by `bias`: sqrt((k bias)^2 + n noise^2) / (k + n). */
double cy_shrink_error(double weight, double bias, double noise, double n);

#endif
