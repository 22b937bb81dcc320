/* SPDX-License-Identifier: MIT
 * How much it matters where the heat sum to bloom starts. The published sums (Black and others,
 * HortScience 43(7):2000-2004, 2008) come without their start; DEVELOPERS.md argues for midwinter.
 *
 * The start is moved by 30 days each way and the need fitted anew, so that the median year at one
 * place blooms on the same printed date: what is left is what the choice costs, in other years
 * there and at other places. Needs of chill are left out; where they bind they set the start. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/stats.h>
#include <caneyear/climate/ensemble.h>
#include <caneyear/crop/life.h>

enum { YEARS = 100, SEASON = 2027, PLACES = 5, SHIFT = 30 };

/* Normals as in share/climates.yaml: Richmond and Lebanon NOAA NCEI 1981-2010 and 1991-2020, Baton
 * Rouge an encyclopedia's chart; Little Rock and Salem from memory. */
static const struct {
    const char *name;
    double latitude;
    struct cy_normals normals;
} places[PLACES] = {
    {"Little Rock",
     34.73,
     {{-0.3, 1.6, 5.9, 10.7, 16.1, 20.7, 22.7, 21.9, 18, 11.4, 5.3, 1.2},
      {10.3, 12.9, 17.8, 22.7, 27.2, 31.6, 33.3, 33.2, 29.8, 23.8, 16.7, 11.6},
      {89, 97, 130, 142, 127, 91, 89, 79, 76, 112, 122, 127}}},
    {"Richmond",
     37.505,
     {{-2.1, -0.8, 2.8, 7.8, 12.8, 18.1, 20.5, 19.7, 15.6, 9.1, 4.1, -0.3},
      {8.6, 10.7, 15.6, 21.3, 25.5, 30.1, 32.1, 30.9, 27.3, 21.7, 16.3, 10.4},
      {77, 70, 103, 83, 96, 100, 115, 118, 105, 76, 82, 83}}},
    {"Lebanon",
     43.626,
     {{-12.6, -11.7, -6.3, -0.1, 6.5, 11.3, 14.3, 13.4, 9.2, 3, -2.4, -7.7},
      {-0.9, 1.1, 6.1, 13.7, 20.9, 25.5, 28.2, 27.3, 22.7, 15.4, 8.2, 1.9},
      {58, 53, 69, 76, 84, 97, 101, 92, 87, 102, 76, 72}}},
    {"Baton Rouge",
     30.54,
     {{5.6, 6.7, 10.6, 13.9, 17.8, 21.1, 22.8, 22.2, 20, 13.9, 8.9, 6.1},
      {16.7, 18.3, 22.2, 25.6, 28.9, 31.7, 32.8, 32.8, 31.1, 27.2, 21.7, 17.8},
      {150, 127, 127, 135, 132, 147, 137, 145, 114, 91, 122, 132}}},
    {"Salem",
     44.91,
     {{1.8, 1.9, 3, 4.5, 7.3, 9.6, 11.9, 11.8, 9.4, 6.1, 3.7, 1.8},
      {9.1, 11.1, 13.7, 16.6, 20.7, 23.7, 28.6, 28.7, 25.4, 18.4, 12.1, 8.5},
      {146, 112, 107, 79, 53, 34, 8, 10, 33, 86, 145, 178}}},
};

static struct cy_ensemble weathers[PLACES];

static int make_weathers(void **state)
{
    (void)state;
    for (int i = 0; i < PLACES; i++) {
        struct cy_ensemble_request request = {.latitude_deg = places[i].latitude,
                                              .normals = places[i].normals,
                                              .today = cy_day_of(SEASON - 1, 9, 1),
                                              .first = cy_day_of(SEASON - 1, 9, 1),
                                              .last = cy_day_of(SEASON, 10, 31),
                                              .count = YEARS,
                                              .seed = 1};
        if (cy_ensemble_make(&weathers[i], &request) != CY_OK)
            return -1;
    }
    return 0;
}

static int drop_weathers(void **state)
{
    (void)state;
    for (int i = 0; i < PLACES; i++)
        cy_ensemble_dispose(&weathers[i]);
    return 0;
}

/* Days from 1 January on which the sum from `start` reaches the need, or NAN. */
static double bloom_day(const struct cy_member *member, cy_day start, double need_kh)
{
    double sum = 0;
    for (int i = start - member->warmth.first; i < member->warmth.days; i++) {
        sum += member->warmth.heat_kh[i];
        if (sum >= need_kh)
            return member->warmth.first + i - cy_day_of(SEASON, 1, 1);
    }
    return NAN;
}

/* The median year's sum up to a day: so fitted, half of the years bloom by it. */
static double fitted_need(const struct cy_ensemble *at, cy_day start, cy_day bloom)
{
    double sums[YEARS];
    for (int year = 0; year < YEARS; year++) {
        sums[year] = 0;
        for (cy_day day = start; day <= bloom; day++)
            sums[year] += at->members[year].warmth.heat_kh[day - at->first];
    }
    cy_sort(sums, YEARS);
    return cy_quantile(sums, YEARS, 0.5);
}

struct cost {
    double median; /* of the bloom dates, later than from midwinter */
    double yearly; /* root mean square of one year's difference from that */
};

