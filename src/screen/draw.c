/* SPDX-License-Identifier: MIT
 * Drawing into a grid of cells: the one place that measures, clips and cuts text. */
#include "screen/draw.h"

#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>

static const struct cy_cell blank = {.chars = {' '}};

bool cy_canvas_begin(struct cy_canvas *canvas, int width, int height)
{
    if (width < 1 || height < 1)
        width = height = 1;
    if (!canvas->cells || width != canvas->width || height != canvas->height) {
        struct cy_cell *cells = cy_zeroed((size_t)width * (size_t)height, sizeof *cells);
        if (!cells)
            return false;
        free(canvas->cells);
        canvas->cells = cells;
        canvas->width = width;
        canvas->height = height;
    }
    for (int i = 0; i < width * height; i++)
        canvas->cells[i] = blank;
    canvas->cursor_x = canvas->cursor_y = 0;
    return true;
}

void cy_canvas_dispose(struct cy_canvas *canvas)
{
    free(canvas->cells);
    canvas->cells = NULL;
}

void cy_draw_encode(struct cy_text *out, int32_t c)
{
    char bytes[4];
    size_t length = 0;
    if (c < 0x80) {
        bytes[length++] = (char)c;
    } else if (c < 0x800) {
        bytes[length++] = (char)(0xC0 | c >> 6);
        bytes[length++] = (char)(0x80 | (c & 0x3F));
    } else if (c < 0x10000) {
        bytes[length++] = (char)(0xE0 | c >> 12);
        bytes[length++] = (char)(0x80 | (c >> 6 & 0x3F));
        bytes[length++] = (char)(0x80 | (c & 0x3F));
    } else {
        bytes[length++] = (char)(0xF0 | c >> 18);
        bytes[length++] = (char)(0x80 | (c >> 12 & 0x3F));
        bytes[length++] = (char)(0x80 | (c >> 6 & 0x3F));
        bytes[length++] = (char)(0x80 | (c & 0x3F));
    }
    cy_text_add_n(out, bytes, length);
}

void cy_canvas_line(struct cy_text *out, const struct cy_canvas *canvas, int y)
{
    const struct cy_cell *line = canvas->cells + (size_t)y * (size_t)canvas->width;
    int width = canvas->width;
    while (width > 0 && line[width - 1].chars[0] == ' ')
        width--;
    for (int x = 0; x < width; x++)
        for (int i = 0; i < CY_CELL_CHARS && line[x].chars[i]; i++)
            cy_draw_encode(out, line[x].chars[i]);
}

struct cy_pane cy_pane_part(struct cy_pane pane, int x, int y, int width, int height)
{
    x = x < 0 ? 0 : x > pane.rect.width ? pane.rect.width : x;
    y = y < 0 ? 0 : y > pane.rect.height ? pane.rect.height : y;
    if (width > pane.rect.width - x)
        width = pane.rect.width - x;
    if (height > pane.rect.height - y)
        height = pane.rect.height - y;
    pane.rect = (struct cy_rect){pane.rect.x + x, pane.rect.y + y, width < 0 ? 0 : width,
                                 height < 0 ? 0 : height};
    return pane;
}

static struct cy_cell *cell_at(struct cy_pane pane, int x, int y)
{
    int left = pane.rect.x + x, top = pane.rect.y + y;
    if (x < 0 || y < 0 || x >= pane.rect.width || y >= pane.rect.height || left < 0 || top < 0 ||
        left >= pane.canvas->width || top >= pane.canvas->height)
        return NULL;
    return pane.canvas->cells + (size_t)top * (size_t)pane.canvas->width + left;
}

/* Text that is clean and fits already. */
static int put(struct cy_pane pane, int x, int y, const char *text, size_t length,
               enum cy_role_id role)
{
    struct cy_cell *base = NULL;
    int start = x;
    for (size_t i = 0, used; i < length; i += used) {
        int32_t c = cy_utf8_next(text + i, length - i, &used);
        int width = cy_utf8_width(c);
        if (width == 0) {
            for (int slot = 1; base && slot < CY_CELL_CHARS; slot++)
                if (!base->chars[slot]) {
                    base->chars[slot] = c;
                    break;
                }
            continue;
        }
        base = cell_at(pane, x, y);
        if (base)
            *base = (struct cy_cell){.chars = {c}, .role = (uint8_t)role};
        struct cy_cell *covered = width == 2 ? cell_at(pane, x + 1, y) : NULL;
        if (covered)
            *covered = (struct cy_cell){.role = (uint8_t)role};
        x += width;
    }
    return x - start;
}

