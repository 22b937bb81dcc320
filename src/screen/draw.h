/* SPDX-License-Identifier: MIT
 * Drawing into a grid of cells: the one place that measures, clips and cuts text. Nothing here
 * knows of a terminal; term.c sends the grid to one. */
#ifndef SCREEN_DRAW_H
#define SCREEN_DRAW_H

#include <stdbool.h>
#include <stdint.h>

#include <caneyear/base/text.h>

#include "screen/layout.h"
#include "screen/look.h"

#define CY_CELL_CHARS 3

struct cy_cell {
    int32_t chars[CY_CELL_CHARS]; /* one character and what combines with it; 0: covered by the
                                   * wide one to the left, or no more */
    uint8_t role, over;           /* `over` (NORMAL: none) is laid upon the role */
};

struct cy_canvas {
    int width, height;
    bool ascii;
    int cursor_x, cursor_y; /* where the hardware cursor goes */
    struct cy_cell *cells;  /* width * height */
};

/* Blank and of this size; false (and as it was) without memory. */
bool cy_canvas_begin(struct cy_canvas *canvas, int width, int height);
void cy_canvas_dispose(struct cy_canvas *canvas);
/* Adds one character as UTF-8. */
void cy_draw_encode(struct cy_text *out, int32_t c);
/* Line y as UTF-8, blanks at the end left off. */
void cy_canvas_line(struct cy_text *out, const struct cy_canvas *canvas, int y);

/* A part of the canvas that one view draws in; all places are relative to it, all drawing stays
 * inside. */
struct cy_pane {
    struct cy_canvas *canvas;
    struct cy_rect rect;
};

struct cy_pane cy_pane_part(struct cy_pane pane, int x, int y, int width, int height);

/* Draws text, cleaned of what must not reach a terminal, into at most `columns`; what is longer
 * ends in the cut mark. Returns the columns used. */
int cy_draw_fit(struct cy_pane pane, int x, int y, int columns, const char *text,
                enum cy_role_id role);
/* The same up to the right edge. */
int cy_draw_text(struct cy_pane pane, int x, int y, const char *text, enum cy_role_id role);
void cy_draw_glyph(struct cy_pane pane, int x, int y, enum cy_glyph_id glyph, enum cy_role_id role);
/* Fills a line with a glyph from x on. */
void cy_draw_run(struct cy_pane pane, int x, int y, int columns, const char *glyph,
                 enum cy_role_id role);
/* Lays a role over what is drawn. */
void cy_draw_over(struct cy_pane pane, int x, int y, int columns, enum cy_role_id role);
/* Breaks text at blanks into lines of the pane from line y on, at most so many; returns how many
 * it took. `indent` columns stay free on the left; lines above the pane are left out. */
int cy_draw_wrapped(struct cy_pane pane, int indent, int y, int most, const char *text,
                    enum cy_role_id role);
/* How many lines that would take. */
int cy_draw_measure(struct cy_pane pane, int indent, int most, const char *text);
/* A band's heading across the pane: title to the left, detail behind it. */
void cy_draw_heading(struct cy_pane pane, const char *title, const char *detail, bool focused);
bool cy_draw_is_blank(struct cy_pane pane, int x, int y);
void cy_draw_cursor(struct cy_pane pane, int x, int y);

#endif
