/* SPDX-License-Identifier: MIT
 * YAML events to a small tree: no anchors, aliases, tags or directives, and caps on everything. */
#include "store/yaml_tree.h"

#include <stdlib.h>
#include <string.h>
#include <yaml.h>

#include <caneyear/base/array.h>
#include <caneyear/base/text.h>

struct spot {
    int line, column;
};

struct parse {
    const char *name, *bytes;
    size_t length;
    struct cy_issues *issues;
    yaml_parser_t parser;
    yaml_event_t event; /* the only one alive: next() deletes it before it asks for another */
    int events;
    int status;
};

static void complain(struct parse *p, enum cy_issue_code code, struct spot at, const char *found,
                     const char *allowed)
{
    struct cy_issue *issue = cy_issue_add(p->issues, code);
    cy_copy(issue->file, sizeof issue->file, p->name);
    issue->line = at.line;
    issue->column = at.column;
    issue->field_id = -1;
    cy_copy(issue->found, sizeof issue->found, found ? found : "");
    cy_copy(issue->allowed, sizeof issue->allowed, allowed ? allowed : "");
}

/* The same for what ends the reading; always NULL, so that a reader of nodes can return it. */
static struct cy_node *stop(struct parse *p, enum cy_issue_code code, struct spot at,
                            const char *found, const char *allowed)
{
    complain(p, code, at, found, allowed);
    p->status = CY_INVALID;
    return NULL;
}

static struct cy_node *stop_number(struct parse *p, enum cy_issue_code code, struct spot at,
                                   const char *found, int allowed, const char *unit)
{
    struct cy_text text = {0};
    cy_text_add(&text, "up to ");
    cy_text_add_int(&text, allowed);
    cy_text_add(&text, unit);
    stop(p, code, at, found, cy_text_get(&text));
    cy_text_dispose(&text);
    return NULL;
}

static struct spot mark_spot(yaml_mark_t mark)
{
    return (struct spot){(int)mark.line + 1, (int)mark.column + 1};
}

static struct spot event_spot(const struct parse *p)
{
    return mark_spot(p->event.start_mark);
}

/* ---- bytes ---------------------------------------------------------------------------------- */

/* Where the character at byte `offset` stands. */
static struct spot spot_of(const char *bytes, size_t length, size_t offset)
{
    struct spot at = {1, 1};
    size_t used;
    for (size_t i = 0; i < offset && i < length; i += used) {
        int32_t c = cy_utf8_next(bytes + i, length - i, &used);
        bool ends_line = c == '\n' || (c == '\r' && (i + 1 >= length || bytes[i + 1] != '\n'));
        at = ends_line ? (struct spot){at.line + 1, 1} : (struct spot){at.line, at.column + 1};
    }
    return at;
}

static void add_hex(struct cy_text *text, unsigned value, int digits)
{
    for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4)
        cy_text_add_char(text, "0123456789ABCDEF"[value >> shift & 0xF]);
}

static void stop_control(struct parse *p, struct spot at, int32_t c)
{
    struct cy_text text = {0};
    cy_text_add(&text, "U+");
    add_hex(&text, (unsigned)c, 4);
    stop(p, CY_ISSUE_CONTROL_CHARACTER, at, c == '\n' ? "line break" : cy_text_get(&text),
         c == '\n' ? "write the text on one line, or fold it with >-" : NULL);
    cy_text_dispose(&text);
}

static void stop_byte(struct parse *p, struct spot at, unsigned char byte)
{
    struct cy_text text = {0};
    cy_text_add(&text, "the byte 0x");
    add_hex(&text, byte, 2);
    stop(p, CY_ISSUE_NOT_UTF8, at, cy_text_get(&text), NULL);
    cy_text_dispose(&text);
}

/* What no file may hold anywhere, comments included; the YAML library would say no exact place. */
static bool bytes_are_text(struct parse *p)
{
    size_t used;
    for (size_t i = 0; i < p->length; i += used) {
        int32_t c = cy_utf8_next(p->bytes + i, p->length - i, &used);
        if (c == '\n' || c == '\r' || c == '\t' || !cy_utf8_is_control(c))
            continue;
        struct spot at = spot_of(p->bytes, p->length, i);
        if (c < 0)
            stop_byte(p, at, (unsigned char)p->bytes[i]);
        else
            stop_control(p, at, c);
        return false;
    }
    return true;
}

