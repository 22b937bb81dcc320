/* SPDX-License-Identifier: MIT
 * The canes band: the chosen row's cohorts as lives over two seasons, and the dates ahead.
 *
 * The picture runs from half a season before the day cursor's season to half a season after it.
 * Of each life the upper line has the dates, each a letter in the middle of its spread, and the
 * lower one the canes; where there is room, what they bear stands on a line between. */
#include "screen/view.h"

#include <math.h>

#include "words/words.h"

#define MARGIN 13 /* " last year's " */
#define HALF_SEASON 183
#define WEEK 7
/* Dates to the right of the lives need this much. */
#define SIDE_WIDTH 66

struct picture {
    struct cy_pane pane;
    const struct cy_plan *plan;
    const struct cy_plan_row *row;
    cy_day from, to;
    int column_days, columns;
    int per_life; /* lines: 1 the canes, 2 with the dates above, 3 with what they bear */
};

static int column_of(const struct picture *picture, double day)
{
    return (int)floor((day - picture->from) / picture->column_days);
}

static cy_day middle_of(const struct picture *picture, int column)
{
    return picture->from + column * picture->column_days + picture->column_days / 2;
}

/* ---- one life ------------------------------------------------------------------------------- */

static bool in_sight(const struct picture *picture, const struct cy_plan_cohort *cohort)
{
    for (int column = 0; column < picture->columns; column++) {
        enum cy_state state = cy_plan_state(cohort, middle_of(picture, column));
        if (state != CY_STATE_ABSENT && state != CY_STATE_GONE)
            return true;
    }
    return false;
}

/* How far the canes have come between coming up and being tipped or resting. */
static double grown_by(const struct cy_plan_cohort *cohort, cy_day day)
{
    double from = cohort->stage[CY_STAGE_EMERGENCE].p50, to = cohort->stage[CY_STAGE_TIP].p50;
    if (isnan(to))
        to = cohort->stage[CY_STAGE_DORMANT].p50;
    return isnan(from) || isnan(to) || to <= from ? 0.5 : (day - from) / (to - from);
}

static void draw_canes(const struct picture *picture, const struct cy_plan_cohort *cohort, int y)
{
    bool ascii = picture->pane.canvas->ascii, alone = picture->per_life < 3;
    for (int column = 0; column < picture->columns; column++) {
        cy_day day = middle_of(picture, column);
        enum cy_state state = cy_plan_state(cohort, day);
        double grown = grown_by(cohort, day);
        enum cy_role_id role = cy_cane_role(state);
        cy_draw_run(
            picture->pane, MARGIN + column, y, 1,
            cy_cane_glyph(state, alone ? CY_PART_ALONE : CY_PART_WOOD, grown, column, ascii), role);
        if (!alone)
            cy_draw_run(picture->pane, MARGIN + column, y - 1, 1,
                        cy_cane_glyph(state, CY_PART_CROWN, grown, column, ascii), role);
    }
}

static void draw_spread(const struct picture *picture, const struct cy_figure *figure, int y)
{
    int from = column_of(picture, figure->p10), to = column_of(picture, figure->p90);
    for (int column = from < 0 ? 0 : from; column <= to && column < picture->columns; column++) {
        enum cy_glyph_id glyph = column == from ? CY_GLYPH_SPREAD_FROM
                                 : column == to ? CY_GLYPH_SPREAD_TO
                                                : CY_GLYPH_SPREAD;
        if (cy_draw_is_blank(picture->pane, MARGIN + column, y))
            cy_draw_glyph(picture->pane, MARGIN + column, y, glyph, CY_ROLE_SPREAD);
    }
}

/* The passes of tipping stand between the dates of this year's canes. */
static void draw_passes(const struct picture *picture, int y)
{
    for (size_t i = 0; i < picture->plan->job_count; i++) {
        const struct cy_plan_job *job = &picture->plan->jobs[i];
        int column = column_of(picture, job->from);
        if (job->row == picture->row->thing && job->reason.rounds > 0 && column >= 0 &&
            column < picture->columns)
            cy_draw_glyph(picture->pane, MARGIN + column, y, CY_GLYPH_PASS, CY_ROLE_MIDDLE);
    }
}

static void draw_dates(const struct picture *picture, const struct cy_plan_cohort *cohort, int y)
{
    /* The letters last, so that no spread hides one. */
    for (int letters = 0; letters < 2; letters++) {
        if (letters && cohort->role == CY_ROLE_PRIMOCANES)
            draw_passes(picture, y);
        for (int stage = 0; stage < CY_STAGE_COUNT; stage++) {
            const struct cy_figure *figure = &cohort->stage[stage];
            char letter[2] = {cy_stage_letter((enum cy_stage)stage)};
            bool gone = cohort->gone != CY_DAY_NONE && figure->p50 > cohort->gone;
            if (!letter[0] || isnan(figure->p50) || figure->never > 0.5 || gone)
                continue;
            int column = column_of(picture, figure->p50);
            if (!letters)
                draw_spread(picture, figure, y);
            else if (column >= 0 && column < picture->columns)
                cy_draw_fit(picture->pane, MARGIN + column, y, 1, letter, CY_ROLE_MIDDLE);
        }
    }
}

