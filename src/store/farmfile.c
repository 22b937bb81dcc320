/* SPDX-License-Identifier: MIT
 * The farm file as a whole: made, copied, verified. */
#include "store/farmfile_parts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <caneyear/base/array.h>

/* ---- looking at it -------------------------------------------------------------------------- */

const struct cy_farm *cy_file_farm(const struct cy_file *file)
{
    return &file->farm;
}

bool cy_file_read_only(const struct cy_file *file)
{
    return file->read_only;
}

const char *cy_file_path(const struct cy_file *file)
{
    return file->path;
}

int64_t cy_file_last_step(const struct cy_file *file)
{
    return file->last_step;
}

void cy_file_author(char out[CY_AUTHOR_TEXT])
{
    const char *name = getenv("LOGNAME");
    struct cy_text clean = {0};
    if (!name || !*name)
        name = getenv("USER");
    if (!name || !*name)
        name = "someone";
    cy_text_add_clean(&clean, name, strlen(name), false);
    cy_copy(out, CY_AUTHOR_TEXT, cy_text_get(&clean));
    cy_text_dispose(&clean);
}

/* ---- names beside the file ------------------------------------------------------------------ */

/* The path with something behind it; the caller frees it. */
static char *path_with(const char *path, const char *suffix)
{
    struct cy_text text = {0};
    cy_text_add(&text, path);
    cy_text_add(&text, suffix);
    char *with = text.failed ? NULL : cy_strdup(cy_text_get(&text));
    cy_text_dispose(&text);
    return with;
}

