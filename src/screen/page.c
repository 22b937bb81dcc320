/* SPDX-License-Identifier: MIT
 * A page: lines over the bands, which can be scrolled, and among which figures can be chosen. */
#include "screen/view.h"

#include <stdlib.h>

#include <caneyear/base/array.h>

#define MOST_LINES 1000 /* of one paragraph */
#define LEFT 2          /* columns before the text: a blank, and the mark */
/* A sheet that would have less has the whole body. */
#define SHEET_LINES 24

/* ---- where the lines stand ------------------------------------------------------------------ */

/* The blanks that a line begins with also stand before what it is wrapped to. */
static int indent_of(const char *line)
{
    int indent = 0;
    while (line[indent] == ' ')
        indent++;
    return indent < 20 ? indent : 20;
}

static bool is_choosable(const struct cy_page *page, size_t line)
{
    return line < page->lines.count &&
           (page->at.kind == CY_PAGE_LIST || page->lines.lines[line].why);
}

/* The line of the page that stands, or goes on, where it is scrolled to. */
static size_t line_at(const struct cy_page *page, int y)
{
    size_t line = 0;
    while (page->starts && line + 1 < page->lines.count && page->starts[line + 1] <= y)
        line++;
    return line;
}

static int line_count(const struct cy_page *page)
{
    return page->starts ? page->starts[page->lines.count] : 0;
}

static struct cy_pane body_of(struct cy_screen *screen)
{
    struct cy_pane pane = {&screen->canvas, cy_page_rect(screen)};
    return cy_pane_part(pane, 0, 1, pane.rect.width - 1, pane.rect.height - 1);
}

static void measure(struct cy_page *page, struct cy_pane pane)
{
    free(page->starts);
    page->starts = cy_zeroed(page->lines.count + 1, sizeof *page->starts);
    for (size_t i = 0; page->starts && i < page->lines.count; i++) {
        const struct cy_sheet_line *line = &page->lines.lines[i];
        int indent = indent_of(line->text), took = 1;
        if (line->role != CY_SHEET_PICTURE)
            took = cy_draw_measure(pane, LEFT + indent, MOST_LINES, line->text + indent);
        page->starts[i + 1] = page->starts[i] + (took > 0 ? took : 1);
    }
}

static void scroll(struct cy_page *page, int lines)
{
    int most = line_count(page) > page->height ? line_count(page) - page->height : 0;
    page->at.top += lines;
    page->at.top = page->at.top < 0 ? 0 : page->at.top > most ? most : page->at.top;
}

/* ---- made anew where what it shows has changed ---------------------------------------------- */

static bool is_same(const struct cy_page_source *a, const struct cy_page_source *b)
{
    return a->plan_number == b->plan_number && a->row == b->row && a->day == b->day &&
           a->whole_farm == b->whole_farm && a->width == b->width;
}

static bool in_sight(const struct cy_page *page, size_t line)
{
    return page->starts && line < page->lines.count &&
           page->starts[line] < page->at.top + page->height &&
           page->starts[line + 1] > page->at.top;
}

bool cy_page_line_chosen(const struct cy_page *page)
{
    return is_choosable(page, page->at.line) && in_sight(page, page->at.line);
}

static struct cy_page_standing standing_of(const struct cy_page *page)
{
    struct cy_page_standing standing = {.known = page->starts != NULL,
                                        .top = line_at(page, page->at.top)};
    if (!page->starts || !cy_page_line_chosen(page))
        return standing;
    standing.figure = page->lines.lines[page->at.line];
    standing.figure.text = NULL;
    standing.below_top = page->starts[page->at.line] - page->at.top;
    return standing;
}

/* The line that shows a figure: the one that did, where it still does; the count of lines where
 * none does. */
static size_t line_of(const struct cy_page *page, const struct cy_sheet_line *figure, size_t before)
{
    size_t found = page->lines.count;
    for (size_t i = 0; figure->why && i < page->lines.count; i++) {
        const struct cy_sheet_line *line = &page->lines.lines[i];
        bool same =
            line->why == figure->why && line->row == figure->row && line->item == figure->item;
        if (same && (found == page->lines.count || i == before))
            found = i;
    }
    return found;
}

static void stand_again(struct cy_page *page, const struct cy_page_standing *standing)
{
    size_t line = line_of(page, &standing->figure, page->at.line);
    size_t top = standing->top < page->lines.count ? standing->top : page->lines.count;
    page->at.top = page->starts[top];
    if (line == page->lines.count)
        return;
    bool fits = standing->below_top < page->height;
    page->at.line = line;
    page->at.top = page->starts[line] - (fits ? standing->below_top : page->height / 2);
}

