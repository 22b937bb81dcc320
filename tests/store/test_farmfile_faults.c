/* SPDX-License-Identifier: MIT
 * Power cuts, full disks, failing syncs and pulled sticks at every call: each step that was
 * acknowledged is there, none is there by half, and memory is what the disk is. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "store/onfile.h"
#include "support/faultvfs.h"

static struct {
    char *bytes;
    size_t length;
} fresh; /* the file as it begins */

static int set_up_all(void **state)
{
    if (make_farms(state) != 0 || make_folder(state) != 0)
        return -1;
    struct cy_file *file = create(&small);
    name_row(file, "ann", "row-7", "before");
    cy_file_close(file);
    fresh.bytes = read_bytes(path, &fresh.length);
    fault_install();
    return 0;
}

static int tear_down_all(void **state)
{
    fault_start();
    free(fresh.bytes);
    drop_farms(state);
    return drop_folder(state);
}

/* The file as it begins, on a disk without faults. */
static struct cy_file *begin(void)
{
    char journal[200];
    fault_start();
    snprintf(journal, sizeof journal, "%s-journal", path);
    unlink(journal);
    write_bytes(path, fresh.bytes, fresh.length);
    return open_file();
}

/* ---- a few changes of each sort ------------------------------------------------------------- */

enum { CHANGES = 4 };

static int add_trellis(struct cy_file *file, struct cy_issues *issues)
{
    struct cy_step step = {.author = "ann"};
    struct cy_value height = parsed(CY_WIRE_HEIGHT, "3 ft");
    int64_t id;
    assert_int_equal(
        cy_step_add(&step, cy_file_farm(file), CY_KIND_TRELLIS, 0, "second", NULL, &id), CY_OK);
    assert_int_equal(cy_step_add(&step, cy_file_farm(file), CY_KIND_WIRE, id, "only", NULL, &id),
                     CY_OK);
    assert_int_equal(cy_step_set(&step, cy_file_farm(file), id, CY_WIRE_HEIGHT, &height), CY_OK);
    int status = cy_file_step(file, &step, issues);
    cy_step_dispose(&step);
    return status;
}

static int see(struct cy_file *file, struct cy_issues *issues)
{
    int first = cy_kind_info(CY_KIND_SEEN)->first_field;
    struct cy_value values[16] = {0};
    values[CY_SEEN_DAY - first] = parsed(CY_SEEN_DAY, "2027-06-20");
    values[CY_SEEN_ROW - first] = parsed(CY_SEEN_ROW, "row-3");
    values[CY_SEEN_WHAT - first] = parsed(CY_SEEN_WHAT, "first ripe");
    int status = cy_file_record(file, CY_KIND_SEEN, "ann", values, issues);
    cy_value_dispose(&values[CY_SEEN_ROW - first]);
    return status;
}

static int change(struct cy_file *file, int number, struct cy_issues *issues)
{
    switch (number) {
    case 0:
        return try_name(file, "ann", "row-1", "changed", issues);
    case 1:
        return add_trellis(file, issues);
    case 2:
        return see(file, issues);
    default:
        return cy_file_undo(file, "ann", NULL, issues); /* of 1 */
    }
}

/* The YAML after none, one, two ... of the changes. */
static char *after[CHANGES + 1];

static int set_up_states(void **state)
{
    (void)state;
    struct cy_file *file = begin();
    after[0] = yaml_of(cy_file_farm(file));
    for (int i = 0; i < CHANGES; i++) {
        assert_done(change(file, i, &issues));
        after[i + 1] = yaml_of(cy_file_farm(file));
    }
    cy_file_close(file);
    return 0;
}

static int drop_states(void **state)
{
    (void)state;
    for (int i = 0; i <= CHANGES; i++)
        free(after[i]);
    return 0;
}

static bool is_after(const struct cy_farm *farm, int changes)
{
    char *yaml = yaml_of(farm);
    bool same = strcmp(yaml, after[changes]) == 0;
    free(yaml);
    return same;
}

