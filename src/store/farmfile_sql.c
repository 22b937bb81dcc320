/* SPDX-License-Identifier: MIT
 * The farm file's tables and statements, and what SQLite's results mean in words. */
#include "store/farmfile_parts.h"

/* Version 1: the tables defend themselves: types are strict, references are kept, and what is
 * only ever appended can be neither changed nor deleted, whatever program opens the file.
 *
 *  farm          one row: the next free id of a thing or record
 *  thing, value  the plan as of the last step (what all steps together say)
 *  step, edit    how it came to be; appended only
 *  record...     what was seen and done; appended only, and nothing refers to it by id
 *  batch...      station weather; appended only. A batch holds the days that differ from those of
 *                its base, so that a newer file of a station costs what it brings: a century is
 *                some 650 kB, a week more of it 100 bytes. Days are rows and not a packed block:
 *                the tables then hold their ranges and forbid a day given twice, any SQLite shell
 *                can read them, and a century is written in the time it takes to read its file.
 *                Figures are whole thousandths of C and of mm, which takes tenths and hundredths
 *                of an inch as they are, at half the size of doubles. The site's field `station`
 *                is the key of the one that the plan rests on. Only what was observed is kept:
 *                gaps are filled whenever it is read.
 *
 * A later version adds its tables behind these and takes the next number. A file of an older one
 * is read as it is, and brought up when something is written that needs them, in the same
 * transaction. */
#define ONLY_APPENDED(table)                                                                       \
    "CREATE TRIGGER " table "_stays BEFORE DELETE ON " table                                       \
    " BEGIN SELECT RAISE(ABORT, 'the table " table " is only added to'); END",                     \
        "CREATE TRIGGER " table "_holds BEFORE UPDATE ON " table                                   \
        " BEGIN SELECT RAISE(ABORT, 'the table " table " is only added to'); END"

#define VALUE_COLUMNS                                                                              \
    "field TEXT NOT NULL, num REAL, txt TEXT, basis TEXT NOT NULL, source TEXT,"                   \
    " CHECK ((num IS NULL) <> (txt IS NULL))"

#define KEY_COLUMN                                                                                 \
    "key TEXT NOT NULL CHECK (length(key) BETWEEN 1 AND 40 AND key NOT GLOB '*[^a-z0-9-]*')"

static const char *const version_1[] = {
    "CREATE TABLE farm(one INTEGER PRIMARY KEY CHECK (one = 1),"
    " next_id INTEGER NOT NULL CHECK (next_id > 0), made_at INTEGER NOT NULL) STRICT",

    "CREATE TABLE thing(id INTEGER PRIMARY KEY CHECK (id > 0), kind TEXT NOT NULL,"
    " parent INTEGER REFERENCES thing(id), ord INTEGER NOT NULL, " KEY_COLUMN
    ", retired INTEGER NOT NULL CHECK (retired IN (0, 1))) STRICT",
    "CREATE UNIQUE INDEX thing_key ON thing(kind, coalesce(parent, 0), key)",
    "CREATE INDEX thing_parent ON thing(parent)",

    "CREATE TABLE value(thing INTEGER NOT NULL REFERENCES thing(id), " VALUE_COLUMNS
    ", PRIMARY KEY (thing, field)) STRICT, WITHOUT ROWID",

    "CREATE TABLE step(id INTEGER PRIMARY KEY CHECK (id > 0),"
    " role TEXT NOT NULL CHECK (role IN ('start', 'edit', 'undo', 'redo')),"
    " reverses INTEGER UNIQUE REFERENCES step(id) CHECK (reverses < id),"
    " author TEXT NOT NULL, at INTEGER NOT NULL,"
    " CHECK ((reverses IS NULL) = (role IN ('start', 'edit')))) STRICT",
    "CREATE INDEX step_author ON step(author, id)",

    "CREATE TABLE edit(step INTEGER NOT NULL REFERENCES step(id), n INTEGER NOT NULL,"
    " op TEXT NOT NULL CHECK (op IN ('set', 'add', 'remove', 'retire', 'restore')),"
    " kind TEXT NOT NULL, thing INTEGER NOT NULL, parent INTEGER, ord INTEGER, key TEXT,"
    " field TEXT CHECK ((field IS NULL) = (op <> 'set')),"
    " before_num REAL, before_txt TEXT, before_basis TEXT, before_source TEXT,"
    " after_num REAL, after_txt TEXT, after_basis TEXT, after_source TEXT,"
    " PRIMARY KEY (step, n)) STRICT, WITHOUT ROWID",

    "CREATE TABLE record(id INTEGER PRIMARY KEY CHECK (id > 0), kind TEXT NOT NULL, " KEY_COLUMN
    ", author TEXT NOT NULL, at INTEGER NOT NULL, UNIQUE (kind, key)) STRICT",
    "CREATE TABLE record_value(record INTEGER NOT NULL REFERENCES record(id), " VALUE_COLUMNS
    ", PRIMARY KEY (record, field)) STRICT, WITHOUT ROWID",

    "CREATE TABLE batch(id INTEGER PRIMARY KEY CHECK (id > 0), " KEY_COLUMN ", base INTEGER"
    " REFERENCES batch(id) CHECK (base < id), station TEXT NOT NULL, file TEXT NOT NULL,"
    " hash TEXT NOT NULL, first INTEGER NOT NULL, last INTEGER NOT NULL CHECK (first <= last),"
    " author TEXT NOT NULL, at INTEGER NOT NULL, UNIQUE (key)) STRICT",
    "CREATE TABLE batch_day(batch INTEGER NOT NULL REFERENCES batch(id), day INTEGER NOT NULL,"
    " tmin INTEGER CHECK (tmin BETWEEN -90000 AND 60000),"
    " tmax INTEGER CHECK (tmax BETWEEN -90000 AND 60000 AND tmax >= tmin),"
    " rain INTEGER CHECK (rain BETWEEN 0 AND 2000000), PRIMARY KEY (batch, day))"
    " STRICT, WITHOUT ROWID",

    ONLY_APPENDED("step"),
    ONLY_APPENDED("edit"),
    ONLY_APPENDED("record"),
    ONLY_APPENDED("record_value"),
    ONLY_APPENDED("batch"),
    ONLY_APPENDED("batch_day"),
};