/* ---- events --------------------------------------------------------------------------------- */

/* The tab among the blanks that begin a line; false if there is none. */
static bool tab_before(const struct parse *p, int line, struct spot *at)
{
    const char *byte = p->bytes, *end = p->bytes + p->length;
    for (int left = line - 1; left > 0 && byte < end; byte++)
        left -= *byte == '\n' || (*byte == '\r' && (byte + 1 == end || byte[1] != '\n'));
    const char *start = byte;
    while (byte < end && *byte == ' ')
        byte++;
    *at = (struct spot){line, (int)(byte - start) + 1};
    return byte < end && *byte == '\t';
}

static void stop_syntax(struct parse *p)
{
    const yaml_parser_t *parser = &p->parser;
    struct spot at = mark_spot(parser->problem_mark);
    if (tab_before(p, at.line, &at)) {
        stop(p, CY_ISSUE_SYNTAX, at, "a tab begins the line", "tabs cannot indent, use spaces");
        return;
    }
    at = mark_spot(parser->problem_mark);
    struct cy_text found = {0};
    cy_text_add(&found, parser->problem ? parser->problem : "not YAML");
    if (parser->context) {
        cy_text_add(&found, ", ");
        cy_text_add(&found, parser->context);
        cy_text_add(&found, " that begins on line ");
        cy_text_add_int(&found, (long long)parser->context_mark.line + 1);
    }
    stop(p, CY_ISSUE_SYNTAX, at, cy_text_get(&found), NULL);
    cy_text_dispose(&found);
}

static bool next(struct parse *p)
{
    struct spot at = mark_spot(p->event.end_mark);
    yaml_event_delete(&p->event);
    if (++p->events > CY_YAML_EVENTS) {
        stop_number(p, CY_ISSUE_TOO_LARGE, at, "what the file holds", CY_YAML_EVENTS,
                    " keys and values");
        return false;
    }
    if (yaml_parser_parse(&p->parser, &p->event))
        return true;
    if (p->parser.error == YAML_MEMORY_ERROR)
        p->status = CY_NO_MEMORY;
    else if (p->parser.error == YAML_READER_ERROR)
        stop_control(p, spot_of(p->bytes, p->length, p->parser.problem_offset),
                     p->parser.problem_value);
    else
        stop_syntax(p);
    return false;
}

static bool refuse(struct parse *p, char mark, const yaml_char_t *name)
{
    if (!name)
        return true;
    struct cy_text found = {0};
    if (mark)
        cy_text_add_char(&found, mark);
    cy_text_add(&found, (const char *)name);
    stop(p, CY_ISSUE_ALIAS, event_spot(p), cy_text_get(&found), NULL);
    cy_text_dispose(&found);
    return false;
}

/* Anchors, aliases and tags, wherever a node can begin. */
static bool is_plain_node(struct parse *p)
{
    const yaml_event_t *event = &p->event;
    switch (event->type) {
    case YAML_ALIAS_EVENT:
        return refuse(p, '*', event->data.alias.anchor);
    case YAML_SCALAR_EVENT:
        return refuse(p, '&', event->data.scalar.anchor) && refuse(p, 0, event->data.scalar.tag);
    case YAML_SEQUENCE_START_EVENT:
        return refuse(p, '&', event->data.sequence_start.anchor) &&
               refuse(p, 0, event->data.sequence_start.tag);
    case YAML_MAPPING_START_EVENT:
        return refuse(p, '&', event->data.mapping_start.anchor) &&
               refuse(p, 0, event->data.mapping_start.tag);
    default:
        return true;
    }
}

/* ---- nodes ---------------------------------------------------------------------------------- */

