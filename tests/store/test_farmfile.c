/* SPDX-License-Identifier: MIT
 * A farm on disk: what is written is there on opening, steps are undone and redone, records stay,
 * copies are whole. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <sqlite3.h>

#include "store/onfile.h"

static void what_is_created_is_there(void **state)
{
    (void)state;
    struct cy_file *file = create(&small), *second;
    struct cy_issues issues = {0};
    assert_same_yaml(cy_file_farm(file), &small);
    assert_int_equal(cy_file_last_step(file), 1);
    assert_string_equal(cy_file_path(file), path);
    assert_false(cy_file_read_only(file));
    assert_as_on_disk(file);
    assert_int_equal(cy_file_create(&second, path, &small, "ann", &catalogue, &issues), CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_EXISTS);
    assert_null(second);
    cy_file_close(file);
}

static void a_farm_with_faults_leaves_no_file(void **state)
{
    (void)state;
    struct cy_file *file;
    struct cy_farm bad;
    struct cy_issues issues = {0};
    assert_int_equal(cy_farm_copy(&bad, &small), CY_OK);
    put(&bad, row_of(&bad, "row-1"), CY_ROW_CULTIVAR, "none");
    assert_int_equal(cy_file_create(&file, path, &bad, "ann", &catalogue, &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_BAD_REFERENCE);
    assert_int_not_equal(access(path, F_OK), 0);
    cy_farm_dispose(&bad);
    issues = (struct cy_issues){0};
    assert_int_equal(
        cy_file_create(&file, "/nowhere/at/all.cane", &small, "ann", &catalogue, &issues),
        CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_DISK);
}

static void every_kind_of_value_comes_back(void **state)
{
    (void)state;
    struct cy_farm farm;
    assert_int_equal(cy_farm_copy(&farm, &small), CY_OK);
    int64_t row = row_of(&farm, "row-3"), site = cy_farm_one(&farm, CY_KIND_SITE)->id;
    put(&farm, row, CY_ROW_NAME, "l'\xc3\xa9t\xc3\xa9 \"quoted\" \xe6\xa5\xbd");
    put(&farm, row, CY_ROW_PLANTED, "2021-03-15");
    put(&farm, row, CY_ROW_STOCK, "plug");
    put(&farm, row, CY_ROW_MISSING, "2");
    put(&farm, row, CY_ROW_SPACING, "1.0000000000000002 m");
    put(&farm, site, CY_SITE_SLOPE, "0");
    char source[] = "a soil test, 2026";
    struct cy_value value = {
        .set = true, .number = 6.5, .basis = CY_BASIS_OBSERVED, .source = source};
    assert_int_equal(cy_farm_set(&farm, site, CY_SITE_PH, &value), CY_OK);
    cy_file_close(create(&farm));
    struct cy_file *file = open_file();
    const struct cy_thing *there = cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-3");
    assert_true(cy_number(there, CY_ROW_SPACING) == 1.0000000000000002);
    assert_same_yaml(cy_file_farm(file), &farm);
    struct cy_given ph = cy_given(cy_farm_one(cy_file_farm(file), CY_KIND_SITE), CY_SITE_PH);
    assert_int_equal(ph.basis, CY_BASIS_OBSERVED);
    assert_string_equal(ph.source, source);
    cy_file_close(file);
    cy_farm_dispose(&farm);
}

static void a_relative_path_is_only_a_path(void **state)
{
    (void)state;
    char here[4096];
    struct cy_file *file;
    assert_non_null(getcwd(here, sizeof here));
    assert_int_equal(chdir(folder), 0);
    const char *const odd[] = {":memory:", "file:x.cane?mode=memory", "a b%20c.cane"};
    for (int i = 0; i < 3; i++) {
        assert_done(cy_file_create(&file, odd[i], &small, "ann", &catalogue, &issues));
        cy_file_close(file);
        assert_done(cy_file_open(&file, odd[i], &catalogue, &issues));
        assert_false(cy_file_read_only(file));
        cy_file_close(file);
        assert_int_equal(unlink(odd[i]), 0);
    }
    assert_int_equal(chdir(here), 0);
}

/* ---- steps ---------------------------------------------------------------------------------- */

