/* SPDX-License-Identifier: MIT
 * Opening a farm file that may be anything: looked at before it is trusted, never written to. */
#include "store/farmfile_parts.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include <caneyear/base/array.h>

#if SQLITE_VERSION_NUMBER < 3037000
#error "caneyear needs SQLite 3.37 or later, for STRICT tables"
#endif

/* The header of a database: where its magic, its version and its application stand. */
enum { HEADER = 100, AT_VERSION = 60, AT_APPLICATION = 68 };

/* How long looking at a file may take before it is given up as made to keep us busy. */
enum { CHECK_MS = 60000, STEPS_BETWEEN_LOOKS = 20000 };

/* ---- waiting -------------------------------------------------------------------------------- */

static int64_t now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

void cy_file_start_waiting(struct cy_file *file)
{
    file->deadline_ms = now_ms() + CY_FILE_WAIT_MS;
}

/* Called while another holds the lock. The waits differ in length, so that two that wait do not
 * keep meeting. */
static int wait_a_little(void *payload, int tries)
{
    const struct cy_file *file = payload;
    int64_t left_ms = file->deadline_ms - now_ms();
    if (left_ms <= 0)
        return 0;
    int64_t wait_ms = tries < 10 ? 1 + tries % 3 : 5 + tries % 7;
    if (wait_ms > left_ms)
        wait_ms = left_ms;
    struct timespec pause = {.tv_nsec = (long)wait_ms * 1000000};
    nanosleep(&pause, NULL);
    return 1;
}

static int give_up_late(void *payload)
{
    const struct cy_file *file = payload;
    return now_ms() > file->deadline_ms + CHECK_MS;
}

/* ---- connecting ----------------------------------------------------------------------------- */

/* SQLite gives names such as ":memory:" and "file:..." a meaning of their own; a path that begins
 * with a folder is only ever a path. */
static char *plain_path(const char *path)
{
    struct cy_text text = {0};
    if (path[0] != '/')
        cy_text_add(&text, "./");
    cy_text_add(&text, path);
    char *plain = text.failed ? NULL : cy_strdup(cy_text_get(&text));
    cy_text_dispose(&text);
    return plain;
}

static void set_limits(sqlite3 *db)
{
    static const struct {
        int limit, value;
    } limits[] = {
        {SQLITE_LIMIT_LENGTH, 1000000},     {SQLITE_LIMIT_SQL_LENGTH, 10000},
        {SQLITE_LIMIT_COLUMN, 64},          {SQLITE_LIMIT_EXPR_DEPTH, 50},
        {SQLITE_LIMIT_COMPOUND_SELECT, 4},  {SQLITE_LIMIT_FUNCTION_ARG, 8},
        {SQLITE_LIMIT_VARIABLE_NUMBER, 64}, {SQLITE_LIMIT_TRIGGER_DEPTH, 4},
        {SQLITE_LIMIT_ATTACHED, 1}, /* with none a copy cannot be made */
    };
    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++)
        sqlite3_limit(db, limits[i].limit, limits[i].value);
}

