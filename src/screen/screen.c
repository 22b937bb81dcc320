/* SPDX-License-Identifier: MIT
 * The full-screen planner: start, the loop, the frame around the bands, stop. */
#include "screen/screen.h"

#include <langinfo.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "screen/view.h"
#include "words/words.h"

#define LOOK_MS 1000 /* at the file, where nothing tells of changes */
#define NO_TERMINAL 2

const struct cy_view *cy_view_of_band(enum cy_band band)
{
    static const struct cy_view *const views[] = {
        [CY_BAND_ROWS] = &cy_view_rows,
        [CY_BAND_CANES] = &cy_view_canes,
        [CY_BAND_JOBS] = &cy_view_jobs,
    };
    return views[band];
}

enum cy_system cy_screen_system(const struct cy_screen *screen)
{
    return cy_farm_system(cy_file_farm(screen->model.file));
}

void cy_screen_say(struct cy_screen *screen, enum cy_role_id role, const char *message)
{
    cy_text_clear(&screen->message);
    cy_text_add(&screen->message, message);
    screen->message_role = role;
}

void cy_screen_say_issue(struct cy_screen *screen, const struct cy_issues *issues)
{
    cy_text_clear(&screen->message);
    screen->message_role = CY_ROLE_ERROR;
    if (issues->count)
        cy_say_issue(&screen->message, &issues->items[0], screen->ascii);
    else
        cy_text_add(&screen->message, "That did not work, and nothing was changed.");
}

/* ---- the frame ------------------------------------------------------------------------------ */

static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

/* "Tue 11 May 2027, week 28 of season 2027, today". */
static void say_day(struct cy_text *out, const struct cy_model *model)
{
    cy_text_add(out, weekdays[cy_day_weekday(model->day)]);
    cy_text_add_char(out, ' ');
    cy_say_day(out, model->day, true);
    if (model->plan) {
        cy_text_add(out, ", week ");
        cy_text_add_int(out, (model->day - model->plan->first) / 7 + 1);
        cy_text_add(out, " of season ");
        cy_text_add_int(out, model->plan->season);
    }
    cy_day ahead = model->day - model->today;
    cy_text_add(out, ", ");
    if (ahead == 0) {
        cy_text_add(out, "today");
        return;
    }
    cy_text_add_int(out, ahead > 0 ? ahead : -ahead);
    cy_text_add(out, ahead == 1 || ahead == -1 ? " day " : " days ");
    cy_text_add(out, ahead > 0 ? "ahead" : "back");
}

static void draw_title(struct cy_screen *screen, struct cy_pane pane)
{
    const struct cy_farm *farm = cy_file_farm(screen->model.file);
    const char *name = cy_string(cy_farm_one(farm, CY_KIND_FARM), CY_FARM_NAME);
    struct cy_text day = {0};
    say_day(&day, &screen->model);
    if (cy_file_read_only(screen->model.file))
        cy_text_add(&day, "  [read only]");
    int width = cy_utf8_columns(cy_text_get(&day)), x = pane.rect.width - width - 1;
    cy_draw_fit(pane, 1, 0, x - 2, *name ? name : screen->options->path, CY_ROLE_TITLE);
    cy_draw_text(pane, x < 1 ? 1 : x, 0, cy_text_get(&day), CY_ROLE_TITLE);
    cy_text_dispose(&day);
}

/* A key and its word; nothing where they do not fit. Returns where the next may stand. */
static int draw_hint(struct cy_pane pane, int x, enum cy_action action, const char *word, int most)
{
    struct cy_text key = {0};
    cy_action_key(&key, action, pane.canvas->ascii);
    int width = cy_utf8_columns(cy_text_get(&key)) + 1 + cy_utf8_columns(word);
    if (x + width <= most) {
        int used = cy_draw_text(pane, x, 0, cy_text_get(&key), CY_ROLE_KEY);
        cy_draw_text(pane, x + used + 1, 0, word, CY_ROLE_NORMAL);
        x += width + 2;
    }
    cy_text_dispose(&key);
    return x;
}

