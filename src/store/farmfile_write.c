/* SPDX-License-Identifier: MIT
 * Writing: begin at once, read what others appended, compare, apply, commit, and only then
 * answer. */
#include "store/farmfile_parts.h"

#include <stdlib.h>
#include <string.h>
#include <time.h>

/* ---- rows ----------------------------------------------------------------------------------- */

static void bind_text(sqlite3_stmt *statement, int column, const char *text)
{
    if (text)
        sqlite3_bind_text(statement, column, text, -1, SQLITE_STATIC);
}

static void bind_number_or_null(sqlite3_stmt *statement, int column, int64_t number)
{
    if (number)
        sqlite3_bind_int64(statement, column, number);
}

/* Number, text, basis and source from a column on; all of them empty where it is not set. */
static void bind_value(sqlite3_stmt *statement, int column, enum cy_field field,
                       const struct cy_value *value)
{
    const struct cy_field_info *info = cy_field_info(field);
    if (!value->set)
        return;
    if (info->type == CY_TYPE_CHOICE)
        bind_text(statement, column + 1, info->choices[(int)value->number]);
    else if (value->text)
        bind_text(statement, column + 1, value->text);
    else
        sqlite3_bind_double(statement, column, value->number);
    bind_text(statement, column + 2, cy_basis_word(value->basis));
    bind_text(statement, column + 3, value->source);
}

static int prepared(struct cy_file *file, enum cy_sql sql, sqlite3_stmt **out)
{
    *out = cy_sql(file, sql);
    return *out ? SQLITE_OK : sqlite3_extended_errcode(file->db);
}

/* Runs a change that must meet exactly one row: memory says that it is there. */
static int run_on_one(struct cy_file *file, sqlite3_stmt *statement)
{
    int result = cy_sql_run(statement);
    return result == SQLITE_OK && sqlite3_changes(file->db) != 1 ? SQLITE_CORRUPT : result;
}

static int write_next_id(struct cy_file *file)
{
    sqlite3_stmt *statement;
    int result = prepared(file, CY_SQL_SET_NEXT_ID, &statement);
    if (result != SQLITE_OK)
        return result;
    sqlite3_bind_int64(statement, 1, file->farm.next_id);
    return run_on_one(file, statement);
}

/* ---- steps ---------------------------------------------------------------------------------- */

static int write_step_row(struct cy_file *file, const struct cy_step *step, int64_t id,
                          const char *role)
{
    sqlite3_stmt *statement;
    int result = prepared(file, CY_SQL_ADD_STEP, &statement);
    if (result != SQLITE_OK)
        return result;
    sqlite3_bind_int64(statement, 1, id);
    bind_text(statement, 2, role);
    bind_number_or_null(statement, 3, step->reverses);
    bind_text(statement, 4, step->author);
    sqlite3_bind_int64(statement, 5, time(NULL));
    return cy_sql_run(statement);
}

static int write_edit_row(struct cy_file *file, int64_t step, int64_t number,
                          const struct cy_edit *edit)
{
    sqlite3_stmt *statement;
    int result = prepared(file, CY_SQL_ADD_EDIT, &statement);
    if (result != SQLITE_OK)
        return result;
    sqlite3_bind_int64(statement, 1, step);
    sqlite3_bind_int64(statement, 2, number);
    bind_text(statement, 3, cy_sql_op(edit->op));
    bind_text(statement, 4, cy_kind_info(edit->kind)->word);
    sqlite3_bind_int64(statement, 5, edit->thing);
    if (edit->op == CY_OP_SET) {
        bind_text(statement, 9, cy_field_info(edit->field)->name);
        bind_value(statement, 10, edit->field, &edit->before);
        bind_value(statement, 14, edit->field, &edit->after);
    } else {
        bind_number_or_null(statement, 6, edit->parent);
        sqlite3_bind_int(statement, 7, edit->order);
        bind_text(statement, 8, edit->key);
    }
    return cy_sql_run(statement);
}

