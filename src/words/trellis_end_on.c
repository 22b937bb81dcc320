/* SPDX-License-Identifier: MIT
 * A T or V seen from the row's end, in characters: the post or the legs, arms, wires, ground. */
#include "words/trellis.h"

#include <math.h>

enum { ABOVE = 6, HALF_MOST = 14, COLUMNS = 2 * HALF_MOST + 3, MIDDLE = COLUMNS / 2, LABELS = 9 };

enum glyph { BLANK, POST, LEFT_LEG, RIGHT_LEG, ARM, WIRE, GROUND };

static const char *const drawn[] = {" ", "┃", "\\", "/", "─", "o", "═"};
static const char *const plain[] = {" ", "|", "\\", "/", "-", "o", "="};

struct sketch {
    const struct cy_trellis_frame *frame;
    unsigned char cells[ABOVE + 1][COLUMNS];
    double top_m, half_m, cell_m; /* a cell is half as wide as high */
};

static int row_of(const struct sketch *s, double height_m)
{
    int row = ABOVE - 1 - (int)floor(height_m / s->cell_m - 0.5);
    return row < 0 ? 0 : row > ABOVE - 1 ? ABOVE - 1 : row;
}

static int reach_of(const struct sketch *s, double half_m)
{
    int reach = (int)lround(2 * half_m / s->cell_m);
    return reach > HALF_MOST ? HALF_MOST : reach;
}

static int wires_at(const struct sketch *s, int row)
{
    int count = 0;
    for (int i = 0; i < s->frame->wire_count; i++)
        count += row_of(s, s->frame->wires[i].height_m.value) == row;
    return count;
}

/* A lone wire of a T runs along the post; all others stand as far out as the arm or leg there. */
static void draw_row(struct sketch *s, int row)
{
    unsigned char *cells = s->cells[row];
    bool vee = s->frame->form == CY_FORM_V;
    int wires = wires_at(s, row);
    double height_m = (ABOVE - row) * s->cell_m;
    int reach = reach_of(s, vee ? s->half_m * fmin(1, height_m / s->top_m) : s->half_m);
    if (vee) {
        cells[MIDDLE - reach] = LEFT_LEG;
        cells[MIDDLE + reach] = RIGHT_LEG;
        if (wires > 0)
            cells[MIDDLE - reach - 1] = WIRE;
        if (wires > 1)
            cells[MIDDLE + reach + 1] = WIRE;
        return;
    }
    for (int x = -reach; wires > 1 && x <= reach; x++)
        cells[MIDDLE + x] = x == -reach || x == reach ? WIRE : ARM;
    cells[MIDDLE] = wires == 1 ? WIRE : POST;
}

static void add_row(struct cy_sheet *sheet, const struct sketch *s,
                    const struct cy_sheet_request *request, int row)
{
    const char *const *glyphs = request->ascii ? plain : drawn;
    struct cy_text line = {0}, label = {0};
    for (int i = 0; i < s->frame->wire_count && row < ABOVE && label.length == 0; i++)
        if (row_of(s, s->frame->wires[i].height_m.value) == row)
            cy_say_length(&label, request->plan, s->frame->wires[i].height_m.value);
    cy_text_pad(&line, 0, LABELS - 1 - cy_utf8_columns(cy_text_get(&label)));
    cy_text_add(&line, cy_text_get(&label));
    cy_text_add_char(&line, ' ');
    int last = COLUMNS - 1;
    while (last > 0 && s->cells[row][last] == BLANK)
        last--;
    for (int column = 0; column <= last; column++)
        cy_text_add(&line, glyphs[s->cells[row][column]]);
    cy_sheet_add(sheet, CY_SHEET_PICTURE, cy_text_get(&line));
    sheet->failed = sheet->failed || line.failed || label.failed;
    cy_text_dispose(&line);
    cy_text_dispose(&label);
}

void cy_trellis_end_on(struct cy_sheet *sheet, const struct cy_sheet_request *request,
                       const struct cy_trellis_verdict *verdict,
                       const struct cy_trellis_frame *frame)
{
    struct sketch s = {.frame = frame, .top_m = verdict->top_m};
    struct cy_text text = {0};
    if (frame->form == CY_FORM_I || frame->wire_count == 0)
        return;
    s.half_m = cy_trellis_arm_m(frame) / 2;
    s.cell_m = s.top_m / ABOVE;
    for (int row = 0; row < ABOVE; row++)
        draw_row(&s, row);
    int ground = reach_of(&s, s.half_m) + 1;
    for (int x = -ground; x <= ground; x++)
        s.cells[ABOVE][MIDDLE + x] = GROUND;
    cy_text_add(&text, "From the row's end: ");
    cy_say_length(&text, request->plan, 2 * s.half_m);
    cy_text_add(&text, frame->form == CY_FORM_V ? " wide at its top" : " wide");
    cy_text_add(&text, isnan(frame->arm_m.value) ? " (usual: no arm is typed); " : "; ");
    cy_text_add(&text, "o: wires");
    cy_sheet_add(sheet, CY_SHEET_TEXT, "");
    cy_sheet_add(sheet, CY_SHEET_TEXT, cy_text_get(&text));
    sheet->failed = sheet->failed || text.failed;
    cy_text_dispose(&text);
    for (int row = 0; row <= ABOVE; row++)
        add_row(sheet, &s, request, row);
}
