/* SPDX-License-Identifier: MIT
 * Steps applied to a farm: compared, checked at the end, and taken back where they do not fit. */
#include <caneyear/season/edit.h>

#include <string.h>

#include "season/edit_parts.h"

struct change {
    struct cy_farm *farm;
    const struct cy_farm *catalogue; /* or NULL */
    bool trusted;
    struct cy_issues *issues;
};

/* ---- saying what does not fit --------------------------------------------------------------- */

static int clash(const struct change *change, const struct cy_edit *edit, const char *found,
                 const char *expected)
{
    if (!change->issues)
        return CY_INVALID;
    const struct cy_thing *thing = cy_farm_by_id(change->farm, edit->thing);
    const struct cy_field_info *info = cy_field_info(edit->field);
    struct cy_text name = {0};
    struct cy_issue *issue = cy_issue_add(change->issues, CY_ISSUE_CLASH);
    cy_text_add(&name, cy_kind_info(edit->kind)->word);
    if (thing || edit->key) {
        cy_text_clear(&name);
        if (thing)
            cy_thing_print(&name, change->farm, thing);
        else
            cy_text_add(&name, edit->key);
    }
    issue->thing_id = edit->thing;
    issue->field_id = edit->op == CY_OP_SET ? edit->field : CY_FIELD_NONE;
    cy_copy(issue->thing, sizeof issue->thing, cy_text_get(&name));
    cy_copy(issue->field, sizeof issue->field, edit->op == CY_OP_SET && info ? info->name : "");
    cy_copy(issue->found, sizeof issue->found, found);
    cy_copy(issue->allowed, sizeof issue->allowed, expected);
    cy_text_dispose(&name);
    return CY_INVALID;
}

static void add_value(struct cy_text *text, const struct change *change, enum cy_field field,
                      const struct cy_value *value)
{
    if (value->set)
        cy_value_print(text, field, value, cy_farm_system(change->farm));
    else
        cy_text_add(text, "nothing");
}

static int clash_of_values(const struct change *change, const struct cy_edit *edit,
                           const struct cy_value *now)
{
    struct cy_text found = {0}, expected = {0};
    add_value(&found, change, edit->field, now);
    add_value(&expected, change, edit->field, &edit->before);
    /* Two values may print the same and differ in what stands behind them. */
    if (cy_streq(cy_text_get(&found), cy_text_get(&expected))) {
        cy_text_add(&found, ", ");
        cy_text_add(&found, cy_basis_word(now->basis));
        cy_text_add(&expected, ", ");
        cy_text_add(&expected, cy_basis_word(edit->before.basis));
    }
    int status = clash(change, edit, cy_text_get(&found), cy_text_get(&expected));
    cy_text_dispose(&found);
    cy_text_dispose(&expected);
    return status;
}

static int out_of_range(const struct change *change, const struct cy_edit *edit)
{
    struct cy_text name = {0}, found = {0}, allowed = {0};
    cy_thing_print(&name, change->farm, cy_farm_by_id(change->farm, edit->thing));
    add_value(&found, change, edit->field, &edit->after);
    cy_field_allowed(&allowed, edit->field, cy_farm_system(change->farm));
    cy_issue_say(change->issues, CY_ISSUE_OUT_OF_RANGE, cy_text_get(&name),
                 cy_field_info(edit->field)->name, cy_text_get(&found), cy_text_get(&allowed));
    cy_text_dispose(&name);
    cy_text_dispose(&found);
    cy_text_dispose(&allowed);
    return CY_INVALID;
}

/* ---- single edits --------------------------------------------------------------------------- */

static int set_field(const struct change *change, const struct cy_edit *edit)
{
    const struct cy_thing *thing = cy_farm_by_id(change->farm, edit->thing);
    const struct cy_field_info *info = cy_field_info(edit->field);
    if (!thing)
        return clash(change, edit, "nothing", cy_kind_info(edit->kind)->word);
    if (!info || info->kind != thing->kind || edit->kind != thing->kind || thing->catalogue)
        return CY_INVALID;
    if (!change->trusted) {
        const struct cy_value *now =
            cy_own_value(thing, edit->field - cy_kind_info(thing->kind)->first_field);
        if (!cy_value_equal(now, &edit->before))
            return clash_of_values(change, edit, now);
        if (edit->after.set && !cy_value_fits(edit->field, &edit->after))
            return out_of_range(change, edit);
    }
    return cy_farm_set(change->farm, edit->thing, edit->field, &edit->after);
}