static int write_field(struct cy_file *file, const struct cy_edit *edit)
{
    sqlite3_stmt *statement;
    int result =
        prepared(file, edit->after.set ? CY_SQL_SET_VALUE : CY_SQL_CLEAR_VALUE, &statement);
    if (result != SQLITE_OK)
        return result;
    sqlite3_bind_int64(statement, 1, edit->thing);
    bind_text(statement, 2, cy_field_info(edit->field)->name);
    bind_value(statement, 3, edit->field, &edit->after);
    return run_on_one(file, statement);
}

static int write_place(struct cy_file *file, const struct cy_edit *edit)
{
    static const enum cy_sql sqls[] = {[CY_OP_ADD] = CY_SQL_ADD_THING,
                                       [CY_OP_REMOVE] = CY_SQL_REMOVE_THING,
                                       [CY_OP_RETIRE] = CY_SQL_RETIRE_THING,
                                       [CY_OP_RESTORE] = CY_SQL_RETIRE_THING};
    sqlite3_stmt *statement;
    int result = prepared(file, sqls[edit->op], &statement);
    if (result != SQLITE_OK)
        return result;
    sqlite3_bind_int64(statement, 1, edit->thing);
    if (edit->op == CY_OP_ADD) {
        bind_text(statement, 2, cy_kind_info(edit->kind)->word);
        bind_number_or_null(statement, 3, edit->parent);
        sqlite3_bind_int(statement, 4, edit->order);
        bind_text(statement, 5, edit->key);
    } else if (edit->op != CY_OP_REMOVE) {
        sqlite3_bind_int(statement, 2, edit->op == CY_OP_RETIRE);
    }
    return run_on_one(file, statement);
}

static int write_step(struct cy_file *file, const struct cy_step *step, int64_t id,
                      const char *role)
{
    int result = write_step_row(file, step, id, role);
    for (size_t i = 0; i < step->count && result == SQLITE_OK; i++) {
        const struct cy_edit *edit = &step->edits[i];
        result = write_edit_row(file, id, (int64_t)i, edit);
        if (result == SQLITE_OK)
            result = edit->op == CY_OP_SET ? write_field(file, edit) : write_place(file, edit);
    }
    return result == SQLITE_OK ? write_next_id(file) : result;
}

static bool removed_before(const struct cy_step *step, size_t count, int64_t thing)
{
    for (size_t i = 0; i < count; i++)
        if (step->edits[i].op == CY_OP_REMOVE && step->edits[i].thing == thing)
            return true;
    return false;
}

/* Moves the ids that a new step gave to its things on to free ones, where others took some since
 * it was built. They run without gaps from the first; a thing that the step itself took away and
 * puts back keeps its own. */
static void take_free_ids(struct cy_step *step, int64_t next_id)
{
    int64_t first = 0;
    for (size_t i = 0; i < step->count && first == 0; i++) {
        const struct cy_edit *edit = &step->edits[i];
        if (edit->op == CY_OP_ADD && edit->thing < next_id && !removed_before(step, i, edit->thing))
            first = edit->thing;
    }
    for (size_t i = 0; i < step->count && first != 0; i++) {
        struct cy_edit *edit = &step->edits[i];
        if (edit->thing >= first)
            edit->thing += next_id - first;
        if (edit->parent >= first)
            edit->parent += next_id - first;
    }
}

