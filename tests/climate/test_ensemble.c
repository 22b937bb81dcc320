/* SPDX-License-Identifier: MIT
 * The weathers of a forecast: which day of which member comes from where. */
#include <caneyear/climate/ensemble.h>

#include <math.h>
#include <string.h>

#include <caneyear/base/issue.h>

#include "support/near.h"

/* NOAA NCEI U.S. Climate Normals 1981-2010, Richmond VA, station USW00013740, read. */
static const struct cy_normals RICHMOND = {
    {-2.1, -0.8, 2.8, 7.8, 12.8, 18.1, 20.5, 19.7, 15.6, 9.1, 4.1, -0.3},
    {8.6, 10.7, 15.6, 21.3, 25.5, 30.1, 32.1, 30.9, 27.3, 21.7, 16.3, 10.4},
    {77.2, 70.1, 102.6, 83.1, 96.0, 99.8, 114.6, 118.4, 104.9, 75.7, 82.3, 82.8}};

/* A station whose days say their own date: the minimum is the day number. */
static struct cy_weather station_of(cy_day first, cy_day last)
{
    struct cy_weather station;
    assert_int_equal(cy_weather_init(&station, first, last - first + 1), CY_OK);
    for (int i = 0; i < station.days; i++) {
        station.tmin_c[i] = first + i;
        station.tmax_c[i] = first + i + 0.5;
        station.rain_mm[i] = i % 3;
        station.origin[i] = i % 10 == 9 ? CY_ORIGIN_FILLED : CY_ORIGIN_OBSERVED;
    }
    return station;
}

static struct cy_ensemble_request request_of(const struct cy_weather *station)
{
    return (struct cy_ensemble_request){
        .latitude_deg = 37.5,
        .normals = RICHMOND,
        .station = station,
        .today = cy_day_of(2025, 5, 10),
        .first = cy_day_of(2023, 10, 1),
        .last = cy_day_of(2027, 3, 31),
        .count = 8,
        .past_years = 3,
        .seed = 5,
    };
}

static struct cy_ensemble make(const struct cy_ensemble_request *request)
{
    struct cy_ensemble ensemble;
    assert_int_equal(cy_ensemble_make(&ensemble, request), CY_OK);
    return ensemble;
}

static bool day_is(const struct cy_member *member, cy_day day, cy_day source)
{
    int i = cy_weather_index(&member->weather, day);
    return member->weather.tmin_c[i] == source && member->weather.origin[i] != CY_ORIGIN_MADE;
}

static bool made(const struct cy_member *member, cy_day day)
{
    return member->weather.origin[cy_weather_index(&member->weather, day)] == CY_ORIGIN_MADE;
}

static bool same_member(const struct cy_member *a, const struct cy_member *b)
{
    size_t size = (size_t)a->weather.days * sizeof(double);
    return a->weather.days == b->weather.days && a->past_year == b->past_year &&
           !memcmp(a->weather.tmin_c, b->weather.tmin_c, size) &&
           !memcmp(a->weather.tmax_c, b->weather.tmax_c, size) &&
           !memcmp(a->weather.rain_mm, b->weather.rain_mm, size) &&
           !memcmp(a->weather.origin, b->weather.origin, (size_t)a->weather.days) &&
           !memcmp(a->warmth.heat_kh, b->warmth.heat_kh, size);
}

static void without_a_station_all_is_made(void **state)
{
    (void)state;
    struct cy_ensemble_request request = request_of(NULL);
    struct cy_ensemble ensemble = make(&request);
    assert_int_equal(ensemble.count, 8);
    assert_int_equal(ensemble.made_years, 8);
    assert_int_equal(ensemble.past_years, 0);
    assert_int_equal(ensemble.observed_days, 0);
    for (int i = 0; i < ensemble.count; i++) {
        const struct cy_member *member = &ensemble.members[i];
        assert_int_equal(member->weather.first, request.first);
        assert_int_equal(member->weather.days, request.last - request.first + 1);
        assert_int_equal(member->past_year, 0);
        for (cy_day day = request.first; day <= request.last; day++)
            assert_true(made(member, day));
        for (int j = 0; j < i; j++)
            assert_false(same_member(member, &ensemble.members[j]));
    }
    cy_ensemble_dispose(&ensemble);
    assert_null(ensemble.members);
}

