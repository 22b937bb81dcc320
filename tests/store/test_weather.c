/* SPDX-License-Identifier: MIT
 * Station weather in the farm file: joined, pointed at, undone, never changed, and not trusted. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <caneyear/climate/gaps.h>
#include <sqlite3.h>

#include "onfile.h"
#include "store/farmfile_parts.h"

/* ---- days ----------------------------------------------------------------------------------- */

/* Days from a date: 5 to 20 C and 1.5 mm, `plus` added to the temperatures. */
static struct cy_weather days_from(cy_day first, int days, double plus)
{
    struct cy_weather out;
    assert_int_equal(cy_weather_init(&out, first, days), CY_OK);
    for (int i = 0; i < days; i++) {
        out.tmin_c[i] = 5 + plus;
        out.tmax_c[i] = 20 + plus;
        out.rain_mm[i] = 1.5;
    }
    return out;
}

static struct cy_weather_added add_as(struct cy_file *file, struct cy_weather days,
                                      const char *station, bool newer_wins)
{
    struct cy_weather_added added;
    struct cy_weather_source source = {.days = &days,
                                       .station = station,
                                       .path = "some/where/file.csv",
                                       .hash = 7,
                                       .newer_wins = newer_wins};
    assert_done(cy_file_weather_add(file, &source, "ann", &added, &issues));
    cy_weather_dispose(&days);
    return added;
}

static struct cy_weather_added add(struct cy_file *file, struct cy_weather days)
{
    return add_as(file, days, "USW00000001", false);
}

static const char *pointer_of(const struct cy_file *file)
{
    return cy_string(cy_farm_one(cy_file_farm(file), CY_KIND_SITE), CY_SITE_STATION);
}

/* The minimum on a day, NAN where the weather does not have it. */
static double low_on(const struct cy_file *file, cy_day day)
{
    const struct cy_weather *weather = cy_file_weather(file);
    int i = weather ? cy_weather_index(weather, day) : -1;
    return i < 0 ? NAN : weather->tmin_c[i];
}

static int64_t count(const char *sql)
{
    sqlite3 *db;
    sqlite3_stmt *statement;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    int64_t number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    sqlite3_close(db);
    return number;
}

static int tamper(const char *sql)
{
    sqlite3 *db;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    int result = sqlite3_exec(db, sql, NULL, NULL, NULL);
    sqlite3_close(db);
    return result;
}

static cy_day new_year(void)
{
    return cy_day_of(2020, 1, 1);
}

/* ---- joining -------------------------------------------------------------------------------- */

static void a_farm_begins_without(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    assert_null(cy_file_weather(file));
    assert_null(cy_file_weather(NULL));
    struct cy_weather_added added = add(file, days_from(new_year(), 400, 0));
    assert_true(added.changed);
    assert_false(added.anew);
    assert_string_equal(added.before, "");
    assert_int_equal(added.new_days, 400);
    assert_int_equal(added.completed, 0);
    assert_int_equal(added.conflicts, 0);
    assert_string_equal(pointer_of(file), "usw00000001-1");
    assert_int_equal(cy_file_weather(file)->days, 400);
    assert_true(low_on(file, new_year() + 7) == 5);
    assert_as_on_disk(file);
    cy_file_close(file);
    file = open_file();
    assert_int_equal(cy_file_weather(file)->first, new_year());
    assert_true(cy_file_weather(file)->rain_mm[399] == 1.5);
    cy_file_close(file);
    assert_int_equal(count("SELECT count(*) FROM batch WHERE file = 'file.csv' AND"
                           " hash = '0000000000000007' AND author = 'ann'"),
                     1);
}

static void loading_twice_changes_nothing(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    size_t before_size, after_size;
    add(file, days_from(new_year(), 400, 1.0 / 3)); /* as of Fahrenheit: not a whole part */
    int64_t step = cy_file_last_step(file);
    char *before = read_bytes(path, &before_size);
    struct cy_weather_added added = add(file, days_from(new_year(), 400, 1.0 / 3));
    char *after = read_bytes(path, &after_size);
    assert_false(added.changed);
    assert_int_equal(added.new_days + added.completed + added.conflicts, 0);
    assert_int_equal(cy_file_last_step(file), step);
    assert_int_equal(before_size, after_size);
    assert_memory_equal(before, after, before_size);
    /* Nor does a part of it, under no name. */
    added = add_as(file, days_from(new_year() + 20, 30, 1.0 / 3), "", false);
    assert_false(added.changed);
    free(before);
    free(after);
    cy_file_close(file);
}

