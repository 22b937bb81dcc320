/* SPDX-License-Identifier: MIT
 * A field's outline and its rows as a picture, north up. */
#include <math.h>

#include "words/picture.h"
#include "words/words.h"

/* A character is about twice as high as it is wide. */
#define CELL_HIGH 2.0
enum { INDENT = 2, MOST_COLUMNS = 120, MOST_LINES = 48, FEWEST_COLUMNS = 20 };

struct drawing {
    struct cy_picture picture;
    double west_m, north_m; /* of the upper left corner */
    double cell_m;          /* ground under the width of a character */
};

/* One cell a line where it is steep, one a column where it is flat. */
static void draw_line(struct drawing *drawing, struct cy_point from, struct cy_point to,
                      const char *glyph)
{
    double cell_m = drawing->cell_m;
    double column = (from.x_m - drawing->west_m) / cell_m;
    double line = (drawing->north_m - from.y_m) / cell_m / CELL_HIGH;
    double columns = (to.x_m - from.x_m) / cell_m;
    double lines = (from.y_m - to.y_m) / cell_m / CELL_HIGH;
    int steps = (int)ceil(fmax(fabs(columns), fabs(lines)));
    for (int i = 0; i <= steps; i++) {
        double share = steps > 0 ? (double)i / steps : 0;
        cy_picture_put(&drawing->picture, (int)floor(column + share * columns + 0.5),
                       (int)floor(line + share * lines + 0.5), glyph);
    }
}

/* The stroke nearest to the way a row runs, as a character's shape shows it. */
static const char *stroke(double bearing_deg, bool ascii)
{
    double turned = fmod(bearing_deg, 180);
    if (turned < 22.5 || turned >= 157.5)
        return ascii ? "|" : "│";
    if (turned < 67.5)
        return "/";
    return turned < 112.5 ? (ascii ? "-" : "─") : "\\";
}

/* Fits the outline into columns and lines; false where it has no extent or without memory. */
static bool begin(struct drawing *out, const struct cy_rowplan_ask *ask, int width)
{
    double west = INFINITY, east = -INFINITY, south = INFINITY, north = -INFINITY;
    for (size_t i = 0; i < ask->corner_count; i++) {
        west = fmin(west, ask->corners[i].x_m);
        east = fmax(east, ask->corners[i].x_m);
        south = fmin(south, ask->corners[i].y_m);
        north = fmax(north, ask->corners[i].y_m);
    }
    int columns = width - INDENT < FEWEST_COLUMNS ? FEWEST_COLUMNS : width - INDENT;
    columns = columns > MOST_COLUMNS ? MOST_COLUMNS : columns;
    out->cell_m =
        fmax((east - west) / (columns - 1), (north - south) / CELL_HIGH / (MOST_LINES - 1));
    if (!(out->cell_m > 0))
        return false;
    out->west_m = west;
    out->north_m = north;
    return cy_picture_init(&out->picture, (int)floor((east - west) / out->cell_m + 0.5) + 1,
                           (int)floor((north - south) / out->cell_m / CELL_HIGH + 0.5) + 1);
}

static void draw(struct drawing *drawing, const struct cy_rowplan_ask *ask,
                 const struct cy_rowplan *layout, bool ascii)
{
    double bearing = ask->bearing_deg * acos(-1.0) / 180;
    for (size_t i = 0; i < layout->row_count; i++) {
        struct cy_point from = layout->rows[i].from, to = from;
        to.x_m += layout->rows[i].length_m * sin(bearing);
        to.y_m += layout->rows[i].length_m * cos(bearing);
        draw_line(drawing, from, to, stroke(ask->bearing_deg, ascii));
    }
    for (size_t i = 0; i < ask->corner_count; i++)
        draw_line(drawing, ask->corners[i], ask->corners[(i + 1) % ask->corner_count],
                  ascii ? "." : "·");
}

void cy_say_field(struct cy_text *out, const struct cy_rowplan_ask *ask,
                  const struct cy_rowplan *layout, enum cy_system system, int width, bool ascii)
{
    struct drawing drawing;
    if (!begin(&drawing, ask, width))
        return;
    draw(&drawing, ask, layout, ascii);
    for (int line = 0; line < drawing.picture.height; line++) {
        cy_text_add(out, "  ");
        cy_picture_line(out, &drawing.picture, line);
        cy_text_add_char(out, '\n');
    }
    cy_text_add(out, "  North is up; a character is ");
    cy_quantity_show(out, drawing.cell_m, CY_Q_LENGTH, NULL, system, 1);
    cy_text_add(out, " wide and ");
    cy_quantity_show(out, drawing.cell_m * CELL_HIGH, CY_Q_LENGTH, NULL, system, 1);
    cy_text_add(out, " high.\n");
    cy_picture_dispose(&drawing.picture);
}