static void station_days_stand_before_today(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2024, 1, 10), cy_day_of(2025, 5, 20));
    struct cy_ensemble_request request = request_of(&station);
    struct cy_ensemble ensemble = make(&request);
    assert_int_equal(ensemble.observed_days, request.today - station.first);
    assert_int_equal(ensemble.past_years, 0); /* no calendar year is complete */
    for (int i = 0; i < ensemble.count; i++) {
        const struct cy_member *member = &ensemble.members[i];
        for (cy_day day = request.first; day <= request.last; day++) {
            if (day >= station.first && day < request.today)
                assert_true(day_is(member, day, day));
            else
                assert_true(made(member, day));
        }
    }
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

/* The station reaches from mid 2019 to yesterday: 2020 to 2024 are complete, the last three are
 * asked for. */
static void members_go_on_with_past_years(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2019, 6, 1), cy_day_of(2025, 5, 9));
    struct cy_ensemble_request request = request_of(&station);
    struct cy_ensemble ensemble = make(&request);
    assert_int_equal(ensemble.past_years, 3);
    assert_int_equal(ensemble.made_years, 5);
    assert_int_equal(ensemble.observed_days, request.today - request.first);
    for (int i = 0; i < 3; i++)
        assert_int_equal(ensemble.members[i].past_year, 2024 - i);
    const struct cy_member *newest = &ensemble.members[0], *oldest = &ensemble.members[2];
    assert_true(day_is(newest, cy_day_of(2025, 5, 9), cy_day_of(2025, 5, 9)));
    assert_true(day_is(newest, cy_day_of(2025, 5, 10), cy_day_of(2024, 5, 10)));
    assert_true(day_is(newest, cy_day_of(2025, 12, 31), cy_day_of(2024, 12, 31)));
    assert_true(made(newest, cy_day_of(2026, 1, 1))); /* 2025 is not complete */
    assert_true(day_is(oldest, cy_day_of(2025, 5, 10), cy_day_of(2022, 5, 10)));
    assert_true(day_is(oldest, cy_day_of(2026, 7, 1), cy_day_of(2023, 7, 1)));
    assert_true(day_is(oldest, cy_day_of(2027, 2, 28), cy_day_of(2024, 2, 28)));
    assert_true(day_is(oldest, cy_day_of(2027, 3, 31), cy_day_of(2024, 3, 31)));
    for (int i = 3; i < 8; i++)
        assert_true(made(&ensemble.members[i], request.today));
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

static void a_leap_day_repeats_the_28th(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2021, 1, 1), cy_day_of(2023, 12, 31));
    struct cy_ensemble_request request = request_of(&station);
    request.today = request.first = cy_day_of(2024, 1, 1);
    request.last = cy_day_of(2024, 12, 31);
    struct cy_ensemble ensemble = make(&request);
    const struct cy_member *member = &ensemble.members[0];
    assert_true(day_is(member, cy_day_of(2024, 2, 28), cy_day_of(2023, 2, 28)));
    assert_true(day_is(member, cy_day_of(2024, 2, 29), cy_day_of(2023, 2, 28)));
    assert_true(day_is(member, cy_day_of(2024, 3, 1), cy_day_of(2023, 3, 1)));
    assert_true(day_is(member, cy_day_of(2024, 12, 31), cy_day_of(2023, 12, 31)));
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

/* With today set back, what the station saw later must not leak into the forecast. */
static void days_from_today_on_are_not_peeked_at(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2020, 1, 1), cy_day_of(2025, 12, 31));
    struct cy_ensemble_request request = request_of(&station);
    request.count = request.past_years = 10;
    request.today = cy_day_of(2024, 12, 31);
    struct cy_ensemble ensemble = make(&request);
    assert_int_equal(ensemble.past_years, 4); /* 2020 to 2023: 2024 lacks its last day */
    for (int i = 0; i < ensemble.count; i++) {
        const struct cy_weather *weather = &ensemble.members[i].weather;
        for (int j = 0; j < weather->days; j++)
            assert_true(weather->origin[j] == CY_ORIGIN_MADE || weather->tmin_c[j] < request.today);
    }
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

