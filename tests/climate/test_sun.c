/* SPDX-License-Identifier: MIT
 * The sun's place, rising, setting and the day's length against published and independent values.
 */
#include "support/near.h"
#include "support/soak.h"

#include <libnova/libnova.h>

#include <caneyear/base/random.h>
#include <caneyear/climate/sun.h>

/* The example of Reda and Andreas, "Solar position algorithm for solar radiation applications",
 * Solar Energy 76 (2004) 577-589, NREL/TP-560-34302: 17 October 2003, 12:30:30, zone -7,
 * 39.742476 N, 105.1786 W, 820 mbar, 11 C. */
static const double example_latitude = 39.742476, example_longitude = -105.1786;

static double clock_h(int hour, int minute, double second)
{
    return hour + minute / 60.0 + second / 3600;
}

static double example_instant(void)
{
    return cy_sun_julian_day(cy_day_of(2003, 10, 17), clock_h(12, 30, 30) + 7);
}

static void julian_days(void **state)
{
    (void)state;
    /* NREL/TP-560-34302, table A4.1 */
    assert_near(cy_sun_julian_day(cy_day_of(2000, 1, 1), 12), 2451545.0, 1e-9);
    assert_near(cy_sun_julian_day(cy_day_of(1987, 1, 27), 0), 2446822.5, 1e-9);
    assert_near(cy_sun_julian_day(cy_day_of(1988, 6, 19), 12), 2447332.0, 1e-9);
    assert_near(cy_sun_julian_day(cy_day_of(1900, 1, 1), 0), 2415020.5, 1e-9);
    assert_near(example_instant(), 2452930.312847, 1e-6);
}

static void position_of_the_published_example(void **state)
{
    struct cy_sun_position sun;

    (void)state;
    cy_sun_position(&sun, example_instant(), example_latitude, example_longitude, 820, 11);
    /* Printed: zenith 50.127954 (without refraction), azimuth 194.340241, hour angle 11.105902,
     * apparent zenith 50.111622. The short form is allowed 0.02 degrees and is here within: */
    assert_near(sun.zenith_deg, 50.127954, 0.0005);
    assert_near(sun.azimuth_deg, 194.340241, 0.003);
    assert_near(sun.hour_angle_deg, 11.105902, 0.003);
    assert_near(90 - sun.apparent_altitude_deg, 50.111622, 0.0005);
    assert_near(sun.altitude_deg + sun.zenith_deg, 90, 1e-12);
}

static void refraction_of_the_published_example(void **state)
{
    double geometric = 90 - 50.127954;

    (void)state;
    assert_near(90 - (geometric + cy_sun_refraction(geometric, 820, 11)), 50.111622, 2e-6);
    /* Thin or warm air bends less; a sun wholly below the horizon is not lifted. */
    assert_true(cy_sun_refraction(5, 820, 10) < cy_sun_refraction(5, 1013.25, 10));
    assert_true(cy_sun_refraction(5, 1013.25, 30) < cy_sun_refraction(5, 1013.25, 10));
    assert_true(cy_sun_refraction(-0.5, 1013.25, 10) > 0.5);
    assert_near(cy_sun_refraction(-1, 1013.25, 10), 0, 0);
}

static void times_of_the_published_example(void **state)
{
    struct cy_sun_times times;

    (void)state;
    cy_sun_times(&times, cy_day_of(2003, 10, 17), example_latitude, example_longitude, -7,
                 CY_SUN_RIM_DEG);
    assert_int_equal(times.kind, CY_SUN_RISES_AND_SETS);
    /* Printed 06:12:43. The sunset printed with it, 17:20:19, is that of the 16th; on the 17th
     * four independent codes give 17:18:45 to 17:18:51. */
    assert_near(times.sunrise_h, clock_h(6, 12, 43), 1.0 / 3600);
    assert_near(times.sunset_h, clock_h(17, 18, 50.8), 0.2 / 3600);
    cy_sun_times(&times, cy_day_of(2003, 10, 16), example_latitude, example_longitude, -7,
                 CY_SUN_RIM_DEG);
    assert_near(times.sunset_h, clock_h(17, 20, 19), 1.0 / 3600);
}

static void times_of_the_published_table(void **state)
{
    struct cy_sun_times times;

    (void)state;
    /* NREL/TP-560-34302, table A2.1, on the meridian of Greenwich; tolerance 3 s. */
    cy_sun_times(&times, cy_day_of(1994, 1, 2), 35, 0, 0, CY_SUN_RIM_DEG);
    assert_near(times.sunrise_h, clock_h(7, 8, 12.8), 3.0 / 3600);
    assert_near(times.sunset_h, clock_h(16, 59, 55.9), 3.0 / 3600);
    cy_sun_times(&times, cy_day_of(2004, 12, 4), -35, 0, 0, CY_SUN_RIM_DEG);
    assert_near(times.sunrise_h, clock_h(4, 38, 57.1), 3.0 / 3600);
    assert_near(times.sunset_h, clock_h(19, 2, 2.5), 3.0 / 3600);
}

