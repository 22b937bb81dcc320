/* SPDX-License-Identifier: MIT
 * Hours of direct sun behind obstacles, and the shadows of rows. */
#include "support/near.h"

#include <caneyear/climate/obstacle.h>
#include <caneyear/climate/sun.h>

static struct cy_obstacle line(double azimuth_deg, double height_over_distance)
{
    return (struct cy_obstacle){.kind = CY_OBSTACLE_LINE,
                                .azimuth_deg = azimuth_deg,
                                .height_over_distance = height_over_distance};
}

static struct cy_obstacle band(double from_deg, double to_deg, double altitude_deg)
{
    return (struct cy_obstacle){.kind = CY_OBSTACLE_BAND,
                                .from_deg = from_deg,
                                .to_deg = to_deg,
                                .altitude_deg = altitude_deg};
}

static double open_sky(double latitude, double declination)
{
    return cy_obstacle_sun_hours(latitude, declination, NULL, 0);
}

static double behind(double latitude, double declination, struct cy_obstacle obstacle)
{
    return cy_obstacle_sun_hours(latitude, declination, &obstacle, 1);
}

static void open_sky_is_the_analytic_day(void **state)
{
    (void)state;
    /* (2/15) acos(-tan lat tan dec), geometry. */
    assert_near(open_sky(0, 0), 12, 1e-4);
    assert_near(open_sky(32, 23.44), 14.0959, 1e-4);
    assert_near(open_sky(32, -23.44), 9.9041, 1e-4);
    assert_near(open_sky(40, -23.44), 9.1554, 1e-4);
    assert_near(open_sky(80, 20), 24, 0);
    assert_near(open_sky(80, -20), 0, 0);
}

static void tree_line_at_the_equator(void **state)
{
    (void)state;
    /* The sun climbs 15 degrees an hour, so a line up to 30 degrees costs 2 h (analytic). */
    assert_near(behind(0, 0, line(90, tan(M_PI / 6))), 10, 1e-3);
}

static void hours_behind_obstacles(void **state)
{
    (void)state;
    /* Computed apart from this program in steps of one second. */
    assert_near(behind(32, 23.44, line(90, 0.5)), 11.9131, 0.001);
    assert_near(behind(32, 23.44, band(225, 315, 20)), 12.4008, 0.001);
    assert_near(behind(32, -23.44, line(180, 0.5)), 5.9761, 0.001);
    assert_near(behind(32, -23.44, line(180, 1)), 0, 0);
    assert_near(behind(32, -23.44, line(90, 0.5)), 8.0172, 0.001);
    assert_near(behind(32, -23.44, band(225, 315, 20)), 8.0772, 0.001);
    assert_near(behind(40, -23.44, line(180, 0.5)), 0, 0);
}

static void east_and_west_cost_the_same(void **state)
{
    struct cy_obstacle both[] = {line(90, 0.4), line(270, 0.4)};
    double open = open_sky(35, 12), east = behind(35, 12, both[0]), west = behind(35, 12, both[1]);

    (void)state;
    assert_near(east, west, 1e-4);
    assert_true(east < open);
    assert_near(cy_obstacle_sun_hours(35, 12, both, 2), east + west - open, 1e-3);
}

static void bands_may_cross_north(void **state)
{
    struct cy_obstacle north = band(300, 60, 10), all = band(0, 360, 10);

    (void)state;
    assert_true(cy_obstacle_hides(&north, 5, 350));
    assert_true(cy_obstacle_hides(&north, 5, 10));
    assert_true(cy_obstacle_hides(&north, 5, 300));
    assert_true(cy_obstacle_hides(&north, 5, 60));
    assert_false(cy_obstacle_hides(&north, 5, 61));
    assert_false(cy_obstacle_hides(&north, 5, 180));
    assert_false(cy_obstacle_hides(&north, 10, 0)); /* the band's edge is open */
    assert_true(cy_obstacle_hides(&all, 5, 123));
    /* A level horizon of 10 degrees all round leaves the day above 10 degrees: at the equator in
     * March 12 h less 2 times 10/15 h (analytic). */
    assert_near(behind(0, 0, all), 12 - 20 / 15.0, 1e-3);
}