int cy_draw_fit(struct cy_pane pane, int x, int y, int columns, const char *text,
                enum cy_role_id role)
{
    if (columns > pane.rect.width - x)
        columns = pane.rect.width - x;
    if (columns <= 0 || x < 0 || y < 0 || y >= pane.rect.height)
        return 0;
    struct cy_text clean = {0}, fitted = {0};
    cy_text_add_clean(&clean, text, strlen(text), pane.canvas->ascii);
    cy_text_add_fit(&fitted, cy_text_get(&clean), columns,
                    cy_glyph(CY_GLYPH_CUT, pane.canvas->ascii));
    int used = put(pane, x, y, cy_text_get(&fitted), fitted.length, role);
    cy_text_dispose(&clean);
    cy_text_dispose(&fitted);
    return used;
}

int cy_draw_text(struct cy_pane pane, int x, int y, const char *text, enum cy_role_id role)
{
    return cy_draw_fit(pane, x, y, pane.rect.width - x, text, role);
}

void cy_draw_glyph(struct cy_pane pane, int x, int y, enum cy_glyph_id glyph, enum cy_role_id role)
{
    cy_draw_run(pane, x, y, 1, cy_glyph(glyph, pane.canvas->ascii), role);
}

void cy_draw_run(struct cy_pane pane, int x, int y, int columns, const char *glyph,
                 enum cy_role_id role)
{
    for (int i = 0; i < columns && x + i < pane.rect.width; i++)
        put(pane, x + i, y, glyph, strlen(glyph), role);
}

void cy_draw_over(struct cy_pane pane, int x, int y, int columns, enum cy_role_id role)
{
    for (int i = 0; i < columns; i++) {
        struct cy_cell *cell = cell_at(pane, x + i, y);
        if (cell)
            cell->over = (uint8_t)role;
    }
}

bool cy_draw_is_blank(struct cy_pane pane, int x, int y)
{
    const struct cy_cell *cell = cell_at(pane, x, y);
    return cell && cell->chars[0] == ' ';
}

void cy_draw_cursor(struct cy_pane pane, int x, int y)
{
    if (!cell_at(pane, x, y))
        return;
    pane.canvas->cursor_x = pane.rect.x + x;
    pane.canvas->cursor_y = pane.rect.y + y;
}

/* How many bytes of text make the next line of `columns`: up to a blank, or as much as fits. */
static size_t line_length(const char *text, int columns)
{
    size_t fits = 0, used;
    int width = 0;
    size_t length = strcspn(text, "\n");
    for (size_t i = 0; i < length; i += used) {
        int32_t c = cy_utf8_next(text + i, length - i, &used);
        width += c < 0 ? 1 : cy_utf8_width(c);
        if (width > columns)
            return fits ? fits : i ? i : used;
        if (i + used == length || text[i + used] == ' ')
            fits = i + used;
    }
    return length;
}

static int wrap(struct cy_pane pane, int indent, int y, int most, const char *text,
                enum cy_role_id role, bool draw)
{
    int columns = pane.rect.width - indent, lines = 0;
    if (columns < 1)
        return 0;
    while (*text && lines < most) {
        size_t length = line_length(text, columns);
        bool last = lines + 1 == most;
        char *line = draw ? cy_strndup(text, last ? strcspn(text, "\n") : length) : NULL;
        if (line)
            cy_draw_text(pane, indent, y + lines, line, role);
        free(line);
        lines++;
        text += length;
        if (*text == '\n')
            text++;
        else
            text += strspn(text, " ");
    }
    return lines;
}

int cy_draw_wrapped(struct cy_pane pane, int indent, int y, int most, const char *text,
                    enum cy_role_id role)
{
    return wrap(pane, indent, y, most, text, role, true);
}

int cy_draw_measure(struct cy_pane pane, int indent, int most, const char *text)
{
    return wrap(pane, indent, 0, most, text, CY_ROLE_NORMAL, false);
}

void cy_draw_heading(struct cy_pane pane, const char *title, const char *detail, bool focused)
{
    int x = 0;
    cy_draw_run(pane, 0, 0, pane.rect.width, cy_glyph(CY_GLYPH_RULE, pane.canvas->ascii),
                CY_ROLE_FAINT);
    x += cy_draw_text(pane, 1, 0, " ", CY_ROLE_NORMAL);
    int width = cy_draw_text(pane, x + 1, 0, title, focused ? CY_ROLE_FOCUS : CY_ROLE_HEADING);
    x += 1 + width;
    x += cy_draw_text(pane, x, 0, " ", CY_ROLE_NORMAL);
    if (*detail) {
        x += cy_draw_text(pane, x, 0, detail, CY_ROLE_NORMAL);
        cy_draw_text(pane, x, 0, " ", CY_ROLE_NORMAL);
    }
}