static void configure(sqlite3 *db)
{
    static const struct {
        int option, on;
    } options[] = {
        {SQLITE_DBCONFIG_DEFENSIVE, 1},       {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
        {SQLITE_DBCONFIG_ENABLE_VIEW, 0},     {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
        {SQLITE_DBCONFIG_DQS_DDL, 0},         {SQLITE_DBCONFIG_DQS_DML, 0},
        {SQLITE_DBCONFIG_WRITABLE_SCHEMA, 0},
    };
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        sqlite3_db_config(db, options[i].option, options[i].on, NULL);
}

int cy_file_connect(struct cy_file *file, const char *path, struct cy_issues *issues)
{
    char *plain = plain_path(path);
    file->path = cy_strdup(path);
    if (!plain || !file->path) {
        free(plain);
        return CY_NO_MEMORY;
    }
    int result =
        sqlite3_open_v2(plain, &file->db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_EXRESCODE, NULL);
    free(plain);
    if (result == SQLITE_OK) {
        configure(file->db);
        set_limits(file->db);
        sqlite3_busy_handler(file->db, wait_a_little, file);
        cy_file_start_waiting(file);
        result = sqlite3_exec(file->db, "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0", NULL,
                              NULL, NULL);
    }
    if (result == SQLITE_OK || (result & 0xff) == SQLITE_NOMEM)
        return result == SQLITE_OK ? CY_OK : CY_NO_MEMORY;
    return cy_file_say(path, CY_ISSUE_NOT_READABLE, sqlite3_errmsg(file->db), "", issues);
}

/* A pragma's answer as text; "" where it gives none. */
static int ask(struct cy_file *file, const char *sql, struct cy_text *answer)
{
    sqlite3_stmt *statement = NULL;
    int result = sqlite3_prepare_v2(file->db, sql, -1, &statement, NULL);
    cy_text_clear(answer);
    if (result == SQLITE_OK)
        result = sqlite3_step(statement);
    if (result == SQLITE_ROW)
        cy_text_add(answer, (const char *)sqlite3_column_text(statement, 0));
    sqlite3_finalize(statement);
    return result == SQLITE_ROW || result == SQLITE_DONE ? SQLITE_OK : result;
}

/* Runs a pragma and holds its answer against the one that we need. */
static int insist(struct cy_file *file, const char *sql, const char *wanted,
                  struct cy_issues *issues)
{
    struct cy_text answer = {0};
    int result = ask(file, sql, &answer), status = CY_OK;
    if (result != SQLITE_OK)
        status = cy_file_fail(file, result, issues);
    else if (!cy_streq(cy_text_get(&answer), wanted))
        status = cy_file_say(file->path, CY_ISSUE_DISK, sql, "", issues);
    cy_text_dispose(&answer);
    return status;
}

int cy_file_settle(struct cy_file *file, struct cy_issues *issues)
{
    int result = sqlite3_exec(file->db, "PRAGMA foreign_keys = ON; PRAGMA synchronous = EXTRA",
                              NULL, NULL, NULL);
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    int status = insist(file, "PRAGMA foreign_keys", "1", issues);
    if (status == CY_OK)
        status = insist(file, "PRAGMA synchronous", "3", issues);
    /* A file that another tool set to write-ahead logging is brought back: copied to a stick
     * without its log it would lose what was last written. */
    if (status == CY_OK && !file->read_only)
        status = insist(file, "PRAGMA journal_mode = DELETE", "delete", issues);
    return status;
}

/* ---- what kind of file it is ---------------------------------------------------------------- */

static uint32_t big_endian(const unsigned char *bytes)
{
    return (uint32_t)bytes[0] << 24 | (uint32_t)bytes[1] << 16 | (uint32_t)bytes[2] << 8 | bytes[3];
}

static int say_version(const char *path, int64_t version, struct cy_issues *issues)
{
    struct cy_text found = {0}, known = {0};
    bool later = version > CY_FILE_VERSION;
    cy_text_add(&found, later ? "" : "no caneyear wrote a version ");
    cy_text_add_int(&found, version);
    if (later)
        cy_text_add_int(&known, CY_FILE_VERSION);
    int status = cy_file_say(path, later ? CY_ISSUE_FUTURE_FARM : CY_ISSUE_DAMAGED_FARM,
                             cy_text_get(&found), cy_text_get(&known), issues);
    cy_text_dispose(&found);
    cy_text_dispose(&known);
    return status;
}

/* Reads the header through SQLite's own handle: opening and closing the file beside it would drop
 * the locks that this process holds on it. */
static int check_header(struct cy_file *file, struct cy_issues *issues)
{
    static const char magic[16] = "SQLite format 3";
    unsigned char header[HEADER] = {0};
    sqlite3_file *handle = NULL;
    int result = sqlite3_file_control(file->db, "main", SQLITE_FCNTL_FILE_POINTER, &handle);
    if (result == SQLITE_OK && handle && handle->pMethods)
        result = handle->pMethods->xRead(handle, header, HEADER, 0);
    if (result != SQLITE_OK && result != SQLITE_IOERR_SHORT_READ)
        return cy_file_say(file->path, CY_ISSUE_NOT_READABLE, sqlite3_errstr(result), "", issues);
    if (memcmp(header, magic, sizeof magic) != 0)
        return cy_file_say(file->path, CY_ISSUE_NOT_A_FARM, "", "", issues);
    if (result == SQLITE_IOERR_SHORT_READ)
        return cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, "the file ends early", "", issues);
    if (big_endian(header + AT_APPLICATION) != CY_FILE_APPLICATION_ID)
        return cy_file_say(file->path, CY_ISSUE_NOT_A_FARM, "a database of another program", "",
                           issues);
    int64_t version = big_endian(header + AT_VERSION);
    return version >= 1 && version <= CY_FILE_VERSION ? CY_OK
                                                      : say_version(file->path, version, issues);
}

static int check_path(const char *path, struct cy_issues *issues)
{
    struct stat about;
    if (stat(path, &about) != 0)
        return cy_file_say(path, CY_ISSUE_NOT_READABLE, strerror(errno), "", issues);
    if (!S_ISREG(about.st_mode))
        return cy_file_say(path, CY_ISSUE_NOT_READABLE,
                           S_ISDIR(about.st_mode) ? "it is a folder" : "it is not a plain file", "",
                           issues);
    if (about.st_size == 0)
        return cy_file_say(path, CY_ISSUE_EMPTY_FILE, "", "", issues);
    return CY_OK;
}

/* A change needs a journal beside the file, so the folder must be writable too. */
static bool is_read_only(const struct cy_file *file)
{
    struct cy_text folder = {0};
    const char *slash = strrchr(file->path, '/');
    if (!slash)
        cy_text_add(&folder, ".");
    else
        cy_text_add_n(&folder, file->path, slash == file->path ? 1 : (size_t)(slash - file->path));
    bool read_only =
        sqlite3_db_readonly(file->db, "main") != 0 || access(cy_text_get(&folder), W_OK) != 0;
    cy_text_dispose(&folder);
    return read_only;
}

/* ---- whether it is whole -------------------------------------------------------------------- */

/* A change that was cut short must be taken back before the file can be read, which writes. */
static int fail_to_check(struct cy_file *file, int result, struct cy_issues *issues)
{
    if ((result & 0xff) == SQLITE_CANTOPEN || (result & 0xff) == SQLITE_READONLY)
        return cy_file_say(file->path, CY_ISSUE_READ_ONLY,
                           "a change that was cut short must be taken back first", "", issues);
    return cy_file_fail(file, result, issues);
}

/* SQLite sets a line with the database's name above some faults. */
static int say_first_fault(const struct cy_file *file, const char *faults, struct cy_issues *issues)
{
    const char *heading = strchr(faults, '\n');
    return cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, heading ? heading + 1 : faults, "",
                       issues);
}

