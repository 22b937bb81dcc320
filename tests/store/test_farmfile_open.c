/* SPDX-License-Identifier: MIT
 * Files that are no sound farm: each is named for what it is, and not a byte of it changes. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <sqlite3.h>
#include <sys/wait.h>
#include <time.h>

#include "store/onfile.h"

/* Opens what stands at `path`, expects to be refused, and holds the bytes against what they were.
 * Returns the first issue's code. */
static int refused(void)
{
    size_t before_length, after_length;
    struct cy_file *file;
    struct cy_issues issues = {0};
    char *before = read_bytes(path, &before_length);
    int status = cy_file_open(&file, path, &catalogue, &issues);
    char *after = read_bytes(path, &after_length);
    assert_int_not_equal(status, CY_OK);
    assert_null(file);
    assert_int_equal(before_length, after_length);
    assert_memory_equal(before, after, before_length);
    free(before);
    free(after);
    assert_int_equal(issues.count, 1);
    assert_string_equal(issues.items[0].file, path);
    return (int)issues.items[0].code;
}

/* Changes a closed farm file by plain SQL. */
static void change(const char *sql)
{
    sqlite3 *db;
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
    if (sqlite3_exec(db, sql, NULL, NULL, NULL) != SQLITE_OK)
        fail_msg("%s: %s", sql, sqlite3_errmsg(db));
    sqlite3_close(db);
}

static void make(void)
{
    struct cy_file *file = create(&small);
    name_row(file, "ann", "row-1", "first");
    cy_file_close(file);
}

static void no_file_and_a_folder_are_not_readable(void **state)
{
    (void)state;
    struct cy_file *file;
    struct cy_issues issues = {0};
    assert_int_equal(cy_file_open(&file, path, &catalogue, &issues), CY_FAILED);
    assert_int_equal(cy_file_open(&file, folder, &catalogue, &issues), CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_NOT_READABLE);
    assert_int_equal(issues.items[1].code, CY_ISSUE_NOT_READABLE);
    assert_string_equal(issues.items[1].found, "it is a folder");
    assert_int_not_equal(access(path, F_OK), 0);
}

static void an_empty_file_is_not_taken_for_a_new_one(void **state)
{
    (void)state;
    write_bytes(path, "", 0);
    assert_int_equal(refused(), CY_ISSUE_EMPTY_FILE);
}

