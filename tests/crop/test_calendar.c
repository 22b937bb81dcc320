/* SPDX-License-Identifier: MIT
 * Seasons run from leaf fall to leaf fall and are named by the year in which they end. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/crop/calendar.h>

#define NORTH 35.5
#define SOUTH (-38.0)

static void assert_day(cy_day day, int year, int month, int date)
{
    char found[CY_DAY_TEXT], wanted[CY_DAY_TEXT];
    assert_string_equal(cy_day_print(found, day),
                        cy_day_print(wanted, cy_day_of(year, month, date)));
}

static void seasons_begin_at_leaf_fall(void **state)
{
    (void)state;
    /* 1 November is where a published count of chill begins (UC Davis, Chilling Accumulation
     * Models); six months on in the south (convention, from memory). */
    assert_day(cy_season_start(NORTH, 2027), 2026, 11, 1);
    assert_day(cy_season_start(SOUTH, 2027), 2026, 5, 1);
    assert_day(cy_season_start(0, 2027), 2026, 11, 1);
    assert_day(cy_season_midwinter(NORTH, 2027), 2027, 1, 1);
    assert_day(cy_season_midwinter(SOUTH, 2027), 2026, 7, 1);
}

static void a_season_is_named_by_the_year_in_which_it_ends(void **state)
{
    (void)state;
    assert_int_equal(cy_season_of(NORTH, cy_day_of(2026, 10, 31)), 2026);
    assert_int_equal(cy_season_of(NORTH, cy_day_of(2026, 11, 1)), 2027);
    assert_int_equal(cy_season_of(NORTH, cy_day_of(2026, 12, 31)), 2027);
    assert_int_equal(cy_season_of(NORTH, cy_day_of(2027, 6, 15)), 2027);
    assert_int_equal(cy_season_of(SOUTH, cy_day_of(2026, 4, 30)), 2026);
    assert_int_equal(cy_season_of(SOUTH, cy_day_of(2026, 5, 1)), 2027);
    assert_int_equal(cy_season_of(SOUTH, cy_day_of(2026, 12, 25)), 2027);
    assert_int_equal(cy_season_of(SOUTH, cy_day_of(2027, 1, 10)), 2027);
}

static void every_day_lies_in_its_season(void **state)
{
    (void)state;
    static const double latitudes[] = {NORTH, SOUTH};
    for (int i = 0; i < 2; i++) {
        for (cy_day day = cy_day_of(1995, 1, 1); day < cy_day_of(2035, 1, 1); day++) {
            int season = cy_season_of(latitudes[i], day);
            assert_in_range(day, cy_season_start(latitudes[i], season),
                            cy_season_start(latitudes[i], season + 1) - 1);
        }
    }
}

static void a_northern_date_moves_six_months_in_the_south(void **state)
{
    (void)state;
    /* Crop.md K: June harvest becomes December. */
    assert_day(cy_season_day(NORTH, 2027, 615, true), 2027, 6, 15);
    assert_day(cy_season_day(SOUTH, 2027, 615, true), 2026, 12, 15);
    assert_day(cy_season_day(NORTH, 2027, 1101, true), 2026, 11, 1);
    assert_day(cy_season_day(SOUTH, 2027, 1101, true), 2026, 5, 1);
    assert_day(cy_season_day(NORTH, 2027, 1031, true), 2027, 10, 31);
    assert_day(cy_season_day(SOUTH, 2027, 1031, true), 2027, 4, 30);
    assert_day(cy_season_day(NORTH, 2027, 115, true), 2027, 1, 15);
    assert_day(cy_season_day(SOUTH, 2027, 115, true), 2026, 7, 15);
}

static void a_typed_date_stays_as_it_is(void **state)
{
    (void)state;
    assert_day(cy_season_day(NORTH, 2027, 615, false), 2027, 6, 15);
    assert_day(cy_season_day(SOUTH, 2027, 615, false), 2026, 6, 15);
    assert_day(cy_season_day(SOUTH, 2027, 115, false), 2027, 1, 15);
}

static void short_months_take_their_last_day(void **state)
{
    (void)state;
    assert_day(cy_season_day(NORTH, 2027, 229, true), 2027, 2, 28);
    assert_day(cy_season_day(NORTH, 2028, 229, true), 2028, 2, 29);
    assert_day(cy_season_day(SOUTH, 2027, 831, true), 2027, 2, 28);
    assert_day(cy_season_day(SOUTH, 2028, 831, true), 2028, 2, 29);
    assert_day(cy_season_day(SOUTH, 2027, 531, true), 2026, 11, 30);
}

static void every_shifted_date_stays_in_its_season(void **state)
{
    (void)state;
    static const double latitudes[] = {NORTH, SOUTH};
    for (int i = 0; i < 4; i++) {
        double latitude = latitudes[i % 2];
        for (int month = 1; month <= 12; month++)
            for (int day = 1; day <= cy_month_days(2027, month); day++)
                assert_int_equal(
                    cy_season_of(latitude, cy_season_day(latitude, 2027, month * 100 + day, i < 2)),
                    2027);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(seasons_begin_at_leaf_fall),
        cmocka_unit_test(a_season_is_named_by_the_year_in_which_it_ends),
        cmocka_unit_test(every_day_lies_in_its_season),
        cmocka_unit_test(a_northern_date_moves_six_months_in_the_south),
        cmocka_unit_test(a_typed_date_stays_as_it_is),
        cmocka_unit_test(short_months_take_their_last_day),
        cmocka_unit_test(every_shifted_date_stays_in_its_season),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