/* SQLite takes a last page that was cut short for one that ends in zeros. */
static bool ends_early(struct cy_file *file)
{
    struct cy_text pages = {0}, size = {0};
    sqlite3_file *handle = NULL;
    sqlite3_int64 bytes = 0;
    bool known =
        ask(file, "PRAGMA page_count", &pages) == SQLITE_OK &&
        ask(file, "PRAGMA page_size", &size) == SQLITE_OK &&
        sqlite3_file_control(file->db, "main", SQLITE_FCNTL_FILE_POINTER, &handle) == SQLITE_OK &&
        handle && handle->pMethods && handle->pMethods->xFileSize(handle, &bytes) == SQLITE_OK;
    bool early =
        known && bytes < (sqlite3_int64)atoll(cy_text_get(&pages)) * atoll(cy_text_get(&size));
    cy_text_dispose(&pages);
    cy_text_dispose(&size);
    return early;
}

static int check_whole(struct cy_file *file, struct cy_issues *issues)
{
    struct cy_text answer = {0};
    int status = CY_OK;
    sqlite3_progress_handler(file->db, STEPS_BETWEEN_LOOKS, give_up_late, file);
    int result = ask(file, "PRAGMA quick_check(1)", &answer);
    sqlite3_progress_handler(file->db, 0, NULL, NULL);
    if (result != SQLITE_OK)
        status = fail_to_check(file, result, issues);
    else if (!cy_streq(cy_text_get(&answer), "ok"))
        status = say_first_fault(file, cy_text_get(&answer), issues);
    else if (ends_early(file))
        status = cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, "the file ends early", "", issues);
    cy_text_dispose(&answer);
    return status;
}