static void assert_after(const struct cy_farm *farm, int changes)
{
    char *yaml = yaml_of(farm);
    assert_string_equal(yaml, after[changes]);
    free(yaml);
}

/* Changes until one fails; how many were acknowledged. */
static int change_all(struct cy_file *file, struct cy_issues *issues)
{
    int done = 0;
    while (done < CHANGES && change(file, done, issues) == CY_OK)
        done++;
    return done;
}

/* ---- the power goes ------------------------------------------------------------------------- */

static void a_power_cut_loses_nothing_acknowledged(void **state)
{
    (void)state;
    enum { RANDOM = 4 };
    bool struck = true;
    int cuts = 0, kept = 0, lost = 0;
    for (int n = 0; struck; n++) {
        for (int way = 0; way < 2 + RANDOM; way++) {
            struct cy_random random;
            struct cy_issues issues = {0};
            struct cy_file *file = begin();
            cy_random_seed(&random, (uint64_t)n, (uint64_t)way);
            fault_arm(FAULT_CUT, n);
            int done = change_all(file, &issues);
            struck = fault.struck;
            cy_file_close(file);
            fault_power_on(way < 2 ? (enum fault_loss)way : FAULT_LOSE_SOME, &random);
            file = open_file();
            assert_done(cy_file_verify(file, &issues));
            /* The step that was under way is there, or not, but whole. */
            if (done < CHANGES && !is_after(cy_file_farm(file), done)) {
                assert_after(cy_file_farm(file), done + 1);
                kept++;
            } else {
                assert_after(cy_file_farm(file), done);
                lost += done < CHANGES;
            }
            cy_file_close(file);
            cuts += struck;
        }
    }
    assert_true(cuts > 100 && kept > 0 && lost > 0);
}

static void a_power_cut_while_creating_leaves_no_half_farm(void **state)
{
    (void)state;
    bool struck = true;
    for (int n = 0; struck; n++) {
        for (int way = 0; way < 3; way++) {
            struct cy_random random;
            struct cy_issues issues = {0};
            struct cy_file *file = NULL;
            cy_random_seed(&random, (uint64_t)n, (uint64_t)way);
            fault_start();
            unlink(path);
            /* It comes to be in the moment before the power goes. */
            write_bytes(path, "", 0);
            fault_track_of(path);
            unlink(path);
            fault_arm(FAULT_CUT, n);
            int status = cy_file_create(&file, path, &small, "ann", &catalogue, &issues);
            struck = fault.struck;
            assert_int_equal(status == CY_OK, !struck);
            if (struck)
                assert_int_not_equal(access(path, F_OK), 0);
            cy_file_close(file);
            fault_power_on((enum fault_loss)way, &random);
            if (cy_file_open(&file, path, &catalogue, &issues) == CY_OK) {
                assert_same_yaml(cy_file_farm(file), &small);
                cy_file_close(file);
            } else {
                assert_true(struck);
            }
        }
    }
}

/* ---- the disk refuses ----------------------------------------------------------------------- */

/* With the fault at every call in turn: a failure is told, memory is what the disk is, and once
 * the fault is gone all goes on, and lasts. */
static void refuse_at_every_call(enum fault_kind kind, int least)
{
    bool struck = true;
    int failures = 0;
    for (int n = 0; struck; n++) {
        struct cy_random random;
        struct cy_issues issues = {0};
        struct cy_file *file = begin();
        bool last_unsure = false;
        cy_random_seed(&random, (uint64_t)n, 0);
        fault_arm(kind, n);
        int done = change_all(file, &issues);
        struck = fault.struck;
        fault_arm(FAULT_NONE, 0);
        if (done < CHANGES) {
            failures++;
            assert_int_equal(issues.count, 1);
            assert_int_equal(issues.items[0].code, CY_ISSUE_DISK);
            /* A commit of which the last sync failed is there, though nothing says that it lasts
             * before another one does. */
            if (!is_after(cy_file_farm(file), done)) {
                assert_after(cy_file_farm(file), ++done);
                last_unsure = done == CHANGES;
            }
            assert_as_on_disk(file);
        }
        for (; done < CHANGES; done++)
            assert_done(change(file, done, &issues));
        cy_file_close(file);
        fault_power_on(FAULT_LOSE_ALL, &random);
        file = open_file();
        if (!last_unsure || is_after(cy_file_farm(file), CHANGES))
            assert_after(cy_file_farm(file), CHANGES);
        else
            assert_after(cy_file_farm(file), CHANGES - 1);
        assert_done(cy_file_verify(file, &issues));
        cy_file_close(file);
    }
    assert_true(failures >= least);
}

