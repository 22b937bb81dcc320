/* SPDX-License-Identifier: MIT
 * Tests of learning: values worked by hand, and hindcasts of drawn farms whose truth is known. */
#include "season/farms.h"

#include <caneyear/base/random.h>
#include <caneyear/base/stats.h>
#include <caneyear/crop/calendar.h>
#include <caneyear/season/learn.h>
#include <caneyear/season/traits.h>
#include <stdio.h>

#include "support/near.h"
#include "support/soak.h"

#define LATITUDE 35.43

/* ---- one set of weathers for all ------------------------------------------------------------- */

enum { FIRST_YEAR = 1981, YEARS = 44 };

/* One long made weather, taken for what a station saw. */
static const struct cy_member *station(void)
{
    static struct cy_ensemble ensemble;
    if (ensemble.count > 0)
        return &ensemble.members[0];
    struct cy_ensemble_request request = {
        .latitude_deg = LATITUDE,
        .first = cy_season_start(LATITUDE, FIRST_YEAR),
        .last = cy_season_start(LATITUDE, FIRST_YEAR + YEARS) - 1,
        .count = 1,
        .seed = 77,
    };
    request.today = request.first;
    for (int i = 0; i < 12; i++) {
        request.normals.tmin_c[i] = athens_low[i];
        request.normals.tmax_c[i] = athens_high[i];
        request.normals.rain_mm[i] = athens_rain[i];
    }
    assert_int_equal(cy_ensemble_make(&ensemble, &request), CY_OK);
    return &ensemble.members[0];
}

/* The day of a stage in a season's weather for canes of these traits, the model without error. */
static cy_day true_day(const struct cy_traits *traits, int season, enum cy_stage stage)
{
    struct cy_cohort cohort = {.year = season - 1,
                               .latitude_deg = LATITUDE,
                               .stands = true,
                               .emerges_here = true,
                               .kept = true,
                               .planted = CY_DAY_NONE};
    const struct cy_luck none = {0};
    struct cy_life life;
    cy_sightings_clear(&cohort.seen);
    cy_life_run(&life, traits, &cohort, station(), &none);
    return life.day[stage];
}

static struct cy_traits catalogue_traits(const struct cy_farm *farm)
{
    struct cy_traits traits;
    cy_cultivar_traits(&traits, cy_farm_by_key(farm, CY_KIND_CULTIVAR, 0, "natchez"));
    return traits;
}

static void note(struct cy_farm *farm, const char *row, cy_day day, const char *what)
{
    char text[CY_DAY_TEXT];
    add_thing(farm, CY_KIND_SEEN, NULL, CY_BASIS_GROWER,
              (const char *const[]){"day", cy_day_print(text, day), "row", row, "what", what, NULL});
}

static struct cy_plan *plan_at(struct cy_planner *planner, const struct cy_farm *farm, cy_day today,
                               bool with_station, int members)
{
    struct cy_plan_request request = {.farm = farm,
                                      .station = with_station ? &station()->weather : NULL,
                                      .today = today,
                                      .members = members};
    struct cy_plan *plan = NULL;
    assert_int_equal(cy_planner_plan(&plan, planner, &request, NULL), CY_OK);
    return plan;
}

static const struct cy_learned *learned_of(const struct cy_plan *plan, enum cy_learn what)
{
    for (size_t i = 0; i < plan->learned_count; i++)
        if (plan->learned[i].what == what)
            return &plan->learned[i];
    return NULL;
}

static void farm_of_one(struct cy_farm *farm)
{
    farm_north(farm);
    add_row(farm, "a", "natchez", "hedge", "1985-04-10");
}

/* ---- by hand ---------------------------------------------------------------------------------- */

/* A bloom on the very day of the model moves nothing but by the rounding of a day; one that needs a
 * tenth more heat moves the need by a twentieth, the catalogue counting as one season too. */
