/* SPDX-License-Identifier: MIT
 * The odds of frost: a station whose dates are known, few years and many, colder ground, made
 * years, and the south. */
#include "season/farms.h"

#include <caneyear/season/frostodds.h>
#include <caneyear/season/frostwatch.h>

#define assert_near(a, b, tolerance) assert_true(fabs((a) - (b)) <= (tolerance))
#define TODAY "2027-02-10"

/* Ten last freezes and what follows from them, computed apart from this program: the i-th of them
 * at i / 11. */
static const int ten[10] = {88, 95, 101, 79, 92, 107, 84, 99, 90, 96};

/* A station of so many years up to 2026, warm but for two nights of each: the last freeze of spring
 * on a number, at -1 C, and another five days before at -3 C; the first of autumn on 300. In the
 * south both stand half a year on. */
static struct cy_weather station_of(int years, bool southern, int (*number_of)(int index))
{
    struct cy_weather station;
    int first_year = 2027 - years;
    cy_day first = cy_day_of(first_year, 1, 1);
    assert_int_equal(cy_weather_init(&station, first, cy_day_of(2027, 2, 1) - first), CY_OK);
    for (int i = 0; i < station.days; i++) {
        station.tmin_c[i] = 9;
        station.tmax_c[i] = 20;
    }
    for (int i = 0; i < years; i++) {
        int year = first_year + i;
        int spring = number_of(i) > 0 ? number_of(i) + (southern ? 181 : 0) : 0;
        int autumn = southern ? 120 : 300;
        if (spring > 0) {
            station.tmin_c[cy_weather_index(&station, cy_frost_day(spring, year))] = -1;
            station.tmin_c[cy_weather_index(&station, cy_frost_day(spring - 5, year))] = -3;
        }
        station.tmin_c[cy_weather_index(&station, cy_frost_day(autumn, year))] = -4;
    }
    return station;
}

static int ten_of(int index)
{
    return ten[index % 10];
}

static int mild_every_fifth(int index)
{
    return index % 5 == 4 ? 0 : ten[index % 10];
}

static struct cy_plan *plan_at(const struct cy_farm *farm, const struct cy_weather *station,
                               struct cy_planner *planner, int members)
{
    struct cy_plan *plan = NULL;
    struct cy_issues issues = {0};
    struct cy_plan_request request = {
        .farm = farm, .station = station, .today = day_at(TODAY), .members = members};
    assert_int_equal(cy_farm_check(farm, &issues), CY_OK);
    assert_int_equal(cy_planner_plan(&plan, planner, &request, &issues), CY_OK);
    return plan;
}

static void assert_number(const struct cy_frostodds *odds, int limit, enum cy_frost_season season,
                          int level, double number)
{
    const struct cy_frostodds_season *one = &odds->limit[limit].season[season];
    assert_near(one->number[level], number, 1e-3);
    assert_int_equal(one->day[level], cy_frost_day(number, odds->year[season]));
}

static void few_years_are_told_by_their_own_dates(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_north(&farm);
    struct cy_weather station = station_of(10, false, ten_of);
    struct cy_plan *plan = plan_at(&farm, &station, planner, 2);
    const struct cy_frostodds *odds = &plan->frost;
    assert_false(odds->made);
    assert_int_equal(odds->first_year, 2017);
    assert_int_equal(odds->last_year, 2026);
    assert_int_equal(odds->basis, CY_BASIS_OBSERVED);
    const struct cy_frostodds_season *spring =
        &odds->limit[CY_FROSTODDS_32].season[CY_FROST_SPRING];
    assert_true(spring->ranked);
    assert_int_equal(spring->fit.years, 10);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_SELDOM, 106.4);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_HALF, 93.5);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_OFTEN, 79.5);
    /* The night five days before was colder than 28 F and than what kills flowers. */
    assert_number(odds, CY_FROSTODDS_28, CY_FROST_SPRING, CY_FROSTODDS_HALF, 88.5);
    assert_number(odds, CY_FROSTODDS_CHOSEN, CY_FROST_SPRING, CY_FROSTODDS_HALF, 88.5);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_AUTUMN, CY_FROSTODDS_HALF, 300);
    /* After number 95, 4 of the 10 still froze: 101, 107, 99, 96. */
    double risk = cy_frostodds_risk(odds, CY_FROSTODDS_32, CY_FROST_SPRING,
                                    cy_frost_day(95, odds->year[CY_FROST_SPRING]));
    assert_near(risk, 0.4, 1e-12);
    assert_near(cy_frostodds_risk(odds, CY_FROSTODDS_32, CY_FROST_AUTUMN, day_at("2027-10-26")), 0,
                0);
    assert_near(cy_frostodds_risk(odds, CY_FROSTODDS_32, CY_FROST_AUTUMN, day_at("2027-10-27")), 1,
                0);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