static void draw_life(const struct picture *picture, const struct cy_plan_cohort *cohort, int y)
{
    struct cy_text label = {0};
    int base = y + picture->per_life - 1;
    cy_text_add_int(&label, cohort->year);
    cy_text_add(&label, " canes");
    bool now = cohort->role != CY_ROLE_NONE;
    cy_draw_fit(picture->pane, 1, base, MARGIN - 2, cy_text_get(&label),
                now ? CY_ROLE_NORMAL : CY_ROLE_FAINT);
    if (picture->per_life > 1 && now)
        cy_draw_fit(picture->pane, 1, y, MARGIN - 2,
                    cohort->role == CY_ROLE_FLORICANES ? "last year's" : "this year's",
                    CY_ROLE_FAINT);
    cy_text_dispose(&label);
    draw_canes(picture, cohort, base);
    if (picture->per_life > 1)
        draw_dates(picture, cohort, y);
}

/* ---- months and the day cursor -------------------------------------------------------------- */

static void draw_months(const struct picture *picture, int y)
{
    static const char names[12][4] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                      "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    int letters = 30 / picture->column_days >= 4 ? 3 : 1;
    struct cy_date date = cy_day_date(picture->from);
    int month = date.month, year = date.year;
    for (;;) {
        if (++month > 12) {
            month = 1;
            year++;
        }
        cy_day first = cy_day_of(year, month, 1);
        if (first >= picture->to)
            break;
        if (letters == 1 && month == 2)
            continue; /* the year stands there */
        struct cy_text name = {0};
        cy_text_add_n(&name, names[month - 1], (size_t)letters);
        if (month == 1) {
            cy_text_clear(&name);
            cy_text_add_int(&name, year);
        }
        int x = MARGIN + column_of(picture, first);
        cy_draw_fit(picture->pane, x, y, MARGIN + picture->columns - x, cy_text_get(&name),
                    month == 1 ? CY_ROLE_NORMAL : CY_ROLE_FAINT);
        cy_text_dispose(&name);
    }
}

static void draw_day_cursor(const struct picture *picture, cy_day day, int top, int bottom)
{
    int column = column_of(picture, day), x = MARGIN + column;
    if (column < 0 || column >= picture->columns)
        return;
    cy_draw_glyph(picture->pane, x, top, CY_GLYPH_DAY_TOP, CY_ROLE_MIDDLE);
    for (int y = top + 1; y < bottom; y++) {
        if (cy_draw_is_blank(picture->pane, x, y))
            cy_draw_glyph(picture->pane, x, y, CY_GLYPH_DAY_LINE, CY_ROLE_MIDDLE);
        else
            cy_draw_over(picture->pane, x, y, 1, CY_ROLE_DAY);
    }
}

/* ---- dates ahead ---------------------------------------------------------------------------- */

/* A share of years in the fewest columns: "40 % never". */
static void say_never_briefly(struct cy_text *out, double share)
{
    int percent = (int)floor(share * 100 + 0.5);
    if (percent < 1)
        cy_text_add(out, "<1");
    else
        cy_text_add_int(out, percent);
    cy_text_add(out, " % never");
}

/* With the reason for the years without, if that fits into so many columns. */
static void say_spread(struct cy_text *out, const struct cy_plan_cohort *cohort,
                       enum cy_stage stage, int columns)
{
    const struct cy_figure *figure = &cohort->stage[stage];
    if (isnan(figure->p50)) {
        cy_say_never(out, (enum cy_never)cohort->never[stage], figure->never);
        return;
    }
    if (cohort->seen[stage]) {
        cy_text_add(out, "seen");
        return;
    }
    cy_say_day(out, figure->p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, figure->p90, false);
    if (figure->never > 0) {
        struct cy_text reason = {0};
        cy_text_add(out, "; ");
        cy_say_never(&reason, (enum cy_never)cohort->never[stage], figure->never);
        if (cy_utf8_columns(cy_text_get(out)) + cy_utf8_columns(cy_text_get(&reason)) <= columns)
            cy_text_add(out, cy_text_get(&reason));
        else
            say_never_briefly(out, figure->never);
        cy_text_dispose(&reason);
    }
}

