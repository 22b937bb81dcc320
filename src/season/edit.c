/* SPDX-License-Identifier: MIT
 * Steps: built from what someone wants changed, and reversed. */
#include <caneyear/season/edit.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>

#include "season/edit_parts.h"

/* ---- edits and steps ------------------------------------------------------------------------ */

static void edit_dispose(struct cy_edit *edit)
{
    free(edit->key);
    cy_value_dispose(&edit->before);
    cy_value_dispose(&edit->after);
}

void cy_step_dispose(struct cy_step *step)
{
    for (size_t i = 0; i < step->count; i++)
        edit_dispose(&step->edits[i]);
    free(step->edits);
    *step = (struct cy_step){0};
}

static bool copy_value(struct cy_value *out, const struct cy_value *from)
{
    if (!from->set)
        return true;
    bool copied = cy_value_copy(out, from);
    out->lent = false;
    return copied;
}

int cy_step_append(struct cy_step *step, const struct cy_edit *edit)
{
    struct cy_edit copy = *edit;
    copy.key = cy_strdup(edit->key);
    copy.before = copy.after = (struct cy_value){0};
    if ((edit->key && !copy.key) || !copy_value(&copy.before, &edit->before) ||
        !copy_value(&copy.after, &edit->after) ||
        !cy_grow(&step->edits, &step->capacity, step->count, sizeof *step->edits)) {
        edit_dispose(&copy);
        return CY_NO_MEMORY;
    }
    step->edits[step->count++] = copy;
    return CY_OK;
}

int cy_step_append_set(struct cy_step *step, const struct cy_thing *thing, enum cy_field field,
                       const struct cy_value *before, const struct cy_value *after)
{
    struct cy_edit edit = {.op = CY_OP_SET,
                           .kind = thing->kind,
                           .thing = thing->id,
                           .field = field,
                           .before = *before,
                           .after = *after};
    return cy_step_append(step, &edit);
}

int cy_step_append_place(struct cy_step *step, enum cy_op op, const struct cy_thing *thing)
{
    struct cy_edit edit = {.op = op,
                           .kind = thing->kind,
                           .thing = thing->id,
                           .parent = thing->parent,
                           .order = thing->order,
                           .key = thing->key,
                           .field = CY_FIELD_NONE};
    return cy_step_append(step, &edit);
}

/* ---- values --------------------------------------------------------------------------------- */

static bool is_clean(const char *text)
{
    size_t length = text ? strlen(text) : 0;
    return cy_utf8_valid(text, length) && !cy_utf8_has_control(text, length);
}

/* Text, dates and references fit if what is printed reads back as the same. */
static bool reads_back(enum cy_field field, const struct cy_value *value)
{
    struct cy_text text = {0};
    struct cy_value again = {0};
    cy_value_print(&text, field, value, CY_METRIC);
    bool same = !text.failed &&
                cy_value_parse(&again, field, cy_text_get(&text), text.length, NULL) == CY_OK &&
                again.number == value->number &&
                cy_streq(again.text ? again.text : "", value->text ? value->text : "");
    cy_value_dispose(&again);
    cy_text_dispose(&text);
    return same;
}

bool cy_value_fits(enum cy_field field, const struct cy_value *value)
{
    const struct cy_field_info *info = cy_field_info(field);
    double number = value->number;
    if (!info || !is_clean(value->source))
        return false;
    bool is_text = info->type == CY_TYPE_TEXT || info->type == CY_TYPE_REFERENCE;
    if (is_text != (value->text != NULL))
        return false;
    if (info->type == CY_TYPE_NUMBER)
        return number >= info->low && number <= info->high;
    if (!(fabs(number) < 1e9) || number != floor(number))
        return false;
    if (info->type == CY_TYPE_COUNT)
        return number >= info->low && number <= info->high;
    if (info->type == CY_TYPE_CHOICE)
        return number >= 0 && number < info->choice_count;
    return reads_back(field, value);
}

const struct cy_value *cy_own_value(const struct cy_thing *thing, int index)
{
    static const struct cy_value empty = {0};
    return thing->values[index].lent ? &empty : &thing->values[index];
}

/* ---- what a step holds already -------------------------------------------------------------- */