static void lines_shade_only_their_side(void **state)
{
    struct cy_obstacle east = line(90, 0.5);

    (void)state;
    /* atan(0.5) is 26.565 degrees, square to the line; 19.47 at 45 degrees to it. */
    assert_true(cy_obstacle_hides(&east, 26.5, 90));
    assert_false(cy_obstacle_hides(&east, 26.6, 90));
    assert_true(cy_obstacle_hides(&east, 19.4, 45));
    assert_false(cy_obstacle_hides(&east, 19.5, 135));
    assert_false(cy_obstacle_hides(&east, 1, 270));
    assert_false(cy_obstacle_hides(&east, 1, 180));
}

static void row_shadow_reach(void **state)
{
    /* Height 1.8 m. Altitudes, azimuths and reaches computed apart from this program; the first
     * two lines also follow from x = h tan(lat) across rows that run east and west and
     * x = h tan(ha)/cos(lat) across rows that run north and south, at the equinox. */
    static const struct {
        double latitude, declination, hour_angle, altitude, azimuth, north_south, east_west;
    } cases[] = {
        {30, 0, 0, 60.0000, 180.0000, 0, 1.0392},
        {30, 0, 45, 37.7612, 243.4349, 2.0785, 1.0392},
        {32, 23.44, 60, 36.8576, 276.7647, 2.3844, 0.2828},
        {32, -23.44, 45, 19.8390, 223.6054, 3.4409, 3.6126},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double altitude, azimuth;
        cy_sun_horizontal(&altitude, &azimuth, cases[i].latitude, cases[i].declination,
                          cases[i].hour_angle);
        assert_near(altitude, cases[i].altitude, 1e-4);
        assert_near(azimuth, cases[i].azimuth, 1e-4);
        assert_near(cy_obstacle_row_reach(1.8, 0, altitude, azimuth), cases[i].north_south, 1e-4);
        assert_near(cy_obstacle_row_reach(1.8, 90, altitude, azimuth), cases[i].east_west, 1e-4);
        assert_near(cy_obstacle_row_reach(1.8, 180, altitude, azimuth), cases[i].north_south, 1e-4);
    }
    assert_true(isinf(cy_obstacle_row_reach(1.8, 0, -5, 90)));
}

static void alley_shade(void **state)
{
    (void)state;
    assert_near(cy_obstacle_alley_shade(1.2, 2.4), 0.5, 1e-12);
    assert_near(cy_obstacle_alley_shade(9, 2.4), 1, 0);
    assert_near(cy_obstacle_alley_shade(INFINITY, 2.4), 1, 0);
    /* Means over the daylight at 32 N, height 1.8 m, clear alley 2.4 m; computed apart from this
     * program. Equinox, rows east and west: h tan(lat) all day (analytic). */
    assert_near(cy_obstacle_alley_shade_mean(32, 0, 1.8, 90, 2.4), 1.8 * tan(32 * M_PI / 180) / 2.4,
                1e-4);
    assert_near(cy_obstacle_alley_shade_mean(32, 0, 1.8, 0, 2.4), 0.6928, 0.0005);
    assert_near(cy_obstacle_alley_shade_mean(32, 23.44, 1.8, 0, 2.4), 0.6720, 0.0005);
    assert_near(cy_obstacle_alley_shade_mean(32, 23.44, 1.8, 90, 2.4), 0.3202, 0.0005);
    assert_near(cy_obstacle_alley_shade_mean(32, -23.44, 1.8, 0, 2.4), 0.7224, 0.0005);
    assert_near(cy_obstacle_alley_shade_mean(32, -23.44, 1.8, 90, 2.4), 1, 1e-9);
    assert_true(isnan(cy_obstacle_alley_shade_mean(80, -20, 1.8, 0, 2.4)));
}

