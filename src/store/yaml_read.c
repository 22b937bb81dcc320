/* SPDX-License-Identifier: MIT
 * YAML to a farm, driven by the table of fields. */
#include "store/yaml.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <caneyear/base/array.h>

#include "store/yaml_reader.h"
#include "store/yaml_tree.h"

/* What stands behind a value that does not say so itself; the source is borrowed. */
struct behind {
    cy_basis basis;
    const char *source;
};

/* ---- complaints ----------------------------------------------------------------------------- */

static size_t issue_total(const struct cy_issues *issues)
{
    return issues->count + issues->dropped;
}

static void add_spot(struct cy_reader *r, int64_t thing, enum cy_field field, int line, int column)
{
    if (!cy_grow(&r->spots, &r->spot_capacity, r->spot_count, sizeof *r->spots)) {
        r->no_memory = true;
        return;
    }
    r->spots[r->spot_count++] = (struct cy_spot){
        .file = r->file, .thing = thing, .field = field, .line = line, .column = column};
}

/* The spot added last, since a thing's are looked up while it is read. */
static struct cy_spot *find_spot(const struct cy_reader *r, int64_t thing, enum cy_field field)
{
    for (size_t i = r->spot_count; i > 0; i--) {
        if (r->spots[i - 1].thing == thing && r->spots[i - 1].field == field)
            return &r->spots[i - 1];
    }
    return NULL;
}

/* Gives an issue its place, and its thing (0: none) a bad name. */
static void place_issue(struct cy_reader *r, struct cy_issue *issue, int64_t thing,
                        enum cy_field field, int line, int column)
{
    cy_copy(issue->file, sizeof issue->file, r->file);
    issue->line = line;
    issue->column = column;
    issue->thing_id = thing;
    issue->field_id = field;
    if (field != CY_FIELD_NONE)
        cy_copy(issue->field, sizeof issue->field, cy_field_info(field)->name);
    struct cy_spot *spot = thing ? find_spot(r, thing, CY_FIELD_NONE) : NULL;
    if (spot) {
        struct cy_text name = {0};
        cy_thing_print(&name, &r->farm, cy_farm_by_id(&r->farm, thing));
        cy_copy(issue->thing, sizeof issue->thing, cy_text_get(&name));
        cy_text_dispose(&name);
        spot->bad = true;
    }
}

static struct cy_issue *complain(struct cy_reader *r, enum cy_issue_code code, int64_t thing,
                                 enum cy_field field, const struct cy_node *node, const char *found,
                                 const char *allowed)
{
    struct cy_issue *issue = cy_issue_add(r->issues, code);
    place_issue(r, issue, thing, field, node->line, node->column);
    cy_copy(issue->found, sizeof issue->found, found);
    cy_copy(issue->allowed, sizeof issue->allowed, allowed);
    return issue;
}

/* The same about a key that belongs to no field of the table. */
static void complain_key(struct cy_reader *r, enum cy_issue_code code, int64_t thing,
                         const struct cy_node *node, const char *found, const char *allowed)
{
    struct cy_issue *issue = complain(r, code, thing, CY_FIELD_NONE, node, found, allowed);
    cy_copy(issue->field, sizeof issue->field, node->key ? node->key : "");
}

/* ---- unknown keys --------------------------------------------------------------------------- */

/* What may stand in a mapping: its fields, lists inside it, and the words of the format. */
struct names {
    const char *items[64];
    int count;
};

static void add_name(struct names *names, const char *name)
{
    if (names->count < (int)(sizeof names->items / sizeof *names->items))
        names->items[names->count++] = name;
}

static void add_sections(struct names *names, enum cy_kind parent)
{
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        if (cy_kind_info(kind)->parent == parent)
            add_name(names, cy_kind_info(kind)->section);
    }
}

static void add_kind_names(struct names *names, enum cy_kind kind)
{
    const struct cy_kind_info *info = cy_kind_info(kind);
    if (info->shape != CY_SHAPE_ONE)
        add_name(names, "key");
    for (int i = 0; i < info->field_count; i++)
        add_name(names, cy_field_info(info->first_field + i)->name);
    add_sections(names, kind);
    add_name(names, "basis");
    add_name(names, "source");
    if (info->shape != CY_SHAPE_ONE)
        add_name(names, "retired");
}