static void draw_page_hints(struct cy_pane pane, const struct cy_page_place *page, int most)
{
    static const struct {
        enum cy_action action;
        const char *words[3]; /* by the kind of page; NULL where it does nothing of note there */
    } hints[] = {
        {CY_ACTION_DOWN, {"scroll", "page", "line"}},
        {CY_ACTION_OPEN, {NULL, "open", "why"}},
        {CY_ACTION_PAGE_DOWN, {"page on", NULL, "page on"}},
        {CY_ACTION_PAGE_UP, {"back", NULL, NULL}},
        {CY_ACTION_CLOSE, {"close", "close", "close"}},
        {CY_ACTION_BAND_NEXT, {NULL, NULL, "next"}},
        {CY_ACTION_FARM, {NULL, NULL, "farm"}},
        {CY_ACTION_ROW_NEXT, {NULL, NULL, "row"}},
        {CY_ACTION_PAGES, {NULL, NULL, "pages"}},
    };
    int x = 1;
    for (size_t i = 0; i < sizeof hints / sizeof *hints; i++)
        if (hints[i].words[page->kind])
            x = draw_hint(pane, x, hints[i].action, hints[i].words[page->kind], most);
}

static void draw_hints(const struct cy_screen *screen, struct cy_pane pane)
{
    if (screen->form.open) {
        cy_draw_text(pane, 1, 0, "Enter keeps it   Tab next field   Esc takes back, then closes",
                     CY_ROLE_NORMAL);
        return;
    }
    /* What leads to all the others, and out, always has its place at the end. */
    int end = pane.rect.width - 16, x = 1;
    if (screen->page.at.open) {
        draw_page_hints(pane, &screen->page.at, end - 1);
    } else {
        for (int i = CY_ACTION_NONE + 1; i < CY_ACTION_HELP; i++)
            if (*cy_action_hint((enum cy_action)i))
                x = draw_hint(pane, x, (enum cy_action)i, cy_action_hint((enum cy_action)i),
                              end - 1);
    }
    x = draw_hint(pane, end, CY_ACTION_HELP, cy_action_hint(CY_ACTION_HELP), pane.rect.width);
    draw_hint(pane, x, CY_ACTION_QUIT, cy_action_hint(CY_ACTION_QUIT), pane.rect.width);
}

static void draw_too_small(struct cy_screen *screen, struct cy_pane pane)
{
    char text[64];
    snprintf(text, sizeof text, "needs %dx%d, have %dx%d", CY_LAYOUT_MIN_WIDTH,
             CY_LAYOUT_MIN_HEIGHT, screen->width, screen->height);
    cy_draw_text(pane, 0, 0, text, CY_ROLE_NORMAL);
}

static struct cy_pane form_pane(struct cy_screen *screen)
{
    struct cy_rect rect = screen->layout.lower;
    int lines = cy_entry_lines(&screen->form);
    if (lines < rect.height) {
        rect.y += rect.height - lines;
        rect.height = lines;
    }
    return (struct cy_pane){&screen->canvas, rect};
}

void cy_screen_draw(struct cy_screen *screen)
{
    struct cy_layout *layout = &screen->layout;
    if (!cy_canvas_begin(&screen->canvas, screen->width, screen->height))
        return;
    screen->canvas.ascii = screen->ascii;
    struct cy_pane whole = {&screen->canvas, layout->whole};
    if (layout->too_small) {
        draw_too_small(screen, whole);
        return;
    }
    draw_title(screen, (struct cy_pane){&screen->canvas, layout->title});
    bool page = screen->page.at.open, form = screen->form.open;
    for (int band = 0; band < CY_BAND_COUNT; band++) {
        bool focused = !page && !form && band == (int)screen->focus;
        if (layout->band[band].height > 0)
            cy_view_of_band((enum cy_band)band)
                ->draw(screen, (struct cy_pane){&screen->canvas, layout->band[band]}, focused);
    }
    if (page)
        cy_view_page.draw(screen, (struct cy_pane){&screen->canvas, cy_page_rect(screen)}, !form);
    if (form)
        cy_entry_draw(&screen->form, cy_file_farm(screen->model.file), form_pane(screen));
    cy_draw_text((struct cy_pane){&screen->canvas, layout->message}, 1, 0,
                 cy_text_get(&screen->message), screen->message_role);
    draw_hints(screen, (struct cy_pane){&screen->canvas, layout->hint});
}

