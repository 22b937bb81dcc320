/* SPDX-License-Identifier: MIT
 * The rows band: the field from above, each row a strip at its true place in the state of the day
 * cursor. */
#include "screen/view.h"

#include <math.h>
#include <string.h>

#define GUTTER_MOST 14
#define ROOM_OF_TITLE 8 /* "- Rows " before the heading's words, a blank behind them */
/* No column stands for more than this: a wider field is seen through a window. */
#define WIDEST_COLUMN_M 20.0

/* How the field lies in the pane. */
struct window {
    struct cy_pane pane;
    int left, columns;  /* where strips may be drawn */
    int top, per_strip; /* first line of the field shown; lines to a strip */
    double from_m, column_m;
};

static const struct cy_plan_row *row_of(const struct cy_screen *screen,
                                        const struct cy_strip *strip)
{
    const struct cy_plan *plan = screen->model.plan;
    return plan && strip->row < plan->row_count ? &plan->rows[strip->row] : NULL;
}

/* ---- one strip ------------------------------------------------------------------------------ */

struct canes {
    enum cy_state old, new; /* ABSENT where there are none */
};

static enum cy_state state_of(const struct cy_plan_row *row, enum cy_role role, cy_day day)
{
    const struct cy_plan_cohort *cohort = cy_model_cohort(row, role);
    enum cy_state state = cohort ? cy_plan_state(cohort, day) : CY_STATE_ABSENT;
    return state == CY_STATE_GONE ? CY_STATE_ABSENT : state;
}

static struct canes canes_of(const struct cy_plan_row *row, cy_day day)
{
    return (struct canes){state_of(row, CY_ROLE_FLORICANES, day),
                          state_of(row, CY_ROLE_PRIMOCANES, day)};
}

/* Share of the row that has no plants: what is known is how many, not where. */
static double share_missing(const struct cy_thing *row)
{
    double filled = cy_number(row, CY_ROW_FILLED);
    if (!isnan(filled))
        return 1 - filled;
    double plants = cy_number(row, CY_ROW_LENGTH) / cy_number(row, CY_ROW_SPACING);
    double missing = cy_number(row, CY_ROW_MISSING);
    return plants >= 1 && missing < plants ? missing / plants : 0;
}

/* Whether the i-th of so many places is empty, when a share of them is, evenly spread; any share
 * at all shows at least once. */
static bool is_gap(int i, int places, double share)
{
    int gaps = (int)floor(places * share + 0.5);
    if (share > 0 && gaps == 0)
        gaps = 1;
    return gaps > 0 && ((i + 1) * gaps + places / 2) / places > (i * gaps + places / 2) / places;
}

/* Whether a multiple of `every` lies in [from, to). */
static bool holds_multiple(double from, double to, double every)
{
    return ceil(from / every - 1e-9) * every < to - 1e-9;
}

struct strip_look {
    const struct cy_strip *strip;
    const struct cy_plan_row *row;
    struct canes canes;
    double post_m, plant_m, missing;
    int first, columns; /* in columns of the window, before clipping */
    bool planted;
};

static struct strip_look look_at(const struct cy_screen *screen, const struct window *window,
                                 const struct cy_strip *strip)
{
    const struct cy_farm *farm = &screen->model.plan->farm;
    const struct cy_thing *trellis = cy_referred(farm, strip->thing, CY_ROW_TRELLIS);
    struct strip_look look = {.strip = strip,
                              .row = row_of(screen, strip),
                              .post_m = trellis ? cy_number(trellis, CY_TRELLIS_SPACING) : NAN,
                              .plant_m = cy_number(strip->thing, CY_ROW_SPACING),
                              .missing = share_missing(strip->thing)};
    cy_day planted = cy_date(strip->thing, CY_ROW_PLANTED);
    look.planted = planted == CY_DAY_NONE || planted <= screen->model.day;
    look.canes = canes_of(look.row, screen->model.day);
    double from = (strip->from_m - window->from_m) / window->column_m;
    look.first = (int)floor(from + 0.5);
    look.columns = (int)floor(strip->length_m / window->column_m + 0.5);
    if (look.columns < 2)
        look.columns = 2;
    return look;
}

/* Old and new canes share a line by turns; with two lines each has its own. */
static enum cy_state state_shown(const struct strip_look *look, int column, int line, int lines)
{
    const struct canes *canes = &look->canes;
    if (lines > 1)
        return line == 0 ? canes->old : canes->new;
    if (canes->old == CY_STATE_ABSENT)
        return canes->new;
    if (canes->new == CY_STATE_ABSENT)
        return canes->old;
    return column % 2 ? canes->new : canes->old;
}