int64_t cy_step_fresh_id(const struct cy_step *step, const struct cy_farm *farm)
{
    int64_t id = farm->next_id;
    for (size_t i = step->count; i > 0; i--) {
        const struct cy_edit *edit = &step->edits[i - 1];
        if (edit->op == CY_OP_ADD && edit->thing >= farm->next_id) {
            id = edit->thing + 1; /* the last one added has the highest id */
            break;
        }
    }
    return id;
}

static const struct cy_edit *added(const struct cy_step *step, int64_t thing)
{
    for (size_t i = step->count; i > 0; i--)
        if (step->edits[i - 1].op == CY_OP_ADD && step->edits[i - 1].thing == thing)
            return &step->edits[i - 1];
    return NULL;
}

static const struct cy_edit *added_key(const struct cy_step *step, enum cy_kind kind,
                                       int64_t parent, const char *key)
{
    for (size_t i = step->count; i > 0; i--) {
        const struct cy_edit *edit = &step->edits[i - 1];
        if (edit->op == CY_OP_ADD && edit->kind == kind && edit->parent == parent &&
            cy_streq(edit->key, key))
            return edit;
    }
    return NULL;
}

/* What a field will hold where the step has got to. */
static const struct cy_value *value_so_far(const struct cy_step *step, const struct cy_thing *thing,
                                           int64_t id, enum cy_field field)
{
    static const struct cy_value empty = {0};
    for (size_t i = step->count; i > 0; i--) {
        const struct cy_edit *edit = &step->edits[i - 1];
        if (edit->op == CY_OP_SET && edit->thing == id && edit->field == field)
            return &edit->after;
    }
    if (!thing)
        return &empty;
    return cy_own_value(thing, field - cy_kind_info(thing->kind)->first_field);
}

/* ---- adding --------------------------------------------------------------------------------- */

/* The place behind the farm's own things of a kind and parent, and behind those of the step. */
static int next_order(const struct cy_step *step, const struct cy_farm *farm, enum cy_kind kind,
                      int64_t parent)
{
    int order = -1;
    for (size_t i = 0; i < farm->count; i++) {
        const struct cy_thing *thing = farm->things[i];
        if (thing->kind == kind && thing->parent == parent && !thing->catalogue &&
            thing->order > order)
            order = thing->order;
    }
    for (size_t i = 0; i < step->count; i++) {
        const struct cy_edit *edit = &step->edits[i];
        if (edit->op == CY_OP_ADD && edit->kind == kind && edit->parent == parent &&
            edit->order > order)
            order = edit->order;
    }
    return order + 1;
}

/* A key that neither the farm nor the step has, by the farm's own rule: from a scratch farm that
 * holds just the keys taken. The caller frees it. */
static char *free_key(const struct cy_step *step, const struct cy_farm *farm, enum cy_kind kind,
                      int64_t parent, const char *name)
{
    struct cy_farm scratch = {.next_id = 1, .next_lent_id = CY_LENT_ID};
    const struct cy_thing *above = NULL, *thing = NULL;
    char *key = NULL;
    if (parent != 0 &&
        !(above = cy_farm_add(&scratch, cy_kind_info(kind)->parent, 0, "parent", NULL, 0)))
        goto out;
    int64_t under = above ? above->id : 0;
    for (size_t i = 0; i < farm->count; i++) {
        thing = farm->things[i];
        if (thing->kind == kind && thing->parent == parent &&
            !cy_farm_add(&scratch, kind, under, thing->key, NULL, 0))
            goto out;
    }
    for (size_t i = 0; i < step->count; i++) {
        const struct cy_edit *edit = &step->edits[i];
        if (edit->op == CY_OP_ADD && edit->kind == kind && edit->parent == parent &&
            !cy_farm_by_key(&scratch, kind, under, edit->key) &&
            !cy_farm_add(&scratch, kind, under, edit->key, NULL, 0))
            goto out;
    }
    thing = cy_farm_add(&scratch, kind, under, NULL, name, 0);
    key = thing ? cy_strdup(thing->key) : NULL;
out:
    cy_farm_dispose(&scratch);
    return key;
}

/* A thing in the making, with its values (or NULL), none of them lent. */
static int append_thing(struct cy_step *step, const struct cy_thing *thing,
                        const struct cy_value *values)
{
    static const struct cy_value empty = {0};
    const struct cy_kind_info *info = cy_kind_info(thing->kind);
    int status = cy_step_append_place(step, CY_OP_ADD, thing);
    for (int i = 0; status == CY_OK && values && i < info->field_count; i++)
        if (values[i].set)
            status = cy_step_append_set(step, thing, (enum cy_field)(info->first_field + i), &empty,
                                        &values[i]);
    return status;
}

