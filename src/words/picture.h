/* SPDX-License-Identifier: MIT
 * A picture in characters: cells of one column each, drawn over one another. */
#ifndef WORDS_PICTURE_H
#define WORDS_PICTURE_H

#include <stdbool.h>

#include <caneyear/base/text.h>

struct cy_picture {
    int width, height;
    const char **cells; /* the glyph of each, one column wide; NULL while empty */
};

/* False without memory, with *out empty. Dispose of it. */
bool cy_picture_init(struct cy_picture *out, int width, int height);
void cy_picture_dispose(struct cy_picture *picture);
/* Column from the left, line from the top; outside the picture nothing happens. The glyph is
 * borrowed. */
void cy_picture_put(struct cy_picture *picture, int column, int line, const char *glyph);
/* NULL outside and where nothing is drawn. */
const char *cy_picture_get(const struct cy_picture *picture, int column, int line);
/* Adds a line without the blanks at its end, and without a newline. */
void cy_picture_line(struct cy_text *out, const struct cy_picture *picture, int line);

#endif
