/* SPDX-License-Identifier: MIT
 * The farm's things: kept in order, found by id and by key, copied, lent by the catalogue. */
#include <caneyear/season/farm.h>

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>
#include <caneyear/base/random.h>

/* The ids below this are the ONE kinds'; a few are left for kinds to come. */
enum { FIRST_FREE_ID = 101, KEY_LONGEST = 40 };

/* ---- order and the two indexes -------------------------------------------------------------- */

struct place {
    enum cy_kind kind;
    int64_t parent;
    int order;
    int64_t id;
};

static struct place place_of(const struct cy_thing *thing)
{
    return (struct place){thing->kind, thing->parent, thing->order, thing->id};
}

static int compare(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

static int compare_places(struct place a, struct place b)
{
    int way = compare(a.kind, b.kind);
    if (way == 0)
        way = compare(a.parent, b.parent);
    if (way == 0)
        way = compare(a.order, b.order);
    return way ? way : compare(a.id, b.id);
}

/* How many things stand before a place. */
static size_t count_before(const struct cy_farm *farm, struct place place)
{
    size_t low = 0, high = farm->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (compare_places(place_of(farm->things[middle]), place) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static struct cy_thing **id_bucket(const struct cy_farm *farm, int64_t id)
{
    return &farm->by_id[cy_hash(CY_HASH_START, &id, sizeof id) % farm->buckets];
}

static struct cy_thing **key_bucket(const struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                                    const char *key)
{
    uint64_t hash = cy_hash(CY_HASH_START, &kind, sizeof kind);
    hash = cy_hash(hash, &parent, sizeof parent);
    return &farm->by_key[cy_hash_string(hash, key) % farm->buckets];
}

static void index_thing(struct cy_farm *farm, struct cy_thing *thing)
{
    struct cy_thing **bucket = id_bucket(farm, thing->id);
    thing->same_id_bucket = *bucket;
    *bucket = thing;
    bucket = key_bucket(farm, thing->kind, thing->parent, thing->key);
    thing->same_key_bucket = *bucket;
    *bucket = thing;
}

static void unindex_thing(struct cy_farm *farm, const struct cy_thing *thing)
{
    struct cy_thing **at = id_bucket(farm, thing->id);
    while (*at != thing)
        at = &(*at)->same_id_bucket;
    *at = thing->same_id_bucket;
    at = key_bucket(farm, thing->kind, thing->parent, thing->key);
    while (*at != thing)
        at = &(*at)->same_key_bucket;
    *at = thing->same_key_bucket;
}

static bool reserve_buckets(struct cy_farm *farm)
{
    if (farm->count < farm->buckets)
        return true;
    size_t buckets = farm->buckets ? farm->buckets * 2 : 64;
    struct cy_thing **by_id = cy_zeroed(buckets, sizeof *by_id);
    struct cy_thing **by_key = cy_zeroed(buckets, sizeof *by_key);
    if (!by_id || !by_key) {
        free(by_id);
        free(by_key);
        return false;
    }
    free(farm->by_id);
    free(farm->by_key);
    farm->by_id = by_id;
    farm->by_key = by_key;
    farm->buckets = buckets;
    for (size_t i = 0; i < farm->count; i++)
        index_thing(farm, farm->things[i]);
    return true;
}

/* Room was made before. */
static void insert(struct cy_farm *farm, struct cy_thing *thing)
{
    size_t at = count_before(farm, place_of(thing));
    memmove(farm->things + at + 1, farm->things + at, (farm->count - at) * sizeof *farm->things);
    farm->things[at] = thing;
    farm->count++;
}

static void take_out(struct cy_farm *farm, const struct cy_thing *thing)
{
    size_t at = count_before(farm, place_of(thing));
    farm->count--;
    memmove(farm->things + at, farm->things + at + 1, (farm->count - at) * sizeof *farm->things);
}

/* ---- looking up ----------------------------------------------------------------------------- */

static struct cy_thing *find(const struct cy_farm *farm, int64_t id)
{
    struct cy_thing *thing = farm->buckets ? *id_bucket(farm, id) : NULL;
    while (thing && thing->id != id)
        thing = thing->same_id_bucket;
    return thing;
}

const struct cy_thing *cy_farm_by_id(const struct cy_farm *farm, int64_t id)
{
    return find(farm, id);
}

const struct cy_thing *cy_farm_by_key(const struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                                      const char *key)
{
    const struct cy_thing *thing = farm->buckets ? *key_bucket(farm, kind, parent, key) : NULL;
    while (thing && !(thing->kind == kind && thing->parent == parent && cy_streq(thing->key, key)))
        thing = thing->same_key_bucket;
    return thing;
}

/* The first thing at or after a position that is of the kind and parent and not retired. */
static const struct cy_thing *standing_from(const struct cy_farm *farm, size_t at,
                                            enum cy_kind kind, int64_t parent)
{
    for (; at < farm->count; at++) {
        const struct cy_thing *thing = farm->things[at];
        if (thing->kind != kind || thing->parent != parent)
            return NULL;
        if (!thing->retired)
            return thing;
    }
    return NULL;
}

const struct cy_thing *cy_farm_next(const struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                                    const struct cy_thing *after)
{
    struct place place = {kind, parent, INT_MIN, INT64_MIN};
    size_t at = count_before(farm, after ? place_of(after) : place);
    return standing_from(farm, after ? at + 1 : at, kind, parent);
}

const struct cy_thing *cy_farm_one(const struct cy_farm *farm, enum cy_kind kind)
{
    return cy_farm_next(farm, kind, 0, NULL);
}

int cy_farm_count(const struct cy_farm *farm, enum cy_kind kind, int64_t parent)
{
    size_t at = count_before(farm, (struct place){kind, parent, INT_MIN, INT64_MIN});
    int count = 0;
    for (; at < farm->count && farm->things[at]->kind == kind && farm->things[at]->parent == parent;
         at++)
        count += !farm->things[at]->retired;
    return count;
}

/* ---- keys ----------------------------------------------------------------------------------- */

static bool is_key_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

bool cy_key_valid(const char *key, size_t length)
{
    if (length < 1 || length > KEY_LONGEST || !is_key_letter(key[0]))
        return false;
    for (size_t i = 1; i < length; i++)
        if (!is_key_letter(key[i]) && key[i] != '-')
            return false;
    return true;
}

/* Lower-case letters and digits, whatever stands between them as one "-"; at most `longest`. */
static void add_slug(struct cy_text *key, const char *name, size_t longest)
{
    bool gap = false;
    for (; *name; name++) {
        char c = *name >= 'A' && *name <= 'Z' ? (char)(*name - 'A' + 'a') : *name;
        if (!is_key_letter(c)) {
            gap = key->length > 0;
            continue;
        }
        if (key->length + gap + 1 > longest)
            return;
        if (gap)
            cy_text_add_char(key, '-');
        cy_text_add_char(key, c);
        gap = false;
    }
}

static bool has_letters(const char *name)
{
    struct cy_text slug = {0};
    add_slug(&slug, name, 1);
    bool has = slug.length > 0;
    cy_text_dispose(&slug);
    return has;
}

/* The try-th key of a thing: "name", "name-2", "name-3"; or "row-3", "row-4". */
static void add_key(struct cy_text *key, enum cy_kind kind, const char *name, int number, int try)
{
    static const char *const months[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                         "jul", "aug", "sep", "oct", "nov", "dec"};
    struct cy_text suffix = {0};
    if (!name && kind == CY_KIND_MONTH && number < 12 && try == 0) {
        cy_text_add(key, months[number]);
    } else if (!name) {
        cy_text_add(key, cy_kind_info(kind)->word);
        cy_text_add_char(&suffix, '-');
        cy_text_add_int(&suffix, (long long)number + 1 + try);
    } else {
        if (try > 0) {
            cy_text_add_char(&suffix, '-');
            cy_text_add_int(&suffix, (long long)try + 1);
        }
        add_slug(key, name, KEY_LONGEST - suffix.length);
    }
    cy_text_add(key, cy_text_get(&suffix));
    key->failed = key->failed || suffix.failed;
    cy_text_dispose(&suffix);
}

/* What a key is made for. */
struct bearer {
    const struct cy_farm *farm;
    enum cy_kind kind;
    int64_t parent;
    const char *name;
    int number;
};

static bool is_taken(const struct bearer *bearer, struct cy_text *key, int try)
{
    cy_text_clear(key);
    add_key(key, bearer->kind, bearer->name, bearer->number, try);
    return !key->failed &&
           cy_farm_by_key(bearer->farm, bearer->kind, bearer->parent, cy_text_get(key));
}

/* A key that nothing else has; the caller frees it. NULL without memory. The first free number is
 * closed in on from both sides, so that ten thousand things of one name are no trouble. */
static char *free_key(struct bearer bearer)
{
    struct cy_text key = {0};
    if (bearer.name && !has_letters(bearer.name))
        bearer.name = NULL;
    int taken = -1, open = 0;
    while (is_taken(&bearer, &key, open)) {
        taken = open;
        open = open * 2 + 1;
    }
    while (open - taken > 1) {
        int middle = taken + (open - taken) / 2;
        if (is_taken(&bearer, &key, middle))
            taken = middle;
        else
            open = middle;
    }
    is_taken(&bearer, &key, open); /* spells it again */
    char *copy = key.failed ? NULL : cy_strdup(cy_text_get(&key));
    cy_text_dispose(&key);
    return copy;
}

/* ---- things --------------------------------------------------------------------------------- */

static void thing_free(struct cy_thing *thing)
{
    if (!thing)
        return;
    for (int i = 0; thing->values && i < cy_kind_info(thing->kind)->field_count; i++)
        cy_value_dispose(&thing->values[i]);
    free(thing->values);
    free(thing->key);
    free(thing);
}

static int next_order(const struct cy_farm *farm, enum cy_kind kind, int64_t parent)
{
    size_t end = count_before(farm, (struct place){kind, parent, INT_MAX, INT64_MAX});
    const struct cy_thing *last = end > 0 ? farm->things[end - 1] : NULL;
    bool alike = last && last->kind == kind && last->parent == parent;
    return !alike ? 0 : last->order < INT_MAX ? last->order + 1 : INT_MAX;
}

static bool may_stand(const struct cy_farm *farm, enum cy_kind kind, int64_t parent, int64_t id)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    if (!info || (id != 0 && find(farm, id)))
        return false;
    if (info->parent == CY_KIND_NONE)
        return parent == 0 && !(info->shape == CY_SHAPE_ONE && cy_farm_one(farm, kind));
    const struct cy_thing *above = find(farm, parent);
    return above && above->kind == info->parent;
}

static int64_t take_id(struct cy_farm *farm, int64_t id)
{
    if (id == 0)
        return farm->next_id++;
    if (id < CY_LENT_ID && id >= farm->next_id)
        farm->next_id = id + 1;
    if (id >= farm->next_lent_id)
        farm->next_lent_id = id + 1;
    return id;
}

struct cy_thing *cy_farm_add(struct cy_farm *farm, enum cy_kind kind, int64_t parent,
                             const char *key, const char *name, int64_t id)
{
    if (!may_stand(farm, kind, parent, id))
        return NULL;
    if (key && (!cy_key_valid(key, strlen(key)) || cy_farm_by_key(farm, kind, parent, key)))
        return NULL;
    if (!reserve_buckets(farm) ||
        !cy_grow(&farm->things, &farm->capacity, farm->count, sizeof *farm->things))
        return NULL;
    struct cy_thing *thing = cy_zeroed(1, sizeof *thing);
    if (!thing)
        return NULL;
    thing->kind = kind;
    thing->parent = parent;
    thing->order = next_order(farm, kind, parent);
    thing->key =
        key ? cy_strdup(key) : free_key((struct bearer){farm, kind, parent, name, thing->order});
    thing->values = cy_zeroed((size_t)cy_kind_info(kind)->field_count, sizeof *thing->values);
    if (!thing->key || !thing->values) {
        thing_free(thing);
        return NULL;
    }
    thing->id = take_id(farm, id);
    insert(farm, thing);
    index_thing(farm, thing);
    return thing;
}

static void remove_one(struct cy_farm *farm, struct cy_thing *thing)
{
    take_out(farm, thing);
    unindex_thing(farm, thing);
    thing_free(thing);
}

static void remove_children(struct cy_farm *farm, const struct cy_thing *thing)
{
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        if (cy_kind_info((enum cy_kind)kind)->parent != thing->kind)
            continue;
        struct place first = {(enum cy_kind)kind, thing->id, INT_MIN, INT64_MIN};
        size_t at = count_before(farm, first);
        while (at < farm->count && farm->things[at]->kind == first.kind &&
               farm->things[at]->parent == thing->id)
            remove_one(farm, farm->things[at]);
    }
}

void cy_farm_remove(struct cy_farm *farm, int64_t id)
{
    struct cy_thing *thing = find(farm, id);
    if (!thing || cy_kind_info(thing->kind)->shape == CY_SHAPE_ONE)
        return;
    remove_children(farm, thing);
    remove_one(farm, thing);
}

void cy_farm_reorder(struct cy_farm *farm, int64_t id, int order)
{
    struct cy_thing *thing = find(farm, id);
    if (!thing)
        return;
    take_out(farm, thing);
    thing->order = order;
    insert(farm, thing);
}

void cy_farm_retire(struct cy_farm *farm, int64_t id, bool retired)
{
    struct cy_thing *thing = find(farm, id);
    if (thing && cy_kind_info(thing->kind)->shape != CY_SHAPE_ONE)
        thing->retired = retired;
}

int cy_farm_set(struct cy_farm *farm, int64_t id, enum cy_field field, const struct cy_value *value)
{
    struct cy_thing *thing = find(farm, id);
    const struct cy_field_info *info = cy_field_info(field);
    if (!thing || !info || info->kind != thing->kind)
        return CY_INVALID;
    struct cy_value copy = {0};
    if (value->set && !cy_value_copy(&copy, value))
        return CY_NO_MEMORY;
    struct cy_value *slot = &thing->values[field - cy_kind_info(thing->kind)->first_field];
    cy_value_dispose(slot);
    *slot = copy;
    return CY_OK;
}

/* ---- whole farms ---------------------------------------------------------------------------- */

int cy_farm_init(struct cy_farm *out)
{
    *out = (struct cy_farm){.next_id = 1, .next_lent_id = CY_LENT_ID};
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        const struct cy_kind_info *info = cy_kind_info((enum cy_kind)kind);
        if (info->shape == CY_SHAPE_ONE &&
            !cy_farm_add(out, (enum cy_kind)kind, 0, info->word, NULL, 0)) {
            cy_farm_dispose(out);
            return CY_NO_MEMORY;
        }
    }
    out->next_id = FIRST_FREE_ID;
    return CY_OK;
}

