/* SPDX-License-Identifier: MIT
 * The farm file read into memory: all of it at once, or the steps that others appended. */
#include "store/farmfile_parts.h"

#include <string.h>

#include <caneyear/base/array.h>

/* ---- single values -------------------------------------------------------------------------- */

static const char *text_at(sqlite3_stmt *statement, int column)
{
    const char *text = (const char *)sqlite3_column_text(statement, column);
    return text ? text : "";
}

static int damaged(const struct cy_file *file, const char *found, struct cy_issues *issues)
{
    return cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, found, "", issues);
}

/* A word that this program does not have was written by one that is newer. */
static int unknown(const struct cy_file *file, const char *word, struct cy_issues *issues)
{
    int status = cy_file_say(file->path, CY_ISSUE_FUTURE_FARM, "", "", issues);
    if (issues && issues->count > 0 && issues->dropped == 0)
        cy_copy(issues->items[issues->count - 1].field, sizeof issues->items[0].field, word);
    return status;
}

static int bad_value(const struct cy_file *file, enum cy_field field, const struct cy_value *value,
                     struct cy_issues *issues)
{
    struct cy_text found = {0}, allowed = {0};
    const struct cy_field_info *info = cy_field_info(field);
    cy_text_add(&found, cy_kind_info(info->kind)->word);
    cy_text_add_char(&found, '.');
    cy_text_add(&found, info->name);
    cy_text_add(&found, ": ");
    if (value->text)
        cy_text_add(&found, value->text);
    else
        cy_text_add_number(&found, value->number);
    cy_text_add(&allowed, "allowed: ");
    cy_field_allowed(&allowed, field, CY_METRIC);
    int status = cy_file_say(file->path, CY_ISSUE_DAMAGED_FARM, cy_text_get(&found),
                             cy_text_get(&allowed), issues);
    cy_text_dispose(&found);
    cy_text_dispose(&allowed);
    return status;
}

static int choice_named(const struct cy_field_info *info, const char *word)
{
    int choice = 0;
    while (choice < info->choice_count && !cy_streq(info->choices[choice], word))
        choice++;
    return choice;
}

/* A value from four columns: number, text, basis, source. One without a basis is not set. */
static int read_value(struct cy_file *file, struct cy_value *out, sqlite3_stmt *statement,
                      int column, enum cy_field field, struct cy_issues *issues)
{
    const struct cy_field_info *info = cy_field_info(field);
    const char *text = (const char *)sqlite3_column_text(statement, column + 1);
    const char *basis = (const char *)sqlite3_column_text(statement, column + 2);
    const char *source = (const char *)sqlite3_column_text(statement, column + 3);
    struct cy_value value = {.set = true};
    *out = (struct cy_value){0};
    if (!basis)
        return CY_OK;
    value.basis = cy_basis_parse(basis, strlen(basis));
    if (value.basis == CY_BASIS_NONE && !cy_streq(basis, cy_basis_word(CY_BASIS_NONE)))
        return unknown(file, basis, issues);
    value.number = sqlite3_column_double(statement, column);
    if (info->type == CY_TYPE_CHOICE && text) {
        value.number = choice_named(info, text);
        if (value.number >= info->choice_count)
            return unknown(file, text, issues);
    } else if (text && !(value.text = cy_strdup(text))) {
        return CY_NO_MEMORY;
    }
    if (source && !(value.source = cy_strdup(source))) {
        cy_value_dispose(&value);
        return CY_NO_MEMORY;
    }
    if (!cy_value_fits(field, &value)) {
        int status = bad_value(file, field, &value, issues);
        cy_value_dispose(&value);
        return status;
    }
    *out = value;
    return CY_OK;
}

static int find_kind(struct cy_file *file, enum cy_kind *out, const char *word,
                     struct cy_issues *issues)
{
    *out = cy_kind_of_word(word, strlen(word));
    return *out == CY_KIND_NONE ? unknown(file, word, issues) : CY_OK;
}

/* ---- the whole farm ------------------------------------------------------------------------- */

