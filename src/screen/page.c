/* SPDX-License-Identifier: MIT
 * A page: long text over the bands, which can be scrolled. */
#include "screen/view.h"

#define MOST_LINES 1000 /* of one paragraph */

void cy_page_open(struct cy_screen *screen, bool whole)
{
    screen->page.open = true;
    screen->page.whole = whole;
    screen->page.top = 0;
}

void cy_page_close(struct cy_screen *screen)
{
    screen->page.open = false;
    cy_text_clear(&screen->page.title);
    cy_text_clear(&screen->page.text);
}

static void scroll(struct cy_page *page, int lines)
{
    int most = page->lines > page->height ? page->lines - page->height : 0;
    page->top += lines;
    page->top = page->top < 0 ? 0 : page->top > most ? most : page->top;
}

/* The blanks that a line begins with also stand before what it is wrapped to. */
static int indent_of(const char *line)
{
    int indent = 0;
    while (line[indent] == ' ')
        indent++;
    return indent < 20 ? indent : 20;
}

/* Draws the text from line `top` on and counts its lines. */
static int draw_text(const struct cy_page *page, struct cy_pane pane)
{
    int lines = 0;
    for (const char *text = cy_text_get(&page->text); *text;) {
        struct cy_text line = {0};
        size_t length = 0;
        while (text[length] && text[length] != '\n')
            length++;
        cy_text_add_n(&line, text, length);
        int indent = indent_of(cy_text_get(&line));
        const char *words = cy_text_get(&line) + indent;
        int y = lines - page->top;
        int took = y < pane.rect.height
                       ? cy_draw_wrapped(pane, 2 + indent, y, MOST_LINES, words, CY_ROLE_NORMAL)
                       : cy_draw_measure(pane, 2 + indent, MOST_LINES, words);
        lines += took > 0 ? took : 1;
        text += length + (text[length] == '\n');
        cy_text_dispose(&line);
    }
    return lines;
}

static void draw(struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    struct cy_page *page = &screen->page;
    struct cy_pane body = cy_pane_part(pane, 0, 1, pane.rect.width - 1, pane.rect.height - 1);
    for (int y = 0; y < pane.rect.height; y++)
        cy_draw_run(pane, 0, y, pane.rect.width, " ", CY_ROLE_NORMAL);
    page->height = body.rect.height;
    page->lines = draw_text(page, body);
    scroll(page, 0);
    struct cy_text detail = {0};
    if (page->lines > page->height) {
        cy_text_add(&detail, "lines ");
        cy_text_add_int(&detail, page->top + 1);
        cy_text_add(&detail, " to ");
        cy_text_add_int(&detail, page->top + page->height < page->lines ? page->top + page->height
                                                                        : page->lines);
        cy_text_add(&detail, " of ");
        cy_text_add_int(&detail, page->lines);
    }
    cy_draw_heading(pane, cy_text_get(&page->title), cy_text_get(&detail), focused);
    cy_draw_cursor(pane, 1, 0);
    cy_text_dispose(&detail);
}

static unsigned act(struct cy_screen *screen, enum cy_action action)
{
    struct cy_page *page = &screen->page;
    switch (action) {
    case CY_ACTION_UP:
        scroll(page, -1);
        return CY_DID_REDRAW;
    case CY_ACTION_DOWN:
        scroll(page, 1);
        return CY_DID_REDRAW;
    case CY_ACTION_PAGE_UP:
        scroll(page, 1 - page->height);
        return CY_DID_REDRAW;
    case CY_ACTION_PAGE_DOWN:
        scroll(page, page->height - 1);
        return CY_DID_REDRAW;
    case CY_ACTION_FIRST:
        scroll(page, -page->lines);
        return CY_DID_REDRAW;
    case CY_ACTION_LAST:
        scroll(page, page->lines);
        return CY_DID_REDRAW;
    case CY_ACTION_CLOSE:
        cy_page_close(screen);
        return CY_DID_REDRAW;
    default:
        return CY_DID_NOTHING;
    }
}

static unsigned click(struct cy_screen *screen, int x, int y)
{
    (void)screen;
    (void)x;
    (void)y;
    return CY_DID_REDRAW;
}

const struct cy_view cy_view_page = {.draw = draw, .act = act, .click = click};