static void a_newer_file_extends(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 400, 0));
    struct cy_weather_added added = add(file, days_from(new_year() + 390, 30, 0));
    assert_true(added.changed);
    assert_int_equal(added.new_days, 20);
    assert_int_equal(added.conflicts, 0);
    assert_string_equal(added.before, "USW00000001");
    assert_int_equal(cy_file_weather(file)->days, 420);
    added = add(file, days_from(new_year() - 10, 5, 0)); /* older days, and a gap of five */
    assert_int_equal(added.new_days, 5);
    assert_int_equal(cy_file_weather(file)->days, 430);
    assert_int_equal(cy_file_weather(file)->origin[6], CY_ORIGIN_FILLED);
    assert_true(low_on(file, new_year() - 4) == 5);
    assert_string_equal(pointer_of(file), "usw00000001-3");
    /* Each batch holds only what it brought, and nothing that was filled. */
    assert_int_equal(count("SELECT count(*) FROM batch_day"), 425);
    assert_int_equal(count("SELECT base FROM batch WHERE id = 3"), 2);
    assert_as_on_disk(file);
    cy_file_close(file);
    file = open_file();
    assert_int_equal(cy_file_weather(file)->days, 430);
    cy_file_close(file);
}

static void the_older_wins_unless_asked(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 100, 0));
    struct cy_weather_added added = add(file, days_from(new_year() + 95, 10, 0.5));
    assert_int_equal(added.conflicts, 5);
    assert_int_equal(added.new_days, 5);
    assert_int_equal(added.completed, 0);
    assert_int_equal(added.older.day, new_year() + 95);
    assert_true(added.older.figure[0] == 5 && added.newer.figure[0] == 5.5);
    assert_true(low_on(file, new_year() + 97) == 5);
    assert_true(low_on(file, new_year() + 101) == 5.5);
    added = add_as(file, days_from(new_year() + 95, 10, 0.5), "USW00000001", true);
    assert_int_equal(added.conflicts, 5);
    assert_int_equal(added.completed, 5);
    assert_true(low_on(file, new_year() + 97) == 5.5);
    assert_true(low_on(file, new_year() + 94) == 5);
    cy_file_close(file);
}

/* ---- wind, dew point and sun ---------------------------------------------------------------- */

static struct cy_weather with_air(struct cy_weather days, double wind_m_s)
{
    for (int i = 0; i < days.days; i += 2) { /* every other day */
        days.wind_m_s[i] = wind_m_s;
        days.dew_c[i] = 3.25;
        days.sun_h[i] = 9;
    }
    return days;
}

static void air_is_kept_where_there_is_any(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 40, 0));
    assert_int_equal(count("SELECT count(*) FROM batch_air"), 0);
    /* The same days with their air: completed, and only they. */
    struct cy_weather_added added = add(file, with_air(days_from(new_year(), 40, 0), 2.5));
    assert_int_equal(added.completed, 20);
    assert_int_equal(added.conflicts + added.new_days, 0);
    assert_int_equal(count("SELECT count(*) FROM batch_air WHERE wind = 2500 AND dew = 3250"), 20);
    added = add(file, with_air(days_from(new_year(), 40, 0), 2.5));
    assert_false(added.changed);
    /* Another wind is a conflict like any other. */
    added = add(file, with_air(days_from(new_year(), 2, 0), 4));
    assert_int_equal(added.conflicts, 1);
    assert_true(added.older.figure[3] == 2.5 && added.newer.figure[3] == 4);
    assert_as_on_disk(file);
    cy_file_close(file);
    file = open_file();
    const struct cy_weather *weather = cy_file_weather(file);
    assert_int_equal(weather->days, 40);
    assert_true(weather->wind_m_s[0] == 2.5 && weather->dew_c[2] == 3.25 &&
                weather->sun_h[38] == 9);
    assert_true(isnan(weather->wind_m_s[1]) && isnan(weather->dew_c[1]));
    assert_true(weather->tmin_c[1] == 5);
    assert_done(cy_file_check_weather(file, &issues));
    cy_file_close(file);
}

#define OLD "tests/data/farms/version-1.cane"

static void take_old_file(void)
{
    size_t length;
    char *bytes = read_bytes(OLD, &length);
    write_bytes(path, bytes, length);
    free(bytes);
}

/* A file that version 1 of the format wrote is read as it is, and goes on at its own version until
 * there is air to keep. */