static void positions_in_the_gulf_south(void **state)
{
    /* 32 N, 90 W in 2024, universal time; computed apart from this program, and agreed to 0.01
     * degrees by PyEphem 4.1.4. */
    static const struct {
        int month, day;
        double hour, altitude, azimuth;
    } cases[] = {
        {6, 21, 18.0, 81.4248, 176.9541},
        {12, 21, 15.0, 20.0759, 136.6979},
        {3, 20, 14.5, 29.7640, 110.6638},
        {9, 22, 21.75, 26.5013, 251.6409},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct cy_sun_position sun;
        cy_day day = cy_day_of(2024, cases[i].month, cases[i].day);
        cy_sun_position(&sun, cy_sun_julian_day(day, cases[i].hour), 32, -90, CY_SUN_PRESSURE_HPA,
                        CY_SUN_AIR_C);
        assert_near(sun.altitude_deg, cases[i].altitude, 0.001);
        assert_near(sun.azimuth_deg, cases[i].azimuth, 0.001);
    }
}

static void day_lengths(void **state)
{
    /* 32 N, 90 W in 2024, computed apart from this program as sunset less sunrise. */
    static const struct {
        int month, day;
        double seen, geometric;
    } cases[] = {
        {3, 20, 12.1491, 12.0182},
        {6, 21, 14.2463, 14.0976},
        {9, 22, 12.1209, 11.9900},
        {12, 21, 10.0557, 9.9077},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        cy_day day = cy_day_of(2024, cases[i].month, cases[i].day);
        assert_near(cy_sun_day_length(day, 32, CY_SUN_MERIDIAN_DEG, CY_SUN_RIM_DEG), cases[i].seen,
                    0.0001);
        assert_near(cy_sun_day_length(day, 32, CY_SUN_MERIDIAN_DEG, 0), cases[i].geometric, 0.0001);
        /* What the meridian is worth. */
        assert_near(cy_sun_day_length(day, 32, 90, CY_SUN_RIM_DEG), cases[i].seen, 0.02);
    }
}

static void polar_day_and_night(void **state)
{
    struct cy_sun_times times;
    cy_day june = cy_day_of(2024, 6, 21), december = cy_day_of(2024, 12, 21);

    (void)state;
    cy_sun_times(&times, june, 70, 25, 2, CY_SUN_RIM_DEG);
    assert_int_equal(times.kind, CY_SUN_NEVER_SETS);
    assert_true(isnan(times.sunrise_h) && isnan(times.sunset_h));
    assert_near(times.noon_h, 12.36, 0.05);
    cy_sun_times(&times, december, 70, 25, 2, CY_SUN_RIM_DEG);
    assert_int_equal(times.kind, CY_SUN_NEVER_RISES);
    assert_near(cy_sun_day_length(june, 70, 25, CY_SUN_RIM_DEG), 24, 0);
    assert_near(cy_sun_day_length(december, 70, 25, CY_SUN_RIM_DEG), 0, 0);
    assert_near(cy_sun_day_length(june, -70, 25, CY_SUN_RIM_DEG), 0, 0);
    assert_near(cy_sun_day_length(june, 90, 0, CY_SUN_RIM_DEG), 24, 0);
    assert_near(cy_sun_day_length(june, -90, 0, CY_SUN_RIM_DEG), 0, 0);
}

/* Into the polar day the last sunrise comes without a sunset after it, or the first polar day
 * begins after one: no day may fall between, and a lit stretch is never longer than 24 h. */
static void days_grow_into_the_polar_day(void **state)
{
    double before = 0;

    (void)state;
    for (cy_day day = cy_day_of(2024, 3, 1); day < cy_day_of(2024, 6, 20); day++) {
        double length = cy_sun_day_length(day, 70, 25, CY_SUN_RIM_DEG);
        assert_true(length >= before - 1e-9 && length <= 24);
        before = length;
    }
    assert_near(before, 24, 0);
}

static void declination_over_the_year(void **state)
{
    double june = cy_sun_declination(cy_day_of(2024, 6, 20), 0);

    (void)state;
    /* The obliquity of the ecliptic in 2024, less than 23.44 by half an arc minute (Meeus,
     * Astronomical Algorithms, chapter 22; from memory). */
    assert_near(june, 23.436, 0.003);
    assert_near(cy_sun_declination(cy_day_of(2024, 12, 21), 0), -june, 0.003);
    assert_near(cy_sun_declination(cy_day_of(2024, 3, 20), 0), 0, 0.2);
    /* Six hours later at 90 W, and at an equinox about a degree in two and a half days. */
    assert_near(cy_sun_declination(cy_day_of(2024, 3, 20), -90) -
                    cy_sun_declination(cy_day_of(2024, 3, 20), 0),
                0.1, 0.003);
}