int cy_file_put_step(struct cy_file *file, struct cy_step *step, const char *role,
                     struct cy_issues *issues)
{
    if (step->count == 0)
        return CY_OK;
    if (step->author[0] == '\0')
        cy_file_author(step->author);
    if (step->reverses == 0)
        take_free_ids(step, file->farm.next_id);
    int status = cy_step_apply_lent(&file->farm, step, file->catalogue, false, issues);
    if (status != CY_OK)
        return status;
    file->touched = true;
    step->id = file->last_step + 1;
    int result = write_step(file, step, step->id, role);
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

/* ---- records -------------------------------------------------------------------------------- */

static int write_record_row(struct cy_file *file, const struct cy_thing *record, const char *author)
{
    sqlite3_stmt *statement;
    int result = prepared(file, CY_SQL_ADD_RECORD, &statement);
    if (result != SQLITE_OK)
        return result;
    sqlite3_bind_int64(statement, 1, record->id);
    bind_text(statement, 2, cy_kind_info(record->kind)->word);
    bind_text(statement, 3, record->key);
    bind_text(statement, 4, author);
    sqlite3_bind_int64(statement, 5, time(NULL));
    return cy_sql_run(statement);
}

static int write_record(struct cy_file *file, const struct cy_thing *record, const char *author)
{
    const struct cy_kind_info *info = cy_kind_info(record->kind);
    int result = write_record_row(file, record, author);
    for (int i = 0; i < info->field_count && result == SQLITE_OK; i++) {
        enum cy_field field = (enum cy_field)(info->first_field + i);
        sqlite3_stmt *statement;
        if (!record->values[i].set)
            continue;
        result = prepared(file, CY_SQL_ADD_RECORD_VALUE, &statement);
        if (result != SQLITE_OK)
            break;
        sqlite3_bind_int64(statement, 1, record->id);
        bind_text(statement, 2, cy_field_info(field)->name);
        bind_value(statement, 3, field, &record->values[i]);
        result = cy_sql_run(statement);
    }
    return result;
}

static int refuse_value(const struct cy_file *file, const char *thing, enum cy_field field,
                        enum cy_issue_code code, const struct cy_value *found,
                        const struct cy_value *expected, struct cy_issues *issues)
{
    enum cy_system system = cy_farm_system(&file->farm);
    struct cy_text now = {0}, allowed = {0};
    cy_value_print(&now, field, found, system);
    if (expected)
        cy_value_print(&allowed, field, expected, system);
    else
        cy_field_allowed(&allowed, field, system);
    cy_issue_say(issues, code, thing, cy_field_info(field)->name, cy_text_get(&now),
                 cy_text_get(&allowed));
    cy_text_dispose(&now);
    cy_text_dispose(&allowed);
    return CY_INVALID;
}

/* Adds a record to memory and to the tables; key NULL makes one. */
static int put_record(struct cy_file *file, enum cy_kind kind, const char *key,
                      const struct cy_value *values, const char *author, struct cy_issues *issues)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    const struct cy_thing *record = cy_farm_add(&file->farm, kind, 0, key, NULL, 0);
    if (!record)
        return CY_NO_MEMORY;
    file->touched = true;
    for (int i = 0; i < info->field_count; i++) {
        enum cy_field field = (enum cy_field)(info->first_field + i);
        struct cy_value own = values[i];
        own.lent = false;
        if (!own.set)
            continue;
        if (!cy_value_fits(field, &own))
            return refuse_value(file, record->key, field, CY_ISSUE_OUT_OF_RANGE, &own, NULL,
                                issues);
        if (cy_farm_set(&file->farm, record->id, field, &own) != CY_OK)
            return CY_NO_MEMORY;
    }
    int result = write_record(file, record, author);
    if (result == SQLITE_OK)
        result = write_next_id(file);
    return result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
}

/* A record never changes: one of the same key must say the same. */
static int compare_records(struct cy_file *file, const struct cy_thing *there,
                           const struct cy_thing *wanted, struct cy_issues *issues)
{
    const struct cy_kind_info *info = cy_kind_info(there->kind);
    for (int i = 0; i < info->field_count; i++)
        if (!cy_value_equal(&there->values[i], &wanted->values[i]))
            return refuse_value(file, there->key, (enum cy_field)(info->first_field + i),
                                CY_ISSUE_CLASH, &there->values[i], &wanted->values[i], issues);
    return CY_OK;
}

