/* SPDX-License-Identifier: MIT
 * Addresses of things and fields: "row.north-1.spacing", "trellis.tall.wire.top.height". */
#include <caneyear/season/farm.h>

#include <string.h>

/* How far a word may be from the one that was meant. */
enum { NEAR = 2 };

/* ---- printing ------------------------------------------------------------------------------- */

/* "row.north-1" or "row north-1"; a ONE kind is its word alone. */
static void add_thing(struct cy_text *text, const struct cy_farm *farm,
                      const struct cy_thing *thing, char between)
{
    const struct cy_kind_info *info = cy_kind_info(thing->kind);
    const struct cy_thing *parent = cy_farm_by_id(farm, thing->parent);
    if (parent) {
        add_thing(text, farm, parent, between);
        cy_text_add_char(text, between);
    }
    cy_text_add(text, info->word);
    if (info->shape != CY_SHAPE_ONE) {
        cy_text_add_char(text, between);
        cy_text_add(text, thing->key);
    }
}

void cy_farm_print_address(struct cy_text *text, const struct cy_farm *farm,
                           const struct cy_thing *thing, enum cy_field field)
{
    const struct cy_field_info *info = cy_field_info(field);
    add_thing(text, farm, thing, '.');
    if (info) {
        cy_text_add_char(text, '.');
        cy_text_add(text, info->name);
    }
}

void cy_thing_print(struct cy_text *text, const struct cy_farm *farm, const struct cy_thing *thing)
{
    add_thing(text, farm, thing, ' ');
}

/* ---- reading -------------------------------------------------------------------------------- */

struct part {
    const char *text;
    size_t length;
};

struct reader {
    const struct cy_farm *farm;
    const char *address, *rest;
    const struct cy_thing *thing; /* the last one met */
    enum cy_field field;
    struct cy_issues *issues;
};

static struct part peek_part(const struct reader *in)
{
    return (struct part){in->rest, strcspn(in->rest, ".")};
}

/* Passes over a part and the point behind it; a point with nothing behind it is left to be found
 * as an empty part. */
static void pass(struct reader *in, struct part part)
{
    in->rest = part.text + part.length;
    if (in->rest[0] == '.' && in->rest[1] != '\0')
        in->rest++;
}

static int refuse(struct reader *in, enum cy_issue_code code, const char *field,
                  const char *allowed)
{
    if (!in->issues)
        return CY_INVALID;
    struct cy_text thing = {0};
    struct cy_issue *issue = cy_issue_add(in->issues, code);
    if (in->thing)
        cy_thing_print(&thing, in->farm, in->thing);
    cy_copy(issue->thing, sizeof issue->thing, cy_text_get(&thing));
    issue->thing_id = in->thing ? in->thing->id : 0;
    issue->field_id = CY_FIELD_NONE;
    cy_copy(issue->field, sizeof issue->field, field);
    cy_copy(issue->found, sizeof issue->found, in->address);
    cy_copy(issue->allowed, sizeof issue->allowed, allowed);
    cy_text_dispose(&thing);
    return CY_INVALID;
}

static void add_to_list(struct cy_text *list, const char *word)
{
    if (list->length > 0)
        cy_text_add(list, ", ");
    cy_text_add(list, word);
}

static int refuse_kind(struct reader *in)
{
    struct cy_text list = {0};
    for (int kind = 0; kind < CY_KIND_COUNT; kind++)
        if (cy_kind_info((enum cy_kind)kind)->parent == CY_KIND_NONE)
            add_to_list(&list, cy_kind_info((enum cy_kind)kind)->word);
    int status = refuse(in, CY_ISSUE_NO_SUCH_THING, "", cy_text_get(&list));
    cy_text_dispose(&list);
    return status;
}

/* Names the nearest key, or where none is near the first few. */
static int refuse_key(struct reader *in, enum cy_kind kind, int64_t parent, const char *key)
{
    struct cy_text list = {0};
    const struct cy_thing *thing = NULL;
    const char *nearest = NULL;
    int distance = NEAR + 1;
    while ((thing = cy_farm_next(in->farm, kind, parent, thing))) {
        int away = cy_edit_distance(key, thing->key, distance);
        if (away < distance) {
            distance = away;
            nearest = thing->key;
        }
        if (list.length < CY_ISSUE_TEXT)
            add_to_list(&list, thing->key);
    }
    int status = refuse(in, CY_ISSUE_NO_SUCH_THING, "", nearest ? nearest : cy_text_get(&list));
    cy_text_dispose(&list);
    return status;
}

static int refuse_field(struct reader *in, const char *name)
{
    const struct cy_kind_info *info = cy_kind_info(in->thing->kind);
    struct cy_text list = {0};
    const char *nearest = NULL;
    int distance = NEAR + 1;
    for (int i = 0; i < info->field_count; i++) {
        const char *known = cy_field_info((enum cy_field)(info->first_field + i))->name;
        int away = cy_edit_distance(name, known, distance);
        if (away < distance) {
            distance = away;
            nearest = known;
        }
        add_to_list(&list, known);
    }
    int status = refuse(in, CY_ISSUE_NO_SUCH_FIELD, name, nearest ? nearest : cy_text_get(&list));
    cy_text_dispose(&list);
    return status;
}

/* The thing of a kind: alone, or by the key that comes next. */
static int read_thing(struct reader *in, enum cy_kind kind)
{
    char key[64];
    int64_t parent = in->thing ? in->thing->id : 0;
    if (cy_kind_info(kind)->shape == CY_SHAPE_ONE) {
        in->thing = cy_farm_one(in->farm, kind);
        return in->thing ? CY_OK : refuse_kind(in);
    }
    struct part part = peek_part(in);
    cy_copy_n(key, sizeof key, part.text, part.length);
    const struct cy_thing *thing = cy_farm_by_key(in->farm, kind, parent, key);
    if (!thing)
        return refuse_key(in, kind, parent, key);
    in->thing = thing;
    pass(in, part);
    return CY_OK;
}

/* Behind a thing: nothing, one of its fields, or a kind of its children. */
static int read_behind(struct reader *in)
{
    char name[64];
    struct part part = peek_part(in);
    if (*in->rest == '\0')
        return CY_OK;
    enum cy_kind kind = cy_kind_of_word(part.text, part.length);
    if (kind != CY_KIND_NONE && cy_kind_info(kind)->parent == in->thing->kind) {
        pass(in, part);
        int status = read_thing(in, kind);
        return status == CY_OK ? read_behind(in) : status;
    }
    in->field = cy_field_named(in->thing->kind, part.text, part.length);
    if (in->field != CY_FIELD_NONE && part.text[part.length] == '\0')
        return CY_OK;
    cy_copy_n(name, sizeof name, in->rest, strlen(in->rest));
    return refuse_field(in, name);
}

int cy_farm_address(const struct cy_farm *farm, const char *address, int64_t *thing,
                    enum cy_field *field, struct cy_issues *issues)
{
    struct reader in = {farm, address, address, NULL, CY_FIELD_NONE, issues};
    struct part part = peek_part(&in);
    enum cy_kind kind = cy_kind_of_word(part.text, part.length);
    if (kind == CY_KIND_NONE || cy_kind_info(kind)->parent != CY_KIND_NONE)
        return refuse_kind(&in);
    pass(&in, part);
    int status = read_thing(&in, kind);
    if (status == CY_OK)
        status = read_behind(&in);
    if (status == CY_OK) {
        *thing = in.thing->id;
        *field = in.field;
    }
    return status;
}
