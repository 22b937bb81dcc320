/* SPDX-License-Identifier: MIT
 * Statistics: quantiles, means, the normal distribution. */
#include <caneyear/base/stats.h>

#include <math.h>
#include <stdlib.h>

/* NaN goes last. */
static int compare(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    if (isnan(x) || isnan(y))
        return isnan(x) - isnan(y);
    return (x > y) - (x < y);
}

void cy_sort(double *values, size_t count)
{
    if (count > 1)
        qsort(values, count, sizeof *values, compare);
}

double cy_quantile(const double *sorted, size_t count, double share)
{
    if (count == 0 || isnan(share))
        return NAN;
    double place = fmin(fmax(share, 0.0), 1.0) * (double)(count - 1);
    size_t below = (size_t)place;
    if (below + 1 >= count)
        return sorted[count - 1];
    double part = place - (double)below;
    return sorted[below] + part * (sorted[below + 1] - sorted[below]);
}

double cy_mean(const double *values, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += values[i];
    return count ? sum / (double)count : NAN;
}

double cy_deviation(const double *values, size_t count)
{
    if (count < 2)
        return NAN;
    double mean = cy_mean(values, count), sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += (values[i] - mean) * (values[i] - mean);
    return sqrt(sum / (double)(count - 1));
}

static const double root_half = 0.70710678118654752440;
static const double root_two_pi = 2.50662827463100050242;

double cy_normal_cdf(double z)
{
    return 0.5 * erfc(-z * root_half);
}

/* Starts from M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 26.2.23 (good
 * to 4.5e-4); Halley steps on the exact distribution treble the good digits each time. */
double cy_normal_inverse(double share)
{
    if (!(share > 0.0 && share < 1.0))
        return share == 0.0 ? -INFINITY : share == 1.0 ? INFINITY : NAN;
    if (share > 0.5)
        return -cy_normal_inverse(1.0 - share);
    double t = sqrt(-2.0 * log(share));
    double z = (2.515517 + t * (0.802853 + t * 0.010328)) /
                   (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308))) -
               t;
    for (int i = 0; i < 3; i++) {
        double step = (cy_normal_cdf(z) - share) * root_two_pi * exp(0.5 * z * z);
        z -= step / (1.0 + 0.5 * z * step);
    }
    return z;
}