/* Handles one row of a result. */
typedef int read_row(struct cy_file *file, struct cy_farm *farm, sqlite3_stmt *row,
                     struct cy_issues *issues);

/* Every row of a statement that takes at most one number. */
static int read_rows(struct cy_file *file, enum cy_sql sql, int64_t after, read_row *handle,
                     struct cy_farm *farm, struct cy_issues *issues)
{
    sqlite3_stmt *statement = cy_sql(file, sql);
    if (!statement)
        return cy_file_fail(file, sqlite3_extended_errcode(file->db), issues);
    if (sqlite3_bind_parameter_count(statement) > 0)
        sqlite3_bind_int64(statement, 1, after);
    int result, status = CY_OK;
    while (status == CY_OK && (result = sqlite3_step(statement)) == SQLITE_ROW)
        status = handle(file, farm, statement, issues);
    if (status == CY_OK && result != SQLITE_DONE)
        status = cy_file_fail(file, result, issues);
    cy_sql_done(statement);
    return status;
}

static int read_thing(struct cy_file *file, struct cy_farm *farm, sqlite3_stmt *row,
                      struct cy_issues *issues)
{
    enum cy_kind kind;
    int status = find_kind(file, &kind, text_at(row, 1), issues);
    if (status != CY_OK)
        return status;
    int64_t id = sqlite3_column_int64(row, 0);
    if (id >= CY_LENT_ID || cy_kind_info(kind)->shape == CY_SHAPE_RECORD)
        return damaged(file, text_at(row, 4), issues);
    const struct cy_thing *thing =
        cy_farm_add(farm, kind, sqlite3_column_int64(row, 2), text_at(row, 4), NULL, id);
    if (!thing)
        return damaged(file, text_at(row, 4), issues);
    if (thing->order != sqlite3_column_int(row, 3))
        cy_farm_reorder(farm, id, sqlite3_column_int(row, 3));
    cy_farm_retire(farm, id, sqlite3_column_int(row, 5) != 0);
    return CY_OK;
}

/* A value of a thing or a record that was read before. */
static int read_field(struct cy_file *file, struct cy_farm *farm, sqlite3_stmt *row,
                      struct cy_issues *issues)
{
    const char *name = text_at(row, 1);
    const struct cy_thing *thing = cy_farm_by_id(farm, sqlite3_column_int64(row, 0));
    if (!thing)
        return damaged(file, name, issues);
    enum cy_field field = cy_field_named(thing->kind, name, strlen(name));
    if (field == CY_FIELD_NONE)
        return unknown(file, name, issues);
    struct cy_value value;
    int status = read_value(file, &value, row, 2, field, issues);
    if (status == CY_OK)
        status = cy_farm_set(farm, thing->id, field, &value);
    cy_value_dispose(&value);
    return status;
}

static int read_record(struct cy_file *file, struct cy_farm *farm, sqlite3_stmt *row,
                       struct cy_issues *issues)
{
    enum cy_kind kind;
    int status = find_kind(file, &kind, text_at(row, 1), issues);
    if (status != CY_OK)
        return status;
    int64_t id = sqlite3_column_int64(row, 0);
    if (id >= CY_LENT_ID || cy_kind_info(kind)->shape != CY_SHAPE_RECORD ||
        !cy_farm_add(farm, kind, 0, text_at(row, 2), NULL, id))
        return damaged(file, text_at(row, 2), issues);
    file->last_record = id;
    return CY_OK;
}

static int read_records(struct cy_file *file, struct cy_farm *farm, struct cy_issues *issues)
{
    int64_t after = file->last_record;
    int status = read_rows(file, CY_SQL_READ_RECORDS, after, read_record, farm, issues);
    if (status == CY_OK)
        status = read_rows(file, CY_SQL_READ_RECORD_VALUES, after, read_field, farm, issues);
    return status;
}

