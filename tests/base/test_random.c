/* SPDX-License-Identifier: MIT
 * Random numbers and fingerprints. */
#include <caneyear/base/random.h>

#include <caneyear/base/stats.h>

#include "support/near.h"

enum { DRAWS = 200000 };

static void follows_the_published_generator(void **state)
{
    (void)state;
    /* xoshiro256** from the state 1, 2, 3, 4: the first numbers by hand from its definition. */
    struct cy_random random = {{1, 2, 3, 4}};
    assert_int_equal(cy_random_next(&random), 11520); /* rotl(2 * 5, 7) * 9 */
    assert_int_equal(cy_random_next(&random), 0);     /* the second word is now 0 */
    assert_int_equal(cy_random_next(&random), UINT64_C(1509978240));
    assert_int_equal(cy_random_next(&random), UINT64_C(1215971899390074240));
}

static void one_seed_one_sequence(void **state)
{
    (void)state;
    struct cy_random a, b, other_stream, other_seed;
    cy_random_seed(&a, 42, 7);
    cy_random_seed(&b, 42, 7);
    cy_random_seed(&other_stream, 42, 8);
    cy_random_seed(&other_seed, 43, 7);
    int same_stream = 0, same_seed = 0;
    for (int i = 0; i < 1000; i++) {
        uint64_t next = cy_random_next(&a);
        assert_int_equal(next, cy_random_next(&b));
        same_stream += next == cy_random_next(&other_stream);
        same_seed += next == cy_random_next(&other_seed);
    }
    assert_int_equal(same_stream, 0);
    assert_int_equal(same_seed, 0);
}

static void seed_and_stream_do_not_stand_for_each_other(void **state)
{
    (void)state;
    struct cy_random a, b;
    cy_random_seed(&a, 3, 5);
    cy_random_seed(&b, 5, 3);
    assert_int_not_equal(cy_random_next(&a), cy_random_next(&b));
    cy_random_seed(&a, 0, 0);
    cy_random_seed(&b, 1, 1);
    assert_int_not_equal(cy_random_next(&a), cy_random_next(&b));
}

/* Streams of one seed side by side: no correlation beyond chance (5 standard errors). */
static void streams_are_independent(void **state)
{
    (void)state;
    double sum = 0;
    for (uint64_t stream = 0; stream < 10000; stream++) {
        struct cy_random a, b;
        cy_random_seed(&a, 9, stream);
        cy_random_seed(&b, 9, stream + 1);
        sum += cy_random_normal(&a) * cy_random_normal(&b);
    }
    assert_near(sum / 10000, 0, 5 / 100.0);
}

static void uniform_fills_its_interval(void **state)
{
    (void)state;
    struct cy_random random;
    cy_random_seed(&random, 5, 0);
    int counts[10] = {0};
    for (int i = 0; i < DRAWS; i++) {
        double value = cy_random_uniform(&random);
        assert_true(value >= 0 && value < 1);
        counts[(int)(value * 10)]++;
    }
    for (int i = 0; i < 10; i++) /* 5 standard errors of a binomial count */
        assert_near(counts[i], DRAWS / 10.0, 5 * sqrt(DRAWS * 0.1 * 0.9));
}

static void normal_has_its_moments_and_quantiles(void **state)
{
    (void)state;
    static double values[DRAWS];
    struct cy_random random;
    cy_random_seed(&random, 6, 0);
    for (int i = 0; i < DRAWS; i++)
        values[i] = cy_random_normal(&random);
    assert_near(cy_mean(values, DRAWS), 0, 5 / sqrt(DRAWS));
    assert_near(cy_deviation(values, DRAWS), 1, 5 / sqrt(2.0 * DRAWS));
    cy_sort(values, DRAWS);
    for (double share = 0.05; share < 1; share += 0.05)
        assert_near(cy_normal_cdf(cy_quantile(values, DRAWS, share)), share, 0.006);
}

/* Mean and variance of a gamma of scale 1 are both its shape. */
static void gamma_has_its_moments(void **state)
{
    (void)state;
    static double values[DRAWS];
    static const double shapes[] = {0.3, 0.7, 1, 2.5, 40};
    struct cy_random random;
    cy_random_seed(&random, 7, 0);
    for (size_t s = 0; s < sizeof shapes / sizeof *shapes; s++) {
        double shape = shapes[s];
        for (int i = 0; i < DRAWS; i++) {
            values[i] = cy_random_gamma(&random, shape);
            assert_true(values[i] >= 0 && isfinite(values[i]));
        }
        double deviation = cy_deviation(values, DRAWS);
        assert_near(cy_mean(values, DRAWS), shape, 5 * sqrt(shape / DRAWS));
        /* the variance's own deviation: 2 s^2 + 6 s over the number drawn */
        assert_near(deviation * deviation, shape,
                    5 * sqrt((2 * shape * shape + 6 * shape) / DRAWS));
    }
}

static void hashes(void **state)
{
    (void)state;
    /* FNV-1a, 64 bits: the vectors of IETF draft-eastlake-fnv, appendix C (from memory) */
    assert_int_equal(cy_hash(CY_HASH_START, "", 0), UINT64_C(0xcbf29ce484222325));
    assert_int_equal(cy_hash(CY_HASH_START, "a", 1), UINT64_C(0xaf63dc4c8601ec8c));
    assert_int_equal(cy_hash(CY_HASH_START, "foobar", 6), UINT64_C(0x85944171f73967e8));
    assert_int_equal(cy_hash_number(CY_HASH_START, 0.0), cy_hash_number(CY_HASH_START, -0.0));
    assert_int_not_equal(cy_hash_number(CY_HASH_START, 1), cy_hash_number(CY_HASH_START, 2));
    assert_int_equal(cy_hash_string(CY_HASH_START, NULL), cy_hash_string(CY_HASH_START, ""));
    uint64_t split = cy_hash_string(cy_hash_string(CY_HASH_START, "ab"), "c");
    assert_int_not_equal(split, cy_hash_string(cy_hash_string(CY_HASH_START, "a"), "bc"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(follows_the_published_generator),
        cmocka_unit_test(one_seed_one_sequence),
        cmocka_unit_test(seed_and_stream_do_not_stand_for_each_other),
        cmocka_unit_test(streams_are_independent),
        cmocka_unit_test(uniform_fills_its_interval),
        cmocka_unit_test(normal_has_its_moments_and_quantiles),
        cmocka_unit_test(gamma_has_its_moments),
        cmocka_unit_test(hashes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
