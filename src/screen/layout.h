/* SPDX-License-Identifier: MIT
 * Where everything stands on a screen of any size: a pure function. */
#ifndef SCREEN_LAYOUT_H
#define SCREEN_LAYOUT_H

#include <stdbool.h>

struct cy_rect {
    int x, y, width, height; /* never negative */
};

enum cy_band { CY_BAND_ROWS, CY_BAND_CANES, CY_BAND_JOBS, CY_BAND_COUNT };

#define CY_LAYOUT_MIN_WIDTH 60
#define CY_LAYOUT_MIN_HEIGHT 16

struct cy_layout_request {
    int width, height; /* of the screen */
    int zoomed;        /* the band that has the whole screen, or -1 */
    int field_lines;   /* lines that the field would like */
};

struct cy_layout {
    bool too_small; /* only `whole` counts then */
    struct cy_rect whole, title, message, hint;
    struct cy_rect band[CY_BAND_COUNT]; /* without height where another is zoomed */
    struct cy_rect body;                /* all bands together */
    struct cy_rect lower;               /* the bands below the rows: where pages and forms open */
};

void cy_layout_of(struct cy_layout *out, const struct cy_layout_request *request);

#endif
