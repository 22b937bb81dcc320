/* SPDX-License-Identifier: MIT
 * The sheet of parts: what a row's trellis is made of, or the farm's, and what that costs. */
#include <math.h>

#include "words/sheet_lines.h"
#include "words/trellis.h"
#include "words/words.h"

static bool why(struct cy_trace *trace, const struct cy_sheet *sheet,
                const struct cy_sheet_line *line)
{
    return line->item < 0 ? cy_plan_why_parts(trace, sheet->plan)
                          : cy_plan_why_trellis(trace, sheet->plan, line->row, line->item);
}

/* "round post 4 in, 7.2 ft long" */
static void say_kind(struct cy_text *out, const struct cy_parts_line *line, enum cy_system system)
{
    cy_text_add(out, cy_field_info(CY_PART_WHAT)->choices[line->kind]);
    if (!isnan(line->gauge)) {
        cy_text_add(out, ", gauge ");
        cy_text_add_number(out, line->gauge);
    }
    if (!isnan(line->width_m)) {
        cy_text_add_char(out, ' ');
        cy_quantity_show(out, line->width_m, CY_Q_SIZE, NULL, system, system == CY_US ? 1 : 0);
    }
    if (!isnan(line->length_m)) {
        cy_text_add(out, ", ");
        cy_quantity_show(out, line->length_m, CY_Q_LENGTH, NULL, system, 1);
    }
}

static void add_line(struct cy_sheet *sheet, const struct cy_parts_line *line,
                     enum cy_system system, size_t row, int item)
{
    struct cy_text text = {0};
    if (line->by_length)
        cy_quantity_show(&text, line->amount, CY_Q_LENGTH, NULL, system, 0);
    else
        cy_text_add_fixed(&text, line->amount, 0);
    cy_text_pad(&text, 0, 10);
    say_kind(&text, line, system);
    cy_text_pad(&text, 0, 43);
    if (line->part) {
        if (line->by_length)
            cy_quantity_show(&text, line->price, CY_Q_MONEY_PER_LENGTH, NULL, system, 3);
        else
            cy_say_money(&text, line->price);
        cy_text_pad(&text, 0, 55);
        cy_say_money(&text, line->cost);
        cy_text_pad(&text, 0, 66);
        cy_text_add(&text, cy_basis_word(line->basis));
    } else {
        cy_text_add(&text, "no price");
    }
    cy_sheet_add_figure(sheet, CY_SHEET_TEXT, cy_text_get(&text), why, row, item);
    sheet->failed = sheet->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_sum(struct cy_sheet *sheet, const struct cy_parts_list *list, enum cy_system system,
                    size_t row, int item)
{
    struct cy_text text = {0};
    cy_text_add(&text, "In all ");
    cy_say_money(&text, list->cost);
    cy_text_add(&text, " for ");
    cy_quantity_show(&text, list->row_m, CY_Q_LENGTH, NULL, system, 0);
    cy_text_add(&text, " of row: ");
    cy_quantity_show(&text, list->cost / list->row_m, CY_Q_MONEY_PER_LENGTH, NULL, system, 2);
    cy_text_add(&text, ". Steel wire weighs ");
    cy_quantity_show(&text, list->wire_kg, CY_Q_MASS, NULL, system, 1);
    cy_text_add(&text, ". Work is not in it [");
    cy_say_basis(&text, list->basis);
    cy_text_add(&text, "].");
    cy_sheet_add_figure(sheet, CY_SHEET_TEXT, cy_text_get(&text), why, row, item);
    cy_text_clear(&text);
    if (list->unpriced > 0) {
        cy_text_add_int(&text, list->unpriced);
        cy_text_add(&text, list->unpriced == 1
                               ? " line has no price and is not in the sum: no part "
                               : " lines have no price and are not in the sum: no "
                                 "part ");
        cy_text_add(&text, "of that kind is wide and long enough.");
        cy_sheet_add_text(sheet, CY_SHEET_WARNING, &text);
    }
    if (list->basis & CY_BASIS_PLACEHOLDER) {
        cy_text_add(&text, "Prices marked placeholder are nobody's: type yours, as in "
                           "part.high-tensile.price_by_length or part.round-4-8.price. Published "
                           "for comparison, all of a conventional trellis: $3,000 to $5,000 an "
                           "acre (University of Arkansas, about 2017).");
        cy_sheet_add_text(sheet, CY_SHEET_TEXT, &text);
    }
    sheet->failed = sheet->failed || text.failed;
    cy_text_dispose(&text);
}

static void add_cautions(struct cy_sheet *sheet)
{
    struct cy_text text = {0};
    cy_text_add(&text,
                "Take care: eye protection and gloves with wire and staples; gloves with "
                "treated wood, a dust mask when you saw it, and never burn the offcuts; have "
                "buried utilities located before you dig (811 in the United States).");
    cy_sheet_add_text(sheet, CY_SHEET_CAUTION, &text);
    cy_text_dispose(&text);
}

int cy_sheet_parts(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    const struct cy_plan *plan = request->plan;
    enum cy_system system = cy_farm_system(&plan->farm);
    struct cy_parts_list list;
    int item = request->whole_farm ? -1 : CY_TRELLIS_WHY_PARTS;
    bool any = true;
    cy_text_add(&out->title, "Parts of the trellis");
    if (request->whole_farm) {
        cy_parts_of_farm(&list, plan);
        cy_text_add(&out->title, ", all rows");
        any = list.rows > 0;
    } else {
        cy_text_add(&out->title, " of ");
        cy_say_clean(&out->title, plan->rows[request->row].name, request->ascii);
        any = cy_parts_of_row(&list, plan, request->row);
    }
    if (!any) {
        cy_sheet_add(out, CY_SHEET_TEXT,
                     request->whole_farm
                         ? "No row names a trellis with wires: nothing to count."
                         : "This row names no trellis with wires: nothing to count.");
        return CY_OK;
    }
    cy_sheet_add(out, CY_SHEET_HEADING,
                 "AMOUNT    PART                             PRICE       COST       BASIS");
    for (int i = 0; i < list.count; i++)
        add_line(out, &list.lines[i], system, request->row, item);
    cy_sheet_add(out, CY_SHEET_TEXT, "");
    add_sum(out, &list, system, request->row, item);
    if (list.left_out > 0 && request->whole_farm) {
        struct cy_text text = {0};
        cy_text_add_int(&text, list.left_out);
        cy_text_add(&text, list.left_out == 1 ? " row is left out: it names no trellis with wires."
                                              : " rows are left out: they name no trellis with "
                                                "wires.");
        cy_sheet_add_text(out, CY_SHEET_TEXT, &text);
        cy_text_dispose(&text);
    }
    add_cautions(out);
    return CY_OK;
}
