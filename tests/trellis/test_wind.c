/* SPDX-License-Identifier: MIT
 * Wind pressure, drag on the canopy, and what hangs on a row. */
#include "near.h"

#include <caneyear/trellis/load.h>
#include <caneyear/trellis/post.h>
#include <caneyear/trellis/wind.h>

#define MPH 0.44704

static struct cy_wind_result wind(double mph, enum cy_exposure exposure, double height_ft,
                                  double kd)
{
    struct cy_wind_input in = {mph * MPH, exposure, height_ft * FT, kd, CY_WIND_KZT};
    struct cy_wind_result result;
    assert_int_equal(cy_wind_pressure(&result, &in, NULL), CY_OK);
    return result;
}

/* P7: "ASCE 7 Wind Velocity Pressure", 115 mph, Kd 0.85, at 15 and 30 ft. The page rounds Kz to
 * two digits. */
static void test_printed_pressures(void **state)
{
    (void)state;
    static const struct {
        enum cy_exposure exposure;
        double height_ft, kz, psf, tolerance;
    } rows[] = {
        {CY_EXPOSURE_B, 15, 0.57, 16.40, 3e-4}, {CY_EXPOSURE_B, 30, 0.70, 20.14, 2e-3},
        {CY_EXPOSURE_C, 15, 0.85, 24.46, 3e-4}, {CY_EXPOSURE_C, 30, 0.98, 28.20, 3e-3},
        {CY_EXPOSURE_D, 15, 1.03, 29.64, 3e-4}, {CY_EXPOSURE_D, 30, 1.16, 33.38, 3e-3},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct cy_wind_result r = wind(115, rows[i].exposure, rows[i].height_ft, 0.85);
        near(r.kz, rows[i].kz, 3e-3);
        near(r.pressure_pa, rows[i].psf * PSF, rows[i].tolerance);
        near(r.pressure_pa / r.kz, 28.777 * PSF, 1e-4); /* 16.403 psf / 0.57 and so on */
    }
}

/* Exposure C by speed, from 0.00256 Kz Kd V^2 (worked). */
static void test_pressure_by_speed(void **state)
{
    (void)state;
    static const double mph[] = {40, 50, 60, 70, 80, 90, 100, 115};
    static const double psf[] = {2.96, 4.62, 6.66, 9.06, 11.84, 14.98, 18.50, 24.46};
    static const double full[] = {3.48, 5.44, 7.83, 10.66, 13.93, 17.63, 21.76, 28.78};
    for (int i = 0; i < 8; i++) {
        near(wind(mph[i], CY_EXPOSURE_C, 6, 0.85).pressure_pa, psf[i] * PSF, 1.5e-3);
        near(wind(mph[i], CY_EXPOSURE_C, 6, 1.0).pressure_pa, full[i] * PSF, 1.5e-3);
    }
}

/* The SI form prints 0.613: "ASCE 7 Wind Velocity Pressure". */
static void test_metric_constant(void **state)
{
    (void)state;
    near(wind(1 / MPH, CY_EXPOSURE_C, 6, 1).pressure_pa, 0.613 * 0.85, 1e-3);
}

/* Q21: 50 mph on 3 ft of canopy at 3.5 ft, posts 25 ft apart: 383.2 lb and 1341.2 ft-lb in leaf,
 * 265.3 lb bare. Drag 1.3 at 20 % porosity and 0.9 at 61 %: Gonzales and others, 2018. */
static void test_canopy(void **state)
{
    (void)state;
    struct cy_wind_result q = wind(50, CY_EXPOSURE_C, 3.5, CY_WIND_KD);
    near(q.pressure_pa, 4.624 * PSF, 1e-5);
    struct cy_canopy_input in = {q.pressure_pa, CY_POROSITY_LEAF, 3 * FT, 3.5 * FT, 25 * FT, 1};
    struct cy_canopy_result r;
    assert_int_equal(cy_wind_canopy(&r, &in, NULL), CY_OK);
    near(r.force_n, 383.2 * LB, 2e-4);
    near(r.moment_nm, 1341.2 * FT_LB, 2e-4);
    in.porosity = CY_POROSITY_BARE;
    assert_int_equal(cy_wind_canopy(&r, &in, NULL), CY_OK);
    near(r.drag, 0.9, 1e-12);
    near(r.force_n, 265.3 * LB, 2e-4);
    in.shelter = cy_wind_shelter(9);
    assert_int_equal(cy_wind_canopy(&r, &in, NULL), CY_OK);
    near(r.force_n, 0.7 * 265.3 * LB, 2e-4);
}