static void foreign_files_are_no_farms(void **state)
{
    (void)state;
    sqlite3 *db;
    write_bytes(path, "farm:\n  name: not this kind\n", 27);
    assert_int_equal(refused(), CY_ISSUE_NOT_A_FARM);
    write_bytes(path, "x", 1);
    assert_int_equal(refused(), CY_ISSUE_NOT_A_FARM);
    char noise[5000];
    for (size_t i = 0; i < sizeof noise; i++)
        noise[i] = (char)(i * 37 + i / 7);
    write_bytes(path, noise, sizeof noise);
    assert_int_equal(refused(), CY_ISSUE_NOT_A_FARM);
    assert_int_equal(unlink(path), 0);
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(sqlite3_exec(db, "CREATE TABLE a(b)", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
    assert_int_equal(refused(), CY_ISSUE_NOT_A_FARM);
}

static void a_file_of_a_later_version_is_left_alone(void **state)
{
    (void)state;
    make();
    change("PRAGMA user_version = 3");
    assert_int_equal(refused(), CY_ISSUE_FUTURE_FARM);
    change("PRAGMA user_version = 0");
    assert_int_equal(refused(), CY_ISSUE_DAMAGED_FARM);
    /* A field or word that only a later program has. */
    change("PRAGMA user_version = 2; INSERT INTO value(thing, field, num, basis) VALUES"
           " ((SELECT id FROM thing WHERE key = 'row-1'), 'moonlight', 1, 'grower')");
    assert_int_equal(refused(), CY_ISSUE_FUTURE_FARM);
    change(
        "DELETE FROM value WHERE field = 'moonlight'; INSERT INTO value(thing, field, txt,"
        " basis) VALUES ((SELECT id FROM thing WHERE key = 'row-1'), 'stock', 'cloud', 'grower')");
    assert_int_equal(refused(), CY_ISSUE_FUTURE_FARM);
    change("DELETE FROM value WHERE txt = 'cloud'; INSERT INTO thing(id, kind, ord, key, retired)"
           " VALUES (900, 'drone', 0, 'one', 0)");
    assert_int_equal(refused(), CY_ISSUE_FUTURE_FARM);
}

static void what_someone_planted_is_refused(void **state)
{
    (void)state;
    static const char *const planted[] = {
        "CREATE VIEW evil AS SELECT * FROM thing",
        "CREATE TRIGGER evil AFTER INSERT ON step BEGIN DELETE FROM value; END",
        "CREATE TABLE more(a)",
        "CREATE INDEX more ON value(txt)",
        "DROP INDEX thing_key",
        "DROP TRIGGER step_stays",
        "ALTER TABLE farm ADD COLUMN more INTEGER",
        "CREATE TABLE more(id INTEGER PRIMARY KEY AUTOINCREMENT)",
    };
    for (size_t i = 0; i < sizeof planted / sizeof *planted; i++) {
        make();
        change(planted[i]);
        assert_int_equal(refused(), CY_ISSUE_DAMAGED_FARM);
        assert_int_equal(unlink(path), 0);
    }
}

static void values_out_of_range_are_found_on_loading(void **state)
{
    (void)state;
    static const char *const bad[] = {
        "UPDATE value SET num = 1e9 WHERE field = 'length'",
        "UPDATE value SET num = NULL, txt = 'long' WHERE field = 'length'",
        "UPDATE value SET txt = 'No Key' WHERE field = 'cultivar'",
        "UPDATE value SET txt = 'x' || char(27) || '[2J' WHERE field = 'name'",
        "UPDATE farm SET next_id = 3",
        ("DELETE FROM value WHERE thing = (SELECT id FROM thing WHERE kind = 'site');"
         "DELETE FROM thing WHERE kind = 'site'"),
        "UPDATE thing SET kind = 'note' WHERE key = 'row-8'",
        "UPDATE value SET basis = 'grower', num = NULL, txt = '6' WHERE field = 'height'",
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        make();
        change(bad[i]);
        assert_int_equal(refused(), CY_ISSUE_DAMAGED_FARM);
        assert_int_equal(unlink(path), 0);
    }
}

/* Cut at every page and in between. */
static void truncated_files_are_damaged(void **state)
{
    (void)state;
    size_t length;
    make();
    char *bytes = read_bytes(path, &length);
    for (size_t cut = 16; cut < length; cut += cut < 4096 ? 1020 : 2048) {
        write_bytes(path, bytes, cut);
        int code = refused();
        assert_int_equal(code, CY_ISSUE_DAMAGED_FARM);
    }
    free(bytes);
}

/* One byte inverted at many places: refused, or read as a farm that may be told from the true
 * one only where the byte meant nothing; never a crash, never a write. */
static void flipped_bytes_are_survived(void **state)
{
    (void)state;
    size_t length;
    int refusals = 0, tries = 0;
    struct cy_random random;
    make();
    char *bytes = read_bytes(path, &length);
    cy_random_seed(&random, 20270301, 3);
    for (; tries < 250; tries++) {
        struct cy_file *file;
        struct cy_issues issues = {0};
        size_t at = (size_t)(cy_random_uniform(&random) * (double)length), after_length;
        if (tries < 100)
            at = (size_t)tries; /* the header, byte for byte */
        bytes[at] = (char)~bytes[at];
        write_bytes(path, bytes, length);
        if (cy_file_open(&file, path, &catalogue, &issues) == CY_OK) {
            cy_file_verify(file, &issues);
            cy_file_close(file);
        } else {
            refusals++;
            assert_true(issues.count > 0);
        }
        if (!(at == 18 || at == 19)) { /* the two that say how it is journalled may be set back */
            char *after = read_bytes(path, &after_length);
            assert_int_equal(after_length, length);
            assert_memory_equal(after, bytes, length);
            free(after);
        }
        bytes[at] = (char)~bytes[at];
    }
    assert_true(refusals > 60);
    free(bytes);
}

static void a_write_ahead_log_is_folded_back(void **state)
{
    (void)state;
    sqlite3 *db;
    char log[200];
    make();
    change("PRAGMA journal_mode = WAL");
    struct cy_file *file = open_file();
    name_row(file, "ann", "row-1", "second");
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    sqlite3_stmt *statement;
    assert_int_equal(sqlite3_prepare_v2(db, "PRAGMA journal_mode", -1, &statement, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    assert_string_equal((const char *)sqlite3_column_text(statement, 0), "delete");
    sqlite3_finalize(statement);
    sqlite3_close(db);
    snprintf(log, sizeof log, "%s-wal", path);
    assert_int_not_equal(access(log, F_OK), 0);
    cy_file_close(file);
}

/* ---- read only ------------------------------------------------------------------------------ */

/* Opens the file and tries every way to change it. Returns 0, or which assertion failed. */
static int only_reads(void)
{
    struct cy_file *file;
    struct cy_issues issues = {0};
    struct cy_step step = {0};
    struct cy_value name = {0};
    char text[] = "changed";
    bool changed;
    if (cy_file_open(&file, path, &catalogue, &issues) != CY_OK)
        return 1;
    if (!cy_file_read_only(file))
        return 2;
    if (cy_farm_count(cy_file_farm(file), CY_KIND_ROW, 0) != 8)
        return 3;
    name = (struct cy_value){.set = true, .text = text, .basis = CY_BASIS_GROWER};
    cy_step_set(&step, cy_file_farm(file), row_of(cy_file_farm(file), "row-1"), CY_ROW_NAME, &name);
    if (cy_file_step(file, &step, &issues) != CY_FAILED)
        return 4;
    if (issues.items[0].code != CY_ISSUE_READ_ONLY || issues.count != 1)
        return 5;
    if (cy_file_undo(file, "ann", NULL, &issues) != CY_FAILED || cy_file_can_undo(file, "ann"))
        return 6;
    if (cy_file_replace(file, &small, "ann", &issues) != CY_FAILED)
        return 7;
    if (cy_file_refresh(file, &changed, &issues) != CY_OK || changed)
        return 8;
    if (cy_file_verify(file, &issues) != CY_OK)
        return 9;
    cy_step_dispose(&step);
    cy_file_close(file);
    return 0;
}

/* Permissions mean nothing to root, who may run the tests: a child becomes nobody first. */
static void assert_only_reads(void)
{
    size_t before_length, after_length;
    int status;
    char *before = read_bytes(path, &before_length);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        if (geteuid() == 0 && setuid(65534) != 0)
            _exit(100);
        _exit(only_reads());
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 0);
    char *after = read_bytes(path, &after_length);
    assert_int_equal(before_length, after_length);
    assert_memory_equal(before, after, before_length);
    free(before);
    free(after);
}

static void a_file_without_write_permission_opens_to_read(void **state)
{
    (void)state;
    make();
    assert_int_equal(chmod(folder, 0777), 0);
    assert_int_equal(chmod(path, 0444), 0);
    assert_only_reads();
}

static void a_folder_without_write_permission_opens_to_read(void **state)
{
    (void)state;
    make();
    assert_int_equal(chmod(path, 0666), 0);
    assert_int_equal(chmod(folder, 0555), 0);
    assert_only_reads();
    assert_int_equal(chmod(folder, 0755), 0);
}

/* ---- locked --------------------------------------------------------------------------------- */

static int64_t milliseconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static void a_lock_is_waited_for_and_then_named(void **state)
{
    (void)state;
    sqlite3 *db;
    bool changed;
    struct cy_file *file, *second;
    struct cy_issues issues = {0};
    make();
    file = open_file();
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    /* One who writes keeps others from writing, not from reading. */
    assert_int_equal(sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    int64_t start = milliseconds();
    assert_int_equal(try_name(file, "ann", "row-1", "late", &issues), CY_FAILED);
    int64_t waited = milliseconds() - start;
    assert_in_range(waited, CY_FILE_WAIT_MS - 50, CY_FILE_WAIT_MS + 500);
    assert_int_equal(issues.count, 1);
    assert_int_equal(issues.items[0].code, CY_ISSUE_LOCKED);
    assert_done(cy_file_refresh(file, &changed, &issues));
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "first");
    cy_file_close(open_file());
    /* One who keeps everybody out. */
    assert_int_equal(sqlite3_exec(db, "COMMIT; BEGIN EXCLUSIVE", NULL, NULL, NULL), SQLITE_OK);
    issues = (struct cy_issues){0};
    start = milliseconds();
    assert_int_equal(cy_file_open(&second, path, &catalogue, &issues), CY_FAILED);
    waited = milliseconds() - start;
    assert_in_range(waited, CY_FILE_WAIT_MS - 50, CY_FILE_WAIT_MS + 500);
    assert_int_equal(issues.items[0].code, CY_ISSUE_LOCKED);
    assert_int_equal(sqlite3_exec(db, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
    /* A reader that does not end keeps a commit waiting; the step is not there. */
    assert_int_equal(sqlite3_exec(db, "BEGIN; SELECT * FROM farm", NULL, NULL, NULL), SQLITE_OK);
    issues = (struct cy_issues){0};
    start = milliseconds();
    assert_int_equal(try_name(file, "ann", "row-1", "late", &issues), CY_FAILED);
    waited = milliseconds() - start;
    assert_in_range(waited, CY_FILE_WAIT_MS - 50, CY_FILE_WAIT_MS + 500);
    assert_int_equal(issues.items[0].code, CY_ISSUE_LOCKED);
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "first");
    assert_int_equal(sqlite3_exec(db, "COMMIT", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
    name_row(file, "ann", "row-1", "at last");
    assert_as_on_disk(file);
    cy_file_close(file);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(no_file_and_a_folder_are_not_readable),
        TEST(an_empty_file_is_not_taken_for_a_new_one),
        TEST(foreign_files_are_no_farms),
        TEST(a_file_of_a_later_version_is_left_alone),
        TEST(what_someone_planted_is_refused),
        TEST(values_out_of_range_are_found_on_loading),
        TEST(truncated_files_are_damaged),
        TEST(flipped_bytes_are_survived),
        TEST(a_write_ahead_log_is_folded_back),
        TEST(a_file_without_write_permission_opens_to_read),
        TEST(a_folder_without_write_permission_opens_to_read),
        TEST(a_lock_is_waited_for_and_then_named),
    };
    return cmocka_run_group_tests(tests, make_farms, drop_farms);
}
