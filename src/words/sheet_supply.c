/* SPDX-License-Identifier: MIT
 * The sheet of what there is to sell, week by week, over all rows. */
#include <math.h>

#include "words/sheet.h"
#include "words/sheet_lines.h"
#include "words/words.h"

/* What the lines are made from; `text` is the line at work. */
struct making {
    struct cy_sheet *sheet;
    const struct cy_sheet_request *request;
    struct cy_supply supply;
    enum cy_system system;
    struct cy_text text;
};

/* A line's item is what figure of the supply it shows, its row the figure's index. */
static bool why(struct cy_trace *trace, const struct cy_sheet *sheet,
                const struct cy_sheet_line *line)
{
    struct cy_supply supply;
    if (cy_supply_of(&supply, sheet->plan) != CY_OK)
        return false;
    bool told =
        cy_supply_why(trace, sheet->plan, &supply, (enum cy_supply_figure)line->item, line->row);
    cy_supply_dispose(&supply);
    return told;
}

static void add_figure(struct making *making, enum cy_sheet_role role, enum cy_supply_figure figure,
                       size_t index)
{
    cy_sheet_add_figure(making->sheet, role, cy_text_get(&making->text), why, index, (int)figure);
    making->sheet->failed = making->sheet->failed || making->text.failed;
    cy_text_clear(&making->text);
}

static void add_total(struct making *making)
{
    const struct cy_supply *supply = &making->supply;
    cy_text_add(&making->text, "All rows together ");
    cy_say_kg_range(&making->text, &supply->total_kg, making->system);
    cy_say_behind(&making->text, supply->total_kg.basis);
    add_figure(making, CY_SHEET_TEXT, CY_SUPPLY_TOTAL, 0);
    cy_text_add(&making->text, "First pick ");
    cy_sheet_day_range(&making->text, &supply->first);
    add_figure(making, CY_SHEET_TEXT, CY_SUPPLY_FIRST, 0);
    cy_text_add(&making->text, "Most on ");
    cy_say_day(&making->text, supply->peak, false);
    cy_text_add(&making->text, ", ");
    cy_quantity_show(&making->text, supply->days[supply->peak - supply->monday].mean_kg, CY_Q_MASS,
                     NULL, making->system, 0);
    cy_text_add(&making->text, " that day");
    add_figure(making, CY_SHEET_TEXT, CY_SUPPLY_PEAK, 0);
    cy_text_add(&making->text, "Last pick ");
    cy_sheet_day_range(&making->text, &supply->last);
    add_figure(making, CY_SHEET_TEXT, CY_SUPPLY_LAST, 0);
}

/* The day that the sheet looks at, where it lies in the weeks. */
static void add_day(struct making *making)
{
    const struct cy_supply *supply = &making->supply;
    cy_day day = making->request->day;
    size_t index = (size_t)(day - supply->monday);
    if (day < supply->monday || index >= 7 * supply->week_count)
        return;
    cy_text_add(&making->text, "On ");
    cy_say_day(&making->text, day, false);
    cy_text_add(&making->text, " ");
    cy_quantity_show(&making->text, supply->days[index].ripe_kg, CY_Q_MASS, NULL, making->system,
                     0);
    cy_text_add(&making->text, " ripe to be had, ");
    cy_quantity_show(&making->text, supply->days[index].picked_kg, CY_Q_MASS, NULL, making->system,
                     0);
    cy_text_add(&making->text, " of it due by the rows' rounds");
    add_figure(making, CY_SHEET_TEXT, CY_SUPPLY_DAY, index);
}

