/* SPDX-License-Identifier: MIT
 * The row seen from the side, in characters: posts, wires with their sag, ends, ground, uses. */
#include "words/trellis.h"

#include <math.h>
#include <stdlib.h>

#include <caneyear/base/array.h>

#include "words/sheet_lines.h"

enum {
    LABELS = 9,    /* columns of heights, at the left */
    TIE = 4,       /* columns beside an end, for a tie */
    BAY_LEAST = 6, /* columns a bay: a use of five digits and a blank */
    BAY_MOST = 24,
    ROWS_ABOVE = 10,
    ROWS_BELOW = 6,
    ROWS = ROWS_ABOVE + ROWS_BELOW + 2
};

enum glyph { BLANK, HIGH, MIDDLE, LOW, POST, END, ROOT, GROUND, RAIL, RISING, FALLING, GLYPHS };

static const char *const drawn[GLYPHS] = {" ", "▔", "─", "▁", "┃", "█", "╎", "═", "═", "/", "\\"};
static const char *const plain[GLYPHS] = {" ", "\"", "-", "_", "|", "#", ":", "=", "=", "/", "\\"};

struct picture {
    const struct cy_trellis_verdict *verdict;
    const struct cy_trellis_frame *frame;
    unsigned char cells[ROWS][256];
    int columns, ground; /* the ground's row */
    double cell_m;       /* height of a row */
    int bays, bay;       /* shown, and columns of each */
    int left;            /* column of the first post */
    double factor;       /* sag is drawn this many times too deep; 0: straight */
};

static void put(struct picture *p, int row, int column, enum glyph glyph)
{
    if (row >= 0 && row < ROWS && column >= 0 && column < p->columns)
        p->cells[row][column] = (unsigned char)glyph;
}

static double row_of(const struct picture *p, double height_m)
{
    return p->ground - height_m / p->cell_m;
}

/* ---- scale ------------------------------------------------------------------------------------
 */

static double deepest_sag(const struct cy_trellis_verdict *verdict)
{
    double sag = 0;
    for (int i = 0; i < verdict->wire_count; i++)
        if (!verdict->wires[i].refusal)
            sag = fmax(sag, verdict->wires[i].fruit_sag_m);
    return sag;
}

/* 1, 2, 5, 10 and so on, as large as keeps the deepest sag within a row and a half. */
static double round_factor(double most)
{
    double factor = 1;
    for (double ten = 1; ten <= 1000; ten *= 10)
        for (int step = 1; step <= 5; step = step == 2 ? 5 : 2 * step) {
            if (ten * step > most)
                return factor;
            factor = ten * step;
            if (step == 5)
                break;
        }
    return factor;
}

static bool scale(struct picture *p, int width)
{
    int tie = p->frame->end == CY_ROW_END_TIE ? TIE : 1;
    int room = width - LABELS - 2 * tie - 2;
    p->bays = p->verdict->bays;
    p->bay = p->bays > 0 ? room / p->bays : 0;
    if (p->bay < BAY_LEAST) {
        p->bay = BAY_LEAST;
        p->bays = room / BAY_LEAST;
    }
    if (p->bay > BAY_MOST)
        p->bay = BAY_MOST;
    p->left = tie + 1;
    p->columns = 2 * (tie + 1) + p->bays * p->bay + 1;
    p->ground = ROWS_ABOVE;
    double top = fmax(p->verdict->top_m, 0.3);
    p->cell_m = top / (ROWS_ABOVE - 0.5);
    double sag = deepest_sag(p->verdict);
    p->factor = sag > 0 ? round_factor(1.5 * p->cell_m / sag) : 0;
    return p->bays > 0 && p->columns < (int)sizeof p->cells[0];
}

/* ---- drawing ----------------------------------------------------------------------------------
 */

static void draw_wire(struct picture *p, double height_m, double sag_m)
{
    for (int bay = 0; bay < p->bays; bay++)
        for (int i = 0; i < p->bay; i++) {
            double at = (double)i / p->bay;
            double low = 4 * sag_m * p->factor * at * (1 - at);
            double y = row_of(p, height_m - low);
            int row = (int)floor(y);
            double into = y - row;
            put(p, row, p->left + bay * p->bay + i,
                into < 1.0 / 3   ? HIGH
                : into < 2.0 / 3 ? MIDDLE
                                 : LOW);
        }
}

