/* SPDX-License-Identifier: MIT
 * What the files of the farm file share with one another and with nobody else. */
#ifndef STORE_FARMFILE_PARTS_H
#define STORE_FARMFILE_PARTS_H

#include <sqlite3.h>

#include "store/farmfile.h"
#include "store/farmfile_sql.h"

#define CY_BATCH_KEY_TEXT 48

struct cy_file {
    sqlite3 *db;
    char *path;
    bool read_only;
    bool stale;   /* memory may differ from the disk: read all before anything else */
    bool touched; /* memory holds what the write in progress has not committed */
    bool unseen;  /* others' changes came in with a write: the next refresh tells */
    const struct cy_farm *catalogue; /* borrowed, or NULL */
    struct cy_farm farm;
    int64_t last_step, last_record;
    int64_t data_version;
    struct cy_weather weather;           /* of the batch of this key, filled */
    char weather_key[CY_BATCH_KEY_TEXT]; /* "" where there is none */
    int64_t deadline_ms;                 /* until when a call may wait for others */
    sqlite3_stmt *statements[CY_SQL_COUNT];
};

/* ---- farmfile_sql.c ---- */
/* The statement, prepared once and ready to be bound; NULL where it cannot be prepared: the
 * reason is what sqlite3_extended_errcode says. */
sqlite3_stmt *cy_sql(struct cy_file *file, enum cy_sql sql);
/* Steps a statement that gives no rows and resets it (NULL: could not be prepared). SQLITE_OK, or
 * what went wrong. */
int cy_sql_run(sqlite3_stmt *statement);
/* The first column of the first row; SQLITE_OK, or what went wrong. */
int cy_sql_number(struct cy_file *file, enum cy_sql sql, int64_t *out);
void cy_sql_done(sqlite3_stmt *statement);
void cy_sql_finish_all(struct cy_file *file);
/* The schema's statements in order; NULL behind the last. */
const char *cy_sql_schema(int number); /* the statements of all versions, in order; then NULL */
int cy_sql_schema_count(int version);  /* how many of them a file of a version has */
/* The word of an edit's kind of change, an enum cy_op; NULL behind the last. */
const char *cy_sql_op(int op);
/* Says what SQLite's result means, and gives the status to return. */
int cy_file_fail(const struct cy_file *file, int result, struct cy_issues *issues);
int cy_file_say(const char *path, enum cy_issue_code code, const char *found, const char *allowed,
                struct cy_issues *issues);

/* ---- farmfile_open.c ---- */
/* Opens the database and makes it safe to read; nothing of it is looked at. */
int cy_file_connect(struct cy_file *file, const char *path, struct cy_issues *issues);
/* Foreign keys, journal and syncing, each read back. */
int cy_file_settle(struct cy_file *file, struct cy_issues *issues);
/* Starts the time that this call may wait for others. */
void cy_file_start_waiting(struct cy_file *file);

/* ---- farmfile_read.c ---- */
/* Everything as of now, the catalogue lent. *out is empty unless it is CY_OK. */
int cy_file_load(struct cy_file *file, struct cy_farm *out, struct cy_issues *issues);
/* Reads all into the file's own farm, in a transaction or in one of its own. */
int cy_file_reload(struct cy_file *file, struct cy_issues *issues);
int cy_file_read_step(struct cy_file *file, int64_t id, struct cy_step *out,
                      struct cy_issues *issues);
/* Inside a transaction: what others appended since. */
int cy_file_catch_up(struct cy_file *file, bool *changed, struct cy_issues *issues);

/* ---- farmfile_write.c ---- */
int cy_file_begin(struct cy_file *file, struct cy_issues *issues);
/* Applies a step in memory and writes it; `role` is "start", "edit", "undo" or "redo". */
int cy_file_put_step(struct cy_file *file, struct cy_step *step, const char *role,
                     struct cy_issues *issues);
/* Adds those records of a farm whose keys the file does not have. */
int cy_file_put_records(struct cy_file *file, const struct cy_farm *from, const char *author,
                        struct cy_issues *issues);
/* Ends what cy_file_begin began: commits if `status` is CY_OK, else takes all back, on disk and in
 * memory (`step` is what was put, or NULL). */
int cy_file_end(struct cy_file *file, int status, struct cy_step *step, struct cy_issues *issues);

/* ---- farmfile_weather.c ---- */
/* Inside a transaction: makes the weather in memory that of the batch the farm points at. */
int cy_file_follow_weather(struct cy_file *file, struct cy_issues *issues);
/* Every batch's days, held against its span and the ranges. */
int cy_file_check_weather(struct cy_file *file, struct cy_issues *issues);

#endif