static bool all_fit(const struct cy_kind_info *info, const struct cy_value *values)
{
    for (int i = 0; values && i < info->field_count; i++)
        if (values[i].set && !cy_value_fits((enum cy_field)(info->first_field + i), &values[i]))
            return false;
    return true;
}

/* The name that is given with the values of a new thing, or NULL. */
static const char *name_among(enum cy_kind kind, const struct cy_value *values)
{
    enum cy_field field = cy_field_named(kind, "name", 4);
    if (!values || field == CY_FIELD_NONE)
        return NULL;
    return values[field - cy_kind_info(kind)->first_field].text;
}

int cy_step_add(struct cy_step *step, const struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                const char *key, const struct cy_value *values, int64_t *id)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    if (!info || info->shape != CY_SHAPE_LIST || (parent != 0) != (info->parent != CY_KIND_NONE) ||
        (key && !cy_key_valid(key, strlen(key))) || !all_fit(info, values))
        return CY_INVALID;
    struct cy_thing thing = {.id = cy_step_fresh_id(step, farm),
                             .kind = kind,
                             .parent = parent,
                             .order = next_order(step, farm, kind, parent)};
    thing.key = key ? cy_strdup(key) : free_key(step, farm, kind, parent, name_among(kind, values));
    int status = thing.key ? append_thing(step, &thing, values) : CY_NO_MEMORY;
    free(thing.key);
    if (status == CY_OK && id)
        *id = thing.id;
    return status;
}

/* ---- setting -------------------------------------------------------------------------------- */

static int adopt_one(struct cy_step *step, const struct cy_farm *farm, const struct cy_thing *lent,
                     int64_t parent, const struct cy_value *values)
{
    struct cy_thing own = {.id = cy_step_fresh_id(step, farm),
                           .kind = lent->kind,
                           .parent = parent,
                           .order = next_order(step, farm, lent->kind, parent),
                           .key = lent->key};
    return append_thing(step, &own, values);
}

/* Gives the farm a thing of its own in place of a lent one. The catalogue goes on filling the
 * gaps of a thing at the top, but lends children only to those that have none: they come along
 * with their values. */
static int adopt(struct cy_step *step, const struct cy_farm *farm, const struct cy_thing *lent,
                 int64_t *id)
{
    int status = CY_OK;
    int64_t parent = lent->parent;
    const struct cy_thing *above = cy_farm_by_id(farm, parent);
    if (above && above->catalogue)
        status = adopt(step, farm, above, &parent);
    if (status == CY_OK && !added_key(step, lent->kind, parent, lent->key)) {
        const struct cy_thing *child = NULL;
        if (!above)
            status = adopt_one(step, farm, lent, 0, NULL);
        while (above && status == CY_OK &&
               (child = cy_farm_next(farm, lent->kind, above->id, child)))
            status = adopt_one(step, farm, child, parent, child->values);
    }
    if (status == CY_OK)
        *id = added_key(step, lent->kind, parent, lent->key)->thing;
    return status;
}

int cy_step_set(struct cy_step *step, const struct cy_farm *farm, int64_t thing,
                enum cy_field field, const struct cy_value *after)
{
    const struct cy_field_info *info = cy_field_info(field);
    const struct cy_thing *there = cy_farm_by_id(farm, thing);
    const struct cy_edit *new = there ? NULL : added(step, thing);
    struct cy_value own = *after;
    own.lent = false;
    if (!info || (!there && !new) || (there ? there->kind : new->kind) != info->kind ||
        cy_kind_info(info->kind)->shape == CY_SHAPE_RECORD ||
        (after->set && !cy_value_fits(field, after)))
        return CY_INVALID;
    if (there && there->catalogue) {
        int status = adopt(step, farm, there, &thing);
        if (status != CY_OK)
            return status;
        there = NULL;
    }
    struct cy_thing target = {.id = thing, .kind = info->kind};
    const struct cy_value *before = value_so_far(step, there, thing, field);
    return cy_value_equal(before, &own) ? CY_OK
                                        : cy_step_append_set(step, &target, field, before, &own);
}

