/* SPDX-License-Identifier: MIT
 * Random numbers from a seed: D. Blackman and S. Vigna's xoshiro256** (Scrambled linear
 * pseudorandom number generators, ACM TOMS 47(4), 2021), seeded by splitmix64 (G. L. Steele,
 * D. Lea and C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014). */
#include <caneyear/base/random.h>

#include <math.h>
#include <string.h>

static uint64_t splitmix(uint64_t *state)
{
    uint64_t z = (*state += UINT64_C(0x9E3779B97F4A7C15));
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

void cy_random_seed(struct cy_random *random, uint64_t seed, uint64_t stream)
{
    /* Both are scattered before they meet, so that neighbours have nothing in common. */
    uint64_t from_stream = ~stream;
    uint64_t state = splitmix(&seed) ^ splitmix(&from_stream);
    for (int i = 0; i < 4; i++)
        random->state[i] = splitmix(&state);
}

static uint64_t rotate(uint64_t x, int by)
{
    return (x << by) | (x >> (64 - by));
}

uint64_t cy_random_next(struct cy_random *random)
{
    uint64_t *s = random->state;
    const uint64_t result = rotate(s[1] * 5, 7) * 9;
    const uint64_t shifted = s[1] << 17;
    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= shifted;
    s[3] = rotate(s[3], 45);
    return result;
}

double cy_random_uniform(struct cy_random *random)
{
    return (double)(cy_random_next(random) >> 11) * 0x1p-53;
}

/* The polar method (G. Marsaglia and T. A. Bray, SIAM Review 6(3), 1964). Its second number is
 * thrown away, so that the state is the four words and nothing else. */
double cy_random_normal(struct cy_random *random)
{
    double u, v, square;
    do {
        u = 2.0 * cy_random_uniform(random) - 1.0;
        v = 2.0 * cy_random_uniform(random) - 1.0;
        square = u * u + v * v;
    } while (square >= 1.0 || square == 0.0);
    return u * sqrt(-2.0 * log(square) / square);
}

/* G. Marsaglia and W. W. Tsang, A simple method for generating gamma variables, ACM TOMS 26(3),
 * 2000; shapes below 1 by their section 6. */
double cy_random_gamma(struct cy_random *random, double shape)
{
    if (shape < 1.0) {
        double power = pow(1.0 - cy_random_uniform(random), 1.0 / shape);
        return power * cy_random_gamma(random, shape + 1.0);
    }
    const double d = shape - 1.0 / 3.0;
    const double c = 1.0 / sqrt(9.0 * d);
    for (;;) {
        double x = cy_random_normal(random);
        double v = 1.0 + c * x;
        if (v <= 0.0)
            continue;
        v = v * v * v;
        double u = 1.0 - cy_random_uniform(random); /* never 0 */
        if (log(u) < 0.5 * x * x + d - d * v + d * log(v))
            return d * v;
    }
}

uint64_t cy_hash(uint64_t hash, const void *bytes, unsigned long length)
{
    const unsigned char *byte = bytes;
    for (unsigned long i = 0; i < length; i++)
        hash = (hash ^ byte[i]) * UINT64_C(1099511628211);
    return hash;
}

uint64_t cy_hash_number(uint64_t hash, double value)
{
    uint64_t bits;
    value += 0.0; /* -0 becomes 0 */
    memcpy(&bits, &value, sizeof bits);
    /* Byte by byte from the low end: the same on machines of either byte order. */
    unsigned char bytes[8];
    for (int i = 0; i < 8; i++)
        bytes[i] = (unsigned char)(bits >> (8 * i));
    return cy_hash(hash, bytes, sizeof bytes);
}

uint64_t cy_hash_string(uint64_t hash, const char *string)
{
    /* The terminator is hashed too, so that "ab","c" differs from "a","bc". */
    return string ? cy_hash(hash, string, strlen(string) + 1) : cy_hash(hash, "", 1);
}
