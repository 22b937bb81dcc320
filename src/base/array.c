/* SPDX-License-Identifier: MIT
 * Memory: growable arrays, copies of strings. */
#include <caneyear/base/array.h>

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

bool cy_grow(void *items, size_t *capacity, size_t count, size_t size)
{
    if (count < *capacity)
        return true;
    size_t wanted = *capacity < 8 ? 8 : *capacity + *capacity / 2;
    if (wanted <= count || size == 0 || wanted > SIZE_MAX / size)
        return false;
    void *block; /* copied in and out: `items` may point to any kind of pointer */
    memcpy(&block, items, sizeof block);
    block = realloc(block, wanted * size);
    if (!block)
        return false;
    memcpy(items, &block, sizeof block);
    *capacity = wanted;
    return true;
}

void *cy_zeroed(size_t count, size_t size)
{
    if (size != 0 && count > SIZE_MAX / size)
        return NULL;
    size_t bytes = count * size;
    return calloc(1, bytes ? bytes : 1);
}

char *cy_strdup(const char *string)
{
    return string ? cy_strndup(string, strlen(string)) : NULL;
}

char *cy_strndup(const char *bytes, size_t length)
{
    char *copy = length < SIZE_MAX ? malloc(length + 1) : NULL;
    if (!copy)
        return NULL;
    if (length)
        memcpy(copy, bytes, length);
    copy[length] = '\0';
    return copy;
}
