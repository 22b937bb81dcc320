/* SPDX-License-Identifier: MIT
 * The pencil's bloom: by hand in even weather, its spread, its hemispheres, what is refused. */
#include "bench.h"

#include <stdlib.h>

#include <caneyear/base/array.h>

/* The model's own errors: Dickson and others, Horticulturae 9(10):1090, 2023 (half of the dates
 * within 7 days), and Vance and others, J. Amer. Pomol. Soc. 73(4), 2019 (55 to 65 days). */
#define BLOOM_SD 10.4
#define RIPE_SD 4.0
#define Z90 1.2815515655446004

static const struct cy_traits even = {
    .fruiting = CY_FRUITING_FLORICANE,
    .cropping = CY_CROPPING_FLORICANE,
    .chill_rule = CY_CHILL_HOURS_32_45,
    .chill_need = {NAN, CY_BASIS_NONE, ""},
    .bloom_heat_kh = {16900, CY_BASIS_FITTED, ""},
    .bud_break_share = {0.35, CY_BASIS_PLACEHOLDER, ""},
    .bloom_to_peak_d = {55, CY_BASIS_PUBLISHED, ""},
    .pick_length_d = {35, CY_BASIS_PUBLISHED, ""},
    .winter_limit = {NAN, CY_BASIS_NONE, ""},
    .second_share = {0.7, CY_BASIS_PUBLISHED, ""},
    .emerge_heat_kh = {6000, CY_BASIS_PLACEHOLDER, ""},
    .growth_m_d = {0.02, CY_BASIS_PLACEHOLDER, ""},
    .tip_height_m = {NAN, CY_BASIS_NONE, ""},
    .bloom_error_d = {BLOOM_SD, CY_BASIS_PUBLISHED, ""},
    .ripen_error_d = {RIPE_SD, CY_BASIS_PUBLISHED, ""},
};

/* Normals of the place "richmond-us-va", NOAA NCEI 1981-2010. */
static const struct cy_pencil_place richmond = {
    .latitude_deg = 37.505,
    .normals = {.tmin_c = {-2.1, -0.8, 2.8, 7.8, 12.8, 18.1, 20.5, 19.7, 15.6, 9.1, 4.1, -0.3},
                .tmax_c = {8.6, 10.7, 15.6, 21.3, 25.5, 30.1, 32.1, 30.9, 27.3, 21.7, 16.3, 10.4},
                .rain_mm = {77.2, 70.1, 102.6, 83.1, 96, 99.8, 114.6, 118.4, 104.9, 75.7, 82.3,
                            82.8}},
};

/* Days that are all as warm, from minimum to maximum. */
static struct cy_weather flat(cy_day first, cy_day last, double temp_c)
{
    struct cy_weather weather;
    assert_int_equal(cy_weather_init(&weather, first, last - first + 1), CY_OK);
    for (int i = 0; i < weather.days; i++)
        weather.tmin_c[i] = weather.tmax_c[i] = temp_c;
    return weather;
}

static struct bench bloom(const char *line, const struct cy_traits *traits,
                          const struct cy_weather *daily, const struct cy_pencil_place *place)
{
    struct cy_pencil_series series = {.daily = daily, .cultivar = traits, .place = place};
    return work_with("bloom", line, &series);
}

/* By hand: 16 C is 10 C above the base, 240 C h a day; 16,900 C h are reached on day 71 from
 * midwinter. The peak is 55 days on, 5 and 95 % lie half of 35 days from it. */
static void an_even_year_by_hand(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2012, 9, 1), cy_day_of(2014, 1, 31), 16);
    struct bench bench = bloom("cultivar=x year=2013 file=f lat=40", &even, &weather, NULL);
    assert_result(bench, 71, 0);
    assert_also(bench, "peak", 71 + 55, 0);
    assert_also(bench, "first", 126 - 17.5, 0.5);
    assert_also(bench, "last", 126 + 17.5, 0.5);
    assert_also(bench, "weathers", 1, 0);
    assert_also(bench, "never_blooms", 0, 0);
    cy_weather_dispose(&weather);
}

/* In an observed year only the model errs; independent errors add by their squares. Whole days. */
static void an_observed_year_has_the_published_errors_alone(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2012, 9, 1), cy_day_of(2014, 1, 31), 16);
    struct bench bench = bloom("cultivar=x year=2013 file=f", &even, &weather, NULL);
    double both = sqrt(BLOOM_SD * BLOOM_SD + RIPE_SD * RIPE_SD);
    assert_near(cy_life_constant(CY_LIFE_BLOOM_ERROR)->value, BLOOM_SD, 0);
    assert_near(cy_life_constant(CY_LIFE_RIPEN_ERROR)->value, RIPE_SD, 0);
    assert_also(bench, "p10", 71 - Z90 * BLOOM_SD, 0.5);
    assert_also(bench, "p90", 71 + Z90 * BLOOM_SD, 0.5);
    assert_also(bench, "peak_p10", 126 - Z90 * both, 1);
    assert_also(bench, "peak_p90", 126 + Z90 * both, 1);
    cy_weather_dispose(&weather);
}