static void draw_coming(struct cy_pane pane, const struct cy_plan_row *row,
                        const struct cy_coming *coming, int y, bool chosen, bool focused)
{
    const struct cy_plan_cohort *cohort = &row->cohorts[coming->cohort];
    const struct cy_figure *figure = &cohort->stage[coming->stage];
    struct cy_text text = {0};
    enum cy_role_id role = chosen ? CY_ROLE_CHOSEN : CY_ROLE_NORMAL;
    int basis = pane.rect.width - 18, spread = 32;
    cy_draw_fit(pane, 2, y, 17, cy_stage_word(coming->stage), role);
    cy_text_add_int(&text, cohort->year);
    cy_draw_fit(pane, 20, y, 4, cy_text_get(&text), CY_ROLE_FAINT);
    cy_text_clear(&text);
    cy_say_day(&text, figure->p50, false);
    cy_draw_fit(pane, 25, y, 6, cy_text_get(&text), role);
    cy_text_clear(&text);
    say_spread(&text, cohort, coming->stage, basis - spread - 1);
    cy_draw_fit(pane, spread, y, basis - spread - 1, cy_text_get(&text), CY_ROLE_NORMAL);
    cy_text_clear(&text);
    bool placeholder = figure->basis & CY_BASIS_PLACEHOLDER;
    cy_say_basis(&text, figure->basis);
    if (!isnan(figure->p50))
        cy_draw_text(pane, basis, y, cy_text_get(&text),
                     placeholder ? CY_ROLE_PLACEHOLDER : CY_ROLE_FAINT);
    cy_text_dispose(&text);
    if (!chosen)
        return;
    cy_draw_glyph(pane, 1, y, CY_GLYPH_MARK, CY_ROLE_CHOSEN);
    if (focused) {
        cy_draw_over(pane, 2, y, pane.rect.width - 3, CY_ROLE_SELECTED);
        cy_draw_cursor(pane, 1, y);
    }
}

static void draw_all_coming(struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    struct cy_coming coming[CY_COMING_MOST];
    size_t count = cy_model_coming(coming, &screen->model);
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    size_t height = (size_t)pane.rect.height;
    if (!count || !height)
        return;
    if (screen->model.stage >= count)
        screen->model.stage = count - 1;
    size_t top = screen->model.stage < height ? 0 : screen->model.stage - height + 1;
    for (size_t i = top; i < count && i - top < height; i++)
        draw_coming(pane, row, &coming[i], (int)(i - top), i == screen->model.stage, focused);
}

/* The notes of the row, as far as there is room below the dates. */
static void draw_notes(const struct cy_plan_row *row, struct cy_pane pane)
{
    int y = 0;
    for (unsigned bit = 1; bit <= CY_NOTE_FRUIT_YEAR; bit <<= 1) {
        if (!(row->notes & bit))
            continue;
        struct cy_text text = {0};
        cy_say_note(&text, (enum cy_row_note)bit);
        y += cy_draw_wrapped(pane, 2, y, pane.rect.height - y, cy_text_get(&text), CY_ROLE_FAINT);
        cy_text_dispose(&text);
    }
}

/* ---- the band ------------------------------------------------------------------------------- */

static void draw_legend(const struct picture *picture, int y)
{
    static const enum cy_state shown[] = {
        CY_STATE_ELONGATING,  CY_STATE_TIPPED,  CY_STATE_LATERALS,
        CY_STATE_DORMANT,     CY_STATE_CHILLED, CY_STATE_BLOOM,
        CY_STATE_GREEN_FRUIT, CY_STATE_RIPE,    CY_STATE_SPENT,
    };
    int x = 2;
    for (size_t i = 0; i < sizeof shown / sizeof *shown; i++) {
        const char *word = cy_state_word(shown[i]);
        if (x + 2 + cy_utf8_columns(word) >= picture->pane.rect.width)
            break;
        cy_draw_run(picture->pane, x, y, 1,
                    cy_cane_glyph(shown[i], CY_PART_ALONE, 0.7, 0, picture->pane.canvas->ascii),
                    cy_cane_role(shown[i]));
        x += 2 + cy_draw_text(picture->pane, x + 2, y, word, CY_ROLE_FAINT) + 2;
    }
}

static struct picture picture_of(const struct cy_screen *screen, struct cy_pane pane, bool *beside)
{
    struct picture picture = {
        .pane = pane, .plan = screen->model.plan, .row = cy_model_row(&screen->model)};
    picture.from = screen->model.plan->first - HALF_SEASON;
    picture.to = screen->model.plan->last + HALF_SEASON;
    int days = picture.to - picture.from, room = pane.rect.width - MARGIN - 1;
    int weeks = (days + WEEK - 1) / WEEK;
    *beside = room >= weeks + SIDE_WIDTH;
    picture.column_days = room >= weeks ? WEEK : (days + room - 1) / room;
    picture.columns = (days + picture.column_days - 1) / picture.column_days;
    return picture;
}

/* Which cohorts fit: those of the season first, with what they bear where that can be, then
 * whichever else shows. */
