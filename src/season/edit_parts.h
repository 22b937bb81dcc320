/* SPDX-License-Identifier: MIT
 * What the files of the steps share with one another and with nobody else. */
#ifndef SEASON_EDIT_PARTS_H
#define SEASON_EDIT_PARTS_H

#include <caneyear/season/edit.h>

/* edit.c */
/* Appends a copy of an edit: its key and values are copied, none of them marked as lent. */
int cy_step_append(struct cy_step *step, const struct cy_edit *edit);
int cy_step_append_set(struct cy_step *step, const struct cy_thing *thing, enum cy_field field,
                       const struct cy_value *before, const struct cy_value *after);
int cy_step_append_place(struct cy_step *step, enum cy_op op, const struct cy_thing *thing);
/* Empties and removes a thing of the farm's own with its own children. */
int cy_step_append_removal(struct cy_step *step, const struct cy_farm *farm,
                           const struct cy_thing *thing);
/* The id that the next thing added by the step will have. */
int64_t cy_step_fresh_id(const struct cy_step *step, const struct cy_farm *farm);
/* What a field holds as the farm's own: what is lent counts as empty. Never NULL. */
const struct cy_value *cy_own_value(const struct cy_thing *thing, int index);

/* The things that records speak of, for one farm as it stands. */
struct cy_spoken {
    const struct cy_thing **things; /* sorted by address */
    size_t count, capacity;
};
int cy_spoken_find(struct cy_spoken *out, const struct cy_farm *farm);
void cy_spoken_dispose(struct cy_spoken *spoken);
bool cy_spoken_has(const struct cy_spoken *spoken, const struct cy_thing *thing);

#endif
