/* SPDX-License-Identifier: MIT
 * The sheet of the crop: what a row bears and when, week by week; or a line for each row. */
#include <math.h>

#include <caneyear/season/supply.h>

#include "words/sheet.h"
#include "words/sheet_lines.h"
#include "words/words.h"

struct making {
    struct cy_sheet *sheet;
    const struct cy_sheet_request *request;
    const struct cy_plan *plan;
    enum cy_system system;
    struct cy_text text; /* the line at work */
};

/* A line's row is the plan's; its item is a crop of it, and a week of that or all of them. */
enum { WEEKS_ROOM = CY_CROP_WEEKS + 1 };

static int item_of(int crop, int week)
{
    return crop * WEEKS_ROOM + week + 1;
}

static bool why_weight(struct cy_trace *trace, const struct cy_sheet *sheet,
                       const struct cy_sheet_line *line)
{
    return cy_plan_why_crop(trace, sheet->plan, line->row, (size_t)(line->item / WEEKS_ROOM),
                            line->item % WEEKS_ROOM - 1);
}

/* Of a date the item is a cohort and a stage. */
static bool why_date(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    return cy_plan_why_stage(trace, sheet->plan, line->row, (size_t)(line->item / CY_STAGE_COUNT),
                             (enum cy_stage)(line->item % CY_STAGE_COUNT));
}

static void add_figure(struct making *making, enum cy_sheet_role role, cy_sheet_why why, size_t row,
                       int item)
{
    cy_sheet_add_figure(making->sheet, role, cy_text_get(&making->text), why, row, item);
    making->sheet->failed = making->sheet->failed || making->text.failed;
    cy_text_clear(&making->text);
}

static void add_line(struct making *making, enum cy_sheet_role role)
{
    add_figure(making, role, NULL, 0, 0);
}

/* ---- a row ---------------------------------------------------------------------------------- */

static int cohort_of(const struct cy_plan_row *row, int year)
{
    int found = 0;
    while (found < row->cohort_count && row->cohorts[found].year != year)
        found++;
    return found;
}

static void add_dates(struct making *making, size_t index, const struct cy_plan_crop *crop)
{
    static const char *const names[] = {"first pick", "peak", "last pick"};
    const struct cy_plan_row *row = &making->plan->rows[index];
    int cohort = cohort_of(row, crop->year);
    for (int i = 0; i < 3 && cohort < row->cohort_count; i++) {
        int stage = i + (int)(crop->autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK);
        const struct cy_figure *figure = &row->cohorts[cohort].stage[stage];
        cy_text_add(&making->text, "  ");
        cy_text_add(&making->text, names[i]);
        cy_text_pad(&making->text, 0, 14);
        cy_sheet_day_range(&making->text, figure);
        if (row->cohorts[cohort].seen[stage])
            cy_text_add(&making->text, ", seen");
        cy_say_behind(&making->text, figure->basis);
        add_figure(making, CY_SHEET_TEXT, why_date, index, cohort * CY_STAGE_COUNT + stage);
    }
}

static bool why_black(struct cy_trace *trace, const struct cy_sheet *sheet,
                      const struct cy_sheet_line *line)
{
    return cy_plan_why_black(trace, sheet->plan, line->row, (size_t)line->item / 2,
                             line->item % 2 == 1);
}

/* When the fruit of half bloom turns: glossy for shipping, dull where it is eaten on the spot. */
static void add_black(struct making *making, size_t index, const struct cy_plan_crop *crop)
{
    const struct cy_plan_row *row = &making->plan->rows[index];
    int cohort = cohort_of(row, crop->year);
    if (crop->autumn || cohort == row->cohort_count || isnan(row->cohorts[cohort].glossy.p50))
        return;
    cy_text_add(&making->text, "  Fruit of the flowers of half bloom is");
    add_line(making, CY_SHEET_TEXT);
    for (int dull = 0; dull < 2; dull++) {
        const struct cy_plan_cohort *canes = &row->cohorts[cohort];
        const struct cy_figure *figure = dull ? &canes->dull : &canes->glossy;
        cy_text_add(&making->text, dull ? "  dull black" : "  glossy");
        cy_text_pad(&making->text, 0, 14);
        cy_sheet_day_range(&making->text, figure);
        cy_say_behind(&making->text, figure->basis);
        add_figure(making, CY_SHEET_TEXT, why_black, index, 2 * cohort + dull);
    }
}