static void one_season_counts_as_much_as_the_catalogue(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    struct cy_traits truth = catalogue_traits(&farm);
    double need = truth.bloom_heat_kh.value;
    truth.bloom_heat_kh.value = 1.1 * need;
    note(&farm, "a", true_day(&truth, 2010, CY_STAGE_BLOOM), "full bloom");
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    const struct cy_learned *bloom = learned_of(plan, CY_LEARN_BLOOM_HEAT);
    assert_int_equal(plan->learned_count, 1);
    assert_int_equal(bloom->season_count, 1);
    assert_int_equal(bloom->seasons[0].year, 2010);
    assert_near(bloom->seasons[0].weight, 1, 0);
    assert_near(bloom->seasons[0].value, 1.1 * need, 0.6 * bloom->a_day);
    assert_near(bloom->value.value, (need + bloom->seasons[0].value) / 2, 1e-9);
    assert_near(bloom->before.value, need, 0);
    assert_int_equal(bloom->value.basis, CY_BASIS_LEARNED | CY_BASIS_PUBLISHED);
    assert_true(isnan(bloom->error_d.value));
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* Without a station the season is compared with the usual weather, and counts for less. */
static void a_season_of_unknown_weather_counts_for_less(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    note(&farm, "a", day_at("2010-05-20"), "full bloom");
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), false, 30);
    const struct cy_learned *bloom = learned_of(plan, CY_LEARN_BLOOM_HEAT);
    assert_true(bloom->seasons[0].weight > 0.05 && bloom->seasons[0].weight < 0.9);
    assert_true(bloom->value.value > bloom->before.value); /* three weeks late */
    assert_int_equal(bloom->full_seasons, 0);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* Two rows of one cultivar in one spring are one season. */