static bool is_ours(const char *sql, bool seen[], int known)
{
    for (int i = 0; i < known; i++)
        if (!seen[i] && strcmp(cy_sql_schema(i), sql) == 0)
            return seen[i] = true;
    return false;
}

static int say_planted(const struct cy_file *file, const char *name, struct cy_issues *issues)
{
    struct cy_text found = {0};
    cy_text_add(&found, "it holds ");
    cy_text_add(&found, name);
    cy_text_add(&found, ", which caneyear did not make so");
    int status = cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, cy_text_get(&found), "", issues);
    cy_text_dispose(&found);
    return status;
}

/* Nothing but what the file's version created, and all of it: a view or trigger that someone
 * planted would run with our rights. */
static int check_schema(struct cy_file *file, struct cy_issues *issues)
{
    enum { MOST = 64 };
    bool seen[MOST] = {false};
    sqlite3_stmt *statement = NULL;
    int status = CY_OK, found = 0;
    int64_t version = 0;
    int result = cy_sql_number(file, CY_SQL_VERSION, &version);
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    const int known = cy_sql_schema_count((int)version);
    result = sqlite3_prepare_v2(file->db,
                                "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL",
                                -1, &statement, NULL);
    while (result == SQLITE_OK && status == CY_OK &&
           (result = sqlite3_step(statement)) == SQLITE_ROW) {
        result = SQLITE_OK;
        const char *name = (const char *)sqlite3_column_text(statement, 1);
        const char *sql = (const char *)sqlite3_column_text(statement, 2);
        if (sql && is_ours(sql, seen, known))
            found++;
        else
            status = say_planted(file, name ? name : "something", issues);
    }
    sqlite3_finalize(statement);
    if (status == CY_OK && result != SQLITE_DONE)
        return cy_file_fail(file, result, issues);
    if (status == CY_OK && found == 0)
        return cy_file_say(file->path, CY_ISSUE_EMPTY_FILE, "", "", issues);
    if (status == CY_OK && found != known)
        return cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, "tables are missing", "", issues);
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static int open_and_check(struct cy_file *file, const char *path, struct cy_issues *issues)
{
    int status = cy_file_connect(file, path, issues);
    if (status == CY_OK)
        status = check_header(file, issues);
    if (status == CY_OK)
        status = check_whole(file, issues);
    if (status == CY_OK)
        status = check_schema(file, issues);
    if (status == CY_OK) {
        file->read_only = is_read_only(file);
        status = cy_file_settle(file, issues);
    }
    return status == CY_OK ? cy_file_reload(file, issues) : status;
}

int cy_file_open(struct cy_file **out, const char *path, const struct cy_farm *catalogue,
                 struct cy_issues *issues)
{
    *out = NULL;
    int status = check_path(path, issues);
    if (status != CY_OK)
        return status;
    struct cy_file *file = cy_zeroed(1, sizeof *file);
    if (!file)
        return CY_NO_MEMORY;
    file->catalogue = catalogue;
    status = open_and_check(file, path, issues);
    if (status == CY_OK)
        *out = file;
    else
        cy_file_close(file);
    return status;
}

void cy_file_close(struct cy_file *file)
{
    if (!file)
        return;
    cy_sql_finish_all(file);
    sqlite3_close(file->db);
    cy_farm_dispose(&file->farm);
    cy_weather_dispose(&file->weather);
    free(file->path);
    free(file);
}