void cy_farm_dispose(struct cy_farm *farm)
{
    for (size_t i = 0; i < farm->count; i++)
        thing_free(farm->things[i]);
    free(farm->things);
    free(farm->by_id);
    free(farm->by_key);
    *farm = (struct cy_farm){0};
}

static bool copy_values(struct cy_thing *out, const struct cy_thing *from)
{
    for (int i = 0; i < cy_kind_info(from->kind)->field_count; i++)
        if (from->values[i].set && !cy_value_copy(&out->values[i], &from->values[i]))
            return false;
    return true;
}

/* Kinds stand behind the kind of their parents in the table, so parents are there in time. */
int cy_farm_copy(struct cy_farm *out, const struct cy_farm *farm)
{
    *out = (struct cy_farm){.next_id = farm->next_id, .next_lent_id = farm->next_lent_id};
    for (size_t i = 0; i < farm->count; i++) {
        const struct cy_thing *from = farm->things[i];
        struct cy_thing *thing =
            cy_farm_add(out, from->kind, from->parent, from->key, NULL, from->id);
        if (!thing || !copy_values(thing, from)) {
            cy_farm_dispose(out);
            return CY_NO_MEMORY;
        }
        thing->catalogue = from->catalogue;
        thing->retired = from->retired;
        thing->order = from->order; /* added in order, so it stays sorted */
    }
    return CY_OK;
}

