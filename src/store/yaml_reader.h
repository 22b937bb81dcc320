/* SPDX-License-Identifier: MIT
 * A farm being filled from one YAML file or several, with the place in them of everything read. */
#ifndef STORE_YAML_READER_H
#define STORE_YAML_READER_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/season/farm.h>

/* The version of the format that is written, and the only one that is read. */
#define CY_YAML_VERSION "1"

/* Where a thing (CY_FIELD_NONE) or one of its fields stands. */
struct cy_spot {
    const char *file;
    int64_t thing;
    enum cy_field field;
    int line, column;
    bool bad; /* of a thing: something in it has been complained of */
};

struct cy_reader {
    struct cy_farm farm;
    struct cy_issues *issues;
    struct cy_spot *spots;
    size_t spot_count, spot_capacity;
    const char *file; /* in hand; the names must outlive the reader */
    bool lost;        /* a thing or its key could not be read, so references to it prove nothing */
    bool no_memory;
};

int cy_reader_init(struct cy_reader *reader, struct cy_issues *issues);
void cy_reader_dispose(struct cy_reader *reader);
void cy_reader_add_bytes(struct cy_reader *reader, const char *name, const char *bytes,
                         size_t length);
void cy_reader_add_file(struct cy_reader *reader, const char *path);
/* Checks the farm as a whole and gives what is found its place; with `only` other than
 * CY_ISSUE_COUNT passes over everything but that code. */
void cy_reader_check(struct cy_reader *reader, enum cy_issue_code only);

#endif
