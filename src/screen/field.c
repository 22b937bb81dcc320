/* SPDX-License-Identifier: MIT
 * The field as it is drawn: turned so that its rows run from left to right. */
#include "screen/field.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

#define DEGREE 0.017453292519943295
/* Rows within this of the common bearing count as parallel. */
#define PARALLEL_DEG 12.0
/* Empty lines between rows that stand far apart, at most. */
#define MOST_BLANK 2

struct place {
    double along, across; /* of the row's middle, in the turned field */
    double start, end;    /* along, start below end */
    double width;         /* row spacing */
};

const char *cy_field_compass(double bearing)
{
    static const char *const names[] = {"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
    return names[(int)floor(fmod(bearing + 360, 360) / 45 + 0.5) % 8];
}

/* The mean of directions that have no sense: angles are doubled, so that 5 and 185 agree. */
static double common_bearing(const struct cy_field_map *map)
{
    double sine = 0, cosine = 0;
    for (size_t i = 0; i < map->count; i++) {
        double bearing = cy_number(map->strips[i].thing, CY_ROW_BEARING) * DEGREE;
        sine += map->strips[i].length_m * sin(2 * bearing);
        cosine += map->strips[i].length_m * cos(2 * bearing);
    }
    double mean = atan2(sine, cosine) / 2 / DEGREE;
    return mean < 0 ? mean + 180 : mean;
}

static struct place place_of(const struct cy_field_map *map, const struct cy_strip *strip)
{
    double axis = map->bearing * DEGREE;
    double bearing = cy_number(strip->thing, CY_ROW_BEARING) * DEGREE;
    double x = cy_number(strip->thing, CY_ROW_X), y = cy_number(strip->thing, CY_ROW_Y);
    double width = cy_number(strip->thing, CY_ROW_WIDTH);
    if (isnan(x) || isnan(y)) {
        /* Where nobody gave its place it is put beside the row before. */
        x = (double)strip->row * width * cos(axis);
        y = -(double)strip->row * width * sin(axis);
    }
    double along = x * sin(axis) + y * cos(axis), across = x * cos(axis) - y * sin(axis);
    double turn = cos(bearing - axis) < 0 ? -1 : 1;
    double far = along + turn * strip->length_m;
    /* Across, the middle counts: it is where the row mostly is. */
    across += sin(bearing - axis) * strip->length_m / 2;
    return (struct place){.along = (along + far) / 2,
                          .across = across,
                          .start = along < far ? along : far,
                          .end = along < far ? far : along,
                          .width = width};
}

/* Whether a strip can stand on a line that others are on. */
static bool fits_line(const struct cy_field_map *map, const struct place *places,
                      const size_t *order, size_t first, size_t i)
{
    const struct place *place = &places[order[i]];
    for (size_t k = first; k < i; k++) {
        const struct place *other = &places[order[k]];
        if (place->start < other->end && other->start < place->end)
            return false;
    }
    return !map->mixed && place->across - places[order[first]].across < place->width / 2;
}

static void assign_lines(struct cy_field_map *map, const struct place *places, const size_t *order)
{
    size_t first = 0;
    int line = 0;
    for (size_t i = 0; i < map->count; i++) {
        if (i > 0 && !fits_line(map, places, order, first, i)) {
            double apart = places[order[i]].across - places[order[first]].across;
            int blank = map->mixed ? 0 : (int)floor(apart / places[order[i]].width + 0.5) - 1;
            line += 1 + (blank < 0 ? 0 : blank > MOST_BLANK ? MOST_BLANK : blank);
            first = i;
        }
        map->strips[order[i]].line = line;
    }
    map->lines = line + 1;
}

static void lay_out(struct cy_field_map *map, struct place *places, size_t *order)
{
    double left = INFINITY, right = -INFINITY;
    for (size_t i = 0; i < map->count; i++) {
        places[i] = place_of(map, &map->strips[i]);
        left = fmin(left, places[i].start);
        right = fmax(right, places[i].end);
        size_t k = i;
        for (; k > 0 && (places[order[k - 1]].across > places[i].across ||
                         (places[order[k - 1]].across == places[i].across &&
                          places[order[k - 1]].along > places[i].along));
             k--)
            order[k] = order[k - 1];
        order[k] = i;
    }
    for (size_t i = 0; i < map->count; i++)
        map->strips[i].from_m = places[i].start - left;
    map->length_m = right - left;
    assign_lines(map, places, order);
}

static bool collect(struct cy_field_map *map, const struct cy_farm *farm)
{
    for (const struct cy_thing *row = NULL; (row = cy_farm_next(farm, CY_KIND_ROW, 0, row));) {
        if (!cy_grow(&map->strips, &map->capacity, map->count, sizeof *map->strips))
            return false;
        double length = cy_number(row, CY_ROW_LENGTH);
        map->strips[map->count] = (struct cy_strip){
            .row = map->count, .thing = row, .length_m = isnan(length) ? 1 : length};
        map->count++;
    }
    return true;
}

bool cy_field_map_make(struct cy_field_map *out, const struct cy_farm *farm)
{
    *out = (struct cy_field_map){0};
    if (!collect(out, farm))
        return false;
    if (!out->count)
        return true;
    out->bearing = common_bearing(out);
    for (size_t i = 0; i < out->count; i++) {
        double turned = cy_number(out->strips[i].thing, CY_ROW_BEARING) - out->bearing;
        if (fabs(remainder(turned, 180)) > PARALLEL_DEG)
            out->mixed = true;
    }
    struct place *places = cy_zeroed(out->count, sizeof *places);
    size_t *order = cy_zeroed(out->count, sizeof *order);
    bool made = places && order;
    if (made)
        lay_out(out, places, order);
    free(places);
    free(order);
    return made;
}

void cy_field_map_dispose(struct cy_field_map *map)
{
    free(map->strips);
    *map = (struct cy_field_map){0};
}