/* ---- what records speak of ------------------------------------------------------------------ */

static int compare_addresses(const void *a, const void *b)
{
    const struct cy_thing *const *left = a, *const *right = b;
    return (*left > *right) - (*left < *right);
}

void cy_spoken_dispose(struct cy_spoken *spoken)
{
    free(spoken->things);
    *spoken = (struct cy_spoken){0};
}

int cy_spoken_find(struct cy_spoken *out, const struct cy_farm *farm)
{
    *out = (struct cy_spoken){0};
    for (size_t i = 0; i < farm->count; i++) {
        const struct cy_thing *record = farm->things[i];
        const struct cy_kind_info *info = cy_kind_info(record->kind);
        for (int f = 0; info->shape == CY_SHAPE_RECORD && f < info->field_count; f++) {
            const struct cy_thing *target =
                cy_referred(farm, record, (enum cy_field)(info->first_field + f));
            if (!target)
                continue;
            if (!cy_grow(&out->things, &out->capacity, out->count, sizeof *out->things)) {
                cy_spoken_dispose(out);
                return CY_NO_MEMORY;
            }
            out->things[out->count++] = target;
        }
    }
    if (out->count > 0)
        qsort(out->things, out->count, sizeof *out->things, compare_addresses);
    return CY_OK;
}

bool cy_spoken_has(const struct cy_spoken *spoken, const struct cy_thing *thing)
{
    return spoken->count > 0 && bsearch(&thing, spoken->things, spoken->count,
                                        sizeof *spoken->things, compare_addresses);
}

/* ---- removing ------------------------------------------------------------------------------- */

static bool may_have_children(enum cy_kind kind)
{
    for (int child = 0; child < CY_KIND_COUNT; child++)
        if (cy_kind_info((enum cy_kind)child)->parent == kind)
            return true;
    return false;
}

int cy_step_append_removal(struct cy_step *step, const struct cy_farm *farm,
                           const struct cy_thing *thing)
{
    static const struct cy_value empty = {0};
    const struct cy_kind_info *info = cy_kind_info(thing->kind);
    int status = CY_OK;
    for (size_t i = 0; may_have_children(thing->kind) && i < farm->count && status == CY_OK; i++)
        if (farm->things[i]->parent == thing->id && !farm->things[i]->catalogue)
            status = cy_step_append_removal(step, farm, farm->things[i]);
    for (int i = 0; i < info->field_count && status == CY_OK; i++)
        if (cy_own_value(thing, i)->set)
            status = cy_step_append_set(step, thing, (enum cy_field)(info->first_field + i),
                                        cy_own_value(thing, i), &empty);
    return status == CY_OK ? cy_step_append_place(step, CY_OP_REMOVE, thing) : status;
}

/* Something of the plan that refers to a thing, or NULL. */
static const struct cy_thing *user_of(const struct cy_farm *farm, const struct cy_thing *thing)
{
    for (size_t i = 0; i < farm->count; i++) {
        const struct cy_thing *other = farm->things[i];
        const struct cy_kind_info *info = cy_kind_info(other->kind);
        if (other == thing || other->retired || info->shape == CY_SHAPE_RECORD)
            continue;
        for (int f = 0; f < info->field_count; f++)
            if (cy_referred(farm, other, (enum cy_field)(info->first_field + f)) == thing)
                return other;
    }
    return NULL;
}

static bool has_lent_value(const struct cy_thing *thing)
{
    for (int i = 0; i < cy_kind_info(thing->kind)->field_count; i++)
        if (thing->values[i].lent)
            return true;
    return false;
}

static int refuse_removal(const struct cy_farm *farm, const struct cy_thing *thing,
                          const struct cy_thing *user, struct cy_issues *issues)
{
    struct cy_text name = {0}, by = {0};
    cy_thing_print(&name, farm, thing);
    if (user)
        cy_thing_print(&by, farm, user);
    cy_issue_say(issues, CY_ISSUE_IN_USE, cy_text_get(&name), "",
                 user ? cy_text_get(&by) : "the catalogue",
                 user ? "" : "it comes with the program and stays");
    cy_text_dispose(&name);
    cy_text_dispose(&by);
    return CY_INVALID;
}

