/* SPDX-License-Identifier: MIT
 * A form: a record being typed, field by field, with the rules of the field table. */
#ifndef SCREEN_ENTRY_H
#define SCREEN_ENTRY_H

#include <stdbool.h>

#include <caneyear/season/farm.h>

#include "screen/draw.h"
#include "screen/term.h"

#define CY_ENTRY_TEXT 1204 /* the longest text of the table in UTF-8 */
#define CY_ENTRY_FIELDS 11

struct cy_entry_field {
    enum cy_field field;
    const char *label;
    char text[CY_ENTRY_TEXT], kept[CY_ENTRY_TEXT]; /* as typed, and as it was */
};

/* What the record speaks of, besides what is typed. */
struct cy_entry_about {
    char row[48], job[48], corrects[48]; /* keys */
    int season, round;
};

struct cy_entry {
    bool open;
    enum cy_kind kind; /* CY_KIND_SEEN or CY_KIND_DONE */
    char title[256];
    struct cy_entry_about about;
    struct cy_entry_field fields[CY_ENTRY_FIELDS];
    int count, chosen;
    size_t caret; /* bytes into the chosen text */
    bool fresh;   /* just come to: typing replaces what is no free text */
    enum cy_system system;
    cy_day today;
};

enum cy_entry_result { CY_ENTRY_GOES_ON, CY_ENTRY_KEEP, CY_ENTRY_DROP, CY_ENTRY_REFUSED };

/* Empty fields for a kind of record. */
void cy_entry_begin(struct cy_entry *form, enum cy_kind kind, const struct cy_entry_about *about,
                    enum cy_system system, cy_day today);
void cy_entry_put(struct cy_entry *form, enum cy_field field, const char *text);
/* One key. REFUSED: the value in the chosen field is not allowed, issues say why. */
enum cy_entry_result cy_entry_key(struct cy_entry *form, const struct cy_key *key,
                                  struct cy_issues *issues);
/* The record as an array of the kind's field_count, to be disposed of with cy_entry_free. NULL with
 * an issue where a field is wrong (it becomes the chosen one), or without memory. */
struct cy_value *cy_entry_values(struct cy_entry *form, struct cy_issues *issues);
void cy_entry_free(const struct cy_entry *form, struct cy_value *values);

/* What the record is of: as a rule the row, or the row's job, of the title. */
void cy_entry_say_of(struct cy_text *out, const struct cy_entry *form);
/* Whether a field is asked for, given what was seen. */
bool cy_entry_asks(const struct cy_entry *form, int field);
int cy_entry_lines(const struct cy_entry *form);
/* Beside each field stands what it takes: of a reference, the keys that the farm has for it. */
void cy_entry_draw(const struct cy_entry *form, const struct cy_farm *farm, struct cy_pane pane);

/* As lines of keep.h, and back; false where they hold no form. */
void cy_entry_save(struct cy_text *out, const struct cy_entry *form);
bool cy_entry_load(struct cy_entry *form, const struct cy_text *lines, enum cy_system system,
                   cy_day today);

#endif