static void add_weeks(struct making *making, size_t index, int crop)
{
    const struct cy_plan_crop *weights = &making->plan->rows[index].crops[crop];
    double most_kg = 0;
    for (int week = 0; week < weights->weeks; week++)
        most_kg = fmax(most_kg, weights->week_kg[week].p90);
    add_line(making, CY_SHEET_TEXT);
    cy_sheet_week_legend(making->sheet, making->request);
    for (int week = 0; week < weights->weeks; week++) {
        const struct cy_figure *kg = &weights->week_kg[week];
        /* The outermost weeks bear next to nothing, in the years that run furthest out. */
        if (kg->p90 < 0.02 * most_kg)
            continue;
        cy_sheet_week(&making->text, weights->monday + 7 * week, kg, most_kg, making->request);
        add_figure(making, CY_SHEET_PICTURE, why_weight, index, item_of(crop, week));
    }
}

static void add_crop(struct making *making, size_t index, int number)
{
    const struct cy_plan_crop *crop = &making->plan->rows[index].crops[number];
    cy_text_add(&making->text,
                crop->autumn ? "Autumn crop on the canes of " : "Summer crop on the canes of ");
    cy_text_add_int(&making->text, crop->year);
    add_line(making, CY_SHEET_HEADING);
    cy_text_add(&making->text, "  in all");
    cy_text_pad(&making->text, 0, 14);
    cy_say_kg_range(&making->text, &crop->total_kg, making->system);
    if (crop->total_kg.never > 0) {
        cy_text_add(&making->text, ", none in ");
        cy_quantity_show(&making->text, crop->total_kg.never, CY_Q_SHARE, "%", CY_US, 0);
        cy_text_add(&making->text, " of the years");
    }
    cy_say_behind(&making->text, crop->total_kg.basis);
    add_figure(making, CY_SHEET_TEXT, why_weight, index, item_of(number, CY_WHY_ALL_WEEKS));
    add_dates(making, index, crop);
    add_black(making, index, crop);
    add_weeks(making, index, number);
    add_line(making, CY_SHEET_TEXT);
}

static void say_none(struct making *making, const struct cy_plan_row *row)
{
    const struct cy_thing *thing = cy_farm_by_id(&making->plan->farm, row->thing);
    const struct cy_thing *cultivar = cy_referred(&making->plan->farm, thing, CY_ROW_CULTIVAR);
    if (row->notes & CY_NOTE_NOT_PLANTED)
        cy_text_add(&making->text, "not planted yet");
    else if (!cy_given(cultivar, CY_CULTIVAR_YIELD).known)
        cy_text_add(&making->text, "no yield of its cultivar is known");
    else
        cy_text_add(&making->text, "bears nothing this season");
}

/* The row's loss by its interval, as the whole farm's supply knows it. */
static bool why_lost(struct cy_trace *trace, const struct cy_sheet *sheet,
                     const struct cy_sheet_line *line)
{
    struct cy_supply supply;
    bool found = false;
    if (cy_supply_of(&supply, sheet->plan) != CY_OK)
        return false;
    for (size_t i = 0; !found && i < supply.row_count; i++)
        found = supply.rows[i].thing == sheet->plan->rows[line->row].thing &&
                cy_supply_why(trace, sheet->plan, &supply, CY_SUPPLY_LOST, i);
    cy_supply_dispose(&supply);
    return found;
}

/* What waiting between pickings costs, at the row's interval and at longer ones. */
static void add_picking(struct making *making, size_t index)
{
    static const int intervals[] = {2, 4, 5, 7, 10};
    struct cy_supply_row row;
    if (making->plan->rows[index].crop_count == 0 ||
        cy_supply_row_of(&row, making->plan, &making->plan->rows[index]) != CY_OK)
        return;
    cy_sheet_add(making->sheet, CY_SHEET_HEADING, "Picking, and what waiting loses");
    cy_text_add(&making->text, "  ");
    cy_say_loss(&making->text, &row, ", ", making->system, making->request->ascii);
    add_figure(making, CY_SHEET_TEXT, why_lost, index, 0);
    cy_text_add(&making->text, "  Lost by days between pickings:");
    for (size_t i = 0; i < sizeof intervals / sizeof *intervals; i++) {
        cy_text_add(&making->text, i ? ", " : " ");
        cy_text_add_int(&making->text, intervals[i]);
        cy_text_add(&making->text, ": ");
        cy_quantity_show(&making->text, row.lost_kg[intervals[i]], CY_Q_MASS, NULL, making->system,
                         0);
    }
    add_figure(making, CY_SHEET_TEXT, why_lost, index, 1);
    cy_text_add(&making->text, "  While it ripens ");
    cy_quantity_show(&making->text, row.hot, CY_Q_SHARE, "%", CY_US, 0);
    cy_text_add(&making->text, " of the days are hot and ");
    cy_quantity_show(&making->text, row.wet, CY_Q_SHARE, "%", CY_US, 0);
    cy_text_add(&making->text, " wet; such days age ripe fruit sooner [placeholder].");
    add_figure(making, CY_SHEET_TEXT, why_lost, index, 2);
}

