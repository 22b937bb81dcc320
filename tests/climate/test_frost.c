/* SPDX-License-Identifier: MIT
 * Frost odds: the days they are made from, the mixed normal, the plain ranks. */
#include "support/near.h"

#include <caneyear/climate/frost.h>

/* A warm run of days, with frost on the days named. */
static void warm(struct cy_weather *weather, cy_day first, cy_day last)
{
    assert_int_equal(cy_weather_init(weather, first, last - first + 1), 0);
    for (int i = 0; i < weather->days; i++) {
        weather->tmin_c[i] = 8;
        weather->tmax_c[i] = 18;
    }
}

static void freeze(struct cy_weather *weather, int year, int month, int day)
{
    weather->tmin_c[cy_weather_index(weather, cy_day_of(year, month, day))] = -1;
}

/* First and last freezes of New York in the public data set vega-datasets 3.2.1 (U.S. Government
 * data): last on or below 0 C before August, first after. */
static void new_york(struct cy_weather *weather)
{
    warm(weather, cy_day_of(2012, 1, 1), cy_day_of(2015, 12, 31));
    freeze(weather, 2012, 1, 15);
    freeze(weather, 2012, 3, 27);
    freeze(weather, 2013, 4, 4);
    freeze(weather, 2014, 4, 16);
    freeze(weather, 2015, 3, 29);
    freeze(weather, 2012, 11, 6);
    freeze(weather, 2013, 11, 12);
    freeze(weather, 2014, 11, 15);
    freeze(weather, 2015, 11, 24);
    freeze(weather, 2015, 12, 20);
}