static int read_number(struct cy_file *file, enum cy_sql sql, int64_t *out,
                       struct cy_issues *issues)
{
    int result = cy_sql_number(file, sql, out);
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

/* The next id goes beyond every id ever used, so that no new thing takes the place of one that
 * was removed and may come back. */
static int read_next_id(struct cy_file *file, struct cy_farm *farm, struct cy_issues *issues)
{
    int64_t next_id;
    int status = read_number(file, CY_SQL_READ_NEXT_ID, &next_id, issues);
    if (status != CY_OK)
        return status;
    if (next_id < farm->next_id)
        return damaged(file, "next_id", issues);
    farm->next_id = next_id;
    return CY_OK;
}

static int check_ones(struct cy_file *file, const struct cy_farm *farm, struct cy_issues *issues)
{
    for (int kind = 0; kind < CY_KIND_COUNT; kind++)
        if (cy_kind_info((enum cy_kind)kind)->shape == CY_SHAPE_ONE &&
            !cy_farm_one(farm, (enum cy_kind)kind))
            return damaged(file, cy_kind_info((enum cy_kind)kind)->word, issues);
    return CY_OK;
}

int cy_file_load(struct cy_file *file, struct cy_farm *out, struct cy_issues *issues)
{
    *out = (struct cy_farm){.next_id = 1, .next_lent_id = CY_LENT_ID};
    file->last_record = 0;
    int status = read_rows(file, CY_SQL_READ_THINGS, 0, read_thing, out, issues);
    if (status == CY_OK)
        status = read_rows(file, CY_SQL_READ_VALUES, 0, read_field, out, issues);
    if (status == CY_OK)
        status = read_records(file, out, issues);
    if (status == CY_OK)
        status = read_next_id(file, out, issues);
    if (status == CY_OK)
        status = check_ones(file, out, issues);
    if (status == CY_OK)
        status = read_number(file, CY_SQL_READ_LAST_STEP, &file->last_step, issues);
    if (status == CY_OK && file->catalogue)
        status = cy_farm_lend(out, file->catalogue);
    if (status != CY_OK)
        cy_farm_dispose(out);
    return status;
}

int cy_file_reload(struct cy_file *file, struct cy_issues *issues)
{
    struct cy_farm farm;
    bool own = sqlite3_get_autocommit(file->db) != 0;
    int result = own ? cy_sql_run(cy_sql(file, CY_SQL_BEGIN)) : SQLITE_OK;
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    file->stale = true;
    int status = read_number(file, CY_SQL_DATA_VERSION, &file->data_version, issues);
    if (status == CY_OK)
        status = cy_file_load(file, &farm, issues);
    if (status == CY_OK) {
        cy_farm_dispose(&file->farm);
        file->farm = farm;
        status = cy_file_follow_weather(file, issues);
        file->stale = status != CY_OK;
    }
    if (own)
        cy_sql_run(cy_sql(file, CY_SQL_ROLLBACK)); /* it only read */
    return status;
}

/* ---- steps ---------------------------------------------------------------------------------- */

static int read_op(struct cy_file *file, enum cy_op *out, const char *word,
                   struct cy_issues *issues)
{
    for (int op = 0; cy_sql_op(op); op++)
        if (cy_streq(cy_sql_op(op), word)) {
            *out = (enum cy_op)op;
            return CY_OK;
        }
    return unknown(file, word, issues);
}

static void edit_dispose(struct cy_edit *edit)
{
    cy_value_dispose(&edit->before);
    cy_value_dispose(&edit->after);
}

/* The columns of CY_SQL_READ_EDITS; the key is borrowed from the row. */
static int read_edit(struct cy_file *file, struct cy_edit *out, sqlite3_stmt *row,
                     struct cy_issues *issues)
{
    *out = (struct cy_edit){.thing = sqlite3_column_int64(row, 2),
                            .parent = sqlite3_column_int64(row, 3),
                            .order = sqlite3_column_int(row, 4),
                            .key = (char *)sqlite3_column_text(row, 5),
                            .field = CY_FIELD_NONE};
    int status = read_op(file, &out->op, text_at(row, 0), issues);
    if (status == CY_OK)
        status = find_kind(file, &out->kind, text_at(row, 1), issues);
    if (status != CY_OK || out->op != CY_OP_SET)
        return status;
    const char *name = text_at(row, 6);
    out->field = cy_field_named(out->kind, name, strlen(name));
    if (out->field == CY_FIELD_NONE)
        return unknown(file, name, issues);
    status = read_value(file, &out->before, row, 7, out->field, issues);
    if (status == CY_OK)
        status = read_value(file, &out->after, row, 11, out->field, issues);
    return status;
}

static int read_edits(struct cy_file *file, struct cy_step *out, struct cy_issues *issues)
{
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_READ_EDITS);
    if (!statement)
        return cy_file_fail(file, sqlite3_extended_errcode(file->db), issues);
    sqlite3_bind_int64(statement, 1, out->id);
    int result, status = CY_OK;
    while (status == CY_OK && (result = sqlite3_step(statement)) == SQLITE_ROW) {
        struct cy_edit edit;
        status = read_edit(file, &edit, statement, issues);
        if (status == CY_OK &&
            !cy_grow(&out->edits, &out->capacity, out->count, sizeof *out->edits))
            status = CY_NO_MEMORY;
        if (status == CY_OK && edit.key && !(edit.key = cy_strdup(edit.key)))
            status = CY_NO_MEMORY;
        if (status == CY_OK)
            out->edits[out->count++] = edit;
        else
            edit_dispose(&edit);
    }
    if (status == CY_OK && result != SQLITE_DONE)
        status = cy_file_fail(file, result, issues);
    cy_sql_done(statement);
    return status;
}

