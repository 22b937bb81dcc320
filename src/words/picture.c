/* SPDX-License-Identifier: MIT
 * A picture in characters: cells of one column each, drawn over one another. */
#include "words/picture.h"

#include <stdlib.h>

#include <caneyear/base/array.h>

bool cy_picture_init(struct cy_picture *out, int width, int height)
{
    *out = (struct cy_picture){.width = width, .height = height};
    out->cells = cy_zeroed((size_t)width * (size_t)height, sizeof *out->cells);
    if (!out->cells)
        *out = (struct cy_picture){0};
    return out->cells;
}

void cy_picture_dispose(struct cy_picture *picture)
{
    free(picture->cells);
    *picture = (struct cy_picture){0};
}

static bool is_inside(const struct cy_picture *picture, int column, int line)
{
    return column >= 0 && column < picture->width && line >= 0 && line < picture->height;
}

void cy_picture_put(struct cy_picture *picture, int column, int line, const char *glyph)
{
    if (is_inside(picture, column, line))
        picture->cells[line * picture->width + column] = glyph;
}

const char *cy_picture_get(const struct cy_picture *picture, int column, int line)
{
    return is_inside(picture, column, line) ? picture->cells[line * picture->width + column] : NULL;
}

void cy_picture_line(struct cy_text *out, const struct cy_picture *picture, int line)
{
    int last = picture->width;
    while (last > 0 && !cy_picture_get(picture, last - 1, line))
        last--;
    for (int column = 0; column < last; column++) {
        const char *glyph = cy_picture_get(picture, column, line);
        cy_text_add(out, glyph ? glyph : " ");
    }
}
