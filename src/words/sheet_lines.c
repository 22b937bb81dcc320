/* SPDX-License-Identifier: MIT
 * What several sheets draw and say alike: weeks as bars, sentences broken to a width. */
#include "words/sheet_lines.h"

#include <math.h>
#include <string.h>

#include "words/words.h"

enum { WEIGHT_AT = 10, RANGE_AT = 20, BAR_AT = 42, SHORTEST_BAR = 10, LONGEST_BAR = 70 };

void cy_sheet_day_range(struct cy_text *out, const struct cy_figure *day)
{
    cy_say_day(out, day->p50, false);
    if (isnan(day->p50) || day->p10 == day->p90)
        return;
    cy_text_add(out, " (");
    cy_say_day(out, day->p10, false);
    cy_text_add(out, " to ");
    cy_say_day(out, day->p90, false);
    cy_text_add(out, ")");
}

static void repeat(struct cy_text *out, const char *glyph, int count)
{
    for (int i = 0; i < count; i++)
        cy_text_add(out, glyph);
}

static int columns_of(double kg, double most_kg, int width)
{
    return most_kg > 0 ? (int)floor(kg / most_kg * width + 0.5) : 0;
}

static int bar_columns(int room)
{
    if (room < SHORTEST_BAR)
        return SHORTEST_BAR;
    return room > LONGEST_BAR ? LONGEST_BAR : room;
}

void cy_sheet_week(struct cy_text *out, cy_day monday, const struct cy_figure *kg, double most_kg,
                   const struct cy_sheet_request *request)
{
    enum cy_system system = cy_farm_system(&request->plan->farm);
    size_t start = out->length;
    int width = bar_columns(request->width - BAR_AT);
    int middle = columns_of(kg->p50, most_kg, width);
    cy_text_add(out, "  ");
    cy_say_day(out, monday, false);
    cy_text_pad(out, start, WEIGHT_AT);
    cy_quantity_show(out, kg->p50, CY_Q_MASS, NULL, system, 0);
    cy_text_pad(out, start, RANGE_AT);
    cy_text_add(out, "(");
    cy_quantity_show(out, kg->p10, CY_Q_MASS, NULL, system, 0);
    cy_text_add(out, " to ");
    cy_quantity_show(out, kg->p90, CY_Q_MASS, NULL, system, 0);
    cy_text_add(out, ")");
    cy_text_pad(out, start, BAR_AT);
    repeat(out, request->ascii ? "#" : "█", middle);
    repeat(out, request->ascii ? "." : "░", columns_of(kg->p90, most_kg, width) - middle);
}

void cy_sheet_week_legend(struct cy_sheet *out, const struct cy_sheet_request *request)
{
    struct cy_text line = {0};
    size_t start = line.length;
    cy_text_add(&line, "  week of");
    cy_text_pad(&line, start, WEIGHT_AT);
    cy_text_add(&line, "middle");
    cy_text_pad(&line, start, RANGE_AT);
    cy_text_add(&line, "8 years of 10");
    cy_text_pad(&line, start, BAR_AT);
    cy_text_add(&line,
                request->ascii ? "# middle year  . 9th of 10" : "█ middle year  ░ 9th of 10");
    cy_sheet_add(out, CY_SHEET_PICTURE, cy_text_get(&line));
    out->failed = out->failed || line.failed;
    cy_text_dispose(&line);
}

/* ---- sentences ------------------------------------------------------------------------------ */

/* The bytes of the next line: as many words as fit, at least one. */
static size_t next_line(const char *text, int width)
{
    size_t end = 0, at = 0;
    while (text[at]) {
        size_t word = at + strcspn(text + at, " ");
        struct cy_text piece = {0};
        cy_text_add_n(&piece, text, word);
        bool fits = cy_utf8_columns(cy_text_get(&piece)) <= width;
        cy_text_dispose(&piece);
        if (!fits && end > 0)
            break;
        end = word;
        at = word + strspn(text + word, " ");
    }
    return end;
}

void cy_sheet_add_wrapped(struct cy_sheet *sheet, enum cy_sheet_role role, struct cy_text *text,
                          int width, cy_sheet_why why, size_t row, int item)
{
    const char *at = cy_text_get(text);
    size_t indent = strspn(at, " ");
    struct cy_text line = {0};
    at += indent;
    while (*at) {
        size_t length = next_line(at, width - (int)indent);
        cy_text_clear(&line);
        for (size_t i = 0; i < indent; i++)
            cy_text_add_char(&line, ' ');
        cy_text_add_n(&line, at, length);
        at += length;
        at += strspn(at, " ");
        /* What stands behind it is asked at its end, so that --why does not part the sentence. */
        cy_sheet_add_figure(sheet, role, cy_text_get(&line), *at ? NULL : why, row, item);
    }
    sheet->failed = sheet->failed || text->failed || line.failed;
    cy_text_dispose(&line);
    cy_text_clear(text);
}