/* A winter that a file lacks does not matter where nothing of it counts; a summer that it lacks
 * does not matter once it has bloomed. */
static void what_does_not_count_may_lack(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2013, 1, 1), cy_day_of(2013, 12, 31), 16);
    struct bench bench = bloom("cultivar=x year=2013 file=f", &even, &weather, NULL);
    assert_result(bench, 71, 0);
    assert_also(bench, "weathers", 1, 0);
    cy_weather_dispose(&weather);
    weather = flat(cy_day_of(2012, 9, 1), cy_day_of(2013, 5, 31), 16);
    bench = bloom("cultivar=x year=2013 file=f", &even, &weather, &richmond);
    assert_result(bench, 71, 0);
    assert_also(bench, "p10", 71 - Z90 * BLOOM_SD, 1);
    assert_also(bench, "weathers", 60, 0);
    cy_weather_dispose(&weather);
}

/* At 16 C no hour counts; at 5 C every one does, and none of them gives heat. */
static void chill_comes_first(void **state)
{
    (void)state;
    struct cy_traits needy = even;
    needy.chill_need = (struct cy_trait){480, CY_BASIS_PUBLISHED, ""};
    struct cy_weather weather = flat(cy_day_of(2012, 9, 1), cy_day_of(2014, 1, 31), 16);
    assert_refused(bloom("cultivar=x year=2013 file=f", &needy, &weather, NULL), CY_ISSUE_PAIR,
                   "cultivar");
    for (cy_day day = cy_day_of(2013, 1, 1); day <= cy_day_of(2013, 1, 31); day++) {
        int i = cy_weather_index(&weather, day);
        weather.tmin_c[i] = weather.tmax_c[i] = 5;
    }
    /* 480 h are met on 20 January; no heat until the 31st. */
    assert_result(bloom("cultivar=x year=2013 file=f", &needy, &weather, NULL), 31 + 71, 0);
    cy_weather_dispose(&weather);
}

/* A night below what the canes bear leaves nothing to bloom; one above it costs nothing. */
static void a_killing_winter_leaves_no_bloom(void **state)
{
    (void)state;
    struct cy_traits tender = even;
    tender.winter_limit = (struct cy_trait){-20, CY_BASIS_PUBLISHED, ""};
    struct cy_weather weather = flat(cy_day_of(2012, 9, 1), cy_day_of(2014, 1, 31), 16);
    int night = cy_weather_index(&weather, cy_day_of(2012, 12, 20));
    weather.tmin_c[night] = -19;
    assert_result(bloom("cultivar=x year=2013 file=f", &tender, &weather, NULL), 71, 0);
    weather.tmin_c[night] = -21;
    assert_refused(bloom("cultivar=x year=2013 file=f", &tender, &weather, NULL), CY_ISSUE_PAIR,
                   "cultivar");
    cy_weather_dispose(&weather);
}

/* Up to five days in a row may have been filled; a longer gap is no observation, and made days
 * stand in it. */
static void a_long_gap_is_not_observed(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2011, 9, 1), cy_day_of(2014, 1, 31), 16);
    int gap = cy_weather_index(&weather, cy_day_of(2013, 2, 3));
    for (int i = 0; i < 5; i++)
        weather.origin[gap + i] = CY_ORIGIN_FILLED;
    assert_also(bloom("cultivar=x year=2013 file=f", &even, &weather, NULL), "weathers", 1, 0);
    weather.origin[gap + 5] = CY_ORIGIN_FILLED;
    struct bench bench = bloom("cultivar=x year=2013 file=f", &even, &weather, NULL);
    assert_also(bench, "weathers", 60, 0);
    assert_result(bench, 71, 1);
    cy_weather_dispose(&weather);
}

/* Midwinter is 1 July; what runs past New Year counts on from 365. */
static void a_southern_year_counts_from_its_january(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2012, 1, 1), cy_day_of(2015, 12, 31), 16);
    struct bench bench = bloom("cultivar=x year=2013 lat=-38 file=f", &even, &weather, NULL);
    assert_result(bench, 181 + 71, 0);
    assert_also(bench, "peak", 252 + 55, 0);
    struct cy_traits late = even;
    late.bloom_to_peak_d.value = 118;
    bench = bloom("cultivar=x year=2013 lat=-38 file=f", &late, &weather, NULL);
    assert_also(bench, "peak", 252 + 118, 0);
    cy_weather_dispose(&weather);
}