static void steps_last(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    name_row(file, "ann", "row-1", "first");
    name_row(file, "bob", "row-2", "second");
    name_row(file, "ann", "row-1", NULL);
    name_row(file, "ann", "row-1", NULL); /* changes nothing: no step */
    assert_int_equal(cy_file_last_step(file), 4);
    assert_as_on_disk(file);
    cy_file_close(file);
    file = open_file();
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "");
    assert_string_equal(note_of(cy_file_farm(file), "row-2"), "second");
    cy_file_close(file);
}

static void two_see_each_other_and_clash_with_both_values(void **state)
{
    (void)state;
    bool changed;
    struct cy_issues issues = {0};
    struct cy_file *ann = create(&small), *bob = open_file();
    name_row(ann, "ann", "row-1", "mine");
    /* A different field: goes in, and brings the other's change along. */
    name_row(bob, "bob", "row-2", "yours");
    assert_string_equal(note_of(cy_file_farm(bob), "row-1"), "mine");
    assert_done(cy_file_refresh(bob, &changed, &issues));
    assert_true(changed); /* what came in with the write */
    assert_done(cy_file_refresh(bob, &changed, &issues));
    assert_false(changed);
    /* The same field, not seen yet. */
    assert_int_equal(try_name(ann, "ann", "row-2", "no: mine", &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_CLASH);
    assert_string_equal(issues.items[0].found, "yours");
    assert_string_equal(issues.items[0].allowed, "nothing");
    /* Now that it is seen, it may be changed. */
    assert_string_equal(note_of(cy_file_farm(ann), "row-2"), "yours");
    name_row(ann, "ann", "row-2", "now mine");
    assert_done(cy_file_refresh(bob, &changed, &issues));
    assert_true(changed);
    assert_string_equal(note_of(cy_file_farm(bob), "row-2"), "now mine");
    assert_as_on_disk(ann);
    assert_as_on_disk(bob);
    cy_file_close(ann);
    cy_file_close(bob);
}

static void things_added_at_once_get_ids_of_their_own(void **state)
{
    (void)state;
    struct cy_file *ann = create(&small), *bob = open_file();
    struct cy_step hers = {0}, his = {0};
    struct cy_value height = parsed(CY_WIRE_HEIGHT, "4 ft");
    int64_t id, wire;
    assert_int_equal(cy_step_add(&hers, cy_file_farm(ann), CY_KIND_TRELLIS, 0, "hers", NULL, &id),
                     CY_OK);
    assert_int_equal(cy_step_add(&his, cy_file_farm(bob), CY_KIND_TRELLIS, 0, "his", NULL, &id),
                     CY_OK);
    assert_int_equal(cy_step_add(&his, cy_file_farm(bob), CY_KIND_WIRE, id, "only", NULL, &wire),
                     CY_OK);
    assert_int_equal(cy_step_set(&his, cy_file_farm(bob), wire, CY_WIRE_HEIGHT, &height), CY_OK);
    assert_done(cy_file_step(ann, &hers, &issues));
    assert_done(cy_file_step(bob, &his, &issues));
    const struct cy_thing *trellis = cy_farm_by_key(cy_file_farm(bob), CY_KIND_TRELLIS, 0, "his");
    assert_non_null(cy_farm_by_key(cy_file_farm(bob), CY_KIND_TRELLIS, 0, "hers"));
    assert_non_null(trellis);
    const struct cy_thing *top =
        cy_farm_by_key(cy_file_farm(bob), CY_KIND_WIRE, trellis->id, "only");
    assert_non_null(top);
    assert_true(cy_number(top, CY_WIRE_HEIGHT) == height.number);
    assert_as_on_disk(bob);
    cy_step_dispose(&hers);
    cy_step_dispose(&his);
    cy_file_close(ann);
    cy_file_close(bob);
}

/* The id of a removed thing is never given to another: its removal may be undone later. */
static void ids_are_not_used_twice(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    struct cy_text what = {0};
    struct cy_step step = {.author = "bob"};
    int64_t old, new;
    assert_int_equal(cy_step_add(&step, cy_file_farm(file), CY_KIND_TRELLIS, 0, "old", NULL, &old),
                     CY_OK);
    assert_done(cy_file_step(file, &step, &issues));
    cy_step_dispose(&step);
    cy_copy(step.author, sizeof step.author, "bob");
    assert_int_equal(cy_step_remove(&step, cy_file_farm(file), old, NULL), CY_OK);
    assert_done(cy_file_step(file, &step, &issues));
    cy_step_dispose(&step);
    cy_file_close(file);
    file = open_file();
    cy_copy(step.author, sizeof step.author, "ann");
    assert_int_equal(cy_step_add(&step, cy_file_farm(file), CY_KIND_TRELLIS, 0, "new", NULL, &new),
                     CY_OK);
    assert_true(new > old);
    assert_done(cy_file_step(file, &step, &issues));
    cy_step_dispose(&step);
    assert_done(cy_file_undo(file, "bob", &what, &issues));
    assert_string_equal(cy_text_get(&what), "trellis.old");
    assert_non_null(cy_farm_by_id(cy_file_farm(file), old));
    assert_non_null(cy_farm_by_id(cy_file_farm(file), new));
    assert_as_on_disk(file);
    cy_text_dispose(&what);
    cy_file_close(file);
}

/* ---- undo and redo -------------------------------------------------------------------------- */

static int undo(struct cy_file *file, const char *author)
{
    struct cy_issues issues = {0};
    return cy_file_undo(file, author, NULL, &issues);
}

static int redo(struct cy_file *file, const char *author)
{
    struct cy_issues issues = {0};
    return cy_file_redo(file, author, NULL, &issues);
}

static void undo_and_redo_go_back_and_forth(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    struct cy_text what = {0};
    struct cy_issues issues = {0};
    assert_false(cy_file_can_undo(file, "ann"));
    assert_int_equal(cy_file_undo(file, "ann", &what, &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_NOTHING_TO_UNDO);
    name_row(file, "ann", "row-1", "a");
    name_row(file, "ann", "row-1", "b");
    name_row(file, "bob", "row-2", "z");
    assert_true(cy_file_can_undo(file, "ann"));
    assert_false(cy_file_can_redo(file, "ann"));
    assert_done(cy_file_undo(file, "ann", &what, &issues));
    assert_string_equal(cy_text_get(&what), "row.row-1.name");
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "a");
    assert_int_equal(undo(file, "ann"), CY_OK);
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "");
    assert_int_equal(undo(file, "ann"), CY_INVALID);
    assert_true(cy_file_can_redo(file, "ann"));
    assert_int_equal(redo(file, "ann"), CY_OK);
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "a");
    assert_int_equal(redo(file, "ann"), CY_OK);
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "b");
    assert_int_equal(redo(file, "ann"), CY_INVALID);
    assert_int_equal(undo(file, "ann"), CY_OK); /* of the redo */
    assert_int_equal(undo(file, "ann"), CY_OK);
    assert_int_equal(redo(file, "ann"), CY_OK);
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "a");
    /* Something new ends the redoing, but not the undoing of what came before. */
    name_row(file, "ann", "row-3", "n");
    assert_false(cy_file_can_redo(file, "ann"));
    assert_int_equal(undo(file, "ann"), CY_OK);
    assert_int_equal(undo(file, "ann"), CY_OK);
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "");
    assert_string_equal(note_of(cy_file_farm(file), "row-2"), "z");
    assert_int_equal(undo(file, "ann"), CY_INVALID);
    assert_as_on_disk(file);
    cy_text_dispose(&what);
    cy_file_close(file);
}