static struct cost cost_of(int place, int shift, cy_day printed)
{
    cy_day midwinter = cy_day_of(SEASON, 1, 1);
    double need = fitted_need(&weathers[0], midwinter, printed);
    double moved = fitted_need(&weathers[0], midwinter + shift, printed);
    double before[YEARS], after[YEARS], squares = 0;
    for (int year = 0; year < YEARS; year++) {
        const struct cy_member *member = &weathers[place].members[year];
        before[year] = bloom_day(member, midwinter, need);
        after[year] = bloom_day(member, midwinter + shift, moved);
        assert_false(isnan(before[year]) || isnan(after[year]));
        squares += (after[year] - before[year]) * (after[year] - before[year]);
    }
    cy_sort(before, YEARS);
    cy_sort(after, YEARS);
    return (struct cost){cy_quantile(after, YEARS, 0.5) - cy_quantile(before, YEARS, 0.5),
                         sqrt(squares / YEARS)};
}

/* Half bloom as printed for Clarksville, Arkansas, of the earliest and the latest of the shipped
 * cultivars that were fitted there: 26 April (a first pick less 38 days) and 8 May (NC State,
 * Southeast Regional Caneberry Production Guide ch. 12, Table 12-1). */
static cy_day printed(int cultivar)
{
    return cultivar ? cy_day_of(SEASON, 5, 8) : cy_day_of(SEASON, 4, 26);
}

/* The worst of both cultivars, starts and signs. */
static struct cost worst_at(int place)
{
    struct cost worst = {0, 0};
    for (int i = 0; i < 4; i++) {
        struct cost cost = cost_of(place, i & 1 ? SHIFT : -SHIFT, printed(i / 2));
        worst.median = fmax(worst.median, fabs(cost.median));
        worst.yearly = fmax(worst.yearly, cost.yearly);
    }
    return worst;
}

/* The sum that is moved here is the model's own: without a chill need it starts at midwinter. */
static void the_model_starts_at_midwinter(void **state)
{
    (void)state;
    const struct cy_traits traits = {
        .fruiting = CY_FRUITING_FLORICANE,
        .cropping = CY_CROPPING_FLORICANE,
        .chill_need = {NAN, CY_BASIS_NONE, ""},
        .bloom_heat_kh = {17000, CY_BASIS_FITTED, ""},
        .bud_break_share = {0.35, CY_BASIS_PLACEHOLDER, ""},
        .bloom_to_peak_d = {55, CY_BASIS_PUBLISHED, ""},
        .pick_length_d = {32, CY_BASIS_PUBLISHED, ""},
        .winter_limit = {NAN, CY_BASIS_NONE, ""},
        .second_share = {0.7, CY_BASIS_PUBLISHED, ""},
    };
    struct cy_luck luck = {0};
    struct cy_life life;
    for (int place = 0; place < PLACES; place++) {
        struct cy_cohort cohort = {.year = SEASON - 1,
                                   .latitude_deg = places[place].latitude,
                                   .stands = true,
                                   .kept = true,
                                   .planted = CY_DAY_NONE};
        cy_sightings_clear(&cohort.seen);
        for (int year = 0; year < YEARS; year++) {
            const struct cy_member *member = &weathers[place].members[year];
            cy_life_run(&life, &traits, &cohort, member, &luck);
            assert_int_equal(life.day[CY_STAGE_BLOOM] - cy_day_of(SEASON, 1, 1),
                             (int)bloom_day(member, cy_day_of(SEASON, 1, 1), 17000));
        }
    }
}

/* A need means its start: a month earlier or later it is a tenth more or less. */
static void a_need_belongs_to_its_start(void **state)
{
    (void)state;
    cy_day midwinter = cy_day_of(SEASON, 1, 1);
    double need = fitted_need(&weathers[0], midwinter, printed(1));
    double earlier = fitted_need(&weathers[0], midwinter - SHIFT, printed(1)) / need;
    double later = fitted_need(&weathers[0], midwinter + SHIFT, printed(1)) / need;
    assert_true(earlier > 1.05 && earlier < 1.15);
    assert_true(later > 0.88 && later < 0.96);
}

/* Refitted, the choice moves a year's bloom by some two days where the need was fitted: little
 * beside the published misses. */
static void where_it_was_fitted_a_month_is_two_days(void **state)
{
    (void)state;
    struct cost worst = worst_at(0);
    assert_true(worst.median <= 0.5);
    assert_true(worst.yearly > 1 && worst.yearly < 2.5);
    assert_true(worst.yearly < cy_life_constant(CY_LIFE_BLOOM_ERROR)->value / 4);
}

/* Elsewhere the median moves as well, by how far the winter differs: Virginia 2 days, New
 * Hampshire and Oregon 5. */
static void elsewhere_a_month_is_up_to_five_days(void **state)
{
    (void)state;
    struct cost richmond = worst_at(1), lebanon = worst_at(2), salem = worst_at(4);
    assert_true(richmond.median <= 2.5 && richmond.yearly < 3);
    assert_true(lebanon.median <= 5.5 && lebanon.yearly < 6);
    assert_true(salem.median <= 4 && salem.yearly < 5);
}

/* On the Gulf January is warm enough to count, and the choice costs 9 days: as much as the
 * published misses. There a chill need, where one is known, sets the start instead. */
static void on_the_gulf_a_month_is_nine_days(void **state)
{
    (void)state;
    struct cost worst = worst_at(3);
    double error = cy_life_constant(CY_LIFE_BLOOM_ERROR)->value;
    assert_true(worst.median > 6 && worst.median < error);
    assert_true(worst.yearly < error);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_model_starts_at_midwinter),
        cmocka_unit_test(a_need_belongs_to_its_start),
        cmocka_unit_test(where_it_was_fitted_a_month_is_two_days),
        cmocka_unit_test(elsewhere_a_month_is_up_to_five_days),
        cmocka_unit_test(on_the_gulf_a_month_is_nine_days),
    };
    return cmocka_run_group_tests(tests, make_weathers, drop_weathers);
}
