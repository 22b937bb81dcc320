/* SPDX-License-Identifier: MIT
 * A small tree of one YAML document with the position of everything in it: all that is wrong
 * with a file whatever its keys mean is found here. */
#ifndef STORE_YAML_TREE_H
#define STORE_YAML_TREE_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/base/issue.h>

/* What a file may ask of the program that reads it. */
enum {
    CY_YAML_BYTES = 4 << 20,
    CY_YAML_EVENTS = 400000,
    CY_YAML_DEPTH = 16,
    CY_YAML_SCALAR = 4096, /* bytes of one key or value */
    CY_YAML_KEYS = 256,    /* of one mapping */
    CY_YAML_ITEMS = 10000  /* of one list */
};

enum cy_node_shape { CY_NODE_VALUE, CY_NODE_LIST, CY_NODE_MAPPING };

struct cy_node {
    enum cy_node_shape shape;
    int line, column; /* from 1; columns are characters */
    char *key;        /* in a mapping: the key before it, else NULL */
    int key_line, key_column;
    char *text;            /* of a value */
    bool plain;            /* of a value: without quotes */
    struct cy_node *first; /* of a list or mapping */
    struct cy_node *next;
    int count;
};

/* Reads one document. CY_INVALID leaves *out NULL: what stops the reading (syntax, a cap, what is
 * refused altogether) adds one issue. A key given twice adds one and the reading goes on. */
int cy_tree_read(struct cy_node **out, const char *name, const char *bytes, size_t length,
                 struct cy_issues *issues);
void cy_tree_free(struct cy_node *root);

const struct cy_node *cy_node_get(const struct cy_node *mapping, const char *key);
/* "a list", "a mapping", "a value", or "nothing" for a value left out. */
const char *cy_node_shape_word(const struct cy_node *node);
/* True of a value that was left out: "name:" and no more. */
bool cy_node_is_empty(const struct cy_node *node);

#endif