/* 2022 misses a day, so 2021 cannot go on into it, and the years in use are 2024, 2023, 2021. */
static void a_year_that_misses_a_day_is_left_out(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2019, 6, 1), cy_day_of(2025, 5, 9));
    station.tmin_c[cy_weather_index(&station, cy_day_of(2022, 8, 3))] = NAN;
    struct cy_ensemble_request request = request_of(&station);
    struct cy_ensemble ensemble = make(&request);
    assert_int_equal(ensemble.past_years, 3);
    assert_int_equal(ensemble.members[0].past_year, 2024);
    assert_int_equal(ensemble.members[1].past_year, 2023);
    assert_int_equal(ensemble.members[2].past_year, 2021);
    assert_true(day_is(&ensemble.members[1], cy_day_of(2026, 6, 1), cy_day_of(2024, 6, 1)));
    assert_true(day_is(&ensemble.members[2], cy_day_of(2025, 12, 31), cy_day_of(2021, 12, 31)));
    assert_true(made(&ensemble.members[2], cy_day_of(2026, 1, 1)));
    assert_true(made(&ensemble.members[2], cy_day_of(2027, 1, 1)));
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

static void missing_days_and_rain_are_made(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2019, 6, 1), cy_day_of(2025, 5, 9));
    cy_day missing = cy_day_of(2025, 2, 3), dry = cy_day_of(2025, 3, 1);
    station.tmax_c[missing - station.first] = station.tmin_c[missing - station.first] = NAN;
    station.rain_mm[dry - station.first] = NAN;
    struct cy_ensemble_request request = request_of(&station), none = request_of(NULL);
    struct cy_ensemble ensemble = make(&request), all_made = make(&none);
    assert_int_equal(ensemble.observed_days, request.today - request.first - 1);
    for (int i = 0; i < ensemble.count; i++) {
        const struct cy_weather *weather = &ensemble.members[i].weather;
        int lacks = dry - weather->first;
        assert_true(made(&ensemble.members[i], missing));
        assert_true(day_is(&ensemble.members[i], dry, dry));
        assert_near(weather->rain_mm[lacks], all_made.members[i].weather.rain_mm[lacks], 0);
        for (int k = 0; k < weather->days; k++)
            assert_false(isnan(weather->tmin_c[k]) || isnan(weather->tmax_c[k]) ||
                         isnan(weather->rain_mm[k]));
    }
    cy_ensemble_dispose(&all_made);
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

static void origins_come_along(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2020, 1, 1), cy_day_of(2025, 5, 9));
    struct cy_ensemble_request request = request_of(&station);
    struct cy_ensemble ensemble = make(&request);
    const struct cy_weather *weather = &ensemble.members[1].weather;
    for (int i = 0; i < weather->days; i++) {
        if (weather->origin[i] == CY_ORIGIN_MADE)
            continue;
        int source = cy_weather_index(&station, (cy_day)weather->tmin_c[i]);
        assert_int_equal(weather->origin[i], station.origin[source]);
        assert_near(weather->rain_mm[i], station.rain_mm[source], 0);
        assert_near(weather->tmax_c[i], station.tmax_c[source], 0);
    }
    cy_ensemble_dispose(&ensemble);
    cy_weather_dispose(&station);
}

static void a_member_is_the_same_in_any_size(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2019, 6, 1), cy_day_of(2025, 5, 9));
    struct cy_ensemble_request request = request_of(&station);
    struct cy_ensemble eight = make(&request);
    request.count = 2;
    struct cy_ensemble two = make(&request);
    assert_int_equal(two.past_years, 2);
    for (int i = 0; i < 2; i++)
        assert_true(same_member(&two.members[i], &eight.members[i]));
    cy_ensemble_dispose(&two);
    cy_ensemble_dispose(&eight);
    cy_weather_dispose(&station);
}