static size_t count_faults(const struct cy_file *file, struct cy_issues *faults)
{
    *faults = (struct cy_issues){0};
    cy_farm_check(&file->farm, faults);
    return faults->count + faults->dropped;
}

/* Records may not bring faults that the farm did not have. */
static int check_no_worse(struct cy_file *file, size_t before, struct cy_issues *issues)
{
    struct cy_issues faults;
    if (count_faults(file, &faults) <= before)
        return CY_OK;
    for (size_t i = 0; issues && i < faults.count; i++)
        *cy_issue_add(issues, faults.items[i].code) = faults.items[i];
    return CY_INVALID;
}

int cy_file_put_records(struct cy_file *file, const struct cy_farm *from, const char *author,
                        struct cy_issues *issues)
{
    struct cy_issues faults;
    size_t before = count_faults(file, &faults);
    int status = CY_OK;
    for (size_t i = 0; i < from->count && status == CY_OK; i++) {
        const struct cy_thing *record = from->things[i];
        if (cy_kind_info(record->kind)->shape != CY_SHAPE_RECORD)
            continue;
        const struct cy_thing *there = cy_farm_by_key(&file->farm, record->kind, 0, record->key);
        status = there
                     ? compare_records(file, there, record, issues)
                     : put_record(file, record->kind, record->key, record->values, author, issues);
    }
    return status == CY_OK ? check_no_worse(file, before, issues) : status;
}

/* ---- the protocol --------------------------------------------------------------------------- */

int cy_file_begin(struct cy_file *file, struct cy_issues *issues)
{
    bool changed;
    sqlite3_stmt *statement;
    cy_file_start_waiting(file);
    file->touched = false;
    if (file->read_only)
        return cy_file_say(file->path, CY_ISSUE_READ_ONLY, "", "", issues);
    int result = prepared(file, CY_SQL_BEGIN_WRITE, &statement);
    if (result == SQLITE_OK)
        result = cy_sql_run(statement);
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    int status = cy_file_catch_up(file, &changed, issues);
    file->unseen = file->unseen || changed;
    return status == CY_OK ? CY_OK : cy_file_end(file, status, NULL, issues);
}

/* Where the disk cannot be read either, memory goes back to what was acknowledged last. */
static void take_back(struct cy_file *file, const struct cy_step *step)
{
    struct cy_step reverse;
    for (size_t i = file->farm.count; i > 0; i--) {
        const struct cy_thing *thing = file->farm.things[i - 1];
        if (cy_kind_info(thing->kind)->shape == CY_SHAPE_RECORD && thing->id > file->last_record)
            cy_farm_remove(&file->farm, thing->id);
    }
    if (!step || step->id == 0 || cy_step_reverse(&reverse, step) != CY_OK)
        return;
    cy_step_apply_lent(&file->farm, &reverse, file->catalogue, true, NULL);
    cy_step_dispose(&reverse);
}

/* A commit that failed may yet have reached the disk, so the disk is asked what holds. */
static void recover(struct cy_file *file, struct cy_step *step)
{
    sqlite3_stmt *statement;
    if (!sqlite3_get_autocommit(file->db) &&
        prepared(file, CY_SQL_ROLLBACK, &statement) == SQLITE_OK)
        cy_sql_run(statement);
    if (file->touched && cy_file_reload(file, NULL) != CY_OK)
        take_back(file, step);
    if (step)
        step->id = 0;
}

int cy_file_end(struct cy_file *file, int status, struct cy_step *step, struct cy_issues *issues)
{
    sqlite3_stmt *statement;
    if (status == CY_OK)
        status = cy_file_follow_weather(file, issues);
    if (status == CY_OK) {
        int result = prepared(file, CY_SQL_COMMIT, &statement);
        if (result == SQLITE_OK)
            result = cy_sql_run(statement);
        if (result != SQLITE_OK)
            status = cy_file_fail(file, result, issues);
    }
    if (status != CY_OK) {
        recover(file, step);
        return status;
    }
    if (step && step->id != 0)
        file->last_step = step->id;
    file->last_record = file->farm.next_id - 1; /* ids only rise */
    return CY_OK;
}