int cy_file_read_step(struct cy_file *file, int64_t id, struct cy_step *out,
                      struct cy_issues *issues)
{
    *out = (struct cy_step){.id = id};
    sqlite3_stmt *statement = cy_sql(file, CY_SQL_READ_STEP);
    if (!statement)
        return cy_file_fail(file, sqlite3_extended_errcode(file->db), issues);
    sqlite3_bind_int64(statement, 1, id);
    int result = sqlite3_step(statement);
    if (result == SQLITE_ROW) {
        out->reverses = sqlite3_column_int64(statement, 0);
        cy_copy(out->author, sizeof out->author, text_at(statement, 1));
    }
    cy_sql_done(statement);
    if (result == SQLITE_DONE)
        return damaged(file, "a step is missing", issues);
    int status =
        result == SQLITE_ROW ? read_edits(file, out, issues) : cy_file_fail(file, result, issues);
    if (status != CY_OK)
        cy_step_dispose(out);
    return status;
}

static int replay_newer(struct cy_file *file, int64_t last, struct cy_issues *issues)
{
    int status = CY_OK;
    while (status == CY_OK && file->last_step < last) {
        struct cy_step step;
        status = cy_file_read_step(file, file->last_step + 1, &step, issues);
        if (status == CY_OK)
            status = cy_step_apply_lent(&file->farm, &step, file->catalogue, true, NULL);
        cy_step_dispose(&step);
        if (status == CY_OK)
            file->last_step++;
    }
    return status;
}

int cy_file_catch_up(struct cy_file *file, bool *changed, struct cy_issues *issues)
{
    int64_t last, step = file->last_step, record = file->last_record;
    *changed = false;
    if (file->stale) {
        *changed = true;
        return cy_file_reload(file, issues);
    }
    int status = read_number(file, CY_SQL_READ_LAST_STEP, &last, NULL);
    if (status == CY_OK)
        status = read_number(file, CY_SQL_DATA_VERSION, &file->data_version, NULL);
    if (status == CY_OK)
        status = replay_newer(file, last, NULL);
    if (status == CY_OK)
        status = read_records(file, &file->farm, NULL);
    if (status == CY_OK)
        status = read_next_id(file, &file->farm, NULL);
    if (status == CY_OK)
        status = cy_file_follow_weather(file, NULL);
    /* What cannot be followed step by step is read as a whole, which says what is wrong. */
    if (status != CY_OK)
        status = cy_file_reload(file, issues);
    *changed = file->last_step != step || file->last_record != record;
    return status;
}