static void undo_says_what_changed_since(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    struct cy_issues issues = {0};
    name_row(file, "ann", "row-1", "hers");
    name_row(file, "bob", "row-1", "his");
    assert_int_equal(cy_file_undo(file, "ann", NULL, &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_CLASH);
    assert_string_equal(issues.items[0].found, "his");
    assert_string_equal(issues.items[0].allowed, "hers");
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "his");
    assert_int_equal(undo(file, "bob"), CY_OK);
    assert_int_equal(undo(file, "ann"), CY_OK);
    assert_as_on_disk(file);
    cy_file_close(file);
}

/* ---- records -------------------------------------------------------------------------------- */

static int see(struct cy_file *file, const char *row, const char *day, struct cy_issues *issues)
{
    int first = cy_kind_info(CY_KIND_SEEN)->first_field;
    struct cy_value values[16] = {0};
    values[CY_SEEN_DAY - first] = parsed(CY_SEEN_DAY, day);
    values[CY_SEEN_ROW - first] = parsed(CY_SEEN_ROW, row);
    values[CY_SEEN_WHAT - first] = parsed(CY_SEEN_WHAT, "first ripe");
    int status = cy_file_record(file, CY_KIND_SEEN, "ann", values, issues);
    cy_value_dispose(&values[CY_SEEN_ROW - first]);
    return status;
}