static void a_new_day_changes_no_made_one(void **state)
{
    (void)state;
    struct cy_weather station = station_of(cy_day_of(2025, 1, 1), cy_day_of(2025, 5, 9));
    struct cy_ensemble_request request = request_of(&station);
    struct cy_ensemble before = make(&request);
    station.days--;
    request.today--;
    struct cy_ensemble after = make(&request);
    for (int i = 0; i < request.count; i++) {
        for (cy_day day = request.today + 1; day <= request.last; day++) {
            int j = cy_weather_index(&before.members[i].weather, day);
            assert_near(before.members[i].weather.tmin_c[j], after.members[i].weather.tmin_c[j], 0);
        }
    }
    cy_ensemble_dispose(&before);
    cy_ensemble_dispose(&after);
    cy_weather_dispose(&station);
}

static void warmth_belongs_to_its_weather(void **state)
{
    (void)state;
    struct cy_ensemble_request request = request_of(NULL);
    struct cy_ensemble ensemble = make(&request);
    struct cy_warmth warmth;
    const struct cy_member *member = &ensemble.members[4];
    assert_int_equal(cy_warmth_of(&warmth, &member->weather, request.latitude_deg), CY_OK);
    size_t size = (size_t)warmth.days * sizeof(double);
    for (int kind = 0; kind < CY_CHILL_KIND_COUNT; kind++)
        assert_memory_equal(warmth.chill[kind], member->warmth.chill[kind], size);
    assert_memory_equal(warmth.heat_kh, member->warmth.heat_kh, size);
    cy_warmth_dispose(&warmth);
    cy_ensemble_dispose(&ensemble);
}

static bool stop_halfway(double share, void *payload)
{
    int *calls = payload;
    (*calls)++;
    return share < 0.5;
}

static bool go_on(double share, void *payload)
{
    double *last = payload;
    assert_true(share > *last);
    *last = share;
    return true;
}

static void progress_reaches_the_end_and_can_cancel(void **state)
{
    (void)state;
    struct cy_ensemble_request request = request_of(NULL);
    struct cy_ensemble ensemble;
    double last = 0;
    request.progress = go_on;
    request.payload = &last;
    assert_int_equal(cy_ensemble_make(&ensemble, &request), CY_OK);
    assert_near(last, 1, 0);
    cy_ensemble_dispose(&ensemble);
    int calls = 0;
    request.progress = stop_halfway;
    request.payload = &calls;
    assert_int_equal(cy_ensemble_make(&ensemble, &request), CY_CANCELLED);
    assert_int_equal(calls, 4);
    assert_null(ensemble.members);
    assert_int_equal(ensemble.count, 0);
}

static void nonsense_is_refused(void **state)
{
    (void)state;
    struct cy_ensemble_request request = request_of(NULL);
    struct cy_ensemble ensemble;
    request.count = 0;
    assert_int_equal(cy_ensemble_make(&ensemble, &request), CY_INVALID);
    request = request_of(NULL);
    request.last = request.first - 1;
    assert_int_equal(cy_ensemble_make(&ensemble, &request), CY_INVALID);
    assert_null(ensemble.members);
    cy_ensemble_dispose(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_a_station_all_is_made),
        cmocka_unit_test(station_days_stand_before_today),
        cmocka_unit_test(members_go_on_with_past_years),
        cmocka_unit_test(a_leap_day_repeats_the_28th),
        cmocka_unit_test(days_from_today_on_are_not_peeked_at),
        cmocka_unit_test(a_year_that_misses_a_day_is_left_out),
        cmocka_unit_test(missing_days_and_rain_are_made),
        cmocka_unit_test(origins_come_along),
        cmocka_unit_test(a_member_is_the_same_in_any_size),
        cmocka_unit_test(a_new_day_changes_no_made_one),
        cmocka_unit_test(warmth_belongs_to_its_weather),
        cmocka_unit_test(progress_reaches_the_end_and_can_cancel),
        cmocka_unit_test(nonsense_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
