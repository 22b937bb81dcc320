/* SPDX-License-Identifier: MIT
 * The pages of the plan: their list, and each as a sheet whose figures can be asked why. */
#include "screen/view.h"

#include "words/words.h"

/* ---- opening -------------------------------------------------------------------------------- */

static unsigned open_sheet(struct cy_screen *screen, enum cy_sheet_id id)
{
    cy_page_begin(screen);
    screen->page.beneath = (struct cy_page_place){0};
    screen->page.at = (struct cy_page_place){
        .open = true, .whole = screen->page.at.whole, .kind = CY_PAGE_SHEET, .sheet = id};
    return CY_DID_REDRAW;
}

unsigned cy_pages_open(struct cy_screen *screen)
{
    struct cy_page *page = &screen->page;
    if (!screen->model.plan) {
        cy_screen_say(screen, CY_ROLE_NORMAL, "This farm cannot be planned yet: no pages.");
        return CY_DID_REDRAW;
    }
    size_t shown = page->at.open && page->at.kind == CY_PAGE_SHEET ? page->at.sheet : 0;
    cy_page_begin(screen);
    page->at = (struct cy_page_place){.open = true, .kind = CY_PAGE_LIST, .line = shown};
    return CY_DID_REDRAW;
}

/* ---- making --------------------------------------------------------------------------------- */

static void make_list(struct cy_sheet *out)
{
    struct cy_text line = {0};
    cy_text_add(&out->title, "Pages");
    for (int id = 0; id < CY_SHEET_COUNT; id++) {
        const struct cy_sheet_info *info = cy_sheet_info((enum cy_sheet_id)id);
        cy_text_clear(&line);
        cy_text_add_char(&line, info->letter);
        cy_text_add(&line, "  ");
        cy_text_add(&line, info->word);
        cy_text_pad(&line, 0, 14);
        cy_text_add(&line, info->title);
        cy_sheet_add_figure(out, CY_SHEET_PICTURE, cy_text_get(&line), NULL, 0, id);
    }
    cy_text_dispose(&line);
}

static void make_sheet(struct cy_sheet *out, struct cy_screen *screen)
{
    struct cy_model *model = &screen->model;
    struct cy_plan_request made_by = cy_model_request(model);
    struct cy_sheet_request request = {
        .plan = model->plan,
        .row = model->row,
        .whole_farm = model->whole_farm || !cy_model_row(model),
        .day = model->day,
        .width = cy_page_rect(screen).width - 3, /* a margin on either side, and the mark */
        .ascii = screen->ascii,
        .planner = model->planner,
        .plan_request = &made_by,
    };
    if (!model->plan) {
        cy_text_add(&out->title, cy_sheet_info(screen->page.at.sheet)->word);
        cy_sheet_add(out, CY_SHEET_WARNING, cy_text_get(&model->problem));
    } else if (cy_sheet_make(out, screen->page.at.sheet, &request) != CY_OK) {
        cy_text_add(&out->title, cy_sheet_info(screen->page.at.sheet)->word);
        cy_sheet_add(out, CY_SHEET_WARNING, "This page cannot be made now.");
    }
}

void cy_page_make(struct cy_screen *screen)
{
    struct cy_sheet *lines = &screen->page.lines;
    cy_sheet_dispose(lines);
    if (screen->page.at.kind == CY_PAGE_LIST)
        make_list(lines);
    else
        make_sheet(lines, screen);
}

/* ---- keys ----------------------------------------------------------------------------------- */

unsigned cy_page_list_letter(struct cy_screen *screen, int letter)
{
    const struct cy_page_place *at = &screen->page.at;
    for (int id = 0; at->open && at->kind == CY_PAGE_LIST && id < CY_SHEET_COUNT; id++)
        if (cy_sheet_info((enum cy_sheet_id)id)->letter == letter)
            return open_sheet(screen, (enum cy_sheet_id)id);
    return CY_DID_NOTHING;
}

unsigned cy_page_list_act(struct cy_screen *screen, enum cy_action action)
{
    struct cy_page *page = &screen->page;
    switch (action) {
    case CY_ACTION_OPEN:
        if (cy_page_line_chosen(page))
            return open_sheet(screen, (enum cy_sheet_id)page->lines.lines[page->at.line].item);
        return CY_DID_REDRAW;
    case CY_ACTION_PAGES:
        cy_page_close(screen);
        return CY_DID_REDRAW;
    case CY_ACTION_HELP:
        return cy_help_open(screen);
    default:
        return CY_DID_NOTHING;
    }
}

static unsigned turn_to(struct cy_screen *screen, int step)
{
    int id = ((int)screen->page.at.sheet + step + CY_SHEET_COUNT) % CY_SHEET_COUNT;
    return open_sheet(screen, (enum cy_sheet_id)id);
}

/* The page stays open, and is made anew where it shows what these change. */
static bool stays_open(enum cy_action action)
{
    switch (action) {
    case CY_ACTION_DAY_NEXT:
    case CY_ACTION_DAY_BACK:
    case CY_ACTION_WEEK_NEXT:
    case CY_ACTION_WEEK_BACK:
    case CY_ACTION_MONTH_NEXT:
    case CY_ACTION_MONTH_BACK:
    case CY_ACTION_TODAY:
    case CY_ACTION_JOB_NEXT:
    case CY_ACTION_JOB_BACK:
    case CY_ACTION_STAGE_NEXT:
    case CY_ACTION_STAGE_BACK:
    case CY_ACTION_FARM:
    case CY_ACTION_NOTE:
    case CY_ACTION_UNDO:
    case CY_ACTION_REDO:
    case CY_ACTION_PAGES:
    case CY_ACTION_MOUSE:
    case CY_ACTION_HELP:
    case CY_ACTION_QUIT:
        return true;
    default:
        return false;
    }
}

unsigned cy_page_sheet_act(struct cy_screen *screen, enum cy_action action)
{
    switch (action) {
    case CY_ACTION_OPEN:
        return cy_why_line(screen);
    case CY_ACTION_BAND_NEXT:
        return turn_to(screen, 1);
    case CY_ACTION_BAND_BACK:
        return turn_to(screen, -1);
    case CY_ACTION_ROW_NEXT:
    case CY_ACTION_ROW_BACK:
        if (screen->model.whole_farm)
            cy_screen_say(screen, CY_ROLE_NORMAL,
                          "This page is of the whole farm; f shows the row alone.");
        return cy_screen_act(screen, action);
    case CY_ACTION_ZOOM:
        screen->page.at.whole = !screen->page.at.whole;
        return CY_DID_REDRAW;
    default:
        return stays_open(action) ? cy_screen_act(screen, action) : CY_DID_NOTHING;
    }
}