/* 60 made years spread wider than the model's error alone. */
static void a_place_adds_the_weathers_spread(void **state)
{
    (void)state;
    struct bench bench = bloom("cultivar=x year=2020 place=p", &even, NULL, &richmond);
    assert_int_equal(bench.status, CY_OK);
    assert_also(bench, "weathers", 60, 0);
    double width = also_of(&bench, "p90") - also_of(&bench, "p10");
    assert_true(width > 2 * Z90 * BLOOM_SD);
    assert_true(width < 2 * 2 * Z90 * BLOOM_SD);
    assert_true(bench.result.value > 120 && bench.result.value < 160);
    struct bench again = bloom("cultivar=x year=2020 place=p", &even, NULL, &richmond);
    assert_true(again.result.value == bench.result.value);
    assert_int_equal(again.result.count, bench.result.count);
    for (size_t i = 0; i < bench.result.count; i++)
        assert_true(again.result.also[i].value == bench.result.also[i].value);
}

static void percentiles_and_stages_stand_in_order(void **state)
{
    (void)state;
    static const char *const names[] = {"first", "peak", "last"};
    for (double heat = 9000; heat < 24000; heat += 3000) {
        struct cy_traits traits = even;
        traits.bloom_heat_kh.value = heat;
        struct bench bench = bloom("cultivar=x year=2020 place=p", &traits, NULL, &richmond);
        double before = bench.result.value;
        assert_true(also_of(&bench, "p10") < before && before < also_of(&bench, "p90"));
        for (size_t i = 0; i < 3; i++) {
            char low[32], high[32];
            strcat(strcpy(low, names[i]), "_p10");
            strcat(strcpy(high, names[i]), "_p90");
            double middle = also_of(&bench, names[i]);
            assert_true(before < middle);
            assert_true(also_of(&bench, low) < middle && middle < also_of(&bench, high));
            before = middle;
        }
    }
}

/* A file that ends before the year lends its other years to it. */
static void a_year_to_come_takes_the_years_of_the_file(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2012, 1, 1), cy_day_of(2015, 12, 31), 16);
    struct bench bench = bloom("cultivar=x year=2017 file=f", &even, &weather, NULL);
    assert_also(bench, "weathers", 60, 0);
    /* The years of the file and the normals made of them are 16 C through and through; made days
     * vary around it. */
    assert_result(bench, 71, 3);
    assert_non_null(strstr(bench.result.note, "4 years of the file and 56 made years"));
    cy_weather_dispose(&weather);
}

static void what_cannot_be_answered_is_refused(void **state)
{
    (void)state;
    struct cy_weather weather = flat(cy_day_of(2012, 1, 1), cy_day_of(2012, 4, 8), 16);
    double hour = 5;
    struct cy_pencil_hours hours = {0, 0, &hour};
    struct cy_pencil_series hourly = {.hourly = &hours, .cultivar = &even};
    assert_refused(bloom("cultivar=x year=2013", &even, NULL, NULL), CY_ISSUE_MISSING, "place");
    assert_refused(bloom("cultivar=x year=2013 place=p", NULL, NULL, &richmond), CY_ISSUE_MISSING,
                   "cultivar");
    assert_refused(work_with("bloom", "cultivar=x year=2013 file=f", &hourly), CY_ISSUE_MISSING,
                   "file");
    assert_refused(bloom("year=2013 place=p", &even, NULL, &richmond), CY_ISSUE_MISSING,
                   "cultivar");
    assert_refused(bloom("cultivar=x place=p", &even, NULL, &richmond), CY_ISSUE_MISSING, "year");
    assert_refused(bloom("cultivar=x year=1700 place=p", &even, NULL, &richmond),
                   CY_ISSUE_OUT_OF_RANGE, "year");
    assert_refused(bloom("cultivar=x year=2013 place=p lat=89", &even, NULL, &richmond),
                   CY_ISSUE_OUT_OF_RANGE, "lat");
    struct bench bench = bloom("cultivar=x year=2012 file=f", &even, &weather, NULL);
    assert_int_equal(bench.status, CY_FAILED);
    assert_string_equal(bench.issues.items[0].field, "file");
    cy_weather_dispose(&weather);
}

/* The calendar's ends leave room for the seasons around the year. */
static void the_ends_of_the_calendar(void **state)
{
    (void)state;
    assert_int_equal(bloom("cultivar=x year=1803 place=p", &even, NULL, &richmond).status, CY_OK);
    assert_int_equal(bloom("cultivar=x year=2397 place=p lat=-38", &even, NULL, &richmond).status,
                     CY_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_even_year_by_hand),
        cmocka_unit_test(an_observed_year_has_the_published_errors_alone),
        cmocka_unit_test(what_does_not_count_may_lack),
        cmocka_unit_test(chill_comes_first),
        cmocka_unit_test(a_killing_winter_leaves_no_bloom),
        cmocka_unit_test(a_long_gap_is_not_observed),
        cmocka_unit_test(a_southern_year_counts_from_its_january),
        cmocka_unit_test(a_place_adds_the_weathers_spread),
        cmocka_unit_test(percentiles_and_stages_stand_in_order),
        cmocka_unit_test(a_year_to_come_takes_the_years_of_the_file),
        cmocka_unit_test(what_cannot_be_answered_is_refused),
        cmocka_unit_test(the_ends_of_the_calendar),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
