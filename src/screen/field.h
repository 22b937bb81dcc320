/* SPDX-License-Identifier: MIT
 * The field as it is drawn: turned so that its rows run from left to right, each at its true place
 * and length, one line for rows that stand side by side. */
#ifndef SCREEN_FIELD_H
#define SCREEN_FIELD_H

#include <stdbool.h>
#include <stddef.h>

#include <caneyear/season/farm.h>

struct cy_strip {
    size_t row; /* among the farm's rows in order */
    const struct cy_thing *thing;
    int line;
    double from_m, length_m; /* from the left edge of the field */
};

struct cy_field_map {
    struct cy_strip *strips; /* in the farm's order */
    size_t count, capacity;
    int lines;
    double length_m; /* of the whole field, from left to right */
    double bearing;  /* the way to the right, degrees from north by east, 0 to 180 */
    bool mixed;      /* rows run different ways: each lies along its own, in order of place */
};

/* False without memory; dispose of it in either case. */
bool cy_field_map_make(struct cy_field_map *out, const struct cy_farm *farm);
void cy_field_map_dispose(struct cy_field_map *map);
/* "N", "NE" ... of a bearing in degrees. */
const char *cy_field_compass(double bearing);

#endif
