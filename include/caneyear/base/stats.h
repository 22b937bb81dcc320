/* SPDX-License-Identifier: MIT
 * Statistics: quantiles, means, the normal distribution. */
#ifndef CANEYEAR_BASE_STATS_H
#define CANEYEAR_BASE_STATS_H

#include <stddef.h>

void cy_sort(double *values, size_t count);
/* Quantile `share` (0 to 1) of sorted values, straight between neighbours (Hyndman and Fan's
 * type 7, The American Statistician 50(4), 1996). NaN if there is none. */
double cy_quantile(const double *sorted, size_t count, double share);
double cy_mean(const double *values, size_t count);
double cy_deviation(const double *values, size_t count); /* of a sample: n - 1 */

double cy_normal_cdf(double z);
double cy_normal_inverse(double share); /* share in (0, 1), to 1e-9 */

#endif