static void draw_column(const struct strip_look *look, const struct window *window, int column,
                        int line)
{
    int x = look->first + column, lines = window->per_strip;
    struct cy_pane field =
        cy_pane_part(window->pane, window->left, 0, window->columns, window->pane.rect.height);
    int y = 1 + (look->strip->line - window->top) * lines + line;
    double from = column * window->column_m, to = from + window->column_m;
    bool end = column == 0 || column == look->columns - 1;
    bool ascii = field.canvas->ascii;
    if (y < 1 || x < 0 || x >= field.rect.width)
        return;
    if (!isnan(look->post_m) && end) {
        cy_draw_glyph(field, x, y, CY_GLYPH_END_POST, CY_ROLE_POST);
    } else if (!isnan(look->post_m) && look->post_m >= 2.5 * window->column_m &&
               holds_multiple(from, to, look->post_m)) {
        cy_draw_glyph(field, x, y, CY_GLYPH_POST, CY_ROLE_POST);
    } else if (!look->planted) {
        cy_draw_glyph(field, x, y, CY_GLYPH_UNPLANTED, CY_ROLE_WIRE);
    } else if (look->plant_m > 2 * window->column_m &&
               !holds_multiple(from - look->plant_m / 2, to - look->plant_m / 2, look->plant_m)) {
        cy_draw_glyph(field, x, y, CY_GLYPH_WIRE, CY_ROLE_WIRE);
    } else if (is_gap(column, look->columns, look->missing)) {
        cy_draw_glyph(field, x, y, CY_GLYPH_GAP, CY_ROLE_GAP);
    } else {
        enum cy_state state = state_shown(look, column, line, lines);
        if (state == CY_STATE_ABSENT)
            cy_draw_glyph(field, x, y, CY_GLYPH_WIRE, CY_ROLE_WIRE);
        else
            cy_draw_run(field, x, y, 1, cy_cane_glyph(state, CY_PART_ALONE, 0.7, column, ascii),
                        cy_cane_role(state));
    }
}

/* The name stands left of the strip, or right of it, wherever that is free. */
static void draw_name(const struct strip_look *look, const struct window *window, bool chosen,
                      bool focused)
{
    const char *name = look->row->name;
    struct cy_pane pane = window->pane;
    int y = 1 + (look->strip->line - window->top) * window->per_strip;
    int start = window->left + look->first, end = start + look->columns;
    int width = cy_utf8_columns(name), room = 0;
    enum cy_role_id role = chosen ? CY_ROLE_CHOSEN : CY_ROLE_FAINT;
    if (start < window->left)
        start = window->left;
    if (y < 1)
        return;
    if (width > GUTTER_MOST - 2)
        width = GUTTER_MOST - 2;
    while (room < width + 3 && start - 1 - room >= 0 && cy_draw_is_blank(pane, start - 1 - room, y))
        room++;
    if (room >= width + 1 && (room == width + 3 || room == start))
        cy_draw_fit(pane, start - 1 - width, y, width, name, role);
    else if (cy_draw_is_blank(pane, end + 1, y) && end + 1 + width <= pane.rect.width)
        cy_draw_fit(pane, end + 1, y, width, name, role);
    if (!chosen)
        return;
    cy_draw_over(pane, start, y, end - start, focused ? CY_ROLE_SELECTED : CY_ROLE_CHOSEN);
    cy_draw_glyph(pane, start - 1, y, CY_GLYPH_MARK, CY_ROLE_CHOSEN);
    if (focused)
        cy_draw_cursor(pane, start - 1, y);
}

/* ---- the band ------------------------------------------------------------------------------- */

static int widest_name(const struct cy_screen *screen)
{
    int widest = 0;
    for (size_t i = 0; i < screen->model.plan->row_count; i++) {
        int width = cy_utf8_columns(screen->model.plan->rows[i].name);
        widest = width > widest ? width : widest;
    }
    return widest + 2 < GUTTER_MOST ? widest + 2 : GUTTER_MOST;
}

static bool shares_lines(const struct cy_field_map *field)
{
    for (size_t i = 1; i < field->count; i++)
        for (size_t k = 0; k < i; k++)
            if (field->strips[i].line == field->strips[k].line)
                return true;
    return false;
}