/* Makes it last that a file came to be: its name stands in the folder, which is a file too. */
static int sync_folder(const char *path)
{
    struct cy_text folder = {0};
    const char *slash = strrchr(path, '/');
    cy_text_add_n(&folder, slash ? path : ".", slash ? (size_t)(slash - path) + 1 : 1);
    int handle = open(cy_text_get(&folder), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    /* Some file systems cannot sync a folder and need not. */
    int failed = handle < 0 || (fsync(handle) != 0 && errno != EINVAL) ? errno : 0;
    if (handle >= 0)
        close(handle);
    cy_text_dispose(&folder);
    return failed;
}

static int sync_file(const char *path)
{
    int handle = open(path, O_RDONLY | O_CLOEXEC);
    int failed = handle < 0 || fsync(handle) != 0 ? errno : 0;
    if (handle >= 0)
        close(handle);
    return failed;
}

static int fail_with(const char *path, int error, struct cy_issues *issues)
{
    if (error == EEXIST)
        return cy_file_say(path, CY_ISSUE_EXISTS, "", "", issues);
    return cy_file_say(path, CY_ISSUE_DISK, strerror(error), "", issues);
}

/* ---- making one ----------------------------------------------------------------------------- */

static int execute(struct cy_file *file, const char *sql, struct cy_issues *issues)
{
    int result = sqlite3_exec(file->db, sql, NULL, NULL, NULL);
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

static int make_tables(struct cy_file *file, struct cy_issues *issues)
{
    int status = execute(file, "BEGIN IMMEDIATE", issues);
    for (int i = 0; status == CY_OK && cy_sql_schema(i); i++)
        status = execute(file, cy_sql_schema(i), issues);
    return status;
}

/* The numbers that say what the file is, and the one row of `farm`. */
static int identify(struct cy_file *file, struct cy_issues *issues)
{
    struct cy_text sql = {0};
    cy_text_add(&sql, "PRAGMA application_id = ");
    cy_text_add_int(&sql, CY_FILE_APPLICATION_ID);
    cy_text_add(&sql, "; PRAGMA user_version = ");
    cy_text_add_int(&sql, CY_FILE_VERSION);
    cy_text_add(&sql, "; INSERT INTO farm(one, next_id, made_at)"
                      " VALUES (1, 1, CAST(strftime('%s', 'now') AS INTEGER))");
    int status = execute(file, cy_text_get(&sql), issues);
    cy_text_dispose(&sql);
    return status;
}

/* The farm as the first step: from nothing at all, so that every step together make the farm. */
static int put_first_step(struct cy_file *file, const struct cy_farm *farm, const char *author,
                          struct cy_issues *issues)
{
    struct cy_step step = {0};
    file->farm = (struct cy_farm){.next_id = 1, .next_lent_id = CY_LENT_ID};
    int status = cy_step_difference(&step, &file->farm, farm);
    cy_copy(step.author, sizeof step.author, author);
    if (status == CY_OK && file->catalogue)
        status = cy_farm_lend(&file->farm, file->catalogue);
    if (status == CY_OK)
        status = cy_file_put_step(file, &step, "start", issues);
    if (status == CY_OK)
        status = cy_file_put_records(file, farm, author, issues);
    if (status == CY_OK)
        status = execute(file, "COMMIT", issues);
    if (status == CY_OK)
        status = cy_file_reload(file, issues);
    cy_step_dispose(&step);
    return status;
}

static int make(struct cy_file *file, const char *path, const struct cy_farm *farm,
                const char *author, struct cy_issues *issues)
{
    int status = cy_file_connect(file, path, issues);
    if (status == CY_OK)
        status = cy_file_settle(file, issues);
    if (status == CY_OK)
        status = make_tables(file, issues);
    if (status == CY_OK)
        status = identify(file, issues);
    if (status == CY_OK)
        status = put_first_step(file, farm, author, issues);
    if (status != CY_OK)
        return status;
    int error = sync_folder(path);
    return error ? fail_with(path, error, issues) : CY_OK;
}

static void remove_files(const char *path)
{
    char *journal = path_with(path, "-journal");
    unlink(path);
    if (journal)
        unlink(journal);
    free(journal);
}

int cy_file_create(struct cy_file **out, const char *path, const struct cy_farm *farm,
                   const char *author, const struct cy_farm *catalogue, struct cy_issues *issues)
{
    *out = NULL;
    int handle = open(path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (handle < 0)
        return fail_with(path, errno, issues);
    close(handle);
    struct cy_file *file = cy_zeroed(1, sizeof *file);
    int status = CY_NO_MEMORY;
    if (file) {
        file->catalogue = catalogue;
        status = make(file, path, farm, author, issues);
    }
    if (status == CY_OK) {
        *out = file;
        return CY_OK;
    }
    cy_file_close(file);
    remove_files(path);
    return status;
}

/* ---- copying -------------------------------------------------------------------------------- */

/* Gives a finished file its name unless there is one of that name; 0, or errno. */
static int give_name(const char *from, const char *to)
{
    if (link(from, to) == 0) {
        unlink(from);
        return 0;
    }
    if (errno != EPERM && errno != ENOTSUP && errno != ENOSYS)
        return errno;
    /* File systems of sticks have no second names for a file. */
    if (access(to, F_OK) == 0)
        return EEXIST;
    return rename(from, to) == 0 ? 0 : errno;
}

static int copy_into(struct cy_file *file, const char *part, struct cy_issues *issues)
{
    cy_file_start_waiting(file);
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_COPY_INTO);
    if (!statement)
        return cy_file_fail(file, sqlite3_extended_errcode(file->db), issues);
    sqlite3_bind_text(statement, 1, part, -1, SQLITE_STATIC);
    int result = cy_sql_run(statement);
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

int cy_file_backup(struct cy_file *file, const char *target, struct cy_issues *issues)
{
    struct cy_text suffix = {0};
    if (access(target, F_OK) == 0)
        return fail_with(target, EEXIST, issues);
    cy_text_add(&suffix, ".part-");
    cy_text_add_int(&suffix, getpid());
    char *part = suffix.failed ? NULL : path_with(target, cy_text_get(&suffix));
    cy_text_dispose(&suffix);
    if (!part)
        return CY_NO_MEMORY;
    unlink(part);
    int status = copy_into(file, part, issues);
    if (status == CY_OK) {
        int error = sync_file(part);
        if (!error)
            error = give_name(part, target);
        if (!error)
            error = sync_folder(target);
        if (error)
            status = fail_with(target, error, issues);
    }
    remove_files(part);
    free(part);
    return status;
}

/* ---- verifying ------------------------------------------------------------------------------ */

static int damaged(const struct cy_file *file, const char *found, struct cy_issues *issues)
{
    return cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, found, "", issues);
}

/* Every row of a check that is not "ok" is a fault. */
static int check_rows(struct cy_file *file, enum cy_sql sql, struct cy_issues *issues)
{
    sqlite3_stmt *statement = cy_sql(file, sql);
    if (!statement)
        return cy_file_fail(file, sqlite3_extended_errcode(file->db), issues);
    int result, status = CY_OK;
    while ((result = sqlite3_step(statement)) == SQLITE_ROW) {
        const char *text = (const char *)sqlite3_column_text(statement, 0);
        if (!cy_streq(text ? text : "", "ok"))
            status = damaged(file, text ? text : "", issues);
    }
    cy_sql_done(statement);
    return result == SQLITE_DONE ? status : cy_file_fail(file, result, issues);
}

static int replay(struct cy_file *file, struct cy_farm *out, struct cy_issues *issues)
{
    int status = CY_OK;
    *out = (struct cy_farm){.next_id = 1, .next_lent_id = CY_LENT_ID};
    for (int64_t id = 1; status == CY_OK && id <= file->last_step; id++) {
        struct cy_step step;
        status = cy_file_read_step(file, id, &step, issues);
        if (status == CY_OK) {
            status = cy_step_apply(out, &step, true, NULL);
            if (status == CY_INVALID)
                status = damaged(file, "a step cannot be repeated", issues);
        }
        cy_step_dispose(&step);
    }
    return status;
}

static bool same_thing(const struct cy_thing *a, const struct cy_thing *b)
{
    if (a->id != b->id || a->kind != b->kind || a->parent != b->parent || a->order != b->order ||
        !cy_streq(a->key, b->key) || a->retired != b->retired)
        return false;
    for (int i = 0; i < cy_kind_info(a->kind)->field_count; i++)
        if (!cy_value_equal(&a->values[i], &b->values[i]))
            return false;
    return true;
}

/* What the steps make, held against what the tables say: both in the farm's order, records left
 * out. */
static int compare(struct cy_file *file, const struct cy_farm *made, const struct cy_farm *said,
                   struct cy_issues *issues)
{
    int status = CY_OK;
    size_t i = 0;
    for (size_t j = 0; j < said->count && status == CY_OK; j++) {
        if (cy_kind_info(said->things[j]->kind)->shape == CY_SHAPE_RECORD)
            continue;
        if (i >= made->count || !same_thing(made->things[i], said->things[j])) {
            struct cy_text name = {0};
            cy_thing_print(&name, said, said->things[j]);
            cy_text_add(&name, " is not what the steps make of it");
            status = damaged(file, cy_text_get(&name), issues);
            cy_text_dispose(&name);
        }
        i++;
    }
    if (status == CY_OK && i != made->count)
        status = damaged(file, "something that the steps made is missing", issues);
    return status;
}

static int compare_with_steps(struct cy_file *file, struct cy_issues *issues)
{
    const struct cy_farm *catalogue = file->catalogue;
    struct cy_farm made = {0}, said = {0};
    file->catalogue = NULL; /* what the file itself says */
    int status = cy_file_load(file, &said, issues);
    file->catalogue = catalogue;
    if (status == CY_OK)
        status = replay(file, &made, issues);
    if (status == CY_OK)
        status = compare(file, &made, &said, issues);
    cy_farm_dispose(&made);
    cy_farm_dispose(&said);
    return status;
}

int cy_file_verify(struct cy_file *file, struct cy_issues *issues)
{
    cy_file_start_waiting(file);
    int status = execute(file, "BEGIN", issues);
    if (status != CY_OK)
        return status;
    bool changed;
    status = cy_file_catch_up(file, &changed, issues);
    file->unseen = file->unseen || changed;
    int whole = check_rows(file, CY_SQL_INTEGRITY, issues);
    int referred = check_rows(file, CY_SQL_FOREIGN_KEYS, issues);
    if (status == CY_OK)
        status = whole != CY_OK ? whole : referred;
    if (status == CY_OK)
        status = compare_with_steps(file, issues);
    if (status == CY_OK)
        status = cy_file_check_weather(file, issues);
    sqlite3_exec(file->db, "ROLLBACK", NULL, NULL, NULL); /* it only read */
    return status;
}