static void rows_share_a_season(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    add_row(&farm, "b", "natchez", "hedge", "1985-04-10");
    note(&farm, "a", day_at("2010-05-01"), "full bloom");
    note(&farm, "b", day_at("2010-05-05"), "full bloom");
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    const struct cy_learned *bloom = learned_of(plan, CY_LEARN_BLOOM_HEAT);
    assert_int_equal(bloom->season_count, 1);
    assert_near(bloom->weight, 1, 0);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* Days from bloom to ripe: 49 in the catalogue, a first pick 44 days after bloom and half of the 32
 * days of picking behind it make 60; the mean of both is 54.5. */
static void ripening_and_growth_are_learned(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    note(&farm, "a", day_at("2010-05-01"), "full bloom");
    note(&farm, "a", day_at("2010-06-14"), "first ripe");
    ADD(&farm, SEEN, "h1", GROWER, "day", "2010-05-01", "row", "a", "what", "cane height",
        "height", "20 cm");
    ADD(&farm, SEEN, "h2", GROWER, "day", "2010-05-21", "row", "a", "what", "cane height",
        "height", "80 cm");
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    assert_near(learned_of(plan, CY_LEARN_BLOOM_TO_PEAK)->value.value, 54.5, 1e-9);
    /* 3 cm a day seen; the placeholder of 1.81 counts as a quarter of a season. */
    assert_near(learned_of(plan, CY_LEARN_GROWTH)->value.value, (0.25 * 0.0181 + 0.03) / 1.25,
                1e-9);
    assert_near(cohort_of(plan, "a", 2011)->growth_m_d.value, (0.25 * 0.0181 + 0.03) / 1.25, 1e-9);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* Bud break is a share of the heat to bloom as learned: both of one spring keep their ratio. */
static void bud_break_is_a_share_of_the_learned_heat(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    struct cy_traits truth = catalogue_traits(&farm);
    truth.bloom_heat_kh.value *= 1.1;
    truth.bud_break_share.value = 0.5;
    for (int season = 2000; season <= 2010; season++) {
        note(&farm, "a", true_day(&truth, season, CY_STAGE_BUD_BREAK), "bud break");
        note(&farm, "a", true_day(&truth, season, CY_STAGE_BLOOM), "full bloom");
    }
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    const struct cy_learned *share = learned_of(plan, CY_LEARN_BUD_BREAK_SHARE);
    assert_int_equal(share->season_count, 11);
    assert_near(share->value.value, 0.5, 0.02);
    assert_near(learned_of(plan, CY_LEARN_BLOOM_HEAT)->value.value, truth.bloom_heat_kh.value,
                0.015 * truth.bloom_heat_kh.value);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* Nights logged 2 K below the station's, against a belief of 0 that counts as three nights. */
static void colder_nights_are_learned(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    const struct cy_weather *days = &station()->weather;
    for (int i = 0; i < 6; i++) {
        cy_day day = day_at("2010-04-10") + i;
        char low[32], text[CY_DAY_TEXT];
        snprintf(low, sizeof low, "%.17g C", days->tmin_c[cy_weather_index(days, day)] - 2);
        add_thing(&farm, CY_KIND_SEEN, NULL, CY_BASIS_GROWER,
                  (const char *const[]){"day", cy_day_print(text, day), "row", "a", "what",
                                        "night low", "low", low, NULL});
    }
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    const struct cy_learned *colder = learned_of(plan, CY_LEARN_COLDER);
    assert_near(colder->value.value, 6 * 2.0 / 9, 1e-6);
    assert_near(colder->weight, 6, 1e-9);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* A note that a later one corrects teaches nothing, and neither does one of a day to come. */
static void only_notes_that_count_teach(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    ADD(&farm, SEEN, "s1", GROWER, "day", "2010-04-02", "row", "a", "what", "full bloom");
    ADD(&farm, SEEN, "s2", GROWER, "day", "2010-05-04", "row", "a", "what", "full bloom",
        "corrects", "s1");
    ADD(&farm, SEEN, "s3", GROWER, "day", "2011-06-04", "row", "a", "what", "full bloom");
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    const struct cy_learned *bloom = learned_of(plan, CY_LEARN_BLOOM_HEAT);
    assert_int_equal(bloom->season_count, 1);
    double once = bloom->value.value;
    cy_plan_free(plan);
    plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4); /* as remembered */
    assert_near(learned_of(plan, CY_LEARN_BLOOM_HEAT)->value.value, once, 0);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* What stood in a row before it was planted was something else. */
static void notes_of_an_earlier_planting_teach_nothing(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "a", "natchez", "hedge", "2009-04-10");
    note(&farm, "a", day_at("2005-05-01"), "full bloom");
    note(&farm, "a", day_at("2009-05-01"), "full bloom"); /* no canes of a year ago */
    struct cy_planner *planner = cy_planner_new();
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    assert_null(learned_of(plan, CY_LEARN_BLOOM_HEAT));
    cy_plan_free(plan);
    note(&farm, "a", day_at("2010-05-04"), "full bloom");
    plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    assert_int_equal(learned_of(plan, CY_LEARN_BLOOM_HEAT)->season_count, 1);
    assert_int_equal(learned_of(plan, CY_LEARN_BLOOM_HEAT)->seasons[0].year, 2010);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* What the planner remembers does not borrow from a plan that is gone. */
static void sources_outlive_the_plan_they_came_with(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_of_one(&farm);
    note(&farm, "a", day_at("2010-05-04"), "full bloom");
    struct cy_planner *planner = cy_planner_new();
    cy_plan_free(plan_at(planner, &farm, day_at("2011-01-01"), true, 4));
    struct cy_plan *plan = plan_at(planner, &farm, day_at("2011-01-01"), true, 4);
    struct cy_trace trace = {0};
    assert_true(cy_plan_why_learned(&trace, plan, 0));
    assert_non_null(trace.steps[0].inputs[0].source);
    cy_trace_dispose(&trace);
    cy_plan_free(plan);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* ---- hindcast of drawn farms ------------------------------------------------------------------ */

/* The truth of every farm needs 12 % more heat than the catalogue says; a year's bloom strays from
 * it by a deviation of 4 days. The catalogue counts as one season. */
enum { FARMS = 500, STARTS = 19, FIRST_START = 2000, SEASONS = 6 };
/* In the long form each of them is drawn four times over. */
#define TRUTH 1.12
#define NOISE_D 4.0

struct draw {
    int start;                 /* the first season noted */
    cy_day bloom[SEASONS + 1]; /* as it was, the last one still ahead */
};

/* Farm `farm` of `farms`: neighbours share their first season, and so the weathers of the
 * forecast. */
static void draw_farm(struct draw *out, int farm, int farms, const struct cy_traits *truth)
{
    struct cy_random random;
    cy_random_seed(&random, 2027, (uint64_t)farm);
    out->start = FIRST_START + farm * STARTS / farms;
    for (int i = 0; i <= SEASONS; i++) {
        cy_day day = true_day(truth, out->start + i, CY_STAGE_BLOOM);
        assert_int_not_equal(day, CY_DAY_NONE); /* the weather goes as far */
        out->bloom[i] = (cy_day)floor(day + NOISE_D * cy_random_normal(&random) + 0.5);
    }
}

static struct cy_plan *plan_draw(struct cy_planner *planner, const struct draw *draw, int from,
                                 int to, int members)
{
    struct cy_farm farm;
    farm_of_one(&farm);
    for (int i = from; i < to; i++)
        note(&farm, "a", draw->bloom[i], "full bloom");
    cy_day today = cy_season_start(LATITUDE, draw->start + SEASONS) + 30;
    struct cy_plan *plan = plan_at(planner, &farm, today, true, members);
    cy_farm_dispose(&farm);
    return plan;
}

static bool holds(const struct cy_plan *plan, const struct draw *draw)
{
    const struct cy_figure *bloom =
        &cohort_of(plan, "a", draw->start + SEASONS - 1)->stage[CY_STAGE_BLOOM];
    return bloom->p10 <= draw->bloom[SEASONS] && draw->bloom[SEASONS] <= bloom->p90;
}

static void eight_intervals_of_ten_hold_the_truth(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    int before = 0, after = 0, farms = soak(FARMS, 4);
    double width_before = 0, width_after = 0;
    farm_of_one(&farm);
    struct cy_traits truth = catalogue_traits(&farm);
    truth.bloom_heat_kh.value *= TRUTH;
    for (int i = 0; i < farms; i++) {
        struct draw draw;
        draw_farm(&draw, i, farms, &truth);
        struct cy_plan *fresh = plan_draw(planner, &draw, 0, 0, 60);
        struct cy_plan *taught = plan_draw(planner, &draw, 0, SEASONS, 60);
        const struct cy_figure *wide =
            &cohort_of(fresh, "a", draw.start + SEASONS - 1)->stage[CY_STAGE_BLOOM];
        const struct cy_figure *narrow =
            &cohort_of(taught, "a", draw.start + SEASONS - 1)->stage[CY_STAGE_BLOOM];
        before += holds(fresh, &draw);
        after += holds(taught, &draw);
        width_before += (wide->p90 - wide->p10) / farms;
        width_after += (narrow->p90 - narrow->p10) / farms;
        cy_plan_free(fresh);
        cy_plan_free(taught);
    }
    printf("# 80 %% intervals hold %.1f %% before, %.1f %% after %d seasons; %.1f, %.1f d wide\n",
           100.0 * before / farms, 100.0 * after / farms, SEASONS, width_before, width_after);
    assert_true(before >= 0.7 * farms && before <= 0.9 * farms);
    assert_true(after >= 0.7 * farms && after <= 0.9 * farms);
    assert_true(width_after < width_before - 4);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* The need that is learned comes nearer season by season, as far as the formula says: what of the
 * 12 % is left, and the yearly noise of what was seen. */
static void the_error_falls_as_the_formula_says(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_of_one(&farm);
    struct cy_traits truth = catalogue_traits(&farm);
    double need = truth.bloom_heat_kh.value;
    truth.bloom_heat_kh.value *= TRUTH;
    int farms = soak(FARMS / 5, 20);
    double last = INFINITY;
    for (int n = 1; n <= SEASONS; n++) {
        double squares = 0, noise2 = 0;
        for (int i = 0; i < farms; i++) {
            struct draw draw;
            draw_farm(&draw, i, farms, &truth);
            struct cy_plan *plan = plan_draw(planner, &draw, 0, n, 1);
            const struct cy_learned *bloom = learned_of(plan, CY_LEARN_BLOOM_HEAT);
            double off = bloom->value.value - need * TRUTH;
            assert_int_equal(bloom->full_seasons, n);
            squares += off * off / farms;
            /* Whole days are noted: that adds the twelfth of a day squared. */
            noise2 += bloom->a_day * bloom->a_day * (NOISE_D * NOISE_D + 1 / 12.0) / farms;
            cy_plan_free(plan);
        }
        double expected =
            cy_shrink_error(CY_LEARN_CATALOGUE, (TRUTH - 1) * need, sqrt(noise2), n);
        printf("# after %d: off by %.0f K.h, by the formula %.0f\n", n, sqrt(squares), expected);
        assert_near(sqrt(squares), expected, 0.12 * expected);
        assert_true(sqrt(squares) < last);
        last = sqrt(squares);
    }
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

/* Four seasons leave the published error as it is, five replace it by the farm's own. */
static void the_spread_narrows_from_five_seasons_on(void **state)
{
    (void)state;
    struct cy_farm farm;
    struct cy_planner *planner = cy_planner_new();
    farm_of_one(&farm);
    struct cy_traits truth = catalogue_traits(&farm);
    struct draw draw;
    draw_farm(&draw, 7, FARMS, &truth);
    struct cy_plan *four = plan_draw(planner, &draw, 0, 4, 60);
    struct cy_plan *five = plan_draw(planner, &draw, 0, 5, 60);
    assert_true(isnan(learned_of(four, CY_LEARN_BLOOM_HEAT)->error_d.value));
    double error = learned_of(five, CY_LEARN_BLOOM_HEAT)->error_d.value;
    assert_true(error > 2 && error < cy_life_constant(CY_LIFE_BLOOM_ERROR)->value);
    assert_int_equal(learned_of(five, CY_LEARN_BLOOM_HEAT)->value.basis, CY_BASIS_LEARNED);
    const struct cy_figure *wide =
        &cohort_of(four, "a", draw.start + SEASONS - 1)->stage[CY_STAGE_BLOOM];
    const struct cy_figure *narrow =
        &cohort_of(five, "a", draw.start + SEASONS - 1)->stage[CY_STAGE_BLOOM];
    assert_true(narrow->p90 - narrow->p10 < wide->p90 - wide->p10 - 3);
    assert_true(narrow->basis & CY_BASIS_LEARNED);
    cy_plan_free(four);
    cy_plan_free(five);
    cy_planner_free(planner);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_season_counts_as_much_as_the_catalogue),
        cmocka_unit_test(a_season_of_unknown_weather_counts_for_less),
        cmocka_unit_test(rows_share_a_season),
        cmocka_unit_test(ripening_and_growth_are_learned),
        cmocka_unit_test(bud_break_is_a_share_of_the_learned_heat),
        cmocka_unit_test(colder_nights_are_learned),
        cmocka_unit_test(only_notes_that_count_teach),
        cmocka_unit_test(notes_of_an_earlier_planting_teach_nothing),
        cmocka_unit_test(sources_outlive_the_plan_they_came_with),
        cmocka_unit_test(eight_intervals_of_ten_hold_the_truth),
        cmocka_unit_test(the_error_falls_as_the_formula_says),
        cmocka_unit_test(the_spread_narrows_from_five_seasons_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