static struct window window_of(const struct cy_screen *screen, struct cy_pane pane)
{
    const struct cy_field_map *field = &screen->field;
    const struct cy_strip *chosen = &field->strips[screen->model.row];
    int gutter = widest_name(screen), height = pane.rect.height - 1;
    struct window window = {.pane = pane, .left = gutter, .per_strip = 1};
    window.columns = pane.rect.width - gutter - (shares_lines(field) ? gutter : 1);
    if (window.columns < 4)
        window.columns = 4;
    window.column_m = field->length_m / window.columns;
    if (window.column_m > WIDEST_COLUMN_M) {
        window.column_m = WIDEST_COLUMN_M;
        double seen = window.columns * window.column_m;
        window.from_m = chosen->from_m + chosen->length_m / 2 - seen / 2;
        window.from_m = fmax(0, fmin(window.from_m, field->length_m - seen));
    }
    if (field->lines * 2 <= height)
        window.per_strip = 2;
    int lines = height / window.per_strip;
    window.top = chosen->line - lines / 2;
    if (window.top > field->lines - lines)
        window.top = field->lines - lines;
    if (window.top < 0)
        window.top = 0;
    return window;
}

static void say_state(struct cy_text *out, const struct cy_plan_row *row, enum cy_role role,
                      cy_day day, bool brief)
{
    const struct cy_plan_cohort *cohort = cy_model_cohort(row, role);
    if (!cohort)
        return;
    cy_text_add(out, role == CY_ROLE_FLORICANES ? ", old " : ", new ");
    cy_text_add(out, brief ? "" : "canes ");
    cy_text_add(out, cy_state_word(cy_plan_state(cohort, day)));
}

/* What can be picked of the row on the cursor's day, and of the whole farm. */
static void say_ripe(struct cy_text *out, const struct cy_screen *screen,
                     const struct cy_plan_row *row, bool brief)
{
    const struct cy_plan *plan = screen->model.plan;
    enum cy_system system = cy_farm_system(&plan->farm);
    double all_kg = 0;
    for (size_t i = 0; i < plan->row_count; i++)
        all_kg += cy_plan_ripe_kg(&plan->rows[i], screen->model.day);
    if (all_kg < 0.5)
        return;
    cy_text_add(out, ", ripe ");
    cy_quantity_show(out, cy_plan_ripe_kg(row, screen->model.day), CY_Q_MASS, NULL, system, 0);
    cy_text_add(out, brief ? " of " : " of the farm's ");
    cy_quantity_show(out, all_kg, CY_Q_MASS, NULL, system, 0);
}

static void say_row(struct cy_text *out, const struct cy_screen *screen,
                    const struct cy_thing *cultivar, bool brief)
{
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    cy_text_add(out, row->name);
    if (cultivar) {
        cy_text_add(out, ", ");
        cy_text_add(out, cy_thing_name(cultivar));
    }
    say_ripe(out, screen, row, brief);
    say_state(out, row, CY_ROLE_FLORICANES, screen->model.day, brief);
    say_state(out, row, CY_ROLE_PRIMOCANES, screen->model.day, brief);
    if (row->notes & CY_NOTE_NOT_PLANTED)
        cy_text_add(out, ", not planted yet");
}

/* In as few words as it takes to fit; the cultivar's name goes last. */
static void say_row_within(struct cy_text *out, const struct cy_screen *screen, int columns)
{
    const struct cy_farm *farm = &screen->model.plan->farm;
    const struct cy_thing *cultivar = cy_referred(
        farm, cy_farm_by_id(farm, cy_model_row(&screen->model)->thing), CY_ROW_CULTIVAR);
    say_row(out, screen, cultivar, false);
    for (int pass = 0; pass < 2 && cy_utf8_columns(cy_text_get(out)) > columns; pass++) {
        cy_text_clear(out);
        say_row(out, screen, pass == 0 ? cultivar : NULL, true);
    }
}

static void draw_heading(const struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    struct cy_text detail = {0};
    /* To the right, the way that left and right lie. */
    struct cy_text compass = {0};
    cy_text_add(&compass, cy_field_compass(screen->field.bearing + 180));
    cy_text_add(&compass, " ");
    cy_text_add(&compass, cy_glyph(CY_GLYPH_LEFT, screen->ascii));
    cy_text_add(&compass, cy_glyph(CY_GLYPH_RIGHT, screen->ascii));
    cy_text_add(&compass, " ");
    cy_text_add(&compass, cy_field_compass(screen->field.bearing));
    int width = cy_utf8_columns(cy_text_get(&compass)) + 2, x = pane.rect.width - width - 1;
    say_row_within(&detail, screen, x - ROOM_OF_TITLE);
    if (row->leaf > 0 && cy_utf8_columns(cy_text_get(&detail)) + 20 < x) {
        cy_text_add(&detail, ", season ");
        cy_text_add_int(&detail, row->leaf);
    }
    cy_draw_heading(pane, "Rows", "", focused);
    cy_draw_heading(cy_pane_part(pane, 0, 0, x, 1), "Rows", cy_text_get(&detail), focused);
    cy_draw_run(pane, x, 0, width, " ", CY_ROLE_NORMAL);
    cy_draw_text(pane, x + 1, 0, cy_text_get(&compass), CY_ROLE_FAINT);
    cy_text_dispose(&compass);
    cy_text_dispose(&detail);
}

