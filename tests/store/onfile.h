/* SPDX-License-Identifier: MIT
 * A folder of its own for each test, a small farm and its catalogue, and shorthand for changing
 * farm files. */
#ifndef TESTS_STORE_ONFILE_H
#define TESTS_STORE_ONFILE_H

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <caneyear/base/random.h>

#include "store/farmfile.h"
#include "store/home.h"
#include "store/yaml.h"

#define UNUSED __attribute__((unused))

static char folder[128], path[160];
static struct cy_farm catalogue, small;

/* ---- files ---------------------------------------------------------------------------------- */

/* In memory where there is such a file system: what is tested here is the order of calls, and a
 * disk only makes it slow. */
UNUSED static int make_folder(void **state)
{
    (void)state;
    const char *top = access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp";
    snprintf(folder, sizeof folder, "%s/caneyear-test-XXXXXX", top);
    if (!mkdtemp(folder))
        return -1;
    snprintf(path, sizeof path, "%s/farm.cane", folder);
    return 0;
}

UNUSED static int drop_folder(void **state)
{
    char command[160];
    (void)state;
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    return system(command) == 0 ? 0 : -1;
}

UNUSED static char *read_bytes(const char *name, size_t *length)
{
    FILE *file = fopen(name, "rb");
    assert_non_null(file);
    assert_int_equal(fseek(file, 0, SEEK_END), 0);
    *length = (size_t)ftell(file);
    rewind(file);
    char *bytes = malloc(*length + 1);
    assert_non_null(bytes);
    assert_int_equal(fread(bytes, 1, *length, file), *length);
    fclose(file);
    return bytes;
}

UNUSED static void write_bytes(const char *name, const void *bytes, size_t length)
{
    FILE *file = fopen(name, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, length, file), length);
    assert_int_equal(fclose(file), 0);
}

/* ---- farms ---------------------------------------------------------------------------------- */

UNUSED static struct cy_value parsed(enum cy_field field, const char *text)
{
    struct cy_value value = {0};
    if (text)
        assert_int_equal(cy_value_parse(&value, field, text, strlen(text), NULL), CY_OK);
    return value;
}

UNUSED static void put(struct cy_farm *farm, int64_t id, enum cy_field field, const char *text)
{
    struct cy_value value = parsed(field, text);
    assert_int_equal(cy_farm_set(farm, id, field, &value), CY_OK);
    cy_value_dispose(&value);
}

/* A farm of rows "row-1" to "row-N" with one trellis and one note. */
UNUSED static void make_farm(struct cy_farm *out, int rows)
{
    assert_int_equal(cy_farm_init(out), CY_OK);
    put(out, cy_farm_one(out, CY_KIND_SITE)->id, CY_SITE_PLACE, "home");
    int64_t tall = cy_farm_add(out, CY_KIND_TRELLIS, 0, "tall", NULL, 0)->id;
    put(out, cy_farm_add(out, CY_KIND_WIRE, tall, "top", NULL, 0)->id, CY_WIRE_HEIGHT, "5 ft");
    for (int i = 0; i < rows; i++) {
        int64_t id = cy_farm_add(out, CY_KIND_ROW, 0, NULL, NULL, 0)->id;
        put(out, id, CY_ROW_LENGTH, "100 ft");
        put(out, id, CY_ROW_CULTIVAR, "one");
        put(out, id, CY_ROW_TRELLIS, "tall");
    }
    int64_t note = cy_farm_add(out, CY_KIND_SEEN, 0, NULL, NULL, 0)->id;
    put(out, note, CY_SEEN_DAY, "2027-05-01");
    put(out, note, CY_SEEN_ROW, "row-2");
    put(out, note, CY_SEEN_WHAT, "full bloom");
}

UNUSED static int make_farms(void **state)
{
    (void)state;
    home_init(&catalogue);
    int64_t one = cy_farm_add(&catalogue, CY_KIND_CULTIVAR, 0, "one", NULL, 0)->id;
    put(&catalogue, one, CY_CULTIVAR_NAME, "One");
    make_farm(&small, 8);
    return 0;
}

UNUSED static int drop_farms(void **state)
{
    (void)state;
    cy_farm_dispose(&small);
    cy_farm_dispose(&catalogue);
    return 0;
}

UNUSED static void show(const struct cy_issues *issues)
{
    for (size_t i = 0; i < issues->count; i++)
        print_error("issue %d of %s, %s %s: found \"%s\", allowed \"%s\"\n",
                    (int)issues->items[i].code, issues->items[i].file, issues->items[i].thing,
                    issues->items[i].field, issues->items[i].found, issues->items[i].allowed);
}

/* Where a call must succeed: `call` takes &issues. */
#define assert_done(call)                                                                          \
    do {                                                                                           \
        struct cy_issues issues = {0};                                                             \
        int status_of_call = (call);                                                               \
        show(&issues);                                                                             \
        assert_int_equal(status_of_call, CY_OK);                                                   \
    } while (0)

UNUSED static struct cy_file *create(const struct cy_farm *farm)
{
    struct cy_file *file = NULL;
    assert_done(cy_file_create(&file, path, farm, "ann", &catalogue, &issues));
    return file;
}

UNUSED static struct cy_file *open_file(void)
{
    struct cy_file *file = NULL;
    assert_done(cy_file_open(&file, path, &catalogue, &issues));
    return file;
}

/* The farm as it is exported, which leaves out what is lent. The caller frees it. */
UNUSED static char *yaml_of(const struct cy_farm *farm)
{
    struct cy_text text = {0};
    cy_yaml_write(&text, farm);
    assert_false(text.failed);
    return text.data;
}

UNUSED static void assert_same_yaml(const struct cy_farm *a, const struct cy_farm *b)
{
    char *left = yaml_of(a), *right = yaml_of(b);
    assert_string_equal(left, right);
    free(left);
    free(right);
}

/* What memory holds is what the file holds, and the file is sound. */
UNUSED static void assert_as_on_disk(struct cy_file *file)
{
    struct cy_file *again = open_file();
    assert_same_yaml(cy_file_farm(file), cy_file_farm(again));
    assert_int_equal(cy_file_last_step(file), cy_file_last_step(again));
    assert_done(cy_file_verify(again, &issues));
    cy_file_close(again);
}

/* ---- steps ---------------------------------------------------------------------------------- */

UNUSED static int64_t row_of(const struct cy_farm *farm, const char *key)
{
    const struct cy_thing *row = cy_farm_by_key(farm, CY_KIND_ROW, 0, key);
    return row ? row->id : 0;
}

UNUSED static const char *note_of(const struct cy_farm *farm, const char *row)
{
    return cy_string(cy_farm_by_key(farm, CY_KIND_ROW, 0, row), CY_ROW_NAME);
}

/* One step that sets a row's name (NULL: empties it), built on what memory holds. */
UNUSED static int try_name(struct cy_file *file, const char *author, const char *row,
                           const char *name, struct cy_issues *issues)
{
    struct cy_step step = {0};
    struct cy_value value = parsed(CY_ROW_NAME, name);
    const struct cy_farm *farm = cy_file_farm(file);
    cy_copy(step.author, sizeof step.author, author);
    int status = cy_step_set(&step, farm, row_of(farm, row), CY_ROW_NAME, &value);
    if (status == CY_OK)
        status = cy_file_step(file, &step, issues);
    cy_value_dispose(&value);
    cy_step_dispose(&step);
    return status;
}

UNUSED static void name_row(struct cy_file *file, const char *author, const char *row,
                            const char *name)
{
    assert_done(try_name(file, author, row, name, &issues));
}

#endif
