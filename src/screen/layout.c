/* SPDX-License-Identifier: MIT
 * Where everything stands on a screen of any size: a pure function. */
#include "screen/layout.h"

/* The least that still says something: a heading and some lines. */
#define ROWS_LEAST 4
#define CANES_LEAST 5
#define JOBS_LEAST 4
/* This year's canes and last year's. */
#define LIVES 2
/* Heading, months, dates below. */
#define CANES_FRAME 4

static int at_least(int value, int low)
{
    return value < low ? low : value;
}

static int at_most(int value, int high)
{
    return value > high ? high : value;
}

/* Lines for the rows and the canes; the jobs take what is left. */
static void share_out(int *rows, int *canes, int lines, const struct cy_layout_request *request)
{
    int field = at_least(request->field_lines, 1);
    *rows = at_most(1 + field, lines * 3 / 10 + 1);
    *canes = at_most(CANES_FRAME + 2 * LIVES, lines * 2 / 5);
    /* Where there is plenty, lives get a third line each, the field its second line for each row
     * and the canes a longer list of dates. */
    if (lines >= 40) {
        if (1 + 2 * field <= lines * 3 / 8)
            *rows = 1 + 2 * field;
        *canes = at_most(CANES_FRAME + 4 + 3 * LIVES, lines * 2 / 5);
    }
    *rows = at_least(*rows, ROWS_LEAST);
    *canes = at_least(*canes, CANES_LEAST);
    while (*rows + *canes + JOBS_LEAST > lines && *rows > ROWS_LEAST)
        --*rows;
    while (*rows + *canes + JOBS_LEAST > lines && *canes > CANES_LEAST)
        --*canes;
}

void cy_layout_of(struct cy_layout *out, const struct cy_layout_request *request)
{
    int width = at_least(request->width, 0), height = at_least(request->height, 0);
    *out = (struct cy_layout){.whole = {0, 0, width, height}};
    if (width < CY_LAYOUT_MIN_WIDTH || height < CY_LAYOUT_MIN_HEIGHT) {
        out->too_small = true;
        return;
    }
    out->title = (struct cy_rect){0, 0, width, 1};
    out->message = (struct cy_rect){0, height - 2, width, 1};
    out->hint = (struct cy_rect){0, height - 1, width, 1};
    out->body = (struct cy_rect){0, 1, width, height - 3};
    int rows, canes;
    share_out(&rows, &canes, out->body.height, request);
    if (request->zoomed >= 0 && request->zoomed < CY_BAND_COUNT) {
        for (int i = 0; i < CY_BAND_COUNT; i++)
            out->band[i] = (struct cy_rect){0, 1, width, 0};
        out->band[request->zoomed] = out->body;
        out->lower = out->body;
        return;
    }
    out->band[CY_BAND_ROWS] = (struct cy_rect){0, 1, width, rows};
    out->band[CY_BAND_CANES] = (struct cy_rect){0, 1 + rows, width, canes};
    out->band[CY_BAND_JOBS] =
        (struct cy_rect){0, 1 + rows + canes, width, out->body.height - rows - canes};
    out->lower = (struct cy_rect){0, 1 + rows, width, out->body.height - rows};
}