static void azimuth_keeps_its_quadrant(void **state)
{
    double altitude, azimuth;

    (void)state;
    /* Equinox on the equator: due east until noon, due west after (analytic). */
    cy_sun_horizontal(&altitude, &azimuth, 0, 0, -30);
    assert_near(altitude, 60, 1e-9);
    assert_near(azimuth, 90, 1e-9);
    cy_sun_horizontal(&altitude, &azimuth, 0, 0, 30);
    assert_near(azimuth, 270, 1e-9);
    /* Noon: south of the zenith in the north, north of it in the south (analytic). */
    cy_sun_horizontal(&altitude, &azimuth, 40, 10, 0);
    assert_near(altitude, 60, 1e-9);
    assert_near(azimuth, 180, 1e-9);
    cy_sun_horizontal(&altitude, &azimuth, -40, 10, 0);
    assert_near(altitude, 40, 1e-9);
    assert_near(azimuth, 0, 1e-9);
    /* Summer mornings begin north of east. */
    cy_sun_horizontal(&altitude, &azimuth, 45, 23, -105);
    assert_true(azimuth > 45 && azimuth < 90);
}

/* ---- libnova, an independent code (VSOP87) ------------------------------------------------- */

/* Its place of the sun is of the equinox of 2000, its sidereal time of the date: uncorrected, the
 * two drift apart by 0.7 degrees in fifty years. */
static void libnova_sun(double julian_day, struct ln_equ_posn *out)
{
    struct ln_equ_posn of_2000;

    ln_get_solar_equ_coords(julian_day, &of_2000);
    ln_get_equ_prec(&of_2000, julian_day, out);
}

struct sample {
    cy_day day;
    double hour_ut, latitude, longitude;
};

static struct sample draw(struct cy_random *random)
{
    struct sample sample = {
        .day = cy_day_of(1950, 1, 1) + (cy_day)(cy_random_uniform(random) * 36500),
        .hour_ut = cy_random_uniform(random) * 24,
        .latitude = cy_random_uniform(random) * 120 - 60,
        .longitude = cy_random_uniform(random) * 360 - 180,
    };
    return sample;
}

/* 0.03 degrees: our series is good to 0.01, libnova leaves out some of nutation. */
static void libnova_agrees_on_positions(void **state)
{
    struct cy_random random;

    (void)state;
    cy_random_seed(&random, 1, 0);
    for (int i = 0; i < soak(1000, 20); i++) {
        struct sample s = draw(&random);
        double instant = cy_sun_julian_day(s.day, s.hour_ut), turned;
        struct cy_sun_position ours;
        struct ln_lnlat_posn place = {.lng = s.longitude, .lat = s.latitude};
        struct ln_equ_posn sun;
        struct ln_hrz_posn theirs;

        cy_sun_position(&ours, instant, s.latitude, s.longitude, CY_SUN_PRESSURE_HPA, CY_SUN_AIR_C);
        libnova_sun(instant, &sun);
        ln_get_hrz_from_equ(&sun, &place, instant, &theirs);
        assert_near(ours.altitude_deg, theirs.alt, 0.03);
        /* Its azimuth counts from south. Near the zenith azimuths run wild, arcs do not. */
        turned = remainder(ours.azimuth_deg - (theirs.az + 180), 360);
        assert_near(turned * cos(ours.altitude_deg * M_PI / 180), 0, 0.03);
    }
}

/* 10 s up to 60 degrees of latitude: there 0.03 degrees of declination cost 7 s and more. */
static void libnova_agrees_on_rising_and_setting(void **state)
{
    struct cy_random random;

    (void)state;
    cy_random_seed(&random, 2, 0);
    for (int i = 0; i < soak(1000, 20); i++) {
        struct sample s = draw(&random);
        double zone = round(s.longitude / 15), rise, set;
        struct cy_sun_times ours;
        struct ln_lnlat_posn place = {.lng = s.longitude, .lat = s.latitude};
        struct ln_rst_time theirs;

        cy_sun_times(&ours, s.day, s.latitude, s.longitude, zone, -0.8333);
        assert_int_equal(ours.kind, CY_SUN_RISES_AND_SETS);
        assert_true(ours.sunrise_h < ours.noon_h && ours.noon_h < ours.sunset_h);
        rise = cy_sun_julian_day(s.day, ours.sunrise_h - zone);
        set = cy_sun_julian_day(s.day, ours.sunset_h - zone);
        assert_int_equal(ln_get_body_rst_horizon(cy_sun_julian_day(s.day, ours.noon_h - zone) - 0.5,
                                                 &place, libnova_sun, -0.8333, &theirs),
                         0);
        assert_near((rise - theirs.rise) * 86400, 0, 10);
        assert_near((set - theirs.set) * 86400, 0, 10);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(julian_days),
        cmocka_unit_test(position_of_the_published_example),
        cmocka_unit_test(refraction_of_the_published_example),
        cmocka_unit_test(times_of_the_published_example),
        cmocka_unit_test(times_of_the_published_table),
        cmocka_unit_test(positions_in_the_gulf_south),
        cmocka_unit_test(day_lengths),
        cmocka_unit_test(polar_day_and_night),
        cmocka_unit_test(days_grow_into_the_polar_day),
        cmocka_unit_test(declination_over_the_year),
        cmocka_unit_test(azimuth_keeps_its_quadrant),
        cmocka_unit_test(libnova_agrees_on_positions),
        cmocka_unit_test(libnova_agrees_on_rising_and_setting),
    };
    return cmocka_run_group_tests_name("sun", tests, NULL, NULL);
}