/* One or two letters off, but never most of a short word. */
static const char *nearest_name(const struct names *names, const char *found)
{
    const char *nearest = NULL;
    int best = strlen(found) < 4 ? 2 : 3;
    for (int i = 0; i < names->count; i++) {
        int distance = cy_edit_distance(found, names->items[i], best);
        if (distance < best) {
            best = distance;
            nearest = names->items[i];
        }
    }
    return nearest;
}

static void list_names(struct cy_text *out, const struct names *names)
{
    for (int i = 0; i < names->count; i++) {
        size_t left = i + 1 < names->count ? strlen(", ...") : 0;
        if (out->length + 2 + strlen(names->items[i]) + left >= CY_ISSUE_TEXT) {
            cy_text_add(out, ", ...");
            return;
        }
        cy_text_add(out, i ? ", " : "");
        cy_text_add(out, names->items[i]);
    }
}

static bool is_users_own(const char *key)
{
    return strncmp(key, "x-", 2) == 0;
}

static void check_keys(struct cy_reader *r, int64_t thing, const struct cy_node *mapping,
                       const struct names *names)
{
    for (const struct cy_node *node = mapping->first; node; node = node->next) {
        int i = 0;
        while (i < names->count && !cy_streq(node->key, names->items[i]))
            i++;
        if (i < names->count || is_users_own(node->key))
            continue;
        const char *nearest = nearest_name(names, node->key);
        struct cy_text all = {0};
        list_names(&all, names);
        struct cy_issue *issue = complain(r, CY_ISSUE_UNKNOWN_KEY, thing, CY_FIELD_NONE, node,
                                          node->key, nearest ? nearest : cy_text_get(&all));
        issue->line = node->key_line;
        issue->column = node->key_column;
        cy_text_dispose(&all);
    }
}

/* ---- values --------------------------------------------------------------------------------- */

/* The text of a key of the format itself; NULL, complained of, where it is none. */
static const char *word_of(struct cy_reader *r, int64_t thing, const struct cy_node *node)
{
    if (node->shape == CY_NODE_VALUE && !cy_node_is_empty(node))
        return node->text;
    complain_key(r, CY_ISSUE_WRONG_SHAPE, thing, node, cy_node_shape_word(node), "a value");
    return NULL;
}

static void complain_basis(struct cy_reader *r, int64_t thing, const struct cy_node *node)
{
    struct names names = {0};
#define BASIS(name, word) add_name(&names, word);
    CY_BASES(BASIS)
#undef BASIS
    struct cy_text all = {0};
    list_names(&all, &names);
    complain_key(r, CY_ISSUE_BAD_CHOICE, thing, node, node->text, cy_text_get(&all));
    cy_text_dispose(&all);
}

/* The basis and source written in a mapping, or what is handed down to it. A basis of its own
 * puts an end to the source above it; a source alone keeps the basis. */
static struct behind read_behind(struct cy_reader *r, int64_t thing, const struct cy_node *mapping,
                                 struct behind above)
{
    struct behind behind = above;
    const struct cy_node *node = cy_node_get(mapping, "basis");
    const char *word = node ? word_of(r, thing, node) : NULL;
    if (word) {
        behind = (struct behind){.basis = cy_basis_parse(word, strlen(word))};
        if (behind.basis == CY_BASIS_NONE)
            complain_basis(r, thing, node);
    }
    node = cy_node_get(mapping, "source");
    if (node)
        behind.source = word_of(r, thing, node);
    return behind;
}

static void set_value(struct cy_reader *r, int64_t thing, enum cy_field field,
                      const struct cy_node *node, struct behind behind)
{
    struct cy_value value = {0};
    size_t before = r->issues->count;
    int status = cy_value_parse(&value, field, node->text, strlen(node->text), r->issues);
    if (status == CY_INVALID) {
        struct cy_issue *issue =
            r->issues->count > before ? &r->issues->items[before] : &r->issues->scratch;
        place_issue(r, issue, thing, field, node->line, node->column);
        return;
    }
    value.basis = behind.basis;
    if (status == CY_OK && behind.source)
        value.source = cy_strdup(behind.source);
    if (status != CY_OK || (behind.source && !value.source) ||
        cy_farm_set(&r->farm, thing, field, &value) != CY_OK)
        r->no_memory = true;
    cy_value_dispose(&value);
}