static void many_years_are_fitted_and_the_last_thirty_count(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_north(&farm);
    struct cy_weather station = station_of(40, false, ten_of);
    struct cy_plan *plan = plan_at(&farm, &station, planner, 2);
    const struct cy_frostodds *odds = &plan->frost;
    const struct cy_frost_fit *fit = &odds->limit[CY_FROSTODDS_32].season[CY_FROST_SPRING].fit;
    assert_int_equal(odds->first_year, 1997);
    assert_int_equal(fit->years, 30);
    assert_false(odds->limit[CY_FROSTODDS_32].season[CY_FROST_SPRING].ranked);
    /* The ten three times: the mean of ten, their deviation over 29 in place of 9. */
    double sd = 8.3060 * sqrt(3 * 9 / 29.0);
    assert_near(fit->mean, 93.1, 1e-9);
    assert_near(fit->sd, sd, 1e-3);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_SELDOM,
                  93.1 + 1.281552 * fit->sd);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_OFTEN,
                  93.1 - 1.281552 * fit->sd);
    cy_plan_free(plan);
    cy_weather_dispose(&station);
    /* One year in five without: q = 0.8, so that no day is passed in nine years of ten. */
    station = station_of(30, false, mild_every_fifth);
    plan = plan_at(&farm, &station, planner, 2);
    odds = &plan->frost;
    fit = &odds->limit[CY_FROSTODDS_32].season[CY_FROST_SPRING].fit;
    assert_near(fit->share, 0.8, 1e-12);
    assert_int_equal(odds->limit[CY_FROSTODDS_32].season[CY_FROST_SPRING].day[CY_FROSTODDS_OFTEN],
                     CY_DAY_NONE);
    /* z(1 - 0.1 / 0.8) = 1.150349 */
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_SELDOM,
                  fit->mean + 1.150349 * fit->sd);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

static void colder_ground_freezes_later_in_spring_and_sooner_in_autumn(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_north(&farm);
    put(&farm, "site.freeze", "29.5 F");
    struct cy_plan *plan = plan_at(&farm, NULL, planner, 60);
    struct cy_plan_request request = {.farm = &farm, .today = day_at(TODAY), .members = 60};
    struct cy_frostodds before, colder;
    cy_planner_frost(&before, planner, &request, plan, 0);
    assert_true(before.made);
    assert_true(before.basis & CY_BASIS_MADE);
    assert_int_equal(before.limit[0].season[0].fit.years, 60);
    assert_near(before.limit[CY_FROSTODDS_CHOSEN].minimum_c, -2.5 / 1.8, 1e-9);
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++)
        for (int level = 0; level < CY_FROSTODDS_LEVELS; level++) {
            const struct cy_frostodds_limit *one = &before.limit[limit];
            assert_int_equal(one->season[0].day[level],
                             plan->frost.limit[limit].season[0].day[level]);
            /* In between the two others, like its minimum. */
            assert_true(before.limit[CY_FROSTODDS_28].season[0].number[level] <
                        before.limit[CY_FROSTODDS_CHOSEN].season[0].number[level]);
            assert_true(before.limit[CY_FROSTODDS_CHOSEN].season[0].number[level] <
                        before.limit[CY_FROSTODDS_32].season[0].number[level]);
        }
    for (double colder_k = 1; colder_k < 4; colder_k++) {
        cy_planner_frost(&colder, planner, &request, plan, colder_k);
        for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++) {
            const struct cy_frostodds_season *was = before.limit[limit].season;
            const struct cy_frostodds_season *is = colder.limit[limit].season;
            assert_true(is[CY_FROST_SPRING].fit.mean > was[CY_FROST_SPRING].fit.mean);
            assert_true(is[CY_FROST_AUTUMN].fit.mean < was[CY_FROST_AUTUMN].fit.mean);
        }
        before = colder;
    }
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

