/* SPDX-License-Identifier: MIT
 * The sheet of what suits the site: its marks, the cultivars side by side, and the reason for each
 * mark; on a row those of its cultivar. */
#include "words/sheet.h"
#include "words/words.h"

struct making {
    struct cy_sheet *sheet;
    const struct cy_sheet_request *request;
    struct cy_text text;
};

/* A line's row is a cultivar of the table, its item a mark. */
static bool why_mark(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    return cy_suitability_why(trace, &sheet->suitability, line->row, (enum cy_suit)line->item);
}

static bool why_row_sun(struct cy_trace *trace, const struct cy_sheet *sheet,
                        const struct cy_sheet_line *line)
{
    return cy_sunlight_why_row(trace, &sheet->suitability.sun, line->row);
}

/* A figure laid out in lines already: the first one can be asked. */
static void add_figure(struct making *making, cy_sheet_why why, size_t row, int item)
{
    size_t first = making->sheet->count;
    cy_sheet_add_text(making->sheet, CY_SHEET_PICTURE, &making->text);
    if (making->sheet->count == first)
        return;
    making->sheet->lines[first].why = why;
    making->sheet->lines[first].row = row;
    making->sheet->lines[first].item = item;
}

static void add_heading(struct making *making, const char *words)
{
    cy_sheet_add(making->sheet, CY_SHEET_TEXT, "");
    cy_sheet_add(making->sheet, CY_SHEET_HEADING, words);
}

static void add_site(struct making *making)
{
    const struct cy_suitability *table = &making->sheet->suitability;
    add_heading(making, "Site");
    for (int suit = 0; suit < CY_SUIT_OF_CULTIVAR; suit++) {
        cy_say_suit_mark(&making->text, table, NULL, (enum cy_suit)suit, making->request->width);
        add_figure(making, why_mark, 0, suit);
    }
    for (size_t i = 0; i < table->sun.row_count; i++) {
        cy_say_suit_row_sun(&making->text, table, i, making->request->width,
                            making->request->ascii);
        add_figure(making, why_row_sun, i, 0);
    }
}

static void add_reasons(struct making *making, size_t index)
{
    const struct cy_suitability *table = &making->sheet->suitability;
    const struct cy_suit_cultivar *cultivar = &table->cultivars[index];
    cy_say_clean(&making->text, cultivar->name, making->request->ascii);
    add_heading(making, cy_text_get(&making->text));
    cy_text_clear(&making->text);
    for (int suit = CY_SUIT_OF_CULTIVAR; suit < CY_SUIT_COUNT; suit++) {
        cy_say_suit_mark(&making->text, table, cultivar, (enum cy_suit)suit,
                         making->request->width);
        add_figure(making, why_mark, index, suit);
    }
}

/* The cultivar of the row that the sheet is of; 0 for the whole farm. */
static int64_t cultivar_wanted(const struct cy_sheet_request *request)
{
    if (request->whole_farm || request->row >= request->plan->row_count)
        return 0;
    const struct cy_farm *farm = &request->plan->farm;
    const struct cy_thing *row = cy_farm_by_id(farm, request->plan->rows[request->row].thing);
    const struct cy_thing *cultivar = cy_referred(farm, row, CY_ROW_CULTIVAR);
    return cultivar ? cultivar->id : 0;
}

int cy_sheet_suit(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct making making = {.sheet = out, .request = request};
    struct cy_issues issues = {0};
    int64_t wanted = cultivar_wanted(request);
    int status =
        cy_planner_suitability(&out->suitability, request->planner, request->plan_request, &issues);
    if (status != CY_OK)
        return status;
    cy_text_add(&out->title, "What suits the site");
    cy_say_suit_head(&making.text, &out->suitability, request->width, request->ascii);
    cy_sheet_add_text(out, CY_SHEET_TEXT, &making.text);
    add_site(&making);
    add_heading(&making, "Cultivars");
    cy_say_suit_table(&making.text, &out->suitability, request->width, request->ascii);
    cy_sheet_add_text(out, CY_SHEET_PICTURE, &making.text);
    for (size_t i = 0; i < out->suitability.cultivar_count; i++)
        if (!wanted || out->suitability.cultivars[i].thing == wanted)
            add_reasons(&making, i);
    cy_text_dispose(&making.text);
    return CY_OK;
}