static void read_field(struct cy_reader *r, int64_t thing, enum cy_field field,
                       const struct cy_node *node, struct behind behind)
{
    static const struct names long_form = {.items = {"value", "basis", "source"}, .count = 3};
    const struct cy_node *value = node;
    if (node->shape == CY_NODE_MAPPING) {
        check_keys(r, thing, node, &long_form);
        behind = read_behind(r, thing, node, behind);
        value = cy_node_get(node, "value");
    }
    if (!value) {
        complain(r, CY_ISSUE_WRONG_SHAPE, thing, field, node, "a mapping without the key value",
                 "{value: ..., basis: ..., source: ...}");
        return;
    }
    add_spot(r, thing, field, value->line, value->column);
    if (value->shape != CY_NODE_VALUE || cy_node_is_empty(value))
        complain(r, CY_ISSUE_WRONG_SHAPE, thing, field, value, cy_node_shape_word(value),
                 "a value");
    else
        set_value(r, thing, field, value, behind);
}

/* ---- things --------------------------------------------------------------------------------- */

static void read_section(struct cy_reader *r, const struct cy_node *node, enum cy_kind kind,
                         int64_t parent, struct behind behind);

/* Everything in a thing's mapping but its key. */
static void fill_thing(struct cy_reader *r, int64_t thing, enum cy_kind kind,
                       const struct cy_node *node, struct behind behind)
{
    struct names names = {0};
    add_kind_names(&names, kind);
    check_keys(r, thing, node, &names);
    behind = read_behind(r, thing, node, behind);
    for (const struct cy_node *child = node->first; child; child = child->next) {
        enum cy_field field = cy_field_named(kind, child->key, strlen(child->key));
        if (field != CY_FIELD_NONE)
            read_field(r, thing, field, child, behind);
    }
    for (const struct cy_node *child = node->first; child; child = child->next) {
        enum cy_kind inside = cy_kind_of_section(child->key, strlen(child->key), kind);
        if (inside != CY_KIND_NONE)
            read_section(r, child, inside, thing, behind);
    }
}

/* Adds a thing that has no key of its own: it is made from the name, where there is one. */
static const struct cy_thing *add_keyless(struct cy_reader *r, const struct cy_node *item,
                                          enum cy_kind kind, int64_t parent)
{
    const struct cy_node *name = cy_node_get(item, "name");
    bool named = name && name->shape == CY_NODE_VALUE &&
                 cy_field_named(kind, "name", strlen("name")) != CY_FIELD_NONE;
    return cy_farm_add(&r->farm, kind, parent, NULL, named ? name->text : NULL, 0);
}

/* Complains of a key that is none or that is taken; true if it can be used. */
static bool check_key(struct cy_reader *r, const struct cy_node *key, enum cy_kind kind,
                      int64_t parent)
{
    const char *text = word_of(r, 0, key);
    if (!text)
        return false;
    if (!cy_key_valid(text, strlen(text))) {
        complain_key(r, CY_ISSUE_BAD_KEY, 0, key, text,
                     "1 to 40 of a-z, 0-9 and -, beginning with a letter or digit");
        return false;
    }
    const struct cy_thing *taken = cy_farm_by_key(&r->farm, kind, parent, text);
    const struct cy_spot *spot = taken ? find_spot(r, taken->id, CY_FIELD_NONE) : NULL;
    if (!taken)
        return true;
    struct cy_text line = {0};
    if (spot)
        cy_text_add_int(&line, spot->line);
    complain_key(r, CY_ISSUE_DUPLICATE_KEY, 0, key, text, cy_text_get(&line));
    cy_text_dispose(&line);
    return false;
}