static void a_full_disk_is_told_and_survived(void **state)
{
    (void)state;
    refuse_at_every_call(FAULT_FULL, 20);
}

static void a_sync_that_fails_is_told_and_survived(void **state)
{
    (void)state;
    refuse_at_every_call(FAULT_SYNC, 8);
}

static void a_full_disk_leaves_no_new_file_behind(void **state)
{
    (void)state;
    char target[200];
    bool struck = true;
    snprintf(target, sizeof target, "%s/copy.cane", folder);
    for (int n = 0; struck; n++) {
        struct cy_issues issues = {0};
        struct cy_file *file = NULL;
        fault_start();
        unlink(path);
        fault_arm(FAULT_FULL, n);
        int status = cy_file_create(&file, path, &small, "ann", &catalogue, &issues);
        struck = fault.struck;
        assert_int_equal(status == CY_OK, !struck);
        if (struck) {
            assert_int_equal(issues.items[0].code, CY_ISSUE_DISK);
            assert_int_not_equal(access(path, F_OK), 0);
        }
        cy_file_close(file);
    }
    struct cy_file *file = begin();
    struck = true;
    for (int n = 0; struck; n++) {
        struct cy_issues issues = {0};
        fault_arm(FAULT_FULL, n);
        int status = cy_file_backup(file, target, &issues);
        struck = fault.struck;
        assert_int_equal(status == CY_OK, !struck);
        assert_int_equal(access(target, F_OK) == 0, !struck);
    }
    fault_arm(FAULT_NONE, 0);
    unlink(target);
    assert_as_on_disk(file);
    cy_file_close(file);
}

/* ---- the stick is pulled -------------------------------------------------------------------- */

static void a_pulled_stick_leaves_memory_at_what_was_acknowledged(void **state)
{
    (void)state;
    bool struck = true, changed;
    for (int n = 0; struck; n++) {
        struct cy_issues issues = {0};
        struct cy_file *file = begin();
        fault_arm(FAULT_DETACH, n);
        int done = change_all(file, &issues);
        struck = fault.struck;
        assert_after(cy_file_farm(file), done);
        if (done < CHANGES)
            assert_int_not_equal(cy_file_refresh(file, &changed, NULL), CY_OK);
        assert_after(cy_file_farm(file), done);
        /* It is put back: what is on it counts. */
        fault_arm(FAULT_NONE, 0);
        assert_done(cy_file_refresh(file, &changed, &issues));
        if (!is_after(cy_file_farm(file), done))
            done++;
        for (; done < CHANGES; done++)
            assert_done(change(file, done, &issues));
        assert_after(cy_file_farm(file), CHANGES);
        assert_as_on_disk(file);
        cy_file_close(file);
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up_states, drop_states)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_power_cut_loses_nothing_acknowledged),
        TEST(a_power_cut_while_creating_leaves_no_half_farm),
        TEST(a_full_disk_is_told_and_survived),
        TEST(a_sync_that_fails_is_told_and_survived),
        TEST(a_full_disk_leaves_no_new_file_behind),
        TEST(a_pulled_stick_leaves_memory_at_what_was_acknowledged),
    };
    return cmocka_run_group_tests(tests, set_up_all, tear_down_all);
}
