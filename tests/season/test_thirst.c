/* SPDX-License-Identifier: MIT
 * What rain leaves a young planting short of: storms, what the soil holds, weathers side by side.
 */
#include "season/farms.h"

#include <caneyear/water/need.h>
#include <caneyear/water/soil.h>

#include "season/plan_parts.h"

#define INCH 25.4 /* a week: University of Kentucky slides */
#define MEMBERS 10
#define START cy_day_of(2027, 5, 3)

static void assert_near(double actual, double expected, double within)
{
    if (!(fabs(actual - expected) <= within))
        fail_msg("%.12g is not %.12g within %g", actual, expected, within);
}

/* Weathers of `weeks` dry weeks. */
static void dry_weeks(struct cy_ensemble *ensemble, struct cy_member *members, int count, int weeks)
{
    *ensemble = (struct cy_ensemble){.members = members, .count = count};
    for (int i = 0; i < count; i++)
        assert_int_equal(cy_weather_init(&members[i].weather, START, 7 * weeks), CY_OK);
}

static void dispose(struct cy_member *members, int count)
{
    for (int i = 0; i < count; i++)
        cy_weather_dispose(&members[i].weather);
}

static void farm_with_soil(struct cy_farm *farm, const char *soil)
{
    assert_int_equal(cy_farm_init(farm), CY_OK);
    if (soil)
        put(farm, "site.soil", soil);
}

/* What the weeks from START on lack, one after another, in the only weather. */
static void missing_after(double *missing_mm, const struct cy_farm *farm, const double *rain_mm,
                          int weeks)
{
    struct cy_member members[1] = {0};
    struct cy_ensemble ensemble;
    struct cy_thirst thirst;
    double share;
    dry_weeks(&ensemble, members, 1, weeks);
    for (int week = 0; week < weeks; week++) /* all of it on the week's third day */
        members[0].weather.rain_mm[7 * week + 2] = rain_mm[week];
    assert_int_equal(cy_thirst_begin(&thirst, farm, &ensemble), CY_OK);
    for (int week = 0; week < weeks; week++) {
        struct cy_figure figure = cy_thirst_week(&thirst, START + 7 * week, 2.54, &share);
        assert_near(figure.p10, figure.p90, 0);
        assert_near(share, figure.p50 >= 2.54, 0);
        missing_mm[week] = figure.p50;
    }
    cy_thirst_end(&thirst);
    dispose(members, 1);
}

static void a_week_wants_an_inch_less_its_rain(void **state)
{
    (void)state;
    struct cy_farm farm;
    double missing[4];
    farm_with_soil(&farm, "silt loam");
    missing_after(missing, &farm, (const double[]){0, 10, INCH, 24}, 4);
    assert_near(missing[0], INCH, 1e-9);
    assert_near(missing[1], INCH - 10, 1e-9);
    assert_near(missing[2], 0, 1e-9);
    assert_near(missing[3], 1.4, 1e-9);
    cy_farm_dispose(&farm);
}

/* Silt loam holds 0.29 - 0.15 of its volume (FAO-56 Table 19, from memory): 42 mm in 0.3 m. */
static void a_storm_counts_as_far_as_the_soil_holds_it(void **state)
{
    (void)state;
    struct cy_farm farm;
    double missing[4];
    farm_with_soil(&farm, "silt loam");
    missing_after(missing, &farm, (const double[]){300, 0, 0, 0}, 4);
    assert_near(missing[0], 0, 1e-9);
    assert_near(missing[1], INCH - (42 - INCH), 1e-9); /* what the storm left in the soil */
    assert_near(missing[2], INCH, 1e-9);
    /* The same storm in two weeks is worth more than in one. */
    double spread[4];
    missing_after(spread, &farm, (const double[]){150, 150, 0, 0}, 4);
    assert_near(spread[1], 0, 1e-9);
    assert_near(spread[2], INCH - (42 - INCH), 1e-9);
    cy_farm_dispose(&farm);
    /* Sand, 0.12 - 0.045, holds 22.5 mm: less than the week's need itself. */
    farm_with_soil(&farm, "sand");
    missing_after(missing, &farm, (const double[]){300, 0, 0, 0}, 4);
    assert_near(missing[0], INCH - 22.5, 1e-9);
    assert_near(missing[1], INCH, 1e-9);
    cy_farm_dispose(&farm);
}