static bool read_retired(struct cy_reader *r, int64_t thing, const struct cy_node *item)
{
    const struct cy_node *node = cy_node_get(item, "retired");
    const char *word = node ? word_of(r, thing, node) : NULL;
    if (word && !cy_streq(word, "yes") && !cy_streq(word, "no"))
        complain_key(r, CY_ISSUE_BAD_CHOICE, thing, node, word, "yes or no");
    return word && cy_streq(word, "yes");
}

/* Returns the thing's id, or 0. */
static int64_t read_item(struct cy_reader *r, const struct cy_node *item, enum cy_kind kind,
                         int64_t parent, struct behind behind)
{
    if (item->shape != CY_NODE_MAPPING) {
        complain(r, CY_ISSUE_WRONG_SHAPE, 0, CY_FIELD_NONE, item, cy_node_shape_word(item),
                 "a mapping");
        r->lost = true;
        return 0;
    }
    const struct cy_node *key = cy_node_get(item, "key");
    bool usable = key && check_key(r, key, kind, parent);
    const struct cy_thing *thing = usable ? cy_farm_add(&r->farm, kind, parent, key->text, NULL, 0)
                                          : add_keyless(r, item, kind, parent);
    if (!thing) {
        r->no_memory = true;
        return 0;
    }
    r->lost |= key && !usable;
    int64_t id = thing->id;
    add_spot(r, id, CY_FIELD_NONE, item->line, item->column);
    cy_farm_retire(&r->farm, id, read_retired(r, id, item));
    fill_thing(r, id, kind, item, behind);
    return id;
}

static bool has_key(const struct cy_node *item)
{
    return item->shape == CY_NODE_MAPPING && cy_node_get(item, "key");
}

/* Those with a key come first, so that no key made for another is in their way; then all are put
 * in the order of the file. */
static void read_list(struct cy_reader *r, const struct cy_node *list, enum cy_kind kind,
                      int64_t parent, struct behind behind)
{
    int keyed = 0, before = cy_farm_count(&r->farm, kind, parent);
    for (const struct cy_node *item = list->first; item; item = item->next)
        keyed += has_key(item);
    for (int pass = 0; pass < 2; pass++) {
        int order = before;
        for (const struct cy_node *item = list->first; item && !r->no_memory; item = item->next) {
            int64_t id = 0;
            if (has_key(item) == (pass == 0))
                id = read_item(r, item, kind, parent, behind);
            if (id && keyed > 0 && keyed < list->count)
                cy_farm_reorder(&r->farm, id, order);
            order++;
        }
    }
}

/* A mapping for the one thing of its kind, which has no parent; or the list of those that have. */
static void read_section(struct cy_reader *r, const struct cy_node *node, enum cy_kind kind,
                         int64_t parent, struct behind behind)
{
    bool one = cy_kind_info(kind)->shape == CY_SHAPE_ONE;
    if (one)
        parent = cy_farm_one(&r->farm, kind)->id;
    if (node->shape != (one ? CY_NODE_MAPPING : CY_NODE_LIST)) {
        struct cy_issue *issue = complain(r, CY_ISSUE_WRONG_SHAPE, parent, CY_FIELD_NONE, node,
                                          cy_node_shape_word(node), one ? "a mapping" : "a list");
        cy_copy(issue->field, sizeof issue->field, one ? "" : node->key);
        r->lost = true;
        return;
    }
    if (one) {
        add_spot(r, parent, CY_FIELD_NONE, node->key_line, node->key_column);
        fill_thing(r, parent, kind, node, behind);
        return;
    }
    read_list(r, node, kind, parent, behind);
}

/* ---- files ---------------------------------------------------------------------------------- */

/* True if the sections can be read: a file of a later version would only make noise. */
static bool check_version(struct cy_reader *r, const struct cy_node *root)
{
    const struct cy_node *version = cy_node_get(root, "caneyear");
    if (!version) {
        struct cy_issue *issue =
            complain(r, CY_ISSUE_MISSING, 0, CY_FIELD_NONE, root, "", "caneyear: " CY_YAML_VERSION);
        cy_copy(issue->field, sizeof issue->field, "caneyear");
        return true;
    }
    const char *word = word_of(r, 0, version);
    if (!word || cy_streq(word, CY_YAML_VERSION))
        return true;
    complain_key(r, CY_ISSUE_BAD_VERSION, 0, version, word, CY_YAML_VERSION);
    return false;
}