static int add_thing(const struct change *change, const struct cy_edit *edit)
{
    const struct cy_thing *there =
        edit->key ? cy_farm_by_key(change->farm, edit->kind, edit->parent, edit->key) : NULL;
    if (there && !there->catalogue)
        return clash(change, edit, there->key, "nothing");
    if (edit->parent != 0 && !cy_farm_by_id(change->farm, edit->parent))
        return clash(change, edit, "nothing", cy_kind_info(cy_kind_info(edit->kind)->parent)->word);
    if (there)
        cy_farm_remove(change->farm, there->id);
    const struct cy_thing *thing =
        cy_farm_add(change->farm, edit->kind, edit->parent, edit->key, NULL, edit->thing);
    if (!thing)
        return CY_INVALID;
    if (thing->order != edit->order)
        cy_farm_reorder(change->farm, thing->id, edit->order);
    return CY_OK;
}

static const struct cy_thing *first_child(const struct cy_farm *farm, const struct cy_thing *thing)
{
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        const struct cy_thing *child = NULL;
        if (cy_kind_info((enum cy_kind)kind)->parent != thing->kind)
            continue;
        while ((child = cy_farm_next(farm, (enum cy_kind)kind, thing->id, child)))
            if (!child->catalogue)
                return child;
    }
    return NULL;
}

static int remove_thing(const struct change *change, const struct cy_edit *edit)
{
    const struct cy_thing *thing = cy_farm_by_id(change->farm, edit->thing);
    if (!thing)
        return clash(change, edit, "nothing", edit->key ? edit->key : "");
    const struct cy_kind_info *info = cy_kind_info(thing->kind);
    if (thing->catalogue || info->shape != CY_SHAPE_LIST)
        return CY_INVALID;
    for (int i = 0; i < info->field_count && !change->trusted; i++)
        if (cy_own_value(thing, i)->set) {
            struct cy_edit field = *edit;
            field.op = CY_OP_SET;
            field.field = (enum cy_field)(info->first_field + i);
            field.before = (struct cy_value){0};
            return clash_of_values(change, &field, cy_own_value(thing, i));
        }
    const struct cy_thing *child = change->trusted ? NULL : first_child(change->farm, thing);
    if (child)
        return clash(change, edit, child->key, "nothing");
    cy_farm_remove(change->farm, edit->thing);
    return CY_OK;
}

static int retire_thing(const struct change *change, const struct cy_edit *edit)
{
    const struct cy_thing *thing = cy_farm_by_id(change->farm, edit->thing);
    bool retires = edit->op == CY_OP_RETIRE;
    if (!thing)
        return clash(change, edit, "nothing", edit->key ? edit->key : "");
    if (thing->catalogue || cy_kind_info(thing->kind)->shape != CY_SHAPE_LIST)
        return CY_INVALID;
    if (!change->trusted && thing->retired == retires)
        return clash(change, edit, retires ? "removed" : "in the plan",
                     retires ? "in the plan" : "removed");
    cy_farm_retire(change->farm, edit->thing, retires);
    return CY_OK;
}

static int apply_edit(const struct change *change, const struct cy_edit *edit)
{
    if (!cy_kind_info(edit->kind) || cy_kind_info(edit->kind)->shape == CY_SHAPE_RECORD)
        return CY_INVALID;
    switch (edit->op) {
    case CY_OP_SET:
        return set_field(change, edit);
    case CY_OP_ADD:
        return add_thing(change, edit);
    case CY_OP_REMOVE:
        return remove_thing(change, edit);
    case CY_OP_RETIRE:
    case CY_OP_RESTORE:
        return retire_thing(change, edit);
    }
    return CY_INVALID;
}

/* ---- what the catalogue lends --------------------------------------------------------------- */

static void mark_lent_kinds(bool out[CY_KIND_COUNT], const struct cy_farm *catalogue)
{
    memset(out, 0, CY_KIND_COUNT * sizeof *out);
    for (size_t i = 0; catalogue && i < catalogue->count; i++)
        out[catalogue->things[i]->kind] = true;
}

/* Takes all back and lends anew, so that the farm is what opening its file would give. */
static int lend_again(struct cy_farm *farm, const struct cy_farm *catalogue)
{
    static const struct cy_value empty = {0};
    for (size_t i = farm->count; i > 0; i--) {
        const struct cy_thing *thing = farm->things[i - 1];
        const struct cy_kind_info *info = cy_kind_info(thing->kind);
        if (thing->catalogue) {
            cy_farm_remove(farm, thing->id);
            continue;
        }
        for (int f = 0; f < info->field_count; f++)
            if (thing->values[f].lent)
                cy_farm_set(farm, thing->id, (enum cy_field)(info->first_field + f), &empty);
    }
    farm->next_lent_id = CY_LENT_ID;
    return cy_farm_lend(farm, catalogue);
}

