/* SPDX-License-Identifier: MIT
 * Cold injury against the published figures. */
#include <caneyear/crop/cold.h>

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static void near_or_fail(double got, double want, double within, const char *file, int line)
{
    if (fabs(got - want) <= within)
        return;
    print_error("%.10g is not within %g of %.10g\n", got, within, want);
    _fail(file, line);
}
#define assert_near(got, want, within) near_or_fail(got, want, within, __FILE__, __LINE__)

/* 27.5 F, range 27 to 28 F, for all flower stages: USDA-ARS data shown by NC State, April 2016. */
static void half_of_the_flowers_at_27_and_a_half(void **state)
{
    (void)state;
    double temp_c = (27.5 - 32) / 1.8;
    assert_near(cy_cold_flowers(CY_COLD_TIGHT, temp_c).share, 0.5, 1e-9);
    assert_near(cy_cold_flowers(CY_COLD_BLOOM, temp_c).share, 0.5, 1e-9);
    assert_true(cy_cold_flowers(CY_COLD_BLOOM, (27 - 32) / 1.8).share > 0.99);
    assert_true(cy_cold_flowers(CY_COLD_BLOOM, (28 - 32) / 1.8).share < 0.01);
}

/* All flowers of a cluster die within 1.6 C, in bloom 0.3 C: Warmund and others, Fruit Varieties
 * Journal 47(3), 1993. The span is read here as the middle 98 %. */
static void the_span_of_a_stage(void **state)
{
    (void)state;
    assert_near(cy_cold_flowers(CY_COLD_TIGHT, -2.5 + 0.8).share, 0.01, 1e-9);
    assert_near(cy_cold_flowers(CY_COLD_TIGHT, -2.5 - 0.8).share, 0.99, 1e-9);
    assert_near(cy_cold_flowers(CY_COLD_BLOOM, -2.5 - 0.15).share, 0.99, 1e-9);
}

/* T50 of 18 November 2023, Journal of the American Pomological Society, January 2024, table 3. */
static void dormant_buds_in_november(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double t50_c;
    } rows[] = {{"Ouachita", -19.1}, {"Von", -17.7},     {"Apache", -17.3},
                {"Navaho", -17.1},   {"Arapaho", -16.7}, {"Caddo", -16.1},
                {"Osage", -15.9},    {"Ponca", -15.7},   {"Natchez", -12.7}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct cy_cold_kill kill;
        assert_non_null(cy_cold_find(rows[i].name));
        assert_true(cy_cold_dormant(&kill, cy_cold_find(rows[i].name), cy_day_of(2023, 11, 18),
                                    rows[i].t50_c));
        assert_near(kill.t50_c, rows[i].t50_c, 0);
        assert_near(kill.share, 0.5, 1e-12);
    }
    assert_null(cy_cold_find("Himalaya"));
    assert_null(cy_cold_find(""));
}

/* Survival after -22 C on 22 December 2022, same paper, table 2: Ouachita 46.0 %, Natchez 4.7 %.
 * The width was fitted to these two with the T50 of January; other Decembers differ. */
static void near_the_survivals_of_a_cold_december(void **state)
{
    (void)state;
    struct cy_cold_kill kill;
    assert_true(cy_cold_dormant(&kill, cy_cold_find("Ouachita"), cy_day_of(2023, 1, 15), -22));
    assert_near(kill.share, 1 - 0.46, 0.03);
    assert_true(cy_cold_dormant(&kill, cy_cold_find("Natchez"), cy_day_of(2023, 1, 15), -22));
    assert_near(kill.share, 1 - 0.047, 0.03);
}

/* Freezing points of Illini Hardy: -15.0 November, -18.4 January, -13.8 March (1993). */
static void straight_between_dates_and_nothing_outside(void **state)
{
    (void)state;
    const struct cy_cold_cultivar *illini = cy_cold_find("illini hardy");
    struct cy_cold_kill kill;
    assert_non_null(illini);
    assert_true(cy_cold_dormant(&kill, illini, cy_day_of(2025, 1, 15), -10));
    assert_near(kill.t50_c, -18.4, 0);
    assert_true(cy_cold_dormant(&kill, illini, cy_day_of(2025, 2, 1), -10));
    assert_near(kill.t50_c, -18.4 + 4.6 * 17 / 59, 1e-9);
    assert_true(cy_cold_dormant(&kill, illini, cy_day_of(2025, 3, 15), -10));
    assert_false(cy_cold_dormant(&kill, illini, cy_day_of(2025, 3, 16), -10));
    assert_false(cy_cold_dormant(&kill, illini, cy_day_of(2025, 11, 14), -10));
    assert_false(cy_cold_dormant(&kill, cy_cold_find("Von"), cy_day_of(2025, 11, 19), -10));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(half_of_the_flowers_at_27_and_a_half),
        cmocka_unit_test(the_span_of_a_stage),
        cmocka_unit_test(dormant_buds_in_november),
        cmocka_unit_test(near_the_survivals_of_a_cold_december),
        cmocka_unit_test(straight_between_dates_and_nothing_outside),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