/* ---- a row between its neighbours ------------------------------------------------------------ */

static struct cy_hedge hedge_of(double height_m, double spacing_m, double bearing_deg,
                                double point_m)
{
    struct cy_neighbour like = {height_m, spacing_m};
    return (struct cy_hedge){.bearing_deg = bearing_deg, .point_m = point_m, .next = {like, like}};
}

/* Seen from half way up: a 1.8 m row 3 m off stands 0.9 m over the point. */
static struct cy_hedge hedge(double bearing_deg)
{
    return hedge_of(1.8, 3, bearing_deg, 0.9);
}

static double hedge_hours(double latitude, double declination, const struct cy_hedge *one)
{
    struct cy_obstacle_day day;
    cy_obstacle_day_of(&day, latitude, declination, NULL, 0);
    return cy_obstacle_hedge_hours(&day, one);
}

static double between_rows(double latitude, double declination, double bearing_deg)
{
    struct cy_hedge one = hedge(bearing_deg);
    return hedge_hours(latitude, declination, &one);
}

static void rows_at_the_equator_lose_both_ends_of_the_day(void **state)
{
    (void)state;
    /* The sun climbs 15 degrees an hour straight over: rows that run north and south hide it below
     * atan(0.9 / 3) on either side, rows that run east and west never do (analytic). */
    double lost = 2 * atan(0.3) * 180 / M_PI / 15;
    assert_near(between_rows(0, 0, 0), 12 - lost, 1e-3);
    assert_near(between_rows(0, 0, 90), 12, 1e-3);
}

static void at_the_equinox_rows_east_and_west_are_lit_all_day_or_not_at_all(void **state)
{
    /* The profile angle across such rows is 90 less the latitude at every hour (analytic: the
     * reach is h tan(lat)), so the next row hides the sun all day past one latitude. */
    struct cy_hedge one = hedge(90);
    double limit_deg = atan(1 / 0.3) * 180 / M_PI;

    (void)state;
    assert_near(hedge_hours(limit_deg - 0.5, 0, &one), 12, 1e-3);
    assert_near(hedge_hours(limit_deg + 0.5, 0, &one), 0, 1e-3);
}

static void the_two_neighbours_are_the_lines_of_the_shadow_rule(void **state)
{
    /* A point is dark exactly when the shadow of the next row, cut at the point's height, reaches
     * across the alley to it. */
    static const double hour_angles[] = {-80, -60, -45, -20, 5, 30, 50, 70, 85};

    (void)state;
    for (double bearing = 0; bearing < 180; bearing += 15)
        for (size_t i = 0; i < sizeof hour_angles / sizeof *hour_angles; i++) {
            double altitude, azimuth;
            struct cy_hedge one = hedge(bearing);
            struct cy_obstacle next[CY_FACE_COUNT];
            cy_obstacle_neighbours(next, &one);
            cy_sun_horizontal(&altitude, &azimuth, 35, 10, hour_angles[i]);
            if (altitude <= 0)
                continue;
            bool dark = cy_obstacle_row_reach(0.9, bearing, altitude, azimuth) > 3;
            assert_true(dark == (cy_obstacle_hides(&next[0], altitude, azimuth) ||
                                 cy_obstacle_hides(&next[1], altitude, azimuth)));
        }
}