static void odds_fall_through_spring_and_rise_through_autumn(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++) {
        double spring = 1.01, autumn = 0;
        for (int i = 0; i < 120; i++) {
            double later =
                cy_frostodds_risk(&plan->frost, limit, CY_FROST_SPRING, day_at("2027-02-15") + i);
            double come =
                cy_frostodds_risk(&plan->frost, limit, CY_FROST_AUTUMN, day_at("2027-09-01") + i);
            assert_true(later <= spring && later >= 0);
            assert_true(come >= autumn && come <= 1);
            spring = later;
            autumn = come;
        }
        /* The day on which the risk has fallen to 10 %, to the nearest day. */
        cy_day day = plan->frost.limit[limit].season[CY_FROST_SPRING].day[CY_FROSTODDS_SELDOM];
        assert_near(cy_frostodds_risk(&plan->frost, limit, CY_FROST_SPRING, day), 0.1, 0.02);
    }
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

static void too_few_years_of_a_station_leave_it_to_the_weathers(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_north(&farm);
    for (int years = CY_FROSTODDS_FEWEST - 1; years <= CY_FROSTODDS_FEWEST; years++) {
        struct cy_weather station = station_of(years, false, ten_of);
        struct cy_plan *plan = plan_at(&farm, &station, planner, 20);
        assert_int_equal(plan->frost.made, years < CY_FROSTODDS_FEWEST);
        if (plan->frost.made)
            assert_int_equal(plan->frost.first_year, 0);
        cy_plan_free(plan);
        cy_weather_dispose(&station);
    }
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

static void the_south_has_its_spring_in_october(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_at(&farm, "-35.43", 0);
    struct cy_weather station = station_of(10, true, ten_of);
    struct cy_plan *plan = plan_at(&farm, &station, planner, 2);
    const struct cy_frostodds *odds = &plan->frost;
    assert_false(odds->made);
    assert_int_equal(plan->season, 2027);
    assert_int_equal(odds->year[CY_FROST_SPRING], 2026);
    assert_int_equal(odds->year[CY_FROST_AUTUMN], 2027);
    assert_number(odds, CY_FROSTODDS_32, CY_FROST_SPRING, CY_FROSTODDS_SELDOM, 106.4 + 181);
    assert_int_equal(
        cy_day_date(odds->limit[0].season[CY_FROST_SPRING].day[CY_FROSTODDS_SELDOM]).month, 10);
    assert_int_equal(
        cy_day_date(odds->limit[0].season[CY_FROST_AUTUMN].day[CY_FROSTODDS_HALF]).month, 4);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_weather_dispose(&station);
    cy_farm_dispose(&farm);
}

static void every_figure_can_be_asked_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "r", "natchez", "hedge", "2020-04-10");
    put(&farm, "row.r.colder_nights", "2 dC");
    struct cy_plan *plan = plan_of(&farm, TODAY, 0);
    struct cy_trace trace = {0};
    for (int limit = 0; limit < CY_FROSTODDS_LIMITS; limit++)
        for (int season = 0; season < 2; season++)
            cy_frostodds_why(&trace, &plan->frost, limit, (enum cy_frost_season)season);
    assert_int_equal(trace.count, 6);
    for (size_t i = 0; i < trace.count; i++)
        assert_true(trace.steps[i].input_count >= 7 && trace.steps[i].result);
    cy_trace_dispose(&trace);
    struct cy_frostwatch watch;
    assert_int_equal(cy_frostwatch_of(&watch, plan, day_at("2027-01-20")), CY_OK);
    assert_int_equal(watch.count, 1);
    trace = (struct cy_trace){0};
    assert_true(cy_frostwatch_why(&trace, plan, &watch, 0));
    const struct cy_trace_step *last = &trace.steps[trace.count - 1];
    assert_near(last->value, watch.risks[0].row_c + 2, 1e-9);
    assert_near(last->value, watch.risks[0].station_c, 1e-9);
    cy_trace_dispose(&trace);
    cy_frostwatch_dispose(&watch);
    cy_plan_free(plan);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(few_years_are_told_by_their_own_dates),
        cmocka_unit_test(many_years_are_fitted_and_the_last_thirty_count),
        cmocka_unit_test(colder_ground_freezes_later_in_spring_and_sooner_in_autumn),
        cmocka_unit_test(odds_fall_through_spring_and_rise_through_autumn),
        cmocka_unit_test(too_few_years_of_a_station_leave_it_to_the_weathers),
        cmocka_unit_test(the_south_has_its_spring_in_october),
        cmocka_unit_test(every_figure_can_be_asked_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