void cy_screen_arrange(struct cy_screen *screen)
{
    struct cy_layout_request request = {.width = screen->width,
                                        .height = screen->height,
                                        .zoomed = screen->zoomed,
                                        .field_lines = screen->field.lines};
    cy_layout_of(&screen->layout, &request);
}

/* The field points into the plan, which any move of the day may replace. */
static void follow_plan(struct cy_screen *screen)
{
    if (screen->field_number == screen->model.plan_number)
        return;
    screen->field_number = screen->model.plan_number;
    cy_field_map_dispose(&screen->field);
    if (screen->model.plan)
        cy_field_map_make(&screen->field, &screen->model.plan->farm);
    cy_screen_arrange(screen);
}

int cy_screen_replan(struct cy_screen *screen)
{
    int status = cy_model_plan(&screen->model);
    follow_plan(screen);
    return status;
}

/* ---- where the reader stood ----------------------------------------------------------------- */

static void keep_place(const struct cy_screen *screen)
{
    const struct cy_plan_row *row = cy_model_row(&screen->model);
    struct cy_text text = {0};
    char number[16];
    if (row)
        cy_keep_add(&text, "row", row->key);
    snprintf(number, sizeof number, "%d", screen->model.day - screen->model.today);
    cy_keep_add(&text, "days", number);
    snprintf(number, sizeof number, "%d", (int)screen->focus);
    cy_keep_add(&text, "band", number);
    cy_keep_add(&text, "zoom", screen->zoomed >= 0 ? "yes" : "no");
    cy_keep_add(&text, "jobs", screen->model.whole_farm ? "farm" : "row");
    cy_keep_write(screen->keep.place, &text);
    cy_text_dispose(&text);
}

static int kept_number(const struct cy_text *text, const char *name, int low, int high)
{
    char value[16];
    if (!cy_keep_value(value, sizeof value, text, name))
        return 0;
    long number = strtol(value, NULL, 10);
    return number < low || number > high ? 0 : (int)number;
}

static void find_place(struct cy_screen *screen)
{
    struct cy_text text = {0};
    char value[64];
    cy_keep_read(&text, screen->keep.place);
    screen->focus = (enum cy_band)kept_number(&text, "band", 0, CY_BAND_COUNT - 1);
    if (cy_keep_value(value, sizeof value, &text, "zoom") && cy_streq(value, "yes"))
        screen->zoomed = screen->focus;
    if (cy_keep_value(value, sizeof value, &text, "jobs"))
        screen->model.whole_farm = cy_streq(value, "farm");
    if (cy_keep_value(value, sizeof value, &text, "row"))
        for (size_t i = 0; screen->model.plan && i < screen->model.plan->row_count; i++)
            if (cy_streq(screen->model.plan->rows[i].key, value))
                cy_model_choose_row(&screen->model, i);
    cy_model_go(&screen->model, screen->model.today + kept_number(&text, "days", -1000, 1000));
    cy_text_dispose(&text);
}

/* ---- the loop ------------------------------------------------------------------------------- */

/* What an open page has no use for closes it, and goes to what lies beneath. */
static unsigned act(struct cy_screen *screen, enum cy_action action)
{
    while (screen->page.at.open) {
        unsigned did = cy_view_page.act(screen, action);
        if (did != CY_DID_NOTHING)
            return did;
        if (action == CY_ACTION_REPAINT)
            break;
        cy_page_close(screen);
    }
    unsigned did = cy_view_of_band(screen->focus)->act(screen, action);
    return did != CY_DID_NOTHING ? did : cy_screen_act(screen, action);
}