static void the_soil_holds_by_texture_and_depth(void **state)
{
    (void)state;
    static const struct {
        const char *soil;
        double mm;
    } soils[] = {{"sand", 22.5},    {"loamy sand", 27}, {"sandy loam", 36},
                 {"silt loam", 42}, {"silt", 51},       {"silty clay", 36},
                 {"loam", 39},      {"clay", 39}}; /* the last two: no figure of their own */
    struct cy_farm farm;
    cy_basis basis;
    for (size_t i = 0; i < sizeof soils / sizeof *soils; i++) {
        farm_with_soil(&farm, soils[i].soil);
        assert_near(cy_thirst_storage_mm(&basis, &farm), soils[i].mm, 1e-9);
        assert_int_equal(!(basis & CY_BASIS_PLACEHOLDER), i < 6);
        assert_true(basis & (i < 6 ? CY_BASIS_MEMORY : CY_BASIS_PLACEHOLDER));
        cy_farm_dispose(&farm);
    }
    farm_with_soil(&farm, NULL); /* nobody said which */
    cy_thirst_storage_mm(&basis, &farm);
    assert_true(basis & CY_BASIS_PLACEHOLDER);
    put(&farm, "site.soil_water", "20 %"); /* measured */
    assert_near(cy_thirst_storage_mm(&basis, &farm), 60, 1e-9);
    assert_false(basis & CY_BASIS_PLACEHOLDER);
    put(&farm, "site.soil_depth", "0.1 m"); /* rock below */
    assert_near(cy_thirst_storage_mm(&basis, &farm), 20, 1e-9);
    put(&farm, "site.soil_depth", "2 m"); /* young roots reach no deeper for that */
    assert_near(cy_thirst_storage_mm(&basis, &farm), 60, 1e-9);
    cy_farm_dispose(&farm);
}

/* Each weather keeps its own soil: which is the driest may change from week to week. */
static void weathers_do_not_share_their_soil(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_member members[MEMBERS] = {0};
    struct cy_ensemble ensemble;
    struct cy_thirst thirst;
    double share;
    farm_with_soil(&farm, "silt loam");
    dry_weeks(&ensemble, members, MEMBERS, 3);
    for (int i = 0; i < MEMBERS; i++)
        members[i].weather.rain_mm[i < 6 ? 0 : 7] = 42; /* in the first week, or in the second */
    assert_int_equal(cy_thirst_begin(&thirst, &farm, &ensemble), CY_OK);
    struct cy_figure first = cy_thirst_week(&thirst, START, 2.54, &share);
    assert_near(share, 0.4, 1e-12);
    assert_near(first.p10, 0, 1e-9);
    assert_near(first.p90, INCH, 1e-9);
    struct cy_figure second = cy_thirst_week(&thirst, START + 7, 2.54, &share);
    assert_near(share, 0.6, 1e-12);
    assert_near(second.p90, INCH - (42 - INCH), 1e-9);
    struct cy_figure third = cy_thirst_week(&thirst, START + 14, 2.54, &share);
    assert_near(share, 1, 1e-12);
    assert_near(third.p10, INCH - (42 - INCH), 1e-9);
    assert_near(third.p90, INCH, 1e-9);
    /* Days that no weather covers bring no rain. */
    struct cy_figure beyond = cy_thirst_week(&thirst, START + 21, 2.54, &share);
    assert_near(beyond.p10, INCH, 1e-9);
    cy_thirst_end(&thirst);
    dispose(members, MEMBERS);
    cy_farm_dispose(&farm);
}

/* A soil that holds more is never the thirstier one. */
static void more_soil_is_never_thirstier(void **state)
{
    (void)state;
    static const char *const depths[] = {"0.1 m", "0.15 m", "0.2 m", "0.3 m"};
    enum { WEEKS = 20 };
    struct cy_farm farm;
    double rain[WEEKS], missing[WEEKS], less = INFINITY;
    for (int week = 0; week < WEEKS; week++)
        rain[week] = week * 37 % 60;
    farm_with_soil(&farm, "silt");
    for (int i = 0; i < 4; i++) {
        double sum = 0;
        put(&farm, "site.soil_depth", depths[i]);
        missing_after(missing, &farm, rain, WEEKS);
        for (int week = 0; week < WEEKS; week++) {
            assert_true(missing[week] >= 0 && missing[week] <= INCH);
            sum += missing[week];
        }
        assert_true(sum <= less);
        less = sum;
    }
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_week_wants_an_inch_less_its_rain),
        cmocka_unit_test(a_storm_counts_as_far_as_the_soil_holds_it),
        cmocka_unit_test(the_soil_holds_by_texture_and_depth),
        cmocka_unit_test(weathers_do_not_share_their_soil),
        cmocka_unit_test(more_soil_is_never_thirstier),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