int cy_step_remove(struct cy_step *step, const struct cy_farm *farm, int64_t thing,
                   struct cy_issues *issues)
{
    const struct cy_thing *there = cy_farm_by_id(farm, thing);
    if (!there || cy_kind_info(there->kind)->shape != CY_SHAPE_LIST)
        return CY_INVALID;
    if (there->catalogue)
        return refuse_removal(farm, there, NULL, issues);
    /* Under what overlays a lent thing, the lent one comes to light and takes over. */
    const struct cy_thing *user = has_lent_value(there) ? NULL : user_of(farm, there);
    if (user)
        return refuse_removal(farm, there, user, issues);
    struct cy_spoken spoken;
    int status = cy_spoken_find(&spoken, farm);
    if (status != CY_OK)
        return status;
    if (!cy_spoken_has(&spoken, there))
        status = cy_step_append_removal(step, farm, there);
    else if (!there->retired)
        status = cy_step_append_place(step, CY_OP_RETIRE, there);
    cy_spoken_dispose(&spoken);
    return status;
}

/* ---- reversing ------------------------------------------------------------------------------ */

int cy_step_reverse(struct cy_step *out, const struct cy_step *step)
{
    static const enum cy_op reversed[] = {[CY_OP_SET] = CY_OP_SET,
                                          [CY_OP_ADD] = CY_OP_REMOVE,
                                          [CY_OP_REMOVE] = CY_OP_ADD,
                                          [CY_OP_RETIRE] = CY_OP_RESTORE,
                                          [CY_OP_RESTORE] = CY_OP_RETIRE};
    *out = (struct cy_step){.reverses = step->id};
    for (size_t i = step->count; i > 0; i--) {
        struct cy_edit edit = step->edits[i - 1];
        struct cy_value before = edit.before;
        edit.op = reversed[edit.op];
        edit.before = edit.after;
        edit.after = before;
        if (cy_step_append(out, &edit) != CY_OK) {
            cy_step_dispose(out);
            return CY_NO_MEMORY;
        }
    }
    return CY_OK;
}

/* The thing at the top that an edit is about, as the farm has it, or NULL. */
static const struct cy_thing *top_of(const struct cy_farm *farm, const struct cy_edit *edit)
{
    const struct cy_thing *thing = cy_farm_by_id(farm, edit->thing);
    return thing && thing->parent != 0 ? cy_farm_by_id(farm, thing->parent) : thing;
}

/* The things at the top that a step takes away and does not put back, if records speak of them. */
static int find_spared(struct cy_spoken *out, const struct cy_step *step,
                       const struct cy_farm *farm)
{
    struct cy_spoken spoken;
    int status = cy_spoken_find(&spoken, farm);
    *out = (struct cy_spoken){0};
    for (size_t i = 0; i < step->count && status == CY_OK && spoken.count > 0; i++) {
        const struct cy_edit *edit = &step->edits[i];
        const struct cy_thing *thing = cy_farm_by_id(farm, edit->thing);
        if (edit->op != CY_OP_REMOVE || !thing || !cy_spoken_has(&spoken, thing) ||
            added(step, edit->thing))
            continue;
        if (cy_grow(&out->things, &out->capacity, out->count, sizeof *out->things))
            out->things[out->count++] = thing;
        else
            status = CY_NO_MEMORY;
    }
    if (out->count > 0)
        qsort(out->things, out->count, sizeof *out->things, compare_addresses);
    cy_spoken_dispose(&spoken);
    return status;
}

int cy_step_spare(struct cy_step *step, const struct cy_farm *farm)
{
    struct cy_spoken spared;
    int status = find_spared(&spared, step, farm);
    size_t kept = 0;
    for (size_t i = 0; i < step->count && status == CY_OK && spared.count > 0; i++) {
        struct cy_edit edit = step->edits[i];
        const struct cy_thing *top = top_of(farm, &edit);
        bool retires = edit.op == CY_OP_REMOVE && top && top->id == edit.thing && !top->retired;
        if (top && cy_spoken_has(&spared, top)) {
            if (!retires) {
                edit_dispose(&edit);
                continue;
            }
            edit.op = CY_OP_RETIRE;
        }
        step->edits[kept++] = edit;
    }
    if (status == CY_OK && spared.count > 0)
        step->count = kept;
    cy_spoken_dispose(&spared);
    return status;
}