static void read_root(struct cy_reader *r, const struct cy_node *root)
{
    if (root->shape != CY_NODE_MAPPING) {
        complain(r, CY_ISSUE_WRONG_SHAPE, 0, CY_FIELD_NONE, root, cy_node_shape_word(root),
                 "a mapping");
        return;
    }
    if (!check_version(r, root))
        return;
    /* Where to point when a section that must be there is not. */
    for (int kind = 0; kind < CY_KIND_COUNT; kind++) {
        if (cy_kind_info(kind)->shape == CY_SHAPE_ONE && !r->no_memory)
            add_spot(r, cy_farm_one(&r->farm, kind)->id, CY_FIELD_NONE, root->line, root->column);
    }
    struct names names = {.items = {"caneyear"}, .count = 1};
    add_sections(&names, CY_KIND_NONE);
    size_t before = issue_total(r->issues);
    check_keys(r, 0, root, &names);
    if (issue_total(r->issues) > before) { /* a section misspelt: what it holds is not missing */
        r->lost = true;
        for (size_t i = 0; i < r->spot_count; i++)
            r->spots[i].bad = true;
    }
    for (const struct cy_node *node = root->first; node && !r->no_memory; node = node->next) {
        enum cy_kind kind = cy_kind_of_section(node->key, strlen(node->key), CY_KIND_NONE);
        if (kind != CY_KIND_NONE)
            read_section(r, node, kind, 0, (struct behind){.basis = CY_BASIS_GROWER});
    }
}

int cy_reader_init(struct cy_reader *reader, struct cy_issues *issues)
{
    *reader = (struct cy_reader){.issues = issues};
    return cy_farm_init(&reader->farm);
}

void cy_reader_dispose(struct cy_reader *reader)
{
    cy_farm_dispose(&reader->farm);
    free(reader->spots);
    *reader = (struct cy_reader){0};
}

void cy_reader_add_bytes(struct cy_reader *reader, const char *name, const char *bytes,
                         size_t length)
{
    struct cy_node *root;
    size_t before = issue_total(reader->issues);
    reader->file = name;
    if (cy_tree_read(&root, name, bytes, length, reader->issues) == CY_NO_MEMORY)
        reader->no_memory = true;
    if (root)
        read_root(reader, root);
    cy_tree_free(root);
    reader->lost |= !root && issue_total(reader->issues) > before;
}

/* The bytes of a regular file, one more than the cap at most; NULL with a reason. */
static char *read_bytes(const char *path, size_t *length, const char **reason)
{
    struct stat about;
    char *bytes = NULL;
    *length = 0;
    *reason = NULL;
    int file =
        open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY); /* never waits for a pipe */
    if (file < 0 || fstat(file, &about) != 0)
        *reason = strerror(errno);
    else if (!S_ISREG(about.st_mode))
        *reason = S_ISDIR(about.st_mode) ? "it is a folder" : "it is not a regular file";
    else if (!(bytes = malloc(CY_YAML_BYTES + 1)))
        *reason = "out of memory";
    while (bytes && *length < CY_YAML_BYTES + 1) {
        ssize_t got = read(file, bytes + *length, CY_YAML_BYTES + 1 - *length);
        if (got == 0)
            break;
        if (got > 0) {
            *length += (size_t)got;
        } else if (errno != EINTR) {
            *reason = strerror(errno);
            free(bytes);
            bytes = NULL;
        }
    }
    if (file >= 0)
        close(file);
    return bytes;
}

void cy_reader_add_file(struct cy_reader *reader, const char *path)
{
    size_t length;
    const char *reason;
    char *bytes = read_bytes(path, &length, &reason);
    if (bytes) {
        cy_reader_add_bytes(reader, path, bytes, length);
    } else {
        cy_issue_say(reader->issues, CY_ISSUE_NOT_READABLE, NULL, NULL, reason, NULL);
        struct cy_issues *issues = reader->issues;
        struct cy_issue *issue =
            issues->dropped ? &issues->scratch : &issues->items[issues->count - 1];
        cy_copy(issue->file, sizeof issue->file, path);
        reader->lost = true;
    }
    free(bytes);
}