static void make_row(struct making *making, size_t index)
{
    const struct cy_plan_row *row = &making->plan->rows[index];
    cy_text_add(&making->sheet->title, "The crop of ");
    cy_say_clean(&making->sheet->title, row->name, making->request->ascii);
    for (int i = 0; i < row->crop_count; i++)
        add_crop(making, index, i);
    add_picking(making, index);
    if (row->crop_count == 0) {
        cy_say_clean(&making->text, row->name, making->request->ascii);
        cy_text_add(&making->text, ": ");
        say_none(making, row);
        cy_text_add_char(&making->text, '.');
        add_line(making, CY_SHEET_TEXT);
    }
    for (unsigned note = 1; note <= CY_NOTE_FRUIT_YEAR; note <<= 1)
        if (row->notes & note) {
            cy_say_note(&making->text, (enum cy_row_note)note);
            cy_sheet_add_text(making->sheet, CY_SHEET_TEXT, &making->text);
        }
}

/* ---- the farm ------------------------------------------------------------------------------- */

enum { NAME_WIDTH = 14, WEIGHT_AT = 16, BASIS_AT = 43 };

/* "    first pick 29 Jun (13 Jun to 13 Jul), last 5 Aug (19 Jul to 17 Aug)", below the weight. */
static void add_picks(struct making *making, size_t index, int cohort, bool autumn)
{
    const struct cy_plan_row *row = &making->plan->rows[index];
    enum cy_stage first = autumn ? CY_STAGE_AUTUMN_FIRST_PICK : CY_STAGE_FIRST_PICK;
    if (cohort >= row->cohort_count)
        return;
    cy_text_add(&making->text, "    first pick ");
    cy_sheet_day_range(&making->text, &row->cohorts[cohort].stage[first]);
    cy_text_add(&making->text, ", last ");
    cy_sheet_day_range(&making->text, &row->cohorts[cohort].stage[first + 2]);
    add_figure(making, CY_SHEET_PICTURE, why_date, index, cohort * CY_STAGE_COUNT + (int)first);
}

static void add_row_crop(struct making *making, size_t index, int number)
{
    const struct cy_plan_row *row = &making->plan->rows[index];
    const struct cy_plan_crop *crop = &row->crops[number];
    int cohort = cohort_of(row, crop->year);
    struct cy_text name = {0};
    cy_say_clean(&name, row->name, making->request->ascii);
    cy_text_add_fit(&making->text, cy_text_get(&name), NAME_WIDTH, "~");
    making->text.failed = making->text.failed || name.failed;
    cy_text_dispose(&name);
    cy_text_pad(&making->text, 0, WEIGHT_AT);
    cy_say_kg_range(&making->text, &crop->total_kg, making->system);
    cy_text_pad(&making->text, 0, BASIS_AT);
    cy_say_behind(&making->text, crop->total_kg.basis);
    cy_text_add(&making->text, crop->autumn ? " autumn" : "");
    add_figure(making, CY_SHEET_PICTURE, why_weight, index, item_of(number, CY_WHY_ALL_WEEKS));
    add_picks(making, index, cohort, crop->autumn);
}

static void add_head(struct making *making)
{
    cy_text_add(&making->text, "row");
    cy_text_pad(&making->text, 0, WEIGHT_AT);
    cy_text_add(&making->text, "middle year (8 years of 10)");
    add_line(making, CY_SHEET_PICTURE);
}

static void make_farm(struct making *making)
{
    cy_text_add(&making->sheet->title, "The crop, row by row");
    add_head(making);
    for (size_t row = 0; row < making->plan->row_count; row++) {
        const struct cy_plan_row *planned = &making->plan->rows[row];
        for (int i = 0; i < planned->crop_count; i++)
            add_row_crop(making, row, i);
        if (planned->crop_count > 0)
            continue;
        struct cy_text name = {0};
        cy_say_clean(&name, planned->name, making->request->ascii);
        cy_text_add_fit(&making->text, cy_text_get(&name), NAME_WIDTH, "~");
        cy_text_dispose(&name);
        cy_text_pad(&making->text, 0, WEIGHT_AT);
        say_none(making, planned);
        add_line(making, CY_SHEET_PICTURE);
    }
    if (making->plan->row_count == 0)
        cy_sheet_add(making->sheet, CY_SHEET_TEXT, "This farm has no rows yet.");
}

int cy_sheet_crop(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct making making = {.sheet = out,
                            .request = request,
                            .plan = request->plan,
                            .system = cy_farm_system(&request->plan->farm)};
    if (request->whole_farm || request->row >= request->plan->row_count)
        make_farm(&making);
    else
        make_row(&making, request->row);
    cy_text_dispose(&making.text);
    return CY_OK;
}