static void springs_of_new_york(void **state)
{
    static const int numbers[] = {86, 94, 106, 88};
    struct cy_weather weather;
    struct cy_frost_list list;
    struct cy_frost_fit fit;
    double number;

    (void)state;
    new_york(&weather);
    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_SPRING, 0), 0);
    assert_int_equal(list.count, 4);
    for (int i = 0; i < 4; i++) {
        assert_int_equal(list.records[i].year, 2012 + i);
        assert_int_equal(list.records[i].number, numbers[i]);
    }
    cy_frost_fit(&fit, &list);
    assert_int_equal(fit.years, 4);
    assert_int_equal(fit.frozen, 4);
    assert_near(fit.share, 1, 0);
    assert_near(fit.mean, 93.5, 1e-12);
    assert_near(fit.sd, 9.0, 1e-9);
    /* Computed apart from this program. */
    assert_true(cy_frost_date(&number, &fit, 0.1));
    assert_near(number, 105.034, 0.0005);
    assert_true(cy_frost_date(&number, &fit, 0.9));
    assert_near(number, 81.966, 0.0005);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void autumns_of_new_york(void **state)
{
    static const int numbers[] = {310, 316, 319, 328};
    struct cy_weather weather;
    struct cy_frost_list list;
    struct cy_frost_fit fit;
    double early, late;

    (void)state;
    new_york(&weather);
    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_AUTUMN, 0), 0);
    /* The autumn of 2011 is not on record; that of 2015 is, since its freeze is. */
    assert_int_equal(list.count, 4);
    for (int i = 0; i < 4; i++) {
        assert_int_equal(list.records[i].year, 2012 + i);
        assert_int_equal(list.records[i].number, numbers[i]);
    }
    /* In one autumn of ten the first freeze comes before the early day. */
    cy_frost_fit(&fit, &list);
    assert_true(cy_frost_date(&early, &fit, 0.1));
    assert_true(cy_frost_date(&late, &fit, 0.9));
    assert_near(early, fit.mean - 1.281552 * fit.sd, 1e-4);
    assert_near(early + late, 2 * fit.mean, 1e-6);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void mild_seasons_count_where_known(void **state)
{
    struct cy_weather weather;
    struct cy_frost_list list;
    struct cy_frost_fit fit;

    (void)state;
    warm(&weather, cy_day_of(2010, 2, 1), cy_day_of(2013, 6, 30));
    freeze(&weather, 2010, 3, 5);
    freeze(&weather, 2012, 1, 20);
    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_SPRING, 0), 0);
    /* 2010 begins late but its freeze is on record; 2011 had none; 2013 is cut short. */
    assert_int_equal(list.count, 3);
    assert_int_equal(list.records[0].number, 64);
    assert_int_equal(list.records[1].number, 0);
    assert_int_equal(list.records[2].number, 20);
    cy_frost_fit(&fit, &list);
    assert_near(fit.share, 2 / 3.0, 1e-12);
    cy_frost_list_dispose(&list);

    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_AUTUMN, 0), 0);
    /* Autumns 2010 and 2011; that of 2012 is not over. A January freeze goes on past 365. */
    assert_int_equal(list.count, 2);
    assert_int_equal(list.records[0].number, 0);
    assert_int_equal(list.records[1].year, 2011);
    assert_int_equal(list.records[1].number, 385);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void the_threshold_itself_is_frost(void **state)
{
    struct cy_weather weather;
    struct cy_frost_list list;

    (void)state;
    warm(&weather, cy_day_of(2011, 1, 1), cy_day_of(2011, 12, 31));
    weather.tmin_c[99] = -2.2;
    weather.tmin_c[120] = -2.1;
    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_SPRING, -2.2), 0);
    assert_int_equal(list.count, 1);
    assert_int_equal(list.records[0].number, 100);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void southern_seasons_are_mirrored(void **state)
{
    struct cy_weather weather;
    struct cy_frost_list list;

    (void)state;
    warm(&weather, cy_day_of(2018, 1, 1), cy_day_of(2020, 12, 31));
    freeze(&weather, 2018, 5, 10);
    freeze(&weather, 2018, 10, 2);
    freeze(&weather, 2019, 6, 1);
    freeze(&weather, 2020, 1, 3);
    assert_int_equal(cy_frost_list(&list, &weather, true, CY_FROST_SPRING, 0), 0);
    /* 2017's spring freeze, were there one, is not on record; 2020's spring is not over. */
    assert_int_equal(list.count, 2);
    assert_int_equal(list.records[0].year, 2018);
    assert_int_equal(list.records[0].number, 275);
    assert_int_equal(list.records[1].year, 2019);
    assert_int_equal(list.records[1].number, 368);
    cy_frost_list_dispose(&list);

    assert_int_equal(cy_frost_list(&list, &weather, true, CY_FROST_AUTUMN, 0), 0);
    assert_int_equal(list.count, 2);
    assert_int_equal(list.records[0].number, 130);
    assert_int_equal(list.records[1].number, 152);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void nothing_known_gives_nothing(void **state)
{
    struct cy_weather weather;
    struct cy_frost_list list;
    struct cy_frost_fit fit;
    double number = 7;

    (void)state;
    warm(&weather, cy_day_of(2012, 9, 1), cy_day_of(2012, 9, 30));
    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_SPRING, 0), 0);
    assert_int_equal(list.count, 0);
    cy_frost_fit(&fit, &list);
    assert_int_equal(fit.years, 0);
    assert_true(isnan(fit.mean));
    assert_false(cy_frost_date(&number, &fit, 0.1));
    assert_false(cy_frost_empirical(&number, &list, 0.1));
    assert_near(number, 7, 0);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void calendar_ends_are_no_seasons(void **state)
{
    struct cy_weather weather;
    struct cy_frost_list list;

    (void)state;
    warm(&weather, cy_day_of(CY_YEAR_MIN, 1, 1), cy_day_of(CY_YEAR_MIN, 12, 31));
    assert_int_equal(cy_frost_list(&list, &weather, false, CY_FROST_AUTUMN, 0), 0);
    assert_int_equal(list.count, 0);
    cy_frost_list_dispose(&list);
    cy_weather_dispose(&weather);
}

static void numbers_fold_the_leap_day(void **state)
{
    (void)state;
    assert_int_equal(cy_frost_number(cy_day_of(2012, 2, 28), 2012), 59);
    assert_int_equal(cy_frost_number(cy_day_of(2012, 2, 29), 2012), 59);
    assert_int_equal(cy_frost_number(cy_day_of(2012, 3, 1), 2012), 60);
    assert_int_equal(cy_frost_number(cy_day_of(2011, 3, 1), 2011), 60);
    assert_int_equal(cy_frost_number(cy_day_of(2012, 12, 31), 2012), 365);
    assert_int_equal(cy_frost_number(cy_day_of(2013, 1, 1), 2012), 366);
    for (int number = 1; number <= 577; number++)
        for (int year = 2011; year <= 2012; year++)
            assert_int_equal(cy_frost_number(cy_frost_day(number, year), year), number);
    assert_int_equal(cy_frost_day(105.034, 2024), cy_day_of(2024, 4, 15));
    assert_int_equal(cy_frost_day(0, 2024), cy_day_of(2023, 12, 31));
}