int cy_file_refresh(struct cy_file *file, bool *changed, struct cy_issues *issues)
{
    int64_t version;
    *changed = file->unseen;
    file->unseen = false;
    cy_file_start_waiting(file);
    int result = cy_sql_number(file, CY_SQL_DATA_VERSION, &version);
    if (result == SQLITE_OK && version == file->data_version && !file->stale)
        return CY_OK;
    bool newer = false;
    int status = result == SQLITE_OK ? CY_OK : cy_file_fail(file, result, issues);
    if (status == CY_OK) {
        result = cy_sql_run(cy_sql(file, CY_SQL_BEGIN));
        status = result == SQLITE_OK ? cy_file_catch_up(file, &newer, issues)
                                     : cy_file_fail(file, result, issues);
        cy_sql_run(cy_sql(file, CY_SQL_ROLLBACK)); /* it only read */
    }
    *changed = *changed || newer;
    return status;
}

/* ---- what is asked for ---------------------------------------------------------------------- */

int cy_file_step(struct cy_file *file, struct cy_step *step, struct cy_issues *issues)
{
    int status = cy_file_begin(file, issues);
    if (status != CY_OK)
        return status;
    step->id = step->reverses = 0;
    return cy_file_end(file, cy_file_put_step(file, step, "edit", issues), step, issues);
}

int cy_file_record(struct cy_file *file, enum cy_kind kind, const char *author,
                   const struct cy_value *values, struct cy_issues *issues)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    if (!info || info->shape != CY_SHAPE_RECORD)
        return CY_INVALID;
    int status = cy_file_begin(file, issues);
    if (status != CY_OK)
        return status;
    struct cy_issues faults;
    size_t before = count_faults(file, &faults);
    status = put_record(file, kind, NULL, values, author, issues);
    if (status == CY_OK)
        status = check_no_worse(file, before, issues);
    return cy_file_end(file, status, NULL, issues);
}

/* What a farm from YAML says of the weather, or does not say, is no reason to let go of it. */
static void leave_weather(struct cy_step *step)
{
    size_t kept = 0;
    for (size_t i = 0; i < step->count; i++) {
        struct cy_edit *edit = &step->edits[i];
        if (edit->op == CY_OP_SET && edit->field == CY_SITE_STATION) {
            cy_value_dispose(&edit->before);
            cy_value_dispose(&edit->after);
            free(edit->key);
        } else {
            step->edits[kept++] = *edit;
        }
    }
    step->count = kept;
}

int cy_file_replace(struct cy_file *file, const struct cy_farm *wanted, const char *author,
                    struct cy_issues *issues)
{
    struct cy_step step = {0};
    int status = cy_file_begin(file, issues);
    if (status != CY_OK)
        return status;
    cy_copy(step.author, sizeof step.author, author);
    status = cy_step_difference(&step, &file->farm, wanted);
    leave_weather(&step);
    if (status == CY_OK)
        status = cy_file_put_step(file, &step, "edit", issues);
    if (status == CY_OK)
        status = cy_file_put_records(file, wanted, author, issues);
    status = cy_file_end(file, status, &step, issues);
    cy_step_dispose(&step);
    return status;
}

/* ---- undo and redo -------------------------------------------------------------------------- */

/* The step to reverse, or 0. Redoing ends where the author did something new. */
static int find_turn(struct cy_file *file, enum cy_sql sql, const char *author, int64_t *out)
{
    sqlite3_stmt *statement;
    int result = prepared(file, sql, &statement);
    *out = 0;
    if (result != SQLITE_OK)
        return result;
    bind_text(statement, 1, author);
    result = sqlite3_step(statement);
    if (result == SQLITE_ROW)
        *out = sqlite3_column_int64(statement, 0);
    cy_sql_done(statement);
    return result == SQLITE_ROW || result == SQLITE_DONE ? SQLITE_OK : result;
}