/* Fills the empty fields of a thing with another's. */
static bool lend_values(struct cy_thing *out, const struct cy_thing *from)
{
    for (int i = 0; i < cy_kind_info(from->kind)->field_count; i++) {
        if (out->values[i].set || !from->values[i].set)
            continue;
        if (!cy_value_copy(&out->values[i], &from->values[i]))
            return false;
        out->values[i].lent = true;
    }
    return true;
}

/* A thing as lent under a parent: the farm's own of that key with its gaps filled, or a new one. */
static struct cy_thing *lend_thing(struct cy_farm *farm, int64_t parent,
                                   const struct cy_thing *from)
{
    const struct cy_thing *own = cy_farm_by_key(farm, from->kind, parent, from->key);
    struct cy_thing *thing =
        own ? find(farm, own->id)
            : cy_farm_add(farm, from->kind, parent, from->key, NULL, farm->next_lent_id);
    if (!thing)
        return NULL;
    thing->catalogue = thing->catalogue || !own;
    return lend_values(thing, from) ? thing : NULL;
}

static bool lend_children(struct cy_farm *farm, const struct cy_thing *to,
                          const struct cy_farm *catalogue, const struct cy_thing *from)
{
    for (int i = 0; i < CY_KIND_COUNT; i++) {
        enum cy_kind kind = (enum cy_kind)i;
        if (cy_kind_info(kind)->parent != from->kind || cy_farm_count(farm, kind, to->id) > 0)
            continue;
        const struct cy_thing *child = NULL;
        while ((child = cy_farm_next(catalogue, kind, from->id, child)))
            if (!lend_thing(farm, to->id, child))
                return false;
    }
    return true;
}

int cy_farm_lend(struct cy_farm *farm, const struct cy_farm *catalogue)
{
    for (size_t i = 0; i < catalogue->count; i++) {
        const struct cy_thing *from = catalogue->things[i];
        const struct cy_kind_info *info = cy_kind_info(from->kind);
        if (info->shape != CY_SHAPE_LIST || info->parent != CY_KIND_NONE || from->retired)
            continue;
        const struct cy_thing *to = lend_thing(farm, 0, from);
        if (!to || !lend_children(farm, to, catalogue, from))
            return CY_NO_MEMORY;
    }
    return CY_OK;
}