/* ---- the mixed normal ----------------------------------------------------------------------- */

static void levels_of_a_normal(void **state)
{
    /* Mean 100, deviation 12; computed apart from this program. */
    static const struct {
        double share, level, number;
    } cases[] = {
        {1, 0.1, 115.3786},   {1, 0.2, 110.0995},  {1, 0.5, 100},
        {1, 0.8, 89.9005},    {1, 0.9, 84.6214},   {0.8, 0.1, 113.8042},
        {0.8, 0.2, 108.0939}, {0.8, 0.5, 96.1763}, {0.8, 0.7, 86.1958},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct cy_frost_fit fit = {CY_FROST_SPRING, 10, 8, cases[i].share, 100, 12};
        double number;
        assert_true(cy_frost_date(&number, &fit, cases[i].level));
        assert_near(number, cases[i].number, 1e-4);
        /* Autumn is its mirror image. */
        fit.season = CY_FROST_AUTUMN;
        assert_true(cy_frost_date(&number, &fit, cases[i].level));
        assert_near(number, 200 - cases[i].number, 1e-4);
    }
}

static void rarer_than_it_freezes_is_refused(void **state)
{
    struct cy_frost_fit fit = {CY_FROST_SPRING, 10, 8, 0.8, 100, 12};
    double number = 7;

    (void)state;
    assert_false(cy_frost_date(&number, &fit, 0.8));
    assert_false(cy_frost_date(&number, &fit, 0.9));
    assert_false(cy_frost_date(&number, &fit, 0));
    assert_false(cy_frost_date(&number, &fit, NAN));
    fit.sd = NAN; /* a single freeze has no spread */
    assert_false(cy_frost_date(&number, &fit, 0.1));
    assert_near(number, 7, 0);
}

static void ten_years(void **state)
{
    struct cy_frost_record records[] = {{1, 88},  {2, 95}, {3, 101}, {4, 79}, {5, 92},
                                        {6, 107}, {7, 84}, {8, 99},  {9, 90}, {10, 96}};
    struct cy_frost_list list = {CY_FROST_SPRING, records, 10};
    /* Computed apart from this program; the empirical ones are ranks i/(n + 1). */
    static const double levels[] = {0.1, 0.2, 0.5, 0.8, 0.9};
    static const double normal[] = {103.745, 100.090, 93.100, 86.110, 82.455};
    static const double empirical[] = {106.4, 100.6, 93.5, 84.8, 79.5};
    struct cy_frost_fit fit;
    double number;

    (void)state;
    cy_frost_fit(&fit, &list);
    assert_near(fit.mean, 93.1, 1e-9);
    assert_near(fit.sd, 8.3060, 1e-4);
    for (int i = 0; i < 5; i++) {
        assert_true(cy_frost_date(&number, &fit, levels[i]));
        assert_near(number, normal[i], 0.001);
        assert_true(cy_frost_empirical(&number, &list, levels[i]));
        assert_near(number, empirical[i], 1e-9);
    }
    /* Ten years say nothing of one in twenty. */
    assert_false(cy_frost_empirical(&number, &list, 0.05));
}