static void faces_add_up_and_the_north_face_gets_the_least(void **state)
{
    struct cy_hedge_sun sun;
    struct cy_obstacle_day day;

    (void)state;
    for (double bearing = 7; bearing < 360; bearing += 31) {
        struct cy_hedge one = hedge(bearing);
        struct cy_obstacle trees = band(200, 280, 25);
        cy_obstacle_day_of(&day, 35, 12, &trees, 1);
        cy_obstacle_hedge_sun(&sun, &day, &one);
        assert_near(sun.face_h[0] + sun.face_h[1], sun.hours, 1e-3);
        assert_true(sun.hours <= behind(35, 12, trees) + 1e-9);
    }
    /* Left of a row that runs east is north. North faces of rows east and west got less than half
     * of what south faces got, faces of rows north and south the same: DeJong and Doyle, Acta Hort.
     * 173:159-166, 1985 (abstract). */
    struct cy_hedge across = hedge(90), along = hedge(0);
    cy_obstacle_day_of(&day, 37, 8, NULL, 0);
    cy_obstacle_hedge_sun(&sun, &day, &across);
    assert_near(cy_obstacle_face_azimuth(90, CY_FACE_LEFT), 0, 0);
    assert_true(sun.face_h[CY_FACE_LEFT] < 0.5 * sun.face_h[CY_FACE_RIGHT]);
    cy_obstacle_day_of(&day, 37, 8, NULL, 0);
    cy_obstacle_hedge_sun(&sun, &day, &along);
    assert_near(sun.face_h[CY_FACE_LEFT], sun.face_h[CY_FACE_RIGHT], 1e-3);
    cy_obstacle_day_of(&day, -37, -8, NULL, 0);
    cy_obstacle_hedge_sun(&sun, &day, &across);
    assert_true(sun.face_h[CY_FACE_LEFT] > 2 * sun.face_h[CY_FACE_RIGHT]);
}

static void a_row_at_the_edge_has_one_neighbour(void **state)
{
    struct cy_hedge both = hedge(0), left = both, none = both;
    double open = open_sky(35, 10);

    (void)state;
    left.next[CY_FACE_RIGHT] = none.next[CY_FACE_LEFT] = none.next[CY_FACE_RIGHT] =
        (struct cy_neighbour){0, 1};
    double one = hedge_hours(35, 10, &left);
    double two = hedge_hours(35, 10, &both);
    assert_near(hedge_hours(35, 10, &none), open, 1e-9);
    assert_near(open - two, 2 * (open - one), 1e-3); /* each takes its end of the day */
}

static void higher_and_nearer_rows_never_let_more_sun_in(void **state)
{
    (void)state;
    for (double bearing = 0; bearing < 180; bearing += 45) {
        double before = 24;
        for (double height = 1; height <= 3; height += 0.25) {
            struct cy_hedge one = hedge_of(height, 3, bearing, 0.5);
            double hours = hedge_hours(33, 15, &one);
            assert_true(hours <= before + 1e-6);
            before = hours;
        }
        before = 0;
        for (double spacing = 2; spacing <= 6; spacing += 0.5) {
            struct cy_hedge one = hedge_of(2, spacing, bearing, 0.5);
            double hours = hedge_hours(33, 15, &one);
            assert_true(hours >= before - 1e-6);
            before = hours;
        }
        assert_near(between_rows(33, 15, bearing), between_rows(33, 15, bearing + 180), 1e-6);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(open_sky_is_the_analytic_day),
        cmocka_unit_test(tree_line_at_the_equator),
        cmocka_unit_test(hours_behind_obstacles),
        cmocka_unit_test(east_and_west_cost_the_same),
        cmocka_unit_test(bands_may_cross_north),
        cmocka_unit_test(lines_shade_only_their_side),
        cmocka_unit_test(row_shadow_reach),
        cmocka_unit_test(alley_shade),
        cmocka_unit_test(rows_at_the_equator_lose_both_ends_of_the_day),
        cmocka_unit_test(at_the_equinox_rows_east_and_west_are_lit_all_day_or_not_at_all),
        cmocka_unit_test(the_two_neighbours_are_the_lines_of_the_shadow_rule),
        cmocka_unit_test(faces_add_up_and_the_north_face_gets_the_least),
        cmocka_unit_test(a_row_at_the_edge_has_one_neighbour),
        cmocka_unit_test(higher_and_nearer_rows_never_let_more_sun_in),
    };
    return cmocka_run_group_tests_name("obstacle", tests, NULL, NULL);
}
