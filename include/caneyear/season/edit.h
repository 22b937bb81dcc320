/* SPDX-License-Identifier: MIT
 * How a farm changes: by steps, lists of edits that are checked together and can be reversed. */
#ifndef CANEYEAR_SEASON_EDIT_H
#define CANEYEAR_SEASON_EDIT_H

#include <caneyear/season/farm.h>

enum cy_op {
    CY_OP_SET,     /* a field: before to after, either of which may be empty */
    CY_OP_ADD,     /* a thing without values, at its place */
    CY_OP_REMOVE,  /* a thing whose values and children earlier edits of the step took away */
    CY_OP_RETIRE,  /* hides a thing that records speak of; its values stay */
    CY_OP_RESTORE  /* the reverse */
};

struct cy_edit {
    enum cy_op op;
    enum cy_kind kind;
    int64_t thing;
    int64_t parent; /* of ADD and REMOVE, with order and key: all it takes to put it back */
    int order;
    char *key;
    enum cy_field field; /* of SET */
    struct cy_value before, after;
};

#define CY_AUTHOR_TEXT 64

struct cy_step {
    int64_t id;       /* 0 until it is stored */
    int64_t reverses; /* the step that this one undoes, or redoes; 0 */
    char author[CY_AUTHOR_TEXT];
    struct cy_edit *edits;
    size_t count, capacity;
};

void cy_step_dispose(struct cy_step *step);

/* Whether the table of fields allows a value that is set: its type, range, words and characters. */
bool cy_value_fits(enum cy_field field, const struct cy_value *value);

/* Builders: each appends the edits that change `farm` as it stands, seen with what the step holds
 * already. CY_INVALID: no such thing or field, not the plan's to change, or a value out of its
 * range. Setting a field of a lent thing adds the farm's own thing of that key; of a lent child,
 * with copies of its siblings. */
int cy_step_set(struct cy_step *step, const struct cy_farm *farm, int64_t thing,
                enum cy_field field, const struct cy_value *after);
/* Adds a thing and its values (an array of the kind's field_count, or NULL); its new id in *id.
 * Where others took that id meanwhile, storing the step moves on to free ones. */
int cy_step_add(struct cy_step *step, const struct cy_farm *farm, enum cy_kind kind,
                int64_t parent, const char *key, const struct cy_value *values, int64_t *id);
/* Removes a thing with its children, or retires it where records speak of it. Refused (IN_USE)
 * while other things refer to it, and of what the catalogue lends. */
int cy_step_remove(struct cy_step *step, const struct cy_farm *farm, int64_t thing,
                   struct cy_issues *issues);
/* The edits that turn `farm` into `wanted`, compared by kind, parent's key and key; catalogue
 * things, lent values and records are left out of the comparison. A thing out of its order is
 * taken away and put back under its id. */
int cy_step_difference(struct cy_step *step, const struct cy_farm *farm,
                       const struct cy_farm *wanted);
/* The step that undoes `step`. */
int cy_step_reverse(struct cy_step *out, const struct cy_step *step);
/* Makes the step retire, with values and children, what it would remove for good although
 * records of the farm speak of it. For reversed steps: the records may have come since. */
int cy_step_spare(struct cy_step *step, const struct cy_farm *farm);

/* Applies a step: every `before` must still hold (CLASH names both values where it does not) and
 * the farm must pass cy_farm_check at the end. Anything but CY_OK leaves the farm as it was. A
 * stored step is replayed with `trusted`: neither compared nor checked. */
int cy_step_apply(struct cy_farm *farm, const struct cy_step *step, bool trusted,
                  struct cy_issues *issues);
/* The same for a farm to which a catalogue is lent, which fills again what the step laid bare. A
 * farm that did not pass its check before may still be changed, if it gets no worse. */
int cy_step_apply_lent(struct cy_farm *farm, const struct cy_step *step,
                       const struct cy_farm *catalogue, bool trusted, struct cy_issues *issues);

#endif