static void records_are_appended_and_stay(void **state)
{
    (void)state;
    bool changed;
    struct cy_file *ann = create(&small), *bob = open_file();
    assert_done(see(ann, "row-4", "2027-06-20", &issues));
    assert_done(see(bob, "row-4", "2027-06-21", &issues));
    assert_int_equal(cy_farm_count(cy_file_farm(bob), CY_KIND_SEEN, 0), 3);
    assert_done(cy_file_refresh(ann, &changed, &issues));
    assert_true(changed);
    assert_int_equal(cy_farm_count(cy_file_farm(ann), CY_KIND_SEEN, 0), 3);
    assert_int_equal(cy_file_last_step(ann), 1); /* no step: nothing to undo */
    assert_int_equal(undo(ann, "ann"), CY_INVALID);
    struct cy_issues issues = {0};
    assert_int_equal(see(ann, "row-77", "2027-06-20", &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_BAD_REFERENCE);
    assert_int_equal(cy_file_record(ann, CY_KIND_ROW, "ann", NULL, &issues), CY_INVALID);
    assert_as_on_disk(ann);
    assert_as_on_disk(bob);
    cy_file_close(ann);
    cy_file_close(bob);
}

/* Not even another program that opens the file can take a record or a step away by mistake. */
static void the_tables_defend_what_is_appended(void **state)
{
    (void)state;
    static const char *const tries[] = {
        "DELETE FROM record",
        "DELETE FROM record_value",
        "DELETE FROM step",
        "DELETE FROM edit",
        "UPDATE record SET key = 'x'",
        "UPDATE record_value SET txt = 'x'",
        "UPDATE step SET author = 'x'",
        "UPDATE edit SET n = n + 1",
        "INSERT INTO value(thing, field, num, basis) VALUES (1, 'x', 'text', 'grower')",
        "INSERT INTO thing(id, kind, ord, key, retired) VALUES (900, 'row', 0, 'Bad Key', 0)",
        "INSERT INTO step(id, role, author, at) VALUES (900, 'undo', 'x', 0)",
    };
    sqlite3 *db;
    cy_file_close(create(&small));
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    for (size_t i = 0; i < sizeof tries / sizeof *tries; i++)
        assert_int_equal(sqlite3_exec(db, tries[i], NULL, NULL, NULL), SQLITE_CONSTRAINT);
    sqlite3_close(db);
}

/* ---- replacing, copying, verifying ---------------------------------------------------------- */

static void a_replacement_is_one_step(void **state)
{
    (void)state;
    struct cy_farm wanted;
    struct cy_file *file = create(&small);
    char *before = yaml_of(cy_file_farm(file));
    make_farm(&wanted, 4);
    put(&wanted, row_of(&wanted, "row-2"), CY_ROW_NAME, "shaded");
    assert_done(cy_file_replace(file, &wanted, "ann", &issues));
    assert_same_yaml(cy_file_farm(file), &wanted);
    assert_int_equal(cy_file_last_step(file), 2);
    assert_as_on_disk(file);
    assert_done(cy_file_replace(file, &wanted, "ann", &issues));
    assert_int_equal(cy_file_last_step(file), 2); /* nothing to change */
    assert_int_equal(undo(file, "ann"), CY_OK);
    char *after = yaml_of(cy_file_farm(file));
    assert_string_equal(after, before);
    assert_int_equal(redo(file, "ann"), CY_OK);
    assert_same_yaml(cy_file_farm(file), &wanted);
    assert_as_on_disk(file);
    free(before);
    free(after);
    cy_farm_dispose(&wanted);
    cy_file_close(file);
}

static void a_replacement_keeps_every_record(void **state)
{
    (void)state;
    struct cy_farm wanted;
    struct cy_issues issues = {0};
    struct cy_file *file = create(&small);
    assert_done(see(file, "row-7", "2027-06-20", &issues));
    make_farm(&wanted, 4); /* without row 7 and without its note */
    int64_t more = cy_farm_add(&wanted, CY_KIND_SEEN, 0, "brought", NULL, 0)->id;
    put(&wanted, more, CY_SEEN_DAY, "2027-05-03");
    put(&wanted, more, CY_SEEN_ROW, "row-3");
    put(&wanted, more, CY_SEEN_WHAT, "full bloom");
    assert_done(cy_file_replace(file, &wanted, "ann", &issues));
    assert_int_equal(cy_farm_count(cy_file_farm(file), CY_KIND_SEEN, 0), 3);
    assert_true(cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-7")->retired);
    assert_null(cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-6"));
    assert_as_on_disk(file);
    /* A record of the same key that says something else is not passed over in silence. */
    put(&wanted, more, CY_SEEN_ROW, "row-4");
    assert_int_equal(cy_file_replace(file, &wanted, "ann", &issues), CY_INVALID);
    assert_int_equal(issues.items[0].code, CY_ISSUE_CLASH);
    assert_string_equal(issues.items[0].found, "row-3");
    assert_as_on_disk(file);
    cy_farm_dispose(&wanted);
    cy_file_close(file);
}

static void undoing_what_brought_a_row_spares_its_records(void **state)
{
    (void)state;
    struct cy_file *file = create(&small);
    struct cy_farm wanted;
    make_farm(&wanted, 12);
    assert_done(cy_file_replace(file, &wanted, "ann", &issues));
    assert_done(see(file, "row-11", "2027-06-20", &issues));
    assert_int_equal(undo(file, "ann"), CY_OK);
    assert_true(cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-11")->retired);
    assert_null(cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-12"));
    assert_as_on_disk(file);
    assert_int_equal(redo(file, "ann"), CY_OK);
    assert_false(cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-11")->retired);
    assert_non_null(cy_farm_by_key(cy_file_farm(file), CY_KIND_ROW, 0, "row-12"));
    assert_as_on_disk(file);
    cy_farm_dispose(&wanted);
    cy_file_close(file);
}

static void a_copy_is_whole_and_takes_no_name_twice(void **state)
{
    (void)state;
    char target[200];
    struct cy_issues issues = {0};
    struct cy_file *file = create(&small), *copy;
    snprintf(target, sizeof target, "%s/copy.cane", folder);
    name_row(file, "ann", "row-1", "copied");
    assert_done(cy_file_backup(file, target, &issues));
    assert_done(cy_file_open(&copy, target, &catalogue, &issues));
    assert_same_yaml(cy_file_farm(file), cy_file_farm(copy));
    assert_done(cy_file_verify(copy, &issues));
    assert_int_equal(undo(copy, "ann"), CY_OK); /* its history came along */
    cy_file_close(copy);
    assert_int_equal(cy_file_backup(file, target, &issues), CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_EXISTS);
    issues = (struct cy_issues){0};
    assert_int_equal(cy_file_backup(file, "/nowhere/copy.cane", &issues), CY_FAILED);
    assert_true(issues.count > 0);
    /* A plain copy of the open file, made between two steps, is whole too. */
    size_t length;
    char *bytes = read_bytes(path, &length);
    cy_file_close(file);
    assert_int_equal(unlink(path), 0);
    write_bytes(path, bytes, length);
    free(bytes);
    file = open_file();
    assert_string_equal(note_of(cy_file_farm(file), "row-1"), "copied");
    cy_file_close(file);
}

static void verifying_finds_what_the_steps_do_not_say(void **state)
{
    (void)state;
    sqlite3 *db;
    struct cy_issues issues = {0};
    struct cy_file *file = create(&small);
    name_row(file, "ann", "row-1", "first");
    assert_done(cy_file_verify(file, &issues));
    assert_int_equal(sqlite3_open(path, &db), SQLITE_OK);
    assert_int_equal(
        sqlite3_exec(db, "UPDATE value SET txt = 'other' WHERE txt = 'first'", NULL, NULL, NULL),
        SQLITE_OK);
    sqlite3_close(db);
    assert_int_equal(cy_file_verify(file, &issues), CY_FAILED);
    assert_int_equal(issues.items[0].code, CY_ISSUE_DAMAGED_FARM);
    assert_string_equal(issues.items[0].found, "row row-1 is not what the steps make of it");
    cy_file_close(file);
}

/* ---- any steps at all, on the farm that is shipped ------------------------------------------ */

static int below(struct cy_random *random, int count)
{
    return (int)(cy_random_uniform(random) * count);
}

static void build_any(struct cy_step *step, const struct cy_farm *farm, struct cy_random *random)
{
    static const char *const lengths[] = {"90 ft", "20 m", "60 ft", "300 ft"};
    static const char *const names[] = {"first", "long row", "shade"};
    struct cy_value value = {0};
    const struct cy_thing *any = farm->things[below(random, (int)farm->count)];
    int64_t row = row_of(farm, "north-1"), id;
    if (any->kind == CY_KIND_ROW)
        row = any->id;
    switch (below(random, 6)) {
    case 0:
        cy_step_remove(step, farm, any->id, NULL);
        break;
    case 1:
        cy_step_add(step, farm, CY_KIND_TRELLIS, 0, NULL, NULL, &id);
        cy_step_add(step, farm, CY_KIND_WIRE, id, NULL, NULL, &id);
        value = parsed(CY_WIRE_HEIGHT, "4 ft");
        cy_step_set(step, farm, id, CY_WIRE_HEIGHT, &value);
        break;
    case 2:
        value = parsed(CY_CULTIVAR_NAME, names[below(random, 3)]);
        cy_step_set(step, farm, any->id, CY_CULTIVAR_NAME, &value); /* most are no cultivars */
        break;
    case 3:
        value = parsed(CY_ROW_NAME, names[below(random, 3)]);
        cy_step_set(step, farm, row, CY_ROW_NAME, &value);
        break;
    case 4:
        value = parsed(CY_MONTH_RAIN, "77 mm");
        cy_step_set(step, farm, any->id, CY_MONTH_RAIN, &value); /* adopts a lent place */
        break;
    default:
        value = parsed(CY_ROW_LENGTH, lengths[below(random, 4)]);
        cy_step_set(step, farm, row, CY_ROW_LENGTH, &value);
        break;
    }
    cy_value_dispose(&value);
}

/* Undo, redo and undo again, each byte for byte in YAML, the import of another farm among them. */
static void undo_restores_the_yaml_byte_for_byte(void **state)
{
    (void)state;
    enum { STEPS = 40, IMPORT = 17 };
    struct cy_farm shipped = {0}, demo = {0}, other = {0};
    struct cy_random random;
    struct cy_file *file;
    char *states[STEPS + 1] = {0};
    int made = 0;
    assert_done(cy_catalogue_read(&shipped, "share", &issues));
    assert_done(cy_yaml_read(&demo, "share/demo.yaml", &shipped, &issues));
    assert_done(cy_yaml_read(&other, "share/backyard.yaml", &shipped, &issues));
    assert_done(cy_file_create(&file, path, &demo, "ann", &shipped, &issues));
    assert_same_yaml(cy_file_farm(file), &demo);
    cy_random_seed(&random, 20270301, 1);
    states[0] = yaml_of(cy_file_farm(file));
    for (int i = 0; i < STEPS; i++) {
        struct cy_step step = {.author = "ann"};
        int64_t last = cy_file_last_step(file);
        for (int part = below(&random, 3); part >= 0 && i != IMPORT; part--)
            build_any(&step, cy_file_farm(file), &random);
        if (i == IMPORT)
            assert_done(cy_file_replace(file, &other, "ann", &issues));
        else
            cy_file_step(file, &step, NULL);
        cy_step_dispose(&step);
        if (cy_file_last_step(file) > last)
            states[++made] = yaml_of(cy_file_farm(file));
    }
    assert_true(made > STEPS / 2);
    for (int turn = 0; turn < 2; turn++) {
        for (int i = made; i > 0; i--) {
            assert_done(cy_file_undo(file, "ann", NULL, &issues));
            char *now = yaml_of(cy_file_farm(file));
            assert_string_equal(now, states[i - 1]);
            free(now);
        }
        assert_int_equal(undo(file, "ann"), CY_INVALID);
        for (int i = 1; i <= made && turn == 0; i++) {
            assert_done(cy_file_redo(file, "ann", NULL, &issues));
            char *now = yaml_of(cy_file_farm(file));
            assert_string_equal(now, states[i]);
            free(now);
        }
    }
    assert_done(cy_file_verify(file, &issues));
    cy_file_close(file);
    assert_done(cy_file_open(&file, path, &shipped, &issues));
    assert_same_yaml(cy_file_farm(file), &demo);
    cy_file_close(file);
    for (int i = 0; i <= made; i++)
        free(states[i]);
    cy_farm_dispose(&shipped);
    cy_farm_dispose(&demo);
    cy_farm_dispose(&other);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, make_folder, drop_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(what_is_created_is_there),
        TEST(a_farm_with_faults_leaves_no_file),
        TEST(every_kind_of_value_comes_back),
        TEST(a_relative_path_is_only_a_path),
        TEST(steps_last),
        TEST(two_see_each_other_and_clash_with_both_values),
        TEST(things_added_at_once_get_ids_of_their_own),
        TEST(ids_are_not_used_twice),
        TEST(undo_and_redo_go_back_and_forth),
        TEST(undo_says_what_changed_since),
        TEST(records_are_appended_and_stay),
        TEST(the_tables_defend_what_is_appended),
        TEST(a_replacement_is_one_step),
        TEST(a_replacement_keeps_every_record),
        TEST(undoing_what_brought_a_row_spares_its_records),
        TEST(a_copy_is_whole_and_takes_no_name_twice),
        TEST(verifying_finds_what_the_steps_do_not_say),
        TEST(undo_restores_the_yaml_byte_for_byte),
    };
    return cmocka_run_group_tests(tests, make_farms, drop_farms);
}