static struct cy_node *new_node(struct parse *p, enum cy_node_shape shape)
{
    struct cy_node *node = cy_zeroed(1, sizeof *node);
    if (!node) {
        p->status = CY_NO_MEMORY;
        return NULL;
    }
    struct spot at = event_spot(p);
    node->shape = shape;
    node->line = at.line;
    node->column = at.column;
    return node;
}

/* The text of the scalar event, owned by the caller. */
static char *scalar_text(struct parse *p)
{
    const char *text = (const char *)p->event.data.scalar.value;
    size_t length = p->event.data.scalar.length, used;
    if (length > CY_YAML_SCALAR) {
        stop_number(p, CY_ISSUE_TOO_LARGE, event_spot(p), "this text", CY_YAML_SCALAR, " bytes");
        return NULL;
    }
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(text + i, length - i, &used);
        if (cy_utf8_is_control(c)) {
            stop_control(p, event_spot(p), c);
            return NULL;
        }
    }
    char *copy = cy_strndup(text, length);
    if (!copy)
        p->status = CY_NO_MEMORY;
    return copy;
}

static struct cy_node *read_scalar(struct parse *p)
{
    char *text = scalar_text(p);
    if (!text)
        return NULL;
    struct cy_node *node = new_node(p, CY_NODE_VALUE);
    if (!node) {
        free(text);
        return NULL;
    }
    node->text = text;
    node->plain = p->event.data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
    return node;
}

static struct cy_node *read_node(struct parse *p, int depth);

static struct cy_node *read_list(struct parse *p, int depth)
{
    struct cy_node *list = new_node(p, CY_NODE_LIST);
    struct cy_node **last = list ? &list->first : NULL;
    while (list && next(p)) {
        if (p->event.type == YAML_SEQUENCE_END_EVENT)
            return list;
        if (list->count == CY_YAML_ITEMS) {
            stop_number(p, CY_ISSUE_TOO_LARGE, event_spot(p), "this list", CY_YAML_ITEMS,
                        " entries");
            break;
        }
        *last = read_node(p, depth);
        if (!*last)
            break;
        last = &(*last)->next;
        list->count++;
    }
    cy_tree_free(list);
    return NULL;
}

/* A key and what belongs to it; p->event is the key. */
static struct cy_node *read_pair(struct parse *p, int depth)
{
    if (!is_plain_node(p))
        return NULL;
    if (p->event.type != YAML_SCALAR_EVENT)
        return stop(p, CY_ISSUE_WRONG_SHAPE, event_spot(p),
                    p->event.type == YAML_MAPPING_START_EVENT ? "a mapping" : "a list", "a key");
    struct spot at = event_spot(p);
    char *key = scalar_text(p);
    struct cy_node *node = key && next(p) ? read_node(p, depth) : NULL;
    if (!node) {
        free(key);
        return NULL;
    }
    node->key = key;
    node->key_line = at.line;
    node->key_column = at.column;
    if (cy_node_is_empty(node)) { /* there is no better place for what is not there */
        node->line = at.line;
        node->column = at.column;
    }
    return node;
}

static void say_twice(struct parse *p, const struct cy_node *node, const struct cy_node *before)
{
    struct cy_text line = {0};
    cy_text_add_int(&line, before->key_line);
    complain(p, CY_ISSUE_DUPLICATE_KEY, (struct spot){node->key_line, node->key_column}, node->key,
             cy_text_get(&line));
    cy_text_dispose(&line);
}

static struct cy_node *read_mapping(struct parse *p, int depth)
{
    struct cy_node *mapping = new_node(p, CY_NODE_MAPPING);
    struct cy_node **last = mapping ? &mapping->first : NULL;
    while (mapping && next(p)) {
        if (p->event.type == YAML_MAPPING_END_EVENT)
            return mapping;
        if (mapping->count == CY_YAML_KEYS) {
            stop_number(p, CY_ISSUE_TOO_LARGE, event_spot(p), "this mapping", CY_YAML_KEYS,
                        " keys");
            break;
        }
        struct cy_node *node = read_pair(p, depth);
        if (!node)
            break;
        const struct cy_node *before = cy_node_get(mapping, node->key);
        if (before) {
            say_twice(p, node, before);
            cy_tree_free(node);
            continue;
        }
        *last = node;
        last = &node->next;
        mapping->count++;
    }
    cy_tree_free(mapping);
    return NULL;
}