/* ---- the way back --------------------------------------------------------------------------- */

/* A step that only sets fields of the farm's own is taken back by the values that it names as
 * replaced; before any other the farm is copied. */
static bool only_sets(const struct change *change, const struct cy_step *step,
                      const bool lent_kinds[CY_KIND_COUNT])
{
    for (size_t i = 0; i < step->count; i++) {
        const struct cy_edit *edit = &step->edits[i];
        const struct cy_thing *thing = cy_farm_by_id(change->farm, edit->thing);
        const struct cy_field_info *info = cy_field_info(edit->field);
        if (edit->op != CY_OP_SET || !thing || !info || info->kind != thing->kind ||
            lent_kinds[thing->kind] ||
            thing->values[edit->field - cy_kind_info(thing->kind)->first_field].lent)
            return false;
    }
    return true;
}

static void unset_fields(struct cy_farm *farm, const struct cy_step *step, size_t count)
{
    for (size_t i = count; i > 0; i--) {
        const struct cy_edit *edit = &step->edits[i - 1];
        cy_farm_set(farm, edit->thing, edit->field, &edit->before);
    }
}

static size_t count_issues(const struct cy_issues *issues)
{
    return issues->count + issues->dropped;
}

static void pass_on(struct cy_issues *out, const struct cy_issues *issues)
{
    for (size_t i = 0; out && i < issues->count; i++)
        *cy_issue_add(out, issues->items[i].code) = issues->items[i];
    if (out)
        out->dropped += issues->dropped;
}

/* ---- steps ---------------------------------------------------------------------------------- */

static int make_changes(const struct change *change, const struct cy_step *step, bool lends,
                        size_t *made)
{
    int status = CY_OK;
    for (*made = 0; *made < step->count && status == CY_OK; ++*made)
        status = apply_edit(change, &step->edits[*made]);
    if (status != CY_OK)
        --*made;
    if (status == CY_OK && lends)
        status = lend_again(change->farm, change->catalogue);
    return status;
}

static bool any_kind(const struct cy_step *step, const bool kinds[CY_KIND_COUNT])
{
    for (size_t i = 0; i < step->count; i++)
        if (cy_kind_info(step->edits[i].kind) && kinds[step->edits[i].kind])
            return true;
    return false;
}

static int apply(const struct change *change, const struct cy_step *step)
{
    bool lent_kinds[CY_KIND_COUNT];
    struct cy_farm saved = {0};
    struct cy_issues found = {0}, before = {0};
    size_t made;
    mark_lent_kinds(lent_kinds, change->catalogue);
    bool simple = only_sets(change, step, lent_kinds);
    if (!simple && cy_farm_copy(&saved, change->farm) != CY_OK)
        return CY_NO_MEMORY;
    int status = make_changes(change, step, any_kind(step, lent_kinds), &made);
    bool fails_check =
        status == CY_OK && !change->trusted && cy_farm_check(change->farm, &found) != CY_OK;
    if (status == CY_OK && !fails_check) {
        cy_farm_dispose(&saved);
        return CY_OK;
    }
    if (simple) {
        unset_fields(change->farm, step, made);
    } else {
        cy_farm_dispose(change->farm);
        *change->farm = saved;
    }
    if (!fails_check)
        return status;
    /* Worse than it was is refused; a farm with several faults is mended one by one. */
    cy_farm_check(change->farm, &before);
    if (count_issues(&before) > 0 && count_issues(&found) <= count_issues(&before)) {
        struct change again = *change;
        again.trusted = true;
        return apply(&again, step);
    }
    pass_on(change->issues, &found);
    return CY_INVALID;
}

int cy_step_apply_lent(struct cy_farm *farm, const struct cy_step *step,
                       const struct cy_farm *catalogue, bool trusted, struct cy_issues *issues)
{
    return apply(&(struct change){farm, catalogue, trusted, issues}, step);
}

int cy_step_apply(struct cy_farm *farm, const struct cy_step *step, bool trusted,
                  struct cy_issues *issues)
{
    return cy_step_apply_lent(farm, step, NULL, trusted, issues);
}