static unsigned click(struct cy_screen *screen, int x, int y)
{
    if (screen->page.at.open) {
        struct cy_rect rect = cy_page_rect(screen);
        bool inside = y >= rect.y && y < rect.y + rect.height;
        return inside ? cy_view_page.click(screen, x - rect.x, y - rect.y) : CY_DID_NOTHING;
    }
    for (int band = 0; band < CY_BAND_COUNT; band++) {
        struct cy_rect rect = screen->layout.band[band];
        if (y < rect.y || y >= rect.y + rect.height)
            continue;
        screen->focus = (enum cy_band)band;
        return cy_view_of_band((enum cy_band)band)->click(screen, x - rect.x, y - rect.y);
    }
    return CY_DID_NOTHING;
}

static unsigned press(struct cy_screen *screen, const struct cy_key *key)
{
    if (key->kind == CY_KEY_RESIZE) {
        cy_term_size(&screen->width, &screen->height);
        cy_term_repaint();
        return CY_DID_LAYOUT;
    }
    /* Nobody types into what cannot be seen. */
    if (screen->layout.too_small) {
        bool quit = !screen->form.open && key->kind == CY_KEY_CHAR && key->value == 'q';
        return quit ? CY_DID_QUIT : CY_DID_NOTHING;
    }
    if (screen->form.open)
        return key->kind == CY_KEY_CLICK ? CY_DID_NOTHING : cy_screen_form_key(screen, key);
    if (key->kind == CY_KEY_PASTED) {
        cy_screen_say(screen, CY_ROLE_WARNING, "Pasted text is taken in forms only.");
        return CY_DID_REDRAW;
    }
    cy_screen_say(screen, CY_ROLE_NORMAL, "");
    if (key->kind == CY_KEY_CLICK)
        return click(screen, key->x, key->y);
    unsigned chosen = key->kind == CY_KEY_CHAR ? cy_page_list_letter(screen, key->value) : 0;
    if (chosen)
        return chosen;
    enum cy_action action = cy_action_of_key(key->value, key->kind == CY_KEY_CODE);
    unsigned did = action ? act(screen, action) : CY_DID_NOTHING;
    if (!action)
        cy_screen_say(screen, CY_ROLE_NORMAL, "That key does nothing here; ? shows those that do.");
    return did | CY_DID_REDRAW;
}

/* Reads what others wrote; a farm that changed is planned again. */
static bool look_at_file(struct cy_screen *screen)
{
    struct cy_issues issues = {0};
    bool changed = false;
    int status = cy_file_refresh(screen->model.file, &changed, &issues);
    screen->look_again = status != CY_OK && issues.count && issues.items[0].code == CY_ISSUE_LOCKED;
    if (status != CY_OK) {
        cy_screen_say_issue(screen, &issues);
        return true;
    }
    if (!changed)
        return false;
    cy_screen_say(screen, CY_ROLE_WARNING, "Someone else changed the farm; this is how it is now.");
    cy_screen_replan(screen);
    return true;
}

struct turn {
    bool leave, redraw;
};

static void obey(struct cy_screen *screen, unsigned did, struct turn *turn)
{
    if (did & CY_DID_REPLAN)
        cy_screen_replan(screen);
    follow_plan(screen);
    if (did & CY_DID_LAYOUT)
        cy_screen_arrange(screen);
    if (did & CY_DID_QUIT)
        turn->leave = true;
    if (did)
        turn->redraw = true;
}

