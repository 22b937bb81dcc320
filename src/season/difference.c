/* SPDX-License-Identifier: MIT
 * The step that turns one farm into another, as when a file replaces what there is. */
#include <caneyear/season/edit.h>

#include <limits.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

#include "season/edit_parts.h"

/* What becomes of a thing that is wanted. */
struct fate {
    const struct cy_thing *wanted;
    const struct cy_thing *there; /* its counterpart, or NULL where it is new */
    bool moved;                   /* taken away and put back elsewhere */
    int order;                    /* of a new or moved one */
    int64_t id, parent;           /* in the farm; known once it is added */
};

struct difference {
    struct cy_step *step;
    const struct cy_farm *farm, *wanted;
    struct fate *fates; /* of the wanted farm's own things, in its order */
    size_t count;
    struct cy_spoken spoken; /* of the farm */
};

/* The farm's own things that are not records take part. */
static bool takes_part(const struct cy_thing *thing)
{
    return !thing->catalogue && cy_kind_info(thing->kind)->shape != CY_SHAPE_RECORD;
}

/* The own thing of another farm that a thing of this one stands for, or NULL. */
static const struct cy_thing *counterpart(const struct cy_farm *other, const struct cy_farm *farm,
                                          const struct cy_thing *thing)
{
    const struct cy_thing *above = NULL, *found;
    if (cy_kind_info(thing->kind)->shape == CY_SHAPE_ONE)
        return cy_farm_one(other, thing->kind);
    if (thing->parent != 0) {
        above = counterpart(other, farm, cy_farm_by_id(farm, thing->parent));
        if (!above)
            return NULL;
    }
    found = cy_farm_by_key(other, thing->kind, above ? above->id : 0, thing->key);
    return found && !found->catalogue ? found : NULL;
}

/* ---- order ---------------------------------------------------------------------------------- */

static bool same_group(const struct fate *a, const struct fate *b)
{
    return a->wanted->kind == b->wanted->kind && a->wanted->parent == b->wanted->parent;
}

static const struct fate *fate_of(const struct difference *d, int64_t wanted)
{
    for (size_t i = 0; i < d->count; i++)
        if (d->fates[i].wanted->id == wanted)
            return &d->fates[i];
    return NULL;
}

/* The order before the first thing of the farm that stands in this group. */
static int order_before(const struct fate *fates, size_t count)
{
    int order = INT_MAX;
    for (size_t i = 0; i < count; i++)
        if (fates[i].there && fates[i].there->order < order)
            order = fates[i].there->order;
    return order == INT_MAX ? -1 : order - 1;
}

/* Things stay where they are as long as they come in the wanted order. A new one shares its
 * order with the one before it, its id being higher, or goes behind all of them; one that comes
 * too early in the farm goes behind the one that it should follow. */
static void place_group(const struct difference *d, struct fate *fates, size_t count)
{
    const struct fate *above = fates->wanted->parent ? fate_of(d, fates->wanted->parent) : NULL;
    bool anew = above && (above->moved || !above->there);
    int order = order_before(fates, count);
    int64_t id = 0;
    size_t known = count; /* one behind the last that is there already */
    while (known > 0 && !fates[known - 1].there)
        known--;
    for (size_t i = 0; i < count; i++) {
        const struct cy_thing *there = fates[i].there;
        bool behind = there && (there->order > order || (there->order == order && there->id > id));
        if (behind && !anew) {
            order = there->order;
            id = there->id;
            continue;
        }
        fates[i].moved = there != NULL;
        if (there || i >= known || anew)
            order++;
        id = there ? there->id : INT64_MAX;
        fates[i].order = order;
    }
}

static void place_all(struct difference *d)
{
    size_t end;
    for (size_t i = 0; i < d->count; i = end) {
        for (end = i; end < d->count && same_group(&d->fates[i], &d->fates[end]);)
            end++;
        if (cy_kind_info(d->fates[i].wanted->kind)->shape == CY_SHAPE_LIST)
            place_group(d, &d->fates[i], end - i);
    }
}

/* ---- taking away ---------------------------------------------------------------------------- */

static int compare_ids(const void *a, const void *b)
{
    const int64_t *left = a, *right = b;
    return (*left > *right) - (*left < *right);
}

/* The ids of the farm's things that move, sorted; the caller frees them. */
static int64_t *moved_ids(const struct difference *d, size_t *count)
{
    int64_t *ids = cy_zeroed(d->count, sizeof *ids);
    *count = 0;
    for (size_t i = 0; ids && i < d->count; i++)
        if (d->fates[i].moved)
            ids[(*count)++] = d->fates[i].there->id;
    if (ids && *count > 0)
        qsort(ids, *count, sizeof *ids, compare_ids);
    return ids;
}

