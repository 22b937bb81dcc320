/* SPDX-License-Identifier: MIT
 * One cohort in weathers made by hand, where each date can be counted on the fingers. */
#ifndef TESTS_CROP_SCENE_H
#define TESTS_CROP_SCENE_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/random.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/crop/life.h>

#define LATITUDE 35.5

/* The cohort of 2026: it emerges in season 2026 and bears in 2027. */
struct scene {
    struct cy_member member;
    struct cy_traits traits;
    struct cy_cohort cohort;
    struct cy_luck luck;
    struct cy_life life;
};

static inline cy_day on(int year, int month, int day)
{
    return cy_day_of(year, month, day);
}

static inline int at(const struct scene *scene, cy_day day)
{
    int index = cy_weather_index(&scene->member.weather, day);
    assert_true(index >= 0);
    return index;
}

static inline void make_warmth(struct scene *scene)
{
    struct cy_weather *weather = &scene->member.weather;
    struct cy_warmth *warmth = &scene->member.warmth;
    assert_int_equal(cy_warmth_of(warmth, weather, LATITUDE), CY_OK);
    for (int i = 0; i < weather->days; i++) {
        struct cy_date date = cy_day_date(weather->first + i);
        bool growing = date.month >= 3 && date.month <= 10;
        warmth->heat_kh[i] = growing ? 200 : 0;
        for (int kind = 0; kind < CY_CHILL_KIND_COUNT; kind++)
            warmth->chill[kind][i] = growing ? 0 : 10;
    }
}

/* Seasons 2025 to 2028. From March to October each day brings 200 K.h, from November to February
 * 10 units of every chill; it never freezes but where a test says so. */
static inline void open_scene(struct scene *scene)
{
    *scene = (struct scene){0};
    cy_day first = on(2024, 11, 1), last = on(2028, 10, 31);
    struct cy_weather *weather = &scene->member.weather;
    assert_int_equal(cy_weather_init(weather, first, last - first + 1), CY_OK);
    for (int i = 0; i < weather->days; i++) {
        weather->tmin_c[i] = 5;
        weather->tmax_c[i] = 15;
    }
    make_warmth(scene);
    scene->traits = (struct cy_traits){
        .fruiting = CY_FRUITING_FLORICANE,
        .cropping = CY_CROPPING_FLORICANE,
        .chill_rule = CY_CHILL_HOURS_BELOW_45,
        .chill_need = {500, CY_BASIS_PUBLISHED, "a paper"},
        .bloom_heat_kh = {14000, CY_BASIS_FITTED, "our fit"},
        .bud_break_share = {0.35, CY_BASIS_PLACEHOLDER, ""},
        .bloom_to_peak_d = {49, CY_BASIS_PUBLISHED, "a table"},
        .pick_length_d = {32, CY_BASIS_PUBLISHED, "a range"},
        .emerge_heat_kh = {6000, CY_BASIS_PLACEHOLDER, ""},
        .emerge_spread_d = {12, CY_BASIS_PLACEHOLDER, ""},
        .growth_m_d = {0.02, CY_BASIS_PLACEHOLDER, ""},
        .tip_height_m = {1, CY_BASIS_GROWER, ""},
        .autumn_heat_kh = {20000, CY_BASIS_PLACEHOLDER, ""},
        .autumn_bloom_to_peak_d = {54, CY_BASIS_MEMORY, ""},
        .autumn_length_d = {60, CY_BASIS_MEMORY, ""},
        .winter_limit = {NAN, CY_BASIS_NONE, ""},
        .second_share = {0, CY_BASIS_PUBLISHED, "a post"}, /* but where a test says so */
    };
    cy_traits_set_errors(&scene->traits);
    scene->cohort = (struct cy_cohort){.year = 2026,
                                       .latitude_deg = LATITUDE,
                                       .stands = true,
                                       .emerges_here = true,
                                       .kept = true,
                                       .planted = CY_DAY_NONE};
    cy_sightings_clear(&scene->cohort.seen);
}

static inline void close_scene(struct scene *scene)
{
    cy_weather_dispose(&scene->member.weather);
    cy_warmth_dispose(&scene->member.warmth);
}

static inline void run(struct scene *scene)
{
    cy_life_run(&scene->life, &scene->traits, &scene->cohort, &scene->member, &scene->luck);
}

static inline void freeze(struct scene *scene, cy_day day, double low_c)
{
    scene->member.weather.tmin_c[at(scene, day)] = low_c;
}

static inline void assert_stage(const struct scene *scene, enum cy_stage stage, int year, int month,
                                int date)
{
    char found[CY_DAY_TEXT], wanted[CY_DAY_TEXT];
    assert_string_equal(cy_day_print(found, scene->life.day[stage]),
                        cy_day_print(wanted, on(year, month, date)));
    assert_int_equal(scene->life.never[stage], CY_COMES);
}

static inline void assert_never(const struct scene *scene, enum cy_stage first, enum cy_stage last,
                                enum cy_never why)
{
    for (int stage = first; stage <= (int)last; stage++) {
        assert_int_equal(scene->life.day[stage], CY_DAY_NONE);
        assert_int_equal(scene->life.never[stage], why);
    }
}

#endif
