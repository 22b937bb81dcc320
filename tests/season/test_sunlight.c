/* SPDX-License-Identifier: MIT
 * The season's sun: known answers behind made horizons, what obstacles and rows take, and what
 * turning and moving gives. */
#include "season/farms.h"

#include <caneyear/climate/sun.h>
#include <caneyear/season/sunlight.h>

#define assert_near(a, b, tolerance) assert_true(fabs((a) - (b)) <= (tolerance))

static void add_obstacle(struct cy_farm *farm, const char *key, const char *const *pairs)
{
    const struct cy_thing *site = cy_farm_one(farm, CY_KIND_SITE);
    assert_non_null(cy_farm_add(farm, CY_KIND_OBSTACLE, site->id, key, NULL, 0));
    for (; *pairs; pairs += 2) {
        struct cy_text address = {0};
        cy_text_add(&address, "site.obstacle.");
        cy_text_add(&address, key);
        cy_text_add_char(&address, '.');
        cy_text_add(&address, pairs[0]);
        put(farm, cy_text_get(&address), pairs[1]);
        cy_text_dispose(&address);
    }
}

#define OBSTACLE(farm, key, ...) add_obstacle(farm, key, (const char *const[]){__VA_ARGS__, NULL})

static struct cy_sunlight sun_of(const struct cy_farm *farm)
{
    struct cy_sunlight sun;
    double latitude = cy_number(cy_farm_place(farm), CY_PLACE_LATITUDE);
    assert_int_equal(cy_farm_check(farm, NULL), CY_OK);
    assert_int_equal(cy_sunlight_of(&sun, farm, latitude, 2027), CY_OK);
    return sun;
}

