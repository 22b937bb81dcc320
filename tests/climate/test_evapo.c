/* SPDX-License-Identifier: MIT
 * Reference evapotranspiration against the worked examples of FAO Irrigation and Drainage Paper
 * 56 (Allen, Pereira, Raes and Smith 1998), named here by example and page. */
#include "support/near.h"

#include <caneyear/climate/evapo.h>

static struct cy_evapo evapo_of(const struct cy_evapo_request *request)
{
    struct cy_evapo out;
    struct cy_issues issues = {0};

    assert_int_equal(cy_evapo_day(&out, request, &issues), CY_OK);
    assert_int_equal(issues.count, 0);
    return out;
}

static void example_2_pressure(void **state)
{
    double pressure = cy_evapo_pressure(1800);

    (void)state;
    assert_near(pressure, 81.8, 0.05); /* page 63 */
    assert_near(cy_evapo_psychrometric(pressure), 0.054, 0.0005);
}

static void example_3_saturation(void **state)
{
    double mean = (cy_evapo_saturation(24.5) + cy_evapo_saturation(15)) / 2;

    (void)state;
    assert_near(mean, 2.39, 0.005); /* page 69 */
}

static void example_4_wet_and_dry_bulb(void **state)
{
    (void)state;
    assert_near(cy_evapo_vapour_by_bulbs(25.6, 19.5, 87.9), 1.91, 0.005); /* page 70 */
}

static void example_5_humidity(void **state)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;
    struct cy_evapo evapo;

    (void)state;
    request.tmin_c = 18;
    request.tmax_c = 25;
    request.rh_max_pct = 82;
    request.rh_min_pct = 54;
    request.day_of_year = 100;
    evapo = evapo_of(&request);
    assert_near(evapo.ea_kpa, 1.70, 0.005); /* page 72 */
    assert_false(evapo.assumed & CY_EVAPO_ASSUMED_HUMIDITY);
    /* The maximum alone (equation 18): 0.82 of the saturation at 18 C. */
    request.rh_min_pct = NAN;
    evapo = evapo_of(&request);
    assert_near(evapo.ea_kpa, 0.82 * cy_evapo_saturation(18), 1e-12);
}

static void example_14_wind(void **state)
{
    (void)state;
    assert_near(cy_evapo_wind_at_two(3.2, 10), 2.4, 0.05); /* page 92 */
    assert_near(cy_evapo_wind_at_two(3.2, 2), 3.2, 0);
}

/* Page 111: Bangkok in April. Vapour pressure and wind read in a public transcription; the other
 * inputs and the printed results from memory. */
static void example_17_month_in_bangkok(void **state)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;
    struct cy_evapo evapo;

    (void)state;
    request.tmin_c = 25.6;
    request.tmax_c = 34.8;
    request.latitude_deg = 13 + 44 / 60.0;
    request.elevation_m = 2;
    request.day_of_year = 105;
    request.ea_kpa = 2.85;
    request.wind_m_s = 2;
    request.sun_hours = 8.5;
    request.ground_heat_mj = 0.14;
    evapo = evapo_of(&request);
    assert_int_equal(evapo.assumed, 0);
    assert_near(evapo.et_mm, 5.72, 0.01);
    assert_near(evapo.ra_mj, 38.06, 0.01);
    assert_near(evapo.rn_mj, 14.33, 0.01);
    assert_near(evapo.slope_kpa_k, 0.246, 0.0005);
    assert_near(evapo.gamma_kpa_k, 0.0674, 0.0001);
}

/* Page 113: Uccle, 6 July. */
static void example_18_day_in_uccle(void **state)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;
    struct cy_evapo evapo;

    (void)state;
    request.tmin_c = 12.3;
    request.tmax_c = 21.5;
    request.latitude_deg = 50 + 48 / 60.0;
    request.elevation_m = 100;
    request.day_of_year = 187;
    request.rh_max_pct = 84;
    request.rh_min_pct = 63;
    request.wind_m_s = 10 / 3.6; /* 10 km/h, which the page rounds to 2.78 */
    request.wind_height_m = 10;
    request.sun_hours = 9.25; /* from memory */
    evapo = evapo_of(&request);
    assert_int_equal(evapo.assumed, 0);
    assert_near(evapo.u2_m_s, 2.078, 0.0005);
    assert_near(evapo.es_kpa, 1.997, 0.0006);
    assert_near(evapo.ea_kpa, 1.409, 0.0006);
    assert_near(evapo.slope_kpa_k, 0.122, 0.0005);
    assert_near(evapo.gamma_kpa_k, 0.0666, 0.00005);
    assert_near(evapo.ra_mj, 41.09, 0.005);
    assert_near(evapo.daylight_h, 16.1, 0.05);
    assert_near(evapo.rs_mj, 22.07, 0.005);
    assert_near(evapo.rso_mj, 30.90, 0.005);
    assert_near(evapo.rnl_mj, 3.71, 0.005);
    assert_near(evapo.rn_mj, 13.28, 0.005);
    assert_near(evapo.et_mm, 3.9, 0.05);
    assert_near(evapo.et_mm, 3.8803, 0.0001); /* computed apart from this program */
    /* Measured radiation goes before hours of sun. */
    request.radiation_mj = 22.07;
    request.sun_hours = 1;
    assert_near(evapo_of(&request).et_mm, 3.88, 0.005);
}