static void a_file_of_version_1_goes_on(void **state)
{
    (void)state;
    struct cy_farm shipped;
    struct cy_file *file = NULL;
    assert_done(cy_catalogue_read(&shipped, "share", &issues));
    take_old_file();
    assert_done(cy_file_open(&file, path, &shipped, &issues));
    assert_string_equal(cy_string(cy_farm_one(cy_file_farm(file), CY_KIND_FARM), CY_FARM_NAME),
                        "A farm of version 1");
    const struct cy_weather *weather = cy_file_weather(file);
    assert_int_equal(weather->days, 40);
    assert_int_equal(weather->first, cy_day_of(2026, 5, 1));
    assert_true(weather->tmax_c[0] == 24.5 && weather->rain_mm[2] == 5);
    assert_true(isnan(weather->wind_m_s[0]));
    assert_done(cy_file_verify(file, &issues));
    assert_int_equal(count("PRAGMA user_version"), 1);
    add(file, days_from(cy_day_of(2026, 6, 10), 5, 0));
    assert_int_equal(count("PRAGMA user_version"), 1);
    add(file, with_air(days_from(cy_day_of(2026, 6, 15), 5, 0), 2));
    assert_int_equal(count("PRAGMA user_version"), 2);
    assert_int_equal(count("SELECT count(*) FROM batch_air"), 3);
    cy_file_close(file);
    assert_done(cy_file_open(&file, path, &shipped, &issues));
    weather = cy_file_weather(file);
    assert_int_equal(weather->days, 50);
    assert_true(weather->wind_m_s[45] == 2 && isnan(weather->wind_m_s[46]));
    assert_true(weather->tmax_c[0] == 24.5);
    assert_done(cy_file_verify(file, &issues));
    cy_file_close(file);
    cy_farm_dispose(&shipped);
}

/* What is planted in an old file is as unwelcome, and so is a number that its tables belie. */
static void an_old_file_is_looked_at_as_closely(void **state)
{
    (void)state;
    static const char *const planted[] = {"CREATE TABLE batch_air(a)", "DROP TABLE batch_day",
                                          "PRAGMA user_version = 2"};
    for (size_t i = 0; i < sizeof planted / sizeof *planted; i++) {
        struct cy_file *file = NULL;
        struct cy_issues found = {0};
        take_old_file();
        assert_int_equal(tamper(planted[i]), SQLITE_OK);
        assert_int_equal(cy_file_open(&file, path, &catalogue, &found), CY_FAILED);
        assert_int_equal(found.items[0].code, CY_ISSUE_DAMAGED_FARM);
        assert_null(file);
    }
}

/* One file has the maximum of a day, the next its minimum and its rain. */
static void halves_of_a_day_come_together(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    struct cy_weather one = days_from(new_year(), 10, 0), two = days_from(new_year() + 4, 1, 0);
    one.tmin_c[4] = one.rain_mm[4] = NAN;
    two.tmax_c[0] = NAN;
    two.tmin_c[0] = 7;
    add(file, one);
    assert_int_equal(cy_file_weather(file)->origin[4], CY_ORIGIN_FILLED);
    struct cy_weather_added added = add(file, two);
    assert_int_equal(added.completed, 1);
    assert_int_equal(added.conflicts, 0);
    assert_true(low_on(file, new_year() + 4) == 7);
    assert_true(cy_file_weather(file)->tmax_c[4] == 20);
    assert_int_equal(cy_file_weather(file)->origin[4], CY_ORIGIN_OBSERVED);
    /* But no minimum above the other's maximum. */
    one = days_from(new_year() + 20, 3, 0);
    one.tmin_c[1] = NAN;
    add(file, one);
    two = days_from(new_year() + 21, 1, 0);
    two.tmax_c[0] = NAN;
    two.tmin_c[0] = 25;
    added = add(file, two);
    assert_int_equal(added.conflicts, 1);
    assert_false(added.changed);
    cy_file_close(file);
}

static void another_station_stands_alone(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 100, 0));
    struct cy_weather_added added = add_as(file, days_from(new_year(), 50, 9), "Elsewhere", false);
    assert_true(added.changed && added.anew);
    assert_string_equal(added.before, "USW00000001");
    assert_int_equal(added.conflicts, 0);
    assert_int_equal(cy_file_weather(file)->days, 50);
    assert_string_equal(pointer_of(file), "elsewhere-2");
    assert_done(cy_file_undo(file, "ann", NULL, &issues));
    assert_int_equal(cy_file_weather(file)->days, 100);
    cy_file_close(file);
}

static void long_gaps_stay_open(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 10, 0));
    add(file, days_from(new_year() + 15, 10, 0)); /* five days between: filled */
    add(file, days_from(new_year() + 31, 10, 0)); /* six: not */
    const struct cy_weather *weather = cy_file_weather(file);
    assert_int_equal(weather->days, 41);
    for (int i = 0; i < 41; i++)
        assert_int_equal(cy_gaps_missing(weather, i), i >= 25 && i < 31);
    assert_int_equal(weather->origin[12], CY_ORIGIN_FILLED);
    cy_file_close(file);
}