/* A page borrows the plan, which any move of the day may replace: nothing looks into its lines
 * before this was called. */
static void follow(struct cy_screen *screen)
{
    struct cy_page *page = &screen->page;
    const struct cy_model *model = &screen->model;
    struct cy_pane body = body_of(screen);
    struct cy_page_source now = {model->plan_number, model->row, model->day, model->whole_farm,
                                 body.rect.width};
    if (page->made && page->height == body.rect.height && is_same(&now, &page->source))
        return;
    struct cy_page_standing standing = page->made ? standing_of(page) : page->at.standing;
    page->height = body.rect.height;
    if (page->at.kind != CY_PAGE_TEXT)
        cy_page_make(screen);
    page->source = now;
    page->made = true;
    measure(page, body);
    if (standing.known && page->starts)
        stand_again(page, &standing);
    scroll(page, 0);
}

/* ---- opening and closing -------------------------------------------------------------------- */

static void drop_lines(struct cy_page *page)
{
    cy_sheet_dispose(&page->lines);
    free(page->starts);
    page->starts = NULL;
    page->made = false;
}

void cy_page_begin(struct cy_screen *screen)
{
    struct cy_page *page = &screen->page;
    if (page->at.open && page->at.kind != CY_PAGE_TEXT) {
        page->beneath = page->at;
        page->beneath.standing = standing_of(page);
    } else if (!page->at.open) {
        page->beneath = (struct cy_page_place){0};
    }
    drop_lines(page);
    cy_text_clear(&page->title);
    cy_text_clear(&page->text);
}

void cy_page_open(struct cy_screen *screen, bool whole)
{
    struct cy_page *page = &screen->page;
    page->at = (struct cy_page_place){.open = true, .whole = whole};
    cy_text_add(&page->lines.title, cy_text_get(&page->title));
    cy_sheet_add_text(&page->lines, CY_SHEET_TEXT, &page->text);
}

void cy_page_close(struct cy_screen *screen)
{
    struct cy_page *page = &screen->page;
    drop_lines(page);
    page->at = page->beneath;
    page->beneath = (struct cy_page_place){0};
}

void cy_page_dispose(struct cy_page *page)
{
    drop_lines(page);
    cy_text_dispose(&page->title);
    cy_text_dispose(&page->text);
}

struct cy_rect cy_page_rect(const struct cy_screen *screen)
{
    const struct cy_page_place *at = &screen->page.at;
    const struct cy_layout *layout = &screen->layout;
    bool needs_height = at->kind == CY_PAGE_SHEET && layout->lower.height < SHEET_LINES;
    return at->whole || needs_height ? layout->body : layout->lower;
}

/* ---- choosing ------------------------------------------------------------------------------- */

/* The nearest line that can be chosen, in a direction; the count of lines where there is none. */
static size_t choosable_from(const struct cy_page *page, size_t line, int direction)
{
    for (; line < page->lines.count; line += (size_t)direction)
        if (is_choosable(page, line))
            return line;
    return page->lines.count;
}

/* Where the chosen line is out of sight, the first one in it stands in. */
static void choose_in_sight(struct cy_page *page)
{
    if (cy_page_line_chosen(page))
        return;
    for (size_t i = line_at(page, page->at.top); in_sight(page, i); i++)
        if (is_choosable(page, i)) {
            page->at.line = i;
            return;
        }
}

static bool choose(struct cy_page *page, size_t line)
{
    if (!in_sight(page, line))
        return false;
    page->at.line = line;
    if (page->starts[line] < page->at.top)
        scroll(page, page->starts[line] - page->at.top);
    else if (page->starts[line + 1] > page->at.top + page->height)
        scroll(page, page->starts[line + 1] - page->at.top - page->height);
    return true;
}

/* To the next line that can be chosen where one is in sight; else the page scrolls towards it. */
static unsigned step(struct cy_page *page, int direction)
{
    size_t start = page->at.line + (size_t)direction;
    if (!cy_page_line_chosen(page))
        start = direction > 0 ? line_at(page, page->at.top)
                              : line_at(page, page->at.top + page->height - 1);
    size_t next = choosable_from(page, start, direction);
    if (!choose(page, next)) {
        scroll(page, direction);
        choose(page, next);
    }
    return CY_DID_REDRAW;
}

static unsigned turn(struct cy_page *page, int lines)
{
    scroll(page, lines);
    choose_in_sight(page);
    return CY_DID_REDRAW;
}

