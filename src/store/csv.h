/* SPDX-License-Identifier: MIT
 * Comma-separated text, one record at a time, each field with where it stands. */
#ifndef STORE_CSV_H
#define STORE_CSV_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/issue.h>
#include <caneyear/base/text.h>

#define CY_CSV_COLUMNS 256

struct cy_csv_field {
    size_t start; /* in the record's text */
    int line, column;
};

struct cy_csv {
    const char *name; /* of the file, in issues */
    const char *at, *end;
    int line, column; /* of `at` */
    struct cy_issues *issues;
    struct cy_text text; /* the fields' characters, each terminated */
    struct cy_csv_field fields[CY_CSV_COLUMNS];
    size_t count;
};

/* The bytes are borrowed; a byte order mark in front is passed over. */
void cy_csv_begin(struct cy_csv *csv, const char *name, const char *bytes, size_t length,
                  struct cy_issues *issues);
void cy_csv_dispose(struct cy_csv *csv);

/* The next record, blank lines passed over: 1, or 0 behind the last, or a negative status with an
 * issue. Quotes may hold commas, line ends and doubled quotes; blanks around a field are cut. */
int cy_csv_next(struct cy_csv *csv);

/* A field of the record; "" where the record is shorter. */
const char *cy_csv_field(const struct cy_csv *csv, size_t index);

/* Says what is wrong with a field of this record (behind the last: with the record). */
void cy_csv_complain(struct cy_csv *csv, size_t index, enum cy_issue_code code, const char *field,
                     const char *found, const char *allowed);

#endif