static void heed_signals(struct cy_screen *screen, struct turn *turn)
{
    unsigned signals = cy_term_signals();
    if (signals & (CY_SIGNAL_LEAVE | CY_SIGNAL_HANGUP)) {
        turn->leave = true;
        return;
    }
    if (signals & CY_SIGNAL_INTERRUPT) {
        if (screen->form.open)
            cy_screen_form_cancel(screen);
        else
            cy_screen_say(screen, CY_ROLE_NORMAL, "q leaves; everything is kept already.");
        /* With the interrupt the terminal dropped what was on its way to it. */
        cy_term_repaint();
        turn->redraw = true;
    }
    if (signals & CY_SIGNAL_SUSPEND)
        cy_term_suspend();
    if (signals & (CY_SIGNAL_SUSPEND | CY_SIGNAL_RESUMED)) {
        cy_term_repaint();
        look_at_file(screen);
        turn->redraw = true;
    }
}

static void loop(struct cy_screen *screen)
{
    struct turn turn = {.redraw = true};
    struct cy_key key;
    while (!turn.leave) {
        if (turn.redraw) {
            cy_screen_draw(screen);
            cy_term_show(&screen->canvas);
            turn.redraw = false;
        }
        bool timed = screen->watch.descriptor < 0 || screen->look_again;
        unsigned wake = cy_term_wait(screen->watch.descriptor, timed ? LOOK_MS : -1);
        heed_signals(screen, &turn);
        if (wake & CY_WAKE_GONE)
            return;
        if (turn.leave)
            return;
        /* All that waits is taken before anything is painted. */
        while (!turn.leave && cy_term_key(&key))
            obey(screen, press(screen, &key), &turn);
        bool told = wake & CY_WAKE_WATCH && cy_watch_changed(&screen->watch);
        if ((told || (timed && !wake)) && look_at_file(screen))
            turn.redraw = true;
    }
}

/* ---- start and stop ------------------------------------------------------------------------- */

static bool goes_on(double share, void *payload)
{
    (void)share;
    (void)payload;
    return !cy_term_must_end();
}

static bool wants_ascii(const struct cy_screen_options *options)
{
    /* The locale of characters alone: numbers keep their point. */
    setlocale(LC_CTYPE, "");
    return options->ascii || strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
}

static int refuse(const char *reason, bool names_term)
{
    const char *name = getenv("TERM");
    fprintf(stderr, "caneyear: %s", reason);
    if (names_term)
        fprintf(stderr, " (TERM is %s)", name && *name ? name : "not set");
    fputs("; import, weather, plan, set, note, done, undo, export, check and backup work without "
          "one.\n",
          stderr);
    return NO_TERMINAL;
}

int cy_screen_run(struct cy_file *file, const struct cy_screen_options *options)
{
    const char *no_color = getenv("NO_COLOR");
    struct cy_term_options wanted = {.no_color = options->no_color || (no_color && *no_color),
                                     .mouse = options->mouse};
    struct cy_screen screen = {.options = options, .zoomed = -1};
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
        return refuse("the planner needs a terminal for its input and output", false);
    screen.ascii = wants_ascii(options);
    if (!cy_term_start(&wanted))
        return refuse("this terminal cannot show the planner, try TERM=xterm-256color", true);
    cy_term_size(&screen.width, &screen.height);
    cy_file_author(screen.author);
    cy_keep_find(&screen.keep, options->path);
    cy_watch_start(&screen.watch, options->path);
    cy_model_init(&screen.model, file, options->today);
    screen.model.progress = goes_on;
    cy_screen_replan(&screen);
    find_place(&screen);
    follow_plan(&screen);
    cy_screen_arrange(&screen);
    cy_screen_draft_offer(&screen);

    loop(&screen);

    cy_screen_draft_keep(&screen);
    keep_place(&screen);
    cy_term_stop();
    cy_watch_stop(&screen.watch);
    cy_model_dispose(&screen.model);
    cy_field_map_dispose(&screen.field);
    cy_canvas_dispose(&screen.canvas);
    cy_text_dispose(&screen.message);
    cy_page_dispose(&screen.page);
    return 0;
}