static unsigned to_end(struct cy_page *page, int direction)
{
    scroll(page, direction * line_count(page));
    size_t last = page->lines.count - 1;
    size_t line = choosable_from(page, direction < 0 ? 0 : last, -direction);
    if (!choose(page, line))
        choose_in_sight(page);
    return CY_DID_REDRAW;
}

/* ---- drawing -------------------------------------------------------------------------------- */

static enum cy_role_id look_of(enum cy_sheet_role role)
{
    static const enum cy_role_id roles[] = {
        [CY_SHEET_TEXT] = CY_ROLE_NORMAL,     [CY_SHEET_HEADING] = CY_ROLE_HEADING,
        [CY_SHEET_PICTURE] = CY_ROLE_NORMAL,  [CY_SHEET_GOOD] = CY_ROLE_GOOD,
        [CY_SHEET_WARNING] = CY_ROLE_WARNING, [CY_SHEET_CAUTION] = CY_ROLE_WARNING,
    };
    return roles[role];
}

static void draw_line(const struct cy_page *page, struct cy_pane pane, size_t index, bool focused)
{
    const struct cy_sheet_line *line = &page->lines.lines[index];
    int y = page->starts[index] - page->at.top, indent = indent_of(line->text);
    enum cy_role_id role = look_of(line->role);
    if (line->role == CY_SHEET_PICTURE)
        cy_draw_text(pane, LEFT, y, line->text, role);
    else
        cy_draw_wrapped(pane, LEFT + indent, y, MOST_LINES, line->text + indent, role);
    if (!cy_page_line_chosen(page) || page->at.line != index)
        return;
    int mark = y < 0 ? 0 : y;
    cy_draw_glyph(pane, LEFT - 1, mark, CY_GLYPH_MARK, CY_ROLE_CHOSEN);
    for (int i = y; focused && i < page->starts[index + 1] - page->at.top; i++)
        cy_draw_over(pane, LEFT, i, pane.rect.width - LEFT, CY_ROLE_SELECTED);
    if (focused)
        cy_draw_cursor(pane, LEFT - 1, mark);
}

/* "lines 3 to 20 of 64" where not all are in sight. */
static void say_extent(struct cy_text *out, const struct cy_page *page)
{
    int count = line_count(page), end = page->at.top + page->height;
    if (count <= page->height)
        return;
    cy_text_add(out, "lines ");
    cy_text_add_int(out, page->at.top + 1);
    cy_text_add(out, " to ");
    cy_text_add_int(out, end < count ? end : count);
    cy_text_add(out, " of ");
    cy_text_add_int(out, count);
}

static void draw(struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    struct cy_page *page = &screen->page;
    struct cy_text detail = {0};
    for (int y = 0; y < pane.rect.height; y++)
        cy_draw_run(pane, 0, y, pane.rect.width, " ", CY_ROLE_NORMAL);
    follow(screen);
    choose_in_sight(page);
    say_extent(&detail, page);
    cy_draw_heading(pane, cy_text_get(&page->lines.title), cy_text_get(&detail), focused);
    cy_draw_cursor(pane, 1, 0);
    cy_text_dispose(&detail);
    for (size_t i = line_at(page, page->at.top); in_sight(page, i); i++)
        draw_line(page, body_of(screen), i, focused);
}

static unsigned act(struct cy_screen *screen, enum cy_action action)
{
    struct cy_page *page = &screen->page;
    follow(screen);
    switch (action) {
    case CY_ACTION_UP:
        return step(page, -1);
    case CY_ACTION_DOWN:
        return step(page, 1);
    case CY_ACTION_PAGE_UP:
        return turn(page, 1 - page->height);
    case CY_ACTION_PAGE_DOWN:
        return turn(page, page->height - 1);
    case CY_ACTION_FIRST:
        return to_end(page, -1);
    case CY_ACTION_LAST:
        return to_end(page, 1);
    case CY_ACTION_CLOSE:
        cy_page_close(screen);
        return CY_DID_REDRAW;
    default:
        break;
    }
    if (page->at.kind == CY_PAGE_LIST)
        return cy_page_list_act(screen, action);
    return page->at.kind == CY_PAGE_SHEET ? cy_page_sheet_act(screen, action) : CY_DID_NOTHING;
}

/* Chooses the line there, where it is one that can be. */
static unsigned click(struct cy_screen *screen, int x, int y)
{
    struct cy_page *page = &screen->page;
    (void)x;
    follow(screen);
    size_t line = line_at(page, page->at.top + y - 1);
    if (y >= 1 && is_choosable(page, line))
        choose(page, line);
    return CY_DID_REDRAW;
}

const struct cy_view cy_view_page = {.draw = draw, .act = act, .click = click};