/* The address of the first thing or field of a step that the farm has, and how many edits more. */
static void describe(struct cy_text *what, const struct cy_farm *farm, const struct cy_step *step)
{
    for (size_t i = 0; i < step->count; i++) {
        const struct cy_edit *edit = &step->edits[i];
        const struct cy_thing *thing = cy_farm_by_id(farm, edit->thing);
        if (thing) {
            cy_farm_print_address(what, farm, thing,
                                  edit->op == CY_OP_SET ? edit->field : CY_FIELD_NONE);
            if (step->count > 1) {
                cy_text_add(what, " and ");
                cy_text_add_int(what, (long long)step->count - 1);
                cy_text_add(what, " more");
            }
            return;
        }
    }
}

static int turn(struct cy_file *file, enum cy_sql sql, const char *author, struct cy_step *reverse,
                struct cy_text *what, struct cy_issues *issues)
{
    int64_t id;
    struct cy_step step = {0};
    int result = find_turn(file, sql, author, &id);
    if (result != SQLITE_OK)
        return cy_file_fail(file, result, issues);
    if (id == 0) {
        if (sql == CY_SQL_FIND_UNDO)
            cy_issue_say(issues, CY_ISSUE_NOTHING_TO_UNDO, "", "", "",
                         "your own changes; notes and work done are corrected by new ones");
        else
            cy_issue_say(issues, CY_ISSUE_NOTHING_TO_REDO, "", "", "", "your own last undo");
        return CY_INVALID;
    }
    int status = cy_file_read_step(file, id, &step, issues);
    if (status == CY_OK)
        status = cy_step_reverse(reverse, &step);
    if (status == CY_OK)
        status = cy_step_spare(reverse, &file->farm);
    if (status == CY_OK) {
        cy_copy(reverse->author, sizeof reverse->author, author);
        if (what)
            describe(what, &file->farm, &step);
        status = cy_file_put_step(file, reverse, sql == CY_SQL_FIND_UNDO ? "undo" : "redo", issues);
        if (status == CY_OK && what && what->length == 0)
            describe(what, &file->farm, &step);
    }
    cy_step_dispose(&step);
    return status;
}

static int turn_back(struct cy_file *file, enum cy_sql sql, const char *author,
                     struct cy_text *what, struct cy_issues *issues)
{
    struct cy_step reverse = {0};
    int status = cy_file_begin(file, issues);
    if (status != CY_OK)
        return status;
    status = turn(file, sql, author, &reverse, what, issues);
    status = cy_file_end(file, status, &reverse, issues);
    cy_step_dispose(&reverse);
    return status;
}

int cy_file_undo(struct cy_file *file, const char *author, struct cy_text *what,
                 struct cy_issues *issues)
{
    return turn_back(file, CY_SQL_FIND_UNDO, author, what, issues);
}

int cy_file_redo(struct cy_file *file, const char *author, struct cy_text *what,
                 struct cy_issues *issues)
{
    return turn_back(file, CY_SQL_FIND_REDO, author, what, issues);
}

static bool can_turn(struct cy_file *file, enum cy_sql sql, const char *author)
{
    int64_t id;
    cy_file_start_waiting(file);
    return !file->read_only && find_turn(file, sql, author, &id) == SQLITE_OK && id != 0;
}

bool cy_file_can_undo(struct cy_file *file, const char *author)
{
    return can_turn(file, CY_SQL_FIND_UNDO, author);
}

bool cy_file_can_redo(struct cy_file *file, const char *author)
{
    return can_turn(file, CY_SQL_FIND_REDO, author);
}