static void add_gaps(struct making *making)
{
    const struct cy_supply *supply = &making->supply;
    bool gaps = supply->empty_weeks + supply->thin_weeks > 0;
    cy_text_add(&making->text, "The mean week of selling has ");
    cy_quantity_show(&making->text, supply->mean_week_kg, CY_Q_MASS, NULL, making->system, 0);
    cy_text_add(&making->text, "; thin is less than ");
    cy_text_add_fixed(&making->text, 100 * CY_SUPPLY_THIN, 0);
    cy_text_add(&making->text, " % of it");
    cy_say_behind(&making->text, CY_BASIS_PLACEHOLDER);
    add_figure(making, CY_SHEET_TEXT, CY_SUPPLY_GAPS, 0);
    if (gaps) {
        cy_text_add_int(&making->text, supply->empty_weeks);
        cy_text_add(&making->text, supply->empty_weeks == 1 ? " week has" : " weeks have");
        cy_text_add(&making->text, " nothing to sell, ");
        cy_text_add_int(&making->text, supply->thin_weeks);
        cy_text_add(&making->text, supply->thin_weeks == 1 ? " is thin" : " are thin");
    } else {
        cy_text_add(&making->text, "No week of selling is thin");
    }
    add_figure(making, gaps ? CY_SHEET_WARNING : CY_SHEET_GOOD, CY_SUPPLY_GAPS, 0);
}

static void add_weeks(struct making *making)
{
    const struct cy_supply *supply = &making->supply;
    double most_kg = 0;
    for (size_t i = 0; i < supply->week_count; i++)
        most_kg = fmax(most_kg, supply->weeks[i].kg.p90);
    cy_sheet_add(making->sheet, CY_SHEET_TEXT, "");
    cy_sheet_week_legend(making->sheet, making->request);
    for (size_t i = 0; i < supply->week_count; i++) {
        const struct cy_supply_week *week = &supply->weeks[i];
        if (!week->selling)
            continue;
        cy_sheet_week(&making->text, week->monday, &week->kg, most_kg, making->request);
        if (week->gap != CY_SUPPLY_ENOUGH)
            cy_text_add(&making->text,
                        week->gap == CY_SUPPLY_IS_THIN ? " THIN" : " NOTHING to sell");
        add_figure(making, CY_SHEET_PICTURE, CY_SUPPLY_WEEK, i);
    }
}

static void add_losses(struct making *making)
{
    bool headed = false;
    for (size_t i = 0; i < making->supply.row_count; i++) {
        const struct cy_supply_row *row = &making->supply.rows[i];
        if (row->picking.lost_kg < 0.01 * row->picking.ripened_kg)
            continue;
        if (!headed) {
            cy_sheet_add(making->sheet, CY_SHEET_TEXT, "");
            cy_sheet_add(making->sheet, CY_SHEET_HEADING, "Lost where picking waits");
        }
        headed = true;
        cy_text_add(&making->text, "  ");
        cy_say_loss(&making->text, row, ", ", making->system, making->request->ascii);
        add_figure(making, CY_SHEET_WARNING, CY_SUPPLY_LOST, i);
    }
}

static void add_unknown(struct making *making)
{
    size_t rows = making->supply.unknown_rows;
    if (rows == 0)
        return;
    cy_text_add_int(&making->text, (long long)rows);
    cy_text_add(&making->text, rows == 1
                                   ? " row is left out: no yield of its cultivar is known."
                                   : " rows are left out: no yield of their cultivars is known.");
    cy_sheet_add(making->sheet, CY_SHEET_TEXT, "");
    cy_sheet_add_text(making->sheet, CY_SHEET_TEXT, &making->text);
}

int cy_sheet_supply(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct making making = {
        .sheet = out, .request = request, .system = cy_farm_system(&request->plan->farm)};
    int status = cy_supply_of(&making.supply, request->plan);
    cy_text_add(&out->title, "What there is to sell, all rows together");
    if (status != CY_OK)
        return status;
    if (making.supply.week_count == 0) {
        cy_sheet_add(out, CY_SHEET_TEXT, "Nothing is known to ripen this season.");
    } else {
        add_total(&making);
        add_day(&making);
        add_gaps(&making);
        add_weeks(&making);
        add_losses(&making);
    }
    add_unknown(&making);
    cy_text_dispose(&making.text);
    cy_supply_dispose(&making.supply);
    return CY_OK;
}