static void draw_post(struct picture *p, int column, double top_m, double depth_m, enum glyph glyph)
{
    for (int row = (int)floor(row_of(p, top_m)); row < p->ground; row++)
        put(p, row, column, glyph);
    int below = (int)floor(depth_m / p->cell_m + 0.5);
    below = below < 1 ? 1 : below > ROWS_BELOW ? ROWS_BELOW : below;
    for (int i = 1; i <= below; i++)
        put(p, p->ground + i, column, ROOT);
}

/* From (column, height) to the ground so many columns away. */
static void draw_slope(struct picture *p, int column, double height_m, int away)
{
    int top = (int)floor(row_of(p, height_m));
    for (int row = top; row < p->ground; row++) {
        double share = (row - top + 0.5) / (p->ground - top);
        int x = column + (int)lround(away * share);
        if (x != column)
            put(p, row, x, away < 0 ? RISING : FALLING);
    }
}

static void draw_end(struct picture *p, int column, int inward)
{
    const struct cy_trellis_frame *f = p->frame;
    double brace =
        isnan(f->brace_height_m.value) ? 0.75 * p->verdict->top_m : f->brace_height_m.value;
    int reach = (int)lround(f->brace_length_m.value / p->verdict->bay_m * p->bay);
    reach = reach < 2 ? 2 : reach > p->bay - 2 ? p->bay - 2 : reach;
    if (f->end == CY_ROW_END_H) {
        int inner = column + inward * reach;
        draw_slope(p, inner, brace, -inward * reach);
        for (int x = 1; x < reach; x++)
            put(p, (int)floor(row_of(p, brace)), column + inward * x, RAIL);
        draw_post(p, inner, p->verdict->top_m, f->end_depth_m.value, END);
    } else if (f->end == CY_ROW_END_SLANT) {
        draw_slope(p, column, brace, inward * reach);
    } else if (f->end == CY_ROW_END_TIE) {
        draw_slope(p, column, brace, -inward * TIE);
    }
    draw_post(p, column, p->verdict->top_m, f->end_depth_m.value, END);
}

static void draw(struct picture *p)
{
    for (int column = 0; column < p->columns; column++)
        put(p, p->ground, column, GROUND);
    for (int i = 0; i < p->verdict->wire_count; i++) {
        const struct cy_trellis_wire *wire = &p->verdict->wires[i];
        draw_wire(p, wire->height_m, wire->refusal ? 0 : wire->fruit_sag_m);
    }
    for (int post = 1; post < p->bays; post++)
        draw_post(p, p->left + post * p->bay, p->verdict->top_m, p->frame->post_depth_m.value,
                  POST);
    draw_end(p, p->left, 1);
    if (p->bays == p->verdict->bays)
        draw_end(p, p->left + p->bays * p->bay, -1);
}

/* ---- lines ------------------------------------------------------------------------------------
 */

static void label(struct cy_text *line, const struct picture *p, const struct cy_plan *plan,
                  int row)
{
    size_t start = line->length;
    struct cy_text words = {0};
    for (int i = 0; i < p->verdict->wire_count && row < p->ground; i++)
        if ((int)floor(row_of(p, p->verdict->wires[i].height_m)) == row && words.length == 0)
            cy_say_length(&words, plan, p->verdict->wires[i].height_m);
    int below = (int)floor(p->frame->end_depth_m.value / p->cell_m + 0.5);
    below = below < 1 ? 1 : below > ROWS_BELOW ? ROWS_BELOW : below;
    if (row == p->ground + below) {
        cy_text_add(&words, "-");
        cy_say_length(&words, plan, p->frame->end_depth_m.value);
    }
    cy_text_pad(line, start, LABELS - 1 - cy_utf8_columns(cy_text_get(&words)));
    cy_text_add(line, cy_text_get(&words));
    cy_text_add_char(line, ' ');
    cy_text_dispose(&words);
}

