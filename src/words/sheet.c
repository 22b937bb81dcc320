/* SPDX-License-Identifier: MIT
 * A sheet: one subject of the plan as lines of text, some of which can be asked why. */
#include "words/sheet.h"

#include <stdlib.h>
#include <string.h>

#include <caneyear/base/array.h>

#include "words/words.h"

static const struct cy_sheet_info infos[] = {
#define SHEET(id, letter, word, title) [CY_SHEET_##id] = {letter, #word, title, cy_sheet_##word},
    CY_SHEETS(SHEET)
#undef SHEET
};

const struct cy_sheet_info *cy_sheet_info(enum cy_sheet_id id)
{
    return &infos[id];
}

enum cy_sheet_id cy_sheet_named(const char *word)
{
    int id = 0;
    while (id < CY_SHEET_COUNT && !cy_streq(infos[id].word, word))
        id++;
    return (enum cy_sheet_id)id;
}

int cy_sheet_make(struct cy_sheet *out, enum cy_sheet_id id, const struct cy_sheet_request *request)
{
    *out = (struct cy_sheet){.plan = request->plan};
    int status = infos[id].make(out, request);
    if (status == CY_OK && (out->failed || out->title.failed))
        status = CY_NO_MEMORY;
    if (status != CY_OK)
        cy_sheet_dispose(out);
    return status;
}

void cy_sheet_dispose(struct cy_sheet *sheet)
{
    for (size_t i = 0; i < sheet->count; i++)
        free(sheet->lines[i].text);
    free(sheet->lines);
    cy_text_dispose(&sheet->title);
    cy_suitability_dispose(&sheet->suitability);
    cy_sunlight_dispose(&sheet->sunlight);
    cy_rowplan_site_dispose(&sheet->field);
    cy_frostwatch_dispose(&sheet->watch);
    *sheet = (struct cy_sheet){0};
}

void cy_sheet_add_figure(struct cy_sheet *sheet, enum cy_sheet_role role, const char *text,
                         cy_sheet_why why, size_t row, int item)
{
    char *copy = cy_strdup(text);
    if (!copy || !cy_grow(&sheet->lines, &sheet->capacity, sheet->count, sizeof *sheet->lines)) {
        free(copy);
        sheet->failed = true;
        return;
    }
    sheet->lines[sheet->count++] = (struct cy_sheet_line){copy, role, why, row, item};
}

void cy_sheet_add(struct cy_sheet *sheet, enum cy_sheet_role role, const char *text)
{
    cy_sheet_add_figure(sheet, role, text, NULL, 0, 0);
}

void cy_sheet_add_text(struct cy_sheet *sheet, enum cy_sheet_role role, struct cy_text *text)
{
    struct cy_text line = {0};
    for (const char *at = cy_text_get(text); *at;) {
        size_t length = strcspn(at, "\n");
        cy_text_clear(&line);
        cy_text_add_n(&line, at, length);
        cy_sheet_add(sheet, role, cy_text_get(&line));
        at += length + (at[length] == '\n');
    }
    sheet->failed = sheet->failed || text->failed || line.failed;
    cy_text_dispose(&line);
    cy_text_clear(text);
}

static void print_why(struct cy_text *out, const struct cy_sheet *sheet,
                      const struct cy_sheet_line *line)
{
    struct cy_trace trace = {0};
    if (line->why(&trace, sheet, line))
        cy_say_trace(out, &trace, cy_farm_system(&sheet->plan->farm));
    out->failed = out->failed || trace.failed;
    cy_trace_dispose(&trace);
    cy_text_add_char(out, '\n');
}

enum { COLUMNS = 80 };

/* Text is broken at blanks, and goes on below its own first word. */
static void print_line(struct cy_text *out, const struct cy_sheet_line *line)
{
    const char *words = line->text + strspn(line->text, " ");
    int indent = (int)(words - line->text), column = indent;
    cy_text_add_n(out, line->text, (size_t)indent);
    if (line->role == CY_SHEET_PICTURE || cy_utf8_columns(line->text) <= COLUMNS) {
        cy_text_add(out, words);
        return;
    }
    for (size_t gap = 0; *words; gap = strspn(words, " "), words += gap) {
        struct cy_text word = {0};
        cy_text_add_n(&word, words, strcspn(words, " "));
        int width = cy_utf8_columns(cy_text_get(&word));
        bool breaks = column > indent && column + (int)gap + width > COLUMNS;
        if (breaks)
            cy_text_add_char(out, '\n');
        cy_text_pad(out, out->length, breaks ? indent : (int)gap);
        cy_text_add(out, cy_text_get(&word));
        column = (breaks ? indent : column + (int)gap) + width;
        words += word.length;
        out->failed = out->failed || word.failed;
        cy_text_dispose(&word);
    }
}

void cy_sheet_print(struct cy_text *out, const struct cy_sheet *sheet, bool why)
{
    cy_text_add(out, cy_text_get(&sheet->title));
    cy_text_add(out, "\n\n");
    for (size_t i = 0; i < sheet->count; i++) {
        print_line(out, &sheet->lines[i]);
        cy_text_add_char(out, '\n');
        if (why && sheet->lines[i].why)
            print_why(out, sheet, &sheet->lines[i]);
    }
}