/* ---- steps ---------------------------------------------------------------------------------- */

static void undo_points_back_and_no_batch_goes(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 100, 0));
    add(file, days_from(new_year() + 100, 30, 0));
    assert_done(cy_file_undo(file, "ann", NULL, &issues));
    assert_string_equal(pointer_of(file), "usw00000001-1");
    assert_int_equal(cy_file_weather(file)->days, 100);
    assert_done(cy_file_redo(file, "ann", NULL, &issues));
    assert_int_equal(cy_file_weather(file)->days, 130);
    assert_done(cy_file_undo(file, "ann", NULL, &issues));
    assert_done(cy_file_undo(file, "ann", NULL, &issues));
    assert_string_equal(pointer_of(file), "");
    assert_null(cy_file_weather(file));
    assert_int_equal(count("SELECT count(*) FROM batch"), 2);
    assert_int_equal(count("SELECT count(*) FROM batch_day"), 130);
    assert_as_on_disk(file);
    cy_file_close(file);
}

static void batches_defend_themselves(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 100, 0));
    cy_file_close(file);
    assert_int_not_equal(tamper("DELETE FROM batch_day WHERE day = 18262"), SQLITE_OK);
    assert_int_not_equal(tamper("UPDATE batch_day SET tmin = 0"), SQLITE_OK);
    assert_int_not_equal(tamper("DELETE FROM batch"), SQLITE_OK);
    assert_int_not_equal(tamper("UPDATE batch SET last = last + 1"), SQLITE_OK);
    assert_int_not_equal(tamper("INSERT INTO batch_day SELECT * FROM batch_day"), SQLITE_OK);
    assert_int_not_equal(tamper("INSERT INTO batch_day VALUES (1, 1, 99000, NULL, 0)"), SQLITE_OK);
    assert_int_not_equal(tamper("INSERT INTO batch_day VALUES (1, 1, 9, 8, 0)"), SQLITE_OK);
    assert_int_not_equal(tamper("INSERT INTO batch_day VALUES (1, 1, 9, 'warm', 0)"), SQLITE_OK);
}

static void another_program_sees_it(void **state)
{
    (void)state;
    struct cy_file *ann = create(&small), *bob = open_file();
    bool changed;
    add(ann, days_from(new_year(), 100, 0));
    assert_done(cy_file_refresh(bob, &changed, &issues));
    assert_true(changed);
    assert_int_equal(cy_file_weather(bob)->days, 100);
    name_row(bob, "bob", "row-1", "One");
    assert_done(cy_file_undo(ann, "ann", NULL, &issues));
    name_row(bob, "bob", "row-2", "Two"); /* a write reads what others did, too */
    assert_null(cy_file_weather(bob));
    cy_file_close(bob);
    cy_file_close(ann);
}

static void a_replacement_leaves_the_weather(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 100, 0));
    assert_done(cy_file_replace(file, &small, "ann", &issues));
    assert_int_equal(cy_file_weather(file)->days, 100);
    cy_file_close(file);
}

/* As YAML brings it from another file. */
static void a_name_that_is_not_there_is_no_weather(void **state)
{
    (void)state;
    struct cy_farm farm;
    make_farm(&farm, 2);
    put(&farm, cy_farm_one(&farm, CY_KIND_SITE)->id, CY_SITE_STATION, "usw00000001-1");
    struct cy_file *file = create(&farm);
    assert_null(cy_file_weather(file));
    add(file, days_from(new_year(), 10, 0)); /* the batch takes that very name */
    assert_int_equal(cy_file_weather(file)->days, 10);
    assert_as_on_disk(file);
    cy_file_close(file);
    cy_farm_dispose(&farm);
}

/* ---- stopping ------------------------------------------------------------------------------- */

static bool stop_at(double share, void *payload)
{
    return share < *(double *)payload;
}

static void stopped_it_leaves_nothing(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    struct cy_weather days = days_from(new_year(), 5000, 0);
    for (double share = 0; share < 0.8; share += 0.3) {
        size_t before_size, after_size;
        struct cy_weather_added added;
        struct cy_issues issues = {0};
        struct cy_weather_source source = {
            .days = &days, .station = "", .path = "f", .progress = stop_at, .payload = &share};
        char *before = read_bytes(path, &before_size);
        assert_int_equal(cy_file_weather_add(file, &source, "ann", &added, &issues), CY_CANCELLED);
        char *after = read_bytes(path, &after_size);
        assert_int_equal(issues.count, 0);
        assert_null(cy_file_weather(file));
        assert_int_equal(before_size, after_size);
        assert_memory_equal(before, after, before_size);
        free(before);
        free(after);
    }
    cy_weather_dispose(&days);
    assert_as_on_disk(file);
    name_row(file, "ann", "row-1", "One");
    cy_file_close(file);
}