static void test_drag_is_clipped(void **state)
{
    (void)state;
    near(cy_wind_drag(0), 1.3, 1e-15);
    near(cy_wind_drag(0.20), 1.3, 1e-15);
    near(cy_wind_drag(0.405), 1.1, 1e-12);
    near(cy_wind_drag(1), 0.9, 1e-15);
    assert_true(cy_wind_shelter(1) == 1);
}

/* Higher or faster is never less, and more wind never lowers what it asks of a post. */
static void test_monotone(void **state)
{
    (void)state;
    for (int e = 0; e < CY_EXPOSURE_COUNT; e++) {
        double last = 0;
        for (double z = 0; z < 100; z += 0.01) {
            double kz = wind(60, (enum cy_exposure)e, z, 0.85).kz;
            assert_true(kz >= last);
            last = kz;
        }
    }
    struct cy_bending_input post = {.duration = CY_DURATION_WIND};
    assert_int_equal(cy_section_parse(&post.section, "4x4", 3, NULL), CY_OK);
    double last = 0;
    for (double mph = 0; mph < 150; mph += 1) {
        struct cy_canopy_input in = {
            wind(mph, CY_EXPOSURE_B, 4, 0.85).pressure_pa, 0.3, 1, 1.2, 7, 1};
        struct cy_canopy_result canopy;
        struct cy_bending_result use;
        assert_int_equal(cy_wind_canopy(&canopy, &in, NULL), CY_OK);
        post.moment_nm = canopy.moment_nm;
        assert_int_equal(cy_post_bending(&use, &post, NULL), CY_OK);
        assert_true(use.ratio >= last);
        last = use.ratio;
    }
    assert_true(last > 1);
}

static void refused(struct cy_wind_input in, const char *name)
{
    struct cy_wind_result result;
    struct cy_trellis_domain bad = {0};
    assert_int_equal(cy_wind_pressure(&result, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, name);
}

static void test_bounds(void **state)
{
    (void)state;
    refused((struct cy_wind_input){-1, CY_EXPOSURE_C, 2, 0.85, 1}, "speed");
    refused((struct cy_wind_input){NAN, CY_EXPOSURE_C, 2, 0.85, 1}, "speed");
    refused((struct cy_wind_input){20, (enum cy_exposure)7, 2, 0.85, 1}, "exposure");
    refused((struct cy_wind_input){20, CY_EXPOSURE_C, -2, 0.85, 1}, "height");
    refused((struct cy_wind_input){20, CY_EXPOSURE_C, 2, 0, 1}, "kd");
    refused((struct cy_wind_input){20, CY_EXPOSURE_C, 2, 0.85, 0.5}, "kzt");
}

static void test_exposure_words(void **state)
{
    (void)state;
    enum cy_exposure found;
    for (int e = 0; e < CY_EXPOSURE_COUNT; e++) {
        const char *word = cy_exposure_word((enum cy_exposure)e);
        assert_true(cy_exposure_parse(&found, word, strlen(word)));
        assert_int_equal(found, e);
    }
    assert_false(cy_exposure_parse(&found, "A", 1));
}

/* ---- what hangs on a row ---- */

/* Canopy 3 lb/ft (placeholder) with 10 000 lb/acre at 10 ft rows, which is 2.2957 lb/ft (Q36). */
static void test_stages(void **state)
{
    (void)state;
    double crop = 2.2957 * 0.45359237 / FT;
    struct cy_load_input in = cy_load_usual(CY_CANOPY_TRAILING_KG_M, crop);
    static const double lb_ft[] = {1.5, 3 * 1.15, 3 * 1.15 + 0.5 * 2.2957};
    static const double porosity[] = {0.61, 0.20, 0.20};
    for (int i = 0; i < CY_LOAD_STAGE_COUNT; i++) {
        struct cy_load load;
        assert_int_equal(cy_load_of(&load, (enum cy_load_stage)i, &in, NULL), CY_OK);
        near(load.weight_n_m, lb_ft[i] * LB_FT, 1e-9);
        near(load.porosity, porosity[i], 1e-12);
        assert_true(load.basis & CY_BASIS_PLACEHOLDER);
    }
    assert_string_equal(cy_load_stage_word(CY_LOAD_FRUIT), "in fruit");
    struct cy_load load;
    struct cy_trellis_domain bad;
    in.hanging_share = 1.5;
    assert_int_equal(cy_load_of(&load, CY_LOAD_FRUIT, &in, &bad), CY_INVALID);
    assert_string_equal(bad.name, "hanging_share");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_printed_pressures),
        cmocka_unit_test(test_pressure_by_speed),
        cmocka_unit_test(test_metric_constant),
        cmocka_unit_test(test_canopy),
        cmocka_unit_test(test_drag_is_clipped),
        cmocka_unit_test(test_monotone),
        cmocka_unit_test(test_bounds),
        cmocka_unit_test(test_exposure_words),
        cmocka_unit_test(test_stages),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