static int pick_lives(bool picked[CY_PLAN_COHORTS], struct picture *picture, int lines)
{
    int count = 0, now = 0;
    for (int i = 0; i < picture->row->cohort_count; i++)
        now += picture->row->cohorts[i].role != CY_ROLE_NONE;
    picture->per_life = (now > 0 ? now : 1) * 3 <= lines ? 3 : 2;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < picture->row->cohort_count; i++) {
            const struct cy_plan_cohort *cohort = &picture->row->cohorts[i];
            bool first = cohort->role != CY_ROLE_NONE;
            if (first == (pass == 0) && in_sight(picture, cohort) &&
                (count + 1) * picture->per_life <= lines) {
                picked[i] = true;
                count++;
            }
        }
    return count;
}

static void draw_heading(const struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    const struct cy_plan *plan = screen->model.plan;
    struct cy_text detail = {0};
    cy_text_add(&detail, cy_model_row(&screen->model)->name);
    cy_text_add(&detail, ", over ");
    cy_text_add_int(&detail, plan->members);
    cy_text_add(&detail, " weathers: letter = middle, line = 8 years of 10");
    cy_draw_heading(pane, "Canes", cy_text_get(&detail), focused);
    cy_text_dispose(&detail);
}

static void draw(struct cy_screen *screen, struct cy_pane pane, bool focused)
{
    if (!screen->model.plan || !cy_model_row(&screen->model)) {
        cy_draw_heading(pane, "Canes", "", focused);
        cy_draw_wrapped(pane, 2, 1, pane.rect.height - 1, cy_text_get(&screen->model.problem),
                        CY_ROLE_WARNING);
        if (focused)
            cy_draw_cursor(pane, 1, 0);
        return;
    }
    bool beside, picked[CY_PLAN_COHORTS] = {false};
    draw_heading(screen, pane, focused);
    if (focused)
        cy_draw_cursor(pane, 1, 0);
    struct picture picture = picture_of(screen, pane, &beside);
    int height = pane.rect.height;
    int for_lives = beside ? height - 3 : height - 4;
    if (height >= 12 && !beside)
        for_lives = height - 8;
    int lives = pick_lives(picked, &picture, for_lives), y = 2;
    draw_months(&picture, 1);
    for (int i = 0; i < picture.row->cohort_count; i++)
        if (picked[i]) {
            draw_life(&picture, &picture.row->cohorts[i], y);
            y += picture.per_life;
        }
    draw_day_cursor(&picture, screen->model.day, 1, y);
    if (!lives)
        cy_draw_text(pane, MARGIN, y++, "no canes in these seasons", CY_ROLE_FAINT);
    if (height - y >= 4) {
        draw_legend(&picture, y);
        y++;
    }
    int x = MARGIN + picture.columns + 2;
    struct cy_pane dates = beside ? cy_pane_part(pane, x, 1, pane.rect.width - x, height - 1)
                                  : cy_pane_part(pane, 0, y, pane.rect.width, height - y);
    draw_all_coming(screen, dates, focused);
    if (beside)
        draw_notes(picture.row, cy_pane_part(pane, 0, y + 1, x - 2, height - y - 1));
}

static unsigned choose_stage(struct cy_screen *screen, long step)
{
    struct cy_coming coming[CY_COMING_MOST];
    long count = (long)cy_model_coming(coming, &screen->model);
    long wanted = (long)screen->model.stage + step;
    if (count)
        screen->model.stage = (size_t)(wanted < 0 ? 0 : wanted >= count ? count - 1 : wanted);
    return CY_DID_REDRAW;
}

static unsigned act(struct cy_screen *screen, enum cy_action action)
{
    switch (action) {
    case CY_ACTION_UP:
        return choose_stage(screen, -1);
    case CY_ACTION_DOWN:
        return choose_stage(screen, 1);
    case CY_ACTION_FIRST:
        return choose_stage(screen, -CY_COMING_MOST);
    case CY_ACTION_LAST:
        return choose_stage(screen, CY_COMING_MOST);
    case CY_ACTION_OPEN:
        return cy_why_stage(screen);
    default:
        return CY_DID_NOTHING;
    }
}

/* A click in the picture takes the day cursor there. */
static unsigned click(struct cy_screen *screen, int x, int y)
{
    bool beside;
    struct cy_pane pane = {&screen->canvas, screen->layout.band[CY_BAND_CANES]};
    if (!cy_model_row(&screen->model) || y < 1)
        return CY_DID_REDRAW;
    struct picture picture = picture_of(screen, pane, &beside);
    if (x >= MARGIN && x < MARGIN + picture.columns)
        cy_model_go(&screen->model, middle_of(&picture, x - MARGIN));
    return CY_DID_REDRAW;
}

const struct cy_view cy_view_canes = {.draw = draw, .act = act, .click = click};
