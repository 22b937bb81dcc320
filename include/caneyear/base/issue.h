/* SPDX-License-Identifier: MIT
 * What is wrong with an input: where, what was found, what is allowed. The engine names the
 * problem by a code and arguments; src/words makes the sentence. */
#ifndef CANEYEAR_BASE_ISSUE_H
#define CANEYEAR_BASE_ISSUE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The results of a function that can fail. */
enum cy_status {
    CY_OK = 0,
    CY_INVALID = -1, /* the input is wrong: see the issues */
    CY_NO_MEMORY = -2,
    CY_CANCELLED = -3, /* the progress callback said stop */
    CY_FAILED = -4     /* the rest: see the issues */
};

/* ISSUE(name): each has one sentence in src/words/issues.c. */
#define CY_ISSUES(ISSUE)                                                                           \
    ISSUE(NOT_READABLE) /* the file cannot be opened or read: found = reason */                    \
    ISSUE(TOO_LARGE)    /* a file, scalar or list over its cap: allowed = cap */                   \
    ISSUE(SYNTAX)       /* found = what the parser met */                                          \
    ISSUE(NOT_UTF8)                                                                                \
    ISSUE(CONTROL_CHARACTER)                                                                       \
    ISSUE(ALIAS) /* anchors, aliases, tags and directives are refused */                           \
    ISSUE(TOO_DEEP)                                                                                \
    ISSUE(SECOND_DOCUMENT)                                                                         \
    ISSUE(EMPTY_FILE)                                                                              \
    ISSUE(DUPLICATE_KEY) /* found = the key; allowed = the line of the first */                    \
    ISSUE(UNKNOWN_KEY)   /* found = the key; allowed = the nearest, or the list */                 \
    ISSUE(WRONG_SHAPE)   /* found, allowed: "a list", "a mapping", "a value" */                    \
    ISSUE(BAD_NUMBER)                                                                              \
    ISSUE(BAD_UNIT) /* found = the value; allowed = the kind of quantity */                        \
    ISSUE(MISSING_UNIT)                                                                            \
    ISSUE(OUT_OF_RANGE) /* found = the value; allowed = the range */                               \
    ISSUE(BAD_DATE)                                                                                \
    ISSUE(BAD_CHOICE)    /* allowed = the choices */                                               \
    ISSUE(BAD_KEY)       /* allowed = the form of a key */                                         \
    ISSUE(BAD_REFERENCE) /* found = a key that names nothing of that kind */                       \
    ISSUE(MISSING)       /* a field that must be given */                                          \
    ISSUE(BAD_VERSION)                                                                             \
    ISSUE(PAIR) /* two values that do not go together: found, allowed in words */                  \
    ISSUE(NO_SUCH_THING)                                                                           \
    ISSUE(NO_SUCH_FIELD)                                                                           \
    ISSUE(CLASH) /* the field changed since: found = now, allowed = expected */                    \
    ISSUE(NOTHING_TO_UNDO)                                                                         \
    ISSUE(NOTHING_TO_REDO)                                                                         \
    ISSUE(IN_USE) /* a thing that others refer to cannot go */                                     \
    ISSUE(NOT_A_FARM)                                                                              \
    ISSUE(FUTURE_FARM)                                                                             \
    ISSUE(DAMAGED_FARM)                                                                            \
    ISSUE(READ_ONLY)                                                                               \
    ISSUE(LOCKED)                                                                                  \
    ISSUE(EXISTS) /* the target is already there */                                                \
    ISSUE(DISK)   /* writing failed: found = reason */                                             \
    ISSUE(NO_CATALOGUE)                                                                            \
    ISSUE(BAD_ARGUMENT) /* found = the argument; allowed */                                        \
    ISSUE(NO_MEMORY)

enum cy_issue_code {
#define ISSUE(name) CY_ISSUE_##name,
    CY_ISSUES(ISSUE)
#undef ISSUE
        CY_ISSUE_COUNT
};

#define CY_ISSUE_TEXT 160

struct cy_issue {
    enum cy_issue_code code;
    char file[CY_ISSUE_TEXT];
    int line, column;          /* from 1; 0 where there is none */
    char thing[64];            /* "row north-1", or "" */
    char field[48];            /* its exported name, or "" */
    int64_t thing_id;          /* 0 where it is no thing of a farm */
    int field_id;              /* -1 where it is no field of the table */
    char found[CY_ISSUE_TEXT]; /* as it came: clean it before showing */
    char allowed[CY_ISSUE_TEXT];
};

/* The first CY_ISSUES_KEPT are kept, the rest counted. Zero-initialise; nothing to free. */
#define CY_ISSUES_KEPT 20
struct cy_issues {
    struct cy_issue items[CY_ISSUES_KEPT], scratch;
    size_t count, dropped;
};

/* The issue to fill in, never NULL: `scratch` once the list is full. */
struct cy_issue *cy_issue_add(struct cy_issues *issues, enum cy_issue_code code);
/* The usual case in one call; NULL texts count as "", and NULL issues are passed over. */
void cy_issue_say(struct cy_issues *issues, enum cy_issue_code code, const char *thing,
                  const char *field, const char *found, const char *allowed);

#endif