/* A thing's children go with it, so only what stands under something that stays is looked at. */
static int take_away(struct difference *d)
{
    size_t count;
    int status = CY_OK;
    int64_t *moved = moved_ids(d, &count);
    if (!moved)
        return CY_NO_MEMORY;
    for (size_t i = d->farm->count; i > 0 && status == CY_OK; i--) {
        const struct cy_thing *thing = d->farm->things[i - 1];
        const struct cy_thing *above = cy_farm_by_id(d->farm, thing->parent);
        if (!takes_part(thing) || cy_kind_info(thing->kind)->shape == CY_SHAPE_ONE)
            continue;
        if (above && (bsearch(&above->id, moved, count, sizeof *moved, compare_ids) ||
                      !counterpart(d->wanted, d->farm, above)))
            continue;
        if (bsearch(&thing->id, moved, count, sizeof *moved, compare_ids))
            status = cy_step_append_removal(d->step, d->farm, thing);
        else if (counterpart(d->wanted, d->farm, thing))
            continue;
        else if (!cy_spoken_has(&d->spoken, thing))
            status = cy_step_append_removal(d->step, d->farm, thing);
        else if (!thing->retired)
            status = cy_step_append_place(d->step, CY_OP_RETIRE, thing);
    }
    free(moved);
    return status;
}

/* ---- adding and setting --------------------------------------------------------------------- */

static int append_values(struct difference *d, const struct fate *fate)
{
    static const struct cy_value empty = {0};
    const struct cy_kind_info *info = cy_kind_info(fate->wanted->kind);
    struct cy_thing target = {.id = fate->id, .kind = fate->wanted->kind};
    int status = CY_OK;
    for (int i = 0; i < info->field_count && status == CY_OK; i++) {
        bool kept = fate->there && !fate->moved;
        const struct cy_value *before = kept ? cy_own_value(fate->there, i) : &empty;
        const struct cy_value *after = cy_own_value(fate->wanted, i);
        if (!cy_value_equal(before, after))
            status = cy_step_append_set(d->step, &target, (enum cy_field)(info->first_field + i),
                                        before, after);
    }
    return status;
}

static int append_fate(struct difference *d, struct fate *fate)
{
    bool kept = fate->there && !fate->moved;
    struct cy_thing place = {.id =
                                 fate->there ? fate->there->id : cy_step_fresh_id(d->step, d->farm),
                             .kind = fate->wanted->kind,
                             .parent = fate->parent,
                             .order = kept ? fate->there->order : fate->order,
                             .key = fate->wanted->key};
    fate->id = place.id;
    int status = kept ? CY_OK : cy_step_append_place(d->step, CY_OP_ADD, &place);
    if (status == CY_OK)
        status = append_values(d, fate);
    if (status == CY_OK && fate->wanted->retired != (kept && fate->there->retired))
        status = cy_step_append_place(d->step, fate->wanted->retired ? CY_OP_RETIRE : CY_OP_RESTORE,
                                      &place);
    return status;
}

/* Parents come before their children. */
static int append_fates(struct difference *d)
{
    int status = CY_OK;
    for (size_t i = 0; i < d->count && status == CY_OK; i++) {
        struct fate *fate = &d->fates[i];
        if (fate->wanted->parent == 0)
            fate->parent = 0;
        else if (i > 0 && same_group(fate, fate - 1))
            fate->parent = fate[-1].parent;
        else
            fate->parent = fate_of(d, fate->wanted->parent)->id;
        status = append_fate(d, fate);
    }
    return status;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static int find_fates(struct difference *d)
{
    d->fates = cy_zeroed(d->wanted->count, sizeof *d->fates);
    if (!d->fates)
        return CY_NO_MEMORY;
    for (size_t i = 0; i < d->wanted->count; i++) {
        const struct cy_thing *thing = d->wanted->things[i];
        const struct cy_thing *above = cy_farm_by_id(d->wanted, thing->parent);
        if (takes_part(thing) && !(above && above->catalogue))
            d->fates[d->count++] =
                (struct fate){.wanted = thing, .there = counterpart(d->farm, d->wanted, thing)};
    }
    return cy_spoken_find(&d->spoken, d->farm);
}

int cy_step_difference(struct cy_step *step, const struct cy_farm *farm,
                       const struct cy_farm *wanted)
{
    struct difference d = {.step = step, .farm = farm, .wanted = wanted};
    int status = find_fates(&d);
    if (status == CY_OK) {
        place_all(&d);
        status = take_away(&d);
    }
    if (status == CY_OK)
        status = append_fates(&d);
    cy_spoken_dispose(&d.spoken);
    free(d.fates);
    return status;
}