/* Version 2: wind, dew point and sun of a batch's days, where the file of the station had any, in
 * thousandths of m/s, C and hours. */
static const char *const version_2[] = {
    "CREATE TABLE batch_air(batch INTEGER NOT NULL, day INTEGER NOT NULL,"
    " wind INTEGER CHECK (wind BETWEEN 0 AND 75000),"
    " dew INTEGER CHECK (dew BETWEEN -150000 AND 60000),"
    " sun INTEGER CHECK (sun BETWEEN 0 AND 24000), PRIMARY KEY (batch, day),"
    " FOREIGN KEY (batch, day) REFERENCES batch_day(batch, day)) STRICT, WITHOUT ROWID",
    ONLY_APPENDED("batch_air"),
};

enum {
    COUNT_1 = sizeof version_1 / sizeof *version_1,
    COUNT_2 = sizeof version_2 / sizeof *version_2
};

int cy_sql_schema_count(int version)
{
    return version < 2 ? COUNT_1 : COUNT_1 + COUNT_2;
}

const char *cy_sql_schema(int number)
{
    if (number < COUNT_1)
        return version_1[number];
    return number < COUNT_1 + COUNT_2 ? version_2[number - COUNT_1] : NULL;
}

const char *cy_sql_op(int op)
{
    static const char *const words[] = {
        [CY_OP_SET] = "set",       [CY_OP_ADD] = "add",         [CY_OP_REMOVE] = "remove",
        [CY_OP_RETIRE] = "retire", [CY_OP_RESTORE] = "restore", [CY_OP_RESTORE + 1] = NULL};
    return words[op];
}

/* ---- statements ----------------------------------------------------------------------------- */

static const char *const texts[CY_SQL_COUNT] = {
#define SQL(id, text) text,
    CY_SQLS(SQL)
#undef SQL
};

sqlite3_stmt *cy_sql(struct cy_file *file, enum cy_sql sql)
{
    sqlite3_stmt **statement = &file->statements[sql];
    if (!*statement)
        sqlite3_prepare_v3(file->db, texts[sql], -1, SQLITE_PREPARE_PERSISTENT, statement, NULL);
    return *statement;
}

void cy_sql_done(sqlite3_stmt *statement)
{
    if (!statement)
        return;
    sqlite3_reset(statement);
    sqlite3_clear_bindings(statement);
}

int cy_sql_run(sqlite3_stmt *statement)
{
    int result = statement ? sqlite3_step(statement) : SQLITE_NOMEM;
    cy_sql_done(statement);
    return result == SQLITE_DONE || result == SQLITE_ROW ? SQLITE_OK : result;
}

int cy_sql_number(struct cy_file *file, enum cy_sql sql, int64_t *out)
{
    sqlite3_stmt *statement = cy_sql(file, sql);
    if (!statement)
        return sqlite3_extended_errcode(file->db);
    int result = sqlite3_step(statement);
    if (result == SQLITE_ROW)
        *out = sqlite3_column_int64(statement, 0);
    cy_sql_done(statement);
    return result == SQLITE_ROW ? SQLITE_OK : result == SQLITE_DONE ? SQLITE_CORRUPT : result;
}

void cy_sql_finish_all(struct cy_file *file)
{
    for (int i = 0; i < CY_SQL_COUNT; i++) {
        sqlite3_finalize(file->statements[i]);
        file->statements[i] = NULL;
    }
}

/* ---- what went wrong ------------------------------------------------------------------------ */

int cy_file_say(const char *path, enum cy_issue_code code, const char *found, const char *allowed,
                struct cy_issues *issues)
{
    if (issues) {
        struct cy_issue *issue = cy_issue_add(issues, code);
        cy_copy(issue->file, sizeof issue->file, path);
        issue->field_id = CY_FIELD_NONE;
        cy_copy(issue->found, sizeof issue->found, found);
        cy_copy(issue->allowed, sizeof issue->allowed, allowed);
    }
    return CY_FAILED;
}

int cy_file_fail(const struct cy_file *file, int result, struct cy_issues *issues)
{
    const char *path = file->path, *reason = sqlite3_errstr(result);
    if (file->db && sqlite3_extended_errcode(file->db) == result)
        reason = sqlite3_errmsg(file->db);
    switch (result & 0xff) {
    case SQLITE_NOMEM:
        return CY_NO_MEMORY;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
        return cy_file_say(path, CY_ISSUE_LOCKED, "", "", issues);
    case SQLITE_READONLY:
        return cy_file_say(path, CY_ISSUE_READ_ONLY, "", "", issues);
    case SQLITE_NOTADB:
        return cy_file_say(path, CY_ISSUE_NOT_A_FARM, reason, "", issues);
    case SQLITE_CORRUPT:
    case SQLITE_CONSTRAINT: /* the program keeps to the rules: the file does not */
    case SQLITE_MISMATCH:
    case SQLITE_TOOBIG:
    case SQLITE_INTERRUPT:
        return cy_file_say(path, CY_ISSUE_DAMAGED_FARM, reason, "", issues);
    case SQLITE_FULL:
        return cy_file_say(path, CY_ISSUE_DISK, "the disk is full", "", issues);
    default:
        return cy_file_say(path, CY_ISSUE_DISK, reason, "", issues);
    }
}