static void ranks_with_mild_years(void **state)
{
    struct cy_frost_record records[] = {{1, 50}, {2, 0}, {3, 60}, {4, 0}};
    struct cy_frost_list list = {CY_FROST_SPRING, records, 4};
    double number;

    (void)state;
    /* Spring ranks: none, none, 50, 60. */
    assert_true(cy_frost_empirical(&number, &list, 0.2));
    assert_near(number, 60, 1e-9);
    assert_true(cy_frost_empirical(&number, &list, 0.3));
    assert_near(number, 55, 1e-9);
    assert_true(cy_frost_empirical(&number, &list, 0.4));
    assert_near(number, 50, 1e-9);
    assert_false(cy_frost_empirical(&number, &list, 0.5));
    /* Autumn ranks: 50, 60, none, none. */
    list.season = CY_FROST_AUTUMN;
    assert_true(cy_frost_empirical(&number, &list, 0.2));
    assert_near(number, 50, 1e-9);
    assert_true(cy_frost_empirical(&number, &list, 0.4));
    assert_near(number, 60, 1e-9);
    assert_false(cy_frost_empirical(&number, &list, 0.5));
}

static void risk_is_the_date_read_backwards(void **state)
{
    /* Mean 100, deviation 12; computed apart from this program. */
    static const struct {
        double share, level, number;
    } cases[] = {{1, 0.1, 115.3786},   {1, 0.2, 110.0995},  {1, 0.5, 100},
                 {1, 0.8, 89.9005},    {1, 0.9, 84.6214},   {0.8, 0.1, 113.8042},
                 {0.8, 0.2, 108.0939}, {0.8, 0.5, 96.1763}, {0.8, 0.7, 86.1958}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct cy_frost_fit fit = {.season = CY_FROST_SPRING,
                                   .years = 30,
                                   .frozen = (int)(30 * cases[i].share),
                                   .share = cases[i].share,
                                   .mean = 100,
                                   .sd = 12};
        assert_near(cy_frost_risk(&fit, cases[i].number), cases[i].level, 1e-5);
        fit.season = CY_FROST_AUTUMN; /* the same mirrored at the mean */
        assert_near(cy_frost_risk(&fit, 200 - cases[i].number), cases[i].level, 1e-5);
    }
    struct cy_frost_fit never = {.season = CY_FROST_SPRING, .years = 9, .mean = NAN, .sd = NAN};
    assert_near(cy_frost_risk(&never, 100), 0, 0);
    struct cy_frost_fit once = {CY_FROST_SPRING, 9, 1, 1 / 9.0, 90, NAN};
    assert_true(isnan(cy_frost_risk(&once, 100)));
    struct cy_frost_fit same = {CY_FROST_SPRING, 4, 4, 1, 90, 0};
    assert_near(cy_frost_risk(&same, 89), 1, 0);
    assert_near(cy_frost_risk(&same, 90), 0, 0);
}

static void a_missing_day_hides_what_came_before_it(void **state)
{
    struct cy_weather weather;
    int number;

    (void)state;
    new_york(&weather);
    weather.tmin_c[cy_weather_index(&weather, cy_day_of(2013, 5, 20))] = NAN;
    weather.tmin_c[cy_weather_index(&weather, cy_day_of(2014, 2, 20))] = NAN;
    assert_false(cy_frost_outcome(&number, &weather, false, CY_FROST_SPRING, 2013, 0));
    /* The last freeze of 2014 came after the hole. */
    assert_true(cy_frost_outcome(&number, &weather, false, CY_FROST_SPRING, 2014, 0));
    assert_int_equal(number, 106);
    assert_true(cy_frost_outcome(&number, &weather, false, CY_FROST_SPRING, 2012, -5));
    assert_int_equal(number, 0);
    cy_weather_dispose(&weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(springs_of_new_york),
        cmocka_unit_test(autumns_of_new_york),
        cmocka_unit_test(mild_seasons_count_where_known),
        cmocka_unit_test(the_threshold_itself_is_frost),
        cmocka_unit_test(southern_seasons_are_mirrored),
        cmocka_unit_test(nothing_known_gives_nothing),
        cmocka_unit_test(calendar_ends_are_no_seasons),
        cmocka_unit_test(numbers_fold_the_leap_day),
        cmocka_unit_test(levels_of_a_normal),
        cmocka_unit_test(rarer_than_it_freezes_is_refused),
        cmocka_unit_test(ten_years),
        cmocka_unit_test(ranks_with_mild_years),
        cmocka_unit_test(risk_is_the_date_read_backwards),
        cmocka_unit_test(a_missing_day_hides_what_came_before_it),
    };
    return cmocka_run_group_tests_name("frost", tests, NULL, NULL);
}