static void add_row(struct cy_sheet *sheet, const struct picture *p,
                    const struct cy_sheet_request *request, int row)
{
    const char *const *glyphs = request->ascii ? plain : drawn;
    struct cy_text line = {0};
    int last = p->columns - 1;
    while (last >= 0 && p->cells[row][last] == BLANK)
        last--;
    if (last >= 0) {
        label(&line, p, request->plan, row);
        for (int column = 0; column <= last; column++)
            cy_text_add(&line, glyphs[p->cells[row][column]]);
        cy_sheet_add(sheet, CY_SHEET_PICTURE, cy_text_get(&line));
    }
    sheet->failed = sheet->failed || line.failed;
    cy_text_dispose(&line);
}

static double use_at(const struct cy_trellis_verdict *verdict, int check)
{
    return check < 0 ? NAN : verdict->checks[check].use;
}

/* The use of each post, in per cent, centred below it. */
static void add_uses(struct cy_sheet *sheet, const struct picture *p, cy_sheet_why why, size_t row)
{
    struct cy_text line = {0};
    const struct cy_trellis_verdict *verdict = p->verdict;
    for (int post = 0; post <= p->bays; post++) {
        bool end = post == 0 || post == verdict->bays;
        struct cy_text use = {0};
        double share = use_at(verdict, end ? verdict->end : verdict->line_post);
        if (isnan(share))
            cy_text_add_char(&use, '?');
        else
            cy_text_add_fixed(&use, 100 * share, 0);
        int at = LABELS + p->left + post * p->bay - (int)use.length / 2;
        if (line.length > 0)
            cy_text_add_char(&line, ' '); /* of many digits: apart all the same */
        cy_text_pad(&line, 0, at);
        cy_text_add(&line, cy_text_get(&use));
        cy_text_dispose(&use);
        if (post == p->bays && p->bays < verdict->bays)
            break;
    }
    int check = verdict->line_post >= 0 ? verdict->line_post : verdict->end;
    cy_sheet_add_figure(sheet, CY_SHEET_PICTURE, cy_text_get(&line), check >= 0 ? why : NULL, row,
                        check);
    sheet->failed = sheet->failed || line.failed;
    cy_text_dispose(&line);
}

static bool why_use(struct cy_trace *trace, const struct cy_sheet *sheet,
                    const struct cy_sheet_line *line)
{
    return cy_plan_why_trellis(trace, sheet->plan, line->row, line->item);
}

static void add_legend(struct cy_sheet *sheet, const struct picture *p,
                       const struct cy_sheet_request *request)
{
    struct cy_text text = {0};
    cy_text_add(&text, "Below the posts: what they use of what is allowed, in per cent (ends: the "
                       "worst of their parts). ");
    cy_text_add_int(&text, p->verdict->bays);
    cy_text_add(&text, p->verdict->bays == 1 ? " bay of " : " bays of ");
    cy_say_length(&text, request->plan, p->verdict->bay_m);
    if (p->bays < p->verdict->bays) {
        cy_text_add(&text, ", the first ");
        cy_text_add_int(&text, p->bays);
        cy_text_add(&text, " drawn");
    }
    if (p->factor > 0) {
        cy_text_add(&text, ". Sag is that of a summer's day in fruit, drawn ");
        cy_text_add_number(&text, p->factor);
        cy_text_add(&text, p->factor == 1 ? " time its depth." : " times its depth.");
    } else {
        cy_text_add(&text, ". Wires are drawn straight: no tension is known.");
    }
    if (p->frame->form == CY_FORM_V)
        cy_text_add(&text, " Of a V the other leg stands behind.");
    cy_sheet_add_text(sheet, CY_SHEET_TEXT, &text);
    cy_text_dispose(&text);
}

void cy_trellis_picture(struct cy_sheet *sheet, const struct cy_sheet_request *request,
                        const struct cy_trellis_verdict *verdict,
                        const struct cy_trellis_frame *frame)
{
    struct picture *p = cy_zeroed(1, sizeof *p);
    if (!p) {
        sheet->failed = true;
        return;
    }
    p->verdict = verdict;
    p->frame = frame;
    if (verdict->wire_count > 0 && scale(p, request->width)) {
        draw(p);
        for (int row = 0; row < ROWS; row++)
            add_row(sheet, p, request, row);
        add_uses(sheet, p, why_use, request->row);
        add_legend(sheet, p, request);
    }
    free(p);
}