/* ---- files that were tampered with ---------------------------------------------------------- */

/* Changes what the tables forbid to change, as another program could. */
static void force(const char *sql)
{
    struct cy_text all = {0};
    cy_text_add(&all, "PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF;"
                      "DROP TRIGGER batch_holds; DROP TRIGGER batch_stays;"
                      "DROP TRIGGER batch_day_holds; DROP TRIGGER batch_day_stays;"
                      "DROP TRIGGER batch_air_holds; DROP TRIGGER batch_air_stays;");
    cy_text_add(&all, sql);
    for (int i = 0; cy_sql_schema(i); i++)
        if (strstr(cy_sql_schema(i), "CREATE TRIGGER batch_")) {
            cy_text_add_char(&all, ';');
            cy_text_add(&all, cy_sql_schema(i));
        }
    assert_int_equal(tamper(cy_text_get(&all)), SQLITE_OK);
    cy_text_dispose(&all);
}

static void assert_damaged(const char *sql)
{
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 40, 0));
    add(file, days_from(new_year() + 40, 10, 0));
    cy_file_close(file);
    force(sql);
    struct cy_issues issues = {0};
    int status = cy_file_open(&file, path, &catalogue, &issues);
    if (status == CY_OK)
        print_error("opened in spite of: %s\n", sql);
    assert_int_equal(status, CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_DAMAGED_FARM);
    assert_int_equal(unlink(path), 0);
}

static void hostile_days_are_refused(void **state)
{
    (void)state;
    assert_damaged("UPDATE batch_day SET tmin = 60001, tmax = 60001 WHERE day = 18270");
    assert_damaged("UPDATE batch_day SET rain = -1 WHERE day = 18270");
    assert_damaged("UPDATE batch_day SET tmin = tmax + 1 WHERE day = 18270");
    assert_damaged("UPDATE batch_day SET day = day + 100000 WHERE day = 18270");
    assert_damaged("UPDATE batch SET base = 2 WHERE id = 2");
    assert_damaged("UPDATE batch SET base = 3 WHERE id = 2");
    assert_damaged("UPDATE batch SET last = first WHERE id = 2");
    assert_damaged("UPDATE batch SET last = 9000000000 WHERE id = 2");
    assert_damaged("UPDATE batch SET first = -60000, last = 157000 WHERE id = 2");
    assert_damaged("UPDATE batch SET first = -9000000000 WHERE id = 1");
}

/* A batch that the plan no longer points at is looked at only when the file is verified. */
static void verifying_looks_at_every_batch(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    add(file, days_from(new_year(), 40, 0));
    assert_done(cy_file_undo(file, "ann", NULL, &issues));
    assert_done(cy_file_verify(file, &issues));
    cy_file_close(file);
    force("UPDATE batch SET last = last - 1");
    file = open_file();
    struct cy_issues issues = {0};
    assert_int_equal(cy_file_verify(file, &issues), CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_DAMAGED_FARM);
    cy_file_close(file);
}

#define WEATHER_TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        WEATHER_TEST(a_farm_begins_without),
        WEATHER_TEST(loading_twice_changes_nothing),
        WEATHER_TEST(a_newer_file_extends),
        WEATHER_TEST(the_older_wins_unless_asked),
        WEATHER_TEST(air_is_kept_where_there_is_any),
        WEATHER_TEST(a_file_of_version_1_goes_on),
        WEATHER_TEST(an_old_file_is_looked_at_as_closely),
        WEATHER_TEST(halves_of_a_day_come_together),
        WEATHER_TEST(another_station_stands_alone),
        WEATHER_TEST(long_gaps_stay_open),
        WEATHER_TEST(undo_points_back_and_no_batch_goes),
        WEATHER_TEST(batches_defend_themselves),
        WEATHER_TEST(another_program_sees_it),
        WEATHER_TEST(a_replacement_leaves_the_weather),
        WEATHER_TEST(a_name_that_is_not_there_is_no_weather),
        WEATHER_TEST(stopped_it_leaves_nothing),
        WEATHER_TEST(hostile_days_are_refused),
        WEATHER_TEST(verifying_looks_at_every_batch),
    };
    return cmocka_run_group_tests(tests, make_farms, drop_farms);
}