/* ---- the farm as a whole -------------------------------------------------------------------- */

/* A problem that only follows from one that was already named says nothing new. */
static bool is_news(const struct cy_reader *r, const struct cy_issue *issue)
{
    if (issue->code == CY_ISSUE_BAD_REFERENCE)
        return !r->lost;
    const struct cy_spot *spot = find_spot(r, issue->thing_id, CY_FIELD_NONE);
    return !spot || !spot->bad;
}

void cy_reader_check(struct cy_reader *reader, enum cy_issue_code only)
{
    struct cy_issues found = {0};
    if (cy_farm_check(&reader->farm, &found) == CY_NO_MEMORY)
        reader->no_memory = true;
    for (size_t i = 0; i < found.count; i++) {
        struct cy_issue *issue = &found.items[i];
        if ((only != CY_ISSUE_COUNT && issue->code != only) || !is_news(reader, issue))
            continue;
        const struct cy_spot *spot = find_spot(reader, issue->thing_id, issue->field_id);
        if (!spot)
            spot = find_spot(reader, issue->thing_id, CY_FIELD_NONE);
        if (spot) {
            cy_copy(issue->file, sizeof issue->file, spot->file);
            issue->line = spot->line;
            issue->column = spot->column;
        }
        *cy_issue_add(reader->issues, issue->code) = *issue;
    }
    if (only == CY_ISSUE_COUNT && !reader->lost)
        reader->issues->dropped += found.dropped;
}

/* The order of the file, whatever found them. */
static void sort_issues(struct cy_issues *issues, size_t first)
{
    for (size_t i = first + 1; i < issues->count; i++) {
        struct cy_issue issue = issues->items[i];
        size_t at = i;
        for (; at > first; at--) {
            const struct cy_issue *before = &issues->items[at - 1];
            if (before->line < issue.line ||
                (before->line == issue.line && before->column <= issue.column))
                break;
            issues->items[at] = *before;
        }
        issues->items[at] = issue;
    }
}

/* Hands over the farm, or its problems. */
static int finish(struct cy_farm *out, struct cy_reader *reader, const struct cy_farm *catalogue,
                  size_t problems, size_t first)
{
    bool checked = !reader->no_memory && reader->spot_count > 0;
    if (checked && catalogue && cy_farm_lend(&reader->farm, catalogue) != CY_OK)
        reader->no_memory = true;
    if (checked && !reader->no_memory)
        cy_reader_check(reader, CY_ISSUE_COUNT);
    int status = CY_OK;
    if (reader->no_memory) {
        cy_issue_say(reader->issues, CY_ISSUE_NO_MEMORY, NULL, NULL, NULL, NULL);
        status = CY_NO_MEMORY;
    } else if (issue_total(reader->issues) > problems) {
        sort_issues(reader->issues, first);
        status = CY_INVALID;
    } else {
        *out = reader->farm;
        reader->farm = (struct cy_farm){0};
    }
    cy_reader_dispose(reader);
    return status;
}

int cy_yaml_read(struct cy_farm *out, const char *path, const struct cy_farm *catalogue,
                 struct cy_issues *issues)
{
    struct cy_issues unheard = {0};
    struct cy_reader reader;
    issues = issues ? issues : &unheard;
    size_t problems = issue_total(issues), first = issues->count;
    *out = (struct cy_farm){0};
    if (cy_reader_init(&reader, issues) == CY_OK)
        cy_reader_add_file(&reader, path);
    else
        reader.no_memory = true;
    return finish(out, &reader, catalogue, problems, first);
}

int cy_yaml_parse(struct cy_farm *out, const char *name, const char *bytes, size_t length,
                  const struct cy_farm *catalogue, struct cy_issues *issues)
{
    struct cy_issues unheard = {0};
    struct cy_reader reader;
    issues = issues ? issues : &unheard;
    size_t problems = issue_total(issues), first = issues->count;
    *out = (struct cy_farm){0};
    if (cy_reader_init(&reader, issues) == CY_OK)
        cy_reader_add_bytes(&reader, name, bytes, length);
    else
        reader.no_memory = true;
    return finish(out, &reader, catalogue, problems, first);
}
