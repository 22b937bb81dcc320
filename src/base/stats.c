/* SPDX-License-Identifier: MIT
 * Statistics: quantiles, means, the normal distribution. */
#include <caneyear/base/stats.h>

#include <math.h>
#include <stdbool.h>

/* NaN goes last; how many numbers stand before it. */
static size_t part_off_nan(double *values, size_t count)
{
    size_t numbers = 0;
    for (size_t i = 0; i < count; i++)
        if (!isnan(values[i])) {
            double number = values[i];
            values[i] = values[numbers];
            values[numbers++] = number;
        }
    return numbers;
}

static bool is_sorted(const double *values, size_t count)
{
    for (size_t i = 1; i < count; i++)
        if (values[i - 1] > values[i])
            return false;
    return true;
}

/* D. L. Shell's sort (Communications of the ACM 2(7), 1959) with the gaps of M. Ciura (Best
 * increments for the average case of Shellsort, 2001; from memory), further ones 2.25 times as
 * wide: a plan sorts some hundred values many thousand times, and qsort asks for each pair by a
 * call. */
void cy_sort(double *values, size_t count)
{
    static const size_t gaps[] = {510774, 227011, 100894, 44842, 19930, 8858, 3937, 1750,
                                  701,    301,    132,    57,    23,    10,   4,    1};
    count = part_off_nan(values, count);
    if (is_sorted(values, count))
        return;
    for (size_t k = 0; k < sizeof gaps / sizeof *gaps; k++)
        for (size_t i = gaps[k]; i < count; i++) {
            double value = values[i];
            size_t at = i;
            for (; at >= gaps[k] && values[at - gaps[k]] > value; at -= gaps[k])
                values[at] = values[at - gaps[k]];
            values[at] = value;
        }
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