/* Page 114: Lyon in July with temperatures alone; temperatures and latitude read in a public
 * transcription, altitude and printed results (4.56 and 5.0) from memory. */
static void example_20_temperatures_alone(void **state)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;
    struct cy_evapo evapo;

    (void)state;
    request.tmin_c = 14.8;
    request.tmax_c = 26.6;
    request.latitude_deg = 45 + 43 / 60.0;
    request.elevation_m = 200;
    request.day_of_year = 196;
    evapo = evapo_of(&request);
    assert_near(evapo.et_mm, 4.56, 0.01);
    assert_near(evapo.ra_mj, 40.6, 0.05);
    assert_near(evapo.rs_mj, 22.3, 0.05);
    assert_near(evapo.u2_m_s, 2, 0);
    assert_near(evapo.ea_kpa, 1.68, 0.005);
    assert_int_equal(evapo.assumed, CY_EVAPO_ASSUMED_WIND | CY_EVAPO_ASSUMED_HUMIDITY |
                                        CY_EVAPO_ASSUMED_RADIATION);
    request.method = CY_EVAPO_TEMPERATURE;
    evapo = evapo_of(&request);
    assert_near(evapo.et_mm, 5.0, 0.05);
    assert_int_equal(evapo.assumed, 0);
}

static void temperature_form_elsewhere(void **state)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN;

    (void)state;
    request.method = CY_EVAPO_TEMPERATURE;
    request.tmin_c = 21;
    request.tmax_c = 33;
    request.latitude_deg = 35;
    request.day_of_year = 196;
    assert_near(evapo_of(&request).et_mm, 5.9394, 1e-4); /* computed apart from this program */
    /* A bitter day asks for no water: the formula's negative figure counts as none. */
    request.tmin_c = -30;
    request.tmax_c = -20;
    assert_near(evapo_of(&request).et_mm, 0, 0);
}

static void drier_windier_sunnier_is_more(void **state)
{
    struct cy_evapo_request request = CY_EVAPO_UNKNOWN, changed;
    double before;

    (void)state;
    request.tmin_c = 18;
    request.tmax_c = 31;
    request.latitude_deg = 32;
    request.elevation_m = 60;
    request.day_of_year = 170;
    request.wind_m_s = 2;
    request.ea_kpa = 2;
    request.sun_hours = 8;
    before = evapo_of(&request).et_mm;
    changed = request;
    changed.wind_m_s = 4;
    assert_true(evapo_of(&changed).et_mm > before);
    changed = request;
    changed.ea_kpa = 1.5;
    assert_true(evapo_of(&changed).et_mm > before);
    changed = request;
    changed.sun_hours = 11;
    assert_true(evapo_of(&changed).et_mm > before);
}

static void refuse(const struct cy_evapo_request *request, enum cy_issue_code code,
                   const char *field)
{
    struct cy_evapo out;
    struct cy_issues issues = {0};

    assert_int_equal(cy_evapo_day(&out, request, &issues), CY_INVALID);
    assert_int_equal(issues.count, 1);
    assert_int_equal(issues.items[0].code, code);
    assert_string_equal(issues.items[0].field, field);
    assert_int_equal(cy_evapo_day(&out, request, NULL), CY_INVALID);
}

static void impossible_days_are_refused(void **state)
{
    struct cy_evapo_request good = CY_EVAPO_UNKNOWN, bad;

    (void)state;
    good.tmin_c = 10;
    good.tmax_c = 20;
    good.day_of_year = 100;
    bad = good;
    bad.tmin_c = 21;
    refuse(&bad, CY_ISSUE_PAIR, "tmin_c");
    bad = good;
    bad.day_of_year = 367;
    refuse(&bad, CY_ISSUE_OUT_OF_RANGE, "day_of_year");
    bad = good;
    bad.latitude_deg = 91;
    refuse(&bad, CY_ISSUE_OUT_OF_RANGE, "latitude_deg");
    bad = good;
    bad.tmax_c = NAN;
    refuse(&bad, CY_ISSUE_OUT_OF_RANGE, "tmax_c");
    bad = good;
    bad.rh_min_pct = 60;
    refuse(&bad, CY_ISSUE_MISSING, "rh_max_pct");
    bad.rh_max_pct = 50;
    refuse(&bad, CY_ISSUE_PAIR, "rh_min_pct");
    bad = good;
    bad.wind_m_s = 3;
    bad.wind_height_m = 0.05; /* the logarithm has no sense so low */
    refuse(&bad, CY_ISSUE_OUT_OF_RANGE, "wind_height_m");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(example_2_pressure),
        cmocka_unit_test(example_3_saturation),
        cmocka_unit_test(example_4_wet_and_dry_bulb),
        cmocka_unit_test(example_5_humidity),
        cmocka_unit_test(example_14_wind),
        cmocka_unit_test(example_17_month_in_bangkok),
        cmocka_unit_test(example_18_day_in_uccle),
        cmocka_unit_test(example_20_temperatures_alone),
        cmocka_unit_test(temperature_form_elsewhere),
        cmocka_unit_test(drier_windier_sunnier_is_more),
        cmocka_unit_test(impossible_days_are_refused),
    };
    return cmocka_run_group_tests_name("evapo", tests, NULL, NULL);
}
