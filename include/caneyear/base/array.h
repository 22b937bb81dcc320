/* SPDX-License-Identifier: MIT
 * Memory: growable arrays, copies of strings. */
#ifndef CANEYEAR_BASE_ARRAY_H
#define CANEYEAR_BASE_ARRAY_H

#include <stdbool.h>
#include <stddef.h>

/* Makes room for one more item behind `count`; false (and nothing changed) without memory.
 *     if (!cy_grow(&list->items, &list->capacity, list->count, sizeof *list->items)) ...
 * `items` is the address of the pointer. */
bool cy_grow(void *items, size_t *capacity, size_t count, size_t size);

/* count * size zeroed bytes, NULL on overflow or without memory; never a zero-sized block. */
void *cy_zeroed(size_t count, size_t size);
char *cy_strdup(const char *string);
char *cy_strndup(const char *bytes, size_t length);

#endif