static void an_open_field_has_the_days_of_the_almanac(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_at(&farm, "35.43", 0);
    struct cy_sunlight sun = sun_of(&farm);
    assert_int_equal(sun.day[0], day_at("2027-04-15"));
    assert_int_equal(sun.day[5], day_at("2027-09-15"));
    for (int i = 0; i < CY_SUNLIGHT_DAYS; i++)
        assert_near(sun.day_h[i], cy_sun_day_length(sun.day[i], 35.43, -84.6, 0), 0.02);
    assert_near(sun.mean_h, sun.level_h, 1e-12);
    assert_true(sun.basis & CY_BASIS_PLACEHOLDER); /* nobody said that the sky is open */
    assert_int_equal(sun.row_count, 0);
    assert_true(isnan(cy_sunlight_farm(&sun, 0)));
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

static void the_south_sees_the_same_half_of_the_year_six_months_on(void **state)
{
    (void)state;
    struct cy_farm north, south;
    farm_at(&north, "38", 0);
    farm_at(&south, "-38", 0);
    OBSTACLE(&north, "wood", "from", "150 deg", "to", "210 deg", "altitude", "65 deg");
    OBSTACLE(&south, "wood", "from", "330 deg", "to", "30 deg", "altitude", "65 deg");
    add_row(&north, "r", "natchez", "hedge", NULL);
    add_row(&south, "r", "natchez", "hedge", NULL);
    struct cy_sunlight up = sun_of(&north), down = sun_of(&south);
    assert_int_equal(cy_day_date(down.day[0]).month, 10);
    assert_near(up.mean_h, down.mean_h, 0.4);
    assert_near(up.rows[0].mean_h, down.rows[0].mean_h, 0.4);
    assert_near(up.obstacles[0].hides_h, down.obstacles[0].hides_h, 0.4);
    assert_true(up.obstacles[0].hides_h > 0.3);
    cy_sunlight_dispose(&up);
    cy_sunlight_dispose(&down);
    cy_farm_dispose(&north);
    cy_farm_dispose(&south);
}

static void each_obstacle_answers_for_its_own_hours(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_at(&farm, "35.43", 0);
    OBSTACLE(&farm, "east", "from", "60 deg", "to", "120 deg", "altitude", "15 deg");
    OBSTACLE(&farm, "west", "from", "240 deg", "to", "300 deg", "height", "10 m", "distance",
             "30 m");
    OBSTACLE(&farm, "barn", "from", "240 deg", "to", "300 deg", "altitude", "10 deg");
    struct cy_sunlight sun = sun_of(&farm);
    assert_int_equal(sun.obstacle_count, 3);
    const struct cy_sunlight_obstacle *east = &sun.obstacles[0], *west = &sun.obstacles[1];
    const struct cy_sunlight_obstacle *barn = &sun.obstacles[2];
    assert_near(east->hides_h, east->alone_h, 1e-3); /* nothing else stands there */
    assert_near(sun.level_h - sun.mean_h, east->hides_h + west->hides_h, 1e-3);
    assert_near(barn->alone_h, 0, 1e-9); /* it stands before the trees, which are higher */
    assert_true(barn->hides_h > 0.3 && barn->hides_h < west->hides_h);
    assert_near(west->alone_h, west->hides_h - barn->hides_h, 1e-3);
    assert_near(sun.bands[1].altitude_deg, atan(1 / 3.0) * 180 / M_PI, 1e-9);
    assert_false(sun.basis & CY_BASIS_PLACEHOLDER);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

static void rows_of_one_kind_have_one_sun(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    add_row(&farm, "a", "natchez", "hedge", NULL);
    add_row(&farm, "b", "gem", "hedge", NULL);
    add_row(&farm, "far", "natchez", "hedge", NULL);
    put(&farm, "row.a.bearing", "90 deg");
    put(&farm, "row.b.bearing", "90 deg");
    put(&farm, "row.far.bearing", "90 deg");
    put(&farm, "row.far.row_spacing", "12 m");
    struct cy_sunlight sun = sun_of(&farm);
    assert_int_equal(sun.row_count, 3);
    assert_int_equal(sun.rows[1].alike, 0);
    assert_int_equal(sun.rows[2].alike, 2);
    assert_true(sun.rows[1].mean_h == sun.rows[0].mean_h);
    assert_false(sun.rows[0].placed);
    assert_near(sun.rows[2].next[CY_FACE_LEFT].distance_m, 12, 1e-9);
    assert_true(sun.rows[2].mean_h > sun.rows[0].mean_h && sun.rows[2].mean_h < sun.mean_h);
    /* Without wires a row is as high as it is tipped: 42 in by default. */
    assert_near(sun.rows[0].hedge_m, 1.0668, 1e-9);
    assert_near(sun.rows[0].face_h[0] + sun.rows[0].face_h[1], sun.rows[0].mean_h, 1e-3);
    /* Turned to where they run, and half round, they are what they are. */
    struct cy_hedge_sun turned;
    cy_sunlight_turn(&turned, &sun, 0, 270);
    assert_near(turned.hours, sun.rows[0].mean_h, 1e-6);
    assert_near(cy_sunlight_farm(&sun, 90), cy_sunlight_farm(&sun, NAN), 1e-9);
    assert_true(cy_sunlight_farm(&sun, 0) < cy_sunlight_farm(&sun, 90));
    double mean = (2 * sun.rows[0].mean_h + sun.rows[2].mean_h) / 3; /* of one length each */
    assert_near(cy_sunlight_farm(&sun, NAN), mean, 1e-9);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

static void place(struct cy_farm *farm, const char *key, const char *x, const char *y)
{
    struct cy_text address = {0};
    for (int i = 0; i < 2; i++) {
        cy_text_clear(&address);
        cy_text_add(&address, "row.");
        cy_text_add(&address, key);
        cy_text_add(&address, i ? ".y" : ".x");
        put(farm, cy_text_get(&address), i ? y : x);
    }
    cy_text_dispose(&address);
}

static void rows_stand_between_those_beside_them(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    ADD(&farm, PRACTICE, "tall", GROWER, "cropping", "floricane crop", "tip_height", "2 m",
        "tip_ceiling", "2.5 m");
    /* Three rows that run north 3 m apart, the last one tall; one far beyond it, one end to end
     * with the middle one, and one that runs across. */
    add_row(&farm, "west", "natchez", "hedge", NULL);
    add_row(&farm, "middle", "natchez", "hedge", NULL);
    add_row(&farm, "east", "natchez", "tall", NULL);
    add_row(&farm, "far", "natchez", "hedge", NULL);
    add_row(&farm, "on", "natchez", "hedge", NULL);
    add_row(&farm, "across", "natchez", "hedge", NULL);
    place(&farm, "west", "0 m", "0 m");
    place(&farm, "middle", "3 m", "0 m");
    /* Laid out from its north end: it runs the other way, and is the same row. */
    place(&farm, "east", "6 m", "30.48 m");
    put(&farm, "row.east.bearing", "180 deg");
    place(&farm, "far", "9 m", "-5 m");
    place(&farm, "on", "3 m", "40 m");
    place(&farm, "across", "0 m", "90 m");
    put(&farm, "row.across.bearing", "90 deg");
    struct cy_sunlight sun = sun_of(&farm);
    const struct cy_sunlight_row *west = &sun.rows[0], *middle = &sun.rows[1];
    const struct cy_sunlight_row *east = &sun.rows[2], *on = &sun.rows[4];
    assert_true(middle->placed);
    assert_string_equal(middle->next_name[CY_FACE_LEFT], "west");
    assert_string_equal(middle->next_name[CY_FACE_RIGHT], "east");
    assert_near(middle->next[CY_FACE_LEFT].distance_m, 3, 1e-9);
    assert_near(middle->next[CY_FACE_RIGHT].height_m, 2, 1e-9);
    /* From the western edge the tall row hides more than the low one before it: 2 - 0.53 over 6 m,
     * against 0.53 over 3 m. Nothing stands to the west. */
    assert_string_equal(west->next_name[CY_FACE_RIGHT], "east");
    assert_near(west->next[CY_FACE_RIGHT].distance_m, 6, 1e-9);
    assert_near(west->next[CY_FACE_LEFT].height_m, 0, 0);
    /* East is on the left of someone who looks south; from half way up the tall row the low ones
     * hardly rise over the point. */
    assert_string_equal(east->next_name[CY_FACE_LEFT], "far");
    assert_near(east->next[CY_FACE_LEFT].distance_m, 3, 1e-9);
    assert_near(on->next[CY_FACE_LEFT].height_m + on->next[CY_FACE_RIGHT].height_m, 0, 0);
    assert_near(on->mean_h, sun.mean_h, 1e-9);
    assert_true(middle->mean_h < west->mean_h && west->mean_h < sun.mean_h);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

static void further_from_trees_there_is_more_sun(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    OBSTACLE(&farm, "oaks", "from", "230 deg", "to", "310 deg", "height", "15 m", "distance",
             "20 m");
    OBSTACLE(&farm, "hill", "from", "60 deg", "to", "110 deg", "altitude", "8 deg");
    OBSTACLE(&farm, "ring", "from", "270 deg", "to", "250 deg", "height", "1 m", "distance",
             "100 m");
    add_row(&farm, "r", "natchez", "hedge", NULL);
    struct cy_sunlight sun = sun_of(&farm);
    assert_true(cy_sunlight_can_move(&sun, 0));
    assert_false(cy_sunlight_can_move(&sun, 1)); /* nobody says how far it is */
    assert_false(cy_sunlight_can_move(&sun, 2)); /* away from it is towards it */
    assert_false(cy_sunlight_can_move(&sun, 3));
    assert_true(isnan(cy_sunlight_moved(&sun, 1, 2, CY_SUNLIGHT_FIELD)));
    assert_true(isnan(cy_sunlight_moved(&sun, 0, 2, 1)));
    size_t places[] = {CY_SUNLIGHT_FIELD, 0};
    double stands[] = {sun.mean_h, sun.rows[0].mean_h};
    for (int k = 0; k < 2; k++) {
        double before = cy_sunlight_moved(&sun, 0, 1, places[k]);
        assert_near(before, stands[k], 1e-9);
        for (double times = 1.5; times < 6; times += 0.5) {
            double hours = cy_sunlight_moved(&sun, 0, times, places[k]);
            assert_true(hours >= before - 1e-9);
            before = hours;
        }
        assert_true(before > stands[k] + 0.1);
    }
    /* Far away there is nothing left of it. */
    assert_near(cy_sunlight_moved(&sun, 0, 1e6, CY_SUNLIGHT_FIELD),
                sun.mean_h + sun.obstacles[0].alone_h, 1e-3);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

static void every_figure_can_be_asked_why(void **state)
{
    (void)state;
    struct cy_farm farm;
    farm_north(&farm);
    OBSTACLE(&farm, "oaks", "from", "230 deg", "to", "310 deg", "height", "15 m", "distance",
             "20 m");
    add_row(&farm, "r", "natchez", "hedge", NULL);
    struct cy_sunlight sun = sun_of(&farm);
    struct cy_trace trace = {0};
    assert_true(cy_sunlight_why_field(&trace, &sun));
    assert_true(cy_sunlight_why_row(&trace, &sun, 0));
    assert_true(cy_sunlight_why_obstacle(&trace, &sun, 0));
    assert_true(cy_sunlight_why_turned(&trace, &sun, 0, 45));
    assert_true(cy_sunlight_why_turned(&trace, &sun, CY_SUNLIGHT_FIELD, 45));
    assert_true(cy_sunlight_why_moved(&trace, &sun, 0, 2, 0));
    assert_int_equal(trace.count, 6);
    assert_false(trace.failed);
    const double results[] = {sun.mean_h,
                              sun.rows[0].mean_h,
                              sun.obstacles[0].hides_h,
                              cy_sunlight_farm(&sun, 45),
                              cy_sunlight_farm(&sun, 45),
                              cy_sunlight_moved(&sun, 0, 2, 0)};
    for (size_t i = 0; i < trace.count; i++) {
        assert_near(trace.steps[i].value, results[i], 1e-9);
        assert_int_equal(trace.steps[i].quantity, CY_Q_HOURS);
        assert_true(trace.steps[i].input_count > 3);
    }
    assert_false(cy_sunlight_why_row(&trace, &sun, 1));
    assert_false(cy_sunlight_why_obstacle(&trace, &sun, 1));
    assert_false(cy_sunlight_why_turned(&trace, &sun, 1, 0));
    assert_false(cy_sunlight_why_moved(&trace, &sun, 1, 2, 0));
    cy_trace_dispose(&trace);
    cy_sunlight_dispose(&sun);
    cy_farm_dispose(&farm);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_open_field_has_the_days_of_the_almanac),
        cmocka_unit_test(the_south_sees_the_same_half_of_the_year_six_months_on),
        cmocka_unit_test(each_obstacle_answers_for_its_own_hours),
        cmocka_unit_test(rows_of_one_kind_have_one_sun),
        cmocka_unit_test(rows_stand_between_those_beside_them),
        cmocka_unit_test(further_from_trees_there_is_more_sun),
        cmocka_unit_test(every_figure_can_be_asked_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
