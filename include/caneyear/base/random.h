/* SPDX-License-Identifier: MIT
 * Random numbers from a seed and nothing else: the same on every machine (normal and gamma
 * numbers as far as its logarithm is). */
#ifndef CANEYEAR_BASE_RANDOM_H
#define CANEYEAR_BASE_RANDOM_H

#include <stdint.h>

struct cy_random {
    uint64_t state[4];
};

/* Streams of one seed are independent of one another: member 7 is the same with 60 as with 600. */
void cy_random_seed(struct cy_random *random, uint64_t seed, uint64_t stream);
uint64_t cy_random_next(struct cy_random *random);
double cy_random_uniform(struct cy_random *random);             /* in [0, 1) */
double cy_random_normal(struct cy_random *random);              /* mean 0, deviation 1 */
double cy_random_gamma(struct cy_random *random, double shape); /* scale 1, shape > 0 */

/* FNV-1a over bytes, for fingerprints; start with CY_HASH_START. */
#define CY_HASH_START UINT64_C(14695981039346656037)
uint64_t cy_hash(uint64_t hash, const void *bytes, unsigned long length);
uint64_t cy_hash_number(uint64_t hash, double value);       /* -0 counts as 0 */
uint64_t cy_hash_string(uint64_t hash, const char *string); /* NULL counts as "" */

#endif