/* What begins at p->event, `depth` lists and mappings deep. */
static struct cy_node *read_node(struct parse *p, int depth)
{
    if (!is_plain_node(p))
        return NULL;
    if (p->event.type == YAML_SCALAR_EVENT)
        return read_scalar(p);
    if (depth == CY_YAML_DEPTH)
        return stop_number(p, CY_ISSUE_TOO_DEEP, event_spot(p), NULL, CY_YAML_DEPTH, " levels");
    return p->event.type == YAML_SEQUENCE_START_EVENT ? read_list(p, depth + 1)
                                                      : read_mapping(p, depth + 1);
}

/* ---- documents ------------------------------------------------------------------------------ */

static struct cy_node *read_document(struct parse *p)
{
    if (!next(p) || !next(p)) /* the start of the stream, then of a document */
        return NULL;
    if (p->event.type == YAML_STREAM_END_EVENT)
        return stop(p, CY_ISSUE_EMPTY_FILE, (struct spot){1, 1}, NULL, "caneyear: 1");
    if (p->event.data.document_start.version_directive ||
        p->event.data.document_start.tag_directives.start !=
            p->event.data.document_start.tag_directives.end)
        return stop(p, CY_ISSUE_ALIAS, event_spot(p), "%", NULL);
    struct cy_node *root = next(p) ? read_node(p, 0) : NULL;
    if (!root)
        return NULL;
    if (cy_node_is_empty(root))
        stop(p, CY_ISSUE_EMPTY_FILE, (struct spot){root->line, root->column}, NULL, "caneyear: 1");
    else if (next(p) && next(p) && p->event.type != YAML_STREAM_END_EVENT)
        stop(p, CY_ISSUE_SECOND_DOCUMENT, event_spot(p), NULL, NULL);
    if (p->status == CY_OK)
        return root;
    cy_tree_free(root);
    return NULL;
}

int cy_tree_read(struct cy_node **out, const char *name, const char *bytes, size_t length,
                 struct cy_issues *issues)
{
    *out = NULL;
    struct parse p = {.name = name, .bytes = bytes, .length = length, .issues = issues};
    if (length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) { /* a byte-order mark */
        p.bytes += 3;
        p.length -= 3;
    }
    if (p.length > CY_YAML_BYTES) {
        stop_number(&p, CY_ISSUE_TOO_LARGE, spot_of(p.bytes, p.length, CY_YAML_BYTES), "the file",
                    CY_YAML_BYTES >> 20, " MiB");
        return p.status;
    }
    if (!bytes_are_text(&p))
        return p.status;
    if (!yaml_parser_initialize(&p.parser))
        return CY_NO_MEMORY;
    yaml_parser_set_encoding(&p.parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&p.parser, (const unsigned char *)p.bytes, p.length);
    *out = read_document(&p);
    yaml_event_delete(&p.event);
    yaml_parser_delete(&p.parser);
    return p.status;
}

void cy_tree_free(struct cy_node *root)
{
    if (!root)
        return;
    struct cy_node *node = root->first;
    while (node) {
        struct cy_node *after = node->next;
        cy_tree_free(node); /* no deeper than CY_YAML_DEPTH */
        node = after;
    }
    free(root->key);
    free(root->text);
    free(root);
}

const struct cy_node *cy_node_get(const struct cy_node *mapping, const char *key)
{
    for (const struct cy_node *node = mapping->first; node; node = node->next) {
        if (cy_streq(node->key, key))
            return node;
    }
    return NULL;
}

bool cy_node_is_empty(const struct cy_node *node)
{
    return node->shape == CY_NODE_VALUE && node->plain && !node->text[0];
}

const char *cy_node_shape_word(const struct cy_node *node)
{
    static const char *const words[] = {
        [CY_NODE_VALUE] = "a value", [CY_NODE_LIST] = "a list", [CY_NODE_MAPPING] = "a mapping"};
    return cy_node_is_empty(node) ? "nothing" : words[node->shape];
}