static void draw(struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    const struct cy_field_map *field = &screen->field;
    if (!screen->model.plan || !cy_model_row(&screen->model) ||
        field->count != screen->model.plan->row_count) {
        cy_draw_heading(pane, "Rows", "", focused);
        cy_draw_text(pane, 2, 1, "This farm has no rows yet: `caneyear import` brings them in.",
                     CY_ROLE_NORMAL);
        cy_draw_cursor(pane, 1, 0);
        return;
    }
    struct window window = window_of(screen, pane);
    draw_heading(screen, pane, focused);
    for (size_t i = 0; i < field->count; i++) {
        struct strip_look look = look_at(screen, &window, &field->strips[i]);
        for (int line = 0; line < window.per_strip; line++)
            for (int column = 0; column < look.columns; column++)
                draw_column(&look, &window, column, line);
    }
    for (size_t i = 0; i < field->count; i++) {
        struct strip_look look = look_at(screen, &window, &field->strips[i]);
        draw_name(&look, &window, i == screen->model.row, focused);
    }
}

/* ---- moving --------------------------------------------------------------------------------- */

/* Up and down go by place on the screen: line by line, from left to right. */
static bool stands_before(const struct cy_strip *a, const struct cy_strip *b)
{
    return a->line != b->line ? a->line < b->line : a->from_m < b->from_m;
}

static unsigned step(struct cy_screen *screen, int direction)
{
    const struct cy_field_map *field = &screen->field;
    const struct cy_strip *chosen, *best = NULL;
    if (screen->model.row >= field->count)
        return CY_DID_REDRAW;
    chosen = &field->strips[screen->model.row];
    for (size_t i = 0; i < field->count; i++) {
        const struct cy_strip *other = &field->strips[i];
        bool beyond = direction > 0 ? stands_before(chosen, other) : stands_before(other, chosen);
        bool nearer =
            !best || (direction > 0 ? stands_before(other, best) : stands_before(best, other));
        if (beyond && nearer)
            best = other;
    }
    if (best)
        cy_model_choose_row(&screen->model, best->row);
    return CY_DID_REDRAW;
}

static unsigned step_to_end(struct cy_screen *screen, int direction)
{
    size_t before;
    do {
        before = screen->model.row;
        step(screen, direction);
    } while (screen->model.row != before);
    return CY_DID_REDRAW;
}

static unsigned act(struct cy_screen *screen, enum cy_action action)
{
    switch (action) {
    case CY_ACTION_UP:
    case CY_ACTION_ROW_BACK:
        return step(screen, -1);
    case CY_ACTION_DOWN:
    case CY_ACTION_ROW_NEXT:
        return step(screen, 1);
    case CY_ACTION_FIRST:
        return step_to_end(screen, -1);
    case CY_ACTION_LAST:
        return step_to_end(screen, 1);
    case CY_ACTION_OPEN:
        return cy_why_row(screen);
    default:
        return CY_DID_NOTHING;
    }
}

static unsigned click(struct cy_screen *screen, int x, int y)
{
    if (!screen->field.count || screen->model.row >= screen->field.count)
        return CY_DID_REDRAW;
    struct cy_pane pane = {&screen->canvas, screen->layout.band[CY_BAND_ROWS]};
    struct window window = window_of(screen, pane);
    int line = y < 1 ? -1 : (y - 1) / window.per_strip + window.top;
    const struct cy_strip *best = NULL;
    double at = (x - window.left) * window.column_m + window.from_m;
    for (size_t i = 0; i < screen->field.count; i++) {
        const struct cy_strip *strip = &screen->field.strips[i];
        if (strip->line == line && (!best || fabs(strip->from_m + strip->length_m / 2 - at) <
                                                 fabs(best->from_m + best->length_m / 2 - at)))
            best = strip;
    }
    if (best)
        cy_model_choose_row(&screen->model, best->row);
    return CY_DID_REDRAW;
}

const struct cy_view cy_view_rows = {.draw = draw, .act = act, .click = click};
